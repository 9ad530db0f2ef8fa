//! Shortages: what is short, stage by stage, then everything else that was found.

use std::cmp::Reverse;

use rust_xlsxwriter::{RowNum, Workbook, XlsxError};

use super::{
    Report,
    sheet::{Column, Pen},
    style::Paper,
};
use crate::{
    report::wording,
    settle::{Account, ItemAccount, Share},
};

pub const NAME: &str = "Shortages";
/// The first row of the table, from 0.
pub const FIRST: RowNum = 4;

const COLUMNS: [Column; 11] = [
    Column::words("No.", 6.0),
    Column::words("Stage", 12.0),
    Column::words("Item", 32.0),
    Column::number("Required"),
    Column::number("Short"),
    Column::number("Required"),
    Column::number("Shipped"),
    // Wide enough for "not counted".
    Column {
        least: 11.0,
        ..Column::number("By count")
    },
    Column::number("Short"),
    Column::words("Finding", 76.0),
    Column::words("Where it says so", 48.0),
];

/// A row of the sheet: an item that is short in a stage, or one about which something else was
/// found, or which is in doubt.
pub struct Entry<'a> {
    pub item: &'a ItemAccount,
    pub share: Option<Share>,
    /// Pieces short in the whole job, where that is known, and how many are at least.
    short: Option<u64>,
    at_least: u64,
}

impl<'a> Entry<'a> {
    /// A row of an item for each of its shares; one without a share where it has none of those.
    fn of(item: &'a ItemAccount, shares: Vec<Share>) -> Vec<Entry<'a>> {
        let (short, at_least) = (wording::known_short(item), item.at_least());
        let entry = |share| Entry {
            item,
            share,
            short,
            at_least,
        };
        match shares.is_empty() {
            true => vec![entry(None)],
            false => shares.into_iter().map(|share| entry(Some(share))).collect(),
        }
    }
}

/// The rows in order: shortages in stage order, the largest first, then other findings, then doubts alone.
/// Where there is nothing to settle against nothing is short.
pub fn entries(account: &Account) -> Vec<Entry<'_>> {
    if wording::nothing_seen(account) {
        return Vec::new();
    }
    let mut short: Vec<Entry<'_>> = account
        .items
        .iter()
        .filter_map(|item| {
            let lacks = |share: &&Share| share.short + share.may_lack > 0;
            let shares: Vec<Share> = item.shares.iter().filter(lacks).copied().collect();
            (!shares.is_empty()).then(|| Entry::of(item, shares))
        })
        .flatten()
        .collect();
    short.sort_by_key(|entry| {
        entry
            .share
            .map(|s| (s.stage, Reverse(s.short + s.may_lack)))
    });
    let others = account.items.iter();
    let others = others.filter(|item| item.sums.short + item.may_lack() == 0);
    let others =
        others.filter(|item| !item.findings.is_empty() || item.to_confirm().next().is_some());
    let (found, doubted): (Vec<_>, Vec<_>) = others.partition(|item| !item.findings.is_empty());
    let others = found.into_iter().chain(doubted);
    short.extend(others.flat_map(|item| Entry::of(item, Vec::new())));
    short
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let (style, account) = (&report.style, report.account);
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    pen.tall(30.0)?
        .plain("Shortages and other findings", &style.title)?;
    pen.says(&wording::shortage_told(account), &style.subtitle)?;
    pen.row()?
        .skip(3)
        .wide(2, "In this stage", &style.head_group)?
        .wide(4, "In the whole job", &style.head_group)?;
    let heading = pen.headings(style, &COLUMNS)?;
    let entries = entries(account);
    for entry in &entries {
        let Entry { item, share, .. } = entry;
        pen.row()?;
        match share {
            Some(share) => {
                pen.number(share.stage as u64 + 1, style.stage(share.stage))?
                    .text(wording::stage_name(account, share.stage), &style.wrap)?
                    .text(&item.text, &style.wrap)?
                    .number(share.required, &style.number)?
                    .number_or(
                        wording::known_short_in(item, share),
                        &wording::cannot_say(share.at_least),
                        &style.strong_number,
                    )?;
            }
            None => {
                pen.blank(&style.cell)?
                    .text("not short", &style.cell)?
                    .text(&item.text, &style.wrap)?
                    .blank(&style.cell)?
                    .blank(&style.cell)?;
            }
        }
        pen.number(item.sums.required, &style.number)?
            .number_or(item.shipped, "no slip", &style.number)?
            .number_or(item.counted, wording::NOT_COUNTED, &style.number)?
            .number_or(
                entry.short,
                &wording::cannot_say(entry.at_least),
                &style.strong_number,
            )?
            .text(&wording::found(item), &style.wrap)?
            .text(&wording::sources_of(report.lists, item), &style.wrap)?;
    }
    if entries.is_empty() {
        let text = match wording::nothing_seen(account) {
            true => wording::stop(report.job, account),
            false => "Nothing is short and nothing else was found.".to_owned(),
        };
        pen.row()?.plain(&text, &style.cell)?;
    }
    pen.end_table(heading, &COLUMNS)?;
    pen.print(Some(heading), &report.footer())
}
