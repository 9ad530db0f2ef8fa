//! Lines that were not read in full, and what they name nonetheless.

use rustc_hash::FxHashMap;

use super::Taking;
use crate::{
    doubt::Doubt,
    hardware::Written,
    kit::{Aside, Line, Role},
    settle::{
        account::LineRef,
        evidence::Run,
        inventory::{
            FigureUnread, Obscure, Unread,
            named::{self, Named},
        },
    },
};

/// Lines that were not read in full, at most, that are held against what is wanted: a list of more is not read at all.
const MOST_OBSCURE: usize = 500;

impl Taking<'_> {
    pub(super) fn figure_unread(&mut self, item: u32, at: LineRef) {
        let list = &self.lists[at.list];
        let line = &list.lines[at.line];
        self.of.figures_unread.push(FigureUnread {
            item,
            by_count: list.role == Role::Counted,
            run: Run::row(at.list, line.sheet, line.row),
            at,
            summed: line.quantity.is_some(),
        });
    }

    /// Keeps a line that was not read in full.
    pub(super) fn obscure(&mut self, at: LineRef) {
        if self.of.obscure.len() == MOST_OBSCURE {
            return;
        }
        let list = &self.lists[at.list];
        let line = &list.lines[at.line];
        let text = list.text_of(line);
        if text.len() > named::LONGEST {
            return;
        }
        self.of.obscure.push(Obscure {
            by_count: list.role == Role::Counted,
            run: Run::row(at.list, line.sheet, line.row),
            words: Written::of(&text),
            figures: named::figures(&text),
        });
    }

    /// Where a line names others besides and has figures that were not read, they may count these, and the one
    /// that was taken may be another's.
    pub(super) fn note_figures_over(&mut self, id: u32, at: LineRef, line: &Line) {
        let Some(_) = line.quantity else { return };
        let mut doubts = self.lists[at.list].doubts_of(line);
        if !doubts.any(Doubt::is_of_figure) {
            return;
        }
        self.obscure(at);
        let named = self.named_by(at);
        let others = named.into_iter().filter(|other| *other != id);
        let others: Vec<u32> = others.collect();
        if !others.is_empty() {
            self.figure_unread(id, at);
        }
        for other in others {
            self.figure_unread(other, at);
        }
    }

    /// The parts of the required lists of which all words stand in a line.
    pub(super) fn named_by(&mut self, at: LineRef) -> Vec<u32> {
        let (lists, ids) = (self.lists, &self.ids);
        let named = self.named.get_or_insert_with(|| Named::of(lists, ids));
        let list = &lists[at.list];
        named.by(&list.text_of(&list.lines[at.line]))
    }

    /// A line of a slip or a count that is aside. Gives the items that it names nonetheless.
    pub(super) fn aside(&mut self, at: LineRef, aside: u32) -> Vec<u32> {
        let ids = &self.ids[at.list];
        let named = self.lists[at.list].named_aside(aside);
        let mut items: Vec<u32> = named.map(|reading| ids[reading as usize]).collect();
        let is_total = matches!(
            self.lists[at.list].asides[aside as usize],
            Aside::Total { .. }
        );
        if !is_total {
            self.obscure(at);
            // What it was taken to name may be none of the lists', for a word too many.
            items.extend(self.named_by(at));
            items.sort_unstable();
            items.dedup();
        }
        if items.is_empty() {
            unread_line(&mut self.unsure, at.list, at);
        }
        for &item in &items {
            self.figure_unread(item, at);
        }
        items
    }
}

/// Counts one more line that cannot be summed.
pub(super) fn unread_line(of: &mut FxHashMap<usize, Unread>, key: usize, at: LineRef) {
    of.entry(key)
        .and_modify(|unread| unread.lines += 1)
        .or_insert(Unread {
            lines: 1,
            first: at,
        });
}
