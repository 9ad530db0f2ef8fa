//! Remarks beside a count that may change it.

use std::sync::LazyLock;

use regex::Regex;

use crate::words::pattern;

/// Counts and things between which a remark deals: `each end`, `per post`.
const EACH: &[&str] = &["each", "both", "either", "every"];
const ENDS: &[&str] = &[
    "sides?", "ends?", "posts?", "corners?", "legs?", "frames?", "bays?", "rails?", "way",
];
const PLACES: &[&str] = &[
    "side", "end", "post", "corner", "leg", "frame", "bay", "rail", "panel", "joint", "place",
];
const LIMITS: &[&str] = &["only", "unless", "except"];
const REVISED: &[&str] = &[
    "deleted?",
    "changed",
    "void",
    "cancel+ed",
    "superseded",
    "replaced by",
    "revised",
    r"re-?(?:scan|count)(?:n?ed)?",
    r"(?:scanned|counted|listed) (?:twice|again)",
];
const NUMBERS: &[&str] = &[r"\d+", "one", "two", "three", "four", "five", "six"];
const SOME: &[&str] = &["some", "all"];
/// What is wrong with pieces, and that there are more or fewer.
const STATES: &[&str] = &[
    "bent", "damaged", "missing", "short", "stripped", "cracked", "broken", "rusty", "torn",
    "dented", "split", "spares?", "extra", "less", "more",
];
/// What became of so many of the pieces.
const BECAME: &[&str] = &[
    "sent",
    "shipped",
    "supplied",
    "delivered",
    "packed",
    "picked",
    "here",
    "now",
    "later",
    "left",
    "due",
    "owing",
    "to come",
    "on order",
];
const SIGNS: &[&str] = &["plus", "minus", "less"];
const TAKEN_OUT: &[&str] = &["deleted", "superseded", "withdrawn", "void", "cancel+ed"];
const NOT_SENT: &[&str] = &[
    r"back[\s-]?order(?:ed)?",
    "to follow",
    "out of stock",
    "cancel+ed",
    "not (?:sent|shipped|included|available|here)",
    "discontinued",
    "missing",
    "owing",
];
const DENIED: &[&str] = &["not", "no", "never", "without", "gone", "absent"];
const OUTSIDE_KIT: &[&str] = &[
    "not (?:a )?part of (?:the|this) (?:kit|set|delivery|supply)",
    "not (?:included|supplied|provided|delivered)",
    "(?:sold|supplied|delivered|ordered) separately",
    "by others",
];
const COUNTED: &[&str] = &[
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
];

/// What becomes of pieces, or where they come from, in more words than a use has: `pre-fitted to the rail`.
const USED: &[&str] = &[
    r"(?:pre|factory|already|comes?|supplied)[\s-]?(?:fitted|installed|assembled|attached)",
    r"(?:fitted|installed|assembled|attached) (?:at|by|in) (?:the )?(?:factory|works|maker)",
    r"from (?:the )?(?:step|stage|section|previous|earlier|last)",
    r"(?:customer|client|owner|installer|contractor|others) (?:to |will )?(?:suppl(?:y|ies)|provides?|brings?)",
    r"(?:suppl(?:y|ied)|provided|bought|purchased?) (?:by|on|at|locally)",
    "buy locally",
    "(?:own|returned to|from) (?:the |your |our )?stock",
    r"re-?used?",
];
/// That pieces are wanted in some kits, or in place of others.
const ON_CONDITION: &[&str] = &[
    "optional",
    "if",
    r"(?:not|don'?t|do not) (?:used?|fit|needed|required|for)",
    "tbc",
    "tba",
    "to be confirmed",
    r"alternatives?(?: to| for)?",
    "instead of",
    "in place of",
    "in lieu of",
    "substitute",
];
/// Other ways to say how many.
const AMOUNTS: &[&str] = &[
    r"x\s?\d+",
    "pairs?",
    r"sets?(?: of \d+)?",
    "dozen",
    "boxe?s?",
    r"packs?(?: of \d+)?",
    r"was \d+",
    "spares?",
    "reserve",
];
/// What the title over lines says of whether they are needed, and of how many (common practice, no source).
const TITLES: &[&str] = &[
    "spares?",
    "extras",
    "options?",
    "to be (?:bought|ordered|made|supplied)",
    "removed before",
];
/// Hardware that comes with what the row names: `with nut`, `mit Mutter`.
const COMES_WITH: &str = r"^[\s(,;]*(?:with|w/|c/w|incl(?:uding|udes)?|plus|and|mit|inkl)[\s.]+(?:[a-z0-9./-]+\s+){0,3}(?:nuts?|washers?|bolts?|screws?|nylocs?|muttern?|scheiben?|schrauben?)\b";

/// How pieces are, and words for so many, beside which a count stands.
const FOUND: &[&str] = &[
    "good",
    "ok",
    "okay",
    "sound",
    "bent",
    "kinked",
    "dented",
    "scratched",
    "damaged",
    "bad",
    "broken",
    "cracked",
    "rusty",
    "chipped",
    "split",
    "stripped",
    "missing",
    "there",
    "here",
    "short",
    "spare",
];
const SO_MANY: &[&str] = &[
    "dozen", "doz", "gross", "pair", "pairs", "couple", "few", "several",
];

/// Ways to say how many in no number.
const UNTOLD: &[&str] = &[
    "(?:the )?same (?:number|amount|count|qty|quantity)(?: as| of)?",
    "as many(?: as)?",
    "how many",
    "a (?:pair|couple|few|dozen) or (?:two|so|more)",
    r"\d+ or (?:so|more|\d+)",
    r"(?:qty|quantity|count|number) (?:is )?(?:tb[acd]|to be|unknown|open|\?)",
    r"tb[acd]",
];

const ALL_THERE: &[&str] = &[
    "all (?:here|there|present|ok|in)",
    "ok(?:ay)?",
    "complete",
    "full",
    "enough",
];

/// A pattern of whole words or phrases in a row, each one of a table.
fn in_a_row(tables: &[&[&str]]) -> String {
    let one_of = |table: &&[&str]| format!("(?:{})", table.join("|").replace(' ', r"\s+"));
    let row: Vec<String> = tables.iter().map(one_of).collect();
    format!(r"\b{}\b", row.join(r"\s+"))
}

/// True where a remark may change how many pieces the row beside it means: `2 bent`, `each end`,
/// `hoop kit only`, `deleted in rev C`. Common practice, no source.
pub fn may_change_count(text: &str) -> bool {
    static CHANGES: LazyLock<Regex> = LazyLock::new(|| {
        let counts = [NUMBERS, SOME].concat();
        let all = [
            in_a_row(&[EACH, ENDS]),
            in_a_row(&[&["per"], PLACES]),
            in_a_row(&[LIMITS]),
            in_a_row(&[REVISED]),
            in_a_row(&[&counts, STATES]),
            in_a_row(&[
                &counts,
                &["are", "is", "were", "not", "of (?:them|these|those)"],
            ]),
            in_a_row(&[&counts, BECAME]),
            in_a_row(&[NOT_SENT]),
            in_a_row(&[SIGNS, NUMBERS]),
            r"\buse\s+\d".to_owned(),
            in_a_row(&[USED]),
            in_a_row(&[ON_CONDITION]),
            in_a_row(&[AMOUNTS]),
            r"^\s*or\s".to_owned(),
            COMES_WITH.to_owned(),
            r"^[\s?]*\?[\s?]*$".to_owned(),
        ];
        pattern(&format!("(?i-u){}", all.join("|")))
    });
    CHANGES.is_match(text)
}

/// True where the title over lines may say whether they are needed, or how often: `Optional extras`, `Each bay`,
/// `Floor (x2)`.
pub fn qualifies_lines(title: &str) -> bool {
    static QUALIFIES: LazyLock<Regex> = LazyLock::new(|| {
        let all = [
            in_a_row(&[EACH, &[ENDS, PLACES].concat()]),
            in_a_row(&[&["per"], PLACES]),
            in_a_row(&[LIMITS]),
            in_a_row(&[USED]),
            in_a_row(&[ON_CONDITION]),
            in_a_row(&[TITLES]),
            r"(?:\bx\s?\d+|\b\d+\s?(?:x|off))\)?\s*$".to_owned(),
        ];
        pattern(&format!("(?i-u){}", all.join("|")))
    });
    QUALIFIES.is_match(title)
}

/// The word by which a line is no longer one of its list: `deleted`.
pub fn taken_out(text: &str) -> Option<&str> {
    static OUT: LazyLock<Regex> = LazyLock::new(|| found_in(TAKEN_OUT));
    OUT.find(text).map(|found| found.as_str())
}

/// True where a sentence says that what it names does not come with the kit: `Anchors are not part of the
/// kit.`
pub fn not_in_kit(text: &str) -> bool {
    static OUTSIDE: LazyLock<Regex> = LazyLock::new(|| found_in(OUTSIDE_KIT));
    OUTSIDE.is_match(text)
}

/// The words that say a line's pieces were not sent: `out of stock`, `to follow`.
pub fn not_sent(text: &str) -> Option<&str> {
    static DENIES: LazyLock<Regex> = LazyLock::new(|| found_in(NOT_SENT));
    DENIES.find(text).map(|found| found.as_str())
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
    static WORDS: LazyLock<Regex> = LazyLock::new(|| found_in(COUNTED));
    WORDS.find(text).map(|found| found.as_str())
}

/// True where a part's name may hold a count that was not read: so many, and how they are (`11 good 1
/// kinked`, `dozen`); and, in a line of text that has no cell for it, any bare figure.
pub fn may_hide_count(name: &str, in_text: bool) -> bool {
    static COUNTED: LazyLock<Regex> = LazyLock::new(|| {
        let states = in_a_row(&[NUMBERS, FOUND]);
        pattern(&format!("(?i-u){states}|{}", in_a_row(&[SO_MANY])))
    });
    static FIGURE: LazyLock<Regex> = LazyLock::new(|| pattern(r"(?:^|[\s,;:(])\d+(?:$|[\s,;:)])"));
    COUNTED.is_match(name) || (in_text && FIGURE.is_match(name))
}

/// The words by which a line says how many in no number: `door hinges - a pair or two`, `qty tbd`.
pub fn untold(text: &str) -> Option<&str> {
    static UNTOLD_IN: LazyLock<Regex> = LazyLock::new(|| found_in(UNTOLD));
    UNTOLD_IN.find(text).map(|found| found.as_str())
}

/// The words by which a line without a figure says that all pieces are there: `posts ok`, `caps all here`.
pub fn all_there(text: &str) -> Option<&str> {
    static THERE: LazyLock<Regex> = LazyLock::new(|| found_in(ALL_THERE));
    THERE.find(text).map(|found| found.as_str())
}

fn found_in(table: &[&str]) -> Regex {
    pattern(&format!("(?i-u){}", in_a_row(&[table])))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn remarks() {
        for text in [
            "2 bent",
            "plus 2 in truck",
            "per side",
            "each end",
            "changed to 10 in rev C",
            "Deleted",
            "hoop kit only",
            "use 1/2 x 5 with thick decking",
            "all missing",
            "short, 12 sent",
            "90 now, 60 in week 48",
            "back-ordered",
            "discontinued, see M10 x 30",
            "pre-fitted to the rail",
            "fitted at the factory",
            "from step 1",
            "customer to supply",
            "from your own stock",
            "buy locally",
            "optional",
            "if required",
            "not used on this model",
            "do not use",
            "tbc",
            "?",
            "or M8 x 50",
            "alternative to M8 x 47",
            "x2",
            "sets of 4",
            "was 8",
            "spare",
            "RESCAN",
            "with nut",
            "c/w 2 washers",
            "counted twice",
            "3 not ours",
            "4 are M8 fine",
        ] {
            assert!(may_change_count(text), "{text}");
        }
        for text in [
            "torque again after a week",
            "see drawing 4",
            "left hand",
            "per ASTM A153",
            "grease first",
            "check each bolt",
            "hand tight",
            "two-part label",
        ] {
            assert!(!may_change_count(text), "{text}");
        }
    }

    // Common practice, no source.
    #[test]
    fn counts_within_names() {
        for name in [
            "chains 11 good 1 kinked",
            "spring clips, dozen",
            "hooks 4 there",
        ] {
            assert!(may_hide_count(name, false), "{name}");
        }
        for name in [
            "roof panel",
            "upright 60x60x2000",
            "post 2.4 m",
            "good side panel",
        ] {
            assert!(!may_hide_count(name, true), "{name}");
        }
        assert!(may_hide_count("hooks (4)", true));
        assert!(!may_hide_count("panel 3", false));
    }

    #[test]
    fn words_of_slips_and_counts() {
        assert_eq!(not_sent("6 M12 nuts Out of stock"), Some("Out of stock"));
        assert_eq!(
            not_sent("12 carriage bolts 3/8 x 3 - backordered"),
            Some("backordered")
        );
        assert_eq!(not_sent("6 M12 nuts"), None);
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
            ("tensioners, same number as links", "same number as"),
            ("door hinges - a pair or two", "a pair or two"),
            ("spring .6 OD - QTY TBD", "QTY TBD"),
            ("take 50 or 100?", "50 or 100"),
            ("dogs .... 2 or so per vice", "2 or so"),
        ] {
            assert_eq!(untold(text), Some(words), "{text}");
        }
        for text in ["qty description", "2 posts or rails", "some like it"] {
            assert_eq!(untold(text), None, "{text}");
        }
    }
}
