//! What slips and counts leave unsaid of a piece of hardware, by the parts list: its size (`Bag 2: washers 48`), its kind
//! (`M10 x 140: 12`), its head (`M6 x 16 bolts`), where that puts one such piece in the bag, or where it puts nothing in a
//! bag of that name, asks for one such piece in all; and whether `8 x 40` is M8, #8 or 8 in, where it asks for one of these
//! alone (common practice, no source).

use std::fmt;

use rustc_hash::{FxHashMap, FxHashSet};

use super::{fit::usual_style, inventory::Container, parcels::Scope};
use crate::{
    doubt::Doubt,
    hardware::{Diameter, Item, Kind, Length, PartName, Style},
    kit::{List, Reading, Role, What},
};

/// Pieces that leave something unsaid and are looked up, of one list: one with more is no bench count.
const MOST: usize = 1_000;

/// Gives the pieces of slips and counts what they leave unsaid. A doubt says so.
pub fn say_unsaid(lists: &mut [List]) {
    let (required, others): (Vec<&mut List>, Vec<&mut List>) =
        (lists.iter_mut()).partition(|list| list.role == Role::Required);
    let required: Vec<&List> = required.into_iter().map(|list| &*list).collect();
    let mut readings = required.iter().flat_map(|list| &list.readings);
    let parts =
        readings.any(|reading| reading.item.kind.is_none() && reading.item.called.is_some());
    let leaves_few = |list: &&mut List| {
        let unsaid = |of: &&Reading| Unsaid::of(of, parts).is_some() || other_unit(of).is_some();
        let role = matches!(list.role, Role::Shipped | Role::Counted);
        role && (1..=MOST).contains(&list.readings.iter().filter(unsaid).count())
    };
    let mut others = others.into_iter().filter(leaves_few).peekable();
    if others.peek().is_none() {
        return;
    }
    let wanted = Wanted::by(&required);
    for list in others {
        for reading in &mut list.readings {
            say_unit(reading, &wanted);
        }
        say_in(list, &wanted, parts);
    }
}

/// What is not said of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Unsaid {
    Size,
    Kind,
    /// Of a bolt or a screw.
    Head,
}

impl Unsaid {
    /// `parts`: the list asks for hardware by a name of its own, which may stand without its size: `swing hooks`.
    fn of(reading: &Reading, parts: bool) -> Option<Unsaid> {
        let item = &reading.item;
        let sized = item.diameter.is_some() && item.length.is_some();
        let bare = (item.diameter.is_none() || reading.lent_size) && item.length.is_none();
        let named = |part: &PartName| part.number.is_none() && part.description.is_some();
        let named = |part: &PartName| parts && named(part);
        let driven = matches!(item.kind, Some(Kind::Bolt | Kind::Screw));
        let headless = item.style.is_none() && item.head.is_none() && item.called.is_none();
        match () {
            () if bare && item.part.as_deref().map_or(item.kind.is_some(), named) => {
                Some(Unsaid::Size)
            }
            () if sized && item.kind.is_none() && item.called.is_none() => Some(Unsaid::Kind),
            () if sized && driven && headless => Some(Unsaid::Head),
            () => None,
        }
    }
}

impl fmt::Display for Unsaid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Unsaid::Size => "size",
            Unsaid::Kind => "kind",
            Unsaid::Head => "head",
        })
    }
}

/// A diameter and a length.
type Size = (Diameter, Length);

/// What the required lists ask for: one of each.
#[derive(Default)]
struct Wanted<'a> {
    /// In a bag, by its key, or in all; of one size, or of all.
    of: FxHashMap<(Option<String>, Option<Size>), FxHashSet<&'a Item>>,
    diameters: FxHashSet<Diameter>,
}

impl<'a> Wanted<'a> {
    fn by(required: &[&'a List]) -> Wanted<'a> {
        let mut wanted = Wanted::default();
        for list in required {
            let mut seen = FxHashSet::default();
            for line in &list.lines {
                let What::Item(at) = line.what else { continue };
                let item = &list.readings[at as usize].item;
                if item.part.is_some() || !seen.insert((line.placement, at)) {
                    continue;
                }
                wanted.diameters.extend(item.diameter);
                let bag = bag(list, line.placement);
                let bags = [None, bag.clone()];
                for bag in &bags[..1 + usize::from(bag.is_some())] {
                    for size in [None, size(item)] {
                        let of = wanted.of.entry((bag.clone(), size)).or_default();
                        of.insert(item);
                    }
                }
            }
        }
        wanted
    }
}

fn size(item: &Item) -> Option<Size> {
    item.diameter.zip(item.length)
}

/// The bag, else the box, of a placement.
fn bag(list: &List, placement: u32) -> Option<String> {
    let placement = &list.placements[placement as usize];
    let (bag, carton) = (placement.bag.as_deref(), placement.carton.as_deref());
    Container::of(bag, carton, Scope::ALL).key()
}

/// Where a bare size may be of another unit, the same in that: metric for a number or inches, a number for metric.
fn other_unit(reading: &Reading) -> Option<Item> {
    let item = &reading.item;
    let diameter = item.diameter?;
    let other = match diameter {
        Diameter::Metric(of) if of.is_integer() => {
            Diameter::Number(u8::try_from(of.to_integer()).ok()?)
        }
        Diameter::Number(of) => Diameter::Metric(i64::from(of).into()),
        Diameter::Inch(of) => Diameter::Metric(of),
        Diameter::Metric(_) => return None,
    };
    let both = [diameter, other].map(|of| of.to_string());
    let is_open = |doubt: &Doubt| {
        let Doubt::Readings(all) = doubt else {
            return false;
        };
        all.len() == 2 && both.iter().all(|of| all.iter().any(|said| **said == **of))
    };
    // Nobody writes `4 x 30` of bolts that are 4 inches thick.
    let in_inches = matches!(diameter, Diameter::Inch(of) if of >= 3.into());
    (in_inches || reading.doubts.iter().any(is_open)).then(|| Item {
        diameter: Some(other),
        length: item.length.map(|length| match length {
            Length::Inch(of) => Length::Millimetre(of),
            Length::Millimetre(of) => Length::Inch(of),
        }),
        thread: None,
        ..item.clone()
    })
}

/// Takes a size that may be of two units for the one that the list asks for, where it asks for nothing of the other.
fn say_unit(reading: &mut Reading, wanted: &Wanted<'_>) {
    let Some(other) = other_unit(reading) else {
        return;
    };
    let is_wanted = |item: &Item| {
        let of = wanted.of.get(&(None, size(item)));
        of.into_iter().flatten().any(|of| of.agrees(item))
    };
    let is_strange = |item: &Item| {
        item.diameter
            .is_none_or(|of| !wanted.diameters.contains(&of))
    };
    let own = reading.item.clone();
    let item = match () {
        () if is_wanted(&own) && is_strange(&other) => own,
        () if is_wanted(&other) && is_strange(&own) => other,
        () => return,
    };
    let said = format!(
        "no unit stated: taken for {}, the only one of its size on the list",
        item.size()
    );
    reading
        .doubts
        .retain(|doubt| !matches!(doubt, Doubt::Readings(_)));
    reading.doubts.push(Doubt::Said(said.into()));
    reading.item = item;
}

/// Says of the lines of one list what they leave unsaid.
fn say_in(list: &mut List, wanted: &Wanted<'_>, parts: bool) {
    let named: FxHashSet<(Option<Kind>, Option<Style>)> = list
        .readings
        .iter()
        .map(|reading| (reading.item.kind, reading.item.style))
        .collect();
    let mut said: FxHashMap<(u32, Option<String>), u32> = FxHashMap::default();
    for at in 0..list.lines.len() {
        let line = &list.lines[at];
        let What::Item(reading) = line.what else {
            continue;
        };
        let Some(unsaid) = Unsaid::of(&list.readings[reading as usize], parts) else {
            continue;
        };
        let key = (reading, bag(list, line.placement));
        if said.len() == MOST && !said.contains_key(&key) {
            return;
        }
        let found = *said.entry(key).or_insert_with_key(|(_, bag)| {
            let own = &list.readings[reading as usize];
            let Some(own) = wanted.say(own, unsaid, bag.as_deref(), &named) else {
                return reading;
            };
            list.readings.push(own);
            list.readings.len() as u32 - 1
        });
        list.lines[at].what = What::Item(found);
    }
}

impl Wanted<'_> {
    /// A reading with what it leaves unsaid.
    fn say(
        &self,
        reading: &Reading,
        unsaid: Unsaid,
        bag: Option<&str>,
        named: &FxHashSet<(Option<Kind>, Option<Style>)>,
    ) -> Option<Reading> {
        let own = &reading.item;
        let bag = bag.filter(|bag| self.of.contains_key(&(Some((*bag).to_owned()), None)));
        let of_size = size(own).filter(|_| unsaid != Unsaid::Size);
        let all = self.of.get(&(bag.map(str::to_owned), of_size))?;
        let all = all.iter().copied();
        let mut item = own.clone();
        let found = match unsaid {
            Unsaid::Size => {
                // A neighbour's size holds where the list has such a piece.
                let has_lent = |of: &Item| of.kind == own.kind && of.diameter == own.diameter;
                if own.diameter.is_some() && all.clone().any(has_lent) {
                    return None;
                }
                let bare = Item {
                    diameter: None,
                    thread: None,
                    ..own.clone()
                };
                let found = only(&bare, all, named)?;
                (item.diameter, item.thread, item.length) =
                    (found.diameter, found.thread, found.length);
                item.part = None;
                found
            }
            Unsaid::Kind => only(own, all, named)?,
            Unsaid::Head => {
                let any = Item {
                    kind: None,
                    ..own.clone()
                };
                let found = only(&any, all, named)?;
                let driven = matches!(found.kind, Some(Kind::Bolt | Kind::Screw));
                let threads = found.effective_thread() == own.effective_thread();
                // One of its own kind may be of any head.
                (driven && threads && found.kind != own.kind).then_some(found)?
            }
        };
        item.kind = found.kind;
        item.called = found.called.clone();
        if unsaid != Unsaid::Size {
            item.style = found.style;
        }
        let within = match (bag, unsaid) {
            (Some(bag), _) => format!("in {bag}"),
            (None, Unsaid::Size) => "of its kind on the list".to_owned(),
            (None, _) => "of its size on the list".to_owned(),
        };
        let doubt = format!("no {unsaid} stated: taken for {found}, the only one {within}");
        let other = |doubt: &&Doubt| !matches!(doubt, Doubt::NoKind | Doubt::NoSize);
        let doubts = reading.doubts.iter().filter(other).cloned();
        Some(Reading {
            item,
            doubts: doubts.chain([Doubt::Said(doubt.into())]).collect(),
            ..reading.clone()
        })
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
                item.kind,
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

#[cfg(test)]
mod tests {
    use super::super::sample::{ListOf, plain};
    use super::*;
    use crate::notation::{Notation, describe};

    /// The count's item and what is said of it, the list asking for `required`.
    fn counted(required: &[&str], counted: &str) -> (String, usize) {
        let list = required
            .iter()
            .fold(ListOf::required(), |list, item| list.line(item, 8, &plain));
        let mut lists = [
            list.list(),
            ListOf::counted().line(counted, 8, &plain).list(),
        ];
        say_unsaid(&mut lists);
        let list = &lists[1];
        let reading = list.reading_of(&list.lines[0]).expect("an item");
        (reading.item.text(), reading.doubts.len())
    }

    #[test]
    fn heads_of_the_only_one_of_its_size() {
        let carriage = "1/2 x 3 carriage bolt".to_owned();
        assert_eq!(
            counted(&["bolt carriage 1/2 3", "nut hex 1/2"], "screw 1/2 3"),
            (carriage, 1)
        );
        let set = "1/2 x 3 set screw".to_owned();
        assert_eq!(counted(&["screw set 1/2 3"], "bolt 1/2 3"), (set, 1));
        // Another length, one of its own kind, two that it may be, a wood screw, and a head that is said.
        for (required, own) in [
            (&["screw set 1/2 2"][..], "bolt 1/2 3"),
            (&["screw set 1/2 3", "bolt hex 1/2 3"], "bolt 1/2 3"),
            (&["bolt carriage 1/2 3"], "bolt 1/2 3"),
            (&["screw wood 1/2 3"], "bolt 1/2 3"),
            (&["screw set 1/2 3"], "bolt hex 1/2 3"),
        ] {
            assert_eq!(counted(required, own).1, 0, "{required:?} {own}");
        }
    }

    /// A bare size is of the unit that the list asks for alone.
    #[test]
    fn the_unit_of_the_list() {
        let bare = |text: &str| {
            let callouts = describe(text, Notation::default()).expect("an item");
            callouts.into_iter().next().expect("an item")
        };
        for (required, text, expected, open) in [
            (
                &["M8 x 40 hex bolt"][..],
                "8 x 40 hex bolts",
                "M8 x 40 hex bolt",
                0,
            ),
            (&["M8 x 40 hex bolt"], "8 x 40", "M8 x 40 hex bolt", 0),
            (
                &["#8 x 40 hex bolt"],
                "8 x 40 hex bolts",
                "#8 x 40 hex bolt",
                0,
            ),
            (
                &["M8 x 40 hex bolt", "#8 hex nut"],
                "8 x 40 hex bolts",
                "M8 x 40 hex bolt",
                1,
            ),
            (
                &["M8 x 30 hex bolt"],
                "8 x 40 hex bolts",
                "M8 x 40 hex bolt",
                1,
            ),
        ] {
            let put = |list: ListOf, text: &&str| {
                list.line("bolt", 8, &plain).edit(|list| {
                    list.readings.last_mut().expect("just pushed").item = bare(text).item;
                })
            };
            let mut lists = [
                required.iter().fold(ListOf::required(), put).list(),
                put(ListOf::counted(), &text).list(),
            ];
            lists[1].readings[0].doubts = bare(text).doubts;
            say_unsaid(&mut lists);
            let list = &lists[1];
            let reading = list.reading_of(&list.lines[0]).expect("an item");
            let doubts = reading.doubts.iter().filter(|doubt| doubt.is_open());
            assert_eq!(
                (reading.item.text().as_str(), doubts.count()),
                (expected, open),
                "{text}"
            );
        }
    }
}
