//! Sizes of what a slip or a count names without one (`Bag 2: washers 48`), and kinds of what it names by its size alone
//! (`M10 x 140: 12`), by the parts list: where that puts one such piece in the bag, or where no bag is named, asks for
//! one such piece in all (common practice, no source).

use rustc_hash::{FxHashMap, FxHashSet};

use super::{fit::usual_style, inventory::Container, parcels::Scope};
use crate::{
    doubt::Doubt,
    hardware::{Item, Kind, PartName, Style},
    kit::{List, Reading, Role, What},
};

/// Pieces without a size that are looked up of one list: one with more is no bench count.
const MOST: usize = 1_000;

/// What the required lists put in a bag, by its key, or in all: one of each.
type Wanted<'a> = FxHashMap<Option<String>, FxHashSet<&'a Item>>;

/// Gives the pieces without a size or a kind in slips and counts those of the one that they can be. A doubt says so.
pub fn size_by_bag(lists: &mut [List]) {
    let required = lists.iter().filter(|list| list.role == Role::Required);
    let mut required = required.flat_map(|list| &list.readings);
    let parts =
        required.any(|reading| reading.item.kind.is_none() && reading.item.called.is_some());
    let names_few = |list: &List| {
        let role = matches!(list.role, Role::Shipped | Role::Counted);
        let open = |of: &Reading| is_unsized(of, parts) || is_size_alone(&of.item);
        role && list.readings.iter().any(open)
    };
    if !lists.iter().any(names_few) {
        return;
    }
    let (required, mut others): (Vec<&mut List>, Vec<&mut List>) =
        (lists.iter_mut()).partition(|list| list.role == Role::Required);
    let required: Vec<&List> = required.into_iter().map(|list| &*list).collect();
    let wanted = wanted(&required);
    for list in others.iter_mut().filter(|list| names_few(list)) {
        size_in(list, &wanted, parts);
    }
}

/// True for a piece of hardware without a size of its own, and where the list has such `parts` for a name alone that may
/// stand behind its size: `swing hooks`.
fn is_unsized(reading: &Reading, parts: bool) -> bool {
    let item = &reading.item;
    let bare = (item.diameter.is_none() || reading.lent_size) && item.length.is_none();
    let named = |part: &PartName| part.number.is_none() && part.description.is_some();
    let named = |part: &PartName| parts && named(part);
    bare && item.part.as_deref().map_or(item.kind.is_some(), named)
}

/// True for a diameter with a length, of which nothing says what it is.
fn is_size_alone(item: &Item) -> bool {
    item.kind.is_none() && item.called.is_none() && item.diameter.is_some() && item.length.is_some()
}

fn wanted<'a>(required: &[&'a List]) -> Wanted<'a> {
    let mut wanted = Wanted::default();
    for list in required {
        let mut seen = FxHashSet::default();
        for line in &list.lines {
            let What::Item(at) = line.what else { continue };
            let item = &list.readings[at as usize].item;
            if item.part.is_none() && seen.insert((line.placement, at)) {
                wanted.entry(None).or_default().insert(item);
                if let Some(bag) = bag(list, line.placement) {
                    wanted.entry(Some(bag)).or_default().insert(item);
                }
            }
        }
    }
    wanted
}

/// The bag, else the box, of a placement.
fn bag(list: &List, placement: u32) -> Option<String> {
    let placement = &list.placements[placement as usize];
    let (bag, carton) = (placement.bag.as_deref(), placement.carton.as_deref());
    Container::of(bag, carton, Scope::ALL).key()
}

fn size_in(list: &mut List, wanted: &Wanted<'_>, parts: bool) {
    let named: FxHashSet<(Option<Kind>, Option<Style>)> = list
        .readings
        .iter()
        .map(|reading| (reading.item.kind, reading.item.style))
        .collect();
    let mut sized: FxHashMap<(u32, Option<String>), u32> = FxHashMap::default();
    for at in 0..list.lines.len() {
        let line = &list.lines[at];
        let What::Item(reading) = line.what else {
            continue;
        };
        let open = &list.readings[reading as usize];
        let is_size = is_size_alone(&open.item);
        if !is_size && !is_unsized(open, parts) {
            continue;
        }
        let key = (reading, bag(list, line.placement));
        if sized.len() == MOST && !sized.contains_key(&key) {
            return;
        }
        let found = *sized.entry(key).or_insert_with_key(|(_, bag)| {
            let all = wanted.get(bag).into_iter().flatten().copied();
            let mut sized = list.readings[reading as usize].clone();
            let within = match bag {
                Some(bag) => format!("in {bag}"),
                None => "of its kind on the list".to_owned(),
            };
            if is_size {
                let own = sized.item.clone();
                let same = all.filter(|of| of.diameter == own.diameter && of.length == own.length);
                let Some(item) = only(&own, same, &named) else {
                    return reading;
                };
                sized.item.kind = item.kind;
                sized.item.style = item.style;
                sized.item.called = item.called.clone();
                let within = within.replace("kind", "size");
                let doubt = format!("no kind stated: taken for {item}, the only one {within}");
                sized.doubts.retain(|doubt| !matches!(doubt, Doubt::NoKind));
                sized.doubts.push(Doubt::Said(doubt.into()));
                list.readings.push(sized);
                return list.readings.len() as u32 - 1;
            }
            let said = Item {
                diameter: None,
                thread: None,
                ..sized.item.clone()
            };
            // A neighbour's size holds where the list has such a piece.
            let lent = sized.item.diameter;
            if lent.is_some()
                && all
                    .clone()
                    .any(|of| of.kind == said.kind && of.diameter == lent)
            {
                return reading;
            }
            let Some(item) = only(&said, all, &named) else {
                return reading;
            };
            sized.item = Item {
                diameter: item.diameter,
                thread: item.thread,
                length: item.length,
                called: item.called.clone(),
                kind: item.kind,
                part: None,
                ..sized.item
            };
            let doubt = format!("no size stated: taken for {item}, the only one {within}");
            sized.doubts.retain(|doubt| !matches!(doubt, Doubt::NoSize));
            sized.doubts.push(Doubt::Said(doubt.into()));
            list.readings.push(sized);
            list.readings.len() as u32 - 1
        });
        list.lines[at].what = What::Item(found);
    }
}

/// The only one of the items that words without a size can mean. Plain `nuts` beside lock nuts may be both, unless
/// the list names these apart.
fn only<'a>(
    said: &Item,
    items: impl Iterator<Item = &'a Item> + Clone,
    named: &FxHashSet<(Option<Kind>, Option<Style>)>,
) -> Option<&'a Item> {
    let items = items.filter(|item| match &said.part {
        // A name that is none of a fastener stands behind its size.
        Some(part) => {
            let named = Item {
                called: part.description.clone(),
                ..Item::default()
            };
            item.kind.is_none() && item.called.is_some() && item.is_called_alike(&named)
        }
        None => {
            said.kind.is_none_or(|kind| item.kind == Some(kind))
                && (said.called.is_none() || item.is_called_alike(said))
        }
    });
    let said = &Item {
        kind: said.kind.filter(|kind| *kind != Kind::Part),
        part: None,
        ..said.clone()
    };
    let is_it = |item: &&Item| {
        let bent = item.style.is_some_and(Style::is_bent);
        item.agrees(said)
            && !item.is_told_apart(said)
            && bent == said.style.is_some_and(Style::is_bent)
    };
    let sizes: FxHashSet<_> = (items.clone().filter(is_it))
        .map(|item| {
            (
                item.style,
                item.diameter,
                item.effective_thread(),
                item.length,
            )
        })
        .collect();
    let plain = said.style.is_none() || said.style == usual_style(said.kind);
    let apart = |item: &Item| is_it(&item) || named.contains(&(item.kind, item.style));
    let sure = sizes.len() == 1 && (!plain || items.clone().all(apart));
    let only = items.clone().find(is_it).filter(|_| sure)?;
    only.diameter.map(|_| only)
}
