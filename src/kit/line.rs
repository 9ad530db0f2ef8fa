//! A line: one row or phrase of a list.

use std::fmt;

names! {
    /// The state of a line. Every line has one.
    pub enum LineStatus {
        Read = "read",
        Check = "check",
        Aside = "aside",
    }
}

use super::text::TextAt;
use crate::{doubt::Doubt, names::names};

/// What a line is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// Index into [`List::readings`](super::List::readings).
    Item(u32),
    /// A bag or box as such (the name is the placement's bag or carton): on a slip, one that was
    /// sent; on a count sheet, whether it was received.
    Bag { received: Option<bool> },
    /// Not understood: index into [`List::asides`](super::List::asides).
    Aside(u32),
}

impl What {
    pub fn is_item(&self) -> bool {
        matches!(self, What::Item(_))
    }
}

/// Why a line could not be understood. It is kept word for word, with its address.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Aside {
    /// No item found in it, with the reason.
    NoItem(Box<str>),
    /// A fractional, negative or absurd quantity, as written.
    BadQuantity(Box<str>),
    /// Its words take back or part the count, with the reason.
    InWords(Box<str>),
    /// A total of the list's own that is not the sum of its lines: the two figures.
    Total { stated: u64, computed: u64 },
    /// An error value in a cell that matters.
    CellError(Box<str>),
}

impl fmt::Display for Aside {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Aside::NoItem(reason) => write!(f, "no item found: {reason}"),
            Aside::BadQuantity(written) => write!(f, "\"{written}\" is no count of pieces"),
            Aside::InWords(reason) => f.write_str(reason),
            Aside::Total { stated, computed } => write!(
                f,
                "the list's own total is {stated}, its lines come to {computed}: one may be missing or misread"
            ),
            Aside::CellError(error) => write!(f, "a cell holds the error {error}"),
        }
    }
}

/// One row or phrase of a list. Lists of a million lines are kept whole, so that what few lines say
/// stands apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// From 1: the sheet's row or the text file's line.
    pub row: u32,
    /// Index into [`List::placements`](super::List::placements).
    pub placement: u32,
    /// Default 1.
    pub places: u32,
    /// Index into [`List::sheets`](super::List::sheets).
    pub sheet: u16,
    pub what: What,
    /// The row as written.
    pub text: TextAt,
    /// Pieces per place, packs and units of issue worked out. `None`: not stated.
    /// On a count sheet: good pieces; `None` is not counted. They are summed only where they are
    /// stated.
    pub quantity: Option<u64>,
    /// Where it says anything more.
    pub more: Option<Box<More>>,
}

/// What few lines say.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct More {
    /// Damaged pieces, on a count sheet.
    pub damaged: u64,
    /// Back-ordered pieces, on a slip.
    pub back_ordered: u64,
    pub packs: Option<u64>,
    /// Pieces in one pack, where a column says so.
    pub pack_size: Option<u32>,
    /// Doubts of the line beyond those of its reading.
    pub doubts: Vec<Doubt>,
}

impl More {
    fn is_nothing(&self) -> bool {
        let More {
            damaged,
            back_ordered,
            packs,
            pack_size,
            doubts,
        } = self;
        *damaged == 0
            && *back_ordered == 0
            && packs.is_none()
            && pack_size.is_none()
            && doubts.is_empty()
    }
}

impl Line {
    /// A line that says nothing yet but what it is about and how many.
    pub fn new(row: u32, text: TextAt, what: What, placement: u32, quantity: Option<u64>) -> Line {
        Line {
            row,
            placement,
            places: 1,
            sheet: 0,
            what,
            text,
            quantity,
            more: None,
        }
    }

    /// What it says more, to be added to.
    pub fn more_mut(&mut self) -> &mut More {
        self.more.get_or_insert_default()
    }

    /// Says more of the line, if that is anything.
    pub fn with(mut self, more: More) -> Line {
        self.more = (!more.is_nothing()).then(|| Box::new(more));
        self
    }

    /// Damaged pieces, on a count sheet.
    pub fn damaged(&self) -> u64 {
        self.more.as_ref().map_or(0, |more| more.damaged)
    }

    /// Back-ordered pieces, on a slip.
    pub fn back_ordered(&self) -> u64 {
        self.more.as_ref().map_or(0, |more| more.back_ordered)
    }

    pub fn packs(&self) -> Option<u64> {
        self.more.as_ref()?.packs
    }

    /// Doubts of this line beyond those of its reading.
    pub fn doubts(&self) -> &[Doubt] {
        self.more.as_ref().map_or(&[], |more| &more.doubts)
    }

    /// Pieces in one pack: by a column, or by what so many packs hold.
    pub fn pack(&self) -> Option<u64> {
        let more = self.more.as_ref()?;
        let packs = more.packs.filter(|packs| *packs > 0);
        let held = self.quantity.zip(packs);
        let by_packs = held.filter(|(pieces, packs)| pieces.is_multiple_of(*packs));
        more.pack_size
            .map(u64::from)
            .or_else(|| by_packs.map(|(pieces, packs)| pieces / packs))
            .filter(|pieces| *pieces > 0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_small() {
        assert!(size_of::<Line>() <= 56);
    }
}
