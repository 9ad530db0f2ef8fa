//! Tools to bring: wrenches, sockets and keys by size, torque wrenches, and what is not in the kit.

use std::collections::{BTreeMap, BTreeSet};

use crate::{
    audit::{Duty, Joint, joints, takes_nut},
    hardware::{Drive, Kind, Length, Tool, torque::Torque, wrench},
    kit::{Job, List},
    notation::torque::{Called, TorqueUnit, read},
    settle::Account,
};

/// Something to bring.
pub struct ToBring {
    pub tool: String,
    /// With its unit; empty where none is known.
    pub size: String,
    pub at_once: u64,
    /// What it is for.
    pub what: String,
    pub look: String,
}

impl Default for ToBring {
    fn default() -> ToBring {
        ToBring {
            tool: String::new(),
            size: String::new(),
            at_once: 1,
            what: String::new(),
            look: String::new(),
        }
    }
}

/// A torque wrench serves from a fifth of its scale to all of it (common practice, no source).
const LOWEST: f64 = 0.2;

/// What is known of one size of tool.
#[derive(Default)]
struct Need {
    /// Two where head and nut of one joint take the same.
    at_once: u64,
    /// Diameters of what it turns.
    turns: BTreeSet<String>,
    din: Option<Length>,
    torque: bool,
}

/// The tools of all joints, by kind and size.
fn tools(joints: &[Joint<'_>]) -> BTreeMap<(Tool, Length), Need> {
    let mut needs: BTreeMap<(Tool, Length), Need> = BTreeMap::new();
    for joint in joints {
        let mut in_joint: BTreeMap<(Tool, Length), BTreeSet<bool>> = BTreeMap::new();
        let has_rod = joint
            .with(Duty::Fastener)
            .any(|m| m.item.kind == Some(Kind::Rod));
        for member in &joint.members {
            let is_nut = matches!(member.duty, Duty::Nut | Duty::OtherNut);
            if !is_nut && member.duty != Duty::Fastener {
                continue;
            }
            let Some(wrench) = wrench(member.item) else {
                continue;
            };
            let key = (wrench.tool, wrench.size);
            // A head beside a nut must be held; a screw that no nut closes is turned alone.
            if is_nut || takes_nut(member.item) {
                in_joint.entry(key).or_default().insert(is_nut);
            }
            // A rod has no head: one of its nuts is held while another is turned.
            if is_nut && has_rod {
                in_joint.entry(key).or_default().insert(false);
            }
            let need = needs.entry(key).or_default();
            need.at_once = need.at_once.max(1);
            need.din = need.din.or(wrench.din);
            need.turns.insert(format!(
                "{} {}",
                joint.diameter,
                member.item.kind.map_or("piece", Kind::as_str)
            ));
            need.torque |= member.duty == Duty::Fastener && joint.torque_called(member).is_some();
        }
        for (key, sides) in in_joint {
            if sides.len() == 2
                && let Some(need) = needs.get_mut(&key)
            {
                need.at_once = 2;
            }
        }
    }
    needs
}

/// Recesses and slots that the lists name, and what they are in.
fn drivers(joints: &[Joint<'_>]) -> BTreeMap<Drive, BTreeSet<String>> {
    let mut drivers: BTreeMap<Drive, BTreeSet<String>> = BTreeMap::new();
    for (joint, member) in joints
        .iter()
        .flat_map(|j| j.with(Duty::Fastener).map(move |m| (j, m)))
    {
        if let Some(drive) = member.item.drive.filter(|_| wrench(member.item).is_none()) {
            let kind = member.item.kind.map_or("piece", Kind::as_str);
            drivers
                .entry(drive)
                .or_default()
                .insert(format!("{} {kind}", joint.diameter));
        }
    }
    drivers
}

/// Screws for which the lists name no drive and no table gives a wrench.
fn undriven(joints: &[Joint<'_>]) -> BTreeSet<String> {
    joints
        .iter()
        .flat_map(|joint| joint.with(Duty::Fastener))
        .filter(|m| m.item.kind == Some(Kind::Screw))
        .filter(|m| m.item.drive.is_none() && wrench(m.item).is_none())
        .map(|m| m.item.identity().text())
        .collect()
}

/// Torque wrenches: the largest and the smallest torque that each is wanted for. Each serves down to a
/// fifth of its scale.
fn torque_wrenches(mut called: Vec<(Torque, TorqueUnit)>) -> Vec<[(Torque, TorqueUnit); 2]> {
    called.sort_by(|a, b| b.0.0.total_cmp(&a.0.0));
    let mut bands: Vec<[(Torque, TorqueUnit); 2]> = Vec::new();
    for torque in called {
        match bands.last_mut() {
            Some([largest, smallest]) if torque.0.0 >= largest.0.0 * LOWEST => *smallest = torque,
            _ => bands.push([torque, torque]),
        }
    }
    bands
}

/// All the torques that are called.
fn called(joints: &[Joint<'_>]) -> Vec<(Torque, TorqueUnit)> {
    let mut all = Vec::new();
    for member in joints.iter().flat_map(|joint| &joint.members) {
        let Some(called) = member.placement.torque.as_deref().map(read) else {
            continue;
        };
        if let (Called::Torque { unit, .. }, Some(least), Some(most)) =
            (&called, called.least(), called.most())
        {
            all.extend([(least, *unit), (most, *unit)]);
        }
    }
    all
}

fn joined(words: &BTreeSet<String>, between: &str) -> String {
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    words.join(between)
}

/// All that is to be brought, in the order of the sheet.
pub fn to_bring(job: &Job, lists: &[List], account: &Account) -> Vec<ToBring> {
    let joints = joints(job, lists);
    let mut all: Vec<ToBring> = tools(&joints).into_iter().map(turning).collect();
    all.extend(drivers(&joints).into_iter().map(|(drive, what)| ToBring {
        tool: format!("{drive} driver"),
        what: joined(&what, ", "),
        ..ToBring::default()
    }));
    let undriven = undriven(&joints);
    if !undriven.is_empty() {
        all.push(ToBring {
            tool: "driver".to_owned(),
            what: joined(&undriven, "; "),
            look: "the lists do not say what drives them: look at a piece".to_owned(),
            ..ToBring::default()
        });
    }
    all.extend(torque_wrenches(called(&joints)).iter().map(torque_wrench));
    let not_in_kit = account.items.iter().filter(|item| item.to_bring > 0);
    all.extend(not_in_kit.map(|item| ToBring {
        tool: "to bring, not in the kit".to_owned(),
        at_once: item.to_bring,
        what: item.text.clone(),
        look: match item.item.kind {
            Some(Kind::Part) => String::new(),
            _ => "sold separately".to_owned(),
        },
        ..ToBring::default()
    }));
    all
}

/// A wrench or a key.
fn turning(((tool, size), need): ((Tool, Length), Need)) -> ToBring {
    let mut look = Vec::new();
    if need.at_once > 1 {
        look.push("one to hold, one to turn".to_owned());
    }
    if let Some(din) = need.din {
        look.push(format!("pieces made to DIN take {din} mm: bring both"));
    }
    if need.torque {
        look.push("a socket too, for the torque wrench".to_owned());
    }
    let tool = match tool {
        Tool::Wrench => "wrench or socket",
        Tool::HexKey => "hex key",
    };
    ToBring {
        tool: tool.to_owned(),
        size: format!("{size} {}", size.unit().as_str()),
        at_once: need.at_once,
        what: joined(&need.turns, ", "),
        look: look.join("; "),
    }
}

fn torque_wrench([largest, smallest]: &[(Torque, TorqueUnit); 2]) -> ToBring {
    let words = |(torque, unit): &(Torque, TorqueUnit)| {
        let value = unit.of(*torque);
        format!("{} {unit}", (value * 10.0).round() / 10.0)
    };
    let what = match largest == smallest {
        true => format!("{} as called", words(largest)),
        false => format!("{} to {} as called", words(smallest), words(largest)),
    };
    let top = largest.1.of(Torque(smallest.0.0 / LOWEST));
    ToBring {
        tool: "torque wrench".to_owned(),
        what,
        look: format!(
            "scale up to at least {} and at most {top:.0} {}: a torque wrench serves from about 20 to 100 % of its scale (common practice, no source)",
            words(largest),
            largest.1
        ),
        ..ToBring::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(called: &[f64], expected: &[(f64, f64)]) {
        let called = called
            .iter()
            .map(|t| (Torque(*t), TorqueUnit::NewtonMetres))
            .collect();
        let bands: Vec<(f64, f64)> = torque_wrenches(called)
            .iter()
            .map(|[largest, smallest]| (largest.0.0, smallest.0.0))
            .collect();
        assert_eq!(bands, expected);
    }

    #[test]
    fn a_wrench_serves_a_fifth_to_all_of_its_scale() {
        case(&[], &[]);
        case(&[50.0], &[(50.0, 50.0)]);
        case(&[40.0, 200.0, 100.0], &[(200.0, 40.0)]);
        case(
            &[39.0, 200.0, 2.0],
            &[(200.0, 200.0), (39.0, 39.0), (2.0, 2.0)],
        );
    }
}
