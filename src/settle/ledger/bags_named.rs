//! What slips and counts call the bags of an entry.

use rustc_hash::{FxHashMap, FxHashSet};

use super::{CountShare, Ledger, SlipShare};
use crate::{
    grouped::Grouped,
    settle::inventory::{Container, Inventory},
};

/// The bags of entries, by slips and by counts.
pub struct BagsNamed<'a> {
    ledger: &'a Ledger,
    containers: &'a [Container],
    /// By entry: its slips, by index.
    slips: Grouped<u32>,
    /// Containers of counts that some slip names, of whatever item.
    on_slip: FxHashSet<usize>,
}

impl<'a> BagsNamed<'a> {
    pub fn of(ledger: &'a Ledger, inventory: &'a Inventory) -> BagsNamed<'a> {
        let containers = inventory.containers.as_slice();
        let slips = ledger.slips.iter().zip(0..);
        let slips = slips.map(|(share, at)| (share.entry, at));
        let counted: FxHashSet<usize> = ledger.counts.iter().map(|of| of.container).collect();
        let listed = inventory.shipped.iter().map(|((_, of), _)| *of as usize);
        let listed: FxHashSet<usize> = listed.collect();
        let is_listed = |at: &usize| {
            let mut listed = listed.iter();
            listed.any(|of| containers[*at].holds(&containers[*of]))
        };
        BagsNamed {
            ledger,
            containers,
            slips: Grouped::by(ledger.entries.len(), slips),
            on_slip: counted.into_iter().filter(is_listed).collect(),
        }
    }

    /// The counts that speak for an entry, but for those of pieces that come fitted, which are in no bag.
    pub fn counts_of(&self, entry: usize) -> impl Iterator<Item = &'a CountShare> + Clone {
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
        self.in_counted_bags(entry).next().is_some()
    }

    /// By entry: pieces counted beyond what the slips list in the bags in which they were. Of pieces that may serve
    /// several entries nobody knows.
    pub fn over_what_is_listed(&self) -> FxHashMap<usize, u64> {
        if self.on_slip.is_empty() {
            return FxHashMap::default();
        }
        let entries = 0..self.ledger.entries.len();
        let over = entries.filter_map(|entry| {
            let listed: u64 = self.in_counted_bags(entry).map(|share| share.pieces).sum();
            let counts = self.counts_of(entry);
            let serves_others = |of: &CountShare| self.ledger.fits.of(of.item).len() > 1;
            if counts.clone().any(serves_others) {
                return None;
            }
            let counted = counts.map(|of| of.counted.good.unwrap_or(0) + of.counted.damaged);
            let over = counted.sum::<u64>().saturating_sub(listed);
            (listed > 0 && over > 0).then_some((entry, over))
        });
        over.collect()
    }

    fn in_counted_bags(&self, entry: usize) -> impl Iterator<Item = &'a SlipShare> {
        let slips = self.slips.of(entry).iter();
        let slips = slips.map(|&at| &self.ledger.slips[at as usize]);
        slips.filter(move |share| {
            let listed = &self.containers[share.container];
            let mut counts = self.counts_of(entry);
            counts.any(|count| self.containers[count.container].holds(listed))
        })
    }
}
