//! The labelled corpus of list lines, `tests/corpus/lines.csv`.
//!
//! Its columns: `state` (`plain` for what any reader of the trade takes one way only), the form of
//! writing, the list's heading row if it has one, the line, what it says, and where the habit comes
//! from. The lines are ours. What a line says is `count item; count item`, with pieces at all places
//! and `-` where no count of pieces can be known.

use std::{collections::BTreeMap, fmt::Write as _, path::Path};

use tallybin::{
    kit::{Input, Line, LineStatus, List, Role},
    notation::{Notation, describe},
};

struct Labelled {
    plain: bool,
    form: String,
    heading: String,
    line: String,
    expected: Vec<(String, String)>,
}

/// `24 1/2 hex nut` as count and item.
fn split(label: &str) -> (String, String) {
    let (count, item) = label.split_once(' ').expect("a count and an item");
    (count.to_owned(), item.to_owned())
}

fn corpus() -> Vec<Labelled> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus/lines.csv");
    let mut rows = csv::Reader::from_path(path).expect("the corpus");
    rows.records()
        .map(|row| {
            let row = row.expect("a row of the corpus");
            assert!(["plain", "hard"].contains(&&row[0]), "{row:?}");
            assert!(!row[5].is_empty(), "a habit without its source: {row:?}");
            Labelled {
                plain: &row[0] == "plain",
                form: row[1].to_owned(),
                heading: row[2].to_owned(),
                line: row[3].to_owned(),
                expected: row[4].split("; ").map(split).collect(),
            }
        })
        .collect()
}

/// What the program makes of one line, in a file of its own.
fn read(labelled: &Labelled, path: &Path) -> (Vec<(String, String)>, LineStatus, Vec<String>) {
    let heading = match labelled.heading.as_str() {
        "" => String::new(),
        heading => format!("{heading}\n"),
    };
    std::fs::write(path, format!("{heading}{}\n", labelled.line)).expect("a file for the test");
    let list = List::read(&Input::at(path), "list".into(), Role::Shipped, &|_| {});
    let Ok(list) = list else {
        return (Vec::new(), LineStatus::Aside, Vec::new());
    };
    let shown = |line: &Line| {
        let count = line
            .quantity
            .map_or("-".into(), |n| (n * u64::from(line.places)).to_string());
        list.reading_of(line)
            .map(|reading| (count, reading.item.text()))
    };
    let status = list.lines.iter().map(|line| list.status_of(line)).max();
    let doubts = list
        .lines
        .iter()
        .flat_map(|line| list.doubts_of(line).map(|doubt| doubt.to_string()))
        .collect();
    (
        list.lines.iter().filter_map(shown).collect(),
        status.unwrap_or(LineStatus::Aside),
        doubts,
    )
}

/// How many of the first are among the second, each once.
fn common<T: PartialEq>(a: &[T], b: &[T]) -> usize {
    let mut left: Vec<&T> = b.iter().collect();
    a.iter()
        .filter(|wanted| {
            let at = left.iter().position(|found| found == wanted);
            at.map(|at| left.swap_remove(at)).is_some()
        })
        .count()
}

#[derive(Default)]
struct Sum {
    labelled: usize,
    found: usize,
    items: usize,
    counts: usize,
}

fn percent(part: usize, whole: usize) -> f64 {
    100.0 * part as f64 / whole.max(1) as f64
}

/// Wrong and not doubted must be nothing; at least 98 % of the plain lines must read right with no
/// doubt. Run with `--nocapture` to see precision and recall.
#[test]
fn lines_of_the_corpus() {
    let corpus = corpus();
    assert!(corpus.len() >= 400);
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join("list.txt");
    let mut sums: BTreeMap<&str, Sum> = BTreeMap::new();
    let (mut plain, mut plain_right, mut lines_right) = (0, 0, 0);
    let (mut silent, mut missed, mut doubted) = (String::new(), String::new(), String::new());
    for labelled in &corpus {
        let (found, status, doubts) = read(labelled, &path);
        let expected = &labelled.expected;
        let items = |all: &[(String, String)]| -> Vec<String> {
            all.iter().map(|(_, item)| item.clone()).collect()
        };
        for form in [labelled.form.as_str(), "all"] {
            let sum = sums.entry(form).or_default();
            sum.labelled += expected.len();
            sum.found += found.len();
            sum.items += common(&items(expected), &items(&found));
            sum.counts += common(expected, &found);
        }
        let right = found.len() == expected.len() && common(expected, &found) == found.len();
        lines_right += usize::from(right);
        plain += usize::from(labelled.plain);
        plain_right += usize::from(labelled.plain && right && status == LineStatus::Read);
        let report = match (right, status) {
            (false, LineStatus::Read) => &mut silent,
            (false, _) => &mut missed,
            (true, status) if labelled.plain && status != LineStatus::Read => &mut doubted,
            _ => continue,
        };
        writeln!(
            report,
            "{} {:?}\n    wanted {expected:?}\n    found  {found:?} {doubts:?}",
            labelled.heading, labelled.line
        )
        .expect("writing to a string");
    }
    println!("form           items: precision recall   with counts: precision recall");
    for (form, sum) in &sums {
        println!(
            "{form:<14} {:>15.1} % {:>5.1} % {:>20.1} % {:>5.1} %",
            percent(sum.items, sum.found),
            percent(sum.items, sum.labelled),
            percent(sum.counts, sum.found),
            percent(sum.counts, sum.labelled),
        );
    }
    let plain_rate = percent(plain_right, plain);
    println!(
        "{} lines, {lines_right} right; {plain_right} of {plain} plain ones right with no doubt: {plain_rate:.1} %",
        corpus.len()
    );
    println!(
        "wrong and not doubted:\n{silent}\nwrong, doubted:\n{missed}\nplain, right, doubted:\n{doubted}"
    );
    assert_eq!(silent, "", "wrong and not doubted");
    assert!(plain_rate >= 98.0, "{plain_rate:.1} % of the plain lines");
}

/// A label that does not read back as itself would be a slip of the pen.
#[test]
fn labels_are_canonical() {
    for labelled in corpus() {
        for (_, item) in &labelled.expected {
            let read = describe(item, Notation::default()).expect("a label reads");
            assert_eq!(read[0].item.text(), *item, "{}", labelled.line);
        }
    }
}
