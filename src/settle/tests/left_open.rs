//! What slips and counts leave open is no shortage, and nobody is accused of it.

use pretty_assertions::assert_eq;

use super::*;

/// The claim's lines, and what is left out of it: pieces, item, why.
fn claimed(job: &Job, lists: &[List], account: &Account) -> (Vec<u64>, Vec<String>) {
    let claim = Claim::of(job, lists, account);
    let left_out = claim.left_out.iter();
    let left_out = left_out.map(|of| format!("{}: {}", of.what, of.why));
    let lines = claim.claimed.iter().map(|line| line.pieces);
    (lines.collect(), left_out.collect())
}

/// A line that is aside for its figure alone.
fn figure_aside(list: ListOf, words: &str) -> List {
    let mut list = list.line(words, None, &plain).list();
    let reading = list.readings.len() as u32 - 1;
    let what = list.put_aside(crate::kit::Aside::BadQuantity("8 + 2".into()));
    let What::Aside(aside) = what else {
        unreachable!("put aside");
    };
    list.named_aside.push((aside, reading));
    let line = list.lines.last_mut().expect("just pushed");
    line.what = what;
    list
}

#[test]
fn a_slip_whose_figure_was_not_read_is_not_short() {
    let required = ListOf::required().line("bolt hex 1/2 3", 12, &plain).list();
    let slips = [
        ListOf::shipped()
            .line("bolt hex 1/2 3", None, &plain)
            .list(),
        figure_aside(ListOf::shipped(), "bolt hex 1/2 3"),
        // It may be that bolt.
        ListOf::shipped().line("1/2 3", None, &plain).list(),
    ];
    for slip in slips {
        let lists = [required.clone(), slip];
        let account = case(
            &job(),
            &lists,
            &["1/2-13 x 3 hex bolt: 0/12, figure not read 12"],
        );
        assert_eq!(account.verdict, Verdict::CannotSay);
        assert_eq!(account.stops_at, None);
        let rows = &account.items[0].findings[0].evidence;
        assert!(rows.iter().any(|of| of.list == 1 && *of.rows == [(2, 2)]));
        let (claim, left_out) = claimed(&job(), &lists, &account);
        assert!(claim.is_empty());
        assert_eq!(
            left_out,
            [
                "1/2-13 x 3 hex bolt: a slip or a count names it, and its figure was not read: read it first"
            ]
        );
    }
}

#[test]
fn a_slip_that_is_read_stands_beside_one_that_is_not() {
    let lists = [
        ListOf::required()
            .line("bolt hex 1/2 3", 12, &plain)
            .line("nut hex 1/2", 12, &plain)
            .line("washer uss 1/2", 24, &plain)
            .list(),
        ListOf::shipped()
            .line("bolt hex 1/2 3", 8, &plain)
            .line("bolt hex 1/2 3", None, &plain)
            .line("nut hex 1/2", 10, &plain)
            .line("washer uss 1/2", None, &plain)
            .list(),
        // What is counted is known, whatever the slip lists.
        ListOf::counted().line("washer uss 1/2", 20, &plain).list(),
    ];
    let account = case(
        &job(),
        &lists,
        &[
            "1/2-13 x 3 hex bolt: 8/12, figure not read 4",
            "1/2-13 hex nut: 10/12, slip is short 2",
            "1/2 USS flat washer: 20/24, figure not read 24",
        ],
    );
    assert_eq!(account.verdict, Verdict::No);
    assert_eq!(claimed(&job(), &lists, &account).0, [2, 4]);
}

#[test]
fn a_box_of_which_a_count_was_not_read_is_not_short() {
    let counts = [
        figure_aside(
            ListOf::counted().line("nut hex 1/2", 5, &bag("A")),
            "nut hex 1/2",
        ),
        figure_aside(ListOf::counted(), "nut hex 1/2"),
    ];
    let expected = [
        "1/2-13 hex nut: 5/12, figure not read 7",
        "1/2-13 hex nut: 12/12",
    ];
    for (count, expected) in counts.into_iter().zip(expected) {
        let lists = [
            ListOf::required().line("nut hex 1/2", 12, &plain).list(),
            ListOf::shipped().line("nut hex 1/2", 12, &plain).list(),
            count,
        ];
        let account = case(&job(), &lists, &[expected]);
        assert_eq!(account.verdict, Verdict::CannotSay);
        assert!(claimed(&job(), &lists, &account).0.is_empty());
    }
}

#[test]
fn a_credit_takes_back_and_covers_nothing() {
    let credit = |line: &mut Line, _: &mut Placement| {
        line.more_mut().doubts = vec![crate::Doubt::Credit("-2".into())];
    };
    let lists = [
        ListOf::required().line("nut hex 1/2", 12, &plain).list(),
        ListOf::shipped()
            .line("nut hex 1/2", 10, &plain)
            .line("nut hex 1/2", None, &credit)
            .list(),
    ];
    case(&job(), &lists, &["1/2-13 hex nut: 10/12, slip is short 2"]);
}

#[test]
fn names_of_one_part_are_one_item() {
    let lists = [
        ListOf::required()
            .line("part - ridge clip", 7, &plain)
            .line("part - cover strip 1800 x 90", 9, &plain)
            .line("part 0090208 hanger,joist,2x8", 28, &plain)
            .line("part TB-1 strut", 4, &plain)
            .line("part - shoe, left", 2, &plain)
            .line("part - shoe, right", 2, &plain)
            .list(),
        ListOf::shipped()
            .line("part - ridge clips", 7, &plain)
            .line("part - cover strips 1800x90", 8, &plain)
            .line("part 0090208 joist hanger 2x8", 28, &plain)
            .line("part TB-1 diagonal", 4, &plain)
            .line("part - shoes, left", 4, &plain)
            .list(),
        ListOf::counted()
            .line("part - joist hanger 2x8", 26, &plain)
            .line("part - diagonals", 4, &plain)
            .list(),
    ];
    let account = case(
        &job(),
        &lists,
        &[
            "ridge clip: 7/7",
            "cover strip 1800 x 90 [part]: 8/9, slip is short 1",
            "hanger,joist,2x8 [part 0090208]: 26/28, box is short 2",
            "strut [part TB-1]: 4/4",
            "shoe, left: 2/2 +2, extra 2",
            "shoe, right: 0/2, slip is short 2",
        ],
    );
    let doubts = account.items[3].doubts.iter().map(ToString::to_string);
    assert_eq!(
        doubts.collect::<Vec<_>>(),
        ["\"diagonals\" is taken for \"strut\": both bear part number TB-1"]
    );
}

#[test]
fn a_qualifier_more_is_a_question() {
    let lists = [
        ListOf::required()
            .line("part - roof post, with foot", 6, &plain)
            .line("part - cross brace", 4, &plain)
            .list(),
        ListOf::shipped()
            .line("part P1 posts", 6, &plain)
            .line("part - cross brace", 3, &plain)
            .line("part - cross brace, long", 1, &plain)
            .list(),
        ListOf::counted()
            .line("part - cross brace", 3, &plain)
            .list(),
    ];
    let account = case(
        &job(),
        &lists,
        &[
            "roof post, with foot: 0/6, may be the same as another 6",
            "cross brace: 3/4, slip is short 1, may be the same as another 1",
            "posts [part P1]: 0/0 +6, not on the list 6, extra 6, may be the same as another 6",
            "cross brace, long: 0/0 +1, not on the list 1, extra 1, may be the same as another 1",
        ],
    );
    // What was counted is known; the other may lie there under the slip's name.
    assert_eq!(account.verdict, Verdict::No);
    assert_eq!(
        account.items[0].findings[0].note,
        "may be the same as posts [part P1] (6 pieces there): if it is, write both alike in one of the lists."
    );
    let (claim, left_out) = claimed(&job(), &lists, &account);
    assert_eq!(claim, [1]);
    let settle_first = "perhaps the same as another item by other words: settle that first";
    assert!(left_out.contains(&format!("roof post, with foot: {settle_first}")));
}

// A kit's pieces are marked so that they can be told apart. Common practice, no source.
#[test]
fn one_mark_is_one_part() {
    let lists = [
        ListOf::required()
            .line("part - roof post p1, with foot", 6, &plain)
            .line("part - purlin z40, 3 m", 8, &plain)
            .list(),
        ListOf::shipped()
            .line("part P1 posts", 6, &plain)
            .line("part - purlin z40", 7, &plain)
            .list(),
    ];
    let account = case(
        &job(),
        &lists,
        &[
            "roof post p1, with foot [part P1]: 6/6",
            "purlin z40, 3 m [part]: 7/8, slip is short 1",
        ],
    );
    let doubts = account.items.iter().flat_map(|item| &item.doubts);
    assert_eq!(
        doubts.map(ToString::to_string).collect::<Vec<_>>(),
        [
            "\"posts\" is taken for \"roof post p1, with foot\": both bear the mark P1, and nothing else does",
            "\"purlin z40\" is taken for \"purlin z40, 3 m\": both bear the mark Z40, and nothing else does",
        ]
    );
}
