//! Numbers and fractions in words, as people dictate them: `three eighths by four and a half`.

use std::borrow::Cow;

/// Words for whole numbers; a ten may be joined to a unit (`twenty-four`).
const NUMBERS: &[(&str, u32)] = &[
    ("one", 1),
    ("two", 2),
    ("three", 3),
    ("four", 4),
    ("five", 5),
    ("six", 6),
    ("seven", 7),
    ("eight", 8),
    ("nine", 9),
    ("ten", 10),
    ("eleven", 11),
    ("twelve", 12),
    ("thirteen", 13),
    ("fourteen", 14),
    ("fifteen", 15),
    ("sixteen", 16),
    ("seventeen", 17),
    ("eighteen", 18),
    ("nineteen", 19),
    ("twenty", 20),
    ("thirty", 30),
    ("forty", 40),
    ("fifty", 50),
    ("sixty", 60),
    ("seventy", 70),
    ("eighty", 80),
    ("ninety", 90),
];

/// Parts of an inch.
const PARTS: &[(&str, u32)] = &[
    ("half", 2),
    ("halves", 2),
    ("quarter", 4),
    ("quarters", 4),
    ("eighth", 8),
    ("eighths", 8),
    ("sixteenth", 16),
    ("sixteenths", 16),
];

/// One word: letters, or anything else between white space and dashes.
#[derive(Clone, Copy)]
struct Word<'a> {
    text: &'a str,
    start: usize,
    end: usize,
    /// A dash joins it to the word before.
    joined: bool,
    /// A mark stands behind it, so that no number runs on.
    stopped: bool,
}

/// The whole number that a word is, in letters or figures.
fn number(text: &str) -> Option<u32> {
    let named = NUMBERS
        .iter()
        .find(|(word, _)| text.eq_ignore_ascii_case(word));
    match named {
        Some(&(_, n)) => Some(n),
        None if text.len() <= 3 => text.parse().ok().filter(|&n| n > 0),
        None => None,
    }
}

fn part(text: &str) -> Option<u32> {
    PARTS
        .iter()
        .find(|(word, _)| text.eq_ignore_ascii_case(word))
        .map(|&(_, n)| n)
}

/// The text with its dictated numbers in figures: `2-3/4` for `two and three quarter`, `24` for
/// `twenty-four`. A count in front of a fraction becomes a figure too (`2 3/8`), so that the two
/// are told apart by the rules for figures. Single words for counts stay as they are.
pub fn in_figures(text: &str) -> Cow<'_, str> {
    let lower = text.to_ascii_lowercase();
    let tens = [
        "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
    ];
    if !PARTS.iter().any(|(word, _)| lower.contains(word))
        && !tens.iter().any(|word| lower.contains(word))
    {
        return Cow::Borrowed(text);
    }
    let words = words(text);
    let mut out = String::with_capacity(text.len());
    let mut copied = 0;
    // Behind the last number that was put in figures.
    let mut sized_at = usize::MAX;
    let mut i = 0;
    while i < words.len() {
        let found = size_at(&words, i)
            .or_else(|| ten_at(&words, i))
            .or_else(|| behind_by(&words, i, sized_at));
        match found {
            Some((figures, taken)) => {
                out.push_str(&text[copied..words[i].start]);
                if words[i].joined && out.ends_with('-') {
                    out.pop();
                    out.push(' ');
                }
                out.push_str(&figures);
                copied = words[i + taken - 1].end;
                i += taken;
                sized_at = i;
                // `five-eighths-inch`: the dash behind joins no figures.
                if words.get(i).is_some_and(|next| next.joined) {
                    out.push(' ');
                    copied = words[i].start;
                }
            }
            None => i += 1,
        }
    }
    if copied == 0 {
        return Cow::Borrowed(text);
    }
    out.push_str(&text[copied..]);
    Cow::Owned(out)
}

fn words(text: &str) -> Vec<Word<'_>> {
    let mut words = Vec::new();
    let mut joined = false;
    let mut start = None;
    let mut close = |start: &mut Option<usize>, end: usize, stopped: bool, joined: bool| {
        if let Some(from) = start.take() {
            words.push(Word {
                text: &text[from..end],
                start: from,
                end,
                joined,
                stopped,
            });
        }
    };
    for (at, c) in text.char_indices() {
        if c.is_alphanumeric() || c == '/' {
            start.get_or_insert(at);
            continue;
        }
        let ended = start.is_some();
        close(&mut start, at, !(c == '-' || c.is_whitespace()), joined);
        joined = ended && c == '-';
    }
    close(&mut start, text.len(), true, joined);
    words
}

/// A fraction or a mixed number at a word, and how many words it takes.
fn size_at(words: &[Word<'_>], i: usize) -> Option<(String, usize)> {
    let get = |at: usize| words.get(at).copied();
    // No number runs over a mark.
    let runs = |from: usize, to: usize| (from..to).all(|at| get(at).is_some_and(|w| !w.stopped));
    let first = get(i)?;
    if let Some(whole) = number(first.text)
        && get(i + 1).is_some_and(|w| w.text.eq_ignore_ascii_case("and"))
        && let Some((n, d, taken)) = fraction_at(words, i + 2, true)
        && runs(i, i + 1 + taken)
    {
        return Some((format!("{whole}-{n}/{d}"), 2 + taken));
    }
    if let Some((n, d, taken)) = fraction_at(words, i, false)
        && runs(i, i + taken - 1)
    {
        return Some((format!("{n}/{d}"), taken));
    }
    // A count in front of a fraction.
    if let Some(count) = number(first.text)
        && first.text.bytes().all(|b| b.is_ascii_alphabetic())
        && let Some((n, d, taken)) = fraction_at(words, i + 1, false)
        && runs(i, i + taken)
    {
        return Some((format!("{count} {n}/{d}"), 1 + taken));
    }
    None
}

/// `three eighths`, `a half` (behind `and`), `half inch`: numerator, denominator, words.
fn fraction_at(words: &[Word<'_>], i: usize, behind_and: bool) -> Option<(u32, u32, usize)> {
    let first = words.get(i)?;
    let sized = |at: usize| {
        words.get(at).is_some_and(|w| {
            ["inch", "in", "by", "x"]
                .iter()
                .any(|known| w.text.eq_ignore_ascii_case(known))
        })
    };
    if let Some(d) = part(first.text) {
        // A lone `half` is a size only where a size goes on.
        let an_inch = |at: usize| {
            words
                .get(at)
                .is_some_and(|w| w.text.eq_ignore_ascii_case("an"))
                && words
                    .get(at + 1)
                    .is_some_and(|w| w.text.eq_ignore_ascii_case("inch"))
        };
        if an_inch(i + 1) {
            return Some((1, d, 2));
        }
        return (sized(i + 1) || behind_and).then_some((1, d, 1));
    }
    let d = part(words.get(i + 1)?.text)?;
    let article = first.text.eq_ignore_ascii_case("a") && behind_and;
    let n = if article { 1 } else { number(first.text)? };
    // `a quarter turn`, `one half turn`: no size.
    let turn = words.get(i + 2).is_some_and(|w| {
        ["turn", "turns", "of", "hour"]
            .iter()
            .any(|known| w.text.eq_ignore_ascii_case(known))
    });
    (n < d && !turn).then_some((n, d, 2))
}

/// The whole length behind a diameter in words: `five eighths by six`.
fn behind_by(words: &[Word<'_>], i: usize, sized_at: usize) -> Option<(String, usize)> {
    let is = |at: usize, known: &[&str]| {
        words
            .get(at)
            .is_some_and(|w| known.iter().any(|k| w.text.eq_ignore_ascii_case(k)))
    };
    let unit = usize::from(is(sized_at, &["inch", "in"]));
    let by = sized_at.checked_add(unit)?;
    (is(by, &["by", "x"]) && i == by + 1).then_some(())?;
    number(words.get(i)?.text).map(|n| (n.to_string(), 1))
}

/// `twenty-four`, `thirty two`, `thirty`.
fn ten_at(words: &[Word<'_>], i: usize) -> Option<(String, usize)> {
    let first = words.get(i)?;
    let ten = number(first.text).filter(|n| n % 10 == 0 && *n >= 20)?;
    if first.text.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let unit = words
        .get(i + 1)
        .filter(|w| !first.stopped && w.text.bytes().all(|b| b.is_ascii_alphabetic()))
        .and_then(|w| number(w.text))
        .filter(|n| *n < 10);
    Some(match unit {
        Some(unit) => ((ten + unit).to_string(), 2),
        None => (ten.to_string(), 1),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dictated() {
        #[track_caller]
        fn case(text: &str, expected: &str) {
            assert_eq!(in_figures(text), expected, "{text}");
        }
        case("three eighths by four and a half", "3/8 by 4-1/2");
        case("one half inch", "1/2 inch");
        case("half inch by two", "1/2 inch by 2");
        case("half an inch", "1/2 inch");
        case("five-eighths hex nuts", "5/8 hex nuts");
        case("two and three quarter", "2-3/4");
        case("2 and a half", "2-1/2");
        case("five-eighths-inch bolts", "5/8 inch bolts");
        case("four five-eighths by six bolts", "4 5/8 by 6 bolts");
        case("a half-inch nut", "a 1/2 inch nut");
        case("twenty-four nuts", "24 nuts");
        case("thirty two washers", "32 washers");
        case("seven sixteenths", "7/16");
        case("snug plus a half turn", "snug plus a half turn");
        case("snug plus one half turn", "snug plus one half turn");
        case("one quarter turn", "one quarter turn");
        case("half round bar", "half round bar");
        case("a dozen nuts", "a dozen nuts");
        case("two, three eighths bolts", "two, 3/8 bolts");
        case("one quarter by two and three quarters", "1/4 by 2-3/4");
    }
}
