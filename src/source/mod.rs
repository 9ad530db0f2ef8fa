//! Files to rows.
//!
//! A file is opened by its content ([`Document::open`]), never by its ending alone, and its rows
//! are handed on one at a time in one reused [`Row`], so that a list of a million lines or a sheet
//! with one cell in the far corner costs what is in it and no more.

mod batch;
mod broken;
mod compound;
mod cut;
mod delimited;
mod displayed;
mod encoding;
mod feed;
mod formats;
mod guard;
mod limits;
mod marks;
mod repeats;
mod row;
mod sheet_rows;
mod tag_values;
mod tags;
mod text;
mod workbook;
mod xlsx;

pub use limits::{Limit, Limits};
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
    limits: Limits,
    format: Format,
    sheets: Vec<SheetInfo>,
    content: Content,
    handed: Handed,
}

/// What was handed on of a file so far.
#[derive(Default, Clone, Copy)]
struct Handed {
    rows: u64,
    bytes: u64,
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
    (b"ID;P", "a spreadsheet's interchange file"),
    (b"\x89PNG", "a picture"),
    (b"\xFF\xD8\xFF", "a picture"),
    (b"GIF8", "a picture"),
    (b"\x1F\x8B", "a compressed file"),
    (b"7z\xBC\xAF", "a compressed file"),
    (b"Rar!", "a compressed file"),
];

const SAVE_AS: &str = "save the list as a workbook (xlsx, xls, xlsb, ods), CSV or plain text";

impl Document {
    /// Opens a file and finds out what it is.
    ///
    /// # Errors
    /// A missing file, a directory, an empty file, a zip that is no workbook, a truncated or
    /// password-protected workbook, one that asks for more than the limits allow: each with what
    /// was found and what to do.
    pub fn open(path: &Path, limits: &Limits) -> Result<Document> {
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
        if size.len() > limits.most(Limit::File) {
            return Err(limits.error(Limit::File, At::file(path), "the file"));
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
            let workbook = Workbook::open(path, head.starts_with(OLE), limits)?;
            return Ok(Document {
                path: path.to_owned(),
                limits: *limits,
                format: workbook.format(),
                sheets: workbook.sheets().to_vec(),
                content: Content::Workbook(workbook),
                handed: Handed::default(),
            });
        }
        let mut bytes = head;
        bytes.reserve(size.len() as usize);
        // A pipe has no length, and may have no end.
        let most = limits.most(Limit::File);
        file.take(most)
            .read_to_end(&mut bytes)
            .map_err(unreadable)?;
        if bytes.len() as u64 > most {
            return Err(limits.error(Limit::File, At::file(path), "the file"));
        }
        let Some(text) = encoding::decode(bytes) else {
            return Err(wrong("neither a workbook nor text", SAVE_AS));
        };
        if text.trim().is_empty() {
            return Err(wrong("the file is empty", "save the list again"));
        }
        refuse_endless(path, &text, limits)?;
        let ending = path.extension().and_then(|e| e.to_str()).unwrap_or("");
        let format = match delimited::sniff(&text, ending.eq_ignore_ascii_case("csv")) {
            Some(delimiter) => Format::Delimited(delimiter),
            None => Format::Text,
        };
        Ok(Document {
            path: path.to_owned(),
            limits: *limits,
            format,
            sheets: vec![SheetInfo {
                name: None,
                hidden: false,
            }],
            content: Content::Text(text),
            handed: Handed::default(),
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

    /// True where a line of a text file begins with one of these, its first line aside.
    pub fn has_line_with(&self, beginnings: &[&str]) -> bool {
        let Content::Text(text) = &self.content else {
            return false;
        };
        let after = |at: usize| &text[at + 1..];
        let mut ends = memchr::memchr_iter(b'\n', text.as_bytes());
        ends.any(|at| (beginnings.iter()).any(|beginning| after(at).starts_with(beginning)))
    }

    /// The text of a text file, to be kept.
    pub fn into_text(self) -> Option<String> {
        match self.content {
            Content::Workbook(_) => None,
            Content::Text(text) => Some(text),
        }
    }

    /// Hands every row of one sheet to `each`, blank rows included up to the last row with
    /// anything in it, in order.
    ///
    /// # Errors
    /// What the reader below finds wrong, with sheet and row; more rows or longer ones than the
    /// limits allow; and whatever `each` returns.
    pub fn rows(&mut self, sheet: usize, each: &mut Each<'_>) -> Result<()> {
        // Sheets are read one after another, and the first rows of each may be read before.
        let mut handed = match sheet {
            0 => Handed::default(),
            _ => self.handed,
        };
        let (path, name, limits) = (&self.path, &self.sheets[sheet].name, &self.limits);
        let [most_rows, most_text, most] =
            [Limit::Rows, Limit::Text, Limit::Row].map(|limit| limits.most(limit));
        let each: &mut Each<'_> = &mut |row: &Row| {
            handed.rows += 1;
            let bytes = row.bytes() as u64;
            handed.bytes += bytes;
            let over = if handed.rows > most_rows {
                Some((Limit::Rows, "more rows than are read of one file"))
            } else if handed.bytes > most_text {
                Some((Limit::Text, "more text than is read of one file"))
            } else if bytes > most {
                Some((Limit::Row, "a row without end"))
            } else {
                None
            };
            match over {
                None => each(row),
                Some((limit, what)) => {
                    let at = At {
                        sheet: name.clone(),
                        row: Some(row.number),
                        ..At::file(path)
                    };
                    Err(limits.error(limit, at, what))
                }
            }
        };
        match (&mut self.content, self.format) {
            (Content::Workbook(workbook), _) => workbook.rows(sheet, each),
            (Content::Text(text), Format::Delimited(delimiter)) => {
                delimited::rows(text, delimiter, each)
            }
            (Content::Text(text), _) => text::rows(text, each),
        }?;
        self.handed = handed;
        Ok(())
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

/// Refuses a text of too many lines, or with one that is longer than a row may be, before anything is
/// made of it.
fn refuse_endless(path: &Path, text: &str, limits: &Limits) -> Result<()> {
    let (most_lines, most) = (limits.most(Limit::Rows), limits.most(Limit::Row));
    if is_bounded(text.as_bytes(), most_lines, most) {
        return Ok(());
    }
    let (mut start, mut line) = (0, 1);
    for end in memchr::memchr2_iter(b'\n', b'\r', text.as_bytes()).chain([text.len()]) {
        let over = if (end - start) as u64 > most {
            Some((Limit::Row, "a line without end"))
        } else if u64::from(line) > most_lines && start < text.len() {
            Some((Limit::Rows, "more rows than are read of one file"))
        } else {
            None
        };
        if let Some((limit, what)) = over {
            let at = At {
                row: Some(line),
                ..At::file(path)
            };
            return Err(limits.error(limit, at, what));
        }
        // Both halves of a line end count once.
        line += u32::from(!text[..end].ends_with('\r') || text.as_bytes().get(end) != Some(&b'\n'));
        start = end + 1;
    }
    Ok(())
}

/// True for a text that plainly has no more line ends, and no longer lines: a look every so many bytes
/// tells.
fn is_bounded(text: &[u8], most_lines: u64, most: u64) -> bool {
    let Ok(most) = usize::try_from(most) else {
        return false;
    };
    let mut rest = text;
    while rest.len() > most {
        match memchr::memrchr2(b'\n', b'\r', &rest[..=most]) {
            Some(end) => rest = &rest[end + 1..],
            None => return false,
        }
    }
    let ends = |end| memchr::memchr_iter(end, text).count() as u64;
    ends(b'\n') + ends(b'\r') < most_lines
}

#[cfg(test)]
pub(crate) mod tests;
