//! Delimited text: finding the delimiter, and reading the records.

use std::{
    borrow::Cow,
    ops::{ControlFlow, Range},
};

use csv::{ReaderBuilder, StringRecord};

use super::{
    Each,
    row::{CellKind, Row},
};
use crate::error::Result;

/// How much of a file is looked at to find its delimiter.
const SAMPLE: usize = 1 << 16;
const SAMPLE_RECORDS: usize = 200;

/// A quoted cell that runs over more lines than this was not meant as one.
const LINES_IN_A_RECORD: usize = 30;

/// The delimiter of a text, or `None` where its lines do not fall into columns. `sure`: the file's
/// ending says that it is delimited.
///
/// The delimiter is the one that cuts the most lines into the same number of cells; the most cells, and the most lines
/// at all, where two do.
pub fn sniff(text: &str, sure: bool) -> Option<u8> {
    if let Some(delimiter) = announced(text) {
        return Some(delimiter);
    }
    let sample = sample(text);
    // Markdown tables are text.
    if sample.lines().any(super::text::is_rule) {
        return None;
    }
    let mut best: Option<(u8, [usize; 3])> = None;
    for delimiter in [b'\t', b';', b',', b'|'] {
        let clauses = delimiter == b';' && is_sentences(sample);
        if !sure && (clauses || delimiter == b',' && is_prose(sample)) {
            continue;
        }
        let widths = widths(sample, delimiter);
        let Some((width, same)) = most_common(widths.iter().copied().filter(|&w| w > 1)) else {
            continue;
        };
        // A title block may not fall into columns.
        let cut = widths.iter().filter(|&&w| w > 1).count();
        let is_table = if sure { cut * 5 } else { same * 2 } >= widths.len();
        if !is_table {
            continue;
        }
        let by = [same, width, cut];
        if best.is_none_or(|(_, best)| by > best) {
            best = Some((delimiter, by));
        }
    }
    best.map(|(delimiter, ..)| delimiter)
}

/// Some spreadsheets write `sep=;` on the first line.
fn announced(text: &str) -> Option<u8> {
    let first = text.lines().next()?.trim_matches('"');
    match first.strip_prefix("sep=")?.as_bytes() {
        [delimiter] if delimiter.is_ascii_punctuation() || *delimiter == b'\t' => Some(*delimiter),
        _ => None,
    }
}

fn sample(text: &str) -> &str {
    if text.len() <= SAMPLE {
        return text;
    }
    let cut = text.as_bytes()[..SAMPLE].iter().rposition(|&b| b == b'\n');
    match cut {
        Some(cut) => &text[..cut],
        None => {
            let boundary = (0..=SAMPLE).rev().find(|&at| text.is_char_boundary(at));
            &text[..boundary.unwrap_or(0)]
        }
    }
}

/// In prose a comma is followed by a space, or marks a thousand (`1,200 1/2 nuts`); between cells it
/// seldom does.
fn is_prose(sample: &str) -> bool {
    let bytes = sample.as_bytes();
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let thousand = |at: usize| {
        at > 0 && digit(at - 1) && (at + 1..at + 4).all(digit) && bytes.get(at + 4) == Some(&b' ')
    };
    let commas = sample.match_indices(',').map(|(at, _)| at);
    let of_prose = |at: &usize| bytes.get(at + 1) == Some(&b' ') || thousand(*at);
    commas.clone().filter(of_prose).count() * 2 > commas.count()
}

/// Lines with a semicolon are sentences where it is followed by a space and they end in a full stop.
fn is_sentences(sample: &str) -> bool {
    let (mut with, mut closed) = (0, 0);
    for line in sample.lines().filter(|line| line.contains(';')) {
        with += 1;
        closed += usize::from(line.trim_end().ends_with('.') && line.contains("; "));
    }
    closed * 2 > with
}

fn widths(sample: &str, delimiter: u8) -> Vec<usize> {
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter)
        .from_reader(sample.as_bytes());
    reader
        .records()
        .map_while(std::result::Result::ok)
        .filter(|record| record.iter().any(|cell| !cell.trim().is_empty()))
        .take(SAMPLE_RECORDS)
        .map(|record| record.len())
        .collect()
}

/// The most common width and how often it comes; the wider where two come as often.
fn most_common(widths: impl Iterator<Item = usize> + Clone) -> Option<(usize, usize)> {
    widths
        .clone()
        .map(|width| (widths.clone().filter(|&w| w == width).count(), width))
        .max()
        .map(|(count, width)| (width, count))
}

/// Hands on every record, and every blank line, with the line that it starts on.
pub fn rows(text: &str, delimiter: u8, each: &mut Each<'_>) -> Result<()> {
    let mut row = Row::default();
    let mut line: u32 = 1;
    let mut start = 0;
    if announced(text).is_some() {
        row.start(line);
        if each(&row)?.is_break() {
            return Ok(());
        }
        start = next_line(text, 0);
        line += 1;
    }
    while start < text.len() {
        let is_over = if let Some(end) = blank_line(text.as_bytes(), start) {
            start = end;
            row.start(line);
            line += 1;
            each(&row)?
        } else {
            row.start(line);
            row.at = Some(start);
            match cut(text, start, delimiter, &mut row) {
                Some(end) => {
                    start = blank_line(text.as_bytes(), end).unwrap_or(end);
                    line += 1;
                    each(&row)?
                }
                None => records(text, &mut start, &mut line, delimiter, &mut row, each)?,
            }
        };
        if is_over.is_break() {
            break;
        }
    }
    Ok(())
}

/// Cuts the line that starts there into cells, and gives where it ends, its line end left out; nothing
/// where it holds a quotation mark.
fn cut(text: &str, start: usize, delimiter: u8, row: &mut Row) -> Option<usize> {
    let rest = &text[start..];
    let (mut cell, mut at) = (0, 0);
    let end = 'line: loop {
        let Some(word) = word_at(rest.as_bytes(), at) else {
            break rest.len();
        };
        let mut marks = marks_in(word, delimiter);
        while marks != 0 {
            let mark = at + marks.trailing_zeros() as usize / 8;
            marks &= marks - 1;
            match rest.as_bytes()[mark] {
                b'"' => return None,
                byte if byte == delimiter => {
                    row.push_range(cell, trim(rest, cell..mark));
                    cell = mark + 1;
                }
                b'\r' | b'\n' => break 'line mark,
                _ => {}
            }
        }
        at += WORD;
    };
    row.push_range(cell, trim(rest, cell..end));
    row.is_of(&rest[..end]);
    Some(start + end)
}

/// Bytes that are looked at together.
const WORD: usize = 8;

/// The bytes from there on, blanks behind the last; nothing past it.
fn word_at(bytes: &[u8], at: usize) -> Option<u64> {
    let rest = bytes.get(at..).filter(|rest| !rest.is_empty())?;
    let word = rest.first_chunk().copied().unwrap_or_else(|| {
        let mut word = [b' '; WORD];
        word[..rest.len()].copy_from_slice(rest);
        word
    });
    Some(u64::from_le_bytes(word))
}

/// The upper bit of each byte that is a delimiter, a quotation mark or a control character up to the
/// carriage return: whatever ends a cell, and little else.
fn marks_in(word: u64, delimiter: u8) -> u64 {
    const LOWER: u64 = every(0x7F);
    // Adding to the lower seven bits of a byte carries into its upper bit and no further.
    let lower = word & LOWER;
    let is_other_than = |byte: u8| {
        let differs = word ^ every(byte);
        ((differs & LOWER) + LOWER) | differs
    };
    let is_above_controls = (lower + every(0x7F - b'\r')) | word;
    !(is_other_than(delimiter) & is_other_than(b'"') & is_above_controls) & !LOWER
}

/// A word of one byte, time and again.
const fn every(byte: u8) -> u64 {
    u64::from_ne_bytes([byte; WORD])
}

/// A cell without the white space around it, of which most have none.
#[inline(always)]
fn trim(line: &str, cell: Range<usize>) -> Range<usize> {
    match &line.as_bytes()[cell.clone()] {
        [] | [b'!'..=b'~'] | [b'!'..=b'~', .., b'!'..=b'~'] => cell,
        _ => trim_closely(line, cell),
    }
}

fn trim_closely(line: &str, cell: Range<usize>) -> Range<usize> {
    let start = cell.end - line[cell.clone()].trim_start().len();
    start..start + line[start..cell.end].trim_end().len()
}

/// Reads records from `start` on while they hold quotation marks, or to a stray one: the line that
/// holds it is read by itself, with its marks as written.
fn records(
    text: &str,
    start: &mut usize,
    line: &mut u32,
    delimiter: u8,
    row: &mut Row,
    each: &mut Each<'_>,
) -> Result<ControlFlow<()>> {
    let base = *start;
    let bytes = text.as_bytes();
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter)
        .from_reader(&bytes[base..]);
    let mut record = StringRecord::new();
    // The csv reader passes over blank lines, which count as rows here.
    while *start < bytes.len()
        && blank_line(bytes, *start).is_none()
        && memchr::memchr(b'"', &bytes[*start..line_end(text, *start)]).is_some()
    {
        // Text is valid UTF-8 and lengths may differ, so there is nothing left to fail.
        if !reader.read_record(&mut record).unwrap_or(false) {
            *start = bytes.len();
            break;
        }
        let mut end = base + reader.position().byte() as usize;
        // The reader stops between the two halves of a line end.
        if bytes[end - 1] == b'\r' && bytes.get(end) == Some(&b'\n') {
            end += 1;
        }
        let raw = &bytes[*start..end];
        // Only a quoted cell runs over a line's end.
        let lines = line_ends(raw);
        let first_end = match lines {
            1 => end,
            _ => next_line(text, *start),
        };
        let first = text[*start..first_end].trim_end_matches(['\r', '\n']);
        row.start(*line);
        let whole = &text[*start..end];
        if has_lone_mark(first, delimiter)
            || is_stray_quote(raw, lines, end == bytes.len())
            || (lines > 1
                && (!closes(whole, delimiter) || are_rows(whole, delimiter, record.len())))
        {
            for cell in cut_line(first, delimiter) {
                push(row, &unquote(cell));
            }
            *start = first_end;
            *line += 1;
            return each(row);
        }
        for cell in &record {
            push(row, cell);
        }
        *start = end;
        *line += lines as u32;
        if each(row)?.is_break() {
            return Ok(ControlFlow::Break(()));
        }
    }
    Ok(ControlFlow::Continue(()))
}

fn push(row: &mut Row, written: &str) {
    let cell = written.trim();
    let kind = if cell.is_empty() {
        CellKind::Blank
    } else {
        CellKind::Text
    };
    row.push(cell, kind);
    row.set_in(written.len() - written.trim_start().len());
}

/// The cells of one line as written, with the quotation marks around them. A mark that nothing
/// closes is a mark like any other.
fn cut_line(line: &str, delimiter: u8) -> impl Iterator<Item = &str> {
    let mut rest = Some(line);
    std::iter::from_fn(move || {
        let text = rest?;
        let closing = text
            .strip_prefix('"')
            .filter(|rest| !rest.starts_with(char::from(delimiter)));
        let quoted = closing.and_then(closing_quote).map_or(0, |end| end + 2);
        let end = text[quoted..]
            .find(char::from(delimiter))
            .map(|end| quoted + end);
        rest = end.map(|end| &text[end + 1..]);
        Some(text[..end.unwrap_or(text.len())].trim())
    })
}

/// True where a cell of the line is a quotation mark and nothing else, a ditto mark.
fn has_lone_mark(line: &str, delimiter: u8) -> bool {
    let bytes = line.as_bytes();
    let ends_cell = |at: Option<usize>| {
        at.and_then(|at| bytes.get(at))
            .is_none_or(|&b| b == delimiter)
    };
    line.match_indices('"').any(|(at, _)| ends_cell(at.checked_sub(1)) && ends_cell(Some(at + 1)))
        // A quoted cell that ends in a delimiter looks the same: cutting the line tells.
        && cut_line(line, delimiter).any(|cell| cell == "\"")
}

/// Where the closing quotation mark is; two in a row stand for one.
fn closing_quote(inner: &str) -> Option<usize> {
    let bytes = inner.as_bytes();
    let mut at = 0;
    loop {
        at += bytes.get(at..)?.iter().position(|&b| b == b'"')?;
        if bytes.get(at + 1) != Some(&b'"') {
            return Some(at);
        }
        at += 2;
    }
}

/// A cell without the quotation marks around it, or one in front that nothing closes.
fn unquote(cell: &str) -> Cow<'_, str> {
    let opened = cell.strip_prefix('"');
    match opened.and_then(|cell| cell.strip_suffix('"')) {
        Some(inner) if inner.contains("\"\"") => Cow::Owned(inner.replace("\"\"", "\"")),
        Some(inner) => Cow::Borrowed(inner),
        None => Cow::Borrowed(
            opened
                .filter(|inner| !inner.contains('"') && !inner.is_empty())
                .unwrap_or(cell),
        ),
    }
}

/// A quotation mark at the start of a cell (an inch or a ditto mark, most likely) opens a cell that
/// runs on for many lines or to the end of the file.
fn is_stray_quote(raw: &[u8], lines: usize, at_end: bool) -> bool {
    lines > LINES_IN_A_RECORD
        || (lines > 1 && at_end && raw.iter().filter(|&&b| b == b'"').count() % 2 == 1)
}

/// True where all that is quoted ends at a delimiter or a line's end (RFC 4180): else a mark of a line below, an inch
/// mark or a stray one, closed it.
fn closes(record: &str, delimiter: u8) -> bool {
    let ends =
        |text: &str| text.is_empty() || text.starts_with([char::from(delimiter), '\r', '\n']);
    let mut rest = record;
    loop {
        if let Some(inner) = rest.strip_prefix('"') {
            let Some(end) = closing_quote(inner) else {
                return false;
            };
            rest = inner[end + 1..].trim_start_matches(' ');
            if !ends(rest) {
                return false;
            }
        }
        match rest.split_once(char::from(delimiter)) {
            Some((_, next)) => rest = next,
            None => return true,
        }
    }
}

/// True where each line of a record has as many cells as it: rows between two stray marks.
fn are_rows(record: &str, delimiter: u8, cells: usize) -> bool {
    let mut lines = record.lines().filter(|line| !line.is_empty());
    cells > 1 && lines.all(|line| cut_line(line, delimiter).count() == cells)
}

/// Where a line with nothing on it ends, if one starts here.
fn blank_line(bytes: &[u8], start: usize) -> Option<usize> {
    match (bytes.get(start), bytes.get(start + 1)) {
        (Some(b'\r'), Some(b'\n')) => Some(start + 2),
        (Some(b'\r' | b'\n'), _) => Some(start + 1),
        _ => None,
    }
}

/// Line ends in a record, the last line of the file counted as ended.
fn line_ends(raw: &[u8]) -> usize {
    let body = raw.strip_suffix(b"\n").unwrap_or(raw);
    let body = body.strip_suffix(b"\r").unwrap_or(body);
    if !body.contains(&b'\n') && !body.contains(&b'\r') {
        return 1;
    }
    let feeds = raw.iter().filter(|&&b| b == b'\n').count();
    let returns = raw.iter().filter(|&&b| b == b'\r').count();
    let ended = matches!(raw.last(), Some(b'\r' | b'\n'));
    feeds.max(returns) + usize::from(!ended)
}

/// Where the line that starts here ends, its line end left out.
fn line_end(text: &str, start: usize) -> usize {
    memchr::memchr2(b'\r', b'\n', &text.as_bytes()[start..]).map_or(text.len(), |end| start + end)
}

fn next_line(text: &str, start: usize) -> usize {
    let end = line_end(text, start);
    blank_line(text.as_bytes(), end).unwrap_or(end)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn sniffs(text: &str, expected: Option<u8>) {
        assert_eq!(sniff(text, false).map(char::from), expected.map(char::from));
    }

    #[test]
    fn delimiters() {
        sniffs("Qty,Item\n4,bolt\n", Some(b','));
        sniffs("Qty;Item;Mass\n4;bolt;0,25\n6;nut;0,05\n", Some(b';'));
        sniffs("Qty\tItem\n4\tbolt, 1/2\n", Some(b'\t'));
        sniffs("Qty|Item\n4|bolt\n", Some(b'|'));
        sniffs("Qty,Item,Bag\n;;,\n", Some(b','));
        sniffs(
            "Kit list\nRev C\n\nQty,Item,Size\n4,bolt,1/2\n6,nut,1/2\n",
            Some(b','),
        );
        sniffs("sep=;\nQty;Item\n", Some(b';'));
    }

    #[test]
    fn text_is_not_delimited() {
        sniffs("24 hex bolts, 1/2 x 3\n12 nuts, 1/2\n", None);
        sniffs("| Qty | Item |\n|---|---|\n| 4 | bolt |\n", None);
        sniffs("24 hex bolts\n12 nuts\n", None);
        // The comma marks a thousand.
        sniffs("1,200 1/2 nuts\n1,400 3/8 nuts\n2,000 5/8 nuts\n", None);
    }

    #[track_caller]
    fn reads(text: &str, delimiter: u8, expected: &[(u32, &[&str])]) {
        let mut found = Vec::new();
        rows(text, delimiter, &mut |row| {
            let cells: Vec<String> = row.cells().map(|(text, _)| text.to_owned()).collect();
            found.push((row.number, cells));
            Ok(ControlFlow::Continue(()))
        })
        .unwrap();
        let expected: Vec<(u32, Vec<String>)> = expected
            .iter()
            .map(|(n, cells)| (*n, cells.iter().map(|c| (*c).to_owned()).collect()))
            .collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn a_row_is_the_line_that_its_record_starts_on() {
        reads(
            "a,b\n\n\"c\nd\",e\r\n\r\nf,g",
            b',',
            &[
                (1, &["a", "b"]),
                (2, &[]),
                (3, &["c\nd", "e"]),
                (5, &[]),
                (6, &["f", "g"]),
            ],
        );
        reads("a,b\rc,d\r", b',', &[(1, &["a", "b"]), (2, &["c", "d"])]);
        reads(
            "a;b;\n;;\n",
            b';',
            &[(1, &["a", "b", ""]), (2, &["", "", ""])],
        );
    }

    #[test]
    fn a_stray_quotation_mark_takes_one_line() {
        reads(
            "4,bolt\n\",nut\n6,washer",
            b',',
            &[
                (1, &["4", "bolt"]),
                (2, &["\"", "nut"]),
                (3, &["6", "washer"]),
            ],
        );
        reads(
            "4,3/4\" bolt\n5,1/2\" x 3\" bolt\n",
            b',',
            &[(1, &["4", "3/4\" bolt"]), (2, &["5", "1/2\" x 3\" bolt"])],
        );
    }

    #[test]
    fn two_stray_marks_hold_no_rows_between_them() {
        // An inch mark, or another stray mark, closes the first.
        for last in ["1/2\" bolt", "\"bolt", "\"bolt\""] {
            let bolt = if last.starts_with('"') { "bolt" } else { last };
            reads(
                &format!("\"nut,9\nwasher,24\n{last},4\nrod,7\n"),
                b',',
                &[
                    (1, &["nut", "9"]),
                    (2, &["washer", "24"]),
                    (3, &[bolt, "4"]),
                    (4, &["rod", "7"]),
                ],
            );
        }
        reads(
            "nut,9,\"feet\nwasher,24,\nbolt,7,\"\nrod,3,\n",
            b',',
            &[
                (1, &["nut", "9", "feet"]),
                (2, &["washer", "24", ""]),
                (3, &["bolt", "7", "\""]),
                (4, &["rod", "3", ""]),
            ],
        );
        // A note of several lines is one cell.
        reads(
            "nut,9,\"for the feet,\nand the roof\"\nrod,3,\n",
            b',',
            &[
                (1, &["nut", "9", "for the feet,\nand the roof"]),
                (3, &["rod", "3", ""]),
            ],
        );
    }

    #[test]
    fn ditto_marks() {
        reads(
            "6;\";\";A\n2;\"a;b\";\"\n4;\"c;\";5\n",
            b';',
            &[
                (1, &["6", "\"", "\"", "A"]),
                (2, &["2", "a;b", "\""]),
                (3, &["4", "c;", "5"]),
            ],
        );
    }

    proptest::proptest! {
        /// Whatever the line, its cells are what stands between delimiters.
        #[test]
        fn cells_stand_between_delimiters(line in "[ab,,;\t \u{a0}\u{3000}\u{bd}|.-]{1,60}", delimiter in "[,;|\t]") {
            let delimiter = delimiter.as_bytes()[0];
            let cells: Vec<&str> = line.split(char::from(delimiter)).map(str::trim).collect();
            reads(&line, delimiter, &[(1, cells.as_slice())]);
            reads(&format!("{line}\r\n{line}"), delimiter, &[(1, cells.as_slice()), (2, cells.as_slice())]);
        }

        /// Whatever the text, rows are numbered upwards and within the file's lines.
        #[test]
        fn rows_are_numbered_upwards(text in "[ab,\"\r\n]{0,60}") {
            let mut last = 0;
            let lines = text.split(['\r', '\n']).count() as u32;
            rows(&text, b',', &mut |row| {
                assert!(row.number > last && row.number <= lines, "{} of {lines}", row.number);
                last = row.number;
                Ok(ControlFlow::Continue(()))
            })
            .unwrap();
        }
    }
}
