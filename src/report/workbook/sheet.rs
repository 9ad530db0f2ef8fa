//! Writing a sheet cell by cell, row by row, and never back.
//!
//! Sheets are written through the library's low-memory writer: rows that are done go to a temporary
//! file. It drops a cell that comes late, without a word. [`Pen`] has no way to go back: a cell is
//! always written at the pen, which only moves right and down.

use rust_xlsxwriter::{
    ColNum, Format, Formula, Image, RowNum, Table, TableColumn, TableStyle, Url, Workbook,
    Worksheet, XlsxError,
};

use super::{
    formula::Cell,
    measure::{in_rows, in_two_lines, lines_of, width},
    style::{self, Paper, Style},
};
use crate::shield::shield;

/// Characters of a cell, as the format counts them (UTF-16 units).
pub const CELL_LIMIT: usize = 32_767;
/// Rows of a sheet.
pub const SHEET_ROWS: u32 = 1_048_576;
/// Most page breaks that the format holds in a sheet.
pub const PAGE_BREAKS: usize = 1023;
/// What stands in the last row of a sheet that has no room for more.
const FULL: &str = "Cut here: a sheet holds no more rows. The lists have more.";
/// What a cell that was cut ends with.
const CUT: &str = " [cut here: longer than a cell can hold]";
/// Height of a line of the house's type.
const LINE_POINTS: f64 = 13.0;
/// Height of a row that has none of its own.
const ROW_POINTS: f64 = 13.5;
/// How much wider than the house's type that of a leading sentence runs: 12 points for 10, bold.
const LEAD: f64 = 1.3;
/// What stands between a column's sides and its digits, which the width of a column leaves out.
const SIDES: f64 = 0.72;
/// What a cell's sides and indent take, in digits.
const PADDING: f64 = 2.0;
/// Rows of a sheet that have a height of their own, or are looked at for the widths of columns: the
/// library keeps heights in memory to the end, and nobody prints so many. Rows below are a line high.
pub const MEASURED: RowNum = 20_000;
/// Numbers up to here are exact in a number cell (2^53).
const EXACT: u64 = 1 << 53;

/// A pen on a sheet.
pub struct Pen<'w> {
    sheet: &'w mut Worksheet,
    paper: Paper,
    row: RowNum,
    column: ColNum,
    started: bool,
    /// Widest text of each column, in digits, headings and merged cells left out.
    widest: Vec<f64>,
    /// The width at which each column wraps, in digits; none where no table is open.
    limits: Vec<f64>,
    /// Lines that the cells of this row take; `None` where the row's height is given.
    lines: Option<usize>,
    /// Points that this row is higher than its words want.
    spare: f64,
    /// Points that the rows above this one take.
    points: f64,
    /// The last row of the sheet, from 0: it holds a note where there was more to write.
    last: RowNum,
    /// The note is written, and nothing goes behind it.
    full: bool,
}

impl<'w> Pen<'w> {
    /// A pen above the first row of a new sheet, whose finished rows take no memory but for texts that
    /// were not written before.
    pub fn new(workbook: &'w mut Workbook, name: &str, paper: Paper) -> Result<Pen<'w>, XlsxError> {
        let sheet = workbook.add_worksheet_with_low_memory()?;
        Ok(Pen::on(sheet.set_name(name)?, paper))
    }

    /// A pen above the first row.
    pub fn on(sheet: &'w mut Worksheet, paper: Paper) -> Pen<'w> {
        Pen {
            sheet,
            paper,
            row: 0,
            column: 0,
            started: false,
            widest: Vec::new(),
            limits: Vec::new(),
            lines: None,
            spare: 0.0,
            points: 0.0,
            last: SHEET_ROWS - 1,
            full: false,
        }
    }

    /// Rows wrap, from the next one on, in columns of these widths.
    pub fn wrap_at(&mut self, widths: impl IntoIterator<Item = f64>) {
        self.limits = widths.into_iter().collect();
    }

    /// The row that the pen is in, from 0.
    pub fn at(&self) -> RowNum {
        self.row
    }

    /// The row that [`Pen::row`] will start, from 0.
    pub fn next(&self) -> RowNum {
        if self.started { self.row + 1 } else { 0 }
    }

    /// Points that the rows above the next one take, from the top of the sheet.
    pub fn points(&self) -> f64 {
        self.points
    }

    /// Starts the next row, as high as its words will want.
    pub fn row(&mut self) -> Result<&mut Self, XlsxError> {
        if self.full {
            return Ok(self);
        }
        self.end_row()?;
        self.row = self.next();
        self.started = true;
        self.column = 0;
        if self.row == self.last {
            self.write(0, |sheet, row, column| {
                sheet.write_string(row, column, FULL)
            })?;
            self.full = true;
            return Ok(self);
        }
        self.lines = Some(1);
        Ok(self)
    }

    /// Starts the next row, of a height in points.
    pub fn tall(&mut self, points: f64) -> Result<&mut Self, XlsxError> {
        self.row()?;
        self.lines = None;
        self.height(points)?;
        Ok(self)
    }

    /// Starts the next row, higher by so many points than its words will want: one to write in by hand.
    pub fn roomy(&mut self, points: f64) -> Result<&mut Self, XlsxError> {
        self.row()?;
        self.spare = points;
        Ok(self)
    }

    fn height(&mut self, points: f64) -> Result<(), XlsxError> {
        self.points += points;
        if self.row < MEASURED && !self.full {
            self.sheet.set_row_height(self.row, points)?;
        }
        Ok(())
    }

    /// Gives the row the height that its words want. A program that opens the file would do so by
    /// itself only where the workbook had no height of its own for rows.
    pub fn end_row(&mut self) -> Result<(), XlsxError> {
        let spare = std::mem::take(&mut self.spare);
        match self.lines.take() {
            Some(1) if spare == 0.0 => self.points += ROW_POINTS,
            Some(lines) => self.height(LINE_POINTS * lines as f64 + 3.0 + spare)?,
            None => {}
        }
        Ok(())
    }

    /// Passes over cells of this row.
    pub fn skip(&mut self, columns: ColNum) -> &mut Self {
        self.column += columns;
        self
    }

    /// Writes into a column of this row. The writer keeps what it has no memory for in a temporary
    /// file, and panics where the disk is full.
    fn write(
        &mut self,
        column: ColNum,
        write: impl FnOnce(&mut Worksheet, RowNum, ColNum) -> Result<&mut Worksheet, XlsxError>,
    ) -> Result<(), XlsxError> {
        if self.full {
            return Ok(());
        }
        shield(|| write(self.sheet, self.row, column).map(|_| ()))
            .unwrap_or_else(|| Err(XlsxError::IoError(super::no_room())))
    }

    /// Writes a cell at the pen.
    fn put(
        &mut self,
        write: impl FnOnce(&mut Worksheet, RowNum, ColNum) -> Result<&mut Worksheet, XlsxError>,
    ) -> Result<&mut Self, XlsxError> {
        self.write(self.column, write)?;
        Ok(self.skip(1))
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
        self.put(|sheet, row, column| {
            sheet.write_string_with_format(row, column, text.as_ref(), format)
        })
    }

    /// A number cell.
    pub fn number(&mut self, number: u64, format: &Format) -> Result<&mut Self, XlsxError> {
        if number > EXACT {
            return self.text(&number.to_string(), format);
        }
        // A figure is one line: its digits are its width.
        self.widen(f64::from(number.checked_ilog10().unwrap_or(0) + 1));
        self.figure(number as f64, format)
    }

    /// A number cell of a measured figure.
    pub fn decimal(&mut self, number: f64, format: &Format) -> Result<&mut Self, XlsxError> {
        self.measure(&format!("{number:.2}"));
        self.figure(number, format)
    }

    fn figure(&mut self, number: f64, format: &Format) -> Result<&mut Self, XlsxError> {
        self.put(|sheet, row, column| sheet.write_number_with_format(row, column, number, format))
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
        self.put(|sheet, row, column| sheet.write_blank(row, column, format))
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
        self.put(|sheet, row, column| sheet.write_url_with_format(row, column, link, format))
    }

    /// A cell that works itself out.
    pub fn live(&mut self, cell: &Cell, format: &Format) -> Result<&mut Self, XlsxError> {
        self.measure(&cell.value);
        let column = self.column;
        self.formula(column, cell, format)?;
        Ok(self.skip(1))
    }

    fn formula(&mut self, column: ColNum, cell: &Cell, format: &Format) -> Result<(), XlsxError> {
        let formula = Formula::new(&cell.formula).set_result(&cell.value);
        self.write(column, |sheet, row, column| {
            sheet.write_formula_with_format(row, column, formula, format)
        })
    }

    /// A cell that works itself out, over several cells of this row, merged.
    pub fn wide_live(
        &mut self,
        columns: ColNum,
        cell: &Cell,
        format: &Format,
    ) -> Result<&mut Self, XlsxError> {
        let first = self.column;
        self.wide(columns, "", format)?;
        self.formula(first, cell, format)?;
        Ok(self)
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
        self.write(self.column, |sheet, row, column| {
            sheet.merge_range(row, column, row, last, text.as_ref(), format)
        })?;
        Ok(self.skip(columns))
    }

    /// A text over this cell and those below it, merged; the rows below must pass over theirs.
    pub fn deep(
        &mut self,
        rows: RowNum,
        text: &str,
        format: &Format,
    ) -> Result<&mut Self, XlsxError> {
        let text = fit(text);
        self.put(|sheet, row, column| {
            sheet.merge_range(row, column, row + rows - 1, column, text.as_ref(), format)
        })
    }

    /// A picture of its own size over the cell at the pen, so many pixels from its left and top.
    pub fn picture(&mut self, image: &Image, left: u32, top: u32) -> Result<&mut Self, XlsxError> {
        self.put(|sheet, row, column| sheet.insert_image_with_offset(row, column, image, left, top))
    }

    /// Makes this row, which holds these headings from a column on, and so many rows below it a table
    /// of the spreadsheet. For a sheet of several tables.
    pub fn make_table<'h>(
        &mut self,
        first: ColNum,
        headings: impl IntoIterator<Item = (&'h str, &'h Format)>,
        rows: usize,
    ) -> Result<(), XlsxError> {
        let columns: Vec<TableColumn> = headings
            .into_iter()
            .map(|(name, format)| {
                TableColumn::new()
                    .set_header(name)
                    .set_header_format(format)
            })
            .collect();
        let last = first + columns.len() as ColNum - 1;
        let rows = RowNum::try_from(rows).unwrap_or(RowNum::MAX);
        let end = self.row.saturating_add(rows).min(self.last);
        // A table has at least one row below its headings.
        if self.row < end {
            let table = Table::new()
                .set_columns(&columns)
                .set_style(TableStyle::None)
                .set_autofilter(false);
            self.write(first, |sheet, row, first| {
                sheet.add_table(row, first, end, last, &table)
            })?;
        }
        Ok(())
    }

    /// The sheet's title, and under it what the sheet is.
    pub fn title(&mut self, title: &str, says: &str, style: &Style) -> Result<(), XlsxError> {
        self.tall(30.0)?.plain(title, &style.title)?;
        self.says(says, &style.subtitle)
    }

    /// Words that run on over the cells to their right, in as many rows as the paper asks for: what runs on
    /// beyond the table makes the whole page smaller.
    pub fn says(&mut self, text: &str, format: &Format) -> Result<(), XlsxError> {
        // A text's width is near enough, not exact: a twentieth is left over.
        for row in in_rows(text, self.paper.room() * 0.95) {
            self.row()?.plain(&row, format)?;
        }
        Ok(())
    }

    /// The same for the one sentence of a page, in its larger type.
    pub fn leads(&mut self, text: &str, style: &Style) -> Result<(), XlsxError> {
        for row in in_rows(text, self.paper.room() / LEAD) {
            self.tall(20.0)?.plain(&row, &style.lead)?;
        }
        Ok(())
    }

    /// Sets the sheet up for paper; `headings` is the row that every page repeats.
    pub fn print(&mut self, headings: Option<RowNum>, footer: &str) -> Result<(), XlsxError> {
        style::print(self.sheet, self.paper, headings, footer)
    }

    /// A heading row, and the panes frozen below it; the columns' widths hold from here on.
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
        self.wrap_at(fitted(columns, self.paper.room()));
        Ok(self.row)
    }

    /// Ends a table begun with [`Pen::headings`]: its filter, and widths that fit what was written.
    pub fn end_table(&mut self, heading: RowNum, columns: &[Column]) -> Result<(), XlsxError> {
        self.end_row()?;
        let last = columns.len() as ColNum - 1;
        self.sheet
            .autofilter(heading, 0, self.row.max(heading + 1), last)?;
        let most = fitted(columns, self.paper.room());
        for (index, (column, most)) in columns.iter().zip(most).enumerate() {
            let widest = self.widest.get(index).copied().unwrap_or(0.0);
            let wanted = (widest + PADDING).max(column.headed());
            let width = wanted.clamp(column.least, most);
            self.sheet.set_column_width(index as ColNum, width)?;
        }
        Ok(())
    }

    /// The sheet below, for what is no cell: widths, validation, print set-up.
    pub fn sheet(&mut self) -> &mut Worksheet {
        self.sheet
    }

    fn measure(&mut self, text: &str) {
        if self.row >= MEASURED {
            return;
        }
        self.widen(text.lines().map(width).fold(0.0, f64::max));
        let column = usize::from(self.column);
        if let (Some(lines), Some(limit)) = (&mut self.lines, self.limits.get(column)) {
            *lines = (*lines).max(lines_of(text, limit - PADDING));
        }
    }

    /// The column at the pen holds something as wide.
    fn widen(&mut self, wide: f64) {
        let column = usize::from(self.column);
        if self.widest.len() <= column {
            self.widest.resize(column + 1, 0.0);
        }
        self.widest[column] = self.widest[column].max(wide);
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

    /// No wider than these words.
    pub fn holding<'t>(self, words: impl Iterator<Item = &'t str>) -> Column {
        let widest = words.map(width).fold(0.0, f64::max) + PADDING;
        Column {
            most: widest.clamp(self.headed(), self.most),
            ..self
        }
    }

    /// What its heading asks for, in two lines: a filter's button takes about two digits beside the second.
    fn headed(&self) -> f64 {
        let button = match self.heading.contains(' ') {
            true => 2.0,
            false => 0.0,
        };
        (in_two_lines(self.heading) + button + PADDING).clamp(self.least, self.most)
    }

    /// A column of numbers.
    pub const fn number(heading: &'static str) -> Column {
        Column {
            heading,
            number: true,
            least: 8.0,
            most: 14.0,
        }
    }
}

/// The widths at which columns wrap so that their table fits a line of the paper. Columns of words give way,
/// each by the same part of what its heading leaves.
fn fitted(columns: &[Column], room: f64) -> Vec<f64> {
    let taken = |column: &Column| column.headed() + SIDES;
    let free = room - columns.iter().map(taken).sum::<f64>();
    let words = || columns.iter().filter(|column| !column.number);
    let asked: f64 = words().map(|c| c.most - c.headed()).sum();
    let part = (free / asked).clamp(0.0, 1.0);
    let width = |column: &Column| match column.number {
        true => column.most,
        false => column.headed() + part * (column.most - column.headed()),
    };
    columns.iter().map(width).collect()
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

    /// The format ends at 1,048,576 rows; here a sheet ends at 4.
    #[test]
    fn a_full_sheet_says_that_it_was_cut() {
        assert_eq!(SHEET_ROWS, 1_048_576);
        let mut workbook = rust_xlsxwriter::Workbook::new();
        let mut pen = Pen::on(workbook.add_worksheet(), Paper::Landscape);
        pen.last = 3;
        let (format, cell) = (
            Format::new(),
            Cell {
                formula: "=1".to_owned(),
                value: "1".to_owned(),
            },
        );
        for row in 0..6 {
            pen.tall(20.0)
                .and_then(|pen| pen.number(row, &format))
                .and_then(|pen| pen.decimal(0.5, &format))
                .and_then(|pen| pen.text("words", &format))
                .and_then(|pen| pen.live(&cell, &format))
                .and_then(|pen| pen.jump("there", "Sheet1", 0, &format))
                .and_then(|pen| pen.wide(2, "wide", &format))
                .and_then(|pen| pen.wide_live(2, &cell, &format))
                .and_then(|pen| pen.blank(&format))
                .expect("writes");
        }
        assert_eq!(pen.at(), 3);
        let bytes = workbook.save_to_buffer().expect("a workbook");
        let mut book: calamine::Xlsx<_> =
            calamine::open_workbook_from_rs(std::io::Cursor::new(bytes)).expect("opens");
        let range = calamine::Reader::worksheet_range(&mut book, "Sheet1").expect("a sheet");
        let firsts: Vec<String> = range.rows().map(|row| row[0].to_string()).collect();
        assert_eq!(firsts, ["0", "1", "2", FULL]);
        assert_eq!(range.rows().next_back().expect("rows")[1].to_string(), "");
    }

    /// Every table but the one that is only looked things up in takes no more than a line of its paper.
    #[test]
    fn columns_of_words_give_way_to_the_paper() {
        let columns = [
            Column::words("Item", 80.0),
            Column::number("Short"),
            Column::words("No.", 6.0),
            Column::words("Finding", 120.0),
        ];
        let taken = |paper: Paper| -> f64 {
            let widths = fitted(&columns, paper.room());
            let headed = [widths[0], columns[1].headed(), widths[2], widths[3]];
            headed.iter().map(|width| width + SIDES).sum()
        };
        for paper in [Paper::Portrait, Paper::Landscape] {
            assert!((taken(paper) - paper.room()).abs() < 1e-9);
        }
        assert_eq!(
            fitted(&columns, Paper::Small.room()),
            [80.0, 14.0, 6.0, 120.0]
        );
        assert_eq!(
            fitted(&columns[..2], Paper::Landscape.room()),
            [80.0, 14.0],
            "none is wider than it may be"
        );
    }

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
