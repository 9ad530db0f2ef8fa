//! Words of a count that were not understood, beside hardware: `8 hex bolts M8 x 40 sent back`. They may take pieces
//! away, and no table of such words is complete, so that they are a remark that may change how many; a word that the
//! parts list or the slip uses, too, is one of its names (common practice, no source). So is what is
//! said behind the comma of a part's name: `8 rails, borrowed`; and a mark that points to what is said elsewhere: `rails * | 8`.

use std::sync::LazyLock;

use regex::Regex;

use rustc_hash::FxHashSet;

use crate::{
    doubt::Doubt,
    kit::{List, Reading, Role, What, remark::may_change},
    notation::says_finish,
    words::{pattern, singular_words},
};

/// More lines are no bench count.
const MOST: usize = 10_000;

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
