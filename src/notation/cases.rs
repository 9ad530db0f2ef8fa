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
    case("1/2 hex nut, pack of 50", "50: 1/2 hex nut");
    case("4 5/8 inch washers", "4: 5/8 flat washer");
    case(
        "24 10-24 x 1 machine screws",
        "24: #10-24 x 1 machine screw",
    );
    case("4 x M8 x 40 hex bolt", "4: M8 x 40 hex bolt");
    case("4x M8 hex nut", "4: M8 hex nut");
}

mod properties {
    use proptest::prelude::*;

    use super::*;

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
        #![proptest_config(ProptestConfig::with_cases(2000))]

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
}
