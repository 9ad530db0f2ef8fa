//! A sheet of an xlsx cut into rows and cells as its bytes pass by, and held to its bounds: at a
//! fraction of what parsing costs, since what a cell holds is not looked at.

use std::{io::Read, ops::ControlFlow};

use calamine::XlsxError;

use super::{
    broken::{Broken, DEEPEST, Stop, damaged, own_entities, too_deep},
    limits::{Limit, Limits},
    sheet_rows::MOST_ROWS,
    tags::{attribute, local_name, markup, number},
};

/// Bytes of XML to a byte of text, in a cell of runs and escapes.
const XML_TO_TEXT: u64 = 8;
/// Bytes that are looked at together, unless a cell is longer.
const WINDOW: usize = 1 << 17;

/// What a sheet is cut into.
pub enum Piece<'a> {
    /// A row begins, its number from 1, which is hidden or filtered out.
    HiddenRow(u32),
    /// A cell that holds something.
    Cell {
        /// Row and column, from 0.
        position: (u32, u32),
        /// All of it but `<c` and its reference, to the end of its closing tag.
        rest: &'a [u8],
    },
}

/// A sheet under the knife.
pub struct Sheet<'a, R> {
    input: R,
    limits: &'a Limits,
    buffer: Vec<u8>,
    /// What of the buffer is still to be cut.
    at: usize,
    filled: usize,
    /// Bytes since a row or a cell began.
    since: u64,
    depth: usize,
    /// The element around all others.
    kind: Option<Box<str>>,
    data: Data,
    /// The row and column of a cell that does not say where it is, from 0.
    row: u32,
    column: u32,
    /// A cell's text without its reference, where that stands in its midst.
    rest: Vec<u8>,
}

/// Where in the sheet we are.
#[derive(PartialEq, Clone, Copy)]
enum Data {
    Before,
    Within,
    After,
}

impl<'a, R: Read> Sheet<'a, R> {
    pub fn new(input: R, limits: &'a Limits) -> Sheet<'a, R> {
        Sheet {
            input,
            limits,
            buffer: vec![0; WINDOW],
            at: 0,
            filled: 0,
            since: 0,
            depth: 0,
            kind: None,
            data: Data::Before,
            row: 0,
            column: 0,
            rest: Vec::new(),
        }
    }

    /// Hands on each piece in turn. The sheet is looked through to its end, unless `take` breaks off.
    pub fn each(
        &mut self,
        mut take: impl FnMut(Piece<'_>) -> Result<ControlFlow<()>, Stop>,
    ) -> Result<ControlFlow<()>, Stop> {
        self.fill()?;
        if self.buffer[..self.filled].starts_with(b"\xFF\xFE")
            || self.buffer[..self.filled].starts_with(b"\xFE\xFF")
        {
            return Err(not_utf8().into());
        }
        loop {
            let window = &self.buffer[self.at..self.filled];
            if self.data == Data::Within
                && let Some((position, start, length)) = plain_cell(window)
            {
                self.column = position.1 + 1;
                let rest = &window[start..length];
                if take(Piece::Cell { position, rest })?.is_break() {
                    return Ok(ControlFlow::Break(()));
                }
                self.at += length;
                self.since = 0;
                continue;
            }
            let text = memchr::memchr(b'<', window).unwrap_or(window.len());
            // It may be all that is left of a cell.
            if self.data == Data::Within && !window[..text].trim_ascii().is_empty() {
                return Err(damaged("there is text between its cells").into());
            }
            self.pass(text)?;
            let window = &self.buffer[self.at..self.filled];
            let Some(length) = markup(window) else {
                match self.fill()? {
                    true => continue,
                    false => break,
                }
            };
            if self.data == Data::Within && local_name(&window[1..length - 1]) == b"c" {
                let Some(length) = self.cell(length, &mut take)? else {
                    match self.fill()? {
                        true => continue,
                        false => break,
                    }
                };
                let Some(length) = length else {
                    return Ok(ControlFlow::Break(()));
                };
                self.at += length;
                self.since = 0;
                continue;
            }
            if let Some(hidden) = self.tag(self.at + 1, length - 2)?
                && take(Piece::HiddenRow(hidden))?.is_break()
            {
                return Ok(ControlFlow::Break(()));
            }
            self.pass(length)?;
        }
        match (self.data, self.kind.take()) {
            (Data::After, _) => Ok(ControlFlow::Continue(())),
            (Data::Within, _) => Err(XlsxError::XmlEof("sheetData").into()),
            (Data::Before, Some(kind)) => Err(XlsxError::NotAWorksheet(kind.into()).into()),
            (Data::Before, None) => Err(XlsxError::XmlEof("worksheet").into()),
        }
    }

    /// Goes on by so many bytes.
    fn pass(&mut self, bytes: usize) -> Result<(), Broken> {
        self.at += bytes;
        self.since += bytes as u64;
        self.bound(self.since)
    }

    /// Refuses a cell of so many bytes, where they are too many.
    fn bound(&self, bytes: u64) -> Result<(), Broken> {
        if bytes <= self.limits.most(Limit::Row).saturating_mul(XML_TO_TEXT) {
            return Ok(());
        }
        let what = format!("row {} has a cell without end", u64::from(self.row) + 1);
        Err(Broken::TooLarge(Limit::Row, what))
    }

    /// Reads more; `false` where there is no more.
    fn fill(&mut self) -> Result<bool, Broken> {
        self.buffer.copy_within(self.at..self.filled, 0);
        self.filled -= self.at;
        self.at = 0;
        self.bound(self.since + self.filled as u64)?;
        if self.filled * 2 > self.buffer.len() {
            self.buffer.resize(self.buffer.len() * 2, 0);
        }
        let before = self.filled;
        while self.filled < self.buffer.len() {
            match self.input.read(&mut self.buffer[self.filled..]) {
                Ok(0) => break,
                Ok(read) => self.filled += read,
                Err(error) => return Err(damaged(error)),
            }
        }
        Ok(self.filled > before)
    }

    /// Takes note of a tag that is no cell's, without its angle brackets. Gives a hidden row's number.
    fn tag(&mut self, at: usize, length: usize) -> Result<Option<u32>, Broken> {
        let tag = &self.buffer[at..at + length];
        match tag.first() {
            Some(b'/') => {
                if self.depth == 0 && self.data != Data::After {
                    return Err(damaged("its XML closes what it did not open"));
                }
                self.depth = self.depth.saturating_sub(1);
                match local_name(&tag[1..]) {
                    b"row" => self.end_row(),
                    b"sheetData" if self.data == Data::Within => self.data = Data::After,
                    _ => {}
                }
                return Ok(None);
            }
            Some(b'!') if tag.starts_with(b"!DOCTYPE") => return Err(own_entities()),
            Some(b'?') if tag.starts_with(b"?xml") => {
                let encoding = attribute(tag, "encoding")?.map_or(&b"UTF-8"[..], |a| a.value);
                return match encoding.to_ascii_lowercase().as_slice() {
                    b"utf-8" | b"utf8" | b"us-ascii" => Ok(None),
                    _ => Err(not_utf8()),
                };
            }
            Some(b'!' | b'?') => return Ok(None),
            _ => {}
        }
        let is_empty = tag.last() == Some(&b'/');
        if !is_empty {
            self.depth += 1;
            if self.depth > DEEPEST {
                return Err(too_deep());
            }
        }
        let name = local_name(tag);
        match self.kind {
            None => self.kind = Some(String::from_utf8_lossy(name).into()),
            Some(_) if self.depth == usize::from(!is_empty) => {
                return Err(damaged("a sheet goes on behind its end"));
            }
            Some(_) => {}
        }
        match name {
            b"row" => {
                self.since = 0;
                if let Some(reference) = attribute(tag, "r")? {
                    self.row = row(reference.value)?;
                }
                if self.row >= MOST_ROWS {
                    return Err(damaged("it has more rows than a sheet can"));
                }
                let hidden = attribute(tag, "hidden")?.map(|a| a.value);
                let hidden = matches!(hidden, Some(b"1" | b"true")).then_some(self.row + 1);
                if is_empty {
                    self.end_row();
                }
                return Ok(hidden);
            }
            b"sheetData" if self.data == Data::Before => {
                self.data = match is_empty {
                    true => Data::After,
                    false => Data::Within,
                };
            }
            b"sheetData" if !is_empty => {
                return Err(damaged("a sheet holds its cells in two parts"));
            }
            _ if self.data != Data::Within => self.since = 0,
            _ => {}
        }
        Ok(None)
    }

    fn end_row(&mut self) {
        self.row += 1;
        self.column = 0;
    }

    /// Takes the cell at hand, whose opening tag is so long, and gives its length: nothing where its
    /// end is still to be read, nothing within where nobody takes more.
    fn cell(
        &mut self,
        opening: usize,
        take: &mut impl FnMut(Piece<'_>) -> Result<ControlFlow<()>, Stop>,
    ) -> Result<Option<Option<usize>>, Stop> {
        let window = &self.buffer[self.at..self.filled];
        let tag = &window[1..opening - 1];
        let length = match tag.last() {
            Some(b'/') => opening,
            _ => match end_of_cell(window, opening, self.depth)? {
                Some(length) => length,
                None => return Ok(None),
            },
        };
        let reference = attribute(tag, "r")?;
        let position = match &reference {
            Some(reference) => position(reference.value)?,
            None => (self.row, self.column),
        };
        self.column = position.1 + 1;
        if length == opening {
            return Ok(Some(Some(length)));
        }
        // Nearly always the reference stands first.
        let name = tag.iter().position(u8::is_ascii_whitespace);
        let rest = match (reference, name) {
            (Some(reference), Some(name)) if reference.start == name => {
                &window[1 + reference.end..length]
            }
            (reference, name) => {
                let (start, end) = match reference {
                    Some(reference) => (reference.start, reference.end),
                    None => (tag.len(), tag.len()),
                };
                self.rest.clear();
                self.rest
                    .extend_from_slice(&tag[name.unwrap_or(tag.len())..start]);
                self.rest.extend_from_slice(&window[1 + end..length]);
                &self.rest
            }
        };
        Ok(Some(match take(Piece::Cell { position, rest })? {
            ControlFlow::Continue(()) => Some(length),
            ControlFlow::Break(()) => None,
        }))
    }
}

fn not_utf8() -> Broken {
    damaged("a sheet is not written in UTF-8")
}

/// What stands around the text of nearly all cells.
const PLAIN: [(&[u8], &[u8]); 2] = [(b"><v>", b"</v></c>"), (b"><is><t>", b"</t></is></c>")];

/// A cell as nearly all are written, `<c r="A1" s="1"><v>7</v></c>`: its position, where the rest after
/// its reference begins, its length. All other ways to write one are for [`Sheet::cell`].
fn plain_cell(window: &[u8]) -> Option<((u32, u32), usize, usize)> {
    let reference = window.strip_prefix(b"<c r=\"")?;
    let letters = letters(&reference[..reference.len().min(3)]).len();
    let after = &reference[letters..];
    let digits = after.iter().take_while(|b| b.is_ascii_digit()).count();
    let rest = after[digits..].strip_prefix(b"\"")?;
    let position = position(&reference[..letters + digits]).ok()?;
    let mut quoted = false;
    let opening = rest.iter().position(|&b| {
        quoted ^= b == b'"';
        matches!(b, b'>' | b'/' | b'\'' | b'<')
    })?;
    if quoted {
        return None;
    }
    let (text, closing) = PLAIN
        .iter()
        .find_map(|(before, behind)| Some((rest[opening..].strip_prefix(*before)?, *behind)))?;
    let end = text.iter().position(|&b| b == b'<')?;
    let left = text[end..].strip_prefix(closing)?;
    Some((
        position,
        window.len() - rest.len(),
        window.len() - left.len(),
    ))
}

/// The length of a cell, whose opening tag is so long; nothing where its end is not there.
fn end_of_cell(window: &[u8], opening: usize, around: usize) -> Result<Option<usize>, Broken> {
    let mut depth = around + 1;
    let mut at = opening;
    loop {
        let Some(next) = memchr::memchr(b'<', &window[at..]) else {
            return Ok(None);
        };
        at += next;
        if window[at..].starts_with(b"</c>") {
            return Ok(Some(at + 4));
        }
        let Some(length) = markup(&window[at..]) else {
            return Ok(None);
        };
        let tag = &window[at + 1..at + length - 1];
        at += length;
        match tag.first() {
            Some(b'/') if local_name(&tag[1..]) == b"c" => return Ok(Some(at)),
            Some(b'/') => depth = depth.saturating_sub(1),
            Some(b'!' | b'?') => {}
            _ if tag.last() == Some(&b'/') => {}
            _ => {
                depth += 1;
                if depth > DEEPEST {
                    return Err(too_deep());
                }
            }
        }
    }
}

/// Row and column of a cell's reference such as `AB12`, from 0.
fn position(reference: &[u8]) -> Result<(u32, u32), XlsxError> {
    let letters = letters(reference);
    let row = row(reference)?;
    let column = letters.iter().fold(0u32, |column, letter| {
        let letter = u32::from(letter.to_ascii_uppercase() - b'A') + 1;
        column.saturating_mul(26).saturating_add(letter)
    });
    match column.checked_sub(1) {
        Some(column) => Ok((row, column)),
        None => Err(XlsxError::RangeWithoutColumnComponent),
    }
}

fn letters(reference: &[u8]) -> &[u8] {
    let letters = reference.iter().take_while(|b| b.is_ascii_alphabetic());
    &reference[..letters.count()]
}

/// The row of a reference, from 0.
fn row(reference: &[u8]) -> Result<u32, XlsxError> {
    let digits = &reference[letters(reference).len()..];
    if let Some(&odd) = digits.iter().find(|b| !b.is_ascii_digit()) {
        return Err(XlsxError::Alphanumeric(odd));
    }
    let row = number(digits).checked_sub(1);
    let row = row.ok_or(XlsxError::RangeWithoutRowComponent)?;
    Ok(u32::try_from(row).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a sheet with this data is cut into: hidden rows as `!row`, cells as `row,column rest`.
    fn pieces(xml: &str) -> Result<Vec<String>, String> {
        let limits = Limits::default();
        let mut pieces = Vec::new();
        let cut = Sheet::new(xml.as_bytes(), &limits).each(|piece| {
            pieces.push(match piece {
                Piece::HiddenRow(row) => format!("!{row}"),
                Piece::Cell {
                    position: (row, column),
                    rest,
                } => {
                    format!("{row},{column}{}", String::from_utf8_lossy(rest))
                }
            });
            Ok(ControlFlow::Continue(()))
        });
        match cut {
            Ok(_) => Ok(pieces),
            Err(Stop::Broken(Broken::Damaged(why))) => Err(why),
            Err(_) => Err("too large".to_owned()),
        }
    }

    #[track_caller]
    fn case(data: &str, expected: &[&str]) {
        let xml = format!(
            "<?xml version=\"1.0\"?>\n<worksheet><cols><c/></cols><sheetData>{data}</sheetData><c/></worksheet>"
        );
        assert_eq!(pieces(&xml).unwrap(), expected, "{data}");
    }

    #[test]
    fn cells_of_a_sheet() {
        case("", &[]);
        case(
            r#"<row r="3" hidden="1"><c r="B3" t="s"><v>1</v></c><c r="C3"/><c><v>2</v></c></row>"#,
            &["!3", r#"2,1 t="s"><v>1</v></c>"#, "2,3><v>2</v></c>"],
        );
        // Without references: one after another, row by row.
        case(
            "<row><c><v>1</v></c><c/><c ><v>2</v></c></row><row/><row hidden='true'><c><v>3</v></c ></row>",
            &[
                "0,0><v>1</v></c>",
                "0,2 ><v>2</v></c>",
                "!3",
                "2,0><v>3</v></c >",
            ],
        );
        case(
            r#"<x:row><x:c s="1" r="AA10" t = 'b'><x:v>1</x:v></x:c></x:row>"#,
            &[r#"9,26 s="1" t = 'b'><x:v>1</x:v></x:c>"#],
        );
        case(
            r#"<row r="2"><c r="B2" s="<v>"><v>1</v></c><c r="C2" s='"'><v>2</v></c><c r="D2" s="><v>3</v></c>"><v>4</v></c></row>"#,
            &[
                r#"1,1 s="<v>"><v>1</v></c>"#,
                r#"1,2 s='"'><v>2</v></c>"#,
                r#"1,3 s="><v>3</v></c>"><v>4</v></c>"#,
            ],
        );
        case(
            r#"<row><c r="A1" t="inlineStr"><is><t>nut</t></is></c><c r="B1" t="inlineStr"><is><t/></is></c><c r="C1" t="inlineStr"><is><t>n</t><t>u</t></is></c></row>"#,
            &[
                r#"0,0 t="inlineStr"><is><t>nut</t></is></c>"#,
                r#"0,1 t="inlineStr"><is><t/></is></c>"#,
                r#"0,2 t="inlineStr"><is><t>n</t><t>u</t></is></c>"#,
            ],
        );
        // What only looks like a cell's end, or its beginning.
        case(
            r#"<!-- <c r="A1"><v>0</v></c> --><row r="1"><c r="A1" x="</c>"><v><![CDATA[</c>]]></v><!--</c>--></c><col/></row>"#,
            &[r#"0,0 x="</c>"><v><![CDATA[</c>]]></v><!--</c>--></c>"#],
        );
    }

    #[test]
    fn a_cell_over_many_windows() {
        for length in [WINDOW - 100, WINDOW, 5 * WINDOW] {
            let text = "x".repeat(length);
            let cell = |n: u32| format!("<c r=\"A{n}\"><is><t>{text}</t></is></c>");
            case(
                &format!("<row>{}</row><row>{}</row>", cell(1), cell(2)),
                &[0, 1]
                    .map(|row| format!("{row},0><is><t>{text}</t></is></c>"))
                    .each_ref()
                    .map(String::as_str),
            );
        }
    }

    #[test]
    fn what_is_no_sheet() {
        #[track_caller]
        fn case(xml: &str, expected: &str) {
            assert_eq!(pieces(xml).unwrap_err(), expected, "{xml}");
        }
        let of = |error: XlsxError| error.to_string();
        case(
            "<chartsheet/>",
            &of(XlsxError::NotAWorksheet("chartsheet".into())),
        );
        case("", &of(XlsxError::XmlEof("worksheet")));
        case(
            "<worksheet><sheetData><row>",
            &of(XlsxError::XmlEof("sheetData")),
        );
        case(
            "<worksheet><sheetData><row><c r=\"A1\"><v>1</v>",
            &of(XlsxError::XmlEof("sheetData")),
        );
        case(
            "<sheetData><c r=\"A-1\"><v/></c>",
            &of(XlsxError::Alphanumeric(b'-')),
        );
        case(
            "<sheetData><c r=\"A\"><v/></c>",
            &of(XlsxError::RangeWithoutRowComponent),
        );
        case(
            "<sheetData><c r=\"7\"><v/></c>",
            &of(XlsxError::RangeWithoutColumnComponent),
        );
        case(
            "<sheetData><row r=\"0\">",
            &of(XlsxError::RangeWithoutRowComponent),
        );
        case(
            "<sheetData><row r=\"1048577\">",
            "it has more rows than a sheet can",
        );
        case(
            "\u{feff}<?xml encoding='ISO-8859-1'?><sheetData/>",
            "a sheet is not written in UTF-8",
        );
        case(
            "<worksheet><sheetData></sheetData><sheetData><row/></sheetData></worksheet>",
            "a sheet holds its cells in two parts",
        );
        case(
            "<worksheet><sheetData></sheetData></worksheet><row/>",
            "a sheet goes on behind its end",
        );
        assert!(pieces("<sheetData/>").unwrap().is_empty());
    }
}
