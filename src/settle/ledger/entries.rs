//! The entries of the ledger, and which items may serve each.

use rayon::prelude::*;

use super::Ledger;
use crate::settle::{fit::Fit, fits::Index, inventory::Inventory};

/// Entries that an item may serve, best first.
type Fitting = Vec<(usize, Fit)>;

/// One item of the account.
#[derive(Debug, Clone, Default)]
pub struct Entry {
    /// Index into [`Inventory::items`].
    pub item: usize,
    /// A required list names it.
    pub listed: bool,
    /// New pieces of one kit: stage and pieces.
    pub wants: Vec<(usize, u64)>,
    /// The same with pieces that come fitted, where those were counted.
    with_fitted: Option<Vec<(usize, u64)>>,
    /// Given back and thrown away, for one kit: stage and pieces.
    pub returned: Vec<(usize, u64)>,
    pub discarded: Vec<(usize, u64)>,
    /// For one kit.
    pub to_bring: u64,
}

impl Entry {
    /// New pieces of one kit that are due, and those that come fitted where these were counted: stage and
    /// pieces.
    pub fn due(&self) -> &[(usize, u64)] {
        self.with_fitted.as_ref().unwrap_or(&self.wants)
    }
}

/// Stage and pieces of one kit that come fitted.
fn fitted_of(inventory: &Inventory, item: usize) -> impl Iterator<Item = (usize, u64)> {
    let needs = &inventory.needs;
    let first = needs.partition_point(|((of, _), _)| (*of as usize) < item);
    needs[first..]
        .iter()
        .take_while(move |((of, _), _)| *of as usize == item)
        .map(|((_, stage), need)| (*stage as usize, need.others().fitted))
        .filter(|(_, fitted)| *fitted > 0)
}

impl Ledger {
    pub(super) fn enter_needs(&mut self, inventory: &Inventory) {
        for ((item, stage), need) in &inventory.needs {
            let (item, stage) = (*item as usize, *stage as usize);
            if self.entries.last().is_none_or(|entry| entry.item != item) {
                self.entries.push(Entry {
                    item,
                    listed: true,
                    ..Entry::default()
                });
            }
            let Some(entry) = self.entries.last_mut() else {
                continue;
            };
            let others = need.others();
            for (of, pieces) in [
                (&mut entry.wants, need.new),
                (&mut entry.returned, others.returned),
                (&mut entry.discarded, others.discarded),
            ] {
                if pieces > 0 {
                    of.push((stage, pieces));
                }
            }
            entry.to_bring += others.to_bring;
        }
    }

    /// Finds which entries each item may serve, and opens one for what was shipped or counted and serves
    /// none.
    pub(super) fn find_fits(&mut self, inventory: &Inventory) {
        let mut listed = Index::default();
        for (at, entry) in self.entries.iter().enumerate() {
            listed.add(at, &inventory.items[entry.item]);
        }
        let shipped = inventory.shipped.iter().map(|(key, _)| key.0);
        let counted = inventory.counted.iter().map(|(key, _)| key.0);
        let left_over = inventory.left_over.iter().map(|(item, _)| *item);
        let unread = inventory.figures_unread.iter().map(|of| of.item);
        // What the shop has besides is nobody's business here.
        let stocked = inventory.stocked.iter().map(|(item, _)| *item);
        let own = self.entries.iter().map(|entry| entry.item as u32);
        let mut items: Vec<u32> = own
            .chain(shipped.clone())
            .chain(counted.clone())
            .chain(left_over.clone())
            .chain(unread)
            .chain(stocked)
            .collect();
        items.sort_unstable();
        items.dedup();
        let chunks = items.par_chunks(256);
        let found: Vec<Vec<Fitting>> = chunks
            .map(|items| {
                let items = items.iter();
                items
                    .map(|item| self.find(inventory, &listed, *item))
                    .collect()
            })
            .collect();
        self.fits
            .reserve(found.iter().flatten().map(Vec::len).sum());
        for (item, found) in items.iter().zip(found.iter().flatten()) {
            self.fits.enter(*item as usize, found);
        }
        let mut unlisted = Index::default();
        let slips_name = self.named_by_slips(inventory);
        let shipped = shipped.map(|item| (item, true));
        let counted = counted.map(|item| (item, false));
        for (item, on_slip) in shipped.chain(counted) {
            if !on_slip {
                self.fit_unlisted(inventory, &unlisted, item);
                self.fit_as_shipped(inventory, &unlisted, &slips_name, item);
            }
            let item = item as usize;
            if self.fits.is_none(item) {
                let at = self.entries.len();
                self.entries.push(Entry {
                    item,
                    ..Entry::default()
                });
                self.fits.enter(item, &[(at, Fit::EXACT)]);
                unlisted.add(at, &inventory.items[item]);
            }
        }
        for item in left_over {
            self.fit_unlisted(inventory, &unlisted, item);
        }
        self.entries.shrink_to_fit();
    }

    /// Finds which of the entries that no list names an item may serve, if it serves none of the others.
    fn fit_unlisted(&mut self, inventory: &Inventory, unlisted: &Index, item: u32) {
        if self.fits.is_none(item as usize) {
            let found = self.find(inventory, unlisted, item);
            self.fits.enter(item as usize, &found);
        }
    }

    /// By entry: a slip lists pieces that may be of it.
    pub(super) fn named_by_slips(&self, inventory: &Inventory) -> Vec<bool> {
        let mut named = vec![false; self.entries.len()];
        let shipped = inventory.shipped.iter();
        for ((item, _), _) in shipped.filter(|(_, shipped)| shipped.pieces > 0) {
            for (entry, _) in self.fits.of(*item as usize) {
                named[*entry] = true;
            }
        }
        named
    }

    /// A count that states no length or no kind tells nobody that a slip's piece of another size is the right
    /// one: where the slips list nothing of what it may serve, it is of what they list.
    fn fit_as_shipped(
        &mut self,
        inventory: &Inventory,
        unlisted: &Index,
        slips_name: &[bool],
        item: u32,
    ) {
        let own = self.fits.of(item as usize);
        let named = |entry: usize| slips_name.get(entry).is_none_or(|named| *named);
        if own.is_empty()
            || own
                .iter()
                .any(|(entry, fit)| !fit.is_vague() || named(*entry))
        {
            return;
        }
        let mut found = self.find(inventory, unlisted, item);
        found.retain(|(entry, _)| {
            let of = self.entries[*entry].item as u32;
            let first = inventory
                .shipped
                .partition_point(|((item, _), _)| *item < of);
            let shipped = inventory.shipped.get(first);
            shipped.is_some_and(|((item, _), shipped)| *item == of && shipped.pieces > 0)
        });
        if !found.is_empty() {
            self.fits.enter(item as usize, &found);
        }
    }

    /// The entries of an index that an item may serve, best first.
    fn find(&self, inventory: &Inventory, index: &Index, item: u32) -> Fitting {
        let mut found = Vec::new();
        let of = |at: usize| &inventory.items[self.entries[at].item];
        index.find(&inventory.items[item as usize], of, &mut found);
        found
    }

    /// Pieces that come fitted fall due where somebody counted them: as such, or as an item of which
    /// the bags hold none.
    pub(super) fn fall_due(&mut self, inventory: &Inventory) {
        let mut counted = vec![false; self.entries.len()];
        for ((item, _), count) in &inventory.counted {
            for (entry, fit) in self.fits.of(*item as usize) {
                let none_in_bags = self.entries[*entry].wants.is_empty();
                counted[*entry] |= fit.is_exact() && (count.fitted || none_in_bags);
            }
        }
        let entries = self.entries.iter_mut().zip(counted);
        for (entry, _) in entries.filter(|(_, counted)| *counted) {
            let mut due = entry.wants.clone();
            for (stage, pieces) in fitted_of(inventory, entry.item) {
                match due.binary_search_by_key(&stage, |(stage, _)| *stage) {
                    Ok(at) => due[at].1 += pieces,
                    Err(at) => due.insert(at, (stage, pieces)),
                }
            }
            entry.with_fitted = Some(due);
        }
    }
}
