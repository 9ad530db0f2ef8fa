//! `tallybin weigh`: counting by weight.

use std::{
    io::{self, Write},
    path::{Path, PathBuf},
    process::ExitCode,
};

use serde::Serialize;

use super::{Format, limits::LimitArgs, print, tell};
use crate::{
    error::{At, Error, Result},
    hardware::Item,
    report::{self, wrap::wrapped},
    small_file,
    source::Limits,
    weigh::{
        Count, SURE, VariationFrom, kept,
        sheet::{self, Entry, Problem, Written},
    },
};

/// Count a batch by its weight, from a sample counted by hand.
#[derive(clap::Args)]
pub struct Args {
    /// A file of weighings, one a row, under the headings item, sample pieces, sample weight, batch
    /// weight, tare, unit, resolution, variation, sample counts (yes or no: is it to be added).
    #[arg(
        long,
        value_name = "FILE",
        conflicts_with_all = ["item", "sample_pieces", "sample_weight", "batch_weight", "tare", "unit", "resolution", "variation"]
    )]
    csv: Option<PathBuf>,
    /// What is weighed.
    #[arg(
        long,
        value_name = "TEXT",
        default_value = "",
        hide_default_value = true
    )]
    item: String,
    /// Pieces of the sample, counted by hand; repeat for several samples.
    #[arg(long, value_name = "N")]
    sample_pieces: Vec<String>,
    /// Weight of the sample, without a container; repeat for several samples.
    #[arg(long, value_name = "WEIGHT", allow_hyphen_values = true)]
    sample_weight: Vec<String>,
    /// Weight of the batch, without the sample. With --keep it may be left out: what a piece weighs is kept.
    #[arg(long, value_name = "WEIGHT", allow_hyphen_values = true)]
    batch_weight: Option<String>,
    /// Weight of the batch's container.
    #[arg(
        long,
        value_name = "WEIGHT",
        default_value = "",
        hide_default_value = true,
        allow_hyphen_values = true
    )]
    tare: String,
    /// Unit of all the weights: g, kg, oz or lb.
    #[arg(long, default_value = "", hide_default_value = true)]
    unit: String,
    /// The smallest step that the scale shows, in that unit.
    #[arg(
        long,
        value_name = "WEIGHT",
        default_value = "",
        hide_default_value = true,
        allow_hyphen_values = true
    )]
    resolution: String,
    /// How much single pieces vary: standard deviation in percent of their mean.
    #[arg(
        long,
        value_name = "PERCENT",
        default_value = "",
        hide_default_value = true,
        allow_hyphen_values = true
    )]
    variation: String,
    #[command(flatten)]
    limits: LimitArgs,
    /// Keep what a piece weighs here, by item, with the date: a CSV for the job file's [weights]. Rows are
    /// added, none is replaced.
    #[arg(long, value_name = "FILE.csv")]
    keep: Option<PathBuf>,
    /// How to print the counts.
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
}

/// Counts by weight cannot do everything; every text output says so.
const CAUTION: &str = "Weighing cannot tell mixed lengths apart: sort first. \
                       Weigh the batch without the sample.";

pub fn run(args: Args) -> Result<ExitCode> {
    match &args.csv {
        Some(path) => many(
            path,
            &args.limits.limits(),
            args.keep.as_deref(),
            args.format,
        ),
        None => one(args),
    }
}

/// Counts one weighing from the command line.
fn one(args: Args) -> Result<ExitCode> {
    // With no batch on the scale the sample stands in for it: a piece weighs the same.
    let alone = args.batch_weight.is_none() && args.keep.is_some();
    let sample = args.sample_weight.first().filter(|_| alone);
    let Some(batch) = args.batch_weight.as_ref().or(sample).cloned() else {
        return Err(Error::Arguments {
            found: "no weighing given".to_owned(),
            todo:
                "give --sample-pieces, --sample-weight and --batch-weight, or a file with --csv; \
                   --keep needs no batch"
                    .to_owned(),
        });
    };
    let count = match args.sample_pieces.len() == args.sample_weight.len() {
        true => Written {
            item: args.item.clone(),
            samples: std::iter::zip(args.sample_pieces, args.sample_weight).collect(),
            batch,
            tare: if alone { String::new() } else { args.tare },
            unit: args.unit,
            resolution: args.resolution,
            variation: args.variation,
        }
        .count(),
        false => Err(Problem::Unpaired(
            args.sample_pieces.len(),
            args.sample_weight.len(),
        )),
    };
    let count = count.map_err(|problem| Error::Arguments {
        found: problem.to_string(),
        todo: problem.todo().to_owned(),
    })?;
    let entry = Entry {
        row: 0,
        text: args.item.clone(),
        item: args.item,
        count: Ok(count),
        sample_counts: None,
    };
    if let Some(path) = &args.keep {
        keep(path, std::slice::from_ref(&entry))?;
    }
    print(|out| match (args.format, &entry.count) {
        (Format::Text, Ok(count)) if alone => piece_alone(&entry.item, count, out),
        (Format::Text, _) => text(&[entry], out),
        (Format::Json, _) => {
            let mut object = Object::of(&entry);
            if alone {
                object = object.without_batch();
            }
            serde_json::to_writer(&mut *out, &object)?;
            writeln!(out)
        }
    })?;
    Ok(ExitCode::SUCCESS)
}

/// What a piece weighs, where no batch was weighed.
fn piece_alone(item: &str, count: &Count, mut out: &mut dyn Write) -> io::Result<()> {
    let text = format!(
        "{item}: a piece weighs {:.2} g, by a sample of {}",
        count.piece_grams, count.sample_pieces
    );
    wrapped(&mut out, "", 2, &text)
}

/// Counts a sheet of weighings. A row that gives no count is told on standard error.
fn many(path: &Path, limits: &Limits, kept: Option<&Path>, format: Format) -> Result<ExitCode> {
    let entries = sheet::read(path, limits)?;
    for entry in &entries {
        if let Err(problem) = &entry.count {
            let at = At {
                row: Some(entry.row),
                ..At::file(path)
            };
            let error = Error::input(at, problem.to_string(), problem.todo());
            tell(&error);
        }
    }
    if let Some(kept) = kept {
        keep(kept, &entries)?;
    }
    print(|out| match format {
        Format::Text => text(&entries, out),
        Format::Json => {
            let mut lead = "[";
            for entry in &entries {
                writeln!(out, "{lead}")?;
                serde_json::to_writer(&mut *out, &Object::of(entry))?;
                lead = ",";
            }
            match entries.is_empty() {
                true => writeln!(out, "[]"),
                false => writeln!(out, "\n]"),
            }
        }
    })?;
    Ok(ExitCode::SUCCESS)
}

/// Adds what a piece weighs to a file of piece weights. A weighing that names no one item is told on
/// standard error, and not kept.
fn keep(path: &Path, entries: &[Entry]) -> Result<()> {
    let counted = entries.iter().filter_map(|entry| {
        let count = entry.count.as_ref().ok()?;
        Some((kept::item(&entry.item), entry, count))
    });
    let mut items = Vec::new();
    for (item, entry, count) in counted {
        match item {
            Some(item) => items.push((item, count)),
            None => {
                let place = match entry.row {
                    0 => String::new(),
                    row => format!("row {row}: "),
                };
                // Nothing is left to be done where standard error is closed.
                let _ = writeln!(
                    io::stderr(),
                    "tallybin: {place}not kept: \"{}\" names no one item",
                    entry.item
                );
            }
        }
    }
    // Behind a link, the rows are added to what it leads to.
    let path = &path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let _held = report::file::hold_folder(path);
    let before = match small_file::read(path) {
        Ok(before) => Some(before),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => {
            return Err(Error::Output {
                path: path.to_owned(),
                found: format!("the file cannot be read: {error}"),
                todo: "name another file after --keep".to_owned(),
            });
        }
    };
    let rows: Vec<(&Item, &Count)> = items.iter().map(|(item, count)| (item, *count)).collect();
    let today = jiff::ZonedDateTime::now().date().to_string();
    let bytes = kept::with_more(before.as_deref(), path, &rows, &today)?;
    // It holds what stood there, and more.
    report::file::replace(path, true, |out| out.write_all(&bytes))
}

fn text(entries: &[Entry], mut out: &mut dyn Write) -> io::Result<()> {
    for entry in entries {
        let name = match (entry.item.as_str(), entry.row) {
            ("", 0) => String::new(),
            ("", row) => format!("row {row}: "),
            (item, _) => format!("{item}: "),
        };
        match &entry.count {
            Err(problem) => writeln!(out, "{name}not counted: {problem}")?,
            Ok(count) => counted(&name, entry, count, out)?,
        }
    }
    wrapped(&mut out, "", 0, CAUTION)
}

fn counted(name: &str, entry: &Entry, count: &Count, mut out: &mut dyn Write) -> io::Result<()> {
    let chance = match count.chance_exact {
        nearly if nearly > HIGHEST => format!("over {:.1} % exact; ", HIGHEST * 100.0),
        chance => format!("{:.1} % exact; ", floored(chance * 100.0, 10.0)),
    };
    let sample = count.sample_pieces;
    let text = format!(
        "{name}{}{}, {} ({}weighed as {:.2}, standard error {:.2})",
        crate::words::count(count.count, "piece"),
        match entry.sample_counts {
            Some(true) => format!(" and the {sample} of the sample"),
            Some(false) => format!(", without the {sample} of the sample"),
            None => format!(", and the {sample} of the sample if they are of it"),
        },
        if count.is_sure() { "sure" } else { "not sure" },
        if count.is_whole() { &*chance } else { "" },
        count.estimate,
        count.standard_error,
    );
    wrapped(&mut out, "", 2, &text)?;
    if count.chance_exact < SURE {
        match count.sample_needed {
            Some(sample) => writeln!(out, "  to be sure: weigh a sample of {sample}")?,
            None => writeln!(out, "  to be sure: count by hand, no sample makes it sure")?,
        }
    }
    for doubt in &count.doubts {
        wrapped(&mut out, "  check: ", 4, &doubt.to_string())?;
    }
    Ok(())
}

/// No chance is printed as a certainty: over this it is "over".
const HIGHEST: f64 = 0.999;

/// Rounded down.
fn floored(value: f64, scale: f64) -> f64 {
    (value * scale).floor() / scale
}

/// One weighing in JSON. Names and meanings are a promise.
#[derive(Serialize)]
struct Object<'a> {
    item: Option<&'a str>,
    /// The row of the file; `null` for a weighing from the command line.
    row: Option<u32>,
    /// Pieces; `null`: not counted.
    count: Option<u64>,
    /// Of the sample, which are not among them.
    sample_pieces: Option<u64>,
    /// They are to be added; `null`: nobody says.
    sample_counts: Option<bool>,
    /// In pieces.
    standard_error: Option<f64>,
    /// From 0 to 1.
    chance_exact: Option<f64>,
    /// Pieces of the smallest sample that would make the count sure; `null`: count by hand.
    sample_needed: Option<u64>,
    sure: bool,
    /// The count before rounding.
    estimate: Option<f64>,
    /// Standard deviation of single pieces in percent of their mean.
    variation: Option<f64>,
    variation_from: Option<VariationFrom>,
    /// What one piece of the sample weighs, in grams.
    piece_g: Option<f64>,
    /// Why to look at it; for a row that is not counted, why it is not.
    doubts: Vec<String>,
}

impl Object<'_> {
    /// The same of a sample alone: nothing is counted.
    fn without_batch(self) -> Self {
        Object {
            count: None,
            standard_error: None,
            chance_exact: None,
            sample_needed: None,
            sure: false,
            estimate: None,
            ..self
        }
    }

    fn of(entry: &Entry) -> Object<'_> {
        let count = entry.count.as_ref().ok();
        let rounded = |value: f64| (value * 1e4).round() / 1e4;
        Object {
            item: (!entry.item.is_empty()).then_some(&entry.item),
            row: (entry.row != 0).then_some(entry.row),
            count: count.map(|c| c.count),
            sample_pieces: count.map(|c| c.sample_pieces),
            sample_counts: entry.sample_counts,
            standard_error: count.map(|c| rounded(c.standard_error)),
            chance_exact: count.map(|c| floored(c.chance_exact, 1e4).min(0.9999)),
            sample_needed: count.and_then(|c| c.sample_needed),
            sure: count.is_some_and(Count::is_sure),
            estimate: count.map(|c| rounded(c.estimate)),
            variation: count.map(|c| rounded(c.variation * 100.0)),
            variation_from: count.map(|c| c.variation_from),
            piece_g: count.map(|c| rounded(c.piece_grams)),
            doubts: match &entry.count {
                Ok(count) => count.doubts.iter().map(ToString::to_string).collect(),
                Err(problem) => vec![problem.to_string()],
            },
        }
    }
}
