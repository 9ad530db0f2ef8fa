//! Parts that may be the same by other words: a qualifier more on one side (`roof post, with foot` and
//! `posts`). Nobody but a person can tell, so that nothing is settled by it.

use rustc_hash::FxHashMap;

use super::Ledger;
use crate::{
    hardware::Written,
    settle::inventory::{Inventory, Stated},
};

/// More entries than these bear a word that says nothing.
const COMMON: usize = 64;
/// Others that may be the same as one, at most.
const MOST: usize = 3;

/// Pairs of entries: one of a required list of which pieces are wanted that no slip lists, and one that
/// no required list names. In order.
pub(super) fn pairs(ledger: &Ledger, inventory: &Inventory) -> Vec<(usize, usize)> {
    let stated = |entry: usize| &inventory.items[ledger.entries[entry].item];
    let is_part = |entry: &usize| stated(*entry).identity.part.is_some();
    let entries = 0..ledger.entries.len();
    let (wanted, others): (Vec<usize>, Vec<usize>) = entries
        .filter(is_part)
        .filter(|&at| !ledger.entries[at].listed || ledger.unlisted[at] > 0)
        .partition(|&at| ledger.entries[at].listed);
    if wanted.is_empty() || others.is_empty() {
        return Vec::new();
    }
    let wanted: Vec<(usize, Written)> = wanted
        .into_iter()
        .map(|entry| (entry, words(stated(entry))))
        .collect();
    let mut by_word: FxHashMap<&str, Vec<usize>> = FxHashMap::default();
    for (at, (_, words)) in wanted.iter().enumerate() {
        for word in words.words.words() {
            by_word.entry(word).or_default().push(at);
        }
    }
    let of = |entry: usize| {
        let at = wanted.partition_point(|(of, _)| *of < entry);
        &wanted[at].1
    };
    let mut pairs = Vec::new();
    for other in others {
        let own = words(stated(other));
        let bearing = own.words.words().filter_map(|word| by_word.get(word));
        let bearing = bearing.filter(|bearing| bearing.len() <= COMMON).flatten();
        let mut may_be: Vec<usize> = bearing
            .filter(|&&at| wanted[at].1.may_be(&own))
            .map(|&at| wanted[at].0)
            .filter(|&entry| one_number(stated(entry), stated(other)))
            .collect();
        may_be.sort_unstable();
        may_be.dedup();
        // A number that stands among another's words tells which it is.
        let numbers = &stated(other).numbers;
        let holds = |entry: &usize| numbers.iter().any(|n| of(*entry).words.holds_code(n));
        if may_be.iter().any(holds) {
            may_be.retain(holds);
        }
        pairs.extend(may_be.into_iter().take(MOST).map(|entry| (entry, other)));
    }
    pairs.sort_unstable();
    pairs
}

fn words(stated: &Stated) -> Written {
    Written::of(stated.description().unwrap_or_default())
}

/// True unless the two bear numbers that differ.
fn one_number(a: &Stated, b: &Stated) -> bool {
    a.numbers.is_empty() || b.numbers.is_empty() || a.numbers.iter().any(|n| b.numbers.contains(n))
}
