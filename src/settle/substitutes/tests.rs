use pretty_assertions::assert_eq;

use crate::{
    hardware::{Diameter, Length},
    kit::{Job, List},
    settle::{
        Account, Claim,
        sample::{ListOf, item, plain, stage},
        settle,
    },
};

/// Rules as a job file has them.
fn job(rules: &str) -> Job {
    Job::parse(rules, "job.toml".as_ref()).expect("a job file")
}

const LONGER: &str = r#"
    [[substitutes]]
    for = "1/2 x 3 hex bolt"
    longer_by = "1/2"
    approved_by = "Ash"
"#;

/// One stage of some items, and a count of some.
fn lists(required: &[(&str, u64)], counted: &[(&str, u64)]) -> Vec<List> {
    let lines = |of: ListOf, lines: &[(&str, u64)]| {
        lines
            .iter()
            .fold(of, |of, (words, pieces)| of.line(words, *pieces, &plain))
            .list()
    };
    vec![
        lines(ListOf::required(), required),
        lines(ListOf::counted(), counted),
    ]
}

/// What serves for what, in words, then what is offered.
fn said(account: &Account) -> Vec<String> {
    let mut said = Vec::new();
    for item in &account.items {
        let sums = &item.sums;
        if sums.required > 0 {
            said.push(format!(
                "{}: {} + {} of {}",
                item.text, sums.covered, sums.substituted, sums.required
            ));
        }
        said.extend(
            item.stand_ins
                .iter()
                .map(|of| format!("  {} {}", of.pieces, of.text)),
        );
        let offered = item
            .findings
            .iter()
            .filter(|f| f.finding.as_str() == "offered");
        said.extend(offered.map(|finding| format!("  offered: {}", finding.note)));
    }
    said
}

#[track_caller]
fn case(rules: &str, required: &[(&str, u64)], counted: &[(&str, u64)], expected: &[&str]) {
    let account = settle(&job(rules), &lists(required, counted)).expect("settles");
    assert_eq!(said(&account), expected);
}

#[test]
fn longer_within_the_limit_and_the_nearest_first() {
    case(
        LONGER,
        &[("bolt hex 1/2 3", 8)],
        &[
            ("bolt hex 1/2 3", 2),
            ("bolt hex 1/2 3-1/2", 3),
            ("bolt hex 1/2 3-1/4", 1),
            ("bolt hex 1/2 3-3/4", 9),
            ("bolt hex 1/2 2-3/4", 9),
        ],
        &[
            "1/2-13 x 3 hex bolt: 2 + 4 of 8",
            "  1 1/2-13 x 3-1/4 hex bolt",
            "  3 1/2-13 x 3-1/2 hex bolt",
            // ASME B18.2.1: the thread of 1/2 up to 6 in is 1-1/4.
            "  offered: 2 pieces of 1/2-13 x 3-3/4 hex bolt over: 3/4 in longer, and its thread \
             reaches only where the joint is at least 2-1/2 in thick. No rule allows it: ask the kit \
             maker.",
        ],
    );
}

#[test]
fn what_is_left_in_stock_is_offered_after_what_lies_on_the_bench() {
    let required = [("bolt hex 1/2 3", 8)];
    let counted = [("bolt hex 1/2 3", 2), ("bolt hex 1/2 3-1/4", 1)];
    let stock = ListOf::stock().line("bolt hex 1/2 3-1/2", 9, &|_, placement| {
        placement.bin = Some("A1".into());
    });
    let mut all = lists(&required, &counted).to_vec();
    all.push(stock.list());
    let account = settle(&Job::default(), &all).expect("settles");
    assert_eq!(
        said(&account)[1..],
        [
            // ASME B18.2.1: the thread of 1/2 up to 6 in is 1-1/4.
            "  offered: 1 piece of 1/2-13 x 3-1/4 hex bolt over: 1/4 in longer, and its thread \
             reaches only where the joint is at least 2 in thick. No rule allows it: ask the kit \
             maker.",
            "  offered: 5 pieces of 1/2-13 x 3-1/2 hex bolt left in the shop's stock (A1): 1/2 in \
             longer, and its thread reaches only where the joint is at least 2-1/4 in thick. No rule \
             allows it: ask the kit maker.",
        ]
    );
    // It is short all the same.
    assert_eq!(account.items[0].sums.short, 6);
}

#[test]
fn the_fewest_short_then_the_fewest_substitutes() {
    // The longer bolts are asked for, too: they go where they belong as far as that costs no piece.
    case(
        LONGER,
        &[("bolt hex 1/2 3", 4), ("bolt hex 1/2 3-1/4", 4)],
        &[
            ("bolt hex 1/2 3", 3),
            ("bolt hex 1/2 3-1/4", 4),
            ("bolt hex 1/2 3-1/2", 1),
        ],
        &[
            "1/2-13 x 3 hex bolt: 3 + 1 of 4",
            "  1 1/2-13 x 3-1/2 hex bolt",
            "1/2-13 x 3-1/4 hex bolt: 4 + 0 of 4",
        ],
    );
}

#[test]
fn the_next_grade_up_and_another_style() {
    let rules = r#"
        [[substitutes]]
        for = "1/2 x 3 hex bolt, Grade 5"
        grades_up = 1
        approved_by = "Ash"

        [[substitutes]]
        for = "USS flat washer"
        use = "SAE flat washer"
        approved_by = "Ash"
    "#;
    case(
        rules,
        &[
            ("bolt hex 1/2 3 g5", 4),
            ("washer uss 1/2", 8),
            ("washer uss 5/8", 8),
        ],
        &[
            ("bolt hex 1/2 3 g5", 0),
            ("bolt hex 1/2 3 g8", 4),
            ("washer uss 1/2", 0),
            ("washer sae 1/2", 5),
            ("washer uss 5/8", 8),
        ],
        &[
            "1/2-13 x 3 hex bolt, Grade 5: 0 + 4 of 4",
            "  4 1/2-13 x 3 hex bolt, Grade 8",
            "1/2 USS flat washer: 0 + 5 of 8",
            "  5 1/2 SAE flat washer",
            "5/8 USS flat washer: 8 + 0 of 8",
        ],
    );
}

#[test]
fn a_weaker_or_shorter_piece_is_not_even_offered() {
    case(
        "",
        &[("bolt hex 1/2 3 g5", 4), ("bolt carriage 1/2 3", 2)],
        &[("bolt hex 1/2 2-3/4 g5", 4), ("bolt hex 1/2 4-1/4 g5", 4)],
        &[
            "1/2-13 x 3 hex bolt, Grade 5: 0 + 0 of 4",
            "1/2-13 x 3 carriage bolt: 0 + 0 of 2",
        ],
    );
}

#[test]
fn the_thread_must_reach() {
    // ASME B18.2.1: 5/8 x 6 has 1-1/2 of thread, so 4-1/2 of plain shank; 6-1/2 has 1-3/4, 4-3/4.
    let reaches = |bolt: &str, grip: &str| {
        let grip = crate::notation::length(grip).expect("a length");
        super::reaches(&item(bolt), grip)
    };
    assert!(reaches("bolt hex 5/8 6", "4-1/2"));
    assert!(!reaches("bolt hex 5/8 6", "4-3/8"));
    assert!(reaches("bolt hex 5/8 6 full", "4-3/8"));
    // And a nut must have room behind it.
    assert!(reaches("bolt hex 5/8 6", "5-3/8"));
    assert!(!reaches("bolt hex 5/8 6", "5-1/2"));
    assert!(!reaches("bolt hex 5/8 6", "100 mm"));
    let rule = |grip: &str| {
        format!(
            "[[substitutes]]\nfor = \"5/8 x 5-1/2 hex bolt\"\nlonger_by = \"1/2\"\n\
             grip = \"{grip}\"\napproved_by = \"Ash\"\n"
        )
    };
    let required = [("bolt hex 5/8 5-1/2", 2)];
    let counted = [("bolt hex 5/8 5-1/2", 0), ("bolt hex 5/8 6", 2)];
    case(
        &rule("4-5/8"),
        &required,
        &counted,
        &[
            "5/8-11 x 5-1/2 hex bolt: 0 + 2 of 2",
            "  2 5/8-11 x 6 hex bolt",
        ],
    );
    // Too thin: not used, and not offered.
    case(
        &rule("4-1/8"),
        &required,
        &counted,
        &["5/8-11 x 5-1/2 hex bolt: 0 + 0 of 2"],
    );
}

#[test]
fn some_stages_only() {
    let rules = r#"
        [[substitutes]]
        for = "1/2 hex nut"
        use = "1/2 nylon-insert lock nut"
        stages = ["Rails"]
        approved_by = "Ash"
    "#;
    let lists = [
        ListOf::required()
            .line("nut hex 1/2", 4, &stage("Sills"))
            .line("nut hex 1/2", 4, &stage("Rails"))
            .list(),
        ListOf::counted()
            .line("nut hex 1/2", 1, &plain)
            .line("nut nylon 1/2", 9, &plain)
            .list(),
    ];
    let account = settle(&job(rules), &lists).expect("settles");
    let shares: Vec<_> = account.items[0]
        .shares
        .iter()
        .map(|s| (s.covered, s.substituted, s.short))
        .collect();
    assert_eq!(shares, [(1, 0, 3), (0, 4, 0)]);
    assert_eq!(account.items[1].sums.used_as_substitute, 4);
}

#[test]
fn by_id_and_by_number() {
    let rules = |asked: &str, instead: &str| {
        format!("[[substitutes]]\nfor = \"{asked}\"\nuse = \"{instead}\"\napproved_by = \"Ash\"\n")
    };
    let shoe = item("part TB-1 shoe");
    let required = [("part TB-1 shoe", 2)];
    let counted = [("part TB-1 shoe", 0), ("part TB-2 shoe, new pattern", 2)];
    let expected = [
        "shoe [part TB-1]: 0 + 2 of 2",
        "  2 shoe, new pattern [part TB-2]",
    ];
    case(&rules("TB-1", "tb-2"), &required, &counted, &expected);
    case(&rules(&shoe.id(), "TB-2"), &required, &counted, &expected);
}

/// Pieces claimed of each item.
fn claimed(rules: &str, required: &[(&str, u64)], counted: &[(&str, u64)]) -> Vec<u64> {
    let (job, lists) = (job(rules), lists(required, counted));
    let account = settle(&job, &lists).expect("settles");
    let claim = Claim::of(&job, &lists, &account);
    let of = |at| claim.claimed.iter().filter(move |line| line.item == at);
    (0..account.items.len())
        .map(|at| of(at).map(|line| line.pieces).sum())
        .collect()
}

#[test]
fn a_substitute_is_claimed_unless_the_approver_closed_it() {
    let required = [("bolt hex 1/2 3", 4)];
    let counted = [("bolt hex 1/2 3", 1), ("bolt hex 1/2 3-1/4", 2)];
    assert_eq!(claimed(LONGER, &required, &counted), [3, 0]);
    let closed = format!("{LONGER}\ncloses_claim = true");
    assert_eq!(claimed(&closed, &required, &counted), [1, 0]);
}

#[test]
fn a_piece_that_stands_in_is_not_claimed_where_it_lacks() {
    // The first stage takes the longer bolt, so that the second lacks it: one piece is due, not two.
    let lists = |of: &Job| {
        let lists = [
            ListOf::required()
                .line("bolt hex 1/2 3", 1, &stage("Sills"))
                .line("bolt hex 1/2 3-1/4", 1, &stage("Rails"))
                .list(),
            ListOf::counted()
                .line("bolt hex 1/2 3", 0, &plain)
                .line("bolt hex 1/2 3-1/4", 1, &plain)
                .list(),
        ];
        let account = settle(of, &lists).expect("settles");
        let claim = Claim::of(of, &lists, &account);
        let lines = claim.claimed.iter();
        lines
            .map(|line| (line.item, line.pieces))
            .collect::<Vec<_>>()
    };
    assert_eq!(lists(&job(LONGER)), [(0, 1)]);
    // Where the approver holds the first for delivered, the second is due.
    let closed = format!("{LONGER}\ncloses_claim = true");
    assert_eq!(lists(&job(&closed)), [(1, 1)]);
}

/// The error of some rules, each its own lines of a job file.
#[track_caller]
fn refused(rules: &str, expected: &str) {
    let required = [
        ("bolt hex 1/2 3", 4),
        ("bolt hex 1/2 4", 4),
        ("washer uss 1/2", 1),
    ];
    let counted = [
        ("bolt hex 1/2 3", 1),
        ("bolt hex 1/2 3-1/4", 9),
        ("bolt hex 1/2 4", 1),
        ("washer sae 1/2", 1),
    ];
    let parsed = Job::parse(rules, "job.toml".as_ref());
    let settled = parsed.and_then(|job| settle(&job, &lists(&required, &counted)));
    assert_eq!(settled.expect_err("must be refused").to_string(), expected);
}

fn rule(keys: &str) -> String {
    format!("[[substitutes]]\n{keys}\napproved_by = \"Ash\"\n")
}

#[test]
fn bad_rules_are_named_with_their_rows() {
    refused(
        "[[substitutes]]\nfor = \"1/2 x 3 hex bolt\"\nlonger_by = \"1/4\"\n",
        "job.toml, line 1: nobody has approved the substitute for \"1/2 x 3 hex bolt\"\n  what to do: \
         say who did (approved_by, or a table's column \"approved by\"); without that it is only offered",
    );
    refused(
        &rule("for = \"1/2 x 3 hex bolt\""),
        "job.toml, line 1: the rule does not say what may be used for \"1/2 x 3 hex bolt\"\n  what to \
         do: name it under \"use\", or give a limit: longer by, shorter by, grades up",
    );
    refused(
        &rule("for = \"1/2 x 3 hex bolt\"\nlonger_by = \"a bit\""),
        "job.toml, line 1: \"a bit\" under \"longer by\" is no length\n  what to do: write 1/4, 1/4 in \
         or 6 mm",
    );
    refused(
        &rule("for = \"1/2 x 3 hex bolt with nut\"\ngrades_up = 1"),
        "job.toml, line 1: \"1/2 x 3 hex bolt with nut\" does not read as one item: 2 items are named\n  \
         what to do: write a size and a kind as on the lists (1/2 x 3 hex bolt), a family (1/2 hex \
         nut), an id or a part number",
    );
}

#[test]
fn contradictions() {
    refused(
        &rule("for = \"1/2 x 3 hex bolt\"\nuse = \"1/2 x 3-1/4 hex bolt\"\nlonger_by = \"1/8\""),
        "job.toml, line 1: the rule contradicts itself: 3-1/4 is beyond its own limits for 3\n  what to \
         do: mend the limit, or take it out: the piece is named in full",
    );
    let two = |first: &str, second: &str| format!("{}{}", rule(first), rule(second));
    refused(
        &two(
            "for = \"1/2 x 3 hex bolt\"\nlonger_by = \"1/4\"",
            "for = \"1/2 X 3  Hex Bolt\"\nlonger_by = \"1/2\"",
        ),
        "job.toml, line 5: the rule for \"1/2 X 3  Hex Bolt\" contradicts that in job.toml, line 1: \
         their limits differ\n  what to do: keep one of the two, or give them different stages",
    );
    refused(
        &two(
            "for = \"1/2 x 3 hex bolt\"\nlonger_by = \"1/4\"",
            "for = \"hex bolt\"\nlonger_by = \"1/2\"\ncloses_claim = true",
        ),
        "job.toml, line 5: the rule contradicts that in job.toml, line 1: both allow 1/2-13 x 3-1/4 hex \
         bolt for 1/2-13 x 3 hex bolt, and only one of them closes the claim\n  what to do: say the \
         same in both, or give them different stages",
    );
}

/// A limit without a unit is in that of the piece.
#[test]
fn bare_limits() {
    let lists = |over: i64| {
        let bolt = |list: ListOf, length: i64, pieces: u64| {
            list.line("bolt hex 1/2 3", pieces, &plain).edit(|list| {
                let reading = list.readings.last_mut().expect("just pushed");
                reading.item.diameter = Some(Diameter::Metric(8.into()));
                reading.item.length = Some(Length::Millimetre(length.into()));
            })
        };
        [
            bolt(ListOf::required(), 80, 4).list(),
            bolt(bolt(ListOf::counted(), 80, 0), over, 4).list(),
        ]
    };
    let rule = |limit: &str| {
        job(&format!(
            "[[substitutes]]\nfor = \"M8 x 80 hex bolt\"\nlonger_by = {limit}\napproved_by = \"Ash\""
        ))
    };
    for (limit, over, used) in [("10", 90, 4), ("10", 95, 0), ("\"10 mm\"", 90, 4)] {
        let account = settle(&rule(limit), &lists(over)).expect("settles");
        assert_eq!(account.totals.substituted, used, "{limit} {over}");
    }
}

#[test]
fn circles() {
    let round = |limit: &str| {
        let first = rule("for = \"1/2 x 3 hex bolt\"\nuse = \"1/2 x 4 hex bolt\"");
        let second = format!("for = \"1/2 x 4 hex bolt\"\nuse = \"1/2 x 3 hex bolt\"{limit}");
        format!("{first}{}", rule(&second))
    };
    refused(
        &round(""),
        "job.toml, line 1: the rule closes a circle with job.toml, line 5, and none of them has a \
         limit\n  what to do: take one of them out, or give one a limit or stages",
    );
    let lists = lists(
        &[("bolt hex 1/2 3", 4), ("bolt hex 1/2 4", 4)],
        &[("bolt hex 1/2 3", 3), ("bolt hex 1/2 4", 5)],
    );
    let account = settle(&job(&round("\nshorter_by = \"1\"")), &lists).expect("settles");
    assert_eq!(
        account.rule_notes,
        [
            "job.toml, line 1 and job.toml, line 5: items may stand in for one another in a circle; the \
          limits make it sound"
        ]
    );
    assert_eq!((account.totals.substituted, account.totals.short), (1, 0));
}

#[test]
fn rules_that_do_nothing_are_said() {
    let rules = format!(
        "{}{}",
        rule("for = \"1/2 x 7 hex bolt\"\ngrades_up = 1"),
        rule("for = \"1/2 x 3 hex bolt\"\nlonger_by = \"1/4\"\nstages = [\"Roof\"]")
    );
    let lists = lists(&[("bolt hex 1/2 3", 4)], &[("bolt hex 1/2 3", 4)]);
    let account = settle(&job(&rules), &lists).expect("settles");
    assert_eq!(
        account.rule_notes,
        [
            "job.toml, line 1: no required list asks for \"1/2 x 7 hex bolt\"",
            "job.toml, line 5: no list names a stage \"Roof\""
        ]
    );
}

#[test]
fn a_rule_that_allows_no_piece_is_said() {
    let rules = rule("for = \"1/2 x 3 hex bolt\"\nlonger_by = \"1/4\"");
    let of = |counted: &[(&str, u64)]| {
        let lists = lists(&[("bolt hex 1/2 3", 4)], counted);
        settle(&job(&rules), &lists).expect("settles").rule_notes
    };
    // What is there is too long.
    let none = "job.toml, line 1: no slip, count or stock has a piece that it allows, other than what is asked for";
    assert_eq!(of(&[("bolt hex 1/2 3", 4), ("bolt hex 1/2 4", 4)]), [none]);
    assert!(of(&[("bolt hex 1/2 3-1/4", 4)]).is_empty());
}
