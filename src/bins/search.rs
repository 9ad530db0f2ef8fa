//! The search to the end: every layout of a small rack, as far as its steps go of a large one.

use super::board::{Board, Cost, sum};

/// Cells of a rack that is always searched to the end.
pub const EXACT: usize = 8;
/// Arrangements looked at, whole or begun, before the search of a large rack ends with the best so far.
pub const STEPS: usize = 100_000;

/// Fills cell after cell with each bin that may stand there, and turns back where it costs as much
/// as the best layout known.
pub struct Search<'b, 'a> {
    board: &'b mut Board<'a>,
    placed: Vec<bool>,
    empties: usize,
    best: Cost,
    best_cells: Vec<Option<usize>>,
    steps: usize,
    endless: bool,
}

impl<'b, 'a> Search<'b, 'a> {
    pub fn new(board: &'b mut Board<'a>) -> Search<'b, 'a> {
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

    pub fn run(mut self) {
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
