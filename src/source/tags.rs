//! Pieces of XML in bytes: where a tag ends, what it is called, what its attributes say.

use memchr::{memchr, memchr3, memmem};

use super::broken::{Broken, damaged};

/// The length of the markup at the head of `bytes`, which begin with `<`: a tag, a comment, a
/// section of raw text. `None` where its end is not among them.
pub fn markup(bytes: &[u8]) -> Option<usize> {
    let ending = |from: usize, end: &[u8]| {
        let at = memmem::find(bytes.get(from..)?, end)?;
        Some(from + at + end.len())
    };
    match bytes.get(1)? {
        b'?' => ending(2, b"?>"),
        b'!' if bytes.starts_with(b"<!--") => ending(4, b"-->"),
        b'!' if bytes.starts_with(b"<![CDATA[") => ending(9, b"]]>"),
        // Whether it is one of those is not known yet.
        b'!' if b"<!--".starts_with(bytes) || b"<![CDATA[".starts_with(bytes) => None,
        _ => tag(bytes),
    }
}

/// The length of a tag, whose values may hold a `>`.
fn tag(bytes: &[u8]) -> Option<usize> {
    let end = memchr(b'>', bytes)?;
    let quotes = bytes[..end].iter().filter(|&&b| b == b'"').count();
    if quotes.is_multiple_of(2) && memchr(b'\'', &bytes[..end]).is_none() {
        return Some(end + 1);
    }
    let mut at = 0;
    loop {
        at += memchr3(b'>', b'"', b'\'', &bytes[at..])?;
        match bytes[at] {
            b'>' => return Some(at + 1),
            quote => at += 2 + memchr(quote, &bytes[at + 1..])?,
        }
    }
}

/// The name of a tag, without a prefix. `tag`: what stands between its angle brackets, without the
/// slash of a closing one.
pub fn local_name(tag: &[u8]) -> &[u8] {
    let end = tag
        .iter()
        .position(|b| b.is_ascii_whitespace() || *b == b'/')
        .unwrap_or(tag.len());
    let name = &tag[..end];
    match memchr(b':', name) {
        Some(colon) => &name[colon + 1..],
        None => name,
    }
}

/// An attribute of a tag, as written.
pub struct Attribute<'a> {
    pub value: &'a [u8],
    /// Where it begins and ends in the tag, the white space before it included.
    pub start: usize,
    pub end: usize,
}

/// The first attribute of this name.
///
/// # Errors
/// Attributes before it that are not written as they must be.
pub fn attribute<'a>(tag: &'a [u8], name: &str) -> Result<Option<Attribute<'a>>, Broken> {
    let odd = || damaged("the attributes of a tag are not written as they must be");
    let white = |from: usize| {
        let of = tag.get(from..).unwrap_or_default();
        from + of.iter().take_while(|b| b.is_ascii_whitespace()).count()
    };
    let mut start = tag
        .iter()
        .position(u8::is_ascii_whitespace)
        .unwrap_or(tag.len());
    loop {
        let from = white(start);
        if matches!(&tag[from..], [] | [b'/'] | [b'?']) {
            return Ok(None);
        }
        let equals = from + memchr(b'=', &tag[from..]).ok_or_else(odd)?;
        let open = white(equals + 1);
        let quote = tag.get(open).filter(|b| matches!(b, b'"' | b'\''));
        let quote = *quote.ok_or_else(odd)?;
        let close = open + 1 + memchr(quote, &tag[open + 1..]).ok_or_else(odd)?;
        let found = tag[from..equals].trim_ascii_end();
        if found == name.as_bytes() {
            return Ok(Some(Attribute {
                value: &tag[open + 1..close],
                start,
                end: close + 1,
            }));
        }
        if !found.is_ascii() || found.iter().any(u8::is_ascii_whitespace) {
            return Err(odd());
        }
        start = close + 1;
    }
}

/// A whole number; the largest there is where it does not fit, 0 where it is none.
pub fn number(text: &[u8]) -> u64 {
    text.iter()
        .take_while(|b| b.is_ascii_digit())
        .fold(0u64, |n, b| {
            n.saturating_mul(10).saturating_add(u64::from(b - b'0'))
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn where_markup_ends() {
        #[track_caller]
        fn case(markup_: &str) {
            for rest in ["", "<v>7</v>", ">", "-->\"'"] {
                let bytes = format!("{markup_}{rest}");
                assert_eq!(markup(bytes.as_bytes()), Some(markup_.len()), "{bytes}");
            }
            for cut in 1..markup_.len() {
                let bytes = &markup_.as_bytes()[..cut];
                assert_eq!(markup(bytes), None, "{}", &markup_[..cut]);
            }
        }
        case("<c>");
        case("</sheetData>");
        case(r#"<row r="12" spans='1:4'>"#);
        case(r#"<c r="a>b" t='"'/>"#);
        case(r#"<c r='">' s="'">"#);
        case("<!-- <c> -->");
        case("<![CDATA[</c>]]>");
        case("<?xml version=\"1.0\"?>");
        case("<!DOCTYPE x>");
    }

    #[test]
    fn attributes() {
        let tag = br#"row r="12" spans='1:4' hidden = "1" xhidden="r='3'""#;
        let find =
            |name| attribute(tag, name).unwrap_or_else(|_| panic!("{name}: it is well written"));
        let value = |name| find(name).map(|found| found.value);
        assert_eq!(value("r"), Some(&b"12"[..]));
        assert_eq!(value("spans"), Some(&b"1:4"[..]));
        assert_eq!(value("hidden"), Some(&b"1"[..]));
        assert_eq!(value("ht"), None);
        let spans = find("spans").unwrap();
        assert_eq!(&tag[spans.start..spans.end], b" spans='1:4'");
        for odd in [
            r#"c r=5""#,
            r#"c r="5"#,
            "c r",
            r#"c x y="1""#,
            "c\u{a0}\u{e9}=\"1\" a\u{e9}=\"1\"",
        ] {
            assert!(attribute(odd.as_bytes(), "r").is_err(), "{odd}");
        }
        for none in ["c", "c/", "c /", "c s=\"1\"/", "?xml version=\"1.0\" ?"] {
            assert!(
                matches!(attribute(none.as_bytes(), "r"), Ok(None)),
                "{none}"
            );
        }
        assert_eq!(number(b"99999999999999999999999"), u64::MAX);
        assert_eq!(local_name(tag), b"row");
        assert_eq!(local_name(b"x:row r=\"1\"/"), b"row");
        assert_eq!(local_name(b"row/"), b"row");
    }
}
