//! Which column of a table is what.

use indexmap::IndexMap;

use super::{
    Beside, Meaning, Says, furniture,
    heading::{self, Basis, Heading},
};
use crate::{
    hardware::Unit,
    source::{CellKind, Row},
};

/// What the columns of a table hold, as its heading row says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Layout {
    columns: [Option<u16>; Meaning::ALL.len()],
    /// Columns that together make the description.
    pub descriptions: Vec<u16>,
    /// A second column headed as a quantity: which of the two counts is not said.
    pub second_quantity: Option<u16>,
    /// What the quantity counts.
    pub basis: Basis,
    /// The quantity's heading says what is needed.
    pub asks: bool,
    /// The heading of what was counted says that it is good.
    pub sound: bool,
    /// A second column headed as of stages; once rows have told, that of their names beside their numbers.
    pub stage_name: Option<u16>,
    /// More columns of notes than one.
    pub more_notes: Vec<u16>,
    /// Columns of [`Meaning::Beside`], more columns of good or of damaged pieces than one, and what rows tell to be
    /// such.
    pub beside: Vec<Beside>,
    /// `Qty per bay` without a column that says how many bays there are: `bay`.
    pub each_of: Option<Box<str>>,
    /// The heading of the column that counts, where it says that it is for several kits: `4 kits total`.
    pub kits: Option<Box<str>>,
    /// What it lists are tools, which are brought.
    pub tools: bool,
    /// The part number column may hold the list's own line numbers ("Item no.").
    pub numbers_lines: bool,
    /// The part number column is headed `No.` and no more: of its cells, only what looks like a maker's
    /// number is one.
    pub bare_number: bool,
    /// The unit of bare sizes.
    pub unit: Option<Unit>,
    /// The unit of bare lengths, where it is neither the inch nor the millimetre.
    pub far_unit: Option<Box<str>>,
    /// The unit of bare torques, as written.
    pub torque_unit: Option<Box<str>>,
    /// The unit of bare weights, as written: of [`Meaning::Mass`] and of [`Meaning::TotalMass`].
    pub mass_units: [Option<Box<str>>; 2],
    /// The weights are of one piece, as their heading says.
    pub mass_each: bool,
    /// The unit of measure stands beside a price: `C` and `M` there are the price's hundred and
    /// thousand.
    pub unit_of_price: bool,
    /// Other rows are in single pieces, and none in hundreds: an `M` may be the metre.
    pub m_may_be_metres: bool,
    /// Bags and boxes are written once, and hold for the rows below.
    pub carried: Vec<Meaning>,
    /// At how many places is written once a stage, and holds for the rows below.
    pub places_once: bool,
    /// Headings of the columns that nothing is read of, since no word in them is known.
    pub unread: Vec<(u16, Box<str>)>,
    /// Columns that each hold the quantity for the stage, bag or box that their heading names.
    pub spread: Vec<Spread>,
    /// Columns that are understood, the ignored ones among them.
    pub known: usize,
    /// Cells of the heading row. What stands behind them has no heading.
    pub width: usize,
    /// What tells the levels, where rows stand below others.
    pub level_by: LevelBy,
    /// It has no headings: the cells tell the columns, and a row that is of another shape is none of it.
    pub headless: bool,
}

/// What tells how deep a row stands below others.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum LevelBy {
    /// A number, or as many dots.
    #[default]
    Number,
    /// The numbers of an outline: 1, 1.1, 1.2, 2.
    Outline,
    /// How far the description is set in.
    Indent,
    /// Which of several columns is filled: `L1`, `L2`, `L3`.
    Columns(Vec<u16>),
}

/// One of several quantities of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spread {
    pub heading: Box<str>,
    /// It says of itself that it is a stage, a bag, a box or a quantity: `Stage 2`, `Qty Base`.
    pub named: bool,
    /// The table, with this column as its quantity.
    pub layout: Layout,
}

/// Columns that say what an item is.
const ITEM: &[Meaning] = &[
    Meaning::Description,
    Meaning::Size,
    Meaning::Diameter,
    Meaning::PartNumber,
];

/// Columns that say how many.
const COUNT: &[Meaning] = &[
    Meaning::Quantity,
    Meaning::Total,
    Meaning::Packs,
    Meaning::Shipped,
    Meaning::Ordered,
    Meaning::Good,
];

impl Layout {
    /// The column of a meaning.
    pub fn column(&self, meaning: Meaning) -> Option<usize> {
        self.columns[meaning as usize].map(usize::from)
    }

    pub fn has(&self, meaning: Meaning) -> bool {
        self.columns[meaning as usize].is_some()
    }

    /// True where a column says what pieces weigh.
    pub fn has_mass(&self) -> bool {
        self.has(Meaning::Mass) || self.has(Meaning::TotalMass)
    }

    /// True for the columns of our own Count sheet, which bear each item's id.
    pub fn is_count_sheet(&self) -> bool {
        let own = [Meaning::Id, Meaning::Good, Meaning::Damaged];
        own.iter().all(|&meaning| self.has(meaning))
    }

    /// The text under a meaning; empty where the table has no such column.
    pub fn cell<'a>(&self, row: &'a Row, meaning: Meaning) -> &'a str {
        self.column(meaning).map_or("", |column| row.get(column))
    }

    /// The kind of cell under a meaning.
    pub fn kind(&self, row: &Row, meaning: Meaning) -> CellKind {
        self.column(meaning)
            .map_or(CellKind::Blank, |column| row.kind(column))
    }

    /// The cells of columns that have no meaning, and of a second quantity.
    pub fn cells_of_no_meaning(&self, row: &Row) -> impl Iterator<Item = (Meaning, Box<str>)> {
        let known = |column: u16| {
            self.columns.contains(&Some(column)) || self.descriptions.contains(&column)
        };
        let columns = (0..row.len()).filter_map(|column| u16::try_from(column).ok());
        columns.filter(move |column| !known(*column)).map(|column| {
            let meaning = match self.second_quantity == Some(column) {
                true => Meaning::Quantity,
                false => Meaning::Ignored,
            };
            (meaning, row.get(usize::from(column)).into())
        })
    }

    /// Reads a heading row, or one split over two rows, or finds that it is none.
    ///
    /// `named` are the headings that the job file names; a heading row must hold them all.
    pub fn of(row: &Row, below: Option<&Row>, named: &IndexMap<Meaning, String>) -> Option<Layout> {
        let (layout, filled) = Layout::of_headings(row, below, named)?;
        let by_name = !named.is_empty();
        (layout.is_table(filled) || (by_name && layout.says_what())).then_some(layout)
    }

    /// The columns of a row that is held for a heading row, however few of them are known.
    pub fn of_known(row: &Row, named: &IndexMap<Meaning, String>) -> Option<Layout> {
        Some(Layout::of_headings(row, None, named)?.0)
    }

    /// The columns of a list without headings, as its cells tell.
    pub fn without_headings(columns: &[(u16, Meaning)]) -> Layout {
        let given: Vec<_> = (columns
            .iter()
            .map(|(column, meaning)| (*column, *meaning, None)))
        .collect();
        Layout {
            headless: true,
            ..Layout::settle(&[], &given)
        }
    }

    /// Takes a column of which no word is known for the description. False where it is known.
    pub fn describe_by(&mut self, column: u16) -> bool {
        let unread = self.unread.iter().position(|(of, _)| *of == column);
        if let Some(at) = unread {
            self.unread.remove(at);
            self.take_description(column);
        }
        unread.is_some()
    }

    /// Columns of figures that are not known to say how many, and their headings.
    pub fn open_figures(&self) -> impl Iterator<Item = (u16, &str)> {
        let there = |beside: &&Beside| beside.says != Says::Missing;
        let beside = self.beside.iter().filter(there);
        let unread = self.unread.iter().map(|(column, text)| (*column, &**text));
        unread.chain(beside.map(|of| (of.column, &*of.heading)))
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
        self.second_quantity = self.second_quantity.filter(|of| *of != column);
        self.beside.retain(|of| of.column != column);
        self.unread.retain(|(of, _)| *of != column);
        self.columns[meaning as usize] = Some(column);
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

    /// True where rows stand below others.
    pub fn has_levels(&self) -> bool {
        self.has(Meaning::Level) || self.has(Meaning::Parent)
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

    /// Reads a heading row above a row of figures whose headings name stages, bags or boxes: `Item,
    /// Base, Posts, Roof, Total`. Without a total, it takes `next`, the row below, to tell them.
    pub fn spread_of(row: &Row, next: &Row, named: &IndexMap<Meaning, String>) -> Option<Layout> {
        let (mut layout, _) = Layout::of_headings(row, None, named)?;
        // Items often stand under no heading, beside those of the stages.
        let unheaded = |column: &usize| {
            row.get(*column).trim().is_empty() && next.get(*column).contains(char::is_alphabetic)
        };
        if !layout.says_what()
            && let Some(column) = (0..next.len().min(usize::from(u16::MAX))).find(unheaded)
        {
            layout.take_description(column as u16);
        }
        let counts = |&meaning: &Meaning| meaning != Meaning::Total && layout.has(meaning);
        if !layout.says_what() || layout.unread.len() < 2 || COUNT.iter().any(counts) {
            return None;
        }
        let is_figure = |text: &str| text.len() <= 6 && text.bytes().all(|b| b.is_ascii_digit());
        let is_open = |text: &str| text.is_empty() || text == "-" || text == "\u{2013}";
        let cell = |column: u16| next.get(usize::from(column)).trim();
        let mut figures = 0;
        for (column, _) in &layout.unread {
            match cell(*column) {
                text if is_open(text) => {}
                text if is_figure(text) => figures += 1,
                _ => return None,
            }
        }
        let is_named = |heading: &str| {
            let counted = heading::without_quantity(heading);
            furniture::container(heading).is_some()
                || furniture::stage_title(heading).is_some()
                || (counted.len() < heading.len() && counted.starts_with(char::is_alphabetic))
        };
        if figures == 0 {
            return None;
        }
        let columns = std::mem::take(&mut layout.unread);
        layout.known += columns.len();
        layout.spread = columns
            .into_iter()
            .map(|(column, heading)| {
                let mut layout = layout.clone();
                layout.columns[Meaning::Quantity as usize] = Some(column);
                // A total shows whether what stands beside is counted in.
                if layout.columns[Meaning::Total as usize].take().is_some() {
                    layout.beside.clear();
                }
                Spread {
                    named: is_named(&heading),
                    heading: heading::without_quantity(&heading).into(),
                    layout,
                }
            })
            .collect();
        Some(layout)
    }

    /// The columns of a row of headings, whether it is one or not, and how many of its cells are filled.
    fn of_headings(
        row: &Row,
        below: Option<&Row>,
        named: &IndexMap<Meaning, String>,
    ) -> Option<(Layout, usize)> {
        if !may_be_heading(row) || below.is_some_and(|below| !may_be_heading(below)) {
            return None;
        }
        let width = row.len().max(below.map_or(0, Row::len));
        let mut filled = 0;
        let mut found: Vec<(u16, Heading)> = Vec::new();
        let mut named_found: Vec<(u16, Meaning, Option<Box<str>>)> = Vec::new();
        let mut unread: Vec<(u16, String)> = Vec::new();
        for column in 0..width.min(usize::from(u16::MAX)) {
            let upper = row.get(column).trim();
            let lower = below.map_or("", |below| below.get(column).trim());
            if upper.is_empty() && lower.is_empty() {
                continue;
            }
            filled += 1;
            let both = format!("{upper} {lower}");
            let both = both.trim();
            let column = column as u16;
            let is_named = |text: &str| {
                let (meaning, _) = named.iter().find(|(_, name)| same_words(name, text))?;
                Some(*meaning)
            };
            if let Some(meaning) = is_named(both)
                .or_else(|| is_named(upper))
                .or_else(|| is_named(lower))
            {
                named_found.push((column, meaning, heading::weight_unit(both)));
            } else if let Some(heading) =
                heading::recognise(both).or_else(|| heading::recognise(lower))
            {
                found.push((column, heading));
            } else if let Some(heading) = heading::recognise(upper) {
                // `M8 nut` below `Item` is the first line, whatever stands beside it.
                if lower.contains(|c: char| c.is_ascii_digit()) {
                    return None;
                }
                found.push((column, heading));
            } else {
                unread.push((column, both.to_owned()));
            }
        }
        if named
            .keys()
            .any(|meaning| named_found.iter().all(|(_, m, _)| m != meaning))
        {
            return None;
        }
        // `Qty per kit` beside a number of kits is no total.
        if (unread.iter()).any(|(_, text)| heading::counts_of(text, "kit")) {
            for (_, heading) in &mut found {
                if heading.each_of.as_deref() == Some("kit") {
                    heading.meaning = Meaning::Quantity;
                }
            }
        }
        each_step(&mut found, |column| {
            let texts = [Some(row), below].map(|row| row.map_or("", |r| r.get(column.into())));
            let text = texts.concat().trim().to_lowercase();
            text.ends_with("steps") || text.ends_with("stages")
        });
        total_beside_each(&mut found);
        let heading_of = |column: u16| -> Box<str> {
            let texts =
                [Some(row), below].map(|row| row.map_or("", |r| r.get(column.into()).trim()));
            texts.join(" ").trim().into()
        };
        let kits = one_of_kits(&mut found);
        let mut layout = Layout::settle(&found, &named_found);
        layout.width = width;
        layout.kits = kits.map(|column| heading_of(column));
        layout.take_count_of_assemblies(&found);
        layout.take_places(&mut unread);
        layout.take_tools(row);
        layout.take_bare_number(row, &found);
        layout.take_what_came_back(row);
        let says = |(column, heading): &(u16, Heading)| {
            let another = layout.columns[heading.meaning as usize] != Some(*column);
            let says = match heading.meaning {
                Meaning::Beside if heading::is_of_missing(&heading_of(*column)) => Says::Missing,
                Meaning::Beside => Says::More,
                Meaning::Damaged if another => Says::More,
                Meaning::Good if another && heading.sound == layout.sound => Says::Again,
                _ => return None,
            };
            Some(Beside {
                column: *column,
                heading: heading_of(*column),
                says,
            })
        };
        layout.beside = found.iter().filter_map(says).collect();
        layout.unread = unread
            .into_iter()
            .map(|(column, text)| (column, text.into()))
            .collect();
        layout.level_by_columns();
        layout.unit_of_price = layout.column(Meaning::Unit).is_some_and(|unit| {
            let is_price = |column: usize| {
                let texts = [row.get(column), below.map_or("", |below| below.get(column))];
                texts.iter().any(|text| {
                    let text = text.to_lowercase();
                    ["price", "cost", "rate"]
                        .iter()
                        .any(|word| text.contains(word))
                })
            };
            let counts = |column: usize| {
                COUNT
                    .iter()
                    .any(|&meaning| layout.column(meaning) == Some(column))
            };
            let before = unit.checked_sub(1);
            !before.is_some_and(counts) && (before.is_some_and(is_price) || is_price(unit + 1))
        });
        Some((layout, filled))
    }

    /// Gives each column its meaning: what the job file names first, then plain headings, then weak
    /// ones.
    fn settle(found: &[(u16, Heading)], named: &[(u16, Meaning, Option<Box<str>>)]) -> Layout {
        let mut layout = Layout {
            columns: [None; Meaning::ALL.len()],
            descriptions: Vec::new(),
            second_quantity: None,
            basis: Basis::Neutral,
            asks: false,
            sound: false,
            stage_name: None,
            more_notes: Vec::new(),
            beside: Vec::new(),
            each_of: None,
            kits: None,
            carried: Vec::new(),
            places_once: false,
            unread: Vec::new(),
            spread: Vec::new(),
            tools: false,
            numbers_lines: false,
            bare_number: false,
            unit: None,
            far_unit: None,
            torque_unit: None,
            mass_units: [None, None],
            mass_each: false,
            unit_of_price: false,
            m_may_be_metres: false,
            known: found.len() + named.len(),
            width: usize::MAX,
            headless: false,
            level_by: LevelBy::Number,
        };
        for (column, meaning, unit) in named {
            let (column, meaning) = (*column, *meaning);
            layout.columns[meaning as usize] = Some(column);
            if let Some(units) = layout.mass_unit(meaning) {
                *units = unit.clone();
            }
            if meaning == Meaning::Description {
                layout.descriptions.push(column);
            }
        }
        for weak in [false, true] {
            // Weak headings of one meaning are compared with what was there before any of them.
            let before = layout.columns;
            for (column, heading) in found.iter().filter(|(_, h)| h.weak == weak) {
                layout.place(*column, heading, &before);
            }
        }
        if let Some(standard) = layout.columns[Meaning::Standard as usize] {
            layout.descriptions.push(standard);
        }
        layout
    }

    /// A column of tools, where nothing else is described, is what the table lists; beside a description it
    /// is passed over.
    fn take_tools(&mut self, row: &Row) {
        let is_tools = |column: &u16| heading::names_tools(row.get(usize::from(*column)));
        let width = u16::try_from(row.len()).unwrap_or(u16::MAX);
        if self.descriptions.is_empty()
            && let Some(column) = (0..width).find(is_tools)
        {
            self.take_description(column);
            self.tools = true;
        }
    }

    /// `Assy qty` beside no other quantity is that of the row.
    fn take_count_of_assemblies(&mut self, found: &[(u16, Heading)]) {
        let slot = Meaning::Places as usize;
        let weak = |(column, heading): &(u16, Heading)| {
            heading.weak
                && heading.meaning == Meaning::Places
                && self.columns[slot] == Some(*column)
        };
        if found.iter().any(weak) && !COUNT.iter().any(|&meaning| self.has(meaning)) {
            self.columns[Meaning::Quantity as usize] = self.columns[slot].take();
        }
    }

    /// `No.` beside a description may hold the maker's numbers, where no other column does.
    fn take_bare_number(&mut self, row: &Row, found: &[(u16, Heading)]) {
        let mut columns = found.iter().map(|(column, _)| *column);
        let is_number = |column: &u16| heading::is_bare_number(row.get(usize::from(*column)));
        if self.has(Meaning::Description)
            && !self.has(Meaning::PartNumber)
            && let Some(column) = columns.find(is_number)
        {
            self.columns[Meaning::PartNumber as usize] = Some(column);
            self.bare_number = true;
        }
    }

    /// `Qty back` where no other column says how many: what a count finds of pieces that were lent.
    fn take_what_came_back(&mut self, row: &Row) {
        let slot = Meaning::BackOrdered as usize;
        if let Some(column) = self.columns[slot]
            && !COUNT.iter().any(|&meaning| self.has(meaning))
            && heading::counts_what_came_back(row.get(usize::from(column)))
        {
            self.columns[Meaning::Quantity as usize] = self.columns[slot].take();
        }
    }

    fn take_description(&mut self, column: u16) {
        self.columns[Meaning::Description as usize] = Some(column);
        self.descriptions.insert(0, column);
        self.known += 1;
    }

    fn place(
        &mut self,
        column: u16,
        heading: &Heading,
        before: &[Option<u16>; Meaning::ALL.len()],
    ) {
        let meaning = heading.meaning;
        let slot = meaning as usize;
        match self.columns[slot] {
            None => {
                self.columns[slot] = Some(column);
                match meaning {
                    Meaning::Description => self.descriptions.push(column),
                    Meaning::Quantity => {
                        self.basis = heading.basis;
                        self.each_of.clone_from(&heading.each_of);
                        self.asks = heading.asks;
                    }
                    Meaning::Good => self.sound = heading.sound,
                    Meaning::PartNumber => self.numbers_lines = heading.weak,
                    Meaning::Torque => self.torque_unit = heading.unit_words.clone(),
                    Meaning::Mass | Meaning::TotalMass => {
                        self.mass_each |= heading.basis == Basis::Each;
                        if let Some(unit) = self.mass_unit(meaning) {
                            *unit = heading.unit_words.clone();
                        }
                    }
                    Meaning::Size | Meaning::Length | Meaning::Diameter => {
                        self.unit = self.unit.or(heading.unit);
                        if meaning == Meaning::Length {
                            self.far_unit = heading::far_unit(heading);
                        }
                    }
                    _ => {}
                }
            }
            // Of "Counted, Good, Damaged" the good ones are meant.
            Some(_) if meaning == Meaning::Good && heading.sound && !self.sound => {
                self.columns[slot] = Some(column);
                self.sound = true;
            }
            // "Type" and "Item" side by side make one description.
            Some(_) if meaning == Meaning::Description && before[slot].is_none() => {
                self.descriptions.push(column);
            }
            // "Item" beside "Description" is the line's or the maker's number.
            Some(_) if meaning == Meaning::Description => {
                let number = &mut self.columns[Meaning::PartNumber as usize];
                if number.is_none() {
                    *number = Some(column);
                    self.numbers_lines = true;
                }
            }
            Some(_) if meaning == Meaning::Quantity && !heading.weak => {
                self.second_quantity.get_or_insert(column);
            }
            Some(_) if meaning == Meaning::Stage => {
                self.stage_name.get_or_insert(column);
            }
            Some(_) if meaning == Meaning::Note => self.more_notes.push(column),
            Some(_) => {}
        }
    }

    /// `Bays` beside `Qty per bay` says at how many places the quantity is needed.
    fn take_places(&mut self, unread: &mut Vec<(u16, String)>) {
        let Some(each_of) = &self.each_of else { return };
        let counts = |(_, text): &(u16, String)| heading::counts_of(text, each_of);
        // `Kits` beside `Kit`, which names it.
        let several = |it: &(u16, String)| counts(it) && !same_words(&it.1, each_of);
        let at = (unread.iter().position(several)).or_else(|| unread.iter().position(counts));
        if let Some(at) = at
            && !self.has(Meaning::Places)
        {
            self.columns[Meaning::Places as usize] = Some(unread.remove(at).0);
            self.known += 1;
        }
        if self.has(Meaning::Places) || self.has(Meaning::Total) {
            self.each_of = None;
        }
    }

    fn mass_unit(&mut self, meaning: Meaning) -> Option<&mut Option<Box<str>>> {
        match meaning {
            Meaning::Mass => Some(&mut self.mass_units[0]),
            Meaning::TotalMass => Some(&mut self.mass_units[1]),
            _ => None,
        }
    }

    /// True where the columns say what is asked for.
    pub fn says_what(&self) -> bool {
        ITEM.iter().any(|&meaning| self.has(meaning))
            || (self.has(Meaning::Received) && (self.has(Meaning::Bag) || self.has(Meaning::Box)))
    }

    /// True where so many of the row's `filled` cells are headings that the row is a heading row.
    fn is_table(&self, filled: usize) -> bool {
        let counts = COUNT.iter().any(|&meaning| self.has(meaning)) || self.has(Meaning::Received);
        self.says_what()
            && self.known >= 2
            && self.known * 2 >= filled
            && (counts || self.known >= 3 || self.known == filled)
    }
}

/// `Qty per step` is what a step needs in all, unless another total stands beside it, or in how many steps:
/// `counts_steps` of a column. Of each step it is then.
fn each_step(found: &mut [(u16, Heading)], counts_steps: impl Fn(u16) -> bool) {
    let is_per_step = |heading: &Heading| {
        heading.meaning == Meaning::Total
            && matches!(heading.each_of.as_deref(), Some("step" | "stage"))
    };
    if !found.iter().any(|(_, heading)| is_per_step(heading)) {
        return;
    }
    let mut is_each = false;
    for (column, heading) in found.iter_mut() {
        if heading.meaning == Meaning::Stage && counts_steps(*column) {
            heading.meaning = Meaning::Places;
        }
        is_each |= heading.meaning == Meaning::Places
            || heading.meaning == Meaning::Total && !is_per_step(heading);
    }
    for (_, heading) in found
        .iter_mut()
        .filter(|(_, heading)| is_each && is_per_step(heading))
    {
        (heading.meaning, heading.basis) = (Meaning::Quantity, Basis::Each);
    }
}

/// `Qty per` beside `Qty req'd` makes of that the total.
fn total_beside_each(found: &mut [(u16, Heading)]) {
    let is_each =
        |heading: &Heading| heading.meaning == Meaning::Quantity && heading.basis == Basis::Each;
    let totals = found
        .iter()
        .any(|(_, heading)| heading.meaning == Meaning::Total);
    if totals || !found.iter().any(|(_, heading)| is_each(heading)) {
        return;
    }
    let asks = |heading: &Heading| heading.meaning == Meaning::Quantity && heading.asks;
    for (_, heading) in found.iter_mut().filter(|(_, h)| asks(h) && !is_each(h)) {
        heading.meaning = Meaning::Total;
    }
}

/// Of columns for so many kits each, the one for the fewest counts: `1 kit`, `3 kits`; none where another says
/// how many. The column that counts, where it is for several.
fn one_of_kits(found: &mut [(u16, Heading)]) -> Option<u16> {
    let others = found.iter().any(|(_, heading)| {
        heading.kits.is_none() && matches!(heading.meaning, Meaning::Quantity | Meaning::Total)
    });
    let of_kits = found
        .iter()
        .filter_map(|(column, heading)| Some((heading.kits?, *column)));
    let (kits, fewest) = of_kits.min()?;
    let counts = kits == 1 || !others;
    for (column, heading) in found.iter_mut() {
        if heading.kits.is_some() && !(counts && *column == fewest) {
            heading.meaning = Meaning::Ignored;
        }
    }
    (counts && kits > 1).then_some(fewest)
}

/// No heading is a number, though it may begin with one: `2nd floor`, `4 kits total`.
pub fn may_be_heading(row: &Row) -> bool {
    let mut filled = 0;
    for (text, kind) in row.cells() {
        match kind {
            CellKind::Blank => continue,
            CellKind::Text => {}
            _ => return false,
        }
        let figure = text.trim_start().starts_with(|c: char| c.is_ascii_digit());
        if figure && !text.contains(char::is_alphabetic) {
            return false;
        }
        filled += usize::from(!text.trim().is_empty());
    }
    filled > 0
}

/// Equal but for case, and white space folded.
pub fn same_words(a: &str, b: &str) -> bool {
    let words =
        |text: &str| -> Vec<String> { text.split_whitespace().map(str::to_lowercase).collect() };
    words(a) == words(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(cells: &[&str]) -> Row {
        let mut row = Row::default();
        row.start(1);
        for cell in cells {
            let kind = if cell.is_empty() {
                CellKind::Blank
            } else {
                CellKind::Text
            };
            row.push(cell, kind);
        }
        row
    }

    fn layout(rows: &[&[&str]]) -> Option<Layout> {
        let rows: Vec<Row> = rows.iter().map(|cells| row(cells)).collect();
        Layout::of(&rows[0], rows.get(1), &IndexMap::new())
    }

    #[track_caller]
    fn case(rows: &[&[&str]], expected: &[(Meaning, usize)]) {
        let layout = layout(rows).expect("a heading row");
        let mut found: Vec<(Meaning, usize)> = Meaning::ALL
            .iter()
            .filter(|&&m| m != Meaning::Ignored)
            .filter_map(|&m| Some((m, layout.column(m)?)))
            .collect();
        found.sort_by_key(|&(_, column)| column);
        assert_eq!(found, expected);
    }

    #[test]
    fn heading_rows() {
        use Meaning::*;
        case(&[&["Qty", "Item"]], &[(Quantity, 0), (Description, 1)]);
        case(
            &[&[
                "Stage",
                "Line",
                "Description",
                "Part no.",
                "Qty per place",
                "Places",
                "Total",
            ]],
            &[
                (Stage, 0),
                (Description, 2),
                (PartNumber, 3),
                (Quantity, 4),
                (Places, 5),
                (Total, 6),
            ],
        );
        case(
            &[&[
                "PART NO",
                "DESCRIPTION",
                "BAG",
                "QTY ORD",
                "QTY SHIP",
                "B/O",
                "U/M",
                "PACK OF",
            ]],
            &[
                (PartNumber, 0),
                (Description, 1),
                (Bag, 2),
                (Ordered, 3),
                (Shipped, 4),
                (BackOrdered, 5),
                (Unit, 6),
                (PackSize, 7),
            ],
        );
        case(&[&["Bag", "Received"]], &[(Bag, 0), (Received, 1)]);
        case(
            &[&["Item", "Description", "Qty"]],
            &[(PartNumber, 0), (Description, 1), (Quantity, 2)],
        );
        case(
            &[&["No.", "Item", "Qty"]],
            &[(PartNumber, 0), (Description, 1), (Quantity, 2)],
        );
        case(
            &[&["No.", "Part no.", "Item", "Qty"]],
            &[(PartNumber, 1), (Description, 2), (Quantity, 3)],
        );
        case(
            &[&["Item", "Text", "Qty"]],
            &[(PartNumber, 0), (Description, 1), (Quantity, 2)],
        );
    }

    #[test]
    fn headings_over_two_rows() {
        use Meaning::*;
        case(
            &[
                &["Part", "", "Qty per", "No. of"],
                &["no.", "Description", "place", "places"],
            ],
            &[
                (PartNumber, 0),
                (Description, 1),
                (Quantity, 2),
                (Places, 3),
            ],
        );
        case(
            &[
                &["", "Quantity", ""],
                &["Description", "Ordered", "Shipped"],
            ],
            &[(Description, 0), (Ordered, 1), (Shipped, 2)],
        );
    }

    #[test]
    fn two_columns_of_one_meaning() {
        let both = layout(&[&["Qty", "Item", "Qty"]]).unwrap();
        assert_eq!(both.second_quantity, Some(2));
        let both = layout(&[&["Type", "Item", "Qty"]]).unwrap();
        assert_eq!(both.descriptions, [0, 1]);
    }

    #[test]
    fn quantities_of_what_another_column_counts() {
        use Meaning::*;
        let of = |cells: &[&str]| layout(&[cells]).expect("a heading row");
        let bays = of(&["Qty per bay", "No. of bays", "Description", "Shade"]);
        assert_eq!((bays.column(Places), bays.each_of), (Some(1), None));
        assert_eq!(bays.unread, [(3, "Shade".into())]);
        let boxes = of(&["Qty per hatch", "Hatches", "Description"]);
        assert_eq!(boxes.column(Places), Some(1));
        assert_eq!(
            of(&["Per shelf", "Shelves", "Description"]).column(Places),
            Some(1)
        );
        let open = of(&["Qty per bay", "Description"]);
        assert_eq!(
            (open.column(Places), open.each_of),
            (None, Some("bay".into()))
        );
        assert_eq!(of(&["Qty per bay", "Total", "Description"]).each_of, None);
        // A step's quantity is its total, unless steps are counted or a total stands beside it.
        let alone = of(&["Item", "Qty per step"]);
        assert_eq!(
            (alone.column(Quantity), alone.column(Total)),
            (None, Some(1))
        );
        let counted = of(&["Item", "Qty per step", "Steps", "Total"]);
        let columns = [Quantity, Places, Total, Stage].map(|meaning| counted.column(meaning));
        assert_eq!(columns, [Some(1), Some(2), Some(3), None]);
        let summed = of(&["Step", "Item", "Qty per step", "In all"]);
        let columns = [Quantity, Total, Stage].map(|meaning| summed.column(meaning));
        assert_eq!(columns, [Some(2), Some(3), Some(0)]);
        assert_eq!(of(&["Qty", "Bays", "Description"]).column(Places), None);
    }

    #[test]
    fn a_column_a_stage() {
        let of = |heads: &[&str], next: &[&str]| {
            let layout = Layout::spread_of(&row(heads), &row(next), &IndexMap::new())?;
            let headings = layout
                .spread
                .iter()
                .map(|spread| spread.heading.to_string());
            Some(headings.collect::<Vec<_>>().join(", "))
        };
        let stages = Some("Base, Posts, Roof".to_owned());
        let heads = ["Item", "Base", "Posts", "Roof", "Total"];
        assert_eq!(of(&heads, &["M8 hex nut", "4", "", "8", "12"]), stages);
        assert_eq!(of(&heads[..4], &["M8 hex nut", "4", "-", "8"]), stages);
        assert_eq!(of(&heads[..4], &["M8 hex nut", "red", "", "8"]), None);
        assert_eq!(of(&heads[..4], &["M8 hex nut", "", "", ""]), None);
        assert_eq!(
            of(
                &["Item", "Qty", "Bay", "Row"],
                &["M8 hex nut", "4", "1", "2"]
            ),
            None
        );
    }

    #[test]
    fn no_heading_rows() {
        for cells in [
            &["24", "hex bolt", "1/2 x 3"][..],
            &["Splice plate", "A"],
            &["Revision", "", "C"],
            &["Item"],
            &["Note", "Torque all bolts in stage 2 again after a week"],
        ] {
            assert_eq!(layout(&[cells]), None, "{cells:?}");
        }
    }

    #[test]
    fn the_job_file_names_columns() {
        let named = IndexMap::from([
            (Meaning::Quantity, "Stück".to_owned()),
            (Meaning::Description, "teil".to_owned()),
        ]);
        let found = Layout::of(&row(&["Pos.", "Teil", "Stück"]), None, &named).unwrap();
        assert_eq!(found.column(Meaning::Description), Some(1));
        assert_eq!(found.column(Meaning::Quantity), Some(2));
        assert_eq!(Layout::of(&row(&["Qty", "Item"]), None, &named), None);
    }
}
