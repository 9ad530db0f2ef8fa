//! What is left when the build is done, against what must be left.
//!
//! Two lock nuts more than expected mean two joints without one. Common practice, no source.

use super::{
    account::{ItemAccount, LeftOver},
    evidence::Rows,
    inventory::Inventory,
    ledger::Ledger,
};

/// Settles what was left: what is too many first, then what is too few, then the rest, each in the
/// account's order. `place` is where each entry stands in the account.
pub fn left_over(
    inventory: &Inventory,
    ledger: &Ledger,
    place: &[usize],
    items: &[ItemAccount],
) -> Vec<LeftOver> {
    let mut left: Vec<LeftOver> = items
        .iter()
        .enumerate()
        .map(|(at, item)| LeftOver {
            item: Some(at),
            text: item.text.clone(),
            id: item.id.clone(),
            expected: item.sums.extra + item.sums.discarded,
            found: None,
            stages: Vec::new(),
            counted_before: item.counted.is_some() && item.believed == 0 && item.known,
            evidence: Rows::default(),
        })
        .collect();
    let mut strange = Vec::new();
    for (item, pieces) in &inventory.left_over {
        let stated = &inventory.items[*item as usize];
        match ledger.fits.home(*item as usize) {
            Some(entry) => {
                let of = &mut left[place[entry]];
                *of.found.get_or_insert(0) += pieces;
                of.evidence = Rows::together([&of.evidence, &stated.left_by]);
            }
            None => strange.push(LeftOver {
                item: None,
                text: stated.shown().text(),
                id: stated.shown().id(),
                expected: 0,
                found: Some(*pieces),
                stages: Vec::new(),
                counted_before: false,
                evidence: stated.left_by.clone(),
            }),
        }
    }
    for of in &mut left {
        if let (Some(at), true, 1..) = (of.item, of.counted_before, of.more()) {
            let used = items[at].shares.iter().filter(|s| s.required > s.short);
            of.stages = used.map(|share| share.stage).collect();
        }
    }
    left.extend(strange);
    left.retain(|of| of.expected > 0 || of.found.is_some_and(|found| found > 0));
    left.sort_by_key(|of| (of.more() == 0, of.fewer() == 0));
    left
}

#[cfg(test)]
mod tests {
    use pretty_assertions::assert_eq;

    use crate::{
        kit::{Job, Usage},
        settle::{
            sample::{ListOf, plain, stage, used},
            settle,
        },
    };

    #[test]
    fn two_nuts_too_many_are_two_joints_without_one() {
        let lists = [
            ListOf::required()
                .line("nut nylon 1/2", 8, &stage("Sills"))
                .line("nut nylon 1/2", 8, &stage("Rails"))
                .line("nut hex 1/2", 4, &stage("Rails"))
                .line("bolt hex 1/2 3", 4, &stage("Rails"))
                .line("washer flat 1/2", 6, &stage("Sills"))
                .line("washer flat 1/2", 2, &used("Rails", Usage::Discarded))
                .list(),
            ListOf::shipped()
                .line("nut nylon 1/2", 20, &plain)
                .line("nut hex 1/2", 9, &plain)
                .line("bolt hex 1/2 3", 6, &plain)
                .line("washer flat 1/2", 6, &plain)
                .list(),
            ListOf::counted()
                .line("nut nylon 1/2", 19, &plain)
                .line("bolt hex 1/2 3", 6, &plain)
                .line("washer flat 1/2", 6, &plain)
                .list(),
            ListOf::leftover()
                .line("nut nylon 1/2", 5, &plain)
                .line("nut hex 1/2", 7, &plain)
                .line("bolt hex 1/2 3", 1, &plain)
                .line("washer flat 1/2", 2, &plain)
                .line("nut hex 3/4", 3, &plain)
                .list(),
        ];
        let account = settle(&Job::default(), &lists).expect("settles");
        let said: Vec<_> = account
            .left_over
            .as_deref()
            .expect("leftovers were counted")
            .iter()
            .map(|of| {
                (
                    of.text.as_str(),
                    of.expected,
                    of.found,
                    of.more(),
                    of.fewer(),
                    &of.stages[..],
                )
            })
            .collect();
        assert_eq!(
            said,
            [
                (
                    "1/2-13 nylon-insert lock nut",
                    3,
                    Some(5),
                    2,
                    0,
                    &[0, 1][..]
                ),
                // Nobody counted it before: there may have been more in the bag.
                ("1/2-13 hex nut", 5, Some(7), 2, 0, &[]),
                ("3/4-10 hex nut", 0, Some(3), 3, 0, &[]),
                ("1/2-13 x 3 hex bolt", 2, Some(1), 0, 1, &[]),
                ("1/2 flat washer", 2, Some(2), 0, 0, &[]),
            ]
        );
        // What is left is no supply, and no item of the account.
        assert_eq!(account.items.len(), 4);
        assert_eq!(account.totals.counted, 31);
    }
}
