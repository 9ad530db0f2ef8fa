//! What is checked of an OLE compound file before a library opens it: that its chains of sectors
//! come to an end, and that its sheets claim no more cells than a list can need.
//!
//! Layout of the file: MS-CFB. Records of the workbook stream: MS-XLS.

use std::{fs, path::Path};

use super::{
    SAVE_AS,
    broken::Broken,
    limits::{Limit, Limits},
};
use crate::error::{At, Error, Result};

/// MS-CFB 2.1: sector numbers from here on are marks, not sectors.
const MARKS: u32 = 0xFFFF_FFFA;
/// MS-CFB 2.2: streams shorter than this lie in the mini stream.
const MINI_CUTOFF: u64 = 4096;
const MINI_SECTOR: usize = 64;
/// MS-XLS 2.4.90: an xls sheet has at most so many rows and columns.
const MOST_ROWS: u32 = 65_536;
const MOST_COLUMNS: u32 = 256;
const MOST_SHEETS: usize = 1000;

type Checked<T> = std::result::Result<T, Broken>;

/// Checks an OLE file.
///
/// # Errors
/// A file that is cut short or runs in circles, that a password protects, that holds no workbook,
/// or whose sheets claim too much.
pub fn check(path: &Path, limits: &Limits) -> Result<()> {
    let broken = |error: Broken| error.at(path, limits);
    let io = |error: std::io::Error| broken(Broken::Damaged(error.to_string()));
    if fs::metadata(path).map_err(io)?.len() > limits.most(Limit::Part) {
        return Err(broken(Broken::TooLarge(Limit::Part, "the file".to_owned())));
    }
    let bytes = fs::read(path).map_err(io)?;
    match streams(&bytes).map_err(broken)? {
        Contents::Workbook(stream) => check_workbook(&stream, limits).map_err(broken),
        Contents::Encrypted => Err(broken(Broken::Password)),
        Contents::Other => Err(Error::input(
            At::file(path),
            "an office file that is no workbook",
            SAVE_AS,
        )),
    }
}

enum Contents {
    Workbook(Vec<u8>),
    Encrypted,
    Other,
}

fn cut_short() -> Broken {
    Broken::Damaged("the file ends before its contents do".to_owned())
}

fn u16_at(bytes: &[u8], at: usize) -> Checked<u16> {
    let two = bytes.get(at..at + 2).ok_or_else(cut_short)?;
    Ok(u16::from_le_bytes([two[0], two[1]]))
}

fn u32_at(bytes: &[u8], at: usize) -> Checked<u32> {
    let four = bytes.get(at..at + 4).ok_or_else(cut_short)?;
    Ok(u32::from_le_bytes([four[0], four[1], four[2], four[3]]))
}

fn words(bytes: &[u8]) -> impl Iterator<Item = u32> {
    bytes
        .as_chunks::<4>()
        .0
        .iter()
        .map(|four| u32::from_le_bytes(*four))
}

/// Finds what the file holds, following every chain that a reader will follow.
fn streams(file: &[u8]) -> Checked<Contents> {
    let size = match u16_at(file, 30)? {
        9 => 512,
        12 => 4096,
        _ => return Err(Broken::Damaged("its sector size is unknown".to_owned())),
    };
    let sector = |id: u32| -> Checked<&[u8]> {
        // The header takes the place of the first sector.
        let start = (id as usize + 1) * size;
        // The last sector may be cut off where it is empty.
        let end = (start + size).min(file.len());
        file.get(start..end)
            .filter(|s| !s.is_empty())
            .ok_or_else(cut_short)
    };
    let most = file.len() / size + 1;
    // The table of sectors is itself found through a table (MS-CFB 2.5).
    let mut tables: Vec<u32> = words(file.get(76..512).ok_or_else(cut_short)?).collect();
    let mut next = u32_at(file, 68)?;
    let mut links = 0;
    while next < MARKS {
        links += 1;
        if links > most {
            return Err(in_circles());
        }
        tables.extend(words(sector(next)?));
        next = tables.pop().unwrap_or(MARKS);
    }
    let mut fat: Vec<u32> = Vec::new();
    for id in tables.into_iter().filter(|&id| id < MARKS) {
        if fat.len() / (size / 4) > most {
            return Err(in_circles());
        }
        fat.extend(words(sector(id)?));
    }
    let directory = chain(u32_at(file, 48)?, &fat, u64::MAX, sector)?;
    let entries = directory.as_chunks::<128>().0;
    let find = |name: &str| entries.iter().find(|entry| entry_is(entry, name));
    if find("EncryptedPackage").is_some() {
        return Ok(Contents::Encrypted);
    }
    let (Some(root), Some(book)) = (entries.first(), find("Workbook").or_else(|| find("Book")))
    else {
        return Ok(Contents::Other);
    };
    let start_of = |entry: &[u8; 128]| u32_at(entry, 116);
    let length_of = |entry: &[u8; 128]| -> Checked<u64> { Ok(u64::from(u32_at(entry, 120)?)) };
    let mini_length = u64::from(u32_at(file, 64)?) * size as u64;
    let mini_fat: Vec<u32> = if mini_length > 0 {
        words(&chain(u32_at(file, 60)?, &fat, mini_length, sector)?).collect()
    } else {
        Vec::new()
    };
    let mini = if mini_length > 0 {
        chain(start_of(root)?, &fat, length_of(root)?, sector)?
    } else {
        Vec::new()
    };
    let length = length_of(book)?;
    let stream = if length < MINI_CUTOFF {
        chain(start_of(book)?, &mini_fat, length, |id| {
            let start = id as usize * MINI_SECTOR;
            mini.get(start..start + MINI_SECTOR).ok_or_else(cut_short)
        })?
    } else {
        chain(start_of(book)?, &fat, length, sector)?
    };
    if (stream.len() as u64) < length {
        return Err(cut_short());
    }
    Ok(Contents::Workbook(stream))
}

fn in_circles() -> Broken {
    Broken::Damaged("its sectors run in circles".to_owned())
}

/// The sectors of a chain, one after another.
fn chain<'a>(
    start: u32,
    fat: &[u32],
    length: u64,
    sector: impl Fn(u32) -> Checked<&'a [u8]>,
) -> Checked<Vec<u8>> {
    let mut bytes = Vec::new();
    let mut id = start;
    let mut links = 0;
    while id < MARKS && (bytes.len() as u64) < length {
        links += 1;
        if links > fat.len() {
            return Err(in_circles());
        }
        bytes.extend_from_slice(sector(id)?);
        id = *fat.get(id as usize).ok_or_else(cut_short)?;
    }
    if bytes.len() as u64 > length {
        bytes.truncate(length as usize);
    }
    Ok(bytes)
}

/// MS-CFB 2.6.1: an entry begins with its name in UTF-16.
fn entry_is(entry: &[u8; 128], name: &str) -> bool {
    let units = entry[..64]
        .as_chunks::<2>()
        .0
        .iter()
        .map(|two| u16::from_le_bytes(*two));
    let written: Vec<u16> = units.take_while(|&unit| unit != 0).collect();
    String::from_utf16(&written).is_ok_and(|written| written.eq_ignore_ascii_case(name))
}

/// Walks the records of the workbook stream.
fn check_workbook(stream: &[u8], limits: &Limits) -> Checked<()> {
    let mut sheets = Vec::new();
    for record in Records(stream) {
        match record? {
            (FILE_PASS, data) if u16_at(data, 0)? != 0 => return Err(Broken::Password),
            (BOUND_SHEET, data) => sheets.push(u32_at(data, 0)? as usize),
            (END, _) => break,
            _ => {}
        }
    }
    if sheets.len() > MOST_SHEETS {
        return Err(Broken::Damaged(format!("it has {} sheets", sheets.len())));
    }
    let mut cells = 0;
    for start in sheets {
        cells += sheet_cells(stream.get(start..).ok_or_else(cut_short)?)?;
        if cells > limits.most(Limit::Cells) {
            let what = "the area of its sheets".to_owned();
            return Err(Broken::TooLarge(Limit::Cells, what));
        }
    }
    Ok(())
}

// Record types, MS-XLS 2.3.
const END: u16 = 0x000A;
const FILE_PASS: u16 = 0x002F;
const BOUND_SHEET: u16 = 0x0085;
const DIMENSIONS: u16 = 0x0200;
const MUL_RK: u16 = 0x00BD;
const FORMULA: u16 = 0x0006;
const CELLS: [u16; 7] = [FORMULA, 0x0203, 0x0204, 0x0205, 0x00D6, 0x00FD, 0x027E];

/// Cells in the smallest rectangle around a sheet's cells: what a reader will build.
fn sheet_cells(stream: &[u8]) -> Checked<u64> {
    let odd = || Broken::Damaged("a sheet claims impossible rows or columns".to_owned());
    let (mut rows, mut columns) = ((u32::MAX, 0), (u32::MAX, 0));
    for record in Records(stream) {
        let (kind, data) = record?;
        let last = match kind {
            END => break,
            DIMENSIONS if data.len() >= 14 => {
                // First and last-but-one row, first and last-but-one column.
                let (top, bottom) = (u32_at(data, 0)?, u32_at(data, 4)?);
                let right = u32::from(u16_at(data, 10)?);
                let claims_cells = bottom > 0 && right > 0;
                if claims_cells && (bottom <= top || bottom > MOST_ROWS || right > MOST_COLUMNS) {
                    return Err(odd());
                }
                continue;
            }
            MUL_RK => u16_at(data, data.len().saturating_sub(2))?,
            kind if CELLS.contains(&kind) => u16_at(data, 2)?,
            _ => continue,
        };
        let (row, first) = (u32::from(u16_at(data, 0)?), u32::from(u16_at(data, 2)?));
        let last = u32::from(last);
        if first > last || last >= MOST_COLUMNS {
            return Err(odd());
        }
        rows = (rows.0.min(row), rows.1.max(row));
        columns = (columns.0.min(first), columns.1.max(last));
    }
    if rows.0 > rows.1 {
        return Ok(0);
    }
    Ok(u64::from(rows.1 - rows.0 + 1) * u64::from(columns.1 - columns.0 + 1))
}

/// The records of a stream: type and data.
struct Records<'a>(&'a [u8]);

impl<'a> Iterator for Records<'a> {
    type Item = Checked<(u16, &'a [u8])>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.0.len() < 4 {
            return None;
        }
        let kind = u16::from_le_bytes([self.0[0], self.0[1]]);
        let length = usize::from(u16::from_le_bytes([self.0[2], self.0[3]]));
        let Some(data) = self.0.get(4..4 + length) else {
            self.0 = &[];
            return Some(Err(cut_short()));
        };
        self.0 = &self.0[4 + length..];
        Some(Ok((kind, data)))
    }
}
