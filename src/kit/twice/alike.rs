//! Sheets that ask for the same, where nothing tells why.

use std::collections::BTreeSet;

use rustc_hash::FxHashMap;

use super::{Sheet, SheetUse, how_to_say, likeness::Likeness};
use crate::words::count;

/// A question about each sheet that asks for what one before it does.
pub(super) fn questions(left: &BTreeSet<usize>, sheets: &[Sheet]) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    // The first sheet of each kind, and of each kind and list: what is asked of two hangs on these alone,
    // and it is asked sooner of two of one list.
    let mut kinds: FxHashMap<_, (usize, FxHashMap<&str, usize>)> = FxHashMap::default();
    for &second in left {
        let sheet = &sheets[second];
        let kind = (
            sheet.group,
            &sheet.sums.stages,
            sheet.told.is_some(),
            &sheet.name.of,
        );
        let list = sheet.name.list.as_str();
        let earlier = kinds.values().flat_map(|(first, of_lists)| {
            let of_list = of_lists.get(list).filter(|of_list| *of_list != first);
            std::iter::once(first).chain(of_list)
        });
        let same = earlier
            .filter_map(|&first| Some((first, asks(&sheets[first], sheet)?)))
            .min_by_key(|(first, _)| *first);
        let (_, of_lists) = kinds.entry(kind).or_insert((second, FxHashMap::default()));
        of_lists.entry(list).or_insert(second);
        let Some((first, like)) = same else {
            continue;
        };
        let others = match like.shared - like.agree {
            0 => String::new(),
            others => format!(" ({others} in another number)"),
        };
        let name = sheet.name.text;
        let question = format!(
            "sheets {} and {name} ask for the same {}{others}, and both are counted: {}",
            sheets[first].name.text,
            count(like.shared as u64, "item"),
            how_to_say("if one is a copy of the other", name, SheetUse::LeftOut),
        );
        found.push((second, question));
    }
    found
}

/// How alike two sheets are, where that raises a question.
fn asks(first: &Sheet, second: &Sheet) -> Option<Likeness> {
    let (one, other) = (&first.sums.stages, &second.sums.stages);
    let same_stage = one.iter().any(|stage| other.contains(stage));
    let other_stages = !one.is_empty() && !other.is_empty() && !same_stage;
    let told = first.told.is_some() || second.told.is_some();
    if other_stages || told || first.name.tells_apart(&second.name) {
        return None;
    }
    let like = Likeness::between(&first.sums, &second.sums);
    let alike = like.is_exact() || like.of >= 5 && like.is_at_least(4, 5);
    let of_one = same_stage || first.name.list == second.name.list;
    (like.agree >= 3 && alike || like.is_of_the_same() && of_one).then_some(like)
}
