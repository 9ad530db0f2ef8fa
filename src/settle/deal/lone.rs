//! A group of one sink: it takes what there is, the cheapest first. No flow is needed for that.

use std::ops::Range;

use super::{Bench, Build, Cost, Dealt, Given, Group, hand_out};
use crate::settle::flow::Sent;

/// The dealing of one such group after another.
#[derive(Debug, Default)]
pub struct Lone {
    /// Source, cost, way: in the order in which they are taken from.
    ways: Vec<(Cost, usize, usize)>,
    sent: Vec<Sent>,
}

impl Lone {
    /// True for a group of one sink whose pieces are there from the start, for every stage.
    pub fn is(bench: Bench, group: Group) -> bool {
        let whole = |source: &u32| {
            let source = &bench.sources[*source as usize];
            source.after.is_none() && source.ways.iter().all(|way| way.only.is_none())
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
        let sources = group.sources.iter().map(|&at| at as usize);
        let all: u64 = sources.clone().map(|at| bench.sources[at].pieces).sum();
        let got = share_out(bench.sinks[sink].wants, build, all, dealt.covered_mut(sink));
        self.ways.clear();
        self.ways.extend(sources.flat_map(|source| {
            let ways = bench.sources[source].ways.iter().enumerate();
            ways.map(move |(at, way)| (way.cost, source, at))
        }));
        self.ways.sort_unstable();
        self.sent.clear();
        let (mut open, mut spares) = (got, bench.sinks[sink].spares);
        for &(cost, source, way) in &self.ways {
            let left = &mut dealt.left[source];
            let used = open.min(*left);
            let spare = match cost.is_own() {
                true => spares.min(*left - used),
                false => 0,
            };
            (open, spares) = (open - used, spares - spare);
            let pieces = used + spare;
            if pieces == 0 {
                continue;
            }
            *left -= pieces;
            if !wanted {
                dealt.flows.push((source, sink, pieces));
                continue;
            }
            self.sent.push(Sent {
                source,
                sink,
                way,
                pieces,
            });
        }
        let spares = bench.sinks[sink].spares - spares;
        dealt.spares[sink] = spares;
        if wanted {
            self.sent.reverse();
            let own = &dealt.covered[dealt.firsts[sink]..dealt.firsts[sink + 1]];
            let wants = own.iter().enumerate();
            let wants = wants.map(|(at, &pieces)| (Some(at as u32), pieces));
            for (want, pieces) in wants.chain([(None, spares)]) {
                hand_out(&mut self.sent, pieces, |sent, pieces| {
                    dealt.given.push(Given {
                        sink: sink as u32,
                        want,
                        source: sent.source as u32,
                        way: sent.way as u32,
                        pieces,
                    });
                });
            }
        }
    }
}

/// Shares pieces out to the wants of one sink: to what is built, to whole kits, to as much of one more
/// as there is, and to what comes behind all kits. Says how many are taken.
fn share_out(wants: &[(usize, u64)], build: &Build, pieces: u64, covered: &mut [u64]) -> u64 {
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
    pieces - left
}
