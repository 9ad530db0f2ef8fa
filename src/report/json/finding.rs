//! What was found, and the lines that it rests on.

use serde::Serialize;

use super::fields::{Each, Shown};
use crate::{
    audit::{AuditFinding, Question, Weight},
    hardware::Diameter,
    kit::List,
    settle::{Evidence, Finding, FindingKind, LineRef},
};

/// An address: runs of rows as pairs of first and last.
#[derive(Serialize)]
struct AddressObject<'a> {
    file: &'a str,
    sheet: Option<&'a str>,
    rows: &'a [(u32, u32)],
}

/// The addresses of lines.
pub fn addresses<'a>(lists: &'a [List], evidence: &'a [Evidence]) -> impl Serialize + 'a {
    Each(evidence.iter().map(|of| {
        let list = &lists[of.list];
        let sheet = list.sheets.get(of.sheet);
        AddressObject {
            file: &list.file,
            sheet: sheet.and_then(|s| s.name.as_deref()),
            rows: &of.rows,
        }
    }))
}

#[derive(Serialize)]
struct FindingObject<'a, L> {
    finding: FindingKind,
    pieces: u64,
    lines: L,
    note: &'a str,
}

pub fn findings<'a>(lists: &'a [List], findings: &'a [Finding]) -> impl Serialize + 'a {
    Each(findings.iter().map(|finding| FindingObject {
        finding: finding.finding,
        pieces: finding.pieces,
        lines: addresses(lists, &finding.evidence),
        note: &finding.note,
    }))
}

/// One line that is listed and not counted.
#[derive(Serialize)]
struct LineAddress<'a> {
    file: &'a str,
    sheet: Option<&'a str>,
    row: u32,
}

pub fn line_addresses<'a>(lists: &'a [List], lines: &'a [LineRef]) -> impl Serialize + 'a {
    Each(lines.iter().map(|at| {
        let list = &lists[at.list];
        let line = &list.lines[at.line];
        LineAddress {
            file: &list.file,
            sheet: list.sheets[usize::from(line.sheet)].name.as_deref(),
            row: line.row,
        }
    }))
}

/// A question on the list.
#[derive(Serialize)]
struct QuestionObject<'a, L> {
    /// As the list names it; `null` where it names none.
    stage: Option<&'a str>,
    place: Option<&'a str>,
    diameter: Option<Shown<Diameter>>,
    what: Question,
    weight: Weight,
    found: &'a str,
    question: &'a str,
    lines: L,
}

/// One question of the audit.
pub fn question<'a>(lists: &'a [List], finding: &'a AuditFinding) -> impl Serialize + 'a {
    fn stated(text: &str) -> Option<&str> {
        (!text.is_empty()).then_some(text)
    }
    QuestionObject {
        stage: stated(&finding.stage),
        place: stated(&finding.place),
        diameter: finding.diameter.map(Shown),
        what: finding.what,
        weight: finding.weight,
        found: &finding.found,
        question: &finding.question,
        lines: addresses(lists, &finding.evidence),
    }
}
