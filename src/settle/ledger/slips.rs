//! What the slips list, and to which entries it falls.

use rustc_hash::FxHashMap;

use super::{CountShare, Entry, Ledger, bags_named::BagsNamed, total};
use crate::{
    grouped::Grouped,
    settle::{
        deal::{Sink, Source, deal},
        inventory::Inventory,
        parcels::Scope,
    },
};

/// Pieces of the slips that fall to one entry.
#[derive(Debug, Clone, Copy)]
pub struct SlipShare {
    pub item: usize,
    pub container: usize,
    pub entry: usize,
    pub pieces: u64,
    pub state: ShareState,
}

/// What is known of pieces that the slips list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShareState {
    /// Not counted: the slip is believed, but for pieces known to be damaged.
    Believed { damaged: u64 },
    /// A count stands in their place.
    Counted,
    /// Their bag or box did not arrive; the index into [`Inventory::not_received`].
    NotReceived(usize),
}

/// Pieces of a bag or box that did not arrive.
#[derive(Debug, Clone, Copy)]
pub struct Lost {
    pub item: usize,
    pub entry: usize,
    pub pieces: u64,
}

impl Ledger {
    pub(super) fn share_slips(&mut self, inventory: &Inventory, kits: u64) {
        let supplies: Vec<(usize, u64)> = inventory
            .shipped
            .iter()
            .map(|((item, _), shipped)| (*item as usize, shipped.pieces))
            .collect();
        let shares = self.attribute(&supplies, kits);
        self.back_ordered = vec![0; self.entries.len()];
        self.slips.reserve_exact(shares.len());
        let of_slips = shares.chunk_by(|a, b| a.0 == b.0);
        for (((item, container), shipped), shares) in inventory.shipped.iter().zip(of_slips) {
            self.back_ordered[shares[0].1] += shipped.back_ordered;
            if shipped.to_follow {
                self.to_follow.push(shares[0].1);
            }
            for &(_, entry, pieces) in shares {
                self.slips.push(SlipShare {
                    item: *item as usize,
                    container: *container as usize,
                    entry,
                    pieces,
                    state: ShareState::Believed { damaged: 0 },
                });
            }
        }
    }

    /// Settles what is known of the slips' pieces: counted, not received, or believed. A count speaks
    /// for its entry's pieces and for the slip's pieces of the very same item, in its own bag; without
    /// a bag it speaks for all, and from a bag that the slip does not name, for those without a bag or in boxes
    /// that the count does not name.
    pub(super) fn weigh_slips(&mut self, inventory: &Inventory) {
        let good = self
            .counts
            .iter()
            .zip(0..)
            .filter(|(count, _)| count.counted.good.is_some());
        let of_items = good.map(|(count, at)| (count.item, at));
        let of_items: Grouped<u32> = Grouped::by(inventory.items.len(), of_items);
        let bags = BagsNamed::of(self, inventory);
        let all = &inventory.containers;
        let speaks = |count: &CountShare, share: &SlipShare| {
            let (counted, listed) = (&all[count.container], &all[share.container]);
            if !counted.parcels.meets(listed.parcels) {
                return false;
            }
            if counted.is_loose() || counted.holds(listed) {
                return true;
            }
            // Boxes on the slip, and the bags in them on the count.
            let other_names = listed.is_loose() || !bags.is_on_any_slip(count.container);
            other_names && !bags.are_on_slip(share.entry)
        };
        let mut damaged_only: FxHashMap<usize, Vec<&CountShare>> = FxHashMap::default();
        for count in &self.counts {
            if count.counted.good.is_none() {
                damaged_only.entry(count.home).or_default().push(count);
            }
        }
        let mut states = Vec::with_capacity(self.slips.len());
        for share in &self.slips {
            let counted = self
                .speaking
                .of(share.entry)
                .iter()
                .chain(of_items.of(share.item))
                .map(|&at| &self.counts[at as usize])
                // Pieces that come fitted are in no bag, so that their count speaks for none.
                .filter(|c| !c.counted.fitted || self.entries[share.entry].wants.is_empty())
                .any(|count| speaks(count, share));
            let missing = || {
                inventory.not_received.iter().position(|(bag, _)| {
                    inventory.containers[*bag as usize]
                        .holds(&inventory.containers[share.container])
                })
            };
            states.push(if counted {
                ShareState::Counted
            } else if let Some(bag) = missing() {
                ShareState::NotReceived(bag)
            } else {
                let of_entry = damaged_only.get(&share.entry).into_iter().flatten();
                let damaged: u64 = of_entry
                    .filter(|count| speaks(count, share))
                    .map(|count| count.counted.damaged)
                    .sum();
                ShareState::Believed {
                    damaged: damaged.min(share.pieces),
                }
            });
        }
        let over = bags.over_what_is_listed();
        for (share, state) in self.slips.iter_mut().zip(states) {
            share.state = state;
        }
        self.see_loose(inventory, over);
    }

    /// Takes what is counted of an entry beyond what its bags were to hold for pieces that a slip puts in no bag.
    fn see_loose(&mut self, inventory: &Inventory, mut over: FxHashMap<usize, u64>) {
        let mut seen = Vec::new();
        for share in &mut self.slips {
            let is_loose = inventory.containers[share.container].is_loose()
                && self.fits.of(share.item).len() == 1;
            let (true, ShareState::Believed { damaged }) = (is_loose, share.state) else {
                continue;
            };
            let Some(over) = over.get_mut(&share.entry) else {
                continue;
            };
            let pieces = (*over).min(share.pieces - damaged);
            *over -= pieces;
            share.pieces -= pieces;
            seen.push(SlipShare {
                pieces,
                state: ShareState::Counted,
                ..*share
            });
        }
        seen.retain(|share| share.pieces > 0);
        self.slips.append(&mut seen);
    }

    /// Where the slips name no bags of an item, or boxes alone, what the required lists put in a bag that did not arrive
    /// is neither believed nor among what other bags were counted for.
    pub(super) fn miss_bags(&mut self, inventory: &Inventory, kits: u64) {
        let mut in_bags = vec![false; self.entries.len()];
        for share in &self.slips {
            let of = &inventory.containers[share.container];
            in_bags[share.entry] |= !of.is_loose() && !of.is_box();
        }
        let mut missing: FxHashMap<usize, Vec<(usize, u64)>> = FxHashMap::default();
        for (at, (bag, _)) in inventory.not_received.iter().enumerate() {
            let bag = &inventory.containers[*bag as usize];
            for ((item, of, _), pieces) in &inventory.bagged {
                if bag.holds(&inventory.containers[*of as usize]) {
                    let of_item = missing.entry(*item as usize).or_default();
                    of_item.push((at, pieces * kits));
                }
            }
        }
        let (all, speaking) = (&self.counts, &self.speaking);
        let counted_there = |entry: usize, bag: u32| {
            let bag = &inventory.containers[bag as usize];
            let mut counts = speaking.of(entry).iter();
            counts.any(|&at| {
                let of = &inventory.containers[all[at as usize].container];
                of.is_loose() || bag.holds(of)
            })
        };
        let mut lost = Vec::new();
        for share in &mut self.slips {
            let Some(missing) = missing.get_mut(&self.entries[share.entry].item) else {
                continue;
            };
            for (bag, pieces) in missing {
                let (lost_bag, _) = inventory.not_received[*bag];
                let lost_of = inventory.containers[lost_bag as usize].parcels;
                let there = match share.state {
                    ShareState::Believed { damaged } => share.pieces - damaged,
                    ShareState::Counted if !counted_there(share.entry, lost_bag) => share.pieces,
                    ShareState::Counted | ShareState::NotReceived(_) => 0,
                };
                if in_bags[share.entry]
                    || !lost_of.meets(inventory.containers[share.container].parcels)
                {
                    continue;
                }
                let taken = (*pieces).min(there);
                *pieces -= taken;
                share.pieces -= taken;
                lost.push(SlipShare {
                    pieces: taken,
                    state: ShareState::NotReceived(*bag),
                    ..*share
                });
            }
        }
        lost.retain(|share| share.pieces > 0);
        self.slips.append(&mut lost);
    }

    /// Looks for the wanted pieces on the slips: what they do not list is short on the slip.
    pub(super) fn look_in_slips(&mut self, kits: u64) {
        let wants: Vec<(usize, u64)> = self
            .entries
            .iter()
            .map(|entry| (0, total(&entry.wants, kits)))
            .collect();
        // How many an entry gets does not hang on which bags they come from.
        let of_items = self.slips.chunk_by(|a, b| a.item == b.item);
        let sources: Vec<Source> = of_items
            .map(|shares| {
                let pieces = shares.iter().map(|share| share.pieces).sum();
                Source::of(pieces, self.fits.ways(shares[0].item))
            })
            .collect();
        let dealt = deal(&Sink::each(&wants), &sources);
        self.wanted = wants.iter().map(|(_, wanted)| *wanted).collect();
        let wanted = self.wanted.iter().zip(dealt.got());
        self.unlisted = wanted.map(|(wanted, listed)| wanted - listed).collect();
        for &entry in &self.to_follow {
            let known = &mut self.back_ordered[entry];
            *known = (*known).max(self.unlisted[entry]);
        }
    }

    /// Pieces that the slips list for an entry.
    pub fn shipped(&self) -> Vec<u64> {
        let mut shipped = vec![0; self.entries.len()];
        for share in &self.slips {
            shipped[share.entry] += share.pieces;
        }
        shipped
    }

    /// By entry: good pieces of the slips that nobody counted.
    pub fn believed(&self) -> Vec<u64> {
        let mut believed = vec![0; self.entries.len()];
        for share in &self.slips {
            if let ShareState::Believed { damaged } = share.state {
                believed[share.entry] += share.pieces - damaged;
            }
        }
        believed
    }

    /// By entry: whether a slip line may serve it.
    pub fn on_slip(&self) -> Vec<bool> {
        let mut on_slip = vec![false; self.entries.len()];
        for share in &self.slips {
            for (entry, _) in self.fits.of(share.item) {
                on_slip[*entry] = true;
            }
        }
        on_slip
    }

    /// Finds entries that are asked for as what comes with another item, and that no slip or count names: they
    /// may be on that item.
    pub(super) fn note_what_comes_along(&mut self, inventory: &Inventory) {
        let along = |entry: &Entry| entry.listed && !inventory.items[entry.item].asked_apart;
        if !self.entries.iter().any(along) {
            self.comes_along = vec![false; self.entries.len()];
            return;
        }
        let seen = self.on_slip().into_iter().zip(&self.counted);
        let seen = seen.map(|(on_slip, counted)| on_slip || counted.is_some());
        let entries = self.entries.iter().zip(seen);
        self.comes_along = entries.map(|(entry, seen)| along(entry) && !seen).collect();
    }

    /// Notes what the required lists put in bags that did not arrive.
    pub(super) fn note_lost(&mut self, inventory: &Inventory, kits: u64) {
        self.lost = vec![0; self.entries.len()];
        for at in 0..inventory.not_received.len() {
            for lost in self.held(inventory, at, kits, false) {
                self.lost[lost.entry] += lost.pieces;
            }
        }
    }

    /// What a bag or box that did not arrive held: by the slips, or by the parts list where there is
    /// no slip. `at` is its index into [`Inventory::not_received`].
    pub fn held(&self, inventory: &Inventory, at: usize, kits: u64, any_slip: bool) -> Vec<Lost> {
        let container = &inventory.containers[inventory.not_received[at].0 as usize];
        if any_slip {
            let lost = self.slips.iter();
            let lost = lost.filter(|share| share.state == ShareState::NotReceived(at));
            let parcel = |share: &SlipShare| inventory.containers[share.container].parcels.first;
            // Of a count that does not say which parcel it looked at, one bag is missed once.
            let undated = container.parcels == Scope::ALL;
            let first = lost.clone().map(parcel).min();
            return lost
                .filter(|share| !undated || Some(parcel(share)) == first)
                .map(|share| Lost {
                    item: share.item,
                    entry: share.entry,
                    pieces: share.pieces,
                })
                .collect();
        }
        let due = inventory
            .bagged
            .iter()
            .filter(|((_, of, _), _)| container.holds(&inventory.containers[*of as usize]));
        due.filter_map(|((item, ..), each)| {
            let item = *item as usize;
            Some(Lost {
                item,
                entry: self.entry_of(item)?,
                pieces: each * kits,
            })
        })
        .collect()
    }
}
