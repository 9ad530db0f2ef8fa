//! The ways to read a text, the likeliest first, and what each piece of it was taken for.

use std::ops::Range;

use super::{
    callout::{Callout, ItemCells, Notation, Role},
    describe::describe_row,
    designation,
    known::Known,
    reader::Reader,
    token::Tok,
    unsettled::{Way, ways},
};

/// One way to read a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Alternative {
    pub callouts: Vec<Callout>,
    /// 0 at best, less for what is rare, does not fit, or is left over.
    pub score: i32,
    /// Why it goes before the next one, though that may have the better score.
    pub known: Option<String>,
}

/// A stretch of a text, and what it was taken for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// Bytes of the text.
    pub at: Range<usize>,
    /// `None`: left over; a doubt says so.
    pub role: Option<Role>,
}

/// The ways to read a text, and what each piece of it was taken for in the first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Readings {
    /// The likeliest first, which is the one that [`super::describe`] gives; empty where the text
    /// names no item.
    pub alternatives: Vec<Alternative>,
    /// In order, white space left out.
    pub pieces: Vec<Piece>,
}

/// Reads a text in every way that it can be read.
///
/// The first alternative is what [`super::describe`] gives; by how much its score is above the
/// next tells how sure it is.
pub fn readings(text: &str, notation: Notation) -> Readings {
    let cells = ItemCells {
        description: text,
        ..ItemCells::default()
    };
    readings_of(&cells, notation, &Known::default())
}

/// Reads the cells of a row in every way that its description can be read, among sizes that are
/// known; the pieces are the description's.
pub fn readings_of(cells: &ItemCells<'_>, notation: Notation, known: &Known) -> Readings {
    // The number of a cell of its own is put in afterwards.
    let cells = &ItemCells {
        part_number: "",
        ..*cells
    };
    let text = cells.description;
    let in_plain_words = ItemCells {
        description: &designation::plain(text),
        ..*cells
    };
    let read = describe_row(&in_plain_words, notation, known).unwrap_or_default();
    let of = |every| {
        let reader = Reader {
            every,
            ..Reader::new(cells.description, notation)
        };
        ways(reader, cells, known)
    };
    // What is read stays first, however near a size comes that no piece has.
    let is_read = |ways: &Vec<Way<'_>>| ways.first().is_some_and(|way| way.callouts == read);
    let ways = Some(of(true)).filter(is_read).unwrap_or_else(|| of(false));
    if ways.first().is_none_or(|way| way.callouts != read) {
        // A date, a standard's designation, or the canonical text of a part: one thing, as it stands.
        let start = text.len() - text.trim_start().len();
        let whole = Piece {
            at: start..start + text.trim().len(),
            role: Some(Role::Size),
        };
        let alternative = Alternative {
            callouts: read,
            score: 0,
            known: None,
        };
        let says = !alternative.callouts.is_empty();
        return Readings {
            pieces: Vec::from_iter(says.then_some(whole)),
            alternatives: Vec::from_iter(says.then_some(alternative)),
        };
    }
    let pieces = ways.first().map_or_else(Vec::new, |way| {
        // The name of a part holds any word.
        let part = |callout: &Callout| callout.item.part.is_some();
        let named = way.callouts.iter().all(part).then_some(Role::Name);
        pieces(&way.reader, named)
    });
    let all = ways.into_iter().filter(|way| !way.callouts.is_empty());
    Readings {
        alternatives: all
            .map(|way| Alternative {
                known: way.known(known),
                callouts: way.callouts,
                score: way.score,
            })
            .collect(),
        pieces,
    }
}

/// What each token was taken for, those of one kind together. `other`: what those of no other use are.
fn pieces(reader: &Reader<'_>, other: Option<Role>) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = Vec::new();
    for (i, token) in reader.tokens.iter().enumerate() {
        let says = matches!(
            token.tok,
            Tok::Num { .. } | Tok::Count(_) | Tok::Code | Tok::Unknown | Tok::Word(_)
        );
        let role = match token.role {
            None if !says && !reader.is_left_over(i) => Some(Role::Passed),
            role => role.or(other),
        };
        match pieces.last_mut() {
            Some(last) if last.role == role => last.at.end = token.end,
            _ => pieces.push(Piece {
                at: token.start..token.end,
                role,
            }),
        }
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::{
        super::{Origin, describe, describe_among, runs::MOST_RUNS},
        *,
    };
    use crate::doubt::Doubt;

    /// The ways to read a text, each with its score, best first.
    fn ways(text: &str) -> Vec<(String, i32)> {
        let shown = |way: &Alternative| {
            let items: Vec<String> = way
                .callouts
                .iter()
                .map(|callout| {
                    let count = callout
                        .quantity
                        .map_or("-".into(), |q| q.pieces.to_string());
                    format!("{count} {}", callout.item.text())
                })
                .collect();
            (items.join("; "), way.score)
        };
        readings(text, Notation::default())
            .alternatives
            .iter()
            .map(shown)
            .collect()
    }

    #[track_caller]
    fn case(text: &str, expected: &[&str]) {
        let ways = ways(text);
        let texts: Vec<&str> = ways.iter().map(|(text, _)| text.as_str()).collect();
        assert_eq!(texts, expected, "{text}");
        assert!(ways.is_sorted_by(|a, b| a.1 >= b.1), "{ways:?}");
    }

    #[test]
    fn every_way_to_read_a_run_of_numerals() {
        case("24 1/2 x 3 hex bolts", &["24 1/2 x 3 hex bolt"]);
        case("2 1/2 lock nuts", &["2 1/2 lock nut", "- 2-1/2 lock nut"]);
        case(
            "3 8 by 2 and a half hex bolt",
            &["- 3/8 x 2-1/2 hex bolt", "3 2-1/2 x 8 hex bolt"],
        );
        case("a 1 3/8 by 2 bolt", &["1 3/8 x 2 bolt", "1 1-3/8 x 2 bolt"]);
        case(
            "4 5/8 washers",
            &["4 5/8 flat washer", "- 4-5/8 dia flat washer"],
        );
        case("8 1 4 20 hex nuts", &["8 1/4-20 hex nut"]);
        case("12 24 1/2 x 3 hex bolts", &["24 1/2 x 3 hex bolt"]);
        case("", &[]);
    }

    /// The joint settles what a callout alone leaves open.
    #[test]
    fn the_joint_tells() {
        let first = |text| {
            readings(text, Notation::default())
                .alternatives
                .swap_remove(0)
        };
        let open = first("2 1/2 lock nuts");
        assert!(!open.callouts[0].doubts.is_empty());
        let sure = first("2 1/2 lock nuts and 4 1/2 flat washers");
        assert!(
            sure.callouts
                .iter()
                .all(|callout| callout.doubts.is_empty())
        );
    }

    /// The sizes that are sure choose among what is open, say so, and silence nothing.
    #[test]
    fn known_sizes_choose() {
        #[track_caller]
        fn case(text: &str, sure: &str, origin: Origin, expected: &str) {
            let mut known = Known::default();
            let notation = Notation::default();
            for callout in describe(sure, notation).expect("sure") {
                known.add(&callout.item, origin);
            }
            let cells = ItemCells {
                description: text,
                ..ItemCells::default()
            };
            let callouts = describe_among(&cells, notation, &known).expect("an item");
            let shown = |callout: &Callout| {
                let count = callout
                    .quantity
                    .map_or("-".into(), |q| q.pieces.to_string());
                let doubts: Vec<String> = callout.doubts.iter().map(Doubt::to_string).collect();
                format!("{count} {} ?{}", callout.item.text(), doubts.join(" ?"))
            };
            let found: Vec<String> = callouts.iter().map(shown).collect();
            assert_eq!(found.join("; "), expected, "{text} beside {sure}");
        }
        use Origin::{Here, PartsList};
        case(
            "a 1 3/8 by 2 bolt",
            "1-3/8 x 2 bolt",
            PartsList,
            "1 1-3/8 x 2 bolt ?may be 1 piece of 1-3/8 x 2 or 1 piece of 3/8 x 2 ?1-3/8 x 2 bolt is on the parts list",
        );
        case(
            "2 1/2 lock nuts",
            "2-1/2 x 8 hex bolt",
            Here,
            "- 2-1/2 lock nut ?may be 2-1/2 or 2 pieces of 1/2 ?2-1/2 is used elsewhere in this list",
        );
        case(
            "2 1/2 lock nuts",
            "1/2 x 8 hex bolt",
            Here,
            "2 1/2 lock nut ?may be 2 pieces of 1/2 or 2-1/2 ?1/2 is used elsewhere in this list",
        );
        // What is known of another size moves nothing, and no reading that is not told.
        case(
            "2 1/2 lock nuts",
            "3/8 x 8 hex bolt",
            Here,
            "2 1/2 lock nut ?may be 2 pieces of 1/2 or 2-1/2",
        );
        case(
            "24 1/2 x 3 hex bolts",
            "24-1/2 washer",
            Here,
            "24 1/2 x 3 hex bolt ?",
        );
        case(
            "hex nut 8-Jan",
            "1 x 4 hex bolt",
            Here,
            "- 1-8 hex nut ?a spreadsheet made the date 8-Jan of a size: 1-8 or 1/8 ?1-8 is used elsewhere in this list",
        );
        case(
            "hex nut 8-Jan",
            "1/8 x 1 rivet",
            PartsList,
            "- 1/8 hex nut ?a spreadsheet made the date 8-Jan of a size: 1/8 or 1-8 ?1/8 is a size of the parts list",
        );
    }

    #[track_caller]
    fn taken(text: &str, expected: &[(&str, Option<Role>)]) {
        let pieces = readings(text, Notation::default()).pieces;
        let found: Vec<_> = pieces
            .iter()
            .map(|piece| (&text[piece.at.clone()], piece.role))
            .collect();
        assert_eq!(found, expected, "{text}");
    }

    #[test]
    fn what_each_piece_is_taken_for() {
        taken(
            "24 1/2-13 x 3 hex bolts, Gr 5, zinc, P/N 1120-0002 @ $0.85 blue",
            &[
                ("24", Some(Role::Count)),
                ("1/2-13 x 3", Some(Role::Size)),
                ("hex bolts", Some(Role::Name)),
                (",", Some(Role::Passed)),
                ("Gr 5", Some(Role::Grade)),
                (",", Some(Role::Passed)),
                ("zinc", Some(Role::Finish)),
                (",", Some(Role::Passed)),
                ("P/N 1120-0002", Some(Role::Number)),
                ("@ $0.85", Some(Role::Price)),
                ("blue", None),
            ],
        );
        taken(
            "eight three eighths by four and a half bolts",
            &[
                ("eight", Some(Role::Count)),
                ("three eighths by four and a half", Some(Role::Size)),
                ("bolts", Some(Role::Name)),
            ],
        );
    }

    /// A text with more runs of numerals than are weighed is read, and doubted for it.
    #[test]
    fn more_runs_than_are_weighed_are_doubted() {
        let untried = |runs: usize| {
            let text = "4 5/8 hex nuts, ".repeat(runs);
            let all =
                crate::notation::describe(&text, Notation::default()).expect("it names items");
            assert_eq!(all.len(), runs);
            all[0].doubts.iter().any(|doubt| {
                doubt.to_string()
                    == "so many numerals in a row that not every way to read them was tried"
            })
        };
        assert!(!untried(4));
        assert!(untried(MOST_RUNS));
    }
}
