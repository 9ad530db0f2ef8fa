//! Writing a sheet cell by cell, row by row, and never back.
//!
//! The low-memory writer drops a cell that comes late, without a word. [`Pen`] has no way to go
//! back: a cell is always written at the pen, which only moves right and down.

use rust_xlsxwriter::{ColNum, Format, RowNum, Url, Worksheet, XlsxError};

use super::style::Style;

/// Characters of a cell, as the format counts them (UTF-16 units).
pub const CELL_LIMIT: usize = 32_767;
/// Rows of a sheet.
pub const SHEET_ROWS: u32 = 1_048_576;
/// What a cell that was cut ends with.
const CUT: &str = " [cut here: longer than a cell can hold]";
/// Numbers up to here are exact in a number cell (2^53).
const EXACT: u64 = 1 << 53;

/// A pen on a sheet.
pub struct Pen<'w> {
    sheet: &'w mut Worksheet,
    row: RowNum,
    column: ColNum,
    started: bool,
    /// Longest text of each column, in characters, headings and merged cells left out.
    widest: Vec<usize>,
}

impl<'w> Pen<'w> {
    /// A pen above the first row.
    pub fn on(sheet: &'w mut Worksheet) -> Pen<'w> {
        Pen {
            sheet,
            row: 0,
            column: 0,
            started: false,
            widest: Vec::new(),
        }
    }

    /// The row that the pen is in, from 0.
    pub fn at(&self) -> RowNum {
        self.row
    }

    /// The row that [`Pen::row`] will start, from 0.
    pub fn next(&self) -> RowNum {
        if self.started { self.row + 1 } else { 0 }
    }

    /// Starts the next row.
    pub fn row(&mut self) -> &mut Self {
        self.row = self.next();
        self.started = true;
        self.column = 0;
        self
    }

    /// Starts the next row, of a height in points.
    pub fn tall(&mut self, points: f64) -> Result<&mut Self, XlsxError> {
        self.row();
        self.sheet.set_row_height(self.row, points)?;
        Ok(self)
    }

    /// Passes over cells of this row.
    pub fn skip(&mut self, columns: ColNum) -> &mut Self {
        self.column += columns;
        self
    }

    /// A text cell, whatever the text looks like: never a number, formula or link.
    pub fn text(&mut self, text: &str, format: &Format) -> Result<&mut Self, XlsxError> {
        self.measure(text);
        self.plain(text, format)
    }

    /// A text cell that asks for no width of its own: a heading, or a title that runs on.
    pub fn plain(&mut self, text: &str, format: &Format) -> Result<&mut Self, XlsxError> {
        if text.is_empty() {
            return self.blank(format);
        }
        let text = fit(text);
        self.sheet
            .write_string_with_format(self.row, self.column, text.as_ref(), format)?;
        Ok(self.skip(1))
    }

    /// A number cell.
    pub fn number(&mut self, number: u64, format: &Format) -> Result<&mut Self, XlsxError> {
        if number > EXACT {
            return self.text(&number.to_string(), format);
        }
        self.measure(&number.to_string());
        self.sheet
            .write_number_with_format(self.row, self.column, number as f64, format)?;
        Ok(self.skip(1))
    }

    /// A number cell, or what stands in its place.
    pub fn number_or(
        &mut self,
        number: Option<u64>,
        none: &str,
        format: &Format,
    ) -> Result<&mut Self, XlsxError> {
        match number {
            Some(number) => self.number(number, format),
            None => self.text(none, format),
        }
    }

    /// An empty cell with a format.
    pub fn blank(&mut self, format: &Format) -> Result<&mut Self, XlsxError> {
        self.sheet.write_blank(self.row, self.column, format)?;
        Ok(self.skip(1))
    }

    /// A cell that jumps to a row (from 0) of another sheet of this workbook.
    pub fn jump(
        &mut self,
        words: &str,
        sheet: &str,
        row: RowNum,
        format: &Format,
    ) -> Result<&mut Self, XlsxError> {
        let target = format!("internal:'{sheet}'!A{}", row + 1);
        let link = Url::new(target).set_text(words);
        self.measure(words);
        self.sheet
            .write_url_with_format(self.row, self.column, link, format)?;
        Ok(self.skip(1))
    }

    /// A text over several cells of this row, merged.
    pub fn wide(
        &mut self,
        columns: ColNum,
        text: &str,
        format: &Format,
    ) -> Result<&mut Self, XlsxError> {
        let last = self.column + columns - 1;
        let text = fit(text);
        self.sheet
            .merge_range(self.row, self.column, self.row, last, text.as_ref(), format)?;
        Ok(self.skip(columns))
    }

    /// A heading row, its filter and the panes frozen below it. `last` is the last row that the
    /// filter covers.
    pub fn headings(&mut self, style: &Style, columns: &[Column]) -> Result<RowNum, XlsxError> {
        self.tall(30.0)?;
        for column in columns {
            let format = match column.number {
                true => &style.head_number,
                false => &style.head,
            };
            self.plain(column.heading, format)?;
        }
        self.sheet.set_freeze_panes(self.row + 1, 0)?;
        Ok(self.row)
    }

    /// Ends a table begun with [`Pen::headings`]: its filter, and widths that fit what was written.
    pub fn end_table(&mut self, heading: RowNum, columns: &[Column]) -> Result<(), XlsxError> {
        let last = columns.len() as ColNum - 1;
        self.sheet
            .autofilter(heading, 0, self.row.max(heading + 1), last)?;
        for (index, column) in columns.iter().enumerate() {
            let longest_word = column.heading.split(' ').map(str::len).max().unwrap_or(0);
            let widest = self.widest.get(index).copied().unwrap_or(0);
            // A filter's button takes about three characters beside the heading.
            let wanted = widest.max(longest_word + 3) as f64 + 1.5;
            let width = wanted.clamp(column.least, column.most);
            self.sheet.set_column_width(index as ColNum, width)?;
        }
        Ok(())
    }

    /// The sheet below, for what is no cell: widths, validation, print set-up.
    pub fn sheet(&mut self) -> &mut Worksheet {
        self.sheet
    }

    fn measure(&mut self, text: &str) {
        let column = usize::from(self.column);
        if self.widest.len() <= column {
            self.widest.resize(column + 1, 0);
        }
        let width = text.lines().map(|l| l.chars().count()).max().unwrap_or(0);
        self.widest[column] = self.widest[column].max(width);
    }
}

/// A column of a table and the widths that it may take, in characters.
pub struct Column {
    pub heading: &'static str,
    pub number: bool,
    pub least: f64,
    pub most: f64,
}

impl Column {
    /// A column of words, as wide as its words up to `most`.
    pub const fn words(heading: &'static str, most: f64) -> Column {
        Column {
            heading,
            number: false,
            least: 4.0,
            most,
        }
    }

    /// A column of numbers.
    pub const fn number(heading: &'static str) -> Column {
        Column {
            heading,
            number: true,
            least: 9.0,
            most: 16.0,
        }
    }
}

/// A text that a cell can hold, cut with a note where it is too long.
fn fit(text: &str) -> std::borrow::Cow<'_, str> {
    // A UTF-8 text has at least as many bytes as UTF-16 units.
    if text.len() <= CELL_LIMIT || text.encode_utf16().count() <= CELL_LIMIT {
        return text.into();
    }
    let room = CELL_LIMIT - CUT.len();
    let mut units = 0;
    let end = text
        .char_indices()
        .find(|(_, c)| {
            units += c.len_utf16();
            units > room
        })
        .map_or(text.len(), |(at, _)| at);
    format!("{}{CUT}", &text[..end]).into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_text_is_cut_with_a_note() {
        let held = "x".repeat(CELL_LIMIT);
        assert_eq!(fit(&held), held);
        for long in [
            "x".repeat(CELL_LIMIT + 1),
            "½".repeat(40_000),
            "𝄞".repeat(20_000),
        ] {
            let cut = fit(&long);
            assert!(cut.ends_with(CUT));
            let units = cut.encode_utf16().count();
            assert!((CELL_LIMIT - 1..=CELL_LIMIT).contains(&units), "{units}");
        }
    }
}
