//! The sources of a job.

use serde::Serialize;

use crate::kit::{AgainKind, Difference, List, Role, RowTally, SheetRead};

/// A list as it was read.
#[derive(Serialize)]
pub struct SourceObject<'a> {
    file: &'a str,
    role: Role,
    #[serde(flatten)]
    tally: RowTally,
    revision: Option<&'a str>,
    date: Option<&'a str>,
    sheets: Vec<SheetObject<'a>>,
}

/// A sheet of a source.
#[derive(Serialize)]
struct SheetObject<'a> {
    /// `null` for a text file.
    name: Option<&'a str>,
    hidden: bool,
    /// Why its rows were not counted, where they were not.
    passed_over: Option<&'a str>,
    /// Hidden rows among those counted; `null` where the format does not tell.
    hidden_rows: Option<u64>,
    /// Headings of columns that nothing is read of.
    unread_columns: &'a [Box<str>],
    /// Headings of columns that each hold a quantity for the stage, bag or box so named.
    spread_columns: &'a [Box<str>],
    #[serde(flatten)]
    tally: RowTally,
    /// The sheets whose figures it repeats, how many items agree, and those that do not.
    repeats: Option<RepeatsObject<'a>>,
    question: Option<&'a str>,
}

#[derive(Serialize)]
struct RepeatsObject<'a> {
    /// `"totals"` or `"copy"`.
    kind: AgainKind,
    sheets: &'a [String],
    agree: u64,
    differences: &'a [Difference],
}

fn sheet_object(sheet: &SheetRead) -> SheetObject<'_> {
    SheetObject {
        name: sheet.name.as_deref(),
        hidden: sheet.hidden,
        passed_over: sheet.passed_over.as_deref(),
        hidden_rows: sheet.hidden_rows,
        unread_columns: &sheet.unread_columns,
        spread_columns: &sheet.spread_columns,
        tally: sheet.tally,
        repeats: sheet.again.as_ref().map(|again| RepeatsObject {
            kind: again.kind,
            sheets: &again.of,
            agree: again.agree,
            differences: &again.differences,
        }),
        question: sheet.question.as_deref(),
    }
}

pub fn source_object(list: &List) -> SourceObject<'_> {
    SourceObject {
        file: &list.file,
        role: list.role,
        tally: list.tally,
        revision: list.revision.as_deref(),
        date: list.date.as_deref(),
        sheets: list.sheets.iter().map(sheet_object).collect(),
    }
}
