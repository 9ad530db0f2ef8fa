//! Two places that a sentence names by their sides: `at either end`, `top and bottom`.

use std::ops::Range;

use super::{
    Call,
    listed::in_a_row,
    multiplier::Multiplier,
    rule::Rule,
    vocabulary::{CLAUSES, JOINING, LIKE_PLURALS, PLACING},
    wording::{ends_with_word, mask, singular},
    words::Words,
};
use crate::{doubt::Doubt, words::pattern};

/// `at either end`: as a rule both; blanked.
pub(super) fn either(words: &Words, masked: &mut String) -> Option<Multiplier> {
    let either = words.find(masked, "either").next()?;
    let noun = masked[either.end..].strip_prefix(' ')?;
    let noun = noun
        .split(|c: char| !c.is_ascii_alphabetic())
        .next()?
        .to_ascii_lowercase();
    let before = masked[..either.start].trim_end();
    let placed = ["at", "on", "to", "from"]
        .iter()
        .any(|word| ends_with_word(before, word));
    if !placed || !["end", "side", "edge", "face"].contains(&&*noun) {
        return None;
    }
    let range = either.start..either.end + 1 + noun.len();
    let words = masked[range.clone()].to_owned();
    mask(masked, range.clone(), true);
    Some(Multiplier {
        at: range.start,
        words,
        noun,
        times: Some(2),
        open: true,
        ..Multiplier::default()
    })
}

/// Pairs of these name two places: `top and bottom`.
pub(super) const SIDES: &str = "top|bottom|left|right|lh|rh|front|back|rear|upper|lower|inner|outer|inside|outside|north|south|east|west|near|far|above|below";

static OPPOSITES: Rule = Rule::new(
    "top|bottom|left|right|lh|rh|front|back|rear|upper|lower|inner|outer|inside|outside|north|south|east|west|near|far|above|below|l|r",
    "",
    || {
        pattern(&format!(
            r"(?i)\b(?:{SIDES})[\s-]+and[\s-]+(?:{SIDES})\b|\b(?:left|lh)\s?[&/]\s?(?:right|rh)\b|\b(?:right|rh)\s?[&/]\s?(?:left|lh)\b|(?-i:\b(?:L\s?(?:&|/|and)\s?R|R\s?(?:&|/|and)\s?L)\b)"
        ))
    },
);

/// `every gable (front and rear)`: which two they are; blanked.
pub(super) fn sides_in_brackets(words: &Words, masked: &mut String) -> Option<Range<usize>> {
    let at = OPPOSITES.find_iter(words, masked).next()?.range();
    let enclosed = masked[..at.start].ends_with('(') && masked[at.end..].starts_with(')');
    enclosed.then(|| {
        mask(masked, at.clone(), true);
        at
    })
}

/// `to the left leg and the right leg`, `into the cap, and into the foot`: two places of one thing, or one place
/// of each; in what goes on `with` them, or through both, they are one joint.
static TWO_PLACES: Rule = Rule::new("and", "", || {
    let again: Vec<String> = PLACES
        .iter()
        .map(|at| format!(r"\b{at} the(?: [a-z]+){{1,3}},? and {at} the [a-z]+(?: [a-z]+)?"))
        .collect();
    let marked = PLACES
        .iter()
        .map(|at| format!(r"\b{at} [a-z]\d? and {at} [a-z]\d?\b"));
    let again: Vec<String> = again.into_iter().chain(marked).collect();
    let (at, again) = (PLACES.join("|"), again.join("|"));
    pattern(&format!(
        r"(?i-u)\b(?:{at}) the (?:{SIDES}|first|second|third)(?: [a-z]+)? and (?:the (?:{SIDES}|other)|(?:the )?(?:second|third|fourth|last))\b(?: [a-z]+)?|{again}"
    ))
});

/// Words in front of a place.
const PLACES: &[&str] = &[
    "at", "on", "to", "in", "into", "onto", "for", "under", "over",
];

/// Words for the second of two places, behind the first.
const LATER: &[&str] = &["second", "third", "fourth", "last"];

/// The doubt of two places.
pub(super) fn two_places(words: &Words, text: &str, calls: &[Call]) -> Option<Doubt> {
    // Most that is joined by `and` is no place.
    let placed = |(at, and): (usize, &str)| {
        let next = text[at + and.len()..].split(' ').next().unwrap_or_default();
        next == "the" || PLACES.contains(&next) || LATER.contains(&next)
    };
    if let Some(row) = row_of_places(text, calls) {
        return Some(Doubt::HowMany(
            format!("\"{row}\": the pieces may be for each or in all; taken as in all").into(),
        ));
    }
    if let Some(places) = one_at_many(text, calls) {
        return Some(Doubt::HowMany(
            format!("\"{places}\": one piece, and how many places is not said; taken as one")
                .into(),
        ));
    }
    if !text.match_indices(" and ").any(placed) {
        return None;
    }
    let found = TWO_PLACES.find_iter(words, text).next()?;
    let within = |call: &Call| found.range().contains(&call.at.start);
    (!calls.iter().any(within)).then(|| {
        let words = found.as_str();
        Doubt::HowMany(
            format!("\"{words}\": the pieces may be for each or in all; taken as in all").into(),
        )
    })
}

/// `at the left, right and centre posts`: three places or more in a row, right behind an item.
fn row_of_places<'t>(text: &'t str, calls: &[Call]) -> Option<&'t str> {
    let item = &calls.last()?.at;
    let behind = text.get(item.end..)?;
    let row = behind.split(['.', ';', ':', '(']).next()?.trim();
    let long = |row: &str| row.contains(", ") && row.contains(" and ");
    if !long(row) {
        return None;
    }
    // `at` may stand in the phrase of the item.
    let is_placed = |words: &str| PLACES.iter().any(|at| ends_with_word(words, at));
    // `north, south, east and west`
    let is_side = |word: &str| SIDES.split('|').any(|side| side == word);
    let rest =
        match is_placed(text.get(item.clone())?.trim_end()) || is_side(row.split(',').next()?) {
            true => row,
            false => row.split_once(' ').filter(|(at, _)| is_placed(at))?.1,
        };
    long(rest)
        .then(|| in_a_row(row))??
        .checked_sub(2)
        .filter(|more| *more > 0)?;
    Some(row)
}

/// `a bolt at the corners`: one piece at places in the plural, of which nobody says how many there are.
fn one_at_many<'t>(text: &'t str, calls: &[Call]) -> Option<&'t str> {
    let mut one = calls.iter().filter(|call| call.is_asked_for());
    let call = one
        .next()
        .filter(|call| call.pieces() == 1 && one.next().is_none())?;
    // `at` may stand in the phrase of the item.
    let within = text.get(call.at.clone())?.trim_end();
    let last = within
        .rfind(' ')
        .filter(|&at| PLACES.contains(&&within[at + 1..]));
    let from = last.map_or(call.at.end, |at| call.at.start + at);
    let behind = text
        .get(from..)?
        .split([',', '.', ';', ':', '('])
        .next()?
        .trim();
    // `One bolt is used at the end posts`
    const USED: &[&str] = &[
        "is", "goes", "sits", "used", "fitted", "needed", "put", "required",
    ];
    let mut words = behind.split(' ').skip_while(|word| USED.contains(word));
    let placed = PLACES[..6].contains(&words.next()?) && words.next()? == "the";
    let mut names = words
        .take(3)
        .take_while(|word| !CLAUSES.contains(word) && !PLACING.contains(word));
    let many = names
        .find(|word| word.len() > 3 && singular(word) != *word && !LIKE_PLURALS.contains(word))?;
    let end = many.as_ptr() as usize - behind.as_ptr() as usize + many.len();
    placed.then(|| &behind[..end])
}

/// `top and bottom`, `the left and right arms`: two; blanked.
pub(super) fn opposites(words: &Words, masked: &mut String, bare: bool) -> Option<Multiplier> {
    let at = OPPOSITES.find_iter(words, masked).next()?.range();
    // Not the last two of a row.
    if masked[..at.start].ends_with(", ") {
        return None;
    }
    // `Join upper and lower pole with two bolts`
    let lead = &masked[..at.start];
    if JOINING
        .iter()
        .any(|verb| lead.trim_end_matches("the ").ends_with(verb))
    {
        mask(masked, at, true);
        return None;
    }
    let noun = masked[at.end..]
        .strip_prefix(' ')
        .map(|rest| {
            rest.split(|c: char| !c.is_ascii_alphabetic())
                .next()
                .unwrap_or_default()
        })
        .unwrap_or_default();
    let end = at.end + usize::from(!noun.is_empty()) + noun.len();
    let (words, noun) = (masked[at.start..end].to_owned(), noun.to_ascii_lowercase());
    mask(masked, at.clone(), true);
    // `Left and right: four bolts each.`
    let opens = at.start == 0 && masked[end..].starts_with(':');
    // `washers top and bottom` may be for all items or for the last.
    Some(Multiplier {
        at: at.start,
        words,
        times: ((!noun.is_empty() || opens) && bare).then_some(2),
        noun,
        open: true,
        ..Multiplier::default()
    })
}

#[cfg(test)]
mod tests {
    use crate::notation::{Notation, sentence};

    #[test]
    fn places_of_which_nobody_says_how_many_there_are() {
        #[track_caller]
        fn case(text: &str, doubt: Option<&str>) {
            let said = sentence(text, Notation::default());
            let doubts: Vec<String> = said.doubts.iter().map(ToString::to_string).collect();
            assert_eq!(doubts, Vec::from_iter(doubt.map(str::to_owned)), "{text}");
        }
        let one = "one piece, and how many places is not said; taken as one";
        for places in [
            "at the corners",
            "into the left posts",
            "on the other side rails",
        ] {
            let text = format!("Fit an M8 x 40 bolt {places}.");
            case(&text, Some(&format!("\"{places}\": {one}")));
        }
        let row = "the pieces may be for each or in all; taken as in all";
        for places in ["north, south, east and west", "left, right and centre"] {
            let text = format!("Fit an M8 x 40 bolt {places}.");
            case(&text, Some(&format!("\"{places}\": {row}")));
        }
        for places in [
            "at A and at B",
            "to E1 and to E2",
            "in the first and third hole",
            "at the second and last slot",
        ] {
            let text = format!("Fit two M8 x 40 bolts {places}.");
            case(&text, Some(&format!("\"{places}\": {row}")));
        }
        for text in [
            "Fit an M8 x 40 bolt to the brass post.",
            "Fit an M8 x 40 bolt at the corner.",
            "Fit two M8 x 40 bolts to the posts.",
        ] {
            case(text, None);
        }
    }
}
