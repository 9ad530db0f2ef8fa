//! Cells of a table's rows that are looked up together.

use super::key::{Key, Keys};
use crate::source::{CellKind, Row};

/// Cells, and cells joined, that are kept of a group. A list has few, or so many that each comes once.
const MOST: usize = 1 << 15;
/// Rows that are too few to look up so many cells for.
const FEW: usize = MOST / 8;
/// Kinds of cells.
const KINDS: usize = CellKind::NoValue as usize + 1;

/// What the cells of some columns come to: each wording is worked out once.
pub(super) struct Group<T> {
    pub columns: Vec<usize>,
    wordings: Keys,
    /// By the wording's key.
    said: Vec<Option<T>>,
    /// Rows of which the wording was known, since wordings were let go.
    pub known: usize,
    /// When wordings were let go, few rows had had one that was known.
    pub is_idle: bool,
}

// A derived one would ask for a default of what is said, too.
impl<T> Default for Group<T> {
    fn default() -> Group<T> {
        Group::of(Vec::new())
    }
}

impl<T> Group<T> {
    pub fn of(columns: Vec<usize>) -> Group<T> {
        Group {
            columns,
            wordings: Keys::default(),
            said: Vec::new(),
            known: 0,
            is_idle: false,
        }
    }

    /// The key of a row's cells, and of what stands above them: texts that are none of its own.
    pub fn key<'t>(&mut self, row: &Row, above: impl IntoIterator<Item = &'t str>) -> Key {
        if self.wordings.len() > MOST {
            self.wordings = Keys::default();
            self.said.clear();
            self.is_idle = self.known < FEW;
            self.known = 0;
        }
        let mut key = Key::BLANK;
        for (at, text) in (self.columns.len() * KINDS..).zip(above) {
            key = self.wordings.with(key, at, text);
        }
        for (at, &column) in self.columns.iter().enumerate() {
            let (text, kind) = row.cell(column);
            if kind != CellKind::Blank {
                let cell = at * KINDS + kind as usize;
                key = self.wordings.with_any(key, cell, text);
            }
        }
        key
    }

    /// What a key was found to come to.
    #[inline]
    pub fn get(&self, key: Key) -> Option<&T> {
        self.said.get(key.index())?.as_ref()
    }

    /// Keeps what a key comes to.
    pub fn keep(&mut self, key: Key, said: T) {
        let at = key.index();
        if self.said.len() <= at {
            self.said.resize_with(at + 1, || None);
        }
        self.said[at] = Some(said);
    }
}
