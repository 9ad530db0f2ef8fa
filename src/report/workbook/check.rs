//! Check these lines: every line that a person should look at, with the reason.

use rust_xlsxwriter::{Workbook, XlsxError};

use super::{
    Report,
    sheet::{Column, Pen, SHEET_ROWS},
    style::Paper,
};
use crate::{
    kit::{Line, LineStatus, List},
    report::wording,
};

pub const NAME: &str = "Check these lines";

const COLUMNS: [Column; 8] = [
    Column::words("State", 10.0),
    Column::words("File", 22.0),
    Column::words("Sheet", 16.0),
    Column::number("Row"),
    Column::words("As written", 46.0),
    Column::words("Reads as", 36.0),
    Column::number("Pieces"),
    Column::words("Why", 44.0),
];

/// Lines aside first, then lines to check, each in the order of the lists.
pub fn entries(lists: &[List]) -> impl Iterator<Item = (&List, &Line, LineStatus)> {
    [LineStatus::Aside, LineStatus::Check]
        .into_iter()
        .flat_map(move |wanted| {
            lists.iter().flat_map(move |list| {
                list.lines
                    .iter()
                    .filter(move |line| list.status_of(line) == wanted)
                    .map(move |line| (list, line, wanted))
            })
        })
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let style = &report.style;
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    pen.title(NAME, "aside: not understood, kept word for word and not summed. check: understood, with a doubt.", style)?;
    let heading = pen.headings(style, &COLUMNS)?;
    let mut entries = entries(report.lists).peekable();
    if entries.peek().is_none() {
        pen.row()?
            .plain("Every line was read without a doubt.", &style.cell)?;
    }
    for (list, line, status) in entries.by_ref().take((SHEET_ROWS - heading - 2) as usize) {
        let reads_as = list.reading_of(line).map(|r| r.item.text());
        pen.row()?
            .text(
                status.as_str(),
                if status == LineStatus::Aside {
                    &style.strong
                } else {
                    &style.cell
                },
            )?
            .text(&list.file, &style.wrap)?
            .text(
                list.sheets[usize::from(line.sheet)]
                    .name
                    .as_deref()
                    .unwrap_or(""),
                &style.wrap,
            )?
            .number(u64::from(line.row), &style.number)?
            .text(&list.text_of(line), &style.wrap)?
            .text(reads_as.as_deref().unwrap_or(""), &style.wrap)?
            .number_or(line.quantity, "", &style.number)?
            .text(&wording::why(list, line).join("; "), &style.wrap)?;
    }
    if entries.next().is_some() {
        pen.row()?.plain(
            "The sheet is full: the rest is in Every line.",
            &style.strong,
        )?;
    }
    pen.end_table(heading, &COLUMNS)?;
    pen.print(Some(heading), &report.footer())
}
