//! Sheets of one workbook that say the same thing twice, and what is asked of them.

use rust_xlsxwriter::Workbook;

use super::*;
use crate::kit::{Input, Role};

/// A workbook of sheets, each of rows of a count and an item; `~` before a name hides the sheet.
fn book(sheets: &[(&str, &[(u64, &str)])]) -> Vec<u8> {
    let mut book = Workbook::new();
    for (name, rows) in sheets {
        let sheet = book.add_worksheet();
        sheet.set_name(name.trim_start_matches('~')).unwrap();
        sheet.set_hidden(name.starts_with('~'));
        sheet.write_row(0, 0, ["Qty", "Item"]).unwrap();
        for (row, (pieces, item)) in (1..).zip(rows.iter()) {
            sheet.write(row, 0, *pieces).unwrap();
            sheet.write(row, 1, *item).unwrap();
        }
    }
    book.save_to_buffer().unwrap()
}

fn read(input: impl FnOnce(&mut Input), bytes: &[u8]) -> crate::Result<List> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("list.xlsx");
    std::fs::write(&path, bytes).unwrap();
    let mut of = Input::at(&path);
    input(&mut of);
    List::read(&of, "list.xlsx".into(), Role::Required, &|_| {})
}

/// Pieces counted in all, then what is said of each sheet.
fn said(list: &List) -> (u64, Vec<String>) {
    let pieces = list.lines.iter().filter_map(|line| line.quantity).sum();
    let sheets = list.sheets.iter().flat_map(|sheet| {
        let of = |what: &Option<String>| {
            let what = what.as_ref()?;
            Some(format!("{}: {what}", sheet.name.as_deref().unwrap_or("-")))
        };
        [of(&sheet.passed_over), of(&sheet.question)]
    });
    (pieces, sheets.flatten().collect())
}

#[track_caller]
fn case(sheets: &[(&str, &[(u64, &str)])], pieces: u64, expected: &[&str]) {
    let list = read(|_| {}, &book(sheets)).unwrap();
    let (found, sheets) = said(&list);
    assert_eq!(sheets, expected);
    assert_eq!(found, pieces);
}

/// Sums of several sheets, under a name that says nothing; not what two sides of a structure may come to.
#[test]
fn sums_of_unlike_sheets() {
    let base: &[(u64, &str)] = &[(8, "M8 x 40 bolt"), (8, "M8 nut"), (4, "post")];
    let roof: &[(u64, &str)] = &[(6, "M8 x 40 bolt"), (6, "M8 nut"), (9, "rafter")];
    let all: &[(u64, &str)] = &[
        (14, "M8 x 40 bolt"),
        (14, "M8 nut"),
        (4, "post"),
        (9, "rafter"),
    ];
    for name in ["Picking", "Everything", "Blatt", "Sum"] {
        let taken =
            format!("{name}: the totals of the other 2 sheets, not added again; 4 items agree");
        case(
            &[("Base", base), ("Roof", roof), (name, all)],
            41,
            &[&taken],
        );
        case(
            &[(name, all), ("Base", base), ("Roof", roof)],
            41,
            &[&taken],
        );
    }
    let twice: &[(u64, &str)] = &[(16, "M8 x 40 bolt"), (16, "M8 nut"), (8, "post")];
    let list = read(
        |_| {},
        &book(&[("Left", base), ("Right", base), ("Middle", twice)]),
    )
    .unwrap();
    let (pieces, sheets) = said(&list);
    assert_eq!(pieces, 80);
    assert!(
        sheets.iter().any(|said| said.contains("may be the totals")),
        "{sheets:?}"
    );
}

/// Whatever the sheet is called, what agrees by half is asked; a name decides whether it is taken.
#[test]
fn totals_under_names_that_say_nothing() {
    let a: &[(u64, &str)] = &[(8, "1/2 x 4 hex bolt"), (8, "1/2 hex nut")];
    let b: &[(u64, &str)] = &[(6, "M8 x 40 bolt"), (6, "post caps")];
    let same: &[(u64, &str)] = &[
        (8, "1/2 x 4 bolt"),
        (8, "1/2 hex nut"),
        (6, "M8 x 40 hex bolt"),
        (6, "post cap"),
    ];
    for name in ["All", "Packing list", "Total"] {
        let taken =
            format!("{name}: the totals of the other 2 sheets, not added again; 4 items agree");
        case(&[("A", a), ("B", b), (name, same)], 28, &[&taken]);
    }
    let near: &[(u64, &str)] = &[
        (8, "1/2 x 4 bolt"),
        (8, "1/2 hex nut"),
        (5, "M8 x 40 bolt"),
        (7, "post cap"),
    ];
    for name in ["Shopping", "Sheet2", "Extra"] {
        let list = read(|_| {}, &book(&[("A", a), ("B", b), (name, near)])).unwrap();
        assert!(list.sheets[2].question.is_some(), "{name}");
    }
    let one: &[(u64, &str)] = &[(8, "M8 nut")];
    let sum: &[(u64, &str)] = &[(16, "M8 nut")];
    let list = read(|_| {}, &book(&[("A", one), ("B", one), ("Sum", sum)])).unwrap();
    assert!(list.sheets[2].question.is_some());
}

#[test]
fn totals_by_number_alone() {
    let staged: &[&[&str]] = &[
        &["Part no.", "Item", "Qty"],
        &["H-1", "1/2 x 4 hex bolt", "8"],
        &["H-2", "1/2 hex nut", "8"],
        &["H-3", "1/2 flat washer", "16"],
    ];
    let more: &[&[&str]] = &[
        &["Part no.", "Item", "Qty"],
        &["H-1", "1/2 x 4 hex bolt", "4"],
        &["H-4", "M8 x 40 hex bolt", "6"],
    ];
    let totals: &[&[&str]] = &[
        &["Part no.", "Qty"],
        &["H-1", "12"],
        &["H-2", "8"],
        &["H-3", "16"],
        &["H-4", "6"],
    ];
    let mut book = Workbook::new();
    for (name, rows) in [("Base", staged), ("Hoops", more), ("Totals", totals)] {
        let sheet = book.add_worksheet();
        sheet.set_name(name).unwrap();
        for (row, cells) in (0..).zip(rows) {
            sheet.write_row(row, 0, cells.iter().copied()).unwrap();
        }
    }
    let list = read(|_| {}, &book.save_to_buffer().unwrap()).unwrap();
    let taken = "Totals: the totals of the other 2 sheets, not added again; 4 items agree";
    assert_eq!(said(&list), (42, vec![taken.to_owned()]));
}

/// What totals take in beside the sheets that are read may stand on a hidden one.
#[test]
fn totals_of_hidden_sheets() {
    let base: &[(u64, &str)] = &[(8, "1/2 x 4 hex bolt"), (8, "1/2 hex nut")];
    let hoops: &[(u64, &str)] = &[(6, "M8 x 40 hex bolt"), (6, "M8 hex nut")];
    let all = [base, hoops].concat();
    let sheets = [("Base", base), ("~Hoops", hoops), ("Summary", &all)];
    let list = read(|_| {}, &book(&sheets)).unwrap();
    assert!(list.sheets[2].question.is_some());
}

/// Whatever they are called, where each line names its stage, or where there are many.
#[test]
fn copies_by_what_their_lines_say() {
    let staged = |sheets: &[(&str, &[u64])]| {
        let mut book = Workbook::new();
        for (name, pieces) in sheets {
            let sheet = book.add_worksheet();
            sheet.set_name(*name).unwrap();
            sheet.write_row(0, 0, ["Stage", "Qty", "Item"]).unwrap();
            for (row, pieces) in (1..).zip(*pieces) {
                let stage = if row < 6 { "Posts" } else { "Rails" };
                sheet.write(row, 0, stage).unwrap();
                sheet.write(row, 1, *pieces).unwrap();
                let item = format!("1/2 x {row} hex bolt");
                sheet.write(row, 2, item).unwrap();
            }
        }
        said(&read(|_| {}, &book.save_to_buffer().unwrap()).unwrap())
    };
    let ten: &[u64] = &[4, 4, 4, 4, 4, 4, 4, 4, 4, 4];
    let mut other = ten.to_vec();
    other[9] = 6;
    let copy = |rest: &str| {
        let copy = "Warehouse: a copy of sheet Kit list, not added again";
        vec![format!("{copy}; {rest}")]
    };
    assert_eq!(
        staged(&[("Kit list", ten), ("Warehouse", ten)]),
        (40, copy("10 items agree"))
    );
    assert_eq!(
        staged(&[("Kit list", ten), ("Warehouse", &other)]),
        (
            40,
            copy("9 items agree, 1 differs: 1/2 x 10 hex bolt: 6 here, 4 there")
        )
    );
    // One item of one stage is enough to ask, whatever the figures.
    let asked = "if one is a copy of the other, write sheets = { \"x1\" = \"leave out\" } beside this file in the job \
                 file, else \"count\"";
    for (figures, others) in [(4, ""), (6, " (1 in another number)")] {
        let told = format!(
            "x1: sheets x and x1 ask for the same 1 item{others}, and both are counted: {asked}"
        );
        assert_eq!(
            staged(&[("x", &[4]), ("x1", &[figures])]),
            (4 + figures, vec![told])
        );
    }
    assert_eq!(staged(&[("Bag A", &[4]), ("Bag B", &[4])]), (8, vec![]));
    // Two sides are no copies.
    assert_eq!(staged(&[("Left side", ten), ("Right side", ten)]).0, 80);
    let rows: Vec<(u64, String)> = (1..9).map(|n| (4, format!("1/2 x {n} hex bolt"))).collect();
    let rows: Vec<(u64, &str)> = rows.iter().map(|(n, item)| (*n, item.as_str())).collect();
    case(
        &[("Kit list", &rows), ("Warehouse", &rows)],
        32,
        &["Warehouse: a copy of sheet Kit list, not added again; 8 items agree"],
    );
    let two = book(&[("Frame 1", &rows), ("Frame 2", &rows)]);
    assert_eq!(said(&read(|_| {}, &two).unwrap()).0, 64);
}

const POSTS: &[(u64, &str)] = &[
    (4, "1/2 x 3 hex bolt"),
    (4, "1/2 hex nut"),
    (8, "1/2 flat washer"),
];
const RAILS: &[(u64, &str)] = &[
    (6, "1/2 hex nut"),
    (6, "1/2 x 4 hex bolt"),
    (2, "3/8 x 2 lag screw"),
];
const BOTH: &[(u64, &str)] = &[
    (4, "1/2 x 3 hex bolt"),
    (6, "1/2 x 4 hex bolt"),
    (10, "1/2 hex nut"),
    (8, "1/2 flat washer"),
    (2, "3/8 x 2 lag screw"),
];

#[test]
fn a_sheet_of_totals_is_not_added_again() {
    case(
        &[("Posts", POSTS), ("Rails", RAILS), ("Summary", BOTH)],
        30,
        &["Summary: the totals of the other 2 sheets, not added again; 5 items agree"],
    );
    // Whatever it is called, where it holds enough.
    case(
        &[("Sheet1", BOTH), ("Posts", POSTS), ("Rails", RAILS)],
        30,
        &["Sheet1: the totals of the other 2 sheets, not added again; 5 items agree"],
    );
    // Two of them.
    case(
        &[
            ("Posts", POSTS),
            ("Rails", RAILS),
            ("Totals", BOTH),
            ("Pick list", BOTH),
        ],
        30,
        &[
            "Totals: the totals of the other 2 sheets, not added again; 5 items agree",
            "Pick list: the totals of the other 2 sheets, not added again; 5 items agree",
        ],
    );
}

#[test]
fn the_differences_of_totals_are_shown() {
    let mut off = BOTH.to_vec();
    off[2].0 = 12;
    case(
        &[("Posts", POSTS), ("Rails", RAILS), ("Summary", &off)],
        30,
        &[
            "Summary: the totals of the other 2 sheets, not added again; 4 items agree, 1 differs: \
           1/2 hex nut: 12 here, 10 there",
        ],
    );
    // Far off, it is asked, and counted.
    off.truncate(3);
    case(
        &[("Posts", POSTS), ("Rails", RAILS), ("Summary", &off)],
        52,
        &[
            "Summary: sheet Summary may be the totals of the others (2 items agree, 3 differ: 3/8 x 2 lag \
           screw: 0 here, 2 there; 1/2 hex nut: 12 here, 10 there; 1/2 flat washer: 0 here, 8 there), and is \
           counted beside them: if so, write sheets = { \"Summary\" = \"check\" } beside this file in the \
           job file, else \"count\"",
        ],
    );
}

#[test]
fn totals_by_whatever_name() {
    let mut off = BOTH.to_vec();
    off[2].0 = 12;
    let differ = "4 items agree, 1 differs: 1/2 hex nut: 12 here, 10 there";
    for name in ["Order list", "Sheet1", "Hardware"] {
        let told = format!("{name}: the totals of the other 2 sheets, not added again; {differ}");
        case(
            &[("Posts", POSTS), ("Rails", RAILS), (name, &off)],
            30,
            &[&told],
        );
    }
    // By a name of no part of the kit it may be they, whatever its figures.
    let mut most = BOTH.to_vec();
    for off in &mut most[..3] {
        off.0 += 2;
    }
    let list = read(
        |_| {},
        &book(&[("Posts", POSTS), ("Rails", RAILS), ("Order list", &most)]),
    );
    assert!(said(&list.unwrap()).1[0].starts_with(
        "Order list: sheet Order list may be the totals of the others (2 items agree, 3 differ: "
    ));
    // By a name of its own it may be a part of the kit: it is asked, and never added in silence.
    let told = format!(
        "Deck: sheet Deck may be the totals of the others ({differ}), and is counted beside them: if so, write \
         sheets = {{ \"Deck\" = \"check\" }} beside this file in the job file, else \"count\""
    );
    case(
        &[("Posts", POSTS), ("Rails", RAILS), ("Deck", &off)],
        62,
        &[&told],
    );
}

#[test]
fn rows_that_a_sheet_says_again_below_are_asked() {
    let twice: Vec<_> = POSTS.iter().chain(POSTS).copied().collect();
    case(
        &[("Posts", &twice)],
        32,
        &[
            "Posts: row 5 and those below it say again what row 2 and those below it say, and all are counted: if it is \
           a copy, take it out of the file; if it is meant so, say what each is for",
        ],
    );
    let differs: Vec<_> = POSTS.iter().chain(RAILS).copied().collect();
    case(&[("Posts", &differs)], 30, &[]);
}

#[test]
fn totals_of_one_sheet() {
    let list: Vec<(u64, &str)> = POSTS.iter().chain(RAILS).chain(POSTS).copied().collect();
    case(
        &[
            ("Parts", &list),
            (
                "Totals",
                &[
                    (8, "1/2 x 3 hex bolt"),
                    (14, "1/2 hex nut"),
                    (16, "1/2 flat washer"),
                    (6, "1/2 x 4 hex bolt"),
                    (2, "3/8 x 2 lag screw"),
                ],
            ),
        ],
        46,
        &["Totals: the totals of sheet Parts, not added again; 5 items agree"],
    );
}

#[test]
fn what_may_be_chance_is_asked() {
    // A third stage may well take as many as the first two.
    case(
        &[
            ("Posts", &[(4, "1/2 hex nut"), (4, "1/2 x 3 hex bolt")]),
            ("Rails", &[(4, "1/2 hex nut"), (4, "1/2 x 3 hex bolt")]),
            ("Deck", &[(8, "1/2 hex nut"), (8, "1/2 x 3 hex bolt")]),
        ],
        32,
        &[
            "Deck: sheet Deck may be the totals of the others (2 items agree), and is counted beside \
           them: if so, write sheets = { \"Deck\" = \"check\" } beside this file in the job file, else \
           \"count\"",
        ],
    );
    case(
        &[("List", POSTS), ("Posts", POSTS)],
        32,
        &[
            "Posts: sheets List and Posts ask for the same 3 items, and both are counted: if one is a copy of the other, write \
           sheets = { \"Posts\" = \"leave out\" } beside this file in the job file, else \"count\"",
        ],
    );
}

/// Figures change from one state of a list to the next: where the names tell no more, items of both are enough.
#[test]
fn two_states_of_a_list_are_asked() {
    let mut other = POSTS.to_vec();
    (other[0].0, other[1].0) = (6, 6);
    for (one, two) in [
        ("List 2025", "List 2026"),
        ("draft", "final"),
        ("May", "June"),
        ("12 May", "3 June"),
        ("List", "List updated"),
        ("Parts 2026-05-01", "Parts_2026-06-02"),
        ("BOM prelim", "BOM approved"),
    ] {
        let told = format!(
            "{two}: sheets {one} and {two} ask for the same 3 items (2 in another number), and both are counted: \
             if one is a copy of the other, write sheets = {{ \"{two}\" = \"leave out\" }} beside this file in the \
             job file, else \"count\""
        );
        case(&[(one, POSTS), (two, &other)], 36, &[&told]);
    }
    for (one, two) in [("Legs", "Seat"), ("Bag A", "Bag B"), ("North", "South")] {
        case(&[(one, POSTS), (two, &other)], 36, &[]);
    }
    case(
        &[("old", &other), ("new", POSTS)],
        16,
        &[
            "old: a copy of sheet new, not added again; 1 item agrees, 2 differ: 1/2 x 3 hex bolt: 6 here, 4 there; \
         1/2 hex nut: 6 here, 4 there",
        ],
    );
}

#[test]
fn stages_that_need_the_same_are_no_copies() {
    case(&[("Left rail", POSTS), ("Right rail", POSTS)], 32, &[]);
    case(&[("1 Posts", POSTS), ("2 Rails", POSTS)], 32, &[]);
    case(&[("Stage 1", POSTS), ("Stage 2", POSTS)], 32, &[]);
    case(&[("Posts", POSTS), ("Rails", RAILS)], 30, &[]);
}

#[test]
fn an_older_copy_is_not_counted() {
    // Its figures may all have changed, where the name is the other's.
    let before: Vec<_> = POSTS
        .iter()
        .map(|&(pieces, item)| (pieces + 2, item))
        .collect();
    let differ = "0 items agree, 3 differ: 1/2 x 3 hex bolt: 6 here, 4 there; 1/2 hex nut: 6 here, 4 \
                  there; 1/2 flat washer: 10 here, 8 there";
    for name in [
        "Posts (old)",
        "old Posts",
        "Posts - superseded",
        "Posts_old",
    ] {
        let copy = format!("{name}: a copy of sheet Posts, not added again; {differ}");
        case(&[("Posts", POSTS), (name, &before)], 16, &[&copy]);
    }
    case(&[("Posts", POSTS), ("Rails (old)", &before)], 38, &[]);
    let mut old = POSTS.to_vec();
    old[0].0 = 5;
    case(
        &[("Parts", POSTS), ("Parts (2)", POSTS)],
        16,
        &["Parts (2): a copy of sheet Parts, not added again; 3 items agree"],
    );
    case(
        &[("Parts old", &old), ("Parts", POSTS)],
        16,
        &[
            "Parts old: a copy of sheet Parts, not added again; 2 items agree, 1 differs: \
           1/2 x 3 hex bolt: 5 here, 4 there",
        ],
    );
    case(
        &[("Parts rev B", &old), ("Parts rev C", POSTS)],
        16,
        &[
            "Parts rev B: a copy of sheet Parts rev C, not added again; 2 items agree, 1 differs: \
           1/2 x 3 hex bolt: 5 here, 4 there",
        ],
    );
}

#[test]
fn hidden_sheets() {
    let bytes = book(&[("Posts", POSTS), ("~Rails", RAILS), ("~Spare", POSTS)]);
    let (pieces, sheets) = said(&read(|_| {}, &bytes).unwrap());
    assert_eq!(sheets, ["Rails: hidden sheet", "Spare: hidden sheet"]);
    assert_eq!(pieces, 16);
    let (pieces, sheets) = said(&read(|of| of.hidden_sheets = true, &bytes).unwrap());
    assert_eq!(
        sheets,
        ["Spare: a copy of sheet Posts, not added again; 3 items agree"]
    );
    assert_eq!(pieces, 30);
}

#[test]
fn what_the_job_says_of_a_sheet() {
    let bytes = book(&[("Posts", POSTS), ("Rails", RAILS), ("~Old", POSTS)]);
    let told = |sheet: &str, what| {
        read(
            |of| {
                of.sheets.insert(fold(sheet), what);
            },
            &bytes,
        )
    };
    assert_eq!(
        said(&told("Rails", SheetUse::LeftOut).unwrap()),
        (
            16,
            vec![
                "Rails: left out, as the job file says".to_owned(),
                "Old: hidden sheet".to_owned()
            ]
        )
    );
    assert_eq!(
        said(&told("old", SheetUse::Counted).unwrap()),
        (46, Vec::new())
    );
    assert_eq!(
        said(&told("Rails", SheetUse::Checks).unwrap()).1[0],
        "Rails: the totals of sheet Posts, not added again; 0 items agree, 5 differ: 1/2 x 3 hex bolt: \
         0 here, 4 there; 1/2 x 4 hex bolt: 6 here, 0 there; 3/8 x 2 lag screw: 2 here, 0 there; \
         1/2 hex nut: 6 here, 4 there; and 1 more"
    );
    assert_eq!(
        told("Roof", SheetUse::Counted).unwrap_err().to_string(),
        "list.xlsx: the job file's sheets name \"roof\", and there is no such sheet\n  what to do: write \
         one of its sheets: Posts, Rails, Old"
    );
}
