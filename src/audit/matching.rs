//! Pieces of a joint that do not go together: thread, finish, material, strength.

use super::{
    AuditFinding, Question, Weight,
    joint::{Duty, Joint, Member, gather, takes_nut},
};
use crate::hardware::{Finish, Grade, Item, Kind, Material, Style, Unit};

/// Strength ranks within one family of grades: a nut of a lower rank than its bolt governs the joint.
/// SAE J429 with J995, ISO 898-1 with ISO 898-2; lists write "8" or "Grade 8" for the metric nut class.
const RANKS: &[(Grade, Unit, u8)] = &[
    (Grade::Grade2, Unit::Inch, 2),
    (Grade::Grade5, Unit::Inch, 5),
    (Grade::Grade8, Unit::Inch, 8),
    (Grade::Class46, Unit::Millimetre, 4),
    (Grade::Class48, Unit::Millimetre, 4),
    (Grade::Class56, Unit::Millimetre, 5),
    (Grade::Class58, Unit::Millimetre, 5),
    (Grade::Class68, Unit::Millimetre, 6),
    (Grade::Class88, Unit::Millimetre, 8),
    (Grade::Class109, Unit::Millimetre, 10),
    (Grade::Class129, Unit::Millimetre, 12),
    (Grade::Class5, Unit::Millimetre, 5),
    (Grade::Class6, Unit::Millimetre, 6),
    (Grade::Class8, Unit::Millimetre, 8),
    (Grade::Class10, Unit::Millimetre, 10),
    (Grade::Class12, Unit::Millimetre, 12),
    (Grade::Grade8, Unit::Millimetre, 8),
    (Grade::Grade5, Unit::Millimetre, 5),
];

fn rank(item: &Item) -> Option<u8> {
    let unit = item.diameter?.unit();
    let grade = item.grade?;
    let row = RANKS.iter().find(|(g, u, _)| *g == grade && *u == unit)?;
    Some(row.2)
}

fn is_galvanised(finish: Finish) -> bool {
    matches!(
        finish,
        Finish::HotDip | Finish::Galvanised | Finish::MechanicalGalvanised
    )
}

/// Stainless, or not, as far as grade or finish say.
fn is_stainless(item: &Item) -> Option<bool> {
    if let Some(grade) = item.grade {
        return Some(matches!(
            grade.material(),
            Material::Stainless
                | Material::Stainless18_8
                | Material::Stainless316
                | Material::Stainless410
        ));
    }
    let finish = item.finish?;
    (is_galvanised(finish) || matches!(finish, Finish::Zinc | Finish::YellowZinc)).then_some(false)
}

/// Why a nut does not go on a fastener, with what to ask.
fn mismatch(bolt: &Item, nut: &Item) -> Option<(String, &'static str, Weight)> {
    if let (Some(of_bolt), Some(of_nut)) = (bolt.effective_thread(), nut.effective_thread())
        && of_bolt != of_nut
    {
        return Some((
            format!("{bolt} with {nut}: the threads differ"),
            "Which of the two threads is meant?",
            Weight::Strong,
        ));
    }
    if let (Some(of_bolt), Some(of_nut)) = (is_stainless(bolt), is_stainless(nut))
        && of_bolt != of_nut
    {
        return Some((
            format!("{bolt} with {nut}: stainless on other steel"),
            "Are both meant to be of one material?",
            Weight::Weak,
        ));
    }
    if let (Some(of_bolt), Some(of_nut)) = (bolt.finish, nut.finish)
        && is_galvanised(of_bolt) != is_galvanised(of_nut)
    {
        return Some((
            format!(
                "{bolt} with {nut}: a galvanised thread is thicker, and its nut is tapped over size"
            ),
            "Which finish is meant?",
            Weight::Strong,
        ));
    }
    if let (Some(of_bolt), Some(of_nut)) = (rank(bolt), rank(nut))
        && of_nut < of_bolt
    {
        return Some((
            format!("{bolt} with {nut}: the nut is of a lower grade, and governs the joint"),
            "Is a nut of the bolt's grade meant?",
            Weight::Weak,
        ));
    }
    None
}

/// What the pieces of a joint ask. A nut that goes with one of the fasteners is sound; where none
/// fits, the first is named.
pub fn questions(joint: &Joint<'_>, found: &mut Vec<AuditFinding>) {
    let bolts: Vec<&Member<'_>> = joint
        .with(Duty::Fastener)
        .filter(|m| takes_nut(m.item) && m.item.kind != Some(Kind::Anchor))
        .collect();
    let nuts = joint.with(Duty::Nut).filter(|m| {
        // A cap or wing nut of another finish is there for its looks or its use.
        !matches!(m.item.style, Some(Style::Cap | Style::Wing))
    });
    let mut said: Vec<(String, Weight)> = Vec::new();
    for nut in nuts {
        let pairs: Vec<_> = bolts
            .iter()
            .map(|bolt| (*bolt, mismatch(bolt.item, nut.item)))
            .collect();
        if pairs.iter().any(|(_, mismatch)| mismatch.is_none()) {
            continue;
        }
        let Some((bolt, Some((text, question, weight)))) = pairs.into_iter().next() else {
            continue;
        };
        if said.contains(&(text.clone(), weight)) {
            continue;
        }
        said.push((text.clone(), weight));
        found.push(AuditFinding {
            weight,
            ..AuditFinding::of(
                joint,
                Question::Mismatch,
                text,
                question,
                gather([bolt, nut]),
            )
        });
    }
}
