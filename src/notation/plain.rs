//! Plain lines: one item, among whose words and figures nothing is to be mended before it is read.
//!
//! Most lines of a list are so. What is looked for in others (dictated numbers, dates, ranges of
//! counts, numerals in a row, further items) cannot stand in them, which is told by the kinds of their
//! tokens and of those side by side.

use std::slice;

use super::{
    callout::Callout,
    joint::finish,
    number::{Prefix, Shape},
    reader::Reader,
    token::Tok,
    words::Senses,
};
use crate::hardware::Ratio;

/// A count of fewer may be a part of the size behind it: nuts are made for 3-1/2, and for no 4-1/2.
pub(super) const LEAST_COUNT: i64 = 4;

/// From here on, numbers in words are put together: `twenty four`.
const TENS: u64 = 20;

impl Reader<'_> {
    /// The one item of a plain line; the same comes out where all is looked for.
    pub(super) fn plain(&mut self) -> Option<Vec<Callout>> {
        if !self.is_plain() {
            return None;
        }
        if let (Some(count), Some(_)) = (self.counted(0), self.number(1)) {
            self.tokens[0].tok = Tok::Count(count);
        }
        let mut draft = self.draft(0..self.tokens.len());
        if !draft.is_hardware() {
            *self = Reader::new(self.text, self.notation);
            return None;
        }
        Some(finish(self, slice::from_mut(&mut draft), 0))
    }

    fn is_plain(&self) -> bool {
        let mut nouns = 0;
        for (i, token) in self.tokens.iter().enumerate() {
            let plain = match token.tok {
                Tok::Word(row) if i == 0 && row.kinds.within(Senses::COUNT) => {
                    row.count().is_some_and(|n| self.is_plain_count(n))
                }
                Tok::Word(row) => {
                    nouns += usize::from(self.noun(i).is_some());
                    !row.kinds.meet(Senses::MENDED) && row.per_many().is_none()
                }
                Tok::Num {
                    value,
                    shape,
                    prefix,
                } => self.is_plain_figure(i, value, shape, prefix),
                // What follows may be another item.
                Tok::Comma | Tok::Semicolon => nouns > 0 && !self.goes_on_in_sizes(0, i),
                Tok::Dash => i > 0 && self.is_plain_dash(i),
                Tok::Dot => i != 1 && (self.number(i + 1).is_none() || self.is_of_grade(i)),
                // `(24)`; not `(a)`.
                Tok::Open => i > 0 || self.number(1).is_some(),
                Tok::Close => i != 1,
                Tok::Join => i > 0,
                Tok::Inch | Tok::Money | Tok::At => true,
                _ => false,
            };
            if !plain {
                return false;
            }
        }
        nouns == 1
    }

    /// True for the dot of `gr. 8`.
    fn is_of_grade(&self, dot: usize) -> bool {
        let before = dot.checked_sub(1).and_then(|at| self.tok(at));
        let grade = matches!(before, Some(Tok::Word(row)) if row.kinds.within(Senses::GRADE_WORD));
        grade && !self.spaced(dot) && self.spaced(dot + 1)
    }

    /// True for a figure that stands by itself, or is the count in front of a size that it is no part
    /// of.
    fn is_plain_figure(&self, i: usize, value: Ratio, shape: Shape, prefix: Prefix) -> bool {
        let before = i.checked_sub(1).and_then(|at| self.tok(at));
        // `up to 20`, `a 1 3/8`
        if matches!(before, Some(Tok::Word(row)) if row.kinds.within(Senses::HEDGING)) {
            return false;
        }
        let joined = matches!(before, Some(Tok::Join));
        let small = value.numer() < value.denom();
        match (self.tok(i + 1), prefix, shape) {
            (Some(Tok::Word(row)), ..) if row.kinds.within(Senses::HEDGING) => false,
            (Some(Tok::Num { .. }), Prefix::None, Shape::Whole) => {
                i == 0 && self.counts_size(value)
            }
            // `12 @ 1.89`: what is in front of a price is a count.
            (Some(Tok::Num { .. } | Tok::Slash | Tok::Colon | Tok::At | Tok::Money), ..) => false,
            // A count may have run into it: `24-1/2`.
            (_, Prefix::None, Shape::Fraction | Shape::Mixed) => small || joined,
            _ => true,
        }
    }

    /// True for a count in words, which is no part of a size: `four 5/8 x 6`, `six hex nuts`.
    fn is_plain_count(&self, n: u64) -> bool {
        let apart = match self.tokens.get(1).map(|token| token.tok) {
            Some(Tok::Word(row)) => {
                // `one hundred 40`
                let goes_on = Senses::UNITS.with(Senses::PER);
                !row.kinds.meet(goes_on) && !row.kinds.within(Senses::HEDGING)
            }
            Some(Tok::Num {
                value,
                shape,
                prefix,
            }) => {
                let size = prefix != Prefix::None || shape == Shape::Fraction;
                let small = prefix != Prefix::None || value.numer() < value.denom();
                let alone = self.spaced(1) && self.number(2).is_none();
                size && small && alone && !self.notation.counted
            }
            _ => false,
        };
        apart && (1..TENS).contains(&n)
    }

    /// True for a dash before threads, or between words.
    fn is_plain_dash(&self, i: usize) -> bool {
        let behind_figure = self.number(i - 1).is_some();
        match self.tok(i + 1) {
            // `20-24`
            Some(Tok::Num { .. }) => self.whole(i - 1).is_none() && !self.spaced(i + 1),
            next => next.is_some() && !behind_figure,
        }
    }

    /// True for a count in front that is no part of the size behind it: `24 1/2 x 3`, `8 M12`.
    fn counts_size(&self, count: Ratio) -> bool {
        let Some((size, shape, prefix)) = self.number(1) else {
            return false;
        };
        let apart = match (prefix, shape) {
            (Prefix::None, Shape::Fraction) => {
                size.numer() < size.denom() && count >= Ratio::from_integer(LEAST_COUNT)
            }
            (prefix, _) => prefix != Prefix::None && *count.numer() > 0,
        };
        let alone = self.spaced(1) && self.number(2).is_none();
        apart && alone && !self.notation.counted && !self.is_measured(2)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::notation::{Known, Notation, callout::ItemCells, unsettled::weighed, words::WORDS};

    /// Words of the table, sizes, counts and marks, in any order.
    fn text() -> impl Strategy<Value = String> {
        let sizes = [
            "1/2", "3/8-16", "1/4-20", "5/8-11", "M8", "M12", "#10", "3-3/4", "1-1/4", "9/8", "40",
            "3", "4", "5", "8", "13", "24", "304", "0", "0.31", ".5", "8.8", "1.25", "20-24",
            "24 1/2", "8 M12", "four", "two", "two 1/2", "six M12", "twenty", "10-24", "24-1/2",
            "4 or 5",
        ];
        let marks = [
            "x", "x", "x", ",", ",", "-", "(", ")", "\"", ".", "$", "@", ";", "'", "/", ":", "[",
            "]",
        ];
        let spellings: Vec<&str> = WORDS.iter().map(|row| row.spelling).collect();
        let usual = [
            "hex", "bolt", "bolts", "nut", "washer", "screw", "Grade", "zinc", "flat", "lock",
            "in", "long", "qty", "ea", "dia", "UNC", "cap", "to", "item", "gr. 8", "Gr. 5",
            "cl. 8.8",
        ];
        let piece = prop_oneof![
            prop::sample::select(sizes.to_vec()),
            prop::sample::select(usual.to_vec()),
            prop::sample::select(marks.to_vec()),
            prop::sample::select(spellings),
        ];
        (prop::collection::vec(piece, 1..9), any::<bool>()).prop_map(|(pieces, tight)| {
            let text = pieces.join(" ");
            match tight {
                true => text
                    .replace(" - ", "-")
                    .replace("( ", "(")
                    .replace(" )", ")"),
                false => text,
            }
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(20_000))]

        /// What is read of a plain line is what is read where all is looked for.
        #[test]
        fn a_plain_line_is_read_as_any_other(text in text(), counted: bool) {
            let notation = Notation { counted, ..Notation::default() };
            if let Some(plain) = Reader::new(&text, notation).plain() {
                let cells = ItemCells { description: &text, ..ItemCells::default() };
                let reader = Reader::new(&text, notation);
                prop_assert_eq!(plain, weighed(reader, &cells, &Known::default()));
            }
        }
    }

    #[test]
    fn most_lines_are_plain() {
        #[track_caller]
        fn case(text: &str, expected: bool) {
            let is_plain = Reader::new(text, Notation::default()).is_plain();
            assert_eq!(is_plain, expected, "{text}");
        }
        case("1/2-13 x 3-3/4 hex bolt, Grade 5, zinc plated", true);
        case("(13) M12 x 80 hex bolts", true);
        case("24 1/2 hex nuts", true);
        case("four 5/8 x 6 hex bolts", true);
        case("four hex nuts", true);
        case("Bolt, hex head, 1/2 dia. x 3-3/4 lg", true);
        case("hex bolt 1/2 x 3 (24)", true);
        case("1/2 x 3 hex bolt gr. 8, zinc", true);
        // A size of 3-1/2, a count of a dictated size, two items, a word that may be misspelt.
        case("3 1/2 hex nuts", false);
        case("two half inch nuts", false);
        case("one hundred 40 bolt", false);
        case("1/2 x 4 bolt with nut", false);
        case("1/2 x 4 hxe bolt", false);
        case("24-1/2 hex nuts", false);
        case("20-24 hex nuts", false);
        case("12. hex nut 1/2", false);
    }
}
