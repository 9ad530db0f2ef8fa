//! What is usual among the first lines of a list: all that their look tells where no headings do, looked for
//! here and once. The rest of the reader asks for it.

use std::borrow::Cow;

use super::{
    super::role::Role,
    begin,
    beside::{Mark, are_lines, usual_sign},
    form::Form,
    habit::Habit,
    numbering::Numbering,
    parting::{self, Parting},
    price,
    push::begins_with_minus,
    row_numbers::RowNumbers,
    shape::{self, Columns},
    speakers::Speakers,
    ticks, titles,
};
use crate::{
    columns::furniture,
    notation::Notation,
    source::{Format, Row},
};

#[derive(Debug, Default)]
pub(super) struct Usual {
    /// The first rows, without who says them.
    pub head: Vec<Row>,
    /// Who says the lines.
    pub speakers: Speakers,
    /// What numbers the lines.
    pub numbering: Numbering,
    /// What numbers the rows of a list without headings.
    pub row_numbers: RowNumbers,
    /// Where a text's lines give their count.
    pub habit: Option<Habit>,
    /// Several lines are plain words and a bare figure behind.
    pub bare_counts: bool,
    /// The sign in front of the count at the end of several lines.
    pub count_sign: Option<&'static str>,
    /// What stands between count and item there.
    pub count_mark: Option<Mark>,
    /// The row in which a text's list begins, where plain parts stand above its first hardware.
    pub begins_at: Option<u32>,
    /// The form of the lines of a text without columns.
    pub parting: Option<Parting>,
    /// A text's titles are numbered in turn.
    pub numbers_titles: bool,
    /// Lines of a text are ticked.
    pub ticked: bool,
    /// Most lines of a text bear bullets.
    pub bulleted: bool,
    /// Most lines begin with a minus, which is a bullet then.
    pub minus: bool,
    /// Several lines bear a box, ticked or open.
    pub boxed: bool,
    /// They do, and stand in columns.
    bullets: bool,
    /// The sheet has no headings.
    pub no_headings: bool,
    /// The columns of rows without headings.
    pub columns: Option<Columns>,
    /// Lines end in their price.
    prices: bool,
}

impl Usual {
    /// Looks at the first rows of a sheet. `lines`: it has no headings.
    pub fn of(head: &[Row], format: Format, role: Role, notation: Notation, lines: bool) -> Usual {
        let is_text = format == Format::Text;
        let speakers = match is_text {
            true => Speakers::of(head, notation),
            false => Speakers::default(),
        };
        let bare = head.iter().map(|row| speakers.without(row).into_owned());
        let mut head: Vec<Row> = bare.collect();
        let numbering = match is_text {
            true => Numbering::of(&head),
            false => Numbering::default(),
        };
        for row in &mut head {
            *row = numbering.without(row).into_owned();
        }
        let row_numbers = match lines {
            true => RowNumbers::of(&head, notation),
            false => RowNumbers::None,
        };
        for row in &mut head {
            *row = row_numbers.without(row).into_owned();
        }
        let mut usual = Usual {
            head,
            speakers,
            numbering,
            row_numbers,
            no_headings: lines,
            ..Usual::default()
        };
        let head = &usual.head;
        if is_text {
            (usual.habit, usual.count_mark) = Habit::of(head, notation);
            let texts: Vec<String> = head.iter().map(Row::joined).collect();
            usual.count_sign = usual_sign(&texts);
            let bare = texts
                .iter()
                .map(|text| furniture::without_bullet(text).into_owned());
            usual.bare_counts = are_lines(&bare.collect::<Vec<_>>(), notation);
            usual.begins_at = begin::first_line(head, notation);
            usual.numbers_titles = titles::are_numbered(head);
            usual.ticked = ticks::are_usual(head);
            let filled = head.iter().filter(|row| !row.is_empty()).count();
            let bulleted = head.iter().filter(|row| parting::has_bullet(row)).count();
            usual.bulleted = bulleted >= 3 && bulleted * 2 > filled;
            let minus = texts.iter().filter(|text| begins_with_minus(text)).count();
            usual.minus = minus >= 2 && minus * 2 > filled;
            usual.boxed = ticks::are_boxed(head);
        }
        if !lines {
            return usual;
        }
        usual.columns = shape::columns(head, false, notation);
        if usual.columns.is_none() {
            usual.prices = price::are_behind(head);
        }
        if is_text && usual.columns.is_some() {
            usual.bullets = head.iter().any(|row| without_bullet(row).is_some());
        } else if is_text && let Some(parting) = Parting::of(head, role, notation) {
            let parted = |row| parting.part(row, notation);
            let rows: Vec<Row> = head.iter().filter_map(parted).collect();
            usual.columns = shape::columns(&rows, parting.is_sure(), notation);
            usual.parting = Some(parting).filter(|_| usual.columns.is_some());
        }
        usual
    }

    /// True where a line with a bullet names no figure, and the next is set in below it: `- Frame` over
    /// `  - 4 boards`.
    pub fn is_title_of(&self, line: &Row, next: &Row) -> bool {
        let figures = |row: &Row| {
            row.cells()
                .any(|(text, _)| text.contains(|c: char| c.is_ascii_digit()))
        };
        line.number + 1 == next.number
            && line.indent(0) < next.indent(0)
            && parting::has_bullet(next)
            && !figures(line)
            && figures(next)
    }

    /// The form that a text's first lines are, and its records, the first row its labels.
    pub fn form(&self, format: Format) -> Option<(Form, Vec<Row>)> {
        (format == Format::Text).then(|| Form::of(&self.head))?
    }

    /// True where lines are read by parts of them.
    pub fn parts_lines(&self) -> bool {
        self.parting.is_some() || self.bullets
    }

    /// A line of text without columns, parted where its item and its count part.
    pub fn parted<'r>(&self, row: &'r Row, notation: Notation) -> Cow<'r, Row> {
        let parted = match &self.parting {
            Some(parting) => parting.part(row, notation),
            None if self.bullets => without_bullet(row),
            None => None,
        };
        parted.map_or(Cow::Borrowed(row), Cow::Owned)
    }

    /// A row without who says it, and without its number.
    pub fn bare<'r>(&self, row: &'r Row) -> Cow<'r, Row> {
        fn next<'r>(row: Cow<'r, Row>, without: impl Fn(&Row) -> Cow<'_, Row>) -> Cow<'r, Row> {
            let bare = match without(&row) {
                Cow::Borrowed(_) => None,
                Cow::Owned(bare) => Some(bare),
            };
            bare.map_or(row, Cow::Owned)
        }
        let row = next(self.speakers.without(row), |row| {
            self.numbering.without(row)
        });
        next(row, |row| self.row_numbers.without(row))
    }

    /// True where [`Usual::bare`] takes something away.
    pub fn has_more_in_front(&self) -> bool {
        !self.speakers.is_none() || !self.numbering.is_none() || self.row_numbers.are_in_front()
    }

    /// A row that is read as one line, without its price.
    pub fn without_price<'t>(&self, text: &'t str) -> &'t str {
        price::without(text, self.prices)
    }
}

/// A row of several cells whose first bears a bullet or a box to tick, without it.
fn without_bullet(row: &Row) -> Option<Row> {
    let (first, kind) = row.cells().next().filter(|_| row.filled() > 1)?;
    let bare = furniture::without_bullet(first);
    let boxed =
        bare.len() < first.trim().len() && !first.starts_with(|c: char| c.is_alphanumeric());
    boxed.then(|| {
        let mut rest = Row::default();
        rest.start(row.number);
        rest.push(&bare, kind);
        (row.cells().skip(1)).for_each(|(text, kind)| rest.push(text, kind));
        rest
    })
}
