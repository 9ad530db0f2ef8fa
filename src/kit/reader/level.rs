//! Lists by levels: an assembly, and below it, a level deeper, what one of it is made of.
//!
//! Systems that plan production print them (common practice, no source). What stands below an assembly is
//! needed once for each of it, and the assembly itself is no piece.

use std::borrow::Cow;

use super::{
    super::{count::Count, role::Role, usage::Usage},
    Reader, named_rows,
};
use crate::{
    Doubt,
    columns::{Layout, Meaning},
    source::Row,
};

/// The rows that the next may stand below, from the top.
#[derive(Default)]
pub(super) struct Levels {
    above: Vec<Above>,
    /// Rows that were found to be assemblies.
    assemblies: Vec<(u32, String)>,
}

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

impl Reader<'_> {
    /// Multiplies what a row asks for by how many there are of what it stands below.
    pub(super) fn enter_level(&mut self, row: &Row, layout: &Layout, count: &mut Cow<Count>) {
        let cell = layout.cell(row, Meaning::Level);
        let level = match layout.outline {
            true => place(cell).map(|place| place.len() as u32),
            false => level(cell),
        };
        let Some(level) = level else { return };
        if !matches!(self.list.role, Role::Required | Role::Compared) {
            return;
        }
        let above = &mut self.levels.above;
        while above.pop_if(|above| above.level >= level).is_some() {}
        let mut pieces = count.pieces;
        if let Some(assembly) = above.last() {
            if let (Some(each), 1) = (count.pieces, count.places)
                && assembly.pieces != Some(1)
            {
                let has_total = !layout.cell(row, Meaning::Total).is_empty();
                pieces = times(count.to_mut(), each, has_total, assembly);
            }
            // What it is made of begins right below it.
            if assembly.is_part && assembly.line + 1 == self.list.lines.len() {
                let line = &mut self.list.lines[assembly.line];
                let mut placement = self.list.placements[line.placement as usize].clone();
                placement.usage = Some(Usage::Reference);
                line.placement = self.list.placements.len() as u32;
                self.list.placements.push(placement);
                let named = (assembly.row, assembly.name.clone());
                self.levels.assemblies.push(named);
            }
        }
        let name = self.item_text(layout, row);
        let is_part = !self.names_hardware(&name);
        self.levels.above.push(Above {
            level,
            row: row.number,
            name,
            pieces,
            is_part,
            line: self.list.lines.len(),
        });
    }

    /// Says which rows are assemblies and no pieces.
    pub(super) fn note_assemblies(&mut self) {
        let levels = std::mem::take(&mut self.levels);
        if !levels.assemblies.is_empty() {
            let told = format!(
                "assemblies by their level, and not counted beside what stands below them: {}",
                named_rows("row", &levels.assemblies)
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
