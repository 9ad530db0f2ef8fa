//! Called torques: too much for the bolt, too little for the nut, on some joints and not on others,
//! not understood. A doubt, never a change: the kit maker's figure rules.

use std::borrow::Cow;

use rustc_hash::{FxHashMap, FxHashSet};

use super::{
    AuditFinding, Question, Weight,
    joint::{Duty, Joint, Member, gather},
};
use crate::{
    hardware::{
        Diameter, Grade, Item, Kind, Style, Thread, Unit,
        torque::{DRY, LUBRICATED, Torque, ceiling, prevailing_torque, tightening},
    },
    kit::{Job, List, Role, Usage},
    notation::torque::{Called, TorqueUnit, read},
    words::fold,
};

/// Charts round, and a list rounds again.
const ROUNDING: f64 = 1.05;
/// Under this part of what the bolt takes, in-lb may stand for ft-lb (common practice, no source).
const FAINT: f64 = 0.15;
/// A figure from here up to all that a bolt takes is a usual one (common practice, no source).
const USUAL: f64 = 0.3;

/// Words of a consumable that makes threads slip.
const LUBRICANTS: [&str; 6] = [
    "anti-seize",
    "antiseize",
    "anti seize",
    "lubric",
    "grease",
    "wax",
];

/// Stages in which the list names a thread lubricant.
pub struct LubricatedStages {
    stages: FxHashSet<String>,
    all: bool,
}

impl LubricatedStages {
    pub fn of(job: &Job, lists: &[List]) -> LubricatedStages {
        let mut found = LubricatedStages {
            stages: FxHashSet::default(),
            all: false,
        };
        for list in lists.iter().filter(|list| list.role == Role::Required) {
            let names_lubricant: Vec<bool> = list
                .readings
                .iter()
                .map(|reading| reading.item.part.as_deref().is_some_and(is_lubricant))
                .collect();
            if !names_lubricant.contains(&true) {
                continue;
            }
            for line in &list.lines {
                let placement = list.placement_of(line);
                let built = placement.option.as_ref().is_none_or(|o| o.holds(&job.with));
                let named = matches!(line.what, crate::kit::What::Item(reading)
                    if names_lubricant[reading as usize]);
                if named && built && placement.usage != Some(Usage::Reference) {
                    match placement.stage.as_deref() {
                        Some(stage) => drop(found.stages.insert(fold(stage))),
                        None => found.all = true,
                    }
                }
            }
        }
        found
    }

    pub fn has(&self, stage: &str) -> bool {
        self.all || (!self.stages.is_empty() && self.stages.contains(&fold(stage)))
    }
}

/// What the required lists call for, by the words: they have few.
pub struct CalledTorques<'a>(FxHashMap<&'a str, Called>);

impl<'a> CalledTorques<'a> {
    pub fn of(lists: &'a [List]) -> CalledTorques<'a> {
        let mut called = FxHashMap::default();
        let required = lists.iter().filter(|list| list.role == Role::Required);
        for placement in required.flat_map(|list| &list.placements) {
            if let Some(written) = placement.torque.as_deref() {
                called.entry(written).or_insert_with(|| read(written));
            }
        }
        CalledTorques(called)
    }

    fn of_text(&self, written: &str) -> &Called {
        &self.0[written]
    }
}

fn is_lubricant(part: &crate::hardware::PartName) -> bool {
    let words = part.description.as_deref().unwrap_or("");
    LUBRICANTS.iter().any(|lubricant| words.contains(lubricant))
}

/// What a called torque is to the piece.
#[derive(Debug, Clone, PartialEq)]
pub enum TorqueCheck {
    /// Within what the stated grade takes.
    Within { grade: Grade },
    /// No grade is stated; the lowest that takes it.
    Needs { grade: Grade },
    /// Above what the stated grade takes, and the grade that would take it, if any.
    Above {
        grade: Option<Grade>,
        takes: Torque,
        needs: Option<Grade>,
    },
    /// No table reaches: lags, stainless, structural bolts, sizes beyond the tables.
    NotChecked,
}

/// The grades that a called torque is held against, weakest first.
fn ladder(unit: Unit) -> [Grade; 3] {
    match unit {
        Unit::Inch => [Grade::Grade2, Grade::Grade5, Grade::Grade8],
        Unit::Millimetre => [Grade::Class48, Grade::Class88, Grade::Class109],
    }
}

/// True where the item has a machine thread, so that the charts are of its kind.
fn is_charted(item: &Item) -> bool {
    match (item.kind, item.style) {
        (Some(Kind::Bolt), Some(Style::HeavyHex)) => false,
        (Some(Kind::Bolt | Kind::Rod), _) => !matches!(item.grade, Some(Grade::A325 | Grade::A490)),
        (Some(Kind::Screw), Some(Style::Socket | Style::Hex | Style::Machine | Style::Pan)) => true,
        _ => false,
    }
}

fn takes(diameter: Diameter, thread: Thread, grade: Grade, k: f64) -> Option<Torque> {
    tightening(diameter, thread, grade, k)
}

/// Holds a called torque against what the bolt takes: its own grade, dry (`k` 0.20) or lubricated
/// (0.15), at 75 % of proof load.
pub fn check(item: &Item, called: Torque, lubricated: bool) -> TorqueCheck {
    let k = if lubricated { LUBRICATED } else { DRY };
    let (true, Some(diameter), Some(thread)) =
        (is_charted(item), item.diameter, item.effective_thread())
    else {
        return TorqueCheck::NotChecked;
    };
    let enough = |limit: Torque| called.0 <= limit.0 * ROUNDING;
    let needs = ladder(diameter.unit())
        .into_iter()
        .find(|&grade| takes(diameter, thread, grade, k).is_some_and(enough));
    let stated = item.grade.zip(ceiling(item, k));
    let [_, middle, highest] = ladder(diameter.unit());
    match (stated, needs) {
        (Some((grade, limit)), _) if enough(limit) => TorqueCheck::Within { grade },
        (Some((grade, takes)), needs) => TorqueCheck::Above {
            grade: Some(grade),
            takes,
            needs,
        },
        // A grade that the charts do not hold may be stronger or weaker; none takes more than this.
        (None, Some(grade)) if item.grade.is_none() => match grade == highest {
            false => TorqueCheck::Needs { grade },
            true => match takes(diameter, thread, middle, k) {
                Some(takes) => TorqueCheck::Above {
                    grade: None,
                    takes,
                    needs: Some(highest),
                },
                None => TorqueCheck::NotChecked,
            },
        },
        (None, Some(_)) => TorqueCheck::NotChecked,
        (None, None) => match takes(diameter, thread, highest, k) {
            Some(takes) => TorqueCheck::Above {
                grade: None,
                takes,
                needs: None,
            },
            None => TorqueCheck::NotChecked,
        },
    }
}

/// A figure for a sentence: two digits.
fn about(value: f64) -> String {
    if value >= 9.95 {
        format!("{value:.0}")
    } else {
        format!("{value:.1}")
    }
}

/// The fastener that a called torque is for: the member itself, or the joint's one fastener where the
/// torque stands beside the nut.
fn fastener<'j, 'a>(joint: &'j Joint<'a>, member: &'j Member<'a>) -> Option<&'j Member<'a>> {
    if member.duty == Duty::Fastener {
        return Some(member);
    }
    let mut all = joint.with(Duty::Fastener);
    match (all.next(), all.next()) {
        (Some(one), None) => Some(one),
        _ => None,
    }
}

/// What the called torques of a joint ask.
pub fn questions(
    joint: &Joint<'_>,
    lubricated: bool,
    torques: &CalledTorques<'_>,
    found: &mut Vec<AuditFinding>,
) {
    for member in &joint.members {
        let Some(written) = member.placement.torque.as_deref() else {
            continue;
        };
        let called = torques.of_text(written);
        let mut ask = |what, weight, text: String, question: Cow<'static, str>| {
            found.push(AuditFinding {
                weight,
                place: member.placement.place.as_deref().unwrap_or("").to_owned(),
                ..AuditFinding::of(joint, what, text, question, gather([member]))
            });
        };
        let Called::Torque {
            unit, disagrees, ..
        } = *called
        else {
            if let Called::Unread(words) = called
                && words.contains(|c: char| c.is_ascii_digit())
            {
                ask(
                    Question::TorqueUnread,
                    Weight::Weak,
                    format!("torque \"{words}\" on {}", member.item),
                    "Which unit is meant?".into(),
                );
            }
            continue;
        };
        if disagrees {
            ask(
                Question::TorqueUnread,
                Weight::Strong,
                format!("torque \"{written}\" on {}", member.item),
                "The two figures are not the same torque: which is meant?".into(),
            );
        }
        let (Some(bolt), Some(most), Some(least)) =
            (fastener(joint, member), called.most(), called.least())
        else {
            continue;
        };
        let words = |torque: Torque, unit: TorqueUnit| format!("{} {unit}", about(unit.of(torque)));
        if let TorqueCheck::Above {
            grade,
            takes,
            needs,
        } = check(bolt.item, most, lubricated)
        {
            let k = match lubricated {
                true => "lubricated",
                false => "dry",
            };
            let limit = match (grade, needs) {
                (Some(grade), _) => format!("{grade} takes about"),
                (None, Some(_)) => format!(
                    "no grade is stated, and {} takes about",
                    ladder(joint.diameter.unit())[1]
                ),
                (None, None) => format!("even {} takes about", ladder(joint.diameter.unit())[2]),
            };
            let as_inch_pounds = match unit {
                TorqueUnit::FootPounds => TorqueUnit::InchPounds.torque(unit.of(most)),
                _ => most,
            };
            let question = match needs {
                _ if as_inch_pounds.0 < most.0 && as_inch_pounds.0 <= takes.0 * ROUNDING => {
                    format!("Is {} in-lb meant?", about(unit.of(most)))
                }
                Some(needs) => format!("Is a {needs} bolt meant, or is the unit wrong?"),
                None => {
                    "Is the unit wrong, or the figure? No bolt of that size takes it.".to_owned()
                }
            };
            ask(
                Question::TorqueHigh,
                match needs {
                    None => Weight::Strong,
                    Some(_) => Weight::Weak,
                },
                format!(
                    "{called} on {}: {limit} {} {k}",
                    bolt.item,
                    words(takes, unit)
                ),
                question.into(),
            );
        } else if let Some(drag) = joint
            .with(Duty::Nut)
            .filter_map(|nut| prevailing_torque(nut.item))
            .find(|drag| least.0 <= drag.0)
        {
            ask(
                Question::TorqueLow,
                Weight::Weak,
                format!(
                    "{called} on {}: its nylon-insert nut may take up to {} to turn at all",
                    bolt.item,
                    words(drag, unit)
                ),
                "Is the drag to be added to the called torque?".into(),
            );
        } else if unit == TorqueUnit::InchPounds
            && is_charted(bolt.item)
            && let (Some(thread), Some(diameter)) =
                (bolt.item.effective_thread(), bolt.item.diameter)
            && let Some(limit) = ceiling(bolt.item, DRY)
                .or_else(|| tightening(diameter, thread, ladder(diameter.unit())[1], DRY))
            && most.0 < limit.0 * FAINT
            && (limit.0 * USUAL..=limit.0 * ROUNDING).contains(&(most.0 * 12.0))
        {
            ask(
                Question::TorqueLow,
                Weight::Weak,
                format!(
                    "{called} on {}, which takes about {}",
                    bolt.item,
                    words(limit, TorqueUnit::FootPounds)
                ),
                format!("Is {} ft-lb meant?", about(unit.of(most))).into(),
            );
        }
    }
}

/// How a joint is held against turning loose, as far as its lines say.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Held {
    Torque,
    LockNut,
    LockWasher,
    Nothing,
}

/// One fastener line of a joint and how its joint is held.
struct Hold<'j, 'a> {
    /// Its joint, and the place of that among all.
    joint: &'j Joint<'a>,
    at: usize,
    member: &'j Member<'a>,
    held: Held,
    lock_nut: bool,
}

fn is_lock(nut: &Member<'_>) -> bool {
    matches!(
        nut.item.style,
        Some(
            Style::NylonInsert
                | Style::NylonInsertFlange
                | Style::NylonInsertJam
                | Style::FlangeLock
                | Style::Lock
                | Style::Castle
        )
    )
}

/// Joints of one stage and size of which some are called with a torque, or closed with lock nuts, and
/// others are not. Only like is held against like: one kind and style of fastener; a lock nut on a
/// joint without a torque, and a torque on one with a plain nut, explain each other.
pub fn some_and_not_others(joints: &[Joint<'_>], found: &mut Vec<AuditFinding>) {
    let holds: Vec<Hold<'_, '_>> = joints
        .iter()
        .enumerate()
        .flat_map(|(at, joint)| {
            let lock_nut = joint.with(Duty::Nut).any(is_lock);
            let on_nut = joint.with(Duty::Nut).any(|m| m.placement.torque.is_some());
            joint.with(Duty::Fastener).map(move |member| Hold {
                joint,
                at,
                member,
                held: match () {
                    () if on_nut || member.placement.torque.is_some() => Held::Torque,
                    () if lock_nut => Held::LockNut,
                    () if joint.has(Duty::LockWasher) => Held::LockWasher,
                    () => Held::Nothing,
                },
                lock_nut,
            })
        })
        .filter(|hold| !hold.member.is_carried_over())
        .collect();
    let alike = |a: &Hold<'_, '_>, b: &Hold<'_, '_>| {
        let (a, b) = (a.member.item, b.member.item);
        a.kind == b.kind && a.style == b.style && a.grade == b.grade
    };
    // One question for the lines of one joint.
    let mut asked = None;
    for bare in &holds {
        if bare.held == Held::Torque || asked == Some(bare.at) {
            continue;
        }
        let with_torque = holds.iter().find(|other| {
            other.held == Held::Torque
                && alike(bare, other)
                && bare.lock_nut == other.lock_nut
                && other.joint.has(Duty::Nut) == bare.joint.has(Duty::Nut)
        });
        let with_lock = holds.iter().find(|other| {
            other.lock_nut
                && alike(bare, other)
                && bare.held == Held::Nothing
                && bare.joint.has(Duty::Nut)
        });
        let (what, other, text, question) = match (with_torque, with_lock) {
            (Some(other), _) => (
                Question::NoTorque,
                other,
                format!(
                    "{} has no torque where {} is called at {}",
                    at_place(bare.member),
                    at_place(other.member),
                    other
                        .member
                        .placement
                        .torque
                        .as_deref()
                        .unwrap_or("a torque")
                ),
                "Is a torque missing, or is this joint only made snug?",
            ),
            (None, Some(other)) => (
                Question::LockNuts,
                other,
                format!(
                    "{} has plain nuts and no torque where {} has lock nuts",
                    at_place(bare.member),
                    at_place(other.member)
                ),
                "Are lock nuts, lock washers or a torque missing?",
            ),
            (None, None) => continue,
        };
        asked = Some(bare.at);
        found.push(AuditFinding::of(
            bare.joint,
            what,
            text,
            question,
            gather([bare.member, other.member]),
        ));
    }
}

fn at_place(member: &Member<'_>) -> String {
    match member.placement.place.as_deref() {
        Some(place) => format!("{} at {place}", member.item),
        None => member.item.to_string(),
    }
}
