//! Bags and boxes by name.

use std::sync::LazyLock;

use regex::Regex;

use super::{title_and_rest, unmark};
use crate::{cues::Cued, words::pattern};

/// What bags are called, and what boxes are; more words that hold pieces stand in the table of notation.
const BAGS: [&str; 4] = ["bag", "packet", "pouch", "sack"];
const BOXES: [&str; 6] = ["box", "carton", "crate", "case", "tub", "tote"];

/// A pattern in which `BAG` and `BOX` stand for these words.
fn of_containers(text: &str) -> Regex {
    pattern(
        &text
            .replace("BAG", &BAGS.join("|"))
            .replace("BOX", &BOXES.join("|")),
    )
}

/// What a bag or box is called, where the text names one and nothing else: `Hardware bag 3`,
/// `BOX NO. 2`, `Bag A:`.
pub fn container(text: &str) -> Option<Container<'_>> {
    static CONTAINER: Cued = Cued::new(
        "bag|packet|pouch|sack|box|carton|crate|case|tub|tote",
        || {
            of_containers(
                r"(?ix)^ (?: (?:hardware|fasteners?|fixings?|bolts?|screws?|parts?|small\sparts) \s+ )?
               (?: (?P<bag> BAG ) | (?P<box> BOX ) )
               \s* (?: no\.? | number | \# )? \s* (?P<name> [a-z]{0,3}[\s-]?\d{1,4}[a-z]? | [a-z] )
               (?: \s+ of \s+ \d+ )?
               (?: [\s,(]+ [\d.,]+ \s* (?: kgs? | lbs? ) \.? \s* \)? | \s* \( [^()\d]+ \) )? $",
            )
        },
    );
    let found = CONTAINER.captures(unmark(text))?;
    let name = found.name("name")?.as_str();
    Some(match found.name("bag") {
        Some(_) => Container::Bag(name),
        None => Container::Box(name),
    })
}

/// True where one of the words stands in a text that [`container`] looks for: quickly asked of every line.
pub fn names_container(text: &str) -> bool {
    let mut words = text.split(|c: char| !c.is_ascii_alphabetic());
    words.any(|word| {
        BAGS.iter()
            .chain(&BOXES)
            .any(|of| word.eq_ignore_ascii_case(of))
    })
}

/// The bag or box in front of a line, and the rest: `Bag C: 12 hex bolts`, `bag C x2 - washers 48`.
pub fn container_and_rest(text: &str) -> Option<(Container<'_>, &str)> {
    let (title, rest) = title_and_rest(text)?;
    let container = container(title).or_else(|| containers_counted(title))?;
    Some((container, rest))
}

/// The bag or box of which a line tells how many there are, and nothing of what is in it: `H1 bag x3
/// complete`, `Bag C: 2, one open`. Common practice, no source.
pub fn containers_counted(text: &str) -> Option<Container<'_>> {
    static COUNTED: LazyLock<Regex> = LazyLock::new(|| {
        of_containers(
            r"(?ix)^ (?: (?:hardware|fasteners?|fixings?|bolts?|screws?|parts?) \s+ )?
               (?: (?P<first> [a-z]{1,3}-?\d{1,4} ) \s+ (?: BAG | (?P<box> BOX ) )
                 | (?: BAG | (?P<case> BOX ) )
                   \s+ (?: no\.? \s* )? (?P<last> [a-z]{0,3}-?\d{1,4} | [a-z] ) )
               [\s,:;-]+
               (?: (?: [x\u{d7}]? \d+ | x | one | two | three | four | five | six | first | second | third | fourth | last | all
                    | complete | full | sealed | unopened | open(?:ed)? | closed | there | here | ok | good | only | and | is | are | of
                    | the | others? ) [\s,:;.()-]* )+ $",
        )
    });
    let found = COUNTED.captures(text.trim())?;
    let name = found.name("first").or(found.name("last"))?.as_str();
    Some(match found.name("box").or(found.name("case")) {
        None => Container::Bag(name),
        Some(_) => Container::Box(name),
    })
}

/// True where a title says that what follows is in no bag or box.
pub fn is_loose(text: &str) -> bool {
    let text = unmark(text);
    [
        "loose",
        "loose items",
        "loose parts",
        "unbagged",
        "not bagged",
    ]
    .iter()
    .any(|word| text.eq_ignore_ascii_case(word))
}

/// A bag or a box by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Container<'a> {
    Bag(&'a str),
    Box(&'a str),
}

/// A bag's or box's name alone, as a cell under "Bag" gives it: `Bag 3`, `3` and `No. 3` are one.
pub fn container_name(text: &str) -> &str {
    match container(text) {
        Some(Container::Bag(name) | Container::Box(name)) => name,
        None => text.trim(),
    }
}
