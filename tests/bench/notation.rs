//! How fast words are read, on one core, each beside a floor taken in the same run:
//! `cargo bench --bench notation`; `-- sentences` behind it measures those alone whose name holds the
//! word.
//!
//! The floor is what it takes to look at each word once: the text is cut at white space, and each
//! word is hashed. Floor and work take turns, and the middle time of each counts.

use std::{
    hash::{BuildHasher as _, BuildHasherDefault},
    hint::black_box,
    process::{Command, ExitCode},
    time::{Duration, Instant},
};

use rustc_hash::FxHasher;
use tallybin::notation::{Notation, describe, sentence};

/// How often floor and work take turns.
const TURNS: usize = 5;
/// A line that takes so many times the time of its half fails the run.
const NOT_LINEAR: f64 = 3.0;

const DIAMETERS: [&str; 8] = [
    "1/4-20", "5/16-18", "3/8-16", "7/16-14", "1/2-13", "5/8-11", "M10", "M12",
];
const KINDS: [&str; 8] = [
    "hex bolt",
    "HHCS",
    "carriage bolt",
    "SHCS",
    "button head cap screw",
    "lag screw",
    "flat head screw",
    "hex bolt",
];
const GRADES: [&str; 4] = ["", ", Grade 5", " 18-8", " A307"];
const FINISHES: [&str; 5] = ["", ", zinc plated", " HDG", " plain", " ZP"];

/// Descriptions as lists write them, all different.
fn descriptions() -> Vec<String> {
    let mut all = Vec::new();
    for diameter in DIAMETERS {
        for kind in KINDS {
            for grade in GRADES {
                for finish in FINISHES {
                    for n in 1..=20 {
                        let length = match diameter.starts_with('M') {
                            true => format!("{}", n * 5 + 20),
                            false => format!("{}-{}/8", n % 9 + 1, 2 * (n % 4) + 1),
                        };
                        let count = match n % 3 {
                            0 => format!("{} ", n * 4),
                            1 => format!("({n}) "),
                            _ => String::new(),
                        };
                        all.push(format!(
                            "{count}{diameter} x {length} {kind}{grade}{finish}"
                        ));
                    }
                }
            }
        }
    }
    all.sort();
    all.dedup();
    all
}

/// The same descriptions, each in words that no other has: the case of its letters is its own.
fn each_in_its_words(texts: &[String]) -> Vec<String> {
    let worded = |(number, text): (usize, &String)| {
        let mut letters = 0;
        let cased = text.chars().map(|c| {
            letters += u32::from(c.is_ascii_alphabetic());
            match number >> (letters % 15) & 1 {
                0 => c.to_ascii_lowercase(),
                _ => c.to_ascii_uppercase(),
            }
        });
        cased.collect()
    };
    texts.iter().enumerate().map(worded).collect()
}

/// Dictated lines and lines whose numerals run together.
fn dictated() -> Vec<String> {
    let counts = ["four", "8", "twelve", "2", "16"];
    let sizes = [
        "five eighths",
        "3 8",
        "1/2",
        "three quarter",
        "half inch",
        "1 2",
    ];
    let lengths = ["two and a half", "6", "four and three quarter", "3 1/2"];
    let kinds = [
        "hex bolts",
        "carriage bolts",
        "bolts with nuts",
        "lag screws",
    ];
    let mut all = Vec::new();
    for count in counts {
        for size in sizes {
            for length in lengths {
                for kind in kinds {
                    all.push(format!("{count} {size} by {length} {kind}"));
                }
            }
        }
    }
    all
}

fn sentences() -> Vec<String> {
    let places = ["girder", "north post", "hoop", "rail", "base plate"];
    let verbs = [
        "Fasten the shoe to the",
        "Bolt the brace to the",
        "Secure the bracket at the",
    ];
    let counts = ["two", "four", "six", "eight"];
    let sizes = ["5/8 x 6", "1/2-13 x 3-1/2", "M12 x 80", "3/8 x 4"];
    let ends = [
        ", both sides.",
        " and torque to 45 ft-lb.",
        ".",
        ", one at each corner.",
    ];
    let mut all = Vec::new();
    for place in places {
        for verb in verbs {
            for count in counts {
                for size in sizes {
                    for end in ends {
                        all.push(format!(
                            "{verb} {place} with {count} {size} hex bolts, {count} flat washers and {count} nylon-insert nuts{end}"
                        ));
                    }
                }
            }
        }
    }
    all
}

fn look_at(text: &str) -> u64 {
    let hasher = BuildHasherDefault::<FxHasher>::default();
    text.split_whitespace()
        .fold(0, |sum, word| sum ^ hasher.hash_one(word))
}

fn time(work: &dyn Fn() -> u64) -> Duration {
    let start = Instant::now();
    black_box(work());
    start.elapsed()
}

/// The middle times of floor and work, taken by turns.
fn by_turns(floor: &dyn Fn() -> Duration, work: &dyn Fn() -> Duration) -> (Duration, Duration) {
    let (mut floors, mut works) = (Vec::new(), Vec::new());
    for _ in 0..TURNS {
        floors.push(floor());
        works.push(work());
    }
    floors.sort();
    works.sort();
    (floors[TURNS / 2], works[TURNS / 2])
}

/// Measures how many texts a second are read, and how that stands to looking at their words.
fn rate(name: &str, aim: &str, texts: &[String], read: impl Fn(&str) -> u64) {
    let repeats = (200_000 / texts.len()).max(1) as u64;
    let all = |read: &dyn Fn(&str) -> u64| {
        (0..repeats)
            .flat_map(|_| texts)
            .fold(0, |sum, text| sum ^ read(text))
    };
    let (floor, work) = by_turns(&|| time(&|| all(&look_at)), &|| time(&|| all(&read)));
    let read = repeats as f64 * texts.len() as f64;
    println!(
        "{name:<44} {:>9.0} a second  ratio to its words {:>6.1}  (aim: {aim})",
        read / work.as_secs_f64(),
        work.as_secs_f64() / floor.as_secs_f64(),
    );
}

/// The argument that makes of this program one that reads a single line, and prints for how many nanoseconds.
const LINE: &str = "--line";

fn time_line(piece: &str, bytes: usize) {
    let line = |bytes: usize| piece.repeat(bytes / piece.len());
    // Patterns are compiled beforehand.
    items(&line(1 << 10));
    let line = line(bytes);
    println!("{}", time(&|| items(&line)).as_nanos());
}

/// How long a line takes in a process of its own, as a user would read it: in one that has read such a line before,
/// memory is at hand up to a size, which would be measured in place of the reading.
fn line_in_a_process(piece: &str, bytes: usize) -> Duration {
    let output = std::env::current_exe().and_then(|program| {
        Command::new(program)
            .args([LINE, piece, &bytes.to_string()])
            .output()
    });
    let printed = String::from_utf8(output.expect("it starts again").stdout);
    let nanoseconds = printed.expect("it prints figures");
    Duration::from_nanos(nanoseconds.trim().parse().expect("it prints how long"))
}

fn items(text: &str) -> u64 {
    describe(text, Notation::default()).map_or(0, |all| all.len() as u64)
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if let [flag, piece, bytes] = arguments.as_slice()
        && flag == LINE
    {
        time_line(piece, bytes.parse().expect("it is a number"));
        return ExitCode::SUCCESS;
    }
    // `cargo test --benches` builds and starts this too: there is nothing to test here.
    if !arguments.iter().any(|argument| argument == "--bench") {
        return ExitCode::SUCCESS;
    }
    let word = (arguments.iter()).find(|word| !word.starts_with('-'));
    let wanted = |name: &str| {
        word.as_ref()
            .is_none_or(|word| name.contains(word.as_str()))
    };
    let rate = |name: &str, aim: &str, texts: &[String], read: &dyn Fn(&str) -> u64| {
        if wanted(name) {
            rate(name, aim, texts, read);
        }
    };
    rate(
        "distinct descriptions",
        "1,000,000 a second",
        &descriptions(),
        &items,
    );
    rate(
        "descriptions, each in words of its own",
        "none",
        &each_in_its_words(&descriptions()),
        &items,
    );
    rate(
        "dictated and run-together lines",
        "none",
        &dictated(),
        &items,
    );
    rate(
        "sentences of a guide",
        "100,000 a second",
        &sentences(),
        &|text| sentence(text, Notation::default()).calls.len() as u64,
    );
    // One line of a megabyte: twice the time of half of it, if reading is linear.
    let mut linear = true;
    for piece in [
        "1/2 x 3 hex bolts, ",
        "4 5/8 ",
        "3 8 ",
        "no words of the trade at all ",
        "((((",
        "1/2-13 x ",
        "twenty ",
        "c/w nut and ",
        "8-Mar hex nut ",
        "M8 x 30 (20), ",
        "0x",
        "M8M",
        "$",
        "doz ",
        "box/100 ",
        "2 bags of ",
    ] {
        let name = format!("a line of 1 MB of {piece:<32?}");
        if !wanted(&name) {
            continue;
        }
        let of = |bytes| line_in_a_process(piece, bytes);
        let (floor, work) = by_turns(&|| of(1 << 19), &|| of(1 << 20));
        let ratio = work.as_secs_f64() / floor.as_secs_f64();
        println!(
            "{name} {:>8.1} ms  ratio to half of it {ratio:>6.2}  (aim: 2)",
            work.as_secs_f64() * 1e3,
        );
        linear &= ratio < NOT_LINEAR;
    }
    if !linear {
        eprintln!("a line takes {NOT_LINEAR} times the time of its half, or more");
        return ExitCode::FAILURE;
    }
    ExitCode::SUCCESS
}
