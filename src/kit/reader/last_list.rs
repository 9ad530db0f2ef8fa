//! A list right behind the last sentences of a guide, with no title of its own: all that the steps put in, told once more
//! (common practice, no source).

use std::{collections::BTreeMap, ops::Range};

use super::{super::usage::Usage, Reader};

/// Lines of the list that the sentences of one stage ask for.
#[derive(Debug, Clone)]
pub(super) struct OfSentences {
    pub lines: Range<usize>,
    /// The row of the last sentence.
    pub row: u32,
}

/// What an item comes to.
#[derive(Default)]
struct Sums {
    asked: u64,
    /// Sentences ask for it; some of them in stages before the last.
    is_asked: bool,
    is_before: bool,
    listed: u64,
    /// The lines of the list, and those of the last stage's sentences that were taken for them.
    lines: Vec<usize>,
    held: Vec<usize>,
    /// A line does not say how many.
    is_open: bool,
}

impl Reader<'_> {
    /// Takes what the last list names for reference, where it is in all what the sentences of several stages ask for; what
    /// differs may be the same pieces.
    pub(super) fn hold_last_list(&mut self) {
        let stages = std::mem::take(&mut self.of_sentences);
        let [before @ .., last] = &*stages else {
            return;
        };
        let Some(from) = before.first().map(|stage| stage.lines.start) else {
            return;
        };
        let stage_of = |at: usize| &self.list.placement_of(&self.list.lines[at]).stage;
        let is_asked = |at: usize| {
            let next = stages.partition_point(|stage| stage.lines.end <= at);
            stages
                .get(next)
                .is_some_and(|stage| stage.lines.contains(&at))
        };
        let is_listed = |at: usize| {
            self.list.lines[at].row > last.row && stage_of(at) == stage_of(last.lines.start)
        };
        let mut all: BTreeMap<String, Sums> = BTreeMap::new();
        for at in from..self.list.lines.len() {
            let line = &self.list.lines[at];
            let usage = self.list.placement_of(line).usage;
            let is_new = usage.is_none_or(|usage| usage == Usage::New);
            let is_held = usage == Some(Usage::Reference) && last.lines.contains(&at);
            let asks = is_asked(at);
            let bears = match asks {
                true => is_new || is_held,
                false => is_new && is_listed(at),
            };
            if !bears {
                continue;
            }
            let Some(key) = self.item_key(line) else {
                continue;
            };
            let of = all.entry(key).or_default();
            let pieces = line.quantity.unwrap_or_default();
            let pieces = pieces.saturating_mul(line.places.into());
            of.is_open |= line.quantity.is_none();
            if asks {
                of.is_asked = true;
                of.is_before |= at < last.lines.start;
                of.asked = of.asked.saturating_add(pieces);
                of.held.extend(is_held.then_some(at));
            } else {
                of.listed = of.listed.saturating_add(pieces);
                of.lines.push(at);
            }
        }
        let agrees = |of: &Sums| !of.is_open && of.listed == of.asked;
        let are_listed = all.values().all(|of| !of.lines.is_empty());
        all.retain(|_, of| of.is_asked && !of.lines.is_empty());
        // One item more of the last stage may be of a size that a stage before asks for, too.
        let is_of_all = |of: &Sums| of.is_before && (are_listed || agrees(of));
        if !all.values().any(is_of_all) {
            return;
        }
        // Two figures agree by no chance.
        let sure = all.len() > 1 && all.values().all(agrees);
        for of in all.into_values() {
            if sure {
                of.lines.iter().for_each(|at| self.take_for_reference(*at));
                for at in of.held {
                    self.place_again(at, |placement| placement.usage = None);
                }
            } else if of.is_before {
                self.doubt_head(of.lines[0]);
            }
        }
    }
}
