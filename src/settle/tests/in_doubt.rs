//! A line of which it is in doubt how many it means makes no plain yes, and what may be there is not claimed.

use pretty_assertions::assert_eq;

use super::*;
use crate::doubt::Doubt;

const BOLT: &str = "bolt hex 1/2 3";

fn doubted(doubt: Doubt) -> impl Fn(&mut Line, &mut Placement) {
    move |line, _| line.more_mut().doubts.push(doubt.clone())
}

fn other(pieces: u64) -> Doubt {
    Doubt::OrElse {
        pieces,
        said: format!("{pieces} may be meant").into(),
    }
}

#[test]
fn covered_by_a_number_in_doubt_is_no_plain_yes() {
    let remark = || Doubt::Remark("2 bent".into());
    let required = || ListOf::required().line(BOLT, 12, &plain).list();
    let slip = || ListOf::shipped().line(BOLT, 12, &plain).list();
    let sure_count = || ListOf::counted().line(BOLT, 12, &plain).list();
    let doubted_slip = || ListOf::shipped().line(BOLT, 12, &doubted(remark())).list();
    let cases = [
        (
            [
                required(),
                slip(),
                ListOf::counted().line(BOLT, 12, &doubted(remark())).list(),
            ],
            Verdict::CannotSay,
        ),
        (
            [
                ListOf::required().line(BOLT, 12, &doubted(remark())).list(),
                slip(),
                sure_count(),
            ],
            Verdict::CannotSay,
        ),
        // What is counted in full rests on no slip.
        ([required(), doubted_slip(), sure_count()], Verdict::Yes),
        (
            [
                required(),
                slip(),
                ListOf::counted()
                    .line(BOLT, 12, &doubted(Doubt::NoKind))
                    .list(),
            ],
            Verdict::Yes,
        ),
    ];
    for (at, (lists, verdict)) in cases.into_iter().enumerate() {
        let account = settle(&job(), &lists).expect("settles");
        assert_eq!((at, account.verdict), (at, verdict));
        assert_eq!((at, account.stages[0].ready), (at, verdict));
        if verdict == Verdict::CannotSay {
            assert!(
                account.reasons[0].contains("another number may be meant: the remark \"2 bent\""),
                "{:?}",
                account.reasons
            );
        }
    }
}

#[test]
fn what_may_be_there_is_not_claimed() {
    let said = |required: Option<u64>, shipped: Option<u64>| {
        let mark = |number: Option<u64>| {
            move |line: &mut Line, _: &mut Placement| {
                let doubts = number.map(other);
                if let Some(doubt) = doubts {
                    line.more_mut().doubts.push(doubt);
                }
            }
        };
        let lists = [
            ListOf::required().line(BOLT, 60, &mark(required)).list(),
            ListOf::shipped().line(BOLT, 6, &mark(shipped)).list(),
        ];
        let account = settle(&job(), &lists).expect("settles");
        let claim = Claim::of(&job(), &lists, &account);
        let claimed: u64 = claim.claimed.iter().map(|line| line.pieces).sum();
        (account.verdict, claimed)
    };
    assert_eq!(said(None, None), (Verdict::No, 54));
    // 60, or 6 in all; 6, or 60.
    assert_eq!(said(Some(6), None), (Verdict::CannotSay, 0));
    assert_eq!(said(None, Some(60)), (Verdict::CannotSay, 0));
    // More required, or fewer there: short all the same.
    assert_eq!(said(Some(600), None), (Verdict::No, 54));
    assert_eq!(said(None, Some(3)), (Verdict::No, 54));
}

/// What is covered by the likelier number of a line, and lacks by the other.
#[test]
fn what_may_lack_is_listed() {
    #[track_caller]
    fn case(lists: [List; 3], expected: u64) {
        let account = settled(&job(), &lists);
        let item = &account.items[0];
        assert_eq!((item.sums.short, item.may_lack()), (0, expected));
        let found = item.findings.iter();
        let found = found.filter(|of| of.finding == FindingKind::NumberInDoubt);
        let pieces: u64 = found.map(|of| of.pieces).sum();
        let claim = Claim::of(&job(), &lists, &account);
        let left_out = claim.left_out.iter();
        let left_out =
            left_out.filter(|of| of.why == crate::settle::claim::Omission::NumberInDoubt);
        let left_out: u64 = left_out.filter_map(|of| of.pieces).sum();
        assert_eq!((pieces, left_out), (expected, expected));
        assert_eq!(claim.claimed, []);
        let open = account.stages[0].reasons.iter();
        let open = open.filter(|reason| reason.contains("in doubt as to how many"));
        assert_eq!(open.count() as u64, expected.min(1));
    }
    let required = || ListOf::required().line(BOLT, 12, &plain).list();
    let asked = |doubt: Doubt| ListOf::required().line(BOLT, 12, &doubted(doubt)).list();
    let slip = || ListOf::shipped().line(BOLT, 12, &plain).list();
    let sent = |doubt: Doubt| ListOf::shipped().line(BOLT, 12, &doubted(doubt)).list();
    let none = || ListOf::counted().list();
    let counted =
        |pieces: u64, doubt: Doubt| ListOf::counted().line(BOLT, pieces, &doubted(doubt)).list();
    let remark = |said: &str| Doubt::Remark(said.into());
    case([required(), slip(), counted(12, other(10))], 2);
    // What is over goes first.
    case([required(), slip(), counted(13, other(10))], 2);
    case([required(), slip(), counted(14, other(13))], 0);
    case([required(), slip(), counted(12, other(20))], 0);
    case([required(), slip(), counted(12, remark("2 bent"))], 2);
    case(
        [required(), slip(), counted(12, remark("received: no"))],
        12,
    );
    case([required(), sent(remark("Backordered")), none()], 12);
    case([required(), sent(remark("4 to follow")), none()], 4);
    // What was counted rests on no slip.
    case(
        [
            required(),
            sent(remark("4 to follow")),
            counted(12, Doubt::NoKind),
        ],
        0,
    );
    case([asked(other(16)), slip(), none()], 4);
    case([asked(other(6)), slip(), none()], 0);
}

/// By a question about all figures of a sheet, more may be there or fewer required.
#[test]
fn what_a_question_of_all_figures_leaves_open_is_not_claimed() {
    let asks = |mut list: List, open: bool| {
        match open {
            true => list.sheets[0].ask_of_figures("times two?".to_owned()),
            false => list.sheets[0].ask("is it a count?".to_owned()),
        }
        list
    };
    for open in [true, false] {
        let required = ListOf::required().line(BOLT, 12, &plain).list();
        let slip = ListOf::shipped().line(BOLT, 6, &plain).list();
        for lists in [
            [asks(required.clone(), open), slip.clone()],
            [required.clone(), asks(slip.clone(), open)],
        ] {
            let expected = match open {
                true => (Verdict::CannotSay, Some(LeftOpen::NumberInDoubt), 0),
                false => (Verdict::No, None, 6),
            };
            let account = settled(&job(), &lists);
            let claim = Claim::of(&job(), &lists, &account);
            let claimed: u64 = claim.claimed.iter().map(|line| line.pieces).sum();
            let found = (account.verdict, account.items[0].open, claimed);
            assert_eq!(found, expected);
        }
    }
}

/// What is to follow is asked after, and not missing.
#[test]
fn what_the_slip_says_will_follow_is_back_ordered() {
    use crate::settle::claim::Cause;
    let said = |pieces: Option<u64>, remark: &str| {
        let lists = [
            ListOf::required().line(BOLT, 12, &plain).list(),
            ListOf::shipped()
                .line(BOLT, pieces, &doubted(Doubt::Remark(remark.into())))
                .list(),
        ];
        let account = settled(&job(), &lists);
        let claim = Claim::of(&job(), &lists, &account);
        [Cause::Missing, Cause::BackOrdered].map(|cause| claim.pieces(cause))
    };
    assert_eq!(said(Some(0), "to follow"), [0, 12]);
    assert_eq!(said(None, "Back-ordered"), [0, 12]);
    assert_eq!(said(Some(0), "out of stock"), [12, 0]);
}

/// What is short whatever number the lines in doubt mean stops the build.
#[test]
fn what_is_short_at_least() {
    let how_many = || Doubt::HowMany("how many is not said".into());
    let settled = |required: Option<Doubt>, counted: (u64, Option<Doubt>)| {
        let line = |list: ListOf, pieces: u64, doubt: Option<Doubt>| match doubt {
            Some(doubt) => list.line(BOLT, pieces, &doubted(doubt)).list(),
            None => list.line(BOLT, pieces, &plain).list(),
        };
        let lists = [
            line(ListOf::required(), 16, required),
            line(ListOf::counted(), counted.0, counted.1),
        ];
        let account = settle(&job(), &lists).expect("settles");
        (account.verdict, account.items[0].shares[0].at_least)
    };
    let cases = [
        ((Some(other(4)), (0, None)), 4),
        ((Some(other(4)), (3, None)), 1),
        ((Some(other(4)), (4, None)), 0),
        ((Some(how_many()), (0, None)), 1),
        // "optional": perhaps none.
        ((Some(Doubt::Remark("optional".into())), (0, None)), 0),
        ((None, (8, Some(other(12)))), 4),
        ((None, (8, Some(how_many()))), 0),
    ];
    for ((required, counted), least) in cases {
        let told = format!("{required:?} {counted:?}");
        let verdict = match least {
            0 => Verdict::CannotSay,
            _ => Verdict::No,
        };
        assert_eq!(settled(required, counted), (verdict, least), "{told}");
    }
}

/// Stock of which some may not be free bears on what is taken from it, and on nothing else.
#[test]
fn stock_in_doubt_bears_on_what_is_taken_from_it() {
    let reserved = || Doubt::HowMany("8 reserved".into());
    let stock = |pieces: u64| {
        ListOf::new(Role::Stock, "stock.csv")
            .line(BOLT, pieces, &doubted(reserved()))
            .list()
    };
    let counted = |pieces: u64| ListOf::counted().line(BOLT, pieces, &plain).list();
    let required = || ListOf::required().line(BOLT, 12, &plain).list();
    for (there, verdict) in [(12, Verdict::Yes), (8, Verdict::CannotSay)] {
        let account = settled(&job(), &[required(), counted(there), stock(10)]);
        assert_eq!(account.verdict, verdict, "{there}");
        let told = account.reasons.iter().any(|of| of.contains("8 reserved"));
        assert_eq!(told, verdict == Verdict::CannotSay);
    }
}
