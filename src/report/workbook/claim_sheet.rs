//! Claim: what to ask of the kit maker, to be printed and signed.

use rust_xlsxwriter::{ColNum, Workbook, XlsxError};

use super::{
    sheet::Pen,
    style::{self, Paper, Style},
};
use crate::report::claim::{COLUMNS, Cell, Page};

pub const NAME: &str = "Claim";
/// Widths of the columns, in characters.
const WIDTHS: [f64; COLUMNS.len()] = [
    5.0, 15.0, 30.0, 8.0, 10.0, 10.0, 10.0, 10.0, 34.0, 21.0, 38.0, 12.0, 12.0, 18.0,
];

pub fn write(
    workbook: &mut Workbook,
    page: &Page,
    style: &Style,
    footer: &str,
) -> Result<(), XlsxError> {
    let sheet = workbook.add_worksheet().set_name(NAME)?;
    let mut pen = Pen::on(sheet);
    pen.wrap_at(WIDTHS);
    pen.tall(30.0)?.plain(&page.title, &style.title)?;
    for (name, value) in &page.heading {
        pen.row()?
            .plain(name, &style.subtitle)?
            .skip(1)
            .plain(value, &style.line)?;
    }
    pen.row()?;
    pen.tall(20.0)?.plain(&page.summary, &style.lead)?;
    for table in &page.tables {
        pen.row()?;
        pen.tall(20.0)?.plain(&table.title, &style.section)?;
        for _ in 1..WIDTHS.len() {
            pen.blank(&style.section)?;
        }
        pen.row()?.plain(&table.note, &style.subtitle)?;
        pen.tall(30.0)?;
        let headings = table.headings();
        for (column, heading) in headings.into_iter().enumerate() {
            let number = table
                .rows
                .iter()
                .any(|row| matches!(row[column], Cell::Number(_)));
            let format = match number && column > 0 {
                true => &style.head_number,
                false => &style.head,
            };
            pen.plain(heading, format)?;
        }
        for row in &table.rows {
            pen.row()?;
            for (column, cell) in row.iter().enumerate() {
                match cell {
                    Cell::Text(text) => pen.text(text, &style.wrap)?,
                    Cell::Number(number) if column == 0 => pen.number(*number, &style.cell)?,
                    Cell::Number(number) if headings[column] == table.pieces => {
                        pen.number(*number, &style.strong_number)?
                    }
                    Cell::Number(number) => pen.number(*number, &style.number)?,
                    Cell::Blank => pen.blank(&style.cell)?,
                };
            }
        }
    }
    pen.row()?;
    for caution in &page.cautions {
        pen.row()?.plain(caution, &style.subtitle)?;
    }
    pen.row()?;
    for signature in page.signatures {
        pen.tall(28.0)?.plain(signature, &style.subtitle)?.skip(1);
        pen.blank(&style.section)?;
    }
    pen.end_row()?;
    for (column, width) in WIDTHS.iter().enumerate() {
        pen.sheet().set_column_width(column as ColNum, *width)?;
    }
    style::print(pen.sheet(), &Paper::Landscape, None, footer)
}
