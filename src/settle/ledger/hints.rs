//! Rows that were not read in full, and what they may be of though they do not name it.
//!
//! A slip's `4 ? foot plates` says that some came, whatever the figure is: nobody is short of foot plates
//! before it is read. So it is with a bolt whose diameter and length stand among the figures of a row.

use super::{Ledger, unmet::is_kit, unread::Unnamed};
use crate::{
    hardware::{Item, Kind, Written},
    settle::{
        evidence::{Rows, Run},
        inventory::{Inventory, Obscure},
    },
};

/// More pairs of a row and an item are held against each other in no kit.
const MOST_PAIRS: usize = 1_000_000;

impl Ledger {
    /// Gathers such rows for what no other row of a slip, or no count, names, and for what too little of was counted.
    pub(super) fn note_hints(&mut self, inventory: &Inventory) {
        let rows = &inventory.obscure;
        if rows.is_empty() {
            return;
        }
        let on_slip = self.on_slip();
        let is_short = |at: usize| self.counted[at].is_some_and(|good| good < self.wanted[at]);
        let is_open = |at: usize| {
            let is_known = on_slip[at] && self.counted[at].is_some() && !is_short(at);
            self.wanted[at] > 0 && !is_known
        };
        let open = (0..self.entries.len()).filter(|&at| is_open(at));
        let sought: Vec<Sought> = open.map(|at| Sought::of(self, inventory, at)).collect();
        if sought.len().saturating_mul(rows.len()) > MOST_PAIRS {
            return;
        }
        for of in sought {
            let runs = |by_count: bool| -> Vec<Run> {
                let may_be = rows
                    .iter()
                    .filter(|row| row.by_count == by_count && of.may_be(row));
                may_be.map(|row| row.run).collect()
            };
            let of_slips = if on_slip[of.entry] {
                Vec::new()
            } else {
                runs(false)
            };
            let of_counts: Vec<Run> = match self.counted[of.entry] {
                None => runs(true),
                Some(_) if is_short(of.entry) => {
                    let more = rows.iter().filter(|row| row.by_count && of.is_more(row));
                    more.map(|row| row.run).collect()
                }
                Some(_) => Vec::new(),
            };
            if of_slips.is_empty() && of_counts.is_empty() {
                continue;
            }
            let known = self.unread.entry(of.entry).or_default();
            if known.of_slips.is_empty() && !of_slips.is_empty() {
                known.of_slips = Rows::from_iter(of_slips);
                known.others = Some(Unnamed::Perhaps);
            }
            if known.of_counts.is_empty() {
                known.of_counts = Rows::from_iter(of_counts);
            }
        }
    }
}

/// What is looked for in a row.
struct Sought {
    entry: usize,
    what: What,
}

enum What {
    /// A part's words.
    Part(Written),
    /// Figures of a size, and the noun where a diameter is all there is of it.
    Size {
        figures: Vec<String>,
        noun: Option<&'static str>,
    },
    Nothing,
}

impl Sought {
    fn of(ledger: &Ledger, inventory: &Inventory, entry: usize) -> Sought {
        let stated = &inventory.items[ledger.entries[entry].item];
        let what = match stated.description() {
            Some(description) => What::Part(Written::of(description)),
            None => What::of_hardware(&stated.identity),
        };
        Sought { entry, what }
    }

    fn may_be(&self, row: &Obscure) -> bool {
        // `Fixings, 1 lot`.
        if !row.by_count && row.words.words.words().any(is_kit) {
            return true;
        }
        match &self.what {
            What::Part(words) => words.share_a_word(&row.words),
            What::Size { figures, noun } => {
                figures.iter().all(|figure| row.figures.contains(figure))
                    && noun
                        .is_none_or(|noun| row.words.words.words().any(|word| word.ends_with(noun)))
            }
            What::Nothing => false,
        }
    }

    /// True for a row that names the part of which another row counts some: `shelves IIII` beside `shelves 1`.
    fn is_more(&self, row: &Obscure) -> bool {
        match &self.what {
            What::Part(words) => {
                let noun = words.noun();
                noun.is_some_and(|noun| row.words.words.words().any(|word| word == noun))
            }
            What::Size { .. } | What::Nothing => false,
        }
    }
}

impl What {
    fn of_hardware(item: &Item) -> What {
        let Some(diameter) = item.diameter else {
            return What::Nothing;
        };
        let diameter = diameter
            .to_string()
            .trim_start_matches(['M', '#'])
            .to_owned();
        let noun = match (item.length, item.kind) {
            (Some(_), _) => None,
            (None, Some(Kind::Nut)) => Some("nut"),
            (None, Some(Kind::Washer)) => Some("washer"),
            (None, _) => return What::Nothing,
        };
        let length = item.length.map(|length| length.to_string());
        What::Size {
            figures: std::iter::once(diameter).chain(length).collect(),
            noun,
        }
    }
}
