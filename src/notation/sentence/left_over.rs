//! Figures of a sentence that no item took.

use std::ops::Range;

use super::{
    Call, Naming,
    phrase::{counts, is_unit},
    things::{Things, counts_things},
    vocabulary::{CLAUSES, DISTANCES, DRIVES, OTHER_FASTENERS, PARTICLES, PLACING},
    wording::{number, singular},
};
use crate::notation::{
    callout::Notation,
    describe::describe,
    number::{Prefix, Shape},
    reader::Reader,
    token::Tok,
    words::{Row, Sense},
};
use crate::{doubt::Doubt, hardware::Kind};

/// Doubts about figures that no reading took, save those that measure or count other things, which
/// are given back.
pub(super) fn left_over(
    reader: &Reader<'_>,
    masked: &str,
    calls: &[Call],
    doubts: &mut Vec<Doubt>,
) -> (Vec<Range<usize>>, Vec<Range<usize>>, Option<&'static str>) {
    let (mut measures, mut left) = (Vec::new(), Vec::new());
    let mut unread = other_fasteners(reader, masked);
    // `four 9 mm pilot holes`; not `four M8 inserts in the holes`
    let is_made = |from: usize| {
        let behind = masked[from..].split_whitespace();
        let mut near = behind.take(4).take_while(|word| !PLACING.contains(word));
        near.any(|word| MAKES.contains(&singular(word.trim_end_matches(['.', ',', ';']))))
    };
    for i in 0..reader.tokens.len() {
        let token = &reader.tokens[i];
        if token.role.is_some() {
            continue;
        }
        let Some((_, shape, prefix)) = reader.number(i) else {
            // `six, no, eight`: what does the first count?
            let stray = reader
                .word(i)
                .and_then(Row::count)
                .is_some_and(|n| n > 1 && !counts_things(reader, i));
            if stray && !calls.is_empty() {
                doubts.push(Doubt::LeftOver(masked[token.start..token.end].into()));
                continue;
            }
            let word = &masked[token.start..token.end];
            let counted = i > 0 && counts(reader, i - 1);
            if counted && is_size_in_plural(word) {
                match calls.is_empty() {
                    true => unread = Some(NO_WORD),
                    false => doubts.push(Doubt::LeftOver(word.into())),
                }
                left.push(token.start..token.end);
                continue;
            }
            let digits = word.contains(|c: char| c.is_numeric());
            // A code names a part.
            if digits && !matches!(reader.tok(i), Some(Tok::Code | Tok::Mark)) && !calls.is_empty()
            {
                doubts.push(Doubt::LeftOver(masked[token.start..token.end].into()));
                left.push(token.start..token.end);
            } else if digits {
                measures.push(token.start..token.end);
            }
            continue;
        };
        let fine = prefix == Prefix::None && shape == Shape::Whole;
        // `between U1 and U2`
        let lead = &masked[..token.start];
        let lettered = lead.ends_with(|c: char| c.is_ascii_uppercase())
            && !lead[..lead.len() - 1].ends_with(|c: char| c.is_alphanumeric());
        let joins =
            |at: usize| matches!(reader.tok(at), Some(Tok::Join)) || reader.says(at, Sense::By);
        let counted = i > 0 && reader.tokens[i - 1].role.is_none() && counts(reader, i - 1);
        let why = match counted {
            true => counted_by_size(reader, i),
            false => named_by_size(reader, i),
        };
        if let Some(why) = why.filter(|_| !is_made(token.end)) {
            unread = Some(why);
        }
        let unit = usize::from(is_unit(reader, i + 1));
        if !fine && joins(i + 1 + unit) && !is_made(token.end) {
            unread = Some("a size, and no word says of what");
        }
        // `4 x H7`
        let of_code = matches!(reader.tok(i + 1), Some(Tok::Join))
            && matches!(reader.tok(i + 2), Some(Tok::Code));
        if fine && of_code {
            unread = Some("a count of what only its number names: the parts list tells what it is");
        }
        let dash = usize::from(matches!(reader.tok(i + 1), Some(Tok::Dash)));
        if fine && names_one(reader, masked, i) {
            measures.push(token.start..token.end);
            continue;
        }
        // A length right behind an item may be the item's.
        let behind_item = i > 0
            && calls
                .iter()
                .any(|call| call.at.end == reader.tokens[i - 1].end);
        let distance = (i + 2 + dash..i + 4 + dash)
            .filter_map(|at| reader.tokens.get(at))
            .any(|token| DISTANCES.contains(&&masked[token.start..token.end]));
        let measure = is_unit(reader, i + 1 + dash) && (distance || !behind_item);
        // `2 x 6`, `20 mm x 40`; not `hoop, x4`.
        let figure = |at: usize| reader.number(at).is_some();
        let behind = i > 1 && joins(i - 1) && (figure(i - 2) || (i > 2 && figure(i - 3)));
        let dimension = fine && (behind || (joins(i + 1) && figure(i + 2)));
        let of_parts = fine && counts_things(reader, i);
        // `each of the nine slats (4)`: its number in the drawing.
        let names_thing = i > 1
            && matches!(reader.tok(i - 1), Some(Tok::Open))
            && matches!(reader.tok(i - 2), Some(Tok::Semicolon))
            && matches!(reader.tok(i + 1), Some(Tok::Close));
        if measure || dimension || of_parts || names_thing || (fine && lettered) {
            measures.push(token.start..token.end);
        } else {
            doubts.push(Doubt::LeftOver(masked[token.start..token.end].into()));
            left.push(token.start..token.end);
        }
    }
    (measures, left, unread)
}

/// `four M10s`: bolts, called by their size alone.
fn is_size_in_plural(word: &str) -> bool {
    let size = word.strip_suffix('s').and_then(|one| one.strip_prefix('M'));
    size.is_some_and(|size| !size.is_empty() && size.bytes().all(|b| b.is_ascii_digit()))
}

const NO_WORD: &str = "a count and a size, and no word says of what";

/// Verbs that put in, beside those that drive.
const SETS: &[&str] = &["set", "put", "place", "glue", "knock", "mount", "position"];

/// What is cut by a tool of a size.
const MAKES: &[&str] = &["hole", "slot", "bit", "thread"];

/// `Attach wall 2 to wall 1`, `side panel (3) to end panel (5)`: a number that tells one thing from others, right behind
/// it, where it stands without an article.
fn names_one(reader: &Reader<'_>, masked: &str, i: usize) -> bool {
    let word = |at: usize| {
        let token = reader.tokens.get(at);
        token.map_or("", |token| &masked[token.start..token.end])
    };
    let open = usize::from(
        matches!(reader.tok(i.wrapping_sub(1)), Some(Tok::Open))
            && matches!(reader.tok(i + 1), Some(Tok::Close)),
    );
    let Some(noun) = i.checked_sub(1 + open).filter(|&noun| noun > 0) else {
        return false;
    };
    let name = word(noun);
    let is_thing =
        matches!(reader.tok(noun), Some(Tok::Unknown)) || reader.says(noun, Sense::Thing);
    let one = is_thing
        && name.len() > 2
        && singular(name) == name
        && name.bytes().all(|b| b.is_ascii_lowercase());
    let mut before = (noun.saturating_sub(2)..noun).map(word);
    let told = before.any(|word| ["a", "an", "the", "each", "every", "per"].contains(&word));
    let behind = word(i + 1 + open);
    let ends = PLACING.contains(&behind)
        || CLAUSES.contains(&behind)
        || ["", ".", ",", ";"].contains(&behind);
    one && !told && ends
}

/// Why what is counted in front of a size is not read: `four M10 lockers`, `two 2 x 8 joists`.
fn counted_by_size(reader: &Reader<'_>, i: usize) -> Option<&'static str> {
    let (_, shape, prefix) = reader.number(i)?;
    let dimensions = matches!(reader.tok(i + 1), Some(Tok::Join));
    if dimensions && prefix == Prefix::None && reader.number(i + 2).is_some() {
        return Some("a count of boards or plates: list them as parts");
    }
    let sized = prefix != Prefix::None || matches!(shape, Shape::Fraction | Shape::Mixed);
    let unit = usize::from(is_unit(reader, i + 1));
    // `four 1/4-20 inserts`
    let pitch = matches!(reader.tok(i + 1), Some(Tok::Dash)) && reader.number(i + 2).is_some();
    let behind = i + 1 + if pitch { 2 } else { unit };
    let named = matches!(reader.tok(behind), Some(Tok::Word(_) | Tok::Unknown));
    let tool = (i + 1..i + 4).any(|at| reader.says(at, Sense::Tool));
    // `Set four 10 mm sleeves`; not `Leave two 10 mm gaps`
    let first = reader.text.split_whitespace().next().unwrap_or_default();
    let is = |verb: &&str| first.eq_ignore_ascii_case(verb);
    let puts = DRIVES.iter().chain(SETS).any(is);
    ((sized || puts) && named && !tool && (unit == 0 || puts)).then_some(NO_WORD)
}

/// `one shackle M8`: a count, what no table knows, and its size.
fn named_by_size(reader: &Reader<'_>, i: usize) -> Option<&'static str> {
    let (_, _, prefix) = reader.number(i)?;
    let thing = i.checked_sub(1)?;
    let counted = thing > 0 && counts(reader, thing - 1) && reader.tokens[thing - 1].role.is_none();
    let named = matches!(reader.tok(thing), Some(Tok::Unknown)) || reader.says(thing, Sense::Thing);
    (prefix != Prefix::None && counted && named).then_some(NO_WORD)
}

/// `eight 16d galvanized nails`
fn other_fasteners(reader: &Reader<'_>, masked: &str) -> Option<&'static str> {
    let word = |i: usize| &masked[reader.tokens[i].start..reader.tokens[i].end];
    let named = (0..reader.tokens.len()).any(|i| {
        let is_other = OTHER_FASTENERS
            .iter()
            .any(|known| word(i).eq_ignore_ascii_case(known));
        is_other && (i.saturating_sub(4)..i).any(|at| counts(reader, at))
    });
    named.then_some("nails and the like are not read in sentences: list them")
}

/// What a sentence that names no item asks for without the words of the trade.
pub(super) fn asks_for(text: &str, calls: &[Call]) -> Option<&'static str> {
    let asks = calls.is_empty() && (asks_for_more(text) || ends_in_count(text));
    asks.then_some("so many more, and no word says of what")
}

/// Verbs that fasten with what stands behind `with`.
const FASTENS: &[&str] = &[
    "fasten", "fix", "secure", "attach", "join", "connect", "close",
];

/// `Press twelve hooks into the groove.`: a part that is put in, where no article says that it is there.
pub(super) fn part_put_in(masked: &str, things: &Things, notation: Notation) -> Option<Call> {
    let mut words = masked[..things.at].split_whitespace().rev();
    let mut next = || words.next().unwrap_or_default();
    let is = |known: &[&str], word: &str| known.iter().any(|k| word.eq_ignore_ascii_case(k));
    let last = next();
    let first = masked.split_whitespace().next().unwrap_or_default();
    let puts = is(DRIVES, last)
        || (is(PARTICLES, last) && is(DRIVES, next()))
        || (is(&["with", "using"], last) && is(FASTENS, first));
    let mut read = describe(&things.words, notation).ok().filter(|_| puts)?;
    let mut callout = read.pop().filter(|_| read.is_empty())?;
    let counted = callout.quantity.map(|q| q.pieces) == Some(u64::from(things.number));
    if !counted {
        return None;
    }
    if callout.item.kind == Some(Kind::Part) {
        callout.doubts = vec![Doubt::Said(
            "no hardware known here: taken as a part, by its count".into(),
        )];
    }
    let at = things.at..things.at + things.words.len();
    Some(Call::new(callout, Naming::New, at))
}

/// `The upper panel is held by four.`
fn ends_in_count(text: &str) -> bool {
    const BY: &[&str] = &[
        "by", "with", "use", "fit", "insert", "using", "takes", "gets", "needs", "has",
    ];
    let Some((front, last)) = text
        .trim_end()
        .strip_suffix('.')
        .and_then(|text| text.rsplit_once(' '))
    else {
        return false;
    };
    let lead = front
        .rsplit(' ')
        .next()
        .unwrap_or_default()
        .to_ascii_lowercase();
    number(last).is_some_and(|n| n > 0) && BY.contains(&&*lead)
}

/// `Then six more, 1 in. longer`: of what is not said.
fn asks_for_more(text: &str) -> bool {
    text.match_indices(" more").any(|(at, more)| {
        let ends = text[at + more.len()..].starts_with([',', '.', ';']);
        let before = text[..at].rsplit(' ').next().unwrap_or_default();
        ends && number(before).is_some_and(|n| n > 0)
    })
}
