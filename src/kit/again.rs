//! A sheet that says again what others say.

use std::fmt;

use crate::{names::names, words::count};

names! {
    /// What a sheet is to the others.
    pub enum AgainKind {
        Totals = "totals",
        Copy = "copy",
    }
}

/// A sheet that says again what others say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Again {
    pub kind: AgainKind,
    /// The sheets that it repeats.
    pub of: Vec<String>,
    /// Items of which both say as many.
    pub agree: u64,
    pub differences: Vec<Difference>,
}

/// An item of which a sheet says another number than the sheets that it repeats.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Difference {
    pub item: String,
    pub here: u64,
    pub there: u64,
}

/// Differences that a sentence names.
const NAMED: usize = 4;

impl fmt::Display for Again {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.kind, self.of.as_slice()) {
            (AgainKind::Copy, [of]) => write!(f, "a copy of sheet {of}")?,
            (AgainKind::Copy, _) => f.write_str("a copy of the other sheets")?,
            (AgainKind::Totals, [of]) => write!(f, "the totals of sheet {of}")?,
            (AgainKind::Totals, of) => write!(f, "the totals of the other {} sheets", of.len())?,
        }
        write!(f, ", not added again; {}", self.compared())
    }
}

impl Again {
    /// How many items agree, and which differ: `5 items agree, 1 differs: 1/2 hex nut: 8 here, 6 there`.
    pub fn compared(&self) -> String {
        let verb = if self.agree == 1 { "agrees" } else { "agree" };
        let agree = format!("{} {verb}", count(self.agree, "item"));
        let named = self.differences.iter().take(NAMED);
        let named: Vec<String> = named
            .map(|d| format!("{}: {} here, {} there", d.item, d.here, d.there))
            .collect();
        let named = named.join("; ");
        let differ = match self.differences.len() {
            0 => return agree,
            1 => "1 differs".to_owned(),
            n => format!("{n} differ"),
        };
        match self.differences.len().saturating_sub(NAMED) {
            0 => format!("{agree}, {differ}: {named}"),
            more => format!("{agree}, {differ}: {named}; and {more} more"),
        }
    }
}
