//! What stands over a slip and is no slip's (`Order confirmation 22`), and what stands in a count and is none of its lines:
//! `Defective:`, `gone`, `(2 missing)`. Such words take pieces away, and no table of them is complete, so that between the
//! lines all are asked about but those of the other lists and those that say where or what the pieces are; over the first
//! line, where the names of people and jobs stand, those that are known to say it (common practice, no source).

use std::path::Path;

use rustc_hash::FxHashSet;

use crate::{
    kit::{Aside, List, Role, Title, remark::is_of_lacking},
    words::{count, singular_words},
};

/// A longer title is an instruction to whoever counts.
const LONGEST: usize = 60;

/// Asks about such rows of counts, where more than what is there may be meant.
pub fn ask_of_titles(lists: &mut [List]) {
    let slips = lists.iter_mut().filter(|list| list.role == Role::Shipped);
    slips.for_each(tell_papers);
    let known = known_words(lists);
    let is_known = |word: &str| known.contains(word) || is_plain(word);
    for list in lists.iter_mut().filter(|list| list.role == Role::Counted) {
        ask_of_names(list);
        let people = people(list);
        let is_known = |word: &str| is_known(word) || people.contains(word);
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

/// The words of those who counted, as the count names them: in a column, or over its first line, where what may take
/// pieces away is asked about by itself.
fn people(list: &List) -> FxHashSet<String> {
    let columns = list
        .placements
        .iter()
        .filter_map(|of| of.counted_by.as_deref());
    let titles = list.sheets.iter().flat_map(|of| &of.titles);
    let over = titles
        .filter(|title| !title.inner)
        .map(|title| &*title.text);
    columns.chain(over).flat_map(words).collect()
}

/// Asks about sheets of a count whose name says that nothing on them is there: `Missing`, `To order`; so of its file.
fn ask_of_names(list: &mut List) {
    let path = Path::new(&list.file).file_stem();
    let file = path.and_then(|stem| stem.to_str()).unwrap_or_default();
    let file = file.to_owned();
    for of in &mut list.sheets {
        let names = [of.name.as_deref().unwrap_or_default(), &file];
        let lacking = names.into_iter().find(|name| is_of_lacking(name));
        let lacking = lacking.filter(|_| of.passed_over.is_none());
        if let Some(name) = lacking.map(str::to_owned) {
            of.ask(format!(
                "by its name, \"{name}\", it may list what is not there: it is taken for a count"
            ));
        }
    }
}

/// Tells of slips of which a title says that they are no account of what was packed. An invoice mostly is one (common
/// practice, no source).
fn tell_papers(list: &mut List) {
    for of in &mut list.sheets {
        let names = |title: &Title, papers: &[&str]| {
            let words: Vec<String> = singular_words(&title.text).collect();
            let words = format!(" {} ", words.join(" "));
            papers
                .iter()
                .any(|paper| words.contains(&format!(" {paper} ")))
        };
        let over = || of.titles.iter().filter(|title| !title.inner);
        let title = over().find(|title| names(title, NO_SLIPS));
        // `Quotation: Q-22` on a packing slip.
        let is_slip = |other: &Title| names(other, SLIPS) && !names(other, NO_SLIPS);
        if let Some(title) = title.filter(|_| !over().any(is_slip)) {
            let (row, text) = (title.row, &title.text);
            of.notes
                .push(format!("row {row} says \"{text}\": is it what was packed?"));
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

/// The words of a text; not what holds a figure, nor a single letter.
fn words(text: &str) -> impl Iterator<Item = String> {
    let letters = |word: &&str| word.chars().count() > 1 && word.chars().all(char::is_alphabetic);
    let words = text.split(|c: char| !c.is_alphanumeric());
    words.filter(letters).flat_map(singular_words)
}

/// True for a word, without the plural, that takes nothing away between the lines of a count.
pub fn is_plain(word: &str) -> bool {
    PLAIN.contains(&word)
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

/// Papers that say what was asked for, offered, to be picked or given back, and not what was packed, in words without the
/// plural.
#[rustfmt::skip]
const NO_SLIPS: &[&str] = &[
    "order confirmation", "confirmation of order", "order acknowledgement", "order acknowledgment",
    "purchase order", "order form", "quotation", "quote", "estimate", "offer", "proforma", "pro forma", "pick list",
    "picking list", "return note", "credit note", "not packed", "void", "replace",
];

/// Papers that say what was packed.
const SLIPS: &[&str] = &[
    "slip",
    "packing list",
    "delivery note",
    "despatch note",
    "dispatch note",
    "shipping list",
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
    use crate::kit::{Line, Placement};

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
    fn names_that_say_that_nothing_is_there() {
        for (name, expected) in [
            ("Missing", true),
            ("To order", true),
            ("Damaged", true),
            ("Count", false),
            ("Frame", false),
            ("Order 17 count", false),
        ] {
            let counted = ListOf::counted().line("part - ridge clip", 8, &plain);
            let counted = counted.edit(|list| list.sheets[0].name = Some(name.into()));
            let mut lists = [counted.list()];
            ask_of_titles(&mut lists);
            assert_eq!(lists[0].sheets[0].question.is_some(), expected, "{name}");
        }
    }

    #[test]
    fn slips_that_are_none() {
        for (text, expected) in [
            ("Order confirmation 22", true),
            ("QUOTATION no. 22", true),
            ("Pro-forma invoice", true),
            ("Pick list, not packed yet", true),
            ("Credit notes 22", true),
            ("Replaces slip 21", true),
            ("Packing slip for order 22", false),
            ("Invoice 22", false),
            ("Delivery note", false),
        ] {
            let title = Title {
                row: 1,
                text: text.into(),
                inner: false,
            };
            let slip = ListOf::shipped().line("part - ridge clip", 8, &plain);
            let mut lists = [slip
                .edit(|list| list.sheets[0].titles.push(title.clone()))
                .list()];
            ask_of_titles(&mut lists);
            let told = format!("row 1 says \"{text}\": is it what was packed?");
            let expected: Vec<String> = expected.then_some(told).into_iter().collect();
            assert_eq!(lists[0].sheets[0].notes, expected, "{text}");
        }
    }

    #[test]
    fn who_counted_is_no_question() {
        let of = |text: &str, inner: bool| Title {
            row: 5,
            text: text.into(),
            inner,
        };
        for (inner, expected) in [("Mia", false), ("Lena", false), ("Bo", true)] {
            let titles = [of("Mia, 4 May 2026", false), of(inner, true)];
            let by = |line: &mut Line, placement: &mut Placement| {
                plain(line, placement);
                placement.counted_by = Some("Lena".into());
            };
            let counted = ListOf::counted().line("part - ridge clip", 8, &by);
            let counted = counted.edit(|list| list.sheets[0].titles.extend(titles.clone()));
            let mut lists = [counted.list()];
            ask_of_titles(&mut lists);
            assert_eq!(lists[0].sheets[0].question.is_some(), expected, "{inner}");
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
