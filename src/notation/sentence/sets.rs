//! One count in front of several items: `six sets of M10 x 180 bolt, nut and two washers`, `six each 3/8 x 8 bolts,
//! washers and nuts`, `four bolts and as many nuts`.

use super::{
    Call,
    multiplier::Multiplier,
    rule::Rule,
    wording::{NUMBER, last_word, mask, names_hardware, number},
    words::Words,
};
use crate::{doubt::Doubt, notation::callout::Quantity, words::pattern};

static SETS: Rule = Rule::new("sets", "", || {
    pattern(&format!(
        r"(?i)\b(?P<n>{NUMBER}) (?:complete |full )?sets of\b"
    ))
});

/// The sets that a sentence asks for; blanked.
pub(super) fn sets(words: &Words, text: &str, masked: &mut String) -> Option<Multiplier> {
    let found = SETS.captures(words, masked)?;
    let (at, times) = (found.get(0)?.range(), number(&found["n"])?);
    // `three sets of brackets`
    let behind = text[at.end..].trim_start();
    let sized = behind.starts_with(|c: char| c.is_ascii_digit() || matches!(c, 'M' | '#'));
    let counted = behind.split(' ').next().and_then(number).is_some();
    if !(sized || counted || names_hardware(behind)) {
        return None;
    }
    mask(masked, at.clone(), true);
    Some(Multiplier {
        at: at.start,
        words: text[at].to_owned(),
        noun: "set".to_owned(),
        times: Some(times),
        ..Multiplier::default()
    })
}

/// Of what stands in a set without a count, one is in it.
pub(super) fn one_in_each_set(calls: &mut [Call], text: &str) {
    for call in calls {
        let several = text[call.at.clone()].trim_end().ends_with(['s', 'S']);
        if call.is_asked_for() && call.callout.quantity.is_none() {
            let (pieces, packs) = (1, None);
            call.callout.quantity = Some(Quantity { pieces, packs });
            if several && call.is_small() {
                let doubt = "how many are in a set is not stated: taken as one";
                call.callout.doubts.push(Doubt::HowMany(doubt.into()));
            }
        }
    }
}

/// Blanks what stands between a count and its items: `six each 3/8 x 8 bolts, washers and nuts`, `four bolts and as
/// many nuts`.
pub(super) fn each_of_list(words: &Words, text: &str, masked: &mut String) {
    let each = words.find(text, "each").chain(words.find(text, "ea"));
    for at in each {
        let Some(count) = text[..at.start].strip_suffix(' ') else {
            continue;
        };
        let mut end = at.end + usize::from(text[at.end..].starts_with('.'));
        end += if text[end..].starts_with(" of ") {
            3
        } else {
            0
        };
        let behind = text[end..].trim_start();
        let figure = behind.starts_with(|c: char| c.is_ascii_digit());
        // `1 ea 1/2 x 6 hex bolt`
        let runs_on = figure && count.ends_with(|c: char| c.is_ascii_digit());
        let sized = figure || behind.starts_with(['#', 'M']);
        if number(last_word(count)).is_some() && !runs_on && (sized || names_hardware(behind)) {
            mask(masked, at.start..end, false);
        }
    }
    let many = words.find(text, "many").map(|at| (at, " as many"));
    let same = words
        .find(text, "number")
        .map(|at| (at, " the same number of"));
    let equal = words
        .find(text, "number")
        .map(|at| (at, " an equal number of"));
    for (at, says) in many.chain(same).chain(equal) {
        let end = at.end + if says.ends_with(" of") { 3 } else { 0 };
        let Some(front) = text.get(..end).and_then(|front| front.strip_suffix(says)) else {
            continue;
        };
        let joins = ["and", "with", "plus"].contains(&last_word(front));
        if joins && names_hardware(text[end..].trim_start()) {
            mask(masked, front.len() + 1..end, false);
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::notation::{Notation, sentence};

    #[test]
    fn one_count_of_several_items() {
        #[track_caller]
        fn case(text: &str, expected: &[u64]) {
            let said = sentence(text, Notation::default());
            let pieces = said
                .calls
                .iter()
                .map(|call| call.pieces() * u64::from(call.places));
            assert_eq!(pieces.collect::<Vec<_>>(), expected, "{text}");
            assert!(said.left_over.is_empty(), "{text}");
        }
        case(
            "Make up six sets of M10 x 180 bolt, nut and two washers.",
            &[6, 6, 12],
        );
        case("Fit three sets of four M8 x 40 bolts.", &[12]);
        case(
            "Bolt it with six each 3/8 x 8 bolts, washers and nuts.",
            &[6, 6, 6],
        );
        case(
            "Attach it with 4 ea. M8 x 40 bolts, washers & nuts.",
            &[4, 4, 4],
        );
        case(
            "Attach it with four each of M8 x 40 bolts, M8 washers and M8 nuts.",
            &[4, 4, 4],
        );
        case("Fit four M8 x 40 bolts and as many nuts.", &[4, 4]);
        case(
            "Fit four M8 x 40 bolts and the same number of washers.",
            &[4, 4],
        );
        case(
            "Fit M8 x 30 bolts and nuts (6 each) to the bracket.",
            &[6, 6],
        );
        case(
            "Fit M8 x 30 bolts (6x) and M8 nuts (6x) to the bracket.",
            &[6, 6],
        );
    }
}
