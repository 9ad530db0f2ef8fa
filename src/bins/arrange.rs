//! Which bin stands where.
//!
//! The bins of a rack are read as a page: tray by tray, row by row. The stages stand in that order,
//! each in one stretch; within its stretch a stage's bins may stand in any order, and the cells that
//! are left empty may stand anywhere. What is sought, the first thing first:
//!
//! 1. the fewest coarse and fine threads side by side or one above the other,
//! 2. the fewest other look-alikes so,
//! 3. the fewest neighbouring diameters so,
//! 4. the least distance of the bins from the plain order, added up in cells.
//!
//! The plain order is the stages' own, heavy bins last in their stage, so that they stand in the
//! lower rows, and else the order of the lists. A rack of at most [`EXACT`] cells is searched to the
//! end, so its layout is the best there is; larger ones are searched as far as [`super::search::STEPS`] allow, from
//! the plain order on, so they are never worse than that. No chance is in it: the same bins stand the
//! same way in every run.

use super::{
    board::{Board, Rack, Want},
    search::{EXACT, Search},
};

/// The cell of each bin, and how many trays that takes. `wants` are in plain order.
pub fn arrange(rack: Rack, wants: &[Want]) -> (Vec<usize>, usize) {
    let (home, trays) = plain(rack, wants);
    let mut board = Board::new(rack, wants, &home, trays);
    board.improve();
    if board.cells.len() <= EXACT || board.wants.len() <= 200 {
        Search::new(&mut board).run();
    }
    (board.places(), trays)
}

/// How many trays the bins take.
pub fn trays(rack: Rack, wants: &[Want]) -> usize {
    plain(rack, wants).1
}

/// The plain order: the cell of each bin, a new tray where one is full or bears all that it may; and
/// the number of trays.
fn plain(rack: Rack, wants: &[Want]) -> (Vec<usize>, usize) {
    let in_tray = rack.rows * rack.columns;
    let (mut tray, mut used, mut grams) = (0, 0, 0u64);
    let mut home = Vec::with_capacity(wants.len());
    for want in wants {
        let heavy = rack
            .limit
            .is_some_and(|limit| used > 0 && grams.saturating_add(want.grams) > limit);
        if used == in_tray || heavy {
            (tray, used, grams) = (tray + 1, 0, 0);
        }
        home.push(tray * in_tray + used);
        used += 1;
        grams = grams.saturating_add(want.grams);
    }
    (home, if wants.is_empty() { 0 } else { tray + 1 })
}

#[cfg(test)]
mod tests {
    use std::ops::Range;

    use proptest::prelude::*;

    use super::*;
    use crate::{
        bins::{alike::Look, board::Cost},
        settle::sample::item,
    };

    const ITEMS: [&str; 12] = [
        "bolt hex 1/2 3",
        "bolt hex 1/2 3-1/2",
        "bolt hex 1/2-20 3",
        "bolt hex 1/2 4",
        "bolt hex 5/8 3",
        "bolt carriage 1/2 3",
        "nut hex 1/2",
        "nut nylon 1/2",
        "washer uss 1/2",
        "washer sae 1/2",
        "nut hex 5/8",
        "part TB-1 shoe",
    ];

    fn want(stage: usize, index: usize, grams: u64) -> Want {
        Want {
            stage,
            piece: index,
            look: Look::of(&item(ITEMS[index])),
            grams,
        }
    }

    /// Bins in the order of their stages, a rack, and perhaps a weight limit.
    fn racks(bins: usize, sides: Range<usize>) -> impl Strategy<Value = (Rack, Vec<Want>)> {
        let bin = (0..3usize, 0..ITEMS.len(), 0..900u64);
        let limit = proptest::option::of(500..2000u64);
        (
            sides.clone(),
            sides,
            limit,
            proptest::collection::vec(bin, 0..bins),
        )
            .prop_map(|(rows, columns, limit, mut bins)| {
                bins.sort_unstable();
                let wants = bins.into_iter().map(|(s, i, g)| want(s, i, g)).collect();
                let rack = Rack {
                    rows,
                    columns,
                    limit,
                };
                (rack, wants)
            })
    }

    /// What a layout costs, worked out from the places alone; `None` where it breaks a rule.
    fn cost(rack: Rack, wants: &[Want], places: &[usize], trays: usize) -> Option<Cost> {
        let at = |cell: usize| {
            let (tray, within) = (
                cell / (rack.rows * rack.columns),
                cell % (rack.rows * rack.columns),
            );
            (tray, within / rack.columns, within % rack.columns)
        };
        let (home, _) = plain(rack, wants);
        let mut sum = Cost::default();
        for (a, &here) in places.iter().enumerate() {
            sum = sum + Cost::off(here.abs_diff(home[a]));
            let (tray, row, column) = at(here);
            if tray >= trays {
                return None;
            }
            let in_it: Vec<usize> = (0..wants.len())
                .filter(|&b| at(places[b]).0 == tray)
                .collect();
            let grams: u64 = in_it.iter().map(|&b| wants[b].grams).sum();
            if in_it.len() > 1 && rack.limit.is_some_and(|limit| grams > limit) {
                return None;
            }
            for (b, &there) in places.iter().enumerate() {
                if a != b && here == there || wants[a].stage < wants[b].stage && here > there {
                    return None;
                }
                let (other, r, c) = at(there);
                let beside = row == r && column + 1 == c || column == c && row + 1 == r;
                if other != tray || !beside || wants[a].piece == wants[b].piece {
                    continue;
                }
                if let (Some(x), Some(y)) = (&wants[a].look, &wants[b].look)
                    && let Some(likeness) = x.likeness(y)
                {
                    sum = sum + Cost::pair(likeness.degree());
                }
            }
        }
        Some(sum)
    }

    /// The best of all arrangements there are.
    fn brute(rack: Rack, wants: &[Want], trays: usize) -> Cost {
        fn place(
            rack: Rack,
            wants: &[Want],
            trays: usize,
            places: &mut Vec<usize>,
            best: &mut Option<Cost>,
        ) {
            if places.len() == wants.len() {
                if let Some(cost) = cost(rack, wants, places, trays) {
                    *best = Some(best.map_or(cost, |b| b.min(cost)));
                }
                return;
            }
            for cell in 0..trays * rack.rows * rack.columns {
                if !places.contains(&cell) {
                    places.push(cell);
                    place(rack, wants, trays, places, best);
                    places.pop();
                }
            }
        }
        let mut best = None;
        place(rack, wants, trays, &mut Vec::new(), &mut best);
        best.expect("the plain order is one")
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        #[test]
        fn a_small_rack_is_laid_out_the_best_way((rack, wants) in racks(6, 1..3)) {
            let (places, trays) = arrange(rack, &wants);
            // All arrangements of more cells would take too long to try.
            prop_assume!(trays * rack.rows * rack.columns <= 6);
            prop_assert_eq!(cost(rack, &wants, &places, trays), Some(brute(rack, &wants, trays)));
        }

        #[test]
        fn never_worse_than_the_plain_order((rack, wants) in racks(40, 1..6)) {
            let (home, trays) = plain(rack, &wants);
            let (places, same) = arrange(rack, &wants);
            prop_assert_eq!(trays, same);
            let arranged = cost(rack, &wants, &places, trays);
            prop_assert!(arranged.is_some());
            prop_assert!(arranged <= cost(rack, &wants, &home, trays));
            prop_assert_eq!(arrange(rack, &wants).0, places);
        }
    }

    #[test]
    fn an_empty_cell_keeps_two_lengths_apart() {
        let wants = [want(0, 0, 0), want(1, 1, 0)];
        let rack = Rack {
            rows: 1,
            columns: 3,
            limit: None,
        };
        assert_eq!(arrange(rack, &wants), (vec![0, 2], 1));
    }

    #[test]
    fn a_tray_bears_no_more_than_it_may() {
        let wants = [want(0, 6, 600), want(0, 0, 600), want(0, 8, 300)];
        let rack = Rack {
            rows: 2,
            columns: 2,
            limit: Some(1000),
        };
        assert_eq!(arrange(rack, &wants), (vec![0, 4, 5], 2));
    }
}
