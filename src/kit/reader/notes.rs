//! What is said beside a file: notes of how it was read, its revision and date.

use super::{
    super::{guide::is_for_one, line::Line, remark, role::Role},
    Reader,
};
use crate::{
    columns::{Layout, Meaning, furniture, heading},
    source::{Format, Row},
};

impl Reader<'_> {
    /// Says something of how the sheet is read.
    pub(super) fn note(&mut self, told: String) {
        let notes = &mut self.list.sheets[usize::from(self.sheet)].notes;
        if !notes.contains(&told) {
            notes.push(told);
        }
    }

    /// Says which lines look like titles, have lines below and were not taken for stages.
    pub(super) fn note_passed_titles(&mut self) {
        let passed = std::mem::take(&mut self.passed_titles);
        if passed.is_empty() {
            return;
        }
        let told = format!(
            "headings passed over: {}; what stands below is of the stage above: write one that is a stage as \"Stage 2: Frame\"",
            named_rows("line", &passed)
        );
        self.list.sheets[usize::from(self.sheet)].notes.push(told);
    }

    /// Says which lines of a guide stand below no title of a stage.
    pub(super) fn note_unstaged(&mut self) {
        let lines = &self.list.lines;
        if !self.list.from_sentences || self.list.role != Role::Required {
            return;
        }
        let in_stage = |line: &Line| self.list.placement_of(line).stage.is_some();
        let Some(first) = lines.iter().find(|line| !in_stage(line)) else {
            return;
        };
        let told = match lines.iter().any(in_stage) {
            true => format!(
                "line {} stands below no heading of a stage: it is of none",
                first.row
            ),
            false => {
                "no heading of a stage was found: all is of one; write such as \"Stage 2: Frame\""
                    .to_owned()
            }
        };
        self.note(told);
    }

    /// Says which lines were passed over in spite of their figures.
    pub(super) fn note_passed_figures(&mut self) {
        let passed = std::mem::take(&mut self.passed_figures);
        if !passed.is_empty() {
            let told = format!(
                "passed over, though figures stand there: {}",
                named_rows("line", &passed)
            );
            self.note(told);
        }
    }

    /// Says which rows were taken for titles of stages, since a title has no figure and a part may lack
    /// its own.
    pub(super) fn note_stages_taken(&mut self) {
        let taken = std::mem::take(&mut self.stages_taken);
        if !taken.is_empty() {
            let told = format!("taken for titles of stages: {}", named_rows("row", &taken));
            self.note(told);
        }
    }

    /// Asks about a row that says of the whole list how its figures are meant, and is none of its lines. `title`:
    /// it stands in the title block.
    pub(super) fn heed(&mut self, row: &Row, title: bool) -> bool {
        if row.filled() != 1 && !title {
            return false;
        }
        let text = plain_text(&row.joined());
        let told = match title {
            true => {
                let is_guide = self.list.role == Role::Required && self.list.format == Format::Text;
                furniture::title_qualifies_list(&text) || (is_guide && is_for_one(&text))
            }
            false => furniture::qualifies_list(&text),
        };
        let told = told
            || self.list.format != Format::Text
                && furniture::says_how_often(&text)
                && !self.names_so_many(&text);
        if told {
            self.ask_of_all(&format!("row {} says \"{text}\"", row.number));
        }
        told
    }

    /// Asks about what may change every figure of the sheet.
    fn ask_of_all(&mut self, said: &str) {
        let question =
            format!("{said}, which may change every figure: they are taken as they stand");
        let sheet = &mut self.list.sheets[usize::from(self.sheet)];
        // More may be required by it, and no fewer.
        match self.list.role {
            Role::Required | Role::Compared => sheet.ask(question),
            _ => sheet.ask_of_figures(question),
        }
    }

    /// Asks about a sheet whose name says how its figures are meant, and is no stage's.
    pub(super) fn heed_name_of_sheet(&mut self) {
        let name = self.list.sheets[usize::from(self.sheet)].name.clone();
        let says = |name: &str| {
            furniture::title_qualifies_list(name)
                || furniture::says_how_often(name)
                || remark::qualifies_lines(name)
        };
        if let Some(name) = name.filter(|name| says(name)) {
            self.ask_of_all(&format!("the sheet is named \"{name}\""));
        }
    }

    /// Asks about what a heading row says of all figures: in brackets behind the heading of the count, or in a cell of its
    /// own.
    pub(super) fn heed_headings(&mut self, headings: &Row, layout: &Layout) {
        let counts = [Meaning::Quantity, Meaning::Good, Meaning::Shipped];
        let known = layout.each_of.is_some() || layout.kits.is_some() || layout.pack_of.is_some();
        let of_counts = counts.iter().filter_map(|&of| layout.column(of));
        let mut said: Vec<String> = of_counts
            .map(|column| headings.get(column).trim())
            .filter(|heading| !known && furniture::beside_heading(heading).is_some())
            .map(str::to_owned)
            .collect();
        let unread = layout.unread.iter().map(|(_, heading)| &**heading);
        let says = |text: &&str| furniture::qualifies_list(text) || furniture::says_how_often(text);
        said.extend(unread.filter(says).map(str::to_owned));
        for text in said {
            self.ask_of_all(&format!("row {} says \"{text}\"", headings.number));
        }
    }

    /// Keeps the date that a count's heading says: `Counted 24 June 2026`.
    pub(super) fn note_date_of_count(&mut self, headings: &Row) {
        let counts = |text: &str| {
            let said = heading::recognise(text).map(|heading| heading.meaning);
            matches!(
                said,
                Some(Meaning::Good | Meaning::Quantity | Meaning::Received)
            )
        };
        let dated = |(text, _)| {
            furniture::date_in(text)
                .filter(|_| counts(text))
                .map(|at| &text[at])
        };
        let mut dates = headings.cells().filter_map(dated);
        if let (Some(date), None) = (dates.next(), dates.next())
            && self.list.role == Role::Counted
            && self.list.date.is_none()
        {
            self.list.date = Some(date.trim().to_owned());
        }
    }

    /// Keeps the revision, the date and a slip's number of a title block.
    pub(super) fn note_title(&mut self, row: &Row) {
        let cells: Vec<&str> = row
            .cells()
            .map(|(text, _)| text)
            .filter(|text| !text.is_empty())
            .collect();
        for (index, cell) in cells.iter().enumerate() {
            let (revision, date) = furniture::revision_and_date(cell);
            let slip = (self.list.role == Role::Shipped)
                .then(|| furniture::slip_number(cell))
                .flatten();
            let next = cells.get(index + 1).copied().unwrap_or_default();
            let label = index.checked_sub(1).map_or("", |before| cells[before]);
            let alone = furniture::is_date(cell) && !furniture::labels_other_date(label);
            let date = date.or_else(|| alone.then_some(*cell));
            // `Ana, 20 April 2026, small parts`
            let among = || {
                let of_other = [label, cell]
                    .iter()
                    .any(|of| furniture::names_other_date(of));
                furniture::date_in(cell)
                    .filter(|_| !of_other)
                    .map(|at| cell[at].trim())
            };
            let date = date.or_else(among);
            let list = &mut self.list;
            let known = [&mut list.revision, &mut list.date, &mut list.slip_number];
            for (kept, value) in known.into_iter().zip([revision, date, slip]) {
                let value = value.map(|value| if value.is_empty() { next } else { value });
                if kept.is_none() {
                    *kept = value.filter(|value| !value.is_empty()).map(str::to_owned);
                }
            }
        }
    }
}

/// Most titles that a note names.
const TITLES_NAMED: usize = 12;

/// A text without the white space about it.
fn plain_text(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// `row 4 "Frame", row 9 "Roof", 2 more`.
pub(super) fn named_rows(what: &str, rows: &[(u32, String)]) -> String {
    let first = rows.iter().take(TITLES_NAMED);
    let mut named: Vec<String> = first
        .map(|(row, text)| format!("{what} {row} \"{text}\""))
        .collect();
    if let Some(more @ 1..) = rows.len().checked_sub(TITLES_NAMED) {
        named.push(format!("{more} more"));
    }
    named.join(", ")
}
