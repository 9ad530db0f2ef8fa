//! What a sentence tells of hardware that is there: its torque, and what becomes of it.

use super::{
    Asked, Guide,
    repetition::stage_number,
    tightened::{ToldTorque, stem},
    usage::{KEEPS, kept_or_not},
};
use crate::{
    Doubt,
    hardware::Kind,
    kit::Usage,
    notation::{Call, Callout, Notation, Sentence},
};

/// Torques of a size, or of all, that are looked for from the start of a stage: no stage of a guide has more (common
/// practice, no source).
const MOST_TORQUES: usize = 32;

/// More are no stage of a guide (common practice, no source).
pub(super) const MOST_NEAR: usize = 100;

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
        for i in 0..said.torques.len() {
            let mut told = ToldTorque::of(said, i, known, aside, notation);
            let own = stage_number(&self.title).map(str::to_owned);
            let elsewhere = |stage: &String| Some(stage) != own.as_ref();
            let here = told.stages.is_empty() || !told.stages.iter().all(elsewhere);
            told.of_all |= here && !told.stages.is_empty();
            let is_told = here && self.tell_torque(&told);
            if told.is_of_table() {
                self.torques_by_size.push(told);
                continue;
            }
            told.stages.retain(elsewhere);
            match told.stages.is_empty() {
                true if is_told && told.at_the_end => self.torques.push(told),
                true if is_told => {}
                true => self.untold.push(told),
                false => self.torques.push(told),
            }
        }
        if let (Some(doubt), []) = (&said.torque_doubt, said.torques.as_slice()) {
            let from = self.joint.min(self.asked.len());
            for asked in self.asked[from..].iter_mut().filter(|one| is_hardware(one)) {
                asked.doubts.push(doubt.clone());
            }
        }
    }

    /// Gives a sentence's torque that names other hardware than it puts in to that: `Fit two bolts and tighten the frame
    /// nuts to 60 N·m.`
    pub(super) fn tell_others(
        &mut self,
        said: &mut Sentence,
        new: &[(Call, Option<Doubt>)],
        known: &[Call],
        aside: &Asked,
        notation: Notation,
    ) {
        let ([_], Some((last, _)), false) = (&*said.torques, new.last(), known.is_empty()) else {
            return;
        };
        // What it puts in says nothing of the rest.
        let mut rest = said.clone();
        let behind = rest.text.split_off(last.at.end);
        rest.text = " ".repeat(last.at.end) + &behind;
        let told = ToldTorque::of(&rest, 0, known, aside, notation);
        // The nuts of a joint are those of its bolts, named or not.
        let takes = |(call, _): &(Call, _)| {
            let item = &call.callout.item;
            told.names_by_kind(item) || (item.kind.is_some_and(Kind::is_long) && told.names_small())
        };
        let there: Vec<String> = words(&aside.text).collect();
        let twice = |word: &String| there.iter().filter(|there| *there == word).count() > 1;
        let is_own = new.iter().any(takes) && told.place.iter().all(twice);
        if told.is_bare() || is_own {
            return;
        }
        self.tell_torques(&rest, known, aside, notation);
        said.torques.clear();
        said.torque_doubt = None;
    }

    /// Gives a torque to the joint that it names; where several may be meant, or a place that none has, to none, and
    /// asks. False where nothing is there that it may be of.
    fn tell_torque(&mut self, told: &ToldTorque) -> bool {
        let end = self.asked.len();
        let joint = self.joint.min(end);
        let names = |one: &Asked| names(told, one);
        let by_place = self.joint_words(told);
        // A size reaches back to the start of the stage, and so does `all`.
        let reaches_back = told.sized.is_some() || told.of_all;
        let given = self.torqued.get(&told.key()).copied();
        let from = match by_place.is_empty() {
            true if reaches_back && (given.is_some() || self.torqued.len() < MOST_TORQUES) => {
                given.unwrap_or_default()
            }
            true if !reaches_back && self.is_open(told) => {
                return self.look_for_joint(told, &by_place);
            }
            true if !reaches_back && told.of_both => self.asked.len().saturating_sub(MOST_NEAR),
            true if !reaches_back && self.asked[joint..].iter().any(names) => joint,
            _ => return self.look_for_joint(told, &by_place),
        };
        let mut is_told = given.is_some();
        for joint in self.asked[from..].chunk_by_mut(|a, b| a.row == b.row && a.text == b.text) {
            // The nuts of a size go on its bolts, named or not.
            let of_size = told.sized.is_some() && joint.iter().any(|one| takes(told, one));
            if of_size || joint.iter().any(names) {
                is_told = true;
                give(told, joint);
            }
        }
        if reaches_back && is_told {
            self.torqued.insert(told.key(), end);
        }
        is_told
    }

    /// True where a torque names none of several joints that have none yet: it is of the last one where it stands in
    /// that one's paragraph or behind it, and of any of them behind a paragraph of several, or where all is done.
    fn is_open(&self, told: &ToldTorque) -> bool {
        if self.before.sentence.is_some() && !told.of_both {
            return false;
        }
        let most = self.asked.len().saturating_sub(MOST_NEAR);
        let from = match told.of_both || told.is_last {
            true => most,
            false => most.max(self.last_paragraph_from),
        };
        let joints = self.asked[from..].chunk_by(|a, b| a.row == b.row && a.text == b.text);
        let untold = |one: &Asked| one.torque.is_none() && names(told, one);
        let open = joints.filter(|joint| joint.iter().any(untold)).count();
        match told.of_both {
            true => open != 2,
            false => open > 1,
        }
    }

    /// The words by which a torque names its joint, without those that its stage is called by.
    fn joint_words(&self, told: &ToldTorque) -> Vec<String> {
        let title: Vec<String> = words(&self.title).collect();
        let tells = told.place.iter().filter(|word| !title.contains(word));
        tells.cloned().collect()
    }

    /// The one joint among the last ones that a torque names.
    fn look_for_joint(&mut self, told: &ToldTorque, by_place: &[String]) -> bool {
        let from = self.asked.len().saturating_sub(MOST_NEAR);
        let joints = self.asked[from..].chunk_by_mut(|a, b| a.row == b.row && a.text == b.text);
        let names = |one: &Asked| names(told, one);
        let mut of_kind: Vec<&mut [Asked]> =
            joints.filter(|joint| joint.iter().any(names)).collect();
        let is_there = |joint: &[Asked]| {
            let there: Vec<String> = words(&joint[0].text).collect();
            by_place.iter().all(|word| there.contains(word))
        };
        let mut placed = of_kind.iter_mut().filter(|joint| is_there(joint));
        match (placed.next(), placed.next()) {
            (Some(one), None) if from == 0 => give(told, one),
            (found, _) => {
                let any = found.is_none();
                let open = of_kind.iter_mut().filter(|joint| any || is_there(joint));
                for asked in open.flat_map(|joint| joint.iter_mut()) {
                    if takes(told, asked) {
                        asked.doubts.push(may_be_for(told));
                    }
                }
            }
        }
        !of_kind.is_empty()
    }

    /// Gives the torques that were named before anything was there that they may be of to what came then: that of their
    /// size and kind, or the first joint. What is left may be of the stage's list.
    pub(super) fn end_torques(&mut self) {
        for told in std::mem::take(&mut self.untold) {
            let is_of = |asked: &Asked| names(&told, asked);
            let first = self.asked.iter().position(is_of);
            let joint = first.map(|first| self.asked[first].text.clone());
            let all = told.sized.is_some() || told.of_all;
            let mut is_told = false;
            for asked in &mut self.asked {
                let here = if all {
                    is_of(asked)
                } else {
                    takes(&told, asked) && Some(&asked.text) == joint.as_ref()
                };
                if asked.torque.is_some() || !here {
                    continue;
                }
                is_told = true;
                if !told.place.is_empty() {
                    asked.doubts.push(may_be_for(&told));
                    continue;
                }
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

/// Gives a torque to the pieces of a joint that take it.
fn give(told: &ToldTorque, joint: &mut [Asked]) {
    let ToldTorque { torque, aside, .. } = told;
    for asked in joint.iter_mut().filter(|one| takes(told, one)) {
        match &asked.torque {
            Some(stated) if stated != torque && !is_on_the_way(stated, torque) => {
                asked.doubts.push(Doubt::Said(
                    format!("the torque is {stated}, and {torque} in \"{}\"", aside.text).into(),
                ))
            }
            _ => asked.torque = Some(torque.clone()),
        }
        asked.doubts.extend(told.doubt.clone());
    }
}

fn takes(told: &ToldTorque, asked: &Asked) -> bool {
    let callout = asked.callout.as_ref();
    callout.is_ok_and(|callout| told.takes(&callout.item))
}

/// True where a torque names a line of those that take it.
fn names(told: &ToldTorque, asked: &Asked) -> bool {
    let Ok(callout) = &asked.callout else {
        return false;
    };
    let pieces = callout.quantity.map(|there| there.pieces);
    let pieces = pieces.map(|pieces| [pieces, pieces * u64::from(asked.places)]);
    told.takes(&callout.item) && told.names(&callout.item, pieces)
}

/// The doubt of pieces that a torque may be for.
pub fn may_be_for(told: &ToldTorque) -> Doubt {
    let (torque, text) = (&told.torque, &told.aside.text);
    Doubt::Said(format!("{torque} may be for it: none was taken from \"{text}\"").into())
}

/// True where a joint is brought to the first torque on its way to the second.
pub fn is_on_the_way(first: &str, then: &str) -> bool {
    !is_figure(first) && is_figure(then)
}

fn is_hardware(asked: &Asked) -> bool {
    asked.callout.as_ref().is_ok_and(Callout::is_hardware)
}

fn words(text: &str) -> impl Iterator<Item = String> {
    let words = text.split(|c: char| !c.is_alphanumeric() && c != '-');
    words.filter(|word| !word.is_empty()).map(stem)
}

/// True for a torque by which a joint is done; `hand tight` is one on the way to it.
fn is_figure(torque: &str) -> bool {
    torque.contains("turn") || torque.contains(|c: char| c.is_ascii_digit())
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
