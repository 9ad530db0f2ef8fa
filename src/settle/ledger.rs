//! The ledger: one entry an item of the account, which supplies may serve it, and what of the slips
//! and counts falls to it.

use rustc_hash::{FxHashMap, FxHashSet};

use super::{
    Given,
    account::LineRef,
    alike,
    deal::{Sink, Source, Way, deal},
    evidence::Rows,
    fit::Fit,
    fits::{Fits, Index},
    inventory::{Counted, Inventory},
    stages::Stages,
};
use crate::{
    Result,
    grouped::Grouped,
    kit::{List, Role},
};

/// One item of the account.
#[derive(Debug, Clone, Default)]
pub struct Entry {
    /// Index into [`Inventory::items`].
    pub item: usize,
    /// A required list names it.
    pub listed: bool,
    /// New pieces of one kit: stage and pieces.
    pub wants: Vec<(usize, u64)>,
    /// The same with pieces that come fitted, where those were counted.
    pub due: Vec<(usize, u64)>,
    /// Given back and thrown away, for one kit: stage and pieces.
    pub returned: Vec<(usize, u64)>,
    pub discarded: Vec<(usize, u64)>,
    /// For one kit.
    pub to_bring: u64,
}

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

/// What was counted of one item in one bag, and whose it is.
#[derive(Debug, Clone, Copy)]
pub struct CountShare {
    pub item: usize,
    pub container: usize,
    pub counted: Counted,
    /// The entry that it fits best.
    pub home: usize,
}

/// Entries, and what may serve and falls to each.
pub struct Ledger {
    pub entries: Vec<Entry>,
    pub fits: Fits,
    pub slips: Vec<SlipShare>,
    pub counts: Vec<CountShare>,
    /// By entry: back-ordered pieces.
    pub back_ordered: Vec<u64>,
    /// By entry: good pieces counted; `None` where nobody counted.
    pub counted: Vec<Option<u64>>,
    /// By entry: damaged pieces counted.
    pub damaged: Vec<u64>,
    /// By entry: slip pieces of counted bags that are not in the box.
    pub unseen: Vec<u64>,
    /// By entry: bags of it are counted and bags of it are blank, and the slips do not say which bag
    /// holds how many, so that nobody knows how many are there.
    pub part_counted: Vec<bool>,
    /// By entry: wanted new pieces, and those of them that the slips do not list.
    pub wanted: Vec<u64>,
    pub unlisted: Vec<u64>,
    /// By entry: rows that may be of it, and whose figure was not read.
    pub unread: FxHashMap<usize, UnreadRows>,
    /// Entries of a required list that lack pieces, and others that may be the same part by other words.
    /// In order.
    pub may_be: Vec<(usize, usize)>,
}

/// Rows whose figure was not read.
#[derive(Debug, Default)]
pub struct UnreadRows {
    pub of_slips: Rows,
    pub of_counts: Rows,
}

fn total(wants: &[(usize, u64)], kits: u64) -> u64 {
    wants.iter().map(|(_, pieces)| pieces * kits).sum()
}

/// Stage and pieces of one kit that come fitted.
fn fitted_of(inventory: &Inventory, item: usize) -> impl Iterator<Item = (usize, u64)> {
    let needs = &inventory.needs;
    let first = needs.partition_point(|((of, _), _)| (*of as usize) < item);
    needs[first..]
        .iter()
        .take_while(move |((of, _), _)| *of as usize == item)
        .filter(|(_, need)| need.fitted > 0)
        .map(|((_, stage), need)| (*stage as usize, need.fitted))
}

impl Ledger {
    /// Opens an entry for every item of the required lists, and for every other that was shipped or
    /// counted and fits none of those.
    pub fn open(inventory: &Inventory, kits: u64) -> Ledger {
        let mut ledger = Ledger {
            entries: Vec::new(),
            fits: Fits::of_none(inventory.items.len()),
            slips: Vec::new(),
            counts: Vec::new(),
            back_ordered: Vec::new(),
            counted: Vec::new(),
            damaged: Vec::new(),
            unseen: Vec::new(),
            part_counted: Vec::new(),
            wanted: Vec::new(),
            unlisted: Vec::new(),
            unread: FxHashMap::default(),
            may_be: Vec::new(),
        };
        ledger.enter_needs(inventory);
        ledger.find_fits(inventory);
        ledger.note_unread(inventory);
        ledger.fall_due(inventory);
        ledger.share_slips(inventory, kits);
        ledger.share_counts(inventory, kits);
        ledger.weigh_slips(inventory);
        ledger.miss_bags(inventory, kits);
        ledger.note_part_counts(inventory);
        ledger.look_for_slips();
        ledger.look_in_slips(kits);
        ledger.may_be = alike::pairs(&ledger, inventory);
        if inventory.several_parcels {
            // What was to follow may have come in a later one.
            for (to_follow, unlisted) in ledger.back_ordered.iter_mut().zip(&ledger.unlisted) {
                *to_follow = (*to_follow).min(*unlisted);
            }
        }
        ledger
    }

    fn enter_needs(&mut self, inventory: &Inventory) {
        for ((item, stage), need) in &inventory.needs {
            let (item, stage) = (*item as usize, *stage as usize);
            if self.entries.last().is_none_or(|entry| entry.item != item) {
                self.entries.push(Entry {
                    item,
                    listed: true,
                    ..Entry::default()
                });
            }
            let Some(entry) = self.entries.last_mut() else {
                continue;
            };
            for (of, pieces) in [
                (&mut entry.wants, need.new),
                (&mut entry.returned, need.returned),
                (&mut entry.discarded, need.discarded),
            ] {
                if pieces > 0 {
                    of.push((stage, pieces));
                }
            }
            entry.to_bring += need.to_bring;
        }
    }

    fn find_fits(&mut self, inventory: &Inventory) {
        let (mut listed, mut unlisted) = (Index::default(), Index::default());
        for (at, entry) in self.entries.iter().enumerate() {
            listed.add(at, &inventory.items[entry.item]);
        }
        let mut found = Vec::new();
        let mut find = |index: &Index, ledger: &mut Ledger, item: usize| {
            if ledger.fits.is_none(item) {
                let of = |at: usize| &inventory.items[ledger.entries[at].item];
                index.find(&inventory.items[item], of, &mut found);
                ledger.fits.enter(item, &found);
            }
        };
        for at in 0..self.entries.len() {
            find(&listed, self, self.entries[at].item);
        }
        let shipped = inventory.shipped.iter().map(|(key, _)| (key.0, true));
        let counted = inventory.counted.iter().map(|(key, _)| (key.0, false));
        for (item, on_slip) in shipped.chain(counted) {
            let item = item as usize;
            find(&listed, self, item);
            if !on_slip {
                find(&unlisted, self, item);
            }
            if self.fits.is_none(item) {
                let at = self.entries.len();
                self.entries.push(Entry {
                    item,
                    ..Entry::default()
                });
                self.fits.enter(item, &[(at, Fit::EXACT)]);
                unlisted.add(at, &inventory.items[item]);
            }
        }
        for (item, _) in &inventory.left_over {
            find(&listed, self, *item as usize);
            find(&unlisted, self, *item as usize);
        }
        for unread in &inventory.figures_unread {
            find(&listed, self, unread.item as usize);
        }
        // What the shop has besides is nobody's business here.
        for (item, _) in &inventory.stocked {
            find(&listed, self, *item as usize);
        }
    }

    /// The entries in the order in which they are shown: required ones first, by stage, then by line.
    pub fn in_order(&self, inventory: &Inventory) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.entries.len()).collect();
        order.sort_by_key(|&at| {
            let entry = &self.entries[at];
            let item = &inventory.items[entry.item];
            (!entry.listed, item.first_stage, item.first_line)
        });
        order
    }

    /// Items of which the slips, the counts, the shop or a stage that gives back may have some.
    pub fn on_hand(&self, inventory: &Inventory) -> Vec<usize> {
        let shipped = inventory
            .shipped
            .iter()
            .map(|((item, _), _)| *item as usize);
        let counted = inventory
            .counted
            .iter()
            .map(|((item, _), _)| *item as usize);
        let stocked = inventory.stocked.iter().map(|(item, _)| *item as usize);
        let returned = self
            .entries
            .iter()
            .filter(|entry| !entry.returned.is_empty());
        let mut items: Vec<usize> = shipped
            .chain(counted)
            .chain(stocked)
            .chain(returned.map(|entry| entry.item))
            .collect();
        items.sort_unstable();
        items.dedup();
        items
    }

    /// By entry: what is short of it is short for sure: a slip or a count speaks of it, and no count
    /// of it is broken off, and no row that may be of it was not read. Where there is neither slip nor count, the kit is still to be packed from
    /// stock, so that all of it is known.
    pub fn known(&self, given: Given) -> Vec<bool> {
        let to_pack = given.stock && !given.slip && !given.count;
        let mut known: Vec<bool> = self
            .counted
            .iter()
            .zip(&self.part_counted)
            .map(|(counted, part_counted)| {
                (given.slip || to_pack || counted.is_some()) && !part_counted
            })
            .collect();
        for (&entry, rows) in &self.unread {
            let of_role = match self.counted[entry] {
                Some(_) => &rows.of_counts,
                None => &rows.of_slips,
            };
            known[entry] &= of_role.is_empty();
        }
        for &(entry, _) in &self.may_be {
            known[entry] &= self.counted[entry].is_some();
        }
        known
    }

    /// Gathers the rows that may be of an entry, and whose figure was not read.
    fn note_unread(&mut self, inventory: &Inventory) {
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

    /// Pieces that come fitted fall due where somebody counted them: as such, or as an item of which
    /// the bags hold none.
    fn fall_due(&mut self, inventory: &Inventory) {
        let mut counted = vec![false; self.entries.len()];
        for ((item, _), count) in &inventory.counted {
            for (entry, fit) in self.fits.of(*item as usize) {
                let none_in_bags = self.entries[*entry].wants.is_empty();
                counted[*entry] |= fit.is_exact() && (count.fitted || none_in_bags);
            }
        }
        for (entry, counted) in self.entries.iter_mut().zip(counted) {
            entry.due = entry.wants.clone();
            if counted {
                for (stage, pieces) in fitted_of(inventory, entry.item) {
                    match entry.due.binary_search_by_key(&stage, |(stage, _)| *stage) {
                        Ok(at) => entry.due[at].1 += pieces,
                        Err(at) => entry.due.insert(at, (stage, pieces)),
                    }
                }
            }
        }
    }

    /// Whose pieces are these? Those of the one entry that they fit exactly; the others by what is
    /// still wanted, at the least cost, and what nobody wants falls to the best fit. Returns entry and
    /// pieces for each supply.
    fn attribute(&self, supplies: &[(usize, u64)], kits: u64) -> Vec<Vec<(usize, u64)>> {
        let mut shares: Vec<Vec<(usize, u64)>> = vec![Vec::new(); supplies.len()];
        let mut wants: Vec<(usize, u64)> = self
            .entries
            .iter()
            .map(|entry| (0, total(&entry.due, kits)))
            .collect();
        let mut open = Vec::new();
        for (at, (item, pieces)) in supplies.iter().enumerate() {
            match self.fits.of(*item) {
                [(entry, _)] => shares[at].push((*entry, *pieces)),
                [(entry, best), (_, next), ..] if best.is_exact() && !next.is_exact() => {
                    shares[at].push((*entry, *pieces));
                }
                _ => {
                    open.push(at);
                    continue;
                }
            }
            for (entry, pieces) in &shares[at] {
                let want = &mut wants[*entry].1;
                *want = want.saturating_sub(*pieces);
            }
        }
        let sources: Vec<Source> = open
            .iter()
            .map(|&at| Source::of(supplies[at].1, self.fits.ways(supplies[at].0)))
            .collect();
        let dealt = deal(&Sink::each(&wants), &sources);
        for (source, entry, pieces) in dealt.flows {
            shares[open[source]].push((entry, pieces));
        }
        for (source, left) in dealt.left.into_iter().enumerate() {
            let at = open[source];
            if left > 0 || shares[at].is_empty() {
                let home = self.fits.of(supplies[at].0)[0].0;
                match shares[at].iter_mut().find(|(entry, _)| *entry == home) {
                    Some((_, pieces)) => *pieces += left,
                    None => shares[at].push((home, left)),
                }
            }
        }
        shares
    }

    fn share_slips(&mut self, inventory: &Inventory, kits: u64) {
        let supplies: Vec<(usize, u64)> = inventory
            .shipped
            .iter()
            .map(|((item, _), shipped)| (*item as usize, shipped.pieces))
            .collect();
        let shares = self.attribute(&supplies, kits);
        self.back_ordered = vec![0; self.entries.len()];
        for (((item, container), shipped), shares) in inventory.shipped.iter().zip(shares) {
            self.back_ordered[shares[0].0] += shipped.back_ordered;
            for (entry, pieces) in shares {
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

    fn share_counts(&mut self, inventory: &Inventory, kits: u64) {
        let supplies: Vec<(usize, u64)> = inventory
            .counted
            .iter()
            .map(|((item, _), count)| (*item as usize, count.good.unwrap_or(0)))
            .collect();
        let shares = self.attribute(&supplies, kits);
        self.counted = vec![None; self.entries.len()];
        self.damaged = vec![0; self.entries.len()];
        for (((item, container), count), shares) in inventory.counted.iter().zip(shares) {
            let home = shares[0].0;
            self.damaged[home] += count.damaged;
            if count.good.is_some() {
                for (entry, pieces) in shares {
                    *self.counted[entry].get_or_insert(0) += pieces;
                }
            }
            self.counts.push(CountShare {
                item: *item as usize,
                container: *container as usize,
                counted: *count,
                home,
            });
        }
        let speaking = self.counts_of_entries();
        for (entry, counted) in self.counted.iter_mut().enumerate() {
            if !speaking.of(entry).is_empty() {
                counted.get_or_insert(0);
            }
        }
    }

    /// By entry: the counts that speak for it, by index. Those that fit it exactly, else all that may
    /// serve it and have no entry of their own.
    fn counts_of_entries(&self) -> Grouped<u32> {
        let fits = self.counts.iter().zip(0..).flat_map(|(count, at)| {
            let good = count.counted.good.map(|_| self.fits.of(count.item));
            good.into_iter()
                .flatten()
                .map(move |(entry, fit)| (*entry, at, count.item, *fit))
        });
        let exact = fits.clone().filter(|(.., fit)| fit.is_exact());
        let mut has_exact = vec![false; self.entries.len()];
        for (entry, ..) in exact.clone() {
            has_exact[entry] = true;
        }
        let own = |item: usize| self.fits.of(item).iter().any(|(_, fit)| fit.is_exact());
        let speaking = fits.filter(|(entry, _, item, fit)| match has_exact[*entry] {
            true => fit.is_exact(),
            false => !own(*item),
        });
        Grouped::by(
            self.entries.len(),
            speaking.map(|(entry, at, ..)| (entry, at)),
        )
    }

    /// Settles what is known of the slips' pieces: counted, not received, or believed. A count speaks
    /// for its entry's pieces and for the slip's pieces of the very same item, in its own bag; without
    /// a bag it speaks for all, and from a bag that the slip does not name, for those without a bag.
    fn weigh_slips(&mut self, inventory: &Inventory) {
        let of_entries = self.counts_of_entries();
        let good = self
            .counts
            .iter()
            .zip(0..)
            .filter(|(count, _)| count.counted.good.is_some());
        let of_items = good.map(|(count, at)| (count.item, at));
        let of_items: Grouped<u32> = Grouped::by(inventory.items.len(), of_items);
        let containers = self
            .slips
            .iter()
            .map(|share| (share.entry, share.container));
        let containers = Grouped::by(self.entries.len(), containers);
        let speaks = |count: &CountShare, share: &SlipShare| {
            let (counted, listed) = (
                &inventory.containers[count.container],
                &inventory.containers[share.container],
            );
            if !counted.parcels.meets(listed.parcels) {
                return false;
            }
            counted.is_loose()
                || counted.holds(listed)
                || listed.is_loose()
                    && !containers
                        .of(share.entry)
                        .iter()
                        .any(|&other| counted.holds(&inventory.containers[other]))
        };
        let mut damaged_only: FxHashMap<usize, Vec<&CountShare>> = FxHashMap::default();
        for count in &self.counts {
            if count.counted.good.is_none() {
                damaged_only.entry(count.home).or_default().push(count);
            }
        }
        let mut states = Vec::with_capacity(self.slips.len());
        for share in &self.slips {
            let counted = of_entries
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
        for (share, state) in self.slips.iter_mut().zip(states) {
            share.state = state;
        }
    }

    /// Where the slips name no bags of an item, what the required lists put in a bag that did not arrive
    /// is not believed.
    fn miss_bags(&mut self, inventory: &Inventory, kits: u64) {
        let mut in_bags = vec![false; self.entries.len()];
        for share in &self.slips {
            in_bags[share.entry] |= !inventory.containers[share.container].is_loose();
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
        let mut lost = Vec::new();
        for share in &mut self.slips {
            let (false, ShareState::Believed { damaged }) = (in_bags[share.entry], share.state)
            else {
                continue;
            };
            let Some(missing) = missing.get_mut(&self.entries[share.entry].item) else {
                continue;
            };
            for (bag, pieces) in missing {
                let (lost_bag, _) = inventory.not_received[*bag];
                let lost_of = inventory.containers[lost_bag as usize].parcels;
                if !lost_of.meets(inventory.containers[share.container].parcels) {
                    continue;
                }
                let taken = (*pieces).min(share.pieces - damaged);
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

    /// Finds entries of which some bags are counted and some are blank, where the slips name no bags.
    fn note_part_counts(&mut self, inventory: &Inventory) {
        let mut counted_loose = vec![false; self.entries.len()];
        let mut blank = vec![false; self.entries.len()];
        self.part_counted = vec![false; self.entries.len()];
        for count in &self.counts {
            counted_loose[count.home] |=
                count.counted.good.is_some() && inventory.containers[count.container].is_loose();
        }
        for (item, container) in &inventory.blank {
            if let Some(entry) = self.fits.home(*item as usize) {
                blank[entry] |= !inventory.containers[*container as usize].is_loose();
            }
        }
        for share in &self.slips {
            self.part_counted[share.entry] |= share.state == ShareState::Counted
                && inventory.containers[share.container].is_loose()
                && blank[share.entry]
                && !counted_loose[share.entry];
        }
    }

    /// Looks for the slips' pieces among those counted, good or damaged: what is not seen is short in
    /// the box.
    fn look_for_slips(&mut self) {
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
        let mut unseen = vec![0; self.entries.len()];
        // A count of it was not read in full: the rest may be there.
        let not_read = self.unread.iter();
        let not_read = not_read.filter(|(_, rows)| !rows.of_counts.is_empty());
        let not_read: FxHashSet<usize> = not_read.map(|(entry, _)| *entry).collect();
        for (share, seen) in counted.iter().zip(dealt.got()) {
            if !self.part_counted[share.entry] && !not_read.contains(&share.entry) {
                unseen[share.entry] += share.pieces - seen;
            }
        }
        self.unseen = unseen;
    }

    /// Looks for the wanted pieces on the slips: what they do not list is short on the slip.
    fn look_in_slips(&mut self, kits: u64) {
        let wants: Vec<(usize, u64)> = self
            .entries
            .iter()
            .map(|entry| (0, total(&entry.wants, kits)))
            .collect();
        let sources: Vec<Source> = self
            .slips
            .iter()
            .map(|share| Source::of(share.pieces, self.fits.ways(share.item)))
            .collect();
        let dealt = deal(&Sink::each(&wants), &sources);
        self.wanted = wants.iter().map(|(_, wanted)| *wanted).collect();
        let wanted = self.wanted.iter().zip(dealt.got());
        self.unlisted = wanted.map(|(wanted, listed)| wanted - listed).collect();
    }

    /// Two required lists that may ask for the same pieces in one stage are not added up. Lists that
    /// state the very same item are refused as they are read; these state it in part.
    ///
    /// # Errors
    /// Names both lines.
    pub fn refuse_lists_that_overlap(
        &self,
        lists: &[List],
        inventory: &Inventory,
        stages: &Stages,
    ) -> Result<()> {
        let required = lists.iter().filter(|list| list.role == Role::Required);
        if required.count() < 2 {
            return Ok(());
        }
        let firsts = |item: usize| {
            let needs = &inventory.needs;
            let first = needs.partition_point(|((of, _), _)| (*of as usize) < item);
            let own = needs[first..].iter();
            own.take_while(move |((of, _), _)| *of as usize == item)
                .filter_map(|((_, stage), need)| Some((*stage as usize, need.first?)))
        };
        for entry in self.entries.iter().filter(|entry| entry.listed) {
            for (other, _) in self.fits.of(entry.item) {
                for (stage, first) in firsts(entry.item) {
                    for (other_stage, other) in firsts(self.entries[*other].item) {
                        let one_stage = stages.are_alike(stage, other_stage)
                            || stages.is_unnamed(stage)
                            || stages.is_unnamed(other_stage);
                        if one_stage && first.list != other.list {
                            let (first, second) = (first.min(other), first.max(other));
                            return Err(stages.listed_twice(lists, first, second, stage));
                        }
                    }
                }
            }
        }
        Ok(())
    }

    /// Adds the lines of pieces that come fitted to those without demand, but for those counted.
    pub fn note_what_comes_fitted(&self, inventory: &Inventory, no_demand: &mut Vec<LineRef>) {
        let due: FxHashSet<usize> = self
            .entries
            .iter()
            .filter(|entry| entry.due != entry.wants)
            .map(|entry| entry.item)
            .collect();
        let fitted = inventory.fitted.iter();
        let open = fitted.filter(|(item, _)| !due.contains(&(*item as usize)));
        no_demand.extend(open.map(|(_, at)| *at));
        no_demand.sort_unstable();
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

    /// What a bag or box that did not arrive held: by the slips, or by the parts list where there is
    /// no slip. `at` is its index into [`Inventory::not_received`].
    pub fn held(&self, inventory: &Inventory, at: usize, kits: u64, any_slip: bool) -> Vec<Lost> {
        if any_slip {
            let lost = self
                .slips
                .iter()
                .filter(|share| share.state == ShareState::NotReceived(at));
            return lost
                .map(|share| Lost {
                    item: share.item,
                    entry: share.entry,
                    pieces: share.pieces,
                })
                .collect();
        }
        let container = &inventory.containers[inventory.not_received[at].0 as usize];
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

    /// The entry of an item that a required list names.
    pub fn entry_of(&self, item: usize) -> Option<usize> {
        let fits = self.fits.of(item).iter();
        fits.map(|(entry, _)| *entry)
            .find(|entry| self.entries[*entry].item == item)
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

    /// By entry: the items of the slips and of the counts that it rests on, each once, in order.
    pub fn rests_on(&self) -> [Grouped<usize>; 2] {
        let entries = self.entries.len();
        let slips = self.slips.iter().map(|share| (share.entry, share.item));
        let counts = self.counts.iter().map(|count| (count.home, count.item));
        let speaking = self.counts_of_entries();
        let speaking = (0..entries).flat_map(|entry| {
            let counts = speaking.of(entry).iter();
            counts.map(move |&at| (entry, self.counts[at as usize].item))
        });
        [
            Grouped::by(entries, slips).sets(),
            Grouped::by(entries, counts.chain(speaking)).sets(),
        ]
    }
}
