//! Slips of parts that name nothing of what the required lists ask for: they speak of it by other names or
//! numbers, or of another kit.

use std::collections::BTreeMap;

use super::Ledger;
use crate::hardware::Kind;
use crate::settle::{evidence::Rows, inventory::Inventory};

/// A slip of which no line names what a required list asks for.
#[derive(Debug)]
pub struct Unmet {
    pub list: usize,
    /// Items that it names.
    pub items: u64,
    pub rows: Rows,
}

/// So many parts are more than extras.
const MORE_THAN_EXTRAS: u64 = 3;

impl Ledger {
    /// The slips that name nothing of what is required, in the order of the lists.
    pub(super) fn unmet_slips(&self, inventory: &Inventory) -> Vec<Unmet> {
        let mut met: Vec<usize> = Vec::new();
        let mut of_lists: BTreeMap<usize, (u64, Vec<&Rows>)> = BTreeMap::new();
        for (item, stated) in inventory.items.iter().enumerate() {
            let mut fits = self.fits.of(item).iter();
            // Hardware says itself what it is: another size is a wrong one.
            let is_wanted = fits.any(|(entry, _)| self.entries[*entry].listed)
                || stated.identity.kind != Some(Kind::Part);
            for rows in stated.shipped_by.iter() {
                match is_wanted {
                    true if met.contains(&rows.list) => {}
                    true => met.push(rows.list),
                    false if met.contains(&rows.list) => {}
                    false => {
                        let (items, all) = of_lists.entry(rows.list).or_default();
                        *items += 1;
                        all.push(&stated.shipped_by);
                    }
                }
            }
        }
        of_lists.retain(|list, _| !met.contains(list));
        of_lists.retain(|_, (items, _)| *items >= MORE_THAN_EXTRAS);
        let unmet = of_lists.into_iter().map(|(list, (items, rows))| Unmet {
            list,
            items,
            rows: Rows::together(rows),
        });
        unmet.collect()
    }
}
