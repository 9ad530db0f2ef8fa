//! The account of each item, from what was dealt to it.

use std::ops::Range;

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::{
    Settling,
    account::{ItemAccount, LeftOpen, Loss, Share, StandIn, Totals},
    bags::OfEntries,
    evidence::Rows,
    findings,
    inventory::{Inventory, Stated},
    ledger::{Entry, Ledger, Unnamed},
    pool::{Dealing, Fill, Outcome},
    stock,
    substitutes::Allowed,
};
use crate::{doubt::Doubt, grouped::Grouped, hardware::Item};

/// The accounts of all entries, in the order in which they are shown: as many at once as there are
/// processors.
pub fn accounts(settling: &Settling, dealing: &Dealing, allowed: &Allowed) -> Vec<ItemAccount> {
    let (inventory, ledger, place) = (&settling.inventory, &settling.ledger, &settling.place);
    let kits = settling.job.kits;
    let served = allowed.may_serve.iter();
    let both_ways = served.flat_map(|&(a, b)| [(a, place[b]), (b, place[a])]);
    let known = Known {
        settling,
        dealing,
        sums: Sums::of(ledger),
        bags: OfEntries::of(inventory, ledger, kits),
        rests_on: ledger.rests_on(),
        rivals: Grouped::by(ledger.entries.len(), both_ways).sets(),
        stand_ins: stock::stand_ins(inventory, ledger, dealing, place),
        not_received: not_received(inventory, ledger, kits, settling.given.slip),
    };
    let order = settling.order.par_iter().with_min_len(64);
    order.map(|&entry| known.account(entry)).collect()
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

/// What the accounts are made of.
struct Known<'a> {
    settling: &'a Settling<'a>,
    dealing: &'a Dealing,
    sums: Sums,
    bags: OfEntries<'a>,
    /// By entry: the items of the slips and of the counts that it rests on.
    rests_on: [Grouped<usize>; 2],
    /// By entry: the items whose pieces a rule lets serve it, or which its own may serve.
    rivals: Grouped<usize>,
    /// By entry: of those few that have any.
    stand_ins: FxHashMap<usize, Vec<StandIn>>,
    not_received: FxHashMap<usize, Vec<Loss>>,
}

impl Known<'_> {
    /// The account of an entry.
    fn account(&self, at: usize) -> ItemAccount {
        let Known {
            settling,
            dealing,
            sums,
            ..
        } = self;
        let Settling {
            job,
            inventory,
            ledger,
            ..
        } = settling;
        let (entry, outcome) = (&ledger.entries[at], &dealing.outcomes[at]);
        let stated = &inventory.items[entry.item];
        let stand_ins = self.stand_ins.get(&at).cloned().unwrap_or_default();
        let (fills, open) = (dealing.fills.of(at), settling.stages.open());
        let shares = shares(entry, fills, &stand_ins, job.kits, &open);
        let sum = |of: fn(&Share) -> u64| shares.iter().map(of).sum::<u64>();
        let covered = sum(|share| share.covered);
        let text = stated.shown().text();
        let [slips, counts] = &self.rests_on;
        let bags = self.bags.ranks(at);
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
            not_received: self.not_received.get(&at).cloned().unwrap_or_default(),
            known: settling.known[at],
            open: left_open(settling, at),
            shares,
            stand_ins,
            in_play: dealing.in_play[at],
            rivals: self.rivals.of(at).to_vec(),
            bags_of_stages: self.bags.of_stages(at, &bags),
            bags: self.bags.names(&bags),
            draws: Vec::new(),
            findings: Vec::new(),
            to_bring: entry.to_bring * job.kits,
            doubts: doubts(
                &stated.doubts,
                &stated.identity,
                outcome,
                slips.of(at).contains(&entry.item),
            ),
            required_by: stated.required_by.clone(),
            shipped_by: rows(inventory, slips.of(at), |item| &item.shipped_by),
            counted_by: rows(inventory, counts.of(at), |item| &item.counted_by),
            item: stated.shown().clone(),
        };
        item.may_lack_some(settling.doubted.may_lack(at, job.kits));
        if item.open == Some(LeftOpen::NumberInDoubt) {
            item.is_short_at_least(settling.doubted.eased_by(at, job.kits));
        }
        let not_chosen = stated.not_chosen;
        item.findings =
            findings::of_item(settling, at, outcome, &item, not_chosen, sums.on_slip[at]);
        let lost = findings::of_boxes_not_received(inventory, &item.not_received);
        item.findings.extend(lost);
        if let Some(bags) = self.bags.of_a_kit(at, &item) {
            item.findings.extend(bags.mixed_up(&item));
            item.draws = bags.draws(&item, open.start);
        }
        item
    }
}

impl ItemAccount {
    /// Says of stages what they lack though `eased` pieces less may be short. Where none is there, what was to come in
    /// bags that did not is lacking whatever the lists mean.
    fn is_short_at_least(&mut self, eased: u64) {
        let lost = self.not_received.iter().map(|loss| loss.pieces).sum();
        let lost = match (self.sums.pool, self.shares.as_slice()) {
            (0, [_]) => lost,
            _ => 0,
        };
        for share in self.shares.iter_mut().filter(|share| !share.built) {
            let least = share.short.saturating_sub(eased);
            share.at_least = least.max(lost).min(share.short);
        }
    }

    /// Says of stages, the latest first, that they may lack what is there by the likelier number of a line. What is
    /// over goes before that.
    fn may_lack_some(&mut self, pieces: u64) {
        if self.sums.short > 0 {
            return;
        }
        let mut pieces = pieces.saturating_sub(self.sums.extra);
        for share in self.shares.iter_mut().rev().filter(|share| !share.built) {
            share.may_lack = pieces.min(share.covered);
            pieces -= share.may_lack;
        }
    }
}

/// The rows of some items together.
fn rows(inventory: &Inventory, items: &[usize], by: fn(&Stated) -> &Rows) -> Rows {
    Rows::together(items.iter().map(|&item| by(&inventory.items[item])))
}

/// By entry: what was lost with bags and boxes that did not arrive.
fn not_received(
    inventory: &Inventory,
    ledger: &Ledger,
    kits: u64,
    any_slip: bool,
) -> FxHashMap<usize, Vec<Loss>> {
    let mut losses: FxHashMap<usize, Vec<Loss>> = FxHashMap::default();
    let held = ledger.held(inventory, kits, any_slip).into_iter();
    for ((finding, held), (bag, _)) in held.enumerate().zip(&inventory.not_received) {
        for lost in held {
            losses.entry(lost.entry).or_default().push(Loss {
                bag: inventory.containers[*bag as usize].shown(),
                pieces: lost.pieces,
                finding,
            });
        }
    }
    losses
}

/// Why it is not known what is short of an entry, where the lists leave that open.
fn left_open(settling: &Settling, entry: usize) -> Option<LeftOpen> {
    let ledger = &settling.ledger;
    let unread = ledger.unread.get(&entry).map(|rows| match rows.others {
        Some(Unnamed::Unmet) => LeftOpen::SlipUnmet,
        Some(Unnamed::Unopened) => LeftOpen::Unopened,
        Some(Unnamed::NoFigure | Unnamed::Perhaps) | None => LeftOpen::FigureUnread,
    });
    match settling.known[entry] {
        true => None,
        false if ledger.counted_twice.contains_key(&entry) => Some(LeftOpen::CountedTwice),
        false if ledger.asked_twice.contains_key(&entry) => Some(LeftOpen::AskedTwice),
        false if unread.is_some() => unread,
        false if ledger.count_open.contains_key(&entry) => ledger.count_open.get(&entry).copied(),
        false if ledger.comes_along[entry] => Some(LeftOpen::ComesAlong),
        false if ledger.undated[entry] => Some(LeftOpen::CountUndated),
        false if ledger.may_be_another(entry) => Some(LeftOpen::MayBeSame),
        false if settling.doubted.holds(entry) => Some(LeftOpen::NumberInDoubt),
        false => None,
    }
}

/// How an entry fares in each stage that needs it, over all kits. The stages before those `open` stand; those behind
/// are spares.
fn shares(
    entry: &Entry,
    fills: &[Fill],
    stand_ins: &[StandIn],
    kits: u64,
    open: &Range<usize>,
) -> Vec<Share> {
    let wants = entry.due().iter().zip(fills);
    wants
        .map(|(&(stage, each), fill)| {
            // They stand in order of stage.
            let first = stand_ins.partition_point(|of| of.stage < stage);
            let of_stage = stand_ins[first..].iter();
            let of_stage = of_stage.take_while(|of| of.stage == stage);
            let sum = |which: fn(&StandIn) -> bool| -> u64 {
                let of_stage = of_stage.clone().filter(|of| which(of));
                of_stage.map(|of| of.pieces).sum()
            };
            let required = each * kits;
            let substituted = sum(|of| of.rule.is_some());
            let from_stock = sum(|of| of.rule.is_none());
            let from_pool = fill.covered + sum(|of| of.item.is_some());
            Share {
                stage,
                required,
                covered: fill.covered,
                substituted,
                from_stock,
                short: required - fill.covered - substituted - from_stock,
                built: stage < open.start,
                spare: stage >= open.end,
                by_slip: match stage < open.start {
                    true => 0,
                    false => from_pool.saturating_sub(fill.by_count),
                },
                at_least: 0,
                may_lack: 0,
            }
        })
        .collect()
}

/// The item's own doubts, then what is not confirmed about the pieces that serve it. `shipped`: a slip lists the very
/// item, with its number.
fn doubts(own: &[Doubt], item: &Item, outcome: &Outcome, shipped: bool) -> Vec<Doubt> {
    let mut doubts = own.to_vec();
    // What is asked for by its material has no grade.
    let material = item.grade.is_some_and(|grade| !grade.is_strength());
    let fields = outcome.fits.iter().flat_map(|fit| fit.unconfirmed());
    // What the slip states of the very item, a count by fewer words need not say again; a strength is looked at.
    let told = |field: &str| match field {
        "kind" | "length" => false,
        "grade" => material,
        _ => true,
    };
    for field in fields.filter(|field| !(shipped && told(field))) {
        let field = match field {
            "grade" if material => "material",
            field => field,
        };
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
