//! Where counts looked, and which bags they missed: what was said of a bag is found by its name, whatever the
//! number of others.

use indexmap::IndexMap;
use rustc_hash::{FxBuildHasher, FxHashMap};

use super::CountShare;
use crate::settle::{
    inventory::{Container, Holders, Inventory},
    parcels::Scope,
};

/// Bags and boxes that did not arrive, by what they hold.
pub struct Missing(Holders<(), Vec<usize>>);

impl Missing {
    pub fn of(inventory: &Inventory) -> Missing {
        let mut missing: Holders<(), Vec<usize>> = Holders::default();
        for (at, (bag, _)) in inventory.not_received.iter().enumerate() {
            let of_name = missing.said_of((), &inventory.containers[*bag as usize]);
            of_name.into_iter().for_each(|of_name| of_name.push(at));
        }
        Missing(missing)
    }

    /// Those that hold a bag or a box: indices into [`Inventory::not_received`].
    pub fn that_hold<'a>(&'a self, held: &'a Container) -> impl Iterator<Item = usize> + 'a {
        self.0.of((), held).flatten().copied()
    }

    pub fn hold(&self, held: &Container) -> bool {
        self.that_hold(held).next().is_some()
    }
}

/// Of what a count speaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Of {
    /// An entry, or an item; and whether of pieces that come fitted.
    Entry(usize, bool),
    Item(usize, bool),
    /// An entry of which damaged pieces alone were counted.
    Damaged(usize),
}

/// Where a count looked, beside the bag that it names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Place {
    Anywhere,
    /// In no bag.
    Loose,
    /// In none that a slip names.
    OffSlips,
}

/// For which of the slips' pieces counts speak, and how many damaged ones they found.
#[derive(Default)]
pub struct Speaking {
    in_bags: Holders<Of, u64>,
    elsewhere: FxHashMap<(Of, Place), IndexMap<Scope, u64, FxBuildHasher>>,
}

impl Speaking {
    /// Adds a count; `on_slip` where some slip names its bag.
    pub fn add(&mut self, of: Of, count: &CountShare, looked_in: &Container, on_slip: bool) {
        let damaged = count.counted.damaged;
        let mut add = |place| {
            let of_place = self.elsewhere.entry((of, place)).or_default();
            *of_place.entry(looked_in.parcels).or_default() += damaged;
        };
        add(Place::Anywhere);
        if looked_in.is_loose() {
            add(Place::Loose);
        }
        if !on_slip {
            add(Place::OffSlips);
        }
        if let Some(found) = self.in_bags.said_of(of, looked_in) {
            *found += damaged;
        }
    }

    /// What the counts that speak for pieces in a bag or box found damaged, some figure for each; `elsewhere` where
    /// those of bags that no slip names speak, too.
    pub fn of<'a>(
        &'a self,
        of: Of,
        listed: &'a Container,
        elsewhere: bool,
    ) -> impl Iterator<Item = u64> + 'a {
        let place = match (elsewhere, listed.is_loose()) {
            (true, true) => Place::Anywhere,
            (true, false) => Place::OffSlips,
            (false, _) => Place::Loose,
        };
        let looked = self.elsewhere.get(&(of, place)).into_iter().flatten();
        let looked = looked.filter(|(parcels, _)| parcels.meets(listed.parcels));
        let looked = looked.map(|(_, damaged)| *damaged);
        looked.chain(self.in_bags.of(of, listed).copied())
    }
}
