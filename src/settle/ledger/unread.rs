//! Rows whose figure was not read, and the entries that they may be of.

use rustc_hash::FxHashMap;

use super::Ledger;
use crate::settle::{
    evidence::{Rows, Run},
    inventory::Inventory,
};

/// Rows whose figure was not read.
#[derive(Debug, Default)]
pub struct UnreadRows {
    pub of_slips: Rows,
    pub of_counts: Rows,
    /// They do not name it, and are all that a slip has: nothing is known of what else it may list.
    pub of_others: bool,
}

impl Ledger {
    /// Gathers the rows that may be of an entry, and whose figure was not read.
    pub(super) fn note_unread(&mut self, inventory: &Inventory) {
        let mut runs: FxHashMap<usize, [Vec<Run>; 2]> = FxHashMap::default();
        for unread in &inventory.figures_unread {
            for (entry, _) in self.fits.of(unread.item as usize) {
                let of_roles = runs.entry(*entry).or_default();
                of_roles[usize::from(unread.by_count)].push(unread.run);
            }
        }
        let of_entries = runs.into_iter().map(|(entry, runs)| {
            let [of_slips, of_counts] = runs.map(Rows::from_iter);
            (
                entry,
                UnreadRows {
                    of_slips,
                    of_counts,
                    of_others: false,
                },
            )
        });
        self.unread = of_entries.collect();
        if inventory.slips_unread.is_empty() {
            return;
        }
        let all = Rows::from_iter(inventory.slips_unread.iter().copied());
        for entry in 0..self.entries.len() {
            let known = self.unread.entry(entry).or_default();
            if known.of_slips.is_empty() {
                known.of_slips = all.clone();
                known.of_others = true;
            }
        }
    }
}
