//! Things that a sentence tells apart by numbers or letters: `posts 3 and 4`, `at B, C and D`.

use super::{
    rule::{Rule, Words},
    vocabulary::PLACING,
    wording::{ends_with_word, mask},
};
use crate::words::pattern;

/// Numbers and letters that name a thing.
pub(super) static NAMED: Rule = Rule::new(
    "?",
    "stage|step|section|fig|figure|sheet|drawing|detail|page|note|post|rail|frame|bag|box|crate|panel|board|girder|item|bay|bracket|shoe|hoop|beam|leg|brace|joint|hole|corner|end|side|column|arm|part|plate",
    || {
        let name = r"(?: \d{1,3} [a-z]? | (?-i:[A-Z]) \d{0,2} ) \b";
        let more = format!(
            r"(?: \s* (?: , \s* and | , | and | & | to | through | thru | or | – | - ) \s* {name} )"
        );
        pattern(&format!(
            r"(?ix) \b (?:
              (?P<noun> stage | step | section | fig(?:ure)? | sheet | drawing | detail | page | note | post | rail
                | frame | bag | box | crate | panel | board | girder | item | bay | bracket | shoe | hoop | beam | leg
                | brace | joint | hole | corner | end | side | column | arm | part | plate )
              s? \.? \s+ (?: no\.? \s* | \# )? (?P<names> {name} {more}* )
            | (?P<at> at | on | for | to ) \s (?P<letters> (?-i:[A-Z]) \d? \b {more}+ ) )"
        ))
    },
);

/// Things that a sentence tells apart by numbers or letters: `posts 3 and 4`.
pub(super) struct Named {
    pub words: String,
    pub noun: String,
    pub number: u32,
    /// Said to be where the items go.
    pub is_place: bool,
}

/// Blanks numbers and letters that name a thing (`posts 3 and 4`, `at B, C and D`). Gives the last of
/// the things.
pub(super) fn mask_names(
    words: &Words,
    text: &str,
    masked: &mut String,
    for_stage: &mut Option<String>,
) -> Option<Named> {
    let mut last = None;
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
        let Some(names) = found.name("names").or_else(|| found.name("letters")) else {
            continue;
        };
        let names = names.as_str();
        let noun = found.name("noun").map_or("", |noun| noun.as_str());
        let before = text[..whole.start()].trim_end();
        let behind = |words: &[&str]| words.iter().any(|word| ends_with_word(before, word));
        let at = found.name("at").is_some() || behind(PLACING);
        if ["stage", "step", "section"]
            .iter()
            .any(|stage| noun.eq_ignore_ascii_case(stage))
            && behind(&["for", "until", "till"])
        {
            *for_stage = Some(names.trim().to_owned());
        }
        let numbers: Vec<u32> = names
            .split(|c: char| !c.is_ascii_alphanumeric())
            .filter_map(|name| {
                name.trim_end_matches(|c: char| c.is_ascii_lowercase())
                    .parse()
                    .ok()
            })
            .collect();
        let letters: Vec<u32> = names
            .split(|c: char| !c.is_ascii_alphanumeric())
            .filter_map(|name| match name.as_bytes() {
                [letter @ b'A'..=b'Z', ..] => Some(u32::from(*letter)),
                _ => None,
            })
            .collect();
        let runs = [" to ", " through ", " thru ", "-", "–"]
            .iter()
            .any(|to| names.contains(to));
        let number = match (numbers.as_slice(), letters.as_slice()) {
            ([first, last], []) | ([], [first, last]) if runs && last > first => last - first + 1,
            (numbers, letters) => (numbers.len() + letters.len()) as u32,
        };
        last = Some(Named {
            words: whole.as_str().trim().to_owned(),
            noun: noun.to_ascii_lowercase(),
            number,
            is_place: at,
        });
        mask(masked, whole.range(), true);
    }
    last
}
