//! The bins.

use serde::Serialize;

use crate::{
    bins::{Layout, Likeness, NoBin, Piece},
    settle::Account,
};

#[derive(Serialize)]
pub struct BinObject<'a> {
    tray: u32,
    row: u32,
    column: u32,
    stage: &'a str,
    /// The id of what lies in it.
    item: &'a str,
    pieces: u64,
    /// Share of the bin's volume that the pieces fill; `null` where volumes are not known.
    volume_used: Option<f64>,
    text: &'a str,
    /// Look-alikes in the bins beside, above and below.
    next_to: Vec<NextTo<'a>>,
    /// For a substitute: the id of the item that is wanted.
    instead_of: Option<&'a str>,
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
    instead_of: Option<&'a str>,
}

/// A bin, by its index.
pub fn bin_object<'a>(account: &'a Account, layout: &'a Layout, index: usize) -> BinObject<'a> {
    let bin = &layout.bins[index];
    let Piece { id, text, .. } = bin.piece(account);
    let next_to = layout.next_to(index).map(|(other, why)| NextTo {
        tray: other.tray,
        row: other.row,
        column: other.column,
        item: other.piece(account).id,
        why,
    });
    BinObject {
        tray: bin.tray,
        row: bin.row,
        column: bin.column,
        stage: &account.stages[bin.stage].name,
        item: id,
        pieces: bin.pieces,
        // To the thousandth: a plan, no measurement.
        volume_used: bin.volume_used.map(|v| (v * 1000.0).round() / 1000.0),
        text,
        next_to: next_to.collect(),
        instead_of: instead_of(account, bin.item, bin.instead),
    }
}

pub fn beside<'a>(account: &'a Account, layout: &'a Layout) -> Vec<BesideObject<'a>> {
    layout
        .beside
        .iter()
        .map(|beside| BesideObject {
            stage: &account.stages[beside.stage].name,
            item: beside.piece(account).id,
            pieces: beside.pieces,
            why: beside.why,
            text: beside.piece(account).text,
            instead_of: instead_of(account, beside.item, beside.instead),
        })
        .collect()
}

fn instead_of(account: &Account, item: usize, instead: Option<usize>) -> Option<&str> {
    instead.map(|_| account.items[item].id.as_str())
}
