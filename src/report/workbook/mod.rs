//! The shortage and bin-layout workbook, a file a sheet.

mod bags;
mod bins;
mod buy;
pub(super) mod by_stage;
pub(super) mod check;
mod claim_sheet;
mod count_sheet;
mod every_line;
mod labels;
mod left_over;
mod live;
mod packing;
mod put_back;
mod questions;
mod sheet;
pub(super) mod shortages;
pub(super) mod style;
mod summary;
mod tightening;
mod tools;
mod weights;

use std::{fs::File, io, path::Path};

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, XlsxError};

use super::{
    claim::Page,
    file,
    masses::Masses,
    packing::{Packs, Slip},
};
use crate::{
    Result,
    audit::Audit,
    bins::Layout,
    kit::{Job, List},
    settle::Account,
    shield::shield,
};
use live::Live;
use sheet::SHEET_ROWS;
use style::Style;

/// How hard sheets are compressed, of 1 to 9: a large workbook takes a third less time to compress
/// than at the usual 6, and is a twentieth larger.
const COMPRESSION: u8 = 4;

/// All that the sheets are written from.
pub(super) struct Report<'a> {
    job: &'a Job,
    lists: &'a [List],
    account: &'a Account,
    layout: &'a Layout,
    audit: &'a Audit,
    masses: Masses<'a>,
    /// The lines of the Count sheet.
    counts: Vec<count_sheet::Entry<'a>>,
    /// What follows them; `None` where nothing does.
    live: Option<Live>,
    style: Style,
    /// When the job was settled, as `2026-03-14 09:26`.
    when: String,
}

impl<'a> Report<'a> {
    fn new(
        job: &'a Job,
        lists: &'a [List],
        account: &'a Account,
        layout: &'a Layout,
        audit: &'a Audit,
        when: String,
    ) -> Report<'a> {
        let counts = count_sheet::entries(lists, account);
        Report {
            job,
            lists,
            account,
            layout,
            audit,
            masses: Masses::of(job, lists, account),
            live: Live::of(job, account, &counts),
            counts,
            style: Style::new(),
            when,
        }
    }

    fn footer(&self) -> String {
        footer(self.job, &self.when)
    }
}

/// The left part of every page's foot: the job and the time. `&` starts a code there.
fn footer(job: &Job, when: &str) -> String {
    footer_of(&job.name, when)
}

fn footer_of(name: &str, when: &str) -> String {
    let name: String = name.chars().take(80).collect();
    format!("{}, {when}", name.replace('&', "&&"))
}

/// A time as people read it: `2026-03-14 09:26`.
fn shown(time: jiff::civil::DateTime) -> String {
    time.strftime("%Y-%m-%d %H:%M").to_string()
}

/// Refuses an output path that [`write()`] could not write, before any work is done: a directory, a
/// missing folder, an existing file without `force`.
///
/// # Errors
/// [`crate::Error::Output`], with what to do.
pub fn refuse_existing(path: &Path, force: bool) -> Result<()> {
    file::check_path(path, force)
}

/// Writes the workbook to a temporary file beside `path` and renames it, so that a run that fails
/// leaves an older report whole and nothing else behind.
///
/// # Errors
/// [`crate::Error::Output`] for a path that cannot be written, or that exists without `force`.
pub fn write(
    path: &Path,
    force: bool,
    job: &Job,
    lists: &[List],
    account: &Account,
    layout: &Layout,
    audit: &Audit,
) -> Result<()> {
    let now = jiff::ZonedDateTime::now().datetime();
    file::replace(path, force, |out| {
        let workbook = fill(job, lists, account, layout, audit, now).map_err(io::Error::other)?;
        save(workbook, out)
    })
}

/// Saves a workbook; the writer panics where it cannot read or write its temporary files.
fn save(mut workbook: Workbook, out: &mut File) -> io::Result<()> {
    match shield(|| workbook.save_to_writer(out)) {
        Some(saved) => saved.map_err(io::Error::other),
        None => Err(no_room()),
    }
}

/// What the writer's panic means.
fn no_room() -> io::Error {
    io::Error::other("there is no room for temporary files")
}

/// Writes the claim as a workbook of its own.
///
/// # Errors
/// What the writer reports.
pub fn write_claim(job: &Job, page: &Page, out: &mut File) -> io::Result<()> {
    write_alone(&page.title, out, |workbook, when| {
        claim_sheet::write(workbook, page, &Style::new(), &footer(job, when))
    })
}

/// Writes what can be packed from stock.
///
/// # Errors
/// What the writer reports.
pub fn write_packing(packs: &Packs, out: &mut File) -> io::Result<()> {
    write_alone("Packing", out, |workbook, when| {
        packing::write(workbook, packs, &Style::new(), when)
    })
}

/// Writes one kit's packing slip.
///
/// # Errors
/// What the writer reports.
pub fn write_slip(slip: &Slip, out: &mut File) -> io::Result<()> {
    write_alone("Packing slip", out, |workbook, when| {
        packing::slip(workbook, slip, &Style::new(), when)
    })
}

/// Writes a workbook that is no report on a job; `fill` is told when it is written.
fn write_alone(
    title: &str,
    out: &mut File,
    fill: impl FnOnce(&mut Workbook, &str) -> std::result::Result<(), XlsxError>,
) -> io::Result<()> {
    let now = jiff::ZonedDateTime::now().datetime();
    let filled = empty(title, now).and_then(|mut workbook| {
        fill(&mut workbook, &shown(now))?;
        Ok(workbook)
    });
    save(filled.map_err(io::Error::other)?, out)
}

/// A workbook without sheets, in the house's type.
fn empty(title: &str, now: jiff::civil::DateTime) -> std::result::Result<Workbook, XlsxError> {
    let mut workbook = Workbook::new();
    workbook.set_default_format(&style::base(), 18, 64)?;
    workbook.set_zip_compression_level(COMPRESSION);
    let created = ExcelDateTime::from_ymd(now.year() as u16, now.month() as u8, now.day() as u8)?
        .and_hms(now.hour() as u16, now.minute() as u8, 0.0)?;
    workbook.set_properties(
        &DocProperties::new()
            .set_title(title)
            .set_author("tallybin")
            .set_creation_datetime(&created),
    );
    Ok(workbook)
}

/// The whole workbook as of a time.
fn fill(
    job: &Job,
    lists: &[List],
    account: &Account,
    layout: &Layout,
    audit: &Audit,
    now: jiff::civil::DateTime,
) -> std::result::Result<Workbook, XlsxError> {
    let report = Report::new(job, lists, account, layout, audit, shown(now));
    let mut workbook = empty(&job.name, now)?;
    report.style.register(&mut workbook)?;
    let mut lines = every_line::sheets(&mut workbook, &report, SHEET_ROWS)?;
    let (others, all_lines) = rayon::join(
        || others(&mut workbook, &report),
        || every_line::write(&mut lines, &report, SHEET_ROWS),
    );
    others.and(all_lines)?;
    for sheet in lines {
        workbook.push_worksheet(sheet);
    }
    Ok(workbook)
}

/// All sheets but Every line, which has as many rows as they have together.
fn others(workbook: &mut Workbook, report: &Report<'_>) -> std::result::Result<(), XlsxError> {
    summary::write(workbook, report)?;
    shortages::write(workbook, report)?;
    by_stage::write(workbook, report)?;
    bins::write(workbook, report)?;
    count_sheet::write(workbook, report)?;
    bags::write(workbook, report)?;
    put_back::write(workbook, report)?;
    buy::write(workbook, report)?;
    left_over::write(workbook, report)?;
    labels::write(workbook, report)?;
    if let Some(page) = Page::of_job(report.job, report.lists, report.account) {
        claim_sheet::write(workbook, &page, &report.style, &report.footer())?;
    }
    tightening::write(workbook, report)?;
    tools::write(workbook, report)?;
    weights::write(workbook, report)?;
    questions::write(workbook, report)?;
    check::write(workbook, report)
}

#[cfg(test)]
mod tests {
    use std::io::{Cursor, Read, Write};

    use calamine::{Data, Reader, Xlsx, open_workbook_from_rs};

    use super::*;
    use crate::{
        report::fixture::{self, Fixture},
        settle::Verdict,
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
        // The slip's bolts are in two bags.
        let slip = &mut f.lists[1];
        slip.placements[0].bag = Some("A".into());
        slip.placements.push(crate::kit::Placement {
            bag: Some("B".into()),
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
            ["B1", "1/2 x 6 hex bolt", "", "A", "", "", ""]
        );
        assert_eq!(
            rows[heading + 2],
            ["B1", "1/2 x 6 hex bolt", "", "B", "", "", ""]
        );
        assert_eq!(
            rows[heading + 3],
            ["P1", "FB-7 ladder hook", "FB-7", "", "", "", ""]
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
            item.bags = vec![payload.to_owned()];
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
        // Good and damaged of the first line; the second is not counted.
        let filled = typed(bytes(&f), "sheet5", &[("D5", 20), ("E5", 1)]);
        std::fs::write(&path, filled).unwrap();
        let list = List::read(
            &crate::kit::job::Input::at(&path),
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
    fn what_is_covered_follows_the_count() {
        let good = "'Count sheet'!$D$5:$D$6";
        let ids = "'Count sheet'!$A$5:$A$6";
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
}
