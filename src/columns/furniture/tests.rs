//! What is a line of a list, and what is none.

use super::*;

#[test]
fn numbers_of_slips() {
    #[track_caller]
    fn case(text: &str, expected: Option<&str>) {
        assert_eq!(slip_number(text), expected, "{text}");
    }
    case("Packing slip 55812", Some("55812"));
    case("PACKING LIST No. PL-2207", Some("PL-2207"));
    case("Delivery note: 1001/A", Some("1001/A"));
    case("Packing slip 7001 (corrected)", Some("7001"));
    case("Delivery note", Some(""));
    case("Despatch note number", Some(""));
    case("Packing slip for the shelter", None);
    case("Packing materials 12", None);
    case("Slip resistant decking 4", None);
}

#[test]
fn totals() {
    for text in [
        "Total",
        "TOTAL:",
        "Subtotal",
        "Sub-total",
        "Sub total",
        "Subtotal, stage 1",
        "Grand total",
        "Totals",
        "Total pieces",
        "Stage total",
        "Stage 1 total",
        "Total for stage 3",
        "Page total",
        "Carried forward",
        "Total, stage 2",
        "Total this page",
        "Step 4B subtotal",
        "Total (kit)",
        "Sum",
        "Grand total ........... 412 pieces",
        "12 total",
        "412 pieces in total",
        "Bag total: 96 pcs",
        "Sum 46 pcs",
        "Total weight",
        "Pieces this stage",
        "Pieces in bag: 46",
        "Pcs in all",
        "Net weight 41.5 kg",
        "Items sold 106",
        "Sum of pieces",
        "pcs in step",
        "69 pieces in all",
        "Pieces in step 3",
        "All hardware in this kit",
        "311 LB",
        "214 PIECES    311 LB",
    ] {
        assert!(is_total(text), "{text}");
    }
    for text in [
        "Parts tray",
        "Order hook",
        "Pieces of 2x4",
        "Total station bracket",
        "Hex bolt",
        "Summit plate",
        "Subframe",
        "Totally threaded rod",
        "12 total station brackets",
        "Hardware kit 2",
        "Parts box",
        "Kit of parts",
        "5 lb anchor",
        "Item holder in steel",
    ] {
        assert!(!is_total(text), "{text}");
    }
}

#[test]
fn figures_of_totals() {
    for (text, total) in [
        ("Bag total: 96 pcs", Some(96)),
        ("412 pieces in total", Some(412)),
        ("Stage 1 total: 24", Some(24)),
        ("Total pieces 1,240", Some(1240)),
        ("Pieces in bag: 46", Some(46)),
        ("69 pieces in all", Some(69)),
        ("Pieces in step 3", None),
        ("Pieces in step 3: 40", Some(40)),
        ("311 LB", None),
        ("Stage 1 total", None),
        ("Total weight 56", None),
        ("SUBTOTAL 407.94", None),
        ("Total: $96", None),
        ("Total of 24 lines, 96 pcs", None),
    ] {
        assert_eq!(total_in(text), total, "{text}");
    }
}

#[test]
fn pages_and_footnotes() {
    for text in [
        "Boat rack BR-4   Sheet 2   11/14/2026",
        "14 November 2026, boat rack",
        "Greenhouse bench, 14 Nov 2026",
        "Pavilion, 2026-11-14",
        "Shelter list, November 2026",
        "Parts list rev C",
        "(1) Galvanized per ASTM A153.",
        "\u{2020} 4 used in step 7, 4 in step 9",
    ] {
        assert!(is_page_or_footnote(text), "{text}");
    }
    for text in [
        "(4) rail brackets",
        "4 sheets of plywood",
        "2 revolving hooks",
        "Bracket 11-14",
        "12 marker posts",
        "2 signs dated 11/14/2026",
        "Hex nut old 1/2-13",
        "old pieces 3/8-16 x 3",
    ] {
        assert!(!is_page_or_footnote(text), "{text}");
    }
}

#[test]
fn notes() {
    for text in [
        "Note: torque again",
        "NOTES",
        "Note 1. Keep dry",
        "N.B. left hand",
        "Page 2 of 3",
        "(cont'd)",
        "See drawing 4",
        "Kit no. 14 of 20",
        "END OF BOM  20 COMPONENTS",
        "Ship to: 118 Alder Lane, dock 2",
        "PO 4471 line 2",
        "Packing slip no. 20817",
        "Phone: 555-0142",
        "4 BOXES   212 LB   FREIGHT PREPAID",
        "2 pallets, 1 carton. Received in good order",
    ] {
        assert!(is_note(text), "{text}");
    }
    for text in [
        "Notched plate",
        "Page holder",
        "Hex nut",
        "Nut, M8",
        "Kit of 4",
        "2 crates, 1 bundle of slats",
    ] {
        assert!(!is_note(text), "{text}");
    }
    for text in [
        "** 4 of these are spares",
        "one of which is bent",
        "(2 of them spare)",
    ] {
        assert!(is_of_others(text), "{text}");
    }
    for text in ["4 of M8 hex nut", "2 bags of 25", "box of these"] {
        assert!(!is_of_others(text), "{text}");
    }
}

#[test]
fn papers() {
    for text in [
        "Checked by: T. Rowe",
        "PACKED BY J. CHECKED BY R.",
        "Freight",
        "Shipping and handling",
        "Weight kg 412",
        "Gross weight: 41 kg",
        "Order 5512",
        "Reference: TF-2207",
        "Documents",
        "Pallet 2",
        "Signature:",
        "Carriage and packing",
        "Fracht / freight",
        "Deposit pallet",
        "Card payment",
    ] {
        assert!(is_paper(text), "{text}");
    }
    for text in [
        "Weight bracket",
        "Order hook 2",
        "Delivery hatch",
        "Document holder",
        "Counted washers",
        "Pallet rack foot",
        "Received bolts 8",
        "Handling bar",
        "Packing strip 4",
        "Transport wheel",
        "Deposit box lid",
    ] {
        assert!(!is_paper(text), "{text}");
    }
}

#[test]
fn stage_titles() {
    #[track_caller]
    fn case(text: &str, expected: Option<&str>) {
        assert_eq!(stage_title(text), expected, "{text}");
    }
    case("Stage 2 - Girders", Some("Stage 2 - Girders"));
    case("STEP 4B:", Some("STEP 4B"));
    case("## Step 3: Rails", Some("Step 3: Rails"));
    case("**Section A**", Some("Section A"));
    case("Step 12 Fit the rails", Some("Step 12 Fit the rails"));
    case("Stage two: deck", Some("Stage two: deck"));
    case("PART A - LEGS", Some("PART A - LEGS"));
    case("Part A bracket", None);
    case("Part 12: bracket", None);
    case("Step stool", None);
    case("Section bar 40 x 40", None);
    case("24 hex bolts", None);
    case("Assembly bolt", None);
    assert_eq!(
        title_and_rest("Step 2: 2 M8 nuts"),
        Some(("Step 2", "2 M8 nuts"))
    );
    assert_eq!(
        title_and_rest("STEP 7 \u{2013} Hang the door"),
        Some(("STEP 7", "Hang the door"))
    );
    assert_eq!(
        title_and_rest("Stage 2 - Girders"),
        Some(("Stage 2", "Girders"))
    );
    assert_eq!(title_and_rest("Stage 2"), None);
    let step = |text| step_and_rest(text).unwrap_or_default();
    assert_eq!(step("Step 7. Fit two."), ("Step 7", "Fit two."));
    assert_eq!(step("Step no. 7: Fit two."), ("Step no. 7", "Fit two."));
    assert_eq!(
        step("STEP 6B (roof). Zinc nuts, 2"),
        ("STEP 6B (roof)", "Zinc nuts, 2")
    );
    assert_eq!(step("Step 8 Fit two."), ("Step 8", "Fit two."));
    assert_eq!(step("Step 2.1 - 4 nuts"), ("Step 2.1", "4 nuts"));
    assert_eq!(step("Stage 2"), ("", ""));
    assert_eq!(step("Step up two M8 nuts"), ("", ""));
}

#[test]
fn containers() {
    assert_eq!(container("Hardware bag 3"), Some(Container::Bag("3")));
    assert_eq!(container("BAG A"), Some(Container::Bag("A")));
    assert_eq!(container("Crate 1"), Some(Container::Box("1")));
    assert_eq!(container("Box no. 2:"), Some(Container::Box("2")));
    assert_eq!(container("Box 2 of 3"), Some(Container::Box("2")));
    assert_eq!(container("Carton 1 (14 kg)"), Some(Container::Box("1")));
    assert_eq!(container("Box 2, 31.5 lb"), Some(Container::Box("2")));
    assert_eq!(container("Bag"), None);
    assert_eq!(container("Box of screws"), None);
    assert_eq!(container("24 bags"), None);
    assert_eq!(container_name("Bag 3"), "3");
    assert_eq!(container_name("B-3"), "B-3");
}

#[test]
fn bags_as_such() {
    let bag = |text, name| {
        assert_eq!(
            containers_counted(text),
            Some(Container::Bag(name)),
            "{text}"
        )
    };
    bag("H1 bag x3 complete", "H1");
    bag("H2 bag: 2 complete, third one open:", "H2");
    bag("Hardware bag C: 2, one open", "C");
    bag("Bag 4 - all there", "4");
    assert_eq!(
        containers_counted("Box 2: complete"),
        Some(Container::Box("2"))
    );
    for text in [
        "Bag A: 12 hex bolts",
        "Bag A",
        "bag of nails",
        "2 bags complete",
        "H1 x3",
    ] {
        assert_eq!(containers_counted(text), None, "{text}");
    }
}

#[test]
fn sets() {
    assert_eq!(sets_of_what_follows("3 x kit S, each:"), Some(3));
    assert_eq!(sets_of_what_follows("2 gate kits, each with:"), Some(2));
    assert_eq!(
        sets_of_what_follows("4 sets of shelter hardware, each containing"),
        Some(4)
    );
    for text in [
        "3 kits",
        "Each kit:",
        "2 kits of parts, see below",
        "4 hinges, each:",
        "Kit 3, each:",
    ] {
        assert_eq!(sets_of_what_follows(text), None, "{text}");
    }
}

#[test]
fn bullets() {
    #[track_caller]
    fn case(text: &str, expected: &str) {
        assert_eq!(without_bullet(text), expected);
    }
    case("- 24 hex bolts", "24 hex bolts");
    case("* [ ] **24** hex bolts", "24 hex bolts");
    case("\u{2022}24 hex bolts", "24 hex bolts");
    case("3. 24 hex bolts", "24 hex bolts");
    case("3) M8 x 40", "M8 x 40");
    case("3.5 in bolts", "3.5 in bolts");
    case("7.2 Fit four bolts", "Fit four bolts");
    case("7.2 M8 bolts", "7.2 M8 bolts");
    case("2b. Fit four bolts", "Fit four bolts");
    case("A. 2 hex nuts", "2 hex nuts");
    case("(a) 2 hex nuts", "2 hex nuts");
    case("(2) hex nuts", "(2) hex nuts");
    case("B2: 60 hex nuts", "60 hex nuts");
    case("M8: 60 hex nuts", "M8: 60 hex nuts");
    case("> > 24 hex bolts", "24 hex bolts");
    case("U-bolt", "U-bolt");
    case("24 hex bolts", "24 hex bolts");
    case("-24", "-24");
}

#[test]
fn dittos() {
    for text in ["\"", "\u{201d}", "ditto", "Do.", "''"] {
        assert!(is_ditto(text), "{text}");
    }
    assert!(!is_ditto("door"));
}

#[test]
fn dates_alone() {
    for text in [
        "12 Feb 2026",
        "2026-02-12",
        "12.02.2026",
        "February 12, 2026",
    ] {
        assert!(is_date(text), "{text}");
    }
    for text in ["12 Feb", "3/8", "Issue F", "12 Feb 2026, rev F"] {
        assert!(!is_date(text), "{text}");
    }
    assert!(labels_other_date("Needed by"));
    assert!(labels_other_date("Order date:"));
    assert!(!labels_other_date("Issue F"));
    assert!(names_other_date("Needed by 5 May 2026"));
    assert!(!names_other_date("Counted by Ana on Monday 20 April 2026"));
}

#[test]
fn revisions() {
    #[track_caller]
    fn case(text: &str, revision: Option<&str>, date: Option<&str>) {
        assert_eq!(revision_and_date(text), (revision, date), "{text}");
    }
    case("Revision", Some(""), None);
    case("Rev. C", Some("C"), None);
    case("Parts list, revision: 2", Some("2"), None);
    case("PARTS LIST REV", Some(""), None);
    case("Date", None, Some(""));
    case("Date: 14 March 2026", None, Some("14 March 2026"));
    case("Date: March 14, 2026", None, Some("March 14, 2026"));
    case("SHIP DATE", None, Some(""));
    case("Despatch date", None, Some(""));
    case("Slip date: 2026-03-12", None, Some("2026-03-12"));
    case("Date of dispatch: 12.03.2026", None, Some("12.03.2026"));
    case("Date of dispatch", None, Some(""));
    case("Count date: 24 April 2026", None, Some("24 April 2026"));
    case("Counted on", None, Some(""));
    case("Counted on: 24 April 2026", None, Some("24 April 2026"));
    case("Counted on May 4, 2026", None, Some("May 4, 2026"));
    case("Counted on the bench, 4 boxes", None, None);
    case("issue 7 of 9 Jan 2026", Some("7"), Some("9 Jan 2026"));
    case(
        "list dated 3 Feb 2026, rev E",
        Some("E"),
        Some("3 Feb 2026"),
    );
    case("Rev 2, 2026-02-03", Some("2"), None);
    case("Revision date: 3 Feb 2026", None, Some("3 Feb 2026"));
    case("Counted 6 March 2026 by Odo", None, Some("6 March 2026"));
    case(
        "Bench count, counted May 5, 2026",
        None,
        Some("May 5, 2026"),
    );
    case("Datum 02.03.2026", None, Some("02.03.2026"));
    case("Packed by Odo", None, None);
    case("Review of parts", None, None);
    case("Update the list", None, None);
    case("NEED DATE", None, None);
}
