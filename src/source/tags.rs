//! XML tags out of a stream of bytes, as they pass by.

use super::workbook::Broken;

/// No tag of a real workbook comes near.
const LONGEST: usize = 1 << 20;

/// Cuts chunks of XML into tags.
#[derive(Default)]
pub struct Tags {
    /// A tag of which the end has not been seen.
    open: Option<Vec<u8>>,
}

impl Tags {
    /// Hands on each tag that ends in this chunk, without its angle brackets. Closing tags begin
    /// with a slash.
    pub fn each(
        &mut self,
        mut chunk: &[u8],
        mut take: impl FnMut(&[u8]) -> Result<(), Broken>,
    ) -> Result<(), Broken> {
        if let Some(mut open) = self.open.take() {
            match position(chunk, b'>') {
                Some(end) => {
                    open.extend_from_slice(&chunk[..end]);
                    take(&open)?;
                    chunk = &chunk[end + 1..];
                }
                None => {
                    if open.len() + chunk.len() > LONGEST {
                        return Err(Broken::Damaged("its XML has a tag without end".to_owned()));
                    }
                    open.extend_from_slice(chunk);
                    self.open = Some(open);
                    return Ok(());
                }
            }
        }
        while let Some(start) = position(chunk, b'<') {
            chunk = &chunk[start + 1..];
            let Some(end) = position(chunk, b'>') else {
                self.open = Some(chunk.to_vec());
                return Ok(());
            };
            take(&chunk[..end])?;
            chunk = &chunk[end + 1..];
        }
        Ok(())
    }
}

fn position(bytes: &[u8], byte: u8) -> Option<usize> {
    memchr::memchr(byte, bytes)
}

/// The name of a tag, without a prefix.
pub fn local_name(tag: &[u8]) -> &[u8] {
    let end = tag
        .iter()
        .position(|b| b.is_ascii_whitespace() || *b == b'/')
        .unwrap_or(tag.len());
    let name = &tag[..end];
    match name.iter().position(|&b| b == b':') {
        Some(colon) => &name[colon + 1..],
        None => name,
    }
}

/// The value of an attribute of a tag, as written.
pub fn attribute<'a>(tag: &'a [u8], name: &str) -> Option<&'a [u8]> {
    let name = name.as_bytes();
    let mut from = 0;
    loop {
        let at = from
            + tag
                .get(from..)?
                .windows(name.len())
                .position(|w| w == name)?;
        from = at + 1;
        let before = at.checked_sub(1).map(|i| tag[i]);
        if !before.is_some_and(|b| b.is_ascii_whitespace()) {
            continue;
        }
        let rest = tag[at + name.len()..].trim_ascii_start();
        let Some(rest) = rest.strip_prefix(b"=") else {
            continue;
        };
        let rest = rest.trim_ascii_start();
        let quote = *rest.first().filter(|b| matches!(b, b'"' | b'\''))?;
        let value = &rest[1..];
        return Some(&value[..position(value, quote)?]);
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
    fn tags_over_chunk_ends() {
        let xml = b"<a x=\"1\">text<b/></a>";
        for size in 1..xml.len() {
            let mut tags = Tags::default();
            let mut found = Vec::new();
            for chunk in xml.chunks(size) {
                tags.each(chunk, |tag| {
                    found.push(String::from_utf8_lossy(tag).into_owned());
                    Ok(())
                })
                .unwrap_or_else(|_| unreachable!("the closure never fails"));
            }
            assert_eq!(found, ["a x=\"1\"", "b/", "/a"], "in chunks of {size}");
        }
    }

    #[test]
    fn attributes() {
        let tag = br#"row r="12" spans='1:4' hidden = "1" xhidden="0""#;
        assert_eq!(attribute(tag, "r"), Some(&b"12"[..]));
        assert_eq!(attribute(tag, "spans"), Some(&b"1:4"[..]));
        assert_eq!(attribute(tag, "hidden"), Some(&b"1"[..]));
        assert_eq!(attribute(tag, "ht"), None);
        assert_eq!(number(b"99999999999999999999999"), u64::MAX);
        assert_eq!(local_name(tag), b"row");
        assert_eq!(local_name(b"x:row r=\"1\"/"), b"row");
        assert_eq!(local_name(b"row/"), b"row");
    }
}
