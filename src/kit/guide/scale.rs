//! What sentences say of the figures around them: that they are for one of several things. Their words are common practice,
//! no source.

use std::sync::LazyLock;

use regex::Regex;

use crate::words::pattern;

/// True for words that say that figures, steps or drawings are for one thing of several: `Only one side is shown.`,
/// `Instructions for one bench; your kit makes two.`, `Quantities are per bench.`, `For one sawhorse:`
pub fn is_for_one(text: &str) -> bool {
    const LONGEST: usize = 120;
    static FOR_ONE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) \b one \s (?: [a-z-]+ \s ){1,3}? (?: (?: is | are ) \s (?: only \s )? )? (?: shown | drawn | illustrated | pictured | described | covered ) \b
              | \b shows? \s (?: only \s )? one \s (?: side | end | half | leg | frame | corner | of ) \b
              | \b (?: instructions? | quantit(?:y|ies) | figures | counts | amounts | numbers | hardware | fasteners | fixings | parts | list | guide | steps
                    | the \s above | the \s following ) \b [^.;:]{0,40}? \b (?: per | (?: for | of ) \s (?: one | a \s single | 1 ) ) \s [a-z]
              | ^ \W* for \s (?: one | a \s single | 1 ) \s [a-z-]+ (?: \s [a-z-]+ )? \W* $",
        )
    });
    text.len() <= LONGEST && FOR_ONE.is_match(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_for_one_of_several() {
        #[rustfmt::skip]
        const ONE: &[&str] = &[
            "Only one side is shown.", "(one side shown)", "(One side shown.)", "Instructions for one bench; your kit makes two.",
            "Quantities are per bench.", "The above is for one leg; there are four.", "For one sawhorse:",
            "The drawing shows one side.",
        ];
        for text in ONE {
            assert!(is_for_one(text), "{text}");
        }
        #[rustfmt::skip]
        const OTHER: &[&str] = &[
            "Follow the steps one by one.", "Each step is shown in the drawing.", "Take one of the legs.", "Fit the cap as shown.",
            "The hardware is in bag 2.", "Figure 2 shows the right way round.",
        ];
        for text in OTHER {
            assert!(!is_for_one(text), "{text}");
        }
    }
}
