//! A layout in the making, and what it costs.

use std::ops::{Add, Range};

use super::alike::{DEGREES, Look};

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
pub struct Cost(u128);

/// Bits of the cells, and of the neighbours of each degree.
const OFF: u32 = 56;
const PAIRS: u32 = 24;

impl Cost {
    pub fn pair(degree: usize) -> Cost {
        let milder = (DEGREES - 1 - degree) as u32;
        Cost(1 << (OFF + PAIRS * milder))
    }

    pub fn off(cells: usize) -> Cost {
        Cost(cells as u128)
    }

    pub fn has_pairs(self) -> bool {
        self.0 >> OFF > 0
    }
}

impl Add for Cost {
    type Output = Cost;
    fn add(self, other: Cost) -> Cost {
        Cost(self.0 + other.0)
    }
}

pub fn sum(costs: impl Iterator<Item = Cost>) -> Cost {
    costs.fold(Cost::default(), Cost::add)
}

/// A layout in the making.
pub struct Board<'a> {
    pub rack: Rack,
    pub wants: &'a [Want],
    /// By want: its cell in the plain order.
    pub home: &'a [usize],
    /// The want that stands in each.
    pub cells: Vec<Option<usize>>,
}

impl<'a> Board<'a> {
    pub fn new(rack: Rack, wants: &'a [Want], home: &'a [usize], trays: usize) -> Board<'a> {
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

    pub fn places(&self) -> Vec<usize> {
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
    pub fn cost_at(&self, cell: usize) -> Cost {
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

    pub fn degree(&self, a: usize, b: usize) -> Option<usize> {
        let (a, b) = (&self.wants[a], &self.wants[b]);
        if a.piece == b.piece {
            return None;
        }
        let likeness = a.look.as_ref()?.likeness(b.look.as_ref()?)?;
        Some(likeness.degree())
    }

    pub fn total(&self) -> Cost {
        sum((0..self.cells.len()).map(|cell| self.cost_at(cell)))
    }

    /// True where no tray that the range touches bears more than it may. A tray with one bin may.
    pub fn bears(&self, range: Range<usize>) -> bool {
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
}
