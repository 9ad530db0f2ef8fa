//! Ticks, and words for yes and no, in the place of a figure.

/// Yes or no, as people write it: `no`, `NO!`, `no, on order`.
pub fn received(text: &str) -> Option<bool> {
    let is_end = |c: char| matches!(c, ',' | ';' | '.' | '!' | '(');
    let text = text.split(is_end).next().unwrap_or_default().trim();
    let is = |words: &[&str]| words.iter().any(|word| text.eq_ignore_ascii_case(word));
    if is(&[
        "yes", "y", "x", "true", "1", "ok", "here", "received", "\u{2713}", "\u{2714}",
    ]) {
        Some(true)
    } else if is(&[
        "no",
        "n",
        "false",
        "0",
        "missing",
        "not received",
        "not here",
        "nope",
        "\u{2717}",
        "\u{2718}",
    ]) {
        Some(false)
    } else {
        None
    }
}

/// True for a tick, or a word for yes or no; a figure is none.
pub fn is_mark(text: &str) -> bool {
    let is_word =
        |text: &str| !text.bytes().any(|b| b.is_ascii_digit()) && text.chars().count() <= 8;
    matches!(text, "\u{2611}" | "\u{2612}" | "\u{2610}")
        || (is_word(text) && received(text).is_some())
}

/// True for two marks that say the same. A cross beside ticks may say that it is not there.
pub fn is_like_mark(mark: &str, other: &str) -> bool {
    let is_cross = |mark: &str| mark.eq_ignore_ascii_case("x");
    let said = received(mark).filter(|_| !is_cross(mark) && !is_cross(other));
    mark.eq_ignore_ascii_case(other) || (said.is_some() && said == received(other))
}
