//! What is left when the build is done.

use std::io::{self, Write};

use super::{
    Page,
    markup::{MOST, bullets, more},
};
use crate::report::wording;

/// What is left when the build is done.
pub fn write(page: &Page<'_>, out: &mut dyn Write) -> io::Result<()> {
    let Some(left) = &page.account.left_over else {
        return Ok(());
    };
    let words = left.iter().take(MOST).map(|of| {
        let found = match of.found {
            Some(found) => format!("{found} found"),
            None => wording::NOT_COUNTED.to_owned(),
        };
        format!(
            "{}: {found}, {} expected. {}",
            of.text,
            of.expected,
            wording::left_over(page.account, of)
        )
    });
    bullets(out, words)?;
    more(out, left.len())?;
    Ok(())
}
