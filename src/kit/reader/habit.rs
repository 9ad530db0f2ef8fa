//! Where the lines of a text give their count, as nearly all of a hand's lines do. What one of them leaves
//! open the others settle: of `foot plates: 12` among lines that end in their count, `12` is how many.

use super::{
    super::guide::is_prose,
    beside::{Mark, before, count_behind, times_behind},
};
use crate::{
    columns::furniture,
    hardware::PartName,
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

/// Where a line gives its count, and the mark between.
type Way = (Option<Habit>, Option<Mark>);

impl Habit {
    /// The habit of a text's first lines, and its mark. Parts speak for it where a mark parts them from their
    /// count: `Bay 2` may be a title.
    pub fn of(head: &[Row], notation: Notation) -> (Option<Habit>, Option<Mark>) {
        let mut text = String::new();
        let mut ways: Vec<Way> = Vec::new();
        for row in head.iter().filter(|row| !row.is_empty()) {
            row.join_into(&mut text);
            let body = furniture::without_bullet(&text);
            if !is_prose(&body) {
                ways.extend(way_of_part(&body, notation).or_else(|| way(&body, notation)));
            }
        }
        let lines = |of: &dyn Fn(&Way) -> bool| ways.iter().filter(|way| of(way)).count();
        let nearly_all =
            |lines: usize| lines >= ENOUGH && (ways.len() - lines) * NEARLY_ALL <= ways.len();
        let of = |habit| nearly_all(lines(&|way| way.0 == Some(habit)));
        let habit = [Habit::Before, Habit::Behind]
            .into_iter()
            .find(|habit| of(*habit));
        let marked = |mark| {
            let with_mark = |way: &Way| way.0 == habit && way.1 == Some(mark);
            habit.is_some() && lines(&with_mark) >= ENOUGH
        };
        let mark = [Mark::Times, Mark::Number]
            .into_iter()
            .find(|mark| marked(*mark));
        (habit, mark)
    }
}

/// The way of a line with a size, that is read without a doubt.
fn way(body: &str, notation: Notation) -> Option<Way> {
    let callouts = describe(body, notation).unwrap_or_default();
    let pieces = match callouts.as_slice() {
        [only] => counted(only)?,
        _ => return None,
    };
    let figures = |c: char| !c.is_ascii_digit();
    let first = body.trim_start_matches(|c: char| !c.is_alphanumeric());
    let first = first.split(figures).next();
    let last = body.trim_end_matches(|c: char| !c.is_alphanumeric());
    let last = last.rsplit(figures).next();
    let is = |text: Option<&str>| text.and_then(|text| text.parse().ok()) == Some(pieces);
    // `6 foot bars 600` may be anything.
    let in_front = callouts.iter().all(Callout::is_hardware) || is(first);
    in_front.then(|| match (is(first), is(last)) {
        (true, _) => (Some(Habit::Before), before(body).map(|(_, mark, _)| mark)),
        (false, true) => (Some(Habit::Behind), times_behind(body).map(|_| Mark::Times)),
        (false, false) => (None, None),
    })
}

/// The way of plain words and their count, with a mark between.
fn way_of_part(body: &str, notation: Notation) -> Option<Way> {
    let plain = |words: &str| {
        words.starts_with(char::is_alphabetic) && !words.contains(|c: char| c.is_ascii_digit())
    };
    if let Some((_, mark, _)) = before(body).filter(|(.., words)| plain(words)) {
        return Some((Some(Habit::Before), Some(mark)));
    }
    if let Some((words, _)) = times_behind(body).filter(|(words, _)| plain(words)) {
        return (!words.is_empty()).then_some((Some(Habit::Behind), Some(Mark::Times)));
    }
    // `4 posts`; `2 Roof` may be a title.
    if let Some((figures, words)) = body.split_once(' ')
        && figures.len() < 4
        && figures.bytes().all(|b| b.is_ascii_digit())
        && plain(words)
        && words.starts_with(char::is_lowercase)
        && !words.contains('.')
        && describe(body, notation).is_ok_and(|all| all.iter().any(|of| of.quantity.is_some()))
    {
        return Some((Some(Habit::Before), None));
    }
    let (words, _) = count_behind(body, notation).filter(|(words, _)| plain(words))?;
    let between = &body[words.len()..];
    let is_marked = between
        .trim_start()
        .starts_with([':', '-', '=', '\u{2013}']);
    let is_line =
        !furniture::is_paper(body) && !furniture::is_total(body) && !furniture::is_note(body);
    (is_marked && is_line && furniture::container(body).is_none())
        .then_some((Some(Habit::Behind), None))
}

/// The count of hardware with a size, or of a part with figures in its name, that is read without a doubt.
fn counted(callout: &Callout) -> Option<u64> {
    let named = |part: &PartName| {
        let figures = |name: &str| name.contains(|c: char| c.is_ascii_digit());
        part.number.is_none() && part.description.as_deref().is_some_and(figures)
    };
    let plain = match &callout.item.part {
        Some(part) => named(part),
        None => callout.is_hardware() && callout.item.diameter.is_some(),
    };
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
        assert_eq!(Habit::of(&head, Notation::default()).0, expected);
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

    // Common practice, no source: one hand parts counts from items with one mark.
    #[test]
    fn marks_alike() {
        #[track_caller]
        fn case(lines: &[&str], expected: (Option<Habit>, Option<Mark>)) {
            let row = |line: &&str| {
                let mut row = Row::default();
                row.push(line, crate::source::CellKind::Text);
                row
            };
            let head: Vec<Row> = lines.iter().map(row).collect();
            assert_eq!(Habit::of(&head, Notation::default()), expected);
        }
        let behind = (Some(Habit::Behind), Some(Mark::Times));
        case(
            &["legs x 4", "rails x 2", "bolts M8 x 45 x 8", "feet x 3"],
            behind,
        );
        let before = (Some(Habit::Before), Some(Mark::Times));
        case(
            &[
                "4 x rails",
                "6x tubes",
                "12 x caps",
                "60 x 5 x 40 wood screws",
            ],
            before,
        );
        let number = (Some(Habit::Before), Some(Mark::Number));
        case(&["4 no. rails", "6 No. tubes", "12 no caps"], number);
        // Sizes alone tell of none, and titles have no mark.
        case(
            &["bolts M8 x 45", "bolts M8 x 60", "bolts M8 x 80"],
            (None, None),
        );
        case(&["Bay 2", "Bay 3", "Bay 4"], (None, None));
    }
}
