//! Records of two lines: the name on one, how many on the next (common practice, no source). So a till prints
//! `HEX BOLT M6X40` over `24 x 0.12  2.88`, a shop its orders, and so cells come out of a printed table, one
//! below another.

use std::sync::LazyLock;

use regex::Regex;

use super::{super::count, form::Record};
use crate::{
    columns::{Meaning, furniture, heading},
    notation::Notation,
    source::{CellKind, Row},
    words::pattern,
};

/// So many records make the form of a list.
const ENOUGH: usize = 3;

/// The name that waits for its count.
#[derive(Debug, Default)]
pub(super) struct Pairs {
    name: Option<Row>,
}

/// What a line is to records of two lines.
pub(super) enum Taken {
    /// It may be a name; one above it that has no count is a line by itself.
    Name(Option<Row>),
    /// It completes a record.
    Record(Record),
    /// It has nothing to do with them, nor the name above it.
    Not(Option<Row>),
    /// A unit alone, or blank.
    Passed,
}

/// A line by its look.
enum Look {
    Name,
    Figures(String),
    /// A count and no word: in which order names and counts stand is told by the rows around it.
    Bare(String),
    Unit,
    Other,
}

impl Pairs {
    /// True where the first lines of a text are such records.
    pub fn are(head: &[Row], notation: Notation) -> bool {
        let looks: Vec<Look> = (head.iter().filter(|row| !row.is_empty()))
            .map(|row| look(row, notation))
            .filter(|look| !matches!(look, Look::Unit))
            .collect();
        let counts = |look: &Look| matches!(look, Look::Figures(_) | Look::Bare(_));
        let pairs = looks
            .windows(2)
            .filter(|pair| matches!(pair[0], Look::Name) && counts(&pair[1]))
            .count();
        let bare = looks.iter().any(|look| matches!(look, Look::Bare(_)));
        let last = looks.iter().rfind(|look| !matches!(look, Look::Other));
        pairs >= ENOUGH && pairs * 3 >= looks.len() && (!bare || last.is_some_and(counts))
    }

    pub fn take(&mut self, row: &Row, notation: Notation) -> Taken {
        if row.is_empty() {
            return Taken::Passed;
        }
        match (look(row, notation), self.name.take()) {
            (Look::Unit, name) => {
                self.name = name;
                Taken::Passed
            }
            (Look::Name, before) => {
                self.name = Some(row.clone());
                Taken::Name(before)
            }
            (Look::Figures(count) | Look::Bare(count), Some(name)) => {
                Taken::Record(record(&name, &count, row))
            }
            (_, before) => Taken::Not(before),
        }
    }

    /// The name that no count came for.
    pub fn end(&mut self) -> Option<Row> {
        self.name.take()
    }
}

fn record(name: &Row, count: &str, counted: &Row) -> Record {
    let mut row = Row::default();
    row.start(name.number);
    let text = name.joined();
    row.push(&furniture::without_bullet(&text), CellKind::Text);
    row.push(count, CellKind::Text);
    let mut written = Row::default();
    written.start(name.number);
    let cells = name.cells().chain(counted.cells());
    for (cell, kind) in cells.filter(|(cell, _)| !cell.is_empty()) {
        written.push(cell, kind);
    }
    Record::of(row, written)
}

fn look(row: &Row, notation: Notation) -> Look {
    let text = row.joined();
    let text = text.trim();
    if count::is_unit(text) {
        return Look::Unit;
    }
    if count::is_count(text, notation) {
        return Look::Bare(text.to_owned());
    }
    if let Some(count) = priced(text).or_else(|| labelled(row, notation)) {
        return Look::Figures(count);
    }
    let is_other = furniture::is_total(text)
        || furniture::is_paper(text)
        || furniture::is_note(text)
        || furniture::stage_title(text).is_some()
        || furniture::container(text).is_some();
    match is_other || !text.contains(char::is_alphabetic) {
        true => Look::Other,
        false => Look::Name,
    }
}

/// How many, of a line with the price of one and the amount: `24 x 0.12  2.88`.
fn priced(text: &str) -> Option<String> {
    static PRICED: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?x)^ (?P<count> -? \d+ (?: [.,]\d+ )? (?: \s? [a-zA-Z]{1,3} )? ) \s* [xX×@*] \s*
                [$€£]? \s? (?P<price> \d* [.,] \d\d ) \s+ [$€£]? \s? (?P<amount> -? \d* [.,] \d\d ) $",
        )
    });
    let found = PRICED.captures(text)?;
    let count = &found["count"];
    let hundredths = |text: &str| -> Option<i64> {
        let figures: String = text.chars().filter(char::is_ascii_digit).collect();
        let amount: i64 = figures.parse().ok()?;
        Some(if text.starts_with('-') {
            -amount
        } else {
            amount
        })
    };
    let whole: Option<i64> = count.parse().ok();
    let comes_to = whole.and_then(|count| count.checked_mul(hundredths(&found["price"])?));
    // What is sold by weight is no count of pieces, and is said so where its figure is read.
    (whole.is_none() || comes_to == hundredths(&found["amount"])).then(|| count.to_owned())
}

/// How many, of a line of labelled fields that holds no name: `Art. 204-118 | Qty: 16 | 0.84 each`.
fn labelled(row: &Row, notation: Notation) -> Option<String> {
    let cells: Vec<&str> = row
        .cells()
        .flat_map(|(text, _)| text.split(" | "))
        .collect();
    let mut counts = cells.iter().filter_map(|cell| {
        let at = cell.find(|c: char| c == ':' || c == '=' || c.is_ascii_digit())?;
        let (label, value) = cell.split_at(at);
        let value = value.trim_start_matches([':', '=']).trim();
        let meaning = heading::recognise(label.trim())?.meaning;
        (meaning == Meaning::Quantity && count::is_count(value, notation)).then_some(value)
    });
    match (counts.next(), counts.next()) {
        (Some(count), None) => Some(count.to_owned()),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `expected`: name and count of each record.
    #[track_caller]
    fn case(lines: &[&str], expected: &[(&str, &str)]) {
        let row = |(at, line): (usize, &&str)| {
            let mut row = Row::default();
            row.start(at as u32 + 1);
            row.push(line, CellKind::Text);
            row
        };
        let head: Vec<Row> = lines.iter().enumerate().map(row).collect();
        let mut found = Vec::new();
        if Pairs::are(&head, Notation::default()) {
            let mut pairs = Pairs::default();
            for row in &head {
                if let Taken::Record(record) = pairs.take(row, Notation::default()) {
                    let cell = |at| record.row.get(at).to_owned();
                    found.push((cell(0), cell(1)));
                }
            }
        }
        let found: Vec<(&str, &str)> = found.iter().map(|(a, b)| (&**a, &**b)).collect();
        assert_eq!(found, expected);
    }

    // Common practice, no source.
    #[test]
    fn names_over_counts() {
        case(
            &[
                "TILL 3",
                "HEX BOLT M6X40 ZINC",
                "     24 x 0.12              2.88",
                "BUTT HINGE 75MM",
                "      4 x 2.35              9.40",
                "HASP 90MM BLACK             3.45",
                "CORNER BRACE 50MM",
                "      8 x 0.85              6.80",
                "VOID  CORNER BRACE 50MM",
                "     -2 x 0.85             -1.70",
                "TOTAL                      31.49",
            ],
            &[
                ("HEX BOLT M6X40 ZINC", "24"),
                ("BUTT HINGE 75MM", "4"),
                ("CORNER BRACE 50MM", "8"),
                ("VOID  CORNER BRACE 50MM", "-2"),
            ],
        );
        case(
            &[
                "Hexagon bolt M10 x 90",
                "Art. 204-118 | Qty: 16 | 0.84 each",
                "Post shoe 100",
                "Art. 310-004 | Qty: 4 | 18.40 each",
                "Drip edge, grey",
                "Art. 400-021 | Qty: 3 | 11.20 each",
            ],
            &[
                ("Hexagon bolt M10 x 90", "16"),
                ("Post shoe 100", "4"),
                ("Drip edge, grey", "3"),
            ],
        );
        case(
            &[
                "Parts",
                "Base rail",
                "4",
                "pcs",
                "Wall sheet 900",
                "9",
                "pcs",
                "Lock nut M8",
                "32",
            ],
            &[
                ("Base rail", "4"),
                ("Wall sheet 900", "9"),
                ("Lock nut M8", "32"),
            ],
        );
    }

    #[test]
    fn counts_that_may_be_of_either_neighbour() {
        case(
            &[
                "Parts",
                "4",
                "Base rail",
                "9",
                "Wall sheet",
                "32",
                "Lock nut M8",
            ],
            &[],
        );
        case(&["posts", "4 rails", "nuts", "8 bolts"], &[]);
    }
}
