//! The numbers of places that a sentence names: `both ends`, `each of the four posts`, `per slat`.

use std::ops::Range;

use regex::Captures;

use super::{
    before::calls,
    call::Call,
    each_piece::EachPiece,
    multiplier::Multiplier,
    rule::Rule,
    sides::SIDES,
    vocabulary::{BOLT_SORTS, CLAUSES, DRIVES, NO_PLACES, PARTICLES, PLACING},
    wording::{NUMBER, ends_with_word, last_word, mask, names_hardware, number, singular},
    words::Words,
};
use crate::notation::words::{Sense, look_up};
use crate::words::pattern;

pub(super) static COUNTED: Rule = Rule::new(
    "both|of|all|places|locations|positions|points",
    "",
    || {
        pattern(&format!(
            r"(?ix) \b (?:
              (?P<both> both ) \s+ (?: of \s+ )? (?: the \s+ )? (?P<noun1> [a-z]+ )
            | (?: each | every \s one | all ) \s+ of \s+ (?: (?: the | these | its | their ) \s+ )? (?P<n2> {NUMBER} ) \s+ (?P<noun2> [a-z]+ )
            | (?P<all> all ) \s+ (?: the \s+ )? (?P<n3> {NUMBER} ) \s+ (?P<noun3> [a-z]+ )
            | (?: in | at ) \s+ (?P<n4> {NUMBER} ) \s+ (?P<noun4> places | locations | positions | points ) ) \b"
        ))
    },
);

pub(super) static EACH: Rule = Rule::new("each|every|per", "", || {
    pattern(&format!(
        r"(?i)\b(?P<word>each|every|per)(?:\s+of(?:\s+(?:the|these))?\s+(?P<n>{NUMBER})\s|(?:\s+of\s+the)?\s+(?P<noun>(?:[a-z]-)?[a-z]+)\b)"
    ))
});

/// Places whose number or whose bearing on the count is open: `on all posts`, `the four posts`.
pub(super) static OPEN: Rule = Rule::new("all|??", "", || {
    pattern(&format!(
        r"(?i)\b(?:all(?:\s+the)?|(?:the|these|those)\s+(?P<n>{NUMBER}))\s+(?P<noun>[a-z]+)\b"
    ))
});

/// What each of the things in front does: `the front and rear frame each want four bolts`.
#[rustfmt::skip]
const HAVE: &[&str] = &[
    "wants", "want", "gets", "get", "takes", "take", "receives", "receive", "needs", "need", "has", "have",
    "carries", "carry", "requires", "require", "is", "are", "held", "hung",
];

/// `takes`, `need`; not `are`, of which a state may be said.
fn has(word: &str) -> bool {
    HAVE.contains(&word) && !["is", "are"].contains(&word)
}

/// `each takes`, `each fixed with`
fn does(word: &str) -> bool {
    HAVE.contains(&word) || word.ends_with("ed")
}

/// Where each `each` stands that names no thing: `two bolts each`, `the posts each take two bolts`.
pub(super) fn bare_eaches(words: &Words, text: &str) -> Vec<usize> {
    let takes = |at: &Range<usize>| {
        // `30 of each are in bag 2`
        if text[..at.start].trim_end().ends_with(" of") {
            return None;
        }
        let mut behind = text[at.end..].strip_prefix(' ')?.split(' ');
        let word = behind.next()?;
        let one = ["one", "a", "an"];
        let them = ["them", "these", "those"];
        let is_one = |next: &str| {
            let next = next.trim_end_matches(['.', ',', ';']);
            word == "of" && (one.contains(&next) || them.contains(&next))
        };
        let one_with = word == "one"
            && behind
                .clone()
                .next()
                .is_some_and(|with| ["with", "having"].contains(&with));
        // `with in each case two screws`
        let case = word == "case" && text[..at.start].ends_with(" in ");
        let down = PARTICLES.contains(&word);
        (does(word) || down || case || one_with || behind.next().is_some_and(is_one))
            .then_some(at.start)
    };
    // `Hang the door on a pair of hinges, each with three screws.`; not `four bolts, each with a nut`
    let with = |at: &Range<usize>| {
        let lead = text[..at.start].trim_end_matches([' ', ',', '(']);
        let behind = &text[at.end..];
        let of_thing = !names_hardware(last_word(lead));
        (of_thing && (behind.starts_with(" with ") || behind.starts_with(" having ")))
            .then_some(at.start)
    };
    let mut all = ends_with_each(words, text);
    if all.is_empty() {
        let mut each = words.find(text, "each");
        all.extend(each.find_map(|at| takes(&at).or_else(|| with(&at))));
    }
    all
}

/// `to each`, `on each`: each of what stands before.
pub(super) fn goes_to(text: &str, each: usize) -> bool {
    PLACING.contains(&last_word(text[..each].trim_end()))
}

/// Where each `each` stands that a mark or the end follows.
fn ends_with_each(words: &Words, text: &str) -> Vec<usize> {
    let each = |word| words.find(text, word);
    let ends = |at: Range<usize>| {
        let rest = text[at.end..].trim_start();
        // `two of each`: of each item
        let of = text[..at.start].trim_end().ends_with(" of");
        // `a washer and a nut each at each post`
        let mut behind = rest.split(' ');
        let placed = behind.next().is_some_and(|at| ["at", "on"].contains(&at))
            && (behind.next())
                .is_some_and(|all| ["each", "every", "both", "all", "either"].contains(&all));
        // `two bolts each at the top and the bottom`
        let row = || {
            rest.split(' ')
                .next()
                .is_some_and(|at| PLACING.contains(&at))
                && rest.contains(" and ")
        };
        let counts = || names_hardware(last_word(text[..at.start].trim_end()));
        // `two bolts to each and tighten them`, `two bolts each from below`
        let mut next = rest.split(|c: char| !c.is_ascii_alphabetic());
        let goes_on = match next.next() {
            Some("and") => next.next().is_some_and(|verb| {
                !["", "a", "an", "one", "the", "each", "with"].contains(&verb)
                    && number(verb).is_none()
                    && !names_hardware(verb)
            }),
            Some(word) => GOES_ON.contains(&word),
            None => false,
        };
        // `with four bolts each and the centre plate with six`, `four bolts for each and four washers`
        let behind = rest
            .strip_prefix("and ")
            .filter(|rest| !rest.starts_with("every"));
        let thing = || {
            let things = ["the ", "each ", "both ", "all "];
            behind.is_some_and(|rest| {
                let counted = number(last_word(text[..at.start].trim_end())).is_some();
                ((counted || counts()) && things.iter().any(|the| rest.starts_with(the)))
                    || (number(rest.split(' ').next().unwrap_or_default()).is_some()
                        && goes_to(text, at.start))
            })
        };
        let ends = placed
            || thing()
            || (goes_on && (counts() || goes_to(text, at.start)))
            || rest.is_empty()
            || rest.starts_with(['.', ',', ';', ')'])
            || (row() && counts());
        (!of && ends).then_some(at.start)
    };
    let mut all: Vec<usize> = each("each")
        .chain(each("apiece"))
        .filter_map(ends)
        .collect();
    all.sort_unstable();
    all
}

/// The thing that a number counts, from its first word on: `hinge plates`, `sides`.
fn thing(text: &str, first: Range<usize>) -> Range<usize> {
    let mut end = first.start;
    for word in text[first.start..].split_inclusive(' ').take(3) {
        let plain = word.trim_end();
        let letters = plain.trim_end_matches([',', '.', ';', ':', ')']);
        let is_word = !letters.is_empty() && letters.bytes().all(|b| b.is_ascii_lowercase());
        if !is_word || PLACING.contains(&letters) || CLAUSES.contains(&letters) {
            break;
        }
        if letters.len() > 2 && letters.ends_with('s') && !letters.ends_with("ss") {
            return first.start..end + letters.len();
        }
        if plain.len() > letters.len() {
            break;
        }
        end += word.len();
    }
    first
}

/// True where a thing is hardware: `anchor bolts`, but not `anchor points`.
fn is_hardware(text: &str, thing: &Range<usize>) -> bool {
    match text[thing.clone()].contains(' ') {
        true => names_hardware(last_word(&text[thing.clone()])),
        false => names_hardware(&text[thing.start..]),
    }
}

/// The numbers of places that a sentence names; they are blanked.
/// `eaches`: where each `each` stands that names no thing.
pub(super) fn multipliers(
    words: &Words,
    masked: &mut String,
    eaches: &[usize],
) -> (Vec<Multiplier>, Vec<EachPiece>) {
    let (mut all, mut each_piece) = (Vec::new(), Vec::new());
    if COUNTED.may_find(words) {
        counted(words, masked, &mut all, &mut each_piece);
    }
    if EACH.may_find(words) {
        each(words, masked, &mut all, &mut each_piece);
    }
    if OPEN.may_find(words) {
        open(words, masked, eaches, &mut all);
    }
    (all, each_piece)
}

/// `both ends`, `each of the four posts`, `in six places`.
fn counted(
    words: &Words,
    masked: &mut String,
    all: &mut Vec<Multiplier>,
    each_piece: &mut Vec<EachPiece>,
) {
    let text = masked.clone();
    for found in COUNTED.captures_iter(words, &text) {
        let Some(whole) = found.get(0) else { continue };
        let noun = ["noun1", "noun2", "noun3", "noun4"]
            .into_iter()
            .find_map(|name| found.name(name));
        let Some(noun) = noun else { continue };
        let object = found.name("both").is_some() || found.name("all").is_some();
        // `two bolts, both with their heads out`
        if CLAUSES.contains(&noun.as_str()) {
            continue;
        }
        let noun = thing(&text, noun.range());
        let is_hardware = is_hardware(&text, &noun);
        // `both bolts`, `all four hex nuts`: hardware that is there.
        if object && is_hardware {
            continue;
        }
        if let Some(n) = found.name("n2").filter(|_| is_hardware)
            && let Some(times) = number(n.as_str())
        {
            each_piece.push(EachPiece {
                at: n.start(),
                words: text[whole.start()..noun.end].to_owned(),
                times,
            });
            let each = text[whole.range()].find(" of ").unwrap_or_default();
            mask(masked, whole.start()..whole.start() + each, false);
            continue;
        }
        let before = text[..whole.start()].trim_end();
        let last = Some(last_word(in_front_of_list(before)));
        let head = last_word(&text[noun.clone()]).to_ascii_lowercase();
        let is = |known: &[&str]| last.is_some_and(|word| known.contains(&word));
        // `with both hands on the rail`
        let no_places = is(&["with", "using", "by"]) && NO_PLACES.contains(&&*head);
        // `so that both ends are flush`, `so that they bear on both cheeks`, `Make sure both ends are flush`
        let next = text[noun.end..].trim_start().split(' ').next();
        let state = is(&["that", "so", "until", "till", "sure", "ensure", "check"])
            && !next.is_some_and(has)
            || object && before.contains(" so that ");
        // `working from both ends`, `from both sides towards the middle`
        let from = is(&["from"])
            && (next.is_some_and(|next| next.starts_with("toward"))
                || before
                    .strip_suffix(" from")
                    .is_some_and(|before| WORKING.contains(&last_word(before))));
        if no_places || state || from {
            mask(masked, whole.start()..noun.end, true);
            continue;
        }
        let times = match found.name("both") {
            Some(_) => Some(2),
            None => ["n2", "n3", "n4"]
                .into_iter()
                .find_map(|name| found.name(name))
                .and_then(|n| number(n.as_str())),
        };
        let placed = before.ends_with(',')
            || last.is_some_and(|word| {
                [
                    "on", "at", "to", "in", "for", "from", "of", "through", "onto", "into", "under",
                ]
                .iter()
                .any(|known| word.eq_ignore_ascii_case(known))
            })
            || (!opens_clause(before)
                && !last.is_some_and(|last| ASIDE.contains(&last))
                && ["sides", "ends", "edges", "faces"].contains(&last_word(&text[noun.clone()])));
        let whole = whole.start()..noun.end;
        let words = text[whole.clone()].to_owned();
        // `through both legs`, `through the holes in both legs`
        let mut lead = before.rsplit(' ');
        let last_but = lead.next().is_some_and(|last| ["in", "of"].contains(&last));
        let through = object
            && (last == Some("through")
                || (last_but && lead.take(5).any(|word| word == "through")));
        // `both the left, centre and right posts` are three.
        let behind = text[noun.end..]
            .split(['.', ';'])
            .next()
            .unwrap_or_default();
        let more = found.name("both").is_some()
            && SIDES.split('|').any(|side| side == head)
            && behind.starts_with(", ")
            && behind.contains(" and ");
        let them = match found.name("both") {
            Some(_) => "both",
            None => "all of them",
        };
        all.push(Multiplier {
            at: whole.start,
            noun: head,
            times: times.filter(|_| !(through || more)),
            open: object && (!placed || puts_in_behind(&text, whole.end)),
            taken: through
                .then(|| format!("\"through {words}\": one may go through {them}; not multiplied")),
            words,
            ..Multiplier::default()
        });
        mask(masked, whole, true);
    }
}

/// Words in front of a place that say how things lie to it, and not where each goes (common practice, no source).
const ASIDE: &[&str] = &[
    "across", "along", "over", "between", "near", "around", "past", "behind", "above", "below",
    "beside", "against", "off", "towards", "toward",
];

/// Words behind `each` that say how it is done (common practice, no source).
const GOES_ON: &[&str] = &[
    "from", "using", "before", "so", "as", "without", "by", "then",
];

/// Words in front of `from both ends` that say how the work goes on (common practice, no source).
const WORKING: &[&str] = &[
    "working", "starting", "distance", "inward", "inwards", "measured", "seen",
];

/// `Line up the holes in both brackets and insert two bolts`: what is put in stands in a clause of its own.
fn puts_in_behind(text: &str, at: usize) -> bool {
    let opens = text
        .split_whitespace()
        .next()
        .unwrap_or_default()
        .to_ascii_lowercase();
    let mut words = text[at..].split_whitespace().take(6);
    !PLACING.contains(&&*opens)
        && words.any(|word| ["and", "then"].contains(&word))
        && words.next().is_some_and(|word| DRIVES.contains(&word))
}

/// True for a verb alone: `Fasten` of `Fasten both ends with two bolts`; not `Fasten the rail both ends`.
fn opens_clause(before: &str) -> bool {
    let clause = before.rsplit([',', ';', ':', '.']).next();
    let mut words = clause.unwrap_or_default().split_whitespace();
    let first = words.find(|word| !["and", "then", "Then", "Now", "Next"].contains(word));
    first.is_some_and(|verb| !names_hardware(verb) || verb.starts_with(char::is_uppercase))
        && words.next().is_none()
}

/// What stands in front of a list of things whose last begins behind it: `through` of `through the header and`.
fn in_front_of_list(before: &str) -> &str {
    let list = before
        .strip_suffix(" and")
        .map(|list| (list, list.rfind(" the ")));
    match list {
        Some((list, Some(the))) if !list[the + 5..].contains(' ') => &list[..the],
        _ => before,
    }
}

/// `each post`, `per slat`.
fn each(
    words: &Words,
    masked: &mut String,
    all: &mut Vec<Multiplier>,
    each_piece: &mut Vec<EachPiece>,
) {
    let text = masked.clone();
    for found in EACH.captures_iter(words, &text) {
        let (Some(whole), Some(figure)) =
            (found.get(0), found.name("noun").or_else(|| found.name("n")))
        else {
            continue;
        };
        let noun = figure.as_str().to_ascii_lowercase();
        let word = found.name("word").map_or("", |word| word.as_str());
        let each_other =
            (noun == "other" || PLACING.contains(&&*noun)) && word.eq_ignore_ascii_case("each");
        let of_one = noun == "of"
            && ["one", "a", "an", "them", "these", "those"].contains(
                &text[whole.end()..]
                    .split(|c: char| !c.is_alphanumeric())
                    .nth(1)
                    .unwrap_or_default(),
            );
        let one_with = noun == "one"
            && [" with ", " having "]
                .iter()
                .any(|with| text[whole.end()..].starts_with(with));
        // `every eye bolt`: on each of the bolts before.
        let sort = BOLT_SORTS.contains(&&*noun);
        let rest = text[whole.end()..].trim_start();
        let bolt = rest
            .split(|c: char| !c.is_ascii_alphabetic())
            .next()
            .unwrap_or_default();
        if sort && calls(bolt).is_some() {
            let at = whole.start()..text.len() - rest.len() + bolt.len();
            all.push(Multiplier {
                at: at.start,
                words: text[at.clone()].to_owned(),
                noun: bolt.to_ascii_lowercase(),
                times: None,
                ..Multiplier::default()
            });
            mask(masked, at, true);
            continue;
        }
        if each_other
            || of_one
            || one_with
            || matches!(&*noun, "with" | "having" | "and" | "time" | "case")
            || does(&noun)
            || PARTICLES.contains(&&*noun)
        {
            continue;
        }
        let noun = match head_behind(&text, whole.end()) {
            Some(head) if text.contains(&format!(" {head}s")) => head.to_owned(),
            _ => noun,
        };
        // `every other slat`: how many that is, nothing tells.
        let noun = match matches!(&*noun, "other" | "second" | "third" | "alternate") {
            true => String::new(),
            false => noun,
        };
        if let (Some(times), Some(word)) = (number(&noun).filter(|&n| n > 1), found.name("word")) {
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
            ..Multiplier::default()
        });
        mask(masked, whole.range(), true);
    }
}

/// `per post clip`: the noun that a place goes on with, up to a mark.
fn head_behind(text: &str, at: usize) -> Option<&str> {
    let rest = text[at..].strip_prefix(' ')?;
    let word = &rest[..rest.find(|c: char| !c.is_ascii_lowercase())?];
    let ends = rest[word.len()..].starts_with([',', '.', ';', ':', ')']);
    (ends && word.len() > 2).then_some(word)
}

/// `on all posts`, `the four posts`.
fn open(words: &Words, masked: &mut String, eaches: &[usize], all: &mut Vec<Multiplier>) {
    let text = masked.clone();
    let ahead: Vec<Captures<'_>> = OPEN.captures_iter(words, &text).collect();
    for (i, found) in ahead.iter().enumerate() {
        let (Some(whole), Some(noun)) = (found.get(0), found.name("noun")) else {
            continue;
        };
        let is_unit = look_up(noun.as_str()).is_some_and(|row| {
            row.senses
                .iter()
                .any(|s| matches!(s, Sense::Unit(_) | Sense::Metric(_) | Sense::Foot))
        });
        // `two bolts and a screw, all with nuts`
        if noun.as_str() == "with" {
            continue;
        }
        // `all the way`
        if NO_PLACES
            .iter()
            .any(|known| singular(known) == noun.as_str())
        {
            continue;
        }
        let at = thing(masked, noun.range());
        // `two rods run through all of them`
        let through = noun.as_str() == "of"
            && masked[at.end..].starts_with(" them")
            && ends_with_word(masked[..whole.start()].trim_end(), "through");
        if through || is_unit || is_hardware(masked, &at) || number(noun.as_str()).is_some() {
            continue;
        }
        let noun = last_word(&masked[at.clone()]).to_ascii_lowercase();
        // `the 16 gauge panel`
        let mut behind = masked[at.end..].split(' ').skip(1);
        let in_row = behind.next() == Some("and") && behind.next().and_then(number).is_some();
        if found.name("n").is_some() && noun != "of" && singular(&noun) == noun && !in_row {
            continue;
        }
        let whole = whole.start()..at.end;
        let behind = masked[whole.end..].trim_start_matches([',', ' ']);
        // `the four posts with two bolts each`, `per post`, `the four posts, each with two bolts`
        let next = ahead.get(i + 1).and_then(|next| next.get(0));
        let next = next.map_or(masked.len(), |next| next.start());
        let shared = behind.starts_with("each with ")
            || all.iter().any(|m: &Multiplier| {
                m.times.is_none() && singular(&m.noun).eq_ignore_ascii_case(singular(&noun))
            })
            || (all.is_empty() && !eaches.is_empty())
            || eaches.iter().any(|each| (whole.end..next).contains(each));
        let n = found.name("n").filter(|_| shared);
        let n = n.and_then(|n| number(n.as_str()));
        // `the four joists with two bolts at each joist end`
        let of_ends = n.is_some()
            && all.iter().any(|m| {
                let behind = masked.get(m.at + m.words.len()..).unwrap_or_default();
                let same = singular(&m.noun).eq_ignore_ascii_case(singular(&noun));
                same && [" end", " side"].iter().any(|end| behind.starts_with(end))
            });
        let words = masked[whole.clone()].to_owned();
        let ends = of_ends.then(|| format!("\"{}\": taken as two ends of each", words.trim()));
        all.push(Multiplier {
            at: whole.start,
            words,
            noun,
            times: n.map(|n| n * if of_ends { 2 } else { 1 }),
            taken: ends,
            ..Multiplier::default()
        });
        mask(masked, whole, true);
    }
}

/// `five screws a panel`: so many for each. So may `five screws to a panel` be, `placed`.
pub(super) fn behind(call: &Call, text: &str) -> Option<(Multiplier, bool)> {
    let rest = text[call.at.end..].strip_prefix(' ')?;
    let (word, behind) = rest.split_once(' ')?;
    let is_place = |word| ["to", "in", "on", "at", "for"].contains(&word);
    // `at` may stand in the phrase of the item.
    let placed = is_place(word) || is_place(last_word(text[call.at.clone()].trim_end()));
    let rest = if is_place(word) { behind } else { rest };
    let noun = rest
        .strip_prefix("a ")
        .or_else(|| rest.strip_prefix("an "))?;
    let noun = noun.split(|c: char| !c.is_ascii_alphabetic()).next()?;
    if noun.is_empty() || names_hardware(noun) {
        return None;
    }
    let at = call.at.end + 1;
    let end = noun.as_ptr() as usize - text.as_ptr() as usize + noun.len();
    let behind = Multiplier {
        at,
        words: text[at..end].to_owned(),
        noun: noun.to_ascii_lowercase(),
        times: None,
        ..Multiplier::default()
    };
    Some((behind, placed))
}
