//! The list audited: what a person who has done this for years sees in the required lists at once,
//! whatever was shipped.
//!
//! Each finding is a question to the kit maker, with a weight and the rows it rests on; none changes a
//! figure. Joints have many exceptions (tapped holes, levelling nuts, spacers), so a count that some
//! ordinary joint explains asks nothing: what is asked should be worth a person's time.

mod counts;
mod joint;
mod length;
mod matching;
#[cfg(test)]
mod tests;
mod torque;

use std::borrow::Cow;

use rayon::prelude::*;
use rustc_hash::FxHashSet;
use serde::Serialize;

use crate::{
    hardware::Diameter,
    kit::{Job, List},
    names::names,
    settle::Evidence,
};
use joint::Sizes;
pub use joint::{Duty, Joint, Member, joints, takes_nut};
use torque::CalledTorques;
pub use torque::{LubricatedStages, TorqueCheck, check as check_torque};

names! {
    /// What is asked about.
    pub enum Question {
        Nuts = "nuts against bolts",
        Washers = "washers against bolts",
        LockNuts = "lock nuts on some",
        NoTorque = "torque on some",
        TorqueHigh = "torque too high",
        TorqueLow = "torque too low",
        TorqueUnread = "torque not understood",
        Mismatch = "pieces that do not match",
        TooShort = "too short",
        OddLength = "no stock length",
        Diameters = "bolts and nuts of different diameters",
    }
}

names! {
    /// How much speaks for an error in the list.
    pub enum Weight {
        /// No ordinary joint explains it.
        Strong = "strong",
        Weak = "weak",
    }
}

/// Something in the required lists that the kit maker should be asked about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AuditFinding {
    /// As the list names it; empty where it names none.
    pub stage: String,
    /// Empty where the joint is not at one named place.
    pub place: String,
    pub diameter: Option<Diameter>,
    pub what: Question,
    pub weight: Weight,
    /// What the list says, in one clause.
    pub found: String,
    /// What to ask.
    pub question: Cow<'static, str>,
    pub evidence: Vec<Evidence>,
}

impl AuditFinding {
    /// A finding of little weight about a joint.
    fn of(
        joint: &Joint<'_>,
        what: Question,
        found: String,
        question: impl Into<Cow<'static, str>>,
        evidence: Vec<Evidence>,
    ) -> AuditFinding {
        AuditFinding {
            stage: joint.stage.to_owned(),
            place: joint.place().to_owned(),
            diameter: Some(joint.diameter),
            what,
            weight: Weight::Weak,
            found,
            question: question.into(),
            evidence,
        }
    }
}

/// What was found about the lists, those of strong weight first, then in the order of the lists, then
/// what is asked of an item or of several sizes at once.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Audit {
    pub findings: Vec<AuditFinding>,
}

/// How many findings there are of each weight.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Tally {
    pub strong: u64,
    pub weak: u64,
}

impl Audit {
    pub fn tally(&self) -> Tally {
        let of = |weight| self.findings.iter().filter(|f| f.weight == weight).count() as u64;
        Tally {
            strong: of(Weight::Strong),
            weak: of(Weight::Weak),
        }
    }
}

/// Different lines of one stage and size beyond which nothing is asked: they are no joints of one kit
/// but a stock list, and each would be held against each.
const MOST_MEMBERS: usize = 100;

/// Audits the required lists of a job; one kit is looked at, however many are wanted.
pub fn audit(job: &Job, lists: &[List]) -> Audit {
    let lubricated = LubricatedStages::of(job, lists);
    let called = CalledTorques::of(lists);
    let sizes = Sizes::of(job, lists);
    let all: Vec<(usize, u32)> = sizes.each().collect();
    let asked: Vec<_> = all
        .into_par_iter()
        .map(|(size, stage)| {
            let joints = sizes.joints(size, MOST_MEMBERS);
            let asked = joints.map(|joints| (questions(&joints, &lubricated, &called), joints));
            (stage, asked)
        })
        .collect();
    let found = asked
        .iter()
        .filter_map(|(_, asked)| Some(asked.as_ref()?.0.len()));
    let mut findings = Vec::with_capacity(found.sum());
    let mut of_kits: Vec<(u32, Vec<Joint<'_>>)> = Vec::new();
    let mut stocked: FxHashSet<u32> = FxHashSet::default();
    for (stage, asked) in asked {
        match asked {
            Some((questions, joints)) => {
                findings.extend(questions);
                of_kits.push((stage, joints));
            }
            None => drop(stocked.insert(stage)),
        }
    }
    length::odd_lengths(of_kits.iter().flat_map(|(_, joints)| joints), &mut findings);
    // Sizes are held against each other only in stages of which all were asked about.
    of_kits.retain(|(stage, _)| !stocked.contains(stage));
    counts::diameters(of_kits.iter().flat_map(|(_, joints)| joints), &mut findings);
    findings.sort_by_key(|finding| finding.weight);
    Audit { findings }
}

/// What the joints of one stage and size ask.
fn questions(
    joints: &[Joint<'_>],
    lubricated: &LubricatedStages,
    called: &CalledTorques<'_>,
) -> Vec<AuditFinding> {
    let mut findings = Vec::new();
    let evens_out = counts::evens_out(joints);
    for joint in joints {
        counts::questions(joint, evens_out, &mut findings);
        matching::questions(joint, &mut findings);
        torque::questions(joint, lubricated.has(joint.stage), called, &mut findings);
        length::questions(joint, &mut findings);
    }
    torque::some_and_not_others(joints, &mut findings);
    findings
}
