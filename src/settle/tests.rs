//! Whole jobs, small enough to be settled by hand.

use std::collections::BTreeMap;

use pretty_assertions::assert_eq;
use proptest::prelude::*;

use super::{
    claim::Cause,
    options,
    sample::{ListOf, bag, item, plain, stage, used},
    *,
};
use crate::{
    hardware::Kind,
    kit::{
        Aside, Line, NumberRow, OptionRule, Placement, SubstituteRule, Usage, What, job::SpareRule,
    },
    notation::{Notation, describe},
};

mod again;
mod in_doubt;
mod left_open;
mod lost_bags;
mod other_bags;
mod spares;

fn job() -> Job {
    Job::default()
}

#[track_caller]
fn settled(job: &Job, lists: &[List]) -> Account {
    let account = settle(job, lists).expect("a sound job");
    sums_hold(&account);
    account
}

/// Both sums of pieces, over items, stages and the whole.
#[track_caller]
fn sums_hold(account: &Account) {
    let mut all = Totals::default();
    let mut stages = vec![Share::default(); account.stages.len()];
    for item in &account.items {
        let t = &item.sums;
        assert_eq!(
            t.required,
            t.covered + t.substituted + t.from_stock + t.short,
            "{}",
            item.text
        );
        assert_eq!(
            t.pool + t.returned,
            t.used + t.used_as_substitute + t.discarded + t.extra,
            "{}",
            item.text
        );
        assert!(t.spares_covered <= t.spares.min(t.extra), "{}", item.text);
        assert_eq!(
            t.required,
            item.shares.iter().map(|s| s.required).sum::<u64>()
        );
        assert_eq!(
            t.covered,
            item.shares.iter().map(|s| s.covered).sum::<u64>()
        );
        for share in &item.shares {
            assert_eq!(
                share.required,
                share.covered + share.substituted + share.from_stock + share.short
            );
            stages[share.stage].required += share.required;
            stages[share.stage].covered += share.covered;
        }
        all.add(t);
    }
    assert_eq!(all, account.totals);
    for (stage, sums) in account.stages.iter().zip(stages) {
        assert_eq!(
            (stage.required, stage.covered),
            (sums.required, sums.covered)
        );
        assert_eq!(
            stage.required,
            stage.covered + stage.substituted + stage.from_stock + stage.short
        );
    }
}

/// One line an item: its text, covered of required, what is over, and its findings.
fn said(account: &Account) -> Vec<String> {
    let items = account.items.iter();
    items
        .map(|item| {
            let sums = &item.sums;
            let mut line = format!("{}: {}/{}", item.text, sums.covered, sums.required);
            if sums.extra > 0 {
                line += &format!(" +{}", sums.extra);
            }
            for finding in &item.findings {
                line += &format!(", {} {}", finding.finding, finding.pieces);
            }
            line
        })
        .collect()
}

#[track_caller]
fn case(job: &Job, lists: &[List], expected: &[&str]) -> Account {
    let account = settled(job, lists);
    assert_eq!(said(&account), expected);
    account
}

#[track_caller]
fn refused(job: &Job, lists: &[List], expected: &str) {
    let error = settle(job, lists).expect_err("must be refused").to_string();
    assert_eq!(error, expected);
}

fn damaged(bag: &str, pieces: u64) -> impl Fn(&mut Line, &mut Placement) {
    let bag: Box<str> = bag.into();
    move |line, placement| {
        line.more_mut().damaged = pieces;
        placement.bag = Some(bag.clone());
    }
}

#[test]
fn stage_order_shows_how_far_the_crew_gets() {
    let required = ListOf::required()
        .line("bolt hex 1/2 3", 4, &stage("Shoes"))
        .line("bolt hex 1/2 3", 6, &stage("Girders"))
        .line("bolt hex 1/2 3", 2, &stage("Deck"))
        .line("nut hex 1/2", 2, &stage("Deck"));
    let lists = [
        required.list(),
        ListOf::shipped()
            .line("bolt hex 1/2-13 3", 7, &plain)
            .line("nut hex 1/2", 2, &plain)
            .list(),
    ];
    let account = case(
        &job(),
        &lists,
        &[
            "1/2-13 x 3 hex bolt: 7/12, slip is short 5",
            "1/2-13 hex nut: 2/2",
        ],
    );
    let stages: Vec<_> = account
        .stages
        .iter()
        .map(|s| (s.covered, s.short, s.ready))
        .collect();
    assert_eq!(
        stages,
        [
            (4, 0, Verdict::CannotSay),
            (3, 3, Verdict::No),
            (2, 2, Verdict::No)
        ]
    );
    assert_eq!((account.verdict, account.stops_at), (Verdict::No, Some(1)));
    // The job's own order goes before that of first naming.
    let order = ["Deck", "shoes", "Girders"].map(str::to_owned).to_vec();
    let account = settled(
        &Job {
            stages: order,
            ..job()
        },
        &lists,
    );
    let covered: Vec<_> = account
        .stages
        .iter()
        .map(|s| (s.name.as_str(), s.covered))
        .collect();
    assert_eq!(covered, [("Deck", 4), ("Shoes", 4), ("Girders", 1)]);
}

#[test]
fn counts_replace_the_slip_bag_by_bag() {
    let required =
        ListOf::required()
            .line("nut hex 1/2", 20, &bag("A"))
            .line("nut hex 1/2", 20, &bag("B"));
    let slip =
        ListOf::shipped()
            .line("nut hex 1/2", 20, &bag("A"))
            .line("nut hex 1/2", 20, &bag("B"));
    let lists = |count: ListOf| [required_list(&required), required_list(&slip), count.list()];
    // Bag A was counted, bag B was not: the slip is believed for B alone.
    let account = case(
        &job(),
        &lists(ListOf::counted().line("nut hex 1/2", 15, &damaged("Bag A", 2))),
        &["1/2-13 hex nut: 35/40, box is short 3, damaged 2"],
    );
    assert_eq!(account.items[0].counted, Some(15));
    assert_eq!(account.verdict, Verdict::No);
    // A count without a bag speaks for all bags.
    case(
        &job(),
        &lists(ListOf::counted().line("nut hex 1/2", 15, &plain)),
        &["1/2-13 hex nut: 15/40, box is short 25"],
    );
    // A blank is not counted, which is not zero.
    let account = case(
        &job(),
        &lists(ListOf::counted().line("nut hex 1/2", None, &plain)),
        &["1/2-13 hex nut: 40/40"],
    );
    assert_eq!(account.items[0].counted, None);
    assert_eq!(account.verdict, Verdict::CannotSay);
    assert_eq!(
        account.stages[0].reasons,
        ["1 item is not counted: ready if the slip is true"]
    );
    // All counted and all there.
    let both =
        ListOf::counted()
            .line("nut hex 1/2", 20, &bag("A"))
            .line("nut hex 1/2", 20, &bag("B"));
    let account = case(&job(), &lists(both), &["1/2-13 hex nut: 40/40"]);
    assert_eq!((account.verdict, account.reasons), (Verdict::Yes, vec![]));
    // Two counts of one bag do not add.
    let twice = ListOf::counted()
        .line("nut hex 1/2", 20, &bag("A"))
        .line("nut hex 1/2", 12, &bag("A"))
        .line("nut hex 1/2", 20, &bag("B"));
    let account = case(
        &job(),
        &lists(twice),
        &["1/2-13 hex nut: 32/40, counted twice 32"],
    );
    assert_eq!(account.verdict, Verdict::CannotSay);
}

#[test]
fn stock_fills_what_the_kit_lacks() {
    let required = ListOf::required()
        .line("bolt hex 1/2 3", 4, &stage("Shoes"))
        .line("bolt hex 1/2 3", 6, &stage("Girders"))
        .line("nut hex 1/2", 8, &stage("Girders"))
        .list();
    let slip = ListOf::shipped()
        .line("bolt hex 1/2 3", 10, &plain)
        .line("nut hex 1/2", 8, &plain)
        .list();
    let counted = ListOf::counted()
        .line("bolt hex 1/2 3", 5, &plain)
        .line("nut hex 1/2", 5, &plain)
        .list();
    let bin = |name: &'static str| move |_: &mut Line, p: &mut Placement| p.bin = Some(name.into());
    // Two bins of the bolt, which is more than enough; 1 nut, in packs of 10; the rest is not asked for.
    let stock = ListOf::stock()
        .line("bolt hex 1/2 3", 3, &bin("B7"))
        .line("nut hex 1/2", 1, &|line, _| {
            line.more_mut().pack_size = Some(10)
        })
        .line("bolt hex 1/2-13 3", 4, &bin("B9"))
        .line("bolt hex 3/4 3", 90, &bin("C1"))
        .list();
    let lists = [required, slip, counted, stock];
    let account = settled(&job(), &lists);
    let sums = |at: usize| {
        let sums = &account.items[at].sums;
        (
            sums.required,
            sums.covered,
            sums.from_stock,
            sums.short,
            sums.extra,
        )
    };
    assert_eq!(account.items.len(), 2);
    assert_eq!(sums(0), (10, 5, 5, 0, 0));
    assert_eq!(sums(1), (8, 5, 1, 2, 0));
    // The earliest stage gets the kit's own.
    let shares: Vec<_> = account.items[0]
        .shares
        .iter()
        .map(|s| (s.covered, s.from_stock))
        .collect();
    assert_eq!(shares, [(4, 0), (1, 5)]);
    assert_eq!((account.verdict, account.stops_at), (Verdict::No, Some(1)));
    let put_back = account.put_back.as_ref().expect("a stock list was given");
    let lent: Vec<_> = put_back
        .iter()
        .map(|lent| {
            (
                lent.text.as_str(),
                lent.pieces,
                lent.bins.join(","),
                lent.stages.clone(),
            )
        })
        .collect();
    assert_eq!(
        lent,
        [
            ("1/2-13 x 3 hex bolt", 5, "B7,B9".to_owned(), vec![(1, 5)]),
            ("1/2-13 hex nut", 1, String::new(), vec![(1, 1)])
        ]
    );
    assert_eq!(
        account.to_buy,
        [Buy {
            item: 1,
            short: 2,
            spares: 0,
            pack: Some(10)
        }]
    );
    assert_eq!(account.to_buy[0].packs(), Some(1));
    // What the stock fills is still claimed.
    let claim = Claim::of(&job(), &lists, &account);
    let claimed: Vec<_> = claim
        .claimed
        .iter()
        .map(|line| (line.item, line.pieces))
        .collect();
    assert_eq!(claimed, [(0, 5), (1, 3)]);
}

#[test]
fn stock_fills_nothing_that_nobody_looked_for() {
    let required = ListOf::required().line("nut hex 1/2", 8, &plain).list();
    let counted = ListOf::counted().line("nut hex 1/2", None, &plain).list();
    let stock = ListOf::stock().line("nut hex 1/2", 5, &plain).list();
    let account = settled(&job(), &[required.clone(), counted, stock.clone()]);
    assert_eq!(
        (account.totals.from_stock, account.verdict),
        (0, Verdict::CannotSay)
    );
    assert_eq!(account.to_buy, []);
    // A kit of which there is nothing yet is packed from stock.
    let account = settled(&job(), &[required, stock]);
    assert_eq!((account.totals.from_stock, account.totals.short), (5, 3));
    assert_eq!(account.verdict, Verdict::No);
    assert_eq!(account.to_buy.len(), 1);
}

#[test]
fn spares_come_from_the_kit_alone() {
    let lists = [
        ListOf::required().line("nut hex 1/2", 10, &plain).list(),
        ListOf::counted().line("nut hex 1/2", 10, &plain).list(),
        ListOf::stock().line("nut hex 1/2", 40, &plain).list(),
    ];
    let job = Job {
        spares: vec![SpareRule {
            kind: None,
            up_to: None,
            percent: 20,
            least: 0,
        }],
        ..job()
    };
    let account = settled(&job, &lists);
    assert_eq!(
        (account.totals.from_stock, account.totals.spares_covered),
        (0, 0)
    );
    assert_eq!((account.to_buy[0].short, account.to_buy[0].spares), (0, 2));
}

#[test]
fn a_shops_own_numbers_teach_nothing() {
    let lists = [
        ListOf::required()
            .numbered("100", "bolt hex 1/2 3", 4, &plain)
            .list(),
        ListOf::counted().line("part 100 -", 4, &plain).list(),
        ListOf::stock()
            .numbered("100", "nut hex 1/2", 40, &plain)
            .list(),
    ];
    let account = settled(&job(), &lists);
    assert_eq!(account.totals.covered, 4);
    assert_eq!(account.items[0].doubts, []);
}

fn required_list(of: &ListOf) -> List {
    of.clone().list()
}

#[test]
fn half_a_count_of_bags_that_the_slip_does_not_name_settles_nothing() {
    let lists = [
        ListOf::required()
            .line("nut hex 1/2", 20, &bag("A"))
            .line("nut hex 1/2", 20, &bag("B"))
            .list(),
        ListOf::shipped().line("nut hex 1/2", 40, &plain).list(),
        ListOf::counted()
            .line("nut hex 1/2", 20, &bag("A"))
            .line("nut hex 1/2", None, &bag("B"))
            .list(),
    ];
    let account = case(&job(), &lists, &["1/2-13 hex nut: 20/40"]);
    assert_eq!(
        (account.verdict, account.stops_at),
        (Verdict::CannotSay, None)
    );
    assert_eq!(
        account.stages[0].reasons,
        ["1 item is not counted in full, and no slip says how many are in which bag"]
    );
}

#[test]
fn a_missing_bag_that_the_slip_does_not_name() {
    let missing = |line: &mut Line, placement: &mut Placement| {
        line.what = What::Bag {
            received: Some(false),
        };
        placement.bag = Some("B".into());
    };
    let lists = [
        ListOf::required()
            .line("nut hex 1/2", 12, &bag("A"))
            .line("nut hex 1/2", 20, &bag("B"))
            .list(),
        ListOf::shipped().line("nut hex 1/2", 32, &plain).list(),
        ListOf::counted().other(&missing).list(),
    ];
    let account = case(
        &job(),
        &lists,
        &["1/2-13 hex nut: 12/32, box not received 20"],
    );
    assert_eq!(
        account.findings[0].note,
        "Bag B was not received: 20 pieces of 1 item."
    );
    assert_eq!((account.totals.shipped, account.totals.pool), (32, 12));
}

#[test]
fn a_counted_bag_that_the_slip_does_not_name() {
    let lists = [
        ListOf::required().line("nut hex 1/2", 20, &bag("A")).list(),
        ListOf::shipped().line("nut hex 1/2", 20, &plain).list(),
        ListOf::counted().line("nut hex 1/2", 18, &bag("A")).list(),
    ];
    case(&job(), &lists, &["1/2-13 hex nut: 18/20, box is short 2"]);
}

#[test]
fn damage_known_without_a_count() {
    let lists = [
        ListOf::required().line("nut hex 1/2", 20, &bag("A")).list(),
        ListOf::shipped().line("nut hex 1/2", 20, &bag("A")).list(),
        ListOf::counted()
            .line("nut hex 1/2", None, &damaged("A", 3))
            .list(),
    ];
    let account = case(&job(), &lists, &["1/2-13 hex nut: 17/20, damaged 3"]);
    assert_eq!(account.items[0].counted, None);
}

#[test]
fn a_bag_that_did_not_arrive_is_one_finding() {
    let missing = |line: &mut Line, placement: &mut Placement| {
        line.what = What::Bag {
            received: Some(false),
        };
        placement.bag = Some("H".into());
    };
    let lists = [
        ListOf::required()
            .line("nut hex 1/2", 20, &bag("H"))
            .line("bolt hex 1/2 3", 10, &bag("H"))
            .line("bolt hex 1/2 3", 10, &bag("A"))
            .list(),
        ListOf::shipped()
            .line("nut hex 1/2", 20, &bag("H"))
            .line("bolt hex 1/2 3", 10, &bag("Bag H"))
            .line("bolt hex 1/2 3", 10, &bag("A"))
            .list(),
        ListOf::counted()
            .line("bolt hex 1/2 3", 10, &bag("A"))
            .other(&missing)
            .list(),
    ];
    let account = case(
        &job(),
        &lists,
        &[
            "1/2-13 hex nut: 0/20, box not received 20",
            "1/2-13 x 3 hex bolt: 10/20, box not received 10",
        ],
    );
    assert_eq!(
        account.items[0].findings[0].note,
        "Bag H was not received: it was to hold 20 pieces."
    );
    assert_eq!(
        account.findings,
        [Finding {
            finding: FindingKind::BoxNotReceived,
            pieces: 30,
            note: "Bag H was not received: 30 pieces of 2 items.".to_owned(),
            evidence: vec![
                Evidence {
                    list: 0,
                    sheet: 0,
                    rows: [(2, 3)].into()
                },
                Evidence {
                    list: 1,
                    sheet: 0,
                    rows: [(2, 3)].into()
                },
            ]
            .into(),
        }]
    );
    // Without a slip, what the parts list puts in the bag is what is missing.
    let account = settled(&job(), &[lists[0].clone(), lists[2].clone()]);
    assert_eq!(account.findings[0].pieces, 30);
}

#[test]
fn a_slip_that_lists_bags_is_opened() {
    let sent = |line: &mut Line, placement: &mut Placement| {
        line.quantity = Some(2);
        placement.bag = Some("hardware bag 3".into());
    };
    let lists = [
        ListOf::required()
            .line("nut hex 1/2", 10, &bag("3"))
            .line("bolt hex 1/2 3", 5, &bag("4"))
            .list(),
        ListOf::shipped().other(&sent).list(),
    ];
    let kits = Job { kits: 2, ..job() };
    case(
        &kits,
        &lists,
        &[
            "1/2-13 hex nut: 20/20",
            "1/2-13 x 3 hex bolt: 0/10, slip is short 10",
        ],
    );
    // A bag that the slip lists piece by piece is not opened besides.
    let itemised = ListOf::shipped()
        .other(&sent)
        .line("nut hex 1/2", 8, &bag("3"))
        .list();
    case(
        &job(),
        &[lists[0].clone(), itemised],
        &[
            "1/2-13 hex nut: 8/10, slip is short 2",
            "1/2-13 x 3 hex bolt: 0/5, slip is short 5",
        ],
    );
    let unknown = ListOf::shipped()
        .other(&|line, placement| {
            line.quantity = Some(1);
            placement.bag = Some("9".into());
        })
        .line("nut hex 1/2", 10, &plain)
        .line("bolt hex 1/2 3", 5, &plain)
        .list();
    let account = settled(&job(), &[lists[0].clone(), unknown]);
    assert_eq!(account.verdict, Verdict::CannotSay);
    assert!(
        account
            .reasons
            .contains(&"slip.csv, line 2: no required list says what is in this bag".to_owned()),
        "{:?}",
        account.reasons
    );
}

#[test]
fn wrong_sizes_are_paired_and_stay_short() {
    let lists = [
        ListOf::required()
            .line("bolt hex 5/8 5-1/2 g5", 24, &plain)
            .line("bolt hex 5/8 5 g5", 12, &plain)
            .list(),
        ListOf::shipped()
            .line("bolt hex 5/8 5-1/2 g5", 24, &plain)
            .line("bolt hex 5/8 5 g5", 12, &plain)
            .list(),
        ListOf::counted()
            .line("bolt hex 5/8 5-1/2 g5", 16, &plain)
            .line("bolt hex 5/8 5 g5", 20, &plain)
            .list(),
    ];
    let account = case(
        &job(),
        &lists,
        &[
            "5/8-11 x 5-1/2 hex bolt, Grade 5: 16/24, box is short 8, wrong size packed 8",
            "5/8-11 x 5 hex bolt, Grade 5: 12/12 +8, extra 8",
        ],
    );
    assert_eq!(
        account.items[0].findings[1].note,
        "Perhaps packed in its place: 8 pieces of 5/8-11 x 5 hex bolt, Grade 5."
    );
    // A bolt whose head the slip does not state may be the one asked for; a carriage bolt is not.
    let required = ListOf::required().line("bolt hex 5/8 5", 16, &plain).list();
    for (packed, found) in [
        ("bolt 5/8 6", "slip is short 16, wrong size packed 16"),
        ("bolt carriage 5/8 6", "slip is short 16"),
    ] {
        let slip = ListOf::shipped().line(packed, 16, &plain).list();
        let account = settled(&job(), &[required.clone(), slip]);
        let words: Vec<String> = (account.items[0].findings.iter())
            .map(|of| format!("{} {}", of.finding, of.pieces))
            .collect();
        assert_eq!(words.join(", "), found);
    }
    // Metric in place of inch, and the other way round, of lengths that are nearly one.
    for (asked, packed, note) in [
        (
            "1/4 x 3/4 hex bolt",
            "M6 x 20 hex bolt",
            Some("which are metric"),
        ),
        (
            "M8 x 50 hex bolt",
            "5/16 x 2 hex bolt",
            Some("which are in inches"),
        ),
        ("1/2 hex nut", "M12 hex nut", Some("which are metric")),
        ("1/4 x 3/4 hex bolt", "M6 x 30 hex bolt", None),
        ("1/4 x 3/4 hex bolt", "M8 x 20 hex bolt", None),
        ("1/2 hex nut", "M12 nylon insert lock nut", None),
    ] {
        let of = |list: ListOf, text: &str| {
            let read = describe(text, Notation::default()).expect("an item");
            let [callout] = read.try_into().expect("one");
            let put = |list: &mut List| list.readings[0].item = callout.item;
            list.line("bolt", 16, &plain).edit(put).list()
        };
        let lists = [of(ListOf::required(), asked), of(ListOf::shipped(), packed)];
        let account = settled(&job(), &lists);
        let mut findings = account.items[0].findings.iter();
        let wrong = findings.find(|of| of.finding == FindingKind::WrongSize);
        let told = note.is_none_or(|note| wrong.is_some_and(|of| of.note.contains(note)));
        assert!(
            told && wrong.is_some() == note.is_some(),
            "{asked} / {packed}: {wrong:?}"
        );
    }
    // Most pieces first, then the least difference: 3 over pairs with 3-1/4 and 2-1/2 over with 2.
    let lists = [
        ListOf::required()
            .line("bolt hex 1/2 2", 1, &plain)
            .line("bolt hex 1/2 3-1/4", 1, &plain)
            .list(),
        ListOf::shipped()
            .line("bolt hex 1/2 3", 1, &plain)
            .line("bolt hex 1/2 2-1/2", 1, &plain)
            .list(),
    ];
    let account = settled(&job(), &lists);
    let notes: Vec<_> = account.items[..2]
        .iter()
        .map(|i| i.findings[1].note.as_str())
        .collect();
    assert!(
        notes[0].ends_with("1 piece of 1/2-13 x 2-1/2 hex bolt."),
        "{notes:?}"
    );
    assert!(
        notes[1].ends_with("1 piece of 1/2-13 x 3 hex bolt."),
        "{notes:?}"
    );
}

/// 8 wanted of one, and pieces of another found: what is said of the one that is short.
#[track_caller]
fn packed_instead(asked: &str, found: &str, [good, bent, others]: [u64; 3], expected: &str) {
    let lists = [
        ListOf::required().line(asked, 8, &plain).list(),
        ListOf::shipped().line(asked, 8, &plain).list(),
        ListOf::counted()
            .line(asked, good, &|line, _| line.more_mut().damaged = bent)
            .line(found, others, &plain)
            .list(),
    ];
    let account = settled(&job(), &lists);
    let findings = account.items[0].findings.iter();
    let wrong = findings.filter(|of| of.finding != FindingKind::Offered);
    let said: Vec<String> = wrong
        .map(|of| format!("{} {}", of.finding, of.pieces))
        .collect();
    assert_eq!(said.join(", "), expected, "{asked} / {found}");
}

#[test]
fn a_piece_may_be_wrong_in_size_grade_or_finish() {
    let size = "box is short 4, wrong size packed 4";
    let grade = "box is short 4, wrong grade packed 4";
    let finish = "box is short 4, wrong finish packed 4";
    let case = |asked: &str, found: &str, expected: &str| {
        packed_instead(
            &format!("bolt hex 1/2 {asked}"),
            &format!("bolt hex 1/2 {found}"),
            [4, 0, 4],
            expected,
        );
    };
    case("3", "3-1/2", size);
    case("3 hdg", "3-1/2 zp", size);
    case("3 hdg", "3 zp", finish);
    case("3 18-8", "3 zp", finish);
    case("3 g5", "3 g8", grade);
    case("3 g5 hdg", "3 g8 zp", grade);
    case("3 full", "3 partly", size);
}

/// What is damaged is explained; only what is lacking beside may be another length's.
#[test]
fn damaged_pieces_are_in_no_wrong_size() {
    let case = |good, bent, others, expected: &str| {
        packed_instead(
            "bolt hex 1/2 3",
            "bolt hex 1/2 2-1/2",
            [good, bent, others],
            expected,
        );
    };
    case(7, 1, 2, "damaged 1");
    case(6, 1, 2, "box is short 1, damaged 1, wrong size packed 1");
    case(6, 0, 2, "box is short 2, wrong size packed 2");
}

#[test]
fn what_a_slip_alone_covers_is_told() {
    let lists = [
        ListOf::required()
            .line("nut hex 1/2", 8, &stage("one"))
            .line("nut hex 1/2", 8, &stage("two"))
            .line("bolt hex 1/2 3", 8, &stage("two"))
            .list(),
        ListOf::shipped()
            .line("nut hex 1/2", 10, &bag("A"))
            .line("nut hex 1/2", 6, &bag("B"))
            .line("bolt hex 1/2 3", 8, &bag("B"))
            .list(),
        ListOf::counted().line("nut hex 1/2", 10, &bag("A")).list(),
    ];
    let by_slip = |job: &Job| {
        let account = settled(job, &lists);
        let shares = account.items.iter().flat_map(|item| &item.shares);
        shares.map(|share| share.by_slip).collect::<Vec<u64>>()
    };
    assert_eq!(by_slip(&job()), [0, 6, 8]);
    let built = Job {
        built_through: Some("two".into()),
        ..job()
    };
    assert_eq!(by_slip(&built), [0, 0, 0]);
}

#[test]
fn one_piece_stops_the_job() {
    let case = |pieces, expected: &str| {
        let lists = [
            ListOf::required().line("nut hex 1/2", 8, &plain).list(),
            ListOf::counted().line("nut hex 1/2", pieces, &plain).list(),
        ];
        assert_eq!(settled(&job(), &lists).reasons[0], expected);
    };
    case(7, "1 piece of 1 item short stops the job");
    case(6, "2 pieces of 1 item short stop the job");
}

#[test]
fn each_stage_has_its_own_bags() {
    let at = |stage: &'static str, bag: Option<&'static str>| {
        move |_: &mut Line, placement: &mut Placement| {
            placement.stage = Some(stage.into());
            placement.bag = bag.map(Into::into);
        }
    };
    let in_box = |_: &mut Line, placement: &mut Placement| placement.carton = Some("2".into());
    let lists = [
        ListOf::required()
            .line("nut hex 1/2", 8, &at("1", Some("A")))
            .line("nut hex 1/2", 4, &at("2", Some("B")))
            .line("nut hex 1/2", 2, &at("3", None))
            .list(),
        ListOf::shipped().line("nut hex 1/2", 14, &in_box).list(),
    ];
    let account = settled(&job(), &lists);
    let item = &account.items[0];
    assert_eq!(item.bags_for(0), ["A", "Box 2"]);
    assert_eq!(item.bags_for(1), ["B", "Box 2"]);
    // No bag is named for it: it may come out of any.
    assert_eq!(item.bags_for(2), ["A", "B", "Box 2"]);
}

#[test]
fn a_box_is_named_with_its_word() {
    let in_box = |line: &mut Line, placement: &mut Placement| {
        placement.carton = Some("2".into());
        if matches!(line.what, What::Bag { .. }) {
            line.what = What::Bag {
                received: Some(false),
            };
        }
    };
    let lists = [
        ListOf::required().line("nut hex 1/2", 8, &plain).list(),
        ListOf::shipped().line("nut hex 1/2", 8, &in_box).list(),
        ListOf::counted().other(&in_box).list(),
    ];
    let account = settled(&job(), &lists);
    let item = &account.items[0];
    assert_eq!(item.bags, ["Box 2".into()]);
    assert_eq!(item.not_received[0].bag, "Box 2");
    assert_eq!(
        item.findings[0].note,
        "Box 2 was not received: it was to hold 8 pieces."
    );
}

#[test]
fn not_on_the_slip_and_not_on_the_list() {
    let back = |line: &mut Line, _: &mut Placement| line.more_mut().back_ordered = 24;
    let lists = [
        ListOf::required()
            .line("washer uss 1/4", 40, &plain)
            .line("nut nylon 3/8", 48, &plain)
            .list(),
        ListOf::shipped()
            .line("nut nylon 3/8", 24, &back)
            .line("bolt hex 3/8 3-1/2", 12, &plain)
            .list(),
        ListOf::counted()
            .line("washer uss 1/4", 40, &plain)
            .line("nut nylon 3/8", 24, &plain)
            .list(),
    ];
    case(
        &job(),
        &lists,
        &[
            "1/4 USS flat washer: 40/40, slip is short 40, not on the slip 40",
            "3/8-16 nylon-insert lock nut: 24/48, slip is short 24, back-ordered 24",
            "3/8-16 x 3-1/2 hex bolt: 0/0 +12, not on the list 12, extra 12",
        ],
    );
}

#[test]
fn uses_of_lines() {
    let lists = [
        ListOf::required()
            .line("bolt hex 1/2 3", 4, &stage("one"))
            .line("bolt hex 1/2 3", 4, &used("two", Usage::CarriedOver))
            .line("bolt hex 1/2 3", 3, &used("two", Usage::Returned))
            .line("bolt hex 1/2 3", 1, &used("two", Usage::Discarded))
            .line("bolt hex 1/2 3", 2, &stage("two"))
            .line("bolt hex 1/2 3", 5, &stage("three"))
            .line(
                "part - thread lubricant",
                None,
                &used("one", Usage::Consumable),
            )
            .line("part - drill bit", 2, &used("one", Usage::NotInKit))
            .line("nut hex 1/2", 8, &used("one", Usage::ComesFitted))
            .list(),
        ListOf::counted().line("bolt hex 1/2 3", 7, &plain).list(),
    ];
    // Three of the four come back, too late for stage two: 4 and 2 of 7 are used, 1 and 3 are left.
    let account = case(
        &job(),
        &lists,
        &[
            "1/2-13 x 3 hex bolt: 10/11",
            "thread lubricant: 0/0",
            "drill bit: 0/0",
            "1/2-13 hex nut: 0/0",
        ],
    );
    let sums = account.items[0].sums;
    assert_eq!((sums.returned, sums.discarded, sums.used), (3, 1, 9));
    assert_eq!(account.items[2].to_bring, 2);
    let no_demand: Vec<_> = account.no_demand.iter().map(|at| at.line).collect();
    assert_eq!(no_demand, [1, 6, 7, 8]);
    // Pieces that come fitted are due once somebody has counted them.
    let count = ListOf::counted()
        .line("bolt hex 1/2 3", 7, &plain)
        .line("nut hex 1/2", 6, &plain)
        .list();
    let account = settled(&job(), &[lists[0].clone(), count]);
    assert_eq!(said(&account)[3], "1/2-13 hex nut: 6/8");
    assert_eq!(account.stops_at, Some(0));
}

#[test]
fn returned_pieces_are_there_from_the_next_stage_only() {
    let lists = [
        ListOf::required()
            .line("bolt hex 1/2 3", 4, &stage("one"))
            .line("bolt hex 1/2 3", 4, &used("two", Usage::Returned))
            .line("bolt hex 1/2 3", 4, &stage("two"))
            .line("bolt hex 1/2 3", 4, &stage("three"))
            .list(),
        ListOf::counted().line("bolt hex 1/2 3", 4, &plain).list(),
    ];
    let account = settled(&job(), &lists);
    let covered: Vec<_> = account.stages.iter().map(|s| s.covered).collect();
    assert_eq!(covered, [4, 0, 4]);
}

#[test]
fn what_is_built_is_not_short() {
    let required = ListOf::required()
        .line("bolt hex 1/2 3", 8, &stage("one"))
        .line("bolt hex 1/2 3", 8, &stage("two"))
        .list();
    let slip = ListOf::shipped().line("bolt hex 1/2 3", 16, &plain).list();
    let loose = |pieces: u64| {
        ListOf::counted()
            .line("bolt hex 1/2 3", pieces, &plain)
            .list()
    };
    let built = Job {
        built_through: Some("One".to_owned()),
        ..job()
    };
    let lists = [required.clone(), slip.clone(), loose(8)];
    let account = case(&built, &lists, &["1/2-13 x 3 hex bolt: 16/16"]);
    assert_eq!(account.verdict, Verdict::Yes);
    let lists = [required.clone(), slip, loose(6)];
    let account = case(
        &built,
        &lists,
        &["1/2-13 x 3 hex bolt: 14/16, box is short 2"],
    );
    assert_eq!(account.stops_at, Some(1));
    // A short slip cannot undo what stands.
    let short = ListOf::shipped().line("bolt hex 1/2 3", 5, &plain).list();
    case(
        &built,
        &[required, short],
        &["1/2-13 x 3 hex bolt: 8/16, slip is short 11"],
    );
}

#[test]
fn options() {
    let of = |with: bool, name: &str| {
        let rule = OptionRule {
            with,
            name: name.into(),
        };
        move |_: &mut Line, placement: &mut Placement| placement.option = Some(rule.clone())
    };
    let lists = [ListOf::required()
        .line("nut hex 1/2", 1, &of(true, "handrail mesh"))
        .line("nut hex 3/8", 2, &of(false, "handrail mesh"))
        .line("nut hex 1/4", 4, &of(true, "ramp"))
        .list()];
    let with = |name: &str| Job {
        with: vec![name.to_owned()],
        ..job()
    };
    let account = settled(&with("handrail mesh"), &lists);
    assert_eq!(account.totals.required, 1);
    assert_eq!(account.not_chosen.len(), 2);
    assert_eq!(settled(&job(), &lists).totals.required, 2);
    // A title's number need not be given, where one option alone is meant.
    let numbered = [ListOf::required()
        .line("nut hex 1/2", 1, &of(true, "5 Mesh"))
        .line("nut hex 3/8", 2, &of(true, "6 ramp"))
        .line("nut hex 1/4", 4, &of(true, "7 ramp"))
        .list()];
    for (name, meant) in [
        ("mesh", "5 mesh"),
        ("6 ramp", "6 ramp"),
        ("ramp", "ramp"),
        ("5", "5 mesh"),
    ] {
        let mut job = with(name);
        options::call_as_listed(&mut job, &numbered);
        assert_eq!(job.with, [meant]);
    }
    refused(
        &with("handrail mash"),
        &lists,
        "no required list names an option \"handrail mash\"\n  what to do: write \"handrail mesh\", the nearest; the lists know: handrail mesh, ramp",
    );
    refused(
        &Job {
            without: vec!["ramp".to_owned()],
            ..with("ramp")
        },
        &lists,
        "the option \"ramp\" is both taken (with) and refused (without)\n  what to do: give it once: with, to build it, or without",
    );
}

#[test]
fn required_lists_are_not_added_up() {
    let guide = |words: &str, at: &str| {
        ListOf::new(Role::Required, "guide.txt")
            .line(words, 4, &stage(at))
            .list()
    };
    let parts = ListOf::required()
        .line("bolt hex 1/2 3 g5", 4, &stage("Deck"))
        .list();
    refused(
        &job(),
        &[parts.clone(), guide("bolt hex 1/2 3 g5", "deck")],
        "guide.txt, line 2: stage \"Deck\" asks for \"bolt hex 1/2 3 g5\" here, and for \"bolt hex 1/2 3 g5\" in parts.csv, line 2 too: two required lists over one stage and item are not added up\n  what to do: give one of the two lists; or --required-adds, where the second adds to the first; or --required-checks, to see where the two differ",
    );
    // Nor where one of them leaves something open.
    refused(
        &job(),
        &[parts.clone(), guide("bolt hex 1/2 3", "Deck")],
        "guide.txt, line 2: stage \"Deck\" asks for \"bolt hex 1/2 3\" here, and for \"bolt hex 1/2 3 g5\" in parts.csv, line 2 too: two required lists over one stage and item are not added up\n  what to do: give one of the two lists; or --required-adds, where the second adds to the first; or --required-checks, to see where the two differ",
    );
    // Nor where only one of them numbers the stage.
    refused(
        &job(),
        &[parts.clone(), guide("bolt hex 1/2 3 g5", "Stage 1: Deck")],
        "guide.txt, line 2: stage \"Deck\" asks for \"bolt hex 1/2 3 g5\" here, and for \"bolt hex 1/2 3 g5\" in parts.csv, line 2 too: two required lists over one stage and item are not added up\n  what to do: give one of the two lists; or --required-adds, where the second adds to the first; or --required-checks, to see where the two differ",
    );
    let other_stage = settled(
        &job(),
        &[parts.clone(), guide("bolt hex 1/2 3 g5", "Rails")],
    );
    assert_eq!(other_stage.totals.required, 8);
    settled(&job(), &[parts, guide("bolt hex 1/2 4 g5", "Deck")]);
}

#[test]
fn whole_kits_and_what_stops_the_next() {
    let lists = [
        ListOf::required()
            .line("bolt hex 1/2 3", 4, &stage("Deck"))
            .line("nut hex 1/2", 4, &stage("Deck"))
            .line("nut hex 1/2", 2, &stage("Rails"))
            .list(),
        ListOf::new(Role::Stock, "bins.csv")
            .line("bolt hex 1/2 3", 40, &plain)
            .line("nut hex 1/2", 23, &plain)
            .list(),
    ];
    let kits = |kits| {
        let account = settled(&Job { kits, ..job() }, &lists);
        let (whole, stops) = account.whole_kits(kits);
        let stops = stops.into_iter().map(|at| account.items[at].text.clone());
        (whole, stops.collect::<Vec<String>>())
    };
    assert_eq!(kits(3), (3, vec![]));
    assert_eq!(kits(5), (3, vec!["1/2-13 hex nut".to_owned()]));
}

#[test]
fn sums_beyond_any_kit_are_refused() {
    let lists = [ListOf::required()
        .line("nut hex 1/2", u64::MAX / 2, &plain)
        .list()];
    refused(
        &job(),
        &lists,
        "parts.csv, line 2: with this row the list comes to more than 9007199254740992 pieces\n  what to do: check the quantity, the places and the number of kits",
    );
}

#[test]
fn numbers_stand_for_items() {
    let lists = [
        ListOf::required()
            .line("bolt hex 1/2 3 g5", 8, &plain)
            .line("nut hex 1/2", 8, &plain)
            .list(),
        ListOf::shipped()
            .line("part H-500", 8, &plain)
            .line("part 4711", 6, &plain)
            .list(),
        ListOf::counted()
            .numbered("H-500", "bolt hex 1/2 3", 5, &plain)
            .numbered("004711", "nut hex 1/2", 6, &plain)
            .list(),
    ];
    let account = case(
        &job(),
        &lists,
        &[
            "1/2-13 x 3 hex bolt, Grade 5: 5/8, box is short 3",
            "1/2-13 hex nut: 6/8, slip is short 2",
        ],
    );
    let doubts: Vec<String> = account
        .items
        .iter()
        .flat_map(|item| item.doubts.iter().map(ToString::to_string))
        .collect();
    assert_eq!(
        doubts,
        ["grade not confirmed", "part number 4711 taken for 004711"]
    );
}

#[test]
fn nothing_to_settle_against() {
    let required = ListOf::required().line("nut hex 1/2", 8, &plain).list();
    let account = case(
        &job(),
        std::slice::from_ref(&required),
        &["1/2-13 hex nut: 0/8"],
    );
    assert_eq!(
        (account.verdict, account.stops_at),
        (Verdict::CannotSay, None)
    );
    assert_eq!(account.stages[0].ready, Verdict::CannotSay);
    assert_eq!(
        account.reasons,
        ["nothing to settle against: no slip and no count is given"]
    );
    // With a count alone, what nobody counted is not known to be short.
    let count = ListOf::counted().line("nut hex 1/2", None, &plain).list();
    let account = settled(&job(), &[required, count]);
    assert_eq!(
        (account.verdict, account.stops_at),
        (Verdict::CannotSay, None)
    );
    assert_eq!(
        account.reasons,
        ["some items are not counted in full, and no slip tells how many there are"]
    );
}

#[test]
fn lines_that_cannot_be_summed_leave_it_open() {
    let lists = [
        ListOf::required()
            .line("nut hex 1/2", 8, &stage("one"))
            .line("nut hex 3/8", None, &stage("one"))
            .line("nut hex 1/2", 2, &stage("two"))
            .aside("no size", &stage("two"))
            .line("nut hex 1/2", 2, &stage("three"))
            .list(),
        ListOf::counted().line("nut hex 1/2", 12, &plain).list(),
    ];
    let account = settled(&job(), &lists);
    let ready: Vec<_> = account.stages.iter().map(|stage| stage.ready).collect();
    assert_eq!(
        ready,
        [Verdict::CannotSay, Verdict::CannotSay, Verdict::Yes]
    );
    assert_eq!(
        account.reasons,
        [
            "parts.csv, line 3: no quantity that can be summed",
            "parts.csv, line 5: the line is aside, not understood",
        ]
    );
    assert_eq!(account.verdict, Verdict::CannotSay);
}

#[test]
fn totals_that_lists_do_not_come_to_leave_it_open() {
    let total = || Aside::Total {
        stated: 9,
        computed: 8,
    };
    let lists = [
        ListOf::required()
            .line("nut hex 1/2", 8, &plain)
            .aside_as(total(), &plain)
            .list(),
        ListOf::shipped()
            .line("nut hex 1/2", 8, &plain)
            .aside_as(total(), &plain)
            .list(),
    ];
    let reasons = settled(&job(), &lists).reasons;
    for reason in [
        "parts.csv, line 3: the list's own total is not what its lines come to",
        "slip.csv, line 3: the list's own total is not what its lines come to, so that pieces may be there that are not seen here",
    ] {
        assert!(reasons.iter().any(|r| r == reason), "{reason}: {reasons:?}");
    }
}

#[test]
fn spares_come_last_and_stop_nothing() {
    let rules = vec![SpareRule {
        kind: Some(Kind::Washer),
        up_to: None,
        percent: 5,
        least: 2,
    }];
    let lists = [
        ListOf::required()
            .line("washer uss 1/2", 100, &plain)
            .line("nut hex 1/2", 10, &plain)
            .list(),
        ListOf::counted()
            .line("washer uss 1/2", 103, &plain)
            .line("nut hex 1/2", 12, &plain)
            .list(),
    ];
    let account = case(
        &Job {
            spares: rules,
            ..job()
        },
        &lists,
        &[
            "1/2 USS flat washer: 100/100 +3",
            "1/2-13 hex nut: 10/10 +2, extra 2",
        ],
    );
    assert_eq!(
        (account.totals.spares, account.totals.spares_covered),
        (5, 3)
    );
    assert_eq!(account.verdict, Verdict::Yes);
}

#[test]
fn whole_kits_first() {
    let lists = [
        ListOf::required()
            .line("nut hex 1/2", 2, &stage("one"))
            .line("nut hex 1/2", 3, &stage("two"))
            .list(),
        ListOf::counted().line("nut hex 1/2", 13, &plain).list(),
    ];
    // Two kits take 10, the third its first stage and one piece; the fourth gets nothing.
    let account = settled(&Job { kits: 4, ..job() }, &lists);
    let covered: Vec<_> = account
        .stages
        .iter()
        .map(|s| (s.required, s.covered))
        .collect();
    assert_eq!(covered, [(8, 6), (12, 7)]);
}

#[test]
fn pieces_that_may_serve_two_items_are_dealt_once() {
    // The plain bolts may serve either; the Grade 5 ones only the first two lines. A first pass of
    // exact matches would still have to give way here.
    let lists = [
        ListOf::required()
            .line("bolt hex 1/2 3", 10, &stage("one"))
            .line("bolt hex 1/2 3 g5", 10, &stage("two"))
            .line("bolt hex 1/2 3 g8", 10, &stage("two"))
            .list(),
        ListOf::shipped()
            .line("bolt hex 1/2 3", 20, &plain)
            .line("bolt hex 1/2 3 g5", 10, &plain)
            .list(),
    ];
    let account = case(
        &job(),
        &lists,
        &[
            "1/2-13 x 3 hex bolt: 10/10",
            "1/2-13 x 3 hex bolt, Grade 5: 10/10",
            "1/2-13 x 3 hex bolt, Grade 8: 10/10",
        ],
    );
    assert_eq!(account.totals.short, 0);
    assert_eq!(
        account.items[2].doubts[0].to_string(),
        "grade not confirmed"
    );
}

#[test]
fn lists_of_different_revisions() {
    let list = |of: ListOf, revision: &str| {
        of.line("nut hex 1/2", 8, &plain)
            .edit(|list| list.revision = Some(revision.to_owned()))
            .list()
    };
    let required = list(ListOf::required(), "C");
    let same = [required.clone(), list(ListOf::shipped(), "c ")];
    assert_eq!(settled(&job(), &same).findings, []);
    let other = settled(&job(), &[required, list(ListOf::shipped(), "B")]);
    assert_eq!(
        other.findings[0].note,
        "The lists do not belong together: parts.csv is revision C, slip.csv is revision B."
    );
}

/// Items that state more or less of what others state, so that many may stand for one another.
const ITEMS: [&str; 12] = [
    "bolt hex 1/2 3",
    "bolt hex 1/2 3 g5",
    "bolt hex 1/2-13 3 g5 hdg",
    "bolt hex 1/2 3 18-8",
    "bolt hex 1/2 3 g8",
    "bolt hex 1/2",
    "1/2 3",
    "bolt hex 1/2 4",
    "nut 1/2",
    "nut nylon 1/2",
    "part TB-1 shoe",
    "part - shoe",
];
/// Those of them that leave their length, kind or number unsaid.
const UNSAID: [usize; 4] = [5, 6, 8, 11];
const STAGES: [&str; 3] = ["one", "two", "three"];
const BAGS: [Option<&str>; 3] = [None, Some("A"), Some("B")];

/// A job at random: indices into the tables above, and pieces.
#[derive(Debug, Clone)]
struct AnyJob {
    kits: u64,
    built: Option<usize>,
    spares: u32,
    required: Vec<(usize, usize, u64, Usage)>,
    shipped: BTreeMap<(usize, usize), u64>,
    counted: BTreeMap<(usize, usize), (Option<u64>, u64)>,
    missing: Option<usize>,
    stock: Option<BTreeMap<usize, u64>>,
    /// What may be used for what, and in which stages, a bit each; 0 is all.
    rules: BTreeMap<(usize, usize), u8>,
    closes: bool,
}

fn any_job() -> impl Strategy<Value = AnyJob> {
    let item = 0..ITEMS.len();
    let usage = prop_oneof![
        12 => Just(Usage::New),
        1 => Just(Usage::Returned),
        1 => Just(Usage::Discarded),
        1 => Just(Usage::ComesFitted),
        1 => Just(Usage::CarriedOver),
        1 => Just(Usage::NotInKit),
    ];
    let at = (item.clone(), 0..BAGS.len());
    (
        1..4u64,
        proptest::option::weighted(0.2, 0..STAGES.len()),
        0..40u32,
        proptest::collection::vec((item, 0..STAGES.len(), 0..9u64, usage), 1..12),
        proptest::collection::btree_map(at.clone(), 0..12u64, 0..9),
        proptest::collection::btree_map(
            at,
            (proptest::option::weighted(0.8, 0..12u64), 0..3u64),
            0..9,
        ),
        proptest::option::weighted(0.2, 1..BAGS.len()),
        proptest::option::of(proptest::collection::btree_map(
            0..ITEMS.len(),
            0..9u64,
            0..6,
        )),
        proptest::collection::btree_map((0..ITEMS.len(), 0..ITEMS.len()), 0..8u8, 0..6),
        any::<bool>(),
    )
        .prop_map(
            |(kits, built, spares, required, shipped, counted, missing, stock, rules, closes)| {
                AnyJob {
                    kits,
                    built,
                    spares,
                    required,
                    shipped,
                    counted,
                    missing,
                    stock,
                    rules,
                    closes,
                }
            },
        )
}

impl AnyJob {
    fn substitutes(&self) -> Vec<SubstituteRule> {
        let named = |at: usize| self.required.iter().any(|line| line.1 == at);
        let rules = self.rules.iter().map(|(&(asked, instead), &bits)| {
            let stages = (0..STAGES.len()).filter(|at| bits & (1 << at) != 0 || bits == 0);
            SubstituteRule {
                file: "rules.csv".to_owned(),
                row: (asked * ITEMS.len() + instead) as u32 + 2,
                asked: item(ITEMS[asked]).text(),
                instead: Some(item(ITEMS[instead]).text()),
                // A rule with stages has a limit, so that circles are sound.
                stages: stages
                    .filter(|at| named(*at))
                    .map(|at| STAGES[at].to_owned())
                    .collect(),
                approved_by: "Ash".to_owned(),
                closes_claim: self.closes,
                ..SubstituteRule::default()
            }
        });
        rules.filter(|rule| !rule.stages.is_empty()).collect()
    }

    /// The job and its lists; the stages are named by the job, so that no order of rows matters.
    fn lists(&self) -> (Job, Vec<List>) {
        let mut required = ListOf::required();
        for &(item, at, pieces, usage) in &self.required {
            required = required.line(ITEMS[item], pieces, &used(STAGES[at], usage));
        }
        let named = |at: usize| self.required.iter().any(|line| line.1 == at);
        let in_bag =
            |at: usize| move |_: &mut Line, p: &mut Placement| p.bag = BAGS[at].map(Into::into);
        let mut shipped = ListOf::shipped();
        for (&(item, at), &pieces) in &self.shipped {
            shipped = shipped.line(ITEMS[item], pieces, &in_bag(at));
        }
        let mut counted = ListOf::counted();
        for (&(item, at), &(good, damaged)) in &self.counted {
            counted = counted.line(ITEMS[item], good, &|line, placement| {
                line.more_mut().damaged = damaged;
                in_bag(at)(line, placement);
            });
        }
        if let Some(at) = self.missing {
            counted = counted.other(&|line, placement| {
                line.what = What::Bag {
                    received: Some(false),
                };
                in_bag(at)(line, placement);
            });
        }
        let job = Job {
            kits: self.kits,
            stages: (0..STAGES.len())
                .filter(|&at| named(at))
                .map(|at| STAGES[at].to_owned())
                .collect(),
            built_through: self
                .built
                .filter(|&at| named(at))
                .map(|at| STAGES[at].to_owned()),
            spares: vec![SpareRule {
                kind: None,
                up_to: None,
                percent: self.spares,
                least: 0,
            }],
            substitutes: self.substitutes(),
            ..job()
        };
        let mut lists = vec![required.list(), shipped.list(), counted.list()];
        if let Some(stocked) = &self.stock {
            let mut stock = ListOf::stock();
            for (&item, &pieces) in stocked {
                stock = stock.line(ITEMS[item], pieces, &plain);
            }
            lists.push(stock.list());
        }
        (job, lists)
    }
}

/// An account without the order of its items and the addresses of its lines.
fn without_order(account: &Account) -> impl PartialEq + std::fmt::Debug + use<> {
    let mut items: Vec<_> = account
        .items
        .iter()
        .map(|item| {
            let findings = item
                .findings
                .iter()
                .map(|f| (f.finding, f.pieces, f.note.clone()));
            let mut doubts: Vec<String> = item.doubts.iter().map(ToString::to_string).collect();
            doubts.sort_unstable();
            let findings: Vec<_> = findings.collect();
            (
                item.text.clone(),
                item.sums,
                item.shares.clone(),
                findings,
                doubts,
            )
        })
        .collect();
    items.sort_by(|a, b| a.0.cmp(&b.0));
    let stages: Vec<_> = account
        .stages
        .iter()
        .map(|s| (s.name.clone(), s.covered, s.ready))
        .collect();
    (items, stages, account.verdict, account.stops_at)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, failure_persistence: None, ..ProptestConfig::default() })]

    /// Lines that say no more than how many are summed apart, and come to the same.
    #[test]
    fn plain_lines_come_to_what_others_do(any in any_job()) {
        let (job, lists) = any.lists();
        let mut others = lists.clone();
        for line in others.iter_mut().flat_map(|list| &mut list.lines) {
            line.more_mut();
        }
        let [plain, others] = [lists, others].map(|lists| format!("{:#?}", settle(&job, &lists)));
        prop_assert_eq!(plain, others);
    }

    #[test]
    fn every_piece_is_accounted_for(any in any_job()) {
        let (job, lists) = any.lists();
        let account = settled(&job, &lists);
        let totals = account.totals;
        prop_assert_eq!(totals.shipped, any.shipped.values().sum::<u64>());
        let counted = any.counted.values();
        prop_assert_eq!(totals.counted, counted.clone().filter_map(|count| count.0).sum::<u64>());
        prop_assert_eq!(totals.damaged, counted.map(|count| count.1).sum::<u64>());
        prop_assert!(totals.pool >= totals.counted);
        if job.built_through.is_none() {
            prop_assert!(totals.pool <= totals.counted + totals.shipped);
        }
        let wanted = any.required.iter().filter(|line| line.3 == Usage::New);
        let wanted: u64 = wanted.map(|line| line.2 * any.kits).sum();
        prop_assert!(totals.required >= wanted);
        // Whatever serves in place of the kit's own pieces is named, piece by piece.
        let sum = |of: &dyn Fn(&StandIn) -> bool| -> u64 {
            let all = account.items.iter().flat_map(|item| &item.stand_ins);
            all.filter(|stand_in| of(stand_in)).map(|stand_in| stand_in.pieces).sum()
        };
        prop_assert_eq!(totals.substituted, sum(&|of| of.rule.is_some()));
        prop_assert_eq!(totals.from_stock, sum(&|of| of.rule.is_none()));
        prop_assert_eq!(totals.used_as_substitute, sum(&|of| of.item.is_some()));
        for item in &account.items {
            let stand_ins: u64 = item.stand_ins.iter().map(|of| of.pieces).sum();
            prop_assert_eq!(stand_ins, item.sums.from_stock + item.sums.substituted);
        }
        // The shop lends what it has, and only that, and buys what is then known to be short.
        let lent: Vec<u64> = account.put_back.iter().flatten().map(|lent| lent.pieces).collect();
        prop_assert_eq!(sum(&|of| of.item.is_none()), lent.iter().sum::<u64>());
        let stock: u64 = any.stock.iter().flatten().map(|(_, pieces)| pieces).sum();
        prop_assert!(lent.iter().sum::<u64>() <= stock);
        let known = account.items.iter().filter(|item| item.known && any.stock.is_some());
        let short: u64 = known.map(|item| item.sums.short).sum();
        prop_assert_eq!(account.to_buy.iter().map(|buy| buy.short).sum::<u64>(), short);
        // What is built stands.
        let built = any.built.and_then(|at| job.stages.iter().position(|name| name == STAGES[at]));
        for stage in account.stages.iter().take(built.map_or(0, |at| at + 1)) {
            prop_assert_eq!(stage.short, 0);
        }
    }

    #[test]
    fn the_order_of_rows_changes_nothing(any in any_job(), seed in any::<u64>()) {
        let (job, lists) = any.lists();
        let account = settled(&job, &lists);
        let mut shuffled = lists.clone();
        for list in &mut shuffled {
            // A shuffle by a plain linear congruence: which one does not matter.
            let mut state = seed;
            for at in (1..list.lines.len()).rev() {
                state = state.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
                list.lines.swap(at, (state >> 33) as usize % (at + 1));
            }
            for (line, row) in list.lines.iter_mut().zip(2..) {
                line.row = row;
            }
        }
        let again = settled(&job, &shuffled);
        prop_assert_eq!(without_order(&account), without_order(&again));
    }

    #[test]
    fn no_more_is_claimed_than_is_due(any in any_job()) {
        let (job, lists) = any.lists();
        let account = settled(&job, &lists);
        let claim = Claim::of(&job, &lists, &account);
        for (at, item) in account.items.iter().enumerate() {
            let lines = || claim.claimed.iter().filter(|line| line.item == at);
            let of = |causes: &[Cause]| -> u64 {
                lines().filter(|line| causes.contains(&line.cause)).map(|line| line.pieces).sum()
            };
            let all = of(Cause::ALL);
            prop_assert!(all <= item.sums.required - item.sums.covered);
            prop_assert!(all + item.sums.covered <= item.sums.required);
            prop_assert!(of(&[Cause::Damaged]) <= item.sums.damaged);
            prop_assert!(lines().all(|line| line.pieces > 0));
            let lost: u64 = item.not_received.iter().map(|loss| loss.pieces).sum();
            prop_assert!(of(&[Cause::NotReceived]) <= lost);
            if item.counted.is_none() {
                let slip_short = item.findings.iter().filter(|f| f.finding == FindingKind::SlipShort);
                let slip_short: u64 = slip_short.map(|finding| finding.pieces).sum();
                prop_assert!(of(&[Cause::Missing, Cause::BackOrdered]) <= slip_short);
            }
            let over: u64 = claim.over.iter().filter(|over| over.item == at).map(|over| over.pieces).sum();
            prop_assert!(over <= item.counted.unwrap_or(0));
        }
        // Pieces that a slip lists and nobody counted are never claimed, whoever they fall to.
        let claimed: u64 = claim.claimed.iter().map(|line| line.pieces).sum();
        let believed: u64 = account.items.iter().map(|item| item.believed).sum();
        prop_assert!(believed <= account.totals.pool);
        let t = &account.totals;
        let closed = if any.closes { t.substituted } else { 0 };
        prop_assert!(claimed <= t.short + t.from_stock + t.substituted - closed);
        // A piece that serves as a substitute is there: nobody claims it where it is lacking then.
        prop_assert!(any.closes || claimed <= t.required.saturating_sub(t.covered).max(t.used_as_substitute));
    }

    /// For one kit. With several, whole kits come first, so that one more piece may complete a kit
    /// with pieces that an earlier stage of another kit had before.
    #[test]
    fn one_more_good_piece_harms_nobody(any in any_job(), pick in any::<proptest::sample::Index>()) {
        // A rule serves by what is known to be what it names. A piece of which the count leaves something unsaid is not,
        // and may stand where a slip's known piece stood before.
        let leaves_unsaid = any.counted.keys().any(|(item, _)| UNSAID.contains(item));
        let rules = if leaves_unsaid { BTreeMap::new() } else { any.rules.clone() };
        let any = AnyJob { kits: 1, rules, ..any };
        let counted: Vec<(usize, usize)> = any
            .counted
            .iter()
            // None of all that it may be is there, or one, and nobody knows of which.
            .filter(|(_, count)| count.0.is_some_and(|good| good > 0))
            .map(|(at, _)| *at)
            .collect();
        prop_assume!(!counted.is_empty());
        let (job, lists) = any.lists();
        let mut more = any.clone();
        if let Some((Some(good), _)) = more.counted.get_mut(&counted[pick.index(counted.len())]) {
            *good += 1;
        }
        let (before, after) = (settled(&job, &lists), settled(&job, &more.lists().1));
        for (before, after) in before.stages.iter().zip(&after.stages) {
            prop_assert!(after.short <= before.short, "{}: {} then {}", before.name, before.short, after.short);
        }
        prop_assert!(after.totals.short <= before.totals.short);
    }
}

/// Numbers kept from earlier jobs, as a table says them.
fn kept(rows: &[(&str, &str)]) -> Job {
    let rows = rows
        .iter()
        .zip(2..)
        .map(|((number, words), row)| NumberRow {
            file: "numbers.csv".to_owned(),
            row,
            number: (*number).to_owned(),
            item: item(words),
        });
    Job {
        numbers: rows.collect(),
        ..Job::default()
    }
}

#[test]
fn a_kept_number_stands_for_its_item_and_says_so() {
    let required = ListOf::required()
        .line("bolt hex 1/2-13 6", 8, &plain)
        .list();
    let slip = ListOf::shipped().line("part QX-55", 8, &plain).list();
    let lists = [required.clone(), slip.clone()];
    // Without the table nobody knows what the slip's number is.
    assert_eq!(settled(&job(), &lists).items.len(), 2);
    let account = settled(&kept(&[("QX-55", "bolt hex 1/2-13 6")]), &lists);
    assert_eq!((account.items.len(), account.items[0].sums.covered), (1, 8));
    let doubts: Vec<String> = account.items[0]
        .doubts
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(
        doubts,
        ["part number QX-55 stands for it by numbers.csv, line 2"]
    );
    assert_eq!(account.items[0].part_numbers, ["QX-55"]);
    // A part, too: the list calls it so, and shows no number.
    let lists = [
        ListOf::required()
            .line("part - ground stake", 4, &plain)
            .list(),
        ListOf::shipped().line("part QX-56", 4, &plain).list(),
    ];
    let account = settled(&kept(&[("QX-56", "part - ground stakes")]), &lists);
    assert_eq!((account.items.len(), account.items[0].sums.covered), (1, 4));
    assert_eq!(account.items[0].text, "ground stake");
    // A list that shows another item beside the number contradicts the table.
    let other = ListOf::shipped().numbered("QX-55", "bolt hex 1/2-13 7", 2, &plain);
    let account = settled(
        &kept(&[("QX-55", "bolt hex 1/2-13 6")]),
        &[required, slip, other.list()],
    );
    let of = |text: &str| {
        let item = account
            .items
            .iter()
            .find(|item| item.text == text)
            .expect("an item");
        item.doubts
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
    };
    assert_eq!(
        of("1/2-13 x 6 hex bolt"),
        [
            "part number QX-55 stands for 1/2-13 x 6 hex bolt by numbers.csv, line 2, and for \
             1/2-13 x 7 hex bolt on the lists: settle which is right"
        ]
    );
    assert_eq!(
        of("1/2-13 x 7 hex bolt"),
        ["part number QX-55 stands for more than one item"]
    );
}

#[test]
fn a_number_tells_what_the_words_beside_it_leave_out() {
    let covered = |required: ListOf, slip: ListOf| {
        let account = settled(&job(), &[required.list(), slip.list()]);
        let items = account.items.iter();
        items
            .map(|item| (item.sums.required, item.sums.covered, item.sums.extra))
            .collect::<Vec<_>>()
    };
    let lag = |words| ListOf::required().numbered("HW-40", words, 8, &plain);
    let slip = |words| ListOf::shipped().numbered("HW-40", words, 8, &plain);
    // The slip gives the number and the kind, and no size.
    assert_eq!(
        covered(lag("screw lag 3/8 3"), slip("screw lag")),
        [(8, 8, 0)]
    );
    // A part by this number, whatever the slip calls it.
    let plate = ListOf::required().line("part HW-40 anchor plate", 8, &plain);
    assert_eq!(covered(plate, slip("bolt hex 3/8 3")), [(8, 8, 0)]);
    // What contradicts it is another item still.
    assert_eq!(
        covered(lag("screw lag 3/8 3"), slip("nut")),
        [(8, 0, 0), (0, 0, 8)]
    );
    // So is it where the number stands for two sizes.
    let two = lag("screw lag 3/8 3").numbered("HW-40", "screw lag 3/8 4", 8, &plain);
    assert_eq!(
        covered(two, slip("screw lag")),
        [(8, 0, 0), (8, 0, 0), (0, 0, 8)]
    );
}
