//! Words of a count that were not understood, beside hardware: `8 hex bolts M8 x 40 sent back`. They may take pieces
//! away, and no table of such words is complete, so that they are a remark that may change how many; a word that the
//! parts list or the slip uses, too, is one of its names (common practice, no source).

use rustc_hash::FxHashSet;

use crate::{
    doubt::Doubt,
    kit::{List, Role},
};

/// Doubts how many pieces the lines of counts mean that hold such words.
pub fn doubt_strange_words(lists: &mut [List]) {
    let (counts, others): (Vec<&mut List>, Vec<&mut List>) =
        (lists.iter_mut()).partition(|list| list.role == Role::Counted);
    let known: FxHashSet<String> = (others.iter())
        .filter(|list| matches!(list.role, Role::Required | Role::Shipped))
        .flat_map(|list| list.readings.iter().flat_map(|reading| &reading.doubts))
        .filter_map(strange)
        .flat_map(words)
        .collect();
    for reading in counts.into_iter().flat_map(|list| &mut list.readings) {
        if reading.item.part.is_some() {
            continue;
        }
        for doubt in &mut reading.doubts {
            if let Some(said) = strange(doubt)
                && words(said).any(|word| !known.contains(&word))
            {
                *doubt = Doubt::Remark(said.into());
            }
        }
    }
}

fn strange(doubt: &Doubt) -> Option<&str> {
    match doubt {
        Doubt::UnknownWords(said) => Some(said),
        _ => None,
    }
}

fn words(said: &str) -> impl Iterator<Item = String> {
    let words = said.split(|c: char| !c.is_alphanumeric());
    let singular = |word: &str| word.to_lowercase().trim_end_matches('s').to_owned();
    words.filter(|word| !word.is_empty()).map(singular)
}

#[cfg(test)]
mod tests {
    use super::super::sample::{ListOf, plain};
    use super::*;

    #[test]
    fn words_that_the_lists_share_are_names() {
        let with = |list: ListOf, said: &str| {
            let doubt = Doubt::UnknownWords(said.into());
            list.line("bolt hex 1/2-13 6", 8, &plain)
                .edit(|list| {
                    let reading = list.readings.last_mut().expect("just pushed");
                    reading.doubts.push(doubt.clone());
                })
                .list()
        };
        let doubts = |required: &str, counted: &str| {
            let mut lists = [
                with(ListOf::required(), required),
                with(ListOf::counted(), counted),
            ];
            doubt_strange_words(&mut lists);
            lists[1].readings[0].doubts.clone()
        };
        assert_eq!(doubts("drilled", "gone"), [Doubt::Remark("gone".into())]);
        for (required, counted) in [("drilled", "Drilled"), ("swing hook", "swing hooks")] {
            let shared = Doubt::UnknownWords(counted.into());
            assert_eq!(doubts(required, counted), [shared]);
        }
    }
}
