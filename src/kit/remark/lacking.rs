//! Pieces that are not there, not yet, or no good: what slips and counts say of them (common practice, no source).

use std::sync::LazyLock;

use regex::Regex;

use super::{NUMBERS, found_in, in_a_row};
use crate::words::pattern;

/// That pieces are still to come.
pub(super) const FOLLOWS: &[&str] = &[
    r"back[\s-]?order(?:ed)?",
    "(?:to )?follows?",
    r"(?:sent|ships?|shipped|supplied|delivered|following) separately",
    "owing",
    "outstanding",
    r"b/o$",
    "pending",
    r"coming\b",
    r"due (?:\d+|in|on|by|mid|end|early|late|next|week|jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)",
    "sold out",
    r"(?:will|to) be (?:sent|shipped|delivered)",
    r"(?:on |by |with )?(?:the )?next (?:truck|van|delivery|shipment|parcel|load|week)",
    r"(?:sent|ships?|shipped|delivered|coming)? ?later",
];
/// That they were not sent.
pub(super) const NOT_SENT: &[&str] = &[
    "out of stock",
    r"drop[\s-]?ship(?:ped|ment)?",
    "(?:to )?(?:be )?collect(?:ed)?",
    r"\b0 sent",
    "cancel+ed",
    "not (?:sent|shipped|included|available|here)",
    "discontinued",
    "missing",
    r"n/a\b",
    "substitut(?:ed?|ion)",
    "replaced by",
];
/// That a bag did not come.
const DENIED: &[&str] = &["not", "no", "never", "without", "gone", "absent"];
/// That they were not found, or not all of them sound.
pub(super) const NOT_FOUND: &[&str] = &[
    "missing",
    "short",
    "bent",
    "damaged",
    "stripped",
    "cracked",
    "broken",
    "bad",
    "none",
    "not (?:here|found|there|counted)",
    "lost",
    "too (?:many|few)",
];
/// That pieces are wanted, or were to be there: of what is there it says nothing.
const WANTED: &[&str] = &[
    "need(?:s|ed)?",
    "require[sd]?",
    "req'?d",
    "want(?:s|ed)?",
    "(?:re-?)?order(?:ed)?",
    "please",
    "send",
    "get",
    "bring",
    "buy",
    "bought",
    "fetch",
    "to-?do",
    "to do",
    "owed",
    "shortages?",
    "lack(?:s|ing)?",
    "(?:we|i) miss",
    "should be",
    "expect(?:ed)?",
    "wrong",
    "reject(?:s|ed)?",
    "scrap(?:ped)?",
    "returned",
    "sent back",
    r"(?:label|slip|list|sheet|ticket) says",
    "bag marked",
];
/// Titles over what is not there, or is no good.
const LACKING: &[&str] = &[
    r"back[\s-]?orders?",
    "to (?:go back|return|replace|come)",
    "returns?",
    "defects?",
    "faulty",
    "spoil(?:t|ed)",
    "not (?:in the (?:box|bag|kit|crate)|arrived|delivered|received|packed|supplied)",
    "absent",
];
/// What is wrong with pieces, where nothing that it describes stands behind: `split pins`, `short rail`.
const STATES_IN_NAMES: &[&str] = &[
    "short",
    "torn",
    "dented",
    "split",
    "rusty",
    "kinked",
    "chipped",
    "scratched",
];

/// The words that say a line's pieces were not sent: `out of stock`, `to follow`.
pub fn not_sent(text: &str) -> Option<&str> {
    static DENIES: LazyLock<Regex> = LazyLock::new(|| found_in(&[FOLLOWS, NOT_SENT].concat()));
    DENIES.find(text).map(|found| found.as_str())
}

/// True where a line's pieces are still to come: `to follow`, `back-ordered`.
pub fn follows(text: &str) -> bool {
    static FOLLOW: LazyLock<Regex> = LazyLock::new(|| found_in(FOLLOWS));
    FOLLOW.is_match(text)
}

/// So many of a line's pieces may not be there, or be no good, by the remark beside them: all of them, where it says
/// that they were not sent or did not come; else the number that it names (`2 bent`).
pub fn denies(remark: &str, pieces: u64) -> u64 {
    static NOT_HERE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)\b(?: not | never | un ) \s* (?: received | recd | arrived | here | there | found | sent | shipped | delivered ) \b
            | \b(?: received | recd | arrived | here | there | sent | shipped ) \s* [:=?-]? \s* no (?: t | ne )? \b
            | ^ \s* (?: missing | absent | none ) \b",
        )
    });
    let mut figures = remark.split(|c: char| !c.is_ascii_digit());
    let figure = figures.find_map(|figure| figure.parse::<u64>().ok());
    match figure.filter(|figure| (1..=pieces).contains(figure)) {
        Some(figure) => figure,
        None if not_sent(remark).is_some() || NOT_HERE.is_match(remark) => pieces,
        None => 0,
    }
}

/// The word by which a line that names a bag says that it did not come: `Bag B not in the box`. Common
/// practice, no source.
pub fn denied(text: &str) -> Option<&str> {
    static DENIES: LazyLock<Regex> = LazyLock::new(|| found_in(DENIED));
    DENIES.find(text).map(|found| found.as_str())
}

/// The words by which a count in a sentence says more than one figure, or none: `7, one missing`,
/// `16 (2 bent)`, `none`.
pub fn counted_in_words(text: &str) -> Option<&str> {
    static WORDS: LazyLock<Regex> = LazyLock::new(|| {
        let all = [
            in_a_row(&[NOT_FOUND]),
            in_a_row(&[NUMBERS, STATES_IN_NAMES]),
            in_a_row(&[NUMBERS, &["is", "are", "were"], STATES_IN_NAMES]),
        ];
        pattern(&format!("(?i-u){}", all.join("|")))
    });
    let says = |found: &regex::Match<'_>| {
        let last = found.as_str().rsplit(' ').next().unwrap_or_default();
        let in_names = STATES_IN_NAMES
            .iter()
            .any(|state| last.eq_ignore_ascii_case(state));
        let next = text[found.end()..].trim_start().split(' ').next();
        let describes = next.is_some_and(|next| {
            next.starts_with(char::is_alphabetic)
                && !matches!(next, "by" | "of" | "and" | "or" | "in")
        });
        !(in_names && describes)
    };
    WORDS.find_iter(text).find(says).map(|found| found.as_str())
}

/// The words by which a line of a count says what is wanted, and not what is there: `need 2 M8 nuts`; and the signs
/// by which a hand leaves a line open, or crosses it out: `8 M8 nuts ?`. Common practice, no source.
pub fn not_counted(text: &str) -> Option<&str> {
    static SAYS: LazyLock<Regex> = LazyLock::new(|| {
        let signs = [
            r"\?[?!\s]*$",
            r"[\x{2717}\x{2718}\x{274c}]",
            r"^\s*//",
            r"^\s*open\s*:",
            r"^\s*\([^()]*\)\s*$",
            r"[–—:-]\s*no[\s.!]*$",
        ];
        let words = in_a_row(&[WANTED]);
        pattern(&format!("(?i){words}|{}", signs.join("|")))
    });
    let counts = text.contains(|c: char| c.is_ascii_digit());
    SAYS.find(text)
        .filter(|_| counts)
        .map(|found| found.as_str().trim())
}

/// True for a title over pieces that are not there, are wanted, or are no good: `MISSING:`, `To order`, `Back order`.
/// Without a colon it says nothing else: `rails missing` is of rails.
pub fn is_of_lacking(title: &str) -> bool {
    const LONGEST: usize = 60;
    const BESIDE: &[&str] = &[
        "still", "what", "we", "i", "the", "these", "parts", "pieces", "items", "list", "are",
        "is", "to", "all",
    ];
    static SAYS: LazyLock<Regex> =
        LazyLock::new(|| found_in(&[FOLLOWS, NOT_SENT, NOT_FOUND, WANTED, LACKING].concat()));
    if title.len() > LONGEST
        || title.contains(|c: char| c.is_ascii_digit())
        || !SAYS.is_match(title)
    {
        return false;
    }
    let others = |text: &str, is_one: fn(&str) -> bool| {
        let mut words = text.split(|c: char| !c.is_alphanumeric());
        words.any(|word| !word.is_empty() && is_one(&word.to_lowercase()))
    };
    let all_well = others(title, |word| matches!(word, "nothing" | "no"));
    let says_more = || {
        others(&SAYS.replace_all(title, " "), |word| {
            !BESIDE.contains(&word)
        })
    };
    !all_well && (title.trim_end().ends_with(':') || !says_more())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn titles_over_what_is_lacking() {
        for title in [
            "MISSING",
            "Still missing",
            "Not found",
            "To order",
            "What we need",
            "Damaged",
            "Back order",
        ] {
            assert!(is_of_lacking(title), "{title}");
        }
        for title in [
            "Nothing missing here",
            "No damage",
            "Frame",
            "Second shelf",
            "Counted by Odo",
            "Bag 2 missing",
        ] {
            assert!(!is_of_lacking(title), "{title}");
        }
    }

    #[test]
    fn words_of_slips_and_counts() {
        assert_eq!(not_sent("6 M12 nuts Out of stock"), Some("Out of stock"));
        assert_eq!(
            not_sent("12 carriage bolts 3/8 x 3 - backordered"),
            Some("backordered")
        );
        assert_eq!(not_sent("6 M12 nuts"), None);
        for (text, words) in [
            ("6 M12 nuts outstanding", "outstanding"),
            ("6 M12 nuts due 12 May", "due 12"),
            ("6 M12 nuts coming by post", "coming"),
            ("6 M12 nuts n/a", "n/a"),
            ("6 M12 nuts (replaced by M10)", "replaced by"),
        ] {
            assert_eq!(not_sent(text), Some(words), "{text}");
        }
        for (text, words) in [
            ("todo: 8 M8 nuts", "todo"),
            ("open: 8 M8 nuts", "open:"),
            ("need 8 M8 nuts", "need"),
        ] {
            assert_eq!(not_counted(text), Some(words), "{text}");
        }
        assert_eq!(
            counted_in_words("1/2 nuts - 7, one missing"),
            Some("missing")
        );
        assert_eq!(
            counted_in_words("3/8 x 3 carriage bolts: none"),
            Some("none")
        );
        assert_eq!(counted_in_words("8 1/2 nuts"), None);
        for (text, words) in [
            ("twenty two deck boards, one is split", "one is split"),
            ("2 tarps, one torn", "one torn"),
            ("M8 bolts 22, 2 short", "2 short"),
            ("rails short by 2", "short"),
        ] {
            assert_eq!(counted_in_words(text), Some(words), "{text}");
        }
        for text in ["short side board 2", "8 split pins", "2 Short rails"] {
            assert_eq!(counted_in_words(text), None, "{text}");
        }
    }
}
