//! What stands in a count and is none of its lines: `Defective:`, `gone`, `(2 missing)`, `Copied from the slip`. It may
//! take pieces away, and no table of such words is complete, so that between the lines all are asked about but those of
//! the other lists and those that say where or what the pieces are; over the first line, where the names of people and
//! jobs stand, those that are known to say it (common practice, no source).

use rustc_hash::FxHashSet;

use crate::{
    kit::{Aside, List, Role},
    words::count,
};

/// A longer title is an instruction to whoever counts.
const LONGEST: usize = 60;

/// Asks about such rows of counts, where more than what is there may be meant.
pub fn ask_of_titles(lists: &mut [List]) {
    let known = known_words(lists);
    let is_known = |word: &str| known.contains(word) || PLAIN.contains(&word);
    for list in lists.iter_mut().filter(|list| list.role == Role::Counted) {
        let mut asked: Vec<(u16, u32, String)> = Vec::new();
        for (sheet, of) in (0..).zip(&list.sheets) {
            for title in &of.titles {
                let mut words = words(&title.text);
                let is_short = title.text.len() <= LONGEST;
                let strange = match title.inner {
                    true => words.any(|word| !is_known(&word)) || says_of_each(&title.text),
                    false => {
                        let telling = words.any(|word| TELLING.contains(&word.as_str()));
                        is_short && (telling || says_of_each(&title.text))
                    }
                };
                if strange {
                    asked.push((sheet, title.row, title.text.to_string()));
                }
            }
        }
        for line in &list.lines {
            let is_aside = matches!(
                list.aside_of(line),
                Some(Aside::NoItem(_) | Aside::InWords(_))
            );
            // A row of a table without a figure: `one bent`.
            let names_none = || {
                let part = list.reading_of(line)?.item.part.as_ref()?;
                let name = part.description.as_deref()?;
                Some(line.quantity.is_none() && words(name).any(|word| !is_known(&word)))
            };
            if is_aside || names_none().unwrap_or(false) {
                asked.push((line.sheet, line.row, list.text_of(line).into_owned()));
            }
        }
        asked.sort_unstable();
        if let Some((sheet, row, text)) = asked.first() {
            let more = match asked.len() - 1 {
                0 => String::new(),
                more => format!(", and {} more such", count(more as u64, "row")),
            };
            let question = format!(
                "row {row} says \"{text}\"{more}, which may take pieces away: they are taken as they stand"
            );
            list.sheets[usize::from(*sheet)].ask(question);
        }
    }
}

/// True for `packs of 10`, but not for `sheet 1 of 2` and `count of 3 June`.
fn says_of_each(text: &str) -> bool {
    let mut words = text.split_whitespace().rev();
    let mut next = || words.next().unwrap_or_default();
    let (last, of, before) = (next(), next(), next());
    last.parse::<u32>().is_ok() && of == "of" && !before.starts_with(|c: char| c.is_ascii_digit())
}

/// The words of the lists that say what there is and where it goes.
fn known_words(lists: &[List]) -> FxHashSet<String> {
    let mut known = FxHashSet::default();
    let makers = |list: &&List| matches!(list.role, Role::Required | Role::Shipped);
    let counts = lists.iter().any(|list| list.role == Role::Counted);
    for list in lists.iter().filter(makers).filter(|_| counts) {
        let texts = list
            .readings
            .iter()
            .filter_map(|reading| reading.item.part.as_ref());
        let texts = texts.filter_map(|part| part.description.as_deref());
        let places = list.placements.iter().flat_map(|of| {
            let option = of.option.as_ref().map(|option| &option.name);
            let all = [&of.stage, &of.place, &of.bag, &of.carton];
            all.into_iter().flatten().chain(option).map(AsRef::as_ref)
        });
        for text in texts.chain(places).chain([list.file.as_str()]) {
            known.extend(words(text));
        }
    }
    known
}

/// The words of a text, in small letters and without the plural; not what holds a figure.
fn words(text: &str) -> impl Iterator<Item = String> {
    let words = text.split(|c: char| !c.is_alphanumeric());
    let words =
        words.filter(|word| word.chars().count() > 1 && word.chars().all(char::is_alphabetic));
    words.map(|word| word.to_lowercase().trim_end_matches('s').to_owned())
}

/// Words between the lines of a count that take nothing away: what the pieces are, where they lie, who counted and when.
#[rustfmt::skip]
const PLAIN: &[&str] = &[
    "count", "counted", "counting", "bench", "check", "checked", "tally", "stock", "list", "sheet", "page", "item", "by",
    "on", "at", "in", "the", "of", "and", "with", "for", "from", "to", "a", "all", "or", "thi", "these", "here", "there",
    "part", "piece", "hardware", "fastener", "fixing", "fitting", "bolt", "screw", "nut", "washer", "pin", "rivet", "rod",
    "anchor", "stud", "timber", "steel", "metal", "plastic", "big", "small", "large", "long", "short", "loose", "other",
    "bag", "box", "boxe", "carton", "crate", "pallet", "case", "tin", "tub", "bundle", "parcel", "drawer", "shelf", "rack", "bin",
    "tray", "van", "truck", "trailer", "shop", "store", "yard", "floor", "table", "room", "bay", "hall", "garage", "left",
    "right", "front", "rear", "back", "top", "bottom", "upper", "lower", "inner", "outer", "side", "end", "first",
    "second", "third", "one", "two", "three", "four", "next", "last", "stage", "step", "section", "morning", "afternoon",
    "evening", "today", "day", "date", "time", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday",
    "sunday", "january", "february", "march", "april", "may", "june", "july", "august", "september", "october",
    "november", "december", "jan", "feb", "mar", "apr", "jun", "jul", "aug", "sep", "oct", "nov", "dec", "kit", "job",
    "site", "qty", "quantity", "number", "good", "ok", "complete", "done", "name", "total", "note",
];

/// Words of a count's title that say it is no count of what is there, or not piece by piece.
#[rustfmt::skip]
const TELLING: &[&str] = &[
    "copied", "copy", "estimated", "estimate", "guessed", "guess", "roughly", "memory", "target", "planned", "expected",
    "required", "needed", "wanted", "example", "sample", "void", "cancelled", "draft", "pair", "dozen", "hundred", "used",
    "taken", "left", "remaining", "still", "missing", "lacking", "order", "ordered", "damaged", "defective", "broken",
    "bent", "approximate", "rough", "unverified", "leftover", "ignore", "test", "superseded", "before", "listed", "returned", "return", "not", "without", "except", "per", "another", "half", "twice", "double",
    "old", "unfinished", "incomplete", "partly", "stolen", "gone", "lost", "scrap", "reject", "spare", "surplu",
];

#[cfg(test)]
mod tests {
    use super::super::sample::{ListOf, plain, stage};
    use super::*;
    use crate::kit::Title;

    #[track_caller]
    fn asked(text: &str, inner: bool, expected: bool) {
        let required = ListOf::required().line("part - ridge clip", 8, &stage("Roof"));
        let title = Title {
            row: 5,
            text: text.into(),
            inner,
        };
        let counted = ListOf::counted().line("part - ridge clip", 8, &plain);
        let counted = counted.edit(|list| list.sheets[0].titles.push(title.clone()));
        let mut lists = [required.list(), counted.list()];
        ask_of_titles(&mut lists);
        let told = format!(
            "row 5 says \"{text}\", which may take pieces away: they are taken as they stand"
        );
        assert_eq!(
            lists[1].sheets[0].question,
            expected.then_some(told),
            "{text}"
        );
    }

    #[test]
    fn titles_that_may_take_pieces_away() {
        for text in ["Defective:", "gone", "Our own:", "rusty", "for kit 2, Bo"] {
            asked(text, true, true);
        }
        for text in [
            "Copied from the slip",
            "Left over",
            "Count 4 May - still missing",
            "In pairs",
        ] {
            asked(text, false, true);
        }
        for text in [
            "Roof",
            "Big parts:",
            "Ridge clips",
            "On the pallet",
            "Bag 3",
            "Fixings",
            "Monday 4 May",
        ] {
            asked(text, true, false);
        }
        for text in [
            "Mia, 4 May 2026",
            "Bench count, shelter 7",
            "Counted by Tom",
        ] {
            asked(text, false, false);
        }
    }

    #[test]
    fn what_is_aside_in_a_count() {
        let required = ListOf::required().line("part - ridge clip", 8, &plain);
        let counted = ListOf::counted().line("part - ridge clip", 8, &plain);
        let counted = counted.aside("no item found", &plain);
        let mut lists = [required.list(), counted.list()];
        ask_of_titles(&mut lists);
        let question = lists[1].sheets[0].question.clone();
        assert!(question.is_some_and(|asked| asked.contains("may take pieces away")));
    }
}
