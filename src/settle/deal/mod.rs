//! Dealing pieces out: sources, the sinks that they may serve, stage after stage.
//!
//! Sinks and sources fall apart into [`groups`]. In most there is one sink, which takes what there is
//! ([`lone`]); the others are laid out on a [`table`] and dealt by the flow of least cost.

mod groups;
mod lone;
mod returned;
mod rounds;
mod runs;
mod table;

use std::ops::Range;

use rayon::prelude::*;

pub use super::flow::Cost;
use super::flow::Sent;
use groups::{Group, Groups};
use lone::Lone;
use runs::Runs;

/// One way in which a source may serve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Way {
    pub sink: usize,
    pub cost: Cost,
    /// Where it serves some stages only: index into [`Bench::stages`].
    pub only: Option<u32>,
}

impl Way {
    /// A way that is open in every stage.
    pub fn at(sink: usize, cost: Cost) -> Way {
        Way {
            sink,
            cost,
            only: None,
        }
    }

    /// A way for the kit's own pieces, in every stage.
    pub fn own(sink: usize, misfit: i32) -> Way {
        Way::at(sink, Cost::own(misfit))
    }
}

/// Pieces on hand, all alike.
#[derive(Debug, Clone, Copy)]
pub struct Source<'a> {
    /// With `after`: pieces that each kit gives back.
    pub pieces: u64,
    pub ways: &'a [Way],
    /// The stage at whose end the pieces come free; `None`: there from the start.
    pub after: Option<usize>,
}

impl<'a> Source<'a> {
    /// Pieces that are there from the start.
    pub fn of(pieces: u64, ways: &'a [Way]) -> Source<'a> {
        Source {
            pieces,
            ways,
            after: None,
        }
    }
}

/// Who wants pieces.
#[derive(Debug, Clone, Copy, Default)]
pub struct Sink<'a> {
    /// Stage and pieces for one kit, in order of stage; each stage once.
    pub wants: &'a [(usize, u64)],
    /// Wanted when all stages are dealt.
    pub spares: u64,
}

impl<'a> Sink<'a> {
    /// A sink for each want, with no spares.
    pub fn each(wants: &'a [(usize, u64)]) -> Vec<Sink<'a>> {
        let wants = wants.chunks(1);
        wants.map(|wants| Sink { wants, spares: 0 }).collect()
    }
}

/// Everything that is to be dealt.
#[derive(Debug, Clone, Copy)]
pub struct Bench<'a> {
    pub sinks: &'a [Sink<'a>],
    pub sources: &'a [Source<'a>],
    /// Stages that ways are limited to.
    pub stages: &'a [Vec<usize>],
}

/// How many kits are built, and how far.
#[derive(Debug, Clone)]
struct Build {
    kits: u64,
    /// The stages that are built kit by kit. Those before are built, of all kits; those behind are spares of all kits.
    open: Range<usize>,
}

impl Build {
    /// One kit, of which nothing is built.
    fn one() -> Build {
        Build {
            kits: 1,
            open: 0..usize::MAX,
        }
    }
}

/// Pieces that a sink got from a source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Given {
    pub sink: u32,
    /// Index into the sink's wants; `None`: for its spares.
    pub want: Option<u32>,
    pub source: u32,
    /// Index into the source's ways.
    pub way: u32,
    pub pieces: u64,
}

/// Who got what.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Dealt {
    /// The first want of each sink, counted over all sinks; one more at the end.
    firsts: Vec<usize>,
    /// Beside the wants of all sinks: the pieces that each got, over all kits.
    covered: Vec<u64>,
    /// Spares that each sink got.
    pub spares: Vec<u64>,
    /// Source, sink, pieces, spares included; by [`deal`] alone.
    pub flows: Vec<(usize, usize, u64)>,
    /// The same by want, in order; by [`deal_kits`] alone. Of what a sink has, the kit's own pieces go to
    /// its earliest stages, the shop's to later ones, and substitutes to the last.
    pub given: Vec<Given>,
    /// Pieces of each source that nobody got.
    pub left: Vec<u64>,
}

impl Dealt {
    fn nothing(bench: Bench) -> Dealt {
        let mut firsts = Vec::with_capacity(bench.sinks.len() + 1);
        let mut wants = 0;
        for sink in bench.sinks {
            firsts.push(wants);
            wants += sink.wants.len();
        }
        firsts.push(wants);
        Dealt {
            firsts,
            covered: vec![0; wants],
            spares: vec![0; bench.sinks.len()],
            flows: Vec::new(),
            given: Vec::new(),
            left: bench.sources.iter().map(|s| s.pieces).collect(),
        }
    }

    /// Beside a sink's wants: the pieces that each got, over all kits.
    pub fn covered(&self, sink: usize) -> &[u64] {
        &self.covered[self.firsts[sink]..self.firsts[sink + 1]]
    }

    /// The pieces that each sink got for its wants, over all kits.
    pub fn got(&self) -> impl Iterator<Item = u64> {
        (0..self.spares.len()).map(|sink| self.covered(sink).iter().sum())
    }

    fn covered_mut(&mut self, sink: usize) -> &mut [u64] {
        &mut self.covered[self.firsts[sink]..self.firsts[sink + 1]]
    }
}

/// Deals the sources out to the sinks: the stages before those `open` of all kits, then whole kits, then the
/// rest stage by stage, then the stages behind those, then spares. Of each stage as much is covered as can be without taking from an
/// earlier one, at the least cost.
pub fn deal_kits(bench: Bench, kits: u64, open: Range<usize>) -> Dealt {
    let build = Build { kits, open };
    let mut dealt = match Runs::of(bench) {
        None => deal_groups(bench, &build, true),
        Some(runs) => {
            let sources = &runs.joined(bench.sources);
            runs.part(
                deal_groups(Bench { sources, ..bench }, &build, true),
                bench.sources,
            )
        }
    };
    dealt.given.par_sort_unstable();
    dealt
}

/// Deals the sources out to the sinks, stage by stage.
pub fn deal(sinks: &[Sink], sources: &[Source]) -> Dealt {
    let bench = Bench {
        sinks,
        sources,
        stages: &[],
    };
    deal_groups(bench, &Build::one(), false)
}

/// Deals group by group: those of several sinks as many at once as there are processors, and the
/// others beside them. `hand_out` says whether what is given is wanted, too.
fn deal_groups(bench: Bench, build: &Build, hand_out: bool) -> Dealt {
    let groups = Groups::of(bench);
    let (lone, several): (Vec<Group>, Vec<Group>) =
        groups.iter().partition(|g| Lone::is(bench, *g));
    let several = || -> Vec<table::Done> {
        let tables = several.par_iter();
        tables
            .map(|group| table::deal(bench, *group, build, hand_out))
            .collect()
    };
    let lone = || {
        let mut dealt = Dealt::nothing(bench);
        let mut dealing = Lone::default();
        for group in lone {
            dealing.deal(bench, group, build, hand_out, &mut dealt);
        }
        dealt
    };
    let (mut dealt, several) = rayon::join(lone, several);
    for done in several {
        done.enter(&mut dealt);
    }
    dealt.flows.par_sort_unstable();
    dealt
}

/// Hands so many pieces out of what was sent, the last first.
fn hand_out(of: &mut Vec<Sent>, mut wanted: u64, mut give: impl FnMut(&Sent, u64)) {
    while let (1.., Some(sent)) = (wanted, of.last_mut()) {
        let pieces = wanted.min(sent.pieces);
        wanted -= pieces;
        sent.pieces -= pieces;
        give(sent, pieces);
        if sent.pieces == 0 {
            of.pop();
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{table::Table, *};

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
    fn stages(wants: &[Vec<u64>], kits: usize) -> Vec<Vec<(usize, u64)>> {
        let of_kit = |kit: usize, wants: &[u64]| -> Vec<(usize, u64)> {
            let wants = wants.iter().enumerate();
            wants.map(|(at, n)| (2 * kit + at, *n)).collect()
        };
        wants
            .iter()
            .map(|wants| (0..kits).flat_map(|kit| of_kit(kit, wants)).collect())
            .collect()
    }

    fn sinks(stages: &[Vec<(usize, u64)>]) -> Vec<Sink<'_>> {
        let sinks = stages.iter();
        sinks.map(|wants| Sink { wants, spares: 0 }).collect()
    }

    fn covered(dealt: &Dealt, sinks: &[Sink]) -> Vec<Vec<u64>> {
        (0..sinks.len())
            .map(|sink| dealt.covered(sink).to_vec())
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

    fn cost_of(dealt: &Dealt, sources: &[Source<'_>]) -> Cost {
        let mut sum = Cost::default();
        for given in &dealt.given {
            for _ in 0..given.pieces {
                sum = sum + sources[given.source as usize].ways[given.way as usize].cost;
            }
        }
        sum
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

        /// Earlier stages first, then the least cost of what is covered: against trying all.
        #[test]
        fn dealing_is_best((wants, given) in tiny(true)) {
            let (stages, ways) = (stages(&wants, 1), ways(&given));
            let sinks = sinks(&stages);
            let sources: Vec<Source> = given
                .iter()
                .zip(&ways)
                .map(|((pieces, _, after), ways)| Source { pieces: *pieces, ways, after: *after })
                .collect();
            let dealt = deal_kits(Bench { sinks: &sinks, sources: &sources, stages: &[] }, 1, 0..usize::MAX);
            let covered = covered(&dealt, &sinks);
            let (most, least) = best(&sources, &sinks, &covered);
            prop_assert_eq!(by_stage(&sinks, &covered), most);
            prop_assert_eq!(Some(cost_of(&dealt, &sources)), least);
        }

        /// One sink by itself: the same as on the table.
        #[test]
        fn a_lone_sink_needs_no_table(
            wants in proptest::collection::vec(0..6u64, 0..4),
            spares in 0..5u64,
            given in proptest::collection::vec(
                (0..9u64, proptest::collection::vec((0..3i32, 0..3u8), 1..3), proptest::option::of(0..4usize)),
                1..5,
            ),
            kits in 1..5u64,
            built in 0..4usize,
            more in 0..4usize,
        ) {
            let cost = |(misfit, rank): &(i32, u8)| match rank {
                0 => Cost::own(*misfit),
                1 => Cost::own(*misfit).of_stock(),
                _ => Cost::own(*misfit).as_substitute(),
            };
            let wants: Vec<(usize, u64)> = wants.into_iter().enumerate().collect();
            let ways: Vec<Vec<Way>> = given
                .iter()
                .map(|(_, costs, _)| costs.iter().map(|of| Way::at(0, cost(of))).collect())
                .collect();
            let sources: Vec<Source> = (given.iter().zip(&ways))
                .map(|((pieces, _, after), ways)| Source { pieces: *pieces, ways, after: *after })
                .collect();
            let bench = Bench { sinks: &[Sink { wants: &wants, spares }], sources: &sources, stages: &[] };
            let build = Build { kits, open: built..built + more };
            let groups = Groups::of(bench);
            let group = groups.iter().next().expect("a group");
            prop_assert!(Lone::is(bench, group));
            let mut on_table = Dealt::nothing(bench);
            table::deal(bench, group, &build, true).enter(&mut on_table);
            on_table.flows.sort_unstable();
            on_table.given.sort_unstable();
            let alone = deal_kits(bench, kits, built..built + more);
            // Pieces of one cost may be dealt in another way where some come free late.
            let what = |of: &Dealt| (of.covered.clone(), of.spares.clone(), cost_of(of, &sources));
            prop_assert_eq!(what(&alone), what(&on_table));
            if sources.iter().all(|source| source.after.is_none()) {
                prop_assert_eq!(alone, on_table);
            }
        }

        /// Costs in 64 bits rank all ways as those in 128 do, down to the choice among equals.
        #[test]
        fn short_costs_are_those_in_full(
            wants in proptest::collection::vec(proptest::collection::vec(0..9u64, 3), 4),
            spares in proptest::collection::vec(0..3u64, 4),
            given in proptest::collection::vec(
                (0..9u64, proptest::collection::vec((0..9i32, 0..2_000i64, 0..5u8), 4)),
                1..9,
            ),
            (kits, built, more) in (1..3u64, 0..3usize, 0..4usize),
        ) {
            let cost = |(misfit, apart, rank): (i32, i64, u8)| match rank {
                0 => Some(Cost::own(misfit)),
                1 => Some(Cost::own(misfit).apart(apart).as_substitute()),
                2 => Some(Cost::own(misfit).of_stock()),
                3 => Some(Cost::own(misfit).apart(apart).of_stock().as_substitute()),
                _ => None,
            };
            let stages = stages(&wants, 1);
            let sinks: Vec<Sink> = stages
                .iter()
                .zip(&spares)
                .map(|(wants, spares)| Sink { wants, spares: *spares })
                .collect();
            let ways_of = |costs: &[(i32, i64, u8)]| -> Vec<Way> {
                let ways = costs.iter().enumerate();
                ways.filter_map(|(sink, of)| Some(Way::at(sink, cost(*of)?))).collect()
            };
            let ways: Vec<Vec<Way>> = given.iter().map(|(_, costs)| ways_of(costs)).collect();
            let sources: Vec<Source> = given.iter().zip(&ways).map(|((n, _), ways)| Source::of(*n, ways)).collect();
            let bench = Bench { sinks: &sinks, sources: &sources, stages: &[] };
            let build = Build { kits, open: built..built + more };
            for group in Groups::of(bench).iter() {
                let scale = table::scale_of(bench, group);
                prop_assert!(scale.is_short());
                let [mut short, mut full] = [Dealt::nothing(bench), Dealt::nothing(bench)];
                Table::<i64>::lay(bench, group, scale).deal(&build, true).enter(&mut short);
                Table::<i128>::lay(bench, group, scale).deal(&build, true).enter(&mut full);
                prop_assert_eq!(short, full);
            }
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
            let one_by_one = stages(&wants, kits);
            let one_by_one = sinks(&one_by_one);
            let apart = covered(&deal(&one_by_one, &sources), &one_by_one);
            let one = stages(&wants, 1);
            let one = sinks(&one);
            let together = deal_kits(Bench { sinks: &one, sources: &sources, stages: &[] }, kits as u64, 0..usize::MAX);
            let folded: Vec<u64> = (0..2)
                .map(|stage| {
                    let of = |kit: usize| apart.iter().map(move |c| c[2 * kit + stage]);
                    (0..kits).flat_map(of).sum()
                })
                .collect();
            let together = covered(&together, &one);
            let stage_sums = |stage: usize| together.iter().map(|c| c[stage]).sum::<u64>();
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
                wants: &[(0, 1)],
                spares: 4,
            },
            Sink {
                wants: &[(1, 3)],
                spares: 0,
            },
        ];
        let dealt = deal(&sinks, &[source]);
        assert_eq!((dealt.covered(0), dealt.covered(1)), (&[1][..], &[3][..]));
        assert_eq!((dealt.spares, dealt.left), (vec![1, 0], vec![0]));
    }
}
