//! Parcels: deliveries one after another, what each brought, and which count looked at which.
//!
//! Slips of one day are one parcel. A count speaks for what had come when it was made and no count
//! before it had looked at; where dates do not tell, it speaks for all, and what a later parcel lists and
//! it lacks is left open.

use jiff::civil::Date;
use rustc_hash::FxHashMap;

use super::{Account, Claim};
use crate::{
    kit::{Job, List, Role},
    words::day,
};

/// Parcels in a row, from 1; both ends count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Scope {
    pub first: u32,
    pub last: u32,
}

impl Scope {
    /// What says nothing of parcels holds for every one.
    pub const ALL: Scope = Scope {
        first: 1,
        last: u32::MAX,
    };

    pub fn meets(self, other: Scope) -> bool {
        self.first <= other.last && other.first <= self.last
    }
}

impl Default for Scope {
    fn default() -> Scope {
        Scope::ALL
    }
}

/// Which parcel each slip is, and which parcels each count speaks for.
#[derive(Debug)]
pub struct Parcels {
    /// By list.
    scopes: Vec<Scope>,
    /// 0 without a slip.
    pub number: u32,
}

impl Parcels {
    pub fn of(lists: &[List]) -> Parcels {
        let slips: Vec<usize> = of_role(lists, Role::Shipped).collect();
        let mut parcels = Parcels {
            scopes: vec![Scope::ALL; lists.len()],
            number: slips.len().min(1) as u32,
        };
        let dates = Dates::of(lists, &slips);
        let mut keys: Vec<(u64, usize)> = slips
            .iter()
            .enumerate()
            .map(|(given, &at)| (dates.key(&lists[at], given), at))
            .collect();
        keys.sort_unstable();
        let mut days: Vec<(u64, Option<Date>)> = Vec::new();
        for (key, at) in keys {
            if days.last().is_none_or(|(last, _)| *last != key) {
                days.push((key, date(&lists[at])));
            }
            let parcel = days.len() as u32;
            parcels.scopes[at] = Scope {
                first: parcel,
                last: parcel,
            };
        }
        if days.len() < 2 {
            parcels.scopes.fill(Scope::ALL);
            return parcels;
        }
        parcels.number = days.len() as u32;
        parcels.place_counts(lists, &days, &dates);
        parcels
    }

    /// Says which parcels each count speaks for.
    fn place_counts(&mut self, lists: &[List], days: &[(u64, Option<Date>)], dates: &Dates) {
        let mut through: Vec<(usize, u32, bool)> = Vec::new();
        for at in of_role(lists, Role::Counted) {
            let stated = lists[at].parcel.map(u64::from);
            let stated = stated.and_then(|n| days.iter().position(|(key, _)| *key == n));
            let by_date = || {
                let made = date(&lists[at]).filter(|_| *dates == Dates::Days)?;
                let came = days
                    .iter()
                    .take_while(|(_, day)| *day <= Some(made))
                    .count();
                came.checked_sub(1)
            };
            let numbered = *dates == Dates::Numbers;
            if let Some(last) = stated.filter(|_| numbered).or_else(by_date) {
                through.push((at, last as u32 + 1, numbered));
            }
        }
        for &(at, last, numbered) in &through {
            let before = through.iter().map(|(_, last, _)| *last);
            let before = before.filter(|other| *other < last).max().unwrap_or(0);
            self.scopes[at] = Scope {
                first: if numbered { last } else { before + 1 },
                last,
            };
        }
    }

    /// The parcels that a list is of, or speaks for.
    pub fn of_list(&self, list: usize) -> Scope {
        self.scopes[list]
    }

    /// True for a list that was there when a parcel had come. A count of which nobody knows what it
    /// looked at is taken to be made last.
    pub fn had_come(&self, lists: &[List], list: usize, through: u32) -> bool {
        match lists[list].role {
            Role::Shipped | Role::Counted => {
                self.number < 2
                    || self.scopes[list].last <= through
                    || (through == self.number && self.scopes[list] == Scope::ALL)
            }
            _ => true,
        }
    }
}

fn of_role(lists: &[List], role: Role) -> impl Iterator<Item = usize> {
    (0..lists.len()).filter(move |&at| lists[at].role == role)
}

fn date(list: &List) -> Option<Date> {
    day(list.date.as_deref()?)
}

/// What puts the slips in order.
#[derive(Debug, PartialEq, Eq)]
enum Dates {
    /// The job file numbers every parcel.
    Numbers,
    /// Every slip has a date that can be read.
    Days,
    /// Neither: they came in the order given.
    Given,
}

impl Dates {
    fn of(lists: &[List], slips: &[usize]) -> Dates {
        if slips.iter().all(|&at| lists[at].parcel.is_some()) {
            Dates::Numbers
        } else if slips.iter().all(|&at| date(&lists[at]).is_some()) {
            Dates::Days
        } else {
            Dates::Given
        }
    }

    fn key(&self, list: &List, given: usize) -> u64 {
        match (self, list.parcel, date(list)) {
            (Dates::Numbers, Some(parcel), _) => u64::from(parcel),
            // Years have four digits, so that this is in order of time.
            (Dates::Days, _, Some(day)) => {
                let year = u64::try_from(day.year()).unwrap_or(0);
                year * 1000 + u64::try_from(day.day_of_year()).unwrap_or(0)
            }
            _ => given as u64,
        }
    }
}

/// One delivery, and what it did to the claim.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Parcel {
    /// Its slips, and the counts made of it: indices into the lists settled.
    pub slips: Vec<usize>,
    pub counts: Vec<usize>,
    /// As the first of its slips states it.
    pub date: Option<String>,
    /// On its slips.
    pub pieces: u64,
    /// Claimed when it had come.
    pub open: u64,
    /// Of what was claimed before it came, and of what is claimed since.
    pub closed: u64,
    pub opened: u64,
    /// Claimed before it came, and not settled since: nobody knows whether they are there.
    pub not_settled: u64,
    /// Items of which the claim changed.
    pub changes: Vec<Change>,
}

/// How a parcel changed the claim of one item: `open = before - closed - not_settled + opened`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Change {
    /// Index into [`Account::items`].
    pub item: usize,
    pub before: u64,
    pub closed: u64,
    pub opened: u64,
    pub not_settled: u64,
    pub open: u64,
}

/// What each parcel closed: the claim as it stood after each. `accounts` are the job as settled after
/// each parcel, the last one of all.
pub fn closings(
    job: &Job,
    lists: &[List],
    parcels: &Parcels,
    accounts: &[&Account],
) -> Vec<Parcel> {
    let Some(last) = accounts.last() else {
        return Vec::new();
    };
    let items: FxHashMap<&str, usize> = last
        .items
        .iter()
        .enumerate()
        .map(|(at, item)| (item.id.as_str(), at))
        .collect();
    let mut before = vec![0; last.items.len()];
    let mut all = Vec::new();
    for (account, number) in accounts.iter().zip(1..) {
        let mut open = vec![0; last.items.len()];
        for line in Claim::of(job, lists, account).claimed {
            if let Some(&at) = items.get(account.items[line.item].id.as_str()) {
                open[at] += line.pieces;
            }
        }
        let mut unsettled = vec![0; last.items.len()];
        for item in account.items.iter().filter(|item| item.open.is_some()) {
            if let Some(&at) = items.get(item.id.as_str()) {
                unsettled[at] = u64::saturating_sub(item.sums.short, open[at]);
            }
        }
        let changes: Vec<Change> = before
            .iter()
            .zip(&open)
            .enumerate()
            .filter(|(_, (before, open))| *before != *open)
            .map(|(item, (&before, &open))| {
                let less = u64::saturating_sub(before, open);
                let not_settled = less.min(unsettled[item]);
                Change {
                    item,
                    before,
                    closed: less - not_settled,
                    opened: u64::saturating_sub(open, before),
                    not_settled,
                    open,
                }
            })
            .collect();
        let of = |role| {
            let lists = of_role(lists, role);
            lists.filter(move |&at| parcels.of_list(at).last == number)
        };
        let slips: Vec<usize> = of(Role::Shipped).collect();
        let lines = slips.iter().flat_map(|&at| &lists[at].lines);
        let pieces = lines.filter_map(|line| {
            let each = line.quantity.filter(|_| line.what.is_item())?;
            each.checked_mul(u64::from(line.places))
        });
        all.push(Parcel {
            date: slips.first().and_then(|&at| lists[at].date.clone()),
            pieces: pieces.fold(0, u64::saturating_add),
            counts: of(Role::Counted).collect(),
            slips,
            open: open.iter().sum(),
            closed: changes.iter().map(|change| change.closed).sum(),
            opened: changes.iter().map(|change| change.opened).sum(),
            not_settled: changes.iter().map(|change| change.not_settled).sum(),
            changes,
        });
        before = open;
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::settle::{
        sample::{ListOf, bag, plain},
        settle,
    };

    const BOLT: &str = "bolt hex 1/2-13 6";
    const NUT: &str = "nut hex 1/2-13";

    fn dated(list: ListOf, date: &str) -> List {
        list.edit(|list| list.date = Some(date.to_owned())).list()
    }

    fn slip(file: &str, bolts: u64) -> ListOf {
        ListOf::new(Role::Shipped, file).line(BOLT, bolts, &plain)
    }

    fn count(file: &str, bolts: u64) -> ListOf {
        ListOf::new(Role::Counted, file).line(BOLT, bolts, &plain)
    }

    /// Short in the end; and of each parcel: closed, opened, open.
    #[track_caller]
    fn case(lists: Vec<List>, short: u64, expected: &[(u64, u64, u64)]) {
        let required = ListOf::required().line(BOLT, 24, &plain).list();
        let lists: Vec<List> = [required].into_iter().chain(lists).collect();
        let account = settle(&Job::default(), &lists).expect("settles");
        let parcels = account.parcels.iter();
        let found: Vec<_> = parcels.map(|p| (p.closed, p.opened, p.open)).collect();
        assert_eq!((account.totals.short, found.as_slice()), (short, expected));
    }

    #[test]
    fn a_second_parcel_closes_what_the_first_lacked() {
        // By the slips alone, in the order given.
        case(
            vec![slip("1.csv", 16).list(), slip("2.csv", 5).list()],
            3,
            &[(0, 8, 8), (5, 0, 3)],
        );
        // The first was counted before the second came: its count speaks of the first alone.
        let first = || dated(slip("1.csv", 24), "21 April 2026");
        let counted = || dated(count("count.csv", 16), "24 April 2026");
        let second = || dated(slip("2.csv", 5), "30 April 2026");
        case(
            vec![first(), second(), counted()],
            3,
            &[(0, 8, 8), (5, 0, 3)],
        );
        // Dates put them in order, whatever the order given.
        case(
            vec![second(), first(), counted()],
            3,
            &[(0, 8, 8), (5, 0, 3)],
        );
        // A count of the second adds to that of the first.
        case(
            vec![
                first(),
                second(),
                counted(),
                dated(count("again.csv", 4), "2 May 2026"),
            ],
            4,
            &[(0, 8, 8), (4, 0, 4)],
        );
        // A count made when both had come speaks of both.
        case(
            vec![first(), second(), dated(count("all.csv", 21), "2 May 2026")],
            3,
            &[(0, 0, 0), (0, 3, 3)],
        );
        // One delivery on two pages is one parcel.
        case(
            vec![first(), dated(slip("page-2.csv", 5), "21 April 2026")],
            0,
            &[],
        );
    }

    /// Where nobody knows which parcels a count looked at, what a later one lists may have come since: it
    /// is claimed no more, nor is it closed.
    #[test]
    fn a_count_without_a_date_accuses_no_later_parcel() {
        let required = || {
            ListOf::required()
                .line(BOLT, 24, &plain)
                .line(NUT, 8, &plain)
        };
        let settled = |lists: Vec<List>| {
            let lists: Vec<List> = [required().list()].into_iter().chain(lists).collect();
            let account = settle(&Job::default(), &lists).expect("settles");
            let claim = Claim::of(&Job::default(), &lists, &account);
            let claimed: u64 = claim.claimed.iter().map(|line| line.pieces).sum();
            let parcels = account.parcels.iter();
            let found: Vec<_> = (parcels)
                .map(|p| (p.closed, p.opened, p.not_settled, p.open))
                .collect();
            (claimed, account.reasons, found)
        };
        let first = || dated(slip("1.csv", 24).line(NUT, 8, &plain), "9 April 2026");
        let second = || dated(slip("2.csv", 6), "22 April 2026");
        let counted = || count("count.csv", 15).line(NUT, 7, &plain);
        // The nuts came in the first parcel alone, so that their lack is sure.
        let (claimed, reasons, found) = settled(vec![first(), second(), counted().list()]);
        assert_eq!(claimed, 1);
        assert_eq!(
            reasons,
            [
                "1 piece of 1 item short stops the job",
                "count.csv: nobody knows which parcels were there when it was counted, so that 1 item \
                 that may be short may have come since: write the day under \"Count date\", or as its \
                 date in the job file",
            ]
        );
        assert_eq!(found, [(0, 0, 0, 0), (0, 1, 0, 1)]);
        // With its date, nine are short of the first parcel, and six of them are closed.
        let (claimed, _, found) = settled(vec![first(), second(), dated(counted(), "2026-04-14")]);
        assert_eq!(claimed, 4);
        assert_eq!(found, [(0, 10, 0, 10), (6, 0, 0, 4)]);
        // What no slip lists is short whatever the day.
        let (claimed, _, found) = settled(vec![
            dated(slip("1.csv", 16).line(NUT, 8, &plain), "9 April 2026"),
            dated(slip("2.csv", 5), "22 April 2026"),
            count("count.csv", 16).line(NUT, 8, &plain).list(),
        ]);
        assert_eq!(claimed, 3);
        assert_eq!(found, [(0, 8, 0, 8), (0, 0, 5, 3)]);
        // A date that may be two days, and slips without one.
        let of = |lists| settled(lists).1.pop().expect("a reason");
        let unclear = of(vec![first(), second(), dated(counted(), "4/9/2026")]);
        assert!(
            unclear.ends_with(": write its date as 2026-04-14"),
            "{unclear}"
        );
        let undated = of(vec![
            slip("1.csv", 24).line(NUT, 8, &plain).list(),
            slip("2.csv", 6).list(),
            dated(counted(), "2026-04-14"),
        ]);
        assert!(undated.contains(": date the slips, too, "), "{undated}");
    }

    #[test]
    fn the_job_file_numbers_parcels() {
        let numbered = |list: ListOf, parcel| list.edit(|list| list.parcel = Some(parcel)).list();
        case(
            vec![
                numbered(slip("b.csv", 5), 2),
                numbered(slip("a.csv", 24), 1),
                numbered(count("a-count.csv", 16), 1),
                numbered(count("b-count.csv", 5), 2),
            ],
            3,
            &[(0, 8, 8), (5, 0, 3)],
        );
    }

    /// A later count of an item that the later parcel did not bring is a count of the first parcel.
    #[test]
    fn a_late_count_never_adds_to_what_the_slip_says_of_an_earlier_parcel() {
        let lists = vec![
            dated(slip("1.csv", 24), "21 April 2026"),
            dated(
                ListOf::new(Role::Counted, "nuts.csv").line(NUT, 4, &plain),
                "22 April 2026",
            ),
            dated(
                ListOf::new(Role::Shipped, "2.csv").line(NUT, 4, &plain),
                "30 April 2026",
            ),
            dated(count("late.csv", 20), "2 May 2026"),
        ];
        case(lists, 4, &[(0, 0, 0), (0, 4, 4)]);
    }

    #[test]
    fn a_bag_that_did_not_come_comes_later() {
        let in_bag = |file: &str| ListOf::new(Role::Shipped, file).line(BOLT, 24, &bag("H"));
        let lost = ListOf::counted().other(&|line, placement| {
            line.what = crate::kit::What::Bag {
                received: Some(false),
            };
            placement.bag = Some("H".into());
        });
        case(
            vec![
                dated(in_bag("1.csv"), "21 April 2026"),
                dated(lost, "24 April 2026"),
                dated(in_bag("2.csv"), "30 April 2026"),
            ],
            0,
            &[(0, 24, 24), (24, 0, 0)],
        );
    }

    #[test]
    fn what_was_to_follow_is_not_asked_after_when_it_came() {
        let to_follow = slip("1.csv", 16).edit(|list| list.lines[0].more_mut().back_ordered = 8);
        let lists = [
            ListOf::required().line(BOLT, 24, &plain).list(),
            to_follow.list(),
            slip("2.csv", 8).list(),
        ];
        let account = settle(&Job::default(), &lists).expect("settles");
        assert_eq!(account.items[0].findings, []);
        assert_eq!(account.parcels[0].open, 8);
        assert_eq!(account.parcels[1].closed, 8);
    }
}
