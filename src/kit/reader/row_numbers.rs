//! Numbers of their own in front of the rows of a list without headings: `1 | hex bolt | M10 x 60 | 8`. What only counts up
//! from one row to the next says how many of none, where something else in the rows may (common practice, no source).

use std::borrow::Cow;

use super::{super::count, shape};
use crate::{
    Doubt,
    notation::{Notation, describe},
    source::Row,
};

#[derive(Debug, Default, PartialEq, Eq)]
pub(super) enum RowNumbers {
    #[default]
    None,
    /// The first cell of each row is its number, or its letter.
    InFront,
    /// The only figures that may count may as well number the rows.
    Perhaps,
}

impl RowNumbers {
    /// That of the first rows.
    pub fn of(head: &[Row], notation: Notation) -> RowNumbers {
        let rows: Vec<&Row> = head.iter().filter(|row| row.filled() > 1).collect();
        let cells = |at: usize| -> Vec<&str> {
            let cells = rows.iter().map(|row| row.get(at).trim());
            cells.filter(|cell| !cell.is_empty()).collect()
        };
        let counts = |cell: &str| count::is_count(cell, notation);
        let calls = |cell: &str| {
            describe(cell, notation).is_ok_and(|all| all.iter().any(|of| of.quantity.is_some()))
        };
        let others = |row: &&&Row| {
            let mut others = (1..row.len()).map(|at| row.get(at).trim());
            others.any(|cell| counts(cell) || calls(cell))
        };
        let counted = rows.iter().filter(others).count();
        let first = cells(0);
        if shape::begins_and_runs(&first)
            && first.len() * 3 >= rows.len() * 2
            && counted * 3 >= rows.len() * 2
        {
            return RowNumbers::InFront;
        }
        let width = rows.iter().map(|row| row.len()).max().unwrap_or(0);
        let mut columns = (0..width)
            .map(cells)
            .filter(|cells| cells.iter().any(|cell| counts(cell)));
        match (columns.next(), columns.next()) {
            (Some(only), None) if shape::runs(&only) && shape::begins_and_runs(&only) => {
                RowNumbers::Perhaps
            }
            _ => RowNumbers::None,
        }
    }

    pub fn are_in_front(&self) -> bool {
        *self == RowNumbers::InFront
    }

    /// A row without its number.
    pub fn without<'r>(&self, row: &'r Row) -> Cow<'r, Row> {
        if !self.are_in_front() || row.filled() < 2 || !shape::is_place(row.get(0).trim()) {
            return Cow::Borrowed(row);
        }
        Cow::Owned(row.without(0))
    }

    /// The doubt of a row's count that may be its number.
    pub fn doubt(&self, pieces: u64) -> Option<Doubt> {
        (*self == RowNumbers::Perhaps).then(|| {
            let doubt = format!(
                "{pieces} taken for how many: the figures count up from row to row, and may only number the rows"
            );
            Doubt::HowMany(doubt.into())
        })
    }
}
