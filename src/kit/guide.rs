//! An assembly guide in prose: lines to sentences, and what a stage's sentences ask for together.

use std::{collections::BTreeMap, ops::Range, sync::LazyLock};

use regex::Regex;

use super::{reading::MOST_ITEMS, usage::Usage};
use crate::{
    Doubt,
    columns::Meaning,
    hardware::Kind,
    notation::{Call, Callout, Naming, Notation, Sentence, lend, sentence},
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
    "refit",
    "reuse",
    "reinstall",
    "replace",
    "mirror",
    "sandwich",
    "stack",
    "slip",
    "dig",
    "mix",
    "pre-drill",
    "predrill",
    "re-use",
    "you",
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
    // `Left side: fit two bolts.`
    if let Some((label, rest)) = text.split_once(": ")
        && !label.contains(|c: char| c.is_ascii_digit())
        && is_prose(rest.trim_start())
    {
        return true;
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
    // `Bolt post 2 to the bracket with`
    let noun_verb = noun_verb
        || is(NOUN_VERBS, first)
            && !hardware_next
            && words.iter().any(|w| w == "to")
            && words.iter().any(|w| w == "with" || w == "using");
    noun_verb || acts || joins || (tells && (closed || words.len() > 5))
}

/// True where a line begins with a figure, as a list's does, and the line before it is no clause that
/// a figure goes on with.
fn begins_list(last: &str, text: &str) -> bool {
    let figure = text.trim_start().starts_with(|c: char| c.is_ascii_digit());
    let last = last.trim_end();
    let word = words(last).last().unwrap_or_default();
    let hangs = last.ends_with([',', '-', '(', '/'])
        || [
            "with", "using", "and", "or", "of", "by", "x", "the", "a", "an", "to", "at", "on",
            "in", "for", "from", "about", "than", "use", "fit", "insert", "install", "add", "take",
            "drive", "put", "no", "one", "two", "three", "four", "five", "six", "seven", "eight",
            "nine", "ten", "twelve",
        ]
        .contains(&word.as_str());
    figure && !hangs && !text.trim_end().ends_with('.')
}

/// Ends of words with a stop that ends no sentence.
const ABBREVIATIONS: &[&str] = &[
    "no", "nos", "dia", "approx", "min", "max", "fig", "e.g", "i.e", "lg", "thk", "qty", "incl",
];

/// True where what follows a semicolon or comma is a repetition of what stands before it.
fn opens_repetition(rest: &str) -> bool {
    let mut words = words(rest).take(3);
    let mut next = || words.next().unwrap_or_default();
    let first = match next() {
        word if word == "then" || word == "and" => next(),
        word => word,
    };
    match first.as_str() {
        "repeat" => true,
        "do" => matches!(next().as_str(), "the" | "likewise"),
        _ => false,
    }
}

/// The sentences of a paragraph, as ranges of its text.
fn sentences(text: &str) -> Vec<std::ops::Range<usize>> {
    let mut all = Vec::new();
    let mut from = 0;
    for (at, c) in text.char_indices() {
        if at < from || !matches!(c, '.' | '!' | '?' | ';' | ',') {
            continue;
        }
        let rest = &text[at + 1..];
        // `Fit two bolts; repeat for the other side.`
        if matches!(c, ';' | ',') {
            if opens_repetition(rest) {
                all.push(from..at + 1);
                from = text.len() - rest.trim_start().len();
            }
            continue;
        }
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
            regex(r"(?i)\bcomes? with\b.*\b(?:fitted|installed|attached|in place)\b"),
            Usage::ComesFitted,
        ),
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
/// What a later sentence says of what was removed: `Keep them.`
static KEEPS: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"(?i)\b(?:keep|retain|save|set aside|put aside|use (?:them|it) again)\b")
        .expect("the pattern is fixed and tested")
});
static REMOVED_BEFORE: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"(?i)\bremoved (?:earlier|before|in (?:stage|step|section))\b")
        .expect("the pattern is fixed and tested")
});
static REMOVES: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"(?i)^\W*(?:now |then )?(?:remove|take (?:off|out)|unbolt)\b")
        .expect("the pattern is fixed and tested")
});

/// How guides name the order in which bolts are tightened.
const SEQUENCES: &[&str] = &[
    "star pattern",
    "cross pattern",
    "criss-cross",
    "crisscross",
    "crosswise",
    "diagonally",
    "from the centre outward",
    "from the center outward",
    "from the middle outward",
    "from the centre out",
    "from the center out",
    "from the middle out",
    "in two passes",
    "in three passes",
];

/// The order of tightening that a sentence names.
fn sequence(text: &str) -> Option<&'static str> {
    let text = text.to_lowercase();
    SEQUENCES.iter().copied().find(|words| text.contains(words))
}

/// One line that a stage asks for.
#[derive(Debug, Clone)]
pub struct Asked {
    /// The line on which the sentence starts, and its words.
    pub row: u32,
    pub text: String,
    /// The words of it that name the item, numbers in figures.
    pub phrase: String,
    /// `Err`: no item, kept word for word, and why.
    pub callout: Result<Callout, &'static str>,
    pub usage: Option<Usage>,
    pub torque: Option<String>,
    pub place: Option<String>,
    /// As a cell gives it.
    pub option: Option<String>,
    /// The order in which the joint is tightened, in the guide's words.
    pub sequence: Option<&'static str>,
    pub places: u32,
    pub doubts: Vec<Doubt>,
    /// Taken off, and not said whether kept or thrown away.
    removed: bool,
}

impl Asked {
    /// What the sentence says beside the item.
    pub fn says(&self) -> Option<Vec<(Meaning, Box<str>)>> {
        let places = (self.places != 1).then(|| self.places.to_string());
        let usage = self.usage.map(|usage| usage.to_string());
        let said = [
            (Meaning::Places, places.as_ref()),
            (Meaning::Place, self.place.as_ref()),
            (Meaning::Option, self.option.as_ref()),
            (Meaning::Use, usage.as_ref()),
            (Meaning::Torque, self.torque.as_ref()),
        ];
        let said = said.into_iter();
        Some(
            said.filter_map(|(what, text)| Some((what, text?.as_str().into())))
                .collect(),
        )
    }
}

/// A guide being read: the paragraph so far, and what the stage's sentences have asked for.
#[derive(Debug, Default)]
pub struct Guide {
    paragraph: Vec<(u32, String)>,
    /// Rows that were taken as prose since they were last handed on.
    pub rows: Vec<u32>,
    /// The title of the stage being read.
    pub title: String,
    /// How often sentences repeat what stands before them, as the job confirms it, by the line on
    /// which they start.
    confirmed: BTreeMap<u32, u32>,
    /// How often sentences that repeat were taken to, by the line on which they start.
    pub repeats: BTreeMap<u32, u32>,
    asked: Vec<Asked>,
    /// The first line of the last joint.
    joint: usize,
    /// What a repetition repeats: from here on, or, where nothing came since the last, that again.
    since: usize,
    repeated: Range<usize>,
}

impl Guide {
    /// A guide of which nothing is read yet. `confirmed`: [`super::Input::repeats`].
    pub fn new(confirmed: BTreeMap<u32, u32>) -> Guide {
        Guide {
            confirmed,
            ..Guide::default()
        }
    }

    /// A line that the job confirms to repeat, and on which no sentence that repeats starts; and the
    /// lines on which such do.
    pub fn idle_repeat(&self) -> Option<(u32, &BTreeMap<u32, u32>)> {
        let idle = |row: &&u32| !self.repeats.contains_key(row);
        let row = self.confirmed.keys().find(idle)?;
        Some((*row, &self.repeats))
    }

    /// Takes a line of text if it is prose: one that begins a sentence, or goes on with one.
    /// `fresh`: a bullet or number stands in front, so that it goes on with none.
    pub fn takes(&mut self, row: u32, text: &str, fresh: bool, notation: Notation) -> bool {
        let goes_on = !fresh
            && self.paragraph.last().is_some_and(|(_, last)| {
                !last.trim_end().ends_with(['.', '!', '?', ':']) && !begins_list(last, text)
            });
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
        self.repeated = 0..0;
        std::mem::take(&mut self.asked)
    }

    fn sentence(&mut self, row: u32, text: &str, notation: Notation) {
        let mut said = sentence(text, notation);
        let asked = |callout| Asked {
            row,
            text: text.to_owned(),
            phrase: String::new(),
            callout,
            usage: None,
            torque: None,
            place: None,
            option: None,
            sequence: sequence(text),
            places: 1,
            doubts: Vec::new(),
            removed: false,
        };
        let unread = match () {
            () if said.too_long => Some("longer than any sentence"),
            () if said.calls.len() > MOST_ITEMS => Some("so many items are no sentence of a guide"),
            () => said.unread,
        };
        if let Some(why) = unread {
            self.asked.push(asked(Err(why)));
            return;
        }
        let Use {
            usage,
            mut doubts,
            removed,
        } = usage(&said, text);
        doubts.append(&mut said.doubts);
        let calls = std::mem::take(&mut said.calls);
        let (mut known, mut new): (Vec<Call>, Vec<(Call, Option<Doubt>)>) = Default::default();
        for call in calls {
            match self.role(&call, usage, &new) {
                Part::Mention => known.push(call),
                Part::Wanted(doubt) => new.push((call, doubt)),
            }
        }
        if new.is_empty() {
            self.tell_torques(&said, &known, text);
            self.tell_use(text, usage);
            if let Some(sequence) = sequence(text) {
                for asked in self.asked.iter_mut().skip(self.joint) {
                    asked.sequence = Some(sequence);
                }
            }
            if let Some(times) = said.repeat {
                self.repeat(&said, times, asked(Err("")));
            }
            return;
        }
        let stage = said.for_stage.as_deref();
        if let Some(stage) = stage.filter(|_| stage != stage_number(&self.title)) {
            doubts.push(Doubt::Said(
                format!("for step {stage}, which may call for them again: taken as new here")
                    .into(),
            ));
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
        for (call, mention) in new {
            let mut callout = call.callout;
            let mut doubts = doubts.clone();
            let usage = match mention {
                Some(doubt) => {
                    doubts.push(doubt);
                    Some(Usage::Reference)
                }
                None => usage,
            };
            if call.naming != Naming::New && usage.is_none() {
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
                place: said.place.clone(),
                option: said.option.as_ref().map(ToString::to_string),
                places: said.places,
                doubts,
                removed,
                phrase: said.text[call.at.clone()].trim().to_owned(),
                ..asked(Ok(callout))
            });
        }
    }

    /// Whether a call asks for pieces or mentions what is there. Pieces that are for reference, since
    /// they may be wanted or not, carry the doubt. `also`: what the sentence asks for before it.
    fn role(&self, call: &Call, usage: Option<Usage>, also: &[(Call, Option<Doubt>)]) -> Part {
        let item = &call.callout.item;
        let vague = call.callout.quantity.is_none() && item.diameter.is_none();
        let doubt = |text: &str| Part::Wanted(Some(Doubt::Said(text.into())));
        let here = || also.iter().map(|(call, _)| &call.callout);
        let before = || {
            self.asked
                .iter()
                .filter_map(|asked| asked.callout.as_ref().ok())
        };
        let named = || {
            before()
                .chain(here())
                .any(|known| known.item.kind == item.kind)
        };
        let called_for = || {
            here().any(|known| fits(&call.callout, known))
                || self.is_called_for(&call.callout, usage)
        };
        match call.naming {
            Naming::New => Part::Wanted(None),
            Naming::Not if vague => Part::Mention,
            Naming::Not => doubt("said to be left out: makes no demand"),
            Naming::Known if called_for() => Part::Mention,
            Naming::Put if vague && (named() || usage == Some(Usage::CarriedOver)) => Part::Mention,
            Naming::Put if !vague && called_for() => {
                doubt("called for before in this stage: taken as those, and not as more")
            }
            Naming::Some if usage.is_none() && self.has_as_many(&call.callout) => {
                doubt("called for before in this stage: taken as so many of those, and not as more")
            }
            _ => Part::Wanted(None),
        }
    }

    fn last_bolt(&self) -> Option<(crate::hardware::Item, u32)> {
        self.asked.iter().rev().find_map(|asked| {
            let item = &asked.callout.as_ref().ok()?.item;
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
                        .filter_map(|asked| asked.callout.as_ref().ok())
                        .any(|known| fits(callout, known))
            }
            Some(q) => {
                usage.is_none()
                    && self.asked.iter().any(|asked| {
                        asked.callout.as_ref().is_ok_and(|known| {
                            let pieces = known.quantity.map(|k| k.pieces);
                            let in_all = pieces.map(|p| p * u64::from(asked.places));
                            fits(callout, known)
                                && (pieces == Some(q.pieces) || in_all == Some(q.pieces))
                        })
                    })
            }
        }
    }

    /// True where at least so many of what a callout names were asked for in this stage.
    fn has_as_many(&self, callout: &Callout) -> bool {
        let wanted = callout.quantity.map_or(0, |q| q.pieces);
        self.asked.iter().any(|asked| {
            asked.callout.as_ref().is_ok_and(|known| {
                let pieces = known.quantity.map_or(0, |k| k.pieces);
                fits(callout, known) && pieces.saturating_mul(u64::from(asked.places)) >= wanted
            })
        })
    }

    /// Gives what is said of hardware taken off in the sentence before to its lines.
    fn tell_use(&mut self, text: &str, usage: Option<Usage>) {
        let usage = match usage {
            Some(Usage::Discarded) => Usage::Discarded,
            None if KEEPS.is_match(text) => Usage::Returned,
            _ => return,
        };
        for asked in self.asked[self.joint..].iter_mut().filter(|a| a.removed) {
            asked.removed = false;
            asked.usage = Some(usage);
            asked.doubts.retain(|doubt| *doubt != kept_or_not());
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
                let Ok(callout) = &asked.callout else {
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

    /// Asks again for what was asked for since the last repetition. `aside`: the sentence, to be kept
    /// word for word where it cannot be known what it repeats.
    fn repeat(&mut self, said: &Sentence, times: u32, aside: Asked) {
        let elsewhere = said
            .repeats_stage
            .as_deref()
            .is_some_and(|stage| Some(stage) != stage_number(&self.title));
        let end = self.asked.len();
        let again = match self.since.min(end) {
            since if since < end => since..end,
            _ => self.repeated.clone(),
        };
        let items = |range: &Range<usize>| {
            let all = self.asked[range.clone()].iter();
            all.filter(|asked| asked.callout.is_ok() && asked.usage != Some(Usage::Reference))
                .cloned()
                .collect::<Vec<Asked>>()
        };
        let items = items(&again);
        if elsewhere || items.is_empty() {
            self.asked.push(Asked {
                callout: Err(match elsewhere {
                    true => "repeats another stage: list what it takes here",
                    false => "repeats, and nothing was called for before it in this stage",
                }),
                ..aside
            });
            return;
        }
        let confirmed = self.confirmed.get(&aside.row).copied();
        self.repeats.insert(aside.row, confirmed.unwrap_or(times));
        for mut asked in items {
            if confirmed.is_none() {
                asked.doubts.push(Doubt::Said(
                    format!(
                        "\"{}\": line {} again, {}: to confirm or change that, write repeats = {{ {} = {times} }} beside this file in the job file",
                        aside.text,
                        asked.row,
                        match times {
                            1 => "once".to_owned(),
                            _ => format!("{times} times"),
                        },
                        aside.row,
                    )
                    .into(),
                ));
            }
            asked.row = aside.row;
            asked.text.clone_from(&aside.text);
            asked.place.clone_from(&said.place);
            asked.places = asked.places.saturating_mul(confirmed.unwrap_or(times));
            if confirmed != Some(0) {
                self.asked.push(asked);
            }
        }
        self.repeated = again;
        self.since = self.asked.len();
        self.joint = self.asked.len();
    }
}

/// What a call is to the list.
enum Part {
    /// Hardware that is there: makes no line.
    Mention,
    /// Makes a line; with a doubt, one for reference.
    Wanted(Option<Doubt>),
}

/// The number of a stage, from its title: `4B` of `Step 4B - Rails`.
fn stage_number(title: &str) -> Option<&str> {
    title
        .split(|c: char| !c.is_ascii_alphanumeric())
        .find(|word| word.starts_with(|c: char| c.is_ascii_digit()))
}

/// True where a mention fits an item, as far as both state it.
fn fits(mention: &Callout, item: &Callout) -> bool {
    let (a, b) = (&mention.item, &item.item);
    a.kind == b.kind
        && (a.diameter.is_none() || a.diameter == b.diameter)
        && (a.length.is_none() || a.length == b.length)
        && (a.style.is_none() || b.style.is_none() || a.style == b.style)
}

/// What becomes of a sentence's items.
struct Use {
    usage: Option<Usage>,
    doubts: Vec<Doubt>,
    /// Taken off, and not said whether kept or thrown away.
    removed: bool,
}

fn kept_or_not() -> Doubt {
    Doubt::Said("removed; whether kept or thrown away is not said".into())
}

fn usage(said: &Sentence, text: &str) -> Use {
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
