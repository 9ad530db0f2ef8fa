//! Where the pieces are laid out.

use serde::Serialize;

use crate::{
    hardware::Kind,
    settle::{Account, ItemAccount},
};

/// A tray: a box of equal bins.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Tray {
    pub rows: u32,
    pub columns: u32,
}

/// One bin of the layout.
#[derive(Debug, Clone, PartialEq, Eq)]
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
}

/// All the bins, in order of tray, row and column.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Layout {
    pub tray: Option<Tray>,
    pub trays: u32,
    pub bins: Vec<Bin>,
}

/// Lays the required hardware out, one bin an item, in order of the stage that first needs it. A bin
/// holds what is covered of its item in all stages; where there was neither a slip nor a count to settle
/// against, what is required. Parts that are not hardware, and items of which nothing is there, get no
/// bin.
pub fn lay_out(tray: &Tray, account: &Account) -> Layout {
    let (rows, columns) = (tray.rows.max(1), tray.columns.max(1));
    let in_tray = u64::from(rows) * u64::from(columns);
    let unsettled = |item: &ItemAccount| item.shipped.is_none() && item.counted.is_none();
    let mut wanted: Vec<(usize, usize, u64)> = account
        .items
        .iter()
        .enumerate()
        .filter(|(_, account)| account.item.kind != Some(Kind::Part))
        .filter_map(|(item, account)| {
            let stage = account.shares.first()?.stage;
            let pieces = match unsettled(account) {
                true => account.sums.required,
                false => account.sums.covered,
            };
            (pieces > 0).then_some((stage, item, pieces))
        })
        .collect();
    wanted.sort_unstable();
    let bins: Vec<Bin> = wanted
        .into_iter()
        .zip(0u64..)
        .map(|((stage, item, pieces), at)| {
            let within = at % in_tray;
            Bin {
                tray: (at / in_tray) as u32 + 1,
                row: (within / u64::from(columns)) as u32 + 1,
                column: (within % u64::from(columns)) as u32 + 1,
                stage,
                item,
                pieces,
            }
        })
        .collect();
    Layout {
        tray: Some(tray.clone()),
        trays: bins.last().map_or(0, |bin| bin.tray),
        bins,
    }
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
        let tray = Tray {
            rows: 2,
            columns: 1,
        };
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
