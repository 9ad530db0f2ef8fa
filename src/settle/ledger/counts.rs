//! What was counted, and for which entries it speaks.

use rustc_hash::{FxHashMap, FxHashSet};

use super::{Ledger, ShareState, SlipShare, looked::Missing};
use crate::{
    grouped::Grouped,
    settle::{
        deal::{Sink, Source, Way, deal},
        inventory::{Counted, Inventory},
        parcels::Scope,
    },
};

/// What was counted of one item in one bag, and whose it is.
#[derive(Debug, Clone, Copy)]
pub struct CountShare {
    pub item: usize,
    pub container: usize,
    pub counted: Counted,
    /// The entry that it fits best.
    pub home: usize,
}

impl Ledger {
    pub(super) fn share_counts(&mut self, inventory: &Inventory, kits: u64) {
        let supplies: Vec<(usize, u64)> = inventory
            .counted
            .iter()
            .map(|((item, _), count)| (*item as usize, count.good.unwrap_or(0)))
            .collect();
        let shares = self.attribute(&supplies, kits);
        self.counted = vec![None; self.entries.len()];
        self.damaged = vec![0; self.entries.len()];
        let of_counts = shares.chunk_by(|a, b| a.0 == b.0);
        for (((item, container), count), shares) in inventory.counted.iter().zip(of_counts) {
            let (_, home, _) = shares[0];
            self.damaged[home] += count.damaged;
            if count.good.is_some() {
                for (_, entry, pieces) in shares {
                    *self.counted[*entry].get_or_insert(0) += pieces;
                }
            }
            self.counts.push(CountShare {
                item: *item as usize,
                container: *container as usize,
                counted: *count,
                home,
            });
        }
        self.speaking = self.counts_of_entries();
        for (entry, counted) in self.counted.iter_mut().enumerate() {
            if !self.speaking.of(entry).is_empty() {
                counted.get_or_insert(0);
            }
        }
    }

    /// By entry: the counts that speak for it, by index. Those that fit it exactly, else all that may
    /// serve it and have no entry of their own.
    fn counts_of_entries(&self) -> Grouped<u32> {
        let counts = self.counts.iter().zip(0..);
        let counts = counts.filter(|(count, _)| count.counted.good.is_some());
        let counts = counts.map(|(count, at)| (self.fits.of(count.item), at));
        let mut has_exact = vec![false; self.entries.len()];
        for (entry, fit) in counts.clone().flat_map(|(fits, _)| fits) {
            has_exact[*entry] |= fit.is_exact();
        }
        let mut speaking: Vec<(usize, u32)> = Vec::with_capacity(self.counts.len());
        for (fits, at) in counts {
            let own = fits.iter().any(|(_, fit)| fit.is_exact());
            let speaks = fits.iter().filter(|(entry, fit)| match has_exact[*entry] {
                true => fit.is_exact(),
                false => !own,
            });
            speaking.extend(speaks.map(|(entry, _)| (*entry, at)));
        }
        Grouped::by(self.entries.len(), speaking.into_iter())
    }

    /// Finds entries of which some bags are counted and some are blank, where the slips name no bags.
    pub(super) fn note_part_counts(&mut self, inventory: &Inventory) {
        let mut counted_loose = vec![false; self.entries.len()];
        let mut blank = vec![false; self.entries.len()];
        self.part_counted = vec![false; self.entries.len()];
        for count in &self.counts {
            counted_loose[count.home] |=
                count.counted.good.is_some() && inventory.containers[count.container].is_loose();
        }
        // A bag that did not arrive has nothing to be counted.
        let missing = Missing::of(inventory);
        for (item, container) in &inventory.blank {
            if let Some(entry) = self.fits.home(*item as usize) {
                let of = &inventory.containers[*container as usize];
                blank[entry] |= !of.is_loose() && !missing.hold(of);
            }
        }
        for share in &self.slips {
            self.part_counted[share.entry] |= share.state == ShareState::Counted
                && inventory.containers[share.container].is_loose()
                && blank[share.entry]
                && !counted_loose[share.entry];
        }
    }

    /// Finds entries that a later parcel lists, where nobody knows whether their count looked at it.
    pub(super) fn note_undated(&mut self, inventory: &Inventory) {
        self.undated = vec![false; self.entries.len()];
        if inventory.undated.is_empty() {
            return;
        }
        let parcels = |container: usize| inventory.containers[container].parcels;
        let speaking = self.counts_of_entries();
        let all_seen = |entry: usize| {
            let mut counts = speaking.of(entry).iter();
            counts.any(|&at| parcels(self.counts[at as usize].container) == Scope::ALL)
        };
        let all_seen: Vec<bool> = (0..self.entries.len()).map(all_seen).collect();
        let mut listed = vec![0u64; self.entries.len()];
        for share in &self.slips {
            listed[share.entry] = listed[share.entry].saturating_add(share.pieces);
        }
        for share in self.slips.iter().filter(|share| share.pieces > 0) {
            // All that the slips list is seen: no more of it came since.
            if self.counted[share.entry].is_some_and(|seen| seen >= listed[share.entry]) {
                continue;
            }
            let looked = match share.state {
                ShareState::NotReceived(bag) => {
                    parcels(inventory.not_received[bag].0 as usize) == Scope::ALL
                }
                _ => all_seen[share.entry],
            };
            self.undated[share.entry] |= parcels(share.container).first > 1 && looked;
        }
    }

    /// Looks for the slips' pieces among those counted, good or damaged: what is not seen is short in
    /// the box.
    pub(super) fn look_for_slips(&mut self) {
        let counted: Vec<&SlipShare> = self
            .slips
            .iter()
            .filter(|share| share.state == ShareState::Counted)
            .collect();
        let wants: Vec<(usize, u64)> = counted.iter().map(|share| (0, share.pieces)).collect();
        let mut of_entry: FxHashMap<usize, Vec<usize>> = FxHashMap::default();
        for (at, share) in counted.iter().enumerate() {
            of_entry.entry(share.entry).or_default().push(at);
        }
        let ways: Vec<Vec<Way>> = self
            .counts
            .iter()
            .map(|count| {
                let mut ways = Vec::new();
                for (entry, fit) in self.fits.of(count.item) {
                    for &sink in of_entry.get(entry).into_iter().flatten() {
                        let share = counted[sink];
                        let elsewhere = i32::from(share.container != count.container);
                        let cost = if share.item == count.item {
                            0
                        } else {
                            fit.cost()
                        };
                        ways.push(Way::own(sink, 2 * cost + elsewhere));
                    }
                }
                ways
            })
            .collect();
        let sources: Vec<Source> = self
            .counts
            .iter()
            .zip(&ways)
            .map(|(count, ways)| {
                let pieces = count.counted.good.unwrap_or(0) + count.counted.damaged;
                Source::of(pieces, ways)
            })
            .collect();
        let dealt = deal(&Sink::each(&wants), &sources);
        self.unsure = vec![0; self.entries.len()];
        for &(count, share, pieces) in &dealt.flows {
            if self.is_one_of_several(self.counts[count].item) {
                self.unsure[counted[share].entry] += pieces;
            }
        }
        let mut unseen = vec![0; self.entries.len()];
        // A count of it was not read in full, or not added: the rest may be there.
        let not_read = self.unread.iter();
        let not_read = not_read.filter(|(_, rows)| !rows.of_counts.is_empty());
        let not_read = not_read.map(|(entry, _)| entry);
        let not_read: FxHashSet<usize> =
            not_read.chain(self.counted_twice.keys()).copied().collect();
        for (share, seen) in counted.iter().zip(dealt.got()) {
            let is_open = self.part_counted[share.entry] || self.undated[share.entry];
            if !is_open && !not_read.contains(&share.entry) {
                unseen[share.entry] += share.pieces - seen;
            }
        }
        self.unseen = unseen;
    }
}
