//! By stage: what each stage needs and has, in build order; before it what to bring, after it what
//! must be left over.

use rust_xlsxwriter::{ColNum, RowNum, Workbook, XlsxError, utility};
use rustc_hash::FxHashSet;

use super::{
    Report,
    formula::Cell,
    sheet::{Column, Pen},
    style::{self, Paper},
};
use crate::{
    kit::{List, Role},
    names::names,
    report::wording,
    settle::{Account, ItemAccount, Share},
};

pub const NAME: &str = "By stage";
/// The first row of the table, from 0.
pub const FIRST: RowNum = 3;
/// Columns that formulas speak of, from 0; see also [`Places`].
pub const ITEM_COLUMN: ColNum = 2;
pub const REQUIRED_COLUMN: ColNum = 3;

const NUMBER: Column = Column::words("No.", 6.0);
const STAGE: Column = Column::words("Stage", 26.0);
const ITEM: Column = Column::words("Item", 48.0);
const REQUIRED: Column = Column::number("Required");
const COVERED: Column = Column::number("Covered");
const SUBSTITUTED: Column = Column::number("Substi- tuted");
const FROM_STOCK: Column = Column::number("From stock");
/// Wide enough for "can't say".
const SHORT: Column = Column {
    least: 12.0,
    ..Column::number("Short")
};
const STATE: Column = Column::words("State", 28.0);
const BIN: Column = Column::words("Bin", 14.0);
const BAG: Column = Column::words("Bag", 18.0);
/// Where any item is in doubt.
const CHECK: Column = Column::words("To check", 30.0);
const SERVES: Column = Column::words("What serves", 44.0);

names! {
    /// How an item stands in a stage, by word and shape.
    pub enum State {
        Covered = "● covered",
        Built = "● built",
        Short = "■ short",
        /// See [`SHORT_OF_ANY`].
        SpareShort = "■ short, spares only",
        Substituted = "● covered, with substitutes",
        FromStock = "● covered, with stock",
        StrengthOpen = "▲ strength grade not stated",
        BySlip = "▲ by the slip, not counted",
        Unknown = "▲ neither counted nor on a slip",
        PartCounted = "▲ not counted in full",
        LeftOpen = "▲ not settled: see what was found",
        /// What a formula says where it cannot tell.
        RunAgain = "▲ run again",
    }
}

/// The rows in order: each stage's items (by index), in the order in which the lists name them.
pub fn entries(account: &Account) -> Vec<(usize, Share)> {
    let mut rows: Vec<(usize, Share)> = account
        .items
        .iter()
        .enumerate()
        .flat_map(|(index, item)| item.shares.iter().map(move |share| (index, *share)))
        .filter(|(_, share)| share.required > 0)
        .collect();
    rows.sort_by_key(|(_, share)| share.stage);
    rows
}

/// Where the columns are that formulas speak of, from 0.
pub struct Places {
    pub covered: ColNum,
    pub short: ColNum,
    pub state: ColNum,
    substituted: bool,
    stock: bool,
}

impl Places {
    /// Columns for substitutes and stock are there where there are any.
    pub fn of(account: &Account) -> Places {
        let substituted = account.totals.substituted > 0;
        let stock = account.totals.from_stock > 0;
        let short = 5 + ColNum::from(substituted) + ColNum::from(stock);
        Places {
            covered: 4,
            short,
            state: short + 1,
            substituted,
            stock,
        }
    }
}

/// The row (from 0) where each stage's items begin.
pub fn stage_rows(account: &Account) -> Vec<RowNum> {
    let entries = entries(account);
    (0..account.stages.len())
        .map(|stage| FIRST + entries.partition_point(|(_, share)| share.stage < stage) as RowNum)
        .collect()
}

/// What both are, to a spreadsheet's formulas.
pub const SHORT_OF_ANY: &str = "■ short*";

impl State {
    /// As settled.
    pub fn of(item: &ItemAccount, share: &Share) -> State {
        match share.short {
            _ if share.built => State::Built,
            1.. if item.known && share.spare => State::SpareShort,
            1.. if item.known => State::Short,
            1.. if item.open.is_some() => State::LeftOpen,
            1.. if item.counted.is_some() => State::PartCounted,
            1.. => State::Unknown,
            0 if share.may_lack > 0 => State::LeftOpen,
            0 if share.by_slip > 0 => State::BySlip,
            0 if share.covered > 0 && item.strength_open() => State::StrengthOpen,
            0 if share.substituted > 0 => State::Substituted,
            0 if share.from_stock > 0 => State::FromStock,
            0 => State::Covered,
        }
    }
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let (style, account) = (&report.style, report.account);
    let places = Places::of(account);
    let stages = account.stages.iter().map(|stage| stage.name.as_str());
    let mut columns = vec![NUMBER, STAGE.holding(stages), ITEM, REQUIRED, COVERED];
    columns.extend(places.substituted.then_some(SUBSTITUTED));
    columns.extend(places.stock.then_some(FROM_STOCK));
    let bins = wording::Places::of(report.layout);
    let entries = entries(account);
    let placed: Vec<[String; 2]> = (entries.iter())
        .map(|(index, share)| {
            let bags = bags(&account.items[*index], share.stage);
            [bins.named(*index, share.stage), bags]
        })
        .collect();
    let [bin, bag] = [(BIN, 0), (BAG, 1)]
        .map(|(column, at)| column.holding(placed.iter().flat_map(|of| of[at].lines())));
    columns.extend([SHORT, STATE, bin, bag]);
    let serves = places.substituted || places.stock;
    columns.extend(serves.then_some(SERVES));
    let in_doubt = (account.items.iter()).any(|item| item.to_confirm().next().is_some());
    columns.extend(in_doubt.then_some(CHECK));
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    let rule = match report.job.kits {
        1 => "to the earliest stage first",
        _ => "to whole kits first, then to the next kit's earliest stage first",
    };
    let subtitle = format!(
        "In build order. Pieces are dealt {rule}. What is typed into the Count sheet changes this sheet and the Summary."
    );
    pen.title("By stage", &subtitle, style)?;
    let heading = pen.headings(style, &columns)?;
    debug_assert_eq!(heading + 1, FIRST);
    let live = report.live.as_ref();
    // Of each item, in the stages above.
    let mut required_before = vec![0; account.items.len()];
    for ((index, share), [bin, bag]) in entries.into_iter().zip(&placed) {
        let item = &account.items[index];
        let short = match share.short {
            0 => &style.number,
            _ => &style.strong_number,
        };
        pen.row()?
            .number(share.stage as u64 + 1, style.stage(share.stage))?
            .text(wording::stage_name(account, share.stage), &style.wrap)?
            .text(&item.text, &style.wrap)?
            .number(share.required, &style.number)?;
        let required = utility::row_col_to_cell(pen.at(), places.covered - 1);
        let covered = utility::row_col_to_cell(pen.at(), places.covered);
        let short_cell = utility::row_col_to_cell(pen.at(), places.short);
        let so_far = &mut required_before[index];
        let before = std::mem::replace(so_far, *so_far + share.required);
        let follows = live.and_then(|live| live.covered(index, item, &share, before, &required));
        match &follows {
            Some(cell) => pen.live(cell, &style.number)?,
            None => pen.number(share.covered, &style.number)?,
        };
        if places.substituted {
            pen.number(share.substituted, &style.number)?;
        }
        if places.stock {
            pen.number(share.from_stock, &style.number)?;
        }
        match follows {
            Some(_) => pen.live(
                &Cell {
                    formula: format!("={required}-{covered}"),
                    value: share.short.to_string(),
                },
                short,
            )?,
            None => pen.number(share.short, short)?,
        };
        let settled = State::of(item, &share).as_str();
        let live = live.filter(|_| !share.built && !share.spare);
        let state = live.and_then(|live| live.state(index, item, settled, &short_cell));
        match state {
            Some(cell) => pen.live(&cell, &style.wrap)?,
            None => pen.text(settled, &style.wrap)?,
        };
        pen.text(bin, &style.wrap)?.text(bag, &style.wrap)?;
        if serves {
            let words = wording::stand_ins(report.job, item, share.stage);
            pen.text(&words.join("\n"), &style.wrap)?;
        }
        if in_doubt {
            pen.text(&wording::doubts(item).join("\n"), &style.wrap)?;
        }
    }
    pen.end_table(heading, &columns)?;
    let at = |column| utility::column_number_to_name(column) + &(FIRST + 1).to_string();
    let (short, state) = (at(places.short), at(places.state));
    let open = format!(
        "=OR(AND(${short}>0,LEFT(${state},1)=\"▲\"),${state}=\"{}\")",
        State::LeftOpen
    );
    let rows = [FIRST, pen.at()];
    style::cannot_say(pen.sheet(), rows, places.short, &open)?;
    list(&mut pen, report, "To bring: not in this kit", |_, item| {
        item.to_bring
    })?;
    let pairs = account.may_be_same.iter();
    let may_be_others: FxHashSet<usize> = pairs.map(|(_, other)| *other).collect();
    let is_read = |list: &List| list.role == Role::Required && list.from_sentences;
    let from_sentences = report.lists.iter().any(is_read);
    let left_over = |at: usize, item: &ItemAccount| match may_be_others.contains(&at) {
        true => LeftOver::UnlessTheSame,
        false if from_sentences && item.sums.required == 0 => LeftOver::UnlessUsed,
        false => LeftOver::Surely,
    };
    for (which, title) in LEFT_OVER {
        list(&mut pen, report, title, |at, item| {
            match left_over(at, item) == which {
                true => item.sums.extra + item.sums.discarded,
                false => 0,
            }
        })?;
    }
    pen.print(Some(heading), &report.footer())
}

/// How sure it is that pieces are left over when the build is done.
#[derive(Clone, Copy, PartialEq, Eq)]
enum LeftOver {
    Surely,
    /// Sentences may ask for more than was read of them.
    UnlessUsed,
    /// They may be what another item asks for.
    UnlessTheSame,
}

const LEFT_OVER: [(LeftOver, &str); 3] = [
    (LeftOver::Surely, "Must be left over when the build is done"),
    (LeftOver::UnlessUsed, "Left over, unless the guide uses it"),
    (
        LeftOver::UnlessTheSame,
        "Left over, unless one of the above by other words",
    ),
];

/// The bags that an item comes in, and what a stage takes from those of other stages.
fn bags(item: &ItemAccount, stage: usize) -> String {
    let bags = Some(item.bags_for(stage).join(", ")).filter(|bags| !bags.is_empty());
    let lines: Vec<String> = bags
        .into_iter()
        .chain(wording::draws(item, stage))
        .collect();
    lines.join("\n")
}

/// A short list below the table, of the items that have such pieces; nothing where none has.
fn list(
    pen: &mut Pen<'_>,
    report: &Report<'_>,
    title: &str,
    pieces: impl Fn(usize, &ItemAccount) -> u64,
) -> Result<(), XlsxError> {
    let style = &report.style;
    let items = report.account.items.iter().enumerate();
    let items = items.map(|(at, item)| (item, pieces(at, item)));
    let mut items = items.filter(|(_, pieces)| *pieces > 0).peekable();
    if items.peek().is_none() {
        return Ok(());
    }
    pen.row()?;
    pen.tall(22.0)?.wide(4, title, &style.section)?;
    for (item, pieces) in items {
        pen.row()?
            .blank(&style.cell)?
            .blank(&style.cell)?
            .text(&item.text, &style.wrap)?
            .number(pieces, &style.number)?;
    }
    pen.end_row()
}
