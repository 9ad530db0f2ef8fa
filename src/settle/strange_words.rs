//! Words of a count that were not understood, beside hardware: `8 hex bolts M8 x 40 sent back`. They may take pieces
//! away, and no table of such words is complete, so that they are a remark that may change how many; a word that the
//! parts list or the slip uses, too, is one of its names (common practice, no source). So is what is
//! said behind the comma of a part's name: `8 rails, borrowed`; and a mark that points to what is said elsewhere: `rails * | 8`.

use std::sync::LazyLock;

use regex::Regex;

use rustc_hash::FxHashSet;

use super::strange_titles::is_plain;
use crate::{
    doubt::Doubt,
    kit::{
        List, Reading, Role, What,
        remark::{may_be_change, may_change},
    },
    notation::says_finish,
    words::{pattern, singular_words},
};

/// More lines are no bench count.
const MOST: usize = 10_000;

/// Words that lead to what is said of an item, behind its name.
const LEADS: &[&str] = &[
    "for", "from", "to", "on", "at", "by", "off", "with", "as", "like", "when", "if", "after",
    "before", "under", "over", "and",
];
/// The same, where they take away from it or add to it, whatever follows.
const TAKING: &[&str] = &[
    "without",
    "no",
    "not",
    "minus",
    "less",
    "except",
    "excepting",
    "but",
    "plus",
];
/// What a slip says of how it was made is a part of its name, but for these.
const OF_SLIPS: &[&str] = &["from", "to", "on", "by"];

/// Doubts the lines of slips and counts behind whose item a tail of words says what no parts list does: `bolt for repair`,
/// `leg on order`, `bolt minus one`.
pub fn doubt_tails(lists: &mut [List]) {
    let short = |list: &List| list.lines.len() <= MOST;
    let required = |list: &&List| list.role == Role::Required;
    if !lists.iter().any(|list| required(&list)) || !lists.iter().filter(required).all(short) {
        return;
    }
    let mut known: FxHashSet<String> = FxHashSet::default();
    for list in lists.iter().filter(required) {
        for line in &list.lines {
            known.extend(singular_words(&list.text_of(line)));
            let place = list.placement_of(line);
            let names = [&place.stage, &place.place, &place.bag, &place.carton];
            let names = names.into_iter().flatten();
            known.extend(names.flat_map(|name| singular_words(name)));
        }
    }
    let told = |list: &&mut List| matches!(list.role, Role::Shipped | Role::Counted);
    for list in lists.iter_mut().filter(told).filter(|list| short(list)) {
        let tails = list.lines.iter().enumerate().filter_map(|(at, line)| {
            let reading = list.reading_of(line)?;
            let asked = list.doubts_of(line).any(Doubt::is_of_how_many);
            let text = list.text_of(line);
            let tail = match name(reading) {
                Some(name) => tail_of(name, 1, list.role, &known)?,
                None => {
                    let is_kind =
                        |word: &str| reading.item.kind.is_some_and(|kind| kind.as_str() == word);
                    let cells = text.split(" | ");
                    let mut behind = cells.filter_map(|cell| {
                        let words = cell.split_whitespace();
                        let at = words
                            .clone()
                            .position(|word| singular_words(word).any(|word| is_kind(&word)))?;
                        tail_of(cell, at + 1, list.role, &known)
                    });
                    behind.next()?
                }
            };
            (!asked && line.quantity.is_some()).then(|| (at, Box::from(tail)))
        });
        let tails: Vec<(usize, Box<str>)> = tails.collect();
        for (at, tail) in tails {
            list.lines[at].more_mut().doubts.push(Doubt::Remark(tail));
        }
    }
}

/// The words behind the first so many of a name, from one on that leads to what nobody knows.
fn tail_of<'t>(
    name: &'t str,
    from: usize,
    role: Role,
    known: &FxHashSet<String>,
) -> Option<&'t str> {
    let mut words = name.split_whitespace();
    let start = |word: &str| word.as_ptr() as usize - name.as_ptr() as usize;
    let lead = words.clone().skip(from).find(|word| {
        let word = word.to_lowercase();
        LEADS.contains(&&*word) || TAKING.contains(&&*word)
    })?;
    let tail = &name[start(lead)..];
    words.by_ref().find(|word| start(word) == start(lead));
    let lead = lead.to_lowercase();
    let takes = TAKING.contains(&&*lead);
    let of_slips = takes || OF_SLIPS.contains(&&*lead) || may_be_change(tail, role);
    if role == Role::Shipped && !of_slips || is_measure(tail) || says_finish(tail) {
        return None;
    }
    let strange = |word: &str| {
        let letters = word.chars().all(char::is_alphabetic) && word.chars().count() > 1;
        letters && !known.contains(word) && !is_plain(word) && !says_finish(word)
    };
    let says = match takes {
        true => !known.contains(&lead) && words.next().is_some(),
        false => words.flat_map(singular_words).any(|word| strange(&word)),
    };
    (says && may_change(tail, role)).then_some(tail)
}

/// Doubts how many pieces the lines of counts mean that hold such words.
pub fn doubt_strange_words(lists: &mut [List]) {
    let (mut counts, others): (Vec<&mut List>, Vec<&mut List>) =
        (lists.iter_mut()).partition(|list| list.role == Role::Counted);
    let named = |list: &&&mut List| matches!(list.role, Role::Required | Role::Shipped);
    let readings = (others.iter())
        .filter(named)
        .flat_map(|list| &list.readings);
    if !(others.iter().filter(named)).any(|list| marked(list).next().is_some()) {
        counts.iter_mut().for_each(|list| doubt_marks(list));
    }
    let said = readings.flat_map(|reading| {
        let doubts = reading.doubts.iter().filter_map(strange);
        doubts.chain(name(reading))
    });
    let known: FxHashSet<String> = said.flat_map(singular_words).collect();
    for reading in counts.into_iter().flat_map(|list| &mut list.readings) {
        let told = name(reading).and_then(|name| Some(name.rsplit_once(", ")?.1));
        if let Some(told) = told
            && !says_finish(told)
            && !is_measure(told)
            && singular_words(told).any(|word| !known.contains(&word))
            && may_change(told, Role::Counted)
        {
            let told = told.into();
            reading.doubts.push(Doubt::Remark(told));
        }
        if reading.item.part.is_some() {
            continue;
        }
        for doubt in &mut reading.doubts {
            if let Some(said) = strange(doubt)
                && singular_words(said).any(|word| !known.contains(&word))
            {
                *doubt = Doubt::Remark(said.into());
            }
        }
    }
}

/// `4 x 4`, `10 ft`: what a thing measures.
fn is_measure(told: &str) -> bool {
    static MEASURE: LazyLock<Regex> = LazyLock::new(|| {
        let figure = r"\d+(?:[-\s./]\d+)*";
        let unit = r#"(?:mm|cm|m|in|inch|inches|ft|feet|foot|"|')"#;
        pattern(&format!(
            r"(?i)^{figure}\s?(?:{unit}|{unit}?(?:\s?[x×]\s?{figure}\s?{unit}?)+)$"
        ))
    });
    MEASURE.is_match(told.trim())
}

/// Doubts the lines of a count that bear a mark, where no other list marks any of its own.
fn doubt_marks(list: &mut List) {
    let marked: Vec<(usize, Box<str>)> = marked(list).collect();
    for (at, mark) in marked {
        let more = list.lines[at].more_mut();
        more.doubts.push(Doubt::Remark(mark));
    }
}

/// The lines with a mark behind their name or their figure, and the mark.
fn marked(list: &List) -> impl Iterator<Item = (usize, Box<str>)> {
    static MARK: LazyLock<Regex> =
        LazyLock::new(|| pattern(r"[\p{L}\d)]\s?(?P<mark>[*!\u{2020}]+)\s*(?:[|;]|$)"));
    let lines = list.lines.iter().take(MOST).enumerate();
    lines.filter_map(|(at, line)| {
        let text = matches!(line.what, What::Item(_)).then(|| list.text_of(line))?;
        let found = MARK.captures(&text)?;
        Some((at, found["mark"].into()))
    })
}

/// What a part is called.
fn name(reading: &Reading) -> Option<&str> {
    reading.item.part.as_deref()?.description.as_deref()
}

fn strange(doubt: &Doubt) -> Option<&str> {
    match doubt {
        Doubt::UnknownWords(said) => Some(said),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample::{ListOf, plain};
    use super::*;

    #[test]
    fn words_that_the_lists_share_are_names() {
        let with = |list: ListOf, said: &str| {
            let doubt = Doubt::UnknownWords(said.into());
            list.line("bolt hex 1/2-13 6", 8, &plain)
                .edit(|list| {
                    let reading = list.readings.last_mut().expect("just pushed");
                    reading.doubts.push(doubt.clone());
                })
                .list()
        };
        let doubts = |required: &str, counted: &str| {
            let mut lists = [
                with(ListOf::required(), required),
                with(ListOf::counted(), counted),
            ];
            doubt_strange_words(&mut lists);
            lists[1].readings[0].doubts.clone()
        };
        assert_eq!(doubts("drilled", "gone"), [Doubt::Remark("gone".into())]);
        for (required, counted) in [("drilled", "Drilled"), ("swing hook", "swing hooks")] {
            let shared = Doubt::UnknownWords(counted.into());
            assert_eq!(doubts(required, counted), [shared]);
        }
    }

    // Common practice, no source.
    #[test]
    fn tails_behind_names() {
        let known: FxHashSet<String> = ["bolt", "leg", "post"]
            .map(str::to_owned)
            .into_iter()
            .collect();
        let case = |role: Role, name: &str, from: usize, expected: Option<&str>| {
            assert_eq!(tail_of(name, from, role, &known), expected, "{name}");
        };
        for role in [Role::Counted, Role::Shipped] {
            for tail in [
                "from another kit",
                "without nut",
                "minus one",
                "plus one",
                "not all",
                "on order",
                "to return",
                "no thread",
            ] {
                case(role, &format!("leg {tail}"), 1, Some(tail));
                case(role, &format!("M10 x 50 hex bolt {tail}"), 5, Some(tail));
            }
        }
        for tail in ["for repair", "for later", "with wrong head", "and one more"] {
            case(Role::Counted, &format!("leg {tail}"), 1, Some(tail));
        }
        for name in [
            "leg for the post",
            "leg with bolt",
            "leg",
            "leg, zinc",
            "bolt in box 2",
            "leg on pallet 2",
            "bolt and washer",
        ] {
            case(Role::Counted, name, 1, None);
            case(Role::Shipped, name, 1, None);
        }
        case(Role::Shipped, "screw for wood", 1, None);
    }

    /// A count of a part, beside a list that calls it so.
    fn doubted(required: &str, counted: &str) -> List {
        let list = |of: ListOf, name: &str| of.line(&format!("part - {name}"), 8, &plain).list();
        let mut lists = [
            list(ListOf::required(), required),
            list(ListOf::counted(), counted),
        ];
        doubt_strange_words(&mut lists);
        let [_, count] = lists;
        count
    }

    /// Common practice, no source.
    #[test]
    fn what_is_said_behind_the_comma_of_a_name() {
        let case = |required: &str, counted: &str, expected: Option<&str>| {
            let count = doubted(required, counted);
            let doubts = &count.readings[0].doubts;
            let said = expected.map(|said| Doubt::Remark(said.into()));
            assert_eq!(doubts.first(), said.as_ref(), "{counted}");
        };
        case("rail", "rail, borrowed", Some("borrowed"));
        case("rail", "rail, see bo", Some("see bo"));
        case("rail, left", "rail, left", None);
        case("rail", "rail, ok", None);
        case("rail", "rail, galvanised", None);
        case("rail", "rail", None);
        for measure in ["4 x 4", "10 ft", "2 x 6", "40x40x3 mm", "3-1/2 in", "6'"] {
            case("rail", &format!("rail, {measure}"), None);
        }
        for count in ["4", "4 x", "2 bent", "4 x 4 bent"] {
            case("rail", &format!("rail, {count}"), Some(count));
        }
    }

    /// Common practice, no source.
    #[test]
    fn a_mark_points_to_what_is_said_elsewhere() {
        let case = |required: &str, counted: &str, expected: Option<&str>| {
            let count = doubted(required, counted);
            let doubts = count.lines[0].doubts();
            let said = expected.map(|said| Doubt::Remark(said.into()));
            assert_eq!(doubts.first(), said.as_ref(), "{counted}");
        };
        case("rail", "rail *", Some("*"));
        case("rail", "rail**", Some("**"));
        case("rail", "rail !", Some("!"));
        case("rail", "rail * 8", None);
        case("rail", "rail", None);
        // The list marks its own.
        case("rail *", "rail *", None);
    }
}
