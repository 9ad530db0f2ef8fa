//! Rows whose figure was not read, and the entries that they may be of.

use super::Ledger;
use crate::settle::{evidence::Rows, inventory::Inventory};

/// Rows whose figure was not read.
#[derive(Debug, Default)]
pub struct UnreadRows {
    pub of_slips: Rows,
    pub of_counts: Rows,
}

impl Ledger {
    /// Gathers the rows that may be of an entry, and whose figure was not read.
    pub(super) fn note_unread(&mut self, inventory: &Inventory) {
        for unread in &inventory.figures_unread {
            for (entry, _) in self.fits.of(unread.item as usize) {
                let rows = self.unread.entry(*entry).or_default();
                let rows = match unread.by_count {
                    true => &mut rows.of_counts,
                    false => &mut rows.of_slips,
                };
                rows.push(unread.list, unread.sheet, unread.row);
            }
        }
        for rows in self.unread.values_mut() {
            rows.of_slips.fold();
            rows.of_counts.fold();
        }
    }
}
