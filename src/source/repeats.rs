//! What the repeats in an ods come to.

use quick_xml::events::{BytesStart, Event};

use super::{
    broken::{Broken, Found, damaged},
    limits::{Limit, Limits},
    sheet_rows::MOST_ROWS,
    tag_values::{number, text},
};

/// The cells that an ods sheet comes to once its repeated rows and columns are written out, which
/// is what a reader does (the rectangle around all filled cells), and the text in them.
pub struct Repeats<'a> {
    limits: &'a Limits,
    /// Cells of the sheets before.
    before: u64,
    sheet: Area,
    row: Row,
    cell: Cell,
    in_cell: bool,
    /// Rows as they are written, of all sheets: a reader keeps each, blank ones too.
    rows: u64,
    /// Bytes of all cells of all sheets.
    bytes: u64,
}

#[derive(Default)]
struct Area {
    /// Rows from the first filled one to the last filled one.
    rows: u64,
    /// Rows since the last filled one.
    blank_rows: u64,
    /// All rows down to the one that is read.
    down: u64,
    /// The widest row, to its last filled cell.
    width: u64,
}

impl Area {
    fn cells(&self) -> u64 {
        self.rows.saturating_mul(self.width)
    }
}

#[derive(Default)]
struct Row {
    repeats: u64,
    cells: u64,
    bytes: u64,
}

#[derive(Default)]
struct Cell {
    repeats: u64,
    bytes: u64,
}

impl<'a> Repeats<'a> {
    pub fn new(limits: &'a Limits) -> Repeats<'a> {
        Repeats {
            limits,
            before: 0,
            sheet: Area::default(),
            row: Row::default(),
            cell: Cell::default(),
            in_cell: false,
            rows: 0,
            bytes: 0,
        }
    }

    pub fn event(&mut self, event: &Event<'_>) -> Found<()> {
        match event {
            Event::Start(tag) => self.start(tag)?,
            Event::End(tag) => match tag.name().as_ref() {
                "table:table-cell" | "table:covered-table-cell" => {
                    self.in_cell = false;
                    let bytes = self.cell.bytes.saturating_mul(self.cell.repeats);
                    self.row.bytes = self.row.bytes.saturating_add(bytes);
                    self.cell = Cell::default();
                }
                "table:table-row" => {
                    let bytes = self.row.bytes.saturating_mul(self.row.repeats);
                    self.bytes = self.bytes.saturating_add(bytes);
                }
                _ => {}
            },
            Event::Text(text) => self.add(text.len() as u64),
            Event::CData(text) => self.add(text.len() as u64),
            _ => {}
        }
        if self.before.saturating_add(self.sheet.cells()) > self.limits.most(Limit::Cells) {
            let what = "the area of its sheets".to_owned();
            return Err(Broken::TooLarge(Limit::Cells, what));
        }
        if self.rows > self.limits.most(Limit::Rows) {
            let what = "more rows than are read of one file".to_owned();
            return Err(Broken::TooLarge(Limit::Rows, what));
        }
        let bytes = self.bytes.max(self.row.bytes).max(self.cell.bytes);
        if bytes > self.limits.most(Limit::Text) {
            let what = "the text of its cells".to_owned();
            return Err(Broken::TooLarge(Limit::Text, what));
        }
        Ok(())
    }

    fn add(&mut self, bytes: u64) {
        self.cell.bytes = self.cell.bytes.saturating_add(bytes);
    }

    fn start(&mut self, tag: &BytesStart<'_>) -> Found<()> {
        let repeats = |name: &str| Ok::<u64, Broken>(number(tag, name)?.unwrap_or(1).max(1));
        match tag.name().as_ref() {
            // A reader passes over both.
            "table:table" if self.in_cell => {
                return Err(damaged("a cell holds a table of its own"));
            }
            "table:table" if text(tag, "name")?.is_none() => {
                return Err(damaged("one of its sheets has no name"));
            }
            "table:table" => {
                self.before = self.before.saturating_add(self.sheet.cells());
                self.sheet = Area::default();
            }
            "table:table-row" => {
                self.rows += 1;
                self.row = Row {
                    repeats: repeats("table:number-rows-repeated")?,
                    ..Row::default()
                };
                let sheet = &mut self.sheet;
                sheet.blank_rows = sheet.blank_rows.saturating_add(self.row.repeats);
                sheet.down = sheet.down.saturating_add(self.row.repeats);
            }
            "table:table-cell" | "table:covered-table-cell" => {
                self.in_cell = true;
                self.cell.repeats = repeats("table:number-columns-repeated")?;
                self.row.cells = self.row.cells.saturating_add(self.cell.repeats);
                if text(tag, "value-type")?.is_some() || text(tag, "formula")?.is_some() {
                    // A reader passes over what stands below.
                    if self.sheet.down > u64::from(MOST_ROWS) {
                        return Err(damaged("it has more rows than a sheet can"));
                    }
                    self.fill();
                    self.add(tag.attributes_raw().len() as u64);
                }
            }
            // So many spaces.
            "text:s" => self.add(number(tag, "text:c")?.unwrap_or(1)),
            _ => {}
        }
        Ok(())
    }

    /// A filled cell is there.
    fn fill(&mut self) {
        let sheet = &mut self.sheet;
        sheet.width = sheet.width.max(self.row.cells);
        if sheet.blank_rows > 0 {
            // Blank rows above the first filled one are not built.
            sheet.rows = match sheet.rows {
                0 => self.row.repeats,
                rows => rows.saturating_add(sheet.blank_rows),
            };
            sheet.blank_rows = 0;
        }
    }
}
