//! Notes below a list, and the marks behind its items. Common practice, no source.

use super::{Counted, Required, case, listed, read_list, required, short};

const MAY_BE: &str = "? may be a note to a mark, and no pieces";

#[test]
fn notes_below_a_list_are_no_pieces() {
    for text in [
        "- 24 1/2 x 3 hex bolts [1]\n- 24 1/2 nuts [2]\n- 4 post caps\n[1] hot dip galvanised\n[2] packed loose\n",
        "24 1/2 x 3 hex bolts (1)\n24 1/2 nuts (2)\n4 post caps\n\n(1) hot dip galvanised\n(2) packed loose\n",
        "24 1/2 x 3 hex bolts [1]\n24 1/2 nuts [1][2]\n4 post caps [2]\n[1] hot dip galvanised\n[2] packed loose\n",
    ] {
        let list = read_list("list.txt", text, Required);
        let found: Vec<String> = list.lines.iter().map(|line| short(&list, line)).collect();
        assert_eq!(
            found,
            [
                "1: 24 1/2 x 3 hex bolt",
                "2: 24 1/2 hex nut",
                "3: 4 post caps"
            ],
            "{text}"
        );
        let notes = &list.sheets[0].notes;
        let told = "passed over, as notes to marks: line ";
        assert!(notes.iter().any(|note| note.starts_with(told)), "{notes:?}");
    }
    required(
        "Item,Qty\n1/2 x 3 hex bolts [1],24\n1/2 nuts [2],24\npost cap (3),4\n[1] hot dip galvanised,\n[2] packed loose,\n",
        &[
            "2: 24 1/2 x 3 hex bolt",
            "3: 24 1/2 hex nut",
            "4: - post cap ? two quantities, 4 and 3: not summed",
        ],
    );
    case(
        "list.txt",
        "Hex bolts 1/2 x 3 [1], 24\nNuts 1/2 [2], 24\n[1] galvanised\n[2] packed loose\n",
        Required,
        &["1: 24 1/2 x 3 hex bolt", "2: 24 1/2 hex nut"],
    );
    // The notes of a long list.
    let lines: String = (0..80)
        .map(|n| format!("{} M8 x {} hex bolts [1]\n", n + 2, 20 + n))
        .collect();
    let list = read_list("list.txt", format!("{lines}[1] packed loose\n"), Required);
    let pieces: Vec<Option<u64>> = list.lines.iter().map(|line| line.quantity).collect();
    assert_eq!(pieces, (2..82).map(Some).collect::<Vec<_>>());
    assert_eq!(
        list.sheets[0].notes,
        ["passed over, as notes to marks: line 81 \"[1] packed loose\""]
    );
}

/// A note may say that the pieces are not there, or how many they are.
#[test]
fn what_a_note_says_is_of_its_lines() {
    listed(
        "24 1/2 x 3 hex bolts [1]\n24 1/2 nuts [2]\n4 post caps\n[1] hot dip galvanised\n[2] not supplied\n",
        &[
            "1: 24 1/2 x 3 hex bolt",
            "2: 24 1/2 hex nut ? the remark \"not supplied\" may change how many",
            "3: 4 post caps",
        ],
    );
    case(
        "count.txt",
        "24 1/2 x 3 hex bolts [1]\n24 1/2 nuts\n[1] two bent\n",
        Counted,
        &[
            "1: 24 1/2 x 3 hex bolt ? the remark \"two bent\" may change how many",
            "2: 24 1/2 hex nut",
        ],
    );
}

/// A figure in brackets may count.
#[test]
fn what_may_be_pieces_stays_a_line() {
    listed(
        "(24) 1/2 x 3 hex bolts\n(24) 1/2 nuts\n(1) post cap\n",
        &[
            "1: 24 1/2 x 3 hex bolt",
            "2: 24 1/2 hex nut",
            "3: 1 post cap",
        ],
    );
    listed(
        "[4] post caps\n[2] left brackets\n",
        &["1: 4 post caps", "2: 2 left brackets"],
    );
    listed(
        "1/2 x 3 hex bolts [24]\n1/2 nuts [24]\npost caps [4]\n",
        &[
            "1: 24 1/2 x 3 hex bolt",
            "2: 24 1/2 hex nut",
            "3: 4 post caps",
        ],
    );
    // No mark of that name stands above.
    listed(
        "24 1/2 x 3 hex bolts\n24 1/2 nuts\n[1] packed loose\n",
        &[
            "1: 24 1/2 x 3 hex bolt",
            "2: 24 1/2 hex nut",
            &format!("3: 1 packed loose {MAY_BE}"),
        ],
    );
    // It names a thing.
    listed(
        "24 1/2 x 3 hex bolts [1]\n24 1/2 nuts [2]\n[1] hot dip galvanised\n[2] left brackets\n",
        &[
            "1: 24 1/2 x 3 hex bolt",
            "2: 24 1/2 hex nut",
            &format!("4: 2 left brackets {MAY_BE}"),
        ],
    );
}
