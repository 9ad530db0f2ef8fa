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

/// What a stage has called for of an item: pieces, and the first row and places.
struct CalledFor {
    pieces: u64,
    row: u32,
    places: Vec<Whereabouts>,
}

/// More sentences that call for one item are held for no others (common practice, no source).
const MOST: usize = 100;

/// Doubts what a sentence begins with, where those before it in the stage call for as many, at no other place.
pub(super) fn ask_of_restated(all: &mut [Asked], title: &str) {
    let mut before: FxHashMap<Key, CalledFor> = FxHashMap::default();
    for one in all {
        let (Some(item), Some(pieces)) = (wanted(one), pieces(one)) else {
            continue;
        };
        if one.announced.is_some() {
            continue;
        }
        let place = Whereabouts::of(&one.text).without(title);
        let key = key(item);
        if let Some(there) = before.get(&key)
            && there.pieces == pieces
            && item.diameter.is_some()
            && tells(&one.text)
            && !there.places.iter().any(|of| of.is_apart_from(&place))
            && !one.doubts.iter().any(Doubt::is_of_how_many)
        {
            one.doubts
                .push(may_be_those(there.row, "calls for as many"));
            continue;
        }
        let there = before.entry(key).or_insert(CalledFor {
            pieces: 0,
            row: one.row,
            places: Vec::new(),
        });
        there.pieces = there.pieces.saturating_add(pieces);
        if there.places.len() < MOST {
            there.places.push(place);
        }
    }
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
    counts(&first) || (WHEN.contains(&&*first) && is_over())
}
