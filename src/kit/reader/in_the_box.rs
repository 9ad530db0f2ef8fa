//! A list at the head of a guide or at its end, or sentences, of what its steps put to use: `What is in the box` (common practice, no
//! source).
//! What the steps ask for in like numbers is required once, as they ask for it; what differs may be the same pieces.

use rustc_hash::FxHashMap;

use super::{
    super::{
        line::{Line, LineStatus},
        placement::Placement,
        usage::Usage,
    },
    Reader,
};
use crate::{Doubt, hardware::Kind, words::fold};

/// Words of titles that such lists bear.
#[rustfmt::skip]
const TITLES: &[&str] = &[
    "in the box", "in this box", "in the kit", "contents", "supplied", "included", "you need", "you will need",
    "you'll need", "needed", "required", "parts list", "hardware list", "list of parts", "packing list", "you get",
    "parts", "hardware", "fixings", "fasteners", "components", "checklist", "inventory",
];

/// True for the title of such a list.
pub(super) fn heads_one(title: &str) -> bool {
    TITLES.iter().any(|known| title.ends_with(known))
}

/// True for the stage of what stands at a guide's head: none, or such a list's title.
pub(super) fn of_head(stage: &str) -> bool {
    stage.is_empty() || heads_one(&stage.to_lowercase())
}

impl Reader<'_> {
    /// Holds the list at a guide's head against its steps.
    pub(super) fn hold_against_steps(&mut self) {
        let Some(from) = self.guide.first_line else {
            return;
        };
        let is_head = |line: &Line| {
            let stage = self.list.placement_of(line).stage.as_deref();
            of_head(stage.unwrap_or_default())
        };
        let mut asked: FxHashMap<String, Option<u64>> = FxHashMap::default();
        let mut listed: FxHashMap<String, (Option<u64>, Vec<usize>)> = FxHashMap::default();
        for (at, line) in self.list.lines.iter().enumerate() {
            let usage = self.list.placement_of(line).usage;
            let Some(key) = self
                .item_key(line)
                .filter(|_| usage.is_none_or(|of| of == Usage::New))
            else {
                continue;
            };
            let pieces = line
                .quantity
                .map(|pieces| pieces.saturating_mul(line.places.into()));
            let add = |sum: &mut Option<u64>| {
                *sum = sum.and_then(|sum| Some(sum.saturating_add(pieces?)))
            };
            match is_head(line) {
                // At its end, too.
                true if at < from || self.tail.is_some_and(|tail| at >= tail) => {
                    let (sum, lines) = listed.entry(key).or_insert((Some(0), Vec::new()));
                    add(sum);
                    lines.push(at);
                }
                true => {}
                false => add(asked.entry(key).or_insert(Some(0))),
            }
        }
        let mut lines: Vec<(usize, bool)> = Vec::new();
        for (key, (sum, of)) in listed {
            if let Some(steps) = asked.get(&key) {
                lines.extend(of.iter().map(|at| (*at, sum.is_some() && sum == *steps)));
            }
        }
        lines.sort_unstable();
        for (at, agrees) in lines {
            match agrees {
                true => self.take_for_reference(at),
                false => self.doubt_head(at),
            }
        }
    }

    /// What a line and a step's sentence name alike: kind and size, of a part its name.
    pub(super) fn item_key(&self, line: &Line) -> Option<String> {
        let item = &self.list.reading_of(line)?.item;
        Some(match item.kind {
            Some(Kind::Part) => {
                let name = fold(&item.text());
                name.strip_suffix('s').map_or(name.clone(), str::to_owned)
            }
            kind => format!("{kind:?} {:?} {:?}", item.diameter, item.length),
        })
    }

    pub(super) fn take_for_reference(&mut self, at: usize) {
        self.place_again(at, |placement| placement.usage = Some(Usage::Reference));
    }

    /// Gives a line a placement of its own.
    pub(super) fn place_again(&mut self, at: usize, change: impl FnOnce(&mut Placement)) {
        let line = &mut self.list.lines[at];
        let mut placement = self.list.placements[line.placement as usize].clone();
        change(&mut placement);
        line.placement = self.list.placements.len() as u32;
        self.list.placements.push(placement);
    }

    pub(super) fn doubt_head(&mut self, at: usize) {
        let said = "the steps ask for another number of it: may be the same pieces; taken as more";
        self.doubt_listed(
            at,
            Doubt::OrElse {
                pieces: 0,
                said: said.into(),
            },
        );
    }

    /// Doubts a line whose row was counted as what its lines are: read only where all of them are.
    pub(super) fn doubt_listed(&mut self, at: usize, doubt: Doubt) {
        let (before, behind) = self.list.lines.split_at(at);
        let row = behind[0].row;
        let of_row = |line: &&Line| line.row == row;
        let mut lines =
            (before.iter().rev().take_while(of_row)).chain(behind.iter().take_while(of_row));
        if lines.all(|line| self.list.status_of(line) == LineStatus::Read) {
            self.tally.read -= 1;
            self.tally.check += 1;
        }
        self.list.lines[at].more_mut().doubts.push(doubt);
    }
}
