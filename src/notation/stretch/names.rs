//! Numbers that name: a part (`P/N 1120-0002`), a number size (`No. 10`), a standard (`ISO 4014`).

use super::Stretch;
use crate::{
    doubt::Doubt,
    notation::{
        callout::Role,
        number::Prefix,
        token::{Tok, Token},
        words::{self, Noun, Sense, Senses},
    },
};

impl<'a> Stretch<'_, 'a> {
    /// `P/N 1120-0002`, `part no. 12`; `part thread`.
    pub(super) fn part_number(&mut self, i: usize) -> usize {
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
                Some(
                    Tok::Code
                        | Tok::Num { .. }
                        | Tok::Dash
                        | Tok::Unknown
                        | Tok::Slash
                        | Tok::Join
                        | Tok::Word(_)
                )
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
            // `PN 14 38-16-200`: either may be it.
            let tied = matches!(self.tok(at + 1), Some(Tok::Dash)) && !self.reader.spaced(at + 1);
            if matches!(self.tok(at), Some(Tok::Code)) || self.whole(at).is_some() && tied {
                let other = self.text(at).into();
                self.draft.doubts.push(Doubt::LeftOver(other));
            }
            return at;
        }
        // "part" as a plain word.
        self.draft.traits.unknown = true;
        i + 1
    }

    /// `LH`, `left-hand thread`, `RH` of what has a thread: its end. A `left hand rail` is a thing.
    pub(super) fn hand(&mut self, i: usize) -> Option<usize> {
        let is = |at: usize, known: &[&str]| {
            self.is_word(at) && {
                let word = self.text(at);
                known.iter().any(|known| word.eq_ignore_ascii_case(known))
            }
        };
        let mut end = i + 1;
        if is(i, &["left", "right"]) {
            end = self.reader.skip(end, |tok| matches!(tok, Tok::Dash));
            end = is(end, &["hand", "handed"]).then_some(end + 1)?;
        } else if !is(i, &["lh", "rh"]) {
            return None;
        }
        end += usize::from(is(end, &["thread", "threads", "threaded"]));
        let threaded = |at: usize| {
            let noun = self.reader.noun(at);
            noun.is_some_and(|noun| noun.is_long() || noun == Noun::Nut)
        };
        let names = match self.tok(end) {
            Some(Tok::Word(row)) => !row.kinds.meet(Senses::PLAIN),
            Some(Tok::Unknown) => false,
            _ => true,
        };
        (names && self.draft.tokens.clone().any(threaded)).then_some(())?;
        let in_letters = is(i, &["lh"]);
        self.draft.left_hand = !self.text(i).starts_with(['r', 'R']);
        // Two letters may be a mark of the maker's.
        if in_letters {
            self.draft.doubts.push(Doubt::Said(
                format!("\"{}\" taken for a left-hand thread", self.text(i)).into(),
            ));
        }
        self.reader.mark(i..end, Role::Name);
        Some(end)
    }

    /// `No. 10`: a number size.
    pub(super) fn number_word(&mut self, i: usize) -> usize {
        let at = self.reader.skip(i + 1, |tok| matches!(tok, Tok::Dot));
        // `16 no 8 nuts`: so many of #8, or the unit of the count.
        let counted = self
            .draft
            .count_at
            .as_ref()
            .is_some_and(|count| count.end == i);
        if counted && at == i + 1 && self.whole(at).is_some() && self.reader.noun(at + 1).is_some()
        {
            let (no, size) = (self.text(i), self.text(at));
            self.draft.doubts.push(Doubt::HowMany(
                format!("\"{no} {size}\" read as #{size}: \"{no}\" may belong to the count").into(),
            ));
        }
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

    /// `M12` behind the dash of a designation.
    fn is_metric_size(&self, i: usize) -> bool {
        let metric = |tok| {
            matches!(
                tok,
                Tok::Num {
                    prefix: Prefix::Metric,
                    ..
                }
            )
        };
        self.tok(i).is_some_and(metric)
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
                && !self.is_metric_size(at + 1)
                && matches!(
                    self.tok(at),
                    Some(Tok::Dot | Tok::Dash | Tok::Num { .. } | Tok::Slash)
                )
            {
                at += 1;
            }
            self.reader.mark(i..at, Role::Standard);
            // `DIN 125A`: a form of it.
            let text = self.text(first);
            let form = text.trim_start_matches(|c: char| c.is_ascii_digit());
            let Ok(number) = text[..text.len() - form.len()].parse() else {
                return at;
            };
            if form.len() > 1 {
                return at;
            }
            if let Some(senses) = words::standard(number) {
                self.draft.standard = senses;
            } else if is_metric(self.text(i)) && words::is_unknown_standard(number) {
                let (start, end) = (self.reader.tokens[i].start, self.reader.tokens[at - 1].end);
                self.draft.unknown_standard = Some(&self.reader.text[start..end]);
            }
        }
        at
    }
}

/// Bodies whose standards are numbered by products.
fn is_metric(body: &str) -> bool {
    ["iso", "din"]
        .iter()
        .any(|known| body.eq_ignore_ascii_case(known))
}
