//! What ends a run, as facts first and one sentence last.
//!
//! Every error prints as three parts: where (file, sheet, row, column), what was found, and what
//! to do. The exit code is 2.

use std::{fmt, path::PathBuf};

/// Where in an input something stands, as far as is known.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct At {
    pub file: PathBuf,
    pub sheet: Option<String>,
    /// From 1: the sheet's row or the text file's line.
    pub row: Option<u32>,
    /// From 1.
    pub column: Option<u32>,
}

impl At {
    pub fn file(path: impl Into<PathBuf>) -> At {
        At {
            file: path.into(),
            ..At::default()
        }
    }

    /// `row` of a workbook, `line` of a text.
    fn row_noun(&self) -> &'static str {
        let workbooks = ["xlsx", "xlsm", "xls", "xlsb", "ods"];
        let of = self.file.extension().unwrap_or_default();
        let is_workbook = workbooks.iter().any(|end| of.eq_ignore_ascii_case(end));
        match self.sheet.is_some() || is_workbook {
            true => "row",
            false => "line",
        }
    }
}

impl fmt::Display for At {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.file.display())?;
        if let Some(sheet) = &self.sheet {
            write!(f, ", sheet \"{sheet}\"")?;
        }
        if let Some(row) = self.row {
            write!(f, ", {} {row}", self.row_noun())?;
        }
        if let Some(column) = self.column {
            write!(f, ", column {column}")?;
        }
        Ok(())
    }
}

/// A run that cannot go on.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// Something in or about an input.
    #[error("{at}: {found}\n  what to do: {todo}")]
    Input {
        at: Box<At>,
        found: String,
        todo: String,
    },
    /// Something in the arguments.
    #[error("{found}\n  what to do: {todo}")]
    Arguments { found: String, todo: String },
    /// Something about the output.
    #[error("{}: {found}\n  what to do: {todo}", path.display())]
    Output {
        path: PathBuf,
        found: String,
        todo: String,
    },
}

impl Error {
    /// An error about an input: where, what was found, what to do.
    pub fn input(at: At, found: impl Into<String>, todo: impl Into<String>) -> Error {
        Error::Input {
            at: Box::new(at),
            found: found.into(),
            todo: todo.into(),
        }
    }
}

pub type Result<T> = std::result::Result<T, Error>;
