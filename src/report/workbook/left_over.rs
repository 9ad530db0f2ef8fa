//! Left over: what was found on the bench when the build was done, against what must be left.

use rust_xlsxwriter::{Workbook, XlsxError};

use super::{
    Report,
    sheet::{Column, Pen},
    style::Paper,
};
use crate::report::wording;

pub const NAME: &str = "Left over";

const COLUMNS: [Column; 7] = [
    Column::words("Item", 46.0),
    Column::number("Expected"),
    Column::number("Found"),
    Column::number("Too many"),
    Column::number("Too few"),
    Column::words("What that says", 60.0),
    Column::words("Where it says so", 36.0),
];

/// Writes the sheet where what is left was counted.
pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let account = report.account;
    let Some(left) = &account.left_over else {
        return Ok(());
    };
    let style = &report.style;
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    pen.title(NAME, "On the bench when the build is done, against extras, spares and pieces thrown away. Damaged pieces are not among them.", style)?;
    let heading = pen.headings(style, &COLUMNS)?;
    for of in left {
        let strong = |number| match number {
            0 => &style.number,
            _ => &style.strong_number,
        };
        pen.row()?
            .text(&of.text, &style.wrap)?
            .number(of.expected, &style.number)?
            .number_or(of.found, wording::NOT_COUNTED, &style.number)?
            .number(of.more(), strong(of.more()))?
            .number(of.fewer(), strong(of.fewer()))?
            .text(&wording::left_over(account, of), &style.wrap)?
            .text(&wording::addresses(report.lists, &of.evidence), &style.wrap)?;
    }
    if left.is_empty() {
        pen.row()?
            .plain("Nothing is left, and nothing should be.", &style.cell)?;
    }
    pen.end_table(heading, &COLUMNS)?;
    pen.print(Some(heading), &report.footer())
}
