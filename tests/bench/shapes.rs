//! Long lists of shapes that no kit has and a stranger may send: twice the rows must take about twice the time.

use std::{
    io::Write as _,
    path::{Path, PathBuf},
};

use super::{HOUSE, memory, ratio, tallybin};

/// Rows of the shorter lists; the longer have twice as many.
const ROWS: usize = 20_000;

struct Shape {
    name: &'static str,
    required: (&'static str, fn(usize) -> String),
    shipped: (&'static str, fn(usize) -> String),
}

const SHAPES: [Shape; 5] = [
    Shape {
        name: "a slip of which no figure is read",
        required: ("Stage,Description,Qty", |at| {
            format!("S{},{},4", at % 40, bolt(at))
        }),
        shipped: ("Description,Shipped", |at| format!("{},", bolt(at))),
    },
    Shape {
        name: "parts of one name and many numbers",
        required: ("Stage,Description,Qty,Part no.", |at| {
            format!("S{},bracket,4,TB-{at}", at % 40)
        }),
        shipped: ("Description,Shipped,Part no.", |at| {
            format!("bracket,4,TB-{at}")
        }),
    },
    Shape {
        name: "one bolt of many numbers",
        required: ("Stage,Description,Qty,Part no.", |at| {
            format!("S{},1/2 x 3 hex bolt,4,TB-{at}", at % 40)
        }),
        shipped: ("Description,Shipped,Part no.", |at| {
            format!("1/2 x 3 hex bolt,4,TB-{at}")
        }),
    },
    Shape {
        name: "a guide with a torque behind each joint",
        required: ("Stage 1: Frame", |_| {
            "\nFit two 1/2 x 3 hex bolts and two nuts.\n\nTorque the 1/2 bolts to 45 ft-lb.".into()
        }),
        shipped: ("Description,Shipped", |at| format!("{},4", bolt(at))),
    },
    // Beyond 20,000 mm a length is not read, and the bolt may be any of them.
    Shape {
        name: "bolts of all lengths, and many of none",
        required: ("Stage,Description,Qty", |at| {
            format!("S{},M10 x {} hex bolt,4", at % 40, at + 1)
        }),
        shipped: ("Description,Shipped", |at| {
            format!("M10 x {} hex bolt,4", at + 2)
        }),
    },
];

fn bolt(at: usize) -> String {
    let diameter = ["1/4-20", "5/16-18", "3/8-16", "1/2-13", "5/8-11", "3/4-10"][at % 6];
    format!("{diameter} x {} hex bolt", at % 11 + 1)
}

/// Each shape: twice the rows against the rows.
pub fn shapes(folder: &Path) -> std::io::Result<()> {
    for shape in &SHAPES {
        let short = write(folder, shape, ROWS)?;
        let long = write(folder, shape, 2 * ROWS)?;
        let [of_short, of_long] = [&short, &long].map(|files| arguments(files));
        let name = format!("twice the rows: {}", shape.name);
        ratio(
            &name,
            "under 3",
            || tallybin(&of_short),
            || tallybin(&of_long),
        );
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_tallybin"));
        let taken = memory::peak(command.args(&of_long));
        // These are short files, of which each row is an item of its own.
        let most = HOUSE + 2 * (2 * ROWS as u64) * (2 << 10);
        memory::print("  peak memory", "2 KB a row + 32 MB", taken, most);
    }
    Ok(())
}

fn write(folder: &Path, shape: &Shape, rows: usize) -> std::io::Result<[PathBuf; 2]> {
    let files = ["required", "shipped"].map(|role| folder.join(format!("{role}-{rows}.csv")));
    for (path, (heading, row)) in files.iter().zip([&shape.required, &shape.shipped]) {
        let mut out = std::io::BufWriter::new(std::fs::File::create(path)?);
        writeln!(out, "{heading}")?;
        for at in 0..rows {
            writeln!(out, "{}", row(at))?;
        }
        out.flush()?;
    }
    Ok(files)
}

fn arguments([required, shipped]: &[PathBuf; 2]) -> Vec<&str> {
    let files = [("--required", required), ("--shipped", shipped)];
    let files = files.into_iter().flat_map(|(flag, file)| {
        let path = file.to_str().expect("a folder of our own");
        [flag, path]
    });
    ["reconcile", "--format", "json"]
        .into_iter()
        .chain(files)
        .collect()
}
