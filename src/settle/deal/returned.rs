//! One sink to which stages give pieces back.
//!
//! Pieces that come free at a stage serve later ones. So pieces go to a stage without loss to any other as long as, up to
//! each later stage, no more are dealt than came free before it; and for the amounts dealt, taking the cheapest that has
//! come free, stage after stage, costs the least (an exchange shows both: what serves a stage serves every later one).

use std::{cmp::Reverse, collections::BinaryHeap, ops::Range};

use super::{
    Build, Cost,
    rounds::{Rounds, whole_kits_first},
};

/// How many pieces each stage may still get.
pub struct Returned<'a> {
    wants: &'a [(usize, u64)],
    /// Stage and pieces that each kit gives back there, in order of stage.
    returns: Vec<(usize, u64)>,
    /// Beside the wants: pieces that came free before, less those dealt up to there.
    slack: Vec<i128>,
}

impl<'a> Returned<'a> {
    /// `pieces` are there from the start.
    pub fn of(
        wants: &'a [(usize, u64)],
        pieces: u64,
        mut returns: Vec<(usize, u64)>,
    ) -> Returned<'a> {
        returns.sort_unstable();
        Returned {
            wants,
            returns,
            slack: vec![pieces.into(); wants.len()],
        }
    }

    /// The pieces that each want gets, over all kits.
    pub fn covered(mut self, build: &Build) -> Vec<u64> {
        let wants = self.wants;
        whole_kits_first(&mut self, wants, build)
    }
}

impl Rounds for Returned<'_> {
    type Stand = Vec<i128>;

    fn stand(&self) -> Vec<i128> {
        self.slack.clone()
    }

    fn go_back(&mut self, to: Vec<i128>) {
        self.slack = to;
    }

    fn round(&mut self, each: &[u64], kits: u64, stages: Range<usize>) -> Vec<u64> {
        // What this and no later stage lacks then.
        let mut most = self.slack.clone();
        for at in (1..most.len()).rev() {
            most[at - 1] = most[at - 1].min(most[at]);
        }
        let returns = self.returns.iter().filter(|(at, _)| stages.contains(at));
        let mut returns = returns.peekable();
        let mut got = vec![0; each.len()];
        // What came free in this round, less what was dealt.
        let mut more: i128 = 0;
        for (at, &(stage, _)) in self.wants.iter().enumerate() {
            if stage < stages.start {
                continue;
            }
            while let Some((_, pieces)) = returns.next_if(|(of, _)| *of < stage) {
                more += i128::from(pieces * kits);
            }
            if stage < stages.end {
                let pieces = i128::from(each[at] * kits).min(most[at] + more);
                got[at] = pieces as u64;
                more -= pieces;
            }
            self.slack[at] += more;
        }
        got
    }
}

/// A way in which pieces of a source serve the sink.
pub type Lot = (Cost, usize, usize);

/// Pieces, taken stage after stage: of those that have come free the cheapest first.
#[derive(Debug, Default)]
pub struct Free {
    /// Those that come free after a stage, the last first.
    to_come: Vec<(usize, Lot)>,
    free: BinaryHeap<Reverse<Lot>>,
}

impl Free {
    /// Adds ways whose pieces come free at the end of a stage; `None`: from the start.
    pub fn extend(&mut self, after: Option<usize>, ways: impl Iterator<Item = Lot>) {
        match after {
            None => self.free.extend(ways.map(Reverse)),
            Some(stage) => self.to_come.extend(ways.map(|way| (stage, way))),
        }
    }

    /// To be done when all are added.
    pub fn sort(&mut self) {
        self.to_come
            .sort_unstable_by_key(|to_come| Reverse(*to_come));
    }

    pub fn clear(&mut self) {
        self.to_come.clear();
        self.free.clear();
    }

    /// Takes so many pieces for a stage out of what is left of the sources, at costs that `may` be; says how many it
    /// lacks.
    pub fn take(
        &mut self,
        stage: usize,
        mut wanted: u64,
        left: &mut [u64],
        may: impl Fn(Cost) -> bool,
        mut give: impl FnMut(Lot, u64),
    ) -> u64 {
        while let Some((_, lot)) = self.to_come.pop_if(|(after, _)| *after < stage) {
            self.free.push(Reverse(lot));
        }
        while wanted > 0
            && let Some(&Reverse(lot)) = self.free.peek()
            && may(lot.0)
        {
            let left = &mut left[lot.1];
            let pieces = wanted.min(*left);
            if pieces > 0 {
                give(lot, pieces);
            }
            wanted -= pieces;
            *left -= pieces;
            if *left == 0 {
                self.free.pop();
            }
        }
        wanted
    }
}
