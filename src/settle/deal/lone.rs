//! A group of one sink: it takes what there is, the cheapest first. No flow is needed for that.

use std::ops::Range;

use super::{
    Bench, Build, Cost, Dealt, Given, Group,
    returned::{Free, Returned},
};

/// The dealing of one such group after another.
#[derive(Debug, Default)]
pub struct Lone {
    free: Free,
}

impl Lone {
    /// True for a group of one sink whose pieces serve every stage that comes when they are there.
    pub fn is(bench: Bench, group: Group) -> bool {
        let whole = |source: &u32| {
            let source = &bench.sources[*source as usize];
            source.ways.iter().all(|way| way.only.is_none())
        };
        group.sinks.len() == 1 && group.sources.iter().all(whole)
    }

    pub fn deal(
        &mut self,
        bench: Bench,
        group: Group,
        build: &Build,
        wanted: bool,
        dealt: &mut Dealt,
    ) {
        let sink = group.sinks[0] as usize;
        let wants = bench.sinks[sink].wants;
        let (mut all, mut returns) = (0, Vec::new());
        for &at in group.sources {
            let source = &bench.sources[at as usize];
            match source.after {
                None => all += source.pieces,
                Some(stage) => {
                    returns.push((stage, source.pieces));
                    dealt.left[at as usize] = source.pieces * build.kits;
                }
            }
            let ways = source.ways.iter().enumerate();
            let ways = ways.map(|(way, of)| (of.cost, at as usize, way));
            self.free.extend(source.after, ways);
        }
        self.free.sort();
        let covered = dealt.covered_mut(sink);
        match returns.is_empty() {
            true => share_out(wants, build, all, covered),
            false => covered.copy_from_slice(&Returned::of(wants, all, returns).covered(build)),
        }
        let Dealt {
            firsts,
            covered,
            spares,
            flows,
            given,
            left,
        } = dealt;
        let covered = &covered[firsts[sink]..firsts[sink + 1]];
        let of_wants = wants.iter().zip(covered).enumerate();
        let of_wants = of_wants.map(|(at, (&(stage, _), &got))| (Some(at as u32), stage, got));
        let of_spares = (None, usize::MAX, bench.sinks[sink].spares);
        for (want, stage, pieces) in of_wants.chain([of_spares]) {
            // Nothing but the kit's own is kept as a spare.
            let serves = |cost: Cost| want.is_some() || cost.is_own();
            let lacks =
                self.free.take(
                    stage,
                    pieces,
                    left,
                    serves,
                    |(_, source, way), pieces| match wanted {
                        true => given.push(Given {
                            sink: sink as u32,
                            want,
                            source: source as u32,
                            way: way as u32,
                            pieces,
                        }),
                        false => flows.push((source, sink, pieces)),
                    },
                );
            if want.is_none() {
                spares[sink] = pieces - lacks;
            }
        }
        self.free.clear();
    }
}

/// Shares pieces out to the wants of one sink: to what is built, to whole kits, to as much of one more
/// as there is, and to what comes behind all kits.
fn share_out(wants: &[(usize, u64)], build: &Build, pieces: u64, covered: &mut [u64]) {
    let mut left = pieces;
    let [start, end] = [build.open.start, build.open.end]
        .map(|from| wants.partition_point(|(stage, _)| *stage < from));
    let of_all_kits = |at: Range<usize>, left: &mut u64, covered: &mut [u64]| {
        for ((_, each), covered) in wants[at.clone()].iter().zip(&mut covered[at]) {
            *covered = (*left).min(each * build.kits);
            *left -= *covered;
        }
    };
    of_all_kits(0..start, &mut left, covered);
    let open = &wants[start..end];
    let kit: u64 = open.iter().map(|(_, each)| each).sum();
    if let Some(kits) = left.checked_div(kit) {
        let whole = build.kits.min(kits);
        left -= whole * kit;
        for ((_, each), covered) in open.iter().zip(&mut covered[start..end]) {
            *covered = each * whole;
            if whole < build.kits {
                let part = left.min(*each);
                *covered += part;
                left -= part;
            }
        }
    }
    of_all_kits(end..wants.len(), &mut left, covered);
}
