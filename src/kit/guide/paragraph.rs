//! A paragraph, cut into its sentences.

use std::ops::Range;

use super::prose::{NOUN_VERBS, OBJECTS, VERBS, words};

/// Ends of words with a stop that ends no sentence.
#[rustfmt::skip]
const ABBREVIATIONS: &[&str] = &[
    "no", "nos", "dia", "approx", "min", "max", "fig", "e.g", "i.e", "lg", "thk", "qty", "incl", "ea",
];

/// So many characters hold the words that tell what a sentence or clause begins with.
const NEAR: usize = 80;

/// The words that a text begins with, of its first characters alone: no more is looked through, however many marks
/// stand there.
fn first_words(text: &str) -> impl Iterator<Item = String> + '_ {
    let end = text.char_indices().nth(NEAR);
    words(&text[..end.map_or(text.len(), |(at, _)| at)])
}

/// True where what follows a semicolon or comma is a repetition of what stands before it.
fn opens_repetition(rest: &str) -> bool {
    let mut words = first_words(rest);
    let mut next = || words.next().unwrap_or_default();
    let first = match next() {
        word if word == "then" || word == "and" => next(),
        word => word,
    };
    match first.as_str() {
        "repeat" => true,
        // Not `For each frame, do the following:`
        "do" => match next().as_str() {
            "likewise" => true,
            "the" => next() != "following",
            _ => false,
        },
        _ => false,
    }
}

/// Sentences, cut at the places where others begin that no stop stands in front of.
pub(super) fn cut_at(sentences: Vec<Range<usize>>, begun: &[usize]) -> Vec<Range<usize>> {
    let mut begun = begun.iter().copied().peekable();
    let mut all = Vec::with_capacity(sentences.len());
    for sentence in sentences {
        let mut from = sentence.start;
        while let Some(at) = begun.next_if(|at| *at < sentence.end) {
            if at > from {
                all.push(from..at);
                from = at;
            }
        }
        all.push(from..sentence.end);
    }
    all
}

/// The sentences of a paragraph, as ranges of its text.
pub(super) fn sentences(text: &str) -> Vec<Range<usize>> {
    let mut all = Vec::new();
    let mut from = 0;
    for (at, c) in text.char_indices() {
        if at < from || !matches!(c, '.' | '!' | '?' | ';' | ',') {
            continue;
        }
        let rest = &text[at + 1..];
        // `Fit two bolts; repeat for the other side.`
        if matches!(c, ';' | ',') {
            if opens_repetition(rest) {
                all.push(from..at + 1);
                from = text.len() - rest.trim_start().len();
            }
            continue;
        }
        let next = rest.trim_start_matches([')', '"', '\u{201d}']);
        if !(next.is_empty() || next.starts_with(char::is_whitespace)) {
            continue;
        }
        let word = text[from..at]
            .rsplit(|c: char| c.is_whitespace())
            .next()
            .unwrap_or_default()
            .trim_start_matches('(')
            .to_ascii_lowercase();
        // `4no. M8 nuts`
        let unit = word.trim_start_matches(|c: char| c.is_ascii_digit());
        let after = next.trim_start();
        let capital = after.is_empty()
            || after.starts_with(|c: char| c.is_uppercase() || c == '(' || c == '"');
        let stays = if ["in", "ft", "pcs", "pc", "pce", "off"].contains(&word.as_str())
            || word.ends_with("in") && word.starts_with(|c: char| c.is_ascii_digit())
        {
            // `6 in. Torque to`, `4 pcs. M8 nuts`: a capital alone may be a grade's or a size's.
            let opens = first_words(after).next().is_none_or(|w| {
                VERBS.contains(&w.as_str())
                    || NOUN_VERBS.contains(&w.as_str())
                    || OBJECTS.contains(&w.as_str())
                    || matches!(w.as_str(), "then" | "now" | "at" | "on" | "do" | "if")
            });
            !(capital && opens)
        } else {
            // `Fit two bolts. x4.`
            let counts = after.trim_start_matches(['x', '\u{d7}']);
            ABBREVIATIONS.contains(&unit)
                || !(capital || counts.starts_with(|c: char| c.is_ascii_digit()))
        };
        if stays {
            continue;
        }
        let end = text.len() - next.len();
        all.push(from..end);
        from = text.len() - after.len();
    }
    if !text[from..].trim().is_empty() {
        all.push(from..text.len());
    }
    all
}
