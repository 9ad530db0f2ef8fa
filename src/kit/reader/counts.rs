//! How many, by what the figures of a row say.

use std::rc::Rc;

use super::{
    super::{
        count::{self, Count},
        role::Role,
    },
    group::Group,
};
use crate::{columns::Layout, notation::Notation, source::Row};

/// The counts of a table's rows.
#[derive(Default)]
pub(super) struct Counts(Group<Rc<Count>>);

impl Counts {
    pub fn of_table(layout: &Layout, role: Role) -> Counts {
        Counts(Group::of(count::columns_of(layout, role)))
    }

    /// The count of a row of that table.
    pub fn of(&mut self, row: &Row, layout: &Layout, role: Role, notation: Notation) -> Rc<Count> {
        let key = self.0.key(row, []);
        if let Some(known) = self.0.get(key) {
            debug_assert_eq!(**known, count::count(row, layout, role, notation));
            return Rc::clone(known);
        }
        let new = Rc::new(count::count(row, layout, role, notation));
        self.0.keep(key, Rc::clone(&new));
        new
    }
}
