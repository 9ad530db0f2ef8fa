//! Words of a sentence: blanked, compared, and taken for numbers.

use std::ops::Range;

use crate::notation::words::{Sense, look_up};

pub(super) const NUMBER: &str = r"(?:\d{1,3}|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen)";

/// Blanks a range, byte for byte; a `stop` ends every phrase there.
pub(super) fn mask(text: &mut String, range: Range<usize>, stop: bool) {
    let blanks = " ".repeat(range.len());
    text.replace_range(range.clone(), &blanks);
    if stop {
        text.replace_range(range.start..range.start + 1, ";");
    }
}

pub(super) fn ends_with_word(text: &str, word: &str) -> bool {
    let Some(at) = text.len().checked_sub(word.len()) else {
        return false;
    };
    text.is_char_boundary(at)
        && text[at..].eq_ignore_ascii_case(word)
        && !text[..at].ends_with(|c: char| c.is_alphanumeric())
}

pub(super) fn number(word: &str) -> Option<u32> {
    word.parse().ok().or_else(|| {
        look_up(word)?.senses.iter().find_map(|sense| match sense {
            Sense::Count(n) => u32::try_from(*n).ok(),
            _ => None,
        })
    })
}

/// Plurals that take more than an s.
const PLURALS: &[(&str, &str)] = &[("shelves", "shelf"), ("halves", "half"), ("leaves", "leaf")];

/// A noun without the ending of its plural.
pub(super) fn singular(noun: &str) -> &str {
    let Some(one) = noun
        .strip_suffix(['s', 'S'])
        .filter(|one| !one.ends_with('s'))
    else {
        return match noun.eq_ignore_ascii_case("feet") {
            true => "foot",
            false => noun,
        };
    };
    if let Some((_, one)) = PLURALS
        .iter()
        .find(|(many, _)| noun.eq_ignore_ascii_case(many))
    {
        return one;
    }
    match one.strip_suffix('e') {
        Some(stem)
            if ["x", "ss", "ch", "sh"]
                .iter()
                .any(|end| stem.ends_with(end)) =>
        {
            stem
        }
        _ => one,
    }
}

/// True where words of the trade lead up to a noun of the trade.
pub(super) fn names_hardware(text: &str) -> bool {
    for word in text.split_whitespace().take(4) {
        let Some(row) = look_up(word.trim_end_matches([',', '.', ';', ')'])) else {
            return false;
        };
        if row.senses.iter().any(|s| matches!(s, Sense::Noun(_))) {
            return true;
        }
        let describes = |s: &Sense| matches!(s, Sense::Mark(_) | Sense::Grade(_));
        if !row.senses.iter().any(describes) {
            return false;
        }
    }
    false
}

pub(super) fn last_word(words: &str) -> &str {
    words.rsplit(' ').next().unwrap_or_default()
}
