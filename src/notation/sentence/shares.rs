//! Counts that stand without their noun: `one at hole 3 and one at hole 7`, `screws, 14 in all`.

use std::ops::Range;

use super::{
    Call, Naming,
    phrase::counts,
    sides::SIDES,
    told::told,
    vocabulary::{CORRECTING, CORRECTS, DRIVES, HAVING, MORE, ORDINALS, PLACING, PUTS},
    wording::{ends_with_word, number, singular},
};
use crate::{
    doubt::Doubt,
    notation::{
        callout::{Quantity, Role},
        reader::Reader,
        token::Tok,
        words::{Row, Sense},
    },
};

/// A count that stands without its noun.
struct Share {
    /// Its tokens: one, or those of `two dozen`, `a second`.
    tokens: Range<usize>,
    pieces: u64,
    says: Says,
}

impl Share {
    /// Where it stands in its sentence.
    fn range(&self, reader: &Reader<'_>) -> Range<usize> {
        reader.tokens[self.tokens.start].start..reader.tokens[self.tokens.end - 1].end
    }

    fn left_over(&self, reader: &Reader<'_>) -> Doubt {
        Doubt::LeftOver(reader.text[self.range(reader)].into())
    }
}

/// What a count says of the item before it.
#[derive(PartialEq, Eq)]
enum Says {
    /// So many at a place: `two at the top`.
    Part,
    /// So many more at another place: `and two at the bottom`.
    More,
    /// So many in all: `14 in all`, `six of them`.
    All,
    /// So many instead: `sorry, make that eight`.
    Instead,
}

/// Words for a place by themselves: `one above and one below`.
const BESIDE: &[&str] = &["left", "right", "above", "below", "behind", "beside"];

/// Gives counts that stand without a noun to the one item that a sentence names before them, and tells
/// where those stand that it took, whether one is what each place takes, what they come to where that is said, and whether
/// some are at another place. `multiplied`: where places
/// begin that multiply.
pub(super) fn share(
    reader: &mut Reader<'_>,
    text: &str,
    calls: &mut [Call],
    multiplied: &[usize],
    doubts: &mut Vec<Doubt>,
) -> (Vec<Range<usize>>, bool, Option<u64>, bool) {
    if !(0..reader.tokens.len()).any(|i| may_stand_alone(reader, i)) {
        return (Vec::new(), false, None, false);
    }
    let (mut counts, is_share) = shares_of_places(reader, text, calls, multiplied);
    counts.extend(share_in_front(reader, calls));
    counts.extend(shares_of_one(reader, calls));
    counts.extend(count_of_each(reader, calls));
    counts.extend(counts_in_brackets(reader, calls, doubts));
    let in_all = sum_of_places(reader, text, calls, multiplied);
    counts.extend(in_all.iter().map(|(_, at)| at.clone()));
    let (own, elsewhere) = shares_of_item(reader, text, calls, multiplied, doubts);
    counts.extend(own);
    (counts, is_share, in_all.map(|(sum, _)| sum), elsewhere)
}

/// True for a token that is part of no item and may say how many: all rules below begin at one.
fn may_stand_alone(reader: &Reader<'_>, i: usize) -> bool {
    let token = &reader.tokens[i];
    let is_free = token.role.is_none() || reader.says(i + 1, Sense::Of);
    let counts = |row: &Row| row.count().is_some() || row.per().is_some();
    let says = |word: &str| ORDINALS.contains(&word) || word.eq_ignore_ascii_case("another");
    is_free
        && (reader.whole(i).is_some()
            || reader.word(i).is_some_and(counts)
            || says(&reader.text[token.start..token.end]))
}

/// `on the hinge side fit three, on the latch side two 1/4 x 4 bolts`, `at the top with 2 and at the bottom
/// with 2 bolts`: more of the one item, in front of it.
fn share_in_front(reader: &mut Reader<'_>, calls: &mut [Call]) -> Option<Range<usize>> {
    let masked = reader.text;
    let [call] = calls else { return None };
    let is = |i: usize, known: &[&str]| {
        let word = word(reader, masked, i);
        known.iter().any(|known| word.eq_ignore_ascii_case(known))
    };
    let placed = |i: usize| is(i, &[",", "and"]) && (is(i + 1, PLACING) || is(i + 1, &["the"]));
    let put = |i: usize| is(i - 1, PUTS) || is(i - 1, DRIVES);
    let in_front = |i: &usize| reader.tokens[*i].end <= call.at.start;
    let mut all = (1..reader.tokens.len()).take_while(in_front);
    let i = all.find(|&i| {
        reader.tokens[i].role.is_none() && counts(reader, i) && put(i) && placed(i + 1)
    })?;
    let at = reader.tokens[i].start..reader.tokens[i].end;
    let pieces = u64::from(number(&masked[at.clone()])?);
    call.callout.quantity.as_mut()?.pieces += pieces;
    reader.mark(i..i + 1, Role::Count);
    Some(at)
}

/// `sixteen screws, four to a corner`, `ten rivets, five a side`: shares that the count in front holds.
fn shares_of_one(reader: &mut Reader<'_>, calls: &[Call]) -> Vec<Range<usize>> {
    let masked = reader.text;
    let is = |reader: &Reader<'_>, i: usize, known: &[&str]| {
        let word = word(reader, masked, i);
        known.iter().any(|known| word.eq_ignore_ascii_case(known))
    };
    let mut all = Vec::new();
    for i in 1..reader.tokens.len() {
        let at = reader.tokens[i].start..reader.tokens[i].end;
        let article = i + 1 + usize::from(is(reader, i + 1, PLACING));
        let word_behind = matches!(reader.tok(article + 1), Some(Tok::Unknown | Tok::Word(_)));
        let thing = word_behind && reader.noun(article + 1).is_none();
        let is_share = reader.tokens[i].role.is_none()
            && is(reader, article, &["a", "an"])
            && thing
            && counts(reader, i);
        let of = calls.iter().rfind(|call| call.at.end <= at.start);
        let (Some(of), true) = (of, is_share) else {
            continue;
        };
        let Some(each) = number(&masked[at.clone()]).filter(|&n| n > 0) else {
            continue;
        };
        let noun = singular(word(reader, masked, article + 1)).to_owned();
        let comes_to = |n: u64| n * u64::from(each) == of.pieces();
        let told = told(masked, 0);
        let mut told = told.iter().filter(|told| told.noun == noun);
        if of.pieces() > u64::from(each)
            && of.pieces().is_multiple_of(u64::from(each))
            && told.all(|told| comes_to(u64::from(told.number)))
        {
            reader.mark(i..i + 1, Role::Count);
            all.push(at);
        }
    }
    all
}

/// `nuts and washers (2 of each)`, `(2 each)`, `(2 sets)`: of all items before it whose count is not stated.
fn count_of_each(reader: &mut Reader<'_>, calls: &mut [Call]) -> Option<Range<usize>> {
    let masked = reader.text;
    let is = |i: usize, known: &[&str]| {
        let word = word(reader, masked, i);
        known.iter().any(|known| word.eq_ignore_ascii_case(known))
    };
    let in_brackets =
        |i: usize| is(i - 1, &["("]) && is(i + 1, &["each", "ea", "sets"]) && is(i + 2, &[")"]);
    let of_each = |i: &usize| {
        let each = reader.says(*i + 1, Sense::Of) && is(*i + 2, &["each"]);
        (each || in_brackets(*i)) && (counts(reader, *i) || reader.whole(*i).is_some())
    };
    let i = (1..reader.tokens.len()).find(of_each)?;
    let at = reader.tokens[i].start..reader.tokens[i].end;
    let pieces = u64::from(number(&masked[at.clone()]).filter(|&n| n > 0)?);
    let uncounted = |call: &&mut Call| call.at.end <= at.start && call.callout.quantity.is_none();
    let mut taken = false;
    for call in calls.iter_mut().filter(uncounted) {
        taken = true;
        call.callout.quantity = Some(Quantity {
            pieces,
            packs: None,
        });
    }
    reader.mark(i..i + usize::from(taken), Role::Count);
    taken.then_some(at)
}

/// `M5 nuts on the back (3)`: of the last item before it, where nothing else says how many.
fn counts_in_brackets(
    reader: &mut Reader<'_>,
    calls: &mut [Call],
    doubts: &mut Vec<Doubt>,
) -> Vec<Range<usize>> {
    let mut all = Vec::new();
    for i in 1..reader.tokens.len() {
        let token = &reader.tokens[i];
        let at = token.start..token.end;
        let in_brackets = token.role.is_none()
            && matches!(reader.tok(i - 1), Some(Tok::Open))
            && matches!(reader.tok(i + 1), Some(Tok::Close));
        if !in_brackets {
            continue;
        }
        let Some(pieces) = reader.whole(i).filter(|&n| n > 0) else {
            continue;
        };
        let before = calls.iter_mut().rfind(|call| call.at.end <= at.start);
        let Some(call) =
            before.filter(|call| call.naming == Naming::New && call.callout.quantity.is_none())
        else {
            continue;
        };
        call.callout.quantity = Some(Quantity {
            pieces,
            packs: None,
        });
        doubts.push(Doubt::HowMany(
            format!("\"({pieces})\": taken as the count").into(),
        ));
        reader.mark(i..i + 1, Role::Count);
        all.push(at);
    }
    all
}

/// `each armrest with two screws, so four in all`: what the one item comes to at the places named.
fn sum_of_places(
    reader: &mut Reader<'_>,
    text: &str,
    calls: &[Call],
    multiplied: &[usize],
) -> Option<(u64, Range<usize>)> {
    let [call] = calls else { return None };
    if multiplied.is_empty() || !call.is_asked_for() {
        return None;
    }
    let all = shares(reader, text, calls, multiplied);
    let [share] = &*all else { return None };
    let each = call.pieces();
    let is_sum = each > 0 && share.pieces > each && share.pieces.is_multiple_of(each);
    if share.says != Says::All || !is_sum {
        return None;
    }
    let at = share.range(reader);
    reader.mark(share.tokens.clone(), Role::Count);
    Some((share.pieces, at))
}

/// Those that are the item's count, or more of it; and whether they are more of it, at another place.
fn shares_of_item(
    reader: &mut Reader<'_>,
    text: &str,
    calls: &mut [Call],
    multiplied: &[usize],
    doubts: &mut Vec<Doubt>,
) -> (Vec<Range<usize>>, bool) {
    let mut said = shares(reader, text, calls, multiplied);
    let mut own = counts_of_own(reader, calls, &mut said);
    if let Some(share) = said.iter().find(|share| share.says == Says::Instead) {
        own.extend(instead(reader, calls, share, doubts));
        return (own, false);
    }
    let from = said.first().map_or(0, |share| share.range(reader).start);
    let before = calls.iter().filter(|call| call.at.end <= from).count();
    let places_between = |call: &Call| multiplied.iter().any(|at| (call.at.end..from).contains(at));
    // `with one washer at the head and one at the nut`: of the last alone.
    let is_placed = |call: &Call| has_place(&text[call.at.start..from.max(call.at.start)]);
    // `two bolts and two nuts at the top and one at the bottom` may be of both.
    let joined = |front: &Call, call: &Call| {
        let between = text[front.at.end.min(call.at.start)..call.at.start].trim();
        ["", ",", "and", ", and"].contains(&between)
    };
    let goes_on = said.first().is_some_and(|share| share.says == Says::More);
    let last = calls[..before].last().map_or(from, |call| call.at.end);
    let is_split = !has_place(text.get(last..from).unwrap_or_default());
    if is_split && restate(&said, &calls[..before]) {
        for share in &said {
            reader.mark(share.tokens.clone(), Role::Count);
        }
        own.extend(said.iter().map(|share| share.range(reader)));
        return (own, false);
    }
    let of = match &mut calls[..before] {
        [call] => Some(call),
        [.., front, call] if goes_on && is_placed(call) && !joined(front, call) => Some(call),
        _ => None,
    };
    let Some(call) = of else {
        let stray = said.into_iter();
        // Larger counts are told with all figures that are left over.
        doubts.extend(
            stray
                .filter(|share| share.pieces == 1)
                .map(|share| share.left_over(reader)),
        );
        return (own, false);
    };
    if !call.is_asked_for() {
        return (own, false);
    }
    let shares = said;
    let Some(first) = shares.first() else {
        return (own, false);
    };
    // `a bolt at both ends and one in the middle`
    if places_between(call) {
        doubts.push(first.left_over(reader));
        return (own, false);
    }
    let parts = shares.iter().filter(|share| share.says != Says::All);
    let parts: u64 = parts.map(|share| share.pieces).sum();
    let of_all = shares.iter().skip(1).find(|share| share.says == Says::All);
    // `two at the top and two at the bottom, four in total`
    let sum = match of_all {
        Some(_) => parts,
        None => shares.iter().map(|share| share.pieces).sum(),
    };
    let beside = SIDES.split('|').any(|side| {
        text[call.at.start..from]
            .split(|c: char| !c.is_ascii_alphabetic())
            .any(|word| word == side)
    });
    let stated = call.callout.quantity.map(|quantity| quantity.pieces);
    let placed_before = has_place(&text[call.at.start..from]);
    let words = {
        let last = shares
            .last()
            .map_or(first.tokens.end, |share| share.tokens.end);
        let tokens = &reader.tokens;
        let end = tokens
            .get(last)
            .map_or(tokens[last - 1].end, |next| next.end);
        text[from..end]
            .trim_matches(|c: char| !c.is_alphanumeric())
            .to_owned()
    };
    let (pieces, doubt) = match (stated, &first.says) {
        (Some(stated), Says::More) => (stated + sum, None),
        // `two bolts at the top, four at the bottom`; not `four bolts, two at the top`
        (Some(stated), Says::Part)
            if placed_before
                && (sum > stated || (sum == stated && (shares.len() == 1 || beside))) =>
        {
            (stated + sum, None)
        }
        // `four bolts in the plate, two at the top and two at the bottom`
        (Some(stated), Says::Part) if placed_before && sum == stated => {
            let doubt = format!("\"{words}\": taken as parts of {stated}, and not as more");
            (stated, Some(doubt))
        }
        (Some(stated), _) if stated == sum => (stated, None),
        (None, Says::Part) if shares.len() == 1 => {
            let doubt = format!("\"{words}\": taken as the count");
            (sum, Some(doubt))
        }
        (None, _) => (sum, None),
        _ => {
            if sum == 1 {
                doubts.push(first.left_over(reader));
            }
            return (own, false);
        }
    };
    call.callout.quantity = Some(Quantity {
        pieces,
        packs: None,
    });
    if let Some(all) = of_all.filter(|all| all.pieces != pieces) {
        let doubt = format!(
            "\"{} in all\" is not what the counts beside it come to",
            all.pieces
        );
        doubts.push(Doubt::HowMany(doubt.into()));
    }
    doubts.extend(doubt.map(|doubt| Doubt::HowMany(doubt.into())));
    for share in &shares {
        reader.mark(share.tokens.clone(), Role::Count);
    }
    own.extend(shares.iter().map(|share| share.range(reader)));
    (own, goes_on && stated.is_some())
}

/// `twelve bolts and nuts, six to the ramp and six to the bed`: what the items in front come to, part by part.
fn restate(shares: &[Share], calls: &[Call]) -> bool {
    let [first, rest @ ..] = calls else {
        return false;
    };
    let sum: u64 = shares.iter().map(|share| share.pieces).sum();
    let same = |call: &Call| {
        call.callout
            .quantity
            .is_none_or(|quantity| quantity.pieces == sum)
    };
    shares.len() > 1 && !rest.is_empty() && first.pieces() == sum && rest.iter().all(same)
}

/// True where words name a place: `two bolts at the top`; not `two bolts 1/2 in. x 3 in.`
fn has_place(words: &str) -> bool {
    let mut last = "";
    words.split_whitespace().any(|word| {
        let inch = word == "in" && last.ends_with(|c: char| c.is_ascii_digit());
        last = word;
        ["at", "on", "in", "into", "onto", "from", "above", "below"].contains(&word) && !inch
    })
}

/// `hex bolts, 2 off; lock nuts, 2 off`: of each the count that stands right behind it.
fn counts_of_own(
    reader: &mut Reader<'_>,
    calls: &mut [Call],
    said: &mut Vec<Share>,
) -> Vec<Range<usize>> {
    let mut all = Vec::new();
    if calls.len() < 2 {
        return all;
    }
    said.retain(|share| {
        let at = share.range(reader);
        let of = calls.iter_mut().rfind(|call| call.at.end <= at.start);
        let own = of.filter(|call| {
            let between = reader.text[call.at.end..at.start].trim();
            share.says == Says::All
                && call.callout.quantity.is_none()
                && [",", ":"].contains(&between)
        });
        let Some(call) = own else { return true };
        call.callout.quantity = Some(Quantity {
            pieces: share.pieces,
            packs: None,
        });
        reader.mark(share.tokens.clone(), Role::Count);
        all.push(at);
        false
    });
    all
}

/// `24 screws, six in each of the four sheets`: held against the sum where the places multiply. `screws,
/// six per sheet`: the count, and then it is true that it is what each place takes.
fn shares_of_places(
    reader: &mut Reader<'_>,
    text: &str,
    calls: &mut [Call],
    multiplied: &[usize],
) -> (Vec<Range<usize>>, bool) {
    let masked = reader.text;
    let mut all = Vec::new();
    let mut is_share = false;
    if multiplied.is_empty() {
        return (all, is_share);
    }
    for i in 0..reader.tokens.len().saturating_sub(1) {
        let placed = || {
            let behind = word(reader, masked, i + 1);
            PLACING.iter().any(|at| behind.eq_ignore_ascii_case(at))
        };
        let token = &reader.tokens[i];
        let (at, is_free) = (token.start..token.end, token.role.is_none());
        let multiplies = |at: usize| {
            let token = reader.tokens.get(at);
            token.is_some_and(|token| multiplied.contains(&token.start))
        };
        let of = only_asked_for(calls);
        let uncounted = of
            .is_some_and(|of| calls[of].at.end <= at.start && calls[of].callout.quantity.is_none());
        // `(four per rail)` behind a count
        let per = || {
            let behind = calls.iter().any(|call| call.at.end <= at.start);
            let rest = text[at.end..].trim_start();
            behind && (rest.starts_with("per ") || rest.starts_with("each "))
        };
        let before_places =
            (multiplies(i + 2) && placed()) || (multiplies(i + 1) && (uncounted || per()));
        if !(before_places && is_free && counts(reader, i)) {
            continue;
        }
        let Some(pieces) = number(&masked[at.clone()]).filter(|&n| n > 0) else {
            continue;
        };
        if let (true, Some(of)) = (uncounted, of) {
            let pieces = u64::from(pieces);
            calls[of].callout.quantity = Some(Quantity {
                pieces,
                packs: None,
            });
            is_share = true;
        }
        reader.mark(i..i + 1, Role::Count);
        all.push(at);
    }
    (all, is_share)
}

/// The one item that is asked for, beside such as are there.
fn only_asked_for(calls: &[Call]) -> Option<usize> {
    let mut all = (0..calls.len()).filter(|&i| calls[i].is_asked_for());
    let one = all.next()?;
    all.next().is_none().then_some(one)
}

/// `six bolts, sorry, make that eight`: of the item right before it.
fn instead(
    reader: &mut Reader<'_>,
    calls: &mut [Call],
    share: &Share,
    doubts: &mut Vec<Doubt>,
) -> Vec<Range<usize>> {
    let at = share.range(reader);
    let before = calls.iter_mut().rfind(|call| call.at.end <= at.start);
    let Some(quantity) = before.and_then(|call| call.callout.quantity.as_mut()) else {
        return Vec::new();
    };
    let (is, pieces) = (quantity.pieces, share.pieces);
    quantity.pieces = pieces;
    doubts.push(Doubt::HowMany(
        format!("{is} is taken back: {pieces} are taken instead").into(),
    ));
    reader.mark(share.tokens.clone(), Role::Count);
    vec![at]
}

fn word<'t>(reader: &Reader<'_>, masked: &'t str, i: usize) -> &'t str {
    reader
        .tokens
        .get(i)
        .map_or("", |token| &masked[token.start..token.end])
}

fn shares(reader: &Reader<'_>, text: &str, calls: &[Call], multiplied: &[usize]) -> Vec<Share> {
    let masked = reader.text;
    let is = |i: usize, known: &[&str]| {
        let word = word(reader, masked, i);
        known.iter().any(|known| word.eq_ignore_ascii_case(known))
    };
    let ends = |i: usize| i >= reader.tokens.len() || is(i, &[".", ",", ";", ")"]);
    let all = |i: usize| {
        (is(i, &["in"]) && is(i + 1, &["all", "total", "number"]))
            || is(i, &["altogether"])
            || (is(i, &["of"]) && is(i + 1, &["them", "those", "these"]))
            || (is(i, &["pieces", "piece", "pcs", "off"]) && ends(i + 1))
            || (is(i, &["required", "needed", "wanted"]) && ends(i + 1))
    };
    // `two more of them at the top`: other rules have blanked the word.
    let is_more = |end: usize| text[end..].starts_with(" more ");
    // `and the right rail with three more.`
    let ends_in_more = |end: usize| {
        let behind = text[end..].strip_prefix(" more");
        behind.is_some_and(|behind| behind.is_empty() || behind.starts_with(['.', ',', ';']))
    };
    let of_these = |i: usize| {
        is(i, &["of"])
            && (is(i + 1, &["them", "these"]) || (is(i + 1, &["the"]) && is(i + 2, &["same"])))
    };
    // `, at the stern end three.`
    let ends_clause = |i: usize| {
        // `, post 2 one`: the name is read.
        let named = i > 0 && is(i - 1, &[";"]) && reader.spaced(i - 1);
        let last = i.saturating_sub(usize::from(named));
        let from = (0..last)
            .rev()
            .find(|&at| is(at, &[",", ";", "(", "and", "while", "but"]))
            .map_or(i, |comma| comma + 1);
        let placed = is(from, PLACING) || is(from, &["the"]);
        ends(i + 1)
            && ((named && from == last) || (i.saturating_sub(from) > 1 && placed))
            && counts(reader, i)
    };
    // `; at the rear wall, use six.`
    let ends_next = |i: usize| {
        let comma = |from: usize| (0..from).rev().find(|&at| is(at, &[",", ";"]));
        let verb = (is(i - 1, PUTS) || is(i - 1, DRIVES)) && i > 2 && is(i - 2, &[","]);
        verb && ends(i + 1)
            && counts(reader, i)
            && comma(i - 2).is_some_and(|at| is(at + 1, PLACING))
    };
    // How many a word says, alone or with those in front of it, and whether that is so many more.
    let figure = |i: usize| -> Option<(u64, Range<usize>, bool)> {
        let beside = is(i + 1, BESIDE) && ends(i + 2);
        let placed = is(i + 1, PLACING) || is(i + 1, &["from"]) || beside;
        let alone = placed || ends(i + 1);
        let article = is(i - 1, &["a", "an", "one"]);
        // `a second at the bottom`
        if let Some(row) = ORDINALS.contains(&word(reader, masked, i)).then_some(1) {
            return (is(i - 1, &["a"]) && alone).then(|| (row, i - 1..i + 1, true));
        }
        // `two dozen into the rail`, `a pair at the rear`
        let several = |sense: &Sense| match sense {
            Sense::Per(n @ 2..) => Some(*n),
            _ => None,
        };
        if let Some(n) = reader.sense(i, several) {
            let times = match is(i - 1, &["another"]) || article {
                true => 1,
                false => u64::from(number(word(reader, masked, i - 1))?),
            };
            let from = i - usize::from(!is(i - 1, &["another"]));
            return alone.then(|| (n.saturating_mul(times), from..i + 1, false));
        }
        if is(i, &["another"]) && placed {
            return Some((1, i..i + 1, true));
        }
        let is_number = reader.whole(i).is_some() || reader.word(i)?.count().is_some();
        let n = number(word(reader, masked, i)).filter(|&n| is_number && n > 0)?;
        Some((u64::from(n), i..i + 1, false))
    };
    (1..reader.tokens.len())
        .filter(|&i| {
            let token = &reader.tokens[i];
            token.role.is_none() && calls.iter().any(|call| call.at.end <= token.start)
        })
        .filter_map(|i| {
            let (pieces, tokens, is_another) = figure(i)?;
            let first = tokens.start;
            let token_end = reader.tokens[i].end;
            // `in two rows of eight`
            let rows = (i > 3 && is(i - 1, &["of"]) && counts(reader, i - 3))
                .then(|| figure(i - 3))
                .flatten();
            if let Some((rows, ..)) = rows {
                return Some(Share {
                    tokens,
                    pieces: pieces * rows,
                    says: Says::All,
                });
            }
            // `and (2) at the bottom`
            let close = usize::from(is(i - 1, &["("]) && is(i + 1, &[")"]));
            let counted = first < i || is_another || counts(reader, i);
            let placed = (is(i + 1 + close, PLACING)
                || is(i + 1 + close, &["from"])
                || (is(i + 1 + close, BESIDE)
                    && (ends(i + 2 + close) || reader.says(i + 2 + close, Sense::And))))
                && counted
                && !reader
                    .tokens
                    .get(i + 2)
                    .is_some_and(|next| multiplied.contains(&next.start));
            let takes_back = ends(i + 1)
                && (i.saturating_sub(6)..i).any(|at| {
                    is(at, CORRECTS) && (at + 1..i).all(|between| is(between, CORRECTING))
                });
            // `a further two at the back`: of those, other rules blank some.
            let lead = text[..reader.tokens[first].start].trim_end();
            let another = is_another || MORE.iter().any(|more| ends_with_word(lead, more));
            let more = (first > close && reader.says(first - 1 - close, Sense::And))
                || another
                || is_more(token_end);
            // `the lower hinge gets four, too`
            let comma = usize::from(is(i + 1, &[","]));
            let too = is(i - 1, HAVING) && is(i + 1 + comma, &["too", "also"]);
            let says = match () {
                () if takes_back => Says::Instead,
                () if is_more(token_end) && of_these(i + 1) => Says::More,
                () if ends_in_more(token_end) && is(i - 1, PUTS) => Says::More,
                () if all(i + 1) => Says::All,
                () if (placed && more)
                    || (another && ends(i + 1))
                    || too
                    || ends_clause(i)
                    || ends_next(i) =>
                {
                    Says::More
                }
                () if placed => Says::Part,
                () => return None,
            };
            Some(Share {
                tokens,
                pieces,
                says,
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::notation::{Notation, sentence};

    #[test]
    fn counts_of_several_places() {
        #[track_caller]
        fn case(text: &str, pieces: &[u64]) {
            let said = sentence(text, Notation::default());
            let found: Vec<u64> = said.calls.iter().map(|call| call.pieces()).collect();
            assert_eq!(found, pieces, "{text}");
            assert!(
                said.left_over.is_empty() && said.doubts.is_empty(),
                "{text}: {:?}",
                said.doubts
            );
        }
        case(
            "Insert two M8 x 50 bolts at the top, two at the middle and two at the bottom.",
            &[6],
        );
        case(
            "Insert one M8 x 50 bolt at the top, one at the middle and one at the bottom.",
            &[3],
        );
        case(
            "Insert two M8 x 50 bolts at the top, one in the middle and one at the bottom.",
            &[4],
        );
        case(
            "Insert two M8 x 50 bolts at the top and two at the bottom, four in total.",
            &[4],
        );
        case(
            "Drive 1/4 x 3 screws into the rail: four from the front and three from the back.",
            &[7],
        );
        case("Fit six M8 x 50 bolts: three left and three right.", &[6]);
        case(
            "Attach the ramp with twelve 3/8 x 1 bolts and nuts, six to the ramp and six to the bed.",
            &[12, 12],
        );
    }
}
