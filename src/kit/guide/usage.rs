//! What becomes of the hardware that a sentence names: new, carried over, taken off and kept.

use std::sync::LazyLock;

use regex::Regex;

use crate::{Doubt, kit::Usage, notation::Sentence, words::pattern};

/// What is said of the use of the hardware in a sentence.
static USES: LazyLock<Vec<(Regex, Usage)>> = LazyLock::new(|| {
    vec![
        (
            pattern(
                r"(?i)\b(?:comes?|arrives?) with\b.*\b(?:fitted|installed|attached|in place)\b",
            ),
            Usage::ComesFitted,
        ),
        (
            pattern(
                r"(?i)\b(?:should|will|may|might) (?:have|see|find|be left with)\b.*(?:\b(?:left (?:over|in|at)|leftover|remaining|surplus|spare)\b|s left\W*$)|\bleft over\b|\bshould (?:remain|be left)\b",
            ),
            Usage::Reference,
        ),
        (
            pattern(r"(?i)\b(?:thrown? (?:\w+ )?away|discard(?:ed)?|scrap(?:ped)?)\b"),
            Usage::Discarded,
        ),
        (
            pattern(
                r"(?i)\b(?:remov\w+|tak(?:e|en) (?:off|out)|unbolt\w*)\b.*\b(?:keep|kept|retain\w*|sav(?:e|ed)|(?:set|put) aside|use again)\b",
            ),
            Usage::Returned,
        ),
        (
            pattern(
                r"(?i)\b(?:sold separately|not (?:included|supplied|in this kit)|(?:supplied )?by others)\b",
            ),
            Usage::NotInKit,
        ),
        (
            pattern(
                r"(?i)\b(?:comes? fitted|factory[- ](?:fitted|installed)|supplied fitted|pre-?(?:fitted|installed))\b",
            ),
            Usage::ComesFitted,
        ),
        (
            pattern(
                r"(?i)\b(?:already (?:fitted|installed|in place|there)|fitted (?:earlier|in (?:stage|step|section)|at (?:stage|step))|from (?:the )?(?:previous|earlier|last) (?:stage|step)|removed (?:earlier|before|in (?:stage|step|section)))\b",
            ),
            Usage::CarriedOver,
        ),
    ]
});

/// What a later sentence says of what was removed: `Keep them.`
pub(super) static KEEPS: LazyLock<Regex> = LazyLock::new(|| {
    pattern(r"(?i)\b(?:keep|retain|save|set aside|put aside|use (?:them|it) again)\b")
});

pub(super) static REMOVED_BEFORE: LazyLock<Regex> =
    LazyLock::new(|| pattern(r"(?i)\bremoved (?:earlier|before|in (?:stage|step|section))\b"));

pub(super) static REMOVES: LazyLock<Regex> =
    LazyLock::new(|| pattern(r"(?i)^\W*(?:now |then )?(?:remove|take (?:off|out)|unbolt)\b"));

/// What becomes of a sentence's items.
pub(super) struct Use {
    pub usage: Option<Usage>,
    pub doubts: Vec<Doubt>,
    /// Taken off, and not said whether kept or thrown away.
    pub removed: bool,
}

pub(super) fn kept_or_not() -> Doubt {
    Doubt::Said("removed; whether kept or thrown away is not said".into())
}

pub(super) fn usage(said: &Sentence, text: &str) -> Use {
    let found = USES
        .iter()
        .find_map(|(regex, usage)| Some((regex.find(text)?, *usage)));
    let removes = REMOVES.is_match(text);
    let mut doubts = Vec::new();
    let (usage, removed) = match found {
        Some((found, usage)) => {
            if said.calls.len() > 1 && !removes {
                doubts.push(Doubt::Said(
                    format!(
                        "\"{}\" may be meant for one of the items alone",
                        found.as_str()
                    )
                    .into(),
                ));
            }
            if usage == Usage::Reference {
                doubts.push(Doubt::Said(
                    "said to be left over when the work is done: makes no demand".into(),
                ));
            }
            if REMOVED_BEFORE.is_match(text) {
                doubts.push(Doubt::Said(
                    "removed before: taken as there already, and not as new".into(),
                ));
            }
            (Some(usage), false)
        }
        None if removes && !said.calls.is_empty() => {
            doubts.push(kept_or_not());
            (Some(Usage::Reference), true)
        }
        None => (None, false),
    };
    Use {
        usage,
        doubts,
        removed,
    }
}
