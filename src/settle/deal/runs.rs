//! Alike sources side by side, dealt as one where each would lay out the same many ways.
//!
//! `M10 bolts` without a length may be any of ten thousand; shared out among these they are as many sources, of
//! as many ways each. In no kit are there so many; who sends such a list gets an answer all the same.

use super::{Bench, Dealt, Given, Source};

/// So many ways that another source beside it has, too, are laid out source by source.
const MOST_WAYS: usize = 2_000_000;

/// Runs of alike sources.
pub struct Runs {
    /// Where each ends.
    ends: Vec<usize>,
}

impl Runs {
    /// `None` where the ways are few enough as they are.
    pub fn of(bench: Bench) -> Option<Runs> {
        let pairs = bench.sources.windows(2);
        let again = pairs.filter(|pair| are_alike(&pair[0], &pair[1]));
        let ways: usize = again.map(|pair| pair[1].ways.len()).sum();
        (ways > MOST_WAYS).then(|| Runs::alike(bench.sources))
    }

    fn alike(sources: &[Source]) -> Runs {
        let runs = sources.chunk_by(are_alike);
        let ends = runs.scan(0, |end, run| {
            *end += run.len();
            Some(*end)
        });
        Runs {
            ends: ends.collect(),
        }
    }

    fn iter(&self) -> impl Iterator<Item = std::ops::Range<usize>> {
        let starts = std::iter::once(0).chain(self.ends.iter().copied());
        starts.zip(&self.ends).map(|(start, &end)| start..end)
    }

    /// A source for each run.
    pub fn joined<'a>(&self, sources: &[Source<'a>]) -> Vec<Source<'a>> {
        let one = |run: std::ops::Range<usize>| Source {
            pieces: sources[run.clone()].iter().map(|of| of.pieces).sum(),
            ..sources[run.start]
        };
        self.iter().map(one).collect()
    }

    /// What the runs gave, source by source: the first of a run gives first.
    pub fn part(&self, dealt: Dealt, sources: &[Source]) -> Dealt {
        let mut left = vec![0; sources.len()];
        for (run, mut rest) in self.iter().zip(dealt.left) {
            // One by itself may have more left than it had: what comes back in every kit.
            let first = run.start;
            for at in run.skip(1).rev() {
                left[at] = rest.min(sources[at].pieces);
                rest -= left[at];
            }
            left[first] = rest;
        }
        let mut gives: Vec<u64> = sources
            .iter()
            .zip(&left)
            .map(|(of, left)| of.pieces.saturating_sub(*left))
            .collect();
        let mut next: Vec<usize> = self.iter().map(|run| run.start).collect();
        let mut given = Vec::with_capacity(dealt.given.len());
        for mut of in dealt.given {
            let run = of.source as usize;
            let end = self.ends[run];
            while of.pieces > 0 {
                let at = &mut next[run];
                let pieces = match *at + 1 == end {
                    true => of.pieces,
                    false => of.pieces.min(gives[*at]),
                };
                if pieces == 0 {
                    *at += 1;
                    continue;
                }
                gives[*at] = gives[*at].saturating_sub(pieces);
                of.pieces -= pieces;
                given.push(Given {
                    source: *at as u32,
                    pieces,
                    ..of
                });
            }
        }
        Dealt {
            given,
            left,
            ..dealt
        }
    }
}

fn are_alike(a: &Source, b: &Source) -> bool {
    a.after.is_none() && b.after.is_none() && std::ptr::eq(a.ways, b.ways)
}

#[cfg(test)]
mod tests {
    use super::{
        super::{Build, Sink, Way, deal_groups},
        *,
    };

    /// Joined or not, each want gets the same, and each source keeps what it did not give.
    #[test]
    fn runs_give_what_their_sources_give() {
        let (any, own) = ([0, 1, 2].map(|sink| Way::own(sink, 16)), [Way::own(1, 0)]);
        let sources = [
            Source::of(3, &any),
            Source::of(2, &any),
            Source::of(4, &any),
            Source::of(5, &own),
        ];
        let wants = [[(0, 4)], [(0, 6)], [(1, 2)]];
        let sinks: Vec<Sink> = wants
            .iter()
            .map(|wants| Sink { wants, spares: 0 })
            .collect();
        let bench = Bench {
            sinks: &sinks,
            sources: &sources,
            stages: &[],
        };
        let build = &Build::one();
        let apart = deal_groups(bench, build, true);
        let runs = Runs::alike(&sources);
        let joined = runs.joined(&sources);
        assert_eq!(
            joined.iter().map(|of| of.pieces).collect::<Vec<_>>(),
            [9, 5]
        );
        let together = deal_groups(
            Bench {
                sources: &joined,
                ..bench
            },
            build,
            true,
        );
        let together = runs.part(together, &sources);
        assert_eq!(together.covered, apart.covered);
        assert_eq!(together.left, [0, 0, 2, 0]);
        for (at, source) in sources.iter().enumerate() {
            let given = together.given.iter().filter(|of| of.source as usize == at);
            let given: u64 = given.map(|of| of.pieces).sum();
            assert_eq!(given + together.left[at], source.pieces);
        }
    }
}
