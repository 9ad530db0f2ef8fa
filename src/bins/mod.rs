//! Where the pieces are laid out.
//!
//! An item gets one bin, or as many as its pieces fill ([`fill`]); the fewest trays that hold them
//! all, in order of use, are taken; then the bins are spread so that no look-alikes ([`alike`])
//! stand side by side or one above the other ([`arrange`]).

mod alike;
mod arrange;
mod fill;
mod label;

pub use alike::{Likeness, Look};
pub use label::{LabelStock, Page};

use serde::Serialize;

use crate::{
    hardware::Kind,
    names::names,
    settle::{Account, ItemAccount},
};
use arrange::{Rack, Want, arrange};

/// A tray: a box of equal bins, and what one holds, where that is known.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Tray {
    pub rows: u32,
    pub columns: u32,
    /// Millilitres that one bin holds to the brim.
    pub bin_volume_ml: Option<u32>,
    /// Longest inside measure of one bin.
    pub bin_length_mm: Option<u32>,
    /// Most that the tray may bear.
    pub weight_limit_kg: Option<u32>,
}

impl Tray {
    /// A tray of which no more is known than how many bins it has.
    pub const fn of(rows: u32, columns: u32) -> Tray {
        Tray {
            rows,
            columns,
            bin_volume_ml: None,
            bin_length_mm: None,
            weight_limit_kg: None,
        }
    }
}

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
    }
}

/// An item that is laid out beside the trays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Beside {
    /// As in [`Bin`].
    pub stage: usize,
    pub item: usize,
    pub pieces: u64,
    pub why: NoBin,
}

/// All the bins, in order of tray, row and column.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Layout {
    pub tray: Option<Tray>,
    pub trays: u32,
    pub bins: Vec<Bin>,
    /// Look-alikes that no layout that was found keeps apart.
    pub neighbours: Vec<Neighbours>,
    pub beside: Vec<Beside>,
}

impl Layout {
    /// The look-alikes that a bin (by index) stands next to.
    pub fn next_to(&self, bin: usize) -> impl Iterator<Item = (&Bin, Likeness)> {
        let pairs = self.neighbours.iter();
        pairs.filter_map(move |pair| match pair.bins {
            [a, b] if a == bin => Some((&self.bins[b], pair.likeness)),
            [a, b] if b == bin => Some((&self.bins[a], pair.likeness)),
            _ => None,
        })
    }
}

/// Lays the required hardware out. A bin holds what there is of its item for all stages, from the kit or
/// from stock; where there was nothing to settle against, what is required. Parts that are not hardware,
/// and items of which nothing is there, get no bin.
pub fn lay_out(tray: &Tray, account: &Account) -> Layout {
    let rack = Rack {
        rows: tray.rows.max(1) as usize,
        columns: tray.columns.max(1) as usize,
        limit: tray.weight_limit_kg.map(|kg| u64::from(kg) * 1000),
    };
    let unsettled =
        |item: &ItemAccount| item.shipped.is_none() && item.counted.is_none() && !item.known;
    let mut beside = Vec::new();
    let mut bins = Vec::new();
    for (index, account) in account.items.iter().enumerate() {
        let Some(share) = account.shares.first() else {
            continue;
        };
        let pieces = match unsettled(account) {
            true => account.sums.required,
            false => account.sums.covered + account.sums.from_stock,
        };
        if account.item.kind == Some(Kind::Part) || pieces == 0 {
            continue;
        }
        let (stage, item) = (share.stage, index);
        match fill::fill(tray, &account.item, pieces) {
            Ok(filled) => bins.extend(filled.into_iter().map(|f| {
                let want = Want {
                    stage,
                    item,
                    look: Look::of(&account.item),
                    grams: f.grams,
                };
                (want, f)
            })),
            Err(why) => beside.push(Beside {
                stage,
                item,
                pieces,
                why,
            }),
        }
    }
    // Heavy bins, to the kilogram, last in their stage: they come to stand in the lower rows.
    bins.sort_by_key(|(want, _)| (want.stage, want.grams / 1000, want.item));
    let (wants, filled): (Vec<Want>, Vec<fill::Filled>) = bins.into_iter().unzip();
    let (places, trays) = arrange(rack, &wants);

    let mut order: Vec<usize> = (0..wants.len()).collect();
    order.sort_unstable_by_key(|&bin| places[bin]);
    let in_tray = rack.rows * rack.columns;
    let bins: Vec<Bin> = order
        .iter()
        .map(|&bin| {
            let within = places[bin] % in_tray;
            Bin {
                tray: (places[bin] / in_tray) as u32 + 1,
                row: (within / rack.columns) as u32 + 1,
                column: (within % rack.columns) as u32 + 1,
                stage: wants[bin].stage,
                item: wants[bin].item,
                pieces: filled[bin].pieces,
                volume_used: filled[bin].volume_used,
            }
        })
        .collect();
    let looks: Vec<Option<&Look>> = order.iter().map(|&b| wants[b].look.as_ref()).collect();
    beside.sort_unstable_by_key(|b| (b.stage, b.item));
    Layout {
        tray: Some(tray.clone()),
        trays: trays as u32,
        neighbours: neighbours(&bins, &looks),
        bins,
        beside,
    }
}

/// The pairs of look-alikes that stand next to one another, by the first bin.
fn neighbours(bins: &[Bin], looks: &[Option<&Look>]) -> Vec<Neighbours> {
    let place = |bin: &Bin| (bin.tray, bin.row, bin.column);
    let at = |tray, row, column| bins.binary_search_by_key(&(tray, row, column), place).ok();
    let mut pairs = Vec::new();
    for (first, bin) in bins.iter().enumerate() {
        for second in [
            at(bin.tray, bin.row, bin.column + 1),
            at(bin.tray, bin.row + 1, bin.column),
        ] {
            if let Some(second) = second
                && bins[second].item != bin.item
                && let (Some(a), Some(b)) = (looks[first], looks[second])
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
        let tray = Tray::of(2, 1);
        let places = |account: &Account| {
            let layout = lay_out(&tray, account);
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
            places(&account),
            [(1, 1, 1, 0, nut.clone(), 8), (1, 2, 1, 1, bolt.clone(), 3)]
        );
        let unsettled = settle(&job, &lists[..1]).expect("a sound job");
        assert_eq!(
            places(&unsettled),
            [
                (1, 1, 1, 0, nut, 8),
                (1, 2, 1, 0, "1/2 USS flat washer".to_owned(), 4),
                (2, 1, 1, 1, bolt, 4)
            ]
        );
    }
}
