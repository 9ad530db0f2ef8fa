//! What a sentence tells of hardware that is there: its torque, and what becomes of it.

use super::{
    Guide,
    usage::{KEEPS, kept_or_not},
};
use crate::{
    Doubt,
    kit::Usage,
    notation::{Call, Sentence},
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
    pub(super) fn tell_torques(&mut self, said: &Sentence, known: &[Call], text: &str) {
        for (at, torque) in &said.torques {
            let named = known
                .iter()
                .rev()
                .find(|call| call.at.start < *at)
                .or_else(|| known.first())
                .map(|call| &call.callout);
            // A size or a sweep over all reaches back to the start of the stage.
            let sized = named.filter(|callout| callout.item.diameter.is_some());
            let from = if sized.is_some() { 0 } else { self.joint };
            for asked in self.asked.iter_mut().skip(from) {
                let Ok(callout) = &asked.callout else {
                    continue;
                };
                if sized.is_some_and(|named| named.item.diameter != callout.item.diameter) {
                    continue;
                }
                match &asked.torque {
                    Some(stated) if stated != torque => asked.doubts.push(Doubt::Said(
                        format!("the torque is {stated}, and {torque} in \"{text}\"").into(),
                    )),
                    _ => asked.torque = Some(torque.clone()),
                }
            }
        }
    }
}
