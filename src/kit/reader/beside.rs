//! A count that stands beside words, in front of them or behind: `4 x side rails`, `rails: four`.

use super::super::count;
use crate::{columns::furniture, notation::Notation};

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

/// Words without a figure and a count in words behind: `handrails: four`, `deck boards - two dozen`, `left rail one`.
fn count_in_words(text: &str, notation: Notation) -> Option<(&str, u64)> {
    let text = text.trim_end_matches(|c: char| !c.is_alphanumeric());
    let marks = [": ", " - ", " \u{2013} ", " = ", ", "].into_iter();
    let bare = bare_count(text).filter(|(words, _)| {
        let last = words.rsplit(' ').next().unwrap_or_default();
        count::pieces(last, notation).is_none()
    });
    let mut parted = marks.filter_map(|mark| text.rsplit_once(mark)).chain(bare);
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

/// A few plain words and the last of a line, which no word points to: `the left one` counts nothing.
fn bare_count(text: &str) -> Option<(&str, &str)> {
    const POINTING: &[&str] = &[
        "the", "this", "that", "these", "those", "each", "every", "another", "other", "only",
        "any", "no", "a", "by", "for", "all", "in",
    ];
    const FEW: usize = 4;
    let mut words = text.split(' ');
    let plain = |word: &str| {
        let pointing = POINTING
            .iter()
            .any(|known| word.eq_ignore_ascii_case(known));
        !word.is_empty() && !pointing && word.chars().all(char::is_alphabetic)
    };
    (words.clone().count() <= FEW && words.all(plain)).then(|| text.rsplit_once(' '))?
}

/// True for words that the bare figure behind them counts, since they are of several: `rails 8`. One may be named
/// by it: `bay 8`.
pub(super) fn are_several(words: &str) -> bool {
    let last = words.rsplit(' ').next().unwrap_or_default();
    let is_word = last.len() > 3 && last.chars().all(char::is_alphabetic);
    is_word && last.ends_with('s') && !last.ends_with("ss") || last.eq_ignore_ascii_case("feet")
}

/// True where plain words and a bare figure behind are the lines of a text, and no labels: three and more, no two by
/// the same words, each in a line of its own or one behind another. `Bay 2` and `Bay 3` are two bays; figures that are
/// all large may be lengths.
pub(super) fn are_lines(texts: &[String], notation: Notation) -> bool {
    const ENOUGH: usize = 3;
    const LARGE: u64 = 100;
    let bare = |text: &str| {
        let (words, count) = count_behind(text, notation)?;
        let plain = words.chars().all(|c| c.is_alphabetic() || c == ' ');
        plain.then(|| (words.to_lowercase(), count))
    };
    let in_row = |text: &String| text.split(", ").map(bare).collect::<Option<Vec<_>>>();
    let texts = texts
        .iter()
        .filter(|text| furniture::container(text).is_none());
    let mut lines: Vec<(String, u64)> = texts.filter_map(in_row).flatten().collect();
    let all = lines.len();
    let small = lines.iter().any(|(_, count)| *count < LARGE);
    lines.sort_unstable();
    lines.dedup_by(|line, other| line.0 == other.0);
    all >= ENOUGH && lines.len() == all && small
}

/// A line whose count in front holds letters that scans take for figures (`l6 rails`, `4O screws`), the count and
/// the line with the figures in their place. `None` where there are none.
pub(super) fn misread(body: &str) -> Option<(&str, u64, String)> {
    let (first, rest) = body.split_once(' ')?;
    let figure = |c: char| match c {
        'l' | 'I' => Some('1'),
        'O' => Some('0'),
        _ => c.is_ascii_digit().then_some(c),
    };
    let figures: String = first.chars().map(figure).collect::<Option<_>>()?;
    let mixed = first.contains(|c: char| c.is_ascii_digit()) && figures != first;
    let pieces = figures.parse().ok().filter(|_| mixed && first.len() < 5)?;
    Some((first, pieces, format!("{figures} {rest}")))
}

/// A sign with the count behind it, at the end of a line, that several lines bear: `rails 2440 - 4`.
pub(super) fn usual_sign(texts: &[String]) -> Option<&'static str> {
    const ENOUGH: usize = 3;
    let borne = |sign: &&&str| {
        texts
            .iter()
            .filter(|text| behind_sign(text, sign).is_some())
            .count()
            >= ENOUGH
    };
    [" - ", " \u{2013} ", ": ", " = "]
        .iter()
        .find(borne)
        .copied()
}

/// The whole number behind a sign at the end of a line.
pub(super) fn behind_sign(text: &str, sign: &str) -> Option<u64> {
    let (words, figures) = text.trim_end().rsplit_once(sign)?;
    let is_line = words.contains(char::is_alphabetic);
    figures.trim().parse().ok().filter(|_| is_line)
}

/// Words and a count of pieces behind them that bears its word: `glass 610x610 40 sheets` (common practice, no
/// source).
pub(super) fn pieces_behind(text: &str) -> Option<(&str, u64)> {
    const PIECES: &[&str] = &[
        "sheet", "sheets", "pane", "panes", "length", "lengths", "bar", "bars", "roll", "rolls",
        "coil", "coils", "strip", "strips", "board", "boards", "panel", "panels",
    ];
    let (rest, word) = text.trim_end_matches('.').rsplit_once(' ')?;
    let (words, figures) = rest.rsplit_once(' ')?;
    let is_word = PIECES.iter().any(|known| word.eq_ignore_ascii_case(known));
    let pieces = figures.parse().ok().filter(|_| is_word)?;
    let named =
        words.contains(char::is_alphabetic) && words.ends_with(|c: char| c.is_alphanumeric());
    let joined = words.ends_with(" x") || words.ends_with(" by");
    (named && !joined).then_some((words, pieces))
}

/// Signs that part words and the count behind them, and stand in no name (common practice, no source).
const SIGNS: [char; 18] = [
    ' ', ':', '=', ';', '|', '/', '\\', '>', '<', '~', '@', '*', '\u{2013}', '\u{2014}',
    '\u{2026}', '\u{b7}', '\u{2022}', '^',
];

/// Words that name no size, and the bare number behind them: `Pieces in bag: 46`, `FB-210 girder shoe 4`,
/// `girder shoe;4`.
fn count_in_figures(text: &str) -> Option<(&str, u64)> {
    let text = text.trim_end_matches(|c: char| !c.is_alphanumeric());
    let words = text.trim_end_matches(|c: char| c.is_ascii_digit());
    let count = text[words.len()..].parse().ok()?;
    let before = words.trim_end_matches(|c| SIGNS.contains(&c) || ['.', '-', ','].contains(&c));
    let named = match before.split_once(' ') {
        Some((first, rest)) if is_code(first) => rest,
        _ => before,
    };
    let counts = words.ends_with(SIGNS)
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

/// True where a sign parts words that label no paper from the figure behind them: `Gutter left - 4`.
pub(super) fn is_parted_by_sign(text: &str) -> bool {
    let words = text
        .trim_end()
        .trim_end_matches(|c: char| c.is_ascii_digit());
    let before = words.trim_end();
    let signed = before.ends_with(SIGNS) || before.ends_with(" -") || before.ends_with(" x");
    words.len() < text.trim_end().len() && signed && !furniture::labels_paper(before)
}

/// A maker's number: capitals and figures.
pub(super) fn is_code(word: &str) -> bool {
    word.contains(|c: char| c.is_ascii_uppercase())
        && word.contains(|c: char| c.is_ascii_digit())
        && !word.contains(|c: char| c.is_ascii_lowercase())
}
