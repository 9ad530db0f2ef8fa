//! What objects of several sorts have in common.

use std::fmt::Display;

use serde::{Serialize, Serializer};

use crate::hardware::{
    self, Diameter, Grade, Item, Kind, Length, Style, Thread, Unit, Wrench, grade::Finish,
};

/// Written as it is shown, without a text of its own in between.
pub struct Shown<T>(pub T);

impl<T: Display> Serialize for Shown<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

/// An array of what comes, one after another, without a list of its own in between.
pub struct Each<I>(pub I);

impl<I> Serialize for Each<I>
where
    I: Iterator<Item: Serialize> + Clone,
{
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.clone())
    }
}

/// What an item is, as far as its lines state it.
#[derive(Serialize)]
pub struct ItemFields<'a> {
    kind: Option<Kind>,
    style: Option<Style>,
    called: Option<&'a str>,
    diameter: Option<Shown<Diameter>>,
    thread: Option<Shown<Thread>>,
    length: Option<Shown<Length>>,
    unit: Option<&'static str>,
    grade: Option<Grade>,
    finish: Option<Finish>,
    /// Of a thread that is not right-hand.
    #[serde(skip_serializing_if = "Option::is_none")]
    hand: Option<&'static str>,
}

impl<'a> ItemFields<'a> {
    pub fn of(item: &'a Item) -> ItemFields<'a> {
        let unit: Option<Unit> = item
            .length
            .map(|l| l.unit())
            .or(item.diameter.map(|d| d.unit()));
        ItemFields {
            kind: item.kind,
            style: item.style,
            called: item.called.as_deref(),
            diameter: item.diameter.map(Shown),
            thread: item.thread.map(Shown),
            length: item.length.map(Shown),
            unit: unit.map(Unit::as_str),
            grade: item.grade,
            finish: item.finish,
            hand: item.left_hand.then_some("left"),
        }
    }

    /// The same, with the thread that is meant where none is stated.
    pub fn settled(item: &'a Item) -> ItemFields<'a> {
        ItemFields {
            thread: item.effective_thread().map(Shown),
            ..ItemFields::of(item)
        }
    }

    pub const NONE: ItemFields<'static> = ItemFields {
        kind: None,
        style: None,
        called: None,
        diameter: None,
        thread: None,
        length: None,
        unit: None,
        grade: None,
        finish: None,
        hand: None,
    };
}

/// What the standard tables say of an item.
#[derive(Serialize)]
pub struct TableFields {
    /// Grams of one piece; `None` where the tables do not reach.
    mass_g: Option<f64>,
    /// Across flats, written as a size.
    wrench: Option<Shown<Wrench>>,
}

impl TableFields {
    pub fn of(item: Option<&Item>) -> TableFields {
        TableFields {
            // To the milligram: the tables tell no more.
            mass_g: item
                .and_then(hardware::mass)
                .map(|mass| (mass.0 * 1000.0).round() / 1000.0),
            wrench: item.and_then(hardware::wrench).map(Shown),
        }
    }
}

/// The maker's number: the line's own, or the part's.
pub fn number_of<'a>(item: &'a Item, own: Option<&'a str>) -> Option<&'a str> {
    own.or_else(|| item.part.as_deref()?.number.as_deref())
}
