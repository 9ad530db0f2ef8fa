//! One order to be packed, with its lists summed.

use std::collections::BTreeMap;

use super::{Content, Order};
use crate::{
    Result,
    hardware::Item,
    kit::{List, Role, job::SecondList},
    settle::{
        inventory::Inventory,
        ledger::Ledger,
        options::{self, Chosen},
        parcels::Parcels,
        stages::Stages,
        verdict,
    },
    words::walking_order,
};

/// One order with its lists summed, the stock among them.
pub(super) struct Open {
    pub order: Order,
    /// Lists before this one are the order's own.
    pub own_lists: usize,
    pub inventory: Inventory,
    pub ledger: Ledger,
}

impl Open {
    pub fn of(mut order: Order, stock: &[List]) -> Result<Open> {
        order
            .lists
            .retain(|list| matches!(list.role, Role::Required | Role::Compared));
        let own_lists = order.lists.len();
        order.lists.extend(stock.iter().cloned());
        options::call_as_listed(&mut order.job, &order.lists);
        let (job, lists) = (&order.job, order.lists.as_slice());
        let chosen = Chosen::check(job, lists)?;
        let stages = Stages::order(job, lists, &chosen)?;
        let parcels = Parcels::of(lists);
        let inventory = Inventory::take(job, lists, &stages, &chosen, &parcels, parcels.number)?;
        let ledger = Ledger::open(&inventory, job.kits);
        if job.second_list == SecondList::Refused {
            ledger.refuse_lists_that_overlap(lists, &inventory, &stages)?;
        }
        Ok(Open {
            own_lists,
            inventory,
            ledger,
            order,
        })
    }

    /// Pieces of an entry in one kit.
    pub fn each(&self, entry: usize) -> u64 {
        let wants = self.ledger.entries[entry].wants.iter();
        wants.map(|(_, pieces)| pieces).sum()
    }

    pub fn shown(&self, entry: usize) -> &Item {
        self.inventory.items[self.ledger.entries[entry].item].shown()
    }

    pub fn contents(&self) -> Vec<Content> {
        let mut in_bags: BTreeMap<(usize, String), (String, u64)> = BTreeMap::new();
        for &((item, container, _), pieces) in &self.inventory.bagged {
            let container = &self.inventory.containers[container as usize];
            if let (Some(entry), Some(key)) = (self.ledger.entry_of(item as usize), container.key())
            {
                let bag = in_bags.entry((entry, key)).or_default();
                bag.0 = container.name.to_string();
                bag.1 += pieces;
            }
        }
        let mut contents: Vec<((bool, Vec<_>), _, Content)> = Vec::new();
        for entry in 0..self.ledger.entries.len() {
            let stated = &self.inventory.items[self.ledger.entries[entry].item];
            let mut add = |bag: Option<String>, pieces: u64| {
                if pieces > 0 {
                    let place = (bag.is_none(), walking_order(bag.as_deref().unwrap_or("")));
                    let content = Content {
                        bag,
                        part_number: stated.numbers.first().map(|n| n.to_string()),
                        id: stated.shown().id(),
                        text: stated.shown().text(),
                        pieces,
                    };
                    contents.push((place, (stated.first_stage, stated.first_line), content));
                }
            };
            let bags = in_bags.range((entry, String::new())..(entry + 1, String::new()));
            let mut loose = self.each(entry);
            for (_, (name, pieces)) in bags {
                add(Some(name.clone()), *pieces);
                loose = loose.saturating_sub(*pieces);
            }
            add(None, loose);
        }
        contents.sort_by(|a, b| (&a.0, &a.1).cmp(&(&b.0, &b.1)));
        contents.into_iter().map(|(.., content)| content).collect()
    }

    pub fn reasons(&self) -> Vec<String> {
        let Order { job, lists, .. } = &self.order;
        let open = options::open_options(job, lists, &self.inventory.not_chosen);
        let doubts = verdict::doubts_of_lists(&self.inventory, lists);
        let left_out = options::without_options(&open);
        left_out.into_iter().chain(doubts).collect()
    }
}
