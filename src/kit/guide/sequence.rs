//! The order in which a joint is tightened.

/// How guides name the order in which bolts are tightened.
#[rustfmt::skip]
const SEQUENCES: &[&str] = &[
    "star pattern", "cross pattern", "criss-cross", "crisscross", "crosswise", "diagonally",
    "from the centre outward", "from the center outward", "from the middle outward",
    "from the centre out", "from the center out", "from the middle out", "in two passes",
    "in three passes",
];

/// The order of tightening that a sentence names.
pub(super) fn sequence(text: &str) -> Option<&'static str> {
    let text = text.to_lowercase();
    SEQUENCES.iter().copied().find(|words| text.contains(words))
}
