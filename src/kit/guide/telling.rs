//! What a sentence tells of hardware that is there: its torque, and what becomes of it.

use std::ops::Range;

use super::{
    Guide,
    usage::{KEEPS, kept_or_not},
};
use crate::{
    Doubt,
    hardware::Diameter,
    kit::Usage,
    notation::{Call, Notation, Sentence, describe},
};

impl Guide {
    /// Gives what is said of hardware taken off in the sentence before to its lines.
    pub(super) fn tell_use(&mut self, text: &str, usage: Option<Usage>) {
        let usage = match usage {
            Some(Usage::Discarded) => Usage::Discarded,
            None if KEEPS.is_match(text) => Usage::Returned,
            _ => return,
        };
        for asked in self.asked[self.joint..].iter_mut().filter(|a| a.removed) {
            asked.removed = false;
            asked.usage = Some(usage);
            asked.doubts.retain(|doubt| *doubt != kept_or_not());
        }
    }

    /// Gives torques named for hardware that is there to the joint's lines.
    pub(super) fn tell_torques(
        &mut self,
        said: &Sentence,
        known: &[Call],
        text: &str,
        notation: Notation,
    ) {
        let beside = |at: Range<usize>| size_in(said.text.get(at)?, notation);
        // `the 1/2 in to 45 ft-lb`, `45 ft-lb (1/2 in)`
        let first = said.torques.first().map_or(0, |(at, _)| *at);
        let stands_behind = beside(0..first).is_none();
        let mut from = 0;
        for (i, (at, torque)) in said.torques.iter().enumerate() {
            let next = said
                .torques
                .get(i + 1)
                .map_or(said.text.len(), |(at, _)| *at);
            let named = known.iter().rev().find(|call| call.at.start < *at);
            let named = named.or_else(|| known.first());
            let named = named.and_then(|call| call.callout.item.diameter);
            let end = at + torque.len();
            let beside = || beside(if stands_behind { end..next } else { from..*at });
            self.tell_torque(torque, named.or_else(beside), text);
            from = end;
        }
    }

    /// A size reaches back to the start of the stage.
    fn tell_torque(&mut self, torque: &str, sized: Option<Diameter>, text: &str) {
        let end = self.asked.len();
        let from = match sized {
            Some(size) => {
                let told = self.torqued.insert((size, torque.to_owned()), end);
                told.unwrap_or_default()
            }
            None => self.joint,
        };
        for asked in &mut self.asked[from..] {
            let Ok(callout) = &asked.callout else {
                continue;
            };
            if sized.is_some_and(|size| callout.item.diameter != Some(size)) {
                continue;
            }
            match &asked.torque {
                Some(stated) if stated != torque && (is_figure(stated) || !is_figure(torque)) => {
                    asked.doubts.push(Doubt::Said(
                        format!("the torque is {stated}, and {torque} in \"{text}\"").into(),
                    ))
                }
                _ => asked.torque = Some(torque.to_owned()),
            }
        }
    }
}

/// True for a torque by which a joint is done; `hand tight` is one on the way to it.
fn is_figure(torque: &str) -> bool {
    torque.contains("turn") || torque.contains(|c: char| c.is_ascii_digit())
}

/// The last size that words name without a noun.
fn size_in(words: &str, notation: Notation) -> Option<Diameter> {
    let words = words.split_whitespace().rev();
    let bare = words.map(|word| word.trim_matches(|c: char| !c.is_alphanumeric() && c != '#'));
    let sized = bare.filter(|word| word.contains(|c: char| c.is_ascii_digit()));
    let read = |word: &str| describe(&format!("{word} bolt"), notation).ok()?.pop();
    sized.filter_map(|word| read(word)?.item.diameter).next()
}

/// The torque of each item of a sentence, where it names any: one for all, or each behind its items or in front of
/// them; none where that is open. `known`: what else stands in it.
pub(super) fn torques_of(
    torques: &[(usize, String)],
    items: &[usize],
    known: &[Call],
) -> Option<Vec<String>> {
    let known = known.iter().map(|call| call.at.start);
    let all: Vec<usize> = items.iter().copied().chain(known).collect();
    let behind = |item: usize| torques.iter().position(|(at, _)| *at > item);
    let before = |item: usize| torques.iter().rposition(|(at, _)| *at < item);
    let of_each = |one: &dyn Fn(usize) -> Option<usize>| {
        let of: Option<Vec<usize>> = all.iter().map(|item| one(*item)).collect();
        of.filter(|of| (0..torques.len()).all(|torque| of.contains(&torque)))
    };
    let mut figures = torques.iter().filter(|(_, torque)| is_figure(torque));
    match (torques, figures.next(), figures.next()) {
        ([], ..) => Some(Vec::new()),
        ([(_, torque)], ..) => Some(vec![torque.clone(); items.len()]),
        (_, figure, more) => match of_each(&behind).or_else(|| of_each(&before)) {
            Some(of) => Some(of.iter().map(|of| torques[*of].1.clone()).collect()),
            // `hand tight, then to 45 ft-lb`
            None if more.is_none() => figure.map(|(_, torque)| vec![torque.clone(); items.len()]),
            None => None,
        },
    }
}
