//! What stands behind several different names of one list, `Beam GL24h` and `Post GL24h`, is the number of none of them:
//! what they are made of, how large they are, or where they go (common practice, no source). It is a word of their names
//! then, in all lists.

use rustc_hash::{FxHashMap, FxHashSet};

use crate::{
    hardware::{PartName, Written},
    kit::{List, Reading, Role},
};

/// Takes such marks for words of the names.
pub fn know_shared_marks(lists: &mut [List]) {
    let shared: FxHashSet<Box<str>> = (lists.iter())
        .filter(|list| matches!(list.role, Role::Required | Role::Shipped))
        .flat_map(shared_in)
        .collect();
    if shared.is_empty() {
        return;
    }
    for reading in lists.iter_mut().flat_map(|list| &mut list.readings) {
        if let Some(part) = &mut reading.item.part
            && let Some(number) = part.number.take_if(|number| shared.contains(number))
        {
            match &mut part.description {
                Some(name) => *name = format!("{name}, {}", number.to_lowercase()).into(),
                None => part.number = Some(number),
            }
        }
    }
}

/// The numbers of a list that stand behind two names of which neither says all of the other.
fn shared_in(list: &List) -> impl Iterator<Item = Box<str>> {
    let mut names: FxHashMap<&str, Vec<&str>> = FxHashMap::default();
    let parts = list.readings.iter().filter_map(of_name_and_number);
    for (number, name) in parts {
        names.entry(number).or_default().push(name);
    }
    let differ = |names: &Vec<&str>| {
        let [first, others @ ..] = names.as_slice() else {
            return false;
        };
        let first = Written::of(first);
        others
            .iter()
            .any(|other| !first.may_be(&Written::of(other)))
    };
    names.retain(|_, names| names.len() > 1 && differ(names));
    names.into_keys().map(Into::into)
}

fn of_name_and_number(reading: &Reading) -> Option<(&str, &str)> {
    let PartName {
        number,
        description,
    } = reading.item.part.as_deref()?;
    Some((number.as_deref()?, description.as_deref()?))
}

#[cfg(test)]
mod tests {
    use super::super::sample::{ListOf, plain};
    use super::*;

    /// The count's name once the marks are known.
    #[track_caller]
    fn case(required: &[&str], counted: &str, expected: &str) {
        let of = |list: ListOf, parts: &[&str]| {
            let line = |list: ListOf, part: &&str| list.line(&format!("part {part}"), 1, &plain);
            parts.iter().fold(list, line).list()
        };
        let mut lists = [
            of(ListOf::required(), required),
            of(ListOf::counted(), &[counted]),
        ];
        know_shared_marks(&mut lists);
        let part = lists[1].readings[0].item.part.as_deref().expect("a part");
        assert_eq!(part.to_string(), expected);
    }

    #[test]
    fn marks_of_several_names() {
        let glulam = ["GL24H beam", "GL24H post"];
        case(&glulam, "GL24H posts", "posts, gl24h [part]");
        case(&glulam, "GL24H", "[part GL24H]");
        case(&glulam, "TB-1 post", "post [part TB-1]");
        case(
            &["A-1 rail, left", "A-1 rail, right"],
            "A-1 rail",
            "rail, a-1 [part]",
        );
        // One part, in two wordings.
        case(&["A-1 rail", "A-1 rails"], "A-1 rail", "rail [part A-1]");
        case(
            &["A-1 hinge", "A-1 butt hinge"],
            "A-1 hinge",
            "hinge [part A-1]",
        );
    }
}
