//! Bytes to text: UTF-8 with and without a byte order mark, UTF-16 either way round, and
//! Windows-1252 for what is neither.

use encoding_rs::{Encoding, UTF_16BE, UTF_16LE, WINDOWS_1252};

/// How much of a file is looked at to tell its encoding.
const SAMPLE: usize = 1 << 16;

/// Decodes a text file, or finds that it is none. Control characters other than tabs and line ends
/// become spaces.
pub fn decode(bytes: Vec<u8>) -> Option<String> {
    let text = match Encoding::for_bom(&bytes) {
        Some((encoding, _)) => encoding.decode(&bytes).0.into_owned(),
        None => match utf16_without_mark(&bytes) {
            Some(encoding) => encoding.decode(&bytes).0.into_owned(),
            None => String::from_utf8(bytes)
                .unwrap_or_else(|error| WINDOWS_1252.decode(error.as_bytes()).0.into_owned()),
        },
    };
    let sample = &text.as_bytes()[..text.len().min(SAMPLE)];
    let strange = sample.iter().filter(|&&b| is_strange(b)).count();
    if strange * 50 > sample.len() {
        return None;
    }
    let holds_strange = (text.as_bytes().chunks(SAMPLE))
        .any(|bytes| bytes.iter().fold(false, |any, &b| any | is_strange(b)));
    Some(if holds_strange {
        text.replace(|c: char| c.is_ascii() && is_strange(c as u8), " ")
    } else {
        text
    })
}

/// Adds the text of a cell, its control characters as spaces.
pub fn push_plain(to: &mut String, text: &str) {
    if text.bytes().any(is_strange) {
        let plain = |c: char| {
            if c.is_ascii() && is_strange(c as u8) {
                ' '
            } else {
                c
            }
        };
        to.extend(text.chars().map(plain));
    } else {
        to.push_str(text);
    }
}

/// A control character that no list holds.
fn is_strange(byte: u8) -> bool {
    (byte < b' ' && !matches!(byte, b'\t' | b'\n' | b'\r')) || byte == 0x7F
}

/// UTF-16 without a mark shows by its zero bytes: every other one, for the most part.
fn utf16_without_mark(bytes: &[u8]) -> Option<&'static Encoding> {
    let pairs = bytes[..bytes.len().min(SAMPLE)].as_chunks::<2>().0;
    let zero_first = pairs.iter().filter(|p| p[0] == 0 && p[1] != 0).count();
    let zero_second = pairs.iter().filter(|p| p[0] != 0 && p[1] == 0).count();
    let most = pairs.len() * 3 / 4;
    match (zero_first > most, zero_second > most) {
        (true, _) => Some(UTF_16BE),
        (_, true) => Some(UTF_16LE),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LIST: &str = "Qty;Item\r\n4;½ × 3¾ bolt\r\n";

    #[track_caller]
    fn case(bytes: &[u8], expected: &str) {
        assert_eq!(decode(bytes.to_vec()).as_deref(), Some(expected));
    }

    fn utf16(text: &str, mark: bool, bytes: fn(u16) -> [u8; 2]) -> Vec<u8> {
        let mark = mark.then_some(0xFEFF);
        mark.into_iter()
            .chain(text.encode_utf16())
            .flat_map(bytes)
            .collect()
    }

    #[test]
    fn encodings() {
        case(LIST.as_bytes(), LIST);
        case(&[b"\xEF\xBB\xBF", LIST.as_bytes()].concat(), LIST);
        case(&utf16(LIST, true, u16::to_le_bytes), LIST);
        case(&utf16(LIST, true, u16::to_be_bytes), LIST);
        case(&utf16(LIST, false, u16::to_le_bytes), LIST);
        case(&utf16(LIST, false, u16::to_be_bytes), LIST);
        // Windows-1252: 0xBD ½, 0xD7 ×, 0xBE ¾, 0x94 a closing quote, 0x96 an en dash.
        case(b"\xBD\xD7 3\xBE\x94, 1\x961/2", "½× 3¾”, 1–1/2");
    }

    #[test]
    fn stray_control_characters_are_spaces() {
        case(
            &[&[b'a'; 100][..], b"b\0c"].concat(),
            &format!("{}b c", "a".repeat(100)),
        );
    }

    #[test]
    fn binary_is_no_text() {
        assert_eq!(decode((0..=255).cycle().take(4096).collect()), None);
    }

    proptest::proptest! {
        #[test]
        fn never_panics(bytes: Vec<u8>) {
            decode(bytes);
        }
    }
}
