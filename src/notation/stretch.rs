//! One stretch being read: what each of its words is for.

mod bare;
mod count;
mod dims;
mod figure;
mod grade;
mod label;
mod names;
mod pack;
mod places;
mod proof;
mod word;

use std::ops::Range;

use super::{
    callout::{Quantity, Role},
    code::is_range,
    draft::Draft,
    number::{Prefix, Shape},
    reader::Reader,
    token::Tok,
    words::{Measure, Row, Sense, look_up},
};
use crate::{doubt::Doubt, hardware::Ratio};

/// One stretch being read.
pub(super) struct Stretch<'r, 'a> {
    pub reader: &'r mut Reader<'a>,
    pub draft: &'r mut Draft<'a>,
    pub end: usize,
    /// A measure named in front of its figure (`length 3`).
    pub pending: Option<Measure>,
    /// Where the noun was found, and whether a mark has stood since.
    pub noun_at: Option<usize>,
}

impl<'a> Reader<'a> {
    pub(super) fn draft(&mut self, range: Range<usize>) -> Draft<'a> {
        let mut draft = Draft {
            tokens: range.clone(),
            ..Draft::default()
        };
        let mut stretch = Stretch {
            end: range.end,
            draft: &mut draft,
            reader: self,
            pending: None,
            noun_at: None,
        };
        stretch.read(range.start);
        stretch.close(range);
        draft
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
    pub(super) fn row(&self, i: usize) -> Option<&'static Row> {
        if i < self.end {
            self.reader.word(i)
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
        self.row(i)?.per()
    }

    /// Sets the count, from its tokens.
    pub(super) fn count(&mut self, pieces: Option<u64>, packs: Option<u64>, tokens: Range<usize>) {
        let Some(pieces) = pieces else { return };
        if self.draft.quantity.is_some() || self.draft.open_count {
            return;
        }
        self.draft.quantity = Some(Quantity { pieces, packs });
        self.reader.mark(tokens.clone(), Role::Count);
        self.draft.count_at = Some(tokens);
    }

    pub(super) fn read(&mut self, start: usize) {
        let start = self.label(start);
        self.worked_out(start);
        let mut i = match self.draft.quantity {
            Some(_) => start,
            None => self.lead(start),
        };
        while i < self.end {
            // A range of counts: no other figure is the count.
            self.draft.open_count |= self.reader.is_open_count(i);
            // Passed over already: what a bolt comes without.
            let token = self.reader.tokens[i];
            i = if token.role.is_some() && !matches!(token.tok, Tok::Count(_)) {
                i + 1
            } else {
                self.step(i).max(i + 1)
            };
        }
    }

    fn close(&mut self, range: Range<usize>) {
        self.draft.noun_at = self.noun_at;
        self.take_uses();
        self.settle_packs();
        self.settle_label();
        for &sense in self.draft.standard {
            if let Sense::FullThread(full) = sense
                && self
                    .draft
                    .full_thread
                    .replace(full)
                    .is_some_and(|said| said != full)
            {
                let threads = ["full thread", "part thread"].map(Into::into);
                self.draft.doubts.push(Doubt::Readings(threads.to_vec()));
            }
        }
        if !self.draft.thing {
            let doubt = self.draft.traits.name_by(self.draft.standard);
            self.draft.doubts.extend(doubt);
        }
        let tokens = &self.reader.tokens;
        let (mut first, mut last) = (range.start, range.end);
        if let Some(count) = &self.draft.count_at {
            if count.start <= first {
                first = count.end;
            } else if (count.end..last).all(|i| {
                tokens[i].role == Some(Role::Price)
                    || !matches!(
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
    }

    /// Reads the token at `i`, and what belongs to it. Returns where to go on.
    pub(super) fn step(&mut self, i: usize) -> usize {
        let Some(tok) = self.tok(i) else {
            return i + 1;
        };
        match tok {
            Tok::Word(row) => match self.drive_size(i, row) {
                Some((drive, end)) => {
                    self.draft.traits.drive = Some(drive);
                    self.reader.mark(i..end, Role::Name);
                    end
                }
                None => self.word(i, row),
            },
            Tok::Num { .. } => self.figure(i),
            Tok::Join => self.join(i),
            Tok::Open => self.parenthesis(i),
            Tok::Money | Tok::At => {
                let at = self.reader.skip(i + 1, |tok| matches!(tok, Tok::Money));
                // `24 @ 1/2 x 8`: no price is a fraction.
                let price = self.number(at).is_some_and(|(_, shape, prefix)| {
                    prefix == Prefix::None && shape != Shape::Fraction
                });
                if price {
                    let mut end = self.price_end(at + 1);
                    // `12 @ 1.89   22.68`: what the row comes to.
                    let sum = (self.reader).skip(end, |tok| matches!(tok, Tok::Colon | Tok::Money));
                    let cents =
                        matches!(self.number(sum), Some((_, Shape::Decimal(2), Prefix::None)));
                    let sized = matches!(self.tok(sum + 1), Some(Tok::Join | Tok::Inch));
                    if cents && (!sized || sum + 2 >= self.end) {
                        end = sum + 1;
                    }
                    // `@ 100 110 ft-lb`: no price without cents in front of a figure.
                    if self.whole(at).is_some() && self.number(end).is_some() {
                        return at + 1;
                    }
                    // `2 pails of nuts @ 500`
                    if let (Some(_), Some(n), Tok::At) = (self.draft.packs, self.whole(at), tok)
                        && at == i + 1
                        && self.draft.quantity.is_none()
                        && self.draft.pack_size.is_none()
                    {
                        self.draft.pack_size = Some(n);
                        self.reader.mark(i..at + 1, Role::Count);
                        return at + 1;
                    }
                    self.reader.mark(i..end, Role::Price);
                    return end;
                }
                i + 1
            }
            Tok::Count(n) => {
                self.count(Some(n), None, i..i + 1);
                i + 1
            }
            // A range is a size of a kind, and stays in the name.
            Tok::Code if is_range(self.text(i)) => {
                self.draft.traits.unknown = true;
                i + 1
            }
            Tok::Code => {
                self.draft.codes += 1;
                // `bagsx25` is no maker's number.
                let word = self.text(i).trim_end_matches(|c: char| c.is_ascii_digit());
                let pack = word
                    .strip_suffix(['x', 'X'])
                    .and_then(look_up)
                    .is_some_and(|row| row.says(Sense::Pack))
                    // `2 hampers/24`: what is not known may hold pieces.
                    || i > 0
                        && self.reader.counted(i - 1).is_some()
                        && word.strip_suffix("s/").is_some_and(|word| {
                            word.len() > 2 && word.bytes().all(|b| b.is_ascii_lowercase())
                        });
                if self.draft.code.is_none() && !pack {
                    self.draft.code = Some(self.text(i));
                    self.reader.mark(i..i + 1, Role::Number);
                }
                i + 1
            }
            Tok::Unknown => self.hand(i).unwrap_or_else(|| {
                self.draft.traits.unknown = true;
                self.thing_after_noun(i);
                i + 1
            }),
            _ => i + 1,
        }
    }
}
