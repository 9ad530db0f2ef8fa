//! The Count sheet: one entry cell an item, or an item and bag, to be filled in at the bench and
//! handed back. It does not show what is due, for people count to what they expect.

use rust_xlsxwriter::{ColNum, DataValidation, DataValidationRule, RowNum, Workbook, XlsxError};

use super::{
    Report,
    sheet::{Column, Pen, lines_of},
    style::{self, Paper},
};
use crate::{
    hardware::{Diameter, Item, Kind, Length, Ratio},
    settle::ItemAccount,
};

pub const NAME: &str = "Count sheet";
/// The first row of the table, from 0.
pub const FIRST: RowNum = 4;
/// Rows at the foot for what is found and not listed.
const FOUND: u32 = 12;
const MAX_COUNT: i32 = 1_000_000_000;

const ID: Column = Column::words("Id", 14.0);
const ITEM: Column = Column::words("Item", 52.0);
const PART_NUMBER: Column = Column::words("Part no.", 18.0);
const BAG: Column = Column::words("Bag", 16.0);
const GOOD: Column = Column::number("Good");
const DAMAGED: Column = Column::number("Damaged");
const COUNTED_BY: Column = Column {
    heading: "Counted by",
    number: false,
    least: 18.0,
    most: 18.0,
};

/// Kind, diameter, length: the order in which pieces are sorted on a bench.
fn bench_order(item: &Item) -> (usize, Option<Ratio>, Option<Ratio>) {
    let kind = item
        .kind
        .and_then(|kind| Kind::ALL.iter().position(|k| *k == kind))
        .unwrap_or(Kind::ALL.len());
    // 1 in = 25.4 mm.
    let inch = Ratio::new(127, 5);
    let diameter = item.diameter.map(|d| match d {
        Diameter::Metric(mm) => mm,
        _ => d.value() * inch,
    });
    let length = item.length.map(|l| match l {
        Length::Millimetre(mm) => mm,
        Length::Inch(r) => r * inch,
    });
    (kind, diameter, length)
}

/// What may lie in the boxes: all that is required of the kit or on a slip or in a count; not what
/// is brought from elsewhere.
fn to_count(item: &ItemAccount) -> bool {
    item.sums.required > 0 || item.shipped.unwrap_or(0) > 0 || item.counted.is_some()
}

/// A line of the sheet.
pub struct Entry<'a> {
    /// Index into the account's items.
    pub item: usize,
    /// Empty where the item is in no bag.
    bag: &'a str,
}

/// The lines in order.
pub fn entries<'a>(report: &Report<'a>) -> Vec<Entry<'a>> {
    let items = &report.account.items;
    let mut order: Vec<usize> = (0..items.len())
        .filter(|&at| to_count(&items[at]))
        .collect();
    order.sort_by_cached_key(|&at| (bench_order(&items[at].item), &items[at].text));
    order
        .into_iter()
        .flat_map(|item| {
            let bags = items[item].bags.iter().map(String::as_str);
            let none = items[item].bags.is_empty().then_some("");
            bags.chain(none).map(move |bag| Entry { item, bag })
        })
        .collect()
}

/// Whether any item to be counted has a maker's number, and whether any is in a bag.
fn has(report: &Report<'_>) -> (bool, bool) {
    let mut items = report.account.items.iter().filter(|i| to_count(i));
    let numbers = items.clone().any(|i| !i.part_numbers.is_empty());
    (numbers, items.any(|i| !i.bags.is_empty()))
}

/// The column of the good pieces, from 0.
pub fn good_column(report: &Report<'_>) -> ColNum {
    let (numbers, bags) = has(report);
    2 + ColNum::from(numbers) + ColNum::from(bags)
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let style = &report.style;
    let (numbers, bags) = has(report);
    let mut columns = vec![ID, ITEM];
    columns.extend(numbers.then_some(PART_NUMBER));
    columns.extend(bags.then_some(BAG));
    columns.extend([GOOD, DAMAGED, COUNTED_BY]);

    let sheet = workbook.add_worksheet().set_name(NAME)?;
    let mut pen = Pen::on(sheet);
    pen.tall(30.0)?.plain("Count sheet", &style.title)?;
    pen.row()?.plain(
        "Write what is there. 0 is: looked for, none found. Leave blank what nobody counted.",
        &style.subtitle,
    )?;
    pen.row()?.plain(
        "The empty lines at the foot are for whatever is found and not listed. Hand the filled sheet back with --counted.",
        &style.subtitle,
    )?;
    let heading = pen.headings(style, &columns)?;
    for entry in entries(report) {
        let item = &report.account.items[entry.item];
        let lines = lines_of(&item.text, ITEM.most) as f64;
        pen.tall(7.0 + 13.0 * lines)?
            .text(&item.id, &style.cell)?
            .text(&item.text, &style.wrap)?;
        if numbers {
            let number = item.part_numbers.first().map_or("", String::as_str);
            pen.text(number, &style.wrap)?;
        }
        if bags {
            pen.text(entry.bag, &style.wrap)?;
        }
        pen.blank(&style.entry)?
            .blank(&style.entry)?
            .blank(&style.entry_text)?;
    }
    let good = good_column(report);
    for _ in 0..FOUND {
        pen.tall(20.0)?;
        for _ in 0..good {
            pen.blank(&style.entry_text)?;
        }
        pen.blank(&style.entry)?
            .blank(&style.entry)?
            .blank(&style.entry_text)?;
    }
    let last = pen.at();
    pen.end_table(heading, &columns)?;
    validate(&mut pen, heading + 1, last, good)?;
    style::print(
        pen.sheet(),
        &Paper::Portrait,
        Some(heading),
        &report.footer(),
    )
}

/// Only whole numbers from 0 may be typed into the two figures.
fn validate(pen: &mut Pen<'_>, first: RowNum, last: RowNum, good: ColNum) -> Result<(), XlsxError> {
    let whole = DataValidation::new()
        .allow_whole_number(DataValidationRule::Between(0, MAX_COUNT))
        .set_error_title("Not a count")?
        .set_error_message("Type a whole number of pieces, 0 or more, or leave the cell blank.")?;
    pen.sheet()
        .add_data_validation(first, good, last, good + 1, &whole)?;
    Ok(())
}
