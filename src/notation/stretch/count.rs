//! The count in front of an item, told from its size.

use super::Stretch;
use crate::{
    doubt::Doubt,
    hardware::{Diameter, Ratio, thread},
    notation::{
        callout::Role,
        number::{Prefix, Shape},
        token::Tok,
        words::{Noun, Row, Sense, is_measure_of_parts},
    },
};

impl Stretch<'_, '_> {
    /// The count in front of an item.
    pub(super) fn lead(&mut self, start: usize) -> usize {
        let i = self.reader.skip(start, |tok| {
            matches!(
                tok,
                Tok::Mark | Tok::Dash | Tok::Comma | Tok::Semicolon | Tok::Slash | Tok::Close
            )
        });
        self.draft.open_count = (start..i).any(|at| self.reader.is_open_count(at));
        if let Some(Tok::Count(n)) = self.tok(i) {
            self.count(Some(n), None, i..i + 1);
            return i + 1;
        }
        if let Some(n) = self.row(i).and_then(Row::count) {
            return self.lead_in_words(i, n);
        }
        let article = self.tok(i).is_some() && self.is_word(i) && matches!(self.text(i), "a" | "A");
        if article && self.tok(i + 1).is_some() && self.text(i + 1) == "single" {
            self.count(Some(1), None, i..i + 2);
            return i + 2;
        }
        // `a dozen`, `a half dozen`
        let in_words = || self.text(i + 1).starts_with(char::is_alphabetic);
        let several = || {
            self.per(i + 1)
                .or_else(|| self.whole(i + 1).filter(|_| in_words()))
        };
        if article && let Some(n) = several().filter(|&n| n > 1) {
            self.count(Some(n), None, i..i + 2);
            return i + 2;
        }
        if let Some(end) = self.lead_hundreds(i) {
            return end;
        }
        let Some(n) = self.whole(i) else { return i };
        if let Some(end) = self.sets_of(i + 1) {
            return self.lead_sets_of(i, n, end);
        }
        if let Some(end) = self.lead_times(i, n).or_else(|| self.lead_of(i, n)) {
            return end;
        }
        match self.lead_end(i) {
            Some(end) => {
                let end = self.pieces_sign(end);
                let end = match self.is_set(end) {
                    true => {
                        self.draft.sets = true;
                        end + 1
                    }
                    false => end,
                };
                self.count(Some(n), None, i..end);
                end
            }
            None => self.lead_length(i),
        }
    }

    /// `2 sets of 1/2 x 3 bolt, nut and washer`
    fn lead_sets_of(&mut self, i: usize, sets: u64, end: usize) -> usize {
        (self.draft.sets, self.draft.sets_of) = (true, true);
        self.count(Some(sets), None, i..end);
        end
    }

    /// `2C 1/4 x 1 bolts`, `1M M8 nuts`, `1 gr 1/4 washers`: hundreds, thousands and a gross, which are asked about. A
    /// rod may have so many metres.
    fn lead_hundreds(&mut self, i: usize) -> Option<usize> {
        let is_sized = |at: usize| {
            self.number(at).is_some_and(|(_, shape, prefix)| {
                prefix != Prefix::None || matches!(shape, Shape::Fraction | Shape::Mixed)
            })
        };
        let glued = match self.tok(i)? {
            Tok::Code => self.text(i).strip_suffix('C'),
            _ => None,
        };
        let hundreds = glued.and_then(|figure| figure.parse().ok());
        let metres = || {
            (i..self.end).any(|at| self.reader.noun(at) == Some(Noun::Rod))
                || !(i..self.end).any(|at| self.reader.noun(at).is_some())
        };
        let unit = self.is_word(i + 1).then(|| self.text(i + 1));
        let (n, unit, end): (u64, u64, usize) = match (hundreds, unit) {
            (Some(n), _) => (n, 100, i + 1),
            (None, Some("M")) if !self.reader.spaced(i + 1) && !metres() => {
                (self.whole(i)?, 1000, i + 2)
            }
            (None, Some(gross)) if gross.eq_ignore_ascii_case("gr") => (self.whole(i)?, 144, i + 2),
            _ => return None,
        };
        if !is_sized(end) {
            return None;
        }
        let pieces = n.checked_mul(unit)?;
        let tokens = &self.reader.tokens;
        let written = &self.reader.text[tokens[i].start..tokens[end - 1].end];
        self.draft.doubts.push(Doubt::OrElse {
            pieces: n,
            said: format!("{written} read as {pieces}: C, M and gr are the trade's hundred, thousand and gross").into(),
        });
        self.count(Some(pieces), None, i..end);
        Some(end)
    }

    /// `6no. ladder clips`: behind the sign, where no number size follows it. `3 x number plate` has another.
    fn pieces_sign(&self, at: usize) -> usize {
        let stop = (self.reader).skip(at + 1, |tok| matches!(tok, Tok::Dot));
        let signed = self.says(at, Sense::NumberWord)
            && self.is_word(stop)
            && !self.text(at).eq_ignore_ascii_case("number")
            && !matches!(self.reader.tok(at - 1), Some(Tok::Join));
        if signed { stop } else { at }
    }

    /// `2 x 50 pack`, `3 C` of a size: where the count ends.
    fn lead_times(&mut self, i: usize, n: u64) -> Option<usize> {
        // `4 M 8 nuts` has a metric size.
        let size = |(_, shape, prefix)| prefix != Prefix::None || shape != Shape::Whole;
        if let Some(unit) = self.issue(i + 1)
            && self
                .number(i + 2)
                .is_some_and(|figure| unit == 100 || size(figure))
        {
            self.count(n.checked_mul(unit), None, i..i + 2);
            return Some(i + 2);
        }
        // `1 x bag of 50`, `4 x box/100`
        if matches!(self.tok(i + 1), Some(Tok::Join)) && self.is_pack(i + 2) {
            let end = self.packs(i + 1, n);
            self.reader.mark(i..i + 1, Role::Count);
            return Some(end);
        }
        let each = self.whole(i + 2)?;
        let apart = self.reader.spaced(i + 1) && self.reader.spaced(i + 2);
        // `10 x 10-pack`
        let pack = self.reader.skip(i + 3, |tok| matches!(tok, Tok::Dash));
        if !apart || !matches!(self.tok(i + 1), Some(Tok::Join)) || !self.says(pack, Sense::Pack) {
            return None;
        }
        self.count(n.checked_mul(each), Some(n), i..pack + 1);
        Some(pack + 1)
    }

    /// `4 of 4 leg tubes`, `3 out of 4`: so many of as many as there should be. Gives where that ends.
    fn lead_of(&mut self, i: usize, n: u64) -> Option<usize> {
        let out = self.is_word(i + 1) && self.text(i + 1).eq_ignore_ascii_case("out");
        let of = i + 1 + usize::from(out);
        let all = self.whole(of + 1).filter(|_| self.says(of, Sense::Of))?;
        let end = of + 2;
        let named =
            self.is_word(end) || self.number(end).is_some_and(|(.., of)| of != Prefix::None);
        (named && all >= n && self.per(end).is_none()).then_some(())?;
        if all > n {
            let said = format!("{n} of {all}: {n} taken for how many");
            self.draft.doubts.push(Doubt::OrElse {
                pieces: all,
                said: said.into(),
            });
        }
        self.count(Some(n), None, i..end);
        Some(end)
    }

    /// `C` and `M` apart, as units of issue.
    pub(super) fn issue(&self, i: usize) -> Option<u64> {
        let unit = match self.is_word(i).then(|| self.text(i))? {
            "C" => 100,
            "M" => 1000,
            _ => return None,
        };
        self.reader.spaced(i).then_some(unit)
    }

    /// `10 ft of threaded rod`: so much in all, and no count of pieces.
    fn lead_length(&mut self, i: usize) -> usize {
        let Some((mut value, _, Prefix::None)) = self.number(i) else {
            return i;
        };
        let (unit, end) = self.unit(i + 1, &mut value);
        if unit.is_none() || !self.says(end, Sense::Of) {
            return i;
        }
        let tokens = &self.reader.tokens;
        let written = &self.reader.text[tokens[i].start..tokens[end - 1].end];
        self.draft.doubts.push(Doubt::HowMany(
            format!("{written} in all: how many pieces is not stated").into(),
        ));
        self.reader.mark(i..end + 1, Role::Note);
        end + 1
    }

    /// `two`, `twelve (12)`, `two dozen`.
    fn lead_in_words(&mut self, i: usize, n: u64) -> usize {
        let counts_again = self.sense(i + 1, |sense| {
            matches!(sense, Sense::Count(_)).then_some(())
        });
        if counts_again.is_some() {
            return i;
        }
        let mut end = i + 1;
        if matches!(self.tok(end), Some(Tok::Open))
            && self.whole(end + 1) == Some(n)
            && matches!(self.tok(end + 2), Some(Tok::Close))
        {
            end += 3;
        }
        let per = self.per(end);
        if per.is_some() {
            end += 1;
        }
        if let Some(of) = self.sets_of(end) {
            return self.lead_sets_of(i, n.saturating_mul(per.unwrap_or(1)), of);
        }
        if self.is_pack(end) {
            return self.packs(end - 1, n).max(end);
        }
        if end >= self.end {
            return i;
        }
        if self.is_set(end) {
            self.draft.sets = true;
            end += 1;
        }
        self.count(n.checked_mul(per.unwrap_or(1)), None, i..end);
        end
    }

    /// Where the bare whole number at `i` is a count: the token after it and its joining mark.
    pub(super) fn lead_end(&mut self, i: usize) -> Option<usize> {
        let next = i + 1;
        match self.tok(next)? {
            Tok::Word(row) => {
                let material = matches!(self.whole(i), Some(304 | 316 | 410))
                    && row.senses.iter().any(|s| matches!(s, Sense::Grade(_)));
                let measured = row.senses.iter().any(|sense| {
                    matches!(
                        sense,
                        Sense::Unit(_)
                            | Sense::Metric(_)
                            | Sense::Foot
                            | Sense::Measure(_)
                            | Sense::Per(_)
                            | Sense::Torque
                            | Sense::Pound
                            | Sense::Hardness
                            | Sense::By
                            | Sense::Series(_)
                    )
                }) && row.spelling != "l";
                (!material && !measured && !self.is_pack(next)).then_some(next)
            }
            Tok::Code => Some(next),
            Tok::Unknown => (!is_measure_of_parts(self.text(next))).then_some(next),
            Tok::Join => self.lead_joined(i),
            Tok::Num {
                value,
                shape,
                prefix,
            } => {
                let counted = match (prefix, shape) {
                    // One size: a count would have been told from it.
                    (Prefix::None, Shape::Fraction) => value >= Ratio::from_integer(1),
                    (Prefix::None, Shape::Whole) => {
                        matches!(
                            self.number(next + 1),
                            Some((_, Shape::Fraction, Prefix::None))
                        ) || matches!(self.tok(next + 1), Some(Tok::Join | Tok::Dash | Tok::Inch))
                            || self
                                .sense(next + 1, |s| matches!(s, Sense::Unit(_)).then_some(()))
                                .is_some()
                    }
                    _ => true,
                };
                counted.then_some(next)
            }
            Tok::Dash | Tok::Colon if self.reader.spaced(next + 1) => match self.number(next + 1) {
                Some((value, Shape::Fraction, Prefix::None)) => {
                    (value >= Ratio::from_integer(1)).then_some(next + 1)
                }
                Some(_) => Some(next + 1),
                None => self.is_word(next + 1).then_some(next + 1),
            },
            // `24 @ 1/2 x 8`
            Tok::At => {
                let size = |(_, shape, prefix)| prefix != Prefix::None || shape == Shape::Fraction;
                self.number(next + 1).is_some_and(size).then_some(next + 1)
            }
            Tok::Comma => {
                (self.is_word(next + 1) || self.number(next + 1).is_some()).then_some(next + 1)
            }
            // `24 (24)`, `24 (twenty-four)` say it twice.
            Tok::Open => {
                let again = self.reader.counted(next + 1) == self.whole(i)
                    && matches!(self.tok(next + 2), Some(Tok::Close));
                Some(if again { next + 3 } else { next })
            }
            _ => None,
        }
    }

    /// `24 x hex bolts`, `4 x M8`, `2 x 1/2 x 3`; `3 x 1/2` is a count for nuts and washers only.
    fn lead_joined(&mut self, i: usize) -> Option<usize> {
        let after = self.reader.skip(i + 1, |tok| matches!(tok, Tok::Join));
        let Some((value, shape, prefix)) = self.number(after) else {
            return self.is_word(after).then_some(after);
        };
        let (dims, behind) = self.dims(after, None);
        let fraction = matches!(shape, Shape::Fraction | Shape::Mixed);
        let standard = thread::is_threaded_size(Diameter::Inch(value));
        let short = || {
            (i..self.end)
                .find_map(|j| self.reader.noun(j))
                .is_some_and(|noun| matches!(noun, Noun::Nut | Noun::Washer))
        };
        // `8 x 3/8 carriage bolts, 5"`: the length stands behind.
        let sized_behind = || {
            (behind..self.end)
                .any(|at| self.number(at).is_some() && matches!(self.tok(at + 1), Some(Tok::Inch)))
        };
        // `2 x 6 ft 5/8 threaded rod`: so many of a length.
        let long = dims.is_too_thick() && self.number(behind).is_some();
        let counted = prefix != Prefix::None
            || dims.thread.is_some()
            || long
            || (fraction && standard && (dims.len() > 1 || short() || sized_behind()));
        // `40 x M8 hex bolt` may be a length in front.
        if prefix == Prefix::Metric
            && dims.len() == 1
            && (i..self.end)
                .find_map(|j| self.reader.noun(j))
                .is_some_and(Noun::is_long)
        {
            if self.is_counted(behind) {
                return None;
            }
            let (count, size) = (self.text(i), self.text(after));
            self.draft.doubts.push(Doubt::Readings(vec![
                format!("{count} pieces of {size}").into(),
                format!("{size} x {count}").into(),
            ]));
        }
        counted.then_some(after)
    }

    /// True where a figure from a token on says that it counts: `4 pcs`, `qty 4`, `(4)` at the end.
    fn is_counted(&self, from: usize) -> bool {
        (from..self.end).any(|i| {
            let bracketed = || {
                i + 2 == self.end
                    && matches!(self.reader.tok(i - 1), Some(Tok::Open))
                    && matches!(self.tok(i + 1), Some(Tok::Close))
            };
            let counts = || self.per(i + 1).is_some() || self.says(i - 1, Sense::Qty);
            self.whole(i).is_some() && (counts() || bracketed())
        })
    }
}
