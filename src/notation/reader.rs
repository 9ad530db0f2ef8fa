//! Tokens to stretches, one an item: where one item ends and the next begins.

use std::ops::Range;

use super::{
    callout::{Notation, Role},
    draft::{Draft, grade_number},
    number::{Prefix, Shape},
    spoken,
    token::{Tok, Token, tokens},
    words::{self, Mark, Noun, Row, Sense, Senses},
};
use crate::{doubt::Doubt, hardware::Ratio};

/// Words that say nothing in front of a dictated count.
#[rustfmt::skip]
const TALK: &[&str] = &[
    "okay", "ok", "alright", "er", "erm", "um", "uh", "ah", "so", "well", "right", "then", "now", "next", "and",
    "i", "see", "we", "have", "there", "are", "were",
];

/// More sizes behind one noun are no line of a list; tokens of the longest of them, with its count.
const MOST_SIZES: usize = 16;
const LONGEST_SIZE: usize = 16;

/// More marks of one kind in a row say nothing more.
const MOST_MARKS: usize = 32;

#[derive(Clone)]
pub(super) struct Reader<'a> {
    pub text: &'a str,
    pub notation: Notation,
    pub tokens: Vec<Token>,
    /// Doubts about how numerals were read, with where those stand in the text.
    pub notes: Vec<(usize, Doubt)>,
    /// Readings are told, and so is each size that no piece has.
    pub every: bool,
}

impl<'a> Reader<'a> {
    pub fn new(text: &'a str, notation: Notation) -> Reader<'a> {
        Reader::of(tokens(text, notation), text, notation)
    }

    /// A reader for a text that is cut already.
    pub fn of(tokens: Vec<Token>, text: &'a str, notation: Notation) -> Reader<'a> {
        Reader {
            text,
            notation,
            tokens,
            notes: Vec::new(),
            every: false,
        }
    }

    /// A reader for some of the words alone, as they are cut.
    pub fn excerpt(&self, tokens: Range<usize>) -> Reader<'a> {
        let mut tokens = self.tokens[tokens].to_vec();
        let (start, end) = match tokens.as_slice() {
            [first, .., last] => (first.start, last.end),
            [one] => (one.start, one.end),
            [] => (0, 0),
        };
        for token in &mut tokens {
            token.start -= start;
            token.end -= start;
        }
        if let Some(first) = tokens.first_mut() {
            first.spaced = true;
        }
        Reader::of(tokens, &self.text[start..end], self.notation)
    }

    /// A reader for the words of a list, in which numbers may be dictated.
    pub fn spoken(text: &'a str, notation: Notation) -> Reader<'a> {
        let mut reader = Reader::new(text, notation);
        reader.join_spoken();
        reader
    }

    /// Puts dictated numbers together.
    pub fn join_spoken(&mut self) {
        if let Some(joined) = spoken::join(self.text, &self.tokens) {
            self.tokens = joined;
        }
    }

    /// Reads words of which two neighbouring letters changed places, and says so.
    pub fn mend_words(&mut self) {
        for token in &mut self.tokens {
            if !matches!(token.tok, Tok::Unknown) {
                continue;
            }
            let word = &self.text[token.start..token.end];
            if let Some(row) = words::scanned(word) {
                token.tok = Tok::Word(row);
            } else if let Some(row) = words::near(word) {
                token.tok = Tok::Word(row);
                let doubt = Doubt::Said(format!("\"{word}\" read as {}", row.spelling).into());
                self.notes.push((token.start, doubt));
            }
        }
    }

    /// One draft an item from a token on, in order. None where there is no token that says anything.
    pub fn drafts(&mut self, start: usize) -> Vec<Draft<'a>> {
        let (one, all);
        let stretches: &[_] = if self.is_one_item(start) {
            one = [(start..self.tokens.len(), false)];
            &one
        } else {
            all = self.stretches(start);
            &all
        };
        let mut drafts: Vec<Draft<'a>> = Vec::with_capacity(stretches.len());
        for (range, with) in stretches.iter().cloned() {
            let before = range.start.checked_sub(2);
            let uncounted = drafts.first().is_some_and(|first| first.quantity.is_none());
            let late = (with && uncounted)
                .then(|| self.late_count(&range))
                .flatten();
            let mut draft = self.draft(range.start..late.map_or(range.end, |(_, at)| at));
            if let Some((pieces, at)) = late {
                draft.late = Some(pieces);
                self.mark(at..range.end, Role::Count);
            }
            draft.with = with;
            if let Some(last) = drafts.last()
                && self.are_sizes(draft.tokens.clone())
            {
                draft.traits = last.traits;
                draft.known = true;
            }
            // `each with two nuts`
            let led = before.is_some_and(|at| {
                self.says(at, Sense::Each) && self.link(at + 1) == Some(Link::With)
            });
            draft.each |= led;
            let goes_on = drafts.last().is_some_and(|last| last.led_by_each);
            draft.led_by_each = led || with && goes_on;
            let says = draft.has_words() || !draft.dims.is_empty() || draft.quantity.is_some();
            if says || self.figures_of(&draft.tokens).is_some() {
                drafts.push(draft);
            }
        }
        drafts
    }

    /// A whole number at the end of what comes with the first item, behind a mark: how many of that there are, and
    /// where the mark stands. `U-bolt with 2 nuts, 4`
    fn late_count(&self, range: &Range<usize>) -> Option<(u64, usize)> {
        // `8 pcs`, `8 no.`
        let dot = usize::from(matches!(self.tok(range.end - 1), Some(Tok::Dot)));
        let last = range.end.checked_sub(1 + dot)?;
        let unit = self.says(last, Sense::Per(1)) || self.says(last, Sense::NumberWord);
        let at = last.checked_sub(usize::from(unit))?;
        let mark = at.checked_sub(1).filter(|mark| *mark > range.start)?;
        let noun = |at: usize| self.noun(at).is_some();
        let marked = match self.tok(mark)? {
            Tok::Comma => true,
            // `, qty 4`
            Tok::Word(row) => row.says(Sense::Qty),
            Tok::Dash => self.is_apart(mark),
            Tok::Join => noun(mark - 1),
            _ => false,
        };
        let ends = range.end == self.tokens.len() && (range.start..mark).any(noun);
        let pieces = self.whole(at).filter(|_| marked && ends)?;
        Some((pieces, mark))
    }

    /// The text of tokens, where there are figures in it that say nothing of an item.
    pub(super) fn figures_of(&self, tokens: &Range<usize>) -> Option<Box<str>> {
        let tokens = self.tokens.get(tokens.clone())?;
        let text = &self.text[tokens.first()?.start..tokens.last()?.end];
        let in_words = |token: &Token| match token.tok {
            Tok::Count(_) => true,
            Tok::Word(row) => row.count().is_some(),
            _ => false,
        };
        let counts = text.contains(char::is_numeric) || tokens.iter().any(in_words);
        counts.then(|| text.into())
    }

    /// A cell beside the description, as one draft.
    pub fn cell(&mut self) -> Draft<'a> {
        self.draft(0..self.tokens.len())
    }

    /// A grade cell, where a bare `5` or `8` is a grade, by itself or before words: `8 HDG`.
    pub fn grade_cell(&mut self) -> Draft<'a> {
        let (first, rest) = match self.tokens.as_mut_slice() {
            [first] => (first, None),
            [first, next, ..] => (first, Some(next.tok)),
            [] => return self.cell(),
        };
        if let Tok::Num { value, .. } = first.tok
            && matches!(rest, None | Some(Tok::Word(_)))
            && let Some(grade) =
                grade_number(value, value.is_integer() && value > Ratio::from_integer(8))
        {
            first.role = Some(Role::Grade);
            let mut draft = self.draft(1..self.tokens.len());
            draft.traits.grade.get_or_insert(grade);
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

    pub(super) fn is_left_over(&self, i: usize) -> bool {
        let token = &self.tokens[i];
        token.role.is_none()
            && matches!(
                token.tok,
                Tok::Num { .. } | Tok::Count(_) | Tok::Code | Tok::Unknown | Tok::Word(_)
            )
    }

    #[inline]
    pub(super) fn tok(&self, i: usize) -> Option<Tok> {
        self.tokens.get(i).map(|token| token.tok)
    }

    #[inline]
    pub(super) fn word(&self, i: usize) -> Option<&'static Row> {
        match self.tokens.get(i)?.tok {
            Tok::Word(row) => Some(row),
            _ => None,
        }
    }

    #[inline]
    pub(super) fn says(&self, i: usize, sense: Sense) -> bool {
        self.word(i).is_some_and(|row| row.says(sense))
    }

    #[inline]
    pub(super) fn sense<T>(&self, i: usize, pick: impl Fn(&Sense) -> Option<T>) -> Option<T> {
        self.word(i)?.senses.iter().find_map(pick)
    }

    #[inline]
    pub(super) fn is_word(&self, i: usize) -> bool {
        matches!(self.tok(i), Some(Tok::Word(_) | Tok::Unknown))
    }

    #[inline]
    pub(super) fn spaced(&self, i: usize) -> bool {
        self.tokens.get(i).is_some_and(|token| token.spaced)
    }

    #[inline]
    pub(super) fn number(&self, i: usize) -> Option<(Ratio, Shape, Prefix)> {
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
    #[inline]
    pub(super) fn whole(&self, i: usize) -> Option<u64> {
        if let Some(Tok::Count(n)) = self.tok(i) {
            return Some(n);
        }
        match self.number(i)? {
            (value, Shape::Whole, Prefix::None) => u64::try_from(value.to_integer()).ok(),
            _ => None,
        }
    }

    /// Says what tokens were taken for; what is taken already stays.
    pub(super) fn mark(&mut self, range: Range<usize>, role: Role) {
        let end = range.end.min(self.tokens.len());
        for token in &mut self.tokens[range.start.min(end)..end] {
            token.role = token.role.or(Some(role));
        }
    }

    /// Behind marks of a kind from a token on; of a long row of them it looks no further than at the first few.
    pub(super) fn skip(&self, mut i: usize, marks: fn(&Tok) -> bool) -> usize {
        let last = i + MOST_MARKS;
        while i < last && self.tok(i).is_some_and(|tok| marks(&tok)) {
            i += 1;
        }
        i
    }

    /// Passes over bullets, line numbers (`12.`, `3)`) and footnote marks in front.
    pub fn pass_bullet(&mut self) -> usize {
        let mut start = self.skip(0, |tok| matches!(tok, Tok::Mark | Tok::Dash));
        if self.text.trim_start().starts_with('*') {
            start = self.skip(0, |tok| matches!(tok, Tok::Join));
        }
        self.mark(0..start, Role::Passed);
        // `Item 12:`, `Line 3.`
        let named = self.is_word(start) && {
            let token = &self.tokens[start];
            let word = &self.text[token.start..token.end];
            ["item", "line", "pos"]
                .iter()
                .any(|known| word.eq_ignore_ascii_case(known))
        };
        if named
            && self.whole(start + 1).is_some()
            && matches!(
                self.tok(start + 2),
                Some(Tok::Dot | Tok::Close | Tok::Colon | Tok::Dash)
            )
        {
            self.mark(start..start + 3, Role::Passed);
            return start + 3;
        }
        let numbered = self.whole(start).is_some()
            && matches!(self.tok(start + 1), Some(Tok::Dot | Tok::Close))
            && self.spaced(start + 2);
        if numbered {
            self.mark(start..start + 2, Role::Passed);
            return start + 2;
        }
        // `(a)`, `a)`
        let open = usize::from(matches!(self.tok(start), Some(Tok::Open)));
        let at = start + open;
        let letter = self.is_word(at) && self.tokens[at].end - self.tokens[at].start == 1;
        // `[ ]`
        if open == 1 && matches!(self.tok(at), Some(Tok::Close)) {
            return at + 1;
        }
        if letter && matches!(self.tok(at + 1), Some(Tok::Close)) {
            self.mark(start..at + 2, Role::Passed);
            return at + 2;
        }
        self.pass_talk(start)
    }

    /// Passes over words that speakers begin with in front of a count: `okay, got it, fifteen`.
    fn pass_talk(&mut self, start: usize) -> usize {
        if self.counted(start).is_some() {
            return start;
        }
        let is_talk = |i: &usize| {
            let Some(token) = self.tokens.get(*i) else {
                return false;
            };
            if matches!(token.tok, Tok::Num { .. }) {
                return false;
            }
            let word = &self.text[token.start..token.end];
            TALK.iter().any(|known| word.eq_ignore_ascii_case(known))
                || (*i > start && matches!(token.tok, Tok::Comma))
        };
        let talk = (start..).take_while(is_talk).count();
        match talk > 0 && self.counted(start + talk).is_some() {
            true => {
                self.mark(start..start + talk, Role::Passed);
                start + talk
            }
            false => start,
        }
    }

    /// The noun at a token, unless the next word makes a mark of it.
    #[inline]
    pub(super) fn noun(&self, i: usize) -> Option<Noun> {
        let row = self.word(i)?;
        (row.kinds.meet(Senses::NOUN)).then(|| self.noun_of(i, row))?
    }

    fn noun_of(&self, i: usize, row: &Row) -> Option<Noun> {
        let noun = row.noun()?;
        let makes_mark = self.word(i + 1).is_some_and(|next| {
            next.says(Sense::Head) || next.noun().is_some_and(|second| is_compound(noun, second))
        });
        // `nyloc (24) nuts`: the nut is named behind.
        let names_again = noun == Noun::Nut && row.kinds.meet(Senses::MARK) && {
            let next = self.skip(i + 1, |tok| !matches!(tok, Tok::Word(_) | Tok::Unknown));
            self.word(next).and_then(Row::noun) == Some(Noun::Nut)
        };
        // `post shoe, bolt down`; not `Run a nut down the rod`, `bolts down through the deck`
        let is_verb = !matches!(noun, Noun::Nut | Noun::Washer)
            && matches!(self.tok(i + 1), Some(Tok::Unknown))
            && self.text[self.tokens[i + 1].start..self.tokens[i + 1].end]
                .eq_ignore_ascii_case("down")
            && !self.text[..self.tokens[i].end].ends_with(['s', 'S']);
        (!makes_mark && !names_again && !is_verb && !self.is_inverted(i, noun)).then_some(noun)
    }

    /// True for the noun of an inverted name, as parts systems write it: `BOLT,ANCHOR,1/2X7`.
    fn is_inverted(&self, i: usize, noun: Noun) -> bool {
        let follows_on = |at: usize| match (self.tokens.get(at), self.tokens.get(at + 1)) {
            (Some(token), Some(next)) => token.end == next.start,
            _ => false,
        };
        matches!(self.tok(i + 1), Some(Tok::Comma))
            && follows_on(i)
            && follows_on(i + 1)
            && matches!(noun, Noun::Bolt | Noun::Screw | Noun::Stud)
            && self.word(i + 2).and_then(|next| next.noun()) == Some(Noun::Anchor)
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
                    // `less 14 nuts`; `3/8 without x 4 bolt`
                    let figures = (i + 1..to)
                        .any(|at| self.number(at).is_some() || self.counted(at).is_some());
                    // `bolt, less nut and washer`
                    let goes_on = matches!(self.tok(to), Some(Tok::Ampersand | Tok::Plus))
                        || self.says(to, Sense::And);
                    // `with without nut`, `w/ nut and F436 without washer`: something lacks between the two.
                    let before = (from..i).rev().take_while(|&at| self.link(at).is_none());
                    let unnamed = !{ before }.any(|at| self.noun(at).is_some());
                    if figures || goes_on || !named || unnamed {
                        let words = &self.text[self.tokens[i].start..self.tokens[to - 1].end];
                        let doubt = format!("\"{words}\": may take away more than comes with it");
                        self.notes
                            .push((self.tokens[i].start, Doubt::HowMany(doubt.into())));
                    }
                    self.mark(i..to, Role::Note);
                    i = to;
                    continue;
                }
                if link == Link::With && noun_follows && self.is_fitted_washer(i + 1..to) {
                    let words = &self.text[self.tokens[i].start..self.tokens[to - 1].end];
                    let doubt =
                        format!("\"{words}\": taken as fitted to it, not as pieces of its own");
                    self.notes
                        .push((self.tokens[i].start, Doubt::Said(doubt.into())));
                    self.mark(i..to, Role::Note);
                    i = to;
                    continue;
                }
                if named && !after_for && self.goes_on_in_sizes(from, i) {
                    stretches.push((from..i, with));
                    self.mark(i..i + 1, Role::Passed);
                    from = i + 1;
                    i = to;
                    continue;
                }
                let counted = self.counted(i + 1).is_some();
                let cut = noun_follows
                    && !after_for
                    && (named
                        || (words && (link == Link::With || counted))
                        || (counted && self.is_counted_size(from, i)));
                if cut || (noun_follows && after_for && link == Link::With) {
                    stretches.push((from..i, with));
                    self.mark(i..i + 1, Role::Passed);
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
                        matches!(self.tok(j), Some(Tok::Count(_)))
                            || (self.whole(j).is_some()
                                && self.is_word(j + 1)
                                && !self.takes_figure(j - 1))
                    });
                    let at = back.unwrap_or_else(|| self.adjectives_of(i, from + 1));
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

    /// True for a count and a full size, and no more: `12 M10 x 140`.
    fn is_counted_size(&self, from: usize, end: usize) -> bool {
        let of_size = |at: usize| {
            self.number(at).is_some() || matches!(self.tok(at), Some(Tok::Join | Tok::Dash))
        };
        let joins = |at: usize| matches!(self.tok(at), Some(Tok::Join));
        self.counted(from).is_some() && (from + 1..end).all(of_size) && (from + 2..end).any(joins)
    }

    /// Where the words in front of a noun begin that say what kind of it: `hex bolts | flat washers`.
    fn adjectives_of(&self, noun: usize, least: usize) -> usize {
        let adjective = |at: usize| {
            let sense = self.word(at).and_then(|row| row.senses.first());
            matches!(sense, Some(Sense::Mark(mark)) if !mark.is_finish())
        };
        let mut at = noun;
        while at > least && adjective(at - 1) {
            at -= 1;
        }
        at
    }

    /// True where but one noun stands from a token on, and nothing that joins items in front of it:
    /// most lines of a list are so.
    fn is_one_item(&self, start: usize) -> bool {
        let mut nouns = 0;
        for i in start..self.tokens.len() {
            if self.noun(i).is_some() {
                nouns += 1;
            } else if self.link(i).is_some() && (nouns == 0 || self.goes_on_in_sizes(start, i)) {
                return false;
            }
        }
        nouns == 1
    }

    /// True where a size with its count stands in front of a link, and nothing but such behind.
    pub(super) fn goes_on_in_sizes(&self, from: usize, link: usize) -> bool {
        self.are_sizes(link + 1..self.tokens.len())
            && (from.max(link.saturating_sub(LONGEST_SIZE))..link)
                .any(|at| self.are_sizes(at..link))
    }

    /// True for sizes alone, each with its count: `M8x30 (20), M8x50 (12)` behind `bolts`.
    fn are_sizes(&self, tokens: Range<usize>) -> bool {
        let mut at = tokens.start;
        for _ in 0..MOST_SIZES {
            let Some((_, shape, prefix)) = self.number(at) else {
                return false;
            };
            let mut end = at + 1;
            while matches!(self.tok(end), Some(Tok::Join | Tok::Dash))
                && !self.is_apart(end)
                && self.number(end + 1).is_some()
            {
                end += 2;
            }
            let tells = prefix != Prefix::None || (shape == Shape::Fraction && end > at + 2);
            end += usize::from(self.is_apart(end));
            let bracketed = matches!(self.tok(end), Some(Tok::Open));
            let count = end + usize::from(bracketed);
            let closed = !bracketed || matches!(self.tok(count + 1), Some(Tok::Close));
            if !tells || self.whole(count).is_none() || !closed {
                return false;
            }
            at = count + 1 + usize::from(bracketed);
            if at >= tokens.end {
                return at == tokens.end;
            }
            if !matches!(self.tok(at), Some(Tok::Comma | Tok::Semicolon)) {
                return false;
            }
            at += 1;
        }
        false
    }

    /// True for a dash with white space on both sides.
    fn is_apart(&self, i: usize) -> bool {
        matches!(self.tok(i), Some(Tok::Dash)) && self.spaced(i) && self.spaced(i + 1)
    }

    /// `with bonded washer`: one that comes on its screw. Common practice, no source.
    fn is_fitted_washer(&self, mut tokens: Range<usize>) -> bool {
        let captive = [
            "captive",
            "attached",
            "fitted",
            "preassembled",
            "pre-assembled",
        ];
        let fitted = |at: usize| {
            let token = &self.tokens[at];
            let word = &self.text[token.start..token.end];
            self.says(at, Sense::Mark(Mark::Sealing))
                || captive.iter().any(|known| word.eq_ignore_ascii_case(known))
        };
        let washer = |at: usize| self.noun(at) == Some(Noun::Washer);
        tokens.clone().any(fitted)
            && tokens.clone().any(washer)
            && !tokens.any(|at| matches!(self.tok(at), Some(Tok::Num { .. } | Tok::Count(_))))
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

    pub(super) fn link(&self, i: usize) -> Option<Link> {
        match self.tokens.get(i)?.tok {
            Tok::Comma | Tok::Semicolon | Tok::Ampersand | Tok::Plus => Some(Link::And),
            // `w/nut`: the slash belongs to the word before.
            Tok::Slash if self.is_word(i + 1) && !(i > 0 && self.says(i - 1, Sense::With)) => {
                Some(Link::And)
            }
            Tok::Word(row) if !row.kinds.meet(Senses::LINKS) => None,
            Tok::Word(row) => row.senses.iter().find_map(|sense| match sense {
                Sense::And => Some(Link::And),
                Sense::With => (!self.fills_packs(i)).then_some(Link::With),
                Sense::Without => Some(Link::Without),
                _ => None,
            }),
            _ => None,
        }
    }

    /// True for the word behind counted packs, where one thing and how many are in each stand behind it alone: `4 sacks
    /// with 25 M8 nuts each`.
    pub(super) fn fills_packs(&self, i: usize) -> bool {
        let packs = i > 1
            && self.says(i, Sense::With)
            && self.says(i - 1, Sense::Pack)
            && self.counted(i - 2).is_some();
        let mut behind = i + 1..self.tokens.len();
        packs
            && self.whole(i + 1).is_some()
            && behind.clone().filter(|&at| self.noun(at).is_some()).count() == 1
            && !behind.any(|at| self.link(at).is_some())
    }

    fn next_link(&self, from: usize) -> usize {
        (from..self.tokens.len())
            .find(|&i| self.link(i).is_some())
            .unwrap_or(self.tokens.len())
    }
}

/// True for two nouns that are one name: the second says the kind.
fn is_compound(first: Noun, second: Noun) -> bool {
    use Noun::*;
    matches!(
        (first, second),
        (Anchor, Bolt | Rod)
            | (Stud, Bolt | Anchor)
            | (Screw | Bolt, Anchor)
            | (Rivet | Screw, Nut)
            | (Rod, Nut | Stud | Bolt)
            | (Pin, Bolt)
            | (Nut, Rivet | Nut)
    )
}

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Link {
    And,
    With,
    Without,
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::notation::words::WORDS;

    /// Words of the table, figures and marks, in any order.
    fn text() -> impl Strategy<Value = String> {
        let mark = [
            "1/2", "3", "x", ",", "-", "/", "+", "(", ")", "&", ";", "blub",
        ];
        let spellings: Vec<&str> = WORDS.iter().map(|row| row.spelling).collect();
        let piece = prop_oneof![
            prop::sample::select(spellings),
            prop::sample::select(vec!["bolt", "nut", "washer", "with", "and", "for"]),
            prop::sample::select(mark.to_vec()),
        ];
        prop::collection::vec(piece, 0..9).prop_map(|pieces| pieces.join(" "))
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(4000))]

        /// What is taken for one item at sight is one where the text is cut.
        #[test]
        fn one_item_is_one_stretch(text in text()) {
            let mut reader = Reader::spoken(&text, Notation::default());
            if reader.is_one_item(0) {
                let whole = 0..reader.tokens.len();
                prop_assert_eq!(reader.stretches(0), vec![(whole, false)]);
            }
        }
    }
}
