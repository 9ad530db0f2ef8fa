//! Sheets of one workbook that say the same thing twice: a sheet of totals, an older copy.
//!
//! Sheets are compared by what they ask for in all, item by item. What is plainly a sheet of totals, or
//! a copy by its name, is not added again, and its figures check the rest. Two sheets that merely ask
//! for the same are not: two sides of a structure do. Where that is not plain, it is asked: figures that
//! agree may settle it, items of both are enough to ask, since figures change from one state of a list to the next.

//!
//! [`sums`]: what sheets ask for in all; [`likeness`]: how alike two are by it; [`names`]: what their names say of them.

mod likeness;
mod names;
mod sums;

use indexmap::IndexMap;

use super::{
    again::{Again, AgainKind},
    copies::{copies, said_again_below},
    input::SheetUse,
    list::List,
};
use crate::words::{count, fold};
use likeness::Likeness;
use names::{
    are_of_one_list, is_of_a_list, is_of_totals, is_old, is_superseded, revision,
    tells_places_apart,
};
use sums::{Summed, Sums, differences, sums};

/// What was found out about the sheets of a workbook, by their index.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Twice {
    pub again: Vec<(usize, Again)>,
    /// What a person should settle.
    pub questions: Vec<(usize, String)>,
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
    let name = |sheet: usize| list.sheets[sheet].name.as_deref().unwrap_or_default();
    let told = |sheet: usize| told.get(&fold(name(sheet))).copied();
    let mut left: Vec<usize> = (0..sums.len())
        .filter(|&s| !sums[s].items.is_empty())
        .collect();
    let again = |sheet: usize, kind: AgainKind, of: &[usize]| {
        let mut others = Sums::default();
        for &of in of {
            others.add(&sums[of]);
        }
        Again {
            kind,
            of: of.iter().map(|&of| name(of).to_owned()).collect(),
            agree: Likeness::between(&sums[sheet], &others).agree as u64,
            differences: differences(&sums[sheet], &others, &texts),
        }
    };

    let checks: Vec<usize> = (left.iter().copied())
        .filter(|&sheet| told(sheet) == Some(SheetUse::Checks))
        .collect();
    left.retain(|sheet| !checks.contains(sheet));
    for sheet in checks {
        let others = |kind| again(sheet, kind, &left);
        found.again.push((sheet, others(AgainKind::Totals)));
    }

    // Older copies, by their names.
    for sheet in left.clone() {
        if told(sheet).is_some() {
            continue;
        }
        let (own, is_old_itself) = (revision(name(sheet)), is_old(name(sheet)));
        let (hidden, superseded) = (list.sheets[sheet].hidden, is_superseded(name(sheet)));
        if own.is_none() && !is_old_itself && !hidden && !superseded {
            continue;
        }
        let newer = left.iter().copied().find(|&other| {
            let like = Likeness::between(&sums[sheet], &sums[other]);
            let older = match (&own, revision(name(other))) {
                (Some((base, rev)), Some((other, newer))) => *base == other && *rev < newer,
                _ => false,
            };
            let hidden = hidden && !list.sheets[other].hidden && like.is_exact();
            let old = is_old_itself && !is_old(name(other));
            // Figures change from one state of a list to the next; most of its items do not.
            let old_of_it = superseded
                && !is_superseded(name(other))
                && are_of_one_list(name(sheet), name(other));
            let named = older || old_of_it;
            other != sheet
                && (named && like.is_of_the_same() || like.is_at_least(1, 2) && (old || hidden))
        });
        if let Some(newer) = newer {
            found
                .again
                .push((sheet, again(sheet, AgainKind::Copy, &[newer])));
            left.retain(|&other| other != sheet);
        }
    }

    // Copies by what their lines say.
    for (sheet, of) in copies(list, &left, name, tells_places_apart) {
        if told(sheet).is_none() && told(of) != Some(SheetUse::LeftOut) {
            found
                .again
                .push((sheet, again(sheet, AgainKind::Copy, &[of])));
            left.retain(|&other| other != sheet);
        }
    }

    // Sheets of totals: the one that is most surely one first.
    let open = |left: &[usize]| {
        let of = left.iter().copied().filter(|&sheet| told(sheet).is_none());
        of.collect::<Vec<usize>>()
    };
    let has_hidden = list
        .sheets
        .iter()
        .any(|s| s.hidden && s.passed_over.is_some());
    let named: Vec<bool> = (0..sums.len())
        .map(|sheet| is_of_totals(name(sheet)))
        .collect();
    while let Some((sheet, rest, sure)) =
        totals(&open(&left), &left, has_hidden, &sums, &name, &named)
    {
        if !sure {
            let like = again(sheet, AgainKind::Totals, &rest);
            found.questions.push((
                sheet,
                format!(
                    "sheet {} may be the totals of the others ({}), and is counted beside them: {}",
                    name(sheet),
                    like.compared(),
                    how_to_say("if so", name(sheet), SheetUse::Checks),
                ),
            ));
            break;
        }
        found
            .again
            .push((sheet, again(sheet, AgainKind::Totals, &rest)));
        left.retain(|&other| other != sheet);
    }

    // Sheets that ask for the same, and nothing tells why.
    for (at, &second) in left.iter().enumerate() {
        let same = left[..at].iter().find_map(|&first| {
            let like = Likeness::between(&sums[first], &sums[second]);
            let alike = like.is_exact() || like.of >= 5 && like.is_at_least(4, 5);
            let (one, other) = (&sums[first].stages, &sums[second].stages);
            let same_stage = one.iter().any(|stage| other.contains(stage));
            let other_stages = !one.is_empty() && !other.is_empty() && !same_stage;
            let of_one = || same_stage || are_of_one_list(name(first), name(second));
            let asks = like.agree >= 3 && alike || like.is_of_the_same() && of_one();
            let settled = || {
                other_stages
                    || told(first).is_some()
                    || told(second).is_some()
                    || tells_places_apart(name(first), name(second))
            };
            (asks && !settled()).then_some((first, like))
        });
        let Some((first, like)) = same else {
            continue;
        };
        let others = match like.shared - like.agree {
            0 => String::new(),
            others => format!(" ({others} in another number)"),
        };
        found.questions.push((
            second,
            format!(
                "sheets {} and {} ask for the same {}{others}, and both are counted: {}",
                name(first),
                name(second),
                count(like.shared as u64, "item"),
                how_to_say(
                    "if one is a copy of the other",
                    name(second),
                    SheetUse::LeftOut
                ),
            ),
        ));
    }
    found
}

fn how_to_say(condition: &str, sheet: &str, what: SheetUse) -> String {
    format!(
        "{condition}, write sheets = {{ \"{sheet}\" = \"{what}\" }} beside this file in the job file, else \"{}\"",
        SheetUse::Counted
    )
}

/// The sheet that is most surely one of totals, the sheets that it totals, and whether that is sure. `has_hidden`: it may
/// total sheets that are not read, too. `named`: each that is called so.
fn totals<'a>(
    open: &[usize],
    left: &[usize],
    has_hidden: bool,
    sums: &[Sums],
    name: &impl Fn(usize) -> &'a str,
    are_named: &[bool],
) -> Option<(usize, Vec<usize>, bool)> {
    let mut all = Sums::default();
    for &part in left.iter().filter(|sheet| !are_named[**sheet]) {
        all.add(&sums[part]);
    }
    let candidates = open.iter().filter_map(|&sheet| {
        let named = are_named[sheet];
        let parts = || {
            let parts = left.iter().copied();
            parts.filter(|&other| other != sheet && !are_named[other])
        };
        // A list in two parts is no total of one of them.
        let takes_in = |holds: &dyn Fn(usize) -> bool| {
            let half = |of: usize| {
                let items = &sums[of].items;
                items.keys().filter(|item| holds(**item)).count() * 2 >= items.len()
            };
            parts().all(half)
        };
        let names_all = || takes_in(&|item| sums[sheet].items.contains_key(&item));
        if !named && !names_all() {
            return None;
        }
        let rest: Vec<usize> = parts().collect();
        if rest.is_empty() {
            return None;
        }
        let others = match named {
            true => &all,
            false => &all.without(&sums[sheet]),
        };
        // Two sides of a structure are alike, and what stands between them may be the sum of both.
        let are_unlike = |parts: &[usize]| {
            let first = &sums[parts[0]];
            parts[1..]
                .iter()
                .any(|&of| !Likeness::between(first, &sums[of]).is_exact())
        };
        let once = sums[sheet].items.values().all(|sum| sum.lines == 1);
        let several = others.items.values().filter(|sum| sum.lines > 1).count();
        if !(rest.len() > 1 || once && several > 1 || named && has_hidden) {
            return None;
        }
        let takes_in_all = takes_in(&|item| sums[sheet].agrees(others, item));
        let like = Likeness::between(&sums[sheet], others);
        let near = |parts, of| like.is_at_least(parts, of) && takes_in_all;
        // A name of no part of the kit makes it likelier.
        let of_list = named || is_of_a_list(name(sheet)) && rest.len() > 1;
        let sure = match (like.is_exact(), of_list) {
            (true, true) => like.agree >= if named { 2 } else { 3 },
            // Figures that are sums of several sheets agree by no chance.
            (true, false) => like.agree >= 5 || like.agree >= 3 && several > 0 && are_unlike(&rest),
            (false, true) if named => near(3, 4) && like.agree >= 3,
            (false, true) => near(4, 5) && like.agree >= 4,
            (false, false) => near(4, 5) && like.agree >= 8,
        };
        // Of a name that says nothing, half in like numbers are enough to ask; so is one that is a sum.
        let perhaps = like.is_exact() && (like.agree >= 2 || several > 0)
            || named && like.agree > 0
            || of_list && like.is_of_the_same()
            || like.is_at_least(1, 2) && like.agree >= 2 && like.is_of_nearly_the_same();
        (sure || perhaps).then(|| ((sure, like.is_exact(), named, like.agree), sheet, rest))
    });
    candidates
        .max_by_key(|(rank, ..)| *rank)
        .map(|((sure, ..), sheet, rest)| (sheet, rest, sure))
}

#[cfg(test)]
mod tests;
