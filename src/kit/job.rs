//! The job: which lists, how many kits, which options, and the shop's own settings.

use std::path::PathBuf;

use indexmap::IndexMap;

use crate::{bins::Tray, columns::Meaning};

/// A list to be read, and what is known of its columns.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Input {
    /// Where it is.
    pub path: PathBuf,
    /// Headings that the job file names: which meaning stands under which heading.
    pub columns: IndexMap<Meaning, String>,
}

/// How many spares to allow for, off by default.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SpareRule {
    /// Which kind, or any.
    pub kind: Option<crate::hardware::Kind>,
    /// Largest diameter in the item's own unit that the rule holds for, or any.
    pub up_to: Option<crate::hardware::Diameter>,
    /// Percent of what is required, rounded up to whole pieces.
    pub percent: u32,
    /// At least so many pieces.
    pub least: u64,
}

/// One reconciliation of one or more kits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Job {
    pub name: String,
    /// At least 1.
    pub kits: u64,
    pub required: Vec<Input>,
    pub shipped: Vec<Input>,
    pub counted: Vec<Input>,
    /// Options chosen, lower case.
    pub with: Vec<String>,
    /// Options refused, lower case.
    pub without: Vec<String>,
    /// Stage order, where the job gives it; else the order of first naming.
    pub stages: Vec<String>,
    /// The last stage that is already built: its pieces and those before are taken as used.
    pub built_through: Option<String>,
    pub spares: Vec<SpareRule>,
    pub tray: Tray,
    /// Heading lines of a claim, in order.
    pub claim: IndexMap<String, String>,
}
