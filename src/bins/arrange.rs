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
//! end, so its layout is the best there is; larger ones are searched as far as [`STEPS`] allow, from
//! the plain order on, so they are never worse than that. No chance is in it: the same bins stand the
//! same way in every run.

use std::ops::{Add, Range};

use super::alike::{DEGREES, Look};

/// Cells of a rack that is always searched to the end.
pub const EXACT: usize = 8;
/// Arrangements looked at, whole or begun, before the search ends with the best so far.
const STEPS: usize = 100_000;
/// Cells looked at in descents, likewise.
const GLANCES: usize = 4_000_000;
/// Farthest that a bin is moved at once, in cells.
const REACH: usize = 64;
/// Fresh starts from a shaken layout while look-alikes are left.
const SHAKES: usize = 40;

/// Equal trays, one after another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rack {
    pub rows: usize,
    pub columns: usize,
    /// Most that a tray may bear, in grams.
    pub limit: Option<u64>,
}

/// A bin that wants a cell.
#[derive(Debug, Clone)]
pub struct Want {
    pub stage: usize,
    /// The same number for the same pieces: their bins are no look-alikes.
    pub piece: usize,
    /// `None` for what has no look-alikes.
    pub look: Option<Look>,
    /// 0 where the tables do not reach.
    pub grams: u64,
}

/// Look-alike neighbours by degree, the worst first, then cells off the plain order. They stand in one
/// number, the first in its upper bits; there is room for a rack of eight million bins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
struct Cost(u128);

/// Bits of the cells, and of the neighbours of each degree.
const OFF: u32 = 56;
const PAIRS: u32 = 24;

impl Cost {
    fn pair(degree: usize) -> Cost {
        let milder = (DEGREES - 1 - degree) as u32;
        Cost(1 << (OFF + PAIRS * milder))
    }

    fn off(cells: usize) -> Cost {
        Cost(cells as u128)
    }

    fn has_pairs(self) -> bool {
        self.0 >> OFF > 0
    }
}

impl Add for Cost {
    type Output = Cost;
    fn add(self, other: Cost) -> Cost {
        Cost(self.0 + other.0)
    }
}

fn sum(costs: impl Iterator<Item = Cost>) -> Cost {
    costs.fold(Cost::default(), Cost::add)
}

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

/// A layout in the making.
struct Board<'a> {
    rack: Rack,
    wants: &'a [Want],
    home: &'a [usize],
    cells: Vec<Option<usize>>,
}

impl<'a> Board<'a> {
    fn new(rack: Rack, wants: &'a [Want], home: &'a [usize], trays: usize) -> Board<'a> {
        let mut cells = vec![None; trays * rack.rows * rack.columns];
        for (want, &cell) in home.iter().enumerate() {
            cells[cell] = Some(want);
        }
        Board {
            rack,
            wants,
            home,
            cells,
        }
    }

    fn places(&self) -> Vec<usize> {
        let mut places = vec![0; self.wants.len()];
        for (cell, want) in self.cells.iter().enumerate() {
            if let Some(want) = *want {
                places[want] = cell;
            }
        }
        places
    }

    fn in_tray(&self) -> usize {
        self.rack.rows * self.rack.columns
    }

    /// What a cell adds by its bin's place, and by its neighbours to the left and above.
    fn cost_at(&self, cell: usize) -> Cost {
        let mut cost = Cost::default();
        let Some(want) = self.cells[cell] else {
            return cost;
        };
        let within = cell % self.in_tray();
        let left = (!within.is_multiple_of(self.rack.columns)).then(|| cell - 1);
        let above = (within >= self.rack.columns).then(|| cell - self.rack.columns);
        for neighbour in [left, above].into_iter().flatten() {
            if let Some(degree) = self.cells[neighbour].and_then(|other| self.degree(want, other)) {
                cost = cost + Cost::pair(degree);
            }
        }
        cost + Cost::off(cell.abs_diff(self.home[want]))
    }

    fn degree(&self, a: usize, b: usize) -> Option<usize> {
        let (a, b) = (&self.wants[a], &self.wants[b]);
        if a.piece == b.piece {
            return None;
        }
        let likeness = a.look.as_ref()?.likeness(b.look.as_ref()?)?;
        Some(likeness.degree())
    }

    fn total(&self) -> Cost {
        sum((0..self.cells.len()).map(|cell| self.cost_at(cell)))
    }

    /// True where no tray that the range touches bears more than it may. A tray with one bin may.
    fn bears(&self, range: Range<usize>) -> bool {
        let Some(limit) = self.rack.limit else {
            return true;
        };
        let in_tray = self.in_tray();
        (range.start / in_tray..=(range.end - 1) / in_tray).all(|tray| {
            let bins = self.cells[tray * in_tray..][..in_tray].iter().flatten();
            let (count, grams) = bins.fold((0, 0u64), |(count, sum), &want| {
                (count + 1, sum.saturating_add(self.wants[want].grams))
            });
            count <= 1 || grams <= limit
        })
    }

    /// True where the cells from `a` to `b` may change: two bins of one stage, or one that is empty.
    fn may_step(&self, a: usize, b: usize) -> bool {
        match (self.cells[a], self.cells[b]) {
            (Some(x), Some(y)) => {
                let (x, y) = (&self.wants[x], &self.wants[y]);
                x.stage == y.stage && x.piece != y.piece
            }
            (None, None) => false,
            _ => true,
        }
    }

    /// Changes the cells from `a` to `b` (a < b): two bins change places, or an empty cell moves and the
    /// bins between close up.
    fn step(&mut self, a: usize, b: usize) {
        match (self.cells[a], self.cells[b]) {
            (None, _) => self.cells[a..=b].rotate_left(1),
            (_, None) => self.cells[a..=b].rotate_right(1),
            _ => self.cells.swap(a, b),
        }
    }

    /// Steps as long as one betters the layout; `glances` are left.
    fn descend(&mut self, glances: &mut usize) {
        let cells = 0..self.cells.len();
        let mut costs: Vec<Cost> = cells.map(|cell| self.cost_at(cell)).collect();
        loop {
            let mut better = false;
            for a in 0..self.cells.len() {
                for b in a + 1..self.cells.len().min(a + 1 + REACH) {
                    let (old_a, old_b) = (self.cells[a], self.cells[b]);
                    let moved = old_a.is_none() || old_b.is_none();
                    let work = if moved { b - a } else { 2 } + self.rack.columns;
                    *glances = glances.saturating_sub(work);
                    if *glances == 0 {
                        return;
                    }
                    if !self.may_step(a, b) {
                        continue;
                    }
                    let touched = self.touched(a, b, moved);
                    let before = sum(touched.clone().map(|cell| costs[cell]));
                    if !before.has_pairs() && !moved && !self.comes_nearer(a, b) {
                        continue;
                    }
                    self.step(a, b);
                    let after = sum(touched.clone().map(|cell| self.cost_at(cell)));
                    if after < before && self.bears(a..b + 1) {
                        touched.for_each(|cell| costs[cell] = self.cost_at(cell));
                        better = true;
                        continue;
                    }
                    match (old_a, old_b) {
                        (Some(_), Some(_)) => self.cells.swap(a, b),
                        (None, _) => self.cells[a..=b].rotate_right(1),
                        (_, None) => self.cells[a..=b].rotate_left(1),
                    }
                }
            }
            if !better {
                return;
            }
        }
    }

    /// The cells whose costs a step between two can change: their own, and those beside and below.
    fn touched(
        &self,
        a: usize,
        b: usize,
        moved: bool,
    ) -> impl Iterator<Item = usize> + Clone + use<> {
        let (columns, end) = (self.rack.columns, self.cells.len());
        let one = moved || b - a <= columns + 1;
        let stretch = match one {
            true => a..b + 1 + columns,
            false => 0..0,
        };
        let near = |cell| [cell, cell + 1, cell + columns];
        let both = near(a).into_iter().chain(near(b));
        stretch
            .chain(both.filter(move |_| !one))
            .filter(move |cell| *cell < end)
    }

    /// True where two bins that change places come nearer to the plain order.
    fn comes_nearer(&self, a: usize, b: usize) -> bool {
        let off = |cell: usize, of: usize| {
            let want = self.cells[of];
            want.map_or(0, |want| cell.abs_diff(self.home[want]))
        };
        off(a, b) + off(b, a) < off(a, a) + off(b, b)
    }

    /// Descends, then shakes what is left of look-alikes apart and descends again.
    fn improve(&mut self) {
        let mut glances = GLANCES;
        self.descend(&mut glances);
        let mut best = (self.total(), self.cells.clone());
        let mut random = Random(1);
        for _ in 0..SHAKES {
            if !best.0.has_pairs() || glances == 0 {
                break;
            }
            self.cells.clone_from(&best.1);
            for _ in 0..4 {
                let a = random.below(self.cells.len());
                let b = random.below(self.cells.len()).clamp(
                    a.saturating_sub(REACH),
                    (a + REACH).min(self.cells.len() - 1),
                );
                let (a, b) = (a.min(b), a.max(b));
                if a < b && self.may_step(a, b) {
                    self.step(a, b);
                }
            }
            if !self.bears(0..self.cells.len()) {
                continue;
            }
            self.descend(&mut glances);
            let total = self.total();
            if total < best.0 {
                best = (total, self.cells.clone());
            }
        }
        self.cells = best.1;
    }
}

/// The numbers of D. H. Lehmer's generator with the multiplier 48271 (S. K. Park and K. W. Miller,
/// 1988): the same in every run.
struct Random(u64);

impl Random {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 as usize % end
    }
}

/// Fills cell after cell with each bin that may stand there, and turns back where it costs as much
/// as the best layout known.
struct Search<'b, 'a> {
    board: &'b mut Board<'a>,
    placed: Vec<bool>,
    empties: usize,
    best: Cost,
    best_cells: Vec<Option<usize>>,
    steps: usize,
    endless: bool,
}

impl<'b, 'a> Search<'b, 'a> {
    fn new(board: &'b mut Board<'a>) -> Search<'b, 'a> {
        Search {
            placed: vec![false; board.wants.len()],
            empties: board.cells.len() - board.wants.len(),
            best: board.total(),
            best_cells: board.cells.clone(),
            steps: 0,
            endless: board.cells.len() <= EXACT,
            board,
        }
    }

    fn run(mut self) {
        self.board.cells.fill(None);
        self.fill(0, Cost::default());
        self.board.cells = self.best_cells;
    }

    /// The least that bins still to be placed add: each is past its home by what it is now.
    fn overdue(&self, cell: usize) -> Cost {
        let homes = self.board.home.iter().zip(&self.placed);
        let due = homes.take_while(|&(&home, _)| home < cell);
        let late = due.filter(|&(_, placed)| !placed);
        sum(late.map(|(&home, _)| Cost::off(cell - home)))
    }

    fn fill(&mut self, cell: usize, cost: Cost) {
        self.steps += 1;
        if self.steps > STEPS && !self.endless {
            return;
        }
        if cost + self.overdue(cell) >= self.best {
            return;
        }
        if cell == self.board.cells.len() {
            self.best = cost;
            self.best_cells.clone_from(&self.board.cells);
            return;
        }
        if let Some(first) = self.placed.iter().position(|placed| !placed) {
            let stage = self.board.wants[first].stage;
            let of_stage = (first..self.placed.len())
                .take_while(|&want| self.board.wants[want].stage == stage)
                .filter(|&want| !self.placed[want]);
            let mut choices: Vec<usize> = of_stage.collect();
            choices.sort_by_key(|&want| cell.abs_diff(self.board.home[want]));
            for want in choices {
                self.board.cells[cell] = Some(want);
                if self.board.bears(cell..cell + 1) {
                    self.placed[want] = true;
                    let more = self.board.cost_at(cell);
                    self.fill(cell + 1, cost + more);
                    self.placed[want] = false;
                }
                self.board.cells[cell] = None;
            }
        }
        if self.empties > 0 {
            self.empties -= 1;
            self.fill(cell + 1, cost);
            self.empties += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::settle::sample::item;

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
