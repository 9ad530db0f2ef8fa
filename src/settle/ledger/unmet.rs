//! Slips that name nothing of what the required lists ask for, or little beside bare numbers: they speak of it
//! by other names or numbers, or of another kit.

use std::collections::{BTreeMap, BTreeSet};

use super::Ledger;
use crate::hardware::Kind;
use crate::settle::{evidence::Rows, inventory::Inventory};

/// A slip of which no line names what a required list asks for, or most are numbers that no list explains.
#[derive(Debug)]
pub struct Unmet {
    pub list: usize,
    /// Items of it that no list knows.
    pub items: u64,
    pub rows: Rows,
    /// Entries that it names nonetheless, in order.
    pub names: Vec<usize>,
}

/// What a slip names.
#[derive(Default)]
struct Slip<'a> {
    met: BTreeSet<usize>,
    /// Hardware that no list asks for says itself what it is: another size is a wrong one.
    hardware: u64,
    unknown: Vec<&'a Rows>,
    bare_numbers: u64,
}

/// So many parts are more than extras.
const MORE_THAN_EXTRAS: u64 = 3;

impl Ledger {
    /// The slips that name nothing of what is required, or hardly anything but bare numbers, in the order of
    /// the lists.
    pub(super) fn unmet_slips(&self, inventory: &Inventory) -> Vec<Unmet> {
        let mut slips: BTreeMap<usize, Slip> = BTreeMap::new();
        for (item, stated) in inventory.items.iter().enumerate() {
            let listed = || {
                let fits = self.fits.of(item).iter().map(|(entry, _)| *entry);
                fits.filter(|entry| self.entries[*entry].listed)
            };
            let is_met = listed().next().is_some();
            let is_hardware = stated.identity.kind != Some(Kind::Part) && !stated.by_number;
            for rows in stated.shipped_by.iter() {
                let slip = slips.entry(rows.list).or_default();
                match (is_met, is_hardware) {
                    (true, _) => slip.met.extend(listed()),
                    (false, true) => slip.hardware += 1,
                    (false, false) => {
                        slip.unknown.push(&stated.shipped_by);
                        slip.bare_numbers += u64::from(stated.description().is_none());
                    }
                }
            }
        }
        let unmet = slips.into_iter().filter_map(|(list, slip)| {
            let known = slip.met.len() as u64 + slip.hardware;
            let items = slip.unknown.len() as u64;
            let is_unmet = known == 0 && items >= MORE_THAN_EXTRAS
                || slip.bare_numbers >= MORE_THAN_EXTRAS.max(known);
            is_unmet.then(|| Unmet {
                list,
                items,
                rows: Rows::together(slip.unknown),
                names: slip.met.into_iter().collect(),
            })
        });
        unmet.collect()
    }
}
