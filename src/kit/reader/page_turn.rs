//! The last row of a page, again at the head of the next: a program that prints lists may carry it over.

use std::hash::{Hash, Hasher};

use rustc_hash::FxHasher;

use super::{super::line::LineStatus, Reader};
use crate::{
    Doubt,
    columns::{Layout, Meaning, furniture},
    source::Row,
};

/// Where a page turned, and the row above it.
#[derive(Default)]
pub(super) struct PageTurn {
    /// Columns that nothing is read of, and yet tell rows apart: positions, numbers of lines.
    columns: Vec<u16>,
    /// What stood in them in the row above, as a hash.
    above: u64,
    /// So many lines were read when the foot of a page or the headings came, and nothing else has come since.
    at: Option<usize>,
    /// The row at hand is one of those.
    is_mark: bool,
}

impl PageTurn {
    pub(super) fn of_table(layout: &Layout) -> PageTurn {
        let ignored = layout.ignored.iter().copied();
        let number = layout.column(Meaning::PartNumber);
        PageTurn {
            columns: ignored
                .chain(number.and_then(|at| u16::try_from(at).ok()))
                .collect(),
            ..PageTurn::default()
        }
    }

    /// Takes note of a row with a line.
    pub(super) fn pass(&mut self, row: &Row) {
        if !self.columns.is_empty() {
            self.above = self.told_by(row);
        }
    }

    fn told_by(&self, row: &Row) -> u64 {
        let mut hasher = FxHasher::default();
        for &column in &self.columns {
            row.get(column.into()).hash(&mut hasher);
        }
        hasher.finish()
    }
}

impl Reader<'_> {
    /// Takes note of the foot of a page, or of headings below rows.
    pub(super) fn turn_page(&mut self) {
        self.turn.at = Some(self.list.lines.len());
        self.turn.is_mark = true;
    }

    /// Takes note that a row was passed over: unless it is the foot of a page, headings, blank or a sum, the page goes on.
    pub(super) fn pass_between_pages(&mut self, row: &Row) {
        let is_mark = std::mem::take(&mut self.turn.is_mark);
        let first = row.cells().map(|(text, _)| text.trim());
        let first = first.into_iter().find(|text| !text.is_empty());
        if !is_mark && first.is_some_and(|text| !furniture::is_total(text)) {
            self.turn.at = None;
        }
    }

    /// Doubts the line of a row that is the first of its page and says the same as the last of the page before. `first`:
    /// lines before it.
    pub(super) fn doubt_carried_over(&mut self, row: &Row, first: usize) -> Option<LineStatus> {
        let turned = self.turn.at.take() == Some(first);
        let told = self.turn.told_by(row);
        let same_number = self.turn.columns.is_empty() || told == self.turn.above;
        self.turn.pass(row);
        let [.., above, line] = self.list.lines.as_mut_slice() else {
            return None;
        };
        let same = above.sheet == line.sheet
            && above.what == line.what
            && above.placement == line.placement
            && (above.quantity, above.places) == (line.quantity, line.places);
        if !turned || !same || !same_number || self.list.lines.len() != first + 1 {
            return None;
        }
        let line = self.list.lines.last_mut()?;
        line.quantity?;
        let said = "the row above the page's end, once more: carried over, or as many again?";
        line.more_mut().doubts.push(Doubt::OrElse {
            pieces: 0,
            said: said.into(),
        });
        Some(LineStatus::Check)
    }
}
