//! Deliveries, and lists held against one another.

use serde::Serialize;

use crate::{kit::List, settle::Account};

/// One delivery: `open = the open of the one before - closed - not_settled + opened`.
#[derive(Serialize)]
pub struct ParcelObject<'a> {
    parcel: usize,
    /// Its slips.
    files: Vec<&'a str>,
    /// The counts made of it.
    counts: Vec<&'a str>,
    date: Option<&'a str>,
    /// On its slips.
    pieces: u64,
    closed: u64,
    opened: u64,
    /// Claimed before, and nobody knows whether they are there.
    not_settled: u64,
    /// Claimed when it had come.
    open: u64,
    items: Vec<ChangeObject<'a>>,
}

/// How a parcel changed the claim of one item.
#[derive(Serialize)]
struct ChangeObject<'a> {
    /// The item's id.
    item: &'a str,
    text: &'a str,
    before: u64,
    closed: u64,
    opened: u64,
    not_settled: u64,
    open: u64,
}

/// How a list that checks the required one agrees with it, by item and stage.
#[derive(Serialize)]
pub struct ComparedObject<'a> {
    file: &'a str,
    agree: u64,
    differ: u64,
    /// Lines that could not be compared.
    unread: u64,
}

pub fn parcels<'a>(lists: &'a [List], account: &'a Account) -> Vec<ParcelObject<'a>> {
    let files = |of: &[usize]| of.iter().map(|&at| lists[at].file.as_str()).collect();
    account
        .parcels
        .iter()
        .zip(1..)
        .map(|(parcel, number)| ParcelObject {
            parcel: number,
            files: files(&parcel.slips),
            counts: files(&parcel.counts),
            date: parcel.date.as_deref(),
            pieces: parcel.pieces,
            closed: parcel.closed,
            opened: parcel.opened,
            not_settled: parcel.not_settled,
            open: parcel.open,
            items: parcel
                .changes
                .iter()
                .map(|change| ChangeObject {
                    item: &account.items[change.item].id,
                    text: &account.items[change.item].text,
                    before: change.before,
                    closed: change.closed,
                    opened: change.opened,
                    not_settled: change.not_settled,
                    open: change.open,
                })
                .collect(),
        })
        .collect()
}

pub fn compared<'a>(lists: &'a [List], account: &Account) -> Vec<ComparedObject<'a>> {
    account
        .compared
        .iter()
        .map(|of| ComparedObject {
            file: &lists[of.list].file,
            agree: of.agree,
            differ: of.differ,
            unread: of.unread,
        })
        .collect()
}
