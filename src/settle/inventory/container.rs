//! Bags and boxes by name.

use std::hash::Hash;

use indexmap::IndexMap;
use rustc_hash::{FxBuildHasher, FxHashMap};

use crate::settle::parcels::Scope;

/// A bag, a box, or a bag in a box.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Container {
    /// Compared without case and without the words for bag and box.
    bag: Option<Box<str>>,
    carton: Option<Box<str>>,
    /// The parcels that it came in, or that a count looked at.
    pub parcels: Scope,
    /// As first named: the bag, else the box.
    pub name: Box<str>,
}

impl Container {
    pub(in crate::settle) fn of(
        bag: Option<&str>,
        carton: Option<&str>,
        parcels: Scope,
    ) -> Container {
        Container {
            parcels,
            bag: bag.map(container_key),
            carton: carton.map(container_key),
            name: bag.or(carton).unwrap_or_default().into(),
        }
    }

    /// The same, however it is called.
    pub(super) fn unnamed(&self) -> Container {
        Container {
            name: Box::default(),
            ..self.clone()
        }
    }

    /// The name with the word for what it is, at the start of a sentence: `Bag H`.
    pub fn spoken(&self) -> String {
        self.with_noun(["Bag", "Box"])
    }

    /// The same within a sentence: `bag H`.
    pub fn called(&self) -> String {
        self.with_noun(["bag", "box"])
    }

    /// The bag by its bare name, and a box with its word: `H`, `Box 2`.
    pub fn shown(&self) -> String {
        match self.bag {
            None if !self.is_loose() => self.spoken(),
            _ => self.name.to_string(),
        }
    }

    fn with_noun(&self, [bag, carton]: [&str; 2]) -> String {
        let noun = if self.bag.is_some() { bag } else { carton };
        match self.name.chars().all(|c| c.is_alphanumeric()) && self.name.len() < 4 {
            true => format!("{noun} {}", self.name),
            false => self.name.to_string(),
        }
    }

    /// The same for one bag, whichever box it is in; `None` for loose pieces.
    pub fn key(&self) -> Option<String> {
        self.keys().next()
    }

    /// Those of the bag and of the box.
    pub fn keys(&self) -> impl Iterator<Item = String> {
        let bag = self.bag.iter().map(|bag| format!("bag {bag}"));
        bag.chain(self.carton.iter().map(|carton| format!("box {carton}")))
    }

    /// True for pieces that are in no named bag or box.
    pub fn is_loose(&self) -> bool {
        self.bag.is_none() && self.carton.is_none()
    }

    /// True for a box of which no bag is named.
    pub fn is_box(&self) -> bool {
        self.bag.is_none() && self.carton.is_some()
    }

    /// True for a bag of which no box is named.
    pub fn is_unboxed(&self) -> bool {
        self.bag.is_some() && self.carton.is_none()
    }

    /// True where what is said of `self` is said of `other`, too: the same bag, or the box it is in.
    pub fn holds(&self, other: &Container) -> bool {
        self.parcels.meets(other.parcels) && self.has_name_of(other)
    }

    fn has_name_of(&self, other: &Container) -> bool {
        match (&self.bag, &other.bag) {
            (Some(a), Some(b)) => a == b,
            (Some(_), None) => false,
            (None, _) => self.carton.is_some() && self.carton == other.carton,
        }
    }
}

/// Sets of bags and boxes, each with what is said of it: which of a set hold another is looked up by name and not
/// tried one by one. [`Container::holds`] for many.
#[derive(Debug)]
pub struct Holders<S, T>(FxHashMap<(S, String), IndexMap<Scope, T, FxBuildHasher>>);

impl<S, T> Default for Holders<S, T> {
    fn default() -> Holders<S, T> {
        Holders(FxHashMap::default())
    }
}

impl<S: Copy + Eq + Hash, T: Default> Holders<S, T> {
    /// What is said in a set of all bags and boxes of one name and the same parcels; `None` for loose pieces,
    /// which hold nothing.
    pub fn said_of(&mut self, set: S, holder: &Container) -> Option<&mut T> {
        let of_name = self.0.entry((set, holder.key()?)).or_default();
        Some(of_name.entry(holder.parcels).or_default())
    }

    /// What is said in a set of those that hold a container.
    pub fn of<'a>(&'a self, set: S, held: &'a Container) -> impl Iterator<Item = &'a T> {
        let of_names = held.keys().filter_map(move |key| self.0.get(&(set, key)));
        let said = of_names.flatten();
        said.filter(|(parcels, _)| parcels.meets(held.parcels))
            .map(|(_, said)| said)
    }

    pub fn hold(&self, set: S, held: &Container) -> bool {
        self.of(set, held).next().is_some()
    }
}

/// Words for what it is, which make no other name. Common practice, no source.
#[rustfmt::skip]
const NOUNS: &[&str] = &[
    "bag", "polybag", "poly", "plastic", "sack", "pouch", "packet", "box", "carton", "crate", "hardware", "no",
    "number",
];

/// True for a word that says no more than that it is a bag or a box: `Hardware bag`.
pub fn is_container_noun(word: &str) -> bool {
    NOUNS.contains(&word.to_lowercase().as_str())
}

/// The form in which names of bags and boxes are compared: `H-1`, `bag H 1` and `h01` are one, and so are
/// `F` and `F (small)`, `3` and `3 of 7`.
pub fn container_key(name: &str) -> Box<str> {
    let lower = name.to_lowercase();
    let told = lower.split(['(', '[', ',']).next().unwrap_or_default();
    let told = if told.trim().is_empty() { &lower } else { told };
    let words: Vec<&str> = told
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    let words = match words.as_slice() {
        [first @ .., "of", all] if !first.is_empty() && all.bytes().all(|b| b.is_ascii_digit()) => {
            first
        }
        all => all,
    };
    let telling = || words.iter().filter(|word| !NOUNS.contains(word));
    let words: Vec<&&str> = match telling().next() {
        Some(_) => telling().collect(),
        None => words.iter().collect(),
    };
    let mut key = String::new();
    let is_figure = |c: char| c.is_ascii_digit();
    for word in words {
        for (at, run) in runs(word).enumerate() {
            let run = match run.trim_start_matches('0') {
                rest if rest.starts_with(is_figure) => rest,
                _ => run,
            };
            // Two figures, or two words, are not one.
            let last = key.chars().next_back();
            if at == 0 && last.is_some_and(|last| is_figure(last) == run.starts_with(is_figure)) {
                key.push(' ');
            }
            key.push_str(run);
        }
    }
    key.into()
}

/// A word's letters and figures, apart.
fn runs(word: &str) -> impl Iterator<Item = &str> {
    let mut rest = word;
    std::iter::from_fn(move || {
        let is_figure = rest.chars().next()?.is_ascii_digit();
        let end = rest.find(|c: char| c.is_ascii_digit() != is_figure);
        let (run, behind) = rest.split_at(end.unwrap_or(rest.len()));
        rest = behind;
        Some(run)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn same(a: &str, b: &str, expected: bool) {
        assert_eq!(container_key(a) == container_key(b), expected, "{a} {b}");
    }

    #[test]
    fn holders_are_those_that_hold() {
        let parts = [None, Some("1"), Some("2")];
        let scopes = [(1, 1), (2, 3), (1, u32::MAX)].map(|(first, last)| Scope { first, last });
        let all: Vec<Container> = (parts.iter())
            .flat_map(|bag| parts.map(|carton| (*bag, carton)))
            .flat_map(|(bag, carton)| scopes.map(|scope| Container::of(bag, carton, scope)))
            .collect();
        let mut holders: Holders<(), Vec<usize>> = Holders::default();
        for (at, holder) in all.iter().enumerate() {
            holders
                .said_of((), holder)
                .into_iter()
                .for_each(|said| said.push(at));
        }
        for held in &all {
            let mut found: Vec<usize> = holders.of((), held).flatten().copied().collect();
            found.sort_unstable();
            let tried = (0..all.len()).filter(|&at| all[at].holds(held));
            assert_eq!(found, tried.collect::<Vec<_>>(), "{held:?}");
        }
    }

    #[test]
    fn names_of_one_bag() {
        same("Bag F", "f", true);
        same("Hardware bag F", "Poly bag F", true);
        same("Bag No. 3", "Sack 3", true);
        same("H-1", "H 1", true);
        same("H1", "bag h-01", true);
        same("H01", "h 1", true);
        same("A/1", "A1", true);
        same("Bag 01", "1", true);
        same("F (small)", "F", true);
        same("F, opened", "Bag-F", true);
        same("3 of 7", "3", true);
        same("(3)", "3", true);
        same("1-1", "11", false);
        same("A 1", "A 10", false);
        same("F", "G", false);
        same("left frame", "frame", false);
        same("bag", "box", false);
    }
}
