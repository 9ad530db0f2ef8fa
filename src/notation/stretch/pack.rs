//! Packs and sets: `2 bags of 25`, `1 box/100`, `set of 4`, `qty 2 doz`.

use std::ops::Range;

use super::{Stretch, word::is_plural};
use crate::{
    doubt::Doubt,
    notation::{
        callout::{Quantity, Role},
        token::Tok,
        words::{Row, Sense, Senses},
    },
};

/// What stands between a pack and how many it holds: `bags of 25`, `packets each of 25`, `sacks with 25`.
const FILLING: &[Sense] = &[Sense::Of, Sense::Each, Sense::With];

impl<'a> Stretch<'_, 'a> {
    /// A bag, a full box; `set of` as well.
    pub(super) fn is_pack(&self, i: usize) -> bool {
        self.holds_pieces(self.pack_at(i))
            || (self.says(i, Sense::SetWord) && self.says(i + 1, Sense::Of))
    }

    /// True for the word of a pack. What else it may name (`2 rolls of felt`, `roll pins`, `case hardened`) it does
    /// where no fastener is named, or a word of one stands right behind.
    fn holds_pieces(&self, i: usize) -> bool {
        let Some(row) = self.row(i).filter(|row| row.says(Sense::Pack)) else {
            return false;
        };
        let names = |at: usize| self.reader.noun(at).is_some();
        row.kinds.within(Senses::PACK)
            || (self.draft.tokens.clone().any(names)
                && !names(i + 1)
                && !(self.is_word(i + 1) && self.text(i + 1).eq_ignore_ascii_case("hardened")))
    }

    /// The word of a pack, behind one that says that it is full.
    fn pack_at(&self, i: usize) -> usize {
        let full = self.says(i, Sense::FullThread(true)) && self.says(i + 1, Sense::Pack);
        i + usize::from(full)
    }

    /// `2 bags of 25`, `1 box/100`; `2 bags` alone says nothing of the pieces.
    pub(super) fn packs(&mut self, i: usize, packs: u64) -> usize {
        let pack = self.pack_at(i + 1);
        let (size, end) = self.pack_size(pack);
        match size.and_then(|size| packs.checked_mul(size)) {
            Some(pieces) => {
                self.count(Some(pieces), Some(packs), i..end);
                end
            }
            // The size may be said elsewhere.
            None => {
                if self.draft.packs.is_none() {
                    self.draft.packs = Some(packs);
                    self.draft.pack_words = i..pack + 1;
                }
                pack + 1
            }
        }
    }

    /// `set`, `sets` of pieces.
    pub(super) fn is_set(&self, i: usize) -> bool {
        let screw = |at: usize| {
            self.sense(at, |sense| matches!(sense, Sense::Noun(_)).then_some(()))
                .is_some()
        };
        self.says(i, Sense::SetWord) && !screw(i + 1) && !self.says(i + 1, Sense::Of)
    }

    /// `sets of 1/2 x 3 bolt, nut and washer`: the end of the words, where no number of pieces follows.
    pub(super) fn sets_of(&self, i: usize) -> Option<usize> {
        let of = self.says(i, Sense::SetWord) && self.says(i + 1, Sense::Of);
        (of && self.pack_size(i).0.is_none()).then_some(i + 2)
    }

    /// The pack size behind the word at `i`, and the end of it.
    pub(super) fn pack_size(&self, i: usize) -> (Option<u64>, usize) {
        // `2 ctn x 100`
        let counted = i > 0 && self.reader.counted(i - 1).is_some();
        let times = counted && matches!(self.tok(i + 1), Some(Tok::Join));
        let at = self.reader.skip(i + 1 + usize::from(times), |tok| {
            matches!(
                tok,
                Tok::Slash | Tok::Dash | Tok::At | Tok::Colon | Tok::Dot | Tok::Open
            ) || matches!(tok, Tok::Word(row) if FILLING.iter().any(|&sense| row.says(sense)))
        });
        // `set of 1/2 x 3 bolts`: no count.
        let begins = |at: usize| matches!(self.tok(at + 1), Some(Tok::Slash | Tok::Join));
        // `BX100`, `(pkg 50) x 5`; a `box 12` may be the twelfth.
        let bracketed = i > 0
            && matches!(self.reader.tok(i - 1), Some(Tok::Open))
            && matches!(self.tok(at + 1), Some(Tok::Close))
            && matches!(self.tok(at + 2), Some(Tok::Join));
        let apart = at > i + 1 || !self.reader.spaced(at) || bracketed;
        // `cards of six`
        let in_words = || self.row(at).and_then(Row::count);
        let size = self.whole(at).or_else(in_words);
        let size = size.filter(|_| apart && !begins(at));
        let per = self.per(at + 1).filter(|_| size.is_some());
        let end = at + 1 + usize::from(per.is_some());
        match size {
            Some(size) => (size.checked_mul(per.unwrap_or(1)), end),
            None => (None, i + 1),
        }
    }

    /// Where the words end by which the number at `i` is what one pack holds: `100 in each`, `100 to a box`. A pack
    /// with a mark (`12 in the bag 4`) is one of several.
    pub(super) fn pack_filling(&self, i: usize) -> Option<usize> {
        const TIES: &[&str] = &["in", "to", "a", "an", "per"];
        let is = |at: usize, known: &[&str]| {
            self.is_word(at) && {
                let word = self.text(at);
                known.iter().any(|known| word.eq_ignore_ascii_case(known))
            }
        };
        if self.draft.pack_size.is_some() || self.draft.quantity.is_some() {
            return None;
        }
        let tied = i + 1 + (i + 1..).take_while(|&at| is(at, TIES)).count();
        let each = is(tied, &["each", "every"]);
        let at = tied + usize::from(each);
        let one = at > i + 1 && !self.is_word(at + 1) && self.number(at + 1).is_none();
        let pack = one && !is(at - 1, &["in"]) && self.holds_pieces(at);
        (pack || each && self.draft.packs.is_some()).then_some(at + usize::from(pack))
    }

    /// `pack of 50`.
    pub(super) fn lone_pack(&mut self, i: usize) -> usize {
        // `crate (2) washers`: it may be a word of the piece, which is counted.
        if self.says(i, Sense::Use) && matches!(self.tok(i + 1), Some(Tok::Open)) {
            return i + 1;
        }
        let (size, end) = self.pack_size(i);
        if size.is_some() && self.draft.pack_size.is_none() {
            self.draft.pack_size = size;
            // `bag of 25 nuts` is one bag; behind the item it may be what one of several holds.
            let behind = self.draft.traits.noun.is_some();
            self.draft.packs_open |= behind && !self.says(i, Sense::SetWord);
            self.draft.pack_words = i..end;
            self.reader.mark(i..end, Role::Count);
            return end;
        }
        // `box cover` is a cover, and of a `bag of gravel` nobody counts the pieces.
        let of_several = || {
            let mut words = self.draft.tokens.clone().filter(|&at| self.is_word(at));
            self.says(i + 1, Sense::Of) && words.any(|at| is_plural(self.text(at)))
        };
        let named = || {
            let mut tokens = self.draft.tokens.clone();
            tokens.any(|at| self.reader.noun(at).is_some())
        };
        // A `bag 3` is one of several.
        let unsaid = size.is_none() && !self.says(i, Sense::SetWord) && self.whole(i + 1).is_none();
        if unsaid && self.is_first(i) && (named() || of_several()) {
            self.draft.pack_of = Some(i);
        }
        i + 1
    }

    /// A pair or a dozen without a count: a pack of so many. In front of the item, it is one; behind it, what each of
    /// several holds.
    pub(super) fn lone_several(&mut self, i: usize, n: u64) {
        let open = self.draft.pack_size.is_none() && self.draft.packs.is_none();
        if !open || self.reader.tokens[i].role.is_some() {
            return;
        }
        let ends = matches!(
            self.tok(i + 1),
            None | Some(Tok::Close | Tok::Comma | Tok::Semicolon)
        );
        let first = self.is_first(i);
        if !(first || ends) {
            return;
        }
        // Beside other items it may be of any, and beside a figure no count: `gross weight 96 lb`.
        let alone = self.draft.tokens == (0..self.reader.tokens.len());
        let mut tokens = self.draft.tokens.clone();
        let counts = self.says(i + 1, Sense::Of)
            || tokens.clone().any(|at| self.reader.noun(at).is_some())
            || !tokens.any(|at| self.number(at).is_some());
        if !(alone && counts) {
            return;
        }
        let bracketed = i > 0
            && matches!(self.reader.tok(i - 1), Some(Tok::Open))
            && matches!(self.tok(i + 1), Some(Tok::Close));
        let about = usize::from(bracketed);
        self.draft.pack_size = Some(n);
        // `gloves, pair` may be how they are sold; a dozen is how many.
        self.draft.packs_open |= !first && n < 12;
        self.draft.pack_words = i - about..i + 1 + about;
        self.draft.several = Some(i);
        self.reader.mark(i..i + 1, Role::Count);
    }

    /// True for the first word of the stretch.
    fn is_first(&self, i: usize) -> bool {
        !(self.draft.tokens.start..i).any(|at| self.is_word(at) || self.number(at).is_some())
    }

    /// Puts packs and pack size together that were said apart; a pack size alone is one pack.
    pub(super) fn settle_packs(&mut self) {
        let words = self.draft.pack_words.clone();
        if let (Some(at), Some(size), Some(count)) = (
            self.draft.several,
            self.draft.pack_size,
            self.draft.quantity,
        ) {
            // `24 nuts, dozen`
            self.draft.pack_size = None;
            self.draft.doubts.push(Doubt::OrElse {
                pieces: count.pieces.saturating_mul(size),
                said: format!("\"{}\" may belong to the count", self.text(at)).into(),
            });
        }
        match (self.draft.packs, self.draft.pack_size) {
            (packs, Some(size)) if self.draft.quantity.is_none() => {
                if packs.is_none() && self.draft.packs_open {
                    self.draft.doubts.push(Doubt::LonePack);
                }
                let packs = packs.unwrap_or(1);
                self.count(packs.checked_mul(size), Some(packs), words);
            }
            // `25/pk, qty 2`: fewer than one holds are packs.
            (None, Some(size))
                if self.draft.packs_open
                    && self
                        .draft
                        .quantity
                        .is_some_and(|q| q.packs.is_none() && q.pieces < size) =>
            {
                self.draft.quantity = self.draft.quantity.and_then(|packs| {
                    Some(Quantity {
                        pieces: packs.pieces.checked_mul(size)?,
                        packs: Some(packs.pieces),
                    })
                });
            }
            // `50 ea, bag of 25`: the packs say it again.
            (packs, Some(size)) => {
                let pieces = self.draft.quantity.map(|q| q.pieces);
                let packs = packs.or(pieces.map(|pieces| pieces / size.max(1)));
                // `16 washers, pack of 2`: 16 pieces, or 16 packs.
                let bare = (self.draft.count_at.clone()).is_some_and(|mut at| {
                    at.all(|i| !matches!(self.reader.tok(i), Some(Tok::Word(_))))
                });
                if self.draft.packs.is_none() && bare && size > 1 {
                    let pieces = pieces.unwrap_or_default();
                    self.draft.doubts.push(Doubt::OrElse {
                        pieces: pieces.saturating_mul(size),
                        said: format!("may be {pieces} pieces or {pieces} packs of {size}").into(),
                    });
                }
                if packs.and_then(|packs| packs.checked_mul(size)) != pieces {
                    let pieces = pieces.unwrap_or_default();
                    self.draft.doubts.push(Doubt::TwoQuantities(pieces, size));
                    self.draft.quantity = None;
                }
            }
            // `2 boxes deck screws, 350 ct`
            (Some(packs), None) => self.doubt_packs(packs, words),
            // `bag of M6 nuts`, beside a count of these in a cell of its own
            (None, None)
                if let Some(at) = self.draft.pack_of
                    && self.draft.quantity.is_none() =>
            {
                let word = self.text(at).to_lowercase();
                let doubt = format!("how many are in a {word} is not stated");
                self.draft.doubts.push(Doubt::HowMany(doubt.into()));
            }
            _ => {}
        }
    }

    /// Asks of packs whose size is not said, beside a count: it may be of each, or of all.
    fn doubt_packs(&mut self, packs: u64, words: Range<usize>) {
        let Some(Quantity {
            pieces,
            packs: None,
        }) = self.draft.quantity
        else {
            return;
        };
        self.reader.mark(words, Role::Count);
        if packs > 1 {
            self.draft.doubts.push(Doubt::OrElse {
                pieces: pieces.saturating_mul(packs),
                said: format!("may be {pieces} in all, or in each of {packs} packs").into(),
            });
        }
    }

    /// `qty 24`, `Qty: 24`, `qty 2 doz`, `qty 2 bags of 25`.
    pub(super) fn qty(&mut self, i: usize) -> usize {
        let at = self.reader.skip(i + 1, |tok| {
            matches!(tok, Tok::Colon | Tok::Dot | Tok::Dash)
        });
        if self.draft.quantity.is_some() && self.draft.pack_size.is_none() {
            if let Some(n) = self.whole(at)
                && self.per(at + 1).is_none()
                && !self.is_pack(at + 1)
            {
                self.draft.late = Some(n);
                self.reader.mark(i..at + 1, Role::Count);
                return at + 1;
            }
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
            self.reader.mark(i..next, Role::Count);
            return next;
        }
        let per = self.per(at + 1);
        let end = at + 1 + usize::from(per.is_some());
        self.count(n.checked_mul(per.unwrap_or(1)), None, i..end);
        end
    }
}
