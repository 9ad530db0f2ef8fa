//! What the rows of a table tell of its columns: a reader that looked at them changes the layout by it.

use super::{Beside, Layout, LevelBy, Meaning, Spread, heading};
use crate::source::Row;

impl Layout {
    /// Takes a column of which no word is known for the description. False where it is known.
    pub fn describe_by(&mut self, column: u16) -> bool {
        let unread = self.unread.iter().position(|(of, _)| *of == column);
        if let Some(at) = unread {
            self.unread.remove(at);
            self.take_description(column);
        }
        unread.is_some()
    }

    /// Takes a column without a heading for the description.
    pub fn describe_by_unheaded(&mut self, column: u16) {
        self.take_description(column);
    }

    /// Takes one of [`Layout::open_figures`] for how many.
    pub fn count_by(&mut self, column: u16) {
        self.unread.retain(|(of, _)| *of != column);
        self.beside.retain(|of| of.column != column);
        let beside = &mut self.columns[Meaning::Beside as usize];
        if *beside == Some(column) {
            *beside = self.beside.first().map(|of| of.column);
        }
        self.columns[Meaning::Quantity as usize] = Some(column);
        self.count_is_guessed = true;
        self.known += 1;
    }

    /// Takes a column headed `Units` for how many units there are, of which the quantity is for each.
    pub fn places_by_units(&mut self) {
        self.columns[Meaning::Places as usize] = self.columns[Meaning::Unit as usize].take();
        self.each_of = None;
    }

    /// Takes a column that is headed as of material for the maker's numbers.
    pub fn number_by_material(&mut self) {
        self.columns[Meaning::PartNumber as usize] = self.columns[Meaning::Grade as usize].take();
        self.numbers_lines = false;
    }

    /// Takes what came back (`Returned` beside `Sent`) for what a count found, where no column says that: its
    /// heading.
    pub fn count_what_came_back(&mut self) -> Option<Box<str>> {
        let counts = [Meaning::Good, Meaning::Quantity, Meaning::Received];
        if counts.iter().any(|&meaning| self.has(meaning)) {
            return None;
        }
        let back = |of: &Beside| heading::is_what_came_back(&of.heading);
        let at = self.beside.iter().position(back)?;
        let Beside {
            column, heading, ..
        } = self.beside.remove(at);
        self.columns[Meaning::Good as usize] = Some(column);
        Some(heading)
    }

    /// Takes a column of words that is headed as of pieces for what they are; `number` is headed `No.` and no more.
    pub fn describe_by_pieces(&mut self, number: Option<u16>) {
        if let Some(column) = self.columns[Meaning::Quantity as usize].take() {
            self.take_description(column);
            self.columns[Meaning::PartNumber as usize] = number;
            self.bare_number = number.is_some();
        }
    }

    /// Takes a column of sections, headed as stages may be, for the size.
    pub fn size_by_section(&mut self) {
        self.columns[Meaning::Size as usize] = self.columns[Meaning::Stage as usize].take();
    }

    /// Takes a column for the bag or the box that the pieces lie in, whatever it was taken for.
    pub fn hold_by(&mut self, column: u16, meaning: Meaning) {
        for slot in &mut self.columns {
            *slot = slot.filter(|of| *of != column);
        }
        for second in [&mut self.second_quantity, &mut self.second_shipped] {
            *second = second.filter(|of| *of != column);
        }
        self.beside.retain(|of| of.column != column);
        self.unread.retain(|(of, _)| *of != column);
        self.columns[meaning as usize] = Some(column);
    }

    /// Takes the figures under `In box` for how many are in it.
    pub fn count_held(&mut self, held: Meaning) {
        self.columns[Meaning::Quantity as usize] = self.columns[held as usize].take();
    }

    /// Takes what was received for what was shipped.
    pub fn ship_by_received(&mut self) {
        self.columns[Meaning::Shipped as usize] = self.columns[Meaning::Received as usize].take();
    }

    /// Takes a column beside the count for one that may change it.
    pub fn set_beside(&mut self, beside: Beside) {
        self.unread.retain(|(of, _)| *of != beside.column);
        self.beside.push(beside);
    }

    /// Settles which of two columns of stages numbers them and which names them, as `numbers` tells of a column;
    /// where neither does, the second, under its `heading`, is left unread.
    pub fn name_stages(
        &mut self,
        numbers: impl Fn(usize) -> bool,
        heading: impl Fn(usize) -> String,
    ) {
        let slot = Meaning::Stage as usize;
        let (Some(first), Some(second)) = (self.columns[slot], self.stage_name) else {
            return;
        };
        match (numbers(first.into()), numbers(second.into())) {
            (true, false) => {}
            (false, true) => {
                self.columns[slot] = Some(second);
                self.stage_name = Some(first);
            }
            _ => {
                self.stage_name = None;
                self.unread.push((second, heading(second.into()).into()));
            }
        }
    }

    /// Takes the total for what was counted, where no other column says that, and the columns beside it, which
    /// add up to it in all `rows`, as read with it.
    pub fn count_by_total(&mut self, rows: &[&Row]) {
        let counts = [Meaning::Good, Meaning::Quantity, Meaning::Received];
        let slot = Meaning::Total as usize;
        let (Some(total), false) = (
            self.columns[slot],
            counts.iter().any(|&meaning| self.has(meaning)),
        ) else {
            return;
        };
        self.columns[Meaning::Quantity as usize] = self.columns[slot].take();
        let figure = |row: &Row, column: u16| match row.get(column.into()).trim() {
            "" | "-" => Some(0),
            text => text.parse::<u64>().ok(),
        };
        let adds_up = |row: &&Row| {
            let mut cells = self.unread.iter().map(|(column, _)| figure(row, *column));
            let sum = cells.try_fold(0u64, |sum, cell| sum.checked_add(cell?));
            sum.is_some() && sum == figure(row, total)
        };
        if rows.iter().all(adds_up) {
            self.unread.clear();
        }
    }

    /// Takes a column that says of pieces that they are good for how many.
    pub fn count_sound(&mut self, column: u16) {
        let ignored = &mut self.columns[Meaning::Ignored as usize];
        if *ignored == Some(column) {
            *ignored = None;
        }
        self.columns[Meaning::Good as usize] = Some(column);
        self.sound = true;
    }

    /// Takes a column headed `No.` and no more for how many.
    pub fn count_by_bare_number(&mut self) {
        self.columns[Meaning::Quantity as usize] =
            self.columns[Meaning::PartNumber as usize].take();
        self.bare_number = false;
    }

    /// Takes a column of which no word is known for that of a meaning.
    pub fn read_as(&mut self, column: u16, meaning: Meaning) {
        self.unread.retain(|(of, _)| *of != column);
        self.columns[meaning as usize] = Some(column);
        self.known += 1;
    }

    /// Takes the numbers of an outline for the levels.
    pub fn level_by_outline(&mut self, column: u16) {
        self.descriptions.retain(|of| *of != column);
        let description = &mut self.columns[Meaning::Description as usize];
        if *description == Some(column) {
            *description = self.descriptions.first().copied();
        }
        let number = &mut self.columns[Meaning::PartNumber as usize];
        *number = number.filter(|of| *of != column);
        self.columns[Meaning::Level as usize] = Some(column);
        self.level_by = LevelBy::Outline;
    }

    /// Takes how far the description is set in for the levels.
    pub fn level_by_indent(&mut self) {
        self.columns[Meaning::Level as usize] = self.columns[Meaning::Description as usize];
        self.level_by = LevelBy::Indent;
    }

    /// Takes columns headed `L1`, `L2` for the levels, of which each row fills one.
    pub fn level_by_columns(&mut self) {
        let columns: Vec<u16> = (1..)
            .map_while(|level| {
                let of_level = |(_, text): &&(u16, Box<str>)| heading::is_of_level(text, level);
                Some(self.unread.iter().find(of_level)?.0)
            })
            .collect();
        if columns.len() > 1 && !self.has(Meaning::Level) {
            self.known += columns.len();
            self.unread.retain(|(column, _)| !columns.contains(column));
            self.columns[Meaning::Level as usize] = Some(columns[0]);
            self.level_by = LevelBy::Columns(columns);
        }
    }

    /// Takes back that columns are of levels, where rows fill several of them.
    pub fn forget_level_columns(&mut self, rows: &[&Row], heading: impl Fn(usize) -> String) {
        let LevelBy::Columns(columns) = &self.level_by else {
            return;
        };
        let fills_one = |row: &&Row| {
            let filled = columns.iter().map(|column| row.get(usize::from(*column)));
            filled.filter(|cell| !cell.is_empty()).count() <= 1
        };
        if !rows.iter().all(fills_one) {
            let headed = columns.iter().map(|&of| (of, heading(of.into()).into()));
            self.unread.extend(headed);
            self.columns[Meaning::Level as usize] = None;
            self.level_by = LevelBy::Number;
        }
    }

    /// Takes a column headed `Number` and no more for the maker's numbers.
    pub fn number_by_bare_number(&mut self, column: u16) {
        self.columns[Meaning::PartNumber as usize] = Some(column);
        self.numbers_lines = false;
    }

    /// Leaves a column, under its `heading`, among those that nothing is read of.
    pub fn leave_unread(&mut self, meaning: Meaning, heading: &str) {
        if let Some(column) = self.columns[meaning as usize].take() {
            self.unread.push((column, heading.trim().into()));
        }
    }

    /// Takes a column that is headed as of packs for the boxes that the pieces lie in.
    pub fn box_by_package(&mut self) {
        self.columns[Meaning::Box as usize] = self.columns[Meaning::PackSize as usize].take();
    }

    /// Takes a column that is headed as of something else for one more of the stages' columns, where with it the rows
    /// come to their total, and without it they do not: `Frame, Top, Shelf, Total`. Its heading.
    pub fn stage_by_total(&mut self, heading: &Row, rows: &[&Row]) -> Option<Box<str>> {
        const HELD: [Meaning; 4] = [Meaning::Bin, Meaning::Box, Meaning::Bag, Meaning::Place];
        let total = self
            .column(Meaning::Total)
            .filter(|_| self.spread.len() > 1)?;
        let figure = |row: &Row, column: usize| match row.get(column).trim() {
            "" | "-" | "\u{2013}" => Some(0),
            text => text.parse::<u64>().ok(),
        };
        let columns: Vec<usize> = (self.spread.iter())
            .filter_map(|spread| spread.layout.column(Meaning::Quantity))
            .collect();
        let comes_to = |row: &Row, more: Option<usize>| {
            let mut cells = columns
                .iter()
                .copied()
                .chain(more)
                .map(|at| figure(row, at));
            let sum = cells.try_fold(0u64, |sum, cell| sum.checked_add(cell?));
            sum.is_some() && sum == figure(row, total)
        };
        let (meaning, column) = HELD.into_iter().find_map(|meaning| {
            let column = self.column(meaning)?;
            let with = rows.iter().all(|row| comes_to(row, Some(column)));
            let without = rows.iter().all(|row| comes_to(row, None));
            (with && !without).then_some((meaning, column))
        })?;
        let slot = meaning as usize;
        self.columns[slot] = None;
        for spread in &mut self.spread {
            spread.layout.columns[slot] = None;
        }
        let mut layout = self.spread[0].layout.clone();
        layout.columns[Meaning::Quantity as usize] = u16::try_from(column).ok();
        let heading: Box<str> = heading.get(column).trim().into();
        self.spread.push(Spread {
            heading: heading.clone(),
            named: false,
            layout,
        });
        self.spread
            .sort_by_key(|spread| spread.layout.column(Meaning::Quantity));
        Some(heading)
    }

    /// Takes the last of several columns of stages for their total, where rows say that it is: its heading.
    pub fn total_by_rows(&mut self, rows: &[&Row]) -> Option<Box<str>> {
        const ENOUGH: usize = 3;
        if self.has(Meaning::Total) || self.spread.len() < 3 {
            return None;
        }
        let figures = |row: &Row| -> Option<Vec<u64>> {
            let cells = self.spread.iter().map(|spread| {
                let text = spread.layout.cell(row, Meaning::Quantity).trim();
                match text {
                    "" | "-" | "\u{2013}" => Some(0),
                    text => text.parse().ok(),
                }
            });
            cells.collect()
        };
        let figures: Vec<Vec<u64>> = rows.iter().filter_map(|row| figures(row)).collect();
        let filled = figures
            .iter()
            .filter(|row| row.iter().any(|&figure| figure > 0));
        let adds_up = |row: &&Vec<u64>| {
            row.split_last().is_some_and(|(last, others)| {
                others.iter().try_fold(0u64, |sum, of| sum.checked_add(*of)) == Some(*last)
            })
        };
        let (all, some) = (
            filled.clone().all(|row| adds_up(&row)),
            filled.count() >= ENOUGH,
        );
        if !all || !some {
            return None;
        }
        let last = self.spread.pop()?;
        let column = last.layout.column(Meaning::Quantity)?;
        self.columns[Meaning::Total as usize] = Some(column as u16);
        Some(last.heading)
    }
}
