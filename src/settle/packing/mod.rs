//! Packing kits of several orders from the shop's own stock: how many whole kits can be packed, what
//! stops the next one, what to order for all, and what to take from which bin.
//!
//! Whole kits come first: the most of them in all, and of several ways to the same number the one that
//! favours the orders given first. What a kit asks for and what the stock has meet as everywhere
//! ([`super::fit`]); substitutes are not used.

mod sharing;

use std::collections::BTreeMap;

use rustc_hash::{FxHashMap, FxHashSet};

use super::{
    Rows,
    deal::{Dealt, Sink, Source, Way, deal},
    inventory::Inventory,
    ledger::Ledger,
    options::Chosen,
    parcels::Parcels,
    spares,
    stages::Stages,
    stock, verdict,
};
use crate::{
    Result,
    hardware::Item,
    kit::{Job, List, Role, What, job::SecondList},
    words::walking_order,
};
use sharing::{Limit, share};

/// Kits of one job to be packed.
pub struct Order {
    pub job: Job,
    /// What is required of it; other lists of the job are not looked at.
    pub lists: Vec<List>,
}

/// What can be packed of one order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packed {
    pub wanted: u64,
    /// Whole kits packed.
    pub kits: u64,
    /// What one more kit lacks, when these are packed; empty where none is wanted.
    pub lacks: Vec<Lack>,
    /// What goes into each kit, bag by bag.
    pub contents: Vec<Content>,
    /// Why a kit that is packed so may not be whole.
    pub reasons: Vec<String>,
}

/// Pieces of one item that are lacking.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lack {
    pub id: String,
    pub text: String,
    pub pieces: u64,
}

/// Pieces of one item in one bag of a kit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Content {
    /// `None`: in no bag.
    pub bag: Option<String>,
    pub part_number: Option<String>,
    pub id: String,
    pub text: String,
    pub pieces: u64,
}

/// Pieces to take from one bin for one order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pull {
    /// Where the shop keeps them, where its list says so.
    pub bin: Option<String>,
    /// What lies there, as the stock list states it.
    pub stock: String,
    /// Index into the orders.
    pub order: usize,
    /// What the kit asks for.
    pub item: String,
    /// Pieces of it in each kit, and kits packed; another bin may hold some of them.
    pub each: u64,
    pub kits: u64,
    /// Pieces to take from this bin.
    pub take: u64,
    /// What nobody has confirmed about the match: `grade`.
    pub unconfirmed: Vec<&'static str>,
    /// Rows of the stock lists.
    pub evidence: Rows,
}

/// What is to be ordered so that every kit can be packed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ToOrder {
    pub item: Item,
    pub id: String,
    pub text: String,
    /// Lacking in kits, and for spares; at least 1 of the two.
    pub short: u64,
    pub spares: u64,
    /// Pieces in one pack, where the stock list says so.
    pub pack: Option<u64>,
    /// Orders that ask for it: indices, in order.
    pub orders: Vec<usize>,
}

impl ToOrder {
    pub fn pieces(&self) -> u64 {
        self.short + self.spares
    }

    pub fn packs(&self) -> Option<u64> {
        self.pack.map(|pack| self.pieces().div_ceil(pack))
    }
}

/// Kits packed from stock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packing {
    /// In the order given.
    pub orders: Vec<Packed>,
    /// No sharing packs more kits in all.
    pub at_most: u64,
    /// These are the most there are.
    pub exact: bool,
    /// Why there may be more in stock than is seen here.
    pub reasons: Vec<String>,
    /// By size.
    pub to_order: Vec<ToOrder>,
    /// In walking order of the bins.
    pub pull: Vec<Pull>,
}

impl Packing {
    pub fn wanted(&self) -> u64 {
        self.orders.iter().map(|order| order.wanted).sum()
    }

    pub fn kits(&self) -> u64 {
        self.orders.iter().map(|order| order.kits).sum()
    }
}

/// Packs the orders' kits from stock.
///
/// # Errors
/// What [`super::settle`] refuses of any one of the jobs.
pub fn pack(orders: Vec<Order>, stock: &[List]) -> Result<Packing> {
    let open = orders
        .into_iter()
        .map(|order| Open::of(order, stock))
        .collect::<Result<Vec<Open>>>()?;
    let shop = Shop::of(&open, stock);
    let wanted: Vec<u64> = open.iter().map(|of| of.order.job.kits).collect();
    let (kits, at_most, exact) = shop.share(&wanted);
    let packed = open
        .iter()
        .enumerate()
        .map(|(order, of)| Packed {
            wanted: wanted[order],
            kits: kits[order],
            lacks: match kits[order] < wanted[order] {
                true => shop.lacks(&open, &kits, order),
                false => Vec::new(),
            },
            contents: of.contents(),
            reasons: of.reasons(),
        })
        .collect();
    Ok(Packing {
        orders: packed,
        at_most,
        exact,
        // Of the lists of an order, the stock alone has such lines.
        reasons: open
            .first()
            .map(|of| verdict::not_summed(&of.inventory, &of.order.lists))
            .unwrap_or_default(),
        to_order: shop.to_order(&open)?,
        pull: shop.pull(&open, &kits),
    })
}

/// One order with its lists summed, the stock among them.
struct Open {
    order: Order,
    /// Lists before this one are the order's own.
    own_lists: usize,
    inventory: Inventory,
    ledger: Ledger,
}

impl Open {
    fn of(mut order: Order, stock: &[List]) -> Result<Open> {
        order
            .lists
            .retain(|list| matches!(list.role, Role::Required | Role::Compared));
        let own_lists = order.lists.len();
        order.lists.extend(stock.iter().cloned());
        let (job, lists) = (&order.job, order.lists.as_slice());
        let chosen = Chosen::check(job, lists)?;
        let stages = Stages::order(job, lists, &chosen)?;
        let parcels = Parcels::of(lists);
        let inventory = Inventory::take(job, lists, &stages, &chosen, &parcels, parcels.number)?;
        let ledger = Ledger::open(&inventory, job.kits);
        if job.second_list == SecondList::Refused {
            ledger.refuse_lists_that_overlap(lists, &inventory, &stages)?;
        }
        Ok(Open {
            own_lists,
            inventory,
            ledger,
            order,
        })
    }

    /// Pieces of an entry in one kit.
    fn each(&self, entry: usize) -> u64 {
        let wants = self.ledger.entries[entry].wants.iter();
        wants.map(|(_, pieces)| pieces).sum()
    }

    fn shown(&self, entry: usize) -> &Item {
        &self.inventory.items[self.ledger.entries[entry].item].shown
    }

    fn contents(&self) -> Vec<Content> {
        let mut in_bags: BTreeMap<(usize, String), (String, u64)> = BTreeMap::new();
        for &((item, container, _), pieces) in &self.inventory.bagged {
            let container = &self.inventory.containers[container as usize];
            if let (Some(entry), Some(key)) = (self.ledger.entry_of(item as usize), container.key())
            {
                let bag = in_bags.entry((entry, key)).or_default();
                bag.0 = container.name.to_string();
                bag.1 += pieces;
            }
        }
        let mut contents: Vec<((bool, Vec<_>), _, Content)> = Vec::new();
        for entry in 0..self.ledger.entries.len() {
            let stated = &self.inventory.items[self.ledger.entries[entry].item];
            let mut add = |bag: Option<String>, pieces: u64| {
                if pieces > 0 {
                    let place = (bag.is_none(), walking_order(bag.as_deref().unwrap_or("")));
                    let content = Content {
                        bag,
                        part_number: stated.numbers.first().map(|n| n.to_string()),
                        id: stated.shown.id(),
                        text: stated.shown.text(),
                        pieces,
                    };
                    contents.push((place, (stated.first_stage, stated.first_line), content));
                }
            };
            let bags = in_bags.range((entry, String::new())..(entry + 1, String::new()));
            let mut loose = self.each(entry);
            for (_, (name, pieces)) in bags {
                add(Some(name.clone()), *pieces);
                loose = loose.saturating_sub(*pieces);
            }
            add(None, loose);
        }
        contents.sort_by(|a, b| (&a.0, &a.1).cmp(&(&b.0, &b.1)));
        contents.into_iter().map(|(.., content)| content).collect()
    }

    fn reasons(&self) -> Vec<String> {
        verdict::doubts_of_lists(&self.inventory, &self.order.lists)
    }
}

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
struct Shop {
    shelves: Vec<Shelf>,
    asks: Vec<Ask>,
}

impl Shop {
    fn of(open: &[Open], stock: &[List]) -> Shop {
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
    fn share(&self, wanted: &[u64]) -> (Vec<u64>, u64, bool) {
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
    fn lacks(&self, open: &[Open], kits: &[u64], order: usize) -> Vec<Lack> {
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

    fn to_order(&self, open: &[Open]) -> Result<Vec<ToOrder>> {
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

    fn pull(&self, open: &[Open], kits: &[u64]) -> Vec<Pull> {
        let dealt = self.deal(|ask| (ask.each * kits[ask.order], 0, 0));
        let mut left: Vec<Vec<u64>> = self
            .shelves
            .iter()
            .map(|shelf| shelf.lots.iter().map(|lot| lot.pieces).collect())
            .collect();
        let mut pull = Vec::new();
        for &(shelf, ask, mut pieces) in &dealt.flows {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        hardware::Kind,
        kit::{Line, Placement, job::SpareRule},
        settle::sample::{ListOf, bag, plain},
    };

    const BOLT: &str = "bolt hex 1/2-13 6";
    const GRADE_5: &str = "bolt hex 1/2-13 6 g5";
    const GRADE_8: &str = "bolt hex 1/2-13 6 g8";
    const NUT: &str = "nut hex 1/2-13";

    fn order(kits: u64, list: ListOf) -> Order {
        Order {
            job: Job {
                kits,
                ..Job::default()
            },
            lists: vec![list.list()],
        }
    }

    fn asks(lines: &[(&str, u64)]) -> ListOf {
        let lines = lines.iter();
        lines.fold(ListOf::required(), |list, (item, pieces)| {
            list.line(item, *pieces, &plain)
        })
    }

    fn bin(name: &str) -> impl Fn(&mut Line, &mut Placement) {
        let name: Box<str> = name.into();
        move |line, placement| {
            placement.bin = Some(name.clone());
            line.more_mut().pack_size = Some(25);
        }
    }

    fn stock(lines: &[(&str, u64, &str)]) -> List {
        let list = ListOf::new(Role::Stock, "bins.csv");
        let lines = lines.iter();
        lines
            .fold(list, |list, (item, pieces, at)| {
                list.line(item, *pieces, &bin(at))
            })
            .list()
    }

    /// Kits of each order, and what the next one of each lacks.
    #[track_caller]
    fn case(orders: Vec<Order>, lines: &[(&str, u64, &str)], kits: &[u64], lacks: &[&[u64]]) {
        let packing = pack(orders, &[stock(lines)]).expect("packs");
        assert!(packing.exact);
        let found: Vec<u64> = packing.orders.iter().map(|order| order.kits).collect();
        assert_eq!(found, kits);
        let found: Vec<Vec<u64>> = packing
            .orders
            .iter()
            .map(|order| order.lacks.iter().map(|lack| lack.pieces).collect())
            .collect();
        assert_eq!(found, lacks);
    }

    #[test]
    fn whole_kits_are_shared_out() {
        let kit = |kits, bolts| order(kits, asks(&[(BOLT, bolts), (NUT, 4)]));
        case(
            vec![kit(3, 16), kit(4, 4)],
            &[(BOLT, 30, "A"), (NUT, 100, "B")],
            &[1, 3],
            &[&[14], &[2]],
        );
        // The same number either way: the order given first.
        case(
            vec![kit(2, 4), kit(2, 4)],
            &[(BOLT, 12, "A"), (NUT, 100, "B")],
            &[2, 1],
            &[&[], &[4]],
        );
        case(vec![kit(2, 4)], &[(NUT, 100, "B")], &[0], &[&[4]]);
        case(vec![kit(2, 4)], &[(NUT, 1, "B")], &[0], &[&[4, 3]]);
    }

    /// Bolts of either grade serve where none is asked for, so that three kinds of kit are in each
    /// other's way over two shelves.
    #[test]
    fn asks_over_unlike_shelves_are_in_each_others_way() {
        let kit = |item, kits| order(kits, asks(&[(item, 4)]));
        let lines = [(GRADE_5, 8, "A"), (GRADE_8, 8, "A")];
        case(
            vec![kit(BOLT, 3), kit(GRADE_5, 2), kit(GRADE_8, 2)],
            &lines,
            &[3, 1, 0],
            &[&[], &[4], &[4]],
        );
        case(
            vec![kit(GRADE_5, 2), kit(GRADE_8, 1), kit(BOLT, 3)],
            &lines,
            &[2, 1, 1],
            &[&[], &[], &[4]],
        );
    }

    #[test]
    fn what_is_lacking_is_ordered_in_packs_and_spares_with_it() {
        let mut first = order(3, asks(&[(BOLT, 16)]));
        first.job.spares = vec![SpareRule {
            kind: Some(Kind::Bolt),
            up_to: None,
            percent: 5,
            least: 1,
        }];
        let second = order(1, asks(&[(BOLT, 4), (NUT, 4)]));
        let lines = [(BOLT, 30, "A"), (NUT, 4, "B")];
        let packing = pack(vec![first, second], &[stock(&lines)]).expect("packs");
        let [bolts] = packing.to_order.as_slice() else {
            panic!("{:?}", packing.to_order);
        };
        // 48 and 4 wanted of 30; 5 % of 48 are 2.4.
        assert_eq!((bolts.short, bolts.spares), (22, 3));
        assert_eq!(
            (bolts.pieces(), bolts.pack, bolts.packs()),
            (25, Some(25), Some(1))
        );
        assert_eq!(bolts.orders, [0, 1]);
    }

    #[test]
    fn pieces_are_pulled_in_walking_order() {
        let lines = [(BOLT, 20, "A-10"), (NUT, 50, "B-1"), (BOLT, 10, "A-2")];
        let orders = vec![
            order(1, asks(&[(BOLT, 16), (NUT, 16)])),
            order(2, asks(&[("bolt hex 1/2-13 6 g5", 4)])),
        ];
        let packing = pack(orders, &[stock(&lines)]).expect("packs");
        let pull: Vec<_> = packing
            .pull
            .iter()
            .map(|pull| {
                let bin = pull.bin.as_deref().unwrap_or("");
                (
                    bin,
                    pull.order,
                    pull.each,
                    pull.take,
                    pull.unconfirmed.join(","),
                )
            })
            .collect();
        assert_eq!(
            pull,
            [
                ("A-2", 0, 16, 10, String::new()),
                ("A-10", 0, 16, 6, String::new()),
                ("A-10", 1, 4, 8, "grade".to_owned()),
                ("B-1", 0, 16, 16, String::new()),
            ]
        );
        let rows = &packing.pull[1].evidence[0];
        assert_eq!((rows.list, rows.rows.as_slice()), (0, &[(2, 2)][..]));
    }

    #[test]
    fn a_kit_holds_what_its_list_puts_in_bags() {
        let list = ListOf::required()
            .line(NUT, 8, &bag("10"))
            .line(BOLT, 4, &bag("2"))
            .line(BOLT, 2, &plain)
            .line(NUT, 3, &bag("2"));
        let packing = pack(vec![order(1, list)], &[stock(&[(NUT, 1, "A")])]).expect("packs");
        let contents: Vec<(Option<&str>, &str, u64)> = packing.orders[0]
            .contents
            .iter()
            .map(|content| {
                (
                    content.bag.as_deref(),
                    content.text.as_str(),
                    content.pieces,
                )
            })
            .collect();
        assert_eq!(
            contents,
            [
                (Some("2"), "1/2-13 hex nut", 3),
                (Some("2"), "1/2-13 x 6 hex bolt", 4),
                (Some("10"), "1/2-13 hex nut", 8),
                (None, "1/2-13 x 6 hex bolt", 2),
            ]
        );
    }
}
