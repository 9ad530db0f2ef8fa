//! Sheets that are copies by what their lines say, whatever they are called.
//!
//! Two sides of a structure ask for the same too, so the lines alone decide only where they name their
//! own stages, or where there are many and the sheets' names do not go together (`Frame 1`, `Frame 2`).

use std::hash::{BuildHasher, Hash, Hasher};

use rustc_hash::{FxBuildHasher, FxHashMap, FxHashSet, FxHasher};

use super::{
    line::{Line, What},
    list::List,
};
use crate::words::fold;

/// Lines of a sheet without stages that make a chance likeness unlikely.
const MANY: usize = 8;
/// Lines of which nine tenths make a near copy.
const SEVERAL: usize = 10;

/// What a sheet's lines say, a hash a line.
#[derive(Default)]
struct Sheet {
    lines: Vec<u64>,
    /// Each line names a stage.
    staged: bool,
}

/// The sheets of `left` that are copies of an earlier one, with that one; in one pass over the lines.
pub fn copies<'a>(
    list: &'a List,
    left: &[usize],
    name: impl Fn(usize) -> &'a str,
    apart: impl Fn(usize, usize) -> bool,
) -> Vec<(usize, usize)> {
    let sheets = sheets(list);
    let mut same: FxHashMap<u64, usize> = FxHashMap::default();
    let mut owners: FxHashMap<u64, usize> = FxHashMap::default();
    let mut found = Vec::new();
    for &at in left {
        let sheet = &sheets[at];
        let is_copy = |of: usize, exact: bool| {
            let other = &sheets[of];
            let staged = sheet.staged && other.staged;
            let many = exact && sheet.lines.len() >= MANY && !goes_with(name(at), name(of));
            (staged || many) && !apart(at, of)
        };
        let exact = *same
            .entry(FxBuildHasher.hash_one(&sheet.lines))
            .or_insert(at);
        if exact != at && sheet.lines.len() > 2 && is_copy(exact, true) {
            found.push((at, exact));
            continue;
        }
        // How many lines each earlier sheet was the first to hold.
        let mut shared: FxHashMap<usize, usize> = FxHashMap::default();
        for line in &sheet.lines {
            match *owners.entry(*line).or_insert(at) {
                owner if owner != at => *shared.entry(owner).or_default() += 1,
                _ => {}
            }
        }
        let most = shared
            .into_iter()
            .max_by_key(|(owner, lines)| (*lines, std::cmp::Reverse(*owner)));
        if let Some((of, lines)) = most {
            let longer = sheet.lines.len().max(sheets[of].lines.len());
            if longer >= SEVERAL && lines * 10 >= longer * 9 && is_copy(of, false) {
                found.push((at, of));
            }
        }
    }
    found
}

fn sheets(list: &List) -> Vec<Sheet> {
    let items: Vec<u64> = (list.readings.iter())
        .map(|reading| FxBuildHasher.hash_one(&reading.item))
        .collect();
    let mut all: Vec<Sheet> = list.sheets.iter().map(|_| Sheet::default()).collect();
    for sheet in &mut all {
        sheet.staged = true;
    }
    for line in &list.lines {
        let What::Item(reading) = line.what else {
            continue;
        };
        let at = usize::from(line.sheet);
        let placement = list.placement_of(line);
        // A sheet's name stands for the stage where its rows name none.
        let own = placement
            .stage
            .as_deref()
            .filter(|stage| Some(*stage) != list.sheets[at].name.as_deref());
        let mut hasher = FxHasher::default();
        items[reading as usize].hash(&mut hasher);
        (line.quantity, line.places, own, &placement.place).hash(&mut hasher);
        all[at].lines.push(hasher.finish());
        all[at].staged &= own.is_some();
    }
    for sheet in &mut all {
        sheet.lines.sort_unstable();
    }
    all
}

/// Sheets that say the same lines twice and more, one after another, and nothing tells why: a slip that was printed with its
/// copy, a list with its second page. Questions, since it may be meant so.
pub fn said_again_below(list: &List) -> Vec<(usize, String)> {
    const ENOUGH: usize = 3;
    let by_sheet = list.lines.chunk_by(|a, b| a.sheet == b.sheet);
    by_sheet
        .filter_map(|lines| {
            // The title of the second may be taken for a line.
            let counted = lines.iter().filter(|line| line.quantity.is_some());
            let lines: Vec<&Line> = counted.collect();
            let item = |line: &Line| list.reading_of(line).map(|reading| &reading.item);
            let same = |a: &Line, b: &Line| {
                (a.quantity, a.places) == (b.quantity, b.places)
                    && item(a) == item(b)
                    && list.placement_of(a) == list.placement_of(b)
            };
            let times = (2..=4).find(|times| {
                let (length, rest) = (lines.len() / times, lines.len() % times);
                length >= ENOUGH
                    && rest == 0
                    && lines.iter().zip(&lines[length..]).all(|(a, b)| same(a, b))
            })?;
            let items = lines[..lines.len() / times].iter();
            let items: FxHashSet<_> = items.filter_map(|line| item(line)).collect();
            let [first, again] = [&lines[0], &lines[lines.len() / times]];
            let noun = list.row_noun();
            (items.len() >= ENOUGH).then(|| {
                let question = format!(
                    "{noun} {} and those below it say again what {noun} {} and those below it say, and all are counted: \
                     if it is a copy, take it out of the file; if it is meant so, say what each is for",
                    again.row, first.row
                );
                (usize::from(first.sheet), question)
            })
        })
        .collect()
}

/// True for names that differ in a number or a letter alone: `Frame 1` and `Frame 2`, `Side A`.
fn goes_with(a: &str, b: &str) -> bool {
    let stem = |name: &str| {
        let name = fold(name);
        let name = name.trim_end_matches(|c: char| c.is_ascii_digit());
        let name = match name.rsplit_once(' ') {
            Some((stem, last)) if last.chars().count() < 2 => stem,
            _ => name,
        };
        name.trim_end().to_owned()
    };
    stem(a) == stem(b)
}
