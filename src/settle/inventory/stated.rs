//! Items as the lists state them.

use std::hash::BuildHasher as _;

use hashbrown::HashTable;
use indexmap::IndexSet;
use rayon::prelude::*;
use rustc_hash::{FxBuildHasher, FxHashMap};

use crate::{
    doubt::Doubt,
    hardware::{Item, Kind, PartName, Written},
    kit::{Job, List, Reading, Role},
    settle::{
        called::Called,
        evidence::Rows,
        numbers::{Meant, Numbers},
        part_names::PartNames,
    },
};

/// An item as the lists state it, and what is known about it apart from sums.
#[derive(Debug)]
pub struct Stated {
    /// What makes it this item and no other: the thread that it has where none is stated, and of a
    /// part its number alone where it has one.
    pub identity: Item,
    /// A part as it is shown, with its description: the required list's before another's. Of hardware
    /// there is no more to show than what makes it this item.
    named: Option<Box<Item>>,
    /// Maker's numbers, in order.
    pub numbers: Vec<Box<str>>,
    pub doubts: Vec<Doubt>,
    /// A slip names it by a number alone, and other lists say what that stands for.
    pub by_number: bool,
    /// A line of an option that was not chosen asks for it.
    pub not_chosen: bool,
    /// A required line asks for it by itself, and not as what comes with another item.
    pub asked_apart: bool,
    /// First stage of a required line, or `usize::MAX`.
    pub first_stage: usize,
    /// Where the first line stands: role, list, line.
    pub first_line: (Role, usize, usize),
    pub required_by: Rows,
    pub shipped_by: Rows,
    pub counted_by: Rows,
    pub stocked_by: Rows,
    pub left_by: Rows,
}

impl Stated {
    /// An item of which nothing is known but what it is.
    fn new(identity: Item) -> Stated {
        Stated {
            identity,
            named: None,
            numbers: Vec::new(),
            doubts: Vec::new(),
            by_number: false,
            not_chosen: false,
            asked_apart: false,
            first_stage: usize::MAX,
            first_line: (Role::Counted, usize::MAX, usize::MAX),
            required_by: Rows::default(),
            shipped_by: Rows::default(),
            counted_by: Rows::default(),
            stocked_by: Rows::default(),
            left_by: Rows::default(),
        }
    }

    /// The item as it is shown.
    pub fn shown(&self) -> &Item {
        self.named.as_deref().unwrap_or(&self.identity)
    }

    /// The words for a part.
    pub fn description(&self) -> Option<&str> {
        self.shown().part.as_ref()?.description.as_deref()
    }
}

/// Items by identity, each with all that the readings say of it; and the id of each list's readings.
/// The job says what numbers and names stand for, before any list does.
pub fn state_items(lists: &[List], job: &Job) -> (Vec<Stated>, Vec<Vec<u32>>) {
    let mut numbers = Numbers::default();
    job.numbers.iter().for_each(|row| numbers.keep(row));
    // A shop has numbers of its own, which are not the maker's.
    for list in lists
        .iter()
        .filter(|list| !matches!(list.role, Role::Stock | Role::LeftOver))
    {
        let required = list.role == Role::Required;
        for reading in &list.readings {
            match (&reading.item.part, &reading.part_number) {
                (Some(part), own) => {
                    if let (true, Some(number)) = (required, part.number.as_ref().or(own.as_ref()))
                    {
                        numbers.teach_part(number);
                    }
                }
                (None, Some(number)) => numbers.teach(number, &reading.item.identity(), required),
                (None, None) => {}
            }
        }
    }
    numbers.sort();
    let names = PartNames::of(lists, job);

    // The job's word on items other than parts, of which the names themselves know.
    let joined = job.names.iter().filter_map(|(other, meant)| {
        let called = Called::of(meant);
        let required = lists.iter().filter(|list| list.role == Role::Required);
        let mut asked = required.flat_map(|list| &list.readings);
        let asked = asked.find(|reading| called.names(reading))?;
        Some((Called::of(other), identify(asked, &numbers, &names).0))
    });
    let joined: Vec<(Called, Item)> = joined.collect();

    // Items are numbered as they are found, until they are put in order.
    let mut items: Vec<(u32, Stated)> = Vec::new();
    let mut numbers_of: HashTable<(u64, u32)> = HashTable::new();
    let mut of_readings: Vec<Vec<u32>> = Vec::new();
    // What slips and counts call the part of a number, and which of them.
    let mut called: IndexSet<(u32, &str, Role), FxBuildHasher> = IndexSet::default();
    for list in lists {
        let mut numbered = Vec::with_capacity(list.readings.len());
        for reading in &list.readings {
            let description = description_of(reading);
            let makers_number = makers_number(reading, &names);
            let joined = joined.iter().filter(|_| list.role != Role::Required);
            let joined = joined.filter(|(called, _)| called.names(reading));
            let (identity, doubt) = match joined.map(|(_, meant)| meant).next() {
                Some(meant) => (meant.clone(), None),
                None => identify(reading, &numbers, &names),
            };
            let shown = identity.part.as_ref().map(|own| {
                let mut shown = named(reading.item.clone(), &names);
                if let Some(shown) = &mut shown.part {
                    shown.number = own.number.clone();
                    shown.description = shown.description.take().or(own.description.clone());
                }
                shown
            });
            let hash = FxBuildHasher.hash_one(&identity);
            let same = |(_, at): &(u64, u32)| items[*at as usize].1.identity == identity;
            let known = numbers_of.entry(hash, same, |(hash, _)| *hash);
            let (_, number) = *known.or_insert((hash, items.len() as u32)).get();
            numbered.push(number);
            if number as usize == items.len() {
                let named = shown.clone().map(Box::new);
                let stated = Stated::new(identity);
                items.push((number, Stated { named, ..stated }));
            }
            let stated = &mut items[number as usize].1;
            let rank = |item: &Item| {
                let silent = |part: &PartName| part.description.is_none();
                item.part.as_deref().is_some_and(silent)
            };
            if let (Role::Required, Some(shown)) = (list.role, shown)
                && (rank(&shown), &shown) < (rank(stated.shown()), stated.shown())
            {
                stated.named = Some(Box::new(shown));
            }
            stated.by_number |= list.role == Role::Shipped
                && reading.item.part.is_some()
                && stated.identity.part.is_none();
            let makers = !matches!(list.role, Role::Stock | Role::LeftOver);
            if let (Some(number), true) = (makers_number, makers) {
                let number = match &doubt {
                    Some(Doubt::LooseNumber { matched, .. }) => matched,
                    _ => number,
                };
                if stated.numbers.last().is_none_or(|last| **last != *number) {
                    stated.numbers.push(number.into());
                }
            }
            let by_number = stated.identity.part.as_ref();
            let by_number = by_number.is_some_and(|part| part.description.is_none());
            if let (Some(name), true) = (description, by_number && list.role != Role::Required) {
                called.insert((number, name, list.role));
            }
            let renamed = description.and_then(|name| names.note(name));
            let renamed = renamed.filter(|_| makers_number.is_none()).cloned();
            for doubt in doubt.into_iter().chain(renamed) {
                if !stated.doubts.contains(&doubt) {
                    stated.doubts.push(doubt);
                }
            }
        }
        of_readings.push(numbered);
    }

    let disputed: Vec<(u32, Doubt)> = disputes(&items, &called, &names).collect();
    for (at, doubt) in disputed {
        items[at as usize].1.doubts.push(doubt);
    }
    drop(numbers_of);
    items.par_sort_unstable_by(|(_, a), (_, b)| a.identity.cmp(&b.identity));
    let mut ids = vec![0; items.len()];
    for ((number, _), id) in items.iter().zip(0..) {
        ids[*number as usize] = id;
    }
    for number in of_readings.iter_mut().flatten() {
        *number = ids[*number as usize];
    }
    let in_order = |(_, mut item): (u32, Stated)| {
        item.numbers.sort();
        item.numbers.dedup();
        item
    };
    let mut items: Vec<Stated> = items.into_iter().map(in_order).collect();
    items.shrink_to_fit();
    (items, of_readings)
}

/// Parts known by a number of which a slip or a count says what the list's text contradicts, or what is the name of
/// another part of the lists: which of the two lies there nobody but a person can tell. So of what a count alone calls by
/// words of its own: whoever counts may have looked at the one or at the other. A maker's other word is told.
fn disputes<'a>(
    items: &'a [(u32, Stated)],
    called: &'a IndexSet<(u32, &str, Role), FxBuildHasher>,
    names: &'a PartNames,
) -> impl Iterator<Item = (u32, Doubt)> + 'a {
    let own = |at: u32| items[at as usize].1.description();
    let mut differing = called
        .iter()
        .filter_map(move |(at, name, role)| {
            let own = own(*at).filter(|own| own != name)?;
            Some((*at, own, *name, *role))
        })
        .peekable();
    let of_names: FxHashMap<&str, u32> = match differing.peek() {
        None => FxHashMap::default(),
        Some(_) => {
            let items = items.iter();
            let described = items.filter_map(|(at, stated)| Some((stated.description()?, *at)));
            described
                .map(|(name, at)| (names.canonical(name), at))
                .collect()
        }
    };
    let mut of_slips: FxHashMap<u32, Vec<Written>> = FxHashMap::default();
    for (at, name, _) in called.iter().filter(|(.., role)| *role == Role::Shipped) {
        of_slips.entry(*at).or_default().push(Written::of(name));
    }
    differing.filter_map(move |(at, own, name, role)| {
        let number = items[at as usize].1.identity.part.as_ref()?;
        let number = number.number.clone().unwrap_or_default();
        let meant = names.canonical(name);
        let anothers =
            meant != names.canonical(own) && of_names.get(meant).is_some_and(|of| *of != at);
        let (list, written) = (Written::of(own), Written::of(name));
        let by_slip = || {
            let mut of = of_slips.get(&at).into_iter().flatten();
            of.any(|slip| slip.may_be(&written))
        };
        let strange = role == Role::Counted && !list.may_be(&written) && !by_slip();
        match list.in_common(&written) {
            None => {}
            Some(_) if anothers || strange => {}
            Some(0) if items[at as usize].1.doubts.is_empty() => {
                let said =
                    format!("\"{name}\" is taken for \"{own}\": both bear part number {number}");
                return Some((at, Doubt::Said(said.into())));
            }
            Some(_) => return None,
        }
        let said = [own, name].map(Into::into);
        Some((at, Doubt::NumberDisputed { number, said }))
    })
}

fn description_of(reading: &Reading) -> Option<&str> {
    reading.item.part.as_ref()?.description.as_deref()
}

/// The maker's number that a line bears, unless the job says what its name stands for.
fn makers_number<'a>(reading: &'a Reading, names: &PartNames) -> Option<&'a str> {
    match &reading.item.part {
        Some(_) if description_of(reading).is_some_and(|name| names.is_joined(name)) => None,
        Some(part) => part.number.as_deref().or(reading.part_number.as_deref()),
        None => reading.part_number.as_deref(),
    }
}

/// What makes a line's item this one and no other, and a doubt where that is not plain.
fn identify(reading: &Reading, numbers: &Numbers, names: &PartNames) -> (Item, Option<Doubt>) {
    let taught = || names.number(description_of(reading)?);
    let of = |meant| match meant {
        Meant::Item(item) => named(item, names),
        Meant::Part(number) => part(number),
    };
    let number = makers_number(reading, names);
    if let (None, Some(number)) = (&reading.item.part, number)
        && let Some(meant) = numbers.fuller(number, &reading.item)
    {
        return (of(meant), None);
    }
    match (&reading.item.part, number) {
        (Some(_), Some(number)) => {
            let (meant, doubt) = numbers.meant(number);
            (of(meant), doubt)
        }
        (None, Some(number)) if numbers.is_ambiguous(number) => (
            reading.item.identity(),
            Some(Doubt::NumberNotUnique(number.into())),
        ),
        (Some(_), None) => match taught() {
            Some(number) => (part(number.into()), None),
            None => (named(reading.item.identity(), names), None),
        },
        _ => (reading.item.identity(), None),
    }
}

/// The part of a number.
fn part(number: Box<str>) -> Item {
    Item {
        kind: Some(Kind::Part),
        part: Some(Box::new(PartName {
            number: Some(number),
            description: None,
        })),
        ..Item::default()
    }
}

/// A part under the name that stands for it in all lists.
fn named(mut item: Item, names: &PartNames) -> Item {
    let description = item
        .part
        .as_mut()
        .and_then(|part| part.description.as_mut());
    if let Some(description) = description {
        let name = names.canonical(description);
        if **description != *name {
            *description = name.into();
        }
    }
    item
}
