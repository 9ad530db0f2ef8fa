//! Whole texts, in the forms that people give them. Common practice, no source.

use super::{Counted, Line, Required, case, counted, listed, read_list, shipped, short};

#[test]
fn signs_between_item_and_count() {
    listed(
        "Footbridge\nTF-100 x2 girder, left\nTF-120 x14 deck board 1200\nTF-130 x28 M10x70 carriage bolt\nTF-150 x? ramp board\n",
        &[
            "2: 2 girder, left [part TF-100]",
            "3: 14 deck board 1200 [part TF-120]",
            "4: 28 M10 x 70 carriage bolt",
            "5: - aside: no item found: it stands among the lines of the list, and no item with its count is found",
        ],
    );
    listed(
        "A   Side panel, left          (1)\nB   Roof panel                (3)\nE   M8 x 60 carriage bolt    (12)\nK   Rubber strip 2400         (2)\n",
        &[
            "1: 1 side panel, left",
            "2: 3 roof panel",
            "3: 12 M8 x 60 carriage bolt",
            "4: 2 rubber strip 2400 [part]",
        ],
    );
    shipped(
        "24 // 5/8 x 12 hex bolt // galv\n8 // stringer plate // black\n2 // hand rail 8 ft // cedar\n// post base // to come\n",
        &[
            "1: 24 5/8 x 12 hex bolt, galvanised",
            "2: 8 stringer plate black",
            "3: 2 hand rail 8 ft cedar [part]",
            "4: - aside: no item found: it stands among the lines of the list, and no item with its count is found",
        ],
    );
    counted(
        "posts 4 of 4\nrafters 5 of 6\nhex bolts M12x120 20 of 24\nroof sheets 6 of 6 (1 bent)\n",
        &[
            "1: 4 posts",
            "2: 5 rafters",
            "3: 20 M12 x 120 hex bolt",
            "4: - aside: by its words it does not say how many are good",
        ],
    );
    // A size of the inch rule is none of many.
    case(
        "count.txt",
        "16 hex bolts 5/8 x 6\n8 washers 1/2\n8 nuts 1/2\nA1: 4 hex bolts 3/8 x 2, 8 nuts 3/8\n",
        Counted,
        &[
            "1: 16 5/8 x 6 hex bolt",
            "2: 8 1/2 flat washer",
            "3: 8 1/2 hex nut",
            "4: 4 3/8 x 2 hex bolt",
            "4: 8 3/8 hex nut",
        ],
    );
    case(
        "count.txt",
        "posts 4/4\nrafters 6/6\nroof sheets 8/8\nhooks 3/4\n",
        Counted,
        &[
            "1: 4 posts",
            "2: 6 rafters",
            "3: 8 roof sheets",
            "4: 3 hooks",
        ],
    );
    // Where most counts stand, a figure of a name is none.
    listed(
        "2 pipe DN50, 1000\n6 elbow DN50\n2 tee DN50\n8 pipe clip DN50\n",
        &[
            "1: 2 pipe dn50, 1000 [part]",
            "2: 6 elbow dn50 [part]",
            "3: 2 tee dn50 [part]",
            "4: 8 pipe clip dn50 [part]",
        ],
    );
}

/// Parts alone, behind who says them.
#[test]
fn a_chat_of_parts() {
    case(
        "count.txt",
        "[18.05.2026, 09:12] Ida: foot plates 8\n[18.05.2026, 09:12] Ida: posts 8\n[18.05.2026, 09:14] Ida: hoops 12\n",
        Counted,
        &["1: 8 foot plates", "2: 8 posts", "3: 12 hoops"],
    );
}

#[test]
fn records_of_two_lines() {
    shipped(
        "TILL 3\nHEX BOLT M6X40 ZINC\n  24 x 0.12   2.88\nBUTT HINGE 75MM\n   4 x 2.35   9.40\nHASP 90MM   3.45\nCORNER BRACE 50MM\n   8 x 0.85   6.80\nTOTAL   22.53\n",
        &[
            "2: 24 M6 x 40 hex bolt, zinc plated",
            "4: 4 butt hinge 75mm [part]",
            "6: - aside: no item found: it stands among the lines of the list, and no item with its count is found",
            "7: 8 corner brace 50mm [part]",
        ],
    );
}

#[test]
fn what_stands_between_lines_is_never_lost() {
    // Nor what a note calls for.
    listed(
        "8 1/2 x 3 hex bolts\nnote: 6 3/8 nuts\nnote: oil the nuts\nNB: 6 M8 nuts\n4 1/4 washers\n",
        &[
            "1: 8 1/2 x 3 hex bolt",
            "2: - aside: no item found: it stands among the lines of the list, and no item with its count is found",
            "4: - aside: no item found: it stands among the lines of the list, and no item with its count is found",
            "5: 4 1/4 flat washer",
        ],
    );
    listed(
        "KIT\n4 posts\nan axle\n40 M8 nuts\nRoof\n6 sheets\n",
        &[
            "2: 4 posts",
            "3: - aside: no item found: it stands among the lines of the list, and no item with its count is found",
            "4: 40 M8 hex nut",
            "6: 6 sheets",
        ],
    );
    listed(
        "24 M8 nuts\n6 brackets\nBay 2 same as bay 1\n8 posts\n",
        &[
            "1: 24 M8 hex nut",
            "2: 6 brackets",
            "3: - aside: no item found: it refers to what stands elsewhere (\"same as bay 1\"): write it out",
            "4: 8 posts",
        ],
    );
}

#[test]
fn titles_numbered_in_turn() {
    listed(
        "1 Frame\n4 posts\n8 M8 x 60 bolts\n\n2 Roof\n3 sheets\n",
        &[
            "2: 4 posts [1 Frame]",
            "3: 8 M8 x 60 bolt [1 Frame]",
            "6: 3 sheets [2 Roof]",
        ],
    );
}

#[test]
fn bags_in_front_and_behind() {
    listed(
        "Kayak trolley - what to put in the bags of one\nBag A: 4 x M8x55 hex bolt, 4 x M8 lock nut\nBag B: 6 x foam pad\nLoose: 1 x left frame, 1 x right frame\n8 M8 washers (bag C)\n",
        &[
            "2: 4 M8 x 55 hex bolt [bag A]",
            "2: 4 M8 lock nut [bag A]",
            "3: 6 foam pad [bag B]",
            "4: 1 left frame",
            "4: 1 right frame",
            "5: 8 M8 flat washer [bag C]",
        ],
    );
}

#[test]
fn counts_in_front_of_words_of_measure() {
    shipped(
        "12 foot plates\n8 posts\n48x 5x60 wood screws\n16 rafters\n4 M8 x 60 bolts\n",
        &[
            "1: 12 foot plates",
            "2: 8 posts",
            "3: 48 M5 x 60 wood screw",
            "4: 16 rafters",
            "5: 4 M8 x 60 bolt",
        ],
    );
}

#[test]
fn a_line_with_a_bullet_goes_on_below() {
    listed(
        "- 2 gate hinges,\n  heavy\n- 16 M12 nuts\n- 1 latch\n",
        &["1: 2 gate hinges, heavy", "3: 16 M12 hex nut", "4: 1 latch"],
    );
}

/// Where no blank lines part the records, one that lacks what the others begin with may be mixed with the next.
#[test]
fn records_that_may_be_mixed() {
    let doubt =
        "the fields of two records may be mixed here: one of them lacks what the others begin with";
    listed(
        "Part: post cap\nQty: 4\nQty: 6\nPart: post foot\nQty: 8\nPart: rail\nQty: 2\n",
        &[
            "1: 4 post cap",
            &format!("3: 6 post foot ? {doubt}"),
            &format!("5: 8 rail ? {doubt}"),
            &format!(
                "7: - aside: no item found: {}",
                "2 stands here and no item; the lines above come to 18, so that it is no total of theirs: what is it of?"
            ),
        ],
    );
}

/// A line that holds more lines than a row may name items is aside: each would show the whole of it.
#[test]
fn a_line_of_very_many() {
    for (phrase, bag) in [("see Figure 2, ", ""), ("post 2, ", "Bag A: ")] {
        let text = format!(
            "8 M8 nuts\n6 M6 nuts\n{bag}{}\n4 M5 nuts\n",
            phrase.repeat(400)
        );
        let list = read_list("list.txt", text, Required);
        let of_row: Vec<&Line> = list.lines.iter().filter(|line| line.row == 3).collect();
        assert_eq!(of_row.len(), 1, "{phrase}");
        let said = short(&list, of_row[0]);
        assert!(
            said.contains("400 items in one row are no line of a list"),
            "{said}"
        );
    }
}
