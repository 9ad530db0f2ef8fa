//! Bags and boxes by name.

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
    pub(super) fn of(bag: Option<&str>, carton: Option<&str>, parcels: Scope) -> Container {
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
        match (&self.bag, &self.carton) {
            (Some(bag), _) => Some(format!("bag {bag}")),
            (None, carton) => carton.as_ref().map(|carton| format!("box {carton}")),
        }
    }

    /// True for pieces that are in no named bag or box.
    pub fn is_loose(&self) -> bool {
        self.bag.is_none() && self.carton.is_none()
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

/// The form in which names of bags and boxes are compared.
fn container_key(name: &str) -> Box<str> {
    let lower = name.to_lowercase();
    let words: Vec<&str> = lower
        .split(|c: char| c.is_whitespace() || matches!(c, '#' | '.' | ':'))
        .filter(|word| !word.is_empty())
        .collect();
    let telling: Vec<&str> = words
        .iter()
        .copied()
        .filter(|word| {
            !matches!(
                *word,
                "bag" | "box" | "carton" | "crate" | "hardware" | "no" | "number"
            )
        })
        .collect();
    if telling.is_empty() { words } else { telling }
        .join(" ")
        .into()
}
