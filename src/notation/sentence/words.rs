//! The words of a sentence: where they stand, how they begin, and which cues of rules are among them.

use std::ops::Range;

use super::beginnings::{Beginnings, beginning};
use crate::notation::words::look_up;

/// The words of a sentence.
pub(super) struct Words {
    all: Vec<Word>,
    pub(super) said: Beginnings,
    /// Those with a number or a capital letter behind them.
    pub(super) named: Beginnings,
    /// Letters stand in it that are others in lower case, by which `ſ` is an s: any rule may find it.
    pub(super) odd: bool,
}

/// A word, cut where neither letters, figures nor apostrophes stand: `don't`, `4a`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Word {
    start: u32,
    end: u32,
    /// Its [`beginning`].
    pub begins: u32,
}

impl Word {
    /// Where it stands in its sentence.
    pub fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }

    /// True where it is not blanked in a text.
    fn stands(&self, text: &str) -> bool {
        !matches!(text.as_bytes()[self.start as usize], b' ' | b';')
    }
}

/// `the`, `these`, `those`.
const THE: [u32; 3] = [beginning("the"), beginning("these"), beginning("those")];

/// Words in front of letters that name places: `at B, C and D`.
const AT: [u32; 4] = [
    beginning("at"),
    beginning("on"),
    beginning("for"),
    beginning("to"),
];

/// Words that are blanked, so that what stands behind `the` may be a number at last.
static BLANKED: Beginnings = Beginnings::of(
    "new|supplied|more|additional|further|matching|loose|extra|spare|optional|second|third|single|sturdy|each|every|per",
);

impl Words {
    pub fn of(text: &str) -> Words {
        let mut words = Words {
            all: Vec::with_capacity(text.len() / 4),
            said: Beginnings::NONE,
            named: Beginnings::NONE,
            odd: !text.is_ascii() && text.contains(['\u{17f}', '\u{212a}']),
        };
        let bytes = text.as_bytes();
        let mut behind_the = false;
        let mut last = 0;
        let mut end = 0;
        while end < bytes.len() {
            let at = end;
            let mut begins = 0;
            while end < bytes.len() && bytes[end].is_ascii_alphabetic() {
                if end < at + 4 {
                    begins = begins << 5 | u32::from(bytes[end] & 31);
                }
                end += 1;
            }
            if end == at {
                end += match bytes[at] {
                    b' ' => 1,
                    _ => words.see_mark(text, at),
                };
                continue;
            }
            words.push(text, at..end, begins);
            words.said.add(begins);
            let plural = at > 1 && matches!(bytes[at - 2], b's' | b'S');
            if end - at == 1 && bytes[at].is_ascii_uppercase() && (AT.contains(&last) || plural) {
                words.said.add(beginning("?"));
            }
            last = begins;
            let name = name_behind(&bytes[end..]);
            if name {
                words.named.add(begins);
                let one = text[at..end].trim_end_matches(['s', 'S']);
                words.named.add(beginning(one));
            }
            if THE.contains(&begins) {
                behind_the = true;
            } else if behind_the {
                behind_the = BLANKED.has(begins);
                if look_up(&text[at..end]).is_some_and(|row| row.count().is_some()) {
                    words.said.add(beginning("??"));
                }
            }
            if behind_the && name {
                words.said.add(beginning("??"));
            }
        }
        words
    }

    /// Takes what is no letter of the alphabet, and tells how long it is.
    fn see_mark(&mut self, text: &str, at: usize) -> usize {
        let mark = match text.as_bytes()[at] {
            byte @ ..128 => char::from(byte),
            _ => text[at..].chars().next().unwrap_or_default(),
        };
        let end = at + mark.len_utf8();
        let goes_on = || self.all.last().is_some_and(|word| word.end as usize == at);
        if mark.is_alphanumeric() || (matches!(mark, '\'' | '\u{2019}') && goes_on()) {
            self.push(text, at..end, beginning(&text[at..end]));
        }
        mark.len_utf8()
    }

    /// Takes letters or figures, as more of the last word where they stand right behind it.
    fn push(&mut self, text: &str, at: Range<usize>, begins: u32) {
        match self.all.last_mut() {
            Some(word) if word.end as usize == at.start => {
                word.end = at.end as u32;
                word.begins = beginning(&text[word.range()]);
            }
            _ => self.all.push(Word {
                start: at.start as u32,
                end: at.end as u32,
                begins,
            }),
        }
    }

    pub fn all(&self) -> &[Word] {
        &self.all
    }

    /// Those that stand in a text of which some is blanked.
    pub fn left(&self, text: &str) -> Vec<Word> {
        let mut left = Vec::with_capacity(self.all.len());
        left.extend(self.all.iter().filter(|word| word.stands(text)));
        left
    }

    /// True where a word of the one set stands in front of one of the other, in a text of which some is blanked.
    pub fn has_pair(&self, text: &str, first: &Beginnings, then: &Beginnings) -> bool {
        let mut is_first = false;
        let mut left = self.all.iter().filter(|word| word.stands(text));
        left.any(|word| {
            std::mem::replace(&mut is_first, first.has(word.begins)) && then.has(word.begins)
        })
    }

    /// Where a word stands in a text of which some is blanked: each time.
    pub fn find(&self, text: &str, word: &str) -> impl Iterator<Item = Range<usize>> {
        let begins = beginning(word);
        let all = match self.said.has(begins) {
            true => self.all.as_slice(),
            false => &[],
        };
        let alike = all.iter().filter(move |found| found.begins == begins);
        alike
            .map(|found| found.range())
            .filter(move |at| text[at.clone()].eq_ignore_ascii_case(word))
    }
}

/// True where a number or a capital letter follows, or what may be one: `3`, `. A`, ` No. 4`, `#4`.
fn name_behind(bytes: &[u8]) -> bool {
    let bytes = bytes.strip_prefix(b".").unwrap_or(bytes);
    let space = |b: &&u8| matches!(b, b' ' | 9..=13);
    match bytes[bytes.iter().take_while(space).count()..] {
        [b'n' | b'N', b'o' | b'O', ..] => true,
        [b, ..] => matches!(b, b'0'..=b'9' | b'A'..=b'Z' | b'#' | 128..),
        [] => false,
    }
}

#[cfg(test)]
mod tests {
    use super::{super::wording::mask, *};

    #[test]
    fn words_of_a_sentence() {
        #[track_caller]
        fn case(text: &str, expected: &[&str]) {
            let words = Words::of(text);
            let found: Vec<&str> = words.all.iter().map(|word| &text[word.range()]).collect();
            assert_eq!(found, expected, "{text}");
            for word in &words.all {
                assert_eq!(word.begins, beginning(&text[word.range()]), "{text}");
            }
        }
        case("", &[]);
        case("Don't fit the 4a.", &["Don't", "fit", "the", "4a"]);
        case("Don\u{2019}t.", &["Don\u{2019}t"]);
        case("'Fit' M8x40", &["Fit'", "M8x40"]);
        case(
            "3-bay, \u{bd} in \u{e9}tag\u{e8}res",
            &["3", "bay", "\u{bd}", "in", "\u{e9}tag\u{e8}res"],
        );
    }

    #[test]
    fn words_that_are_blanked_are_left_out() {
        let text = "Fit each of the four posts, each.";
        let words = Words::of(text);
        let mut blanked = text.to_owned();
        mask(&mut blanked, 4..26, true);
        let left: Vec<&str> = words
            .left(&blanked)
            .iter()
            .map(|word| &blanked[word.range()])
            .collect();
        assert_eq!(left, ["Fit", "each"]);
        assert_eq!(words.find(&blanked, "each").next(), Some(28..32));
    }
}
