//! The spellings that must read, as tables.

use super::*;

/// One line a callout: the count, the canonical text, and the doubts.
fn read(text: &str) -> String {
    match describe(text, Notation::default()) {
        Err(unread) => format!("{unread:?}"),
        Ok(callouts) => callouts.iter().map(line).collect::<Vec<_>>().join(" | "),
    }
}

fn line(callout: &Callout) -> String {
    let mut line = String::new();
    if let Some(quantity) = callout.quantity {
        line += &format!("{}: ", quantity.pieces);
    }
    line += &callout.item.text();
    if let Some(number) = &callout.part_number {
        line += &format!(" <{number}>");
    }
    for doubt in &callout.doubts {
        line += &format!(" ?{doubt}");
    }
    line
}

#[track_caller]
fn case(text: &str, expected: &str) {
    assert_eq!(read(text), expected, "{text}");
}

/// Several spellings of one thing.
#[track_caller]
fn alike(expected: &str, texts: &[&str]) {
    let wrong: Vec<String> = texts
        .iter()
        .filter(|text| read(text) != expected)
        .map(|text| format!("{text}  ->  {}", read(text)))
        .collect();
    assert!(wrong.is_empty(), "not {expected}:\n{}", wrong.join("\n"));
}

/// Of two words of which one denies the other, neither is passed over. Common practice, no source.
#[test]
fn words_that_contradict() {
    for (text, expected) in [
        (
            "4 1/2 x 3 hex carriage bolts",
            "4: 1/2 x 3 carriage bolt ?may be carriage bolt or hex bolt",
        ),
        (
            "4 M8 x 40 socket head hex bolts",
            "4: M8 x 40 socket head cap screw ?may be socket screw or hex bolt",
        ),
        (
            "8 1/4 hex wing nuts",
            "8: 1/4 wing nut ?may be wing nut or hex nut",
        ),
        (
            "8 1/2 flat lock washers",
            "8: 1/2 split lock washer ?may be split lock washer or flat washer",
        ),
        (
            "4 1/2 x 3 galv zinc hex bolts",
            "4: 1/2 x 3 hex bolt, galvanised ?may be galvanised or zinc plated",
        ),
        (
            "4 1/2 x 3 yellow cadmium hex bolts",
            "4: 1/2 x 3 hex bolt, yellow zinc ?may be yellow zinc or cadmium plated",
        ),
        (
            "4 1/2 x 3 stainless HDG hex bolts",
            "4: 1/2 x 3 hex bolt, stainless, hot-dip galvanised ?may be stainless or hot-dip galvanised",
        ),
        (
            "4 1/2 x 3 brass hex bolts, zinc",
            "4: 1/2 x 3 hex bolt, brass, zinc plated ?may be brass or zinc plated",
        ),
    ] {
        case(text, expected);
    }
    for (text, expected) in [
        (
            "4 M8 x 40 hex socket bolts",
            "4: M8 x 40 socket head cap screw",
        ),
        (
            "4 1/2 x 3 hot dip zinc hex bolts",
            "4: 1/2 x 3 hex bolt, hot-dip galvanised",
        ),
        (
            "4 1/2 x 3 round head square neck bolts",
            "4: 1/2 x 3 carriage bolt",
        ),
        (
            "4 1/2 x 3 stainless hex bolts, black oxide",
            "4: 1/2 x 3 hex bolt, stainless, black oxide",
        ),
        (
            "8 M8 hex nyloc nuts, zinc passivated",
            "8: M8 nylon-insert lock nut, zinc plated",
        ),
    ] {
        case(text, expected);
    }
}

/// Units of issue as people dictate them. Common practice, no source.
#[test]
fn dictated_parts_of_units() {
    alike(
        "6: 3/8 hex nut",
        &[
            "a half dozen 3/8 nuts",
            "a half-dozen 3/8 nuts",
            "half-dozen 3/8 nuts",
        ],
    );
}

/// A large number behind a section is its length. Common practice, no source.
#[test]
fn lengths_behind_sections() {
    case(
        "leg tube 80x80x4, 2400",
        "2400: leg tube 80x80x4 [part] ?2400 may be a length",
    );
    case("leg tube 80x80x4, 24", "24: leg tube 80x80x4 [part]");
    case("4 clip W", "4: clip w");
}

/// Common practice, no source.
#[test]
fn so_many_of_as_many() {
    case("two packs of ten M6 wing nuts", "20: M6 wing nut");
    case("4 of 4 leg tubes", "4: leg tubes");
    case("3 out of 3 roof sheets", "3: roof sheets");
    case(
        "6 of 8 M8 nuts",
        "6: M8 hex nut ?6 of 8: 6 taken for how many",
    );
    case(
        "2 hampers/24 M8 x 40 bolts",
        "2: M8 x 40 bolt ?left over: \"hampers/24\"",
    );
    alike(
        "8: 1/2 x 4 hex bolt | 8: 1/2 hex nut",
        &[
            "hex bolt 1/2 x 4 w/ nut, qty 8",
            "hex bolt 1/2 x 4 with nut - 8",
        ],
    );
}

/// A thread of which the hand is not said is right-hand. Common practice, no source.
#[test]
fn hands_of_threads() {
    alike(
        "8: 1/2-13 hex nut, left-hand",
        &[
            "8 left-hand hex nuts 1/2-13",
            "8 hex nuts 1/2-13 left hand thread",
            "8 1/2-13 left handed hex nuts",
            "hex nut, 1/2-13, left-hand threads (8)",
        ],
    );
    alike(
        "8: 1/2-13 hex nut, left-hand ?\"LH\" taken for a left-hand thread",
        &["8 1/2-13 hex nuts LH", "8 LH 1/2-13 hex nuts"],
    );
    alike(
        "8: M10 x 40 hex bolt",
        &["8 M10 x 40 hex bolts RH", "8 right-hand hex bolts M10 x 40"],
    );
    case(
        "4 M8 x 40 bolts, left hand side",
        "4: M8 x 40 left hand side bolt ?not understood: \"left hand side\"",
    );
    case(
        "8 1/2 flat washers LH",
        "8: 1/2 lh flat washer ?not understood: \"LH\"",
    );
}

/// Rods by the foot, studs of timber, and counts in hundreds and sets. Common practice, no source.
#[test]
fn what_a_bench_calls_by_other_measures() {
    for (text, expected) in [
        ("2 x 10ft 1/2\" threaded rod", "2: 1/2 x 120 threaded rod"),
        ("2 x 6' 3/8 threaded rod", "2: 3/8 x 72 threaded rod"),
        ("3/8-16 all thread 6'  qty 4", "4: 3/8-16 x 72 threaded rod"),
        (
            "4 pcs 3/8-16 all thread 6 ft",
            "4: 3/8-16 x 72 threaded rod",
        ),
        (
            "4 3/8 threaded rod, 6' 2-1/2\"",
            "4: 3/8 x 74-1/2 threaded rod",
        ),
        ("4 2x4x96 studs", "4: 2x4x96 studs [part]"),
        ("4 2 x 4 studs", "4: 2 x 4 studs [part]"),
        ("4 1/2 x 4 studs", "4: 1/2 x 4 stud"),
        ("4 2-4.5 x 12 studs", "4: 2-4.5 x 12 stud"),
        (
            "2 sets of 1/2 x 3 bolt, nut and washer",
            "2: 1/2 x 3 bolt | 2: 1/2 hex nut | 2: 1/2 flat washer",
        ),
        (
            "two sets of 1/2 x 3 bolt, nut and 2 washers",
            "2: 1/2 x 3 bolt | 2: 1/2 hex nut | 4: 1/2 flat washer",
        ),
        ("2 sets of 4 M8 x 40 bolts", "8: M8 x 40 bolt"),
        (
            "2 sets of M8 x 40 bolts",
            "M8 x 40 bolt ?how many are in each of 2 sets is not stated",
        ),
        (
            "2 sets of M8 x 40 bolts and nuts",
            "M8 x 40 bolt ?how many are in each of 2 sets is not stated | M8 hex nut",
        ),
        (
            "1M #8 x 1 wood screws",
            "1000: #8 x 1 wood screw ?1M read as 1000: C, M and gr are the trade's hundred, thousand and gross",
        ),
        (
            "2C 1/4-20 x 1 hex bolts",
            "200: 1/4-20 x 1 hex bolt ?2C read as 200: C, M and gr are the trade's hundred, thousand and gross",
        ),
        (
            "1 gr 1/4 flat washers",
            "144: 1/4 flat washer ?1 gr read as 144: C, M and gr are the trade's hundred, thousand and gross",
        ),
        ("2 x 1m M8 threaded rod", "2: M8 x 1000 threaded rod"),
        (
            "three-eighths by four-and-a-half carriage bolts, ten",
            "10: 3/8 x 4-1/2 carriage bolt",
        ),
        (
            "#8 by two-and-a-half inch deck screws, 40",
            "40: #8 x 2-1/2 deck screw",
        ),
    ] {
        case(text, expected);
    }
}

/// What comes with each of a joint, and how many of it there are. Common practice, no source.
#[test]
fn counts_of_joints() {
    let with = "each with 2 washers and 4 nuts";
    case(
        &format!("4 3/8 x 3 bolts {with}"),
        "4: 3/8 x 3 bolt | 8: 3/8 flat washer | 4: 3/8 hex nut ?4 may be for each bolt, or in all",
    );
    case(
        "6 1/2 x 4 bolts + 2 FW ea + 6 LN",
        "6: 1/2 x 4 bolt | 12: 1/2 flat washer | 6: 1/2 lock nut",
    );
    for text in [
        "3/8 U-bolt with 2 nuts and 2 washers, 4",
        "3/8 U-bolt with 2 nuts and 2 washers - 4",
        "3/8 U-bolt w/ 2 nuts & 2 washers, 4 pcs",
        "3/8 U-bolt c/w 2 nuts + 2 washers x 4",
        "4 3/8 U-bolts with 2 nuts and 2 washers each",
    ] {
        case(text, "4: 3/8 U-bolt | 8: 3/8 hex nut | 8: 3/8 flat washer");
    }
    let may = "?2 may be for each bolt, or in all";
    for (text, expected) in [
        (
            "2 U-bolts M8 c/w 2 nuts",
            format!("2: M8 U-bolt | 4: M8 hex nut {may}"),
        ),
        (
            "2 U-bolts M8 c/w 4 nuts",
            "2: M8 U-bolt | 4: M8 hex nut".to_owned(),
        ),
        (
            "2 U-bolts M8 c/w 2 nuts each",
            "2: M8 U-bolt | 4: M8 hex nut".to_owned(),
        ),
        (
            "3 U-bolts M8 with 3 nuts",
            "3: M8 U-bolt | 3: M8 hex nut ?3 may be for each bolt, or in all".to_owned(),
        ),
        (
            "2 M8 x 40 bolts c/w nut and 2 washers",
            "2: M8 x 40 bolt | 2: M8 hex nut | 4: M8 flat washer".to_owned(),
        ),
        (
            "2 M8 x 40 bolts with 2 nuts and 2 washers",
            format!("2: M8 x 40 bolt | 2: M8 hex nut | 2: M8 flat washer {may}"),
        ),
        (
            "2 M8 x 40 bolts, 2 nuts and 2 washers",
            "2: M8 x 40 bolt | 2: M8 hex nut | 2: M8 flat washer".to_owned(),
        ),
        (
            "U-bolt with 2 nuts and 2 washers, 3/8 x 2, qty 2",
            "2: 3/8 x 2 U-bolt | 4: 3/8 hex nut | 4: 3/8 flat washer".to_owned(),
        ),
        (
            "U-bolt with 2 nuts and 2 washers, 3/8 x 2, qty 4",
            "4: 3/8 x 2 U-bolt | 8: 3/8 hex nut | 8: 3/8 flat washer".to_owned(),
        ),
        (
            "U-bolts 3/8 x 2 with 2 nuts, qty 2",
            format!("2: 3/8 x 2 U-bolt | 4: 3/8 hex nut {may}"),
        ),
        (
            "1/2 x 3 bolts with 48 washers, qty 24",
            "24: 1/2 x 3 bolt | 48: 1/2 flat washer".to_owned(),
        ),
    ] {
        case(text, &expected);
    }
    case(
        "M10 nuts six, sorry, seven",
        "7: M10 hex nut ?6 is taken back: 7 are taken instead",
    );
    case(
        "M10 nuts, six, make that seven",
        "7: M10 hex nut ?6 is taken back: 7 are taken instead",
    );
}

/// What a pack holds, wherever it is said. Common practice, no source.
#[test]
fn fillings_of_packs() {
    alike(
        "200: M8 hex nut",
        &[
            "2 boxes M8 nuts, 100 in each",
            "M8 nuts, 2 boxes, 100 in each",
            "2 pails M8 nuts @ 100",
            "2 sleeves/100 M8 nuts",
            "2 sleeves of 100 M8 nuts",
            "2 trays/100 M8 nuts",
            "2 tins of 100 M8 nuts",
            "M8 nuts, 2 strips of 100",
            "M8 nuts, 2 packets each of 100",
            "2 boxes with 100 M8 nuts each",
            "2 sacks with 100 M8 nuts in each",
            "two sachets of 100 M8 nuts",
            "2 blisters (100) M8 nuts",
            "2 ctn x 100 M8 nuts",
            "2 x box/100 M8 nuts",
            "2 x bag of 100 M8 nuts",
            "2 x 100-pack M8 nuts",
            "2 drums M8 nuts, 100 each",
            "M8 nuts (pkg 100) x 2",
            "2 boxes M8 nuts, 100 to a box",
            "2 cartons of M8 nuts, 100 per carton",
        ],
    );
    case(
        "M8 nuts - 12 in bag 4",
        "M8 hex nut ?left over: \"12\" ?left over: \"4\"",
    );
    case("M8 nuts (box 12) x 5", "60: M8 hex nut");
    case("2 ctnx100 M8 nuts", "2: M8 hex nut ?left over: \"ctnx100\"");
}

#[test]
fn bare_sizes_of_screws_are_told_by_their_length() {
    case(
        "80 floor screws 5 x 60",
        "80: M5 x 60 floor screw ?not understood: \"floor\"",
    );
    case("80 wood screws 5 x 60", "80: M5 x 60 wood screw");
    case("200 wood screws 4.5 x 50", "200: 4.5 x 50 wood screw");
    case("32 wood screws 4x30", "32: M4 x 30 wood screw");
    case("16 screws for wood 4x30", "16: M4 x 30 wood screw");
    case("12 split pins 4x40", "12: M4 x 40 cotter pin");
    case(
        "40 coach screws 8 x 80 zinc",
        "40: M8 x 80 lag screw, zinc plated",
    );
    // As long as number sizes are made, or a thread of them.
    case("50 wood screws #8 x 3", "50: #8 x 3 wood screw");
    case(
        "50 machine screws 8 x 32",
        "50: M8 x 32 machine screw ?may be M8 or #8",
    );
}

// A full pack is a pack, and no thread (common practice, no source); a gross is written so, too.
#[test]
fn full_packs_and_idle_grades() {
    case("2 full bags of 25 1/2 hex nuts", "50: 1/2 hex nut");
    case(
        "2 full boxes 1/2 hex nuts",
        "1/2 hex nut ?left over: \"2 full boxes\"",
    );
    case(
        "1 full box of #8 x 1 wood screws",
        "#8 x 1 wood screw ?left over: \"1 full box\"",
    );
    case(
        "2 gr #8 x 1 wood screws",
        "288: #8 x 1 wood screw ?2 gr read as 288: C, M and gr are the trade's hundred, thousand and gross",
    );
    case("4 gr 8 hex bolts 1/2 x 3", "4: 1/2 x 3 hex bolt, Grade 8");
    // So many packs, and so many pieces.
    case(
        "2 boxes 1/2 hex nuts, 350 ct",
        "350: 1/2 hex nut ?may be 350 in all, or in each of 2 packs",
    );
    case("3 x Number plate", "3: number plate");
    case("3 no. ladder clips", "3: ladder clips");
    // A mixed number of which the space is lost.
    case(
        "16 1/4 x 21/2 lag screws",
        "16: 1/4 x 10-1/2 lag screw ?may be 21/2 or 2-1/2",
    );
    case("8 3/8 x 15/2 bolts", "8: 3/8 x 7-1/2 bolt");
}

#[test]
fn counts_in_odd_places() {
    case("M12 x 35 hex bolts 10.9 - 8x", "8: M12 x 35 hex bolt, 10.9");
    case(
        "shear bolts M8x40 x10",
        "10: M8 x 40 shear bolt ?not understood: \"shear\"",
    );
    case("M8x1.25 x40 hex bolt", "M8x1.25 x 40 hex bolt");
    case(
        "3/8-16 x 1-1/4 SHCS, 8 rqd",
        "8: 3/8-16 x 1-1/4 socket head cap screw",
    );
    case("8 x 3/8 carriage bolts, 5\"", "8: 3/8 x 5 carriage bolt");
    case("gate hooks: six", "6: gate hooks");
    case("window catches - four", "4: window catches");
    case("6no. ladder clips", "6: ladder clips");
    case("12 no. 8 x 1 wood screws", "12: #8 x 1 wood screw");
    case(
        "Brackets angular 40x40: N. 6",
        "6: brackets angular 40x40 [part]",
    );
    case("8 HEX NUT M12 GALV      1.44", "8: M12 hex nut, galvanised");
    case(
        "1 SLIDE LATCH 6IN BLK     4.10",
        "1: slide latch 6in blk [part]",
    );
    case(
        "2 mending plate 4in zn   1.89   3.78",
        "2: mending plate 4in zn [part]",
    );
    case(
        "pile guide rollers, 4 per guide, 2 guides = 8",
        "8: pile guide rollers",
    );
    case(
        "2 boxes hex nuts M8 (100 ea)",
        "200: M8 hex nut ?may be 200 pieces or 100 pieces",
    );
}

#[test]
fn sizes_in_a_row_share_their_noun() {
    case(
        "Bolts - M8x30 (20), M8x50 (12)",
        "20: M8 x 30 bolt | 12: M8 x 50 bolt",
    );
    case(
        "washers m8 32, m10 12",
        "32: M8 flat washer | 12: M10 flat washer",
    );
    case(
        "nylock nuts M10 - 24, M12 - 8",
        "24: M10 nylon-insert lock nut | 8: M12 nylon-insert lock nut",
    );
    case(
        "hex bolts zinc 3/8 x 4 (8); 3/8 x 5 (6)",
        "8: 3/8 x 4 hex bolt, zinc plated | 6: 3/8 x 5 hex bolt, zinc plated",
    );
}

#[test]
fn left_and_right_have_their_counts() {
    case(
        "rafter ties: 14 left, 14 right",
        "14: rafter ties, left | 14: rafter ties, right",
    );
    case(
        "handrail ends, left, 2 nos. / right, 2 nos.",
        "2: handrail ends, left | 2: handrail ends, right",
    );
    case(
        "left bracket and right rail 2",
        "left bracket and right rail 2 [part]",
    );
}

#[test]
fn letters_of_scans() {
    case(
        "8 HEX BOLT M8 x 70 ZlNC",
        "8: M8 x 70 hex bolt, zinc plated",
    );
    case(
        "hex bolts M10 x l20 - 8",
        "M10 hex bolt ?left over: \"l20\" ?left over: \"8\" ?no length stated",
    );
    case("4 thd rod M10 x 1000", "4: M10 x 1000 threaded rod");
}

#[test]
fn one_length_in_every_spelling() {
    alike(
        "1/2 x 3-3/4 hex bolt",
        &[
            "1/2 x 3-3/4 hex bolt",
            "1/2 x 3 3/4 hex bolt",
            "1/2 x 3¾ hex bolt",
            "1/2 x 3 ¾ hex bolt",
            "1/2 x 3.75 hex bolt",
            "½ x 3¾ hex bolt",
            "1/2\" x 3 ¾\" hex bolt",
            "1/2 in. x 3-3/4 in. hex bolt",
            "1/2in x 3-3/4in hex bolt",
            "1/2inx3-3/4in hex bolt",
            "1/2 inx3 3/4 in hex bolt",
            "1/2-in x 3-3/4-inch hex bolt",
            "1/2 inch by 3-3/4 inches hex bolt",
            "1/2 X 3-3/4 Hex Bolt",
            "1/2×3-3/4 hex bolt",
            "1/2 × 3–3/4 hex bolt",
            "1/2*3-3/4 hex bolt",
            "1/2x3-3/4 hex bolt",
            "1/2\u{2033} x 3\u{2044}4\u{2033} hex bolt"
                .replace("3\u{2044}4", "3-3\u{2044}4")
                .as_str(),
            "1\u{2044}2 x 3\u{a0}3\u{2044}4 hex bolt",
            "1/2\u{2009}x\u{2009}3-3/4 hex bolt",
            "1/2'' x 3-3/4'' hex bolt",
            ".5 x 3.75 hex bolt",
            "0.500 x 3.750 hex bolt",
            "hex bolt 1/2 x 3-3/4",
            "hex bolt, 1/2 x 3-3/4",
            "Bolt, hex, 1/2 x 3-3/4",
            "BOLT, HEX HD, 1/2\" X 3-3/4\"",
            "1/2 dia x 3-3/4 long hex bolt",
            "hex bolt 1/2 dia. x 3-3/4 lg",
            "1/2 hex bolt x 3-3/4",
            "1/2 hex bolt 3-3/4 long",
            "HHCS 1/2 x 3-3/4",
            "1/2 x 3-3/4 HHCS",
            "1/2 x 3-3/4 hex head cap screw",
            "1/2 x 3-3/4 hex cap screw",
            "1/2 x 3-3/4 HCS",
            "HEX CAP SCREWS 1/2 X 3-3/4",
        ],
    );
    let comma = Notation {
        decimal_comma: true,
        ..Notation::default()
    };
    let read = describe("1/2 x 3,75 hex bolt", comma).expect("reads");
    assert_eq!(read[0].item.text(), "1/2 x 3-3/4 hex bolt");
}

/// Exports of parts data put the noun first and shorten all words (common practice, no source).
#[test]
fn shortened_words_behind_the_noun() {
    case(
        "BLT HX M10X1.5X60 8.8 ZN-PL EA 20",
        "20: M10x1.5 x 60 hex bolt, 8.8, zinc plated",
    );
    case(
        "SCR WD FH #8X1.5 BRASS BX100 QTY 2 BX",
        "200: #8 x 1-1/2 flat head wood screw, brass",
    );
    case(
        "WSHR LK SPLT 5/8 HDG",
        "5/8 split lock washer, hot-dip galvanised",
    );
    case(
        "c'sk skt screws M5 x 12, 22 off",
        "22: M5 x 12 flat head screw, hex socket drive",
    );
    // A word that is not known makes no part of what is sized as a screw; `PL` says not of what.
    case(
        "SCR XYZ #8 x 1-1/2",
        "#8 x 1-1/2 xyz screw ?not understood: \"XYZ\"",
    );
    case("bolt splitter 3/8", "bolt splitter 3/8 [part]");
    case(
        "SCREW,CAP,SKT HD,M8X35,12.9,PL",
        "M8 x 35 socket head cap screw, 12.9 ?not understood: \"PL\"",
    );
    case("zn pl hex nut 1/2", "1/2 hex nut, zinc plated");
}

/// A length with its unit may stand in front of the size.
#[test]
fn lengths_in_front_of_the_size() {
    case(
        "20 2-1/2 in. No. 10 flat head wood screws",
        "20: #10 x 2-1/2 flat head wood screw",
    );
    case("80mm M10 coach bolts x 16", "16: M10 x 80 carriage bolt");
    case(
        "36\" x 5/8-11 all-thread, 4 pcs",
        "4: 5/8-11 x 36 threaded rod",
    );
    case("16x M6 nyloc", "16: M6 nylon-insert lock nut");
}

/// In some languages a word behind the noun describes it, and makes no other thing of it.
#[test]
fn words_of_other_languages_behind_the_noun() {
    case("écrou frein M8 (8)", "8: M8 nylon-insert lock nut");
    case("Rondelle plate M12 inox A2 (20)", "20: M12 flat washer, A2");
    case(
        "tornillo hexagonal M8 x 40 cincado, 30 uds",
        "30: M8 x 40 hex bolt, zinc plated",
    );
    case(
        "zeskantbout M10x60 verzinkt, 14 stuks",
        "14: M10 x 60 hex bolt, zinc plated",
    );
}

/// A size that says of itself that it is one is the size, whatever bare number stands in front.
#[test]
fn bare_numbers_in_front_of_a_size() {
    let odd = |words: &str| format!(" ?not understood: \"{words}\"");
    case(
        "got 64 FW 3/8",
        &("64: 3/8 flat washer".to_owned() + &odd("got")),
    );
    case(
        "yes we got 16 3/8 by 3 carriage bolts",
        &("16: 3/8 x 3 carriage bolt".to_owned() + &odd("yes we got")),
    );
    case(
        "iv. 30 no. M8 flange nuts",
        &("30: M8 flange nut".to_owned() + &odd("iv")),
    );
    case("24 @ 1/2 x 8 carriage bolts", "24: 1/2 x 8 carriage bolt");
    case("bolts for legs: 8 (M10 x 80 hex)", "8: M10 x 80 hex bolt");
    // What has a number in its name, or stands beside another count, counts nothing.
    case(
        "ITEM 6 CARRIAGE BOLT 1/2-13 X 6 QTY 12",
        "12: 1/2-13 x 6 carriage bolt ?left over: \"ITEM 6\"",
    );
    case(
        "bag 3 hex bolts M8 x 20",
        "M8 x 20 hex bolt ?left over: \"3\"",
    );
    case(
        "panel 3 hex bolts M8 x 20",
        "M8 x 20 hex bolt ?left over: \"3\"",
    );
    case(
        "2 x 100 pcs hex nut M10, week 17",
        "M10 week hex nut ?left over: \"2\" ?left over: \"100\" ?left over: \"week 17\"",
    );
    // A fraction alone may be the length of what is sold by number.
    case("6 hex bolts 1/2", "6: 1/2 hex bolt ?no length stated");
}

#[test]
fn threads() {
    alike(
        "1/2-13 x 3-3/4 hex bolt",
        &[
            "1/2-13 x 3-3/4 hex bolt",
            "1/2-13x3-3/4 hex bolt",
            "1/2\"-13 x 3-3/4\" hex bolt",
            "1/2 - 13 x 3-3/4 hex bolt",
            "1/2-13 UNC x 3-3/4 hex bolt",
            "1/2-13UNC-2A x 3-3/4 hex bolt",
            "1/2 UNC x 3-3/4 hex bolt",
            "1/2–13 × 3¾ hex bolt",
            "1/2 13 UNC x 3-3/4 hex bolt",
            "1/2 x 13 x 3-3/4 hex bolt",
        ],
    );
    case("5/8\"-11 UNC-2A X 6 hex bolt", "5/8-11 x 6 hex bolt");
    case("1-1/4-7 x 6 hex bolt", "1-1/4-7 x 6 hex bolt");
    case("1-8 x 6 hex bolt", "1-8 x 6 hex bolt");
    case("2-4.5 x 8 hex bolt", "2-4.5 x 8 hex bolt");
    case("1/2-20 x 2 hex bolt", "1/2-20 x 2 hex bolt");
    case("1/2 UNF x 2 hex bolt", "1/2-20 x 2 hex bolt");
    case("#10-24 x 1 machine screw", "#10-24 x 1 machine screw");
    case("10-32 x 1/2 machine screw", "#10-32 x 1/2 machine screw");
    case(
        "8-32 x 3/8 pan head machine screw",
        "#8-32 x 3/8 pan head screw",
    );
    case("No. 10 x 1 wood screw", "#10 x 1 wood screw");
    case("no.10 x 1 wood screw", "#10 x 1 wood screw");
    case("10 x 1-1/2 wood screw", "#10 x 1-1/2 wood screw");
    case(
        "#8 x 1-1/4 flat head wood screw",
        "#8 x 1-1/4 flat head wood screw",
    );
    alike(
        "M8x1.25 x 40 hex bolt",
        &[
            "M8-1.25 x 40 hex bolt",
            "M8x1.25x40 hex bolt",
            "M8 x 1.25 x 40 hex bolt",
            "M8X1.25X40 HEX BOLT",
            "M8 x 40 x 1.25 hex bolt",
            "M8 coarse x 40 hex bolt",
        ],
    );
    alike(
        "M8 x 40 hex bolt",
        &[
            "M8 x 40 hex bolt",
            "M8x40 hex bolt",
            "M8 x 40mm hex bolt",
            "8mm x 40mm hex bolt",
            "8 x 40 mm hex bolt",
            "M8 × 40 hex bolt",
            "8mmx40mm hex bolt",
            "8 mmx40 hex bolt",
        ],
    );
    case("M12 hex nut", "M12 hex nut");
    case("M12x1.5 hex nut", "M12x1.5 hex nut");
    case(
        "1/2-14 x 2 hex bolt",
        "1/2-14 x 2 hex bolt ?1/2-14 is not a standard thread",
    );
}

#[test]
fn counts() {
    alike(
        "24: 1/2 x 3 hex bolt",
        &[
            "24 1/2 x 3 hex bolts",
            "(24) 1/2 x 3 hex bolts",
            "24x 1/2 x 3 hex bolt",
            "24 x 1/2 x 3 hex bolt",
            "24 ea 1/2 x 3 hex bolt",
            "24 ea. 1/2 x 3 hex bolt",
            "24 pcs 1/2 x 3 hex bolt",
            "24 pcs. 1/2 x 3 hex bolts",
            "24 - 1/2 x 3 hex bolts",
            "24 – 1/2\" x 3\" hex bolts",
            "1/2 x 3 hex bolt (24)",
            "1/2 x 3 hex bolt x24",
            "1/2 x 3 hex bolt x 24",
            "1/2 x 3 hex bolt, 24 ea",
            "1/2 x 3 hex bolt - 24 pcs",
            "1/2 x 3 hex bolt qty 24",
            "1/2 x 3 hex bolt, Qty: 24",
            "Qty 24 1/2 x 3 hex bolt",
            "qty. 24, 1/2 x 3 hex bolt",
            "2 doz 1/2 x 3 hex bolts",
            "two dozen 1/2 x 3 hex bolts",
            "1/2 x 3 hex bolt, 24",
            "24 hex bolts 1/2 x 3",
            "24 hex bolts, 1/2 x 3",
            "24 off 1/2 x 3 hex bolt",
            "1) 24 1/2 x 3 hex bolts",
            "3. 24 1/2 x 3 hex bolts",
            "- 24 1/2 x 3 hex bolts",
            "• 24 1/2 x 3 hex bolts",
            "* 24 1/2 x 3 hex bolts",
            "1/2 x 3 hex bolt (qty 24)",
            "1/2 x 3 hex bolt [24]",
            "24 #1/2 x 3 hex bolts".replace('#', "").as_str(),
        ],
    );
    case("1 gross 1/4 flat washers", "144: 1/4 flat washer");
    case("two 1/2 hex nuts", "2: 1/2 hex nut");
    case("twelve (12) 1/2 hex nuts", "12: 1/2 hex nut");
    case("2 bags of 25 1/2 hex nuts", "50: 1/2 hex nut");
    case("1/2 hex nut, 1 box/100", "100: 1/2 hex nut");
    case(
        "1/2 hex nut, pack of 50",
        "50: 1/2 hex nut ?how many packs is not stated: taken as one",
    );
    case("4 5/8 inch washers", "4: 5/8 flat washer");
    case(
        "24 10-24 x 1 machine screws",
        "24: #10-24 x 1 machine screw",
    );
    case("4 x M8 x 40 hex bolt", "4: M8 x 40 hex bolt");
    case("4x M8 hex nut", "4: M8 hex nut");
}

#[test]
fn counts_and_sizes_in_a_row() {
    // Only one split gives a standard diameter.
    case("2 5/8 lock nuts", "2: 5/8 lock nut");
    case("24 1-1/4 x 6 hex bolts", "24: 1-1/4 x 6 hex bolt");
    case("24 1 1/4 x 6 hex bolts", "24: 1-1/4 x 6 hex bolt");
    case("1 1/4 x 6 hex bolts", "1-1/4 x 6 hex bolt");
    case("1-1/4 x 6 hex bolt", "1-1/4 x 6 hex bolt");
    case(
        "1 1/4 x 6 hex bolt",
        "1-1/4 x 6 hex bolt ?may be 1-1/4 x 6 or 1 piece of 1/4 x 6",
    );
    case("1 1/4 x 6 hex bolt, qty 4", "4: 1-1/4 x 6 hex bolt");
    case(
        "2 1/2 lock nuts",
        "2: 1/2 lock nut ?may be 2 pieces of 1/2 or 2-1/2",
    );
    let counted = Notation {
        counted: true,
        ..Notation::default()
    };
    let read = describe("1 1/4 x 6 hex bolt", counted).expect("reads");
    assert_eq!(line(&read[0]), "1-1/4 x 6 hex bolt");
    case("2 x 1/2 x 3 hex bolt", "2: 1/2 x 3 hex bolt");
    case("4 x 1/2 hex nuts", "4: 1/2 hex nut");
    case("1 hex nut 1/2", "1: 1/2 hex nut");
    case("316 stainless 1/2 hex nut", "1/2 hex nut, 316");
    case("1,000 1/4 flat washers", "1000: 1/4 flat washer");
}

/// A silently wrong number is the worst: none is taken where none is meant for sure.
#[test]
fn counts_that_are_no_one_number() {
    for (text, words, item) in [
        ("20-24 1/2 x 3 hex bolts", "20-24", "1/2 x 3 hex bolt"),
        (
            "12\u{2013}16 lag screws 3/8 x 3",
            "12\u{2013}16",
            "3/8 x 3 lag screw",
        ),
        ("4 or 5 1/2 hex nuts", "4 or 5", "1/2 hex nut"),
        ("4 (or 5) 1/2 hex nuts", "4 (or 5)", "1/2 hex nut"),
        ("four or five 1/2 hex nuts", "four or five", "1/2 hex nut"),
        ("4 to 6 1/2 flat washers", "4 to 6", "1/2 flat washer"),
        ("1/2 hex nuts, 4 or 5", "4 or 5", "1/2 hex nut"),
        ("1/2 x 3 hex bolt, qty 20-24", "20-24", "1/2 x 3 hex bolt"),
        ("4-6 ea 1/2 hex nuts", "4-6", "1/2 hex nut"),
    ] {
        case(
            text,
            &format!("{item} ?\"{words}\" is no one count: none is taken"),
        );
    }
    case(
        "20-24 3/8 hex nuts, 99",
        "3/8 hex nut ?\"20-24\" is no one count: none is taken ?left over: \"99\"",
    );
    // Threads and lengths with a dash are none.
    case("10-24 hex nuts", "#10-24 hex nut");
    case("8-32 x 1/2 machine screws", "#8-32 x 1/2 machine screw");
    case("24 - 1/2 hex nuts", "24: 1/2 hex nut");
    case("1-8 hex nuts", "1-8 hex nut");
    let inexact = |text: &str, words: &str, item: &str| {
        case(
            text,
            &format!("{item} ?\"{words}\": the count is not exact"),
        );
    };
    inexact("at least 20 1/2 hex nuts", "least", "20: 1/2 hex nut");
    inexact("about 20 1/2 hex nuts", "about", "20: 1/2 hex nut");
    inexact("approx 20 hex nuts 1/2", "approx", "20: 1/2 hex nut");
    inexact("1/2 hex nuts, about 20", "about", "20: 1/2 hex nut");
    inexact("min. 4 1/2 hex nuts", "min", "4: 1/2 hex nut");
    inexact("up to 20 1/2 hex nuts", "up to", "20: 1/2 hex nut");
    inexact("approx. 20 1/2 hex nuts", "approx", "20: 1/2 hex nut");
    inexact("20+ 1/2 hex nuts", "20+", "20: 1/2 hex nut");
    inexact("~20 1/2 hex nuts", "~20", "20: 1/2 hex nut");
}

#[test]
fn counts_with_a_mark_before_the_size() {
    case(
        "24/1/2 hex nuts",
        "24: 1/2 hex nut ?\"24/1/2\" read as 24 of 1/2",
    );
    case(
        "24/1/2 x 3 hex bolts",
        "24: 1/2 x 3 hex bolt ?\"24/1/2\" read as 24 of 1/2",
    );
    case(
        "2 x 12 1/2 hex nuts",
        "24: 1/2 hex nut ?\"2 x 12\" taken as 24 in all",
    );
    case(
        "2 x 12 1/2 x 3 hex bolts",
        "24: 1/2 x 3 hex bolt ?\"2 x 12\" taken as 24 in all",
    );
    case("1,200 1/2 nuts", "1200: 1/2 hex nut");
    case(
        "100/pk #12 x 1 pan head screws",
        "100: #12 x 1 pan head screw ?how many packs is not stated: taken as one",
    );
}

#[test]
fn washers_for_each_bolt() {
    let bolts = "8: 1/2 x 3 hex bolt | 16: 1/2 flat washer";
    alike(
        bolts,
        &[
            "8 1/2 x 3 hex bolts, 2 washers per bolt",
            "8 1/2 x 3 hex bolts, washers 2 per bolt",
            "8 1/2 x 3 hex bolts, flat washers 2 per bolt",
            "8 1/2 x 3 hex bolts with 2 washers on each bolt",
            "8 1/2 x 3 hex bolts, washer under head and nut",
            "8 1/2 x 3 hex bolts with flat washers under head and nut",
            "8 1/2 x 3 hex bolts with a washer each side",
            "8 1/2 x 3 hex bolts, flat washer one each side",
        ],
    );
    case(
        "flat washers 1/2, 2 per bolt",
        "2: 1/2 flat washer ?\"per bolt\" multiplies by a number that is not stated",
    );
}

/// What nobody asked for beside a plain line's words: it is told, whatever else is read.
#[test]
fn a_count_beside_a_rule_of_places() {
    alike(
        "8: 1/2 x 3 hex bolt | 16: 1/2 flat washer",
        &[
            "8 1/2 x 3 hex bolts, 16 flat washers under head and nut",
            "8 1/2 x 3 hex bolts, 1 flat washer each under head and nut",
            "8 1/2 x 3 hex bolts flat washers under head and nut",
        ],
    );
    case(
        "8 1/2 x 3 hex bolts, 2 flat washers under head and nut",
        "8: 1/2 x 3 hex bolt | 32: 1/2 flat washer ?2 may be for each bolt, or in all",
    );
    case(
        "8 1/2 x 3 hex bolts with 12 washers",
        "8: 1/2 x 3 hex bolt | 12: 1/2 flat washer ?12 may be for each bolt, or in all",
    );
    case(
        "8 1/2 x 3 hex bolts with 7 nuts",
        "8: 1/2 x 3 hex bolt | 56: 1/2 hex nut ?7 may be for each bolt, or in all",
    );
}

#[test]
fn a_figure_that_is_no_size_for_sure() {
    case(
        "12 bolts 1/2 x 5, 12 nuts, 24 (3) washers",
        "12: 1/2 x 5 bolt | 12: 1/2 hex nut | 24: 3 in flat washer ?a figure without a unit taken for \
         the size: 3 ?named with a bolt of 1/2, and of another size: 3",
    );
    case(
        "8 M10 x 70 hex bolts c/w nut #6",
        "8: M10 x 70 hex bolt | 8: #6 hex nut ?named with a bolt of M10, and of another size: #6",
    );
    case(
        "4 3/8 U-bolts x2",
        "4: 3/8 x 2 U-bolt ?may be so many: 2 or a length of 2",
    );
    case(
        "24 5/16 x2 flat washers",
        "24: 5/16 x 2 flat washer ?\"x\" tied to a whole number: may be how many",
    );
    case(
        "8 1/8 x 7-1/4 blind rivets",
        "8: 1/8 x 7-1/4 blind rivet ?far longer or wider than such pieces are made: figures may have \
         run together",
    );
    case(
        "16 3/4 x 2 bolts w/ nut and F436 without washer",
        "16: 3/4 x 2 bolt | 16: 3/4 hex nut, F436 ?\"without washer\": may take away more than comes with it",
    );
    case("12 board C24", "12: board c24 [part]");
    case("6 elbows DN25", "6: elbows dn25 [part]");
    case("2 beam 2nd", "2: beam 2nd [part]");
    case(
        "10 1/2 x 3 hex bolts less 14 nuts",
        "10: 1/2 x 3 hex bolt ?\"less 14 nuts\": may take away more than comes with it",
    );
    case(
        "8 hitch pins 1/2 x",
        "8: 1/2 hitch pin ?left over: \"1/2 x\"",
    );
}

#[test]
fn a_part_that_may_be_a_fastener() {
    let doubt = "?a fastener's word with a size, and words that are not known: taken as a part";
    case(
        "10 hex bolts crate dia. 1/2, length 4-1/2",
        &format!("10: hex bolts crate dia. 1/2, length 4-1/2 [part] {doubt}"),
    );
    case(
        "12 hex olts .375 x 2.25",
        &format!("12: hex olts .375 x 2.25 [part] {doubt}"),
    );
    case("6 8mm wushers", &format!("6: 8mm wushers [part] {doubt}"));
    for plain in [
        "2: post caps, black",
        "12: joist hangers 2x8 [part]",
        "2: girder shoes, left",
    ] {
        case(&plain.replace(": ", " ").replace(" [part]", ""), plain);
    }
}

#[test]
fn a_second_count_of_a_part() {
    #[track_caller]
    fn other(text: &str, figure: &str) {
        let doubt = format!("\"{figure}\" may be a count, too");
        assert!(read(text).ends_with(&doubt), "{text}: {}", read(text));
    }
    other("7 2 girder shoes", "2");
    other("6 7 ea bracket", "7");
    other("4 two angle brackets", "two");
    other("4 pcs bracket (3)", "3");
    other("6 ea 4x handrail bracket", "4");
    other("1x hinge strap, 14", "14");
    other("40 brackets -4", "4");
    other("4 6x6 posts 12 x2", "2");
    other("3 3.5 rail brackets", "3.5");
    case("5 (five) brackets", "5: brackets");
    case("post caps 2 ea, black", "2: post caps, black");
    case("3 rail brackets, type 2", "3: rail brackets, type 2 [part]");
    case("2 frames no. 4", "2: frames no. 4 [part]");
    case("6 brackets 2-hole", "6: brackets 2-hole [part]");
    case("6 brackets 4 hole", "6: brackets 4 hole [part]");
    case(
        "16 of these",
        "16: these ?\"these\": may take pieces away, or mean others",
    );
    case(
        "4 post caps except north",
        "4: post caps except north ?\"except\": may take pieces away, or mean others",
    );
}

#[test]
fn tools_are_no_pieces_of_the_kit() {
    let tool = "?a tool: to be brought, no piece of the kit";
    case("1 torque wrench", &format!("1: torque wrench {tool}"));
    case("1 5/8 spanner", &format!("1: 5/8 spanner [part] {tool}"));
    case("3/4 socket", &format!("3/4 socket [part] {tool}"));
    case("hex key, 1/4", &format!("hex key, 1/4 [part] {tool}"));
    case(
        "3/4 socket head cap screw",
        "3/4 socket head cap screw ?no length stated",
    );
}

/// Each was read without a word by an earlier version.
#[test]
fn nothing_is_passed_in_silence() {
    case("24 3/8-l6 hex nuts", "24: 3/8 hex nut ?left over: \"l6\"");
    case(
        "6 three eighths by two hex bolts grade five",
        "6: 3/8 x 2 hex bolt, Grade 5",
    );
    for (text, expected) in [
        (
            "16 1/2 split lock washer, pack of 2",
            "16: 1/2 split lock washer ?may be 16 pieces or 16 packs of 2",
        ),
        (
            "12 2 3/4 lock washers",
            "12: 2-3/4 split lock washer ?\"12 2 3/4\" read as a size of 2-3/4: a figure may be a count",
        ),
        (
            "14 3 1/4 x 2 hex bolt",
            "14: 3-1/4 x 2 hex bolt ?thicker than it is long",
        ),
        (
            "4 to 3 1/2 hex nuts",
            "1/2 hex nut ?\"4 to 3\" is no one count: none is taken",
        ),
        (
            "4 legs, 4 M6 x 40 hex bolts each",
            "4: legs | 4: M6 x 40 hex bolt ?\"each\" multiplies by a number that is not stated",
        ),
    ] {
        case(text, expected);
    }
    case(
        "10 3/8 x 40 hex bolts",
        "10: 3/8 x 40 hex bolt ?longer than bolts are made in inches: may be millimetres",
    );
    assert!(read("4 l/2 x 3 hex bolts").contains("not understood: \"l\""));
    case(
        "6 rod couplers 1/2-13 x 1-3/4",
        "6: 1/2-13 x 1-3/4 coupling nut",
    );
    case(
        "2 M8 oojits",
        "2: m8 oojits [part] ?the size of a thread, and no word that says of what: taken as a part",
    );
    case(
        "8 3/8 x 4 car-",
        "8: 3/8 x 4 car [part] ?the size of a thread, and no word that says of what: taken as a part \
         ?the line ends in the middle of a word",
    );
    case(
        "Boat rack BR-4 sheet 2 11/14/2025",
        "boat rack br-4 sheet 2 11/14/2025 [part]",
    );
}

#[test]
fn kinds_and_styles() {
    case("1/2 x 4 carriage bolt", "1/2 x 4 carriage bolt");
    case("CB 1/2 x 4", "1/2 x 4 carriage bolt");
    case(
        "1/2 x 4 round head square neck bolt",
        "1/2 x 4 carriage bolt",
    );
    // Designations by ISO 8991, as the standards of the pieces show them (from memory).
    case(
        "hexagon head bolt ISO 4014-M12x50-8.8",
        "M12 x 50 hex bolt, 8.8, part thread",
    );
    case(
        "ISO 4014 - M12 x 50 - 8.8",
        "M12 x 50 hex bolt, 8.8, part thread",
    );
    case(
        "bolt M12 x 50-8.8 HDG",
        "M12 x 50 bolt, 8.8, hot-dip galvanised",
    );
    case("hexagon nut ISO 4032-M12-8", "M12 hex nut, Class 8");
    case(
        "ISO 4762-M8x30-A2-70",
        "M8 x 30 socket head cap screw, A2-70",
    );
    // Two words in one, and a plural of German.
    case("Sechskantschrauben M12x50", "M12 x 50 hex bolt");
    case("Flachrundschraube M8x60", "M8 x 60 carriage bolt");
    case("Zylinderschrauben M6x20", "M6 x 20 socket head cap screw");
    // The trade's names (common practice, no source): a cup head over a square neck, a nut of full height.
    case("M8 x 60 cup square bolt", "M8 x 60 carriage bolt");
    case("M8 x 60 cup square", "M8 x 60 carriage bolt");
    case("M8 x 60 cup head square neck bolt", "M8 x 60 carriage bolt");
    case("plain M10 nut", "M10 hex nut");
    case("M10 full nut", "M10 hex nut");
    case("M10 rivet nut", "M10 rivet nut ?not understood: \"rivet\"");
    // A use stays in the name (common practice, no source).
    case(
        "16 M16 x 140 foundation bolts",
        "16: M16 x 140 foundation bolt",
    );
    case("roofing screws #14 x 2, 150", "150: #14 x 2 roofing screw");
    case(
        "40 floor bolts M8 x 40",
        "40: M8 x 40 floor bolt ?not understood: \"floor\"",
    );
    // DIN 127, ASME B18.21.1.
    case("24 spring washers M10", "24: M10 split lock washer");
    // A coupler of tubes is no nut; a bare nyloc is one.
    case("48 swivel couplers", "48: swivel couplers");
    case("M12 nyloc x 16", "16: M12 nylon-insert lock nut");
    case(
        "8 post shoes 100 x 100, bolt down",
        "8: post shoes 100 x 100, bolt down [part]",
    );
    case(
        "20 roof screws 4.8 x 35",
        "20: M4.8 x 35 roof screw ?not understood: \"roof\"",
    );
    case("M8 x 25 T-slot bolt", "M8 x 25 T-bolt");
    case("cross dowel M6 x 20", "M6 x 20 barrel nut");
    case("M6 x 16 wing bolt", "M6 x 16 wing bolt");
    case("M10 hex nut tZn", "M10 hex nut, hot-dip galvanised");
    case(
        "4 U-bolts M8 c/w nuts",
        "4: M8 U-bolt | 8: M8 hex nut ?how many is not stated: taken as two to each U-bolt",
    );
    case("3/8 x 3 lag screw", "3/8 x 3 lag screw");
    case("3/8 x 3 lag bolt", "3/8 x 3 lag screw");
    case("3/8 x 3 lag", "3/8 x 3 lag screw");
    case("3/8 x 3 hex lag", "3/8 x 3 lag screw");
    case("3/8 x 1 SHCS", "3/8 x 1 socket head cap screw");
    case(
        "M6 x 20 socket head cap screw",
        "M6 x 20 socket head cap screw",
    );
    case("1/4-20 x 3/4 BHCS", "1/4-20 x 3/4 button head cap screw");
    case(
        "1/4-20 x 3/4 button head socket cap screw",
        "1/4-20 x 3/4 button head cap screw",
    );
    case("1/4-20 x 3/4 FHCS", "1/4-20 x 3/4 flat head screw");
    case(
        "1/4-20 x 3/4 flat head socket cap screw",
        "1/4-20 x 3/4 flat head screw, hex socket drive",
    );
    case("5/16 x 1/2 set screw", "5/16 x 1/2 set screw");
    case(
        "1/4 x 1/4 cup point socket set screw",
        "1/4 x 1/4 set screw, cup point",
    );
    case("#14 x 3 self-drilling screw", "#14 x 3 self-drilling screw");
    case(
        "#12 x 1-1/2 hex washer head self drilling screw",
        "#12 x 1-1/2 hex washer head self-drilling screw",
    );
    case(
        "#8 x 3/4 pan head sheet metal screw",
        "#8 x 3/4 pan head sheet metal screw",
    );
    case(
        "#8 x 3/4 pan head phillips machine screw",
        "#8 x 3/4 pan head screw, Phillips drive",
    );
    case("#10 x 2-1/2 deck screw", "#10 x 2-1/2 deck screw");
    case(
        "5/8 x 8 A325 structural bolt",
        "5/8 x 8 heavy hex bolt, A325",
    );
    case("3/8 x 4 eye bolt", "3/8 x 4 eye bolt");
    case("3/8 x 4 eyebolt", "3/8 x 4 eye bolt");
    case("3/8 U-bolt", "3/8 U-bolt");
    case("3/8 U bolt", "3/8 U-bolt");
    case("1/2 x 10 J-bolt", "1/2 x 10 J-bolt");
    case("3/8 x 1 flange bolt", "3/8 x 1 flange bolt");
    case("M8 x 20 hex flange bolt", "M8 x 20 flange bolt");
    case("3/8 x 2 shoulder screw", "3/8 x 2 shoulder bolt");
    case("1/2 hex nut", "1/2 hex nut");
    case("1/2 nut", "1/2 hex nut");
    case("1/2-13 HN", "1/2-13 hex nut");
    case("1/2 heavy hex nut", "1/2 heavy hex nut");
    alike(
        "1/2 nylon-insert lock nut",
        &[
            "1/2 nylon insert lock nut",
            "1/2 nylon-insert lock nut",
            "1/2 nylon insert locknut",
            "1/2 NLN",
            "1/2 nylon lock nut",
            "1/2 nylon-insert nut",
            "1/2 hex nylon insert lock nut",
            "Nut, lock, nylon insert, 1/2",
            "nut, nylon insert 1/2",
        ],
    );
    case("1/2 lock nut", "1/2 lock nut");
    case("1/2 hex jam nut", "1/2 jam nut");
    case("3/8 wing nut", "3/8 wing nut");
    case("3/8 acorn nut", "3/8 cap nut");
    case("3/8 cap nut", "3/8 cap nut");
    case("3/4 slotted hex nut", "3/4 castle nut");
    case("1/2 coupling nut", "1/2 coupling nut");
    case("1/4 T-nut", "1/4 T-nut");
    case("1/4 tee nut", "1/4 T-nut");
    case("1/2 flat washer", "1/2 flat washer");
    case("1/2 FW", "1/2 flat washer");
    case("1/2 plain washer", "1/2 flat washer");
    case("1/2 washer", "1/2 flat washer");
    case("1/2 SAE flat washer", "1/2 SAE flat washer");
    case("1/2 USS flat washer", "1/2 USS flat washer");
    case("flat washer, 1/2, USS", "1/2 USS flat washer");
    case("1/2 lock washer", "1/2 split lock washer");
    case("1/2 split lock washer", "1/2 split lock washer");
    case("LW 1/2", "1/2 split lock washer");
    case(
        "#10 external tooth lock washer",
        "#10 external-tooth lock washer",
    );
    case("#10 star washer", "#10 external-tooth lock washer");
    case("1/4 x 1-1/4 fender washer", "1/4 x 1-1/4 fender washer");
    case("1/4 x 1-1/4 OD fender washer", "1/4 x 1-1/4 fender washer");
    case("1/4 fender washer 1-1/4 OD", "1/4 x 1-1/4 fender washer");
    case("M12 x 24 flat washer", "M12 x 24 flat washer");
    case("5/8 square plate washer", "5/8 plate washer");
    case("1/8 x 1-1/2 cotter pin", "1/8 x 1-1/2 cotter pin");
    case("1/2 x 3 clevis pin", "1/2 x 3 clevis pin");
    case("3/16 x 1 roll pin", "3/16 x 1 roll pin");
    case("3/16 x 1 spring pin", "3/16 x 1 roll pin");
    case("3/8-16 x 36 all thread rod", "3/8-16 x 36 threaded rod");
    case("3/8 x 3 ft threaded rod", "3/8 x 36 threaded rod");
    case("3/8 x 3' ATR", "3/8 x 36 threaded rod");
    case("M8 x 1 m threaded rod", "M8 x 1000 threaded rod");
    case("1/2 x 1'-6\" all-thread", "1/2 x 18 threaded rod");
    case("5/8 x 5 stud", "5/8 x 5 stud");
    case("1/2 x 5-1/2 wedge anchor", "1/2 x 5-1/2 wedge anchor");
    case("1/2 x 5-1/2 wedge anchor bolt", "1/2 x 5-1/2 wedge anchor");
    case("3/8 x 3 sleeve anchor", "3/8 x 3 sleeve anchor");
    case("3/8 drop-in anchor", "3/8 drop-in anchor");
    case("1/8 x 1/4 blind rivet", "1/8 x 1/4 blind rivet");
    case("1/2 x 2 hex tap bolt", "1/2 x 2 hex bolt, full thread");
    case(
        "1/2 x 2 hex bolt, full thread",
        "1/2 x 2 hex bolt, full thread",
    );
    case(
        "1/2 x 2 hex bolt, fully threaded",
        "1/2 x 2 hex bolt, full thread",
    );
    case("1/2 x 2 bolt", "1/2 x 2 bolt");
    case(
        "1/2 x 2 cap screw",
        "1/2 x 2 bolt ?cap screw whose head is not stated",
    );
    case(
        "M8 x 40 hexagon head bolt ISO 4014",
        "M8 x 40 hex bolt, part thread",
    );
    case("DIN 934 M8 hex nut", "M8 hex nut");
    case("1/2 x 3 hex bolt ASME B18.2.1", "1/2 x 3 hex bolt");
    // A brand or any other word that is not known: no style is made up.
    case(
        "1/2 gripfast nut",
        "1/2 gripfast nut ?not understood: \"gripfast\"",
    );
}

#[test]
fn grades_and_finishes() {
    alike(
        "1/2 x 3 hex bolt, Grade 5, zinc plated",
        &[
            "1/2 x 3 hex bolt, Grade 5, zinc plated",
            "1/2 x 3 hex bolt Gr 5 ZP",
            "1/2 x 3 hex bolt GR5 zinc",
            "1/2 x 3 hex bolt Gr.5 Zn",
            "Grade 5 zinc plated hex bolt 1/2 x 3",
            "zinc hex bolt, grade-5, 1/2 x 3",
            "HHCS 1/2 x 3 G5 ZP",
            "1/2 x 3 HHCS SAE J429 Gr 5 Zinc Pltd".trim_end_matches("Pltd"),
            "1/2 x 3 hex bolt, SAE Grade 5, clear zinc",
        ],
    );
    case(
        "1/2 x 3 hex bolt, Grade 8, yellow zinc",
        "1/2 x 3 hex bolt, Grade 8, yellow zinc",
    );
    case(
        "1/2 x 3 hex bolt Gr 8 YZ",
        "1/2 x 3 hex bolt, Grade 8, yellow zinc",
    );
    alike(
        "1/2 x 3 hex bolt, hot-dip galvanised",
        &[
            "1/2 x 3 hex bolt HDG",
            "1/2 x 3 hot dip galvanized hex bolt",
            "1/2 x 3 hex bolt, hot-dipped galv.",
        ],
    );
    case("1/2 x 3 hex bolt galv", "1/2 x 3 hex bolt, galvanised");
    case(
        "1/2 x 3 hex bolt mech galv",
        "1/2 x 3 hex bolt, mechanically galvanised",
    );
    case(
        "1/2 x 3 hex bolt black oxide",
        "1/2 x 3 hex bolt, black oxide",
    );
    case("1/2 x 3 hex bolt, plain", "1/2 x 3 hex bolt, plain");
    case("1/2 x 3 hex bolt 18-8", "1/2 x 3 hex bolt, 18-8");
    case("1/2 x 3 hex bolt 18-8 SS", "1/2 x 3 hex bolt, 18-8");
    case("1/2 x 3 hex bolt 304 stainless", "1/2 x 3 hex bolt, 18-8");
    case("1/2 x 3 hex bolt SS316", "1/2 x 3 hex bolt, 316");
    case("1/2 x 3 hex bolt, 316", "1/2 x 3 hex bolt, 316");
    case(
        "1/2 x 3 stainless steel hex bolt",
        "1/2 x 3 hex bolt, stainless",
    );
    case("M8 x 40 hex bolt A2-70", "M8 x 40 hex bolt, A2-70");
    case("M8 x 40 hex bolt A2", "M8 x 40 hex bolt, A2");
    case(
        "M8 x 40 hex bolt A4-80 stainless",
        "M8 x 40 hex bolt, A4-80",
    );
    case("M8 x 40 hex bolt 8.8", "M8 x 40 hex bolt, 8.8");
    case(
        "M8 x 40 hex bolt class 8.8 zinc",
        "M8 x 40 hex bolt, 8.8, zinc plated",
    );
    case("M8 x 40 hex bolt cl. 10.9", "M8 x 40 hex bolt, 10.9");
    case("M8 hex nut class 8", "M8 hex nut, Class 8");
    case("5/8 hex nut, A563 grade DH", "5/8 hex nut, Grade DH");
    case("5/8 heavy hex nut 2H", "5/8 heavy hex nut, Grade 2H");
    case("5/8 x 4 hex bolt A307 grade A", "5/8 x 4 hex bolt, A307");
    case("5/8 F436 washer", "5/8 flat washer, F436");
    case("5/8 x 12 F1554 anchor bolt", "5/8 x 12 anchor, F1554");
    case("#8 x 1 brass wood screw", "#8 x 1 wood screw, brass");
    case("1/4 nylon flat washer", "1/4 flat washer, nylon");
    case(
        "1/2 x 3 hex bolt Gr 5 Gr 8",
        "1/2 x 3 hex bolt, Grade 5 ?may be Grade 5 or Grade 8",
    );
}

/// Titles of the standards, from memory.
#[test]
fn a_standard_tells_the_style_of_a_plain_noun() {
    for (text, expected) in [
        ("nut M12 DIN 985", "M12 nylon-insert lock nut"),
        ("Nut M12 ISO 7040", "M12 nylon-insert lock nut"),
        (
            "M12 hexagon nut DIN EN ISO 10511",
            "M12 nylon-insert lock nut",
        ),
        ("nuts M12 DIN 439", "M12 jam nut"),
        ("cap nut M8 DIN 1587", "M8 cap nut"),
        ("nut M8 DIN 6923", "M8 flange nut"),
        ("washer M12 DIN 127", "M12 split lock washer"),
        ("lock washer M12 DIN 127", "M12 split lock washer"),
        ("washer M12 DIN 125", "M12 flat washer"),
        ("flat washer M12 DIN 9021", "M12 fender washer"),
        ("bolt M12x40 DIN 603", "M12 x 40 carriage bolt"),
        ("bolt M12x40 DIN 931", "M12 x 40 hex bolt, part thread"),
        (
            "bolt M12x40 DIN 931, full thread",
            "M12 x 40 hex bolt, part thread ?may be full thread or part thread",
        ),
        ("screw M8x20 DIN 912", "M8 x 20 socket head cap screw"),
        ("cap screw M8x20 ISO 4762", "M8 x 20 socket head cap screw"),
        ("bolt M8x20 ISO 4762", "M8 x 20 socket head cap screw"),
        ("screw 8x60 DIN 571", "M8 x 60 lag screw"),
        ("washer M12 DIN 125A", "M12 flat washer"),
        ("washer M12 DIN 125-A", "M12 flat washer"),
        ("nut M12 DIN985", "M12 nylon-insert lock nut"),
        ("nut M12 ISO 898-2", "M12 hex nut"),
        (
            "nut M12 DIN 6331",
            "M12 DIN 6331 nut ?DIN 6331 may be of another nut",
        ),
        (
            "hex nut M12 DIN 6331",
            "M12 DIN 6331 hex nut ?DIN 6331 may be of another nut",
        ),
        ("nut M10 DIN 980", "M10 all-metal lock nut"),
        ("nut M8 DIN 508", "M8 T-nut"),
        ("bolt M8x30 DIN 261", "M8 x 30 T-bolt"),
        ("washer M8 DIN 6797", "M8 tooth lock washer"),
        // Words that state another thing.
        (
            "hex bolt M12x40 DIN 603",
            "M12 x 40 hex bolt ?may be hex bolt or carriage bolt",
        ),
        (
            "flat washer M12 DIN 127",
            "M12 flat washer ?may be flat washer or split lock washer",
        ),
        (
            "washer M12 DIN 934",
            "M12 flat washer ?may be flat washer or hex nut",
        ),
        (
            "nylon insert nut M12 DIN 934",
            "M12 nylon-insert lock nut ?may be nylon-insert lock nut or hex nut",
        ),
    ] {
        case(text, expected);
    }
}

#[test]
fn longer_lines() {
    case(
        "Bolt, Hex, 5/8\"-11 x 6\", A325 Type 1, HDG",
        "5/8-11 x 6 hex bolt, A325, hot-dip galvanised",
    );
    case(
        "3/8\"-16 x 1-1/4\" Hex Head Cap Screw, Grade 5, Zinc (Qty. 24)",
        "24: 3/8-16 x 1-1/4 hex bolt, Grade 5, zinc plated",
    );
    case(
        "(8) 3/8\" x 4\" Galvanized Carriage Bolts",
        "8: 3/8 x 4 carriage bolt, galvanised",
    );
    case(
        "8 ea. 3/8 x 4 galv. carriage bolts w/ nuts & washers",
        "8: 3/8 x 4 carriage bolt, galvanised | 8: 3/8 hex nut | 8: 3/8 flat washer ?how many is not stated: taken as 8, as of the first",
    );
    case("WASHER FLAT 1/2 ID X 1-3/8 OD", "1/2 x 1-3/8 flat washer");
    case(
        "SCREW, WOOD, #10 X 2-1/2, FLAT HD, BRASS",
        "#10 x 2-1/2 flat head wood screw, brass",
    );
    case(
        "M10 x 1.5 x 50mm Hex Bolt, Class 8.8, Zinc",
        "M10x1.5 x 50 hex bolt, 8.8, zinc plated",
    );
    case("5/8\" all thread x 8\" long", "5/8 x 8 threaded rod");
    case("Concrete screw 1/4 x 2-3/4", "1/4 x 2-3/4 screw-in anchor");
    case("0.190 x 0.5 machine screw", "#10 x 1/2 machine screw");
    case("ISO 7380 M6x16", "M6 x 16 button head cap screw");
    case(
        "DIN 912 M6 x 20 A2-70",
        "M6 x 20 socket head cap screw, A2-70",
    );
    case("DIN 985 M8", "M8 nylon-insert lock nut");
    case("Item 12: 1/2 x 3 hex bolt", "1/2 x 3 hex bolt");
    case(
        "1/2 inch flat washers, two per bolt",
        "2: 1/2 flat washer ?\"per bolt\" multiplies by a number that is not stated",
    );
    case(
        "#10 x 2-1/2 deck screws, 1 lb box",
        "#10 x 2-1/2 deck screw ?left over: \"1\"",
    );
    case("half-inch hex nuts", "1/2 hex nut");
    case("M8 x 40 hex bolt for rail, 24 pcs", "24: M8 x 40 hex bolt");
}

#[test]
fn doubts() {
    case(
        "1/2 x 3-3/4",
        "1/2 x 3-3/4 ?the kind of fastener is not stated",
    );
    case(
        "1/2-13 x 3",
        "1/2-13 x 3 ?the kind of fastener is not stated",
    );
    case(
        "1/2 x 3 galv",
        "1/2 x 3, galvanised ?the kind of fastener is not stated",
    );
    case("hex bolt", "hex bolt ?no size stated");
    case(
        "3-3/4 x 1/2 hex bolt",
        "1/2 x 3-3/4 hex bolt ?length first in \"3-3/4 x 1/2\": read the other way round",
    );
    case(
        "40 x M8 hex bolt",
        "40: M8 hex bolt ?may be 40 pieces of M8 or M8 x 40 ?no length stated",
    );
    case(
        ".31 x 1.5 hex bolt",
        "5/16 x 1-1/2 hex bolt ?.31 read as 5/16, a rounded decimal",
    );
    case(
        ".63 hex nut",
        "5/8 hex nut ?.63 read as 5/8, a rounded decimal",
    );
    case(
        "1/2 x .88 hex bolt",
        "1/2 x 7/8 hex bolt ?.88 read as 7/8, a rounded decimal",
    );
    case(
        "11/32 hex nut",
        "11/32 hex nut ?11/32 is not a standard diameter",
    );
    case(
        "1/2 x 3-3/32 hex bolt",
        "1/2 x 3-3/32 hex bolt ?3-3/32 is not a usual length",
    );
    case(
        "1/2 x 3 hex bolt blue",
        "1/2 x 3 blue hex bolt ?not understood: \"blue\"",
    );
    case(
        "Hex bolt M16 x 140 reduced shank",
        "M16 x 140 reduced shank hex bolt ?not understood: \"reduced shank\"",
    );
    case(
        "Hex bolt M16 x 140 with hole",
        "M16 x 140 hole hex bolt ?not understood: \"hole\"",
    );
    case(
        "M10 x 160 swing hook",
        "M10 x 160 swing hook ?not understood: \"swing hook\" ?the kind of fastener is not stated",
    );
    case(
        "Dome head bolt M8 x 40",
        "M8 x 40 dome bolt ?not understood: \"Dome\"",
    );
    case("Thick washer M8", "M8 extra-thick washer");
    case(
        "5/16 washers, 1/8 thick",
        "5/16 flat washer ?left over: \"1/8\"",
    );
    case("Hammer head bolt M8 x 40", "M8 x 40 T-bolt");
    case("Bolt cap", "bolt cap");
    case("Nut box", "nut box");
    case("End clamp 40-50", "end clamp 40-50 [part]");
    case("bracket 1120-45", "bracket [part 1120-45]");
    case(
        "1/2 x 3 hex bolt 7 12",
        "1/2 x 3 hex bolt ?left over: \"7 12\"",
    );
    case(
        "1/4 x 1-1/4 x 1/16 fender washer",
        "1/4 x 1-1/4 fender washer ?left over: \"1/16\"",
    );
    case("8 x 40 hex bolt", "M8 x 40 hex bolt ?may be M8 or #8");
}

#[test]
fn extras_are_passed_over() {
    case("1/2 x 3 hex bolt $1.25", "1/2 x 3 hex bolt");
    case("1/2 x 3 hex bolt @ 0.35 ea", "1/2 x 3 hex bolt");
    case("24 1/2 x 3 hex bolts @ $0.35", "24: 1/2 x 3 hex bolt");
    case("1/2 x 3 hex bolt, 75 ft-lb", "1/2 x 3 hex bolt");
    case("1/2 x 3 hex bolt, 75 ft lb", "1/2 x 3 hex bolt");
    case("M12 x 60 hex bolt 80 Nm", "M12 x 60 hex bolt");
    case("1/2 x 3 hex bolt for 1-1/2 rail", "1/2 x 3 hex bolt");
    case(
        "1/2 x 3 hex bolt, P/N 1120-0002",
        "1/2 x 3 hex bolt <1120-0002>",
    );
    case("1/2 x 3 hex bolt (HB-1234)", "1/2 x 3 hex bolt <HB-1234>");
    case("HB-1234 1/2 x 3 hex bolt", "1/2 x 3 hex bolt <HB-1234>");
    case("1/2 x 3 hex bolt, part no. 44", "1/2 x 3 hex bolt <44>");
    case("1/2 x 3 hex bolt²", "1/2 x 3 hex bolt");
}

#[test]
fn several_items_of_one_joint() {
    case(
        "1/2 x 4 hex bolt c/w nut and 2 flat washers",
        "1/2 x 4 hex bolt | 1: 1/2 hex nut | 2: 1/2 flat washer",
    );
    case(
        "24 1/2 x 4 hex bolts c/w nut and 2 flat washers",
        "24: 1/2 x 4 hex bolt | 24: 1/2 hex nut | 48: 1/2 flat washer",
    );
    case(
        "1/2-13 x 4 carriage bolt w/ nylon insert lock nut & washer",
        "1/2-13 x 4 carriage bolt | 1: 1/2-13 nylon-insert lock nut | 1: 1/2 flat washer",
    );
    case(
        "24 bolts 1/2 x 4, 24 nuts, 48 washers",
        "24: 1/2 x 4 bolt | 24: 1/2 hex nut | 48: 1/2 flat washer",
    );
    case(
        "4 5/8 inch washers and 2 5/8 inch lock nuts",
        "4: 5/8 flat washer | 2: 5/8 lock nut",
    );
    // The sure diameter of one piece tells how the others read.
    case(
        "2 1/2 washers and 6 1/2 lock nuts",
        "2: 1/2 flat washer | 6: 1/2 lock nut",
    );
    case(
        "1-1/2 x 6 hex bolt with 1 1/2 nut",
        "1-1/2 x 6 hex bolt | 1: 1-1/2 hex nut",
    );
    case(
        "1/2 x 6 hex bolt and 1 1/2 nut",
        "1/2 x 6 hex bolt | 1: 1/2 hex nut",
    );
    case(
        "bolt, nut and washer 1/2 x 3",
        "1/2 x 3 bolt | 1/2 hex nut | 1/2 flat washer",
    );
    case(
        "5/8 x 6 hex bolt with 2 washers each",
        "5/8 x 6 hex bolt | 2: 5/8 flat washer",
    );
    case("5/8 x 6 hex bolt without nut", "5/8 x 6 hex bolt");
    case(
        "5/8 x 6 hex bolt w/o nut, HDG",
        "5/8 x 6 hex bolt, hot-dip galvanised",
    );
    case("nut 1/2, bolt 1/2 x 3", "1/2 hex nut | 1/2 x 3 bolt");
    case(
        "4 bolts 8 nuts 8 washers 1/2",
        "4: 1/2 bolt ?no length stated | 8: 1/2 hex nut | 8: 1/2 flat washer",
    );
}

#[test]
fn nuts_that_are_two_things() {
    alike(
        "1/2 nylon-insert flange lock nut",
        &[
            "1/2 nylon insert flange nut",
            "1/2 nylon insert hex flange lock nut",
            "1/2 flanged nylon lock nut",
        ],
    );
    case("1/2 thin nylon lock nut", "1/2 nylon-insert jam lock nut");
    case("1/2 flange lock nut", "1/2 flange lock nut");
    case("1/2 heavy hex jam nut", "1/2 heavy hex jam nut");
    case(
        "1/2 nylon insert wing nut",
        "1/2 nylon-insert lock nut ?may be nylon-insert lock nut or wing nut",
    );
}

#[test]
fn dates_among_words() {
    case(
        "8-Mar hex nut",
        "3/8 hex nut ?a spreadsheet made the date 8-Mar of a size: read as 3/8",
    );
    case(
        "Hex bolt 8-Mar x 1/1/2002",
        "3/8 x 1-1/2 hex bolt ?a spreadsheet made the date 8-Mar of a size: read as 3/8 \
         ?a spreadsheet made the date 1/1/2002 of a size: read as 1-1/2",
    );
    case(
        "12-Jul hex nut",
        "hex nut ?the date 12-Jul stands for a size that cannot be recovered ?no size stated",
    );
}

#[test]
fn sets_packs_and_places() {
    case("1/2 x 3 hex bolts, set of 4", "4: 1/2 x 3 hex bolt");
    case("2 sets of 4 1/2 x 3 hex bolts", "8: 1/2 x 3 hex bolt");
    case(
        "6 sets 1/2 x 3 bolt, nut and washer",
        "6: 1/2 x 3 bolt | 6: 1/2 hex nut | 6: 1/2 flat washer",
    );
    case(
        "4 sets: 3/8 x 4 bolt + nut + 4 washers",
        "4: 3/8 x 4 bolt | 4: 3/8 hex nut | 4: 3/8 flat washer ?may be the count of one set or of all",
    );
    case(
        "4 sets 1/2 x 3 hex bolts",
        "1/2 x 3 hex bolt ?how many are in each of 4 sets is not stated",
    );
    case("4 5/16 x 1/2 set screws", "4: 5/16 x 1/2 set screw");
    case(
        "1/2 x 3 hex bolts, bag of 25, qty 2 bags",
        "50: 1/2 x 3 hex bolt",
    );
    case(
        "#8 x 1 wood screws 100/box, 2 boxes",
        "200: #8 x 1 wood screw",
    );
    case(
        "10 ft of 3/8-16 threaded rod",
        "3/8-16 threaded rod ?10 ft in all: how many pieces is not stated ?no length stated",
    );
    case(
        "3/8 U-bolt with 2 nuts and 2 washers, qty 4",
        "4: 3/8 U-bolt | 8: 3/8 hex nut | 8: 3/8 flat washer",
    );
    case(
        "2 5/8 x 6 hex bolts each corner",
        "2: 5/8 x 6 hex bolt ?\"each corner\" multiplies by a number that is not stated",
    );
    let places = |text| describe(text, Notation::default()).expect("reads")[0].places;
    assert_eq!(places("2 5/8 x 6 hex bolts, both ends"), 2);
    assert_eq!(places("2 5/8 x 6 hex bolts at each of the four corners"), 4);
    assert_eq!(places("2 5/8 x 6 hex bolts"), 1);
}

#[test]
fn parts() {
    case("3/8 x 4 stud bolt", "3/8 x 4 stud");
    case("girder shoe, left", "girder shoe, left");
    case("Girder  Shoe, LEFT", "girder shoe, left");
    case(
        "girder shoe, left [FB-210]",
        "girder shoe, left [part FB-210]",
    );
    case(
        "girder shoe, left [part FB-210]",
        "girder shoe, left [part FB-210]",
    );
    case(
        "FB-210 girder shoe, left",
        "girder shoe, left [part FB-210]",
    );
    case("FB-210", "[part FB-210]");
    case("1120-0002", "[part 1120-0002]");
    case("10-24-100", "[part 10-24-100]");
    case("2x6x12 deck board", "2x6x12 deck board [part]");
    case("2 x 6 x 12 deck board", "2 x 6 x 12 deck board [part]");
    case(
        "2 x 6 x 12 deck board [part]",
        "2 x 6 x 12 deck board [part]",
    );
    case("1/4 plate 6 x 8", "1/4 plate 6 x 8 [part]");
    case("4 girder shoes", "4: girder shoes");
    case("girder shoe (4)", "4: girder shoe");
    case("girder shoe x4", "4: girder shoe");
    case("two handrail brackets", "2: handrail brackets");
    case("4 way valve", "4 way valve [part]");
    case("bolt plate", "bolt plate");
    case(
        "nut driver",
        "nut driver ?a tool: to be brought, no piece of the kit",
    );
    case("bearing, 1/2 bore", "bearing, 1/2 bore [part]");
    case("bracket for 1/2 bolts", "bracket for 1/2 bolts [part]");
    case(
        "rail bracket c/w 2 hex bolts 1/2 x 3",
        "rail bracket | 2: 1/2 x 3 hex bolt",
    );
    case("north post", "north post");
    case("", "Empty");
    case(" - ", "Empty");
    case("24", "NoItem(\"no item is named\")");
}

#[track_caller]
fn cells(cells: ItemCells<'_>, expected: &str) {
    let read = match describe_cells(&cells, Notation::default()) {
        Err(unread) => format!("{unread:?}"),
        Ok(callouts) => callouts.iter().map(line).collect::<Vec<_>>().join(" | "),
    };
    assert_eq!(read, expected, "{cells:?}");
}

#[test]
fn cells_beside_the_description() {
    let none = ItemCells::default();
    cells(
        ItemCells {
            description: "Hex bolt",
            size: "1/2 x 3-3/4",
            ..none
        },
        "1/2 x 3-3/4 hex bolt",
    );
    cells(
        ItemCells {
            description: "Hex bolt",
            diameter: "1/2",
            length: "3 3/4",
            thread: "13",
            grade: "5",
            finish: "zinc",
            part_number: "hb-1",
            ..none
        },
        "1/2-13 x 3-3/4 hex bolt, Grade 5, zinc plated <HB-1>",
    );
    cells(
        ItemCells {
            description: "Hex nut M16",
            grade: "8",
            ..none
        },
        "M16 hex nut, Class 8",
    );
    cells(
        ItemCells {
            description: "Hex bolt",
            diameter: "1/2",
            length: "3",
            thread: "UNF",
            ..none
        },
        "1/2-20 x 3 hex bolt",
    );
    cells(
        ItemCells {
            description: "Hex bolt",
            size: "1/2-13",
            length: "3",
            ..none
        },
        "1/2-13 x 3 hex bolt",
    );
    cells(
        ItemCells {
            description: "Hex bolt",
            thread: "1/2-13",
            length: "3",
            ..none
        },
        "1/2-13 x 3 hex bolt",
    );
    cells(
        ItemCells {
            description: "Hex bolt",
            thread: "M8x1.25",
            length: "40",
            ..none
        },
        "M8x1.25 x 40 hex bolt",
    );
    cells(
        ItemCells {
            description: "Hex bolt",
            diameter: "M8",
            length: "40 mm",
            ..none
        },
        "M8 x 40 hex bolt",
    );
    cells(
        ItemCells {
            description: "1/2 x 3 hex bolt",
            size: "1/2 x 3",
            ..none
        },
        "1/2 x 3 hex bolt",
    );
    cells(
        ItemCells {
            description: "1/2 hex bolt",
            length: "3",
            ..none
        },
        "1/2 x 3 hex bolt",
    );
    cells(
        ItemCells {
            size: "1/2 x 3",
            ..none
        },
        "1/2 x 3 ?the kind of fastener is not stated",
    );
    cells(
        ItemCells {
            description: "Hex nut",
            size: "1 1/4",
            ..none
        },
        "1-1/4 hex nut",
    );
    cells(
        ItemCells {
            description: "Deck board",
            size: "2 x 6 x 12",
            ..none
        },
        "deck board, 2 x 6 x 12 [part]",
    );
    cells(
        ItemCells {
            description: "Girder shoe",
            part_number: "fb-210",
            ..none
        },
        "girder shoe [part FB-210]",
    );
    cells(
        ItemCells {
            part_number: "fb-210",
            ..none
        },
        "[part FB-210]",
    );
    cells(
        ItemCells {
            description: "Flat washer",
            size: "1/2",
            grade: "F436",
            ..none
        },
        "1/2 flat washer, F436",
    );
    cells(
        ItemCells {
            description: "Stainless hex bolt",
            size: "1/2 x 3",
            grade: "316",
            ..none
        },
        "1/2 x 3 hex bolt, 316",
    );
    cells(
        ItemCells {
            description: "Hex nut",
            size: "2026-03-08",
            ..none
        },
        "3/8 hex nut ?a spreadsheet made the date 2026-03-08 of a size: read as 3/8",
    );
    cells(
        ItemCells {
            description: "Hex bolt",
            diameter: "8-Jan",
            length: "1/1/2002",
            ..none
        },
        "1/8 x 1-1/2 hex bolt ?a spreadsheet made the date 8-Jan of a size: 1/8 or 1-8 \
         ?a spreadsheet made the date 1/1/2002 of a size: read as 1-1/2",
    );
    cells(
        ItemCells {
            description: "Machine screw",
            thread: "Oct-32",
            length: "1/2",
            ..none
        },
        "#10-32 x 1/2 machine screw ?a spreadsheet made the date Oct-32 of a size: #10-32 or 5/16",
    );
    cells(
        ItemCells {
            description: "4-Jan-20",
            ..none
        },
        "1/4-20 ?the kind of fastener is not stated \
         ?a spreadsheet made the date 4-Jan-20 of a size: 1/4-20 or 1/4",
    );
    cells(
        ItemCells {
            description: "Hex nut",
            size: "2026-07-12",
            ..none
        },
        "hex nut ?no size stated \
         ?the date 2026-07-12 stands for a size that cannot be recovered",
    );
    cells(none, "Empty");
    let mm = Notation {
        unit: Some(crate::hardware::Unit::Millimetre),
        ..Notation::default()
    };
    let read = describe_cells(
        &ItemCells {
            description: "Hex bolt",
            diameter: "8",
            length: "40",
            ..none
        },
        mm,
    );
    assert_eq!(line(&read.expect("reads")[0]), "M8 x 40 hex bolt");
}

#[track_caller]
fn quantity(text: &str, expected: Amount) {
    assert_eq!(amount(text, Notation::default()), expected, "{text}");
}

#[test]
fn quantity_cells() {
    let pieces = |pieces| {
        Amount::Pieces(Quantity {
            pieces,
            packs: None,
        })
    };
    let packs = |packs, pieces| {
        Amount::Pieces(Quantity {
            pieces,
            packs: Some(packs),
        })
    };
    quantity("24", pieces(24));
    quantity(" 24 ", pieces(24));
    quantity("24.0", pieces(24));
    quantity("24 ea", pieces(24));
    quantity("24 EA.", pieces(24));
    quantity("24ea", pieces(24));
    quantity("(24)", pieces(24));
    quantity("24x", pieces(24));
    quantity("x24", pieces(24));
    quantity("24 pcs", pieces(24));
    quantity("qty 24", pieces(24));
    quantity("Qty: 24", pieces(24));
    quantity("2 doz", pieces(24));
    quantity("1 gross", pieces(144));
    quantity("a dozen", pieces(12));
    quantity("two", pieces(2));
    quantity("twelve (12)", pieces(12));
    quantity("1,000", pieces(1000));
    quantity("3 C", pieces(300));
    quantity("2 M", pieces(2000));
    quantity("2 bags of 25", packs(2, 50));
    quantity("1 box/100", packs(1, 100));
    quantity("pack of 50", packs(1, 50));
    quantity("2 pr", pieces(4));
    quantity("0", pieces(0));
    quantity("", Amount::Blank);
    quantity(" – ", Amount::Blank);
    quantity("n/a", Amount::Blank);
    quantity("AR", Amount::AsRequired);
    quantity("A/R", Amount::AsRequired);
    quantity("as req'd", Amount::AsRequired);
    quantity("REF", Amount::Reference);
    quantity("-4", Amount::Credit(4));
    quantity("\u{2013}4", Amount::Credit(4));
    quantity("2.5", Amount::Bad);
    // A product, or a count that is written twice.
    for twice in [
        "4 x 4", "8 8", "8-8", "8:8", "4 at 4", "4 by 4", "4, 4", "9 9 9",
    ] {
        quantity(twice, Amount::Bad);
    }
    // What a person sees is another figure.
    for redrawn in ["\u{202e}42", "9\u{336}", "4\u{20dd}", "\u{b2}4"] {
        quantity(redrawn, Amount::Bad);
    }
    quantity("1/2", Amount::Bad);
    quantity("1e9", Amount::Bad);
    quantity("99999999", Amount::Bad);
    quantity("99999999999999999999", Amount::Bad);
    quantity("some", Amount::Bad);
    quantity("2 bags", Amount::Bad);
    quantity("4 or 5", Amount::Bad);
    quantity("20-24", Amount::Bad);
    quantity("20+", Amount::Bad);
    quantity("4 & 4", Amount::Bad);
    quantity("~20", Amount::Bad);
    quantity("\u{b1}8", Amount::Bad);
    quantity("8%", Amount::Bad);
    quantity("8/", Amount::Bad);
    quantity("||||", Amount::Bad);
    quantity("\u{2713}", Amount::Bad);
    quantity("none", pieces(0));
    quantity("4-", Amount::Credit(4));
    quantity("4 -", Amount::Credit(4));
}

pub(super) mod properties {
    use proptest::{prelude::*, test_runner::RngSeed};

    use super::{
        super::words::{Sense, look_up},
        *,
    };
    use crate::{
        doubt::Doubt,
        hardware::{
            Diameter, Drive, Finish, Grade, Item, Kind, Length, Material, PartName, Point, Ratio,
            Style, thread,
        },
    };

    fn diameters() -> impl Strategy<Value = Diameter> {
        let all: Vec<Diameter> = thread::threaded_diameters().collect();
        prop::sample::select(all)
    }

    fn lengths(metric: bool) -> impl Strategy<Value = Length> {
        (1i64..96).prop_map(move |n| match (metric, n) {
            (true, n) => Length::Millimetre(Ratio::from_integer(n * 5)),
            (false, n @ ..16) => Length::Inch(Ratio::new(n, 16)),
            (false, n @ ..56) => Length::Inch(Ratio::new(n - 8, 8)),
            (false, n) => Length::Inch(Ratio::new(n - 32, 4)),
        })
    }

    fn one_of<T: Copy + std::fmt::Debug + 'static>(
        all: &'static [T],
    ) -> impl Strategy<Value = Option<T>> {
        prop::option::of(prop::sample::select(all))
    }

    /// Fasteners of every kind, style and size that a line can state, with usual lengths.
    fn items() -> impl Strategy<Value = Item> {
        let kinds = prop::sample::select(&Kind::ALL[..8]);
        (
            kinds,
            diameters(),
            any::<prop::sample::Index>(),
            prop::bool::ANY,
        )
            .prop_flat_map(|(kind, diameter, style, with_thread)| {
                let style = *style.get(kind.styles());
                let metric = diameter.unit() == crate::hardware::Unit::Millimetre;
                let threaded = !matches!(kind, Kind::Washer | Kind::Pin | Kind::Rivet);
                let thread = (with_thread && threaded)
                    .then(|| thread::coarse(diameter))
                    .flatten();
                let has_length = !matches!(kind, Kind::Nut | Kind::Washer);
                let is_use = kind == Kind::Screw && style.is_use();
                (
                    lengths(metric),
                    one_of(Grade::ALL),
                    one_of(Finish::ALL),
                    one_of(Style::HEADS),
                    one_of(Drive::ALL),
                    one_of(Point::ALL),
                    one_of(&[true, false]),
                    prop::bool::ANY,
                )
                    .prop_filter("a length first would be swapped", move |(length, ..)| {
                        length.value() >= diameter.value()
                    })
                    .prop_map(
                        move |(length, grade, finish, head, drive, point, full, outside)| Item {
                            called: None,
                            kind: Some(kind),
                            style: Some(style),
                            diameter: Some(diameter),
                            thread,
                            length: has_length.then_some(length),
                            outside: (kind == Kind::Washer
                                && outside
                                && length.value() > diameter.value())
                            .then_some(length),
                            grade: grade.filter(|grade| {
                                let inch_nut = matches!(grade, Grade::Grade5 | Grade::Grade8);
                                kind != Kind::Nut
                                    || (*grade != Grade::Nylon && !(metric && inch_nut))
                            }),
                            // Zinc goes on steel.
                            finish: finish.filter(|finish| {
                                let steel = |grade: Grade| grade.material() == Material::Steel;
                                !finish.is_zinc() || grade.is_none_or(steel)
                            }),
                            // A machine screw's style is its head, where that is a screw's own; a lag's
                            // hexagon goes without saying.
                            head: head.filter(|head| {
                                is_use
                                    && (style, *head) != (Style::Lag, Style::Hex)
                                    && (style != Style::Machine
                                        || matches!(head, Style::Hex | Style::Square))
                            }),
                            drive: drive.filter(|_| kind == Kind::Screw && style != Style::Button),
                            point: point.filter(|_| kind == Kind::Screw && style == Style::Set),
                            full_thread: full.filter(|_| has_length),
                            left_hand: outside
                                && matches!(kind, Kind::Bolt | Kind::Screw | Kind::Rod | Kind::Nut),
                            part: None,
                        },
                    )
            })
    }

    /// True for a part in whose description a noun of the trade stands, or that has the name of a unit.
    fn names_hardware(item: &Item) -> bool {
        let name = item
            .part
            .as_ref()
            .and_then(|part| part.description.as_deref());
        let mut words = name
            .unwrap_or_default()
            .split(|c: char| !c.is_alphanumeric());
        words.any(|word| {
            let row = look_up(word);
            row.is_some_and(|row| row.noun().is_some() || row.senses.iter().any(is_unit))
        })
    }

    fn is_unit(sense: &Sense) -> bool {
        matches!(sense, Sense::Unit(_) | Sense::Per(_))
    }

    /// So many cases, the same each time, so that a change fails by what it changed;
    /// `PROPTEST_RNG_SEED=7 PROPTEST_CASES=300000` tries others by hand.
    pub(in crate::notation) fn same_each_time(cases: u32) -> ProptestConfig {
        let by_hand = std::env::var_os("PROPTEST_CASES").is_some();
        let mut config = ProptestConfig {
            failure_persistence: None,
            ..ProptestConfig::default()
        };
        if !by_hand {
            config.cases = cases;
            config.rng_seed = RngSeed::Fixed(1);
        }
        config
    }

    /// True for a thread that no fastener has (`4-75`) or, without a noun, for such a diameter or a
    /// head: another way to read it may be the likelier one. All but a screw's head are doubted.
    fn is_odd(item: &Item) -> bool {
        item.diameter.is_some_and(|diameter| {
            let odd = |thread| !thread::is_standard(diameter, thread);
            item.thread.is_some_and(odd) || (item.kind.is_none() && !diameter.is_standard())
        }) || (item.kind.is_none() && item.style.is_some())
    }

    /// Text of the trade's pieces, in any order.
    fn trade_text() -> impl Strategy<Value = String> {
        let piece = prop_oneof![
            prop::sample::select(vec![
                "1/2",
                "3-3/4",
                "3 3/4",
                "¾",
                "5/8\"",
                "M8",
                "M8x1.25x40",
                "#10",
                "10-24",
                "24",
                "4",
                "(24)",
                "x24",
                "2 bags of 25",
                "qty",
                "Gr 5",
                "Grade",
                "8.8",
                "18-8",
                "A2-70",
                "$1.25",
                "75 ft-lb",
                "P/N",
                "FB-210",
                "1120-0002",
                "ISO 4014",
                "x",
                "×",
                "-",
                "–",
                ",",
                ";",
                "/",
                "(",
                ")",
                "[",
                "]",
                ".",
                "'",
                "\"",
                "#",
                "@",
                "c/w",
                "and",
                "w/o",
                "for",
                "&",
                "1'-6\"",
                "0",
                "00",
                ".31",
                "1e9",
                "999999999",
                "9999999999",
                "1/0",
                "0/4",
                "8-Mar",
                "[part",
                "[part 12]",
                "each",
                "dozen",
                "2x6x12",
                "16",
                "1/1/2002",
                "part no.",
                "No.",
            ])
            .prop_map(str::to_owned),
            prop::sample::select(
                super::super::words::WORDS
                    .iter()
                    .map(|row| row.spelling)
                    .collect::<Vec<_>>()
            )
            .prop_map(str::to_owned),
            "[a-z0-9/.-]{1,6}",
        ];
        (prop::collection::vec(piece, 0..12), prop::bool::ANY)
            .prop_map(|(pieces, tight)| pieces.join(if tight { "" } else { " " }))
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn canonical_text_reads_back_as_the_same_item(item in items()) {
            let text = item.text();
            let read = describe(&text, Notation::default()).expect("reads");
            prop_assert_eq!(read.len(), 1, "{}", &text);
            let doubts: Vec<_> = read[0]
                .doubts
                .iter()
                .filter(|doubt| item.kind.is_some() || **doubt != Doubt::NoKind)
                .collect();
            prop_assert!(doubts.is_empty(), "{} {:?}", text, doubts);
            prop_assert_eq!(&read[0].item, &item, "{}", text);
            prop_assert_eq!(read[0].quantity, None, "{}", text);
        }

        #[test]
        fn parts_read_back(
            description in prop::option::of("[a-z0-9]{1,6}([ ,./x-]{1,2}[a-z0-9]{1,6}){0,4} 6"),
            number in prop::option::of("[A-Z0-9]{1,4}([-./][A-Z0-9]{1,4}){0,2}"),
        ) {
            let description = description.map(|d| d.split_whitespace().collect::<Vec<_>>().join(" "));
            let number = number.or(description.is_none().then(|| "FB-210".to_owned()));
            let item = Item {
                kind: Some(Kind::Part),
                part: Some(Box::new(PartName {
                    number: number.map(Into::into),
                    description: description.map(Into::into),
                })),
                ..Item::default()
            };
            let read = describe(&item.text(), Notation::default()).expect("reads");
            prop_assert_eq!(read.len(), 1);
            prop_assert_eq!(&read[0].item, &item);
            prop_assert!(read[0].doubts.is_empty());
        }

        /// A figure put anywhere into a line is in what was read of it, or doubted: none is lost.
        #[test]
        fn no_figure_is_lost(
            line in prop::sample::select(vec![
                "24 1/2-13 x 3-3/4 hex bolts, Grade 5, zinc",
                "hex bolt M8 x 40 8.8 qty 24",
                "1/2 x 4 hex bolt c/w nut and 2 flat washers",
                "twelve (12) 5/8 nylon insert lock nuts HDG",
                "2 bags of 25 #10 flat washers",
                "girder shoe, left, FB-210",
                "1/4 x 1-1/4 OD fender washer (24)",
                "Bolt, carriage, 3/8 dia x 4 long, P/N 1120-0002",
                "bolt plate and nut cover x4",
            ]),
            figure in prop::sample::select(vec!["977", "41/64", "7919", "31.7", "977-53", "(977)", "x977", "977 ea", "QZ-977"]),
            at in any::<prop::sample::Index>(),
        ) {
            let mut words: Vec<&str> = line.split(' ').collect();
            let at = at.index(words.len() + 1);
            words.insert(at, figure);
            let text = words.join(" ");
            let told = super::read(&text).to_uppercase();
            let digits: String = figure.chars().filter(|c| !matches!(c, '(' | ')' | 'x' | ' ' | 'e' | 'a')).collect();
            // A count that comes with each of 24 or 2 pieces is multiplied.
            let product = [977u64 * 24, 977 * 2, 977 * 12, 977 * 25, 7919 * 2, 7919 * 24, 7919 * 25].iter().any(|n| told.contains(&n.to_string()));
            prop_assert!(told.contains(&digits) || product, "{} -> {}", text, told);
        }

        #[test]
        fn any_text_reads_without_panic(text in any::<String>(), decimal_comma: bool) {
            let notation = Notation { decimal_comma, ..Notation::default() };
            let _ = describe(&text, notation);
            let _ = amount(&text, notation);
        }

        #[test]
        fn trade_text_reads_without_panic(text in trade_text()) {
            let _ = describe(&text, Notation::default());
            let _ = amount(&text, Notation::default());
        }
    }

    proptest! {
        #![proptest_config(same_each_time(10_000))]

        /// Whatever is read, its canonical text reads back as the same item.
        #[test]
        fn what_is_read_reads_back(text in trade_text()) {
            for callout in describe(&text, Notation::default()).unwrap_or_default() {
                // A number that is no size of anything, by what it comes to or by more decimals than
                // are measured, may be read as one in one place alone, and so may a word for hardware
                // in the name of a thing.
                let odd =
                    |size: Ratio| size > Ratio::from_integer(100) || *size.denom() > 10_000;
                let item = &callout.item;
                let sizes = [item.length, item.outside].into_iter().flatten();
                if matches!(item.diameter, Some(Diameter::Inch(d)) if odd(d))
                    || sizes.into_iter().any(|size| matches!(size, Length::Inch(l) if odd(l)))
                    || names_hardware(item)
                    || is_odd(item)
                {
                    continue;
                }
                let canonical = callout.item.text();
                let again = describe(&canonical, Notation::default());
                prop_assert!(again.is_ok(), "{} -> {}", text, canonical);
                let again = again.unwrap_or_default();
                prop_assert_eq!(again.len(), 1, "{} -> {}", &text, &canonical);
                prop_assert_eq!(&again[0].item, &callout.item, "{} -> {}", &text, &canonical);
            }
        }
    }
}

/// A ten may stand alone, or go with the unit of what it is followed by. Common practice, no source.
#[test]
fn tens_and_units_in_words() {
    for (text, expected) in [
        (
            "twenty one and one half inch nuts",
            "21: 1/2 hex nut ?may be 21 pieces of 1/2 or 20 pieces of 1-1/2",
        ),
        (
            "twenty one quarter inch nuts",
            "20: 1/4 hex nut ?may be 20 pieces of 1/4 or 21 pieces of 1/4",
        ),
        (
            "forty one eighth inch washers",
            "40: 1/8 flat washer ?may be 40 pieces of 1/8 or 41 pieces of 1/8",
        ),
        (
            "thirty three quarter inch nuts",
            "30: 3/4 hex nut ?may be 30 pieces of 3/4 or 33 pieces of 1/4",
        ),
        (
            "sixty one quarter twenty nuts",
            "60: 1/4-20 hex nut ?may be 60 pieces of 1/4-20 or 61 pieces of 1/4-20",
        ),
        ("twenty two half inch nuts", "22: 1/2 hex nut"),
        (
            "one hundred and twenty quarter inch nuts",
            "120: 1/4 hex nut",
        ),
        ("two hundred five-eighths nuts", "200: 5/8 hex nut"),
        ("twenty-one half inch nuts", "21: 1/2 hex nut"),
        ("fifty five eighths by six bolts", "50: 5/8 x 6 bolt"),
    ] {
        case(text, expected);
    }
}

/// Lengths and thicknesses of millimetres in words. Common practice, no source.
#[test]
fn millimetres_in_words() {
    case(
        "four threaded rods m ten by one thousand",
        "4: M10 x 1000 threaded rod",
    );
    case("two thousand m eight nuts", "2000: M8 hex nut");
    case("16 1/4 by 2 and 1/2 lags", "16: 1/4 x 2-1/2 lag screw");
    case(
        "16 1/4 by 2 and 1/2 lag screws",
        "16: 1/4 x 2-1/2 lag screw",
    );
    case(
        "8 1/4 by 2 bolts and 4 washers",
        "8: 1/4 x 2 bolt | 4: 1/4 flat washer",
    );
    case(
        "six self drilling screws four point eight by nineteen",
        "6: 4.8 x 19 self-drilling screw",
    );
    case(
        "six screws six point three by nineteen",
        "6: M6.3 x 19 screw",
    );
}

/// A set of pieces makes no set screw. Common practice, no source.
#[test]
fn sets_and_set_screws() {
    let counted = Notation {
        counted: true,
        ..Notation::default()
    };
    let all = describe("set of 4 M6 x 20 screws", counted).expect("an item");
    assert_eq!(line(&all[0]), "4: M6 x 20 screw");
    case("2 sets of 4 M6 x 20 screws", "8: M6 x 20 screw");
    case("6 set screws M6 x 10", "6: M6 x 10 set screw");
    case(
        "8 M6 x 10 set of screws",
        "8: M6 x 10 screw ?how many are in a set is not stated",
    );
    case(
        "8 set bolts M8 x 20",
        "8: M8 x 20 set bolt ?not understood: \"set\"",
    );
}

/// The pipe in a U-bolt is no thread. Common practice, no source.
#[test]
fn pipes_in_u_bolts() {
    case(
        "U-bolt 3 in pipe, w/ 2 nuts",
        "U-bolt ?3 in is the pipe's size: that of the thread is not stated ?no size stated | 2: hex nut ?no size stated",
    );
    case("2 U-bolts 3/8 x 3 pipe", "2: 3/8 x 3 U-bolt");
}

/// A number in a word, and a dash behind it: how a thing is made, or what it measures; no count. Common practice, no source.
#[test]
fn numbers_that_tell_how_a_thing_is_made() {
    case("9 four-hole plates", "9: four-hole plates [part]");
    case("one-way hinge", "one-way hinge [part]");
    case("two-piece clamp", "two-piece clamp [part]");
    case("ten-inch post", "ten-inch post [part]");
    case("3/8 by four-inch bolt", "3/8 x 4 bolt");
    case("four-off M8 nut", "4: M8 hex nut");
    case("twenty-four M8 nuts", "24: M8 hex nut");
}
