//! The pool: what is on hand, dealt out stage by stage, and what that comes to for each entry.

use std::borrow::Cow;

use super::{
    deal::{Bench, Cost, Dealt, Sink, Source, Way, deal_kits},
    fit::Fit,
    inventory::Inventory,
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
    /// The shop's own.
    Stock,
}

/// Alike pieces of one origin.
struct Lot<'a> {
    origin: Origin,
    item: usize,
    pieces: u64,
    after: Option<usize>,
    /// The entry that has what nobody gets.
    home: usize,
    ways: Cow<'a, [Way]>,
}

/// Pieces that serve in place of the kit's own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StandIn {
    /// The entry that lacks its own, and the index of the want.
    pub entry: usize,
    pub want: usize,
    /// What serves: index into [`Inventory::items`].
    pub item: usize,
    pub pieces: u64,
}

/// What the dealing comes to for one entry.
#[derive(Debug, Clone, Default)]
pub struct Outcome {
    /// Beside [`Entry::due`], over all kits: covered by the kit's own pieces, and from stock; and what
    /// would be covered by counted pieces alone.
    pub covered: Vec<u64>,
    pub from_stock: Vec<u64>,
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

/// The pool as dealt.
pub struct Dealing {
    /// By entry.
    pub outcomes: Vec<Outcome>,
    /// In order of entry and want.
    pub stand_ins: Vec<StandIn>,
    /// By entry: stock may serve it.
    pub in_play: Vec<bool>,
}

/// Deals the pool: for each entry, what it comes to. `spares` is what each entry should have spare;
/// `known` says which may be served from stock, for nobody knows what others lack.
pub fn deal_pool(
    inventory: &Inventory,
    ledger: &Ledger,
    stages: &Stages,
    kits: u64,
    spares: &[u64],
    known: &[bool],
) -> Dealing {
    let mut outcomes: Vec<Outcome> = ledger
        .entries
        .iter()
        .zip(spares)
        .map(|(entry, spares)| Outcome {
            spares: *spares,
            covered: vec![0; entry.due.len()],
            from_stock: vec![0; entry.due.len()],
            by_count: vec![0; entry.due.len()],
            ..Outcome::default()
        })
        .collect();
    let mut lots = lots(ledger, stages, kits, &mut outcomes);
    let mut in_play = vec![false; ledger.entries.len()];
    for lot in stock_lots(inventory, ledger, known) {
        for way in lot.ways.iter() {
            in_play[way.sink] = true;
        }
        lots.push(lot);
    }
    let sinks: Vec<Sink> = ledger
        .entries
        .iter()
        .zip(spares)
        .map(|(entry, spares)| Sink {
            wants: entry.due.clone(),
            spares: *spares,
        })
        .collect();
    let deal = |keep: &dyn Fn(Origin) -> bool| {
        let sources = sources(&lots, keep);
        let bench = Bench {
            sinks: &sinks,
            sources: &sources,
            stages: &[],
        };
        deal_kits(bench, kits, stages.built())
    };
    let Dealt {
        spares: spares_covered,
        given,
        left,
        ..
    } = deal(&|_| true);
    let by_count = match lots.iter().any(|lot| lot.origin == Origin::Slip) {
        true => Cow::Owned(deal(&|origin| origin != Origin::Slip).given),
        false => Cow::Borrowed(&given),
    };
    for given in by_count.iter() {
        if let (Some(want), false) = (given.want, lots[given.source].origin == Origin::Stock) {
            outcomes[given.sink].by_count[want] += given.pieces;
        }
    }
    for (outcome, spares) in outcomes.iter_mut().zip(spares_covered) {
        outcome.spares_covered = spares;
    }
    for (lot, left) in lots.iter().zip(left) {
        let outcome = &mut outcomes[lot.home];
        match lot.origin {
            Origin::Stock => continue,
            Origin::Returned => outcome.returned += left,
            _ => outcome.pool += left,
        }
        outcome.extra += left;
    }
    let mut stand_ins = Vec::new();
    for given in &given {
        let lot = &lots[given.source];
        let outcome = &mut outcomes[given.sink];
        let fits = ledger.fits[lot.item].iter();
        if lot.origin != Origin::Built
            && let Some((_, fit)) = fits.clone().find(|(at, _)| *at == given.sink)
        {
            outcome.fits.push(*fit);
            if fit.is_vague() {
                outcome.vague += given.pieces;
            }
        }
        match (lot.origin, given.want) {
            (Origin::Stock, Some(want)) => {
                outcome.from_stock[want] += given.pieces;
                stand_ins.push(StandIn {
                    entry: given.sink,
                    want,
                    item: lot.item,
                    pieces: given.pieces,
                });
                continue;
            }
            (Origin::Returned, _) => outcome.returned += given.pieces,
            _ => outcome.pool += given.pieces,
        }
        match given.want {
            Some(want) => outcome.covered[want] += given.pieces,
            None => outcome.extra += given.pieces,
        }
    }
    for (entry, outcome) in ledger.entries.iter().zip(&mut outcomes) {
        take_off(entry, kits, outcome);
    }
    Dealing {
        outcomes,
        stand_ins,
        in_play,
    }
}

/// What the shop has for the entries that are known to lack some.
fn stock_lots<'a>(
    inventory: &'a Inventory,
    ledger: &'a Ledger,
    known: &'a [bool],
) -> impl Iterator<Item = Lot<'a>> + 'a {
    let stocked = inventory.stocked.iter();
    stocked
        .filter(|(_, of)| of.pieces > 0)
        .filter_map(|(item, stocked)| {
            let item = *item as usize;
            let ways: Vec<Way> = ledger.fits[item]
                .iter()
                .filter(|(entry, _)| known[*entry] && !ledger.entries[*entry].due.is_empty())
                .map(|(entry, fit)| Way {
                    cost: Cost {
                        stock: 1,
                        ..Cost::own(fit.cost())
                    },
                    ..Way::own(*entry, 0)
                })
                .collect();
            let home = ways.first()?.sink;
            Some(Lot {
                origin: Origin::Stock,
                item,
                pieces: stocked.pieces,
                after: None,
                home,
                ways: ways.into(),
            })
        })
}

/// What is on hand, lot by lot.
fn lots<'a>(
    ledger: &'a Ledger,
    stages: &Stages,
    kits: u64,
    outcomes: &mut [Outcome],
) -> Vec<Lot<'a>> {
    let mut lots: Vec<Lot> = Vec::new();
    let mut add = |origin, item, pieces, after, home| {
        if pieces > 0 {
            lots.push(Lot {
                origin,
                item,
                pieces,
                after,
                home,
                ways: Cow::Borrowed(&ledger.ways[item]),
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
                ways: vec![Way::own(at, 0)].into(),
            });
        }
    }
    lots
}

fn sources<'a>(lots: &'a [Lot<'a>], keep: &dyn Fn(Origin) -> bool) -> Vec<Source<'a>> {
    lots.iter()
        .map(|lot| Source {
            pieces: if keep(lot.origin) { lot.pieces } else { 0 },
            ways: &lot.ways,
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
