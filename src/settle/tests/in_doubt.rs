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
