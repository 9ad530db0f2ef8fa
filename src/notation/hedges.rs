//! What makes it open how many pieces a guide's sentence calls for, and takes more than a word to tell
//! (words alone: `scope`): things by two letters, what a carton holds; and what is said of each bolt.

use std::sync::LazyLock;

use regex::Regex;

use super::{
    sentence::{Call, Sentence},
    setting::THINGS,
};
use crate::{doubt::Doubt, hardware::Kind, notation::Quantity};

fn regex(pattern: &str) -> Regex {
    Regex::new(pattern).expect("the pattern is fixed and tested")
}

/// What is said of words that were found.
type Said = fn(&str) -> Doubt;

/// Words of which the text must hold one, a pattern, and what is said of what it finds.
type Hedge = (&'static [&'static str], Regex, Said);

fn in_all(words: &str) -> Doubt {
    Doubt::Said(
        format!("\"{words}\": the pieces may be for each or in all; taken as in all").into(),
    )
}

fn bears(words: &str) -> Doubt {
    Doubt::Said(format!("\"{words}\" bears on the count: see the sentence").into())
}

fn again(words: &str) -> Doubt {
    Doubt::Said(format!("\"{words}\": may be called for again").into())
}

static HEDGES: LazyLock<Vec<Hedge>> = LazyLock::new(|| {
    let several = |words: &'static [&'static str], pattern: String| (words, regex(&pattern));
    let mut all: Vec<Hedge> = Vec::new();
    let mut add = |(words, regex): (&'static [&'static str], Regex), said: Said| {
        all.push((words, regex, said));
    };
    // `rail A and rail B`, `panels A, B and C`, `rail 1 and rail 2`
    let (and, letter) = (r"\s*,?\s*(?:and|&)\s+(?:the\s+)?", "(?-i:[A-Z])");
    let pairs = [
        format!(
            r"(?:{THINGS})s?\s+{letter}(?:\s*,\s*{letter})*{and}(?:(?:{THINGS})s?\s+)?{letter}"
        ),
        format!(r"(?:{THINGS})s?\s+\d{{1,2}}{and}(?:{THINGS})s?\s+\d{{1,2}}"),
    ];
    add(
        several(&["and ", "& "], format!(r"(?i)\b(?:{})\b", pairs.join("|"))),
        in_all,
    );
    let is = r"^(?:when|where)\s+the\s+[a-z]+\s+is\s+(?:concrete|steel|timber|wood|long|short|wide|narrow|thick|thin)\b[^,]*,";
    let rest: [(&[&str], &str, Said); 4] = [
        (&[" is "], is, bears),
        (
            &["for the next", "lay", "Lay"],
            r"\b(?:for\s+the\s+next\s+(?:stage|step|section)|lay\s+out)\b",
            again,
        ),
        (&["come"], r"\bcomes?\s+with\b", bears),
        (
            &["holds", "contains"],
            r"\b(?:carton|box|bag|packet|crate|pack)\s+(?:holds|contains)\b",
            bears,
        ),
    ];
    for (words, pattern, said) in rest {
        add(several(words, format!("(?i){pattern}")), said);
    }
    all
});

/// The doubts of a sentence whose items are read.
pub(super) fn hedges(text: &str) -> Vec<Doubt> {
    HEDGES
        .iter()
        .filter(|(words, ..)| words.iter().any(|word| text.contains(word)))
        .filter_map(|(_, regex, said)| {
            let found = regex.captures(text)?;
            let words = found.get(1).or(found.get(0))?;
            Some(said(words.as_str().trim()))
        })
        .collect()
}

/// So many for each bolt, as a sentence says it, and where.
pub(super) struct PerBolt {
    at: usize,
    words: String,
    times: u64,
    /// The words may mean something else.
    open: bool,
}

/// Words of which the text must hold one, a pattern, how many for each bolt, and whether it is open.
type Each = (&'static [&'static str], Regex, u64, bool);

static PER_BOLT: LazyLock<[Each; 3]> = LazyLock::new(|| {
    [
        (
            &["per ", "each ", "every "] as &[_],
            r"(?i)\b(?:per|(?:on|for|to)\s+(?:each|every))\s+(?:bolt|screw|stud|rod|anchor)\b",
            1,
            false,
        ),
        (
            &["under"],
            r"(?i)\bunder\s+(?:the\s+|each\s+)?(?:bolt\s+)?heads?\s+and\s+(?:under\s+)?(?:the\s+|each\s+)?nuts?\b",
            2,
            false,
        ),
        (
            &["side"],
            r"(?i)\bwashers?\s+((?:on\s+)?(?:each|either)\s+side)\b",
            2,
            true,
        ),
    ]
    .map(|(words, pattern, times, open)| (words, regex(pattern), times, open))
});

/// Finds what is said of each bolt; `mask` blanks it, since it names no more items.
pub(super) fn per_bolt(text: &str, mut mask: impl FnMut(std::ops::Range<usize>)) -> Vec<PerBolt> {
    let mut all = Vec::new();
    for (words, regex, times, open) in &*PER_BOLT {
        if !words.iter().any(|word| text.contains(word)) {
            continue;
        }
        for found in regex.captures_iter(text) {
            let Some(found) = found.get(1).or(found.get(0)) else {
                continue;
            };
            all.push(PerBolt {
                at: found.start(),
                words: found.as_str().to_owned(),
                times: *times,
                open: *open,
            });
            mask(found.range());
        }
    }
    all
}

impl PerBolt {
    /// Multiplies the washers or nuts in front of the words by the bolts before them.
    pub(super) fn multiply(self, said: &mut Sentence) {
        let bolt = |call: &Call| {
            matches!(
                call.callout.item.kind,
                Some(Kind::Bolt | Kind::Screw | Kind::Rod | Kind::Anchor)
            )
        };
        let small = |call: &Call| {
            matches!(
                call.callout.item.kind,
                Some(Kind::Nut | Kind::Washer | Kind::Pin)
            )
        };
        let before = said.calls.iter().filter(|call| call.at.end <= self.at);
        let of = before.clone().count().checked_sub(1);
        let bolts = before
            .rev()
            .find(|call| bolt(call))
            .and_then(|call| call.callout.quantity);
        let taken = of.filter(|&of| small(&said.calls[of])).and_then(|of| {
            let quantity = &mut said.calls[of].callout.quantity;
            let each = quantity
                .map(|each| each.pieces)
                .or((self.times > 1).then_some(1))?;
            let pieces = bolts?.pieces.checked_mul(each)?.checked_mul(self.times)?;
            *quantity = Some(Quantity {
                pieces,
                packs: None,
            });
            Some(())
        });
        if taken.is_none() {
            said.doubts.push(Doubt::Multiplier(self.words.into()));
        } else if self.open {
            let doubt = format!("\"{}\": taken as both sides of each bolt", self.words);
            said.doubts.push(Doubt::Said(doubt.into()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, expected: Option<&str>) {
        let found = hedges(text);
        let found: Vec<String> = found.iter().map(ToString::to_string).collect();
        let found: Vec<&str> = found.iter().map(String::as_str).collect();
        assert_eq!(found, Vec::from_iter(expected), "{text}");
    }

    #[test]
    fn what_makes_a_count_open() {
        for (text, words) in [
            (
                "Fix rail A and rail B to the post with two bolts.",
                "rail A and rail B",
            ),
            (
                "Fix rails A, B and C to the post with two bolts.",
                "rails A, B and C",
            ),
            (
                "Fasten rail 1 and rail 2 to the post with two bolts.",
                "rail 1 and rail 2",
            ),
        ] {
            let doubt = "the pieces may be for each or in all; taken as in all";
            case(text, Some(&format!("\"{words}\": {doubt}")));
        }
        for (text, words) in [
            (
                "When the deck is concrete, fit two bolts.",
                "When the deck is concrete,",
            ),
            ("The post comes with six bolts.", "comes with"),
            ("The carton holds 8 bolts.", "carton holds"),
        ] {
            let doubt = "bears on the count: see the sentence";
            case(text, Some(&format!("\"{words}\" {doubt}")));
        }
        for (text, words) in [
            ("Lay out six bolts.", "Lay out"),
            (
                "Leave six bolts here for the next step.",
                "for the next step",
            ),
        ] {
            case(text, Some(&format!("\"{words}\": may be called for again")));
        }
        case("Bolt rail A to rail B with two bolts.", None);
        case("Bolt a bracket to the beam with two bolts.", None);
        case("Drive a screw into each board.", None);
        case("Fit two bolts and a washer.", None);
    }
}
