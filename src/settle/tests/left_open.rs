//! What slips and counts leave open is no shortage, and nobody is accused of it.

use pretty_assertions::assert_eq;

use super::*;
use crate::doubt::Doubt;

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

/// What a slip omits and a count names may have come nonetheless; what a slip lists too few of is short.
#[test]
fn a_count_that_was_not_read_speaks_of_what_the_slip_omits() {
    let lists = |shipped| {
        let slip = ListOf::shipped().line("nut hex 1/2", 4, &plain);
        let slip = match shipped {
            0 => slip,
            shipped => slip.line("bolt hex 1/2 3", shipped, &plain),
        };
        [
            ListOf::required()
                .line("bolt hex 1/2 3", 12, &plain)
                .line("nut hex 1/2", 4, &plain)
                .list(),
            slip.list(),
            figure_aside(
                ListOf::counted().line("nut hex 1/2", 4, &plain),
                "bolt hex 1/2 3",
            ),
        ]
    };
    for (shipped, verdict, pieces) in [(0, Verdict::CannotSay, vec![]), (10, Verdict::No, vec![2])]
    {
        let lists = lists(shipped);
        let account = settle(&job(), &lists).expect("settles");
        assert_eq!(account.verdict, verdict, "{shipped} on the slip");
        assert_eq!(claimed(&job(), &lists, &account).0, pieces);
    }
}

/// A bag of which no list says what is in it may hold whatever the slip does not name.
#[test]
fn a_bag_that_no_list_knows_may_hold_the_rest() {
    let lists = [
        ListOf::required()
            .line("bolt hex 1/2 3", 12, &plain)
            .line("nut hex 1/2", 4, &plain)
            .list(),
        ListOf::shipped()
            .line("nut hex 1/2", 3, &plain)
            .other(&|line, placement| {
                line.what = What::Bag { received: None };
                line.quantity = Some(1);
                placement.bag = Some("A".into());
            })
            .list(),
    ];
    let account = settle(&job(), &lists).expect("settles");
    let known: Vec<bool> = account.items.iter().map(|item| item.known).collect();
    assert_eq!(known, [false, true]);
    let (claim, left_out) = claimed(&job(), &lists, &account);
    assert_eq!(claim, [1], "{left_out:?}");
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
fn a_slip_without_figures_lists_nobody_knows_what() {
    let required = ListOf::required()
        .line("bolt hex 1/2 3", 12, &plain)
        .line("nut hex 1/2", 12, &plain)
        .list();
    let mute = ListOf::shipped().line("bolt hex 1/2 3", None, &plain);
    let lists = [required.clone(), mute.clone().list()];
    let account = case(
        &job(),
        &lists,
        &[
            "1/2-13 x 3 hex bolt: 0/12, figure not read 12",
            "1/2-13 hex nut: 0/12, figure not read 12",
        ],
    );
    assert_eq!(account.verdict, Verdict::CannotSay);
    assert_eq!(
        account.reasons[0],
        "2 items that may be short may be there: a figure of a slip or a count was not read"
    );
    assert_eq!(
        account.items[1].findings[0].note,
        "No figure of the slip was read: it may list all of 12."
    );
    assert!(claimed(&job(), &lists, &account).0.is_empty());
    // One figure that is read says that the slip has figures.
    let slip = mute.line("washer uss 1/2", 4, &plain).list();
    let account = case(
        &job(),
        &[required, slip],
        &[
            "1/2-13 x 3 hex bolt: 0/12, figure not read 12",
            "1/2-13 hex nut: 0/12, slip is short 12",
            "1/2 USS flat washer: 0/0 +4, not on the list 4, extra 4",
        ],
    );
    assert_eq!(account.verdict, Verdict::No);
}

/// A row that was not read in full may be of what bears a word of it, or its size; of nothing that another
/// row names.
#[test]
fn a_row_not_read_in_full_may_be_of_what_it_has_a_word_of() {
    let required = ListOf::required()
        .line("part - foot plate 150 x 150, hdg", 4, &plain)
        .line("part - cross arm, left", 2, &plain)
        .line("part - roof plate", 6, &plain)
        .line("bolt hex 1/2 3-3/4", 12, &plain)
        .line("bolt hex 1/2 3-1/4", 12, &plain)
        .list();
    let slip = ListOf::shipped()
        .line("part - roof plates", 5, &plain)
        .line("part - 4 foot plates", None, &plain)
        .line("part - arms right", None, &plain)
        .line("bolt hex 24 1/2", None, &plain)
        .edit(|list| {
            // As the rows were written.
            let texts = [
                "5 roof plates",
                "4 foot plates",
                "arms right, 2?",
                "24 x 1/2 3-3/4 bolts",
            ];
            for (line, text) in list.lines.iter_mut().zip(texts) {
                line.text = list.text.push(text);
            }
        })
        .list();
    let lists = [required, slip];
    let account = case(
        &job(),
        &lists,
        &[
            "foot plate 150 x 150, hdg [part]: 0/4, figure not read 4",
            "cross arm, left: 0/2, slip is short 2",
            "roof plate: 5/6, slip is short 1",
            "1/2-13 x 3-3/4 hex bolt: 0/12, figure not read 12",
            "1/2-13 x 3-1/4 hex bolt: 0/12, slip is short 12",
            "4 foot plates [part]: 0/0",
            "arms right: 0/0",
            "24 in dia x 1/2 hex bolt: 0/0",
        ],
    );
    assert_eq!(
        account.items[0].findings[0].note,
        "A row of the slip that may be of it was not read in full: it may list all of 4."
    );
}

/// Of what too little was counted, a row that was not read in full may be the rest.
#[test]
fn a_row_not_read_in_full_may_be_the_rest() {
    let counted = |row: &str| {
        let whole = |list: ListOf| {
            list.line("part - shelf 900 x 400", 5, &plain)
                .line("part - shelf clip", 20, &plain)
                .list()
        };
        let lists = [
            whole(ListOf::required()),
            whole(ListOf::shipped()),
            ListOf::counted()
                .line("part - shelves", 1, &plain)
                .line("part - shelf clips", 18, &plain)
                .aside("no item found", &plain)
                .edit(|list| {
                    let text = list.text.push(row);
                    list.lines.last_mut().expect("just pushed").text = text;
                })
                .list(),
        ];
        let account = settled(&job(), &lists);
        [account.items[0].open, account.items[1].open]
    };
    let unread = Some(LeftOpen::FigureUnread);
    assert_eq!(counted("shelves iiii"), [unread, None]);
    assert_eq!(counted("clips ii"), [None, unread]);
    assert_eq!(counted("rails iiii"), [None, None]);
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
            "shoe, right: 0/2, slip is short 2, wrong size packed 2",
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
        "may be the same as posts [part P1] (6 pieces there): if it is, say so in the job file, under [names]: \"posts\" = \"roof post, with foot\""
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

/// What the slip and the count call otherwise: each list as lines of `name pieces`.
#[track_caller]
fn otherwise(
    required: &[(&str, u64)],
    shipped: &[(&str, u64)],
    counted: &[(&str, u64)],
    expected: &[&str],
) {
    let list = |list: ListOf, lines: &[(&str, u64)]| {
        let lines = lines.iter();
        let add = |list: ListOf, (name, pieces): &(&str, u64)| {
            list.line(&format!("part - {name}"), *pieces, &plain)
        };
        lines.fold(list, add).list()
    };
    let mut lists = vec![list(ListOf::required(), required)];
    for (of, lines) in [(ListOf::shipped(), shipped), (ListOf::counted(), counted)] {
        if !lines.is_empty() {
            lists.push(list(of, lines));
        }
    }
    case(&job(), &lists, expected);
}

/// Calls the bolts of a list swing hooks.
fn swing_hook(mut list: List) -> List {
    for reading in &mut list.readings {
        if reading.item.length.is_some() {
            reading.item.kind = None;
            reading.item.called = Some("swing hook".into());
        }
    }
    list
}

// Makers and shops have names of their own for one part. Common practice, no source.
#[test]
fn another_name_is_a_question() {
    // A word shared, like counts.
    otherwise(
        &[("ridge clip", 190), ("apron", 2)],
        &[("wire ridge holder", 200), ("apron", 2)],
        &[],
        &[
            "ridge clip: 0/190, may be the same as another 190",
            "apron: 2/2",
            "wire ridge holder: 0/0 +200, not on the list 200, extra 200, may be the same as another 200",
        ],
    );
    // A size shared.
    otherwise(
        &[("corner brace 2 x 2", 12)],
        &[("angle cleats 2x2", 12)],
        &[],
        &[
            "corner brace 2 x 2 [part]: 0/12, may be the same as another 12",
            "angle cleats 2x2 [part]: 0/0 +12, not on the list 12, extra 12, may be the same as another 12",
        ],
    );
    // Another word for the side; inches that are no whole millimetres; hardware that some call otherwise.
    for (own, other) in [
        ("part - bracket, upper", "part - top bracket"),
        ("part - hinge 4 in", "part - hinge 100 mm"),
        ("screw wood 1/4 2", "screw deck 1/4 2"),
        ("bolt hex 3/8 2", "screw set 3/8 2"),
    ] {
        let lists = [
            ListOf::required().line(own, 6, &plain).list(),
            ListOf::shipped().line(other, 6, &plain).list(),
        ];
        let account = settled(&job(), &lists);
        assert_eq!(account.may_be_same, [(0, 1)], "{own}, {other}");
    }
    // The same neighbours, the same count.
    otherwise(
        &[("pole", 4), ("sun sail", 1), ("loop", 20)],
        &[("pole", 4), ("awning", 1), ("loop", 20)],
        &[],
        &[
            "pole: 4/4",
            "sun sail: 0/1, may be the same as another 1",
            "loop: 20/20",
            "awning: 0/0 +1, not on the list 1, extra 1, may be the same as another 1",
        ],
    );
    // Nothing shared, but a count that nothing else has which nobody counted by its own name; the slip lists that.
    let parts = |list: ListOf, name: &str| {
        let list = list.line(&format!("part - {name}"), 30, &plain);
        list.line("part - hinge", 4, &plain).list()
    };
    let lists = [
        parts(ListOf::required(), "splice plate"),
        parts(ListOf::shipped(), "splice plate"),
        parts(ListOf::counted(), "fish bar"),
    ];
    let account = settled(&job(), &lists);
    assert_eq!(account.may_be_same, [(0, 2)]);
    // So of two pieces, where nothing else at all is left over; and a word of hardware's.
    for (own, other) in [
        ("part - L bracket", "part - angles"),
        ("bolt 3/8 6", "part - hook"),
    ] {
        let lists = [
            ListOf::required()
                .line(own, 2, &plain)
                .line("nut hex 1/2", 16, &plain)
                .list(),
            ListOf::shipped()
                .line(own, 2, &plain)
                .line("nut hex 1/2", 16, &plain)
                .list(),
            ListOf::counted()
                .line("nut hex 1/2", 16, &plain)
                .line(other, 2, &plain)
                .list(),
        ];
        let lists = lists.map(|list| match own {
            "bolt 3/8 6" => swing_hook(list),
            _ => list,
        });
        assert_eq!(settled(&job(), &lists).may_be_same, [(0, 2)], "{own}");
    }
    // Nothing shared, but a count that nothing else left over has.
    otherwise(
        &[("roof arm", 8), ("wall tie", 6)],
        &[("steel rafter", 8), ("wall tie", 6)],
        &[],
        &[
            "roof arm: 0/8, may be the same as another 8",
            "wall tie: 6/6",
            "steel rafter: 0/0 +8, not on the list 8, extra 8, may be the same as another 8",
        ],
    );
    // The bench's name, where the slip has the list's.
    otherwise(
        &[("net hook", 28), ("peg", 6)],
        &[("net hook", 28), ("peg", 6)],
        &[("net clip", 28), ("peg", 6)],
        &[
            "net hook: 28/28, may be the same as another 28",
            "peg: 6/6",
            "net clip: 0/0 +28, not on the slip 28, not on the list 28, extra 28, may be the same as another 28",
        ],
    );
    // The slip's name, where the bench has the list's: what is there is there.
    otherwise(
        &[("mooring cleat", 4)],
        &[("dock cleat", 4)],
        &[("mooring cleat", 4)],
        &[
            "mooring cleat: 4/4, may be the same as another 4",
            "dock cleat: 0/0 +4, not on the list 4, extra 4, may be the same as another 4",
        ],
    );
}

/// A count tells nothing where it is that of two.
#[test]
fn a_count_of_two_parts_is_no_question() {
    otherwise(
        &[("roof arm", 8), ("foot board", 8)],
        &[("steel rafter", 8)],
        &[],
        &[
            "roof arm: 0/8, slip is short 8",
            "foot board: 0/8, slip is short 8",
            "steel rafter: 0/0 +8, not on the list 8, extra 8",
        ],
    );
}

#[test]
fn another_name_is_no_question() {
    let short = |name: &str, of: u64| format!("{name}: 0/{of}, slip is short {of}");
    let over = |name: &str, of: u64| format!("{name}: 0/0 +{of}, not on the list {of}, extra {of}");
    for (required, shipped, told) in [
        // Counts that are far apart, another side, another size, another colour.
        (("ridge clip", 190), ("wire ridge holder", 150), ""),
        (("shoe, left", 4), ("boot, right", 4), ""),
        (("prop 900", 4), ("prop 1200", 4), ", wrong size packed 4"),
        (("flap, white", 4), ("flap, black", 4), ""),
        // Nothing is shared, and no neighbour tells.
        (("sun sail", 1), ("awning", 1), ""),
    ] {
        let shown = |name: &str| match name.contains(|c: char| c.is_ascii_digit()) {
            true => format!("{name} [part]"),
            false => name.to_owned(),
        };
        otherwise(
            &[required],
            &[shipped],
            &[],
            &[
                &(short(&shown(required.0), required.1) + told),
                &over(&shown(shipped.0), shipped.1),
            ],
        );
    }
}

#[test]
fn the_job_joins_names() {
    let names = [("Awnings", "sun sail"), ("holder", "ridge clip")];
    let names = names.map(|(other, meant)| (other.to_owned(), meant.to_owned()));
    let job = Job {
        names: names.into_iter().collect(),
        ..job()
    };
    let lists = [
        ListOf::required()
            .line("part - sun sail", 1, &plain)
            .line("part RC-1 ridge clip", 8, &plain)
            .list(),
        // The slip's maker has a number of its own.
        ListOf::shipped()
            .line("part - awning", 1, &plain)
            .line("part 77 holders", 6, &plain)
            .list(),
    ];
    case(
        &job,
        &lists,
        &[
            "sun sail: 1/1",
            "ridge clip [part RC-1]: 6/8, slip is short 2",
        ],
    );
}

#[test]
fn a_slip_of_numbers_alone_is_not_short() {
    let required = ListOf::required()
        .line("bolt hex 1/2 3", 12, &plain)
        .line("part - roof rail", 4, &plain)
        .list();
    let numbers = |of: &[&str]| {
        let slip = of.iter().fold(ListOf::shipped(), |slip, number| {
            slip.line(&format!("part {number} -"), 4, &plain)
        });
        slip.list()
    };
    let lists = [required.clone(), numbers(&["T-1", "T-2", "T-3"])];
    let account = settled(&job(), &lists);
    assert_eq!(account.verdict, Verdict::CannotSay);
    assert!(account.reasons[0].ends_with(
        "names what the required lists ask for (3 other items): give a table of numbers (--numbers), or join the names in the job file ([names])"
    ), "{:?}", account.reasons);
    assert!(claimed(&job(), &lists, &account).0.is_empty());
    // Two parts more are extras of another slip, and so are any beside one that is asked for.
    let complete = ListOf::shipped().line("bolt hex 1/2 3", 12, &plain).list();
    let met = [required, complete, numbers(&["T-1", "T-2"])];
    assert_eq!(settled(&job(), &met).verdict, Verdict::No);
}

/// A count of bags says nothing of what is in them: neither theirs nor all that is short.
#[test]
fn what_is_in_a_bag_counted_as_such_is_not_short() {
    let lists = [
        ListOf::required()
            .line("bolt hex 1/2 3", 12, &bag("H1"))
            .line("nut hex 1/2", 12, &plain)
            .list(),
        ListOf::counted()
            .other(&|line, placement| {
                line.more_mut().doubts.push(crate::Doubt::NoQuantity);
                placement.bag = Some("H1".into());
            })
            .line("bolt hex 1/2 3", 4, &plain)
            .line("nut hex 1/2", 10, &plain)
            .list(),
    ];
    let account = case(
        &job(),
        &lists,
        &[
            "1/2-13 x 3 hex bolt: 4/12, figure not read 8",
            "1/2-13 hex nut: 10/12",
        ],
    );
    assert_eq!(account.verdict, Verdict::No);
    let (claim, left_out) = claimed(&job(), &lists, &account);
    assert_eq!(claim, [2]);
    assert_eq!(left_out.len(), 1);
}

/// What comes with an item is on the item: a slip that names that alone is not short of it.
#[test]
fn what_comes_with_an_item_is_looked_for_there() {
    let required = || {
        ListOf::required()
            .line("screw 1/4 2", 12, &plain)
            .line("washer flat 1/4", 12, &plain)
            .edit(|list| list.readings[1].comes_with = true)
            .list()
    };
    let slip = ListOf::shipped().line("screw 1/4 2", 12, &plain);
    let lists = [required(), slip.clone().list()];
    let account = case(
        &job(),
        &lists,
        &[
            "1/4-20 x 2 screw: 12/12",
            "1/4 flat washer: 0/12, comes with another item 12",
        ],
    );
    assert_eq!(
        (account.verdict, account.stops_at),
        (Verdict::CannotSay, None)
    );
    let (claim, left_out) = claimed(&job(), &lists, &account);
    assert!(claim.is_empty());
    assert_eq!(
        left_out.last().map(String::as_str),
        Some(
            "1/4 flat washer: comes with another item, which the slip may name alone: look there first"
        )
    );
    // A slip that names it apart says how many.
    let lists = [required(), slip.line("washer flat 1/4", 8, &plain).list()];
    let account = case(
        &job(),
        &lists,
        &[
            "1/4-20 x 2 screw: 12/12",
            "1/4 flat washer: 8/12, slip is short 4",
        ],
    );
    assert_eq!(account.verdict, Verdict::No);
}

/// What the shop fills is claimed, and stops nothing.
#[test]
fn what_is_filled_stops_nothing() {
    let lists = [
        ListOf::required().line("bolt hex 1/2 3", 12, &plain).list(),
        ListOf::counted().line("bolt hex 1/2 3", 8, &plain).list(),
        ListOf::stock().line("bolt hex 1/2 3", 50, &plain).list(),
    ];
    let account = settle(&job(), &lists).expect("settles");
    assert_eq!(account.verdict, Verdict::Yes);
    let claim = Claim::of(&job(), &lists, &account);
    let claimed: Vec<_> = claim
        .claimed
        .iter()
        .map(|of| (of.pieces, of.urgency))
        .collect();
    assert_eq!(claimed, [(4, crate::settle::claim::Urgency::Filled)]);
}

#[test]
fn two_counts_that_tell_no_heaps_apart_are_no_shortage() {
    let required = ListOf::required().line("nut hex 1/2", 16, &plain).list();
    let count = |figures: &[u64]| {
        let count = figures.iter().fold(ListOf::counted(), |count, good| {
            count.line("nut hex 1/2", *good, &plain)
        });
        count.list()
    };
    let one = [required.clone(), count(&[10, 6])];
    let two = [required.clone(), count(&[10]), count(&[6])];
    for (lists, second) in [(&one[..], "count.csv, line 3"), (&two, "count.csv, line 2")] {
        let account = case(&job(), lists, &["1/2-13 hex nut: 6/16, counted twice 16"]);
        assert_eq!(
            (account.verdict, account.stops_at),
            (Verdict::CannotSay, None)
        );
        assert_eq!(
            account.reasons,
            [format!(
                "1/2-13 hex nut: 10 in count.csv, line 2, 6 in {second}: one heap counted again, or \
                 several? Put all of it on one row, name the bag of each, or give the newer count alone; until then the lowest \
                 figure is taken"
            )]
        );
        let (claim, left_out) = claimed(&job(), lists, &account);
        assert!(claim.is_empty());
        assert_eq!(
            left_out,
            [
                "1/2-13 hex nut: counted on several rows that name no bags apart: settle what is there first"
            ]
        );
    }
    // What the slip lists beyond the lower figure is not missing in the box, either.
    let slip = ListOf::shipped().line("nut hex 1/2", 16, &plain).list();
    let lists = [required.clone(), slip, count(&[10, 6])];
    case(&job(), &lists, &["1/2-13 hex nut: 6/16, counted twice 16"]);
    assert!(
        claimed(&job(), &lists, &settled(&job(), &lists))
            .0
            .is_empty()
    );
    // None is none, however often it is said; and where the lower figure is enough, nothing is open.
    let account = settled(&job(), &[required.clone(), count(&[0, 0])]);
    assert_eq!(
        (account.verdict, account.items[0].known),
        (Verdict::No, true)
    );
    let account = settled(&job(), &[required, count(&[20, 16])]);
    assert_eq!(account.verdict, Verdict::Yes);
}

#[test]
fn what_a_sheet_may_ask_for_again_is_not_short() {
    let asked = |again: bool| {
        let list =
            ListOf::required()
                .line("nut hex 1/2", 12, &plain)
                .line("bolt hex 1/2 3", 12, &plain);
        let list = list.edit(|list| {
            list.sheets.push(crate::kit::SheetRead {
                may_be_again: again,
                ..Default::default()
            });
        });
        list.line("nut hex 1/2", 12, &|line, _| line.sheet = 1)
            .list()
    };
    let slip = ListOf::shipped()
        .line("nut hex 1/2", 12, &plain)
        .line("bolt hex 1/2 3", 8, &plain)
        .list();
    let sure = [
        "1/2-13 hex nut: 12/24, slip is short 12",
        "1/2-13 x 3 hex bolt: 8/12, slip is short 4",
    ];
    let lists = [asked(false), slip.clone()];
    case(&job(), &lists, &sure);
    let lists = [asked(true), slip];
    let account = case(
        &job(),
        &lists,
        &["1/2-13 hex nut: 12/24, perhaps asked for twice 12", sure[1]],
    );
    assert_eq!(
        account.reasons[1],
        "1 item may be asked for twice, and is not said to be short: settle the sheets first"
    );
    let (claim, left_out) = claimed(&job(), &lists, &account);
    assert_eq!(claim, [4]);
    assert!(left_out.contains(
        &"1/2-13 hex nut: the list may ask for it twice: settle the sheets first".to_owned()
    ));
}

/// What is asked for, what was counted, the verdict and what is in doubt.
#[track_caller]
fn grade(asked: &str, counted: &str, verdict: Verdict, doubts: &[&str]) {
    let lists = [
        ListOf::required().line(asked, 8, &plain).list(),
        ListOf::counted().line(counted, 8, &plain).list(),
    ];
    let account = settled(&job(), &lists);
    let found = account.items[0].doubts.iter().map(ToString::to_string);
    assert_eq!(
        (account.verdict, found.collect::<Vec<_>>()),
        (verdict, doubts.iter().map(ToString::to_string).collect())
    );
    let reason =
        "some pieces do not state the strength grade that is asked for: look at their heads";
    assert_eq!(
        account.reasons.iter().any(|of| of == reason),
        verdict == Verdict::CannotSay
    );
}

#[test]
fn a_strength_grade_that_pieces_do_not_state_is_no_yes() {
    let open = ["grade not confirmed"];
    grade("bolt hex 1/2 3 g8", "bolt hex 1/2 3 g8", Verdict::Yes, &[]);
    grade(
        "bolt hex 1/2 3 g8",
        "bolt hex 1/2 3",
        Verdict::CannotSay,
        &open,
    );
    grade("nut hex 1/2 g8", "nut hex 1/2", Verdict::CannotSay, &open);
    // Nobody asked for a strength, or what is asked for is a material.
    grade("bolt hex 1/2 3", "bolt hex 1/2 3 g8", Verdict::Yes, &open);
    let material = ["material not confirmed"];
    grade(
        "bolt hex 1/2 3 18-8",
        "bolt hex 1/2 3",
        Verdict::Yes,
        &material,
    );
    grade(
        "bolt hex 1/2 3 hdg",
        "bolt hex 1/2 3",
        Verdict::Yes,
        &["finish not confirmed"],
    );
}

/// `3 more in the other box` beside a count of its own.
#[test]
fn a_line_of_words_whose_figure_was_not_read_may_be_the_rest() {
    let required = ListOf::required().line("bolt hex 1/2 3", 8, &plain).list();
    let count = |format| {
        let count = ListOf::counted().line("bolt hex 1/2 3", 5, &plain).line(
            "bolt hex 1/2 3",
            None,
            &plain,
        );
        let count = count.edit(|list| {
            list.format = format;
            list.readings[1].doubts = vec![crate::Doubt::LeftOver("3".into())];
        });
        [required.clone(), count.list()]
    };
    let open = ["1/2-13 x 3 hex bolt: 5/8, figure not read 3"];
    let account = case(&job(), &count(crate::source::Format::Text), &open);
    assert_eq!(account.verdict, Verdict::CannotSay);
    // In a table a blank cell is not counted.
    let table = count(crate::source::Format::Delimited(b','));
    case(&job(), &table, &["1/2-13 x 3 hex bolt: 5/8"]);
}

/// Pieces over by a line of the count that is in doubt go nowhere.
#[test]
fn what_a_doubted_count_has_over_is_not_given_back() {
    let lists = |doubt: Option<Doubt>| {
        [
            ListOf::required().line("nut hex 1/2", 8, &plain).list(),
            ListOf::counted()
                .line("nut hex 1/2", 12, &|line, _| {
                    line.more_mut().doubts.extend(doubt.clone());
                })
                .list(),
        ]
    };
    let over = |lists: &[List]| {
        let account = settled(&job(), lists);
        let claim = Claim::of(&job(), lists, &account);
        (claim.over.len(), claimed(&job(), lists, &account).1)
    };
    assert_eq!(over(&lists(None)), (1, vec![]));
    assert_eq!(
        over(&lists(Some(Doubt::Said("12 or 8".into())))),
        (
            0,
            vec![
                "1/2-13 hex nut: over, by a line of the count that is in doubt: settle what that line says first"
                    .to_owned()
            ]
        )
    );
}

/// A line that nothing was read of, in these words.
fn aside(list: ListOf, words: &str) -> ListOf {
    list.aside("why", &|_, _| {}).edit(|list| {
        let text = list.text.push(words);
        list.lines.last_mut().expect("just pushed").text = text;
    })
}

#[test]
fn what_a_line_names_that_was_not_read_may_be_there() {
    let required = ListOf::required()
        .line("part - side rail", 4, &plain)
        .line("part - end cap", 12, &plain)
        .line("part - hinge", 8, &plain)
        .list();
    let line = "4 side rails; 12 end caps; 2 ropes";
    let slip = aside(ListOf::shipped().line("part - hinge", 6, &plain), line);
    case(
        &job(),
        &[required.clone(), slip.list()],
        &[
            "side rail: 0/4, figure not read 4",
            "end cap: 0/12, figure not read 12",
            // No word of it stands there.
            "hinge: 6/8, slip is short 2",
        ],
    );
    // Read in part: figures are left over, and the one that was taken may be another's.
    let slip = ListOf::shipped()
        .line("part - hinge", 6, &plain)
        .line("part - side rail", 3, &|line, _| {
            line.more_mut().doubts = vec![crate::Doubt::LeftOver("12".into())];
        })
        .edit(|list| {
            list.lines[1].text = list.text.push("3 side rails 12 end caps");
        });
    case(
        &job(),
        &[required, slip.list()],
        &[
            "side rail: 3/4, figure not read 1",
            "end cap: 0/12, figure not read 12",
            "hinge: 6/8, slip is short 2",
        ],
    );
}

#[test]
fn a_count_that_was_not_read_is_said_though_the_slip_has_all() {
    let lists = [
        ListOf::required()
            .line("part - leg", 4, &stage("Legs"))
            .line("part - top", 1, &stage("Top"))
            .list(),
        ListOf::shipped()
            .line("part - leg", 4, &plain)
            .line("part - top", 1, &plain)
            .list(),
        aside(
            ListOf::counted().line("part - top", 1, &plain),
            "legs 3 (one bent)",
        )
        // What it was taken to name is none of the lists'.
        .edit(|list| {
            let What::Aside(aside) = list.lines[1].what else {
                unreachable!("put aside");
            };
            let mut reading = list.readings[0].clone();
            reading.item = item("part - legs bent");
            list.readings.push(reading);
            list.named_aside.push((aside, 1));
        })
        .list(),
    ];
    let account = case(&job(), &lists, &["leg: 4/4", "top: 1/1"]);
    assert_eq!(account.verdict, Verdict::CannotSay);
    assert_eq!(
        account.reasons,
        [
            "leg: count.csv, line 3 names it, and its figure was not read: it is covered only if the slip is true",
            "count.csv, line 3: not summed, so that pieces may be there that are not seen here",
        ]
    );
    assert_eq!(account.stages[0].ready, Verdict::CannotSay);
    assert_eq!(
        account.stages[0].reasons,
        ["1 item is named by a count whose figure was not read: ready if the slip is true"]
    );
}

/// A kit that a slip lists as one piece may hold whatever its other lines do not name. Common practice, no source.
#[test]
fn a_kit_listed_as_one_may_hold_the_rest() {
    let one = |name: &str, pieces: u64| {
        format!("{name}: 0/{pieces}, perhaps in what the slip lists as one {pieces}")
    };
    let required = [("rail", 4), ("hinge", 6), ("cap", 2)];
    let over = |name: &str, pieces: u64| {
        format!("{name}: 0/0 +{pieces}, not on the list {pieces}, extra {pieces}")
    };
    let all = [one("rail", 4), one("hinge", 6), one("cap", 2)];
    let all = all.each_ref().map(String::as_str);
    // By its name, or since it is all that there is.
    for name in [
        "market stall kit",
        "complete market stall",
        "market stall",
        "fixings bag",
        "balance to follow",
    ] {
        let kit = over(name, 1);
        otherwise(
            &required,
            &[(name, 1)],
            &[],
            &[all[0], all[1], all[2], kit.as_str()],
        );
    }
    // What other lines name is what they say of it, unless there are several kits.
    let kit = over("hardware set", 1);
    let expected = ["rail: 3/4, slip is short 1", all[1], all[2], kit.as_str()];
    otherwise(
        &required,
        &[("rail", 3), ("hardware set", 1)],
        &[],
        &expected,
    );
    let kit = over("stall kit comprising", 2);
    let expected = [
        "rail: 2/4, perhaps in what the slip lists as one 2",
        all[1],
        all[2],
        kit.as_str(),
    ];
    otherwise(
        &required,
        &[("stall kit comprising", 2), ("rail", 2)],
        &[],
        &expected,
    );
    // What was counted rests on no slip.
    let kit = over("market stall kit", 1);
    let count = [("rail", 3), ("hinge", 6), ("cap", 2)];
    let expected = [
        "rail: 3/4, perhaps in what the slip lists as one 4, not on the slip 3",
        "hinge: 6/6, perhaps in what the slip lists as one 6, not on the slip 6",
        "cap: 2/2, perhaps in what the slip lists as one 2, not on the slip 2",
        kit.as_str(),
    ];
    otherwise(&required, &[("market stall kit", 1)], &count, &expected);
    let lists = [
        ListOf::required().line("part - rail", 4, &plain).list(),
        ListOf::shipped().line("part - stall kit", 1, &plain).list(),
    ];
    let account = settled(&job(), &lists);
    assert_eq!(
        account.reasons[0],
        "slip.csv lists \"stall kit\" as one, and no list says what is in it: count what came, or ask the kit maker; \
         if it holds nothing of the parts list, leave the line out"
    );
    assert_eq!(Claim::of(&job(), &lists, &account).claimed, []);
}

/// The names that are offered to be joined: what the lists ask for and still lack, of the same noun.
#[test]
fn names_to_join_are_of_one_noun() {
    let lists = |required: &[(&str, u64)], counted: &[(&str, u64)]| {
        let add = |list: ListOf, (name, pieces): &(&str, u64)| {
            list.line(&format!("part - {name}"), *pieces, &plain)
        };
        let required = required.iter().fold(ListOf::required(), add).list();
        let counted = counted.iter().fold(ListOf::counted(), add).list();
        let account = settled(&job(), &[required, counted]);
        crate::report::wording::names_to_join(&account)
    };
    let required = [("joist 2", 11), ("joist hanger", 22)];
    let joined = [r#""joists" = "joist 2""#];
    assert_eq!(
        lists(&required, &[("joists", 11), ("joist hangers", 22)]),
        joined
    );
    assert_eq!(lists(&required, &[("joists", 11)]), joined);
    // Of two that fit, none is chosen.
    assert_eq!(
        lists(&[("rail, front", 2), ("rail, rear", 2)], &[("rails", 4)]),
        [
            r#"# "rails" = "rail, front""#,
            r#"# "rails" = "rail, rear""#
        ]
    );
    assert_eq!(
        lists(&[("door rail", 3)], &[("complete", 3)]),
        Vec::<String>::new()
    );
    // Two sizes under one number are no two names.
    let lists = [
        ListOf::required()
            .numbered("7-200", "bolt hex 5/8 2-1/2", 8, &plain)
            .list(),
        ListOf::shipped()
            .numbered("7-200", "bolt hex 1/2 3", 8, &plain)
            .list(),
    ];
    let account = settled(&job(), &lists);
    assert_eq!(account.may_be_same, [(0, 1)]);
    assert_eq!(
        crate::report::wording::names_to_join(&account),
        Vec::<String>::new()
    );
}

/// Under one number the list and the slip state two sizes: which is right, nobody knows.
#[test]
fn another_size_under_one_number_is_a_question() {
    let said = |number: &str| {
        let lists = [
            ListOf::required()
                .numbered("7-200", "bolt hex 1/2 3", 8, &plain)
                .list(),
            ListOf::shipped()
                .numbered(number, "bolt hex 1/2 4", 8, &plain)
                .list(),
        ];
        let account = settled(&job(), &lists);
        let claim = Claim::of(&job(), &lists, &account);
        let claimed: u64 = claim.claimed.iter().map(|of| of.pieces).sum();
        (account.items[0].open, claimed)
    };
    assert_eq!(said("7-200"), (Some(LeftOpen::MayBeSame), 0));
    assert_eq!(said("7-300"), (None, 8));
}

/// Under one number the list and the slip call a part by other sizes, hands or colours: which is right, nobody knows.
#[test]
fn another_text_under_one_number_is_a_question() {
    let said = |own: &str, other: &str| {
        let part = |name: &str| format!("part F-1 {name}");
        let lists = [
            ListOf::required().line(&part(own), 4, &plain).list(),
            ListOf::shipped().line(&part(other), 4, &plain).list(),
            ListOf::counted().line(&part(other), 4, &plain).list(),
        ];
        let account = settled(&job(), &lists);
        (
            account.verdict,
            account.reasons.first().cloned().unwrap_or_default(),
        )
    };
    for (own, other) in [
        ("rail 2000", "rail 1800"),
        ("side panel left", "side panel right"),
        ("door black", "door white"),
        ("motor 400 v", "motor 230 v"),
    ] {
        let told = format!(
            "part number F-1 is \"{own}\" on the parts list and \"{other}\" elsewhere: which is right?"
        );
        assert_eq!(said(own, other), (Verdict::CannotSay, told));
    }
    for (own, other) in [
        ("rail 2000", "rails"),
        ("rail 2 m", "rail 2000 mm"),
        ("base plate 10 mm", "base plate 200 x 200 x 10"),
        ("canopy", "awning"),
    ] {
        assert_eq!(said(own, other).0, Verdict::Yes, "{own}, {other}");
    }
}

/// The slip gives each of two parts the other's number: which of the two lies there, nobody knows.
#[test]
fn numbers_changed_about_are_a_question() {
    let lists = [
        ListOf::required()
            .line("part F-12 rail", 4, &plain)
            .line("part F-21 strut", 4, &plain)
            .list(),
        ListOf::shipped()
            .line("part F-21 rails", 4, &plain)
            .line("part F-12 struts", 4, &plain)
            .list(),
    ];
    let account = settled(&job(), &lists);
    assert_eq!(account.verdict, Verdict::CannotSay);
    for (number, own, other) in [("F-12", "rail", "struts"), ("F-21", "strut", "rails")] {
        let told = format!(
            "part number {number} is \"{own}\" on the parts list and \"{other}\" elsewhere: which is right?"
        );
        assert!(account.reasons.contains(&told), "{:?}", account.reasons);
    }
}

/// A part of one name and another number, in like counts, may be the same part: a maker who changes it numbers it anew.
#[test]
fn another_number_of_one_name_is_a_question() {
    let lists = [
        ListOf::required().line("part F-12 rail", 4, &plain).list(),
        ListOf::shipped().line("part F-13 rail", 4, &plain).list(),
    ];
    let account = settled(&job(), &lists);
    assert_eq!(account.may_be_same, [(0, 1)]);
    assert_eq!(Claim::of(&job(), &lists, &account).claimed, []);
}

/// The first stage that lacks anything may come behind one in which something is not settled.
#[test]
fn a_stage_not_settled_before_the_one_that_stops() {
    let lists = [
        ListOf::required()
            .line("part - corner brace 2 x 2", 8, &stage("Frame"))
            .line("nut hex 1/2", 8, &stage("Roof"))
            .list(),
        ListOf::shipped()
            .line("part - angle cleats 2x2", 8, &plain)
            .line("nut hex 1/2", 6, &plain)
            .list(),
    ];
    let account = settled(&job(), &lists);
    assert_eq!(account.stops_at, Some(1));
    let told = "it may stop before that, at stage \"Frame\": 1 item there is not settled";
    assert_eq!(account.reasons[1], told);
}

/// What a name says of a size, a strength or a colour is no number by which two parts are one.
#[test]
fn properties_make_no_part_of_another() {
    let parts = |list: ListOf, names: &[(&str, u64)]| {
        let add = |list: ListOf, (name, pieces): &(&str, u64)| {
            list.line(&format!("part - {name}"), *pieces, &plain)
        };
        names.iter().fold(list, add).list()
    };
    let settled_with = |counted: &[(&str, u64)]| {
        let asked = [("board c24", 12), ("beam c24", 2), ("pipe dn25", 4)];
        let lists = [
            parts(ListOf::required(), &asked),
            parts(ListOf::counted(), counted),
        ];
        settled(&job(), &lists).verdict
    };
    assert_eq!(
        settled_with(&[("boards", 12), ("beams", 2), ("pipes", 4)]),
        Verdict::Yes
    );
    assert_ne!(
        settled_with(&[("beams", 14), ("elbow dn25", 4)]),
        Verdict::Yes
    );
}

/// Under one number a count names what shares no word with the list's: nobody knows which of the two lies there. A
/// slip's word for it is the maker's own, and told.
#[test]
fn a_number_with_two_names() {
    let of = |list: ListOf, part: &str| list.line(&format!("part {part}"), 4, &plain).list();
    let told = |slip: Option<&str>, counted: &str, verdict: Verdict, expected: &str| {
        let mut lists = vec![of(ListOf::required(), "A-1 roof gasket")];
        lists.extend(slip.map(|slip| of(ListOf::shipped(), slip)));
        lists.push(of(ListOf::counted(), counted));
        let account = settled(&job(), &lists);
        assert_eq!(account.verdict, verdict, "{counted}");
        let doubts = &account.items[0].doubts;
        let said = doubts.first().map(ToString::to_string);
        assert_eq!(said.unwrap_or_default(), expected, "{counted}");
    };
    let asked = |name: &str| {
        format!(
            "part number A-1 is \"roof gasket\" on the parts list and \"{name}\" elsewhere: which is right?"
        )
    };
    for name in ["flange", "floor gasket", "gasket, left hatch"] {
        told(
            None,
            &format!("A-1 {name}"),
            Verdict::CannotSay,
            &asked(name),
        );
    }
    for name in ["gasket", "roof gaskets", "roof gasket, epdm"] {
        told(None, &format!("A-1 {name}"), Verdict::Yes, "");
    }
    let slip = Some("A-1 sealing strip");
    let taken = "\"sealing strip\" is taken for \"roof gasket\": both bear part number A-1";
    for name in ["strip", "gasket"] {
        told(slip, &format!("A-1 {name}"), Verdict::Yes, taken);
    }
}
