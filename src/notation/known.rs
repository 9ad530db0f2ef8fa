//! Sizes that are sure: what readings are weighed by where a text leaves several open.
//!
//! A size that the same list uses elsewhere, or that the parts list has, is the likelier reading of
//! `8-Jan` or `4 5/8`. It only moves the choice between readings that are listed anyway; what was open
//! stays a doubt, and the doubt says what moved the choice.

use rustc_hash::FxHashSet;

use super::{callout::Callout, score::NARROW};
use crate::hardware::{Diameter, Item, Kind, Length};

/// Points for what is known of a reading: a diameter outweighs every margin that leaves a choice open, the very item
/// more, and the very item of the parts list all that else is known. Ours, common practice, no source.
const DIAMETER: i32 = NARROW;
const ITEM: i32 = NARROW + 10;
const LISTED: i32 = NARROW + DIAMETER + ITEM;

/// Where a size is known from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// The rest of the list.
    Here,
    PartsList,
}

/// The sizes that are sure.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Known {
    here: Sizes,
    parts_list: Sizes,
}

#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Sizes {
    items: FxHashSet<(Option<Kind>, Option<Diameter>, Option<Length>)>,
    diameters: FxHashSet<Diameter>,
    lengths: FxHashSet<Length>,
}

/// A size that stands alone.
#[derive(Debug, Clone, Copy)]
pub(super) enum Sized {
    Diameter(Diameter),
    Length(Length),
}

impl Sizes {
    fn have(&self, size: Sized) -> bool {
        match size {
            Sized::Diameter(diameter) => self.diameters.contains(&diameter),
            Sized::Length(length) => self.lengths.contains(&length),
        }
    }

    fn add(&mut self, item: &Item) {
        let Some(diameter) = item.diameter else {
            return;
        };
        self.items.insert((item.kind, Some(diameter), item.length));
        self.diameters.insert(diameter);
        self.lengths.extend(item.length);
    }

    fn points(&self, item: &Item, of_item: i32) -> i32 {
        let Some(diameter) = item.diameter else {
            return 0;
        };
        if self
            .items
            .contains(&(item.kind, Some(diameter), item.length))
        {
            of_item
        } else if self.diameters.contains(&diameter) {
            DIAMETER
        } else {
            0
        }
    }
}

impl Known {
    /// Takes in an item that is sure; a part's size is none of a fastener.
    pub fn add(&mut self, item: &Item, origin: Origin) {
        if item.kind == Some(Kind::Part) {
            return;
        }
        match origin {
            Origin::Here => self.here.add(item),
            Origin::PartsList => self.parts_list.add(item),
        }
    }

    pub fn is_empty(&self) -> bool {
        self.here.diameters.is_empty() && self.parts_list.diameters.is_empty()
    }

    /// What speaks for the items of one reading.
    pub(super) fn points(&self, callouts: &[Callout]) -> i32 {
        let hardware = callouts
            .iter()
            .filter(|callout| callout.item.kind != Some(Kind::Part));
        hardware.map(|callout| self.points_of(&callout.item)).sum()
    }

    fn points_of(&self, item: &Item) -> i32 {
        self.here.points(item, ITEM) + self.parts_list.points(item, LISTED)
    }

    /// What speaks for a size that stands alone, as a diameter or as a length.
    pub(super) fn points_of_size(&self, size: Sized) -> i32 {
        i32::from(self.parts_list.have(size)) * ITEM + i32::from(self.here.have(size)) * DIAMETER
    }

    /// True where the parts list has a size.
    pub(super) fn is_listed(&self, size: Sized) -> bool {
        self.parts_list.have(size)
    }

    /// Why an item's reading was preferred, in a sentence: `5/8 is used elsewhere in this list`.
    pub(super) fn why(&self, item: &Item) -> Option<String> {
        let diameter = item.diameter?;
        let key = (item.kind, Some(diameter), item.length);
        let (list, here) = (&self.parts_list, &self.here);
        Some(match () {
            () if list.items.contains(&key) => format!("{} is on the parts list", item.text()),
            () if here.items.contains(&key) => {
                format!("{} is used elsewhere in this list", item.text())
            }
            () if list.diameters.contains(&diameter) => {
                format!("{diameter} is a size of the parts list")
            }
            () if here.diameters.contains(&diameter) => {
                format!("{diameter} is used elsewhere in this list")
            }
            () => return None,
        })
    }
}
