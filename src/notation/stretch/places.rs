//! Places that a list's line names: `both ends`, `each corner`.

use super::Stretch;
use crate::{
    doubt::Doubt,
    notation::{callout::Role, token::Tok, words::Sense},
};

impl<'a> Stretch<'_, 'a> {
    /// `both ends`, `each of the four corners`: so many places. `each corner`: a number that is not
    /// stated. The words in front (`at each end`) go with it.
    pub(super) fn places(&mut self, i: usize) -> usize {
        let names = |at: usize| {
            at < self.end
                && !self.reader.says(at, Sense::With)
                && (matches!(self.tok(at), Some(Tok::Unknown)) || self.says(at, Sense::Thing))
        };
        let mut at = i + 1;
        let mut times = self.says(i, Sense::Both).then_some(2);
        if self.says(at, Sense::Of) || times.is_some() {
            at += usize::from(self.says(at, Sense::Of));
            at += usize::from(at < self.end && self.text(at).eq_ignore_ascii_case("the"));
            let stated = self.whole(at).or_else(|| {
                self.sense(at, |sense| match sense {
                    Sense::Count(n) => Some(*n),
                    _ => None,
                })
            });
            if let (Some(n), None) = (stated, times) {
                times = u32::try_from(n).ok();
                at += 1;
            }
        }
        if !names(at) {
            return i + 1;
        }
        let prepositions = ["at", "on", "in", "to"];
        let before = i.checked_sub(1).filter(|&before| {
            self.reader.is_word(before)
                && prepositions
                    .iter()
                    .any(|word| self.text(before).eq_ignore_ascii_case(word))
        });
        let first = before.unwrap_or(i);
        let words = self.reader.tokens[first].start..self.reader.tokens[at].end;
        if let Some(before) = before {
            self.reader.tokens[before].role = None;
        }
        self.reader.tokens[i].role = None;
        self.reader.mark(first..at + 1, Role::Places);
        match times {
            Some(times) => {
                self.draft.places = Some(self.draft.places.unwrap_or(1).saturating_mul(times));
            }
            None => {
                let words = self.reader.text[words].into();
                self.draft.doubts.push(Doubt::Multiplier(words));
            }
        }
        at + 1
    }
}
