//! The claim on paper: one page of heading lines and tables, written as a sheet or as CSV.

mod csv;
mod tables;
#[cfg(test)]
mod tests;

use std::{fs::File, path::Path};

use self::{csv::csv, tables::Writing};
use super::{file, wording, workbook};
use crate::{
    Error, Result,
    kit::{Job, List},
    settle::{Account, Claim, claim::Cause},
};

/// Columns of every table of the page. The eighth is named by its table.
pub const COLUMNS: [&str; 14] = [
    "No.",
    "Why",
    "Item",
    "Bag",
    "Required",
    "On the slip",
    "By count",
    PIECES,
    "Finding",
    "What it stops",
    "Where it says so",
    "Counted by",
    "Photo",
    "Remark",
];
/// The heading that each table has its own word for.
pub const PIECES: &str = "Pieces";

/// Heading lines to be filled in by hand, where the job file has none.
const HEADING: [&str; 10] = [
    "From",
    "To",
    "Order",
    "Kit",
    "Packing slip",
    "Received",
    "Claim window",
    "Remedy wanted",
    "Ship to",
    "Needed by",
];

const SIGNATURES: [&str; 4] = [
    "Claimed by",
    "Date and signature",
    "For the kit maker",
    "Date and signature",
];

/// Beside those of every report.
const CAUTION: &str = "Keep damaged and surplus pieces apart, with a photo of each as found, until the \
                       kit maker says what becomes of them.";

/// What stands in a cell of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cell {
    Text(String),
    Number(u64),
    Blank,
}

impl From<Option<u64>> for Cell {
    fn from(number: Option<u64>) -> Cell {
        number.map_or(Cell::Blank, Cell::Number)
    }
}

pub type Row = [Cell; COLUMNS.len()];

/// One table of the page.
#[derive(Debug, Clone)]
pub struct Table {
    pub title: String,
    /// One sentence.
    pub note: String,
    /// What the pieces of this table are called.
    pub pieces: &'static str,
    pub rows: Vec<Row>,
}

impl Table {
    /// The headings of its columns.
    pub fn headings(&self) -> [&str; COLUMNS.len()] {
        COLUMNS.map(|heading| match heading {
            PIECES => self.pieces,
            heading => heading,
        })
    }
}

/// A claim, ready to be written.
pub struct Page {
    pub title: String,
    /// Name and value, in order.
    pub heading: Vec<(String, String)>,
    /// How much is claimed, in one sentence.
    pub summary: String,
    pub tables: Vec<Table>,
    pub cautions: Vec<&'static str>,
    pub signatures: [&'static str; 4],
}

impl Page {
    /// Draws up the page; `None` where there is nothing to claim and no heading for a claim.
    pub fn of_job(job: &Job, lists: &[List], account: &Account) -> Option<Page> {
        let claim = Claim::of(job, lists, account);
        let wanted = !claim.claimed.is_empty() || !job.claim.is_empty();
        wanted.then(|| Page::of(job, lists, account, &claim))
    }

    fn of(job: &Job, lists: &[List], account: &Account, claim: &Claim) -> Page {
        let mut heading = vec![(
            "Job".to_owned(),
            format!("{} ({})", job.name, wording::job(job)),
        )];
        match job.claim.is_empty() {
            true => heading.extend(HEADING.map(|name| (name.to_owned(), String::new()))),
            false => heading.extend(job.claim.iter().map(|(k, v)| (k.clone(), v.clone()))),
        }
        heading.extend(lists.iter().map(edition));
        let mut tables = Writing {
            job,
            lists,
            account,
            claim,
            number: 0,
        }
        .tables();
        tables.retain(|table| !table.rows.is_empty());
        let [instructions, structural, _, licensed] = wording::CAUTIONS;
        Page {
            title: "Claim for missing and damaged pieces".to_owned(),
            heading,
            summary: summary(claim, account),
            tables,
            cautions: vec![instructions, structural, licensed, CAUTION],
            signatures: SIGNATURES,
        }
    }
}

/// A list with its revision and date: the claim stands on these and no others.
fn edition(list: &List) -> (String, String) {
    let mut text = list.file.clone();
    match &list.revision {
        Some(revision) => text.push_str(&format!(", revision {revision}")),
        None => text.push_str(", no revision stated"),
    }
    match &list.date {
        Some(date) => text.push_str(&format!(", dated {date}")),
        None => text.push_str(", no date stated"),
    }
    (format!("List: {}", list.role), text)
}

/// How much is claimed; what is back-ordered is asked after and not claimed again.
fn summary(claim: &Claim, account: &Account) -> String {
    let [missing, damaged, to_follow, not_received] = [
        Cause::Missing,
        Cause::Damaged,
        Cause::BackOrdered,
        Cause::NotReceived,
    ]
    .map(|cause| claim.pieces(cause));
    let parts: Vec<String> = [
        (missing, "missing"),
        (damaged, "damaged"),
        (not_received, "in bags or boxes not received"),
    ]
    .into_iter()
    .filter(|(pieces, _)| *pieces > 0)
    .map(|(pieces, why)| format!("{pieces} {why}"))
    .collect();
    let mut summary = match parts.as_slice() {
        [] => "Nothing is claimed.".to_owned(),
        _ => format!(
            "Claimed: {}: {}.",
            crate::words::count(missing + damaged + not_received, "piece"),
            parts.join(", ")
        ),
    };
    if to_follow > 0 {
        summary.push_str(&format!(
            " Back-ordered: {}.",
            crate::words::count(to_follow, "piece")
        ));
    }
    if let [first, later @ ..] = account.parcels.as_slice() {
        let closed: u64 = later.iter().map(|parcel| parcel.closed).sum();
        summary.push_str(&format!(
            " Of {} asked for when the first parcel had come, later ones closed {closed}.",
            crate::words::count(first.open, "piece")
        ));
    }
    summary
}

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
