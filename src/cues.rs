//! A pattern, and its cues: words of which one stands in all that it finds.
//!
//! Most short lists have nothing for most patterns, and in a short run nothing takes longer than to compile
//! them. So a pattern is compiled only where one of its cues stands.

use std::sync::{
    OnceLock,
    atomic::{AtomicU32, Ordering},
};

use regex::{Captures, Regex};

/// A pattern and its cues.
pub struct Cued {
    cues: &'static str,
    begin: Triples,
    pattern: fn() -> Regex,
    compiled: OnceLock<Regex>,
    /// How many texts were asked before it was compiled.
    asked: AtomicU32,
}

/// After so many texts a pattern is compiled in any case: then it is quicker to look for than its cues.
const FEW: u32 = 1000;

impl Cued {
    /// A pattern, and the words, or beginnings of words, of which one stands in all that it finds, bars
    /// between them. Those of one or two letters stand by themselves, longer ones anywhere: `total` in
    /// `Subtotal`.
    pub const fn new(cues: &'static str, pattern: fn() -> Regex) -> Cued {
        Cued {
            cues,
            begin: Triples::of(cues),
            pattern,
            compiled: OnceLock::new(),
            asked: AtomicU32::new(0),
        }
    }

    /// The pattern, where it may be found in a text.
    fn pattern(&self, text: &str) -> Option<&Regex> {
        let compiled = || self.compiled.get_or_init(self.pattern);
        let may_find = self.compiled.get().is_some()
            || self.asked.fetch_add(1, Ordering::Relaxed) >= FEW
            || self.may_find(text);
        debug_assert!(
            self.may_find(text) || !compiled().is_match(text),
            "no cue: {text}"
        );
        may_find.then(compiled)
    }

    pub fn is_match(&self, text: &str) -> bool {
        (self.pattern(text)).is_some_and(|pattern| pattern.is_match(text))
    }

    pub fn captures<'t>(&self, text: &'t str) -> Option<Captures<'t>> {
        self.pattern(text)?.captures(text)
    }

    fn may_find(&self, text: &str) -> bool {
        // Signs that are letters of the alphabet in another case, and one that is a word.
        if !text.is_ascii() && text.contains(['\u{17f}', '\u{212a}', '©']) {
            return true;
        }
        let bytes = text.as_bytes();
        let mut last = 0;
        let mut ends_cue = |(end, byte): (usize, &u8)| {
            last = Triples::next(last, *byte);
            self.begin.has(last) && self.has_cue_at(bytes, end)
        };
        // What ends a word may be the end of the text.
        bytes.iter().enumerate().any(&mut ends_cue) || ends_cue((bytes.len(), &b' '))
    }

    /// True where the third letter of a cue stands at `end`, or what ends a short one.
    fn has_cue_at(&self, bytes: &[u8], end: usize) -> bool {
        let letter = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_alphabetic);
        self.cues.split('|').any(|cue| {
            let start = match cue.len() {
                len @ ..3 => end.checked_sub(len),
                _ => end.checked_sub(2),
            };
            start.is_some_and(|start| {
                let here = bytes.get(start..start + cue.len());
                let in_word = letter(end) || (start > 0 && letter(start - 1));
                here.is_some_and(|here| here.eq_ignore_ascii_case(cue.as_bytes()))
                    && (cue.len() > 2 || !in_word)
            })
        })
    }
}

/// A set of three letters in a row. What is no letter of the alphabet counts as a blank.
struct Triples([u64; Triples::ALL / 64]);

impl Triples {
    /// Three signs of five bits.
    const ALL: usize = 1 << 15;

    /// The first three letters of words with bars between them; a short one between blanks.
    const fn of(words: &str) -> Triples {
        let letters = words.as_bytes();
        let mut all = Triples([0; Triples::ALL / 64]);
        let (mut i, mut last, mut len) = (0, 0, 0);
        while i <= letters.len() {
            let ends = i == letters.len() || letters[i] == b'|';
            if len < 3 {
                last = Triples::next(last, if ends { b' ' } else { letters[i] });
            }
            if ends {
                assert!(len > 0, "a cue has a letter");
                all.0[last / 64] |= 1 << (last % 64);
                (last, len) = (0, 0);
            } else {
                len += 1;
            }
            i += 1;
        }
        all
    }

    /// The last three signs, when one more is seen.
    const fn next(last: usize, byte: u8) -> usize {
        let sign = match byte.is_ascii_alphabetic() {
            true => byte & 31,
            false => 0,
        };
        (last << 5 | sign as usize) % Triples::ALL
    }

    const fn has(&self, triple: usize) -> bool {
        self.0[triple / 64] >> (triple % 64) & 1 != 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::pattern;

    #[test]
    fn finds_where_a_cue_stands_and_only_there() {
        static RULE: Cued = Cued::new("total|kg|g", || pattern("(?i)total|[0-9] *k?g"));
        let case = |text: &str, may_find: bool, finds: bool| {
            assert_eq!(RULE.may_find(text), may_find, "{text}");
            assert_eq!(RULE.is_match(text), finds, "{text}");
            assert_eq!(RULE.captures(text).is_some(), finds, "{text}");
        };
        case("Subtotal", true, true);
        case("TOTAL", true, true);
        case("totem", false, false);
        case("tot", false, false);
        case("12kg", true, true);
        case("12 G", true, true);
        case("g", true, false);
        case("kg", true, false);
        case("a kgx", false, false);
        case("bag", false, false);
        case("", false, false);
        // It is a k in lower case.
        case("12 \u{212a}g", true, true);
    }
}
