//! What is usual among the first lines of a list: all that their look tells where no headings do, looked for
//! here and once. The rest of the reader asks for it.

use std::borrow::Cow;

use super::{
    begin,
    form::Form,
    habit::{Habit, Mark},
    price,
    shape::{self, Columns},
    speakers::Speakers,
};
use crate::{
    notation::Notation,
    source::{Format, Row},
};

#[derive(Debug, Default)]
pub(super) struct Usual {
    /// The first rows, without who says them.
    pub head: Vec<Row>,
    /// Who says the lines.
    pub speakers: Speakers,
    /// Where a text's lines give their count.
    pub habit: Option<Habit>,
    /// What stands between count and item there.
    pub count_mark: Option<Mark>,
    /// The row in which a text's list begins, where plain parts stand above its first hardware.
    pub begins_at: Option<u32>,
    /// What stands between item and count in the lines of a text without columns.
    mark: Option<&'static str>,
    /// The columns of rows without headings.
    pub columns: Option<Columns>,
    /// Lines end in their price.
    prices: bool,
}

impl Usual {
    /// Looks at the first rows of a sheet. `lines`: it has no headings.
    pub fn of(head: &[Row], format: Format, notation: Notation, lines: bool) -> Usual {
        let is_text = format == Format::Text;
        let speakers = match is_text {
            true => Speakers::of(head, notation),
            false => Speakers::default(),
        };
        let bare = head.iter().map(|row| speakers.without(row).into_owned());
        let mut usual = Usual {
            head: bare.collect(),
            speakers,
            ..Usual::default()
        };
        let head = &usual.head;
        if is_text {
            (usual.habit, usual.count_mark) = Habit::of(head, notation);
            usual.begins_at = begin::first_line(head, notation);
        }
        if !lines {
            return usual;
        }
        usual.columns = shape::columns(head, notation);
        if usual.columns.is_none() {
            usual.prices = price::are_behind(head);
        }
        if usual.columns.is_none() && is_text {
            usual.mark = shape::mark(head, notation);
            let mark = usual.mark.iter();
            let parted = mark.flat_map(|mark| {
                let parted = |row| shape::part(row, mark, notation);
                head.iter().filter_map(parted)
            });
            let parted: Vec<Row> = parted.collect();
            usual.columns = shape::columns(&parted, notation);
        }
        usual
    }

    /// The form that a text's first lines are, and its records, the first row its labels.
    pub fn form(&self, format: Format) -> Option<(Form, Vec<Row>)> {
        (format == Format::Text).then(|| Form::of(&self.head))?
    }

    /// True where lines are parted at a mark.
    pub fn parts_lines(&self) -> bool {
        self.mark.is_some()
    }

    /// A line of text without columns, parted where its item and its count part.
    pub fn parted<'r>(&self, row: &'r Row, notation: Notation) -> Cow<'r, Row> {
        let parted = |mark| shape::part(row, mark, notation);
        self.mark
            .and_then(parted)
            .map_or(Cow::Borrowed(row), Cow::Owned)
    }

    /// A row that is read as one line, without its price.
    pub fn without_price<'t>(&self, text: &'t str) -> &'t str {
        price::without(text, self.prices)
    }
}
