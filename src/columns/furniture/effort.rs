//! What the work takes besides pieces: people, time and turns. The words are common practice, no source.

#[rustfmt::skip]
const PEOPLE: &[&str] = &[
    "people", "persons", "person", "men", "man", "women", "woman", "adults", "adult", "helpers", "helper", "assistants",
    "assistant", "workers", "worker", "fitters", "fitter", "installers", "installer", "friends", "friend",
];

#[rustfmt::skip]
const TIME: &[&str] = &[
    "seconds", "second", "sec", "secs", "minutes", "minute", "min", "mins", "hours", "hour", "hr", "hrs", "days", "day", "weeks",
    "week",
];

/// What is done so often.
const TURNS: &[&str] = &["times", "time", "coats", "coat", "passes"];

#[rustfmt::skip]
const NUMBERS: &[&str] = &[
    "a", "an", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "twelve", "fifteen", "twenty", "thirty",
    "half",
];

/// Words in front of such a number.
const ABOUT: &[&str] = &[
    "about",
    "approx",
    "approximately",
    "allow",
    "takes",
    "at",
    "least",
    "up",
    "to",
];

/// Words that go on behind such a noun. Behind any other the noun tells of what sort a thing is: `2 hour meters`.
#[rustfmt::skip]
const ON: &[&str] = &[
    "needed", "required", "recommended", "needs", "in", "total", "all", "to", "for", "per", "or", "at", "only", "with", "of", "each",
    "this", "minimum", "max", "maximum", "later", "apart", "drying", "work", "more",
];

/// True for a line that counts people or time, and nothing else: `Two people needed`, `20 minutes`, `3 days to dry`.
pub fn is_of_effort(text: &str) -> bool {
    counts(text, &[PEOPLE, TIME])
}

/// True for a line that says how often something is done: `4 times`, `2 coats of paint`.
pub fn counts_turns(text: &str) -> bool {
    counts(text, &[TURNS])
}

fn counts(text: &str, nouns: &[&[&str]]) -> bool {
    const LONGEST: usize = 60;
    if text.len() > LONGEST {
        return false;
    }
    let is =
        |known: &[&str], word: &str| known.iter().any(|known| word.eq_ignore_ascii_case(known));
    let bare = |word| str::trim_matches(word, |c: char| !c.is_alphanumeric());
    let mut words = (text.split_whitespace().map(bare)).skip_while(|word| is(ABOUT, word));
    let (Some(number), Some(noun)) = (words.next(), words.next()) else {
        return false;
    };
    // `15-20 minutes`
    let figures = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
    let is_number = number.split(['-', '\u{2013}']).all(figures) || is(NUMBERS, number);
    let mut behind = words.peekable();
    let goes_on = behind.peek().is_none_or(|next| is(ON, next));
    goes_on
        && is_number
        && nouns.iter().any(|known| is(known, noun))
        && behind.all(|word| !word.contains(|c: char| c.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn people_time_and_turns() {
        #[rustfmt::skip]
        const EFFORT: &[&str] = &[
            "Two people needed", "2 people", "20 minutes", "30 min", "1 hour", "Three helpers", "3 days to dry", "About 20 minutes",
            "15-20 minutes per leg", "Allow 2 hours",
        ];
        for text in EFFORT {
            assert!(is_of_effort(text), "{text}");
        }
        for text in ["2 coats of paint", "4 times"] {
            assert!(counts_turns(text) && !is_of_effort(text), "{text}");
        }
        for text in [
            "2 hour meters",
            "20 min bolts",
            "2 people carriers",
            "4 rails",
            "2 men 4 nuts",
            "Two post caps",
            "M8 x 20",
        ] {
            assert!(!is_of_effort(text) && !counts_turns(text), "{text}");
        }
    }
}
