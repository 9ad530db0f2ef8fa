//! Labels: one for each bin and each bag, to be printed on label stock as it stands.
//!
//! Programs that open the sheet disagree on how wide a column is, by the rounding of a digit's width
//! to whole pixels: Arial 10 is 7.4 pixels wide, kept as 7. Widths are set half way between, and
//! words keep away from the sides of the label, so that they stay on it either way.

use rust_xlsxwriter::{ColNum, Format, FormatAlign, Workbook, XlsxError};

use super::{
    Report, bags,
    sheet::{Pen, SHEET_ROWS},
    style,
};
use crate::{
    hardware::Unit,
    kit::{LabelStock, Page},
    report::{
        bin_map::{BinMap, Face},
        wording,
    },
};

pub const NAME: &str = "Labels";

/// Hundredths of a label's height that are left free above the words.
const ABOVE: u32 = 5;
/// Rows of the sheet that its words take, in hundredths of its height.
const PARTS: [u32; 6] = [13, 36, 16, 16, 8, 6];
/// What columns are narrowed by, in hundredths of their width.
const NARROWED: f64 = 0.97;
/// Most that words keep away from the sides, in tenths of a millimetre, and never more than a tenth
/// of the label.
const INSET: u32 = 50;
/// Most page breaks that the format holds in a sheet.
const PAGE_BREAKS: usize = 1023;

/// What stands on a label, from top to bottom.
struct Label {
    lines: [String; PARTS.len()],
    stage: Option<usize>,
}

impl From<Face> for Label {
    fn from(face: Face) -> Label {
        Label {
            lines: [
                face.band, face.size, face.kind, face.count, face.mark, face.foot,
            ],
            stage: Some(face.stage),
        }
    }
}

/// The label of a bag or box: its name, how many items are in it, the stages that they are for.
fn of_bag(report: &Report<'_>, bag: &str, carton: &str) -> Label {
    let items = report.account.items.iter();
    let inside: Vec<_> = items
        .filter(|item| !bag.is_empty() && item.bags.iter().any(|b| b == bag))
        .collect();
    let mut stages: Vec<usize> = inside
        .iter()
        .flat_map(|item| item.shares.iter().filter(|s| s.required > 0))
        .map(|share| share.stage)
        .collect();
    stages.sort_unstable();
    stages.dedup();
    let count = match inside.len() as u64 {
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
    Label {
        lines: [
            kind.to_owned(),
            name.to_owned(),
            names,
            count,
            came_in,
            report.job.name.clone(),
        ],
        stage: None,
    }
}

/// The job's own stock, or the common one of the page that goes with most of the hardware.
fn stock(report: &Report<'_>) -> LabelStock {
    report.job.labels.unwrap_or_else(|| {
        let bins = report.layout.bins.iter();
        let items = bins.map(|bin| &report.account.items[bin.item].item);
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

fn line(part: usize) -> Format {
    let format = style::base()
        .set_align(FormatAlign::Center)
        .set_align(FormatAlign::VerticalCenter);
    match part {
        0 => format.set_bold().set_font_size(10).set_shrink(),
        2 => format.set_font_size(10).set_text_wrap(),
        3 => format.set_bold().set_font_size(15).set_shrink(),
        _ => format.set_font_size(8).set_shrink(),
    }
}

/// As large as the words may be on a line of so many points.
fn large(words: &str, width: f64, height: f64) -> Format {
    // A capital or figure of the house's bold type is about 0.6 of its size wide.
    let by_width = width * 0.92 / (0.6 * words.chars().count().max(1) as f64);
    let points = by_width.min(height * 0.72).clamp(8.0, 60.0).floor();
    line(1).set_bold().set_font_size(points).set_text_wrap()
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let stock = stock(report);
    let Some((width, height)) = stock.label() else {
        return Ok(());
    };
    let map = BinMap::of(report.account, report.layout);
    let bins = (0..report.layout.bins.len()).map(|bin| Label::from(map.face(bin)));
    let bags = bags::named(report);
    let bags = bags.iter().map(|(bag, carton)| of_bag(report, bag, carton));
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
    let mut pen = Pen::new(workbook, NAME)?;
    let inset = INSET.min(width / 10);
    let gap = points(stock.gap + 2 * inset) * NARROWED;
    let width = points(width - 2 * inset) * NARROWED;
    let height = points(height);
    let mut breaks = Vec::new();
    let mut rows = 0;
    loop {
        let row: Vec<Option<Label>> = labels.by_ref().take(columns).collect();
        if row.iter().all(Option::is_none) && labels.peek().is_none() {
            break;
        }
        if pen.next() + PARTS.len() as u32 + 1 >= SHEET_ROWS {
            pen.row()?
                .plain("The sheet is full: the other bins are on Bins.", &line(4))?;
            break;
        }
        if rows > 0 && rows % stock.rows == 0 {
            breaks.push(pen.next());
        }
        rows += 1;
        pen.tall(height * f64::from(ABOVE) / 100.0)?;
        for (part, share) in PARTS.into_iter().enumerate() {
            let tall = height * f64::from(share) / 100.0;
            pen.tall(tall)?;
            for label in &row {
                one_line(&mut pen, label.as_ref(), part, width, tall)?;
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
    breaks.truncate(PAGE_BREAKS);
    paper(&mut pen, &stock, inset, &breaks)
}

fn one_line(
    pen: &mut Pen<'_>,
    label: Option<&Label>,
    part: usize,
    width: f64,
    tall: f64,
) -> Result<(), XlsxError> {
    let Some(label) = label else {
        pen.skip(1);
        return Ok(());
    };
    let words = &label.lines[part];
    let format = match (part, label.stage) {
        (0, Some(stage)) => {
            let (fill, words) = style::stage_colours(stage);
            line(0).set_background_color(fill).set_font_color(words)
        }
        (1, _) => large(words, width, tall),
        _ => line(part),
    };
    pen.plain(words, &format)?;
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
