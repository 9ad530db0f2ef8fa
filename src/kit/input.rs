//! A list to be read, and what the job says of it.

use std::{collections::BTreeMap, path::PathBuf};

use indexmap::IndexMap;

use crate::{columns::Meaning, names::names, source::Limits};

names! {
    /// What the job says of a sheet.
    pub enum SheetUse {
        Counted = "count",
        /// Not counted, and held against the others.
        Checks = "check",
        LeftOut = "leave out",
    }
}

/// A list to be read, and what is known of its columns.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Input {
    /// Where it is.
    pub path: PathBuf,
    /// Its name in outputs: as the job file or the flag writes it, with forward slashes.
    pub shown: String,
    /// Headings that the job file names: which meaning stands under which heading.
    pub columns: IndexMap<Meaning, String>,
    /// Of a guide in sentences: how many more times what stands before a sentence that repeats is
    /// needed, by the line on which that sentence starts.
    pub repeats: BTreeMap<u32, u32>,
    /// Count hidden sheets, too.
    pub hidden_sheets: bool,
    /// Keep the words that each line was read from.
    pub keep_words: bool,
    /// The date that the job file gives it, whatever its title block says.
    pub date: Option<String>,
    /// Of a slip or a count: which delivery it is of, from 1.
    pub parcel: Option<u32>,
    /// How much it may ask for.
    pub limits: Limits,
    /// What the job says of sheets, by folded name.
    pub sheets: IndexMap<String, SheetUse>,
}

impl Input {
    /// A list at a path, nothing known of its columns.
    pub fn at(path: impl Into<PathBuf>) -> Input {
        let path = path.into();
        let shown = path.to_string_lossy().replace('\\', "/");
        Input {
            path,
            shown,
            ..Input::default()
        }
    }
}
