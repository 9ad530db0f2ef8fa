//! A count that stands beside words, in front of them or behind: `4 x side rails`, `rails: four`.

use super::super::count;
use crate::notation::Notation;

/// What stands between count and item, and between the figures of a size or in front of one, too.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    /// `4 x legs`, `legs x 4`
    Times,
    /// `4 no. legs`
    Number,
}

/// A count in front and the rest, with a mark between: `4 x side rails`, `4 no. side rails`.
pub(super) fn before(body: &str) -> Option<(u64, Mark, &str)> {
    let figures = body.bytes().take_while(u8::is_ascii_digit).count();
    let pieces = body[..figures].parse().ok()?;
    let rest = body[figures..].trim_start();
    let marks = [
        ("x ", Mark::Times),
        ("X ", Mark::Times),
        ("\u{d7} ", Mark::Times),
        ("no. ", Mark::Number),
        ("No. ", Mark::Number),
        ("no ", Mark::Number),
    ];
    let found = marks
        .iter()
        .find_map(|(written, mark)| Some((rest.strip_prefix(written)?, *mark)));
    found.map(|(rest, mark)| (pieces, mark, rest.trim_start()))
}

/// Words and a count behind an `x`: `legs x 4`, `washers M8 x 8`.
pub(super) fn times_behind(body: &str) -> Option<(&str, u64)> {
    let words = body.trim_end_matches(|c: char| c.is_ascii_digit());
    let pieces = body[words.len()..].parse().ok()?;
    let words = words.trim_end().strip_suffix(['x', 'X', '\u{d7}'])?;
    words.ends_with(' ').then(|| (words.trim_end(), pieces))
}

/// Plain words, and the count behind them.
pub(super) fn count_behind(text: &str, notation: Notation) -> Option<(&str, u64)> {
    count_in_figures(text).or_else(|| count_in_words(text, notation))
}

/// Words without a figure and a count in words behind a mark: `handrails: four`, `deck boards - two dozen`.
fn count_in_words(text: &str, notation: Notation) -> Option<(&str, u64)> {
    let text = text.trim_end_matches(|c: char| !c.is_alphanumeric());
    let marks = [": ", " - ", " \u{2013} ", " = ", ", "].into_iter();
    let mut parted = marks.filter_map(|mark| text.rsplit_once(mark));
    let (words, count) = parted.find_map(|(words, count)| {
        let figures = text.contains(|c: char| c.is_ascii_digit());
        let pieces =
            (!figures).then(|| count::pieces(&count.trim().replace('-', " "), notation))??;
        Some((words.trim(), pieces))
    })?;
    words
        .contains(char::is_alphabetic)
        .then_some((words, count))
}

/// Words that name no size, and the bare number behind them: `Pieces in bag: 46`, `FB-210 girder shoe 4`.
fn count_in_figures(text: &str) -> Option<(&str, u64)> {
    let text = text.trim_end_matches(|c: char| !c.is_alphanumeric());
    let words = text.trim_end_matches(|c: char| c.is_ascii_digit());
    let count = text[words.len()..].parse().ok()?;
    let before = words.trim_end_matches([' ', ':', '=', '.', '-', ',']);
    let named = match before.split_once(' ') {
        Some((first, rest)) if is_code(first) => rest,
        _ => before,
    };
    let counts = words.ends_with([' ', ':', '='])
        && !before.is_empty()
        && !before.ends_with(['x', 'X', '(', ','])
        && !before.ends_with(" of")
        && !named.contains(|c: char| c.is_ascii_digit())
        && !named
            .to_lowercase()
            .split(|c: char| !c.is_alphabetic())
            .any(|word| word == "qty" || word == "quantity");
    counts.then_some((before, count))
}

/// A maker's number: capitals and figures.
pub(super) fn is_code(word: &str) -> bool {
    word.contains(|c: char| c.is_ascii_uppercase())
        && word.contains(|c: char| c.is_ascii_digit())
        && !word.contains(|c: char| c.is_ascii_lowercase())
}
