//! Tools to bring: wrenches, sockets and keys by size, torque wrenches, and what is not in the kit.

use rust_xlsxwriter::{Workbook, XlsxError};

use super::{
    Report,
    sheet::{Column, Pen},
    style::Paper,
};
use crate::report::tools::to_bring;

pub const NAME: &str = "Tools to bring";

const COLUMNS: [Column; 5] = [
    Column::words("Tool", 26.0),
    Column::words("Size", 12.0),
    Column::number("At once"),
    Column::words("For", 50.0),
    Column::words("Look", 60.0),
];

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let style = &report.style;
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    pen.title("Tools to bring", "What turns the hardware of the lists, and what is to be brought because it is not in the kit.", style)?;
    let heading = pen.headings(style, &COLUMNS)?;
    for bring in to_bring(report.job, report.lists, report.account) {
        pen.row()?
            .text(&bring.tool, &style.wrap)?
            .text(&bring.size, &style.strong)?
            .number(bring.at_once, &style.number)?
            .text(&bring.what, &style.wrap)?
            .text(&bring.look, &style.wrap)?;
    }
    pen.end_table(heading, &COLUMNS)?;
    pen.print(Some(heading), &report.footer())
}
