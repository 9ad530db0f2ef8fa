//! Lists as people write them, and what each of their lines reads as.

mod counting;
mod footnotes;
mod forms;
mod guides;
mod headings;
mod products;
mod quoted;
mod tables;

use std::{fs, path::PathBuf};

use proptest::prelude::*;
use rust_xlsxwriter::{Format as CellFormat, Formula, Workbook};

use super::*;
use crate::{
    Error,
    kit::{
        Line, MassOf,
        Role::{Counted, Required, Shipped},
        What,
    },
};

fn read_as(name: &str, bytes: &[u8], role: Role, columns: &[(Meaning, &str)]) -> Result<List> {
    let directory = tempfile::tempdir().unwrap();
    let path = directory.path().join(name);
    fs::write(&path, bytes).unwrap();
    let input = Input {
        path,
        columns: columns.iter().map(|(m, h)| (*m, (*h).to_owned())).collect(),
        ..Input::default()
    };
    let list = read(&input, name.to_owned(), role, &[], &|_| {}).map_err(|error| match error {
        Error::Input {
            mut at,
            found,
            todo,
        } => {
            at.file = PathBuf::from(name);
            Error::Input { at, found, todo }
        }
        error => error,
    })?;
    let tally = list.tally;
    assert_eq!(
        tally.rows,
        tally.read + tally.check + tally.aside + tally.other
    );
    Ok(list)
}

/// A line in short: row, quantity, places, item, where it belongs, and its doubts.
fn short(list: &List, line: &Line) -> String {
    let mut text = format!("{}:", line.row);
    match line.quantity {
        Some(quantity) => text.push_str(&format!(" {quantity}")),
        None => text.push_str(" -"),
    }
    if line.damaged() > 0 {
        text.push_str(&format!("+{} damaged", line.damaged()));
    }
    if line.back_ordered() > 0 {
        text.push_str(&format!("+{} owed", line.back_ordered()));
    }
    if line.places != 1 {
        text.push_str(&format!(" x {}", line.places));
    }
    match &line.what {
        What::Item(_) => {
            let reading = list.reading_of(line).unwrap();
            text.push_str(&format!(" {}", reading.item.text()));
        }
        What::Bag { received } => text.push_str(&format!(" bag {received:?}")),
        What::Aside(_) => text.push_str(&format!(" aside: {}", list.aside_of(line).unwrap())),
    }
    let place = list.placement_of(line);
    let mut tell = |label: &str, value: &Option<Box<str>>| {
        if let Some(value) = value {
            text.push_str(&format!(" [{label}{value}]"));
        }
    };
    tell("", &place.stage);
    tell("at ", &place.place);
    tell("bag ", &place.bag);
    tell("box ", &place.carton);
    tell("torque ", &place.torque);
    if let Some(option) = &place.option {
        text.push_str(&format!(
            " [{} {}]",
            if option.with { "with" } else { "without" },
            option.name
        ));
    }
    if let Some(usage) = place.usage {
        text.push_str(&format!(" [{usage}]"));
    }
    for doubt in list.doubts_of(line) {
        text.push_str(&format!(" ? {doubt}"));
    }
    text
}

/// A text without a job, read.
#[track_caller]
fn read_list(name: &str, text: impl AsRef<str>, role: Role) -> List {
    read_as(name, text.as_ref().as_bytes(), role, &[]).expect("a list")
}

#[track_caller]
fn case(name: &str, text: &str, role: Role, expected: &[&str]) {
    let list = read_list(name, text, role);
    let found: Vec<String> = list.lines.iter().map(|line| short(&list, line)).collect();
    assert_eq!(found, expected);
}

#[track_caller]
fn required(text: &str, expected: &[&str]) {
    case("list.csv", text, Required, expected);
}

#[track_caller]
fn listed(text: &str, expected: &[&str]) {
    case("list.txt", text, Required, expected);
}

#[track_caller]
fn shipped(text: &str, expected: &[&str]) {
    case("slip.csv", text, Shipped, expected);
}

#[track_caller]
fn counted(text: &str, expected: &[&str]) {
    case("count.csv", text, Counted, expected);
}

/// Common practice, no source: a column headed as what the quantity is for multiplies it.
#[test]
fn quantities_per_what_another_column_counts() {
    required(
        "Qty per bay,Bays,Description,Shade\n4,3,M10 x 90 carriage bolt,red\n",
        &["2: 4 x 3 M10 x 90 carriage bolt"],
    );
    required(
        "Qty per bay,Description\n4,M10 x 90 carriage bolt\n",
        &[
            "2: 4 M10 x 90 carriage bolt ? 4 per bay, and how many there are of it is not stated: taken once",
        ],
    );
    required(
        "Qty,Spares,Description\n16,2,M8 x 40 hex bolt\n4,0,M8 hex nut\n",
        &[
            "2: 16 M8 x 40 hex bolt ? 2 under \"Spares\" beside 16: not counted",
            "3: 4 M8 hex nut",
        ],
    );
}

#[test]
fn figures_beside_the_count() {
    counted("Item,Need,Have\nM8 hex nut,6,5\n", &["2: 5 M8 hex nut"]);
    counted(
        "Item,Need\nM8 hex nut,6\n",
        &["2: - M8 hex nut ? the heading says what is needed, not what is there: not counted"],
    );
    counted(
        "Item,Count,Bent,Stripped\nM8 hex nut,6,2,1\n",
        &[
            "2: 6+2 damaged M8 hex nut ? the 2 damaged may be among the 6: taken as 6 good ? 1 under \"Stripped\" beside 6: not counted",
        ],
    );
    // What is headed as good goes before what was merely counted, and holds no damaged piece.
    counted(
        "Item,Counted,Counted good,Damaged\nM8 hex nut,8,6,2\n",
        &["2: 6+2 damaged M8 hex nut"],
    );
    counted(
        "item,there,bad,who\nM8 hex nut,8,,TR\n",
        &["2: 8 M8 hex nut"],
    );
    // Back-ordered below zero: more was sent than was ordered.
    shipped(
        "Item,Qty ordered,Qty shipped,Back-ordered\nM8 hex nut,48,50,-2\nM6 hex nut,8,8,-2\n",
        &[
            "2: 50 M8 hex nut",
            "3: 8 M6 hex nut ? \"-2\" back-ordered is no count of pieces: taken for none",
        ],
    );
    counted(
        "Item,Bags,Per bag,Loose\nM8 hex nut,3,25,4\n",
        &["2: 79 M8 hex nut"],
    );
    counted(
        "Item,Qty,Full bags,Per bag\nM8 hex nut,,3,25\n",
        &["2: 75 M8 hex nut"],
    );
    counted("Item,Good\nM8 hex nut,none\n", &["2: 0 M8 hex nut"]);
    shipped(
        "Item,Qty,Returned\nM8 hex nut,8,2\n",
        &["2: 8 M8 hex nut ? 2 under \"Returned\" beside 8: not counted"],
    );
    counted("Item,Good\nM8 hex nut,||||\n", &["2: 4 M8 hex nut"]);
    for figure in ["<8", "~8", "8+", "8?", "8%", "8/", "\u{2713}"] {
        let aside = format!("2: - aside: \"{figure}\" is no count of pieces");
        counted(&format!("Item,Good\nM8 hex nut,{figure}\n"), &[&aside]);
    }
    shipped(
        "Item;Qty;Price\nM6 washer;1.000;0,5\n",
        &["2: 1000 M6 flat washer"],
    );
}

#[test]
fn words_that_change_a_count() {
    required(
        "Qty,Item,Remarks\n4,M8 hex nut,per side\n4,M10 hex nut,torque again after a week\n4,M12 hex nut,not supplied\n",
        &[
            "2: 4 M8 hex nut ? the remark \"per side\" may change how many",
            "3: 4 M10 hex nut",
            "4: 4 M12 hex nut [not in this kit]",
        ],
    );
    case(
        "slip.txt",
        "8 M8 hex nuts\n6 M12 hex nuts out of stock\n",
        Shipped,
        &[
            "1: 8 M8 hex nut",
            "2: - aside: by its words it was not sent (\"out of stock\")",
        ],
    );
    case(
        "count.txt",
        "8 M8 hex nuts\n1/2 hex nuts - 7, one missing\nbox 3 not here\n",
        Counted,
        &[
            "1: 8 M8 hex nut",
            "2: - aside: by its words it is no plain count: write good and damaged pieces apart (\"missing\")",
            "3: - bag Some(false) [box 3]",
        ],
    );
}

#[test]
fn a_title_that_calls_for_hardware() {
    case(
        "list.txt",
        "4 M8 x 40 hex bolts\nStep 2: 2 M8 x 80 hex bolts, 4 M8 flat washers\n3 M8 hex nuts\n",
        Required,
        &[
            "1: 4 M8 x 40 hex bolt",
            "2: 2 M8 x 80 hex bolt [Step 2]",
            "2: 4 M8 flat washer [Step 2]",
            "3: 3 M8 hex nut [Step 2]",
        ],
    );
}

#[test]
fn a_number_behind_plain_words() {
    case(
        "list.txt",
        "4 M8 x 40 hex bolts\nPieces in bag: 46\nend caps: 46\nFB-2 girder shoe 4\nrail bracket, qty 4\n",
        Required,
        &[
            "1: 4 M8 x 40 hex bolt",
            "2: - aside: the list's own total is 46, its lines come to 4: one may be missing or misread",
            "3: 46 end caps",
            "4: 4 girder shoe [part FB-2] ? a number behind plain words: it may be no count",
            "5: 4 rail bracket",
        ],
    );
}

/// No line of a list is lost for a word in it.
#[test]
fn lines_that_look_like_furniture() {
    case(
        "list.txt",
        "8 M8 nuts\ntotal 8 M8 nuts\ntotal 9 M8 nuts\nold 1/2-13 x 3 rod\nhose 12 clamp @ 0.45\nnot 4 post caps\n",
        Required,
        &[
            "1: 8 M8 hex nut",
            "3: - aside: no item found: a total of one item, of which the lines above come to 8: it may be a line of its own",
            "4: - 1/2-13 x 3 rod ? not understood: \"old\" ? no quantity stated: not summed",
            "5: - hose 12 clamp [part] ? no quantity stated: not summed",
            "6: - not 4 post caps [part] ? \"not\": may take pieces away, or mean others ? no quantity stated: not summed",
        ],
    );
    case(
        "list.txt",
        "Step 5 (canopy): M8 x 100 hex bolts, zinc,\n4 M8 nuts\n",
        Required,
        &[
            "1: - M8 x 100 hex bolt, zinc plated [Step 5 (canopy)] ? no quantity stated: not summed",
            "2: 4 M8 hex nut [Step 5 (canopy)]",
        ],
    );
}

/// Common practice, no source: a short line of words over the lines of a part of the build.
#[test]
fn titles_without_a_number() {
    case(
        "list.txt",
        "From: Ros\n\nFrame\n4 M8 x 40 hex bolts\n\nSeat rail\n- 6 M6 x 20 hex bolts\nDrip line:\n2 M6 hex nuts\n\nThanks\n",
        Required,
        &[
            "4: 4 M8 x 40 hex bolt [Frame]",
            "7: 6 M6 x 20 hex bolt [Seat rail]",
            "9: 2 M6 hex nut [Drip line]",
        ],
    );
    case(
        "list.txt",
        "Bicycle shelter\n4 M8 x 40 hex bolts\n\nHardware:\n6 M6 x 20 hex bolts\n",
        Required,
        &["2: 4 M8 x 40 hex bolt", "5: 6 M6 x 20 hex bolt"],
    );
}

#[test]
fn titles_that_are_not_taken_are_named() {
    told(
        "list.txt",
        "Garden gate\n4 M8 x 40 hex bolts\nHinges and latch\n6 M6 x 20 hex bolts\n1) Upper frame\n\n3 M8 hex nuts\nThanks\n",
        Required,
        None,
        &[
            "headings passed over: line 3 \"Hinges and latch\", line 5 \"1) Upper frame\"; what stands below is of the stage above: write one that is a stage as \"Stage 2: Frame\"",
        ],
    );
    told(
        "list.txt",
        "4 M8 x 40 hex bolts\nSee page 2.\n\nSeat rail\n6 M6 hex nuts\nThanks\nRos\n",
        Required,
        None,
        &[],
    );
}

/// Common practice, no source: a long list is set in two columns to save paper.
#[test]
fn tables_side_by_side() {
    required(
        "Qty,Item,,Qty,Item\n4,M8 hex nut,,6,M10 hex nut\n8,M8 flat washer,,,\n,,,2,M8 x 40 hex bolt\n",
        &[
            "2: 4 M8 hex nut",
            "2: 6 M10 hex nut",
            "3: 8 M8 flat washer",
            "4: 2 M8 x 40 hex bolt",
        ],
    );
}

/// Common practice, no source: a total is of its stage, of what stands since the last, or of all.
#[test]
fn totals_that_lines_do_not_come_to() {
    required(
        "Stage,Qty,Description\nBase,4,M8 hex nut\nBase,8,M8 flat washer\n,12,Subtotal\nRoof,6,M6 hex nut\n,5,Subtotal\n,18,Grand total\n",
        &[
            "2: 4 M8 hex nut [Base]",
            "3: 8 M8 flat washer [Base]",
            "5: 6 M6 hex nut [Roof]",
            "6: - aside: the list's own total is 5, its lines come to 6: one may be missing or misread [Roof]",
        ],
    );
    case(
        "list.txt",
        "Bag 1\n4 M8 hex nuts\n8 M8 flat washers\nBag total: 12 pcs\nBag 2\n6 M6 hex nuts\nBag total: 7 pcs\n",
        Required,
        &[
            "2: 4 M8 hex nut [bag 1]",
            "3: 8 M8 flat washer [bag 1]",
            "6: 6 M6 hex nut [bag 2]",
            "7: - aside: the list's own total is 7, its lines come to 6: one may be missing or misread [bag 2]",
        ],
    );
}

/// Common practice, no source: a count typed in a spreadsheet heads the maker's numbers `Nr.`, and a list
/// its own lines.
#[test]
fn a_column_headed_number() {
    required(
        "No.,Item,Qty\n1,Rail post,8\nA1,Sill beam,2\n1.2,M8 hex nut,6\nBL-141,Top rail,4\n",
        &[
            "2: 8 rail post",
            "3: 2 sill beam",
            "4: 6 M8 hex nut",
            "5: 4 top rail [part BL-141]",
        ],
    );
}

/// A till counts a pack as one piece sold.
#[test]
fn a_total_of_packs() {
    case(
        "receipt.txt",
        "8 M8 x 40 hex bolts\n2 bags of 25 M8 hex nuts\nITEMS SOLD 10\n",
        Shipped,
        &["1: 8 M8 x 40 hex bolt", "2: 50 M8 hex nut"],
    );
}

/// The usual shape of a maker's list (common practice, no source): a column a stage.
#[test]
fn a_column_a_stage() {
    let expected = [
        "2: 4 M8 hex nut [Base]",
        "2: 8 M8 hex nut [Roof]",
        "3: 6 M8 flat washer [Posts]",
    ];
    required(
        "Item,Base,Posts,Roof,Total\nM8 hex nut,4,,8,12\nM8 washer,,6,,6\nTotal,4,6,8,18\n",
        &expected,
    );
    required(
        "Item,Qty Base,Qty Posts,Qty Roof\nM8 hex nut,4,0,8\nM8 washer,,6,\n",
        &expected,
    );
    // A title of a few rows hides no columns.
    required(
        "Item,Base,Posts,Roof,Total\nFasteners,,,,\nM8 hex nut,4,,8,12\nM8 washer,,6,,6\n",
        &[
            "3: 4 M8 hex nut [Base]",
            "3: 8 M8 hex nut [Roof]",
            "4: 6 M8 flat washer [Posts]",
        ],
    );
    required(
        "Item,Base,Posts,Roof\nM8 washer,,6,\n",
        &["2: 6 M8 flat washer [Posts] ? \"Posts\" taken for a stage: no total confirms it"],
    );
    required(
        "Item,Base,Posts,Total\nM8 hex nut,4,3,12\n",
        &[
            "2: 4 M8 hex nut [Base] ? the row's total is 12, the sum of its columns is 7",
            "2: 3 M8 hex nut [Posts] ? the row's total is 12, the sum of its columns is 7",
        ],
    );
    shipped(
        "Item,Box 1,Box 2\nM8 hex nut,4,8\n",
        &["2: 4 M8 hex nut [box 1]", "2: 8 M8 hex nut [box 2]"],
    );
}

#[test]
fn what_was_ordered_beside_what_came() {
    required(
        "Description,Expected,Scanned\nM8 hex nut,40,40\nM10 hex nut,40,38\n",
        &[
            "2: 40 M8 hex nut",
            "3: 40 M10 hex nut ? 40 ordered, and 38 counted: taken as 40",
        ],
    );
}

#[test]
fn a_total_beside_what_each_assembly_takes() {
    required(
        "Description,Qty/assy,Qty total\nM8 hex nut,2,8\nM10 hex nut,3,8\n",
        &[
            "2: 2 x 4 M8 hex nut",
            "3: 3 M10 hex nut ? the row's total is 8, quantity times places is 3",
        ],
    );
}

/// Common practice, no source: hire slips and order books set two counts of the same pieces side by side.
#[test]
fn two_counts_of_the_same_pieces() {
    let open = |rows: &str, two: &str| {
        required(
            rows,
            &[&format!(
                "2: - 5/8-11 x 7 hex bolt ? two quantities, {two}: not summed"
            )],
        );
    };
    open(
        "Description,Out,Back\n5/8-11 x 7 hex bolt,24,22\n",
        "24 and 22",
    );
    open(
        "Description,Qty rev A,Qty alt.\n5/8-11 x 7 hex bolt,20,24\n",
        "20 and 24",
    );
    // Stages and bags are told by their names, and a stage that needs none of it by its blank.
    required(
        "Description,Step 1,Step 2\n5/8-11 x 7 hex bolt,24,22\n",
        &[
            "2: 24 5/8-11 x 7 hex bolt [Step 1]",
            "2: 22 5/8-11 x 7 hex bolt [Step 2]",
        ],
    );
    required(
        "Description,Posts,Roof\n5/8-11 x 7 hex bolt,24,\n",
        &["2: 24 5/8-11 x 7 hex bolt [Posts] ? \"Posts\" taken for a stage: no total confirms it"],
    );
}

/// Common practice, no source: exports of parts data cut a description into two cells.
#[test]
fn hardware_in_columns_that_are_not_read() {
    required(
        "SKU,DESC1,Description 2,QTY\nHB-7,HEX BOLT,5/8-11 X 7,24\n",
        &["2: 24 5/8-11 x 7 hex bolt"],
    );
    required(
        "SKU,Wording,QTY\nHB-7,5/8-11 X 7 HEX BOLT,24\n",
        &[
            "2: 24 [part HB-7] ? the column \"Wording\" is not read, and says \"5/8-11 X 7 HEX BOLT\"",
        ],
    );
}

#[test]
fn columns_that_are_not_read_are_named() {
    let text = "Qty,Description,Shade,Shelf life\n4,M8 hex nut,red,9\n";
    let list = read_list("list.csv", text, Required);
    assert_eq!(list.sheets[0].unread_columns, ["Shade".into()]);
    // One of figures is told at its rows.
    assert_eq!(
        short(&list, &list.lines[0]),
        "2: 4 M8 hex nut ? 9 under \"Shelf life\" beside 4: not counted"
    );
}

/// Ledgers write the sign of a credit behind it (common practice, no source).
#[test]
fn a_sign_behind_the_figure() {
    required(
        "Qty,Description\n4-,M10 nut\n",
        &["2: - aside: \"4-\" is no count of pieces"],
    );
}

/// Words behind the figure that say that all is well (common practice, no source).
#[test]
fn a_figure_with_all_well_behind_it() {
    counted(
        "Item,Good\nM10 nut,8 ok\nM8 nut,8 (all there)\nM6 nut,8 bent\n",
        &[
            "2: 8 M10 hex nut",
            "3: 8 M8 hex nut",
            "4: - aside: \"8 bent\" is no count of pieces",
        ],
    );
}

#[test]
fn a_row_of_a_count_that_is_left_open() {
    counted(
        "Item,Counted\nRail?,8\nHinge,4\n",
        &[
            "2: 8 rail? [part] ? the remark \"Rail?\" may change how many",
            "3: 4 hinge",
        ],
    );
}

#[test]
fn a_table_without_a_count_asks_for_its_heading() {
    let list = read_as(
        "list.csv",
        b"Part,Colour\nRail,red\nM8 nut,blue\n",
        Role::Required,
        &[],
    );
    let question = list.expect("reads").sheets[0].question.clone();
    assert_eq!(
        question.as_deref(),
        Some(
            "no column says how many: head the one that does \"Qty\", or name it in the job file beside the file: columns = { quantity = \"...\" }"
        )
    );
}

#[test]
fn heads_and_feet_of_pages_count_nothing() {
    case(
        "list.txt",
        "4 M8 x 40 hex bolts\nBoat rack BR-4   Sheet 2   11/14/2026\n8 M8 hex nuts\n\
         Grand total ........... 12 pieces\n12 total\n(1) Galvanized per ASTM A153.\n\
         \u{2020} 4 used in step 7, 4 in step 9\n2 signs dated 11/14/2026\n",
        Required,
        &[
            "1: 4 M8 x 40 hex bolt",
            "3: 8 M8 hex nut",
            "8: 2 signs dated 11/14/2026 [part]",
        ],
    );
}

#[test]
fn headings_of_other_languages() {
    required(
        "Pos.;Menge;Bezeichnung;Abmessung\n1;16;DIN 933;M8x40\n",
        &["2: 16 M8 x 40 hex bolt, full thread"],
    );
    required(
        "Qté;Désignation\n8;M8 x 40 hex bolt\n",
        &["2: 8 M8 x 40 hex bolt"],
    );
}

#[test]
fn a_plain_list() {
    required(
        "Qty,Description\n4,hex bolt 1/2-13 x 2\n8,flat washer 1/2\n",
        &["2: 4 1/2-13 x 2 hex bolt", "3: 8 1/2 flat washer"],
    );
}

#[test]
fn a_title_block_stages_totals_and_a_repeated_heading() {
    let text = concat!(
        "Trail footbridge,,,\n",
        "Revision,C,,\n",
        "Date,14 March 2026,,\n",
        ",,,\n",
        "Stage,Qty,Description,Bag\n",
        "1 Shoes,4,hex bolt 1/2-13 x 2,A\n",
        ",8,flat washer 1/2,Bag A\n",
        ",12,Subtotal,\n",
        "2 Girders,16,hex nut 5/8-11,B\n",
        "Page 1 of 2,,,\n",
        "Stage,Qty,Description,Bag\n",
        ",2,splice plate,\n",
        ",30,Total,\n",
    );
    required(
        text,
        &[
            "6: 4 1/2-13 x 2 hex bolt [1 Shoes] [bag A]",
            "7: 8 1/2 flat washer [1 Shoes] [bag A]",
            "9: 16 5/8-11 hex nut [2 Girders] [bag B]",
            "12: 2 splice plate [2 Girders]",
        ],
    );
    let list = read_list("list.csv", text, Required);
    assert_eq!(list.revision.as_deref(), Some("C"));
    let tally = list.tally;
    assert_eq!((tally.rows, tally.read, tally.other), (13, 4, 9));
}

#[test]
fn stage_titles_within_a_table() {
    required(
        "Qty,Item\nStage 1 - Shoes,\n4,hex bolt 1/2-13 x 2\n,STEP 4B:\n2,splice plate\n",
        &[
            "3: 4 1/2-13 x 2 hex bolt [Stage 1 - Shoes]",
            "5: 2 splice plate [STEP 4B]",
        ],
    );
}

/// Numbers that come up in turn are those of packages, not how many lie in one (common practice, no
/// source).
#[test]
fn packages_are_numbered() {
    let rows = |packs: [u32; 4]| {
        let [a, b, c, d] = packs;
        format!(
            "Item,Qty,Package\nHex bolt M6x12,72,{a}\nHex bolt M6x16,12,{b}\nNut M6,92,{c}\nNut M5,12,{d}\n"
        )
    };
    let pieces = |text: &str| {
        let list = read_list("slip.csv", text, Role::Shipped);
        let pieces = list.lines.iter().map(|line| line.quantity);
        pieces.collect::<Vec<_>>()
    };
    let once = [Some(72), Some(12), Some(92), Some(12)];
    assert_eq!(pieces(&rows([1, 2, 3, 2])), once);
    assert_ne!(pieces(&rows([10, 2, 50, 2])), once);
}

/// What only says that hardware follows is no stage (common practice, no source).
#[test]
fn words_over_a_list_are_no_stage() {
    case(
        "guide.md",
        "# Market stall\n\n## Step 1: Frame\n\nYou need:\n\n- 4 M8 wing nuts\n\n## Step 2: Roof\n\nYou will need:\n\n- 8 M6 nuts\n",
        Role::Required,
        &[
            "7: 4 M8 wing nut [Step 1: Frame]",
            "13: 8 M6 hex nut [Step 2: Roof]",
        ],
    );
}

#[test]
fn headings_over_two_rows() {
    required(
        "Part,,Qty per,No. of\nno.,Description,place,places\nTB-1,splice plate,2,4\n",
        &["3: 2 x 4 splice plate [part TB-1]"],
    );
}

#[test]
fn item_cells_make_one_item() {
    required(
        "Type,Dia. (mm),Length (mm),Grade,Finish,No. off\nHex bolt,12,40,8.8,HDG,16\n",
        &["2: 16 M12 x 40 hex bolt, 8.8, hot-dip galvanised"],
    );
}

#[test]
fn an_item_column_beside_a_description() {
    required(
        "Item,Description,Qty\n1,splice plate,2\n2,hex nut 1/2,4\n",
        &["2: 2 splice plate", "3: 4 1/2 hex nut"],
    );
    let list = read_as(
        "a.csv",
        b"Item,Description,Qty\nTB-104,splice plate,2\n",
        Required,
        &[],
    )
    .unwrap();
    let part = list.readings[0].item.part.as_ref().unwrap();
    assert_eq!(part.number.as_deref(), Some("TB-104"));
}

#[test]
fn ditto_marks_repeat_the_cell_above() {
    required(
        "Qty;Description;Bag\n4;hex nut 1/2;A\n6;\";do.\n2;flat washer 1/2;\"\n",
        &[
            "2: 4 1/2 hex nut [bag A]",
            "3: 6 1/2 hex nut [bag A]",
            "4: 2 1/2 flat washer [bag A]",
        ],
    );
}

#[test]
fn each_and_in_all() {
    required(
        "Qty each,Places,Item\n4,4,hex nut 1/2\n",
        &["2: 4 x 4 1/2 hex nut"],
    );
    required(
        "Qty,Places,Item\n4,4,hex nut 1/2\n4,1,hex nut 5/8\n",
        &[
            "2: 4 x 4 1/2 hex nut ? 4 may be per place or in all (16 or 4)",
            "3: 4 5/8 hex nut",
        ],
    );
    required(
        "Qty,Places,Total,Item\n4,4,16,hex nut 1/2\n4,4,4,hex nut 5/8\n4,4,12,hex nut 3/4\n",
        &[
            "2: 4 x 4 1/2 hex nut",
            "3: 4 5/8 hex nut",
            "4: 4 x 4 3/4 hex nut ? the row's total is 12, quantity times places is 16",
        ],
    );
    required(
        "Total,Places,Item\n16,4,hex nut 1/2\n",
        &["2: 16 1/2 hex nut"],
    );
    required(
        "Qty,Item,Qty\n4,hex nut 1/2,6\n4,hex nut 5/8,4\n",
        &[
            "2: - 1/2 hex nut ? two quantities, 4 and 6: not summed",
            "3: 4 5/8 hex nut",
        ],
    );
}

#[test]
fn packs_and_units() {
    shipped(
        "Qty,U/M,Pack of,Item\n2,PK,25,hex nut 1/2\n50,EA,25,hex nut 5/8\n3,doz,,hex nut 3/4\n2,C,,flat washer 1/2\n1.5,C,,flat washer 5/8\n",
        &[
            "2: 50 1/2 hex nut",
            "3: 50 5/8 hex nut",
            "4: 36 3/4 hex nut",
            "5: 200 1/2 flat washer",
            "6: 150 5/8 flat washer",
        ],
    );
    shipped(
        "Packs,Pack size,Item\n2,25,hex nut 1/2\n",
        &["2: 50 1/2 hex nut"],
    );
    shipped(
        "Qty,Pack size,Item\n2,25,hex nut 1/2\n50,25,hex nut 5/8\n",
        &[
            "2: 50 1/2 hex nut",
            "3: 1250 5/8 hex nut ? 50 may be packs of 25 or pieces: 1250 or 50",
        ],
    );
    shipped(
        "Qty,Unit,Item\n2,box,hex nut 1/2\n3,ft,steel cable\n",
        &[
            "2: - 1/2 hex nut ? packs of a size that is not stated: not summed",
            "3: 3 steel cable ? the unit of measure \"ft\" is no count of pieces",
        ],
    );
}

#[test]
fn slips() {
    shipped(
        "Part no.,Description,Ordered,Shipped,B/O\nH-1,hex nut 1/2,40,28,12\nH-2,hex nut 5/8,4,-2,0\n",
        &[
            "2: 28+12 owed 1/2 hex nut",
            "3: - 5/8 hex nut ? -2 is a credit: not summed",
        ],
    );
    shipped(
        "Qty,Description\n1,Hardware bag 3\n4,hex nut 1/2\n",
        &["2: 1 bag None [bag 3]", "3: 4 1/2 hex nut"],
    );
}

#[test]
fn words_in_the_place_of_a_quantity() {
    required(
        "Qty,Item\nAR,hex nut 1/2\nREF,hex nut 5/8\n,hex nut 3/4\n-3,hex nut 1\n2.5,hex nut 7/8\n9999999999,hex nut 3/8\n",
        &[
            "2: - 1/2 hex nut ? as required: look for it, no count is due",
            "3: - 5/8 hex nut [for reference]",
            "4: - 3/4 hex nut ? no quantity stated: not summed",
            "5: - aside: \"-3\" is no count of pieces",
            "6: - aside: \"2.5\" is no count of pieces",
            "7: - aside: \"9999999999\" is no count of pieces",
        ],
    );
}

#[test]
fn options_uses_and_torques() {
    required(
        "Qty,Item,Option,Use,Torque (ft-lb),Place\n4,hex nut 1/2,with: handrail,,55,north post\n4,hex nut 5/8,without: ramp,carried over,,\n4,hex nut 3/4,,gold plated,,\n",
        &[
            "2: 4 1/2 hex nut [at north post] [torque 55 ft-lb] [with handrail]",
            "3: 4 5/8 hex nut [without ramp] [carried over]",
            "4: 4 3/4 hex nut ? the use \"gold plated\" is not known: taken as new",
        ],
    );
}

#[test]
fn a_row_of_several_items() {
    let text = "Qty,Item\n12,5/8-11 x 6 hex bolt c/w nut and 2 washers\n";
    let list = read_list("list.csv", text, Required);
    let quantities: Vec<_> = list.lines.iter().map(|l| (l.row, l.quantity)).collect();
    assert_eq!(quantities, [(2, Some(12)), (2, Some(12)), (2, Some(24))]);
    assert_eq!(list.tally.rows, 2);
}

#[test]
fn a_count() {
    counted(
        "Id,Item,Bag,Good,Damaged,Counted by\n,hex nut 1/2,A,0,,R. Osk\n,hex nut 5/8,A,,,\n,hex nut 3/4,B,10,2,R. Osk\n",
        &[
            "2: 0 1/2 hex nut [bag A]",
            "3: - 5/8 hex nut [bag A]",
            "4: 10+2 damaged 3/4 hex nut [bag B]",
        ],
    );
    counted(
        "Bag,Received\nA,yes\nB,no\nC,\n",
        &[
            "2: - bag Some(true) [bag A]",
            "3: - bag Some(false) [bag B]",
            "4: - bag None [bag C]",
        ],
    );
}

#[test]
fn text_lists() {
    case(
        "slip.txt",
        "Packing note 5512\nTwo shelters for the school\n\nLoose\n8 x base post BW-11\n\nCrate 1\n- 64 hex nuts M16\n3. 2 boxes of 100 flat washers M8\n\nThank you for your order.\n",
        Shipped,
        &[
            "5: 8 base post [part BW-11]",
            "8: 64 M16 hex nut [box 1]",
            "9: 200 M8 flat washer [box 1]",
        ],
    );
}

#[test]
fn titles_of_options() {
    case(
        "list.txt",
        "Frame\n4 posts 80x80\n8 M8 nuts\n\nOPTION: SIDE SCREEN\n2 side screens\n2 M8 nuts\n\nOptional\n1 gutter\n",
        Required,
        &[
            "2: 4 posts 80x80 [part]",
            "3: 8 M8 hex nut",
            "6: 2 side screens [OPTION: SIDE SCREEN] [with side screen]",
            "7: 2 M8 hex nut [OPTION: SIDE SCREEN] [with side screen]",
            "10: 1 gutter [Optional] ? \"Optional\" may say which of its lines are needed, or how often: taken as new, and once",
        ],
    );
}

#[test]
fn markdown_lists() {
    case(
        "guide.md",
        "# Footbridge\n\n## Step 1: Shoes\n\n- 8 hex bolts 1/2-13 x 1-3/4\n\n## Step 2: Girders\n\n| Qty | Item |\n|----:|------|\n| 16 | hex nut 5/8 |\n| **4** | splice plate |\n",
        Required,
        &[
            "5: 8 1/2-13 x 1-3/4 hex bolt [Step 1: Shoes]",
            "11: 16 5/8 hex nut [Step 2: Girders]",
            "12: 4 splice plate [Step 2: Girders]",
        ],
    );
}

#[test]
fn aligned_tables() {
    case(
        "list.txt",
        "Stage      Qty  Item\n1 Shoes     12  hex bolt 1/2-13 x 3\n             8  hex nut 1/2\n",
        Required,
        &[
            "2: 12 1/2-13 x 3 hex bolt [1 Shoes]",
            "3: 8 1/2 hex nut [1 Shoes]",
        ],
    );
}

#[test]
fn decimal_commas() {
    required(
        "Qty;Item;Mass, kg\n4;hex bolt M12x1,75 x 40;0,25\n",
        &["2: 4 M12x1.75 x 40 hex bolt"],
    );
}

#[test]
fn delimited_lists_without_headings() {
    required(
        "24,hex bolt,1/2-13 x 3\n12,hex nut,1/2\n",
        &["1: 24 1/2-13 x 3 hex bolt", "2: 12 1/2 hex nut"],
    );
}

#[test]
fn the_job_file_names_the_columns() {
    let text = "Stk.;Teil;Bemerkung\n4;hex nut M12;x\n";
    let named = [(Meaning::Quantity, "stk."), (Meaning::Description, "Teil")];
    let list = read_as("list.csv", text.as_bytes(), Required, &named).unwrap();
    assert_eq!(short(&list, &list.lines[0]), "2: 4 M12 hex nut");
    let error = read_as("list.csv", b"Qty;Item\n4;hex nut M12\n", Required, &named).unwrap_err();
    assert_eq!(
        error.to_string(),
        "list.csv: no row holds the headings that the job file names: \"stk.\" (quantity), \"Teil\" (description); the first rows as read:\n    1: Qty | Item\n    2: 4 | hex nut M12\n  what to do: write the headings in the job file as they stand above the rows of this file"
    );
}

#[test]
fn columns_that_cannot_be_told_apart() {
    let error = read_as("list.csv", b"Alpha,Beta\nfoo,bar\nbaz,qux\n", Required, &[]).unwrap_err();
    assert_eq!(
        error.to_string(),
        "list.csv: no heading row is understood, and the lines do not read as items; the first rows as read:\n    \
         1: Alpha | Beta\n    2: foo | bar\n    3: baz | qux\n  \
         what to do: write a heading row above the rows, such as Item | Qty (or Part no. | Qty); or, where there is one, \
         name its columns in a job file, beside this file: columns = { quantity = \"...\", description = \"...\" }; README.md \
         lists the other keys, such as part_number, size and stage"
    );
}

#[test]
fn a_workbook_of_several_sheets() {
    let mut book = Workbook::new();
    for name in ["1 Shoes", "2 Girders"] {
        let sheet = book.add_worksheet().set_name(name).unwrap();
        sheet.write_row(0, 0, ["Qty", "Item"]).unwrap();
        sheet.write(1, 0, 4).unwrap();
        sheet.write(1, 1, "hex nut 1/2").unwrap();
    }
    let cover = book.add_worksheet().set_name("Cover").unwrap();
    cover.write(0, 0, "Trail footbridge").unwrap();
    let old = book.add_worksheet().set_name("Old").unwrap();
    old.set_hidden(true);
    old.write_row(0, 0, ["Qty", "Item"]).unwrap();
    let bytes = book.save_to_buffer().unwrap();
    let list = read_as("list.xlsx", &bytes, Required, &[]).unwrap();
    let found: Vec<String> = list.lines.iter().map(|line| short(&list, line)).collect();
    assert_eq!(
        found,
        ["2: 4 1/2 hex nut [1 Shoes]", "2: 4 1/2 hex nut [2 Girders]"]
    );
    let passed: Vec<_> = list
        .sheets
        .iter()
        .map(|s| s.passed_over.as_deref())
        .collect();
    assert_eq!(
        passed,
        [
            None,
            None,
            Some("no list found on it"),
            Some("hidden sheet")
        ]
    );
}

#[test]
fn a_count_workbook_is_its_count_sheets() {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet().set_name("Shortages").unwrap();
    sheet.write_row(0, 0, ["Item", "Qty"]).unwrap();
    sheet.write_row(1, 0, ["hex nut 1/2", "4"]).unwrap();
    let sheet = book.add_worksheet().set_name("Count sheet").unwrap();
    sheet.write_row(0, 0, ["Item", "Good"]).unwrap();
    sheet.write_row(1, 0, ["hex nut 1/2", "3"]).unwrap();
    let list = read_as("count.xlsx", &book.save_to_buffer().unwrap(), Counted, &[]).unwrap();
    let found: Vec<String> = list.lines.iter().map(|line| short(&list, line)).collect();
    assert_eq!(found, ["2: 3 1/2 hex nut"]);
    assert_eq!(list.sheets[0].passed_over.as_deref(), Some("not a count"));
}

#[test]
fn cells_of_a_workbook() {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write_row(0, 0, ["Qty", "Item"]).unwrap();
    sheet
        .write(1, 0, Formula::new("2*2").set_result("4"))
        .unwrap();
    sheet.write(1, 1, "hex nut 1/2").unwrap();
    sheet
        .write(2, 0, Formula::new("1/0").set_result("#DIV/0!"))
        .unwrap();
    sheet.write(2, 1, "hex nut 5/8").unwrap();
    let date = CellFormat::new().set_num_format("d-mmm");
    sheet.write_number_with_format(3, 0, 37323, &date).unwrap();
    sheet.write(3, 1, "hex nut 3/4").unwrap();
    sheet.write(4, 0, 4).unwrap();
    sheet.write(4, 1, "hex nut 7/8").unwrap();
    sheet.set_row_hidden(4).unwrap();
    let list = read_as("list.xlsx", &book.save_to_buffer().unwrap(), Required, &[]).unwrap();
    let found: Vec<String> = list.lines.iter().map(|line| short(&list, line)).collect();
    assert_eq!(
        found,
        [
            "2: 4 1/2 hex nut",
            "3: - aside: a cell holds the error #DIV/0!",
            "4: - aside: \"2002-03-08\" is no count of pieces",
            "5: 4 7/8 hex nut ? the row is hidden in the sheet",
        ]
    );
}

#[test]
fn the_row_as_written_is_kept() {
    let list = read_as(
        "list.csv",
        b"Qty,Item,Note\n4,\"hex nut, 1/2\",  left  \n",
        Required,
        &[],
    )
    .unwrap();
    assert_eq!(list.text_of(&list.lines[0]), "4 | hex nut, 1/2 | left");
}

#[test]
fn what_is_struck_out_and_comments() {
    let struck = CellFormat::new().set_font_strikethrough();
    let plain = CellFormat::new();
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write_row(0, 0, ["Qty", "Item"]).unwrap();
    let items = ["1/2 hex nut", "5/8 hex nut", "3/4 hex nut", "7/8 hex nut"];
    for (row, item) in (1..).zip(items) {
        sheet.write(row, 0, 4).unwrap();
        sheet.write(row, 1, item).unwrap();
    }
    sheet.write_with_format(2, 0, 4, &struck).unwrap();
    let runs = [(&plain, "3/4 "), (&struck, "lock"), (&plain, " hex nut")];
    sheet.write_rich_string(3, 1, &runs).unwrap();
    for (row, said) in [(1, "see drawing 4"), (4, "only 2, the rest follows")] {
        let note = rust_xlsxwriter::Note::new(said).set_author("Ann");
        sheet.insert_note(row, 0, &note).unwrap();
    }
    let list = read_as("list.xlsx", &book.save_to_buffer().unwrap(), Required, &[]).unwrap();
    let found: Vec<String> = list.lines.iter().map(|line| short(&list, line)).collect();
    assert_eq!(
        found,
        [
            "2: 4 1/2 hex nut",
            "3: 4 5/8 hex nut ? \"4\" is struck out in the sheet: taken all the same",
            "4: 4 3/4 lock nut ? \"3/4 lock hex nut\" is struck out in the sheet: taken all the same",
            "5: 4 7/8 hex nut ? the remark \"only 2, the rest follows\" may change how many",
        ]
    );
}

#[test]
fn a_reading_is_shared_by_all_lines_of_its_wording() {
    let mut text = String::from("Qty,Item,Bag\n");
    for row in 0..100 {
        text.push_str(&format!(
            "{row},hex nut {}/16,{}\n",
            row % 4 * 2 + 1,
            row % 2
        ));
    }
    let list = read_list("list.csv", text, Required);
    assert_eq!(
        (list.lines.len(), list.readings.len(), list.placements.len()),
        (100, 4, 2)
    );
}

/// Lines of guides and of lists, of which some wait for the next: what begins a sentence, a heading, a record.
#[rustfmt::skip]
const MIXED: &[&str] = &[
    "tighten to 45 ft-lb", "torque to 45 ft-lb, 6 M8 nuts", "12 M8 nuts", "2 1/4 nuts", "Fit with care", "Fit two",
    "insert nuts", "Part: post", "Bracket: 4", "M10 nut;4", "1. Lift the frame", "You need:", "Item | Qty", "- 4 rails",
    "Torque the M10 bolts to 40 N\u{b7}m", "", "Stage 2: Roof", "ROOF", "Qty 4", "Repeat on the other side.", "Total 12",
];

proptest! {
    /// Every row ends in one state, whatever waits for the next one at the end.
    #[test]
    fn no_row_of_a_mixture_is_lost(
        lines in prop::collection::vec(prop::sample::select(MIXED), 1..9),
        csv in any::<bool>(),
    ) {
        let text = lines.join("\n");
        let name = if csv { "list.csv" } else { "list.txt" };
        // A list of no item is refused.
        if let Ok(list) = read_as(name, text.as_bytes(), Required, &[]) {
            let tally = &list.tally;
            prop_assert_eq!(tally.rows, tally.read + tally.check + tally.aside + tally.other);
            let asked = list.sheets.iter().filter_map(|sheet| sheet.question.as_deref());
            let lost = asked.filter(|asked| asked.contains("fault of this program")).count();
            prop_assert_eq!(lost, 0);
        }
    }
}

/// Cells that a list may hold, sound and unsound.
fn cell() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("Qty".to_owned()),
        Just("Item".to_owned()),
        Just("Places".to_owned()),
        Just("hex nut 1/2".to_owned()),
        Just("Stage 2".to_owned()),
        Just("Total".to_owned()),
        Just("\"".to_owned()),
        Just("bag 3".to_owned()),
        Just(String::new()),
        "[0-9]{1,3}",
        "[ -~]{0,12}",
    ]
}

proptest! {
    /// Rows in = read + check + aside + other, whatever the list holds (asserted in `read_as`), and
    /// every line's row is one of the file's.
    #[test]
    fn every_row_is_accounted_for(rows in prop::collection::vec(prop::collection::vec(cell(), 2..5), 1..12), role in 0usize..3) {
        let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
        writer.write_record(["Qty", "Item", "Bag"]).unwrap();
        for row in &rows {
            writer.write_record(row).unwrap();
        }
        let bytes = writer.into_inner().unwrap();
        let lines = bytes.iter().filter(|&&b| b == b'\n').count() as u32;
        let list = read_as("list.csv", &bytes, Role::ALL[role], &[]).unwrap();
        prop_assert!(list.lines.iter().all(|line| (2..=lines).contains(&line.row)));
        prop_assert!(list.lines.is_sorted_by_key(|line| line.row));
        let mut states = [0; 3];
        let by_row = list.lines.chunk_by(|a, b| a.row == b.row);
        for lines in by_row {
            let worst = lines.iter().map(|line| list.status_of(line)).max().unwrap();
            states[worst as usize] += 1;
        }
        prop_assert_eq!(states, [list.tally.read, list.tally.check, list.tally.aside]);
    }

    #[test]
    fn no_text_makes_it_panic(bytes: Vec<u8>, text in "[\\PC\n\t|,;-]{0,200}") {
        let _ = read_as("list.txt", &bytes, Required, &[]);
        let _ = read_as("list.md", text.as_bytes(), Shipped, &[]);
    }
}

/// Weights of the lines, in grams, and what each is of.
#[track_caller]
fn masses(text: &str, columns: &[(Meaning, &str)], expected: &[Option<(f64, MassOf)>]) {
    let list = read_as("list.csv", text.as_bytes(), Required, columns).unwrap();
    let found: Vec<_> = list
        .lines
        .iter()
        .map(|line| {
            let mass = list.mass_of(line)?;
            Some((mass.milligrams as f64 / 1000.0, mass.of))
        })
        .collect();
    assert_eq!(found, expected);
    assert_eq!(list.tally.aside, 0);
}

#[test]
fn weights_of_a_list() {
    masses(
        "Qty,Description,Unit wt (kg)\n2,Girder,84\n12,Post,\n3,Deck panel,n/a\n,TOTAL,168\n",
        &[],
        &[Some((84_000.0, MassOf::Piece)), None, None],
    );
    // Of one piece or of the row: the heading does not say.
    masses(
        "Qty,Description,\"Mass, kg\"\n2,Girder,84\n,,168\n",
        &[],
        &[Some((84_000.0, MassOf::Unstated))],
    );
    // Beside a column of totals it is of one piece; 1 lb is 453.59237 g.
    masses(
        "Qty,Description,Weight lb,Total weight lb\n2,Girder,185,370\n4,Post,,44\n",
        &[],
        &[
            Some((83_914.588, MassOf::Piece)),
            Some((19_958.064, MassOf::Row)),
        ],
    );
    // Without a unit it is no weight, and two items of one row have none of their own.
    masses(
        "Qty,Description,Weight\n2,Girder,84\n4,1/2 x 3 hex bolt with hex nut,0.2 kg\n",
        &[],
        &[None, None, None],
    );
    masses(
        "Stk,Artikel,Gewicht kg\n2,Girder,84\n",
        &[
            (Meaning::Quantity, "Stk"),
            (Meaning::Description, "Artikel"),
            (Meaning::Mass, "Gewicht kg"),
        ],
        &[Some((84_000.0, MassOf::Unstated))],
    );
    // The same figure under another unit; and a weight of each row's own beside one wording.
    masses(
        "Qty,Description,Unit wt (kg)\n2,Girder,84\n3,Girder,85\n\
         Qty,Description,Unit wt (lb)\n2,Girder,84\n",
        &[],
        &[
            Some((84_000.0, MassOf::Piece)),
            Some((85_000.0, MassOf::Piece)),
            Some((38_101.759, MassOf::Piece)),
        ],
    );
}

#[test]
fn wordings_that_say_the_same_share_a_reading() {
    let text = "Stage,Qty,Description,Unit wt (kg)\nA,2,1/2 x 3 hex bolt,0.1\n\
                B,3,1/2 x 3 HHCS,0.2\nC,4,1/2 x 3 hex bolt,0.3\nD,4,1/2 hex nut,0.1\n";
    let list = read_list("list.csv", text, Required);
    let readings: Vec<_> = list.lines.iter().map(|line| line.what).collect();
    let [bolt, nut] = [0, 1].map(What::Item);
    assert_eq!(readings, [bolt, bolt, bolt, nut]);
    assert_eq!(list.readings.len(), 2);
}

#[test]
fn a_torque_is_in_the_unit_of_its_own_table() {
    case(
        "list.csv",
        "Stage,Qty,Item,Torque (ft-lb)\nA,4,1/2 hex nut,35\n\
         Stage,Qty,Item,Torque (Nm)\nA,4,1/2 hex nut,35\n",
        Required,
        &[
            "2: 4 1/2 hex nut [A] [torque 35 ft-lb]",
            "4: 4 1/2 hex nut [A] [torque 35 nm]",
        ],
    );
}

#[test]
fn the_order_of_tightening() {
    let text =
        "Qty,Description,Torque,Tightening sequence\n8,1/2 x 3 hex bolt,55 ft-lb,star pattern\n";
    let list = read_list("list.csv", text, Required);
    let placement = list.placement_of(&list.lines[0]);
    assert_eq!(placement.sequence.as_deref(), Some("star pattern"));
    let text = "Join the girders with eight 1/2 x 3 in hex bolts and eight hex nuts. \
                Tighten the bolts to 55 ft-lb, from the centre outward.\n";
    let list = read_list("guide.txt", text, Required);
    let placement = list.placement_of(&list.lines[0]);
    assert_eq!(placement.torque.as_deref(), Some("55 ft-lb"));
    assert_eq!(
        placement.sequence.as_deref(),
        Some("from the centre outward")
    );
}

#[test]
fn a_line_of_text_that_begins_with_a_figure_is_no_furniture() {
    case(
        "list.txt",
        "4 ea 1/2 x 3 hex bolt\n2 gal. wood stain\n50 ft. of cable\nThank you for your order\n",
        Required,
        &[
            "1: 4 1/2 x 3 hex bolt",
            "2: - 2 gal. wood stain [part] ? no quantity stated: not summed",
            "3: - 50 ft. of cable [part] ? no quantity stated: not summed",
        ],
    );
}

#[test]
fn what_comes_with_the_first_item_is_marked() {
    let text = "Qty,Description\n4,5/8 x 6 hex bolt c/w nut and 2 flat washers\n4,1/2 hex nut\n";
    let list = read_list("list.csv", text, Required);
    let marked: Vec<bool> = list
        .lines
        .iter()
        .map(|line| list.reading_of(line).unwrap().comes_with)
        .collect();
    assert_eq!(marked, [false, true, true, false]);
}

#[test]
fn what_is_longer_than_any_sentence_is_aside() {
    let aside = |sentence: &str| -> Vec<String> {
        let text = format!("Stage 1\n\nFit four 1/2 x 3 hex bolts.\n\n{sentence}\n");
        let list = read_list("guide.txt", text, Required);
        assert_eq!(list.tally.rows, 5);
        assert_eq!((list.tally.read, list.tally.aside), (1, 1));
        list.lines[1..]
            .iter()
            .map(|line| match list.aside_of(line) {
                Some(aside) => aside.to_string(),
                None => panic!("not aside: {}", short(&list, line)),
            })
            .collect()
    };
    let phrase = "four 1/2 x 3 hex bolts at the north post, ";
    assert_eq!(
        aside(&format!("Fit {}and no more.", phrase.repeat(100))),
        ["no item found: longer than any sentence"]
    );
    assert_eq!(
        aside(&format!(
            "Fit {}and no more.",
            "4 1/2 hex nuts, ".repeat(101)
        )),
        ["no item found: so many items are no sentence of a guide"]
    );
}

/// What is said of a list's sheets: what is asked, then what is noted.
#[track_caller]
fn told(name: &str, text: &str, role: Role, question: Option<&str>, notes: &[&str]) {
    let list = read_list(name, text, role);
    let sheet = &list.sheets[0];
    assert_eq!(sheet.question.as_deref(), question);
    assert_eq!(sheet.notes, notes);
}

/// Headings of our own making, as packing benches write them: common practice, no source.
#[test]
fn short_headings_of_slips_and_counts() {
    shipped(
        "BOX,DESCRIPTION,ORD,SHP,B/O\n1,1/2 hex nut,12,8,4\n",
        &["2: 8+4 owed 1/2 hex nut [box 1]"],
    );
    shipped(
        "Bag,Qty,Contents\nC2,16,3/8-16 x 2 carriage bolt\n",
        &["2: 16 3/8-16 x 2 carriage bolt [bag C2]"],
    );
    counted(
        "What,Good,Bent\n3/8 x 2 carriage bolts,15,1\n",
        &["2: 15+1 damaged 3/8 x 2 carriage bolt"],
    );
    required(
        "Pos,Pcs,Description,Standard\n1,16,Fender washer M12 zinc plated,DIN 9021\n",
        &["2: 16 M12 fender washer, zinc plated"],
    );
    required(
        "Qty per kit,Kits,Total,Description\n4,3,12,M12 flat washer\n4,3,14,M10 flat washer\n",
        &[
            "2: 4 x 3 M12 flat washer",
            "3: 4 x 3 M10 flat washer ? the row's total is 14, quantity times places is 12",
        ],
    );
}

/// A table is not read as loose text because its headings are not known.
#[test]
fn headings_that_are_not_known() {
    let taken = |heading: &str| {
        format!(
            "no heading is known to say how many: \"{heading}\", the only one of small whole numbers, is taken for \
             it; if another says it, name that in the job file beside the file: columns = {{ shipped = \"...\" }}"
        )
    };
    let slip = "Sack,Zahl,Zeug\nF1,16,3/8-16 x 4-1/2 hex bolt\nF1,8,3/8 hex nut\n";
    shipped(slip, &["2: 16 3/8-16 x 4-1/2 hex bolt", "3: 8 3/8 hex nut"]);
    told("slip.csv", slip, Shipped, Some(&taken("Zahl")), &[]);
    // Two may be it; and no figure of a column that numbers the rows is.
    let slip = "Tag,Zeug,Zahl,Fach\n1,3/8 hex nut,16,9\n2,1/2 hex nut,8,9\n3,post cap,8,7\n";
    shipped(
        slip,
        &[
            "2: - 3/8 hex nut ? no quantity stated: not summed",
            "3: - 1/2 hex nut ? no quantity stated: not summed",
            "4: - post cap ? no quantity stated: not summed",
        ],
    );
    told(
        "slip.csv",
        slip,
        Shipped,
        Some(
            "no column is known to say how many, and whole numbers stand under \"Tag\", \"Zahl\", \"Fach\": \
             name the one in the job file beside the file, for instance columns = { shipped = \"Tag\" }",
        ),
        &[],
    );
    // Ordered is not what was shipped.
    told(
        "slip.csv",
        "Description,Ordered,Gone\n3/8 hex nut,8,8\n1/2 hex nut,4,4\n",
        Shipped,
        Some(&taken("Gone")),
        &[],
    );
    // The quantity is known: nothing is asked.
    told(
        "list.csv",
        "Item,Qty,Zone\n3/8 hex nut,8,4\n",
        Required,
        None,
        &[],
    );
    told(
        "list.csv",
        "8,3/8 hex nut\n4,1/2 x 3 hex bolt\n",
        Required,
        None,
        &["no heading row was found: the cells of a row are read as one line"],
    );
}

/// How slips and counts head their columns where nobody else reads them: common practice, no source.
#[test]
fn columns_told_by_their_rows() {
    // Numbers that are known, and one column of names; `Returned` alone is how many.
    counted(
        "Code,Thing,Returned,State\nP-1,Girder shoe,4,ok\nP-2,Deck board,42,ok\nP-3,Post cap,8,wet\n",
        &[
            "2: 4 girder shoe [part P-1]",
            "3: 42 deck board [part P-2]",
            "4: 8 post cap [part P-3]",
        ],
    );
    // A column that is not read, and says what bears on the count.
    counted(
        "Part,Counted,State\nside wall,6,2 torn\nroof sheet,4,ok\n",
        &[
            "2: 6 side wall ? the remark \"2 torn\" may change how many",
            "3: 4 roof sheet",
        ],
    );
    // Units that are numbers say of how many the quantity is.
    required(
        "Part,Units,Per unit\nGirder shoe,2,2\nDeck board,2,21\n",
        &["2: 2 x 2 girder shoe", "3: 21 x 2 deck board"],
    );
    // Metres among pieces.
    required(
        "Part,Qty,Unit\nGirder shoe,4,EA\nSteel rope,45,M\n",
        &[
            "2: 4 girder shoe",
            "3: - steel rope ? 45 M may be 45 metres, or 45 times 1000 pieces: not summed",
        ],
    );
    required(
        "Part,Qty,Unit\nPost cap,4,C\nDeck clip,2,M\n",
        &[
            "2: 400 post cap",
            "3: 2000 deck clip ? the unit \"M\" read as 1000 pieces",
        ],
    );
    // The same headings on a page far down.
    let mut pages = String::from("Code,Thing,Zahl\n");
    for row in 1..90 {
        pages += &format!("P-{},rail {},4\n", 100 + row, row);
    }
    pages += "Code,Thing,Zahl\nP-7,last rail,6\n";
    let list = read_list("slip.csv", pages, Shipped);
    let last = list.lines.last().unwrap();
    assert_eq!(short(&list, last), "92: 6 last rail [part P-7]");
}

/// Who says a line, and how it is set out, says nothing of the pieces: common practice, no source.
#[test]
fn texts_by_their_look() {
    listed(
        "Inga: shelter list for Friday\nInga: 24 bolts m10 x 80\nPelle: post feet: 4\nInga: make it 6 roof sheets\n",
        &["2: 24 M10 x 80 bolt", "3: 4 post feet", "4: 6 roof sheets"],
    );
    listed(
        "Part: rail clamp\nQuantity: 3\nReason: none in the bag\n\nPart: hex nut M10\nQuantity: 2\n\n\
         Part: post cap\nQuantity: 1\nReason: broken\n",
        &["1: 3 rail clamp", "5: 2 M10 hex nut", "8: 1 post cap"],
    );
    listed(
        "Bag A                      Bag B\n\
         24  hex bolt M10 x 80      4  post foot\n\
         24  hex nut M10            6  roof sheet\n\
         48  washer M10             3  drip edge\n",
        &[
            "2: 24 M10 x 80 hex bolt [bag A]",
            "2: 4 post foot [bag B]",
            "3: 24 M10 hex nut [bag A]",
            "3: 6 roof sheet [bag B]",
            "4: 48 M10 flat washer [bag A]",
            "4: 3 drip edge [bag B]",
        ],
    );
    listed(
        "- 4 girder shoes\n- 24 hex bolts 5/8 x 6\n- deck boards - forty-two\n- handrails: four\n",
        &[
            "1: 4 girder shoes",
            "2: 24 5/8 x 6 hex bolt",
            "3: 42 deck boards",
            "4: 4 handrails",
        ],
    );
    listed(
        "2  MENDING PLATE 4IN        1.89     3.78\n4  POST CAP                  2.15     8.60\n\
         1  HANDRAIL 2 M            14.00    14.00\n",
        &[
            "1: 2 mending plate 4in [part]",
            "2: 4 post cap",
            "3: 1 handrail 2 m [part]",
        ],
    );
    listed(
        "12 nuts M8\n8 bolts M8 x 40\npost feet, 4\n",
        &["1: 12 M8 hex nut", "2: 8 M8 x 40 bolt", "3: 4 post feet"],
    );
    listed(
        "PACKING LIST  shelter kit no 3\nframe posts ..... 6\nroof purlins .... 8\nM12 nuts ........ 24\n",
        &["2: 6 frame posts", "3: 8 roof purlins", "4: 24 M12 hex nut"],
    );
}

#[test]
fn a_table_of_tools_asks_for_nothing() {
    required(
        "Tool,Size,Pcs\nOpen-end wrench,24 mm,2\nBar,,1\n",
        &[
            "2: 2 open-end wrench, 24 mm [part] [for reference] ? a tool: to be brought, no piece of the kit",
            "3: 1 bar [for reference]",
        ],
    );
}

/// A line whose figure alone is not understood still says what it names.
#[test]
fn what_is_aside_for_its_figure_is_named() {
    let list = read_as(
        "slip.csv",
        b"Item,Shipped\n1/2 hex nut,8 + 2\nwhatever it is,8\n",
        Shipped,
        &[],
    )
    .unwrap();
    let What::Aside(aside) = list.lines[0].what else {
        panic!("aside");
    };
    let named = list
        .named_aside(aside)
        .map(|at| list.readings[at as usize].item.text());
    assert_eq!(named.collect::<Vec<_>>(), ["1/2 hex nut"]);
}

/// What the notes of a list's sheets say.
fn notes(text: &str) -> Vec<String> {
    let list = read_list("list.csv", text, Required);
    list.sheets
        .into_iter()
        .flat_map(|sheet| sheet.notes)
        .collect()
}

// Lists are cut into stages by a word or two in a row of its own. Common practice, no source.
#[test]
fn stages_titled_in_rows_of_a_table() {
    let sections = "Item,Qty\nBase,\nM8 x 40 hex bolt,8\nSeat rail:,\nM8 hex nut,8\n";
    required(
        sections,
        &[
            "3: 8 M8 x 40 hex bolt [Base]",
            "5: 8 M8 hex nut [Seat rail]",
        ],
    );
    assert_eq!(
        notes(sections),
        ["taken for titles of stages: row 2 \"Base\", row 4 \"Seat rail\""]
    );
    // In large letters among small ones, behind a blank row, in a column of no item.
    required(
        "Item,Qty\nM8 hex nut,8\nROOF,\nM6 hex nut,4\n",
        &["2: 8 M8 hex nut", "4: 4 M6 hex nut [ROOF]"],
    );
    required(
        "Item,Qty\nM8 hex nut,8\n,\nRoof,\nM6 hex nut,4\n",
        &["2: 8 M8 hex nut", "5: 4 M6 hex nut [Roof]"],
    );
    required(
        "No.,Item,Qty\n1,M8 hex nut,8\nRoof,,\n2,M6 hex nut,4\n",
        &["2: 8 M8 hex nut", "4: 4 M6 hex nut [Roof]"],
    );
    required(
        "Item,Qty\nM8 hex nut,8\n,Roof\nM6 hex nut,4\n",
        &["2: 8 M8 hex nut", "4: 4 M6 hex nut [Roof]"],
    );
    // Nothing but the missing figure speaks for it, or a stage has a column: a part without its count.
    required(
        "Item,Qty\nM8 hex nut,8\nRidge cap,\nM6 hex nut,4\n",
        &[
            "2: 8 M8 hex nut",
            "3: - ridge cap ? no quantity stated: not summed",
            "4: 4 M6 hex nut",
        ],
    );
    required(
        "Stage,Item,Qty\nBase,M8 hex nut,8\n,Ridge cap,\n,M6 hex nut,4\n",
        &[
            "2: 8 M8 hex nut [Base]",
            "3: - ridge cap [Base] ? no quantity stated: not summed",
            "4: 4 M6 hex nut [Base]",
        ],
    );
    // A slip knows no stages.
    shipped(
        "Item,Qty\nM8 hex nut,8\n\nRidge cap,\nM6 hex nut,4\n",
        &[
            "2: 8 M8 hex nut",
            "4: - ridge cap ? no quantity stated: not summed",
            "5: 4 M6 hex nut",
        ],
    );
}

// Sums in rows of their own, and remarks below a table. Common practice, no source.
#[test]
fn sums_and_remarks_among_rows() {
    let four = "M8 x 40 hex bolt,8\nM8 hex nut,8\nM8 washer,16\nRail,2\n";
    let read = [
        "2: 8 M8 x 40 hex bolt",
        "3: 8 M8 hex nut",
        "4: 16 M8 flat washer",
        "5: 2 rail",
    ];
    for label in [
        "Sum of pieces",
        "pcs in step",
        "34 pieces in all",
        "All parts for this stage",
    ] {
        required(&format!("Item,Qty\n{four}{label},34\n"), &read);
    }
    let differs = "6: - aside: the list's own total is 40, its lines come to 34: one may be missing or misread";
    required(
        &format!("Item,Qty\n{four}pcs in step,40\n"),
        &[&read[..], &[differs]].concat(),
    );
    let sum = "6: - frame set ? 34 is what the 4 lines above come to: their total, or as many pieces? Not summed";
    required(
        &format!("Item,Qty\n{four}Frame set,34\n"),
        &[&read[..], &[sum]].concat(),
    );
    required(
        &format!("Item,Qty\n{four}Frame set,33\n"),
        &[&read[..], &["6: 33 frame set"]].concat(),
    );
    required(
        "No.,Item,Qty\n1,M8 hex nut,8\nWork at height: keep to local rules.\n",
        &["2: 8 M8 hex nut"],
    );
    required(
        "Item,Qty\nM8 hex nut,8\nDo not tighten before the roof is on.\n",
        &["2: 8 M8 hex nut"],
    );
    case(
        "slip.txt",
        "QTY   ITEM            BOX\n8     M8 HEX NUT      1\n16    M8 FLAT WASHER  1\n\n24 PIECES    3 KG\n",
        Shipped,
        &["2: 8 M8 hex nut [box 1]", "3: 16 M8 flat washer [box 1]"],
    );
}

// Slips and bench notes label their figures in the line. Common practice, no source.
#[test]
fn figures_labelled_in_a_line() {
    case(
        "slip.txt",
        "FW 5/8 USS HDG    ORD 60  SHIP 56  B/O 4\n1/2 x 3 carriage bolt, ordered 10, sent 8, 2 to follow\n3/8 hex nut ORD 12 B/O 4\n",
        Shipped,
        &[
            "1: 56+4 owed 5/8 USS flat washer, hot-dip galvanised",
            "2: 8+2 owed 1/2 x 3 carriage bolt",
            "3: - aside: by its words it does not say how many were sent",
        ],
    );
    case(
        "count.txt",
        "1/2 x 3 hex bolts: 22 good, 1 bent\n3/8 hex nuts - 7, one missing\n",
        Counted,
        &[
            "1: 22+1 damaged 1/2 x 3 hex bolt",
            "2: - aside: by its words it is no plain count: write good and damaged pieces apart (\"missing\")",
        ],
    );
}

#[test]
fn a_dash_names_no_bag() {
    shipped(
        "Item,Qty,Bag\nM8 hex nut,8,A\nRail,2,-\nPost,2,\u{2013}\n",
        &["2: 8 M8 hex nut [bag A]", "3: 2 rail", "4: 2 post"],
    );
}

// Papers of a shipment, as rows among its lines. Common practice, no source.
#[test]
fn papers_are_no_pieces() {
    shipped(
        "Item,Note,Qty\nM8 hex nut,,8\nChecked by: T. Rowe,,12\nFreight,,1\nPallet 2,,\nWeight kg 41,,\nOrder 5512,,4\n",
        &["2: 8 M8 hex nut"],
    );
    case(
        "slip.txt",
        "8 M8 hex nuts\nPACKED BY T. CHECKED BY R.\nParcel 2\n",
        Shipped,
        &["1: 8 M8 hex nut"],
    );
}

#[test]
fn stages_numbered_in_rows_of_a_table() {
    required(
        "Item,No.,Qty\n1 Base,,\nBase post,BW-11,4\n2 Roof,,\nRafter,BW-12,2\n4 rail clips,,\nRail,BW-13,2\n",
        &[
            "3: 4 base post [part BW-11] [1 Base]",
            "5: 2 rafter [part BW-12] [2 Roof]",
            "6: 4 rail clips [2 Roof]",
            "7: 2 rail [part BW-13] [2 Roof]",
        ],
    );
}

// Descriptions in columns whose headings no table holds. Common practice, no source.
#[test]
fn what_rows_tell_of_their_columns() {
    required(
        "SKU,DESC1,DESC2,QTY\nNL-516,Hex nut,M8 zinc,48\n",
        &["2: 48 M8 hex nut, zinc plated"],
    );
    required(
        "Material,Description,Qty\n4420-01,Foot plate,6\n4420-02,Cross brace,4\n4420-03,Rail,2\n",
        &[
            "2: 6 foot plate [part 4420-01]",
            "3: 4 cross brace [part 4420-02]",
            "4: 2 rail [part 4420-03]",
        ],
    );
    required(
        "Material,Description,Qty\nstainless,M8 hex nut,6\nzinc,M8 washer,4\n",
        &[
            "2: 6 M8 hex nut, stainless",
            "3: 4 M8 flat washer, zinc plated",
        ],
    );
}

#[test]
fn hundreds_and_thousands_are_doubts() {
    required(
        "Item,Qty\nM8 hex nut,2 C\nM8 washer,12m\n",
        &[
            "2: 200 M8 hex nut ? 2 C read as 200: C and M are the trade's hundred and thousand",
            "3: - aside: \"12m\" is no count of pieces",
        ],
    );
    required(
        "Item,Ordered,Confirmed\nM8 hex nut,24,20\n",
        &["2: 24 M8 hex nut ? 24 ordered, and 20 shipped or confirmed: taken as 24"],
    );
}

// Slips write a crate beside the first of its lines. Common practice, no source.
#[test]
fn a_box_written_once_holds_for_the_rows_below() {
    let once = "Crate,Item,Qty\nA,M8 hex nut,8\n,M8 washer,16\n,Rail,2\nB,Post,4\n,M6 hex nut,4\n";
    shipped(
        once,
        &[
            "2: 8 M8 hex nut [box A]",
            "3: 16 M8 flat washer [box A]",
            "4: 2 rail [box A]",
            "5: 4 post [box B]",
            "6: 4 M6 hex nut [box B]",
        ],
    );
    assert_eq!(
        notes(once),
        ["\"Crate\" is written once, and taken for that of the rows below"]
    );
    // A name that is repeated is none for a row without it.
    shipped(
        "Crate,Item,Qty\nA,M8 hex nut,8\nA,M8 washer,16\n,Rail,2\n,Post,4\n,Cap,4\n",
        &[
            "2: 8 M8 hex nut [box A]",
            "3: 16 M8 flat washer [box A]",
            "4: 2 rail",
            "5: 4 post",
            "6: 4 cap",
        ],
    );
}

#[test]
fn figures_passed_over_are_said() {
    let text = "8 M8 hex nuts\nthe van comes at 7.30 to the yard\n";
    let list = read_list("slip.txt", text, Shipped);
    assert_eq!(list.lines.len(), 1);
    assert_eq!(
        list.sheets[0].notes,
        ["passed over, though figures stand there: line 2 \"the van comes at 7.30 to the yard\""]
    );
    for text in [
        "8 M8 hex nuts\n\nShelf_____5\n",
        "\nInner panel-8\n4 M8 nuts\n",
        "Shelter kit 12\n\n4 M8 nuts\n",
    ] {
        assert!(
            notes(text)[0].starts_with("passed over, though figures stand there: line "),
            "{text}"
        );
    }
    assert_eq!(notes("Rev. C of 5 May 2026\n\n4 M8 nuts\n"), [""; 0]);
    // Between lines of the list, or right below them, it may be one.
    listed(
        "8 M8 hex nuts\nShelf_____5\n",
        &[
            "1: 8 M8 hex nut",
            &format!("2: - aside: no item found: {}", unheard::UNHEARD),
        ],
    );
}

// Names of parts that begin like a guide's sentence, or hold a word for a page. Common practice, no source.
#[test]
fn parts_that_begin_like_sentences() {
    for line in [
        "lower rail x24",
        "lower purlin (24)",
        "lower deck board, 24 off",
        "brace C 24 ea",
        "clamp C 24 ea",
        "support bar (24)",
        "rest qty 24",
        "brace A - 24",
        "hook A - 24",
        "tie A: 24",
        "lift bar [24]",
        "roof sheet 24",
        "roof sheet 24 ea",
        "long sheet 24",
        "roof sheet A (24)",
    ] {
        for list in [
            format!("4 M8 nuts\n{line}\n6 M6 nuts\n"),
            format!("4 M8 nuts\n6 M6 nuts\n{line}\n"),
            format!("{line}\n4 M8 nuts\n6 M6 nuts\n"),
        ] {
            for role in [Required, Shipped, Counted] {
                let list = read_list("list.txt", &list, role);
                assert_eq!(list.lines.len(), 3, "{line}");
            }
        }
    }
    for line in ["Gutter left - 4", "GUTTER: 24", "Ridge cap x 8"] {
        let list = format!("{line}\n4 M8 nuts\n6 M6 nuts\n");
        let list = read_list("list.txt", list, Required);
        assert_eq!(list.lines.len(), 3, "{line}");
    }
}

// Signs between words and their count that few lines bear. Common practice, no source.
#[test]
fn counts_behind_any_sign() {
    for sign in [
        ";", "; ", "|", "/", ":", "=", "->", " => ", ">", "~", "@", "\u{2014}", "\u{2026}",
        "\u{b7}", " <",
    ] {
        let line = format!("inner panel{sign}8\n");
        let told = "? a number behind plain words: it may be no count";
        for (list, row) in [
            (format!("{line}4 M8 nuts\n6 M6 nuts\n"), 1),
            (format!("4 M8 nuts\n{line}6 M6 nuts\n"), 2),
            (format!("4 M8 nuts\n6 M6 nuts\n{line}"), 3),
            (format!("Shelter\n\n{line}4 M8 nuts\n"), 3),
        ] {
            let list = read_list("list.txt", list, Required);
            let found = list.lines.iter().map(|line| short(&list, line));
            let found: Vec<String> = found.filter(|of| of.contains("inner")).collect();
            assert_eq!(found, [format!("{row}: 8 inner panel {told}")], "{sign:?}");
        }
    }
}

// Guides number their steps and title them in a word or two. Common practice, no source.
#[test]
fn numbered_titles_over_sentences() {
    case(
        "guide.txt",
        "LEAN-TO, 8 FT\n\n1. Ledger\nFasten it to the wall with eight 3/8 x 5 lag screws.\n\n\
         2. Front posts\nBolt the beam to the posts with six 1/2 x 6 carriage bolts.\n",
        Required,
        &[
            "4: 8 3/8 x 5 lag screw [1. Ledger]",
            "7: 6 1/2 x 6 carriage bolt [2. Front posts]",
        ],
    );
    // A numbered list of parts has no titles.
    case(
        "list.txt",
        "1. 8 M8 hex nuts\n2. 4 M8 washers\n",
        Required,
        &["1: 8 M8 hex nut", "2: 4 M8 flat washer"],
    );
}

#[test]
fn figures_typed_as_text() {
    shipped("Item,Qty\nM8 hex nut,'12\n", &["2: 12 M8 hex nut"]);
}

/// Habits of typed lists (common practice, no source): fields set apart by spaces, no headings.
#[test]
fn columns_without_headings() {
    case(
        "list.txt",
        "Shelter\n\nLeg 4 x 4 x 96        4\nPost base             4\nM8 x 40 hex bolt     16\n\nRail                  2\n",
        Required,
        &[
            "3: 4 leg 4 x 4 x 96 [part]",
            "4: 4 post base",
            "5: 16 M8 x 40 hex bolt",
            "7: 2 rail",
        ],
    );
    // A letter in turn is the line's own.
    case(
        "list.txt",
        "A  x4  Leg\nB  x2  Long rail\nC  x8  Bolt M6 x 60\nD  2 off  Cap\n",
        Required,
        &[
            "1: 4 leg",
            "2: 2 long rail",
            "3: 8 M6 x 60 bolt",
            "4: 2 cap",
        ],
    );
    // Numbers in turn in front count nothing.
    case(
        "list.txt",
        "10   24   M8 x 40 hex bolt\n20   24   M8 nut\n30   2    Rail\n",
        Required,
        &["1: 24 M8 x 40 hex bolt", "2: 24 M8 hex nut", "3: 2 rail"],
    );
    case(
        "slip.csv",
        "M8 x 40 hex bolt,24,pcs\nM8 nut,24,pcs\nridge cap,2,pcs\n",
        Shipped,
        &[
            "1: 24 M8 x 40 hex bolt",
            "2: 24 M8 hex nut",
            "3: 2 ridge cap",
        ],
    );
    // Prices, and words behind the count.
    case(
        "slip.txt",
        "10  M8 x 40 hex bolt   40 pc   0.12   4.80   in stock\n20  Foot                4 pc   3.00  12.00   in stock\n30  M8 nut             40 pc   0.03   1.20   in stock\n",
        Shipped,
        &["1: 40 M8 x 40 hex bolt", "2: 4 foot", "3: 40 M8 hex nut"],
    );
    // The head of a paper is no part.
    case(
        "slip.txt",
        "Order 4411\nPallets            2\n\nM8 x 40 hex bolt  24\nM8 nut            24\nRidge cap          2\n",
        Shipped,
        &[
            "4: 24 M8 x 40 hex bolt",
            "5: 24 M8 hex nut",
            "6: 2 ridge cap",
        ],
    );
    // Two columns of counts may be anything, and a number beside a bolt without a length may be it.
    for text in [
        "Rail   24   20\nCap   12   12\nM8 nut   6   6\n",
        "M8 hex bolt   40\nM8 hex bolt   60\nM8 hex bolt   80\n",
    ] {
        let list = read_list("slip.txt", text, Shipped);
        assert!(
            list.lines
                .iter()
                .all(|line| list.doubts_of(line).next().is_some()),
            "{text}"
        );
    }
}

/// A mark between item and count in most lines (common practice, no source).
#[test]
fn a_mark_before_the_count() {
    case(
        "count.txt",
        "carton 2, checked on Monday\n\ndoor handle: 2\nfoot, adjustable: 3\nnuts M10, zinc: 20\nM10 washers: 20 pcs.\n",
        Counted,
        &[
            "3: 2 door handle",
            "4: 3 foot, adjustable",
            "5: 20 M10 hex nut, zinc plated",
            "6: 20 M10 flat washer",
        ],
    );
    case(
        "list.txt",
        "M6 x 20 hex bolt / 60\nM6 lock nut / 60\nHook, grey / 30\n",
        Required,
        &[
            "1: 60 M6 x 20 hex bolt",
            "2: 60 M6 lock nut",
            "3: 30 hook, grey",
        ],
    );
    case(
        "list.txt",
        "1/4-20 x 3/4 hex bolt.....24\nSIDE PANEL.................2\nShelf......................5\nFoot.......................4\n",
        Required,
        &[
            "1: 24 1/4-20 x 3/4 hex bolt",
            "2: 2 side panel",
            "3: 5 shelf",
            "4: 4 foot",
        ],
    );
}

/// Headings of a text, and a blank line or a title below them.
#[test]
fn headings_apart_from_their_rows() {
    case(
        "list.txt",
        "Part              Qty\n\nFRAME\nLeg                 4\nM8 x 40 hex bolt    8\n\nROOF\nPanel               2\n",
        Required,
        &[
            "4: 4 leg [FRAME]",
            "5: 8 M8 x 40 hex bolt [FRAME]",
            "8: 2 panel [ROOF]",
        ],
    );
}

/// Titles that name the hardware, over sizes and counts (common practice, no source).
#[test]
fn sizes_under_a_title_that_names_hardware() {
    case(
        "list.txt",
        "Hex bolts:\n  M8 x 25  -  16\n  M10 x 50 -  4\nNylon lock nuts\n  M8 - 16\n  4 M10\n  M10 flat washer - 8\n\nM8 - 3\n",
        Required,
        &[
            "2: 16 M8 x 25 hex bolt",
            "3: 4 M10 x 50 hex bolt",
            "5: 16 M8 nylon-insert lock nut",
            "6: 4 M10 nylon-insert lock nut",
            "7: 8 M10 flat washer",
            "9: 3 M8 ? the kind of fastener is not stated",
        ],
    );
    required(
        "Item,Qty\nHex bolts,\nM8 x 25,16\nM8 x 40,8\nNuts:,\nM8,24\n",
        &[
            "3: 16 M8 x 25 hex bolt",
            "4: 8 M8 x 40 hex bolt",
            "6: 24 M8 hex nut",
        ],
    );
}

/// Figures that may be lengths, and what stands where prices stood above.
#[test]
fn figures_without_headings_that_may_be_measures() {
    let unsure = |text: &str| match read_as("slip.txt", text.as_bytes(), Shipped, &[]) {
        Ok(list) => (list.lines.iter()).all(|line| list.doubts_of(line).next().is_some()),
        Err(_) => true,
    };
    assert!(unsure("Rail    1200\nPost    2400\nBoard    900\n"));
    assert!(unsure(
        "4    Rail   1200\n8    Rail   1500\n12   Rail   1800\n"
    ));
    let text = "8 M8 nut          0.80\n".repeat(HEAD) + "M8 washer           16\n";
    let list = read_list("slip.txt", text, Shipped);
    let found: Vec<String> = (list.lines[HEAD - 1..].iter())
        .map(|line| short(&list, line))
        .collect();
    assert_eq!(found, ["60: 8 M8 hex nut", "61: 16 M8 flat washer"]);
}

/// The last of the columns is their sum, whatever its heading.
#[test]
fn a_column_that_adds_up_the_stages() {
    required(
        "Part,Frame,Roof,Slide,In all of it\nPost,4,,,4\nRail,4,2,,6\nM8 nut,8,4,2,14\n",
        &[
            "2: 4 post [Frame]",
            "3: 4 rail [Frame]",
            "3: 2 rail [Roof]",
            "4: 8 M8 hex nut [Frame]",
            "4: 4 M8 hex nut [Roof]",
            "4: 2 M8 hex nut [Slide]",
        ],
    );
    let text = "Part,Frame,Roof,Slide,In all of it\nPost,4,,,4\nRail,4,2,,6\nM8 nut,8,4,2,14\n";
    assert_eq!(
        notes(text),
        ["\"In all of it\" is taken for the total of the columns before it"]
    );
}

/// Remarks beside a table that has no column for them (common practice, no source).
#[test]
fn words_behind_the_last_heading() {
    shipped(
        "Item,Qty\nM8 nut,8,\nM8 washer,16,\"short, 12 sent\"\n",
        &[
            "2: 8 M8 hex nut",
            "3: 16 M8 flat washer ? \"short, 12 sent\" stands behind the last heading, and is not read",
        ],
    );
}

/// A crate and what is in it as a title within a table (common practice, no source).
#[test]
fn a_crate_with_a_title() {
    shipped(
        "Item,Qty\nCRATE 1 - STEEL,\nPost,8\nCRATE 2 - SHEETS,\nRoof sheet,8\n",
        &["3: 8 post [box 1]", "5: 8 roof sheet [box 2]"],
    );
}

// A hand writes its lines alike, and a till's papers, mails and guides have their own heads and feet. Common
// practice, no source.
#[test]
fn lines_that_their_neighbours_make_plain() {
    case(
        "count.txt",
        "Recount for row B, 4 May, before loading (HB and Mo)\n\nM8 x 20 hex bolts zinc: 26\n\
         M8 flange nuts zinc: 40\nM8 x 75 wedge anchors zinc: 16\nbrace pins: 97\nfoot plates: 12\n",
        Counted,
        &[
            "3: 26 M8 x 20 hex bolt, zinc plated",
            "4: 40 M8 flange nut, zinc plated",
            "5: 16 M8 x 75 wedge anchor, zinc plated",
            "6: 97 brace pin ? not understood: \"brace\" ? no size stated",
            "7: 12 foot plates",
        ],
    );
    case(
        "mail.txt",
        "From: Ada\nTo: Bo\nSubject: FW: shelter, went out today\n\n> - 16 carriage bolts M8 x 60\n\
         > - 16 washers M8\n> - 14 wing nuts M8\n> - 4 stays 2100\n\n\
         Thank you for your order. Payment is due within 14 days.\n",
        Shipped,
        &[
            "5: 16 M8 x 60 carriage bolt",
            "6: 16 M8 flat washer",
            "7: 14 M8 wing nut",
            "8: 4 stays 2100 [part]",
        ],
    );
    // Where lines are written in two ways, it stays a question.
    case(
        "count.txt",
        "M8 x 20 hex bolts zinc 26\n40 M8 flange nuts zinc\nM8 x 75 wedge anchors zinc 16\nfoot plate 12\n",
        Counted,
        &[
            "1: 26 M8 x 20 hex bolt, zinc plated",
            "2: 40 M8 flange nut, zinc plated",
            "3: 16 M8 x 75 wedge anchor, zinc plated",
            "4: 12 foot plate ? a number behind plain words: it may be no count",
        ],
    );
}

// Guides and lists say in brackets how a count comes about. Common practice, no source.
#[test]
fn brackets_that_account_for_a_count() {
    case(
        "list.txt",
        "16 nuts M8, zinc (two on every eye bolt)\n32 washers M8 (2 per bolt, 16 bolts)\n\
         132 deck screws #10 x 3 (three at each end of a board)\n4 hex bolts 3/8 x 2 (one each corner)\n\
         8 hex bolts 3/8 x 3 (2 each side)\n16 hex bolts 3/8 x 4 (2 washers per bolt)\n",
        Required,
        &[
            "1: 16 M8 hex nut, zinc plated",
            "2: 32 M8 flat washer",
            "3: 132 #10 x 3 deck screw",
            "4: 4 3/8 x 2 hex bolt",
            "5: 8 3/8 x 3 hex bolt ? the remark \"2 each side\" may change how many",
            "6: 16 3/8 x 4 hex bolt",
            "6: 32 3/8 flat washer",
        ],
    );
    required(
        "Item,Qty,Places,Total,Remark\nDeck screw #10 x 3,4,48,192,2 each end of board\n\
         Deck screw #10 x 2,4,1,4,2 each end of board\n",
        &["2: 4 x 48 #10 x 3 deck screw", "3: 4 #10 x 2 deck screw"],
    );
}

#[test]
fn what_a_unit_or_two_headings_say_of_a_count() {
    required(
        "Item,Qty per,Qty reqd\nHex nut 1/2,4,12\nHex nut 3/8,5,12\n",
        &[
            "2: 4 x 3 1/2 hex nut",
            "3: 5 3/8 hex nut ? the row's total is 12, quantity times places is 5",
        ],
    );
    shipped(
        "Item,Qty,UM\nHex nut 1/2,4,BOX/50\nHex nut 3/8,2,100/BX\nHex nut 5/8,50,PK 25\n",
        &[
            "2: 200 1/2 hex nut",
            "3: 200 3/8 hex nut",
            "4: 1250 5/8 hex nut ? 50 may be packs of 25 or pieces: 1250 or 50",
        ],
    );
    // What is back is owed beside what was sent, and brought back where nothing else counts. Beside what is no more
    // than a quantity it may be among it.
    shipped(
        "Item,Qty,Qty back\nHex nut 1/2,8,4\n",
        &["2: 8+4 owed 1/2 hex nut ? 4 that follow may be among the 8 or apart: taken as apart"],
    );
    shipped(
        "Item,Ordered,Qty,To follow\nHex nut 1/2,12,8,4\nHex nut 3/8,8,8,4\nHex nut 5/8,4,0,4\n",
        &[
            "2: 8+4 owed 1/2 hex nut",
            "3: 8+4 owed 3/8 hex nut ? 4 that follow may be among the 8 or apart: taken as apart",
            "4: 0+4 owed 5/8 hex nut",
        ],
    );
    shipped(
        "Item,Shipped,To follow\nHex nut 1/2,8,4\n",
        &["2: 8+4 owed 1/2 hex nut"],
    );
    counted(
        "Item,Qty back,Remark\nHex nut 1/2,8,rusty\n",
        &["2: 8 1/2 hex nut ? the remark \"rusty\" may change how many"],
    );
    counted(
        "Item,Good,Qty back\nHex nut 1/2,8,4\n",
        &["2: 8 1/2 hex nut ? 4 back or back-ordered beside 8: not counted"],
    );
    // A figure that no item stands beside, wherever it stands; the sum of several lines is their total, of two it may
    // be another item's, and so may their number.
    shipped(
        "Item,Qty\nHex nut 1/2,12\nHex nut 3/8,10\nHex nut 5/8,2\n,24\n,7\n,9\n,0\n",
        &[
            "2: 12 1/2 hex nut",
            "3: 10 3/8 hex nut",
            "4: 2 5/8 hex nut",
            "6: - aside: no item found: 7 stands here and no item; the lines above come to 24, so that it is no total of theirs: what is it of?",
            "7: - aside: no item found: 9 stands here and no item, and no lines above whose total it may be: what is it of?",
        ],
    );
    for (lines, figure) in [
        ("M8 nut,8\nM6 nut,10", 18),
        ("M8 nut,8\nM6 nut,10", 2),
        ("M8 nut,8", 8),
        ("M8 nut,8\nM6 nut,5\nM5 nut,20", 3),
    ] {
        let rows = format!("Item,Qty\n{lines}\n,{figure}\n");
        let list = read_list("slip.csv", rows, Shipped);
        let last = short(&list, list.lines.last().unwrap());
        let told = format!(
            "aside: no item found: {figure} stands here and no item: the total of what stands above, or pieces of their own? A total is written with its word"
        );
        assert!(last.ends_with(&told), "{last}");
    }
    shipped(
        "Item,Qty\n,9\nHex nut 1/2,12\n",
        &[
            "2: - aside: no item found: 9 stands here and no item, and no lines above whose total it may be: what is it of?",
            "3: 12 1/2 hex nut",
        ],
    );
}

// A printed list of a parts system: its own head on every page, inverted names, an end. Common practice, no
// source.
#[test]
fn a_report_of_several_pages() {
    case(
        "bom.txt",
        "LARCHFIELD WORKS                          PAGE   1\nRPT PP410   BILL OF MATERIAL   RUN 11/20/26 07:14\n\n\
         COMPONENT  DESCRIPTION                   QTY PER UM\n\
         BL-1207    BOLT,ANCHOR,1/2X7,HDG           32.000 EA\n\
         SH-0620    BEAM, EAVES                      7.000 EA\n\
                                                    PAGE   2\n\
         RPT PP410   BILL OF MATERIAL   RUN 11/20/26 07:14\n\
         COMPONENT  DESCRIPTION                   QTY PER UM\n\
         NT-12      NUT,HEX,1/2-13,HDG              32.000 EA\n\
         *** END OF REPORT ***    3 COMPONENTS\n",
        Required,
        &[
            "5: 32 1/2 x 7 anchor, hot-dip galvanised",
            "6: 7 beam, eaves [part SH-0620]",
            "10: 32 1/2-13 hex nut, hot-dip galvanised",
        ],
    );
    required(
        "Component,Description,Comp Qty,UoM\nBL-1207,\"BOLT,ANCHOR,1/2X7,HDG\",32.0000,EA\n13 rows selected,,,\n",
        &["2: 32 1/2 x 7 anchor, hot-dip galvanised"],
    );
}

// What each side takes stands beside what all take, under a merged heading. Common practice, no source.
#[test]
fn each_side_and_in_all() {
    required(
        "Hardware,,Quantity,,Notes\nDescription,Size,Each side,Total,\nHex nut,5/8-11,4,8,\n\
         Deck screw,#10 x 3,124,248,2 each end of board\nCross frame,,,5,\nTotal pieces,,,261,\n",
        &[
            "3: 4 x 2 5/8-11 hex nut",
            "4: 124 x 2 #10 x 3 deck screw",
            "5: 5 cross frame",
        ],
    );
    required(
        "Item,Qty,Each price\nHex nut 5/8,4,0.20\n",
        &["2: 4 5/8 hex nut"],
    );
}

// A slip typed by hand. Common practice, no source.
#[test]
fn labelled_figures_make_a_line() {
    case(
        "slip.txt",
        "Hollin Play - packing slip\nfor a climbing ladder, packed Tues by KT\n\nladder legs 2.4m     ORD 2   SHIP 2\n\
         rungs                ORD 8   SHIP 8\nM8x50 coach bolts    ORD 16  SHIP 12  BO 4\nhandles  ORD 2  SHIP 1\n\
         5x60 woodscrews   ORD 18  SHIP 20\ntotal  ORD 46  SHIP 43\n",
        Shipped,
        &[
            "4: 2 ladder legs 2.4m [part]",
            "5: 8 rungs",
            "6: 12+4 owed M8 x 50 carriage bolt",
            "7: 1 handles",
            "8: 20 M5 x 60 wood screw",
        ],
    );
}

/// What till receipts, returns, transfers and dispatches look like (common practice, no source).
#[test]
fn prices_totals_and_numbers_without_words() {
    case(
        "slip.txt",
        "1 SLIDE LATCH 6 IN           4.10\n8 M8 nut                     0.80\n4 ANGLE BRACKET              3.20\n",
        Shipped,
        &[
            "1: 1 slide latch 6 in [part]",
            "2: 8 M8 hex nut",
            "3: 4 angle bracket",
        ],
    );
    counted(
        "Code,Item,Good\nEP1,Foot,22\nEP2,Cap,12\nTotal,,34\n",
        &["2: 22 foot [part EP1]", "3: 12 cap [part EP2]"],
    );
    shipped(
        "Material,Qty,Unit\n410-001,1,EA\n410-010,4,EA\n900-12,8,EA\n",
        &[
            "2: 1 [part 410-001]",
            "3: 4 [part 410-010]",
            "4: 8 [part 900-12]",
        ],
    );
    case(
        "slip.txt",
        "8 M8 nuts\n\nROOF SHEET 2440 GREEN 11 PCS\n",
        Shipped,
        &["1: 8 M8 hex nut", "3: 11 roof sheet 2440 green [part]"],
    );
    shipped(
        "Item,Qty,Unit\nGuy wire,45,M\n",
        &["2: 45000 guy wire ? the unit \"M\" read as 1000 pieces"],
    );
}

/// The words of a person's own table, in Markdown. Common practice, no source.
#[test]
fn a_table_of_what_and_how_many() {
    case(
        "list.md",
        "| Step | What | How many |\n|---|---|---|\n| 1 | Uprights | 4 |\n| 2 | #10 x 1-1/2 wood screw | 20 |\n",
        Required,
        &["3: 4 uprights [1]", "4: 20 #10 x 1-1/2 wood screw [2]"],
    );
    required(
        "Kit,Part No,Description,Qty/Kit,Kits,Total\nSHED-A,SA-1,Wall panel,2,3,6\nSHED-A,SA-2,Hex bolt M10 x 60,16,3,49\n",
        &[
            "2: 2 x 3 wall panel [part SA-1]",
            "3: 16 x 3 M10 x 60 hex bolt ? the row's total is 49, quantity times places is 48",
        ],
    );
}

/// Codes of UN/ECE Recommendation 20 (from memory), and units of a general dictionary.
#[test]
fn units_of_issue() {
    shipped(
        "Bezeichnung,Menge,ME\nMutter M12 selbstsichernd,24,ST\nSenkschrauben M6x20,2,CEN\nBouten M10x50,3,H87\n\
         Scheibe M6,1,MIL\nMutter M8,2,PAK\nUnterlegscheiben M12,5,DZN\n",
        &[
            "2: 24 M12 lock nut",
            "3: 200 M6 x 20 flat head screw",
            "4: 3 M10 x 50 bolt",
            "5: 1000 M6 flat washer ? the unit \"MIL\" read as 1000 pieces",
            "6: - M8 hex nut ? packs of a size that is not stated: not summed",
            "7: 60 M12 flat washer",
        ],
    );
}

/// What workbooks of kits look like: items or sizes under no heading, and counts under `No.` (common practice,
/// no source).
#[test]
fn columns_without_a_heading() {
    required(
        ",Step 1,Step 2,Total,Spare\nM8 x 40 hex bolt,8,4,12,2\nRoof bracket L,1,,1,\n",
        &[
            "2: 8 M8 x 40 hex bolt [Step 1]",
            "2: 4 M8 x 40 hex bolt [Step 2]",
            "3: 1 roof bracket l [Step 1]",
        ],
    );
    // Without a total nothing shows whether the spares are counted in.
    required(
        ",Step 1,Step 2,Spare\nM8 x 40 hex bolt,8,,2\n",
        &["2: 8 M8 x 40 hex bolt [Step 1] ? 2 under \"Spare\" beside 8: not counted"],
    );
    shipped(
        "Bag,Contents,,No.,OK?\nA,Hex nut,M10,16,x\nA,Flat washer,M10,32,x\nB,Side rail,2400,2,\n",
        &[
            "2: 16 M10 hex nut [bag A]",
            "3: 32 M10 flat washer [bag A]",
            "4: 2 side rail 2400 [part] [bag B]",
        ],
    );
}

/// An indented bill of material: what stands below an assembly is for one of it (common practice, no source).
#[test]
fn levels_of_assemblies() {
    required(
        "Level,Part number,Description,Qty\n0,DH-000,Duck house assembly,1\n1,DH-200,Wall assembly,4\n2,DH-201,Wall board,10\n\
         2,,Hex nut M8,6\n3,,Flat washer M8,2\n1,DH-300,Roof board,7\n",
        &[
            "2: 1 duck house assembly [part DH-000] [for reference]",
            "3: 4 wall assembly [part DH-200] [for reference]",
            "4: 10 x 4 wall board [part DH-201] ? stands below 4 of \"Wall assembly\": taken for each of them, 40 in all",
            "5: 6 x 4 M8 hex nut ? stands below 4 of \"Wall assembly\": taken for each of them, 24 in all",
            "6: 2 x 24 M8 flat washer ? stands below 24 of \"Hex nut M8\": taken for each of them, 48 in all",
            "7: 7 roof board [part DH-300]",
        ],
    );
    // The totals of the rows confirm it.
    required(
        "Level,Description,Qty per,Total qty\n1,Wall assembly,4,4\n..2,Wall board,10,40\n..2,Hex nut M8,6,6\n",
        &[
            "2: 4 wall assembly [for reference]",
            "3: 10 x 4 wall board",
            "4: 6 M8 hex nut ? stands below 4 of \"Wall assembly\", and its total is 6: taken as in all",
        ],
    );
}

/// Plain parts above the first hardware of a text are lines; a title with a figure is none (common practice, no
/// source).
#[test]
fn parts_above_the_first_hardware() {
    case(
        "list.md",
        "# Parts\n\n- rails 8\n- top post 4\n- M8 nuts 6\n",
        Shipped,
        &[
            "3: 8 rails",
            "4: 4 top post ? a number behind plain words: it may be no count",
            "5: 6 M8 hex nut",
        ],
    );
    case(
        "list.txt",
        "Rails: 8\nPosts: 4\n\nHardware\nM8 nuts 6\n",
        Shipped,
        &["1: 8 rails", "2: 4 posts", "5: 6 M8 hex nut"],
    );
    case(
        "list.txt",
        "Duck house 2\n\n6 M8 nuts\n8 M8 x 40 bolts\n",
        Shipped,
        &["3: 6 M8 hex nut", "4: 8 M8 x 40 bolt"],
    );
}

/// How ordinary hands type lists: common practice, no source.
#[test]
fn texts_of_ordinary_hands() {
    // A bullet over others that are set in further is their title.
    case(
        "list.txt",
        "Bed kit\n\n- Frame\n  - 4 long boards\n  - 8 corner posts\n- Cover\n  - 3 hoops\n  - 6 hoop clips\n",
        Required,
        &[
            "4: 4 long boards [Frame]",
            "5: 8 corner posts [Frame]",
            "7: 3 hoops [Cover]",
            "8: 6 hoop clips [Cover]",
        ],
    );
    // A box that is open where others are ticked, and a crossed line.
    let open = "aside: it is not ticked, and others are";
    case(
        "count.txt",
        "[x] 4 legs\n[x] 2 rails\n[ ] 8 M8 nuts\n\u{2717} 2 doors\n",
        Counted,
        &[
            "1: 4 legs",
            "2: 2 rails",
            &format!("3: - {open}"),
            &format!("4: - {open}"),
        ],
    );
    case(
        "count.txt",
        "[ ] 4 legs\n[ ] 8 M8 nuts\n",
        Counted,
        &["1: 4 legs", "2: 8 M8 hex nut"],
    );
    // A state in front of a thing is of its name, and so may be a number word behind one.
    let may = "a number behind plain words: it may be no count";
    case(
        "count.txt",
        "left stringer one\nshort side board 2\n8 M6 x 30 hex bolts\ndeck boards 22, one is split\n",
        Counted,
        &[
            &format!("1: 1 left stringer ? {may}"),
            &format!("2: 2 short side board ? {may}"),
            "3: 8 M6 x 30 hex bolt",
            "4: - aside: by its words it is no plain count: write good and damaged pieces apart (\"one is split\")",
        ],
    );
    // Three lines of plain words, none by the words of another, are no labels.
    case(
        "count.txt",
        "short side board 2\ncorner plate 4\ntop shelf 1\nM6 x 30 hex bolt 8\n",
        Counted,
        &[
            "1: 2 short side board",
            "2: 4 corner plate",
            "3: 1 top shelf",
            "4: 8 M6 x 30 hex bolt",
        ],
    );
    case(
        "count.txt",
        "8 M6 x 30 hex bolts\nbay 2\nbay 3\nbay 4\n",
        Counted,
        &[
            "1: 8 M6 x 30 hex bolt",
            &format!("2: 2 bay ? {may}"),
            &format!("3: 3 bay ? {may}"),
            &format!("4: 4 bay ? {may}"),
        ],
    );
    // A total of parts, a time of day, and an address on the web.
    case(
        "list.txt",
        "Jetty, 14:30\nbeam 3600 - 3\nbeam 2400 - 2\nbeam 1800 - 4\ntotal beams 9\n8 M8 x 60 hex bolts www.parts.example.test/b12\n",
        Required,
        &[
            "2: 3 beam 3600 [part]",
            "3: 2 beam 2400 [part]",
            "4: 4 beam 1800 [part]",
            "6: 8 M8 x 60 hex bolt",
        ],
    );
    // The sign of other lines, a word for such pieces, and parts in a row.
    case(
        "slip.txt",
        "posts - 4\nrollers - 2\nbase rails 2440 - 4\n8 M8 nuts\nglass 610x610 40 sheets\nrafters 4, purlins 6, caps 2\n",
        Shipped,
        &[
            "1: 4 posts",
            "2: 2 rollers",
            "3: 4 base rails 2440 [part]",
            "4: 8 M8 hex nut",
            "5: 40 glass 610x610 [part]",
            "6: 4 rafters",
            "6: 6 purlins",
            "6: 2 caps",
        ],
    );
}

/// How ordinary hands type lists: common practice, no source.
#[test]
fn words_about_counts_and_bags_alone() {
    let may = "a number behind plain words: it may be no count";
    let open = "aside: it is not ticked, and others are";
    // Words about the count.
    case(
        "count.txt",
        "Rail found 4\nCross brace found 2\n8 M8 nuts\nEnd cap: 7 there\n4 washers too many\n",
        Counted,
        &[
            "1: 4 rail",
            "2: 2 cross brace",
            "3: 8 M8 hex nut",
            "4: 7 end cap",
            "5: - aside: by its words it is no plain count: write good and damaged pieces apart (\"too many\")",
        ],
    );
    case(
        "count.txt",
        "Hiya, done the bench:\nuprights 8\ncross rails 11 one is bent\n32 M10 x 100 bolts\n64 M10 washers ok\n",
        Counted,
        &[
            "2: 8 uprights",
            "3: - aside: by its words it is no plain count: write good and damaged pieces apart (\"bent\")",
            "4: 32 M10 x 100 bolt",
            "5: 64 M10 flat washer",
        ],
    );
    let read_as = |written: &str, pieces: u64| {
        format!("\"{written}\" read as {pieces}: a letter in the place of a figure")
    };
    case(
        "slip.txt",
        "8 M8 nuts\nl6 hook rails\n4O M8 x 40 bolts\nroof panels 4 (pads)\nawning poles 2.4m x2\n",
        Shipped,
        &[
            "1: 8 M8 hex nut",
            &format!("2: 16 hook rails ? {}", read_as("l6", 16)),
            &format!("3: 40 M8 x 40 bolt ? {}", read_as("4O", 40)),
            "4: 4 roof panels ? the remark \"pads\" may change how many",
            "5: 2 awning poles 2.4m [part]",
        ],
    );
    // Of parts alone, in words, and with a count forgotten.
    case(
        "list.txt",
        "Parts list\nRail four\n6 M8 x 40 bolts\nspacers\nEnd cap seven\n",
        Required,
        &[
            &format!("2: 4 rail ? {may}"),
            "3: 6 M8 x 40 bolt",
            "4: - aside: no item found: it stands among the lines of the list, and no item with its count is found",
            &format!("5: 7 end cap ? {may}"),
        ],
    );
    case(
        "list.txt",
        "Rail 4\nBolt M8 x 40 6\nNut M8 6\n",
        Required,
        &[
            &format!("1: 4 rail ? {may}"),
            "2: 6 M8 x 40 bolt",
            "3: 6 M8 hex nut",
        ],
    );
    case(
        "list.txt",
        "step 5, 4 5/8 x 6 hex bolts\n",
        Required,
        &["1: 4 5/8 x 6 hex bolt [step 5]"],
    );
    // A list to tick whose lines are cut at their signs.
    case(
        "count.txt",
        "- [x] Rail (4)\n- [x] Post (2)\n- [ ] M8 x 60 hex bolt (24)\n",
        Counted,
        &["1: 4 rail", "2: 2 post", &format!("3: - {open}")],
    );
    case(
        "slip.txt",
        "12 x Wheel\n3 x Bag H1\n2 x hardware bag H2\n\nBag H3 x 2\n4 M8 nuts\n",
        Shipped,
        &[
            "1: 12 wheel",
            "2: 3 bag None [bag H1]",
            "3: 2 bag None [bag H2]",
            "5: 2 bag None [bag H3] ? what stands below it may be in it, and not beside it",
            "6: 4 M8 hex nut",
        ],
    );
    // The number of an order counts nothing.
    case(
        "slip.txt",
        "Order 20551 - shipped today\n2x frame side\n1x frame top\n16x M6x45 hex bolts\n",
        Shipped,
        &[
            "2: 2 frame side",
            "3: 1 frame top",
            "4: 16 M6 x 45 hex bolt",
        ],
    );
    // Bags as such on a slip.
    let taken = "nothing stands below it: taken for one whole bag";
    case(
        "slip.txt",
        "2 hinge\nbag A  1\nbag B  2\nBag C\nBag D\n4 M8 nuts\n",
        Shipped,
        &[
            "1: 2 hinge",
            "2: 1 bag None [bag A]",
            "3: 2 bag None [bag B]",
            &format!("4: 1 bag None [bag C] ? {taken}"),
            "6: 4 M8 hex nut [bag D]",
        ],
    );
}

/// Common practice, no source: parts lists number what an assembly is made of below its own number.
#[test]
fn assemblies_by_the_numbers_of_an_outline() {
    required(
        "Item,Description,Qty/Assy\n1,Post assembly,4\n1.1,Base plate,1\n1.2,M12 x 160 stud,4\n2,Rafter,6\n",
        &[
            "2: 4 post assembly [for reference]",
            "3: 1 x 4 base plate ? stands below 4 of \"Post assembly\": taken for each of them, 4 in all",
            "4: 4 x 4 M12 x 160 stud ? stands below 4 of \"Post assembly\": taken for each of them, 16 in all",
            "5: 6 rafter",
        ],
    );
}

/// Common practice, no source: a column of descriptions has many headings; one count taken back, and lists of
/// parts with little hardware, are ordinary.
#[test]
fn headings_of_which_that_of_the_description_is_not_known() {
    required(
        "Line,Our text,Qty ordered\n1,M10 hex nut,60\n2,Hoop section,21\n3,Door frame,2\n4,Purlin clamp,-2\n",
        &[
            "2: 60 M10 hex nut",
            "3: 21 hoop section",
            "4: 2 door frame",
            "5: - aside: \"-2\" is no count of pieces",
        ],
    );
}

/// Lists of two columns without headings, in text, cut text and below a title (common practice, no source).
#[test]
fn rows_without_headings_below_a_title() {
    let expected = [
        "3: 4 seat plank",
        "4: 6 cross bar",
        "5: 16 M8 x 50 hex bolt",
        "6: 16 M8 hex nut",
    ];
    let list = "Ferry bench\n\nseat plank|4\ncross bar|6\nM8 x 50 hex bolt|16\nM8 nut|16\n";
    for mark in ["|", "\t", ",", "    "] {
        case("list.txt", &list.replace('|', mark), Shipped, &expected);
    }
    // The maker's numbers alone, which a parts list explains; lengths of rails are no counts.
    case(
        "slip.txt",
        "PACKING LIST 4471\n\nFB-101    4\nFB-102   10\nFB-205   28\n",
        Shipped,
        &[
            "3: 4 [part FB-101]",
            "4: 10 [part FB-102]",
            "5: 28 [part FB-205]",
        ],
    );
}

/// Bare names of fasteners and their counts, as a bench has one kind of each (common practice, no source).
#[test]
fn counts_of_bare_names() {
    case(
        "count.txt",
        "Ferry bench, counted 5 May 2026\nlegs: 4\ncoach bolts: 8\nwashers: 8\nT nuts: 36\nwing nuts: 11, 1 cross threaded\n",
        Counted,
        &[
            "2: 4 legs",
            "3: 8 carriage bolt ? no size stated",
            "4: 8 flat washer ? no size stated",
            "5: 36 T-nut ? no size stated",
            "6: - wing nut ? no size stated ? \"11, 1 cross threaded\" says more than one figure: none is taken ? no quantity stated: not summed",
        ],
    );
    case(
        "count.txt",
        "8 M8 x 40 bolts\nT nuts 36\nnuts 8\n",
        Counted,
        &[
            "1: 8 M8 x 40 bolt",
            "2: 36 T-nut ? no size stated",
            "3: 8 hex nut ? no size stated",
        ],
    );
    case(
        "count.txt",
        "Bag 1: anchors 24, washers 12, nuts 22\nbag 2: clips 6\nBag 3: M8 x 40 12, M8 x 50 11, washers 46\n",
        Counted,
        &[
            "1: 24 anchor [bag 1] ? no size stated",
            "1: 12 flat washer [bag 1] ? no size stated",
            "1: 22 hex nut [bag 1] ? no size stated",
            "2: 6 clips [bag 2]",
            "3: 12 M8 x 40 [bag 3] ? the kind of fastener is not stated",
            "3: 11 M8 x 50 [bag 3] ? the kind of fastener is not stated",
            "3: 46 flat washer [bag 3] ? no size stated",
        ],
    );
    case(
        "count.txt",
        "bag A x2 - M8 nuts 16, clips 4\nbag C only one: 4 M8 nuts\n",
        Counted,
        &[
            "1: 16 M8 hex nut [bag A] ? \"bag A x2\": taken as in all of them, and not in each",
            "1: 4 clips [bag A] ? \"bag A x2\": taken as in all of them, and not in each",
            "2: 4 M8 hex nut [bag C]",
        ],
    );
}

/// One mark between count and name in all lines says which figure counts (common practice, no source).
#[test]
fn counts_by_the_mark_of_the_list() {
    case(
        "slip.txt",
        "bench\nlegs x 4\nrails x 2\ncoach bolts M8 x 45 x 8\nwashers M8 x 8\nfeet x 3\n",
        Shipped,
        &[
            "2: 4 legs",
            "3: 2 rails",
            "4: 8 M8 x 45 carriage bolt",
            "5: 8 M8 flat washer",
            "6: 3 feet",
        ],
    );
    let list = "4 x rails\n6 x bars\n12 x caps\n16 x M8 x 50 hex bolts\n60 x 5 x 40 wood screws\n";
    let expected = [
        "1: 4 rails",
        "2: 6 bars",
        "3: 12 caps",
        "4: 16 M8 x 50 hex bolt",
        "5: 60 M5 x 40 wood screw",
    ];
    case("list.txt", list, Shipped, &expected);
    let numbered = list
        .lines()
        .map(|line| line.replacen(" x ", " no. ", 1) + "\n")
        .collect::<String>();
    case("list.txt", &numbered, Shipped, &expected);
}

/// A thing that is a verb, too, in a section of a list (common practice, no source).
#[test]
fn lines_that_begin_like_sentences() {
    case(
        "list.txt",
        "Rails\n40 M8 nuts\n\nGate\nslide gate - 1\n3/4 x 3 bolts gr 5 - 4\nhang bar: 2\n3/4 locknuts - 4\n",
        Required,
        &[
            "2: 40 M8 hex nut",
            "5: 1 slide gate [Gate] ? a number behind plain words: it may be no count",
            "6: 4 3/4 x 3 bolt, Grade 5 [Gate]",
            "7: 2 hang bar [Gate] ? a number behind plain words: it may be no count",
            "8: 4 3/4 lock nut [Gate]",
        ],
    );
}

/// What a count says of a bag that did not come (common practice, no source).
#[test]
fn bags_that_did_not_come() {
    case(
        "count.txt",
        "Bag A: 8 M8 x 40 bolts\nBag B not in the box\nbag C never came\n",
        Counted,
        &[
            "1: 8 M8 x 40 bolt [bag A]",
            "2: - bag Some(false) [bag B]",
            "3: - bag Some(false) [bag C]",
        ],
    );
    for line in [
        "bag C missing",
        "no bag C",
        "- Bag C: none",
        "bag C not received",
        "bag C 0",
        "we have no bag C",
        "missing: bag C",
        "Bag C - isn't there",
    ] {
        let text = format!("8 M8 x 40 bolts\n{line}\n");
        let lines = ["1: 8 M8 x 40 bolt", "2: - bag Some(false) [bag C]"];
        case("count.txt", &text, Counted, &lines);
    }
    counted(
        "Item,Qty\n8 mm nut,4\nBag C,0\n",
        &["2: 4 M8 hex nut", "3: 0 bag Some(false) [bag C]"],
    );
    // Some of it, or nobody looked.
    for line in ["bag C 2 missing", "bag C not counted", "bag C short"] {
        let list = read_as(
            "count.txt",
            format!("8 M8 x 40 bolts\n{line}\n").as_bytes(),
            Counted,
            &[],
        );
        let list = list.expect("a count");
        assert!(
            list.lines.iter().all(|line| line.what
                != What::Bag {
                    received: Some(false)
                }),
            "{line}"
        );
    }
    counted(
        "Bag,Item,Good,Damaged,Received\nA,M8 washer,16,,yes\nB,M8 x 60 hex bolt,,,no\n",
        &[
            "2: 16 M8 flat washer [bag A]",
            "3: 0 M8 x 60 hex bolt [bag B] ? \"no\" under what was received: taken for none",
        ],
    );
}

/// A bag in front of what it holds, without a mark, or behind an item (common practice, no source).
#[test]
fn bags_beside_their_pieces() {
    let of_a = ["1: 16 M6 x 16 hex bolt [bag A]", "1: 16 M6 hex nut [bag A]"];
    for text in [
        "bag A 16 M6 x 16 hex bolts, 16 M6 hex nuts\n",
        "Bag A only 16 M6 x 16 hex bolts, 16 M6 hex nuts\n",
        "bag A with 16 M6 x 16 hex bolts and 16 M6 hex nuts\n",
        "bag A contains 16 M6 x 16 hex bolts and 16 M6 hex nuts\n",
    ] {
        case("count.txt", text, Counted, &of_a);
    }
    case(
        "count.txt",
        "bag A 16 bolts 16 nuts\n",
        Counted,
        &[
            "1: 16 bolt [bag A] ? no size stated",
            "1: 16 hex nut [bag A] ? no size stated",
        ],
    );
    case(
        "slip.txt",
        "- 4 hinges\n- bag with 12 5/8 x 2-1/2 bolts, 12 washers 5/8, 11 lock nuts 5/8\n",
        Shipped,
        &[
            "1: 4 hinges",
            "2: 12 5/8 x 2-1/2 bolt",
            "2: 12 5/8 flat washer",
            "2: 11 5/8 lock nut",
        ],
    );
    required(
        "Description,Qty\nM6 x 16 hex bolt (bag A),16\nM6 x 30 hex bolt - bag D,8\n\"M6 hex nut, in bag 2\",4\nM6 flat washer [Bag C],8\nGusset,2\n",
        &[
            "2: 16 M6 x 16 hex bolt [bag A]",
            "3: 8 M6 x 30 hex bolt [bag D]",
            "4: 4 M6 hex nut [bag 2]",
            "5: 8 M6 flat washer [bag C]",
            "6: 2 gusset",
        ],
    );
    case(
        "parts.txt",
        "M6 x 16 hex bolt (bag A) .... 16\nM6 hex nut (bag B) .... 12\nGusset .... 4\n",
        Required,
        &[
            "1: 16 M6 x 16 hex bolt [bag A]",
            "2: 12 M6 hex nut [bag B]",
            "3: 4 gusset",
        ],
    );
}

/// Units of sizes in whole words.
#[test]
fn millimetres_in_words() {
    case(
        "count.txt",
        "eight hex bolts twelve millimetres by sixty\n6 hex bolts twelve by sixty millimeters\neight twelve millimeter hex nuts\n4 anchor rods twenty millimeter by six hundred\n",
        Counted,
        &[
            "1: 8 M12 x 60 hex bolt",
            "2: 6 M12 x 60 hex bolt",
            "3: 8 M12 hex nut",
            "4: 4 M20 x 600 anchor",
        ],
    );
}

/// Columns of a hand's count: `OK` over figures is good, what is lost is no count, and a nought is a figure
/// (common practice, no source).
#[test]
fn columns_of_a_count() {
    counted(
        "Item,OK,Bent,Lost\nM8 x 40 bolt,15,1,0\nM8 nut,14,0,2\n",
        &[
            "2: 15+1 damaged M8 x 40 bolt",
            "3: 14 M8 hex nut ? 2 under \"Lost\" beside 14: not counted",
        ],
    );
}

/// Units that say how many are in a pack; a figure in a unit that is not known may multiply (common practice,
/// no source).
#[test]
fn packs_as_units() {
    shipped(
        "Item,Qty,UOM\nM8 nut,1,BX100\nM8 washer,3,PK25\nM8 x 40 bolt,2,box of 200\nM10 nut,2,QQ50\n",
        &[
            "2: 100 M8 hex nut",
            "3: 75 M8 flat washer",
            "4: 400 M8 x 40 bolt",
            "5: - M10 hex nut ? 2 of the unit \"QQ50\", which is not known: not summed",
        ],
    );
}

/// A condition in a stage's title holds for its lines (common practice, no source).
#[test]
fn conditions_in_titles() {
    case(
        "guide.md",
        "## 1 Base\n\nFix the base with four M8 x 40 hex bolts.\n\n## 2 Lights (only with the light kit)\n\nFix the bar with two M6 x 20 pan head screws.\n",
        Required,
        &[
            "3: 4 M8 x 40 hex bolt [1 Base]",
            "7: 2 M6 x 20 pan head screw [2 Lights (only with the light kit)] [with light kit]",
        ],
    );
    case(
        "list.txt",
        "Stage 1: Roof (only with two people)\n8 M8 nuts\n",
        Required,
        &[
            "2: 8 M8 hex nut [Stage 1: Roof (only with two people)] ? \"Stage 1: Roof (only with two people)\" may say which of its lines are needed, or how often: taken as new, and once",
        ],
    );
}

/// A stage's number and its name in a column each (common practice, no source).
#[test]
fn stages_by_number_and_name() {
    required(
        "Stage no.,Stage,Part,Qty\n1,Sill,M8 x 40 bolt,4\n2,Braces,M8 x 50 bolt,4\n",
        &["2: 4 M8 x 40 bolt [1 Sill]", "3: 4 M8 x 50 bolt [2 Braces]"],
    );
    required(
        "Bag/Box,Part,Qty\nBox 1,Deck board,4\nH1,M8 nut,4\n",
        &["2: 4 deck board [box 1]", "3: 4 M8 hex nut [bag H1]"],
    );
}

/// One unit holds for a column of sizes: a length of 40 is none in inches, nor is the 8 of the nut below it then
/// a number size (common practice, no source).
#[test]
fn one_unit_in_a_column() {
    required(
        "Description,Dia,Lg,Qty\nHex bolt,8,40,16\nHex nut,8,,16\n",
        &["2: 16 M8 x 40 hex bolt", "3: 16 M8 hex nut"],
    );
    required(
        "Description,Dia,Lg,Qty\nMachine screw,8,2,16\nHex nut,8,,16\n",
        &[
            "2: 16 #8 x 2 machine screw",
            "3: 16 #8 hex nut ? may be #8 or M8",
        ],
    );
}

/// Common practice, no source.
#[test]
fn counts_said_in_no_number_are_aside() {
    listed(
        "8 M8 x 40 hex bolts\n4 links\ntensioners, same number as links\ndoor hinges - a pair or two\n",
        &[
            "1: 8 M8 x 40 hex bolt",
            "2: 4 links",
            "3: - aside: no item found: how many is said in no number (\"same number as\")",
            "4: - aside: no item found: how many is said in no number (\"a pair or two\")",
        ],
    );
}

/// Designations of standards, as these tell to order, and washers by their hole (DIN 125, 127, 9021, 7504, 444, ISO
/// 7089, 2341, 1234: from memory).
#[test]
fn designations_of_standards() {
    shipped(
        "Pos;Artikel;Menge\n1;Scheibe DIN 125-A17;24\n2;ISO 7089-12-A4;60\n3;DIN 9021-10,5 A2;20\n4;DIN 127-B10 A4;8\n5;DIN 7504-K 4,8x38 A2;250\n6;DIN 444-B M12x80 A4;2\n7;DIN 94 4x40 A4;6\n8;ISO 2341-B 12x60 A4;6\n",
        &[
            "2: 24 M16 flat washer",
            "3: 60 M12 flat washer, A4",
            "4: 20 M10 fender washer, A2",
            "5: 8 M10 split lock washer, A4",
            "6: 250 4.8 x 38 self-drilling screw, A2",
            "7: 2 M12 x 80 eye bolt, A4",
            "8: 6 M4 x 40 cotter pin, A4",
            "9: 6 M12 x 60 clevis pin, A4",
        ],
    );
    required(
        "Bezeichnung;Norm;Abmessung;Menge\nWasher;DIN 125;A17;24\nSpring washer;DIN 127;B10;8\nWasher;DIN 9021;10,5;20\nHex bolt 8.8;DIN 931;M16x140;12\n",
        &[
            "2: 24 M16 flat washer",
            "3: 8 M10 split lock washer",
            "4: 20 M10 fender washer",
            "5: 12 M16 x 140 hex bolt, 8.8, part thread",
        ],
    );
}
