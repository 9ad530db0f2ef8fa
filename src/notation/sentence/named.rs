//! Things that a sentence tells apart by numbers or letters: `posts 3 and 4`, `at B, C and D`.

use std::ops::Range;

use super::{
    rule::Rule,
    vocabulary::PLACING,
    wording::{ends_with_word, mask, names_hardware},
    words::Words,
};
use crate::words::pattern;

/// The number of a part in brackets: `the panel (PN 4471)`.
pub(super) static PART_NUMBER: Rule = Rule::new("p|pn|part|item|ref|key|no", "", || {
    pattern(
        r"(?ix) \( \s* (?:
              no\. \s* [:\#]? \s* [a-z]{0,4}
            | (?: p/?n | part (?: \s (?:no|number) )? | item (?: \s no )? | ref | key )
              (?: [.:\#\s]+ [a-z]{0,4} )?
            ) [-.]? \d [a-z0-9./-]* \s* \)",
    )
});

/// Things that numbers and letters tell apart.
const NOUNS: &str = "stage|step|section|fig|figure|sheet|drawing|detail|page|note|post|rail|frame|bag|box|crate|panel|board|girder|item|bay|bracket|shoe|hoop|beam|leg|brace|joint|hole|corner|end|side|column|arm|part|plate|rafter|truss|purlin|joist|sill|slat|plank|sleeve|hinge|baluster|picket|bow|tread|gusset|strut|socket|bearer|shelf";

/// Numbers and letters that name a thing.
pub(super) static NAMED: Rule = Rule::new("?", NOUNS, || {
    let name = r"(?: 0? [1-9] \d{0,2} [a-z]? | (?-i:[A-Z]) \d{0,2} ) \b";
    let more = format!(
        r"(?: \s* (?: , \s* and | , | and | & | (?: to | through | thru ) (?: \s+ (?: {NOUNS} ) )? | or | – | - ) \s* {name} )"
    );
    pattern(&format!(
        r"(?ix) \b (?:
              (?P<noun> {NOUNS} )
              s? \.? \s+ (?: no\.? \s* | \# )? (?P<names> {name} {more}* )
            | (?P<plural> [a-z]{{3,}} s ) \x20 (?P<several> (?-i:[A-Z]) (?: , \x20 (?-i:[A-Z]) )* ,? \x20 (?: and | & ) \x20 (?-i:[A-Z]) ) \b
            | (?P<at> at | on | for | to ) \s (?P<letters> (?-i:[A-Z]) \d? \b {more}+ ) )"
    ))
});

/// Things that a sentence tells apart by numbers or letters: `posts 3 and 4`.
pub(super) struct Named {
    pub at: Range<usize>,
    pub noun: String,
    pub number: u32,
    /// Said to be where the items go.
    pub is_place: bool,
}

impl Named {
    /// `hole 3, hole 5 and hole 8`: one list of things.
    fn goes_on_with(&self, before: &Named, text: &str) -> bool {
        let between = text[before.at.end..self.at.start].trim();
        self.noun == before.noun
            && [",", "and", ", and", "&", "and at", "and on"].contains(&between)
    }

    fn and(self, more: Named) -> Named {
        Named {
            at: self.at.start..more.at.end,
            number: self.number + more.number,
            ..self
        }
    }
}

/// Blanks numbers and letters that name a thing (`posts 3 and 4`, `at B, C and D`). Gives the last of
/// the things.
pub(super) fn mask_names(
    words: &Words,
    text: &str,
    masked: &mut String,
    for_stage: &mut Option<String>,
) -> Option<Named> {
    for found in PART_NUMBER.find_iter(words, text) {
        // An item's own number stays with it.
        let before = text[..found.start()].trim_end().rsplit(' ').next();
        if !before.is_some_and(names_hardware) {
            mask(masked, found.range(), false);
        }
    }
    // `sixteen washers M6 (J)`: its letter in the drawing.
    for (at, _) in text.match_indices('(') {
        if let [_, b'A'..=b'Z', b')', ..] = &text.as_bytes()[at..] {
            mask(masked, at..at + 3, false);
        }
    }
    let mut last: Option<Named> = None;
    for found in NAMED.captures_iter(words, text) {
        let Some(whole) = found.get(0) else { continue };
        let rest = &text[whole.end()..];
        let runs_on = rest.starts_with(['/', '-', '.', '\u{2044}'])
            && rest[1..].starts_with(|c: char| c.is_ascii_digit() || !rest.starts_with('.'))
            || rest
                .trim_start()
                .starts_with(|c: char| c.is_ascii_digit() || matches!(c, 'x' | 'X' | '×' | '"'));
        if runs_on || masked[whole.range()] != *whole.as_str() {
            continue;
        }
        let names = ["names", "letters", "several"];
        let Some(names) = names.iter().find_map(|name| found.name(name)) else {
            continue;
        };
        let noun = found.name("noun").or(found.name("plural"));
        let noun = noun.map_or("", |noun| noun.as_str());
        let mut at = whole.range();
        let mut names = names.as_str();
        // `A to B and C to D` names no row of places.
        let joins = found.name("at").is_some_and(|at| at.as_str() == "to");
        if joins && names.contains(" to ") {
            continue;
        }
        if counts_at_next(rest, noun) {
            let one = names.split([',', ' ']).next().unwrap_or_default();
            at.end -= names.len() - one.len();
            names = one;
        }
        if found.name("plural").is_some() && names_hardware(noun) {
            continue;
        }
        let before = text[..at.start].trim_end();
        let behind = |words: &[&str]| words.iter().any(|word| ends_with_word(before, word));
        // `At every post 1 threaded rod`
        if behind(&["each", "every", "per"]) {
            continue;
        }
        let is_place = found.name("at").is_some() || behind(PLACING);
        if ["stage", "step", "section"]
            .iter()
            .any(|stage| noun.eq_ignore_ascii_case(stage))
            && behind(&["for", "until", "till"])
        {
            *for_stage = Some(names.trim().to_owned());
        }
        let number = how_many(names);
        let named = Named {
            at: at.clone(),
            noun: noun.to_ascii_lowercase(),
            number,
            is_place,
        };
        last = Some(match last {
            Some(before) if named.goes_on_with(&before, text) => before.and(named),
            _ => named,
        });
        mask(masked, at, true);
    }
    last
}

/// `in post 2` behind `in post 1 and 3`: so many at the next of them.
fn counts_at_next(rest: &str, noun: &str) -> bool {
    let mut next = rest.split_whitespace();
    next.next().is_some_and(|at| PLACING.contains(&at)) && next.next() == Some(noun)
}

/// How many things names tell apart: `3 and 4`, `A to D`, `P1 through P4`.
fn how_many(names: &str) -> u32 {
    let all: Vec<(u32, u32)> = names
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter_map(|name| {
            let letter = name.chars().next().filter(char::is_ascii_uppercase);
            let figure = name.trim_matches(|c: char| c.is_ascii_alphabetic()).parse();
            let named = letter.is_some() || figure.is_ok();
            named.then(|| (letter.map_or(0, u32::from), figure.unwrap_or(0)))
        })
        .collect();
    let runs = [" to ", " through ", " thru ", "-", "–"]
        .iter()
        .any(|to| names.contains(to));
    match all.as_slice() {
        [(a, first), (b, last)] if runs && a == b && last > first => last - first + 1,
        [(first, 0), (last, 0)] if runs && last > first => last - first + 1,
        all => all.len() as u32,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::{Notation, sentence};

    #[test]
    fn names() {
        #[track_caller]
        fn case(names: &str, expected: u32) {
            assert_eq!(how_many(names), expected, "{names}");
        }
        case("3 and 4", 2);
        case("1 to 4", 4);
        case("A to D", 4);
        case("B, C and D", 3);
        case("P1 through P4", 4);
        case("P1 and P4", 2);
        case("4a", 1);
    }

    #[test]
    fn counts_at_places_told_apart_by_numbers() {
        #[track_caller]
        fn case(text: &str, expected: u64) {
            let said = sentence(text, Notation::default());
            let [call] = &*said.calls else {
                panic!("{text}: {:?}", said.calls)
            };
            assert_eq!(call.pieces() * u64::from(call.places), expected, "{text}");
            assert!(said.doubts.is_empty(), "{text}: {:?}", said.doubts);
        }
        case(
            "Fix the rail with two M8 x 40 bolts in post 1 and three in post 2.",
            5,
        );
        case("Fit two 1/2 x 4 bolts in post 1 and 3 in post 2.", 5);
        case("Fit two 1/2 x 4 bolts in post 1, and three in post 2.", 5);
        case("Fit one M10 x 80 bolt in hole 1 and one in hole 2.", 2);
        case(
            "Fix it with four M8 x 40 bolts, two in post 1 and two in post 2.",
            4,
        );
        case(
            "Use one M8 x 40 bolt in bay 1, two in bay 2 and one in bay 3.",
            4,
        );
        case("Post 1 takes two 1/2 x 6 bolts, post 2 one.", 3);
        case("Fit an M8 x 40 bolt into both ends of rails 1 to 3.", 6);
        case(
            "The leg needs six M8 x 40 bolts while the arm needs one.",
            7,
        );
        case("Fit one M8 x 40 bolt from above, one from below.", 2);
        case(
            "Attach each of the four brackets with an M8 x 40 bolt above and another below.",
            8,
        );
        case(
            "Bolt the leg with a 1/2 x 6 bolt from the front and another from the side.",
            2,
        );
        case(
            "Put a 1/2 x 6 bolt in from the front and a second from the side.",
            2,
        );
    }
}
