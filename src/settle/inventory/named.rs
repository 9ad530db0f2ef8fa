//! What a line names, or may name, whose figures were not all read.

use rustc_hash::{FxHashMap, FxHashSet};

use crate::{
    hardware::{PartWords, Written},
    kit::{List, Role},
};

/// Longer lines are no lines of a list.
pub const LONGEST: usize = 4000;

/// More parts than this are held against no line: so many that share its words are a stock list's.
const MOST: usize = 1000;

/// The parts that the required lists ask for, by their words.
pub struct Named {
    /// Item and words, in order of items.
    parts: Vec<(u32, PartWords)>,
    by_word: FxHashMap<Box<str>, Vec<u32>>,
}

impl Named {
    /// `ids` are the items of each list's readings.
    pub fn of(lists: &[List], ids: &[Vec<u32>]) -> Named {
        let required = lists.iter().zip(ids);
        let required = required.filter(|(list, _)| list.role == Role::Required);
        let readings = required.flat_map(|(list, ids)| list.readings.iter().zip(ids));
        let described = readings.filter_map(|(reading, id)| {
            let description = reading.item.part.as_ref()?.description.as_deref()?;
            Some((*id, Written::of(description).words))
        });
        let mut parts: Vec<(u32, PartWords)> = described.collect();
        parts.sort();
        parts.dedup();
        let mut by_word: FxHashMap<Box<str>, Vec<u32>> = FxHashMap::default();
        for ((_, words), at) in parts.iter().zip(0..) {
            if let Some(first) = words.words().next() {
                by_word.entry(first.into()).or_default().push(at);
            }
        }
        Named { parts, by_word }
    }

    /// The items of which all words stand in a line, in order.
    pub fn by(&self, line: &str) -> Vec<u32> {
        if line.len() > LONGEST {
            return Vec::new();
        }
        let line = Written::of(line).words;
        let bearing = line.words().filter_map(|word| self.by_word.get(word));
        let bearing = bearing.flatten().take(MOST);
        let parts = bearing.map(|&at| &self.parts[at as usize]);
        let named = parts.filter(|(_, words)| words.within(&line));
        let mut items: Vec<u32> = named.map(|(item, _)| *item).collect();
        items.sort_unstable();
        items.dedup();
        items
    }
}

/// The numerals of a text, as a size writes them: `12`, `5.5`, `3-3/4`.
pub fn figures(text: &str) -> FxHashSet<String> {
    let is_part = |c: char| c.is_ascii_digit() || matches!(c, '.' | '/' | '-');
    let runs = text.split(|c: char| !is_part(c));
    let runs = runs.map(|run| run.trim_matches(|c: char| !c.is_ascii_digit()));
    let runs = runs.filter(|run| !run.is_empty());
    runs.flat_map(|run| {
        // `10-24`: a size and its thread, or two figures.
        let parts = run.split('-').filter(|part| !part.is_empty());
        std::iter::once(run).chain(parts)
    })
    .map(ToOwned::to_owned)
    .collect()
}
