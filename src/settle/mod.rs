//! Required, shipped, counted: match, deal out, findings.
//!
//! Data goes down this list once:
//!
//! * [`options`] and [`stages`]: what is built, in which order
//! * [`inventory`]: lines summed by item, stage and bag ([`numbers`]: what a maker's number stands for)
//! * [`ledger`]: one entry an item, and which pieces fall to it ([`fit`]: what fits what)
//! * [`packing`]: kits of several orders from the shop's stock
//! * [`parcels`]: deliveries one after another, and what each closed
//! * [`pool`]: what is on hand, dealt out ([`deal`], by the [`flow`] of least cost)
//! * [`bags`]: what is in which bag
//! * [`compare`]: a second required list against the first
//! * [`findings`] and [`verdict`]: what that means
//! * [`claim`]: what to ask of the maker

pub mod account;
mod bags;
pub mod claim;
mod compare;
mod deal;
mod findings;
mod fit;
mod fits;
mod flow;
mod inventory;
mod ledger;
mod leftover;
mod lookup;
mod numbers;
mod options;
pub mod packing;
pub mod parcels;
mod pool;
#[cfg(test)]
pub(crate) mod sample;
mod stages;
mod stock;
mod substitutes;
#[cfg(test)]
mod tests;
mod verdict;

pub use account::{
    Account, Buy, Compared, Draw, Evidence, Finding, FindingKind, ItemAccount, LeftOver, LineRef,
    Loss, PutBack, Share, StageAccount, StandIn, Totals, Verdict,
};
pub use claim::Claim;
pub use findings::together;

use crate::{
    Result,
    doubt::Doubt,
    error::Error,
    hardware::{Item, Kind},
    kit::{
        Job, List, Role,
        job::{SecondList, SpareRule},
    },
};
use inventory::{Inventory, MOST_PIECES};
use ledger::{Entry, Ledger};
use options::Chosen;
use parcels::Parcels;
use pool::Outcome;
use stages::Stages;
use substitutes::Allowed;
use verdict::Standing;

/// Settles a job.
///
/// # Errors
/// Contradictory options, an option or a stage that no list names, one stage and item in two required
/// lists, rules on substitutes that do not read or contradict one another, sums that overflow.
pub fn settle(job: &Job, lists: &[List]) -> Result<Account> {
    let parcels = Parcels::of(lists);
    let mut account = settle_through(job, lists, &parcels, parcels.number)?;
    if parcels.number > 1 {
        let before = (1..parcels.number)
            .map(|parcel| settle_through(job, lists, &parcels, parcel))
            .collect::<Result<Vec<Account>>>()?;
        let accounts: Vec<&Account> = before.iter().chain([&account]).collect();
        account.parcels = parcels::closings(job, lists, &parcels, &accounts);
    }
    Ok(account)
}

/// The job as it stood when a parcel had come.
fn settle_through(job: &Job, lists: &[List], parcels: &Parcels, through: u32) -> Result<Account> {
    let chosen = Chosen::check(job, lists)?;
    let stages = Stages::order(job, lists, &chosen)?;
    let mut inventory = Inventory::take(job, lists, &stages, &chosen, parcels, through)?;
    let ledger = Ledger::open(&inventory, job.kits);
    if job.second_list == SecondList::Refused {
        ledger.refuse_lists_that_overlap(lists, &inventory, &stages)?;
    }
    let spares = ledger
        .entries
        .iter()
        .map(|entry| {
            let each: u64 = entry.wants.iter().map(|(_, pieces)| pieces).sum();
            spares(
                &job.spares,
                &inventory.items[entry.item].identity,
                each * job.kits,
            )
        })
        .collect::<Result<Vec<u64>>>()?;
    let any = |role| {
        let mut all = lists.iter().enumerate();
        all.any(|(at, list)| list.role == role && parcels.had_come(lists, at, through))
    };
    let [any_slip, any_count, any_stock] = [Role::Shipped, Role::Counted, Role::Stock].map(any);
    let known = ledger.known(any_slip, any_count, any_stock);
    let allowed = Allowed::by(&job.substitutes, &inventory, &ledger, &stages)?;
    let dealing = pool::deal_pool(
        &inventory, &ledger, &stages, job.kits, &spares, &known, &allowed,
    );
    let outcomes = &dealing.outcomes;
    let mut account = Account {
        stages: stages.names().map(StageAccount::of).collect(),
        items: Vec::new(),
        totals: Totals::default(),
        verdict: Verdict::Yes,
        reasons: Vec::new(),
        stops_at: None,
        findings: Vec::new(),
        parcels: Vec::new(),
        compared: Vec::new(),
        put_back: None,
        to_buy: Vec::new(),
        rule_notes: allowed.notes.clone(),
        left_over: None,
        not_chosen: std::mem::take(&mut inventory.not_chosen),
        no_demand: std::mem::take(&mut inventory.no_demand),
    };
    ledger.note_what_comes_fitted(&inventory, &mut account.no_demand);

    let order = in_order(&inventory, &ledger);
    let mut standings = vec![Standing::default(); stages.len()];
    let mut short = Vec::with_capacity(order.len());
    let mut evidence = ledger.evidence(&inventory);
    let mut bags = ledger.bags(&inventory);
    let mut in_bags = bags::of_entries(&inventory, &ledger, job.kits);
    let (on_slip, shipped, believed) = (ledger.on_slip(), ledger.shipped(), ledger.believed());
    let mut not_received = not_received(&inventory, &ledger, job.kits, any_slip);
    let mut place = vec![0; order.len()];
    for (at, entry) in order.iter().enumerate() {
        place[*entry] = at;
    }
    let mut stand_ins = stock::stand_ins(&inventory, &ledger, &dealing, &place);
    for &at in &order {
        let (shipped_by, counted_by) = std::mem::take(&mut evidence[at]);
        let (entry, outcome) = (&ledger.entries[at], &outcomes[at]);
        let stated = &inventory.items[entry.item];
        let shares = shares(entry, outcome, job.kits);
        let sum = |of: fn(&Share) -> u64| shares.iter().map(of).sum::<u64>();
        let covered = sum(|share| share.covered);
        let mut item = ItemAccount {
            id: stated.shown.id(),
            text: stated.shown.text(),
            part_numbers: stated.numbers.iter().map(|n| n.to_string()).collect(),
            sums: Totals {
                required: sum(|share| share.required),
                covered,
                substituted: sum(|share| share.substituted),
                from_stock: sum(|share| share.from_stock),
                short: sum(|share| share.short),
                shipped: shipped[at],
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
            shipped: any_slip.then_some(shipped[at]),
            believed: believed[at],
            not_received: std::mem::take(&mut not_received[at]),
            known: known[at],
            shares,
            stand_ins: std::mem::take(&mut stand_ins[at]),
            in_play: dealing.in_play[at],
            bags: std::mem::take(&mut bags[at]),
            draws: Vec::new(),
            findings: Vec::new(),
            to_bring: entry.to_bring * job.kits,
            doubts: doubts(&stated.doubts, outcome),
            required_by: stated.required_by.clone(),
            shipped_by,
            counted_by,
            item: stated.shown.clone(),
        };
        item.findings =
            findings::of_item(&ledger, at, outcome, &item, stated.not_chosen, on_slip[at]);
        let in_bags = std::mem::take(&mut in_bags[at]);
        item.findings.extend(in_bags.mixed_up(&item));
        item.draws = in_bags.draws(&item, stages.built());
        // What the shop's pieces fill is lacking in the box nonetheless.
        let lent = item.stand_ins.iter().filter(|of| of.item.is_none());
        let lent: u64 = lent.map(|of| of.pieces).sum();
        short.push(if item.known {
            item.sums.short + lent
        } else {
            0
        });
        stand(&mut standings, &item, outcome, &stages);
        for share in &item.shares {
            account.stages[share.stage].add(share);
        }
        account.totals.add(&item.sums);
        account.items.push(item);
    }
    findings::pair_wrong_sizes(&mut account.items, &short);
    let grips: Vec<_> = order
        .iter()
        .map(|at| allowed.grips.get(at).copied())
        .collect();
    findings::offer(&mut account.items, &grips);
    account.findings = findings::boxes_not_received(&inventory, &ledger, job.kits, any_slip);
    account.findings.extend(findings::revisions(lists));
    let (compared, differences) = compare::hold_against(lists, &stages, &chosen);
    account.compared = compared;
    account.findings.extend(differences);

    let any_supply = any_slip || any_count || any_stock;
    if lists.iter().any(|list| list.role == Role::LeftOver) {
        account.left_over = Some(leftover::left_over(
            &inventory,
            &ledger,
            &place,
            &account.items,
        ));
    }
    if any_stock {
        account.put_back = Some(stock::put_back(&inventory, &ledger, &dealing));
        account.to_buy = stock::to_buy(&inventory, &ledger, &order, &account.items);
    }
    ready(
        &mut account,
        &standings,
        &inventory,
        &stages,
        lists,
        any_supply,
    );
    verdict::of_job(
        &mut account,
        &standings,
        &inventory,
        &stages,
        lists,
        any_supply,
    );
    Ok(account)
}

/// The entries in the order in which they are shown: required ones first, by stage, then by line.
fn in_order(inventory: &Inventory, ledger: &Ledger) -> Vec<usize> {
    let mut order: Vec<usize> = (0..ledger.entries.len()).collect();
    order.sort_by_key(|&at| {
        let item = &inventory.items[ledger.entries[at].item];
        (
            !ledger.entries[at].listed,
            item.first_stage,
            item.first_line,
        )
    });
    order
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
                bag: inventory.containers[*bag as usize].name.to_string(),
                pieces: lost.pieces,
                finding,
            });
        }
    }
    losses
}

/// How an entry fares in each stage that needs it, over all kits.
fn shares(entry: &Entry, outcome: &Outcome, kits: u64) -> Vec<Share> {
    let of = |(want, &(stage, each)): (usize, &(usize, u64))| {
        let required = each * kits;
        let (covered, from_stock) = (outcome.covered[want], outcome.from_stock[want]);
        let substituted = outcome.substituted[want];
        Share {
            stage,
            required,
            covered,
            substituted,
            from_stock,
            short: required - covered - substituted - from_stock,
        }
    };
    entry.due.iter().enumerate().map(of).collect()
}

/// Says of each stage that is still to be built whether it is ready, and why.
fn ready(
    account: &mut Account,
    standings: &[Standing],
    inventory: &Inventory,
    stages: &Stages,
    lists: &[List],
    any_supply: bool,
) {
    for (at, standing) in standings.iter().enumerate().skip(stages.built()) {
        let of = |lines: &[(usize, inventory::Unread)]| {
            let found = lines.iter().find(|(stage, _)| *stage == at);
            found.map(|(_, unread)| *unread)
        };
        let (unread, aside) = (of(&inventory.unread), of(&inventory.aside));
        let stage = &mut account.stages[at];
        (stage.ready, stage.reasons) =
            verdict::of_stage(standing, any_supply, unread.as_ref(), aside.as_ref(), lists);
    }
}

/// Pieces to have spare: the most that any rule for the item asks for. Rules for any kind leave parts
/// alone.
fn spares(rules: &[SpareRule], item: &Item, required: u64) -> Result<u64> {
    if required == 0 {
        return Ok(0);
    }
    let holds = |rule: &&SpareRule| {
        let of_kind = match rule.kind {
            Some(kind) => item.kind == Some(kind),
            None => item.kind != Some(Kind::Part),
        };
        of_kind
            && rule.up_to.is_none_or(|most| {
                item.diameter
                    .is_some_and(|d| d.unit() == most.unit() && d.value() <= most.value())
            })
    };
    let wanted = rules.iter().filter(holds).map(|rule| {
        let share = (u128::from(required) * u128::from(rule.percent)).div_ceil(100);
        share.max(u128::from(rule.least))
    });
    u64::try_from(wanted.max().unwrap_or(0))
        .ok()
        .filter(|spares| *spares <= MOST_PIECES)
        .ok_or_else(|| Error::Arguments {
            found: format!("the spares policy asks for more than {MOST_PIECES} spares of {item}"),
            todo: "lower its percent or its least number".to_owned(),
        })
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

/// Notes what an item means for the stages that need it. What is built stands.
fn stand(standings: &mut [Standing], item: &ItemAccount, outcome: &Outcome, stages: &Stages) {
    let by_count = outcome.by_count.iter().zip(&outcome.from_pool);
    for (share, (by_count, from_pool)) in item.shares.iter().zip(by_count) {
        if share.stage < stages.built() {
            continue;
        }
        let standing = &mut standings[share.stage];
        if share.short > 0 {
            match item.known {
                true => standing.short.push((item.text.clone(), share.short)),
                false => standing.unknown += 1,
            }
        } else if by_count < from_pool {
            standing.uncounted += 1;
        }
        if share.required > share.short && outcome.vague > 0 {
            standing.vague += 1;
        }
    }
}
