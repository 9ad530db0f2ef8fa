//! Plain words before a colon in front of an item: `front legs: 4 bolts M8 x 60`.

use super::Stretch;
use crate::notation::{
    callout::Role,
    token::Tok,
    words::{Noun, Senses},
};

/// A label of more words is a sentence.
const LONGEST: usize = 4;
/// Tokens behind a label among which the item's words are looked for: far more than an item has.
const NEAR: usize = 64;

impl Stretch<'_, '_> {
    /// Passes over plain words before a colon or a dash, where the count or a size stands behind: `front
    /// legs: 4`. What becomes of them is seen when it is known what the item says of itself.
    pub(super) fn label(&mut self, start: usize) -> usize {
        let is_plain = |at: usize| match self.tok(at) {
            Some(Tok::Unknown) => !crate::unsettling::is_in_name(self.text(at)),
            Some(Tok::Word(row)) => row.kinds.within(Senses::PLAIN),
            _ => false,
        };
        let most = self.end.min(start + LONGEST + 1);
        let Some(end) = (start..most).find(|&at| !is_plain(at)) else {
            return start;
        };
        let mark = match self.tok(end) {
            Some(Tok::Colon) => self.text(end) == ":",
            Some(Tok::Dash) => self.reader.spaced(end),
            _ => false,
        };
        if end == start || !mark || !self.reader.spaced(end + 1) {
            return start;
        }
        let counts = self.number(end + 1).is_some() || self.reader.counted(end + 1).is_some();
        let names = |at| {
            let row = self.reader.word(at);
            row.is_some_and(|row| row.kinds.meet(Senses::NOUN.with(Senses::MARK)))
        };
        if !counts || !(end + 1..self.end.min(end + NEAR)).any(names) {
            return start;
        }
        self.draft.label = start..end;
        end + 1
    }

    /// A label says nothing more of an item whose own words say which it is, and how many.
    pub(super) fn settle_label(&mut self) {
        let draft = &self.draft;
        let sized = match draft.traits.noun {
            Some(Noun::Nut | Noun::Washer) => !draft.dims.is_empty() && !draft.traits.is_plain(),
            _ => draft.dims.len() > 1,
        };
        if !draft.label.is_empty() && draft.quantity.is_some() && sized && !draft.traits.unknown {
            self.reader.mark(draft.label.clone(), Role::Note);
        }
    }
}
