//! Figures that prove a count: two that multiply to it, a price and what so many come to.

use std::ops::{Range, RangeInclusive};

use super::Stretch;
use crate::{
    doubt::Doubt,
    hardware::Ratio,
    notation::{
        callout::Role,
        number::{Prefix, Shape},
        token::Tok,
        words::{Noun, Sense},
    },
};

/// Figures among which two are looked for that make the last one.
const MOST_FIGURES: usize = 6;
/// More pieces of one line have no price, nor has any piece a higher one; what fewer come to is no figure
/// too large.
const MOST_PRICED: i64 = 1_000_000;
const HIGHEST_PRICE: i64 = 100_000;

/// True where so many pieces at a price come to a sum, to the cent.
fn comes_to(pieces: u64, price: Ratio, sum: Ratio) -> bool {
    let cents = Ratio::from_integer(100);
    let pieces = i64::try_from(pieces).ok().filter(|&n| n < MOST_PRICED);
    pieces.is_some_and(|pieces| (price * pieces * cents).round() == sum * cents)
}

impl Stretch<'_, '_> {
    /// `4 per rail, 3 rails = 12`, `6 per hinge, 4 hinges (24)`: two figures that multiply to the last one
    /// prove it to be how many there are in all.
    pub(super) fn worked_out(&mut self, start: usize) -> Option<()> {
        let bracketed = matches!(self.tok(self.end.checked_sub(1)?), Some(Tok::Close));
        let at = self.end.checked_sub(1 + usize::from(bracketed))?;
        let total = self.reader.counted(at)?;
        let before = at.checked_sub(1).filter(|&before| before > start)?;
        let introduced = match self.tok(before)? {
            Tok::Open => bracketed,
            Tok::Colon => self.text(before) == "=",
            _ => ["so", "makes"].contains(&self.text(before)),
        };
        if !introduced || self.reader.notation.counted {
            return None;
        }
        let figures: Vec<(usize, u64)> = (start..before)
            .filter(|&at| self.stands_alone(at))
            .filter_map(|at| Some((at, self.reader.counted(at)?)))
            .filter(|&(_, n)| n > 1)
            .take(MOST_FIGURES)
            .collect();
        let holds = |mut range: Range<usize>, is: &dyn Fn(usize) -> bool| range.any(is);
        let names = |at: usize| self.reader.noun(at).is_some();
        let multiplies = |at: usize| {
            matches!(self.tok(at), Some(Tok::Join))
                || self.says(at, Sense::PerPlace)
                || self.says(at, Sense::Each)
        };
        let equals = matches!(self.tok(before), Some(Tok::Colon));
        let mut pairs = figures.windows(2).map(|pair| (pair[0], pair[1]));
        let (one, other) = pairs.find_map(|((one, n), (other, m))| {
            let made = n.checked_mul(m) == Some(total) && !holds(one..other, &names);
            (made && (equals || holds(one..before, &multiplies))).then_some((one, other))
        })?;
        let figure = |at: usize| {
            let several = self.per(at).is_some_and(|n| n > 1);
            several || self.number(at).is_some() || self.reader.counted(at).is_some()
        };
        if holds(one + 1..other, &figure) {
            return None;
        }
        let sized = |at: usize| names(at) || figure(at);
        if self.per(other + 1).is_some_and(|n| n > 1) {
            return None;
        }
        let last = if holds(other + 1..before, &sized) {
            other + 1
        } else {
            before
        };
        self.count(Some(total), None, at..at + 1);
        self.reader.mark(one..last, Role::Places);
        self.reader.mark(before..self.end, Role::Count);
        Some(())
    }

    /// True for a figure that is no part of a size: `4 per rail`, `5 bays x 4`.
    fn stands_alone(&self, at: usize) -> bool {
        let joins =
            |tok: Option<Tok>| matches!(tok, Some(Tok::Join | Tok::Dash | Tok::Slash | Tok::Inch));
        let figure = |at: usize| self.number(at).is_some();
        let behind = joins(self.tok(at + 1)) && (figure(at + 2) || self.tok(at + 2).is_none());
        let before = at
            .checked_sub(2)
            .is_some_and(|two| joins(self.tok(at - 1)) && figure(two));
        !behind && !before && !figure(at + 1)
    }

    /// `4.19   12.57` behind a count of 3: a price and what so many come to, to the cent. Without a count,
    /// a whole number in front proves to be one: `8.00   1.19    9.52`.
    pub(super) fn sum(&mut self, i: usize) -> Option<usize> {
        let decimal = |at: usize| self.price(at, 0..=4);
        let next = |at: usize| {
            self.reader
                .skip(at, |tok| matches!(tok, Tok::Semicolon | Tok::Money))
        };
        let first = decimal(i)?;
        let second = next(i + 1);
        match self.draft.quantity {
            Some(quantity) => {
                let packs = quantity.packs.unwrap_or(quantity.pieces);
                let single =
                    || (i + 1 >= self.end && (packs == 1 || self.is_set_apart(i))).then_some(i + 1);
                let sum = decimal(second).filter(|&sum| {
                    [quantity.pieces, packs]
                        .iter()
                        .any(|&n| comes_to(n, first, sum))
                });
                let mut end = sum.map(|_| second + 1).or_else(single)?;
                // A letter or a star for the tax.
                let letter = end + 1 == self.end
                    && self.reader.tokens[end].end - self.reader.tokens[end].start == 1;
                end += usize::from(letter && self.number(end).is_none());
                self.reader.mark(i..end, Role::Price);
                Some(end)
            }
            None => {
                let third = next(second + 1);
                let (price, sum) = (decimal(second)?, decimal(third)?);
                let pieces = u64::try_from(first.to_integer())
                    .ok()
                    .filter(|&n| first.is_integer() && n > 0)?;
                if !comes_to(pieces, price, sum) {
                    return None;
                }
                self.count(Some(pieces), None, i..i + 1);
                self.reader.mark(i + 1..third + 1, Role::Price);
                Some(third + 1)
            }
        }
    }

    /// `4.99   9.98` at the end, behind a count: prices, of which one should be what the row comes to.
    pub(super) fn prices_at_the_end(&mut self, i: usize) -> Option<usize> {
        let price = |at: usize| self.price(at, 2..=2);
        let counted = self.draft.quantity.is_some() || self.draft.packs.is_some();
        if i + 2 != self.end || !counted {
            return None;
        }
        let (each, sum) = (price(i)?, price(i + 1)?);
        let pieces = self.draft.quantity.map(|quantity| quantity.pieces);
        // Prices of a hundred or a thousand (common practice, no source).
        let comes_to = |n: u64| [1, 100, 1000].iter().any(|&of| comes_to(n, each / of, sum));
        if let Some(pieces) = pieces.filter(|&pieces| !comes_to(pieces)) {
            let (each, sum) = (self.text(i), self.text(i + 1));
            self.draft.doubts.push(Doubt::HowMany(
                format!("{pieces} at {each} do not come to {sum}: the count may be another").into(),
            ));
        }
        self.reader.mark(i..self.end, Role::Price);
        Some(self.end)
    }

    /// True for a figure with cents in a column of its own behind an item that lacks none: `8 HEX NUT M12
    /// 1.44`.
    fn is_set_apart(&self, i: usize) -> bool {
        let start = self.reader.tokens[i].start;
        let complete = match self.draft.traits.noun {
            Some(Noun::Nut) => !self.draft.dims.is_empty(),
            Some(_) => self.draft.dims.len() > 1,
            None => self.draft.has_words(),
        };
        complete && self.price(i, 2..=2).is_some() && self.reader.text[..start].ends_with("  ")
    }

    /// A decimal of so many places that may be a price.
    fn price(&self, at: usize, decimals: RangeInclusive<u8>) -> Option<Ratio> {
        match self.number(at)? {
            (value, Shape::Decimal(places), Prefix::None)
                if decimals.contains(&places) && value < Ratio::from_integer(HIGHEST_PRICE) =>
            {
                Some(value)
            }
            _ => None,
        }
    }
}
