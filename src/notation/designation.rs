//! Designations of standards, as these tell to order (`ISO 7089-12-A4`, `DIN 125-A17`): number, form and size
//! without the dashes between them.

use std::borrow::Cow;

use super::words;

/// Bodies whose standards are numbered by products.
const BODIES: &[&str] = &["DIN", "ISO", "EN"];

/// A text with the dashes behind a fastener's standard taken for spaces, and without the letter of its form:
/// `ISO 7089 12 A4`, `DIN 125 17`. A part of a standard (`DIN 125-1`) stays. What a designation is made of: ISO
/// 8991.
pub(super) fn plain(text: &str) -> Cow<'_, str> {
    let Some((end, rest)) = behind_number(text) else {
        return Cow::Borrowed(text);
    };
    if !rest.starts_with(|c: char| c == '-' || c.is_whitespace()) {
        return Cow::Borrowed(text);
    }
    let chunk = rest.find(char::is_whitespace).unwrap_or(rest.len());
    let (chunk, beyond) = rest.split_at(chunk);
    let mut pieces: Vec<&str> = chunk.split('-').filter(|piece| !piece.is_empty()).collect();
    let is_part = |piece: &&str| matches!(*piece, "1" | "2" | "3");
    let part = pieces.first().copied().filter(is_part);
    if part.is_some() {
        pieces.remove(0);
    }
    // A size with its own mark is read as it stands: `4032-M12-8`.
    if pieces.first().is_some_and(|piece| piece.starts_with('M')) {
        return Cow::Borrowed(text);
    }
    // The form stands behind the number, or in front of the size in the word behind.
    let mut words: Vec<&str> = beyond.split_whitespace().collect();
    let first = match pieces.is_empty() {
        true => words.first_mut(),
        false => pieces.first_mut(),
    };
    let Some(first) = first else {
        return Cow::Borrowed(text);
    };
    let size = without_form(first);
    if pieces.is_empty() && size == words[0] {
        return Cow::Borrowed(text);
    }
    match pieces.is_empty() {
        true => words[0] = size,
        false => pieces[0] = size,
    }
    let mut whole = text[..end].to_owned();
    if let Some(part) = part {
        whole.push('-');
        whole.push_str(part);
    }
    let mut classed = false;
    for piece in pieces.into_iter().filter(|piece| !piece.is_empty()) {
        // `A2-70` and `A4-80` are one class.
        let joined = std::mem::replace(&mut classed, matches!(piece, "A1" | "A2" | "A4" | "C1"));
        let strength = piece.len() == 2 && piece.bytes().all(|b| b.is_ascii_digit());
        whole.push(if joined && strength { '-' } else { ' ' });
        whole.push_str(piece);
    }
    for word in words {
        whole.push(' ');
        whole.push_str(word);
    }
    Cow::Owned(whole)
}

/// True for a text that names the standard of a fastener.
pub(super) fn names_standard(text: &str) -> bool {
    behind_number(text).is_some()
}

/// True for a text that begins with the number of a standard, whichever.
pub(super) fn is_standard_alone(text: &str) -> bool {
    let mut words = text.split_whitespace().peekable();
    let is_body = |word: &&str| BODIES.iter().any(|body| word.eq_ignore_ascii_case(body));
    let named = words.next_if(is_body).is_some();
    while words.next_if(is_body).is_some() {}
    named
        && words
            .next()
            .is_some_and(|word| word.starts_with(|c: char| c.is_ascii_digit()))
}

/// The end of the number of a fastener's standard, and what stands behind it.
fn behind_number(text: &str) -> Option<(usize, &str)> {
    // Nearly no text names one.
    let bytes = text.as_bytes();
    let is_at = |start: usize, body: &[u8]| {
        let here = bytes.get(start..start + body.len());
        here.is_some_and(|here| here.eq_ignore_ascii_case(body))
    };
    let mut letters = memchr::memchr2_iter(b'i', b'I', bytes);
    if !letters.any(|i| is_at(i, b"ISO") || (i > 0 && is_at(i - 1, b"DIN"))) {
        return None;
    }
    let mut at = 0;
    let mut named = false;
    for word in text.split_inclusive(char::is_whitespace) {
        let bare = word.trim_end();
        let figures = bare.bytes().take_while(u8::is_ascii_digit).count();
        if named && figures > 0 {
            let number = bare[..figures].parse().ok()?;
            let end = at + figures;
            words::standard(number)?;
            return Some((end, &text[end..]));
        }
        named = BODIES.iter().any(|body| bare.eq_ignore_ascii_case(body));
        at += word.len();
    }
    None
}

/// A size without the letter of its form in front (`A17`, `B10`, and `B` alone): no `M8`, and no `A2`, which is a
/// steel.
pub(super) fn without_form(text: &str) -> &str {
    let letters = text.bytes().take_while(u8::is_ascii_alphabetic).count();
    let (form, rest) = text.split_at(letters);
    let is_form = (1..=2).contains(&letters)
        && !form.contains(['M', 'm', 'x', 'X'])
        && form.bytes().all(|b| b.is_ascii_uppercase());
    let figures: String = rest.chars().take_while(char::is_ascii_digit).collect();
    let is_steel =
        matches!(form, "A" | "C" | "F") && matches!(figures.as_str(), "1" | "2" | "3" | "4" | "5");
    match is_form && !is_steel {
        true if rest.is_empty() || rest.starts_with(|c: char| c.is_ascii_digit()) => rest,
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn designations() {
        #[track_caller]
        fn case(text: &str, expected: &str) {
            assert_eq!(plain(text).trim_end(), expected);
        }
        case("ISO 7089-12-A4", "ISO 7089 12 A4");
        case("Washer ISO 7089-8-200HV", "Washer ISO 7089 8 200HV");
        case("DIN 125-A17 tZn", "DIN 125 17 tZn");
        case("DIN 127-B10 A4", "DIN 127 10 A4");
        case("DIN 127 B10", "DIN 127 10");
        case("DIN 9021-10,5 A2", "DIN 9021 10,5 A2");
        case("DIN 7504-K 4,8x38 A2", "DIN 7504 4,8x38 A2");
        case("DIN 7504-K-4,8x38-A2-70", "DIN 7504 4,8x38 A2-70");
        case("DIN 985-A2 M8", "DIN 985 A2 M8");
        // A part of a standard, and texts that name none of a fastener.
        for text in [
            "DIN 125-1 M8",
            "DIN 934-M10-A4",
            "DIN EN ISO 4014-M12x80-8.8",
            "ISO 4014plate",
            "ISO 7380-2 M8x20",
            "DIN 912 M8x40",
            "rope DIN 3060-8",
            "hex bolt 1/2-13",
            "dining table-8",
        ] {
            case(text, text);
        }
    }
}
