//! What the cells of an ods show, where that says more than their figures: a cell that holds 4 and shows `4 pairs`
//! (OASIS, OpenDocument 1.3 part 3, 9.1.4: the text stands beside the value).

use std::ops::Range;

use quick_xml::events::{BytesStart, Event};

use super::{
    broken::Found,
    tag_values::{number, text},
};

/// What some cells show, row and column from 0.
#[derive(Debug)]
pub struct Shown {
    sheet: usize,
    rows: Range<u32>,
    columns: Range<u32>,
    text: Box<str>,
}

/// Those of one sheet.
pub fn of_sheet(shown: &[Shown], sheet: usize) -> &[Shown] {
    let from = shown.partition_point(|of| of.sheet < sheet);
    let to = shown.partition_point(|of| of.sheet <= sheet);
    &shown[from..to]
}

/// What the cell at a place shows. `shown`: of its sheet, in order.
pub fn at(shown: &[Shown], (row, column): (u32, u32)) -> Option<&str> {
    let is_before =
        |of: &Shown| of.rows.end <= row || (of.rows.contains(&row) && of.columns.end <= column);
    let found = shown.get(shown.partition_point(is_before))?;
    (found.rows.contains(&row) && found.columns.contains(&column)).then_some(&found.text)
}

/// Looks for what cells show as an ods goes by.
#[derive(Default)]
pub struct Displayed {
    pub shown: Vec<Shown>,
    /// Sheets begun.
    sheets: usize,
    rows: Range<u32>,
    columns: Range<u32>,
    /// The cell at hand holds a whole number.
    holds_figure: bool,
    /// Comments on a cell stand within it.
    in_comment: bool,
    text: String,
}

impl Displayed {
    pub fn event(&mut self, event: &Event<'_>) -> Found<()> {
        match event {
            Event::Start(tag) => self.start(tag)?,
            Event::End(tag) => match tag.name().as_ref() {
                "office:annotation" => self.in_comment = false,
                "table:table-cell" | "table:covered-table-cell" => self.end_cell(),
                _ => {}
            },
            Event::Text(words) if self.holds_figure && !self.in_comment => {
                self.text
                    .push_str(&words.xml_content(quick_xml::XmlVersion::Implicit1_0));
            }
            _ => {}
        }
        Ok(())
    }

    fn start(&mut self, tag: &BytesStart<'_>) -> Found<()> {
        let next = |before: &Range<u32>, repeats: Option<u64>| {
            let repeats = u32::try_from(repeats.unwrap_or(1).max(1)).unwrap_or(u32::MAX);
            before.end..before.end.saturating_add(repeats)
        };
        match tag.name().as_ref() {
            "table:table" => {
                self.sheets += 1;
                (self.rows, self.columns) = (0..0, 0..0);
            }
            "table:table-row" => {
                self.rows = next(&self.rows, number(tag, "table:number-rows-repeated")?);
                self.columns = 0..0;
            }
            "table:table-cell" | "table:covered-table-cell" => {
                self.columns = next(&self.columns, number(tag, "table:number-columns-repeated")?);
                let figure = match text(tag, "value-type")?.as_deref() {
                    Some("float") => text(tag, "value")?,
                    _ => None,
                };
                let figure = figure.and_then(|figure| figure.trim().parse::<f64>().ok());
                self.holds_figure = figure.is_some_and(|of| of >= 0.0 && of.fract() == 0.0);
                self.text.clear();
            }
            "office:annotation" => self.in_comment = true,
            "text:s" if self.holds_figure => self.text.push(' '),
            _ => {}
        }
        Ok(())
    }

    fn end_cell(&mut self) {
        let text = self.text.trim();
        let says_more = text.contains(char::is_alphabetic) && text.parse::<f64>().is_err();
        if self.holds_figure && says_more {
            self.shown.push(Shown {
                sheet: self.sheets.saturating_sub(1),
                rows: self.rows.clone(),
                columns: self.columns.clone(),
                text: text.into(),
            });
        }
        self.holds_figure = false;
    }
}
