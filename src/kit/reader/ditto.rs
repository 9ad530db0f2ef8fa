//! What a line of text repeats of the item above.

use super::Reader;
use crate::{Doubt, columns::furniture, hardware::Item};

impl Reader<'_> {
    /// A line with what it repeats of the item above put in its place, and a doubt where that may be meant
    /// otherwise.
    pub(super) fn undittoed(&self, body: &str) -> Option<(String, Option<Doubt>)> {
        let (at, counts) = furniture::ditto_in(body)?;
        let (above, quantity) = self.above.as_ref()?;
        let put = match counts {
            true => (*quantity)?.to_string(),
            false => {
                let bare = Item {
                    diameter: None,
                    thread: None,
                    length: None,
                    outside: None,
                    ..above.clone()
                };
                let size = match body[at.end..]
                    .trim_start()
                    .strip_prefix(['x', 'X', '\u{d7}'])
                {
                    Some(_) => format!(" {}", above.diameter?),
                    None => String::new(),
                };
                format!("{bare}{size}")
            }
        };
        let written = &body[at.clone()];
        let whole = format!("{}{put}{}", &body[..at.start], &body[at.end..]);
        // `same` may be meant of more or less than is put in; the others are the marks for it.
        let doubt = written
            .to_lowercase()
            .starts_with("same")
            .then(|| Doubt::HowMany(format!("\"{written}\" taken as {put}, as above").into()));
        Some((whole, doubt))
    }
}
