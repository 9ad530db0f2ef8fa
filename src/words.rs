//! How names are compared and counts are worded: the same in every part of the program.

use jiff::civil::Date;
use regex::Regex;

/// The form in which stages, places, options and uses are compared: lower case, white space folded.
pub fn fold(name: &str) -> String {
    let mut folded = String::with_capacity(name.len());
    for word in name.split_whitespace() {
        if !folded.is_empty() {
            folded.push(' ');
        }
        folded.push_str(&word.to_lowercase());
    }
    folded
}

/// What is neither letter nor figure, as far as lists write it: ASCII, Latin, general and Chinese punctuation,
/// arrows and symbols.
const SIGNS: &str = r"[\x00-/:-@\[-^`{-\x{a9}\x{ab}-\x{b4}\x{b6}-\x{b9}\x{bb}-\x{bf}\x{d7}\x{f7}\x{2000}-\x{2bff}\x{3000}-\x{303f}]";

/// A pattern of the program's own. In it `\d` is 0 to 9, and `\W` one of [`SIGNS`]: in a short run nothing takes
/// longer than to compile patterns, and the library's own classes have hundreds of ranges.
///
/// # Panics
/// Where it is no pattern, which a test of whatever uses it shows.
pub fn pattern(text: &str) -> Regex {
    let text = text.replace(r"\d", "[0-9]");
    // A pattern of bytes has short classes of its own.
    let text = match text.starts_with("(?i-u)") {
        true => text,
        false => text.replace(r"\W", SIGNS),
    };
    Regex::new(&text).expect("the pattern is fixed and tested")
}

/// `1 piece`, `24 pieces`: a count and its noun, with a plural in -s.
pub fn count(n: u64, noun: &str) -> String {
    match n {
        1 => format!("1 {noun}"),
        _ => format!("{n} {noun}s"),
    }
}

/// Names that are shown at once.
const SHOWN: usize = 12;

/// Names, each in quotation marks.
pub fn quoted<T: AsRef<str>>(names: &[T]) -> String {
    let shown = names.iter().take(SHOWN);
    let shown: Vec<String> = shown.map(|name| format!("\"{}\"", name.as_ref())).collect();
    let more = match names.len() - shown.len() {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    shown.join(", ") + &more
}

/// A part of a name in the order in which people walk along shelves: figures by their value.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    Figure(u64),
    Word(String),
}

/// What puts bins in the order in which people walk: `A-2` before `A-10`.
pub fn walking_order(name: &str) -> Vec<Step> {
    let mut steps = Vec::new();
    let folded = fold(name);
    let mut rest = folded.as_str();
    while let Some(first) = rest.chars().next() {
        let figure = first.is_ascii_digit();
        let end = rest.find(|c: char| c.is_ascii_digit() != figure);
        let (part, more) = rest.split_at(end.unwrap_or(rest.len()));
        steps.push(match part.parse() {
            Ok(figure) => Step::Figure(figure),
            Err(_) => Step::Word(part.to_owned()),
        });
        rest = more;
    }
    steps
}

/// The day that a date names, as lists write it: `21 April 2026`, `April 21, 2026`, `21.04.2026`,
/// `2026-04-21`, and `4/21/2026` where one of the two figures can be no month. `None` for all else.
pub fn day(text: &str) -> Option<Date> {
    match days(text) {
        [Some(a), Some(b)] => (a == b).then_some(a),
        [a, b] => a.or(b),
    }
}

/// The day that a date names where a bare `3/2/2026` has its month first, and where it has its day first.
pub fn days(text: &str) -> [Option<Date>; 2] {
    let text = text.trim().trim_end_matches('.');
    // A date cell of a workbook may come with a time.
    let text = text.split_once('T').map_or(text, |(day, time)| {
        if time.starts_with(|c: char| c.is_ascii_digit()) {
            day
        } else {
            text
        }
    });
    let text = text.strip_suffix(" 00:00:00").unwrap_or(text);
    let read = |format: &str| {
        let day = Date::strptime(format, text).ok();
        day.filter(|day| day.year() >= 1900)
    };
    let named = [
        "%Y-%m-%d",
        "%d %B %Y",
        "%d %b %Y",
        "%B %d, %Y",
        "%b %d, %Y",
        "%B %d %Y",
        "%b %d %Y",
        "%d-%b-%Y",
        "%d-%b-%y",
        "%d.%m.%Y",
    ];
    match named.into_iter().find_map(read) {
        Some(day) => [Some(day); 2],
        None => [read("%m/%d/%Y"), read("%d/%m/%Y")],
    }
}

/// The words of a text, in small letters and without the plural.
pub fn singular_words(text: &str) -> impl Iterator<Item = String> {
    let words = text.split(|c: char| !c.is_alphanumeric());
    let words = words.filter(|word| !word.is_empty());
    words.map(|word| word.to_lowercase().trim_end_matches('s').to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_fold() {
        assert_eq!(fold("  Handrail \t Mesh "), "handrail mesh");
        assert_eq!(fold(""), "");
    }

    #[test]
    fn bins_stand_in_walking_order() {
        let mut bins = ["B1", "a-10-1", "A-2-10", "A-2-9", "12", "7", "", "A"];
        bins.sort_by_key(|bin| walking_order(bin));
        assert_eq!(
            bins,
            ["", "7", "12", "A", "A-2-9", "A-2-10", "a-10-1", "B1"]
        );
    }

    #[test]
    fn days_are_read() {
        #[track_caller]
        fn case(text: &str, expected: Option<&str>) {
            assert_eq!(day(text).map(|day| day.to_string()).as_deref(), expected);
        }
        for text in [
            "21 April 2026",
            "21 Apr 2026",
            "April 21, 2026",
            "Apr 21 2026",
            "21-Apr-2026",
            "21-Apr-26",
            "21.04.2026",
            "2026-04-21",
            "2026-04-21T00:00:00",
            "2026-04-21 00:00:00",
            "4/21/2026",
            "21/4/2026",
        ] {
            case(text, Some("2026-04-21"));
        }
        case("4/4/2026", Some("2026-04-04"));
        case("4/5/2026", None);
        case("31 April 2026", None);
        case("soon", None);
        case("", None);
    }

    #[test]
    fn one_piece_is_no_plural() {
        assert_eq!(count(1, "piece"), "1 piece");
        assert_eq!(count(0, "piece"), "0 pieces");
        assert_eq!(count(24, "piece"), "24 pieces");
    }
}
