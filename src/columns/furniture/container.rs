//! Bags and boxes by name.

use std::sync::LazyLock;

use regex::Regex;

use super::{title_and_rest, unmark};
use crate::{cues::Cued, words::pattern};

/// What bags are called, and what boxes are: those of the table of notation's packs that bear names.
pub const BAGS: [&str; 4] = ["bag", "packet", "pouch", "sack"];
pub const BOXES: [&str; 6] = ["box", "carton", "crate", "case", "tub", "tote"];

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
                r#"(?ix)^ (?: in \s+ (?: the \s+ )? )?
               (?: (?:hardware|fasteners?|fixings?|bolts?|screws?|parts?|small\sparts) \s+ )?
               (?: (?P<bag> BAG ) | (?P<box> BOX ) )
               \s* (?: no\.? | number | \# )? \s* ["'\u{201c}]? (?P<name> [a-z]{0,3}[\s-]?\d{1,4}[a-z]? | [a-z] ) ["'\u{201d}]?
               (?: \s+ of \s+ \d+ )?
               (?: [\s,(]+ [\d.,]+ \s* (?: kgs? | lbs? ) \.? \s* \)? | \s* \( [^()\d]+ \) )? $"#,
            )
        },
    );
    let found = CONTAINER.captures(unmark(text))?;
    let name = found.name("name")?.as_str();
    // `bag of 25` says how many are in one.
    if name
        .get(..2)
        .is_some_and(|of| of.eq_ignore_ascii_case("of"))
    {
        return None;
    }
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

/// The bag or box in front of a line, and the rest: `Bag C: 12 hex bolts`, `bag C x2 - washers 48`, `Bag C = 12 nuts`,
/// `Bag C (12 nuts)`.
pub fn container_and_rest(text: &str) -> Option<(Container<'_>, &str)> {
    let bracketed = || {
        let (title, rest) = text.strip_suffix(')')?.split_once(" (")?;
        rest.contains(|c: char| c.is_ascii_digit())
            .then_some((title, rest))
    };
    let equal = || text.split_once(" = ");
    let (title, rest) = title_and_rest(text).or_else(|| {
        bracketed()
            .or_else(equal)
            .filter(|(title, _)| container(title).is_some())
    })?;
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
                    | the | others? ) (?: [\s,:;.()-]+ | $ ) )+ $",
        )
    });
    let found = COUNTED.captures(text.trim())?;
    let name = found.name("first").or(found.name("last"))?.as_str();
    Some(match found.name("box").or(found.name("case")) {
        None => Container::Bag(name),
        Some(_) => Container::Box(name),
    })
}

/// The bag or box that a line says is not there, and nothing else: `bag C missing`, `no bag C`, `Bag C: none`,
/// `bag C 0`. Common practice, no source.
pub fn container_denied(text: &str) -> Option<Container<'_>> {
    static TOLD: LazyLock<Regex> = LazyLock::new(|| {
        of_containers(
            r"(?ix)^ \W* (?: (?P<lead> [a-z'\u{2019}\x20]+? ) [\s:,-]+ )? (?: the \s+ )?
               (?: (?:hardware|fasteners?|fixings?|bolts?|screws?|parts?|small\sparts) \s+ )?
               (?: BAG | (?P<box> BOX ) ) \s* (?: no\. | number | \# )?
               \s* (?P<name> [a-z]{0,3}-?[1-9]\d{0,3}[a-z]? | [a-z] ) (?: \s+ of \s+ \d+ )?
               (?: [\s,:;=(\u{2013}\u{2014}-]+ (?P<rest> [^.!)]+ ) )? [\s.!)]* $",
        )
    });
    static DENIES: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)^ (?: (?: i | we | there | it | is | was | are | were | has | have | had | did | got ) \s+ )*
               (?: no | none | not | nil | zero | 0 | n | nope | never | missing | absent | lacking | gone | lost
                 | \u{2717} | \u{2718} | (?:did|is|was|has|have) n['\u{2019}]?t | (?:can | could) (?: no | n['\u{2019}]? ) t )
               (?: \s+ (?: yet | been | at\ all | get | got | have | had | here | there | find | found | see | seen | received? | recd | arrived? | come | came
                 | sent | shipped | delivered | packed | supplied | included | in | with | the | this | my | box | parcel | carton | crate
                 | delivery | shipment | kit | from | missing | any ) )* $",
        )
    });
    if !names_container(text) {
        return None;
    }
    let found = TOLD.captures(text)?;
    let part = |name| found.name(name).map_or("", |part| part.as_str().trim());
    let told = format!("{} {}", part("lead"), part("rest"));
    DENIES.is_match(told.trim()).then_some(())?;
    let name = found.name("name")?.as_str();
    Some(match found.name("box") {
        Some(_) => Container::Box(name),
        None => Container::Bag(name),
    })
}

/// A bag or box in front of what it holds, named or not, without a mark between: `bag A 16 bolts 16 nuts`, `bag B only
/// 38 bolts`, `bag with 12 bolts and 12 nuts`. Whether the rest calls for pieces, the caller asks.
pub fn container_and_contents(text: &str) -> Option<(Option<Container<'_>>, &str)> {
    static HOLDS: LazyLock<Regex> = LazyLock::new(|| {
        of_containers(
            r"(?ix)^ \s* (?: [-*+\u{2022}\u{2013}] \s+ )? (?: (?: 1 | one | an? | the ) \s+ (?: x \s+ )? )?
               (?: (?:hardware|fasteners?|fixings?|bolts?|screws?|parts?|small) \s+ )?
               (?: BAG | (?P<box> BOX ) )
               (?: \s* (?: no\. | number | \# )? \s* (?P<name> [a-z]{1,3}-?\d{1,4} | [a-wyz] | (?P<figures> \d{1,2} ) ) )?
               (?P<holds> \s+ (?: with | containing | contains | holding | holds | had | has ) | \s+ only )?
               \s+ (?P<rest> \S .* ) $",
        )
    });
    // `bag 2 16 bolts`; of `bag 2 1/2 bolts` the figures may be one.
    static COUNTED: LazyLock<Regex> = LazyLock::new(|| pattern(r"(?i)^\d{1,4}\s*x?\s+[a-z]{3}"));
    if !names_container(text) {
        return None;
    }
    let found = HOLDS.captures(text)?;
    let rest = found.name("rest")?.as_str();
    let holds = found.name("holds").map(|holds| holds.as_str().trim());
    let Some(name) = found.name("name") else {
        let says = holds.is_some_and(|holds| !holds.eq_ignore_ascii_case("only"));
        return says.then_some((None, rest));
    };
    let is_size = name.as_str().len() > 1 && name.as_str().starts_with(['m', 'M']);
    let told = holds.is_some() || found.name("figures").is_none() || COUNTED.is_match(rest);
    (told && !is_size).then(|| {
        let of = match found.name("box") {
            Some(_) => Container::Box,
            None => Container::Bag,
        };
        (Some(of(name.as_str())), rest)
    })
}

/// The bag or box that stands behind an item, in brackets or behind a mark, and where: `M6 nut (bag B)`, `M6 x 30
/// hex bolt - bag D`, `M6 nut, in bag 2`. A larger figure behind a mark may be a pack's.
pub fn container_behind(text: &str) -> Option<(std::ops::Range<usize>, Container<'_>)> {
    static BEHIND: LazyLock<Regex> = LazyLock::new(|| {
        of_containers(
            r"(?ix) (?P<whole> \s* [(\[] \s* (?: in \s+ )? (?: BAG | (?P<box> BOX ) ) \s* (?: no\.? | \# )?
                 \s* (?P<name> [a-z]{0,3}-?\d{1,4}[a-z]? | [a-z] ) \s* [)\]]
               | (?: \s* [,;] \s* | \s+ [-\u{2013}\u{2014}] \s+ | \s+ ) (?: in \s+ )? (?: the \s+ )?
                 (?: BAG | (?P<case> BOX ) ) \s* (?: no\.? | \# )? \s* (?P<last> [a-z]{1,3}-?\d{1,4} | [a-z] | [1-9] ) )
               (?: $ | \s* [.:=]* \s+ [.x\u{d7}\s]* \d{1,5} \s* (?: pcs? | off | ea )? \.? $ )",
        )
    });
    if !names_container(text) {
        return None;
    }
    let found = BEHIND.captures(text)?;
    let whole = found.name("whole")?;
    let name = found.name("name").or(found.name("last"))?.as_str();
    // Behind white space alone `in` says it.
    let marked = whole
        .as_str()
        .contains(['(', '[', ',', ';', '-', '\u{2013}', '\u{2014}'])
        || whole.as_str().trim_start().starts_with("in ");
    // `M6 nut (box 100)`
    let may_be_pack = |figure: u32| figure >= 20 && figure.is_multiple_of(5);
    let is_pack = !whole.as_str().contains("in ") && name.parse().is_ok_and(may_be_pack);
    let names = text[..whole.start()].contains(char::is_alphabetic) && marked && !is_pack;
    let of = match found.name("box").or(found.name("case")) {
        Some(_) => Container::Box,
        None => Container::Bag,
    };
    names.then(|| (whole.range(), of(name)))
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
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
