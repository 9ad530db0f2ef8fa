//! The heading rows of a table, and which rows below are its own.

use std::{ops::Range, rc::Rc};

use super::{
    super::{count, role::Role},
    Reader,
    counts::Counts,
    guess,
    key::{KeyColumns, Keys},
    page_turn::PageTurn,
    plan,
    revisions::Revisions,
    seen::Seen,
    shape,
    unheard::is_paperwork,
};
use crate::{
    columns::{Layout, Meaning, furniture, heading, may_be_heading, same_words},
    source::{Format, Row},
};

impl Reader<'_> {
    /// Lets the rows of a sheet without headings tell its columns. Where they do not, the cells of a row
    /// are taken together.
    pub(super) fn take_columns(&mut self) {
        let columns = self.usual.columns.take();
        let layout = columns.as_ref().map(|of| &of.layout);
        if self.list.format != Format::Text && self.usual.head.iter().any(|row| row.len() > 1) {
            let told = match layout.and_then(|l| l.column(Meaning::Quantity)) {
                Some(column) => format!(
                    "no heading row was found: column {} is taken for how many, since it holds counts",
                    column + 1
                ),
                None => {
                    "no heading row was found: the cells of a row are read as one line".to_owned()
                }
            };
            self.note(told);
        }
        if self.usual.row_numbers.are_in_front() {
            self.note("the first cell of each row is taken for its number".to_owned());
        }
        let Some(shape::Columns { layout, side }) = columns else {
            return;
        };
        if let Some(parting) = &self.usual.parting {
            self.note(parting.told());
        }
        let tables = side.len();
        self.set_layout(layout.clone());
        self.side = side.into_iter().map(Side::of).collect();
        if tables > 1 {
            self.note(format!(
                "{tables} tables side by side: read one after another"
            ));
        }
        let titles = (self.usual.head.iter()).filter(|row| row.number <= self.title_block);
        if titles
            .into_iter()
            .any(|row| self.is_row_of(&self.usual.parted(row, self.notation), &layout))
        {
            self.title_block = 0;
        }
    }

    /// True where a row is one of the table: a text's line that is not cut into cells is none, and without
    /// headings neither is a row of another shape.
    pub(super) fn is_row_of(&self, row: &Row, layout: &Layout) -> bool {
        match layout.headless {
            false => self.list.format != Format::Text || row.len() > 1,
            true if self.form.is_some() || self.pairs.is_some() => false,
            true if self.list.lines.is_empty() && furniture::names_list(&row.joined()) => false,
            true if self.side.is_empty() => shape::fits(row, layout, self.notation),
            true => {
                let mut parts = self.side.iter().map(|side| row.part(side.columns.clone()));
                parts.any(|part| shape::fits(&part, layout, self.notation)) || self.heads_sides(row)
            }
        }
    }

    /// True for a row that says of each table what its pieces lie in: `Bag A`, `Bag B`.
    fn heads_sides(&self, row: &Row) -> bool {
        let mut heads = self.side.iter().map(|side| row.part(side.columns.clone()));
        heads.all(|head| furniture::container(&head.joined()).is_some())
    }

    /// Decides what a held row is, now that the next is there. True where the next row belongs to
    /// it.
    pub(super) fn settle_held(&mut self, held: &Row, next: Option<&Row>) -> bool {
        // The same headings over and over: the last of them are looked at.
        let headings = self.headings.as_ref().map(|(known, _)| known.as_str());
        if headings.is_some()
            && next.is_some_and(|next| {
                Some(&*next.joined()) == headings && held.joined() == next.joined()
            })
        {
            self.tally.other += 1;
            return false;
        }
        if let Some((side, layout)) = plan::side_by_side(held, self.named) {
            self.set_layout(layout);
            self.side = side.into_iter().map(Side::of).collect();
            self.tally.other += 1;
            return false;
        }
        let alone = Layout::of(held, None, self.named);
        if let (Some(alone), Some(next)) = (&alone, next)
            && let Some(whole) = split_over(held, next, alone)
            && let Some(below) = plan::row_below(&self.usual.head, next.number)
            && let Some(mut layout) = plan::spread_of(&whole, below, self.list.role, self.named)
        {
            self.learn_below(&whole, &mut layout);
            self.set_layout(layout);
            self.tally.other += 2;
            return true;
        }
        let with_next = next
            .filter(|next| !next.is_empty())
            .and_then(|next| Some((Layout::of(held, Some(next), self.named)?, next)));
        let known = |layout: &Option<Layout>| layout.as_ref().map_or(0, |l| l.known);
        if let Some((both, next)) = with_next
            && both.known > known(&alone)
            // A row above a heading row is the upper half of it only if it is heading-like itself.
            && both.known + usize::from(alone.is_some()) > known(&Layout::of(next, None, self.named))
        {
            self.set_layout(both);
            self.tally.other += 2;
            return true;
        }
        let below = plan::row_below(&self.usual.head, held.number).or(next);
        let spread = || plan::spread_of(held, below?, self.list.role, self.named);
        match spread().or(alone) {
            Some(mut layout) => {
                // What the first rows told holds for the same headings on later pages.
                let text = held.joined();
                match &self.headings {
                    Some((known, of)) if *known == text => layout = of.clone(),
                    _ => {
                        self.learn_below(held, &mut layout);
                        self.headings = Some((text, layout.clone()));
                    }
                }
                self.set_layout(layout);
                self.tally.other += 1;
            }
            None if next.is_some_and(|next| {
                self.take_kind(held, next) || self.take_stage_title(held, next)
            }) =>
            {
                self.tally.other += 1;
            }
            None => self.take(held, false),
        }
        false
    }

    /// Lets the rows below a heading row, to the next blank one, tell of its columns.
    pub(super) fn learn_below(&mut self, heading: &Row, layout: &mut Layout) {
        self.note_date_of_count(heading);
        let head = std::mem::take(&mut self.usual.head);
        let below = head.iter().filter(|row| row.number > heading.number);
        let rows: Vec<&Row> = below.take_while(|row| !row.is_empty()).collect();
        self.learn_from_rows(heading, &rows, layout);
        let above = head.iter().filter(|row| row.number < heading.number);
        guess::take_kit(above, layout);
        self.usual.head = head;
    }

    pub(super) fn set_layout(&mut self, layout: Layout) {
        let unit = layout.unit.or(self.unit);
        if unit != self.notation.unit {
            self.notation.unit = unit;
            self.wordings = Keys::default();
            self.said.clear();
        }
        if layout.torque_unit != self.torque_unit {
            self.torque_unit.clone_from(&layout.torque_unit);
            self.places = Keys::default();
            self.placements.clear();
        }
        let sheet = &mut self.list.sheets[usize::from(self.sheet)];
        for (_, heading) in &layout.unread {
            if !sheet.unread_columns.contains(heading) {
                sheet.unread_columns.push(heading.clone());
            }
        }
        for spread in &layout.spread {
            if !sheet.spread_columns.contains(&spread.heading) {
                sheet.spread_columns.push(spread.heading.clone());
            }
        }
        self.ask_whether_it_is(&layout);
        self.ask_for_how_many_kits(&layout);
        self.watch(&layout);
        self.watch_unread(&layout);
        let has_stages = |of: &Layout| of.has(Meaning::Stage);
        if self.layout.as_deref().is_some_and(has_stages) && !has_stages(&layout) {
            self.stage.clear();
            self.stage_option.clear();
        }
        // A printed list has the same headings again on every page.
        if self.layout.as_deref() != Some(&layout) {
            self.columns = KeyColumns::of(&layout);
            self.counts = Counts::of_table(&layout, self.list.role);
            self.seen = Seen::of_table(&layout, &self.columns, self.list.role);
            self.revisions = Revisions::of_table(&layout);
            self.turn = PageTurn::of_table(&layout);
        } else {
            self.turn_page();
        }
        self.layout = Some(Rc::new(layout));
        self.at_top = true;
        self.side.clear();
        self.before_table = false;
        self.forget_row_above();
    }

    /// Asks about a table whose columns are those of another list than it was given as.
    fn ask_whether_it_is(&mut self, layout: &Layout) {
        let any = |all: &[Meaning]| all.iter().any(|&meaning| layout.has(meaning));
        let looks_like = match self.list.role {
            // A slip bears the initials of who checked it, too.
            Role::Required | Role::Compared | Role::Shipped
                if (layout.has(Meaning::Damaged)
                    || layout.has(Meaning::CountedBy) && self.list.role != Role::Shipped)
                    && !any(&[Meaning::Shipped, Meaning::Ordered, Meaning::Total]) =>
            {
                "a count (what is damaged, who counted)"
            }
            Role::Counted
                if layout.has(Meaning::Shipped)
                    && !any(&[Meaning::Good, Meaning::Received, Meaning::Damaged]) =>
            {
                "a slip (what was shipped)"
            }
            _ => return,
        };
        let role = self.list.role;
        self.list.sheets[usize::from(self.sheet)].ask(format!(
            "its columns are those of {looks_like}, and it was given as what is {role}: is it?"
        ));
    }

    /// Asks about figures that are for several kits, since `--kits` would multiply them again.
    fn ask_for_how_many_kits(&mut self, layout: &Layout) {
        if let (Role::Required | Role::Compared, Some(heading)) = (self.list.role, &layout.kits) {
            self.list.sheets[usize::from(self.sheet)].ask(format!(
                "the column \"{heading}\" is for several kits: its figures are taken as they stand, so leave out --kits"
            ));
        }
    }

    /// Takes a title above the headings that is the first stage's, or a bag's, and names rows that seem to be of a
    /// table.
    pub(super) fn take_title_above(&mut self, row: &Row) {
        let text = row.joined();
        let asks = matches!(self.list.role, Role::Required | Role::Compared);
        if row.filled() == 1 {
            let first = || furniture::first_title(&text).filter(|_| asks);
            match furniture::stage_title(&text).or_else(first) {
                Some(title) => {
                    self.bare_title = title.to_owned();
                    if asks && furniture::stage_title(title).is_none() {
                        self.stages_taken.push((row.number, title.to_owned()));
                    }
                }
                None => self.bare_title.clear(),
            }
            if let Some(container) = furniture::container(&text) {
                self.enter_container(container);
            }
        }
        let is_figure =
            |(text, _): (&str, _)| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
        if row.filled() > 2 && row.cells().any(is_figure) {
            self.passed_figures.push((row.number, text));
        }
    }

    /// True where a row below the headings is the edge of a page, or what stands above them again.
    pub(super) fn is_page_edge(&self, row: &Row) -> bool {
        let first = || {
            row.cells()
                .map(|(text, _)| text)
                .find(|text| !text.is_empty())
        };
        // The number of the page is another.
        let is_figure = |c: char| c.is_ascii_digit();
        let words = |text: &str| -> Vec<String> {
            text.split(is_figure)
                .map(|of| of.trim().to_owned())
                .collect()
        };
        let begins_again = |head: &String| {
            let first = first().unwrap_or_default().trim_matches(is_figure);
            head.starts_with(first) && words(head) == words(&row.joined())
        };
        (row.filled() < 3 && furniture::is_page_edge(&row.joined()))
            || self.page_head.iter().any(begins_again)
    }

    /// True for a row below no headings that says what, and is neither a title nor what lists hold besides.
    pub(super) fn is_row_left_open(&self, row: &Row, layout: &Layout) -> bool {
        let text = row.joined();
        let described = layout
            .descriptions
            .iter()
            .map(|&at| row.get(at.into()).trim());
        let named = described
            .into_iter()
            .any(|cell| cell.contains(char::is_alphabetic));
        named
            && row.filled() > 1
            && !furniture::is_total(&text)
            && !furniture::is_note(&text)
            && !furniture::is_paper(&text)
            && furniture::stage_title(&text).is_none()
            && furniture::container(&text).is_none()
            && !self.is_heading_like(row)
    }

    /// True for a row below no headings that was not understood, and says how many where the others do.
    pub(super) fn counts_without_item(&self, row: &Row, layout: &Layout) -> bool {
        let text = row.joined();
        let count = layout.cell(row, Meaning::Quantity).trim();
        let is_figure = |c: char| c.is_ascii_digit();
        (count.contains(is_figure) || count::is_count(count, self.notation))
            && !is_paperwork(&text)
            && furniture::stage_title(&text).is_none()
            && furniture::container(&text).is_none()
            && furniture::date_in(&text).is_none()
    }

    /// True for a row below no headings of several cells that counts, and says nothing where the others name their item: what
    /// stands elsewhere in it is no name.
    pub(super) fn lacks_item(&self, row: &Row, layout: &Layout) -> bool {
        let described = layout.descriptions.iter().map(|&at| usize::from(at));
        let mut named = described.chain(layout.column(Meaning::PartNumber));
        let count = layout.cell(row, Meaning::Quantity);
        row.filled() > 1
            && self.side.is_empty()
            && count::may_count(count, self.notation)
            && named.all(|at| !row.get(at).contains(char::is_alphanumeric))
            && self.counts_without_item(row, layout)
    }

    pub(super) fn is_heading_like(&self, row: &Row) -> bool {
        may_be_heading(row)
            && row.cells().filter(|(text, _)| !text.is_empty()).count() > 1
            && row.cells().any(|(text, _)| {
                heading::recognise(text).is_some()
                    || self.named.values().any(|name| same_words(name, text))
            })
    }
}

/// A table beside others, and what its pieces lie in.
#[derive(Default)]
pub(super) struct Side {
    pub(super) columns: Range<usize>,
    pub(super) bag: String,
    pub(super) carton: String,
}

impl Side {
    fn of(columns: Range<usize>) -> Side {
        Side {
            columns,
            ..Side::default()
        }
    }
}

/// A heading row that says in one cell of several columns that they count, together with the row below, which says of
/// what: `Item, Qty` over `Base, Posts, Roof`.
fn split_over(held: &Row, next: &Row, alone: &Layout) -> Option<Row> {
    let counts = [Meaning::Quantity, Meaning::Total];
    let count = counts.iter().find_map(|&of| alone.column(of))?;
    let is_filled = |row: &Row, at: usize| !row.get(at).trim().is_empty();
    let below = || (0..next.len()).filter(|&at| is_filled(next, at));
    let is_split = is_filled(next, count)
        && below().count() > 1
        && may_be_heading(next)
        && below().all(|at| at == count || !is_filled(held, at));
    is_split.then(|| {
        let mut whole = Row::default();
        whole.start(next.number);
        for at in 0..held.len().max(next.len()) {
            let from = if is_filled(next, at) { next } else { held };
            whole.push(from.get(at), from.kind(at));
        }
        whole
    })
}
