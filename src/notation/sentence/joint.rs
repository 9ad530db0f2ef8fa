//! The items of one joint, and what they say of each other.

use super::{Call, Naming, Sentence};
use crate::{
    doubt::Doubt,
    hardware::{Item, Kind, Style},
    notation::callout::Callout,
};

/// Settles what the items of one joint say of each other: a washer or nut without a size takes it
/// from the bolt before it (else after it), and counts that make no sound joint are a doubt (common
/// practice, no source).
pub(super) fn join(calls: &mut [Call]) {
    let mut sizes: Vec<_> = calls
        .iter()
        .filter(|call| call.is_long())
        .filter_map(|call| call.callout.item.diameter)
        .collect();
    sizes.dedup();
    for i in 0..calls.len() {
        let small = matches!(calls[i].callout.item.kind, Some(Kind::Nut | Kind::Washer));
        // `tighten the frame nuts`: of whatever size they are.
        let there = calls[i].naming == Naming::Known && calls[i].callout.quantity.is_none();
        if !small || there || calls[i].callout.item.diameter.is_some() {
            continue;
        }
        let bolts = || {
            calls
                .iter()
                .enumerate()
                .filter(|(_, call)| call.is_long() && call.callout.item.diameter.is_some())
        };
        let lender = bolts()
            .rfind(|&(at, _)| at < i)
            .or_else(|| bolts().next())
            .map(|(_, call)| call.callout.item.clone());
        if let Some(lender) = lender {
            lend(&mut calls[i].callout, &lender);
            let open = sizes.len() > 1;
            if open {
                calls[i].callout.doubts.push(Doubt::Said(
                    "no size stated, and the joint's bolts are of several: taken from the nearest"
                        .into(),
                ));
            }
        }
    }
    // The pieces of one joint share a diameter (common practice, no source).
    let odd = |call: &Call| {
        let size = call
            .callout
            .item
            .diameter
            .filter(|size| !sizes.contains(size));
        // A cotter pin is thinner than its bolt.
        let pin = call.callout.item.kind == Some(Kind::Pin);
        size.filter(|_| call.is_small() && !pin && call.is_asked_for())
    };
    if let [bolts] = *sizes {
        for call in calls.iter_mut() {
            if odd(call).is_some() {
                let item = call.callout.item.text();
                call.callout.doubts.push(Doubt::Said(
                    format!("{item} beside bolts {bolts} in one joint: read as written").into(),
                ));
            }
        }
    }
    let mut sizes: Vec<_> = sizes.into_iter().map(Some).collect();
    // `three bolts, two nuts`, of whatever size
    if sizes.is_empty() {
        sizes.push(None);
    }
    for size in sizes {
        let sum = |kind: Kind| -> u64 {
            calls
                .iter()
                .filter(|call| call.is_asked_for() && call.callout.item.diameter == size)
                .filter(|call| call.callout.item.kind == Some(kind))
                .filter_map(|call| call.callout.quantity)
                .map(|q| q.pieces)
                .sum()
        };
        let (bolts, nuts, washers) = (sum(Kind::Bolt), sum(Kind::Nut), sum(Kind::Washer));
        let stacked = calls.iter().any(|call| {
            matches!(
                call.callout.item.style,
                Some(Style::Lock | Style::SplitLock)
            ) && call.callout.item.kind == Some(Kind::Washer)
        });
        // `two U-bolts with two nuts`: each holds by two (common practice, no source).
        let is_u = |call: &&Call| {
            call.callout.item.style == Some(Style::U) && call.callout.item.diameter == size
        };
        let of_u: u64 = calls.iter().filter(is_u).map(Call::pieces).sum();
        if of_u > 1 && of_u == bolts && nuts == of_u {
            let small = |call: &&mut Call| {
                call.is_small() && call.pieces() == of_u && call.callout.item.diameter == size
            };
            for call in calls.iter_mut().filter(small) {
                call.callout.doubts.push(Doubt::OrElse {
                    pieces: of_u.saturating_mul(of_u),
                    said: format!("{of_u} may be for each U-bolt, or in all").into(),
                });
            }
        }
        let unsound = |pieces: u64| pieces > 0 && pieces != bolts && pieces != 2 * bolts;
        let (nuts_off, washers_off) = (
            unsound(nuts),
            unsound(washers) && !(stacked && washers == 3 * bolts),
        );
        if bolts == 0 || !(nuts_off || washers_off) {
            continue;
        }
        let size_said = size.map_or(String::new(), |size| format!(" {size}"));
        let found = if nuts_off {
            format!("{bolts} bolts{size_said} but {nuts} nuts in one joint: read as written")
        } else {
            format!("{bolts} bolts{size_said} but {washers} washers in one joint: read as written")
        };
        for call in calls
            .iter_mut()
            .filter(|call| call.callout.item.diameter == size)
        {
            call.callout.doubts.push(Doubt::Said(found.as_str().into()));
        }
    }
}

/// `the six anchors (M12 x 110 wedge anchor)`: the second tells the size of the first.
pub(super) fn sized_behind(said: &mut Sentence, text: &str) {
    let of_the_first = |pair: &[Call]| {
        let (first, then) = (&pair[0].callout, &pair[1].callout);
        let between = text[pair[0].at.end.min(pair[1].at.start)..pair[1].at.start].trim();
        between == "("
            && first.item.kind == then.item.kind
            && first.item.diameter.is_none()
            && first.quantity.is_some()
            && pair[1].pieces() == 0
            && then.item.diameter.is_some()
    };
    if let Some(at) = said.calls.windows(2).position(of_the_first) {
        let Call {
            callout: mut sized,
            at: behind,
            ..
        } = said.calls.remove(at + 1);
        let Call {
            callout,
            naming,
            at,
            ..
        } = &mut said.calls[at];
        at.end = behind.end;
        sized.quantity = callout.quantity;
        *callout = sized;
        if *naming == Naming::Put {
            *naming = Naming::Driven;
        }
    }
}

/// `two bolts and M6 washers, one washer per bolt`: the second tells how many the first are.
pub(super) fn named_again(said: &mut Sentence) {
    let again = |pair: &[Call]| {
        let (first, then) = (&pair[0].callout, &pair[1].callout);
        let small = pair[0].is_small() && first.item.kind == then.item.kind;
        let sized = first.item.diameter.is_some() && then.item.diameter.is_none();
        small && sized && first.quantity.is_none() && then.quantity.is_some()
    };
    let at = said.calls.windows(2).position(again);
    if let Some(at) = at {
        let count = said.calls.remove(at + 1);
        said.calls[at].callout.quantity = count.callout.quantity;
        said.counts.push(count.at);
    }
}

/// `four M8 x 40 bolts and two M10 x 60 bolts, all with nuts`: of each size its own.
fn of_several(calls: &mut Vec<Call>, text: &str) {
    let between = |calls: &[Call], i: usize| {
        let words = text
            .get(calls[i - 1].at.end..calls[i].at.start)
            .unwrap_or_default()
            .trim();
        words.trim_start_matches([',', ' ']).to_owned()
    };
    let uncounted = |call: &Call| {
        call.is_small() && call.callout.quantity.is_none() && call.callout.item.diameter.is_none()
    };
    let of_all = |words: &str| {
        ["all with", "each with"]
            .iter()
            .any(|with| words.ends_with(with))
    };
    let with = |words: String| of_all(&words) || ["with", "with matching"].contains(&&*words);
    // A screw or an anchor has no nut of a bolt's.
    let counted = |call: &Call| {
        call.callout.item.kind == Some(Kind::Bolt) && call.is_asked_for() && call.pieces() > 0
    };
    let of_bolts = calls.iter().filter(|call| call.is_long()).all(counted);
    if !of_bolts {
        return;
    }
    let Some(first) = (2..calls.len())
        .find(|&i| uncounted(&calls[i]) && counted(&calls[i - 1]) && with(between(calls, i)))
    else {
        return;
    };
    let all = of_all(&between(calls, first));
    let joined = |calls: &[Call], i: usize| all || ["", "and"].contains(&&*between(calls, i));
    let from = (1..first)
        .rev()
        .take_while(|&i| counted(&calls[i - 1]) && joined(calls, i))
        .last();
    let Some(from) = from.map(|i| i - 1) else {
        return;
    };
    let mut end = first + 1;
    while end < calls.len()
        && uncounted(&calls[end])
        && ["", "and"].contains(&&*between(calls, end))
    {
        end += 1;
    }
    let long: Vec<Call> = calls[from..first].to_vec();
    let small: Vec<Call> = calls.drain(first..end).collect();
    let each = |one: Call| {
        let of = long.iter().map(|long| {
            let mut one = one.clone();
            lend(&mut one.callout, &long.callout.item);
            one.callout.quantity = long.callout.quantity;
            one
        });
        of.collect::<Vec<_>>()
    };
    let each: Vec<Call> = small.into_iter().flat_map(each).collect();
    calls.splice(first..first, each);
}

/// `12 bolts and nuts`, `a bolt with nut`: one to each, as a rule.
pub(super) fn one_to_each(calls: &mut Vec<Call>, text: &str) {
    of_several(calls, text);
    let Some(main) = calls
        .iter()
        .position(|call| call.is_long() && !matches!(call.naming, Naming::Known | Naming::Not))
    else {
        return;
    };
    let Some(quantity) = calls[main].callout.quantity else {
        return;
    };
    let bolt = calls[main].callout.item.clone();
    // `8 bolts with washer and nut`
    let mut with = false;
    for i in main + 1..calls.len() {
        let whole = text.get(calls[i - 1].at.end..calls[i].at.start);
        let whole = whole.unwrap_or_default().trim();
        let between = whole.strip_suffix("their").or(whole.strip_suffix("its"));
        let between = between.map_or(whole, str::trim_end);
        // `two bolts on the left side and two on the right side, with nuts`
        let is_nut = calls[i].callout.item.kind == Some(Kind::Nut);
        let between = if is_nut && between.ends_with(", with") {
            "with"
        } else {
            between
        };
        let between = between.trim_start_matches([',', ' ']);
        let between = between.strip_prefix("again ").unwrap_or(between);
        let goes_on = GOES_ON.contains(&between) && !whole.is_empty();
        if !(goes_on && calls[i].is_small()) {
            return;
        }
        with |= between.ends_with("with");
        let several = text[calls[i].at.clone()].trim_end().ends_with(['s', 'S']);
        let callout = &mut calls[i].callout;
        if callout.quantity.is_none() && (with || several == (quantity.pieces > 1)) {
            callout.quantity = Some(quantity);
            // A bolt has one nut; of flat washers it may have two, save where its head takes none or
            // it has no nut. (common practice, no source)
            let one = callout.item.kind == Some(Kind::Nut)
                || (with && !several)
                || (takes_one_washer(&bolt) && callout.item.style != Some(Style::Sealing))
                || matches!(callout.item.style, Some(Style::SplitLock));
            if !one {
                callout.doubts.push(Doubt::HowMany(
                    format!(
                        "how many is not stated: taken as {}, as of the first",
                        quantity.pieces
                    )
                    .into(),
                ));
            }
        }
    }
}

/// Words between a bolt and what goes on it, as many (common practice, no source).
const GOES_ON: &[&str] = &[
    "",
    "and",
    "&",
    "/",
    "plus",
    "with",
    "complete with",
    "c/w",
    "and as many",
    "and the same number of",
];

/// A washer goes under the nut of a carriage bolt, and under the head of a screw.
fn takes_one_washer(bolt: &Item) -> bool {
    bolt.style == Some(Style::Carriage) || bolt.kind == Some(Kind::Screw)
}

/// Gives a washer or nut the size of the bolt that it goes on.
pub fn lend(callout: &mut Callout, bolt: &Item) {
    callout.item.diameter = bolt.diameter;
    if callout.item.kind == Some(Kind::Nut) {
        callout.item.thread = bolt.thread;
    }
    callout.doubts.retain(|doubt| *doubt != Doubt::NoSize);
}

#[cfg(test)]
mod tests {
    use crate::notation::{Notation, sentence};

    #[test]
    fn counts_that_make_no_joint_are_told_with_a_size_and_without() {
        #[track_caller]
        fn case(text: &str, told: &str) {
            let said = sentence(text, Notation::default());
            assert_eq!(said.calls.len(), 2, "{text}");
            for call in &said.calls {
                let mut doubts = call.callout.doubts.iter();
                assert!(doubts.any(|doubt| doubt.to_string() == told), "{text}");
            }
        }
        let told = "3 bolts but 2 nuts in one joint: read as written";
        case("Fit three bolts, two nuts.", told);
        case("Fit three bolts and two nuts to the plate.", told);
        let told = "3 bolts 1/2 but 2 nuts in one joint: read as written";
        case("Fit three 1/2 x 4 bolts, two nuts.", told);
        let told = "4 bolts but 3 washers in one joint: read as written";
        case("Use four bolts and three washers.", told);
    }

    #[test]
    fn nuts_of_bolts_of_several_sizes() {
        #[track_caller]
        fn case(text: &str, expected: &[&str]) {
            let said = sentence(text, Notation::default());
            let calls = said.calls.iter();
            let found = calls.map(|call| format!("{} {}", call.pieces(), call.callout.item.text()));
            assert_eq!(found.collect::<Vec<_>>(), expected, "{text}");
            assert!(
                said.doubts.is_empty()
                    && said.calls.iter().all(|call| call.callout.doubts.is_empty()),
                "{text}"
            );
        }
        let sizes = [
            "4 M8 x 40 bolt",
            "2 M10 x 60 bolt",
            "4 M8 hex nut",
            "2 M10 hex nut",
        ];
        case(
            "Fit four M8 x 40 bolts and two M10 x 60 bolts, all with nuts.",
            &sizes,
        );
        case(
            "Fit four M8 x 40 bolts and two M10 x 60 bolts with matching nuts.",
            &sizes,
        );
        case("Fit four M8 x 40 and two M10 x 60 bolts with nuts.", &sizes);
        case(
            "Fit four M8 x 40 bolts at the top and two M10 x 60 bolts at the foot, all with nuts.",
            &sizes,
        );
    }
}
