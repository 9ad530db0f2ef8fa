//! The shop's stock, shelf by shelf, and what the orders ask of it.

use std::{cmp::Reverse, collections::BTreeMap};

use rustc_hash::{FxHashMap, FxHashSet};

use super::{
    Lack, Pull, ToOrder,
    open::Open,
    sharing::{Limit, share},
};
use crate::{
    Result,
    kit::{List, What},
    settle::{
        Rows,
        deal::{Dealt, Sink, Source, Way, deal},
        spares, stock,
    },
    words::walking_order,
};

/// Pieces of one bin, in one row.
struct Lot {
    bin: Option<String>,
    pieces: u64,
    /// Index into the stock lists.
    list: usize,
    sheet: u16,
    row: u32,
}

/// What the shop has of one item.
struct Shelf {
    text: String,
    /// What it is to each order: index into its inventory's items.
    items: Vec<usize>,
    /// In walking order.
    lots: Vec<Lot>,
    /// What it may serve: index into [`Shop::asks`].
    ways: Vec<Way>,
}

impl Shelf {
    fn pieces(&self) -> u64 {
        self.lots.iter().map(|lot| lot.pieces).sum()
    }
}

/// What one order asks for of one item.
struct Ask {
    order: usize,
    entry: usize,
    /// Pieces in one kit.
    each: u64,
}

/// The stock, and what the orders ask of it.
pub(super) struct Shop {
    shelves: Vec<Shelf>,
    asks: Vec<Ask>,
}

impl Shop {
    pub fn of(open: &[Open], stock: &[List]) -> Shop {
        let mut asks = Vec::new();
        let mut ask_of: FxHashMap<(usize, usize), usize> = FxHashMap::default();
        for (order, of) in open.iter().enumerate() {
            for entry in 0..of.ledger.entries.len() {
                let each = of.each(entry);
                if each > 0 {
                    ask_of.insert((order, entry), asks.len());
                    asks.push(Ask { order, entry, each });
                }
            }
        }
        let mut by_item: BTreeMap<Vec<usize>, Shelf> = BTreeMap::new();
        for (at, list) in stock.iter().enumerate() {
            for line in &list.lines {
                let (What::Item(reading), Some(each @ 1..)) = (&line.what, line.quantity) else {
                    continue;
                };
                let reading = *reading as usize;
                let items = open
                    .iter()
                    .map(|of| of.inventory.ids[of.own_lists + at][reading]);
                let items: Vec<usize> = items.map(|item| item as usize).collect();
                let placement = list.placement_of(line);
                let bin = placement.bin.as_ref().or(placement.place.as_ref());
                let shelf = by_item.entry(items.clone()).or_insert_with(|| Shelf {
                    text: list.readings[reading].item.text(),
                    items,
                    lots: Vec::new(),
                    ways: Vec::new(),
                });
                shelf.lots.push(Lot {
                    bin: bin.map(|bin| bin.to_string()),
                    // The sum is known to be within bounds.
                    pieces: each * u64::from(line.places),
                    list: at,
                    sheet: line.sheet,
                    row: line.row,
                });
            }
        }
        let mut shelves: Vec<Shelf> = by_item.into_values().collect();
        for shelf in &mut shelves {
            shelf.lots.sort_by_cached_key(|lot| {
                let bin = lot.bin.as_deref();
                (bin.is_none(), walking_order(bin.unwrap_or("")))
            });
            for (order, of) in open.iter().enumerate() {
                let fits = of.ledger.fits.of(shelf.items[order]).iter();
                shelf.ways.extend(fits.filter_map(|(entry, fit)| {
                    let ask = ask_of.get(&(order, *entry))?;
                    Some(Way::own(*ask, fit.cost()))
                }));
            }
        }
        shelves.retain(|shelf| !shelf.ways.is_empty());
        Shop { shelves, asks }
    }

    /// Deals the stock to what is wanted of each ask: first and next, as stages; and spares.
    fn deal(&self, wants: impl Fn(&Ask) -> (u64, u64, u64)) -> Dealt {
        let wants: Vec<([(usize, u64); 2], u64)> = self
            .asks
            .iter()
            .map(|ask| {
                let (first, next, spares) = wants(ask);
                ([(0, first), (1, next)], spares)
            })
            .collect();
        let sinks: Vec<Sink> = wants
            .iter()
            .map(|(wants, spares)| Sink {
                wants,
                spares: *spares,
            })
            .collect();
        let sources: Vec<Source> = self
            .shelves
            .iter()
            .map(|shelf| Source::of(shelf.pieces(), &shelf.ways))
            .collect();
        deal(&sinks, &sources)
    }

    /// By ask: the shelves that may serve it.
    fn shelves_of(&self) -> Vec<Vec<usize>> {
        let mut of = vec![Vec::new(); self.asks.len()];
        for (shelf, ways) in self.shelves.iter().enumerate() {
            for way in &ways.ways {
                of[way.sink].push(shelf);
            }
        }
        of
    }

    /// The limit that some shelves set to what may be served by them alone.
    fn limit(&self, asks: impl Iterator<Item = usize>, shelves: &[usize]) -> Limit {
        let mut uses: BTreeMap<usize, u64> = BTreeMap::new();
        for ask in asks {
            *uses.entry(self.asks[ask].order).or_default() += self.asks[ask].each;
        }
        Limit {
            uses: uses.into_iter().collect(),
            most: shelves
                .iter()
                .map(|&shelf| self.shelves[shelf].pieces())
                .sum(),
        }
    }

    /// Whole kits of each order; a number that no sharing can exceed; whether that is proved to be the
    /// most.
    ///
    /// Asks that the same shelves serve share one limit. Those of unlike shelves may still be in each
    /// other's way: where the dealing then fails, the asks that it fails, all that they hang together
    /// with, and the shelves that serve these are a limit too (the theorem of P. Hall, "On
    /// representatives of subsets", Journal of the London Mathematical Society 10, 1935), and the
    /// sharing is done again.
    pub fn share(&self, wanted: &[u64]) -> (Vec<u64>, u64, bool) {
        let shelves_of = self.shelves_of();
        let mut alike: BTreeMap<&[usize], Vec<usize>> = BTreeMap::new();
        for (ask, shelves) in shelves_of.iter().enumerate() {
            alike.entry(shelves).or_default().push(ask);
        }
        let mut limits: Vec<Limit> = alike
            .iter()
            .map(|(shelves, asks)| self.limit(asks.iter().copied(), shelves))
            .collect();
        loop {
            let shared = share(wanted, &limits);
            let dealt = self.deal(|ask| (ask.each * shared.kits[ask.order], 0, 0));
            let failed = (0..self.asks.len()).find(|&at| {
                let ask = &self.asks[at];
                dealt.covered(at)[0] < ask.each * shared.kits[ask.order]
            });
            let Some(failed) = failed else {
                return (shared.kits, shared.at_most, shared.exact);
            };
            limits.push(self.in_the_way(failed, &dealt, &shelves_of));
        }
    }

    /// The limit that a dealing ran into.
    fn in_the_way(&self, failed: usize, dealt: &Dealt, shelves_of: &[Vec<usize>]) -> Limit {
        let mut served: Vec<Vec<usize>> = vec![Vec::new(); self.shelves.len()];
        for &(shelf, ask, _) in &dealt.flows {
            served[shelf].push(ask);
        }
        let (mut asks, mut shelves) = (FxHashSet::default(), FxHashSet::default());
        let mut open = vec![failed];
        asks.insert(failed);
        while let Some(ask) = open.pop() {
            for &shelf in &shelves_of[ask] {
                if shelves.insert(shelf) {
                    open.extend(served[shelf].iter().filter(|ask| asks.insert(**ask)));
                }
            }
        }
        let shelves: Vec<usize> = shelves.into_iter().collect();
        self.limit(asks.into_iter(), &shelves)
    }

    /// What one more kit of an order lacks, when so many of each are packed.
    pub fn lacks(&self, open: &[Open], kits: &[u64], order: usize) -> Vec<Lack> {
        let dealt = self.deal(|ask| {
            let next = if ask.order == order { ask.each } else { 0 };
            (ask.each * kits[ask.order], next, 0)
        });
        let asks = self.asks.iter().enumerate();
        asks.map(|(at, ask)| (ask, dealt.covered(at)))
            .filter(|(ask, covered)| ask.order == order && covered[1] < ask.each)
            .map(|(ask, covered)| {
                let item = open[order].shown(ask.entry);
                Lack {
                    id: item.id(),
                    text: item.text(),
                    pieces: ask.each - covered[1],
                }
            })
            .collect()
    }

    pub fn to_order(&self, open: &[Open]) -> Result<Vec<ToOrder>> {
        let mut wanted = Vec::with_capacity(self.asks.len());
        for ask in &self.asks {
            let of = &open[ask.order];
            let (job, entry) = (&of.order.job, &of.ledger.entries[ask.entry]);
            let pieces = ask.each * job.kits;
            let item = &of.inventory.items[entry.item].identity;
            wanted.push((pieces, spares::of_item(&job.spares, item, pieces)?));
        }
        let at = |ask: &Ask| {
            let asks = &self.asks;
            asks.partition_point(|other| (other.order, other.entry) < (ask.order, ask.entry))
        };
        let dealt = self.deal(|ask| {
            let (pieces, spares) = wanted[at(ask)];
            (pieces, 0, spares)
        });
        let packs: Vec<Vec<Option<u64>>> = open
            .iter()
            .map(|of| stock::packs(&of.inventory, &of.ledger))
            .collect();
        let mut by_id: BTreeMap<String, ToOrder> = BTreeMap::new();
        for (at, ask) in self.asks.iter().enumerate() {
            let (pieces, spares) = wanted[at];
            let (short, spares) = (pieces - dealt.covered(at)[0], spares - dealt.spares[at]);
            if short + spares == 0 {
                continue;
            }
            let item = open[ask.order].shown(ask.entry);
            let of = by_id.entry(item.id()).or_insert_with(|| ToOrder {
                item: item.clone(),
                id: item.id(),
                text: item.text(),
                short: 0,
                spares: 0,
                pack: None,
                orders: Vec::new(),
            });
            of.short += short;
            of.spares += spares;
            of.pack = [of.pack, packs[ask.order][ask.entry]]
                .into_iter()
                .flatten()
                .min();
            if of.orders.last() != Some(&ask.order) {
                of.orders.push(ask.order);
            }
        }
        let mut to_order: Vec<ToOrder> = by_id.into_values().collect();
        to_order.sort_by(|a, b| stock::by_size(&a.item).cmp(&stock::by_size(&b.item)));
        Ok(to_order)
    }

    /// What is dealt, each ask from one shelf where one has enough left for all of it: where an order leaves a
    /// finish or a grade open, its kits are not to get two. Shelf, ask and pieces.
    fn each_ask_from_one_shelf(&self, dealt: &Dealt) -> Vec<(usize, usize, u64)> {
        let mut left: Vec<u64> = self.shelves.iter().map(Shelf::pieces).collect();
        let mut of_asks: BTreeMap<usize, BTreeMap<usize, u64>> = BTreeMap::new();
        for &(shelf, ask, pieces) in &dealt.flows {
            left[shelf] -= pieces;
            *of_asks.entry(ask).or_default().entry(shelf).or_default() += pieces;
        }
        for (ask, shelves) in &mut of_asks {
            if shelves.len() < 2 {
                continue;
            }
            let total: u64 = shelves.values().sum();
            let own = |shelf: usize| shelves.get(&shelf).copied().unwrap_or(0);
            let all = self.shelves.iter().enumerate();
            let whole = all.filter_map(|(at, shelf)| {
                let way = shelf.ways.iter().find(|way| way.sink == *ask)?;
                (left[at] + own(at) >= total).then_some((way.cost, Reverse(own(at)), at))
            });
            if let Some((.., one)) = whole.min() {
                for (&shelf, &pieces) in shelves.iter() {
                    left[shelf] += pieces;
                }
                left[one] -= total;
                *shelves = BTreeMap::from([(one, total)]);
            }
        }
        let flows = of_asks.into_iter().flat_map(|(ask, shelves)| {
            let of = shelves.into_iter();
            of.map(move |(shelf, pieces)| (shelf, ask, pieces))
        });
        flows.collect()
    }

    pub fn pull(&self, open: &[Open], kits: &[u64]) -> Vec<Pull> {
        let dealt = self.deal(|ask| (ask.each * kits[ask.order], 0, 0));
        let mut left: Vec<Vec<u64>> = self
            .shelves
            .iter()
            .map(|shelf| shelf.lots.iter().map(|lot| lot.pieces).collect())
            .collect();
        let mut pull = Vec::new();
        for (shelf, ask, mut pieces) in self.each_ask_from_one_shelf(&dealt) {
            let (of, ask) = (&self.shelves[shelf], &self.asks[ask]);
            let order = &open[ask.order];
            let mut fits = order.ledger.fits.of(of.items[ask.order]).iter();
            let fit = fits.find(|(entry, _)| *entry == ask.entry);
            for (lot, left) in of.lots.iter().zip(&mut left[shelf]) {
                let take = pieces.min(*left);
                if take == 0 {
                    continue;
                }
                (pieces, *left) = (pieces - take, *left - take);
                pull.push(Pull {
                    bin: lot.bin.clone(),
                    stock: of.text.clone(),
                    order: ask.order,
                    item: order.shown(ask.entry).text(),
                    each: ask.each,
                    kits: kits[ask.order],
                    take,
                    unconfirmed: fit.iter().flat_map(|(_, fit)| fit.unconfirmed()).collect(),
                    evidence: Rows::of(lot.list, lot.sheet, lot.row),
                });
            }
        }
        pull.sort_by_cached_key(|pull| {
            let bin = walking_order(pull.bin.as_deref().unwrap_or(""));
            (
                pull.bin.is_none(),
                bin,
                pull.stock.clone(),
                pull.order,
                pull.item.clone(),
            )
        });
        pull
    }
}
