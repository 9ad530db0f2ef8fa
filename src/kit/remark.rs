//! Remarks beside a count that may change it.

use std::sync::LazyLock;

use regex::Regex;

use crate::words::pattern;

/// True where a remark may change how many pieces the row beside it means: `2 bent`, `each end`,
/// `hoop kit only`, `deleted in rev C`. Common practice, no source.
pub fn may_change_count(text: &str) -> bool {
    static CHANGES: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)
                \b (?: each | both | either | every ) \s+ (?: sides? | ends? | posts? | corners? | legs? | frames? | bays? | rails? | way ) \b
                | \b per \s+ (?: side | end | post | corner | leg | frame | bay | rail | panel | joint | place ) \b
                | \b (?: only | unless | except ) \b
                | \b (?: deleted? | changed | void | cancel+ed | superseded | replaced \s+ by | revised ) \b
                | \b (?: \d+ | one | two | three | four | five | six | some | all ) \s+ (?: are \s+ )?
                    (?: bent | damaged | missing | short | stripped | cracked | broken | rusty | spares? | extra | less | more ) \b
                | \b (?: plus | minus | less ) \s+ (?: \d+ | one | two | three | four | five | six ) \b
                | \b use \s+ \d
            ",
        )
    });
    CHANGES.is_match(text)
}

/// The word by which a line is no longer one of its list: `deleted`.
pub fn taken_out(text: &str) -> Option<&str> {
    static OUT: LazyLock<Regex> =
        LazyLock::new(|| pattern(r"(?i)\b(?:deleted|superseded|withdrawn|void)\b"));
    OUT.find(text).map(|found| found.as_str())
}

/// The words that say a line's pieces were not sent: `out of stock`, `to follow`.
pub fn not_sent(text: &str) -> Option<&str> {
    static DENIES: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) \b (?: back[\s-]?order(?:ed)? | to \s+ follow | out \s+ of \s+ stock | cancel+ed | not \s+ (?:sent|shipped|included|available|here) | discontinued | missing | owing ) \b",
        )
    });
    DENIES.find(text).map(|found| found.as_str())
}

/// The words by which a count in a sentence says more than one figure, or none: `7, one missing`,
/// `16 (2 bent)`, `none`.
pub fn counted_in_words(text: &str) -> Option<&str> {
    static WORDS: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) \b (?: missing | short | bent | damaged | stripped | cracked | broken | bad | none | not \s+ (?:here|found|there|counted) | lost ) \b",
        )
    });
    WORDS.find(text).map(|found| found.as_str())
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
    }
}
