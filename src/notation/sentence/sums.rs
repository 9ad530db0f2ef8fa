//! What counts come to at all the places that a sentence names, where it says so: `24 screws, six in each of the
//! four sheets`, `three screws per board, 33 screws in all`.

use std::sync::LazyLock;

use regex::Regex;

use super::{
    Call, Sentence,
    multiplier::Multiplier,
    rule::Rule,
    told::Told,
    wording::{NUMBER, ends_with_word, number, singular},
    words::Words,
};
use crate::{doubt::Doubt, words::pattern};

/// Words between so many and the places that each have so many: `four to each panel`.
const OF_PLACES: &[&str] = &[
    "in", "on", "onto", "at", "to", "for", "through", "into", "under", "over", "along",
];

/// So many for each place, right before the places.
static SHARE: LazyLock<Regex> = LazyLock::new(|| {
    let places = OF_PLACES.join("|");
    pattern(&format!(
        r"(?ix) \b (?P<n>{NUMBER}|one) \s+ (?:{places}) \s* $"
    ))
});

/// Words by which a count is said to be all there is: `12 in all`.
pub(super) static IN_ALL: Rule = Rule::new("all|total|altogether", "", || {
    pattern(&format!(
        r"(?i)(?:\b(?P<n>{NUMBER})\s+)?\b(?P<all>in[\s-]+all|(?:in[\s-]+)?total|altogether)\b"
    ))
});

/// How many places those of several numbers make that are known.
pub(super) fn known_places<'a>(all: impl IntoIterator<Item = &'a Multiplier>) -> u32 {
    let times = all.into_iter().filter_map(|m| m.times);
    times.fold(1, u32::saturating_mul)
}

/// How many places several numbers of them make, where all are known.
fn product(all: &[Multiplier]) -> Option<u64> {
    all.iter()
        .try_fold(1u64, |n, m| n.checked_mul(u64::from(m.times?)))
}

/// `each armrest with two screws, so four in all`: the sum tells how many places there are.
pub(super) fn places_by_sum(said: &Sentence, all: &mut [Multiplier]) {
    let (Some(sum), [call]) = (said.in_all, &*said.calls) else {
        return;
    };
    let each = call.pieces().saturating_mul(u64::from(known_places(&*all)));
    let states = |m: &Multiplier| m.words.split(' ').any(|word| number(word).is_some());
    let mut open = all.iter_mut().filter(|m| m.times.is_none());
    if let (Some(one), None) = (open.next(), open.next())
        && one.taken.is_none()
        && !states(one)
        && sum.is_multiple_of(each.max(1))
    {
        one.times = u32::try_from(sum / each.max(1)).ok();
    }
}

/// True where the sentence states what the pieces at all places come to: `so four altogether`.
pub(super) fn states_sum(words: &Words, said: &Sentence, all: &[Multiplier], text: &str) -> bool {
    let stated = IN_ALL.captures(words, text);
    let stated = stated.and_then(|found| number(found.name("n")?.as_str()));
    let places = u64::from(known_places(all));
    let comes_to = |call: &Call| Some(call.pieces() * places) == stated.map(u64::from);
    said.calls.iter().any(comes_to)
}

/// `three screws per board, eleven boards, 33 screws #8 x 2 in all`: pieces that are named again with the
/// count that the places come to. True where that is so; then all counts are of all places.
pub(super) fn restates(said: &mut Sentence, all: &[Multiplier]) -> bool {
    let calls = &mut said.calls;
    let Some(places) = product(all).filter(|&n| n > 1) else {
        return false;
    };
    let again = |first: &Call, then: &Call| {
        let (a, b) = (&first.callout.item, &then.callout.item);
        let sizes = a.diameter.is_none() || b.diameter.is_none() || a == b;
        let new = first.is_asked_for() && then.is_asked_for();
        let comes_to = first.pieces().checked_mul(places);
        a.kind == b.kind && sizes && new && first.pieces() > 0 && comes_to == Some(then.pieces())
    };
    let pair = (1..calls.len()).find_map(|then| {
        let first = (0..then).find(|&first| again(&calls[first], &calls[then]))?;
        Some((first, then))
    });
    let Some((first, then)) = pair else {
        return false;
    };
    let mut restated = calls.remove(then);
    for call in &mut calls[..then] {
        if let Some(quantity) = &mut call.callout.quantity {
            quantity.pieces = quantity.pieces.saturating_mul(places);
        }
    }
    if calls[first].callout.item.diameter.is_none() {
        std::mem::swap(&mut calls[first], &mut restated);
    }
    said.counts.push(restated.at);
    true
}

/// `two bolts to each post (twelve in total)`: of the pieces, where they may come to it; else of the posts.
pub(super) fn total_of_pieces(
    told: &Told,
    said: &mut Sentence,
    all: &mut [Multiplier],
    text: &str,
) -> bool {
    let words = &told.words;
    let ends = [" in all", " total", " altogether"];
    let in_all =
        |words: &str| ends.iter().any(|all| words.ends_with(all)) || words.starts_with("total ");
    let bare = words
        .rsplit('(')
        .next()
        .is_some_and(|words| words.split(' ').count() < 4 && in_all(words));
    if !(words.contains('(') && bare) {
        return false;
    }
    let sum = u64::from(told.number);
    let each: Vec<u64> = said
        .calls
        .iter()
        .filter(|call| call.is_asked_for())
        .map(Call::pieces)
        .collect();
    let may_be = |&each: &u64| each > 1 && sum > each && sum.is_multiple_of(each);
    if !each.iter().any(may_be) {
        return false;
    }
    let words = text[told.at..told.at + words.len()]
        .rsplit('(')
        .next()
        .unwrap_or_default();
    let noun = &told.noun;
    let [each] = &*each else {
        said.doubts.push(Doubt::HowMany(
            format!("\"{words}\" may be of the pieces: taken as of each {noun}").into(),
        ));
        return false;
    };
    let asked = all
        .iter_mut()
        .find(|m| m.times.is_none() && singular(&m.noun) == *noun);
    let (Some(asked), Ok(times)) = (asked, u32::try_from(sum / each)) else {
        return false;
    };
    asked.times = Some(times);
    said.doubts.push(Doubt::OrElse {
        pieces: each.saturating_mul(sum),
        said: format!(
            "\"{words}\": taken as of the pieces; as of each {noun} it is {}",
            each.saturating_mul(sum)
        )
        .into(),
    });
    true
}

/// `eight M8 x 55 bolts for the slats, two bolts per slat`: a share that the count in front holds.
pub(super) fn share_named_again(said: &mut Sentence, all: &mut Vec<Multiplier>) {
    let ([front @ .., then], [place]) = (&*said.calls, &**all) else {
        return;
    };
    let each = then.pieces();
    let comes_to =
        |first: &Call, times: u32| first.pieces() == each.saturating_mul(u64::from(times));
    let holds = |first: &Call| {
        let (a, b) = (&first.callout.item, &then.callout.item);
        let again = a.kind == b.kind && b.diameter.is_none() && a.diameter.is_some();
        let whole = each > 0 && first.pieces() > each && first.pieces().is_multiple_of(each);
        again && whole && place.times.is_none_or(|times| comes_to(first, times))
    };
    if place.at >= then.at.end && front.iter().any(holds) {
        said.counts.push(then.at.clone());
        said.calls.pop();
        all.clear();
    }
}

/// `a 6.3 x 80 screw every second wave, 14 screws altogether`: pieces that are named again with their sum.
pub(super) fn tells_in_all(said: &mut Sentence, text: &str) -> bool {
    let [first, then] = &mut *said.calls else {
        return false;
    };
    let (a, b) = (&first.callout.item, &then.callout.item);
    let behind = &text[then.at.end..];
    let in_all = [" in all", " altogether", " in total"];
    let again = a.kind == b.kind && b.diameter.is_none() && a.diameter.is_some();
    let sum = then.pieces();
    let is_sum = first.pieces() > 0 && sum > first.pieces() && sum.is_multiple_of(first.pieces());
    if !(again && is_sum && in_all.iter().any(|all| behind.starts_with(all))) {
        return false;
    }
    first.callout.quantity = then.callout.quantity;
    said.counts.push(then.at.clone());
    said.calls.pop();
    true
}

/// `the three panels, four to each panel`: the share has the number of those places.
pub(super) fn share_of_the_same(all: &mut Vec<Multiplier>, calls: &[Call], text: &str) {
    if all.len() < 2 {
        return;
    }
    let is_share = |m: &Multiplier| m.times.is_none() && share(m, calls, text).is_some();
    let Some(at) = all.iter().position(is_share) else {
        return;
    };
    let noun = singular(&all[at].noun).to_owned();
    let same = |m: &Multiplier| m.times.is_some() && singular(&m.noun) == noun;
    if let Some(named) = all.iter().position(same) {
        all[at].times = all[named].times;
        all[at].taken = all[named].taken.take();
        all.remove(named);
    }
}

/// `24 screws, six in each of the four sheets`: the count is of all, so that these places multiply
/// nothing; where it is not what they come to, that is a doubt.
pub(super) fn settle_share(said: &mut Sentence, all: &mut Vec<Multiplier>, text: &str) {
    let found = (0..all.len()).find_map(|at| Some((at, share(&all[at], &said.calls, text)?)));
    let Some((at, (words, each))) = found else {
        return;
    };
    // Of the item right in front.
    let from = words.as_ptr() as usize - text.as_ptr() as usize;
    let new = |call: &&Call| call.is_asked_for();
    let mut new = said.calls.iter().filter(new);
    let Some(of) = new.clone().rfind(|call| call.at.end <= from).or(new.next()) else {
        return;
    };
    let pieces = of.callout.quantity.map(|q| q.pieces);
    // `bolts, one in each of the nine holes`: the share is all that is stated.
    if said.shares && pieces == Some(each) {
        return;
    }
    // `two into each joist under each plank`
    let sum = product(&all[at..])
        .and_then(|times| each.checked_mul(times))
        .filter(|&sum| sum > 0);
    // `every bolt with two nuts, one on either side`
    let comes_to =
        |pieces: u64, sum: u64| pieces == sum || (said.on_bolts && pieces.is_multiple_of(sum));
    // `two bolts per leg and one per brace`: more of them.
    let is_more = all[..at].iter().any(|m| m.at > of.at.end && m.at < from);
    let both = pieces.zip(sum).filter(|_| !is_more);
    // `four bolts, one at each corner`: shares of those in front.
    let last = all[at + 1..].iter().any(|m| m.times.is_some());
    let divides = |pieces: u64| {
        sum.is_none() && !last && !is_more && pieces > each && pieces.is_multiple_of(each)
    };
    if !both.is_some_and(|(pieces, sum)| comes_to(pieces, sum)) && !pieces.is_some_and(divides) {
        let places = all[at].words.trim();
        let open = match sum {
            _ if is_more => "may be more of them: not counted",
            Some(_) => "is not what the count beside it comes to",
            None => "how many that makes is not stated; taken as in all",
        };
        said.doubts.push(Doubt::HowMany(
            format!("\"{words} {places}\" {open}").into(),
        ));
    }
    all.truncate(at);
}

/// So many for each of the places, in front of them: `four to each panel`, `(four per rail)`.
fn share<'t>(places: &Multiplier, calls: &[Call], text: &'t str) -> Option<(&'t str, u64)> {
    let last = last_words(&text[..places.at], 4);
    // `4 screws #8 x 2 per corner`, `screws 5 x 50 for each board`
    let is_apart = |word: &str| {
        let at = word.as_ptr() as usize - text.as_ptr() as usize;
        !calls.iter().any(|call| call.at.contains(&at))
    };
    let is_placed = || {
        OF_PLACES
            .iter()
            .any(|at| ends_with_word(last.trim_end(), at))
    };
    if let Some(found) = is_placed().then(|| SHARE.captures(last)).flatten() {
        let words = found.get(0).map_or("", |found| found.as_str()).trim();
        let each = u64::from(number(&found["n"])?);
        return is_apart(words).then_some((words, each));
    }
    // `(four per rail)`, `three each side`
    let word = last.trim_end().rsplit([' ', '(']).next()?;
    let each =
        number(word).filter(|_| ["per", "each"].iter().any(|w| places.words.starts_with(w)))?;
    is_apart(word).then_some((word, u64::from(each)))
}

/// The last words of a text, as many as a number and a word of place may be.
fn last_words(text: &str, most: usize) -> &str {
    let mut gaps = text.trim_end().rmatch_indices(' ');
    gaps.nth(most - 1)
        .map_or(text, |(at, gap)| &text[at + gap.len()..])
}
