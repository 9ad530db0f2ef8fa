//! A figure, told for what it is: a count, a torque, a price, a grade or a size.

use std::ops::Range;

use super::Stretch;
use crate::{
    doubt::Doubt,
    hardware::{Grade, Unit},
    notation::{
        callout::Role,
        draft::grade_number,
        number::{Prefix, Shape},
        size::Dims,
        token::Tok,
        words::{Measure, Noun, Sense},
    },
};

impl<'a> Stretch<'_, 'a> {
    /// A figure: a count, a torque, a grade or a size.
    pub(super) fn figure(&mut self, i: usize) -> usize {
        // `0.85 ea` behind a count is a price.
        if let Some((_, Shape::Decimal(2), Prefix::None)) = self.number(i)
            && self.draft.quantity.is_some()
            && (self.per(i + 1).is_some() || self.says(i + 1, Sense::PerPlace))
        {
            let end = self.price_end(i + 1);
            self.reader.mark(i..end, Role::Price);
            return end;
        }
        // `16/16` is no size.
        if let Some((value, Shape::Fraction, _)) = self.number(i)
            && value.is_integer()
        {
            return i + 1;
        }
        let told = self.sum(i).or_else(|| self.prices_at_the_end(i));
        if let Some(end) = told.or_else(|| self.weight(i)) {
            return end;
        }
        if let Some(end) = self.count_behind(i) {
            return end;
        }
        // `5 lb box`: how many pieces that is, is not said.
        if self.says(i + 1, Sense::Pound) {
            return i + 1;
        }
        if self.says(i + 1, Sense::Hardness) {
            self.reader.mark(i..i + 2, Role::Standard);
            return i + 2;
        }
        // `ISO 4032 - M12 - 8`: the class stands behind the size. Washers have none.
        if !self.draft.standard.is_empty()
            && !self.draft.standard.contains(&Sense::Noun(Noun::Washer))
            && i > 0
            && matches!(self.reader.tok(i - 1), Some(Tok::Dash))
            && !self.draft.dims.is_empty()
            && let Some((value, _, Prefix::None)) = self.number(i)
            && let Some(grade) = grade_number(value, true)
        {
            self.grade(grade);
            self.reader.mark(i..i + 1, Role::Grade);
            return i + 1;
        }
        if let Some(n) = self.whole(i) {
            // `washers, 2 per bolt`; behind a count it is a note.
            if self.says(i + 1, Sense::PerBolt(1)) {
                if self.draft.quantity.is_some() {
                    self.reader.mark(i..i + 2, Role::Note);
                    return i + 2;
                }
                self.count(Some(n), None, i..i + 1);
                return i + 1;
            }
            // `100/box`, `100 per box`, `100-pack`
            let dashed = matches!(self.tok(i + 1), Some(Tok::Dash)) && !self.reader.spaced(i + 1);
            let per = dashed
                || matches!(self.tok(i + 1), Some(Tok::Slash))
                || self.says(i + 1, Sense::PerPlace);
            if per && self.is_pack(i + 2) && self.draft.pack_size.is_none() {
                self.draft.pack_size = Some(n);
                self.draft.packs_open = true;
                self.reader.mark(i..i + 3, Role::Count);
                return i + 3;
            }
            // `2 boxes, 100 in each`, `100 to a box`
            if let Some(end) = self.pack_filling(i) {
                self.draft.pack_size = Some(n);
                self.draft.packs_open = true;
                self.reader.mark(i..end, Role::Count);
                return end;
            }
            // `100 EA/CTN`
            if self.per(i + 1) == Some(1)
                && matches!(self.tok(i + 2), Some(Tok::Slash))
                && self.is_pack(i + 3)
                && self.draft.pack_size.is_none()
            {
                self.draft.pack_size = Some(n);
                self.draft.packs_open = true;
                self.reader.mark(i..i + 4, Role::Count);
                return i + 4;
            }
            // `1/4 flat washers, 2 M`; a rod may have so many metres.
            let counted = self.draft.traits.noun.is_some_and(|noun| noun != Noun::Rod);
            if let Some(unit) = self.issue(i + 1).filter(|_| counted)
                && self.draft.quantity.is_none()
                && self.is_remark(i + 2)
            {
                self.count(n.checked_mul(unit), None, i..i + 2);
                return i + 2;
            }
            if let Some(per) = self.per(i + 1) {
                // UN/ECE Recommendation 20 has CT for the carton (from memory); small, it counts.
                if self.text(i + 1) == "CT" && self.draft.packs.is_none() {
                    self.draft.doubts.push(Doubt::Readings(vec![
                        format!("{n} pieces").into(),
                        format!("{n} cartons").into(),
                    ]));
                }
                if self.draft.quantity.is_none() {
                    self.count(n.checked_mul(per), None, i..i + 2);
                    return i + 2;
                }
                return i + 2;
            }
            if self.is_pack(i + 1) {
                return self.packs(i, n);
            }
            if self.is_set(i + 1) {
                self.draft.sets |= self.draft.quantity.is_none();
                self.count(Some(n), None, i..i + 2);
                return i + 2;
            }
            if matches!(n, 304 | 305 | 316 | 410)
                && self.draft.quantity.is_none_or(|_| true)
                && !self.begins_size(i)
            {
                self.grade(match n {
                    304 | 305 => Grade::Stainless18_8,
                    316 => Grade::Stainless316,
                    _ => Grade::Stainless410,
                });
                self.reader.mark(i..i + 1, Role::Grade);
                return i + 1;
            }
        }
        // `hex bolts M12 x 35 - 8x`, `hex bolts M12 x 35 (8x)`
        let in_brackets = || {
            matches!(self.reader.tok(i - 1), Some(Tok::Open))
                && matches!(self.tok(i + 2), Some(Tok::Close))
        };
        if let Some(n) = self.whole(i)
            && matches!(self.tok(i + 1), Some(Tok::Join))
            && !self.reader.spaced(i + 1)
            && i > self.draft.tokens.start
            && (i + 2 >= self.end || in_brackets())
            && !matches!(self.reader.tok(i - 1), Some(Tok::Join))
            && self.draft.quantity.is_none()
        {
            self.count(Some(n), None, i..i + 2);
            return i + 2;
        }
        // `M8 nuts: 12 no.`, `12 no. M8 nuts`; `12 no. 8` has a number size.
        let stop = (self.reader).skip(i + 2, |tok| matches!(tok, Tok::Dot));
        if let Some(n) = self.whole(i)
            && self.says(i + 1, Sense::NumberWord)
            && self.whole(stop).is_none()
            && self.draft.quantity.is_none()
        {
            self.count(Some(n), None, i..i + 2);
            return i + 2;
        }
        if let Some(end) = self.torque(i) {
            self.reader.mark(i..end, Role::Torque);
            return end;
        }
        let pending = self.pending.take();
        let (dims, end) = self.dims(i, pending);
        // `10" dia 3/4`: the word between two figures may belong to either.
        let figure = |at: usize| matches!(self.tok(at), Some(Tok::Inch | Tok::Num { .. }));
        let between = pending == Some(Measure::Diameter)
            && dims.get(0).is_some_and(|dim| dim.measure == pending)
            && i.checked_sub(2).is_some_and(figure);
        if between {
            let word = self.text(i - 1);
            self.draft.doubts.push(Doubt::Said(
                format!("\"{word}\" may belong to the figure before it or to the one behind")
                    .into(),
            ));
        }
        let measured = dims.get(0).is_some_and(|dim| match dim.measure {
            Some(Measure::Diameter) => self.draft.dims.thread.is_none(),
            measure => measure.is_some(),
        });
        // A bare number in front of a size is not the size.
        let stray = dims.len() == 1 && dims.is_bare() && self.number(end).is_some();
        if stray {
            return i + 1;
        }
        if self.draft.dims.diameter().is_none()
            && pending.is_none()
            && let Some(end) = self.bare(i, &dims, end)
        {
            return end;
        }
        // `2-1/2 in. #10 screws`, `80 mm M10 bolts`: the length stands in front.
        let sized = dims.get(0).is_some_and(|dim| dim.prefix != Prefix::None)
            || (self.draft.dims.is_too_thick() && !dims.is_bare());
        // `8 x 3/8 carriage bolts, 5"`
        let lengthens = self.draft.dims.len() == 1
            && dims.get(0).is_some_and(|dim| dim.unit.is_some())
            && (self.draft.traits.noun.is_some_and(Noun::is_long)
                || self.draft.traits.marks.are_of_all_thread());
        if self.draft.dims.diameter().is_none()
            || measured
            || lengthens
            || (sized && self.draft.dims.make_length())
        {
            self.draft.bare_size = self.draft.dims.is_empty()
                && dims.len() == 1
                && dims.is_bare()
                && !measured
                && self.draft.standard.is_empty();
            self.draft.tied_sign |= (i..end).any(|at| {
                matches!(self.tok(at), Some(Tok::Join))
                    && self.reader.spaced(at)
                    && !self.reader.spaced(at + 1)
                    && self.whole(at + 1).is_some()
            });
            self.take_dims(dims, i..end);
            return end;
        }
        // One more whole number at the end, or between commas, is the count.
        let comma = |at: Option<usize>| {
            at.and_then(|at| self.tok(at))
                .is_some_and(|tok| matches!(tok, Tok::Comma | Tok::Semicolon))
        };
        let last = self.is_remark(end)
            || (comma(i.checked_sub(1)) && comma(Some(end)))
            || self.made_of(end).is_some_and(|(_, made)| made >= self.end);
        if let Some(n) = self.whole(i)
            && end == i + 1
            && last
            && self.draft.quantity.is_none()
            && !self.passed_over(i)
            && !self.is_dated(i, n)
        {
            if self.may_be_length(i, n) {
                self.draft
                    .doubts
                    .push(Doubt::HowMany(format!("{n} may be a length").into()));
            }
            self.count(Some(n), None, self.number_sign(i)..end);
        }
        end
    }

    /// True where nothing but marks stands from a token to the end, or what is no part of an item begins there: a
    /// price, a part number, a remark in brackets or of what it is for. A count may stand in front of it.
    fn is_remark(&self, from: usize) -> bool {
        /// Tokens of a line that are looked through: each bracket of it asks.
        const NEAR: usize = 64;
        let at = self.reader.skip(from, |tok| {
            matches!(
                tok,
                Tok::Close | Tok::Dot | Tok::Comma | Tok::Semicolon | Tok::Mark
            )
        });
        match self.tok(at) {
            None | Some(Tok::Money) => true,
            // `2 @ 50` may be two packs.
            Some(Tok::At) => self.whole(at + 1).is_none(),
            Some(Tok::Word(row)) => row.says(Sense::For) || row.says(Sense::PartNumber),
            // `(24 pcs)` counts itself.
            Some(Tok::Open) => {
                let counts = |at: usize| self.per(at).is_some() || self.says(at, Sense::Qty);
                !(at..self.end.min(at + NEAR)).any(counts)
            }
            Some(Tok::Join) => self.tok(at + 1).is_none(),
            _ => false,
        }
    }

    /// True for a large number behind the figures of a section, of what is no fastener: `tube 80x80x4, 2400`.
    fn may_be_length(&self, i: usize, n: u64) -> bool {
        const LARGE: u64 = 300;
        let mut before = self.draft.tokens.start..i;
        let marked = i.checked_sub(1).and_then(|at| self.tok(at));
        n >= LARGE
            && matches!(marked, Some(Tok::Comma | Tok::Dash))
            && !self
                .draft
                .tokens
                .clone()
                .any(|at| self.reader.noun(at).is_some())
            && before.any(|at| self.number(at).is_some())
    }

    /// `: N. 6`: where the sign of a number in front of a count begins.
    fn number_sign(&self, i: usize) -> usize {
        let Some(at) = i.checked_sub(2).filter(|&at| at > self.draft.tokens.start) else {
            return i;
        };
        let signed = matches!(self.tok(at + 1), Some(Tok::Dot))
            && matches!(self.tok(at - 1), Some(Tok::Colon))
            && self.is_word(at)
            && ["n", "nr"]
                .iter()
                .any(|sign| self.text(at).eq_ignore_ascii_case(sign));
        if signed { at } else { i }
    }

    /// `x` outside a size: `x24` at the end is a count, `x 3` behind a diameter a length.
    pub(super) fn join(&mut self, i: usize) -> usize {
        let at = i + 1;
        let of_size = i > 0 && self.reader.tokens[i - 1].role == Some(Role::Size);
        if self.number(at).is_none() {
            let measured = self.row(at).is_some_and(|row| row.measure().is_some());
            if of_size && !measured {
                let size = self.reader.tokens[i - 1].start..self.reader.tokens[i].end;
                self.draft
                    .doubts
                    .push(Doubt::LeftOver(self.reader.text[size].into()));
            }
            return at;
        }
        let last = at + 1 >= self.end
            || matches!(
                self.tok(at + 1),
                Some(Tok::Close | Tok::Comma | Tok::Semicolon | Tok::Dot)
            );
        // `x4 M8 nuts`
        let leads = i == self.draft.tokens.start
            && !self.reader.spaced(at)
            && self.reader.spaced(at + 1)
            && !self.begins_size(at);
        let last = last || leads;
        let short = matches!(
            self.draft.traits.noun,
            Some(Noun::Nut | Noun::Washer) | None
        );
        let sized = self.draft.dims.len() > 1
            || (short && !self.draft.dims.is_empty())
            || self.draft.dims.is_empty();
        if let Some(n) = self.whole(at)
            && last
            && sized
            && self.draft.quantity.is_none()
        {
            self.count(Some(n), None, i..at + 1);
            return at + 1;
        }
        if self.draft.dims.len() == 1 && !short {
            let (dims, end) = self.dims(at, None);
            // `U-bolts x2`: tied to its sign, and apart from the size.
            if dims.is_bare() && dims.len() == 1 && !of_size && !self.reader.spaced(at) {
                let figure = self.text(at);
                self.draft.doubts.push(Doubt::Readings(vec![
                    format!("so many: {figure}").into(),
                    format!("a length of {figure}").into(),
                ]));
            }
            self.take_dims(dims, at..end);
            return end;
        }
        at
    }

    /// `(24)`, `(24 pcs)`.
    pub(super) fn parenthesis(&mut self, i: usize) -> usize {
        if let Some((each, end)) = self.made_of(i)
            && let Some(quantity) = self.draft.quantity
            && each > 0
            && quantity.pieces % each == 0
        {
            self.reader.mark(i..end, Role::Note);
            return end;
        }
        if let Some(n) = self.whole(i + 1) {
            let per = self.per(i + 2);
            let close = i + 2 + usize::from(per.is_some());
            if matches!(self.tok(close), Some(Tok::Close)) {
                // `(3) pk of 12`
                if self.is_pack(close + 1) && self.draft.quantity.is_none() {
                    self.reader.mark(i..close + 1, Role::Count);
                    return self.packs(close, n);
                }
                // `2 boxes hex nuts M8 (100 ea)`: in each, or in all.
                if let Some(packs) = self.draft.packs
                    && per == Some(1)
                    && self.draft.quantity.is_none()
                    && self.draft.pack_size.is_none()
                {
                    let all = packs.saturating_mul(n);
                    self.draft.doubts.push(Doubt::Readings(vec![
                        format!("{all} pieces").into(),
                        format!("{n} pieces").into(),
                    ]));
                    self.draft.pack_size = Some(n);
                    self.reader.mark(i..close + 1, Role::Count);
                    return close + 1;
                }
                let pieces = n.checked_mul(per.unwrap_or(1));
                // `4 boxes of 75 (300)`: said again.
                if pieces.is_some() && self.draft.quantity.map(|quantity| quantity.pieces) == pieces
                {
                    self.reader.mark(i..close + 1, Role::Count);
                    return close + 1;
                }
                if self.draft.quantity.is_none() {
                    self.draft.bracketed = close + 1 >= self.end;
                    self.count(pieces, None, i..close + 1);
                    return close + 1;
                }
                // `[1]` behind a counted item is a footnote mark.
                if self.text(i) == "[" && n < 10 {
                    self.reader.mark(i..close + 1, Role::Passed);
                    return close + 1;
                }
            }
        }
        i + 1
    }

    pub(super) fn take_dims(&mut self, dims: Dims<'a>, tokens: Range<usize>) {
        for dim in dims.iter() {
            if !self.draft.dims.push(*dim) {
                self.draft.doubts.push(Doubt::LeftOver(dim.written.into()));
            }
        }
        self.draft.dims.thread = self.draft.dims.thread.or(dims.thread);
        self.draft.dims.series = self.draft.dims.series.or(dims.series);
        self.reader.mark(tokens, Role::Size);
    }

    /// True for the year of a date or of a title: `11/14/2025`, `Bolt list 2025`.
    pub(super) fn is_dated(&self, i: usize, n: u64) -> bool {
        // Several dots lead to a count.
        let leads = i > 1 && matches!(self.reader.tok(i - 2), Some(Tok::Dot));
        let tight = i > 0
            && !self.reader.spaced(i)
            && !leads
            && matches!(
                self.reader.tok(i - 1),
                Some(Tok::Slash | Tok::Dash | Tok::Dot)
            );
        tight || ((1990..2100).contains(&n) && !self.draft.is_hardware())
    }

    pub(super) fn begins_size(&self, i: usize) -> bool {
        matches!(self.tok(i + 1), Some(Tok::Join | Tok::Inch | Tok::Dash))
    }

    /// `(8 per bracket)`: what a count is made of, so many for each, and where it ends.
    fn made_of(&self, i: usize) -> Option<(u64, usize)> {
        const MOST: usize = 8;
        if !matches!(self.tok(i), Some(Tok::Open)) || !self.says(i + 2, Sense::PerPlace) {
            return None;
        }
        let each = self.whole(i + 1)?;
        let close = (i + 3..self.end.min(i + MOST))
            .take_while(|&at| self.is_word(at) || matches!(self.tok(at), Some(Tok::Close)))
            .find(|&at| matches!(self.tok(at), Some(Tok::Close)))?;
        Some((each, close + 1))
    }

    /// `12 of them`, `12 of` at the end, `24.000 EA`, and a count that is said again (`16 of 16`, `= 16`).
    fn count_behind(&mut self, i: usize) -> Option<usize> {
        if let Some(quantity) = self.draft.quantity {
            let before = i.checked_sub(1)?;
            let again = self.says(before, Sense::Of)
                || self.reader.tok(before).is_some() && self.text(before) == "=";
            if !again || self.whole(i) != Some(quantity.pieces) || self.begins_size(i) {
                return None;
            }
            self.reader.mark(before..i + 1, Role::Count);
            return Some(i + 1);
        }
        if let (Some((value, Shape::Decimal(3), Prefix::None)), Some(per)) =
            (self.number(i), self.per(i + 1))
        {
            let n = u64::try_from(*value.numer())
                .ok()
                .filter(|_| value.is_integer())?;
            self.count(n.checked_mul(per), None, i..i + 2);
            return Some(i + 2);
        }
        let n = self.whole(i).filter(|_| self.says(i + 1, Sense::Of))?;
        let named =
            self.is_word(i + 2) && ["them", "these", "those", "em"].contains(&self.text(i + 2));
        if i + 2 < self.end && !named {
            return None;
        }
        let end = self.end.min(i + 3);
        self.count(Some(n), None, i..end);
        Some(end)
    }

    /// `0.31 kg/pc`, `0.62 lb each` behind a count: what they weigh.
    fn weight(&mut self, i: usize) -> Option<usize> {
        let decimal = matches!(self.number(i), Some((_, Shape::Decimal(_), Prefix::None)));
        if !decimal || !self.says(i + 1, Sense::Pound) || self.draft.quantity.is_none() {
            return None;
        }
        let per = matches!(self.tok(i + 2), Some(Tok::Slash)) || self.says(i + 2, Sense::PerPlace);
        let of = i + 2 + usize::from(per);
        let end = of + usize::from(self.per(of).is_some());
        self.reader.mark(i..end, Role::Measure);
        Some(end)
    }

    /// `75 ft-lb`, `75 ft lb`, `120 Nm`, `120 N m`: where it ends.
    pub(super) fn torque(&self, i: usize) -> Option<usize> {
        let at = self.reader.skip(i + 1, |tok| matches!(tok, Tok::Dash));
        if self.says(at, Sense::Torque) {
            return Some(at + 1);
        }
        // `80 N·m`, `80 N m`
        if self.is_word(at) && self.text(at) == "N" {
            let at = self.reader.skip(at + 1, |tok| {
                matches!(tok, Tok::Mark | Tok::Dot | Tok::Dash)
            });
            if self.is_word(at) && self.text(at) == "m" {
                return Some(at + 1);
            }
        }
        let arm = self.says(at, Sense::Foot) || self.says(at, Sense::Unit(Unit::Inch));
        if arm {
            let at = self.reader.skip(at + 1, |tok| {
                matches!(tok, Tok::Dash | Tok::Dot | Tok::Mark)
            });
            if self.says(at, Sense::Torque) || self.says(at, Sense::Pound) {
                return Some(at + 1);
            }
        }
        None
    }

    /// Where a price ends, with its unit: `$85.00/C`, `$12.50 per M`, `0.85 ea`, `$20.40 total`.
    pub(super) fn price_end(&self, at: usize) -> usize {
        let per = matches!(self.tok(at), Some(Tok::Slash)) || self.says(at, Sense::PerPlace);
        let unit = at + usize::from(per);
        let is_unit = self.per(unit).is_some()
            || self.is_pack(unit)
            || self
                .whole(unit)
                .is_some_and(|n| per && matches!(n, 100 | 1000))
            || (self.is_word(unit)
                && ["c", "m", "ea", "each", "ft", "lb", "total"]
                    .iter()
                    .any(|word| self.text(unit).eq_ignore_ascii_case(word)));
        if is_unit { unit + 1 } else { at }
    }
}
