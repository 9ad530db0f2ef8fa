//! What a count finds in a bag in the place of what the lists put there.

use rustc_hash::FxHashMap;

use super::{Counted, Inventory};
use crate::settle::{evidence::Rows, wrong_sizes::differs_in_size};

/// Items in one bag, at most, among which others are looked for: more are in no bag.
const MOST_IN_BAG: usize = 64;

impl Inventory {
    /// Counts none of what nobody counted, where a bag that it is due in holds as many of another size, which no parts
    /// list or slip names: whoever looked into the bag saw no others (common practice, no source).
    pub(super) fn count_what_lies_in_place(&mut self, kits: u64) {
        let strange = self.counted.iter().filter_map(|((item, place), counted)| {
            let bag = &self.containers[*place as usize];
            let is_strange =
                !bag.is_loose() && !holds(&self.needs, *item) && !holds(&self.shipped, *item);
            Some((*item, *place, counted.good?)).filter(|_| is_strange)
        });
        let strange: Vec<(u32, u32, u64)> = strange.collect();
        if strange.is_empty() {
            return;
        }
        let mut in_bags: FxHashMap<Option<String>, Vec<(u32, u32, u64)>> = FxHashMap::default();
        for ((item, bag, _), each) in &self.bagged {
            let key = self.containers[*bag as usize].key();
            let of_bag = in_bags.entry(key).or_default();
            match of_bag.iter().position(|(of, ..)| of == item) {
                Some(at) => of_bag[at].2 += each,
                None if of_bag.len() < MOST_IN_BAG => of_bag.push((*item, *bag, *each)),
                None => {}
            }
        }
        for (strange, place, found) in strange {
            let bag = &self.containers[place as usize];
            let item = |id: u32| self.items[id as usize].shown();
            let is_blank = |item: u32| self.blank.iter().any(|(of, _)| *of == item);
            let of_bag = in_bags.get(&bag.key()).into_iter().flatten();
            let mut due = of_bag.filter(|(due, in_bag, _)| {
                self.containers[*in_bag as usize].holds(bag)
                    && !holds(&self.counted, *due)
                    && !is_blank(*due)
                    && differs_in_size(item(strange), item(*due))
            });
            let (Some(&(due, _, each)), None) = (due.next(), due.next()) else {
                continue;
            };
            if each * kits != found {
                continue;
            }
            let none = Counted {
                good: Some(0),
                ..Counted::default()
            };
            let at = self.counted.partition_point(|(of, _)| *of < (due, place));
            self.counted.insert(at, ((due, place), none));
            let rows = self.items[strange as usize].counted_by.clone();
            let counted_by = &mut self.items[due as usize].counted_by;
            *counted_by = Rows::together([&*counted_by, &rows]);
        }
    }
}

/// True where sums, which are in order of items, hold any of an item.
fn holds<T>(sums: &[((u32, u32), T)], item: u32) -> bool {
    let first = sums.partition_point(|((of, _), _)| *of < item);
    sums.get(first).is_some_and(|((of, _), _)| *of == item)
}
