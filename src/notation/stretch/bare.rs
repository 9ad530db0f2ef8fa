//! Bare whole numbers in front of a size that says of itself that it is one: `got 64 washers 3/8`, `item 6,
//! bolt M10 x 80`.
//!
//! `M10`, `#8`, `1/2-13` and `3/8 x 5` are the size wherever a bare whole number stands; that number counts,
//! or is left over and told.

use super::Stretch;
use crate::{
    hardware::Diameter,
    notation::{
        number::{Prefix, Shape},
        size::Dims,
        token::Tok,
        words::{Noun, Sense, Senses},
    },
};

/// Tokens behind a figure among which a size is looked for: far more than an item has.
const NEAR: usize = 64;

impl Stretch<'_, '_> {
    /// Passes over the bare whole numbers at `i`, where a size stands behind them; one that can count does.
    /// Returns where to go on.
    pub(super) fn bare(&mut self, i: usize, dims: &Dims<'_>, end: usize) -> Option<usize> {
        if !dims.is_all_bare() || !self.is_sized_behind(end) {
            return None;
        }
        if self.bare_counts(i)
            && dims.len() == 1
            && let Some(end) = self.lead_end(i)
        {
            self.count(self.whole(i), None, i..end);
            return Some(end);
        }
        Some(end)
    }

    fn is_sized_behind(&self, from: usize) -> bool {
        (from..self.end.min(from + NEAR)).any(|at| match self.number(at) {
            Some((_, _, Prefix::Metric | Prefix::Number)) => true,
            Some((value, Shape::Fraction, Prefix::None)) => {
                let (dims, _) = self.dims(at, None);
                let standard = || Diameter::Inch(value).is_standard();
                dims.thread.is_some() || dims.len() > 1 || (!self.is_by_number() && standard())
            }
            _ => false,
        })
    }

    /// True for what may be of a number size, so that a fraction alone is its length: `8 wood screw 3/4`.
    fn is_by_number(&self) -> bool {
        let nouns = self.draft.tokens.clone().take(NEAR);
        let noun = nouns.filter_map(|at| self.reader.noun(at)).next();
        matches!(noun, None | Some(Noun::Screw))
    }

    /// True where a bare whole number stands as a count does: before what it counts or behind a colon, no
    /// word before it that it may belong to (`bag 3`, `panel 3`), and no other figure that may count.
    fn bare_counts(&self, i: usize) -> bool {
        let before = i.checked_sub(1).filter(|&at| at >= self.draft.tokens.start);
        let names = |at: usize| {
            let row = self.reader.word(at);
            row.is_some_and(|row| row.kinds.meet(Senses::BINDS) || row.says(Sense::Thing))
        };
        let introduced = before.is_some_and(|at| matches!(self.reader.tok(at), Some(Tok::Colon)));
        (self.draft.traits.noun.is_none() || introduced)
            && !self.reader.notation.counted
            && self.draft.quantity.is_none()
            && !before.is_some_and(names)
            && !matches!(self.tok(i + 1), Some(Tok::Comma))
            && !(self.draft.tokens.clone().take(NEAR))
                .any(|at| self.may_count(at) && self.whole(at) != self.whole(i))
    }

    /// True for a whole number of which nothing was made, with nothing beside it that makes it a part of a
    /// size.
    fn may_count(&self, at: usize) -> bool {
        let joins = |tok: Option<Tok>| {
            matches!(
                tok,
                Some(Tok::Join | Tok::Dash | Tok::Slash | Tok::Inch | Tok::Dot)
            )
        };
        let bound = |at: usize| {
            self.reader
                .word(at)
                .is_some_and(|row| row.kinds.meet(Senses::BINDS))
        };
        let before = at.checked_sub(1);
        self.whole(at).is_some()
            && self.reader.tokens[at].role.is_none()
            && !joins(self.tok(at + 1))
            && !before.is_some_and(|before| joins(self.tok(before)) || bound(before))
    }

    /// True where a whole number in front of the one at `i` was passed over: either may be the count.
    pub(super) fn passed_over(&self, i: usize) -> bool {
        let left = |at: usize| self.reader.tokens[at].role.is_none() && self.whole(at).is_some();
        (self.draft.tokens.start..i)
            .rev()
            .take(NEAR)
            .any(|at| left(at) && self.whole(at) != self.whole(i))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use crate::notation::{Notation, cases::properties::same_each_time, describe};

    proptest! {
        #![proptest_config(same_each_time(2000))]

        /// Whatever words and bare number stand in front, an item is of the size that can be nothing else;
        /// the number is its count, or is told.
        #[test]
        fn a_size_goes_before_a_bare_number(
            words in prop::sample::select(vec![
                "got ", "we need ", "item ", "bag ", "line ", "zinc ", "tot. ", "hex ",
                "_", "photo ", "panel ", "PO ",
            ]),
            number in 2_u64..200,
            name in prop::sample::select(vec!["hex bolt ", "flat washers, ", "carriage bolts - ", "hex nuts: "]),
            size in prop::sample::select(vec!["M10 x 70", "3/8 x 5", "1/2-13 x 4", "#10-24 x 1"]),
        ) {
            let of = |text: &str| describe(text, Notation::default()).expect("an item").swap_remove(0);
            let (read, alone) = (of(&format!("{words}{number} {name}{size}")), of(&format!("{name}{size}")));
            prop_assert_eq!(read.item.diameter, alone.item.diameter);
            let count = read.quantity.map(|quantity| quantity.pieces);
            prop_assert!(count == Some(number) || !read.doubts.is_empty(), "{:?}", read);
        }
    }
}
