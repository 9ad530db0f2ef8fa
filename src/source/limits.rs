//! How much one file may ask for, and one job. A list from a stranger is bounded before it is believed.

use super::SAVE_AS;
use crate::{
    error::{At, Error},
    names::names,
};

names! {
    /// What is limited; the name is what `--limit` takes.
    pub enum Limit {
        /// Megabytes of a file as it lies on the disk.
        File = "file-mb",
        /// Megabytes that the parts of a workbook unpack to in all.
        Unpacked = "unpacked-mb",
        /// Megabytes of one part of a workbook that is held in memory whole: its texts, its styles,
        /// an ods or xls as such.
        Part = "part-mb",
        /// Cells that the sheets of an xls or ods span, blank ones too: their readers build each.
        Cells = "cells",
        /// Rows of a file; and items found in it.
        Rows = "rows",
        /// Kilobytes of one row, or of one line of a text.
        Row = "row-kb",
        /// Megabytes of text in all rows of a file, a text that is used again counted again.
        Text = "text-mb",
        /// Pairs of an item asked for and one on hand that a job's rules on substitutes are held against.
        Pairs = "pairs",
        /// Deliveries of a job, which is settled as it stood after each.
        Parcels = "parcels",
    }
}

/// The limits of a file and of a job, a value for each [`Limit`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits([u64; Limit::ALL.len()]);

impl Default for Limits {
    fn default() -> Limits {
        // Above what a real list has been seen to need: a sheet of 1,048,576 rows and twelve columns
        // unpacks to some 600 MB.
        Limits([
            1024, 1024, 256, 4_000_000, 5_000_000, 1024, 1024, 1_000_000, 100,
        ])
    }
}

impl Limits {
    /// The limit as it is set, in its own unit.
    fn get(&self, limit: Limit) -> u64 {
        self.0[limit as usize]
    }

    /// Sets a limit, in its own unit.
    pub fn set(&mut self, limit: Limit, most: u64) {
        self.0[limit as usize] = most;
    }

    /// The limit in bytes, or in what else it counts.
    pub fn most(&self, limit: Limit) -> u64 {
        let unit = match limit {
            Limit::File | Limit::Unpacked | Limit::Part | Limit::Text => 1 << 20,
            Limit::Row => 1 << 10,
            Limit::Cells | Limit::Rows | Limit::Pairs | Limit::Parcels => 1,
        };
        self.get(limit).saturating_mul(unit)
    }

    /// The error for what goes beyond a limit: `found` says what does.
    pub fn error(&self, limit: Limit, at: At, found: &str) -> Error {
        let smaller = match limit {
            Limit::File | Limit::Row => SAVE_AS,
            Limit::Rows | Limit::Text => "give the list in several files",
            Limit::Pairs => "name fewer sizes, or set a nearer limit",
            Limit::Parcels => "give slips that came together one date",
            Limit::Unpacked | Limit::Part | Limit::Cells => {
                "open it in a spreadsheet program, copy the list alone to a new xlsx workbook, and give that"
            }
        };
        let found = match limit {
            Limit::Pairs | Limit::Parcels => found.to_owned(),
            _ => format!("too large to be a list: {found}"),
        };
        Error::input(
            at,
            found,
            format!(
                "{smaller}; or, if you trust the file, raise the limit (--limit {limit}=N, now {})",
                self.get(limit)
            ),
        )
    }
}
