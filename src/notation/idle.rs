//! Words that a reading passes over though they may make another item: `hanger bolt`, `all-metal`.

use std::ops::Range;

use super::{
    callout::Role,
    draft::Draft,
    kind::Marks,
    reader::Reader,
    token::Tok,
    words::{Mark, Noun, Row, Sense, Senses},
};
use crate::{
    doubt::Doubt,
    hardware::{Grade, Item},
};

impl Reader<'_> {
    /// Doubts those words among the tokens of a piece of hardware that its reading does not explain.
    pub(super) fn idle_words(
        &self,
        tokens: Range<usize>,
        marks: Marks,
        item: &Item,
        doubts: &mut Vec<Doubt>,
    ) {
        for i in tokens.start..tokens.end.min(self.tokens.len()) {
            let Some(row) = self.word(i) else { continue };
            let token = &self.tokens[i];
            // What only names the kind explains itself, unless another noun stands behind it (`rivet nut`).
            if row.kinds == Senses::NOUN {
                if self.is_another_thing(i) {
                    let word = &self.text[token.start..token.end];
                    doubts.push(Doubt::UnknownWords(word.into()));
                }
                continue;
            }
            let said = matches!(
                token.role,
                Some(Role::Name | Role::Passed | Role::Places | Role::Size)
            );
            let uncounted = token.role == Some(Role::Count) && self.is_idle_each(i, row);
            if uncounted || (said && self.is_idle(i, row, marks, item)) {
                let word = &self.text[token.start..token.end];
                doubts.push(Doubt::UnknownWords(word.into()));
            }
        }
    }

    /// True for a bare count behind `less`, `without`: so many fewer.
    fn is_taken_away(&self, at: usize) -> bool {
        let names = |at: usize| self.noun(at).is_some();
        let is_last = at + 1 == self.tokens.len();
        let counts = self.tokens[at].role == Some(Role::Count)
            || is_last && matches!(self.tokens[at].tok, Tok::Num { .. });
        counts && self.says(at - 1, Sense::Without) && !(at + 1..self.tokens.len()).any(names)
    }

    /// The words of the name that no style stands for, before or behind the size: `foundation` of a foundation bolt,
    /// `drilled` of a bolt M16 x 140 drilled, and a standard that is not known. What stands in front of a count is said of the line.
    pub(super) fn called(&self, draft: &Draft<'_>, item: &Item) -> Option<Box<str>> {
        let end = draft.tokens.end.min(self.tokens.len());
        let named = |at: usize| matches!(self.tokens[at].role, Some(Role::Name | Role::Size));
        let count = draft.count_at.as_ref();
        let count = count.filter(|count| !(draft.tokens.start..count.start).any(named));
        let start = count.map_or(draft.tokens.start, |count| count.end);
        let standard = draft.unknown_standard.map(str::to_uppercase);
        let mut words: Vec<String> = standard.into_iter().collect();
        for at in (start..end).filter(|at| !draft.label.contains(at)) {
            let token = &self.tokens[at];
            let text = &self.text[token.start..token.end];
            let names = match token.tok {
                Tok::Word(row) if row.kinds == Senses::NOUN => {
                    // `rivet nut`; `washer pin` would be two pieces.
                    let next = self.word(at + 1).map(|row| row.kinds);
                    self.noun(at).is_none()
                        && next == Some(Senses::NOUN)
                        && self.is_another_thing(at)
                }
                Tok::Word(row) if row.says(Sense::Use) => match token.role {
                    None => !row.kinds.meet(Senses::PACK),
                    role => role == Some(Role::Name),
                },
                Tok::Word(row) => {
                    !row.kinds.meet(Senses::NOUN)
                        && !matches!(row.spelling, "pl" | "partial" | "half" | "both" | "all")
                        && matches!(token.role, Some(Role::Name | Role::Passed | Role::Size))
                        && self.is_idle(at, row, draft.traits.marks, item)
                }
                Tok::Unknown => {
                    token.role.is_none()
                        && !self.names_by_figure(at)
                        && text.chars().all(char::is_alphabetic)
                        && !crate::unsettling::is_in_name(text)
                }
                Tok::Code => super::code::is_range(text),
                _ => false,
            };
            if names {
                words.push(text.to_lowercase());
            }
        }
        (!words.is_empty()).then(|| words.join(" ").into())
    }

    /// True for a word by which the figure behind it names a thing: `item 6`.
    fn names_by_figure(&self, at: usize) -> bool {
        let figure = |i: &usize| self.number(*i).is_some();
        let figure = (at + 1..at + 3).find(figure);
        figure.is_some_and(|figure| self.identified_by(figure) == Some(at))
    }

    /// The tokens of the name that stand in front of a noun: words, and dashes between them.
    pub(super) fn name_before(&self, noun: usize, start: usize) -> Range<usize> {
        let named = |at: &usize| match self.tokens[*at].tok {
            Tok::Word(row) => match self.tokens[*at].role {
                Some(Role::Name | Role::Finish | Role::Grade) => true,
                Some(Role::Passed) => row.kinds.within(Senses::NOISE),
                None => row.says(Sense::Use),
                _ => false,
            },
            Tok::Unknown => self.tokens[*at].role.is_none(),
            Tok::Dash => !self.spaced(*at),
            _ => false,
        };
        noun - (start..noun).rev().take_while(named).count()..noun
    }

    fn is_idle(&self, i: usize, row: &Row, marks: Marks, item: &Item) -> bool {
        let Some(kind) = item.kind else { return false };
        // `set of 8`: a count. A `set bolt` may be so many sets.
        let counts = row.kinds.meet(Sense::SetWord.kind()) && self.noun(i + 1).is_none();
        let by_mark = row.kinds.meet(Senses::MARK)
            && !counts
            && row
                .senses
                .iter()
                .any(|sense| matches!(sense, Sense::Mark(mark) if marks.leaves_idle(*mark, kind)));
        by_mark
            || match row.spelling {
                // A washer of ASTM F436 is hardened.
                "hardened" | "hard" => item.grade != Some(Grade::F436),
                "serrated" => !marks.has(Mark::Flange),
                "metal" => !marks.has(Mark::SheetMetal),
                // Zinc plated is plated, and nothing else says of what.
                "pl" => item.finish.is_none(),
                // Nylon inserts are one way to a prevailing torque, all-metal nuts another.
                "prevailing" => !marks.has(Mark::NylonInsert),
                "partial" => !self.word(i + 1).is_some_and(|next| {
                    matches!(next.spelling, "thread" | "threaded" | "thrd" | "thd")
                }),
                // Half nuts are jam nuts; half a box of nuts is not.
                "half" => marks.has(Mark::Jam) && !self.is_before_noun(i),
                "both" => {
                    !matches!(self.tokens.get(i + 1), Some(next) if next.role == Some(Role::Places))
                }
                // `hanger bolts`, `bolts with hole`; a plate washer is a mark.
                _ => {
                    row.says(Sense::Thing)
                        && !row
                            .senses
                            .iter()
                            .any(|sense| matches!(sense, Sense::Mark(_)))
                        && (self.is_before_noun(i) || i > 0 && self.says(i - 1, Sense::With))
                }
            }
    }

    /// True for the noun of a nut, a washer, a pin or a rivet in front of that of another piece.
    fn is_another_thing(&self, i: usize) -> bool {
        let first = self.word(i).and_then(Row::noun);
        let (Some(first), Some(second)) = (first, self.noun_of_name(i)) else {
            return false;
        };
        let head = self.says(i + 1, Sense::Head);
        !head
            && first != second
            && matches!(first, Noun::Nut | Noun::Washer | Noun::Pin | Noun::Rivet)
    }

    /// True where but marks stand before the noun: `half nut`, `half hex nut`.
    fn is_before_noun(&self, i: usize) -> bool {
        self.noun_of_name(i).is_some()
    }

    fn noun_of_name(&self, i: usize) -> Option<Noun> {
        let qualifies = |at: usize| match self.tok(at) {
            Some(Tok::Word(row)) => {
                let names = row.role == Role::Name || row.kinds.within(Senses::NOISE);
                names && self.noun(at).is_none()
            }
            Some(Tok::Dash) => !self.spaced(at),
            tok => matches!(tok, Some(Tok::Unknown)),
        };
        let mut at = i + 1;
        while qualifies(at) {
            at += 1;
        }
        self.noun(at)
    }

    /// `each` that no count, price or other item explains.
    fn is_idle_each(&self, i: usize, row: &Row) -> bool {
        let counted = |at: usize| {
            self.whole(at).is_some()
                || self.word(at).is_some_and(|row| row.count().is_some())
                || matches!(self.tok(at), Some(Tok::Close))
        };
        row.spelling == "each"
            && i + 1 >= self.tokens.len()
            && i > 0
            && !counted(i - 1)
            && !(0..i).any(|at| self.link(at).is_some() || self.fills_packs(at))
    }

    /// The doubt of a text that ends in a joining word: `8 hex bolts less`.
    pub(super) fn breaks_off(&self) -> Option<Doubt> {
        if let Some(at) = (1..self.tokens.len()).find(|at| self.is_taken_away(*at)) {
            let taken = &self.text[self.tokens[at - 1].start..self.tokens[at].end];
            return Some(Doubt::HowMany(
                format!("\"{taken}\" takes some away: of how many?").into(),
            ));
        }
        let last = self.tokens.len().checked_sub(1)?;
        let row = self.word(last)?;
        let joins = [Sense::And, Sense::With, Sense::Without];
        // `Clip W` is one of the clips.
        let is_mark = self.tokens[last].end - self.tokens[last].start == 1
            && !(0..last).any(|at| self.noun(at).is_some());
        (!is_mark && joins.iter().any(|&sense| row.says(sense))).then(|| {
            let token = &self.tokens[last];
            let word = &self.text[token.start..token.end];
            Doubt::Said(format!("the line ends in \"{word}\": something is missing").into())
        })
    }
}
