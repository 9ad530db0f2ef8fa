//! How many whole kits of each order scarce stock is enough for: the most kits in all, and of several
//! ways to the same number, the one that favours the orders given first.
//!
//! That is an integer program, hard in general. Small ones are solved exactly, by branch and bound
//! (A. H. Land and A. G. Doig, "An automatic method of solving discrete programming problems",
//! Econometrica 28, 1960); a large one may end at [`EFFORT`] with a sharing that works and a number
//! that no sharing can exceed.

use std::collections::BTreeMap;

/// Stock that some orders draw on: the pieces that a kit of each takes, and how many there are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limit {
    /// Order and pieces a kit, each order once, none 0.
    pub uses: Vec<(usize, u64)>,
    pub most: u64,
}

impl Limit {
    /// The most kits of each order by this limit alone.
    fn holds(&self, kits: &[u64]) -> bool {
        let used = self
            .uses
            .iter()
            .map(|&(order, each)| u128::from(each) * u128::from(kits[order]));
        used.sum::<u128>() <= u128::from(self.most)
    }
}

/// Whole kits of each order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shared {
    pub kits: Vec<u64>,
    /// No sharing packs more kits in all; what is packed, where `exact`.
    pub at_most: u64,
    /// This is the most there is.
    pub exact: bool,
}

/// Steps after which the search ends: a second or so.
const EFFORT: u64 = 20_000_000;

/// Parts that what there is of an item is counted in, where items are taken together.
const PARTS: u64 = 1_000_000;
/// So many limits are taken together two by two.
const FEW: usize = 8;

/// Shares stock out among orders of so many kits each.
pub fn share(wanted: &[u64], limits: &[Limit]) -> Shared {
    share_within(wanted, limits, EFFORT)
}

fn share_within(wanted: &[u64], limits: &[Limit], effort: u64) -> Shared {
    let mut alone = wanted.to_vec();
    for limit in limits {
        for &(order, each) in &limit.uses {
            alone[order] = alone[order].min(limit.most / each);
        }
    }
    // Those that can never bind are left out.
    let mut binding: Vec<Limit> = limits
        .iter()
        .filter(|limit| !limit.holds(&alone))
        .cloned()
        .collect();
    binding.extend(together(&binding));
    for limit in &mut binding {
        // In the order in which most kits come of it.
        limit.uses.sort_by_key(|&(order, each)| (each, order));
    }
    let mut search = Search {
        alone: &alone,
        left: binding.iter().map(|limit| limit.most).collect(),
        step: 1 + binding
            .iter()
            .map(|limit| limit.uses.len() as u64)
            .sum::<u64>(),
        limits: &binding,
        kits: vec![0; wanted.len()],
        best: None,
        effort,
    };
    let at_most = search.bound(0, 0);
    let quick = search.quick();
    let total = |kits: &[u64]| kits.iter().sum::<u64>();
    let ended = search.descend(0, 0, total(&quick));
    let kits = search.best.take().unwrap_or(quick);
    Shared {
        at_most: if ended { total(&kits) } else { at_most },
        exact: ended || total(&kits) == at_most,
        kits,
    }
}

/// Limits that several together amount to, each counted in parts of what there is: where one is used
/// little the other is used much, these tell what none does alone. All of them, and any two of a few.
fn together(limits: &[Limit]) -> Vec<Limit> {
    let sum = |of: &[&Limit]| {
        let mut uses: BTreeMap<usize, u64> = BTreeMap::new();
        for limit in of {
            for &(order, each) in &limit.uses {
                // Rounded down, so that no sharing that works is excluded.
                let part = u128::from(each) * u128::from(PARTS) / u128::from(limit.most.max(1));
                *uses.entry(order).or_default() += u64::try_from(part)
                    .unwrap_or(u64::MAX / 64)
                    .min(u64::MAX / 64);
            }
        }
        Limit {
            uses: uses.into_iter().filter(|(_, each)| *each > 0).collect(),
            most: PARTS * of.len() as u64,
        }
    };
    let all: Vec<&Limit> = limits.iter().filter(|limit| limit.most > 0).collect();
    let mut sums = Vec::new();
    if all.len() > 2 {
        sums.push(sum(&all));
    }
    if all.len() <= FEW {
        for (at, first) in all.iter().enumerate() {
            sums.extend(all[at + 1..].iter().map(|second| sum(&[first, second])));
        }
    }
    sums
}

/// A depth-first search, order by order, from most kits to none: of several bests it meets first the one
/// that favours the first orders.
struct Search<'a> {
    /// The most kits of each order, were it alone.
    alone: &'a [u64],
    limits: &'a [Limit],
    /// Pieces left of each limit.
    left: Vec<u64>,
    /// What one look at all limits costs.
    step: u64,
    kits: Vec<u64>,
    best: Option<Vec<u64>>,
    effort: u64,
}

impl Search<'_> {
    /// No more kits than these can come of the orders from `at` on, with `so_far` packed before: each
    /// limit by itself, most kits first, the last one in part.
    fn bound(&self, at: usize, so_far: u64) -> u64 {
        let all: u64 = self.alone[at..].iter().sum();
        let by_limits = self.limits.iter().zip(&self.left).map(|(limit, &left)| {
            let (mut kits, mut left) = (all, left);
            for &(order, each) in limit.uses.iter().filter(|(order, _)| *order >= at) {
                let fit = self.alone[order].min(left / each);
                kits -= self.alone[order] - fit;
                left -= fit * each;
            }
            kits
        });
        so_far + by_limits.min().unwrap_or(all).min(all)
    }

    /// A sharing that works, found at once: a kit to each order in turn that uses least of what is
    /// scarce.
    fn quick(&self) -> Vec<u64> {
        let weight = |order: usize| {
            let uses = self.limits.iter().filter_map(|limit| {
                let (_, each) = limit.uses.iter().find(|(of, _)| *of == order)?;
                // In millionths of all there is.
                Some(u128::from(*each) * 1_000_000 / u128::from(limit.most.max(1)))
            });
            uses.max().unwrap_or(0)
        };
        let mut orders: Vec<usize> = (0..self.alone.len()).collect();
        orders.sort_by_cached_key(|&order| (weight(order), order));
        let (mut kits, mut left) = (vec![0; self.alone.len()], self.left.clone());
        for order in orders {
            kits[order] = self.most(order, &left);
            self.take(order, kits[order], &mut left);
        }
        kits
    }

    /// The most kits of one order that what is left is enough for.
    fn most(&self, order: usize, left: &[u64]) -> u64 {
        let of_limits = self.limits.iter().zip(left).filter_map(|(limit, left)| {
            let (_, each) = limit.uses.iter().find(|(of, _)| *of == order)?;
            Some(left / each)
        });
        of_limits.min().unwrap_or(u64::MAX).min(self.alone[order])
    }

    fn take(&self, order: usize, kits: u64, left: &mut [u64]) {
        for (limit, left) in self.limits.iter().zip(left) {
            if let Some((_, each)) = limit.uses.iter().find(|(of, _)| *of == order) {
                *left -= each * kits;
            }
        }
    }

    /// Looks for more than the best so far, or as much as `least`; false where the effort is used up.
    fn descend(&mut self, at: usize, so_far: u64, least: u64) -> bool {
        let Some(spent) = self.effort.checked_sub(self.step) else {
            return false;
        };
        self.effort = spent;
        let enough = |best: &Option<Vec<u64>>, bound: u64| match best {
            Some(best) => bound > best.iter().sum(),
            None => bound >= least,
        };
        if !enough(&self.best, self.bound(at, so_far)) {
            return true;
        }
        if at == self.alone.len() {
            self.best = Some(self.kits.clone());
            return true;
        }
        let before = self.left.clone();
        for kits in (0..=self.most(at, &before)).rev() {
            self.kits[at] = kits;
            self.left.clone_from(&before);
            let mut left = std::mem::take(&mut self.left);
            self.take(at, kits, &mut left);
            self.left = left;
            if !self.descend(at + 1, so_far + kits, least) {
                return false;
            }
            // With fewer kits of this order no more than this can come of the rest.
            let rest: u64 = self.alone[at + 1..].iter().sum();
            let next = so_far + kits.saturating_sub(1) + rest;
            if !enough(&self.best, next) {
                break;
            }
        }
        self.left = before;
        self.kits[at] = 0;
        true
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn limit(most: u64, uses: &[u64]) -> Limit {
        let uses = uses.iter().copied().enumerate();
        Limit {
            uses: uses.filter(|(_, each)| *each > 0).collect(),
            most,
        }
    }

    #[track_caller]
    fn case(wanted: &[u64], limits: &[(u64, &[u64])], expected: &[u64]) {
        let limits: Vec<Limit> = limits
            .iter()
            .map(|(most, uses)| limit(*most, uses))
            .collect();
        let shared = share(wanted, &limits);
        assert_eq!(shared.kits, expected);
        assert!(shared.exact);
        assert_eq!(shared.at_most, expected.iter().sum::<u64>());
    }

    #[test]
    fn scarce_stock_goes_to_most_kits() {
        case(&[3, 2], &[], &[3, 2]);
        case(&[0], &[(1, &[2])], &[0]);
        // 24 bolts: one kit takes 16, another 4.
        case(&[3, 4], &[(24, &[16, 4])], &[0, 4]);
        case(&[3, 4], &[(32, &[16, 4])], &[1, 4]);
        // The same number either way: the order given first.
        case(&[1, 1], &[(8, &[8, 8])], &[1, 0]);
        case(&[2, 2, 2], &[(6, &[2, 2, 2])], &[2, 1, 0]);
        // Two scarce items, of which neither alone tells the best.
        case(&[4, 4, 4], &[(10, &[5, 2, 1]), (9, &[1, 2, 4])], &[1, 2, 1]);
        case(&[1_000_000], &[(7_000_001, &[7])], &[1_000_000]);
    }

    #[test]
    fn a_search_that_is_cut_short_states_a_bound() {
        // Seven orders, any two of which want the one piece of some shelf (the lines of the Fano plane).
        let lines = [
            [0, 1, 2],
            [0, 3, 4],
            [0, 5, 6],
            [1, 3, 5],
            [1, 4, 6],
            [2, 3, 6],
            [2, 4, 5],
        ];
        let limits = lines.map(|line| Limit {
            uses: line.map(|order| (order, 1)).to_vec(),
            most: 1,
        });
        let cut = share_within(&[1; 7], &limits, 0);
        assert_eq!(
            (cut.kits, cut.at_most, cut.exact),
            (vec![1, 0, 0, 0, 0, 0, 0], 2, false)
        );
        let whole = share(&[1; 7], &limits);
        assert_eq!(
            (whole.kits, whole.at_most, whole.exact),
            (vec![1, 0, 0, 0, 0, 0, 0], 1, true)
        );
    }

    /// Orders that use much of one item use little of another: neither item by itself tells how few
    /// kits there are.
    #[test]
    fn items_that_are_scarce_together_bound_the_search() {
        let rising: Vec<u64> = (0..40).map(|order| 100 + 20 * order).collect();
        let falling: Vec<u64> = rising.iter().rev().copied().collect();
        let limits = [limit(3000, &rising), limit(3000, &falling)];
        let shared = share(&[1; 40], &limits);
        // Each kit uses 980 of the 6000.
        assert_eq!((shared.at_most, shared.exact), (6, true));
        assert!(limits.iter().all(|limit| limit.holds(&shared.kits)));
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

        /// Against trying all: the most kits, and of those the ones that favour the first orders.
        #[test]
        fn sharing_is_best(
            wanted in proptest::collection::vec(0..4u64, 4),
            limits in proptest::collection::vec((0..20u64, proptest::collection::vec(0..7u64, 4)), 0..4),
        ) {
            let limits: Vec<Limit> = limits.iter().map(|(most, uses)| limit(*most, uses)).collect();
            let mut best = (0, vec![0; 4]);
            let all = wanted.iter().map(|most| most + 1).product::<u64>();
            for mut code in 0..all {
                let kits: Vec<u64> = wanted.iter().map(|most| {
                    let kits = code % (most + 1);
                    code /= most + 1;
                    kits
                }).collect();
                if limits.iter().all(|limit| limit.holds(&kits)) {
                    best = best.max((kits.iter().sum(), kits));
                }
            }
            let shared = share(&wanted, &limits);
            prop_assert!(shared.exact);
            prop_assert_eq!((shared.at_most, shared.kits), best);
        }
    }
}
