//! Which column of a table is what: as its heading row says, and then as its rows do ([`told`]).

mod spread;
mod told;

use indexmap::IndexMap;

pub use spread::Spread;

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
    /// Likewise of what was shipped.
    pub second_shipped: Option<u16>,
    /// What the quantity counts.
    pub basis: Basis,
    /// No heading is known to say how many: the rows tell the column.
    pub count_is_guessed: bool,
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
    /// Columns of which nothing is read, as their headings say: prices, dates.
    pub ignored: Vec<u16>,
    /// That of revisions among them.
    pub revision: Option<u16>,
    /// Columns headed word for word as another of their meaning is, and which of the two says it nobody knows.
    pub repeated: Vec<(Meaning, u16, Box<str>)>,
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
    /// The units of the bare figures of single columns, where they are not in that unit: `Length (ft)`.
    pub own_units: Vec<(Meaning, Box<str>)>,
    /// Pieces in each of the packs, where their heading says so.
    pub pack_of: Option<u64>,
    /// The unit of bare torques, as written.
    pub torque_unit: Option<Box<str>>,
    /// The unit of bare weights, as written: of [`Meaning::Mass`] and of [`Meaning::TotalMass`].
    pub mass_units: [Option<Box<str>>; 2],
    /// The weights are of one piece, as their heading says.
    pub mass_each: bool,
    /// The unit of measure stands beside a price: `C` and `M` there are the price's hundred and
    /// thousand.
    pub unit_of_price: bool,
    /// The column of prices right in front of [`Meaning::Total`], which may be what the row costs then.
    pub price_before_total: Option<u16>,
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
    /// Without headings: of several columns that say what the pieces are, the one that names hardware.
    pub names_hardware: Option<u16>,
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

/// Meanings of which a second column is read, or says nothing.
const TOLD: &[Meaning] = &[
    Meaning::Ignored,
    Meaning::Note,
    Meaning::Description,
    Meaning::Quantity,
    Meaning::Shipped,
    Meaning::Good,
    Meaning::Damaged,
    Meaning::Beside,
    Meaning::Stage,
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

    /// The cells of columns that have no meaning, and of second quantities.
    pub fn cells_of_no_meaning(&self, row: &Row) -> impl Iterator<Item = (Meaning, Box<str>)> {
        let known = |column: u16| {
            self.columns.contains(&Some(column)) || self.descriptions.contains(&column)
        };
        let columns = (0..row.len()).filter_map(|column| u16::try_from(column).ok());
        columns.filter(move |column| !known(*column)).map(|column| {
            let meaning = match Some(column) {
                of if of == self.second_quantity => Meaning::Quantity,
                of if of == self.second_shipped => Meaning::Shipped,
                _ => Meaning::Ignored,
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

    /// Columns of figures that are not known to say how many, and their headings.
    pub fn open_figures(&self) -> impl Iterator<Item = (u16, &str)> {
        let there = |beside: &&Beside| beside.says != Says::Missing;
        let beside = self.beside.iter().filter(there);
        let unread = self.unread.iter().map(|(column, text)| (*column, &**text));
        unread.chain(beside.map(|of| (of.column, &*of.heading)))
    }

    /// True for a column that is known to say something else than notes, in which figures may stand.
    pub fn is_told(&self, column: usize) -> bool {
        const IN_WORDS: [Meaning; 4] =
            [Meaning::Note, Meaning::Unit, Meaning::Use, Meaning::Option];
        let is = |of: &u16| usize::from(*of) == column;
        let in_words = IN_WORDS.iter().any(|&of| self.column(of) == Some(column));
        self.ignored.iter().any(is) || !in_words && self.columns.iter().flatten().any(is)
    }

    /// True for a column that says where rows belong, and holds for those below.
    pub fn is_placing(&self, column: usize) -> bool {
        const PLACING: [Meaning; 4] = [Meaning::Stage, Meaning::Bag, Meaning::Box, Meaning::Place];
        PLACING.iter().any(|&of| self.column(of) == Some(column))
    }

    /// True where rows stand below others.
    pub fn has_levels(&self) -> bool {
        self.has(Meaning::Level) || self.has(Meaning::Parent)
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
        // `L` beside `R` is the left one, and no length.
        let is_right = |column: u16| {
            unread
                .iter()
                .any(|(at, text)| *at == column + 1 && text == "R")
        };
        let mut lefts = found.iter().map(|(column, _)| *column);
        let left = lefts.find(|&of| row.get(of.into()).trim() == "L" && is_right(of));
        if let Some(left) = left {
            found.retain(|(column, _)| *column != left);
            unread.push((left, "L".to_owned()));
            unread.sort_by_key(|(column, _)| *column);
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
        describe_by_piece(&mut found, |column| row.get(column.into()));
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
        layout.kits = kits.map(&heading_of);
        layout.take_count_of_assemblies(&found);
        layout.take_places(&mut unread);
        layout.take_tools(row);
        layout.take_bare_number(row, &found);
        layout.take_what_came_back(row);
        let says = |(column, heading): &(u16, Heading)| {
            let another = layout.columns[heading.meaning as usize] != Some(*column);
            let says = match heading.meaning {
                Meaning::Beside if heading::is_of_missing(&heading_of(*column)) => Says::Missing,
                Meaning::Beside if heading::is_of_before(&heading_of(*column)) => Says::Before,
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
        let repeats = |(column, heading): &(u16, Heading)| {
            let first = layout.columns[heading.meaning as usize].filter(|of| of != column)?;
            let text = heading_of(*column);
            let is_told = TOLD.contains(&heading.meaning) || !same_words(&heading_of(first), &text);
            (!is_told).then_some((heading.meaning, *column, text))
        };
        let ignored = found
            .iter()
            .filter(|(_, heading)| heading.meaning == Meaning::Ignored);
        layout.ignored = ignored.map(|(column, _)| *column).collect();
        layout.revision = (layout.ignored.iter().copied())
            .find(|column| heading::is_of_revisions(&heading_of(*column)));
        layout.repeated = found.iter().filter_map(repeats).collect();
        // `Per` or `Used` beside `Qty`: nobody knows what they say of it.
        let is_second = |(column, heading): &&(u16, Heading)| {
            let first = layout.columns[Meaning::Quantity as usize];
            heading.weak && heading.meaning == Meaning::Quantity && first != Some(*column)
        };
        let seconds = found.iter().filter(is_second);
        unread.extend(seconds.map(|(column, _)| (*column, heading_of(*column).into())));
        unread.sort_by_key(|(column, _)| *column);
        layout.unread = unread
            .into_iter()
            .map(|(column, text)| (column, text.into()))
            .collect();
        layout.level_by_columns();
        let is_price = |column: usize| {
            let texts = [row.get(column), below.map_or("", |below| below.get(column))];
            texts.iter().any(|text| {
                let text = text.to_lowercase();
                ["price", "cost", "rate"]
                    .iter()
                    .any(|word| text.contains(word))
            })
        };
        layout.unit_of_price = layout
            .column(Meaning::Unit)
            .is_some_and(|unit| unit.checked_sub(1).is_some_and(is_price) || is_price(unit + 1));
        layout.price_before_total = (layout.column(Meaning::Total))
            .and_then(|total| total.checked_sub(1))
            .filter(|price| is_price(*price))
            .map(|price| price as u16);
        // `Ext` beside a price is what the row costs.
        if let Some(total) = layout.column(Meaning::Total)
            && row
                .get(total)
                .trim_end_matches('.')
                .trim()
                .eq_ignore_ascii_case("ext")
            && (0..row.len()).any(is_price)
        {
            layout.columns[Meaning::Total as usize] = None;
        }
        Some((layout, filled))
    }

    /// Gives each column its meaning: what the job file names first, then plain headings, then weak
    /// ones.
    fn settle(found: &[(u16, Heading)], named: &[(u16, Meaning, Option<Box<str>>)]) -> Layout {
        let mut layout = Layout {
            columns: [None; Meaning::ALL.len()],
            descriptions: Vec::new(),
            second_quantity: None,
            second_shipped: None,
            basis: Basis::Neutral,
            asks: false,
            sound: false,
            stage_name: None,
            more_notes: Vec::new(),
            beside: Vec::new(),
            ignored: Vec::new(),
            revision: None,
            count_is_guessed: false,
            repeated: Vec::new(),
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
            own_units: Vec::new(),
            pack_of: None,
            torque_unit: None,
            mass_units: [None, None],
            mass_each: false,
            unit_of_price: false,
            price_before_total: None,
            m_may_be_metres: false,
            known: found.len() + named.len(),
            width: usize::MAX,
            headless: false,
            names_hardware: None,
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
                    Meaning::Packs => self.pack_of = heading.pack_of,
                    Meaning::Torque => self.torque_unit = heading.unit_words.clone(),
                    Meaning::Mass | Meaning::TotalMass => {
                        self.mass_each |= heading.basis == Basis::Each;
                        if let Some(unit) = self.mass_unit(meaning) {
                            *unit = heading.unit_words.clone();
                        }
                    }
                    Meaning::Size | Meaning::Length | Meaning::Diameter => {
                        self.unit = self.unit.or(heading.unit);
                        let own = heading.unit.filter(|unit| self.unit != Some(*unit));
                        let own = own.map(|unit| unit.as_str().into());
                        let own = own.or_else(|| heading::far_unit(heading));
                        self.own_units.extend(own.map(|unit| (meaning, unit)));
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
            Some(_) if meaning == Meaning::Shipped && !heading.weak => {
                self.second_shipped.get_or_insert(column);
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

/// `Piece` beside another column that counts, and none that describes, says what is counted.
fn describe_by_piece<'t>(found: &mut [(u16, Heading)], text: impl Fn(u16) -> &'t str) {
    let says = |meanings: &[Meaning], but: Option<u16>| {
        let mut others = found.iter().filter(|(column, _)| Some(*column) != but);
        others.any(|(_, heading)| meanings.contains(&heading.meaning))
    };
    let is_piece =
        |(column, _): &&(u16, Heading)| text(*column).trim().eq_ignore_ascii_case("piece");
    let piece = found.iter().find(is_piece).map(|(column, _)| *column);
    let describes = [Meaning::Description, Meaning::Size, Meaning::Diameter];
    if piece.is_some() && !says(&describes, None) && says(COUNT, piece) {
        for (_, heading) in found
            .iter_mut()
            .filter(|(column, _)| Some(*column) == piece)
        {
            heading.meaning = Meaning::Description;
        }
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
mod tests;
