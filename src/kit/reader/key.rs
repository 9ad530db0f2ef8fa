//! Cells that are looked up together.

use super::super::placement;
use crate::columns::Meaning;

/// The item cells of a key, in this order after the description.
pub(super) const ITEM_CELLS: [Meaning; 9] = [
    Meaning::Size,
    Meaning::Diameter,
    Meaning::Length,
    Meaning::Thread,
    Meaning::Grade,
    Meaning::Finish,
    Meaning::PartNumber,
    Meaning::Mass,
    Meaning::TotalMass,
];

pub(super) const ITEM_KEY: usize = 1 + ITEM_CELLS.len();

/// The cells that say where a line belongs, in this order after the stage.
pub(super) const PLACE_CELLS: [Meaning; placement::CELLS - 1] = [
    Meaning::Place,
    Meaning::Bag,
    Meaning::Box,
    Meaning::Option,
    Meaning::Use,
    Meaning::Torque,
    Meaning::Note,
    Meaning::CountedBy,
    Meaning::Bin,
    Meaning::Sequence,
];

/// The mark behind the first cell of a key; those of the others follow. Text holds none of them:
/// control characters are read as spaces.
const FIRST_MARK: u8 = 0x0e;
const _: () = assert!(ITEM_KEY <= 18 && placement::CELLS <= 18, "marks up to 0x1f");

/// The filled cells of a row that are looked up together, in order, each with a mark behind it that
/// says which it is.
#[derive(Default)]
pub(super) struct Key(String);

impl Key {
    pub fn clear(&mut self) {
        self.0.clear();
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// True where every cell is blank.
    pub fn is_blank(&self) -> bool {
        self.0.is_empty()
    }

    /// Adds a cell behind those that stand before it.
    pub fn push(&mut self, cell: usize, text: &str) {
        if !text.is_empty() {
            self.0.push_str(text);
            self.0.push(mark(cell));
        }
    }

    /// Adds to the first cell, which is ended by [`Key::end_first`].
    pub fn push_to_first(&mut self, text: &str, apart: bool) {
        if apart && !self.0.is_empty() {
            self.0.push(' ');
        }
        self.0.push_str(text);
    }

    pub fn end_first(&mut self) {
        if !self.0.is_empty() {
            self.0.push(mark(0));
        }
    }

    /// The text of a cell; empty where it is blank.
    pub fn get(&self, cell: usize) -> &str {
        let is_mark = |c: char| (mark(0)..='\u{1f}').contains(&c);
        let mut cells = self.0.split_inclusive(is_mark);
        cells
            .find_map(|text| text.strip_suffix(mark(cell)))
            .unwrap_or_default()
    }
}

fn mark(cell: usize) -> char {
    char::from(FIRST_MARK + cell as u8)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_told_apart() {
        let mut key = Key::default();
        key.push_to_first("hex", true);
        key.push_to_first("bolt", true);
        key.end_first();
        key.push(2, "");
        key.push(9, "6 g");
        assert_eq!(
            (key.get(0), key.get(2), key.get(9)),
            ("hex bolt", "", "6 g")
        );
        let mut other = Key::default();
        other.push(1, "hex bolt");
        assert_ne!(key.as_str(), other.as_str());
        assert!(Key::default().is_blank() && !key.is_blank());
    }
}
