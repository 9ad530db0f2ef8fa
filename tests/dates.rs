//! Sizes that a spreadsheet turned into dates, back to sizes.
//!
//! What a spreadsheet of US locale stores for a size that is typed into a cell of general format:
//! Journal of Accountancy, November 2001, "Translate Fractions in Excel"; two-figure years from 30 on
//! are of the last century (from memory). Every standard diameter up to 2 in, mixed number up to 12 in
//! and standard callout that makes a date is typed, stored and read back; the size must be among the
//! readings that the doubt lists. LibreOffice makes such cells in `tests/outside/dates.py`.

use std::{collections::BTreeSet, path::Path};

use tallybin::{
    doubt::Doubt,
    hardware::{Diameter, Length, Ratio, thread},
    kit::{Input, List, Role},
};

/// The year in which the size is typed.
const THIS_YEAR: i64 = 2026;

fn days(year: i64, month: i64) -> i64 {
    match month {
        2 if year % 4 == 0 => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

fn century(year: i64) -> i64 {
    year + if year < 30 { 2000 } else { 1900 }
}

/// The date that is stored for what is typed; `None` where it stays text.
fn stored(typed: &str) -> Option<(i64, i64, i64)> {
    let numbers: Option<Vec<i64>> = typed
        .split(['/', '-'])
        .map(|number| number.parse().ok())
        .collect();
    let date = match *numbers?.as_slice() {
        [month, day] if (1..=12).contains(&month) && day <= days(THIS_YEAR, month) => {
            (THIS_YEAR, month, day)
        }
        [month, year] if (1..=12).contains(&month) && year < 100 => (century(year), month, 1),
        [month, day, year] if (1..=12).contains(&month) && year < 100 => {
            (century(year), month, day)
        }
        _ => return None,
    };
    (date.2 >= 1 && date.2 <= days(date.0, date.1)).then_some(date)
}

/// Days since the last day of 1899, as the 1900 system counts from March 1900 on.
fn serial((year, month, day): (i64, i64, i64)) -> i64 {
    let leap_days = |year: i64| year / 4 - year / 100 + year / 400;
    let years = (year - 1900) * 365 + leap_days(year - 1) - leap_days(1899);
    let months: i64 = (1..month).map(|m| days(year, m)).sum();
    years + months + day + 1
}

/// Sizes as typed, with the canonical text that they must read back as.
fn diameters() -> Vec<(String, String)> {
    let mut all = BTreeSet::new();
    for diameter in thread::threaded_diameters() {
        let Diameter::Inch(value) = diameter else {
            continue;
        };
        if value <= Ratio::from_integer(2) && !value.is_integer() {
            all.insert((diameter.to_string(), diameter.to_string()));
        }
    }
    all.into_iter().collect()
}

/// Coarse and fine threads of all diameters up to 2 in, number sizes without the mark.
fn callouts() -> Vec<(String, String)> {
    let mut all = BTreeSet::new();
    for diameter in thread::threaded_diameters() {
        let (typed, value) = match diameter {
            Diameter::Inch(value) => (diameter.to_string(), value),
            Diameter::Number(n) => (n.to_string(), Ratio::from_integer(0)),
            Diameter::Metric(_) => continue,
        };
        if value > Ratio::from_integer(2) {
            continue;
        }
        for thread in [thread::coarse(diameter), thread::fine(diameter)]
            .into_iter()
            .flatten()
        {
            all.insert((format!("{typed}-{thread}"), format!("{diameter}-{thread}")));
        }
    }
    all.into_iter().collect()
}

/// Fractions and mixed numbers up to 12 in, in sixteenths.
fn lengths() -> Vec<(String, String)> {
    (1..12 * 16)
        .map(|n| Ratio::new(n, 16))
        .filter(|length| !length.is_integer())
        .map(|length| {
            (
                Length::Inch(length).to_string(),
                Length::Inch(length).to_string(),
            )
        })
        .collect()
}

/// All that makes a date: as typed, what it was, the date.
fn dated() -> Vec<(String, String, (i64, i64, i64))> {
    [diameters(), callouts(), lengths()]
        .concat()
        .into_iter()
        .filter_map(|(typed, size)| stored(&typed).map(|date| (typed, size, date)))
        .collect()
}

/// Each row of a list must carry the doubt that lists the size.
#[track_caller]
fn check(path: &Path, dated: &[(String, String, (i64, i64, i64))], form: &str) {
    let list = List::read(&Input::at(path), "list".into(), Role::Required, &|_| {})
        .expect("a list that can be read");
    assert_eq!(list.lines.len(), dated.len(), "{form}");
    let mut wrong = Vec::new();
    for (line, (typed, size, date)) in list.lines.iter().zip(dated) {
        let reading = list.reading_of(line).expect("an item");
        let found = reading.doubts.iter().find_map(|doubt| match doubt {
            Doubt::DateForSize { readings, .. } => Some(readings),
            _ => None,
        });
        if !found.is_some_and(|readings| readings.iter().any(|reading| **reading == **size)) {
            wrong.push(format!("{typed} stored as {date:?}: {found:?}"));
        }
    }
    assert_eq!(wrong, [""; 0], "{form}");
}

/// A list in delimited text, with each date as `show` writes it.
#[track_caller]
fn check_text(form: &str, show: impl Fn((i64, i64, i64)) -> String) {
    let dated = dated();
    assert!(dated.len() > 100, "{}", dated.len());
    let mut text = String::from("Qty|Description|Size\n");
    for (_, _, date) in &dated {
        text += &format!("4|part-threaded piece, bolt|{}\n", show(*date));
    }
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join("list.csv");
    std::fs::write(&path, text).expect("a file for the test");
    check(&path, &dated, form);
}

const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

#[test]
fn iso_dates() {
    check_text("ISO", |(year, month, day)| {
        format!("{year}-{month:02}-{day:02}")
    });
}

#[test]
fn month_before_day() {
    check_text("month first", |(year, month, day)| {
        format!("{month}/{day}/{year}")
    });
}

#[test]
fn day_before_month() {
    check_text("day first", |(year, month, day)| {
        format!("{day:02}/{month:02}/{year}")
    });
}

/// What the cell shows, and a CSV export holds: `8-Mar` for a day of this year, `May-32` for a month
/// of another, the date in full for the rest.
#[test]
fn as_shown() {
    check_text("as shown", |(year, month, day)| {
        let name = MONTHS[month as usize - 1];
        match (year, day) {
            (THIS_YEAR, _) => format!("{day}-{name}"),
            (1930..2000, 1) => format!("{name}-{:02}", year % 100),
            _ => format!("{month}/{day}/{year}"),
        }
    });
}

/// Writes the dates as cells of a workbook, counted from 1900 or from 1904.
fn workbook(dated: &[(String, String, (i64, i64, i64))], from_1904: bool) -> Vec<u8> {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    let format = rust_xlsxwriter::Format::new().set_num_format("d-mmm");
    let mut write = || -> Result<(), rust_xlsxwriter::XlsxError> {
        for (column, heading) in ["Qty", "Description", "Size"].into_iter().enumerate() {
            sheet.write(0, column as u16, heading)?;
        }
        for (row, (_, _, date)) in (1..).zip(dated) {
            let days = serial(*date) - if from_1904 { 1462 } else { 0 };
            sheet.write(row, 0, 4)?;
            sheet.write(row, 1, "bolt")?;
            sheet.write_with_format(row, 2, days as f64, &format)?;
        }
        Ok(())
    };
    write().expect("the cells are written");
    let bytes = book.save_to_buffer().expect("a workbook");
    if from_1904 {
        counted_from_1904(&bytes)
    } else {
        bytes
    }
}

/// The same workbook with the mark of the 1904 system, ECMA-376 part 1, 18.2.28.
fn counted_from_1904(bytes: &[u8]) -> Vec<u8> {
    use std::io::{Cursor, Read as _, Write as _};
    let mut old = zip::ZipArchive::new(Cursor::new(bytes)).expect("a zip");
    let mut new = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for i in 0..old.len() {
        let mut file = old.by_index(i).expect("a member");
        let mut text = Vec::new();
        file.read_to_end(&mut text).expect("the member");
        let name = file.name().expect("a name").into_owned();
        if name == "xl/workbook.xml" {
            let marked = String::from_utf8(text)
                .expect("XML in UTF-8")
                .replace("<workbookPr ", "<workbookPr date1904=\"1\" ");
            assert!(marked.contains("date1904"));
            text = marked.into_bytes();
        }
        new.start_file(name, zip::write::SimpleFileOptions::default())
            .expect("a member");
        new.write_all(&text).expect("the member");
    }
    new.finish().expect("a zip").into_inner()
}

#[track_caller]
fn check_workbook(from_1904: bool) {
    let mut dated = dated();
    // The 1904 system knows no date before 1904; all of these are later.
    dated.retain(|(_, _, (year, _, _))| *year > 1904);
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join("list.xlsx");
    std::fs::write(&path, workbook(&dated, from_1904)).expect("a file for the test");
    check(&path, &dated, if from_1904 { "1904" } else { "1900" });
}

#[test]
fn cells_of_the_1900_system() {
    check_workbook(false);
}

#[test]
fn cells_of_the_1904_system() {
    check_workbook(true);
}

/// Serial numbers against known days: 1 January 2000 is 36526 (ECMA-376 part 1, 18.17.4.1).
#[test]
fn serial_numbers() {
    assert_eq!(serial((2000, 1, 1)), 36526);
    assert_eq!(serial((1932, 5, 1)), 11810);
}
