//! The Count sheet: one entry cell an item, or an item and bag, to be filled in at the bench and
//! handed back, bag by bag as they are opened. It does not show what is due, for people count to what
//! they expect.

use indexmap::IndexSet;
use rust_xlsxwriter::{
    ColNum, ConditionalFormatFormula, DataValidation, DataValidationRule, Format, RowNum, Workbook,
    XlsxError, utility,
};

use super::{
    Report, by_stage,
    formula::range,
    sheet::{Column, Pen},
    style::{self, Paper},
};
use crate::{
    hardware::{Diameter, Item, Kind, Length, Ratio},
    kit::{List, Placement},
    settle::{Account, Evidence, ItemAccount},
    words::{fold, walking_order},
};

pub const NAME: &str = "Count sheet";
/// The first row of the table, from 0.
pub const FIRST: RowNum = 5;
/// Rows at the foot for what is found and not listed.
const FOUND: u32 = 12;
const MAX_COUNT: i32 = 1_000_000_000;

/// Ids are of a length.
const ID: Column = Column {
    least: 13.0,
    ..Column::words("Id", 14.0)
};
const ITEM: Column = Column::words("Item", 52.0);
const PART_NUMBER: Column = Column::words("Part no.", 18.0);
const BAG: Column = Column::words("Bag", 16.0);
const BOX: Column = Column::words("Box", 16.0);
const GOOD: Column = Column::number("Good");
const DAMAGED: Column = Column::number("Damaged");
const COUNTED_BY: Column = Column {
    heading: "Counted by",
    number: false,
    least: 12.0,
    most: 12.0,
};

/// What a date is told by where the sheet is read back.
const DATE: &str = "Count date";

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
/// is brought from elsewhere, nor what is built in to the last piece.
fn to_count(item: &ItemAccount) -> bool {
    let sums = &item.sums;
    let loose = sums.extra + sums.returned + sums.discarded > 0 || item.counted.is_some();
    let built_in = !item.shares.is_empty() && item.shares.iter().all(|share| share.built);
    if built_in && !loose {
        return false;
    }
    item.sums.required > 0 || item.shipped.unwrap_or(0) > 0 || item.counted.is_some()
}

/// A line of the sheet.
pub struct Entry<'a> {
    /// Index into the account's items.
    pub item: usize,
    bag: &'a str,
    carton: &'a str,
}

/// The lines in order: bag by bag, and in each as pieces are sorted on a bench; last what lies loose.
pub fn entries<'a>(lists: &'a [List], account: &'a Account) -> Vec<Entry<'a>> {
    let items = &account.items;
    let built = account.stages.iter().filter(|stage| stage.built);
    let built: Vec<String> = built.map(|stage| fold(&stage.name)).collect();
    let mut order: Vec<usize> = (0..items.len())
        .filter(|&at| to_count(&items[at]))
        .collect();
    order.sort_by_cached_key(|&at| (bench_order(&items[at].item), &items[at].text));
    let mut entries: Vec<Entry<'a>> = order
        .into_iter()
        .flat_map(|item| {
            containers(lists, &items[item], &built)
                .into_iter()
                .map(move |(bag, carton)| Entry { item, bag, carton })
        })
        .collect();
    entries.sort_by_cached_key(|entry| {
        let loose = (entry.bag, entry.carton) == LOOSE;
        (loose, walking_order(entry.carton), walking_order(entry.bag))
    });
    entries
}

/// No bag and no box.
const LOOSE: (&str, &str) = ("", "");

/// The bags and boxes that an item is in by the slip, or by the parts list where the slip names none;
/// at least one. Those are emptied whose pieces the parts list puts in stages that are `built` alone.
fn containers<'a>(
    lists: &'a [List],
    item: &ItemAccount,
    built: &[String],
) -> IndexSet<(&'a str, &'a str)> {
    let is_built = |placement: &Placement| {
        let stage = placement.stage.as_deref().unwrap_or_default();
        !built.is_empty() && built.contains(&fold(stage))
    };
    let open = named_by(lists, &item.required_by, |of| !is_built(of));
    let emptied = named_by(lists, &item.required_by, is_built);
    let slip = named_by(lists, &item.shipped_by, |_| true);
    let mut found = match slip.iter().any(|place| *place != LOOSE) {
        true => slip,
        false => open.clone(),
    };
    found.retain(|place| open.contains(place) || !emptied.contains(place));
    if found.is_empty() {
        found.insert(LOOSE);
    }
    found
}

/// The bags and boxes that lines name.
fn named_by<'a>(
    lists: &'a [List],
    evidence: &[Evidence],
    which: impl Fn(&Placement) -> bool,
) -> IndexSet<(&'a str, &'a str)> {
    evidence
        .iter()
        .flat_map(|e| {
            let list = &lists[e.list];
            list.lines_in(e.sheet, &e.rows)
                .map(move |line| list.placement_of(line))
        })
        .filter(|placement| which(placement))
        .map(|p| {
            (
                p.bag.as_deref().unwrap_or(""),
                p.carton.as_deref().unwrap_or(""),
            )
        })
        .collect()
}

/// Which of the columns that not every kit has are there.
#[derive(Default)]
struct Wanted {
    numbers: bool,
    bags: bool,
    boxes: bool,
}

impl Wanted {
    fn of(items: &[ItemAccount], entries: &[Entry<'_>]) -> Wanted {
        Wanted {
            numbers: entries
                .iter()
                .any(|e| !items[e.item].part_numbers.is_empty()),
            bags: entries.iter().any(|e| !e.bag.is_empty()),
            boxes: entries.iter().any(|e| !e.carton.is_empty()),
        }
    }

    /// The column of the good pieces, from 0.
    fn good_column(&self) -> ColNum {
        2 + ColNum::from(self.numbers) + ColNum::from(self.bags) + ColNum::from(self.boxes)
    }
}

/// The column of the good pieces, from 0.
pub fn good_column(items: &[ItemAccount], entries: &[Entry<'_>]) -> ColNum {
    Wanted::of(items, entries).good_column()
}

/// The maker's number that is shown with an item.
fn number(item: &ItemAccount) -> &str {
    item.part_numbers.first().map_or("", String::as_str)
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let style = &report.style;
    let entries = &report.counts;
    let wanted = Wanted::of(&report.account.items, entries);
    let mut columns = vec![ID, ITEM];
    let items = &report.account.items;
    let numbers = entries.iter().map(|entry| number(&items[entry.item]));
    let bags = entries.iter().map(|entry| entry.bag);
    let boxes = entries.iter().map(|entry| entry.carton);
    columns.extend(wanted.numbers.then(|| PART_NUMBER.holding(numbers)));
    columns.extend(wanted.bags.then(|| BAG.holding(bags)));
    columns.extend(wanted.boxes.then(|| BOX.holding(boxes)));
    columns.extend([GOOD, DAMAGED, COUNTED_BY]);

    let mut pen = Pen::new(workbook, NAME, Paper::Portrait)?;
    pen.title("Count sheet", "Write what is there; 0 is: looked for, none found. Leave blank what nobody counted. ▲: far above what is due, count again.", style)?;
    pen.says(
        "Use the empty lines at the foot for what is not listed. Hand it back with --counted; the date tells which parcels had come.",
        &style.subtitle,
    )?;
    pen.tall(20.0)?
        .plain(DATE, &style.subtitle)?
        .blank(&style.entry_date)?;
    let heading = pen.headings(style, &columns)?;
    debug_assert_eq!(heading + 1, FIRST);
    for entry in entries {
        let item = &items[entry.item];
        pen.roomy(4.0)?
            .text(&item.id, &style.cell)?
            .text(&item.text, &style.wrap)?;
        if wanted.numbers {
            pen.text(number(item), &style.wrap)?;
        }
        if wanted.bags {
            pen.text(entry.bag, &style.wrap)?;
        }
        if wanted.boxes {
            pen.text(entry.carton, &style.wrap)?;
        }
        pen.blank(&style.entry)?
            .blank(&style.entry)?
            .blank(&style.entry_text)?;
    }
    let good = wanted.good_column();
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
    if report.live.is_some() {
        let rows = (FIRST, FIRST + entries.len() as RowNum - 1);
        mark_far_above(&mut pen, report, rows, good)?;
    }
    pen.print(Some(heading), &report.footer())
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

/// Marks figures that make more than twice what is due of an item, and ten more: a slip of the pen, or
/// two items taken for one. What is due stays unseen, for people count to what they expect.
fn mark_far_above(
    pen: &mut Pen<'_>,
    report: &Report<'_>,
    (first, last): (RowNum, RowNum),
    good: ColNum,
) -> Result<(), XlsxError> {
    let due_rows = by_stage::entries(report.account).len() as RowNum;
    if due_rows == 0 {
        return Ok(());
    }
    let to = by_stage::FIRST + due_rows - 1;
    let due = format!(
        "SUMPRODUCT(({}=$B{row})*{})",
        range(by_stage::NAME, by_stage::FIRST, to, by_stage::ITEM_COLUMN),
        range(
            by_stage::NAME,
            by_stage::FIRST,
            to,
            by_stage::REQUIRED_COLUMN
        ),
        row = first + 1,
    );
    let cells = |column| utility::cell_range_absolute(first, column, last, column);
    let typed = format!("SUMIFS({},{},$A{})", cells(good), cells(0), first + 1);
    let cell = format!("${}{}", utility::column_number_to_name(good), first + 1);
    let rule = ConditionalFormatFormula::new()
        .set_rule(&*format!(
            "=AND(ISNUMBER({cell}),{due}>0,{typed}>2*{due},{typed}>{due}+10)"
        ))
        .set_format(
            Format::new()
                .set_bold()
                .set_background_color(style::WARN)
                .set_num_format("\"▲ \"0"),
        );
    pen.sheet()
        .add_conditional_format(first, good, last, good, &rule)?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        kit::{Job, Line},
        settle::{sample::ListOf, settle},
    };

    #[test]
    fn what_is_built_is_not_counted_again() {
        let put = |stage: &'static str, bag: &'static str| {
            move |_: &mut Line, placement: &mut Placement| {
                placement.stage = Some(stage.into());
                placement.bag = Some(bag.into());
            }
        };
        let lists = [ListOf::required()
            .line("bolt hex 1/2 3", 4, &put("one", "B1"))
            .line("nut hex 1/2", 4, &put("one", "B1"))
            .line("nut hex 1/2", 8, &put("two", "B2"))
            .list()];
        let counted = |built: Option<&str>| {
            let job = Job {
                built_through: built.map(str::to_owned),
                ..Job::default()
            };
            let account = settle(&job, &lists).expect("a sound job");
            let entries = entries(&lists, &account);
            let entries = entries.iter();
            let entries = entries.map(|of| format!("{} {}", of.bag, account.items[of.item].text));
            entries.collect::<Vec<_>>()
        };
        assert_eq!(
            counted(None),
            [
                "B1 1/2-13 x 3 hex bolt",
                "B1 1/2-13 hex nut",
                "B2 1/2-13 hex nut"
            ]
        );
        assert_eq!(counted(Some("One")), ["B2 1/2-13 hex nut"]);
    }
}
