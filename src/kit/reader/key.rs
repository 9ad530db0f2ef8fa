//! Cells that are looked up together.

use std::hash::Hasher as _;

use rustc_hash::FxHasher;

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
    pub place: Vec<PlaceColumn>,
}

/// A column that says where a line belongs, or what titles say without a column.
pub(super) struct PlaceColumn {
    pub cell: usize,
    pub meaning: Meaning,
    pub column: Option<usize>,
    /// A blank cell says what the one above says.
    pub is_carried: bool,
}

impl KeyColumns {
    pub fn of(layout: &Layout) -> KeyColumns {
        let titled = [
            Meaning::Bag,
            Meaning::Box,
            Meaning::Option,
            Meaning::Use,
            Meaning::Note,
        ];
        let item = (1..).zip(ITEM_CELLS);
        let place = (1..).zip(PLACE_CELLS);
        KeyColumns {
            item: item
                .filter_map(|(cell, of)| Some((cell, of, layout.column(of)?)))
                .collect(),
            place: place
                .map(|(cell, meaning)| PlaceColumn {
                    cell,
                    meaning,
                    column: layout.column(meaning),
                    is_carried: layout.carried.contains(&meaning),
                })
                .filter(|of| of.column.is_some() || of.is_carried || titled.contains(&of.meaning))
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

/// Keys by their cells. A key is found by the numbers of its cells, one after another, so that what is
/// looked through stays in the processor's cache: of cells a long list has few, and of their
/// combinations no more is kept than these numbers.
#[derive(Default)]
pub(super) struct Keys {
    /// What each number stands for, from 1.
    parts: Vec<Part>,
    cells: Vec<Cell>,
    /// All texts, one behind another.
    texts: String,
    numbers: Numbers,
}

/// The numbers of parts, found by hashes whose upper bits tell them apart. Nothing else is kept of a part
/// here, so that what is looked through stays small.
#[derive(Default)]
struct Numbers {
    /// At least every other one is free (0). A number stands where its hash says, or in the next that
    /// was free.
    places: Vec<u32>,
    taken: usize,
}

impl Numbers {
    /// The number of which that is true, else the place that is free for it.
    #[inline]
    fn find(&self, hash: u64, mut is_it: impl FnMut(u32) -> bool) -> Result<u32, usize> {
        let mut place = self.place_of(hash);
        while let Some(&number) = self.places.get(place) {
            if number == 0 {
                break;
            }
            if is_it(number) {
                return Ok(number);
            }
            place = (place + 1) & (self.places.len() - 1);
        }
        Err(place)
    }

    #[inline]
    fn place_of(&self, hash: u64) -> usize {
        let bits = self.places.len().trailing_zeros();
        hash.checked_shr(u64::BITS - bits).unwrap_or_default() as usize
    }

    /// Keeps a number in the place that is free for it.
    fn keep(&mut self, place: usize, number: u32, hash_of: impl Fn(u32) -> u64) {
        self.taken += 1;
        if self.taken * 2 <= self.places.len() {
            self.places[place] = number;
            return;
        }
        let more = vec![0; (self.places.len() * 2).max(LEAST)];
        let before = std::mem::replace(&mut self.places, more);
        for number in before
            .into_iter()
            .chain([number])
            .filter(|number| *number > 0)
        {
            if let Err(free) = self.find(hash_of(number), |_| false) {
                self.places[free] = number;
            }
        }
    }
}

/// Places for numbers to begin with, a power of two.
const LEAST: usize = 64;

/// What a number stands for: the number of a cell behind the cells before it; or a cell alone, by its place in
/// [`Keys::cells`], with none before it.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Part {
    before: Key,
    cell: u32,
}

impl Part {
    fn is_cell(self) -> bool {
        self.before == Key::BLANK
    }

    /// Of cells joined.
    #[inline]
    fn hash(self) -> u64 {
        (u64::from(self.before.0) << 32 | u64::from(self.cell)).wrapping_mul(MIX)
    }
}

/// A factor that mixes what it is multiplied with into the upper bits (2^64 by the golden ratio).
const MIX: u64 = 0x9E37_79B9_7F4A_7C15;

/// Which cell it is, and its text as a range of [`Keys::texts`].
#[derive(Clone, Copy)]
struct Cell {
    at: u32,
    length: u32,
    start: usize,
    /// A short text is told by this, its length and nothing else.
    tag: u64,
}

/// The longest text that its tag and its length tell.
const SHORT: usize = 8;

impl Cell {
    fn of(at: usize, text: &[u8]) -> Cell {
        Cell {
            at: at as u32,
            length: text.len() as u32,
            start: 0,
            tag: tag(text),
        }
    }

    fn text(self, texts: &str) -> &[u8] {
        &texts.as_bytes()[self.start..][..self.length as usize]
    }

    #[inline]
    fn hash(self) -> u64 {
        let rest = u64::from(self.at) << 32 | u64::from(self.length);
        (self.tag.wrapping_mul(MIX) ^ rest).wrapping_mul(MIX)
    }

    /// True for the same cell of the same text.
    #[inline]
    fn is(self, other: Cell, text: &[u8], texts: &str) -> bool {
        self.tag == other.tag
            && self.length == other.length
            && self.at == other.at
            && (text.len() <= SHORT || self.text(texts) == text)
    }
}

/// A number for a text: of a short one its bytes, of any other a hash of them.
#[inline]
fn tag(text: &[u8]) -> u64 {
    let half = |bytes: &[u8; SHORT / 2]| u64::from(u32::from_le_bytes(*bytes));
    match (text.first_chunk(), text.last_chunk()) {
        (Some(first), Some(last)) if text.len() <= SHORT => half(first) | half(last) << 32,
        (Some(_), _) => {
            let mut hasher = FxHasher::default();
            hasher.write(text);
            hasher.finish()
        }
        (None, _) => text.iter().fold(0, |tag, byte| tag << 8 | u64::from(*byte)),
    }
}

impl Keys {
    /// The key of so many cells and one more behind them, unless that is blank.
    #[inline]
    pub fn with(&mut self, before: Key, at: usize, text: &str) -> Key {
        match text {
            "" => before,
            text => self.with_any(before, at, text),
        }
    }

    /// The key of so many cells and one more behind them, be it filled or not.
    #[inline]
    pub fn with_any(&mut self, before: Key, at: usize, text: &str) -> Key {
        let cell = self.cell(at, text);
        self.join(before, cell)
    }

    /// The key of so many cells and, behind them, the one that another key has.
    pub fn with_cell_of(&mut self, before: Key, at: usize, other: Key) -> Key {
        match self.cell_in(other, at) {
            Some((number, _)) => self.join(before, number),
            None => before,
        }
    }

    /// Cells and keys so far.
    pub fn len(&self) -> usize {
        self.parts.len()
    }

    /// The text of a cell; empty where it is blank.
    pub fn get(&self, key: Key, at: usize) -> &str {
        let cell = self.cell_in(key, at);
        cell.map_or("", |(_, cell)| {
            &self.texts[cell.start..][..cell.length as usize]
        })
    }

    /// True where the first cell is filled and no other.
    pub fn is_first_alone(&self, key: Key) -> bool {
        key != Key::BLANK && self.cell_of(key.0).is_some_and(|cell| cell.at == 0)
    }

    /// A cell of a key, and its number.
    fn cell_in(&self, mut key: Key, wanted: usize) -> Option<(u32, Cell)> {
        while key != Key::BLANK {
            let part = self.part(key.0);
            let number = if part.is_cell() { key.0 } else { part.cell };
            if let Some(cell) = self.cell_of(number)
                && cell.at as usize == wanted
            {
                return Some((number, cell));
            }
            key = part.before;
        }
        None
    }

    /// The number of a cell.
    #[inline]
    fn cell(&mut self, at: usize, text: &str) -> u32 {
        let mut cell = Cell::of(at, text.as_bytes());
        let is_it = |number| {
            let known = self.cell_of(number);
            known.is_some_and(|known| known.is(cell, text.as_bytes(), &self.texts))
        };
        match self.numbers.find(cell.hash(), is_it) {
            Ok(number) => number,
            Err(place) => {
                cell.start = self.texts.len();
                self.texts.push_str(text);
                self.cells.push(cell);
                let part = Part {
                    before: Key::BLANK,
                    cell: self.cells.len() as u32 - 1,
                };
                self.keep(place, part)
            }
        }
    }

    #[inline]
    fn join(&mut self, before: Key, cell: u32) -> Key {
        if before == Key::BLANK {
            return Key(cell);
        }
        let joined = Part { before, cell };
        let is_it = |number| self.part(number) == joined;
        match self.numbers.find(joined.hash(), is_it) {
            Ok(number) => Key(number),
            Err(place) => Key(self.keep(place, joined)),
        }
    }

    /// Keeps a part that is new in the place that is free for it, and gives its number.
    #[cold]
    fn keep(&mut self, place: usize, part: Part) -> u32 {
        self.parts.push(part);
        let number = self.parts.len() as u32;
        let (parts, cells) = (&self.parts, &self.cells);
        let hash_of = |number: u32| match parts[number as usize - 1] {
            part if part.is_cell() => cells[part.cell as usize].hash(),
            joined => joined.hash(),
        };
        self.numbers.keep(place, number, hash_of);
        number
    }

    #[inline]
    fn part(&self, number: u32) -> Part {
        self.parts[number as usize - 1]
    }

    /// What a number stands for, where that is a cell alone.
    #[inline]
    fn cell_of(&self, number: u32) -> Option<Cell> {
        let part = self.part(number);
        part.is_cell().then(|| self.cells[part.cell as usize])
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
        assert!(!keys.is_first_alone(finish));
        assert_eq!(keys.with_cell_of(finish, 7, zinc), finish);
        assert_eq!(keys.with_cell_of(Key::BLANK, 0, zinc), bolt);
    }

    #[test]
    fn texts_of_every_length_are_told_apart() {
        let texts: Vec<String> = (1..=20)
            .flat_map(|length| {
                let of =
                    move |odd: usize| (0..length).map(move |at| if at == odd { 'b' } else { 'a' });
                (0..=length).map(move |odd| of(odd).collect())
            })
            .collect();
        let mut keys = Keys::default();
        for _ in 0..2 {
            for (number, text) in (1..).zip(&texts) {
                assert_eq!(keys.with(Key::BLANK, 0, text).index(), number, "{text}");
                assert_eq!(keys.get(Key(number as u32), 0), text);
            }
        }
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
