//! Dealing pieces out: sources, the sinks that they may serve, stage after stage.

use super::flow::Flow;

/// One way in which a source may serve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Way {
    pub sink: usize,
    pub cost: u32,
}

/// Pieces on hand, all alike.
#[derive(Debug, Clone)]
pub struct Source<'a> {
    /// With `after`: pieces that each kit gives back.
    pub pieces: u64,
    pub ways: &'a [Way],
    /// The stage at whose end the pieces come free; `None`: there from the start.
    pub after: Option<usize>,
}

/// Who wants pieces.
#[derive(Debug, Clone, Default)]
pub struct Sink {
    /// Stage and pieces for one kit, in order of stage; each stage once.
    pub wants: Vec<(usize, u64)>,
    /// Wanted when all stages are dealt.
    pub spares: u64,
}

/// Who got what.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Dealt {
    /// Beside each want of each sink: the pieces that it got, over all kits.
    pub covered: Vec<Vec<u64>>,
    /// Spares that each sink got.
    pub spares: Vec<u64>,
    /// Source, sink, pieces, spares included.
    pub flows: Vec<(usize, usize, u64)>,
    /// Pieces of each source that nobody got.
    pub left: Vec<u64>,
}

/// Deals the sources out to the sinks: whole kits first, then stage by stage, then spares. Of each
/// stage as much is covered as can be without taking from an earlier one, at the least cost.
pub fn deal(sinks: &[Sink], sources: &[Source], kits: u64) -> Dealt {
    let mut dealt = Dealt {
        covered: sinks.iter().map(|s| vec![0; s.wants.len()]).collect(),
        spares: vec![0; sinks.len()],
        flows: Vec::new(),
        left: sources.iter().map(|s| s.pieces).collect(),
    };
    for group in groups(sinks.len(), sources) {
        Table::lay(sinks, sources, &group).deal(kits, &mut dealt);
    }
    dealt.flows.sort_unstable();
    dealt
}

/// Sinks and sources that hang together, through whatever may serve whom.
#[derive(Default)]
struct Group {
    sinks: Vec<usize>,
    sources: Vec<usize>,
}

fn groups(sinks: usize, sources: &[Source]) -> Vec<Group> {
    let mut parent: Vec<usize> = (0..sinks).collect();
    fn root(parent: &mut [usize], mut at: usize) -> usize {
        while parent[at] != at {
            parent[at] = parent[parent[at]];
            at = parent[at];
        }
        at
    }
    for source in sources {
        if let Some((first, rest)) = source.ways.split_first() {
            for way in rest {
                let (a, b) = (root(&mut parent, first.sink), root(&mut parent, way.sink));
                parent[a.max(b)] = a.min(b);
            }
        }
    }
    let mut groups: Vec<Group> = (0..sinks).map(|_| Group::default()).collect();
    for sink in 0..sinks {
        groups[root(&mut parent, sink)].sinks.push(sink);
    }
    for (at, source) in sources.iter().enumerate() {
        if let Some(way) = source.ways.first() {
            groups[root(&mut parent, way.sink)].sources.push(at);
        }
    }
    groups.retain(|group| !group.sinks.is_empty() && !group.sources.is_empty());
    groups
}

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
struct Table<'a> {
    group: &'a Group,
    spares: Vec<u64>,
    /// In order of stage, then sink.
    wants: Vec<Want>,
    /// The sink of each slot.
    slots: Vec<usize>,
    /// The slot that gets a sink's spares, beside the group's sinks.
    spare_slots: Vec<usize>,
    /// Pieces that a kit gives back: stage, source of the flow, pieces; in order of stage.
    returns: Vec<(usize, usize, u64)>,
    flow: Flow,
}

impl<'a> Table<'a> {
    fn lay(sinks: &[Sink], sources: &[Source], group: &'a Group) -> Table<'a> {
        let own = |at: usize| &sources[group.sources[at]];
        let mut wants: Vec<Want> = group
            .sinks
            .iter()
            .flat_map(|&sink| {
                let wants = sinks[sink].wants.iter().enumerate();
                wants.map(move |(at, &(stage, pieces))| Want {
                    stage,
                    sink,
                    at,
                    slot: 0,
                    pieces,
                })
            })
            .collect();
        wants.sort_by_key(|want| (want.stage, want.sink));
        // Pieces that come free at a stage serve later stages only, so that there each want is a
        // sink of the flow by itself; elsewhere one sink stands for all stages.
        let by_stage = (0..group.sources.len()).any(|at| own(at).after.is_some());
        let (mut slots, mut slot_stages) = (group.sinks.clone(), Vec::new());
        let spare_slots = (0..group.sinks.len()).collect();
        if by_stage {
            slot_stages = vec![usize::MAX; slots.len()];
        }
        for want in &mut wants {
            if by_stage {
                want.slot = slots.len();
                slots.push(want.sink);
                slot_stages.push(want.stage);
            } else {
                want.slot = group
                    .sinks
                    .binary_search(&want.sink)
                    .expect("a group's sinks are in order");
            }
        }
        let arcs = group.sources.iter().map(|&source| {
            let Source { ways, after, .. } = &sources[source];
            let mut arcs: Vec<(u32, u32)> = Vec::new();
            for way in *ways {
                if by_stage {
                    let fitting = (0..slots.len()).filter(|&slot| {
                        slots[slot] == way.sink && after.is_none_or(|s| slot_stages[slot] > s)
                    });
                    arcs.extend(fitting.map(|slot| (slot as u32, way.cost)));
                } else {
                    let slot = group
                        .sinks
                        .binary_search(&way.sink)
                        .expect("a source's sinks are in its group");
                    arcs.push((slot as u32, way.cost));
                }
            }
            arcs
        });
        let mut flow = Flow::new(slots.len(), arcs);
        let mut returns = Vec::new();
        for at in 0..group.sources.len() {
            match own(at).after {
                None => flow.add(at, own(at).pieces),
                Some(stage) => returns.push((stage, at, own(at).pieces)),
            }
        }
        returns.sort_unstable();
        Table {
            group,
            spares: group.sinks.iter().map(|&sink| sinks[sink].spares).collect(),
            wants,
            slots,
            spare_slots,
            returns,
            flow,
        }
    }

    /// Whole kits first: as many kits as can be are covered in full, the next as far as it goes, and
    /// so on with what is left of a kit's wants, for what one kit could not get none after it can.
    fn deal(mut self, kits: u64, dealt: &mut Dealt) {
        let mut each: Vec<u64> = self.wants.iter().map(|want| want.pieces).collect();
        let mut kits_left = kits;
        while kits_left > 0 {
            if kits_left > 1 {
                let whole = self.whole(&each, kits_left);
                self.round(&each, whole);
                self.note(&each, whole, dealt);
                kits_left -= whole;
            }
            if kits_left > 0 {
                each = self.round(&each, 1);
                self.note(&each, 1, dealt);
                kits_left -= 1;
            }
        }
        let mut want = vec![0; self.slots.len()];
        for (slot, pieces) in self.spare_slots.iter().zip(&self.spares) {
            want[*slot] = *pieces;
        }
        self.flow.push(&mut want);
        for ((slot, pieces), sink) in self
            .spare_slots
            .iter()
            .zip(&self.spares)
            .zip(&self.group.sinks)
        {
            dealt.spares[*sink] = pieces - want[*slot];
        }
        for (source, slot, pieces) in self.flow.flows() {
            let flow = (self.group.sources[source], self.slots[slot], pieces);
            dealt.flows.push(flow);
        }
        for (at, &source) in self.group.sources.iter().enumerate() {
            dealt.left[source] = self.flow.left(at);
        }
    }

    fn note(&self, got: &[u64], kits: u64, dealt: &mut Dealt) {
        for (want, pieces) in self.wants.iter().zip(got) {
            dealt.covered[want.sink][want.at] += pieces * kits;
        }
    }

    /// Most kits, up to `most`, that can be covered in full, each wanting `each`.
    fn whole(&mut self, each: &[u64], most: u64) -> u64 {
        let covered = |kits: u64, table: &mut Table| {
            let before = table.flow.clone();
            let got = table.round(each, kits);
            table.flow = before;
            got.iter().zip(each).all(|(got, each)| *got == each * kits)
        };
        if covered(most, self) {
            return most;
        }
        let (mut yes, mut no) = (0, most);
        while no - yes > 1 {
            let middle = yes + (no - yes) / 2;
            if covered(middle, self) {
                yes = middle;
            } else {
                no = middle;
            }
        }
        yes
    }

    /// Deals stage after stage, `kits` kits at once, each wanting `each`; says what they got.
    fn round(&mut self, each: &[u64], kits: u64) -> Vec<u64> {
        let mut got = vec![0; each.len()];
        let mut want = vec![0; self.slots.len()];
        let mut returns = self.returns.iter().peekable();
        let mut first = 0;
        while first < self.wants.len() {
            let stage = self.wants[first].stage;
            let end = first
                + self.wants[first..]
                    .iter()
                    .take_while(|want| want.stage == stage)
                    .count();
            while let Some(&(_, source, pieces)) = returns.next_if(|r| r.0 < stage) {
                self.flow.add(source, pieces * kits);
            }
            for at in first..end {
                want[self.wants[at].slot] = each[at] * kits;
            }
            self.flow.push(&mut want);
            for at in first..end {
                let slot = self.wants[at].slot;
                got[at] = each[at] * kits - want[slot];
                want[slot] = 0;
            }
            first = end;
        }
        for &(_, source, pieces) in returns {
            self.flow.add(source, pieces * kits);
        }
        got
    }
}
