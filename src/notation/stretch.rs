//! One stretch being read: what each of its words is for.

use std::ops::Range;

use super::{
    callout::{Quantity, Role},
    draft::{Draft, finer_grade, grade_number},
    number::Shape,
    reader::Reader,
    size::Dims,
    token::{Prefix, Tok, Token},
    words::{self, Mark, Measure, Noun, Row, Sense, Senses},
};
use crate::{
    doubt::Doubt,
    hardware::{Drive, Grade, Point, Ratio, Unit},
};

/// One stretch being read.
pub(super) struct Stretch<'r, 'a> {
    pub reader: &'r mut Reader<'a>,
    pub draft: Draft<'a>,
    pub end: usize,
    /// A measure named in front of its figure (`length 3`).
    pub pending: Option<Measure>,
    /// Where the noun was found, and whether a mark has stood since.
    pub noun_at: Option<usize>,
    /// Tokens of the count.
    pub count_at: Option<Range<usize>>,
}

impl<'a> Reader<'a> {
    pub(super) fn draft(&mut self, range: Range<usize>) -> Draft<'a> {
        let mut stretch = Stretch {
            end: range.end,
            draft: Draft {
                tokens: range.clone(),
                ..Draft::default()
            },
            reader: self,
            pending: None,
            noun_at: None,
            count_at: None,
        };
        stretch.read(range.start);
        stretch.close(range)
    }
}

impl<'a> Stretch<'_, 'a> {
    #[inline]
    pub(super) fn tok(&self, i: usize) -> Option<Tok> {
        if i < self.end {
            self.reader.tok(i)
        } else {
            None
        }
    }

    #[inline]
    pub(super) fn whole(&self, i: usize) -> Option<u64> {
        if i < self.end {
            self.reader.whole(i)
        } else {
            None
        }
    }

    #[inline]
    pub(super) fn number(&self, i: usize) -> Option<(Ratio, Shape, Prefix)> {
        if i < self.end {
            self.reader.number(i)
        } else {
            None
        }
    }

    #[inline]
    pub(super) fn sense<T>(&self, i: usize, pick: impl Fn(&Sense) -> Option<T>) -> Option<T> {
        if i < self.end {
            self.reader.sense(i, pick)
        } else {
            None
        }
    }

    #[inline]
    pub(super) fn says(&self, i: usize, sense: Sense) -> bool {
        i < self.end && self.reader.says(i, sense)
    }

    #[inline]
    pub(super) fn text(&self, i: usize) -> &'a str {
        let token = &self.reader.tokens[i];
        &self.reader.text[token.start..token.end]
    }

    #[inline]
    pub(super) fn is_word(&self, i: usize) -> bool {
        i < self.end && self.reader.is_word(i)
    }

    #[inline]
    pub(super) fn per(&self, i: usize) -> Option<u64> {
        self.sense(i, |sense| match sense {
            Sense::Per(n) => Some(*n),
            _ => None,
        })
    }

    /// A bag, a box; `set of` as well.
    pub(super) fn is_pack(&self, i: usize) -> bool {
        self.says(i, Sense::Pack) || (self.says(i, Sense::SetWord) && self.says(i + 1, Sense::Of))
    }

    /// Sets the count, from its tokens.
    pub(super) fn count(&mut self, pieces: Option<u64>, packs: Option<u64>, tokens: Range<usize>) {
        let Some(pieces) = pieces else { return };
        if self.draft.quantity.is_some() || self.draft.open_count {
            return;
        }
        self.draft.quantity = Some(Quantity { pieces, packs });
        self.reader.mark(tokens.clone(), Role::Count);
        self.count_at = Some(tokens);
    }

    pub(super) fn read(&mut self, start: usize) {
        let mut i = self.lead(start);
        while i < self.end {
            // A range of counts: no other figure is the count.
            self.draft.open_count |= self.reader.is_open_count(i);
            // Passed over already: what a bolt comes without.
            i = if self.reader.tokens[i].role.is_some() {
                i + 1
            } else {
                self.step(i).max(i + 1)
            };
        }
    }

    fn close(mut self, range: Range<usize>) -> Draft<'a> {
        self.settle_packs();
        if self.draft.traits.noun.is_none() && !self.draft.thing {
            for &sense in self.draft.standard {
                match sense {
                    Sense::Noun(noun) => self.draft.traits.noun = Some(noun),
                    Sense::Mark(mark) => self.draft.traits.marks.add(mark),
                    Sense::FullThread(full) => self.draft.full_thread = Some(full),
                    _ => {}
                }
            }
        }
        let tokens = &self.reader.tokens;
        let (mut first, mut last) = (range.start, range.end);
        if let Some(count) = &self.count_at {
            if count.start <= first {
                first = count.end;
            } else if (count.end..last).all(|i| {
                !matches!(
                    tokens[i].tok,
                    Tok::Word(_) | Tok::Unknown | Tok::Num { .. } | Tok::Code
                )
            }) {
                last = count.start;
            }
        }
        let text_end = self.reader.text.len();
        let start = tokens.get(first).map_or(text_end, |token| token.start);
        let end = match tokens.get(last) {
            Some(token) if last < range.end => token.start,
            _ => last
                .checked_sub(1)
                .and_then(|i| tokens.get(i))
                .map_or(start, |token| token.end),
        };
        self.draft.body = start..end.max(start);
        self.draft
    }
    /// Reads the token at `i`, and what belongs to it. Returns where to go on.
    pub(super) fn step(&mut self, i: usize) -> usize {
        let Some(tok) = self.tok(i) else {
            return i + 1;
        };
        match tok {
            Tok::Word(row) => self.word(i, row),
            Tok::Num { .. } => self.figure(i),
            Tok::Join => self.join(i),
            Tok::Open => self.parenthesis(i),
            Tok::Money | Tok::At => {
                let at = self.reader.skip(i + 1, |tok| matches!(tok, Tok::Money));
                if self.number(at).is_some() {
                    let end = self.price_end(at + 1);
                    self.reader.mark(i..end, Role::Price);
                    return end;
                }
                i + 1
            }
            Tok::Count(n) => {
                self.count(Some(n), None, i..i + 1);
                i + 1
            }
            Tok::Code => {
                self.draft.codes += 1;
                if self.draft.code.is_none() {
                    self.draft.code = Some(self.text(i));
                    self.reader.mark(i..i + 1, Role::Number);
                }
                i + 1
            }
            Tok::Unknown => {
                self.draft.traits.unknown = true;
                self.thing_after_noun(i);
                i + 1
            }
            _ => i + 1,
        }
    }

    /// Where a price ends, with its unit: `$85.00/C`, `$12.50 per M`, `0.85 ea`, `$20.40 total`.
    fn price_end(&self, at: usize) -> usize {
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

    /// A word right behind the noun that names another thing: a bolt plate is a plate.
    fn thing_after_noun(&mut self, i: usize) {
        let behind = i > 0 && self.noun_at == Some(i - 1);
        if behind && self.draft.dims.is_empty() {
            self.draft.thing = true;
        }
    }

    /// `(24)`, `(24 pcs)`.
    fn parenthesis(&mut self, i: usize) -> usize {
        if let Some(n) = self.whole(i + 1) {
            let per = self.per(i + 2);
            let close = i + 2 + usize::from(per.is_some());
            if matches!(self.tok(close), Some(Tok::Close)) {
                // `(3) pk of 12`
                if self.is_pack(close + 1) && self.draft.quantity.is_none() {
                    self.reader.mark(i..close + 1, Role::Count);
                    return self.packs(close, n);
                }
                if self.draft.quantity.is_none() {
                    self.count(n.checked_mul(per.unwrap_or(1)), None, i..close + 1);
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

    /// `x` outside a size: `x24` at the end is a count, `x 3` behind a diameter a length.
    pub(super) fn join(&mut self, i: usize) -> usize {
        let at = i + 1;
        if self.number(at).is_none() {
            return at;
        }
        let last = at + 1 >= self.end
            || matches!(
                self.tok(at + 1),
                Some(Tok::Close | Tok::Comma | Tok::Semicolon | Tok::Dot)
            );
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
            self.take_dims(dims, at..end);
            return end;
        }
        at
    }

    fn take_dims(&mut self, dims: Dims<'a>, tokens: Range<usize>) {
        for dim in dims.iter() {
            if !self.draft.dims.push(*dim) {
                self.draft.doubts.push(Doubt::LeftOver(dim.written.into()));
            }
        }
        self.draft.dims.thread = self.draft.dims.thread.or(dims.thread);
        self.draft.dims.series = self.draft.dims.series.or(dims.series);
        self.reader.mark(tokens, Role::Size);
    }

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
        // `5 lb box`: how many pieces that is, is not said.
        if self.says(i + 1, Sense::Pound) {
            return i + 1;
        }
        if self.says(i + 1, Sense::Hardness) {
            self.reader.mark(i..i + 2, Role::Standard);
            return i + 2;
        }
        // `ISO 4032 - M12 - 8`: the class stands behind the size.
        if !self.draft.standard.is_empty()
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
            // `100/box`, `100 per box`
            let per =
                matches!(self.tok(i + 1), Some(Tok::Slash)) || self.says(i + 1, Sense::PerPlace);
            if per && self.is_pack(i + 2) && self.draft.pack_size.is_none() {
                self.draft.pack_size = Some(n);
                self.draft.packs_open = true;
                self.reader.mark(i..i + 3, Role::Count);
                return i + 3;
            }
            if let Some(per) = self.per(i + 1) {
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
        if let Some(end) = self.torque(i) {
            self.reader.mark(i..end, Role::Torque);
            return end;
        }
        let pending = self.pending.take();
        let (dims, end) = self.dims(i, pending);
        let measured = dims.get(0).is_some_and(|dim| match dim.measure {
            Some(Measure::Diameter) => self.draft.dims.thread.is_none(),
            measure => measure.is_some(),
        });
        // A bare number in front of a size is not the size.
        let stray = dims.len() == 1 && dims.is_bare() && self.number(end).is_some();
        if stray {
            return i + 1;
        }
        if self.draft.dims.diameter().is_none() || measured {
            self.take_dims(dims, i..end);
            return end;
        }
        // One more whole number at the end, or between commas, is the count.
        let comma = |at: Option<usize>| {
            at.and_then(|at| self.tok(at))
                .is_some_and(|tok| matches!(tok, Tok::Comma | Tok::Semicolon))
        };
        let last = end >= self.end
            || (comma(i.checked_sub(1)) && comma(Some(end)))
            || (end..self.end).all(|j| {
                matches!(
                    self.tok(j),
                    Some(Tok::Close | Tok::Dot | Tok::Comma | Tok::Semicolon | Tok::Mark)
                )
            });
        if let Some(n) = self.whole(i)
            && end == i + 1
            && last
            && self.draft.quantity.is_none()
            && !self.is_dated(i, n)
        {
            self.count(Some(n), None, i..end);
        }
        end
    }

    /// True for a letter in the place of a figure: `3/8-l6`, `l/2`.
    fn is_in_a_figure(&self, i: usize) -> bool {
        let tight = |at: usize| at < self.end && !self.reader.spaced(at);
        let behind_dash = i > 0
            && matches!(self.reader.tok(i - 1), Some(Tok::Dash))
            && tight(i)
            && self.number(i + 1).is_some()
            && tight(i + 1);
        let before_slash = self.text(i).len() == 1
            && matches!(self.tok(i + 1), Some(Tok::Slash))
            && tight(i + 1)
            && self.whole(i + 2).is_some()
            && tight(i + 2);
        behind_dash || before_slash
    }

    /// True for the year of a date or of a title: `11/14/2025`, `Bolt list 2025`.
    fn is_dated(&self, i: usize, n: u64) -> bool {
        let tight = i > 0
            && !self.reader.spaced(i)
            && matches!(
                self.reader.tok(i - 1),
                Some(Tok::Slash | Tok::Dash | Tok::Dot)
            );
        tight || ((1990..2100).contains(&n) && !self.draft.is_hardware())
    }

    fn begins_size(&self, i: usize) -> bool {
        matches!(self.tok(i + 1), Some(Tok::Join | Tok::Inch | Tok::Dash))
    }

    /// `75 ft-lb`, `75 ft lb`, `120 Nm`, `120 N m`: where it ends.
    fn torque(&self, i: usize) -> Option<usize> {
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

    /// `2 bags of 25`, `1 box/100`; `2 bags` alone says nothing of the pieces.
    pub(super) fn packs(&mut self, i: usize, packs: u64) -> usize {
        let (size, end) = self.pack_size(i + 1);
        match size.and_then(|size| packs.checked_mul(size)) {
            Some(pieces) => {
                self.count(Some(pieces), Some(packs), i..end);
                end
            }
            // The size may be said elsewhere.
            None => {
                if self.draft.packs.is_none() {
                    self.draft.packs = Some(packs);
                    self.draft.pack_words = i..i + 2;
                }
                i + 2
            }
        }
    }

    /// `set`, `sets` of pieces.
    pub(super) fn is_set(&self, i: usize) -> bool {
        let screw = |at: usize| {
            self.sense(at, |sense| matches!(sense, Sense::Noun(_)).then_some(()))
                .is_some()
        };
        self.says(i, Sense::SetWord) && !screw(i + 1) && !self.says(i + 1, Sense::Of)
    }

    /// The pack size behind the word at `i`, and the end of it.
    fn pack_size(&self, i: usize) -> (Option<u64>, usize) {
        let at = self.reader.skip(i + 1, |tok| {
            matches!(
                tok,
                Tok::Slash | Tok::Dash | Tok::At | Tok::Colon | Tok::Dot | Tok::Open
            ) || matches!(tok, Tok::Word(row) if row.senses.contains(&Sense::Of))
        });
        // `set of 1/2 x 3 bolts`: no count.
        let begins = |at: usize| matches!(self.tok(at + 1), Some(Tok::Slash | Tok::Join));
        let size = self.whole(at).filter(|_| at > i + 1 && !begins(at));
        let per = self.per(at + 1).filter(|_| size.is_some());
        let end = at + 1 + usize::from(per.is_some());
        match size {
            Some(size) => (size.checked_mul(per.unwrap_or(1)), end),
            None => (None, i + 1),
        }
    }

    fn grade(&mut self, grade: Grade) {
        let mut doubts = Vec::new();
        self.draft.traits.grade = Some(match self.draft.traits.grade {
            Some(stated) => finer_grade(stated, grade, &mut doubts),
            None => grade,
        });
        self.draft.doubts.append(&mut doubts);
    }

    pub(super) fn word(&mut self, i: usize, row: &'static Row) -> usize {
        // A count in words names nothing.
        self.draft.known |= !row.kinds.within(Senses::COUNTING);
        if self.is_in_a_figure(i) {
            self.draft.traits.unknown = true;
            return i + 1;
        }
        // A dozen or a number in words is passed over by none but the count that it makes.
        if row.count().is_none() && self.per(i).is_none_or(|n| n == 1) {
            self.reader.mark(i..i + 1, role_of(row));
        }
        if let Some(noun) = self.reader.noun(i) {
            self.draft.traits.noun = Some(noun);
            self.draft.plural = is_plural(self.text(i));
            self.noun_at = Some(i);
            self.draft.thing = false;
            self.draft.tool = false;
        }
        let mut next = i + 1;
        for &sense in row.senses {
            match sense {
                Sense::Noun(noun) => self.side_noun(i, noun),
                Sense::Mark(mark) => self.mark(i, mark),
                Sense::Grade(Grade::Nylon) if self.before_insert(i) => {
                    self.draft.traits.marks.add(Mark::NylonInsert);
                }
                Sense::Grade(grade) => {
                    self.grade(grade);
                    // `A325-1`: type 1
                    let tight = matches!(self.tok(i + 1), Some(Tok::Dash))
                        && !self.reader.spaced(i + 2)
                        && self.whole(i + 2).is_some_and(|n| n < 4);
                    if matches!(grade, Grade::A325 | Grade::A490) && tight {
                        self.reader.mark(i + 1..i + 3, Role::Grade);
                        next = next.max(i + 3);
                    }
                }
                Sense::GradeWord => next = next.max(self.grade_word(i, row)),
                Sense::Drive(drive) => self.draft.traits.drive = Some(drive),
                Sense::Point(Point::Dog)
                    if i > 0 && self.reader.says(i - 1, Sense::Mark(Mark::Jam)) =>
                {
                    self.draft.point = Some(Point::HalfDog);
                }
                Sense::Point(point) => self.draft.point = Some(point),
                Sense::Series(series) => self.draft.dims.series = Some(series),
                Sense::FullThread(full) => self.draft.full_thread = Some(full),
                Sense::Qty => next = next.max(self.qty(i)),
                Sense::Each => {
                    self.draft.each = true;
                    next = next.max(self.places(i));
                }
                Sense::Pack => next = next.max(self.lone_pack(i)),
                Sense::SetWord if self.is_pack(i) => next = next.max(self.lone_pack(i)),
                Sense::SetWord => {}
                Sense::About => {
                    let word = self.text(i);
                    self.draft.doubts.push(Doubt::Said(
                        format!("\"{word}\": the count is not exact").into(),
                    ));
                }
                Sense::Both => next = next.max(self.places(i)),
                Sense::Hardness => {}
                Sense::Measure(measure) => {
                    let at = self
                        .reader
                        .skip(i + 1, |tok| matches!(tok, Tok::Colon | Tok::Dot));
                    if self.number(at).is_some() {
                        self.pending = Some(measure);
                        next = next.max(at);
                    }
                }
                Sense::PartNumber => next = next.max(self.part_number(i)),
                Sense::NumberWord => next = next.max(self.number_word(i)),
                Sense::Standard => next = next.max(self.standard(i)),
                Sense::For | Sense::PerPlace => {
                    // A note, up to the next comma.
                    next = (i + 1..self.end)
                        .find(|&j| {
                            matches!(self.tok(j), Some(Tok::Comma | Tok::Semicolon | Tok::Close))
                        })
                        .unwrap_or(self.end);
                    self.reader.mark(i..next, Role::Note);
                    if sense == Sense::PerPlace {
                        let tokens = &self.reader.tokens;
                        let words = tokens[i].start..tokens[next - 1].end;
                        let words = self.reader.text[words].into();
                        self.draft.doubts.push(Doubt::Multiplier(words));
                    }
                }
                Sense::TypeWord => {
                    let letter = self.is_word(i + 1) && self.text(i + 1).len() == 1;
                    if letter || self.whole(i + 1).is_some_and(|n| n < 10) {
                        self.reader.mark(i..i + 2, Role::Passed);
                        next = i + 2;
                    }
                }
                Sense::Count(n)
                    if self.draft.quantity.is_none() && self.draft.traits.noun.is_some() =>
                {
                    self.count(Some(n), None, i..i + 1);
                }
                Sense::Thing => self.thing(i),
                Sense::Tool => self.tool(i),
                Sense::Corrects => {
                    let word = self.text(i);
                    self.draft.doubts.push(Doubt::Said(
                        format!("\"{word}\": what stands before may be taken back").into(),
                    ));
                }
                Sense::PerBolt(times) => self.draft.per_bolt = Some(times),
                // No number was made of it.
                Sense::Fraction(_) if row.senses.len() == 1 => {
                    self.draft.traits.unknown = true;
                    self.reader.tokens[i].role = None;
                }
                Sense::Fraction(_) => {}
                Sense::Count(_)
                | Sense::Per(_)
                | Sense::Unit(_)
                | Sense::Metric(_)
                | Sense::Foot
                | Sense::By
                | Sense::With
                | Sense::And
                | Sense::Without
                | Sense::Of
                | Sense::Torque
                | Sense::Pound
                | Sense::Head
                | Sense::DriveWord
                | Sense::PointWord
                | Sense::Noise => {}
                Sense::Unspecified => self.draft.traits.unknown = true,
            }
        }
        next
    }

    /// `both ends`, `each of the four corners`: so many places. `each corner`: a number that is not
    /// stated. The words in front (`at each end`) go with it.
    fn places(&mut self, i: usize) -> usize {
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

    /// A noun that is only a mark: `washer head`, `anchor bolt`.
    fn side_noun(&mut self, i: usize, noun: Noun) {
        if self.reader.noun(i).is_some() {
            return;
        }
        match noun {
            Noun::Washer => self.draft.traits.marks.add(Mark::HexWasher),
            Noun::Screw => self.draft.traits.marks.add(Mark::ScrewIn),
            Noun::Anchor => self.draft.traits.marks.add(Mark::Anchor),
            Noun::Stud => self.draft.traits.marks.add(Mark::Stud),
            _ => {}
        }
    }

    pub(super) fn mark(&mut self, i: usize, mark: Mark) {
        // `plain washer` is a flat one; `flat washer, plain` has no finish.
        let flat = mark == Mark::Plain && self.reader.noun(i + 1) == Some(Noun::Washer);
        // `SAE Grade 5` names a standard.
        let standard = mark == Mark::Sae && self.says(i + 1, Sense::GradeWord);
        // `hex socket` is one word; `square drive` and `socket drive` are no heads.
        let of_socket = mark == Mark::Hex && self.says(i + 1, Sense::Mark(Mark::Socket));
        let drive = match mark {
            _ if !self.says(i + 1, Sense::DriveWord) => None,
            Mark::Square => Some(Drive::Square),
            Mark::External => Some(Drive::SixLobe),
            Mark::Socket | Mark::Hex => Some(Drive::HexSocket),
            _ => None,
        };
        let point = match mark {
            _ if !self.says(i + 1, Sense::PointWord) => None,
            Mark::Flat => Some(Point::Flat),
            Mark::Oval => Some(Point::Oval),
            _ => None,
        };
        // `half-inch` is no jam nut.
        if mark == Mark::Jam && matches!(self.tok(i + 1), Some(Tok::Dash)) {
            self.draft.traits.unknown = true;
            self.reader.tokens[i].role = None;
            return;
        }
        let half_dog = mark == Mark::Jam && self.says(i + 1, Sense::Point(Point::Dog));
        if point.is_some() {
            self.draft.point = point;
        } else if drive.is_some() {
            self.draft.traits.drive = drive;
        } else if flat {
            self.draft.traits.marks.add(Mark::Flat);
        } else if !standard && !of_socket && !half_dog {
            self.draft.traits.marks.add(mark);
        }
    }

    fn before_insert(&self, i: usize) -> bool {
        let at = self.reader.skip(i + 1, |tok| matches!(tok, Tok::Dash));
        self.says(at, Sense::Mark(Mark::Insert)) || self.says(at, Sense::Mark(Mark::Lock))
    }

    /// A word for a thing: before the noun it is a mark or not known, behind it the thing itself.
    fn thing(&mut self, i: usize) {
        let behind = i > 0 && self.noun_at == Some(i - 1);
        // `8 rondelles M10 (plates)`: a note.
        let noted = i > 0 && matches!(self.reader.tok(i - 1), Some(Tok::Open));
        match self.draft.traits.noun {
            None => self.draft.thing |= !noted,
            Some(_) if behind => self.draft.thing = true,
            Some(_) => {}
        }
    }

    /// A tool where no hardware is named: `torque wrench`, `3/4 socket`, `1/2 hex key`.
    fn tool(&mut self, i: usize) {
        let ends = !matches!(
            self.tok(i + 1),
            Some(
                Tok::Word(_) | Tok::Unknown | Tok::Num { .. } | Tok::Code | Tok::Join | Tok::Slash
            )
        );
        let named = match self.reader.word(i).map(|row| row.spelling) {
            Some("socket") => ends && self.draft.traits.noun.is_none() && self.draft.dims.len() < 2,
            Some("key") => i > 0 && self.reader.says(i - 1, Sense::Mark(Mark::Hex)),
            _ => self.draft.thing,
        };
        if named {
            self.draft.thing = true;
            self.draft.tool = true;
        } else if !self.draft.thing && self.reader.word(i).is_some_and(|row| row.spelling == "key")
        {
            self.draft.traits.unknown = true;
        }
    }

    /// `Grade 5`, `Gr. 8`, `class 8.8`, `Grade A`.
    fn grade_word(&mut self, i: usize, row: &Row) -> usize {
        let at = self.reader.skip(i + 1, |tok| {
            matches!(tok, Tok::Dot | Tok::Dash | Tok::Colon)
        });
        let class = matches!(row.spelling, "class" | "cl");
        // `grade five`
        let spoken = self
            .sense(at, |sense| match sense {
                Sense::Count(n) => i64::try_from(*n).ok(),
                _ => None,
            })
            .map(|n| (Ratio::from_integer(n), Shape::Whole, Prefix::None));
        if let Some((value, _, Prefix::None)) = self.number(at).or(spoken) {
            if let Some(grade) = grade_number(value, class) {
                self.grade(grade);
                self.reader.mark(i..at + 1, Role::Grade);
                return at + 1;
            }
            return i + 1;
        }
        if at < self.end && self.is_word(at) {
            let letter = match self.text(at) {
                "A" | "a" => Some(Grade::GradeA),
                "C" | "c" => Some(Grade::GradeC),
                _ => None,
            };
            if let Some(letter) = letter {
                // ASTM A307 has a Grade A of its own.
                if self.draft.traits.grade != Some(Grade::A307) {
                    self.grade(letter);
                }
                self.reader.mark(i..at + 1, Role::Grade);
                return at + 1;
            }
        }
        i + 1
    }

    /// `qty 24`, `Qty: 24`, `qty 2 doz`, `qty 2 bags of 25`.
    fn qty(&mut self, i: usize) -> usize {
        let at = self.reader.skip(i + 1, |tok| {
            matches!(tok, Tok::Colon | Tok::Dot | Tok::Dash)
        });
        if self.draft.quantity.is_some() && self.draft.pack_size.is_none() {
            if let Some(n) = self.whole(at)
                && self.per(at + 1).is_none()
                && !self.is_pack(at + 1)
            {
                self.draft.late = Some(n);
                self.reader.mark(i..at + 1, Role::Count);
                return at + 1;
            }
            return i + 1;
        }
        let words = self.sense(at, |sense| match sense {
            Sense::Count(n) => Some(*n),
            _ => None,
        });
        let Some(n) = self.whole(at).or(words) else {
            return i + 1;
        };
        if self.is_pack(at + 1) {
            let next = self.packs(at, n);
            self.reader.mark(i..next, Role::Count);
            return next;
        }
        let per = self.per(at + 1);
        let end = at + 1 + usize::from(per.is_some());
        self.count(n.checked_mul(per.unwrap_or(1)), None, i..end);
        end
    }

    /// `pack of 50`.
    fn lone_pack(&mut self, i: usize) -> usize {
        let (size, end) = self.pack_size(i);
        if size.is_some() && self.draft.pack_size.is_none() {
            self.draft.pack_size = size;
            self.reader.mark(i..end, Role::Count);
            return end;
        }
        i + 1
    }

    /// Puts packs and pack size together that were said apart; a pack size alone is one pack.
    fn settle_packs(&mut self) {
        let words = self.draft.pack_words.clone();
        match (self.draft.packs, self.draft.pack_size) {
            (packs, Some(size)) if self.draft.quantity.is_none() => {
                if packs.is_none() && self.draft.packs_open {
                    self.draft.doubts.push(Doubt::Said(
                        "how many packs is not stated: taken as one".into(),
                    ));
                }
                let packs = packs.unwrap_or(1);
                self.count(packs.checked_mul(size), Some(packs), words);
            }
            // `50 ea, bag of 25`: the packs say it again.
            (packs, Some(size)) => {
                let pieces = self.draft.quantity.map(|q| q.pieces);
                let packs = packs.or(pieces.map(|pieces| pieces / size.max(1)));
                // `16 washers, pack of 2`: 16 pieces, or 16 packs.
                let bare = self.count_at.clone().is_some_and(|at| {
                    let words =
                        self.reader.tokens[at.start].start..self.reader.tokens[at.end - 1].end;
                    !self.reader.text[words].contains(char::is_alphabetic)
                });
                if self.draft.packs.is_none() && bare && size > 1 {
                    let pieces = pieces.unwrap_or_default();
                    self.draft.doubts.push(Doubt::Said(
                        format!("may be {pieces} pieces or {pieces} packs of {size}").into(),
                    ));
                }
                if packs.and_then(|packs| packs.checked_mul(size)) != pieces {
                    let pieces = pieces.unwrap_or_default();
                    self.draft.doubts.push(Doubt::TwoQuantities(pieces, size));
                    self.draft.quantity = None;
                }
            }
            _ => {}
        }
    }

    /// `P/N 1120-0002`, `part no. 12`; `part thread`.
    fn part_number(&mut self, i: usize) -> usize {
        if self.text(i).eq_ignore_ascii_case("part")
            && self.is_word(i + 1)
            && self.text(i + 1).eq_ignore_ascii_case("thread")
        {
            self.draft.full_thread = Some(false);
            self.reader.mark(i..i + 2, Role::Name);
            return i + 2;
        }
        let mut at = i + 1;
        while at < self.end
            && (matches!(self.tok(at), Some(Tok::Dot | Tok::Colon))
                || self.says(at, Sense::NumberWord))
        {
            at += 1;
        }
        let first = at;
        while at < self.end
            && matches!(
                self.tok(at),
                Some(Tok::Code | Tok::Num { .. } | Tok::Dash | Tok::Unknown | Tok::Slash)
            )
            && (at == first || !self.reader.spaced(at))
        {
            at += 1;
        }
        let figures = (first..at).any(|j| matches!(self.tok(j), Some(Tok::Code | Tok::Num { .. })));
        if figures && self.draft.code.is_none() {
            let start = self.reader.tokens[first].start;
            let end = self.reader.tokens[at - 1].end;
            self.draft.code = Some(&self.reader.text[start..end]);
            self.draft.numbered = Some(self.reader.tokens[i].start..end);
            self.draft.codes += 1;
            self.reader.mark(i..at, Role::Number);
            return at;
        }
        // "part" as a plain word.
        self.draft.traits.unknown = true;
        i + 1
    }

    /// `No. 10`: a number size.
    fn number_word(&mut self, i: usize) -> usize {
        let at = self.reader.skip(i + 1, |tok| matches!(tok, Tok::Dot));
        if let Some(n) = self.whole(at)
            && n <= 14
            && let Some(Token {
                tok: Tok::Num { prefix, .. },
                ..
            }) = self.reader.tokens.get_mut(at)
        {
            *prefix = Prefix::Number;
            return at;
        }
        i + 1
    }

    /// `ISO 4014`, `ASME B18.2.1`, `DIN 934`: the number of the standard is no size.
    pub(super) fn standard(&mut self, i: usize) -> usize {
        let mut at = i + 1;
        // Another body's name may stand between (`DIN EN ISO 4014`).
        while self.says(at, Sense::Standard) {
            at += 1;
        }
        let first = at;
        if matches!(
            self.tok(at),
            Some(
                Tok::Code
                    | Tok::Num {
                        prefix: Prefix::None,
                        ..
                    }
            )
        ) {
            at += 1;
            while at < self.end
                && !self.reader.spaced(at)
                && matches!(
                    self.tok(at),
                    Some(Tok::Dot | Tok::Dash | Tok::Num { .. } | Tok::Slash)
                )
            {
                at += 1;
            }
            self.reader.mark(i..at, Role::Standard);
            if let Some(senses) = self.whole(first).and_then(words::standard) {
                self.draft.standard = senses;
            }
        }
        at
    }
}

/// What a word is taken for by itself.
fn role_of(row: &Row) -> Role {
    let role = |sense: &Sense| match sense {
        Sense::Noun(_)
        | Sense::Drive(_)
        | Sense::Point(_)
        | Sense::FullThread(_)
        | Sense::Head
        | Sense::DriveWord
        | Sense::PointWord
        | Sense::Thing
        | Sense::Tool
        | Sense::Unspecified => Some(Role::Name),
        Sense::Mark(mark) if mark.is_finish() => Some(Role::Finish),
        Sense::Mark(_) => Some(Role::Name),
        Sense::Grade(_) | Sense::GradeWord => Some(Role::Grade),
        Sense::Series(_)
        | Sense::Unit(_)
        | Sense::Metric(_)
        | Sense::Foot
        | Sense::Measure(_)
        | Sense::By
        | Sense::NumberWord
        | Sense::Fraction(_) => Some(Role::Size),
        Sense::Count(_)
        | Sense::Per(_)
        | Sense::Pack
        | Sense::SetWord
        | Sense::About
        | Sense::Qty
        | Sense::Each => Some(Role::Count),
        Sense::Both | Sense::PerBolt(_) => Some(Role::Places),
        Sense::Hardness => Some(Role::Standard),
        Sense::Torque | Sense::Pound => Some(Role::Torque),
        Sense::PartNumber => Some(Role::Number),
        Sense::Standard => Some(Role::Standard),
        Sense::For | Sense::PerPlace => Some(Role::Note),
        Sense::With
        | Sense::And
        | Sense::Without
        | Sense::Of
        | Sense::TypeWord
        | Sense::Corrects
        | Sense::Noise => None,
    };
    row.senses.iter().find_map(role).unwrap_or(Role::Passed)
}

pub(super) fn is_plural(word: &str) -> bool {
    word.ends_with(['s', 'S']) && word.len() > 2
}
