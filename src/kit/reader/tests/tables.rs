//! Tables as people and their systems hold them: what stands below an assembly, remarks under headings that are
//! not known, titles and notes that say how all figures are meant. Common practice, no source.

use super::*;

const BELOW: [&str; 4] = [
    "2: 2 frame assy [for reference]",
    "3: 4 x 2 M8 hex nut ? stands below 2 of \"Frame assy\": taken for each of them, 8 in all",
    "4: 4 x 2 M8 x 40 bolt ? stands below 2 of \"Frame assy\": taken for each of them, 8 in all",
    "5: 3 post",
];

#[test]
fn rows_set_in_below_an_assembly() {
    required(
        "Item,Qty\nFrame assy,2\n  M8 nut,4\n  M8 x 40 bolt,4\npost,3\n",
        &BELOW,
    );
    required(
        "L1,L2,L3,Item,Qty\n1,,,Frame assy,2\n,2,,M8 nut,4\n,2,,M8 x 40 bolt,4\n1,,,post,3\n",
        &BELOW,
    );
    // Dimensions fill both columns.
    required(
        "Item,Qty,L1,L2\nbrace,4,600,450\nstay,2,300,200\n",
        &["2: 4 brace", "3: 2 stay"],
    );
}

#[test]
fn rows_that_name_what_they_are_parts_of() {
    required(
        "Part,Parent,Description,Qty\nA1,,Frame assy,2\nH1,A1,M8 nut,4\nP1,,post,3\n",
        &[
            "2: 2 frame assy [part A1] [for reference]",
            "3: 4 x 2 M8 hex nut ? stands below 2 of \"Frame assy\": taken for each of them, 8 in all",
            "4: 3 post [part P1]",
        ],
    );
    // The whole stands below its parts; the product itself on no row.
    required(
        "Part,Parent,Description,Qty\nH1,A1,M8 nut,4\nA1,K9,Frame assy,2\n",
        &[
            "2: 4 M8 hex nut ? is a part of \"Frame assy\", of which row 3 says how many: taken as needed once",
            "3: 2 frame assy [part A1]",
        ],
    );
}

#[test]
fn assemblies_that_rows_count() {
    required(
        "Assembly,Assy qty,Item,Qty per assy\nFrame,2,M8 nut,4\nPost,1,post,3\n",
        &["2: 4 x 2 M8 hex nut [Frame]", "3: 3 post [Post]"],
    );
    required("Item,Assy qty\nM8 nut,4\n", &["2: 4 M8 hex nut"]);
    // A set is no piece beside what it is made of.
    required(
        "Lvl,Item,Qty\n1,Bolt set,3\n2,M8 nut,4\n1,post,3\n",
        &[
            "2: 3 bolt [for reference] ? no size stated",
            "3: 4 x 3 M8 hex nut ? stands below 3 of \"Bolt set\": taken for each of them, 12 in all",
            "4: 3 post",
        ],
    );
}

#[test]
fn remarks_under_headings_that_are_not_known() {
    let doubt = |words: &str| format!("? the remark \"{words}\" may change how many");
    required(
        "Item,Qty,Lifecycle\nM8 nut,40,active\nM8 washer,12,obsolete\nM10 nut,8,active\n",
        &[
            "2: 40 M8 hex nut",
            &format!("3: 12 M8 flat washer {}", doubt("obsolete")),
            "4: 8 M10 hex nut",
        ],
    );
    shipped(
        "Item,Qty,Status\nM8 nut,40,packed\nM8 washer,12,cancelled\n",
        &[
            "2: 40 M8 hex nut",
            &format!("3: 12 M8 flat washer {}", doubt("cancelled")),
        ],
    );
    counted(
        "Item,Count,Remark\nM8 nut,40,ok\nM8 washer,12,sealed\nM10 nut,8,?\n",
        &[
            "2: 40 M8 hex nut",
            &format!("3: 12 M8 flat washer {}", doubt("sealed")),
            &format!("4: 8 M10 hex nut {}", doubt("?")),
        ],
    );
}

#[test]
fn options_in_a_column_of_stages() {
    required(
        "Stage,Item,Qty\nWalls,M8 nut,4\nLanding board (option),M8 washer,8\nRoof,M10 nut,2\n",
        &[
            "2: 4 M8 hex nut [Walls]",
            "3: 8 M8 flat washer [Landing board (option)] [with landing board]",
            "4: 2 M10 hex nut [Roof]",
        ],
    );
}

#[test]
fn what_qualifies_all_figures_of_a_list() {
    let asked = |text: &str| {
        let list = read_list("list.csv", text, Required);
        let lines = list.lines.len();
        (lines, list.sheets[0].question.clone().unwrap_or_default())
    };
    let told = |row: u32, words: &str| {
        format!(
            "row {row} says \"{words}\", which may change every figure: they are taken as they stand"
        )
    };
    let words = "Quantities are per side - 2 sides";
    let (lines, question) = asked(&format!("Goat shed\n{words}\nItem,Qty\nM8 nut,4\n"));
    assert_eq!((lines, question), (1, told(2, words)));
    let (lines, question) = asked("Item,Qty\nM8 nut,4\nAll quantities x 2\n");
    assert_eq!((lines, question), (1, told(3, "All quantities x 2")));
    let (lines, question) = asked("Shed for 2 goats\nItem,Qty\nM8 nut,4\n2 people needed\n");
    assert_eq!((lines, question.as_str()), (1, ""));
}

#[test]
fn numbers_and_figures_under_few_headings() {
    // Codes under `Number` are the maker's.
    shipped(
        "Delivery note 40\n\nNumber;Delivered\nKW-31;2\nKW-904;4\n",
        &["4: 2 [part KW-31]", "5: 4 [part KW-904]"],
    );
    // What several trays hold is summed by the count itself.
    counted(
        "Fixing,Tray 1,Tray 2,Sum\nM8 nut,10,6,16\nM10 nut,24,,24\n",
        &["2: 16 M8 hex nut", "3: 24 M10 hex nut"],
    );
    shipped(
        "Item,Ordered,Previously shipped,This shipment\nM8 nut,24,20,0\nM8 x 40 bolt,30,10,20\n",
        &[
            "2: 0 M8 hex nut ? 20 under \"Previously shipped\" beside 0: not counted",
            "3: 20 M8 x 40 bolt ? 10 under \"Previously shipped\" beside 20: not counted",
        ],
    );
}

#[test]
fn figures_in_a_name_that_divide_its_count() {
    required(
        "Item,Qty\n\"Rafter tie, 6 left 6 right\",12\n",
        &["2: 6 rafter tie, left", "2: 6 rafter tie, right"],
    );
    let doubt = "? 4 in its name beside 3: taken for each";
    required(
        "Item,Qty\n\"Rafter tie, 2 left 2 right\",3\n",
        &[
            &format!("2: 6 rafter tie, left {doubt}"),
            &format!("2: 6 rafter tie, right {doubt}"),
        ],
    );
}

#[test]
fn nuts_that_come_with_so_many_bolts() {
    required(
        "Item,Qty\nRail with 4 M8 x 60 bolts and nuts,6\n",
        &[
            "2: 6 rail ? another item of the same row is in doubt",
            "2: 24 M8 x 60 bolt ? another item of the same row is in doubt",
            "2: 24 M8 hex nut ? how many is not stated: taken as many as stand before it, 4 of each",
        ],
    );
}

#[test]
fn files_in_another_role_than_theirs() {
    let asked = |text: &str, role| {
        let list = read_list("list.csv", text, role);
        list.sheets[0].question.clone().unwrap_or_default()
    };
    let count = "Item,Good,Damaged\nM8 nut,8,1\n";
    assert_eq!(
        asked(count, Shipped),
        "its columns are those of a count (what is damaged, who counted), and it was given as what is shipped: is it?"
    );
    assert_eq!(asked(count, Counted), "");
    let error = read_as(
        "job.toml",
        b"name = \"hut\"\nrequired = [\"l.csv\"]\n",
        Shipped,
        &[],
    )
    .err()
    .map(|error| error.to_string());
    assert!(error.is_some_and(|said| said.contains("it is a job file, given as what is shipped")));
}

/// Sums of groups under a name that counts (common practice, no source).
#[test]
fn sums_under_a_name_that_counts_are_no_parts() {
    let list = |sum: u64| {
        let text = format!(
            "Item,Qty\nFrame\nrail,4\npost,8\n\"Pieces, frame\",12\nDrive\nwheel,6\ncrank,1\n\"Pieces, drive\",{sum}\n"
        );
        let list = read_list("list.csv", text, Required);
        list.lines.len()
    };
    assert_eq!(list(7), 4);
    // No sum of theirs: it may be a part.
    assert_eq!(list(9), 5);
}

/// What the title names is the kit itself (common practice, no source).
#[test]
fn so_many_for_each_of_what_the_title_names() {
    let doubts = |title: &str| {
        let text = format!("{title}\n\nItem,Qty per rack\nM12 nut,8\npost,4\n");
        let list = read_list("list.csv", text, Required);
        assert_eq!(list.lines.len(), 2, "{title}");
        list.lines
            .iter()
            .map(|line| line.doubts().len())
            .sum::<usize>()
    };
    assert_eq!(doubts("\"Canoe rack CR-6, six boats\""), 0);
    assert_eq!(doubts("Canoe rack CR-6 x 2"), 2);
    assert_eq!(doubts("Two canoe racks"), 2);
    assert_eq!(doubts("Boat shed"), 2);
}

#[test]
fn a_figure_in_a_size_cell_is_no_count() {
    let text = "Qty,Description,Size\n4,hex bolt c/w nut,8-Mar x 3\n4,hex bolt,8-Mar x 3-1/2\n4,hex bolt,2025-03-08 x 3\n";
    let date = |date: &str| format!("a spreadsheet made the date {date} of a size: read as 3/8");
    case(
        "parts.csv",
        text,
        Required,
        &[
            &format!("2: 4 3/8 x 3 hex bolt ? {}", date("8-Mar")),
            "2: 4 3/8 hex nut ? another item of the same row is in doubt",
            &format!("3: 4 3/8 x 3-1/2 hex bolt ? {}", date("8-Mar")),
            &format!("4: 4 3/8 x 3 hex bolt ? {}", date("2025-03-08")),
        ],
    );
}

#[test]
fn sizes_in_cells_without_headings() {
    let text = "Hex bolt,1/2-13,3-3/4,8\nCarriage bolt,3/8-16,6,12\nHex bolt,M8,60,4\nFlat washer,1/2,,16\nHex nut,1/2-13,,8\n";
    case(
        "parts.csv",
        text,
        Required,
        &[
            "1: 8 1/2-13 x 3-3/4 hex bolt",
            "2: 12 3/8-16 x 6 carriage bolt",
            "3: 4 M8 x 60 hex bolt",
            "4: 16 1/2 flat washer",
            "5: 8 1/2-13 hex nut",
        ],
    );
    let text = "12,Carriage bolt,3/8-16,6\n8,Hex bolt,1/2-13,3-3/4\n8,Hex nut,1/2-13,\n";
    case(
        "parts.csv",
        text,
        Required,
        &[
            "1: 12 3/8-16 x 6 carriage bolt",
            "2: 8 1/2-13 x 3-3/4 hex bolt",
            "3: 8 1/2-13 hex nut",
        ],
    );
}

#[test]
fn counts_as_they_are_written() {
    let text = "Qty;Item\n1 200;M8 nut\n1'200;M10 nut\n1.200,00;M12 nut\n1,200.00;M6 nut\n\
                2 boxes;#8 x 1 wood screw 100/box\n12+11;M16 nut\n3 x 25;M20 nut\n2 sets;M24 nut\n1 20;M5 nut\n";
    case(
        "slip.csv",
        text,
        Shipped,
        &[
            "2: 1200 M8 hex nut",
            "3: 1200 M10 hex nut",
            "4: 1200 M12 hex nut",
            "5: 1200 M6 hex nut",
            "6: 200 #8 x 1 wood screw",
            "7: - aside: \"12+11\" is no count of pieces",
            "8: 75 M20 hex nut ? 3 x 25 taken for 75 in all",
            "9: 2 M24 hex nut ? the unit of measure \"sets\" is no count of pieces",
            "10: - aside: \"1 20\" is no count of pieces",
        ],
    );
    case(
        "count.csv",
        "Item,Counted\nM16 nut,12+11\n",
        Counted,
        &["2: 23 M16 hex nut ? 12+11 taken for 23 in all"],
    );
}

/// Without headings a row that bears a count is no title, though its part is of plain words.
#[test]
fn a_row_with_a_count_is_not_lost_without_headings() {
    let unheard = |row: u32| {
        format!(
            "{row}: - aside: no item found: it stands among the lines of the list, and no item with its count is found"
        )
    };
    case(
        "slip.csv",
        "TB-1,sheet,4\nTB-2,M8 nut,8\nTB-3,M8 washer,8\n",
        Shipped,
        &[&unheard(1), "2: 8 M8 hex nut", "3: 8 M8 flat washer"],
    );
    case(
        "slip.csv",
        "M8 nut;8\nTB-1;sheet;4\nM8 washer;8\n",
        Shipped,
        &["1: 8 M8 hex nut", &unheard(2), "3: 8 M8 flat washer"],
    );
}

#[test]
fn a_number_that_its_comma_parts_is_in_doubt() {
    required(
        "Item,Qty\nM8 nut,1,200\nM10 nut,4,\nM12 nut,8,5\n",
        &[
            "2: 1 M8 hex nut ? \"200\" stands behind the last heading: may be 1200, parted by its comma",
            "3: 4 M10 hex nut",
            "4: 8 M12 hex nut",
        ],
    );
}

/// Packs are worked out by the size that the row's text states as by one in a column.
#[test]
fn packs_of_a_size_in_the_text() {
    required(
        "Item,Boxes,Loose\nM8 hex nut 100/box,2,13\nM8 flat washer (box of 50),1,\nM8 x 40 hex bolt 25/box,,3\n",
        &[
            "2: 213 M8 hex nut",
            "3: 50 M8 flat washer",
            "4: 3 M8 x 40 hex bolt",
        ],
    );
    required(
        "Item,Qty,Unit,Singles\nM8 hex nut 100/box,2,box,13\n",
        &["2: 213 M8 hex nut"],
    );
    required(
        "Item,Bags,Extra\nM8 hex nut 25/bag,2,3\n",
        &["2: 50 M8 hex nut ? 3 under \"Extra\" beside 50: not counted"],
    );
    required(
        "Item,Boxes,Total\nM8 hex nut 100/box,2,200\nM8 flat washer 100/box,2,250\n",
        &[
            "2: 200 M8 hex nut",
            "3: 200 M8 flat washer ? the row's total is 250, quantity times places is 200",
        ],
    );
    case(
        "bins.csv",
        "Bin,Part,On hand,Pack of\nA1,frame,9,\nA2,M10 lock nut,1 box,100\nA3,M8 hex nut,200,100\n",
        Role::Stock,
        &["2: 9 frame", "3: 100 M10 lock nut", "4: 200 M8 hex nut"],
    );
}

#[test]
fn numbers_in_front_of_rows_without_headings() {
    let rows = [
        "1: 8 M10 x 60 hex bolt",
        "2: 8 M10 hex nut",
        "3: 4 post cap",
    ];
    for (text, all) in [
        ("1,Hex bolt,M10,60,8\n2,Hex nut,M10,,8\n", 2),
        ("1;Hex bolt;M10 x 60;8\n2;Hex nut;M10;8\n", 2),
        ("A,M10 x 60 hex bolt,8\nB,M10 hex nut,8\n", 2),
        (
            "01,M10 x 60 hex bolt,8\n02,M10 hex nut,8\n03,post cap,4\n",
            3,
        ),
        ("10.,8,M10 x 60 hex bolt\n20.,8,M10 hex nut\n", 2),
        ("1,8 x M10 x 60 hex bolt\n2,8 x M10 hex nut\n", 2),
    ] {
        required(text, &rows[..all]);
    }
    let may =
        "taken for how many: the figures count up from row to row, and may only number the rows";
    required(
        "1,post cap\n2,M10 hex nut\n3,M10 x 60 hex bolt\n",
        &[
            &format!("1: 1 post cap ? 1 {may}"),
            &format!("2: 2 M10 hex nut ? 2 {may}"),
            &format!("3: 3 M10 x 60 hex bolt ? 3 {may}"),
        ],
    );
    required(
        "M10 hex nut,1\nM10 x 60 hex bolt,2\n",
        &["1: 1 M10 hex nut", "2: 2 M10 x 60 hex bolt"],
    );
}

#[test]
fn units_of_single_columns() {
    for heading in ["Length '", "Length\u{2032}", "Len. (ft)", "Length in feet"] {
        let text = format!("Item,{heading},Qty\n3/8 threaded rod,6,2\n");
        required(&text, &["2: 2 3/8 x 72 threaded rod"]);
    }
    required(
        "Item,Diameter (cm),Length (cm),Qty\nhex bolt,1,8,4\nhex bolt,1.2,10,4\n",
        &["2: 4 M10 x 80 hex bolt", "3: 4 M12 x 100 hex bolt"],
    );
    required(
        "Item,Dia (mm),Length in metres,Qty\nthreaded rod,10,0.5,2\n",
        &["2: 2 M10 x 500 threaded rod"],
    );
    // Bars of twelve feet are sold, and bolts of two.
    let may = "are made in inches: may be millimetres";
    required(
        "Item,Length,Qty\n3/8 threaded rod,144,2\n3/8 threaded rod,1000,2\n3/8 hex bolt,80,2\n",
        &[
            "2: 2 3/8 x 144 threaded rod",
            &format!("3: 2 3/8 x 1000 threaded rod ? longer than rods {may}"),
            &format!("4: 2 3/8 x 80 hex bolt ? longer than bolts {may}"),
        ],
    );
}

#[test]
fn places_and_remarks_that_deal_out() {
    for place in [
        "each of the 3 rails",
        "every post",
        "five posts",
        "all corners",
    ] {
        let text = format!("Item,Qty,Used at\nM8 flat washer,4,{place}\n");
        let told = format!(
            "2: 4 M8 flat washer [at {place}] ? the remark \"{place}\" may change how many"
        );
        required(&text, &[&told]);
    }
    for remark in ["per bolt", "each hinge", "for every second slat"] {
        let text = format!("Item,Qty,Comment\nM8 flat washer,4,{remark}\n");
        let told = format!("2: 4 M8 flat washer ? the remark \"{remark}\" may change how many");
        required(&text, &[&told]);
    }
    for remark in [
        "per drawing 12",
        "as per spec",
        "each 300 mm",
        "per DIN 125",
        "one per bolt",
    ] {
        let text = format!("Item,Qty,Comment\nM8 flat washer,4,{remark}\n");
        required(&text, &["2: 4 M8 flat washer"]);
    }
}

#[test]
fn a_column_for_each_kit() {
    let text = "Part,Kit 1,Kit 2,Kit 3\nrail,4,4,4\nhinge,6,6,5\n";
    shipped(text, &["2: 12 rail", "3: 17 hinge"]);
    counted(text, &["2: 12 rail", "3: 17 hinge"]);
}

/// `L` beside `R` is no length.
#[test]
fn columns_of_the_left_and_the_right() {
    required(
        "Part,L,R,Total\nbracket,2,2,4\nM8 x 40 hex bolt,4,4,8\n",
        &[
            "2: 2 bracket [L]",
            "2: 2 bracket [R]",
            "3: 4 M8 x 40 hex bolt [L]",
            "3: 4 M8 x 40 hex bolt [R]",
        ],
    );
    required(
        "Item,D,L,Qty\nhex bolt,M8,40,8\n",
        &["2: 8 M8 x 40 hex bolt"],
    );
}

/// What the row's total counts in is a stage, whatever its heading says elsewhere. Common practice, no source.
#[test]
fn stages_told_by_the_total() {
    for stage in ["Shelf", "Drawer", "Box", "Bag"] {
        let text = format!(
            "Part,Frame,Top,{stage},Total\nLong rail,2,,2,4\nBench top,,1,,1\nM8 x 100 hex bolt,8,,8,16\n"
        );
        required(
            &text,
            &[
                "2: 2 long rail [Frame]",
                &format!("2: 2 long rail [{stage}]"),
                "3: 1 bench top [Top]",
                "4: 8 M8 x 100 hex bolt [Frame]",
                &format!("4: 8 M8 x 100 hex bolt [{stage}]"),
            ],
        );
    }
    required(
        "Part,Frame,Top,Shelf,Total\nLong rail,2,,3,2\nBench top,,1,7,1\nM8 nut,8,,9,8\n",
        &[
            "2: 2 long rail [Frame]",
            "3: 1 bench top [Top]",
            "4: 8 M8 hex nut [Frame]",
        ],
    );
}

/// Dots lead to the count; what stands behind it says where the pieces are, or how they look. Common practice, no source.
#[test]
fn dots_that_lead_to_a_count() {
    listed(
        "Rail 2000 ........ 4   bag A\nPost shoe ........ 6   bag 2\nM10 nut .......... 12   bag A\nM10 washer ....... 24\n",
        &[
            "1: 4 rail 2000 [part] [bag A]",
            "2: 6 post shoe [bag 2]",
            "3: 12 M10 hex nut [bag A]",
            "4: 24 M10 flat washer",
        ],
    );
    // Too long for dots.
    listed(
        "Rail 2000 ........ 4   bag A\nRoofing screw 4.8 x 60 with washer 90   bag D\nM10 nut .......... 12   bag A\nM10 washer ....... 24\n",
        &[
            "1: 4 rail 2000 [part] [bag A]",
            "2: 90 M4.8 x 60 roofing screw [bag D]",
            "2: 90 M4.8 flat washer [bag D]",
            "3: 12 M10 hex nut [bag A]",
            "4: 24 M10 flat washer",
        ],
    );
    listed(
        "Rail ........ 4 (left)\nPost shoe ... 6 galv.\nM10 nut ..... 12 A\n",
        &["1: 4 rail", "2: 6 post shoe", "3: 12 M10 hex nut"],
    );
}

/// A torque, a note or a page in front of a list's line is said of that line. Common practice, no source.
#[test]
fn lines_behind_what_is_said_in_front() {
    listed(
        "8 M8 nuts\ntorque to 45 ft-lb, 3/8 lock washers 2 doz\ntighten to 20 N\u{b7}m: 12 M6 nuts\n4 M8 x 40 hex bolts\n",
        &[
            "1: 8 M8 hex nut",
            "2: 24 3/8 split lock washer",
            "3: 12 M6 hex nut",
            "4: 4 M8 x 40 hex bolt",
        ],
    );
    let aside = "aside: no item found: it stands among the lines of the list, and no item with its count is found";
    listed(
        "page 12, 16 3/4 nuts\n8 M8 nuts\n",
        &[&format!("1: - {aside}"), "2: 8 M8 hex nut"],
    );
}

/// A row of a table whose name is a word of the papers, too, and which says how many: it is no heading.
#[test]
fn parts_called_like_the_papers() {
    let aside =
        "aside: no item found: a line of the papers, or a part of that name? Name it in more words";
    for name in ["Weight 10 kg", "Weight", "Packing", "Line 600"] {
        let text = format!("Part,Qty\nTent pole,8\n{name},4\nPeg,8\n");
        listed(
            &text,
            &["2: 8 tent pole", &format!("3: - {aside}"), "4: 8 peg"],
        );
    }
    // Papers: without a count, or by their words.
    for row in [
        "Weight 10 kg,",
        "Gross weight kg,412",
        "Packing and freight,1",
        "Items,3",
    ] {
        let text = format!("Part,Qty\nTent pole,8\nPeg,8\n{row}\n");
        listed(&text, &["2: 8 tent pole", "3: 8 peg"]);
    }
}

/// Nuts and washers beside a count of bolts: of each, or of all. Common practice, no source.
#[test]
fn what_comes_with_so_many() {
    let may = "may be for each bolt, or in all";
    let doubted = "another item of the same row is in doubt";
    required(
        "Qty,Description\n6,M8 x 40 bolt with 2 washers and 1 nut\n6,M8 x 40 bolts with 6 nuts\n4,M8 x 40 bolt with 3 nuts each\n6,M8 x 40 bolts with 4 nuts\n",
        &[
            "2: 6 M8 x 40 bolt",
            "2: 12 M8 flat washer",
            "2: 6 M8 hex nut",
            &format!("3: 6 M8 x 40 bolt ? {doubted}"),
            &format!("3: 6 M8 hex nut ? 6 {may}"),
            "4: 4 M8 x 40 bolt",
            "4: 12 M8 hex nut",
            &format!("5: 6 M8 x 40 bolt ? {doubted}"),
            &format!("5: 24 M8 hex nut ? 4 {may}"),
        ],
    );
}

/// So many sets, whatever the unit beside them says, and figures beside packs. Common practice, no source.
#[test]
fn packs_by_name_and_pieces_beside_them() {
    required(
        "Qty,Unit,Description\n3,ea,set of 4 M6 x 20 screws\n4,ea,set of 4 M5 x 20 screws\n200,ea,\"M6 nut, 100/box\"\n",
        &[
            "2: 12 M6 x 20 screw ? 3 may be pieces or packs of 4: taken as packs",
            "3: 16 M5 x 20 screw ? 4 may be pieces or packs of 4: taken as packs",
            "4: 200 M6 hex nut",
        ],
    );
    required(
        "Item,Packs,Odd\nM6 nut pk 50,2,9\nM8 nut pk 20,3,11\n",
        &[
            "2: 100 M6 hex nut ? 9 under \"Odd\" beside 100: not counted",
            "3: 60 M8 hex nut ? 11 under \"Odd\" beside 60: not counted",
        ],
    );
    required(
        "Item,Qty,Note\nM8 nut,3,250\nM6 nut,4,black\n",
        &[
            "2: 3 M8 hex nut ? the remark \"250\" may change how many",
            "3: 4 M6 hex nut",
        ],
    );
}

/// Words of a fastener that name another thing, too, with a size that no thread has. Common practice, no source.
#[test]
fn caps_and_studs_that_are_no_fasteners() {
    let named = "a fastener's word with a size, and words that are not known: taken as a part";
    listed(
        "4 x Cap 60 mm\n8 x Stud 38 x 89\n8 x Stud M10 x 80\n4 x socket cap M8 x 40\n",
        &[
            "1: 4 cap 60 mm [part]",
            &format!("2: 8 stud 38 x 89 [part] ? {named}"),
            "3: 8 M10 x 80 stud",
            "4: 4 M8 x 40 socket head cap screw",
        ],
    );
}

/// A row whose only words stand under no heading of items, as one types it below a list.
#[test]
fn pieces_outside_the_column_of_items() {
    let aside = |text: &str| {
        format!(
            "4: - aside: no item found: \"{text}\" may name pieces or count them, and stands under no such heading"
        )
    };
    for text in [
        "also 8 M6 hex nuts",
        "+ 8 M6 hex nuts",
        "8 M6 hex nuts",
        "2 seat rails",
        "2 Roof posts",
    ] {
        let first = |first: &str| {
            format!(
                "{first},Description,Qty\n1,M8 hex nut,9\n2,M8 flat washer,24\n{text},,\n3,post cap,2\n"
            )
        };
        let last = format!(
            "Description,Qty,Note\nM8 hex nut,9,\nM8 flat washer,24,\n,,{text}\npost cap,2,\n"
        );
        for list in [first("Pos"), first("Stage"), first("Bag"), last] {
            let list = read_list("list.csv", list, Required);
            let said: Vec<String> = list.lines.iter().map(|line| short(&list, line)).collect();
            assert!(said[2].starts_with(&aside(text)), "{said:?}");
            assert!(!said[3].contains(text), "{said:?}");
        }
    }
    // No pieces: titles, numbers of drawings.
    for text in ["Roof", "1.2", "A3", "drawing 12"] {
        let list = format!("Pos,Description,Qty\n1,M8 hex nut,9\n{text},,\n2,post cap,2\n");
        let list = read_list("list.csv", list, Required);
        assert_eq!(list.lines.len(), 2, "{text}");
    }
}

#[test]
fn figures_behind_the_last_heading() {
    let text = "Item,Qty\nM8 nut,4,7\nM6 nut,5\nM5 nut,6,9\n";
    let list = read_list("list.csv", text, Required);
    let told = "figures behind the last heading are not read: row 2 has \"7\"";
    assert_eq!(list.sheets[0].notes, [told]);
}

// As libraries write a workbook that no spreadsheet program has worked out.
#[test]
fn items_that_are_formulas_without_a_value() {
    let text = |at: &str, text: &str| format!(r#"<c r="{at}" t="str"><v>{text}</v></c>"#);
    let head = text("A1", "Item") + &text("B1", "Qty");
    let row =
        |row: u32, item: &str| format!(r#"<row r="{row}">{item}<c r="B{row}"><v>9</v></c></row>"#);
    let formula = |at: u32| row(at, &format!(r#"<c r="A{at}"><f>C{at}</f></c>"#));
    let nut = row(3, &text("A3", "M8 nut"));
    let data = format!(
        r#"<row r="1">{head}</row>{}{nut}{}"#,
        formula(2),
        formula(4)
    );
    let file = crate::source::tests::xlsx_with("", &data, &[]);
    let list = read_as("list.xlsx", &file, Required, &[]).unwrap();
    let found: Vec<String> = list.lines.iter().map(|line| short(&list, line)).collect();
    let aside = "aside: no item found: a formula without its value names it: save the file in a spreadsheet program";
    let aside = |row: u32| format!("{row}: - {aside}");
    assert_eq!(found, [aside(2), "3: 9 M8 hex nut".to_owned(), aside(4)]);
}

#[test]
fn pairs_and_packs_within_the_name() {
    let may = |figure: u32, each: u32, taken: &str| {
        format!("? {figure} may be pieces or packs of {each}: taken as {taken}")
    };
    required(
        "Qty,Unit,Item\n1,,pair of hinges\n3,,set of 4 feet\n2,,dozen M6 nuts\n2,,pair of hinges\n2,,hinges (pair)\n\
         2,,\"hinges, pair\"\n2,prs,hinges\n4,pcs,\"hinges, pair\"\n2,,pair 6 in. hinges\n",
        &[
            "2: 2 hinges",
            "3: 12 feet",
            "4: 24 M6 hex nut",
            &format!("5: 4 hinges {}", may(2, 2, "packs")),
            &format!("6: 2 hinges {}", may(2, 2, "pieces")),
            &format!("7: 2 hinges {}", may(2, 2, "pieces")),
            "8: 4 hinges",
            "9: 4 hinges",
            "10: 2 pair 6 in. hinges [part] ? \"pair\" may belong to the count",
        ],
    );
    // A number of packs is a multiple of what one holds by chance; pieces are what they are.
    shipped(
        "Item,Qty,UOM\nM6 nut 4/box,8,ea\nM6 nut 50/box,200,ea\nM6 nut box of 50,3,each\nM6 nut 4/box,8,pcs\n",
        &[
            &format!("2: 8 M6 hex nut {}", may(8, 4, "pieces")),
            "3: 200 M6 hex nut",
            &format!("4: 3 M6 hex nut {}", may(3, 50, "pieces")),
            "5: 8 M6 hex nut",
        ],
    );
    required(
        "Qty,Item\n2,box cover\n2,bag of gravel\n2,bag of clips\n2,box M6 nuts\n2,box of 50 M6 nuts\n",
        &[
            "2: 2 box cover",
            "3: 2 bag of gravel",
            "4: 2 bag of clips ? how many are in a bag is not stated",
            "5: 2 M6 hex nut ? how many are in a box is not stated",
            "6: 100 M6 hex nut",
        ],
    );
    // What comes with it is not said.
    required(
        "Qty,Item\n2,M8 x 40 bolt assembly\n2,\"M8 x 40 bolt, complete\"\n2,M8 x 40 bolt complete with nut\n2,gate assembly\n",
        &[
            "2: 2 M8 x 40 bolt ? not understood: \"assembly\"",
            "3: 2 M8 x 40 bolt ? not understood: \"complete\"",
            "4: 2 M8 x 40 bolt",
            "4: 2 M8 hex nut",
            "5: 2 gate assembly",
        ],
    );
}

#[test]
fn items_that_stand_under_no_heading_of_items() {
    let aside = |row: u32, text: &str| {
        format!(
            "{row}: - aside: no item found: \"{text}\" may name pieces or count them, and stands under no such heading"
        )
    };
    let list = |head: &str, row: &str, first: &str, last: &str| {
        format!("{head}\n{first}\n{row}\n{last}\n")
    };
    for (row, text) in [
        ("front plate,,,8", "front plate"),
        ("M6 flat washer,,,8", "M6 flat washer"),
        ("8,,,M6 flat washer", "M6 flat washer"),
        ("plus 8 front plates,,,", "plus 8 front plates"),
        ("also two front plates,,,", "also two front plates"),
        (",,,plus 8 right gusset", "plus 8 right gusset"),
        (",,,outer bracket B (8)", "outer bracket B (8)"),
        (",,,\"gusset right, 8\"", "gusset right, 8"),
        ("front plates: 8,,,", "front plates: 8"),
        ("2,,,front plate", "front plate"),
        ("8,,,front plate", "front plate"),
        (",,,8", "8"),
        (",,,gusset;8", "gusset;8"),
    ] {
        let text_of = list("Pos,Item,Qty,Note", row, "1,M8 nut,9,", "3,M10 nut,12,");
        required(
            &text_of,
            &["2: 9 M8 hex nut", &aside(3, text), "4: 12 M10 hex nut"],
        );
    }
    for row in [
        "Feet,,,",
        "2,,,",
        ",,,",
        ",,,packed by RS",
        "Frame 2,,,",
        ",,,see sheet 4",
    ] {
        let text = list(
            "Stage,Item,Qty,Note",
            row,
            "Base,M8 nut,9,",
            "Roof,M10 nut,12,",
        );
        required(
            &text,
            &["2: 9 M8 hex nut [Base]", "4: 12 M10 hex nut [Roof]"],
        );
    }
}

/// So do rows whose figure or words stand in a column that says something else.
#[test]
fn pieces_under_other_headings() {
    let aside = |list: &str| {
        let list = read_list("list.csv", list, Required);
        let found: Vec<String> = list.lines.iter().map(|line| short(&list, line)).collect();
        assert_eq!(found.len(), 3, "{found:?}");
        assert!(found[1].starts_with("3: - aside: "), "{found:?}");
    };
    for said in [
        "seat slat B x16",
        "16 x seat slat B",
        "16 seat slat B",
        "(16) seat slat B",
        "qty 16 seat slat B",
        "seat slat B 16 pcs",
        "two seat slat Bs",
        "rear handrail - 16",
        "rear handrail: 16",
        "rear handrail;16",
        "rear handrail = 16",
        "\"rear handrail, 16\"",
        "rear handrail +16",
        "16-off rear handrail",
        "16No rear handrail",
        "16) rear handrail",
        "rear handrails two",
    ] {
        for heading in ["Note", "Unit", "Price", "Bag", "Stage"] {
            aside(&format!(
                "Item,{heading},Qty\nM8 nut,,4\n,{said},\nM6 nut,,2\n"
            ));
        }
    }
    // A row that is moved to the side.
    aside("Item,Qty,Bag\nM8 nut,4,A\n,,cross member D,2,B\nM6 nut,2,A\n");
    aside("Item,Qty,Bag\nM8 nut,4,A\n,,2,cross member D\nM6 nut,2,A\n");
    aside("Bag,Item,Unit,Qty\nA,M8 nut,ea,4\nupper kick plate,,6,\nA,M6 nut,ea,2\n");
}

/// What stands beside an item is a note of it, whatever it says; `Piece` beside a quantity is what is counted.
#[test]
fn notes_in_front_of_items() {
    required(
        "Note,Piece,Pos,Required\nsee sheet 3,gutter L,1,10\nsee sheet 3,M8 nut,2,4\nprinted,rail,3,6\n",
        &["2: 10 gutter l", "3: 4 M8 hex nut", "4: 6 rail"],
    );
    let text = "Note,Item,Qty,Bag\nsee sheet 3,,8,B\n,M8 nut,4,A\n";
    let list = read_list("list.csv", text, Required);
    let told = "2: - aside: no item found: a quantity and no item [bag B]";
    assert_eq!(short(&list, &list.lines[0]), told);
}

/// Without headings a row whose count is blank has none in another cell.
#[test]
fn blank_counts_below_no_headings() {
    let rows = "1,rail,8,Roof\n2,M8 nut,4,Roof\n3,M6 nut,6,Roof\n4,gusset B,,Roof\n5,cap,2,Roof\n";
    let list = read_list("list.csv", rows, Required);
    let at = |row: u32| list.lines.iter().find(|line| line.row == row).unwrap();
    let aside = "4: - aside: no item found: nothing stands where the other rows have their count";
    assert_eq!(short(&list, at(4)), aside);
    assert_eq!(list.status_of(at(5)), crate::kit::LineStatus::Read);
}

/// A round figure in brackets is a pack's, and no box's name.
#[test]
fn boxes_of_a_hundred() {
    required(
        "Item,Qty\nM6 nut (box 100),2\nM6 nut (bag 25),3\nM6 nut (box 4),3\nM6 nut (in bag 25),3\n",
        &[
            "2: - M6 hex nut ? two quantities, 2 and 100: not summed",
            "3: - M6 hex nut ? two quantities, 3 and 25: not summed",
            "4: 3 M6 hex nut [box 4]",
            "5: 3 M6 hex nut [bag 25]",
        ],
    );
}

/// Above the headings no line is looked for; a title block has labels.
#[test]
fn parts_above_the_headings() {
    let above = |row: &str| {
        let text = format!("{row}\nItem,Qty\nM8 nut,4\n");
        let list = read_list("list.csv", text, Required);
        list.lines
            .iter()
            .map(|line| short(&list, line))
            .collect::<Vec<_>>()
    };
    let aside = format!("1: - aside: no item found: {}", unheard::ABOVE_HEADINGS);
    for row in [
        "posts,9",
        "post,9",
        "9,roof post",
        "9 posts",
        "posts: 9",
        "A,roof post,9",
        "rails x 4",
    ] {
        assert_eq!(
            above(row),
            [aside.clone(), "3: 4 M8 hex nut".to_owned()],
            "{row}"
        );
    }
    for row in [
        "Order no,4471",
        "Kit,12",
        "Sheet,1",
        "Trail footbridge kit 12",
        "Rev,3",
        "Date,3 May 2026",
        "Roof,",
    ] {
        assert_eq!(above(row), ["3: 4 M8 hex nut"], "{row}");
    }
}

/// A title has no figure, unless it is the next of its name.
#[test]
fn names_with_figures_are_no_titles() {
    let lines = |title: &str| {
        format!("Part,Qty\nM6 washer,6\nROOF,\nM6 nut,4\n{title},\nM6 x 80 wood screw,9\n")
    };
    for title in [
        "H-7",
        "Front plate 8",
        "FRONT PLATE 8",
        "B2",
        "Rail 2",
        "2x4 Post",
    ] {
        let list = read_as("list.csv", lines(title).as_bytes(), Required, &[]).unwrap();
        let last = short(&list, &list.lines[2]);
        assert!(
            last.starts_with("5: - ") && last.contains("? no quantity stated: not summed"),
            "{last}"
        );
    }
    for title in ["Base", "Bay 1", "2 Posts", "2. Posts"] {
        let list = read_as("list.csv", lines(title).as_bytes(), Required, &[]).unwrap();
        assert_eq!(list.lines.len(), 3, "{title}");
    }
}

/// Two columns under one heading, which may differ.
#[test]
fn columns_headed_alike() {
    let told = |a: &str, b: &str, heading: &str| {
        format!("? \"{a}\" and \"{b}\" both under \"{heading}\": the first is taken")
    };
    required(
        "Item,Qty,Total,Total\nM8 nut,4,4,9\nM6 nut,4,4,4\nM5 nut,4,4,\n",
        &[
            &format!("2: 4 M8 hex nut {}", told("4", "9", "Total")),
            "3: 4 M6 hex nut",
            "4: 4 M5 hex nut",
        ],
    );
    required(
        "Item,Size,size,Qty\nnut,M8,M6,9\nnut,M8,M8,9\n",
        &[
            &format!("2: 9 M8 hex nut {}", told("M8", "M6", "size")),
            "3: 9 M8 hex nut",
        ],
    );
    shipped(
        "Item,Bag,Bag,Sent\nM8 nut,A,B,9\n",
        &[&format!(
            "2: 9 M8 hex nut [bag A] {}",
            told("A", "B", "Bag")
        )],
    );
}

/// Markdown's rule below the headings says nothing of a column.
#[test]
fn levels_of_a_markdown_table() {
    let table = |rule: &str| {
        format!(
            "| Level | Item | Qty |\n{rule}| 1 | frame | 2 |\n| 2 | M8 nut | 4 |\n| 2 | M6 nut | 5 |\n"
        )
    };
    let read = |text: String| {
        let list = read_list("list.md", text, Required);
        list.lines
            .iter()
            .map(|line| short(&list, line)[2..].to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(read(table("|---|:---|---:|\n")), read(table("")));
    // Headings that are a guide's verbs, too.
    for verb in ["Finish", "Place", "Check"] {
        let text = format!(
            "| {verb} | Item | Qty |\n|---|---|---|\n| | deck board | 64 |\n| | M6 nut | 4 |\n"
        );
        let list = read_list("list.md", text, Required);
        assert_eq!(list.lines[0].quantity, Some(64), "{verb}");
    }
}

#[test]
fn figures_beside_fasteners_that_are_no_joint() {
    let told = |counts: &str, beside: u32| {
        format!(
            "? {counts} in its text beside {beside}: taken for each of {beside}, and they are no joint"
        )
    };
    required(
        "Item,Qty\n\"M8 nut 24, M6 washer\",9\n\"M8 nut, 9 M6 washer, 24 M5 x 20 bolt\",4\n",
        &[
            &format!("2: 216 M8 hex nut {}", told("24", 9)),
            &format!("2: 9 M6 flat washer {}", told("24", 9)),
            &format!("3: 4 M8 hex nut {}", told("9 and 24", 4)),
            &format!("3: 36 M6 flat washer {}", told("9 and 24", 4)),
            &format!("3: 96 M5 x 20 bolt {}", told("9 and 24", 4)),
        ],
    );
    required(
        "Item,Qty\n\"M8 x 40 bolt, nut and 2 washers\",4\nM8 nut and M8 washer,9\n",
        &[
            "2: 4 M8 x 40 bolt",
            "2: 4 M8 hex nut",
            "2: 8 M8 flat washer",
            "3: 9 M8 hex nut",
            "3: 9 M8 flat washer",
        ],
    );
}

/// Common practice, no source.
#[test]
fn a_name_that_begins_like_a_verb_and_has_no_count() {
    let open = |name: &str| format!("3: - {name}");
    for name in [
        "lower deck board",
        "Lower deck board",
        "post A",
        "upper post A",
        "Support bracket left",
        "Clamp bar upper",
    ] {
        let text = format!("Part,Qty\nM8 nut,9\n{name},\nM6 nut,24\n");
        for role in [Required, Shipped, Counted] {
            let list = read_list("list.csv", &text, role);
            assert_eq!(list.lines.len(), 3, "{name}");
            let line = short(&list, &list.lines[1]);
            let line = line.to_lowercase();
            assert!(line.starts_with(&open(&name.to_lowercase())), "{line}");
        }
    }
    for remark in [
        "Lower the deck on its pins",
        "Tighten by hand",
        "Fit all bolts first.",
    ] {
        let text = format!("Part,Qty\nM8 nut,9\n{remark},\nM6 nut,24\n");
        required(&text, &["2: 9 M8 hex nut", "4: 24 M6 hex nut"]);
    }
}

/// Rows that lost their item and count something, wherever they stand and however they count.
#[test]
fn counts_whose_item_is_gone() {
    let bare = [
        "M8 nut,8",
        "M8 flat washer,16",
        "rafter bracket,6",
        "M6 nut,12",
    ];
    let columns = ["M8 nut,8,A", "M8 washer,16,A", "bracket,6,B", "M6 nut,12,B"];
    let lost = ["7", "7 pcs", "seven", "7 ea", "(7)", "2 x 7", "7?"];
    for (rows, behind) in [(bare, ""), (columns, ",C"), (columns, ",")] {
        for gone in ["", "n/a", "\u{2014}", "#REF!"] {
            for (count, at) in lost.iter().zip([0, 1, 2, 3, 4, 2, 3]) {
                let mut rows = rows.map(str::to_owned).to_vec();
                rows.insert(at, format!("{gone},{count}{behind}"));
                let list = read_as("list.csv", rows.join("\n").as_bytes(), Shipped, &[]).unwrap();
                let told = list.lines.iter().find(|line| line.row == at as u32 + 1);
                let told = told.unwrap_or_else(|| panic!("{rows:?}"));
                let read = list.lines.iter().filter(|line| line.quantity.is_some());
                assert!(read.count() >= rows.len() - 1, "{rows:?}");
                let names = list
                    .reading_of(told)
                    .is_some_and(|of| of.item.part.is_some());
                let asked = list.status_of(told) != crate::kit::LineStatus::Read;
                assert!(asked || (names && gone == "n/a"), "{rows:?}");
            }
        }
    }
    // By a word, and in a column for what is damaged, owed or in all.
    for (text, row) in [
        ("Item   Qty\nM8 nut   8\n\n       seven\nM6 nut   12\n", 4),
        ("Item   Qty\nM8 nut   8\nM6 nut   12\n       seven\n", 4),
    ] {
        let list = read_list("list.txt", text, Shipped);
        assert!(list.lines.iter().any(|line| line.row == row), "{text}");
    }
    let aside = "3: - aside: no item found: a quantity and no item";
    for (role, text) in [
        (Counted, "Item,Good,Damaged\nM8 nut,8,\n,,2\nM6 nut,8,\n"),
        (
            Shipped,
            "Item,Ordered,Shipped,Back ordered\nM8 nut,8,8,\n,6,,6\nM6 nut,8,8,\n",
        ),
        (
            Counted,
            "Item,Qty,Places,Total\nM8 nut,4,2,8\n,,,6\nM6 nut,4,2,8\n",
        ),
    ] {
        let list = read_list("list.csv", text, role);
        assert_eq!(short(&list, &list.lines[1]), aside, "{text}");
    }
    counted(
        "Bag,Item,Qty,Received\nA,M8 nut,8,yes\nB,,6,yes\nC,,,yes\n",
        &[
            "2: 8 M8 hex nut [bag A]",
            "3: - bag Some(true) [bag B] ? a figure and no item: pieces of one that is not named, or so many bags?",
            "4: - bag Some(true) [bag C]",
        ],
    );
    // What stands beside the item is said of one.
    let rows = "8,M8 x 40 bolt,Base\n6,,Base\n8,M8 nut,Base\n4,bracket,Roof\n";
    let list = read_list("list.csv", rows, Required);
    assert_eq!(
        short(&list, &list.lines[1]),
        "2: 6 base ? nothing stands where the other rows name their hardware: what is it of?"
    );
}
