//! Guides as people write them: titles, lists and sentences that only together say how many.

use super::*;

/// A line in short: row, pieces at all places, what becomes of them, stage, and `?` where it is in doubt.
fn told(list: &List, line: &Line) -> String {
    let place = list.placement_of(line);
    let pieces = line.quantity.map(|pieces| pieces * u64::from(line.places));
    let pieces = match line.what {
        What::Aside(_) => "aside".to_owned(),
        _ => pieces.map_or("-".to_owned(), |pieces| pieces.to_string()),
    };
    let usage = place
        .usage
        .map_or(String::new(), |usage| format!(" {usage}"));
    let doubted = if list.doubts_of(line).next().is_some() {
        " ?"
    } else {
        ""
    };
    format!(
        "{}: {pieces}{usage} [{}]{doubted}",
        line.row,
        place.stage.as_deref().unwrap_or_default()
    )
}

/// `text`: its lines are parted by ` / `.
#[track_caller]
fn guide(text: &str, expected: &[&str]) {
    let lines = text.replace(" / ", "\n");
    let list = read_as("guide.md", format!("{lines}\n").as_bytes(), Required, &[]).unwrap();
    let found: Vec<String> = list.lines.iter().map(|line| told(&list, line)).collect();
    assert_eq!(found, expected, "{text}");
}

#[test]
fn parts_in_which_each_stage_is_written() {
    let stages = [
        "4: 4 [Legs]",
        "6: 4 for reference [Legs]",
        "9: 2 [Top]",
        "11: 2 for reference [Top]",
    ];
    for (list, work) in [
        ("### Hardware", "### Assembly"),
        ("Hardware:", "Steps:"),
        ("#### Bits", "#### Doing it"),
    ] {
        let text = format!(
            "# Bench / ## Legs / {list} / - 4 M8 x 40 bolts / {work} / Fit four M8 x 40 bolts. / ## Top / {list} / - 2 M8 x 60 bolts / {work} / Fit two M8 x 60 bolts."
        );
        guide(&text, &stages);
    }
    guide(
        "Stage 1: Legs / Steps / - Fit four M8 x 40 bolts. / Stage 2: Top / Steps / - Fit two M8 x 60 bolts.",
        &["3: 4 [Stage 1: Legs]", "6: 2 [Stage 2: Top]"],
    );
}

#[test]
fn people_and_time_are_no_pieces() {
    guide(
        "Stage 1 / Two people needed / Fit four M8 x 40 bolts. / 20 minutes / 3 days to dry",
        &["3: 4 [Stage 1]"],
    );
    guide(
        "Stage 1 / Fit four M8 x 40 bolts. / 2 coats of paint",
        &["2: 4 [Stage 1]", "3: aside [Stage 1]"],
    );
}

#[test]
fn few_words_that_repeat() {
    for text in [
        "Other side the same",
        "Right leg likewise",
        "Opposite side identical",
        "Mirror image on the right",
    ] {
        let text = format!("Stage 1 / Fit four M8 x 40 bolts. / {text} / Fit two M8 x 60 bolts.");
        guide(
            &text,
            &["2: 4 [Stage 1]", "3: 4 [Stage 1] ?", "4: 2 [Stage 1]"],
        );
    }
    guide(
        "Stage 1 / Fit four M8 x 40 bolts. / 4 times",
        &["2: 4 [Stage 1]", "3: 12 [Stage 1] ?"],
    );
    for text in ["Both sides", "Right leg same"] {
        guide(
            &format!("Stage 1 / Fit four M8 x 40 bolts. / {text}"),
            &["2: 4 [Stage 1] ?"],
        );
    }
    // The title of what follows.
    guide(
        "Stage 1 / Fit four M8 x 40 bolts. / Right leg / Fit two M8 x 60 bolts.",
        &["2: 4 [Stage 1]", "4: 2 [Stage 1]"],
    );
}

#[test]
fn work_told_for_several() {
    let rails = "Fit the rails with four M8 x 40 bolts.";
    let each = "There are two side frames. For each, do the following:";
    guide(
        &format!("Stage 1 / {each} / 1. {rails}"),
        &["3: 8 [Stage 1]"],
    );
    for lead in [
        "Do this for both side frames.",
        "For each frame, do the following:",
        "Assemble two side frames:",
        "Only one side is shown.",
        "(one side shown)",
    ] {
        guide(
            &format!("Stage 1 / {lead} / - {rails}"),
            &["3: 4 [Stage 1] ?"],
        );
    }
    guide(
        "Stage 1 / There are two frames. Assemble each with four M8 x 40 bolts. Then brace it with two M8 x 60 bolts.",
        &["2: 8 [Stage 1]", "2: 2 [Stage 1] ?"],
    );
    guide(
        "Stage 1 - Legs / Bolt the legs on with two M8 x 40 bolts. / Stage 2 - Rail / Fit the rail with two M8 x 60 bolts. / Build the second sawhorse in the same way.",
        &[
            "2: 2 [Stage 1 - Legs] ?",
            "4: 2 [Stage 2 - Rail]",
            "5: 2 [Stage 2 - Rail] ?",
        ],
    );
}

#[test]
fn words_in_front_of_a_list_go_no_further() {
    for lead in ["On both sides:", "For each of the two legs:"] {
        guide(
            &format!(
                "Stage 1 / {lead} / - fit one M8 x 40 bolt / - fit one M8 nut /  / Fit the top with two M6 x 20 screws."
            ),
            &["3: 2 [Stage 1]", "4: 2 [Stage 1]", "6: 2 [Stage 1]"],
        );
    }
    // Without a bullet right below them it may be of the list.
    guide(
        "Stage 1 / For each of the four legs: / 1. Fit two M8 x 40 bolts. / Join the legs with one M10 x 60 bolt.",
        &["3: 8 [Stage 1]", "4: 1 [Stage 1] ?"],
    );
    guide(
        "Stage 1 / For each of the four legs use: / - 2 M8 x 40 bolts /  / - 6 M6 x 20 screws /  / Fit the top with two M5 x 20 screws.",
        &["3: 8 [Stage 1]", "5: 6 [Stage 1] ?", "7: 2 [Stage 1]"],
    );
}

#[test]
fn twins_without_hardware() {
    for (one, twin) in [
        (
            "Hang the left door with six M5 x 20 screws.",
            "Hang the right door.",
        ),
        (
            "Hang the first swing with six M5 x 20 screws.",
            "Now hang the remaining two swings.",
        ),
        (
            "Make the left side frame with six M5 x 20 screws.",
            "Then make the right one.",
        ),
        (
            "Fix the front panel with six M5 x 20 screws.",
            "Slide in the back panel.",
        ),
        (
            "Insert six of the twelve M5 x 20 screws in the top.",
            "Insert the other six in the base.",
        ),
    ] {
        guide(&format!("Stage 1 / {one} {twin}"), &["2: 6 [Stage 1] ?"]);
        guide(
            &format!("Stage 1 / {one} Check that it is level."),
            &["2: 6 [Stage 1]"],
        );
    }
    // Its hardware is named behind it.
    guide(
        "Stage 1 / Hang the left door with six M5 x 20 screws. Hang the right door. Fix it with six M5 x 20 screws.",
        &["2: 6 [Stage 1]", "2: 6 [Stage 1]"],
    );
    for twin in [
        "Assemble the right frame as a mirror image.",
        "Follow the steps for the left frame.",
    ] {
        guide(
            &format!(
                "Stage 1 - Left frame / Fit the rails with four M8 x 40 bolts. / Stage 2 - Right frame / {twin}"
            ),
            &[
                "2: 4 [Stage 1 - Left frame]",
                "4: aside [Stage 2 - Right frame]",
            ],
        );
    }
    for same in ["As stage 1.", "See stage 1."] {
        guide(
            &format!(
                "Stage 1 - North end / Fit four M8 x 40 bolts. / Stage 2 - South end / {same}"
            ),
            &[
                "2: 4 [Stage 1 - North end]",
                "4: aside [Stage 2 - South end]",
            ],
        );
    }
}

#[test]
fn ways_to_do_the_same() {
    let (timber, concrete) = ("Fit four 1/4 x 2 lag screws.", "Fit four 3/8 x 3 anchors.");
    guide(
        &format!("Stage 1 / On a timber base: / {timber} / On a concrete base: / {concrete}"),
        &["3: 4 [Stage 1] ?", "5: 4 [Stage 1] ?"],
    );
    guide(
        &format!(
            "Stage 1 / Option A - Timber base / {timber} / Option B - Concrete base / {concrete}"
        ),
        &["3: 4 [Stage 1] ?", "5: 4 [Stage 1] ?"],
    );
    guide(
        &format!("Stage 2A - Timber base / {timber} / Stage 2B - Concrete base / {concrete}"),
        &[
            "2: 4 [Stage 2A - Timber base] ?",
            "4: 4 [Stage 2B - Concrete base] ?",
        ],
    );
    guide(
        "Stage 1 / Fit four M8 x 40 bolts. Go to stage 3 if you have no brace. / Stage 2 / Fit four M8 x 60 bolts. / Stage 3 / Fit two M8 x 70 bolts.",
        &["2: 4 [Stage 1]", "4: 4 [Stage 2] ?", "6: 2 [Stage 3]"],
    );
}

#[test]
fn lists_beside_sentences() {
    for step in ["1", "Step 1"] {
        guide(
            &format!(
                "| Step | Item | Qty | / |---|---|---| / | {step} | M8 x 20 hex bolt | 12 | /  / ## Step 1 / Bolt the shelf on with twelve M8 x 20 bolts."
            ),
            &["3: 12 [Step 1]", "6: 12 for reference [Step 1]"],
        );
    }
    guide(
        "# Bench / ## Step 1 / Fit the legs with two M8 x 50 bolts. / ## Step 2 / Fix the top with four M6 x 40 screws. / ## Hardware list / - 2 M8 x 50 bolts / - 4 M6 x 40 screws",
        &[
            "3: 2 [Step 1]",
            "5: 4 [Step 2]",
            "7: 2 for reference [Hardware list]",
            "8: 4 for reference [Hardware list]",
        ],
    );
    guide(
        "Stage 1 / Hardware needed: 12 M10 x 70 bolts and 12 M10 nuts / Bolt each of the four feet with three M10 x 70 bolts and three M10 nuts.",
        &[
            "2: 12 [Stage 1]",
            "2: 12 [Stage 1]",
            "3: 12 for reference [Stage 1]",
            "3: 12 for reference [Stage 1]",
        ],
    );
}

#[test]
fn what_stages_before_called_for() {
    // For the lid, which is not the hub: four more, or the same.
    guide(
        "Stage 1 / Fit four M8 x 40 bolts to the hub. / Stage 2 / Secure the lid with the four M8 x 40 bolts.",
        &["2: 4 [Stage 1]", "4: 4 [Stage 2] ?"],
    );
    // What was taken off and kept serves again.
    for back in [
        "Secure the lid with the four M8 x 40 bolts.",
        "Refit the four M8 x 40 bolts.",
        "Mount the wheel with the four M8 x 40 bolts you kept.",
        "Mount the wheel using the four M8 x 40 bolts removed in stage 1.",
        "Reattach the hub with the four M8 x 40 bolts.",
    ] {
        guide(
            &format!(
                "Stage 1 / Remove the four M8 x 40 bolts from the hub and keep them. / Stage 2 / {back}"
            ),
            &["2: 4 returned [Stage 1]", "4: 4 [Stage 2]"],
        );
    }
    // More than were kept.
    guide(
        "Stage 1 / Remove two M8 x 40 bolts from the hub and keep them. / Stage 2 / Refit the four M8 x 40 bolts.",
        &["2: 2 returned [Stage 1]", "4: 4 [Stage 2] ?"],
    );
    // A list in front is what its steps put to use.
    guide(
        "Hardware / 4 M8 x 40 bolts / Stage 1 / Clean the hub. / Stage 2 / Secure the lid with the four M8 x 40 bolts.",
        &["2: 4 []", "6: 4 for reference [Stage 2]"],
    );
}

#[test]
fn pieces_that_two_sentences_may_name() {
    // Two places, maybe: the pieces of one would be lost.
    guide(
        "Stage 1 / Fit four M8 x 40 bolts to the base. You will need four M8 x 40 bolts for the top.",
        &["2: 4 for reference [Stage 1]", "2: 4 [Stage 1] ?"],
    );
    guide(
        "Stage 1 / This bracket needs four M8 x 40 bolts. Fit the next bracket with four M8 x 40 bolts.",
        &["2: 4 [Stage 1] ?", "2: 4 for reference [Stage 1]"],
    );
    for whole in [
        "In this stage the legs are bolted on with eight M8 x 50 bolts.",
        "The top has eight M8 x 50 bolts.",
    ] {
        guide(
            &format!("Stage 1 / {whole} / 1. Put eight M8 x 50 bolts in."),
            &["2: 8 [Stage 1] ?", "3: 8 [Stage 1]"],
        );
    }
    guide(
        "Stage 1 / Fit twelve M8 x 40 bolts to the legs. / The legs are now held by twelve M8 x 40 bolts.",
        &["2: 12 [Stage 1]", "3: 12 [Stage 1] ?"],
    );
    guide(
        "Stage 1 / Fit four M8 x 40 bolts. In stage 2 you will add two M8 x 60 bolts.",
        &["2: 4 [Stage 1]", "2: 2 [Stage 1] ?"],
    );
    for title in ["Troubleshooting", "Stage 2 - Check"] {
        let text = format!(
            "Stage 1 / Fit eight M8 x 40 bolts. / {title} / The legs are held by eight M8 x 40 bolts."
        );
        let stage = if title.starts_with("Stage") {
            title
        } else {
            "Stage 1"
        };
        guide(&text, &["2: 8 [Stage 1]", &format!("4: 8 [{stage}] ?")]);
    }
    for unsaid in [
        "Fix the seat with the contents of bag 4.",
        "Fix to the wall with suitable fixings.",
    ] {
        guide(
            &format!("Stage 1 / Fit eight M8 x 40 bolts. / {unsaid}"),
            &["2: 8 [Stage 1]", "3: aside [Stage 1]"],
        );
    }
    guide(
        "Stage 1 / Fit eight M8 x 40 bolts. / Concrete anchors are by others.",
        &["2: 8 [Stage 1]", "3: - not in this kit [Stage 1] ?"],
    );
}

#[test]
fn lists_each_behind_words_of_its_own() {
    let (legs, top) = ("For each of the four legs:", "For the top:");
    guide(
        &format!(
            "Stage 1 - Legs / {legs} / - fit two M8 x 40 bolts / {top} / - fit six M6 x 20 screws / On both sides: / - fit three M5 x 20 screws"
        ),
        &[
            "3: 8 [Stage 1 - Legs]",
            "5: 6 [Stage 1 - Legs]",
            "7: 6 [Stage 1 - Legs]",
        ],
    );
    guide(
        &format!(
            "Stage 1 - Legs / {legs} / 1. Fit two M8 x 40 bolts. / 2. Fit two M8 nuts. / {top} / 1. Fit six M6 x 20 screws."
        ),
        &[
            "3: 8 [Stage 1 - Legs]",
            "4: 8 [Stage 1 - Legs]",
            "6: 6 [Stage 1 - Legs]",
        ],
    );
    guide(
        &format!(
            "Stage 1 - Legs / Top: / - fit six M6 x 20 screws / {legs} / - fit two M8 x 40 bolts"
        ),
        &["3: 6 [Stage 1 - Legs]", "5: 8 [Stage 1 - Legs]"],
    );
}

#[test]
fn the_last_list_of_what_all_steps_put_in() {
    let steps = "# Bench / ## Step 1 / Bolt the four legs with two M8 x 50 bolts each. / ## Step 2 / Fix the top with four M6 x 40 screws.";
    for list in [
        "- 8 M8 x 50 bolts / - 4 M6 x 40 screws",
        "8 M8 x 50 bolts / 4 M6 x 40 screws",
        "Bag 1: 8 M8 x 50 bolts / Bag 2: 4 M6 x 40 screws",
    ] {
        guide(
            &format!("{steps} /  / {list}"),
            &[
                "3: 8 [Step 1]",
                "5: 4 [Step 2]",
                "7: 8 for reference [Step 2]",
                "8: 4 for reference [Step 2]",
            ],
        );
    }
    guide(
        &format!("{steps} / - 10 M8 x 50 bolts / - 4 M6 x 40 screws"),
        &[
            "3: 8 [Step 1]",
            "5: 4 for reference [Step 2]",
            "6: 10 [Step 2] ?",
            "7: 4 [Step 2]",
        ],
    );
    // Of its own stage.
    guide(
        &format!("{steps} / - 4 M6 x 40 screws"),
        &[
            "3: 8 [Step 1]",
            "5: 4 for reference [Step 2]",
            "6: 4 [Step 2]",
        ],
    );
    guide(
        &format!("{steps} /  / You should have used 8 M8 x 50 bolts."),
        &["3: 8 [Step 1]", "5: 4 [Step 2]", "7: 8 [Step 2] ?"],
    );
}

/// A U-bolt holds by two nuts, one on each end. Common practice, no source.
#[test]
fn nuts_of_u_bolts() {
    for (text, expected) in [
        (
            "Stage 1 - Legs / Fit two 3/8 U-bolts with two nuts and two washers.",
            [
                "2: 2 [Stage 1 - Legs]",
                "2: 2 [Stage 1 - Legs] ?",
                "2: 2 [Stage 1 - Legs] ?",
            ],
        ),
        (
            "Stage 1 - Legs / Fit two 3/8 U-bolts with four nuts and four washers.",
            [
                "2: 2 [Stage 1 - Legs]",
                "2: 4 [Stage 1 - Legs]",
                "2: 4 [Stage 1 - Legs]",
            ],
        ),
        (
            "Stage 1 - Legs / Fit two 3/8 x 4 hex bolts with two nuts and two washers.",
            [
                "2: 2 [Stage 1 - Legs]",
                "2: 2 [Stage 1 - Legs]",
                "2: 2 [Stage 1 - Legs]",
            ],
        ),
    ] {
        guide(text, &expected);
    }
}

#[test]
fn what_a_sentence_leaves_to_be_asked() {
    for (text, asked) in [
        (
            "Hang the left door with six M5 x 20 screws, then hang the right door.",
            true,
        ),
        (
            "Bolt arm L to the frame with four M8 x 40 bolts, then arm R.",
            true,
        ),
        ("Bolt A to B with two M8 x 40 bolts, and C to D.", true),
        (
            "Fit one M8 x 50 bolt, check for level, then the rest.",
            true,
        ),
        (
            "Bolt the brace on with two M8 x 50 bolts (LH and RH).",
            true,
        ),
        ("Bolt the L & R braces on with two M8 x 50 bolts.", true),
        (
            "Drill two holes in each of the four legs and fit an M8 x 40 bolt in each.",
            true,
        ),
        (
            "Fit M8 x 40 bolts at both ends of the beam (two each) and at the post (one).",
            true,
        ),
        (
            "Six M8 x 40 bolts go in the leg, one goes in the arm.",
            true,
        ),
        ("One M8 x 40 bolt is used at the end posts.", true),
        (
            "For the 6 ft kit fit two M8 x 40 bolts; for the 8 ft kit fit four.",
            true,
        ),
        ("For thick boards use two M8 x 60 bolts.", true),
        (
            "Small: two M8 x 40 bolts. Large: three M8 x 40 bolts.",
            true,
        ),
        (
            "Pin the tongue with one 5/8 x 3 clevis pin and a split ring.",
            true,
        ),
        (
            "Fit the rails with four M8 x 40 bolts. Build the other side frame.",
            true,
        ),
        (
            "The bracket has four holes; fit an M8 x 40 bolt in each.",
            false,
        ),
        (
            "Fix the left arm with two M8 x 40 bolts, then level the right arm.",
            false,
        ),
        ("Fit one M8 x 40 bolt and one M8 nut.", false),
    ] {
        let list = read_list("guide.md", format!("Stage 1 - Legs\n{text}\n"), Required);
        let mut doubted = list
            .lines
            .iter()
            .map(|line| list.doubts_of(line).count() > 0);
        assert!(!list.lines.is_empty(), "{text}");
        assert_eq!(doubted.any(|doubted| doubted), asked, "{text}");
    }
}
