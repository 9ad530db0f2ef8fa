//! The pool: what is on hand, dealt out stage by stage, and what that comes to for each entry.

use super::{
    deal::{Dealt, Sink, Source, Way, deal_kits},
    fit::Fit,
    ledger::{Entry, Ledger, ShareState},
    stages::Stages,
};

/// Where pieces of the pool come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Origin {
    Counted,
    /// Listed on a slip and not counted.
    Slip,
    /// Already built in, so that no count of the loose pile can show them.
    Built,
    /// Given back by a stage.
    Returned,
}

/// Alike pieces of one origin.
struct Lot {
    origin: Origin,
    item: usize,
    pieces: u64,
    after: Option<usize>,
    /// The entry that has what nobody gets.
    home: usize,
    /// The one way that built pieces go.
    only: Option<[Way; 1]>,
}

/// What the dealing comes to for one entry.
#[derive(Debug, Clone, Default)]
pub struct Outcome {
    /// Beside [`Entry::due`]: covered over all kits; and what would be by counted pieces alone.
    pub covered: Vec<u64>,
    pub by_count: Vec<u64>,
    pub spares: u64,
    pub spares_covered: u64,
    pub pool: u64,
    pub returned: u64,
    pub discarded: u64,
    pub extra: u64,
    /// Pieces whose kind or length is not sure.
    pub vague: u64,
    /// How the pieces fit that it got or holds.
    pub fits: Vec<Fit>,
    /// Pieces of built stages that counted bags lack.
    pub built_of_counted: u64,
    /// More pieces come back or are thrown away than were fitted before.
    pub takes_off_too_many: bool,
}

impl Outcome {
    pub fn total_covered(&self) -> u64 {
        self.covered.iter().sum()
    }
}

/// Deals the pool: for each entry, what it comes to. `spares` is what each entry should have spare.
pub fn deal_pool(ledger: &Ledger, stages: &Stages, kits: u64, spares: &[u64]) -> Vec<Outcome> {
    let mut outcomes: Vec<Outcome> = spares
        .iter()
        .map(|spares| Outcome {
            spares: *spares,
            ..Outcome::default()
        })
        .collect();
    let lots = lots(ledger, stages, kits, &mut outcomes);
    let sinks: Vec<Sink> = ledger
        .entries
        .iter()
        .zip(spares)
        .map(|(entry, spares)| Sink {
            wants: entry.due.clone(),
            spares: *spares,
        })
        .collect();
    let dealt = deal_kits(
        &sinks,
        &sources(ledger, &lots, |_| true),
        kits,
        stages.built(),
    );
    let uncounted = lots.iter().any(|lot| lot.origin == Origin::Slip);
    let by_count = if uncounted {
        let counted = sources(ledger, &lots, |origin| origin != Origin::Slip);
        deal_kits(&sinks, &counted, kits, stages.built()).covered
    } else {
        dealt.covered.clone()
    };
    let Dealt {
        covered,
        spares: spares_covered,
        flows,
        left,
    } = dealt;
    for (((outcome, covered), by_count), spares) in outcomes
        .iter_mut()
        .zip(covered)
        .zip(by_count)
        .zip(spares_covered)
    {
        outcome.covered = covered;
        outcome.by_count = by_count;
        outcome.spares_covered = spares;
    }
    for (lot, left) in lots.iter().zip(left) {
        let outcome = &mut outcomes[lot.home];
        outcome.extra += left;
        match lot.origin {
            Origin::Returned => outcome.returned += left,
            _ => outcome.pool += left,
        }
    }
    for (lot, entry, pieces) in flows {
        let lot = &lots[lot];
        let outcome = &mut outcomes[entry];
        outcome.extra += pieces;
        match lot.origin {
            Origin::Returned => outcome.returned += pieces,
            _ => outcome.pool += pieces,
        }
        if lot.only.is_none() {
            let fits = &ledger.fits[lot.item];
            if let Some((_, fit)) = fits.iter().find(|(at, _)| *at == entry) {
                outcome.fits.push(*fit);
                if fit.is_vague() {
                    outcome.vague += pieces;
                }
            }
        }
    }
    for (entry, outcome) in ledger.entries.iter().zip(&mut outcomes) {
        outcome.extra -= outcome.total_covered();
        take_off(entry, kits, outcome);
    }
    outcomes
}

/// What is on hand, lot by lot.
fn lots(ledger: &Ledger, stages: &Stages, kits: u64, outcomes: &mut [Outcome]) -> Vec<Lot> {
    let mut lots: Vec<Lot> = Vec::new();
    let mut add = |origin, item, pieces, after, home| {
        if pieces > 0 {
            lots.push(Lot {
                origin,
                item,
                pieces,
                after,
                home,
                only: None,
            });
        }
    };
    let mut believed = vec![0; ledger.entries.len()];
    for share in &ledger.slips {
        if let ShareState::Believed { damaged } = share.state {
            let pieces = share.pieces - damaged;
            believed[share.entry] += pieces;
            add(Origin::Slip, share.item, pieces, None, share.entry);
        }
    }
    for count in &ledger.counts {
        let good = count.counted.good.unwrap_or(0);
        add(Origin::Counted, count.item, good, None, count.home);
    }
    for (at, entry) in ledger.entries.iter().enumerate() {
        let counted = ledger.counted[at].is_some();
        for &(stage, pieces) in &entry.returned {
            // A count of the loose pile has what built stages gave back.
            if stage >= stages.built() || !counted {
                let home = ledger.fits[entry.item][0].0;
                add(Origin::Returned, entry.item, pieces, Some(stage), home);
            }
        }
    }
    for (at, entry) in ledger.entries.iter().enumerate() {
        let built: u64 = entry
            .due
            .iter()
            .filter(|(stage, _)| *stage < stages.built())
            .map(|(_, pieces)| pieces * kits)
            .sum();
        // What is built is there. The counted bags lack it first; then the uncounted ones do.
        outcomes[at].built_of_counted = built.min(ledger.unseen[at]);
        let of_slips = (built - outcomes[at].built_of_counted).min(believed[at]);
        if built > of_slips {
            lots.push(Lot {
                origin: Origin::Built,
                item: entry.item,
                pieces: built - of_slips,
                after: None,
                home: at,
                only: Some([Way { sink: at, cost: 0 }]),
            });
        }
    }
    lots
}

fn sources<'a>(
    ledger: &'a Ledger,
    lots: &'a [Lot],
    keep: impl Fn(Origin) -> bool,
) -> Vec<Source<'a>> {
    lots.iter()
        .map(|lot| Source {
            pieces: if keep(lot.origin) { lot.pieces } else { 0 },
            ways: match &lot.only {
                Some(only) => only,
                None => &ledger.ways[lot.item],
            },
            after: lot.after,
        })
        .collect()
}

/// Pieces thrown away are those that were fitted before and not given back.
fn take_off(entry: &Entry, kits: u64, outcome: &mut Outcome) {
    if entry.returned.is_empty() && entry.discarded.is_empty() {
        return;
    }
    let through = |of: &[(usize, u64)], stage: usize| -> u64 {
        let pieces = of.iter().filter(|(at, _)| *at <= stage);
        pieces.map(|(_, pieces)| pieces * kits).sum()
    };
    let mut thrown = 0;
    for &(stage, pieces) in &entry.discarded {
        let covered = entry.due.iter().zip(&outcome.covered);
        let fitted: u64 = covered
            .filter(|((at, _), _)| *at <= stage)
            .map(|(_, covered)| covered)
            .sum();
        let there = fitted.saturating_sub(through(&entry.returned, stage) + thrown);
        thrown += there.min(pieces * kits);
    }
    outcome.discarded = thrown;
    let stages = entry.returned.iter().chain(&entry.discarded);
    outcome.takes_off_too_many = stages.map(|(stage, _)| *stage).any(|stage| {
        through(&entry.returned, stage) + through(&entry.discarded, stage)
            > through(&entry.due, stage)
    });
}
