//! A text whose numerals may be read in several ways: each is tried, and the likeliest taken.

use super::{
    beside::{self, Beside},
    callout::{Callout, ItemCells},
    known::Known,
    reader::Reader,
    runs::{MOST_RUNS, Run},
    score::{NARROW, score},
};
use crate::doubt::Doubt;

/// So many ways are tried; a text with more is doubted.
const MOST: usize = 48;

/// The likeliest reading of words that stand alone, which are cut already; doubted where the next is not
/// far behind.
pub(super) fn likeliest_of(mut reader: Reader<'_>) -> Vec<Callout> {
    if let Some(callouts) = reader.plain() {
        return callouts;
    }
    let cells = ItemCells {
        description: reader.text,
        ..ItemCells::default()
    };
    weighed(reader, &cells, &Known::default())
}

/// The likeliest of all ways to read a text.
pub(super) fn weighed<'a>(
    reader: Reader<'a>,
    cells: &ItemCells<'a>,
    known: &Known,
) -> Vec<Callout> {
    match ways(reader, cells, known).into_iter().next() {
        Some(way) => way.callouts,
        None => Vec::new(),
    }
}

/// All ways to read a text, the likeliest first, and doubted where the next is not far behind.
pub(super) fn ways<'a>(reader: Reader<'a>, cells: &ItemCells<'a>, known: &Known) -> Vec<Way<'a>> {
    let mut ways = Unsettled::of(reader, cells, known).ways();
    settle(&mut ways, known);
    ways
}

/// One way to read a text, and the text as it is then read.
pub(super) struct Way<'a> {
    pub reader: Reader<'a>,
    pub callouts: Vec<Callout>,
    /// 0 at best.
    pub score: i32,
    /// What the sizes that are known say for it.
    points: i32,
}

impl Way<'_> {
    /// What of its items is known.
    pub fn known(&self, known: &Known) -> Option<String> {
        let mut items = self.callouts.iter().map(|callout| &callout.item);
        items
            .find_map(|item| known.why(item))
            .filter(|_| self.points > 0)
    }
}

/// A text whose runs of numerals are not read yet.
struct Unsettled<'c, 'a> {
    cells: &'c ItemCells<'a>,
    known: &'c Known,
    reader: Reader<'a>,
    /// The first token behind a bullet or a line's number.
    start: usize,
    runs: Vec<Run>,
    beside: Beside<'a>,
}

impl<'c, 'a> Unsettled<'c, 'a> {
    fn of(mut reader: Reader<'a>, cells: &'c ItemCells<'a>, known: &'c Known) -> Unsettled<'c, 'a> {
        reader.join_spoken();
        reader.mend_words();
        reader.recover_dates(known, false);
        let start = reader.pass_bullet();
        reader.mend_counts(start);
        Unsettled {
            cells,
            known,
            start,
            runs: reader.runs(start),
            beside: Beside::read(cells, reader.notation, known),
            reader,
        }
    }

    /// True where each run can be read in one way alone.
    fn is_sure(&self) -> bool {
        self.runs.iter().all(Run::is_sure)
    }

    /// The way to read a text that is sure.
    fn only_way(mut self) -> Way<'a> {
        for run in self.runs.iter().rev() {
            self.reader.apply(run, &run.parses[0]);
        }
        let drafts = self.reader.drafts(self.start);
        let mut callouts = beside::read(&self.reader, drafts, self.cells, &self.beside);
        doubt_untried(&mut callouts, self.runs.len() == MOST_RUNS);
        Way {
            reader: self.reader,
            callouts,
            score: 0,
            points: 0,
        }
    }

    /// All ways to read it, the likeliest first.
    fn ways(self) -> Vec<Way<'a>> {
        if self.is_sure() {
            return vec![self.only_way()];
        }
        let Unsettled {
            cells,
            known,
            reader,
            start,
            runs,
            beside,
        } = self;
        let mut choices: Vec<Vec<usize>> = vec![Vec::new()];
        let mut untried = runs.len() == MOST_RUNS;
        for run in &runs {
            let open = choices.len() * run.parses.len() <= MOST;
            untried |= !open;
            let ways = if open { run.parses.len() } else { 1 };
            choices = choices
                .iter()
                .flat_map(|chosen| {
                    (0..ways).map(|way| {
                        let mut chosen = chosen.clone();
                        chosen.push(way);
                        chosen
                    })
                })
                .collect();
        }
        let mut ways: Vec<Way<'a>> = choices
            .iter()
            .map(|chosen| {
                let mut reader = reader.clone();
                let mut cost = 0;
                for (run, &way) in runs.iter().zip(chosen).rev() {
                    cost += run.parses[way].cost();
                    reader.apply(run, &run.parses[way]);
                }
                let drafts = reader.drafts(start);
                let plural: Vec<bool> = drafts.iter().map(|draft| draft.plural).collect();
                let mut callouts = beside::read(&reader, drafts, cells, &beside);
                let score = score(&callouts, &plural, reader.notation.counted) - cost;
                doubt_untried(&mut callouts, untried);
                Way {
                    reader,
                    callouts,
                    score,
                    points: 0,
                }
            })
            .collect();
        // A way that names nothing is none, where another names something.
        if ways.iter().any(|way| !way.callouts.is_empty()) {
            ways.retain(|way| !way.callouts.is_empty());
        }
        ways.sort_by_key(|way| std::cmp::Reverse(way.score));
        weigh(&mut ways, known);
        ways
    }
}

/// Weighs the readings that are told anyway by the sizes that are known; no other is moved.
fn weigh(ways: &mut [Way<'_>], known: &Known) {
    let Some(best) = ways.first().map(|way| way.score) else {
        return;
    };
    if known.is_empty() {
        return;
    }
    let told = ways.partition_point(|way| best - way.score < NARROW);
    for way in &mut ways[..told] {
        way.points = known.points(&way.callouts);
    }
    ways[..told].sort_by_key(|way| std::cmp::Reverse(way.score + way.points));
}

fn doubt_untried(callouts: &mut [Callout], untried: bool) {
    if let (true, Some(first)) = (untried, callouts.first_mut()) {
        first.doubts.push(Doubt::Said(
            "so many numerals in a row that not every way to read them was tried".into(),
        ));
    }
}

/// Doubts the first way where the next that says something else is not far behind.
fn settle(ways: &mut [Way<'_>], known: &Known) {
    let Some((first, others)) = ways.split_first_mut() else {
        return;
    };
    let same = |one: &[Callout], other: &[Callout]| {
        one.len() == other.len()
            && (one.iter().zip(other)).all(|(a, b)| a.item == b.item && a.quantity == b.quantity)
    };
    let other = |way: &&Way<'_>| !same(&way.callouts, &first.callouts);
    let Some(next) = others.iter().find(other) else {
        return;
    };
    if first.score - next.score >= NARROW {
        return;
    }
    let why = first.known(known).filter(|_| first.points > next.points);
    if first.callouts.len() == next.callouts.len() {
        for (callout, other) in first.callouts.iter_mut().zip(&next.callouts) {
            if callout.item != other.item || callout.quantity != other.quantity {
                let readings = vec![shown(callout), shown(other)];
                callout.doubts.push(Doubt::Readings(readings));
            }
        }
    } else if let Some(callout) = first.callouts.first_mut() {
        let all = |callouts: &[Callout]| -> Box<str> {
            let shown: Vec<Box<str>> = callouts.iter().map(shown).collect();
            shown.join(", ").into()
        };
        let next = all(&next.callouts);
        callout
            .doubts
            .push(Doubt::HowMany(format!("may be {next} as well").into()));
    }
    if let (Some(why), Some(callout)) = (why, first.callouts.first_mut()) {
        callout.doubts.push(Doubt::HowMany(why.into()));
    }
}

/// `2 pieces of 1/2 x 4`, `2-1/2`.
fn shown(callout: &Callout) -> Box<str> {
    let mut size = callout.item.size();
    if size.is_empty() {
        size = callout.item.text();
    }
    match callout.quantity.map(|quantity| quantity.pieces) {
        Some(1) => format!("1 piece of {size}").into(),
        Some(n) => format!("{n} pieces of {size}").into(),
        None => size.into(),
    }
}
