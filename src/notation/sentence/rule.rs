//! A rule of sentences: a pattern, and the words of which one stands in all that it finds.
//!
//! Most sentences have nothing for most rules, and a pattern takes long to look for in vain. So the
//! words of a sentence are noted once, by how they begin, and a pattern is looked for only where
//! one of its cues is among them.

use std::sync::LazyLock;

use regex::{Captures, Match, Regex};

use super::words::Words;

/// A pattern and its cues.
pub(super) struct Rule {
    cues: Beginnings,
    named: Option<Beginnings>,
    pattern: LazyLock<Regex>,
}

impl Rule {
    /// A pattern, with the words of which one stands in all that it finds, and likewise those with a
    /// number or a capital letter behind them (`post 3`), bars between them. Words of up to three
    /// letters stand for themselves, longer ones for all that begin with the same four; `?` for a
    /// capital letter by itself behind `at`, `on`, `for` or `to`, `??` for a number behind `the` or
    /// `these`.
    pub const fn new(cues: &str, named: &str, pattern: fn() -> Regex) -> Rule {
        Rule {
            cues: Beginnings::of(cues),
            named: match named.is_empty() {
                true => None,
                false => Some(Beginnings::of(named)),
            },
            pattern: LazyLock::new(pattern),
        }
    }

    /// The pattern, where it may be found in a text of these words; the text may have some of them
    /// blanked.
    fn pattern(&self, words: &Words, text: &str) -> Option<&Regex> {
        let may_find = words.odd
            || words.said.meets(&self.cues)
            || (self.named.as_ref()).is_some_and(|named| words.named.meets(named));
        debug_assert!(may_find || !self.pattern.is_match(text), "no cue: {text}");
        may_find.then(|| &*self.pattern)
    }

    /// True where one of its cues is among the words.
    pub fn may_find(&self, words: &Words) -> bool {
        words.odd || words.said.meets(&self.cues)
    }

    pub fn is_match(&self, words: &Words, text: &str) -> bool {
        self.pattern(words, text)
            .is_some_and(|pattern| pattern.is_match(text))
    }

    pub fn captures<'t>(&self, words: &Words, text: &'t str) -> Option<Captures<'t>> {
        self.pattern(words, text)?.captures(text)
    }

    pub fn find_iter<'t>(&self, words: &Words, text: &'t str) -> impl Iterator<Item = Match<'t>> {
        let pattern = self.pattern(words, text).into_iter();
        pattern.flat_map(move |pattern| pattern.find_iter(text))
    }

    pub fn captures_iter<'t>(
        &self,
        words: &Words,
        text: &'t str,
    ) -> impl Iterator<Item = Captures<'t>> {
        let pattern = self.pattern(words, text).into_iter();
        pattern.flat_map(move |pattern| pattern.captures_iter(text))
    }
}

/// The first four letters of a word in any case, side by side in one number.
pub(super) const fn beginning(word: &str) -> u32 {
    let letters = word.as_bytes();
    let (mut begins, mut i) = (0, 0);
    while i < letters.len() && i < 4 {
        begins = begins << 5 | (letters[i] & 31) as u32;
        i += 1;
    }
    begins
}

/// A set of beginnings of words, in which one that is not there may be found now and then.
pub(super) struct Beginnings([u64; 16]);

impl Beginnings {
    pub const NONE: Beginnings = Beginnings([0; 16]);

    /// Of words with bars between them.
    pub const fn of(words: &str) -> Beginnings {
        let letters = words.as_bytes();
        let (mut all, mut i, mut begins, mut len) = (Beginnings::NONE, 0, 0, 0);
        while i <= letters.len() {
            if i == letters.len() || letters[i] == b'|' {
                if len > 0 {
                    all.add(begins);
                }
                (begins, len) = (0, 0);
            } else if len < 4 {
                begins = begins << 5 | (letters[i] & 31) as u32;
                len += 1;
            }
            i += 1;
        }
        all
    }

    /// One of 1024 places: ten bits of a product by a number that was tried out, so that few words of
    /// the labelled sentences fall on the place of another cue.
    const fn place(begins: u32) -> (usize, u64) {
        let place = begins.wrapping_mul(0x965a_6289) >> 22;
        ((place / 64) as usize, 1 << (place % 64))
    }

    pub const fn add(&mut self, begins: u32) {
        let (at, bit) = Beginnings::place(begins);
        self.0[at] |= bit;
    }

    pub const fn has(&self, begins: u32) -> bool {
        let (at, bit) = Beginnings::place(begins);
        self.0[at] & bit != 0
    }

    fn meets(&self, other: &Beginnings) -> bool {
        let common = self.0.iter().zip(&other.0).map(|(a, b)| a & b);
        common.fold(0, |all, bits| all | bits) != 0
    }
}
