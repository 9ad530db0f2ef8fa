//! What is asked of lists, and of which lists nothing is asked.

use proptest::prelude::*;

use super::*;
use crate::kit::{Input, Role};

const HEADING: &str = "Stage,Place,Item,Quantity,Use,Torque,Note\n";

/// The audit of a parts list written out.
fn audit_of(rows: &str) -> Audit {
    let file = tempfile::NamedTempFile::new().expect("a temporary file");
    std::fs::write(file.path(), format!("{HEADING}{rows}")).expect("written");
    let list = List::read(
        &Input::at(file.path()),
        "parts.csv".to_owned(),
        Role::Required,
        &|_| {},
    )
    .expect("a list");
    audit(&Job::default(), &[list])
}

/// The rows, and what is asked of them: the question, and words of what was found.
#[track_caller]
fn asks(rows: &str, expected: &[(Question, &str)]) {
    let audit = audit_of(rows);
    let found: Vec<(Question, &str)> = audit
        .findings
        .iter()
        .map(|f| (f.what, f.found.as_str()))
        .collect();
    assert_eq!(found.len(), expected.len(), "{found:#?}\nof\n{rows}");
    for ((what, text), (question, words)) in found.iter().zip(expected) {
        assert_eq!(what, question, "{text}");
        assert!(text.contains(words), "{text} has no {words}");
    }
}

#[track_caller]
fn sound(rows: &str) {
    asks(rows, &[]);
}

#[test]
fn nuts_are_held_against_bolts() {
    asks(
        "A,,1/2 x 6 hex bolt,40,,,\nA,,1/2 hex nut,32,,,\n",
        &[(Question::Nuts, "40 bolts 1/2 and 32 nuts 1/2")],
    );
    asks(
        "A,top,1/2 x 6 hex bolt,40,,,\nA,top,1/2 hex nut,44,,,\n",
        &[(Question::Nuts, "40 bolts 1/2 and 44 nuts 1/2")],
    );
    asks(
        "A,,3/8 x 6 carriage bolt,24,,,\nA,,3/8 flat washer,24,,,\n",
        &[(Question::Nuts, "24 bolts 3/8 and 0 nuts 3/8")],
    );
    let finding = &audit_of("A,,1/2 x 6 hex bolt,40,,,\nA,,1/2 hex nut,32,,,\n").findings[0];
    assert_eq!(finding.weight, Weight::Strong);
    assert_eq!(
        finding.question,
        "Are 8 nuts missing from the list, or do so many bolts go into tapped holes?"
    );
    assert_eq!(*finding.evidence[0].rows, [(2, 2), (3, 3)]);
}

#[test]
fn ordinary_joints_are_sound() {
    // One nut; two; none.
    sound("A,,1/2 x 6 hex bolt,40,,,\nA,,1/2 hex nut,40,,,\n");
    sound("A,,1/2 x 6 hex bolt,40,,,\nA,,1/2 hex nut,80,,,\n");
    sound("A,,1/2 x 1 hex bolt,40,,,\nA,,1/2 flat washer,40,,,\n");
    // Some of the bolts go into tapped holes.
    sound("A,,1/2 x 6 hex bolt,24,,,\nA,,1/2 x 1 hex bolt,8,,,\nA,,1/2 hex nut,24,,,\n");
    // Jam nuts beside the nuts, and levelling nuts on anchors.
    sound("A,,1/2 x 6 hex bolt,8,,,\nA,,1/2 hex nut,8,,,\nA,,1/2 jam nut,5,,,\n");
    sound("A,,5/8 x 7 wedge anchor,8,,,\nA,,5/8 hex nut,16,,,\nA,,5/8 flat washer,8,,,\n");
    // Rods, U-bolts, lags and wood screws.
    sound("A,,3/8 x 48 threaded rod,4,,,\nA,,3/8 hex nut,16,,,\nA,,3/8 flat washer,8,,,\n");
    sound("A,,3/8 U-bolt,4,,,\nA,,3/8 hex nut,8,,,\nA,,3/8 flat washer,8,,,\n");
    sound("A,,3/8 x 3 lag screw,48,,,\nA,,3/8 flat washer,48,,,\n");
    sound("A,,#10 x 3 deck screw,256,,,\n");
    // Nuts are listed at one place for two, and a difference between places evens out.
    sound(
        "A,top,3/8 x 6 carriage bolt,24,,,\nA,low,3/8 x 6 carriage bolt,24,,,\nA,all rails,3/8 hex nut,48,,,\n",
    );
    sound(
        "A,top,1/2 x 6 hex bolt,4,,,\nA,top,1/2 hex nut,5,,,\nA,low,1/2 x 5 hex bolt,5,,,\nA,low,1/2 hex nut,4,,,\n",
    );
    // What was fitted before, and a line whose quantity is not stated.
    sound("A,,1/2 x 6 hex bolt,8,carried over,,\nA,,1/2 x 4 hex bolt,4,,,\nA,,1/2 hex nut,12,,,\n");
    sound("A,,1/2 x 6 hex bolt,,,,\nA,,1/2 hex nut,12,,,\n");
}

#[test]
fn diameters_of_one_joint_agree() {
    let rows = "A,post,5/8 x 6 hex bolt,16,,,\nA,post,1/2 hex nut,16,,,\n";
    let words = "16 bolts 5/8 without nuts and 16 nuts 1/2 without bolts";
    asks(rows, &[(Question::Diameters, words)]);
    let finding = &audit_of(rows).findings[0];
    assert_eq!(finding.weight, Weight::Strong);
    assert_eq!(
        finding.question,
        "Do they belong together, and which of the two diameters is meant?"
    );
    assert_eq!(*finding.evidence[0].rows, [(2, 2), (3, 3)]);
    // A stage that names no place says less.
    let rows = "A,,5/8 x 6 hex bolt,16,,,\nA,,1/2 hex nut,16,,,\n";
    assert_eq!(audit_of(rows).findings[0].weight, Weight::Weak);
    // One question, not two: what closes a carriage bolt is asked with it.
    asks(
        "A,rail,3/8 x 6 carriage bolt,24,,,\nA,rail,5/16 hex nut,24,,,\n",
        &[(Question::Diameters, "24 bolts 3/8 without nuts")],
    );
    // Other counts, other places, and tapped holes beside whole joints.
    sound("A,post,5/8 x 6 hex bolt,16,,,\nA,post,1/2 hex nut,12,,,\n");
    sound("A,post,5/8 x 6 hex bolt,16,,,\nA,rail,1/2 hex nut,16,,,\n");
    sound("A,post,5/8 x 2 hex bolt,4,,,\nA,post,1/2 x 6 hex bolt,4,,,\nA,post,1/2 hex nut,4,,,\n");
}

#[test]
fn washers_are_held_against_fasteners() {
    asks(
        "A,,1/2 x 6 hex bolt,40,,,\nA,,1/2 hex nut,40,,,\nA,,1/2 flat washer,76,,,\n",
        &[(
            Question::Washers,
            "40 fasteners 1/2 and 76 flat washers 1/2",
        )],
    );
    // One side, both sides, a stack, and larger washers that bear on timber.
    for washers in [40, 80, 120] {
        sound(&format!(
            "A,,1/2 x 6 hex bolt,40,,,\nA,,1/2 hex nut,40,,,\nA,,1/2 flat washer,{washers},,,\n"
        ));
    }
    sound("A,,1/2 x 6 hex bolt,40,,,\nA,,1/2 hex nut,40,,,\nA,,1/2 plate washer,7,,,\n");
}

#[test]
fn torques_are_held_against_the_bolt() {
    // SAE J429 charts: 1/4-20 Grade 5 takes 8 ft-lb dry, 5/8-11 150.
    asks(
        "A,,\"1/4-20 x 1 hex bolt, grade 5\",4,,75 ft-lb,\n",
        &[(Question::TorqueHigh, "Grade 5 takes about 8.5 ft-lb dry")],
    );
    asks(
        "A,,\"5/8-11 x 2 hex bolt, grade 5\",4,,200 ft-lb,\n",
        &[(Question::TorqueHigh, "Grade 5 takes about 150 ft-lb dry")],
    );
    asks(
        "A,,3/8-16 x 2 hex bolt,4,,60 ft-lb,\n",
        &[(
            Question::TorqueHigh,
            "even Grade 8 takes about 44 ft-lb dry",
        )],
    );
    asks(
        "A,,\"3/8-16 x 2 hex bolt, grade 5\",4,,30 in-lb,\n",
        &[(Question::TorqueLow, "which takes about 31 ft-lb")],
    );
    asks(
        "A,,\"1/2-13 x 2 hex bolt, grade 5\",4,,15 ft-lb,\nA,,1/2 nylon lock nut,4,,,\n",
        &[(Question::TorqueLow, "may take up to 17 ft-lb")],
    );
    asks(
        "A,,M10 x 40 hex bolt,4,,75,\n",
        &[(Question::TorqueUnread, "torque \"75\"")],
    );
    // Lubricated threads want less.
    asks(
        "A,,\"5/8-11 x 2 hex bolt, grade 5\",4,,140 ft-lb,\nA,,anti-seize compound,1,consumable,,\n",
        &[(Question::TorqueHigh, "about 113 ft-lb lubricated")],
    );
    for rows in [
        "A,,\"5/8-11 x 2 hex bolt, grade 5\",4,,140 ft-lb,\n",
        "A,,\"5/8-11 x 2 hex bolt, grade 8\",4,,200 ft-lb,\n",
        "A,,\"1/4-20 x 1 hex bolt, grade 5\",4,,75 in-lb,\n",
        "A,,\"M10 x 40 hex bolt, 8.8\",4,,49 N·m,\n",
        "A,,3/8 x 3 lag screw,4,,60 ft-lb,\n",
        "A,,\"3/4 x 3 hex bolt, A325\",4,,600 ft-lb,\n",
        "A,,1/2 x 3 hex bolt,4,,snug plus a half turn,\n",
    ] {
        sound(rows);
    }
}

#[test]
fn like_joints_are_held_alike() {
    asks(
        "A,top,1/2 x 3 hex bolt,4,,50 ft-lb,\nA,top,1/2 hex nut,4,,,\nA,low,1/2 x 3 hex bolt,4,,,\nA,low,1/2 hex nut,4,,,\n",
        &[(Question::NoTorque, "at low has no torque")],
    );
    asks(
        "A,top,1/2 x 3 hex bolt,4,,,\nA,top,1/2 nylon lock nut,4,,,\nA,low,1/2 x 3 hex bolt,4,,,\nA,low,1/2 hex nut,4,,,\n",
        &[(Question::LockNuts, "at low has plain nuts")],
    );
    // A torque on a plain nut, and a lock nut without one, explain each other; other kinds of bolts
    // are no likeness.
    sound(
        "A,top,1/2 x 3 hex bolt,4,,50 ft-lb,\nA,top,1/2 hex nut,4,,,\nA,low,1/2 x 3 hex bolt,4,,,\nA,low,1/2 nylon lock nut,4,,,\n",
    );
    sound(
        "A,top,1/4 x 3 hex bolt,4,,,\nA,top,1/4 nylon lock nut,4,,,\nA,low,1/4 x 3 carriage bolt,4,,,\nA,low,1/4 hex nut,4,,,\n",
    );
}

#[test]
fn pieces_of_a_joint_match() {
    asks(
        "A,,\"1/2-13 x 3 hex bolt, HDG\",4,,,\nA,,\"1/2-13 hex nut, zinc plated\",4,,,\n",
        &[(Question::Mismatch, "tapped over size")],
    );
    asks(
        "A,,1/2-13 x 3 hex bolt,4,,,\nA,,1/2-20 hex nut,4,,,\n",
        &[(Question::Mismatch, "the threads differ")],
    );
    asks(
        "A,,\"1/2-13 x 3 hex bolt, grade 8\",4,,,\nA,,\"1/2-13 hex nut, grade 2\",4,,,\n",
        &[(Question::Mismatch, "of a lower grade")],
    );
    asks(
        "A,,\"1/2-13 x 3 hex bolt, 18-8\",4,,,\nA,,\"1/2-13 hex nut, zinc plated\",4,,,\n",
        &[(Question::Mismatch, "stainless on other steel")],
    );
    sound("A,,\"1/2-13 x 3 hex bolt, HDG\",4,,,\nA,,1/2-13 hex nut,4,,,\n");
    sound("A,,\"M12 x 40 hex bolt, 8.8\",4,,,\nA,,\"M12 hex nut, class 8\",4,,,\n");
}

#[test]
fn bolts_reach() {
    // 2-1/2 and 7/16 of nut and one thread of 1/13 are over 3; with two threads 3-1/4 is the stock.
    asks(
        "A,,1/2-13 x 3 hex bolt,4,,,grip 2-1/2\nA,,1/2-13 hex nut,4,,,\n",
        &[(Question::TooShort, "a grip of 2-1/2")],
    );
    let rows = "A,,1/2-13 x 3 hex bolt,4,,,grip 2-1/2\nA,,1/2-13 hex nut,4,,,\n";
    assert_eq!(
        audit_of(rows).findings[0].question,
        "Is 3-1/4 meant? Grip, washers, nut and two threads come to that."
    );
    sound("A,,1/2-13 x 3-1/4 hex bolt,4,,,grip 2-1/2\nA,,1/2-13 hex nut,4,,,\n");
    asks(
        "A,,3/4-10 x 5/8 hex bolt,4,,,\nA,,3/4-10 hex nut,4,,,\n",
        &[(Question::TooShort, "its own washers and nut alone")],
    );
    asks(
        "A,,1/2-13 x 3-3/16 hex bolt,4,,,\nA,,1/2-13 hex nut,4,,,\n",
        &[(Question::OddLength, "not kept in stock")],
    );
}

/// A length is the item's: it is asked once, with all of its rows, under the stage and place that all share.
#[test]
fn an_odd_length_is_asked_once_an_item() {
    let rows = "A,left,1/2-13 x 3-3/16 hex bolt,4,,,\nA,left,1/2-13 hex nut,8,,,\n\
                B,left,1/2-13 x 3-3/16 hex bolt,4,,,\nB,left,1/2-13 hex nut,4,,,\n";
    let audit = audit_of(rows);
    let odd = |of: &&AuditFinding| of.what == Question::OddLength;
    let [asked] = audit.findings.iter().filter(odd).collect::<Vec<_>>()[..] else {
        panic!("{:?}", audit.findings)
    };
    assert_eq!((asked.stage.as_str(), asked.place.as_str()), ("", "left"));
    let rows: Vec<_> = asked
        .evidence
        .iter()
        .flat_map(|of| of.rows.iter())
        .collect();
    assert_eq!(rows.len(), 2, "{rows:?}");
}

fn sample(job: &str) -> Audit {
    let job = Job::load(job.as_ref()).expect("a job");
    let lists: Vec<List> = job
        .inputs()
        .map(|(role, input)| List::read(input, input.shown.clone(), role, &|_| {}).expect("a list"))
        .collect();
    audit(&job, &lists)
}

/// The two faults planted in the footbridge's parts list are found, and nothing else.
#[test]
fn the_planted_faults_are_found() {
    let audit = sample("samples/footbridge/job.toml");
    let found: Vec<_> = audit
        .findings
        .iter()
        .map(|f| (f.stage.as_str(), f.what, f.weight))
        .collect();
    assert_eq!(
        found,
        [
            ("3 Cross frames", Question::Nuts, Weight::Strong),
            ("7 Rails", Question::TorqueHigh, Weight::Strong),
        ],
        "{:#?}",
        audit.findings
    );
    assert_eq!(audit.findings[0].found, "40 bolts 1/2 and 32 nuts 1/2");
    assert_eq!(audit.findings[1].question, "Is 75 in-lb meant?");
}

#[test]
fn the_shelter_is_sound() {
    assert_eq!(sample("samples/shelter/job.toml").findings, []);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever a list says, it is audited, and each finding names rows of it.
    #[test]
    fn any_list_is_audited(rows in prop::collection::vec(
        (
            "[AB]?",
            "(top|low)?",
            prop::sample::select(vec![
                "1/2 x 6 hex bolt", "1/2-20 x 6 hex bolt, HDG", "1/2 hex nut", "1/2 nylon lock nut, 18-8",
                "1/2 flat washer", "1/2 lock washer", "M12 x 0.0001 hex bolt", "3/8 U-bolt", "1/2 x 6",
                "1/2 threaded rod", "#10 x 3 deck screw", "0 x 0 bolt", "bolt", "99999999 hex nut",
            ]),
            prop::sample::select(vec!["", "0", "1", "7", "40", "999999999", "x"]),
            prop::sample::select(vec!["", "75 ft-lb", "75", "0 ft-lb", "999999 N·m", "snug", "1-2 in-lb (9 Nm)"]),
            prop::sample::select(vec!["", "grip 5", "grip 1/0", "grip 999999.99999"]),
        ),
        1..12,
    )) {
        let text: String = rows
            .iter()
            .map(|(stage, place, item, n, torque, note)| {
                format!("{stage},{place},\"{item}\",{n},,{torque},{note}\n")
            })
            .collect();
        let text = format!("A,,1/2 x 6 hex bolt,1,,,\n{text}");
        for finding in audit_of(&text).findings {
            prop_assert!(!finding.evidence.is_empty());
            prop_assert!(!finding.found.is_empty() && finding.question.ends_with(['?', '.']));
        }
    }
}

/// A stage and size of very many lines is a stock list: nothing is asked of it, nor of what lies beside it
/// there; of other stages it is.
#[test]
fn a_stock_list_is_asked_nothing() {
    let bolts = |lines: u32, nuts: u32| {
        let bolts = (0..lines).map(|at| format!("A,,1/2 x {}/16 hex bolt,4,,,\n", 48 + at));
        let bolts: String = bolts.collect();
        format!(
            "{bolts}A,,1/2 hex nut,{nuts},,,\nA,,5/8 x 6 hex bolt,40,,,\nA,,3/4 hex nut,40,,,\n"
        )
    };
    let asked = |rows: &str, what| {
        let audit = audit_of(rows);
        audit.findings.iter().any(|of| of.what == what)
    };
    assert!(asked(&bolts(90, 360), Question::OddLength));
    assert!(asked(&bolts(90, 360), Question::Diameters));
    assert!(!asked(&bolts(110, 440), Question::OddLength));
    assert!(!asked(&bolts(110, 440), Question::Diameters));
    let other = "B,,1/2 x 6 hex bolt,40,,,\nB,,1/2 hex nut,32,,,\n";
    assert!(asked(
        &format!("{}{other}", bolts(110, 440)),
        Question::Nuts
    ));
}
