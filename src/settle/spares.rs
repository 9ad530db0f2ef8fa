//! The spares policy: how many pieces of an item the job should have besides.

use super::{
    inventory::{Inventory, MOST_PIECES},
    ledger::Ledger,
};
use crate::{
    Result,
    error::Error,
    hardware::{Item, Kind},
    kit::{Job, job::SpareRule},
};

/// By entry, over all kits.
///
/// # Errors
/// A policy that asks for more than [`MOST_PIECES`].
pub fn of_entries(job: &Job, inventory: &Inventory, ledger: &Ledger) -> Result<Vec<u64>> {
    let entries = ledger.entries.iter();
    entries
        .map(|entry| {
            let each: u64 = entry.wants.iter().map(|(_, pieces)| pieces).sum();
            let item = &inventory.items[entry.item].identity;
            of_item(&job.spares, item, each * job.kits)
        })
        .collect()
}

/// Pieces to have spare: the most that any rule for the item asks for. Rules for any kind leave parts
/// alone.
///
/// # Errors
/// As [`of_entries`].
pub fn of_item(rules: &[SpareRule], item: &Item, required: u64) -> Result<u64> {
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
