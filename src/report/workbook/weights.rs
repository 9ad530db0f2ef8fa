//! Weights: what a piece, a stage and a bag weigh by the standard tables, and what a scale could not
//! see missing from a bag.

use indexmap::IndexMap;
use rust_xlsxwriter::{Workbook, XlsxError};

use super::{
    Report, by_stage,
    sheet::{Column, Pen},
    style::{self, Paper},
};
use crate::{
    hardware::{Item, Kind, mass},
    kit::{Role, Usage, What},
    report::wording,
};

pub const NAME: &str = "Weights";

const COLUMNS: [Column; 6] = [
    Column::words("What", 44.0),
    Column::number("Pieces"),
    Column::number("One piece, g"),
    Column::number("In all, kg"),
    Column::number("Give or take, kg"),
    Column::words("Look", 70.0),
];
/// Items of a bag that are named before "and N more".
const FEW: usize = 6;

/// How far the tables may be from a piece: within 8 % for bolts and screws and 12 % for nuts and
/// washers at worst, of published masses (the accuracy that tests/hardware.rs asserts).
fn error_of(item: &Item) -> f64 {
    match item.kind {
        Some(Kind::Nut | Kind::Washer) => 0.12,
        _ => 0.08,
    }
}

/// Pieces and their weight, as far as the tables reach.
#[derive(Default)]
struct Load<'a> {
    pieces: u64,
    grams: f64,
    /// Squares of what each item may be out by.
    variance: f64,
    /// Each item and the grams of one piece.
    known: Vec<(&'a Item, f64)>,
    unknown: Vec<&'a Item>,
}

impl<'a> Load<'a> {
    fn add(&mut self, item: &'a Item, pieces: u64) {
        self.pieces = self.pieces.saturating_add(pieces);
        match mass(item) {
            Some(one) => {
                let all = one.0 * pieces as f64;
                self.grams += all;
                self.variance += (all * error_of(item)).powi(2);
                self.known.push((item, one.0));
            }
            None => self.unknown.push(item),
        }
    }

    fn tolerance(&self) -> f64 {
        self.variance.sqrt()
    }

    /// What the weight leaves out, and which missing pieces it could not show.
    fn look(&self) -> String {
        let mut notes = Vec::new();
        if !self.unknown.is_empty() {
            notes.push(format!(
                "without a table, not weighed: {}",
                named(&self.unknown)
            ));
        }
        // One piece shows where it is heavier than the whole is uncertain.
        let mut unseen: Vec<&(&Item, f64)> = self
            .known
            .iter()
            .filter(|(_, grams)| *grams < self.tolerance())
            .collect();
        unseen.sort_by(|a, b| a.1.total_cmp(&b.1));
        let items: Vec<&Item> = unseen.iter().map(|(item, _)| *item).collect();
        if !items.is_empty() {
            notes.push(match items.len() == self.known.len() {
                true => {
                    "one missing piece cannot be seen by weight, of any item: count them".to_owned()
                }
                false => format!(
                    "one missing piece cannot be seen by weight: count {}",
                    named(&items)
                ),
            });
        }
        notes.join("; ")
    }
}

fn named(items: &[&Item]) -> String {
    let mut names: Vec<String> = Vec::new();
    for item in items {
        let text = item.text();
        if !names.contains(&text) {
            names.push(text);
        }
    }
    let more = names.len().saturating_sub(FEW);
    names.truncate(FEW);
    if more > 0 {
        names.push(format!("and {more} more"));
    }
    names.join(", ")
}

/// What each bag of one kit holds, by the required lists where they name bags, else by the slips.
fn bags<'a>(report: &Report<'a>) -> IndexMap<&'a str, Load<'a>> {
    let of = |role: Role| {
        let mut bags: IndexMap<&'a str, IndexMap<&'a Item, u64>> = IndexMap::new();
        for list in report.lists.iter().filter(|list| list.role == role) {
            for line in &list.lines {
                let placement = list.placement_of(line);
                let built = placement
                    .option
                    .as_ref()
                    .is_none_or(|rule| rule.holds(&report.job.with));
                let packed = !matches!(
                    placement.usage,
                    Some(usage) if usage != Usage::New
                );
                let (What::Item(reading), Some(bag), true, true) =
                    (&line.what, placement.bag.as_deref(), built, packed)
                else {
                    continue;
                };
                let item = &list.readings[*reading as usize].item;
                let pieces = line
                    .quantity
                    .unwrap_or(0)
                    .saturating_mul(line.places.into());
                if item.kind != Some(Kind::Part) {
                    let sum = bags.entry(bag).or_default().entry(item).or_default();
                    *sum = sum.saturating_add(pieces);
                }
            }
        }
        bags
    };
    let mut bags = of(Role::Required);
    if bags.is_empty() {
        bags = of(Role::Shipped);
    }
    bags.into_iter()
        .map(|(bag, items)| {
            let mut load = Load::default();
            for (item, pieces) in items {
                load.add(item, pieces);
            }
            (bag, load)
        })
        .collect()
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let (style, account) = (&report.style, report.account);
    let sheet = workbook.add_worksheet().set_name(NAME)?;
    let mut pen = Pen::on(sheet);
    pen.tall(30.0)?.plain("Weights", &style.title)?;
    pen.row()?.plain(
        "Hardware only, by geometry from the standard tables: a rough plan, for lifting and packing. To check a bag, weigh one that is known to be right.",
        &style.subtitle,
    )?;
    let heading = pen.headings(style, &COLUMNS)?;

    let mut stages: Vec<Load<'_>> = account.stages.iter().map(|_| Load::default()).collect();
    let mut kit = Load::default();
    for (index, share) in by_stage::entries(account) {
        let item = &account.items[index].item;
        if item.kind != Some(Kind::Part) {
            stages[share.stage].add(item, share.required);
        }
    }
    let hardware = account
        .items
        .iter()
        .filter(|i| i.sums.required > 0 && i.item.kind != Some(Kind::Part));
    for item in hardware {
        kit.add(&item.item, item.sums.required);
        let one = mass(&item.item).map(|mass| mass.0);
        pen.row()?
            .text(&item.text, &style.wrap)?
            .number(item.sums.required, &style.number)?;
        match one {
            Some(grams) => pen
                .decimal(grams, &style.decimal)?
                .decimal(grams * item.sums.required as f64 / 1000.0, &style.decimal)?
                .blank(&style.cell)?
                .blank(&style.cell)?,
            None => pen
                .text("no table", &style.number)?
                .blank(&style.cell)?
                .blank(&style.cell)?
                .text(
                    "the size or style is in no table, or the list leaves it open",
                    &style.wrap,
                )?,
        };
    }
    let mut loads: Vec<(String, &Load<'_>)> = Vec::new();
    for (stage, load) in stages.iter().enumerate().filter(|(_, l)| l.pieces > 0) {
        loads.push((wording::stage(account, stage), load));
    }
    section(&mut pen, report, "By stage, all kits", &loads, false)?;
    let bags = bags(report);
    let named: Vec<(String, &Load<'_>)> = bags
        .iter()
        .map(|(bag, load)| (format!("bag {bag}"), load))
        .collect();
    section(&mut pen, report, "By bag, one kit", &named, true)?;
    let all = [("all hardware".to_owned(), &kit)];
    section(&mut pen, report, "The job", &all, false)?;
    pen.end_table(heading, &COLUMNS)?;
    style::print(
        pen.sheet(),
        &Paper::Landscape,
        Some(heading),
        &report.footer(),
    )
}

/// Rows of loads under a title; of bags, with what weighing could not see.
fn section(
    pen: &mut Pen<'_>,
    report: &Report<'_>,
    title: &str,
    loads: &[(String, &Load<'_>)],
    bags: bool,
) -> Result<(), XlsxError> {
    let style = &report.style;
    if loads.is_empty() {
        return Ok(());
    }
    pen.row()?.text(title, &style.strong)?;
    for _ in 1..COLUMNS.len() {
        pen.blank(&style.cell)?;
    }
    for (name, load) in loads {
        let look = match bags {
            true => load.look(),
            false if load.unknown.is_empty() => String::new(),
            false => format!("without a table, not weighed: {}", named(&load.unknown)),
        };
        pen.row()?
            .text(name, &style.wrap)?
            .number(load.pieces, &style.number)?
            .blank(&style.cell)?
            .decimal(load.grams / 1000.0, &style.decimal)?
            .decimal(load.tolerance() / 1000.0, &style.decimal)?
            .text(&look, &style.wrap)?;
    }
    Ok(())
}
