//! A wall around the workbook libraries: a damaged file, or a full disk, can make them panic, and
//! that is a message to the user, not the end of the program.

use std::{
    cell::Cell,
    panic::{self, AssertUnwindSafe},
    sync::Once,
};

thread_local! {
    /// A library is at work on this thread: a panic is caught, so nothing is printed of it.
    static AT_WORK: Cell<bool> = const { Cell::new(false) };
}

/// Calls into a library; `None` where it panicked. What it held must not be used again.
pub fn shield<T>(call: impl FnOnce() -> T) -> Option<T> {
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
    let result = panic::catch_unwind(AssertUnwindSafe(call));
    AT_WORK.set(false);
    result.ok()
}
