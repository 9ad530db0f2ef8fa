//! Bolts and screws of which a slip or a count does not say the head, by the parts list: `M6 x 16 cap screws` and
//! `M6 x 16 bolts` are its socket head cap screws, where these are its only fasteners of that size (common practice, no
//! source).

use rustc_hash::{FxHashMap, FxHashSet};

use crate::{
    doubt::Doubt,
    hardware::{Diameter, Item, Kind, Length, Style, Thread},
    kit::{List, Role},
};

/// What makes fasteners of one size.
type Size = (Diameter, Length, Option<Thread>);
/// What tells fasteners of one size apart.
type Head = (Option<Kind>, Option<Style>);

/// Gives them the head of the only one that they can be. A doubt says so.
pub fn head_by_size(lists: &mut [List]) {
    let (required, mut others): (Vec<&mut List>, Vec<&mut List>) =
        (lists.iter_mut()).partition(|list| list.role == Role::Required);
    let others = others
        .iter_mut()
        .filter(|list| matches!(list.role, Role::Shipped | Role::Counted));
    let unsaid = others.flat_map(|list| &mut list.readings);
    let mut unsaid = unsaid.filter(|reading| is_unsaid(&reading.item)).peekable();
    if unsaid.peek().is_none() {
        return;
    }
    let mut of_size: FxHashMap<Size, FxHashSet<Head>> = FxHashMap::default();
    for item in required.iter().flat_map(|list| &list.readings) {
        if let Some(size) = size(&item.item) {
            let of = of_size.entry(size).or_default();
            of.insert((item.item.kind, item.item.style));
        }
    }
    for reading in unsaid {
        let wanted = size(&reading.item).and_then(|size| of_size.get(&size));
        let mut wanted = wanted.into_iter().flatten();
        if let (Some(&(kind, style)), None) = (wanted.next(), wanted.next())
            && kind != reading.item.kind
            && matches!(kind, Some(Kind::Bolt | Kind::Screw))
        {
            (reading.item.kind, reading.item.style) = (kind, style);
            let item = &reading.item;
            let said = format!("taken for {item}, the only one of its size on the list");
            reading.doubts.push(Doubt::Said(said.into()));
        }
    }
}

fn is_unsaid(item: &Item) -> bool {
    let kind = matches!(item.kind, Some(Kind::Bolt | Kind::Screw));
    kind && item.style.is_none() && item.head.is_none() && item.called.is_none()
}

fn size(item: &Item) -> Option<Size> {
    let thread = item.effective_thread();
    Some((item.diameter?, item.length?, thread))
}

#[cfg(test)]
mod tests {
    use super::super::sample::{ListOf, plain};
    use super::*;

    /// The count's item and what is said of it, the list asking for `required`.
    fn counted(required: &[&str], counted: &str) -> (String, usize) {
        let list = required
            .iter()
            .fold(ListOf::required(), |list, item| list.line(item, 8, &plain));
        let mut lists = [
            list.list(),
            ListOf::counted().line(counted, 8, &plain).list(),
        ];
        head_by_size(&mut lists);
        let reading = &lists[1].readings[0];
        (reading.item.text(), reading.doubts.len())
    }

    #[test]
    fn the_only_one_of_its_size() {
        let carriage = "1/2 x 3 carriage bolt".to_owned();
        assert_eq!(
            counted(&["bolt carriage 1/2 3", "nut hex 1/2"], "screw 1/2 3"),
            (carriage, 1)
        );
        let set = "1/2 x 3 set screw".to_owned();
        assert_eq!(counted(&["screw set 1/2 3"], "bolt 1/2 3"), (set, 1));
        // Another length, one of its own kind, two that it may be, a wood screw, and a head that is said.
        for (required, own) in [
            (&["screw set 1/2 2"][..], "bolt 1/2 3"),
            (&["screw set 1/2 3", "bolt hex 1/2 3"], "bolt 1/2 3"),
            (&["bolt carriage 1/2 3"], "bolt 1/2 3"),
            (&["screw wood 1/2 3"], "bolt 1/2 3"),
            (&["screw set 1/2 3"], "bolt hex 1/2 3"),
        ] {
            assert_eq!(counted(required, own).1, 0, "{required:?} {own}");
        }
    }
}
