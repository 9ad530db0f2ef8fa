//! What is over of one item held against what is short of others.

use std::hash::Hash;

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::{
    account::{Finding, ItemAccount},
    deal::{Cost, Sink, Source, Way, deal},
    evidence::Rows,
};
use crate::hardware::Item;

/// Pieces of one item that are short or over, to be held against others.
pub struct Held<'a> {
    pub item: &'a Item,
    /// The first stage that needs it.
    pub first: Option<usize>,
    pub short: u64,
    pub over: u64,
}

impl<'a> Held<'a> {
    pub fn of(item: &'a ItemAccount, short: u64, over: u64) -> Held<'a> {
        Held {
            item: &item.item,
            first: item.shares.first().map(|share| share.stage),
            short,
            over,
        }
    }
}

/// Pairs what is over with what is short within a family: the most pieces, then the least cost; in a
/// family too large to try all, the nearest lengths first. Items over and short, and pieces.
pub fn pair<F: Hash + Eq>(
    held: &[Held],
    family: impl Fn(&Item) -> Option<F>,
    misfit: impl Fn(usize, usize) -> Option<Cost> + Sync,
) -> Vec<(usize, usize, u64)> {
    let mut numbers: FxHashMap<F, usize> = FxHashMap::default();
    let mut families: Vec<Vec<usize>> = Vec::new();
    for (at, of) in held.iter().enumerate() {
        if (of.short > 0 || of.over > 0)
            && let Some(family) = family(of.item)
        {
            let number = *numbers.entry(family).or_insert(families.len());
            if number == families.len() {
                families.push(Vec::new());
            }
            families[number].push(at);
        }
    }
    let pairs = families.into_par_iter().map(|mut family: Vec<usize>| {
        family.sort_by_cached_key(|&at| {
            let first = held[at].first;
            (first.is_none(), first, held[at].item)
        });
        let all = family.iter().copied();
        let shorts: Vec<usize> = all.clone().filter(|&at| held[at].short > 0).collect();
        let overs: Vec<usize> = all.filter(|&at| held[at].over > 0).collect();
        if shorts.is_empty() || overs.is_empty() {
            return Vec::new();
        }
        match shorts.len() * overs.len() <= EXACT_PAIRS {
            true => best_pairs(held, &shorts, &overs, &misfit),
            false => nearest_pairs(held, &shorts, &overs, &misfit),
        }
    });
    pairs.flatten_iter().collect()
}

/// Pairs of a family, short against over, up to which the pairing is the best there is.
const EXACT_PAIRS: usize = 10_000;
/// In a larger family: so many lengths on either side of its own that an item is held against.
const NEAREST: usize = 16;

/// The best pairing: the most pieces, then the least misfit. Items over and short, and pieces.
fn best_pairs(
    held: &[Held],
    shorts: &[usize],
    overs: &[usize],
    misfit: impl Fn(usize, usize) -> Option<Cost>,
) -> Vec<(usize, usize, u64)> {
    let ways: Vec<Vec<Way>> = overs
        .iter()
        .map(|&over| {
            let others = shorts.iter().enumerate().filter(|&(_, &at)| at != over);
            others
                .filter_map(|(sink, &at)| Some(Way::at(sink, misfit(over, at)?)))
                .collect()
        })
        .collect();
    let sources: Vec<Source> = overs
        .iter()
        .zip(&ways)
        .map(|(&over, ways)| Source::of(held[over].over, ways))
        .collect();
    let wants: Vec<(usize, u64)> = shorts.iter().map(|&at| (0, held[at].short)).collect();
    deal(&Sink::each(&wants), &sources)
        .flows
        .into_iter()
        .map(|(over, at, pieces)| (overs[over], shorts[at], pieces))
        .collect()
}

/// A pairing for families too large to try all: the nearest lengths are paired first.
fn nearest_pairs(
    held: &[Held],
    shorts: &[usize],
    overs: &[usize],
    misfit: impl Fn(usize, usize) -> Option<Cost>,
) -> Vec<(usize, usize, u64)> {
    let mut by_length = shorts.to_vec();
    by_length.sort_by_key(|&at| (held[at].item.length, at));
    let mut pairs: Vec<(Cost, usize, usize)> = Vec::new();
    for &over in overs {
        let length = held[over].item.length;
        let at = by_length.partition_point(|&at| held[at].item.length < length);
        let near = at.saturating_sub(NEAREST)..(at + NEAREST).min(by_length.len());
        pairs.extend(
            by_length[near]
                .iter()
                .filter(|&&at| at != over)
                .filter_map(|&at| {
                    let misfit = misfit(over, at)?;
                    Some((misfit, over, at))
                }),
        );
    }
    pairs.sort_unstable();
    let pieces_of = |of: &[usize], pieces: fn(&Held) -> u64| -> FxHashMap<usize, u64> {
        of.iter().map(|&at| (at, pieces(&held[at]))).collect()
    };
    let mut left = pieces_of(overs, |held| held.over);
    let mut wanted = pieces_of(shorts, |held| held.short);
    let mut flows = Vec::new();
    for (_, over, at) in pairs {
        if let (Some(left), Some(wanted)) = (left.get_mut(&over), wanted.get_mut(&at)) {
            let pieces = (*left).min(*wanted);
            *left -= pieces;
            *wanted -= pieces;
            if pieces > 0 {
                flows.push((over, at, pieces));
            }
        }
    }
    flows
}

/// What there is to say of pairs of items over and short, each with the place of the short one.
pub fn of_pairs(
    pairs: &[(usize, usize, u64)],
    finding: impl Fn(usize, usize, u64) -> Finding + Sync,
) -> Vec<(usize, Finding)> {
    let pairs = pairs.par_iter();
    let found = pairs.map(|&(over, at, number)| (at, finding(over, at, number)));
    found.collect()
}

pub fn enter(items: &mut [ItemAccount], found: Vec<(usize, Finding)>) {
    for (at, finding) in found {
        items[at].findings.push(finding);
    }
}

/// The rows that ask for what is short, and those that speak of what is over.
pub fn of_both(over: &ItemAccount, short: &ItemAccount) -> Rows {
    Rows::together([&short.required_by, &over.shipped_by, &over.counted_by])
}
