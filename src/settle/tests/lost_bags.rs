//! Bags that did not arrive, on lists that say more or less of who holds what.

use pretty_assertions::assert_eq;

use super::*;

const LONG: &str = "bolt hex 1/2 6";
const SHORT: &str = "bolt hex 1/2 3";
const WASHER: &str = "washer uss 1/2";

/// Bag A holds the short bolts, bag B the long ones, and both hold washers.
fn required() -> List {
    ListOf::required()
        .line(SHORT, 8, &bag("A"))
        .line(WASHER, 16, &bag("A"))
        .line(LONG, 6, &bag("B"))
        .line(WASHER, 12, &bag("B"))
        .list()
}

fn slip() -> ListOf {
    ListOf::shipped()
        .line(SHORT, 8, &plain)
        .line(LONG, 6, &plain)
        .line(WASHER, 28, &plain)
}

/// Bag A, with so many washers.
fn bag_a(washers: u64) -> ListOf {
    ListOf::counted()
        .line(SHORT, 8, &bag("A"))
        .line(WASHER, washers, &bag("A"))
}

fn not_received(list: ListOf, name: &str) -> ListOf {
    list.other(&|line, placement| {
        line.what = What::Bag {
            received: Some(false),
        };
        placement.bag = Some(name.into());
    })
}

/// Item by item as [`case`]; what is claimed, by cause; what is said of the bags.
#[track_caller]
fn lost(lists: &[List], expected: &[&str], claimed: &[(&str, u64)], bags: &[&str]) -> Account {
    let account = case(&job(), lists, expected);
    let claim = Claim::of(&job(), lists, &account);
    let lines = claim.claimed.iter();
    let lines: Vec<_> = lines
        .map(|line| (line.cause.to_string(), line.pieces))
        .collect();
    let wanted: Vec<_> = claimed
        .iter()
        .map(|(cause, pieces)| (cause.to_string(), *pieces))
        .collect();
    assert_eq!(lines, wanted);
    let found = account.findings.iter().map(|of| of.note.as_str());
    assert_eq!(found.collect::<Vec<_>>(), bags);
    account
}

#[test]
fn what_a_lost_bag_shares_with_a_counted_one_is_short() {
    let whole = ["Bag B was not received: 18 pieces of 2 items."];
    let items = [
        "1/2-13 x 3 hex bolt: 8/8",
        "1/2 USS flat washer: 16/28, box not received 12",
        "1/2-13 x 6 hex bolt: 0/6, box not received 6",
    ];
    let claimed = [("bag not received", 12), ("bag not received", 6)];
    // A count sheet has a row for what is in the lost bag, too: it stays blank.
    let sheet = bag_a(16)
        .line(LONG, None, &bag("B"))
        .line(WASHER, None, &bag("B"));
    for count in [bag_a(16), sheet] {
        let count = not_received(count, "B").list();
        let lists = [required(), slip().list(), count];
        lost(&lists, &items, &claimed, &whole);
    }
    // What the counted bag lacks beside is lacking in the box.
    let lists = [
        required(),
        slip().list(),
        not_received(bag_a(14), "B").list(),
    ];
    lost(
        &lists,
        &[
            "1/2-13 x 3 hex bolt: 8/8",
            "1/2 USS flat washer: 14/28, box is short 2, box not received 12",
            "1/2-13 x 6 hex bolt: 0/6, box not received 6",
        ],
        &[
            ("missing", 2),
            ("bag not received", 12),
            ("bag not received", 6),
        ],
        &whole,
    );
    // Whoever counts all washers in one heap has counted them all.
    let heap = ListOf::counted()
        .line(SHORT, 8, &bag("A"))
        .line(WASHER, 28, &plain);
    let lists = [required(), slip().list(), not_received(heap, "B").list()];
    lost(
        &lists,
        &[
            "1/2-13 x 3 hex bolt: 8/8",
            "1/2 USS flat washer: 28/28",
            "1/2-13 x 6 hex bolt: 0/6, box not received 6",
        ],
        &[("bag not received", 6)],
        &["Bag B was not received: 6 pieces of 1 item."],
    );
}

#[test]
fn without_a_slip_a_lost_bag_is_short_by_the_list() {
    let lists = [required(), not_received(bag_a(16), "B").list()];
    let account = lost(
        &lists,
        &[
            "1/2-13 x 3 hex bolt: 8/8",
            "1/2 USS flat washer: 16/28, box not received 12",
            "1/2-13 x 6 hex bolt: 0/6, box not received 6",
        ],
        &[("bag not received", 12), ("bag not received", 6)],
        &["Bag B was not received: 18 pieces of 2 items."],
    );
    assert!(account.items.iter().all(|item| item.known));
    assert_eq!(account.verdict, Verdict::No);
}

/// A later parcel lists the bag, and nobody knows whether that was looked at.
#[test]
fn a_bag_that_came_later_may_be_there() {
    let in_bags = |file: &str| {
        ListOf::new(Role::Shipped, file)
            .line(LONG, 6, &bag("B"))
            .line(WASHER, 12, &bag("B"))
    };
    let first = in_bags("1.csv")
        .line(SHORT, 8, &bag("A"))
        .line(WASHER, 16, &bag("A"));
    let dated = |list: ListOf, day: &str| list.edit(|list| list.date = Some(day.to_owned())).list();
    let lists = [
        required(),
        dated(first, "2026-03-02"),
        dated(in_bags("2.csv"), "2026-03-16"),
        not_received(bag_a(16), "B").list(),
    ];
    let account = lost(
        &lists,
        &[
            "1/2-13 x 3 hex bolt: 8/8",
            "1/2 USS flat washer: 16/28, count without a date 12, box not received 12",
            "1/2-13 x 6 hex bolt: 0/6, count without a date 6, box not received 6",
        ],
        &[],
        &["Bag B was not received: 18 pieces of 2 items."],
    );
    assert_eq!(account.verdict, Verdict::CannotSay);
}

#[test]
fn a_bag_that_did_not_come_and_is_counted_is_asked_about() {
    let both = bag_a(16)
        .line(LONG, 6, &bag("B"))
        .line(WASHER, 12, &bag("B"));
    let lists = [required(), slip().list(), not_received(both, "B").list()];
    let account = settle(&job(), &lists).expect("settles");
    assert_eq!(account.verdict, Verdict::CannotSay);
    let told = "Bag B was not received, by a count, and pieces are counted in it: which is true?";
    assert!(account.reasons.iter().any(|reason| reason == told));
}

/// A bag that was looked into holds as many of another length as it should of one that nobody counted: these are not there.
#[test]
fn another_length_in_the_bag_of_one() {
    let settled = |in_bag: &'static str, found: &str, pieces: u64| {
        let due = |list: ListOf| {
            list.line("bolt hex 1/2 3-1/2", 16, &bag("1"))
                .line("nut hex 1/2", 16, &bag("1"))
                .line("part - arm, right", 2, &bag("1"))
                .list()
        };
        let counted = ListOf::counted().line("nut hex 1/2", 16, &bag("1"));
        let counted = match in_bag {
            "" => counted.line(found, pieces, &plain),
            name => counted.line(found, pieces, &bag(name)),
        };
        let lists = [
            due(ListOf::required()),
            due(ListOf::shipped()),
            counted.list(),
        ];
        let account = settle(&job(), &lists).expect("settles");
        let short = account.items.iter().filter(|item| item.sums.short > 0);
        let short: Vec<String> = short
            .map(|item| format!("{} {}", item.text, item.sums.short))
            .collect();
        short.join(", ")
    };
    let short = "1/2-13 x 3-1/2 hex bolt 16";
    assert_eq!(settled("1", "bolt hex 1/2 3", 16), short);
    assert_eq!(settled("1", "1/2 3", 16), short);
    assert_eq!(settled("1", "part - arm, left", 2), "arm, right 2");
    // Another number, another bag, none, another diameter and another kind tell nothing.
    for (bag, found, pieces) in [
        ("1", "bolt hex 1/2 3", 15),
        ("2", "bolt hex 1/2 3", 16),
        ("", "bolt hex 1/2 3", 16),
        ("1", "bolt hex 3/8 3", 16),
        ("1", "bolt carriage 1/2 3", 16),
        ("1", "part - leg, left", 2),
    ] {
        assert_eq!(settled(bag, found, pieces), "", "{bag} {found} {pieces}");
    }
}
