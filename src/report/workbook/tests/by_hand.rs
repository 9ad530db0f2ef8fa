//! Sheets whose cells were worked out by hand.

use super::*;
use crate::{
    bins::lay_out,
    kit::{Line, List, MassOf, Placement, RowMass, StatedMass},
    settle::{
        Buy, Draw, Totals,
        sample::{ListOf, stage},
        settle,
    },
};

/// The job of some lists, settled.
fn settled(lists: Vec<List>) -> Fixture {
    let job = Job::default();
    let account = settle(&job, &lists).expect("settles");
    Fixture {
        layout: lay_out(&job.trays, job.bin_per, &account),
        audit: crate::audit::audit(&job, &lists),
        job,
        lists,
        account,
    }
}

/// What follows in the row of a sheet that begins with these cells.
#[track_caller]
fn after(f: &Fixture, sheet: &str, begins: &[&str]) -> Vec<String> {
    let rows = rows(&mut open(bytes(f)), sheet);
    let found = rows
        .iter()
        .find(|row| row.iter().zip(begins).all(|(a, b)| a == b));
    let found = found.unwrap_or_else(|| panic!("{begins:?} begins no row of {rows:#?}"));
    found[begins.len()..].to_vec()
}

/// Two joints of 1/2 in: a hexagon 3/4 across on bolt and nut (ASME B18.2.1, B18.2.2). A torque wrench
/// that reads 20 ft-lb at a fifth of its scale ends at 100.
fn joints() -> Fixture {
    let at = |name: &'static str, torque: &'static str| {
        move |_: &mut crate::kit::Line, placement: &mut crate::kit::Placement| {
            placement.stage = Some(name.into());
            placement.torque = (!torque.is_empty()).then(|| torque.into());
        }
    };
    settled(vec![
        ListOf::required()
            .line("bolt hex 1/2 3", 4, &at("one", "20 ft-lb"))
            .line("nut hex 1/2", 4, &at("one", ""))
            .line("bolt hex 1/2 3", 8, &at("two", "60 ft-lb"))
            .line("nut nylon 1/2", 8, &at("two", ""))
            .list(),
    ])
}

#[test]
fn tools_and_how_many_at_once() {
    let f = joints();
    let wrench = after(&f, "Tools to bring", &["wrench or socket", "3/4 in"]);
    assert_eq!(wrench[0], "2");
    let torque = after(&f, "Tools to bring", &["torque wrench"]);
    assert_eq!(torque[2], "20 ft-lb to 60 ft-lb as called");
    assert!(torque[3].starts_with("scale up to at least 60 ft-lb and at most 100 ft-lb:"));
}

/// Only the nut with an insert drags.
#[test]
fn what_to_look_at_before_tightening() {
    let f = joints();
    let look = |stage: &[&str]| after(&f, "Tightening", stage).join("; ");
    assert!(!look(&["1", "one"]).contains("drags"));
    assert!(look(&["2", "two"]).contains("the nylon insert drags by up to"));
}

/// A list may call the torque beside the nut.
#[test]
fn a_torque_beside_the_nut_is_the_bolts() {
    let called = |_: &mut Line, placement: &mut Placement| {
        placement.stage = Some("one".into());
        placement.torque = Some("55 ft-lb".into());
    };
    let list = ListOf::required()
        .line("bolt hex 1/2 3", 4, &stage("one"))
        .line("nut hex 1/2", 4, &called);
    let f = settled(vec![list.list()]);
    let row = after(&f, "Tightening", &["1", "one"]);
    assert!(row.contains(&"55 ft-lb\n75 N·m".to_owned()), "{row:?}");
}

/// 3 girders of 2.5 kg each.
#[test]
fn weights_are_in_kilograms() {
    let girders = ListOf::required()
        .line("part TB-1 girder", 3, &stage("one"))
        .edit(|list| {
            let mass = StatedMass {
                milligrams: 2_500_000,
                of: MassOf::Piece,
            };
            let row = list.lines[0].row;
            list.masses.push(RowMass {
                sheet: 0,
                row,
                mass,
            });
        });
    let f = settled(vec![girders.list()]);
    assert_eq!(
        after(&f, "Weights", &["girder [part TB-1]"])[..3],
        ["3", "2500", "7.5"]
    );
    assert_eq!(
        after(&f, "Weights", &["stage 1, one"])[..3],
        ["3", "", "7.5"]
    );
    assert_eq!(after(&f, "Weights", &["all pieces"])[..3], ["3", "", "7.5"]);
}

#[test]
fn a_stage_says_what_it_takes_from_bags() {
    let mut f = fixture::footbridge();
    f.account.items[0].draws = vec![Draw {
        stage: 1,
        bag: "bag B".into(),
        pieces: 12,
    }];
    let bag = |stage: &[&str]| after(&f, "By stage", stage).pop();
    assert_eq!(bag(&["1", "Sills"]), Some("A, B".to_owned()));
    assert_eq!(
        bag(&["2", "Rails"]),
        Some("A, B\ntake 12 from bag B".to_owned())
    );
}

/// Of 24 bolts Rails lacks 4; a bin a stage has the pieces of its stage alone.
#[test]
fn a_bin_is_short_of_what_its_stage_lacks() {
    let mut f = fixture::footbridge();
    let any = |f: &Fixture, words: &str| {
        let cells = rows(&mut open(bytes(f)), "Bins");
        cells.into_iter().flatten().any(|cell| cell.contains(words))
    };
    assert!(any(&f, "(short 4)") && any(&f, "also stage 2"));
    f.layout.per_stage = true;
    assert!(!any(&f, "(short 4)") && !any(&f, "also stage 2"));
    f.layout.bins[0].stage = 1;
    assert!(any(&f, "(short 4)"));
}

#[test]
fn what_is_to_be_bought() {
    let mut f = fixture::footbridge();
    f.account.put_back = Some(Vec::new());
    f.account.to_buy = vec![Buy {
        item: 0,
        short: 4,
        spares: 2,
        pack: Some(5),
    }];
    let bolt = after(&f, "To buy", &["1/2 x 6 hex bolt"]);
    assert_eq!(bolt[2..8], ["4", "2", "6", "5", "2", "stage 2, Rails (4)"]);
}

#[test]
fn rows_are_all_accounted_for() {
    let mut f = fixture::footbridge();
    let tally = &mut f.lists[0].tally;
    (
        tally.rows,
        tally.read,
        tally.check,
        tally.aside,
        tally.other,
    ) = (16, 1, 2, 4, 9);
    let list = after(&f, "Summary", &["", "required", "parts.xlsx"]);
    assert_eq!(list[..5], ["16", "1", "2", "4", "9"]);
}

/// What no list requires need not be counted.
#[test]
fn only_what_is_required_is_missed_in_the_count() {
    let mut f = fixture::footbridge();
    let mut stray = f.account.items[1].clone();
    (stray.sums, stray.shares) = (Totals::default(), Vec::new());
    f.account.items.push(stray);
    let eye = after(&f, "Summary", &["", "1 item"]);
    assert_eq!(eye[0], "not counted in full: the slip is believed");
}
