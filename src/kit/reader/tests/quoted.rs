//! Mails that carry earlier ones along.

use pretty_assertions::assert_eq;

use super::*;

/// The lines read, and what is said of those passed over.
#[track_caller]
fn case(text: &str, role: Role, expected: &[&str], notes: &[&str]) {
    let list = read_list("mail.txt", text, role);
    let lines: Vec<String> = list.lines.iter().map(|line| short(&list, line)).collect();
    assert_eq!(lines, expected);
    assert_eq!(list.sheets[0].notes, notes);
}

#[test]
fn a_reply_below_the_list() {
    let list = "Hello Ada,\n\nfor the shelter roof:\n\n- 16 M8 x 60 hex bolts\n- 16 M8 nuts\n\nRegards\nBen\n\n";
    let lines = ["5: 16 M8 x 60 hex bolt", "6: 16 M8 hex nut"];
    let note =
        "passed over, though figures stand there: line 12 \"> we had 24 bolts M8 x 60 last time\"";
    let marked =
        "> On 2 May 2026 Ada wrote:\n> we had 24 bolts M8 x 60 last time\n> and were short\n";
    case(&format!("{list}{marked}"), Required, &lines, &[note]);
    case(&format!("{list}{marked}"), Shipped, &lines, &[note]);
    // Below the line that says who wrote it, no mark is needed.
    let below = "On 2 May 2026 Ada wrote:\nwe had 24 bolts M8 x 60 last time\n";
    let note =
        "passed over, though figures stand there: line 12 \"we had 24 bolts M8 x 60 last time\"";
    case(&format!("{list}{below}"), Required, &lines, &[note]);
    // Above it, too.
    let note = "passed over, though figures stand there: line 1 \"> and 24 bolts M8 x 60?\"";
    case(
        "> and 24 bolts M8 x 60?\n\n16 M8 x 60 hex bolts\n",
        Shipped,
        &["3: 16 M8 x 60 hex bolt"],
        &[note],
    );
}

/// A mail without a list of its own hands one on; and in marked-down text the mark sets words off.
#[test]
fn what_is_quoted_is_the_list() {
    case(
        "As it came:\n\n> - 14 wing nuts M8\n> - 16 M8 x 60 hex bolts\n",
        Shipped,
        &["3: 14 M8 wing nut", "4: 16 M8 x 60 hex bolt"],
        &[],
    );
    case(
        "On 2 May 2026 Ada wrote:\n16 M8 x 60 hex bolts\n16 M8 nuts\n",
        Shipped,
        &["2: 16 M8 x 60 hex bolt", "3: 16 M8 hex nut"],
        &[],
    );
    case(
        "# Roof\n\n16 M8 x 60 hex bolts\n> 16 M8 nuts\n",
        Shipped,
        &["3: 16 M8 x 60 hex bolt", "4: 16 M8 hex nut"],
        &[],
    );
}
