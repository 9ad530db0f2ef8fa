//! The shortage and bin-layout workbook, a file a sheet.

mod bags;
mod bins;
mod by_stage;
mod check;
mod count_sheet;
mod every_line;
mod file;
mod sheet;
mod shortages;
mod style;
mod summary;

use std::{io, path::Path};

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, XlsxError};

use crate::{
    Result,
    bins::Layout,
    kit::{Job, List},
    settle::Account,
};
use style::Style;

/// All that the sheets are written from.
struct Report<'a> {
    job: &'a Job,
    lists: &'a [List],
    account: &'a Account,
    layout: &'a Layout,
    style: Style,
    /// When the job was settled, as `2026-03-14 09:26`.
    when: String,
}

impl Report<'_> {
    /// The left part of every page's foot: the job and the time. `&` starts a code there.
    fn footer(&self) -> String {
        let name: String = self.job.name.chars().take(80).collect();
        format!("{}, {}", name.replace('&', "&&"), self.when)
    }
}

/// Refuses an output path that [`write()`] could not write, before any work is done: a directory, a
/// missing folder, an existing file without `force`.
///
/// # Errors
/// [`crate::Error::Output`], with what to do.
pub fn refuse_existing(path: &Path, force: bool) -> Result<()> {
    file::check_path(path, force)
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
) -> Result<()> {
    let now = jiff::ZonedDateTime::now().datetime();
    file::replace(path, force, |out| {
        let mut workbook = fill(job, lists, account, layout, now).map_err(io::Error::other)?;
        workbook.save_to_writer(out).map_err(io::Error::other)
    })
}

/// The whole workbook as of a time.
fn fill(
    job: &Job,
    lists: &[List],
    account: &Account,
    layout: &Layout,
    now: jiff::civil::DateTime,
) -> std::result::Result<Workbook, XlsxError> {
    let report = Report {
        job,
        lists,
        account,
        layout,
        style: Style::new(),
        when: now.strftime("%Y-%m-%d %H:%M").to_string(),
    };
    let mut workbook = Workbook::new();
    workbook.set_default_format(&style::base(), 18, 64)?;
    let created = ExcelDateTime::from_ymd(now.year() as u16, now.month() as u8, now.day() as u8)?
        .and_hms(now.hour() as u16, now.minute() as u8, 0.0)?;
    workbook.set_properties(
        &DocProperties::new()
            .set_title(&job.name)
            .set_author("tallybin")
            .set_creation_datetime(&created),
    );
    summary::write(&mut workbook, &report)?;
    shortages::write(&mut workbook, &report)?;
    by_stage::write(&mut workbook, &report)?;
    bins::write(&mut workbook, &report)?;
    count_sheet::write(&mut workbook, &report)?;
    bags::write(&mut workbook, &report)?;
    check::write(&mut workbook, &report)?;
    every_line::write(&mut workbook, &report)?;
    Ok(workbook)
}
