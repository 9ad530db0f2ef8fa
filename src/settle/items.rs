//! The account of each item, from what was dealt to it.

use rayon::prelude::*;

use super::{
    Settling,
    account::{Evidence, ItemAccount, Loss, Share, StandIn, Totals},
    bags::{self, Bags},
    findings::{self, together},
    grouped::Grouped,
    inventory::{Inventory, Stated},
    ledger::{Entry, Ledger},
    pool::{Dealing, Outcome},
    stock,
    substitutes::Allowed,
};
use crate::{doubt::Doubt, hardware::Item};

/// What is known of an entry beside what was dealt to it.
struct Known {
    entry: usize,
    required_by: Vec<Evidence>,
    shipped_by: Vec<Evidence>,
    counted_by: Vec<Evidence>,
    not_received: Vec<Loss>,
    stand_ins: Vec<StandIn>,
    names_of_bags: Vec<String>,
    rivals: Vec<usize>,
    bags: Bags,
}

/// The accounts of all entries, in the order in which they are shown: as many at once as there are
/// processors. The rows that the inventory has of each are handed over.
pub fn accounts(settling: &mut Settling, dealing: &Dealing, allowed: &Allowed) -> Vec<ItemAccount> {
    let kits = settling.job.kits;
    let (inventory, ledger) = (&mut settling.inventory, &settling.ledger);
    let mut stand_ins = stock::stand_ins(inventory, ledger, dealing, &settling.place);
    let mut not_received = not_received(inventory, ledger, kits, settling.given.slip);
    let mut names_of_bags = ledger.bags(inventory);
    let mut in_bags = bags::of_entries(inventory, ledger, kits);
    let [slips, counts] = ledger.rests_on();
    let place = &settling.place;
    let served = allowed.may_serve.iter();
    let both_ways = served.flat_map(|&(a, b)| [(a, place[b]), (b, place[a])]);
    let rivals = Grouped::by(ledger.entries.len(), both_ways).sets();
    let known: Vec<Known> = settling
        .order
        .iter()
        .map(|&at| Known {
            entry: at,
            required_by: std::mem::take(&mut inventory.items[ledger.entries[at].item].required_by),
            shipped_by: rows(inventory, slips.of(at), |item| &item.shipped_by),
            counted_by: rows(inventory, counts.of(at), |item| &item.counted_by),
            not_received: std::mem::take(&mut not_received[at]),
            stand_ins: std::mem::take(&mut stand_ins[at]),
            names_of_bags: std::mem::take(&mut names_of_bags[at]),
            rivals: rivals.of(at).to_vec(),
            bags: std::mem::take(&mut in_bags.bags[at]),
        })
        .collect();
    let sums = Sums::of(ledger);
    let settling = &*settling;
    known
        .into_par_iter()
        .with_min_len(64)
        .map(|known| known.account(settling, dealing, &sums, &in_bags.names))
        .collect()
}

/// By entry: sums over the slips.
struct Sums {
    shipped: Vec<u64>,
    believed: Vec<u64>,
    on_slip: Vec<bool>,
}

impl Sums {
    fn of(ledger: &Ledger) -> Sums {
        Sums {
            shipped: ledger.shipped(),
            believed: ledger.believed(),
            on_slip: ledger.on_slip(),
        }
    }
}

impl Known {
    fn account(
        self,
        settling: &Settling,
        dealing: &Dealing,
        sums: &Sums,
        bag_names: &[String],
    ) -> ItemAccount {
        let Settling {
            job,
            inventory,
            ledger,
            ..
        } = settling;
        let at = self.entry;
        let (entry, outcome) = (&ledger.entries[at], &dealing.outcomes[at]);
        let stated = &inventory.items[entry.item];
        let shares = shares(entry, outcome, job.kits, settling.stages.built());
        let sum = |of: fn(&Share) -> u64| shares.iter().map(of).sum::<u64>();
        let covered = sum(|share| share.covered);
        let text = stated.shown.text();
        let mut item = ItemAccount {
            id: Item::id_of(&text),
            text,
            part_numbers: stated.numbers.iter().map(|n| n.to_string()).collect(),
            sums: Totals {
                required: sum(|share| share.required),
                covered,
                substituted: sum(|share| share.substituted),
                from_stock: sum(|share| share.from_stock),
                short: sum(|share| share.short),
                shipped: sums.shipped[at],
                counted: ledger.counted[at].unwrap_or(0),
                damaged: ledger.damaged[at],
                pool: outcome.pool,
                returned: outcome.returned,
                used: covered - outcome.discarded,
                used_as_substitute: outcome.used_as_substitute,
                discarded: outcome.discarded,
                extra: outcome.extra,
                spares: outcome.spares,
                spares_covered: outcome.spares_covered,
            },
            counted: ledger.counted[at],
            shipped: settling.given.slip.then_some(sums.shipped[at]),
            believed: sums.believed[at],
            not_received: self.not_received,
            known: settling.known[at],
            shares,
            stand_ins: self.stand_ins,
            in_play: dealing.in_play[at],
            rivals: self.rivals,
            bags: self.names_of_bags,
            draws: Vec::new(),
            findings: Vec::new(),
            to_bring: entry.to_bring * job.kits,
            doubts: doubts(&stated.doubts, outcome),
            required_by: self.required_by,
            shipped_by: self.shipped_by,
            counted_by: self.counted_by,
            item: stated.shown.clone(),
        };
        let not_chosen = stated.not_chosen;
        item.findings = findings::of_item(ledger, at, outcome, &item, not_chosen, sums.on_slip[at]);
        let lost = findings::of_boxes_not_received(inventory, &item.not_received);
        item.findings.extend(lost);
        item.findings.extend(self.bags.mixed_up(bag_names, &item));
        item.draws = self.bags.draws(bag_names, &item, settling.stages.built());
        item
    }
}

/// The rows of some items together.
fn rows(
    inventory: &Inventory,
    items: &[usize],
    by: fn(&Stated) -> &Vec<Evidence>,
) -> Vec<Evidence> {
    together(items.iter().map(|&item| by(&inventory.items[item])))
}

/// By entry: what was lost with bags and boxes that did not arrive.
fn not_received(
    inventory: &Inventory,
    ledger: &Ledger,
    kits: u64,
    any_slip: bool,
) -> Vec<Vec<Loss>> {
    let mut losses = vec![Vec::new(); ledger.entries.len()];
    for (finding, (bag, _)) in inventory.not_received.iter().enumerate() {
        for lost in ledger.held(inventory, finding, kits, any_slip) {
            losses[lost.entry].push(Loss {
                bag: inventory.containers[*bag as usize].shown(),
                pieces: lost.pieces,
                finding,
            });
        }
    }
    losses
}

/// How an entry fares in each stage that needs it, over all kits. The stages before `built` stand.
fn shares(entry: &Entry, outcome: &Outcome, kits: u64, built: usize) -> Vec<Share> {
    let wants = entry.due.iter().zip(&outcome.fills);
    wants
        .map(|(&(stage, each), fill)| {
            let required = each * kits;
            Share {
                stage,
                required,
                covered: fill.covered,
                substituted: fill.substituted,
                from_stock: fill.from_stock,
                short: required - fill.covered - fill.substituted - fill.from_stock,
                by_slip: match stage < built {
                    true => 0,
                    false => fill.from_pool.saturating_sub(fill.by_count),
                },
            }
        })
        .collect()
}

/// The item's own doubts, then what is not confirmed about the pieces that serve it.
fn doubts(own: &[Doubt], outcome: &Outcome) -> Vec<Doubt> {
    let mut doubts = own.to_vec();
    for field in outcome.fits.iter().flat_map(|fit| fit.unconfirmed()) {
        let doubt = Doubt::NotConfirmed(field.into());
        if !doubts.contains(&doubt) {
            doubts.push(doubt);
        }
    }
    if outcome.takes_off_too_many {
        doubts.push(Doubt::Said(
            "more pieces are taken off than the lists fit before".into(),
        ));
    }
    doubts
}
