//! Bags: whether each bag and box came at all. Only where the lists name any.

use std::collections::HashSet;

use indexmap::IndexSet;
use rust_xlsxwriter::{ColNum, DataValidation, Workbook, XlsxError};

use super::{
    Report,
    sheet::{Column, Pen},
    style::Paper,
};
use crate::{
    kit::{List, Role, What},
    settle::LineRef,
};

pub const NAME: &str = "Bags";

const BAG: Column = Column::words("Bag", 30.0);
const BOX: Column = Column::words("Box", 30.0);
const RECEIVED: Column = Column {
    heading: "Received",
    number: false,
    least: 16.0,
    most: 16.0,
};

/// Bags and boxes in order of first naming: a bag stands with the box that it came in, a box by
/// itself only where no bag is named in it. Lines of options not chosen name none.
pub fn named<'a>(report: &Report<'a>) -> Vec<(&'a str, &'a str)> {
    let not_chosen: HashSet<LineRef> = report.account.not_chosen.iter().copied().collect();
    let lists = report.lists.iter().enumerate();
    let pairs: IndexSet<(&str, &str)> = lists
        .filter(|(_, list)| matches!(list.role, Role::Required | Role::Shipped))
        .flat_map(|(at, list)| {
            let lines = list.lines.iter().enumerate();
            lines.map(move |(line, l)| (LineRef { list: at, line }, list.placement_of(l)))
        })
        .filter(|(at, _)| !not_chosen.contains(at))
        .map(|(_, p)| {
            (
                p.bag.as_deref().unwrap_or(""),
                p.carton.as_deref().unwrap_or(""),
            )
        })
        .filter(|pair| *pair != ("", ""))
        .collect();
    // A bag named without its box, or a box without its bag, where another line names both.
    let both = |(bag, carton): &&(&str, &str)| !bag.is_empty() && !carton.is_empty();
    let (in_boxes, with_bags): (HashSet<&str>, HashSet<&str>) =
        pairs.iter().filter(both).copied().unzip();
    let repeated = |&(bag, carton): &(&str, &str)| {
        carton.is_empty() && in_boxes.contains(bag) || bag.is_empty() && with_bags.contains(carton)
    };
    pairs.iter().copied().filter(|p| !repeated(p)).collect()
}

/// What the counts given say of bags and boxes, a sentence a count. The cells stay blank: a new count speaks
/// for itself, and a bag that did not come then may have come since.
fn said_so_far(lists: &[List]) -> Vec<String> {
    let counts = lists.iter().filter(|list| list.role == Role::Counted);
    let said = counts.filter_map(|list| {
        let of = |answer: bool| {
            let lines = list.lines.iter().filter(
                |line| matches!(line.what, What::Bag { received: Some(of) } if of == answer),
            );
            let names: IndexSet<&str> = lines
                .filter_map(|line| {
                    let placement = list.placement_of(line);
                    placement.bag.as_deref().or(placement.carton.as_deref())
                })
                .collect();
            (!names.is_empty()).then(|| names.into_iter().collect::<Vec<_>>().join(", "))
        };
        let parts = [(false, "not received"), (true, "received")];
        let parts = parts
            .into_iter()
            .filter_map(|(answer, words)| Some(format!("{words}: {}", of(answer)?)));
        let parts: Vec<String> = parts.collect();
        (!parts.is_empty()).then(|| format!("So far, by {}: {}.", list.file, parts.join("; ")))
    });
    said.collect()
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let style = &report.style;
    let named = named(report);
    if named.is_empty() {
        return Ok(());
    }
    let bags = named.iter().any(|(bag, _)| !bag.is_empty());
    let boxes = named.iter().any(|(_, carton)| !carton.is_empty());
    let mut columns = Vec::new();
    columns.extend(bags.then_some(BAG));
    columns.extend(boxes.then_some(BOX));
    let received = columns.len() as ColNum;
    columns.push(RECEIVED);

    let mut pen = Pen::new(workbook, NAME, Paper::Portrait)?;
    pen.title(
        "Bags and boxes",
        "Was it received at all? \"no\" reports all of it missing at once; a blank says nothing.",
        style,
    )?;
    for said in said_so_far(report.lists) {
        pen.says(&said, &style.subtitle)?;
    }
    let heading = pen.headings(style, &columns)?;
    for (bag, carton) in &named {
        pen.tall(20.0)?;
        if bags {
            pen.text(bag, &style.cell)?;
        }
        if boxes {
            pen.text(carton, &style.cell)?;
        }
        pen.blank(&style.entry_text)?;
    }
    let last = pen.at();
    pen.end_table(heading, &columns)?;
    let yes_no = DataValidation::new()
        .allow_list_strings(&["yes", "no"])?
        .set_error_title("Not an answer")?
        .set_error_message("Choose yes or no, or leave the cell blank.")?;
    pen.sheet()
        .add_data_validation(heading + 1, received, last, received, &yes_no)?;
    pen.print(Some(heading), &report.footer())
}
