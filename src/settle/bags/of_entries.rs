//! The bags of each entry, made when they are asked for: of a long list there would be millions at once.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::{Bag, Bags};
use crate::{
    grouped::Grouped,
    settle::{
        account::ItemAccount,
        inventory::{Container, Inventory},
        ledger::{Ledger, ShareState},
    },
    words::walking_order,
};

/// Bags times stages of one item beyond which its bags are not held against each other: they are no
/// bags of a kit but a stock list, and each would be held against each.
const MOST_BAGS_BY_STAGES: usize = 1000;

/// Pieces of one kit that the required lists put in a bag: item, container and stage.
type Bagged = ((u32, u32, u32), u64);

/// The bags of every entry.
pub struct OfEntries<'a> {
    inventory: &'a Inventory,
    ledger: &'a Ledger,
    kits: u64,
    /// By container: as first named, with the word for what it is (`bag D`).
    called: Vec<Arc<str>>,
    /// By container: the number of its bag, in order of the bags' keys; `None` for loose pieces.
    numbers: Vec<Option<usize>>,
    /// By number: the bag did not arrive.
    lost: Vec<bool>,
    /// As shown, in order, and by container the place of its name in it; `None` for loose pieces.
    shown: Vec<Arc<str>>,
    ranks: Vec<Option<u32>>,
    /// By item: where its own end among [`Inventory::bagged`].
    bagged: Vec<u32>,
    /// By entry: its slip shares and its counts in the ledger.
    slips: Grouped<u32>,
    counts: Grouped<u32>,
}

impl<'a> OfEntries<'a> {
    pub fn of(inventory: &'a Inventory, ledger: &'a Ledger, kits: u64) -> OfEntries<'a> {
        let containers = &inventory.containers;
        let keys: Vec<Option<String>> = containers.iter().map(Container::key).collect();
        let numbers = places(&keys, &sorted(keys.iter().flatten().cloned()));
        let mut lost = vec![false; numbers.len()];
        for (bag, _) in &inventory.not_received {
            let bag = &containers[*bag as usize];
            for (container, number) in containers.iter().zip(&numbers) {
                if let (Some(number), true) = (number, bag.holds(container)) {
                    lost[*number] = true;
                }
            }
        }
        let names: Vec<Option<String>> = containers
            .iter()
            .map(|of| (!of.is_loose()).then(|| of.shown()))
            .collect();
        let mut shown = sorted(names.iter().flatten().cloned());
        shown.sort_by_cached_key(|name| walking_order(name));
        let places: FxHashMap<&str, u32> = shown.iter().map(String::as_str).zip(0..).collect();
        let ranks = names
            .iter()
            .map(|name| places.get(name.as_deref()?).copied());
        let ranks = ranks.collect();
        let slips = ledger.slips.iter().zip(0..);
        let counts = ledger.counts.iter().zip(0..);
        let entries = ledger.entries.len();
        let mut bagged = vec![0; inventory.items.len()];
        for (((item, ..), _), end) in inventory.bagged.iter().zip(1..) {
            bagged[*item as usize] = end;
        }
        // An item that is in no bag ends where the one before it does.
        let mut end = 0;
        for own in &mut bagged {
            end = end.max(*own);
            *own = end;
        }
        OfEntries {
            inventory,
            ledger,
            kits,
            called: containers.iter().map(|of| of.called().into()).collect(),
            numbers,
            lost,
            bagged,
            shown: shown.into_iter().map(Arc::from).collect(),
            ranks,
            slips: Grouped::by(entries, slips.map(|(share, at)| (share.entry, at))),
            counts: Grouped::by(entries, counts.map(|(count, at)| (count.home, at))),
        }
    }

    /// What the required lists put in bags of an entry.
    fn bagged(&self, entry: usize) -> &[Bagged] {
        let item = self.ledger.entries[entry].item;
        let fits = self.ledger.fits.of(item).iter();
        if !fits.map(|(of, _)| *of).any(|of| of == entry) {
            return &[];
        }
        let start = item.checked_sub(1).map_or(0, |before| self.bagged[before]);
        &self.inventory.bagged[start as usize..self.bagged[item] as usize]
    }

    /// The bags and boxes that hold an entry, by list, slip or count: their places in order of name.
    pub fn ranks(&self, entry: usize) -> Vec<u32> {
        let Ledger { slips, counts, .. } = self.ledger;
        let of_slips = self.slips.of(entry).iter();
        let of_counts = self.counts.of(entry).iter();
        let of_list = self.bagged(entry).iter();
        let containers = of_slips
            .map(|&at| slips[at as usize].container)
            .chain(of_counts.map(|&at| counts[at as usize].container))
            .chain(of_list.map(|((_, container, _), _)| *container as usize));
        let mut ranks: Vec<u32> = containers.filter_map(|of| self.ranks[of]).collect();
        ranks.sort_unstable();
        ranks.dedup();
        ranks
    }

    /// The names of bags and boxes.
    pub fn names(&self, ranks: &[u32]) -> Vec<Arc<str>> {
        let names = ranks.iter().map(|rank| &self.shown[*rank as usize]);
        names.cloned().collect()
    }

    /// Which of an entry's bags, where there are several, the required lists name for which stage.
    pub fn of_stages(&self, entry: usize, ranks: &[u32]) -> Box<[(usize, usize)]> {
        if ranks.len() < 2 {
            return Box::default();
        }
        let bagged = self.bagged(entry).iter();
        let mut of: Vec<(usize, usize)> = bagged
            .filter_map(|((_, container, stage), _)| {
                let rank = self.ranks[*container as usize]?;
                Some((*stage as usize, ranks.binary_search(&rank).ok()?))
            })
            .collect();
        of.sort_unstable();
        of.dedup();
        of.into()
    }

    /// The bags of an item's entry; `None` where they are too many to be bags of a kit.
    pub fn of_a_kit(&'a self, entry: usize, item: &ItemAccount) -> Option<Bags<'a>> {
        let most = MOST_BAGS_BY_STAGES / item.shares.len().max(1);
        let mut bags = Bags {
            names: &self.called,
            of: Vec::new(),
            loose: 0,
            by_stage: false,
        };
        for &((_, container, stage), each) in self.bagged(entry) {
            bags.by_stage = true;
            if let Some(bag) = self.bag(&mut bags, container as usize) {
                bag.add_due(stage as usize, each * self.kits);
            }
            if bags.of.len() > most {
                return None;
            }
        }
        for &at in self.slips.of(entry) {
            let share = &self.ledger.slips[at as usize];
            let by_stage = bags.by_stage;
            let good = match share.state {
                ShareState::Believed { damaged } => share.pieces - damaged,
                ShareState::Counted | ShareState::NotReceived(_) => 0,
            };
            match self.bag(&mut bags, share.container) {
                None => bags.loose += good,
                Some(bag) => {
                    if !by_stage {
                        bag.add_due(0, share.pieces);
                    }
                    // A parts list knows nothing of the boxes of a second delivery.
                    let parcels = self.inventory.containers[share.container].parcels;
                    if by_stage && parcels.first > 1 {
                        bag.came_later += share.pieces;
                    }
                    bag.good += good;
                    bag.known = true;
                }
            }
            if bags.of.len() > most {
                return None;
            }
        }
        for &at in self.counts.of(entry) {
            let count = &self.ledger.counts[at as usize];
            let good = count.counted.good.unwrap_or(0);
            match self.bag(&mut bags, count.container) {
                None => bags.loose += good,
                Some(bag) => {
                    bag.good += good;
                    bag.damaged += count.counted.damaged;
                    bag.known |= count.counted.good.is_some();
                }
            }
        }
        let lost = bags.of.iter_mut().filter(|bag| self.lost[bag.number]);
        for bag in lost {
            bag.known &= bag.good > 0;
        }
        (bags.of.len() <= most).then_some(bags)
    }

    /// The bag of a container; `None` for loose pieces.
    fn bag<'b>(&self, bags: &'b mut Bags, container: usize) -> Option<&'b mut Bag> {
        let number = self.numbers[container]?;
        let at = match bags.of.binary_search_by_key(&number, |bag| bag.number) {
            Ok(at) => at,
            Err(at) => {
                let bag = Bag {
                    number,
                    named: container,
                    ..Bag::default()
                };
                bags.of.insert(at, bag);
                at
            }
        };
        Some(&mut bags.of[at])
    }
}

fn sorted(names: impl Iterator<Item = String>) -> Vec<String> {
    let mut names: Vec<String> = names.collect();
    names.sort_unstable();
    names.dedup();
    names
}

/// The place of each name among all.
fn places(names: &[Option<String>], all: &[String]) -> Vec<Option<usize>> {
    let place = |name: &Option<String>| all.binary_search(name.as_ref()?).ok();
    names.iter().map(place).collect()
}
