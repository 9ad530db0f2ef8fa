//! A word and a number in turn in front of each line of a text: `Pos. 1 Arch, 2 pieces` over `Pos. 2 Foot, 4 pieces`
//! (common practice, no source).

use std::borrow::Cow;

use super::speakers::{begun_with, first_cell};
use crate::source::Row;

/// Words that number lines. Others name what they number: `Panel 1`, `Bag 2`.
#[rustfmt::skip]
const WORDS: &[&str] = &["pos", "position", "posn", "item", "line", "lfd", "ref", "row"];

/// So many lines make a list.
const ENOUGH: usize = 3;

/// The word in front of a text's lines, in lower case.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Numbering {
    word: Option<Box<str>>,
}

impl Numbering {
    /// That of two lines in three, at least, where it counts up by one from line to line.
    pub fn of(head: &[Row]) -> Numbering {
        let filled = head.iter().filter(|row| !row.is_empty()).count();
        let numbered: Vec<(String, u32)> = head
            .iter()
            .filter_map(|row| numbered(first_cell(row)?).map(|(word, number, _)| (word, number)))
            .collect();
        let in_turn =
            (numbered.windows(2)).all(|pair| pair[0].0 == pair[1].0 && pair[1].1 == pair[0].1 + 1);
        let word = numbered.first().map(|(word, _)| word.as_str().into());
        Numbering {
            word: word.filter(|_| {
                in_turn && numbered.len() >= ENOUGH && numbered.len() * 3 >= filled * 2
            }),
        }
    }

    pub fn is_none(&self) -> bool {
        self.word.is_none()
    }

    /// A line without its number.
    pub fn without<'r>(&self, row: &'r Row) -> Cow<'r, Row> {
        let rest = || {
            let own = self.word.as_deref()?;
            let (word, _, rest) = numbered(first_cell(row)?)?;
            // Without a count it is none of the lines that the list is made of, and no title.
            let counts = row.filled() > 1 || rest.contains(|c: char| c.is_ascii_digit());
            (word == own && counts).then_some(rest)
        };
        rest().map_or(Cow::Borrowed(row), |rest| Cow::Owned(begun_with(row, rest)))
    }
}

/// The word, the number, and what stands behind both.
fn numbered(text: &str) -> Option<(String, u32, &str)> {
    let end = text.find(|c: char| !c.is_alphabetic())?;
    let word = text[..end].to_lowercase();
    let rest = text[end..].trim_start_matches(['.', ' ', ':', '#']);
    let figures = rest.bytes().take_while(u8::is_ascii_digit).count();
    let (number, rest) = rest.split_at(figures);
    let behind = rest.trim_start_matches(['.', ':', ')', ',', '-', ' ']);
    let apart = behind.len() < rest.len() && behind.starts_with(|c: char| c.is_alphanumeric());
    (apart && WORDS.contains(&word.as_str())).then_some(())?;
    Some((word, number.parse().ok()?, behind))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::CellKind;

    #[track_caller]
    fn case(lines: &[&str], expected: &[&str]) {
        let row = |line: &&str| {
            let mut row = Row::default();
            row.push(line, CellKind::Text);
            row
        };
        let head: Vec<Row> = lines.iter().map(row).collect();
        let numbering = Numbering::of(&head);
        let bare: Vec<String> = (head.iter())
            .map(|row| numbering.without(row).get(0).to_owned())
            .collect();
        assert_eq!(bare, expected);
    }

    #[test]
    fn numbers_in_turn() {
        case(
            &[
                "Contents",
                "Pos. 1 Arch, 2 pieces",
                "Pos. 2 Foot, 4 pieces",
                "Pos. 3 Nut M10, 4 pieces",
            ],
            &[
                "Contents",
                "Arch, 2 pieces",
                "Foot, 4 pieces",
                "Nut M10, 4 pieces",
            ],
        );
        case(
            &["Item 1: 2 rails", "Item 2: post", "Item 3: caps x 4"],
            &["2 rails", "Item 2: post", "caps x 4"],
        );
        // What they number is a thing, or they do not count up.
        for lines in [
            &[
                "Panel 1, 2 pieces",
                "Panel 2, 2 pieces",
                "Panel 3, 2 pieces",
            ],
            &["Item 4 bolts", "Item 8 nuts", "Item 6 washers"],
        ] {
            case(lines, lines);
        }
    }
}
