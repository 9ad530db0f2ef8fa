//! The cells of a workbook's sheet, put together into rows.

use std::{
    collections::{HashMap, HashSet},
    fmt::Write,
    ops::{ControlFlow, Range},
};

use calamine::{CellErrorType, Data, DataRef, ExcelDateTime};
use rustc_hash::FxBuildHasher;

use super::{
    Each,
    broken::Broken,
    displayed::{self, Shown},
    encoding::push_plain,
    limits::{Limit, Limits},
    row::{CellKind, Row},
};
use crate::error::{At, Error, Result};

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
    /// The comments of the sheet, by the row of their cell, from 1.
    pub comments: HashMap<u32, Vec<Box<str>>, FxBuildHasher>,
    /// The first struck cell of the current row.
    struck: Option<u16>,
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
    pub fn new(at: At, limits: &'a Limits, each: &'a mut Each<'b>) -> Rows<'a, 'b> {
        Rows {
            at,
            limits,
            hidden: HashSet::default(),
            comments: HashMap::default(),
            struck: None,
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

    /// Says that the text of the last cell is struck out.
    pub fn strike(&mut self, column: u32) {
        let is_last = self.cells.last().is_some_and(|(last, ..)| *last == column);
        if is_last && self.struck.is_none() {
            self.struck = u16::try_from(column).ok();
        }
    }

    pub fn value(&mut self, position: (u32, u32), value: Value<'_>) -> Result<ControlFlow<()>> {
        let mut text = std::mem::take(&mut self.value);
        text.clear();
        let kind = value.write(&mut text);
        let taken = self.cell(position, kind, &text);
        self.value = text;
        taken
    }

    /// Takes a whole sheet. `shown`: what its cells show, where that says more than their figures.
    pub fn range(
        &mut self,
        range: &calamine::Range<Data>,
        shown: &[Shown],
    ) -> Result<ControlFlow<()>> {
        let Some((top, left)) = range.start() else {
            return Ok(ControlFlow::Continue(()));
        };
        for (row, column, value) in range.used_cells() {
            let position = (top + row as u32, left + column as u32);
            let value = match displayed::at(shown, position) {
                Some(shown) => Value::Text(shown),
                None => Value::from(value),
            };
            if self.value(position, value)?.is_break() {
                return Ok(ControlFlow::Break(()));
            }
        }
        Ok(ControlFlow::Continue(()))
    }

    /// Hands on the current row, and the blank ones before it.
    pub fn end(&mut self) -> Result<ControlFlow<()>> {
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
        self.row.struck = self.struck.take();
        if !self.comments.is_empty() {
            self.row.comments = self.comments.remove(&self.done).unwrap_or_default();
        }
        if !self.cells.is_sorted_by_key(|(column, ..)| *column) {
            self.cells.sort_by_key(|(column, ..)| *column);
        }
        let mut next = 0;
        let is_twice = |pair: &[(u32, CellKind, Range<usize>)]| pair[0].0 == pair[1].0;
        if self.cells.windows(2).any(is_twice) {
            return Err(self.wrong(self.current, "it holds a cell twice"));
        }
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
