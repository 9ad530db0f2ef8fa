//! The numbers of places that a sentence names: `both ends`, `each of the four posts`, `per slat`.

use super::{
    Call,
    each_piece::EachPiece,
    named::Named,
    rule::{Rule, Words},
    scope,
    things::Things,
    wording::{NUMBER, ends_with_word, mask, names_hardware, number, stem},
};
use crate::notation::words::{Sense, look_up};
use crate::words::pattern;

pub(super) static COUNTED: Rule = Rule::new(
    "both|each|every|all|places|locations|positions",
    "",
    || {
        pattern(&format!(
            r"(?ix) \b (?:
              (?P<both> both ) \s+ (?: of \s+ )? (?: the \s+ )? (?P<noun1> [a-z]+ )
            | (?: each | every \s one | all ) \s+ of \s+ (?: (?: the | these ) \s+ )? (?P<n2> {NUMBER} ) \s+ (?P<noun2> [a-z]+ )
            | (?P<all> all ) \s+ (?: the \s+ )? (?P<n3> {NUMBER} ) \s+ (?P<noun3> [a-z]+ )
            | (?: in | at ) \s+ (?P<n4> {NUMBER} ) \s+ (?P<noun4> places | locations | positions ) ) \b"
        ))
    },
);

pub(super) static EACH: Rule = Rule::new("each|every|per", "", || {
    pattern(
        r"(?i)\b(?P<word>each|every|per)(?:\s+of\s+the\s+(?P<n>\d{1,3})\s|(?:\s+of\s+the)?\s+(?P<noun>[a-z]+)\b)",
    )
});

/// Places whose number or whose bearing on the count is open: `on all posts`, `the four posts`.
pub(super) static OPEN: Rule = Rule::new("all|??", "", || {
    pattern(&format!(
        r"(?i)\b(?:all(?:\s+the)?|(?:the|these|those)\s+(?P<n>{NUMBER}))\s+(?P<noun>[a-z]+)\b"
    ))
});

pub(super) static BARE_EACH: Rule = Rule::new("each|apiece", "", || {
    pattern(r"(?i)\b(?:each|apiece)\s*(?:[.,;)]|$)")
});

/// A number of places, in a sentence.
pub(super) struct Multiplier {
    pub at: usize,
    pub words: String,
    pub noun: String,
    /// `None`: not stated.
    pub times: Option<u32>,
    /// Whether the pieces are for each place or for all of them is open.
    pub open: bool,
}

impl Multiplier {
    /// Takes the number of its places from what else the sentence says of them: `9 slats`, `panels A
    /// to D`.
    pub fn settle(&mut self, things: &mut Vec<Things>, named: Option<&Named>) {
        if self.times.is_some() || self.noun.is_empty() {
            return;
        }
        let same = |noun: &str| stem(noun).eq_ignore_ascii_case(stem(&self.noun));
        let counted = things
            .iter()
            .position(|things| things.words.rsplit(' ').next().is_some_and(same) && !things.beside);
        if let Some(at) = counted {
            self.times = Some(things.remove(at).number);
        } else if let Some(named) = named.filter(|named| named.number > 1 && same(&named.noun)) {
            self.times = Some(named.number);
        }
    }
}

/// The numbers of places that a sentence names; they are blanked.
pub(super) fn multipliers(words: &Words, masked: &mut String) -> (Vec<Multiplier>, Vec<EachPiece>) {
    let text = masked.clone();
    let (mut all, mut each_piece) = (Vec::new(), Vec::new());
    for found in COUNTED.captures_iter(words, &text) {
        let Some(whole) = found.get(0) else { continue };
        let noun = ["noun1", "noun2", "noun3", "noun4"]
            .into_iter()
            .find_map(|name| found.name(name));
        let Some(noun) = noun else { continue };
        let object = found.name("both").is_some() || found.name("all").is_some();
        // `both bolts`, `all four hex nuts`: hardware that is there.
        if object && names_hardware(&text[noun.start()..]) {
            continue;
        }
        let times = match found.name("both") {
            Some(_) => Some(2),
            None => ["n2", "n3", "n4"]
                .into_iter()
                .find_map(|name| found.name(name))
                .and_then(|n| number(n.as_str())),
        };
        let before = text[..whole.start()].trim_end();
        let last = before.rsplit(|c: char| c.is_whitespace()).next();
        let placed = before.ends_with(',')
            || last.is_some_and(|word| {
                [
                    "on", "at", "to", "in", "for", "from", "of", "through", "onto", "into", "under",
                ]
                .iter()
                .any(|known| word.eq_ignore_ascii_case(known))
            })
            || ["sides", "ends", "edges", "faces"].contains(&&*noun.as_str().to_ascii_lowercase());
        all.push(Multiplier {
            at: whole.start(),
            words: whole.as_str().to_owned(),
            noun: noun.as_str().to_ascii_lowercase(),
            times,
            open: object && !placed,
        });
        mask(masked, whole.range(), true);
    }
    let text = masked.clone();
    for found in EACH.captures_iter(words, &text) {
        let (Some(whole), Some(figure)) =
            (found.get(0), found.name("noun").or_else(|| found.name("n")))
        else {
            continue;
        };
        let noun = figure.as_str().to_ascii_lowercase();
        let word = found.name("word").map_or("", |word| word.as_str());
        let each_other = noun == "other" && word.eq_ignore_ascii_case("each");
        if each_other || matches!(&*noun, "with" | "having" | "and" | "time") {
            continue;
        }
        if let (Some(times), Some(word)) = (number(&noun), found.name("word")) {
            each_piece.push(EachPiece {
                at: figure.start(),
                words: whole.as_str().to_owned(),
                times,
            });
            mask(masked, word.range(), false);
            continue;
        }
        all.push(Multiplier {
            at: whole.start(),
            words: whole.as_str().to_owned(),
            noun,
            times: None,
            open: false,
        });
        mask(masked, whole.range(), true);
    }
    for found in OPEN.captures_iter(words, &masked.clone()) {
        let (Some(whole), Some(noun)) = (found.get(0), found.name("noun")) else {
            continue;
        };
        let is_unit = look_up(noun.as_str()).is_some_and(|row| {
            row.senses
                .iter()
                .any(|s| matches!(s, Sense::Unit(_) | Sense::Metric(_) | Sense::Foot))
        });
        if is_unit || names_hardware(&masked[noun.start()..]) || number(noun.as_str()).is_some() {
            continue;
        }
        // `the four posts with two bolts each`, `per post`
        let shared = all.iter().any(|m: &Multiplier| {
            m.times.is_none() && stem(&m.noun).eq_ignore_ascii_case(stem(noun.as_str()))
        }) || (all.is_empty() && BARE_EACH.is_match(words, masked));
        all.push(Multiplier {
            at: whole.start(),
            words: whole.as_str().to_owned(),
            noun: noun.as_str().to_ascii_lowercase(),
            times: found
                .name("n")
                .filter(|_| shared)
                .and_then(|n| number(n.as_str())),
            open: false,
        });
        mask(masked, whole.range(), true);
    }
    (all, each_piece)
}

/// `at either end`: as a rule both; blanked.
pub(super) fn either(masked: &mut String) -> Option<Multiplier> {
    let at = masked
        .match_indices("ither ")
        .find_map(|(at, _)| at.checked_sub(1).filter(|&at| masked.is_char_boundary(at)))?;
    let noun = masked[at + 7..]
        .split(|c: char| !c.is_ascii_alphabetic())
        .next()?
        .to_ascii_lowercase();
    let before = masked[..at].trim_end();
    let placed = ["at", "on", "to", "from"]
        .iter()
        .any(|word| ends_with_word(before, word));
    if !placed || !["end", "side", "edge", "face"].contains(&&*noun) {
        return None;
    }
    let range = at..at + 7 + noun.len();
    let words = masked[range.clone()].to_owned();
    mask(masked, range, true);
    Some(Multiplier {
        at,
        words,
        noun,
        times: Some(2),
        open: true,
    })
}

/// `top and bottom`, `the left and right arms`: two; blanked.
pub(super) fn opposites(masked: &mut String, bare: bool) -> Option<Multiplier> {
    let at = scope::opposites(masked)?;
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
    })
}

/// `five screws a panel`: so many for each.
pub(super) fn behind(call: &Call, text: &str) -> Option<Multiplier> {
    let rest = text[call.at.end..].strip_prefix(' ')?;
    let noun = rest
        .strip_prefix("a ")
        .or_else(|| rest.strip_prefix("an "))?;
    let noun = noun.split(|c: char| !c.is_ascii_alphabetic()).next()?;
    if noun.is_empty() || names_hardware(noun) {
        return None;
    }
    let at = call.at.end + 1;
    let end = noun.as_ptr() as usize - text.as_ptr() as usize + noun.len();
    Some(Multiplier {
        at,
        words: text[at..end].to_owned(),
        noun: noun.to_ascii_lowercase(),
        times: None,
        open: false,
    })
}
