//! What slips and counts call the bags of an entry.

use std::cell::Cell;

use rustc_hash::{FxHashMap, FxHashSet};

use super::{CountShare, Ledger};
use crate::settle::inventory::{Holders, Inventory};

/// The bags of entries, by slips and by counts.
pub struct BagsNamed<'a> {
    ledger: &'a Ledger,
    /// By entry: pieces that the slips list in the bags in which they were counted; `None` where they name none.
    in_counted_bags: Vec<Option<u64>>,
    /// Containers of counts that some slip names, of whatever item.
    on_slip: FxHashSet<usize>,
}

impl<'a> BagsNamed<'a> {
    pub fn of(ledger: &'a Ledger, inventory: &'a Inventory) -> BagsNamed<'a> {
        let containers = inventory.containers.as_slice();
        let mut named = BagsNamed {
            ledger,
            in_counted_bags: vec![None; ledger.entries.len()],
            on_slip: FxHashSet::default(),
        };
        let mut counted: Holders<usize, ()> = Holders::default();
        for entry in 0..ledger.entries.len() {
            for count in named.counts_of(entry) {
                counted.said_of(entry, &containers[count.container]);
            }
        }
        for share in &ledger.slips {
            if counted.hold(share.entry, &containers[share.container]) {
                *named.in_counted_bags[share.entry].get_or_insert(0) += share.pieces;
            }
        }
        let all: FxHashSet<usize> = ledger.counts.iter().map(|of| of.container).collect();
        // Whether a slip names one of those of a name.
        let mut of_name: Holders<(), Cell<bool>> = Holders::default();
        for &at in &all {
            of_name.said_of((), &containers[at]);
        }
        let listed: FxHashSet<u32> = (inventory.shipped.iter()).map(|((_, of), _)| *of).collect();
        for &at in &listed {
            let holders = of_name.of((), &containers[at as usize]);
            holders.for_each(|is_on_slip| is_on_slip.set(true));
        }
        let mut is_on_slip = |at: &usize| {
            let said = of_name.said_of((), &containers[*at]);
            said.is_some_and(|is_on_slip| is_on_slip.get())
        };
        named.on_slip = all.into_iter().filter(|at| is_on_slip(at)).collect();
        named
    }

    /// The counts that speak for an entry, but for those of pieces that come fitted, which are in no bag.
    pub fn counts_of(
        &self,
        entry: usize,
    ) -> impl Iterator<Item = &'a CountShare> + Clone + use<'a> {
        let ledger = self.ledger;
        let is_wanted = !ledger.entries[entry].wants.is_empty();
        let counts = ledger.speaking.of(entry).iter();
        let counts = counts.map(|&at| &ledger.counts[at as usize]);
        counts.filter(move |count| !count.counted.fitted || !is_wanted)
    }

    /// True where a slip, of whatever item, names the bag of a count.
    pub fn is_on_any_slip(&self, container: usize) -> bool {
        self.on_slip.contains(&container)
    }

    /// True where a slip names a bag of the entry in which it was counted.
    pub fn are_on_slip(&self, entry: usize) -> bool {
        self.in_counted_bags[entry].is_some()
    }

    /// By entry: pieces counted beyond what the slips list in the bags in which they were. Of pieces that may serve
    /// several entries nobody knows.
    pub fn over_what_is_listed(&self) -> FxHashMap<usize, u64> {
        let listed = self.in_counted_bags.iter().enumerate();
        let over = listed.filter_map(|(entry, listed)| {
            let listed = listed.filter(|listed| *listed > 0)?;
            let counts = self.counts_of(entry);
            let serves_others = |of: &CountShare| self.ledger.fits.of(of.item).len() > 1;
            if counts.clone().any(serves_others) {
                return None;
            }
            let counted = counts.map(|of| of.counted.good.unwrap_or(0) + of.counted.damaged);
            let over = counted.sum::<u64>().saturating_sub(listed);
            (over > 0).then_some((entry, over))
        });
        over.collect()
    }
}
