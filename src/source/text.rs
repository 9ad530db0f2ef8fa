//! Plain and Markdown text: a row a line, the lines of tables cut into cells.

use std::ops::Range;

use super::{
    Each,
    row::{CellKind, Row},
};
use crate::error::Result;

/// The longest block of lines that are lined up with one another.
const BLOCK_LINES: usize = 10_000;
const BLOCK_BYTES: usize = 4 << 20;

/// Hands on every line.
///
/// * A line of a Markdown table is cut at its bars.
/// * A line with tabs is cut at them.
/// * A line with two or more spaces between words is cut there, and its cells are put under those
///   of the widest line of its block, so that a column left blank stays blank. A line that is alone in
///   its block is cut where it is lined up with the block above.
pub fn rows(text: &str, each: &mut Each<'_>) -> Result<()> {
    let mut row = Row::default();
    let lines: Vec<&str> = lines(text);
    let mut next = 0;
    let mut block = Vec::new();
    let mut above: Option<Vec<Range<usize>>> = None;
    while next < lines.len() {
        let end = next + block_length(&lines[next..]);
        block.clear();
        block.extend(lines[next..end].iter().map(|line| cut_at_gaps(line)));
        let markdown = lines[next..end].iter().any(|line| is_rule(line));
        let aligned =
            |ruler: &Vec<Range<usize>>| block.iter().any(|parts| is_aligned(parts, ruler));
        let ruler = ruler(&block).or_else(|| above.clone().filter(aligned));
        for (line, parts) in lines[next..end].iter().zip(&block) {
            next += 1;
            row.start(next as u32);
            let line_text = line.trim();
            if line_text.starts_with('|') || (markdown && line_text.contains('|')) {
                push_bars(&mut row, line_text);
            } else if line_text.contains('\t') {
                for cell in line_text.split('\t').filter(|cell| !cell.trim().is_empty()) {
                    push(&mut row, cell);
                }
            } else if let (Some(ruler), true) = (&ruler, parts.len() > 1) {
                push_under(&mut row, line, parts, ruler);
            } else {
                push(&mut row, line_text);
                row.set_in(line.len() - line.trim_start().len());
            }
            if each(&row)?.is_break() {
                return Ok(());
            }
        }
        above = ruler.or(above);
        if lines.get(next).is_some_and(|line| line.trim().is_empty()) {
            next += 1;
            row.start(next as u32);
            if each(&row)?.is_break() {
                return Ok(());
            }
        }
    }
    Ok(())
}

/// Lines to the next blank one; a text without blank lines is taken in pieces.
fn block_length(lines: &[&str]) -> usize {
    let mut bytes = 0;
    lines
        .iter()
        .enumerate()
        .position(|(at, line)| {
            bytes += line.len();
            line.trim().is_empty() || (at > 0 && (at == BLOCK_LINES || bytes > BLOCK_BYTES))
        })
        .unwrap_or(lines.len())
}

/// The lines, whichever way they end; nothing after the last line end.
fn lines(text: &str) -> Vec<&str> {
    if text.contains('\n') {
        text.lines().collect()
    } else {
        text.strip_suffix('\r')
            .unwrap_or(text)
            .split('\r')
            .collect()
    }
}

/// The `|---|:---:|` under a Markdown table's headings.
pub fn is_rule(line: &str) -> bool {
    let line = line.trim();
    line.contains('|')
        && line.contains("--")
        && line.chars().all(|c| matches!(c, '|' | '-' | ':' | ' '))
}

fn push(row: &mut Row, cell: &str) {
    let cell = cell.trim();
    let kind = if cell.is_empty() {
        CellKind::Blank
    } else {
        CellKind::Text
    };
    row.push(cell, kind);
}

/// Cuts a Markdown row at its bars; `\|` is a bar in a cell.
fn push_bars(row: &mut Row, line: &str) {
    let line = line.strip_prefix('|').unwrap_or(line);
    let line = line.strip_suffix('|').unwrap_or(line);
    let mut cell = String::new();
    let mut chars = line.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '\\' if chars.peek() == Some(&'|') => {
                chars.next();
                cell.push('|');
            }
            '|' => {
                push(row, &cell);
                cell.clear();
            }
            _ => cell.push(c),
        }
    }
    push(row, &cell);
}

/// A part of a line between gaps: its bytes, and the columns of the page that it stands in.
struct Part {
    bytes: Range<usize>,
    columns: Range<usize>,
}

/// The parts of a line that two or more spaces keep apart.
fn cut_at_gaps(line: &str) -> Vec<Part> {
    let mut parts: Vec<Part> = Vec::new();
    for (column, (at, c)) in line.char_indices().enumerate() {
        if c == ' ' || c == '\t' || c == '\u{a0}' {
            continue;
        }
        let end = at + c.len_utf8();
        match parts.last_mut() {
            Some(part) if column < part.columns.end + 2 => {
                part.bytes.end = end;
                part.columns.end = column + 1;
            }
            _ => parts.push(Part {
                bytes: at..end,
                columns: column..column + 1,
            }),
        }
    }
    parts
}

/// The columns of the widest line under which another stands, where at least two lines have columns. A title is
/// set apart by spaces, too, and nothing is lined up with it.
fn ruler(block: &[Vec<Part>]) -> Option<Vec<Range<usize>>> {
    const TRIED: usize = 4;
    let mut tabular: Vec<&Vec<Part>> = block.iter().filter(|parts| parts.len() > 1).collect();
    if tabular.len() < 2 {
        return None;
    }
    tabular.reverse();
    tabular.sort_by_key(|parts| std::cmp::Reverse(parts.len()));
    let columns = |parts: &[Part]| parts.iter().map(|part| part.columns.clone()).collect();
    let rulers = tabular.iter().take(TRIED).map(|parts| columns(parts));
    let rules = |(at, ruler): &(usize, Vec<Range<usize>>)| {
        let others = tabular.iter().enumerate().filter(|(other, _)| other != at);
        others
            .into_iter()
            .any(|(_, parts)| is_aligned(parts, ruler))
    };
    let found = rulers.enumerate().find(rules).map(|(_, ruler)| ruler);
    Some(found.unwrap_or_else(|| columns(tabular[0])))
}

/// True where each of several parts begins or ends as a column does.
fn is_aligned(parts: &[Part], ruler: &[Range<usize>]) -> bool {
    let under = |part: &Part, column: &Range<usize>| {
        part.columns.start == column.start || part.columns.end == column.end
    };
    let any = |part: &Part| ruler.iter().any(|column| under(part, column));
    parts.len() > 1 && parts.len() <= ruler.len() && parts.iter().all(any)
}

/// Puts each part under the column that it overlaps the most, else the nearest.
fn push_under(row: &mut Row, line: &str, parts: &[Part], ruler: &[Range<usize>]) {
    let mut column = 0;
    for (index, part) in parts.iter().enumerate() {
        let left = parts.len() - index;
        let last = ruler.len().saturating_sub(left).max(column);
        let best = (column..=last)
            .filter(|&c| c < ruler.len())
            .max_by_key(|&c| overlap(&part.columns, &ruler[c]))
            .unwrap_or(column);
        while column < best {
            push(row, "");
            column += 1;
        }
        push(row, &line[part.bytes.clone()]);
        column += 1;
    }
}

/// Columns that two ranges share; less than nothing where they are apart.
fn overlap(a: &Range<usize>, b: &Range<usize>) -> isize {
    a.end.min(b.end) as isize - a.start.max(b.start) as isize
}

#[cfg(test)]
mod tests {
    use std::ops::ControlFlow;

    use super::*;

    #[track_caller]
    fn case(text: &str, expected: &[&[&str]]) {
        let mut found: Vec<Vec<String>> = Vec::new();
        rows(text, &mut |row| {
            assert_eq!(row.number as usize, found.len() + 1);
            found.push(row.cells().map(|(text, _)| text.to_owned()).collect());
            Ok(ControlFlow::Continue(()))
        })
        .unwrap();
        assert_eq!(found, expected);
    }

    #[test]
    fn a_line_is_a_row() {
        case(
            "24 hex bolts\r\n\r\n  12 nuts \n",
            &[&["24 hex bolts"], &[], &["12 nuts"]],
        );
        case(
            "24 hex bolts\r12 nuts\r",
            &[&["24 hex bolts"], &["12 nuts"]],
        );
    }

    #[test]
    fn markdown_tables() {
        case(
            "| Qty | Item |\n|----:|:-----|\n| 4 | pipe \\| clamp |\n",
            &[
                &["Qty", "Item"],
                &["----:", ":-----"],
                &["4", "pipe | clamp"],
            ],
        );
        case(
            "Qty | Item\n--- | ---\n4 | bolt",
            &[&["Qty", "Item"], &["---", "---"], &["4", "bolt"]],
        );
    }

    #[test]
    fn aligned_tables() {
        case(
            concat!(
                "Stage      Qty  Item\n",
                "1 Shoes     12  hex bolt 1/2 x 3\n",
                "             8  hex nut 1/2\n",
                "2 Girders       splice plate\n",
            ),
            &[
                &["Stage", "Qty", "Item"],
                &["1 Shoes", "12", "hex bolt 1/2 x 3"],
                &["", "8", "hex nut 1/2"],
                &["2 Girders", "", "splice plate"],
            ],
        );
    }

    /// Common practice, no source: a receipt's head is wider than its lines.
    #[test]
    fn a_wide_title() {
        case(
            concat!(
                "TILL 4   RECEIPT 221   3 JUNE   10:41\n",
                "8 COACH BOLT M10X80          7.60\n",
                "2 POST CAP                  12.00\n",
            ),
            &[
                &["TILL 4", "RECEIPT 221", "3 JUNE", "10:41"],
                &["8 COACH BOLT M10X80", "7.60"],
                &["2 POST CAP", "12.00"],
            ],
        );
    }

    #[test]
    fn a_line_alone_under_a_table() {
        case(
            "Leg       4\nRail     12\n\nPanel     2\n\nTwo legs.  Two rails.\n",
            &[
                &["Leg", "4"],
                &["Rail", "12"],
                &[],
                &["Panel", "2"],
                &[],
                &["Two legs.  Two rails."],
            ],
        );
    }

    #[test]
    fn tabs() {
        case("4\t\tbolt\n6\tnut", &[&["4", "bolt"], &["6", "nut"]]);
    }

    proptest::proptest! {
        #[test]
        fn never_panics(text in "[a½| \t\r\n-]{0,80}") {
            rows(&text, &mut |_| Ok(ControlFlow::Continue(()))).unwrap();
        }
    }
}
