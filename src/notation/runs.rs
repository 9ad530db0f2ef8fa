//! Numerals in a row, and the ways to read them: `2 1/2 nuts`, `3 8 by 2`, `two 1 5/8`.
//!
//! In a row of numerals with nothing between them a count runs into a size, a slash or a dash may
//! have been lost, and what was said once may stand there twice. Each way to read such a run is a
//! [`Parse`]; where there is but one and nothing is mended by it, it is simply so. Otherwise the
//! whole text is read in each way, and `score` tells which is the likeliest.

use std::ops::Range;

use super::{
    callout::Role,
    number::Shape,
    reader::Reader,
    token::{Prefix, Tok, Token},
    words::{Measure, Noun, Sense, Senses},
};
use crate::{
    doubt::Doubt,
    hardware::{Diameter, Ratio, Thread, Unit, thread},
};

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

    /// The tokens with a run read in one way, and the doubts that it gives.
    pub(super) fn apply(&mut self, run: &Run, parse: &Parse) {
        if let Some(count) = parse.lone_count(run) {
            self.tokens[run.tokens.start].tok = Tok::Count(count);
            return;
        }
        let old = self.tokens[run.tokens.clone()].to_vec();
        // Marks between the numerals of a run go with it.
        let figures: Vec<usize> = (0..old.len())
            .filter(|&i| !matches!(old[i].tok, Tok::Dash | Tok::Colon))
            .collect();
        let mut new: Vec<Token> = Vec::with_capacity(old.len());
        if let [only] = figures[..] {
            new.extend(split(&old[only], self.text, parse));
        } else {
            let mut at = 0;
            for &i in &figures[..parse.dropped] {
                new.push(Token {
                    tok: Tok::Mark,
                    role: Some(Role::Passed),
                    ..old[i]
                });
                at += 1;
            }
            if let Some((n, len)) = parse.count {
                let last = figures[at + len - 1];
                new.push(Token {
                    tok: Tok::Count(n),
                    end: old[last].end,
                    ..old[figures[at]]
                });
                at += len;
            }
            let rest = &figures[at..];
            let threads = usize::from(parse.size.thread.is_some());
            match (parse.size.value, rest) {
                (Some((value, shape)), [first, ..]) => {
                    let last = rest[parse.size.len - threads - 1];
                    new.push(Token {
                        tok: Tok::Num {
                            value,
                            shape,
                            prefix: Prefix::None,
                        },
                        end: old[last].end,
                        ..old[*first]
                    });
                }
                _ => new.extend(rest[..rest.len() - threads].iter().map(|&i| old[i])),
            }
            if let (Some(_), Some(&last)) = (parse.size.thread, rest.last()) {
                new.push(Token {
                    tok: Tok::Dash,
                    end: old[last].start,
                    start: old[last].start,
                    spaced: false,
                    role: None,
                });
                new.push(Token {
                    spaced: false,
                    ..figure(old[last])
                });
            }
        }
        // `12 2 3/4 washers`: as clear as that is no split.
        if let Some((value, Shape::Mixed)) = parse.size.value
            && value > Ratio::new(3, 2)
            && figures.len() > 1
            && self.is_short(run.tokens.end)
            && (parse.count.is_some() || self.counts_of(run.tokens.start))
        {
            let written = &self.text[old[0].start..old[old.len() - 1].end];
            let size = Diameter::Inch(value);
            let doubt = format!("\"{written}\" read as a size of {size}: a figure may be a count");
            self.notes
                .push((old[0].start, Doubt::HowMany(doubt.into())));
        }
        // Where nothing else makes a size of it, what was lost is sure.
        let sure = run.parses.len() == 1
            && parse.size.len == 2
            && matches!(parse.mended[..], [Mend::Slash | Mend::Dash]);
        for mend in parse.mended.iter().filter(|_| !sure) {
            let written = &self.text[old[0].start..old[old.len() - 1].end];
            let read = parse.read(&new, self.text);
            self.notes.push((old[0].start, mend.doubt(written, &read)));
        }
        self.tokens.splice(run.tokens.clone(), new);
    }
}

/// A count word as a figure.
fn figure(token: Token) -> Token {
    let tok = match token.tok {
        Tok::Word(row) => match row.count() {
            Some(n) => Tok::Num {
                value: Ratio::from_integer(i64::try_from(n).unwrap_or(i64::MAX)),
                shape: Shape::Whole,
                prefix: Prefix::None,
            },
            None => token.tok,
        },
        tok => tok,
    };
    Token { tok, ..token }
}

/// `243/8` as a count and a fraction: two tokens of one.
fn split(token: &Token, text: &str, parse: &Parse) -> Vec<Token> {
    let (Some((n, _)), Some((value, shape))) = (parse.count, parse.size.value) else {
        return vec![*token];
    };
    let digits = n.to_string().len().min(token.end - token.start);
    let at = token.start + digits;
    let gap = text[at..token.end]
        .chars()
        .next()
        .filter(|c| super::number::is_dash(*c))
        .map_or(0, char::len_utf8);
    vec![
        Token {
            tok: Tok::Count(n),
            end: at,
            ..*token
        },
        Token {
            tok: Tok::Num {
                value,
                shape,
                prefix: Prefix::None,
            },
            start: at + gap,
            spaced: true,
            ..*token
        },
    ]
}

impl Mend {
    fn doubt(self, written: &str, read: &str) -> Doubt {
        let why = match self {
            Mend::Slash => "a slash is missing",
            Mend::Dash => "a dash is missing",
            Mend::SaidTwice => "a number stands there twice",
            Mend::LineNumber => "the first is taken for a line's number",
            Mend::Tight => "a space is missing",
        };
        Doubt::HowMany(format!("\"{written}\" read as {read}: {why}").into())
    }
}

impl Parse {
    /// The run as it is read: `4 of 3/8`, `1/4-20`.
    fn read(&self, tokens: &[Token], text: &str) -> String {
        let mut size = String::new();
        for token in tokens {
            match token.tok {
                Tok::Num {
                    value,
                    shape,
                    prefix,
                } => {
                    let shown = match prefix {
                        Prefix::None if shape != Shape::Whole => Diameter::Inch(value).to_string(),
                        _ => text[token.start..token.end].to_owned(),
                    };
                    size += &shown;
                }
                Tok::Dash if self.size.thread.is_some() => size.push('-'),
                _ => {}
            }
        }
        match self.count {
            Some((n, _)) if size.is_empty() => n.to_string(),
            Some((n, _)) => format!("{n} of {size}"),
            None => size,
        }
    }
}

/// What stands about a run.
#[derive(Debug)]
struct Context {
    /// A count may stand in front.
    leads: bool,
    /// Nothing but marks stands before.
    first: bool,
    /// A dash with figures, or a slash, follows: the last numeral belongs to it.
    dashed: bool,
    /// A word, or a mark of a size, follows.
    goes_on: bool,
    /// The name of a thread series follows: `1/2 13 UNC` is no slip.
    series: bool,
    /// The figures are said to be a diameter.
    dia: bool,
    /// The figures behind are said to be a length or an outside diameter.
    measured: bool,
    /// `x` or `by` follows.
    joined: bool,
    /// A nut or washer is what is counted.
    short: bool,
    /// It is a bolt, a nut or a washer.
    by_size: bool,
    /// Threads per inch behind a dash.
    threads: Option<Ratio>,
}

impl Context {
    /// A lone fraction or mixed number into which a count may have run: `243/8`, `24-1/2`.
    fn tight(&self, numeral: Numeral) -> Vec<Parse> {
        let value = numeral.value;
        let odd = |value: Ratio| !Diameter::Inch(value).is_standard();
        if !self.leads || self.dia || self.measured || self.dashed || value.numer() < value.denom()
        {
            return Vec::new();
        }
        let parse = |count: Option<i64>, value: Option<(Ratio, Shape)>, mended: &[Mend]| Parse {
            dropped: 0,
            count: count.and_then(|n| u64::try_from(n).ok()).map(|n| (n, 1)),
            size: Size {
                len: 1,
                value,
                thread: None,
            },
            mended: mended.to_vec(),
        };
        match numeral.kind {
            // `24-1/2" nuts`, where no nut is for 24-1/2.
            Mixed if odd(value) && !odd(value.fract()) && (self.joined || self.short) => {
                let counted = Some((value.fract(), Shape::Fraction));
                let whole = Some(value.to_integer());
                if self.joined {
                    // `5-1/2 x 1/2` may stand the wrong way round.
                    vec![
                        parse(whole, counted, &[Mend::Tight]),
                        parse(None, None, &[]),
                    ]
                } else {
                    vec![parse(whole, counted, &[])]
                }
            }
            Fraction => {
                let mut parses = Vec::new();
                // 243/8 is 24 times 10 and 3 over 8.
                if let Some((numer, d)) = numeral.written {
                    for digits in [10, 100] {
                        let (n, rest) = (numer / digits, numer % digits);
                        let proper = rest % 2 == 1 && rest < d && rest >= digits / 10;
                        if !(1..100).contains(&n) || !proper {
                            continue;
                        }
                        let part = Ratio::new(rest, d);
                        let counted = Some((part, Shape::Fraction));
                        parses.push(parse(Some(n), counted, &[Mend::Tight]));
                        if thread::is_threaded_size(Diameter::Inch(part + n)) {
                            let mixed = Some((part + n, Shape::Mixed));
                            parses.push(parse(None, mixed, &[Mend::Tight]));
                        }
                    }
                }
                parses
            }
            _ => Vec::new(),
        }
    }

    fn parses(&self, numerals: &[Numeral]) -> Vec<Parse> {
        match self.plainly_counted(numerals) {
            Some(parse) => vec![parse],
            None => self.weighed(numerals),
        }
    }

    /// `24 1/2 nuts`, `8 M12 bolts`: a count and a size that can be nothing else. The same comes out
    /// where every way is tried.
    fn plainly_counted(&self, numerals: &[Numeral]) -> Option<Parse> {
        let [count, size] = numerals else { return None };
        let pieces = u64::try_from(count.whole()?).ok()?;
        let mixed = match size.kind {
            NumeralKind::Size => false,
            Fraction => count.figure().is_some() && size.value.numer() < size.value.denom(),
            _ => return None,
        };
        let is_one_size = || {
            let value = Diameter::Inch(size.value + count.value);
            self.measured || self.is_threaded(value)
        };
        if pieces == 0 || !self.leads || size.parted || (mixed && is_one_size()) {
            return None;
        }
        Some(Parse {
            dropped: 0,
            count: Some((pieces, 1)),
            size: Size {
                len: 1,
                value: None,
                thread: None,
            },
            mended: Vec::new(),
        })
    }

    /// True where a diameter has the threads that are stated, or any.
    fn is_threaded(&self, diameter: Diameter) -> bool {
        self.threads.map_or_else(
            || thread::is_threaded_size(diameter),
            |n| thread::is_standard(diameter, Thread::PerInch(n)),
        )
    }

    /// The ways that are left where every way is tried.
    fn weighed(&self, numerals: &[Numeral]) -> Vec<Parse> {
        let mut parses = Vec::new();
        for (taken, dropped, count, mended) in self.counts(numerals) {
            let rest = &numerals[taken..];
            for (size, more) in self.sizes(rest) {
                if size.len == 0 && count.is_none() {
                    continue;
                }
                let mended = mended.iter().chain(&more).copied().collect();
                parses.push(Parse {
                    dropped,
                    count: count.map(|n| (n, taken - dropped)),
                    size,
                    mended,
                });
            }
        }
        let plain = |parse: &Parse| parse.mended.is_empty();
        // `24 1/2 nuts`: no nut is for 24-1/2; `3 1/2 long` is one figure; `1 1/8-7` has its thread.
        let counted_too = parses.iter().any(|parse| parse.count.is_some());
        let odd = |parse: &Parse| match parse.size.value {
            Some((value, Shape::Mixed)) => {
                counted_too && !self.measured && !self.is_threaded(Diameter::Inch(value))
            }
            _ => false,
        };
        parses.retain(|parse| !odd(parse));
        let mixed = |parse: &Parse| matches!(parse.size.value, Some((_, Shape::Mixed)));
        if let [.., part] = numerals
            && part.kind == Fraction
            && parses.iter().any(|parse| mixed(parse) && plain(parse))
        {
            let alone = Diameter::Inch(part.value);
            let threaded = self
                .threads
                .is_none_or(|n| thread::is_standard(alone, Thread::PerInch(n)));
            if self.measured || !alone.is_standard() || !threaded {
                parses.retain(mixed);
            }
        }
        // `16 3 8 washers`: of bolts, nuts and washers none is called by a bare number, so that this is no
        // line's number with three pieces of #8.
        let slash = |parse: &Parse| {
            parse.mended == [Mend::Slash] && parse.count.is_some() && parse.dropped == 0
        };
        if self.by_size && parses.iter().any(slash) {
            parses.retain(|parse| !parse.mended.contains(&Mend::LineNumber));
        }
        // Nothing is mended where the text can be read as it stands.
        if parses.iter().any(plain) && !self.may_be_slip(numerals) {
            parses.retain(plain);
        }
        // Only mixed, as the figures say of themselves.
        let as_is = |parse: &Parse| {
            let size = parse.size.thread.is_none();
            plain(parse) && size && parse.count.is_none() && parse.dropped == 0
        };
        if let [one] = parses.as_slice()
            && as_is(one)
        {
            parses.clear();
        }
        parses
    }

    /// True where the run reads as written, and yet people would say that it holds a slip: two bare
    /// whole numbers that make a fraction, a count that is said again.
    fn may_be_slip(&self, numerals: &[Numeral]) -> bool {
        let pair = numerals.windows(2).any(|pair| lost_slash(pair).is_some());
        let again = numerals.len() > 2
            && numerals[0].whole().is_some()
            && numerals[1].whole().is_some_and(|n| {
                (n == 1 && numerals[0].kind != Whole) || Some(n) == numerals[0].whole()
            });
        pair || again
    }

    /// The ways to take a count in front: numerals taken, of them dropped, the count.
    fn counts(&self, numerals: &[Numeral]) -> Vec<(usize, usize, Option<u64>, Vec<Mend>)> {
        let mut counts = Vec::new();
        if !matches!(numerals[0].kind, Article | Word) && !numerals[0].parted {
            counts.push((0, 0, None, Vec::new()));
        }
        let count = |at: usize| {
            numerals
                .get(at)
                .and_then(|numeral| numeral.whole())
                .and_then(|n| u64::try_from(n).ok())
                .filter(|&n| n > 0)
        };
        let Some(first) = count(0).filter(|_| self.leads) else {
            return counts;
        };
        counts.push((1, 0, Some(first), Vec::new()));
        if let Some(second) = count(1)
            && numerals.len() > 2
        {
            // `two 2 5/8`; `two 1 5/8`, `a 1 3/8`: a doubled numeral, or an article put in figures.
            let spoken = matches!(numerals[0].kind, Article | Word);
            if second == first || (second == 1 && spoken) {
                counts.push((2, 0, Some(first), vec![Mend::SaidTwice]));
            } else if self.first && numerals[0].kind == Whole && numerals[1].kind == Whole {
                counts.push((2, 1, Some(second), vec![Mend::LineNumber]));
            }
        }
        counts
    }

    /// The ways to read the numerals behind the count as one size.
    fn sizes(&self, rest: &[Numeral]) -> Vec<(Size, Vec<Mend>)> {
        let size = |len, value, thread| Size { len, value, thread };
        let mut sizes = Vec::new();
        if rest.iter().any(|numeral| numeral.kind == Article)
            || rest.iter().rev().skip(1).any(|numeral| numeral.parted)
        {
            return sizes;
        }
        let fraction = |value| Some((value, Shape::Fraction));
        let mixed = |value| Some((value, Shape::Mixed));
        match *rest {
            // A whole number at the end is no size.
            [one] if one.kind != Word && (one.kind != Whole || self.goes_on) => {
                sizes.push((size(1, None, None), Vec::new()))
            }
            [whole, part] if part.kind == Fraction => {
                if let Some(whole) = whole.figure()
                    && part.value < Ratio::from_integer(1)
                    // A numeral of more figures is no mixed number.
                    && (1..1000).contains(&whole)
                {
                    let value = part.value + whole;
                    sizes.push((size(2, mixed(value), None), Vec::new()));
                }
            }
            _ => {}
        }
        if self.dashed {
            return sizes;
        }
        let slash = |pair: &[Numeral]| lost_slash(pair);
        let threaded = |value: Ratio, last: Numeral| {
            let n = last.whole()?;
            let stated = Thread::per_inch(n);
            (self.goes_on && !self.series && thread::is_standard(Diameter::Inch(value), stated))
                .then(|| Ratio::from_integer(n))
        };
        if let [a, b] = rest {
            if let Some(value) = slash(&[*a, *b]) {
                sizes.push((size(2, fraction(value), None), vec![Mend::Slash]));
            }
            if matches!(a.kind, Fraction | Mixed)
                && let Some(threads) = threaded(a.value, *b)
            {
                // Nobody says the dash.
                let mended = match a.spoken && b.spoken {
                    true => Vec::new(),
                    false => vec![Mend::Dash],
                };
                sizes.push((size(2, None, Some(threads)), mended));
            }
            // `10 24`, `1 8`
            if let (Some(n), Some(threads)) = (a.figure(), b.figure()) {
                let stated = Thread::per_inch(threads);
                let number = u8::try_from(n).map(Diameter::Number);
                let common = |diameter| {
                    [thread::coarse(diameter), thread::fine(diameter)].contains(&Some(stated))
                };
                if self.goes_on && number.is_ok_and(common) {
                    let threads = Some(Ratio::from_integer(threads));
                    sizes.push((size(2, None, threads), vec![Mend::Dash]));
                }
            }
        }
        if let [a, b, c] = rest {
            if let (Some(whole), Some(part)) = (a.figure(), slash(&[*b, *c])) {
                let value = part + whole;
                sizes.push((size(3, mixed(value), None), vec![Mend::Slash]));
            }
            if let Some(value) = slash(&[*a, *b])
                && let Some(threads) = threaded(value, *c)
            {
                let mended = vec![Mend::Slash, Mend::Dash];
                sizes.push((size(3, fraction(value), Some(threads)), mended));
            }
        }
        sizes
    }
}

/// `3 8`: three eighths that lost the slash.
fn lost_slash(pair: &[Numeral]) -> Option<Ratio> {
    let (n, d) = (pair[0].figure()?, pair[1].figure()?);
    let of_the_rule = matches!(d, 2 | 4 | 8 | 16 | 32 | 64);
    (!pair[0].parted && of_the_rule && n > 0 && n < d && n % 2 == 1).then(|| Ratio::new(n, d))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn numeral() -> impl Strategy<Value = Numeral> {
        let value = (0..40i64, prop::sample::select(vec![1, 2, 4, 8, 16, 32, 10]));
        let kind = prop::sample::select(vec![
            Article,
            Word,
            Whole,
            Fraction,
            Mixed,
            NumeralKind::Size,
        ]);
        (value, kind, any::<bool>(), any::<bool>()).prop_map(|((n, d), kind, parted, spoken)| {
            let whole = matches!(kind, Article | Word | Whole);
            Numeral {
                value: Ratio::new(n, if whole { 1 } else { d }),
                kind,
                parted,
                spoken,
                written: None,
            }
        })
    }

    fn context() -> impl Strategy<Value = Context> {
        let threads = prop::option::of(prop::sample::select(vec![5, 7, 8, 11, 13, 20]));
        (prop::array::uniform10(any::<bool>()), threads).prop_map(|(is, threads)| Context {
            leads: is[0],
            first: is[1],
            dashed: is[2],
            goes_on: is[3],
            series: is[4],
            dia: is[5],
            measured: is[6],
            joined: is[7],
            short: is[8],
            by_size: is[9],
            threads: threads.map(Ratio::from_integer),
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(20_000))]

        /// What is taken as it stands is what trying every way comes to.
        #[test]
        fn a_plain_count_is_what_every_way_comes_to(
            context in context(), count in numeral(), size in numeral()
        ) {
            if let Some(parse) = context.plainly_counted(&[count, size]) {
                prop_assert_eq!(context.weighed(&[count, size]), vec![parse]);
            }
        }
    }

    #[test]
    fn a_count_in_front_of_a_size_is_plain() {
        let context = Context {
            leads: true,
            first: true,
            dashed: false,
            goes_on: true,
            series: false,
            dia: false,
            measured: false,
            joined: false,
            short: false,
            by_size: false,
            threads: None,
        };
        let numeral = |kind, n, d| Numeral {
            value: Ratio::new(n, d),
            kind,
            parted: false,
            spoken: false,
            written: None,
        };
        let plain = |count, size| context.plainly_counted(&[count, size]).is_some();
        assert!(plain(numeral(Whole, 24, 1), numeral(Fraction, 1, 2)));
        assert!(plain(numeral(Word, 2, 1), numeral(Fraction, 1, 2)));
        assert!(plain(
            numeral(Whole, 8, 1),
            numeral(NumeralKind::Size, 12, 1)
        ));
        // Nuts are made for 2-1/2.
        assert!(!plain(numeral(Whole, 2, 1), numeral(Fraction, 1, 2)));
        assert!(!plain(numeral(Whole, 3, 1), numeral(Whole, 8, 1)));
    }
}
