//! Tightening: joint by joint, what is called, what it is turned with, and a box to tick when it is
//! done and marked.

use rust_xlsxwriter::{ColNum, DataValidation, Workbook, XlsxError};
use rustc_hash::FxHashMap;

use super::{
    Report,
    sheet::{Column, Pen},
    style::Paper,
};
use crate::{
    audit::{Duty, Joint, LubricatedStages, Member, TorqueCheck, check_torque, joints, takes_nut},
    hardware::{Grade, Item, Kind, Style as Form, Tool, torque::prevailing_torque, wrench},
    notation::torque::{Called, TorqueUnit, read},
    report::wording,
    settle::Account,
};

pub const NAME: &str = "Tightening";
/// More rows than these are in Every line.
const MOST: usize = 20_000;

const COLUMNS: [Column; 13] = [
    Column::words("No.", 6.0),
    Column::words("Stage", 15.0),
    Column::words("Joint", 17.0),
    Column::words("Item", 26.0),
    Column::number("Pieces"),
    Column::words("Torque called", 14.0),
    SEQUENCE,
    Column::words("Head", 13.0),
    Column::words("Nut", 13.0),
    Column::words("Tighten", 18.0),
    Column::words("Look", 24.0),
    Column {
        heading: "Done and marked",
        number: false,
        least: 9.0,
        most: 9.0,
    },
    Column {
        heading: "Initials",
        number: false,
        least: 10.0,
        most: 10.0,
    },
];
/// Only where a list gives one.
const SEQUENCE: Column = Column::words("Sequence", 12.0);

const CAUTIONS: [&str; 4] = [
    "Torques are repeated as the list calls them. The kit maker's figure and sequence rule; figures of this sheet are checks, not instructions.",
    "A torque is applied at the nut unless the list says otherwise (common practice, no source). Mark each nut when it is done.",
    "Structural bolts (A325, A490) are tightened by turn of nut or by an indicating method, not by torque from a table.",
    "Do not tighten a joint with missing or substituted structural hardware without the kit maker's word.",
];

/// What turns a piece: `15/16 in`, `key 6 mm`, `16 mm (DIN 17)`.
pub fn tool(item: &Item) -> Option<String> {
    let wrench = wrench(item)?;
    let din = match wrench.din {
        Some(din) => format!(" (DIN {din})"),
        None => String::new(),
    };
    let size = format!("{wrench} {}", wrench.size.unit().as_str());
    Some(match wrench.tool {
        Tool::Wrench => format!("{size}{din}"),
        Tool::HexKey => format!("key {size}{din}"),
    })
}

/// True for what belongs on the sheet: what is closed by a nut or turned by a wrench, and what is
/// called with a torque; of what an earlier stage fitted, the last only.
fn is_tightened(member: &Member<'_>) -> bool {
    member.duty == Duty::Fastener
        && (member.placement.torque.is_some()
            || !member.is_carried_over()
                && (takes_nut(member.item) || wrench(member.item).is_some()))
}

/// The called torque in the other unit: newton metres for foot- or inch-pounds, and the reverse.
fn other_unit(called: &Called) -> String {
    let (Called::Torque { unit, .. }, Some(least), Some(most)) =
        (called, called.least(), called.most())
    else {
        return String::new();
    };
    let other = match unit {
        TorqueUnit::NewtonMetres if most.foot_pounds() < 5.0 => TorqueUnit::InchPounds,
        TorqueUnit::NewtonMetres => TorqueUnit::FootPounds,
        _ => TorqueUnit::NewtonMetres,
    };
    let rounded = |value: f64| match value >= 20.0 {
        true => format!("{value:.0}"),
        false => format!("{value:.1}"),
    };
    let (least, most) = (rounded(other.of(least)), rounded(other.of(most)));
    match least == most {
        true => format!("{most} {other}"),
        false => format!("{least} to {most} {other}"),
    }
}

fn is_structural(item: &Item) -> bool {
    matches!(item.grade, Some(Grade::A325 | Grade::A490))
}

/// How it is tightened.
fn how(joint: &Joint<'_>, member: &Member<'_>, called: Option<&Called>) -> &'static str {
    let item = member.item;
    // The nut of what an earlier stage fitted is listed there.
    let nut = (joint.has(Duty::Nut) || member.is_carried_over()) && takes_nut(item);
    match called {
        _ if is_structural(item) => "turn of nut, or an indicating method",
        Some(Called::Feel(_)) => "as called",
        _ if item.kind == Some(Kind::Anchor) => "as the anchor's maker says",
        Some(_) if nut => "torque at the nut",
        Some(_) => "torque at the head",
        None if nut => "no torque called; turn the nut",
        None => "no torque called",
    }
}

/// What to look at before tightening.
fn look(joint: &Joint<'_>, member: &Member<'_>, called: &Called, lubricated: bool) -> String {
    let mut notes = Vec::new();
    if let Some(most) = called.most() {
        match check_torque(member.item, most, lubricated) {
            TorqueCheck::Within { .. } => {}
            TorqueCheck::Needs { grade } => {
                notes.push(format!("no grade stated; wants at least {grade}"));
            }
            TorqueCheck::Above { .. } => {
                notes.push("■ more than the bolt takes: see Questions on the list".to_owned());
            }
            TorqueCheck::NotChecked => notes.push("figure not checked".to_owned()),
        }
        if let (Some(drag), Called::Torque { unit, .. }) = (
            joint
                .with(Duty::Nut)
                .find_map(|nut| prevailing_torque(nut.item)),
            called,
        ) {
            notes.push(format!(
                "the nylon insert drags by up to {:.0} {unit}",
                unit.of(drag)
            ));
        }
    } else if let Called::Unread(_) = called {
        notes.push("▲ not understood: ask which unit is meant".to_owned());
    }
    if lubricated {
        notes.push("lubricant named".to_owned());
    }
    notes.join("; ")
}

/// By item and stage: which substitutes are among its pieces.
fn substitutes(account: &Account) -> FxHashMap<(Item, usize), String> {
    let mut all: FxHashMap<(Item, usize), String> = FxHashMap::default();
    for item in &account.items {
        for of in item.stand_ins.iter().filter(|of| of.rule.is_some()) {
            let told = all.entry((item.item.identity(), of.stage)).or_default();
            if !told.is_empty() {
                told.push_str("; ");
            }
            told.push_str(&format!("{} in this stage: {}", of.pieces, of.text));
        }
    }
    all
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let (style, account) = (&report.style, report.account);
    let joints = joints(report.job, report.lists);
    let lubricated = LubricatedStages::of(report.job, report.lists);
    // The first of several of one name.
    let named = account.stages.iter().enumerate().rev();
    let named: FxHashMap<&str, usize> = named.map(|(at, stage)| (&*stage.name, at)).collect();
    let mut stages: FxHashMap<&str, Option<usize>> = FxHashMap::default();
    let mut rows: Vec<(Option<usize>, &Joint<'_>, &Member<'_>)> = joints
        .iter()
        .flat_map(|joint| {
            let stage = *stages.entry(joint.stage).or_insert_with(|| {
                let named = named.get(joint.stage).copied();
                named.or_else(|| wording::stage_of(account, joint.stage))
            });
            let fasteners = joint.members.iter().filter(|m| is_tightened(m));
            fasteners.map(move |member| (stage, joint, member))
        })
        .collect();
    rows.retain(|(stage, ..)| stage.is_none_or(|at| !account.stages[at].built));
    rows.sort_by_key(|(stage, ..)| stage.unwrap_or(usize::MAX));
    // What turns the nut of what an earlier stage fitted: the joint of that item and torque.
    let mut nuts: FxHashMap<(&Item, Option<&str>), String> = FxHashMap::default();
    for joint in &joints {
        let Some(tool) = joint.with(Duty::Nut).find_map(|nut| tool(nut.item)) else {
            continue;
        };
        for member in joint.with(Duty::Fastener) {
            nuts.entry((member.item, joint.torque_called(member)))
                .or_insert_with(|| tool.clone());
        }
    }

    let substitutes = substitutes(account);
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    let built = match account.stages.iter().any(|stage| stage.built) {
        true => " Stages that are built are left out.",
        false => "",
    };
    let subtitle = format!(
        "Joint by joint, in build order, for all kits of the job. Tick and initial each when it has been tightened and marked.{built}"
    );
    pen.title("Tightening", &subtitle, style)?;
    let sequenced = rows
        .iter()
        .any(|(_, joint, member)| joint.sequence(member).is_some());
    let columns: Vec<Column> = COLUMNS
        .into_iter()
        .filter(|column| sequenced || column.heading != SEQUENCE.heading)
        .collect();
    let heading = pen.headings(style, &columns)?;
    for (stage, joint, member) in rows.iter().take(MOST) {
        let written = joint.torque_called(member);
        let called = written.map(read);
        pen.row()?;
        match stage {
            Some(stage) => pen
                .number(*stage as u64 + 1, style.stage(*stage))?
                .text(wording::stage_name(account, *stage), &style.wrap)?,
            None => pen.blank(&style.cell)?.text(joint.stage, &style.wrap)?,
        };
        let place = member.placement.place.as_deref().unwrap_or("");
        let pieces = member
            .pieces
            .and_then(|pieces| pieces.checked_mul(report.job.kits));
        let closed = joint.with(Duty::Nut).find_map(|nut| tool(nut.item));
        let by_nut = closed.or_else(|| {
            let fitted = member.is_carried_over();
            fitted
                .then(|| nuts.get(&(member.item, written)).cloned())
                .flatten()
        });
        let head = match member.item.style {
            Some(Form::Carriage | Form::Plow | Form::Elevator) => {
                Some("held by its square".to_owned())
            }
            _ => tool(member.item),
        };
        let nut = by_nut
            .filter(|_| takes_nut(member.item))
            .unwrap_or_default();
        let other = called.as_ref().map(other_unit);
        let torque = match (written, other.as_deref()) {
            (Some(written), Some(other)) if !other.is_empty() => format!("{written}\n{other}"),
            (written, _) => written.unwrap_or_default().to_owned(),
        };
        pen.text(place, &style.wrap)?
            .text(&member.item.identity().text(), &style.wrap)?
            .number_or(pieces, "not stated", &style.number)?
            .text(&torque, &style.strong_wrap)?;
        if sequenced {
            let sequence = joint.sequence(member).unwrap_or_default();
            pen.text(sequence, &style.wrap)?;
        }
        let served = stage.and_then(|stage| substitutes.get(&(member.item.identity(), stage)));
        let looks = called
            .as_ref()
            .map(|called| look(joint, member, called, lubricated.has(joint.stage)));
        let looks: Vec<&str> = [served.map(String::as_str), looks.as_deref()]
            .into_iter()
            .flatten()
            .filter(|note| !note.is_empty())
            .collect();
        pen.text(&head.unwrap_or_default(), &style.wrap)?
            .text(&nut, &style.wrap)?
            .text(how(joint, member, called.as_ref()), &style.wrap)?
            .text(&looks.join("; "), &style.wrap)?
            .blank(&style.entry_text)?
            .blank(&style.entry_text)?;
    }
    if rows.len() > MOST {
        let more = format!("and {} more: see Every line", rows.len() - MOST);
        pen.row()?.plain(&more, &style.cell)?;
    }
    if rows.is_empty() {
        pen.row()?.plain("Nothing is tightened.", &style.cell)?;
    }
    let last = pen.at();
    pen.end_table(heading, &columns)?;
    let done = columns.len() as ColNum - 2;
    let ticks = DataValidation::new().allow_list_strings(&["yes", "no"])?;
    pen.sheet()
        .add_data_validation(heading + 1, done, last, done, &ticks)?;
    pen.row()?;
    for caution in CAUTIONS {
        pen.says(&format!("– {caution}"), &style.subtitle)?;
    }
    pen.end_row()?;
    pen.print(Some(heading), &report.footer())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_other_unit() {
        // SP 811: 110 ft lbf is 149.1 N m, 20 in lbf 2.26 N m, 50 N m 36.9 ft lbf.
        assert_eq!(other_unit(&read("110 ft-lb")), "149 N·m");
        assert_eq!(other_unit(&read("20 in-lb")), "2.3 N·m");
        assert_eq!(other_unit(&read("50 N·m")), "37 ft-lb");
        assert_eq!(other_unit(&read("50 to 60 ft-lb")), "68 to 81 N·m");
        assert_eq!(other_unit(&read("hand tight")), "");
    }
}
