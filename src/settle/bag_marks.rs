//! Lines that name a bag of the parts list by its own mark, and not by the word: `HW-1 | 1`.

use std::collections::BTreeSet;

use rustc_hash::{FxHashMap, FxHashSet};

use super::inventory::{container_key, is_container_noun};
use crate::{
    doubt::Doubt,
    hardware::PartName,
    kit::{Line, LineStatus, List, Placement, Reading, Role, What},
    notation::{Notation, describe},
};

/// Puts the lines of slips and counts into the bags of the required lists whose marks stand in front of them, and makes
/// bags of those that bear a mark and no more, where no required list has an item of that mark; and says so.
pub fn know_bags(lists: &mut [List]) {
    let marks = Marks::of(lists);
    if marks.bags.is_empty() {
        return;
    }
    let lists = lists.iter_mut();
    lists
        .filter(|list| matches!(list.role, Role::Shipped | Role::Counted))
        .for_each(|list| {
            marks.put_in(list);
            marks.know_in(list);
        });
}

/// The bags of the required lists: their names, by the form in which names are compared.
struct Marks {
    bags: FxHashMap<Box<str>, Box<str>>,
}

impl Marks {
    fn of(lists: &[List]) -> Marks {
        let required = || lists.iter().filter(|list| list.role == Role::Required);
        let placements = required().flat_map(|list| &list.placements);
        let named = placements.filter_map(|of| of.bag.as_ref());
        let mut bags: FxHashMap<Box<str>, Box<str>> = FxHashMap::default();
        for name in named {
            bags.entry(container_key(name)).or_insert(name.clone());
        }
        if !bags.is_empty() {
            for reading in required().flat_map(|list| &list.readings) {
                let part = reading.item.part.as_deref();
                let number = part.and_then(|part| part.number.as_ref());
                let description = part.and_then(|part| part.description.as_ref());
                for name in [number, description, reading.part_number.as_ref()] {
                    name.map(|name| bags.remove(&container_key(name)));
                }
            }
        }
        Marks { bags }
    }

    /// The bag that a part's name is the mark of.
    fn bag(&self, part: &PartName) -> Option<&str> {
        let of = |name: &str| self.bags.get(&container_key(name)).map(AsRef::as_ref);
        match (part.description.as_deref(), part.number.as_deref()) {
            (Some(words), Some(number)) => {
                // `HW-1 | Hardware bag`.
                let of_words = of(words);
                let says_bag =
                    || times(words).is_some() || words.split_whitespace().all(is_container_noun);
                of_words.or_else(|| of(number).filter(|_| says_bag()))
            }
            (Some(name), None) | (None, Some(name)) => of(name),
            (None, None) => None,
        }
    }

    /// The bag whose mark stands in front of a line: `A: 12 bolts`, `B - 4 nuts`, `(C) 8 washers`.
    fn in_front<'m>(&'m self, text: &'m str) -> Option<(&'m str, &'m str)> {
        let text = text.trim_start().trim_start_matches('(');
        let mark = text.split([':', ')', ' ']).next()?;
        let behind = &text[mark.len()..];
        let parted = [":", ")", " - ", " \u{2013} "]
            .iter()
            .any(|sign| behind.starts_with(sign));
        let bag = self.bags.get(&container_key(mark)).filter(|_| parted)?;
        Some((bag, mark))
    }

    /// Puts lines into the bags whose marks stand in front of them.
    fn put_in(&self, list: &mut List) {
        for at in 0..list.lines.len() {
            let line = &list.lines[at];
            let (What::Item(reading), None) = (&line.what, &list.placement_of(line).bag) else {
                continue;
            };
            let reading = *reading as usize;
            let text = list.text_of(line).into_owned();
            let Some((bag, mark)) = self.in_front(&text) else {
                continue;
            };
            let placement = Placement {
                bag: Some(bag.into()),
                ..list.placement_of(line).clone()
            };
            list.placements.push(placement);
            list.lines[at].placement = list.placements.len() as u32 - 1;
            if let Some(bare) = without_mark(&list.readings[reading], mark) {
                list.readings.push(bare);
                list.lines[at].what = What::Item(list.readings.len() as u32 - 1);
                continue;
            }
            for doubt in &mut list.readings[reading].doubts {
                if matches!(doubt, Doubt::UnknownWords(said) if &**said == mark) {
                    let said =
                        format!("\"{mark}\" in front is a bag of the parts list: taken for that");
                    *doubt = Doubt::Said(said.into());
                }
            }
        }
    }

    fn know_in(&self, list: &mut List) {
        let bag = |reading: &Reading| self.bag(reading.item.part.as_deref()?);
        let bags: Vec<Option<&str>> = list.readings.iter().map(bag).collect();
        if bags.iter().all(Option::is_none) {
            return;
        }
        let rows_of = |line: &Line| (line.sheet, line.row);
        let several: FxHashSet<(u16, u32)> = (list.lines.windows(2))
            .filter(|two| rows_of(&two[0]) == rows_of(&two[1]))
            .map(|two| rows_of(&two[0]))
            .collect();
        let mut told: BTreeSet<(u16, &str)> = BTreeSet::new();
        for at in 0..list.lines.len() {
            let line = &list.lines[at];
            let What::Item(reading) = line.what else {
                continue;
            };
            let Some(bag) = bags[reading as usize].filter(|_| !several.contains(&rows_of(line)))
            else {
                continue;
            };
            told.insert((line.sheet, bag));
            let placement = Placement {
                bag: Some(bag.into()),
                ..list.placement_of(line).clone()
            };
            // `1 x K-1` in a text.
            let reading = &list.readings[reading as usize];
            let quantity = line.quantity.or_else(|| stated_beside(reading));
            let before = list.status_of(line);
            let line = &mut list.lines[at];
            line.placement = list.placements.len() as u32;
            line.what = What::Bag { received: None };
            line.quantity = quantity;
            if list.role == Role::Counted && line.quantity.is_some() {
                line.more_mut().doubts.push(Doubt::uncounted_inside());
            }
            list.placements.push(placement);
            let now = list.status_of(&list.lines[at]);
            let sheet = usize::from(list.lines[at].sheet);
            for tally in [&mut list.tally, &mut list.sheets[sheet].tally] {
                for (status, by) in [(before, -1), (now, 1)] {
                    let of = match status {
                        LineStatus::Read => &mut tally.read,
                        LineStatus::Check => &mut tally.check,
                        LineStatus::Aside => &mut tally.aside,
                    };
                    *of = of.saturating_add_signed(by);
                }
            }
        }
        let sheets: BTreeSet<u16> = told.iter().map(|(sheet, _)| *sheet).collect();
        for sheet in sheets {
            let names = told.iter().filter(|(of, _)| *of == sheet);
            let names: Vec<&str> = names.map(|(_, name)| *name).collect();
            list.sheets[usize::from(sheet)].notes.push(format!(
                "bags by their marks on the parts list: {}",
                names.join(", ")
            ));
        }
    }
}

/// The hardware that a part's name is without the mark in front: `c: 6 x 120`.
fn without_mark(reading: &Reading, mark: &str) -> Option<Reading> {
    let name = reading.item.part.as_ref()?.description.as_deref()?;
    let (front, name) = name.split_once(':')?;
    let callouts = describe(name, Notation::default()).ok()?;
    let [callout] = callouts.as_slice() else {
        return None;
    };
    let bare = front.eq_ignore_ascii_case(mark)
        && callout.is_hardware()
        && callout.item.diameter.is_some()
        && callout.quantity.is_none();
    // A length in the name is no count.
    let other = |doubt: &&Doubt| !matches!(doubt, Doubt::MayBeCount(_) | Doubt::UnknownWords(_));
    let doubts = reading.doubts.iter().filter(other);
    let said = format!("\"{front}\" in front is a bag of the parts list: taken for that");
    bare.then(|| Reading {
        item: callout.item.clone(),
        doubts: doubts
            .chain(&callout.doubts)
            .cloned()
            .chain([Doubt::Said(said.into())])
            .collect(),
        ..reading.clone()
    })
}

/// The number in `1 x` beside a part's number.
fn stated_beside(reading: &Reading) -> Option<u64> {
    times(reading.item.part.as_ref()?.description.as_deref()?)
}

fn times(words: &str) -> Option<u64> {
    words.trim_end_matches(['x', '*', ' ']).parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::settle::sample::{ListOf, bag, plain};

    const BOLT: &str = "bolt hex 1/2 3";

    fn required(name: &str) -> ListOf {
        let list = ListOf::required().line("part R-1 rail", 4, &plain);
        list.line(BOLT, 12, &bag(name))
    }

    /// How many of the bag `name` a list is taken to name by a line of one part.
    #[track_caller]
    fn case(name: &str, part: &str, expected: Option<u64>) {
        let slip = ListOf::shipped().line(&format!("part {part}"), 2, &plain);
        let mut lists = [required(name).list(), slip.list()];
        know_bags(&mut lists);
        let line = &lists[1].lines[0];
        let bags = (line.what == What::Bag { received: None }).then_some(line.quantity);
        assert_eq!(bags.flatten(), expected, "{part}");
        let bag = expected.map(|_| name);
        assert_eq!(lists[1].placement_of(line).bag.as_deref(), bag, "{part}");
        let notes = &lists[1].sheets[0].notes;
        assert_eq!(notes.len(), usize::from(expected.is_some()));
    }

    #[test]
    fn a_mark_in_front_of_a_line_is_its_bag() {
        let marks = Marks::of(&[required("C").list()]);
        for text in ["C: 12 bolts", "C) 12 bolts", "(C) 12 bolts", "c - 12 bolts"] {
            assert_eq!(
                marks.in_front(text).map(|(bag, _)| bag),
                Some("C"),
                "{text}"
            );
        }
        for text in ["C 12 bolts", "D: 12 bolts", "C-12 bolts", "12 C: bolts"] {
            assert_eq!(marks.in_front(text), None, "{text}");
        }
    }

    #[test]
    fn a_size_behind_a_mark_is_no_name() {
        for (name, expected) in [
            ("- c: 1/2 x 3", Some("1/2 x 3")),
            ("- c: rail", None),
            ("- d: 1/2 x 3", None),
        ] {
            let count = ListOf::counted().line(&format!("part {name}"), 2, &plain);
            let bare = without_mark(&count.list().readings[0], "C");
            let bare = bare.map(|of| of.item.text());
            assert_eq!(bare.as_deref(), expected, "{name}");
        }
    }

    #[test]
    fn a_mark_of_the_parts_list_is_the_bag() {
        case("HW-1", "HW-1", Some(2));
        case("HW-1", "- hw 1", Some(2));
        case("HW-1", "HW-1 hardware bag", Some(2));
        case("HW-1", "X7 hw-1", Some(2));
        case("Bag HW-1", "HW-1", Some(2));
        case("A", "- a", Some(2));
        case("Blue", "- blue bag", Some(2));
        // Another part, whatever its number.
        case("HW-1", "HW-1 gate latch", None);
        case("HW-1", "HW-2", None);
        case("1", "1 rail", None);
    }

    #[test]
    fn an_item_of_that_mark_is_no_bag() {
        case("R-1", "R-1", None);
        case("Rail", "- rail", None);
    }

    #[test]
    fn a_count_of_a_bag_tells_nothing_of_what_is_in_it() {
        let count = ListOf::counted().line("part HW-1", 1, &plain).list();
        let mut lists = [required("HW-1").list(), count];
        lists[1].tally.read = 1;
        know_bags(&mut lists);
        let tally = lists[1].tally;
        assert_eq!((tally.read, tally.check), (0, 1));
        assert_eq!(lists[1].lines[0].doubts(), [Doubt::uncounted_inside()]);
    }
}
