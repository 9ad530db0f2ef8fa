//! One figure of a cell, however its thousands are set apart.

use crate::notation::{Amount, Notation, Quantity, amount};

/// Reads a quantity; plain digits, which most are, without further ado.
pub(super) fn plain_amount(text: &str, notation: Notation) -> Amount {
    let bytes = text.as_bytes();
    if !bytes.is_empty() && bytes.len() <= 9 && bytes.iter().all(u8::is_ascii_digit) {
        let pieces = bytes
            .iter()
            .fold(0, |sum, digit| sum * 10 + u64::from(digit - b'0'));
        return Amount::Pieces(Quantity {
            pieces,
            packs: None,
        });
    }
    match grouped(text) {
        Some(figure) => amount(&figure, notation),
        None => amount(text, notation),
    }
}

/// A figure whose thousands are set apart by blanks or apostrophes, or by the mark that does not part its decimals,
/// which are noughts: `1 200`, `1'200`, `1.200,00` are `1200` (the first by ISO 80000-1, from memory).
fn grouped(text: &str) -> Option<String> {
    let text = text.trim();
    let mark = text.chars().find(|c| !c.is_ascii_digit())?;
    let (groups, decimals) = match mark {
        ' ' | '\u{a0}' | '\u{202f}' | '\'' | '\u{2019}' => (text, ""),
        '.' => text.split_once(',')?,
        ',' => text.split_once('.')?,
        _ => return None,
    };
    let is_figure = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    let (first, more) = groups.split_once(mark)?;
    let are_groups = matches!(first.len(), 1..=3)
        && is_figure(first)
        && more
            .split(mark)
            .all(|group| group.len() == 3 && is_figure(group));
    (are_groups && decimals.bytes().all(|b| b == b'0')).then(|| groups.replace(mark, ""))
}

/// What a sum, or a number of times another, comes to: `12+11`, `=12+11`, `3 x 25`.
pub(super) fn worked_out(written: &str) -> Option<u64> {
    let figure = |text: &str| text.trim().parse::<u64>().ok();
    let written = written.trim_start_matches('=');
    if written.contains('+') {
        return (written.split('+')).try_fold(0, |sum: u64, part| sum.checked_add(figure(part)?));
    }
    let (times, each) = written.split_once(['x', 'X', '\u{d7}', '*'])?;
    figure(times)?.checked_mul(figure(each)?)
}

/// A decimal times a whole number, where that is a whole number: 1.5 hundreds are 150.
pub(super) fn times(text: &str, by: u64, decimal_comma: bool) -> Option<u64> {
    let mark = if decimal_comma { ',' } else { '.' };
    let (whole, part) = text.split_once(mark)?;
    if part.len() > 6
        || !part
            .bytes()
            .chain(whole.bytes())
            .all(|b| b.is_ascii_digit())
    {
        return None;
    }
    let scale = 10u64.pow(part.len() as u32);
    let whole: u64 = if whole.is_empty() {
        0
    } else {
        whole.parse().ok()?
    };
    let part: u64 = if part.is_empty() {
        0
    } else {
        part.parse().ok()?
    };
    let scaled = whole
        .checked_mul(scale)?
        .checked_add(part)?
        .checked_mul(by)?;
    (scaled % scale == 0).then_some(scaled / scale)
}
