//! Which reading of a wording that leaves it open, by the sizes that are sure: those of the rest of the
//! list, and those of the parts list.

use rustc_hash::FxHashMap;

use super::{line::What, list::List, usage::Usage, words::item_cells};
use crate::{
    Doubt,
    notation::{Known, Origin, Quantity, describe_among},
};

impl List {
    /// Adds the sizes of the list that are sure.
    pub fn sure_sizes(&self, origin: Origin, known: &mut Known) {
        for reading in self.readings.iter().filter(|r| r.doubts.is_empty()) {
            known.add(&reading.item, origin);
        }
    }

    /// Chooses among the readings that wordings leave open by the sizes that are sure: the list's own
    /// and those of the parts list. What was open stays in doubt.
    pub fn weigh(&mut self, parts_list: &Known) {
        if self.open.is_empty() {
            return;
        }
        let mut known = parts_list.clone();
        self.sure_sizes(Origin::Here, &mut known);
        let mut recounted: FxHashMap<u32, Option<Quantity>> = FxHashMap::default();
        let mut all = std::mem::take(&mut self.open);
        for open in &mut all {
            let read = describe_among(&item_cells(&open.words), open.notation, &known);
            let Ok(callouts) = read else { continue };
            let counts: Vec<Option<Quantity>> = callouts.iter().map(|c| c.quantity).collect();
            let moved = counts != open.quantities;
            if callouts.len() != open.readings.len() || (moved && open.counted) {
                continue;
            }
            for (reading, callout) in open.readings.clone().zip(callouts) {
                if moved {
                    recounted.insert(reading, callout.quantity);
                }
                let reading = &mut self.readings[reading as usize];
                reading.item = callout.item;
                reading.part_number = callout.part_number;
                reading.doubts = callout.doubts;
            }
            open.quantities = counts;
        }
        self.open = all;
        self.known = known;
        if !recounted.is_empty() {
            self.count_again(&recounted);
        }
    }

    /// Gives the lines of readings that were chosen anew what those say of how many.
    fn count_again(&mut self, recounted: &FxHashMap<u32, Option<Quantity>>) {
        for line in &mut self.lines {
            let What::Item(reading) = line.what else {
                continue;
            };
            let Some(quantity) = recounted.get(&reading) else {
                continue;
            };
            line.quantity = quantity.map(|quantity| quantity.pieces);
            let usage = self.placements[line.placement as usize].usage;
            let more = line.more_mut();
            more.packs = quantity.and_then(|quantity| quantity.packs);
            more.doubts.retain(|doubt| *doubt != Doubt::NoQuantity);
            if quantity.is_none() && usage != Some(Usage::Reference) {
                more.doubts.push(Doubt::NoQuantity);
            }
        }
    }
}
