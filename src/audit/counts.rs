//! Nuts and washers against the fasteners of a joint: a score and a question, never a verdict.
//!
//! A bolt has no nut (a tapped hole), one, or two (a jam nut); a rod up to four; a U-bolt two. A
//! fastener has no flat washer, one or two, a rod up to four. Common practice, no source. A count that
//! some choice of these explains, line by line, is sound.

use crate::words::{count, fold};
use indexmap::IndexMap;
use rustc_hash::FxHashSet;

use super::{
    AuditFinding, Question, Weight,
    joint::{Duty, Joint, Member, gather, takes_nut},
};
use crate::hardware::{Kind, Style};

/// More lines or sums than these are not looked at: nearly any count is explained then.
const MOST_LINES: usize = 24;
const MOST_SUMS: usize = 512;

/// How many nuts a piece may have.
fn nuts_of(member: &Member<'_>) -> &'static [u64] {
    let item = member.item;
    if !takes_nut(item) {
        return &[0];
    }
    if member.is_carried_over() {
        return &[0, 1, 2];
    }
    match (item.kind, item.style) {
        (Some(Kind::Bolt), Some(Style::U)) => &[2, 4],
        // Held by its square: nothing but a nut can close it.
        (Some(Kind::Bolt), Some(Style::Carriage | Style::Plow | Style::Elevator)) => &[1, 2],
        (Some(Kind::Bolt), _) => &[0, 1, 2],
        (Some(Kind::Rod), _) => &[0, 1, 2, 3, 4],
        (Some(Kind::Anchor), _) => &[0, 1, 2, 3],
        _ => &[0, 1],
    }
}

/// How many flat washers a piece may have.
fn washers_of(member: &Member<'_>) -> &'static [u64] {
    match (member.item.kind, member.item.style) {
        (Some(Kind::Bolt), Some(Style::U)) => &[0, 2, 4],
        (Some(Kind::Rod), _) => &[0, 1, 2, 3, 4],
        _ => &[0, 1, 2],
    }
}

/// Nuts that a piece has as a rule.
fn usual_nuts(member: &Member<'_>) -> u64 {
    match (member.item.kind, member.item.style) {
        _ if member.is_carried_over() || !takes_nut(member.item) => 0,
        (Some(Kind::Bolt), Some(Style::U)) => 2,
        (Some(Kind::Bolt), _) => 1,
        _ => 0,
    }
}

/// The sum of a duty's pieces; `None` where a line states none. What was brought earlier is not counted.
fn sum(joint: &Joint<'_>, duty: Duty) -> Option<u64> {
    joint
        .with(duty)
        .filter(|m| !m.is_carried_over())
        .try_fold(0u64, |sum, m| sum.checked_add(m.pieces?))
}

/// True where so many each of the lines' pieces come to `target`.
fn explains(lines: &[(u64, &[u64])], target: u64) -> bool {
    if lines.len() > MOST_LINES {
        return true;
    }
    let mut sums = FxHashSet::from_iter([0u64]);
    for (pieces, each) in lines {
        let mut next = FxHashSet::default();
        for sum in &sums {
            for each in *each {
                let more = each.checked_mul(*pieces).and_then(|m| sum.checked_add(m));
                next.extend(more.filter(|sum| *sum <= target));
            }
        }
        if next.len() > MOST_SUMS {
            return true;
        }
        sums = next;
    }
    sums.contains(&target)
}

/// True where each bolt of all the joints of a stage and size has its usual nut: a difference between
/// places then evens out.
pub fn evens_out(joints: &[Joint<'_>]) -> bool {
    let nuts = joints
        .iter()
        .try_fold(0u64, |all, j| all.checked_add(sum(j, Duty::Nut)?));
    let wanted = joints
        .iter()
        .flat_map(|j| j.with(Duty::Fastener))
        .try_fold(0u64, |all, m| {
            all.checked_add(m.pieces?.checked_mul(usual_nuts(m))?)
        });
    nuts.is_some() && nuts == wanted
}

/// What the counts of a joint ask.
pub fn questions(joint: &Joint<'_>, evens_out: bool, found: &mut Vec<AuditFinding>) {
    if joint.has(Duty::Unknown) {
        return;
    }
    let fasteners: Vec<(&Member<'_>, u64)> = joint
        .with(Duty::Fastener)
        .filter_map(|m| Some((m, m.pieces?)))
        .collect();
    if fasteners.is_empty() || fasteners.len() < joint.with(Duty::Fastener).count() {
        return;
    }
    let holding: u64 = fasteners
        .iter()
        .filter(|(m, _)| !m.is_carried_over())
        .fold(0, |sum, (_, pieces)| sum.saturating_add(*pieces));
    if holding == 0 {
        return;
    }
    if !evens_out {
        nuts(joint, &fasteners, found);
    }
    washers(joint, &fasteners, holding, found);
}

fn explained(
    fasteners: &[(&Member<'_>, u64)],
    each: fn(&Member<'_>) -> &'static [u64],
    target: u64,
) -> bool {
    let lines: Vec<(u64, &[u64])> = fasteners.iter().map(|(m, n)| (*n, each(m))).collect();
    explains(&lines, target)
}

fn nuts(joint: &Joint<'_>, fasteners: &[(&Member<'_>, u64)], found: &mut Vec<AuditFinding>) {
    let Some(nuts) = sum(joint, Duty::Nut) else {
        return;
    };
    // Nuts that belong to parts, and joints that only have levelling nuts, say nothing of bolts.
    if nuts == 0 && joint.has(Duty::OtherNut) || explained(fasteners, nuts_of, nuts) {
        return;
    }
    let through: Vec<(&Member<'_>, u64)> = fasteners
        .iter()
        .copied()
        .filter(|(m, _)| takes_nut(m.item) && !m.is_carried_over())
        .collect();
    let wanted = through.iter().fold(0u64, |sum, (m, n)| {
        sum.saturating_add(n.saturating_mul(usual_nuts(m)))
    });
    let all = through
        .iter()
        .fold(0u64, |sum, (_, n)| sum.saturating_add(*n));
    let noun = match through.iter().all(|(m, _)| m.item.kind == Some(Kind::Bolt)) {
        true => "bolt",
        false => "fastener",
    };
    let size = joint.diameter;
    let question = match nuts {
        0 => format!("What closes the {}?", count(all, noun)),
        _ if nuts < wanted => format!(
            "Are {} missing from the list, or do so many bolts go into tapped holes?",
            count(wanted - nuts, "nut")
        ),
        _ => "Are some of the nuts second nuts, or spare?".to_owned(),
    };
    let weight = match nuts < wanted && nuts > 0 && noun == "bolt" {
        true => Weight::Strong,
        false => Weight::Weak,
    };
    found.push(AuditFinding {
        weight,
        ..AuditFinding::of(
            joint,
            Question::Nuts,
            format!(
                "{} {size} and {} {size}",
                count(all, noun),
                count(nuts, "nut")
            ),
            question,
            gather(through.iter().map(|(m, _)| *m).chain(joint.with(Duty::Nut))),
        )
    });
}

fn washers(
    joint: &Joint<'_>,
    fasteners: &[(&Member<'_>, u64)],
    holding: u64,
    found: &mut Vec<AuditFinding>,
) {
    for (duty, noun) in [
        (Duty::Washer, "flat washer"),
        (Duty::LockWasher, "lock washer"),
    ] {
        let Some(washers) = sum(joint, duty) else {
            continue;
        };
        // More, in whole numbers to each, are a stack that serves as a spacer.
        if washers.is_multiple_of(holding) || explained(fasteners, washers_of, washers) {
            continue;
        }
        let nuts = sum(joint, Duty::Nut).unwrap_or(0);
        if washers == nuts || nuts > 0 && washers == holding.saturating_add(nuts) {
            continue;
        }
        let size = joint.diameter;
        found.push(AuditFinding::of(
            joint,
            Question::Washers,
            format!(
                "{} {size} and {} {size}",
                count(holding, "fastener"),
                count(washers, noun)
            ),
            "Do some have fewer washers than others, or is a count wrong?",
            gather(joint.with(Duty::Fastener).chain(joint.with(duty))),
        ));
    }
}

/// Bolts of one diameter that have no nut, and nuts of another that have no bolt, as many of each, in one
/// place or in a stage that names none: one joint, perhaps, and one of the diameters is wrong. Where
/// several are without, nobody can tell which belong together.
pub fn diameters<'j>(joints: impl Iterator<Item = &'j Joint<'j>>, found: &mut Vec<AuditFinding>) {
    let mut places: IndexMap<(String, String), Vec<&Joint<'_>>> = IndexMap::new();
    for joint in joints {
        let key = (fold(joint.stage), fold(joint.place()));
        places.entry(key).or_default().push(joint);
    }
    for ((_, place), joints) in places {
        let open = |joint: &Joint<'_>| joint.has(Duty::Unknown) || joint.has(Duty::OtherNut);
        let bolts: Vec<(&Joint<'_>, u64)> = joints
            .iter()
            .filter(|joint| !open(joint) && !joint.has(Duty::Nut))
            .filter_map(|joint| Some((*joint, bolts_of(joint)?)))
            .collect();
        let nuts: Vec<(&Joint<'_>, u64)> = joints
            .iter()
            .filter(|joint| !open(joint) && !joint.has(Duty::Fastener))
            .filter_map(|joint| Some((*joint, sum(joint, Duty::Nut).filter(|n| *n > 0)?)))
            .collect();
        let (&[(of_bolts, bolts)], &[(of_nuts, nuts)]) = (bolts.as_slice(), nuts.as_slice()) else {
            continue;
        };
        if bolts != nuts {
            continue;
        }
        // What closes the bolts is asked here.
        found.retain(|f| {
            (f.what, &*f.stage, &*f.place, f.diameter)
                != (
                    Question::Nuts,
                    of_bolts.stage,
                    of_bolts.place(),
                    Some(of_bolts.diameter),
                )
        });
        found.push(AuditFinding {
            weight: match place.is_empty() {
                true => Weight::Weak,
                false => Weight::Strong,
            },
            ..AuditFinding::of(
                of_bolts,
                Question::Diameters,
                format!(
                    "{} {} without nuts and {} {} without bolts",
                    count(bolts, "bolt"),
                    of_bolts.diameter,
                    count(nuts, "nut"),
                    of_nuts.diameter
                ),
                "Do they belong together, and which of the two diameters is meant?",
                gather(of_bolts.members.iter().chain(of_nuts.with(Duty::Nut))),
            )
        });
    }
}

/// The new through bolts of a joint that holds nothing else; `None` where a line states no pieces.
fn bolts_of(joint: &Joint<'_>) -> Option<u64> {
    let mut fasteners = joint.with(Duty::Fastener).peekable();
    fasteners.peek()?;
    fasteners.try_fold(0u64, |sum, m| {
        let bolt = m.item.kind == Some(Kind::Bolt) && !m.is_carried_over();
        sum.checked_add(m.pieces.filter(|_| bolt)?)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_are_explained() {
        let bolt: &[u64] = &[0, 1, 2];
        assert!(explains(&[(40, bolt)], 40));
        assert!(explains(&[(40, bolt)], 80));
        assert!(!explains(&[(40, bolt)], 32));
        assert!(explains(&[(24, bolt), (8, bolt)], 24));
        assert!(!explains(&[(24, bolt), (9, bolt)], 25));
        assert!(explains(&[(4, &[0, 1, 2, 3, 4])], 16));
        assert!(!explains(&[(24, &[1, 2])], 0));
        assert!(!explains(&[(u64::MAX, &[1, 2])], 7));
    }
}
