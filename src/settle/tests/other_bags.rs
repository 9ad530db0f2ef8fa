//! Slips and counts that name the bags of an item otherwise, and words that fit several items.

use pretty_assertions::assert_eq;

use super::*;

fn carton(name: &str) -> impl Fn(&mut Line, &mut Placement) {
    let name: Box<str> = name.into();
    move |_, placement| placement.carton = Some(name.clone())
}

/// Nuts, as many in each bag.
fn nuts(list: ListOf, bags: &[(&str, u64)]) -> List {
    let put = |list: ListOf, &(name, pieces): &(&str, u64)| match name {
        "" => list.line("nut hex 1/2", pieces, &plain),
        name => list.line("nut hex 1/2", pieces, &bag(name)),
    };
    bags.iter().fold(list, put).list()
}

/// Boxes on the slip, and the bags of the parts list on the count: one heap, and not two.
#[test]
fn a_count_by_bags_stands_for_a_slip_by_boxes() {
    let slips = [
        ListOf::shipped()
            .line("nut hex 1/2", 24, &carton("2"))
            .list(),
        ListOf::shipped().line("nut hex 1/2", 24, &bag("2")).list(),
    ];
    for slip in slips {
        let required = nuts(ListOf::required(), &[("F", 24)]);
        let counted = nuts(ListOf::counted(), &[("F", 22)]);
        let account = case(
            &job(),
            &[required, slip.clone(), counted],
            &["1/2-13 hex nut: 22/24, box is short 2"],
        );
        assert_eq!(account.verdict, Verdict::No);
        // Of two bags one was counted, and nobody says what of the box was in it.
        let required = nuts(ListOf::required(), &[("F", 16), ("G", 8)]);
        let counted = nuts(ListOf::counted(), &[("F", 16)]);
        let account = case(
            &job(),
            &[required, slip, counted],
            &["1/2-13 hex nut: 16/24, box is short 8"],
        );
        assert_eq!(account.items[0].open, Some(LeftOpen::OtherBags));
        assert_eq!(account.verdict, Verdict::CannotSay);
    }
}

/// Pieces that a slip puts in no bag are seen where more is counted than the bag was to hold.
#[test]
fn what_a_bag_holds_too_many_is_of_what_was_in_none() {
    let on_hand = |counted: u64| {
        let lists = [
            nuts(ListOf::required(), &[("F", 24)]),
            nuts(ListOf::shipped(), &[("F", 16), ("", 8)]),
            nuts(ListOf::counted(), &[("F", counted)]),
        ];
        let account = settled(&job(), &lists);
        (account.totals.pool, account.items[0].believed)
    };
    assert_eq!(on_hand(15), (23, 8));
    assert_eq!(on_hand(16), (24, 8));
    assert_eq!(on_hand(23), (24, 1));
    assert_eq!(on_hand(24), (24, 0));
    assert_eq!(on_hand(26), (26, 0));
}

/// Two people count one box, and one of them names its bag.
#[test]
fn counts_of_two_lists_that_tell_no_bags_apart_are_not_added() {
    let counts = |other: List, covered: u64| {
        let mut other = other;
        other.file = "other.csv".to_owned();
        let lists = [
            nuts(ListOf::required(), &[("F", 24)]),
            nuts(ListOf::shipped(), &[("F", 24)]),
            nuts(ListOf::counted(), &[("F", 15)]),
            other,
        ];
        let account = settled(&job(), &lists);
        assert_eq!(account.totals.covered, covered);
        account
    };
    for (other, covered) in [
        (nuts(ListOf::counted(), &[("", 15)]), 15),
        (nuts(ListOf::counted(), &[("", 12)]), 12),
        (
            ListOf::counted()
                .line("nut hex 1/2", 20, &carton("2"))
                .list(),
            15,
        ),
    ] {
        let account = counts(other, covered);
        assert_eq!(account.items[0].open, Some(LeftOpen::CountedTwice));
        assert_eq!(account.verdict, Verdict::CannotSay);
    }
    // Another bag is another heap.
    let account = counts(nuts(ListOf::counted(), &[("G", 9)]), 24);
    assert_eq!(account.verdict, Verdict::Yes);
}

/// What is counted without a length may be of any.
#[test]
fn a_count_that_fits_several_items_tells_nothing_of_one() {
    let lists = [
        ListOf::required()
            .line("bolt hex 1/2 3", 16, &plain)
            .line("bolt hex 1/2 4", 8, &plain)
            .list(),
        ListOf::shipped()
            .line("bolt hex 1/2 3", 16, &plain)
            .line("bolt hex 1/2 4", 8, &plain)
            .list(),
        ListOf::counted()
            .line("bolt hex 1/2 4", 8, &plain)
            .line("bolt hex 1/2", 2, &plain)
            .list(),
    ];
    let account = settled(&job(), &lists);
    assert_eq!(account.items[0].open, Some(LeftOpen::OneOfSeveral));
    assert_eq!(account.verdict, Verdict::CannotSay);
    // Of one length alone it is that.
    let [required, slip] = [ListOf::required(), ListOf::shipped()];
    let [required, slip] = [required, slip].map(|of| of.line("bolt hex 1/2 3", 16, &plain).list());
    let counted = ListOf::counted().line("bolt hex 1/2", 15, &plain).list();
    let account = settled(&job(), &[required, slip, counted]);
    assert_eq!(account.verdict, Verdict::No);
}

/// Whoever counts writes down what lies there, and no row for what does not.
#[test]
fn another_length_counted_is_asked_about() {
    let slip = |list: ListOf| {
        list.line("bolt hex 1/2 3", 8, &plain)
            .line("nut hex 1/2", 8, &plain)
    };
    let lists = |counted: u64| {
        let count = ListOf::counted().line("bolt hex 1/2 3-1/4", counted, &plain);
        [
            slip(ListOf::required()).list(),
            slip(ListOf::shipped()).list(),
            count.line("nut hex 1/2", 8, &plain).list(),
        ]
    };
    let account = case(
        &job(),
        &lists(8),
        &[
            "1/2-13 x 3 hex bolt: 8/8, another counted instead 8",
            "1/2-13 hex nut: 8/8",
            "1/2-13 x 3-1/4 hex bolt: 0/0 +8, not on the slip 8, not on the list 8, extra 8",
        ],
    );
    let asked = "1/2-13 x 3 hex bolt: It was not counted, and 8 pieces of 1/2-13 x 3-1/4 hex bolt, \
                 which no list asks for: perhaps packed in its place";
    assert!(
        account.reasons.iter().any(|reason| reason == asked),
        "{:?}",
        account.reasons
    );
    // A size alone is a bolt's.
    let [required, slip, _] = lists(8);
    let count = ListOf::counted().line("1/2 3-1/4", 8, &plain);
    let count = count.line("nut hex 1/2", 8, &plain).list();
    let account = settled(&job(), &[required, slip, count]);
    let of = |at: usize| account.items[at].findings.iter().map(|of| of.finding);
    assert!(of(0).any(|of| of == FindingKind::InItsPlace));
    // What the list asks for too few of, and parts of one name that differ in a figure or a side.
    for (uncounted, other) in [
        ("bolt hex 1/2 3", "bolt hex 1/2 2"),
        ("part - rail 2000", "part - rail 1800"),
        ("part - arm, right", "part - arm, left"),
    ] {
        let whole = |list: ListOf| {
            let list = list.line(uncounted, 8, &plain);
            list.line(other, 2, &plain).list()
        };
        let counted = ListOf::counted().line(other, 10, &plain).list();
        let lists = [whole(ListOf::required()), whole(ListOf::shipped()), counted];
        let account = settled(&job(), &lists);
        let told = |of: &Finding| of.note.contains("more than the lists ask for");
        assert!(account.items[0].findings.iter().any(told), "{uncounted}");
    }
    // Another number is of something else.
    let account = settled(&job(), &lists(3));
    assert!(account.items[0].findings.is_empty());
}

/// What a count names without a size has that of the only such piece in its bag, else of the only one in all.
#[test]
fn pieces_without_a_size_have_that_of_their_bag() {
    let case = |wanted: &[(&str, &str)], counted: &[(&str, &str)], expected: &[&str]| {
        let put = |list: ListOf, &(name, item): &(&str, &str)| match name {
            "" => list.line(item, 8, &plain),
            name => list.line(item, 8, &bag(name)),
        };
        let mut lists = [
            wanted.iter().fold(ListOf::required(), put).list(),
            counted.iter().fold(ListOf::counted(), put).list(),
        ];
        say_unsaid(&mut lists);
        let list = &lists[1];
        let items = list.lines.iter().map(|line| {
            let reading = list.reading_of(line).unwrap();
            let doubts: Vec<String> = reading
                .doubts
                .iter()
                .map(|doubt| doubt.to_string())
                .collect();
            format!("{}: {}", reading.item, doubts.join(" ? "))
        });
        assert_eq!(items.collect::<Vec<_>>(), expected);
    };
    let wanted = [
        ("1", "nut hex 1/2"),
        ("1", "washer flat 1/2"),
        ("2", "nut hex 5/8"),
        ("2", "nut nylon 5/8"),
        ("2", "washer flat 5/8"),
    ];
    let lock_nut = "5/8 nylon-insert lock nut: no size stated: taken for 5/8 nylon-insert lock nut, the only one";
    case(
        &wanted,
        &[
            ("1", "nut hex"),
            ("Bag 2", "nut nylon"),
            ("2", "washer flat"),
        ],
        &[
            "1/2 hex nut: no size stated: taken for 1/2 hex nut, the only one in bag 1",
            &format!("{lock_nut} in bag 2"),
            "5/8 flat washer: no size stated: taken for 5/8 flat washer, the only one in bag 2",
        ],
    );
    // Both nuts of the bag; of two bags; in a bag that the list does not know.
    for name in ["2", "", "3"] {
        case(&wanted, &[(name, "nut hex")], &["hex nut: "]);
    }
    // The lock nuts are named apart, and are the only ones in all.
    case(
        &wanted,
        &[("2", "nut hex"), ("", "nut nylon")],
        &[
            "5/8 hex nut: no size stated: taken for 5/8 hex nut, the only one in bag 2",
            &format!("{lock_nut} of its kind on the list"),
        ],
    );
    // By its size alone: the only one of the size, whatever else there is, and none of two.
    let sized = [
        ("1", "bolt hex 1/2 3"),
        ("1", "bolt hex 1/2 4"),
        ("2", "bolt hex 5/8 3"),
        ("2", "bolt carriage 5/8 3"),
    ];
    let bolt = "1/2 x 3 hex bolt: no kind stated: taken for 1/2 x 3 hex bolt, the only one";
    case(
        &sized,
        &[("1", "1/2 3"), ("", "1/2 3"), ("2", "5/8 3"), ("", "1/2 5")],
        &[
            &format!("{bolt} in bag 1"),
            &format!("{bolt} of its size on the list"),
            "5/8 x 3: ",
            "1/2 x 5: ",
        ],
    );
    // A neighbour's size that the list does not have is none of theirs.
    let of_line = |text: &str| {
        let put = |list: ListOf, item: &str| list.line(item, 8, &bag("1"));
        let required = ["bolt hex 5/8 3", "washer flat 5/8", "nut hex 5/8"];
        let mut lists = [
            required.into_iter().fold(ListOf::required(), put).list(),
            put(ListOf::counted(), "nut hex").list(),
        ];
        let callouts =
            crate::notation::describe(text, crate::notation::Notation::default()).expect("is read");
        let [_, nut] = callouts.as_slice() else {
            panic!("two items");
        };
        let reading = &mut lists[1].readings[0];
        (reading.item, reading.lent_size) = (nut.item.clone(), nut.lent_size);
        say_unsaid(&mut lists);
        let list = &lists[1];
        list.reading_of(&list.lines[0]).unwrap().item.to_string()
    };
    assert_eq!(of_line("8 M16 x 65 bolts, 8 nuts"), "5/8 hex nut");
    assert_eq!(of_line("8 5/8 x 3 bolts, 8 nuts"), "5/8 hex nut");
    assert_eq!(of_line("8 M16 x 65 bolts, 8 M16 nuts"), "M16 hex nut");
    // No eye bolt is meant by a bolt.
    case(&[("1", "bolt eye 1/2 3")], &[("1", "bolt")], &["bolt: "]);
}

/// A word that is not known stands in the list's name of a piece: what a count calls without its size, or without
/// that word, is the only such piece.
#[test]
fn pieces_called_by_a_word_of_their_own_have_their_size() {
    let case = |wanted: &[&str], counted: &str, expected: &str| {
        let read = |text: &str| {
            describe(text, Notation::default())
                .expect("an item")
                .swap_remove(0)
                .item
        };
        let put = |list: ListOf, text: &&str| {
            let item = read(text);
            list.line("bolt", 8, &bag("B")).edit(|list| {
                list.readings.last_mut().expect("just pushed").item = item;
            })
        };
        let mut lists = [
            wanted.iter().fold(ListOf::required(), put).list(),
            put(ListOf::counted(), &counted).list(),
        ];
        say_unsaid(&mut lists);
        let list = &lists[1];
        let reading = list.reading_of(&list.lines[0]).unwrap();
        assert_eq!(reading.item.to_string(), expected, "{counted}");
    };
    let hooks = ["M10 x 160 swing hook", "M10 x 40 hex bolt"];
    case(&hooks, "swing hooks", "M10 x 160 swing hook");
    case(&hooks, "gate hooks", "gate hooks");
    case(
        &["M6 x 12 cropped head bolt", "M6 nut"],
        "bolts",
        "M6 x 12 cropped bolt",
    );
    case(
        &["M6 x 12 cropped head bolt"],
        "drilled bolts",
        "drilled bolt",
    );
}

/// What may be one of two is not what a built stage left, so that one more of it takes nothing from the other.
#[test]
fn a_piece_that_may_be_one_of_two_is_not_what_was_built_in() {
    let required = ListOf::required()
        .line("bolt hex 1/2 3", 3, &stage("One"))
        .line("bolt hex 1/2 4", 2, &stage("Two"))
        .line("bolt hex 1/2 3", 3, &stage("Three"))
        .list();
    let slip = ListOf::shipped()
        .line("bolt hex 1/2 3", 3, &bag("A"))
        .line("bolt hex 1/2 3", 3, &bag("B"))
        .list();
    let job = Job {
        built_through: Some("One".to_owned()),
        ..job()
    };
    for (either, short) in [(1, [0, 1, 0]), (2, [0, 0, 0])] {
        let counted = ListOf::counted()
            .line("bolt hex 1/2 3", 0, &bag("A"))
            .line("bolt hex 1/2", either, &bag("A"))
            .list();
        let account = settled(&job, &[required.clone(), slip.clone(), counted]);
        let found: Vec<u64> = account.stages.iter().map(|stage| stage.short).collect();
        assert_eq!(found, short, "{either}");
        assert_eq!(account.verdict, Verdict::CannotSay);
    }
}

/// Parts of one name that differ in a side or a figure are packed in each other's place, too.
#[test]
fn the_other_hand_is_told() {
    for (short, over) in [
        ("part - arm, right", "part - arm, left"),
        ("part - rail 2000", "part - rail 1800"),
    ] {
        let list = |list: ListOf, pieces: [u64; 2]| {
            let list = list.line(short, pieces[0], &plain);
            list.line(over, pieces[1], &plain).list()
        };
        let lists = [
            list(ListOf::required(), [4, 4]),
            list(ListOf::shipped(), [4, 4]),
            list(ListOf::counted(), [3, 5]),
        ];
        let account = settled(&job(), &lists);
        let found = &account.items[0].findings;
        let told = found.iter().find(|of| of.finding == FindingKind::WrongSize);
        assert_eq!(told.map(|of| of.pieces), Some(1), "{short}");
        assert_eq!(account.verdict, Verdict::No);
    }
}
