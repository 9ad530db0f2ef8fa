//! Spares that a list asks for by their title: no stage waits for them, and what is short of them is claimed apart.

use pretty_assertions::assert_eq;

use super::*;
use crate::settle::claim::Urgency;

const NUT: &str = "nut hex 1/2";

/// 6 nuts for the mast and 2 spare, of so many kits.
fn lists(counted: u64, spare: &str) -> [List; 2] {
    [
        ListOf::required()
            .line(NUT, 2, &stage(spare))
            .line(NUT, 6, &stage("Mast"))
            .list(),
        ListOf::counted().line(NUT, counted, &plain).list(),
    ]
}

/// Verdict, what each stage lacks, and what is claimed how.
#[track_caller]
fn case(kits: u64, counted: u64, verdict: Verdict, short: &[u64], claimed: &[(u64, Urgency)]) {
    let job = Job { kits, ..job() };
    let lists = lists(counted, "Spare parts");
    let account = settled(&job, &lists);
    assert_eq!(account.verdict, verdict);
    let of_stages = account.stages.iter();
    let of_stages: Vec<(&str, u64)> = of_stages.map(|of| (of.name.as_str(), of.short)).collect();
    let names = ["Mast", "Spare parts"];
    let expected: Vec<(&str, u64)> = names.into_iter().zip(short.iter().copied()).collect();
    assert_eq!(of_stages, expected);
    let claim = Claim::of(&job, &lists, &account);
    let lines = claim.claimed.iter();
    let lines: Vec<(u64, Urgency)> = lines.map(|of| (of.pieces, of.urgency)).collect();
    assert_eq!(lines, claimed);
}

#[test]
fn no_stage_waits_for_spares() {
    case(1, 8, Verdict::Yes, &[0, 0], &[]);
    case(1, 7, Verdict::Yes, &[0, 1], &[(1, Urgency::Spare)]);
    case(1, 5, Verdict::No, &[1, 2], &[(3, Urgency::First)]);
    // Both kits come before the spares of either.
    case(2, 13, Verdict::Yes, &[0, 3], &[(3, Urgency::Spare)]);
    case(2, 11, Verdict::No, &[1, 4], &[(5, Urgency::First)]);
}

#[test]
fn what_is_short_of_spares_is_told() {
    let account = settled(&job(), &lists(7, "Spares"));
    let told = "1 piece of 1 item short among the spares, which no stage waits for";
    assert_eq!(account.reasons, [told]);
    assert_eq!(
        account.stages[1].reasons,
        [
            "spares, which no stage waits for",
            "1 piece short: 1/2-13 hex nut"
        ]
    );
}

#[test]
fn a_list_of_nothing_but_spares_asks_for_them() {
    let lists = [
        ListOf::required().line(NUT, 2, &stage("Spares")).list(),
        ListOf::counted().line(NUT, 1, &plain).list(),
    ];
    assert_eq!(settled(&job(), &lists).verdict, Verdict::No);
}
