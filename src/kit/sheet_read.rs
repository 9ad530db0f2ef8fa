//! A sheet as it was read, and its rows.

use super::again::Again;

/// Rows of a source: `rows = read + check + aside + other`, always.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize)]
pub struct RowTally {
    pub rows: u64,
    pub read: u64,
    pub check: u64,
    pub aside: u64,
    /// Headings, blank rows, totals, stage titles, and sentences without hardware.
    pub other: u64,
}

/// A sheet as it was read.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SheetRead {
    pub name: Option<String>,
    pub hidden: bool,
    /// Why its rows were passed over, where they were ("hidden sheet", "not a count").
    pub passed_over: Option<String>,
    /// It says again what others say, and was held against them.
    pub again: Option<Again>,
    /// It may say again what others say: that is asked, and until then it is counted.
    pub may_be_again: bool,
    /// What a person should settle: whether it says again what another says, which column says how many.
    pub question: Option<String>,
    /// By the question, more pieces may be there than its lines say, or fewer required.
    pub figures_open: bool,
    /// What a person should know of how it was read.
    pub notes: Vec<String>,
    /// Rows that are hidden or filtered out, and counted; `None` where the format does not tell.
    pub hidden_rows: Option<u64>,
    /// Headings of columns that no word is known of, so that nothing under them is read.
    pub unread_columns: Vec<Box<str>>,
    /// Headings of columns that each hold a quantity for the stage, bag or box so named.
    pub spread_columns: Vec<Box<str>>,
    /// Of a count and a slip: what stands there beside its lines and is read as a heading.
    pub titles: Vec<Title>,
    pub tally: RowTally,
}

/// A row of a count or a slip that is passed over as a heading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Title {
    /// From 1.
    pub row: u32,
    pub text: Box<str>,
    /// It stands behind a line.
    pub inner: bool,
}

impl SheetRead {
    /// Asks a person, beside what is asked already.
    pub fn ask(&mut self, question: String) {
        match &mut self.question {
            Some(asked) if asked.contains(&question) => {}
            Some(asked) => {
                asked.push_str("; ");
                asked.push_str(&question);
            }
            None => self.question = Some(question),
        }
    }

    /// Asks what all figures mean: until that is settled, nobody is short by them.
    pub fn ask_of_figures(&mut self, question: String) {
        self.ask(question);
        self.figures_open = true;
    }
}
