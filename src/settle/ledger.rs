//! The ledger: one entry an item of the account ([`entries`]), which supplies may serve it, what of the
//! [`slips`] and [`counts`] falls to it, which others may be the same by other words ([`alike`]), and what rows may be of that were not read
//! in full ([`hints`]).

mod alike;
mod bags_named;
mod counts;
mod entries;
mod hints;
mod looked;
mod open_counts;
mod repeated;
mod slips;
mod unmet;
mod unread;

use rustc_hash::{FxHashMap, FxHashSet};

use super::{
    Given,
    account::{LeftOpen, LineRef},
    deal::{Sink, Source, deal},
    fits::Fits,
    inventory::Inventory,
    stages::Stages,
};
use crate::{
    Result,
    grouped::Grouped,
    kit::{List, Role},
};
pub use counts::CountShare;
pub use entries::Entry;
pub use slips::{ShareState, SlipShare};
pub use unmet::{Unmet, UnmetBy};
pub use unread::{Unnamed, UnreadRows};

/// Entries, and what may serve and falls to each.
pub struct Ledger {
    pub entries: Vec<Entry>,
    pub fits: Fits,
    pub slips: Vec<SlipShare>,
    pub counts: Vec<CountShare>,
    /// By entry: the counts that speak for it, by index.
    speaking: Grouped<u32>,
    /// By entry: back-ordered pieces.
    pub back_ordered: Vec<u64>,
    /// Entries of which a slip says that what is lacking will follow.
    to_follow: Vec<usize>,
    /// By entry: good pieces counted; `None` where nobody counted.
    pub counted: Vec<Option<u64>>,
    /// By entry: damaged pieces counted.
    pub damaged: Vec<u64>,
    /// By entry: slip pieces of counted bags that are not in the box.
    pub unseen: Vec<u64>,
    /// By entry: slip pieces of counted bags for which only pieces were seen that may be of another.
    pub unsure: Vec<u64>,
    /// By entry: bags of it are counted and bags of it are blank, and the slips do not say which bag
    /// holds how many, so that nobody knows how many are there.
    pub part_counted: Vec<bool>,
    /// By entry: why what was counted or shipped of it may be more or less than was taken, other items or other
    /// bags being meant.
    pub count_open: FxHashMap<usize, LeftOpen>,
    /// By entry: a later parcel lists it, and nobody knows whether its count looked at that one.
    pub undated: Vec<bool>,
    /// By entry: the lists ask for it as what comes with another item, and no slip or count names it.
    pub comes_along: Vec<bool>,
    /// By entry: pieces over all kits that the required lists put in bags that did not arrive.
    pub lost: Vec<u64>,
    /// By entry: wanted new pieces, and those of them that the slips do not list.
    pub wanted: Vec<u64>,
    pub unlisted: Vec<u64>,
    /// By entry: rows that may be of it, and whose figure was not read.
    pub unread: FxHashMap<usize, UnreadRows>,
    pub unmet: Vec<Unmet>,
    /// By entry: counts of one bag that were not added, by index into what was counted twice.
    pub counted_twice: FxHashMap<usize, Vec<usize>>,
    /// By entry: pieces over all kits that sheets ask for which may only say again what others ask for.
    pub asked_twice: FxHashMap<usize, u64>,
    /// Entries of a required list that slips or counts do not name, or not in full, and others that may be
    /// the same part by other words.
    /// In order.
    pub may_be: Vec<(usize, usize)>,
}

fn total(wants: &[(usize, u64)], kits: u64) -> u64 {
    wants.iter().map(|(_, pieces)| pieces * kits).sum()
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
            speaking: Grouped::default(),
            back_ordered: Vec::new(),
            to_follow: Vec::new(),
            counted: Vec::new(),
            damaged: Vec::new(),
            unseen: Vec::new(),
            unsure: Vec::new(),
            part_counted: Vec::new(),
            count_open: FxHashMap::default(),
            undated: Vec::new(),
            comes_along: Vec::new(),
            lost: Vec::new(),
            wanted: Vec::new(),
            unlisted: Vec::new(),
            unread: FxHashMap::default(),
            counted_twice: FxHashMap::default(),
            asked_twice: FxHashMap::default(),
            unmet: Vec::new(),
            may_be: Vec::new(),
        };
        ledger.enter_needs(inventory);
        ledger.find_fits(inventory);
        ledger.unmet = ledger.unmet_slips(inventory);
        ledger.note_unread(inventory);
        ledger.note_twice(inventory, kits);
        ledger.fall_due(inventory);
        ledger.share_slips(inventory, kits);
        ledger.share_counts(inventory, kits);
        ledger.weigh_slips(inventory);
        ledger.miss_bags(inventory, kits);
        ledger.note_part_counts(inventory);
        ledger.note_open_counts(inventory);
        ledger.note_undated(inventory);
        ledger.note_what_comes_along(inventory);
        ledger.look_for_slips();
        ledger.look_in_slips(kits);
        ledger.note_lost(inventory, kits);
        ledger.note_hints(inventory);
        ledger.may_be = alike::pairs(&ledger, inventory);
        if inventory.several_parcels {
            // What was to follow may have come in a later one.
            for (to_follow, unlisted) in ledger.back_ordered.iter_mut().zip(&ledger.unlisted) {
                *to_follow = (*to_follow).min(*unlisted);
            }
        }
        ledger
    }

    /// The entries in the order in which they are shown: required ones first, by stage, then by line.
    pub fn in_order(&self, inventory: &Inventory) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.entries.len()).collect();
        order.sort_by_cached_key(|&at| {
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
    /// of it is broken off, made twice, or made on a day that nobody knows, no row that may be of it was not
    /// read, and no sheet may ask for it again. Where there is neither slip nor count, the kit is still to be packed from
    /// stock, so that all of it is known.
    pub fn known(&self, given: Given) -> Vec<bool> {
        let to_pack = given.stock && !given.slip && !given.count;
        let told = |entry: usize| {
            // Nothing of it came where all of it was due in bags that did not.
            let all_lost = self.lost[entry] > 0 && self.lost[entry] >= self.wanted[entry];
            given.slip || to_pack || all_lost || self.counted[entry].is_some()
        };
        let mut known: Vec<bool> = (self.part_counted.iter().enumerate())
            .map(|(entry, part_counted)| told(entry) && !part_counted)
            .collect();
        for (&entry, rows) in &self.unread {
            // What a slip lists too few of is short, whatever a count may hold; what it does not name may have
            // come nonetheless.
            let on_slip = self.unlisted[entry] < self.wanted[entry];
            known[entry] &= match self.counted[entry] {
                Some(_) => rows.of_counts.is_empty(),
                None => rows.of_slips.is_empty() && (on_slip || rows.of_counts.is_empty()),
            };
        }
        let several = self.counted_twice.keys().chain(self.asked_twice.keys());
        for &entry in several.chain(self.count_open.keys()) {
            known[entry] = false;
        }
        for &(entry, _) in &self.may_be {
            known[entry] &= self.counted[entry].is_some() || self.unlisted[entry] == 0;
        }
        for (known, undated) in known.iter_mut().zip(&self.undated) {
            *known &= !undated;
        }
        for (known, along) in known.iter_mut().zip(&self.comes_along) {
            *known &= !(*along && given.slip);
        }
        known
    }

    /// True where others may be the same as an entry of a required list.
    pub fn may_be_another(&self, entry: usize) -> bool {
        let first = self.may_be.partition_point(|(of, _)| *of < entry);
        self.may_be.get(first).is_some_and(|(of, _)| *of == entry)
    }

    /// Whose pieces are these? Those of the one entry that they fit exactly; the others by what is
    /// still wanted, at the least cost, and what nobody wants falls to the best fit. Returns supply, entry and
    /// pieces, in order of supply; each has one at least.
    fn attribute(&self, supplies: &[(usize, u64)], kits: u64) -> Vec<(usize, usize, u64)> {
        let mut shares: Vec<(usize, usize, u64)> = Vec::with_capacity(supplies.len());
        let mut wants: Vec<(usize, u64)> = self
            .entries
            .iter()
            .map(|entry| (0, total(entry.due(), kits)))
            .collect();
        let mut open = Vec::new();
        for (at, (item, pieces)) in supplies.iter().enumerate() {
            let entry = match self.fits.of(*item) {
                [(entry, _)] => *entry,
                [(entry, best), (_, next), ..] if best.is_exact() && !next.is_exact() => *entry,
                _ => {
                    open.push(at);
                    continue;
                }
            };
            shares.push((at, entry, *pieces));
            let want = &mut wants[entry].1;
            *want = want.saturating_sub(*pieces);
        }
        let sources: Vec<Source> = open
            .iter()
            .map(|&at| Source::of(supplies[at].1, self.fits.ways(supplies[at].0)))
            .collect();
        let dealt = deal(&Sink::each(&wants), &sources);
        let mut flows = dealt.flows.iter().peekable();
        for (source, (&at, left)) in open.iter().zip(dealt.left).enumerate() {
            let first = shares.len();
            while let Some((_, entry, pieces)) = flows.next_if(|(of, ..)| *of == source) {
                shares.push((at, *entry, *pieces));
            }
            let own = &mut shares[first..];
            let none = own.is_empty();
            let home = self.fits.of(supplies[at].0)[0].0;
            match own.iter_mut().find(|(_, of, _)| *of == home) {
                Some((.., pieces)) => *pieces += left,
                None if left > 0 || none => shares.push((at, home, left)),
                None => {}
            }
        }
        shares.sort_by_key(|(at, ..)| *at);
        shares
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
                .filter_map(|((_, stage), need)| Some((*stage as usize, need.first()?)))
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
            .filter(|entry| entry.due() != entry.wants)
            .map(|entry| entry.item)
            .collect();
        let fitted = inventory.fitted.iter();
        let open = fitted.filter(|(item, _)| !due.contains(&(*item as usize)));
        no_demand.extend(open.map(|(_, at)| *at));
        no_demand.sort_unstable();
    }

    /// The entry of an item that a required list names.
    pub fn entry_of(&self, item: usize) -> Option<usize> {
        let fits = self.fits.of(item).iter();
        fits.map(|(entry, _)| *entry)
            .find(|entry| self.entries[*entry].item == item)
    }

    /// By entry: the items of the slips and of the counts that it rests on, each once, in order.
    pub fn rests_on(&self) -> [Grouped<usize>; 2] {
        let entries = self.entries.len();
        let slips = self.slips.iter().map(|share| (share.entry, share.item));
        let counts = self.counts.iter().map(|count| (count.home, count.item));
        let speaking = (0..entries).flat_map(|entry| {
            let counts = self.speaking.of(entry).iter();
            counts.map(move |&at| (entry, self.counts[at as usize].item))
        });
        [
            Grouped::by(entries, slips).sets(),
            Grouped::by(entries, counts.chain(speaking)).sets(),
        ]
    }
}
