//! Numerals in a row, and the ways to read them: `2 1/2 nuts`, `3 8 by 2`, `two 1 5/8`.
//!
//! In a row of numerals with nothing between them a count runs into a size, a slash or a dash may
//! have been lost, and what was said once may stand there twice. Each way to read such a run is a
//! [`Parse`]; where there is but one and nothing is mended by it, it is simply so. Otherwise the
//! whole text is read in each way, and `score` tells which is the likeliest.

mod apply;
mod ways;

use std::ops::Range;

use super::{
    number::{Prefix, Shape},
    reader::Reader,
    spoken,
    token::Tok,
    words::{Measure, Noun, Sense, Senses},
};
use crate::hardware::{Ratio, Unit};
use ways::Context;

/// Tokens behind a run among which its noun is looked for; looking on to the end of every line would
/// take the square of its length.
const NEAR: usize = 64;
/// Runs of one text that are weighed: far more than a line of a list has. What a run is read as moves
/// all that stands behind it.
pub(super) const MOST_RUNS: usize = 256;

/// No run of a list is longer; what stands behind is left over.
const LONGEST: usize = 6;

/// One numeral of a run.
#[derive(Debug, Clone, Copy)]
struct Numeral {
    value: Ratio,
    kind: NumeralKind,
    /// A mark stands between it and the next (`24 - 1/2`).
    parted: bool,
    /// It was said in words.
    spoken: bool,
    /// Numerator and denominator as written, of an improper fraction.
    written: Option<(i64, i64)>,
    /// The unit in words that a ten in front of it may go with: 1 of `one quarter`, of `twenty one and a half`.
    unit: Option<i64>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum NumeralKind {
    /// `a`, `an`
    Article,
    /// `two`
    Word,
    Whole,
    Fraction,
    Mixed,
    /// `M8`, `#10`, `.5`: a size as it stands.
    Size,
}

use NumeralKind::*;

impl Numeral {
    fn whole(self) -> Option<i64> {
        matches!(self.kind, Article | Word | Whole).then(|| self.value.to_integer())
    }

    /// A whole number in figures with nothing between it and the next numeral.
    fn figure(self) -> Option<i64> {
        (self.kind == Whole).then(|| self.value.to_integer())
    }
}

/// What a run's numerals are, in one way to read them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Parse {
    /// Numerals in front that say nothing: a line's number.
    dropped: usize,
    /// The count, and how many numerals say it.
    count: Option<(u64, usize)>,
    size: Size,
    /// What was mended, as it is told.
    mended: Vec<Mend>,
    /// The first word of the size goes with the count: `twenty one | quarter`.
    with_unit: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Size {
    /// How many numerals it takes; 0 where the run is a count alone.
    len: usize,
    /// `None`: as it stands.
    value: Option<(Ratio, Shape)>,
    thread: Option<Ratio>,
}

/// What a way to read a run takes for a slip, and how unlikely that is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mend {
    Slash,
    Dash,
    SaidTwice,
    LineNumber,
    /// `243/8` for `24 3/8`, `24-1/2` for `24 - 1/2`.
    Tight,
}

impl Parse {
    /// The count, where it is one figure in front of a size that stands as it is: nothing moves.
    fn lone_count(&self, run: &Run) -> Option<u64> {
        let (count, 1) = self.count? else { return None };
        let as_is = self.dropped == 0
            && self.mended.is_empty()
            && self.size.value.is_none()
            && self.size.thread.is_none();
        let tight = self.size.len > 0 && run.tokens.len() == 1 + self.size.len;
        (as_is && tight).then_some(count)
    }

    /// What its mends cost.
    pub fn cost(&self) -> i32 {
        self.mended
            .iter()
            .map(|mend| match mend {
                Mend::Dash | Mend::Slash => 8,
                Mend::SaidTwice => 12,
                Mend::LineNumber => 12,
                Mend::Tight => 10,
            })
            .sum()
    }
}

/// A run of numerals: its tokens, and the ways to read it.
#[derive(Debug)]
pub(super) struct Run {
    pub tokens: Range<usize>,
    pub parses: Vec<Parse>,
}

impl Run {
    /// True where there is but one way, and it takes the run as written.
    pub fn is_sure(&self) -> bool {
        matches!(self.parses.as_slice(), [one] if one.mended.is_empty())
    }
}

impl Reader<'_> {
    /// The runs of a text that can be read in some way but as they stand, at most [`MOST_RUNS`].
    pub(super) fn runs(&self, start: usize) -> Vec<Run> {
        let mut runs = Vec::new();
        let mut i = start;
        while i < self.tokens.len() && runs.len() < MOST_RUNS {
            match self.run_at(i) {
                Some(run) => {
                    i = run.tokens.end;
                    if !run.parses.is_empty() {
                        runs.push(run);
                    }
                }
                None => i += 1,
            }
        }
        runs
    }

    /// Reads each run of a cell in the likeliest way.
    pub(super) fn settle(&mut self) {
        for run in self.runs(0).iter().rev() {
            if let Some(parse) = run.parses.iter().min_by_key(|parse| parse.cost()) {
                self.apply(run, parse);
            }
        }
    }

    fn numeral(&self, i: usize) -> Option<Numeral> {
        let token = self.tokens.get(i)?;
        let (value, kind) = match token.tok {
            Tok::Num {
                value,
                shape,
                prefix,
            } => {
                let kind = match (prefix, shape) {
                    (Prefix::None, Shape::Whole) => Whole,
                    (Prefix::None, Shape::Fraction) => Fraction,
                    (Prefix::None, Shape::Mixed) => Mixed,
                    _ => NumeralKind::Size,
                };
                (value, kind)
            }
            Tok::Word(row) => match row.count() {
                Some(n) => (Ratio::from_integer(i64::try_from(n).ok()?), Word),
                None => return None,
            },
            _ => return None,
        };
        let first = self.text.as_bytes().get(token.start);
        let spoken = first.is_some_and(u8::is_ascii_alphabetic);
        // No count has run into a proper fraction.
        let written = (kind == Fraction && value.numer() >= value.denom())
            .then(|| self.text[token.start..token.end].split_once(super::number::is_slash))
            .flatten()
            .and_then(|(numer, denom)| Some((numer.parse().ok()?, denom.parse().ok()?)));
        Some(Numeral {
            value,
            kind,
            parted: false,
            spoken,
            written,
            unit: spoken
                .then(|| spoken::unit(&self.text[token.start..token.end]))
                .flatten(),
        })
    }

    /// The article in front of a run: `a 1 3/8`.
    fn article(&self, i: usize) -> bool {
        let token = &self.tokens[i];
        matches!(token.tok, Tok::Word(_))
            && matches!(
                &self.text[token.start..token.end],
                "a" | "A" | "an" | "An" | "AN"
            )
            && self.tokens.get(i + 1).is_some_and(|next| next.spaced)
    }

    /// True where a count may stand: at the start of the text, of a part of it, or behind a noun.
    pub(super) fn leads(&self, i: usize) -> bool {
        let Some(before) = i.checked_sub(1) else {
            return true;
        };
        match self.tokens[before].tok {
            // A bullet, a line's number.
            _ if self.tokens[before].role.is_some() => true,
            Tok::Mark | Tok::Comma | Tok::Semicolon | Tok::Ampersand | Tok::Plus | Tok::Close => {
                true
            }
            Tok::Dash => self.leads(before),
            Tok::Open => true,
            Tok::Word(row) => {
                row.senses.iter().any(|sense| {
                    matches!(
                        sense,
                        Sense::And | Sense::With | Sense::Noun(_) | Sense::Qty | Sense::About
                    )
                }) || self.article(before)
                    // `2 sets of 4 1/2 x 3 bolts`
                    || (row.senses.contains(&Sense::Of)
                        && before
                            .checked_sub(1)
                            .is_some_and(|at| self.says(at, Sense::SetWord)))
            }
            // `got 16 3/8 x 3 bolts`: no word that is known binds the figure.
            Tok::Unknown => (i..self.tokens.len().min(i + NEAR)).any(|at| self.noun(at).is_some()),
            _ => false,
        }
    }

    /// True for a token that the figure behind it belongs to.
    fn binds(&self, i: usize) -> bool {
        match self.tokens[i].tok {
            _ if self.tokens[i].role.is_some() => false,
            Tok::Join | Tok::Slash | Tok::Foot | Tok::Money | Tok::At | Tok::Dot => true,
            Tok::Dash | Tok::Colon => false,
            Tok::Word(row) => row.kinds.meet(Senses::BINDS),
            _ => false,
        }
    }

    fn run_at(&self, i: usize) -> Option<Run> {
        let may_hold_count = match self.tokens[i].tok {
            Tok::Num {
                value,
                shape: Shape::Mixed | Shape::Fraction,
                prefix: Prefix::None,
            } => value.numer() >= value.denom(),
            Tok::Num { .. } => false,
            Tok::Word(row) if row.kinds.meet(Senses::COUNT) => false,
            _ => return None,
        };
        let before = i.checked_sub(1);
        let article = before.filter(|&at| self.article(at) && self.leads(at));
        // A lone figure in front of a word or a mark, as most are.
        let runs_on = self.tokens.get(i + 1).is_some_and(|next| match next.tok {
            Tok::Num { .. } => next.spaced,
            Tok::Word(row) => row.kinds.meet(Senses::COUNT),
            Tok::Dash | Tok::Colon => self.spaced(i + 2),
            _ => false,
        });
        if !runs_on && !may_hold_count && article.is_none() {
            return None;
        }
        let first = self.numeral(i)?;
        let tight = |at: usize| !self.tokens[at].spaced;
        // `-13`, `/2`, `x 3`: the figure belongs to what stands before.
        if before.is_some_and(|at| self.binds(at))
            || (before.is_some_and(|at| matches!(self.tokens[at].tok, Tok::Dash)) && tight(i))
        {
            return None;
        }
        let mut numerals = Vec::with_capacity(LONGEST + 1);
        numerals.push(first);
        let mut end = i + 1;
        while numerals.len() < LONGEST {
            // `24 - 1/2`, `24: 1/2`
            let parted = numerals.len() == 1
                && matches!(
                    self.tokens.get(end).map(|token| token.tok),
                    Some(Tok::Dash | Tok::Colon)
                )
                && !tight(end + usize::from(end + 1 < self.tokens.len()));
            let at = end + usize::from(parted);
            let Some(next) = self
                .numeral(at)
                .filter(|_| parted || self.tokens[at].spaced)
            else {
                break;
            };
            if let Some(last) = numerals.last_mut() {
                last.parted = parted;
            }
            numerals.push(next);
            end = at + 1;
        }
        let mut start = i;
        if let Some(before) = article {
            numerals.insert(
                0,
                Numeral {
                    value: Ratio::from_integer(1),
                    kind: Article,
                    parted: false,
                    spoken: true,
                    written: None,
                    unit: None,
                },
            );
            start = before;
        }
        let context = Context {
            leads: self.leads(start) && !self.notation.counted,
            first: start == 0
                || self.tokens[..start]
                    .iter()
                    .all(|t| matches!(t.tok, Tok::Mark)),
            dashed: matches!(
                self.tokens.get(end).map(|t| t.tok),
                Some(Tok::Dash | Tok::Slash)
            ) && !tight(end),
            goes_on: self.tokens.get(end).is_some_and(|token| {
                matches!(
                    token.tok,
                    Tok::Word(_) | Tok::Unknown | Tok::Join | Tok::Inch | Tok::Dash | Tok::Foot
                )
            }),
            series: self
                .sense(end, |s| matches!(s, Sense::Series(_)).then_some(()))
                .is_some(),
            dia: self.says(end, Sense::Measure(Measure::Diameter)),
            measured: self.is_measured(end),
            joined: matches!(self.tok(end), Some(Tok::Join)) || self.says(end, Sense::By),
            short: self.is_short(end),
            every: self.every,
            by_size: matches!(
                self.noun_behind(end),
                Some(Noun::Bolt | Noun::Nut | Noun::Washer)
            ),
            threads: self
                .number(end + 1)
                .filter(|_| matches!(self.tok(end), Some(Tok::Dash)) && !self.spaced(end + 1))
                .map(|(value, ..)| value),
        };
        let run = |parses| {
            Some(Run {
                tokens: start..end,
                parses,
            })
        };
        if numerals.len() == 1 {
            return run(context.tight(first));
        }
        run(context.parses(&numerals))
    }

    /// True where the noun behind is a nut or a washer.
    fn is_short(&self, from: usize) -> bool {
        matches!(self.noun_behind(from), Some(Noun::Nut | Noun::Washer))
    }

    fn noun_behind(&self, from: usize) -> Option<Noun> {
        (from..self.tokens.len().min(from + NEAR)).find_map(|at| self.noun(at))
    }

    /// `9 of`: a count stands before a token.
    fn counts_of(&self, i: usize) -> bool {
        i > 1 && self.says(i - 1, Sense::Of) && self.whole(i - 2).is_some()
    }

    fn is_inch(&self, i: usize) -> bool {
        matches!(self.tok(i), Some(Tok::Inch)) || self.says(i, Sense::Unit(Unit::Inch))
    }

    /// `3 1/2 long`: what the figures measure is said behind them.
    pub(super) fn is_measured(&self, end: usize) -> bool {
        let at = end + usize::from(self.is_inch(end));
        self.sense(at, |sense| {
            matches!(sense, Sense::Measure(Measure::Length | Measure::Outside)).then_some(())
        })
        .is_some()
    }
}
