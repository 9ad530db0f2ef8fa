//! A job file as it is written: the shape of its keys, their bounds, and what is said where one
//! does not parse.

use std::{
    collections::BTreeMap,
    fmt,
    path::{Path, PathBuf},
};

use indexmap::IndexMap;
use serde::{
    Deserialize, Deserializer,
    de::{self, MapAccess, Visitor, value::MapAccessDeserializer},
};

use super::{
    input::SheetUse,
    labels::{LabelStock, Page},
    substitute::RuleEntry,
    tray::{BinPer, Tray},
};
use crate::{
    columns::Meaning,
    error::{At, Error, Result},
    hardware::{Diameter, Kind},
    notation::{Notation, describe},
    words::{day, fold},
};

/// Most kits in one job.
pub const MOST_KITS: u64 = 1_000_000;

/// Most times that one sentence of a guide may repeat.
const MOST_REPEATS: u32 = 1_000;

/// The whole of a job file.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JobFile {
    pub name: Option<String>,
    pub kits: Option<Kits>,
    #[serde(default)]
    pub required: Vec<InputFile>,
    #[serde(default)]
    pub required_adds: bool,
    #[serde(default)]
    pub required_checks: bool,
    #[serde(default)]
    pub shipped: Vec<InputFile>,
    #[serde(default)]
    pub counted: Vec<InputFile>,
    #[serde(default)]
    pub stock: Vec<InputFile>,
    #[serde(default)]
    pub leftover: Vec<InputFile>,
    #[serde(default)]
    pub with: Vec<String>,
    #[serde(default)]
    pub without: Vec<String>,
    #[serde(default)]
    pub stages: Vec<String>,
    #[serde(default)]
    pub hidden_sheets: bool,
    pub built_through: Option<String>,
    #[serde(default)]
    pub spares: Vec<SpareFile>,
    #[serde(default)]
    pub substitutes: Vec<toml::Spanned<RuleEntry>>,
    #[serde(default)]
    pub numbers: Vec<String>,
    #[serde(default)]
    pub names: IndexMap<String, String>,
    pub tray: Option<TrayFile>,
    #[serde(default)]
    pub trays: Vec<TrayFile>,
    pub bins: Option<BinPer>,
    #[serde(default)]
    pub weights: WeightsFile,
    pub labels: Option<LabelStock>,
    #[serde(default)]
    pub claim: IndexMap<String, String>,
}

impl JobFile {
    /// Reads a job file's text.
    ///
    /// # Errors
    /// What does not parse, with the row, the column and the line itself.
    pub fn parse(text: &str, path: &Path) -> Result<JobFile> {
        toml::from_str(text).map_err(|error| broken(&error, text, path))
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpareFile {
    pub kind: Option<Kind>,
    pub up_to: Option<UpTo>,
    #[serde(default)]
    pub percent: u32,
    #[serde(default)]
    pub least: u64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TrayFile {
    rows: Bins,
    columns: Bins,
    bin_volume_ml: Option<Size>,
    bin_length_mm: Option<Size>,
    weight_limit_kg: Option<Size>,
    count: Option<Count>,
}

impl From<TrayFile> for Tray {
    fn from(file: TrayFile) -> Tray {
        Tray {
            rows: file.rows.0,
            columns: file.columns.0,
            bin_volume_ml: file.bin_volume_ml.map(|Size(ml)| ml),
            bin_length_mm: file.bin_length_mm.map(|Size(mm)| mm),
            weight_limit_kg: file.weight_limit_kg.map(|Size(kg)| kg),
            count: file.count.map(|Count(n)| n),
        }
    }
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub struct WeightsFile {
    pub pieces: Option<PathBuf>,
    pub bag_tare_g: Option<Tare>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LabelsFile {
    page: Page,
    rows: Option<Bins>,
    columns: Option<Bins>,
    margin_top_mm: Option<Tenths>,
    margin_side_mm: Option<Tenths>,
    gap_mm: Option<Tenths>,
}

impl<'de> Deserialize<'de> for LabelStock {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        let file = LabelsFile::deserialize(d)?;
        let common = LabelStock::common(file.page);
        let tenths = |given: Option<Tenths>, common| given.map_or(common, |Tenths(n)| n);
        let stock = LabelStock {
            page: file.page,
            rows: file.rows.map_or(common.rows, |Bins(n)| n),
            columns: file.columns.map_or(common.columns, |Bins(n)| n),
            margin_top: tenths(file.margin_top_mm, common.margin_top),
            margin_side: tenths(file.margin_side_mm, common.margin_side),
            gap: tenths(file.gap_mm, common.gap),
        };
        match stock.label() {
            Some(_) => Ok(stock),
            None => Err(de::Error::custom(
                "so many labels with these margins are too small to write on",
            )),
        }
    }
}

/// Millimetres, to the tenth.
struct Tenths(u32);

impl<'de> Deserialize<'de> for Tenths {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        let value = toml::Value::deserialize(d)?;
        let mm = match value {
            toml::Value::Integer(mm) => Some(mm as f64),
            toml::Value::Float(mm) => Some(mm),
            _ => None,
        };
        match mm {
            Some(mm) if (0.0..=100.0).contains(&mm) => Ok(Tenths((mm * 10.0).round() as u32)),
            _ => Err(de::Error::custom(format!(
                "a margin is {value}, not a number of millimetres from 0 to 100"
            ))),
        }
    }
}

/// A list in a job file: its path, or a table with its path and what is known of it.
#[derive(Default)]
pub struct InputFile {
    pub file: String,
    pub columns: IndexMap<Meaning, String>,
    pub repeats: BTreeMap<u32, u32>,
    pub sheets: IndexMap<String, SheetUse>,
    pub date: Option<Day>,
    pub parcel: Option<ParcelNumber>,
}

/// A date as written, which can be read.
pub struct Day(pub String);

impl<'de> Deserialize<'de> for Day {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        let text = match toml::Value::deserialize(d)? {
            toml::Value::String(text) => text,
            toml::Value::Datetime(date) => date.to_string(),
            other => other.to_string(),
        };
        match day(&text) {
            Some(_) => Ok(Day(text)),
            None => Err(de::Error::custom(format!(
                "\"{text}\" is no date that can be read: write 24 April 2026 or 2026-04-24"
            ))),
        }
    }
}

pub struct ParcelNumber(pub u32);

impl<'de> Deserialize<'de> for ParcelNumber {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        whole(d, "the number of a parcel", 1000).map(|n| ParcelNumber(n as u32))
    }
}

impl<'de> Deserialize<'de> for InputFile {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct Table {
            file: String,
            #[serde(default)]
            columns: IndexMap<Meaning, String>,
            #[serde(default)]
            repeats: BTreeMap<LineNumber, Repeats>,
            #[serde(default)]
            sheets: IndexMap<String, SheetUse>,
            date: Option<Day>,
            parcel: Option<ParcelNumber>,
        }
        struct PathOrTable;
        impl<'de> Visitor<'de> for PathOrTable {
            type Value = InputFile;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a path, or { file = \"...\", columns = { ... }, date = \"...\" }")
            }
            fn visit_str<E: de::Error>(self, text: &str) -> std::result::Result<InputFile, E> {
                Ok(InputFile {
                    file: text.to_owned(),
                    ..InputFile::default()
                })
            }
            fn visit_map<A: MapAccess<'de>>(
                self,
                map: A,
            ) -> std::result::Result<InputFile, A::Error> {
                let table = Table::deserialize(MapAccessDeserializer::new(map))?;
                let repeats = table.repeats.into_iter();
                Ok(InputFile {
                    file: table.file,
                    columns: table.columns,
                    repeats: repeats
                        .map(|(LineNumber(row), Repeats(n))| (row, n))
                        .collect(),
                    sheets: (table.sheets.into_iter())
                        .map(|(name, what)| (fold(&name), what))
                        .collect(),
                    date: table.date,
                    parcel: table.parcel,
                })
            }
        }
        d.deserialize_any(PathOrTable)
    }
}

/// The line of a guide on which a sentence starts, as a key.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct LineNumber(u32);

impl<'de> Deserialize<'de> for LineNumber {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        let text = String::deserialize(d)?;
        match text.parse() {
            Ok(row) if row > 0 => Ok(LineNumber(row)),
            _ => Err(de::Error::custom(format!(
                "\"{text}\" is no line of a guide: write the number of the line on which the sentence starts"
            ))),
        }
    }
}

/// How many more times; 0 for a sentence that repeats nothing.
struct Repeats(u32);

impl<'de> Deserialize<'de> for Repeats {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        let value = toml::Value::deserialize(d)?;
        match value.as_integer().and_then(|n| u32::try_from(n).ok()) {
            Some(n) if n <= MOST_REPEATS => Ok(Repeats(n)),
            _ => Err(de::Error::custom(format!(
                "a repetition is {value}, not how many more times, from 0 to {MOST_REPEATS}"
            ))),
        }
    }
}

/// A whole number within bounds, or the message that names them.
fn whole<'de, D: Deserializer<'de>>(
    d: D,
    what: &'static str,
    most: u64,
) -> std::result::Result<u64, D::Error> {
    let value = toml::Value::deserialize(d)?;
    match value.as_integer().and_then(|n| u64::try_from(n).ok()) {
        Some(n) if (1..=most).contains(&n) => Ok(n),
        _ => Err(de::Error::custom(format!(
            "{what} is {value}, not a whole number from 1 to {most}"
        ))),
    }
}

pub struct Kits(pub u64);

impl<'de> Deserialize<'de> for Kits {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        whole(d, "the number of kits", MOST_KITS).map(Kits)
    }
}

/// Rows or columns of a tray or of a sheet of labels.
struct Bins(u32);

impl<'de> Deserialize<'de> for Bins {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        whole(d, "rows or columns", 40).map(|n| Bins(n as u32))
    }
}

/// A volume, length or weight limit of a tray, in the unit that its key names.
struct Size(u32);

impl<'de> Deserialize<'de> for Size {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        whole(d, "a tray's measure", 1_000_000).map(|n| Size(n as u32))
    }
}

/// Trays of one kind.
struct Count(u32);

impl<'de> Deserialize<'de> for Count {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        whole(d, "the count of trays", 1_000).map(|n| Count(n as u32))
    }
}

/// Grams of an empty bag.
pub struct Tare(pub u32);

impl<'de> Deserialize<'de> for Tare {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        whole(d, "the weight of an empty bag", 10_000).map(|n| Tare(n as u32))
    }
}

pub struct UpTo(pub Diameter);

impl<'de> Deserialize<'de> for UpTo {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        let text = String::deserialize(d)?;
        // A diameter reads as the notation reads it on a nut, which has no other size.
        match describe(&format!("{text} nut"), Notation::default()).as_deref() {
            Ok([callout]) if callout.doubts.is_empty() => callout.item.diameter.map(UpTo),
            _ => None,
        }
        .ok_or_else(|| {
            de::Error::custom(format!("\"{text}\" is no diameter: write 3/8, #10 or M8"))
        })
    }
}

/// The error for a job file that does not parse: its row and column, the line with a caret under
/// what is wrong, and the nearest known key where a key is unknown.
fn broken(error: &toml::de::Error, text: &str, path: &Path) -> Error {
    let span = error.span().unwrap_or(0..0);
    let start = span.start.min(text.len());
    let line_start = text[..start].rfind('\n').map_or(0, |at| at + 1);
    let line = text[line_start..].lines().next().unwrap_or_default();
    let row = text[..start].matches('\n').count() as u32 + 1;
    let column = text[line_start..start].chars().count() as u32 + 1;
    let width = text[start
        ..span
            .end
            .clamp(start, line_start + line.len().max(start - line_start))]
        .chars()
        .count()
        .max(1);
    let (found, todo) = match unknown_name(error.message()) {
        Some((name, known)) => {
            let nearest = known.iter().max_by(|a, b| {
                strsim::jaro_winkler(&name, a).total_cmp(&strsim::jaro_winkler(&name, b))
            });
            let todo = match nearest {
                Some(nearest) => {
                    format!(
                        "write `{nearest}`, the nearest known; known here: {}",
                        known.join(", ")
                    )
                }
                None => "take it out: nothing is known here".to_owned(),
            };
            (format!("`{name}` is not known here"), todo)
        }
        None if error.message().contains("expected a sequence") => {
            let value = text.get(span.clone()).unwrap_or_default();
            (
                "one value where several may stand".to_owned(),
                format!("put it in brackets: [{value}]"),
            )
        }
        None => (
            error.message().replace('\n', ", "),
            "mend the line; the README shows a whole job file".to_owned(),
        ),
    };
    let number = row.to_string();
    let margin = " ".repeat(number.len());
    let excerpt = format!(
        "\n  {number} | {line}\n  {margin} | {}{}",
        " ".repeat(column as usize - 1),
        "^".repeat(width)
    );
    Error::input(
        At {
            row: Some(row),
            column: Some(column),
            ..At::file(path)
        },
        format!("{found}{excerpt}"),
        todo,
    )
}

/// The unknown name and the known ones, of serde's message for an unknown field or variant: all
/// stand in back quotes, the unknown one first. serde hands them to the format's error type, which
/// keeps only this sentence.
fn unknown_name(message: &str) -> Option<(String, Vec<String>)> {
    if !message.starts_with("unknown field") && !message.starts_with("unknown variant") {
        return None;
    }
    let mut quoted = message.split('`').skip(1).step_by(2).map(str::to_owned);
    Some((quoted.next()?, quoted.collect()))
}
