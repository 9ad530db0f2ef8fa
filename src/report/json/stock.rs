//! What the shop lent, what is to be bought, and what is left.

use serde::Serialize;

use super::{fields::Each, finding::addresses};
use crate::{
    hardware::{Grade, grade::Finish},
    kit::List,
    settle::{Account, LeftOver, PutBack},
};

/// What the shop lent, to be put back.
#[derive(Serialize)]
struct PutBackObject<'a, L> {
    item: &'a str,
    text: &'a str,
    pieces: u64,
    bins: &'a [String],
    stages: Vec<PiecesObject<'a>>,
    lines: L,
}

#[derive(Serialize)]
struct PiecesObject<'a> {
    stage: &'a str,
    pieces: u64,
}

/// What is left when the build is done.
#[derive(Serialize)]
struct LeftOverObject<'a, L> {
    item: &'a str,
    text: &'a str,
    expected: u64,
    /// `null`: nobody counted.
    found: Option<u64>,
    /// Stages of whose joints some could be without one.
    stages: Vec<&'a str>,
    counted_before: bool,
    lines: L,
}

/// What is still lacking when the stock is used up.
#[derive(Serialize)]
pub struct BuyObject<'a> {
    item: &'a str,
    text: &'a str,
    grade: Option<Grade>,
    finish: Option<Finish>,
    short: u64,
    spares: u64,
    /// Pieces in one pack, and how many packs; `null` where that is not known.
    pack_size: Option<u64>,
    packs: Option<u64>,
}

pub fn put_back<'a>(
    lists: &'a [List],
    account: &'a Account,
    put_back: &'a [PutBack],
) -> impl Serialize + 'a {
    Each(put_back.iter().map(|lent| {
        PutBackObject {
            item: &lent.id,
            text: &lent.text,
            pieces: lent.pieces,
            bins: &lent.bins,
            stages: lent
                .stages
                .iter()
                .map(|(stage, pieces)| PiecesObject {
                    stage: &account.stages[*stage].name,
                    pieces: *pieces,
                })
                .collect(),
            lines: addresses(lists, &lent.evidence),
        }
    }))
}

pub fn left_over<'a>(
    lists: &'a [List],
    account: &'a Account,
    left_over: &'a [LeftOver],
) -> impl Serialize + 'a {
    Each(left_over.iter().map(|of| {
        LeftOverObject {
            item: &of.id,
            text: &of.text,
            expected: of.expected,
            found: of.found,
            stages: of
                .stages
                .iter()
                .map(|stage| account.stages[*stage].name.as_str())
                .collect(),
            counted_before: of.counted_before,
            lines: addresses(lists, &of.evidence),
        }
    }))
}

pub fn to_buy(account: &Account) -> Vec<BuyObject<'_>> {
    account
        .to_buy
        .iter()
        .map(|buy| {
            let item = &account.items[buy.item];
            BuyObject {
                item: &item.id,
                text: &item.text,
                grade: item.item.grade,
                finish: item.item.finish,
                short: buy.short,
                spares: buy.spares,
                pack_size: buy.pack,
                packs: buy.packs(),
            }
        })
        .collect()
}
