//! To buy: what neither the kit nor the shop's stock has, by size.

use rust_xlsxwriter::{Workbook, XlsxError};

use super::{
    Report,
    sheet::{Column, Pen},
    style::Paper,
};
use crate::{hardware::Kind, report::wording};

pub const NAME: &str = "To buy";

const COLUMNS: [Column; 10] = [
    Column::words("Item", 46.0),
    Column::words("Grade", 16.0),
    Column::words("Finish", 20.0),
    Column::number("Short"),
    Column::number("For spares"),
    Column::number("Pieces to buy"),
    Column::number("Pack of"),
    Column::number("Packs"),
    Column::words("Stages that lack it", 40.0),
    Column::words("Found", 28.0),
];
const NOT_STATED: &str = "not stated";

/// Writes the sheet where a stock list was given.
pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let account = report.account;
    if account.put_back.is_none() {
        return Ok(());
    }
    let style = &report.style;
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    pen.title(NAME, "What neither the kit nor the stock has, by size. Buy the grade and finish that the list asks for; where it states none, ask the kit maker.", style)?;
    let heading = pen.headings(style, &COLUMNS)?;
    for buy in &account.to_buy {
        let item = &account.items[buy.item];
        let is_part = item.item.kind == Some(Kind::Part);
        let stated = |field: Option<&str>| match (field, is_part) {
            (Some(field), _) => field.to_owned(),
            (None, true) => String::new(),
            (None, false) => NOT_STATED.to_owned(),
        };
        let lacking: Vec<String> = item
            .shares
            .iter()
            .filter(|share| share.short > 0)
            .map(|share| format!("{} ({})", wording::stage(account, share.stage), share.short))
            .collect();
        pen.row()?
            .text(&item.text, &style.wrap)?
            .text(&stated(item.item.grade.map(|g| g.as_str())), &style.wrap)?
            .text(&stated(item.item.finish.map(|f| f.as_str())), &style.wrap)?
            .number(buy.short, &style.number)?
            .number(buy.spares, &style.number)?
            .number(buy.pieces(), &style.strong_number)?
            .number_or(buy.pack, "", &style.number)?
            .number_or(buy.packs(), "", &style.number)?
            .text(&lacking.join("; "), &style.wrap)?
            .text(&wording::found_briefly(item), &style.wrap)?;
    }
    if account.to_buy.is_empty() {
        pen.row()?.plain("Nothing is to be bought.", &style.cell)?;
    }
    pen.end_table(heading, &COLUMNS)?;
    pen.print(Some(heading), &report.footer())
}
