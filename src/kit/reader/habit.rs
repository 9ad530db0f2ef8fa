//! Where the lines of a text give their count, as nearly all of a hand's lines do. What one of them leaves
//! open the others settle: of `foot plates: 12` among lines that end in their count, `12` is how many.

use super::super::guide::is_prose;
use crate::{
    columns::furniture,
    notation::{Callout, Notation, describe},
    source::Row,
};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Habit {
    /// `16 carriage bolts M8 x 60`
    Before,
    /// `carriage bolts M8 x 60: 16`
    Behind,
}

/// Lines of hardware that make a habit, and of so many one may be otherwise.
const ENOUGH: usize = 3;
const NEARLY_ALL: usize = 10;

impl Habit {
    /// The habit of a text's first lines.
    pub fn of(head: &[Row], notation: Notation) -> Option<Habit> {
        let mut before = 0;
        let mut behind = 0;
        let mut all = 0;
        let mut text = String::new();
        for row in head.iter().filter(|row| !row.is_empty()) {
            row.join_into(&mut text);
            let body = furniture::without_bullet(&text);
            if is_prose(&body) {
                continue;
            }
            let callouts = describe(&body, notation).unwrap_or_default();
            let pieces = match callouts.as_slice() {
                [only] => counted(only),
                _ => None,
            };
            let Some(pieces) = pieces else {
                continue;
            };
            all += 1;
            let figures = |c: char| !c.is_ascii_digit();
            let first = body.trim_start_matches(|c: char| !c.is_alphanumeric());
            let first = first.split(figures).next();
            let last = body.trim_end_matches(|c: char| !c.is_alphanumeric());
            let last = last.rsplit(figures).next();
            let is = |text: Option<&str>| text.and_then(|text| text.parse().ok()) == Some(pieces);
            match (is(first), is(last)) {
                (true, _) => before += 1,
                (false, true) => behind += 1,
                (false, false) => {}
            }
        }
        let nearly_all = |lines: usize| lines >= ENOUGH && (all - lines) * NEARLY_ALL <= all;
        if nearly_all(before) {
            Some(Habit::Before)
        } else {
            nearly_all(behind).then_some(Habit::Behind)
        }
    }
}

/// The count of hardware with a size, that is read without a doubt.
fn counted(callout: &Callout) -> Option<u64> {
    let plain = callout.is_hardware() && callout.item.diameter.is_some();
    let quantity = callout
        .quantity
        .filter(|_| plain && callout.doubts.is_empty())?;
    quantity.packs.is_none().then_some(quantity.pieces)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(lines: &[&str], expected: Option<Habit>) {
        let row = |line: &&str| {
            let mut row = Row::default();
            row.push(line, crate::source::CellKind::Text);
            row
        };
        let head: Vec<Row> = lines.iter().map(row).collect();
        assert_eq!(Habit::of(&head, Notation::default()), expected);
    }

    // Common practice, no source: a hand writes its lines alike.
    #[test]
    fn lines_written_alike() {
        let behind = [
            "Friday",
            "M8 x 20 hex bolts zinc: 26",
            "M8 flange nuts zinc: 40",
            "M8 x 75 wedge anchors: 16",
        ];
        case(&behind, Some(Habit::Behind));
        case(&behind[..3], None);
        case(
            &[
                "- 16 carriage bolts M8 x 60",
                "- 16 washers M8",
                "> - 14 wing nuts M8",
                "- 4 legs 2100",
            ],
            Some(Habit::Before),
        );
        // A size is no count, and one hand may write both ways.
        case(&["hex bolts M8 x 60", "hex nuts M8", "washers 1/2"], None);
        case(
            &[
                "M8 x 20 hex bolts: 26",
                "M8 hex nuts: 40",
                "12 hex nuts M10",
                "8 washers M10",
            ],
            None,
        );
    }
}
