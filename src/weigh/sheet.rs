//! A sheet of weighings: one a row, under headings.
//!
//! | heading | what |
//! | --- | --- |
//! | item | what was weighed |
//! | sample pieces | pieces of the sample; several samples are joined by `+`: `10+10+10` |
//! | sample weight | its weight without a container; `123.4+124.0+123.9` for several |
//! | batch weight | the weight of the batch, with its container where there is a tare |
//! | tare | the batch's container |
//! | unit | of all the weights: g, kg, oz, lb; g if none is stated anywhere |
//! | resolution | the smallest step of the scale, in that unit |
//! | variation | how much single pieces vary, standard deviation in percent of their mean |
//! | sample counts | yes: the sample came out of the batch, and is to be added to it; no: it did not |
//!
//! Sample pieces, sample weight and batch weight must be there; the order is free.

use std::{ops::ControlFlow, path::Path};

use super::{
    Count, Sample, Unweighable, Weighing,
    weight::{BadWeight, Scale},
};
use crate::{
    error::{self, At, Error},
    names::names,
    source::{Document, Limits, Row},
};

names! {
    /// What stands under a heading.
    pub enum Column {
        Item = "item",
        SamplePieces = "sample pieces",
        SampleWeight = "sample weight",
        BatchWeight = "batch weight",
        Tare = "tare",
        Unit = "unit",
        Resolution = "resolution",
        Variation = "variation",
        SampleCounts = "sample counts",
    }
}

/// Without these no row can be counted.
const NEEDED: [Column; 3] = [
    Column::SamplePieces,
    Column::SampleWeight,
    Column::BatchWeight,
];

/// The heading row stands in one of so many rows.
const HEADING_WITHIN: u64 = 30;

/// One weighing as written. Blank texts are not stated.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Written {
    pub item: String,
    /// Pieces and weight of each sample.
    pub samples: Vec<(String, String)>,
    pub batch: String,
    pub tare: String,
    pub unit: String,
    pub resolution: String,
    /// In percent.
    pub variation: String,
}

/// Why a weighing as written gives no count.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Problem {
    #[error("{0} sample pieces and {1} sample weights")]
    Unpaired(usize, usize),
    #[error("\"{0}\" is not a count of pieces")]
    Pieces(String),
    #[error("\"{0}\" is not a percentage")]
    Percent(String),
    #[error("no batch weight")]
    NoBatchWeight,
    #[error(transparent)]
    Weight(#[from] BadWeight),
    #[error(transparent)]
    Unweighable(#[from] Unweighable),
}

impl Problem {
    /// What to do about it.
    pub fn todo(&self) -> &'static str {
        match self {
            Problem::Unpaired(..) => "give each sample its pieces and its weight",
            Problem::Pieces(_) => "write a whole number",
            Problem::Percent(_) => "write a plain number such as 1.5",
            Problem::NoBatchWeight => "weigh the batch",
            Problem::Weight(bad) => bad.todo(),
            Problem::Unweighable(bad) => bad.todo(),
        }
    }
}

/// A row of the sheet: counted, or the reason why it stays not counted.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// From 1, as in the file.
    pub row: u32,
    pub item: String,
    /// The row as written, cells joined by ` | `.
    pub text: String,
    pub count: Result<Count, Problem>,
    /// Whether the sample is to be added to the batch; `None`: nobody says.
    pub sample_counts: Option<bool>,
}

impl Entry {
    /// Pieces in all: those weighed, and those of the sample where they are to be added.
    pub fn pieces(&self) -> Option<u64> {
        let count = self.count.as_ref().ok()?;
        match self.sample_counts {
            Some(true) => count.count.checked_add(count.sample_pieces),
            _ => Some(count.count),
        }
    }
}

/// All of a sheet of weighings.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighings {
    pub entries: Vec<Entry>,
    /// With headings and blank rows.
    pub rows: u64,
}

impl Written {
    /// Counts the batch.
    ///
    /// # Errors
    /// What is missing or wrong in it.
    pub fn count(&self) -> Result<Count, Problem> {
        if is_blank(&self.batch) {
            return Err(Problem::NoBatchWeight);
        }
        let scale = Scale {
            unit: stated(&self.unit),
            resolution: stated(&self.resolution),
        };
        let tare = stated(&self.tare);
        let mut texts = vec![self.batch.as_str()];
        texts.extend(tare);
        texts.extend(self.samples.iter().map(|(_, weight)| weight.as_str()));
        let mut weights = scale.read(&texts)?.into_iter();
        // The scale gives back as many weights as it was given texts.
        let batch = weights.next().ok_or(Problem::NoBatchWeight)?;
        let tare = tare.and_then(|_| weights.next());
        let pieces = |text: &str| {
            let text = text.trim();
            text.parse().map_err(|_| Problem::Pieces(text.to_owned()))
        };
        let samples = std::iter::zip(&self.samples, weights)
            .map(|((count, _), weight)| {
                Ok(Sample {
                    pieces: pieces(count)?,
                    weight,
                })
            })
            .collect::<Result<_, Problem>>()?;
        let variation = stated(&self.variation).map(percent).transpose()?;
        let weighing = Weighing {
            samples,
            batch,
            tare,
            variation,
        };
        Ok(weighing.count()?)
    }
}

/// Reads a sheet of weighings and counts each row.
///
/// # Errors
/// A file that cannot be read, or that has no row with the headings needed. A row that gives no
/// count is no error: it says why.
pub fn read(path: &Path, limits: &Limits) -> error::Result<Vec<Entry>> {
    if let Some(weighings) = find(path, limits)? {
        return Ok(weighings.entries);
    }
    Err(Error::input(
        At::file(path),
        format!(
            "no heading row with {}",
            NEEDED.map(|c| format!("\"{c}\"")).join(", ")
        ),
        format!(
            "head the columns with {}",
            Column::ALL
                .iter()
                .map(|c| format!("\"{c}\""))
                .collect::<Vec<_>>()
                .join(", ")
        ),
    ))
}

/// Reads a sheet of weighings, if that is what the file holds: the headings needed stand in one row.
///
/// # Errors
/// A file that cannot be read.
pub fn find(path: &Path, limits: &Limits) -> error::Result<Option<Weighings>> {
    let mut document = Document::open(path, limits)?;
    if document.sheets().is_empty() {
        return Ok(None);
    }
    let mut columns: Option<Vec<Option<Column>>> = None;
    let mut entries = Vec::new();
    let mut rows = 0;
    document.rows(0, &mut |row| {
        rows += 1;
        match &columns {
            Some(_) if row.is_empty() => {}
            Some(columns) => entries.push(entry(row, columns)),
            None => {
                columns = headings(row);
                if columns.is_none() && rows == HEADING_WITHIN {
                    return Ok(ControlFlow::Break(()));
                }
            }
        }
        Ok(ControlFlow::Continue(()))
    })?;
    Ok(columns.map(|_| Weighings { entries, rows }))
}

/// What each column means, if the row has the headings needed.
fn headings(row: &Row) -> Option<Vec<Option<Column>>> {
    let columns: Vec<Option<Column>> = row
        .cells()
        .map(|(text, _)| {
            let heading = text.replace('_', " ").to_lowercase();
            heading
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
                .parse()
                .ok()
        })
        .collect();
    let found = |column| columns.contains(&Some(column));
    NEEDED.into_iter().all(found).then_some(columns)
}

fn entry(row: &Row, columns: &[Option<Column>]) -> Entry {
    let text = |wanted: Column| {
        let at = columns.iter().position(|column| *column == Some(wanted));
        at.map_or("", |at| row.get(at).trim())
    };
    let item = text(Column::Item).to_owned();
    let parts = |column| text(column).split('+').map(str::trim).collect::<Vec<_>>();
    let (pieces, weights) = (parts(Column::SamplePieces), parts(Column::SampleWeight));
    let count = match pieces.len() == weights.len() {
        false => Err(Problem::Unpaired(pieces.len(), weights.len())),
        true => Written {
            item: item.clone(),
            samples: std::iter::zip(pieces, weights)
                .map(|(pieces, weight)| (pieces.to_owned(), weight.to_owned()))
                .collect(),
            batch: text(Column::BatchWeight).to_owned(),
            tare: text(Column::Tare).to_owned(),
            unit: text(Column::Unit).to_owned(),
            resolution: text(Column::Resolution).to_owned(),
            variation: text(Column::Variation).to_owned(),
        }
        .count(),
    };
    let cells: Vec<&str> = row.cells().map(|(text, _)| text.trim()).collect();
    Entry {
        row: row.number,
        item,
        text: cells.join(" | "),
        count,
        sample_counts: match &*text(Column::SampleCounts).to_lowercase() {
            "yes" | "y" | "true" | "1" => Some(true),
            "no" | "n" | "false" | "0" => Some(false),
            _ => None,
        },
    }
}

/// A percentage as a fraction.
fn percent(text: &str) -> Result<f64, Problem> {
    let number = text.trim_end_matches('%').trim_end().replace(',', ".");
    match number.parse::<f64>() {
        Ok(percent) if percent.is_finite() => Ok(percent / 100.0),
        _ => Err(Problem::Percent(text.to_owned())),
    }
}

fn is_blank(text: &str) -> bool {
    text.trim().is_empty()
}

fn stated(text: &str) -> Option<&str> {
    (!is_blank(text)).then(|| text.trim())
}
