//! The claim on paper: one page of heading lines and tables, written as a sheet or as CSV.

use std::{
    fs::File,
    io::{self, Write},
    path::Path,
};

use super::{file, wording, workbook};
use crate::{
    Error, Result,
    kit::{Job, List},
    settle::{
        Account, Claim, FindingKind, ItemAccount,
        claim::{Cause, Claimed},
    },
};

/// Columns of every table of the page. The eighth is named by its table.
pub const COLUMNS: [&str; 14] = [
    "No.",
    "Why",
    "Item",
    "Bag",
    "Required",
    "On the slip",
    "By count",
    PIECES,
    "Finding",
    "What it stops",
    "Where it says so",
    "Counted by",
    "Photo",
    "Remark",
];
/// The heading that each table has its own word for.
pub const PIECES: &str = "Pieces";

/// Heading lines to be filled in by hand, where the job file has none.
const HEADING: [&str; 10] = [
    "From",
    "To",
    "Order",
    "Kit",
    "Packing slip",
    "Received",
    "Claim window",
    "Remedy wanted",
    "Ship to",
    "Needed by",
];

const SIGNATURES: [&str; 4] = [
    "Claimed by",
    "Date and signature",
    "For the kit maker",
    "Date and signature",
];

/// Beside those of every report.
const CAUTION: &str = "Keep damaged and surplus pieces apart, with a photo of each as found, until the \
                       kit maker says what becomes of them.";

/// What stands in a cell of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cell {
    Text(String),
    Number(u64),
    Blank,
}

impl From<Option<u64>> for Cell {
    fn from(number: Option<u64>) -> Cell {
        number.map_or(Cell::Blank, Cell::Number)
    }
}

pub type Row = [Cell; COLUMNS.len()];

/// One table of the page.
#[derive(Debug, Clone)]
pub struct Table {
    pub title: String,
    /// One sentence.
    pub note: String,
    /// What the pieces of this table are called.
    pub pieces: &'static str,
    pub rows: Vec<Row>,
}

impl Table {
    /// The headings of its columns.
    pub fn headings(&self) -> [&str; COLUMNS.len()] {
        COLUMNS.map(|heading| match heading {
            PIECES => self.pieces,
            heading => heading,
        })
    }
}

/// A claim, ready to be written.
pub struct Page {
    pub title: String,
    /// Name and value, in order.
    pub heading: Vec<(String, String)>,
    /// How much is claimed, in one sentence.
    pub summary: String,
    pub tables: Vec<Table>,
    pub cautions: Vec<&'static str>,
    pub signatures: [&'static str; 4],
}

impl Page {
    /// Draws up the page; `None` where there is nothing to claim and no heading for a claim.
    pub fn of_job(job: &Job, lists: &[List], account: &Account) -> Option<Page> {
        let claim = Claim::of(job, lists, account);
        let wanted = !claim.claimed.is_empty() || !job.claim.is_empty();
        wanted.then(|| Page::of(job, lists, account, &claim))
    }

    fn of(job: &Job, lists: &[List], account: &Account, claim: &Claim) -> Page {
        let mut heading = vec![(
            "Job".to_owned(),
            format!("{} ({})", job.name, wording::job(job)),
        )];
        match job.claim.is_empty() {
            true => heading.extend(HEADING.map(|name| (name.to_owned(), String::new()))),
            false => heading.extend(job.claim.iter().map(|(k, v)| (k.clone(), v.clone()))),
        }
        heading.extend(lists.iter().map(edition));
        let mut tables = Writing {
            job,
            lists,
            account,
            claim,
            number: 0,
        }
        .tables();
        tables.retain(|table| !table.rows.is_empty());
        let [instructions, structural, _, licensed] = wording::CAUTIONS;
        Page {
            title: "Claim for missing and damaged pieces".to_owned(),
            heading,
            summary: summary(claim, account),
            tables,
            cautions: vec![instructions, structural, licensed, CAUTION],
            signatures: SIGNATURES,
        }
    }
}

/// A list with its revision and date: the claim stands on these and no others.
fn edition(list: &List) -> (String, String) {
    let mut text = list.file.clone();
    match &list.revision {
        Some(revision) => text.push_str(&format!(", revision {revision}")),
        None => text.push_str(", no revision stated"),
    }
    match &list.date {
        Some(date) => text.push_str(&format!(", dated {date}")),
        None => text.push_str(", no date stated"),
    }
    (format!("List: {}", list.role), text)
}

/// How much is claimed; what is back-ordered is asked after and not claimed again.
fn summary(claim: &Claim, account: &Account) -> String {
    let [missing, damaged, to_follow, not_received] = [
        Cause::Missing,
        Cause::Damaged,
        Cause::BackOrdered,
        Cause::NotReceived,
    ]
    .map(|cause| claim.pieces(cause));
    let parts: Vec<String> = [
        (missing, "missing"),
        (damaged, "damaged"),
        (not_received, "in bags or boxes not received"),
    ]
    .into_iter()
    .filter(|(pieces, _)| *pieces > 0)
    .map(|(pieces, why)| format!("{pieces} {why}"))
    .collect();
    let mut summary = match parts.as_slice() {
        [] => "Nothing is claimed.".to_owned(),
        _ => format!(
            "Claimed: {}: {}.",
            crate::words::count(missing + damaged + not_received, "piece"),
            parts.join(", ")
        ),
    };
    if to_follow > 0 {
        summary.push_str(&format!(
            " Back-ordered: {}.",
            crate::words::count(to_follow, "piece")
        ));
    }
    if let [first, later @ ..] = account.parcels.as_slice() {
        let closed: u64 = later.iter().map(|parcel| parcel.closed).sum();
        summary.push_str(&format!(
            " Of {} asked for when the first parcel had come, later ones closed {closed}.",
            crate::words::count(first.open, "piece")
        ));
    }
    summary
}

/// The tables in the making.
struct Writing<'a> {
    job: &'a Job,
    lists: &'a [List],
    account: &'a Account,
    claim: &'a Claim,
    /// The last row's number: rows are numbered through, so that a letter can name one.
    number: u64,
}

impl Writing<'_> {
    fn tables(mut self) -> Vec<Table> {
        let claim = self.claim;
        let of_cause = |cause| claim.claimed.iter().filter(move |line| line.cause == cause);
        let mut tables = vec![
            self.claimed(
                "Claimed",
                "Missing pieces",
                "Fewer are on the slip, or were found in the boxes, than the stages require.",
                of_cause(Cause::Missing),
            ),
            self.claimed(
                "Claimed",
                "Damaged pieces",
                "Counted apart from the good ones. They cover nothing, and are not among the missing ones.",
                of_cause(Cause::Damaged),
            ),
            self.claimed(
                "To follow",
                "Back-ordered pieces",
                "The slip says that these will follow. Please confirm when; they are not among the missing ones.",
                of_cause(Cause::BackOrdered),
            ),
        ];
        for (at, finding) in self.account.findings.iter().enumerate() {
            let lines = of_cause(Cause::NotReceived).filter(move |line| line.finding == Some(at));
            let due: u64 = lines.clone().map(|line| line.pieces).sum();
            let note = format!(
                "{} Of these, {due} are due and claimed here. To be taken up with the carrier, too.",
                finding.note
            );
            tables.push(self.claimed("Claimed", "Bag or box not received", &note, lines));
        }
        tables.extend((1..self.account.parcels.len()).map(|parcel| self.closed(parcel)));
        tables.push(self.substituted());
        tables.push(self.over());
        tables.push(self.left_out());
        tables
    }

    fn claimed<'a>(
        &mut self,
        pieces: &'static str,
        title: &str,
        note: &str,
        lines: impl Iterator<Item = &'a Claimed>,
    ) -> Table {
        Table {
            title: title.to_owned(),
            note: note.to_owned(),
            pieces,
            rows: lines.map(|line| self.claimed_row(line)).collect(),
        }
    }

    fn claimed_row(&mut self, line: &Claimed) -> Row {
        let item = &self.account.items[line.item];
        let mut row = self.item_row(line.cause.as_str(), item, line.pieces);
        row[3] = Cell::Text(line.bags.join(", "));
        let mut words = vec![finding(item, line)];
        let doubts = line.doubts.iter();
        words.extend(doubts.map(|doubt| format!("count it again by hand first: {doubt}")));
        row[8] = Cell::Text(words.join("\n"));
        row[9] = Cell::Text(format!(
            "{} {}\n{}",
            line.stage + 1,
            wording::stage_name(self.account, line.stage),
            line.urgency
        ));
        row[11] = Cell::Text(line.counted_by.join(", "));
        row
    }

    /// What a later parcel closed of the claim.
    fn closed(&mut self, parcel: usize) -> Table {
        let account = self.account;
        let changes = account.parcels[parcel].changes.iter();
        let rows = changes.filter(|change| change.closed > 0).map(|change| {
            let item = &account.items[change.item];
            let mut row = self.item_row("closed", item, change.closed);
            row[8] = Cell::Text(wording::change(change));
            row
        });
        let rows = rows.collect();
        let sentence = wording::parcels(self.lists, account).swap_remove(parcel);
        Table {
            title: format!("Closed by parcel {}", parcel + 1),
            note: format!("{sentence}. What it closed is not claimed any more."),
            pieces: "Closed",
            rows,
        }
    }

    fn substituted(&mut self) -> Table {
        let rows = self.claim.substituted.iter().filter_map(|line| {
            let item = &self.account.items[line.item];
            let stand_in = &item.stand_ins[line.stand_in];
            let rule = self.job.substitutes.get(line.rule)?;
            let mut row = self.item_row("substituted", item, stand_in.pieces);
            row[8] = Cell::Text(wording::substitute(stand_in, rule));
            row[9] = Cell::Text(format!(
                "{} {}",
                stand_in.stage + 1,
                wording::stage_name(self.account, stand_in.stage)
            ));
            row[10] = Cell::Text(rule.address());
            Some(row)
        });
        Table {
            title: "Substituted pieces".to_owned(),
            note: "Another piece serves in their place under a rule. They are claimed above, but for those \
                   that the approver holds for delivered."
                .to_owned(),
            pieces: "Substituted",
            rows: rows.collect(),
        }
    }

    fn over(&mut self) -> Table {
        let rows = self.claim.over.iter().map(|over| {
            let item = &self.account.items[over.item];
            let mut row = self.item_row("surplus", item, over.pieces);
            row[8] = Cell::Text(wording::found(self.account, item));
            row
        });
        Table {
            title: "To go back".to_owned(),
            note: "Counted, and not due to this kit. Kept until the kit maker says what becomes of them."
                .to_owned(),
            pieces: "To go back",
            rows: rows.collect(),
        }
    }

    fn left_out(&mut self) -> Table {
        let rows = self.claim.left_out.iter().map(|left_out| {
            let mut row = self.row();
            row[1] = Cell::Text("left out".to_owned());
            row[2] = Cell::Text(left_out.what.clone());
            row[7] = left_out.pieces.into();
            row[8] = Cell::Text(left_out.why.to_string());
            row[10] = Cell::Text(evidence(self.lists, &left_out.evidence));
            row
        });
        Table {
            title: "Left out of this claim, and why".to_owned(),
            note: "None of this is claimed.".to_owned(),
            pieces: "Not claimed",
            rows: rows.collect(),
        }
    }

    fn row(&mut self) -> Row {
        self.number += 1;
        let mut row: Row = std::array::from_fn(|_| Cell::Blank);
        row[0] = Cell::Number(self.number);
        row
    }

    fn item_row(&mut self, why: &str, item: &ItemAccount, pieces: u64) -> Row {
        let mut row = self.row();
        row[1] = Cell::Text(why.to_owned());
        row[2] = Cell::Text(name(item));
        row[3] = Cell::Text(item.bags.join(", "));
        row[4] = Cell::Number(item.sums.required);
        row[5] = match item.shipped {
            Some(shipped) => Cell::Number(shipped),
            None => Cell::Text("no slip".to_owned()),
        };
        row[6] = match item.counted {
            Some(counted) => Cell::Number(counted),
            None => Cell::Text(wording::NOT_COUNTED.to_owned()),
        };
        row[7] = Cell::Number(pieces);
        let sources = item.required_by.iter();
        let sources = sources.chain(&item.shipped_by).chain(&item.counted_by);
        row[10] = Cell::Text(evidence(self.lists, sources));
        row
    }
}

/// The item's text with the maker's numbers that it does not show.
fn name(item: &ItemAccount) -> String {
    let hidden = item
        .part_numbers
        .iter()
        .filter(|n| !item.text.contains(n.as_str()));
    let numbers: Vec<&str> = hidden.map(String::as_str).collect();
    match numbers.as_slice() {
        [] => item.text.clone(),
        _ => format!("{}\nNo. {}", item.text, numbers.join(", ")),
    }
}

/// Addresses, one a line.
fn evidence<'a>(
    lists: &[List],
    evidence: impl IntoIterator<Item = &'a crate::settle::Evidence>,
) -> String {
    let addresses: Vec<String> = evidence
        .into_iter()
        .map(|e| wording::address(lists, e))
        .collect();
    addresses.join("\n")
}

/// What was found that the claim of a line rests on.
fn finding(item: &ItemAccount, line: &Claimed) -> String {
    let kinds: &[FindingKind] = match line.cause {
        Cause::Missing => &[
            FindingKind::SlipShort,
            FindingKind::BoxShort,
            FindingKind::WrongSize,
        ],
        Cause::Damaged => &[FindingKind::Damaged],
        Cause::BackOrdered => &[FindingKind::BackOrdered],
        Cause::NotReceived => &[],
    };
    let found = item.findings.iter().filter(|f| kinds.contains(&f.finding));
    let words: Vec<String> = found.map(wording::finding).collect();
    if !words.is_empty() {
        return words.join("\n");
    }
    let losses = item.not_received.iter();
    let mut losses = losses.filter(|loss| Some(loss.finding) == line.finding);
    match losses.next() {
        Some(loss) => format!(
            "it was to hold {}; {} due",
            crate::words::count(loss.pieces, "piece"),
            line.pieces
        ),
        None => format!(
            "{} good counted of {} required",
            item.sums.counted, item.sums.required
        ),
    }
}

/// What a claim can be written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Workbook,
    Csv,
}

impl Kind {
    fn of(path: &Path) -> Result<Kind> {
        let ending = path.extension().unwrap_or_default();
        if ending.eq_ignore_ascii_case("xlsx") {
            Ok(Kind::Workbook)
        } else if ending.eq_ignore_ascii_case("csv") {
            Ok(Kind::Csv)
        } else {
            Err(Error::Output {
                path: path.to_owned(),
                found: "a claim is written as a workbook or as CSV, and this name says neither"
                    .to_owned(),
                todo: "end the name in .xlsx or .csv".to_owned(),
            })
        }
    }
}

/// Refuses a path that [`write()`] could not write, before any work is done.
///
/// # Errors
/// [`Error::Output`]: an ending other than `.xlsx` and `.csv`, a folder, a missing folder, an existing
/// file without `force`.
pub fn refuse_existing(path: &Path, force: bool) -> Result<()> {
    Kind::of(path)?;
    file::check_path(path, force)
}

/// Writes the claim, whole or not at all: a workbook of one sheet or CSV, by the ending of `path`.
///
/// # Errors
/// [`Error::Output`] for a path that cannot be written, or that exists without `force`.
pub fn write(path: &Path, force: bool, job: &Job, lists: &[List], account: &Account) -> Result<()> {
    let page = Page::of(job, lists, account, &Claim::of(job, lists, account));
    let kind = Kind::of(path)?;
    file::replace(path, force, |out: &mut File| match kind {
        Kind::Csv => csv(&page, out),
        Kind::Workbook => workbook::write_claim(job, &page, out),
    })
}

/// Writes the page as CSV (RFC 4180), marked as UTF-8: what a sheet shows in a row is a record.
fn csv(page: &Page, out: &mut dyn Write) -> io::Result<()> {
    out.write_all("\u{feff}".as_bytes())?;
    let mut csv = csv::WriterBuilder::new()
        .flexible(true)
        .terminator(csv::Terminator::CRLF)
        .from_writer(out);
    let mut record = |cells: &[&str]| csv.write_record(cells.iter().map(|cell| inert(cell)));
    record(&[&page.title])?;
    for (name, value) in &page.heading {
        record(&[name, value])?;
    }
    record(&[&page.summary])?;
    for table in &page.tables {
        record(&[""])?;
        record(&[&table.title])?;
        record(&[&table.note])?;
        record(&table.headings())?;
        for row in &table.rows {
            let cells = row.each_ref().map(|cell| match cell {
                Cell::Text(text) => text.replace(".\n", ". ").replace('\n', "; "),
                Cell::Number(number) => number.to_string(),
                Cell::Blank => String::new(),
            });
            record(&cells.each_ref().map(String::as_str))?;
        }
    }
    record(&[""])?;
    for caution in &page.cautions {
        record(&[caution])?;
    }
    for signature in page.signatures {
        record(&[signature, ""])?;
    }
    csv.flush()
}

/// A cell that no spreadsheet takes for a formula: one that begins as a formula does is marked as
/// text. CSV has no other way to say so.
fn inert(cell: &str) -> String {
    match cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) {
        true => format!("'{cell}"),
        false => cell.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        report::fixture,
        settle::{Finding, Loss, claim::Omission},
    };

    fn records(page: &Page) -> Vec<Vec<String>> {
        let mut out = Vec::new();
        csv(page, &mut out).expect("writes");
        let text = String::from_utf8(out).expect("UTF-8");
        let text = text.strip_prefix('\u{feff}').expect("marked as UTF-8");
        let mut reader = csv::ReaderBuilder::new()
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
            "slip.csv, no revision stated, no date stated"
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
            evidence: Vec::new(),
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
        assert!(records.iter().any(|r| r == &[
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
    fn cells_stay_text() {
        #[track_caller]
        fn case(text: &str, expected: &str) {
            assert_eq!(inert(text), expected);
        }
        case("=1+1", "'=1+1");
        case("+1", "'+1");
        case("-2+3", "'-2+3");
        case("@SUM(A1:A9)", "'@SUM(A1:A9)");
        case("\t=1+1", "'\t=1+1");
        case("1/2 x 6 hex bolt", "1/2 x 6 hex bolt");
        case("", "");
    }

    #[test]
    fn payloads_stay_text_in_every_cell() {
        let payload = "=HYPERLINK(\"http://example.invalid\")";
        let mut f = fixture::footbridge();
        f.job.name = payload.to_owned();
        f.job.claim.insert(payload.to_owned(), payload.to_owned());
        f.lists[0].file = payload.to_owned();
        f.account.items[0].text = payload.to_owned();
        f.account.items[0].bags = vec![payload.to_owned()];
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
}
