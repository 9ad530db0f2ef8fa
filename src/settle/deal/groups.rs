//! What hangs together, through whatever may serve whom.

use super::Bench;

/// Sinks and sources that hang together, each in order.
#[derive(Debug, Clone, Copy)]
pub struct Group<'a> {
    pub sinks: &'a [u32],
    pub sources: &'a [u32],
}

/// All groups that have a source, by their first sink.
#[derive(Debug)]
pub struct Groups {
    sinks: Vec<u32>,
    sources: Vec<u32>,
    /// Where the sinks and the sources of each group end.
    ends: Vec<(u32, u32)>,
}

/// For a sink that is in no group.
const NONE: u32 = u32::MAX;

impl Groups {
    pub fn of(bench: Bench) -> Groups {
        let roots = roots(bench);
        let first = |source: usize| {
            let way = bench.sources[source].ways.first();
            way.map(|way| roots[way.sink])
        };
        let mut fed = vec![false; roots.len()];
        for root in (0..bench.sources.len()).filter_map(first) {
            fed[root as usize] = true;
        }
        // The root of a group is its first sink.
        let mut number = vec![NONE; roots.len()];
        let mut count = 0;
        for root in (0..roots.len()).filter(|&at| fed[at] && roots[at] as usize == at) {
            number[root] = count;
            count += 1;
        }
        let of_sinks = roots.iter().map(|&root| number[root as usize]);
        let group_of = |source| first(source).map_or(NONE, |root| number[root as usize]);
        let of_sources = (0..bench.sources.len()).map(group_of);
        let (sinks, sink_ends) = sorted(of_sinks, count);
        let (sources, source_ends) = sorted(of_sources, count);
        Groups {
            sinks,
            sources,
            ends: sink_ends.into_iter().zip(source_ends).collect(),
        }
    }

    pub fn iter(&self) -> impl Iterator<Item = Group<'_>> {
        let starts = std::iter::once(&(0, 0)).chain(&self.ends);
        starts.zip(&self.ends).map(|(from, to)| Group {
            sinks: &self.sinks[from.0 as usize..to.0 as usize],
            sources: &self.sources[from.1 as usize..to.1 as usize],
        })
    }
}

/// The first of the sinks that each sink hangs together with.
fn roots(bench: Bench) -> Vec<u32> {
    fn root(parent: &mut [u32], mut at: u32) -> u32 {
        while parent[at as usize] != at {
            parent[at as usize] = parent[parent[at as usize] as usize];
            at = parent[at as usize];
        }
        at
    }
    let mut parent: Vec<u32> = (0..bench.sinks.len() as u32).collect();
    for source in bench.sources {
        if let Some((first, rest)) = source.ways.split_first() {
            for way in rest {
                let a = root(&mut parent, first.sink as u32);
                let b = root(&mut parent, way.sink as u32);
                parent[a.max(b) as usize] = a.min(b);
            }
        }
    }
    (0..parent.len() as u32)
        .map(|at| root(&mut parent, at))
        .collect()
}

/// Indices by the group that each is in, of so many groups, in order; and where each group ends.
fn sorted(groups: impl Iterator<Item = u32> + Clone, count: u32) -> (Vec<u32>, Vec<u32>) {
    let within = groups.zip(0..).filter(|(group, _)| *group != NONE);
    let mut ends = vec![0; count as usize];
    for (group, _) in within.clone() {
        ends[group as usize] += 1;
    }
    let mut sum = 0;
    for end in &mut ends {
        // Each is the start of its group, until the indices are put in their places.
        sum += std::mem::replace(end, sum);
    }
    let mut indices = vec![0; sum as usize];
    for (group, index) in within {
        let place = &mut ends[group as usize];
        indices[*place as usize] = index;
        *place += 1;
    }
    (indices, ends)
}
