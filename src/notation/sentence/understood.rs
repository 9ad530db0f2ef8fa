//! What a sentence does with its hardware by a word that nobody here knows: `Two bolts are admired.`
//!
//! A word that no table holds may name a thing, where an article or a preposition leads up to it. Anywhere else it
//! says what becomes of the items, and that may be anything. The tables hold plain English (common practice, no source).

use std::{ops::Range, sync::LazyLock};

use rustc_hash::FxHashMap;

use super::{
    Call,
    verbs::forms,
    words::{Word, Words},
};
use crate::notation::words::look_up;

/// Words behind which the names of things stand.
#[rustfmt::skip]
const LEADS: &[&str] = &[
    "a", "an", "the", "this", "that", "these", "those", "its", "their", "your", "our", "each", "every", "both", "all", "any", "another",
    "other", "no", "either", "neither", "such", "same", "first", "second", "third", "fourth", "fifth", "sixth", "next", "last", "one",
    "about", "above", "across", "against", "along", "alongside", "among", "around", "at", "behind", "below", "beneath", "beside",
    "between", "beyond", "by", "down", "for", "from", "in", "inside", "into", "like", "near", "of", "off", "on", "onto", "opposite", "out",
    "outside", "over", "past", "per", "round", "through", "throughout", "to", "toward", "towards", "under", "underneath", "up", "via",
    "with", "within", "using", "than", "versus",
];

/// Of those, the ones that no verb of a thing stands in front of: `Zorb the plate`.
const DETERMINERS: &[&str] = &[
    "a", "an", "the", "this", "these", "those", "its", "their", "your", "each", "every", "both",
    "all",
];

/// Verbs behind which another tells what becomes of a thing: `are zorbed`.
const STATES: &[&str] = &[
    "am", "is", "are", "was", "were", "be", "been", "being", "has", "have", "had", "get", "gets",
    "got", "will", "may", "might", "must", "shall", "should", "can", "could", "would", "do",
    "does", "did", "let",
];

/// Words that join what stands about them.
const JOINS: &[&str] = &[
    "and", "or", "nor", "but", "plus", "then", "also", "not", "only", "too", "just", "even",
];

/// Words that open a clause.
#[rustfmt::skip]
const CLAUSES: &[&str] = &[
    "where", "wherever", "when", "whenever", "if", "unless", "so", "which", "who", "once", "until", "till", "while", "as", "before", "after", "because",
    "since", "though", "although", "whether", "how", "what", "why",
];

/// Words that stand for what was named, or tell where, when and how.
#[rustfmt::skip]
const PLAIN: &[&str] = &[
    "it", "they", "them", "itself", "themselves", "you", "we", "i", "he", "she", "there", "here", "now", "again", "together", "apart", "away", "back",
    "aside", "first", "finally", "next", "later", "still", "already", "yet", "once", "twice", "well", "right", "left", "flush", "tight", "loose",
    "finger", "snug", "level", "plumb", "square", "upright", "vertical", "horizontal", "parallel", "upside", "inward", "inwards",
    "outward", "outwards", "upward", "upwards", "downward", "downwards", "forward", "forwards", "backwards", "sideways", "clockwise",
    "anticlockwise", "counterclockwise", "overhead", "underneath", "inside", "outside", "above", "below", "please", "very", "quite", "rather", "almost",
    "enough", "more", "most", "less", "least", "half", "few", "many", "much", "some", "own", "ready", "sure", "able", "due", "accordingly", "above", "shown",
    "uh", "um", "er", "erm", "ah", "alright", "em", "me", "us", "oh", "them", "okay", "ok", "home", "altogether", "everything", "anything", "something", "nothing", "instead", "too", "ones", "none", "each", "apiece", "respectively",
];

/// What a word does for those behind it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Does {
    /// `the`: a thing follows, and it is what is acted on.
    Determines,
    /// `of`, `second`: a thing follows.
    Leads,
    OpensClause,
    /// `are`: another verb follows.
    States,
    /// `fits`
    Acts,
    /// `and`, `there`
    Nothing,
}

/// The words that are known, in lower case.
static KNOWN: LazyLock<FxHashMap<Box<[u8]>, Does>> = LazyLock::new(|| {
    let mut known = FxHashMap::default();
    let tables = [
        (DETERMINERS, Does::Determines),
        (LEADS, Does::Leads),
        (CLAUSES, Does::OpensClause),
        (STATES, Does::States),
    ];
    let words = |(words, does): (&[&str], Does)| {
        let words: Vec<String> = words.iter().map(|word| (*word).to_owned()).collect();
        words.into_iter().map(move |word| (word, does))
    };
    let verbs = forms().map(|form| (form, Does::Acts));
    let others = [(JOINS, Does::Nothing), (PLAIN, Does::Nothing)];
    let all = tables.into_iter().flat_map(words).chain(verbs);
    for (word, does) in all.chain(others.into_iter().flat_map(words)) {
        known
            .entry(word.into_bytes().into_boxed_slice())
            .or_insert(does);
    }
    known
});

/// Letters of the longest word that is known, and more.
const LONGEST: usize = 20;

/// What a word does, where it is known.
fn does(word: &str) -> Option<Does> {
    let mut lower = [0; LONGEST];
    let lower = lower.get_mut(..word.len())?;
    lower.copy_from_slice(word.as_bytes());
    lower.make_ascii_lowercase();
    KNOWN.get(&*lower).copied()
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Position {
    /// A sentence or clause begins: a verb, or the name of a thing.
    Start,
    /// A thing may be named.
    Thing,
    /// Right behind an article or the like: whatever stands here names a thing, or tells of what sort it is.
    Led,
    /// What becomes of a thing, or what joins.
    Verb,
}

/// The first word of a sentence that says what becomes of its items, and is none that is known.
pub(super) fn not_understood(
    words: &Words,
    text: &str,
    masked: &str,
    calls: &[Call],
) -> Option<Range<usize>> {
    let mut position = Position::Start;
    let mut pending: Option<Word> = None;
    let mut end = 0;
    for &word in words.all() {
        let at = word.range();
        let between = &text[end..at.start];
        let begins = end == 0;
        end = at.end;
        let parts = || between.contains([':', ';', '.', '(', '!']) || between.contains(" - ");
        if between != " " && parts() {
            pending = None;
            position = Position::Start;
        }
        if let Some(call) = calls.iter().find(|call| call.at.contains(&at.start)) {
            if pending.is_some() {
                break;
            }
            position = match call.is_asked_for() {
                true => Position::Verb,
                false => Position::Thing,
            };
            continue;
        }
        let written = &text[at.clone()];
        let is_explained = masked[at.clone()].starts_with([' ', ';']);
        // `c/w`
        let is_letter = written.len() == 1 && text[end..].starts_with('/');
        let is_name = is_letter
            || !written
                .bytes()
                .all(|b| b.is_ascii_alphabetic() || b == b'\'')
            || (!begins && written.starts_with(|c: char| c.is_ascii_uppercase()));
        if is_explained || is_name {
            position = Position::Thing;
            continue;
        }
        let known = does(written);
        let row = match known {
            None => look_up(written),
            Some(_) => None,
        };
        let counts = row.is_some_and(|row| row.count().is_some());
        match known {
            Some(Does::Determines | Does::Leads) => {
                // `Zorb the plate`
                let behind = |pending: Word| text[pending.range().end..at.start].trim().is_empty();
                if known == Some(Does::Determines) && pending.is_some_and(behind) {
                    break;
                }
                position = Position::Led;
            }
            _ if counts => position = Position::Led,
            _ if position == Position::Led => position = Position::Thing,
            Some(Does::OpensClause) => position = Position::Start,
            Some(Does::States) => {
                pending = None;
                position = Position::Verb;
            }
            Some(Does::Acts) => {
                pending = None;
                position = Position::Thing;
            }
            Some(Does::Nothing) => {}
            None if row.is_some() || written.ends_with("ly") => {}
            None => match position {
                Position::Thing | Position::Led => {}
                Position::Start => {
                    pending = pending.or(Some(word));
                    position = Position::Thing;
                }
                Position::Verb => return Some(at),
            },
        }
    }
    pending.map(Word::range)
}
