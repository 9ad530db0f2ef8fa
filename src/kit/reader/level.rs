//! Lists by levels: an assembly, and below it, a level deeper, what one of it is made of.
//!
//! Systems that plan production print them (common practice, no source). What stands below an assembly is
//! needed once for each of it, and the assembly itself is no piece.

use std::borrow::Cow;

use indexmap::IndexSet;
use rustc_hash::FxHashMap;

use super::{
    super::{count::Count, line::LineStatus, role::Role, usage::Usage},
    Reader,
    notes::named_rows,
};
use crate::{
    Doubt,
    columns::{Layout, LevelBy, Meaning},
    source::Row,
    words::fold,
};

/// The rows that the next may stand below, from the top.
#[derive(Default)]
pub(super) struct Levels {
    above: Vec<Above>,
    /// Rows by what a row below may call them: their part number, their name.
    named: FxHashMap<String, Above>,
    /// Lines by what they are parts of, which no row above is called.
    waiting: FxHashMap<String, Vec<usize>>,
    /// Rows that were found to be assemblies.
    assemblies: IndexSet<(u32, String)>,
}

#[derive(Clone)]
struct Above {
    level: u32,
    row: u32,
    name: String,
    /// How many are needed in all.
    pieces: Option<u64>,
    /// It is no hardware: a bolt that stands above its washer is a piece.
    is_part: bool,
    /// The number of its line.
    line: usize,
}

/// `2`, `..2`: how deep a row stands.
fn level(text: &str) -> Option<u32> {
    text.trim().trim_start_matches(['.', '-', ' ']).parse().ok()
}

/// `1.2`: the numbers of a row in an outline.
fn place(text: &str) -> Option<Vec<u32>> {
    let text = text.trim().trim_end_matches('.');
    text.split('.').map(|number| number.parse().ok()).collect()
}

/// True for the numbers of an outline, each of which follows that above: 1, 1.1, 1.2, 2. Some rows stand below
/// others.
pub(super) fn are_of_outline<'c>(cells: impl Iterator<Item = &'c str>) -> bool {
    let Some(places) = cells.map(place).collect::<Option<Vec<_>>>() else {
        return false;
    };
    let follows = |above: &[u32], next: &[u32]| match next.split_last() {
        Some((1, assembly)) if assembly == above => true,
        Some((last, before)) => {
            let beside = above.get(before.len());
            above.starts_with(before) && beside.is_some_and(|of| of + 1 == *last)
        }
        None => false,
    };
    places.first().is_some_and(|first| first.len() == 1)
        && places.windows(2).all(|pair| follows(&pair[0], &pair[1]))
        && places.iter().any(|place| place.len() > 1)
}

/// True for levels as such a list has them: each is at most one deeper than that above, and some are.
pub(super) fn are_levels<'c>(cells: impl Iterator<Item = &'c str>) -> bool {
    let Some(levels) = cells.map(level).collect::<Option<Vec<u32>>>() else {
        return false;
    };
    let steps = || levels.iter().zip(levels.iter().skip(1));
    levels.first().is_some_and(|first| *first <= 1)
        && steps().all(|(above, level)| *level <= above + 1)
        && steps().any(|(above, level)| level > above)
}

/// Names of what is made of pieces, though they name hardware: `Bolt set`.
const SETS: &[&str] = &["set", "sets", "kit", "kits", "pack", "assembly", "assy"];

/// True where some rows are set in below others, each with a figure of its own.
pub(super) fn are_set_in(rows: &[&Row], described: usize, counted: usize) -> bool {
    let counts = |row: &Row| row.get(counted).starts_with(|c: char| c.is_ascii_digit());
    let indent = |row: &Row| row.indent(described);
    let first = rows.first().map(|row| indent(row));
    rows.iter().all(|row| first <= Some(indent(row)))
        && (rows.windows(2))
            .any(|pair| counts(pair[0]) && counts(pair[1]) && indent(pair[0]) < indent(pair[1]))
}

impl Reader<'_> {
    /// Multiplies what a row asks for by how many there are of what it stands below.
    pub(super) fn enter_level(&mut self, row: &Row, layout: &Layout, count: &mut Cow<Count>) {
        if !matches!(self.list.role, Role::Required | Role::Compared) {
            return;
        }
        if !layout.has(Meaning::Level) {
            self.enter_parent(row, layout, count);
            return;
        }
        let cell = layout.cell(row, Meaning::Level);
        let level = match &layout.level_by {
            LevelBy::Number => level(cell),
            LevelBy::Outline => place(cell).map(|place| place.len() as u32),
            LevelBy::Indent => (layout.column(Meaning::Level)).map(|at| row.indent(at).into()),
            LevelBy::Columns(of) => {
                let filled = |&column: &u16| !row.get(column.into()).is_empty();
                of.iter().position(filled).map(|at| at as u32)
            }
        };
        let Some(level) = level else { return };
        let above = &mut self.levels.above;
        while above.pop_if(|above| above.level >= level).is_some() {}
        let mut pieces = count.pieces;
        if let Some(assembly) = above.last().cloned() {
            pieces = self.take_below(&assembly, row, layout, count);
            // What it is made of begins right below it.
            if assembly.line + 1 == self.list.lines.len() {
                self.name_assembly(&assembly);
            }
        }
        let of_row = self.above(row, layout, level, pieces);
        self.levels.above.push(of_row);
    }

    /// Multiplies what a row asks for by how many there are of what its cell says it is a part of.
    fn enter_parent(&mut self, row: &Row, layout: &Layout, count: &mut Cow<Count>) {
        let parent = fold(layout.cell(row, Meaning::Parent));
        let mut pieces = count.pieces;
        let line = self.list.lines.len();
        if let Some(assembly) = self.levels.named.get(&parent).cloned() {
            pieces = self.take_below(&assembly, row, layout, count);
            self.name_assembly(&assembly);
        } else if !parent.is_empty() {
            self.levels.waiting.entry(parent).or_default().push(line);
        }
        let of_row = self.above(row, layout, 0, pieces);
        let names = [layout.cell(row, Meaning::PartNumber), of_row.name.as_str()].map(fold);
        for name in names.into_iter().filter(|name| !name.is_empty()) {
            for line in self.levels.waiting.remove(&name).into_iter().flatten() {
                self.doubt_waiting(line, &of_row);
            }
            self.levels
                .named
                .entry(name)
                .or_insert_with(|| of_row.clone());
        }
    }

    /// Doubts a line that stands above what it is a part of.
    fn doubt_waiting(&mut self, line: usize, assembly: &Above) {
        let Some(of) = self
            .list
            .lines
            .get(line)
            .filter(|_| assembly.pieces != Some(1))
        else {
            return;
        };
        if self.list.status_of(of) == LineStatus::Read {
            self.tally.read -= 1;
            self.tally.check += 1;
        }
        let doubt = format!(
            "is a part of \"{}\", of which row {} says how many: taken as needed once",
            assembly.name, assembly.row
        );
        let doubts = &mut self.list.lines[line].more_mut().doubts;
        doubts.push(Doubt::HowMany(doubt.into()));
    }

    /// What a row asks for, that stands below an assembly.
    fn take_below(
        &self,
        assembly: &Above,
        row: &Row,
        layout: &Layout,
        count: &mut Cow<Count>,
    ) -> Option<u64> {
        let (Some(each), 1) = (count.pieces, count.places) else {
            return count.pieces;
        };
        if assembly.pieces == Some(1) {
            return count.pieces;
        }
        let has_total = !layout.cell(row, Meaning::Total).is_empty();
        times(count.to_mut(), each, has_total, assembly)
    }

    fn above(&self, row: &Row, layout: &Layout, level: u32, pieces: Option<u64>) -> Above {
        let name = self.item_text(layout, row);
        let last = name.rsplit(|c: char| !c.is_alphanumeric()).next();
        let is_set = last.is_some_and(|word| SETS.contains(&word.to_lowercase().as_str()));
        Above {
            level,
            row: row.number,
            is_part: is_set || !self.names_hardware(&name),
            name,
            pieces,
            line: self.list.lines.len(),
        }
    }

    /// Takes a row, below which its parts stand, for no piece.
    fn name_assembly(&mut self, assembly: &Above) {
        let named = (assembly.row, assembly.name.clone());
        let line = self.list.lines.get_mut(assembly.line);
        let Some(line) = line.filter(|line| line.row == assembly.row) else {
            return;
        };
        if !assembly.is_part || self.levels.assemblies.contains(&named) {
            return;
        }
        let mut placement = self.list.placements[line.placement as usize].clone();
        placement.usage = Some(Usage::Reference);
        line.placement = self.list.placements.len() as u32;
        self.list.placements.push(placement);
        self.levels.assemblies.insert(named);
    }

    /// Says which rows are assemblies and no pieces.
    pub(super) fn note_assemblies(&mut self) {
        let levels = std::mem::take(&mut self.levels);
        if !levels.assemblies.is_empty() {
            let told = format!(
                "assemblies by their level, and not counted beside what stands below them: {}",
                named_rows("row", &Vec::from_iter(levels.assemblies))
            );
            self.list.sheets[usize::from(self.sheet)].notes.push(told);
        }
    }
}

/// Takes `each` for what one of an assembly needs, unless the row's total says otherwise: how many are
/// needed in all.
fn times(count: &mut Count, each: u64, has_total: bool, assembly: &Above) -> Option<u64> {
    let Some((all, places)) = assembly.pieces.and_then(|of| {
        let places = u32::try_from(of).ok()?;
        Some((each.checked_mul(of)?, places))
    }) else {
        let doubt = format!(
            "stands below \"{}\", of which no number is stated: taken as needed once",
            assembly.name
        );
        count.doubts.push(Doubt::HowMany(doubt.into()));
        return Some(each);
    };
    let is_total =
        |doubt: &Doubt| matches!(doubt, Doubt::TotalDisagrees { total, .. } if *total == all);
    let confirmed = count.doubts.iter().any(is_total);
    count.doubts.retain(|doubt| !is_total(doubt));
    let disagrees = |doubt: &Doubt| matches!(doubt, Doubt::TotalDisagrees { .. });
    if has_total && !confirmed && !count.doubts.iter().any(disagrees) {
        let doubt = format!(
            "stands below {places} of \"{}\", and its total is {each}: taken as in all",
            assembly.name
        );
        count.doubts.push(Doubt::OrElse {
            pieces: all,
            said: doubt.into(),
        });
        return Some(each);
    }
    if !confirmed {
        let doubt = format!(
            "stands below {places} of \"{}\": taken for each of them, {all} in all",
            assembly.name
        );
        count.doubts.push(Doubt::OrElse {
            pieces: each,
            said: doubt.into(),
        });
    }
    count.places = places;
    Some(all)
}
