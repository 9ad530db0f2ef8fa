//! What a bracket or a remark says of how a count comes about: `(two on every eye bolt)`, `2 each end`.

use std::sync::LazyLock;

use regex::Regex;

use crate::words::pattern;

/// So many at each of several places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Share {
    each: u64,
    /// The number of places.
    of: Option<u64>,
    /// At each side or end, of which a thing has two.
    twice: bool,
    /// At each side or end of each of several things.
    of_several: bool,
}

const NUMBERS: &[&str] = &[
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];

impl Share {
    /// Reads a remark that says no more than that.
    pub fn of(text: &str) -> Option<Share> {
        static SHARE: LazyLock<Regex> = LazyLock::new(|| {
            pattern(&format!(
                r"(?ix)^ (?P<each> \d{{1,3}} | {} ) \s+ (?: (?: off | pcs? | pieces? ) \s+ )?
                   (?: (?: on | at | in | to | for ) \s+ )? (?: per | each | every ) \s+
                   (?P<place> \p{{Alphabetic}}+ ) (?P<rest> (?: \s+ \p{{Alphabetic}}+ ){{0,4}} )
                   (?: \s* [,;x×] \s* (?P<of> \d{{1,3}} ) \s+ \p{{Alphabetic}}+ )? $",
                NUMBERS.join("|")
            ))
        });
        let found = SHARE.captures(text.trim())?;
        let number = |text: &str| {
            let word = text.to_lowercase();
            let in_words = NUMBERS.iter().position(|number| *number == word);
            in_words.map_or_else(|| word.parse().ok(), |at| Some(at as u64 + 1))
        };
        let place = found["place"].to_lowercase();
        Some(Share {
            each: number(&found["each"]).filter(|each| *each > 0)?,
            of: found.name("of").and_then(|of| number(of.as_str())),
            twice: matches!(place.as_str(), "side" | "end"),
            of_several: !found["rest"].is_empty(),
        })
    }

    /// A text without the bracket at its end that says so, and what the bracket says.
    pub fn behind(text: &str) -> Option<(&str, &str, Share)> {
        let inner = text.trim_end().strip_suffix(')')?;
        let (before, inside) = inner.rsplit_once('(')?;
        Some((before.trim_end(), inside, Share::of(inside)?))
    }

    /// True where that comes to so many pieces in all.
    pub fn makes(self, pieces: u64) -> bool {
        let each = self.each * if self.twice { 2 } else { 1 };
        match self.of {
            Some(of) => each * of == pieces,
            None if self.twice && !self.of_several => each == pieces,
            None => pieces > self.each && pieces.is_multiple_of(each),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, makes: &[u64], not: &[u64]) {
        let share = Share::of(text).expect("says how a count comes about");
        for pieces in makes {
            assert!(share.makes(*pieces), "{text}: {pieces}");
        }
        for pieces in not {
            assert!(!share.makes(*pieces), "{text}: {pieces}");
        }
    }

    #[test]
    fn counts_that_come_about() {
        case("two on every eye bolt", &[16], &[2, 7]);
        case("2 per bolt, 16 bolts", &[32], &[16, 2]);
        case("three at each end of a board", &[132, 6], &[3, 9]);
        case("2 each side", &[4], &[2, 8]);
        case("one each corner", &[4], &[1]);
        case("4 pcs per bay", &[8], &[4]);
        for other in [
            "2 washers per bolt",
            "2 bent",
            "each end",
            "nut side only",
            "two boxes",
            "see page 2",
        ] {
            assert_eq!(Share::of(other), None, "{other}");
        }
    }

    #[test]
    fn brackets_behind() {
        let told = |text| Share::behind(text).map(|(before, inside, _)| (before, inside));
        assert_eq!(
            told("16 nuts M8, zinc (two on every eye bolt)"),
            Some(("16 nuts M8, zinc", "two on every eye bolt"))
        );
        assert_eq!(told("16 nuts M8 (2 spare)"), None);
        assert_eq!(told("16 nuts M8"), None);
    }
}
