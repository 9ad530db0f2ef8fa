//! The shortage and bin-layout workbook, a file a sheet.

mod bags;
mod bins;
mod buy;
pub(super) mod by_stage;
pub(super) mod check;
mod claim_sheet;
mod count_sheet;
mod every_line;
mod formula;
mod labels;
mod left_over;
mod live;
mod measure;
mod packing;
mod patient;
mod put_back;
mod questions;
mod sheet;
pub(super) mod shortages;
pub(super) mod style;
mod summary;
mod tightening;
mod tools;
mod weights;

#[cfg(test)]
mod tests;

use std::{fs::File, io, path::Path};

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, XlsxError};

use super::{
    claim::page::Page,
    file,
    masses::Masses,
    packing::{packs::Packs, slip::Slip},
};
use crate::{
    Result,
    audit::Audit,
    bins::Layout,
    kit::{Job, List},
    settle::Account,
    shield::shield,
};
use live::Live;
use patient::Patient;
use sheet::SHEET_ROWS;
use style::Style;

/// How hard sheets are compressed, of 1 to 9: a large workbook takes about a sixth less time than at
/// the usual 6, and is a twentieth larger.
const COMPRESSION: u8 = 4;

/// All that the sheets are written from.
pub(super) struct Report<'a> {
    job: &'a Job,
    lists: &'a [List],
    account: &'a Account,
    layout: &'a Layout,
    audit: &'a Audit,
    masses: Masses<'a>,
    /// The lines of the Count sheet.
    counts: Vec<count_sheet::Entry<'a>>,
    /// What follows them; `None` where nothing does.
    live: Option<Live>,
    style: Style,
    /// When the job was settled, as `2026-03-14 09:26`.
    when: String,
}

impl<'a> Report<'a> {
    fn new(
        job: &'a Job,
        lists: &'a [List],
        account: &'a Account,
        layout: &'a Layout,
        audit: &'a Audit,
        when: String,
    ) -> Report<'a> {
        let counts = count_sheet::entries(lists, account);
        Report {
            job,
            lists,
            account,
            layout,
            audit,
            masses: Masses::of(job, lists, account),
            live: Live::of(job, account, &counts),
            counts,
            style: Style::new(),
            when,
        }
    }

    fn footer(&self) -> String {
        footer(self.job, &self.when)
    }
}

/// The left part of every page's foot: the job and the time. `&` starts a code there.
fn footer(job: &Job, when: &str) -> String {
    footer_of(&job.name, when)
}

fn footer_of(name: &str, when: &str) -> String {
    let name: String = name.chars().take(80).collect();
    format!("{}, {when}", name.replace('&', "&&"))
}

/// A time as people read it: `2026-03-14 09:26`.
fn shown(time: jiff::civil::DateTime) -> String {
    time.strftime("%Y-%m-%d %H:%M").to_string()
}

/// Writes the workbook to a temporary file beside `path` and renames it, so that a run that fails
/// leaves an older report whole and nothing else behind.
///
/// # Errors
/// [`crate::Error::Output`] for a path that cannot be written, or that exists without `force`.
pub fn write(
    path: &Path,
    force: bool,
    job: &Job,
    lists: &[List],
    account: &Account,
    layout: &Layout,
    audit: &Audit,
) -> Result<()> {
    let now = jiff::ZonedDateTime::now().datetime();
    file::replace(path, force, |out| {
        let workbook = fill(job, lists, account, layout, audit, now).map_err(io::Error::other)?;
        save(workbook, out)
    })
}

/// Saves a workbook; the writer panics where it cannot read or write its temporary files.
fn save(mut workbook: Workbook, out: &mut File) -> io::Result<()> {
    let mut out = Patient::of(out);
    let saved = shield(|| workbook.save_to_writer(&mut out));
    match (out.failed, saved) {
        (Some(error), _) => Err(error),
        (None, Some(saved)) => saved.map_err(io::Error::other),
        (None, None) => Err(no_room()),
    }
}

/// What the writer's panic means.
fn no_room() -> io::Error {
    io::Error::other("there is no room for temporary files")
}

/// Writes the claim as a workbook of its own.
///
/// # Errors
/// What the writer reports.
pub fn write_claim(job: &Job, page: &Page, out: &mut File) -> io::Result<()> {
    write_alone(&page.title, out, |workbook, when| {
        claim_sheet::write(workbook, page, &Style::new(), &footer(job, when))
    })
}

/// Writes what can be packed from stock.
///
/// # Errors
/// What the writer reports.
pub fn write_packing(packs: &Packs, out: &mut File) -> io::Result<()> {
    write_alone("Packing", out, |workbook, when| {
        packing::write(workbook, packs, &Style::new(), when)
    })
}

/// Writes one kit's packing slip.
///
/// # Errors
/// What the writer reports.
pub fn write_slip(slip: &Slip, out: &mut File) -> io::Result<()> {
    write_alone("Packing slip", out, |workbook, when| {
        packing::slip(workbook, slip, &Style::new(), when)
    })
}

/// Writes a workbook that is no report on a job; `fill` is told when it is written.
fn write_alone(
    title: &str,
    out: &mut File,
    fill: impl FnOnce(&mut Workbook, &str) -> std::result::Result<(), XlsxError>,
) -> io::Result<()> {
    let now = jiff::ZonedDateTime::now().datetime();
    let filled = empty(title, now).and_then(|mut workbook| {
        fill(&mut workbook, &shown(now))?;
        Ok(workbook)
    });
    save(filled.map_err(io::Error::other)?, out)
}

/// A workbook without sheets, in the house's type.
fn empty(title: &str, now: jiff::civil::DateTime) -> std::result::Result<Workbook, XlsxError> {
    let mut workbook = Workbook::new();
    workbook.set_default_format(&style::base(), 18, 64)?;
    workbook.set_zip_compression_level(COMPRESSION);
    let created = ExcelDateTime::from_ymd(now.year() as u16, now.month() as u8, now.day() as u8)?
        .and_hms(now.hour() as u16, now.minute() as u8, 0.0)?;
    workbook.set_properties(
        &DocProperties::new()
            .set_title(title)
            .set_author("tallybin")
            .set_creation_datetime(&created),
    );
    Ok(workbook)
}

/// The whole workbook as of a time.
fn fill(
    job: &Job,
    lists: &[List],
    account: &Account,
    layout: &Layout,
    audit: &Audit,
    now: jiff::civil::DateTime,
) -> std::result::Result<Workbook, XlsxError> {
    let report = Report::new(job, lists, account, layout, audit, shown(now));
    let mut workbook = empty(&job.name, now)?;
    report.style.register(&mut workbook)?;
    let mut lines = every_line::sheets(&mut workbook, &report, SHEET_ROWS)?;
    let (others, all_lines) = rayon::join(
        || others(&mut workbook, &report),
        || every_line::write(&mut lines, &report, SHEET_ROWS),
    );
    others.and(all_lines)?;
    for sheet in lines {
        workbook.push_worksheet(sheet);
    }
    Ok(workbook)
}

/// All sheets but Every line, which has as many rows as they have together.
fn others(workbook: &mut Workbook, report: &Report<'_>) -> std::result::Result<(), XlsxError> {
    summary::write(workbook, report)?;
    shortages::write(workbook, report)?;
    by_stage::write(workbook, report)?;
    bins::write(workbook, report)?;
    count_sheet::write(workbook, report)?;
    bags::write(workbook, report)?;
    put_back::write(workbook, report)?;
    buy::write(workbook, report)?;
    left_over::write(workbook, report)?;
    labels::write(workbook, report)?;
    if let Some(page) = Page::of_job(report.job, report.lists, report.account) {
        claim_sheet::write(workbook, &page, &report.style, &report.footer())?;
    }
    tightening::write(workbook, report)?;
    tools::write(workbook, report)?;
    weights::write(workbook, report)?;
    questions::write(workbook, report)?;
    check::write(workbook, report)
}
