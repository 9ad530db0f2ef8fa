//! Good and damaged pieces of a count that are together more than the slip lists: who writes all that lie there as good, and
//! the damaged ones beside them, counts these twice (common practice, no source).

use rustc_hash::FxHashMap;

use crate::{
    doubt::Doubt,
    hardware::{Item, PartWords, Written},
    kit::{List, Reading, Role, What},
};

/// An item as two lists are likely to name it.
#[derive(PartialEq, Eq, Hash)]
enum Named {
    Part(PartWords),
    Item(Box<Item>),
}

impl Named {
    fn of(reading: &Reading) -> Named {
        let part = reading.item.part.as_deref();
        match part.and_then(|part| part.description.as_deref()) {
            Some(name) => Named::Part(Written::of(name).words),
            None => Named::Item(Box::new(reading.item.identity())),
        }
    }
}

/// Doubts such lines of counts.
pub fn doubt_damaged(lists: &mut [List]) {
    let is_count = |list: &List| list.role == Role::Counted;
    let bears = |list: &List| list.lines.iter().any(|line| line.damaged() > 0);
    let slips = lists.iter().any(|list| list.role == Role::Shipped);
    if !slips || !lists.iter().any(|list| is_count(list) && bears(list)) {
        return;
    }
    // Pieces by item: on slips, counted as good, and damaged.
    let mut sums: FxHashMap<Named, [u64; 3]> = FxHashMap::default();
    for list in lists.iter() {
        if !matches!(list.role, Role::Shipped | Role::Counted) {
            continue;
        }
        let mut of_readings: FxHashMap<usize, [u64; 3]> = FxHashMap::default();
        for line in &list.lines {
            let What::Item(at) = line.what else {
                continue;
            };
            let pieces = line
                .quantity
                .unwrap_or(0)
                .saturating_mul(line.places.into());
            let sum = of_readings.entry(at as usize).or_default();
            let more = match list.role {
                Role::Shipped => [pieces, 0, 0],
                _ => [0, pieces, line.damaged()],
            };
            *sum = add(*sum, more);
        }
        for (at, more) in of_readings {
            let sum = sums.entry(Named::of(&list.readings[at])).or_default();
            *sum = add(*sum, more);
        }
    }
    for list in lists.iter_mut().filter(|list| is_count(list)) {
        let damaged = list
            .lines
            .iter()
            .enumerate()
            .filter(|(_, line)| line.damaged() > 0);
        let doubts = damaged.filter_map(|(at, line)| {
            let [slip, good, damaged] = *sums.get(&Named::of(list.reading_of(line)?))?;
            let twice = (1..=slip).contains(&good) && good.saturating_add(damaged) > slip;
            let own = line.quantity?.saturating_mul(line.places.into());
            let too_many = good.saturating_add(damaged).saturating_sub(slip);
            twice.then(|| {
                let said = format!(
                    "{good} good and {damaged} damaged are more than the {slip} of the slip: are the damaged ones among the good?"
                );
                let pieces = own.saturating_sub(too_many.min(line.damaged()));
                (at, Doubt::OrElse { pieces, said: said.into() })
            })
        });
        let doubts: Vec<(usize, Doubt)> = doubts.collect();
        for (at, doubt) in doubts {
            list.lines[at].more_mut().doubts.push(doubt);
        }
    }
}

fn add(a: [u64; 3], b: [u64; 3]) -> [u64; 3] {
    std::array::from_fn(|at| a[at].saturating_add(b[at]))
}

#[cfg(test)]
mod tests {
    use super::super::sample::{ListOf, plain};
    use super::*;
    use crate::kit::{Line, Placement};

    // Common practice, no source.
    #[test]
    fn damaged_ones_among_the_good() {
        for (slip, good, damaged, other) in [
            (16, 16, 2, Some(14)),
            (16, 15, 2, Some(14)),
            (16, 14, 2, None),
            (16, 16, 0, None),
            (16, 20, 2, None),
        ] {
            let bent = move |line: &mut Line, placement: &mut Placement| {
                plain(line, placement);
                if damaged > 0 {
                    line.more_mut().damaged = damaged;
                }
            };
            for name in ["nut hex 1/2", "part - rail"] {
                let slip = ListOf::shipped().line(name, slip, &plain).list();
                let count = ListOf::counted().line(name, good, &bent).list();
                let mut lists = [slip, count];
                doubt_damaged(&mut lists);
                let doubts = lists[1].lines[0].doubts();
                let found = doubts.first().and_then(Doubt::other_number);
                assert_eq!(found, other, "{name}: {good} good, {damaged} damaged");
            }
        }
    }
}
