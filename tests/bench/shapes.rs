//! Long lists of shapes that no kit has and a stranger may send: twice the rows must take about twice the time.

use std::{
    io::Write as _,
    path::{Path, PathBuf},
};

use super::{HOUSE, memory, ratio, tallybin};

/// Rows of the shorter lists; the longer have twice as many.
const ROWS: usize = 20_000;

/// A heading, and the rows.
type Rows = (&'static str, fn(usize) -> String);

struct Shape {
    name: &'static str,
    required: Rows,
    shipped: Rows,
    counted: Option<Rows>,
}

const SHAPES: [Shape; 9] = [
    Shape {
        name: "a slip of which no figure is read",
        required: ("Stage,Description,Qty", |at| {
            format!("S{},{},4", at % 40, bolt(at))
        }),
        shipped: ("Description,Shipped", |at| format!("{},", bolt(at))),
        counted: None,
    },
    Shape {
        name: "parts of one name and many numbers",
        required: ("Stage,Description,Qty,Part no.", |at| {
            format!("S{},bracket,4,TB-{at}", at % 40)
        }),
        shipped: ("Description,Shipped,Part no.", |at| {
            format!("bracket,4,TB-{at}")
        }),
        counted: None,
    },
    Shape {
        name: "one bolt of many numbers",
        required: ("Stage,Description,Qty,Part no.", |at| {
            format!("S{},1/2 x 3 hex bolt,4,TB-{at}", at % 40)
        }),
        shipped: ("Description,Shipped,Part no.", |at| {
            format!("1/2 x 3 hex bolt,4,TB-{at}")
        }),
        counted: None,
    },
    Shape {
        name: "a guide with a torque behind each joint",
        required: ("Stage 1: Frame", |_| {
            "\nFit two 1/2 x 3 hex bolts and two nuts.\n\nTorque the 1/2 bolts to 45 ft-lb.".into()
        }),
        shipped: ("Description,Shipped", |at| format!("{},4", bolt(at))),
        counted: None,
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
        counted: None,
    },
    Shape {
        name: "bags in boxes, of which the slip names some",
        required: ("Box,Bag,Description,Qty", |at| {
            format!("X{},B{at},M8 nut,2", at % 100)
        }),
        shipped: ("Description,Shipped", |at| match at % 2 {
            0 => format!("box X{},1", at / 2 % 100),
            _ => format!("bag B{},1", at / 2),
        }),
        counted: Some(("Box,Bag,Description,Counted", |at| {
            format!("X{},B{at},M8 nut,1", at % 100)
        })),
    },
    Shape {
        name: "pieces given back stage by stage",
        required: ("Stage,Use,Description,Qty", |at| {
            let used = ["new", "returned"][at % 2];
            format!("S{},{used},M8 nut,2", at / 2)
        }),
        shipped: ("Description,Shipped", |_| "M8 nut,1".into()),
        counted: None,
    },
    Shape {
        name: "many numbers of one name, and the name alone",
        required: ("Description,Qty,Part no.", |at| format!("rail,2,F-{at}")),
        shipped: ("Description,Shipped", |_| "rail,1".into()),
        counted: None,
    },
    Shape {
        name: "one item in many bags, counted twice",
        required: ("Stage,Bag,Description,Qty", |at| {
            format!("S{at},B{at},M8 nut,2")
        }),
        shipped: ("Description,Shipped", |_| "M8 nut,1".into()),
        counted: Some(("Bag,Description,Counted", |at| format!("B{at},M8 nut,2"))),
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

/// The flag of each list, and its file.
type Files = Vec<(&'static str, PathBuf)>;

fn write(folder: &Path, shape: &Shape, rows: usize) -> std::io::Result<Files> {
    let lists = [
        Some(("--required", shape.required)),
        Some(("--shipped", shape.shipped)),
        shape.counted.map(|counted| ("--counted", counted)),
    ];
    let mut files = Vec::new();
    for (flag, (heading, row)) in lists.into_iter().flatten() {
        let path = folder.join(format!("{}-{rows}.csv", &flag[2..]));
        let mut out = std::io::BufWriter::new(std::fs::File::create(&path)?);
        files.push((flag, path));
        writeln!(out, "{heading}")?;
        for at in 0..rows {
            writeln!(out, "{}", row(at))?;
        }
        out.flush()?;
    }
    Ok(files)
}

fn arguments(files: &Files) -> Vec<&str> {
    let files = files.iter().flat_map(|(flag, file)| {
        let path = file.to_str().expect("a folder of our own");
        [*flag, path]
    });
    ["reconcile", "--format", "json"]
        .into_iter()
        .chain(files)
        .collect()
}
