//! The claim on paper: one page of heading lines and tables, written as a sheet or as CSV.

mod csv;
pub mod page;
pub mod table;
mod tables;
#[cfg(test)]
mod tests;

use std::{fs::File, path::Path};

use super::{file, workbook};
use crate::{
    Error, Result,
    kit::{Job, List},
    settle::{Account, Claim},
};
use csv::csv;
use page::Page;

/// What a claim can be written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Workbook,
    Csv,
}

impl Kind {
    fn of(path: &Path) -> Result<Kind> {
        let ending = path.extension().unwrap_or_default();
        if ending.eq_ignore_ascii_case("xlsx") {
            Ok(Kind::Workbook)
        } else if ending.eq_ignore_ascii_case("csv") {
            Ok(Kind::Csv)
        } else {
            Err(Error::Output {
                path: path.to_owned(),
                found: "a claim is written as a workbook or as CSV, and this name says neither"
                    .to_owned(),
                todo: "end the name in .xlsx or .csv".to_owned(),
            })
        }
    }
}

/// Refuses a path that [`write()`] could not write, before any work is done.
///
/// # Errors
/// [`Error::Output`]: an ending other than `.xlsx` and `.csv`, a folder, a missing folder, an existing
/// file without `force`.
pub fn refuse_existing(path: &Path, force: bool) -> Result<()> {
    Kind::of(path)?;
    file::check_path(path, force)
}

/// Writes the claim, whole or not at all: a workbook of one sheet or CSV, by the ending of `path`.
///
/// # Errors
/// [`Error::Output`] for a path that cannot be written, or that exists without `force`.
pub fn write(path: &Path, force: bool, job: &Job, lists: &[List], account: &Account) -> Result<()> {
    let page = Page::of(job, lists, account, &Claim::of(job, lists, account));
    let kind = Kind::of(path)?;
    file::replace(path, force, |out: &mut File| match kind {
        Kind::Csv => csv(&page, out),
        Kind::Workbook => workbook::write_claim(job, &page, out),
    })
}
