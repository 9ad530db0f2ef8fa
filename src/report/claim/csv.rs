//! The claim as CSV.

use std::io::{self, Write};

use super::{page::Page, table::Cell};
use crate::inert::inert;

/// Writes the page as CSV (RFC 4180), marked as UTF-8: what a sheet shows in a row is a record.
pub fn csv(page: &Page, out: &mut dyn Write) -> io::Result<()> {
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
    for signature in page.signatures.as_flattened() {
        record(&[signature, ""])?;
    }
    csv.flush()
}
