//! Files to rows.
//!
//! A file is opened by its content ([`Document::open`]), never by its ending alone, and its rows
//! are handed on one at a time in one reused [`Row`], so that a list of a million lines or a sheet
//! with one cell in the far corner costs what is in it and no more.

mod compound;
mod delimited;
mod encoding;
mod guard;
mod row;
mod shield;
mod tags;
mod text;
mod workbook;

pub use row::{CellKind, Row};

use std::{
    fs::File,
    io::{ErrorKind, Read},
    ops::ControlFlow,
    path::{Path, PathBuf},
};

use crate::error::{At, Error, Result};
use workbook::Workbook;

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

/// What takes the rows of a sheet: it may stop the reading, or fail.
pub type Each<'a> = dyn FnMut(&Row) -> Result<ControlFlow<()>> + 'a;

/// An opened file.
pub struct Document {
    path: PathBuf,
    format: Format,
    sheets: Vec<SheetInfo>,
    content: Content,
}

enum Content {
    Workbook(Workbook),
    Text(String),
}

/// First bytes of a zip entry.
const ZIP: &[u8] = b"PK\x03\x04";
/// First bytes of a zip without entries.
const EMPTY_ZIP: &[u8] = b"PK\x05\x06";
/// First bytes of an OLE compound file (MS-CFB 2.2).
const OLE: &[u8] = &[0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1];

/// First bytes of files that people hand in by mistake, and what they are.
const NO_LIST: &[(&[u8], &str)] = &[
    (b"%PDF", "a PDF"),
    (b"{\\rtf", "a rich-text document"),
    (b"\x89PNG", "a picture"),
    (b"\xFF\xD8\xFF", "a picture"),
    (b"GIF8", "a picture"),
    (b"\x1F\x8B", "a compressed file"),
    (b"7z\xBC\xAF", "a compressed file"),
    (b"Rar!", "a compressed file"),
];

/// Cells that the sheets of an xls or ods may span: their readers build every one, the blank ones
/// too.
const MOST_CELLS: u64 = 4_000_000;

const SAVE_AS: &str = "save the list as a workbook (xlsx, xls, xlsb, ods), CSV or plain text";

impl Document {
    /// Opens a file and finds out what it is.
    ///
    /// # Errors
    /// A missing file, a directory, an empty file, a zip that is no workbook, a truncated or
    /// password-protected workbook: each with what was found and what to do.
    pub fn open(path: &Path) -> Result<Document> {
        let wrong = |found: &str, todo: &str| Error::input(At::file(path), found, todo);
        let unreadable = |error: std::io::Error| {
            let found = match error.kind() {
                ErrorKind::NotFound => "no such file".to_owned(),
                _ => format!("the file cannot be read ({error})"),
            };
            wrong(&found, "check the path and that you may read it")
        };
        let mut file = File::open(path).map_err(unreadable)?;
        let size = file.metadata().map_err(unreadable)?;
        if size.is_dir() {
            return Err(wrong("a directory, not a file", "name the list in it"));
        }
        let mut head = Vec::with_capacity(8);
        file.by_ref()
            .take(8)
            .read_to_end(&mut head)
            .map_err(unreadable)?;
        if head.is_empty() {
            return Err(wrong("the file is empty", "save the list again"));
        }
        if let Some((_, what)) = NO_LIST.iter().find(|(magic, _)| head.starts_with(magic)) {
            return Err(wrong(&format!("{what}, not a list"), SAVE_AS));
        }
        if head.starts_with(ZIP) || head.starts_with(EMPTY_ZIP) || head.starts_with(OLE) {
            let workbook = Workbook::open(path, head.starts_with(OLE))?;
            return Ok(Document {
                path: path.to_owned(),
                format: workbook.format(),
                sheets: workbook.sheets().to_vec(),
                content: Content::Workbook(workbook),
            });
        }
        let mut bytes = head;
        bytes.reserve(size.len() as usize);
        file.read_to_end(&mut bytes).map_err(unreadable)?;
        let Some(text) = encoding::decode(bytes) else {
            return Err(wrong("neither a workbook nor text", SAVE_AS));
        };
        if text.trim().is_empty() {
            return Err(wrong("the file is empty", "save the list again"));
        }
        let ending = path.extension().and_then(|e| e.to_str()).unwrap_or("");
        let format = match delimited::sniff(&text, ending.eq_ignore_ascii_case("csv")) {
            Some(delimiter) => Format::Delimited(delimiter),
            None => Format::Text,
        };
        Ok(Document {
            path: path.to_owned(),
            format,
            sheets: vec![SheetInfo {
                name: None,
                hidden: false,
            }],
            content: Content::Text(text),
        })
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

    /// Hands every row of one sheet to `each`, blank rows included up to the last row with
    /// anything in it, in order.
    ///
    /// # Errors
    /// What the reader below finds wrong, with sheet and row; and whatever `each` returns.
    pub fn rows(&mut self, sheet: usize, each: &mut Each<'_>) -> Result<()> {
        match (&mut self.content, self.format) {
            (Content::Workbook(workbook), _) => workbook.rows(sheet, each),
            (Content::Text(text), Format::Delimited(delimiter)) => {
                delimited::rows(text, delimiter, each)
            }
            (Content::Text(text), _) => text::rows(text, each),
        }
    }

    /// The first rows of a sheet, at most `most`.
    ///
    /// # Errors
    /// As [`Document::rows`].
    pub fn first_rows(&mut self, sheet: usize, most: usize) -> Result<Vec<Row>> {
        let mut first = Vec::new();
        self.rows(sheet, &mut |row| {
            first.push(row.clone());
            Ok(if first.len() < most {
                ControlFlow::Continue(())
            } else {
                ControlFlow::Break(())
            })
        })?;
        Ok(first)
    }

    /// About how many rows a sheet has, where that is known without reading it.
    pub fn rows_about(&self) -> Option<usize> {
        match &self.content {
            Content::Workbook(_) => None,
            Content::Text(text) => {
                let sample = &text.as_bytes()[..text.len().min(1 << 16)];
                let lines = 1 + sample.iter().filter(|&&b| b == b'\n').count();
                Some(text.len() / sample.len().max(1) * lines + lines)
            }
        }
    }
}

#[cfg(test)]
mod tests;
