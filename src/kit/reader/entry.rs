//! What a wording says: worked out once, and kept by its key.

use std::{collections::hash_map, hash::BuildHasher};

use rustc_hash::{FxBuildHasher, FxHashSet};

use super::{
    super::{
        open::Open,
        reading::{MOST_ITEMS, Reading, no_line_of},
        role::Role,
        usage::Usage,
    },
    Reader,
    key::Key,
};
use crate::{
    Doubt,
    hardware::Item,
    notation::{Along, Callout, Quantity, Unread},
};

impl Reader<'_> {
    /// The place in [`Reader::said`] of a wording.
    pub(super) fn entry_of(&mut self, wording: Key) -> usize {
        let entry = wording.index();
        if self.said.len() <= entry {
            self.said.resize(entry + 1, Entry::New);
        }
        entry
    }

    /// Keeps a reading. What leaves it open may be settled for each wording by itself.
    fn keep_reading(&mut self, reading: Reading, is_open: bool) -> u32 {
        let readings = &mut self.list.readings;
        let next = readings.len() as u32;
        if !is_open {
            match self.alike.entry(FxBuildHasher.hash_one(&reading)) {
                hash_map::Entry::Occupied(known) if readings[*known.get() as usize] == reading => {
                    return *known.get();
                }
                hash_map::Entry::Occupied(_) => {}
                hash_map::Entry::Vacant(new) => {
                    new.insert(next);
                }
            }
        }
        readings.push(reading);
        next
    }

    /// What a wording says. `in_cells`: how many packs there are is said in a cell of its own.
    pub(super) fn describe(
        &mut self,
        callouts: std::result::Result<Vec<Callout>, Unread>,
        in_cells: bool,
    ) -> Entry {
        match callouts {
            Ok(callouts) if callouts.len() > MOST_ITEMS => {
                Entry::Unread(no_line_of(callouts.len()))
            }
            Ok(callouts) => {
                let start = self.found.len() as u32;
                let is_open = callouts.iter().flat_map(|c| &c.doubts).any(Doubt::is_open);
                for mut callout in callouts {
                    let mut said = FxHashSet::default();
                    let one = callout.quantity.is_some_and(|of| of.packs == Some(1));
                    let is_pack = one && !callout.doubts.contains(&Doubt::LonePack);
                    callout.doubts.retain(|doubt| {
                        !(in_cells && *doubt == Doubt::LonePack) && said.insert(doubt.clone())
                    });
                    let doubted = !callout.doubts.is_empty();
                    let brought = callout.doubts.iter().find_map(brought_for);
                    let in_plain_words = is_in_plain_words(&callout.item);
                    let reading = Reading {
                        item: callout.item,
                        part_number: callout.part_number,
                        comes_with: callout.comes_with,
                        lent_size: callout.lent_size,
                        doubts: callout.doubts,
                    };
                    let reading = self.keep_reading(reading, is_open);
                    self.found.push(Found {
                        reading,
                        quantity: callout.quantity,
                        along: callout.along,
                        is_pack,
                        places: callout.places,
                        doubted,
                        in_plain_words,
                        brought,
                    });
                }
                Entry::Items(start, self.found.len() as u32)
            }
            Err(Unread::Empty) => Entry::Unread("nothing is written".into()),
            Err(Unread::NoItem(reason)) => Entry::Unread(reason),
        }
    }

    /// Keeps a wording that leaves its reading open, to be settled once the list is read.
    pub(super) fn keep_open(&mut self, word: impl Fn(&Self, usize) -> Box<str>, said: &Entry) {
        let &Entry::Items(start, end) = said else {
            return;
        };
        let found = &self.found[start as usize..end as usize];
        let readings = &self.list.readings;
        let doubts = |found: &Found| &readings[found.reading as usize].doubts;
        if !found.iter().flat_map(doubts).any(Doubt::is_open) {
            return;
        }
        let first = found[0].reading;
        self.list.open.push(Open {
            words: std::array::from_fn(|at| word(self, at)),
            notation: self.notation,
            readings: first..first + (end - start),
            quantities: found.iter().map(|found| found.quantity).collect(),
            counted: false,
        });
    }

    /// What becomes of a wording that names no piece to be counted, on a list of what is required:
    /// tools and consumables are brought.
    pub(super) fn brought(&self, entry: usize) -> Option<Usage> {
        let Entry::Items(start, end) = self.said[entry] else {
            return None;
        };
        let found = &self.found[start as usize..end as usize];
        let usage = found.first()?.brought?;
        let all = self.list.role == Role::Required
            && found.iter().all(|found| found.brought == Some(usage));
        all.then_some(usage)
    }
}

/// One item of a wording: its reading, and the count that the wording states.
#[derive(Clone, Copy)]
pub(super) struct Found {
    pub(super) reading: u32,
    pub(super) quantity: Option<Quantity>,
    pub(super) along: Along,
    /// Its name begins with a pack: `set of 4 screws`. Behind the name it may tell how pieces are packed.
    pub(super) is_pack: bool,
    pub(super) places: u32,
    /// Its reading has doubts.
    pub(super) doubted: bool,
    /// A part that is known by words alone, without a number or a size.
    pub(super) in_plain_words: bool,
    /// What becomes of it where it is no piece to be counted.
    pub(super) brought: Option<Usage>,
}

/// What becomes of what a doubt says is no piece to be counted.
fn brought_for(doubt: &Doubt) -> Option<Usage> {
    match doubt {
        Doubt::Tool => Some(Usage::Reference),
        Doubt::Consumable => Some(Usage::Consumable),
        _ => None,
    }
}

fn is_in_plain_words(item: &Item) -> bool {
    let part = item.part.as_ref().filter(|part| part.number.is_none());
    let words = part.and_then(|part| part.description.as_deref());
    words.is_some_and(|words| !words.contains(|c: char| c.is_ascii_digit()))
}

/// What a wording turned out to be.
#[derive(Clone)]
pub(super) enum Entry {
    /// Not worked out yet.
    New,
    /// Items, as a range of [`Reader::found`].
    Items(u32, u32),
    /// A row of totals, or a note.
    Furniture,
    /// A bag or box as such.
    Container,
    Unread(Box<str>),
}
