//! Tokens to drafts: where one item ends and the next begins, and what each word and figure of one
//! is for. A draft is what a stretch of text says, before it is known what it adds up to.

use std::ops::Range;

use super::{
    callout::{Notation, Quantity},
    dates,
    kind::Traits,
    number::Shape,
    size::{Dim, Dims},
    token::{Prefix, Tok, Token, tokens},
    words::{self, Mark, Measure, Noun, Row, Sense},
};
use crate::{
    doubt::Doubt,
    hardware::{Diameter, Drive, Grade, Length, Material, Point, Ratio, Unit, thread},
};

/// No piece is longer, in inches or millimetres.
const LONGEST: Ratio = Ratio::new_raw(20_000, 1);

/// What a stretch of text says of one item.
#[derive(Debug, Clone, Default)]
pub(super) struct Draft<'a> {
    pub traits: Traits,
    pub dims: Dims<'a>,
    pub point: Option<Point>,
    pub full_thread: Option<bool>,
    pub quantity: Option<Quantity>,
    /// Comes with each piece of the first item.
    pub with: bool,
    pub each: bool,
    /// The noun is in the plural.
    pub plural: bool,
    /// The word that says what it is names no hardware.
    pub thing: bool,
    /// The first code, and how many there are.
    pub code: Option<&'a str>,
    pub codes: usize,
    /// Words that are in the table, at least one.
    pub known: bool,
    pub doubts: Vec<Doubt>,
    /// What the standard that it names is the standard of.
    pub standard: &'static [Sense],
    /// Its tokens.
    pub tokens: Range<usize>,
    /// A whole number and a fraction in front that may be a count and a size, or one size.
    pub lead: Option<Lead>,
    /// Bytes of its text, without a count in front or behind.
    pub body: Range<usize>,
}

/// `2 1/2 lock nuts`: two of 1/2, or nuts for 2-1/2.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lead {
    pub count: u64,
    /// The fraction.
    pub part: Ratio,
    /// Taken for a count and a size.
    pub counted: bool,
}

impl Lead {
    fn mixed(self) -> Ratio {
        self.part + Ratio::from_integer(i64::try_from(self.count).unwrap_or(i64::MAX))
    }
}

impl<'a> Draft<'a> {
    /// Settles an open lead by the diameters that the other pieces of the joint have; a doubt where
    /// they do not tell.
    pub fn settle_lead(&mut self, others: &[Ratio]) {
        let Some(lead) = self.lead.take() else { return };
        let (part, mixed) = (others.contains(&lead.part), others.contains(&lead.mixed()));
        let counted = match (part, mixed) {
            (true, false) => true,
            (false, true) => false,
            _ => {
                let pieces = match lead.count {
                    1 => "piece",
                    _ => "pieces",
                };
                let pieces = format!("{} {pieces} of {}", lead.count, Diameter::Inch(lead.part));
                let mixed = Diameter::Inch(lead.mixed()).to_string();
                let (first, second) = if lead.counted {
                    (pieces, mixed)
                } else {
                    (mixed, pieces)
                };
                self.doubts
                    .push(Doubt::Readings(vec![first.into(), second.into()]));
                return;
            }
        };
        if counted != lead.counted {
            let (value, shape) = if counted {
                (lead.part, Shape::Fraction)
            } else {
                (lead.mixed(), Shape::Mixed)
            };
            self.dims.set_first(value, shape);
            self.quantity = counted.then_some(Quantity {
                pieces: lead.count,
                packs: None,
            });
        }
    }

    /// A fastener needs a hardware word, or a size that can be nothing else.
    pub fn is_hardware(&self) -> bool {
        if self.thing {
            return false;
        }
        self.traits.noun.is_some()
            || self.traits.marks.has(Mark::Lag)
            || (self.traits.marks.has(Mark::All) && self.traits.marks.has(Mark::Threaded))
            || (self.dims.has_standard()
                && !(self.dims.len() == 1 && self.dims.is_bare())
                && (!self.traits.unknown && self.codes == 0 || self.dims.is_fastener_form()))
    }

    pub fn has_words(&self) -> bool {
        self.known || self.traits.unknown || self.thing || self.codes > 0
    }

    /// Takes over what another cell of the row says. Returns a doubt where the two disagree.
    pub fn merge(&mut self, other: Draft<'a>) -> Vec<Doubt> {
        let mut doubts = other.doubts;
        if other.traits.unknown {
            self.traits.unknown = true;
        }
        self.traits.noun = self.traits.noun.or(other.traits.noun);
        self.traits.marks = self.traits.marks.with(other.traits.marks);
        self.traits.drive = self.traits.drive.or(other.traits.drive);
        self.traits.grade = match (self.traits.grade, other.traits.grade) {
            (Some(a), Some(b)) => Some(finer_grade(a, b, &mut doubts)),
            (a, b) => a.or(b),
        };
        self.point = self.point.or(other.point);
        self.full_thread = self.full_thread.or(other.full_thread);
        self.code = self.code.or(other.code);
        match (self.quantity, other.quantity) {
            (Some(a), Some(b)) if a != b => {
                doubts.push(Doubt::TwoQuantities(a.pieces, b.pieces));
            }
            (a, b) => self.quantity = a.or(b),
        }
        for dim in other.dims.iter() {
            if !self.dims.says(dim) && !self.dims.push(*dim) {
                doubts.push(Doubt::LeftOver(dim.written.into()));
            }
        }
        match (self.dims.thread, other.dims.thread) {
            (Some(a), Some(b)) if a != b => {
                doubts.push(Doubt::LeftOver(Length::Millimetre(b).to_string().into()));
            }
            (a, b) => self.dims.thread = a.or(b),
        }
        self.dims.series = self.dims.series.or(other.dims.series);
        doubts
    }

    /// Takes over a thread cell: `13`, `UNC`, `1/2-13`, `1.25`, `M8x1.25`.
    pub fn thread_cell(&mut self, mut other: Draft<'a>, text: &str) -> Vec<Doubt> {
        if other.dims.thread.is_none() {
            let is_diameter = |dim: &Dim<'_>| {
                dim.prefix != Prefix::None
                    || dim.shape == Shape::Fraction
                    || dim.shape == Shape::Mixed
            };
            let bare = other.dims.get(0).is_some_and(|dim| !is_diameter(dim));
            if bare {
                let pitch = other.dims.get(0).map(|dim| dim.value);
                other.dims = Dims::of_thread(pitch, other.dims.series);
            } else if let Some(pitch) = other.dims.get(1).map(|dim| dim.value) {
                let mut dims = Dims::of_thread(Some(pitch), other.dims.series);
                dims.push_all(other.dims.iter().take(1));
                other.dims = dims;
            }
        }
        if let Some(mut first) = other.dims.get(0).copied() {
            other.dims.clear();
            match self.dims.diameter() {
                Some(stated) if stated.value != first.value => {
                    return vec![Doubt::LeftOver(text.trim().into())];
                }
                Some(_) => {}
                None => {
                    first.measure = Some(Measure::Diameter);
                    other.dims.push(first);
                }
            }
        }
        self.merge(other)
    }
}

/// The more special of two grades that one piece can have; a doubt where it cannot have both.
fn finer_grade(a: Grade, b: Grade, doubts: &mut Vec<Doubt>) -> Grade {
    let mut grades = [a, b];
    // `stainless steel` is no plain steel.
    let stainless = |grade: Grade| Material::Stainless.covers(grade.material());
    match (a, b) {
        (Grade::Steel, other) | (other, Grade::Steel) if stainless(other) => return other,
        _ => {}
    }
    if !a.agrees(b) {
        doubts.push(Doubt::Readings(
            grades.iter().map(|g| g.as_str().into()).collect(),
        ));
        return a;
    }
    // A strength says more than a material, and a named stainless more than `stainless`.
    grades.sort_by_key(|g| (!g.is_material(), *g != Grade::Stainless));
    grades[1]
}

pub(super) struct Reader<'a> {
    pub text: &'a str,
    pub notation: Notation,
    tokens: Vec<Token>,
}

impl<'a> Reader<'a> {
    pub fn new(text: &'a str, notation: Notation) -> Reader<'a> {
        Reader {
            text,
            notation,
            tokens: tokens(text, notation),
        }
    }

    /// One draft an item, in order. None where there is no token that says anything.
    pub fn drafts(&mut self) -> Vec<Draft<'a>> {
        let start = self.pass_bullet();
        let stretches = self.stretches(start);
        stretches
            .into_iter()
            .map(|(range, with)| {
                let mut draft = self.draft(range);
                draft.with = with;
                draft
            })
            .filter(|draft| draft.has_words() || !draft.dims.is_empty() || draft.quantity.is_some())
            .collect()
    }

    /// A cell beside the description, as one draft.
    pub fn cell(&mut self) -> Draft<'a> {
        self.draft(0..self.tokens.len())
    }

    /// A size cell in which a date stands, as the size that it was made of.
    pub fn date(&mut self, size: Option<&dates::Size>) -> Draft<'a> {
        self.mark_used(0..self.tokens.len());
        let mut draft = Draft::default();
        if let Some(size) = size {
            draft.dims.push(Dim {
                value: size.value,
                shape: size.shape,
                prefix: size.prefix,
                // `1-8` is 1 inch; a bare fraction is inches anyway.
                unit: (size.prefix == Prefix::None).then_some(Unit::Inch),
                measure: None,
                written: self.text.trim(),
            });
            draft.dims.thread = size.thread;
        }
        draft
    }

    /// A grade cell, where a bare `5` or `8` is a grade.
    pub fn grade_cell(&mut self) -> Draft<'a> {
        if let [
            Token {
                tok: Tok::Num { value, .. },
                used,
                ..
            },
        ] = self.tokens.as_mut_slice()
            && let Some(grade) = grade_number(
                *value,
                value.is_integer() && *value > Ratio::from_integer(8),
            )
        {
            *used = true;
            let mut draft = Draft::default();
            draft.traits.grade = Some(grade);
            return draft;
        }
        self.cell()
    }

    /// Doubts about the tokens of a range that no reading took.
    pub fn left_over(&self, range: Range<usize>, doubts: &mut Vec<Doubt>) {
        let end = range.end.min(self.tokens.len());
        let mut i = range.start;
        while i < end {
            if !self.is_left_over(i) {
                i += 1;
                continue;
            }
            let first = i;
            while i < end && self.is_left_over(i) {
                i += 1;
            }
            let text = &self.text[self.tokens[first].start..self.tokens[i - 1].end];
            doubts.push(if text.chars().any(char::is_numeric) {
                Doubt::LeftOver(text.into())
            } else {
                Doubt::UnknownWords(text.into())
            });
        }
    }

    fn is_left_over(&self, i: usize) -> bool {
        let token = &self.tokens[i];
        !token.used
            && matches!(
                token.tok,
                Tok::Num { .. } | Tok::Code | Tok::Unknown | Tok::Word(_)
            )
    }

    fn tok(&self, i: usize) -> Option<Tok> {
        self.tokens.get(i).map(|token| token.tok)
    }

    fn word(&self, i: usize) -> Option<&'static Row> {
        match self.tok(i)? {
            Tok::Word(row) => Some(row),
            _ => None,
        }
    }

    fn says(&self, i: usize, sense: Sense) -> bool {
        self.word(i).is_some_and(|row| row.senses.contains(&sense))
    }

    fn sense<T>(&self, i: usize, pick: impl Fn(&Sense) -> Option<T>) -> Option<T> {
        self.word(i)?.senses.iter().find_map(pick)
    }

    fn is_word(&self, i: usize) -> bool {
        matches!(self.tok(i), Some(Tok::Word(_) | Tok::Unknown))
    }

    fn spaced(&self, i: usize) -> bool {
        self.tokens.get(i).is_some_and(|token| token.spaced)
    }

    fn number(&self, i: usize) -> Option<(Ratio, Shape, Prefix)> {
        match self.tok(i)? {
            Tok::Num {
                value,
                shape,
                prefix,
            } => Some((value, shape, prefix)),
            _ => None,
        }
    }

    /// A bare whole number.
    fn whole(&self, i: usize) -> Option<u64> {
        match self.number(i)? {
            (value, Shape::Whole, Prefix::None) => u64::try_from(value.to_integer()).ok(),
            _ => None,
        }
    }

    fn mark_used(&mut self, range: Range<usize>) {
        let end = range.end.min(self.tokens.len());
        for token in &mut self.tokens[range.start.min(end)..end] {
            token.used = true;
        }
    }

    fn skip(&self, mut i: usize, marks: fn(&Tok) -> bool) -> usize {
        while self.tok(i).is_some_and(|tok| marks(&tok)) {
            i += 1;
        }
        i
    }

    /// Passes over bullets, line numbers (`12.`, `3)`) and footnote marks in front.
    fn pass_bullet(&mut self) -> usize {
        let mut start = self.skip(0, |tok| matches!(tok, Tok::Mark | Tok::Dash));
        if self.text.trim_start().starts_with('*') {
            start = self.skip(0, |tok| matches!(tok, Tok::Join));
        }
        // `Item 12:`, `Line 3.`
        let named = self.tokens.get(start).is_some_and(|token| {
            let word = &self.text[token.start..token.end];
            ["item", "line", "pos"]
                .iter()
                .any(|known| word.eq_ignore_ascii_case(known))
        });
        if named
            && self.whole(start + 1).is_some()
            && matches!(
                self.tok(start + 2),
                Some(Tok::Dot | Tok::Close | Tok::Colon | Tok::Dash)
            )
        {
            self.mark_used(start..start + 3);
            return start + 3;
        }
        let numbered = self.whole(start).is_some()
            && matches!(self.tok(start + 1), Some(Tok::Dot | Tok::Close))
            && self.spaced(start + 2);
        if numbered {
            self.mark_used(start..start + 2);
            return start + 2;
        }
        start
    }

    /// The noun at a token, unless the next word makes a mark of it.
    fn noun(&self, i: usize) -> Option<Noun> {
        let noun = self.sense(i, |sense| match sense {
            Sense::Noun(noun) => Some(*noun),
            _ => None,
        })?;
        let makes_mark = self.says(i + 1, Sense::Head) || self.compound(i).is_some();
        (!makes_mark).then_some(noun)
    }

    /// Two nouns that are one name: the second says the kind.
    fn compound(&self, i: usize) -> Option<Noun> {
        let noun = |i| {
            self.sense(i, |sense| match sense {
                Sense::Noun(noun) => Some(*noun),
                _ => None,
            })
        };
        let (first, second) = (noun(i)?, noun(i + 1)?);
        use Noun::*;
        matches!(
            (first, second),
            (Anchor, Bolt | Rod)
                | (Stud, Bolt | Anchor)
                | (Screw | Bolt, Anchor)
                | (Rivet, Nut)
                | (Rod, Nut | Stud | Bolt)
                | (Pin, Bolt)
                | (Nut, Rivet)
        )
        .then_some(second)
    }

    /// Cuts the tokens into stretches, one an item; `true` for one that comes with each piece of the
    /// first.
    fn stretches(&mut self, start: usize) -> Vec<(Range<usize>, bool)> {
        let end = self.tokens.len();
        let mut stretches = Vec::new();
        let mut from = start;
        let mut with = false;
        let mut named = false;
        let mut words = false;
        let mut after_for = false;
        let mut i = start;
        while i < end {
            let links = self.link(i);
            // A note ends at a comma.
            after_for &= !matches!(self.tok(i), Some(Tok::Comma | Tok::Semicolon));
            if let Some(link) = links {
                let to = self.next_link(i + 1);
                // Nouns of a note (`two per bolt`) name no item.
                let noun_follows = (i + 1..to)
                    .take_while(|&j| !self.says(j, Sense::For) && !self.says(j, Sense::PerPlace))
                    .any(|j| self.noun(j).is_some());
                if link == Link::Without && noun_follows {
                    self.mark_used(i..to);
                    i = to;
                    continue;
                }
                let counted = self.whole(i + 1).is_some()
                    || self
                        .sense(i + 1, |sense| {
                            matches!(sense, Sense::Count(_)).then_some(())
                        })
                        .is_some();
                let cut = noun_follows
                    && !after_for
                    && (named || (words && (link == Link::With || counted)));
                if cut || (noun_follows && after_for && link == Link::With) {
                    stretches.push((from..i, with));
                    self.mark_used(i..i + 1);
                    from = i + 1;
                    // All that follows "with" comes with each piece of the first.
                    with |= link == Link::With;
                    named = false;
                    words = false;
                    after_for = false;
                }
            } else if self.noun(i).is_some() && !after_for {
                if named {
                    // No joining word: cut where the count of the next item stands, or right here.
                    let back = (from + 1..i).rev().find(|&j| {
                        self.whole(j).is_some() && self.is_word(j + 1) && !self.takes_figure(j - 1)
                    });
                    let at = back.unwrap_or(i);
                    stretches.push((from..at, with));
                    from = at;
                }
                named = true;
            } else if self.says(i, Sense::For) || self.says(i, Sense::PerPlace) {
                after_for = true;
            }
            words |= self.is_word(i);
            i += 1;
        }
        if from < end {
            stretches.push((from..end, with));
        }
        stretches
    }

    /// True for a token that needs the figure behind it.
    fn takes_figure(&self, i: usize) -> bool {
        matches!(self.tok(i), Some(Tok::Join | Tok::Dash | Tok::Slash))
            || self
                .sense(i, |sense| {
                    matches!(
                        sense,
                        Sense::GradeWord | Sense::Qty | Sense::Of | Sense::By | Sense::NumberWord
                    )
                    .then_some(())
                })
                .is_some()
    }

    fn link(&self, i: usize) -> Option<Link> {
        match self.tok(i)? {
            Tok::Comma | Tok::Semicolon | Tok::Ampersand | Tok::Plus => Some(Link::And),
            Tok::Slash if self.is_word(i + 1) => Some(Link::And),
            Tok::Word(row) => row.senses.iter().find_map(|sense| match sense {
                Sense::And => Some(Link::And),
                Sense::With => Some(Link::With),
                Sense::Without => Some(Link::Without),
                _ => None,
            }),
            _ => None,
        }
    }

    fn next_link(&self, from: usize) -> usize {
        (from..self.tokens.len())
            .find(|&i| self.link(i).is_some())
            .unwrap_or(self.tokens.len())
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Link {
    And,
    With,
    Without,
}

/// One stretch being read.
struct Stretch<'r, 'a> {
    reader: &'r mut Reader<'a>,
    draft: Draft<'a>,
    end: usize,
    /// A measure named in front of its figure (`length 3`).
    pending: Option<Measure>,
    /// Where the noun was found, and whether a mark has stood since.
    noun_at: Option<usize>,
    /// Tokens of the count.
    count_at: Option<Range<usize>>,
}

impl<'a> Reader<'a> {
    fn draft(&mut self, range: Range<usize>) -> Draft<'a> {
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
    fn tok(&self, i: usize) -> Option<Tok> {
        if i < self.end {
            self.reader.tok(i)
        } else {
            None
        }
    }

    fn whole(&self, i: usize) -> Option<u64> {
        if i < self.end {
            self.reader.whole(i)
        } else {
            None
        }
    }

    fn number(&self, i: usize) -> Option<(Ratio, Shape, Prefix)> {
        if i < self.end {
            self.reader.number(i)
        } else {
            None
        }
    }

    fn sense<T>(&self, i: usize, pick: impl Fn(&Sense) -> Option<T>) -> Option<T> {
        if i < self.end {
            self.reader.sense(i, pick)
        } else {
            None
        }
    }

    fn says(&self, i: usize, sense: Sense) -> bool {
        i < self.end && self.reader.says(i, sense)
    }

    fn text(&self, i: usize) -> &'a str {
        let token = &self.reader.tokens[i];
        &self.reader.text[token.start..token.end]
    }

    fn is_word(&self, i: usize) -> bool {
        i < self.end && self.reader.is_word(i)
    }

    fn per(&self, i: usize) -> Option<u64> {
        self.sense(i, |sense| match sense {
            Sense::Per(n) => Some(*n),
            _ => None,
        })
    }

    fn is_pack(&self, i: usize) -> bool {
        self.says(i, Sense::Pack)
    }

    /// Sets the count, from its tokens.
    fn count(&mut self, pieces: Option<u64>, packs: Option<u64>, tokens: Range<usize>) {
        let Some(pieces) = pieces else { return };
        if self.draft.quantity.is_some() {
            return;
        }
        self.draft.quantity = Some(Quantity { pieces, packs });
        self.reader.mark_used(tokens.clone());
        self.count_at = Some(tokens);
    }

    fn read(&mut self, start: usize) {
        let mut i = self.lead(start);
        while i < self.end {
            // Passed over already: what a bolt comes without.
            i = if self.reader.tokens[i].used {
                i + 1
            } else {
                self.step(i).max(i + 1)
            };
        }
    }

    fn close(mut self, range: Range<usize>) -> Draft<'a> {
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

    /// The count in front of an item.
    fn lead(&mut self, start: usize) -> usize {
        let i = self.reader.skip(start, |tok| {
            matches!(
                tok,
                Tok::Mark | Tok::Dash | Tok::Comma | Tok::Semicolon | Tok::Slash | Tok::Close
            )
        });
        if let Some(n) = self.sense(i, |sense| match sense {
            Sense::Count(n) => Some(*n),
            _ => None,
        }) {
            return self.lead_in_words(i, n);
        }
        let article = self.tok(i).is_some() && self.is_word(i) && matches!(self.text(i), "a" | "A");
        if article && let Some(n) = self.per(i + 1).filter(|&n| n > 1) {
            self.count(Some(n), None, i..i + 2);
            return i + 2;
        }
        let Some(n) = self.whole(i) else { return i };
        match self.lead_end(i) {
            Some(end) => {
                self.count(Some(n), None, i..end);
                end
            }
            None => i,
        }
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
        if self.is_pack(end) || end >= self.end {
            return i;
        }
        self.count(n.checked_mul(per.unwrap_or(1)), None, i..end);
        end
    }

    /// Where the bare whole number at `i` is a count: the token after it and its joining mark.
    fn lead_end(&mut self, i: usize) -> Option<usize> {
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
                            | Sense::Pack
                            | Sense::Torque
                            | Sense::By
                            | Sense::Series(_)
                    )
                }) && row.spelling != "l";
                (!material && !measured).then_some(next)
            }
            Tok::Unknown => (!is_measure_of_parts(self.text(next))).then_some(next),
            Tok::Join => self.lead_joined(i),
            Tok::Num {
                value,
                shape,
                prefix,
            } => {
                let counted = match (prefix, shape) {
                    (Prefix::None, Shape::Fraction) => return self.lead_mixed(i, next, value),
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
                Some((value, Shape::Fraction, Prefix::None)) => self.lead_mixed(i, next + 1, value),
                Some(_) => Some(next + 1),
                None => self.is_word(next + 1).then_some(next + 1),
            },
            Tok::Comma => {
                (self.is_word(next + 1) || self.number(next + 1).is_some()).then_some(next + 1)
            }
            // `24 (24)` says it twice.
            Tok::Open => {
                let again = self.whole(next + 1) == self.whole(i)
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
        let (dims, _) = self.dims(after, None);
        let fraction = matches!(shape, Shape::Fraction | Shape::Mixed);
        let standard = thread::is_threaded_size(Diameter::Inch(value));
        let short = || {
            (i..self.end)
                .find_map(|j| self.reader.noun(j))
                .is_some_and(|noun| matches!(noun, Noun::Nut | Noun::Washer))
        };
        let counted = prefix != Prefix::None
            || dims.thread.is_some()
            || (fraction && standard && (dims.len() > 1 || short()));
        // `40 x M8 hex bolt` may be a length in front.
        let long = |noun| matches!(noun, Noun::Bolt | Noun::Screw | Noun::Rod | Noun::Stud);
        if prefix == Prefix::Metric
            && dims.len() == 1
            && (i..self.end)
                .find_map(|j| self.reader.noun(j))
                .is_some_and(long)
        {
            let (count, size) = (self.text(i), self.text(after));
            self.draft.doubts.push(Doubt::Readings(vec![
                format!("{count} pieces of {size}").into(),
                format!("{size} x {count}").into(),
            ]));
        }
        counted.then_some(after)
    }

    /// `4 5/8 washers`: a count and a size, or one mixed number.
    fn lead_mixed(&mut self, i: usize, at: usize, part: Ratio) -> Option<usize> {
        let whole = self.number(i)?.0;
        let mixed = Diameter::Inch(whole + part);
        let alone = Diameter::Inch(part);
        if part >= Ratio::from_integer(1) || !thread::is_threaded_size(mixed) {
            return Some(at);
        }
        if self.reader.notation.counted || self.is_counted_elsewhere(at) {
            return None;
        }
        if !thread::is_threaded_size(alone) {
            return None;
        }
        let counted = whole > Ratio::from_integer(1);
        // `1 1/4 x 6 hex bolts`: one piece would not be in the plural.
        let plural =
            (i..self.end).any(|j| self.reader.noun(j).is_some() && is_plural(self.text(j)));
        if counted || !plural {
            self.draft.lead = Some(Lead {
                count: self.whole(i)?,
                part,
                counted,
            });
        }
        counted.then_some(at)
    }

    /// True where another count stands in the stretch: `qty 4`, `(4)`, `4 ea`.
    fn is_counted_elsewhere(&self, from: usize) -> bool {
        (from..self.end).any(|i| {
            self.says(i, Sense::Qty)
                || (self.whole(i).is_some()
                    && (self.per(i + 1).is_some()
                        || (matches!(self.tok(i - 1), Some(Tok::Open))
                            && matches!(self.tok(i + 1), Some(Tok::Close)))))
        })
    }

    /// Reads the token at `i`, and what belongs to it. Returns where to go on.
    fn step(&mut self, i: usize) -> usize {
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
                    self.reader.mark_used(i..at + 1);
                    return at + 1;
                }
                i + 1
            }
            Tok::Code => {
                self.draft.codes += 1;
                if self.draft.code.is_none() {
                    self.draft.code = Some(self.text(i));
                    self.reader.mark_used(i..i + 1);
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
            if matches!(self.tok(close), Some(Tok::Close)) && self.draft.quantity.is_none() {
                self.count(n.checked_mul(per.unwrap_or(1)), None, i..close + 1);
                return close + 1;
            }
        }
        i + 1
    }

    /// `x` outside a size: `x24` at the end is a count, `x 3` behind a diameter a length.
    fn join(&mut self, i: usize) -> usize {
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
        self.reader.mark_used(tokens);
    }

    /// A figure: a count, a torque, a grade or a size.
    fn figure(&mut self, i: usize) -> usize {
        if let Some(n) = self.whole(i) {
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
            // `8 sets` of the joint.
            if self.is_word(i + 1) && self.text(i + 1).eq_ignore_ascii_case("sets") {
                self.count(Some(n), None, i..i + 2);
                return i + 2;
            }
            if matches!(n, 304 | 316 | 410)
                && self.draft.quantity.is_none_or(|_| true)
                && !self.begins_size(i)
            {
                self.grade(match n {
                    304 => Grade::Stainless18_8,
                    316 => Grade::Stainless316,
                    _ => Grade::Stainless410,
                });
                self.reader.mark_used(i..i + 1);
                return i + 1;
            }
        }
        if let Some(end) = self.torque(i) {
            self.reader.mark_used(i..end);
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
        if self.draft.dims.is_empty() || measured {
            self.take_dims(dims, i..end);
            return end;
        }
        // One more whole number at the end is the count.
        let last = end >= self.end
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
        {
            self.count(Some(n), None, i..end);
        }
        end
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
    fn packs(&mut self, i: usize, packs: u64) -> usize {
        let (size, end) = self.pack_size(i + 1);
        match size.and_then(|size| packs.checked_mul(size)) {
            Some(pieces) => {
                self.count(Some(pieces), Some(packs), i..end);
                end
            }
            None => i + 2,
        }
    }

    /// The pack size behind the word at `i`, and the end of it.
    fn pack_size(&self, i: usize) -> (Option<u64>, usize) {
        let at = self.reader.skip(i + 1, |tok| {
            matches!(
                tok,
                Tok::Slash | Tok::Dash | Tok::At | Tok::Colon | Tok::Dot | Tok::Open
            ) || matches!(tok, Tok::Word(row) if row.senses.contains(&Sense::Of))
        });
        let size = self.whole(at).filter(|_| at > i + 1);
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

    fn word(&mut self, i: usize, row: &'static Row) -> usize {
        self.draft.known = true;
        self.reader.mark_used(i..i + 1);
        if let Some(noun) = self.reader.noun(i) {
            self.draft.traits.noun = Some(noun);
            self.draft.plural = is_plural(self.text(i));
            self.noun_at = Some(i);
            self.draft.thing = false;
        }
        let mut next = i + 1;
        for &sense in row.senses {
            match sense {
                Sense::Noun(noun) => self.side_noun(i, noun),
                Sense::Mark(mark) => self.mark(i, mark),
                Sense::Grade(Grade::Nylon) if self.before_insert(i) => {
                    self.draft.traits.marks.add(Mark::NylonInsert);
                }
                Sense::Grade(grade) => self.grade(grade),
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
                Sense::Each => self.draft.each = true,
                Sense::Pack => next = next.max(self.lone_pack(i)),
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
                        .find(|&j| matches!(self.tok(j), Some(Tok::Comma | Tok::Semicolon)))
                        .unwrap_or(self.end);
                    self.reader.mark_used(i..next);
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
                        self.reader.mark_used(i..i + 2);
                        next = i + 2;
                    }
                }
                Sense::Count(n) if self.draft.quantity.is_none() => {
                    self.count(Some(n), None, i..i + 1);
                }
                Sense::Thing => self.thing(i),
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

    fn mark(&mut self, i: usize, mark: Mark) {
        // `plain washer` is a flat one; `flat washer, plain` has no finish.
        let flat = mark == Mark::Plain && self.reader.noun(i + 1) == Some(Noun::Washer);
        // `SAE Grade 5` names a standard.
        let standard = mark == Mark::Sae && self.says(i + 1, Sense::GradeWord);
        // `hex socket` is one word; `square drive` and `socket drive` are no heads.
        let of_socket = mark == Mark::Hex && self.says(i + 1, Sense::Mark(Mark::Socket));
        let drive = match mark {
            _ if !self.says(i + 1, Sense::DriveWord) => None,
            Mark::Square => Some(Drive::Square),
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
            self.reader.tokens[i].used = false;
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
        match self.draft.traits.noun {
            None => self.draft.thing = true,
            Some(_) if behind => self.draft.thing = true,
            Some(_) => {}
        }
    }

    /// `Grade 5`, `Gr. 8`, `class 8.8`, `Grade A`.
    fn grade_word(&mut self, i: usize, row: &Row) -> usize {
        let at = self.reader.skip(i + 1, |tok| {
            matches!(tok, Tok::Dot | Tok::Dash | Tok::Colon)
        });
        let class = matches!(row.spelling, "class" | "cl");
        if let Some((value, _, Prefix::None)) = self.number(at) {
            if let Some(grade) = grade_number(value, class) {
                self.grade(grade);
                self.reader.mark_used(i..at + 1);
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
                self.reader.mark_used(i..at + 1);
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
        if self.draft.quantity.is_some() {
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
            self.reader.mark_used(i..next);
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
        if size.is_some() && self.draft.quantity.is_none() {
            self.count(size, Some(1), i..end);
            return end;
        }
        i + 1
    }

    /// `P/N 1120-0002`, `part no. 12`; `part thread`.
    fn part_number(&mut self, i: usize) -> usize {
        if self.text(i).eq_ignore_ascii_case("part")
            && self.is_word(i + 1)
            && self.text(i + 1).eq_ignore_ascii_case("thread")
        {
            self.draft.full_thread = Some(false);
            self.reader.mark_used(i..i + 2);
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
            self.draft.codes += 1;
            self.reader.mark_used(i..at);
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
    fn standard(&mut self, i: usize) -> usize {
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
            self.reader.mark_used(i..at);
            if let Some(senses) = self.whole(first).and_then(words::standard) {
                self.draft.standard = senses;
            }
        }
        at
    }

    /// The figures of a size from token `i` on, and where they end.
    fn dims(&self, i: usize, pending: Option<Measure>) -> (Dims<'a>, usize) {
        let mut dims = Dims::default();
        let mut at = i;
        let mut pending = pending;
        loop {
            let Some((mut dim, end)) = self.dim(at, !dims.is_empty()) else {
                return (dims, at);
            };
            at = end;
            if dims.is_empty() && dims.thread.is_none() {
                at = self.dash_thread(&dim, at, &mut dims);
            }
            // Words of the size: the series, the thread's class, what the figure measures.
            loop {
                let measure = self.sense(at, |sense| match sense {
                    Sense::Measure(measure) => Some(*measure),
                    _ => None,
                });
                let series = self.sense(at, |sense| match sense {
                    Sense::Series(series) => Some(*series),
                    _ => None,
                });
                if let Some(series) = series {
                    dims.series = Some(series);
                } else if let (Some(measure), None) = (measure, dim.measure)
                    && self.number(at + 1).is_none()
                    && !self.is_shape(at)
                {
                    dim.measure = Some(measure);
                } else if self.is_thread_class(at) {
                } else if matches!(self.tok(at), Some(Tok::Dash)) && self.is_thread_class(at + 1) {
                    at += 1;
                } else if matches!(self.tok(at), Some(Tok::Dot)) && !dims.is_empty() {
                } else {
                    break;
                }
                at += 1;
            }
            dim.measure = dim.measure.or(pending.take());
            if !dims.push(dim) {
                return (dims, at);
            }
            let joined = matches!(self.tok(at), Some(Tok::Join)) || self.says(at, Sense::By);
            if !joined || self.number(at + 1).is_none() {
                return (dims, at);
            }
            at += 1;
        }
    }

    /// The `L` of an L-bolt, which is no length.
    fn is_shape(&self, at: usize) -> bool {
        self.says(at, Sense::Mark(Mark::L))
            && (matches!(self.tok(at + 1), Some(Tok::Dash)) || self.reader.noun(at + 1).is_some())
    }

    fn is_thread_class(&self, i: usize) -> bool {
        i < self.end
            && self.is_word(i)
            && matches!(
                self.text(i),
                "1A" | "2A"
                    | "3A"
                    | "1B"
                    | "2B"
                    | "3B"
                    | "1a"
                    | "2a"
                    | "3a"
                    | "1b"
                    | "2b"
                    | "3b"
                    | "UN"
                    | "UNEF"
                    | "6g"
                    | "6H"
                    | "TPI"
                    | "tpi"
            )
    }

    /// The thread behind a diameter: `-13`, ` 13 UNC`.
    fn dash_thread(&self, dim: &Dim<'a>, at: usize, dims: &mut Dims<'a>) -> usize {
        let dashed = matches!(self.tok(at), Some(Tok::Dash));
        let from = at + usize::from(dashed);
        let Some((value, shape, Prefix::None)) = self.number(from) else {
            return at;
        };
        if !matches!(shape, Shape::Whole | Shape::Decimal(_))
            || matches!(self.tok(from + 1), Some(Tok::Slash))
        {
            return at;
        }
        let after = from + 1;
        let series = self
            .sense(after, |sense| {
                matches!(sense, Sense::Series(_)).then_some(())
            })
            .is_some()
            || self.is_thread_class(after);
        let metric = dim.prefix == Prefix::Metric || dim.unit == Some(Unit::Millimetre);
        let diameter = match (dim.prefix, metric) {
            (_, true) => Diameter::Metric(dim.value),
            (Prefix::Number, _) => number_diameter(dim.value),
            _ => Diameter::Inch(dim.value),
        };
        let stated = if metric {
            crate::hardware::Thread::Pitch(value)
        } else {
            crate::hardware::Thread::PerInch(value)
        };
        let standard = thread::is_standard(diameter, stated)
            || (dim.prefix == Prefix::None
                && dim.shape == Shape::Whole
                && !metric
                && thread::is_standard(number_diameter(dim.value), stated));
        let plausible = if metric {
            value > Ratio::from_integer(0) && value < Ratio::from_integer(7)
        } else {
            value >= Ratio::from_integer(4) && value <= Ratio::from_integer(80)
        };
        let sized = diameter.is_standard()
            || (dim.shape == Shape::Whole && number_diameter(dim.value).is_standard());
        let plausible = plausible && sized;
        let tight = dashed && !self.reader.spaced(from);
        if (tight && plausible) || (dashed && standard) || (series && plausible) {
            dims.thread = Some(value);
            after
        } else {
            at
        }
    }

    /// One figure with its fraction and unit.
    fn dim(&self, i: usize, may_mix: bool) -> Option<(Dim<'a>, usize)> {
        let (mut value, mut shape, prefix) = self.number(i)?;
        // Nothing is 0 long.
        if value == Ratio::from_integer(0) && prefix != Prefix::Number || value > LONGEST {
            return None;
        }
        let mut at = i + 1;
        let one = Ratio::from_integer(1);
        // `3 3/4`, `3 ¾`, `3 - 3/4`.
        if shape == Shape::Whole && prefix == Prefix::None {
            let dash = matches!(self.tok(at), Some(Tok::Dash)) && may_mix;
            let from = at + usize::from(dash);
            if let Some((part, Shape::Fraction, Prefix::None)) = self.number(from)
                && part < one
                && value > Ratio::from_integer(0)
            {
                value += part;
                shape = Shape::Mixed;
                at = from + 1;
            }
        }
        let mut unit = None;
        if prefix == Prefix::None || prefix == Prefix::Metric {
            (unit, at) = self.unit(at, &mut value);
        }
        if value > LONGEST {
            return None;
        }
        let start = self.reader.tokens[i].start;
        let end = self.reader.tokens[at - 1].end;
        let dim = Dim {
            value,
            shape,
            prefix,
            unit,
            measure: None,
            written: &self.reader.text[start..end],
        };
        Some((dim, at))
    }

    /// The unit behind a figure; feet and metres are worked out.
    fn unit(&self, at: usize, value: &mut Ratio) -> (Option<Unit>, usize) {
        match self.tok(at) {
            Some(Tok::Inch) => return (Some(Unit::Inch), at + 1),
            Some(Tok::Foot) if matches!(self.tok(at + 1), Some(Tok::Foot)) => {
                return (Some(Unit::Inch), at + 2);
            }
            Some(Tok::Foot) => return self.feet(at + 1, value),
            Some(Tok::Dash) if self.says(at + 1, Sense::Unit(Unit::Inch)) => {
                return (Some(Unit::Inch), at + 2);
            }
            _ => {}
        }
        let sense = self.sense(at, |sense| match sense {
            Sense::Unit(_) | Sense::Metric(_) | Sense::Foot => Some(*sense),
            _ => None,
        });
        match sense {
            // `4 in bag 3` is no length.
            Some(Sense::Unit(Unit::Inch)) if self.is_preposition(at) => (None, at),
            Some(Sense::Unit(unit)) => {
                let dot = matches!(self.tok(at + 1), Some(Tok::Dot)) && unit == Unit::Inch;
                (Some(unit), at + 1 + usize::from(dot))
            }
            Some(Sense::Metric(factor)) => {
                *value *= Ratio::from_integer(factor);
                (Some(Unit::Millimetre), at + 1)
            }
            Some(Sense::Foot) => self.feet(at + 1, value),
            _ => (None, at),
        }
    }

    fn is_preposition(&self, at: usize) -> bool {
        self.text(at).eq_ignore_ascii_case("in")
            && self.reader.spaced(at)
            && (self.is_pack(at + 1) || self.whole(at + 1).is_some() && self.is_pack(at + 2))
    }

    /// Inches behind feet: `1'-6"`, `1 ft 6 in`.
    fn feet(&self, at: usize, value: &mut Ratio) -> (Option<Unit>, usize) {
        *value *= Ratio::from_integer(12);
        let from = self
            .reader
            .skip(at, |tok| matches!(tok, Tok::Dash | Tok::Dot));
        if let Some((inches, _, Prefix::None)) = self.number(from) {
            let mut inches = inches;
            let mut after = from + 1;
            if let Some((part, Shape::Fraction, Prefix::None)) = self.number(after)
                && part < Ratio::from_integer(1)
                && inches.is_integer()
            {
                inches += part;
                after += 1;
            }
            let marked = matches!(self.tok(after), Some(Tok::Inch))
                || self.says(after, Sense::Unit(Unit::Inch));
            if marked {
                *value += inches;
                return (Some(Unit::Inch), after + 1);
            }
        }
        (Some(Unit::Inch), at)
    }
}

/// A number size; 255, which is none, where the figure is too large.
fn number_diameter(value: Ratio) -> Diameter {
    Diameter::Number(u8::try_from(value.to_integer()).unwrap_or(u8::MAX))
}

/// A grade or property class by its figure.
fn grade_number(value: Ratio, class: bool) -> Option<Grade> {
    let tenths = value * Ratio::from_integer(10);
    if !tenths.is_integer() {
        return None;
    }
    Some(match (tenths.to_integer(), class) {
        (20, false) => Grade::Grade2,
        (50, false) => Grade::Grade5,
        (80, false) => Grade::Grade8,
        (50, true) => Grade::Class5,
        (60, true) => Grade::Class6,
        (80, true) => Grade::Class8,
        (100, _) => Grade::Class10,
        (120, _) => Grade::Class12,
        (46, _) => Grade::Class46,
        (48, _) => Grade::Class48,
        (56, _) => Grade::Class56,
        (58, _) => Grade::Class58,
        (68, _) => Grade::Class68,
        (88, _) => Grade::Class88,
        (109, _) => Grade::Class109,
        (129, _) => Grade::Class129,
        (3040, _) => Grade::Stainless18_8,
        (3160, _) => Grade::Stainless316,
        (4100, _) => Grade::Stainless410,
        _ => return None,
    })
}

fn is_plural(word: &str) -> bool {
    word.ends_with(['s', 'S']) && word.len() > 2
}

/// Words that make a measure of the figure before them: a 4 way valve is one valve.
fn is_measure_of_parts(word: &str) -> bool {
    const WORDS: &[&str] = &[
        "way", "hole", "part", "ply", "degree", "deg", "gauge", "ga", "point", "leg", "step",
        "tier", "gal", "oz", "lb", "lbs", "kg", "g", "v", "w", "watt", "amp", "hp", "st", "nd",
        "rd", "th", "yd", "yard", "metre", "meter", "litre", "liter", "l", "ml",
    ];
    WORDS.iter().any(|known| word.eq_ignore_ascii_case(known))
}
