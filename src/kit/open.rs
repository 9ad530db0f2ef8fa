//! Wordings that leave their reading open.

use std::ops::Range;

use crate::{
    Doubt,
    notation::{Callout, Notation, Quantity, describe},
};

/// A wording with several readings.
#[derive(Debug, Clone)]
pub struct Open {
    /// A description, then the cells of [`super::Words::ITEM`].
    pub words: [Box<str>; 8],
    pub notation: Notation,
    /// Of [`List::readings`](super::List::readings).
    pub readings: Range<u32>,
    /// How many the wording says, a value for each reading.
    pub quantities: Vec<Option<Quantity>>,
    /// Something beside the wording bears on its count, so that only readings of the same count are
    /// weighed.
    pub counted: bool,
}

impl Open {
    /// The words of a guide's sentence that name an item, if they leave it open; `reading` is theirs.
    pub fn of_phrase(
        phrase: &str,
        callout: &Callout,
        reading: u32,
        notation: Notation,
    ) -> Option<Open> {
        if !callout.doubts.iter().any(Doubt::is_open) {
            return None;
        }
        let alone = describe(phrase, notation).ok()?;
        let [alone] = alone.as_slice() else {
            return None;
        };
        let mut words = <[Box<str>; 8]>::default();
        words[0] = phrase.into();
        (alone.item == callout.item).then(|| Open {
            words,
            notation,
            readings: reading..reading + 1,
            quantities: vec![callout.quantity],
            counted: alone.quantity != callout.quantity,
        })
    }

    /// Says of the wording with a reading that figures beside it bear on its count.
    pub fn count_beside(all: &mut [Open], reading: u32) {
        if let Ok(at) = all.binary_search_by_key(&reading, |open| open.readings.start) {
            all[at].counted = true;
        }
    }
}
