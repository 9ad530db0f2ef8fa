//! Files to rows.
//!
//! A file is opened by its content ([`Document::open`]), never by its ending alone, and its rows
//! are handed on one at a time in one reused [`Row`], so that a list of a million lines or a sheet
//! with one cell in the far corner costs what is in it and no more.

mod row;

pub use row::{CellKind, Row};

use std::path::{Path, PathBuf};

use crate::error::Result;

/// What a file turned out to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    Xlsx,
    Xls,
    Xlsb,
    Ods,
    /// Delimited text and its delimiter.
    Delimited(u8),
    /// Plain or Markdown text: lists, tables and sentences.
    Text,
}

/// One sheet of a document; a text file has one, without a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetInfo {
    pub name: Option<String>,
    /// Hidden in the workbook.
    pub hidden: bool,
}

/// An opened file.
pub struct Document {
    path: PathBuf,
    format: Format,
    sheets: Vec<SheetInfo>,
}

impl Document {
    /// Opens a file and finds out what it is.
    ///
    /// # Errors
    /// A missing file, a directory, an empty file, a zip that is no workbook, a truncated or
    /// password-protected workbook: each with what was found and what to do.
    pub fn open(_path: &Path) -> Result<Document> {
        todo!()
    }

    pub fn path(&self) -> &Path {
        &self.path
    }

    pub fn format(&self) -> Format {
        self.format
    }

    pub fn sheets(&self) -> &[SheetInfo] {
        &self.sheets
    }

    /// Hands every row of one sheet to `each`, blank rows included, in order.
    ///
    /// # Errors
    /// What the reader below finds wrong, with sheet and row; and whatever `each` returns.
    pub fn rows(&mut self, _sheet: usize, _each: &mut dyn FnMut(&Row) -> Result<()>) -> Result<()> {
        todo!()
    }
}
