//! Rows whose figure was not read or not added, and the entries that they may be of.

use rustc_hash::FxHashMap;

use super::{Ledger, UnmetBy};
use crate::settle::{
    evidence::{Rows, Run},
    inventory::Inventory,
};

/// Rows whose figure was not read.
#[derive(Debug, Default)]
pub struct UnreadRows {
    pub of_slips: Rows,
    pub of_counts: Rows,
    /// Why they may be of it though they do not name it.
    pub others: Option<Unnamed>,
}

/// Why a slip may list what it does not name.
#[derive(Debug, Clone, Copy)]
pub enum Unnamed {
    /// No figure of it was read.
    NoFigure,
    /// No line of it names what is required.
    Unmet,
    /// A bag, or a kit as one piece, of which no list says what is in it.
    Unopened,
    /// A line that was not read in full has a word or the size of it.
    Perhaps,
}

impl Ledger {
    /// Finds the entries that were counted twice, and those that a list may ask for twice.
    pub(super) fn note_twice(&mut self, inventory: &Inventory, kits: u64) {
        for (at, twice) in inventory.counted_twice.iter().enumerate() {
            for (entry, _) in self.fits.of(twice.item as usize) {
                self.counted_twice.entry(*entry).or_default().push(at);
            }
        }
        for &(item, pieces) in &inventory.asked_twice {
            if let Some(entry) = self.entry_of(item as usize) {
                *self.asked_twice.entry(entry).or_default() += pieces * kits;
            }
        }
    }

    /// Gathers the rows that may be of an entry, and whose figure was not read.
    pub(super) fn note_unread(&mut self, inventory: &Inventory) {
        // Rows of one item are of the same entries: these share them.
        let mut runs: FxHashMap<(u32, bool), Vec<Run>> = FxHashMap::default();
        for unread in &inventory.figures_unread {
            let of_item = runs.entry((unread.item, unread.by_count)).or_default();
            of_item.push(unread.run);
        }
        let mut of_entries: FxHashMap<usize, [Vec<Rows>; 2]> = FxHashMap::default();
        for ((item, by_count), runs) in runs {
            let rows = Rows::from_iter(runs);
            for (entry, _) in self.fits.of(item as usize) {
                let of_roles = of_entries.entry(*entry).or_default();
                of_roles[usize::from(by_count)].push(rows.clone());
            }
        }
        let of_entries = of_entries.into_iter().map(|(entry, rows)| {
            let [of_slips, of_counts] = rows.map(|rows| Rows::together(&rows));
            (
                entry,
                UnreadRows {
                    of_slips,
                    of_counts,
                    others: None,
                },
            )
        });
        self.unread = of_entries.collect();
        let no_figure = Rows::from_iter(inventory.slips_unread.iter().copied());
        self.leave_open(&no_figure, &[], Unnamed::NoFigure);
        let unopened = Rows::from_iter(inventory.unopened.iter().map(|(_, row)| *row));
        if !unopened.is_empty() {
            let named = self.named_by_slips(inventory);
            let names: Vec<usize> = (0..named.len()).filter(|&entry| named[entry]).collect();
            self.leave_open(&unopened, &names, Unnamed::Unopened);
        }
        for unmet in std::mem::take(&mut self.unmet) {
            let why = match unmet.by {
                UnmetBy::Items(_) => Unnamed::Unmet,
                UnmetBy::Kit(_) => Unnamed::Unopened,
            };
            self.leave_open(&unmet.rows, &unmet.names, why);
            self.unmet.push(unmet);
        }
    }

    /// Rows of a slip may be of any entry but those that it names otherwise.
    fn leave_open(&mut self, rows: &Rows, names: &[usize], why: Unnamed) {
        if rows.is_empty() {
            return;
        }
        for entry in 0..self.entries.len() {
            let known = self.unread.entry(entry).or_default();
            if known.of_slips.is_empty() && names.binary_search(&entry).is_err() {
                known.of_slips = rows.clone();
                known.others = Some(why);
            }
        }
    }
}
