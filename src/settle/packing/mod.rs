//! Packing kits of several orders from the shop's own stock: how many whole kits can be packed, what
//! stops the next one, what to order for all, and what to take from which bin.
//!
//! Whole kits come first: the most of them in all, and of several ways to the same number the one that
//! favours the orders given first ([`sharing`]). What a kit asks for ([`open`]) and what the stock has
//! ([`shop`]) meet as everywhere
//! ([`super::fit`]); substitutes are not used.

mod open;
mod sharing;
mod shop;

use super::{Rows, doubted, verdict};
use crate::{
    Result,
    hardware::Item,
    kit::{Job, List},
};
use open::Open;
use shop::Shop;

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
    /// Why there may be more in stock than is seen here, or less.
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
            .map(|of| {
                let lists = &of.order.lists;
                let mut reasons = verdict::not_summed(&of.inventory, lists, |_| true);
                let in_doubt = doubted::of_stock(lists);
                reasons.extend(in_doubt.iter().map(|of| verdict::doubted_reason(of, lists)));
                reasons
            })
            .unwrap_or_default(),
        to_order: shop.to_order(&open)?,
        pull: shop.pull(&open, &kits),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        hardware::Kind,
        kit::{Line, Placement, Role, job::SpareRule},
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
        assert_eq!((rows.list, &*rows.rows), (0, &[(2, 2)][..]));
    }

    /// What an order leaves open is not two things in its kits where one shelf has enough.
    #[test]
    fn a_kit_gets_one_grade_where_one_shelf_has_enough() {
        let orders = || {
            vec![
                order(3, asks(&[(GRADE_5, 8)])),
                order(2, asks(&[(BOLT, 4)])),
            ]
        };
        let pulled = |lines: &[(&str, u64, &str)]| {
            let packing = pack(orders(), &[stock(lines)]).expect("packs");
            let pull = packing.pull.iter();
            let of = |pull: &Pull| (pull.bin.clone().unwrap_or_default(), pull.order, pull.take);
            pull.map(of).collect::<Vec<_>>()
        };
        let bins = |of: &[(&str, usize, u64)]| -> Vec<(String, usize, u64)> {
            let of = of.iter();
            of.map(|(bin, order, take)| ((*bin).to_owned(), *order, *take))
                .collect()
        };
        assert_eq!(
            pulled(&[(GRADE_5, 27, "A"), (GRADE_8, 12, "C"), (BOLT, 3, "D")]),
            bins(&[("A", 0, 24), ("C", 1, 8)])
        );
        // No shelf has all: as they are.
        assert_eq!(
            pulled(&[(GRADE_5, 27, "A"), (GRADE_8, 5, "C"), (BOLT, 3, "D")]),
            bins(&[("A", 0, 24), ("A", 1, 3), ("C", 1, 2), ("D", 1, 3)])
        );
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
