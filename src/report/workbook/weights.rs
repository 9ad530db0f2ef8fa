//! Weights: what a piece, a stage and a bag weigh, who says so, and what a scale could not see missing
//! from a bag.

use rust_xlsxwriter::{Workbook, XlsxError};

use super::{
    Report, by_stage,
    sheet::{Column, Pen},
    style::{Paper, Style},
};
use crate::{
    hardware::{Item, Kind, Style as Form, Unit},
    report::{
        masses::{Load, POUND_G},
        wording,
    },
    settle::ItemAccount,
};

pub const NAME: &str = "Weights";

const COLUMNS: [Column; 8] = [
    Column::words("What", 44.0),
    Column::number("Pieces"),
    Column::number("One piece, g"),
    Column::number("In all, kg"),
    POUNDS,
    Column::number("Give or take, kg"),
    Column::words("By", 20.0),
    Column::words("Look", 56.0),
];
/// Only where sizes are in inches.
const POUNDS: Column = Column::number("In all, lb");
/// Items of a bag that are named before "and N more".
const FEW: usize = 6;

/// Why no table has an item.
fn no_table(item: &Item) -> &'static str {
    match (item.kind, item.style) {
        (Some(Kind::Part), _) => "the lists state no weight: weigh one",
        (_, Some(Form::Deck | Form::SelfDrilling | Form::SheetMetal | Form::Bugle)) => {
            "no one standard shape: weigh a sample"
        }
        (_, Some(Form::Plate)) => "plate washers come in several sizes: weigh a sample",
        (Some(Kind::Anchor), _) => "each maker has its own: weigh a sample",
        _ => "the size or style is in no table, or the list leaves it open: weigh a sample",
    }
}

/// Items of a load by name.
fn named<'i>(report: &Report<'_>, items: impl Iterator<Item = &'i usize>) -> String {
    let mut names: Vec<String> = Vec::new();
    for &item in items {
        let text = &report.account.items[item].text;
        if !names.contains(text) {
            names.push(text.clone());
        }
    }
    let more = names.len().saturating_sub(FEW);
    names.truncate(FEW);
    if more > 0 {
        names.push(format!("and {more} more"));
    }
    names.join(", ")
}

/// What the weight leaves out.
fn left_out(report: &Report<'_>, load: &Load) -> Option<String> {
    let items = load.unknown.iter().map(|(item, _)| item);
    (!load.unknown.is_empty()).then(|| {
        format!(
            "▲ of no known mass, not in the sum: {}",
            named(report, items)
        )
    })
}

/// Which missing pieces the weight of a bag could not show: those lighter than what it is out by.
fn unseen(report: &Report<'_>, load: &Load) -> Option<String> {
    let mut unseen: Vec<&(usize, f64)> = load
        .known
        .iter()
        .filter(|(_, grams)| *grams < load.tolerance())
        .collect();
    unseen.sort_by(|a, b| a.1.total_cmp(&b.1));
    match unseen.len() {
        0 => None,
        n if n == load.known.len() => {
            Some("one missing piece cannot be seen by weight, of any item: count them".to_owned())
        }
        _ => Some(format!(
            "one missing piece cannot be seen by weight: count {}",
            named(report, unseen.iter().map(|(item, _)| item))
        )),
    }
}

/// What a sum of weights rests on.
fn rests_on(load: &Load) -> &'static str {
    match (load.unknown.is_empty(), load.unweighed) {
        (false, _) => "▲ not complete",
        (true, 0) => "weighed pieces",
        (true, n) if n == load.known.len() => "rough plan",
        (true, _) => "in part a rough plan",
    }
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let (style, account, masses) = (&report.style, report.account, &report.masses);
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    pen.tall(30.0)?.plain("Weights", &style.title)?;
    pen.says(masses.largest_lift(), &style.line)?;
    pen.says(
        "By weighings that were kept, else by the lists, else by geometry from the standard tables, which is a rough plan for lifting and packing and never checks a bag: weigh a sample.",
        &style.subtitle,
    )?;
    let in_inches = |item: &ItemAccount| item.item.diameter.is_some_and(|d| d.unit() == Unit::Inch);
    let pounds = account.items.iter().any(in_inches);
    let columns: Vec<Column> = COLUMNS
        .into_iter()
        .filter(|column| pounds || column.heading != POUNDS.heading)
        .collect();
    let heading = pen.headings(style, &columns)?;

    let mut stages: Vec<Load> = account.stages.iter().map(|_| Load::default()).collect();
    let mut kit = Load::default();
    for (index, share) in by_stage::entries(account) {
        masses.add(&mut stages[share.stage], index, share.required);
    }
    for (index, item) in account.items.iter().enumerate() {
        let pieces = item.sums.required;
        if pieces == 0 {
            continue;
        }
        masses.add(&mut kit, index, pieces);
        pen.row()?
            .text(&item.text, &style.wrap)?
            .number(pieces, &style.number)?;
        match masses.piece(index) {
            Some(mass) => {
                pen.decimal(mass.grams, &style.decimal)?;
                in_all(&mut pen, style, mass.grams * pieces as f64, pounds)?;
                pen.blank(&style.cell)?
                    .text(&masses.says(mass), &style.wrap)?
                    .blank(&style.cell)?;
            }
            None => {
                pen.text("not known", &style.number)?;
                for _ in 4..columns.len() {
                    pen.blank(&style.cell)?;
                }
                pen.text(no_table(&item.item), &style.wrap)?;
            }
        }
    }
    let mut loads: Vec<(String, &Load)> = Vec::new();
    for (stage, load) in stages.iter().enumerate().filter(|(_, l)| l.pieces > 0) {
        loads.push((wording::stage(account, stage), load));
    }
    section(&mut pen, report, "By stage, all kits", &loads, None, pounds)?;
    let tare = report.job.bag_tare_g;
    let (bags, boxes) = (masses.bags(), masses.boxes());
    let called = |noun: &str, containers: &indexmap::IndexMap<&str, Load>| -> Vec<String> {
        containers
            .keys()
            .map(|name| format!("{noun} {name}"))
            .collect()
    };
    for (title, names, containers, tare) in [
        ("By bag", called("bag", &bags), &bags, tare),
        ("By box", called("box", &boxes), &boxes, None),
    ] {
        let loads: Vec<(String, &Load)> = names.into_iter().zip(containers.values()).collect();
        section(&mut pen, report, title, &loads, Some(tare), pounds)?;
    }
    let all = [("all pieces".to_owned(), &kit)];
    section(&mut pen, report, "The job", &all, None, pounds)?;
    pen.end_table(heading, &columns)?;
    pen.print(Some(heading), &report.footer())
}

/// A mass of so many grams.
fn in_all(pen: &mut Pen<'_>, style: &Style, grams: f64, pounds: bool) -> Result<(), XlsxError> {
    pen.decimal(grams / 1000.0, &style.decimal)?;
    if pounds {
        pen.decimal(grams / POUND_G, &style.decimal)?;
    }
    Ok(())
}

/// Rows of loads under a title; of bags and boxes, with their own weight where it is known, and with
/// what weighing could not see.
fn section(
    pen: &mut Pen<'_>,
    report: &Report<'_>,
    title: &str,
    loads: &[(String, &Load)],
    container: Option<Option<u32>>,
    pounds: bool,
) -> Result<(), XlsxError> {
    let style = &report.style;
    if loads.is_empty() {
        return Ok(());
    }
    pen.row()?.text(title, &style.strong)?;
    for _ in 1..COLUMNS.len() - usize::from(!pounds) {
        pen.blank(&style.cell)?;
    }
    for (name, load) in loads {
        let mut look: Vec<String> = left_out(report, load).into_iter().collect();
        if load.open {
            look.push("▲ less than this, if the weights of the list are of whole rows".to_owned());
        }
        let mut grams = load.grams;
        if let Some(tare) = container {
            look.extend(unseen(report, load));
            if let Some(tare) = tare {
                grams += f64::from(tare);
                look.push(format!("with the bag's own {tare} g"));
            }
            if load.usual_spread {
                look.push("how much pieces vary is taken as usual, 1 %".to_owned());
            }
        }
        pen.row()?
            .text(name, &style.wrap)?
            .number(load.pieces, &style.number)?
            .blank(&style.cell)?;
        in_all(pen, style, grams, pounds)?;
        pen.decimal(load.tolerance() / 1000.0, &style.decimal)?
            .text(rests_on(load), &style.wrap)?
            .text(&look.join("; "), &style.wrap)?;
    }
    Ok(())
}
