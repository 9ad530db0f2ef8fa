//! Headings: the trade's words for what a column holds.
//!
//! A heading is folded to plain words (`Qty. Req'd` and `Quantity required` are both `qty req`) and
//! looked up in the table of headings. To teach a new one, add a row to `words.rs`.

use std::{
    cell::RefCell,
    collections::{HashMap, HashSet},
    sync::LazyLock,
};

use rustc_hash::FxBuildHasher;

use super::{
    Meaning,
    words::{COUNTED, FAR, FIGURES, HEADINGS, NOISE, SOUND, UNITS, WEIGHTS, WORDS},
};
use crate::{cues::Cued, hardware::Unit, words::pattern};

/// What a heading says of its column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heading {
    pub meaning: Meaning,
    /// Another heading of the same meaning goes before this one ("Item" is the description only
    /// where no column is headed "Description").
    pub weak: bool,
    /// What a quantity counts.
    pub basis: Basis,
    /// The unit of the figures below, where the heading states one.
    pub unit: Option<Unit>,
    /// The words in brackets, or the unit words at the end: `ft-lb`.
    pub unit_words: Option<Box<str>>,
    /// `Qty per bay`: what each quantity is for, in plain words, where it is no word for a place, a
    /// kit or a pack.
    pub each_of: Option<Box<str>>,
    /// Of packs, so many pieces in each: `Packs of 50`, `Bags (25)`.
    pub pack_of: Option<u64>,
    /// For so many kits: `3 kits`; `Qty per kit` is for one.
    pub kits: Option<u32>,
    /// It says what is needed: `Need`, `Qty req'd`.
    pub asks: bool,
    /// It says that what it counts is good: `Good`, `Usable pcs`; `Found` does not.
    pub sound: bool,
}

impl Heading {
    /// It says no more than what its column holds.
    fn plain(meaning: Meaning) -> Heading {
        Heading {
            meaning,
            weak: false,
            basis: Basis::Neutral,
            unit: None,
            unit_words: None,
            each_of: None,
            pack_of: None,
            kits: None,
            asks: false,
            sound: false,
        }
    }
}

/// What the heading of a quantity says that it counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Basis {
    /// `Qty` and no more.
    #[default]
    Neutral,
    /// Each or per place.
    Each,
    /// Single pieces (`Pcs`): not packs, though still each or in all.
    Pieces,
}

/// So many texts are kept with what they say.
const KEPT: usize = 4096;

/// Reads a heading, or finds that it is none of the trade's.
///
/// A heading row is looked at in several ways, and sheets have the same ones: what a text says is kept.
pub fn recognise(text: &str) -> Option<Heading> {
    thread_local! {
        static SAID: RefCell<HashMap<Box<str>, Option<Heading>, FxBuildHasher>> = RefCell::default();
    }
    // No heading is a sentence; a long text is not worth folding.
    if text.is_empty() || text.len() > 60 {
        return None;
    }
    // The stroke of `+/-` is no `per`.
    if text.contains('/') && !text.contains(char::is_alphanumeric) {
        return None;
    }
    if let Some(said) = SAID.with_borrow(|said| said.get(text).cloned()) {
        return said;
    }
    let heading = read(text);
    SAID.with_borrow_mut(|said| {
        if said.len() >= KEPT {
            said.clear();
        }
        said.insert(text.into(), heading.clone());
    });
    heading
}

fn read(text: &str) -> Option<Heading> {
    let (outside, inside) = split_brackets(text);
    if PACKERS
        .iter()
        .any(|packer| outside.trim().eq_ignore_ascii_case(packer))
    {
        return Some(Heading::plain(Meaning::Ignored));
    }
    let whole = fold(text);
    let before_comma = text.split(',').next().unwrap_or_default();
    if unit_of(&inside).is_some() {
        return find(&fold(&outside)).map(|found| with_unit(found, &inside));
    }
    if let Some((words, unit)) = marked(text) {
        let found = find(&fold(words)).filter(is_of_sizes);
        return found
            .map(|found| with_unit(found, unit))
            .or_else(|| recognise(words));
    }
    packs_of(text)
        .or_else(|| in_two_languages(text))
        .or_else(|| find(&whole))
        .or_else(|| find(&fold(&outside)).map(|found| with_unit(found, &inside)))
        .or_else(|| find(&fold(before_comma)))
        .or_else(|| {
            text.contains('/')
                .then(|| find(&fold(&text.replace('/', " "))))?
        })
        .or_else(|| of_one_meaning(text))
        .or_else(|| numbered(text))
        .or_else(|| of_kits(&whole))
        .or_else(|| counted_when(text))
        .or_else(|| recognise(without_number(text)?))
}

/// So many packs, and the pieces in each: `Packs of 50`, `Full bags (25)`.
fn packs_of(text: &str) -> Option<Heading> {
    let (packs, behind) = match text.split_once('(') {
        Some((packs, behind)) => (packs, behind.trim_end().strip_suffix(')')?),
        None => text.rsplit_once(" of ")?,
    };
    let of = behind.trim();
    let of = of
        .strip_prefix("of ")
        .unwrap_or(of)
        .parse()
        .ok()
        .filter(|of| *of > 0)?;
    let heading = find(&fold(packs)).filter(|found| found.meaning == Meaning::Packs)?;
    Some(Heading {
        pack_of: Some(of),
        ..heading
    })
}

/// A heading with a mark for its unit behind: `Length '`.
fn marked(text: &str) -> Option<(&str, &'static str)> {
    let words = text
        .trim_end()
        .trim_end_matches(['\'', '\u{2032}', '\u{2019}', '"', '\u{2033}', '\u{201d}']);
    let unit = match text.trim_end()[words.len()..].chars().next()? {
        '\'' | '\u{2032}' | '\u{2019}' => "'",
        _ => "\"",
    };
    let is_quoted = words.starts_with(['\'', '"', '\u{201c}', '\u{2018}']);
    (!is_quoted && !words.is_empty()).then_some((words, unit))
}

/// A size, or a part of one.
fn is_of_sizes(heading: &Heading) -> bool {
    matches!(
        heading.meaning,
        Meaning::Size | Meaning::Length | Meaning::Diameter
    )
}

/// Who packed a row, which says nothing of its pieces.
const PACKERS: &[&str] = &["packed by", "picked by", "packer", "picker"];

/// A heading without its own number in front: `1. Description`, `(2) Qty`.
fn without_number(text: &str) -> Option<&str> {
    let rest = text.trim_start().trim_start_matches('(');
    let figures = rest.bytes().take_while(u8::is_ascii_digit).count();
    let rest = rest[figures..].strip_prefix(['.', ')'])?;
    (1..=2).contains(&figures).then(|| rest.trim_start())
}

/// `4 kits total`, `Qty for 3 kits`: what so many kits need.
fn of_kits(words: &[String]) -> Option<Heading> {
    const KITS: &[&str] = &["kit", "kits", "set", "sets"];
    let at = words
        .iter()
        .position(|word| KITS.contains(&word.as_str()))?;
    let before = at.checked_sub(1)?;
    let kits = words[before].parse().ok().filter(|kits| *kits > 0)?;
    let counts = |word: &String| {
        let word = word.as_str();
        FIGURES.contains(&word) || NOISE.contains(&word) || word == "tot"
    };
    let mut others = words[..before].iter().chain(&words[at + 1..]);
    others.all(counts).then(|| Heading {
        kits: Some(kits),
        ..Heading::plain(Meaning::Total)
    })
}

/// `Desc1`, `Description 2`: a description that goes on in another column; `Count 2`: one of several counts.
fn numbered(text: &str) -> Option<Heading> {
    let words = text.trim_end_matches(|c: char| c.is_ascii_digit());
    let lettered = || {
        text.strip_suffix(|c: char| c.is_ascii_uppercase())?
            .strip_suffix(' ')
    };
    let words = match words.len() < text.len() {
        true => words,
        false => lettered()?,
    };
    let words = fold(words);
    let found = find(&words)?;
    let goes_on = found.meaning == Meaning::Description
        && !found.weak
        && !text.ends_with(char::is_alphabetic);
    (goes_on || words == ["count"]).then_some(found)
}

/// `Counted 24 June 2026`, `Count by Mia`, `Count 24/6`: when a column was counted, or who did.
fn counted_when(text: &str) -> Option<Heading> {
    static WHEN: Cued = Cued::new("count|check|found", || {
        pattern(
            r"(?x)^ (?P<counted> (?i: count(?:ed)? | checked | found ) )
                (?: \s+ (?: (?i: on | of | at ) \s+ )?
                    (?: (?i: by ) \s+ \p{L}+ (?: \s+ \p{Lu} [\p{L}.]* )? | \p{Lu} \p{Ll}{2,}
                      | \d{1,4} [./-] \d{1,2} (?: [./-] \d{0,4} )?
                      | \d{1,2} (?: st | nd | rd | th )? \.? [\s-]* (?i: jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec ) [a-z]* \.? (?: [\s-]+ \d{2,4} )?
                      | (?i: jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec ) [a-z]* \.? \s+ \d{1,2} (?: st | nd | rd | th )? (?: ,? \s+ \d{2,4} )? )
                )+ $",
        )
    });
    let found = WHEN.captures(text.trim())?;
    find(&fold(&found["counted"]))
}

/// `Menge / Qty`, `Pos./Pos.`: the same said twice.
fn in_two_languages(text: &str) -> Option<Heading> {
    let (one, other) = text.split_once('/')?;
    let [one, other] = [one, other].map(|said| find(&fold(said)).filter(|found| !found.weak));
    one.filter(|one| other.as_ref() == Some(one))
}

/// `Bent/damaged`, `Good or usable`: words joined that all say the same of their column; a bag and a box
/// both say what the pieces lie in.
fn of_one_meaning(text: &str) -> Option<Heading> {
    let lower = text.to_lowercase().replace(" or ", "/");
    let (first, rest) = lower.split_once('/')?;
    let first = find(&fold(first))?;
    let holds = |meaning| matches!(meaning, Meaning::Bag | Meaning::Box);
    let alike = |word: &str| {
        find(&fold(word)).is_some_and(|of| {
            of.meaning == first.meaning || (holds(of.meaning) && holds(first.meaning))
        })
    };
    rest.split('/').all(alike).then_some(first)
}

/// True where a word begins a heading that says what figures are of: `shipped`, `B/O`. Most words are told
/// by this before a heading is looked for.
pub fn may_label(word: &str) -> bool {
    static FIRST: LazyLock<HashSet<&str, FxBuildHasher>> = LazyLock::new(|| {
        let counted = HEADINGS.iter().filter(|(_, of, _)| COUNTED.contains(of));
        let mut first: HashSet<&str, FxBuildHasher> = counted
            .filter_map(|(phrase, ..)| phrase.split(' ').next())
            .chain(FIGURES.iter().copied())
            .chain(NOISE.iter().copied())
            .collect();
        let spelled = WORDS.iter().filter(|(_, plain)| first.contains(plain));
        let spelled: Vec<&str> = spelled.map(|(word, _)| *word).collect();
        first.extend(spelled);
        first
    });
    let lower = word.to_lowercase();
    let first = lower.split(['-', '/']).next().unwrap_or_default();
    FIRST.contains(lower.as_str()) || FIRST.contains(first)
}

/// `No.`, `Nr.`, `#`: the number of the line, or the maker's.
pub fn is_bare_number(text: &str) -> bool {
    matches!(fold(text).as_slice(), [no] if no == "no")
}

/// `In box`, `In the bag`: which one, or how many are in it.
pub fn is_within(text: &str) -> bool {
    let first = text.trim_start().get(..3);
    first.is_some_and(|first| first.eq_ignore_ascii_case("in "))
}

/// `In kit?`, `Supplied`, `Included`: over words for yes and no, whether a piece comes with the kit (common practice,
/// no source).
pub fn says_what_comes(text: &str) -> bool {
    let said = |word: &String| {
        matches!(
            word.as_str(),
            "kit" | "ship" | "incl" | "include" | "included" | "includes" | "provided"
        )
    };
    is_within(text) || fold(text).iter().any(said)
}

/// `Per`: for one of what the figures are.
pub fn is_per(text: &str) -> bool {
    fold(text) == ["per"]
}

/// `Rev`: the revision that a row is of.
pub fn is_of_revisions(text: &str) -> bool {
    fold(text).iter().any(|word| word == "rev")
}

/// `Kit`, `Kit no.`: which of several kits.
pub fn is_kit(text: &str) -> bool {
    let words = fold(text);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    matches!(words.as_slice(), ["kit"] | ["kit", "no" | "id"])
}

/// `Qty back`: back-ordered beside another quantity, brought back where there is none.
pub fn counts_what_came_back(text: &str) -> bool {
    let mut words = fold(text);
    words.sort_unstable();
    words == ["back", "qty"]
}

/// `Missing`, `Qty lost`: what is not there says of nothing how many there are.
pub fn is_of_missing(text: &str) -> bool {
    const MISSING: &[&str] = &["missing", "lost", "short", "shortage", "lacking", "absent"];
    let words = fold(text);
    words.iter().any(|word| MISSING.contains(&word.as_str())) || words == ["not", "found"]
}

/// `Kit 2`, `Set B`: the kit that a column is of.
pub fn is_of_one_kit(text: &str) -> bool {
    let words = fold(text);
    let is_mark = |mark: &str| mark.len() == 1 || mark.bytes().all(|b| b.is_ascii_digit());
    matches!(words.as_slice(), [kit, mark] if matches!(kit.as_str(), "kit" | "set") && is_mark(mark))
}

/// `Previously shipped`: what came with another parcel.
pub fn is_of_before(text: &str) -> bool {
    fold(text).iter().any(|word| word == "previously")
}

/// `Left over`, `Remaining`, `Spare`: what a count of the leftovers counts.
pub fn is_of_leftovers(text: &str) -> bool {
    const LEFT: &[&str] = &[
        "left",
        "leftover",
        "leftovers",
        "remaining",
        "over",
        "surplus",
        "rest",
        "spare",
        "spares",
        "extra",
        "extras",
        "bench",
    ];
    let words = fold(text);
    words.iter().any(|word| LEFT.contains(&word.as_str()))
}

/// `Returned`, `Qty returned`: what came back.
pub fn is_what_came_back(text: &str) -> bool {
    let words = fold(text);
    words
        .iter()
        .any(|word| word == "returned" || word == "returns")
}

/// `L1`, `Level 1`: the column of a level.
pub fn is_of_level(text: &str, level: u32) -> bool {
    let words = fold(text).concat();
    let number = ["level", "lvl", "l"]
        .iter()
        .find_map(|word| words.strip_prefix(word));
    number.is_some_and(|number| number.parse() == Ok(level))
}

/// Looks up folded words, then without a unit at the end, then without noise.
fn find(words: &[String]) -> Option<Heading> {
    if words.is_empty() {
        return None;
    }
    if let Some(found) = look_up(words) {
        return Some(found);
    }
    if let [first, unit @ ..] = words
        && matches!(first.as_str(), "torque" | "tighten")
    {
        let found = look_up(&words[..1])?;
        return Some(Heading {
            unit_words: Some(unit.join("-").into()),
            ..found
        });
    }
    if let [rest @ .., last] = words
        && let rest = rest.strip_suffix(&["in".to_owned()]).unwrap_or(rest)
        && let Some(found) = look_up(rest)
        && (unit_of(last).is_some() || (is_of_sizes(&found) && FAR.contains(&last.as_str())))
    {
        return Some(with_unit(found, last));
    }
    // "Weight kg each".
    if let Some(at) = words
        .iter()
        .skip(1)
        .position(|w| WEIGHTS.contains(&w.as_str()))
    {
        let (rest, unit) = ([&words[..=at], &words[at + 2..]].concat(), &words[at + 1]);
        if let Some(found) = look_up(&rest) {
            return Some(with_unit(found, unit));
        }
    }
    // `Type A` beside `Type B`: no article.
    let is_letter = |at: usize| at + 1 == words.len() && words[at] == "a";
    let says = (words.iter().enumerate())
        .filter(|(at, word)| !NOISE.contains(&word.as_str()) || is_letter(*at));
    let plain: Vec<String> = says.map(|(_, word)| word.clone()).collect();
    if let Some(found) = look_up(&plain) {
        // "Assy req'd" asks for assemblies; it names none.
        let asks = words.iter().any(|word| word == "req");
        return (!asks || found.meaning != Meaning::Stage).then_some(found);
    }
    if let Some(found) = of_figures(&plain) {
        return Some(found);
    }
    // "Qty per post", "Each side": so many at each, whatever it is.
    let is_worth = |word: &String| {
        matches!(
            word.as_str(),
            "price" | "cost" | "amount" | "value" | "weight" | "mass"
        )
    };
    let is_each = |word: &String| matches!(word.as_str(), "per" | "each");
    let of = match plain.as_slice() {
        [qty, per, of @ ..] if FIGURES.contains(&qty.as_str()) && is_each(per) => of,
        [per, of @ ..] if per == "per" || (is_each(per) && !of.iter().any(is_worth)) => of,
        _ => return None,
    };
    (!of.is_empty()).then(|| Heading {
        basis: Basis::Each,
        each_of: Some(of.join(" ").into()),
        ..Heading::plain(Meaning::Quantity)
    })
}

/// `Qty good`, `Counted good`: words of figures and of counting beside those that say of what.
fn of_figures(words: &[String]) -> Option<Heading> {
    let without = |noise: &[&str]| -> Vec<String> {
        let rest = words.iter().filter(|word| !noise.contains(&word.as_str()));
        rest.cloned().collect()
    };
    let of_counting = [FIGURES, &["count", "counted"]].concat();
    let find = |rest: Vec<String>| {
        let rest = (rest.len() < words.len()).then_some(rest)?;
        look_up(&rest).filter(|found| COUNTED.contains(&found.meaning))
    };
    // `Count Bo`: nobody counts what is back-ordered.
    let is_there = |found: &Heading| found.meaning != Meaning::BackOrdered;
    find(without(FIGURES)).or_else(|| find(without(&of_counting)).filter(is_there))
}

/// True where a heading, or a sheet's name, says that tools are listed.
pub fn names_tools(text: &str) -> bool {
    let mut words = fold(text);
    words.retain(|word| !NOISE.contains(&word.as_str()) && word != "list" && word != "bring");
    matches!(words.as_slice(), [tool] if tool == "tool" || tool == "tools")
}

/// True where a heading that is none of the trade's counts what another heading's quantity is for:
/// `Bays`, `No. of bays` beside `Qty per bay`.
pub fn counts_of(text: &str, each_of: &str) -> bool {
    let mut words = fold(text);
    words.retain(|word| !NOISE.contains(&word.as_str()) && word != "no" && word != "qty");
    let counted = words.join(" ");
    let plural = |end: &str| counted.strip_suffix(end) == Some(each_of);
    // Shelf and shelves.
    let softened =
        || counted.strip_suffix("ves") == each_of.strip_suffix('f').or(each_of.strip_suffix("fe"));
    counted == each_of || plural("s") || plural("es") || (counted.ends_with("ves") && softened())
}

/// A heading without the word for a quantity that begins it: `Qty Base` is `Base`.
pub fn without_quantity(text: &str) -> &str {
    let Some((first, rest)) = text.split_once(char::is_whitespace) else {
        return text;
    };
    match fold(first).as_slice() {
        [word] if matches!(word.as_str(), "qty" | "pcs") => rest.trim_start(),
        _ => text,
    }
}

fn look_up(words: &[String]) -> Option<Heading> {
    let phrase = words.join(" ");
    static BY_PHRASE: LazyLock<HashMap<&str, (Meaning, bool), FxBuildHasher>> =
        LazyLock::new(|| {
            HEADINGS
                .iter()
                .map(|&(phrase, m, weak)| (phrase, (m, weak)))
                .collect()
        });
    let &(meaning, weak) = BY_PHRASE.get(phrase.as_str())?;
    let has = |word: &str| words.iter().any(|w| w == word);
    let of_piece =
        meaning == Meaning::Mass && ["unit", "pcs", "part", "item"].iter().any(|word| has(word));
    let basis = if has("each") || has("per") || of_piece {
        Basis::Each
    } else if has("pcs") {
        Basis::Pieces
    } else {
        Basis::Neutral
    };
    let each_of = (["kit", "step", "stage"].into_iter()).find(|of| has("per") && has(of));
    Some(Heading {
        weak,
        basis,
        each_of: each_of.map(Into::into),
        kits: (each_of == Some("kit")).then_some(1),
        asks: has("req"),
        sound: SOUND.iter().any(|word| has(word)),
        ..Heading::plain(meaning)
    })
}

fn with_unit(heading: Heading, words: &str) -> Heading {
    let words = words.trim();
    Heading {
        unit: unit_of(words),
        unit_words: (!words.is_empty()).then(|| words.into()),
        ..heading
    }
}

/// True for the unit of a column's figures: `mm`, `pcs`, `kg`.
pub fn is_unit(text: &str) -> bool {
    let lower = text.trim_end_matches('.').to_lowercase();
    unit_of(&lower).is_some() || WEIGHTS.contains(&&*lower) || FAR.contains(&&*lower)
}

/// The unit of length that a heading names, where it is neither the inch nor the millimetre.
pub fn far_unit(heading: &Heading) -> Option<Box<str>> {
    let words = heading
        .unit_words
        .as_deref()?
        .trim_end_matches('.')
        .to_lowercase();
    let unit = match words.starts_with("met") {
        true => "m",
        false => &words,
    };
    FAR.contains(&words.as_str()).then(|| unit.into())
}

/// The unit of weight that a heading names, whatever else it says.
pub fn weight_unit(text: &str) -> Option<Box<str>> {
    let words = fold(text);
    let unit = words.iter().find(|word| WEIGHTS.contains(&word.as_str()))?;
    Some(unit.as_str().into())
}

fn unit_of(word: &str) -> Option<Unit> {
    let word = word.trim().trim_end_matches('.').to_lowercase();
    if matches!(word.as_str(), "\"" | "''" | "\u{2033}" | "\u{201d}") {
        return Some(Unit::Inch);
    }
    UNITS
        .iter()
        .find(|(w, _)| *w == word)
        .map(|&(_, unit)| unit)
}

/// The text outside brackets, and the text inside the first pair.
fn split_brackets(text: &str) -> (String, String) {
    let Some(open) = text.find(['(', '[']) else {
        return (text.to_owned(), String::new());
    };
    let close = text[open..]
        .find([')', ']'])
        .map_or(text.len(), |close| open + close);
    let after = text.get(close + 1..).unwrap_or_default();
    (
        format!("{} {after}", &text[..open]),
        text[open + 1..close].to_owned(),
    )
}

/// A heading as plain words in lower case.
fn fold(text: &str) -> Vec<String> {
    let lower = text.to_lowercase().replace(['.', '\'', '\u{2019}'], "");
    lower
        .split(|c: char| !(c.is_alphanumeric() || matches!(c, '/' | '#' | '@' | '×')))
        .flat_map(|word| match plain(word) {
            Some(plain) => vec![plain.to_owned()],
            None => word
                .replace('/', " per ")
                .replace('#', " no ")
                .split_whitespace()
                .map(|word| plain(word).unwrap_or(word).to_owned())
                .collect(),
        })
        .collect()
}

fn plain(word: &str) -> Option<&'static str> {
    static PLAIN: LazyLock<HashMap<&str, &str, FxBuildHasher>> =
        LazyLock::new(|| WORDS.iter().copied().collect());
    PLAIN.get(word).copied()
}

#[cfg(test)]
mod tests {
    use super::{Meaning::*, *};
    use crate::hardware;

    #[track_caller]
    fn case(text: &str, meaning: Meaning) {
        assert_eq!(recognise(text).map(|h| h.meaning), Some(meaning), "{text}");
    }

    #[test]
    fn the_table_has_no_heading_twice() {
        for (index, (heading, ..)) in HEADINGS.iter().enumerate() {
            assert!(
                !HEADINGS[..index].iter().any(|(h, ..)| h == heading),
                "{heading}"
            );
            let folded = fold(heading).join(" ");
            assert_eq!(&folded, heading, "the table holds plain words");
        }
    }

    #[test]
    fn quantities() {
        for text in [
            "Qty",
            "QTY.",
            "Quantity",
            "Quantity Required",
            "Qty. Req'd",
            "Pcs",
            "Pieces",
            "Count",
            "No. off",
            "No. Req\u{2019}d",
            "Quan.",
            "Q'ty",
            "# Pcs",
            "Qty (pcs)",
            "Qty needed",
            "Assy Req'd",
            "Req'd per assembly",
        ] {
            case(text, Quantity);
        }
        for text in [
            "Total",
            "Total Qty",
            "Qty Total",
            "Qty (total)",
            "Qty per kit",
            "Total pcs",
            "Tot.",
        ] {
            case(text, Total);
        }
        for text in [
            "Places",
            "No. of places",
            "# Locations",
            "Multiplier",
            "Times",
            "×",
        ] {
            case(text, Places);
        }
        for text in [
            "Pack size",
            "Pack of",
            "PACK OF",
            "Qty/bag",
            "Pcs per bag",
            "Per bag",
            "Qty per box",
            "Bag qty",
        ] {
            case(text, PackSize);
        }
        for text in ["Packs", "No. of bags", "Bags", "Boxes", "# of boxes"] {
            case(text, Packs);
        }
        for text in ["U/M", "UOM", "Unit", "Unit of measure", "Unit of issue"] {
            case(text, Meaning::Unit);
        }
    }

    #[test]
    fn slips_and_counts() {
        case("QTY SHIP", Shipped);
        case("Qty Shipped", Shipped);
        case("Shipped", Shipped);
        case("Ordered", Ordered);
        case("QTY ORD", Ordered);
        case("Order qty", Ordered);
        case("B/O", BackOrdered);
        case("Back-ordered", BackOrdered);
        case("Qty Back Ordered", BackOrdered);
        for text in [
            "Good",
            "Qty counted",
            "Counted good",
            "Good (counted)",
            "No. usable",
            "there",
        ] {
            case(text, Good);
        }
        for text in ["Counted damaged", "Pcs bad", "No. of damaged pcs"] {
            case(text, Damaged);
        }
        assert!(recognise("Counted good").unwrap().sound);
        assert!(!recognise("Counted").unwrap().sound);
        case("Damaged", Damaged);
        case("Bent/damaged", Damaged);
        case("Bent or stripped", Damaged);
        assert_eq!(recognise("Damaged or missing"), None);
        assert_eq!(recognise("Count Bo"), None);
        assert_eq!(recognise("Type A"), None);
        case("Count B", Quantity);
        case("Menge / Qty", Quantity);
        assert_eq!(recognise("Menge / Qty").unwrap().each_of, None);
        case("Counted by", CountedBy);
        case("Who", CountedBy);
        case("Packed by", Ignored);
        case("Picker (initials)", Ignored);
        case("Received", Received);
        case("Received (yes/no)", Received);
        case("Id", Id);
    }

    #[test]
    fn items() {
        case("Description", Description);
        case("Item", Description);
        case("Part", Description);
        case("Text", Description);
        case("DESC2", Description);
        case("Description 1", Description);
        case("Size", Size);
        case("Size (dia x length)", Size);
        case("Dia. in", Diameter);
        case("Diameter (mm)", Diameter);
        case("Length (mm)", Length);
        case("Lg.", Length);
        case("Thread", Thread);
        case("Grade/Class", Grade);
        case("Class", Grade);
        case("Finish", Finish);
        for text in [
            "Part no.",
            "Part #",
            "P/N",
            "PN",
            "SKU",
            "Part number",
            "Stock No.",
            "Item Code",
        ] {
            case(text, PartNumber);
        }
    }

    #[test]
    fn the_rest() {
        for text in [
            "Stage",
            "Step",
            "Section",
            "Assembly",
            "Step #",
            "Assembly step",
        ] {
            case(text, Stage);
        }
        case("Where used", Place);
        case("Location", Place);
        case("Bag", Bag);
        case("Bag #", Bag);
        case("Carton", Box);
        case("Box no.", Box);
        case("Bag / bundle", Bag);
        case("Bag or box", Bag);
        case("Colis", Box);
        case("Option", Option);
        case("Use", Use);
        case("Torque (ft-lb)", Torque);
        case("Torque Nm", Torque);
        case("Remarks", Note);
        for text in ["Line", "No.", "#", "Unit price", "Price", "Ref.", "Seq."] {
            case(text, Ignored);
        }
        for text in ["Mass, kg", "Weight (lb)", "Wt. each (kg)", "Unit wt", "kg"] {
            assert_eq!(
                recognise(text).map(|h| h.meaning),
                (text != "kg").then_some(Mass),
                "{text}"
            );
        }
        case("Total weight (kg)", TotalMass);
        case("Tightening sequence", Sequence);
        case("Torque order", Sequence);
    }

    #[test]
    fn no_heading() {
        for text in [
            "",
            "24",
            "1/2 x 3 hex bolt",
            "Splice plate",
            "Rev C",
            "hex bolt",
        ] {
            assert_eq!(recognise(text), None, "{text}");
        }
    }

    #[test]
    fn what_a_heading_says_besides() {
        let of = |text: &str| recognise(text).unwrap();
        assert_eq!(of("Length (mm)").unit, Some(hardware::Unit::Millimetre));
        assert_eq!(of("Dia. in").unit, Some(hardware::Unit::Inch));
        assert_eq!(of("Dia (\")").unit, Some(hardware::Unit::Inch));
        assert_eq!(of("Qty").basis, Basis::Neutral);
        assert_eq!(of("Qty each").basis, Basis::Each);
        assert_eq!(of("Qty per place").basis, Basis::Each);
        assert_eq!(of("Qty per post").basis, Basis::Each);
        assert_eq!(of("Qty (each)").basis, Basis::Each);
        assert_eq!(of("Pcs").basis, Basis::Pieces);
        assert_eq!(of("Torque (ft-lb)").unit_words.as_deref(), Some("ft-lb"));
        for (text, basis, unit) in [
            ("Mass, kg", Basis::Neutral, Some("kg")),
            ("Weight (lb)", Basis::Neutral, Some("lb")),
            ("Weight kg each", Basis::Each, Some("kg")),
            ("Weight (kg/pc)", Basis::Each, Some("kg")),
            ("Unit weight lbs", Basis::Each, Some("lbs")),
            ("Piece weight", Basis::Each, None),
        ] {
            assert_eq!(of(text).basis, basis, "{text}");
            assert_eq!(of(text).unit_words.as_deref(), unit, "{text}");
        }
    }
}
