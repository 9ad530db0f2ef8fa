mod by_hand;

use std::io::{Cursor, Read, Write};

use calamine::{Data, Reader, Xlsx, open_workbook_from_rs};

use super::*;
use crate::{
    report::{
        fixture::{self, Fixture},
        workbook::by_stage::State,
    },
    settle::{LeftOpen, Rows, StandIn, Verdict},
};

type Book = Xlsx<Cursor<Vec<u8>>>;

fn bytes(f: &Fixture) -> Vec<u8> {
    let now = jiff::civil::date(2026, 3, 14).at(9, 26, 0, 0);
    fill(&f.job, &f.lists, &f.account, &f.layout, &f.audit, now)
        .unwrap()
        .save_to_buffer()
        .unwrap()
}

fn open(bytes: Vec<u8>) -> Book {
    open_workbook_from_rs(Cursor::new(bytes)).unwrap()
}

/// The rows of a sheet as text.
fn rows(book: &mut Book, sheet: &str) -> Vec<Vec<String>> {
    let range = book.worksheet_range(sheet).unwrap();
    range
        .rows()
        .map(|row| row.iter().map(ToString::to_string).collect())
        .collect()
}

#[test]
fn the_sheets_stand_in_order() {
    let book = open(bytes(&fixture::footbridge()));
    assert_eq!(
        book.sheet_names(),
        [
            "Summary",
            "Shortages",
            "By stage",
            "Bins",
            "Count sheet",
            "Labels",
            "Claim",
            "Tightening",
            "Tools to bring",
            "Weights",
            "Questions on the list",
            "Check these lines",
            "Every line"
        ]
    );
}

/// A sheet's name has at most 31 characters, those of the sheets that a long list goes on in as well.
#[test]
fn names_fit_the_format() {
    let book = open(bytes(&fixture::footbridge()));
    let far_on = format!("{} {}", every_line::NAME, u16::MAX);
    for name in book.sheet_names().iter().chain([&far_on]) {
        assert!(name.encode_utf16().count() <= 31, "{name}");
    }
}

#[test]
fn the_same_job_makes_the_same_bytes() {
    assert!(bytes(&fixture::footbridge()) == bytes(&fixture::footbridge()));
}

#[test]
fn a_short_line_names_all_that_it_must() {
    let mut book = open(bytes(&fixture::footbridge()));
    let rows = rows(&mut book, shortages::NAME);
    let row = &rows[shortages::FIRST as usize];
    assert_eq!(
        row[..10],
        [
            "2",
            "Rails",
            "1/2 x 6 hex bolt",
            "16",
            "4",
            "24",
            "24",
            "20",
            "4",
            "box is short 3: the slip lists 24, the box held 21\ndamaged 1: 1 is damaged"
        ]
    );
    assert_eq!(
        row[10],
        "parts.xlsx, sheet Stages, rows 8-9; slip.csv, line 2; count.xlsx, sheet Count sheet, row 2"
    );
}

#[test]
fn figures_are_numbers_and_sizes_are_text() {
    let mut book = open(bytes(&fixture::footbridge()));
    let range = book.worksheet_range(shortages::NAME).unwrap();
    assert_eq!(
        range.get_value((shortages::FIRST, 3)),
        Some(&Data::Float(16.0))
    );
    assert_eq!(
        range.get_value((shortages::FIRST, 2)),
        Some(&Data::String("1/2 x 6 hex bolt".to_owned()))
    );
}

#[test]
fn the_count_sheet_has_a_line_an_item_and_bag_and_no_due_figure() {
    let mut f = fixture::footbridge();
    // The slip's bolts are in two bags, which are opened in the order of their numbers.
    let slip = &mut f.lists[1];
    slip.placements[0].bag = Some("10".into());
    slip.placements.push(crate::kit::Placement {
        bag: Some("2".into()),
        ..crate::kit::Placement::default()
    });
    let second = crate::kit::Line {
        placement: 2,
        ..slip.lines[0].clone()
    };
    slip.lines.insert(1, second);
    let mut book = open(bytes(&f));
    let rows = rows(&mut book, count_sheet::NAME);
    let heading = rows.iter().position(|r| r[0] == "Id").unwrap();
    assert_eq!(
        rows[heading],
        [
            "Id",
            "Item",
            "Part no.",
            "Bag",
            "Good",
            "Damaged",
            "Counted by"
        ]
    );
    assert_eq!(
        rows[heading + 1],
        ["B1", "1/2 x 6 hex bolt", "", "2", "", "", ""]
    );
    assert_eq!(
        rows[heading + 2],
        ["B1", "1/2 x 6 hex bolt", "", "10", "", "", ""]
    );
    assert_eq!(
        rows[heading + 3],
        ["P1", "FB-7 ladder hook", "FB-7", "", "", "", ""]
    );
}

#[test]
fn bags_that_only_the_parts_list_names_are_counted_apart() {
    let mut f = fixture::footbridge();
    for placement in &mut f.lists[0].placements {
        placement.bag = Some("C".into());
    }
    let mut book = open(bytes(&f));
    let rows = rows(&mut book, count_sheet::NAME);
    let heading = rows.iter().position(|r| r[0] == "Id").unwrap();
    assert_eq!(
        rows[heading + 1],
        ["B1", "1/2 x 6 hex bolt", "", "C", "", "", ""]
    );
}

#[test]
fn bags_have_a_sheet_where_the_lists_name_them() {
    let mut f = fixture::footbridge();
    f.lists[1].placements[0].bag = Some("A".into());
    f.lists[1].placements[0].carton = Some("1".into());
    f.lists[1].placements[1].carton = Some("1".into());
    f.lists[0].placements[0].bag = Some("A".into());
    let rows = rows(&mut open(bytes(&f)), bags::NAME);
    let heading = rows.iter().position(|r| r[0] == "Bag").unwrap();
    assert_eq!(rows[heading], ["Bag", "Box", "Received"]);
    assert_eq!(rows[heading + 1], ["A", "1", ""]);
    assert_eq!(rows.len(), heading + 2);
}

/// Where the formulas of a sheet stand.
fn formulas(book: &mut Book, sheet: &str) -> Vec<(usize, usize)> {
    let range = book.worksheet_formula(sheet).unwrap();
    let (row, column) = range.start().unwrap_or_default();
    range
        .used_cells()
        .map(|(r, c, _)| (r + row as usize, c + column as usize))
        .collect()
}

/// Text that a spreadsheet would take for a formula, a link or a markup stays what it is.
#[test]
fn payloads_stay_text() {
    let mut plain = open(bytes(&fixture::footbridge()));
    for payload in [
        "=1+1",
        "+1",
        "-2+3",
        "@SUM(A1:A9)",
        "=HYPERLINK(\"http://example.invalid\")",
        "http://example.invalid/",
        "internal:Sheet1!A1",
        "\t=1+1",
        "{=1}",
        "<b>&amp;</b>",
        "_x0041_",
        "001E7",
        "3/8",
    ] {
        let mut f = fixture::footbridge();
        let item = &mut f.account.items[0];
        item.text = payload.to_owned();
        item.bags = vec![payload.into()];
        item.part_numbers = vec![payload.to_owned()];
        item.findings[0].note = payload.to_owned();
        f.account.stages[1].name = payload.to_owned();
        f.account.reasons = vec![payload.to_owned()];
        f.job.name = payload.to_owned();
        f.lists[0].file = payload.to_owned();
        f.lists[0].sheets[0].name = Some(payload.to_owned());
        let list = &mut f.lists[0];
        list.lines[4].text = list.text.push(payload);
        let mut book = open(bytes(&f));
        for sheet in book.sheet_names() {
            let found = formulas(&mut book, &sheet);
            assert_eq!(found, formulas(&mut plain, &sheet), "{payload} in {sheet}");
        }
        let range = book.worksheet_range(shortages::NAME).unwrap();
        assert_eq!(
            range.get_value((shortages::FIRST, 2)),
            Some(&Data::String(payload.to_owned()))
        );
        let range = book.worksheet_range(every_line::NAME).unwrap();
        assert_eq!(
            range.get_value((5, 5)),
            Some(&Data::String(payload.to_owned()))
        );
    }
}

/// The workbook with figures typed into cells of one sheet.
fn typed(book: Vec<u8>, sheet: &str, cells: &[(&str, u64)]) -> Vec<u8> {
    let part = format!("xl/worksheets/{sheet}.xml");
    let mut old = zip::ZipArchive::new(Cursor::new(book)).unwrap();
    let mut new = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for index in 0..old.len() {
        let mut file = old.by_index(index).unwrap();
        let mut content = Vec::new();
        file.read_to_end(&mut content).unwrap();
        let name = file.name().unwrap().into_owned();
        if name == part {
            let mut xml = String::from_utf8(content).unwrap();
            for (cell, figure) in cells {
                let at = xml.find(&format!("<c r=\"{cell}\"")).unwrap();
                let end = at + xml[at..].find("/>").unwrap();
                xml.replace_range(end..end + 2, &format!("><v>{figure}</v></c>"));
            }
            content = xml.into_bytes();
        }
        new.start_file(name, zip::write::SimpleFileOptions::default())
            .unwrap();
        new.write_all(&content).unwrap();
    }
    new.finish().unwrap().into_inner()
}

#[test]
fn a_filled_count_sheet_reads_back() {
    let mut f = fixture::footbridge();
    for item in &mut f.account.items {
        (item.id, item.text) = (item.item.id(), item.item.text());
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("filled.xlsx");
    // The day, as a spreadsheet keeps 14 April 2026; good and damaged of the first line; the second is not counted.
    let cells = [("B4", 46126), ("D6", 20), ("E6", 1)];
    let filled = typed(bytes(&f), "sheet5", &cells);
    std::fs::write(&path, filled).unwrap();
    let list = List::read(
        &crate::kit::Input::at(&path),
        "filled.xlsx".to_owned(),
        crate::kit::Role::Counted,
        &|_| (),
    )
    .unwrap();
    for sheet in &list.sheets {
        let is_count = sheet.name.as_deref() == Some(count_sheet::NAME);
        assert_eq!(sheet.passed_over.is_none(), is_count, "{sheet:?}");
    }
    assert_eq!(list.tally.aside + list.tally.check, 0);
    assert_eq!(list.date.as_deref(), Some("2026-04-14"));
    let counts: Vec<_> = list
        .lines
        .iter()
        .map(|line| {
            (
                &list.reading_of(line).unwrap().item,
                line.quantity,
                line.damaged(),
            )
        })
        .collect();
    let items = &f.account.items;
    assert_eq!(
        counts,
        [(&items[0].item, Some(20), 1), (&items[1].item, None, 0)]
    );
}

/// The formulas of a column of By stage, from the first line on.
fn column(f: &Fixture, column: u32) -> Vec<String> {
    let mut book = open(bytes(f));
    let range = book.worksheet_formula(by_stage::NAME).unwrap();
    (0..3)
        .map(|row| {
            range
                .get_value((by_stage::FIRST + row, column))
                .cloned()
                .unwrap_or_default()
        })
        .collect()
}

#[test]
fn what_a_slip_alone_covers_is_not_called_covered() {
    let mut f = fixture::footbridge();
    let state = |f: &Fixture| {
        let item = &f.account.items[1];
        State::of(item, &item.shares[0]).to_string()
    };
    assert_eq!(state(&f), "▲ by the slip, not counted");
    // Counted in part: one of the two is the slip's.
    f.account.items[1].counted = Some(1);
    f.account.items[1].shares[0].by_slip = 1;
    assert_eq!(state(&f), "▲ by the slip, not counted");
    f.account.items[1].shares[0].by_slip = 0;
    assert_eq!(state(&f), "● covered");
}

/// The 4 bolts that Rails lacks may be there by another name: no cell calls them short.
#[test]
fn what_may_be_there_is_not_called_short() {
    let mut f = fixture::footbridge();
    let item = &mut f.account.items[0];
    (item.known, item.open) = (false, Some(LeftOpen::MayBeSame));
    let mut book = open(bytes(&f));
    let (shortages, summary) = (rows(&mut book, "Shortages"), rows(&mut book, "Summary"));
    let missing = |row: &&Vec<String>| row[2] == "1/2 x 6 hex bolt";
    let row = shortages.iter().find(missing).unwrap();
    assert_eq!([&row[3], &row[4]], ["16", "can't say"]);
    assert_eq!([&row[5], &row[8]], ["24", "can't say"]);
    let row = summary.iter().find(missing).unwrap();
    assert_eq!(row[3..8], ["can't say", "16", "24", "24", "20"]);
    let rails = summary.iter().rfind(|row| row[1] == "Rails").unwrap();
    assert_eq!([&rails[3], &rails[7]], ["16", "0"]);
    let called_short = |book: &mut Book, sheet| {
        let cells = rows(book, sheet);
        cells
            .iter()
            .flatten()
            .any(|cell| cell.contains("(short 4)"))
    };
    let mut known = open(bytes(&fixture::footbridge()));
    for sheet in ["Bins", "Labels"] {
        assert!(called_short(&mut known, sheet), "{sheet}");
        assert!(!called_short(&mut book, sheet), "{sheet}");
    }
    let state = State::of(&f.account.items[0], &f.account.items[0].shares[1]);
    assert_eq!(state, State::LeftOpen);
}

/// A bin of a substitute has its drawing: 1/2 x 1 fits a label as it is, 1/2 x 6 does not.
#[test]
fn a_label_draws_what_lies_in_the_bin() {
    let mut f = fixture::footbridge();
    let scale = |f: &Fixture| {
        let labels = rows(&mut open(bytes(f)), "Labels");
        let mut cells = labels.into_iter().flatten();
        cells.find(|cell| cell.contains("drawn "))
    };
    // A bolt of 5-1/2 in is longer than a label.
    assert_eq!(scale(&f), None);
    f.account.items[0].stand_ins.push(StandIn {
        stage: 1,
        pieces: 4,
        piece: fixture::hex_bolt((1, 2), (1, 1)),
        text: "1/2 x 1 hex bolt".to_owned(),
        id: "S1".to_owned(),
        item: None,
        rule: Some(0),
        evidence: Rows::default(),
    });
    f.layout.bins[0].instead = Some(0);
    let told = scale(&f).expect("a short bolt is drawn");
    assert!(
        told.ends_with("drawn true size: lay the piece on it"),
        "{told}"
    );
}

#[test]
fn who_cannot_say_says_where_to_look() {
    let mut f = fixture::footbridge();
    for list in &mut f.lists {
        (list.tally.aside, list.tally.check) = (0, 0);
    }
    let mut case = |verdict, by_slip, expected: &str| {
        f.account.verdict = verdict;
        f.account.items[1].counted = Some(2);
        f.account.items[1].shares[0].by_slip = by_slip;
        let summary = rows(&mut open(bytes(&f)), "Summary");
        let eye = summary.iter().flatten();
        let eye = eye.filter(|cell| cell.contains("eye") && cell.ends_with('.'));
        assert_eq!(eye.collect::<Vec<_>>(), [expected]);
    };
    case(Verdict::No, 0, "Nothing needs a person's eye.");
    case(
        Verdict::CannotSay,
        0,
        "For a person's eye: the reasons below.",
    );
    case(
        Verdict::CannotSay,
        1,
        "For a person's eye: 1 item not counted in full.",
    );
}

#[test]
fn what_is_covered_follows_the_count() {
    let good = "'Count sheet'!$D$6:$D$7";
    let ids = "'Count sheet'!$A$6:$A$7";
    let covered = column(&fixture::footbridge(), 4);
    assert_eq!(
        covered[1],
        format!(
            "MAX(0,MIN(D5,IF(COUNTIFS({ids},\"B1\",{good},\">=0\")=1,SUMIFS({good},{ids},\"B1\"),20)-8))"
        )
    );
    assert!(covered.iter().all(|formula| !formula.is_empty()));
}

#[test]
fn look_alikes_do_not_follow() {
    let mut f = fixture::footbridge();
    // A bolt of no stated style may stand for the hex bolt.
    f.account.items[1].item = crate::hardware::Item {
        style: None,
        ..f.account.items[0].item.clone()
    };
    assert_eq!(column(&f, 4), ["", "", ""]);
    assert!(
        column(&f, 6)
            .iter()
            .all(|state| state.contains(by_stage::State::RunAgain.as_str()))
    );
}

#[test]
fn a_full_sheet_goes_on_in_another() {
    let f = fixture::footbridge();
    let report = Report::new(
        &f.job,
        &f.lists,
        &f.account,
        &f.layout,
        &f.audit,
        String::new(),
    );
    let mut workbook = Workbook::new();
    // 8 lines, 3 a sheet below the heading.
    let mut sheets = every_line::sheets(&mut workbook, &report, 4).unwrap();
    every_line::write(&mut sheets, &report, 4).unwrap();
    for sheet in sheets {
        workbook.push_worksheet(sheet);
    }
    let mut book = open(workbook.save_to_buffer().unwrap());
    assert_eq!(
        book.sheet_names(),
        ["Every line", "Every line 2", "Every line 3"]
    );
    let count: Vec<usize> = book
        .sheet_names()
        .iter()
        .map(|s| rows(&mut book, s).len())
        .collect();
    assert_eq!(count, [4, 4, 3]);
}

#[test]
fn an_empty_job_has_every_sheet() {
    let mut f = fixture::footbridge();
    f.lists.clear();
    f.account.items.clear();
    f.account.stages.clear();
    f.account.reasons.clear();
    f.account.stops_at = None;
    f.account.verdict = Verdict::CannotSay;
    f.account.no_demand.clear();
    f.layout = Layout::default();
    let book = open(bytes(&f));
    assert_eq!(book.sheet_names().len(), 11);
}
