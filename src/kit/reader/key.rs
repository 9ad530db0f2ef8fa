//! Cells that are looked up together.

use std::hash::BuildHasher;

use hashbrown::HashTable;
use rustc_hash::FxBuildHasher;

use super::super::placement;
use crate::columns::Meaning;

/// The item cells of a key, in this order after the description.
pub(super) const ITEM_CELLS: [Meaning; 7] = crate::kit::Words::ITEM;

/// The cell of a whole line of text, which stands alone.
pub(super) const LINE: usize = 1 + ITEM_CELLS.len();

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

/// The filled cells of a row that are looked up together, in order.
#[derive(Default)]
pub(super) struct Key {
    text: String,
    /// Which they are, and where the text of each ends.
    cells: Vec<(u8, u32)>,
}

impl Key {
    pub fn clear(&mut self) {
        self.text.clear();
        self.cells.clear();
    }

    /// True where every cell is blank.
    pub fn is_blank(&self) -> bool {
        self.cells.is_empty()
    }

    /// True where the first cell is filled and no other.
    pub fn is_first_alone(&self) -> bool {
        matches!(self.cells[..], [(0, _)])
    }

    /// Adds a cell behind those that stand before it.
    pub fn push(&mut self, cell: usize, text: &str) {
        if !text.is_empty() {
            self.text.push_str(text);
            self.cells.push((cell as u8, self.text.len() as u32));
        }
    }

    /// Adds to the first cell, which is ended by [`Key::end_first`].
    pub fn push_to_first(&mut self, text: &str, apart: bool) {
        if apart && !self.text.is_empty() {
            self.text.push(' ');
        }
        self.text.push_str(text);
    }

    pub fn end_first(&mut self) {
        if !self.text.is_empty() {
            self.cells.push((0, self.text.len() as u32));
        }
    }

    /// The filled cells and their texts.
    fn cells(&self) -> impl Iterator<Item = (u8, &str)> {
        let mut start = 0;
        self.cells.iter().map(move |&(cell, end)| {
            let text = &self.text[start..end as usize];
            start = end as usize;
            (cell, text)
        })
    }

    /// The text of a cell; empty where it is blank.
    pub fn get(&self, cell: usize) -> &str {
        let found = self
            .cells()
            .find(|(filled, _)| usize::from(*filled) == cell);
        found.map_or("", |(_, text)| text)
    }
}

/// Numbers for keys. A key is found by the numbers of its cells' texts, one after another, so that what
/// is looked through stays in the processor's cache: of texts a long list has few, and of their
/// combinations no more is kept than these numbers.
#[derive(Default)]
pub(super) struct Numbers {
    /// What each number stands for, from 1.
    parts: Vec<Part>,
    /// The numbers, by what they stand for.
    table: HashTable<u32>,
    /// All texts, one behind another.
    texts: Vec<u8>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Part {
    /// A range of [`Numbers::texts`].
    Text { start: usize, length: u32 },
    /// The number of the cells before, which cell comes behind them, and the number of its text.
    Joined { before: u32, cell: u8, text: u32 },
}

impl Numbers {
    /// The number of a key: 0 of a blank one, the next one of a new one. Some numbers are no key's.
    pub fn of(&mut self, key: &Key) -> usize {
        let mut number = 0;
        for (cell, text) in key.cells() {
            let text = self.of_text(text.as_bytes());
            // The first cell, which most keys have, needs no joining.
            number = match cell {
                0 => text,
                _ => self.of_joined(number, cell, text),
            };
        }
        number as usize
    }

    fn of_text(&mut self, text: &[u8]) -> u32 {
        let hash = FxBuildHasher.hash_one(text);
        let known = self.table.find(hash, |&number| {
            matches!(self.part(number), Part::Text { start, length }
                if self.texts[start..][..length as usize] == *text)
        });
        if let Some(&number) = known {
            return number;
        }
        let start = self.texts.len();
        self.texts.extend_from_slice(text);
        let length = text.len() as u32;
        self.add(hash, Part::Text { start, length })
    }

    fn of_joined(&mut self, before: u32, cell: u8, text: u32) -> u32 {
        let hash = FxBuildHasher.hash_one((before, cell, text));
        let joined = Part::Joined { before, cell, text };
        let known = self.table.find(hash, |&number| self.part(number) == joined);
        match known {
            Some(&number) => number,
            None => self.add(hash, joined),
        }
    }

    fn part(&self, number: u32) -> Part {
        self.parts[number as usize - 1]
    }

    fn add(&mut self, hash: u64, part: Part) -> u32 {
        self.parts.push(part);
        let number = self.parts.len() as u32;
        let (parts, texts) = (&self.parts, &self.texts);
        let hash_of = |&number: &u32| match parts[number as usize - 1] {
            Part::Text { start, length } => {
                FxBuildHasher.hash_one(&texts[start..][..length as usize])
            }
            Part::Joined { before, cell, text } => FxBuildHasher.hash_one((before, cell, text)),
        };
        self.table.insert_unique(hash, number, hash_of);
        number
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(cells: &[(usize, &str)]) -> Key {
        let mut key = Key::default();
        cells.iter().for_each(|(cell, text)| key.push(*cell, text));
        key
    }

    #[test]
    fn cells_are_told_apart() {
        let mut key = Key::default();
        key.push_to_first("hex", true);
        key.push_to_first("bolt", true);
        key.end_first();
        assert!(key.is_first_alone());
        key.push(2, "");
        key.push(6, "zinc");
        assert_eq!(
            (key.get(0), key.get(2), key.get(6)),
            ("hex bolt", "", "zinc")
        );
        assert!(!key.is_first_alone() && !key.is_blank());
        key.clear();
        assert!(key.is_blank() && !key.is_first_alone());
    }

    #[test]
    fn a_number_is_one_keys_alone() {
        let keys: [&[(usize, &str)]; 9] = [
            &[],
            &[(0, "a")],
            &[(1, "a")],
            &[(0, "a"), (1, "a")],
            &[(0, "a"), (2, "a")],
            &[(0, "b"), (2, "a")],
            &[(0, "b"), (1, "a"), (2, "a")],
            &[(1, "a"), (2, "a")],
            &[(0, "ab")],
        ];
        let mut numbers = Numbers::default();
        let first = keys.map(|cells| numbers.of(&key(cells)));
        assert_eq!(first, keys.map(|cells| numbers.of(&key(cells))));
        let mut apart = first.to_vec();
        apart.sort_unstable();
        apart.dedup();
        assert_eq!(apart.len(), keys.len());
        assert_eq!(first[0], 0);
    }
}
