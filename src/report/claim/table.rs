//! A table of the claim.

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
    /// What its rows are, by their numbers, where no title stands over them.
    pub fn told(&self) -> String {
        let number = |row: Option<&Row>| match row {
            Some([Cell::Number(number), ..]) => *number,
            _ => 0,
        };
        let (first, last) = (number(self.rows.first()), number(self.rows.last()));
        let numbers = match first == last {
            true => format!("No. {first}"),
            false => format!("No. {first} to {last}"),
        };
        format!("{numbers}: {}. {}", self.title, self.note)
    }

    /// The headings of its columns.
    pub fn headings(&self) -> [&str; COLUMNS.len()] {
        COLUMNS.map(|heading| match heading {
            PIECES => self.pieces,
            heading => heading,
        })
    }
}
