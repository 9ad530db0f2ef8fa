//! Cells that work themselves out: what is typed into the Count sheet changes By stage and the
//! Summary in the spreadsheet itself.
//!
//! A formula knows one rule only: an item's pieces are dealt to its stages in order. Where more is
//! in play (substitutes, stock, returned pieces, items that may stand for one another, a bag of
//! several not counted) the cell says to run again and keeps the figure as settled: as soon as a figure
//! is typed for the item, or for another whose pieces may serve in its place. Lines are found by their
//! id, so that the sheets may be sorted.

use rust_xlsxwriter::RowNum;

use super::{
    Report,
    by_stage::{self, State},
    count_sheet,
    formula::{Cell, literal, range},
};
use crate::{
    kit::Job,
    settle::{Account, ItemAccount, Share},
};

/// More lines or items than these make a sheet slow: nothing follows then.
const MOST: usize = 2_000;
/// Ids that a formula names; where more items are in one another's way, any figure typed counts.
const NAMED: usize = 100;

/// The entry cells of the Count sheet, and which items follow them.
pub struct Live {
    ids: String,
    good: String,
    /// By item: true where a formula gives what settling would.
    follows: Vec<bool>,
    /// By item: lines of the Count sheet; 0 where it has none.
    lines: Vec<usize>,
    /// By item: the ids of those, itself among them, whose count may change what it gets.
    moved_by: Vec<Vec<String>>,
}

impl Live {
    /// `None` where nothing can follow: no item to count, or too many.
    pub fn of(job: &Job, account: &Account, entries: &[count_sheet::Entry<'_>]) -> Option<Live> {
        let items = &account.items;
        if entries.is_empty() || entries.len().max(items.len()) > MOST {
            return None;
        }
        let mut lines = vec![0; items.len()];
        for entry in entries {
            lines[entry.item] += 1;
        }
        let together = together(items);
        let alone = |at: usize| together.iter().filter(|of| **of == together[at]).count() == 1;
        let settled_plainly = job.built_through.is_none() && job.kits == 1;
        let follows = (0..items.len())
            .map(|at| settled_plainly && lines[at] > 0 && is_plain(&items[at]) && alone(at))
            .collect();
        let moved_by = together
            .iter()
            .map(|own| {
                let others = together.iter().zip(items).filter(|(of, _)| *of == own);
                others.map(|(_, item)| item.id.clone()).collect()
            })
            .collect();
        let first = count_sheet::FIRST;
        let last = first + entries.len() as RowNum - 1;
        let good = count_sheet::good_column(items, entries);
        Some(Live {
            ids: range(count_sheet::NAME, first, last, 0),
            good: range(count_sheet::NAME, first, last, good),
            follows,
            lines,
            moved_by,
        })
    }

    /// True in a formula where a figure is typed that may change what an item gets.
    fn moved(&self, at: usize) -> String {
        match self.moved_by[at].as_slice() {
            [id] => format!("COUNTIFS({},\"{id}\",{},\">=0\")>0", self.ids, self.good),
            ids if ids.len() <= NAMED => {
                let named: Vec<String> = ids.iter().map(|id| format!("\"{id}\"")).collect();
                format!(
                    "SUMPRODUCT(COUNTIFS({},{{{}}},{},\">=0\"))>0",
                    self.ids,
                    named.join(","),
                    self.good
                )
            }
            _ => format!("COUNTIF({},\">=0\")>0", self.good),
        }
    }

    /// How many lines of an item have a figure.
    fn counted(&self, item: &ItemAccount) -> String {
        format!(
            "COUNTIFS({},\"{}\",{},\">=0\")",
            self.ids, item.id, self.good
        )
    }

    /// The pieces of an item that a stage gets; `before` are those that earlier stages need.
    /// `None` where the item does not follow.
    pub fn covered(
        &self,
        at: usize,
        item: &ItemAccount,
        share: &Share,
        before: u64,
        required: &str,
    ) -> Option<Cell> {
        if !self.follows[at] {
            return None;
        }
        let (counted, lines, pool) = (self.counted(item), self.lines[at], item.sums.pool);
        let typed = format!("SUMIFS({},{},\"{}\")", self.good, self.ids, item.id);
        Some(Cell {
            formula: format!(
                "=MAX(0,MIN({required},IF({counted}={lines},{typed},{pool})-{before}))"
            ),
            value: share.covered.to_string(),
        })
    }

    /// How an item stands in a stage: as `settled`, until a figure is typed.
    pub fn state(&self, at: usize, item: &ItemAccount, settled: &str, short: &str) -> Option<Cell> {
        let lines = self.lines[at];
        if lines == 0 && self.moved_by[at].len() == 1 {
            return None;
        }
        let counted = self.counted(item);
        let as_settled = literal(settled)?;
        let (again, short_now) = (State::RunAgain, State::Short);
        let formula = if self.follows[at] {
            format!(
                "=IF({counted}=0,{as_settled},IF({counted}<{lines},\"{again}\",\
                 IF({short}>0,\"{short_now}\",\"{}\")))",
                State::Covered
            )
        } else {
            format!("=IF({},\"{again}\",{as_settled})", self.moved(at))
        };
        Some(Cell {
            formula,
            value: settled.to_owned(),
        })
    }
}

/// By item: a number shared with those whose pieces may serve in its place, or which its own may serve,
/// or which stand in such a way to one of these.
fn together(items: &[ItemAccount]) -> Vec<usize> {
    let mut of: Vec<usize> = (0..items.len()).collect();
    for at in 0..items.len() {
        for other in 0..at {
            let (a, b) = (&items[at], &items[other]);
            if of[at] != of[other] && (a.rivals.contains(&other) || a.item.agrees(&b.item)) {
                let (kept, gone) = (of[at].min(of[other]), of[at].max(of[other]));
                of.iter_mut()
                    .filter(|of| **of == gone)
                    .for_each(|of| *of = kept);
            }
        }
    }
    of
}

/// True where the item's pieces were dealt to its stages in order and nothing else was done with
/// them.
fn is_plain(item: &ItemAccount) -> bool {
    let s = &item.sums;
    let mut left = s.pool;
    let dealt = item.shares.iter().all(|share| {
        let covered = share.required.min(left);
        left -= covered;
        share.covered == covered && share.short == share.required - covered
    });
    let others = [
        s.substituted,
        s.used_as_substitute,
        s.from_stock,
        s.returned,
        s.discarded,
    ];
    !item.in_play && dealt && s.pool == s.used + s.extra && others == [0; 5]
}

/// The rows of By stage, for the Summary's formulas.
pub struct StageRows {
    numbers: String,
    covered: String,
    short: String,
    pub state: String,
}

impl StageRows {
    /// `None` where By stage has no rows.
    pub fn of(report: &Report<'_>) -> Option<StageRows> {
        let rows = by_stage::entries(report.account).len() as RowNum;
        let last = (by_stage::FIRST + rows).checked_sub(1)?;
        if rows == 0 {
            return None;
        }
        let columns = by_stage::Places::of(report.account);
        let of = |column| range(by_stage::NAME, by_stage::FIRST, last, column);
        Some(StageRows {
            numbers: of(0),
            covered: of(columns.covered),
            short: of(columns.short),
            state: of(columns.state),
        })
    }

    /// Pieces of a stage (from 1) that are covered.
    pub fn covered(&self, stage: usize) -> String {
        format!("SUMIF({},{stage},{})", self.numbers, self.covered)
    }

    /// Pieces of a stage that are short for sure.
    pub fn short(&self, stage: usize) -> String {
        format!(
            "SUMIFS({},{},{stage},{},\"{}\")",
            self.short,
            self.numbers,
            self.state,
            by_stage::SHORT_OF_ANY
        )
    }

    /// How many lines of a stage there are.
    pub fn lines(&self, stage: usize) -> String {
        format!("COUNTIF({},{stage})", self.numbers)
    }

    /// How many lines of a stage stand so.
    pub fn standing(&self, stage: usize, state: State) -> String {
        format!(
            "COUNTIFS({},{stage},{},\"{state}\")",
            self.numbers, self.state
        )
    }

    /// Pieces that are short for sure, and on how many lines.
    pub fn short_for_sure(&self) -> [String; 2] {
        let short = by_stage::SHORT_OF_ANY;
        [
            format!("SUMIF({},\"{short}\",{})", self.state, self.short),
            format!("COUNTIF({},\"{short}\")", self.state),
        ]
    }

    /// Pieces of which nobody can say whether they are short, and on how many lines.
    pub fn short_perhaps(&self) -> [String; 2] {
        let [pieces, lines] = self.short_for_sure();
        [
            format!("(SUM({})-{pieces})", self.short),
            format!("(COUNTIF({},\">0\")-{lines})", self.short),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::fixture;

    /// What is not short for sure: all that is lacking less that.
    #[test]
    fn what_is_short_perhaps() {
        let rows = StageRows {
            numbers: "A1:A9".to_owned(),
            covered: "E1:E9".to_owned(),
            short: "F1:F9".to_owned(),
            state: "G1:G9".to_owned(),
        };
        assert_eq!(
            rows.short_perhaps(),
            [
                "(SUM(F1:F9)-SUMIF(G1:G9,\"■ short*\",F1:F9))",
                "(COUNTIF(F1:F9,\">0\")-COUNTIF(G1:G9,\"■ short*\"))"
            ]
        );
    }

    #[test]
    fn only_what_was_dealt_in_stage_order_follows() {
        let bolts = fixture::footbridge().account.items.swap_remove(0);
        assert!(is_plain(&bolts));
        let with = |change: fn(&mut ItemAccount)| {
            let mut changed = bolts.clone();
            change(&mut changed);
            is_plain(&changed)
        };
        assert!(!with(|i| i.sums.discarded = 1));
        assert!(!with(|i| i.sums.from_stock = 1));
        assert!(!with(|i| i.in_play = true));
        assert!(!with(|i| i.sums.pool = 24));
        assert!(!with(|i| {
            // The later stage was covered first.
            i.shares[0].covered = 4;
            i.shares[0].short = 4;
            i.shares[1].covered = 16;
            i.shares[1].short = 0;
        }));
    }
}
