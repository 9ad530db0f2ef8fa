//! Bins: each tray drawn as it stands on the bench, a block of cells a bin.

use std::collections::HashMap;

use rust_xlsxwriter::{ColNum, Color, Format, FormatAlign, FormatBorder, Workbook, XlsxError};

use super::{
    Report,
    sheet::Pen,
    style::{self, Paper},
};
use crate::{
    bins::{Bin, Tray},
    hardware::Item,
    report::wording,
};

pub const NAME: &str = "Bins";

/// What a bin shows: the band, the size, the kind, the count.
struct Face {
    band: String,
    size: String,
    kind: String,
    count: String,
    /// Later stages that draw from the bin; empty where there are none.
    later: String,
    stage: usize,
    short: bool,
}

/// What is set large and what small: the size and the name, or a part's number and description.
fn large_and_small(item: &Item, text: &str) -> (String, String) {
    let size = item.size();
    let number = item.part.as_ref().and_then(|p| p.number.as_deref());
    let description = item.part.as_ref().and_then(|p| p.description.as_deref());
    match (size.as_str(), number, description) {
        ("", Some(number), description) => {
            (number.to_owned(), description.unwrap_or("").to_owned())
        }
        ("", None, _) => (text.to_owned(), String::new()),
        (size, ..) => {
            let name = text.strip_prefix(size).unwrap_or(text);
            (size.to_owned(), name.trim().to_owned())
        }
    }
}

fn face(report: &Report<'_>, bin: &Bin) -> Face {
    let item = &report.account.items[bin.item];
    let (size, kind) = large_and_small(&item.item, &item.text);
    let label = wording::bin(bin);
    let later: Vec<String> = item
        .shares
        .iter()
        .filter(|share| share.required > 0 && share.stage != bin.stage)
        .map(|share| (share.stage + 1).to_string())
        .collect();
    let short = item.sums.short;
    let count = match short {
        0 => wording::count(bin.pieces, "piece"),
        _ => format!("{} (short {short})", wording::count(bin.pieces, "piece")),
    };
    Face {
        band: format!(
            "{label}   {} {}",
            bin.stage + 1,
            wording::stage_name(report.account, bin.stage)
        ),
        size,
        kind,
        count,
        later: match later.as_slice() {
            [] => String::new(),
            [one] => format!("also stage {one}"),
            [..] => format!("also stages {}", later.join(", ")),
        },
        stage: bin.stage,
        short: short > 0,
    }
}

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
    let format = sides().set_font_size(12);
    match face {
        Some(face) if face.short => format.set_bold(),
        _ => format,
    }
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
    let sheet = workbook.add_worksheet().set_name(NAME)?;
    let mut pen = Pen::on(sheet);
    pen.tall(30.0)?.plain("Bins", &style.title)?;
    pen.row()?.plain(
        "One bin an item, in the order of the stages. A bin's address is tray, row letter, column number.",
        &style.subtitle,
    )?;
    let Some(tray) = &report.layout.tray else {
        pen.row()?.plain("No bins are laid out.", &style.subtitle)?;
        return style::print(pen.sheet(), &Paper::Landscape, None, &report.footer());
    };
    let bins: HashMap<(u32, u32, u32), &Bin> = report
        .layout
        .bins
        .iter()
        .map(|bin| ((bin.tray, bin.row, bin.column), bin))
        .collect();
    let mut breaks = Vec::new();
    for number in 1..=report.layout.trays {
        if number > 1 {
            breaks.push(pen.next());
        }
        one_tray(&mut pen, report, tray, number, &bins)?;
    }
    let columns = tray.columns as ColNum;
    pen.sheet().set_column_width(0, 4)?;
    pen.sheet().set_column_range_width(1, columns, 24)?;
    if !breaks.is_empty() {
        pen.sheet().set_page_breaks(&breaks)?;
    }
    style::print(pen.sheet(), &Paper::Landscape, None, &report.footer())
}

fn one_tray(
    pen: &mut Pen<'_>,
    report: &Report<'_>,
    tray: &Tray,
    number: u32,
    bins: &HashMap<(u32, u32, u32), &Bin>,
) -> Result<(), XlsxError> {
    let style = &report.style;
    pen.tall(26.0)?.wide(
        tray.columns as ColNum + 1,
        &format!("Tray {number} of {}", report.layout.trays),
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
                bins.get(&(number, row, column))
                    .map(|bin| face(report, bin))
            })
            .collect();
        pen.tall(16.0)?.skip(1);
        for (face, column) in faces.iter().zip(1..) {
            let empty = format!("{number}-{}{column}", wording::row_letters(row));
            let words = face.as_ref().map_or(&empty, |f| &f.band);
            pen.plain(words, &band(face.as_ref()))?;
        }
        pen.tall(36.0)?.plain(&wording::row_letters(row), &edge)?;
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
        pen.tall(20.0)?.skip(1);
        for face in &faces {
            pen.plain(
                face.as_ref().map_or("", |f| &f.count),
                &count(face.as_ref()),
            )?;
        }
        pen.tall(12.0)?.skip(1);
        for face in &faces {
            pen.plain(face.as_ref().map_or("", |f| &f.later), &foot())?;
        }
    }
    pen.row()?;
    Ok(())
}
