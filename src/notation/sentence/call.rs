//! One item that a sentence names, and how it brings it up.

use std::ops::Range;

use super::wording::number;
use crate::{hardware::Kind, notation::callout::Callout};

/// How a sentence brings an item up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Naming {
    /// Called for: `four bolts`.
    New,
    /// There already, to be worked on or as a place: `tighten all four nuts`, `over the bolts`.
    Known,
    /// There already, and put to use: `with the four bolts`.
    Put,
    /// Stated in full and put in: `drive in the four M8 x 35 screws`. Called for, unless it was before.
    Driven,
    /// So many of what is there: `four of the bolts`.
    Some,
    /// Said to be left out: `do not use the bolts`, `instead of the bolts`.
    Not,
}

/// One item that a sentence names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Call {
    pub callout: Callout,
    pub naming: Naming,
    /// Where it stands in [`Sentence::text`].
    pub at: Range<usize>,
    /// At how many places its count is needed: `both ends` is 2.
    pub places: u32,
    /// Its count was multiplied by the bolts that it goes on.
    pub(super) on_each: bool,
}

impl Call {
    pub(super) fn new(callout: Callout, naming: Naming, at: Range<usize>) -> Call {
        Call {
            callout,
            naming,
            at,
            places: 1,
            on_each: false,
        }
    }

    /// A bolt, or what takes the place of one.
    pub(super) fn is_long(&self) -> bool {
        is_long(&self.callout)
    }

    /// Called for, or named as known and called for unless it was before.
    pub(super) fn is_asked_for(&self) -> bool {
        matches!(self.naming, Naming::New | Naming::Driven | Naming::Some)
    }

    /// Stated in full: count and size.
    pub(super) fn is_whole(&self) -> bool {
        is_whole(&self.callout)
    }

    /// A nut, washer or pin, which goes on one.
    pub(super) fn is_small(&self) -> bool {
        self.callout.item.kind.is_some_and(Kind::is_small)
    }

    /// A count alone, whose noun another item says: `the seat with six`.
    pub(super) fn is_elided(&self, text: &str) -> bool {
        number(text[self.at.clone()].trim()).is_some()
    }

    /// How many; none where that is not stated.
    pub(super) fn pieces(&self) -> u64 {
        self.callout.quantity.map_or(0, |quantity| quantity.pieces)
    }
}

/// True where count and size are stated, and the length of what has one.
fn is_whole(callout: &Callout) -> bool {
    is_sized(callout) && callout.quantity.is_some()
}

pub(super) fn is_sized(callout: &Callout) -> bool {
    let item = &callout.item;
    item.diameter.is_some() && (item.length.is_some() || !is_long(callout))
}

pub(super) fn is_long(callout: &Callout) -> bool {
    callout.item.kind.is_some_and(Kind::is_long)
}
