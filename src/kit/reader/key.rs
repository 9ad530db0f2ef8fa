//! Cells that are looked up together.

use std::hash::BuildHasher;

use hashbrown::HashTable;
use rustc_hash::FxBuildHasher;

use super::super::placement;
use crate::columns::{Layout, Meaning};

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

/// The columns of a table that its keys are made of, each with the cell that it is in the key.
#[derive(Default)]
pub(super) struct KeyColumns {
    pub item: Vec<(usize, Meaning, usize)>,
    /// And what titles may say, without a column.
    pub place: Vec<(usize, Meaning, Option<usize>)>,
}

impl KeyColumns {
    pub fn of(layout: &Layout) -> KeyColumns {
        let titled = [Meaning::Bag, Meaning::Box, Meaning::Option, Meaning::Use];
        let item = (1..).zip(ITEM_CELLS);
        let place = (1..).zip(PLACE_CELLS);
        KeyColumns {
            item: item
                .filter_map(|(cell, of)| Some((cell, of, layout.column(of)?)))
                .collect(),
            place: place
                .map(|(cell, of)| (cell, of, layout.column(of)))
                .filter(|(_, of, column)| column.is_some() || titled.contains(of))
                .collect(),
        }
    }
}

/// The filled cells of a row that are looked up together, as a number.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash)]
pub(super) struct Key(u32);

impl Key {
    /// No cell is filled.
    pub const BLANK: Key = Key(0);

    /// Its place in a table by keys. Some places are no key's.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// Keys by their cells. A key is found by the numbers of its cells' texts, one after another, so that
/// what is looked through stays in the processor's cache: of texts a long list has few, and of their
/// combinations no more is kept than these numbers.
#[derive(Default)]
pub(super) struct Keys {
    /// What each number stands for, from 1.
    parts: Vec<Part>,
    /// All texts, one behind another.
    texts: String,
    /// The numbers of texts.
    by_text: HashTable<(Text, u32)>,
    /// The numbers of joined cells.
    by_cells: HashTable<(Joined, u32)>,
}

#[derive(Clone, Copy)]
enum Part {
    /// As a key, the first cell alone.
    Text(Text),
    Joined(Joined),
}

/// A range of [`Keys::texts`].
#[derive(Clone, Copy)]
struct Text {
    start: usize,
    length: u32,
}

impl Text {
    fn of(self, texts: &str) -> &[u8] {
        &texts.as_bytes()[self.start..][..self.length as usize]
    }
}

/// The cells before, the number of the text of the cell behind them, and which cell that is.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
struct Joined {
    before: Key,
    text: u32,
    cell: u16,
}

impl Keys {
    /// The key of so many cells and one more behind them, unless that is blank.
    pub fn with(&mut self, before: Key, cell: usize, text: &str) -> Key {
        match text {
            "" => before,
            text => self.with_any(before, cell, text),
        }
    }

    /// The key of so many cells and one more behind them, be it filled or not.
    pub fn with_any(&mut self, before: Key, cell: usize, text: &str) -> Key {
        let text = self.of_text(text);
        self.join(before, cell, text)
    }

    /// The key of so many cells and, behind them, the one that another key has.
    pub fn with_cell_of(&mut self, before: Key, cell: usize, other: Key) -> Key {
        match self.text_in(other, cell) {
            Some(text) => self.join(before, cell, text),
            None => before,
        }
    }

    /// The text of a cell; empty where it is blank.
    pub fn get(&self, key: Key, cell: usize) -> &str {
        match self.text_in(key, cell).map(|text| self.part(text)) {
            Some(Part::Text(text)) => &self.texts[text.start..][..text.length as usize],
            _ => "",
        }
    }

    /// True where the first cell is filled and no other.
    pub fn is_first_alone(&self, key: Key) -> bool {
        key != Key::BLANK && matches!(self.part(key.0), Part::Text(_))
    }

    /// The number of a cell's text.
    fn text_in(&self, mut key: Key, wanted: usize) -> Option<u32> {
        while key != Key::BLANK {
            match self.part(key.0) {
                Part::Text(_) => return (wanted == 0).then_some(key.0),
                Part::Joined(last) if usize::from(last.cell) == wanted => return Some(last.text),
                Part::Joined(last) => key = last.before,
            }
        }
        None
    }

    fn of_text(&mut self, text: &str) -> u32 {
        let hash_of = |text: &[u8]| FxBuildHasher.hash_one(text);
        let hash = hash_of(text.as_bytes());
        let is_known = |(known, _): &(Text, u32)| known.of(&self.texts) == text.as_bytes();
        if let Some((_, number)) = self.by_text.find(hash, is_known) {
            return *number;
        }
        let (start, length) = (self.texts.len(), text.len() as u32);
        self.texts.push_str(text);
        let new = Text { start, length };
        self.parts.push(Part::Text(new));
        let number = self.parts.len() as u32;
        let texts = &self.texts;
        (self.by_text).insert_unique(hash, (new, number), |(text, _)| hash_of(text.of(texts)));
        number
    }

    fn join(&mut self, before: Key, cell: usize, text: u32) -> Key {
        // The first cell, which most keys have, needs no joining.
        if cell == 0 {
            return Key(text);
        }
        let cell = cell as u16;
        let joined = Joined { before, text, cell };
        let hash_of = |joined: &Joined| FxBuildHasher.hash_one(joined);
        let hash = hash_of(&joined);
        if let Some((_, number)) = self.by_cells.find(hash, |(known, _)| *known == joined) {
            return Key(*number);
        }
        self.parts.push(Part::Joined(joined));
        let number = self.parts.len() as u32;
        (self.by_cells).insert_unique(hash, (joined, number), |(joined, _)| hash_of(joined));
        Key(number)
    }

    fn part(&self, number: u32) -> Part {
        self.parts[number as usize - 1]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(keys: &mut Keys, cells: &[(usize, &str)]) -> Key {
        let mut key = Key::BLANK;
        for (cell, text) in cells {
            key = keys.with(key, *cell, text);
        }
        key
    }

    #[test]
    fn cells_are_told_apart() {
        let mut keys = Keys::default();
        let bolt = key(&mut keys, &[(0, "hex bolt")]);
        assert!(keys.is_first_alone(bolt));
        let zinc = key(&mut keys, &[(0, "hex bolt"), (2, ""), (6, "zinc")]);
        assert_eq!(
            [0, 2, 6].map(|at| keys.get(zinc, at)),
            ["hex bolt", "", "zinc"]
        );
        assert!(!keys.is_first_alone(zinc) && !keys.is_first_alone(Key::BLANK));
        assert_eq!(keys.get(Key::BLANK, 0), "");
        let finish = keys.with_cell_of(Key::BLANK, 6, zinc);
        assert_eq!((keys.get(finish, 0), keys.get(finish, 6)), ("", "zinc"));
        assert_eq!(keys.with_cell_of(finish, 7, zinc), finish);
        assert_eq!(keys.with_cell_of(Key::BLANK, 0, zinc), bolt);
    }

    #[test]
    fn a_key_has_its_own_number() {
        let cells: [&[(usize, &str)]; 9] = [
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
        let mut keys = Keys::default();
        let first = cells.map(|cells| key(&mut keys, cells));
        assert_eq!(first, cells.map(|cells| key(&mut keys, cells)));
        let mut apart = first.map(Key::index).to_vec();
        apart.sort_unstable();
        apart.dedup();
        assert_eq!(apart.len(), cells.len());
        assert_eq!(first[0], Key::BLANK);
        assert_ne!(keys.with_any(Key::BLANK, 3, ""), Key::BLANK);
    }
}
