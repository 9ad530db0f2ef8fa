//! Sheets of one workbook that say the same thing twice: a sheet of totals, an older copy.
//!
//! Sheets are compared by what they ask for in all, item by item. What is plainly a sheet of totals, or
//! a copy by its name, is not added again, and its figures check the rest. Two sheets that merely ask
//! for the same are not: two sides of a structure do. Where that is not plain, it is asked: figures that
//! agree may settle it, items of both are enough to ask, since figures change from one state of a list to the next.
//!
//! Sheets that ask for the very same are one group, of which one is compared: a workbook may have thousands of them.
//!
//! [`sums`]: what sheets ask for in all; [`likeness`]: how alike two are by it; [`names`]: what their names say of them;
//! [`totals`]: sheets that total the others; [`alike`]: sheets that ask for the same.

mod alike;
mod likeness;
mod names;
mod sums;
mod totals;

use std::collections::BTreeSet;

use indexmap::IndexMap;
use rustc_hash::FxHashMap;

use super::{
    again::{Again, AgainKind},
    copies::{copies, said_again_below},
    input::SheetUse,
    list::List,
};
use crate::words::fold;
use likeness::Likeness;
use names::Name;
use sums::{Summed, Sums, differences, sums};

/// What was found out about the sheets of a workbook, by their index.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Twice {
    pub again: Vec<(usize, Again)>,
    /// What a person should settle.
    pub questions: Vec<(usize, String)>,
}

/// A sheet as it is compared.
struct Sheet<'a> {
    name: Name<'a>,
    hidden: bool,
    /// What the job says of it.
    told: Option<SheetUse>,
    sums: Sums,
    /// The same for sheets that ask for the same number of the same items.
    group: usize,
}

/// Compares the sheets that were read. `told`: what the job says of sheets, by folded name.
pub fn find(list: &List, told: &IndexMap<String, SheetUse>) -> Twice {
    let mut found = Twice {
        questions: said_again_below(list),
        ..Twice::default()
    };
    let read = list.sheets.iter().filter(|s| s.passed_over.is_none());
    if read.count() < 2 {
        return found;
    }
    let Summed {
        sheets: sums,
        texts,
    } = sums(list);
    let sheets = sheets(list, told, sums);
    let mut left: BTreeSet<usize> = (0..sheets.len())
        .filter(|&sheet| !sheets[sheet].sums.items.is_empty())
        .collect();
    let again = |sheet: usize, kind: AgainKind, of: &mut dyn Iterator<Item = usize>| {
        let (mut others, mut names) = (Sums::default(), Vec::new());
        for of in of {
            others.add(&sheets[of].sums);
            names.push(sheets[of].name.text.to_owned());
        }
        let sums = &sheets[sheet].sums;
        let again = Again {
            kind,
            of: names,
            agree: Likeness::between(sums, &others).agree as u64,
            differences: differences(sums, &others, &texts),
        };
        (sheet, again)
    };

    let checks: Vec<usize> = (left.iter().copied())
        .filter(|&sheet| sheets[sheet].told == Some(SheetUse::Checks))
        .collect();
    left.retain(|sheet| !checks.contains(sheet));
    for sheet in checks {
        let of = &mut left.iter().copied();
        found.again.push(again(sheet, AgainKind::Totals, of));
    }

    // Older copies, by their names.
    for sheet in left.clone() {
        if let Some(newer) = newer_than(sheet, &left, &sheets) {
            let of = &mut [newer].into_iter();
            found.again.push(again(sheet, AgainKind::Copy, of));
            left.remove(&sheet);
        }
    }

    // Copies by what their lines say.
    let still: Vec<usize> = left.iter().copied().collect();
    let name = |sheet: usize| sheets[sheet].name.text;
    let apart = |a: usize, b: usize| sheets[a].name.tells_apart(&sheets[b].name);
    for (sheet, of) in copies(list, &still, name, apart) {
        if sheets[sheet].told.is_none() && sheets[of].told != Some(SheetUse::LeftOut) {
            let of = &mut [of].into_iter();
            found.again.push(again(sheet, AgainKind::Copy, of));
            left.remove(&sheet);
        }
    }

    // Sheets of totals: the one that is most surely one first.
    let has_hidden = list
        .sheets
        .iter()
        .any(|s| s.hidden && s.passed_over.is_some());
    while let Some(of) = totals::most_surely(&left, has_hidden, &sheets) {
        let parts = &mut of.parts.iter().copied();
        let like = again(of.sheet, AgainKind::Totals, parts);
        if !of.sure {
            let name = name(of.sheet);
            let question = format!(
                "sheet {name} may be the totals of the others ({}), and is counted beside them: {}",
                like.1.compared(),
                how_to_say("if so", name, SheetUse::Checks),
            );
            found.questions.push((of.sheet, question));
            break;
        }
        found.again.push(like);
        left.remove(&of.sheet);
    }

    found.questions.extend(alike::questions(&left, &sheets));
    found
}

/// The sheets of a list as they are compared, in order.
fn sheets<'a>(
    list: &'a List,
    told: &IndexMap<String, SheetUse>,
    sums: Vec<Sums>,
) -> Vec<Sheet<'a>> {
    let mut groups: FxHashMap<Vec<(usize, u64)>, usize> = FxHashMap::default();
    let both = list.sheets.iter().zip(sums);
    both.map(|(sheet, sums)| {
        let name = sheet.name.as_deref().unwrap_or_default();
        let asked = sums.items.iter().map(|(item, sum)| (*item, sum.pieces));
        let next = groups.len();
        Sheet {
            name: Name::of(name),
            hidden: sheet.hidden,
            told: told.get(&fold(name)).copied(),
            group: *groups.entry(asked.collect()).or_insert(next),
            sums,
        }
    })
    .collect()
}

/// The first sheet that a sheet is an older copy of, by their names.
fn newer_than(sheet: usize, left: &BTreeSet<usize>, sheets: &[Sheet]) -> Option<usize> {
    let Sheet {
        name, hidden, sums, ..
    } = &sheets[sheet];
    let may_be = name.revision.is_some() || name.is_old || *hidden || name.is_superseded;
    if sheets[sheet].told.is_some() || !may_be {
        return None;
    }
    left.iter().copied().find(|&at| {
        let other = &sheets[at];
        let older = match (&name.revision, &other.name.revision) {
            (Some((base, rev)), Some((other, newer))) => base == other && rev < newer,
            _ => false,
        };
        let hidden = *hidden && !other.hidden && sheets[sheet].group == other.group;
        let old = name.is_old && !other.name.is_old;
        // Figures change from one state of a list to the next; most of its items do not.
        let old_of_it =
            name.is_superseded && !other.name.is_superseded && name.list == other.name.list;
        let named = older || old_of_it;
        at != sheet && (named || old || hidden) && {
            let like = Likeness::between(sums, &other.sums);
            named && like.is_of_the_same() || (old || hidden) && like.is_at_least(1, 2)
        }
    })
}

fn how_to_say(condition: &str, sheet: &str, what: SheetUse) -> String {
    format!(
        "{condition}, write sheets = {{ \"{sheet}\" = \"{what}\" }} beside this file in the job file, else \"{}\"",
        SheetUse::Counted
    )
}

#[cfg(test)]
mod tests;
