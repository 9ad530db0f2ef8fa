//! Every line: each line of each list and how it reads. Written row by row in little memory, and
//! gone on with in another sheet where one is full.

use rust_xlsxwriter::{Format, Workbook, Worksheet, XlsxError};
use rustc_hash::FxHashSet;

use super::{
    Report,
    sheet::{Column, MEASURED, Pen},
    style::Paper,
};
use crate::{
    kit::{LineStatus, What},
    report::wording,
    settle::LineRef,
};

pub const NAME: &str = "Every line";
/// Lines up to which cells wrap. The height of a wrapped row is kept in memory until the end, and
/// nobody prints so many.
const WRAPPED: usize = MEASURED as usize;

const COLUMNS: [Column; 12] = [
    Column::words("State", 10.0),
    Column::words("List", 12.0),
    Column::words("File", 16.0),
    Column::words("Sheet", 11.0),
    Column::number("Row"),
    Column::words("As written", 38.0),
    Column::words("Reads as", 32.0),
    Column::number("Pieces"),
    Column::number("Places"),
    Column::words("Stage", 16.0),
    Column::words("Details", 20.0),
    Column::words("Remark", 24.0),
];

/// Empty sheets for all the lines, of at most `most` rows. They are filled apart from the workbook,
/// while the others are written.
pub fn sheets(
    workbook: &mut Workbook,
    report: &Report<'_>,
    most: u32,
) -> Result<Vec<Worksheet>, XlsxError> {
    let lines: usize = report.lists.iter().map(|list| list.lines.len()).sum();
    let needed = lines.div_ceil(most as usize - 1).max(1);
    let named = |number| match number {
        1 => NAME.to_owned(),
        _ => format!("{NAME} {number}"),
    };
    (1..=needed)
        .map(|number| {
            let mut sheet = workbook.new_worksheet_with_constant_memory()?;
            sheet.set_name(named(number))?;
            Ok(sheet)
        })
        .collect()
}

pub fn write(sheets: &mut [Worksheet], report: &Report<'_>, most: u32) -> Result<(), XlsxError> {
    let idle = Idle::of(report);
    let mut lines = report
        .lists
        .iter()
        .enumerate()
        .flat_map(|(list, l)| (0..l.lines.len()).map(move |line| LineRef { list, line }));
    let few = report.lists.iter().map(|l| l.lines.len()).sum::<usize>() <= WRAPPED;
    let words = if few {
        &report.style.wrap
    } else {
        &report.style.cell
    };
    for sheet in sheets {
        let mut pen = Pen::on(sheet, Paper::Small);
        let heading = pen.headings(&report.style, &COLUMNS)?;
        if !few {
            pen.wrap_at([]);
        }
        while pen.next() < most
            && let Some(at) = lines.next()
        {
            one_line(&mut pen, report, at, idle.why(at), words)?;
        }
        pen.end_table(heading, &COLUMNS)?;
        pen.print(Some(heading), &report.footer())?;
    }
    Ok(())
}

/// Lines that are listed and make no demand.
struct Idle {
    not_chosen: FxHashSet<LineRef>,
    no_demand: FxHashSet<LineRef>,
}

impl Idle {
    fn of(report: &Report<'_>) -> Idle {
        Idle {
            not_chosen: report.account.not_chosen.iter().copied().collect(),
            no_demand: report.account.no_demand.iter().copied().collect(),
        }
    }

    fn why(&self, at: LineRef) -> Option<&'static str> {
        if self.not_chosen.contains(&at) {
            Some("option not chosen: not counted")
        } else if self.no_demand.contains(&at) {
            Some("makes no demand on this kit")
        } else {
            None
        }
    }
}

fn one_line(
    pen: &mut Pen<'_>,
    report: &Report<'_>,
    at: LineRef,
    idle: Option<&'static str>,
    words: &Format,
) -> Result<(), XlsxError> {
    let style = &report.style;
    let list = &report.lists[at.list];
    let line = &list.lines[at.line];
    let placement = list.placement_of(line);
    let status = list.status_of(line);
    let reading = list.reading_of(line).map(|reading| reading.item.text());
    let reads_as = match &line.what {
        What::Item(_) => reading.as_deref().unwrap_or(""),
        What::Bag {
            received: Some(true),
        } => "bag or box, received",
        What::Bag {
            received: Some(false),
        } => "bag or box, not received",
        What::Bag { received: None } => "bag or box",
        What::Aside(_) => "",
    };
    let bag = placement.bag.as_ref().map(|b| format!("bag {b}"));
    let carton = placement.carton.as_ref().map(|c| format!("box {c}"));
    let option = placement.option.as_ref().map(wording::option);
    let about: Vec<&str> = [
        placement.place.as_deref(),
        bag.as_deref(),
        carton.as_deref(),
        placement.usage.map(|u| u.as_str()),
        option.as_deref(),
    ]
    .into_iter()
    .flatten()
    .collect();
    let mut remarks: Vec<String> = idle.into_iter().map(str::to_owned).collect();
    if line.damaged() > 0 {
        remarks.push(format!("{} damaged besides", line.damaged()));
    }
    if line.back_ordered() > 0 {
        remarks.push(format!("{} back-ordered", line.back_ordered()));
    }
    remarks.extend(wording::why(list, line));
    let state = if status == LineStatus::Read {
        &style.cell
    } else {
        &style.strong
    };
    pen.row()?
        .text(status.as_str(), state)?
        .text(list.role.as_str(), &style.cell)?
        .text(&list.file, words)?
        .text(
            list.sheets[usize::from(line.sheet)]
                .name
                .as_deref()
                .unwrap_or(""),
            words,
        )?
        .number(u64::from(line.row), &style.number)?
        .text(&list.text_of(line), words)?
        .text(reads_as, words)?
        .number_or(line.quantity, "", &style.number)?
        .number(u64::from(line.places), &style.number)?
        .text(placement.stage.as_deref().unwrap_or(""), words)?
        .text(&about.join(", "), words)?
        .text(&remarks.join("; "), words)?;
    Ok(())
}
