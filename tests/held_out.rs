//! Lines and sentences that the reader was never tuned on: `tests/corpus/held_out_lines.csv` and
//! `held_out_guide.csv`, labelled before the program was run on any.
//!
//! States: `plain`, what a careful person takes one way; `doubt`, what nobody can know, so that it
//! must be doubted; `none`, what asks for no piece. Each line stands among plain lines of a list,
//! each sentence after one of a guide, since neither comes alone. The corpora that may be tuned on
//! are `lines.csv` and `guide.csv`. All is ours, from how the trade writes (common practice, no
//! source).

use std::path::Path;

use tallybin::{
    hardware::{Item, Kind},
    kit::{Input, Line, LineStatus, List, Role, Usage},
    notation::{Notation, describe},
};

/// An item in its canonical words; of a part's name without marks and plurals, by which no two differ.
fn folded(item: &Item) -> String {
    let text = item.text();
    // A nut or washer takes its thread from its bolt, which labels leave open.
    if matches!(item.kind, Some(Kind::Nut | Kind::Washer)) {
        let item = Item {
            thread: None,
            ..item.clone()
        };
        return item.text();
    }
    if item.kind != Some(Kind::Part) {
        return text;
    }
    let words = text
        .split(' ')
        .map(|word| word.trim_end_matches(['.', ',']));
    let words: Vec<&str> = words.map(|word| word.trim_end_matches('s')).collect();
    words.join(" ")
}

/// `8 1/2 hex nut`: pieces at all places, and the item in its canonical words.
fn canonical(label: &str) -> String {
    let (pieces, item) = label.split_once(' ').expect("a count and an item");
    let read = describe(item, Notation::default()).expect("a label reads");
    format!("{pieces} {}", folded(&read[0].item))
}

/// Of `open_lines.csv` and `open_guide.csv`: how many are still wrong without a doubt.
const MOST_LINES: usize = 8;
const MOST_SENTENCES: usize = 1;

#[derive(Default)]
struct Sum {
    rows: usize,
    right: usize,
    right_doubted: Vec<String>,
    wrong_doubted: Vec<String>,
    nothing: usize,
    silent: Vec<String>,
}

impl Sum {
    /// Judges what was made of the rows `wanted` of a text, against its label.
    fn add(&mut self, text: &str, wanted: std::ops::Range<u32>, state: &str, expected: &str) {
        let folder = tempfile::tempdir().expect("a folder for the test");
        let path = folder.path().join("list.txt");
        std::fs::write(&path, text).expect("a file for the test");
        let list = List::read(&Input::at(&path), "list".into(), Role::Required, &|_| {});
        let lines: Vec<(&List, &Line)> = list
            .iter()
            .flat_map(|list| list.lines.iter().map(move |line| (list, line)))
            .filter(|(_, line)| wanted.contains(&line.row))
            .collect();
        // What is thrown away makes no demand.
        let is_waste = |(list, line): &&(&List, &Line)| {
            let usage = list.placement_of(line).usage;
            let waste = matches!(usage, Some(Usage::Discarded | Usage::Reference));
            waste && list.status_of(line) == LineStatus::Read
        };
        let shown = |(list, line): &(&List, &Line)| {
            let reading = list.reading_of(line)?;
            let pieces = line
                .quantity
                .map_or("-".into(), |n| (n * u64::from(line.places)).to_string());
            Some(format!("{pieces} {}", folded(&reading.item)))
        };
        let demanded = lines.iter().filter(|line| !is_waste(line));
        let mut found: Vec<String> = demanded.filter_map(shown).collect();
        // Either of the readings that a label allows.
        let items = |label: &str| {
            let mut items: Vec<String> = label.split("; ").map(canonical).collect();
            items.sort();
            items
        };
        let label: Vec<Vec<String>> = match expected {
            "" => vec![Vec::new()],
            expected => expected.split(" | ").map(items).collect(),
        };
        found.sort();
        let doubted = lines
            .iter()
            .any(|(list, line)| list.status_of(line) != LineStatus::Read);
        // A use or an option that is told apart is said in every output.
        let demands = lines.iter().any(|(list, line)| {
            let placement = list.placement_of(line);
            let new = matches!(placement.usage, None | Some(Usage::New));
            new && placement.option.is_none()
                && line.quantity.is_some_and(|n| n > 0)
                && list.status_of(line) == LineStatus::Read
        });
        let right = match state {
            "plain" => label.contains(&found),
            "doubt" => doubted || !demands,
            "none" => !demands,
            _ => panic!("no state: {state}"),
        };
        let doubts: Vec<String> = lines
            .iter()
            .flat_map(|(list, line)| list.doubts_of(line))
            .map(|doubt| doubt.to_string())
            .collect();
        let told = || {
            format!(
                "{text}    wanted {state} {label:?}\n    found {found:?}\n    doubts {doubts:?}"
            )
        };
        self.rows += 1;
        match (right, doubted) {
            (true, true) if state == "plain" => self.right_doubted.push(told()),
            (true, _) => self.right += 1,
            (false, true) => self.wrong_doubted.push(told()),
            (false, false) if lines.is_empty() => self.nothing += 1,
            (false, false) => {}
        }
        // A line that vanishes among headings and blanks is as silent as a wrong one.
        if !right && !doubted {
            self.silent.push(told());
        }
    }

    fn print(&self, of: &str) {
        println!(
            "{} {of}: {} right, {} right with a doubt, {} wrong with a doubt, {} wrong without ({} of \
             them lost)",
            self.rows,
            self.right,
            self.right_doubted.len(),
            self.wrong_doubted.len(),
            self.silent.len(),
            self.nothing,
        );
        println!("right, doubted:\n{}", self.right_doubted.join("\n"));
        println!("wrong, doubted:\n{}", self.wrong_doubted.join("\n"));
    }
}

fn rows(file: &str) -> Vec<csv::StringRecord> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/corpus")
        .join(file);
    let mut rows = csv::Reader::from_path(path).expect("the corpus");
    rows.records()
        .map(|row| row.expect("a row of the corpus"))
        .collect()
}

/// Rows of a text.
fn height(text: &str) -> u32 {
    text.lines().count() as u32
}

/// What is made of the lines of a file, each between plain lines of a list.
fn of_lines(file: &str) -> Sum {
    let mut sum = Sum::default();
    for row in rows(file) {
        let (state, heading, line) = (&row[0], &row[2], &row[3]);
        assert!(!row[5].is_empty(), "a habit without its source: {row:?}");
        let (before, after) = match heading {
            "" => (
                "12 5/8-11 x 7 hex bolts, galvanized",
                "12 5/8-11 hex nuts, galvanized\n",
            ),
            heading => (heading, ""),
        };
        // A mail that is handed on is quoted throughout.
        let quoted = |of: &str| match line.starts_with('>') && heading.is_empty() {
            true => format!("> {of}"),
            false => of.to_owned(),
        };
        let (before, after) = (quoted(before), quoted(after));
        let start = height(&before) + 1;
        let text = format!("{before}\n{line}\n{after}");
        sum.add(&text, start..start + height(line), state, &row[4]);
    }
    sum
}

/// What is made of the sentences of a file, each after one of a guide.
fn of_sentences(file: &str) -> Sum {
    let mut sum = Sum::default();
    for row in rows(file) {
        assert!(!row[3].is_empty(), "a habit without its source: {row:?}");
        let text = format!(
            "Bolt sill S1 to the footing with two 7/8 x 9 hex bolts.\n\n{}\n",
            &row[1]
        );
        sum.add(&text, 3..3 + height(&row[1]), &row[0], &row[2]);
    }
    sum
}

/// Run with `--nocapture` to see the figures.
#[test]
fn lines() {
    let sum = of_lines("held_out_lines.csv");
    sum.print("lines");
    assert!(sum.rows >= 450);
    assert_eq!(sum.silent.join("\n"), "", "wrong and not doubted");
}

#[test]
fn sentences() {
    let sum = of_sentences("held_out_guide.csv");
    sum.print("sentences");
    assert!(sum.rows >= 300);
    assert_eq!(sum.silent.join("\n"), "", "wrong and not doubted");
}

/// Those of the same labels that were wrong without a doubt when they were first held against the
/// reader, or whose label asks for more than it says it can. One that reads right moves to the files
/// above; none may come back.
#[test]
fn still_open() {
    for (sum, most) in [
        (of_lines("open_lines.csv"), MOST_LINES),
        (of_sentences("open_guide.csv"), MOST_SENTENCES),
    ] {
        sum.print("open");
        println!("{}", sum.silent.join("\n"));
        assert!(sum.silent.len() <= most, "{}", sum.silent.join("\n"));
    }
}
