//! The shop's own stock: what it lends to the job, to be put back, and what is still to be bought.

use std::collections::BTreeMap;

use rustc_hash::FxHashMap;

use super::{
    account::{Buy, ItemAccount, PutBack, StandIn},
    evidence::Rows,
    inventory::Inventory,
    ledger::Ledger,
    offers::StockLeft,
    pool::Dealing,
};
use crate::{hardware::Item, kit::Role, words::walking_order};

/// What serves in entries' places, by entry, in order of stage.
/// `place` is where each entry stands in the account.
pub fn stand_ins(
    inventory: &Inventory,
    ledger: &Ledger,
    dealing: &Dealing,
    place: &[usize],
) -> FxHashMap<usize, Vec<StandIn>> {
    let mut of_entries: FxHashMap<usize, Vec<StandIn>> = FxHashMap::default();
    for stand_in in &dealing.stand_ins {
        let stated = &inventory.items[stand_in.item];
        of_entries.entry(stand_in.entry).or_default().push(StandIn {
            stage: ledger.entries[stand_in.entry].due()[stand_in.want].0,
            pieces: stand_in.pieces,
            piece: stated.shown().clone(),
            text: stated.shown().text(),
            id: stated.shown().id(),
            item: stand_in.home.map(|home| place[home]),
            rule: stand_in.rule,
            evidence: match stand_in.home {
                None => stated.stocked_by.clone(),
                Some(_) => Rows::together([&stated.shipped_by, &stated.counted_by]),
            },
        });
    }
    of_entries
}

/// What the shop has left of each item, in order.
pub fn left<'a>(inventory: &'a Inventory, dealing: &Dealing) -> Vec<StockLeft<'a>> {
    let mut lent: FxHashMap<usize, u64> = FxHashMap::default();
    for stand_in in dealing.stand_ins.iter().filter(|of| of.home.is_none()) {
        *lent.entry(stand_in.item).or_default() += stand_in.pieces;
    }
    let left = inventory.stocked.iter().map(|(item, stocked)| {
        let item = *item as usize;
        let stated = &inventory.items[item];
        StockLeft {
            item: stated.shown(),
            pieces: stocked.pieces - lent.get(&item).unwrap_or(&0),
            bins: &stocked.bins,
            evidence: &stated.stocked_by,
        }
    });
    left.filter(|left| left.pieces > 0).collect()
}

/// What was lent, item by item: in walking order of the bins it goes back to, and by size.
pub fn put_back(inventory: &Inventory, ledger: &Ledger, dealing: &Dealing) -> Vec<PutBack> {
    let mut lent: BTreeMap<usize, BTreeMap<usize, u64>> = BTreeMap::new();
    for stand_in in dealing.stand_ins.iter().filter(|of| of.home.is_none()) {
        let stage = ledger.entries[stand_in.entry].due()[stand_in.want].0;
        let stages = lent.entry(stand_in.item).or_default();
        *stages.entry(stage).or_default() += stand_in.pieces;
    }
    let mut put_back: Vec<PutBack> = lent
        .into_iter()
        .map(|(item, stages)| {
            let stated = &inventory.items[item];
            let stocked = &inventory.stocked;
            let at = stocked.partition_point(|(of, _)| (*of as usize) < item);
            PutBack {
                item: stated.shown().clone(),
                text: stated.shown().text(),
                id: stated.shown().id(),
                pieces: stages.values().sum(),
                bins: stocked[at].1.bins.iter().map(|b| b.to_string()).collect(),
                stages: stages.into_iter().collect(),
                evidence: stated.stocked_by.clone(),
            }
        })
        .collect();
    put_back.sort_by(|a, b| by_size(&a.item).cmp(&by_size(&b.item)));
    put_back.sort_by_cached_key(|lent| {
        let bin = lent.bins.first();
        (bin.is_none(), bin.map(|bin| walking_order(bin)))
    });
    put_back
}

/// What is known to be lacking when the stock is used up, by size. `order` gives the entry of each
/// item.
pub fn to_buy(
    inventory: &Inventory,
    ledger: &Ledger,
    order: &[usize],
    items: &[ItemAccount],
) -> Vec<Buy> {
    let packs = packs(inventory, ledger);
    let mut to_buy: Vec<Buy> = items
        .iter()
        .enumerate()
        .filter(|(_, item)| item.known)
        .map(|(at, item)| Buy {
            item: at,
            short: item.sums.short,
            spares: item.sums.spares - item.sums.spares_covered,
            pack: packs[order[at]],
        })
        .filter(|buy| buy.pieces() > 0)
        .collect();
    to_buy.sort_by(|a, b| {
        let size = |buy: &Buy| by_size(&items[buy.item].item);
        size(a).cmp(&size(b))
    });
    to_buy
}

/// By entry: pieces in one pack, where the stock list or a slip says so.
pub fn packs(inventory: &Inventory, ledger: &Ledger) -> Vec<Option<u64>> {
    let mut packs: Vec<Option<(std::cmp::Reverse<Role>, u64)>> = vec![None; ledger.entries.len()];
    for (item, (role, pieces)) in &inventory.packs {
        // The shop's own packs go before the slip's.
        let pack = (std::cmp::Reverse(*role), *pieces);
        if let Some(entry) = ledger.fits.home(*item as usize) {
            let known = packs[entry].get_or_insert(pack);
            *known = pack.min(*known);
        }
    }
    let pieces = packs.into_iter().map(|pack| Some(pack?.1));
    pieces.collect()
}

/// Kind, diameter, length: as pieces stand on a shelf.
pub fn by_size(item: &Item) -> (bool, &Item) {
    (item.kind.is_none(), item)
}
