//! Every word of a sentence, and what it was taken for.

use std::ops::Range;

use super::{
    THERE_ARE,
    counted::{COUNTED, EACH, OPEN},
    named::{NAMED, PART_NUMBER},
    sentence, setting,
    words::Words,
};
use crate::notation::{
    callout::{Notation, Role},
    readings::{Piece, readings},
};

/// The pieces of a sentence with its numbers in figures, in order, white space left out. `phrase`: the
/// words of it that name the item in question; other items are told as such.
pub fn pieces(written: &str, phrase: &str, notation: Notation) -> (String, Vec<Piece>) {
    let said = sentence(written, notation);
    let text = said.text;
    let mut roles: Vec<Option<Role>> = vec![Some(Role::Told); text.len()];
    let mut mark = |range: Range<usize>, role: Option<Role>| roles[range].fill(role);
    let words = Words::of(&text);
    for found in OPEN
        .find_iter(&words, &text)
        .chain(EACH.find_iter(&words, &text))
        .chain(COUNTED.find_iter(&words, &text))
    {
        mark(found.range(), Some(Role::Places));
    }
    for found in NAMED.find_iter(&words, &text) {
        mark(found.range(), Some(Role::Note));
    }
    for found in PART_NUMBER.find_iter(&words, &text) {
        mark(found.range(), Some(Role::Number));
    }
    for found in THERE_ARE.find_iter(&words, &text) {
        mark(found.range(), Some(Role::Places));
    }
    if let Some(place) = &said.place
        && let Some(at) = text.to_ascii_lowercase().find(place.as_str())
        && at + place.len() <= text.len()
    {
        mark(at..at + place.len(), Some(Role::Note));
    }
    if let Some((_, at)) = setting::option_at(&words, &text) {
        mark(at, Some(Role::Note));
    }
    for told in &said.told {
        mark(told.clone(), Some(Role::Places));
    }
    for measure in &said.measures {
        mark(measure.clone(), Some(Role::Measure));
    }
    for count in &said.counts {
        mark(count.clone(), Some(Role::Count));
    }
    for left in &said.left_over {
        mark(left.clone(), None);
    }
    for (at, torque) in &said.torques {
        mark(*at..at + torque.len(), Some(Role::Torque));
    }
    let mut own = true;
    for call in &said.calls {
        let words = &text[call.at.clone()];
        let start = call.at.start + words.len() - words.trim_start().len();
        if own && words.trim() == phrase {
            own = false;
            for piece in readings(phrase, notation).pieces {
                mark(start + piece.at.start..start + piece.at.end, piece.role);
            }
        } else {
            mark(call.at.clone(), Some(Role::Other));
        }
    }
    let pieces = joined(&text, &roles);
    (text, pieces)
}

/// Words of one role together.
fn joined(text: &str, roles: &[Option<Role>]) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = Vec::new();
    for (at, c) in text.char_indices().filter(|(_, c)| !c.is_whitespace()) {
        let end = at + c.len_utf8();
        match pieces.last_mut() {
            Some(last) if last.role == roles[at] => last.at.end = end,
            _ => pieces.push(Piece {
                at: at..end,
                role: roles[at],
            }),
        }
    }
    // A full stop alone says nothing.
    pieces.retain(|piece| text[piece.at.clone()].contains(char::is_alphanumeric));
    pieces
}
