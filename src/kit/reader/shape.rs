//! The columns of rows that have no headings, as their cells tell: of the columns of a list, the one that
//! holds counts alone says how many, and what stands behind it and names no hardware is a note (common
//! practice, no source).

use std::{collections::BTreeSet, ops::Range};

use super::{super::count, price};
use crate::{
    columns::{Layout, Meaning, furniture},
    hardware::Kind,
    notation::{Callout, Notation, describe},
    source::Row,
};

/// So many rows make a list's shape.
const ENOUGH: usize = 3;

/// The columns of rows without headings.
#[derive(Debug)]
pub(super) struct Columns {
    pub layout: Layout,
    /// Those of each table, where several stand side by side.
    pub side: Vec<Range<usize>>,
}

/// The columns of rows without headings, of one table or of several side by side. `sure`: the text itself says by a
/// sign which figures count.
pub(super) fn columns(head: &[Row], sure: bool, notation: Notation) -> Option<Columns> {
    if let Some(side) = side_by_side(head, notation) {
        let parts = |row: &Row| {
            side.iter()
                .map(|of| row.part(of.clone()))
                .collect::<Vec<_>>()
        };
        let one_below_another: Vec<Row> = head.iter().flat_map(parts).collect();
        let layout = layout(&one_below_another, sure, notation)?;
        return Some(Columns { layout, side });
    }
    let side = Vec::new();
    layout(head, sure, notation).map(|layout| Columns { layout, side })
}

/// Rows of several cells, of which one counts.
fn counting(head: &[Row], notation: Notation) -> Vec<&Row> {
    let counts = |row: &&Row| filled(row).any(|cell| count::is_count(cell, notation));
    (head.iter())
        .filter(|row| filled(row).count() > 1)
        .filter(counts)
        .collect()
}

/// The columns of tables that stand side by side: counts and names in turn, both or neither in each row, and
/// no name twice, as notes have it.
fn side_by_side(head: &[Row], notation: Notation) -> Option<Vec<Range<usize>>> {
    let rows = counting(head, notation);
    let width = rows.iter().map(|row| row.len()).max()?;
    (2..=3).find_map(|tables| {
        let each = width / tables;
        let side: Vec<Range<usize>> = (0..tables).map(|at| at * each..(at + 1) * each).collect();
        let fits = |of: &Range<usize>, count: usize, name: usize| {
            let cells = |at: usize| rows.iter().map(move |row| row.get(of.start + at).trim());
            let together = cells(count).zip(cells(name));
            let together: Vec<(&str, &str)> = together
                .filter(|(count, name)| !count.is_empty() || !name.is_empty())
                .collect();
            let names: BTreeSet<&str> = together.iter().map(|(_, name)| *name).collect();
            let pair = |(number, name): &(&str, &str)| {
                count::is_count(number, notation) && name.contains(char::is_alphabetic)
            };
            together.len() >= ENOUGH && names.len() == together.len() && together.iter().all(pair)
        };
        let all = |count: usize, name: usize| side.iter().all(|of| fits(of, count, name));
        let alike = each == 2 && tables * each == width && (all(0, 1) || all(1, 0));
        alike.then_some(side)
    })
}

/// The layout of rows without headings. Two columns of counts may be anything (`24 ordered, 20 sent`), and so
/// may counts beside bolts of which no length is told, and bare figures beside plain words alone
/// (`Rail   1200`): then there is none.
fn layout(head: &[Row], sure: bool, notation: Notation) -> Option<Layout> {
    let rows = counting(head, notation);
    let width = rows.iter().map(|row| row.len()).max()?;
    let columns: Vec<Column> = (0..width)
        .map(|at| Column::of(&rows, at, notation))
        .collect();
    let is_reference = |at: usize| at == 0 && columns[at].runs;
    let counts = |at: &usize| columns[*at].counts && !is_reference(*at);
    let mut counted = (0..width).filter(counts);
    let (quantity, None) = (counted.next()?, counted.next()) else {
        return None;
    };
    let first = (0..width).find(|at| !is_reference(*at) && columns[*at].filled > 0)?;
    let beside = |at: &usize| {
        let column = &columns[*at];
        *at != quantity && !is_reference(*at) && column.filled > 0 && !column.prices
    };
    let unit = (0..width).filter(beside).find(|at| columns[*at].units);
    let (items, notes): (Vec<usize>, Vec<usize>) = (0..width)
        .filter(|at| beside(at) && Some(*at) != unit)
        .partition(|at| *at < quantity || columns[*at].hardware || quantity == first);
    // The maker's numbers alone say what, too, and are no `Rail   1200`.
    let numbered = match items.as_slice() {
        [only] => holds_numbers(&rows, *only, notation),
        _ => false,
    };
    let what = match numbered {
        true => Meaning::PartNumber,
        false => Meaning::Description,
    };
    // In front of words a column of numbers is the maker's.
    let (numbers, items): (Vec<usize>, Vec<usize>) = (items.iter().copied())
        .partition(|&at| items.last() > Some(&at) && holds_codes(&rows, at, notation));
    let (numbers, items) = match items.is_empty() {
        true => (Vec::new(), numbers),
        false => (numbers, items),
    };
    // What stands there and names a bag or a box, says in which they are.
    let (bags, notes): (Vec<usize>, Vec<usize>) = (notes.into_iter()).partition(|&at| {
        let mut cells = (rows.iter().map(|row| row.get(at).trim())).filter(|cell| !cell.is_empty());
        cells.all(|cell| furniture::container(cell).is_some())
    });
    let notes = [bags.get(1..).unwrap_or_default(), &notes].concat();
    let given = (items.iter().map(|&at| (at, what)))
        .chain(bags.first().map(|&at| (at, Meaning::Bag)))
        .chain(numbers.first().map(|&at| (at, Meaning::PartNumber)))
        .chain([(quantity, Meaning::Quantity)])
        .chain(unit.map(|at| (at, Meaning::Unit)))
        .chain(notes.first().map(|&at| (at, Meaning::Note)));
    let given = given.map(|(at, meaning)| Some((u16::try_from(at).ok()?, meaning)));
    let mut layout = Layout::without_headings(&given.collect::<Option<Vec<_>>>()?);
    layout.more_notes = notes.iter().skip(1).map(|&at| at as u16).collect();
    let mut naming = items.iter().filter(|&&at| columns[at].hardware);
    if let (Some(&names), None, 2..) = (naming.next(), naming.next(), items.len()) {
        layout.names_hardware = u16::try_from(names).ok();
    }
    let rows: Vec<&Row> = (rows.into_iter())
        .filter(|row| fits(row, &layout, notation))
        .collect();
    let items_of = |row: &Row| -> Vec<Callout> {
        let cells: Vec<&str> = items.iter().map(|&at| row.get(at)).collect();
        let all = describe(&cells.join(" "), notation).unwrap_or_default();
        let sized = |callout: &Callout| callout.is_hardware() && callout.item.diameter.is_some();
        all.into_iter().filter(sized).collect()
    };
    let sized: Vec<Callout> = rows.iter().flat_map(|row| items_of(row)).collect();
    let lacks_length = |callout: &Callout| {
        matches!(callout.item.kind, Some(Kind::Bolt | Kind::Screw) | None)
            && callout.item.length.is_none()
    };
    let may_be_length = quantity != first && sized.iter().any(lacks_length);
    // `x4` and `4 pcs` say of themselves that they count.
    let bare = |row: &&Row| row.get(quantity).trim().bytes().all(|b| b.is_ascii_digit());
    let may_be_measure = unit.is_none() && sized.is_empty() && rows.iter().all(bare);
    let told = sure || (!may_be_length && (numbered || !may_be_measure));
    (rows.len() >= ENOUGH && told).then_some(layout)
}

/// True for a column of the maker's numbers: letters and figures in one word, each another, and none a size
/// (`CF-101`; common practice, no source).
fn holds_numbers(rows: &[&Row], at: usize, notation: Notation) -> bool {
    let cells: Vec<&str> = (rows.iter().map(|row| row.get(at).trim()))
        .filter(|cell| !cell.is_empty())
        .collect();
    let distinct: BTreeSet<&str> = cells.iter().copied().collect();
    let (of_letters, others): (Vec<&str>, Vec<&str>) = cells
        .iter()
        .partition(|cell| is_makers_number(cell, notation));
    // `400-10` beside `R-101`
    cells.len() >= ENOUGH
        && distinct.len() == cells.len()
        && of_letters.len() >= others.len()
        && others.iter().all(|cell| is_dashed(cell))
}

/// True for figures with a dash between, as makers number their parts; threads are written so, too.
fn is_dashed(cell: &str) -> bool {
    cell.len() > 4 && cell.contains('-') && cell.bytes().all(|b| b.is_ascii_digit() || b == b'-')
}

/// True for a column of numbers by which a maker orders: one word with figures, each another, and none a size.
fn holds_codes(rows: &[&Row], at: usize, notation: Notation) -> bool {
    let cells: Vec<&str> = (rows.iter().map(|row| row.get(at).trim()))
        .filter(|cell| !cell.is_empty())
        .collect();
    let distinct: BTreeSet<&str> = cells.iter().copied().collect();
    let is_code =
        |cell: &&str| (is_dashed(cell) && cell.len() > 6) || is_makers_number(cell, notation);
    cells.len() >= ENOUGH && distinct.len() == cells.len() && cells.iter().all(is_code)
}

/// True for letters and figures in one word that are no size: `CF-101`.
pub(super) fn is_makers_number(word: &str, notation: Notation) -> bool {
    let is_size = || {
        let sized = |callout: &Callout| callout.item.diameter.is_some();
        describe(word, notation).is_ok_and(|all| all.iter().any(sized))
    };
    word.len() > 3
        && word.starts_with(|c: char| c.is_ascii_alphabetic())
        && word.contains(|c: char| c.is_ascii_digit())
        && !word.contains(char::is_whitespace)
        && !is_size()
}

/// True where a row is of that shape: it has words and a count, and is of no paper's head (`Order   4411`).
pub(super) fn fits(row: &Row, layout: &Layout, notation: Notation) -> bool {
    let number = layout.column(Meaning::PartNumber);
    let described = layout.descriptions.iter().map(|&at| usize::from(at));
    let numbered = number.is_some_and(|at| is_dashed(row.get(at).trim()));
    let mut words = described.chain(number).map(|at| row.get(at).trim());
    let mut whole = String::new();
    let of_paper = |text: &str| {
        furniture::is_paper(text)
            || furniture::is_note(text)
            || furniture::is_page_or_footnote(text)
    };
    (numbered || words.any(|word| word.contains(char::is_alphabetic) && !word.ends_with(':')))
        && count::is_count(layout.cell(row, Meaning::Quantity), notation)
        && {
            row.join_into(&mut whole);
            !of_paper(&whole)
        }
}

fn filled(row: &Row) -> impl Iterator<Item = &str> {
    let cells = row.cells().map(|(text, _)| text.trim());
    cells.filter(|text| !text.is_empty())
}

/// What all cells of a column are.
struct Column {
    filled: usize,
    counts: bool,
    units: bool,
    prices: bool,
    /// One of its cells names hardware.
    hardware: bool,
    /// Letters or whole numbers in turn, as lists number their lines: `A, B, C`, `10, 20, 30`. `4, 8, 12`
    /// may be counts.
    runs: bool,
}

impl Column {
    fn of(rows: &[&Row], at: usize, notation: Notation) -> Column {
        let cells: Vec<&str> = (rows.iter().map(|row| row.get(at).trim()))
            .filter(|cell| !cell.is_empty())
            .collect();
        let all =
            |is: &dyn Fn(&str) -> bool| !cells.is_empty() && cells.iter().all(|cell| is(cell));
        let most = |is: &dyn Fn(&str) -> bool| {
            cells.iter().filter(|cell| is(cell)).count() * 3 >= cells.len() * 2
        };
        Column {
            filled: cells.len(),
            counts: cells.len() >= ENOUGH
                && most(&|cell| {
                    let is_bag = || furniture::container(cell).is_some();
                    count::is_count(cell, notation) && !is_padded(cell) && !is_bag()
                }),
            units: all(&count::is_unit),
            prices: all(&price::is_price),
            hardware: (cells.iter()).any(|cell| {
                describe(cell, notation).is_ok_and(|all| all.iter().any(Callout::is_hardware))
            }),
            runs: runs(&cells)
                || (cells.len() >= ENOUGH && (all(&is_padded) || are_letters(&cells))),
        }
    }
}

/// True for single letters, each another: the marks of pieces in a drawing.
fn are_letters(cells: &[&str]) -> bool {
    let distinct: BTreeSet<&str> = cells.iter().copied().collect();
    let is_letter =
        |cell: &&str| cell.len() == 1 && cell.starts_with(|c: char| c.is_ascii_alphabetic());
    distinct.len() == cells.len() && cells.iter().all(is_letter)
}

/// `0010`: a number that orders, and counts nothing.
fn is_padded(cell: &str) -> bool {
    cell.len() > 1 && cell.starts_with('0') && cell.bytes().all(|b| b.is_ascii_digit())
}

/// True for letters or whole numbers in turn.
pub(super) fn runs(cells: &[&str]) -> bool {
    cells.len() >= ENOUGH && in_turn(cells).is_some()
}

/// True for letters or whole numbers in turn from the first on: `A, B`, `1, 2`, `10, 20`.
pub(super) fn begins_and_runs(cells: &[&str]) -> bool {
    in_turn(cells)
        .is_some_and(|(first, step)| first == step || (first, step) == (u32::from(b'A'), 1))
}

/// True for a letter or a whole number.
pub(super) fn is_place(cell: &str) -> bool {
    place(cell).is_some()
}

/// Drawings leave out the letters I and O, which look like figures (common practice, no source).
fn place(cell: &str) -> Option<u32> {
    let cell = cell.trim_end_matches(['.', ')']);
    match cell.as_bytes() {
        [letter] if letter.is_ascii_alphabetic() => {
            let letter = letter.to_ascii_uppercase();
            Some(u32::from(
                letter - u8::from(letter > b'I') - u8::from(letter > b'O'),
            ))
        }
        _ => cell.parse().ok(),
    }
}

/// The first of letters or whole numbers in turn, and the step from each to the next.
fn in_turn(cells: &[&str]) -> Option<(u32, u32)> {
    let places = cells
        .iter()
        .map(|cell| place(cell))
        .collect::<Option<Vec<u32>>>()?;
    let steps: BTreeSet<i64> = (places.windows(2))
        .map(|pair| i64::from(pair[1]) - i64::from(pair[0]))
        .collect();
    let step = u32::try_from(*steps.first().filter(|_| steps.len() == 1)?).ok()?;
    [1, 5, 10, 50, 100]
        .contains(&step)
        .then_some((places[0], step))
}
