//! What counts say: which parcels they looked at, and which of several of one heap holds.

use std::{
    cmp::Ordering,
    collections::{BTreeMap, BTreeSet},
};

use indexmap::IndexSet;
use rustc_hash::FxHashMap;

use super::{Place, Taking};
use crate::{
    Result,
    doubt::Doubt,
    kit::{Line, Role, Usage, What},
    settle::{
        account::LineRef,
        inventory::{Container, Counted, CountedTwice, Holders},
        parcels::Scope,
    },
    source::Format,
    words::day,
};

impl Taking<'_> {
    /// The bag in which a count looked. A count made after a later parcel speaks of the parcels since
    /// the count before it, but of an item that none of these brought, of all: it was left out then.
    pub(super) fn looked_in(&mut self, at: LineRef, id: u32, line: &Line, place: Place) -> u32 {
        let scope = self.parcels.of_list(at.list);
        let list = &self.lists[at.list];
        if scope.first == 1 || list.parcel.is_some() {
            return place.container;
        }
        let brought = (scope.first..=scope.last)
            .filter_map(|parcel| self.brought.get(&(parcel, id)))
            .copied()
            .reduce(u64::saturating_add);
        let Some(brought) = brought else {
            let placement = list.placement_of(line);
            let (bag, carton) = (placement.bag.as_deref(), placement.carton.as_deref());
            return self.container(bag, carton, Scope { first: 1, ..scope });
        };
        if line.quantity.is_some_and(|counted| counted > brought) {
            let doubt = Doubt::Said(
                format!(
                    "{} counts more of it than came since the count before: was what came earlier \
                     counted again?",
                    list.file
                )
                .into(),
            );
            let doubts = &mut self.of.items[id as usize].doubts;
            if !doubts.contains(&doubt) {
                doubts.push(doubt);
            }
            // It was perhaps counted with what came before.
            let placement = list.placement_of(line);
            let (bag, carton) = (placement.bag.as_deref(), placement.carton.as_deref());
            return self.container(bag, carton, Scope { first: 1, ..scope });
        }
        place.container
    }

    pub fn note_what_came(&mut self, through: u32) {
        let in_bags = self.in_bags();
        for (at, list) in self.lists.iter().enumerate() {
            if list.role != Role::Shipped {
                continue;
            }
            let parcel = self.parcels.of_list(at).first;
            for line in &list.lines {
                if let (What::Item(reading), Some(each)) = (&line.what, line.quantity) {
                    let id = self.ids[at][*reading as usize];
                    let brought = self.brought.entry((parcel, id)).or_default();
                    *brought = brought.saturating_add(each.saturating_mul(line.places.into()));
                }
                if let (What::Bag { .. }, Some(bags)) = (&line.what, line.quantity) {
                    let placement = list.placement_of(line);
                    let (bag, carton) = (placement.bag.as_deref(), placement.carton.as_deref());
                    let bag = Container::of(bag, carton, Scope::ALL);
                    for (_, id, each) in in_bags.iter().filter(|(of, ..)| bag.holds(of)) {
                        let brought = self.brought.entry((parcel, *id)).or_default();
                        *brought = brought.saturating_add(each.saturating_mul(bags));
                    }
                }
            }
        }
        let lists = self.lists.iter().enumerate();
        let undated = lists.filter(|(at, list)| {
            list.role == Role::Counted
                && self.parcels.of_list(*at) == Scope::ALL
                && self.parcels.had_come(self.lists, *at, through)
                && !self.saw_the_last(*at, through)
        });
        self.of.undated = undated.map(|(at, _)| at).collect();
    }

    /// True where a count found what the last parcel alone brought: it looked at all.
    fn saw_the_last(&self, at: usize, through: u32) -> bool {
        let list = &self.lists[at];
        let brought =
            |parcel: u32, id: u32| self.brought.get(&(parcel, id)).is_some_and(|n| *n > 0);
        list.lines
            .iter()
            .any(|line| match (&line.what, line.quantity) {
                (What::Item(reading), Some(1..)) => {
                    let id = self.ids[at][*reading as usize];
                    through > 1
                        && brought(through, id)
                        && !(1..through).any(|parcel| brought(parcel, id))
                }
                _ => false,
            })
    }

    pub(super) fn count(&mut self, at: LineRef, line: &Line, place: Place) -> Result<()> {
        let reading = match &line.what {
            What::Item(reading) => *reading,
            What::Bag { received } => {
                match received {
                    Some(false) => _ = self.missing.entry(place.container).or_default(),
                    None if !line.doubts().is_empty() => {
                        self.bags_counted.push((at, place.container));
                    }
                    _ => {}
                }
                return Ok(());
            }
            What::Aside(aside) => {
                self.aside(at, *aside);
                return Ok(());
            }
        };
        let id = self.ids[at.list][reading as usize];
        let container = self.looked_in(at, id, line, place);
        let place = Place { container, ..place };
        let good = match line.quantity {
            Some(quantity) => Some(self.pieces(at, quantity, u64::from(line.places), 1)?),
            None => None,
        };
        let damaged = self.pieces(at, line.damaged(), 1, 1)?;
        if good.is_none() {
            self.of.blank.push((id, place.container));
            // A blank cell is not counted; any other figure is a count that nobody sees here.
            let of_figure = |doubt: &Doubt| !matches!(doubt, Doubt::HiddenRow | Doubt::RowInDoubt);
            let list = &self.lists[at.list];
            let reading = &list.readings[reading as usize];
            // Whoever counts in words puts a figure on each line.
            let in_words =
                list.format == Format::Text && reading.doubts.iter().any(Doubt::is_of_figure);
            if in_words || line.doubts().iter().any(of_figure) {
                self.figure_unread(id, at);
                self.obscure(at);
            }
            if damaged == 0 {
                return Ok(());
            }
        }
        self.note_figures_over(id, at, line);
        self.rows.push((id, line.sheet, line.row));
        match self.is_later(at, (id, place.container)) {
            Some(Ordering::Less) => return Ok(()),
            Some(Ordering::Greater) => {
                self.counts.remove(&(id, place.container));
                self.counted.remove(&(id, place.container));
            }
            _ => {}
        }
        if let Some(good) = good {
            let counts = self.counts.entry((id, place.container)).or_default();
            counts.push((at, good));
        }
        let new = Counted {
            good,
            damaged,
            fitted: place.usage == Usage::ComesFitted,
        };
        let Some(known) = self.counted.get_mut(&(id, place.container)) else {
            self.counted.insert((id, place.container), new);
            return Ok(());
        };
        // Two counts add only where their bags differ. The lower one is the safe one.
        known.good = match (known.good, new.good) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
        known.damaged = known.damaged.max(new.damaged);
        known.fitted &= new.fitted;
        Ok(())
    }

    /// Whether a count of a bag by its name was made before or after the one that is known of it, by their dates:
    /// the later one speaks. `None` where that is not said.
    pub(super) fn is_later(&mut self, at: LineRef, of: (u32, u32)) -> Option<Ordering> {
        let (before, _) = self.counts.get(&of)?.first()?;
        if self.containers[of.1 as usize].is_loose() || before.list == at.list {
            return None;
        }
        let [list, other] = [at, *before].map(|at| &self.lists[at.list]);
        let order = day(list.date.as_deref()?)?.cmp(&day(other.date.as_deref()?)?);
        let (later, earlier) = match order {
            Ordering::Greater => (list, other),
            Ordering::Less => (other, list),
            Ordering::Equal => return None,
        };
        let bag = self.containers[of.1 as usize].spoken();
        let doubt = format!(
            "{bag} was counted twice: {}, which is later than {}, holds",
            later.file, earlier.file
        );
        let doubt = Doubt::Said(doubt.into());
        let doubts = &mut self.of.items[of.0 as usize].doubts;
        if !doubts.contains(&doubt) {
            doubts.push(doubt);
        }
        Some(order)
    }
}

/// Item and container, and the rows that count it there, with the good pieces of each.
type CountsOf = ((u32, u32), Vec<(LineRef, u64)>);

/// What each of several lists counts in places that are not told apart, as one that names bags and one that
/// names none: perhaps one heap, counted by two people. The list that counts the fewest is taken, until a person
/// tells.
pub(super) fn counted_again(
    counts: &[CountsOf],
    counted: &mut FxHashMap<(u32, u32), Counted>,
    containers: &[Container],
) -> Vec<CountedTwice> {
    let mut again = Vec::new();
    for of_item in counts.chunk_by(|a, b| a.0.0 == b.0.0) {
        let list = |of: &(LineRef, u64)| of.0.list;
        if !are_one_heap(of_item, containers) {
            continue;
        }
        let mut sums: BTreeMap<usize, u64> = BTreeMap::new();
        let all = of_item.iter().flat_map(|(_, counts)| counts);
        let mut all: Vec<(LineRef, u64)> = all.copied().collect();
        all.sort_unstable();
        for of in &all {
            *sums.entry(list(of)).or_default() += of.1;
        }
        let Some((&least, _)) = sums.iter().min_by_key(|(_, sum)| **sum) else {
            continue;
        };
        let (own, others): (Vec<_>, Vec<_>) =
            (of_item.iter()).partition(|(_, counts)| counts.iter().any(|of| list(of) == least));
        let mut damaged: u64 = own.iter().map(|(key, _)| counted[key].damaged).sum();
        for (key, _) in others {
            // Damaged pieces that it alone has seen stay.
            let of = counted.entry(*key).or_default();
            of.good = None;
            (of.damaged, damaged) = (
                of.damaged.saturating_sub(damaged),
                damaged.saturating_sub(of.damaged),
            );
        }
        again.push(CountedTwice {
            item: of_item[0].0.0,
            counts: all,
        });
    }
    again
}

/// The lists that count an item in one place.
type Counters = BTreeSet<usize>;

/// True where two lists count an item in places that are not told apart: in bags or boxes of one name, in a bag and
/// in a box, or the one in none. So what each counts need not be held against all that others do.
fn are_one_heap(of_item: &[CountsOf], containers: &[Container]) -> bool {
    let lists = |(_, counts): &CountsOf| counts.iter().map(|(at, _)| at.list).collect::<Counters>();
    let one = lists(&of_item[0]);
    if one.len() == 1 && of_item.iter().all(|of| lists(of) == one) {
        return false;
    }
    let places = || {
        let places = of_item.iter();
        places.map(|of| (&containers[of.0.1 as usize], lists(of)))
    };
    let mut by_name: Holders<(), IndexSet<Counters>> = Holders::default();
    for (place, lists) in places() {
        let of_name = by_name.said_of((), place);
        of_name.map(|of_name| of_name.insert(lists));
    }
    let all = |of: &dyn Fn(&Container) -> bool| -> IndexSet<(Scope, Counters)> {
        let places = places().filter(|(place, _)| of(place));
        places
            .map(|(place, lists)| (place.parcels, lists))
            .collect()
    };
    let meet = |some: IndexSet<(Scope, Counters)>, others: IndexSet<(Scope, Counters)>| {
        let meets = |(parcels, lists): &(Scope, Counters)| {
            let mut others = others.iter();
            others.any(|(of, by)| parcels.meets(*of) && lists.is_disjoint(by))
        };
        some.iter().any(meets)
    };
    meet(all(&Container::is_loose), all(&|_| true))
        || meet(all(&Container::is_box), all(&Container::is_unboxed))
        || places().any(|(place, lists)| {
            let mut of_names = by_name.of((), place).flatten();
            of_names.any(|others| lists.is_disjoint(others))
        })
}
