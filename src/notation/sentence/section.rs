//! What a thing that is no hardware measures: `the four 4 x 4 posts`, `the five 5/4 x 6 deck boards`.

use std::ops::Range;

use super::vocabulary::{CLAUSES, DETERMINERS, IS_THERE, PLACED, PLACING};
use crate::{
    doubt::Doubt,
    hardware::Unit,
    notation::{
        number::Prefix,
        token::{Tok, Token},
        words::{Row, Sense},
    },
};

/// Words between a thing's measures and its noun, and one more.
const MOST_WORDS: usize = 4;

/// Where the measures of things stand, in a text that is cut into tokens; none in a text without hardware, where
/// the boards may be what it asks for.
pub(super) fn sections(cut: &[Token], text: &str) -> Vec<Range<usize>> {
    let mut all = Vec::new();
    let mut i = 0;
    while i + 3 < cut.len() {
        match section(cut, text, i) {
            Some(end) => {
                all.push(cut[i].start..cut[end - 1].end);
                i = end;
            }
            None => i += 1,
        }
    }
    let hardware = |token: &Token| matches!(token.tok, Tok::Word(row) if row.noun().is_some());
    if !all.is_empty() && !cut.iter().any(hardware) {
        all.clear();
    }
    all
}

/// Behind the measures that begin at a token, where a thing follows them that is no hardware.
fn section(cut: &[Token], text: &str, i: usize) -> Option<usize> {
    let joins = |at: usize| match cut.get(at).map(|token| token.tok) {
        Some(Tok::Join) => true,
        Some(Tok::Word(row)) => row.says(Sense::By),
        _ => false,
    };
    // `six by six`
    let figure = |at: usize| match cut.get(at).map(|token| token.tok) {
        Some(Tok::Num { prefix, .. }) => prefix == Prefix::None,
        Some(Tok::Word(row)) => row.count().is_some(),
        _ => false,
    };
    let sized = |at: usize| {
        let row = at.checked_sub(1).map(|at| cut[at].tok);
        matches!(row, Some(Tok::Word(row)) if row.noun().is_some()) || (at > 0 && joins(at - 1))
    };
    if !figure(i) || sized(i) {
        return None;
    }
    let mut end = i + 1;
    while joins(end) && figure(end + 1) {
        end += 2;
    }
    // `four 9 mm holes`; not `one in the centre`
    let alone = end == i + 1;
    let in_figures = matches!(cut[i].tok, Tok::Num { .. });
    let unit = cut.get(end).filter(|_| !alone || in_figures)?.tok;
    let long = match unit {
        Tok::Word(row) => row.says(Sense::Unit(Unit::Millimetre)) || row.says(Sense::Foot),
        _ => false,
    };
    if alone && !long {
        return None;
    }
    let is_inch = match unit {
        Tok::Inch => true,
        Tok::Word(row) => row.says(Sense::Unit(Unit::Inch)),
        _ => false,
    };
    end += usize::from(is_inch || long);
    let behind = cut.get(end..)?.iter().take(MOST_WORDS);
    let mut words = behind.map_while(|token| {
        let word = &text[token.start..token.end];
        let ends = [PLACING, CLAUSES, PLACED, DETERMINERS, IS_THERE];
        let goes_on = token.spaced && !ends.iter().any(|ends| ends.contains(&word));
        let row: Option<&Row> = match token.tok {
            Tok::Word(row) => Some(row),
            Tok::Unknown if is_name(word) => None,
            _ => return None,
        };
        goes_on.then_some(row)
    });
    let mut thing = false;
    let no_hardware = words.all(|row| {
        thing |= row.is_none_or(|row| row.says(Sense::Thing));
        row.is_none_or(|row| row.noun().is_none())
    });
    (thing && no_hardware).then_some(end)
}

/// Verbs by which a part comes to its place (common practice, no source).
const LAYS: &[&str] = &[
    "lay", "stand", "set", "place", "put", "position", "raise", "lift", "slide", "insert",
];

/// `Stand the 6 x 6 post in its base`: a part by its size, which no count tells.
pub(super) fn part_laid(text: &str, measures: &Range<usize>) -> Option<Doubt> {
    let lead = text[..measures.start].trim_end();
    let (front, article) = lead.rsplit_once(' ')?;
    let verb = front.rsplit(' ').next()?.to_ascii_lowercase();
    if !(["the", "a", "an"].contains(&article) && LAYS.contains(&&*verb)) {
        return None;
    }
    let measures = &text[measures.clone()];
    Some(Doubt::Said(
        format!("\"{article} {measures}\" is a part by its size: not counted").into(),
    ))
}

/// Not `loosely`.
fn is_name(word: &str) -> bool {
    word.bytes().all(|b| b.is_ascii_lowercase() || b == b'-') && !word.ends_with("ly")
}

#[cfg(test)]
mod tests {
    use crate::notation::{Notation, sentence};

    #[test]
    fn measures_of_things_are_no_counts() {
        #[track_caller]
        fn case(text: &str, pieces: u64) {
            let said = sentence(text, Notation::default());
            let bolts = said.calls.iter().find(|call| call.pieces() > 0);
            let bolts = bolts.map_or(0, |call| call.pieces() * u64::from(call.places));
            assert_eq!(bolts, pieces, "{text}");
            assert!(
                said.doubts.is_empty() && said.left_over.is_empty(),
                "{text}: {:?}",
                said.doubts
            );
        }
        case(
            "Bolt the 2 x 8 joist to the 4 x 4 post with six 3/8 x 5 bolts.",
            6,
        );
        case(
            "bolt the six by six post to the two by ten beam with four M8 x 30 bolts",
            4,
        );
        case(
            "Bolt both 4 x 4 posts to the beam with six 3/8 x 5 bolts each.",
            12,
        );
        case(
            "Bolt the four 4 x 4 posts to the beam with six 3/8 x 5 bolts each.",
            24,
        );
        case(
            "Bolt each of the four 4 x 6 posts to the beam with six 3/8 x 5 bolts.",
            24,
        );
        case("Fix the 90 x 90 mm post with four 3/8 x 5 bolts.", 4);
        case("Fasten the 16 gauge panel with four M6 x 20 bolts.", 4);
        case("Drill four 9 mm holes and fit four M8 x 40 bolts.", 4);
        case(
            "Fit four M8 x 50 bolts at the corners and one in the centre.",
            5,
        );
        case(
            "Fit four M8 x 50 bolts at the corners and 2 in the centre.",
            6,
        );
        case("Attach wall 2 to wall 1 with six M8 x 30 bolts.", 6);
        case(
            "Attach side panel (3) to end panel (5) with six M8 x 30 bolts.",
            6,
        );
    }
}
