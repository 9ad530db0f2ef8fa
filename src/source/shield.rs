//! A wall around the workbook libraries: a damaged file can make them panic, and that is the file's
//! fault and a message to the user, not the end of the program.

use std::{
    cell::Cell,
    panic::{self, AssertUnwindSafe},
    sync::Once,
};

use super::workbook::Broken;

thread_local! {
    /// A library is at work on this thread: a panic is caught, so nothing is printed of it.
    static AT_WORK: Cell<bool> = const { Cell::new(false) };
}

/// Calls into a library.
pub fn shield<T, E: Into<Broken>>(call: impl FnOnce() -> Result<T, E>) -> Result<T, Broken> {
    static HOOK: Once = Once::new();
    HOOK.call_once(|| {
        let before = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            if !AT_WORK.get() {
                before(info);
            }
        }));
    });
    AT_WORK.set(true);
    // What the call held is dropped with the file: nothing half-changed is seen again.
    let result = panic::catch_unwind(AssertUnwindSafe(call));
    AT_WORK.set(false);
    match result {
        Ok(result) => result.map_err(Into::into),
        Err(_) => Err(Broken::Damaged(
            "its contents contradict one another".to_owned(),
        )),
    }
}
