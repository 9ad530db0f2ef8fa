//! Torques of a guide that go to other lines than those of their own sentences.

use std::{
    collections::{BTreeMap, BTreeSet},
    ops::Range,
};

use super::{
    super::{
        guide::{Asked, ToldTorque, is_bolt, is_on_the_way, may_be_for, stage_number},
        line::Line,
        usage::Usage,
    },
    Reader,
};
use crate::{
    Doubt,
    hardware::{Diameter, Kind},
    notation::sentence,
};

/// A torque is named near its stage (common practice, no source).
const MOST_LINES: usize = 1000;

/// A torque of all that is of a size.
enum BySize {
    Told(Box<ToldTorque>),
    /// A line of a table, and its torque.
    Row(usize, String),
}

impl BySize {
    fn torque(&self) -> &str {
        match self {
            BySize::Told(told) => &told.torque,
            BySize::Row(_, torque) => torque,
        }
    }
}

impl Reader<'_> {
    /// Gives a torque that no sentence's hardware is of to the stage's listed lines, or to those of the stages that it
    /// names: of its size and kind, of all, or of the only size that there is. False where nothing is.
    pub(super) fn tell_listed(&mut self, stage: Range<usize>, told: &ToldTorque) -> bool {
        let end = self.list.lines.len();
        let elsewhere = !told.stages.is_empty();
        let first = end.saturating_sub(MOST_LINES);
        let lines = match elsewhere {
            true => first..end,
            false => stage.start.max(first)..stage.end,
        };
        let item_of = |at: usize| Some(&self.list.reading_of(&self.list.lines[at])?.item);
        let mut told = told.clone();
        told.of_bolts = told.is_of_any() && lines.clone().filter_map(item_of).any(is_bolt);
        let told = &told;
        let in_stage = |line: &Line| {
            let stage = self.list.placement_of(line).stage.as_deref();
            let number = stage.and_then(stage_number);
            !elsewhere || number.is_some_and(|number| told.stages.iter().any(|one| one == number))
        };
        let sizes = lines.filter_map(|at| {
            let line = &self.list.lines[at];
            let item = &self.list.reading_of(line)?.item;
            let size = item.diameter.filter(|_| in_stage(line))?;
            Some((at, size, told.takes(item), told.names(item, None)))
        });
        let sizes: Vec<(usize, Diameter, bool, bool)> = sizes.collect();
        // The nuts of a size go on its bolts, named or not.
        let named: Vec<Diameter> = sizes.iter().filter(|one| one.3).map(|one| one.1).collect();
        let only = named.windows(2).all(|pair| pair[0] == pair[1]);
        let sure = told.sized.is_some() || told.of_all || only || elsewhere;
        for &(at, size, takes, _) in &sizes {
            if !takes || !named.contains(&size) {
                continue;
            }
            if !sure || !told.place.is_empty() {
                self.doubt_listed(at, may_be_for(told));
                continue;
            }
            self.call_torque(at, told.torque.clone());
            if let Some(doubt) = told.doubt.clone() {
                self.doubt_listed(at, doubt);
            }
        }
        !named.is_empty()
    }

    /// Gives the torques that are told of more than their own stage: those of a size to all lines of it that name none,
    /// and those of all at the end.
    pub(super) fn end_told(&mut self) {
        let end = self.list.lines.len();
        let mut of_size: BTreeMap<Diameter, Vec<BySize>> = BTreeMap::new();
        for told in std::mem::take(&mut self.guide.torques_by_size) {
            if let Some(size) = told.sized {
                of_size
                    .entry(size)
                    .or_default()
                    .push(BySize::Told(Box::new(told)));
            }
        }
        for at in (0..end).filter(|_| self.list.from_sentences) {
            if let Some((size, torque)) = self.row_of_torques(at) {
                of_size
                    .entry(size)
                    .or_default()
                    .push(BySize::Row(at, torque));
            }
        }
        let mut used: BTreeSet<Diameter> = BTreeSet::new();
        for at in (0..end).filter(|_| !of_size.is_empty()) {
            let line = &self.list.lines[at];
            let Some(reading) = self
                .list
                .reading_of(line)
                .filter(|_| line.quantity.is_some())
            else {
                continue;
            };
            let fastens = reading.item.kind.is_some_and(|kind| kind != Kind::Part);
            let Some(size) = reading.item.diameter.filter(|_| fastens) else {
                continue;
            };
            let is_open = self.list.placement_of(line).torque.is_none();
            let Some(all) = of_size.get(&size) else {
                continue;
            };
            used.insert(size);
            let same = all.iter().all(|one| one.torque() == all[0].torque());
            match all[0].torque().to_owned() {
                torque if is_open && same => self.call_torque(at, torque),
                _ if is_open => {
                    let said = format!("several torques are told of {size}: none was taken");
                    self.doubt_listed(at, Doubt::Said(said.into()));
                }
                _ => {}
            }
        }
        for (size, all) in of_size {
            for one in all {
                match one {
                    BySize::Row(at, _) if used.contains(&size) => {
                        self.place_again(at, |placement| placement.usage = Some(Usage::Reference));
                    }
                    BySize::Told(told) if !used.contains(&size) => self.keep_aside(told.aside),
                    _ => {}
                }
            }
        }
        for (stage, told) in std::mem::take(&mut self.guide.at_the_end) {
            for at in stage.saturating_sub(MOST_LINES)..stage {
                let line = &self.list.lines[at];
                let Some(reading) = self.list.reading_of(line) else {
                    continue;
                };
                let is_open = self.list.placement_of(line).torque.is_none();
                if is_open && told.takes(&reading.item) {
                    self.doubt_listed(at, may_be_for(&told));
                }
            }
        }
    }

    /// The size and the torque of a line that names nothing else: `M8: 20 N·m`.
    fn row_of_torques(&self, at: usize) -> Option<(Diameter, String)> {
        let line = &self.list.lines[at];
        let item = &self.list.reading_of(line)?.item;
        let size = item.diameter.filter(|_| line.quantity.is_none())?;
        let kinds = [None, Some(Kind::Bolt), Some(Kind::Screw)];
        if !kinds.contains(&item.kind) || item.length.is_some() {
            return None;
        }
        let stated = self.list.placement_of(line).torque.as_deref();
        let torque = match stated {
            Some(stated) => stated.to_owned(),
            None => {
                let said = sentence(&self.list.text_of(line), self.notation);
                let [(_, torque)] = &*said.torques else {
                    return None;
                };
                torque.clone()
            }
        };
        Some((size, torque))
    }

    /// Keeps a sentence word for word whose row was counted with those that ask for nothing.
    fn keep_aside(&mut self, asked: Asked) {
        let text = self.list.text.push(&asked.text);
        self.stage.clear();
        let row = asked.row;
        let line = self.asked_line(asked, text);
        let counted = self.list.lines.iter().any(|line| line.row == row);
        self.list.lines.push(line);
        if !counted {
            self.tally.other -= 1;
            self.tally.aside += 1;
        }
    }

    /// Gives a line that is listed the torque that sentences call it to, where the list names none.
    pub(super) fn call_torque(&mut self, at: usize, torque: String) {
        let stated = self
            .list
            .placement_of(&self.list.lines[at])
            .torque
            .as_deref();
        match stated {
            Some(stated) if is_on_the_way(&torque, stated) || *stated == *torque => {}
            Some(stated) if !is_on_the_way(stated, &torque) => {
                let said = format!("the torque is {stated}, and {torque} in the sentences");
                self.doubt_listed(at, Doubt::Said(said.into()));
            }
            _ => self.place_again(at, |placement| placement.torque = Some(torque.into())),
        }
    }
}
