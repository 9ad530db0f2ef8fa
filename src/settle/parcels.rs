//! Parcels: deliveries one after another, what each brought, and which count looked at which.
//!
//! Slips of one day are one parcel. Of bare dates (`3/2/2026`) one that can be read one way only tells how
//! the others of the run are read; without it they count where both ways come to the same. A count speaks for what had come when it was made and no count
//! before it had looked at; where dates do not tell, it speaks for all, and what a later parcel lists and
//! it lacks is left open.

use std::fmt;

use jiff::civil::Date;
use rustc_hash::FxHashMap;

use super::{Account, Claim};
use crate::{
    Result,
    error::At,
    kit::{Job, List, Role, What},
    source::Limit,
    words::{day, days},
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
    /// What a person should know of how they were put in order.
    pub order: Option<Order>,
}

/// How parcels were put in order, where their dates alone do not say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Order {
    /// Bare dates were read like this one, which can be read one way only.
    Told { by: String, day_first: bool },
    /// As given: the slips' dates leave open which came first. Each file, and its date.
    Open(Vec<(String, Option<String>)>),
}

impl fmt::Display for Order {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Order::Told { by, day_first } => {
                let first = if *day_first { "day" } else { "month" };
                write!(
                    f,
                    "dates are read {first} first, since {by} can be no other"
                )
            }
            Order::Open(slips) => {
                let slips = slips.iter().map(|(file, date)| match date {
                    Some(date) => format!("{file}: {date}"),
                    None => format!("{file}: no date"),
                });
                let slips: Vec<String> = slips.collect();
                write!(
                    f,
                    "nobody can say by their dates in which order the parcels came ({}), and they are \
                     taken as given: write their dates as 2026-04-14, in their titles or in the job file",
                    slips.join("; ")
                )
            }
        }
    }
}

impl Parcels {
    pub fn of(lists: &[List]) -> Parcels {
        let slips: Vec<usize> = of_role(lists, Role::Shipped).collect();
        let mut parcels = Parcels {
            scopes: vec![Scope::ALL; lists.len()],
            number: slips.len().min(1) as u32,
            order: None,
        };
        let dates = Dates::of(lists);
        let sorted = Sorted::by(lists, &slips, &dates);
        let Deliveries { of_slips, keys } = sorted.deliveries(lists, &slips, &dates.ways[0]);
        for (&at, &parcel) in slips.iter().zip(&of_slips) {
            parcels.scopes[at] = Scope {
                first: parcel,
                last: parcel,
            };
        }
        if keys.len() < 2 {
            parcels.scopes.fill(Scope::ALL);
            return parcels;
        }
        parcels.number = keys.len() as u32;
        parcels.place_counts(lists, &slips, &sorted, &dates);
        parcels.order = sorted.to_say(lists, &slips, dates.told);
        parcels
    }

    /// # Errors
    /// There are more than the job's limit: it is settled as it stood after each.
    pub fn check(&self, job: &Job, lists: &[List]) -> Result<()> {
        let most = job.limits.most(Limit::Parcels);
        let slips = of_role(lists, Role::Shipped);
        let beyond = slips
            .into_iter()
            .find(|&at| u64::from(self.scopes[at].first) > most);
        let Some(beyond) = beyond.filter(|_| self.number > 1) else {
            return Ok(());
        };
        let found = format!(
            "the slips are {} deliveries, and no more than {most} are settled one after another",
            self.number
        );
        Err(job
            .limits
            .error(Limit::Parcels, At::file(&lists[beyond].file), &found))
    }

    /// Says which parcels each count speaks for.
    fn place_counts(&mut self, lists: &[List], slips: &[usize], sorted: &Sorted, dates: &Dates) {
        // By each way to read bare dates: how many deliveries had come by the day of a count.
        let came = |at: usize, days: &[Option<Date>]| {
            let made = days[at].filter(|_| *sorted == Sorted::Days)?;
            let mut before: Vec<Date> = slips.iter().filter_map(|&slip| days[slip]).collect();
            before.retain(|day| *day <= made);
            before.sort_unstable();
            before.dedup();
            Some(before.len() as u32).filter(|&came| came > 0)
        };
        let numbered = *sorted == Sorted::Numbers;
        let mut through: Vec<(usize, u32)> = Vec::new();
        for at in of_role(lists, Role::Counted) {
            let stated = lists[at].parcel.filter(|_| numbered);
            let numbers = || {
                let mut slips = slips.iter().map(|&slip| (lists[slip].parcel, slip));
                slips.find(|(parcel, _)| *parcel == stated)
            };
            let last = match stated {
                Some(_) => numbers().map(|(_, slip)| self.scopes[slip].last),
                None => {
                    let mut ways = dates.ways.iter().map(|days| came(at, days));
                    let first = ways.next().flatten();
                    first.filter(|_| ways.all(|other| other == first))
                }
            };
            through.extend(last.map(|last| (at, last)));
        }
        for &(at, last) in &through {
            let before = through.iter().map(|(_, last)| *last);
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

/// The days of all lists, in each way in which the run's bare dates may be meant.
struct Dates {
    ways: Vec<Vec<Option<Date>>>,
    /// A date that says which of its figures is the day, and whether that stands first; needed by others.
    told: Option<(String, bool)>,
}

impl Dates {
    fn of(lists: &[List]) -> Dates {
        let bare = |list: &List| {
            let text = list.date.as_deref().filter(|text| day(text).is_none())?;
            Some(days(text)).filter(|of| of[0].is_some())
        };
        let dated = lists.iter().filter_map(|list| list.date.as_deref());
        let tells = |day_first: bool| {
            let mut dated = dated.clone();
            dated.find(|text| match days(text) {
                [None, Some(_)] => day_first,
                [Some(_), None] => !day_first,
                _ => false,
            })
        };
        let told = match (tells(false), tells(true)) {
            (Some(by), None) => Some((by.to_owned(), false)),
            (None, Some(by)) => Some((by.to_owned(), true)),
            _ => None,
        };
        let by = |day_first: bool| -> Vec<Option<Date>> {
            let way = |list: &List| match bare(list) {
                Some(of) => of[usize::from(day_first)],
                None => day(list.date.as_deref()?),
            };
            lists.iter().map(way).collect()
        };
        let told = told.filter(|_| lists.iter().any(|list| bare(list).is_some()));
        let ways = match &told {
            Some((_, day_first)) => vec![by(*day_first)],
            None => vec![by(false), by(true)],
        };
        Dates { ways, told }
    }
}

/// What puts the slips in order.
#[derive(Debug, PartialEq, Eq)]
enum Sorted {
    /// The job file numbers every parcel.
    Numbers,
    /// Every slip has a date, and however bare ones are meant the order is the same.
    Days,
    /// Neither: they came in the order given.
    Given,
}

/// Which delivery each slip is of, from 1, and what puts the deliveries in order.
struct Deliveries {
    of_slips: Vec<u32>,
    keys: Vec<u64>,
}

impl Sorted {
    fn by(lists: &[List], slips: &[usize], dates: &Dates) -> Sorted {
        let in_order = |days| Sorted::Days.deliveries(lists, slips, days).of_slips;
        let dated = |days: &Vec<Option<Date>>| slips.iter().all(|&at| days[at].is_some());
        if slips.iter().all(|&at| lists[at].parcel.is_some()) {
            Sorted::Numbers
        } else if dates.ways.iter().all(dated)
            && (dates.ways.windows(2)).all(|two| in_order(&two[0]) == in_order(&two[1]))
        {
            Sorted::Days
        } else {
            Sorted::Given
        }
    }

    fn deliveries(&self, lists: &[List], slips: &[usize], days: &[Option<Date>]) -> Deliveries {
        let key = |given: usize, at: usize| match (self, lists[at].parcel, days[at]) {
            (Sorted::Numbers, Some(parcel), _) => u64::from(parcel),
            // Years have four digits, so that this is in order of time.
            (Sorted::Days, _, Some(day)) => {
                let year = u64::try_from(day.year()).unwrap_or(0);
                year * 1000 + u64::try_from(day.day_of_year()).unwrap_or(0)
            }
            _ => given as u64,
        };
        let of_slips: Vec<u64> = (slips.iter().enumerate())
            .map(|(given, &at)| key(given, at))
            .collect();
        let mut keys = of_slips.clone();
        keys.sort_unstable();
        keys.dedup();
        let place = |key: &u64| keys.partition_point(|other| other <= key) as u32;
        Deliveries {
            of_slips: of_slips.iter().map(place).collect(),
            keys,
        }
    }

    /// What a person should know of the order.
    fn to_say(
        &self,
        lists: &[List],
        slips: &[usize],
        told: Option<(String, bool)>,
    ) -> Option<Order> {
        match (self, told) {
            (Sorted::Days, Some((by, day_first))) => Some(Order::Told { by, day_first }),
            (Sorted::Given, _) if slips.iter().any(|&at| lists[at].date.is_some()) => {
                let slips = slips.iter().map(|&at| &lists[at]);
                let slips = slips.map(|list| (list.file.clone(), list.date.clone()));
                Some(Order::Open(slips.collect()))
            }
            _ => None,
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
    /// On its slips: pieces, and bags and boxes that they list as such.
    pub pieces: u64,
    pub containers: u64,
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

/// What each parcel closed: the claim as it stood after each. `through` settles the job as it stood when a parcel
/// had come, and `last` is the job when all had; no more than one other is held at once.
pub fn closings(
    job: &Job,
    lists: &[List],
    parcels: &Parcels,
    last: &Account,
    through: impl Fn(u32) -> Result<Account>,
) -> Result<Vec<Parcel>> {
    let items: FxHashMap<&str, usize> = last
        .items
        .iter()
        .enumerate()
        .map(|(at, item)| (item.id.as_str(), at))
        .collect();
    let mut before = vec![0; last.items.len()];
    let mut all = Vec::new();
    for number in 1..=parcels.number {
        let earlier = match number < parcels.number {
            true => Some(through(number)?),
            false => None,
        };
        let account = earlier.as_ref().unwrap_or(last);
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
        let on_slips = |listed: fn(&What) -> bool| {
            let lines = lines.clone().filter(|line| listed(&line.what));
            let pieces =
                lines.filter_map(|line| line.quantity?.checked_mul(u64::from(line.places)));
            pieces.fold(0, u64::saturating_add)
        };
        all.push(Parcel {
            date: slips.first().and_then(|&at| lists[at].date.clone()),
            pieces: on_slips(What::is_item),
            containers: on_slips(|what| matches!(what, What::Bag { .. })),
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
    Ok(all)
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
    fn more_parcels_than_the_limit() {
        let mut job = Job::default();
        job.limits.set(Limit::Parcels, 1);
        let lists = |slips: &[&str]| -> Vec<List> {
            let slips = slips.iter().map(|file| slip(file, 12).list());
            [ListOf::required().line(BOLT, 24, &plain).list()]
                .into_iter()
                .chain(slips)
                .collect()
        };
        assert!(settle(&job, &lists(&["1.csv"])).is_ok());
        assert_eq!(
            settle(&job, &lists(&["1.csv", "2.csv"]))
                .expect_err("refused")
                .to_string(),
            "2.csv: the slips are 2 deliveries, and no more than 1 are settled one after another\n  what to do: \
             give slips that came together one date; or, if you trust the file, raise the limit (--limit \
             parcels=N, now 1)"
        );
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

    /// What a bag holds came with the slip that lists the bag.
    #[test]
    fn a_bag_brings_what_the_list_puts_in_it() {
        let sent = |file: &str, name: &str, on: &str| {
            let list = ListOf::new(Role::Shipped, file).other(&|line, placement| {
                line.what = What::Bag { received: None };
                line.quantity = Some(1);
                placement.bag = Some(name.into());
            });
            dated(list, on)
        };
        let counted = |file: &str, name: &str, bolts: u64, on: &str| {
            let list = ListOf::new(Role::Counted, file);
            dated(list.line(BOLT, bolts, &bag(name)), on)
        };
        let required = ListOf::required().line(BOLT, 8, &bag("A"));
        let lists = [
            required.line(BOLT, 4, &bag("C")).list(),
            sent("1.csv", "A", "1 July 2026"),
            ListOf::new(Role::Shipped, "2.csv")
                .line(BOLT, 2, &plain)
                .other(&|line, placement| {
                    line.what = What::Bag { received: None };
                    line.quantity = Some(1);
                    placement.bag = Some("C".into());
                })
                .edit(|list| list.date = Some("10 July 2026".to_owned()))
                .list(),
            counted("count.csv", "A", 6, "3 July 2026"),
            counted("again.csv", "C", 3, "12 July 2026"),
        ];
        let account = settle(&Job::default(), &lists).expect("settles");
        assert_eq!(account.items[0].doubts, []);
        // 6, 3, and the 2 that nobody counted.
        assert_eq!(account.totals.short, 1);
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
        // A count of all that the slips list has seen it, whatever the day.
        let all = || count("count.csv", 21).line(NUT, 8, &plain).list();
        let (claimed, reasons, _) = settled(vec![
            dated(slip("1.csv", 16).line(NUT, 8, &plain), "9 April 2026"),
            dated(slip("2.csv", 5), "22 April 2026"),
            all(),
        ]);
        assert_eq!(claimed, 3);
        assert!(
            !reasons
                .iter()
                .any(|of| of.contains("which parcels were there")),
            "{reasons:?}"
        );
        // A count that found what the last parcel alone brought has looked at all.
        let (claimed, reasons, _) = settled(vec![
            dated(slip("1.csv", 24), "9 April 2026"),
            dated(
                ListOf::new(Role::Shipped, "2.csv").line(NUT, 8, &plain),
                "22 April 2026",
            ),
            count("count.csv", 24).line(NUT, 7, &plain).list(),
        ]);
        assert_eq!(claimed, 1, "{reasons:?}");
        // A date that may be two days, and slips without one.
        let of = |lists| settled(lists).1.pop().expect("a reason");
        let unclear = of(vec![first(), second(), dated(counted(), "4/9/2026")]);
        assert!(
            unclear.ends_with(": write its date as 2026-04-14 is written here"),
            "{unclear}"
        );
        let early = of(vec![first(), second(), dated(counted(), "8 April 2026")]);
        assert!(
            early.ends_with(
                ": it is dated before the first parcel (1.csv, 9 April 2026): mend the one or the other"
            ),
            "{early}"
        );
        let undated = of(vec![
            slip("1.csv", 24).line(NUT, 8, &plain).list(),
            slip("2.csv", 6).list(),
            dated(counted(), "2026-04-14"),
        ]);
        assert!(undated.contains(": date the slips, too, "), "{undated}");
    }

    /// One bare date that can be read one way only tells how the others are read; else they count where both
    /// ways come to the same.
    #[test]
    fn bare_dates_put_parcels_in_order() {
        #[track_caller]
        fn case(slips: [&str; 2], counted: &str, expected: (&[u32], Scope), said: &str) {
            let lists = [
                dated(slip("a.csv", 2), slips[0]),
                dated(slip("b.csv", 10), slips[1]),
                dated(count("count.csv", 10), counted),
            ];
            let parcels = Parcels::of(&lists);
            let of_slips: Vec<u32> = (0..2).map(|at| parcels.of_list(at).first).collect();
            assert_eq!((of_slips.as_slice(), parcels.of_list(2)), expected);
            let told = parcels.order.map(|order| order.to_string());
            assert_eq!(told.unwrap_or_default(), said);
        }
        let of = |first, last| Scope { first, last };
        case(
            ["17/2/2026", "3/2/2026"],
            "4/2/2026",
            (&[2, 1], of(1, 1)),
            "dates are read day first, since 17/2/2026 can be no other",
        );
        case(
            ["2/17/2026", "2/3/2026"],
            "2/4/2026",
            (&[2, 1], of(1, 1)),
            "dates are read month first, since 2/17/2026 can be no other",
        );
        // February or not, the second is the earlier; the count is after it by one way alone.
        case(
            ["5/4/2026", "3/2/2026"],
            "6/5/2026",
            (&[2, 1], of(1, 2)),
            "",
        );
        case(
            ["5/4/2026", "3/2/2026"],
            "2/5/2026",
            (&[2, 1], Scope::ALL),
            "",
        );
        case(
            ["3/4/2026", "4/2/2026"],
            "2026-05-01",
            (&[1, 2], Scope::ALL),
            "nobody can say by their dates in which order the parcels came (a.csv: 3/4/2026; b.csv: 4/2/2026), \
             and they are taken as given: write their dates as 2026-04-14, in their titles or in the job file",
        );
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
