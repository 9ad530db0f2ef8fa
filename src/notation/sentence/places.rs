//! How often a sentence's items are needed, from the places that it names.

use std::sync::LazyLock;

use regex::Regex;

use super::{
    Call, Naming, Sentence,
    multiplier::Multiplier,
    rule::{Rule, Words},
    wording::{NUMBER, number, stem},
};
use crate::{doubt::Doubt, words::pattern};

/// So many for each place, right before the places.
pub(super) static SHARE: LazyLock<Regex> = LazyLock::new(|| {
    pattern(&format!(
        r"(?ix) \b (?P<n>{NUMBER}) \s+ (?:in|on|onto|at|to|for|through|into|under|over|along) \s* $"
    ))
});

/// Words by which a count is said to be all there is: `12 in all`.
static IN_ALL: Rule = Rule::new("all|total|altogether", "", || {
    pattern(r"(?i)\b(?:in[\s-]+all|(?:in[\s-]+)?total|altogether)\b")
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
        .map(|m| stem(&m.noun).to_owned())
        .collect();
    // `both plates, three screws per plate`: for each.
    let shared: Vec<String> = all
        .iter()
        .filter(|m| m.times.is_none())
        .map(|m| stem(&m.noun).to_owned())
        .collect();
    for found in &mut all {
        found.open &= !shared.iter().any(|noun| noun == stem(&found.noun));
    }
    all.retain(|m| m.times.is_some() || !counted.iter().any(|noun| noun == stem(&m.noun)));
    all.sort_by_key(|m| m.at);
    let mut places = 1u32;
    let mut before: Option<usize> = None;
    for found in &all {
        let Some(times) = found.times else {
            said.doubts
                .push(Doubt::Multiplier(found.words.as_str().into()));
            continue;
        };
        // `24 screws, six in each of the four sheets`: the count is of all.
        if let Some(share) = SHARE.captures(&text[..found.at]) {
            let each = number(&share["n"]).unwrap_or(0);
            let all = u64::from(each) * u64::from(times);
            let counts = said.calls.iter().filter(|call| call.naming == Naming::New);
            if counts
                .map(|call| call.callout.quantity.map(|q| q.pieces))
                .all(|pieces| pieces == Some(all))
            {
                continue;
            }
            said.doubts.push(Doubt::Said(
                format!(
                    "\"{} {}\" is not what the count beside it comes to",
                    share[0].trim(),
                    found.words.trim()
                )
                .into(),
            ));
        }
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
        let of_ends = ["end", "side", "edge", "face"].contains(&stem(&found.noun));
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
        && let Some(all) = IN_ALL.find_iter(words, text).next()
    {
        said.doubts.push(Doubt::Said(
            format!(
                "\"{}\": the count may be for all the places; taken as for each",
                all.as_str()
            )
            .into(),
        ));
    }
    if each_left && counted.is_empty() {
        said.doubts.push(Doubt::Multiplier("each".into()));
    }
}

/// `four bolts, each with two washers and a nut`, `four bolts with two washers each`. True where a
/// bare `each` is left that multiplies something else. `alone`: no places are named.
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
    let each_behind = bare.filter(|&at| with && at > calls[main + 1].at.start);
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
