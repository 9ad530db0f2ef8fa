//! Which pieces may be what which entry asks for.

use rustc_hash::FxHashMap;

use super::{
    deal::Way,
    fit::{Fit, fit},
    inventory::Stated,
};
use crate::hardware::{Diameter, Item, Kind, Length, Ratio, Style};

/// By item: the entries that it may serve, best first.
#[derive(Debug, Default)]
pub struct Fits {
    /// Where each item's own begin and end.
    of_items: Vec<(u32, u32)>,
    all: Vec<(usize, Fit)>,
    /// Beside them: the same for dealing.
    ways: Vec<Way>,
}

impl Fits {
    /// Of so many items, none of which serves anything so far.
    pub fn of_none(items: usize) -> Fits {
        Fits {
            of_items: vec![(0, 0); items],
            ..Fits::default()
        }
    }

    /// Makes room for so many more.
    pub fn reserve(&mut self, fits: usize) {
        self.all.reserve_exact(fits);
        self.ways.reserve_exact(fits);
    }

    /// Enters what an item may serve, in place of what was entered before.
    pub fn enter(&mut self, item: usize, fits: &[(usize, Fit)]) {
        let start = self.all.len() as u32;
        self.all.extend_from_slice(fits);
        let ways = fits.iter();
        self.ways
            .extend(ways.map(|(entry, fit)| Way::own(*entry, fit.cost())));
        self.of_items[item] = (start, self.all.len() as u32);
    }

    pub fn of(&self, item: usize) -> &[(usize, Fit)] {
        let (start, end) = self.of_items[item];
        &self.all[start as usize..end as usize]
    }

    pub fn ways(&self, item: usize) -> &[Way] {
        let (start, end) = self.of_items[item];
        &self.ways[start as usize..end as usize]
    }

    /// Lets go of what only dealing asks for: from here on there are no ways.
    pub fn forget_ways(&mut self) {
        self.ways = Vec::new();
    }

    /// True for an item that serves nothing so far.
    pub fn is_none(&self, item: usize) -> bool {
        self.of(item).is_empty()
    }

    /// The entry that has what nobody else gets of an item.
    pub fn home(&self, item: usize) -> Option<usize> {
        self.of(item).first().map(|(entry, _)| *entry)
    }
}

/// Where to look for entries that a supply may serve.
#[derive(Default)]
pub struct Index {
    sized: FxHashMap<(Measure, Measure), Vec<Shelf>>,
    of_diameter: FxHashMap<Measure, Vec<Shelf>>,
    numbered: FxHashMap<Box<str>, Vec<usize>>,
    described: FxHashMap<Box<str>, Described>,
}

/// Parts of one description.
#[derive(Default)]
struct Described {
    all: Vec<usize>,
    /// Those that bear no number, which a part of any number may be.
    unnumbered: Vec<usize>,
}

/// A diameter or a length as a key: what it is measured in, and its figures in lowest terms.
type Measure = (u8, i64, i64);

/// Entries of one kind and style.
struct Shelf {
    kind: Option<Kind>,
    style: Option<Style>,
    entries: Vec<usize>,
}

impl Shelf {
    /// True where nothing of the shelf can be an item, whatever else the two state.
    fn refutes(&self, item: &Item) -> bool {
        let kinds_differ = matches!((self.kind, item.kind), (Some(a), Some(b)) if a != b);
        let style = self.style.zip(item.style);
        kinds_differ || style.is_some_and(|(a, b)| !a.agrees(b))
    }
}

fn across(item: &Item) -> Measure {
    measure(match item.diameter {
        None => (0, 0.into()),
        Some(Diameter::Inch(of)) => (1, of),
        Some(Diameter::Number(number)) => (2, i64::from(number).into()),
        Some(Diameter::Metric(of)) => (3, of),
    })
}

fn long(length: Option<Length>) -> Measure {
    measure(match length {
        None => (0, 0.into()),
        Some(Length::Inch(of)) => (1, of),
        Some(Length::Millimetre(of)) => (2, of),
    })
}

fn measure((unit, of): (u8, Ratio)) -> Measure {
    (unit, *of.numer(), *of.denom())
}

impl Index {
    /// Adds an entry for an item.
    pub fn add(&mut self, entry: usize, stated: &Stated) {
        let (item, description) = (&stated.identity, stated.description());
        if item.part.is_none() {
            let (across, long) = (across(item), long(item.length));
            put(self.sized.entry((across, long)).or_default(), entry, item);
            put(self.of_diameter.entry(across).or_default(), entry, item);
        }
        for number in &stated.numbers {
            self.numbered.entry(number.clone()).or_default().push(entry);
        }
        if let Some(description) = description {
            let described = self.described.entry(description.into()).or_default();
            described.all.push(entry);
            if item.part.as_ref().is_none_or(|part| part.number.is_none()) {
                described.unnumbered.push(entry);
            }
        }
    }

    /// Entries that may fit, each at least once.
    fn candidates<'a>(&'a self, stated: &'a Stated) -> impl Iterator<Item = usize> + 'a {
        let item = &stated.identity;
        let of_part = item.part.as_ref().and_then(|part| {
            let described = self.described.get(stated.description()?)?;
            Some(match part.number {
                Some(_) => &described.unnumbered,
                None => &described.all,
            })
        });
        let of_part = of_part.into_iter().flatten();
        let of_size = match (&item.part, item.length) {
            (Some(_), _) => [None, None],
            (None, None) => [self.of_diameter.get(&across(item)), None],
            (None, length) => {
                [length, None].map(|length| self.sized.get(&(across(item), long(length))))
            }
        };
        let shelves = of_size.into_iter().flatten().flatten();
        let of_size = shelves
            .filter(|shelf| !shelf.refutes(item))
            .flat_map(|shelf| &shelf.entries);
        let numbered = stated.numbers.iter();
        let numbered = numbered.flat_map(|n| self.numbered.get(n).into_iter().flatten());
        of_part.chain(of_size).chain(numbered).copied()
    }

    /// Finds the entries that pieces of an item may serve, best first; `of` says what an entry asks
    /// for.
    pub fn find<'a>(
        &self,
        supply: &Stated,
        of: impl Fn(usize) -> &'a Stated,
        found: &mut Vec<(usize, Fit)>,
    ) {
        found.clear();
        found.extend(self.candidates(supply).filter_map(|at| {
            let entry = of(at);
            let fit = fit(entry.shown(), supply.shown())?;
            let one_number = entry
                .numbers
                .iter()
                .any(|n| supply.numbers.binary_search(n).is_ok());
            Some((at, if one_number { Fit::EXACT } else { fit }))
        }));
        // Flange nuts may be slide nuts only where nobody asks for flange nuts.
        if found.iter().any(|(_, fit)| !fit.is_vague()) {
            found.retain(|(_, fit)| !fit.is_called_otherwise());
        }
        found.sort_unstable_by_key(|(at, fit)| (fit.cost(), *at));
        found.dedup_by_key(|(at, _)| *at);
    }
}

/// Puts an entry on the shelf of its kind and style.
fn put(shelves: &mut Vec<Shelf>, entry: usize, item: &Item) {
    let own = |shelf: &&mut Shelf| (shelf.kind, shelf.style) == (item.kind, item.style);
    match shelves.iter_mut().find(own) {
        Some(shelf) => shelf.entries.push(entry),
        None => shelves.push(Shelf {
            kind: item.kind,
            style: item.style,
            entries: vec![entry],
        }),
    }
}
