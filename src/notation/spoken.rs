//! Numbers and fractions in words, as people dictate them: `three eighths by four and a half`.
//!
//! Works on tokens: those of one dictated number become one numeral that keeps its place in the text.

use std::borrow::Cow;

use super::{
    callout::Notation,
    number::{Prefix, Shape},
    token::{Tok, Token, tokens},
    words::{self, Mark, Noun, Row, Sense, Senses},
};
use crate::hardware::{Diameter, Length, Ratio, Thread, Unit, thread};

/// Words behind an `in` that is no inch: `two in the middle`.
#[rustfmt::skip]
pub(super) const ARTICLES: &[&str] = &[
    "the", "a", "an", "each", "every", "both", "all", "this", "that", "these", "those", "its", "their",
    "place", "total", "one",
];

/// Metric diameters that are written apart from their letter: `M 8`.
const METRIC: [u64; 12] = [3, 4, 5, 6, 8, 10, 12, 14, 16, 20, 24, 30];

/// So many words behind a number size its fastener is named.
const NEAR: usize = 12;

/// Puts dictated numbers together. Single words for counts stay as they are, where nothing tells that
/// they measure.
/// `None` where there are none.
pub(super) fn join(text: &str, tokens: &[Token]) -> Option<Vec<Token>> {
    let dictated = |token: &Token| match token.tok {
        // `by 2 and 1/2`
        Tok::Word(row) => {
            row.kinds.meet(Senses::DICTATED) || row.says(Sense::And) || row.per_many().is_some()
        }
        Tok::Unknown => &text[token.start..token.end] == "C",
        _ => false,
    };
    if !tokens.iter().any(dictated) {
        return None;
    }
    let number_at = |i: usize, joined: &[Token]| {
        let words = Words {
            text,
            tokens,
            joined,
        };
        words.may_begin(i).then(|| words.number_at(i)).flatten()
    };
    // What stands in front of the first is as it was.
    let first = (0..tokens.len()).find(|&i| number_at(i, &tokens[..i]).is_some())?;
    let mut joined = Vec::with_capacity(tokens.len());
    joined.extend_from_slice(&tokens[..first]);
    let mut i = first;
    while i < tokens.len() {
        match number_at(i, &joined) {
            Some((tok, end)) => {
                joined.push(Token {
                    tok,
                    end: tokens[end - 1].end,
                    ..tokens[i]
                });
                i = end;
                // `ten twenty four`: a dash that is not spoken.
                let prefix = match tok {
                    Tok::Num { prefix, .. } => prefix,
                    _ => Prefix::None,
                };
                if prefix == Prefix::Number {
                    let at = tokens[end - 1].end;
                    joined.push(Token {
                        tok: Tok::Dash,
                        start: at,
                        end: at,
                        spaced: false,
                        role: None,
                    });
                }
                // `five-eighths-inch`: the dash behind joins no figures.
                if is_tight_dash(tokens, i) && matches!(tokens[i + 1].tok, Tok::Word(_)) {
                    i += 1;
                }
            }
            None => {
                joined.push(tokens[i]);
                i += 1;
            }
        }
    }
    Some(joined)
}

/// The unit in words of a dictated size that a ten in front may go with: 1 of `one quarter`, which `twenty` may
/// make 21 of, and of `twenty one and a half`, whose ten is its own.
pub(super) fn unit(number: &str) -> Option<i64> {
    let count = |word: &str| words::look_up(word).and_then(Row::count);
    let is_unit = |n: &u64| (1..10).contains(n);
    let mut words = number.split_ascii_whitespace();
    let first = count(words.next()?)?;
    let second = words.next()?;
    let unit = match is_unit(&first) {
        // Of `eighths` there are several.
        true => {
            let part = words::look_up(second).and_then(Row::fraction);
            let lone = part.is_some() && !second.ends_with(['s', 'S']) && words.next().is_none();
            lone.then_some(first)
        }
        false => {
            let ten = (20..100).contains(&first) && first.is_multiple_of(10);
            count(second).filter(|n| ten && is_unit(n) && words.next() == Some("and"))
        }
    };
    unit.and_then(|unit| i64::try_from(unit).ok())
}

/// The whole number that one word says: `three`.
pub fn number_in_words(word: &str) -> Option<u64> {
    words::look_up(word)?.count()
}

/// A text with its dictated numbers in figures.
pub fn figures(text: &str) -> Cow<'_, str> {
    let said = in_figures(text, &tokens(text, Notation::default()));
    said.map_or(Cow::Borrowed(text), Cow::Owned)
}

/// The text with its dictated numbers in figures: `2-3/4` for `two and three quarter`, `24` for
/// `twenty-four`. A count in front of a fraction becomes a figure too (`2 3/8`). Single words for
/// counts stay as they are. `plain`: its tokens. `None` where it has none.
pub(super) fn in_figures(text: &str, plain: &[Token]) -> Option<String> {
    let figures = join(text, plain)?;
    let in_words = |token: &Token| {
        let spelled = matches!(
            token.tok,
            Tok::Num {
                prefix: Prefix::None | Prefix::Number,
                ..
            }
        );
        spelled && is_word(text, token)
    };
    if figures.len() == plain.len() && !figures.iter().any(in_words) {
        return None;
    }
    let mut out = String::with_capacity(text.len());
    let mut copied = 0;
    for (i, token) in figures.iter().enumerate() {
        let written = plain
            .binary_search_by_key(&token.start, |p| p.start)
            .is_ok_and(|at| plain[at].end == token.end);
        let word = matches!(token.tok, Tok::Word(_));
        let figure = match token.tok {
            Tok::Num { value, .. } if !written || in_words(token) => Some(value),
            // The count of a fraction.
            Tok::Word(row) if is_sized(&figures, i + 1) => row.count().map(ratio),
            _ => None,
        };
        let Some(figure) = figure else { continue };
        out.push_str(&text[copied..token.start]);
        // `four-five-eighths`
        if out.ends_with('-') {
            out.pop();
            out.push(' ');
        }
        if let Tok::Num { prefix, .. } = token.tok {
            out.push_str(match prefix {
                Prefix::Metric => "M",
                Prefix::Number => "#",
                Prefix::None => "",
            });
        }
        out.push_str(&Length::Inch(figure).to_string());
        copied = token.end;
        let rest = &text[copied..];
        if !word && rest.starts_with('-') && rest[1..].starts_with(|c: char| c.is_alphabetic()) {
            out.push(' ');
            copied += 1;
        }
    }
    out.push_str(&text[copied..]);
    Some(out)
}

fn ratio(n: u64) -> Ratio {
    Ratio::from_integer(i64::try_from(n).unwrap_or(i64::MAX))
}

fn is_word(text: &str, token: &Token) -> bool {
    text[token.start..token.end].starts_with(|c: char| c.is_ascii_alphabetic())
}

fn is_sized(tokens: &[Token], i: usize) -> bool {
    matches!(
        tokens.get(i).map(|token| token.tok),
        Some(Tok::Num {
            shape: Shape::Fraction | Shape::Mixed,
            ..
        })
    )
}

/// A dash with no white space about it.
fn is_tight_dash(tokens: &[Token], i: usize) -> bool {
    matches!(tokens.get(i), Some(token) if matches!(token.tok, Tok::Dash) && !token.spaced)
        && tokens.get(i + 1).is_some_and(|next| !next.spaced)
}

struct Words<'a> {
    text: &'a str,
    tokens: &'a [Token],
    /// What stands in front, put together already.
    joined: &'a [Token],
}

impl Words<'_> {
    fn row(&self, i: usize) -> Option<&'static Row> {
        match self.tokens.get(i)?.tok {
            Tok::Word(row) => Some(row),
            _ => None,
        }
    }

    fn says(&self, i: usize, sense: Sense) -> bool {
        self.row(i).is_some_and(|row| row.says(sense))
    }

    fn is(&self, i: usize, word: &str) -> bool {
        self.tokens
            .get(i)
            .is_some_and(|token| self.text[token.start..token.end].eq_ignore_ascii_case(word))
    }

    fn opens(&self, i: usize) -> bool {
        matches!(self.tokens.get(i), Some(Token { tok: Tok::Open, .. }))
    }

    /// Not `two in the middle`.
    fn is_inch(&self, i: usize) -> bool {
        // `three in post 2`
        let thing = |at: usize| match self.tokens.get(at).map(|token| token.tok) {
            Some(Tok::Word(row)) => row.says(Sense::Thing),
            Some(tok) => matches!(tok, Tok::Unknown),
            None => false,
        };
        let numbered = || thing(i + 1) && self.whole(i + 2).is_some();
        let article = || ARTICLES.iter().any(|word| self.is(i + 1, word));
        let places = || self.is(i, "in") && (article() || numbered());
        (self.says(i, Sense::Unit(Unit::Inch)) && !places())
            || matches!(self.tokens.get(i).map(|token| token.tok), Some(Tok::Inch))
    }

    fn joins(&self, token: Option<&Token>) -> bool {
        match token.map(|token| token.tok) {
            Some(Tok::Join) => true,
            Some(Tok::Word(row)) => row.says(Sense::By),
            _ => false,
        }
    }

    /// Where the next word begins: a dash may join it.
    fn next(&self, i: usize) -> usize {
        i + 1 + usize::from(is_tight_dash(self.tokens, i + 1))
    }

    /// A whole number in a word, not in figures.
    fn word(&self, i: usize) -> Option<u64> {
        self.row(i)?.count()
    }

    /// A whole number in words, or in figures: the value and where it ends. A ten may be joined to a
    /// unit (`twenty-four`).
    fn whole(&self, i: usize) -> Option<(u64, usize)> {
        if let Some(n) = self.word(i) {
            if n >= 20 {
                let unit = self.next(i);
                if let Some(one) = self.word(unit).filter(|one| *one < 10)
                    // `twenty five-eighths` is a count and a fraction.
                    && (unit == i + 2
                        || self.part(self.next(unit)).is_none()
                        || self.counts_parts(one, self.next(unit)))
                {
                    return Some((n + one, unit + 1));
                }
            }
            return Some((n, i + 1));
        }
        match self.tokens.get(i)?.tok {
            Tok::Num {
                value,
                shape: Shape::Whole,
                prefix: Prefix::None,
            } => Some((u64::try_from(value.to_integer()).ok()?, i + 1)),
            _ => None,
        }
    }

    /// `two hundred`, `one hundred and twenty`, in words or with a figure in front; `a hundred and five`.
    fn hundreds(&self, i: usize) -> Option<(u64, usize)> {
        let a = self.is(i, "a");
        let (n, hundred) = match a {
            true => (1, i + 1),
            false => self.whole(i).filter(|(n, _)| (1..100).contains(n))?,
        };
        if !self.is(hundred, "hundred") {
            return None;
        }
        let and = usize::from(self.says(hundred + 1, Sense::And));
        let rest = hundred + 1 + and;
        // `two hundred five-eighths nuts` is a count and a fraction; `hundred and twenty quarter inch nuts` has no
        // twenty quarters.
        let of_part = |more: u64, end: usize| {
            self.part(self.next(end - 1))
                .is_some_and(|of| i64::try_from(more).is_ok_and(|more| more < of))
        };
        let more = self
            .word(rest)
            .and_then(|_| self.whole(rest))
            .filter(|&(more, end)| more < 100 && !of_part(more, end));
        match more {
            Some((more, end)) => Some((n * 100 + more, end)),
            // `a hundred` is a unit, as a dozen is.
            None => (!a).then_some((n * 100, hundred + 1)),
        }
    }

    /// `one thousand two hundred`, `two thousand and fifty`, in words or with a figure in front.
    fn thousands(&self, i: usize) -> Option<(u64, usize)> {
        let (n, thousand) = self.hundreds(i).or_else(|| self.whole(i))?;
        if !(1..1000).contains(&n) || !self.is(thousand, "thousand") {
            return None;
        }
        let rest = thousand + 1 + usize::from(self.says(thousand + 1, Sense::And));
        let below = || {
            let (more, end) = self.word(rest).and_then(|_| self.whole(rest))?;
            // `two thousand five-eighths nuts` is a count and a fraction.
            (more < 100 && self.part(self.next(end - 1)).is_none()).then_some((more, end))
        };
        // `m ten by one thousand`; elsewhere it is a unit, as a dozen is.
        let long = || self.joins(self.joined.last()).then_some((0, thousand + 1));
        let (more, end) = self.hundreds(rest).or_else(below).or_else(long)?;
        Some((n * 1000 + more, end))
    }

    /// Pieces in the unit of issue that a word is; `C` stands apart in front of a size.
    fn unit_of_issue(&self, i: usize) -> Option<u64> {
        let hundred = self
            .tokens
            .get(i)
            .is_some_and(|token| token.spaced && &self.text[token.start..token.end] == "C")
            && matches!(
                self.tokens.get(i + 1),
                Some(Token {
                    tok: Tok::Num { .. },
                    ..
                })
            );
        match hundred {
            true => Some(100),
            false => self.row(i)?.per_many(),
        }
    }

    /// A part of a unit of issue, or some and a part, by the pieces that it makes: `half a gross`, `2-1/2 doz`,
    /// `two and a half dozen`, `1.5 C`. Whole ones stay as they are.
    fn part_of_unit(&self, i: usize) -> Option<(u64, usize)> {
        let figure = |i: usize| match self.tokens.get(i)?.tok {
            Tok::Num {
                value,
                prefix: Prefix::None,
                ..
            } if !value.is_integer() => Some((value, i + 1)),
            _ => None,
        };
        let in_words = || {
            let lone = || self.part(i).map(|d| (Ratio::new(1, d), i + 1));
            let several = || {
                let (n, end) = self.whole(i)?;
                let (d, end) = self.parts(self.next(end - 1))?;
                let n = i64::try_from(n).ok().filter(|n| *n < d)?;
                Some((Ratio::new(n, d), end))
            };
            several().or_else(lone)
        };
        let some_and_part = || {
            let (n, end) = self.whole(i)?;
            let (part, end) = match self.says(end, Sense::And) {
                true => self.fraction(end + 1, true)?,
                false => figure(end).filter(|(part, _)| *part < ratio(1))?,
            };
            Some((ratio(n) + part, end))
        };
        // `1/2 x 2 1/2 doz`: of the size, or of the count.
        let before = self.joined.last();
        let is_figure = |token: &Token| matches!(token.tok, Tok::Num { .. });
        if self.joins(before) || before.is_some_and(is_figure) {
            return None;
        }
        let (units, end) = figure(i).or_else(in_words).or_else(some_and_part)?;
        // `half-dozen`
        let end = self.next(end - 1);
        let end = end + usize::from(self.is(end, "of") && self.is(end + 1, "a"));
        let end = end + usize::from(self.is(end, "a"));
        let pieces = units * ratio(self.unit_of_issue(end)?);
        let pieces = u64::try_from(pieces.to_integer())
            .ok()
            .filter(|_| pieces.is_integer())?;
        Some((pieces, end + 1))
    }

    /// `by 2 and 1/2 lags`: a length, where but one long fastener is named, and behind it.
    fn and_a_fraction(&self, i: usize) -> Option<(Ratio, usize)> {
        // `lags` alone are screws, too.
        let noun_at = |tokens: &[Token], at: usize| {
            let row = |at: usize| match tokens.get(at)?.tok {
                Tok::Word(row) => Some(row),
                _ => None,
            };
            let lone = || row(at + 1).and_then(Row::noun).is_none();
            let lag = |row: &Row| row.says(Sense::Mark(Mark::Lag)) && lone();
            let of = row(at)?;
            of.noun().or_else(|| lag(of).then_some(Noun::Screw))
        };
        let (n, end) = self.whole(i).filter(|(n, _)| *n > 0)?;
        let part = match self.tokens.get(end + 1)?.tok {
            Tok::Num {
                value,
                shape: Shape::Fraction,
                prefix: Prefix::None,
            } if value < ratio(1) => value,
            _ => return None,
        };
        let joins = self.says(end, Sense::And) && self.joins(self.joined.last());
        let behind = end..self.tokens.len().min(end + NEAR);
        let mut nouns = behind.filter_map(|at| noun_at(self.tokens, at));
        let long = nouns.next().is_some_and(Noun::is_long) && nouns.next().is_none();
        let named = || (0..self.joined.len()).any(|at| noun_at(self.joined, at).is_some());
        (joins && long && !named()).then_some((ratio(n) + part, end + 2))
    }

    /// The number of a screw's size in words, where its threads follow and a fastener is named: `ten twenty four`.
    fn number_size(&self, i: usize) -> Option<u64> {
        let n = self.word(i).filter(|n| *n <= 12)?;
        let threads = self.word(i + 1).filter(|n| *n >= 20)?;
        let (threads, _) = self.whole(i + 1).unwrap_or((threads, i + 2));
        let (number, threads) = (u8::try_from(n).ok()?, i64::try_from(threads).ok()?);
        let named = || {
            (self.tokens.iter().skip(i + 2).take(NEAR))
                .any(|token| matches!(token.tok, Tok::Word(row) if row.noun().is_some()))
        };
        let thread = Thread::per_inch(threads);
        (thread::is_standard(Diameter::Number(number), thread) && named()).then_some(n)
    }

    /// `four point eight`, `six point two five`: a decimal.
    fn decimal(&self, i: usize) -> Option<(Ratio, u8, usize)> {
        let (n, point) = self.whole(i)?;
        if !self.is(point, "point") {
            return None;
        }
        let (mut value, mut end) = (ratio(n), point + 1);
        let mut places = 0;
        while let Some(digit) = self.word(end).filter(|digit| *digit < 10 && places < 3) {
            places += 1;
            value += Ratio::new(i64::try_from(digit).ok()?, 10i64.pow(places.into()));
            end += 1;
        }
        (places > 0).then_some((value, places, end))
    }

    /// `M twelve by one twenty`, `M8 by a hundred and thirty`: a length over a hundred, of a metric size.
    fn long(&self, i: usize) -> Option<(u64, usize)> {
        let (by, size) = match self.joined {
            [.., size, by] => (by, size),
            _ => return None,
        };
        let is_metric = matches!(
            size.tok,
            Tok::Num {
                prefix: Prefix::Metric,
                ..
            }
        );
        if !(is_metric && self.joins(Some(by))) {
            return None;
        }
        let rest = |at: usize| self.word(at).and_then(|_| self.whole(at));
        if self.is(i, "a") && self.is(i + 1, "hundred") {
            let and = usize::from(self.says(i + 2, Sense::And));
            let more = rest(i + 2 + and).filter(|(more, _)| *more < 100);
            return Some(more.map_or((100, i + 2), |(more, end)| (100 + more, end)));
        }
        let n = self.word(i).filter(|n| (1..10).contains(n))?;
        // Long pieces are made in steps of five.
        let (more, end) =
            rest(i + 1).filter(|(more, _)| (10..100).contains(more) && more.is_multiple_of(5))?;
        Some((n * 100 + more, end))
    }

    /// The part of an inch that a word names.
    fn part(&self, i: usize) -> Option<i64> {
        self.row(i)?.fraction()
    }

    /// The part of an inch that words name, and where they end: `eighths`, `thirty seconds`.
    fn parts(&self, i: usize) -> Option<(i64, usize)> {
        let seconds = |i: usize, one: &str, many: &str| self.is(i, one) || self.is(i, many);
        match self.word(i) {
            Some(30) if seconds(i + 1, "second", "seconds") => Some((32, i + 2)),
            Some(60) if seconds(i + 1, "fourth", "fourths") => Some((64, i + 2)),
            _ => Some((self.part(i)?, i + 1)),
        }
    }

    /// True for `two quarter` and `four eighth`: so many pieces of a quarter, since nobody calls a half so.
    fn counts_parts(&self, n: u64, part: usize) -> bool {
        let Some(d) = self.part(part) else {
            return false;
        };
        let one = self.tokens.get(part);
        let plural =
            one.is_some_and(|token| self.text[token.start..token.end].ends_with(['s', 'S']));
        let n = i64::try_from(n).unwrap_or(0);
        n > 1 && !plural && (n > d || *Ratio::new(n, d).denom() != d)
    }

    /// True where [`Words::number_at`] has to look closely: at a number in words, at `m`, and at a figure
    /// behind which `and` or a fraction stands.
    fn may_begin(&self, i: usize) -> bool {
        let says = |i: usize, senses| matches!(self.tokens.get(i), Some(Token { tok: Tok::Word(row), .. }) if row.kinds.meet(senses));
        match self.tokens[i].tok {
            Tok::Word(row) => {
                (row.kinds.meet(Senses::DICTATED) && !self.counts_a_thing(i))
                    || (self.is(i, "a") && self.is(i + 1, "hundred"))
                    || (says(i + 1, Senses::LINKS) && self.is_inch(i))
            }
            Tok::Num { .. } => {
                let tight =
                    matches!(self.tokens.get(i + 1), Some(next) if matches!(next.tok, Tok::Dash));
                says(i + 1 + usize::from(tight), Senses::DICTATED)
                    || says(i + 1, Senses::LINKS)
                    || self.opens(i + 1)
                    || self.part_of_unit(i).is_some()
            }
            _ => false,
        }
    }

    /// True for a count in a word right in front of what it counts, and behind no size: `two flat washers`.
    fn counts_a_thing(&self, i: usize) -> bool {
        let plain = |row: &Row, of: Senses| row.kinds.meet(of) && !row.kinds.meet(Senses::NUMERAL);
        let is_count =
            |row: &Row| row.count().is_some_and(|n| n <= 12) && !row.kinds.meet(Senses::FRACTION);
        let is_apart = match self.joined.last().map(|token| token.tok) {
            None | Some(Tok::Comma | Tok::Unknown) => true,
            Some(Tok::Word(row)) => {
                !row.kinds.meet(Senses::NUMERAL) && !row.kinds.meet(Senses::BINDS)
            }
            _ => false,
        };
        let is = is_apart
            && self.row(i).is_some_and(is_count)
            && (self.row(i + 1)).is_some_and(|row| plain(row, Senses::NAMES));
        debug_assert!(!is || self.number_at(i).is_none(), "{}", self.text);
        is
    }

    /// The number at a token in words, where it is one that figures must stand for, and its end.
    fn number_at(&self, i: usize) -> Option<(Tok, usize)> {
        let num = |value, shape, end| {
            let prefix = Prefix::None;
            Some((
                Tok::Num {
                    value,
                    shape,
                    prefix,
                },
                end,
            ))
        };
        // `m twelve`, `M 8`
        let apart = |n: u64| {
            METRIC.contains(&n) && &self.text[self.tokens[i].start..self.tokens[i].end] == "M"
        };
        // `em ten`, as it is spoken
        let spoken = self.is(i, "em") || self.is(i, "emm");
        if (self.is(i, "m") || spoken)
            && let Some((n, end)) = self.whole(i + 1)
            && (self.word(i + 1).is_some() || apart(n))
        {
            let (shape, prefix) = (Shape::Whole, Prefix::Metric);
            let value = ratio(n);
            return Some((
                Tok::Num {
                    value,
                    shape,
                    prefix,
                },
                end,
            ));
        }
        if let Some((n, end)) = self.part_of_unit(i) {
            return num(ratio(n), Shape::Whole, end);
        }
        if let Some(n) = self.number_size(i) {
            let (value, shape, prefix) = (ratio(n), Shape::Whole, Prefix::Number);
            let tok = Tok::Num {
                value,
                shape,
                prefix,
            };
            return Some((tok, i + 1));
        }
        if let Some((value, places, end)) = self.decimal(i) {
            return num(value, Shape::Decimal(places), end);
        }
        // `two and three quarter`, `2 and a half`, `four-and-a-half`
        if let Some((n, end)) = self.whole(i).filter(|(n, _)| *n > 0)
            && let and = self.next(end - 1)
            && self.says(and, Sense::And)
            && let Some((part, end)) = self.fraction(self.next(and), true)
        {
            return num(ratio(n) + part, Shape::Mixed, end);
        }
        if let Some((value, end)) = self.and_a_fraction(i) {
            return num(value, Shape::Mixed, end);
        }
        if let Some((n, end)) = (self.long(i))
            .or_else(|| self.thousands(i))
            .or_else(|| self.hundreds(i))
        {
            return num(ratio(n), Shape::Whole, end);
        }
        // `by inch and a half`
        if self.is_inch(i)
            && self.joins(self.joined.last())
            && self.says(i + 1, Sense::And)
            && let Some((part, end)) = self.fraction(i + 2, true)
        {
            return num(ratio(1) + part, Shape::Mixed, end);
        }
        // `2 (two)`
        if let Some((n, open)) = self.whole(i)
            && self.opens(open)
            && self.word(open + 1) == Some(n)
            && self.is(open + 2, ")")
        {
            return num(ratio(n), Shape::Whole, open + 3);
        }
        if let Some((part, end)) = self.fraction(i, false) {
            return num(part, Shape::Fraction, end);
        }
        let n = self.word(i)?;
        let (n, end) = if n >= 20 { self.whole(i)? } else { (n, i + 1) };
        let before = self.joined.last();
        // `m twelve`, `number ten`: what stands in front belongs to it.
        let behind_size = self.joins(before)
            && self.joined.len().checked_sub(2).is_some_and(|at| {
                let sized = |at: usize| matches!(self.joined[at].tok, Tok::Num { .. });
                sized(at) || (at > 0 && sized(at - 1))
            });
        let numbered = before.is_some_and(
            |token| matches!(token.tok, Tok::Word(row) if row.senses.contains(&Sense::NumberWord)),
        );
        let threads = before.is_some_and(|token| match token.tok {
            Tok::Num {
                value,
                shape: Shape::Fraction,
                ..
            } if is_word(self.text, token) => {
                self.joins(self.tokens.get(end)) || self.is_thread_of(value, i)
            }
            _ => false,
        });
        let has_unit = |at| self.is_inch(at) || self.says(at, Sense::Unit(Unit::Millimetre));
        // `twelve millimetres`, `twelve by sixty millimetres`
        let measures = has_unit(end)
            || (self.joins(self.tokens.get(end))
                && self.whole(end + 1).is_some_and(|(_, end)| has_unit(end)));
        // `one three quarter`: one of 3/4, or 1-3/4.
        let mixed = n == 1 && self.part(end).is_none() && self.fraction(end, false).is_some();
        (mixed || n >= 20 || behind_size || numbered || threads || measures)
            .then(|| num(ratio(n), Shape::Whole, end))
            .flatten()
    }

    /// True for the threads per inch of a size: `half thirteen`, `quarter twenty`.
    fn is_thread_of(&self, size: Ratio, i: usize) -> bool {
        let threads = self.word(i).and_then(|n| i64::try_from(n).ok());
        threads.is_some_and(|n| {
            n > 9 && thread::is_standard(Diameter::Inch(size), Thread::per_inch(n))
        })
    }

    /// `three eighths`, `a half` (behind `and`), `half inch`: the value and where it ends.
    fn fraction(&self, i: usize, behind_and: bool) -> Option<(Ratio, usize)> {
        let sized = |at: usize| self.is_inch(at) || self.joins(self.tokens.get(at));
        if let Some(d) = self.part(i) {
            let one = Ratio::new(1, d);
            if self.is(i + 1, "an") && self.is_inch(i + 2) {
                return Some((one, i + 2));
            }
            // `the post halves`
            if !behind_and && self.is(i, "halves") {
                return None;
            }
            // A lone `half` is a size only where a size goes on.
            let next = self.next(i);
            let by = self.joins(self.joined.last()) && self.joined.len() > 1;
            let goes_on = sized(next) || behind_and || by || self.is_thread_of(one, next);
            return goes_on.then_some((one, i + 1));
        }
        let (n, end) = match self.whole(i) {
            Some((n, end)) => (i64::try_from(n).ok()?, end),
            None if behind_and && self.is(i, "a") => (1, i + 1),
            None => return None,
        };
        let at = end + usize::from(is_tight_dash(self.tokens, end));
        let (d, behind) = self.parts(at)?;
        // `a quarter turn`, `one half turn`: no size.
        let turn = ["turn", "turns", "of", "hour"]
            .iter()
            .any(|word| self.is(behind, word));
        let counts = self.counts_parts(n.unsigned_abs(), at);
        (n < d && n > 0 && !turn && !counts).then(|| (Ratio::new(n, d), behind))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dictated() {
        #[track_caller]
        fn case(text: &str, expected: &str) {
            assert_eq!(figures(text), expected, "{text}");
        }
        case("three eighths by four and a half", "3/8 by 4-1/2");
        case("one half inch", "1/2 inch");
        case("half inch by two", "1/2 inch by 2");
        case("half an inch", "1/2 inch");
        case("five-eighths hex nuts", "5/8 hex nuts");
        case("two and three quarter", "2-3/4");
        case("2 and a half", "2-1/2");
        case("five-eighths-inch bolts", "5/8 inch bolts");
        case("four five-eighths by six bolts", "4 5/8 by 6 bolts");
        case("a half-inch nut", "a 1/2 inch nut");
        case("twenty-four nuts", "24 nuts");
        case("one hundred and twenty deck screws", "120 deck screws");
        case("two hundred 1/2 nuts", "200 1/2 nuts");
        case("three hundred five nuts", "305 nuts");
        case("a hundred and five nuts", "105 nuts");
        case("two hundred five-eighths nuts", "200 5/8 nuts");
        case("thirty two washers", "32 washers");
        case("twenty five-eighths nuts", "20 5/8 nuts");
        case("seven sixteenths", "7/16");
        case("snug plus a half turn", "snug plus a half turn");
        case("snug plus one half turn", "snug plus one half turn");
        case("one quarter turn", "one quarter turn");
        case("half round bar", "half round bar");
        case("a dozen nuts", "a dozen nuts");
        case("half a dozen nuts", "6 nuts");
        case("half dozen nuts", "6 nuts");
        case("half a gross of nuts", "72 of nuts");
        case("two and a half dozen nuts", "30 nuts");
        case("2-1/2 doz 1/4 nuts", "30 1/4 nuts");
        case("2 1/2 doz 1/4 nuts", "30 1/4 nuts");
        case("1.5 C 1/4 nuts", "150 1/4 nuts");
        case("three quarters of a gross", "108");
        case("bolts 1/2 x 2 1/2 doz", "bolts 1/2 x 2 1/2 doz");
        case("1/4 C clamps", "1/4 C clamps");
        case("5/8 doz nuts", "5/8 doz nuts");
        case("one thousand two hundred nuts", "1200 nuts");
        case("two thousand and fifty nuts", "2050 nuts");
        case("two thousand five hundred 1/4 nuts", "2500 1/4 nuts");
        case("two thousand nuts", "two thousand nuts");
        case("ten twenty four by one screws", "#10 24 by 1 screws");
        case("2 (two) 1/2 nuts", "2 1/2 nuts");
        case("2 (three) nuts", "2 (three) nuts");
        case("two in the middle", "two in the middle");
        case("two in place", "two in place");
        case("two, three eighths bolts", "two, 3/8 bolts");
        case("one quarter by two and three quarters", "1/4 by 2-3/4");
        case("five eighths eleven by six", "5/8 11 by 6");
        case("eight half thirteen nuts", "8 1/2 13 nuts");
        case("quarter twenty by three quarters", "1/4 20 by 3/4");
        case("thirty two quarter inch washers", "32 1/4 inch washers");
        case("thirty two three quarter inch nuts", "32 3/4 inch nuts");
        case("two quarter inch nuts", "2 1/4 inch nuts");
        case("twenty five-eighths bolts", "20 5/8 bolts");
        case("half twelve nuts", "half twelve nuts");
        case("number ten by inch and a half", "number 10 by 1-1/2");
        case("number ten by two", "number 10 by 2");
        case("two one inch nuts", "two 1 inch nuts");
        case("two half inch M12 nuts", "2 1/2 inch M12 nuts");
        case("two m twelve by eighty bolts", "two M12 by 80 bolts");
        case("M twelve by one twenty bolts", "M12 by 120 bolts");
        case("three M8 by a hundred and thirty", "three M8 by 130");
        case("M10 by one fifty five", "M10 by 155");
        case("M10 by one hundred", "M10 by 100");
        case(
            "bolts twelve by sixty millimetres",
            "bolts 12 by 60 millimetres",
        );
        case("half by one twenty", "1/2 by 1 20");
        case("20 M 8 nuts", "20 M8 nuts");
        case("20 M 9.50", "20 M 9.50");
        case("five thirty seconds by one", "5/32 by 1");
        case("thirty seconds", "30 seconds");
        case("twenty five quarter inch washers", "25 1/4 inch washers");
        case("three sixteenths by half", "3/16 by 1/2");
        case("by half", "by half");
        case("one three quarter by five bolts", "1 3/4 by 5 bolts");
        case("the post halves by the wall", "the post halves by the wall");
    }
}
