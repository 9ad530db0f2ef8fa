//! Bins: each tray drawn as it stands on the bench, a block of cells a bin, look-alikes marked.

use rust_xlsxwriter::{ColNum, Color, Format, FormatAlign, FormatBorder, Workbook, XlsxError};

use super::{
    Report,
    measure::lines_of,
    sheet::{MEASURED, PAGE_BREAKS, Pen},
    style::{self, Paper},
};
use crate::{
    kit::Tray,
    report::{
        bin_map::{BinMap, Face},
        wording,
    },
};

pub const NAME: &str = "Bins";

const ADDRESSES: &str =
    "In the order of the stages. A bin's address is tray, row letter, column number.";

/// Width of a bin on the sheet, in characters.
const BIN_WIDTH: f64 = 20.5;
/// Rows of the sheet that a row of bins takes, and a tray beside them.
const BIN_ROWS: u32 = 6;
const TRAY_ROWS: u32 = 3;

/// The sides of a bin are drawn; between its rows there is no line.
fn sides() -> Format {
    style::base()
        .set_border_left(FormatBorder::Medium)
        .set_border_left_color(style::INK)
        .set_border_right(FormatBorder::Medium)
        .set_border_right_color(style::INK)
        .set_align(FormatAlign::Center)
        .set_align(FormatAlign::VerticalCenter)
}

fn band(face: Option<&Face>) -> Format {
    let format = sides()
        .set_border_top(FormatBorder::Medium)
        .set_border_top_color(style::INK)
        .set_font_size(9)
        .set_shrink()
        .set_bold();
    match face {
        Some(face) => {
            let (fill, words) = style::stage_colours(face.stage);
            format.set_background_color(fill).set_font_color(words)
        }
        None => format.set_font_color(Color::Gray),
    }
}

fn size(face: &Face) -> Format {
    let points = match face.size.chars().count() {
        0..=9 => 24,
        10..=13 => 18,
        14..=20 => 13,
        _ => 10,
    };
    sides().set_bold().set_font_size(points).set_text_wrap()
}

fn small() -> Format {
    sides().set_font_size(9).set_text_wrap()
}

fn count(face: Option<&Face>) -> Format {
    let format = sides().set_font_size(12).set_shrink();
    match face {
        Some(face) if face.short => format.set_bold(),
        _ => format,
    }
}

fn mark() -> Format {
    sides().set_font_size(8).set_bold().set_shrink()
}

fn foot() -> Format {
    sides()
        .set_border_bottom(FormatBorder::Medium)
        .set_border_bottom_color(style::INK)
        .set_font_size(8)
        .set_shrink()
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let style = &report.style;
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    let trays = &report.layout.trays;
    // What stands below the trays is as wide as the widest of them, or as a common one.
    let columns = trays.iter().map(|tray| tray.columns).max().unwrap_or(6);
    // Beside the title, so that it and a tray of four rows take a page.
    let told = format!("{ADDRESSES}\n{}", wording::apart(report.layout));
    pen.tall(30.0)?.plain(NAME, &style.title)?.skip(1).wide(
        columns.saturating_sub(1).max(2) as ColNum,
        &told,
        &style.subtitle.clone().set_text_wrap(),
    )?;
    if trays.is_empty() && report.layout.beside.is_empty() {
        pen.row()?.plain("No bins are laid out.", &style.subtitle)?;
        return pen.print(None, &report.footer());
    }
    let map = BinMap::of(report.account, report.layout);
    let mut breaks = Vec::new();
    for (number, tray) in (1..).zip(trays) {
        let rows = BIN_ROWS * tray.rows + TRAY_ROWS;
        if pen.next() + rows > MEASURED || breaks.len() == PAGE_BREAKS {
            pen.row()?.plain(
                "No more trays are drawn: By stage names the bins of the others.",
                &style.line,
            )?;
            break;
        }
        if number > 1 {
            breaks.push(pen.next());
        }
        one_tray(&mut pen, report, &map, tray, number)?;
    }
    below(&mut pen, report, columns)?;
    let columns = columns as ColNum;
    pen.sheet().set_column_width(0, 4)?;
    pen.sheet().set_column_range_width(1, columns, BIN_WIDTH)?;
    if !breaks.is_empty() {
        pen.sheet().set_page_breaks(&breaks)?;
    }
    pen.print(None, &report.footer())
}

fn one_tray(
    pen: &mut Pen<'_>,
    report: &Report<'_>,
    map: &BinMap<'_>,
    tray: &Tray,
    number: u32,
) -> Result<(), XlsxError> {
    let style = &report.style;
    pen.tall(20.0)?.wide(
        tray.columns as ColNum + 1,
        &wording::tray(report.layout, number as usize),
        &style.section,
    )?;
    let edge = style::base()
        .set_bold()
        .set_font_color(style::INK)
        .set_align(FormatAlign::Center)
        .set_align(FormatAlign::VerticalCenter);
    pen.row()?.skip(1);
    for column in 1..=tray.columns {
        pen.number(u64::from(column), &edge)?;
    }
    for row in 1..=tray.rows {
        let faces: Vec<Option<Face>> = (1..=tray.columns)
            .map(|column| {
                let bin = map.at(number, row, column);
                bin.map(|bin| map.face(bin))
            })
            .collect();
        pen.tall(14.0)?.skip(1);
        for (face, column) in faces.iter().zip(1..) {
            let empty = format!("{number}-{}{column}", wording::row_letters(row));
            let words = face.as_ref().map_or(&empty, |f| &f.band);
            pen.plain(words, &band(face.as_ref()))?;
        }
        pen.tall(33.0)?.plain(&wording::row_letters(row), &edge)?;
        for face in &faces {
            match face {
                Some(face) => pen.plain(&face.size, &size(face))?,
                None => pen.plain("empty", &small().set_font_color(Color::Gray))?,
            };
        }
        pen.tall(26.0)?.skip(1);
        for face in &faces {
            pen.plain(face.as_ref().map_or("", |f| &f.kind), &small())?;
        }
        pen.tall(16.0)?.skip(1);
        for face in &faces {
            pen.plain(
                face.as_ref().map_or("", |f| &f.count),
                &count(face.as_ref()),
            )?;
        }
        pen.tall(10.0)?.skip(1);
        for face in &faces {
            pen.plain(face.as_ref().map_or("", |f| &f.mark), &mark())?;
        }
        pen.tall(10.0)?.skip(1);
        for face in &faces {
            pen.plain(face.as_ref().map_or("", |f| &f.foot), &foot())?;
        }
    }
    pen.row()?;
    Ok(())
}

/// Below the trays: look-alikes that could not be kept apart, and what stands beside the trays.
fn below(pen: &mut Pen<'_>, report: &Report<'_>, columns: u32) -> Result<(), XlsxError> {
    let layout = report.layout;
    let neighbours: Vec<String> = layout
        .neighbours
        .iter()
        .map(|pair| wording::neighbours(report.account, layout, pair))
        .collect();
    section(
        pen,
        report,
        columns,
        "Look-alikes next to one another",
        &neighbours,
    )?;
    let beside: Vec<String> = layout
        .beside
        .iter()
        .map(|beside| wording::beside(report.account, beside))
        .collect();
    section(pen, report, columns, "Beside the trays", &beside)
}

fn section(
    pen: &mut Pen<'_>,
    report: &Report<'_>,
    columns: u32,
    title: &str,
    lines: &[String],
) -> Result<(), XlsxError> {
    let style = &report.style;
    if lines.is_empty() {
        return Ok(());
    }
    let wide = columns as ColNum + 1;
    pen.tall(22.0)?.wide(wide, title, &style.section)?;
    for line in lines {
        let wrapped = lines_of(line, f64::from(columns) * BIN_WIDTH);
        pen.tall(wrapped as f64 * 13.0 + 3.0)?
            .wide(wide, line, &style.body)?;
    }
    pen.row()?;
    Ok(())
}
