//! Bytes by what they are, and how many of a kind begin a text.

use super::number::vulgar;

pub(super) const LETTER: u8 = 1;
pub(super) const DIGIT: u8 = 2;
/// Marks that may stand inside of a chunk that is looked up whole.
pub(super) const INSIDE: u8 = 4;

/// Marks that are one token wherever they stand.
pub(super) const MARK: u8 = 8;

/// What each byte of ASCII is.
static BYTES: [u8; 256] = {
    let mut bytes = [0; 256];
    let mut at = 0;
    while at < 128 {
        bytes[at as usize] = match at {
            b'a'..=b'z' | b'A'..=b'Z' => LETTER,
            b'0'..=b'9' => DIGIT,
            b'-' | b'/' | b'_' | b'\'' => INSIDE | MARK,
            b'.' => INSIDE,
            // What a comma or `#` is, the figures behind it tell.
            b',' | b'#' => 0,
            b'!'..=b'~' => MARK,
            _ => 0,
        };
        at += 1;
    }
    bytes
};

#[inline]
pub(super) fn is(byte: u8, kinds: u8) -> bool {
    BYTES[usize::from(byte)] & kinds != 0
}

/// How many bytes at the start are of some kinds.
#[inline]
pub(super) fn run_of(bytes: &[u8], kinds: u8) -> usize {
    bytes.iter().take_while(|b| is(**b, kinds)).count()
}

/// How many bytes at the start of a text are of some kinds, those of characters beyond ASCII among
/// them.
pub(super) fn run(text: &str, kinds: u8, beyond: impl Fn(char) -> bool) -> usize {
    let plain = run_of(text.as_bytes(), kinds);
    match text.as_bytes().get(plain) {
        Some(128..) => {
            let belongs = |c: char| match u8::try_from(c) {
                Ok(byte @ ..128) => is(byte, kinds),
                _ => beyond(c),
            };
            text.find(|c| !belongs(c)).unwrap_or(text.len())
        }
        _ => plain,
    }
}

pub(super) fn letters(text: &str) -> usize {
    run(text, LETTER, char::is_alphabetic)
}

/// The letters and digits at the start of a text, of which so many bytes are digits.
#[inline]
pub(super) fn alphanumeric_from(text: &str, digits: usize) -> usize {
    match text.as_bytes().get(digits) {
        Some(byte) if is(*byte, LETTER) || !byte.is_ascii() => alphanumeric(text),
        _ => digits,
    }
}

/// The letters and digits at the start of a text, of one that is no longer than any code.
pub(super) fn alphanumeric(text: &str) -> usize {
    let beyond = |c: char| c.is_alphanumeric() && vulgar(c).is_none();
    let mut end = text.len().min(LONGEST);
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    run(&text[..end], LETTER | DIGIT, beyond)
}

/// Bytes of the longest code, and more: what is looked at for each mark of a text is no longer.
const LONGEST: usize = 256;
