//! A table whose headings are not all known: what its rows tell of its columns, and what is asked.

use std::collections::BTreeSet;

use rustc_hash::FxHashSet;

use super::{
    super::{
        count,
        line::{Line, What},
        remark,
        role::Role,
        several,
    },
    Reader, beside_count, level, shape,
};
use crate::{
    Doubt,
    columns::{
        Layout, LevelBy, Meaning, furniture,
        heading::{self, Basis},
        may_be_heading,
    },
    hardware::Unit,
    notation::{Callout, Notation, describe, says_finish},
    source::Row,
    words::quoted,
};

/// A column of which no word is known, in a table that has none for how many.
#[derive(Debug)]
pub(super) struct Open {
    column: u16,
    heading: Box<str>,
    /// All that stands in it so far is whole numbers, and there are some.
    figures: u32,
    other: bool,
}

/// A column of which no word is known, watched for hardware that it names.
#[derive(Debug)]
pub(super) struct Unread {
    column: u16,
    heading: Box<str>,
    /// Cells with words that were looked at and name none.
    looked_at: usize,
    names_hardware: bool,
    /// What stands in it and says nothing of its row.
    idle: FxHashSet<Box<str>>,
}

impl Unread {
    /// True where a cell of the row may say something of it.
    pub(super) fn speaks(&self, row: &Row) -> bool {
        let cell = row.get(usize::from(self.column)).trim();
        let figures = || cell.contains(|c: char| c.is_ascii_digit()) && !cell.contains(' ');
        let speaks = cell.contains(|c: char| c.is_alphabetic() || c == '?');
        let several =
            || several::names_several(cell) || several::lists_numbers(cell, &self.heading);
        speaks && (cell.len() <= CODE || !figures()) && !self.idle.contains(cell)
            || cell.contains(|c: char| c.is_ascii_digit()) && several()
    }
}

/// A word with figures that is longer is a code, and no remark (`x2`).
const CODE: usize = 4;

/// So many idle cells of a column are kept.
const MOST_IDLE: usize = 4096;

/// A column that names no hardware in so many cells is not looked at further.
const LOOKED_AT: usize = 16;

/// A longer text is no remark on a count.
const REMARK: usize = 40;

/// The heading row of a table of which too few words are known, and what it tells. It is plainly one: words,
/// and below it a column that holds figures alone. What the items are is told by a column that
/// reads as items.
pub(super) fn layout(head: &[Row], notation: Notation) -> Option<(u32, Layout)> {
    head.iter().enumerate().find_map(|(at, row)| {
        let filled = row.cells().filter(|(text, _)| !text.trim().is_empty());
        // `7 pcs` is a row's count, whatever lacks beside it.
        let counts = |(text, _): (&str, _)| {
            count::may_count(text, notation) && heading::recognise(text).is_none()
        };
        if !may_be_heading(row) || filled.count() < 2 || row.cells().any(counts) {
            return None;
        }
        let rows: Vec<&Row> = head[at + 1..]
            .iter()
            .take_while(|row| !row.is_empty())
            .collect();
        let is_headed = |column: &usize| !row.get(*column).trim().is_empty();
        let columns = || (0..row.len()).filter(is_headed);
        if !columns().any(|column| holds_figures(&rows, column)) || names_hardware(row, notation) {
            return None;
        }
        let named = indexmap::IndexMap::new();
        let mut layout = Layout::of_known(row, &named)?;
        take_numbers(row, &rows, &mut layout);
        if let (false, Some(pieces)) = (layout.says_what(), layout.column(Meaning::Quantity))
            && rows.iter().all(|row| is_words(row.get(pieces)))
        {
            let mut headed = (0..row.len()).filter_map(|column| u16::try_from(column).ok());
            let number = headed.find(|column| heading::is_bare_number(row.get((*column).into())));
            layout.describe_by_pieces(number.filter(|_| !layout.has(Meaning::PartNumber)));
        }
        if let (false, Some(column)) = (layout.says_what(), bare_numbers(row, &rows)) {
            layout.number_by_bare_number(column);
        }
        if let (false, Some(column)) = (layout.says_what(), unheaded_words(row, &rows)) {
            layout.describe_by_unheaded(column);
        }
        if !layout.says_what() {
            let items = |column: &usize| {
                let cells = rows.iter().map(|row| row.get(*column));
                cells.filter(|cell| reads_as_item(cell, notation)).count()
            };
            let best =
                columns().max_by_key(|column| (items(column), std::cmp::Reverse(*column)))?;
            // A list of parts names little hardware: then the one column of words tells what they are.
            let told = match items(&best) * 2 < rows.len() {
                true => may_describe(&rows, &layout).map(|(column, _)| column),
                false => Some(best as u16),
            };
            if !told.is_some_and(|column| layout.describe_by(column)) {
                return None;
            }
        }
        Some((row.number, layout))
    })
}

/// The columns of which no word is known, and that may say how many: small whole numbers nearly throughout,
/// which do not number the rows.
fn may_count(rows: &[&Row], layout: &Layout) -> Vec<(u16, Box<str>)> {
    const ENOUGH: usize = 3;
    let counts = |(column, _): &(u16, &str)| {
        let cells = rows.iter().map(|row| row.get(usize::from(*column)).trim());
        let cells: Vec<&str> = cells.filter(|cell| !cell.is_empty()).collect();
        let small = |cell: &&&str| {
            is_figure(cell) && cell.len() <= 4 && (**cell == "0" || !cell.starts_with('0'))
        };
        let small = cells.iter().filter(small).count();
        let most = small * 5 >= cells.len() * 4;
        small >= ENOUGH.min(rows.len()) && small > 0 && most && !shape::runs(&cells)
    };
    let may = layout.open_figures().filter(counts);
    may.map(|(column, heading)| (column, heading.into()))
        .collect()
}

/// The column of words of which no word is known, in a table that has nothing else for what the pieces are. Names of parts do not come again as those of makers, shelves and states do.
fn may_describe(rows: &[&Row], layout: &Layout) -> Option<(u16, Box<str>)> {
    let describes = |(column, _): &&(u16, Box<str>)| {
        let cells = rows.iter().map(|row| row.get(usize::from(*column)).trim());
        let mut cells: Vec<&str> = cells.filter(|cell| !cell.is_empty()).collect();
        let word = |cell: &&str| cell.chars().filter(|c| c.is_alphabetic()).count() > 2;
        let filled = cells.len() * 5 >= rows.len() * 4 && cells.iter().all(word);
        let all = cells.len();
        cells.sort_unstable();
        cells.dedup();
        filled && all > 1 && cells.len() * 5 >= all * 4
    };
    let mut found = layout.unread.iter().filter(describes);
    let only = found.next().cloned();
    only.filter(|_| found.next().is_none())
}

/// Takes a column headed `Material` for the maker's numbers, where rows say that it is.
fn take_numbers(heading: &Row, rows: &[&Row], layout: &mut Layout) {
    let cells = |column: usize| {
        let cells = rows.iter().map(move |row| row.get(column).trim());
        cells.filter(|cell| !cell.is_empty())
    };
    if let Some(grade) = layout.column(Meaning::Grade)
        && !layout.has(Meaning::PartNumber)
        && heading.get(grade).trim().eq_ignore_ascii_case("material")
        && are_numbers(cells(grade))
    {
        layout.number_by_material();
    }
}

/// Takes a column of which all cells name bags or boxes for what the pieces lie in, whatever its heading says: `Packed
/// in`, `Package`.
fn take_containers(rows: &[&Row], layout: &mut Layout) {
    const ENOUGH: usize = 2;
    let holds = [Meaning::Bag, Meaning::Box];
    let known = [
        Meaning::Stage,
        Meaning::Option,
        Meaning::Note,
        Meaning::Received,
    ];
    let taken: Vec<usize> = (known.iter().chain(&holds))
        .filter_map(|&meaning| layout.column(meaning))
        .chain(layout.descriptions.iter().map(|&column| column.into()))
        .collect();
    for column in (0..layout.width.min(usize::from(u16::MAX))).filter(|at| !taken.contains(at)) {
        let cells = rows.iter().map(|row| row.get(column).trim());
        let cells: Vec<&str> = cells.filter(|cell| !cell.is_empty()).collect();
        // Among bags that are named a big part lies in the crate, or loose.
        let unnamed = |cell: &str| {
            furniture::is_loose(cell) || !cell.contains(' ') && furniture::names_container(cell)
        };
        let named = cells.iter().filter_map(|cell| furniture::container(cell));
        let named: Vec<_> = named.collect();
        let other = cells.iter().filter(|cell| unnamed(cell)).count();
        if named.len() < ENOUGH || named.len() + other < cells.len() {
            continue;
        }
        let meaning = match named[0] {
            furniture::Container::Bag(_) => Meaning::Bag,
            furniture::Container::Box(_) => Meaning::Box,
        };
        if !layout.has(meaning) {
            layout.hold_by(column as u16, meaning);
        }
    }
}

/// Takes the column of a count that says which of several kits a row is of for the box that its pieces are in, and its
/// bags with them: each kit has a bag A of its own.
fn take_kits_apart(heading: &Row, rows: &[&Row], layout: &mut Layout) {
    let numbers_kits = |&column: &usize| {
        let cells = rows.iter().map(|row| row.get(column).trim());
        let cells: BTreeSet<&str> = cells.filter(|cell| !cell.is_empty()).collect();
        let is_short =
            |cell: &&str| cell.len() <= 2 && cell.bytes().all(|b| b.is_ascii_alphanumeric());
        heading::is_kit(heading.get(column)) && cells.len() > 1 && cells.iter().all(is_short)
    };
    if layout.has(Meaning::Box) {
        return;
    }
    if let Some(column) = (0..layout.width.min(usize::from(u16::MAX))).find(numbers_kits) {
        layout.hold_by(column as u16, Meaning::Box);
    }
}

/// The column headed `Number` and no more that holds the maker's numbers, and no numbers of lines.
fn bare_numbers(heading: &Row, rows: &[&Row]) -> Option<u16> {
    let is_code = |cell: &str| {
        cell.len() > 3 && cell.contains(|c: char| c.is_ascii_digit()) && !cell.contains(' ')
    };
    let holds = |column: &u16| {
        let column = usize::from(*column);
        let mut cells = rows.iter().map(|row| row.get(column).trim());
        heading::is_bare_number(heading.get(column)) && cells.all(is_code)
    };
    (0..u16::try_from(heading.len()).ok()?).find(holds)
}

fn names_hardware(row: &Row, notation: Notation) -> bool {
    let mut text = String::new();
    row.join_into(&mut text);
    describe(&text, notation).is_ok_and(|all| {
        let sized = all.iter().filter(|callout| callout.is_hardware());
        sized
            .into_iter()
            .any(|callout| callout.item.diameter.is_some())
    })
}

fn reads_as_item(text: &str, notation: Notation) -> bool {
    text.contains(char::is_alphabetic)
        && describe(text, notation).is_ok_and(|all| all.iter().any(Callout::is_hardware))
}

/// True for words that name a fastener, or the thread of one.
fn names_item(text: &str, notation: Notation) -> bool {
    let names = |callout: &Callout| {
        callout.is_hardware() && (callout.item.kind.is_some() || callout.item.thread.is_some())
    };
    describe(text, notation).is_ok_and(|all| all.iter().any(names))
}

/// True for a column whose first row is filled, in which each name stands once, and blanks below each but the last. A
/// name that is repeated is none for a row without it.
fn is_written_once(rows: &[&Row], column: usize) -> bool {
    let cells: Vec<&str> = rows.iter().map(|row| row.get(column).trim()).collect();
    let mut names: Vec<&str> = (cells.iter().copied())
        .filter(|cell| !cell.is_empty())
        .collect();
    let (filled, first) = (names.len(), cells.first());
    names.sort_unstable();
    names.dedup();
    let alone = names.len() == filled && !names.iter().any(|name| furniture::is_ditto(name));
    let lone = cells
        .windows(2)
        .any(|pair| pair.iter().all(|cell| !cell.is_empty()));
    alone && !lone && filled * 2 <= cells.len() && first.is_some_and(|cell| !cell.is_empty())
}

/// True where hardware stands in rows in which the column is blank. What is large lies in no bag.
fn holds_hardware(rows: &[&Row], column: usize, notation: Notation) -> bool {
    let mut blank = rows.iter().filter(|row| row.get(column).trim().is_empty());
    blank.any(|row| names_hardware(row, notation))
}

/// True for a column that is filled in the first row of each group that another names, and nowhere else.
fn heads_groups(rows: &[&Row], group: usize, column: usize) -> bool {
    let mut above = "";
    let mut blanks = 0;
    let all = rows.iter().all(|row| {
        let (name, is_blank) = (row.get(group).trim(), row.get(column).trim().is_empty());
        let is_first = !name.is_empty() && name != above;
        if is_first {
            above = name;
        }
        blanks += usize::from(is_blank);
        is_first != is_blank
    });
    all && blanks > 0
}

/// True for figures that number things and say of none what it is made of: each is another.
fn are_numbers<'c>(cells: impl Iterator<Item = &'c str>) -> bool {
    const ENOUGH: usize = 3;
    let cells: Vec<&str> = cells.collect();
    let is_number = |cell: &&str| {
        cell.contains(|c: char| c.is_ascii_digit())
            && !cell.contains(char::is_whitespace)
            && cell.len() > 4
    };
    let mut distinct = cells.clone();
    distinct.sort_unstable();
    distinct.dedup();
    cells.len() >= ENOUGH && cells.iter().all(is_number) && distinct.len() * 4 >= cells.len() * 3
}

/// True for numbers that come up in turn, as those of boxes do and sizes of packs do not: 1, 1, 2, 3, 2.
fn are_in_turn<'c>(cells: impl Iterator<Item = &'c str>) -> bool {
    const ENOUGH: u32 = 3;
    let mut most = 0;
    let mut in_turn = |cell: &str| match cell.parse::<u32>() {
        Ok(number) if (1..=most + 1).contains(&number) => {
            most = most.max(number);
            true
        }
        _ => false,
    };
    let all = cells.into_iter().all(&mut in_turn);
    all && most >= ENOUGH
}

/// True for the numbers of the rows: 1, 2.
fn number_rows<'c>(mut cells: impl Iterator<Item = &'c str>) -> bool {
    (1..)
        .zip(&mut cells)
        .all(|(at, cell)| cell.parse() == Ok(at as u32))
}

/// Takes a quantity for each of what the titles above name for that of the kit: `Canoe rack CR-6` over `Qty per
/// rack`. Not where they say how many there are of it.
pub(super) fn take_kit<'r>(titles: impl Iterator<Item = &'r Row> + Clone, layout: &mut Layout) {
    if let Some(of) = layout.each_of.as_deref()
        && titles.clone().any(|row| is_one_of(row, of))
        && !titles.clone().any(names_several)
    {
        layout.each_of = None;
    }
}

/// True for a title that names one of a thing.
fn is_one_of(title: &Row, thing: &str) -> bool {
    let text = title.joined().to_lowercase();
    let mut words = text.split(|c: char| !c.is_alphanumeric());
    words.any(|word| word == thing)
}

/// True for a title that says how many: `Canoe rack x 3`, `2 off`.
fn names_several(title: &Row) -> bool {
    let text = title.joined().to_lowercase();
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_number = |word: &&str| word.bytes().all(|b| b.is_ascii_digit());
    let says = |pair: &[&str]| match pair {
        ["x" | "\u{d7}", number] => is_number(number),
        [number, "x" | "\u{d7}" | "off"] => is_number(number),
        _ => false,
    };
    let tied = |word: &&str| {
        let number = word.strip_prefix('x').or(word.strip_suffix('x'));
        number.is_some_and(|number| !number.is_empty() && is_number(&number))
    };
    words.windows(2).any(says) || words.iter().any(tied) || words.first().is_some_and(is_number)
}

/// `Qty/Unit` beside a number of units.
fn is_per_unit(layout: &Layout) -> bool {
    layout.each_of.as_deref() == Some("unit") || layout.basis == Basis::Each
}

/// True for bare whole numbers of diameters and lengths some of which are longer than inch pieces of a whole
/// number are: one unit holds for a column (common practice, no source).
fn are_millimetres<'c>(
    thick: impl Iterator<Item = &'c str>,
    mut long: impl Iterator<Item = &'c str>,
) -> bool {
    const LONGEST_INCH: u32 = 15;
    let mut any = false;
    let mut whole = long.by_ref().map(|cell| cell.parse::<u32>().ok());
    let all_long = whole.all(|length| {
        any |= length.is_some_and(|length| length > LONGEST_INCH);
        length.is_some()
    });
    let mut thick = thick.peekable();
    all_long && any && thick.peek().is_some() && thick.all(is_figure)
}

/// The column of words under no heading, in front of those that have one.
fn unheaded_words(heading: &Row, rows: &[&Row]) -> Option<u16> {
    let first = (0..heading.len()).find(|at| !heading.get(*at).trim().is_empty())?;
    let mut before = (0..first).filter_map(|column| u16::try_from(column).ok());
    before.find(|&column| {
        let mut cells = rows.iter().map(|row| row.get(column.into()));
        cells.all(|cell| cell.contains(char::is_alphabetic))
    })
}

fn is_words(text: &str) -> bool {
    text.contains(char::is_alphabetic) && !text.contains(|c: char| c.is_ascii_digit())
}

fn is_figure(text: &str) -> bool {
    (1..=6).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit())
}

/// The column of which no word is known, beside what was ordered, that says as much in most rows and in none more:
/// what is still to come says nothing in most (common practice, no source).
fn sent_beside_ordered(rows: &[&Row], layout: &Layout) -> Option<(u16, Box<str>)> {
    const ENOUGH: usize = 3;
    let ordered = layout.column(Meaning::Ordered)?;
    let is_sent = |(column, _): &&(u16, Box<str>)| {
        let figures = rows.iter().filter_map(|row| {
            let figure = |column: usize| row.get(column).trim().parse::<u64>().ok();
            Some((figure(ordered)?, figure((*column).into())?))
        });
        let figures: Vec<(u64, u64)> = figures.collect();
        let as_ordered = figures.iter().filter(|(due, sent)| due == sent).count();
        figures.len() >= ENOUGH
            && figures.iter().all(|(due, sent)| sent <= due)
            && as_ordered * 3 >= figures.len() * 2
    };
    let mut found = layout.unread.iter().filter(is_sent);
    let only = found.next().cloned();
    only.filter(|_| found.next().is_none())
}

/// True for cells without a figure that name what the pieces lie in: `Crate`, `Bundle`.
fn are_packages<'t>(cells: impl Iterator<Item = &'t str>) -> bool {
    let mut any = false;
    let names = |cell: &str| {
        !cell.contains(char::is_numeric)
            && (furniture::names_container(cell) || !count::is_unit(cell))
    };
    cells.into_iter().all(|cell| {
        any = true;
        names(cell)
    }) && any
}

/// True for a column in which some rows have a whole number and none has anything else.
fn holds_figures(rows: &[&Row], column: usize) -> bool {
    let mut cells = rows.iter().map(|row| row.get(column).trim());
    let mut any = false;
    cells.all(|cell| {
        any |= is_figure(cell);
        // `-2`: taken back, among counts.
        cell.is_empty() || is_figure(cell.strip_prefix('-').unwrap_or(cell))
    }) && any
}

impl Reader<'_> {
    /// Lets the first rows below a heading row tell whether its `Material` is a number and its `Package`
    /// that of a box, and whether a bag or a box holds for the rows below it.
    pub(super) fn learn_from_rows(&mut self, heading: &Row, rows: &[&Row], layout: &mut Layout) {
        let cells = |column: usize| {
            let cells = rows.iter().map(move |row| row.get(column).trim());
            cells.filter(|cell| !cell.is_empty())
        };
        take_numbers(heading, rows, layout);
        take_containers(rows, layout);
        if self.list.role == Role::Counted {
            take_kits_apart(heading, rows, layout);
        }
        if let Some(stage) = layout.column(Meaning::Stage)
            && !layout.has(Meaning::Size)
            && cells(stage).next().is_some()
            && cells(stage).all(furniture::holds_size)
        {
            layout.size_by_section();
        }
        let numbers_stages = |column: usize| {
            cells(column).next().is_some()
                && cells(column)
                    .all(|cell| cell.len() <= 4 && cell.starts_with(|c: char| c.is_ascii_digit()))
        };
        layout.name_stages(numbers_stages, |column| {
            heading.get(column).trim().to_owned()
        });
        if self.list.role == Role::Counted
            && let Some(heading) = layout.count_what_came_back()
        {
            self.note(format!("\"{heading}\" is taken for what was counted"));
        }
        if matches!(self.list.role, Role::Counted | Role::LeftOver | Role::Stock) {
            layout.count_by_total(rows);
        }
        let is_sound = |column: &usize| {
            let heading = heading.get(*column).trim();
            let is_ok = ["ok", "okay"]
                .iter()
                .any(|word| heading.eq_ignore_ascii_case(word));
            is_ok && holds_figures(rows, *column)
        };
        if self.list.role == Role::Counted
            && !count::is_stated(layout, self.list.role)
            && let Some(column) = (0..heading.len().min(usize::from(u16::MAX))).find(is_sound)
        {
            layout.count_sound(column as u16);
        }
        if self.list.role == Role::Shipped
            && !layout.has(Meaning::Shipped)
            && let Some(received) = layout.column(Meaning::Received)
            && holds_figures(rows, received)
        {
            layout.ship_by_received();
        }
        if self.list.role == Role::Shipped
            && !count::is_stated(layout, self.list.role)
            && let Some((column, heading)) = sent_beside_ordered(rows, layout)
        {
            layout.read_as(column, Meaning::Shipped);
            self.note(format!(
                "\"{heading}\" is taken for what was sent: nowhere is it more than was ordered"
            ));
        }
        if let Some(column) = layout.column(Meaning::Level)
            && layout.level_by == LevelBy::Number
            && !level::are_levels(cells(column))
        {
            layout.leave_unread(Meaning::Level, heading.get(column));
        }
        layout.forget_level_columns(rows, |column| heading.get(column).trim().to_owned());
        // A title of a group is numbered, too, and has no count.
        if !layout.has(Meaning::Level) && count::is_stated(layout, self.list.role) {
            let cells_across = rows.iter().map(|row| row.len()).max();
            let across = layout.width.min(cells_across.unwrap_or(0));
            let mut columns = (0..across).filter_map(|column| u16::try_from(column).ok());
            if let Some(column) = columns.find(|at| level::are_of_outline(cells((*at).into()))) {
                layout.level_by_outline(column);
            }
        }
        if let (false, [described], Some(counted)) = (
            layout.has_levels(),
            layout.descriptions.as_slice(),
            layout.column(Meaning::Quantity),
        ) && level::are_set_in(rows, usize::from(*described), counted)
        {
            layout.level_by_indent();
        }
        if layout.bare_number
            && !count::is_stated(layout, self.list.role)
            && let Some(column) = layout.column(Meaning::PartNumber)
            && holds_figures(rows, column)
            && !are_in_turn(cells(column))
            && !number_rows(cells(column))
        {
            layout.count_by_bare_number();
        }
        self.take_unheaded(heading, rows, layout);
        if let Some(unit) = layout.column(Meaning::Unit) {
            layout.m_may_be_metres = count::may_be_metres(cells(unit));
            // Units are words, and hundreds at most: `Me` over a hand's counts is none.
            let counts = |cell: &str| is_figure(cell) && !count::is_unit(cell);
            if !is_per_unit(layout) && cells(unit).all(counts) && cells(unit).next().is_some() {
                layout.leave_unread(Meaning::Unit, heading.get(unit));
            }
        }
        if let Some(unit) = layout.column(Meaning::Unit)
            && is_per_unit(layout)
            && cells(unit).all(is_figure)
        {
            layout.places_by_units();
        }
        if let (Some(thick), Some(long), None) = (
            layout.column(Meaning::Diameter),
            layout.column(Meaning::Length),
            layout.unit,
        ) && are_millimetres(cells(thick), cells(long))
        {
            layout.unit = Some(Unit::Millimetre);
        }
        if layout.has(Meaning::PartNumber)
            && layout.descriptions.is_empty()
            && let Some((column, heading)) = may_describe(rows, layout)
        {
            layout.describe_by(column);
            self.note(format!("\"{heading}\" is taken for what the pieces are"));
        }
        self.take_count(rows, layout);
        self.heed_headings(heading, layout);
        beside_count::learn(heading, rows, self.list.role, layout);
        self.take_finish(rows, layout);
        if let Some(size) = layout.column(Meaning::PackSize)
            && !layout.has(Meaning::Box)
            && (are_in_turn(cells(size)) || are_packages(cells(size)))
        {
            layout.box_by_package();
        }
        if !count::is_stated(layout, self.list.role)
            && let Some(held) = [Meaning::Box, Meaning::Bag].into_iter().find(|held| {
                layout
                    .column(*held)
                    .is_some_and(|at| heading::is_within(heading.get(at)))
            })
            && let Some(column) = layout.column(held)
            && holds_figures(rows, column)
            && !are_in_turn(cells(column))
        {
            layout.count_held(held);
        }
        if let Some(heading) = layout.stage_by_total(heading, rows) {
            self.note(format!(
                "\"{heading}\" is taken for a stage: with it the rows come to their total"
            ));
        }
        if let Some(heading) = layout.total_by_rows(rows) {
            self.note(format!(
                "\"{heading}\" is taken for the total of the columns before it"
            ));
        }
        if let (Some(stage), Some(places)) = (
            layout.column(Meaning::Stage),
            layout.column(Meaning::Places),
        ) {
            layout.places_once = heads_groups(rows, stage, places);
        }
        // A list of bags and boxes has one in each row.
        let of_bags = layout.has(Meaning::Received) && layout.descriptions.is_empty();
        for meaning in [Meaning::Bag, Meaning::Box] {
            if let Some(column) = layout.column(meaning).filter(|_| !of_bags)
                && is_written_once(rows, column)
                && (meaning == Meaning::Box || holds_hardware(rows, column, self.notation))
            {
                layout.carried.push(meaning);
                let heading = heading.get(column).trim();
                self.note(format!(
                    "\"{heading}\" is written once, and taken for that of the rows below"
                ));
            }
        }
    }

    /// Takes a column without a heading, beside that of the description, where it says the sizes that this
    /// lacks (a heading over both); any other that is filled is named as not read.
    fn take_unheaded(&self, heading: &Row, rows: &[&Row], layout: &mut Layout) {
        let sized = |text: &str| {
            let sized = |callout: &Callout| callout.item.diameter.is_some();
            describe(text, self.notation).is_ok_and(|all| all.iter().any(sized))
        };
        for column in 0..layout.width.min(usize::from(u16::MAX)) {
            let cells = || rows.iter().filter(|row| !row.get(column).trim().is_empty());
            let is_taken = layout.descriptions.contains(&(column as u16));
            if !heading.get(column).trim().is_empty() || is_taken || cells().next().is_none() {
                continue;
            }
            let beside = column
                .checked_sub(1)
                .filter(|beside| layout.descriptions.contains(&(*beside as u16)));
            let adds_size = |beside: usize| {
                let both = |row: &&&Row| {
                    let described = row.get(beside);
                    !sized(described) && sized(&format!("{described} {}", row.get(column)))
                };
                cells().filter(both).count() * 2 > cells().count()
            };
            if beside.is_some_and(adds_size) {
                layout.descriptions.push(column as u16);
            } else {
                let name = format!("no. {}, without a heading", column + 1);
                layout.unread.push((column as u16, name.into()));
            }
        }
    }

    /// Takes a column of which no word is known for the finish, where all that stands in it says one.
    fn take_finish(&mut self, rows: &[&Row], layout: &mut Layout) {
        const ENOUGH: usize = 2;
        let finishes = |(column, _): &&(u16, Box<str>)| {
            let cells = rows.iter().map(|row| row.get(usize::from(*column)).trim());
            let cells: Vec<&str> = cells.filter(|cell| !cell.is_empty()).collect();
            let finish = |cell: &&str| says_finish(cell) && !count::is_mark(cell);
            cells.len() >= ENOUGH && cells.iter().all(finish)
        };
        if layout.has(Meaning::Finish) {
            return;
        }
        if let Some((column, heading)) = layout.unread.iter().find(finishes).cloned() {
            layout.read_as(column, Meaning::Finish);
            self.note(format!("\"{heading}\" is taken for the finish"));
        }
    }

    /// Takes the one column that may say how many, where none is known to, and asks about it.
    pub(super) fn take_count(&mut self, rows: &[&Row], layout: &mut Layout) {
        if count::is_stated(layout, self.list.role) {
            return;
        }
        let mut may = may_count(rows, layout);
        if self.list.role == Role::LeftOver {
            let left = |(_, heading): &(u16, Box<str>)| heading::is_of_leftovers(heading);
            if let Some(at) = may.iter().position(left) {
                return layout.count_by(may.swap_remove(at).0);
            }
        }
        let [(column, heading)] = may.as_slice() else {
            return;
        };
        // Another column of such figures, whatever it is headed, may be the one.
        let other = (0..layout.width).filter(|at| {
            let is_it = *at == usize::from(*column);
            let described = layout.descriptions.iter().any(|of| usize::from(*of) == *at);
            let cells = rows.iter().map(|row| row.get(*at).trim());
            let cells: Vec<&str> = cells.filter(|cell| !cell.is_empty()).collect();
            let are_figures = !cells.is_empty() && cells.iter().all(|cell| is_figure(cell));
            !is_it && !described && are_figures && !shape::runs(&cells)
        });
        let is_sure = other.count() == 0;
        layout.count_by(*column);
        let key = count::column_of(self.list.role);
        let question = format!(
            "no heading is known to say how many: \"{heading}\", the only one of small whole numbers, is taken for it; if another says it, name that in the job file beside the file: columns = {{ {key} = \"...\" }}"
        );
        let sheet = &mut self.list.sheets[usize::from(self.sheet)];
        match is_sure {
            true => sheet.ask(question),
            false => sheet.ask_of_figures(question),
        }
    }

    /// Watches the columns that are not known where none is known to say how many.
    pub(super) fn watch(&mut self, layout: &Layout) {
        if count::is_stated(layout, self.list.role) {
            self.open_columns.clear();
            return;
        }
        let same = self.open_columns.len() == layout.unread.len()
            && (self.open_columns.iter())
                .zip(&layout.unread)
                .all(|(open, (column, _))| open.column == *column);
        if !same {
            let unread = layout.unread.iter();
            self.open_columns = unread
                .map(|(column, heading)| Open {
                    column: *column,
                    heading: heading.clone(),
                    figures: 0,
                    other: false,
                })
                .collect();
        }
    }

    /// Watches the columns of which no word is known for hardware.
    pub(super) fn watch_unread(&mut self, layout: &Layout) {
        let unread = layout.unread.iter().map(|(column, heading)| Unread {
            column: *column,
            heading: heading.clone(),
            looked_at: 0,
            names_hardware: false,
            idle: FxHashSet::default(),
        });
        self.unread = unread.collect();
    }

    /// The doubt of a row where a column that is not read names hardware: it may say more of the item; or bears
    /// on the count.
    pub(super) fn unread_item(&mut self, row: &Row) -> Option<Doubt> {
        let (notation, role) = (self.notation, self.list.role);
        self.unread.iter_mut().find_map(|unread| {
            if !unread.speaks(row) {
                return None;
            }
            let cell = row.get(usize::from(unread.column)).trim();
            if cell.len() <= REMARK
                && remark::may_be_change(cell, role)
                && !names_item(cell, notation)
            {
                return Some(Doubt::Remark(cell.into()));
            }
            let asks = matches!(role, Role::Required | Role::Compared);
            let several =
                several::names_several(cell) || several::lists_numbers(cell, &unread.heading);
            if asks && several || several::names_packs(cell) {
                return Some(Doubt::Remark(cell.into()));
            }
            let of_all = ["kit", "job", "all", "total"];
            if heading::is_per(&unread.heading)
                && cell.contains(char::is_alphabetic)
                && !count::is_unit(cell)
                && !of_all.iter().any(|all| cell.eq_ignore_ascii_case(all))
            {
                return Some(Doubt::Multiplier(format!("per {cell}").into()));
            }
            let words = cell.contains(' ') && cell.contains(char::is_alphabetic);
            if words && !unread.names_hardware && unread.looked_at < LOOKED_AT {
                unread.names_hardware = names_item(cell, notation);
                unread.looked_at += usize::from(!unread.names_hardware);
                if unread.names_hardware {
                    unread.idle.clear();
                }
            }
            if words && unread.names_hardware {
                let told = format!(
                    "the column \"{}\" is not read, and says \"{cell}\"",
                    unread.heading
                );
                return Some(Doubt::HowMany(told.into()));
            }
            if unread.idle.len() < MOST_IDLE {
                unread.idle.insert(cell.into());
            }
            None
        })
    }

    /// The doubt of a row with words behind the last column that has a heading; on a count a figure may mend it, and in
    /// any list three figures may be of a number that its comma parted: `1,200`.
    pub(super) fn behind_headings(&self, row: &Row, layout: &Layout) -> Option<Doubt> {
        let digits = |cell: &str| !cell.is_empty() && cell.bytes().all(|b| b.is_ascii_digit());
        if let (Some(last), behind) = (layout.width.checked_sub(1), row.get(layout.width).trim())
            && let before = row.get(last).trim()
            && behind.len() == 3
            && digits(behind)
            && before.len() <= 3
            && digits(before)
        {
            let told = format!(
                "\"{behind}\" stands behind the last heading: may be {before}{behind}, parted by its comma"
            );
            return Some(Doubt::HowMany(told.into()));
        }
        let speaks =
            |c: char| c.is_alphabetic() || (self.list.role == Role::Counted && c.is_ascii_digit());
        let cell = (layout.width..row.len())
            .map(|column| row.get(column).trim())
            .find(|cell| cell.contains(speaks))?;
        let told = format!("\"{cell}\" stands behind the last heading, and is not read");
        Some(Doubt::HowMany(told.into()))
    }

    /// Says, once a sheet, that figures stand behind the last heading of a list.
    pub(super) fn note_behind_headings(&mut self, row: &Row, layout: &Layout) {
        let mut behind = (layout.width..row.len()).map(|column| row.get(column).trim());
        let Some(figure) = behind.find(|cell| cell.contains(|c: char| c.is_ascii_digit())) else {
            return;
        };
        let first = "figures behind the last heading are not read: ";
        let sheet = &self.list.sheets[usize::from(self.sheet)];
        let is_told = sheet.notes.iter().any(|note| note.starts_with(first));
        if self.list.role != Role::Counted && !is_told {
            self.note(format!("{first}row {} has \"{figure}\"", row.number));
        }
    }

    pub(super) fn watch_row(&mut self, row: &Row) {
        for open in &mut self.open_columns {
            match row.get(usize::from(open.column)).trim() {
                "" => {}
                cell if is_figure(cell) => open.figures += 1,
                _ => open.other = true,
            }
        }
    }

    /// Asks which column says how many, where none is known to.
    pub(super) fn ask_how_many(&mut self) {
        let open = std::mem::take(&mut self.open_columns);
        let may = open.iter().filter(|open| open.figures > 0 && !open.other);
        let may: Vec<&str> = may.map(|open| open.heading.as_ref()).collect();
        let key = count::column_of(self.list.role);
        let Some(first) = may.first() else {
            if self.states_no_count() {
                let told = format!(
                    "no column says how many: head the one that does \"Qty\", or name it in the job file beside the file: columns = {{ {key} = \"...\" }}"
                );
                self.list.sheets[usize::from(self.sheet)].ask(told);
            }
            return;
        };
        let name = match may.len() {
            1 => format!(
                "if that is it, name it in the job file beside the file: columns = {{ {key} = \"{first}\" }}"
            ),
            _ => format!(
                "name the one in the job file beside the file, for instance columns = {{ {key} = \"{first}\" }}"
            ),
        };
        let told = format!(
            "no column is known to say how many, and whole numbers stand under {}: {name}",
            quoted(&may)
        );
        self.list.sheets[usize::from(self.sheet)].ask(told);
    }

    /// True for a table of which no column says how many, and few rows do.
    fn states_no_count(&self) -> bool {
        let layout = self.layout.as_ref();
        let of_counts = layout.is_none_or(|of| count::is_stated(of, self.list.role));
        let first = (self.list.lines).partition_point(|line| line.sheet < self.sheet);
        let lines = &self.list.lines[first..];
        // The text of one may say it.
        let counts = |line: &&Line| line.quantity.is_some() || !matches!(line.what, What::Item(_));
        let counted = lines.iter().filter(counts).count();
        !of_counts && !lines.is_empty() && counted * 2 < lines.len()
    }
}
