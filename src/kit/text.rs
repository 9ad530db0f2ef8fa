//! The rows of a list as they are written.

use std::borrow::Cow;

/// Between the cells of a row.
const BETWEEN: &str = " | ";

/// The rows of a list as written, cells joined by ` | `. Most rows of a delimited file are found in
/// the file's own text, which is kept; others are kept joined.
#[derive(Debug, Clone, Default)]
pub struct Text {
    /// A delimited file as it was read.
    file: String,
    /// What its cells are cut at.
    delimiter: char,
    /// Rows that are kept joined, one after another, and where each ends.
    joined: String,
    ends: Vec<usize>,
}

/// One row of a [`Text`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TextAt(u64);

impl TextAt {
    /// The row that starts at a byte of the file, and holds no quotation mark.
    pub fn in_file(start: usize) -> TextAt {
        TextAt((start as u64) << 1)
    }

    fn joined(index: usize) -> TextAt {
        TextAt((index as u64) << 1 | 1)
    }
}

impl Text {
    /// Keeps the file that rows were said to stand in.
    pub fn keep_file(&mut self, file: String, delimiter: u8) {
        self.file = file;
        self.delimiter = char::from(delimiter);
    }

    /// Keeps a row as joined.
    pub fn push(&mut self, text: &str) -> TextAt {
        self.push_cells([text])
    }

    /// Keeps a row by its filled cells.
    pub fn push_cells<'a>(&mut self, cells: impl IntoIterator<Item = &'a str>) -> TextAt {
        join(cells, &mut self.joined);
        self.ends.push(self.joined.len());
        TextAt::joined(self.ends.len() - 1)
    }

    /// The row as written.
    pub fn get(&self, at: TextAt) -> Cow<'_, str> {
        let place = (at.0 >> 1) as usize;
        if at.0 & 1 == 1 {
            let start = place.checked_sub(1).map_or(0, |before| self.ends[before]);
            return Cow::Borrowed(&self.joined[start..self.ends[place]]);
        }
        let rest = &self.file[place..];
        let end = memchr::memchr2(b'\n', b'\r', rest.as_bytes()).unwrap_or(rest.len());
        let mut joined = String::with_capacity(end);
        join(
            rest[..end].split(self.delimiter).map(str::trim),
            &mut joined,
        );
        Cow::Owned(joined)
    }
}

/// Appends the filled cells.
fn join<'a>(cells: impl IntoIterator<Item = &'a str>, text: &mut String) {
    let start = text.len();
    for cell in cells.into_iter().filter(|cell| !cell.is_empty()) {
        if text.len() > start {
            text.push_str(BETWEEN);
        }
        text.push_str(cell);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_found_in_the_file_or_kept() {
        let mut text = Text::default();
        let first = text.push("4 hex nuts");
        let second = text.push_cells(["4", "", "1/2\" nut"]);
        text.keep_file("Qty;Item\r\n 4 ;nut;;left \n6;".to_owned(), b';');
        assert_eq!(text.get(first), "4 hex nuts");
        assert_eq!(text.get(second), "4 | 1/2\" nut");
        assert_eq!(text.get(TextAt::in_file(10)), "4 | nut | left");
        assert_eq!(text.get(TextAt::in_file(25)), "6");
    }
}
