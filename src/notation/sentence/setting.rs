//! Where a sentence of a guide puts its hardware, and for which option: `at the north post`, `with
//! the handrail mesh option`.
//!
//! Only what is plain is taken: a place is one place, told apart from its likes by a word or a number;
//! an option is called one, or said of the kit.

use std::{fmt, ops::Range, sync::LazyLock};

use regex::Regex;

use super::{rule::Rule, words::Words};
use crate::words::pattern;

/// As a cell gives it: `with: handrail mesh`.
impl fmt::Display for OptionNamed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let with = if self.with { "with" } else { "without" };
        write!(f, "{with}: {}", self.name)
    }
}

/// An option that a sentence or a title is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OptionNamed {
    /// Needed with the option, or without it.
    pub with: bool,
    pub name: String,
}

/// Up to four words.
const WORDS: &str = r"(?P<o>[a-z][a-z-]*(?:\s[a-z][a-z-]*){0,3}?)";

static OPTIONS: [Rule; 5] = [
    Rule::new("option", "", || {
        pattern(&format!(
            r"(?i-u)\b(?:only\s)?with(?P<out>out)?\s(?:the\s|an?\s)?{WORDS}\soption\b"
        ))
    }),
    Rule::new("option", "", || {
        pattern(&format!(
            r"(?i-u)\b(?:only\s)?if\s(?:the\s)?{WORDS}\soption\sis\s(?P<out>not\s)?(?:fitted|ordered|chosen|supplied|used|built|taken|included)\b"
        ))
    }),
    Rule::new("you|kit|bridge|shelter", "", || {
        pattern(&format!(
            r"(?i-u)\b(?:only\s)?(?:if|where|when)\s(?:you\s(?:have|ordered|chose)|(?:the|your)\s(?:kit|bridge|shelter)\shas)\s(?P<out>no\s)?(?:the\s|an?\s)?{WORDS}(?:\soption)?(?P<end>\s?[,;:.]|$)"
        ))
    }),
    Rule::new("kits|bridges|shelters|models|builds", "", || {
        pattern(&format!(
            r"(?i)\b(?:for|on|in)\s(?:all\s)?(?:kits|bridges|shelters|models|builds)\swith(?P<out>out)?\s(?:the\s|an?\s)?{WORDS}(?:\soption)?(?P<end>\s?[,;:.]|$)"
        ))
    }),
    Rule::new("option", "", || {
        pattern(&format!(
            r"(?i)(?:^|[(,;:.]\s?)(?:the\s)?{WORDS}(?:\soption(?:\sonly)?\s?(?:[:)]|$)|\s\(option(?:al)?\))"
        ))
    }),
];

/// The option that a text names.
pub fn option(text: &str) -> Option<OptionNamed> {
    option_at(&Words::of(text), text).map(|(option, _)| option)
}

/// The option that a condition in a stage's title plainly is: `Lights (only with the light kit)`. An
/// option bears a name of what is sold as such; two people, or dry weather, are none.
pub fn condition(title: &str) -> Option<OptionNamed> {
    static CONDITION: LazyLock<Regex> = LazyLock::new(|| {
        pattern(&format!(
            r"(?i-u)\b(?:only\s(?:with|for|if|on)|if)(?P<out>out)?\s(?:the\s|an?\s|you\s(?:have|ordered)\s(?:the\s|an?\s)?)?{WORDS}(?:\s(?:is|are|was)\s(?:fitted|ordered|chosen|supplied|used|built|taken|included))?\s*[)\].]*\s*$"
        ))
    });
    const SOLD: &[&str] = &[
        "kit",
        "option",
        "pack",
        "package",
        "set",
        "version",
        "extension",
    ];
    let found = CONDITION.captures(title)?;
    let name = found["o"].to_lowercase();
    let is_sold = name
        .rsplit(' ')
        .next()
        .is_some_and(|last| SOLD.contains(&last));
    is_sold.then(|| OptionNamed {
        with: found.name("out").is_none(),
        name,
    })
}

/// The option that a text of these words names, and where it does.
pub(super) fn option_at(words: &Words, text: &str) -> Option<(OptionNamed, Range<usize>)> {
    let mut all = OPTIONS.iter();
    let found = all.find_map(|rule| rule.captures(words, text))?;
    let whole = found.get(0)?;
    let end = found.name("end").map_or(whole.end(), |end| end.start());
    let named = OptionNamed {
        with: found.name("out").is_none(),
        name: found["o"].to_lowercase(),
    };
    Some((named, whole.start()..end))
}

/// Places for hardware, and things that hardware joins.
pub(super) const THINGS: &str = "post|end|side|corner|shoe|girder|abutment|rail|frame|bracket|brace|beam|plate|bay|panel|edge|face|leg|wall|splice|hoop|gate|flange|column|foot|board|pier|bank|nailer|strap|purlin|joint";

/// Words that tell a place apart from its likes.
pub(super) const WHICH: &str = "north|south|east|west|left|right|left-hand|right-hand|front|rear|back|near|far|upper|lower|top|bottom|inner|outer|inside|outside|middle|centre|center|upstream|downstream|first|second|third|last|fixed|sliding|opposite";

static PLACE: Rule = Rule::new(WHICH, THINGS, || {
    pattern(&format!(
        r"(?ix) \b (?: at | on | to | onto | for | in | under | over | along ) \s+ (?:
              (?: the \s+ )? (?: {WHICH} ) (?: [\s-] (?: {WHICH} | {THINGS} ) )? [\s-] (?: {THINGS} ) \b
            | (?: {THINGS} ) s? \s+ (?: no\.? \s* )? \d{{1,3}} [a-z]? \b
                (?: \s* (?: , | and | & | to ) \s* \d{{1,3}} [a-z]? \b )* )"
    ))
});

/// `Left side: two bolts.`
static LABEL: Rule = Rule::new(WHICH, "", || {
    pattern(&format!(
        r"(?i)^\W*(?:the\s+)?(?P<place>(?:(?:{WHICH})[\s-])+(?:{THINGS}))\s*:"
    ))
});

/// The one place that a sentence names.
pub(super) fn place(words: &Words, text: &str) -> Option<String> {
    if let Some(label) = LABEL.captures(words, text) {
        return Some(label["place"].to_lowercase());
    }
    let mut all = PLACE.find_iter(words, text).filter_map(|found| {
        let place = found
            .as_str()
            .split_once(char::is_whitespace)?
            .1
            .trim_start();
        let is_numbered = place.contains(|c: char| c.is_ascii_digit());
        let the = place.get(..3).filter(|the| the.eq_ignore_ascii_case("the"));
        let place = the.map_or(place, |_| place[3..].trim_start());
        // `post 3/8`, `post 3 x 4`: a size.
        let rest = text[found.end()..].trim_start();
        let is_size = is_numbered && rest.starts_with(['/', '-', 'x', 'X', '×', '"']);
        (!is_size).then(|| place.to_lowercase())
    });
    let one = all.next()?;
    all.all(|other| other == one).then_some(one)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn options() {
        #[track_caller]
        fn case(text: &str, expected: Option<(bool, &str, &str)>) {
            let found = option_at(&Words::of(text), text);
            let found = found
                .as_ref()
                .map(|(o, at)| (o.with, &*o.name, &text[at.clone()]));
            assert_eq!(found, expected, "{text}");
        }
        let mesh = "handrail mesh";
        case(
            "With the handrail mesh option, fit two bolts.",
            Some((true, mesh, "With the handrail mesh option")),
        );
        case(
            "Fit two bolts without the handrail mesh option.",
            Some((false, mesh, "without the handrail mesh option")),
        );
        case(
            "If the handrail mesh option is not fitted, fit two bolts.",
            Some((false, mesh, "If the handrail mesh option is not fitted")),
        );
        case(
            "If your kit has no handrail mesh, fit two bolts.",
            Some((false, mesh, "If your kit has no handrail mesh")),
        );
        case(
            "For kits with the handrail mesh, fit two bolts.",
            Some((true, mesh, "For kits with the handrail mesh")),
        );
        case(
            "Handrail mesh option only: fit two bolts.",
            Some((true, mesh, "Handrail mesh option only:")),
        );
        case(
            "Stage 8: Handrail mesh (option)",
            Some((true, mesh, ": Handrail mesh (option)")),
        );
        case("Fit two bolts with the handrail mesh.", None);
        case("There is no other option.", None);
        case("If the post is out of plumb, add a shim.", None);
        case("Open the kit and lay out the posts.", None);
    }

    #[test]
    fn places() {
        #[track_caller]
        fn case(text: &str, expected: Option<&str>) {
            assert_eq!(place(&Words::of(text), text).as_deref(), expected, "{text}");
        }
        case("At the north post, fit two bolts.", Some("north post"));
        case(
            "Fit two bolts at the far left corner.",
            Some("far left corner"),
        );
        case("Same again on posts 3 and 4.", Some("posts 3 and 4"));
        case("Left side: two bolts.", Some("left side"));
        case("The upper rear rail: two bolts.", Some("upper rear rail"));
        case("Fasten the strap to post 3 with two bolts.", Some("post 3"));
        case("Bolt the rail to the post.", None);
        case("Run it on the near end and to the far end.", None);
        case("Fasten it to post 3/8 in away.", None);
        case("On the left, fit two bolts.", None);
    }
}
