//! Minimum-cost flow from sources of pieces to sinks that want them, in whole pieces.
//!
//! Shortest augmenting paths, one after another (the textbook method: Ahuja, Magnanti and Orlin,
//! "Network Flows", 1993, section 9.7). A path ends at the first sink that wants pieces, so what a
//! sink once has it keeps; the pieces that it has may be exchanged for others on the way. For the
//! amounts that the sinks have, the cost is always the least; and because the sets of wants that
//! can be met together are a matroid, dealing one stage after another meets as much of each stage as
//! any way of dealing that puts earlier stages first.

use std::{
    collections::VecDeque,
    ops::{Add, Sub},
};

/// What it costs to let one piece serve, weighed in this order: no amount of a later figure makes up
/// for one of an earlier.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Cost {
    /// 1 for a substitute.
    pub substitutes: i32,
    /// 1 for a piece of the shop's own.
    pub stock: i32,
    /// How far a substitute's length lies apart, in 1/1920 of its unit.
    pub apart: i64,
    /// How much of the fit is not confirmed.
    pub misfit: i32,
}

impl Cost {
    /// The kit's own piece, that serves as what it is.
    pub const fn own(misfit: i32) -> Cost {
        Cost {
            substitutes: 0,
            stock: 0,
            apart: 0,
            misfit,
        }
    }

    /// True for the kit's own pieces that serve as what they are.
    pub const fn is_own(self) -> bool {
        self.substitutes == 0 && self.stock == 0
    }
}

impl Add for Cost {
    type Output = Cost;
    fn add(self, other: Cost) -> Cost {
        Cost {
            substitutes: self.substitutes + other.substitutes,
            stock: self.stock + other.stock,
            apart: self.apart + other.apart,
            misfit: self.misfit + other.misfit,
        }
    }
}

impl Sub for Cost {
    type Output = Cost;
    fn sub(self, other: Cost) -> Cost {
        Cost {
            substitutes: self.substitutes - other.substitutes,
            stock: self.stock - other.stock,
            apart: self.apart - other.apart,
            misfit: self.misfit - other.misfit,
        }
    }
}

#[derive(Debug, Clone, Copy)]
struct Arc {
    source: u32,
    sink: u32,
    /// The caller's number of it among those of its source.
    way: u32,
    cost: Cost,
    pieces: u64,
}

/// Pieces that go from a source to a sink.
#[derive(Debug, Clone, Copy)]
pub struct Sent {
    pub source: usize,
    pub sink: usize,
    pub way: usize,
    pub cost: Cost,
    pub pieces: u64,
}

/// Sources, sinks, and what flows between them so far.
#[derive(Debug, Clone)]
pub struct Flow {
    /// Pieces not yet sent, by source.
    left: Vec<u64>,
    /// In order of source, then cost.
    arcs: Vec<Arc>,
    /// First arc of each source; one more at the end.
    from: Vec<usize>,
    /// Arcs of each sink.
    into: Vec<Vec<u32>>,
    search: Search,
}

/// The state of one search, kept for the next.
#[derive(Debug, Clone, Default)]
struct Search {
    /// Least cost to reach a node: sources first, then sinks.
    cost: Vec<Option<Cost>>,
    /// The arc over which a node is reached; `None` for a source that still has pieces.
    by: Vec<Option<u32>>,
    queue: VecDeque<usize>,
    queued: Vec<bool>,
}

impl Flow {
    /// `arcs[source]` lists the sinks that a source can serve: sink, the caller's number, cost.
    pub fn new(
        sinks: usize,
        arcs: impl Iterator<Item = impl IntoIterator<Item = (u32, u32, Cost)>>,
    ) -> Flow {
        let mut flow = Flow {
            left: Vec::new(),
            arcs: Vec::new(),
            from: vec![0],
            into: vec![Vec::new(); sinks],
            search: Search::default(),
        };
        for (source, of) in arcs.enumerate() {
            for (sink, way, cost) in of {
                flow.into[sink as usize].push(flow.arcs.len() as u32);
                flow.arcs.push(Arc {
                    source: source as u32,
                    sink,
                    way,
                    cost,
                    pieces: 0,
                });
            }
            flow.left.push(0);
            flow.from.push(flow.arcs.len());
        }
        for arcs in &mut flow.into {
            arcs.sort_by_key(|&arc| flow.arcs[arc as usize].cost);
        }
        flow
    }

    /// Gives a source more pieces.
    pub fn add(&mut self, source: usize, pieces: u64) {
        self.left[source] += pieces;
    }

    /// Pieces of a source that no sink has.
    pub fn left(&self, source: usize) -> u64 {
        self.left[source]
    }

    /// What flows.
    pub fn sent(&self) -> impl Iterator<Item = Sent> {
        let sent = self.arcs.iter().filter(|arc| arc.pieces > 0);
        sent.map(|arc| Sent {
            source: arc.source as usize,
            sink: arc.sink as usize,
            way: arc.way as usize,
            cost: arc.cost,
            pieces: arc.pieces,
        })
    }

    /// Sends as many pieces as can be sent to sinks that want them, at the least cost; takes off each
    /// want what was sent.
    pub fn push(&mut self, want: &mut [u64]) {
        self.push_at(want, |_| true);
    }

    /// [`Flow::push`], without one substitute or piece of the stock more than flows so far.
    pub fn push_own(&mut self, want: &mut [u64]) {
        self.push_at(want, Cost::is_own);
    }

    fn push_at(&mut self, want: &mut [u64], usable: fn(Cost) -> bool) {
        if let [want] = want {
            return self.take(0, want, usable);
        }
        // No way to a sink costs less than nothing, so what costs nothing needs no search.
        for (sink, want) in want.iter_mut().enumerate().filter(|(_, want)| **want > 0) {
            self.take(sink, want, |cost| cost == Cost::default());
        }
        while want.iter().any(|&pieces| pieces > 0) && self.left.iter().any(|&pieces| pieces > 0) {
            let Some(sink) = self.nearest(want, usable) else {
                return;
            };
            let node = self.left.len() + sink;
            want[sink] -= self.augment(node, want[sink]);
        }
    }

    /// Sends at most so many pieces along the path that the last search found to a node; says how many.
    fn augment(&mut self, node: usize, most: u64) -> u64 {
        let mut pieces = most;
        let source = self.walk(node, |arc, back| {
            if back {
                pieces = pieces.min(arc.pieces);
            }
        });
        pieces = pieces.min(self.left[source]);
        self.walk(node, |arc, back| {
            if back {
                arc.pieces -= pieces;
            } else {
                arc.pieces += pieces;
            }
        });
        self.left[source] -= pieces;
        pieces
    }

    /// Lets pieces that were given late take the place of others where that costs less: for what the
    /// sinks have, the cost is the least again.
    pub fn settle(&mut self) {
        let sources = self.left.len();
        loop {
            self.search(|_| true);
            let dearest = (0..sources)
                .filter_map(|source| self.search.cost[source].map(|cost| (cost, source)))
                .min();
            let Some((cost, source)) = dearest else {
                return;
            };
            if cost >= Cost::default() {
                return;
            }
            self.left[source] += self.augment(source, u64::MAX);
        }
    }

    /// Sends a sink what can be sent to it straight, cheapest first: the optimum where nothing competes.
    fn take(&mut self, sink: usize, want: &mut u64, usable: fn(Cost) -> bool) {
        for &arc in &self.into[sink] {
            let arc = &mut self.arcs[arc as usize];
            if *want == 0 || !usable(arc.cost) {
                return;
            }
            let left = &mut self.left[arc.source as usize];
            let pieces = (*want).min(*left);
            arc.pieces += pieces;
            *left -= pieces;
            *want -= pieces;
        }
    }

    /// Follows the path that the last search found, from its end to its source. `back` says that the
    /// path takes pieces off the arc.
    fn walk(&mut self, mut node: usize, mut each: impl FnMut(&mut Arc, bool)) -> usize {
        let sources = self.left.len();
        while let Some(at) = self.search.by[node] {
            let arc = &mut self.arcs[at as usize];
            let at_sink = node >= sources;
            each(arc, !at_sink);
            node = if at_sink {
                arc.source as usize
            } else {
                sources + arc.sink as usize
            };
        }
        node
    }

    /// The sink that wants pieces and can be given some at the least cost; the first of several.
    fn nearest(&mut self, want: &[u64], usable: fn(Cost) -> bool) -> Option<usize> {
        self.search(usable);
        let sources = self.left.len();
        (0..want.len())
            .filter(|&sink| want[sink] > 0)
            .filter_map(|sink| self.search.cost[sources + sink].map(|cost| (cost, sink)))
            .min()
            .map(|(_, sink)| sink)
    }

    /// Finds the least cost to reach each node from pieces that are not yet sent.
    fn search(&mut self, usable: fn(Cost) -> bool) {
        let sources = self.left.len();
        let search = &mut self.search;
        search.start(sources + self.into.len());
        for source in (0..sources).filter(|&source| self.left[source] > 0) {
            search.reach(source, Cost::default(), None);
        }
        while let Some((node, cost)) = search.next() {
            if node < sources {
                for at in self.from[node]..self.from[node + 1] {
                    let arc = &self.arcs[at];
                    if usable(arc.cost) {
                        let sink = sources + arc.sink as usize;
                        search.reach(sink, cost + arc.cost, Some(at as u32));
                    }
                }
            } else {
                for &at in &self.into[node - sources] {
                    let arc = &self.arcs[at as usize];
                    if arc.pieces > 0 {
                        search.reach(arc.source as usize, cost - arc.cost, Some(at));
                    }
                }
            }
        }
    }
}

impl Search {
    fn start(&mut self, nodes: usize) {
        self.cost.clear();
        self.cost.resize(nodes, None);
        self.by.clear();
        self.by.resize(nodes, None);
        self.queued.clear();
        self.queued.resize(nodes, false);
    }

    /// Notes a way to a node, if it is the cheapest so far.
    fn reach(&mut self, node: usize, cost: Cost, by: Option<u32>) {
        if self.cost[node].is_none_or(|old| cost < old) {
            self.cost[node] = Some(cost);
            self.by[node] = by;
            if !self.queued[node] {
                self.queued[node] = true;
                self.queue.push_back(node);
            }
        }
    }

    /// A node whose ways on are still to be looked at, and what it costs to reach.
    fn next(&mut self) -> Option<(usize, Cost)> {
        let node = self.queue.pop_front()?;
        self.queued[node] = false;
        self.cost[node].map(|cost| (node, cost))
    }
}
