//! Put back: what the shop's stock lent to the job.

use rust_xlsxwriter::{Workbook, XlsxError};

use super::{
    Report,
    sheet::{Column, Pen},
    style::Paper,
};
use crate::report::wording;

pub const NAME: &str = "Put back";

const COLUMNS: [Column; 6] = [
    Column::words("From bin", 20.0),
    Column::words("Item", 48.0),
    Column::number("Pieces"),
    Column::words("Goes to", 46.0),
    Column::words("Where it says so", 40.0),
    Column::words("Put back", 14.0),
];

/// Writes the sheet where a stock list was given.
pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let Some(lent) = &report.account.put_back else {
        return Ok(());
    };
    let style = &report.style;
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    pen.title(NAME, "Taken from the shop's stock so that the job can go on. The Claim says what the kit maker still owes.", style)?;
    let heading = pen.headings(style, &COLUMNS)?;
    for lent in lent {
        pen.row()?
            .text(&lent.bins.join(", "), &style.wrap)?
            .text(&lent.text, &style.wrap)?
            .number(lent.pieces, &style.strong_number)?
            .text(
                &wording::to_stages(report.account, &lent.stages),
                &style.wrap,
            )?
            .text(
                &wording::addresses(report.lists, &lent.evidence),
                &style.wrap,
            )?
            .blank(&style.entry_text)?;
    }
    if lent.is_empty() {
        pen.row()?
            .plain("The job needs nothing from stock.", &style.cell)?;
    }
    pen.end_table(heading, &COLUMNS)?;
    pen.print(Some(heading), &report.footer())
}
