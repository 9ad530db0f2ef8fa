//! Bags that a slip or a count lacks whole: one thing to ask for, and not a piece at a time.

use std::{collections::BTreeMap, sync::Arc};

use super::claimed::{Cause, Claimed};
use crate::settle::{Account, Finding, FindingKind, ItemAccount};

/// A bag that is claimed as such.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WholeBag {
    /// As shown: the bag's bare name, a box with its word.
    pub bag: Arc<str>,
    /// How many of them are missing, of one for each kit.
    pub missing: u64,
    pub kits: u64,
    /// What is claimed as missing out of it: indices into the claim's lines, two or more.
    pub lines: Vec<usize>,
}

/// Of the claimed lines, those that come to whole bags: everything that the job needs out of a bag is
/// lacking, as often for each item, and no other bag holds it. What a slip lacks in whole bags is a line apart from what
/// else is lacking.
pub fn whole_bags(account: &Account, kits: u64, claimed: &mut Vec<Claimed>) -> Vec<WholeBag> {
    let mut line_of = vec![None; account.items.len()];
    for (at, line) in claimed.iter().enumerate() {
        if line.cause == Cause::Missing {
            line_of[line.item] = Some(at);
        }
    }
    // By bag: its items' lines, and how many bags each lacks; `None` for a bag of which something is there.
    let mut bags: BTreeMap<&Arc<str>, Option<(u64, Vec<usize>)>> = BTreeMap::new();
    let needed = account.items.iter().zip(&line_of);
    for (item, line) in needed.filter(|(item, _)| item.sums.required > 0) {
        let each = item.sums.required / kits;
        // What was perhaps packed in its place came in the bag.
        let told = |of: &Finding| {
            use FindingKind::{WrongFinish, WrongGrade, WrongSize};
            matches!(of.finding, WrongSize | WrongGrade | WrongFinish)
        };
        let lacks = line.filter(|_| item.bags.len() == 1 && !item.findings.iter().any(told));
        let lacks = lacks.and_then(|at: usize| {
            let pieces = in_whole_bags(item, &claimed[at]);
            (pieces > 0 && pieces.is_multiple_of(each)).then_some((pieces / each, at))
        });
        for bag in &item.bags {
            let of = bags.entry(bag).or_insert(Some((0, Vec::new())));
            *of = match (of.take(), lacks) {
                (Some((before, mut lines)), Some((missing, at)))
                    if lines.is_empty() || before == missing =>
                {
                    lines.push(at);
                    Some((missing, lines))
                }
                _ => None,
            };
        }
    }
    let whole = bags.into_iter().filter_map(|(bag, of)| {
        let (missing, lines) = of.filter(|(_, lines)| lines.len() > 1)?;
        Some(WholeBag {
            bag: bag.clone(),
            missing,
            kits,
            lines,
        })
    });
    let mut whole: Vec<WholeBag> = whole.collect();
    let mut places = vec![0; claimed.len()];
    let mut lines = Vec::with_capacity(claimed.len());
    for (at, line) in std::mem::take(claimed).into_iter().enumerate() {
        places[at] = lines.len();
        let is_whole = whole.iter().any(|of| of.lines.contains(&at));
        let pieces = match is_whole {
            true => in_whole_bags(&account.items[line.item], &line),
            false => line.pieces,
        };
        let rest = Claimed {
            pieces: line.pieces - pieces,
            rest: true,
            ..line.clone()
        };
        lines.push(Claimed { pieces, ..line });
        lines.extend(Some(rest).filter(|rest| rest.pieces > 0));
    }
    *claimed = lines;
    for line in whole.iter_mut().flat_map(|of| &mut of.lines) {
        *line = places[*line];
    }
    whole
}

/// Pieces of a claimed line that may have been in bags that are missing: those that the slip lacks, where it lists the
/// others; else all that is lacking.
fn in_whole_bags(item: &ItemAccount, line: &Claimed) -> u64 {
    let by_slip = item.findings.iter();
    let by_slip = by_slip.filter(|of| of.finding == FindingKind::SlipShort);
    match by_slip.map(|of| of.pieces).sum::<u64>() {
        0 if item.sums.short == line.pieces => line.pieces,
        by_slip => by_slip.min(line.pieces),
    }
}

#[cfg(test)]
mod tests {
    use crate::{
        kit::{Job, What},
        settle::{
            Claim,
            sample::{ListOf, at},
            settle,
        },
    };

    /// The whole bags claimed where the slip lists bag P as often as said, and so many plates.
    #[track_caller]
    fn case(kits: u64, bags: u64, plates: u64, expected: &[(u64, &[u64])]) {
        let required = ListOf::required()
            .line("bolt hex 1/2-13 6", 4, &at("Posts", "P"))
            .line("nut hex 1/2-13", 8, &at("Posts", "P"))
            .line("washer flat 3/8", 6, &at("Posts", "R"));
        let slip = ListOf::shipped()
            .other(&|line, placement| {
                line.what = What::Bag { received: None };
                line.quantity = Some(bags);
                placement.bag = Some("P".into());
            })
            .line("washer flat 3/8", plates, &at("", "R"));
        let job = Job {
            kits,
            ..Job::default()
        };
        let lists = [required.list(), slip.list()];
        let account = settle(&job, &lists).expect("settles");
        let claim = Claim::of(&job, &lists, &account);
        let found: Vec<(u64, Vec<u64>)> = (claim.whole_bags.iter())
            .map(|of| {
                let pieces = of.lines.iter().map(|&at| claim.claimed[at].pieces);
                (of.missing, pieces.collect())
            })
            .collect();
        let expected: Vec<(u64, Vec<u64>)> = (expected.iter())
            .map(|(bags, pieces)| (*bags, pieces.to_vec()))
            .collect();
        assert_eq!(found, expected);
    }

    /// Two bags of three came, and in one of them a nut too few was counted.
    #[test]
    fn what_is_lacking_in_other_bags_is_a_line_apart() {
        let required = ListOf::required()
            .line("bolt hex 1/2-13 6", 4, &at("Posts", "P"))
            .line("nut hex 1/2-13", 8, &at("Posts", "P"));
        let slip = ListOf::shipped().other(&|line, placement| {
            line.what = What::Bag { received: None };
            line.quantity = Some(2);
            placement.bag = Some("P".into());
        });
        let count = ListOf::counted()
            .line("bolt hex 1/2-13 6", 8, &at("", "P"))
            .line("nut hex 1/2-13", 15, &at("", "P"));
        let job = Job {
            kits: 3,
            ..Job::default()
        };
        let lists = [required.list(), slip.list(), count.list()];
        let account = settle(&job, &lists).expect("settles");
        let claim = Claim::of(&job, &lists, &account);
        let pieces: Vec<u64> = claim.claimed.iter().map(|of| of.pieces).collect();
        assert_eq!(pieces, [4, 8, 1]);
        let bags: Vec<_> = claim
            .whole_bags
            .iter()
            .map(|of| (of.missing, &*of.lines))
            .collect();
        assert_eq!(bags, [(1, &[0, 1][..])]);
    }

    #[test]
    fn a_bag_that_the_slip_lacks_is_one_line() {
        case(3, 2, 18, &[(1, &[4, 8])]);
        case(3, 1, 18, &[(2, &[8, 16])]);
        // One item alone is no bag, nor is one of which nothing is missing.
        case(3, 3, 12, &[]);
    }
}
