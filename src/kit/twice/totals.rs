//! Sheets that total the others.

use std::collections::{BTreeMap, BTreeSet};

use super::{
    Sheet,
    likeness::Likeness,
    names::{is_of_a_list, is_of_totals},
    sums::Sums,
};

/// A sheet that may be one of totals.
pub(super) struct Totals {
    pub(super) sheet: usize,
    /// The sheets that it totals.
    pub(super) parts: Vec<usize>,
    pub(super) sure: bool,
}

/// Of the sheets that are left, the one that is most surely one of totals. `has_hidden`: it may total sheets
/// that are not read, too.
pub(super) fn most_surely(
    left: &BTreeSet<usize>,
    has_hidden: bool,
    sheets: &[Sheet],
) -> Option<Totals> {
    let is_named = |sheet: usize| is_of_totals(sheets[sheet].name.text);
    let parts: Vec<usize> = (left.iter().copied())
        .filter(|&sheet| !is_named(sheet))
        .collect();
    let mut all = Sums::default();
    // One sheet of each group, and how many there are of it.
    let mut groups: BTreeMap<usize, (usize, usize)> = BTreeMap::new();
    for &part in &parts {
        all.add(&sheets[part].sums);
        groups.entry(sheets[part].group).or_insert((part, 0)).1 += 1;
    }
    let several = all.of_several_lines();
    let candidates = left.iter().copied().filter_map(|sheet| {
        let Sheet {
            name,
            told,
            sums,
            group,
            ..
        } = &sheets[sheet];
        let named = is_named(sheet);
        let rest = parts.len() - usize::from(!named);
        if told.is_some() || rest == 0 {
            return None;
        }
        // What the others ask for of the items of this sheet, and of how many they ask more.
        let own = |of: &Sums| of.of_the_items_of(sums);
        let (here, more) = match named {
            true => (own(&all), all.items.len()),
            false => {
                let here = own(&all).without(sums);
                let gone = sums.items.len() - here.items.len();
                (here, all.items.len() - gone)
            }
        };
        let like = Likeness::among(sums, &here, more);
        let several = several - own(&all).of_several_lines() + here.of_several_lines();
        let once = sums.items.values().all(|sum| sum.lines == 1);
        if !(rest > 1 || once && several > 1 || named && has_hidden) {
            return None;
        }
        let others = || {
            let others = groups
                .iter()
                .filter(|(of, (_, sheets))| *sheets > usize::from(!named && *of == group));
            others.map(|(_, (part, _))| &sheets[*part].sums)
        };
        // A list in two parts is no total of one of them.
        let takes_in = |holds: &dyn Fn(usize) -> bool| {
            let half = |of: &Sums| {
                of.items.keys().filter(|item| holds(**item)).count() * 2 >= of.items.len()
            };
            others().all(half)
        };
        // Two sides of a structure are alike, and what stands between them may be the sum of both.
        let are_unlike = || others().nth(1).is_some();
        let near =
            |parts, of| like.is_at_least(parts, of) && takes_in(&|item| sums.agrees(&here, item));
        // A name of no part of the kit makes it likelier.
        let of_list = named || is_of_a_list(name.text) && rest > 1;
        let sure = match (like.is_exact(), of_list) {
            (true, true) => like.agree >= if named { 2 } else { 3 },
            // Figures that are sums of several sheets agree by no chance.
            (true, false) => like.agree >= 5 || like.agree >= 3 && several > 0 && are_unlike(),
            (false, true) if named => like.agree >= 3 && near(3, 4),
            (false, true) => like.agree >= 4 && near(4, 5),
            (false, false) => like.agree >= 8 && near(4, 5),
        };
        // Of a name that says nothing, half in like numbers are enough to ask; so is one that is a sum.
        let perhaps = like.is_exact() && (like.agree >= 2 || several > 0)
            || named && like.agree > 0
            || of_list && like.is_of_the_same()
            || like.is_at_least(1, 2) && like.agree >= 2 && like.is_of_nearly_the_same();
        let names_all = || takes_in(&|item| sums.items.contains_key(&item));
        ((sure || perhaps) && (named || names_all()))
            .then_some(((sure, like.is_exact(), named, like.agree), sheet))
    });
    let ((sure, ..), sheet) = candidates.max_by_key(|(rank, _)| *rank)?;
    Some(Totals {
        sheet,
        parts: parts.into_iter().filter(|part| *part != sheet).collect(),
        sure,
    })
}
