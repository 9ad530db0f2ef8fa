//! Sentences that tell of what is there when it is done: `Twelve M10 x 70 bolts hold the frame.` To those that put as many
//! in they are no more.

use rustc_hash::FxHashMap;

use super::{
    Asked,
    announced::may_be_those,
    listed::{Key, key, pieces, wanted},
    prose::words,
    whereabouts::Whereabouts,
};
use crate::{Doubt, notation::number_in_words};

/// What a stage has called for of an item: pieces, the rows that were looked at first and last, and the first places.
#[derive(Default)]
struct CalledFor {
    pieces: u64,
    first: u32,
    last: u32,
    places: Vec<Whereabouts>,
}

impl CalledFor {
    fn add(&mut self, row: u32, pieces: u64, place: Whereabouts) {
        if self.places.is_empty() {
            self.first = row;
        }
        self.last = row;
        self.pieces = self.pieces.saturating_add(pieces);
        if self.places.len() < MOST {
            self.places.push(place);
        }
    }
}

/// More sentences that call for one item are held for no others (common practice, no source).
const MOST: usize = 100;

/// Doubts what a sentence begins with, where those before it in the stage call for as many, at no other place.
pub(super) fn ask_of_restated(all: &mut [Asked], title: &str) {
    let mut before: FxHashMap<Key, CalledFor> = FxHashMap::default();
    for one in all.iter_mut() {
        let (Some(item), Some(pieces)) = (wanted(one), pieces(one)) else {
            continue;
        };
        if one.announced.is_some() {
            continue;
        }
        let place = Whereabouts::of(&one.text).without(title);
        let key = key(item);
        if tells_of_done(&one.text) && !one.doubts.iter().any(Doubt::is_of_how_many) {
            one.doubts.push(Doubt::OrElse {
                pieces: 0,
                said: "it tells of what was put in: may be the same pieces; taken as more".into(),
            });
            continue;
        }
        if let Some(there) = before.get(&key)
            && there.pieces == pieces
            && item.diameter.is_some()
            && tells(&one.text)
            && !there.places.iter().any(|of| of.is_apart_from(&place))
            && !one.doubts.iter().any(Doubt::is_of_how_many)
        {
            one.doubts
                .push(may_be_those(there.first, "calls for as many"));
            continue;
        }
        before.entry(key).or_default().add(one.row, pieces, place);
    }
}

/// Doubts what a sentence states of the whole, where those behind it in the stage call for as many, at no other place: `The
/// top is held by four screws. Drive one at each corner.`
pub(super) fn ask_of_stated(all: &mut [Asked], title: &str) {
    let mut behind: FxHashMap<Key, CalledFor> = FxHashMap::default();
    for one in all.iter_mut().rev() {
        let (Some(item), Some(pieces)) = (wanted(one), pieces(one)) else {
            continue;
        };
        if one.announced.is_some() {
            continue;
        }
        let place = Whereabouts::of(&one.text).without(title);
        let key = key(item);
        if item.diameter.is_some() && states(&one.text) {
            if let Some(there) = behind.get(&key)
                && there.pieces == pieces
                && !there.places.iter().all(|of| of.is_elsewhere(&place))
                && !one.doubts.iter().any(Doubt::is_of_how_many)
            {
                one.doubts
                    .push(may_be_those(there.last, "calls for as many"));
            }
            continue;
        }
        behind.entry(key).or_default().add(one.row, pieces, place);
    }
}

/// True for a sentence of what the reader has done so far, or sees: `You should have used eight bolts.`
pub(super) fn tells_of_done(text: &str) -> bool {
    const DONE: &[&str] = &["put", "driven", "got", "set"];
    let all: Vec<String> = words(text).take(12).collect();
    let at = |known: &[&str]| all.iter().position(|word| known.contains(&&**word));
    let Some(you) = at(&["you", "we"]) else {
        return false;
    };
    let behind = &all[you + 1..];
    let is =
        |at: usize, known: &[&str]| (behind.get(at)).is_some_and(|word| known.contains(&&**word));
    let first = usize::from(is(0, &["should", "will", "must"]));
    let now = first + usize::from(is(first, &["now", "then"]));
    let done = |at: usize| {
        (behind.get(at)).is_some_and(|word| word.ends_with("ed") || DONE.contains(&&**word))
    };
    (is(now, &["have"]) && done(now + 1 + usize::from(is(now + 1, &["now", "then"]))))
        || (first > 0 && is(now, &["see"]))
}

/// True for a sentence that states how something is, and has nothing done: `The top is held by`, `The top has`,
/// `Summary:`.
fn states(text: &str) -> bool {
    const SUMS: &[&str] = &["summary", "overview"];
    let all: Vec<String> = words(text).collect();
    let is = |at: usize, known: &[&str]| all.get(at).is_some_and(|word| known.contains(&&**word));
    let done = |at: usize| {
        let form =
            |word: &String| word.ends_with("ed") || ["held", "made", "put"].contains(&&**word);
        all.get(at).is_some_and(form)
    };
    let first = all.first().map_or("", String::as_str);
    let is_thing = ["the", "this", "these", "each", "both", "in", "all"].contains(&first);
    SUMS.contains(&first)
        || is_thing
            && (1..all.len()).any(|at| {
                is(at, &["has", "have"])
                    || (is(at, &["is", "are"])
                        && done(at + 1 + usize::from(is(at + 1, &["now", "then"]))))
            })
}

/// True for a sentence that begins with a count, or with when it is so: `When this stage is finished, twelve bolts ...`
fn tells(text: &str) -> bool {
    const WHEN: &[&str] = &[
        "when", "once", "after", "now", "there", "finally", "at", "by", "in", "you",
    ];
    let mut words = words(text);
    let first = words.next().unwrap_or_default();
    let counts =
        |word: &str| number_in_words(word).is_some() || word.bytes().all(|b| b.is_ascii_digit());
    let is_over = || {
        [
            " will be ",
            " are now ",
            " should be ",
            " hold ",
            " have been ",
        ]
        .iter()
        .any(|is| text.contains(is))
    };
    counts(&first) || (WHEN.contains(&&*first) && is_over()) || states(text)
}
