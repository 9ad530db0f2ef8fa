//! The pool: what is on hand, dealt out stage by stage, and what that comes to for each entry.

use std::borrow::Cow;

use super::{
    Settling,
    deal::{Bench, Cost, Dealt, Sink, Source, Way, deal_kits},
    fit::Fit,
    inventory::Inventory,
    ledger::{Entry, Ledger, ShareState},
    stages::Stages,
    substitutes::Allowed,
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
    /// The entry that has what nobody gets; `None` for the shop's.
    home: Option<usize>,
    ways: &'a [Way],
    own: Option<Box<OwnWays>>,
}

/// The ways of a lot that no others share: of the shop's pieces, of what is built, and where rules allow
/// more than fits. There may be a lot a line, and most have none.
struct OwnWays {
    ways: Vec<Way>,
    /// Beside the last of the ways: how it serves as a substitute.
    substitutes: Vec<Substitute>,
}

impl OwnWays {
    fn of(ways: Vec<Way>) -> Box<OwnWays> {
        Box::new(OwnWays {
            ways,
            substitutes: Vec::new(),
        })
    }
}

/// How pieces serve as a substitute.
#[derive(Debug, Clone, Copy)]
struct Substitute {
    /// Index into the job's rules.
    rule: usize,
    fit: Fit,
}

impl Lot<'_> {
    fn ways(&self) -> &[Way] {
        self.own.as_ref().map_or(self.ways, |own| &own.ways)
    }

    fn substitutes(&self) -> &[Substitute] {
        self.own.as_ref().map_or(&[], |own| &own.substitutes)
    }

    /// How one of its ways serves as a substitute, if it does.
    fn substitute(&self, way: usize) -> Option<Substitute> {
        let substitutes = self.substitutes();
        let first = self.ways().len() - substitutes.len();
        way.checked_sub(first).map(|at| substitutes[at])
    }

    /// Adds the ways that the rules allow, to entries that are known to lack some.
    fn allow(&mut self, allowed: &Allowed, known: &[bool]) {
        let edges = allowed.edges.get(&self.item).into_iter().flatten();
        for edge in edges.filter(|edge| known[edge.way.sink]) {
            let cost = match self.origin {
                Origin::Stock => edge.way.cost.of_stock(),
                _ => edge.way.cost,
            };
            let shared = self.ways;
            let own = self.own.get_or_insert_with(|| OwnWays::of(shared.to_vec()));
            own.ways.push(Way { cost, ..edge.way });
            own.substitutes.push(Substitute {
                rule: edge.rule,
                fit: edge.fit,
            });
        }
    }
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
    /// The entry whose piece it is; `None`: the shop's.
    pub home: Option<usize>,
    /// For a substitute: the rule that allows it.
    pub rule: Option<usize>,
}

/// What fills a want beside its [`StandIn`]s, in pieces over all kits.
#[derive(Debug, Clone, Copy, Default)]
pub struct Fill {
    /// The kit's own, as what they are.
    pub covered: u64,
    /// Pieces of the kit, stand-ins included, that it would have if there were none but those counted.
    pub by_count: u64,
}

/// What fills the wants of every entry, side by side.
#[derive(Debug, Default)]
pub struct Fills {
    /// Where the wants of each entry end.
    ends: Vec<usize>,
    all: Vec<Fill>,
}

impl Fills {
    /// Nothing fills them yet.
    fn none(entries: &[Entry]) -> Fills {
        let wants = entries.iter().scan(0, |end, entry| {
            *end += entry.due().len();
            Some(*end)
        });
        let ends: Vec<usize> = wants.collect();
        let all = vec![Fill::default(); ends.last().copied().unwrap_or(0)];
        Fills { ends, all }
    }

    fn first(&self, entry: usize) -> usize {
        entry.checked_sub(1).map_or(0, |before| self.ends[before])
    }

    /// Beside [`Entry::due`].
    pub fn of(&self, entry: usize) -> &[Fill] {
        &self.all[self.first(entry)..self.ends[entry]]
    }

    fn of_want(&mut self, entry: usize, want: usize) -> &mut Fill {
        let first = self.first(entry);
        &mut self.all[first..self.ends[entry]][want]
    }
}

/// What the dealing comes to for one entry.
#[derive(Debug, Clone, Default)]
pub struct Outcome {
    pub spares: u64,
    pub spares_covered: u64,
    /// Its pieces that serve as something else.
    pub used_as_substitute: u64,
    pub pool: u64,
    pub returned: u64,
    pub discarded: u64,
    pub extra: u64,
    /// Pieces whose kind or length is not sure.
    pub vague: u64,
    /// How the pieces fit that it got and that do not fit exactly.
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
    pub fills: Fills,
    /// In order of entry and want.
    pub stand_ins: Vec<StandIn>,
    /// By entry: stock or a substitute may serve it, or its pieces may serve another.
    pub in_play: Vec<bool>,
}

/// Deals the pool: for each entry, what it comes to. `spares` is what each entry should have spare.
/// Only entries of which it is known what they lack are served from stock.
pub fn deal_pool(settling: &Settling, spares: &[u64], allowed: &Allowed) -> Dealing {
    let Settling {
        inventory,
        ledger,
        stages,
        known,
        ..
    } = settling;
    let kits = settling.job.kits;
    let mut outcomes: Vec<Outcome> = spares
        .iter()
        .map(|spares| Outcome {
            spares: *spares,
            ..Outcome::default()
        })
        .collect();
    let mut fills = Fills::none(&ledger.entries);
    let mut lots = lots(ledger, stages, kits, &mut outcomes);
    let mut in_play = vec![false; ledger.entries.len()];
    lots.extend(stock_lots(inventory, ledger, known));
    for lot in lots.iter_mut().filter(|lot| lot.origin != Origin::Built) {
        lot.allow(allowed, known);
        let others = match lot.origin {
            Origin::Stock => lot.ways().len(),
            _ => lot.substitutes().len(),
        };
        for way in lot.ways().iter().rev().take(others) {
            in_play[way.sink] = true;
        }
        if let (1.., Some(home)) = (others, lot.home) {
            in_play[home] = true;
        }
    }
    let sinks: Vec<Sink> = ledger
        .entries
        .iter()
        .zip(spares)
        .map(|(entry, spares)| Sink {
            wants: entry.due(),
            spares: *spares,
        })
        .collect();
    let deal = |keep: &dyn Fn(Origin) -> bool| {
        let sources = sources(&lots, keep);
        let bench = Bench {
            sinks: &sinks,
            sources: &sources,
            stages: &allowed.stages,
        };
        deal_kits(bench, kits, stages.open())
    };
    let Dealt {
        spares: spares_covered,
        given,
        left,
        ..
    } = deal(&|_| true);
    let of_slips = lots.iter().any(|lot| lot.origin == Origin::Slip);
    let of_others = lots
        .iter()
        .any(|lot| !matches!(lot.origin, Origin::Slip | Origin::Stock));
    let by_count = match (of_slips, of_others) {
        (true, true) => Cow::Owned(deal(&|origin| origin != Origin::Slip).given),
        // Nothing is there but what the slips list.
        (true, false) => Cow::Owned(Vec::new()),
        (false, _) => Cow::Borrowed(&given),
    };
    for given in by_count.iter() {
        let of_stock = lots[given.source as usize].origin == Origin::Stock;
        if let (Some(want), false) = (given.want, of_stock) {
            fills.of_want(given.sink as usize, want as usize).by_count += given.pieces;
        }
    }
    for (outcome, spares) in outcomes.iter_mut().zip(spares_covered) {
        outcome.spares_covered = spares;
    }
    for (lot, left) in lots.iter().zip(left) {
        let Some(home) = lot.home else {
            continue;
        };
        let outcome = &mut outcomes[home];
        match lot.origin {
            Origin::Returned => outcome.returned += left,
            _ => outcome.pool += left,
        }
        outcome.extra += left;
    }
    let mut stand_ins = Vec::new();
    for given in &given {
        let (sink, want) = (given.sink as usize, given.want.map(|want| want as usize));
        let lot = &lots[given.source as usize];
        let substitute = lot.substitute(given.way as usize);
        let outcome = &mut outcomes[sink];
        let own_fit = || {
            let fits = ledger.fits.of(lot.item);
            fits.iter().find(|(at, _)| *at == sink)
        };
        let fit = match (lot.origin, substitute) {
            (Origin::Built, _) => None,
            (_, Some(substitute)) => Some(substitute.fit),
            (_, None) => own_fit().map(|(_, fit)| *fit),
        };
        if let Some(fit) = fit {
            if !fit.is_exact() && !outcome.fits.contains(&fit) {
                outcome.fits.push(fit);
            }
            if fit.is_vague() {
                outcome.vague += given.pieces;
            }
        }
        if let (Some(want), true) = (want, substitute.is_some() || lot.home.is_none()) {
            stand_ins.push(StandIn {
                entry: sink,
                want,
                item: lot.item,
                pieces: given.pieces,
                home: lot.home,
                rule: substitute.map(|substitute| substitute.rule),
            });
        }
        let Some(home) = lot.home else {
            continue;
        };
        let holder = &mut outcomes[substitute.map_or(sink, |_| home)];
        match lot.origin {
            Origin::Returned => holder.returned += given.pieces,
            _ => holder.pool += given.pieces,
        }
        match (substitute, want) {
            (Some(_), _) => holder.used_as_substitute += given.pieces,
            (None, Some(want)) => fills.of_want(sink, want).covered += given.pieces,
            (None, None) => holder.extra += given.pieces,
        }
    }
    for (at, (entry, outcome)) in ledger.entries.iter().zip(&mut outcomes).enumerate() {
        take_off(entry, kits, fills.of(at), outcome);
    }
    Dealing {
        outcomes,
        fills,
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
        .map(|(item, stocked)| {
            let item = *item as usize;
            let fits = ledger.fits.of(item).iter();
            let ways: Vec<Way> = fits
                .filter(|(entry, _)| known[*entry] && !ledger.entries[*entry].due().is_empty())
                .map(|(entry, fit)| Way::at(*entry, Cost::own(fit.cost()).of_stock()))
                .collect();
            Lot {
                origin: Origin::Stock,
                item,
                pieces: stocked.pieces,
                after: None,
                home: None,
                ways: &[],
                own: Some(OwnWays::of(ways)),
            }
        })
}

/// What is on hand, lot by lot.
fn lots<'a>(
    ledger: &'a Ledger,
    stages: &Stages,
    kits: u64,
    outcomes: &mut [Outcome],
) -> Vec<Lot<'a>> {
    let mut lots: Vec<Lot> = Vec::with_capacity(ledger.slips.len() + ledger.counts.len());
    let mut add = |origin, item, pieces, after, home| {
        if pieces > 0 {
            lots.push(Lot {
                origin,
                item,
                pieces,
                after,
                home: Some(home),
                ways: ledger.fits.ways(item),
                own: None,
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
                let home = ledger.fits.of(entry.item)[0].0;
                add(Origin::Returned, entry.item, pieces, Some(stage), home);
            }
        }
    }
    for (at, entry) in ledger.entries.iter().enumerate() {
        let built: u64 = entry
            .due()
            .iter()
            .filter(|(stage, _)| *stage < stages.built())
            .map(|(_, pieces)| pieces * kits)
            .sum();
        // What is built is there. The counted bags lack it first; then the uncounted ones do.
        let lacking = ledger.unseen[at] + ledger.unsure[at];
        outcomes[at].built_of_counted = built.min(lacking);
        let of_slips = (built - outcomes[at].built_of_counted).min(believed[at]);
        if built > of_slips {
            lots.push(Lot {
                origin: Origin::Built,
                item: entry.item,
                pieces: built - of_slips,
                after: None,
                home: Some(at),
                ways: &[],
                own: Some(OwnWays::of(vec![Way::own(at, 0)])),
            });
        }
    }
    lots
}

fn sources<'a>(lots: &'a [Lot<'a>], keep: &dyn Fn(Origin) -> bool) -> Vec<Source<'a>> {
    lots.iter()
        .map(|lot| Source {
            pieces: if keep(lot.origin) { lot.pieces } else { 0 },
            ways: lot.ways(),
            after: lot.after,
        })
        .collect()
}

/// Pieces thrown away are those that were fitted before and not given back.
fn take_off(entry: &Entry, kits: u64, fills: &[Fill], outcome: &mut Outcome) {
    if entry.returned.is_empty() && entry.discarded.is_empty() {
        return;
    }
    let mut stages: Vec<usize> = (entry.returned.iter().chain(&entry.discarded))
        .map(|(stage, _)| *stage)
        .collect();
    stages.sort_unstable();
    stages.dedup();
    let mut due = entry.due().iter().zip(fills).peekable();
    let mut returned = entry.returned.iter().peekable();
    let mut discarded = entry.discarded.iter().peekable();
    // Pieces up to a stage: asked for, fitted, given back, to be thrown away, and thrown away.
    let (mut asked, mut fitted, mut back, mut away, mut thrown) = (0, 0, 0, 0, 0);
    for stage in stages {
        while let Some(((_, each), fill)) = due.next_if(|((at, _), _)| *at <= stage) {
            asked += each * kits;
            fitted += fill.covered;
        }
        while let Some((_, each)) = returned.next_if(|(at, _)| *at <= stage) {
            back += each * kits;
        }
        while let Some((_, each)) = discarded.next_if(|(at, _)| *at <= stage) {
            away += each * kits;
            thrown += u64::saturating_sub(fitted, back + thrown).min(each * kits);
        }
        outcome.takes_off_too_many |= back + away > asked;
    }
    outcome.discarded = thrown;
}
