//! By stage: what each stage needs and has, in build order; before it what to bring, after it what
//! must be left over.

use rust_xlsxwriter::{RowNum, Workbook, XlsxError};

use super::{
    Report,
    sheet::{Column, Pen},
    style::{self, Paper},
};
use crate::{
    report::wording,
    settle::{Account, ItemAccount, Share},
};

pub const NAME: &str = "By stage";
/// The first row of the table, from 0.
pub const FIRST: RowNum = 3;

const COLUMNS: [Column; 11] = [
    Column::words("No.", 6.0),
    Column::words("Stage", 26.0),
    Column::words("Item", 48.0),
    Column::number("Required"),
    Column::number("Covered"),
    Column::number("Substituted"),
    Column::number("From stock"),
    Column::number("Short"),
    Column::words("State", 24.0),
    Column::words("Bin", 14.0),
    Column::words("Bag", 18.0),
];

/// The rows in order: each stage's items, in the order in which the lists name them.
fn entries(account: &Account) -> Vec<(&ItemAccount, Share)> {
    let mut rows: Vec<_> = account
        .items
        .iter()
        .flat_map(|item| item.shares.iter().map(move |share| (item, *share)))
        .filter(|(_, share)| share.required > 0)
        .collect();
    rows.sort_by_key(|(_, share)| share.stage);
    rows
}

/// The row (from 0) where each stage's items begin.
pub fn stage_rows(account: &Account) -> Vec<RowNum> {
    let entries = entries(account);
    (0..account.stages.len())
        .map(|stage| {
            FIRST
                + entries
                    .iter()
                    .filter(|(_, share)| share.stage < stage)
                    .count() as u32
        })
        .collect()
}

/// How an item stands in a stage, by word and shape.
fn state(item: &ItemAccount, share: &Share) -> String {
    match (share.short, item.counted, item.shipped) {
        (0, Some(_), _) => "● covered".to_owned(),
        (0, None, Some(_)) => "● by the slip, not counted".to_owned(),
        (0, None, None) => "● covered".to_owned(),
        (short, _, _) => format!("■ short {short}"),
    }
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let (style, account) = (&report.style, report.account);
    let sheet = workbook.add_worksheet().set_name(NAME)?;
    let mut pen = Pen::on(sheet);
    pen.tall(30.0)?.plain("By stage", &style.title)?;
    pen.row().plain(
        "In build order. The pieces on hand are dealt to the earliest stage first.",
        &style.subtitle,
    )?;
    let heading = pen.headings(style, &COLUMNS)?;
    for (item, share) in entries(account) {
        let bins: Vec<String> = report
            .layout
            .bins
            .iter()
            .filter(|bin| std::ptr::eq(&account.items[bin.item], item))
            .map(wording::bin)
            .collect();
        let short = if share.short > 0 {
            &style.strong_number
        } else {
            &style.number
        };
        pen.row()
            .number(share.stage as u64 + 1, style.stage(share.stage))?
            .text(wording::stage_name(account, share.stage), &style.wrap)?
            .text(&item.text, &style.wrap)?
            .number(share.required, &style.number)?
            .number(share.covered, &style.number)?
            .number(share.substituted, &style.number)?
            .number(share.from_stock, &style.number)?
            .number(share.short, short)?
            .text(&state(item, &share), &style.wrap)?
            .text(&bins.join(", "), &style.wrap)?
            .text(&item.bags.join(", "), &style.wrap)?;
    }
    pen.end_table(heading, &COLUMNS)?;
    list(
        &mut pen,
        report,
        "To bring: not in this kit",
        &account
            .items
            .iter()
            .map(|i| (i, i.to_bring))
            .collect::<Vec<_>>(),
    )?;
    list(
        &mut pen,
        report,
        "Must be left over when the build is done",
        &account
            .items
            .iter()
            .map(|i| (i, i.sums.extra + i.sums.discarded))
            .collect::<Vec<_>>(),
    )?;
    style::print(
        pen.sheet(),
        &Paper::Landscape,
        Some(heading),
        &report.footer(),
    )
}

/// A short list below the table: items and pieces, none where there are none.
fn list(
    pen: &mut Pen<'_>,
    report: &Report<'_>,
    title: &str,
    items: &[(&ItemAccount, u64)],
) -> Result<(), XlsxError> {
    let style = &report.style;
    if items.iter().all(|(_, pieces)| *pieces == 0) {
        return Ok(());
    }
    pen.row();
    pen.tall(22.0)?.wide(4, title, &style.section)?;
    for (item, pieces) in items.iter().filter(|(_, pieces)| *pieces > 0) {
        pen.row()
            .blank(&style.cell)?
            .blank(&style.cell)?
            .text(&item.text, &style.wrap)?
            .number(*pieces, &style.number)?;
    }
    Ok(())
}
