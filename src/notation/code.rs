//! Chunks of letters, figures and marks that are no size: makers' numbers, parts of designations.

use super::{
    bytes::{alphanumeric, alphanumeric_from, letters},
    number::{digits, is_dash, is_slash},
    words::{self, Row, Sense, Senses, look_up},
};
use crate::hardware::Ratio;

/// The unit of `mmx`, `inx`.
pub(super) fn unit_and_x(word: &str) -> Option<&str> {
    let unit = word.strip_suffix(['x', 'X'])?;
    let measures = |row: &Row| {
        row.senses
            .iter()
            .any(|sense| matches!(sense, Sense::Unit(_) | Sense::Metric(_) | Sense::Foot))
    };
    look_up(unit).is_some_and(measures).then_some(unit)
}

/// The figures before a dash and a class (`50-8.8`, `50-A2-70`) or before the size that is made to a standard
/// (`4014-M12x50`), and their length: parts of a designation (ISO 8991).
pub(super) fn designated(chunk: &str) -> Option<(Ratio, usize)> {
    let (figures, rest) = chunk.split_once('-')?;
    if !(1..=5).contains(&figures.len()) || !figures.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let number: u32 = figures.parse().ok()?;
    let metric = |rest: &str| rest.starts_with(|c: char| c.is_ascii_digit());
    let is_class = || {
        look_up(rest).is_some_and(|row| {
            row.senses
                .iter()
                .any(|sense| matches!(sense, Sense::Grade(_)))
        })
    };
    let is_size =
        || words::standard(number.into()).is_some() && rest.strip_prefix('M').is_some_and(metric);
    (is_class() || is_size()).then(|| (Ratio::from_integer(number.into()), figures.len()))
}

/// True for a chunk with digits that can be no size: letters that are no word of the table beside
/// digits (`FB-210`), leading zeros, three whole numbers in a row (`10-24-100`), long ones.
pub(super) fn is_code(chunk: &str) -> bool {
    let bytes = chunk.as_bytes();
    if !bytes.iter().any(u8::is_ascii_digit) {
        return false;
    }
    // `HB-210`: an abbreviation and one whole number are a maker's number, not 210 hex bolts.
    let name = letters(chunk);
    if name > 0
        && let Some(row) = look_up(&chunk[..name])
        && chunk[name..]
            .strip_prefix('-')
            .is_some_and(|rest| rest.bytes().all(|b| b.is_ascii_digit()))
        && row.kinds.meet(Senses::NOUN)
    {
        return true;
    }
    let mut rest = chunk;
    // Whole numbers joined by dashes, with nothing else between them.
    let mut run_of_numbers = 0;
    let mut after_dash = false;
    let mut after_point = false;
    let mut only_numbers = true;
    let mut first_number = None;
    while let Some(c) = rest.chars().next() {
        let len;
        if c.is_ascii_digit() {
            let (digits, number) = digits(rest);
            let run = alphanumeric_from(rest, digits);
            len = if run > digits && look_up(&rest[..run]).is_some() {
                run
            } else {
                digits
            };
            if (digits > 1 && c == '0' && !after_point) || digits > 6 {
                return digits < chunk.len() || c == '0' || digits > 9;
            }
            let dashed = after_dash || rest[digits..].chars().next().is_some_and(is_dash);
            if digits > 3 && dashed && !after_point {
                return true;
            }
            run_of_numbers = if after_dash { run_of_numbers + 1 } else { 1 };
            if first_number.is_none() {
                first_number = Some(number);
            }
            let next_is_slash = rest[len..].chars().next().is_some_and(is_slash);
            // `1120-45`: neither a thread nor a mixed number.
            if run_of_numbers == 2
                && only_numbers
                && !next_is_slash
                && (first_number.is_some_and(|n| n > 36) || number > 80)
            {
                return true;
            }
            if run_of_numbers == 3 && only_numbers && !next_is_slash {
                return true;
            }
        } else if c.is_alphabetic() {
            len = alphanumeric_letters(rest);
            let known = matches!(&rest[..len], "x" | "X" | "m" | "M")
                || look_up(&rest[..len]).is_some()
                || unit_and_x(&rest[..len]).is_some()
                || look_up(&rest[..alphanumeric(rest)]).is_some();
            if !known {
                return true;
            }
            run_of_numbers = 0;
            only_numbers = false;
        } else {
            len = c.len_utf8();
            if !is_dash(c) {
                only_numbers = only_numbers && c != '.' && !is_slash(c);
            }
        }
        after_dash = is_dash(c);
        after_point = c == '.';
        rest = &rest[len..];
    }
    false
}

/// True for two whole numbers of three figures at most, of which the second is the larger and at most four times as
/// large: what a clamp takes, `40-50`, and no maker's number (common practice, no source).
pub(super) fn is_range(chunk: &str) -> bool {
    let whole = |text: &str| -> Option<u32> {
        let figures = text.len() <= 3 && !text.starts_with('0');
        figures.then(|| text.parse().ok())?
    };
    let ends = chunk.split_once(is_dash);
    let ends = ends.and_then(|(from, to)| whole(from).zip(whole(to)));
    ends.is_some_and(|(from, to)| from < to && to <= 4 * from)
}

fn alphanumeric_letters(text: &str) -> usize {
    letters(text).max(1)
}
