//! Anything may be fed to the readers: numerals, descriptions, sentences and the bytes of files. None
//! may panic, and no digit of a description may vanish.
//!
//! The runs are bounded and the same each time, so that a change fails by what it changed;
//! `TALLYBIN_FUZZ=100000 cargo test --test fuzz` makes so many of each, others each time.

use std::path::Path;

use proptest::{prelude::*, test_runner::RngSeed};
use tallybin::{
    hardware::Kind,
    kit::{Input, Line, LineStatus, List, Role},
    notation::{self, Callout, Notation, Role as Taken, amount, describe, readings, sentence},
};

fn runs(few: u32) -> ProptestConfig {
    let cases = std::env::var("TALLYBIN_FUZZ")
        .ok()
        .and_then(|runs| runs.parse().ok());
    ProptestConfig {
        rng_seed: match cases {
            Some(_) => RngSeed::Random,
            None => RngSeed::Fixed(1),
        },
        cases: cases.unwrap_or(few),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// The lines of the corpora, to start from.
fn seeds() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus");
    let column = |file: &str, column: usize| -> Vec<String> {
        csv::Reader::from_path(folder.join(file))
            .expect("the corpus")
            .records()
            .map(|row| row.expect("a row of the corpus")[column].to_owned())
            .collect()
    };
    [column("lines.csv", 3), column("guide.csv", 1)].concat()
}

/// A line of the corpora with some of its characters lost, doubled, swapped or replaced.
fn damaged() -> impl Strategy<Value = String> {
    let edit = (any::<prop::sample::Index>(), 0..4u8, any::<char>());
    (
        prop::sample::select(seeds()),
        prop::collection::vec(edit, 0..6),
    )
        .prop_map(|(line, edits)| {
            let mut chars: Vec<char> = line.chars().collect();
            for (at, kind, other) in edits {
                if chars.is_empty() {
                    break;
                }
                let at = at.index(chars.len());
                match kind {
                    0 => drop(chars.remove(at)),
                    1 => chars.insert(at, chars[at]),
                    2 => chars.swap(at, 0),
                    _ => chars[at] = other,
                }
            }
            chars.into_iter().collect()
        })
}

/// Phrases that say something, among noise, in any order.
fn mixture() -> impl Strategy<Value = String> {
    let phrase = prop::sample::select(vec![
        "24 1/2 x 3 hex bolts",
        "1/2-13 x 3-3/4 HHCS",
        "M8x1.25x40",
        "5/8 flat washers",
        "two 3/8 lock nuts",
        "three eighths by four and a half",
        "c/w nut and 2 washers",
        "qty 12",
        "(6)",
        "2 bags of 25",
        "box of 100",
        "6 sets",
        "both ends",
        "each corner",
        "P/N 1120-0002",
        "FB-210",
        "@ $0.85 ea",
        "$12.50 per M",
        "75 ft-lb",
        "80 N·m",
        "Gr 5",
        "18-8 SS",
        "ISO 4032",
        "8-Mar",
        "1/1/2002",
        "3 8",
        "1 5/8",
        "10 24",
        "12.",
        "(a)",
        "see note 2",
        "for 2x6 rail",
        "10 ft of",
        "about",
    ]);
    let noise = prop_oneof![
        "[0-9]{1,4}",
        "[0-9]{1,2}/[0-9]{1,2}",
        "[a-z]{1,7}",
        "[A-Z]{1,2}-?[0-9]{1,4}",
        "[-,;:/()+&*x#.]",
    ];
    let piece = prop_oneof![2 => phrase.prop_map(str::to_owned), 1 => noise];
    prop::collection::vec(piece, 1..7).prop_map(|pieces| pieces.join(" "))
}

/// What guides say, and noise between.
fn prose() -> impl Strategy<Value = String> {
    let phrase = prop::sample::select(vec![
        "Fasten the shoe to the girder with",
        "then fit",
        "and",
        ", and",
        "using",
        "four 5/8 x 6 in hex bolts",
        "8 1/2 flat washers",
        "two 3/8 lock nuts",
        "24 #10 x 3 deck screws",
        "M12 x 80 carriage bolts",
        "three eighths by four and a half lag screws",
        "the two 1/2 x 2 hex bolts",
        "four of the 5/8 bolts",
        "two washers per bolt",
        "4 or 5 1/2 nuts",
        "in each of the three rails",
        "both ends",
        "at posts 3 and 4",
        "on all 4 posts",
        "rail 1 and rail 2",
        "step 4",
        "see figure 2",
        "torque to 35 ft-lb",
        "2 in from the edge",
        "along the 2x6 rail",
        "the 1/4 plate",
        "3 boards",
        "P/N 1120-0002",
        "FB-210",
        "every 12 in",
        "Grade 5",
    ]);
    let noise = prop_oneof![
        "[0-9]{1,4}",
        "[0-9]{1,2}/[0-9]{1,2}",
        "[a-z]{1,7}",
        "[A-Z]{1,2}-?[0-9]{1,4}",
        "[-,;:/()+&*x#]",
    ];
    let piece = prop_oneof![3 => phrase.prop_map(str::to_owned), 1 => noise];
    prop::collection::vec(piece, 1..9).prop_map(|pieces| pieces.join(" "))
}

/// Every digit of a sentence that names items is one of theirs, or of a torque, a place, a name or a
/// measure, or is told as left over.
fn check_sentence(text: &str) -> Result<(), TestCaseError> {
    let said = sentence(text, Notation::default());
    for call in &said.calls {
        let phrase = said.text[call.at.clone()].trim();
        let (text, pieces) = notation::pieces(text, phrase, Notation::default());
        let callouts: Vec<Callout> = said.calls.iter().map(|call| call.callout.clone()).collect();
        let mut told = told(&callouts);
        for doubt in &said.doubts {
            told += &doubt.to_string().to_uppercase();
        }
        for (at, digit) in text.char_indices().filter(|(_, c)| c.is_ascii_digit()) {
            let piece = pieces.iter().find(|piece| piece.at.contains(&at));
            prop_assert!(piece.is_some(), "{text:?}: {digit} at {at} is in no piece");
            let Some(piece) = piece else { continue };
            let written = text[piece.at.clone()].to_uppercase();
            let is_told = match piece.role {
                Some(role) => role != Taken::Told,
                // `8M10` may be told as an 8 and an M10.
                None => written
                    .split(|c: char| !c.is_ascii_digit())
                    .filter(|run| run.contains(digit))
                    .all(|run| told.contains(run)),
            };
            prop_assert!(is_told, "{text:?}: {written:?} is passed over:\n{told}");
        }
    }
    Ok(())
}

/// All that is told of a text: its items, their numbers, the doubts.
fn told(callouts: &[Callout]) -> String {
    let mut told = String::new();
    for callout in callouts {
        told += &callout.item.text();
        told += callout.part_number.as_deref().unwrap_or_default();
        // `rafter ties: 14 left, 14 right`: of each hand its count.
        if let (Some(Kind::Part), Some(quantity)) = (callout.item.kind, callout.quantity) {
            told += &format!(" {}", quantity.pieces);
        }
        for doubt in &callout.doubts {
            told += "\n";
            told += &doubt.to_string();
        }
        told += "\n";
    }
    told.to_uppercase()
}

/// Every digit is in a piece that was taken for something, or is told in a doubt, or in the name of
/// a part; a text without an item is kept whole by its caller.
fn check_digits(text: &str) -> Result<(), TestCaseError> {
    let read = readings(text, Notation::default());
    let Some(first) = read.alternatives.first() else {
        return Ok(());
    };
    let told = told(&first.callouts);
    let part = first
        .callouts
        .iter()
        .any(|callout| callout.item.kind == Some(Kind::Part));
    for (at, digit) in text.char_indices().filter(|(_, c)| c.is_numeric()) {
        let piece = read.pieces.iter().find(|piece| piece.at.contains(&at));
        prop_assert!(piece.is_some(), "{text:?}: {digit} at {at} is in no piece");
        let Some(piece) = piece else { continue };
        let written = text[piece.at.clone()].to_uppercase();
        // Words between two runs of what is left over are told apart.
        let runs = written
            .split(|c: char| !c.is_alphanumeric())
            .filter(|run| run.contains(digit));
        let is_told = piece.role.is_some()
            || runs.clone().all(|run| told.contains(run))
            || (part && told.contains(digit));
        prop_assert!(
            is_told,
            "{text:?}: {written:?} is taken for nothing and not told:\n{told}"
        );
    }
    Ok(())
}

proptest! {
    #![proptest_config(runs(400))]

    #[test]
    fn no_digit_vanishes_from_a_mixture(text in mixture()) {
        check_digits(&text)?;
    }

    #[test]
    fn no_digit_vanishes_from_a_damaged_line(text in damaged()) {
        check_digits(&text)?;
    }

    #[test]
    fn no_digit_vanishes_from_a_sentence(text in prose()) {
        check_sentence(&text)?;
    }

    #[test]
    fn no_digit_vanishes_from_a_damaged_sentence(text in damaged()) {
        check_sentence(&text)?;
    }

    /// What a file's row is explained by holds all of its figures.
    #[test]
    fn no_digit_vanishes_from_a_row(text in mixture()) {
        let folder = tempfile::tempdir().expect("a folder for the test");
        let path = folder.path().join("list.txt");
        std::fs::write(&path, format!("4 1/2 hex nuts\n{text}\n")).expect("a file for the test");
        let input = Input { keep_words: true, ..Input::at(&path) };
        let list = List::read(&input, "list".into(), Role::Shipped, &|_| {}).expect("a list");
        // In any order: a count may stand before or behind its item.
        let figures = |text: &str| {
            let mut all: Vec<char> = text.chars().filter(char::is_ascii_digit).collect();
            all.sort_unstable();
            all
        };
        let of_row = list.words.iter().filter(|words| words.row == 2).map(|words| {
            let mut all: Vec<&str> = words.beside.iter().map(|(_, text)| &**text).collect();
            all.extend(words.item.iter().map(|text| &**text));
            figures(&all.concat())
        });
        // Of a row in which items are parted each is explained by its own words.
        let of_row: Vec<Vec<char>> = of_row.collect();
        let whole = figures(&text);
        let each = of_row.iter().all(|one| *one == whole);
        let mut together = of_row.concat();
        together.sort_unstable();
        prop_assert!(each || together == whole, "{of_row:?} of {text:?}");
    }

    /// The first of the readings is what is read.
    #[test]
    fn readings_and_description_agree(text in mixture()) {
        let read = readings(&text, Notation::default()).alternatives;
        let first = read.first().map(|way| way.callouts.clone());
        prop_assert_eq!(describe(&text, Notation::default()).ok(), first);
        prop_assert!(read.is_sorted_by(|a, b| a.score >= b.score));
    }

    #[test]
    fn numbers(text in "[0-9/., ½¾⅜×x#MmØ\"'-]{0,24}", decimal_comma: bool, counted: bool) {
        let notation = Notation { decimal_comma, counted, ..Notation::default() };
        let _ = amount(&text, notation);
        let _ = describe(&text, notation);
    }

    #[test]
    fn descriptions(text in prop_oneof![damaged(), any::<String>()]) {
        let _ = describe(&text, Notation::default());
    }

    #[test]
    fn sentences(text in prop_oneof![damaged(), any::<String>()]) {
        let said = sentence(&text, Notation::default());
        for call in said.calls {
            prop_assert!(call.at.end <= said.text.len());
        }
        let _ = notation::torque::read(&text);
    }
}

/// A sentence that calls for so many bolts and has one number more, and those two.
fn second_number() -> impl Strategy<Value = (String, u64, u64)> {
    let ways = [
        "On the {n} {w}s, fasten the strap to the girder with {b}.",
        "Fasten the strap to the {n} {w}s with {b}.",
        "Fasten the strap to {n} {w}s with {b}.",
        "Fasten the strap with {b} to {n} {w}s.",
        "Fasten the strap with {b} at {n} {w}s.",
        "Fasten the strap with {b}, {n} to a {w}.",
        "Fasten the strap with {b}, {n} per {w}.",
        "Fasten the strap with {b}, {n} in each {w}.",
        "Fasten the strap with {b} and {n} in the {w}.",
        "Fasten the strap with {b} on the rail and {n} into the {w}.",
        "Fasten the strap with {b} on each of {n} {w}s.",
        "Fasten the strap with {b} on each of the {n} {w}s.",
        "Fasten the strap with {b} per {w}, {n} {w}s in all.",
        "There are {n} {w}s; fasten each with {b}.",
        "With {n} {w}s in place, fasten the strap with {b}.",
        "The {n} {w}s are held by {b}.",
        "Lay out {n} {w}s and fasten them with {b}.",
        "Fasten the strap with {b} and {n} of the {w}s.",
    ];
    let numbers = [("two", 2), ("four", 4), ("6", 6), ("nine", 9), ("12", 12)];
    (
        prop::sample::select(ways.to_vec()),
        prop::sample::select(numbers.to_vec()),
        prop::sample::select(vec![
            "post", "rafter", "plinth", "hurdle", "stile", "glider",
        ]),
        prop::sample::select(vec![("three", 3), ("5", 5), ("seven", 7)]),
    )
        .prop_map(|(way, (n, number), thing, (count, pieces))| {
            let bolts = format!("{count} M8 x 40 hex bolts");
            let text = way.replace("{n}", n).replace("{w}", thing);
            (text.replace("{b}", &bolts), pieces, number)
        })
}

/// A sentence that puts to use what nothing in front of it has called for.
fn put_to_use() -> impl Strategy<Value = String> {
    let verbs = [
        "Use",
        "Fit",
        "Insert",
        "Add",
        "Fasten the strap with",
        "Now put in",
    ];
    let which = [
        "",
        "some",
        "the",
        "the remaining",
        "the rest of the",
        "more",
        "a few",
        "the same",
        "enough",
        "the long",
        "all the",
        "two of the",
        "the other",
        "both",
    ];
    let nouns = [
        "bolts",
        "M8 bolts",
        "lag screws",
        "nuts",
        "flat washers",
        "carriage bolts",
    ];
    let behind = ["", " at the ridge", " on the right side", " into the rail"];
    let words = |all: &[&'static str]| prop::sample::select(all.to_vec());
    (words(&verbs), words(&which), words(&nouns), words(&behind)).prop_map(
        |(verb, which, noun, behind)| format!("{verb} {which} {noun}{behind}.").replace("  ", " "),
    )
}

/// A guide of one sentence, and a line of another stage.
fn guide(text: &str) -> List {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join("guide.txt");
    std::fs::write(
        &path,
        format!("Stage 1\n\n{text}\n\nStage 2\n\n1 hex nut 1/2\n"),
    )
    .expect("a file for the test");
    List::read(&Input::at(&path), "guide".into(), Role::Required, &|_| {}).expect("a guide")
}

proptest! {
    #![proptest_config(runs(300))]

    /// A number beside a callout counts, multiplies or adds; else it is a doubt.
    #[test]
    fn each_number_of_a_sentence_is_spoken_for((text, count, number) in second_number()) {
        let list = guide(&text);
        let lines = || list.lines.iter().filter(|line| line.row == 3);
        let sure = lines().all(|line| list.status_of(line) == LineStatus::Read);
        let places = |line: &Line| line.quantity.unwrap_or(0) * u64::from(line.places);
        let pieces: u64 = lines().map(places).sum();
        let known = [count * number, count + number, number].contains(&pieces);
        prop_assert!(lines().count() > 0 && (known || !sure), "{text}: {pieces}");
    }

    /// A sentence that puts hardware to use makes a line, or says that it does not know of what.
    #[test]
    fn what_is_put_to_use_is_told(text in put_to_use()) {
        prop_assert!(guide(&text).lines.iter().any(|line| line.row == 3), "{text}");
    }
}

/// Reads bytes as a file of a list: whatever they are, it is a list or an error that says why.
fn read_file(path: &Path, bytes: &[u8]) {
    std::fs::write(path, bytes).expect("a file for the test");
    for role in [Role::Required, Role::Shipped, Role::Counted] {
        if let Err(error) = List::read(&Input::at(path), "list".into(), role, &|_| {}) {
            assert!(!error.to_string().is_empty());
        }
    }
}

/// The samples' own files, to start from.
fn files() -> Vec<(&'static str, Vec<u8>)> {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples");
    [
        ("list.xlsx", "footbridge/parts-list.xlsx"),
        ("list.csv", "footbridge/packing-slip.csv"),
        ("list.txt", "footbridge/guide.txt"),
        ("list.txt", "shelter/packing-note.txt"),
        ("list.csv", "shelter/parts.csv"),
    ]
    .map(|(name, path)| (name, std::fs::read(samples.join(path)).expect("a sample")))
    .to_vec()
}

proptest! {
    #![proptest_config(runs(24))]

    #[test]
    fn files_of_any_bytes(
        bytes in prop::collection::vec(any::<u8>(), 0..600),
        name in prop::sample::select(vec!["list.xlsx", "list.xls", "list.ods", "list.csv", "list.txt"]),
    ) {
        let folder = tempfile::tempdir().expect("a folder for the test");
        read_file(&folder.path().join(name), &bytes);
    }

    #[test]
    fn damaged_files(
        (name, bytes) in prop::sample::select(files()),
        edits in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12),
        cut in prop::option::of(any::<prop::sample::Index>()),
    ) {
        let mut bytes = bytes;
        for (at, byte) in edits {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        if let Some(cut) = cut {
            bytes.truncate(cut.index(bytes.len()));
        }
        let folder = tempfile::tempdir().expect("a folder for the test");
        read_file(&folder.path().join(name), &bytes);
    }
}
