//! Required, shipped, counted: match, deal out, findings.
//!
//! Data goes down this list once:
//!
//! * [`shared_marks`] and [`bag_marks`]: marks that are no numbers of parts, and lines that are bags by theirs
//! * [`options`] and [`stages`]: what is built, in which order
//! * [`unsaid`]: sizes, kinds and heads of what slips and counts name without one
//! * [`inventory`]: lines summed by item, stage and bag ([`numbers`]: what a maker's number stands for;
//!   [`part_names`]: what a part is called; [`called`]: what the job's names are of)
//! * [`ledger`]: one entry an item, and which pieces fall to it ([`fit`], [`fits`] and
//!   [`lengths`]: what fits what, and how nearly)
//! * [`doubted`]: lines of which it is in doubt how many they mean, and what rests on them
//! * [`packing`]: kits of several orders from the shop's stock
//! * [`parcels`]: deliveries one after another, and what each closed
//! * [`pool`]: what is on hand, dealt out ([`deal`], by the [`flow`] of least cost), with [`spares`]
//! * [`items`]: the account of each item, and by [`evidence`] the rows that it rests on
//! * [`bags`]: what is in which bag
//! * [`compare`]: a second required list against the first
//! * [`pairs`]: what is over held against what is short: [`wrong_sizes`], and [`offers`] of what may do instead
//! * [`findings`] and [`verdict`]: what that means
//! * [`claim`]: what to ask of the maker, bags that are missing whole as such

pub mod account;
mod bag_marks;
mod bags;
mod called;
pub mod claim;
mod compare;
mod damaged;
mod deal;
mod doubted;
mod evidence;
mod findings;
mod fit;
mod fits;
mod flow;
mod inventory;
mod items;
mod ledger;
mod leftover;
mod lengths;
mod lookup;
mod notes;
mod numbers;
mod offers;
pub mod options;
pub mod packing;
mod pairs;
pub mod parcels;
mod part_names;
mod pool;
mod same_slip;
#[cfg(test)]
pub(crate) mod sample;
mod shared_marks;
mod spares;
mod stages;
mod stock;
mod strange_titles;
mod strange_words;
mod substitutes;
#[cfg(test)]
mod tests;
mod unsaid;
mod verdict;
mod wrong_sizes;

pub use account::{
    Account, Buy, Compared, Draw, Finding, FindingKind, ItemAccount, LeftOpen, LeftOver, LineRef,
    Loss, PutBack, Share, StageAccount, StandIn, Totals, Verdict,
};
pub use bag_marks::know_bags;
pub use claim::Claim;
pub use damaged::doubt_damaged;
pub use evidence::{Evidence, Rows};
pub use notes::doubt_noted;
pub use same_slip::ask_of_slips_given_twice;
pub use shared_marks::know_shared_marks;
pub use strange_titles::ask_of_titles;
pub use strange_words::{doubt_strange_words, doubt_tails};
pub use unsaid::say_unsaid;

use crate::{
    Result,
    kit::{Job, List, Role, job::SecondList},
};
use doubted::Doubted;
use inventory::Inventory;
use ledger::Ledger;
use options::Chosen;
use parcels::Parcels;
use pool::{Dealing, Fills};
use stages::Stages;
use substitutes::Allowed;
use verdict::{Doubts, Standing};

/// Settles a job.
///
/// # Errors
/// Contradictory options, an option or a stage that no list names, one stage and item in two required
/// lists, rules on substitutes that do not read or contradict one another, sums that overflow.
pub fn settle(job: &Job, lists: &[List]) -> Result<Account> {
    let parcels = Parcels::of(lists);
    parcels.check(job, lists)?;
    let mut account = settle_through(job, lists, &parcels, parcels.number)?;
    if parcels.number > 1 {
        let through = |parcel| settle_through(job, lists, &parcels, parcel);
        account.parcels = parcels::closings(job, lists, &parcels, &account, through)?;
        let order = parcels.order.as_ref();
        account.reasons.extend(order.map(ToString::to_string));
    }
    Ok(account)
}

/// The job as it stood when a parcel had come.
fn settle_through(job: &Job, lists: &[List], parcels: &Parcels, through: u32) -> Result<Account> {
    let chosen = Chosen::check(job, lists)?;
    let mut settling = Settling::open(job, lists, &chosen, parcels, through)?;
    let allowed = settling.allowed()?;
    let spares = spares::of_entries(job, &settling.inventory, &settling.ledger)?;
    let mut dealing = pool::deal_pool(&settling, &spares, &allowed);
    // From here on the ledger's shares say what was shipped, and nothing more is dealt.
    settling.inventory.shipped = Vec::new();
    settling.ledger.fits.forget_ways();
    let mut items = items::accounts(&settling, &dealing, &allowed);
    // From here on the shares of the items say what fills each want.
    dealing.fills = Fills::default();
    let may_be_same = settling.compare_items(&mut items, &allowed, &dealing);
    let before_built = account::counted_before_built(&items);
    let standings = settling.standings(&items, &dealing, before_built);
    let mut account = settling.account(items);
    account.counted_before_built = before_built;
    account.times_required = account::times_required(&account.items);
    account.may_be_same = may_be_same;
    account.rule_notes = allowed.notes;
    settling.note_lines(&mut account);
    settling.note_job(&mut account, &chosen);
    settling.note_stock(&mut account, &dealing);
    verdict::of_stages(&mut account, &standings, &settling);
    verdict::of_job(&mut account, &standings, &settling);
    Ok(account)
}

/// Which lists there are to settle against.
#[derive(Debug, Clone, Copy)]
struct Given {
    slip: bool,
    count: bool,
    stock: bool,
}

impl Given {
    fn any(self) -> bool {
        self.slip || self.count || self.stock
    }
}

/// A job being settled: what its lists come to, before any piece is dealt.
struct Settling<'a> {
    job: &'a Job,
    lists: &'a [List],
    stages: Stages,
    inventory: Inventory,
    ledger: Ledger,
    given: Given,
    /// By entry: what is short of it is short for sure.
    known: Vec<bool>,
    doubted: Doubted,
    /// The entries in the order in which they are shown, and the place of each.
    order: Vec<usize>,
    place: Vec<usize>,
}

impl<'a> Settling<'a> {
    fn open(
        job: &'a Job,
        lists: &'a [List],
        chosen: &Chosen,
        parcels: &Parcels,
        through: u32,
    ) -> Result<Settling<'a>> {
        let stages = Stages::order(job, lists, chosen)?;
        let mut inventory = Inventory::take(job, lists, &stages, chosen, parcels, through)?;
        let ledger = Ledger::open(&inventory, job.kits);
        if job.second_list == SecondList::Refused {
            ledger.refuse_lists_that_overlap(lists, &inventory, &stages)?;
        }
        ledger.refuse_slips_that_repeat(lists, &inventory)?;
        // From here on the ledger's entries say what is needed; there may be a need a line.
        inventory.needs = Vec::new();
        let any = |role| {
            let mut all = lists.iter().enumerate();
            all.any(|(at, list)| list.role == role && parcels.had_come(lists, at, through))
        };
        let given = Given {
            slip: any(Role::Shipped),
            count: any(Role::Counted),
            stock: any(Role::Stock),
        };
        let order = ledger.in_order(&inventory);
        let mut place = vec![0; order.len()];
        for (at, entry) in order.iter().enumerate() {
            place[*entry] = at;
        }
        let timing = (parcels, through);
        let doubted = Doubted::of(lists, &inventory, &ledger, (&stages, chosen), timing);
        let mut known = ledger.known(given);
        for entry in doubted.less_may_be_short() {
            known[entry] = false;
        }
        Ok(Settling {
            known,
            doubted,
            job,
            lists,
            stages,
            inventory,
            ledger,
            given,
            order,
            place,
        })
    }

    /// What the job's rules allow.
    fn allowed(&self) -> Result<Allowed> {
        Allowed::by(self.job, &self.inventory, &self.ledger, &self.stages)
    }

    /// Holds what is over of one item against what is short of another. Gives back which may be the same
    /// by other words.
    fn compare_items(
        &self,
        items: &mut [ItemAccount],
        allowed: &Allowed,
        dealing: &Dealing,
    ) -> Vec<(usize, usize)> {
        let short = |item: &ItemAccount| {
            // What the shop's pieces fill is lacking in the box nonetheless.
            let lent = item.stand_ins.iter().filter(|of| of.item.is_none());
            let lent: u64 = lent.map(|of| of.pieces).sum();
            if item.known {
                // Damage explains a lack before a wrong size does.
                (item.sums.short + lent).saturating_sub(item.sums.damaged)
            } else {
                0
            }
        };
        let short: Vec<u64> = items.iter().map(short).collect();
        wrong_sizes::tell(items, &short);
        let alike = self.ledger.may_be.iter();
        let alike = alike.map(|&(short, other)| (self.place[short], self.place[other]));
        let alike: Vec<_> = alike.collect();
        wrong_sizes::ask(items, &alike);
        findings::tell_alike(items, &alike);
        let grips = self.order.iter();
        let grips: Vec<_> = grips.map(|at| allowed.grips.get(at).copied()).collect();
        offers::offer(items, &grips, &stock::left(&self.inventory, dealing));
        alike
    }

    /// By stage: what its verdict rests on.
    fn standings(
        &self,
        items: &[ItemAccount],
        dealing: &Dealing,
        before_built: bool,
    ) -> Vec<Standing> {
        let mut standings = vec![Standing::default(); self.stages.len()];
        for (item, entry) in items.iter().zip(&self.order) {
            let outcome = &dealing.outcomes[*entry];
            let unread = self.ledger.unread.get(entry);
            let doubts = Doubts {
                number: self.doubted.holds(*entry),
                number_of_stock: self.doubted.holds_of_stock(*entry),
                count_unread: unread.is_some_and(|rows| !rows.of_counts.is_empty()),
                before_built: before_built
                    && item.built() > 0
                    && item
                        .counted
                        .is_some_and(|counted| counted < item.sums.required),
            };
            verdict::stand(&mut standings, (item, doubts), outcome, &self.stages);
        }
        standings
    }

    /// The account of the items, with nothing found about the job as a whole yet.
    fn account(&self, items: Vec<ItemAccount>) -> Account {
        let mut stages: Vec<StageAccount> = self.stages.names().map(StageAccount::of).collect();
        let open = self.stages.open();
        for (at, stage) in stages.iter_mut().enumerate() {
            stage.built = at < open.start;
            stage.spare = at >= open.end;
        }
        let mut totals = Totals::default();
        for item in &items {
            totals.add(&item.sums);
            for share in &item.shares {
                stages[share.stage].add(share);
            }
        }
        Account {
            stages,
            items,
            totals,
            verdict: Verdict::Yes,
            reasons: Vec::new(),
            stops_at: None,
            findings: Vec::new(),
            parcels: Vec::new(),
            may_be_same: Vec::new(),
            compared: Vec::new(),
            put_back: None,
            to_buy: Vec::new(),
            counted_before_built: false,
            times_required: None,
            rule_notes: Vec::new(),
            left_over: None,
            not_chosen: Vec::new(),
            no_demand: Vec::new(),
        }
    }

    /// The lines that make no demand.
    fn note_lines(&mut self, account: &mut Account) {
        account.not_chosen = std::mem::take(&mut self.inventory.not_chosen);
        account.no_demand = std::mem::take(&mut self.inventory.no_demand);
        let no_demand = &mut account.no_demand;
        self.ledger
            .note_what_comes_fitted(&self.inventory, no_demand);
    }

    /// What is found about the job as a whole.
    fn note_job(&self, account: &mut Account, chosen: &Chosen) {
        let (inventory, ledger, kits) = (&self.inventory, &self.ledger, self.job.kits);
        let found = &mut account.findings;
        *found = findings::boxes_not_received(inventory, ledger, kits, self.given.slip);
        found.extend(findings::revisions(self.lists));
        let (compared, differences) =
            compare::hold_against(self.lists, self.job, &self.stages, chosen);
        account.compared = compared;
        found.extend(differences);
    }

    /// What is left, what was lent, and what is still to be bought.
    fn note_stock(&self, account: &mut Account, dealing: &Dealing) {
        let (inventory, ledger) = (&self.inventory, &self.ledger);
        let items = &account.items;
        if self.lists.iter().any(|list| list.role == Role::LeftOver) {
            let left_over = leftover::left_over(inventory, ledger, &self.place, items);
            account.left_over = Some(left_over);
        }
        if self.given.stock {
            account.to_buy = stock::to_buy(inventory, ledger, &self.order, items);
            account.put_back = Some(stock::put_back(inventory, ledger, dealing));
        }
    }
}
