//! What sheets ask for in all, item by item.

use std::collections::BTreeMap;

use indexmap::IndexMap;
use rustc_hash::FxHashMap;

use super::super::{again::Difference, line::What, list::List};
use crate::hardware::{Item, PartName, Style};

/// What a sheet asks for in all.
#[derive(Default)]
pub(super) struct Sums {
    /// By the place of each item in [`Summed::texts`].
    pub(super) items: BTreeMap<usize, Sum>,
    /// Stages that its rows name.
    pub(super) stages: Vec<String>,
}

#[derive(Default, Clone, Copy)]
pub(super) struct Sum {
    pub(super) pieces: u64,
    pub(super) lines: u64,
}

/// What the sheets of a list ask for, and how their items are written, in order.
pub(super) struct Summed {
    pub(super) sheets: Vec<Sums>,
    pub(super) texts: Vec<String>,
}

impl Sums {
    pub(super) fn add(&mut self, other: &Sums) {
        for (item, more) in &other.items {
            let sum = self.items.entry(*item).or_default();
            sum.pieces = sum.pieces.saturating_add(more.pieces);
            sum.lines += more.lines;
        }
    }

    /// What is left of sums that others are among.
    pub(super) fn without(&self, others: &Sums) -> Sums {
        let mut items = self.items.clone();
        for (item, less) in &others.items {
            if let Some(sum) = items.get_mut(item) {
                sum.pieces -= less.pieces.min(sum.pieces);
                sum.lines -= less.lines;
            }
        }
        items.retain(|_, sum| sum.lines > 0);
        Sums {
            items,
            stages: Vec::new(),
        }
    }

    /// What is asked for of the items of another.
    pub(super) fn of_the_items_of(&self, other: &Sums) -> Sums {
        let items = other.items.keys();
        Sums {
            items: items
                .filter_map(|item| Some((*item, *self.items.get(item)?)))
                .collect(),
            stages: Vec::new(),
        }
    }

    /// How many items stand on several lines.
    pub(super) fn of_several_lines(&self) -> usize {
        self.items.values().filter(|sum| sum.lines > 1).count()
    }

    pub(super) fn agrees(&self, other: &Sums, item: usize) -> bool {
        let pieces = |of: &Sums| of.items.get(&item).map(|sum| sum.pieces);
        pieces(self).is_some() && pieces(self) == pieces(other)
    }
}

pub(super) fn differences(sheet: &Sums, others: &Sums, texts: &[String]) -> Vec<Difference> {
    let mut all: BTreeMap<usize, Difference> = BTreeMap::new();
    for (of, here) in [(sheet, true), (others, false)] {
        for (item, sum) in &of.items {
            let entry = all.entry(*item).or_insert_with(|| Difference {
                item: texts[*item].clone(),
                here: 0,
                there: 0,
            });
            match here {
                true => entry.here = sum.pieces,
                false => entry.there = sum.pieces,
            }
        }
    }
    all.into_values().filter(|d| d.here != d.there).collect()
}

/// The hardware that each part number names, by the lines that say both; `None` where they say several.
pub(super) fn hardware_of_numbers(list: &List) -> FxHashMap<&str, Option<Item>> {
    let mut all: FxHashMap<&str, Option<Item>> = FxHashMap::default();
    for reading in &list.readings {
        if let (None, Some(number)) = (&reading.item.part, &reading.part_number) {
            let item = summed(&reading.item);
            let known = all.entry(number).or_insert_with(|| Some(item.clone()));
            if known.as_ref() != Some(&item) {
                *known = None;
            }
        }
    }
    all
}

/// Hardware as it is summed: grade and finish are left out, for totals leave them out too.
pub(super) fn summed(item: &Item) -> Item {
    let mut item = item.clone();
    item.thread = item.effective_thread();
    (item.grade, item.finish, item.full_thread) = (None, None, None);
    // A bolt of which no more is said is one with a hexagon head.
    item.style = item.style.filter(|style| *style != Style::Hex);
    item
}

/// What each sheet asks for. A part that bears a number goes by that alone, and is the hardware of that number
/// where it has no name: totals may be by numbers alone.
pub(super) fn sums(list: &List) -> Summed {
    let mut sheets: Vec<Sums> = list.sheets.iter().map(|_| Sums::default()).collect();
    let mut known: IndexMap<Item, String> = IndexMap::new();
    let hardware = hardware_of_numbers(list);
    for line in &list.lines {
        let (What::Item(reading), Some(each)) = (&line.what, line.quantity) else {
            continue;
        };
        let reading = &list.readings[*reading as usize];
        let mut item = summed(&reading.item);
        if let Some(part) = &mut item.part {
            let number = part.number.take().or_else(|| reading.part_number.clone());
            let named = (number.as_deref().filter(|_| part.description.is_none()))
                .and_then(|number| hardware.get(number)?.as_ref());
            if let Some(named) = named {
                item = named.clone();
            } else if let Some(number) = number {
                **part = PartName {
                    number: Some(number),
                    description: None,
                };
            } else if let Some(name) = &part.description {
                part.description = Some(name.strip_suffix('s').unwrap_or(name).into());
            }
        }
        let of = &mut sheets[usize::from(line.sheet)];
        let entry = known.entry(item);
        let at = entry.index();
        entry.or_insert_with(|| reading.item.text());
        let sum = of.items.entry(at).or_default();
        sum.pieces = sum
            .pieces
            .saturating_add(each.saturating_mul(u64::from(line.places)));
        sum.lines += 1;
        let name = list.sheets[usize::from(line.sheet)].name.as_deref();
        if let Some(stage) = list.placement_of(line).stage.as_deref()
            && Some(stage) != name
            && of.stages.last().map(String::as_str) != Some(stage)
            && !of.stages.iter().any(|known| known == stage)
        {
            of.stages.push(stage.to_owned());
        }
    }
    // In the order of the items.
    let mut order: Vec<usize> = (0..known.len()).collect();
    order.sort_by(|a, b| known.get_index(*a).cmp(&known.get_index(*b)));
    let mut places = vec![0; order.len()];
    for (place, at) in order.iter().enumerate() {
        places[*at] = place;
    }
    for sheet in &mut sheets {
        let items = std::mem::take(&mut sheet.items).into_iter();
        sheet.items = items.map(|(at, sum)| (places[at], sum)).collect();
    }
    known.sort_keys();
    Summed {
        sheets,
        texts: known.into_values().collect(),
    }
}
