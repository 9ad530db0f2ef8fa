//! Minimum-cost flow from sources of pieces to sinks that want them, in whole pieces.
//!
//! Shortest augmenting paths, one after another (the textbook method: Ahuja, Magnanti and Orlin,
//! "Network Flows", 1993, section 9.7). A path ends at the first sink that wants pieces, so what a
//! sink once has it keeps; the pieces that it has may be exchanged for others on the way. For the
//! amounts that the sinks have, the cost is always the least; and because the sets of wants that
//! can be met together are a matroid, dealing one stage after another meets as much of each stage as
//! any way of dealing that puts earlier stages first.

use std::{
    cmp::Reverse,
    collections::BinaryHeap,
    ops::{Add, Sub},
};

use num_traits::{PrimInt, Signed};

/// What it costs to let one piece serve: four figures that are weighed in this order, so that no amount
/// of a later one makes up for one of an earlier. They stand in one number, the first in its upper
/// bits; each has room for the sum over a path of four million pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Cost(i128);

const APART: u32 = 31;
const STOCK: u32 = 82;
const SUBSTITUTE: u32 = 105;

impl Cost {
    /// Below this are the kit's own pieces that serve as what they are.
    const NOT_OWN: Cost = Cost(1 << STOCK);

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

/// The number in which a flow weighs its costs.
pub trait Weight: PrimInt + Signed {
    /// A cost on a scale that this holds.
    fn of(scale: Scale, cost: Cost) -> Self;
}

impl Weight for i128 {
    fn of(_: Scale, cost: Cost) -> i128 {
        cost.0
    }
}

impl Weight for i64 {
    fn of(scale: Scale, cost: Cost) -> i64 {
        if cost < Cost::own(0).apart(1) {
            return cost.0 as i64;
        }
        let [misfit, apart, stock, substitute] = FIELDS;
        let of = |figure| field(cost.0, figure);
        let [of_misfit, of_apart, of_stock, _] = scale.widths;
        let rare = of(substitute) << of_stock | of(stock);
        (rare << of_apart | of(apart)) << of_misfit | of(misfit)
    }
}

/// Where the figures of a cost begin and end, the least weighty first.
const FIELDS: [(u32, u32); 4] = [
    (0, APART),
    (APART, STOCK),
    (STOCK, SUBSTITUTE),
    (SUBSTITUTE, i128::BITS - 1),
];

#[inline(always)]
fn field(cost: i128, (from, to): (u32, u32)) -> i64 {
    (cost >> from & ((1 << (to - from)) - 1)) as i64
}

/// How many bits each figure of a cost needs in one flow: of most flows all costs go into 64 bits then, in
/// which they stand in the same order.
#[derive(Debug, Clone, Copy)]
pub struct Scale {
    widths: [u32; 4],
}

impl Scale {
    /// The scale of a flow with so many nodes and with such costs. A path meets a node once.
    pub fn of(nodes: usize, costs: impl Iterator<Item = Cost>) -> Scale {
        // No figure is above what all of them make together, bit by bit.
        let all = costs.fold(0, |all, cost| all | cost.0);
        // Two paths differ by no more than each of them may come to.
        let arcs = usize::BITS - (2 * nodes).leading_zeros();
        Scale {
            widths: FIELDS.map(|figure| match field(all, figure) {
                0 => 0,
                most => i64::BITS - most.leading_zeros() + arcs,
            }),
        }
    }

    /// True where 64 bits hold it, with their sign and one more.
    pub fn is_short(self) -> bool {
        self.widths.iter().sum::<u32>() <= i64::BITS - 2
    }
}

#[derive(Debug, Clone, Copy)]
struct Arc<W> {
    source: u32,
    sink: u32,
    /// The caller's number of it among those of its source.
    way: u32,
    cost: W,
}

/// Pieces that go from a source to a sink.
#[derive(Debug, Clone, Copy)]
pub struct Sent {
    pub source: usize,
    pub sink: usize,
    pub way: usize,
    pub pieces: u64,
}

/// Sources, sinks, and what flows between them so far.
#[derive(Debug)]
pub struct Flow<W> {
    scale: Scale,
    /// In order of source.
    arcs: Vec<Arc<W>>,
    /// First arc of each source; one more at the end.
    from: Vec<u32>,
    /// By source: the first of those in a row that serve the same sinks at the same costs, such as one
    /// item in several bags.
    alike: Vec<u32>,
    /// Arcs in order of sink, those of one sink in order of cost; and the first of each sink, with one more at
    /// the end.
    into: Vec<u32>,
    into_from: Vec<u32>,
    /// The same, those of one sink in their own order.
    in_turn: Vec<u32>,
    stand: Stand,
    search: Search<W>,
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
#[derive(Debug)]
struct Search<W> {
    /// Sources first, then sinks.
    nodes: Vec<Node<W>>,
    /// By source: the least cost from which its ways on were looked at, or those of one alike.
    looked_from: Vec<W>,
    /// The first and the last node whose ways on are still to be looked at, in the order in which they were
    /// reached; [`NONE`].
    first: u32,
    last: u32,
    /// Below which cost it looked; `None` where it no longer holds.
    holds_below: Option<W>,
    /// By sink: so many of its arcs, the first in order of cost and in their own order, come from sources that
    /// have no pieces left.
    spent: Vec<[u32; 2]>,
}

#[derive(Debug, Clone, Copy)]
struct Node<W> {
    /// The least that it costs to reach it; the most there is where nothing does.
    cost: W,
    /// The arc over which it is reached; [`NONE`] for a source that still has pieces.
    by: u32,
    /// What is to be looked at after it; itself where it is not to be looked at, [`NONE`] for the last.
    next: u32,
}

const NONE: u32 = u32::MAX;

impl<W: Weight> Flow<W> {
    /// A flow to so many sinks, without sources yet. The scale is of all costs that will be there.
    pub fn new(sinks: usize, scale: Scale) -> Flow<W> {
        Flow {
            scale,
            arcs: Vec::new(),
            from: vec![0],
            alike: Vec::new(),
            into: Vec::new(),
            into_from: vec![0; sinks + 1],
            in_turn: Vec::new(),
            stand: Stand {
                held: vec![Vec::new(); sinks],
                cut_off: vec![false; sinks],
                ..Stand::default()
            },
            search: Search {
                nodes: Vec::new(),
                looked_from: Vec::new(),
                first: NONE,
                last: NONE,
                holds_below: None,
                spent: vec![[0; 2]; sinks],
            },
        }
    }

    /// Adds a source that can serve some sinks: the sink, the caller's number, the cost.
    pub fn source(&mut self, arcs: impl Iterator<Item = (usize, usize, Cost)>) {
        let source = self.stand.left.len() as u32;
        let scale = self.scale;
        self.arcs.extend(arcs.map(|(sink, way, cost)| Arc {
            source,
            sink: sink as u32,
            way: way as u32,
            cost: W::of(scale, cost),
        }));
        let alike = self.alike.last().copied().filter(|&before| {
            let arcs = |of: u32| {
                let own = self.from[of as usize] as usize;
                let end = self.from.get(of as usize + 1);
                &self.arcs[own..end.map_or(self.arcs.len(), |end| *end as usize)]
            };
            let serves = |arc: &Arc<W>| (arc.sink, arc.way, arc.cost);
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
        self.in_turn = vec![0; arcs.len()];
        for (arc, at) in arcs.iter().zip(0..) {
            let place = &mut places[arc.sink as usize];
            self.in_turn[*place as usize] = at;
            *place += 1;
        }
        self.into = self.in_turn.clone();
        for own in self.into_from.windows(2) {
            let own = &mut self.into[own[0] as usize..own[1] as usize];
            own.sort_by_key(|&at| arcs[at as usize].cost);
        }
    }

    /// Gives a source more pieces.
    pub fn add(&mut self, source: usize, pieces: u64) {
        self.stand.left[source] += pieces;
        self.stand.cut_off.fill(false);
        self.search.forget();
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
        self.search.forget();
    }

    /// What flows, with what a piece of it costs.
    pub fn sent(&self) -> impl Iterator<Item = (W, Sent)> {
        let sent = self.arcs.iter().zip(&self.stand.pieces);
        sent.filter(|(_, pieces)| **pieces > 0)
            .map(|(arc, pieces)| {
                let sent = Sent {
                    source: arc.source as usize,
                    sink: arc.sink as usize,
                    way: arc.way as usize,
                    pieces: *pieces,
                };
                (arc.cost, sent)
            })
    }

    /// Sends as many pieces as can be sent to sinks that want them, at the least cost; takes off each
    /// want what was sent.
    pub fn push(&mut self, want: &mut [u64]) {
        self.push_below(want, W::max_value());
    }

    /// [`Flow::push`], without one substitute or piece of the stock more than flows so far.
    pub fn push_own(&mut self, want: &mut [u64]) {
        self.push_below(want, W::of(self.scale, Cost::NOT_OWN));
    }

    /// [`Flow::push`] over arcs that cost less than `limit`.
    fn push_below(&mut self, want: &mut [u64], limit: W) {
        if let [want] = want {
            return self.take(0, want, limit);
        }
        // No way to a sink costs less than nothing, so what costs nothing needs no search.
        for (sink, want) in want.iter_mut().enumerate().filter(|(_, want)| **want > 0) {
            self.take(sink, want, W::one());
        }
        let mut nearest = BinaryHeap::new();
        let mut anew = true;
        loop {
            let holds = self.search.holds_below == Some(limit);
            if anew || !holds {
                let Stand { left, cut_off, .. } = &self.stand;
                let mut wants = want.iter().zip(cut_off);
                if !wants.any(|(want, cut_off)| *want > 0 && !cut_off)
                    || left.iter().all(|left| *left == 0)
                {
                    return;
                }
                if !holds {
                    self.search(limit);
                    self.note_cut_off(limit);
                }
                nearest = self.nearest(want);
                anew = false;
            }
            let Some(&Reverse((_, sink))) = nearest.peek() else {
                return;
            };
            if want[sink] == 0 {
                nearest.pop();
                continue;
            }
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
                // What sinks exchange changes what leads where.
                self.search.holds_below = None;
            }
            at = before;
        }
        let root = at;
        pieces = pieces.min(self.stand.left[root]);
        let mut at = node;
        while let Some((arc, before)) = self.step_back(at) {
            if at < sources {
                self.take_off(arc, pieces);
            } else {
                self.send(arc, pieces);
            }
            at = before;
        }
        self.take_from(root, pieces);
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

    /// Takes pieces from what is left of a source. What was found over it holds for the next one alike then,
    /// and nothing where that was the last: what goes straight from a source that still has pieces opens no way
    /// that is cheaper than those known.
    fn take_from(&mut self, source: usize, pieces: u64) {
        let left = &mut self.stand.left;
        left[source] -= pieces;
        if left[source] > 0 || self.search.holds_below.is_none() {
            return;
        }
        let class = self.alike[source];
        let alike = (class as usize..left.len()).take_while(|&at| self.alike[at] == class);
        let Some(next) = alike.into_iter().find(|&at| left[at] > 0) else {
            self.search.holds_below = None;
            return;
        };
        for (old, new) in (self.from[source]..self.from[source + 1]).zip(self.from[next]..) {
            let sink = self.arcs[old as usize].sink as usize;
            let node = &mut self.search.nodes[left.len() + sink];
            if node.by == old {
                node.by = new;
            }
        }
    }

    fn send(&mut self, at: usize, pieces: u64) {
        let Stand {
            pieces: sent, held, ..
        } = &mut self.stand;
        if sent[at] == 0 {
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
            self.search(W::max_value());
            let costs = self.search.nodes[..sources].iter().map(|node| node.cost);
            let Some((cost, source)) = costs.zip(0..).min() else {
                return;
            };
            if cost >= W::zero() {
                return;
            }
            self.stand.left[source] += self.augment(source, u64::MAX);
            self.search.forget();
        }
    }

    /// Sends a sink what can be sent to it straight, cheapest first: the optimum where nothing competes.
    fn take(&mut self, sink: usize, want: &mut u64, limit: W) {
        let own = self.into_from[sink] as usize..self.into_from[sink + 1] as usize;
        for place in own {
            let at = self.into[place] as usize;
            let arc = self.arcs[at];
            if *want == 0 || arc.cost >= limit {
                return;
            }
            let source = arc.source as usize;
            let pieces = (*want).min(self.stand.left[source]);
            if pieces > 0 {
                *want -= pieces;
                self.take_from(source, pieces);
                self.send(at, pieces);
            }
        }
    }

    /// The sinks that want pieces and can be given some, as the last search found them: the one at the least cost
    /// first, and of several the first.
    fn nearest(&self, want: &[u64]) -> BinaryHeap<Reverse<(W, usize)>> {
        let costs = self.search.nodes[self.stand.left.len()..].iter();
        let wanting = costs.zip(want).enumerate();
        wanting
            .filter(|(_, (node, want))| **want > 0 && node.cost != W::max_value())
            .map(|(sink, (node, _))| Reverse((node.cost, sink)))
            .collect::<Vec<_>>()
            .into()
    }

    /// Notes what the last search could not reach over any arc.
    fn note_cut_off(&mut self, limit: W) {
        if limit == W::max_value() {
            let costs = self.search.nodes[self.stand.left.len()..].iter();
            for (cut_off, node) in self.stand.cut_off.iter_mut().zip(costs) {
                *cut_off = node.cost == W::max_value();
            }
        }
    }

    /// Finds the least cost to reach each node from pieces that are not yet sent, over arcs that cost
    /// less than `limit`.
    fn search(&mut self, limit: W) {
        self.go_straight(limit);
        let Flow {
            arcs,
            from,
            alike,
            stand: Stand { left, held, .. },
            search,
            ..
        } = self;
        let sources = left.len();
        let look_on = |search: &mut Search<W>, source: usize, cost: W| {
            let looked_from = &mut search.looked_from[alike[source] as usize];
            if cost >= *looked_from {
                // Its ways lead nowhere at a lower cost.
                return;
            }
            *looked_from = cost;
            let own = from[source]..from[source + 1];
            let arcs = &arcs[own.start as usize..own.end as usize];
            for (arc, at) in arcs.iter().zip(own.start..) {
                if arc.cost < limit {
                    search.reach(sources + arc.sink as usize, cost + arc.cost, at);
                }
            }
        };
        while let Some((node, cost)) = search.next() {
            if node < sources {
                look_on(search, node, cost);
            } else {
                for &at in &held[node - sources] {
                    let arc = &arcs[at as usize];
                    search.reach(arc.source as usize, cost - arc.cost, at);
                }
            }
        }
    }

    /// Begins a search with the sinks that pieces come to straight, in the order of their first arcs: as if
    /// each source that has pieces were looked at in turn, which takes as long as all the rest.
    fn go_straight(&mut self, limit: W) {
        let Flow {
            arcs,
            alike,
            stand: Stand { left, held, .. },
            search,
            ..
        } = self;
        let sources = left.len();
        search.start(sources, held.len());
        search.holds_below = Some(limit);
        for (source, _) in left.iter().enumerate().filter(|(_, left)| **left > 0) {
            search.nodes[source].cost = W::zero();
            search.looked_from[alike[source] as usize] = W::zero();
        }
        let is_spent = |at: &u32| left[arcs[*at as usize].source as usize] == 0;
        let is_open = |at: &&u32| !is_spent(at) && arcs[**at as usize].cost < limit;
        let mut straight = Vec::with_capacity(held.len());
        for sink in 0..held.len() {
            let own = self.into_from[sink] as usize..self.into_from[sink + 1] as usize;
            let [by_cost, in_turn] = [&self.into, &self.in_turn].map(|all| &all[own.clone()]);
            for (spent, own) in search.spent[sink].iter_mut().zip([by_cost, in_turn]) {
                let more = own[*spent as usize..].iter();
                *spent += more.take_while(|at| is_spent(at)).count() as u32;
            }
            let [cheapest, first] = search.spent[sink];
            let first = in_turn[first as usize..].iter().find(is_open);
            if let (Some(&by), Some(&first)) = (by_cost.get(cheapest as usize), first) {
                let node = &mut search.nodes[sources + sink];
                (node.cost, node.by) = (arcs[by as usize].cost, by);
                straight.push((first, sources + sink));
            }
        }
        straight.sort_unstable();
        for (_, sink) in straight {
            search.queue(sink);
        }
    }
}

impl<W: Weight> Search<W> {
    /// What was found no longer holds, since a source may have more pieces than it had.
    fn forget(&mut self) {
        self.holds_below = None;
        self.spent.fill([0; 2]);
    }

    fn start(&mut self, sources: usize, sinks: usize) {
        let nodes = 0..(sources + sinks) as u32;
        self.nodes.clear();
        self.nodes.extend(nodes.map(|at| Node {
            cost: W::max_value(),
            by: NONE,
            next: at,
        }));
        self.looked_from.clear();
        self.looked_from.resize(sources, W::max_value());
    }

    /// Notes a way to a node, if it is the cheapest so far.
    #[inline]
    fn reach(&mut self, at: usize, cost: W, by: u32) {
        let node = &mut self.nodes[at];
        if cost >= node.cost {
            return;
        }
        (node.cost, node.by) = (cost, by);
        if node.next == at as u32 {
            self.queue(at);
        }
    }

    /// Puts a node last among those whose ways on are to be looked at.
    fn queue(&mut self, node: usize) {
        self.nodes[node].next = NONE;
        let at = node as u32;
        match self.first {
            NONE => self.first = at,
            _ => self.nodes[self.last as usize].next = at,
        }
        self.last = at;
    }

    /// A node whose ways on are still to be looked at, and what it costs to reach.
    #[inline]
    fn next(&mut self) -> Option<(usize, W)> {
        let at = self.first;
        let node = self.nodes.get_mut(at as usize)?;
        self.first = std::mem::replace(&mut node.next, at);
        Some((at as usize, node.cost))
    }
}
