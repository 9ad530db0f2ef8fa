use super::{csv::csv, *};
use crate::{
    report::fixture,
    settle::{
        Finding, FindingKind, Loss, Rows,
        claim::{LeftOut, Omission},
    },
};

fn records(page: &Page) -> Vec<Vec<String>> {
    let mut out = Vec::new();
    csv(page, &mut out).expect("writes");
    let text = String::from_utf8(out).expect("UTF-8");
    let text = text.strip_prefix('\u{feff}').expect("marked as UTF-8");
    let mut reader = ::csv::ReaderBuilder::new()
        .flexible(true)
        .has_headers(false)
        .from_reader(text.as_bytes());
    let records = reader.records().map(|record| record.expect("reads back"));
    records
        .map(|record| record.iter().map(str::to_owned).collect())
        .collect()
}

#[test]
fn a_claim_line_says_all_that_it_rests_on() {
    let mut f = fixture::footbridge();
    f.job.claim.insert("Order".to_owned(), "TF-2207".to_owned());
    f.lists[0].revision = Some("C".to_owned());
    f.lists[0].date = Some("14 March 2026".to_owned());
    f.lists[2].placements[0].counted_by = Some("Wren".into());
    let page = Page::of_job(&f.job, &f.lists, &f.account).expect("a claim");
    let records = records(&page);
    let has = |record: &[&str]| records.iter().any(|r| r == record);
    assert!(has(&["Order", "TF-2207"]));
    assert!(has(&[
        "List: required",
        "parts.xlsx, revision C, dated 14 March 2026"
    ]));
    assert!(has(&[
        "List: shipped",
        "slip.csv, no revision found, no date found"
    ]));
    assert!(has(&["Claimed: 4 pieces: 3 missing, 1 damaged."]));
    let where_it_says_so = "parts.xlsx, sheet Stages, rows 8-9; slip.csv, line 2; count.xlsx, sheet Count sheet, row 2";
    assert!(has(&[
        "1",
        "missing",
        "1/2 x 6 hex bolt",
        "A, B",
        "24",
        "24",
        "20",
        "3",
        "box is short 3: the slip lists 24, the box held 21",
        "2 Rails; stops the build",
        where_it_says_so,
        "Wren",
        "",
        "",
    ]));
    assert!(has(&[
        "2",
        "damaged",
        "1/2 x 6 hex bolt",
        "A, B",
        "24",
        "24",
        "20",
        "1",
        "damaged 1: 1 is damaged",
        "2 Rails; stops the build",
        where_it_says_so,
        "Wren",
        "",
        "",
    ]));
    // The ladder hooks were not counted, and a line of the parts list was not understood.
    let left_out = records
        .iter()
        .filter(|r| r.get(1).is_some_and(|c| c == "left out"));
    let left_out: Vec<(&str, &str)> = left_out.map(|r| (&*r[2], &*r[8])).collect();
    assert_eq!(
        left_out,
        [
            ("FB-7 ladder hook", Omission::NotCounted.as_str()),
            ("Hooks | see drawing 4", Omission::NotUnderstood.as_str()),
        ]
    );
}

#[test]
fn a_bag_not_received_is_a_table_of_its_own() {
    let mut f = fixture::footbridge();
    f.account.findings.push(Finding {
        finding: FindingKind::BoxNotReceived,
        pieces: 10,
        note: "Bag H was not received: 10 pieces of 1 item.".to_owned(),
        evidence: Rows::default(),
    });
    // Of the 4 that are short, 1 is damaged and 3 are among the 10 of the bag.
    f.account.items[0].findings.clear();
    f.account.items[0].not_received = vec![Loss {
        bag: "H".to_owned(),
        pieces: 10,
        finding: 0,
    }];
    let page = Page::of_job(&f.job, &f.lists, &f.account).expect("a claim");
    let records = records(&page);
    assert!(records.iter().any(|r| r
        == &[
            "Bag H was not received: 10 pieces of 1 item. Of these, 3 are due and claimed here. \
         To be taken up with the carrier, too."
        ]));
    let row = records
        .iter()
        .find(|r| r.get(1).is_some_and(|c| c == "bag not received"));
    let row = row.expect("a row of the bag");
    assert_eq!((&*row[3], &*row[7]), ("H", "3"));
    assert_eq!(row[8], "it was to hold 10 pieces; 3 due");
}

#[test]
fn nothing_to_claim_is_no_page_unless_asked_for() {
    let mut f = fixture::footbridge();
    for item in &mut f.account.items {
        item.sums.covered = item.sums.required;
        item.sums.damaged = 0;
    }
    assert!(Page::of_job(&f.job, &f.lists, &f.account).is_none());
    f.job.claim.insert("Order".to_owned(), "TF-2207".to_owned());
    let page = Page::of_job(&f.job, &f.lists, &f.account).expect("a page");
    assert_eq!(page.summary, "Nothing is claimed.");
}

#[test]
fn payloads_stay_text_in_every_cell() {
    let payload = "=HYPERLINK(\"http://example.invalid\")";
    let mut f = fixture::footbridge();
    f.job.name = payload.to_owned();
    f.job.claim.insert(payload.to_owned(), payload.to_owned());
    f.lists[0].file = payload.to_owned();
    f.account.items[0].text = payload.to_owned();
    f.account.items[0].bags = vec![payload.into()];
    f.account.stages[1].name = payload.to_owned();
    let page = Page::of_job(&f.job, &f.lists, &f.account).expect("a claim");
    let cells = records(&page).into_iter().flatten();
    let mut held = 0;
    for cell in cells {
        assert!(!cell.starts_with(['=', '+', '-', '@']), "{cell}");
        held += usize::from(cell.contains(payload));
    }
    assert!(held > 5);
}

#[test]
fn the_ending_says_what_is_written() {
    let kind = |path: &str| Kind::of(Path::new(path)).ok();
    assert_eq!(kind("claim.xlsx"), Some(Kind::Workbook));
    assert_eq!(kind("out/CLAIM.CSV"), Some(Kind::Csv));
    assert_eq!(kind("claim.pdf"), None);
    assert_eq!(kind("claim"), None);
}

#[test]
fn what_nobody_counted_is_one_row() {
    let f = fixture::footbridge();
    let left_out = |what: &str, pieces, why| LeftOut {
        what: what.to_owned(),
        pieces: Some(pieces),
        why,
        evidence: Rows::default(),
    };
    let claim = Claim {
        left_out: vec![
            left_out("post", 8, Omission::NotCounted),
            left_out("rail", 4, Omission::NotCounted),
            left_out("spare", 1, Omission::Spares),
        ],
        ..Claim::default()
    };
    let page = Page::of(&f.job, &f.lists, &f.account, &claim);
    let [table] = page.tables.as_slice() else {
        panic!("{} tables", page.tables.len());
    };
    assert_eq!(
        table.told(),
        "No. 1 to 2: Left out of this claim, and why. None of this is claimed."
    );
    let records = records(&page);
    let row = records.iter().find(|r| r[0] == "1").expect("a row");
    assert_eq!((&*row[2], &*row[7]), ("2 items", "12"));
    assert!(row[8].ends_with("as the slip lists them: 8 of post; 4 of rail"));
}
