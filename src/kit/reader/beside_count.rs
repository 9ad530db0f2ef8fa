//! Columns that bear on what a row counts, though no word of their headings is known: what rows tell of them.

use super::{
    super::{count, role::Role},
    shape,
};
use crate::{
    columns::{Beside, Layout, Meaning, Says, heading},
    source::Row,
};

/// Longer figures are numbers of parts and orders (common practice, no source).
const LONGEST: usize = 4;

/// Lets the rows below a heading row tell which columns bear on their counts. Figures under a heading of which no word
/// is known do in any list, since they may add, take away or multiply; on a count so do all ticks, on a slip that does
/// not say what was shipped what is a count once more, and where pieces are asked for what says whether they come with
/// the kit.
pub(super) fn learn(headings: &Row, rows: &[&Row], role: Role, layout: &mut Layout) {
    let packed = layout.has(Meaning::Packs) && !layout.has(Meaning::Loose);
    let meanings = [
        Meaning::Good,
        Meaning::Shipped,
        Meaning::Quantity,
        Meaning::Packs,
    ];
    let mut counts = meanings.iter().filter_map(|&of| layout.column(of));
    let Some(count) = counts.next().filter(|_| layout.spread.is_empty()) else {
        return;
    };
    let asks = matches!(role, Role::Required | Role::Compared);
    let is_sent = role == Role::Shipped && layout.has(Meaning::Shipped);
    // What is known to say something else says that, but for ticks and for the count once more: `#`, `In box`.
    let known = |column: u16| {
        if layout.unread.iter().any(|(of, _)| *of == column) {
            return None;
        }
        let text = headings.get(usize::from(column)).trim();
        // `+/-`
        if !text.is_empty() && !text.contains(char::is_alphanumeric) {
            return Some((column, None));
        }
        let said = heading::recognise(text)?.meaning;
        let beside = [
            Meaning::Ignored,
            Meaning::Ordered,
            Meaning::Quantity,
            Meaning::Received,
            Meaning::Bag,
            Meaning::Box,
        ];
        (beside.contains(&said) && usize::from(column) != count).then_some((column, Some(said)))
    };
    let unread = layout.unread.iter().map(|(column, _)| (*column, None));
    let all = 0..u16::try_from(headings.len()).unwrap_or(u16::MAX);
    let comes = |column: &u16| heading::says_what_comes(headings.get((*column).into()));
    let columns: Vec<(u16, Option<Meaning>)> = match asks {
        true => (unread.filter(|(column, _)| !comes(column)))
            .chain(all.filter(comes).map(|column| (column, None)))
            .collect(),
        false => unread
            .chain(all.filter_map(known).filter(|_| !is_sent))
            .collect(),
    };
    for (column, known) in columns {
        let named = headings.get(column.into()).trim();
        let is_strange = layout.unread.iter().any(|(of, _)| *of == column)
            && (matches!(role, Role::Counted | Role::LeftOver)
                || !heading::is_kit(named) && !is_measure(named));
        let may_be = |says: &Says| match says {
            Says::More if packed => true,
            Says::Again | Says::More | Says::Whether if is_strange => true,
            Says::Mark(_) if asks => comes(&column),
            Says::Again | Says::More | Says::Whether | Says::Before | Says::Missing if asks => {
                false
            }
            // Of what was received some may be damaged.
            Says::Again => !matches!(
                known,
                Some(Meaning::Ordered | Meaning::Quantity | Meaning::Received)
            ),
            Says::Mark(_) => role != Role::Shipped,
            _ if role == Role::Shipped => false,
            // Numbers of lines and orders, and what was asked for, stand in all rows.
            _ => match known {
                None => true,
                Some(Meaning::Ignored | Meaning::Ordered | Meaning::Quantity) => {
                    is_sparse(rows, column.into())
                }
                _ => false,
            },
        };
        if let Some(says) = says(rows, count, column.into(), packed).filter(may_be) {
            let unread = layout.unread.iter().find(|(of, _)| *of == column);
            let named = headings.get(usize::from(column)).trim().into();
            let heading = unread.map_or(named, |(_, heading)| heading.clone());
            layout.set_beside(Beside {
                column,
                heading,
                says,
            });
        }
    }
}

/// True for a letter by which drawings name a measure, with or without a figure: `L`, `H1` (ISO 225, from memory).
fn is_measure(heading: &str) -> bool {
    const LETTERS: &str = "bdhlrtwBDHLRTW";
    let mut signs = heading.chars();
    signs.next().is_some_and(|first| LETTERS.contains(first))
        && signs.next().is_none_or(|figure| figure.is_ascii_digit())
        && signs.next().is_none()
}

/// What a column says of the rows' counts; beside packs its figures may be loose pieces.
fn says(rows: &[&Row], count: usize, column: usize, packed: bool) -> Option<Says> {
    let counted = rows.iter().filter(|row| !row.get(count).trim().is_empty());
    let pairs: Vec<[&str; 2]> = counted
        .map(|row| [count, column].map(|at| row.get(at).trim()))
        .collect();
    let filled: Vec<&str> = (pairs.iter().map(|[_, cell]| *cell))
        .filter(|cell| !cell.is_empty())
        .collect();
    let is_figure = |cell: &str| {
        let digits = cell.strip_prefix('-').unwrap_or(cell);
        (1..=LONGEST).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit())
    };
    if filled.is_empty() {
        return None;
    }
    if filled.iter().all(|cell| is_figure(cell)) {
        let figures = |figure: &str| filled.iter().filter(|cell| **cell == figure).count();
        let (some, none) = (figures("1"), figures("0"));
        if some + none == filled.len() && some >= none && none > 0 {
            return Some(Says::Whether);
        }
        let same = pairs.iter().filter(|[count, cell]| count == cell).count();
        return match same * 2 >= filled.len() {
            true => Some(Says::Again),
            // Trays and shelves are sorted; what is of one figure throughout may be how often.
            false if !packed && filled.len() == pairs.len() && are_sorted(&filled) => {
                may_multiply(&filled).then_some(Says::More)
            }
            false => Some(Says::More),
        };
    }
    let is_mark = |cell: &&str| count::is_mark(cell);
    filled.iter().all(is_mark).then(|| {
        let often = |mark: &str| {
            let like = pairs.iter().filter(|[_, of]| count::is_like_mark(of, mark));
            like.count()
        };
        let blank = pairs.len() - filled.len();
        let usual = filled.iter().copied().max_by_key(|mark| often(mark));
        let usual = usual.filter(|mark| often(mark) >= blank);
        Says::Mark(usual.unwrap_or_default().into())
    })
}

/// True for a column that is filled in fewer than half of the rows.
fn is_sparse(rows: &[&Row], column: usize) -> bool {
    let filled = rows.iter().filter(|row| !row.get(column).trim().is_empty());
    filled.count() * 2 < rows.len()
}

/// True for whole numbers in order, and enough of them that it is by no chance; or in turn.
fn are_sorted(cells: &[&str]) -> bool {
    const ENOUGH: usize = 4;
    let same = || cells.iter().all(|cell| *cell == cells[0]);
    let enough = cells.len() >= ENOUGH || shape::runs(cells) || same();
    enough && cells.is_sorted_by_key(|cell| cell.parse::<i32>().ok())
}

/// True for one small figure throughout, more than one: on how many sides, in how many frames.
fn may_multiply(cells: &[&str]) -> bool {
    const MOST: usize = 2;
    let first = cells[0];
    first.len() <= MOST && !matches!(first, "0" | "1") && cells.iter().all(|cell| *cell == first)
}
