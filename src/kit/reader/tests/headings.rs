//! Headings that begin with a figure, and columns that stand beside the count. Common practice, no source.

use super::*;

#[test]
fn headings_that_begin_with_a_figure() {
    required(
        "2nd floor,Description,Qty\nStair A,M8 x 40 hex bolt,12\nStair B,post cap,2\n",
        &["2: 12 M8 x 40 hex bolt", "3: 2 post cap"],
    );
    required(
        "Description,10 mm bolts,1/2 in kits,Qty\njoist hanger,x,y,12\nM8 nut,,,24\n",
        &["2: 12 joist hanger", "3: 24 M8 hex nut"],
    );
    required(
        "1. Description,2) Qty,(3) Bag\nM8 nut,4,A\npost cap,2,B\n",
        &["2: 4 M8 hex nut [bag A]", "3: 2 post cap [bag B]"],
    );
    required(
        "Item,1st floor,2nd floor,Total\nM8 nut,4,8,12\npost cap,2,,2\n",
        &[
            "2: 4 M8 hex nut [1st floor]",
            "2: 8 M8 hex nut [2nd floor]",
            "3: 2 post cap [1st floor]",
        ],
    );
    // Of two years nobody says which holds.
    required(
        "Part,2024 qty,2025 qty\nM8 nut,48,52\n",
        &["2: - M8 hex nut ? two quantities, 48 and 52: not summed"],
    );
    // A line is no heading, whatever it begins with.
    required(
        "12 pcs,M8 nut\n4 pcs,post cap\n",
        &["1: 12 M8 hex nut", "2: 4 post cap"],
    );
}

#[test]
fn columns_for_so_many_kits() {
    let one = ["2: 4 M8 hex nut", "3: 2 post cap"];
    required("Item,1 kit,3 kits\nM8 nut,4,12\npost cap,2,6\n", &one);
    required("Item,3 kits,Qty per kit\nM8 nut,12,4\npost cap,6,2\n", &one);
    required("Item,Qty,4 kits total\nM8 nut,4,16\npost cap,2,8\n", &one);
    let text = "Item,4 kits total\nM8 nut,16\npost cap,8\n";
    required(text, &["2: 16 M8 hex nut", "3: 8 post cap"]);
    let list = read_list("list.csv", text, Required);
    assert_eq!(
        list.sheets[0].question.as_deref(),
        Some(
            "the column \"4 kits total\" is for several kits: its figures are taken as they stand, so leave out --kits"
        )
    );
}

#[test]
fn figures_beside_a_count() {
    let list = |heading: &str, cells: [&str; 3]| {
        format!(
            "Part,Qty,{heading}\npane,2,{}\nhinge,4,{}\nM8 nut,24,{}\n",
            cells[0], cells[1], cells[2]
        )
    };
    let told = |said: &str| {
        [
            "2: 2 pane".to_owned(),
            "3: 4 hinge".to_owned(),
            format!("4: 24 M8 hex nut ? {said}"),
        ]
    };
    for (heading, cells, said) in [
        (
            "Short",
            ["", "", "2"],
            "2 under \"Short\" beside 24: not counted",
        ),
        (
            "Not found",
            ["0", "0", "2"],
            "2 under \"Not found\" beside 24: not counted",
        ),
        (
            "Diff.",
            ["0", "0", "-2"],
            "-2 under \"Diff.\" beside 24: not counted",
        ),
        (
            "Recount",
            ["2", "4", "22"],
            "22 under \"Recount\" beside 24: not counted",
        ),
        (
            "",
            ["", "", "20"],
            "20 under \"no. 3, without a heading\" beside 24: not counted",
        ),
        (
            "Used",
            ["", "", "2"],
            "2 under \"Used\" beside 24: not counted",
        ),
        (
            "Order",
            ["", "", "2"],
            "2 under \"Order\" beside 24: not counted",
        ),
        (
            "+/-",
            ["", "", "-2"],
            "-2 under \"+/-\" beside 24: not counted",
        ),
        (
            "OK?",
            ["\u{2713}", "\u{2713}", "x"],
            "\"x\" under \"OK?\", where other rows have \"\u{2713}\": taken as 24",
        ),
        (
            "Checked",
            ["x", "x", ""],
            "nothing under \"Checked\", where other rows have \"x\": taken as 24",
        ),
        (
            "Tick",
            ["x", "x", ""],
            "nothing under \"Tick\", where other rows have \"x\": taken as 24",
        ),
        (
            "Complete?",
            ["Y", "yes", "N"],
            "\"N\" under \"Complete?\", where other rows have \"yes\": taken as 24",
        ),
    ] {
        let told = told(said);
        let told: Vec<&str> = told.iter().map(String::as_str).collect();
        counted(&list(heading, cells), &told);
    }
    // Whatever the other rows have.
    let none = |pieces: u32| {
        format!("? \"no\" says that it is not there, beside {pieces}: taken for none")
    };
    counted(
        &list("Received", ["no", "yes", "no"]),
        &[
            &format!("2: 0 pane {}", none(2)),
            "3: 4 hinge",
            &format!("4: 0 M8 hex nut {}", none(24)),
        ],
    );
    shipped(
        &list("Packed", ["yes", "yes", "no"]),
        &[
            "2: 2 pane",
            "3: 4 hinge",
            &format!("4: 0 M8 hex nut {}", none(24)),
        ],
    );
    let plain = ["2: 2 pane", "3: 4 hinge", "4: 24 M8 hex nut"];
    for (heading, cells) in [
        ("Short", ["", "0", ""]),
        ("Recount", ["2", "4", "24"]),
        ("Tick", ["x", "x", "x"]),
        ("Tray", ["1", "1", "2"]),
        ("Order", ["7", "7", "8"]),
    ] {
        counted(&list(heading, cells), &plain);
    }
}

#[test]
fn several_counts_of_the_same_pieces() {
    counted(
        "Item,Count 1,Count 2\nrail,4,4\nhinge,6,5\n",
        &[
            "2: 4 rail",
            "3: - hinge ? two quantities, 6 and 5: not summed",
        ],
    );
    counted(
        "Item,Counted,Found\nrail,4,4\nhinge,6,5\n",
        &[
            "2: 4 rail",
            "3: 6 hinge ? 5 under \"Found\" beside 6: not counted",
        ],
    );
    counted(
        "Item,Counted,Good,Damaged\nrail,4,4,0\nhinge,6,5,1\n",
        &["2: 4 rail", "3: 5+1 damaged hinge"],
    );
}

#[test]
fn a_stage_in_a_heading_that_is_an_option() {
    required(
        "Part,Rails,Snow kit (option),Total\nrail,4,,4\npurlin,,2,2\nM12 nut,8,4,12\n",
        &[
            "2: 4 rail [Rails]",
            "3: 2 purlin [Snow kit (option)] [with snow kit]",
            "4: 8 M12 hex nut [Rails]",
            "4: 4 M12 hex nut [Snow kit (option)] [with snow kit]",
        ],
    );
    required(
        "Item,Qty\nrail,4\nHandrail mesh (optional),\npanel,2\n",
        &[
            "2: 4 rail",
            "4: 2 panel [Handrail mesh (optional)] [with handrail mesh]",
        ],
    );
}

#[test]
fn figures_in_front_of_a_name() {
    required(
        "Description,Qty\n4 pane window,1\n6 panel door,2\n2 part hinge,4\n4 hole plate,6\n2 hinge,6\n4 pane windows,2\n",
        &[
            "2: 1 4 pane window [part]",
            "3: 2 6 panel door [part]",
            "4: 4 2 part hinge [part]",
            "5: 6 4 hole plate [part]",
            "6: - hinge ? two quantities, 6 and 2: not summed",
            "7: - pane windows ? two quantities, 2 and 4: not summed",
        ],
    );
}

#[test]
fn lengths_behind_a_section() {
    required(
        "Item,Qty\n\"Tube 40 x 40, 1200\",8\nBeam 60 x 120 - 3000,2\n\"Rail, 1500\",2\n\"Beam IPE 140, 3000\",1\n\"Channel 100, 2500\",4\n",
        &[
            "2: 8 tube 40 x 40, 1200 [part]",
            "3: 2 beam 60 x 120, 3000 [part]",
            "4: 2 rail, 1500 [part]",
            "5: 1 beam ipe 140, 3000 [part]",
            "6: 4 channel 100, 2500 [part]",
        ],
    );
}

#[test]
fn titles_above_the_headings() {
    required(
        "Stage 1 - Base,\nItem,Qty\nM8 nut,4\nStage 2 - Top,\nM8 nut,2\n",
        &[
            "3: 4 M8 hex nut [Stage 1 - Base]",
            "5: 2 M8 hex nut [Stage 2 - Top]",
        ],
    );
    required(
        "Kit list,\n,\nA. Base frame,\nItem,Qty\nrail,4\nB. Tower,\npost,2\n",
        &["5: 4 rail [A. Base frame]", "7: 2 post [B. Tower]"],
    );
    required(
        "Bag A (roof),\nItem,Qty\nM8 nut,4\nLoose,\nrail,2\n",
        &["3: 4 M8 hex nut [bag A]", "5: 2 rail"],
    );
}

#[test]
fn a_table_above_that_is_headed_in_other_words() {
    required(
        "Timber,,,\nRef,Piece,Section,No.\nT1,joist,2 x 6 x 10 ft,7\nT2,rim joist,2 x 6 x 12 ft,2\nT3,deck board,5/4 x 6 x 12 ft,22\n,,,\n\
         Code,Fastener,Qty,Box\nH1,1/2 hex nut,12,1\n",
        &[
            "3: 7 joist, 2 x 6 x 10 ft [part]",
            "4: 2 rim joist, 2 x 6 x 12 ft [part]",
            "5: 22 deck board, 5/4 x 6 x 12 ft [part]",
            "8: 12 1/2 hex nut [box 1]",
        ],
    );
    let text = "Kit,Panels,Weight\nCR,12,40\nItem,Qty\nM8 nut,4\n";
    let list = read_list("list.csv", text, Required);
    let found: Vec<String> = list.lines.iter().map(|line| short(&list, line)).collect();
    let aside = format!("2: - aside: no item found: {}", unheard::ABOVE_HEADINGS);
    assert_eq!(found, [aside, "4: 4 M8 hex nut".to_owned()]);
}

#[test]
fn what_a_goods_received_note_says() {
    let text = "Line,Item no.,Description,Ordered,Received,Outstanding,Accepted,Rejected\n\
                1,HB-12,M12 x 100 bolt,8,8,0,8,0\n2,HN-12,M12 nut,8,6,2,5,1\n3,BR-8,rail,4,0,4,0,\n";
    case(
        "slip.csv",
        text,
        Shipped,
        &[
            "2: 8 M12 x 100 bolt",
            "3: 6+2 owed M12 hex nut",
            "4: 0+4 owed rail [part BR-8]",
        ],
    );
    counted(
        text,
        &[
            "2: 8 M12 x 100 bolt",
            "3: 5+1 damaged M12 hex nut",
            "4: 0 rail [part BR-8]",
        ],
    );
    // What was shipped is said beside what was not.
    case(
        "slip.csv",
        "Item,To pick,Picked,Short\nM12 nut,16,12,4\n",
        Shipped,
        &["2: 12 M12 hex nut"],
    );
    counted(
        "Item,Expected,Counted,Missing\nM12 nut,16,12,4\n",
        &["2: 12 M12 hex nut"],
    );
}

#[test]
fn lengths_in_the_unit_of_their_heading() {
    required(
        "Description,Diameter,Length (ft),Qty\nthreaded rod,3/8,6,4\n",
        &["2: 4 3/8 x 72 threaded rod"],
    );
    required(
        "Description,Diameter,Length cm,Qty\nhex bolt,M10,8,4\n",
        &["2: 4 M10 x 80 hex bolt"],
    );
}

#[test]
fn columns_of_operations_are_no_figures() {
    required(
        "Op,Seq,Work centre,Find no.,Component,Description,Rev,UOM,Qty per,Ext qty\n10,1,ASM1,1,BR-100,Base rail,B,EA,2,4\n20,2,ASM2,2,HN-08,M8 nut,A,EA,8,16\n",
        &[
            "2: 2 x 2 base rail [part BR-100] [10]",
            "3: 8 x 2 M8 hex nut [20]",
        ],
    );
}

#[test]
fn places_written_once_a_stage() {
    let told =
        |all: u32| format!("? at 2 places, as the first row of its stage: taken for {all} in all");
    for stage in ["End frame", ""] {
        required(
            &format!(
                "Assembly,Item,Qty per assembly,No. of assemblies\nEnd frame,leg,2,2\n{stage},rung,1,\n{stage},M8 nut,4,\nTop,board,4,1\n,M6 nut,16,\n"
            ),
            &[
                "2: 2 x 2 leg [End frame]",
                &format!("3: 1 x 2 rung [End frame] {}", told(2)),
                &format!("4: 4 x 2 M8 hex nut [End frame] {}", told(8)),
                "5: 4 board [Top]",
                "6: 16 M6 hex nut [Top]",
            ],
        );
    }
    // Where a line's places are its own, a blank is one.
    required(
        "Stage,Item,Each,Places\nFrame,leg,2,2\nFrame,rung,1,\nFrame,M8 nut,4,3\n",
        &[
            "2: 2 x 2 leg [Frame]",
            "3: 1 rung [Frame]",
            "4: 4 x 3 M8 hex nut [Frame]",
        ],
    );
}

#[test]
fn columns_whose_cells_name_bags_and_boxes() {
    required(
        "Part name,Qty,Packed in\ncorner,4,Bag A\nwheel,2,Bag B\n",
        &["2: 4 corner [bag A]", "3: 2 wheel [bag B]"],
    );
    case(
        "slip.csv",
        "Package,Contents,Qty\nCarton 1,corner,4\nCarton 2,wheel,2\n",
        Shipped,
        &["2: 4 corner [box 1]", "3: 2 wheel [box 2]"],
    );
    // What lies in no bag is in that of no other row.
    required(
        "Item,Qty,Bag\nM8 nut,8,A\nleg,4,\nM6 nut,6,B\nboard,3,\n",
        &[
            "2: 8 M8 hex nut [bag A]",
            "3: 4 leg",
            "4: 6 M6 hex nut [bag B]",
            "5: 3 board",
        ],
    );
    required(
        "Bag,Item,Qty\nA,M8 nut,8\nB,M6 nut,6\n,leg,4\n,board,3\n",
        &[
            "2: 8 M8 hex nut [bag A]",
            "3: 6 M6 hex nut [bag B]",
            "4: 4 leg",
            "5: 3 board",
        ],
    );
}

#[test]
fn stages_in_the_second_row_of_headings() {
    required(
        "Part,Qty,,\n,Base,Walls,Roof\nrail,4,,\nM8 nut,4,6,2\n",
        &[
            "3: 4 rail [Base] ? \"Base\" taken for a stage: no total confirms it",
            "4: 4 M8 hex nut [Base] ? \"Base\" taken for a stage: no total confirms it",
            "4: 6 M8 hex nut [Walls] ? \"Walls\" taken for a stage: no total confirms it",
            "4: 2 M8 hex nut [Roof] ? \"Roof\" taken for a stage: no total confirms it",
        ],
    );
    required(
        "Part,Quantity,,,Total\n,Bag A,Bag B,Bag C,\nrail,4,,,4\nM8 nut,4,6,2,12\n",
        &[
            "3: 4 rail [bag A]",
            "4: 4 M8 hex nut [bag A]",
            "4: 6 M8 hex nut [bag B]",
            "4: 2 M8 hex nut [bag C]",
        ],
    );
}

#[test]
fn places_that_may_be_several() {
    let told = |text: &str| format!("? the remark \"{text}\" may change how many");
    let rows = |places: &str, told: [String; 3]| {
        let text = format!(
            "Item,Qty,Where{places}\nM8 nut,2,4 corners\nM6 nut,1,each end\nM5 nut,3,per board\nrail,2,north post\n"
        );
        let list = read_list("list.csv", text, Required);
        let doubts: Vec<String> = (list.lines.iter())
            .map(|line| short(&list, line))
            .filter_map(|text| Some(text[text.find('?')?..].to_owned()))
            .collect();
        assert_eq!(
            doubts,
            told.into_iter()
                .filter(|told| !told.is_empty())
                .collect::<Vec<_>>()
        );
    };
    rows("", [told("4 corners"), told("each end"), told("per board")]);
    rows(",Places", std::array::from_fn(|_| String::new()));
}

#[test]
fn so_many_kits_each_in_a_table() {
    let told = "? taken 2 times, for \"2 x raised bed kit, each:\", row 2: is it each or in all?";
    case(
        "slip.csv",
        "Description,Qty\n\"2 x raised bed kit, each:\",\nboard,4\nM8 nut,30\n",
        Shipped,
        &[
            &format!("3: 4 x 2 board {told}"),
            &format!("4: 30 x 2 M8 hex nut {told}"),
        ],
    );
}

#[test]
fn rows_parted_by_another_mark() {
    required(
        "Stage;Description;Qty\nA;M8 x 40 bolt;4\nA,M8 nut,5\nB;M8 nut;2\n",
        &[
            "2: 4 M8 x 40 bolt [A]",
            "3: - aside: no item found: its cells are parted by \",\", and those of the headings are not [A]",
            "4: 2 M8 hex nut [B]",
        ],
    );
}

#[test]
fn as_many_places_as_kits() {
    let text = "Part,Each,Total\nrail,4,12\nM8 nut,24,72\n";
    let mut list = read_list("list.csv", text, Required);
    list.ask_about_kits(2);
    assert_eq!(list.sheets[0].question, None);
    list.ask_about_kits(3);
    assert_eq!(
        list.sheets[0].question.as_deref(),
        Some(
            "every line is needed at 3 places, and the kits are 3: if these are the places, leave out --kits"
        )
    );
}

#[test]
fn sheets_of_what_came_beside_the_list() {
    let mut book = Workbook::new();
    for (name, heading) in [
        ("Parts list", "Qty"),
        ("Count", "Counted"),
        ("Slip", "Shipped"),
    ] {
        let sheet = book.add_worksheet();
        sheet.set_name(name).unwrap();
        for (row, (item, count)) in [("Part", heading), ("rail", "4"), ("hinge", "6")]
            .iter()
            .enumerate()
        {
            sheet.write(row as u32, 0, *item).unwrap();
            sheet.write(row as u32, 1, *count).unwrap();
        }
    }
    let list = read_as("all.xlsx", &book.save_to_buffer().unwrap(), Required, &[]).unwrap();
    assert_eq!(list.lines.len(), 2);
    let told = list.sheets.iter().map(|sheet| sheet.passed_over.as_deref());
    let passed = Some("says what came, not what is required");
    assert_eq!(told.collect::<Vec<_>>(), [None, passed, passed]);
}

#[test]
fn headings_of_hands_and_of_two_languages() {
    required(
        "Mark,Item,Length,Qty,Mass\n,,mm,pcs,kg\nG1,girder,3600,2,41\n",
        &["3: 2 girder, 3600 [part G1]"],
    );
    required(
        "Menge / Qty,Bezeichnung / Description\n24,M8 nut\n",
        &["2: 24 M8 hex nut"],
    );
    required(
        "Qty Description,Bag\n24 x M8 nuts,A\n",
        &["2: 24 M8 hex nut [bag A]"],
    );
    counted(
        ",there,need\nM8 nuts,14,16\nridge caps,1,1\n",
        &["2: 14 M8 hex nut", "3: 1 ridge caps"],
    );
}

#[test]
fn packs_of_so_many() {
    let sum = ["2: 109 M6 hex nut", "3: 53 M8 hex nut"];
    for (packs, loose) in [
        ("Packs of 50", "Singles"),
        ("Bags of 50", "Loose"),
        ("Full boxes (50)", "Loose"),
        ("Packs (of 50)", "Odd pcs"),
    ] {
        let text = format!("Item,{packs},{loose}\nM6 nut,2,9\nM8 nut,1,3\n");
        required(&text, &sum);
        counted(&text, &sum);
    }
    required(
        "Item,Packs of 50\nM6 nut,2\nM8 nut,1\n",
        &["2: 100 M6 hex nut", "3: 50 M8 hex nut"],
    );
}

#[test]
fn units_in_which_every_row_is_a_pack() {
    for heading in ["U/M", "Unit", "UOM"] {
        required(
            &format!("Description,Qty,{heading}\nM8 nut,2,bag of 25\nM6 nut,1,box of 100\n"),
            &["2: 50 M8 hex nut", "3: 100 M6 hex nut"],
        );
    }
}

/// The hundred beside a price is the price's, on either side of it.
#[test]
fn units_of_a_price() {
    let told = "2: 200 M8 hex nut ? \"C\" stands beside a price: taken for 100 in the price, not in the count";
    for text in [
        "Description,Qty,U/M,Price\nM8 nut,200,C,4.10\n",
        "Description,Qty,Unit,Unit price,Ext\nM8 nut,200,C,4.10,8.20\n",
        "Description,Qty,Price,U/M\nM8 nut,200,4.10,C\n",
    ] {
        required(text, &[told]);
    }
    required("Description,Qty,U/M\nM8 nut,2,C\n", &["2: 200 M8 hex nut"]);
}

#[test]
fn what_a_row_costs_is_no_total_of_pieces() {
    required(
        "Description,Qty,U/M,Price,Ext\nM8 nut,150,EA,0.10,15.00\n",
        &["2: 150 M8 hex nut"],
    );
    required(
        "Description,Qty,Places,Ext\nM8 nut,4,2,8\n",
        &["2: 4 x 2 M8 hex nut"],
    );
    for text in [
        "Item,Qty,Unit price,Total\nM8 nut,24,0.50,12.00\n",
        "Item,Qty,Unit price,Total\nM8 nut,24,0.5,12\n",
        "Item,Qty,Price,Total\nM8 nut,24,$0.50,$12.00\n",
    ] {
        required(text, &["2: 24 M8 hex nut"]);
    }
    required(
        "Item,Qty,Unit price,Total\nM8 nut,,0.50,12\n",
        &["2: - M8 hex nut ? no quantity stated: not summed"],
    );
    // Pieces, which the price does not come to.
    required(
        "Item,Qty,Unit price,Total\nM8 nut,24,0.50,48\n",
        &["2: 24 M8 hex nut ? the row's total is 48, quantity times places is 24"],
    );
}
