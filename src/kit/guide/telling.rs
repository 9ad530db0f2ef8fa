//! What a sentence tells of hardware that is there: its torque, and what becomes of it.

use super::{
    Asked, Guide,
    fates::Fates,
    listed,
    repetition::stage_number,
    tightened::{ToldTorque, Turn, is_bolt, stem},
    usage::{KEEPS, PUTS_BACK, kept_or_not, takes_out},
    whereabouts::Whereabouts,
};
use crate::{
    Doubt,
    hardware::{Diameter, Kind},
    kit::Usage,
    notation::{Call, Callout, Notation, Sentence},
};

/// Torques of a size, or of all, that are looked for from the start of a stage: no stage of a guide has more (common
/// practice, no source).
const MOST_TORQUES: usize = 32;

/// More are no stage of a guide (common practice, no source).
pub(super) const MOST_NEAR: usize = 100;

impl Guide {
    /// Gives what is said of hardware taken off in a sentence before to its lines: kept, thrown away, put back.
    pub(super) fn tell_use(&mut self, text: &str, usage: Option<Usage>) {
        let usage = match usage {
            Some(Usage::Discarded) => Usage::Discarded,
            None if KEEPS.is_match(text) => Usage::Returned,
            _ => return,
        };
        let fates = Fates::of(text);
        for asked in self.asked[self.joint..].iter_mut().filter(|a| a.removed) {
            let kind = asked.callout.as_ref().ok();
            let kind = kind.and_then(|callout| callout.item.kind);
            let usage = match fates.are_told(kind) {
                true => fates.of_kind(kind),
                false => Some(usage),
            };
            let Some(usage) = usage else { continue };
            asked.removed = false;
            asked.usage = Some(usage);
            asked.doubts.retain(|doubt| *doubt != kept_or_not());
        }
    }

    /// Doubts the last joint, where a sentence takes it out again: `Insert two bolts to align the holes. Remove them.`
    pub(super) fn tell_taken_out(&mut self, text: &str) {
        let from = self.joint.max(self.paragraph_from).min(self.asked.len());
        let joint = &mut self.asked[from..];
        let pieces = joint.iter().filter_map(listed::pieces);
        let Some(words) = takes_out(text, pieces.sum::<u64>()) else {
            return;
        };
        let new = joint.iter_mut().filter(|one| one.usage.is_none());
        for asked in new {
            let said = format!("\"{words}\": may be taken out again; taken as needed");
            asked.doubts.push(Doubt::Said(said.into()));
        }
    }

    /// What was taken off in this stage and is put back there is as it was, and is for no other stage. True where a
    /// sentence puts such back. `new`: it calls for other pieces, too.
    pub(super) fn tell_put_back(&mut self, text: &str, new: bool) -> bool {
        let from = self.asked.len().saturating_sub(MOST_NEAR);
        let is_off = |one: &&mut Asked| one.removed || one.usage == Some(Usage::Returned);
        let mut off = self.asked[from..].iter_mut().filter(is_off).peekable();
        if off.peek().is_none() {
            return false;
        }
        let mut is_told = false;
        let back = PUTS_BACK.is_match(text);
        let there: Vec<String> = words(text).collect();
        let says = |known: &[&str]| there.iter().any(|word| known.contains(&&**word));
        for asked in off {
            let kind = asked
                .callout
                .as_ref()
                .ok()
                .and_then(|callout| callout.item.kind);
            let noun = kind.map_or("", Kind::as_str);
            let names = says(&[
                noun, "them", "these", "those", "they", "hardware", "fastener",
            ]);
            match (names, back) {
                // `Refit the cover with eight M10 x 45 bolts.`
                (true, true) if new => {
                    let said =
                        format!("\"{text}\" may put them back, or others: taken as kept for later");
                    asked.doubts.push(Doubt::Said(said.into()));
                }
                (true, true) => {
                    is_told = true;
                    asked.removed = false;
                    asked.usage = Some(Usage::CarriedOver);
                    asked.doubts.retain(|doubt| *doubt != kept_or_not());
                }
                (false, true) | (true, false) if !new && !KEEPS.is_match(text) => {
                    let said = format!("\"{text}\" may use them again: taken as kept for later");
                    asked.doubts.push(Doubt::Said(said.into()));
                }
                _ => {}
            }
        }
        is_told
    }

    /// Gives torques named for hardware that is there to the joint's lines.
    pub(super) fn tell_torques(
        &mut self,
        said: &Sentence,
        known: &[Call],
        aside: &Asked,
        notation: Notation,
    ) {
        let all = (0..said.torques.len()).map(|i| ToldTorque::of(said, i, known, aside, notation));
        let all: Vec<ToldTorque> = all.collect();
        if self.tell_in_turn(&all) {
            return;
        }
        for mut told in all {
            let items = self
                .near()
                .iter()
                .filter_map(|one| Some(&one.callout.as_ref().ok()?.item));
            told.of_bolts = told.is_of_any() && items.into_iter().any(is_bolt);
            if self.takes_all_pieces(&told) {
                told.of_all_pieces();
            }
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

    /// The last lines of the stage, among which a torque looks for its joint.
    fn near(&self) -> &[Asked] {
        &self.asked[self.asked.len().saturating_sub(MOST_NEAR)..]
    }

    /// True where the pieces that a torque counts are those of several joints together: `Tighten all 12 bolts`.
    fn takes_all_pieces(&self, told: &ToldTorque) -> bool {
        let all = || self.near().iter().filter(|one| takes(told, one));
        let of_kind = all().filter(|one| {
            let callout = one.callout.as_ref();
            callout.is_ok_and(|callout| told.names_by_kind(&callout.item))
        });
        told.pieces().is_some()
            && !all().any(|one| names(told, one))
            && of_kind.map(listed::pieces).sum::<Option<u64>>() == told.pieces()
    }

    /// Gives several torques that are said of joints in turn to those that have none yet, where there are as many; else
    /// asks. False where they are not said so.
    fn tell_in_turn(&mut self, all: &[ToldTorque]) -> bool {
        let [first, .., last] = all else { return false };
        let Some(turn) = first.in_turn().filter(|_| is_figure(&first.torque)) else {
            return false;
        };
        let from = self.asked.len().saturating_sub(MOST_NEAR);
        let joints = self.asked[from..].chunk_by_mut(|a, b| a.row == b.row && a.text == b.text);
        let is_open = |one: &Asked| is_untold(first, one) && takes(last, one);
        let mut open: Vec<&mut [Asked]> =
            joints.filter(|joint| joint.iter().any(is_open)).collect();
        if turn == Turn::Backward {
            open.reverse();
        }
        let as_many = open.len() == all.len();
        for (i, joint) in open.iter_mut().enumerate() {
            match as_many {
                true => give(&all[i], joint),
                false => ask(first, joint),
            }
        }
        !open.is_empty()
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
            true if !reaches_back && told.of_both => end.saturating_sub(MOST_NEAR),
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
    /// that one's paragraph, and of any of them in a paragraph of its own, where all of them were left loose, or where all
    /// is done.
    fn is_open(&self, told: &ToldTorque) -> bool {
        let joints = self
            .near()
            .chunk_by(|a, b| a.row == b.row && a.text == b.text);
        let untold = |one: &Asked| is_untold(told, one);
        let open = joints.filter(|joint| joint.iter().any(untold));
        let own = self.asked.len() > self.paragraph_from;
        if own && !told.of_both {
            return open.filter(|joint| is_left_loose(&joint[0])).count() > 1;
        }
        match told.of_both {
            true => open.count() != 2,
            false => open.count() > 1,
        }
    }

    /// The words by which a torque names its joint, without those that its stage is called by.
    fn joint_words(&self, told: &ToldTorque) -> Vec<String> {
        let title: Vec<String> = words(&self.title).collect();
        let tells = told.place.iter().filter(|word| !title.contains(word));
        let mut all: Vec<String> = tells.cloned().collect();
        // What tells one joint from another: `base and top`.
        let joints = self
            .near()
            .chunk_by(|a, b| a.row == b.row && a.text == b.text);
        let places: Vec<Whereabouts> = joints
            .map(|joint| Whereabouts::of(&joint[0].text).without(&self.title))
            .collect();
        for word in told.object.iter().filter(|word| !told.place.contains(word)) {
            let there = places.iter().filter(|place| place.names(word)).count();
            if (1..places.len()).contains(&there) {
                all.push(word.clone());
            }
        }
        all
    }

    /// The one joint among the last ones that a torque names, or those that it names one by one.
    fn look_for_joint(&mut self, told: &ToldTorque, by_place: &[String]) -> bool {
        let from = self.asked.len().saturating_sub(MOST_NEAR);
        let joints = self.asked[from..].chunk_by_mut(|a, b| a.row == b.row && a.text == b.text);
        let names = |one: &Asked| names(told, one);
        // `Torque the rest to 40 N·m.`
        let rest = |word: &String| ["rest", "remaining", "other"].contains(&&**word);
        let is_rest = by_place.iter().any(rest);
        let by_place: Vec<&String> = by_place.iter().filter(|word| !rest(word)).collect();
        let is_of = |one: &Asked| names(one) && (!is_rest || is_untold(told, one));
        let mut of_kind: Vec<&mut [Asked]> =
            joints.filter(|joint| joint.iter().any(is_of)).collect();
        let texts: Vec<Vec<String>> = of_kind
            .iter()
            .map(|joint| words(&joint[0].text).collect())
            .collect();
        let named_by = |word: &&String| {
            let named = (0..texts.len()).filter(|&at| texts[at].contains(*word));
            named.collect::<Vec<usize>>()
        };
        let by_word: Vec<Vec<usize>> = by_place.iter().map(named_by).collect();
        let by_all = |at: &usize| by_word.iter().all(|named| named.contains(at));
        let placed: Vec<usize> = (0..texts.len()).filter(by_all).collect();
        let one_by_one = by_word.iter().all(|named| named.len() == 1);
        let told_apart: Vec<usize> = match (&*placed, one_by_one) {
            ([_], _) => placed.clone(),
            ([], true) => by_word.concat(),
            // `Tighten both rails to 20 N·m.`
            (all, _) if !by_place.is_empty() && told.is_of_each(all.len()) => placed.clone(),
            _ => Vec::new(),
        };
        let sure = from == 0 && !told_apart.is_empty();
        for (at, joint) in of_kind.iter_mut().enumerate() {
            match sure {
                true if told_apart.contains(&at) => give(told, joint),
                false if placed.is_empty() || placed.contains(&at) => ask(told, joint),
                _ => {}
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

/// Asks whether a torque is for the pieces of a joint that would take it.
fn ask(told: &ToldTorque, joint: &mut [Asked]) {
    for asked in joint.iter_mut().filter(|one| takes(told, one)) {
        asked.doubts.push(may_be_for(told));
    }
}

/// True for a line that a torque names and that has none yet, or one on the way to it.
fn is_untold(told: &ToldTorque, asked: &Asked) -> bool {
    let open = asked.torque.as_ref();
    open.is_none_or(|stated| is_on_the_way(stated, &told.torque)) && names(told, asked)
}

/// True where a joint is not done yet: `Fit four bolts loosely.`
fn is_left_loose(asked: &Asked) -> bool {
    let on_the_way = |torque: &String| !is_figure(torque);
    let loose = ["loose", "loosely", "later", "yet"];
    asked.torque.as_ref().is_some_and(on_the_way)
        || words(&asked.text).any(|word| loose.contains(&&*word))
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

pub(super) fn words(text: &str) -> impl Iterator<Item = String> + '_ {
    let words = text.split(|c: char| !c.is_alphanumeric() && c != '-');
    words.filter(|word| !word.is_empty()).map(stem)
}

/// True for a torque by which a joint is done; `hand tight` is one on the way to it.
fn is_figure(torque: &str) -> bool {
    torque.contains("turn") || torque.contains(|c: char| c.is_ascii_digit())
}

/// The torque of each new item of a sentence, where it names any: one for all of a joint, or each behind its items or in
/// front of them; what is to be asked where that is open. `known`: what else stands in it.
pub(super) fn torques_of(
    said: &Sentence,
    new: &[(Call, Option<Doubt>)],
    known: &[Call],
) -> Result<Vec<Option<String>>, Doubt> {
    let torques = said.torques.as_slice();
    let of_all = |torque: &String| vec![Some(torque.clone()); new.len()];
    let items = new.iter().map(|(call, _)| call).chain(known);
    let all: Vec<usize> = items.map(|call| call.at.start).collect();
    let behind = |item: usize| torques.iter().position(|(at, _)| *at > item);
    let before = |item: usize| torques.iter().rposition(|(at, _)| *at < item);
    let of_each = |one: &dyn Fn(usize) -> Option<usize>| {
        let of: Option<Vec<usize>> = all.iter().map(|item| one(*item)).collect();
        of.filter(|of| (0..torques.len()).all(|torque| of.contains(&torque)))
    };
    let mut figures = torques.iter().filter(|(_, torque)| is_figure(torque));
    match (torques, figures.next(), figures.next()) {
        ([], ..) => Ok(Vec::new()),
        ([(at, torque)], Some(_), _) => of_one_joint(&said.text, *at, torque, new),
        ([(_, torque)], ..) => Ok(of_all(torque)),
        (_, figure, more) => match (of_each(&behind).or_else(|| of_each(&before)), figure) {
            (Some(of), _) => {
                let of = of.iter().take(new.len());
                Ok(of.map(|of| Some(torques[*of].1.clone())).collect())
            }
            // `hand tight, then to 45 ft-lb`
            (None, Some((_, torque))) if more.is_none() => Ok(of_all(torque)),
            (None, _) => {
                let said = "more than one torque in the sentence: none was taken";
                Err(Doubt::Said(said.into()))
            }
        },
    }
}

/// The one torque of a sentence is of all its items, unless their bolts differ in diameter: then it is of those right in
/// front of it, where others stand behind or it stands in brackets: `fix the base with six M10 x 50 bolts (45 N·m) and
/// the cap with four M6 x 20 screws`. Common practice, no source.
fn of_one_joint(
    text: &str,
    at: usize,
    torque: &str,
    new: &[(Call, Option<Doubt>)],
) -> Result<Vec<Option<String>>, Doubt> {
    let size = |(call, _): &(Call, _)| call.callout.item.diameter;
    let is_long = |(call, _): &&(Call, _)| call.callout.item.kind.is_some_and(Kind::is_long);
    let long = new.iter().filter(is_long);
    let mut sizes: Vec<Diameter> = long.filter_map(size).collect();
    sizes.dedup();
    let last = new.iter().rposition(|(call, _)| call.at.end <= at);
    let between = last.and_then(|last| text.get(new[last].0.at.end..at));
    let between = between.unwrap_or_default();
    let more = new.iter().any(|(call, _)| call.at.start > at);
    let of_every = ["all", "each", "every", "everything", "both"];
    let mut said = words(between);
    let is_of_all = sizes.len() < 2 || (!more && said.any(|word| of_every.contains(&&*word)));
    let in_brackets = between.contains('(') && !between.contains(')');
    let joint = last
        .filter(|_| more || in_brackets)
        .and_then(|last| size(&new[last]));
    match joint {
        _ if is_of_all => Ok(vec![Some(torque.to_owned()); new.len()]),
        Some(joint) => {
            let of = |one| (size(one) == Some(joint)).then(|| torque.to_owned());
            Ok(new.iter().map(of).collect())
        }
        None => {
            let said = format!("{torque} may be of some of its bolts alone: none was taken");
            Err(Doubt::Said(said.into()))
        }
    }
}
