//! Callouts of a sentence: nouns of the trade with the size, the grade and the count around them.

use std::ops::Range;

use super::{
    Sentence,
    call::{Call, Naming, is_sized},
    elided::{Places, elided},
    left_over::{asks_for, left_over, part_put_in},
    phrase::{counts, describes, phrase_end, phrase_start},
    shares::share,
    things::{Things, things},
    vocabulary::{
        COMPOUNDS, DETERMINERS, DRIVES, IS_THERE, JOINS, PARTICLES, PLACED, PUTS, REFERRING,
    },
    wording::number,
};
use crate::notation::{
    callout::{Callout, Quantity, Role, SAID_TWICE},
    reader::Reader,
    token::Tok,
    unsettled::likeliest_of,
    words::{Sense, look_up},
};
use crate::{
    doubt::Doubt,
    hardware::{Item, Kind, Style},
};

/// Reads the items of a sentence into it; what else it counts comes back. `reader`: of what rules have
/// not read of the text.
pub(super) fn calls(
    mut reader: Reader<'_>,
    text: &str,
    places: Places<'_>,
    said: &mut Sentence,
) -> Vec<Things> {
    let masked = reader.text;
    let mut calls: Vec<Call> = Vec::new();
    // Counts that stand apart from their item's phrase.
    let mut apart = Vec::new();
    let doubts = &mut said.doubts;
    let mut from = 0;
    let mut i = 0;
    while i < reader.tokens.len() {
        if !(reader.noun(i).is_some() || names_alone(&reader, i, from))
            || is_no_item(&reader, i, text)
        {
            i += 1;
            continue;
        }
        let start = phrase_start(&reader, i, from);
        let end = phrase_end(&reader, i, masked);
        let at = reader.tokens[start].start..reader.tokens[end - 1].end;
        let before = start
            .checked_sub(1)
            .map(|t| &masked[reader.tokens[t].start..reader.tokens[t].end])
            .unwrap_or_default();
        let is = |known: &[&str]| known.iter().any(|known| before.eq_ignore_ascii_case(known));
        // `the same bolts`: more of them.
        let known = is(IS_THERE);
        let article = is(&["a", "an", "another"]);
        // `three of the four bolts`, `one of four bolts`
        let gap = if known { 2 } else { 1 };
        let mut some_of = count_of(&reader, start, gap);
        let mut all = likeliest_of(reader.excerpt(start..end));
        // `two nylocs`, without a size
        if let ([callout], true) = (&mut *all, is_lock_nut(&reader, i) && end - start < 3)
            && callout.item.kind != Some(Kind::Nut)
        {
            callout.item = Item {
                kind: Some(Kind::Nut),
                style: Some(Style::NylonInsert),
                ..Item::default()
            };
            callout.doubts = vec![Doubt::NoSize];
        }
        if !known {
            let more = |some: &u64| matches!(&*all, [one] if one.quantity.is_some_and(|of| of.pieces > *some));
            some_of = some_of.filter(more);
        }
        if some_of.is_some() {
            let at = start - gap - 1;
            reader.mark(at..at + 1, Role::Count);
            let number = &reader.tokens[at];
            apart.push(number.start..number.end);
        }
        if all.is_empty() {
            doubts.push(Doubt::LeftOver(masked[at.clone()].into()));
        }
        let packs = packs_of(&reader, masked, start).filter(|_| all.len() == 1);
        if let Some((at, _)) = packs {
            reader.mark(at..at + 1, Role::Count);
            let number = &reader.tokens[at];
            apart.push(number.start..number.end);
        }
        for mut callout in all {
            if let (Some((_, packs)), Some(quantity)) = (packs, &mut callout.quantity) {
                quantity.pieces = quantity.pieces.saturating_mul(packs);
                quantity.packs = reader.says(start - 2, Sense::Pack).then_some(packs);
            }
            // `three of the four bolts`: those are what is there.
            let there = callout.quantity.map_or(u64::MAX, |there| there.pieces);
            if let Some(pieces) = some_of.filter(|&some| some <= there) {
                callout.quantity = Some(Quantity {
                    pieces,
                    packs: None,
                });
            }
            // `four or five bolts`
            if is(&["or", "to"]) && start > 1 && counts(&reader, start - 2) {
                let from = reader.tokens[start - 2].start;
                let words = &masked[from..reader.tokens[start].end];
                callout.quantity = None;
                callout.doubts.push(Doubt::Said(
                    format!("\"{words}\" is no one count: none is taken").into(),
                ));
            }
            if callout.quantity.is_none() && article {
                callout.quantity = Some(Quantity {
                    pieces: 1,
                    packs: None,
                });
            }
            let naming = match () {
                () if some_of.is_some() => Naming::Some,
                () if shares_article(calls.last(), &callout, masked, &at) => Naming::Known,
                // `the four bolts and their nuts`
                () if is(&["their", "its"]) && goes_on(&calls, &callout) => {
                    calls[calls.len() - 1].naming
                }
                () if !known => Naming::New,
                () => {
                    let behind = masked[at.clone()].trim_end().ends_with(')');
                    match naming(&masked[..at.start], &callout, behind) {
                        Naming::Driven if refers_back(&text[at.end..]) => Naming::Put,
                        naming => naming,
                    }
                }
            };
            calls.push(Call::new(callout, naming, at.clone()));
        }
        reader.mark(start..end, Role::Note);
        from = end;
        i = end;
    }
    elided(&mut reader, text, &mut calls, places);
    // `4 Muttern / 4 nuts`
    let again = |pair: &[Call]| {
        let between = &masked[pair[0].at.end.min(pair[1].at.start)..pair[1].at.start];
        pair[0].callout.says_again(&pair[1].callout) && between.contains('/')
    };
    if calls.windows(2).any(again) {
        doubts.push(Doubt::Said(SAID_TWICE.into()));
    }
    let shares = share(&mut reader, text, &mut calls, places.multiplied, doubts);
    let elsewhere;
    (said.counts, said.shares, said.in_all, elsewhere) = shares;
    said.place = said.place.take().filter(|_| !elsewhere);
    said.counts.append(&mut apart);
    (said.measures, said.left_over, said.unread) = left_over(&reader, masked, &calls, doubts);
    let mut things = things(&reader, text, &calls);
    if calls.is_empty() {
        things.retain(|one| {
            let part = part_put_in(masked, one, reader.notation);
            let is_thing = part.is_none();
            calls.extend(part);
            is_thing
        });
    }
    said.unread = said.unread.or_else(|| asks_for(text, &calls));
    said.calls = calls;
    things
}

/// `the bolts, nuts and washers`: all there.
fn shares_article(last: Option<&Call>, callout: &Callout, masked: &str, at: &Range<usize>) -> bool {
    let vague = |callout: &Callout| callout.quantity.is_none() && callout.item.diameter.is_none();
    last.is_some_and(|last| {
        // Items of one phrase stand at one place.
        let between = masked.get(last.at.end..at.start).unwrap_or_default();
        let between = between.trim();
        // `under the nuts and flat washers under the heads`: each has a place of its own.
        let placed = masked[at.end..].trim_start().starts_with("under ");
        !placed
            && last.naming == Naming::Known
            && vague(&last.callout)
            && vague(callout)
            && [",", "and", ", and"].contains(&between)
    })
}

/// True for a nut, washer or pin of the counted bolts in front, whose own count is not stated.
fn goes_on(calls: &[Call], callout: &Callout) -> bool {
    let small = callout.item.kind.is_some_and(Kind::is_small);
    let bolts = calls
        .last()
        .is_some_and(|last| last.is_long() && last.pieces() > 0);
    small && bolts && callout.quantity.is_none()
}

/// The short name of a nut with a nylon insert: `washers and nylocs`.
fn is_lock_nut(reader: &Reader<'_>, i: usize) -> bool {
    let token = &reader.tokens[i];
    let word = &reader.text[token.start..token.end];
    let known = ["nyloc", "nylocs", "nylock", "nylocks"];
    known.iter().any(|known| word.eq_ignore_ascii_case(known))
}

/// The short name of a fastener, which is no noun in a list: `four 3/8 x 3 lags`.
pub(super) fn names_alone(reader: &Reader<'_>, i: usize, from: usize) -> bool {
    let token = &reader.tokens[i];
    let word = &reader.text[token.start..token.end];
    // Nearly every word is none of these.
    if !word.starts_with(['l', 'L', 'n', 'N']) {
        return false;
    }
    let is = |known: &[&str]| known.iter().any(|known| word.eq_ignore_ascii_case(known));
    let ends = || !(reader.noun(i + 1).is_some() || describes(reader, i + 1));
    if is_lock_nut(reader, i) && ends() {
        return true;
    }
    let named = is(&["lags"]);
    let counted = || (phrase_start(reader, i, from)..i).any(|at| counts(reader, at));
    named && ends() && counted()
}

/// True where what stands behind an item tells that it was there before: `the bolts from step 2`; not
/// `into the left post`, `before hanging it`.
fn refers_back(rest: &str) -> bool {
    let words = rest.split(|c: char| !c.is_ascii_alphabetic());
    let mut words = words.filter(|word| !word.is_empty()).peekable();
    while let Some(word) = words.next() {
        let next = words.peek().copied().unwrap_or_default();
        let is_other = match word {
            "left" => !["", "over", "from", "in"].contains(&next),
            "before" => next.ends_with("ing"),
            _ => false,
        };
        let refers = |known: &&str| word.eq_ignore_ascii_case(known);
        if !is_other && REFERRING.iter().any(refers) {
            return true;
        }
    }
    false
}

/// How an item is brought up that stands behind `the`, or a word like it.
/// `behind`: its count stands in brackets behind it, as in `the nuts M8 (6 pieces)`.
pub(super) fn naming(before: &str, callout: &Callout, behind: bool) -> Naming {
    let mut words = before
        .split_whitespace()
        .rev()
        .map(|word| {
            word.trim_matches(|c: char| !c.is_alphanumeric())
                .to_ascii_lowercase()
        })
        .filter(|word| !word.is_empty() && !IS_THERE.contains(&&**word));
    let lead = words.next().unwrap_or_default();
    // `drive in the four screws`
    let verb = match PARTICLES.contains(&&*lead) || lead == "home" {
        true => words.next().unwrap_or_default(),
        false => lead.clone(),
    };
    let (counted, sized) = (callout.quantity.is_some(), callout.item.diameter.is_some());
    // `while a third inserts the four bolts`
    let verb = verb.strip_suffix('s').unwrap_or(&verb);
    let puts = || DRIVES.contains(&verb) || PUTS.contains(&verb) || verb == "take";
    match () {
        () if counted && sized && behind => Naming::Driven,
        () if is_sized(callout) && puts() => Naming::Driven,
        // `put in the bolts`; not `the strap in the bolts`
        () if PARTICLES.contains(&&*lead) && PUTS.contains(&verb) => Naming::Put,
        () if PLACED.contains(&&*lead) => Naming::Known,
        () if counted || sized || PUTS.contains(&&*lead) => Naming::Put,
        () => Naming::Known,
    }
}

/// Where the number of packs stands, of `two packs of ten bolts`, or of the rows of such, whose item begins at a
/// token; and how many.
fn packs_of(reader: &Reader<'_>, masked: &str, start: usize) -> Option<(usize, u64)> {
    let last = start.checked_sub(3)?;
    // `(3) pk of 12`
    let at = match reader.tok(last) {
        Some(Tok::Close) => last.checked_sub(1)?,
        _ => last,
    };
    let rows = [
        "row", "rows", "groups", "clusters", "levels", "layers", "lines", "tiers", "columns",
    ];
    let word = reader
        .tokens
        .get(last + 1)
        .map_or("", |token| &masked[token.start..token.end]);
    let in_rows = rows.iter().any(|row| word.eq_ignore_ascii_case(row));
    let of_packs =
        (reader.says(last + 1, Sense::Pack) || in_rows) && reader.says(last + 2, Sense::Of);
    if !(of_packs && counts(reader, at) && counts(reader, start)) {
        return None;
    }
    let token = &reader.tokens[at];
    Some((at, u64::from(number(&masked[token.start..token.end])?)))
}

/// The count of `four of the bolts`, `one of four bolts`, whose item begins at a token, so far behind `of`.
pub(super) fn count_of(reader: &Reader<'_>, start: usize, gap: usize) -> Option<u64> {
    let at = start.checked_sub(gap + 1)?;
    if !reader.says(at + 1, Sense::Of) {
        return None;
    }
    let in_words = |sense: &Sense| match sense {
        Sense::Count(n) => Some(*n),
        _ => None,
    };
    reader.whole(at).or_else(|| reader.sense(at, in_words))
}

/// `Tie rod: one M12 x 1000 threaded rod`: words in front of a colon name what the items behind are for.
fn labels(text: &str, start: usize, end: usize) -> bool {
    let label = &text[..start];
    let plain =
        |word: &str| number(word).is_none() && word.bytes().all(|b| b.is_ascii_alphabetic());
    !label.is_empty() && text[end..].starts_with(": ") && label.split_whitespace().all(plain)
}

/// True for a noun of the trade that is a verb here, or a part of another name.
pub(super) fn is_no_item(reader: &Reader<'_>, i: usize, text: &str) -> bool {
    let token = &reader.tokens[i];
    let word = &text[token.start..token.end];
    if labels(text, token.start, token.end) {
        return true;
    }
    if word.ends_with(['s', 'S']) {
        return false;
    }
    let next = text[token.end..]
        .split_whitespace()
        .next()
        .unwrap_or_default();
    if text[token.end..].starts_with([',', '.', ';', ')']) {
        return false;
    }
    let next = next
        .trim_end_matches([',', '.', ';', ')'])
        .to_ascii_lowercase();
    let behind = i.checked_sub(1).is_some_and(|before| {
        // `Through-bolt the boards`
        (describes(reader, before) && !matches!(reader.tok(before), Some(Tok::Dash)))
            || reader
                .sense(before, |s| matches!(s, Sense::Noise).then_some(()))
                .is_some()
    });
    let opens = i == 0
        || matches!(
            reader.tok(i - 1),
            Some(Tok::Comma | Tok::Semicolon | Tok::Dot)
        );
    // `Bolt sill S1 to the footing`
    let goes_on = text[token.end..]
        .trim_start()
        .starts_with(|c: char| c.is_ascii_lowercase());
    let thing_behind = match reader.tok(i + 1) {
        Some(Tok::Unknown | Tok::Semicolon) => goes_on,
        _ => reader.says(i + 1, Sense::Thing),
    };
    let acts = || JOINS.iter().any(|word| text[token.end..].contains(word));
    // `Screw twelve brackets to the wall`
    let counts_next = || next.bytes().all(|b| b.is_ascii_alphabetic()) && number(&next).is_some();
    // `a washer and nut each`, `a washer and nut each end`: one item more.
    let goes_with = i > 1 && reader.says(i - 1, Sense::And) && reader.noun(i - 2).is_some();
    // `a washer and a nut each`: no verb stands behind an article.
    let before = i.checked_sub(1).map_or("", |at| {
        &text[reader.tokens[at].start..reader.tokens[at].end]
    });
    let counted = ["a", "an", "one"]
        .iter()
        .any(|one| before.eq_ignore_ascii_case(one));
    let shared = ["each", "both", "every"].contains(&&*next) && (goes_with || counted);
    // `and (1) washer each.`
    let ends = text[token.end..].trim_start().strip_prefix("each");
    let shared = shared
        || ends.is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', ',', ';', ')']));
    // `put a washer on each side and screw on a nut`
    let drives = i > 1
        && reader.says(i - 1, Sense::And)
        && reader.noun(i - 2).is_none()
        && PARTICLES.contains(&&*next);
    let is_verb = !behind
        && !shared
        && (DETERMINERS.contains(&&*next)
            || drives
            || (opens && (PARTICLES.contains(&&*next) || counts_next()))
            || (opens && thing_behind && acts()));
    let names_thing =
        || look_up(&next).is_some_and(|row| row.senses.iter().any(|s| matches!(s, Sense::Thing)));
    let is_compound = COMPOUNDS.contains(&next.trim_end_matches('s')) || names_thing();
    is_verb || is_compound
}
