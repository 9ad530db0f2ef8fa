//! Labels: one for each bin and each bag, to be printed on label stock as it stands.
//!
//! Programs that open the sheet disagree on how wide a column is, by the rounding of a digit's width
//! to whole pixels: Arial 10 is 7.4 pixels wide, kept as 7. Widths are set half way between, and
//! words keep away from the sides of the label, so that they stay on it either way.
//!
//! A picture has its own size, whatever the columns are: what is drawn at true size is printed so.

use std::collections::BTreeSet;

use rust_xlsxwriter::{ColNum, Format, FormatAlign, Image, Workbook, XlsxError};
use rustc_hash::FxHashMap;

use super::{
    Report, bags,
    sheet::{MEASURED, PAGE_BREAKS, Pen},
    style::{self, Paper},
};
use crate::{
    hardware::Unit,
    kit::{LabelStock, Page},
    report::{
        bin_map::{BinMap, Face},
        outline::{Outline, Stroke},
        raster, wording,
    },
    settle::Account,
};

pub const NAME: &str = "Labels";

/// Hundredths of a label's height that are left free above the words.
const ABOVE: u32 = 3;
/// Rows of the sheet that a label takes, in hundredths of its height: band, size, drawing, kind,
/// count, mark, foot.
const PARTS: [u32; 7] = [11, 18, 39, 8, 9, 6, 6];
const SIZE: usize = 1;
const DRAWING: usize = 2;
/// Labels that have a drawing: the library keeps pictures in memory to the end.
const DRAWN: usize = 500;
/// What is said of a drawing. What does not fit its label at true size is not drawn: a nut at half its size
/// is taken for a smaller one.
const TRUE_SIZE: &str = "drawn true size: lay the piece on it";
/// Millimetres that a drawing keeps away from the sides of its column, which programs round each their
/// way: what crosses the edge is printed on a page of its own.
const CLEAR: f64 = 1.0;
/// What columns are narrowed by, in hundredths of their width.
const NARROWED: f64 = 0.97;
/// Most that words keep away from the sides, in tenths of a millimetre, and never more than a tenth
/// of the label.
const INSET: u32 = 50;

/// What stands on a label, from top to bottom.
struct Label {
    lines: [String; PARTS.len()],
    stage: Option<usize>,
    drawing: Option<Drawing>,
}

/// A piece as it is drawn on a label, at true size.
struct Drawing {
    /// Width and height in millimetres.
    size: [f64; 2],
    strokes: Vec<Stroke>,
}

/// The drawing of a piece at true size, where it fits a room in millimetres.
fn drawing(outline: &Outline, room: [f64; 2]) -> Option<Drawing> {
    let size = outline.size();
    let [wide, high] = raster::size(size);
    let fits = wide <= room[0] - 2.0 * CLEAR && high <= room[1];
    fits.then(|| Drawing {
        size,
        strokes: outline.strokes(),
    })
}

impl Label {
    /// The label of a bin, with a drawing of its piece where there is one that fits the room.
    fn of_bin(face: Face, outline: Option<Outline>, room: [f64; 2]) -> Label {
        let drawn = outline.and_then(|outline| {
            let lacks = match outline {
                Outline::Bolt(bolt) => bolt.lacks(),
                _ => "",
            };
            drawing(&outline, room).map(|drawing| (drawing, format!("{TRUE_SIZE}{lacks}")))
        });
        let (drawing, told) = drawn.unzip();
        let foot = Some(face.foot).filter(|foot| !foot.is_empty());
        let foot: Vec<String> = foot.into_iter().chain(told).collect();
        Label {
            lines: [
                face.band,
                face.size,
                String::new(),
                face.kind,
                face.count,
                face.mark,
                foot.join(" \u{b7} "),
            ],
            stage: Some(face.stage),
            drawing,
        }
    }
}

/// What a bag or box holds: how many items, and the stages that they are for.
#[derive(Default)]
struct Held {
    items: u64,
    stages: BTreeSet<usize>,
}

/// By name, as items have it.
fn held(account: &Account) -> FxHashMap<&str, Held> {
    let mut held: FxHashMap<&str, Held> = FxHashMap::default();
    for item in &account.items {
        for bag in &item.bags {
            held.entry(bag).or_default().items += 1;
        }
        for share in item.shares.iter().filter(|share| share.required > 0) {
            for bag in item.bags_for(share.stage) {
                held.entry(bag).or_default().stages.insert(share.stage);
            }
        }
    }
    held
}

/// The label of a bag or box: its name, how many items are in it, the stages that they are for. `None` where
/// all of these are built.
fn of_bag(
    report: &Report<'_>,
    held: &FxHashMap<&str, Held>,
    bag: &str,
    carton: &str,
) -> Option<Label> {
    let names = match (bag, carton) {
        ("", carton) => [carton.to_owned(), format!("Box {carton}")],
        (bag, _) => [bag.to_owned(), String::new()],
    };
    let inside: Vec<&Held> = names.iter().filter_map(|name| held.get(&**name)).collect();
    let all: BTreeSet<usize> = inside.iter().flat_map(|of| &of.stages).copied().collect();
    let is_built = |stage: &usize| report.account.stages[*stage].built;
    let stages: Vec<usize> = all
        .iter()
        .copied()
        .filter(|stage| !is_built(stage))
        .collect();
    if stages.is_empty() && !all.is_empty() {
        return None;
    }
    let count = match inside.iter().map(|of| of.items).sum() {
        0 => String::new(),
        n => crate::words::count(n, "item"),
    };
    let names = match stages.as_slice() {
        [] => String::new(),
        [one] => format!("for {}", wording::stage(report.account, *one)),
        [..] => {
            let numbers: Vec<String> = stages.iter().map(|s| (s + 1).to_string()).collect();
            format!("for stages {}", numbers.join(", "))
        }
    };
    let (kind, name, came_in) = match (bag, carton) {
        ("", carton) => ("Box", carton, String::new()),
        (bag, "") => ("Bag", bag, String::new()),
        (bag, carton) => ("Bag", bag, format!("came in {carton}")),
    };
    Some(Label {
        lines: [
            kind.to_owned(),
            name.to_owned(),
            String::new(),
            names,
            count,
            came_in,
            report.job.name.clone(),
        ],
        stage: None,
        drawing: None,
    })
}

/// The job's own stock, or the common one of the page that goes with most of the hardware.
fn stock(report: &Report<'_>) -> LabelStock {
    report.job.labels.unwrap_or_else(|| {
        let bins = report.layout.bins.iter();
        let items = bins.map(|bin| bin.piece(report.account).item);
        let (mut inch, mut metric) = (0, 0);
        for diameter in items.filter_map(|item| item.diameter) {
            match diameter.unit() {
                Unit::Inch => inch += 1,
                Unit::Millimetre => metric += 1,
            }
        }
        LabelStock::common(if inch > metric {
            Page::Letter
        } else {
            Page::A4
        })
    })
}

/// The format of a part in a row of so many points.
fn line(part: usize, height: f64) -> Format {
    let format = style::base()
        .set_align(FormatAlign::Center)
        .set_align(FormatAlign::VerticalCenter);
    let most = match part {
        0 => 11.0,
        3 => 10.0,
        4 => 13.0,
        _ => 8.0,
    };
    let format = match part {
        0 | 4 => format.set_bold(),
        _ => format,
    };
    format
        .set_font_size((height * 0.8).floor().clamp(5.0, most))
        .set_shrink()
}

/// As large as the words may be on a line of so many points.
fn large(words: &str, width: f64, height: f64) -> Format {
    // A capital or figure of the house's bold type is about 0.6 of its size wide.
    let by_width = width * 0.92 / (0.6 * words.chars().count().max(1) as f64);
    let points = by_width.min(height * 0.72).clamp(8.0, 60.0).floor();
    style::base()
        .set_align(FormatAlign::Center)
        .set_align(FormatAlign::VerticalCenter)
        .set_bold()
        .set_font_size(points)
        .set_text_wrap()
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let stock = stock(report);
    let Some((width, height)) = stock.label() else {
        return Ok(());
    };
    let inset = INSET.min(width / 10);
    let gap = points(stock.gap + 2 * inset) * NARROWED;
    let width = points(width - 2 * inset) * NARROWED;
    let height = points(height);
    let room = [width, part_of(height, DRAWING)].map(|points| points / 72.0 * 25.4);
    let map = BinMap::of(report.account, report.layout);
    let bins = report.layout.bins.iter().enumerate().map(|(index, bin)| {
        let outline = Outline::of(bin.piece(report.account).item);
        let outline = outline.filter(|_| index < DRAWN);
        Label::of_bin(map.face(index), outline, room)
    });
    let held = held(report.account);
    let bags = bags::named(report);
    let bags = bags
        .iter()
        .filter_map(|(bag, carton)| of_bag(report, &held, bag, carton));
    let columns = stock.columns as usize;
    let page = stock.rows as usize * columns;
    // Bags begin a page of their own.
    let blank = (page - report.layout.bins.len() % page) % page;
    let blanks = (0..blank).map(|_| None);
    let mut labels = bins
        .map(Some)
        .chain(blanks)
        .chain(bags.map(Some))
        .peekable();
    if labels.peek().is_none() {
        return Ok(());
    }
    let mut pen = Pen::new(workbook, NAME, Paper::Portrait)?;
    let mut breaks = Vec::new();
    let mut rows = 0;
    loop {
        let row: Vec<Option<Label>> = labels.by_ref().take(columns).collect();
        if row.iter().all(Option::is_none) && labels.peek().is_none() {
            break;
        }
        if pen.next() + PARTS.len() as u32 + 1 > MEASURED || breaks.len() == PAGE_BREAKS {
            pen.row()?.plain(
                "No more labels print in their place: the other bins are on Bins.",
                &report.style.line,
            )?;
            break;
        }
        if rows > 0 && rows % stock.rows == 0 {
            breaks.push(pen.next());
        }
        rows += 1;
        pen.tall(height * f64::from(ABOVE) / 100.0)?;
        for part in 0..PARTS.len() {
            pen.tall(part_of(height, part))?;
            for label in &row {
                match label {
                    Some(label) => one_line(&mut pen, label, part, width, height)?,
                    None => _ = pen.skip(1),
                }
                pen.skip(1);
            }
        }
    }
    for column in 0..stock.columns as ColNum {
        let sheet = pen.sheet();
        sheet.set_column_width_pixels(2 * column, pixels(width))?;
        if column + 1 < stock.columns as ColNum {
            sheet.set_column_width_pixels(2 * column + 1, pixels(gap))?;
        }
    }
    paper(&mut pen, &stock, inset, &breaks)
}

/// The height of a part of a label of so many points.
fn part_of(height: f64, part: usize) -> f64 {
    height * f64::from(PARTS[part]) / 100.0
}

fn one_line(
    pen: &mut Pen<'_>,
    label: &Label,
    part: usize,
    width: f64,
    height: f64,
) -> Result<(), XlsxError> {
    let words = &label.lines[part];
    let tall = part_of(height, part);
    match (part, &label.drawing) {
        // Where nothing is drawn, the size takes the room.
        (SIZE, None) => {
            let tall = tall + part_of(height, DRAWING);
            pen.deep(2, words, &large(words, width, tall))?;
        }
        (DRAWING, None) => _ = pen.skip(1),
        (SIZE, Some(_)) => _ = pen.plain(words, &large(words, width, tall))?,
        (DRAWING, Some(drawing)) => {
            let picture = raster::png(drawing.size, &drawing.strokes)
                .map_err(|error| XlsxError::IoError(std::io::Error::other(error)))?;
            let free = |room: f64, mm: f64| (room - mm / 25.4 * 72.0).max(0.0) / 2.0;
            let [wide, high] = raster::size(drawing.size);
            let image = Image::new_from_buffer(&picture)?.set_alt_text(&label.lines[SIZE]);
            pen.picture(&image, pixels(free(width, wide)), pixels(free(tall, high)))?;
        }
        (part, _) => {
            let format = match label.stage.filter(|_| part == 0) {
                Some(stage) => {
                    let (fill, words) = style::stage_colours(stage);
                    line(0, tall)
                        .set_background_color(fill)
                        .set_font_color(words)
                }
                None => line(part, tall),
            };
            pen.plain(words, &format)?;
        }
    }
    Ok(())
}

/// Tenths of a millimetre in points.
fn points(tenths: u32) -> f64 {
    f64::from(tenths) / 254.0 * 72.0
}

/// Points in the pixels that column widths are kept in, 96 to the inch.
fn pixels(points: f64) -> u32 {
    (points / 72.0 * 96.0).round() as u32
}

/// The page as the stock is: its own margins, nothing at head and foot, no scaling.
fn paper(
    pen: &mut Pen<'_>,
    stock: &LabelStock,
    inset: u32,
    breaks: &[u32],
) -> Result<(), XlsxError> {
    let (top, side) = (
        f64::from(stock.margin_top) / 254.0,
        f64::from(stock.margin_side + inset) / 254.0,
    );
    let sheet = pen.sheet();
    sheet
        .set_portrait()
        .set_paper_size(match stock.page {
            Page::A4 => 9,
            Page::Letter => 1,
        })
        .set_margins(side, 0.0, top, 0.0, 0.0, 0.0)
        .set_print_scale(100)
        .set_screen_gridlines(false);
    if !breaks.is_empty() {
        sheet.set_page_breaks(breaks)?;
    }
    Ok(())
}
