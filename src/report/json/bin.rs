//! The bins.

use serde::Serialize;

use crate::{
    bins::{Layout, Likeness, NoBin},
    settle::Account,
};

#[derive(Serialize)]
pub struct BinObject<'a> {
    tray: u32,
    row: u32,
    column: u32,
    stage: &'a str,
    /// The item's id.
    item: &'a str,
    pieces: u64,
    /// Share of the bin's volume that the pieces fill; `null` where volumes are not known.
    volume_used: Option<f64>,
    text: &'a str,
    /// Look-alikes in the bins beside, above and below.
    next_to: Vec<NextTo<'a>>,
}

/// A look-alike in the next bin.
#[derive(Serialize)]
struct NextTo<'a> {
    tray: u32,
    row: u32,
    column: u32,
    item: &'a str,
    why: Likeness,
}

/// Hardware that is laid out beside the trays.
#[derive(Serialize)]
pub struct BesideObject<'a> {
    stage: &'a str,
    item: &'a str,
    pieces: u64,
    why: NoBin,
    text: &'a str,
}

pub fn bins<'a>(account: &'a Account, layout: &'a Layout) -> Vec<BinObject<'a>> {
    layout
        .bins
        .iter()
        .enumerate()
        .map(|(index, bin)| BinObject {
            tray: bin.tray,
            row: bin.row,
            column: bin.column,
            stage: &account.stages[bin.stage].name,
            item: &account.items[bin.item].id,
            pieces: bin.pieces,
            // To the thousandth: a plan, no measurement.
            volume_used: bin.volume_used.map(|v| (v * 1000.0).round() / 1000.0),
            text: &account.items[bin.item].text,
            next_to: layout
                .next_to(index)
                .map(|(other, why)| NextTo {
                    tray: other.tray,
                    row: other.row,
                    column: other.column,
                    item: &account.items[other.item].id,
                    why,
                })
                .collect(),
        })
        .collect()
}

pub fn beside<'a>(account: &'a Account, layout: &'a Layout) -> Vec<BesideObject<'a>> {
    layout
        .beside
        .iter()
        .map(|beside| BesideObject {
            stage: &account.stages[beside.stage].name,
            item: &account.items[beside.item].id,
            pieces: beside.pieces,
            why: beside.why,
            text: &account.items[beside.item].text,
        })
        .collect()
}
