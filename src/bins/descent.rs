//! Steps that better a layout of a large rack, and fresh starts where they lead no further.

use super::board::{Board, Cost, sum};

/// Cells looked at in descents before they end with the best so far.
const GLANCES: usize = 4_000_000;
/// Farthest that a bin is moved at once, in cells.
const REACH: usize = 64;
/// Fresh starts from a shaken layout while look-alikes are left.
const SHAKES: usize = 40;

impl Board<'_> {
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
    pub fn descend(&mut self, glances: &mut usize) {
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
    pub fn improve(&mut self) {
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
