//! Lines of which it is in doubt how many pieces they mean, and the items that rest on them.

use std::collections::BTreeMap;

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::{
    account::LineRef, evidence::Rows, inventory::Inventory, ledger::Ledger, options::Chosen,
    parcels::Parcels, stages::Stages,
};
use crate::{
    doubt::Doubt,
    kit::{Line, List, Role, Usage, What, remark},
};

/// Lines of one list that may mean another number of pieces than was taken.
#[derive(Debug)]
pub struct InDoubt<'a> {
    pub lines: u64,
    pub first: LineRef,
    pub why: &'a Doubt,
}

/// The lines in doubt of one list that name one item, in order.
struct OfItem {
    lines: Vec<LineRef>,
    rows: Rows,
    /// Pieces, at most, that are there beyond what was taken, or are required fewer of one kit, by the other numbers that
    /// they may mean.
    eased: u64,
    /// Pieces that may be fewer than was taken, or more required of one kit.
    worse: u64,
    required: bool,
}

/// By entry of the ledger: the lines that it rests on, and that may mean another number of pieces.
pub struct Doubted {
    of_items: Vec<OfItem>,
    /// Indices into `of_items`: what one item says may bear on thousands of entries.
    of_entries: FxHashMap<usize, Vec<u32>>,
    /// Likewise of the shop's stock, which bears on what is taken from it alone.
    of_stock: FxHashMap<usize, Vec<u32>>,
}

impl Doubted {
    /// Of the lists that were there when the parcel `through` had come.
    pub fn of(
        lists: &[List],
        inventory: &Inventory,
        ledger: &Ledger,
        (stages, chosen): (&Stages, &Chosen),
        (parcels, through): (&Parcels, u32),
    ) -> Doubted {
        let mut of_items: Vec<OfItem> = Vec::new();
        let mut of_entries: FxHashMap<usize, Vec<u32>> = FxHashMap::default();
        let mut of_stock: FxHashMap<usize, Vec<u32>> = FxHashMap::default();
        for (at, list) in lists.iter().enumerate() {
            let counts = matches!(
                list.role,
                Role::Required | Role::Shipped | Role::Counted | Role::Stock
            );
            if !counts || !parcels.had_come(lists, at, through) {
                continue;
            }
            let is_due = |line: &Line| {
                let placement = list.placement_of(line);
                let stage = stages.of(placement.stage.as_deref());
                list.role != Role::Required
                    || chosen.takes(placement.option.as_ref())
                        && placement.usage.is_none_or(|usage| usage == Usage::New)
                        && stage.is_some_and(|stage| stage >= stages.built())
            };
            let mut lines: BTreeMap<usize, Vec<LineRef>> = BTreeMap::new();
            for (line, reading) in lines_in_doubt(list) {
                if is_due(&list.lines[line]) {
                    let item = inventory.ids[at][reading as usize] as usize;
                    let of_item = lines.entry(item).or_default();
                    of_item.push(LineRef { list: at, line });
                }
            }
            for (item, lines) in lines {
                let may_serve = ledger.fits.of(item).iter().map(|(entry, _)| *entry);
                let own = ledger
                    .entry_of(item)
                    .filter(|_| list.role == Role::Required);
                let entries = may_serve.filter(|entry| own.is_none_or(|own| own == *entry));
                for entry in entries.filter(|entry| ledger.entries[*entry].listed) {
                    let bears_on = match list.role {
                        Role::Stock => &mut of_stock,
                        _ => &mut of_entries,
                    };
                    let of_entry = bears_on.entry(entry).or_default();
                    of_entry.push(of_items.len() as u32);
                }
                of_items.push(OfItem {
                    rows: lines.iter().map(|at| at.run(lists)).collect(),
                    eased: (lines.iter().map(|at| eased_by(list, at.line)))
                        .fold(0, u64::saturating_add),
                    worse: (lines.iter().map(|at| worse_by(list, at.line)))
                        .fold(0, u64::saturating_add),
                    required: list.role == Role::Required,
                    lines,
                });
            }
        }
        // What was counted in full rests on no slip.
        let of_slip = |of: &u32| {
            let first = of_items[*of as usize].lines[0];
            lists[first.list].role == Role::Shipped
        };
        of_entries.retain(|&entry, rows| {
            if ledger.counted[entry].is_some() && !ledger.part_counted[entry] {
                rows.retain(|of| !of_slip(of));
            }
            !rows.is_empty()
        });
        Doubted {
            of_items,
            of_entries,
            of_stock,
        }
    }

    fn items<'a>(&'a self, rows: &'a [u32]) -> impl Iterator<Item = &'a OfItem> {
        rows.iter().map(|at| &self.of_items[*at as usize])
    }

    pub fn holds(&self, entry: usize) -> bool {
        self.of_entries.contains_key(&entry)
    }

    /// True where a row of the stock is in doubt that an entry may be served by.
    pub fn holds_of_stock(&self, entry: usize) -> bool {
        self.of_stock.contains_key(&entry)
    }

    /// The entries of which less may be short: by the other number that a line may mean, more are there or fewer
    /// required.
    pub fn less_may_be_short(&self) -> impl Iterator<Item = usize> {
        let entries = self.of_entries.iter();
        entries
            .filter_map(|(entry, rows)| self.items(rows).any(|of| of.eased > 0).then_some(*entry))
    }

    /// How many pieces less may be short of an entry, at most, by the other numbers that its lines may mean.
    pub fn eased_by(&self, entry: usize, kits: u64) -> u64 {
        self.sum(entry, kits, |of| of.eased)
    }

    /// Pieces of an entry that may be lacking though they are covered, by the other numbers that its lines may mean.
    pub fn may_lack(&self, entry: usize, kits: u64) -> u64 {
        self.sum(entry, kits, |of| of.worse)
    }

    fn sum(&self, entry: usize, kits: u64, pieces: fn(&OfItem) -> u64) -> u64 {
        let rows = self.of_entries.get(&entry);
        let of_items = self.items(rows.map_or(&[], Vec::as_slice));
        let pieces =
            of_items.map(|of| pieces(of).saturating_mul(if of.required { kits } else { 1 }));
        pieces.fold(0, u64::saturating_add)
    }

    /// The rows in doubt of an entry, and why of the first.
    pub fn rows(&self, entry: usize, lists: &[List]) -> Option<(Rows, String)> {
        let rows = self.of_entries.get(&entry)?;
        let first = self.items(rows).map(|of| of.lines[0]).min()?;
        let list = &lists[first.list];
        let line = &list.lines[first.line];
        let why = match of_how_many(list, line).next() {
            Some(doubt) => doubt.to_string(),
            None => list.sheets[usize::from(line.sheet)].question.clone()?,
        };
        let rows = self.items(rows).map(|of| &of.rows);
        Some((Rows::together(rows), why))
    }

    /// All of them, list by list; of the stock those that bear on entries which `draw` on it.
    pub fn by_list<'a>(&self, lists: &'a [List], draw: impl Fn(usize) -> bool) -> Vec<InDoubt<'a>> {
        let mut bears = vec![false; self.of_items.len()];
        let of_stock = self.of_stock.iter().filter(|(entry, _)| draw(**entry));
        let of_stock = of_stock.flat_map(|(_, rows)| rows);
        for of in self.of_entries.values().flatten().chain(of_stock) {
            bears[*of as usize] = true;
        }
        let bearing = self.of_items.iter().zip(bears);
        let bearing = bearing.filter_map(|(of, bears)| bears.then_some(&of.lines));
        let mut all: Vec<LineRef> = bearing.flatten().copied().collect();
        all.sort_unstable();
        first_by_list(lists, all)
    }
}

/// The lines in doubt of the lists that the shop's stock is in, list by list.
pub fn of_stock(lists: &[List]) -> Vec<InDoubt<'_>> {
    let stock = lists.iter().enumerate();
    let stock = stock.filter(|(_, list)| list.role == Role::Stock);
    let lines = stock.flat_map(|(at, list)| {
        let lines = lines_in_doubt(list).into_iter();
        lines.map(move |(line, _)| LineRef { list: at, line })
    });
    first_by_list(lists, lines.collect())
}

/// The first of the lines of each list, and how many there are.
fn first_by_list(lists: &[List], lines: Vec<LineRef>) -> Vec<InDoubt<'_>> {
    let mut of_lists: BTreeMap<usize, InDoubt> = BTreeMap::new();
    for at in lines {
        let list = &lists[at.list];
        let Some(why) = of_how_many(list, &list.lines[at.line]).next() else {
            continue;
        };
        let of = of_lists.entry(at.list).or_insert(InDoubt {
            lines: 0,
            first: at,
            why,
        });
        of.lines += 1;
    }
    of_lists.into_values().collect()
}

/// How many more pieces may be there than a line was taken to mean, or fewer required. Nobody knows how many more a line
/// of a count means that names no number; a row of a required list asks for one piece at least, unless it may ask for
/// none. A sentence may speak of pieces that another asks for.
fn eased_by(list: &List, line: usize) -> u64 {
    let line = &list.lines[line];
    let taken = taken(line);
    let required = list.role == Role::Required;
    let but_one = || match list.from_sentences {
        true => taken.max(1),
        false => taken.saturating_sub(1).max(1),
    };
    let of = |doubt: &Doubt| match (doubt, doubt.other_number()) {
        (_, Some(other)) if required => taken.saturating_sub(other),
        (_, Some(other)) => other.saturating_sub(taken),
        // "optional", "spare": perhaps none. What is said beside pieces that are there is mostly that they are no
        // good, or did not come.
        (Doubt::Remark(_), None) => {
            if required {
                taken.max(1)
            } else {
                0
            }
        }
        // "each corner": more.
        (Doubt::Multiplier(_), None) if required => 0,
        _ if required => but_one(),
        _ => u64::MAX,
    };
    let of_line = of_how_many(list, line).map(of).max().unwrap_or(0);
    match (has_open_figures(list, line), required) {
        (true, true) => of_line.max(but_one()),
        (true, false) => u64::MAX,
        (false, _) => of_line,
    }
}

/// How many fewer pieces may be there than a line was taken to mean, or more required.
fn worse_by(list: &List, line: usize) -> u64 {
    let line = &list.lines[line];
    let taken = taken(line);
    let of = |doubt: &Doubt| match (list.role, doubt.other_number(), doubt) {
        (Role::Required, other, _) => other.map_or(0, |other| other.saturating_sub(taken)),
        (_, Some(other), _) => taken.saturating_sub(other),
        (_, None, Doubt::Remark(remark)) => remark::denies(remark, taken),
        _ => 0,
    };
    of_how_many(list, line).map(of).max().unwrap_or(0)
}

/// The pieces that a line was taken to mean.
fn taken(line: &Line) -> u64 {
    let each = line.quantity.unwrap_or(0);
    each.saturating_mul(line.places.into())
}

/// True where it is asked what all figures of a line's sheet mean.
fn has_open_figures(list: &List, line: &Line) -> bool {
    list.sheets[usize::from(line.sheet)].figures_open
}

fn of_how_many<'a>(list: &'a List, line: &'a Line) -> impl Iterator<Item = &'a Doubt> {
    list.doubts_of(line).filter(|doubt| doubt.is_of_how_many())
}

/// The summed lines of a list that are in doubt, with their readings.
fn lines_in_doubt(list: &List) -> Vec<(usize, u32)> {
    let readings = list.readings.iter();
    let in_doubt: Vec<bool> = readings
        .map(|reading| reading.doubts.iter().any(Doubt::is_of_how_many))
        .collect();
    let lines = list.lines.par_iter().enumerate().with_min_len(1 << 12);
    let lines = lines.filter_map(|(at, line)| {
        let What::Item(reading) = line.what else {
            return None;
        };
        let doubted = in_doubt[reading as usize]
            || has_open_figures(list, line)
            || line.more.is_some() && line.doubts().iter().any(Doubt::is_of_how_many);
        (doubted && line.quantity.is_some()).then_some((at, reading))
    });
    lines.collect()
}
