//! Kits packed from stock, as one JSON object.

use std::io::{self, Write};

use serde::Serialize;

use super::packs::Packs;
use crate::settle::packing::Lack;

#[derive(Serialize)]
struct PackingObject<'a> {
    wanted: u64,
    packed: u64,
    /// No sharing of this stock packs more.
    at_most: u64,
    /// `packed` is proved to be the most.
    exact: bool,
    reasons: &'a [String],
    orders: Vec<OrderObject<'a>>,
    to_order: Vec<ToOrderObject<'a>>,
    /// In walking order.
    pull: Vec<PullObject<'a>>,
}

#[derive(Serialize)]
struct OrderObject<'a> {
    job: &'a str,
    file: &'a str,
    wanted: u64,
    packed: u64,
    /// What one more kit lacks.
    next_lacks: Vec<LackObject<'a>>,
    reasons: &'a [String],
    /// Of each kit.
    contents: Vec<ContentObject<'a>>,
}

#[derive(Serialize)]
struct LackObject<'a> {
    item: &'a str,
    text: &'a str,
    pieces: u64,
}

impl LackObject<'_> {
    fn of(lack: &Lack) -> LackObject<'_> {
        LackObject {
            item: &lack.id,
            text: &lack.text,
            pieces: lack.pieces,
        }
    }
}

#[derive(Serialize)]
struct ContentObject<'a> {
    bag: Option<&'a str>,
    item: &'a str,
    text: &'a str,
    part_number: Option<&'a str>,
    pieces: u64,
}

#[derive(Serialize)]
struct ToOrderObject<'a> {
    item: &'a str,
    text: &'a str,
    short: u64,
    spares: u64,
    pieces: u64,
    pack_of: Option<u64>,
    packs: Option<u64>,
    /// Jobs that ask for it.
    orders: Vec<&'a str>,
}

#[derive(Serialize)]
struct PullObject<'a> {
    bin: Option<&'a str>,
    stock: &'a str,
    /// The job that it is for, and its place among the orders, from 0.
    job: &'a str,
    order: usize,
    item: &'a str,
    each: u64,
    kits: u64,
    take: u64,
    not_confirmed: &'a [&'static str],
    lines: Vec<AddressObject<'a>>,
}

#[derive(Serialize)]
struct AddressObject<'a> {
    file: &'a str,
    sheet: Option<&'a str>,
    rows: &'a [(u32, u32)],
}

/// Writes the answer as one JSON object.
///
/// # Errors
/// What the writer reports.
pub fn json(packs: &Packs, mut out: impl Write) -> io::Result<()> {
    let packing = packs.packing;
    let object = PackingObject {
        wanted: packing.wanted(),
        packed: packing.kits(),
        at_most: packing.at_most,
        exact: packing.exact,
        reasons: &packing.reasons,
        orders: packing
            .orders
            .iter()
            .zip(packs.orders)
            .map(|(order, (job, file))| OrderObject {
                job,
                file,
                wanted: order.wanted,
                packed: order.kits,
                next_lacks: order.lacks.iter().map(LackObject::of).collect(),
                reasons: &order.reasons,
                contents: order
                    .contents
                    .iter()
                    .map(|content| ContentObject {
                        bag: content.bag.as_deref(),
                        item: &content.id,
                        text: &content.text,
                        part_number: content.part_number.as_deref(),
                        pieces: content.pieces,
                    })
                    .collect(),
            })
            .collect(),
        to_order: packing
            .to_order
            .iter()
            .map(|of| ToOrderObject {
                item: &of.id,
                text: &of.text,
                short: of.short,
                spares: of.spares,
                pieces: of.pieces(),
                pack_of: of.pack,
                packs: of.packs(),
                orders: of.orders.iter().map(|&at| packs.order(at)).collect(),
            })
            .collect(),
        pull: packing
            .pull
            .iter()
            .map(|pull| PullObject {
                bin: pull.bin.as_deref(),
                stock: &pull.stock,
                job: packs.order(pull.order),
                order: pull.order,
                item: &pull.item,
                each: pull.each,
                kits: pull.kits,
                take: pull.take,
                not_confirmed: &pull.unconfirmed,
                lines: pull
                    .evidence
                    .iter()
                    .map(|at| AddressObject {
                        file: &packs.stock[at.list].file,
                        sheet: packs.stock[at.list].sheets[at.sheet].name.as_deref(),
                        rows: &at.rows,
                    })
                    .collect(),
            })
            .collect(),
    };
    serde_json::to_writer(&mut out, &object)?;
    writeln!(out)
}
