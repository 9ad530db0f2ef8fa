//! The bags that placements and lines name, and what those hold that a slip lists as such.

use std::collections::BTreeSet;

use indexmap::IndexMap;
use rayon::prelude::*;
use rustc_hash::{FxBuildHasher, FxHashMap, FxHashSet};

use super::{Taking, unread_line};
use crate::{
    Result,
    kit::{Role, What},
    settle::{
        account::LineRef,
        evidence::{Rows, Run},
        inventory::Container,
        parcels::Scope,
    },
};

/// By key: indices into what is in bags.
type Insides = FxHashMap<String, Vec<usize>>;

impl Taking<'_> {
    /// The id of a placement's bag or box; 0 for loose pieces.
    pub(super) fn container(
        &mut self,
        bag: Option<&str>,
        carton: Option<&str>,
        parcels: Scope,
    ) -> u32 {
        let container = Container::of(bag, carton, parcels);
        if container.is_loose() && parcels == Scope::ALL {
            return 0;
        }
        *self
            .container_ids
            .entry(container.unnamed())
            .or_insert_with(|| {
                self.containers.push(container);
                self.containers.len() as u32 - 1
            })
    }

    /// Puts what the required lists put in a bag on the slip that lists the bag, unless that slip
    /// lists pieces of the bag itself.
    pub fn open_bags(&mut self) -> Result<()> {
        self.bagged.par_sort_unstable_by_key(|(key, _)| *key);
        self.bagged.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            if same {
                kept.1 += next.1;
            }
            same
        });
        self.bagged.shrink_to_fit();
        let insides = self.insides();
        self.leave_open_what_bags_hold(&insides);
        let itemised: FxHashSet<(usize, u32)> = self.itemised_bags();
        // Of one bag on one slip: its lines, and how many.
        let mut listed: IndexMap<(usize, u32), (Vec<LineRef>, u64), FxBuildHasher> =
            IndexMap::default();
        for (at, bag, bags) in std::mem::take(&mut self.slip_bags) {
            if itemised.contains(&(at.list, bag)) {
                continue;
            }
            let (lines, number) = listed.entry((at.list, bag)).or_default();
            lines.push(at);
            *number = number.saturating_add(bags);
        }
        // By item: its bags, whose rows it shares.
        let mut bags_of: FxHashMap<u32, Vec<usize>> = FxHashMap::default();
        let mut rows_of_bags = Vec::with_capacity(listed.len());
        for ((_, bag), (lines, bags)) in listed {
            let mut inside: Vec<(u32, u64)> = self.inside(bag, &insides).collect();
            inside.sort_unstable();
            let rows = lines.iter().map(|at| {
                let line = &self.lists[at.list].lines[at.line];
                (*at, Run::row(at.list, line.sheet, line.row))
            });
            let rows: Vec<(LineRef, Run)> = rows.collect();
            if inside.is_empty() {
                self.of.unopened.extend(rows.clone());
            }
            for (item, each) in inside {
                let pieces = self.pieces(lines[0], each, bags, 1)?;
                self.shipped.entry((item, bag)).or_default().pieces += pieces;
                bags_of.entry(item).or_default().push(rows_of_bags.len());
            }
            rows_of_bags.push(Rows::from_iter(rows.into_iter().map(|(_, row)| row)));
        }
        let mut together: FxHashMap<Vec<usize>, Rows> = FxHashMap::default();
        for (item, mut bags) in bags_of {
            bags.dedup();
            let rows = || bags.iter().map(|&at| &rows_of_bags[at]);
            let own = &mut self.of.items[item as usize].shipped_by;
            *own = match own.is_empty() {
                true => match together.get(&bags) {
                    Some(rows) => rows.clone(),
                    None => {
                        let rows = Rows::together(rows());
                        together.insert(bags, rows.clone());
                        rows
                    }
                },
                false => Rows::together(rows().chain([&*own])),
            };
        }
        Ok(())
    }

    /// What the required lists put in bags, by the keys of bag and box; nothing where no line names a bag as such.
    fn insides(&self) -> Insides {
        let mut insides = Insides::default();
        if self.slip_bags.is_empty() && self.bags_counted.is_empty() {
            return insides;
        }
        for (at, ((_, container, _), _)) in self.bagged.iter().enumerate() {
            for key in self.containers[*container as usize].keys() {
                insides.entry(key).or_default().push(at);
            }
        }
        insides
    }

    /// What the required lists put in a bag: item and pieces of one kit, stage by stage.
    fn inside(&self, bag: u32, insides: &Insides) -> impl Iterator<Item = (u32, u64)> {
        let bag = &self.containers[bag as usize];
        let own = bag.key().and_then(|key| insides.get(&key));
        let bagged = own.into_iter().flatten().map(|&at| &self.bagged[at]);
        bagged
            .filter(|((_, container, _), _)| bag.holds(&self.containers[*container as usize]))
            .map(|((item, ..), pieces)| (*item, *pieces))
    }

    /// What lines of the required lists put in bags and boxes: bag, item and pieces of one kit.
    pub(super) fn in_bags(&self) -> Vec<(Container, u32, u64)> {
        let required = self.lists.iter().zip(&self.ids);
        let required = required.filter(|(list, _)| list.role == Role::Required);
        let lines = required.flat_map(|(list, ids)| {
            list.lines.iter().filter_map(move |line| {
                let (What::Item(reading), Some(each)) = (line.what, line.quantity) else {
                    return None;
                };
                let placement = list.placement_of(line);
                let (bag, carton) = (placement.bag.as_deref(), placement.carton.as_deref());
                let bag = Container::of(bag, carton, Scope::ALL);
                let pieces = each.saturating_mul(line.places.into());
                (!bag.is_loose()).then(|| (bag, ids[reading as usize], pieces))
            })
        });
        lines.collect()
    }

    /// Of what is in a bag that was counted as such, nobody knows how many a count saw.
    fn leave_open_what_bags_hold(&mut self, insides: &Insides) {
        for (at, bag) in std::mem::take(&mut self.bags_counted) {
            let inside: BTreeSet<u32> = (self.inside(bag, insides)).map(|(item, _)| item).collect();
            if inside.is_empty() {
                unread_line(&mut self.unsure, at.list, at);
            }
            for item in inside {
                self.figure_unread(item, at);
            }
        }
    }

    /// List and container of every slip line that lists pieces in a bag, where slips list bags.
    pub(super) fn itemised_bags(&mut self) -> FxHashSet<(usize, u32)> {
        let mut itemised = FxHashSet::default();
        if self.slip_bags.is_empty() {
            return itemised;
        }
        for (at, list) in self.lists.iter().enumerate() {
            if list.role != Role::Shipped {
                continue;
            }
            for line in &list.lines {
                if matches!(line.what, What::Item(_)) {
                    let placement = list.placement_of(line);
                    let container = self.container(
                        placement.bag.as_deref(),
                        placement.carton.as_deref(),
                        self.parcels.of_list(at),
                    );
                    itemised.insert((at, container));
                }
            }
        }
        itemised
    }
}
