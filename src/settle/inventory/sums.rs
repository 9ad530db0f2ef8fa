//! Sums by item and by what parts its pieces: a stage, a bag.

use rayon::prelude::*;
use rustc_hash::FxHashMap;

/// Cells of a table that a line may cost.
const CELLS_A_LINE: usize = 2;

/// A sum for each item and part that has one. A table finds most of them, where it is no larger than
/// the lists; a map finds the others.
pub(super) struct Sums<V> {
    all: Vec<((u32, u32), V)>,
    /// By item and part: the number of the sum, from 1.
    table: Vec<u32>,
    /// Parts in a row of the table.
    width: usize,
    others: FxHashMap<(u32, u32), u32>,
    items: usize,
    most: usize,
}

impl<V: Default + Send> Sums<V> {
    /// For so many items on so many lines.
    pub fn new(items: usize, lines: usize) -> Sums<V> {
        Sums {
            all: Vec::new(),
            table: Vec::new(),
            width: 0,
            others: FxHashMap::default(),
            items,
            most: lines.saturating_mul(CELLS_A_LINE),
        }
    }

    /// Says that parts are numbered below `width`.
    pub fn expect(&mut self, width: usize) {
        if width <= self.width || self.items.saturating_mul(width) > self.most {
            return;
        }
        self.width = width;
        self.table.clear();
        self.table.resize(self.items * width, 0);
        self.others.clear();
        for at in 0..self.all.len() {
            let (item, part) = self.all[at].0;
            *self.number(item, part) = at as u32 + 1;
        }
    }

    fn number(&mut self, item: u32, part: u32) -> &mut u32 {
        match (part as usize) < self.width {
            true => &mut self.table[item as usize * self.width + part as usize],
            false => self.others.entry((item, part)).or_default(),
        }
    }

    /// The sum of an item and part, from nothing on.
    pub fn of(&mut self, item: u32, part: u32) -> &mut V {
        let next = self.all.len();
        let number = self.number(item, part);
        if *number == 0 {
            *number = next as u32 + 1;
            self.all.push(((item, part), V::default()));
            return &mut self.all[next].1;
        }
        let at = *number as usize - 1;
        &mut self.all[at].1
    }

    /// All sums in order of item and part.
    pub fn sorted(self) -> Vec<((u32, u32), V)> {
        let mut all = self.all;
        all.par_sort_unstable_by_key(|(key, _)| *key);
        all.shrink_to_fit();
        all
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use proptest::prelude::*;

    use super::*;

    proptest! {
        /// Whatever is expected, sums are those of a map.
        #[test]
        fn sums_are_those_of_a_map(
            lines in prop::collection::vec((0u32..9, prop_oneof![0u32..7, Just(u32::MAX)], 1u64..5), 0..60),
            widths in prop::collection::vec(0usize..9, 0..4),
        ) {
            let mut sums = Sums::new(9, lines.len());
            let mut expected: BTreeMap<(u32, u32), u64> = BTreeMap::new();
            for (at, (item, part, pieces)) in lines.iter().enumerate() {
                if let Some(width) = widths.get(at / 20) {
                    sums.expect(*width);
                }
                *sums.of(*item, *part) += pieces;
                *expected.entry((*item, *part)).or_default() += pieces;
            }
            prop_assert_eq!(sums.sorted(), expected.into_iter().collect::<Vec<_>>());
        }
    }
}
