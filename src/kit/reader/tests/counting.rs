//! Bench counts and slips as people write them by hand: bags as such, counts within names, kits.

use super::*;
use crate::notation::describe;

#[test]
fn bags_counted_as_such() {
    case(
        "count.txt",
        "H1 bag x3 complete\nH2 bag: 2 complete, third one open:\n10 M6 x 40 coach bolts\n",
        Counted,
        &[
            "1: - bag None [bag H1] ? bags are counted here, and not what is in them",
            "2: - bag None [bag H2] ? bags are counted here, and not what is in them",
            "3: 10 M6 x 40 carriage bolt [bag H2]",
        ],
    );
    counted(
        "Item,Good\nHardware bag H1,3\n",
        &["2: 3 bag None [bag H1] ? bags are counted here, and not what is in them"],
    );
}

/// What is said about each line is of no item, nor does a file begin below its first line for it. Common practice, no
/// source.
#[test]
fn words_about_a_count() {
    for said in [
        "leg tubes: 4 there\nroof sheets: 6 there\nM8 nuts: 8 there\n",
        "leg tubes 4 ok\nroof sheets 6 ok\nM8 nuts 8 ok\n",
        "leg tubes qty: 4\nroof sheets qty: 6\nM8 nuts qty: 8\n",
        "leg tubes - count: 4\nroof sheets - count: 6\nM8 nuts - count: 8\n",
        "4 of 4 leg tubes\n6 of 6 roof sheets\n8 of 8 M8 nuts\n",
    ] {
        let lines = ["1: 4 leg tubes", "2: 6 roof sheets", "3: 8 M8 hex nut"];
        case("count.txt", said, Counted, &lines);
    }
    case(
        "count.txt",
        "got 4 hinges\nfound 6 roof sheets\nall 8 M8 nuts\n",
        Counted,
        &["1: 4 hinges", "2: 6 roof sheets", "3: 8 M8 hex nut"],
    );
}

/// Figures behind names that are not known count, where all lines are written so. Common practice, no source.
#[test]
fn counts_behind_strange_names() {
    case(
        "count.txt",
        "ground screws 12\nslide nuts 32\nhinges 4\nlag screws 12\n",
        Counted,
        &[
            "1: 12 ground screw ? not understood: \"ground\" ? no size stated",
            "2: 32 slide nut ? not understood: \"slide\" ? no size stated",
            "3: 4 hinges",
            "4: 12 lag screw ? no size stated",
        ],
    );
}

/// Numbers of the maker's and counts, and no headings. Common practice, no source.
#[test]
fn numbers_and_counts_alone() {
    for (name, text, first) in [
        ("slip.txt", "R-101      4\nR-102      2\n400-10     8\n", 1),
        ("slip.csv", "R-101,4\nR-102,2\n400-10,8\n", 1),
        (
            "slip.csv",
            "Packing slip 3390\n2 Feb 2026\nR-101,4\nR-102,2\n400-10,8\n",
            3,
        ),
    ] {
        let line = |(at, said): (usize, &str)| format!("{}: {said}", first + at);
        let lines: Vec<String> = ["4 [part R-101]", "2 [part R-102]", "8 [part 400-10]"]
            .into_iter()
            .enumerate()
            .map(line)
            .collect();
        let lines: Vec<&str> = lines.iter().map(|line| &**line).collect();
        case(name, text, Shipped, &lines);
    }
}

/// Fields labelled line by line, of parts alone. Common practice, no source.
#[test]
fn two_labelled_records() {
    listed(
        "Part: post cap\nQty: 4\n\nPart: post foot\nQty: 6\n",
        &["1: 4 post cap", "4: 6 post foot"],
    );
}

/// A line of nothing but noise is told. Common practice, no source.
#[test]
fn noise_among_lines() {
    let aside = "- aside: no item found: it stands among the lines of the list, and no item with its count is found";
    for noise in ["%%%%", "?!?", "&*()_+", "x", "zzkk ppt"] {
        let text = format!("8 M8 nuts\n{noise}\n6 M8 x 30 hex bolts\n");
        let told = format!("2: {aside}");
        listed(&text, &["1: 8 M8 hex nut", &told, "3: 6 M8 x 30 hex bolt"]);
    }
    for rule in ["-----", "=====", "* * *", "....", "~~~~"] {
        let text = format!("8 M8 nuts\n{rule}\n6 M8 x 30 hex bolts\n");
        listed(&text, &["1: 8 M8 hex nut", "3: 6 M8 x 30 hex bolt"]);
    }
}

/// The figures of a date count nothing. Common practice, no source.
#[test]
fn titles_with_a_date() {
    for title in [
        "Nuts and bolts 12 June 2026",
        "Tom - bag of bolts, 4 May 2026",
        "Bolts and screws, May 3rd, 2026",
        "Screws 2026-05-04",
        "washers and nuts 4.5.2026",
    ] {
        let text = format!("{title}\nhinges 2\nM8 nuts 4\n");
        case(
            "count.txt",
            &text,
            Counted,
            &["2: 2 hinges", "3: 4 M8 hex nut"],
        );
    }
}

/// The date in the first line of a count is its own, unless the line names another (common practice, no source).
#[test]
fn a_date_in_the_first_line() {
    let date = |title: &str| {
        let text = format!("{title}\nhinges 2\nM8 nuts 4\n");
        let list = read_list("count.txt", text, Counted);
        list.date
    };
    for (title, expected) in [
        ("Ana, 20 April 2026, small parts", Some("20 April 2026")),
        ("tray run, 20.04.2026, Odo", Some("20.04.2026")),
        ("Count - Ana - 2026-04-20", Some("2026-04-20")),
        (
            "Counted by Ana on Monday 20 April 2026",
            Some("20 April 2026"),
        ),
        ("Needed by 20 April 2026", None),
        ("Printed 20 April 2026", None),
    ] {
        assert_eq!(date(title).as_deref(), expected, "{title}");
    }
}

#[test]
fn counts_that_stand_in_a_name() {
    case(
        "count.txt",
        "12 M8 nuts\nchains 11 good 1 kinked\nspring clips, dozen\n",
        Counted,
        &[
            "1: 12 M8 hex nut",
            "2: - aside: by its words it is no plain count: write good and damaged pieces apart (\"1 kinked\")",
            "3: 12 spring clips",
        ],
    );
}

#[test]
fn what_each_of_several_kits_has() {
    let told = "taken 3 times, for \"3 x kit S, each:\", line 2: is it each or in all?";
    case(
        "slip.txt",
        "Shipped to: the orchard\n3 x kit S, each:\nA-frame ORD 2 SHIP 2\nSeat ORD 1 SHIP 0 B/O 1\n",
        Shipped,
        &[
            &format!("3: 2 x 3 a-frame ? {told}"),
            &format!("4: 0+3 owed x 3 seat ? {told}"),
        ],
    );
}

/// A count as people write it down (common practice, no source).
#[test]
fn counts_in_words() {
    let aside = |row: u32, words: &str| {
        format!(
            "{row}: - aside: by its words it is no plain count: write good and damaged pieces apart (\"{words}\")"
        )
    };
    case(
        "count.txt",
        "M8 x 30 hex bolts 12\nposts: none\nrails missing\ncaps all here\nfeet ok\nposts twelve\nM6 nuts full bag\n",
        Counted,
        &[
            "1: 12 M8 x 30 hex bolt",
            &aside(2, "none"),
            &aside(3, "missing"),
            &aside(4, "all here"),
            &aside(5, "ok"),
            "6: 12 posts",
            "7: - M6 hex nut ? no quantity stated: not summed",
        ],
    );
    counted(
        "Equipment,Sent,Returned,Remark\nGuard rail 2.5 m,16,15,cleaned\nBoard 3.9 m,30,,\n",
        &["2: 15 guard rail 2.5 m [part]", "3: - board 3.9 m [part]"],
    );
}

/// A pack named with the item, and a figure of at least that under the quantity (common practice, no source).
#[test]
fn a_figure_beside_a_pack_may_be_packs_or_pieces() {
    required(
        "Item,Qty,Unit\n\"M8 nut, bag of 50\",100,\n\"M8 nut, bag of 50\",100,pcs\n\"M8 nut, bag of 50\",3,\n",
        &[
            "2: 5000 M8 hex nut ? 100 may be pieces or packs of 50: taken as packs",
            "3: 100 M8 hex nut",
            "4: 150 M8 hex nut",
        ],
    );
}

/// `c.` is about, and no hundred.
#[test]
fn about_a_dozen_is_no_count() {
    required(
        "Item,Qty\nM8 nut,c. 12\nM10 nut,12 C\n",
        &[
            "2: - aside: \"c. 12\" is no count of pieces",
            "3: 1200 M10 hex nut ? 12 C read as 1200: C and M are the trade's hundred and thousand",
        ],
    );
}

/// Thousands set apart by a space (ISO 80000-1, from memory).
#[test]
fn thousands_set_apart_by_a_space() {
    listed(
        "8 M8 x 40 bolts\n12 000 M5 nuts\n1 000 clips\n",
        &[
            "1: 8 M8 x 40 bolt",
            "2: 12000 M5 hex nut ? \"12 000\" read as 12000",
            "3: 1000 clips ? \"1 000\" read as 1000",
        ],
    );
}

/// A title over lines that says what they are for (common practice, no source).
#[test]
fn titles_that_say_what_lines_are_for() {
    let told = "may say which of its lines are needed, or how often: taken as new, and once";
    required(
        "Item,Qty\nBASE,\nPost,4\n,\nBy others:,\nBoard,6\n,\nEach bay:,\nM8 nut,12\n,\nOptional extras,\nM8 washer,2\n",
        &[
            "3: 4 post [BASE]",
            "6: 6 board [By others] [not in this kit]",
            &format!("9: 12 M8 hex nut [Each bay] ? \"Each bay\" {told}"),
            &format!("12: 2 M8 flat washer [Optional extras] ? \"Optional extras\" {told}"),
        ],
    );
}

/// What a list says of pieces that do not come with it (common practice, no source).
#[test]
fn pieces_that_do_not_come_with_the_kit() {
    let told = "may say which of its lines are needed, or how often: taken as new, and once";
    listed(
        "8 M8 x 40 bolts\n4 wedge anchors M12 x 100 (not included)\n\nNot supplied with the kit:\n2 M8 nuts\n\nYou will also need:\n2 M10 nuts\n",
        &[
            "1: 8 M8 x 40 bolt",
            "2: 4 M12 x 100 wedge anchor [not in this kit]",
            "5: 2 M8 hex nut [Not supplied with the kit] [not in this kit]",
            &format!("8: 2 M10 hex nut [You will also need] ? \"You will also need\" {told}"),
        ],
    );
    for heading in ["In kit?", "Supplied", "Included"] {
        let list = format!("Item,Qty,{heading}\nPost,4,yes\nRail,6,yes\nM8 nut,12,no\n");
        let told = format!(
            "4: 12 M8 hex nut ? \"no\" under \"{heading}\", where other rows have \"yes\": taken as 12"
        );
        required(&list, &["2: 4 post", "3: 6 rail", &told]);
    }
    let list = "Item,Qty,Galvanised\nPost,4,yes\nRail,6,yes\nM8 nut,12,no\n";
    required(list, &["2: 4 post", "3: 6 rail", "4: 12 M8 hex nut"]);
}

/// A description goes on in a column of its own, as order systems print it (common practice, no source).
#[test]
fn descriptions_that_go_on_in_a_further_column() {
    required(
        "Ln,Description,Further text,Quantity,Unit\n10,Hex Bolt M8 x 70,\"8.8, zinc\",40,PCS\n20,Stand leg,1500 mm,16,PCS\n",
        &[
            "2: 40 M8 x 70 hex bolt, 8.8, zinc plated",
            "3: 16 stand leg 1500 mm [part]",
        ],
    );
}

/// One hand writes its counts in front, and a length behind (common practice, no source).
#[test]
fn figures_behind_among_counts_in_front() {
    listed(
        "8 M8 x 40 bolts\n6 M8 nuts\n4 M10 nuts\n6 foot bars 600\nslat of the seat: 9 st.\n",
        &[
            "1: 8 M8 x 40 bolt",
            "2: 6 M8 hex nut",
            "3: 4 M10 hex nut",
            "4: 600 6 foot bars [part] ? 600 taken for how many: may be 6, which stands in front as in the other lines",
            "5: 9 slat of the seat",
        ],
    );
}

/// A tick is written as an x, which heads a column of places, too (common practice, no source).
#[test]
fn the_first_line_is_no_second_row_of_headings() {
    let list = read_as(
        "list.csv",
        b"Item,Foo\nM8 nut,x\nM10 nut,x\n",
        Required,
        &[],
    )
    .unwrap();
    assert_eq!(list.lines.len(), 2);
}

/// Bags named by a letter that heads a column, too, and what people write beside them (common practice, no
/// source).
#[test]
fn bags_that_did_not_arrive() {
    counted(
        "Bag,Box,Received\nA,,yes\nC,,no\nD,,\"No, on order\"\nE,,torn\n,1,\u{2717}\n",
        &[
            "2: - bag Some(true) [bag A]",
            "3: - bag Some(false) [bag C]",
            "4: - bag Some(false) [bag D]",
            "5: - bag None [bag E] ? \"torn\" is neither yes nor no",
            "6: - bag Some(false) [box 1]",
        ],
    );
}

/// The id of our own Count sheet against the text beside it, where one column was sorted alone.
#[test]
fn an_id_of_another_item_is_asked_about() {
    let nut = describe("M8 hex nut", Notation::default()).unwrap()[0]
        .item
        .id();
    let washer = describe("M8 flat washer", Notation::default()).unwrap()[0]
        .item
        .id();
    counted(
        &format!(
            "Id,Item,Good,Damaged\n{nut},M8 hex nut,8,\n{nut},M8 flat washer,8,\n{washer},M8 flat washer,8,\n"
        ),
        &[
            "2: 8 M8 hex nut",
            &format!(
                "3: 8 M8 flat washer ? the id {nut} is of another item than the text: which of them was counted?"
            ),
            "4: 8 M8 flat washer",
        ],
    );
}

#[test]
fn blank_cells_of_what_is_left_over() {
    let list = read_as(
        "left.csv",
        b"Item,Good\nM8 nut,2\nM10 nut,\n",
        Role::LeftOver,
        &[],
    )
    .unwrap();
    assert_eq!(list.lines.len(), 2);
    assert!(list.lines.iter().all(|line| line.doubts().is_empty()));
}

/// What is said of a part above the first plain line of a count is a line, too (common practice, no source).
#[test]
fn lines_above_the_first_plain_one() {
    let list = read_as(
        "count.txt",
        b"counted Saturday by Pia\nbase beams 2 ok\nfoot plates 4, one bent\nposts 3 (rear one missing)\narms 12\nM12 nuts 8\n",
        Role::Counted,
        &[],
    )
    .unwrap();
    let rows: Vec<u32> = list.lines.iter().map(|line| line.row).collect();
    assert_eq!(rows, [2, 3, 4, 5, 6]);
}

/// A slip leaves blank what it did not send (common practice, no source).
#[test]
fn all_of_it_back_ordered() {
    case(
        "slip.csv",
        "Qty Ord,Qty B/O,Qty Shp,Item\n4,,4,rail\n24,24,,M8 nut\n24,20,,M8 washer\n",
        Shipped,
        &[
            "2: 4 rail",
            "3: 0+24 owed M8 hex nut",
            "4: -+20 owed M8 flat washer ? no quantity stated: not summed",
        ],
    );
}

/// Who counts two kits writes which is which, and each has a bag A of its own (common practice, no source).
#[test]
fn kits_counted_apart() {
    counted(
        "Kit,Bag,Item,Good\n1,A,M8 nut,6\n2,A,M8 nut,5\n,,Rail,4\n",
        &[
            "2: 6 M8 hex nut [bag A] [box 1]",
            "3: 5 M8 hex nut [bag A] [box 2]",
            "4: 4 rail",
        ],
    );
    required(
        "Kit,Item,Qty\n1,M8 nut,6\n2,M8 washer,5\n",
        &["2: 6 M8 hex nut", "3: 5 M8 flat washer"],
    );
}

/// What a row's pieces lie in, and who packed them (common practice, no source).
#[test]
fn packages_and_packers() {
    case(
        "slip.csv",
        "Part,Qty sent,Pkg,Packed by\nHinge,4,Crate,MW\nM8 x 40 hex bolt,8,Bundle,MW\n",
        Shipped,
        &[
            "2: 4 hinge [box Crate]",
            "3: 8 M8 x 40 hex bolt [box Bundle]",
        ],
    );
    case(
        "slip.csv",
        "What,In box\nFrame rail,4\nM8 x 60 lag screw,8\nCap,4\n",
        Shipped,
        &["2: 4 frame rail", "3: 8 M8 x 60 lag screw", "4: 4 cap"],
    );
}

/// A class beside its finish is no count.
#[test]
fn a_class_and_a_finish_in_one_cell() {
    required(
        "Description,Material,Qty\nHex nut M12,8 HDG,12\nM12 x 40 bolt,8.8 zinc plated,4\n",
        &[
            "2: 12 M12 hex nut, Class 8, hot-dip galvanised",
            "3: 4 M12 x 40 bolt, 8.8, zinc plated",
        ],
    );
}

/// What stands under a title that says it is not there may be no count of it (common practice, no source).
#[test]
fn titles_over_what_is_not_there() {
    let under = |title: &str| format!("the remark \"{title}\" may change how many");
    case(
        "count.txt",
        "8 M8 nuts\n4 rails\n\nMISSING:\n8 M8 x 40 hex bolts\n\nSecond shelf:\n6 M8 washers\n",
        Counted,
        &[
            "1: 8 M8 hex nut",
            "2: 4 rails",
            &format!("5: 8 M8 x 40 hex bolt ? {}", under("MISSING")),
            "8: 6 M8 flat washer",
        ],
    );
    case(
        "slip.csv",
        "Item,Qty\nM8 nut,8\nTo follow,\nM8 x 40 hex bolt,8\n",
        Shipped,
        &[
            "2: 8 M8 hex nut",
            "3: - to follow ? no quantity stated: not summed",
            &format!("4: 8 M8 x 40 hex bolt ? {}", under("To follow")),
        ],
    );
}

/// What a line of a count says is wanted is not there; nor may be what a hand leaves open (common practice, no source).
#[test]
fn lines_of_a_count_that_are_none() {
    for (line, words) in [
        ("need 2 M8 nuts", "need"),
        ("please send 2 M8 nuts", "please"),
        ("M8 nuts 8 required", "required"),
        ("8 M8 nuts ???", "???"),
        ("8 M8 nuts - NO", "- NO"),
        ("8 M8 nuts \u{2717}", "\u{2717}"),
        ("(8 M8 nuts)", "(8 M8 nuts)"),
    ] {
        case(
            "count.txt",
            &format!("4 rails\n8 M10 nuts\n{line}\n"),
            Counted,
            &[
                "1: 4 rails",
                "2: 8 M10 hex nut",
                &format!(
                    "3: - aside: it may not say what is there (\"{words}\"): write good and damaged pieces apart"
                ),
            ],
        );
    }
}

/// What the signs of one line say that the others do not bear. Common practice, no source.
#[test]
fn signs_in_front_of_a_count() {
    let minus = "? a minus stands in front: it may be taken away from what is there";
    let bench = |line: &str, read: &str| {
        let text = format!("8 M8 x 40 hex bolts\n4 rails\n{line}\n");
        let expected = ["1: 8 M8 x 40 hex bolt", "2: 4 rails", read];
        case("count.txt", &text, Counted, &expected);
    };
    for line in ["-2 M8 nuts", "\u{2212} 2 M8 nuts", "\u{2013}2 M8 nuts"] {
        bench(line, &format!("3: 2 M8 hex nut {minus}"));
    }
    bench("- 2 M8 nuts", "3: 2 M8 hex nut");
    for line in ["[ ] 2 M8 nuts", "\u{2610} 2 M8 nuts", "2 M8 nuts [ ]"] {
        let open = "3: 2 M8 hex nut ? its box is not ticked: it may not be counted yet";
        bench(line, open);
    }
    case(
        "count.txt",
        "-2 M8 nuts\n-4 rails\n-8 M6 nuts\n",
        Counted,
        &["1: 2 M8 hex nut", "2: 4 rails", "3: 8 M6 hex nut"],
    );
}

/// That none is there is said in words, too. Common practice, no source.
#[test]
fn lines_that_say_none() {
    case(
        "count.txt",
        "4 rails\n8 M8 nuts\nno latches\n",
        Counted,
        &[
            "1: 4 rails",
            "2: 8 M8 hex nut",
            "3: - aside: no item found: it says that there are none: write \"latches 0\"",
        ],
    );
    case(
        "count.txt",
        "4 rails\n8 M8 nuts\nno damage\n",
        Counted,
        &["1: 4 rails", "2: 8 M8 hex nut"],
    );
}

/// Strokes stand for their number wherever a figure may. Common practice, no source.
#[test]
fn counts_in_strokes() {
    case(
        "count.txt",
        "rack - counted 10 July 2026\n\nuprights IIII\nties |||| ||\nM8 nuts 16\n",
        Counted,
        &[
            "3: 4 uprights",
            "4: 6 ties ? \"|||| ||\" read as 6 strokes: may be 7 where four stand for five",
            "5: 16 M8 hex nut",
        ],
    );
    // On a parts list they are of a name.
    listed(
        "8 M8 nuts\n4 frame II\n",
        &["1: 8 M8 hex nut", "2: 4 frame ii"],
    );
}

/// A heading may say when a column was counted, or who did. Common practice, no source.
#[test]
fn columns_counted_by_and_on() {
    for heading in [
        "Counted 24 June 2026",
        "Count 24/6",
        "Counted by Mia",
        "Count Mia",
        "Count of 24 June",
        "Checked by Jo Brand",
        "Found on 3 May",
        "On bench",
    ] {
        let text = format!("Item,{heading}\nhinges,4\nM8 nuts,12\n");
        counted(&text, &["2: 4 hinges", "3: 12 M8 hex nut"]);
    }
    for (heading, date) in [
        ("Counted 24 June 2026", Some("24 June 2026")),
        ("Counted by Mia on 24-Jun-26", Some("24-Jun-26")),
        ("Counted", None),
    ] {
        let text = format!("Item,{heading}\nhinges,4\nM8 nuts,12\n");
        let list = read_list("count.csv", text, Counted);
        assert_eq!(list.date.as_deref(), date, "{heading}");
    }
}

/// A unit beside a count that is no unit of pieces. Common practice, no source.
#[test]
fn counts_in_no_unit_of_pieces() {
    counted(
        "Item,Counted,Unit\nHinge,4,pcs\nRail,8,half\nHex nut M8,8,kg\nM6 nut,9,box\n",
        &[
            "2: 4 hinge",
            "3: 8 rail ? the unit of measure \"half\" is no count of pieces",
            "4: 8 M8 hex nut ? the unit of measure \"kg\" is no count of pieces",
            "5: 9 M6 hex nut",
        ],
    );
}

/// One of each, ticked. Common practice, no source.
#[test]
fn ticks_in_front_of_single_pieces() {
    for tick in ["[x] ", "\u{2713} ", "- [x] ", ""] {
        case(
            "count.txt",
            &format!(
                "bag 1\n{tick}floor 1\n{tick}side walls 2\nbag 2\n{tick}ramp 1\n{tick}washers M6 8\n"
            ),
            Counted,
            &[
                "2: 1 floor [bag 1]",
                "3: 2 side walls [bag 1]",
                "5: 1 ramp [bag 2]",
                "6: 8 M6 flat washer [bag 2]",
            ],
        );
    }
}

/// Among lines of one row none is lost, and one in doubt puts all of them in doubt.
#[test]
fn none_of_several_lines_in_a_row_is_lost() {
    listed(
        "post 2, rail 3, 12 M8 x 40 bolts\n",
        &[
            "1: - aside: no item found: \"post 2\" stands among lines of pieces: how many, and of what?",
            "1: 3 rail ? a number behind plain words: it may be no count",
            "1: 12 M8 x 40 bolt ? another item of the same row is in doubt",
        ],
    );
    let may = "may tell which it is, and not how many";
    listed(
        "rev 2, pos 8, 6 nuts M8\n",
        &[
            &format!("1: 8 rev 2, pos [part] ? \"pos 8\" {may}"),
            "1: 6 M8 hex nut ? another item of the same row is in doubt",
        ],
    );
}

/// What is said of a count behind a comma may change it, and is no line of its own. Common practice, no source.
#[test]
fn remarks_behind_a_comma() {
    for said in [
        "see Bo",
        "from stock",
        "for the other kit",
        "from the label",
    ] {
        case(
            "count.txt",
            &format!("4 hinges\nhex nuts M8 8, {said}\n"),
            Counted,
            &[
                "1: 4 hinges",
                &format!("2: 8 M8 hex nut ? the remark \"{said}\" may change how many"),
            ],
        );
    }
    case(
        "count.txt",
        "4 hinges\nhex nuts M8 8, in box 2\n",
        Counted,
        &["1: 4 hinges", "2: 8 M8 hex nut [box 2]"],
    );
}

/// A bag in front of what it holds, in the ways people jot it. Common practice, no source.
#[test]
fn bags_jotted_in_front_of_what_they_hold() {
    for text in [
        "Bag A: 12 bolts, 24 washers, 12 nuts",
        "Bag A - 12 bolts / 24 washers / 12 nuts",
        "Bag A (12 bolts, 24 washers, 12 nuts)",
        "Bag A = 12 bolts + 24 washers + 12 nuts",
        "In bag A: 12 bolts, 24 washers, 12 nuts",
        "Bag \"A\": 12 bolts, 24 washers, 12 nuts",
        "Bag A: bolts=12 washers=24 nuts=12",
    ] {
        case(
            "count.txt",
            &format!("{text}\n8 M6 nuts\n"),
            Counted,
            &[
                "1: 12 bolt [bag A] ? no size stated",
                "1: 24 flat washer [bag A] ? no size stated",
                "1: 12 hex nut [bag A] ? no size stated",
                "2: 8 M6 hex nut",
            ],
        );
    }
}

#[test]
fn lines_above_the_headings_go_aside() {
    for above in [
        "M8 x 40 hex bolt,9",
        "9,M8 x 40 hex bolt",
        "M8 x 40 hex bolt,9,",
        "9 M8 x 40 hex bolts",
    ] {
        for role in [Required, Shipped, Counted] {
            let text = format!("{above}\n\nItem,Qty\nM8 nut,4\nM6 nut,5\n");
            let list = read_list("list.csv", text, role);
            let lines: Vec<String> = list.lines.iter().map(|line| short(&list, line)).collect();
            let said =
                "it stands above the headings, where no line is looked for: move it below them";
            assert!(
                lines[0].starts_with("1: ") && lines[0].contains(said),
                "{lines:?}"
            );
            assert_eq!(
                lines[1..],
                ["4: 4 M8 hex nut", "5: 5 M6 hex nut"],
                "{above}"
            );
        }
    }
    // A title names sizes, too.
    for title in [
        "Kit of M8 bolts",
        "Bolts M8 to M12,Rev 2",
        "Shelter kit,4",
        "M8 hardware,2026-04-20",
    ] {
        let text = format!("{title}\n\nItem,Qty\nM8 nut,4\nM6 nut,5\n");
        required(&text, &["4: 4 M8 hex nut", "5: 5 M6 hex nut"]);
    }
}

#[test]
fn two_columns_of_what_was_shipped() {
    shipped(
        "Item,Shipped,Shipped\nM8 nut,4,9\nM6 nut,3,3\nM5 nut,7,\n",
        &[
            "2: - M8 hex nut ? two quantities, 4 and 9: not summed",
            "3: 3 M6 hex nut",
            "4: 7 M5 hex nut",
        ],
    );
}

/// Figures beside the count, under headings of which no word is known, may add to it, take away or say how often: in any
/// list. Common practice, no source.
#[test]
fn figures_under_strange_headings() {
    let asks = |role: Role, heading: &str, figures: [&str; 3]| {
        let [first, second, third] = figures;
        let text = format!(
            "Item,Qty,{heading}\nM10 nut,36,{first}\nbench slat,10,{second}\nbench leg,4,{third}\n"
        );
        let list = read_list("list.csv", text, role);
        let doubted = list
            .lines
            .iter()
            .filter(|line| list.doubts_of(line).next().is_some());
        doubted.count()
    };
    for role in [Required, Shipped, Counted] {
        for heading in [
            "Undelivered",
            "Refused",
            "Kept apart",
            "Top-up",
            "Adj.",
            "Amended",
        ] {
            assert_eq!(asks(role, heading, ["2", "3", ""]), 2, "{heading}");
        }
        // Of one figure throughout.
        for heading in ["Sides", "Frames", "Withdrawn", "Inner"] {
            assert_eq!(asks(role, heading, ["2", "2", "2"]), 3, "{heading}");
        }
        assert_eq!(asks(role, "Adj.", ["", "-2", ""]), 1);
    }
    for role in [Required, Shipped] {
        // Measures, and figures that order.
        assert_eq!(asks(role, "L1", ["60", "45", "30"]), 0);
        assert_eq!(asks(role, "Strange", ["10", "20", "30"]), 0);
        assert_eq!(asks(role, "Strange", ["1", "1", "1"]), 0);
    }
    // Several columns that come to the count say where its pieces are.
    let text = "Item,Qty,Left side,Right side\nM10 nut,36,20,16\nslat,10,4,6\nleg,4,1,2\n";
    let list = read_list("list.csv", text, Shipped);
    let doubts = |at: usize| list.doubts_of(&list.lines[at]).count();
    assert_eq!([doubts(0), doubts(1), doubts(2)], [0, 0, 2]);
    required(
        "Item,Qty,Nuts,Washers\nM12 x 60 hex bolt,24,20,48\nleg,4,,\n",
        &[
            "2: 24 M12 x 60 hex bolt ? 20 under \"Nuts\" beside 24: not counted ? 48 under \"Washers\" beside 24: not counted",
            "3: 4 leg",
        ],
    );
}

/// What is said beside a table of how often its lines are there, or of what its figures count. Common practice, no source.
#[test]
fn what_is_said_of_all_figures() {
    let asked = |text: &str| {
        let list = read_list("list.csv", text, Required);
        assert_eq!(list.lines.len(), 2, "{text}");
        list.sheets[0].question.clone().unwrap_or_default()
    };
    let rows = "M12 bolt,12\nM12 nut,12\n";
    for words in [
        "Trestle - two off",
        "Trestle x2",
        "Figures are pairs",
        "Left trestle; right as left",
        "Parts for one trestle (a pair is needed)",
        "Per end",
        "Half kit",
    ] {
        let told = format!("row 1 says \"{words}\"");
        let question = asked(&format!("{words}\nItem,Qty\n{rows}"));
        assert!(question.starts_with(&told), "{words}: {question}");
    }
    for words in [
        "Build two of these",
        "Repeat for second trestle",
        "Note: order twice",
        "All of the above per trestle. Two trestles.",
    ] {
        let told = format!("row 4 says \"{words}\"");
        let question = asked(&format!("Item,Qty\n{rows}{words},\n"));
        assert!(question.starts_with(&told), "{words}: {question}");
    }
    for heading in [
        "Qty (doz)",
        "Qty (pairs)",
        "Qty (packs of 12)",
        "Qty (x12)",
        "Qty (one side)",
    ] {
        let question = asked(&format!("Item,{heading}\n{rows}"));
        assert!(!question.is_empty(), "{heading}");
    }
    assert!(!asked(&format!("Item,Qty,,,multiply all by 2\n{rows}")).is_empty());
    for plain in ["Trestle 2", "Trestle 8 x 6", "Sheet 1 of 2", "Kit M8 x 8"] {
        assert_eq!(
            asked(&format!("{plain}\nItem,Qty (pcs)\n{rows}")),
            "",
            "{plain}"
        );
    }
    // Bags and boxes of which there may be several.
    for (heading, mark, open) in [
        ("Bag", "2x A", true),
        ("Bag", "A (2 off)", true),
        ("Bag", "1 & 2", true),
        ("Box", "1 to 2", true),
        ("Box", "1-2", true),
        ("Box", "each", true),
        ("Bag", "A", false),
        ("Bag", "H-1", false),
        ("Bag", "H1 (small)", false),
        ("Bag", "1-2", false),
        ("Box", "Box 1", false),
    ] {
        let text = format!("Item,Qty,{heading}\nM12 nut,12,{mark}\nM12 bolt,12,C\n");
        let list = read_list("list.csv", text, Shipped);
        let doubted = list.doubts_of(&list.lines[0]).next().is_some();
        assert_eq!(doubted, open, "{heading} {mark}");
    }
}

/// Columns that bear on a slip's or a stock list's figures, though no word of their headings is known.
#[test]
fn figures_beside_what_was_sent_and_what_is_kept() {
    shipped(
        "Item,Qty,Include\nM12 hex nut,24,1\nbrace,6,0\nM12 flat washer,8,1\n",
        &[
            "2: 24 M12 hex nut ? 1 under \"Include\" beside 24: not counted",
            "3: 6 brace ? 0 under \"Include\" beside 6: not counted",
            "4: 8 M12 flat washer ? 1 under \"Include\" beside 8: not counted",
        ],
    );
    // A column of few pieces tells by its zeros that there are none.
    shipped(
        "Item,Qty,Refused\nM12 hex nut,24,0\nbrace,6,0\nM12 flat washer,8,1\n",
        &[
            "2: 24 M12 hex nut",
            "3: 6 brace",
            "4: 8 M12 flat washer ? 1 under \"Refused\" beside 8: not counted",
        ],
    );
    shipped(
        "Item,Ordered,Cancelled\nM12 hex nut,26,2\nM12 flat washer,24,24\n",
        &[
            "2: 2 M12 hex nut ? 2 of 26 ordered, and no heading is known to say how many were sent",
            "3: 24 M12 flat washer",
        ],
    );
    case(
        "stock.csv",
        "Item,Bin,On hand,Reserved\nM10 hex nut,R1,10,8\nM8 hex nut,R2,6,\n",
        Role::Stock,
        &[
            "2: 10 M10 hex nut ? 8 under \"Reserved\" beside 10: not counted",
            "3: 6 M8 hex nut",
        ],
    );
}

/// Bags beside pieces: pieces in each of them or in all.
#[test]
fn bags_beside_pieces() {
    required(
        "Item,Bags,Pcs\nM12 hex nut,2,12\nM12 flat washer,1,12\n",
        &[
            "2: 12 M12 hex nut ? 12 may be in each of 2 packs or in all: taken as in all",
            "3: 12 M12 flat washer",
        ],
    );
}

/// A program that prints lists may carry the last row of a page over to the next.
#[test]
fn the_last_row_of_a_page_once_more() {
    const CARRIED: &str =
        "the row above the page's end, once more: carried over, or as many again?";
    let again = format!("6: 24 M12 hex nut ? {CARRIED}");
    let page = "Item,Qty\nM12 x 60 hex bolt,24\nM12 hex nut,24\nPage 1 of 2,\nItem,Qty\n";
    let first = ["2: 24 M12 x 60 hex bolt", "3: 24 M12 hex nut"];
    let lists = |rows: &str, more: &[&str]| {
        shipped(&format!("{page}{rows}"), &[&first[..], more].concat());
    };
    lists(
        "M12 hex nut,24\nM12 flat washer,48\n",
        &[&again, "7: 48 M12 flat washer"],
    );
    lists("M12 hex nut,20\n", &["6: 20 M12 hex nut"]);
    lists(
        "M12 flat washer,24\nM12 hex nut,24\n",
        &["6: 24 M12 flat washer", "7: 24 M12 hex nut"],
    );
    // A title parts two tables; numbers of lines part two rows.
    shipped(
        "Item,Qty\nM12 hex nut,24\nBag 2,\nItem,Qty\nM12 hex nut,24\n",
        &["2: 24 M12 hex nut", "5: 24 M12 hex nut [bag 2]"],
    );
    shipped(
        "Pos,Item,Qty\n1,M12 hex nut,24\nPos,Item,Qty\n2,M12 hex nut,24\n",
        &["2: 24 M12 hex nut", "4: 24 M12 hex nut"],
    );
    shipped(
        "Pos,Item,Qty\n1,M12 hex nut,24\nPos,Item,Qty\n1,M12 hex nut,24\n",
        &[
            "2: 24 M12 hex nut",
            &format!("4: 24 M12 hex nut ? {CARRIED}"),
        ],
    );
}

/// Of two revisions of one item nobody says which holds.
#[test]
fn revisions_as_rows() {
    shipped(
        "Rev,Item,Qty\nA,M12 hex nut,20\nB,M12 hex nut,24\nA,M12 flat washer,24\nA,M12 flat washer,24\nVOID,brace,6\n",
        &[
            "2: 20 M12 hex nut",
            "3: 24 M12 hex nut ? revision \"B\" here, and \"A\" of the same item above: which of them holds?",
            "4: 24 M12 flat washer",
            "5: 24 M12 flat washer",
            "6: 6 brace ? the remark \"VOID\" may change how many",
        ],
    );
    // Each stage is of a drawing of its own.
    required(
        "Stage,Rev,Item,Qty\nFrame,A,M12 hex nut,20\nDeck,B,M12 hex nut,24\n",
        &["2: 20 M12 hex nut [Frame]", "3: 24 M12 hex nut [Deck]"],
    );
}

/// Signs that a program put where it could not write a fraction: no size is read in silence.
#[test]
fn signs_behind_the_figures_of_sizes() {
    for sign in ["\u{fffd}", "?", "\u{ab}", "\u{ac}", "\u{a7}", "~"] {
        let text = format!("Item,Qty\n1/2 x 3{sign} hex bolt,6\n");
        let list = read_list("list.csv", text, Required);
        let status = list.status_of(&list.lines[0]);
        assert_eq!(status, crate::kit::LineStatus::Check, "{sign}");
    }
    required(
        "Item,Qty\n1/2 x 3\u{b0} hex bolt,6\n1/2 x 3\u{2020} hex bolt,6\n",
        &["2: 6 1/2 x 3 hex bolt", "3: 6 1/2 x 3 hex bolt"],
    );
}

/// A count's own figures are of all that lies there, and a column taken for them by its figures is no sure one where
/// others hold figures, too.
#[test]
fn counts_by_columns_that_are_not_known() {
    counted(
        "Item,Qty,Places,Total\nM12 hex nut,12,2,24\nM8 hex nut,12,1,12\nM6 hex nut,24,2,24\n",
        &[
            "2: 12 M12 hex nut ? 12 each at 2 places, or in all: taken as in all",
            "3: 12 M8 hex nut",
            "4: 24 M6 hex nut",
        ],
    );
    for (text, open) in [
        ("Item,Due,Diff\nM12 hex nut,24,0\nM8 hex nut,24,2\n", true),
        (
            "Item,On shelf,In bag\nM12 hex nut,4,20\nM8 hex nut,0,24\n",
            true,
        ),
        ("Item,Kept here\nM12 hex nut,4\nM8 hex nut,24\n", false),
    ] {
        let list = read_list("count.csv", text, Counted);
        assert_eq!(list.sheets[0].figures_open, open, "{text}");
    }
    // The stroke of a difference is no `per`.
    let text = "Item,Due,+/-\nM12 hex nut,24,0\nM8 hex nut,24,-2\n";
    let list = read_list("count.csv", text, Counted);
    assert!(list.lines.iter().all(|line| line.quantity.is_none()));
}

/// Two figures in a cell, and a stroke behind one.
#[test]
fn figures_that_may_be_two() {
    counted(
        "Item,Qty\nM12 hex nut,(2)2\nM8 hex nut,twelve (12)\nM6 hex nut,2[2]\n",
        &[
            "2: 2 M12 hex nut ? (2)2 taken for 2",
            "3: 12 M8 hex nut",
            "4: 2 M6 hex nut ? 2[2] taken for 2",
        ],
    );
    shipped(
        "Item,Qty\nM12 hex nut,24.-\nM8 hex nut,-2\n",
        &[
            "2: - aside: \"24.-\" is no count of pieces",
            "3: - M8 hex nut ? -2 is a credit: not summed",
        ],
    );
}

/// Columns of words by which there may be several heaps of a row's pieces.
#[test]
fn heaps_that_a_column_of_words_tells() {
    let remark = |text: &str| format!("? the remark \"{text}\" may change how many");
    for (heading, cell) in [
        ("Side", "both"),
        ("Location", "L+R"),
        ("Position", "left & right"),
        ("Frames", "\"1,2\""),
        ("Packaging", "bag of 8"),
    ] {
        let text = format!("Item,Qty,{heading}\nM10 hex nut,8,{cell}\nM8 hex nut,8,\n");
        let list = read_list("list.csv", text, Required);
        let said = short(&list, &list.lines[0]);
        assert!(said.contains(&remark(cell.trim_matches('"'))), "{said}");
        assert_eq!(list.status_of(&list.lines[1]), crate::kit::LineStatus::Read);
    }
    required(
        "Item,Qty,Per\nM10 hex nut,8,side\nM8 hex nut,8,kit\n",
        &[
            "2: 8 M10 hex nut ? \"per side\" multiplies by a number that is not stated",
            "3: 8 M8 hex nut",
        ],
    );
}

/// A set may hold a nut, too, and at no place nothing is needed.
#[test]
fn sets_of_one_name_and_no_place() {
    required(
        "Item,Qty\nM12 x 60 bolt set,24\nM12 x 60 hex bolt,24\nM8 x 12 set screw,4\n",
        &[
            "2: 24 M12 x 60 bolt ? what is in a set is not stated",
            "3: 24 M12 x 60 hex bolt",
            "4: 4 M8 x 12 set screw",
        ],
    );
    required(
        "Item,Qty each,Places\nM10 hex nut,4,0\nM8 hex nut,3,1\n",
        &[
            "2: 4 x 0 M10 hex nut ? 4 at no place: taken for none",
            "3: 3 M8 hex nut",
        ],
    );
}
