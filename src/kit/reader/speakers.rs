//! Who says the lines of a chat, or of notes by several hands: `Pia: 36 washers`, `[14/11/2026, 18:05] Pia: 2
//! hinges`. A name comes again, and by turns with others; titles and groups of a list come once, or in one block
//! (common practice, no source).

use std::{borrow::Cow, collections::BTreeMap, sync::LazyLock};

use regex::Regex;

use crate::{
    columns::{furniture, heading, talk},
    notation::{Callout, Notation, describe},
    source::{CellKind, Row},
    words::{pattern, quoted},
};

/// The names in front of a text's lines.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Speakers {
    names: Vec<Box<str>>,
}

/// So many lines make a talk.
const ENOUGH: usize = 3;

impl Speakers {
    /// Those of two lines in three, at least.
    pub fn of(head: &[Row], notation: Notation) -> Speakers {
        let lines: Vec<&str> = head.iter().filter_map(first_cell).collect();
        let mut said: Vec<(&str, bool)> = Vec::new();
        let mut times: BTreeMap<&str, usize> = BTreeMap::new();
        for line in &lines {
            if let Some((name, stamped, _)) = said_by(line).filter(|of| may_speak(of.0, notation)) {
                said.push((name, stamped));
                *times.entry(name).or_default() += 1;
            }
        }
        let stamped = said.iter().all(|(_, stamped)| *stamped);
        let runs = said.chunk_by(|a, b| a.0 == b.0).count();
        let again = times.values().any(|times| *times > 1);
        let by_turns = again && runs > times.len();
        if said.len() < ENOUGH || said.len() * 3 < lines.len() * 2 || !(stamped || by_turns) {
            return Speakers::default();
        }
        Speakers {
            names: times.into_keys().map(Box::from).collect(),
        }
    }

    pub fn is_none(&self) -> bool {
        self.names.is_empty()
    }

    /// A line without its speaker and the talk about it.
    pub fn without<'r>(&self, row: &'r Row) -> Cow<'r, Row> {
        let rest = || {
            let (name, _, rest) = said_by(first_cell(row)?)?;
            self.names.iter().any(|of| **of == *name).then_some(rest)
        };
        if self.is_none() {
            return Cow::Borrowed(row);
        }
        let Some(rest) = rest() else {
            return Cow::Borrowed(row);
        };
        let said = talk::without_talk(rest).unwrap_or(rest.into());
        Cow::Owned(begun_with(row, &said))
    }

    /// What is said of them beside the list.
    pub fn told(&self) -> String {
        let names: Vec<&str> = self.names.iter().map(AsRef::as_ref).collect();
        format!(
            "{} in front of lines: taken for who says them, and not read",
            quoted(&names)
        )
    }
}

/// The first filled cell.
pub(super) fn first_cell(row: &Row) -> Option<&str> {
    let mut cells = row.cells().map(|(text, _)| text.trim());
    cells.find(|text| !text.is_empty())
}

/// A row with other words in the place of its first filled cell.
pub(super) fn begun_with(row: &Row, words: &str) -> Row {
    let mut bare = Row::default();
    bare.start(row.number);
    bare.push(words, CellKind::Text);
    let cells = row.cells().skip_while(|(text, _)| text.trim().is_empty());
    cells.skip(1).for_each(|(text, kind)| bare.push(text, kind));
    bare
}

/// The name in front of a line, whether the time stands beside it, and what is said.
fn said_by(line: &str) -> Option<(&str, bool, &str)> {
    static SAID: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?x)^ (?P<stamp> \[? (?: \d{1,4} [./-] \d{1,2} [./-] \d{1,4} ,? \s+ )? \d{1,2}:\d\d (?: :\d\d )? \]? [\s–—-]+ )?
                (?P<name> \p{Lu} [\p{Alphabetic}'’]+ (?: \s \p{Alphabetic}+ )? )
                (?P<time> , \s* \d{1,2}:\d\d | \s* [(\[] \d{1,2}:\d\d [)\]] )? \s? : \s+ (?P<rest> \S .*) $",
        )
    });
    let found = SAID.captures(line)?;
    let stamped = found.name("stamp").or(found.name("time")).is_some();
    Some((
        found.name("name")?.as_str(),
        stamped,
        found.name("rest")?.as_str(),
    ))
}

/// False for a word of the lists: a heading, a stage, a bag, hardware.
fn may_speak(name: &str, notation: Notation) -> bool {
    let of_list = heading::recognise(name).is_some()
        || furniture::stage_title(name).is_some()
        || furniture::container(name).is_some();
    let hardware =
        || describe(name, notation).is_ok_and(|all| all.iter().any(Callout::is_hardware));
    !of_list && !hardware()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(lines: &[&str], names: &[&str]) {
        let row = |line: &&str| {
            let mut row = Row::default();
            row.push(line, CellKind::Text);
            row
        };
        let head: Vec<Row> = lines.iter().map(row).collect();
        let found = Speakers::of(&head, Notation::default());
        let found: Vec<&str> = found.names.iter().map(AsRef::as_ref).collect();
        assert_eq!(found, names);
    }

    #[test]
    fn who_says_what() {
        case(
            &[
                "Shelter list for Friday",
                "Inga: 24 bolts m10 x 80",
                "Inga: 6 roof sheets",
                "Pelle: post feet 4",
                "Inga: 5 wheel racks",
                "Pelle: ok",
            ],
            &["Inga", "Pelle"],
        );
        case(
            &[
                "[12/05/2026, 08:03] Inga: 24 bolts m10 x 80",
                "[12/05/2026, 08:04] Inga: 6 roof sheets",
                "[12/05/2026, 08:09] Inga: 5 wheel racks",
            ],
            &["Inga"],
        );
        case(
            &[
                "Inga (08:03): 24 bolts m10 x 80",
                "Pelle (08:04): 10 corner brackets 40 mm",
                "Inga (08:09): 5 wheel racks",
            ],
            &["Inga", "Pelle"],
        );
        // Groups of a list stand in one block each; headings and hardware are no names.
        case(
            &[
                "Roof: 6 sheets",
                "Roof: 24 clips",
                "Base: 4 feet",
                "Base: 16 anchors",
            ],
            &[],
        );
        case(&["Qty: 4", "Part: rail", "Qty: 8", "Part: post"], &[]);
        case(&["Bolts: 4", "Nuts: 8", "Bolts: 6", "Nuts: 12"], &[]);
    }
}
