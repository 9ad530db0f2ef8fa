//! An assembly guide in prose: lines to sentences, and what a stage's sentences ask for together.

use std::{collections::BTreeMap, sync::LazyLock};

use regex::Regex;

use super::list::Usage;
use crate::{
    Doubt,
    hardware::Kind,
    notation::{Call, Callout, Notation, Sentence, lend, sentence},
};

/// What a guide tells its reader to do, in lower case. Words that are hardware too are verbs only
/// in front of [`OBJECTS`].
const VERBS: &[&str] = &[
    "fasten",
    "attach",
    "secure",
    "fit",
    "install",
    "fix",
    "insert",
    "place",
    "tighten",
    "torque",
    "remove",
    "repeat",
    "use",
    "using",
    "connect",
    "join",
    "assemble",
    "mount",
    "drive",
    "slide",
    "hang",
    "lay",
    "push",
    "thread",
    "lower",
    "lift",
    "raise",
    "loosen",
    "discard",
    "keep",
    "check",
    "make",
    "take",
    "put",
    "run",
    "start",
    "add",
    "position",
    "align",
    "hold",
    "leave",
    "bring",
    "apply",
    "retighten",
    "drill",
    "set",
    "snug",
    "do",
    "stand",
    "turn",
    "clamp",
    "throw",
    "same",
    "pass",
    "drop",
    "work",
    "finish",
    "begin",
    "locate",
    "rest",
    "level",
    "plumb",
    "brace",
    "suspend",
    "close",
    "support",
    "pull",
    "hand-tighten",
    "finger-tighten",
];
/// Forms that say what a thing does or has.
const SAYS: &[&str] = &[
    "is", "are", "takes", "take", "gets", "needs", "need", "requires", "comes", "come", "holds",
    "hold", "goes", "go", "carries", "has", "have", "held", "fastened", "fixed", "secured",
    "attached", "bolted", "fitted",
];
const NOUN_VERBS: &[&str] = &[
    "bolt", "screw", "pin", "nail", "lag", "anchor", "rivet", "nut",
];
const OBJECTS: &[&str] = &[
    "the", "each", "both", "every", "it", "them", "this", "these", "those", "all", "one", "a", "an",
];

fn words(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split_whitespace()
        .map(|word| {
            word.trim_matches(|c: char| !c.is_alphanumeric())
                .to_ascii_lowercase()
        })
        .filter(|word| !word.is_empty())
}

/// True where a line of text begins a sentence of prose rather than a list's line. A list's line
/// begins with its count, or names no action.
pub fn is_prose(text: &str) -> bool {
    if !text.starts_with(|c: char| c.is_alphabetic() || c == '"' || c == '(') {
        return false;
    }
    let words: Vec<String> = words(text).collect();
    if words.len() < 3 {
        return false;
    }
    let is = |known: &[&str], word: &String| known.contains(&word.as_str());
    let first = match words[0].as_str() {
        "now" | "then" | "next" | "finally" | "to" | "first" => &words[1],
        _ => &words[0],
    };
    let noun_verb = words
        .windows(2)
        .any(|pair| is(NOUN_VERBS, &pair[0]) && is(OBJECTS, &pair[1]));
    // `Set screw`, `Thread rod`, `Drive pin` begin a list's line too.
    let hardware_next = [
        "screw", "screws", "rod", "rods", "pin", "pins", "bolt", "bolts", "anchor", "anchors",
    ]
    .contains(&words[1].as_str());
    let acts = is(VERBS, first) && !hardware_next;
    let tells = words
        .iter()
        .any(|w| is(OBJECTS, w) || w == "with" || w == "through")
        && words.iter().any(|w| is(VERBS, w) || is(SAYS, w));
    let closed = text.trim_end().ends_with(['.', '!', ':']);
    // Whatever the verb: `Close the deck with`.
    let names = ["hex", "carriage", "lag", "flat", "lock", "machine", "wood"];
    let is_item = names.contains(&first.as_str())
        || NOUN_VERBS.contains(&first.trim_end_matches('s'))
        || first.starts_with("washer");
    let joins = words.len() > 5
        && !is_item
        && words.iter().any(|w| is(OBJECTS, w))
        && words.iter().any(|w| w == "with" || w == "using");
    noun_verb || acts || joins || (tells && (closed || words.len() > 5))
}

/// Ends of words with a stop that ends no sentence.
const ABBREVIATIONS: &[&str] = &[
    "no", "nos", "dia", "approx", "min", "max", "fig", "e.g", "i.e", "lg", "thk", "qty", "incl",
];

/// The sentences of a paragraph, as ranges of its text.
fn sentences(text: &str) -> Vec<std::ops::Range<usize>> {
    let mut all = Vec::new();
    let mut from = 0;
    for (at, c) in text.char_indices() {
        if !matches!(c, '.' | '!' | '?') || at < from {
            continue;
        }
        let rest = &text[at + 1..];
        let next = rest.trim_start_matches([')', '"', '\u{201d}']);
        if !(next.is_empty() || next.starts_with(char::is_whitespace)) {
            continue;
        }
        let word = text[from..at]
            .rsplit(|c: char| c.is_whitespace())
            .next()
            .unwrap_or_default()
            .trim_start_matches('(')
            .to_ascii_lowercase();
        let after = next.trim_start();
        let capital = after.is_empty()
            || after.starts_with(|c: char| c.is_uppercase() || c == '(' || c == '"');
        let stays = if word == "in"
            || word == "ft"
            || word.ends_with("in") && word.starts_with(|c: char| c.is_ascii_digit())
        {
            // `6 in. Torque to`: a capital alone may be a grade's.
            let opens = words(after).next().is_none_or(|w| {
                VERBS.contains(&w.as_str())
                    || NOUN_VERBS.contains(&w.as_str())
                    || OBJECTS.contains(&w.as_str())
                    || matches!(w.as_str(), "then" | "now" | "at" | "on" | "do" | "if")
            });
            !(capital && opens)
        } else {
            ABBREVIATIONS.contains(&word.as_str())
                || !(capital || after.starts_with(|c: char| c.is_ascii_digit()))
        };
        if stays {
            continue;
        }
        let end = text.len() - next.len();
        all.push(from..end);
        from = text.len() - after.len();
    }
    if !text[from..].trim().is_empty() {
        all.push(from..text.len());
    }
    all
}

/// What is said of the use of the hardware in a sentence.
static USES: LazyLock<Vec<(Regex, Usage)>> = LazyLock::new(|| {
    let regex = |pattern: &str| Regex::new(pattern).expect("the pattern is fixed and tested");
    vec![
        (
            regex(r"(?i)\b(?:thrown? (?:\w+ )?away|discard(?:ed)?|scrap(?:ped)?)\b"),
            Usage::Discarded,
        ),
        (
            regex(
                r"(?i)\b(?:remov\w+|tak(?:e|en) (?:off|out)|unbolt\w*)\b.*\b(?:keep|kept|retain\w*|sav(?:e|ed)|(?:set|put) aside|use again)\b",
            ),
            Usage::Returned,
        ),
        (
            regex(
                r"(?i)\b(?:sold separately|not (?:included|supplied|in this kit)|(?:supplied )?by others)\b",
            ),
            Usage::NotInKit,
        ),
        (
            regex(
                r"(?i)\b(?:comes? fitted|factory[- ](?:fitted|installed)|supplied fitted|pre-?(?:fitted|installed))\b",
            ),
            Usage::ComesFitted,
        ),
        (
            regex(
                r"(?i)\b(?:already (?:fitted|installed|in place|there)|fitted (?:earlier|in (?:stage|step|section)|at (?:stage|step))|from (?:the )?(?:previous|earlier|last) (?:stage|step)|removed (?:earlier|before|in (?:stage|step|section)))\b",
            ),
            Usage::CarriedOver,
        ),
    ]
});
static REMOVES: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"(?i)^\W*(?:now |then )?(?:remove|take (?:off|out)|unbolt)\b")
        .expect("the pattern is fixed and tested")
});

/// One line that a stage asks for.
#[derive(Debug, Clone)]
pub struct Asked {
    /// The line on which the sentence starts, and its words.
    pub row: u32,
    pub text: String,
    /// `None`: a size without an item, kept word for word.
    pub callout: Option<Callout>,
    pub usage: Option<Usage>,
    pub torque: Option<String>,
    pub places: u32,
    pub doubts: Vec<Doubt>,
}

/// A guide being read: the paragraph so far, and what the stage's sentences have asked for.
#[derive(Debug, Default)]
pub struct Guide {
    paragraph: Vec<(u32, String)>,
    /// Rows that were taken as prose since they were last handed on.
    pub rows: Vec<u32>,
    asked: Vec<Asked>,
    /// The first line of the last joint, and of what a repetition repeats.
    joint: usize,
    since: usize,
}

impl Guide {
    /// Takes a line of text if it is prose: one that begins a sentence, or goes on with one.
    /// `fresh`: a bullet or number stands in front, so that it goes on with none.
    pub fn takes(&mut self, row: u32, text: &str, fresh: bool, notation: Notation) -> bool {
        let goes_on = !fresh
            && self
                .paragraph
                .last()
                .is_some_and(|(_, last)| !last.trim_end().ends_with(['.', '!', '?', ':']));
        if !goes_on && !is_prose(text) {
            self.end_paragraph(notation);
            return false;
        }
        if fresh {
            self.end_paragraph(notation);
        }
        self.paragraph.push((row, text.trim().to_owned()));
        self.rows.push(row);
        true
    }

    /// Reads the paragraph that was taken.
    pub fn end_paragraph(&mut self, notation: Notation) {
        if self.paragraph.is_empty() {
            return;
        }
        let mut text = String::new();
        let mut starts = BTreeMap::new();
        for (row, line) in self.paragraph.drain(..) {
            if !text.is_empty() {
                text.push(' ');
            }
            starts.insert(text.len(), row);
            text.push_str(&line);
        }
        for range in sentences(&text) {
            let row = starts
                .range(..=range.start)
                .next_back()
                .map_or(0, |(_, &row)| row);
            self.sentence(row, text[range].trim(), notation);
        }
    }

    /// All that the stage asks for; a new stage begins.
    pub fn end_stage(&mut self, notation: Notation) -> Vec<Asked> {
        self.end_paragraph(notation);
        self.joint = 0;
        self.since = 0;
        std::mem::take(&mut self.asked)
    }

    fn sentence(&mut self, row: u32, text: &str, notation: Notation) {
        let mut said = sentence(text, notation);
        let asked = |callout| Asked {
            row,
            text: text.to_owned(),
            callout,
            usage: None,
            torque: None,
            places: 1,
            doubts: Vec::new(),
        };
        if said.lone_size {
            self.asked.push(asked(None));
            return;
        }
        let (usage, mut doubts) = usage(&said, text);
        doubts.append(&mut said.doubts);
        let calls = std::mem::take(&mut said.calls);
        let (known, new): (Vec<Call>, Vec<Call>) = calls
            .into_iter()
            .partition(|call| call.known && self.is_called_for(&call.callout, usage));
        if new.is_empty() {
            self.tell_torques(&said, &known, text);
            if let Some(times) = said.repeat {
                self.repeat(times, row, text);
            }
            return;
        }
        if said.repeat.is_some() {
            doubts.push(Doubt::Said(
                format!("\"{text}\" repeats and names items: only the named ones were taken")
                    .into(),
            ));
        }
        if said.torques.len() > 1 {
            doubts.push(Doubt::Said(
                "more than one torque in the sentence: none was taken".into(),
            ));
        }
        let torque = match said.torques.as_slice() {
            [(_, torque)] => Some(torque.clone()),
            _ => None,
        };
        let before = self.last_bolt();
        self.joint = self.asked.len();
        for call in new {
            let mut callout = call.callout;
            let mut doubts = doubts.clone();
            if call.known && usage.is_none() {
                doubts.push(Doubt::Said(
                    "named as known, and not called for before in this stage: taken as new".into(),
                ));
            }
            let small = matches!(callout.item.kind, Some(Kind::Nut | Kind::Washer));
            if small
                && callout.item.diameter.is_none()
                && let Some((bolt, row)) = &before
            {
                lend(&mut callout, bolt);
                doubts.push(Doubt::Said(
                    format!("no size stated: taken from the bolt of line {row}").into(),
                ));
            }
            self.asked.push(Asked {
                usage,
                torque: torque.clone(),
                places: said.places,
                doubts,
                ..asked(Some(callout))
            });
        }
    }

    fn last_bolt(&self) -> Option<(crate::hardware::Item, u32)> {
        self.asked.iter().rev().find_map(|asked| {
            let item = &asked.callout.as_ref()?.item;
            let bolt = matches!(
                item.kind,
                Some(Kind::Bolt | Kind::Screw | Kind::Rod | Kind::Anchor)
            );
            (bolt && item.diameter.is_some()).then(|| (item.clone(), asked.row))
        })
    }

    /// True where what is named as known was asked for in this stage, as far as it is stated; or
    /// where neither count nor size makes it more than a mention.
    fn is_called_for(&self, callout: &Callout, usage: Option<Usage>) -> bool {
        match callout.quantity {
            None => {
                callout.item.diameter.is_none()
                    || self
                        .asked
                        .iter()
                        .filter_map(|asked| asked.callout.as_ref())
                        .any(|known| fits(callout, known))
            }
            Some(q) => {
                usage.is_none()
                    && self.asked.iter().any(|asked| {
                        asked.callout.as_ref().is_some_and(|known| {
                            let pieces = known.quantity.map(|k| k.pieces);
                            let in_all = pieces.map(|p| p * u64::from(asked.places));
                            fits(callout, known)
                                && (pieces == Some(q.pieces) || in_all == Some(q.pieces))
                        })
                    })
            }
        }
    }

    /// Gives torques named for hardware that is there to the joint's lines.
    fn tell_torques(&mut self, said: &Sentence, known: &[Call], text: &str) {
        for (at, torque) in &said.torques {
            let named = known
                .iter()
                .rev()
                .find(|call| call.at.start < *at)
                .or_else(|| known.first())
                .map(|call| &call.callout);
            // A size or a sweep over all reaches back to the start of the stage.
            let sized = named.filter(|callout| callout.item.diameter.is_some());
            let from = if sized.is_some() { 0 } else { self.joint };
            for asked in self.asked.iter_mut().skip(from) {
                let Some(callout) = &asked.callout else {
                    continue;
                };
                if sized.is_some_and(|named| named.item.diameter != callout.item.diameter) {
                    continue;
                }
                match &asked.torque {
                    Some(stated) if stated != torque => asked.doubts.push(Doubt::Said(
                        format!("the torque is {stated}, and {torque} in \"{text}\"").into(),
                    )),
                    _ => asked.torque = Some(torque.clone()),
                }
            }
        }
    }

    /// Asks again for what was asked for since the last repetition.
    fn repeat(&mut self, times: u32, row: u32, text: &str) {
        let again: Vec<Asked> = self.asked[self.since.min(self.asked.len())..]
            .iter()
            .filter(|asked| asked.callout.is_some())
            .cloned()
            .collect();
        for mut asked in again {
            asked.doubts.push(Doubt::Said(
                format!("\"{text}\": line {} again, {times} times", asked.row).into(),
            ));
            asked.row = row;
            text.clone_into(&mut asked.text);
            asked.places = asked.places.saturating_mul(times);
            self.asked.push(asked);
        }
        self.since = self.asked.len();
        self.joint = self.asked.len();
    }
}

/// True where a mention fits an item, as far as both state it.
fn fits(mention: &Callout, item: &Callout) -> bool {
    let (a, b) = (&mention.item, &item.item);
    a.kind == b.kind
        && (a.diameter.is_none() || a.diameter == b.diameter)
        && (a.length.is_none() || a.length == b.length)
        && (a.style.is_none() || b.style.is_none() || a.style == b.style)
}

/// The use of a sentence's items, and doubts about it.
fn usage(said: &Sentence, text: &str) -> (Option<Usage>, Vec<Doubt>) {
    let found = USES
        .iter()
        .find_map(|(regex, usage)| Some((regex.find(text)?, *usage)));
    let removes = REMOVES.is_match(text);
    match found {
        Some((found, usage)) => {
            let several = said.calls.len() > 1 && !removes;
            let doubt = several.then(|| {
                Doubt::Said(
                    format!(
                        "\"{}\" may be meant for one of the items alone",
                        found.as_str()
                    )
                    .into(),
                )
            });
            (Some(usage), doubt.into_iter().collect())
        }
        None if removes && !said.calls.is_empty() => (
            Some(Usage::Reference),
            vec![Doubt::Said(
                "removed; whether kept or thrown away is not said".into(),
            )],
        ),
        None => (None, Vec::new()),
    }
}
