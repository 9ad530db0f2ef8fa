//! What a sentence tells of hardware that is there: its torque, and what becomes of it.

use std::{ops::Range, sync::LazyLock};

use regex::Regex;

use super::{
    Asked, Guide,
    usage::{KEEPS, kept_or_not},
};
use crate::{
    Doubt,
    hardware::Diameter,
    kit::Usage,
    notation::{Call, Callout, Notation, Sentence, describe},
    words::pattern,
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

    /// A size reaches back to the start of the stage. Words that may mean the bolts of a joint before the last are a doubt.
    fn tell_torque(&mut self, torque: &str, sized: Option<Diameter>, text: &str) {
        let end = self.asked.len();
        let is_hardware = |asked: &Asked| asked.callout.as_ref().is_ok_and(Callout::is_hardware);
        let may_be_others = sized.is_none()
            && names_bolts(text)
            && self.asked[..self.joint.min(end)].iter().any(is_hardware);
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
            if may_be_others {
                let said = format!("{torque} may be for another joint of the stage: \"{text}\"");
                asked.doubts.push(Doubt::Said(said.into()));
            }
        }
    }
}

/// True where a sentence says which bolts it tightens, by their kind, their place or as all of them: `the carriage bolts`,
/// `all hardware`.
fn names_bolts(text: &str) -> bool {
    /// Words that tell no joint apart.
    const PLAIN: &[&str] = &[
        "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "twelve", "same",
        "new",
    ];
    static NAMED: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) \b (?: tighten | torque | turn | bring | nip )\w* \s+ (?: up \s+ )?
                (?: (?: all | every | each | both | everything ) \b
                  | the \s+ (?P<kind> (?: \p{Alphabetic}+ [\s-]+ ){1,3}? ) (?: bolt | screw | nut | stud | rod ) s? \b
                  | the \s+ (?: first | last | other ) \b
                  | the \s+ (?: bolt | screw | nut )s? \s+ (?: at | on | in | of | through ) \b )",
        )
    });
    NAMED
        .captures(text)
        .is_some_and(|found| match found.name("kind") {
            Some(kind) => {
                let mut words = kind.as_str().split(|c: char| !c.is_alphabetic());
                words.any(|word| !word.is_empty() && !PLAIN.contains(&&*word.to_lowercase()))
            }
            None => true,
        })
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bolts_that_a_torque_is_for() {
        for text in [
            "Tighten the carriage bolts to 20 ft-lb.",
            "Torque the foot bolts to 90 ft-lb.",
            "Tighten the bolts at the foot to 90 ft-lb.",
            "Torque all hardware in this stage to 20 ft-lb.",
            "Tighten the first two to 20 ft-lb.",
        ] {
            assert!(names_bolts(text), "{text}");
        }
        for text in [
            "Tighten the bolts to 45 ft-lb.",
            "Tighten the two bolts to 45 ft-lb.",
            "Torque to 45 ft-lb.",
            "Tighten to 45 ft-lb.",
        ] {
            assert!(!names_bolts(text), "{text}");
        }
    }
}
