//! Notes below a list, each under a mark that stands behind an item: `24 nuts [2]` over `[2] supplied loose`. Common
//! practice, no source.

use std::borrow::Cow;

use super::{
    super::{count, guide::is_prose, usage::usage},
    Reader,
    beside::are_several,
    notes::named_rows,
};
use crate::{
    Doubt,
    notation::{Notation, describe, names_part, says_finish},
    source::{Format, Row},
};

/// How the first of the notes below a list begins.
pub(super) const FIRST: &[&str] = &["[1]", "(1)"];

/// The largest figure of a mark; a larger one counts.
const LARGEST: u32 = 30;

/// A mark in brackets and what stands behind it: `[2] supplied loose`.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Note {
    row: u32,
    number: u32,
    /// The mark as written: `[2]`.
    mark: String,
    text: String,
}

/// The notes below the list of a sheet.
#[derive(Debug, Default)]
pub(super) struct Footnotes {
    /// Those whose marks stand above, in the order of the rows.
    known: Vec<Note>,
    /// Rows that may be notes, or pieces.
    open: Vec<u32>,
}

impl Footnotes {
    /// Looks at the rows of a sheet. A mark is one behind an item that is counted without it.
    pub fn of(rows: &[Row], notation: Notation) -> Footnotes {
        let mut notes = Footnotes::default();
        let led: Vec<(usize, Note)> = (rows.iter().enumerate())
            .filter_map(|(at, row)| Some((at, note(row)?)))
            .collect();
        let Some(&(last, _)) = led.last() else {
            return notes;
        };
        // The last block of such rows, blank ones between them, numbered upwards.
        let mut first = led.len() - 1;
        while first > 0
            && (rows[led[first - 1].0 + 1..led[first].0].iter()).all(Row::is_empty)
            && led[first - 1].1.number < led[first].1.number
        {
            first -= 1;
        }
        let (others, block) = led.split_at(first);
        let above = &rows[..block[0].0];
        let in_turn = (1..).zip(block).all(|(n, (_, note))| note.number == n);
        for (_, note) in block {
            let marks = |row: &Row| without_mark(row, &note.mark, notation).is_some();
            let is_square = note.mark.starts_with('[');
            let is_sure = is_square || in_turn && (block.len() > 1 || says_finish(&note.text));
            match above.iter().any(marks) {
                true if is_sure && note.names_nothing(notation) => notes.known.push(note.clone()),
                true => notes.open.push(note.row),
                false => {}
            }
        }
        let counts_apart = |row: &Row| !is_led(row) && counts(row, notation);
        // Without its mark above, it may be a note where no other row counts in brackets.
        let may_be = in_turn
            && others.is_empty()
            && above.iter().any(counts_apart)
            && !rows[last + 1..].iter().any(counts_apart);
        if may_be || !notes.known.is_empty() {
            let known = |of: &Note| notes.known.contains(of) || notes.open.contains(&of.row);
            let unknown = block.iter().map(|(_, note)| note);
            let more: Vec<u32> = unknown.filter(|of| !known(of)).map(|of| of.row).collect();
            notes.open.extend(more);
        }
        notes
    }

    /// A row without the marks of notes, which are told beside it like the comment of a cell, and what is doubted of it.
    /// `None` where it bears none.
    pub fn without(&self, row: &Row, notation: Notation) -> Option<(Row, Option<Doubt>)> {
        let last = self.known.last()?.row;
        let bears = |note: &&Note| {
            row.number < last
                && row
                    .cells()
                    .any(|(cell, _)| mark_in(cell, &note.mark).is_some())
        };
        let mut said: Option<(Row, Option<Doubt>)> = None;
        for note in self.known.iter().filter(bears) {
            let (before, mut doubt) = said.take().unwrap_or_else(|| (row.clone(), None));
            let mut rest = without_mark(&before, &note.mark, notation).unwrap_or_else(|| {
                let told = format!(
                    "{} may be how many, or the mark of the note in row {}",
                    note.mark, note.row
                );
                doubt = Some(Doubt::HowMany(told.into()));
                before
            });
            if usage(&note.text).is_some() && doubt.is_none() {
                doubt = Some(Doubt::Remark(note.text.as_str().into()));
            }
            rest.comments.push(note.text.as_str().into());
            said = Some((rest, doubt));
        }
        said
    }

    fn is_note(&self, row: &Row) -> bool {
        self.known.iter().any(|note| note.row == row.number)
    }

    /// The rows of a sheet's head without notes and marks.
    pub fn bare(&self, head: Vec<Row>, notation: Notation) -> Vec<Row> {
        if self.known.is_empty() {
            return head;
        }
        let rows = head.into_iter().filter(|row| !self.is_note(row));
        rows.map(|row| self.without(&row, notation).map_or(row, |(rest, _)| rest))
            .collect()
    }
}

impl Note {
    /// True where it says how things are, and names nothing that there may be so many of.
    fn names_nothing(&self, notation: Notation) -> bool {
        let text = &self.text;
        let hardware =
            describe(text, notation).is_ok_and(|all| all.iter().any(|of| of.is_hardware()));
        let lone = !text.contains(' ') && !text.ends_with("ed");
        !hardware
            && (says_finish(text)
                || !lone && !are_several(text) && !names_part(&format!("{text}, one")))
    }
}

/// True for a row that begins with a figure in brackets.
fn is_led(row: &Row) -> bool {
    let first = row
        .cells()
        .map(|(cell, _)| cell.trim())
        .find(|cell| !cell.is_empty());
    first.is_some_and(|first| led_by(first).is_some())
}

/// The mark in front of a text, its number, and the rest.
fn led_by(text: &str) -> Option<(&str, u32, &str)> {
    let close = match text.as_bytes().first()? {
        b'[' => ']',
        b'(' => ')',
        _ => return None,
    };
    let end = text.find(close)?;
    let figure = &text[1..end];
    let number = figure.parse().ok().filter(|_| figure.len() < 3)?;
    Some((&text[..=end], number, text[end + 1..].trim()))
}

/// What a row of one cell says that begins with a small figure in brackets, and goes on in words.
fn note(row: &Row) -> Option<Note> {
    let (text, _) = row.cells().find(|(cell, _)| !cell.trim().is_empty())?;
    let (mark, number, rest) = led_by(text.trim()).filter(|_| row.filled() == 1)?;
    let in_words = rest.starts_with(char::is_alphabetic);
    (in_words && (1..=LARGEST).contains(&number)).then(|| Note {
        row: row.number,
        number,
        mark: mark.to_owned(),
        text: rest.to_owned(),
    })
}

/// Where a mark stands behind words.
fn mark_in(text: &str, mark: &str) -> Option<usize> {
    let at = text
        .find(mark)
        .filter(|at| !text[..*at].trim().is_empty())?;
    let next = text[at + mark.len()..].chars().next();
    next.is_none_or(|next| !next.is_alphanumeric())
        .then_some(at)
}

/// True where a row says how many.
fn counts(row: &Row, notation: Notation) -> bool {
    let in_cell = row.cells().any(|(cell, _)| count::is_count(cell, notation));
    let in_words = || {
        let callouts = describe(&row.joined(), notation);
        callouts.is_ok_and(|all| all.iter().any(|of| of.quantity.is_some()))
    };
    row.filled() > 1 && in_cell || in_words()
}

/// A row without a mark, where it is counted without it.
fn without_mark(row: &Row, mark: &str, notation: Notation) -> Option<Row> {
    let bears = |cell: &str| mark_in(cell, mark).is_some();
    if !row.cells().any(|(cell, _)| bears(cell)) || is_led(row) || is_prose(&row.joined()) {
        return None;
    }
    let rest = row.rewritten(|cell| match mark_in(cell, mark) {
        Some(at) => {
            let (front, behind) = (cell[..at].trim_end(), &cell[at + mark.len()..]);
            Cow::Owned(format!("{front}{behind}"))
        }
        None => Cow::Borrowed(cell),
    });
    counts(&rest, notation).then_some(rest)
}

impl Reader<'_> {
    /// Passes over a note to a mark, and takes the marks off a row above it. `None`: it is passed over.
    pub(super) fn without_footnotes<'r>(&mut self, row: &'r Row) -> Option<Cow<'r, Row>> {
        if self.footnotes.is_note(row) {
            self.passed_notes.push((row.number, row.joined()));
            self.tally.other += 1;
            return None;
        }
        if self.footnotes.open.contains(&row.number) {
            let doubt = Doubt::HowMany("may be a note to a mark, and no pieces".into());
            self.signs.insert(row.number, doubt);
        }
        let Some((rest, doubt)) = self.footnotes.without(row, self.notation) else {
            return Some(Cow::Borrowed(row));
        };
        self.signs.extend(doubt.map(|doubt| (row.number, doubt)));
        Some(Cow::Owned(rest))
    }

    /// Says which rows were passed over for notes to marks.
    pub(super) fn note_footnotes(&mut self) {
        let passed = std::mem::take(&mut self.passed_notes);
        if !passed.is_empty() {
            let what = match self.list.format {
                Format::Text => "line",
                _ => "row",
            };
            let told = format!(
                "passed over, as notes to marks: {}",
                named_rows(what, &passed)
            );
            self.note(told);
        }
    }
}
