//! Claim: what to ask of the kit maker, to be printed and signed.

use rust_xlsxwriter::{ColNum, RowNum, Workbook, XlsxError};

use super::{
    sheet::Pen,
    style::{Paper, Style},
};
use crate::report::{
    claim::{
        page::Page,
        table::{Cell, PIECES, Row},
    },
    wording,
};

pub const NAME: &str = "Claim";
/// Columns of the sheet and their widths, in characters: narrow enough to be read on paper. A bag
/// stands with its item, the rows that say so with the finding. All tables are one here, under a heading
/// row that is repeated on every page: a title between them might stand alone at a page's foot.
const SHEET: [(&str, f64); 10] = [
    ("No.", 5.0),
    ("Why", 12.0),
    ("Item", 25.0),
    ("Required", 9.0),
    ("On the slip", 8.5),
    ("By count", 8.5),
    (PIECES, 8.0),
    ("Finding, and where it says so", 37.0),
    ("What it stops", 11.5),
    ("Photo, remark", 10.0),
];
/// Height in points of the row that parts what is claimed for one reason from the next.
const GAP: f64 = 6.0;

/// The cells of a row of the page as the sheet shows them.
fn cells(row: &Row) -> [Cell; SHEET.len()] {
    let [
        number,
        why,
        item,
        bag,
        required,
        slip,
        count,
        pieces,
        finding,
        stops,
        says_so,
        counted_by,
        photo,
        remark,
    ] = row;
    let words = |parts: &[(&str, &Cell)]| {
        let told: Vec<String> = parts
            .iter()
            .filter_map(|(lead, cell)| match cell {
                Cell::Text(text) if !text.is_empty() => Some(format!("{lead}{text}")),
                _ => None,
            })
            .collect();
        Cell::Text(told.join("\n"))
    };
    let in_bag = match bag {
        Cell::Text(names) if !names.is_empty() => Cell::Text(wording::bags("Bag", names)),
        _ => Cell::Text(String::new()),
    };
    [
        number.clone(),
        why.clone(),
        words(&[("", item), ("", &in_bag)]),
        required.clone(),
        slip.clone(),
        count.clone(),
        pieces.clone(),
        words(&[("", finding), ("", says_so), ("Counted by ", counted_by)]),
        stops.clone(),
        words(&[("", photo), ("", remark)]),
    ]
}

/// The row of headings, which every page repeats.
fn headings(pen: &mut Pen<'_>, style: &Style) -> Result<RowNum, XlsxError> {
    pen.row()?;
    pen.tall(30.0)?;
    for (name, _) in SHEET {
        let format = match name {
            PIECES | "Required" | "On the slip" | "By count" => &style.head_number,
            _ => &style.head,
        };
        pen.plain(name, format)?;
    }
    Ok(pen.at())
}

pub fn write(
    workbook: &mut Workbook,
    page: &Page,
    style: &Style,
    footer: &str,
) -> Result<(), XlsxError> {
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    pen.wrap_at(SHEET.map(|(_, width)| width));
    pen.tall(30.0)?.plain(&page.title, &style.title)?;
    for (name, value) in &page.heading {
        pen.row()?
            .plain(name, &style.subtitle)?
            .skip(1)
            .plain(value, &style.line)?;
    }
    pen.row()?;
    pen.leads(&page.summary, style)?;
    for table in &page.tables {
        pen.says(&table.told(), &style.subtitle)?;
    }
    let heading = match page.tables.is_empty() {
        true => None,
        false => Some(headings(&mut pen, style)?),
    };
    for table in &page.tables {
        pen.tall(GAP)?;
        for row in &table.rows {
            pen.row()?;
            for (cell, (name, _)) in cells(row).iter().zip(SHEET) {
                match cell {
                    Cell::Text(text) => pen.text(text, &style.wrap)?,
                    Cell::Number(number) => pen.number(
                        *number,
                        match name {
                            "No." => &style.cell,
                            PIECES => &style.strong_number,
                            _ => &style.number,
                        },
                    )?,
                    Cell::Blank => pen.blank(&style.cell)?,
                };
            }
        }
    }
    pen.row()?;
    for caution in &page.cautions {
        pen.says(caution, &style.subtitle)?;
    }
    pen.row()?;
    for [who, signed] in page.signatures {
        pen.tall(28.0)?.plain(who, &style.subtitle)?.skip(1);
        pen.blank(&style.section)?
            .skip(1)
            .plain(signed, &style.subtitle)?
            .skip(2)
            .blank(&style.section)?;
    }
    pen.end_row()?;
    for (column, (_, width)) in SHEET.iter().enumerate() {
        pen.sheet().set_column_width(column as ColNum, *width)?;
    }
    pen.print(heading, footer)
}
