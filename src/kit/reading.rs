//! What the item cells of a row say.

use crate::{doubt::Doubt, hardware::Item};

/// Items that one row or sentence may name: each shows the whole of it in the report.
pub const MOST_ITEMS: usize = 100;

/// Why a row that names more is put aside. `found`: how many it names.
pub fn no_line_of(found: usize) -> Box<str> {
    format!("{found} items in one row are no line of a list").into()
}

/// What the item cells of a row say. One value is shared by all lines that say the same.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Reading {
    pub item: Item,
    pub part_number: Option<Box<str>>,
    /// It comes with the first item of its row (`c/w nut`).
    pub comes_with: bool,
    /// Its size is that of another item of its row (`4 M16 bolts, 4 nuts`).
    pub lent_size: bool,
    pub doubts: Vec<Doubt>,
}
