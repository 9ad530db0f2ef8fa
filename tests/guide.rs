//! Assembly guides in prose: the labelled corpus, and the footbridge's guide against its parts list.

use std::{collections::BTreeMap, path::Path};

use tallybin::{
    hardware::{Item, Kind},
    kit::{Input, Job, Line, LineStatus, List, Role, Usage},
    notation::{Notation, describe, sentence},
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
    said.extend(placement.option.iter().map(|option| {
        let with = if option.with { "with" } else { "without" };
        format!("{with} {}", option.name)
    }));
    said.extend(placement.place.iter().map(|place| format!("at {place}")));
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

/// The labelled sentences: ours, from how guides of the trade are worded (common practice, no
/// source); the last column names the habit. What is wrong and carries no doubt must be nothing.
#[test]
fn corpus() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus/guide.csv");
    let mut rows = csv::Reader::from_path(path).expect("the corpus");
    let (mut all, mut plain, mut plainly) = (0, 0, 0);
    let (mut wanted, mut found_in_all, mut right) = (0, 0, 0);
    let (mut silent, mut others) = (Vec::new(), Vec::new());
    for row in rows.records() {
        let row = row.expect("a row of the corpus");
        let (state, text, expected) = (&row[0], &row[1], label(&row[2]));
        // A line below the stage makes a guide of a sentence without hardware.
        let list = guide(&format!("Stage 1\n\n{text}\n\nStage 2\n\n1 hex nut 1/2\n"));
        let lines: Vec<&Line> = list.lines.iter().filter(|line| line.row == 3).collect();
        let found: Vec<String> = lines.iter().map(|line| shown(&list, line)).collect();
        let read = lines
            .iter()
            .all(|line| list.status_of(line) == LineStatus::Read);
        let doubts: Vec<String> = lines
            .iter()
            .flat_map(|line| list.doubts_of(line).map(|doubt| doubt.to_string()))
            .collect();
        all += 1;
        let mut left: Vec<&str> = expected
            .split("; ")
            .filter(|line| !line.is_empty())
            .collect();
        wanted += left.len();
        found_in_all += found.len();
        for line in &found {
            if let Some(at) = left.iter().position(|wanted| wanted == line) {
                left.swap_remove(at);
                right += 1;
            }
        }
        let found = found.join("; ");
        plain += usize::from(state == "read");
        plainly += usize::from(state == "read" && read && found == expected);
        let report = format!(
            "{text}\n    wanted {state}: {expected}\n    found: {found}\n    doubts: {doubts:?}"
        );
        match (found == expected, read == (state == "read")) {
            (true, true) => {}
            (false, _) if read => silent.push(report),
            _ => others.push(report),
        }
    }
    println!(
        "{all} sentences: {right} of {wanted} items found, {found_in_all} found in all; {plainly} of \
         {plain} plain ones read without a doubt; not as labelled:\n{}",
        others.join("\n")
    );
    assert!(all >= 130);
    assert_eq!(silent, [""; 0], "wrong and not doubted");
    // Precision and recall of item and count, and plain sentences read with no doubt, in percent.
    assert!(right * 100 >= 99 * found_in_all, "precision");
    assert!(right * 100 >= 99 * wanted, "recall");
    assert!(
        plainly * 100 >= 98 * plain,
        "plain sentences without a doubt"
    );
}

/// Pieces of hardware by stage number and item, of the lines that make a demand in the kit as
/// ordered. Grade, finish and thread are left out: the guide leaves them to the parts list.
fn hardware(list: &List, job: &Job) -> BTreeMap<(char, String), u64> {
    let mut pieces = BTreeMap::new();
    for (stage, item, count) in wanted(list, job) {
        if item.kind == Some(Kind::Part) {
            continue;
        }
        let mut item = item.clone();
        (item.grade, item.finish, item.thread) = (None, None, None);
        // The parts list names the washers' series.
        let text = item.text().replace("USS ", "").replace("SAE ", "");
        *pieces.entry((stage, text)).or_default() += count;
    }
    pieces
}

/// What a list asks for: the number of its stage, the item, and its pieces at all places.
fn wanted<'l>(list: &'l List, job: &Job) -> Vec<(char, &'l Item, u64)> {
    let mut wanted = Vec::new();
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
        if !chosen || !new {
            continue;
        }
        let stage = placement.stage.as_deref().expect("every line has a stage");
        let number = stage
            .chars()
            .find(char::is_ascii_digit)
            .expect("stages are numbered");
        let count = line.quantity.expect("every line has a count") * u64::from(line.places);
        wanted.push((number, &reading.item, count));
    }
    wanted
}

/// The pieces of a stage, parts and hardware.
fn pieces_of(list: &List, job: &Job, stage: char) -> u64 {
    let wanted = wanted(list, job).into_iter();
    wanted
        .filter(|(of, ..)| *of == stage)
        .map(|(.., count)| count)
        .sum()
}

/// A sample's job and its required list.
fn sample(job: &str) -> (Job, List) {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/footbridge");
    let job = Job::load(&samples.join(job)).expect("the job file");
    let list = List::read(&job.required[0], "required".into(), Role::Required, &|_| {})
        .expect("the required list");
    (job, list)
}

fn all_doubts(list: &List) -> Vec<String> {
    let of = |line| list.doubts_of(line).map(|doubt| doubt.to_string());
    list.lines.iter().flat_map(of).collect()
}

/// The footbridge's guide asks for what its parts list asks for, stage by stage, save the nuts that
/// the parts list is short of (planted: stage 3 has 40 bolts and 32 nuts).
#[test]
fn footbridge() {
    let (job, guide) = sample("guide-job.toml");
    assert_eq!(all_doubts(&guide), [""; 0]);
    let found = hardware(&guide, &job);
    let (job, parts) = sample("job.toml");
    let mut wanted = hardware(&parts, &job);
    let nuts = wanted.get_mut(&('3', "1/2 hex nut".to_owned()));
    assert_eq!(nuts.map(|n| std::mem::replace(n, 40)), Some(32));
    pretty_assertions::assert_eq!(found, wanted);
}

/// So do the notes spoken on site, for the two stages that they are of.
#[test]
fn dictated() {
    let (spoken, notes) = sample("dictated-job.toml");
    let found = hardware(&notes, &spoken);
    let (job, parts) = sample("job.toml");
    let mut wanted = hardware(&parts, &job);
    wanted.retain(|(stage, _), _| matches!(stage, '4' | '6'));
    pretty_assertions::assert_eq!(found, wanted);
    // The subtotals of the parts list.
    for (stage, pieces) in [('4', 174), ('6', 270)] {
        assert_eq!(pieces_of(&notes, &spoken, stage), pieces);
        assert_eq!(pieces_of(&parts, &job, stage), pieces);
    }
}

/// Reads a text as the guide of a job that says so many repetitions of its lines.
fn repeating(text: &str, repeats: &[(u32, u32)]) -> tallybin::Result<List> {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join("guide.txt");
    std::fs::write(&path, text).expect("a file for the test");
    let mut input = Input::at(&path);
    input.repeats.extend(repeats.iter().copied());
    List::read(&input, "guide.txt".into(), Role::Required, &|_| {})
}

const REPEATS: &str =
    "Stage 1\n\nFit four 1/2 x 3 hex bolts to the left rail.\nRepeat for the right rail.\n";

/// What repeats is asked for again with a doubt, which says how to confirm it; the job confirms it,
/// changes it, or says that nothing is repeated.
#[test]
fn repeats() {
    #[track_caller]
    fn case(repeats: &[(u32, u32)], pieces: &[u64], doubts: &[&str]) {
        let list = repeating(REPEATS, repeats).expect("a guide");
        let found: Vec<u64> = list
            .lines
            .iter()
            .map(|line| line.quantity.expect("a count") * u64::from(line.places))
            .collect();
        assert_eq!(found, pieces);
        assert_eq!(all_doubts(&list), doubts);
    }
    case(
        &[],
        &[4, 4],
        &[
            "\"Repeat for the right rail.\": line 3 again, once: to confirm or change that, write repeats = \
           { 4 = 1 } beside this file in the job file",
        ],
    );
    case(&[(4, 1)], &[4, 4], &[]);
    case(&[(4, 3)], &[4, 12], &[]);
    case(&[(4, 0)], &[4], &[]);
}

/// Places by their names, and as many again: once.
#[test]
fn repeats_at_places_by_name() {
    for [first, then] in [
        ["to posts 1 and 2 each", "on posts 3 and 4"],
        ["to rails A and B each", "on rails C and D"],
        ["at holes P1, P2 and P3", "at holes P4, P5 and P6"],
    ] {
        let text = format!("Stage 1\n\nFit six M8 x 40 bolts {first}. Same again {then}.\n");
        let list = guide(&text);
        let pieces = list
            .lines
            .iter()
            .map(|line| line.quantity.map(|n| n * u64::from(line.places)));
        let pieces: Vec<_> = pieces.collect();
        assert_eq!(pieces[0], pieces[1], "{text}");
    }
}

/// A line of its own that points back is no heading, whatever its verb.
#[test]
fn repeats_on_a_line_of_its_own() {
    #[track_caller]
    fn case(text: &str, pieces: &[u64]) {
        let list = guide(&format!(
            "Stage 1\n\nFit two M8 x 40 bolts to the left post.\n\n{text}\n"
        ));
        let of = |line: &Line| line.quantity.unwrap_or(0) * u64::from(line.places);
        let found: Vec<u64> = list.lines.iter().map(of).collect();
        assert_eq!(found, pieces, "{text}");
        assert_eq!(all_doubts(&list).len(), pieces.len() - 1, "{text}");
    }
    for text in [
        "The other post likewise.",
        "The right post follows.",
        "The same at the right post.",
        "As above for the other post.",
        "Go on to do the right post.",
    ] {
        case(text, &[2, 2]);
    }
    case("The other three posts follow.", &[2, 6]);
    for text in [
        "The next step follows.",
        "The two drawings are on the next page.",
    ] {
        case(text, &[2]);
    }
}

/// Pieces beside two places that may be of both together, of each, or of a part that is no item.
#[test]
fn pieces_beside_two_places() {
    #[track_caller]
    fn case(text: &str, doubt: Option<&str>) {
        let list = guide(&format!("Stage 1\n\n{text}\n"));
        assert_eq!(all_doubts(&list), Vec::from_iter(doubt), "{text}");
    }
    let open = |place: &str| {
        format!("\"{place}\": the pieces may be for each or in all; taken as for each")
    };
    for (text, place) in [
        (
            "Fasten both ends of the pole with two M10 x 120 bolts.",
            "both ends",
        ),
        (
            "Then fasten both ends with four M10 x 120 bolts.",
            "both ends",
        ),
        (
            "Bolt both sides together with three M8 x 60 bolts.",
            "both sides",
        ),
        (
            "Bolt both sides together with one M8 x 60 bolt.",
            "both sides",
        ),
    ] {
        case(text, Some(&open(place)));
    }
    case(
        "Fasten the pole at both ends with M10 x 120 bolts, two in all.",
        Some("\"in all\": the count may be for all the places; taken as for each"),
    );
    case(
        "Fit a 5/8 x 12 bolt with spacers on both sides.",
        Some("\"both sides\" may be said of the spacers alone: taken for all"),
    );
    for text in [
        "Fasten both ends of the pole with an M10 x 120 bolt.",
        "Fasten both ends with two M10 x 120 bolts each.",
        "Fasten both ends with two M10 x 120 bolts, so four altogether.",
        "Fasten the pole at both ends with two M10 x 120 bolts.",
        "Bolt the pole both ends with two M10 x 120 bolts.",
        "Both ends get two M10 x 120 bolts.",
        "Fit an M10 x 120 bolt at each of the four posts, four in all.",
        "Fit two M10 x 120 bolts with their heads outward at both ends.",
    ] {
        case(text, None);
    }
}

#[test]
fn repeats_of_a_line_that_repeats_nothing() {
    let error = repeating(REPEATS, &[(3, 1)]).expect_err("line 3 repeats nothing");
    assert_eq!(
        error.to_string(),
        "guide.txt, line 3: the job file's repeats name this line, and no sentence that repeats starts on \
         it\n  what to do: take it out of repeats, or name the line on which a sentence that repeats starts: 4"
    );
    let text = "Stage 1\n\nFit four 1/2 x 3 hex bolts to the left rail.\n";
    let error = repeating(text, &[(3, 1)]).expect_err("nothing is repeated");
    assert!(
        error
            .to_string()
            .ends_with("take it out of repeats: no sentence of this file repeats one before it"),
        "{error}"
    );
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

/// Guides often list a step's hardware above its sentences (common practice, no source): what both name in
/// like numbers is required once; else it may be the same pieces.
#[test]
fn listed_and_called_for() {
    #[track_caller]
    fn case(text: &str, lines: &[&str], doubts: &[&str]) {
        let list = guide(text);
        let found: Vec<String> = list.lines.iter().map(|line| shown(&list, line)).collect();
        assert_eq!(found, lines, "{text}");
        assert_eq!(all_doubts(&list), doubts, "{text}");
    }
    let other = "Stage 2\n\nFit four 1/2 x 3 hex bolts to the post.\n";
    case(
        &format!(
            "Stage 1\n\n4 hex bolts 1/2 x 3\n2 eye bolts 3/8 x 4\n\nFit four 1/2 x 3 hex bolts and four 1/2 hex nuts to the rail.\n\n{other}"
        ),
        &[
            "4 1/2 x 3 hex bolt",
            "2 3/8 x 4 eye bolt",
            "4 1/2 x 3 hex bolt {for reference}",
            "4 1/2 hex nut",
            "4 1/2 x 3 hex bolt",
        ],
        &[],
    );
    // Of two sentences, that call for as many together.
    case(
        "Stage 1\n\n8 M8 x 60 hex bolts\n8 M8 lock nuts\n\nFit four M8 x 60 hex bolts with lock nuts to the rail. Fit two M8 x 60 hex bolts and two M8 lock nuts to each of the two posts.\n",
        &[
            "8 M8 x 60 hex bolt",
            "8 M8 lock nut",
            "4 M8 x 60 hex bolt {for reference}",
            "4 M8 lock nut {for reference}",
            "4 M8 x 60 hex bolt {for reference}",
            "4 M8 lock nut {for reference}",
        ],
        &[],
    );
    let too = "line 3 lists it too: may be the same pieces; taken as more";
    case(
        "Stage 1\n\n6 hex bolts 1/2 x 3\n\nFit four 1/2 x 3 hex bolts to the rail.\n",
        &["6 1/2 x 3 hex bolt", "4 1/2 x 3 hex bolt"],
        &[too],
    );
}

/// What a sentence names and does not put in is as a list of it (common practice, no source).
#[test]
fn announced_and_called_for() {
    #[track_caller]
    fn case(text: &str, lines: &[&str], doubts: &[&str]) {
        let list = guide(&format!("Stage 1: Feet\n{text}\n"));
        let found: Vec<String> = list.lines.iter().map(|line| shown(&list, line)).collect();
        assert_eq!(found, lines, "{text}");
        assert_eq!(all_doubts(&list), doubts, "{text}");
    }
    let bolts = "8 M10 x 60 bolt";
    for announced in [
        "You will need eight M10 x 60 bolts.",
        "This stage needs eight M10 x 60 bolts.",
        "For this step you need eight M10 x 60 bolts to fix the feet.",
        "Eight M10 x 60 bolts are needed for this stage.",
        "Take eight M10 x 60 bolts from bag 2.",
        "Get eight M10 x 60 bolts ready.",
        "Collect eight M10 x 60 bolts.",
        "Hardware for this stage: eight M10 x 60 bolts.",
        "Required for this stage: eight M10 x 60 bolts.",
        "Required hardware: eight M10 x 60 bolts.",
        "Needed here: eight M10 x 60 bolts.",
        "For this stage: eight M10 x 60 bolts.",
        "Parts for stage 1: eight M10 x 60 bolts.",
        "The following fixings are needed: eight M10 x 60 bolts.",
        "You'll need eight M10 x 60 bolts.",
        "You\u{2019}ll need eight M10 x 60 bolts.",
    ] {
        let again = "8 M10 x 60 bolt {for reference}";
        case(
            &format!("{announced}\nFit eight M10 x 60 bolts."),
            &[bolts, again],
            &[],
        );
        let twice = format!("{announced}\nFit two M10 x 60 bolts to each of the four feet.");
        case(&twice, &[bolts, again], &[]);
    }
    let four = "4 M10 x 60 bolt";
    let too = "line 2 lists it too: may be the same pieces; taken as more";
    case(
        "You will need eight M10 x 60 bolts.\nFit four M10 x 60 bolts.",
        &[bolts, four],
        &[too],
    );
    case(
        "Take four M10 x 60 bolts and fix the rail. Fit four M10 x 60 bolts to the foot.",
        &[four, four],
        &[],
    );
    case(
        "Take four M10 x 60 bolts from bag 2. Push them through the rail. Fit four M10 x 60 bolts to the foot.",
        &[four, four],
        &[],
    );
    case(
        "Fit eight M10 x 60 bolts. Figure 2 shows four M10 x 60 bolts in place.",
        &[bolts, "4 M10 x 60 bolt {for reference}"],
        &[],
    );
    case(
        "Each of the four feet needs two M10 x 60 bolts. Fit two M10 x 60 bolts to each of the four feet.",
        &["8 M10 x 60 bolt {for reference}", bolts],
        &["line 2 puts as many in: taken as those, and not as more"],
    );
    // The torque of what is required once goes with it.
    let torqued = "8 M10 x 60 bolt {40 N·m}";
    let again = "8 M10 x 60 bolt {for reference, 40 N·m}";
    for list in [
        "You will need eight M10 x 60 bolts.",
        "Hardware:\n- 8 M10 x 60 bolts\n",
    ] {
        let text = format!("{list}\nFit eight M10 x 60 bolts. Tighten to 40 N·m.");
        case(&text, &[torqued, again], &[]);
    }
    case(
        "You will need eight M10 x 60 bolts.\nFit four M10 x 60 bolts to the rail. Tighten to 40 N·m. Fit four M10 x 60 bolts to the foot.",
        &[
            bolts,
            "4 M10 x 60 bolt {for reference, 40 N·m}",
            "4 M10 x 60 bolt {for reference}",
        ],
        &["the sentences call some of them to 40 N·m, and not all: none was taken"],
    );
}

/// What is announced for one place is not what is put in at another (common practice, no source).
#[test]
fn announced_for_another_place() {
    #[track_caller]
    fn case(announced: &str, put: &str, pieces: u64, doubts: &[&str]) {
        let list = guide(&format!("Stage 1: Gate\n{announced}\n\n{put}\n"));
        let of = |line: &Line| match list.placement_of(line).usage {
            Some(Usage::Reference) => 0,
            _ => line.quantity.unwrap_or_default() * u64::from(line.places),
        };
        assert_eq!(
            list.lines.iter().map(of).sum::<u64>(),
            pieces,
            "{announced} {put}"
        );
        assert_eq!(all_doubts(&list), doubts, "{announced} {put}");
    }
    let other = "line 2 names such for another place: may be the same pieces; taken as more";
    let shown = "line 4 puts such in at another place: may be the same pieces; taken as more";
    for announced in [
        "You need four M8 x 40 bolts for the cap.",
        "Four M8 x 40 bolts are needed for the cap.",
        "For the cap you need four M8 x 40 bolts.",
        "Gather four M8 x 40 bolts for the cap.",
    ] {
        case(
            announced,
            "Fit four M8 x 40 bolts to the foot.",
            8,
            &[other],
        );
        case(announced, "Fit four M8 x 40 bolts to the cap.", 4, &[]);
        case(
            announced,
            "Bolt the cap down with four M8 x 40 bolts.",
            4,
            &[],
        );
        case(announced, "Fit four M8 x 40 bolts.", 4, &[]);
        let both = "Fit four M8 x 40 bolts to the cap. Fit four M8 x 40 bolts to the foot.";
        case(announced, both, 8, &[]);
    }
    let left = "Take two M8 x 40 bolts from bag 2 for the left arm.";
    case(left, "Fit two M8 x 40 bolts to the right arm.", 4, &[other]);
    case(
        "You need four M8 x 40 bolts for post 1.",
        "Fit four M8 x 40 bolts to post 2.",
        8,
        &[other],
    );
    case(
        "As figure 2 shows, four M8 x 40 bolts hold the cap.",
        "Fit four M8 x 40 bolts to the foot.",
        8,
        &[shown],
    );
    // What its stage is called by is no place in it.
    case(
        "You need four M8 x 40 bolts for the gate.",
        "Fit four M8 x 40 bolts to the foot.",
        4,
        &[],
    );
    case(
        "You need four M8 x 40 bolts for this step.",
        "Fit four M8 x 40 bolts to the foot.",
        4,
        &[],
    );
}

/// What becomes of pieces, in sentences of several makers (common practice, no source).
#[test]
fn uses_in_sentences() {
    #[track_caller]
    fn case(text: &str, line: &str, doubts: &[&str]) {
        let list = guide(&format!(
            "Stage 1\n{text}\n\nStage 2\nFit one M8 x 40 bolt.\n"
        ));
        assert_eq!(shown(&list, &list.lines[0]), line, "{text}");
        assert_eq!(all_doubts(&list), doubts, "{text}");
    }
    case(
        "Remove four of the eight 1/2 hex nuts and keep them.",
        "4 1/2 hex nut {returned}",
        &[],
    );
    case(
        "Fit four of the eight 1/2 x 4 bolts.",
        "4 1/2 x 4 bolt",
        &[],
    );
    case(
        "Four M8 hex nuts come welded in the plate.",
        "4 M8 hex nut {comes fitted}",
        &[],
    );
    case(
        "Four M8 hex nuts are already welded to it.",
        "4 M8 hex nut {comes fitted}",
        &[],
    );
    case(
        "You supply four 3/8 x 4 anchors.",
        "4 3/8 x 4 anchor {not in this kit}",
        &[],
    );
    case(
        "You must provide four 3/8 x 4 anchors.",
        "4 3/8 x 4 anchor {not in this kit}",
        &[],
    );
    case(
        "Use four 3/8 x 4 anchors of your own.",
        "4 3/8 x 4 anchor {not in this kit}",
        &[],
    );
    case(
        "Two M10 x 80 bolts remain from stage 2; use them here.",
        "2 M10 x 80 bolt {carried over}",
        &[],
    );
    case(
        "Four M8 x 60 bolts are supplied with the kit.",
        "4 M8 x 60 bolt",
        &[],
    );
    let with = "supplied with it: taken as fitted there, and may lie in a bag";
    case(
        "The hinge is supplied with six M8 x 20 bolts.",
        "6 M8 x 20 bolt {comes fitted}",
        &[with],
    );
    case(
        "Six M8 x 20 bolts are supplied with the hinge.",
        "6 M8 x 20 bolt {comes fitted}",
        &[with],
    );
}

/// A torque goes to the joint that it is named for, whatever stands first (common practice, no source).
#[test]
fn torques_of_joints() {
    #[track_caller]
    fn case(text: &str, lines: &[&str], doubts: &[&str]) {
        let list = guide(&format!("Stage 1\n{text}\n"));
        let found: Vec<String> = list.lines.iter().map(|line| shown(&list, line)).collect();
        assert_eq!(found, lines, "{text}");
        assert_eq!(all_doubts(&list), doubts, "{text}");
    }
    for all in [
        "Torque all hardware in this stage to 20 ft-lb.",
        "Torque everything to 20 ft-lb.",
        "Tighten all bolts to 20 ft-lb.",
        "All bolts in this stage are to be tightened to 20 ft-lb.",
    ] {
        case(
            &format!("Fit two 3/8 x 3 hex bolts. Fit four 1/2 x 6 hex bolts. {all}"),
            &[
                "2 3/8 x 3 hex bolt {20 ft-lb}",
                "4 1/2 x 6 hex bolt {20 ft-lb}",
            ],
            &[],
        );
    }
    case(
        "Torque to 45 ft-lb. Fit four 1/2 x 4 hex bolts.",
        &["4 1/2 x 4 hex bolt {45 ft-lb}"],
        &["45 ft-lb stands before its joint: \"Torque to 45 ft-lb.\""],
    );
    // Of two joints in one sentence.
    let (base, cap) = ("6 M10 x 50 bolt", "4 M6 x 20 screw");
    let of_base = "6 M10 x 50 bolt {45 N·m}";
    for text in [
        "Fix the base with six M10 x 50 bolts (torque 45 N·m) and the cap with four M6 x 20 screws.",
        "Fix the base with six M10 x 50 bolts and torque to 45 N·m, and fix the cap with four M6 x 20 screws.",
        "The base takes six M10 x 50 bolts (45 N·m); the cap takes four M6 x 20 screws.",
        "Six M10 x 50 bolts (45 N·m) hold the base and four M6 x 20 screws hold the cap.",
    ] {
        case(text, &[of_base, cap], &[]);
    }
    case(
        "Fix the base with six M10 x 50 bolts and the cap with four M6 x 20 screws (torque 9 N·m).",
        &[base, "4 M6 x 20 screw {9 N·m}"],
        &[],
    );
    let open = "9 N·m may be of some of its bolts alone: none was taken";
    case(
        "Fit six M10 x 50 bolts and four M6 x 20 screws, 9 N·m.",
        &[base, cap],
        &[open, open],
    );
    case(
        "Fit two M8 x 40 and three M8 x 60 bolts and tighten to 25 N·m.",
        &["2 M8 x 40 bolt {25 N·m}", "3 M8 x 60 bolt {25 N·m}"],
        &[],
    );
    // That of hardware which only the stage's list names.
    case(
        "Hardware:\n- 4 hex bolts 1/2 x 4\n- 4 1/2 hex nuts\n\nBolt the foot down. Torque the bolts to 45 ft-lb.",
        &["4 1/2 x 4 hex bolt {45 ft-lb}", "4 1/2 hex nut {45 ft-lb}"],
        &[],
    );
    // Never lost.
    case(
        "Torque all bolts to 45 ft-lb.\n\nStage 2\nFit four 1/2 x 4 hex bolts.",
        &["aside", "4 1/2 x 4 hex bolt"],
        &[],
    );
    let none = "45 ft-lb may be for it: none was taken from \"Torque the bolts to 45 ft-lb.\"";
    case(
        "Hardware:\n- 4 hex bolts 1/2 x 4\n- 2 hex bolts 3/8 x 4\n\nBolt the foot down. Torque the bolts to 45 ft-lb.",
        &["4 1/2 x 4 hex bolt", "2 3/8 x 4 hex bolt"],
        &[none, none],
    );
}

/// The kind, the size, the number, the place or the stage that a torque names decides whose it is; where that is open,
/// nobody gets it (common practice, no source).
#[test]
fn torques_name_their_joint() {
    const STRAP: &str = "Fit the strap with four M8 x 40 bolts.";
    const SHEET: &str = "Fix the sheet with twelve #12 x 1-1/2 self-drilling screws.";
    const FOOT: &str = "Fit four M12 x 60 bolts to the foot.";
    /// `torques`: of each line, `-` for none, `?` for one that asks.
    #[track_caller]
    fn case(joints: &[&str], text: &str, torques: &str) {
        let list = guide(&format!(
            "Stage 3: Roof\n\n{}\n\n{text}\n",
            joints.join("\n\n")
        ));
        let found: Vec<&str> = list
            .lines
            .iter()
            .map(|line| match &list.placement_of(line).torque {
                Some(torque) => torque,
                None if list.status_of(line) == LineStatus::Read => "-",
                None => "?",
            })
            .collect();
        assert_eq!(found.join(", "), torques, "{text}");
    }
    for bolts in [
        "Tighten the bolts to 20 N·m.",
        "Tighten all bolts to 20 N·m.",
        "The bolts take 20 N·m.",
        "Torque the strap to 20 N·m.",
        "Tighten the strap bolts to 20 N·m.",
        "Tighten the four bolts to 20 N·m.",
        "Drive the screws home; tighten the bolts to 20 N·m.",
    ] {
        case(&[STRAP, SHEET], bolts, "20 N·m, -");
        case(&[SHEET, STRAP], bolts, "-, 20 N·m");
    }
    for screws in [
        "Tighten the screws to 5 N·m.",
        "The screws take 5 N·m.",
        "Do not exceed 5 N·m on the screws.",
        "Set the driver to 5 N·m for the screws.",
        "Tighten the self-drilling screws to 5 N·m.",
    ] {
        case(
            &[SHEET, STRAP],
            screws,
            if screws.starts_with("Do") {
                "Do not exceed 5 N·m, -"
            } else {
                "5 N·m, -"
            },
        );
    }
    // One that stands apart and names none of two that have none yet may be of either.
    for open in [
        "Tighten the bolts to 20 N·m.",
        "Tighten to 20 N·m.",
        "Square the frame. Tighten to 20 N·m.",
        "Check that all is plumb, then tighten to 20 N·m.",
        "Torque: 20 N·m.",
    ] {
        case(&[FOOT, STRAP], open, "?, ?");
        case(
            &[&format!("{FOOT} Tighten to 60 N·m."), STRAP],
            open,
            "60 N·m, 20 N·m",
        );
    }
    for all in [
        "Torque for this stage: 20 N·m.",
        "Use 20 N·m throughout.",
        "Torque foot and strap to 20 N·m.",
        "Foot and strap: 20 N·m.",
        "Tighten to 20 N·m at the foot and at the strap.",
        "The bolts of the foot and of the strap get 20 N·m.",
        "Tighten all eight bolts to 20 N·m.",
        "Now tighten the 8 bolts to 20 N·m.",
    ] {
        case(&[FOOT, STRAP], all, "20 N·m, 20 N·m");
    }
    for foot in [
        "Tighten the bolts at the foot to 60 N·m.",
        "Tighten the foot to 60 N·m.",
        "Foot: 60 N·m.",
        "Tighten to 60 N·m at the foot.",
    ] {
        case(&[FOOT, STRAP], foot, "60 N·m, -");
    }
    const RAILS: [&str; 2] = [
        "Fit four M8 x 40 bolts to the left rail.",
        "Fit four M8 x 40 bolts to the right rail.",
    ];
    for each in [
        "Tighten both rails to 20 N·m.",
        "Tighten all rails to 20 N·m.",
    ] {
        case(&RAILS, each, "20 N·m, 20 N·m");
    }
    case(&RAILS, "Tighten the rail to 20 N·m.", "?, ?");
    let done = format!("{FOOT} Torque these to 60 N·m. {STRAP}");
    case(&[&done], "Torque the rest to 20 N·m.", "60 N·m, 20 N·m");
    // Joints that were left loose are done together.
    let loose = "Fit two M10 x 60 bolts loosely to the foot. Fit two M8 x 40 bolts loosely to the strap. Tighten to 20 N·m.";
    case(&[], loose, "?, ?");
    case(
        &[],
        "Fit two M8 x 40 bolts. Leave them hand tight until Stage 6.",
        "hand tight",
    );
    case(
        &[],
        "Fit two M8 x 40 bolts. Tighten to 20 N·m in Stage 6.",
        "20 N·m",
    );
    // Several torques in turn.
    for turn in [
        "The former are tightened to 20 N·m, the latter to 40 N·m.",
        "The latter are tightened to 40 N·m, the former to 20 N·m.",
        "Torque: 20 N·m and 40 N·m respectively.",
        "Tighten the first four to 20 N·m and the others to 40 N·m.",
    ] {
        case(&[FOOT, STRAP], turn, "20 N·m, 40 N·m");
        case(&[&format!("{FOOT} {STRAP}")], turn, "20 N·m, 40 N·m");
        case(&[FOOT], turn, "?");
    }
    case(
        &[FOOT, STRAP],
        "Tighten first to 20 N·m, then to 40 N·m.",
        "?, ?",
    );
    // Screws that cut their own thread take no bolts' torque.
    for bare in [
        "Tighten to 20 N·m.",
        "Torque: 20 N·m.",
        "Square it and tighten to 20 N·m.",
    ] {
        case(&[&format!("{STRAP} {SHEET} {bare}")], "", "20 N·m, -");
        case(&[&format!("{SHEET} {STRAP} {bare}")], "", "-, 20 N·m");
        case(&[&format!("{SHEET} {bare}")], "", "20 N·m");
    }
    // What is told of both asks for nothing again.
    for of_all in [
        "Both get 20 N·m.",
        "Each bolt: 20 N·m.",
        "All bolts: 20 N·m.",
    ] {
        case(&[&format!("{FOOT} {STRAP} {of_all}")], "", "20 N·m, 20 N·m");
    }
    case(
        &[STRAP, FOOT, SHEET],
        "Tighten the bolts to 20 N·m.",
        "?, ?, -",
    );
    // Where a paragraph names several joints, what stands apart may be of any; `both` is of two.
    let several = format!("{FOOT} {STRAP}");
    for open in [
        "Tighten the bolts to 20 N·m.",
        "Apply 20 N·m.",
        "Final torque 20 N·m.",
        "Do not exceed 20 N·m.",
        "20 N·m.",
        "Torque: 20 N·m.",
    ] {
        case(&[&several], open, "?, ?");
        case(
            &[FOOT],
            open,
            match open.starts_with("Do") {
                true => "Do not exceed 20 N·m",
                false => "20 N·m",
            },
        );
    }
    for last in [
        "Finally tighten the bolts to 20 N·m.",
        "Final torque 20 N·m.",
        "Lastly apply 20 N·m.",
    ] {
        case(&[FOOT, STRAP], last, "?, ?");
    }
    for both in [
        "Torque both to 20 N·m.",
        "Both are torqued to 20 N·m.",
        "Finally give each bolt 20 N·m.",
    ] {
        case(&[FOOT, STRAP], both, "20 N·m, 20 N·m");
        case(&[&several], both, "20 N·m, 20 N·m");
    }
    let bolts = "20 N·m, 20 N·m, -";
    case(&[FOOT, STRAP, SHEET], "Torque both to 20 N·m.", bolts);
    let more = "Fit two M10 x 60 bolts to the rail.";
    case(&[FOOT, STRAP, more], "Torque both to 20 N·m.", "?, ?, ?");
    case(&[FOOT, STRAP], "Tighten the first two to 20 N·m.", "?, ?");
    case(&[FOOT, STRAP], "Tighten the rail bolts to 20 N·m.", "?, ?");
    case(
        &[FOOT, SHEET],
        "Tighten the bolts fitted so far to 20 N·m.",
        "?, -",
    );
    case(&[SHEET], "Tighten the anchors to 20 N·m.", "-, ?");
    case(&[FOOT], "Go round all feet and torque to 60 N·m.", "60 N·m");
    case(&[FOOT], "Tighten posts 1 and 2 to 60 N·m.", "60 N·m");
    let hoops = "Fit six M12 x 90 bolts, hand tight.\n\nStage 4: Sides";
    for other in [
        "Now go back to Stage 3 and tighten all bolts to 60 N·m.",
        "Tighten the Stage 3 bolts to 60 N·m.",
        "Tighten the bolts left hand tight in Stage 3 to 60 N·m.",
        "Torque the bolts of stages 3 and 4 to 60 N·m.",
    ] {
        case(&[hoops, SHEET], other, "60 N·m, -");
    }
    case(
        &[hoops, SHEET],
        "Tighten the nuts to 60 N·m.",
        "hand tight, -, ?",
    );
}

/// Work that is to be done at several is told before it, too (common practice, no source).
#[test]
fn work_that_is_told_to_be_done_at_several() {
    const WORK: &str = "Join two posts with six M8 x 40 bolts.";
    for preface in [
        "Assemble the four frames as follows.",
        "Build four frames in the following way.",
        "Do the following at each of the four posts.",
        "The following is done four times.",
        "Carry out these steps for both gables.",
    ] {
        for text in [format!("{preface} {WORK}"), format!("{preface}\n\n{WORK}")] {
            let list = guide(&format!("Stage 1: Frames\n\n{text}\n"));
            let doubts: Vec<String> = (list.lines.iter())
                .flat_map(|line| list.doubts_of(line))
                .map(|doubt| doubt.to_string())
                .collect();
            let said = format!("\"{preface}\": it may be for each of them; taken once");
            assert_eq!(doubts, [said], "{text}");
        }
    }
    for plain in [
        "The following stage takes two people.",
        "Tighten all bolts in the following order.",
        "Lay out the frames as follows.",
    ] {
        let list = guide(&format!("Stage 1: Frames\n\n{plain} {WORK}\n"));
        let last = list.lines.last().expect("a line");
        assert_eq!(list.status_of(last), LineStatus::Read, "{plain}");
    }
}

/// The lines that sentences of a stage come to: each with its pieces, its use, and whether it is in doubt.
#[track_caller]
fn comes_to(sentences: &str, expected: &[&str]) {
    let list = guide(&format!("Stage 3: Frame\n\n{sentences}\n"));
    let found: Vec<String> = list
        .lines
        .iter()
        .map(|line| {
            let item = list
                .reading_of(line)
                .map_or_else(|| "aside".to_owned(), |reading| reading.item.text());
            let pieces = line
                .quantity
                .map_or(0, |pieces| pieces * u64::from(line.places));
            let usage = list
                .placement_of(line)
                .usage
                .map_or(String::new(), |usage| format!(" {usage}"));
            let open = if list.status_of(line) == LineStatus::Check {
                " ?"
            } else {
                ""
            };
            format!("{pieces} {item}{usage}{open}")
        })
        .collect();
    assert_eq!(found, expected, "{sentences}");
}

/// What is there when it is done is what was put in, where it comes to as much (common practice, no source).
#[test]
fn told_again_when_it_is_done() {
    let feet = "Bolt each of the four feet with three M10 x 70 bolts.";
    let put = "12 M10 x 70 bolt";
    let again = "12 M10 x 70 bolt ?";
    for told in [
        "When this stage is finished, twelve M10 x 70 bolts will be in place.",
        "Twelve M10 x 70 bolts hold the frame to the feet.",
        "12 M10 x 70 bolts hold the feet.",
    ] {
        comes_to(&format!("{feet}\n{told}"), &[put, again]);
    }
    comes_to(
        &format!("{feet}\nFit twelve M10 x 70 bolts to the shelf."),
        &[put, put],
    );
    comes_to(
        "Bolt the left rail with two M10 x 70 bolts.\nTwo M10 x 70 bolts hold the right rail.",
        &["2 M10 x 70 bolt", "2 M10 x 70 bolt"],
    );
}

/// A row of which one line was in doubt already is counted once.
#[test]
fn rows_in_doubt_are_counted_once() {
    let list = guide(
        "Stage 1 - Legs\n\nFit four M10 x 90 bolts. Put a nut on all.\n\nStep 12: Insert 4 M10 x 90 carriage bolts.\n\nBuild the second leg.\n",
    );
    assert_eq!(
        (list.tally.read, list.tally.check),
        (1, 1),
        "{:?}",
        all_doubts(&list)
    );
}

/// A sentence may say of those that follow that they are not always needed (common practice, no source).
#[test]
fn told_to_be_optional() {
    let (one, plain) = ("4 M4 x 12 screw ?", "4 M4 x 12 screw");
    for told in [
        "This step is optional.",
        "You can skip this step.",
        "Skip this step if you have no sign.",
        "You do not have to do this.",
        "Only do this step if you have the sign.",
    ] {
        comes_to(&format!("{told} Fit four M4 x 12 screws."), &[one]);
        comes_to(&format!("Fit four M4 x 12 screws. {told}"), &[one]);
    }
    let sign = "Screw the name plate on with four M4 x 12 screws.";
    comes_to(&format!("Optional. {sign}"), &[one]);
    comes_to(&format!("Optional step. {sign}"), &[one]);
    comes_to(&format!("This step is optional.\n\n{sign}"), &[one]);
    comes_to(
        &format!("The sign is optional. {sign}\n\n{sign}"),
        &[one, plain],
    );
}

/// What is put in and taken out, or taken out to be used (common practice, no source).
#[test]
fn taken_out_in_the_same_sentence() {
    let open = "4 M8 x 50 bolt ?";
    let reference = "4 M8 x 50 bolt for reference ?";
    for text in [
        "Push four M8 x 50 bolts through to line up the holes, then remove them.",
        "Drive four M8 x 50 bolts in, and draw them out again.",
        "Four M8 x 50 bolts are screwed into the guard for transport; remove them and use them to fix the leg.",
    ] {
        comes_to(text, &[open]);
    }
    comes_to(
        "Fit four M8 x 50 bolts and drive them home.",
        &["4 M8 x 50 bolt"],
    );
    comes_to(
        "Fit four M8 x 50 bolts and take out the slack.",
        &["4 M8 x 50 bolt"],
    );
    comes_to(
        "Take out four M8 x 50 transport bolts; you will need them in step 5.",
        &[&reference.replace("bolt", "transport bolt")],
    );
    let fates = ["4 M8 x 50 bolt returned", "4 M8 hex nut discarded"];
    for text in [
        "Remove four M8 x 50 bolts and nuts. Keep the bolts, discard the nuts.",
        "Remove four M8 x 50 bolts and nuts; keep the bolts and throw away the nuts.",
    ] {
        comes_to(text, &fates);
    }
    comes_to(
        "Remove four M8 x 50 bolts (keep) and four M8 nuts (discard).",
        &fates,
    );
    comes_to(
        "Insert four M8 x 50 bolts to align the holes. Remove them once the plate is in.",
        &[open],
    );
    comes_to(
        "Take out four M8 x 50 transport bolts. Use them in step 4.",
        &[&reference.replace("bolt", "transport bolt")],
    );
    comes_to("Use the original four M8 x 50 bolts.", &[open]);
    let (nut, washer) = ("4 M8 hex nut discarded", "4 M8 flat washer discarded");
    comes_to(
        "Remove four M8 x 50 bolts, four washers and four nuts. Keep the bolts, discard the rest.",
        &[fates[0], washer, nut],
    );
    comes_to(
        "Remove four M8 x 50 bolts, eight washers and four nuts. Keep the bolts, discard the nuts.",
        &[fates[0], "8 M8 flat washer for reference ?", fates[1]],
    );
}

/// How many are built may stand in a sentence beside (common practice, no source).
#[test]
fn how_many_are_built() {
    for built in [
        "Build two gables. Join the rafters with six M8 x 40 bolts.",
        "Two identical gables are needed. Join the rafters with six M8 x 40 bolts.",
        "You will build two of these frames. Join the rails with six M8 x 40 bolts.",
        "Make two. Join the rails with six M8 x 40 bolts.",
        "Join the rails with six M8 x 40 bolts. Two frames are needed.",
        "Join the rails with six M8 x 40 bolts. Build a second frame.",
        "Join the rails with six M8 x 40 bolts. Make another one.",
        "Assemble the three sections one by one: join rails and posts with six M8 x 40 bolts.",
        "The bench has three arms. An arm is held by six M8 x 40 bolts.",
        "Screw on an arm with six M8 x 40 bolts. There are three arms.",
        "Screw on an arm with six M8 x 40 bolts. The bench has three arms.",
        "Screw on an arm with six M8 x 40 bolts. Three arms are fitted in all.",
        "Screw on the left arm with six M8 x 40 bolts. Then turn to the right arm.",
        "Attach a latch to each of the three gates. Use six M8 x 40 bolts.",
    ] {
        comes_to(built, &["6 M8 x 40 bolt ?"]);
    }
    let ends = "Fit the two cross rails. Each end of a cross rail takes three M8 x 40 bolts.";
    comes_to(ends, &["12 M8 x 40 bolt ?"]);
    for plain in [
        "Build two gables. Join them with six M8 x 40 bolts.",
        "Assemble the frame. Fit six M8 x 40 bolts.",
        "Make sure that two people hold it. Fit six M8 x 40 bolts.",
        "Fit six M8 x 40 bolts. Both rails face the same way.",
        "Fit six M8 x 40 bolts. Fit two of them in the upper rail and four in the lower rail.",
        "You need six M8 x 40 bolts. Use four of them in the upper rail.",
    ] {
        comes_to(plain, &["6 M8 x 40 bolt"]);
    }
}

/// What is repeated begins where the thing is named, or at the steps that are named.
#[test]
fn what_is_repeated() {
    const SEAT: &str =
        "Join seat and back with four M8 x 60 bolts. Screw on the left arm with two M8 x 40 bolts.";
    for again in [
        "Mount the right arm likewise.",
        "Now the right arm.",
        "Repeat for the right arm.",
        "Fit the right arm in the same manner.",
    ] {
        let all = ["4 M8 x 60 bolt", "2 M8 x 40 bolt", "2 M8 x 40 bolt ?"];
        comes_to(&format!("{SEAT} {again}"), &all);
    }
    let all = [
        "4 M8 x 60 bolt",
        "2 M8 x 40 bolt",
        "4 M8 x 60 bolt ?",
        "2 M8 x 40 bolt ?",
    ];
    comes_to(&format!("{SEAT} Repeat on the other side."), &all);
    const STEPS: &str =
        "1. Bolt the foot on with four M8 x 60 bolts.\n2. Screw on the arm with two M8 x 40 bolts.";
    for (again, range) in [
        ("Repeat step 1", 2..3),
        ("Repeat step 2", 3..4),
        ("Repeat steps 1 and 2", 2..4),
        ("Repeat steps 1 to 2", 2..4),
    ] {
        let expected: Vec<&str> = [&all[..2], &all[range]].concat();
        comes_to(&format!("{STEPS}\n3. {again} on the right."), &expected);
    }
    comes_to(
        &format!("{STEPS}\n3. Repeat step 7 on the right."),
        &["4 M8 x 60 bolt", "2 M8 x 40 bolt", "0 aside"],
    );
}

/// What is taken off and put back in the same stage is for no other.
#[test]
fn put_back() {
    for back in [
        "Put the bolts back.",
        "Refit the cover with the same bolts.",
        "Reuse the bolts to close the cover.",
        "Bolt the cover on again with them.",
        "Then reinsert the bolts.",
    ] {
        for off in [
            "and keep them. ",
            "and set them aside. Insert the seal. ",
            ". Insert the seal. ",
        ] {
            let text = format!("Remove the eight M10 x 30 bolts {off}{back}").replace(" .", ".");
            comes_to(&text, &["8 M10 x 30 bolt carried over"]);
        }
    }
    comes_to(
        "Remove the eight M10 x 30 bolts and keep them. Insert the seal.",
        &["8 M10 x 30 bolt returned"],
    );
    for open in ["Refit the cover.", "Close the cover.", "Clean the bolts."] {
        let text =
            format!("Remove the eight M10 x 30 bolts and keep them. Insert the seal. {open}");
        comes_to(&text, &["8 M10 x 30 bolt returned ?"]);
    }
}

/// What is put in and is no hardware that is known is aside, or a part by its count.
#[test]
fn what_is_not_known_is_told() {
    for aside in [
        "Set four M8 threaded inserts in the holes.",
        "Insert four M8 threaded inserts in the holes.",
        "Screw in four 1/4-20 inserts.",
        "Insert four M6 sleeves.",
        "Knock four 8 x 40 wooden dowels into the holes.",
        "Push six 1/2 in bushings in.",
        "Put two 1/2 in spacers under the sill.",
        "Insert four 10 mm sleeves.",
        "Fit two 3/8 shackles.",
        "Put four M10s through the plate.",
        "Fit four M10s, 75 long.",
    ] {
        comes_to(
            &format!("{aside} Fit two M8 x 40 bolts."),
            &["0 aside", "2 M8 x 40 bolt"],
        );
    }
    comes_to(
        "Fit four dowels in the holes. Fit two M8 x 40 bolts.",
        &["4 dowels ?", "2 M8 x 40 bolt"],
    );
    for (text, unknown) in [
        (
            "Clamp the plates down with 20 clips and 20 M8 x 25 bolts.",
            "20 clips",
        ),
        ("Fit four shackles and four M8 x 25 bolts.", "four shackles"),
        (
            "Pin the tongue with one 5/8 x 3 clevis pin and one hair pin clip.",
            "one hair pin clip",
        ),
        (
            "Fit two M8 x 25 bolts, two nuts, and one spacer.",
            "one spacer",
        ),
    ] {
        let list = guide(&format!("Stage 3: Frame\n\n{text}\n"));
        let doubts: Vec<String> = list
            .doubts_of(&list.lines[0])
            .map(ToString::to_string)
            .collect();
        let told = format!("\"{unknown}\" is not known as hardware: not counted");
        assert_eq!(doubts, [told], "{text}");
    }
    comes_to(
        "Fit four M8 x 40 bolts to the rail and one bracket to the post.",
        &["4 M8 x 40 bolt"],
    );
    for made in [
        "Leave two 10 mm gaps.",
        "Use two 13 mm spanners.",
        "Drill four M8 holes.",
        "Drill four 9 mm pilot holes.",
        "Tap four M8 threads.",
    ] {
        comes_to(
            &format!("{made} Fit two M8 x 40 bolts."),
            &["2 M8 x 40 bolt"],
        );
    }
}

/// What tightens all goes back to the stages before where its own holds nothing; where it holds something and is the
/// last, it may (common practice, no source).
#[test]
fn torques_of_the_stages_before() {
    /// `torques`: of each line, `-` for none, `?` for one that asks.
    #[track_caller]
    fn case(end: &str, torques: &str) {
        let list = guide(&format!(
            "Stage 1: Feet\n\nFit four M8 x 40 bolts with four nuts.\n\n{end}\n"
        ));
        let found = list
            .lines
            .iter()
            .map(|line| match &list.placement_of(line).torque {
                Some(torque) => torque.to_string(),
                None if list.status_of(line) == LineStatus::Read => "-".to_owned(),
                None => "?".to_owned(),
            });
        assert_eq!(found.collect::<Vec<_>>().join(", "), torques, "{end}");
    }
    for all in [
        "Tighten all bolts to 20 N·m.",
        "Torque every bolt to 20 N·m.",
        "Torque the M8 bolts to 20 N·m.",
        "Tighten the M8s to 20 N·m.",
        "Go round and tighten everything to 20 N·m.",
        "All bolts are now tightened to 20 N·m.",
    ] {
        case(&format!("Stage 2: Tighten\n\n{all}"), "20 N·m, 20 N·m");
    }
    case("Step 2: Tighten all to 20 N·m.", "20 N·m, 20 N·m");
    // Its line goes aside.
    case("Stage 2\n\nTighten the bolts to 20 N·m.", "-, -, ?");
    case("Stage 2\n\nTorque the M12 bolts to 60 N·m.", "-, -, ?");
    let roof = "Stage 2: Roof\n\nFit two M12 x 90 bolts.";
    for end in [
        "Once the roof is on, tighten everything to 20 N·m.",
        "Now that the roof is up, tighten all bolts to 20 N·m.",
        "Finally, tighten all bolts to 20 N·m.",
        "Tighten all bolts to 20 N·m when the roof is square.",
    ] {
        case(&format!("{roof} {end}"), "?, ?, 20 N·m");
        let more = "Stage 3: Gate\n\nFit two M10 x 30 bolts.";
        case(&format!("{roof} {end}\n\n{more}"), "-, -, 20 N·m, -");
    }
    for here in [
        "Tighten everything to 20 N·m.",
        "After squaring the frame, torque all bolts to 20 N·m.",
        "When the roof is on, tighten all bolts in this stage to 20 N·m.",
    ] {
        case(&format!("{roof} {here}"), "-, -, 20 N·m");
    }
}

/// The torque of a sentence that puts other hardware in is of what it names.
#[test]
fn torques_beside_what_is_put_in() {
    const FRAME: &str = "Fit four M10 x 60 bolts with four nuts to the frame.";
    #[track_caller]
    fn case(text: &str, torques: &[&str]) {
        let list = guide(&format!("Stage 1\n\n{FRAME}\n\n{text}\n"));
        let torque = |line: &Line| list.placement_of(line).torque.clone().unwrap_or_default();
        let found: Vec<_> = list.lines.iter().map(torque).collect();
        let found: Vec<&str> = found.iter().map(|torque| &**torque).collect();
        assert_eq!(found, torques, "{text}");
    }
    let frame = ["60 N·m", "60 N·m", ""];
    case(
        "Fit two M8 x 40 screws and tighten the bolts to 60 N·m.",
        &frame,
    );
    case(
        "Fit two M8 x 40 bolts and tighten the frame nuts to 60 N·m.",
        &frame,
    );
    case(
        "Bolt the lid on: fit two M8 x 40 bolts, then torque the frame bolts to 60 N·m.",
        &frame,
    );
    let own = ["", "", "20 N·m"];
    case("Fit two M8 x 40 bolts and tighten them to 20 N·m.", &own);
    case(
        "Fit two M8 x 40 bolts and tighten the nuts to 20 N·m.",
        &own,
    );
    case(
        "Fit two M8 x 40 bolts and tighten the bolts to 20 N·m.",
        &own,
    );
    case(
        "Fit two M8 x 40 bolts to the lid and tighten the lid bolts to 20 N·m.",
        &own,
    );
    // Nothing is of it: its sentence goes aside.
    case(
        "Fit two M8 x 40 bolts and tighten the anchors to 60 N·m.",
        &["", "", "", ""],
    );
}

/// A guide's only callout may be in any sentence.
#[test]
fn one_sentence_is_a_guide() {
    for text in [
        "For each of the two posts use two M8 x 40 bolts.",
        "For the gate use four M8 x 40 bolts.",
        "Use for each of the two feet two M8 x 40 bolts.",
        "For each of the two brackets you need two M8 x 40 bolts.",
    ] {
        let list = guide(&format!("Shelter guide\n\n{text}\n"));
        let found: Vec<String> = list.lines.iter().map(|line| shown(&list, line)).collect();
        assert_eq!(found, ["4 M8 x 40 bolt"], "{text}");
    }
}

/// A torque of a size that stands in a table, or at the head, is of all that is of the size.
#[test]
fn torques_by_size() {
    #[track_caller]
    fn case(head: &str, foot: &str, aside: usize) {
        let list = guide(&format!(
            "Shelter guide\n\n{head}\n\nStage 1: Feet\n\nFit four M8 x 40 bolts with four nuts.\n\nStage 2: Roof\n\n\
             Fit two M12 x 90 bolts to 70 N·m. Fit two M12 x 60 bolts. Fit two M6 x 20 bolts.\n\n{foot}\n"
        ));
        let new = |line: &&Line| list.placement_of(line).usage.is_none() && line.quantity.is_some();
        let torque = |line: &Line| list.placement_of(line).torque.clone().unwrap_or_default();
        let found: Vec<_> = list.lines.iter().filter(new).map(torque).collect();
        let found: Vec<&str> = found.iter().map(|torque| &**torque).collect();
        let expected = ["20 N·m", "20 N·m", "70 N·m", "60 N·m", ""];
        assert_eq!(found, expected, "{head}{foot}");
        let read = |line: &&Line| list.reading_of(line).is_none();
        assert_eq!(
            list.lines.iter().filter(read).count(),
            aside,
            "{head}{foot}"
        );
    }
    for table in [
        "Torques: M8 20 N·m; M12 60 N·m.",
        "Tightening torques: 20 N·m for M8, 60 N·m for M12.",
        "Torque values: M8 to 20 N·m and M12 to 60 N·m.",
        "M8: 20 N·m\nM12: 60 N·m",
        "| Size | Torque |\n|---|---|\n| M8 | 20 N·m |\n| M12 | 60 N·m |",
    ] {
        case(table, "", 0);
        case("", &format!("Torque table\n\n{table}"), 0);
    }
    case("Tighten M8 to 20 N·m and M12 to 60 N·m throughout.", "", 0);
    // Of what is nowhere used, the words are kept.
    case("Torques: M8 20 N·m; M12 60 N·m; M16 200 N·m.", "", 1);
}

/// A line may hold several stages.
#[test]
fn stages_in_one_line() {
    #[track_caller]
    fn case(text: &str, stages: &[&str]) {
        let list = guide(&format!("Shelter guide\n\n{text}\n"));
        let of = |line: &Line| {
            let stage = list.placement_of(line).stage.clone().unwrap_or_default();
            format!("{} {stage}", line.quantity.unwrap_or_default())
        };
        assert_eq!(
            list.lines.iter().map(of).collect::<Vec<_>>(),
            stages,
            "{text}"
        );
        assert_eq!(all_doubts(&list), [""; 0], "{text}");
    }
    let (four, two) = ("Fit four M8 x 40 bolts.", "Fit two M8 x 60 bolts.");
    case(
        &format!("Stage 1. {four} Stage 2. {two}"),
        &["4 Stage 1", "2 Stage 2"],
    );
    case(
        &format!("Step 1: {four} Step 2: {two}"),
        &["4 Step 1", "2 Step 2"],
    );
    case(
        &format!("Step 1) {four} Step 2) {two}"),
        &["4 Step 1", "2 Step 2"],
    );
    case(
        &format!("Step 1) {four}\nStep 2) {two}"),
        &["4 Step 1", "2 Step 2"],
    );
    case(
        &format!("Step 1 {four} Step 2 {two}"),
        &["4 Step 1", "2 Step 2"],
    );
    case(
        &format!("STEP 1 - {four} STEP 2 - {two}"),
        &["4 STEP 1", "2 STEP 2"],
    );
    case(
        &format!("{four} Stage 2: fit two M8 x 60 bolts."),
        &["4 ", "2 Stage 2"],
    );
    case(
        &format!("Stage 1: Feet\n\n{four} Stage 2 (roof): {two}\nAdd two M8 nuts."),
        &["4 Stage 1: Feet", "2 Stage 2 (roof)", "2 Stage 2 (roof)"],
    );
    case(
        &format!("Stage 1: feet. {four} Stage 2: roof. {two}"),
        &["4 Stage 1: feet", "2 Stage 2: roof"],
    );
    case(
        &format!("Step 1. Lay the sill down. Step 2. {two}"),
        &["2 Step 2"],
    );
    case(
        &format!("Step 1: {four} Step 2: Lay the roof on."),
        &["4 Step 1"],
    );
}

/// A heading on a line of its own begins a stage, in whatever form it is numbered, lettered or set.
#[test]
fn headings_begin_stages() {
    let (first, second) = (
        "Fit two 3/8 x 3 hex bolts to the post.",
        "Fit four 1/2 x 4 hex bolts to the gate.",
    );
    let stages = |text: &str| -> Vec<String> {
        let list = guide(text);
        let of = |line: &Line| list.placement_of(line).stage.clone().unwrap_or_default();
        list.lines.iter().map(|line| of(line).to_string()).collect()
    };
    for heading in [
        "PART 7 - GUTTER",
        "PART SEVEN - GUTTER",
        "Step 8) Gate",
        "Assembly step 5 - Gate",
        "3. Gate",
        "3) Gate",
        "Day 2",
        "Second stage: the gate",
        "Work stage 2",
        "2nd step",
        "Chapter 2 The gate",
        "Steps 4-6: gate",
        "7.1 Gate",
        "Gate - step 2",
        "Hanging the gate (2 people)",
        "HOW TO HANG THE GATE",
        "# Gate",
        "GATE",
        "Gate:",
        "Part 1 - Frame",
        "1.0 Frame",
        "A. Frame",
        "C) Roof sheets",
        "Stage 4 Gate",
        "Day 2: Gate",
        "Appendix A: Gate",
        "_Stage 4_ - Gate",
        "**Stage 4** Gate",
    ] {
        let text = format!("Stage 1: Legs\n\n{first}\n\n{heading}\n\n{second}\n");
        let title = heading.replace(['#', '_', '*'], "");
        let title = title.trim_matches([' ', ':']);
        assert_eq!(stages(&text), ["Stage 1: Legs", title]);
    }
    for again in [
        "Stage 1 continued",
        "Stage 1 (cont.)",
        "STAGE 1 - continued",
    ] {
        let text = format!("Stage 1: Legs\n{first}\n\nStage 2\n{first}\n\n{again}\n{second}\n");
        assert_eq!(stages(&text), ["Stage 1: Legs", "Stage 2", "Stage 1: Legs"]);
    }
    for [one, two] in [
        ["1 FRAME", "2 LADDER"],
        ["1. FRAME", "2. LADDER"],
        ["1) Frame", "2) Ladder"],
        ["A. Frame", "B. Ladder"],
        ["Part 1 - Frame", "Part 2 - Ladder"],
        ["1.0 Frame", "2.0 Ladder"],
        ["1.1 Frame", "1.2 Ladder"],
        ["(1) Frame", "(2) Ladder"],
        ["GATE 1", "GATE 2"],
        ["Day 1: Frame", "Day 2: Ladder"],
        ["[1] Frame", "[2] Ladder"],
        ["i. Frame", "ii. Ladder"],
        ["I. FRAME", "II. LADDER"],
        ["First: the frame", "Then: the ladder"],
        ["First, the frame", "Second, the ladder"],
        ["Task 1 - Frame", "Task 2 - Ladder"],
        [
            "Morning of day one: the frame",
            "1st day, evening - the ladder",
        ],
        ["Day one (frame)", "2nd day (ladder)"],
        ["1 - Frame", "2 - Ladder"],
        ["1.) Frame", "2.) Ladder"],
        ["First stage: the frame", "Second stage: the ladder"],
        ["Chapter 1 The frame", "Chapter 2 The ladder"],
    ] {
        let text = format!("{one}\n\n{first}\n\n{two}\n\n{second}\n");
        assert_eq!(stages(&text), [one, two]);
    }
    for [one, two] in [
        ["HOW TO FIT THE FRAME", "HOW TO FIT THE LADDER"],
        [
            "Mounting the frame (2 people)",
            "Mounting the ladder (2 people)",
        ],
        ["Assemble the frame", "Hang the ladder"],
        ["Put up the main frame", "Lay the deck boards"],
    ] {
        let text = format!("Shelter guide\n\n{one}\n\n{first}\n\n{two}\n\n{second}\n");
        assert_eq!(stages(&text), [one, two]);
    }
    for [one, two] in [
        ["[Frame]", "[Ladder]"],
        ["--- Frame ---", "--- Ladder ---"],
        ["<Frame>", "<Ladder>"],
    ] {
        let text = format!("Shelter guide\n\n{one}\n\n{first}\n\n{two}\n\n{second}\n");
        assert_eq!(stages(&text), ["Frame", "Ladder"]);
    }
    let none = "no heading of a stage was found: all is of one; write such as \"Stage 2: Frame\"";
    let late = "line 1 stands below no heading of a stage: it is of none";
    for (text, note) in [
        (format!("{first}\n\n{second}\n"), Some(none)),
        (
            format!("{first}\n\nStage 2: Gate\n\n{second}\n"),
            Some(late),
        ),
        (format!("Stage 1: Legs\n\n{first}\n"), None),
    ] {
        let notes = guide(&text).sheets[0].notes.clone();
        assert_eq!(notes, Vec::from_iter(note), "{text}");
    }
    let counted = guide(&format!(
        "Stage 1: Legs\n\n{first}\n\n(7) Gate\n\n{second}\n"
    ));
    let doubts: Vec<String> = counted
        .doubts_of(&counted.lines[1])
        .map(|doubt| doubt.to_string())
        .collect();
    assert_eq!(
        doubts,
        ["\"(7) Gate\" stands alone over sentences: may be a heading"]
    );
    // What stands right below a title is said of its stage.
    for said in ["Time: two hours", "Duration: one day"] {
        let text =
            format!("Stage 1: Legs\n\n{said}\n\n{first}\n\nStage 2: Gate\n{said}\n{second}\n");
        assert_eq!(stages(&text), ["Stage 1: Legs", "Stage 2: Gate"], "{said}");
    }
    for again in ["Repeat for the other side", "Do the same on the right"] {
        let text = format!("Shelter guide\n\n{first}\n\n{again}\n\nSquare the frame.\n");
        assert_eq!(stages(&text), ["", ""], "{again}");
    }
    // What looks after the work, and a side, are no stages.
    for heading in ["Tightening", "Final checks:", "Left side:", "Safety"] {
        let text = format!("Stage 1: Legs\n\n{first}\n\n{heading}\n\n{second}\n");
        assert_eq!(
            stages(&text),
            ["Stage 1: Legs", "Stage 1: Legs"],
            "{heading}"
        );
    }
}

/// Where stages are named by number, what stands below them or bears another form is a part of the one above, or
/// it is doubted that it is none.
#[test]
fn headings_beside_stages_by_number() {
    const FIT: &str = "Fit two 3/8 x 3 hex bolts to the post.";
    #[track_caller]
    fn case(stage: &str, heading: &str, expected: &str, doubts: &[&str]) {
        let list = guide(&format!("{stage}\n\n{FIT}\n\n{heading}\n\n{FIT}\n"));
        let of = |line: &Line| list.placement_of(line).stage.clone().unwrap_or_default();
        let last = list.lines.last().expect("a line");
        assert_eq!(list.lines.len(), 2, "{stage} {heading}");
        assert_eq!(&*of(last), expected, "{stage} {heading}");
        let number = "taken for a stage";
        let found = all_doubts(&list)
            .into_iter()
            .filter(|said| said.contains(number));
        assert_eq!(found.collect::<Vec<_>>(), doubts, "{stage} {heading}");
    }
    for heading in [
        "### Hardware",
        "### Left rail",
        "**Work**",
        "1) Hang it",
        "GATE",
    ] {
        case("## Stage 2: Roof", heading, "Stage 2: Roof", &[]);
    }
    for heading in [
        "# Safety",
        "## You need",
        "3. Level it",
        "2) Fit the latch",
        "**Left**",
        "Tools",
    ] {
        case("Stage 2: Roof", heading, "Stage 2: Roof", &[]);
    }
    for heading in ["## Stage 3: Gate", "### Step 4 - Ridge", "Spares"] {
        let title = heading.trim_matches(['#', ' ']);
        case("## Stage 2: Roof", heading, title, &[]);
    }
    for heading in [
        "## Gate",
        "3. Gate",
        "GATE",
        "**Gate**",
        "PART 7 - GUTTER",
        "Next day: the gate",
        "Evening of day 2: the gate",
    ] {
        let title = heading.trim_matches(['#', '*', ' ']);
        let said = format!(
            "\"{title}\" is taken for a stage, as \"Stage 2: Roof\" is: may be a part of that"
        );
        case("Stage 2: Roof", heading, title, &[&said]);
    }
}

/// A list of what is in the box, at a guide's head, names what the steps ask for.
#[test]
fn in_the_box() {
    #[track_caller]
    fn case(head: &str, lines: &[&str], doubts: &[&str]) {
        let list = guide(&format!(
            "# Rack\n\n{head}\n\n## 1 Hoops\n\nBolt each of the five hoops to the rail with two M10 x 30 hex bolts.\n"
        ));
        let found: Vec<String> = list.lines.iter().map(|line| shown(&list, line)).collect();
        assert_eq!(found, lines, "{head}");
        assert_eq!(all_doubts(&list), doubts, "{head}");
    }
    let again = [
        "5 hoop",
        "10 M10 x 30 hex bolt {for reference}",
        "10 M10 x 30 hex bolt",
    ];
    for head in [
        "## What is in the box\n\n| Item | Qty |\n|---|---|\n| Hoop | 5 |\n| M10 x 30 hex bolt | 10 |",
        "## Contents\n\n5 hoop\n10 M10 x 30 hex bolts",
        "## Parts supplied\n\n5 hoop\n10 M10 x 30 hex bolts",
        "## You will need\n\n5 hoop\n10 M10 x 30 hex bolts",
    ] {
        case(head, &again, &[]);
    }
    let too = "the steps ask for another number of it: may be the same pieces; taken as more";
    case(
        "## In the box\n\n12 M10 x 30 hex bolts",
        &["12 M10 x 30 hex bolt", "10 M10 x 30 hex bolt"],
        &[too],
    );
    // In a sentence.
    let bolts = [
        "10 M10 x 30 hex bolt {for reference}",
        "10 M10 x 30 hex bolt",
    ];
    for head in [
        "What is in the box: ten M10 x 30 hex bolts.",
        "Supplied with the kit are ten M10 x 30 hex bolts.",
        "You should have ten M10 x 30 hex bolts.",
        "Before you start: ten M10 x 30 hex bolts, ready to hand.",
        "Unpack the kit: there are ten M10 x 30 hex bolts.",
        "Inside the carton you will find ten M10 x 30 hex bolts.",
        "There are ten M10 x 30 hex bolts in bag A.",
    ] {
        case(head, &bolts, &[]);
    }
    let twice = ["10 M10 x 30 hex bolt", "10 M10 x 30 hex bolt"];
    for head in [
        "Fit ten M10 x 30 hex bolts.",
        "Ten M10 x 30 hex bolts hold the sill.",
    ] {
        case(head, &twice, &[]);
    }
    case(
        "You should have twelve M10 x 30 hex bolts.",
        &["12 M10 x 30 hex bolt", "10 M10 x 30 hex bolt"],
        &[too],
    );
    // A stage of its own is none.
    case(
        "## Feet\n\n10 M10 x 30 hex bolts",
        &["10 M10 x 30 hex bolt", "10 M10 x 30 hex bolt"],
        &[],
    );
}

/// A line of a list goes on with no sentence above it.
#[test]
fn lists_below_sentences() {
    let list = guide(
        "Stage 1\n\nFit the rail to the post with the hardware below\n4 hex bolts 1/2 x 3\n8 hex nuts 1/2\n",
    );
    let found: Vec<String> = list.lines.iter().map(|line| shown(&list, line)).collect();
    assert_eq!(found, ["4 1/2 x 3 hex bolt", "8 1/2 hex nut"]);
}

/// A line that begins with what goes with the line above is no list's, however short that is.
#[test]
fn wrapped_lines() {
    for with in ["with", "using"] {
        let list = guide(&format!(
            "Stage 1\n\nBolt each of the two rails\n{with} two 5/8 x 5 hex bolts.\n"
        ));
        let found: Vec<String> = list.lines.iter().map(|line| shown(&list, line)).collect();
        assert_eq!(found, ["4 5/8 x 5 hex bolt"]);
    }
    #[track_caller]
    fn case(lines: &[&str], expected: &[&str]) {
        let list = guide(&format!("Stage 1\n\n{}\n", lines.join("\n")));
        let found: Vec<String> = list.lines.iter().map(|line| shown(&list, line)).collect();
        assert_eq!(found, expected, "{lines:?}");
        assert_eq!(all_doubts(&list), [""; 0], "{lines:?}");
    }
    let deck = [
        "Lay the first board flush with the",
        "nailer ends. Screw down each of the 64",
        "deck boards with four #10 x 3 in deck",
        "screws.",
    ];
    case(&deck, &["256 #10 x 3 deck screw"]);
    let joint = ["4 1/2 x 4 hex bolt", "4 1/2 hex nut"];
    case(&["Fit four", "1/2 x 4 hex bolts", "and four nuts."], &joint);
    case(
        &[
            "Set the hoop. Then fit",
            "four 1/2 x 4 in hex bolts",
            "(two per leg) and",
            "four nuts.",
        ],
        &joint,
    );
    case(
        &[
            "Through each of the two",
            "legs pass two 1/2 x 4 hex",
            "bolts,",
            "two nuts.",
        ],
        &joint,
    );
    case(
        &[
            "Clamp the panel with four 1/2 x 4 hex",
            "bolts and four nylon-",
            "insert nuts.",
        ],
        &[joint[0], "4 1/2 nylon-insert lock nut"],
    );
    // A list below an open sentence has no stop.
    let list = ["Fit the rail with", "4 hex bolts 1/2 x 4", "4 hex nuts 1/2"];
    case(&list, &joint);
    case(
        &[&list[..], &["Level the rail with the bearers."]].concat(),
        &joint,
    );
}

/// Parts that sentences count are not summed, and the list tells which.
#[test]
fn parts_that_are_counted() {
    #[track_caller]
    fn case(text: &str, parts: &[&str]) {
        assert_eq!(guide(text).uncounted, parts, "{text}");
    }
    let braces = "Fit the two braces. Use three 1/2 x 2 hex bolts per brace. Stand up the six posts at the four corners.";
    case(
        &format!("Stage 1\n\n{braces}\n"),
        &["two braces", "six posts"],
    );
    case(
        &format!("Stage 1\n\n2 braces B1\n\n{braces}\n"),
        &["six posts"],
    );
    case("Stage 1\n\nFit four 1/2 x 2 hex bolts.\n", &[]);
}

/// Two items may stand at one place of a sentence.
#[test]
fn items_of_one_phrase() {
    let said = sentence("bolts - M8x30 (20), M8x50 (12)", Notation::default());
    assert_eq!(said.calls.len(), 2);
}

/// The count of `12 of the screws` is told as one.
#[test]
fn some_of_what_is_there() {
    let text = "Use 12 of the 1/4 x 1 truss head screws to close the gutter.";
    let said = sentence(text, Notation::default());
    let counts: Vec<&str> = said
        .counts
        .iter()
        .map(|at| &said.text[at.clone()])
        .collect();
    assert_eq!(counts, ["12"]);
}

/// A word of number that is put into a plain sentence is read, so that it asks for another count, or the line is in doubt.
#[test]
fn words_of_number_are_accounted_for() {
    let plain = "Fit two M8 x 40 bolts to the front leg";
    let pieces = |text: &str| {
        let list = guide(&format!("Stage 1\n\n{text}\n\nStage 2\n\n1 hex nut 1/2\n"));
        let of = |line: &&Line| line.row == 3;
        let counted = |line: &Line| line.quantity.unwrap_or(0) * u64::from(line.places);
        let sum: u64 = list.lines.iter().filter(of).map(counted).sum();
        let read = |line: &Line| list.status_of(line) == LineStatus::Read;
        (sum, list.lines.iter().filter(of).all(read))
    };
    assert_eq!(pieces(&format!("{plain}.")), (2, true));
    for more in [
        " and a dozen to the rear leg",
        " and a pair at the back",
        ", then a pair at the back",
        " and a third to the rear leg",
        " and another at the back",
        ", then two at the back",
        ", two more at the back",
        ", then to the rear leg",
        ", then the other",
        ", and also to the rear leg",
        ", as does the rear leg",
        ", so does the rear leg",
        "; the rear leg too",
        "; the rear leg likewise",
        "; the rear leg as well",
        ", and the same on the rear leg",
        ", and the same behind it",
        ", and again on the rear leg",
        " each",
        " apiece",
        ", both sides",
        " of each frame",
        ", six in all",
        ", twice",
        ", a further two at the back",
        ", and a second",
    ] {
        let text = format!("{plain}{more}.");
        let (sum, read) = pieces(&text);
        assert!(sum != 2 || !read, "{text}");
    }
}
