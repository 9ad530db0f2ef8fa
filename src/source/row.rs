//! One row of a file, in a buffer that is used again for the next.

use std::{borrow::Cow, ops::Range};

/// What a cell holds besides its text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CellKind {
    Blank,
    Text,
    /// A number cell; its text is the shortest decimal that is exactly the stored value's.
    Number,
    Bool,
    /// A date cell; its text is the date as `YYYY-MM-DD`.
    Date,
    /// An error value such as a division by zero; its text is the error's.
    Error,
    /// A formula whose value was not stored.
    NoValue,
}

/// One row: its number, and its cells as text with a kind each.
#[derive(Debug, Default)]
pub struct Row {
    /// The spreadsheet's row number, or the line on which the record starts, from 1.
    pub number: u32,
    /// Hidden or filtered out, where the format tells.
    pub hidden: bool,
    /// The first of its columns whose text is struck out, where the format tells.
    pub struck: Option<u16>,
    /// The comments on its cells, where the format tells.
    pub comments: Vec<Box<str>>,
    /// Where the row stands in the text of a delimited file, if it holds no quotation mark.
    pub at: Option<usize>,
    text: String,
    cells: Vec<Cell>,
}

/// A range of the row's text.
#[derive(Debug, Clone, Copy)]
struct Cell {
    start: u32,
    end: u32,
    kind: CellKind,
    /// Blanks in front of it, or steps by which it is set in.
    indent: u8,
}

impl Clone for Row {
    fn clone(&self) -> Row {
        Row {
            number: self.number,
            hidden: self.hidden,
            struck: self.struck,
            comments: self.comments.clone(),
            at: self.at,
            text: self.text.clone(),
            cells: self.cells.clone(),
        }
    }

    /// Keeps the buffers, which a derived one would not.
    fn clone_from(&mut self, other: &Row) {
        self.number = other.number;
        self.hidden = other.hidden;
        self.struck = other.struck;
        self.comments.clone_from(&other.comments);
        self.at = other.at;
        self.text.clone_from(&other.text);
        self.cells.clone_from(&other.cells);
    }
}

impl Row {
    /// A row of one cell.
    pub fn of_text(number: u32, text: &str) -> Row {
        let mut row = Row::default();
        row.start(number);
        row.push(text, CellKind::Text);
        row
    }

    /// Empties the row for the next use.
    pub fn start(&mut self, number: u32) {
        self.number = number;
        self.hidden = false;
        self.struck = None;
        self.comments.clear();
        self.at = None;
        self.text.clear();
        self.cells.clear();
    }

    /// True where more is told of it than its cells say.
    pub fn is_marked(&self) -> bool {
        self.hidden || self.struck.is_some() || !self.comments.is_empty()
    }

    /// Adds the next cell.
    pub fn push(&mut self, text: &str, kind: CellKind) {
        let start = self.text.len() as u32;
        self.text.push_str(text);
        let end = self.text.len() as u32;
        self.cells.push(Cell {
            start,
            end,
            kind,
            indent: 0,
        });
    }

    /// Says how far the last cell is set in.
    pub(super) fn set_in(&mut self, by: usize) {
        if let Some(last) = self.cells.last_mut() {
            last.indent = u8::try_from(by).unwrap_or(u8::MAX);
        }
    }

    /// How far a cell is set in: blanks in front of it.
    pub fn indent(&self, column: usize) -> u8 {
        self.cells.get(column).map_or(0, |cell| cell.indent)
    }

    /// Adds the next cell, which is a range of the line that the row will be told to be of
    /// ([`Row::is_of`]). `from`: where the blanks before it begin.
    #[inline]
    pub(super) fn push_range(&mut self, from: usize, range: Range<usize>) {
        let kind = match range.is_empty() {
            true => CellKind::Blank,
            false => CellKind::Text,
        };
        let indent = u8::try_from(range.start - from).unwrap_or(u8::MAX);
        let (start, end) = (range.start as u32, range.end as u32);
        self.cells.push(Cell {
            start,
            end,
            kind,
            indent,
        });
    }

    /// The line that all cells are ranges of.
    pub(super) fn is_of(&mut self, line: &str) {
        self.text.clear();
        self.text.push_str(line);
    }

    /// Cells in the row, blank ones included.
    pub fn len(&self) -> usize {
        self.cells.len()
    }

    /// Bytes of text in the row, be it with the marks between its cells or without.
    pub fn bytes(&self) -> usize {
        self.text.len()
    }

    /// Cells that hold any text.
    pub fn filled(&self) -> usize {
        let filled = self.cells.iter().filter(|cell| cell.start < cell.end);
        filled.count()
    }

    /// True where no cell holds anything but white space.
    pub fn is_empty(&self) -> bool {
        self.cells().all(|(text, _)| text.trim().is_empty())
    }

    /// True for the dashes of several cells that Markdown sets below its headings.
    pub fn is_rule(&self) -> bool {
        let dashes = |text: &str| text.contains("--") && text.chars().all(|c| "-: ".contains(c));
        self.filled() > 1
            && self
                .cells()
                .all(|(text, _)| text.trim().is_empty() || dashes(text))
    }

    /// The text of a cell; empty past the end.
    pub fn get(&self, column: usize) -> &str {
        self.cell(column).0
    }

    /// The kind of a cell; blank past the end.
    pub fn kind(&self, column: usize) -> CellKind {
        self.cell(column).1
    }

    /// The text of a cell and its kind; empty and blank past the end.
    #[inline]
    pub fn cell(&self, column: usize) -> (&str, CellKind) {
        match self.cells.get(column) {
            Some(cell) => self.at(cell),
            None => ("", CellKind::Blank),
        }
    }

    #[inline]
    fn at(&self, cell: &Cell) -> (&str, CellKind) {
        (
            &self.text[cell.start as usize..cell.end as usize],
            cell.kind,
        )
    }

    /// Some columns of it, as a row of their own at the same place.
    pub fn part(&self, columns: Range<usize>) -> Row {
        let mut part = Row::default();
        part.start(self.number);
        (part.hidden, part.at) = (self.hidden, self.at);
        let within = |column: &u16| columns.contains(&usize::from(*column));
        part.struck = self
            .struck
            .filter(within)
            .map(|column| column - columns.start as u16);
        part.comments.clone_from(&self.comments);
        for column in columns {
            let (text, kind) = self.cell(column);
            part.push(text, kind);
            part.set_in(self.indent(column).into());
        }
        part
    }

    /// The row with one cell blank.
    pub fn without(&self, column: usize) -> Row {
        let mut rest = self.clone();
        if let Some(cell) = rest.cells.get_mut(column) {
            (cell.end, cell.kind) = (cell.start, CellKind::Blank);
        }
        rest
    }

    /// The row with what is made of each cell's text.
    pub fn rewritten<'r>(&'r self, each: impl Fn(&'r str) -> Cow<'r, str>) -> Row {
        let mut new = Row {
            number: self.number,
            hidden: self.hidden,
            struck: self.struck,
            comments: self.comments.clone(),
            at: self.at,
            ..Row::default()
        };
        for (at, (text, kind)) in self.cells().enumerate() {
            new.push(&each(text), kind);
            new.set_in(self.indent(at).into());
        }
        new
    }

    /// Puts the filled cells into `text`, a space between them.
    pub fn join_into(&self, text: &mut String) {
        text.clear();
        for (cell, _) in self.cells().filter(|(cell, _)| !cell.is_empty()) {
            if !text.is_empty() {
                text.push(' ');
            }
            text.push_str(cell);
        }
    }

    /// The filled cells in one text, a space between them.
    pub fn joined(&self) -> String {
        let mut text = String::new();
        self.join_into(&mut text);
        text
    }

    /// The cells in order.
    pub fn cells(&self) -> impl Iterator<Item = (&str, CellKind)> {
        self.cells.iter().map(|cell| self.at(cell))
    }
}
