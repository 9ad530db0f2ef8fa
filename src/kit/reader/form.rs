//! Forms: fields that are labelled again on each line, or on each few lines, are columns, and their labels
//! the headings (common practice, no source).
//!
//! `Item: coat hook   Number needed: 6`, `Qty - 4 / Desc - post foot`, and in lines of their own
//! `Part: post cap`, `Quantity: 1`.

use std::{borrow::Cow, sync::LazyLock};

use indexmap::IndexMap;
use regex::Regex;

use crate::{
    columns::{Meaning, heading},
    source::{CellKind, Row},
    words::{fold, pattern},
};

/// The labels of a form, in the order of their columns, and the record that is being filled in.
#[derive(Debug)]
pub(super) struct Form {
    labels: Vec<String>,
    /// Blank lines stand between records, and none within.
    apart: bool,
    record: Option<Record>,
}

/// The fields of one item, from one line or several.
#[derive(Debug)]
pub(super) struct Record {
    /// A cell under each label.
    pub row: Row,
    /// The lines as they stand, a cell each.
    pub written: Row,
    /// Its first field, by which the others begin, stands behind another: that may be the end of a record that lacks it.
    pub may_be_two: bool,
    cells: Vec<Option<String>>,
}

impl Record {
    /// A record whose cells are known.
    pub fn of(row: Row, written: Row) -> Record {
        let cells = Vec::new();
        Record {
            row,
            written,
            may_be_two: false,
            cells,
        }
    }
}

/// What a line is to a form.
pub(super) enum Taken {
    /// It has nothing to do with it.
    Not,
    /// It begins a record.
    Begins,
    /// It goes on with one.
    GoesOn,
}

/// Records that make a form.
const ENOUGH: usize = 3;

impl Form {
    /// The form that the first lines are, and its records so far; the first row holds the labels.
    pub fn of(head: &[Row]) -> Option<(Form, Vec<Row>)> {
        let lines: Vec<Vec<&str>> = (head.iter())
            .map(|row| fields(row).into_iter().map(|(label, _)| label).collect())
            .collect();
        // By their folded labels: as first written, and how often.
        let mut times: IndexMap<String, (&str, usize)> = IndexMap::new();
        for label in lines.iter().flatten() {
            times.entry(fold(label)).or_insert((label, 0)).1 += 1;
        }
        // Two are enough where the labels are headings that say what and how many.
        let again = times.values().filter(|(_, times)| *times > 1);
        let enough = match are_told(again.map(|(label, _)| *label)) {
            true => 2,
            false => ENOUGH,
        };
        let (_, most) = *times.values().find(|(_, times)| *times >= enough)?;
        times.retain(|_, (_, times)| *times * 2 > most);
        let labels: Vec<String> = times
            .values()
            .map(|(label, _)| (*label).to_owned())
            .collect();
        let of_form = |line: &&Vec<&str>| {
            !line.is_empty() && line.iter().all(|label| times.contains_key(&fold(label)))
        };
        let filled = head.iter().filter(|row| !row.is_empty()).count();
        if labels.len() < 2 || lines.iter().filter(of_form).count() * 2 <= filled {
            return None;
        }
        let mut headings = Row::default();
        for label in &labels {
            headings.push(label, CellKind::Text);
        }
        let mut form = Form {
            apart: are_apart(&lines, &labels[0]),
            labels,
            record: None,
        };
        let mut rows = vec![headings];
        for row in head {
            rows.extend(form.take(row).1.map(|record| record.row));
        }
        rows.extend(form.end().map(|record| record.row));
        Some((form, rows))
    }

    /// True where its labels are headings that say what and how many.
    pub fn is_told(&self) -> bool {
        are_told(self.labels.iter().map(|label| &**label))
    }

    /// Takes a line, and hands on the record that ends before it.
    pub fn take(&mut self, row: &Row) -> (Taken, Option<Record>) {
        let fields = fields(row);
        let at = |label: &str| {
            let label = fold(label);
            self.labels.iter().position(|of| fold(of) == label)
        };
        let columns: Vec<usize> = fields.iter().filter_map(|(label, _)| at(label)).collect();
        if columns.len() < fields.len() || columns.is_empty() {
            let ends = self.apart || !row.is_empty();
            return (Taken::Not, ends.then(|| self.end()).flatten());
        }
        let again = |record: &Record| columns.iter().any(|&at| record.cells[at].is_some());
        let ended = match &self.record {
            Some(record) if again(record) => self.end(),
            _ => None,
        };
        let taken = match self.record {
            Some(_) => Taken::GoesOn,
            None => Taken::Begins,
        };
        let record = self.record.get_or_insert_with(|| {
            let mut begun = Record {
                row: Row::default(),
                written: Row::default(),
                may_be_two: false,
                cells: vec![None; self.labels.len()],
            };
            begun.row.start(row.number);
            begun.written.start(row.number);
            begun
        });
        record.may_be_two |= matches!(taken, Taken::GoesOn) && columns.contains(&0);
        for (at, (_, value)) in columns.into_iter().zip(fields) {
            record.cells[at] = Some(value.into_owned());
        }
        for (cell, kind) in row.cells().filter(|(cell, _)| !cell.is_empty()) {
            record.written.push(cell, kind);
        }
        (taken, ended)
    }

    /// The record that is not handed on yet.
    pub fn end(&mut self) -> Option<Record> {
        let mut record = self.record.take()?;
        for cell in &record.cells {
            match cell.as_deref().unwrap_or_default() {
                "" => record.row.push("", CellKind::Blank),
                cell => record.row.push(cell, CellKind::Text),
            }
        }
        Some(record)
    }
}

/// True where a blank line stands in front of each line that bears the label `first`, and seldom in front of another.
/// `lines`: the labels of each.
fn are_apart(lines: &[Vec<&str>], first: &str) -> bool {
    let first = fold(first);
    let begins = |line: &[&str]| line.iter().any(|label| fold(label) == first);
    let pairs = || {
        let pairs = lines.windows(2).map(|pair| (&pair[0], &pair[1]));
        pairs.filter(|(_, line)| !line.is_empty())
    };
    let records = pairs().filter(|(_, line)| begins(line)).count();
    let (mut above, mut within) = (0, 0);
    for (_, line) in pairs().filter(|(before, _)| before.is_empty()) {
        match begins(line) {
            true => above += 1,
            false => within += 1,
        }
    }
    records > 0 && above == records && within * 2 <= records
}

/// True for labels that are headings, of what and of how many.
fn are_told<'t>(labels: impl Iterator<Item = &'t str>) -> bool {
    let meanings: Vec<Meaning> = labels
        .filter_map(|label| Some(heading::recognise(label)?.meaning))
        .collect();
    let says = |meaning| meanings.contains(&meaning);
    says(Meaning::Quantity) && (says(Meaning::Description) || says(Meaning::PartNumber))
}

/// The labelled fields of a line, if it is nothing else: what has no label goes on with the field before it.
fn fields(row: &Row) -> Vec<(&str, Cow<'_, str>)> {
    static LABEL: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?x)^ ( \p{Alphabetic}[\p{Alphabetic}.'/]* (?: \s [\p{Alphabetic}.'/]+ ){0,2} ) (?: \s?[:=] | \s[–—-] ) (?: \s+ (.*) )? $",
        )
    });
    let mut fields: Vec<(&str, Cow<str>)> = Vec::new();
    let cells = row.cells().map(|(text, _)| text.trim());
    for cell in cells.filter(|cell| !cell.is_empty()) {
        for (mark, part) in parts(cell) {
            match (LABEL.captures(part), fields.last_mut()) {
                (Some(found), _) => {
                    let label = found.get(1).map_or("", |of| of.as_str());
                    let value = found.get(2).map_or("", |of| of.as_str());
                    fields.push((label, value.trim().into()));
                }
                (None, Some((_, value))) => {
                    let value = value.to_mut();
                    value.push_str(mark);
                    value.push_str(part);
                }
                (None, None) => return Vec::new(),
            }
        }
    }
    let known = |at: usize| {
        fields[..at]
            .iter()
            .any(|of| fold(of.0) == fold(fields[at].0))
    };
    match (0..fields.len()).any(known) {
        true => Vec::new(),
        false => fields,
    }
}

/// The parts of a cell between marks that may stand between fields, each with the mark before it.
fn parts(cell: &str) -> Vec<(&str, &str)> {
    static BETWEEN: LazyLock<Regex> = LazyLock::new(|| pattern(r"\s+[/|]\s+|[;,]\s+"));
    let mut parts = Vec::new();
    let (mut mark, mut from) = (" ", 0);
    for found in BETWEEN.find_iter(cell) {
        parts.push((mark, &cell[from..found.start()]));
        (mark, from) = (found.as_str(), found.end());
    }
    parts.push((mark, &cell[from..]));
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `expected`: the labels, then the records.
    #[track_caller]
    fn case(lines: &[&[&str]], expected: &[&[&str]]) {
        let row = |(at, cells): (usize, &&[&str])| {
            let mut row = Row::default();
            row.start(at as u32 + 1);
            for cell in *cells {
                row.push(cell, CellKind::Text);
            }
            row
        };
        let head: Vec<Row> = lines.iter().enumerate().map(row).collect();
        let rows = Form::of(&head).map_or(Vec::new(), |(_, rows)| rows);
        let cells = |row: &Row| row.cells().map(|(text, _)| text.to_owned()).collect();
        let found: Vec<Vec<String>> = rows.iter().map(cells).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn labels_on_each_line() {
        case(
            &[
                &["Request for the shelter"],
                &["Item: hex bolt M10 x 80, galv.", "Number needed: 24"],
                &["Item: post foot", "Number needed: 4"],
                &["Item: seal, black, 2 m", "Number needed: six"],
                &["Signed: O. Brandt", "Date: 3 June"],
            ],
            &[
                &["Item", "Number needed"],
                &["hex bolt M10 x 80, galv.", "24"],
                &["post foot", "4"],
                &["seal, black, 2 m", "six"],
            ],
        );
        case(
            &[
                &["Qty - 24 / Desc - hex bolt M10 x 80 / Cond - ok"],
                &["Qty - 6 / Desc - roof sheet / panel / Cond - 1 dented"],
                &["Qty - 4 / Desc - post foot / Cond - ok"],
            ],
            &[
                &["Qty", "Desc", "Cond"],
                &["24", "hex bolt M10 x 80", "ok"],
                &["6", "roof sheet / panel", "1 dented"],
                &["4", "post foot", "ok"],
            ],
        );
    }

    #[test]
    fn a_label_a_line() {
        case(
            &[
                &["Order: TF-2207"],
                &[],
                &["Part: rail clamp"],
                &["Quantity missing: 3"],
                &["Reason: not in the bag"],
                &[],
                &["Part: hex nut M10"],
                &["Quantity missing: 2"],
                &[],
                &["Part: post cap"],
                &["Quantity missing: 1"],
                &["Reason: broken"],
            ],
            &[
                &["Part", "Quantity missing", "Reason"],
                &["rail clamp", "3", "not in the bag"],
                &["hex nut M10", "2", ""],
                &["post cap", "1", "broken"],
            ],
        );
    }

    #[test]
    fn two_of_known_labels() {
        case(
            &[
                &["Part: post cap"],
                &["Qty: 4"],
                &[],
                &["Part: post foot"],
                &["Qty: 6"],
            ],
            &[&["Part", "Qty"], &["post cap", "4"], &["post foot", "6"]],
        );
        case(&[&["Posts: 4", "Caps: 8"], &["Posts: 4", "Caps: 8"]], &[]);
    }

    #[test]
    fn a_record_that_lacks_its_first_field() {
        let rows: &[&[&str]] = &[
            &["Part: post cap"],
            &["Qty: 4"],
            &[],
            &["Qty: 6"],
            &[],
            &["Part: post foot"],
            &["Qty: 8"],
            &[],
            &["Part: rail"],
            &["Qty: 2"],
        ];
        let [cap, foot, rail] = [["post cap", "4"], ["post foot", "8"], ["rail", "2"]];
        case(rows, &[&["Part", "Qty"], &cap, &["", "6"], &foot, &rail]);
    }

    #[test]
    fn no_forms() {
        case(
            &[&["rail clamp: 4"], &["post cap: 8"], &["kick plate: 6"]],
            &[],
        );
        case(
            &[
                &["Inga: 4 feet"],
                &["Pelle: 8 caps"],
                &["Inga: ok"],
                &["Inga: 2"],
            ],
            &[],
        );
    }
}
