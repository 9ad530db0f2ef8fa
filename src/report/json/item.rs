//! The items of an account.

use std::io::{self, Write};

use serde::Serialize;

use super::{
    fields::{Each, ItemFields, Shown, TableFields, number_of},
    finding::findings,
};
use crate::{
    kit::{Job, List},
    settle::{Account, ItemAccount, Share, StandIn},
};

#[derive(Serialize)]
struct ItemObject<'a, D, F, B, S, I> {
    id: &'a str,
    text: &'a str,
    #[serde(flatten)]
    item: ItemFields<'a>,
    part_number: Option<&'a str>,
    #[serde(flatten)]
    tables: TableFields,
    doubts: D,
    required: u64,
    /// `null`: no slip was given.
    shipped: Option<u64>,
    /// Good pieces; `null`: not counted.
    counted: Option<u64>,
    damaged: u64,
    covered: u64,
    substituted: u64,
    from_stock: u64,
    short: u64,
    extra: u64,
    findings: F,
    part_numbers: &'a [String],
    bags: B,
    to_bring: u64,
    stages: S,
    /// What serves in its place.
    stand_ins: I,
}

/// How an item fares in one stage.
#[derive(Serialize)]
struct ShareObject<'a, D> {
    stage: &'a str,
    required: u64,
    covered: u64,
    substituted: u64,
    from_stock: u64,
    short: u64,
    /// Of the pieces that serve, those there by a slip alone.
    by_slip: u64,
    /// Of the pieces that cover it, those that may be lacking by the other number that a line may mean.
    may_lack: u64,
    /// What it takes from other stages' bags.
    take_from: D,
}

#[derive(Serialize)]
struct DrawObject<'a> {
    bag: &'a str,
    pieces: u64,
}

/// Pieces that serve where the kit's own are lacking.
#[derive(Serialize)]
struct StandInObject<'a> {
    stage: &'a str,
    pieces: u64,
    /// The id of what serves.
    item: &'a str,
    text: &'a str,
    from_stock: bool,
    /// The rule that allows it, for a substitute.
    rule: Option<RuleObject<'a>>,
}

#[derive(Serialize)]
struct RuleObject<'a> {
    file: &'a str,
    row: u32,
    approved_by: &'a str,
    closes_claim: bool,
}

/// One item of an account.
pub fn item_object<'a>(
    job: &'a Job,
    lists: &'a [List],
    account: &'a Account,
    item: &'a ItemAccount,
) -> impl Serialize + 'a {
    ItemObject {
        id: &item.id,
        text: &item.text,
        item: ItemFields::settled(&item.item),
        part_number: number_of(&item.item, item.part_numbers.first().map(String::as_str)),
        tables: TableFields::of(Some(&item.item)),
        doubts: Each(item.doubts.iter().map(Shown)),
        required: item.sums.required,
        shipped: item.shipped,
        counted: item.counted,
        damaged: item.sums.damaged,
        covered: item.sums.covered,
        substituted: item.sums.substituted,
        from_stock: item.sums.from_stock,
        short: item.sums.short,
        extra: item.sums.extra,
        findings: findings(lists, &item.findings),
        part_numbers: &item.part_numbers,
        bags: Each(item.bags.iter().map(|bag| &**bag)),
        to_bring: item.to_bring,
        stages: Each(
            item.shares
                .iter()
                .map(|share| share_object(account, item, share)),
        ),
        stand_ins: Each(
            item.stand_ins
                .iter()
                .map(|of| stand_in_object(job, account, of)),
        ),
    }
}

fn share_object<'a>(
    account: &'a Account,
    item: &'a ItemAccount,
    share: &'a Share,
) -> impl Serialize + 'a {
    let draws = item.draws.iter().filter(|draw| draw.stage == share.stage);
    ShareObject {
        stage: &account.stages[share.stage].name,
        required: share.required,
        covered: share.covered,
        substituted: share.substituted,
        from_stock: share.from_stock,
        short: share.short,
        by_slip: share.by_slip,
        may_lack: share.may_lack,
        take_from: Each(draws.map(|draw| DrawObject {
            bag: &draw.bag,
            pieces: draw.pieces,
        })),
    }
}

fn stand_in_object<'a>(
    job: &'a Job,
    account: &'a Account,
    stand_in: &'a StandIn,
) -> StandInObject<'a> {
    let rule = stand_in.rule.and_then(|rule| job.substitutes.get(rule));
    StandInObject {
        stage: &account.stages[stand_in.stage].name,
        pieces: stand_in.pieces,
        item: &stand_in.id,
        text: &stand_in.text,
        from_stock: stand_in.item.is_none(),
        rule: rule.map(|rule| RuleObject {
            file: &rule.file,
            row: rule.row,
            approved_by: &rule.approved_by,
            closes_claim: rule.closes_claim,
        }),
    }
}

/// Writes some items of a settled job as one array, each as it stands in the account.
///
/// # Errors
/// What the writer reports.
pub fn items(
    job: &Job,
    lists: &[List],
    account: &Account,
    items: &[&ItemAccount],
    mut out: impl Write,
) -> io::Result<()> {
    let items = items
        .iter()
        .map(|item| item_object(job, lists, account, item));
    serde_json::to_writer_pretty(&mut out, &Each(items))?;
    out.write_all(b"\n")?;
    out.flush()
}
