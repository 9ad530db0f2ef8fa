//! Benchmarks, each as a ratio to a floor measured in the same run: `cargo bench`.
//!
//! The work is the program itself, started as a user would start it; the floor is what the library
//! below needs for the same files. Floor and work take turns, and the middle time of each counts,
//! so that a busy machine slows both. Peak memory is that of one more run.

mod memory;
mod report;
mod shapes;

use std::{
    fs::File,
    io::{BufWriter, Write as _},
    path::{Path, PathBuf},
    process::{Command, Stdio},
    time::{Duration, Instant},
};

use calamine::Reader as _;
use tallybin::{
    kit::{Input, Job, List, Role},
    settle::settle,
};

/// What a run may take beside its share of the input: 32 MB.
const HOUSE: u64 = 32 << 20;
/// How often floor and work take turns.
const TURNS: usize = 5;

/// A repeatable stream of numbers (xorshift64), so that every run measures the same files.
struct Stream(u64);

impl Stream {
    fn below(&mut self, n: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % n
    }
}

const DIAMETERS: [&str; 8] = [
    "1/4-20", "5/16-18", "3/8-16", "7/16-14", "1/2-13", "5/8-11", "3/4-10", "7/8-9",
];
const EIGHTHS: [&str; 8] = ["", "-1/8", "-1/4", "-3/8", "-1/2", "-5/8", "-3/4", "-7/8"];
const KINDS: [&str; 12] = [
    "hex bolt",
    "HHCS",
    "hex head cap screw",
    "carriage bolt",
    "CB",
    "round head square neck bolt",
    "socket head cap screw",
    "SHCS",
    "button head cap screw",
    "BHCS",
    "flat head cap screw",
    "FHCS",
];
const GRADES: [&str; 6] = ["", " GR5", " Grade 5", " gr. 8", " 18-8", " A307"];
const FINISHES: [&str; 6] = ["", " zinc plated", " ZP", " HDG", " plain", " black oxide"];

/// How many descriptions there are; `description` of numbers below this are all written differently.
const DESCRIPTIONS: u64 = 8 * 8 * 11 * 12 * 6 * 6;

fn description(mut n: u64) -> String {
    let mut digit = |base: usize| {
        let digit = (n % base as u64) as usize;
        n /= base as u64;
        digit
    };
    format!(
        "{} x {}{} {}{}{}",
        DIAMETERS[digit(8)],
        digit(11) + 1,
        EIGHTHS[digit(8)],
        KINDS[digit(12)],
        GRADES[digit(6)],
        FINISHES[digit(6)],
    )
}

/// A list of `lines` lines with `distinct` descriptions.
fn write_list(
    path: &Path,
    seed: u64,
    lines: u64,
    distinct: u64,
    quantity: &str,
) -> std::io::Result<()> {
    assert!(distinct <= DESCRIPTIONS);
    let mut out = BufWriter::new(File::create(path)?);
    let mut stream = Stream(seed);
    writeln!(out, "Stage,Description,{quantity},Bag")?;
    for line in 0..lines {
        let n = if distinct == lines {
            line
        } else {
            stream.below(distinct)
        };
        let (stage, pieces, bag) = (
            stream.below(200) + 1,
            stream.below(40) + 1,
            stream.below(60) + 1,
        );
        // A step coprime to the number of descriptions spreads few over all sizes and kinds.
        writeln!(
            out,
            "Stage {stage},{},{pieces},{bag}",
            description(n * 60_719 % DESCRIPTIONS)
        )?;
    }
    out.flush()
}

/// Reads both files with the csv crate and does nothing with them.
fn read_with_csv(files: &[PathBuf]) -> u64 {
    let mut fields = 0;
    for file in files {
        let mut reader = csv::ReaderBuilder::new()
            .flexible(true)
            .from_path(file)
            .expect("the list was written");
        let mut record = csv::ByteRecord::new();
        while reader
            .read_byte_record(&mut record)
            .expect("the list is valid")
        {
            fields += record.len() as u64;
        }
    }
    fields
}

/// Rows and columns of the workbook that is read.
const ROWS: u32 = 100_000;
const COLUMNS: u16 = 12;

/// A parts list as a spreadsheet program saves it: titles, words and figures in twelve columns.
fn write_workbook(path: &Path) -> Result<(), rust_xlsxwriter::XlsxError> {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    let headings = [
        "Line",
        "Stage",
        "Part no.",
        "Description",
        "Qty",
        "Places",
        "Bag",
        "Place",
        "Torque",
        "Note",
        "Weight",
        "Price",
    ];
    assert_eq!(headings.len(), usize::from(COLUMNS));
    for (column, heading) in (0..).zip(headings) {
        sheet.write(0, column, heading)?;
    }
    let mut stream = Stream(0x2545_f491_4f6c_dd1d);
    for row in 1..ROWS {
        let (n, stage) = (stream.below(5_000), stream.below(200));
        sheet.write(row, 0, row)?;
        sheet.write(row, 1, format!("Stage {}", stage + 1))?;
        sheet.write(row, 2, format!("FB-{:05}", n))?;
        sheet.write(row, 3, description(n * 60_719 % DESCRIPTIONS))?;
        sheet.write(row, 4, (stream.below(40) + 1) as u32)?;
        sheet.write(row, 5, (stream.below(4) + 1) as u32)?;
        sheet.write(row, 6, format!("{}", stage / 4 + 1))?;
        sheet.write(
            row,
            7,
            ["north", "south", "both ends"][stream.below(3) as usize],
        )?;
        // What is called for goes with the item.
        sheet.write(row, 8, ["", "35 ft-lb", "75 ft-lb"][(n % 3) as usize])?;
        sheet.write(
            row,
            9,
            ["", "see drawing", "site fit"][(n / 3 % 3) as usize],
        )?;
        sheet.write(row, 10, stream.below(5_000) as f64 / 100.0)?;
        sheet.write(row, 11, stream.below(500) as f64 / 100.0)?;
    }
    book.save(path)
}

/// Reads a workbook's first sheet with calamine and does nothing with it.
fn read_with_calamine(path: &Path) -> u64 {
    let mut book: calamine::Xlsx<_> =
        calamine::open_workbook(path).expect("the workbook was written");
    let name = book.sheet_names()[0].clone();
    let range = book.worksheet_range(&name).expect("the sheet is there");
    range.used_cells().count() as u64
}

/// The argument that makes of this program what calamine takes by itself.
const CALAMINE: &str = "--calamine";

fn tallybin(arguments: &[&str]) -> u64 {
    let output = Command::new(env!("CARGO_BIN_EXE_tallybin"))
        .args(arguments)
        .stdout(Stdio::null())
        .stderr(Stdio::inherit())
        .status()
        .expect("the program starts");
    assert!(output.success(), "tallybin {arguments:?} failed");
    1
}

fn time(work: impl FnOnce() -> u64) -> Duration {
    let start = Instant::now();
    std::hint::black_box(work());
    start.elapsed()
}

/// Measures work against its floor by turns, and prints one line.
fn ratio(name: &str, aim: &str, floor: impl Fn() -> u64, work: impl Fn() -> u64) {
    let mut floors = Vec::new();
    let mut works = Vec::new();
    for _ in 0..TURNS {
        floors.push(time(&floor));
        works.push(time(&work));
    }
    floors.sort();
    works.sort();
    let (floor, work) = (floors[TURNS / 2], works[TURNS / 2]);
    println!(
        "{name:<58} floor {:>8.1} ms  work {:>8.1} ms  ratio {:>6.2}  (aim: {aim})",
        floor.as_secs_f64() * 1e3,
        work.as_secs_f64() * 1e3,
        work.as_secs_f64() / floor.as_secs_f64(),
    );
}

/// 10,000 items in 200 stages, counted, some short and some over, and a rule for each tenth: the parts
/// list, the count, the rules.
fn write_rules_job(folder: &Path) -> std::io::Result<[PathBuf; 3]> {
    let files = ["parts.csv", "count.csv", "rules.csv"].map(|name| folder.join(name));
    let [mut parts, mut count, mut rules] = [
        BufWriter::new(File::create(&files[0])?),
        BufWriter::new(File::create(&files[1])?),
        BufWriter::new(File::create(&files[2])?),
    ];
    writeln!(parts, "Stage,Description,Qty")?;
    writeln!(count, "Description,Good")?;
    writeln!(rules, "for,longer by,grades up,approved by")?;
    for line in 0..10_000 {
        let item = description(line * 60_719 % DESCRIPTIONS);
        writeln!(parts, "Stage {},{item},{}", line % 200 + 1, line % 7 + 4)?;
        writeln!(count, "{item},{}", line * 13 % 17)?;
        if line % 10 == 0 {
            writeln!(rules, "{item},1/2,1,the bench")?;
        }
    }
    for out in [&mut parts, &mut count, &mut rules] {
        out.flush()?;
    }
    Ok(files)
}

fn main() -> std::io::Result<()> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if let [flag, path] = arguments.as_slice()
        && flag == CALAMINE
    {
        std::hint::black_box(read_with_calamine(path.as_ref()));
        return Ok(());
    }
    // `cargo test --benches` builds and starts this too: there is nothing to test here.
    if !arguments.iter().any(|argument| argument == "--bench") {
        return Ok(());
    }
    // `cargo bench -- xlsx` measures that alone.
    let wanted = |name: &str| {
        let mut names = arguments
            .iter()
            .filter(|argument| !argument.starts_with('-'));
        names.clone().next().is_none() || names.any(|wanted| name.contains(wanted.as_str()))
    };
    let folder = tempfile::tempdir()?;
    for (name, aim, lines, distinct) in [
        (
            "1,000,000 + 1,000,000 lines of csv, 5,000 distinct, to JSON",
            "3",
            1_000_000,
            5_000,
        ),
        (
            "300,000 + 300,000 lines of csv, all distinct, to JSON",
            "15",
            300_000,
            300_000,
        ),
    ] {
        if wanted(name) {
            delimited(folder.path(), name, aim, lines, distinct)?;
        }
    }
    let name = "100,000 rows of 12 columns of xlsx, to JSON";
    if wanted(name) {
        workbook(folder.path(), name)?;
    }
    if wanted("report and audit") {
        report::report_and_audit(folder.path())?;
    }
    let name = "10,000 items, 200 stages, 1,000 substitute rules, settled";
    if wanted(name) {
        let [required, counted, rules] = write_rules_job(folder.path())?;
        let list = |path: &Path, role| {
            let list = List::read(&Input::at(path), path.display().to_string(), role, &|_| {});
            list.expect("the list reads")
        };
        let lists = [
            list(&required, Role::Required),
            list(&counted, Role::Counted),
        ];
        let mut job = Job {
            substitute_tables: vec![Input::at(&rules)],
            ..Job::default()
        };
        job.read_substitutes().expect("the rules read");
        let settled = |job: &Job| settle(job, &lists).map_or(0, |a| a.items.len() as u64);
        // The floor is the same job without the rules.
        let floor = || settled(&Job::default());
        ratio(name, "100 ms of work", floor, || settled(&job));
    }
    if wanted("twice the rows") {
        shapes::shapes(folder.path())?;
    }
    let name = "the footbridge job, whole process, against --version";
    if wanted(name) {
        ratio(
            name,
            "under 50 ms more",
            || tallybin(&["--version"]),
            || tallybin(&["reconcile", "samples/footbridge/job.toml"]),
        );
    }
    Ok(())
}

/// Two long lists of delimited text, settled.
fn delimited(
    folder: &Path,
    name: &str,
    aim: &str,
    lines: u64,
    distinct: u64,
) -> std::io::Result<()> {
    let [required, shipped] = ["required.csv", "shipped.csv"].map(|file| folder.join(file));
    write_list(&required, 0x9e37_79b9_7f4a_7c15, lines, distinct, "Qty")?;
    write_list(&shipped, 0xd1b5_4a32_d192_ed03, lines, distinct, "Shipped")?;
    let arguments = ["reconcile", "--format", "json", "--required"]
        .into_iter()
        .chain(required.to_str())
        .chain(["--shipped"])
        .chain(shipped.to_str())
        .collect::<Vec<_>>();
    let files = [required.clone(), shipped.clone()];
    ratio(name, aim, || read_with_csv(&files), || tallybin(&arguments));
    let bytes = required.metadata()?.len() + shipped.metadata()?.len();
    let taken = memory::peak(Command::new(env!("CARGO_BIN_EXE_tallybin")).args(&arguments));
    memory::print(
        "  peak memory",
        "4 times the input + 32 MB",
        taken,
        bytes * 4 + HOUSE,
    );
    Ok(())
}

/// A long list in a workbook, settled.
fn workbook(folder: &Path, name: &str) -> std::io::Result<()> {
    let list = folder.join("list.xlsx");
    write_workbook(&list).map_err(std::io::Error::other)?;
    let arguments: Vec<&str> = ["reconcile", "--format", "json", "--required"]
        .into_iter()
        .chain(list.to_str())
        .collect();
    ratio(
        name,
        "1.25",
        || read_with_calamine(&list),
        || tallybin(&arguments),
    );
    let alone = memory::peak(
        Command::new(std::env::current_exe()?).args([CALAMINE.as_ref(), list.as_os_str()]),
    );
    let taken = memory::peak(Command::new(env!("CARGO_BIN_EXE_tallybin")).args(&arguments));
    if let Some(alone) = alone {
        let most = alone + alone / 2 + HOUSE;
        memory::print(
            "  peak memory",
            "calamine's own + 50 % + 32 MB",
            taken,
            most,
        );
    }
    Ok(())
}
