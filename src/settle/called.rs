//! What a job's `[names]` call an item: a maker's number, a part's words, or a size and a kind.

use crate::{
    hardware::{Item, Written},
    kit::Reading,
    notation::{Notation, describe},
};

/// A name, and what it may be of.
pub struct Called<'a> {
    text: &'a str,
    words: Written,
    /// The hardware that it describes.
    item: Option<Item>,
}

impl<'a> Called<'a> {
    pub fn of(text: &'a str) -> Called<'a> {
        let item = match describe(text, Notation::default()).as_deref() {
            Ok([callout]) if callout.item.part.is_none() => Some(callout.item.identity()),
            _ => None,
        };
        Called {
            text,
            words: Written::of(text),
            item,
        }
    }

    /// True where it names what a line says.
    pub fn names(&self, reading: &Reading) -> bool {
        let same = |text: &str| text.eq_ignore_ascii_case(self.text);
        let Some(part) = &reading.item.part else {
            let numbered = reading.part_number.as_deref().is_some_and(same);
            return numbered
                || self.item.as_ref() == Some(&reading.item.identity())
                || same(&reading.item.text());
        };
        let number = part.number.as_deref().or(reading.part_number.as_deref());
        let description = part.description.as_deref();
        number.is_some_and(same)
            || description
                .is_some_and(|own| same(own) || Written::of(own).words == self.words.words)
    }
}
