//! A rule of sentences: a pattern, and the words of which one stands in all that it finds.
//!
//! Most sentences have nothing for most rules, and a pattern takes long to look for in vain. So the
//! words of a sentence are noted once, by how they begin, and a pattern is looked for only where
//! one of its cues is among them.

use std::sync::LazyLock;

use regex::{Captures, Match, Regex};

use super::{beginnings::Beginnings, words::Words};

/// A pattern and its cues.
pub(super) struct Rule {
    cues: Beginnings,
    named: Option<Beginnings>,
    behind: Option<Beginnings>,
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
            behind: None,
            pattern: LazyLock::new(pattern),
        }
    }

    /// A pattern, with the words of which one stands in all that it finds, right in front of one of
    /// those `behind`.
    pub const fn pair(cues: &str, behind: &str, pattern: fn() -> Regex) -> Rule {
        let mut rule = Rule::new(cues, "", pattern);
        rule.behind = Some(Beginnings::of(behind));
        rule
    }

    /// The pattern, where it may be found in a text of these words; the text may have some of them
    /// blanked.
    fn pattern(&self, words: &Words, text: &str) -> Option<&Regex> {
        let pair = || {
            let behind = self.behind.as_ref();
            behind.is_none_or(|behind| words.has_pair(text, &self.cues, behind))
        };
        let may_find = words.odd
            || (words.said.meets(&self.cues) && pair())
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
