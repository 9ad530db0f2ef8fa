//! Rows of a table.

use std::borrow::Cow;

use super::{
    super::{
        count::{self, Count},
        guide::is_prose,
        line::Aside,
        line::LineStatus,
        remark,
        role::Role,
        several,
        stated_mass::{MassOf, RowMass, StatedMass},
        usage::Usage,
        words::Words,
    },
    Entry, Found, Reader,
    beside::{are_several, count_behind},
    key::Key,
    kind, sizes,
    totals::Held,
};
use crate::{
    Doubt,
    columns::{
        Layout, Meaning, Spread,
        furniture::{self, Container},
        heading,
    },
    hardware::Item,
    notation::{Callout, ItemCells, Unread, describe, describe_cells},
    source::{CellKind, Format, Row},
};

impl Reader<'_> {
    /// A row of a table.
    pub(super) fn table_row(&mut self, row: &Row, layout: &Layout, fresh: bool) {
        if self.side.is_empty() {
            if let Some(worst) = self.row_of_table(row, layout, fresh) {
                self.add(worst);
                self.after_blank = false;
                self.at_top = false;
            }
        } else if fresh && self.is_heading_like(row) {
            self.held = Some(row.clone());
        } else {
            let mut worst = None;
            let mut sides = std::mem::take(&mut self.side);
            for side in &mut sides {
                self.forget_row_above();
                let part = row.part(side.columns.clone());
                std::mem::swap(&mut self.bag, &mut side.bag);
                std::mem::swap(&mut self.carton, &mut side.carton);
                worst = worst.max(self.row_of_table(&part, layout, false).flatten());
                std::mem::swap(&mut self.bag, &mut side.bag);
                std::mem::swap(&mut self.carton, &mut side.carton);
            }
            self.side = sides;
            self.add(worst);
        }
    }

    /// A row of one table, and the worst state of its lines; `None` where it is held back, since it may
    /// be a heading.
    fn row_of_table(
        &mut self,
        row: &Row,
        layout: &Layout,
        fresh: bool,
    ) -> Option<Option<LineStatus>> {
        let bag = self.enter_bag_behind(row, layout);
        let first = self.list.lines.len();
        let mut worst = self.row_in_its_bag(row, layout, fresh, bag.is_some());
        if self.list.lines.len() > first {
            let carried_over = self.doubt_carried_over(row, first);
            worst = worst.map(|worst| worst.max(carried_over));
        }
        if let Some((bag, carton)) = bag {
            (self.bag, self.carton) = (bag, carton);
        }
        worst
    }

    /// Enters the bag that the only description of a row names behind its item, where no cell does, and gives the one
    /// above back.
    fn enter_bag_behind(&mut self, row: &Row, layout: &Layout) -> Option<(String, String)> {
        let &[only] = layout.descriptions.as_slice() else {
            return None;
        };
        let named = |meaning| !layout.cell(row, meaning).trim().is_empty();
        let (_, container) = furniture::container_behind(row.get(only.into()))?;
        if row.filled() < 2 || named(Meaning::Bag) || named(Meaning::Box) {
            return None;
        }
        let above = (self.bag.clone(), self.carton.clone());
        let (holder, name) = match container {
            Container::Bag(name) => (&mut self.bag, name),
            Container::Box(name) => (&mut self.carton, name),
        };
        holder.clear();
        holder.push_str(name);
        Some(above)
    }

    /// The same, once its bag is entered. `bagged`: its item names that.
    fn row_in_its_bag(
        &mut self,
        row: &Row,
        layout: &Layout,
        fresh: bool,
        bagged: bool,
    ) -> Option<Option<LineStatus>> {
        self.watch_row(row);
        let (item, error) = self.item_of(row, layout, bagged);
        let first = self.list.lines.len();
        let entry = self.entry_of(item);
        let is_new = item == Key::BLANK || matches!(self.said[entry], Entry::New);
        let (role, notation) = (self.list.role, self.notation);
        let count = &*self.counts.of(row, layout, role, notation);
        if !count.stated || count.aside.is_some() {
            if let Some(worst) = self.total_in_one_cell(row, layout) {
                return Some(worst);
            }
            if let Some(mark) = self.other_mark(row, layout) {
                let place = self.placement(row, &Layout::without_headings(&[]), None);
                let why = format!(
                    "its cells are parted by \"{mark}\", and those of the headings are not"
                );
                return Some(self.push_aside(row, place, Aside::NoItem(why.into())));
            }
            if self.is_furniture(row, layout) || (self.at_top && is_of_units(row)) {
                return Some(None);
            }
        }
        let held = fresh
            && ((is_new && self.is_heading_like(row) && !says_received(row, layout))
                || ((!count.stated || count.aside.is_some())
                    && (self.may_be_kind(row) || self.may_be_stage(row, layout))));
        if held {
            self.held = Some(row.clone());
            return None;
        }
        let worst = if let Some(error) = error {
            let place = self.placement(row, layout, None);
            self.push_aside(row, place, Aside::CellError(error))
        } else if item == Key::BLANK {
            self.row_without_item(row, layout, count)
        } else {
            if is_new {
                self.said[entry] = self.work_out(item);
            }
            self.note_mass(row, layout, entry);
            self.note_behind_headings(row, layout);
            let mut count = match self.in_packs_of_text(row, layout, entry, count) {
                Some(whole) => Cow::Owned(whole),
                None => Cow::Borrowed(count),
            };
            let beside = [
                self.unread_item(row),
                self.behind_headings(row, layout),
                self.other_id(row, layout, entry),
                self.place_counts(row, layout),
                self.revised(row, layout, item),
                self.unknown_place(row, layout),
                repeated(row, layout),
                unnamed(row, layout),
            ];
            for doubt in beside.into_iter().flatten() {
                count.to_mut().doubts.push(doubt);
            }
            if self.sets_above.is_some() {
                self.take_sets(count.to_mut());
            }
            if layout.has_levels() {
                self.enter_level(row, layout, &mut count);
            }
            if layout.places_once {
                self.carry_places(row, layout, &mut count);
            }
            let count = &*count;
            let worst = match layout.spread.as_slice() {
                [] => self.row_of_entry(row, layout, entry, count),
                spread => self.row_of_stages(row, spread, entry, count),
            };
            if let (Some(worst), 1, false) = (worst, self.list.lines.len() - first, bagged) {
                self.learn(row, item, count, worst);
            }
            worst
        };
        if self.keep_words && worst.is_some() {
            self.words_of_row(row, layout, item);
        }
        if item != Key::BLANK {
            self.item_before = item;
        }
        Some(worst)
    }

    /// Takes a row for as many places as the first of its stage, where they are written there alone. That is a doubt,
    /// unless the row's total says so.
    fn carry_places(&mut self, row: &Row, layout: &Layout, count: &mut Cow<'_, Count>) {
        if !layout.cell(row, Meaning::Places).trim().is_empty() {
            self.places_above = count.places;
            return;
        }
        let (places, Some(each)) = (self.places_above, count.pieces) else {
            return;
        };
        if places < 2 {
            return;
        }
        let count = count.to_mut();
        let all = each.saturating_mul(places.into());
        let doubts = count.doubts.len();
        let confirmed =
            |doubt: &Doubt| matches!(doubt, Doubt::TotalDisagrees { total, .. } if *total == all);
        count.doubts.retain(|doubt| !confirmed(doubt));
        count.places = places;
        if count.doubts.len() == doubts {
            let said = format!(
                "at {places} places, as the first row of its stage: taken for {all} in all"
            );
            count.doubts.push(Doubt::OrElse {
                pieces: each,
                said: said.into(),
            });
        }
    }

    /// The key of what an item is, and the error of a cell that holds one.
    fn item_of(&mut self, row: &Row, layout: &Layout, bagged: bool) -> (Key, Option<Box<str>>) {
        let mut error = None;
        let mut check = |column: usize| {
            if row.kind(column) == CellKind::Error || ERRORS.contains(&row.get(column)) {
                error.get_or_insert_with(|| Box::from(row.get(column)));
            }
        };
        layout
            .descriptions
            .iter()
            .for_each(|&column| check(column.into()));
        let keys = &mut self.wordings;
        let mut item = match layout.descriptions[..] {
            [only] => match row.get(usize::from(only)) {
                cell if furniture::is_ditto(cell) => {
                    keys.with_cell_of(Key::BLANK, 0, self.item_before)
                }
                cell if bagged && let Some((at, _)) = furniture::container_behind(cell) => keys
                    .with(
                        Key::BLANK,
                        0,
                        &[&cell[..at.start], &cell[at.end..]].concat(),
                    ),
                cell => match kind::under(&self.kind_above, cell, self.notation) {
                    Some(whole) => keys.with(Key::BLANK, 0, &whole),
                    None => keys.with(Key::BLANK, 0, cell),
                },
            },
            ref several => {
                let joined = join_descriptions(row, several, keys.get(self.item_before, 0));
                keys.with(Key::BLANK, 0, &joined)
            }
        };
        for &(at, meaning, column) in &self.columns.item {
            let cell = row.get(column);
            check(column);
            let numbers_line = (layout.numbers_lines && is_line_number(cell))
                || (layout.bare_number && !is_makers_number(cell));
            if meaning == Meaning::PartNumber && numbers_line {
                continue;
            }
            let mut units = layout.own_units.iter();
            let unit = units
                .find(|(of, _)| *of == meaning && cell.ends_with(|c: char| c.is_ascii_digit()));
            item = match (furniture::is_ditto(cell), unit) {
                (true, _) => keys.with_cell_of(item, at, self.item_before),
                (false, Some((_, unit))) => keys.with(item, at, &format!("{cell} {unit}")),
                (false, None) => keys.with(item, at, cell),
            };
        }
        (item, error)
    }

    /// A row of which one cell says the total in words: `Total: 26 pieces`.
    fn total_in_one_cell(&mut self, row: &Row, layout: &Layout) -> Option<Option<LineStatus>> {
        let text = only_cell(row)?;
        let stated = furniture::total_in(text)
            .filter(|_| furniture::is_total(text) && furniture::is_of_pieces(text))?;
        let place = self.placement(row, layout, None);
        Some(self.push_total(row, place, stated))
    }

    /// A row with one cell that is a title, a total or a note, and no figures. A title takes effect.
    fn is_furniture(&mut self, row: &Row, layout: &Layout) -> bool {
        let Some(text) = only_cell(row) else {
            return false;
        };
        if let Some(stage) = furniture::stage_title(text) {
            self.enter_stage(stage);
            return true;
        }
        if self.takes_sets(text, row.number) {
            return true;
        }
        if layout.has(Meaning::Received) {
            return false;
        }
        if furniture::is_loose(text) {
            self.bag.clear();
            self.carton.clear();
            return true;
        }
        // `CRATE 1 - STEEL` over its contents.
        let titled = || furniture::container_and_rest(text).filter(|(_, rest)| !self.calls(rest));
        if let Some(container) = furniture::container(text).or_else(|| Some(titled()?.0)) {
            self.enter_container(container);
            return true;
        }
        let is_note = furniture::is_note(text) || self.is_remark(row, text, layout);
        if is_note && text.contains(|c: char| c.is_ascii_digit()) {
            self.passed_figures.push((row.number, text.to_owned()));
        }
        furniture::is_total(text) || is_note
    }

    /// The mark that parts the cells of a row otherwise than those of its table, where one of them is a count.
    fn other_mark(&self, row: &Row, layout: &Layout) -> Option<char> {
        // In a workbook a comma is one of a text.
        let own = match self.list.format {
            Format::Delimited(own) => own,
            _ => b',',
        };
        let text = only_cell(row)?;
        [',', ';', '\t', '|'].into_iter().find(|&mark| {
            let cells: Vec<&str> = text.split(mark).collect();
            let counts = |cell: &&str| count::is_count(cell.trim(), self.notation);
            mark != char::from(own) && cells.len() == layout.width && cells.iter().any(counts)
        })
    }

    /// Takes a row that says of how many kits those below are each.
    fn takes_sets(&mut self, text: &str, row: u32) -> bool {
        let sets = furniture::sets_of_what_follows(text).filter(|sets| *sets > 1);
        if let Some(sets) = sets {
            self.sets_above = Some((sets, format!("\"{}\", row {row}", text.trim())));
        }
        sets.is_some()
    }

    /// True where a sentence stands alone in a row: `Follow the local rules for work over water.`
    fn is_remark(&self, row: &Row, text: &str, layout: &Layout) -> bool {
        let apart = text.ends_with(['.', '!']) && item_column(row, layout).is_none();
        let apart = apart || furniture::is_sentence(text);
        (apart || (is_prose(text) && says_more(text))) && !self.names_pieces(text)
    }

    /// True where a text names hardware with a size, or so many pieces of it.
    pub(super) fn names_pieces(&self, text: &str) -> bool {
        let said = |callout: &Callout| {
            let said = callout.item.diameter.is_some() || callout.quantity.is_some();
            callout.is_hardware() && said
        };
        describe(text, self.notation).is_ok_and(|all| all.iter().any(said))
    }

    /// True where a text names so many pieces: hardware, or a part that is written no title (`2 seat rails`, `Seat rail
    /// (2)`; not `2 Seat rails`), behind a word that joins it to the rows above or not.
    pub(super) fn names_so_many(&self, text: &str) -> bool {
        const JOINS: &[&str] = &["plus", "also", "and", "another", "extra", "with", "add"];
        let first = text.split_once(' ');
        let joined =
            first.filter(|(first, _)| JOINS.iter().any(|of| first.eq_ignore_ascii_case(of)));
        let text = joined.map_or(text, |(_, rest)| rest);
        if !text.contains(char::is_alphabetic) {
            return false;
        }
        let mut letters = text.chars().filter(|c| c.is_alphabetic());
        let is_title = joined.is_none()
            && letters.next().is_some_and(char::is_uppercase)
            && !text.ends_with(')');
        let counts = |callout: &Callout| {
            let pieces = callout.quantity.is_some_and(|quantity| quantity.pieces > 0);
            pieces && (callout.is_hardware() || !is_title)
        };
        let behind =
            || count_behind(text, self.notation).is_some_and(|(words, _)| are_several(words));
        describe(text, self.notation).is_ok_and(|all| all.iter().any(counts)) || behind()
    }

    /// The cell of a row without an item, and without a count in its place, that may name one or count it: hardware, so
    /// many pieces, a figure where it is not known what figures say, or words in a row that bears a number.
    fn item_elsewhere<'r>(&self, row: &'r Row, layout: &Layout) -> Option<&'r str> {
        let cells = || row.cells().map(|(text, _)| text.trim()).enumerate();
        let names = |text: &str| self.names_so_many(text) || self.names_pieces(text);
        let named = cells().map(|(_, text)| text).find(|text| names(text));
        let words = || {
            let words = cells().filter(|(at, text)| !layout.is_placing(*at) || text.contains(' '));
            let words = words.map(|(_, text)| text).filter(|text| !is_prose(text));
            let words = words.filter(|text| text.contains(char::is_alphabetic));
            words.max_by_key(|text| text.len())
        };
        let figure = cells().find(|(at, text)| {
            text.contains(|c: char| c.is_ascii_digit())
                && match layout.is_placing(*at) {
                    true => !is_place(text),
                    false if layout.is_told(*at) => names_more_than_unit(text),
                    false => *at > 0 || !is_line_number(text),
                }
        });
        // Nobody says what words behind the last heading are.
        let is_numbered = is_line_number(row.get(0).trim())
            || row.filled() > 1
                && cells().any(|(at, text)| at >= layout.width && names_more_than_unit(text));
        named.or_else(|| match figure {
            Some((_, figure)) => words().or(Some(figure)),
            None => words().filter(|_| is_numbered),
        })
    }

    pub(super) fn names_hardware(&self, text: &str) -> bool {
        describe(text, self.notation).is_ok_and(|all| all.iter().any(Callout::is_hardware))
    }

    /// True where a row of a required list may be a stage's title: a few words in one cell, and no
    /// other says of which stage the rows are.
    fn may_be_stage(&self, row: &Row, layout: &Layout) -> bool {
        let Some(text) = only_cell(row) else {
            return false;
        };
        matches!(self.list.role, Role::Required | Role::Compared)
            && self.side.is_empty()
            && !layout.has(Meaning::Stage)
            && furniture::may_be_title(text)
            && !furniture::holds_size(text)
            && !self.names_hardware(text)
    }

    /// Takes a held row for the title of the stage that begins with the next row, where more speaks for
    /// it than that it has no figure: where it stands, how it is written, or titles above.
    pub(super) fn take_stage_title(&mut self, held: &Row, next: &Row) -> bool {
        let Some(layout) = self.layout.clone() else {
            return false;
        };
        let counts =
            |layout: &Layout| count::count(next, layout, self.list.role, self.notation).stated;
        let is_spread = !layout.spread.is_empty();
        let is_line = counts(&layout) || layout.spread.iter().any(|spread| counts(&spread.layout));
        if !self.may_be_stage(held, &layout) || !is_line || item_column(next, &layout).is_none() {
            return false;
        }
        let mut cells = held.cells().map(|(text, _)| text);
        let text = cells.find(|text| !text.is_empty()).unwrap_or_default();
        let is_large = |text: &str| !text.contains(char::is_lowercase);
        let apart = text.ends_with(':')
            || remark::named_option(text).is_some()
            || item_column(held, &layout).is_none()
            || (is_large(text) && !is_large(&self.item_text(&layout, next)));
        let titled = apart || self.after_blank || self.at_top || !self.stages_taken.is_empty();
        if !titled || !self.comes_in_turn(text) {
            return false;
        }
        let title = furniture::unmark(text).to_owned();
        // Where columns are the stages, it is a title of a few rows.
        if !is_spread {
            self.enter_stage(&title);
        }
        self.stages_taken.push((held.number, title));
        true
    }

    /// True for a title whose figure, if any, is that of the next: `2 Posts` behind `1 Base`, `Bay 2` behind `Bay 1`. Any
    /// other counts, or is of a part's name: `Front plate 8`, `H-7`.
    fn comes_in_turn(&self, title: &str) -> bool {
        let figures = |c: char| c.is_ascii_digit();
        let words = title.trim_matches(figures);
        if words.len() == title.len() {
            return !title.contains(figures);
        }
        let in_front = title.ends_with(words) && words.starts_with([' ', '.', ')', ':']);
        let behind = title.starts_with(words) && words.ends_with(' ');
        let of_name = |(_, above): &&(u32, String)| above.starts_with(words);
        let next = match in_front {
            true => self.stages_taken.len() + 1,
            false => self.stages_taken.iter().filter(of_name).count() + 1,
        };
        let figure = title.trim_start_matches(words).trim_end_matches(words);
        (in_front || behind) && !words.contains(figures) && figure.parse() == Ok(next)
    }

    /// Works out what a wording says, once.
    fn work_out(&mut self, item: Key) -> Entry {
        let cell = |at| self.wordings.get(item, at);
        let description = cell(0);
        let only_description = self.wordings.is_first_alone(item);
        // `Total` under a heading of numbers.
        let total = description.is_empty() && furniture::is_total(cell(7));
        let of_paper = || {
            let known = [
                furniture::is_total,
                furniture::is_paper,
                furniture::is_page_edge,
            ];
            known.iter().any(|is| is(description))
        };
        if total || (only_description && of_paper()) {
            Entry::Furniture
        } else if only_description
            && self.list.role != Role::Required
            && furniture::container(description).is_some()
        {
            Entry::Container
        } else {
            let cells = ItemCells {
                description,
                size: cell(1),
                diameter: cell(2),
                length: cell(3),
                thread: cell(4),
                grade: cell(5),
                finish: cell(6),
                part_number: cell(7),
            };
            let mut callouts = match furniture::is_of_others(description) {
                true => Err(Unread::of_others()),
                false => describe_cells(&cells, self.notation),
            };
            let counts =
                |layout: &Layout| !layout.headless && count::is_stated(layout, self.list.role);
            if let Ok([only]) = callouts.as_deref_mut()
                && self.layout.as_deref().is_some_and(counts)
            {
                name_by_figure(only, description);
            }
            if let Ok(callouts) = &mut callouts {
                let said = remark::in_brackets(description).map(|said| Doubt::Remark(said.into()));
                let said: Vec<Doubt> = said.collect();
                for callout in callouts {
                    let told = |doubt: &&Doubt| !callout.doubts.contains(doubt);
                    let said: Vec<Doubt> = said.iter().filter(told).cloned().collect();
                    callout.doubts.extend(said);
                }
            }
            let said = self.describe(callouts, true);
            self.keep_open(|reader, at| reader.wordings.get(item, at).into(), &said);
            said
        }
    }

    /// Keeps what a piece weighs by a row. The weight of a row that names several items is none of
    /// theirs.
    fn note_mass(&mut self, row: &Row, layout: &Layout, entry: usize) {
        if layout.has_mass()
            && let Entry::Items(start, end) = self.said[entry]
            && end == start + 1
            && let Some(mass) = mass(row, layout)
        {
            self.list.masses.push(RowMass {
                sheet: self.sheet,
                row: row.number,
                mass,
            });
        }
    }

    /// A row without item cells: a bag received or not, a total, or figures without an item.
    fn row_without_item(
        &mut self,
        row: &Row,
        layout: &Layout,
        count: &Count,
    ) -> Option<LineStatus> {
        let has_figures = count::has_figures(row, layout, self.list.role, self.notation);
        if layout.has(Meaning::Received) {
            let bag = layout.cell(row, Meaning::Bag);
            let carton = layout.cell(row, Meaning::Box);
            if !bag.is_empty() || !carton.is_empty() {
                let (received, doubt) = answer_of(row, layout);
                let place = self.placement(row, layout, None);
                let beside = (has_figures && layout.says_what()).then(|| {
                    let doubt =
                        "a figure and no item: pieces of one that is not named, or so many bags?";
                    Doubt::HowMany(doubt.into())
                });
                let doubts = doubt.into_iter().chain(beside).collect();
                return self.push_bag(row, place, received, None, doubts);
            }
        }
        let items = layout.descriptions.iter().map(|&column| column.into());
        let mut items = items.chain(self.columns.item.iter().map(|(.., column)| *column));
        if items.any(|column| row.kind(column) == CellKind::NoValue) {
            let place = self.placement(row, layout, None);
            let why =
                "a formula without its value names it: save the file in a spreadsheet program";
            return self.push_aside(row, place, Aside::NoItem(why.into()));
        }
        let mut cells = row
            .cells()
            .map(|(text, _)| text)
            .filter(|text| !text.is_empty());
        let label = cells.next().unwrap_or_default();
        let figures = |text: &str| !text.contains(char::is_alphabetic);
        let total = furniture::is_total(label);
        if total || (figures(label) && cells.all(figures)) {
            // What is owed or damaged is no pieces that are there.
            let says_more = || !total && has_figures;
            if let Some(stated) = count
                .pieces
                .filter(|_| !total || furniture::is_of_pieces(label))
                .filter(|&stated| stated > 0 || !says_more())
            {
                let place = self.placement(row, layout, None);
                return match total {
                    true => self.push_total(row, place, stated),
                    false => self.push_figure(row, place, stated),
                };
            }
            if total {
                return None;
            }
        }
        if furniture::is_note(label) && row.filled() < 3 && !count.stated {
            return None;
        }
        if !count.stated
            && let Some(text) = self.item_elsewhere(row, layout)
        {
            let place = self.placement(row, &Layout::without_headings(&[]), None);
            let why = format!(
                "\"{text}\" may name pieces or count them, and stands under no such heading"
            );
            return self.push_aside(row, place, Aside::NoItem(why.into()));
        }
        // The stage alone holds for the rows below.
        let place = self.placement(row, layout, None);
        if !count.stated && !has_figures {
            return None;
        }
        let no_item = || Aside::NoItem("a quantity and no item".into());
        let aside = count.aside.clone().unwrap_or_else(no_item);
        self.push_aside(row, place, aside)
    }

    /// A row that holds a quantity for each of several stages, bags or boxes. `count` is that of its
    /// total, or of none.
    ///
    /// Figures in both of two columns, with no total and under headings that are plainly no stages, may be
    /// two counts of the same pieces (`Out, Back`; `Rev A, Rev B`): none is taken.
    fn row_of_stages(
        &mut self,
        row: &Row,
        spread: &[Spread],
        entry: usize,
        count: &Count,
    ) -> Option<LineStatus> {
        if matches!(self.said[entry], Entry::Furniture) {
            return None;
        }
        let (role, notation) = (self.list.role, self.notation);
        let figures = |spread: &Spread| {
            let count = count::count(row, &spread.layout, role, notation);
            let whole = self.in_packs_of_text(row, &spread.layout, entry, &count);
            whole.unwrap_or(count)
        };
        let mut counts: Vec<(&Spread, Count)> =
            (spread.iter().map(|spread| (spread, figures(spread))))
                .filter(|(_, count)| count.stated && count.pieces != Some(0))
                .collect();
        let pieces = counts.iter().map(|(_, count)| count.pieces);
        let computed = pieces.sum::<Option<u64>>().unwrap_or(0);
        if let Some(total) = count.pieces
            && total != computed
        {
            for (_, count) in &mut counts {
                count.doubts.push(Doubt::StagesDisagree { total, computed });
            }
        }
        if counts.is_empty() {
            return self.row_of_entry(row, &spread[0].layout, entry, &Count::default());
        }
        // Of what was sent or counted of each kit the sum is there.
        let is_required = matches!(role, Role::Required | Role::Compared);
        let kits = |spread: &Spread| heading::is_of_one_kit(&spread.heading);
        if !is_required && spread.iter().all(kits) {
            let pieces = counts.iter().map(|(_, count)| count.pieces);
            let count = Count {
                stated: true,
                pieces: pieces.sum(),
                doubts: counts
                    .iter()
                    .flat_map(|(_, count)| count.doubts.clone())
                    .collect(),
                ..Count::default()
            };
            return self.row_of_entry(row, &spread[0].layout, entry, &count);
        }
        if let [(one, first), (other, second)] = counts.as_slice()
            && spread.len() == 2
            && !count.stated
            && !(names_place(&one.heading) && names_place(&other.heading))
            && let (Some(first), Some(second)) = (first.pieces, second.pieces)
        {
            let count = Count {
                stated: true,
                doubts: vec![Doubt::TwoQuantities(first, second)],
                ..Count::default()
            };
            self.stage.clear();
            return self.row_of_entry(row, &spread[0].layout, entry, &count);
        }
        if count.pieces.is_none() {
            for (spread, count) in counts.iter_mut().filter(|(spread, _)| !spread.named) {
                let doubt = format!(
                    "\"{}\" taken for a stage: no total confirms it",
                    spread.heading
                );
                count.doubts.push(Doubt::HowMany(doubt.into()));
            }
        }
        let mut worst = None;
        for (spread, count) in counts {
            match furniture::container(&spread.heading) {
                Some(container) => self.enter_container(container),
                None => self.name_stage(&spread.heading),
            }
            worst = worst.max(self.row_of_entry(row, &spread.layout, entry, &count));
        }
        worst
    }

    fn row_of_entry(
        &mut self,
        row: &Row,
        layout: &Layout,
        entry: usize,
        count: &Count,
    ) -> Option<LineStatus> {
        if matches!(self.said[entry], Entry::Furniture) {
            let mut label = self.item_text(layout, row);
            if label.trim().is_empty() {
                label.push_str(layout.cell(row, Meaning::PartNumber));
            }
            let total = furniture::is_total(&label) && furniture::is_of_pieces(&label);
            let stated = count.pieces?;
            let place = self.placement(row, layout, None);
            return match total {
                true => self.push_total(row, place, stated),
                false if furniture::may_be_part(&label) => {
                    let why = "a line of the papers, or a part of that name? Name it in more words";
                    self.push_aside(row, place, Aside::NoItem(why.into()))
                }
                false => None,
            };
        }
        let usage = match count.reference || layout.tools {
            true => Some(Usage::Reference),
            false => self.brought(entry),
        };
        let place = self.placement(row, layout, usage);
        if let Some(aside) = &count.aside {
            return self.push_aside_named(row, place, aside.clone(), entry);
        }
        match &self.said[entry] {
            &Entry::Items(start, end) => {
                if self.is_told_sum(start..end, count.pieces) {
                    return None;
                }
                let mut count = Cow::Borrowed(count);
                if let Some(doubt) = self.may_be_total(start..end, count.pieces) {
                    let count = count.to_mut();
                    count.pieces = None;
                    count.doubts.push(doubt);
                }
                let packed = self.found[start as usize]
                    .quantity
                    .is_some_and(|q| q.packs == Some(1));
                if packed && !count.stated {
                    count.to_mut().doubts.push(Doubt::LonePack);
                }
                Some(self.push_items(row, place, start..end, &count))
            }
            Entry::New | Entry::Furniture => None,
            Entry::Container => {
                let description = self.item_text(layout, row);
                let place = self.container_placement(place, &description);
                let (mut received, doubt) = answer_of(row, layout);
                // Of a bag none is there.
                if self.list.role == Role::Counted && count.pieces == Some(0) {
                    received = received.or(Some(false));
                }
                let mut doubts = count.doubts.clone();
                doubts.extend(doubt);
                if self.list.role == Role::Counted && received.is_none() && count.pieces.is_some() {
                    doubts.push(Doubt::uncounted_inside());
                }
                self.push_bag(row, place, received, count.pieces, doubts)
            }
            Entry::Unread(reason) => {
                let reason = reason.clone();
                self.push_aside(row, place, Aside::NoItem(reason))
            }
        }
    }

    /// The figures of a row once more, where they are in packs and its text says of what size.
    fn in_packs_of_text(
        &self,
        row: &Row,
        layout: &Layout,
        entry: usize,
        count: &Count,
    ) -> Option<Count> {
        let Entry::Items(start, end) = self.said[entry] else {
            return None;
        };
        let (true, [only]) = (count.in_packs, &self.found[start as usize..end as usize]) else {
            return None;
        };
        let text = only.quantity?;
        let size = text.pieces / text.packs.unwrap_or(1).max(1);
        let (role, notation) = (self.list.role, self.notation);
        Some(count::count_in_packs_of(size, row, layout, role, notation))
    }

    /// A doubt where a row of a count has the id of another item than its text names: it was sorted by one column
    /// alone, or written over.
    fn other_id(&self, row: &Row, layout: &Layout, entry: usize) -> Option<Doubt> {
        let (true, Entry::Items(first, _)) = (layout.is_count_sheet(), &self.said[entry]) else {
            return None;
        };
        let id = layout.cell(row, Meaning::Id).trim();
        let reading = self.found[*first as usize].reading;
        let item = &self.list.readings[reading as usize].item;
        let is_other = Item::is_id(id) && item.id() != id;
        is_other.then(|| {
            let doubt =
                format!("the id {id} is of another item than the text: which of them was counted?");
            Doubt::HowMany(doubt.into())
        })
    }

    /// A doubt where a required row says of its place that there are several, and no column says how many: `each end`.
    fn place_counts(&self, row: &Row, layout: &Layout) -> Option<Doubt> {
        let counted = [Meaning::Places, Meaning::Total]
            .iter()
            .any(|&of| layout.has(of));
        let place = layout.cell(row, Meaning::Place).trim();
        let asks = self.list.role == Role::Required && !counted && !place.is_empty();
        let several = || remark::counts_places(place) || several::names_several(place);
        (asks && several()).then(|| Doubt::Remark(place.into()))
    }

    /// A doubt where a cell that says where a row belongs holds an error, or a formula without its value.
    fn unknown_place(&self, row: &Row, layout: &Layout) -> Option<Doubt> {
        let placed = self.columns.place.iter().filter_map(|of| of.column);
        let mut columns = placed.chain(layout.column(Meaning::Stage));
        let column =
            columns.find(|&at| matches!(row.kind(at), CellKind::Error | CellKind::NoValue))?;
        let told = match row.get(column) {
            "" => "a formula without its value says where it belongs: save the file in a spreadsheet program".to_owned(),
            error => format!("{error} stands where it says where it belongs"),
        };
        Some(Doubt::Said(told.into()))
    }

    /// True for the sum of the lines above under a name that counts: `Pieces, frame`. It was passed over as such.
    fn is_told_sum(&mut self, found: std::ops::Range<u32>, pieces: Option<u64>) -> bool {
        let (Some(only), Some(pieces)) = (self.in_plain_words(found), pieces) else {
            return false;
        };
        let reading = &self.list.readings[only.reading as usize];
        let part = reading.item.part.as_ref();
        let name = part.and_then(|part| part.description.as_deref());
        name.is_some_and(names_a_count)
            && self.totals.lines_summed(pieces, true).is_some()
            && self.totals.hold(pieces) == Held::Sum
    }

    /// The one item of a row that names it in plain words, without a number or a size.
    fn in_plain_words(&self, found: std::ops::Range<u32>) -> Option<Found> {
        match self.found[found.start as usize..found.end as usize] {
            [only] if only.in_plain_words => Some(only),
            _ => None,
        }
    }

    /// A doubt where plain words without a number or a size bear the sum of the lines above.
    fn may_be_total(&self, found: std::ops::Range<u32>, pieces: Option<u64>) -> Option<Doubt> {
        self.in_plain_words(found)?;
        let pieces = pieces?;
        let lines = self.totals.lines_summed(pieces, false)?;
        let doubt = format!(
            "{pieces} is what the {lines} lines above come to: their total, or as many pieces? Not summed"
        );
        Some(Doubt::Said(doubt.into()))
    }

    pub(super) fn item_text(&self, layout: &Layout, row: &Row) -> String {
        let cells: Vec<&str> = layout
            .descriptions
            .iter()
            .map(|&column| row.get(usize::from(column)))
            .collect();
        cells.join(" ")
    }

    /// Keeps what a row of a table was read from.
    fn words_of_row(&mut self, row: &Row, layout: &Layout, item: Key) {
        let is_item =
            |meaning: &Meaning| *meaning == Meaning::Description || Words::ITEM.contains(meaning);
        let beside = Meaning::ALL
            .iter()
            .copied()
            .filter(|meaning| !is_item(meaning));
        let beside = beside.map(|meaning| (meaning, Box::from(layout.cell(row, meaning))));
        self.list.words.push(Words {
            sheet: self.sheet,
            row: row.number,
            item: std::array::from_fn(|at| self.wordings.get(item, at).into()),
            beside: beside
                .chain(layout.cells_of_no_meaning(row))
                .filter(|(_, text): &(_, Box<str>)| !text.is_empty())
                .collect(),
            in_prose: false,
            sentence: "".into(),
            notation: self.notation,
        });
    }
}

/// True for the name of a place, with its number behind it or in a word: `Frame 2`, `bag A3`, `H-7`.
fn is_place(text: &str) -> bool {
    let words = text.trim_end_matches(|c: char| c.is_ascii_digit());
    let is_plain = |c: char| c.is_alphabetic() || c == ' ';
    furniture::container(text).is_some()
        || !text.contains(' ')
        || words.ends_with(' ') && words.chars().all(is_plain)
}

/// True where words stand beside a figure that are longer than those of units and currencies, and no label of it:
/// `drawing 12`.
fn names_more_than_unit(text: &str) -> bool {
    const UNIT: usize = 3;
    let mut words = text.split_whitespace();
    let is_label = words.clone().count() <= 2 && furniture::labels_paper(text);
    let is_word = |word: &str| word.chars().filter(|c| c.is_alphabetic()).count() > UNIT;
    !is_label && words.any(is_word)
}

/// A doubt where a row says two things under one heading: `Bag, Bag`.
fn repeated(row: &Row, layout: &Layout) -> Option<Doubt> {
    const PLACING: [Meaning; 3] = [Meaning::Bag, Meaning::Box, Meaning::Place];
    let mut repeated = layout.repeated.iter();
    repeated.find_map(|(meaning, column, heading)| {
        let cells = [layout.cell(row, *meaning), row.get((*column).into())].map(str::trim);
        let [first, second] = cells;
        let doubt =
            format!("\"{first}\" and \"{second}\" both under \"{heading}\": the first is taken");
        let doubt = match PLACING.contains(meaning) {
            true => Doubt::Said(doubt.into()),
            false => Doubt::HowMany(doubt.into()),
        };
        (first != second && !second.is_empty()).then_some(doubt)
    })
}

/// A doubt where a row below no headings is blank in the column by which the others name hardware: what stands beside it
/// may be said of a piece that is not named.
fn unnamed(row: &Row, layout: &Layout) -> Option<Doubt> {
    let column = layout.names_hardware?;
    row.get(column.into()).trim().is_empty().then(|| {
        let doubt = "nothing stands where the other rows name their hardware: what is it of?";
        Doubt::HowMany(doubt.into())
    })
}

/// What a spreadsheet writes for a value that it cannot work out (ECMA-376 part 1, 18.17.3, from memory).
const ERRORS: &[&str] = &[
    "#DIV/0!", "#N/A", "#NAME?", "#NULL!", "#NUM!", "#REF!", "#VALUE!",
];

/// True for the row of a table's units below its headings: `mm`, `pcs`, `kg`.
fn is_of_units(row: &Row) -> bool {
    let mut cells = row.cells().filter(|(text, _)| !text.trim().is_empty());
    row.filled() > 1 && cells.all(|(text, _)| count::is_unit(text) || heading::is_unit(text))
}

/// Smaller figures behind the name of a section may count.
const LARGE: u64 = 300;

/// Gives a part the figure of its name back, where another cell says how many: `6 panel door` is one door, and of several
/// doors the name would say so; `Tube 40 x 40, 1200` has a section and a length (common practice, no source).
fn name_by_figure(callout: &mut Callout, description: &str) {
    let Some(figure) = callout
        .quantity
        .filter(|of| of.packs.is_none() && of.pieces > 1)
    else {
        return;
    };
    let is_it = |text: &str| text.trim().parse() == Ok(figure.pieces);
    let is_one = |word: &&str| !word.ends_with('s') || word.ends_with("ss");
    let (first, name) = description.split_once(' ').unwrap_or_default();
    let mut words = name
        .split([',', '(', ';'])
        .next()
        .unwrap_or_default()
        .split_whitespace();
    let in_front = is_it(first)
        && !name.starts_with("x ")
        && words.next().is_some()
        && words.next_back().as_ref().is_some_and(is_one);
    let behind =
        (description.rsplit_once([',', '-', '\u{2013}'])).is_some_and(|(section, length)| {
            let figures = |c: char| c.is_ascii_digit();
            let is_section = furniture::holds_size(section)
                || figure.pieces >= LARGE && section.contains(figures);
            is_it(length) && is_section
        });
    if let Some(part) = &mut callout.item.part
        && (in_front || behind)
        && part.number.is_none()
        && let Some(name) = &part.description
    {
        let figure = figure.pieces;
        let whole = if in_front {
            format!("{figure} {name}")
        } else {
            format!("{name}, {figure}")
        };
        part.description = Some(whole.into());
        callout.quantity = None;
        callout.doubts.retain(|doubt| !doubt.is_of_how_many());
    }
}

/// The text of a row's only cell that is filled.
fn only_cell(row: &Row) -> Option<&str> {
    let mut filled = row
        .cells()
        .map(|(text, _)| text)
        .filter(|text| !text.is_empty());
    filled.next().filter(|_| filled.next().is_none())
}

/// True where words that may begin with a verb say more than a name does: `Lower the deck on its pins`; not `lower deck
/// board`, `post A`.
fn says_more(text: &str) -> bool {
    #[rustfmt::skip]
    const OBJECTS: &[&str] = &[
        "the", "each", "every", "it", "them", "this", "these", "those", "all", "a", "an", "by", "until", "before",
        "after", "again", "with", "to", "for", "on",
    ];
    /// Words of a name at most (common practice, no source).
    const FEW: usize = 5;
    let mut words = text.split_whitespace();
    text.ends_with(['.', '!', ':', '?'])
        || words.clone().count() > FEW
        || words.any(|word| OBJECTS.contains(&word))
}

/// A column that says what an item is, and is filled.
fn item_column(row: &Row, layout: &Layout) -> Option<usize> {
    let sizes = [Meaning::Size, Meaning::Diameter, Meaning::PartNumber];
    let described = layout
        .descriptions
        .iter()
        .map(|&column| usize::from(column));
    let mut columns: Vec<usize> = described.collect();
    if columns.is_empty() {
        columns.extend(sizes.iter().filter_map(|&meaning| layout.column(meaning)));
    }
    columns
        .into_iter()
        .find(|&column| !row.get(column).is_empty())
}

/// What a piece weighs, from the cells of its weight and of its row's.
fn mass(row: &Row, layout: &Layout) -> Option<StatedMass> {
    let [one, all] = [Meaning::Mass, Meaning::TotalMass].map(|meaning| layout.cell(row, meaning));
    let [unit, unit_of_all] = &layout.mass_units;
    let of = match layout.mass_each || layout.has(Meaning::TotalMass) {
        true => MassOf::Piece,
        false => MassOf::Unstated,
    };
    StatedMass::read(one, unit.as_deref(), of)
        .or_else(|| StatedMass::read(all, unit_of_all.as_deref(), MassOf::Row))
}

/// The cells of several columns of descriptions, one behind another. `above`: what ditto marks stand for.
fn join_descriptions(row: &Row, columns: &[u16], above: &str) -> String {
    let mut joined = String::new();
    let mut before = "";
    for &column in columns {
        let cell = row.get(usize::from(column));
        let between = sizes::between(std::mem::replace(&mut before, cell), cell, || true);
        // Beside a description, a bare number is the line's, unless it is a length.
        if cell.is_empty() || (is_line_number(cell) && between == " ") {
            continue;
        }
        if furniture::is_ditto(cell) {
            joined.push_str(above);
            continue;
        }
        if !joined.is_empty() {
            joined.push_str(between);
        }
        joined.push_str(cell);
    }
    joined
}

/// The list's own number for a line: `12`, `12.`, `12a`.
fn is_line_number(text: &str) -> bool {
    let text = text.trim_end_matches(['.', ')']);
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    (1..=3).contains(&digits)
        && match &text.as_bytes()[digits..] {
            [] => true,
            [letter] => letter.is_ascii_alphabetic(),
            _ => false,
        }
}

/// True for `BL-101`, `H-110`: letters and figures, and too long for a line's number (common practice, no
/// source).
fn is_makers_number(text: &str) -> bool {
    text.len() >= 4
        && text.starts_with(|c: char| c.is_ascii_alphabetic())
        && text.bytes().any(|b| b.is_ascii_digit())
        && !text.contains(char::is_whitespace)
}

/// True for the heading of a column that is plainly a part of the kit: `Stage 2`, `Bag A`.
fn names_place(heading: &str) -> bool {
    furniture::stage_title(heading).is_some() || furniture::container(heading).is_some()
}

/// True for a name that begins with a word for pieces: `pieces, frame`, `pcs in all`.
fn names_a_count(name: &str) -> bool {
    let first = name.split(|c: char| !c.is_alphabetic()).next();
    first.is_some_and(|word| {
        matches!(
            word,
            "pieces" | "pcs" | "items" | "parts" | "units" | "count" | "number"
        )
    })
}

/// True where a row says whether a bag or box was received, and is no heading though its name is that of a
/// column: `D | no`.
fn says_received(row: &Row, layout: &Layout) -> bool {
    answer_of(row, layout).0.is_some()
}

/// Whether a bag or box was received, and a doubt where a row says neither yes nor no.
fn answer_of(row: &Row, layout: &Layout) -> (Option<bool>, Option<Doubt>) {
    let answer = layout.cell(row, Meaning::Received).trim();
    let received = count::received(answer);
    let is_odd = received.is_none() && !answer.is_empty();
    let doubt = is_odd.then(|| Doubt::Said(format!("\"{answer}\" is neither yes nor no").into()));
    (received, doubt)
}
