//! What the slips list, and to which entries it falls.

use rustc_hash::{FxHashMap, FxHashSet};

use super::{
    Entry, Ledger,
    bags_named::BagsNamed,
    looked::{Missing, Of, Speaking},
    total,
};
use crate::settle::{
    deal::{Bench, Sink, Source, deal, deal_kits},
    inventory::Inventory,
    parcels::Scope,
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
        let all = &inventory.containers;
        let bags = BagsNamed::of(self, inventory);
        let mut speaking = Speaking::default();
        for count in &self.counts {
            let of = match count.counted.good {
                Some(_) => Of::Item(count.item, count.counted.fitted),
                None => Of::Damaged(count.home),
            };
            let on_slip = bags.is_on_any_slip(count.container);
            speaking.add(of, count, &all[count.container], on_slip);
        }
        for entry in 0..self.entries.len() {
            for &at in self.speaking.of(entry) {
                let count = &self.counts[at as usize];
                let on_slip = bags.is_on_any_slip(count.container);
                let of = Of::Entry(entry, count.counted.fitted);
                speaking.add(of, count, &all[count.container], on_slip);
            }
        }
        let missing = Missing::of(inventory);
        let states = self.slips.iter().map(|share| {
            let listed = &all[share.container];
            // Boxes on the slip, and the bags in them on the count.
            let names_none = !bags.are_on_slip(share.entry);
            // Pieces that come fitted are in no bag, so that their count speaks for none.
            let fitted = self.entries[share.entry].wants.is_empty();
            let mut of = [false, true].into_iter().take(1 + usize::from(fitted));
            let is_counted = of.any(|fitted| {
                [Of::Entry(share.entry, fitted), Of::Item(share.item, fitted)]
                    .into_iter()
                    .any(|of| speaking.of(of, listed, names_none).next().is_some())
            });
            if is_counted {
                ShareState::Counted
            } else if let Some(bag) = missing.that_hold(listed).min() {
                ShareState::NotReceived(bag)
            } else {
                let of = Of::Damaged(share.entry);
                let damaged: u64 = speaking.of(of, listed, names_none).sum();
                ShareState::Believed {
                    damaged: damaged.min(share.pieces),
                }
            }
        });
        let states: Vec<ShareState> = states.collect();
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
        let bags = Missing::of(inventory);
        let mut missing: FxHashMap<usize, Vec<(usize, u64)>> = FxHashMap::default();
        for ((item, of, _), pieces) in &inventory.bagged {
            for at in bags.that_hold(&inventory.containers[*of as usize]) {
                let of_item = missing.entry(*item as usize).or_default();
                of_item.push((at, pieces * kits));
            }
        }
        // A bag is looked at for one share after another until nothing that it held is left to be missed.
        for of_item in missing.values_mut() {
            of_item.sort_by_key(|(at, _)| std::cmp::Reverse(*at));
        }
        // Entries counted in no bag, and in bags that did not arrive.
        let mut counted_loose = vec![false; self.entries.len()];
        let mut counted_there: FxHashSet<(usize, usize)> = FxHashSet::default();
        for (entry, is_loose) in counted_loose.iter_mut().enumerate() {
            for &at in self.speaking.of(entry) {
                let of = &inventory.containers[self.counts[at as usize].container];
                *is_loose |= of.is_loose();
                counted_there.extend(bags.that_hold(of).map(|bag| (entry, bag)));
            }
        }
        let mut lost = Vec::new();
        for share in &mut self.slips {
            let Some(missing) = missing.get_mut(&self.entries[share.entry].item) else {
                continue;
            };
            if in_bags[share.entry] {
                continue;
            }
            for (bag, pieces) in missing.iter_mut().rev() {
                let (lost_bag, _) = inventory.not_received[*bag];
                let lost_of = inventory.containers[lost_bag as usize].parcels;
                let is_counted =
                    counted_loose[share.entry] || counted_there.contains(&(share.entry, *bag));
                let there = match share.state {
                    ShareState::Believed { damaged } => share.pieces - damaged,
                    ShareState::Counted if !is_counted => share.pieces,
                    ShareState::Counted | ShareState::NotReceived(_) => 0,
                };
                if !lost_of.meets(inventory.containers[share.container].parcels) {
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
            while missing.pop_if(|(_, pieces)| *pieces == 0).is_some() {}
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
        let of_slips = of_items.map(|shares| {
            let pieces = shares.iter().map(|share| share.pieces).sum();
            Source::of(pieces, self.fits.ways(shares[0].item))
        });
        // What a stage gives back need not be on a slip.
        let returned = self.entries.iter().flat_map(|entry| {
            let ways = self.fits.ways(entry.item);
            entry.returned.iter().map(move |&(stage, pieces)| Source {
                pieces,
                ways,
                after: Some(stage),
            })
        });
        let sources: Vec<Source> = of_slips.chain(returned).collect();
        let dealt = match self.entries.iter().all(|entry| entry.returned.is_empty()) {
            true => deal(&Sink::each(&wants), &sources),
            // Then it matters in which stages they are wanted.
            false => {
                let sinks = self.entries.iter().map(|entry| Sink {
                    wants: &entry.wants,
                    spares: 0,
                });
                let bench = Bench {
                    sinks: &sinks.collect::<Vec<_>>(),
                    sources: &sources,
                    stages: &[],
                };
                deal_kits(bench, kits, 0..usize::MAX)
            }
        };
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
        for lost in self.held(inventory, kits, false).into_iter().flatten() {
            self.lost[lost.entry] += lost.pieces;
        }
    }

    /// What bags and boxes that did not arrive held: by the slips, or by the parts list where there is
    /// no slip. Beside [`Inventory::not_received`].
    pub fn held(&self, inventory: &Inventory, kits: u64, any_slip: bool) -> Vec<Vec<Lost>> {
        let mut held: Vec<Vec<Lost>> = vec![Vec::new(); inventory.not_received.len()];
        if !any_slip {
            let missing = Missing::of(inventory);
            for ((item, of, _), each) in &inventory.bagged {
                let item = *item as usize;
                for at in missing.that_hold(&inventory.containers[*of as usize]) {
                    held[at].extend(self.entry_of(item).map(|entry| Lost {
                        item,
                        entry,
                        pieces: each * kits,
                    }));
                }
            }
            return held;
        }
        let lost = || {
            self.slips.iter().filter_map(|share| match share.state {
                ShareState::NotReceived(at) => Some((at, share)),
                _ => None,
            })
        };
        let parcel = |share: &SlipShare| inventory.containers[share.container].parcels.first;
        // Of a count that does not say which parcel it looked at, one bag is missed once.
        let mut first = vec![u32::MAX; held.len()];
        for (at, share) in lost() {
            first[at] = first[at].min(parcel(share));
        }
        for (at, share) in lost() {
            let (bag, _) = inventory.not_received[at];
            let undated = inventory.containers[bag as usize].parcels == Scope::ALL;
            if !undated || parcel(share) == first[at] {
                held[at].push(Lost {
                    item: share.item,
                    entry: share.entry,
                    pieces: share.pieces,
                });
            }
        }
        held
    }
}
