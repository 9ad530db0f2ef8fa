//! One row of a file, in a buffer that is used again for the next.

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
    /// Where the row stands in the text of a delimited file, if it holds no quotation mark.
    pub at: Option<usize>,
    text: String,
    cells: Vec<(u32, CellKind)>,
}

impl Clone for Row {
    fn clone(&self) -> Row {
        Row {
            number: self.number,
            hidden: self.hidden,
            at: self.at,
            text: self.text.clone(),
            cells: self.cells.clone(),
        }
    }

    /// Keeps the buffers, which a derived one would not.
    fn clone_from(&mut self, other: &Row) {
        self.number = other.number;
        self.hidden = other.hidden;
        self.at = other.at;
        self.text.clone_from(&other.text);
        self.cells.clone_from(&other.cells);
    }
}

impl Row {
    /// Empties the row for the next use.
    pub fn start(&mut self, number: u32) {
        self.number = number;
        self.hidden = false;
        self.at = None;
        self.text.clear();
        self.cells.clear();
    }

    /// Adds the next cell.
    pub fn push(&mut self, text: &str, kind: CellKind) {
        self.text.push_str(text);
        self.cells.push((self.text.len() as u32, kind));
    }

    /// Cells in the row, blank ones included.
    pub fn len(&self) -> usize {
        self.cells.len()
    }

    /// Bytes of text in the row.
    pub fn bytes(&self) -> usize {
        self.text.len()
    }

    /// True where no cell holds anything but white space.
    pub fn is_empty(&self) -> bool {
        self.text.trim().is_empty()
    }

    /// The text of a cell; empty past the end.
    pub fn get(&self, column: usize) -> &str {
        let Some(&(end, _)) = self.cells.get(column) else {
            return "";
        };
        let start = if column == 0 {
            0
        } else {
            self.cells[column - 1].0
        };
        &self.text[start as usize..end as usize]
    }

    /// The kind of a cell; blank past the end.
    pub fn kind(&self, column: usize) -> CellKind {
        self.cells
            .get(column)
            .map_or(CellKind::Blank, |&(_, kind)| kind)
    }

    /// Some columns of it, as a row of their own at the same place.
    pub fn part(&self, columns: std::ops::Range<usize>) -> Row {
        let mut part = Row::default();
        part.start(self.number);
        (part.hidden, part.at) = (self.hidden, self.at);
        for column in columns {
            part.push(self.get(column), self.kind(column));
        }
        part
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

    /// The cells in order.
    pub fn cells(&self) -> impl Iterator<Item = (&str, CellKind)> {
        (0..self.len()).map(|i| (self.get(i), self.kind(i)))
    }
}
