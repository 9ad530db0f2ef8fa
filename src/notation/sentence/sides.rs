//! Two places that a sentence names by their sides: `at either end`, `top and bottom`.

use super::{
    Call,
    listed::in_a_row,
    multiplier::Multiplier,
    rule::Rule,
    vocabulary::JOINING,
    wording::{ends_with_word, mask},
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
        taken: None,
    })
}

/// Pairs of these name two places: `top and bottom`.
pub(super) const SIDES: &str = "top|bottom|left|right|front|back|rear|upper|lower|inner|outer|inside|outside|north|south|east|west|near|far|above|below";

static OPPOSITES: Rule = Rule::new(SIDES, "", || {
    pattern(&format!(r"(?i)\b(?:{SIDES})[\s-]+and[\s-]+(?:{SIDES})\b"))
});

/// `every gable (front and rear)`: which two they are; blanked.
pub(super) fn sides_in_brackets(words: &Words, masked: &mut String) -> Option<usize> {
    let at = OPPOSITES.find_iter(words, masked).next()?.range();
    let enclosed = masked[..at.start].ends_with('(') && masked[at.end..].starts_with(')');
    enclosed.then(|| {
        mask(masked, at.clone(), true);
        at.start
    })
}

/// `to the left leg and the right leg`, `into the cap, and into the foot`: two places of one thing, or one place
/// of each; in what goes on `with` them, or through both, they are one joint.
static TWO_PLACES: Rule = Rule::new("and", "", || {
    let again: Vec<String> = PLACES
        .iter()
        .map(|at| format!(r"\b{at} the(?: [a-z]+){{1,3}},? and {at} the [a-z]+(?: [a-z]+)?"))
        .collect();
    let (at, again) = (PLACES.join("|"), again.join("|"));
    pattern(&format!(
        r"(?i-u)\b(?:{at}) the (?:{SIDES}|first|second)(?: [a-z]+)? and the (?:{SIDES}|second|third|last|other)\b(?: [a-z]+)?|{again}"
    ))
});

/// Words in front of a place.
const PLACES: &[&str] = &[
    "at", "on", "to", "in", "into", "onto", "for", "under", "over",
];

/// The doubt of two places.
pub(super) fn two_places(words: &Words, text: &str, calls: &[Call]) -> Option<Doubt> {
    // Most that is joined by `and` is no place.
    let placed = |(at, and): (usize, &str)| {
        let next = text[at + and.len()..].split(' ').next().unwrap_or_default();
        next == "the" || PLACES.contains(&next)
    };
    if let Some(row) = row_of_places(text, calls) {
        return Some(Doubt::HowMany(
            format!("\"{row}\": the pieces may be for each or in all; taken as in all").into(),
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
    // `at` may stand in the phrase of the item.
    let is_placed = |words: &str| PLACES.iter().any(|at| ends_with_word(words, at));
    let rest = match is_placed(text.get(item.clone())?.trim_end()) {
        true => row,
        false => row.split_once(' ').filter(|(at, _)| is_placed(at))?.1,
    };
    let long = rest.contains(", ") && rest.contains(" and ");
    long.then(|| in_a_row(row))??
        .checked_sub(2)
        .filter(|more| *more > 0)?;
    Some(row)
}

/// `top and bottom`, `the left and right arms`: two; blanked.
pub(super) fn opposites(words: &Words, masked: &mut String, bare: bool) -> Option<Multiplier> {
    let at = OPPOSITES.find_iter(words, masked).next()?.range();
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
    // `washers top and bottom` may be for all items or for the last.
    Some(Multiplier {
        at: at.start,
        words,
        times: (!noun.is_empty() && bare).then_some(2),
        noun,
        open: true,
        taken: None,
    })
}
