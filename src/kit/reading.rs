//! What the item cells of a row say.

use super::stated_mass::StatedMass;
use crate::{doubt::Doubt, hardware::Item};

/// Items that one row or sentence may name: each shows the whole of it in the report.
pub const MOST_ITEMS: usize = 100;

/// What the item cells of a row say. One value is shared by all lines with the same cells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    pub item: Item,
    pub part_number: Option<Box<str>>,
    /// It comes with the first item of its row (`c/w nut`).
    pub comes_with: bool,
    pub mass: Option<StatedMass>,
    pub doubts: Vec<Doubt>,
}
