//! Texts as they are compared and kept: blank, folded, a maker's number.

/// White space, the invisible kinds included.
pub(super) fn is_space(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{200b}' | '\u{feff}' | '\u{2060}')
}

/// True where a text holds nothing but white space and marks.
#[inline]
pub(super) fn is_blank(text: &str) -> bool {
    text.is_empty() || !text.chars().any(char::is_alphanumeric)
}

/// White space folded, trimmed, lower case.
pub(super) fn fold(text: &str) -> Box<str> {
    let mut folded = String::with_capacity(text.len());
    for word in text.split(is_space).filter(|word| !word.is_empty()) {
        if !folded.is_empty() {
            folded.push(' ');
        }
        folded.extend(word.chars().flat_map(char::to_lowercase));
    }
    folded.into()
}

/// A maker's number: trimmed, upper case.
pub(super) fn fold_number(text: &str) -> Option<Box<str>> {
    if text.is_empty() {
        return None;
    }
    let text = text.trim_matches(is_space);
    (!is_blank(text)).then(|| text.to_uppercase().into())
}
