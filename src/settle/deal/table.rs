//! A group of several sinks, laid out for dealing by the flow of least cost.

use std::ops::Range;

use super::{
    Bench, Build, Dealt, Given, Group, Source, hand_out,
    rounds::{Rounds, whole_kits_first},
};
use crate::settle::flow::{Flow, Scale, Sent, Stand, Weight};

/// One want of one kit.
struct Want {
    stage: usize,
    sink: usize,
    /// Its place among the sink's wants.
    at: usize,
    /// The flow's sink that stands for it.
    slot: usize,
    pieces: u64,
}

/// One group laid out for dealing.
pub struct Table<'a, W> {
    group: Group<'a>,
    spares: Vec<u64>,
    /// In order of stage, then sink.
    wants: Vec<Want>,
    /// The sink of each slot of the flow. The first ones are the group's own, which get the spares.
    slots: Vec<usize>,
    /// Pieces that a kit gives back: stage, source of the flow, pieces; in order of stage.
    returns: Vec<(usize, usize, u64)>,
    flow: Flow<W>,
}

/// Deals one group, in 64 bits where its costs go into them.
pub fn deal<'a>(bench: Bench, group: Group<'a>, build: &Build, wanted: bool) -> Done<'a> {
    let scale = scale_of(bench, group);
    match scale.is_short() {
        true => Table::<i64>::lay(bench, group, scale).deal(build, wanted),
        false => Table::<i128>::lay(bench, group, scale).deal(build, wanted),
    }
}

pub fn scale_of(bench: Bench, group: Group) -> Scale {
    let sources = group.sources.iter().map(|&at| &bench.sources[at as usize]);
    let costs = sources.flat_map(|source| source.ways).map(|way| way.cost);
    let sinks = group.sinks.iter().map(|&at| &bench.sinks[at as usize]);
    // A sink may be one for each of its wants, beside one for spares.
    let slots: usize = sinks.map(|sink| sink.wants.len() + 1).sum();
    Scale::of(group.sources.len() + slots, costs)
}

/// What a group got: no more than that, since the groups of a long list are entered when all are dealt.
pub struct Done<'a> {
    group: Group<'a>,
    /// Sink, place among its wants, pieces over all kits.
    covered: Vec<(u32, u32, u64)>,
    /// Beside the group's sinks.
    spares: Vec<u64>,
    /// Source, sink, pieces.
    flows: Vec<(usize, usize, u64)>,
    given: Vec<Given>,
    /// Beside the group's sources: pieces that nobody got.
    left: Vec<u64>,
}

impl<'a, W: Weight> Table<'a, W> {
    pub fn lay(bench: Bench, group: Group<'a>, scale: Scale) -> Table<'a, W> {
        let sources = group.sources.iter().map(|&at| bench.sources[at as usize]);
        let mut wants: Vec<Want> = Vec::new();
        for (slot, &sink) in group.sinks.iter().enumerate() {
            let sink = sink as usize;
            let own = bench.sinks[sink].wants.iter().enumerate();
            wants.extend(own.map(|(at, &(stage, pieces))| Want {
                stage,
                sink,
                at,
                slot,
                pieces,
            }));
        }
        wants.sort_by_key(|want| (want.stage, want.sink));
        // Pieces that come free at a stage serve later stages only, and some ways a few stages, so that
        // there each want is a sink of the flow by itself; elsewhere one sink stands for all stages.
        let by_stage = sources
            .clone()
            .any(|of| of.after.is_some() || of.ways.iter().any(|way| way.only.is_some()));
        let mut slots: Vec<usize> = group.sinks.iter().map(|&sink| sink as usize).collect();
        if by_stage {
            for want in &mut wants {
                want.slot = slots.len();
                slots.push(want.sink);
            }
        }
        let slot_of = |sink: usize| {
            let slot = group.sinks.binary_search(&(sink as u32));
            slot.expect("a source's sinks are in its group")
        };
        // The slots of each sink, beside the group's: its own one, and its wants'.
        let mut slots_of: Vec<Vec<(usize, usize)>> = vec![Vec::new(); group.sinks.len()];
        if by_stage {
            for (slot, of) in slots_of.iter_mut().enumerate() {
                of.push((slot, usize::MAX));
            }
            for want in &wants {
                slots_of[slot_of(want.sink)].push((want.slot, want.stage));
            }
        }
        let mut flow = Flow::new(slots.len(), scale);
        let mut returns = Vec::new();
        for (at, source) in sources.enumerate() {
            let Source {
                ways,
                after,
                pieces,
            } = source;
            let ways = ways.iter().enumerate();
            if by_stage {
                flow.source(ways.flat_map(|(at, way)| {
                    let serves = move |stage: usize| {
                        let open = way.only.map(|only| &bench.stages[only as usize]);
                        after.is_none_or(|s| stage > s)
                            && open.is_none_or(|stages| stages.contains(&stage))
                    };
                    let own = slots_of[slot_of(way.sink)].iter();
                    own.filter(move |(_, stage)| serves(*stage))
                        .map(move |(slot, _)| (*slot, at, way.cost))
                }));
            } else {
                flow.source(ways.map(|(at, way)| (slot_of(way.sink), at, way.cost)));
            }
            match after {
                None => flow.add(at, pieces),
                Some(stage) => returns.push((stage, at, pieces)),
            }
        }
        flow.close();
        returns.sort_unstable();
        let spares = group.sinks.iter();
        Table {
            group,
            spares: spares
                .map(|&sink| bench.sinks[sink as usize].spares)
                .collect(),
            wants,
            slots,
            returns,
            flow,
        }
    }

    /// Deals all kits, and what is spare.
    pub fn deal(mut self, build: &Build, wanted: bool) -> Done<'a> {
        let wants = self.wants.iter();
        let wants: Vec<(usize, u64)> = wants.map(|want| (want.stage, want.pieces)).collect();
        let covered = whole_kits_first(&mut self, &wants, build);
        let mut want = vec![0; self.slots.len()];
        want[..self.spares.len()].copy_from_slice(&self.spares);
        self.flow.push_own(&mut want);
        let spares = self.spares.iter().zip(&want);
        let spares: Vec<u64> = spares.map(|(spares, left)| spares - left).collect();
        let (flows, given) = match wanted {
            true => (Vec::new(), self.hand_out(&covered, &spares)),
            false => (self.flows(), Vec::new()),
        };
        let got = self
            .wants
            .iter()
            .zip(&covered)
            .filter(|(_, pieces)| **pieces > 0);
        Done {
            group: self.group,
            covered: got
                .map(|(want, &pieces)| (want.sink as u32, want.at as u32, pieces))
                .collect(),
            spares,
            flows,
            given,
            left: (0..self.group.sources.len())
                .map(|at| self.flow.left(at))
                .collect(),
        }
    }

    /// Source, sink and pieces of all that was sent.
    fn flows(&self) -> Vec<(usize, usize, u64)> {
        let sent = self.flow.sent();
        sent.map(|(_, sent)| {
            let source = self.group.sources[sent.source] as usize;
            (source, self.slots[sent.sink], sent.pieces)
        })
        .collect()
    }

    /// Lays to each want the pieces that its slot got.
    fn hand_out(&self, covered: &[u64], spares: &[u64]) -> Vec<Given> {
        let mut all: Vec<(W, Sent)> = self.flow.sent().collect();
        // The last is handed out first.
        all.sort_unstable_by_key(|(cost, sent)| std::cmp::Reverse((*cost, sent.source, sent.way)));
        let mut of_slot: Vec<Vec<Sent>> = vec![Vec::new(); self.slots.len()];
        for (_, sent) in all {
            of_slot[sent.sink].push(sent);
        }
        let wants = self.wants.iter().zip(covered);
        let wants =
            wants.map(|(want, &pieces)| (want.sink, Some(want.at as u32), want.slot, pieces));
        let spares = self.slots.iter().zip(spares).enumerate();
        let spares = spares.map(|(slot, (&sink, &pieces))| (sink, None, slot, pieces));
        let mut given = Vec::new();
        for (sink, want, slot, pieces) in wants.chain(spares) {
            hand_out(&mut of_slot[slot], pieces, |sent, pieces| {
                given.push(Given {
                    sink: sink as u32,
                    want,
                    source: self.group.sources[sent.source],
                    way: sent.way as u32,
                    pieces,
                });
            });
        }
        given
    }
}

impl<W: Weight> Rounds for Table<'_, W> {
    type Stand = Stand;

    fn stand(&self) -> Stand {
        self.flow.stand()
    }

    fn go_back(&mut self, to: Stand) {
        self.flow.go_back(to);
    }

    fn round(&mut self, each: &[u64], kits: u64, stages: Range<usize>) -> Vec<u64> {
        let mut got = vec![0; each.len()];
        let mut want = vec![0; self.slots.len()];
        let returns = self.returns.iter().filter(|(at, ..)| stages.contains(at));
        let mut returns = returns.peekable();
        let mut at = self.wants.partition_point(|want| want.stage < stages.start);
        while let Some(&Want { stage, .. }) = self.wants.get(at)
            && stage < stages.end
        {
            let mut late = false;
            while let Some(&(_, source, pieces)) = returns.next_if(|(at, ..)| *at < stage) {
                self.flow.add(source, pieces * kits);
                late = true;
            }
            if late {
                self.flow.settle();
            }
            let wants = &self.wants[at..];
            let end = at + wants.partition_point(|want| want.stage == stage);
            for (want_of, each) in self.wants[at..end].iter().zip(&each[at..end]) {
                want[want_of.slot] = each * kits;
            }
            self.flow.push(&mut want);
            for at in at..end {
                let left = std::mem::take(&mut want[self.wants[at].slot]);
                got[at] = each[at] * kits - left;
            }
            at = end;
        }
        let mut late = false;
        for &(_, source, pieces) in returns {
            self.flow.add(source, pieces * kits);
            late = true;
        }
        if late {
            self.flow.settle();
        }
        got
    }
}

impl Done<'_> {
    /// Enters what the group got.
    pub fn enter(self, dealt: &mut Dealt) {
        for (sink, at, pieces) in self.covered {
            dealt.covered_mut(sink as usize)[at as usize] = pieces;
        }
        for (&sink, spares) in self.group.sinks.iter().zip(self.spares) {
            dealt.spares[sink as usize] = spares;
        }
        for (&source, left) in self.group.sources.iter().zip(self.left) {
            dealt.left[source as usize] = left;
        }
        dealt.flows.extend(self.flows);
        dealt.given.extend(self.given);
    }
}
