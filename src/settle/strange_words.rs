//! Words of a count that were not understood, beside hardware: `8 hex bolts M8 x 40 sent back`. They may take pieces
//! away, and no table of such words is complete, so that they are a remark that may change how many; a word that the
//! parts list or the slip uses, too, is one of its names (common practice, no source). So is what is
//! said behind the comma of a part's name: `8 rails, borrowed`.

use rustc_hash::FxHashSet;

use crate::{
    doubt::Doubt,
    kit::{List, Reading, Role, remark::may_change},
    notation::says_finish,
    words::singular_words,
};

/// Doubts how many pieces the lines of counts mean that hold such words.
pub fn doubt_strange_words(lists: &mut [List]) {
    let (counts, others): (Vec<&mut List>, Vec<&mut List>) =
        (lists.iter_mut()).partition(|list| list.role == Role::Counted);
    let readings = (others.iter())
        .filter(|list| matches!(list.role, Role::Required | Role::Shipped))
        .flat_map(|list| &list.readings);
    let said = readings.flat_map(|reading| {
        let doubts = reading.doubts.iter().filter_map(strange);
        doubts.chain(name(reading))
    });
    let known: FxHashSet<String> = said.flat_map(singular_words).collect();
    for reading in counts.into_iter().flat_map(|list| &mut list.readings) {
        let told = name(reading).and_then(|name| Some(name.rsplit_once(", ")?.1));
        if let Some(told) = told
            && !says_finish(told)
            && singular_words(told).any(|word| !known.contains(&word))
            && may_change(told, Role::Counted)
        {
            let told = told.into();
            reading.doubts.push(Doubt::Remark(told));
        }
        if reading.item.part.is_some() {
            continue;
        }
        for doubt in &mut reading.doubts {
            if let Some(said) = strange(doubt)
                && singular_words(said).any(|word| !known.contains(&word))
            {
                *doubt = Doubt::Remark(said.into());
            }
        }
    }
}

/// What a part is called.
fn name(reading: &Reading) -> Option<&str> {
    reading.item.part.as_deref()?.description.as_deref()
}

fn strange(doubt: &Doubt) -> Option<&str> {
    match doubt {
        Doubt::UnknownWords(said) => Some(said),
        _ => None,
    }
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

    /// Common practice, no source.
    #[test]
    fn what_is_said_behind_the_comma_of_a_name() {
        let case = |required: &str, counted: &str, expected: Option<&str>| {
            let list =
                |of: ListOf, name: &str| of.line(&format!("part - {name}"), 8, &plain).list();
            let mut lists = [
                list(ListOf::required(), required),
                list(ListOf::counted(), counted),
            ];
            doubt_strange_words(&mut lists);
            let doubts = &lists[1].readings[0].doubts;
            let said = expected.map(|said| Doubt::Remark(said.into()));
            assert_eq!(doubts.first(), said.as_ref(), "{counted}");
        };
        case("rail", "rail, borrowed", Some("borrowed"));
        case("rail", "rail, see bo", Some("see bo"));
        case("rail, left", "rail, left", None);
        case("rail", "rail, ok", None);
        case("rail", "rail, galvanised", None);
        case("rail", "rail", None);
    }
}
