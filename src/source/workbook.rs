//! Workbooks: xlsx and xlsm, xlsb, xls, ods.

use std::{
    collections::HashSet,
    fmt::Write,
    fs::File,
    io::BufReader,
    ops::{ControlFlow, Range},
    path::{Path, PathBuf},
    thread,
};

use calamine::{
    CellErrorType, Data, DataRef, ExcelDateTime, Ods, OdsError, Reader, Sheet, SheetType,
    SheetVisible, Xls, XlsError, Xlsb, XlsbError, XlsxError,
};
use rustc_hash::FxBuildHasher;

use super::{
    Each, Format, SheetInfo,
    batch::batches,
    compound,
    encoding::push_plain,
    guard::{self, Found, Package, Sheets},
    limits::{Limit, Limits},
    row::{CellKind, Row},
    xlsx::Xlsx,
};
use crate::{
    error::{At, Error, Result},
    shield,
};

type Input = BufReader<File>;

/// An opened workbook.
pub struct Workbook {
    path: PathBuf,
    limits: Limits,
    sheets: Vec<SheetInfo>,
    /// Which of all the workbook's sheets they are.
    places: Vec<usize>,
    book: Book,
}

enum Book {
    Xlsx(Box<Xlsx>),
    Xlsb(Box<Xlsb<Input>>),
    Xls(Box<Xls<Input>>),
    Ods(Box<Ods<Input>>),
}

impl Workbook {
    /// Opens a workbook; `ole`: it is an OLE compound file, not a zip.
    pub fn open(path: &Path, ole: bool, limits: &Limits) -> Result<Workbook> {
        let broken = |error: Broken| error.at(path, limits);
        let file = File::open(path).map_err(|error| broken(Broken::Damaged(error.to_string())))?;
        let (book, all) = if ole {
            compound::check(path, limits)?;
            open_ole(BufReader::new(file)).map_err(broken)?
        } else {
            let (package, sheets) = guard::check(path, limits)?;
            open_zip(package, sheets, file).map_err(broken)?
        };
        let (places, sheets): (Vec<usize>, Vec<SheetInfo>) = all
            .into_iter()
            .enumerate()
            .filter(|(_, sheet)| sheet.typ == SheetType::WorkSheet)
            .map(|(place, sheet)| {
                let info = SheetInfo {
                    name: Some(sheet.name),
                    hidden: sheet.visible != SheetVisible::Visible,
                };
                (place, info)
            })
            .unzip();
        refuse_same_names(path, &sheets)?;
        Ok(Workbook {
            path: path.to_owned(),
            limits: *limits,
            sheets,
            places,
            book,
        })
    }

    pub fn format(&self) -> Format {
        match self.book {
            Book::Xlsx(_) => Format::Xlsx,
            Book::Xlsb(_) => Format::Xlsb,
            Book::Xls(_) => Format::Xls,
            Book::Ods(_) => Format::Ods,
        }
    }

    pub fn sheets(&self) -> &[SheetInfo] {
        &self.sheets
    }

    /// Hands on the rows of a sheet. They are parsed on a thread of their own, since taking them in
    /// takes about as long as parsing them.
    pub fn rows(&mut self, sheet: usize, each: &mut Each<'_>) -> Result<()> {
        let name = self.sheets[sheet].name.as_deref().unwrap_or_default();
        let at = At {
            sheet: Some(name.to_owned()),
            ..At::file(&self.path)
        };
        let (limits, place, book) = (&self.limits, self.places[sheet], &mut self.book);
        thread::scope(|scope| {
            let (mut full, batches, empty) = batches();
            let parser = scope.spawn(move || {
                let mut hand_on = |row: &Row| Ok(full.push(row));
                let mut rows = Rows::new(at.clone(), limits, &mut hand_on);
                let parsed = shield(|| Ok::<_, Broken>(parse(book, place, name, &mut rows)));
                match parsed {
                    Ok(Ok(())) if rows.end()?.is_continue() => {}
                    Ok(Ok(())) | Ok(Err(Stop::Enough)) => return Ok(()),
                    Ok(Err(Stop::Broken(broken))) | Err(broken) => {
                        return Err(broken.in_sheet(at, limits));
                    }
                    Ok(Err(Stop::Wrong(error))) => return Err(error),
                }
                // Whether anyone takes the last rows is all one.
                let _ = full.send();
                Ok(())
            });
            for batch in batches {
                for row in batch.rows() {
                    if each(row)?.is_break() {
                        return Ok(());
                    }
                }
                // The parser may be done and gone.
                let _ = empty.send(batch);
            }
            parser
                .join()
                .unwrap_or_else(|panic| std::panic::resume_unwind(panic))
        })
    }
}

/// Why the parsing of a sheet stops before its end.
pub enum Stop {
    Broken(Broken),
    Wrong(Error),
    /// Nobody takes more rows.
    Enough,
}

impl<E: Into<Broken>> From<E> for Stop {
    fn from(error: E) -> Stop {
        Stop::Broken(error.into())
    }
}

/// Parses a sheet into rows, all but the last of which are handed on.
fn parse(
    book: &mut Book,
    place: usize,
    name: &str,
    rows: &mut Rows<'_, '_>,
) -> std::result::Result<(), Stop> {
    let go_on = |taken: Result<ControlFlow<()>>| match taken {
        Ok(ControlFlow::Continue(())) => Ok(()),
        Ok(ControlFlow::Break(())) => Err(Stop::Enough),
        Err(error) => Err(Stop::Wrong(error)),
    };
    match book {
        Book::Xlsx(book) => book.rows(place, rows),
        Book::Xlsb(book) => {
            let mut cells = book.worksheet_cells_reader(name)?;
            while let Some(cell) = cells.next_cell()? {
                go_on(rows.value(cell.get_position(), Value::from(cell.get_value())))?;
            }
            Ok(())
        }
        Book::Xls(book) => go_on(rows.range(&book.worksheet_range(name)?)),
        Book::Ods(book) => go_on(rows.range(&book.worksheet_range(name)?)),
    }
}

/// Calls into a reader. What it held is dropped with the file: nothing half-changed is seen again.
pub fn shield<T, E: Into<Broken>>(
    call: impl FnOnce() -> std::result::Result<T, E>,
) -> std::result::Result<T, Broken> {
    match shield::shield(call) {
        Some(result) => result.map_err(Into::into),
        None => Err(Broken::Damaged(
            "its contents contradict one another".to_owned(),
        )),
    }
}

fn open_ole(input: Input) -> Found<(Book, Vec<Sheet>)> {
    let book = shield(|| Xls::new(input))?;
    let sheets = book.sheets_metadata().to_vec();
    Ok((Book::Xls(Box::new(book)), sheets))
}

fn open_zip(package: Package, sheets: Sheets, file: File) -> Found<(Book, Vec<Sheet>)> {
    let input = BufReader::new(file);
    Ok(match package {
        Package::Xlsx => {
            let book = Xlsx::open(input.into_inner(), sheets)?;
            let sheets = book.sheets().to_vec();
            (Book::Xlsx(Box::new(book)), sheets)
        }
        Package::Xlsb => {
            let book = shield(|| Xlsb::new(input))?;
            let sheets = book.sheets_metadata().to_vec();
            (Book::Xlsb(Box::new(book)), sheets)
        }
        Package::Ods => {
            let book = shield(|| Ods::new(input))?;
            let sheets = book.sheets_metadata().to_vec();
            (Book::Ods(Box::new(book)), sheets)
        }
    })
}

/// Stages and addresses go by a sheet's name, so two of one name cannot be told apart.
fn refuse_same_names(path: &Path, sheets: &[SheetInfo]) -> Result<()> {
    for (index, sheet) in sheets.iter().enumerate() {
        let same = |other: &SheetInfo| {
            let lower = |s: &SheetInfo| s.name.as_ref().map(|name| name.trim().to_lowercase());
            lower(other) == lower(sheet)
        };
        if sheets[..index].iter().any(same) {
            return Err(Error::input(
                At {
                    sheet: sheet.name.clone(),
                    ..At::file(path)
                },
                "two sheets have this name",
                "give each sheet a name of its own",
            ));
        }
    }
    Ok(())
}

/// What a reader found wrong with a workbook.
pub enum Broken {
    Password,
    Damaged(String),
    /// What of it asks for more than a list can need, and by which limit.
    TooLarge(Limit, String),
}

impl Broken {
    pub fn at(self, path: &Path, limits: &Limits) -> Error {
        self.in_sheet(At::file(path), limits)
    }

    fn in_sheet(self, at: At, limits: &Limits) -> Error {
        match self {
            Broken::Password => Error::input(
                at,
                "the workbook is protected by a password",
                "open it, save a copy without the password, and give that",
            ),
            Broken::Damaged(reason) => Error::input(
                at,
                format!("the workbook is damaged or cut short ({reason})"),
                "open it in a spreadsheet program and save it again, or ask for it again",
            ),
            Broken::TooLarge(limit, what) => limits.error(limit, at, &what),
        }
    }
}

/// The readers' errors differ in type only.
macro_rules! broken_from {
    ($($error:ident),+) => {
        $(impl From<$error> for Broken {
            fn from(error: $error) -> Broken {
                match error {
                    $error::Password => Broken::Password,
                    error => Broken::Damaged(error.to_string()),
                }
            }
        })+
    };
}
broken_from!(XlsxError, XlsbError, XlsError, OdsError);

/// A cell's value, whichever reader it comes from.
pub enum Value<'a> {
    Blank,
    Text(&'a str),
    Integer(i64),
    Number(f64),
    Bool(bool),
    Date(&'a ExcelDateTime),
    IsoDate(&'a str),
    Error(&'a CellErrorType),
    /// A formula's, which was not stored.
    Unstored,
}

impl<'a> From<&'a DataRef<'_>> for Value<'a> {
    fn from(value: &'a DataRef<'_>) -> Value<'a> {
        match value {
            DataRef::Int(i) => Value::Integer(*i),
            DataRef::Float(f) => Value::Number(*f),
            DataRef::String(s) => Value::Text(s),
            DataRef::SharedString(s) => Value::Text(s),
            DataRef::Bool(b) => Value::Bool(*b),
            DataRef::DateTime(date) => Value::Date(date),
            DataRef::DateTimeIso(date) => Value::IsoDate(date),
            DataRef::DurationIso(s) => Value::Text(s),
            DataRef::Error(error) => Value::Error(error),
            DataRef::Empty => Value::Blank,
        }
    }
}

impl<'a> From<&'a Data> for Value<'a> {
    fn from(value: &'a Data) -> Value<'a> {
        match value {
            Data::Int(i) => Value::Integer(*i),
            Data::Float(f) => Value::Number(*f),
            Data::String(s) => Value::Text(s),
            Data::Bool(b) => Value::Bool(*b),
            Data::DateTime(date) => Value::Date(date),
            Data::DateTimeIso(date) => Value::IsoDate(date),
            Data::DurationIso(s) => Value::Text(s),
            Data::Error(error) => Value::Error(error),
            Data::Empty => Value::Blank,
        }
    }
}

impl Value<'_> {
    /// Appends the cell's text, and says what the cell holds.
    pub fn write(&self, text: &mut String) -> CellKind {
        let kind = match self {
            Value::Blank => return CellKind::Blank,
            Value::Unstored => return CellKind::NoValue,
            Value::Text(s) => {
                let s = s.trim();
                text.push_str(s);
                return if s.is_empty() {
                    CellKind::Blank
                } else {
                    CellKind::Text
                };
            }
            Value::Bool(_) => CellKind::Bool,
            Value::Error(_) => CellKind::Error,
            Value::IsoDate(_) => CellKind::Date,
            // A length of time is no date.
            Value::Date(date) if !date.is_datetime() || date.as_f64() < 1.0 => CellKind::Number,
            Value::Date(_) => CellKind::Date,
            Value::Integer(_) | Value::Number(_) => CellKind::Number,
        };
        match self {
            Value::Bool(true) => text.push_str("TRUE"),
            Value::Bool(false) => text.push_str("FALSE"),
            // The time of day is left out.
            Value::IsoDate(date) => text.push_str(date.split('T').next().unwrap_or(date)),
            Value::Date(date) if kind == CellKind::Date => {
                let (year, month, day, ..) = date.to_ymd_hms_milli();
                write_to(text, format_args!("{year:04}-{month:02}-{day:02}"));
            }
            // The shortest decimal that is this very number.
            Value::Date(date) => write_to(text, format_args!("{}", date.as_f64())),
            Value::Number(number) => write_to(text, format_args!("{number}")),
            Value::Integer(integer) => write_to(text, format_args!("{integer}")),
            Value::Error(error) => write_to(text, format_args!("{error}")),
            Value::Blank | Value::Unstored | Value::Text(_) => {}
        }
        kind
    }
}

fn write_to(text: &mut String, what: std::fmt::Arguments<'_>) {
    text.write_fmt(what)
        .expect("writing to a string cannot fail");
}

/// The largest sheet there is, that of xlsx.
pub const MOST_ROWS: u32 = 1_048_576;
const MOST_COLUMNS: u32 = 16_384;

/// Blank cells that may be put in for gaps within the rows of one sheet: a real list comes nowhere
/// near.
const MOST_BLANKS: u32 = 200_000_000;

/// Turns cells into rows. Blank cells cost nothing, however many a sheet has of them.
pub struct Rows<'a, 'b> {
    at: At,
    pub limits: &'a Limits,
    /// Rows hidden in the sheet as far as it was read, from 1, where the format tells.
    pub hidden: HashSet<u32, FxBuildHasher>,
    each: &'a mut Each<'b>,
    row: Row,
    /// The text of the cell at hand.
    value: String,
    /// From 0.
    current: u32,
    /// The text of the current row's cells, one after another.
    text: String,
    cells: Vec<(u32, CellKind, Range<usize>)>,
    /// Rows handed on.
    done: u32,
    blanks: u32,
}

impl<'a, 'b> Rows<'a, 'b> {
    fn new(at: At, limits: &'a Limits, each: &'a mut Each<'b>) -> Rows<'a, 'b> {
        Rows {
            at,
            limits,
            hidden: HashSet::default(),
            each,
            row: Row::default(),
            value: String::new(),
            current: 0,
            text: String::new(),
            cells: Vec::new(),
            done: 0,
            blanks: 0,
        }
    }

    /// Takes the next cell; row and column from 0.
    pub fn cell(
        &mut self,
        (row, column): (u32, u32),
        kind: CellKind,
        text: &str,
    ) -> Result<ControlFlow<()>> {
        if row >= MOST_ROWS || column >= MOST_COLUMNS {
            return Err(self.wrong(row, "a cell lies outside of every sheet"));
        }
        if kind == CellKind::Blank {
            return Ok(ControlFlow::Continue(()));
        }
        if row != self.current && !self.cells.is_empty() {
            if row < self.current {
                return Err(self.wrong(row, "its rows are out of order"));
            }
            if self.end()?.is_break() {
                return Ok(ControlFlow::Break(()));
            }
        }
        let start = self.text.len();
        push_plain(&mut self.text, text);
        if self.text.len() as u64 > self.limits.most(Limit::Row) {
            let what = "a row without end".to_owned();
            return Err(self.error(row, Broken::TooLarge(Limit::Row, what)));
        }
        self.current = row;
        self.cells.push((column, kind, start..self.text.len()));
        Ok(ControlFlow::Continue(()))
    }

    fn value(&mut self, position: (u32, u32), value: Value<'_>) -> Result<ControlFlow<()>> {
        let mut text = std::mem::take(&mut self.value);
        text.clear();
        let kind = value.write(&mut text);
        let taken = self.cell(position, kind, &text);
        self.value = text;
        taken
    }

    fn range(&mut self, range: &calamine::Range<Data>) -> Result<ControlFlow<()>> {
        let Some((top, left)) = range.start() else {
            return Ok(ControlFlow::Continue(()));
        };
        for (row, column, value) in range.used_cells() {
            let position = (top + row as u32, left + column as u32);
            if self.value(position, Value::from(value))?.is_break() {
                return Ok(ControlFlow::Break(()));
            }
        }
        Ok(ControlFlow::Continue(()))
    }

    /// Hands on the current row, and the blank ones before it.
    fn end(&mut self) -> Result<ControlFlow<()>> {
        if self.cells.is_empty() {
            return Ok(ControlFlow::Continue(()));
        }
        if self.current < self.done {
            return Err(self.wrong(self.current, "its rows are out of order"));
        }
        while self.done < self.current {
            self.done += 1;
            self.row.start(self.done);
            if (self.each)(&self.row)?.is_break() {
                return Ok(ControlFlow::Break(()));
            }
        }
        self.done += 1;
        self.row.start(self.done);
        self.row.hidden = self.hidden.remove(&self.done);
        if !self.cells.is_sorted_by_key(|(column, ..)| *column) {
            self.cells.sort_by_key(|(column, ..)| *column);
        }
        let mut next = 0;
        for (column, kind, text) in self.cells.drain(..) {
            while next < column {
                self.row.push("", CellKind::Blank);
                self.blanks += 1;
                next += 1;
            }
            self.row.push(&self.text[text], kind);
            next += 1;
        }
        self.text.clear();
        if self.blanks > MOST_BLANKS {
            return Err(self.wrong(self.current, "its rows are too wide to be a list"));
        }
        (self.each)(&self.row)
    }

    fn wrong(&self, row: u32, what: &str) -> Error {
        self.error(row, Broken::Damaged(what.to_owned()))
    }

    fn error(&self, row: u32, broken: Broken) -> Error {
        let at = At {
            row: Some(row + 1),
            ..self.at.clone()
        };
        broken.in_sheet(at, self.limits)
    }
}
