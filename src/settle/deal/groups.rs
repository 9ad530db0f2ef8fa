//! What hangs together, through whatever may serve whom.

use super::Bench;
use crate::grouped::Grouped;

/// Sinks and sources that hang together, each in order.
#[derive(Debug, Clone, Copy)]
pub struct Group<'a> {
    pub sinks: &'a [u32],
    pub sources: &'a [u32],
}

/// All groups that have a source, by their first sink.
#[derive(Debug)]
pub struct Groups {
    count: usize,
    sinks: Grouped<u32>,
    sources: Grouped<u32>,
}

impl Groups {
    pub fn of(bench: Bench) -> Groups {
        let roots = roots(bench);
        let root_of_source = |source: usize| {
            let way = bench.sources[source].ways.first();
            way.map(|way| roots[way.sink])
        };
        let sources = 0..bench.sources.len();
        let mut fed = vec![false; roots.len()];
        for root in sources.clone().filter_map(root_of_source) {
            fed[root as usize] = true;
        }
        // The root of a group is its first sink.
        let mut numbers = vec![None; roots.len()];
        let mut count = 0;
        for root in (0..roots.len()).filter(|&at| fed[at] && roots[at] as usize == at) {
            numbers[root] = Some(count);
            count += 1;
        }
        let number = |root: u32| numbers[root as usize];
        let of_sinks = roots.iter().zip(0..);
        let of_sources = sources.map(|at| (root_of_source(at), at as u32));
        Groups {
            count,
            sinks: Grouped::by(
                count,
                of_sinks.filter_map(|(root, sink)| Some((number(*root)?, sink))),
            ),
            sources: Grouped::by(
                count,
                of_sources.filter_map(|(root, source)| Some((number(root?)?, source))),
            ),
        }
    }

    pub fn iter(&self) -> impl Iterator<Item = Group<'_>> {
        (0..self.count).map(|at| Group {
            sinks: self.sinks.of(at),
            sources: self.sources.of(at),
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
