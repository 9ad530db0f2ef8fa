//! A callout: one item as a text names it.

use super::{along::Along, fold::is_blank};
use crate::{
    doubt::Doubt,
    hardware::{Item, Kind, PartName, Unit},
};

/// How numerals of a file are to be read.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash)]
pub struct Notation {
    /// The file's decimal mark is a comma (`3,75`).
    pub decimal_comma: bool,
    /// The unit of bare figures in a size column, where the heading states one (`Length (mm)`).
    pub unit: Option<Unit>,
    /// The count stands in a cell of its own, so that `1 1/4` is one size and not one piece of 1/4.
    pub counted: bool,
}

/// A stated count of pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Quantity {
    /// Pieces in all: packs times pack size times the unit of issue, worked out.
    pub pieces: u64,
    /// Packs, where the count is in packs (`2 bags of 25` is 2, pieces 50).
    pub packs: Option<u64>,
}

/// What a piece of a text was taken for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// How many: the figure and its unit of issue.
    Count,
    /// Diameter, thread, length, and the words that say which.
    Size,
    /// What it is: kind, style, drive, point.
    Name,
    Grade,
    Finish,
    /// The maker's number.
    Number,
    /// The number of a standard.
    Standard,
    Price,
    Torque,
    /// Where it goes, or what else is said of it.
    Note,
    /// How many places need it.
    Places,
    /// Bullets, line numbers, words that say nothing of their own.
    Passed,
    /// Another item of the same sentence.
    Other,
    /// A measure, or a number of something else.
    Measure,
    /// Words of a sentence that say what to do.
    Told,
}

/// One item as a text names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Callout {
    pub item: Item,
    /// The count, where the text states one. What comes with the first item (`c/w nut and 2 washers`)
    /// is counted per piece of it and multiplied by the first item's count; where the text states no
    /// such count, it is the count for one piece of the first item. A count as large as the first
    /// item's or larger is one in all (`24 bolts with 48 washers`).
    pub quantity: Option<Quantity>,
    /// It comes with each piece of the first item (`c/w nut`).
    pub comes_with: bool,
    /// How many of it may be named with each piece of the first.
    pub along: Along,
    /// Its size is that of another item of its line (`4 M16 bolts, 4 nuts`).
    pub lent_size: bool,
    /// How many places need it, where words say so (`both ends` is 2); 1 where none do.
    pub places: u32,
    /// The maker's number, where the text of a hardware item carries one.
    pub part_number: Option<Box<str>>,
    pub doubts: Vec<Doubt>,
}

impl Callout {
    /// A part, of which no count is stated.
    pub(super) fn of_part(part: PartName) -> Callout {
        Callout {
            item: Item {
                kind: Some(Kind::Part),
                part: Some(Box::new(part)),
                ..Item::default()
            },
            quantity: None,
            comes_with: false,
            along: Along::default(),
            lent_size: false,
            places: 1,
            part_number: None,
            doubts: Vec::new(),
        }
    }

    /// Hardware, or what is sized like it; not a part that is known by its words alone.
    pub fn is_hardware(&self) -> bool {
        match self.item.kind {
            Some(kind) => kind != Kind::Part,
            None => self.item.diameter.is_some(),
        }
    }

    /// True where another says the same item and as many of it.
    pub fn says_again(&self, other: &Callout) -> bool {
        self.item == other.item && self.quantity == other.quantity
    }
}

/// The doubt of two callouts that say the same with a slash between.
pub const SAID_TWICE: &str =
    "the same item stands on both sides of a slash: may be said in two languages";

/// A text in which no item can be found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unread {
    /// Nothing but white space and marks.
    Empty,
    /// No item in it, with the reason in a few words.
    NoItem(Box<str>),
}

impl Unread {
    /// Of a row that speaks of pieces which another row names.
    pub fn of_others() -> Unread {
        Unread::NoItem("it speaks of pieces of another row, and may change their count".into())
    }
}

/// The cells of a row that say what an item is. Empty where the list has no such column.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash)]
pub struct ItemCells<'a> {
    pub description: &'a str,
    /// Diameter and length, or either, in one cell.
    pub size: &'a str,
    pub diameter: &'a str,
    pub length: &'a str,
    pub thread: &'a str,
    pub grade: &'a str,
    pub finish: &'a str,
    pub part_number: &'a str,
}

impl<'a> ItemCells<'a> {
    /// The cells beside the description, the maker's number left out.
    pub(super) fn beside(&self) -> [&'a str; 6] {
        [
            self.size,
            self.diameter,
            self.length,
            self.thread,
            self.grade,
            self.finish,
        ]
    }

    /// True where nothing is said beside the description.
    pub(super) fn is_alone(&self) -> bool {
        self.beside().into_iter().all(is_blank)
    }
}

/// What a quantity cell says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// A count of pieces.
    Pieces(Quantity),
    /// Blank or a dash: no count is stated.
    Blank,
    /// `AR`, as required.
    AsRequired,
    /// `REF`: named for reference.
    Reference,
    /// A negative count, on a slip a credit.
    Credit(u64),
    /// Fractional, absurd, or no count at all.
    Bad,
}
