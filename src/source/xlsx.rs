//! The sheets of an xlsx. A sheet is read in one pass, which inflates it, holds it to its bounds and
//! cuts it into cells. What a cell says is for the library to tell, and it is asked once for each way
//! in which a cell is written: cells repeat far more than rows do.

use std::{collections::HashMap, fs::File, io::Read as _, ops::ControlFlow, ops::Range};

use calamine::{DataRef, Reader as _, Sheet as About, XlsxError};
use rustc_hash::FxBuildHasher;
use zip::CompressionMethod;

use super::{
    broken::{Broken, Found, Stop, damaged, shield},
    cut::{Piece, Sheet},
    feed::{Fed, Feed, Part},
    guard::{Sheets, Told},
    limits::Limit,
    row::CellKind,
    sheet_rows::{Rows, Value},
    tags::{local_name, markup},
};

pub struct Xlsx {
    book: calamine::Xlsx<Feed>,
    fed: Fed,
    sheets: Sheets,
    known: Known,
}

impl Xlsx {
    /// Opens a workbook that was looked through but for its sheets.
    pub fn open(file: File, mut sheets: Sheets) -> Found<Xlsx> {
        let too_large = || Broken::TooLarge(Limit::File, "the file".to_owned());
        let mut parts = Vec::new();
        for index in 0..sheets.zip.len() {
            let part = sheets.zip.by_index_raw(index).map_err(damaged)?;
            let is_sheet = sheets.parts.contains(&Some(index));
            let number = |n: u64| match is_sheet {
                true => Ok(0),
                false => u32::try_from(n).map_err(|_| too_large()),
            };
            parts.push(Part {
                name: part.name().map_err(damaged)?.into_owned(),
                deflated: part.compression() != CompressionMethod::Stored,
                crc: part.crc32(),
                packed: number(part.compressed_size())?,
                unpacked: number(part.size())?,
                start: number(part.header_start())?,
                is_sheet,
            });
        }
        let fed = Fed::default();
        let feed = Feed::new(file, &parts, fed.clone()).map_err(damaged)?;
        let feed = feed.ok_or_else(too_large)?;
        Ok(Xlsx {
            book: shield(|| calamine::Xlsx::new(feed))?,
            fed,
            sheets,
            known: Known::default(),
        })
    }

    /// What the workbook says of its sheets.
    pub fn sheets(&self) -> &[About] {
        self.book.sheets_metadata()
    }

    /// Parses a sheet into rows, all but the last of which are handed on. `index`: among all sheets.
    pub fn rows(&mut self, index: usize, rows: &mut Rows<'_, '_>) -> Result<(), Stop> {
        let name = self.sheets()[index].name.clone();
        let Some(&Some(part)) = self.sheets.parts.get(index) else {
            return Err(XlsxError::WorksheetNotFound(name).into());
        };
        rows.comments = self.sheets.comments(part, rows.limits)?.of_rows;
        let before: u64 = (self.sheets.unpacked.iter().enumerate())
            .filter_map(|(other, bytes)| (other != index).then_some(bytes))
            .sum();
        let most = self.sheets.left.saturating_sub(before);
        let mut input = self
            .sheets
            .zip
            .by_index(part)
            .map_err(damaged)?
            .take(most + 1);
        self.fed.start();
        let mut asked = Asked {
            library: self.book.worksheet_cells_reader(&name)?,
            fed: &self.fed,
            row: 0,
        };
        let known = &mut self.known;
        let (struck, told) = (&self.sheets.struck, &self.sheets.told);
        let cut = Sheet::new(&mut input, rows.limits).each(|piece| match piece {
            Piece::HiddenRow(row) => {
                rows.hidden.insert(row);
                Ok(ControlFlow::Continue(()))
            }
            Piece::Cell { position, rest } => {
                let said = match known.get(rest) {
                    Some(said) => said,
                    None => asked.what_it_says(rest, told, known)?,
                };
                let text = match &said.text {
                    Text::AsWritten(text) => text,
                    Text::Kept(text) => &known.text[text.clone()],
                };
                let taken = rows.cell(position, said.kind, text).map_err(Stop::Wrong)?;
                if struck.strikes(rest) {
                    rows.strike(position.1);
                }
                Ok(taken)
            }
        });
        let unpacked = most + 1 - input.limit();
        if unpacked > most {
            let what = format!("its part \"{}\"", self.sheets.names[part]);
            return Err(Broken::TooLarge(Limit::Unpacked, what).into());
        }
        let longest = &mut self.sheets.unpacked[index];
        *longest = unpacked.max(*longest);
        match cut? {
            ControlFlow::Continue(()) => Ok(()),
            ControlFlow::Break(()) => Err(Stop::Enough),
        }
    }
}

/// The library, as it is asked about single cells.
struct Asked<'a> {
    library: calamine::XlsxCellReader<'a, Feed>,
    fed: &'a Fed,
    /// The row that the last cell was said to be in, from 1.
    row: u32,
}

/// Rows from which the cells that are asked about may come.
const ROWS: u32 = 1_000_000;

impl Asked<'_> {
    /// What a cell says, and remembers that. `rest`: as in [`Piece::Cell`].
    fn what_it_says<'a>(
        &mut self,
        rest: &'a [u8],
        told: &Told,
        known: &mut Known,
    ) -> Result<Said<'a>, Stop> {
        if memchr::memmem::find_iter(rest, b"<v>").nth(1).is_some() {
            return Err(damaged("a cell holds two values").into());
        }
        if !holds_whole_value(rest) {
            return Err(damaged("other marks stand within the value of a cell").into());
        }
        self.row = self.row % ROWS + 1;
        self.fed.put(|bytes| {
            bytes.extend_from_slice(format!("<c r=\"A{}\"", self.row).as_bytes());
            bytes.extend_from_slice(rest);
        });
        let cell = self.library.next_cell_with_formula_metadata()?;
        // It reads the cell that it was asked about, and no more or less.
        let Some(cell) = cell.filter(|cell| cell.pos == (self.row - 1, 0)) else {
            return Err(damaged("a cell does not end where it should").into());
        };
        let mut value = match (&cell.value, &cell.formula) {
            (DataRef::Empty, Some(_)) => Value::Unstored,
            (value, Some(_)) if told.is_worked_out_when_opened && is_zero(value) => Value::Unstored,
            (value, _) => Value::from(value),
        };
        let shown = told.formats.shown(rest, &value);
        if let Some(shown) = &shown {
            value = Value::Text(shown);
        }
        let hangs_on_figure = told.formats.of_cell(rest).is_some()
            || told.is_worked_out_when_opened && cell.formula.is_some();
        Ok(known.remember(rest, value, hangs_on_figure))
    }
}

fn is_zero(value: &DataRef<'_>) -> bool {
    match value {
        DataRef::Int(figure) => *figure == 0,
        DataRef::Float(figure) => *figure == 0.0,
        _ => false,
    }
}

/// False where a comment, a section of raw text or, for a figure, an escape stands in a cell's value, which the library
/// ends there: `2<!-- -->4` for 24.
fn holds_whole_value(rest: &[u8]) -> bool {
    let opening = memchr::memchr(b'>', rest).unwrap_or(rest.len());
    let is_text = |of: &[u8]| memchr::memmem::find(&rest[..opening], of).is_some();
    let mut at = 0;
    while let Some(next) = memchr::memchr(b'<', &rest[at..]) {
        at += next;
        let Some(length) = markup(&rest[at..]) else {
            return true;
        };
        let tag = &rest[at + 1..at + length - 1];
        at += length;
        if tag.ends_with(b"/") || local_name(tag) != b"v" {
            continue;
        }
        let end = at + memchr::memchr(b'<', &rest[at..]).unwrap_or(rest.len() - at);
        let escaped = memchr::memchr(b'&', &rest[at..end]).is_some();
        if !rest[end..].starts_with(b"</") || escaped && !is_text(b"str") && !is_text(b"\"d\"") {
            return false;
        }
        at = end;
    }
    true
}

/// What cells say, by how they are written.
#[derive(Default)]
struct Known {
    /// What stands before the figure of a cell that holds one.
    styles: HashMap<Box<[u8]>, Style, FxBuildHasher>,
    figures: HashMap<(u32, u64), Kept, FxBuildHasher>,
    others: HashMap<Box<[u8]>, Kept, FxBuildHasher>,
    text: String,
    bytes: usize,
}

#[derive(Clone, Copy)]
struct Style {
    number: u32,
    /// Its figures are numbers, no dates, and no places in a table of texts.
    is_plain: bool,
}

type Kept = (CellKind, (usize, usize));

struct Said<'a> {
    kind: CellKind,
    text: Text<'a>,
}

enum Text<'a> {
    AsWritten(&'a str),
    /// A part of [`Known::text`].
    Kept(Range<usize>),
}

impl From<Kept> for Said<'_> {
    fn from((kind, (start, end)): Kept) -> Self {
        Said {
            kind,
            text: Text::Kept(start..end),
        }
    }
}

impl Known {
    /// Bytes that may be kept. Then all is forgotten, since most cells are of the few that return soon.
    const MOST: usize = 8 << 20;
    /// What an entry takes besides its text.
    const ENTRY: usize = 64;

    fn get<'a>(&self, written: &'a [u8]) -> Option<Said<'a>> {
        let kept = match figure(written) {
            None => self.others.get(written)?,
            Some((style, figure)) => {
                let style = self.styles.get(style)?;
                if style.is_plain {
                    return Some(Said {
                        kind: CellKind::Number,
                        text: Text::AsWritten(figure),
                    });
                }
                match figure.parse() {
                    Ok(figure) => self.figures.get(&(style.number, figure))?,
                    Err(_) => self.others.get(written)?,
                }
            }
        };
        Some((*kept).into())
    }

    /// `hangs_on_figure`: how it is shown, or whether it is a value at all, hangs on its figure.
    fn remember<'a>(
        &mut self,
        written: &'a [u8],
        value: Value<'_>,
        hangs_on_figure: bool,
    ) -> Said<'a> {
        if self.bytes > Known::MOST {
            *self = Known::default();
        }
        let start = self.text.len();
        let kind = value.write(&mut self.text);
        let end = self.text.len();
        let kept = (kind, (start, end));
        self.bytes += written.len() + end - start + Known::ENTRY;
        let figure = figure(written).and_then(|(style, figure)| {
            // A date's figure from 1 up would be one.
            let is_plain = kind == CellKind::Number
                && !hangs_on_figure
                && !figure.starts_with('0')
                && self.text[start..] == *figure;
            let style = self.style(style);
            style.is_plain |= is_plain;
            Some((style.number, figure.parse().ok()?))
        });
        match figure {
            Some(figure) => self.figures.insert(figure, kept),
            None => self.others.insert(written.into(), kept),
        };
        kept.into()
    }

    fn style(&mut self, written: &[u8]) -> &mut Style {
        let number = self.styles.len() as u32;
        let of = self.styles.entry(written.into());
        of.or_insert(Style {
            number,
            is_plain: false,
        })
    }
}

/// Cuts a cell that holds but a figure, written in the shortest way, into what is before it and that:
/// ` s="1"><v>7.25</v></c>` into ` s="1"><v>` and `7.25`. A number of so few digits is stored as it is
/// written, and is written as it is stored.
fn figure(written: &[u8]) -> Option<(&[u8], &str)> {
    const DIGITS: usize = 15;
    let before_end = written.strip_suffix(b"</v></c>")?;
    let is_part = |b: &&u8| b.is_ascii_digit() || **b == b'.';
    let length = before_end.iter().rev().take_while(is_part).count();
    let (style, figure) = before_end.split_at(before_end.len() - length);
    let figure = std::str::from_utf8(figure).ok()?;
    let (whole, part) = figure.split_once('.').unwrap_or((figure, "1"));
    let is_shortest = figure.len() <= DIGITS
        && (whole == "0" || !whole.is_empty() && !whole.starts_with('0'))
        && !part.is_empty()
        && !part.contains('.')
        && !part.ends_with('0');
    (is_shortest && style.ends_with(b"<v>")).then_some((style, figure))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_as_they_are_written() {
        #[track_caller]
        fn case(written: &str, expected: Option<(&str, &str)>) {
            let found = figure(written.as_bytes());
            let expected = expected.map(|(style, figure)| (style.as_bytes(), figure));
            assert_eq!(found, expected, "{written}");
            if let Some((_, figure)) = found {
                assert_eq!(figure.parse::<f64>().unwrap().to_string(), figure);
            }
        }
        for figure in [
            "0",
            "7",
            "10",
            "7.25",
            "0.5",
            "0.0001",
            "123456789012345",
            "12345.678901234",
        ] {
            case(&format!("><v>{figure}</v></c>"), Some(("><v>", figure)));
        }
        case(
            r#" s="1" t="s"><v>17</v></c>"#,
            Some((r#" s="1" t="s"><v>"#, "17")),
        );
        for figure in [
            "",
            "007",
            "1.0",
            "1.50",
            ".5",
            "1.",
            "1.2.3",
            "-1",
            "1E3",
            " 1",
            "1234567890123456",
            "a1",
        ] {
            case(&format!("><v>{figure}</v></c>"), None);
        }
        case("><f>1</f><v>1</v></c >", None);
        case("><is><t>1</t></is></c>", None);
    }
}
