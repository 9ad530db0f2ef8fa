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

/// What it costs to let one piece serve: four figures that are weighed in this order, so that no amount
/// of a later one makes up for one of an earlier. They stand in one number, the first in its upper
/// bits; each has room for the sum over a path of four million pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Cost(i128);

const APART: u32 = 31;
const STOCK: u32 = 82;
const SUBSTITUTE: u32 = 105;

impl Cost {
    /// The least cost there is.
    const ONE: Cost = Cost(1);
    /// Below this are the kit's own pieces that serve as what they are.
    const NOT_OWN: Cost = Cost(1 << STOCK);
    /// Above all others.
    const FAR: Cost = Cost(i128::MAX);

    /// The kit's own piece, that serves as what it is: how much of the fit is not confirmed.
    pub const fn own(misfit: i32) -> Cost {
        Cost(misfit as i128)
    }

    /// How far a substitute's length lies apart, in 1/1920 of its unit.
    pub const fn apart(self, distance: i64) -> Cost {
        Cost(self.0 + ((distance as i128) << APART))
    }

    /// A piece of the shop's own.
    pub const fn of_stock(self) -> Cost {
        Cost(self.0 + (1 << STOCK))
    }

    pub const fn as_substitute(self) -> Cost {
        Cost(self.0 + (1 << SUBSTITUTE))
    }

    /// True for the kit's own pieces that serve as what they are.
    pub fn is_own(self) -> bool {
        self < Cost::NOT_OWN
    }
}

impl Add for Cost {
    type Output = Cost;
    fn add(self, other: Cost) -> Cost {
        Cost(self.0 + other.0)
    }
}

impl Sub for Cost {
    type Output = Cost;
    fn sub(self, other: Cost) -> Cost {
        Cost(self.0 - other.0)
    }
}

#[derive(Debug, Clone, Copy)]
struct Arc {
    source: u32,
    sink: u32,
    /// The caller's number of it among those of its source.
    way: u32,
    cost: Cost,
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
#[derive(Debug)]
pub struct Flow {
    /// In order of source.
    arcs: Vec<Arc>,
    /// First arc of each source; one more at the end.
    from: Vec<u32>,
    /// By source: the first of those in a row that serve the same sinks at the same costs, such as one
    /// item in several bags.
    alike: Vec<u32>,
    /// Arcs in order of sink, those that cost nothing first, and of one sink alone in order of cost; and
    /// the first of each sink, with one more at the end.
    into: Vec<u32>,
    into_from: Vec<u32>,
    stand: Stand,
    search: Search,
}

/// How things stand.
#[derive(Debug, Clone, Default)]
pub struct Stand {
    /// Pieces not yet sent, by source.
    left: Vec<u64>,
    /// Pieces sent, by arc.
    pieces: Vec<u64>,
    /// By sink: the arcs over which it has pieces, in order of cost.
    held: Vec<Vec<u32>>,
    /// By sink: no piece that is left can reach it, by any exchange. A path leads only where pieces that
    /// are left can come, so that sending pieces never opens a way to what was cut off; giving more may.
    cut_off: Vec<bool>,
}

/// The state of one search, kept for the next.
#[derive(Debug, Default)]
struct Search {
    /// Sources first, then sinks.
    nodes: Vec<Node>,
    /// By source: the least cost from which its ways on were looked at, or those of one alike.
    looked_from: Vec<Cost>,
    queue: VecDeque<u32>,
}

#[derive(Debug, Clone, Copy)]
struct Node {
    /// The least that it costs to reach it.
    cost: Cost,
    /// The arc over which it is reached; [`NO_ARC`] for a source that still has pieces.
    by: u32,
    queued: bool,
}

impl Node {
    const FAR: Node = Node {
        cost: Cost::FAR,
        by: NO_ARC,
        queued: false,
    };
}

const NO_ARC: u32 = u32::MAX;

impl Flow {
    /// A flow to so many sinks, without sources yet.
    pub fn new(sinks: usize) -> Flow {
        Flow {
            arcs: Vec::new(),
            from: vec![0],
            alike: Vec::new(),
            into: Vec::new(),
            into_from: vec![0; sinks + 1],
            stand: Stand {
                held: vec![Vec::new(); sinks],
                cut_off: vec![false; sinks],
                ..Stand::default()
            },
            search: Search::default(),
        }
    }

    /// Adds a source that can serve some sinks: the sink, the caller's number, the cost.
    pub fn source(&mut self, arcs: impl Iterator<Item = (usize, usize, Cost)>) {
        let source = self.stand.left.len() as u32;
        self.arcs.extend(arcs.map(|(sink, way, cost)| Arc {
            source,
            sink: sink as u32,
            way: way as u32,
            cost,
        }));
        let alike = self.alike.last().copied().filter(|&before| {
            let arcs = |of: u32| {
                let own = self.from[of as usize] as usize;
                let end = self.from.get(of as usize + 1);
                &self.arcs[own..end.map_or(self.arcs.len(), |end| *end as usize)]
            };
            let serves = |arc: &Arc| (arc.sink, arc.way, arc.cost);
            arcs(before)
                .iter()
                .map(serves)
                .eq(arcs(source).iter().map(serves))
        });
        self.alike.push(alike.unwrap_or(source));
        self.stand.left.push(0);
        self.from.push(self.arcs.len() as u32);
    }

    /// Sorts the arcs by sink, when all sources are there.
    pub fn close(&mut self) {
        let arcs = &self.arcs;
        self.stand.pieces = vec![0; arcs.len()];
        for arc in arcs {
            self.into_from[arc.sink as usize + 1] += 1;
        }
        for sink in 1..self.into_from.len() {
            self.into_from[sink] += self.into_from[sink - 1];
        }
        let mut places = self.into_from.clone();
        self.into = vec![0; arcs.len()];
        for free in [true, false] {
            let own = arcs.iter().zip(0..);
            for (arc, at) in own.filter(|(arc, _)| (arc.cost < Cost::ONE) == free) {
                let place = &mut places[arc.sink as usize];
                self.into[*place as usize] = at;
                *place += 1;
            }
        }
        if self.stand.held.len() == 1 {
            self.into.sort_by_key(|&at| arcs[at as usize].cost);
        }
    }

    /// Gives a source more pieces.
    pub fn add(&mut self, source: usize, pieces: u64) {
        self.stand.left[source] += pieces;
        self.stand.cut_off.fill(false);
    }

    /// Pieces of a source that no sink has.
    pub fn left(&self, source: usize) -> u64 {
        self.stand.left[source]
    }

    /// How things stand, to be gone back to.
    pub fn stand(&self) -> Stand {
        self.stand.clone()
    }

    pub fn go_back(&mut self, to: Stand) {
        self.stand = to;
    }

    /// What flows.
    pub fn sent(&self) -> impl Iterator<Item = Sent> {
        let sent = self.arcs.iter().zip(&self.stand.pieces);
        sent.filter(|(_, pieces)| **pieces > 0)
            .map(|(arc, pieces)| Sent {
                source: arc.source as usize,
                sink: arc.sink as usize,
                way: arc.way as usize,
                cost: arc.cost,
                pieces: *pieces,
            })
    }

    /// Sends as many pieces as can be sent to sinks that want them, at the least cost; takes off each
    /// want what was sent.
    pub fn push(&mut self, want: &mut [u64]) {
        self.push_below(want, Cost::FAR);
    }

    /// [`Flow::push`], without one substitute or piece of the stock more than flows so far.
    pub fn push_own(&mut self, want: &mut [u64]) {
        self.push_below(want, Cost::NOT_OWN);
    }

    /// [`Flow::push`] over arcs that cost less than `limit`.
    fn push_below(&mut self, want: &mut [u64], limit: Cost) {
        if let [want] = want {
            return self.take(0, want, limit);
        }
        // No way to a sink costs less than nothing, so what costs nothing needs no search.
        for (sink, want) in want.iter_mut().enumerate().filter(|(_, want)| **want > 0) {
            self.take(sink, want, Cost::ONE);
        }
        while let Stand { left, cut_off, .. } = &self.stand
            && want
                .iter()
                .zip(cut_off)
                .any(|(want, cut_off)| *want > 0 && !cut_off)
            && left.iter().any(|left| *left > 0)
        {
            let Some(sink) = self.nearest(want, limit) else {
                return;
            };
            let node = self.stand.left.len() + sink;
            want[sink] -= self.augment(node, want[sink]);
        }
    }

    /// Sends at most so many pieces along the path that the last search found to a node; says how many.
    fn augment(&mut self, node: usize, most: u64) -> u64 {
        let sources = self.stand.left.len();
        let mut pieces = most;
        let mut at = node;
        while let Some((arc, before)) = self.step_back(at) {
            if at < sources {
                pieces = pieces.min(self.stand.pieces[arc]);
            }
            at = before;
        }
        pieces = pieces.min(self.stand.left[at]);
        self.stand.left[at] -= pieces;
        let mut at = node;
        while let Some((arc, before)) = self.step_back(at) {
            if at < sources {
                self.take_off(arc, pieces);
            } else {
                self.send(arc, pieces);
            }
            at = before;
        }
        pieces
    }

    /// The arc by which the last search reached a node, and the node before it.
    fn step_back(&self, node: usize) -> Option<(usize, usize)> {
        let by = self.search.nodes[node].by;
        let arc = self.arcs.get(by as usize)?;
        let sources = self.stand.left.len();
        let before = match node < sources {
            true => sources + arc.sink as usize,
            false => arc.source as usize,
        };
        Some((by as usize, before))
    }

    fn send(&mut self, at: usize, pieces: u64) {
        let Stand {
            pieces: sent, held, ..
        } = &mut self.stand;
        if sent[at] == 0 && pieces > 0 {
            let held = &mut held[self.arcs[at].sink as usize];
            let place = |at: usize| (self.arcs[at].cost, at);
            let to = held.partition_point(|&other| place(other as usize) < place(at));
            held.insert(to, at as u32);
        }
        sent[at] += pieces;
    }

    fn take_off(&mut self, at: usize, pieces: u64) {
        let sent = &mut self.stand.pieces[at];
        *sent -= pieces;
        if *sent == 0 {
            let held = &mut self.stand.held[self.arcs[at].sink as usize];
            held.retain(|&other| other as usize != at);
        }
    }

    /// Lets pieces that were given late take the place of others where that costs less: for what the
    /// sinks have, the cost is the least again.
    pub fn settle(&mut self) {
        let sources = self.stand.left.len();
        loop {
            self.search(Cost::FAR);
            let costs = self.search.nodes[..sources].iter().map(|node| node.cost);
            let Some((cost, source)) = costs.zip(0..).min() else {
                return;
            };
            if cost >= Cost::default() {
                return;
            }
            self.stand.left[source] += self.augment(source, u64::MAX);
        }
    }

    /// Sends a sink what can be sent to it straight, cheapest first: the optimum where nothing competes.
    fn take(&mut self, sink: usize, want: &mut u64, limit: Cost) {
        let own = self.into_from[sink] as usize..self.into_from[sink + 1] as usize;
        for place in own {
            let at = self.into[place] as usize;
            let arc = self.arcs[at];
            if *want == 0 || arc.cost >= limit {
                return;
            }
            let left = &mut self.stand.left[arc.source as usize];
            let pieces = (*want).min(*left);
            *left -= pieces;
            *want -= pieces;
            self.send(at, pieces);
        }
    }

    /// The sink that wants pieces and can be given some at the least cost; the first of several.
    fn nearest(&mut self, want: &[u64], limit: Cost) -> Option<usize> {
        self.search(limit);
        let costs = self.search.nodes[self.stand.left.len()..]
            .iter()
            .map(|node| node.cost);
        if limit == Cost::FAR {
            for (cut_off, cost) in self.stand.cut_off.iter_mut().zip(costs.clone()) {
                *cut_off = cost == Cost::FAR;
            }
        }
        let wanting = costs.zip(want).enumerate();
        let nearest = wanting
            .filter(|(_, (cost, want))| **want > 0 && *cost != Cost::FAR)
            .map(|(sink, (cost, _))| (cost, sink))
            .min();
        nearest.map(|(_, sink)| sink)
    }

    /// Finds the least cost to reach each node from pieces that are not yet sent, over arcs that cost
    /// less than `limit`.
    fn search(&mut self, limit: Cost) {
        let Stand { left, held, .. } = &self.stand;
        let sources = left.len();
        let search = &mut self.search;
        search.start(sources, held.len());
        for source in (0..sources).filter(|&source| left[source] > 0) {
            search.reach(source, Cost::default(), NO_ARC);
        }
        while let Some((node, cost)) = search.next() {
            if node < sources {
                let looked_from = &mut search.looked_from[self.alike[node] as usize];
                if cost >= *looked_from {
                    // Its ways lead nowhere at a lower cost.
                    continue;
                }
                *looked_from = cost;
                let own = self.from[node]..self.from[node + 1];
                let arcs = &self.arcs[own.start as usize..own.end as usize];
                for (arc, at) in arcs.iter().zip(own.start..) {
                    if arc.cost < limit {
                        search.reach(sources + arc.sink as usize, cost + arc.cost, at);
                    }
                }
            } else {
                for &at in &held[node - sources] {
                    let arc = &self.arcs[at as usize];
                    search.reach(arc.source as usize, cost - arc.cost, at);
                }
            }
        }
    }
}

impl Search {
    fn start(&mut self, sources: usize, sinks: usize) {
        self.nodes.clear();
        self.nodes.resize(sources + sinks, Node::FAR);
        self.looked_from.clear();
        self.looked_from.resize(sources, Cost::FAR);
    }

    /// Notes a way to a node, if it is the cheapest so far.
    #[inline]
    fn reach(&mut self, at: usize, cost: Cost, by: u32) {
        let node = &mut self.nodes[at];
        if cost < node.cost {
            (node.cost, node.by) = (cost, by);
            if !node.queued {
                node.queued = true;
                self.queue.push_back(at as u32);
            }
        }
    }

    /// A node whose ways on are still to be looked at, and what it costs to reach.
    fn next(&mut self) -> Option<(usize, Cost)> {
        let at = self.queue.pop_front()? as usize;
        let node = &mut self.nodes[at];
        node.queued = false;
        Some((at, node.cost))
    }
}
