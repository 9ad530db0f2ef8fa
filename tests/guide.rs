//! Assembly guides in prose: the labelled corpus, and the footbridge's guide against its parts list.

use std::{collections::BTreeMap, path::Path};

use tallybin::{
    hardware::Kind,
    kit::{Job, Line, LineStatus, List, Role, Usage, job::Input},
    notation::{Notation, describe},
};

/// Reads a text as an assembly guide.
fn guide(text: &str) -> List {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join("guide.txt");
    std::fs::write(&path, text).expect("a file for the test");
    List::read(
        &Input::at(&path),
        "guide.txt".into(),
        Role::Required,
        &|_| {},
    )
    .expect("a guide that can be read")
}

/// `8 5/8 x 6 hex bolt {45 ft-lb}`: pieces at all places, item, use or torque.
fn shown(list: &List, line: &Line) -> String {
    let Some(reading) = list.reading_of(line) else {
        return "aside".into();
    };
    let pieces = line
        .quantity
        .map_or("-".into(), |n| (n * u64::from(line.places)).to_string());
    let placement = list.placement_of(line);
    let mut said: Vec<String> = placement.usage.iter().map(|u| u.to_string()).collect();
    said.extend(placement.torque.iter().map(|t| t.to_string()));
    let said = match said.is_empty() {
        true => String::new(),
        false => format!(" {{{}}}", said.join(", ")),
    };
    format!("{pieces} {}{said}", reading.item.text())
}

/// A label with each item in its canonical words: `2 3/8 washer` is `2 3/8 flat washer`.
fn label(text: &str) -> String {
    let canonical = |line: &str| -> String {
        let (pieces, rest) = line.split_once(' ').unwrap_or((line, ""));
        let (item, said) = rest.split_once(" {").unwrap_or((rest, ""));
        match describe(item, Notation::default()) {
            Ok(all) if said.is_empty() => format!("{pieces} {}", all[0].item.text()),
            Ok(all) => format!("{pieces} {} {{{said}", all[0].item.text()),
            Err(_) => line.to_owned(),
        }
    };
    let lines: Vec<String> = text.split("; ").map(canonical).collect();
    lines.join("; ")
}

/// The labelled sentences (ours; from how guides of the trade are worded, no source): each must be
/// read as labelled. What is wrong and carries no doubt must be nothing; what is labelled `read`
/// must carry no doubt.
#[test]
fn corpus() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus/guide.csv");
    let mut rows = csv::Reader::from_path(path).expect("the corpus");
    let (mut all, mut silent, mut wrong, mut doubted) = (0, Vec::new(), Vec::new(), Vec::new());
    for row in rows.records() {
        let row = row.expect("a row of the corpus");
        let (state, text, expected) = (&row[0], &row[1], label(&row[2]));
        // A line below the stage makes a guide of a sentence without hardware.
        let list = guide(&format!("Stage 1\n\n{text}\n\nStage 2\n\n1 hex nut 1/2\n"));
        let lines: Vec<&Line> = list.lines.iter().filter(|line| line.row == 3).collect();
        let found: Vec<String> = lines.iter().map(|line| shown(&list, line)).collect();
        let found = found.join("; ");
        let read = lines
            .iter()
            .all(|line| list.status_of(line) == LineStatus::Read);
        all += 1;
        let doubts: Vec<String> = lines
            .iter()
            .flat_map(|line| list.doubts_of(line).map(|doubt| doubt.to_string()))
            .collect();
        let report = format!(
            "{text}\n    wanted {state}: {expected}\n    found: {found}\n    doubts: {doubts:?}"
        );
        if found != expected {
            if read {
                silent.push(report);
            } else {
                wrong.push(report);
            }
        } else if read != (state == "read") {
            doubted.push(report);
        }
    }
    assert!(all >= 60);
    let none: [Vec<String>; 3] = Default::default();
    assert_eq!(
        [silent, wrong, doubted],
        none,
        "wrong and not doubted; wrong; a doubt where none is due, or none where one is"
    );
}

/// Pieces of hardware by stage number and item, of the lines that make a demand in the kit as
/// ordered. Grade, finish and thread are left out: the guide leaves them to the parts list.
fn hardware(list: &List, job: &Job) -> BTreeMap<(char, String), u64> {
    let mut pieces = BTreeMap::new();
    for line in &list.lines {
        let placement = list.placement_of(line);
        let chosen = placement
            .option
            .as_ref()
            .is_none_or(|rule| job.with.iter().any(|name| **name == *rule.name) == rule.with);
        let new = matches!(placement.usage, None | Some(Usage::New));
        let reading = list
            .reading_of(line)
            .expect("no line of the samples is aside");
        if !chosen || !new || reading.item.kind == Some(Kind::Part) {
            continue;
        }
        let mut item = reading.item.clone();
        (item.grade, item.finish, item.thread) = (None, None, None);
        // The parts list names the washers' series.
        let text = item.text().replace("USS ", "").replace("SAE ", "");
        let stage = placement.stage.as_deref().expect("every line has a stage");
        let number = stage
            .chars()
            .find(char::is_ascii_digit)
            .expect("stages are numbered");
        *pieces.entry((number, text)).or_default() +=
            line.quantity.expect("every line has a count") * u64::from(line.places);
    }
    pieces
}

/// The footbridge's guide asks for what its parts list asks for, stage by stage, save the nuts that
/// the parts list is short of (planted: stage 3 has 40 bolts and 32 nuts).
#[test]
fn footbridge() {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/footbridge");
    let read = |job: &str| {
        let job = Job::load(&samples.join(job)).expect("the job file");
        let list = List::read(&job.required[0], "required".into(), Role::Required, &|_| {})
            .expect("the required list");
        (job, list)
    };
    let (job, guide) = read("guide-job.toml");
    for line in &guide.lines {
        let doubts: Vec<String> = guide.doubts_of(line).map(|d| d.to_string()).collect();
        assert_eq!(doubts, [""; 0], "{}", guide.text_of(line));
    }
    let found = hardware(&guide, &job);
    let (job, parts) = read("job.toml");
    let mut wanted = hardware(&parts, &job);
    let nuts = wanted.get_mut(&('3', "1/2 hex nut".to_owned()));
    assert_eq!(nuts.map(|n| std::mem::replace(n, 40)), Some(32));
    pretty_assertions::assert_eq!(found, wanted);
}

/// A guide that names no hardware is no list; the message shows the headings that it has.
#[test]
fn no_hardware() {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join("guide.md");
    let text = "# Footbridge\n\n## Step 1: Shoes\n\nSet the shoes on the pads.\n\n## Step 2: Girders\n\nLift the girders.\n";
    std::fs::write(&path, text).expect("a file for the test");
    let error = List::read(
        &Input::at(&path),
        "guide.md".into(),
        Role::Required,
        &|_| {},
    )
    .expect_err("no hardware is named");
    let message = error.to_string();
    assert!(message.contains("no hardware is named"), "{message}");
    assert!(
        message.contains("\"Step 1: Shoes\", \"Step 2: Girders\""),
        "{message}"
    );
}
