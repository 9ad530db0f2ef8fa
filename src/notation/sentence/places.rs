//! How often a sentence's items are needed, from the places that it names.

use std::sync::LazyLock;

use regex::Regex;

use super::{
    Call, Naming, Sentence,
    multiplier::Multiplier,
    rule::Rule,
    wording::{NUMBER, ends_with_word, number, singular},
    words::Words,
};
use crate::{doubt::Doubt, words::pattern};

/// So many for each place, right before the places.
pub(super) static SHARE: LazyLock<Regex> = LazyLock::new(|| {
    pattern(&format!(
        r"(?ix) \b (?P<n>{NUMBER}|one) \s+ (?:in|on|onto|at|to|for|through|into|under|over|along) \s* $"
    ))
});

/// Words by which a count is said to be all there is: `12 in all`.
static IN_ALL: Rule = Rule::new("all|total|altogether", "", || {
    pattern(&format!(
        r"(?i)(?:\b(?P<n>{NUMBER})\s+)?\b(?P<all>in[\s-]+all|(?:in[\s-]+)?total|altogether)\b"
    ))
});

/// Multiplies the calls by the places that the sentence names.
pub(super) fn multiply(
    words: &Words,
    said: &mut Sentence,
    mut all: Vec<Multiplier>,
    text: &str,
    bare_each: Option<usize>,
) {
    let each_left = each_of_the_first(&mut said.calls, text, bare_each, all.is_empty());
    let Some(first) = said.calls.iter().map(|call| call.at.start).min() else {
        return;
    };
    let bare = bare_each.is_some();
    let counted: Vec<String> = all
        .iter()
        .filter(|m| m.times.is_some())
        .map(|m| singular(&m.noun).to_owned())
        .collect();
    // `both plates, three screws per plate`: for each.
    let shared: Vec<String> = all
        .iter()
        .filter(|m| m.times.is_none())
        .map(|m| singular(&m.noun).to_owned())
        .collect();
    for found in &mut all {
        found.open &= !shared.iter().any(|noun| noun == singular(&found.noun));
    }
    all.retain(|m| m.times.is_some() || !counted.iter().any(|noun| noun == singular(&m.noun)));
    all.sort_by_key(|m| m.at);
    settle_share(said, &mut all, text);
    let mut places = 1u32;
    let mut before: Option<usize> = None;
    for found in &all {
        let Some(times) = found.times else {
            said.doubts
                .push(Doubt::Multiplier(found.words.as_str().into()));
            continue;
        };
        places = places.saturating_mul(times);
        if let Some(taken) = &found.taken {
            said.doubts.push(Doubt::Said(taken.as_str().into()));
        }
        if found.open && !bare {
            said.doubts.push(Doubt::Said(
                format!(
                    "\"{}\": the pieces may be for each or in all; taken as for each",
                    found.words
                )
                .into(),
            ));
        }
        // `each end of each beam`, `every plank at both ends`
        let before_it = text[..found.at].trim_end();
        let of_ends = ["end", "side", "edge", "face"].contains(&singular(&found.noun));
        let linked = before_it.ends_with(" of")
            || (of_ends && [" at", " on"].iter().any(|at| before_it.ends_with(at)));
        if before.is_some() && !linked {
            said.doubts.push(Doubt::Said(
                "more than one number of places in the sentence: all were multiplied".into(),
            ));
        }
        before = Some(found.at);
        // A place between two items may be meant for the first alone.
        let last = said.calls.iter().map(|call| call.at.start).max();
        if found.at > first && last.is_some_and(|last| last > found.at) {
            said.doubts.push(Doubt::Said(
                format!(
                    "\"{}\" stands between items: taken for all of them",
                    found.words
                )
                .into(),
            ));
        }
    }
    said.places = places;
    if places > 1
        && let Some(all) = IN_ALL.captures(words, text)
    {
        // `two on each side, so four altogether`
        let stated = all.name("n").and_then(|n| number(n.as_str()));
        let comes_to = |call: &Call| call.pieces().checked_mul(u64::from(places));
        let new = said.calls.iter().filter(|call| call.naming == Naming::New);
        let counts_places = stated == Some(places);
        if !counts_places
            && (stated.is_none() || !new.map(comes_to).any(|sum| sum == stated.map(u64::from)))
        {
            let all = &all["all"];
            said.doubts.push(Doubt::Said(
                format!("\"{all}\": the count may be for all the places; taken as for each").into(),
            ));
        }
    }
    if each_left && counted.is_empty() {
        said.doubts.push(Doubt::Multiplier("each".into()));
    }
}

/// The last words of a text, as many as a number and a word of place may be.
fn last_words(text: &str, most: usize) -> &str {
    let mut gaps = text.trim_end().rmatch_indices(' ');
    gaps.nth(most - 1)
        .map_or(text, |(at, gap)| &text[at + gap.len()..])
}

/// `24 screws, six in each of the four sheets`: the count is of all, so that these places multiply
/// nothing; where it is not what they come to, that is a doubt.
fn settle_share(said: &mut Sentence, all: &mut Vec<Multiplier>, text: &str) {
    let share = |m: &Multiplier| SHARE.captures(last_words(&text[..m.at], 4));
    let Some((at, share)) = (0..all.len()).find_map(|at| Some((at, share(&all[at])?))) else {
        return;
    };
    let each = u64::from(number(&share["n"]).unwrap_or(0));
    let counts = said.calls.iter().filter(|call| call.naming == Naming::New);
    let mut counts = counts.map(|call| call.callout.quantity.map(|q| q.pieces));
    // `bolts, one in each of the nine holes`: the share is all that is stated.
    if said.shares && counts.clone().all(|pieces| pieces == Some(each)) {
        return;
    }
    // `two into each joist under each plank`
    let times: Option<u64> = all[at..].iter().map(|m| m.times.map(u64::from)).product();
    let sum = times
        .and_then(|times| each.checked_mul(times))
        .filter(|&sum| sum > 0);
    // `every bolt with two nuts, one on either side`
    let comes_to =
        |pieces: u64, sum: u64| pieces == sum || (said.on_bolts && pieces.is_multiple_of(sum));
    if !counts.all(|pieces| {
        pieces
            .zip(sum)
            .is_some_and(|(pieces, sum)| comes_to(pieces, sum))
    }) {
        let (share, places) = (share[0].trim(), all[at].words.trim());
        said.doubts.push(Doubt::Said(
            format!("\"{share} {places}\" is not what the count beside it comes to").into(),
        ));
    }
    all.truncate(at);
}

/// What a bare `each` points back to, where that is hardware: the bolts in front of the washers and nuts
/// that it gives them. `four bolts, each with two washers and a nut`, `four bolts with two washers each`,
/// `two bolts, and add a nut to each`. True where a bare `each` is left that multiplies something else.
/// `alone`: no places are named.
pub(super) fn each_of_the_first(
    calls: &mut [Call],
    text: &str,
    bare: Option<usize>,
    alone: bool,
) -> bool {
    let main = calls
        .iter()
        .position(|call| call.is_long() && call.callout.quantity.is_some());
    let lower = text.to_ascii_lowercase();
    let Some(main) = main.filter(|&main| main + 1 < calls.len()) else {
        return bare.is_some();
    };
    let gap = lower[calls[main].at.end..calls[main + 1].at.start].trim();
    let gap = gap.trim_matches([',', '(', ' ']);
    let with = gap.split_whitespace().any(|w| w == "with" || w == "having");
    let each_with = gap.split_whitespace().any(|w| w == "each") && with;
    // `four bolts, two washers each`
    let with = with || (alone && gap.is_empty() && lower[calls[main].at.end..].starts_with(','));
    let given = |at: usize| {
        let to = ["to", "on", "onto", "over", "under"];
        let lead = lower[..at].trim_end();
        let mut behind = calls[main + 1..].iter().filter(|call| call.at.start < at);
        to.iter().any(|to| ends_with_word(lead, to)) && behind.all(Call::is_small)
    };
    let each_behind = bare.filter(|&at| at > calls[main + 1].at.start && (with || given(at)));
    let sets = calls[main].callout.quantity.map_or(1, |q| q.pieces);
    let mut done = false;
    for call in &mut calls[main + 1..] {
        let taken = each_with || each_behind.is_some_and(|at| call.at.start < at);
        let small = call.is_small();
        if taken && small {
            if let Some(q) = &mut call.callout.quantity {
                q.pieces = q.pieces.saturating_mul(sets);
            }
            done = true;
        }
    }
    bare.is_some() && !done
}
