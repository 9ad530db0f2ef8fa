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
        aside: &Asked,
        notation: Notation,
    ) {
        let text = aside.text.as_str();
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
            let sized = named.or_else(beside);
            let told = ToldTorque {
                torque: torque.clone(),
                sized,
                of_all: sized.is_none() && is_of_all(text),
                doubt: said.torque_doubt.clone(),
                aside: aside.clone(),
            };
            if !self.tell_torque(&told) {
                self.untold.push(told);
            }
            from = end;
        }
        if let (Some(doubt), []) = (&said.torque_doubt, said.torques.as_slice()) {
            let from = self.joint.min(self.asked.len());
            for asked in self.asked[from..].iter_mut().filter(|one| is_hardware(one)) {
                asked.doubts.push(doubt.clone());
            }
        }
    }

    /// A size reaches back to the start of the stage, and so does `all`. Words that may mean the bolts of a joint before
    /// the last are a doubt. False where nothing is there that it may be of.
    fn tell_torque(&mut self, told: &ToldTorque) -> bool {
        let ToldTorque {
            torque,
            sized,
            of_all,
            doubt,
            aside,
        } = told;
        let text = &aside.text;
        let end = self.asked.len();
        let may_be_others = sized.is_none()
            && !of_all
            && names_bolts(text)
            && self.asked[..self.joint.min(end)].iter().any(is_hardware);
        let from = match sized {
            Some(size) => {
                let told = self.torqued.insert((*size, torque.clone()), end);
                told.unwrap_or_default()
            }
            None if *of_all => 0,
            None => self.joint.min(end),
        };
        let mut is_told = false;
        for asked in self.asked[from..].iter_mut().filter(|one| is_hardware(one)) {
            let Ok(callout) = &asked.callout else {
                continue;
            };
            if sized.is_some_and(|size| callout.item.diameter != Some(size)) {
                continue;
            }
            is_told = true;
            match &asked.torque {
                Some(stated) if stated != torque && (is_figure(stated) || !is_figure(torque)) => {
                    asked.doubts.push(Doubt::Said(
                        format!("the torque is {stated}, and {torque} in \"{text}\"").into(),
                    ))
                }
                _ => asked.torque = Some(torque.clone()),
            }
            asked.doubts.extend(doubt.clone());
            if may_be_others {
                let said = format!("{torque} may be for another joint of the stage: \"{text}\"");
                asked.doubts.push(Doubt::Said(said.into()));
            }
        }
        is_told
    }

    /// Gives the torques that were named before anything was there that they may be of to what came then: that of their
    /// size, or the first joint. What is left may be of the stage's list.
    pub(super) fn end_torques(&mut self) {
        let first = self.asked.iter().position(is_hardware);
        let row = first.map(|first| self.asked[first].text.clone());
        for told in std::mem::take(&mut self.untold) {
            let is_of = |asked: &Asked| match (told.sized, told.of_all) {
                (Some(size), _) => asked
                    .callout
                    .as_ref()
                    .is_ok_and(|callout| callout.item.diameter == Some(size)),
                (None, true) => true,
                (None, false) => Some(&asked.text) == row.as_ref(),
            };
            let mut is_told = false;
            for asked in self.asked.iter_mut().filter(|one| is_hardware(one)) {
                if asked.torque.is_some() || !is_of(asked) {
                    continue;
                }
                is_told = true;
                asked.torque = Some(told.torque.clone());
                let said = format!(
                    "{} stands before its joint: \"{}\"",
                    told.torque, told.aside.text
                );
                asked.doubts.push(Doubt::Said(said.into()));
                asked.doubts.extend(told.doubt.clone());
            }
            if !is_told {
                self.torques.push(told);
            }
        }
    }
}

/// What a sentence says of a torque.
#[derive(Debug, Clone)]
pub struct ToldTorque {
    pub torque: String,
    pub sized: Option<Diameter>,
    /// Of all in the stage.
    pub of_all: bool,
    pub doubt: Option<Doubt>,
    /// Its sentence, to be kept word for word where nothing is of it.
    pub aside: Asked,
}

impl ToldTorque {
    /// True where something is to be tightened: not `a torque wrench of 20 to 100 N·m`.
    pub fn tightens(&self) -> bool {
        static TIGHTENS: LazyLock<Regex> = LazyLock::new(|| {
            pattern(
                r"(?i)^\W*(?:(?:now|then|finally) )?(?:re-?)?(?:torque|tighten|snug|nip)\b[^.]*|\b(?:torqued|tightened)\b",
            )
        });
        let found = TIGHTENS.find(&self.aside.text);
        found.is_some_and(|found| !found.as_str().to_lowercase().contains("wrench"))
    }
}

fn is_hardware(asked: &Asked) -> bool {
    asked.callout.as_ref().is_ok_and(Callout::is_hardware)
}

/// True where a sentence tightens all that its stage holds: `Torque everything`, `both sizes`; not `all four bolts`.
fn is_of_all(text: &str) -> bool {
    static ALL: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) \b (?: everything | (?: all | every | each | both ) \s+ (?: of \s+ )? (?: the \s+ | these \s+ | other \s+ )?
                (?: hardware | sizes? | fasteners? | fixings? | joints? | connections? | bolts? | screws? | nuts? | (?: bolts | nuts ) \s+ and \s+ (?: bolts | nuts ) )
                (?: \s+ (?: in | of | on ) \s+ (?: this | the ) \s+ (?: stage | step | section ) )? \s+
                (?: to | hand | finger | snug | firmly | fully | at | until | is | are | must | should | get | gets | be )
              | (?: in | of ) \s+ this \s+ (?: stage | step | section ) ) \b",
        )
    });
    ALL.is_match(text)
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
