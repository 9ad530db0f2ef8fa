//! Where the pieces are laid out.
//!
//! An item gets one bin, or as many as its pieces fill ([`fill`]); the fewest trays that hold them
//! all, in order of use, are taken; then the bins are spread so that no look-alikes ([`alike`])
//! stand side by side or one above the other ([`arrange`]).

mod alike;
mod arrange;
mod board;
mod descent;
mod fill;
mod search;

pub use alike::{Likeness, Look};

use rustc_hash::FxHashMap;

use crate::{
    hardware::{Item, Kind},
    kit::{BinPer, Tray},
    names::names,
    settle::{Account, Share},
};
use arrange::{arrange, trays};
use board::{Rack, Want};

/// One bin of the layout.
#[derive(Debug, Clone, PartialEq)]
pub struct Bin {
    /// From 1.
    pub tray: u32,
    /// From 1, from the top.
    pub row: u32,
    /// From 1, from the left.
    pub column: u32,
    /// Index into [`crate::settle::Account::stages`]: the first stage that uses the item.
    pub stage: usize,
    /// Index into [`crate::settle::Account::items`].
    pub item: usize,
    /// What lies in it where that is a substitute: index into the item's stand-ins.
    pub instead: Option<usize>,
    /// Pieces that are laid out in it.
    pub pieces: u64,
    /// Share of the bin that they fill; `None` where the bin or the piece has no known volume.
    pub volume_used: Option<f64>,
}

/// Two bins side by side or one above the other whose items are look-alikes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Neighbours {
    /// Indices into [`Layout::bins`], the first one to the left or above.
    pub bins: [usize; 2],
    pub likeness: Likeness,
}

names! {
    /// Why an item has no bin.
    pub enum NoBin {
        TooLong = "longer than a bin",
        TooLarge = "a piece does not go into a bin",
        TooMany = "too many for the trays",
        Full = "the trays are full",
    }
}

/// An item that is laid out beside the trays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Beside {
    /// As in [`Bin`].
    pub stage: usize,
    pub item: usize,
    pub instead: Option<usize>,
    pub pieces: u64,
    pub why: NoBin,
}

/// What is laid out: the item that is wanted, or a substitute for it.
#[derive(Debug, Clone, Copy)]
pub struct Piece<'a> {
    pub item: &'a Item,
    pub text: &'a str,
    pub id: &'a str,
}

impl<'a> Piece<'a> {
    fn of(account: &'a Account, item: usize, instead: Option<usize>) -> Piece<'a> {
        let wanted = &account.items[item];
        match instead.map(|at| &wanted.stand_ins[at]) {
            Some(of) => Piece {
                item: &of.piece,
                text: &of.text,
                id: &of.id,
            },
            None => Piece {
                item: &wanted.item,
                text: &wanted.text,
                id: &wanted.id,
            },
        }
    }
}

impl Bin {
    /// What lies in it.
    pub fn piece<'a>(&self, account: &'a Account) -> Piece<'a> {
        Piece::of(account, self.item, self.instead)
    }
}

impl Beside {
    pub fn piece<'a>(&self, account: &'a Account) -> Piece<'a> {
        Piece::of(account, self.item, self.instead)
    }
}

/// All the bins, in order of tray, row and column.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Layout {
    /// The kind of each tray, the first tray first.
    pub trays: Vec<Tray>,
    /// A bin holds what its stage uses, not what all do.
    pub per_stage: bool,
    pub bins: Vec<Bin>,
    /// Look-alikes that no layout that was found keeps apart.
    pub neighbours: Vec<Neighbours>,
    pub beside: Vec<Beside>,
}

impl Layout {
    /// The look-alikes that a bin (by index) stands next to.
    pub fn next_to(&self, bin: usize) -> impl Iterator<Item = (&Bin, Likeness)> {
        // Pairs stand in order of their first bin, which is of the same tray.
        let tray = self.bins[bin].tray;
        let first = self.bins.partition_point(|bin| bin.tray < tray);
        let from = self.neighbours.partition_point(|pair| pair.bins[0] < first);
        let pairs = self.neighbours[from..].iter();
        let pairs = pairs.take_while(move |pair| pair.bins[0] <= bin);
        pairs.filter_map(move |pair| match pair.bins {
            [a, b] if a == bin => Some((&self.bins[b], pair.likeness)),
            [a, b] if b == bin => Some((&self.bins[a], pair.likeness)),
            _ => None,
        })
    }
}

/// Lays the required hardware out in trays of some kinds. A bin holds what there is of its item, from the
/// kit or from stock, for all stages or for one; where there was nothing to settle against, what is
/// required. A substitute for it lies in a bin of its own. Parts that are not hardware, and items of which nothing is there, get no bin. An item goes
/// into the kind of tray in which it takes the fewest bins, and of these into the smallest; trays of one
/// kind stand together.
pub fn lay_out(kinds: &[Tray], per: BinPer, account: &Account) -> Layout {
    let mut racks: Vec<Filling<'_>> = kinds.iter().map(Filling::of).collect();
    let mut beside = Vec::new();
    for pile in piles(per, account) {
        let item = Piece::of(account, pile.item, pile.instead).item;
        let mut choices: Vec<(usize, Vec<fill::Filled>)> = Vec::new();
        let mut why = NoBin::Full;
        for (at, rack) in racks.iter().enumerate() {
            match fill::fill(rack.tray, item, pile.pieces) {
                Ok(filled) => choices.push((at, filled)),
                Err(reason) => why = reason,
            }
        }
        if !choices.is_empty() {
            why = NoBin::Full;
        }
        let look = Look::of(item);
        let volume = |at: usize| kinds[at].bin_volume_ml.unwrap_or(u32::MAX);
        choices.sort_by_key(|(at, filled)| (filled.len(), volume(*at), *at));
        let placed = choices
            .into_iter()
            .any(|(at, filled)| racks[at].take(&pile, look.as_ref(), &filled));
        if !placed {
            beside.push(Beside {
                stage: pile.stage,
                item: pile.item,
                instead: pile.instead,
                pieces: pile.pieces,
                why,
            });
        }
    }
    let mut layout = Layout {
        per_stage: per == BinPer::Stage,
        ..Layout::default()
    };
    let mut wants: Vec<Want> = Vec::new();
    for rack in racks {
        rack.stand(&mut layout, &mut wants);
    }
    layout.neighbours = neighbours(&layout.bins, &wants);
    beside.sort_unstable_by_key(|b| (b.stage, b.item, b.instead));
    layout.beside = beside;
    layout
}

/// Pieces that want a bin of their own.
struct Pile {
    stage: usize,
    item: usize,
    instead: Option<usize>,
    /// The same number for the same pieces.
    piece: usize,
    pieces: u64,
}

/// What is to be laid out, in the order of the stages.
fn piles(per: BinPer, account: &Account) -> Vec<Pile> {
    let mut piles = Vec::new();
    for (item, account) in account.items.iter().enumerate() {
        if account.item.kind == Some(Kind::Part) {
            continue;
        }
        let unsettled = account.shipped.is_none() && account.counted.is_none() && !account.known;
        // What a stage gives back lies in no bin before.
        let mut brought = (account.sums.pool).saturating_sub(account.sums.used_as_substitute);
        let mut push = |stage, pieces| {
            if pieces > 0 {
                piles.push(Pile {
                    stage,
                    item,
                    instead: None,
                    piece: item,
                    pieces,
                });
            }
        };
        // What is built in needs no bin.
        let laid = account.shares.iter().map(|share| {
            let own = share.covered.min(brought);
            brought -= own;
            let pieces = match unsettled {
                true => share.required,
                false => own + share.from_stock,
            };
            (share, pieces)
        });
        let laid: Vec<(&Share, u64)> = laid.collect();
        let open = laid.iter().filter(|(share, _)| !share.built);
        let mut open = open
            .map(|(share, pieces)| (share.stage, *pieces))
            .peekable();
        match per {
            BinPer::Item => {
                let first = open.peek().map_or(0, |(stage, _)| *stage);
                push(first, open.map(|(_, pieces)| pieces).sum());
            }
            BinPer::Stage => open.for_each(|(stage, pieces)| push(stage, pieces)),
        }
    }
    piles.extend(substitutes(per, account));
    piles.sort_by_key(|pile| (pile.stage, pile.item, pile.instead));
    piles
}

/// The substitutes that serve for each item. The shop's own pieces of the item itself lie with the
/// kit's.
fn substitutes(per: BinPer, account: &Account) -> Vec<Pile> {
    let mut piles: Vec<Pile> = Vec::new();
    let mut strangers: FxHashMap<&str, usize> = FxHashMap::default();
    for (item, wanted) in account.items.iter().enumerate() {
        let of_item = piles.len();
        for (at, of) in wanted.stand_ins.iter().enumerate() {
            if of.rule.is_none() || of.piece.kind == Some(Kind::Part) {
                continue;
            }
            let next = account.items.len() + strangers.len();
            let piece = match of.item {
                Some(item) => item,
                None => *strangers.entry(&of.id).or_insert(next),
            };
            let same = piles[of_item..].iter_mut().find(|pile| {
                pile.piece == piece && (per == BinPer::Item || pile.stage == of.stage)
            });
            match same {
                Some(pile) => pile.pieces += of.pieces,
                None => piles.push(Pile {
                    stage: of.stage,
                    item,
                    instead: Some(at),
                    piece,
                    pieces: of.pieces,
                }),
            }
        }
    }
    piles
}

/// Where a bin comes in its stage.
fn in_stage(want: &Want) -> (usize, u64, usize) {
    (want.stage, want.grams / 1000, want.piece)
}

/// The trays of one kind, being filled.
struct Filling<'t> {
    tray: &'t Tray,
    rack: Rack,
    bins: Vec<(Want, Laid)>,
}

/// What is laid into a bin.
#[derive(Clone, Copy)]
struct Laid {
    item: usize,
    instead: Option<usize>,
    filled: fill::Filled,
}

impl<'t> Filling<'t> {
    fn of(tray: &'t Tray) -> Filling<'t> {
        Filling {
            tray,
            rack: Rack {
                rows: tray.rows.max(1) as usize,
                columns: tray.columns.max(1) as usize,
                limit: tray.weight_limit_kg.map(|kg| u64::from(kg) * 1000),
            },
            bins: Vec::new(),
        }
    }

    /// Takes a pile, if there is room for all of it.
    fn take(&mut self, pile: &Pile, look: Option<&Look>, filled: &[fill::Filled]) -> bool {
        let before = self.bins.len();
        self.bins.extend(filled.iter().map(|filled| {
            let want = Want {
                stage: pile.stage,
                piece: pile.piece,
                look: look.cloned(),
                grams: filled.grams,
            };
            let laid = Laid {
                item: pile.item,
                instead: pile.instead,
                filled: *filled,
            };
            (want, laid)
        }));
        let fits = self.tray.count.is_none_or(|count| {
            let count = count as usize;
            self.bins.len() <= count * self.rack.rows * self.rack.columns
                && (self.rack.limit.is_none() || trays(self.rack, &self.in_order()) <= count)
        });
        if !fits {
            self.bins.truncate(before);
        }
        fits
    }

    /// The bins, heavy ones, to the kilogram, last in their stage: they come to stand in the lower rows.
    fn in_order(&self) -> Vec<Want> {
        let mut wants: Vec<Want> = self.bins.iter().map(|(want, _)| want.clone()).collect();
        wants.sort_by_key(in_stage);
        wants
    }

    /// Arranges the bins in trays of their own, behind those of the layout.
    fn stand(mut self, layout: &mut Layout, standing: &mut Vec<Want>) {
        self.bins.sort_by_cached_key(|(want, _)| in_stage(want));
        let (wants, laid): (Vec<Want>, Vec<Laid>) = self.bins.into_iter().unzip();
        let (places, count) = arrange(self.rack, &wants);
        let mut order: Vec<usize> = (0..wants.len()).collect();
        order.sort_unstable_by_key(|&bin| places[bin]);
        let in_tray = self.rack.rows * self.rack.columns;
        let before = layout.trays.len();
        for bin in order {
            let within = places[bin] % in_tray;
            layout.bins.push(Bin {
                tray: (before + places[bin] / in_tray) as u32 + 1,
                row: (within / self.rack.columns) as u32 + 1,
                column: (within % self.rack.columns) as u32 + 1,
                stage: wants[bin].stage,
                item: laid[bin].item,
                instead: laid[bin].instead,
                pieces: laid[bin].filled.pieces,
                volume_used: laid[bin].filled.volume_used,
            });
            standing.push(wants[bin].clone());
        }
        layout
            .trays
            .extend(std::iter::repeat_n(self.tray.clone(), count));
    }
}

/// The pairs of look-alikes that stand next to one another, by the first bin. `wants` stand beside the
/// bins.
fn neighbours(bins: &[Bin], wants: &[Want]) -> Vec<Neighbours> {
    let place = |bin: &Bin| (bin.tray, bin.row, bin.column);
    let at = |tray, row, column| bins.binary_search_by_key(&(tray, row, column), place).ok();
    let mut pairs = Vec::new();
    for (first, bin) in bins.iter().enumerate() {
        for second in [
            at(bin.tray, bin.row, bin.column + 1),
            at(bin.tray, bin.row + 1, bin.column),
        ] {
            if let Some(second) = second
                && wants[second].piece != wants[first].piece
                && let (Some(a), Some(b)) = (&wants[first].look, &wants[second].look)
                && let Some(likeness) = a.likeness(b)
            {
                pairs.push(Neighbours {
                    bins: [first, second],
                    likeness,
                });
            }
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        kit::Job,
        settle::{
            sample::{ListOf, stage},
            settle,
        },
    };

    #[test]
    fn one_bin_an_item_in_stage_order() {
        let lists = [
            ListOf::required()
                .line("part TB-1 shoe", 2, &stage("one"))
                .line("bolt hex 1/2 3", 4, &stage("two"))
                .line("nut hex 1/2", 4, &stage("one"))
                .line("washer uss 1/2", 4, &stage("one"))
                .line("nut hex 1/2", 4, &stage("two"))
                .list(),
            ListOf::shipped()
                .line("bolt hex 1/2 3", 3, &stage(""))
                .line("nut hex 1/2", 9, &stage(""))
                .list(),
        ];
        let job = Job {
            stages: vec!["one".to_owned(), "two".to_owned()],
            ..Job::default()
        };
        let account = settle(&job, &lists).expect("a sound job");
        let tray = [Tray::of(2, 1)];
        let places = |account: &Account, per: BinPer| {
            let layout = lay_out(&tray, per, account);
            let bins = layout.bins.into_iter();
            bins.map(|b| {
                (
                    b.tray,
                    b.row,
                    b.column,
                    b.stage,
                    account.items[b.item].text.clone(),
                    b.pieces,
                )
            })
            .collect::<Vec<_>>()
        };
        // No bin for the shoes, which are no hardware, nor for the washers, of which there are none.
        let (nut, bolt) = (
            "1/2-13 hex nut".to_owned(),
            "1/2-13 x 3 hex bolt".to_owned(),
        );
        assert_eq!(
            places(&account, BinPer::Item),
            [(1, 1, 1, 0, nut.clone(), 8), (1, 2, 1, 1, bolt.clone(), 3)]
        );
        let unsettled = settle(&job, &lists[..1]).expect("a sound job");
        assert_eq!(
            places(&unsettled, BinPer::Item),
            [
                (1, 1, 1, 0, nut, 8),
                (1, 2, 1, 0, "1/2 USS flat washer".to_owned(), 4),
                (2, 1, 1, 1, bolt, 4)
            ]
        );
        // What is built in needs no bin: of the nuts, those of the second stage alone.
        let built = Job {
            built_through: Some("one".to_owned()),
            ..job
        };
        let account = settle(&built, &lists).expect("a sound job");
        for per in [BinPer::Item, BinPer::Stage] {
            let laid = places(&account, per).into_iter().map(|bin| (bin.3, bin.5));
            assert_eq!(laid.collect::<Vec<_>>(), [(1, 4), (1, 3)]);
        }
        assert!(account.stages[0].built && !account.stages[1].built);
    }

    /// An item that two stages use has a bin in each, with what the stage gets of it.
    #[test]
    fn a_bin_a_stage() {
        let lists = [ListOf::required()
            .line("nut hex 1/2", 4, &stage("one"))
            .line("nut hex 1/2", 6, &stage("two"))
            .list()];
        let account = settle(&Job::default(), &lists).expect("a sound job");
        let of = |per| {
            let layout = lay_out(&[Tray::of(2, 2)], per, &account);
            let bins = layout.bins.iter().map(|b| (b.stage, b.pieces));
            (bins.collect::<Vec<_>>(), layout.neighbours.len())
        };
        assert_eq!(of(BinPer::Item), (vec![(0, 10)], 0));
        // Bins of one item side by side are no look-alikes.
        assert_eq!(of(BinPer::Stage), (vec![(0, 4), (1, 6)], 0));
    }

    /// A bin stands next to those that a pair names with it, in whichever tray.
    #[test]
    fn look_alikes_next_to_a_bin() {
        let lengths = (192..222).map(|part| format!("bolt hex 1/2 {part}/64"));
        let list = lengths.fold(ListOf::required(), |list, bolt| {
            list.line(&bolt, 4, &stage("one"))
        });
        let account = settle(&Job::default(), &[list.list()]).expect("a sound job");
        let layout = lay_out(&[Tray::of(2, 3)], BinPer::Item, &account);
        assert_eq!((layout.bins.len(), layout.trays.len()), (30, 5));
        let mut pairs = 0;
        for bin in 0..layout.bins.len() {
            let place = |other: usize| {
                let bin = &layout.bins[other];
                (bin.tray, bin.row, bin.column)
            };
            let expected = layout.neighbours.iter().filter_map(|pair| match pair.bins {
                [a, b] if a == bin => Some(place(b)),
                [a, b] if b == bin => Some(place(a)),
                _ => None,
            });
            let expected: Vec<_> = expected.collect();
            let next_to = layout.next_to(bin);
            let found: Vec<_> = next_to.map(|(o, _)| (o.tray, o.row, o.column)).collect();
            assert_eq!(found, expected);
            pairs += found.len();
        }
        // Seven pairs a tray of six.
        assert_eq!(pairs, 2 * 7 * 5);
    }

    /// What serves in an item's place is never mixed with it.
    #[test]
    fn a_substitute_has_a_bin_of_its_own() {
        let rules = r#"
            [[substitutes]]
            for = "1/2 x 3 hex bolt"
            longer_by = "1/2"
            approved_by = "Ash"
        "#;
        let job = Job::parse(rules, "job.toml".as_ref()).expect("a job file");
        let lists = [
            ListOf::required()
                .line("bolt hex 1/2 3", 8, &stage("one"))
                .line("bolt hex 1/2 3", 2, &stage("two"))
                .list(),
            ListOf::counted()
                .line("bolt hex 1/2 3", 2, &stage(""))
                .line("bolt hex 1/2 3-1/2", 11, &stage(""))
                .list(),
        ];
        let account = settle(&job, &lists).expect("a sound job");
        let of = |per| {
            let layout = lay_out(&[Tray::of(1, 4)], per, &account);
            let bins = layout.bins.iter().map(|bin| {
                let text = bin.piece(&account).text;
                (bin.stage, bin.item, bin.instead.is_some(), text, bin.pieces)
            });
            let mut bins: Vec<_> = bins.collect();
            bins.sort_unstable();
            bins
        };
        // The two are look-alikes.
        let close = lay_out(&[Tray::of(1, 2)], BinPer::Item, &account);
        assert_eq!(close.neighbours.len(), 1);
        let (own, longer) = ("1/2-13 x 3 hex bolt", "1/2-13 x 3-1/2 hex bolt");
        assert_eq!(
            of(BinPer::Item),
            [(0, 0, false, own, 2), (0, 0, true, longer, 8)]
        );
        assert_eq!(
            of(BinPer::Stage),
            [
                (0, 0, false, own, 2),
                (0, 0, true, longer, 6),
                (1, 0, true, longer, 2)
            ]
        );
    }

    /// Long bolts go where they fit, small pieces into small bins; what finds no room stands beside.
    #[test]
    fn several_kinds_of_tray() {
        let lists = [ListOf::required()
            .line("nut hex 1/2", 20, &stage("one"))
            .line("bolt hex 1/2 8", 10, &stage("one"))
            .line("bolt hex 1/2 3", 10, &stage("two"))
            .line("washer uss 1/2", 20, &stage("two"))
            .list()];
        let account = settle(&Job::default(), &lists).expect("a sound job");
        let kind = |rows, columns, volume, length, count| Tray {
            bin_volume_ml: Some(volume),
            bin_length_mm: Some(length),
            count: Some(count),
            ..Tray::of(rows, columns)
        };
        // Two bins of a litre that take 100 mm, and one of three litres that takes 250 mm.
        let kinds = [kind(1, 2, 1000, 100, 1), kind(1, 1, 3000, 250, 1)];
        let layout = lay_out(&kinds, BinPer::Item, &account);
        let text = |item: usize| account.items[item].text.clone();
        let bins: Vec<_> = layout
            .bins
            .iter()
            .map(|b| (b.tray, b.column, text(b.item)))
            .collect();
        assert_eq!(
            bins,
            [
                (1, 1, "1/2-13 hex nut".to_owned()),
                (1, 2, "1/2-13 x 3 hex bolt".to_owned()),
                (2, 1, "1/2-13 x 8 hex bolt".to_owned()),
            ]
        );
        assert_eq!(layout.trays, kinds);
        let beside: Vec<_> = layout
            .beside
            .iter()
            .map(|b| (text(b.item), b.why))
            .collect();
        assert_eq!(beside, [("1/2 USS flat washer".to_owned(), NoBin::Full)]);
        // With more of the first kind there is room.
        let more = [kind(1, 2, 1000, 100, 2), kinds[1].clone()];
        let layout = lay_out(&more, BinPer::Item, &account);
        assert_eq!((layout.trays.len(), layout.beside.len()), (3, 0));
    }
}
