//! Slips and counts that say again what others said, and names of one's own for what the lists ask for.

use pretty_assertions::assert_eq;

use super::*;

const BOLT: &str = "bolt hex 1/2 6";
const NUT: &str = "nut hex 1/2";
const WASHER: &str = "washer uss 1/2";

/// Bolts, nuts and washers.
fn three(list: ListOf, pieces: [u64; 3]) -> ListOf {
    let lines = [BOLT, NUT, WASHER].into_iter().zip(pieces);
    lines.fold(list, |list, (words, pieces)| {
        list.line(words, pieces, &plain)
    })
}

fn slip(file: &str, pieces: [u64; 3]) -> ListOf {
    three(ListOf::new(Role::Shipped, file), pieces)
}

fn dated(list: ListOf, date: &str) -> List {
    list.edit(|list| list.date = Some(date.to_owned())).list()
}

#[test]
fn a_corrected_slip_is_no_second_parcel() {
    let required = three(ListOf::required(), [8, 8, 16]).list();
    let lists = |first: ListOf, second: ListOf| [required.clone(), first.list(), second.list()];
    refused(
        &job(),
        &lists(slip("slip.csv", [8, 8, 16]), slip("again.csv", [8, 8, 16])),
        "again.csv: 3 of its 3 items stand in the same numbers in slip.csv, and both together are more than is \
         required: two slips of one delivery are not added up\n  what to do: give the one that holds (a corrected \
         slip takes the place of the first); where both parcels came, number them in the job file: shipped = [{ file \
         = \"slip.csv\", parcel = 1 }, { file = \"again.csv\", parcel = 2 }]",
    );
    // Of one number, half of the lines tell.
    let numbered = |list: ListOf, number: &str| {
        let list = list.line("part - rail", 2, &plain);
        list.edit(|list| list.slip_number = Some(number.into()))
    };
    let corrected = || slip("again.csv", [8, 7, 16]).line("part - rail", 2, &plain);
    let two = lists(
        numbered(slip("slip.csv", [8, 8, 16]), "7001"),
        numbered(slip("again.csv", [8, 7, 16]), "7001 (corrected)"),
    );
    assert!(settle(&job(), &two).is_err());
    let two = lists(numbered(slip("slip.csv", [8, 8, 16]), "7001"), corrected());
    assert!(settle(&job(), &two).is_ok());
    // Two kits, a slip each; what the first lacked; the job's word.
    let two_kits = Job { kits: 2, ..job() };
    let each = lists(slip("one.csv", [8, 8, 16]), slip("two.csv", [8, 8, 16]));
    case(
        &two_kits,
        &each,
        &[
            "1/2-13 x 6 hex bolt: 16/16",
            "1/2-13 hex nut: 16/16",
            "1/2 USS flat washer: 32/32",
        ],
    );
    let halves = lists(slip("one.csv", [4, 4, 8]), slip("two.csv", [4, 4, 8]));
    assert!(settle(&job(), &halves).is_ok());
    let parcel = |list: ListOf, number| list.edit(|list| list.parcel = Some(number));
    let both = lists(
        parcel(slip("one.csv", [8, 8, 16]), 1),
        parcel(slip("two.csv", [8, 8, 16]), 2),
    );
    assert!(settle(&job(), &both).is_ok());
}

#[test]
fn the_later_count_of_a_bag_holds() {
    let required = three(ListOf::required(), [8, 8, 16]).list();
    let count = |file: &str, nuts: u64, name: &str| {
        ListOf::new(Role::Counted, file).line(NUT, nuts, &bag(name))
    };
    let whole = three(ListOf::counted(), [8, 0, 16]).edit(|list| {
        list.lines.remove(1);
    });
    let monday = || dated(count("monday.csv", 6, "B"), "2 March 2026");
    let tuesday = || dated(count("tuesday.csv", 8, "B"), "3 March 2026");
    for (one, other) in [(monday(), tuesday()), (tuesday(), monday())] {
        let lists = [required.clone(), whole.clone().list(), one, other];
        let account = settled(&job(), &lists);
        assert_eq!(account.verdict, Verdict::Yes, "{:?}", account.reasons);
        let nuts = account
            .items
            .iter()
            .find(|item| item.text == "1/2-13 hex nut");
        let doubts = nuts.into_iter().flat_map(|item| &item.doubts);
        let doubts: Vec<String> = doubts.map(ToString::to_string).collect();
        assert_eq!(
            doubts,
            ["Bag B was counted twice: tuesday.csv, which is later than monday.csv, holds"]
        );
    }
    // Without a bag they may be two heaps, and without dates nobody knows which is later.
    let loose =
        |file: &str, date| dated(ListOf::new(Role::Counted, file).line(NUT, 6, &plain), date);
    for two in [
        [
            loose("a.csv", "2 March 2026"),
            loose("b.csv", "3 March 2026"),
        ],
        [count("a.csv", 6, "B").list(), count("b.csv", 8, "B").list()],
    ] {
        let lists: Vec<List> = [required.clone()].into_iter().chain(two).collect();
        let account = settled(&job(), &lists);
        let nuts = account
            .items
            .iter()
            .find(|item| item.text == "1/2-13 hex nut");
        assert_eq!(
            nuts.and_then(|item| item.open),
            Some(LeftOpen::CountedTwice)
        );
    }
}

#[test]
fn what_built_stages_use_does_not_go_back() {
    let required = ListOf::required()
        .line(BOLT, 8, &stage("Sills"))
        .line(NUT, 8, &stage("Sills"))
        .line(NUT, 8, &stage("Rails"))
        .list();
    let job = Job {
        built_through: Some("Sills".into()),
        ..job()
    };
    let lists = |bolts: u64, nuts: u64| {
        let count = ListOf::counted().line(BOLT, bolts, &|line, _| {
            line.more_mut().damaged = 1;
        });
        [required.clone(), count.line(NUT, nuts, &plain).list()]
    };
    // Before the sills were built: 8 bolts and 14 nuts, of which the sills took 8.
    let before = lists(8, 16);
    let account = settled(&job, &before);
    assert_eq!(account.verdict, Verdict::CannotSay);
    assert_eq!(
        account.reasons,
        [
            "what the built stages use lies there still by the count (count.csv): if it was made before they were \
             built, leave built_through out of the job file; nothing goes back of what they use"
        ]
    );
    let claim = Claim::of(&job, &before, &account);
    assert_eq!(claim.over, []);
    let left_out = claim.left_out.iter().map(|of| (of.pieces, of.why));
    let why = super::super::claim::Omission::BuiltStages;
    assert_eq!(
        left_out.collect::<Vec<_>>(),
        [(Some(1), why), (Some(8), why), (Some(8), why)]
    );
    // The pile that is left: a bolt too many, which goes back.
    let after = lists(1, 8);
    let account = settled(&job, &after);
    assert_eq!(account.verdict, Verdict::Yes);
    assert_eq!(Claim::of(&job, &after, &account).over.len(), 1);
}

/// A count that does not state the length is of the length that came.
#[test]
fn a_silent_count_is_of_what_the_slip_lists() {
    let lists = [
        ListOf::required().line(BOLT, 8, &plain).list(),
        ListOf::shipped().line("bolt hex 1/2 5", 8, &plain).list(),
        ListOf::counted().line("bolt hex 1/2", 8, &plain).list(),
    ];
    case(
        &job(),
        &lists,
        &[
            "1/2-13 x 6 hex bolt: 0/8, slip is short 8, wrong size packed 8",
            "1/2-13 x 5 hex bolt: 0/0 +8, not on the list 8, extra 8",
        ],
    );
    // Where the slip lists both, it may be either.
    let [required, _, counted] = lists;
    let slip = ListOf::shipped()
        .line(BOLT, 4, &plain)
        .line("bolt hex 1/2 5", 4, &plain);
    let account = settled(&job(), &[required, slip.list(), counted]);
    assert_eq!(account.items[0].sums.covered, 8);
}

/// A slip of bare numbers beside one line that is known: what else is asked for may be those.
#[test]
fn numbers_may_be_what_a_slip_does_not_name() {
    let required = three(ListOf::required(), [8, 8, 16])
        .line("part - rail", 2, &plain)
        .list();
    let slip = |numbers: &[(&str, u64)]| {
        let slip = ListOf::shipped().line("part - rail", 1, &plain);
        let slip = numbers.iter().fold(slip, |slip, (number, pieces)| {
            slip.line(&format!("part {number}"), *pieces, &plain)
        });
        [required.clone(), slip.list()]
    };
    let most = slip(&[("T-1", 8), ("T-2", 10), ("T-3", 16)]);
    let account = settled(&job(), &most);
    let asked = account.items.iter().take(4);
    let open = asked.map(|item| (item.sums.short, item.open));
    assert_eq!(
        open.collect::<Vec<_>>(),
        [
            (8, Some(LeftOpen::SlipUnmet)),
            (8, Some(LeftOpen::SlipUnmet)),
            (16, Some(LeftOpen::SlipUnmet)),
            // It names the rails, and one is lacking.
            (1, None)
        ]
    );
    assert_eq!(
        account.reasons[1],
        "slip.csv lists 3 items by numbers or names that no other list knows, which may be what else is asked for: \
         give a table of numbers (--numbers), or join the names in the job file ([names])"
    );
    // One number may be what is lacking in that count, and nothing else.
    let one = slip(&[("T-3", 16)]);
    let account = settled(&job(), &one);
    let open = account.items.iter().map(|item| item.open);
    assert_eq!(
        open.collect::<Vec<_>>(),
        [None, None, Some(LeftOpen::MayBeSame), None, None]
    );
    // The job says which it is.
    let job = Job {
        names: [("t-3".to_owned(), "1/2 USS washer".to_owned())].into(),
        ..job()
    };
    let account = settled(&job, &one);
    assert_eq!(account.items[2].sums.covered, 16);
}

/// Numbers that a clerk or a spreadsheet changed.
#[test]
fn a_changed_number_is_a_question() {
    let lists = |slip: &str| {
        [
            ListOf::required().line("part A-12 strut", 8, &plain).list(),
            ListOf::shipped()
                .line(&format!("part {slip}"), 8, &plain)
                .list(),
        ]
    };
    for (slip, open) in [
        // Parted otherwise it is the same, and it is told.
        ("A12", None),
        ("A-12-ZP", Some(LeftOpen::MayBeSame)),
        ("A-13", None),
    ] {
        let account = settled(&job(), &lists(slip));
        let covered = if slip == "A12" { 8 } else { 0 };
        let item = &account.items[0];
        assert_eq!((item.open, item.sums.covered), (open, covered), "{slip}");
        assert_eq!(item.doubts.len(), usize::from(slip == "A12"), "{slip}");
    }
}

/// A word of one's own for a kind, where size and count are alike.
#[test]
fn hardware_called_otherwise_is_a_question() {
    let called = |words: &str, called: &str, pieces: u64| {
        let words = words.to_owned();
        let called: Box<str> = called.into();
        move |list: ListOf| {
            list.line(&words, pieces, &plain).edit(|list| {
                let reading = list.readings.last_mut().expect("just pushed");
                reading.item.called = Some(called);
            })
        }
    };
    let required = || called("screw 1/4-20 1", "gimlet", 96)(ListOf::required()).list();
    let open = |slip: ListOf| {
        let account = settled(&job(), &[required(), slip.list()]);
        (
            account.items[0].open,
            account.items[0].findings[0].note.clone(),
        )
    };
    let (why, note) = open(called("screw 1/4-14 1", "gimlet", 100)(ListOf::shipped()));
    assert_eq!(why, Some(LeftOpen::MayBeSame));
    assert!(
        note.starts_with(
            "may be the same as 1/4-14 x 1 gimlet screw (100 pieces there): if it is, say so"
        ),
        "{note}"
    );
    // Another length, or another count, is another piece.
    for (words, pieces) in [("screw 1/4-14 2", 96), ("screw 1/4-14 1", 40)] {
        let (why, _) = open(called(words, "gimlet", pieces)(ListOf::shipped()));
        assert_eq!(why, None, "{words}");
    }
    let lists = [
        required(),
        called("screw 1/4-14 1", "gimlet", 100)(ListOf::shipped()).list(),
    ];
    let joined = Job {
        names: [(
            "1/4-14 x 1 gimlet screw".to_owned(),
            "1/4-20 x 1 gimlet screw".to_owned(),
        )]
        .into(),
        ..job()
    };
    assert_eq!(settled(&joined, &lists).items[0].sums.covered, 96);
}

/// Pieces of which a row does not say the grade may be of either.
#[test]
fn a_row_that_may_be_of_two_items_accuses_neither() {
    const PLAIN: &str = "bolt hex 1/2 6 g5";
    const STAINLESS: &str = "bolt hex 1/2 6 316";
    let required = ListOf::required()
        .line(PLAIN, 8, &plain)
        .line(STAINLESS, 4, &plain)
        .list();
    let slip = ListOf::shipped()
        .line(PLAIN, 8, &plain)
        .line(STAINLESS, 4, &plain)
        .list();
    let silent = |list: ListOf, pieces: u64| list.line(BOLT, pieces, &plain).list();
    let claimed =
        |account: &Account, lists: &[List]| Claim::of(&job(), lists, account).claimed.len();
    let open = |lists: &[List]| {
        let account = settled(&job(), lists);
        let why = account.items.iter().filter(|item| item.sums.short > 0);
        let why: Vec<_> = why.map(|item| item.open).collect();
        (why, account.verdict, claimed(&account, lists))
    };
    let either = (vec![Some(LeftOpen::OneOfSeveral)], Verdict::CannotSay, 0);
    let counted = [
        required.clone(),
        slip.clone(),
        silent(ListOf::counted(), 11),
    ];
    assert_eq!(open(&counted), either);
    let by_slip = [required.clone(), silent(ListOf::shipped(), 11)];
    assert_eq!(open(&by_slip), either);
    // All of both are there; none of either is; one of them is counted by itself.
    let all = [
        required.clone(),
        slip.clone(),
        silent(ListOf::counted(), 12),
    ];
    assert_eq!(settled(&job(), &all).totals.short, 0);
    let none = [required.clone(), slip.clone(), silent(ListOf::counted(), 0)];
    assert_eq!(open(&none), (vec![None, None], Verdict::No, 2));
    let apart = ListOf::counted()
        .line(PLAIN, 7, &plain)
        .line(STAINLESS, 4, &plain);
    assert_eq!(
        open(&[required, slip, apart.list()]),
        (vec![None], Verdict::No, 1)
    );
}

/// The delivery is of more kits than the job.
#[test]
fn a_slip_of_several_kits_is_asked_about() {
    let required = three(ListOf::required(), [8, 8, 16]).list();
    let lists = [
        required,
        slip("slip.csv", [96, 96, 192]).list(),
        three(ListOf::counted(), [96, 95, 192]).list(),
    ];
    let account = settled(&job(), &lists);
    assert_eq!(account.verdict, Verdict::CannotSay);
    assert_eq!(
        account.reasons,
        [
            "12 times what is required came, of one item as of another: if it is for 12 kits, say so \
             (--kits, or kits in the job file)"
        ]
    );
    assert_eq!(Claim::of(&job(), &lists, &account).over, []);
    let twelve = Job { kits: 12, ..job() };
    assert_eq!(settled(&twelve, &lists).verdict, Verdict::No);
}

/// Nor need all of it have come: what is short is what the run is made to find.
#[test]
fn a_count_of_several_kits_is_asked_about() {
    let times = |required: [u64; 3], counted: [u64; 3]| {
        let lists = [
            three(ListOf::required(), required)
                .line("part - hinge", 6, &plain)
                .list(),
            three(ListOf::counted(), counted)
                .line("part - hinge", 12, &plain)
                .list(),
        ];
        settled(&job(), &lists).times_required
    };
    assert_eq!(times([8, 8, 16], [16, 14, 32]), Some(2));
    assert_eq!(times([8, 8, 16], [16, 14, 30]), None);
    assert_eq!(times([8, 8, 16], [8, 8, 32]), None);
}

/// A count that calls a finish otherwise, where the slip has the right one.
#[test]
fn another_finish_counted_is_a_question() {
    let lists = [
        ListOf::required()
            .line("bolt hex 1/2 6 hdg", 8, &plain)
            .list(),
        ListOf::shipped()
            .line("bolt hex 1/2 6 hdg", 8, &plain)
            .list(),
        ListOf::counted()
            .line("bolt hex 1/2 6 zp", 8, &plain)
            .list(),
    ];
    let account = settled(&job(), &lists);
    assert_eq!(account.may_be_same.len(), 1);
    assert_eq!(
        account.reasons[0],
        "1 item is counted that may be what nobody counted by its own name or finish: another word for it, or the \
         wrong pieces?"
    );
    assert_eq!(Claim::of(&job(), &lists, &account).over, []);
}
