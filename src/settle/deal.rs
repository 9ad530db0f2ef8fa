//! Dealing pieces out: sources, the sinks that they may serve, stage after stage.

use std::ops::Range;

use rayon::prelude::*;
use rustc_hash::FxHashMap;

pub use super::flow::Cost;
use super::flow::{Flow, Sent};

/// One way in which a source may serve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Way {
    pub sink: usize,
    pub cost: Cost,
    /// Where it serves some stages only: index into [`Bench::stages`].
    pub only: Option<usize>,
}

impl Way {
    /// A way for the kit's own pieces, in every stage.
    pub fn own(sink: usize, misfit: i32) -> Way {
        Way {
            sink,
            cost: Cost::own(misfit),
            only: None,
        }
    }
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

/// Everything that is to be dealt.
#[derive(Debug, Clone, Copy)]
pub struct Bench<'a> {
    pub sinks: &'a [Sink],
    pub sources: &'a [Source<'a>],
    /// Stages that ways are limited to.
    pub stages: &'a [Vec<usize>],
}

/// Pieces that a sink got from a source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Given {
    pub sink: usize,
    /// Index into the sink's wants; `None`: for its spares.
    pub want: Option<usize>,
    pub source: usize,
    /// Index into the source's ways.
    pub way: usize,
    pub pieces: u64,
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
    /// The same by want, in order. Of what a sink has, the kit's own pieces go to its earliest stages,
    /// the shop's to later ones, and substitutes to the last. [`deal`] leaves it out.
    pub given: Vec<Given>,
    /// Pieces of each source that nobody got.
    pub left: Vec<u64>,
}

/// Deals the sources out to the sinks: the stages before `built` of all kits, then whole kits, then the
/// rest stage by stage, then spares. Of each stage as much is covered as can be without taking from an
/// earlier one, at the least cost.
pub fn deal_kits(bench: Bench, kits: u64, built: usize) -> Dealt {
    let mut dealt = deal_groups(bench, kits, built, |table, got| table.hand_out(got));
    dealt.given.sort_unstable();
    dealt
}

/// Deals the sources out to the sinks, stage by stage.
pub fn deal(sinks: &[Sink], sources: &[Source]) -> Dealt {
    let stages = &[];
    let bench = Bench {
        sinks,
        sources,
        stages,
    };
    deal_groups(bench, 1, 0, |_, _| Vec::new())
}

/// Deals group by group, as many at once as there are processors.
fn deal_groups(
    bench: Bench,
    kits: u64,
    built: usize,
    hand_out: impl Fn(&Table, &Got) -> Vec<Given> + Sync,
) -> Dealt {
    let Bench { sinks, sources, .. } = bench;
    let mut dealt = Dealt {
        covered: sinks.iter().map(|s| vec![0; s.wants.len()]).collect(),
        spares: vec![0; sinks.len()],
        flows: Vec::new(),
        given: Vec::new(),
        left: sources.iter().map(|s| s.pieces).collect(),
    };
    let groups = groups(sinks.len(), sources);
    let tables: Vec<(Table, Got, Vec<Given>)> = groups
        .par_iter()
        .map(|group| {
            let mut table = Table::lay(bench, group);
            let got = table.deal(kits, built);
            let given = hand_out(&table, &got);
            (table, got, given)
        })
        .collect();
    for (table, got, given) in tables {
        table.enter(&got, &mut dealt);
        dealt.given.extend(given);
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

/// What a group got.
struct Got {
    /// Beside the table's wants, over all kits.
    covered: Vec<u64>,
    /// Beside the group's sinks.
    spares: Vec<u64>,
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
    fn lay(bench: Bench, group: &'a Group) -> Table<'a> {
        let Bench { sinks, sources, .. } = bench;
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
        // Pieces that come free at a stage serve later stages only, and some ways a few stages, so that
        // there each want is a sink of the flow by itself; elsewhere one sink stands for all stages.
        let by_stage = (0..group.sources.len())
            .any(|at| own(at).after.is_some() || own(at).ways.iter().any(|way| way.only.is_some()));
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
        let mut slots_of: FxHashMap<usize, Vec<usize>> = FxHashMap::default();
        if by_stage {
            for (slot, sink) in slots.iter().enumerate() {
                slots_of.entry(*sink).or_default().push(slot);
            }
        }
        let arcs = group.sources.iter().map(|&source| {
            let Source { ways, after, .. } = &sources[source];
            let mut arcs: Vec<(u32, u32, Cost)> = Vec::new();
            for (at, way) in ways.iter().enumerate() {
                if by_stage {
                    let serves = |slot: usize| {
                        let stage = slot_stages[slot];
                        after.is_none_or(|s| stage > s)
                            && way
                                .only
                                .is_none_or(|only| bench.stages[only].contains(&stage))
                    };
                    let own = slots_of.get(&way.sink).into_iter().flatten();
                    let fitting = own.filter(|slot| serves(**slot));
                    arcs.extend(fitting.map(|slot| (*slot as u32, at as u32, way.cost)));
                } else {
                    let slot = group
                        .sinks
                        .binary_search(&way.sink)
                        .expect("a source's sinks are in its group");
                    arcs.push((slot as u32, at as u32, way.cost));
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
    fn deal(&mut self, kits: u64, built: usize) -> Got {
        let mut each: Vec<u64> = self.wants.iter().map(|want| want.pieces).collect();
        let mut covered = self.round(&each, kits, 0..built);
        let mut note = |got: &[u64], kits: u64| {
            for (covered, pieces) in covered.iter_mut().zip(got) {
                *covered += pieces * kits;
            }
        };
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
                note(&each, whole);
                kits_left -= whole;
            }
            if kits_left > 0 {
                each = self.round(&each, 1, open.clone());
                note(&each, 1);
                kits_left -= 1;
            }
        }
        let mut want = vec![0; self.slots.len()];
        for (slot, pieces) in self.spare_slots.iter().zip(&self.spares) {
            want[*slot] = *pieces;
        }
        self.flow.push_own(&mut want);
        let spares = self.spare_slots.iter().zip(&self.spares);
        Got {
            covered,
            spares: spares.map(|(slot, pieces)| pieces - want[*slot]).collect(),
        }
    }

    /// Enters what the group got.
    fn enter(&self, got: &Got, dealt: &mut Dealt) {
        for (want, pieces) in self.wants.iter().zip(&got.covered) {
            dealt.covered[want.sink][want.at] = *pieces;
        }
        for (&sink, spares) in self.group.sinks.iter().zip(&got.spares) {
            dealt.spares[sink] = *spares;
        }
        for sent in self.flow.sent() {
            let source = self.group.sources[sent.source];
            let sink = self.slots[sent.sink];
            dealt.flows.push((source, sink, sent.pieces));
        }
        for (at, &source) in self.group.sources.iter().enumerate() {
            dealt.left[source] = self.flow.left(at);
        }
    }

    /// Lays to each want the pieces that its slot got.
    fn hand_out(&self, got: &Got) -> Vec<Given> {
        let mut of_slot: Vec<Vec<Sent>> = vec![Vec::new(); self.slots.len()];
        for sent in self.flow.sent() {
            of_slot[sent.sink].push(sent);
        }
        for sent in &mut of_slot {
            // The last is handed out first.
            sent.sort_by_key(|sent| std::cmp::Reverse((sent.cost, sent.source, sent.way)));
        }
        let wants = self.wants.iter().zip(&got.covered);
        let wants = wants.map(|(want, &pieces)| (want.sink, Some(want.at), want.slot, pieces));
        let spares = self.group.sinks.iter().zip(&self.spare_slots);
        let spares = spares
            .zip(&got.spares)
            .map(|((&sink, &slot), &pieces)| (sink, None, slot, pieces));
        let mut given = Vec::new();
        for (sink, want, slot, mut wanted) in wants.chain(spares) {
            while let (1.., Some(sent)) = (wanted, of_slot[slot].last_mut()) {
                let pieces = wanted.min(sent.pieces);
                wanted -= pieces;
                sent.pieces -= pieces;
                given.push(Given {
                    sink,
                    want,
                    source: self.group.sources[sent.source],
                    way: sent.way,
                    pieces,
                });
                if sent.pieces == 0 {
                    of_slot[slot].pop();
                }
            }
        }
        given
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

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// A way of dealing, by trying all: covered pieces by sink and stage, and its cost.
    #[derive(Debug, Clone, PartialEq, Eq)]
    struct Tried {
        covered: Vec<Vec<u64>>,
        cost: Cost,
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
                so_far.cost = so_far.cost + way.cost;
                try_all(rest, sinks, so_far, each);
                so_far.covered[way.sink][at] -= 1;
                so_far.cost = so_far.cost - way.cost;
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
    type Given = (u64, Vec<Option<i32>>, Option<usize>);

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
                    proptest::collection::vec(proptest::option::of(0..3i32), 3),
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
        let of = |costs: &Vec<Option<i32>>| {
            let ways = costs.iter().enumerate();
            ways.filter_map(|(sink, cost)| Some(Way::own(sink, (*cost)?)))
                .collect()
        };
        sources.iter().map(|(_, costs, _)| of(costs)).collect()
    }

    fn best(sources: &[Source<'_>], sinks: &[Sink], got: &[Vec<u64>]) -> (Vec<u64>, Option<Cost>) {
        let pieces: Vec<(&Source<'_>, u32)> = sources
            .iter()
            .flat_map(|source| (0..source.pieces as u32).map(move |at| (source, at)))
            .collect();
        let mut none = Tried {
            covered: sinks.iter().map(|sink| vec![0; sink.wants.len()]).collect(),
            cost: Cost::default(),
        };
        let (mut most, mut least) = (vec![0; 8], None);
        try_all(&pieces, sinks, &mut none, &mut |tried| {
            most = most.clone().max(by_stage(sinks, &tried.covered));
            if tried.covered == got {
                least = Some(least.map_or(tried.cost, |least: Cost| least.min(tried.cost)));
            }
        });
        (most, least)
    }

    fn cost(dealt: &Dealt, sources: &[Source<'_>]) -> Cost {
        let mut sum = Cost::default();
        for given in &dealt.given {
            for _ in 0..given.pieces {
                sum = sum + sources[given.source].ways[given.way].cost;
            }
        }
        sum
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
            let dealt = deal_kits(Bench { sinks: &sinks, sources: &sources, stages: &[] }, 1, 0);
            let (most, least) = best(&sources, &sinks, &dealt.covered);
            prop_assert_eq!(by_stage(&sinks, &dealt.covered), most);
            prop_assert_eq!(Some(cost(&dealt, &sources)), least);
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
            let one = sinks(&wants, 1);
            let together = deal_kits(Bench { sinks: &one, sources: &sources, stages: &[] }, kits as u64, 0);
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
        let ways = [Way::own(0, 0), Way::own(1, 0)];
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
