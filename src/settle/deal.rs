//! Dealing pieces out: sources, the sinks that they may serve, stage after stage.

use std::ops::Range;

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

/// Deals the sources out to the sinks: the stages before `built` of all kits, then whole kits, then the
/// rest stage by stage, then spares. Of each stage as much is covered as can be without taking from an
/// earlier one, at the least cost.
pub fn deal_kits(sinks: &[Sink], sources: &[Source], kits: u64, built: usize) -> Dealt {
    let mut dealt = Dealt {
        covered: sinks.iter().map(|s| vec![0; s.wants.len()]).collect(),
        spares: vec![0; sinks.len()],
        flows: Vec::new(),
        left: sources.iter().map(|s| s.pieces).collect(),
    };
    for group in groups(sinks.len(), sources) {
        Table::lay(sinks, sources, &group).deal(kits, built, &mut dealt);
    }
    dealt.flows.sort_unstable();
    dealt
}

/// Deals the sources out to the sinks, stage by stage.
pub fn deal(sinks: &[Sink], sources: &[Source]) -> Dealt {
    deal_kits(sinks, sources, 1, 0)
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
    fn deal(mut self, kits: u64, built: usize, dealt: &mut Dealt) {
        let mut each: Vec<u64> = self.wants.iter().map(|want| want.pieces).collect();
        let standing = self.round(&each, kits, 0..built);
        self.note(&standing, 1, dealt);
        for (want, each) in self.wants.iter().zip(&mut each) {
            if want.stage < built {
                *each = 0;
            }
        }
        let open = built..usize::MAX;
        let mut kits_left = kits;
        while kits_left > 0 {
            if kits_left > 1 {
                let whole = self.whole(&each, kits_left, &open);
                self.round(&each, whole, open.clone());
                self.note(&each, whole, dealt);
                kits_left -= whole;
            }
            if kits_left > 0 {
                each = self.round(&each, 1, open.clone());
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
    fn whole(&mut self, each: &[u64], most: u64, stages: &Range<usize>) -> u64 {
        let covered = |kits: u64, table: &mut Table| {
            let before = table.flow.clone();
            let got = table.round(each, kits, stages.clone());
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

    /// Deals some stages one after another, of `kits` kits at once, each wanting `each`; says what they
    /// got in all.
    fn round(&mut self, each: &[u64], kits: u64, stages: Range<usize>) -> Vec<u64> {
        let mut got = vec![0; each.len()];
        let mut want = vec![0; self.slots.len()];
        let returns = self.returns.iter().filter(|(at, ..)| stages.contains(at));
        let mut returns = returns.peekable();
        let mut at = self.wants.partition_point(|want| want.stage < stages.start);
        while let Some(&Want { stage, .. }) = self.wants.get(at)
            && stage < stages.end
        {
            while let Some(&(_, source, pieces)) = returns.next_if(|(at, ..)| *at < stage) {
                self.flow.add(source, pieces * kits);
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
        for &(_, source, pieces) in returns {
            self.flow.add(source, pieces * kits);
        }
        got
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// A way of dealing, by trying all: covered pieces by sink and stage, and its cost.
    #[derive(Debug, Clone, PartialEq, Eq)]
    struct Tried {
        covered: Vec<Vec<u64>>,
        cost: u32,
    }

    /// Deals piece by piece in every possible way.
    fn try_all(
        pieces: &[(&Source<'_>, u32)],
        sinks: &[Sink],
        so_far: &mut Tried,
        each: &mut impl FnMut(&Tried),
    ) {
        let Some(((source, _), rest)) = pieces.split_first() else {
            return each(so_far);
        };
        try_all(rest, sinks, so_far, each);
        for way in source.ways {
            for at in 0..sinks[way.sink].wants.len() {
                let (stage, wanted) = sinks[way.sink].wants[at];
                if source.after.is_some_and(|after| stage <= after)
                    || so_far.covered[way.sink][at] == wanted
                {
                    continue;
                }
                so_far.covered[way.sink][at] += 1;
                so_far.cost += way.cost;
                try_all(rest, sinks, so_far, each);
                so_far.covered[way.sink][at] -= 1;
                so_far.cost -= way.cost;
            }
        }
    }

    fn by_stage(sinks: &[Sink], covered: &[Vec<u64>]) -> Vec<u64> {
        let mut stages = vec![0; 8];
        for (sink, covered) in sinks.iter().zip(covered) {
            for ((stage, _), covered) in sink.wants.iter().zip(covered) {
                stages[*stage] += covered;
            }
        }
        stages
    }

    /// A source: its pieces, the cost for each sink that it may serve, its stage of return.
    type Given = (u64, Vec<Option<u32>>, Option<usize>);

    /// Wants of three sinks in two stages, and the sources.
    type Tiny = (Vec<Vec<u64>>, Vec<Given>);

    fn tiny(returns: bool) -> impl Strategy<Value = Tiny> {
        let after = match returns {
            true => proptest::option::of(0..2usize).boxed(),
            false => Just(None).boxed(),
        };
        (
            proptest::collection::vec(proptest::collection::vec(0..3u64, 2), 3),
            proptest::collection::vec(
                (
                    0..3u64,
                    proptest::collection::vec(proptest::option::of(0..3u32), 3),
                    after,
                ),
                1..4,
            ),
        )
    }

    /// Sinks for `kits` kits, kit after kit as later stages.
    fn sinks(wants: &[Vec<u64>], kits: usize) -> Vec<Sink> {
        wants
            .iter()
            .map(|wants| Sink {
                wants: (0..kits)
                    .flat_map(|kit| {
                        wants
                            .iter()
                            .enumerate()
                            .map(move |(at, n)| (2 * kit + at, *n))
                    })
                    .collect(),
                spares: 0,
            })
            .collect()
    }

    fn ways(sources: &[Given]) -> Vec<Vec<Way>> {
        let of = |costs: &Vec<Option<u32>>| {
            let ways = costs.iter().enumerate();
            ways.filter_map(|(sink, cost)| {
                Some(Way {
                    sink,
                    cost: (*cost)?,
                })
            })
            .collect()
        };
        sources.iter().map(|(_, costs, _)| of(costs)).collect()
    }

    fn best(sources: &[Source<'_>], sinks: &[Sink], got: &[Vec<u64>]) -> (Vec<u64>, u32) {
        let pieces: Vec<(&Source<'_>, u32)> = sources
            .iter()
            .flat_map(|source| (0..source.pieces as u32).map(move |at| (source, at)))
            .collect();
        let mut none = Tried {
            covered: sinks.iter().map(|sink| vec![0; sink.wants.len()]).collect(),
            cost: 0,
        };
        let (mut most, mut least) = (vec![0; 8], u32::MAX);
        try_all(&pieces, sinks, &mut none, &mut |tried| {
            most = most.clone().max(by_stage(sinks, &tried.covered));
            if tried.covered == got {
                least = least.min(tried.cost);
            }
        });
        (most, least)
    }

    fn cost(dealt: &Dealt, sources: &[Source<'_>]) -> u32 {
        let flows = dealt.flows.iter();
        flows
            .map(|&(source, sink, pieces)| {
                let way = sources[source].ways.iter().find(|way| way.sink == sink);
                way.expect("pieces go where they may").cost * pieces as u32
            })
            .sum()
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

        /// Earlier stages first, then the least cost of what is covered: against trying all.
        #[test]
        fn dealing_is_best((wants, given) in tiny(true)) {
            let (sinks, ways) = (sinks(&wants, 1), ways(&given));
            let sources: Vec<Source> = given
                .iter()
                .zip(&ways)
                .map(|((pieces, _, after), ways)| Source { pieces: *pieces, ways, after: *after })
                .collect();
            let dealt = deal(&sinks, &sources);
            let (most, least) = best(&sources, &sinks, &dealt.covered);
            prop_assert_eq!(by_stage(&sinks, &dealt.covered), most);
            prop_assert_eq!(cost(&dealt, &sources), least);
        }

        /// Whole kits first: the same as if each kit's stages came after those of the kit before.
        #[test]
        fn whole_kits_come_first((wants, given) in tiny(false), kits in 2..5usize) {
            let ways = ways(&given);
            let sources: Vec<Source> = given
                .iter()
                .zip(&ways)
                .map(|((pieces, ..), ways)| Source { pieces: *pieces * 4, ways, after: None })
                .collect();
            let one_by_one = sinks(&wants, kits);
            let apart = deal(&one_by_one, &sources);
            let together = deal_kits(&sinks(&wants, 1), &sources, kits as u64, 0);
            let folded: Vec<u64> = (0..2)
                .map(|stage| {
                    let of = |kit: usize| apart.covered.iter().map(move |c| c[2 * kit + stage]);
                    (0..kits).flat_map(of).sum()
                })
                .collect();
            let stage_sums = |stage: usize| together.covered.iter().map(|c| c[stage]).sum::<u64>();
            prop_assert_eq!([stage_sums(0), stage_sums(1)].to_vec(), folded);
        }
    }

    #[test]
    fn spares_take_nothing_from_stages() {
        let ways = [Way { sink: 0, cost: 0 }, Way { sink: 1, cost: 0 }];
        let source = Source {
            pieces: 5,
            ways: &ways,
            after: None,
        };
        let sinks = [
            Sink {
                wants: vec![(0, 1)],
                spares: 4,
            },
            Sink {
                wants: vec![(1, 3)],
                spares: 0,
            },
        ];
        let dealt = deal(&sinks, &[source]);
        assert_eq!(dealt.covered, [[1], [3]]);
        assert_eq!((dealt.spares, dealt.left), (vec![1, 0], vec![0]));
    }
}
