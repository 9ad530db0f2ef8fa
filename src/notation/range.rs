//! Counts that are no one number (`20-24`, `4 or 5`), that are not exact (`at least 20`, `20+`), or
//! that run into the size with a mark between (`24/1/2`, `2 x 12 1/2`).
//!
//! Looked for before runs of numerals, which would take such figures for sizes.

use super::{
    callout::Role,
    number::{Prefix, Shape},
    reader::Reader,
    token::{Tok, Token},
    words::{Noun, Row, Sense, Senses},
};
use crate::{
    doubt::Doubt,
    hardware::{Diameter, Thread, thread},
};

/// So many pieces for each bolt: `two per bolt`; `one each side` and `under head and nut` are two.
const PER_BOLT: &Row = &Row::new("per bolt", &[Sense::PerBolt(1)]);
const HEAD_AND_NUT: &Row = &Row::new("under head and nut", &[Sense::PerBolt(2)]);
const EACH_SIDE: &Row = &Row::new("each side", &[Sense::PerBolt(2)]);

/// Words by which the count behind them is a bound.
const BOUNDS: &[&str] = &["least", "most", "min", "minimum", "max", "maximum", "to"];

/// Tokens that are taken away at most: a line that says so much is put aside for its many items.
const MOST: usize = 512;

impl Reader<'_> {
    /// Takes such counts for what they are, and says so.
    pub(super) fn mend_counts(&mut self, start: usize) {
        let mut i = start;
        let all = self.tokens.len();
        // Each takes a token or more away.
        while i < self.tokens.len() && all - self.tokens.len() < MOST {
            match self.tokens[i].tok {
                Tok::Open | Tok::Comma => self.pass_old_count(i),
                Tok::Num { .. } | Tok::Count(_) => self.mend_count(i, start),
                Tok::Word(row) if row.kinds.meet(Senses::COUNT) => self.mend_count(i, start),
                Tok::Word(row) if !row.kinds.meet(Senses::PLACING) => {}
                Tok::Word(_) | Tok::Unknown => self.mend_per_bolt(i),
                _ => {}
            }
            i += 1;
        }
    }

    /// Passes over `(was 24)`, and says so.
    fn pass_old_count(&mut self, i: usize) {
        let Some(end) = self.old_count_at(i) else {
            return;
        };
        let words = self.words(i..end);
        let doubt = format!("\"{words}\": an older count, passed over");
        self.put(i..end, Tok::Mark, doubt);
        self.tokens[i].role = Some(Role::Note);
    }

    /// `(was 24)`, `, not 24`: where it ends.
    fn old_count_at(&self, i: usize) -> Option<usize> {
        let at = i + 1;
        let word = self.is_text(at, &["was", "were", "not", "formerly", "previously"]);
        if !word || self.counted(at + 1).is_none() {
            return None;
        }
        let closed = matches!(self.tok(at + 2), Some(Tok::Close));
        let ends = at + 2 >= self.tokens.len() || matches!(self.tok(at + 2), Some(Tok::Comma));
        (closed || ends).then_some(at + 2 + usize::from(closed))
    }

    /// The count in front of a price: `12 @ 1.89`, `25 $6.25` behind the noun.
    fn priced(&self, i: usize) -> Option<u64> {
        let count = self.whole(i)?;
        let at = matches!(self.tok(i + 1), Some(Tok::At));
        let money = matches!(self.tok(i + 1 + usize::from(at)), Some(Tok::Money));
        let price = i + 1 + usize::from(at) + usize::from(money);
        let cents = matches!(
            self.number(price),
            Some((_, Shape::Decimal(_), Prefix::None))
        );
        let behind = i > 0 && self.noun(i - 1).is_some();
        (cents && (at || money && behind)).then_some(count)
    }

    /// Takes the count at a token, where there is one, for what it is.
    fn mend_count(&mut self, i: usize, start: usize) {
        if self.counted(i).is_none() {
            return;
        }
        if let Some(count) = self.priced(i) {
            self.tokens[i].tok = Tok::Count(count);
        } else if let Some((first, pieces, end)) = self.taken_back_at(i) {
            let doubt = format!("{first} is taken back: {pieces} are taken instead");
            self.put(i..end, Tok::Count(pieces), doubt);
        } else if let Some((pieces, end)) = self.thousands_at(i) {
            let words = self.words(i..end);
            let doubt = format!("\"{words}\" read as {pieces}");
            self.put(i..end, Tok::Count(pieces), doubt);
        } else if let Some(end) = self.range_at(i) {
            let words = self.words(i..end);
            let doubt = format!("\"{words}\" is no one count: none is taken");
            self.put(i..end, Tok::Mark, doubt);
        } else if let Some((pieces, end)) = self.product_at(i) {
            let words = self.words(i..end);
            let doubt = format!("\"{words}\" taken as {pieces} in all");
            self.put(i..end, Tok::Count(pieces), doubt);
        } else if self.is_slashed(i) {
            let words = self.words(i..i + 3);
            let count = self.words(i..i + 1);
            let size = self.words(i + 2..i + 3);
            let doubt = format!("\"{words}\" read as {count} of {size}");
            let pieces = self.whole(i).unwrap_or_default();
            self.put(i..i + 2, Tok::Count(pieces), doubt);
        } else {
            self.inexact(i, start);
        }
    }

    /// `thirty, no, sorry, thirteen`: both counts, and where the second ends.
    fn taken_back_at(&self, i: usize) -> Option<(u64, u64, usize)> {
        let between = |at: &usize| {
            matches!(self.tok(*at), Some(Tok::Comma))
                || self.is_text(
                    *at,
                    &["no", "sorry", "wait", "correction", "make", "that", "it"],
                )
        };
        let end = (i + 1..).take_while(between).last()? + 1;
        let takes_back = (i + 1..end).any(|at| {
            let no = self.is_text(at, &["no"]) && matches!(self.tok(at + 1), Some(Tok::Comma));
            let make = self.is_text(at, &["make"]) && self.is_text(at + 1, &["it", "that"]);
            no || make || self.says(at, Sense::Corrects)
        });
        let measured = self.measures(end + 1) || !takes_back;
        Some((
            self.counted(i)?,
            self.counted(end).filter(|_| !measured)?,
            end + 1,
        ))
    }

    /// Puts one word in the place of those that count per bolt.
    fn mend_per_bolt(&mut self, i: usize) {
        let Some((row, end)) = self.per_bolt_at(i) else {
            return;
        };
        let (first, last) = (self.tokens[i], self.tokens[end - 1]);
        let token = Token {
            tok: Tok::Word(row),
            end: last.end,
            ..first
        };
        self.tokens.splice(i..end, [token]);
    }

    /// True for what stands in the place of a count and is no one number.
    pub(super) fn is_open_count(&self, i: usize) -> bool {
        matches!(
            self.tokens.get(i),
            Some(Token {
                tok: Tok::Mark,
                role: Some(Role::Count),
                ..
            })
        )
    }

    /// Puts one token in the place of several that say a count.
    fn put(&mut self, range: std::ops::Range<usize>, tok: Tok, doubt: String) {
        let (first, last) = (self.tokens[range.start], self.tokens[range.end - 1]);
        let token = Token {
            tok,
            end: last.end,
            role: Some(Role::Count),
            ..first
        };
        self.notes.push((first.start, Doubt::HowMany(doubt.into())));
        self.tokens.splice(range, [token]);
    }

    fn words(&self, range: std::ops::Range<usize>) -> &str {
        &self.text[self.tokens[range.start].start..self.tokens[range.end - 1].end]
    }

    /// A whole number, in figures or in words.
    pub(super) fn counted(&self, i: usize) -> Option<u64> {
        self.whole(i).or_else(|| self.word(i)?.count())
    }

    fn is_text(&self, i: usize, known: &[&str]) -> bool {
        self.is_word(i) && {
            let word = self.words(i..i + 1);
            known.iter().any(|known| word.eq_ignore_ascii_case(known))
        }
    }

    /// True where the figures before a token measure.
    fn measures(&self, i: usize) -> bool {
        let mark = matches!(
            self.tok(i),
            Some(Tok::Join | Tok::Inch | Tok::Foot | Tok::Slash | Tok::Dash)
        );
        let of = |sense: &Sense| {
            let measure = matches!(
                sense,
                Sense::Unit(_)
                    | Sense::Metric(_)
                    | Sense::Foot
                    | Sense::Measure(_)
                    | Sense::By
                    | Sense::Torque
                    | Sense::Pound
                    | Sense::Series(_)
                    | Sense::Fraction(_)
            );
            measure.then_some(())
        };
        mark || self.sense(i, of).is_some()
    }

    /// Where a range or a choice of counts ends.
    fn range_at(&self, i: usize) -> Option<usize> {
        let low = self.counted(i)?;
        let dashed = matches!(self.tok(i + 1), Some(Tok::Dash));
        let at = match self.tok(i + 1)? {
            Tok::Dash => i + 2,
            Tok::Open if self.is_text(i + 2, &["or"]) => i + 3,
            _ if self.is_text(i + 1, &["or", "to"]) => i + 2,
            _ => return None,
        };
        let high = self.counted(at)?;
        let open = at == i + 3;
        let end = at + 1 + usize::from(open);
        if low == 0 || low == high || (dashed && low > high) || !self.leads(i) {
            return None;
        }
        if (open && !matches!(self.tok(end - 1), Some(Tok::Close))) || self.measures(end) {
            return None;
        }
        let sized = matches!(
            self.number(end),
            Some((_, Shape::Fraction | Shape::Mixed, _) | (.., Prefix::Metric | Prefix::Number))
        );
        if dashed {
            // `10-24 screws`, `1-8 nuts`
            let stated = Thread::per_inch(i64::try_from(high).ok()?);
            let is_thread = |diameter| thread::is_standard(diameter, stated);
            let inches = Diameter::Inch(crate::hardware::Ratio::from_integer(
                i64::try_from(low).ok()?,
            ));
            let number = u8::try_from(low).map(Diameter::Number);
            if number.is_ok_and(is_thread) || (is_thread(inches) && !sized) {
                return None;
            }
        }
        Some(end)
    }

    /// `12 000 nuts`: thousands set apart by a space (ISO 80000-1, from memory). What they come to, and where they
    /// end. Other groups of three figures may be a count behind a line's number.
    fn thousands_at(&self, i: usize) -> Option<(u64, usize)> {
        let first = self.whole(i).filter(|first| (1..1000).contains(first))?;
        let zeros = (i + 1..self.tokens.len())
            .take_while(|&at| self.spaced(at) && self.words(at..at + 1) == "000");
        let groups = u32::try_from(zeros.count()).ok()?;
        let end = i + 1 + groups as usize;
        let leads = groups > 0 && self.leads(i) && !self.measures(end);
        leads.then(|| Some((first.checked_mul(1000u64.checked_pow(groups)?)?, end)))?
    }

    /// `2 x 12 1/2 nuts`: two lots of twelve. What it comes to, and where it ends.
    fn product_at(&self, i: usize) -> Option<(u64, usize)> {
        let (lots, each) = (self.whole(i)?, self.whole(i + 2)?);
        let sized = matches!(
            self.number(i + 3),
            Some((_, Shape::Fraction, Prefix::None) | (.., Prefix::Metric | Prefix::Number))
        );
        let joined = matches!(self.tok(i + 1), Some(Tok::Join));
        if !joined || !sized || !self.spaced(i + 3) || lots * each == 0 || !self.leads(i) {
            return None;
        }
        let noun = (i + 4..self.tokens.len().min(i + 12)).find_map(|at| self.noun(at))?;
        let short = matches!(noun, Noun::Nut | Noun::Washer);
        let goes_on = matches!(self.tok(i + 4), Some(Tok::Join | Tok::Dash));
        (short || goes_on).then(|| Some((lots.checked_mul(each)?, i + 3)))?
    }

    /// `24/1/2 nuts`: a count, a mark, a fraction.
    fn is_slashed(&self, i: usize) -> bool {
        self.whole(i).is_some_and(|n| n > 0)
            && matches!(self.tok(i + 1), Some(Tok::Slash))
            && matches!(self.number(i + 2), Some((_, Shape::Fraction, Prefix::None)))
            && self.leads(i)
    }

    /// `at least 20`, `min. 4`, `20+`, `~20`: the count at `i` is a bound, or about right.
    fn inexact(&mut self, i: usize, start: usize) {
        // `approx. 20`
        let dot = usize::from(i > start && matches!(self.tok(i - 1), Some(Tok::Dot)));
        let before = i.checked_sub(1 + dot).filter(|&at| at >= start);
        let told = |at: &usize| match self.tokens[*at].tok {
            Tok::Word(row) => row.kinds.meet(Senses::HEDGING),
            tok => matches!(tok, Tok::Unknown),
        };
        let marked = i > 0 && !self.spaced(i) && matches!(self.tok(i - 1), Some(Tok::Mark));
        let before = before.filter(told);
        if before.is_none() && !marked && !matches!(self.tok(i + 1), Some(Tok::Plus)) {
            return;
        }
        if !self.leads(i) && i.checked_sub(1).is_none_or(|at| at < start) {
            return;
        }
        let about = before.is_some_and(|at| self.says(at, Sense::About));
        let up = before.is_some_and(|at| {
            self.is_text(at, &["to"]) && at > start && self.is_text(at - 1, &["up"])
        });
        let bound =
            before.is_some_and(|at| self.is_text(at, BOUNDS) && (up || !self.is_text(at, &["to"])));
        let rough = marked
            && matches!(
                self.words(i - 1..i),
                "~" | "\u{2248}" | "\u{2265}" | "\u{2264}" | "<" | ">"
            );
        let plus = matches!(self.tok(i + 1), Some(Tok::Plus))
            && !self.spaced(i + 1)
            && self.tokens.get(i + 2).is_none_or(|next| next.spaced);
        if self.measures(i + 1) {
            return;
        }
        if about || bound {
            let first = i - 1 - dot - usize::from(up);
            for token in &mut self.tokens[first..i] {
                token.role = Some(Role::Count);
            }
            let words = self.words(first..i).trim_end_matches('.').to_owned();
            let doubt = format!("\"{words}\": the count is not exact");
            self.notes
                .push((self.tokens[first].start, Doubt::HowMany(doubt.into())));
        } else if rough || (plus && self.leads(i)) {
            let words = self.words(i - usize::from(rough)..i + 1 + usize::from(plus));
            let doubt = format!("\"{words}\": the count is not exact");
            self.notes
                .push((self.tokens[i].start, Doubt::HowMany(doubt.into())));
            if plus {
                self.tokens[i].end = self.tokens[i + 1].end;
                self.tokens.remove(i + 1);
            }
        }
    }

    /// `per bolt`, `on each bolt`, `under head and nut`, `each side` of a washer; and where it ends.
    fn per_bolt_at(&self, i: usize) -> Option<(&'static Row, usize)> {
        let bolt = |at: usize| {
            matches!(
                self.noun(at),
                Some(Noun::Bolt | Noun::Screw | Noun::Stud | Noun::Rod | Noun::Anchor)
            )
        };
        if self.says(i, Sense::PerPlace) && bolt(i + 1) {
            return Some((PER_BOLT, i + 2));
        }
        if self.is_text(i, &["on", "for", "to"])
            && self.is_text(i + 1, &["each", "every"])
            && bolt(i + 2)
        {
            return Some((PER_BOLT, i + 3));
        }
        let washer = || {
            let near = i.saturating_sub(4)..i;
            near.into_iter()
                .any(|at| self.noun(at) == Some(Noun::Washer))
        };
        if self.is_text(i, &["each", "either"]) && self.is_text(i + 1, &["side"]) && washer() {
            return Some((EACH_SIDE, i + 2));
        }
        if self.is_text(i, &["under"]) {
            let skip = |mut at: usize, known: &[&str]| {
                while self.is_text(at, known) {
                    at += 1;
                }
                at
            };
            let head = skip(i + 1, &["the", "each", "bolt"]);
            let and = head + 1;
            let joins = matches!(self.tok(and), Some(Tok::Ampersand)) || self.says(and, Sense::And);
            let nut = skip(and + 1, &["under", "the", "each"]);
            if self.is_text(head, &["head", "heads"]) && joins && self.noun(nut) == Some(Noun::Nut)
            {
                return Some((HEAD_AND_NUT, nut + 1));
            }
        }
        None
    }
}
