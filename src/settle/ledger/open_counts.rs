//! Counts, and lines of slips, of which nobody knows whether they speak of all of an item, or of it at all.

use rustc_hash::{FxHashMap, FxHashSet};

use super::{Ledger, ShareState, bags_named::BagsNamed, looked::Missing};
use crate::settle::{
    account::LeftOpen,
    inventory::{Holders, Inventory},
};

impl Ledger {
    pub(super) fn note_open_counts(&mut self, inventory: &Inventory) {
        let several = self.one_of_several();
        let of_bags = self.in_other_bags(inventory);
        let all = several.into_iter().map(|at| (at, LeftOpen::OneOfSeveral));
        let all = all.chain(of_bags.into_iter().map(|at| (at, LeftOpen::OtherBags)));
        self.count_open = all.collect();
    }

    /// Entries whose slip and count name other bags: of which the parts list puts some in a bag that was not
    /// counted, or in none that is known.
    fn in_other_bags(&self, inventory: &Inventory) -> FxHashSet<usize> {
        let containers = &inventory.containers;
        if self
            .counts
            .iter()
            .all(|count| containers[count.container].is_loose())
        {
            return FxHashSet::default();
        }
        let bags = BagsNamed::of(self, inventory);
        let mut listed: FxHashMap<usize, Vec<u32>> = FxHashMap::default();
        for ((item, bag, _), _) in &inventory.bagged {
            if let Some(entry) = self.entry_of(*item as usize) {
                listed.entry(entry).or_default().push(*bag);
            }
        }
        let missing = Missing::of(inventory);
        let mut counted: Holders<usize, ()> = Holders::default();
        let mut counted_loose = vec![false; self.entries.len()];
        for (entry, is_loose) in counted_loose.iter_mut().enumerate() {
            for count in bags.counts_of(entry) {
                let looked_in = &containers[count.container];
                *is_loose |= looked_in.is_loose();
                counted.said_of(entry, looked_in);
            }
        }
        // Entries of which all bags that the parts list names were counted, or did not arrive.
        let is_known = |entry: usize, bag: &u32| {
            let bag = &containers[*bag as usize];
            counted.hold(entry, bag) || missing.hold(bag)
        };
        let all_known: FxHashMap<usize, bool> = (listed.iter())
            .map(|(&entry, bags)| (entry, bags.iter().all(|bag| is_known(entry, bag))))
            .collect();
        let is_open = |at: usize| {
            let share = &self.slips[at];
            let of = &containers[share.container];
            if share.state != ShareState::Counted
                || share.pieces == 0
                || self.part_counted[share.entry]
                || bags.are_on_slip(share.entry)
                || counted_loose[share.entry]
                || counted.hold(share.entry, of)
            {
                return false;
            }
            match all_known.get(&share.entry) {
                Some(all_known) => !all_known,
                None => !of.is_loose(),
            }
        };
        let open = (0..self.slips.len()).filter(|&at| is_open(at));
        open.map(|at| self.slips[at].entry).collect()
    }

    /// Entries of which a slip or a count says so little that it may be of another that is wanted, too: `M16
    /// bolts, loose` beside two lengths.
    fn one_of_several(&self) -> FxHashSet<usize> {
        let counted = self.counts.iter();
        let counted = counted.filter(|count| count.counted.good.is_some_and(|good| good > 0));
        let counted = counted.map(|count| (count.item, true));
        let shipped = self.slips.iter();
        let shipped = shipped
            .filter(|share| matches!(share.state, ShareState::Believed { .. }) && share.pieces > 0);
        let shipped = shipped.map(|share| (share.item, false));
        let mut open = FxHashSet::default();
        let told: FxHashSet<(usize, bool)> = counted.chain(shipped).collect();
        let of_several = |(item, _): &(usize, bool)| self.is_one_of_several(*item);
        for (item, by_count) in told.into_iter().filter(of_several) {
            // A count stands in the slip's place.
            let told = self.wanted_of(item);
            open.extend(told.filter(|&entry| by_count || self.counted[entry].is_none()));
        }
        open
    }

    /// True for words that fit several wanted entries, and none exactly.
    pub(super) fn is_one_of_several(&self, item: usize) -> bool {
        let is_exact = self.fits.of(item).iter().any(|(_, fit)| fit.is_exact());
        !is_exact && self.wanted_of(item).nth(1).is_some()
    }

    /// The wanted entries that an item may serve.
    fn wanted_of(&self, item: usize) -> impl Iterator<Item = usize> {
        let entries = self.fits.of(item).iter().map(|(entry, _)| *entry);
        entries.filter(|&entry| {
            let entry = &self.entries[entry];
            entry.listed && !entry.wants.is_empty()
        })
    }
}
