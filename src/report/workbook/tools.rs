//! Tools to bring: wrenches, sockets and keys by size, torque wrenches, and what is not in the kit.

use std::collections::{BTreeMap, BTreeSet};

use rust_xlsxwriter::{Workbook, XlsxError};

use super::{
    Report,
    sheet::{Column, Pen},
    tightening::called_for,
};
use crate::{
    audit::{Duty, Joint, joints, takes_nut},
    hardware::{Drive, Kind, Length, Tool, torque::Torque, wrench},
    notation::torque::{Called, TorqueUnit, read},
};

pub const NAME: &str = "Tools to bring";

const COLUMNS: [Column; 5] = [
    Column::words("Tool", 26.0),
    Column::words("Size", 12.0),
    Column::number("At once"),
    Column::words("For", 50.0),
    Column::words("Look", 60.0),
];

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
            let on_rod = is_nut
                && joint
                    .with(Duty::Fastener)
                    .any(|m| m.item.kind == Some(Kind::Rod));
            if on_rod {
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
            need.torque |= member.duty == Duty::Fastener && called_for(joint, member).is_some();
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

fn joined(words: &BTreeSet<String>) -> String {
    words
        .iter()
        .map(String::as_str)
        .collect::<Vec<_>>()
        .join(", ")
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let style = &report.style;
    let joints = joints(report.job, report.lists);
    let mut pen = Pen::new(workbook, NAME)?;
    pen.title("Tools to bring", "What turns the hardware of the lists, and what is to be brought because it is not in the kit.", style)?;
    let heading = pen.headings(style, &COLUMNS)?;
    let mut row = |tool: &str, size: &str, at_once: u64, what: &str, look: &str| {
        pen.row()?
            .text(tool, &style.wrap)?
            .text(size, &style.strong)?
            .number(at_once, &style.number)?
            .text(what, &style.wrap)?
            .text(look, &style.wrap)
            .map(|_| ())
    };
    for ((tool, size), need) in tools(&joints) {
        let mut look = Vec::new();
        if need.at_once > 1 {
            look.push("one to hold, one to turn".to_owned());
        }
        if let Some(din) = need.din {
            look.push(format!("pieces made to DIN take {din}: bring both"));
        }
        if need.torque {
            look.push("a socket too, for the torque wrench".to_owned());
        }
        let name = match tool {
            Tool::Wrench => "wrench or socket",
            Tool::HexKey => "hex key",
        };
        let (size, at_once) = (format!("{size} {}", size.unit().as_str()), need.at_once);
        row(name, &size, at_once, &joined(&need.turns), &look.join("; "))?;
    }
    for (drive, what) in drivers(&joints) {
        row(&format!("{drive} driver"), "", 1, &joined(&what), "")?;
    }
    let undriven = undriven(&joints);
    if !undriven.is_empty() {
        let look = "the lists do not say what drives them: look at a piece";
        let named: Vec<String> = undriven.into_iter().collect();
        row("driver", "", 1, &named.join("; "), look)?;
    }
    let bands = torque_wrenches(called(&joints));
    for [largest, smallest] in &bands {
        let words = |(torque, unit): &(Torque, TorqueUnit)| {
            let value = unit.of(*torque);
            format!("{} {unit}", (value * 10.0).round() / 10.0)
        };
        let what = match largest == smallest {
            true => format!("{} as called", words(largest)),
            false => format!("{} to {} as called", words(smallest), words(largest)),
        };
        let top = largest.1.of(Torque(smallest.0.0 / LOWEST));
        let look = format!(
            "scale up to at least {} and at most {:.0} {}: a torque wrench serves from about 20 to 100 % of its scale (common practice, no source)",
            words(largest),
            top,
            largest.1
        );
        row("torque wrench", "", 1, &what, &look)?;
    }
    for item in report.account.items.iter().filter(|item| item.to_bring > 0) {
        row(
            "to bring, not in the kit",
            "",
            item.to_bring,
            &item.text,
            match item.item.kind {
                Some(Kind::Part) => "",
                _ => "sold separately",
            },
        )?;
    }
    pen.end_table(heading, &COLUMNS)?;
    report.print(&mut pen, heading)
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
