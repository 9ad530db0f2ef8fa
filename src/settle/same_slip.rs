//! One slip that is given twice: as a workbook and as text, or with its rows in another order. Its pieces came once.

use std::hash::{BuildHasher, Hash, Hasher};

use rustc_hash::{FxBuildHasher, FxHashMap, FxHasher};

use crate::{
    kit::{List, Role, What},
    words::{day, fold},
};

/// Fewer lines may well be the same in two parcels of which nothing tells them apart.
const ENOUGH: usize = 2;

/// Asks about slips that list the same as one before, where neither number, date nor parcel tells them apart.
pub fn ask_of_slips_given_twice(lists: &mut [List]) {
    let mut by_lines: FxHashMap<u64, Vec<usize>> = FxHashMap::default();
    let mut twice: Vec<(usize, usize)> = Vec::new();
    let is_slip = |list: &List| list.role == Role::Shipped && !list.lines.is_empty();
    let mut of_length: FxHashMap<usize, usize> = FxHashMap::default();
    for list in lists.iter().filter(|list| is_slip(list)) {
        *of_length.entry(list.lines.len()).or_default() += 1;
    }
    for (at, list) in lists.iter().enumerate() {
        if !is_slip(list) || of_length[&list.lines.len()] < 2 {
            continue;
        }
        let before = by_lines.entry(said(list)).or_default();
        let same = before.iter().find(|of| may_be_one(list, &lists[**of]));
        match same {
            Some(&first) => twice.push((at, first)),
            None => before.push(at),
        }
    }
    for (at, first) in twice {
        let question = format!(
            "it lists the same as {}: one slip given twice, or two parcels? Counted as two: give one of them, or their dates",
            lists[first].file
        );
        for sheet in &mut lists[at].sheets {
            sheet.ask_of_figures(question.clone());
        }
    }
}

/// What the lines of a slip say, whatever their order.
fn said(list: &List) -> u64 {
    let mut lines: Vec<u64> = (list.lines.iter())
        .map(|line| {
            let mut hasher = FxHasher::default();
            match line.what {
                What::Item(reading) => list.readings[reading as usize].item.hash(&mut hasher),
                _ => list.text_of(line).hash(&mut hasher),
            }
            let placed = list.placement_of(line);
            (line.quantity, line.places).hash(&mut hasher);
            (&placed.bag, &placed.carton).hash(&mut hasher);
            hasher.finish()
        })
        .collect();
    lines.sort_unstable();
    FxBuildHasher.hash_one(&lines)
}

/// True where nothing tells two slips of the same lines apart, and something says that they are one.
fn may_be_one(a: &List, b: &List) -> bool {
    let [one, other] = [a, b].map(|list| list.slip_number.as_deref().map(fold));
    let [sent, again] = [a, b].map(|list| list.date.as_deref());
    let same_day = match (sent.map(day), again.map(day)) {
        (Some(Some(sent)), Some(Some(again))) => Some(sent == again),
        (Some(_), Some(_)) => (sent == again).then_some(true),
        _ => None,
    };
    let same_number = one
        .as_ref()
        .zip(other.as_ref())
        .map(|(one, other)| one == other);
    let same_parcel = a.parcel.zip(b.parcel).map(|(one, other)| one == other);
    let told = [same_number, same_day, same_parcel];
    !told.contains(&Some(false)) && (told.contains(&Some(true)) || a.lines.len() >= ENOUGH)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::settle::sample::{ListOf, plain};

    fn slip(number: Option<&str>, date: Option<&str>, lines: &[(&str, u64)]) -> List {
        let lines = lines.iter();
        let list = lines.fold(ListOf::shipped(), |list, (item, pieces)| {
            list.line(item, *pieces, &plain)
        });
        List {
            slip_number: number.map(str::to_owned),
            date: date.map(str::to_owned),
            ..list.list()
        }
    }

    #[track_caller]
    fn case(a: List, b: List, expected: bool) {
        let mut lists = [a, b];
        ask_of_slips_given_twice(&mut lists);
        assert!(!lists[0].sheets[0].figures_open);
        assert_eq!(lists[1].sheets[0].figures_open, expected);
    }

    #[test]
    fn slips_given_twice() {
        const NUT: &str = "nut hex 1/2-13";
        const BOLT: &str = "bolt hex 1/2-13 3";
        let lines = [(NUT, 12), (BOLT, 4)];
        let turned = [(BOLT, 4), (NUT, 12)];
        let more = [(NUT, 12), (BOLT, 5)];
        let (number, date) = (Some("4711"), Some("3 May 2026"));
        case(
            slip(number, date, &lines),
            slip(number, date, &turned),
            true,
        );
        case(
            slip(number, date, &lines),
            slip(number, Some("2026-05-03"), &lines),
            true,
        );
        case(slip(number, date, &lines), slip(number, date, &more), false);
        case(
            slip(number, date, &lines),
            slip(Some("4712"), date, &lines),
            false,
        );
        case(
            slip(number, date, &lines),
            slip(number, Some("4 May 2026"), &lines),
            false,
        );
        case(slip(None, date, &lines), slip(None, None, &lines), true);
        // Two parcels of one item each tell nothing.
        case(
            slip(None, None, &lines[..1]),
            slip(None, None, &lines[..1]),
            false,
        );
        case(
            slip(None, date, &lines[..1]),
            slip(None, date, &lines[..1]),
            true,
        );
    }
}
