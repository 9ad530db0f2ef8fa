//! How many, by what the figures of a row say.

use std::rc::Rc;

use super::{
    super::{
        count::{self, Count},
        role::Role,
    },
    key::{Key, Keys},
};
use crate::{
    columns::Layout,
    notation::Notation,
    source::{CellKind, Row},
};

/// Wordings of figures that are kept. A list has few.
const MOST: usize = 1 << 12;
/// Kinds of cells.
const KINDS: usize = CellKind::NoValue as usize + 1;

/// The counts of a table's rows: each wording of the figures is worked out once.
#[derive(Default)]
pub(super) struct Counts {
    /// The columns that a count is worked out of.
    columns: Vec<usize>,
    wordings: Keys,
    /// By the wording's key.
    said: Vec<Option<Rc<Count>>>,
}

impl Counts {
    pub fn of_table(layout: &Layout, role: Role) -> Counts {
        Counts {
            columns: count::columns_of(layout, role),
            ..Counts::default()
        }
    }

    /// The count of a row of that table.
    pub fn of(&mut self, row: &Row, layout: &Layout, role: Role, notation: Notation) -> Rc<Count> {
        let mut key = self.key(row);
        if let Some(Some(known)) = self.said.get(key.index()) {
            debug_assert_eq!(**known, count::count(row, layout, role, notation));
            return Rc::clone(known);
        }
        if self.said.len() > MOST {
            self.wordings = Keys::default();
            self.said.clear();
            key = self.key(row);
        }
        let new = Rc::new(count::count(row, layout, role, notation));
        if self.said.len() <= key.index() {
            self.said.resize(key.index() + 1, None);
        }
        self.said[key.index()] = Some(Rc::clone(&new));
        new
    }

    fn key(&mut self, row: &Row) -> Key {
        let mut key = Key::BLANK;
        for (at, &column) in self.columns.iter().enumerate() {
            let (text, kind) = row.cell(column);
            if kind != CellKind::Blank {
                let cell = at * KINDS + kind as usize;
                key = self.wordings.with_any(key, cell, text);
            }
        }
        key
    }
}
