//! What is checked of a zip before a library opens it, so that a small file cannot ask for a large
//! memory: what it is, how much it holds once inflated, and the counts and repeats that it claims.

use std::{
    fs::File,
    io::{BufReader, Read},
    path::Path,
};

use zip::ZipArchive;

use super::{
    MOST_CELLS, SAVE_AS,
    tags::{Tags, attribute, number},
    workbook::Broken,
};
use crate::error::{At, Error, Result};

/// What kind of workbook a zip holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Package {
    Xlsx,
    Xlsb,
    Ods,
}

/// What was found out of a zip.
pub struct Checked {
    pub package: Package,
    /// Of each sheet, in order, the rows that are hidden or filtered out; empty where the format
    /// does not tell.
    pub hidden_rows: Vec<Vec<u32>>,
}

/// Parts in a zip: a real workbook has some hundreds at most.
const MOST_PARTS: usize = 20_000;
/// Bytes that the parts may inflate to in all: a sheet of a million rows comes to half of it.
const MOST_BYTES: u64 = 2 << 30;
/// Bytes that a part may inflate to where a reader keeps all of it in memory.
const MOST_KEPT: u64 = 256 << 20;

/// Finds out which workbook a zip is, and checks what it would ask for.
///
/// # Errors
/// A zip that is cut short, that is no workbook, or that asks for more than a list can need.
pub fn check(path: &Path) -> Result<Checked> {
    let damaged = |reason: String| Broken::Damaged(reason).at(path);
    let file = File::open(path).map_err(|error| damaged(error.to_string()))?;
    let mut zip =
        ZipArchive::new(BufReader::new(file)).map_err(|error| damaged(error.to_string()))?;
    let names: Vec<String> = zip
        .file_names()
        .filter_map(|name| Some(name.ok()?.to_lowercase()))
        .collect();
    let has = |name: &str| names.iter().any(|n| n == name);
    let package = if has("xl/workbook.bin") {
        Package::Xlsb
    } else if has("content.xml") && has("mimetype") {
        Package::Ods
    } else if has("[content_types].xml")
        && names
            .iter()
            .any(|n| n.contains("workbook") && n.ends_with(".xml"))
    {
        Package::Xlsx
    } else {
        let what = if has("word/document.xml") {
            "a text document, not a list"
        } else {
            "a zip that is no workbook"
        };
        return Err(Error::input(At::file(path), what, SAVE_AS));
    };
    if zip.len() > MOST_PARTS {
        return Err(Broken::TooLarge(format!("its {} parts", zip.len())).at(path));
    }
    let mut inflated = 0;
    let mut rows = RowsHidden::default();
    for index in 0..zip.len() {
        inflated += check_part(&mut zip, index, package, MOST_BYTES - inflated, &mut rows)
            .map_err(|error| error.at(path))?;
    }
    Ok(Checked {
        package,
        hidden_rows: rows.by_sheet(),
    })
}

/// Inflates one part under a limit, and gives its length.
fn check_part(
    zip: &mut ZipArchive<BufReader<File>>,
    index: usize,
    package: Package,
    left: u64,
    rows: &mut RowsHidden,
) -> std::result::Result<u64, Broken> {
    let damaged = |error: &dyn std::fmt::Display| Broken::Damaged(error.to_string());
    let part = zip.by_index(index).map_err(|error| damaged(&error))?;
    let name = part.name().map_err(|error| damaged(&error))?.to_lowercase();
    // Pictures and the like are never read.
    if ![".xml", ".rels", ".bin"]
        .iter()
        .any(|ending| name.ends_with(ending))
    {
        return Ok(0);
    }
    let streamed = name.contains("/worksheets/") || name == "content.xml";
    let most = if streamed { left } else { left.min(MOST_KEPT) };
    let mut part = part.take(most + 1);
    let mut watch = match package {
        Package::Ods if name == "content.xml" => Watch::Repeats(Repeats::default()),
        Package::Xlsx if name.ends_with("sharedstrings.xml") => Watch::Strings(0),
        Package::Xlsx if name == "xl/workbook.xml" => Watch::Sheets,
        Package::Xlsx if name == "xl/_rels/workbook.xml.rels" => Watch::Targets,
        Package::Xlsx if name.contains("/worksheets/") => Watch::Rows(0, Vec::new()),
        _ => Watch::Nothing,
    };
    let mut tags = Tags::default();
    let mut buffer = vec![0; 1 << 16];
    let mut length = 0;
    loop {
        let read = part.read(&mut buffer).map_err(|error| damaged(&error))?;
        if read == 0 {
            break;
        }
        length += read as u64;
        if length > most {
            return Err(Broken::TooLarge(format!("its part \"{name}\"")));
        }
        match &mut watch {
            Watch::Nothing => {}
            Watch::Strings(claimed) => tags.each(&buffer[..read], |tag| {
                if is(tag, "sst") {
                    *claimed = attribute(tag, "uniqueCount").map_or(0, number);
                }
                Ok(())
            })?,
            Watch::Sheets => tags.each(&buffer[..read], |tag| {
                if is(tag, "sheet") {
                    rows.sheets.push(attribute(tag, "r:id").map(<[u8]>::to_vec));
                }
                Ok(())
            })?,
            Watch::Targets => tags.each(&buffer[..read], |tag| {
                if let (true, Some(id), Some(target)) = (
                    is(tag, "Relationship"),
                    attribute(tag, "Id"),
                    attribute(tag, "Target"),
                ) {
                    let target = String::from_utf8_lossy(target).to_lowercase();
                    let part = match target.strip_prefix('/') {
                        Some(from_root) => from_root.to_owned(),
                        None => format!("xl/{target}"),
                    };
                    rows.targets.push((id.to_vec(), part));
                }
                Ok(())
            })?,
            Watch::Rows(row, hidden) => tags.each(&buffer[..read], |tag| {
                if is(tag, "row") {
                    *row = attribute(tag, "r").map_or(*row + 1, |r| number(r) as u32);
                    if matches!(attribute(tag, "hidden"), Some(b"1" | b"true")) {
                        hidden.push(*row);
                    }
                }
                Ok(())
            })?,
            Watch::Repeats(repeats) => tags.each(&buffer[..read], |tag| repeats.tag(tag))?,
        }
    }
    match watch {
        // A string takes five bytes at least: <si/>.
        Watch::Strings(claimed) if claimed > length / 5 => Err(Broken::TooLarge(format!(
            "the {claimed} texts that it claims to hold"
        ))),
        Watch::Rows(_, hidden) if !hidden.is_empty() => {
            rows.parts.push((name, hidden));
            Ok(length)
        }
        _ => Ok(length),
    }
}

/// What is looked for in a part.
enum Watch {
    Nothing,
    /// The number of shared strings claimed, for which a reader reserves memory.
    Strings(u64),
    /// The sheets of an xlsx, in order.
    Sheets,
    /// Which part is which sheet.
    Targets,
    /// The last row seen, and the hidden ones.
    Rows(u32, Vec<u32>),
    Repeats(Repeats),
}

/// The hidden rows of an xlsx, on the way from parts to sheets.
#[derive(Default)]
struct RowsHidden {
    /// The relationship of each sheet, in order.
    sheets: Vec<Option<Vec<u8>>>,
    /// The part of each relationship.
    targets: Vec<(Vec<u8>, String)>,
    /// The hidden rows of each part that has any.
    parts: Vec<(String, Vec<u32>)>,
}

impl RowsHidden {
    fn by_sheet(&self) -> Vec<Vec<u32>> {
        let hidden = |id: &Vec<u8>| {
            let (_, part) = self.targets.iter().find(|(target, _)| target == id)?;
            let (_, rows) = self.parts.iter().find(|(name, _)| name == part)?;
            Some(rows.clone())
        };
        self.sheets
            .iter()
            .map(|id| {
                let mut rows = id.as_ref().and_then(hidden).unwrap_or_default();
                rows.sort_unstable();
                rows
            })
            .collect()
    }
}

/// The cells that an ods sheet comes to once its repeated rows and columns are written out, which
/// is what a reader does: the rectangle around all filled cells.
#[derive(Default)]
struct Repeats {
    /// Cells of the sheets before.
    before: u64,
    /// Rows from the first filled one to the last filled one.
    rows: u64,
    /// Rows since the last filled one.
    blank_rows: u64,
    /// The widest row, to its last filled cell.
    width: u64,
    /// Cells of the current row, to its last filled cell and in all.
    filled: u64,
    cells: u64,
    row_repeats: u64,
}

impl Repeats {
    fn tag(&mut self, tag: &[u8]) -> std::result::Result<(), Broken> {
        let repeats = |name: &str| attribute(tag, name).map_or(1, number).max(1);
        if is(tag, "table:table") {
            self.before += self.rows * self.width;
            *self = Repeats {
                before: self.before,
                ..Repeats::default()
            };
        } else if is(tag, "table:table-row") {
            self.filled = 0;
            self.cells = 0;
            self.row_repeats = repeats("table:number-rows-repeated");
            self.blank_rows = self.blank_rows.saturating_add(self.row_repeats);
        } else if is(tag, "table:table-cell") || is(tag, "table:covered-table-cell") {
            let columns = repeats("table:number-columns-repeated");
            self.cells = self.cells.saturating_add(columns);
            if attribute(tag, "office:value-type").is_some()
                || attribute(tag, "table:formula").is_some()
            {
                self.filled = self.cells;
                self.width = self.width.max(self.cells);
                if self.blank_rows > 0 {
                    // Blank rows above the first filled one are not built.
                    self.rows = match self.rows {
                        0 => self.row_repeats,
                        rows => rows.saturating_add(self.blank_rows),
                    };
                    self.blank_rows = 0;
                }
            }
        }
        let all = self
            .rows
            .saturating_mul(self.width)
            .saturating_add(self.before);
        if all > MOST_CELLS {
            return Err(Broken::TooLarge("the area of its sheets".to_owned()));
        }
        Ok(())
    }
}

/// True where a tag has this name, with or without a prefix before it.
fn is(tag: &[u8], name: &str) -> bool {
    let tag = tag.strip_prefix(b"x:").unwrap_or(tag);
    tag.strip_prefix(name.as_bytes()).is_some_and(|rest| {
        !rest
            .first()
            .is_some_and(|b| b.is_ascii_alphanumeric() || *b == b'-')
    })
}
