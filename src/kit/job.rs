//! The job: which lists, how many kits, which options, and the shop's own settings.
//!
//! A job file is TOML. Its paths are relative to itself, and it names no output:
//!
//! ```
//! let job = tallybin::kit::Job::parse(r#"
//!     name = "Trail footbridge, kit 12"
//!     required = ["parts-list.xlsx"]
//!     shipped = [{ file = "packing-slip.csv", columns = { quantity = "No. off" } }]
//!     counted = ["bench-count.xlsx"]
//!     kits = 1
//!     with = ["handrail mesh"]
//!
//!     [[spares]]
//!     kind = "washer"
//!     percent = 5
//!     least = 2
//!
//!     [tray]
//!     rows = 4
//!     columns = 6
//!     bin_volume_ml = 1400
//!     bin_length_mm = 160
//!     weight_limit_kg = 25
//!
//!     [labels]
//!     page = "A4"
//!     rows = 7
//!     columns = 3
//!     margin_top_mm = 15.5
//!     margin_side_mm = 7
//!     gap_mm = 2.5
//!
//!     [names]
//!     "wire glass clip" = "glazing clip"
//!
//!     [claim]
//!     "Order" = "TF-2207"
//! "#, "samples/footbridge/job.toml".as_ref()).unwrap();
//! assert_eq!(job.required[0].path, std::path::Path::new("samples/footbridge/parts-list.xlsx"));
//! ```

use std::{io, path::Path};

use indexmap::IndexMap;

use super::{
    input::Input,
    job_file::{Day, InputFile, JobFile, Kits, ParcelNumber, Tare, UpTo},
    labels::LabelStock,
    number::{self, NumberRow},
    role::Role,
    substitute::{self, RuleEntry, SubstituteRule},
    tray::{BinPer, Tray},
};
use crate::{
    error::{At, Error, Result},
    hardware::{Diameter, Kind},
    small_file,
    source::Limits,
    weigh::kept::PieceWeights,
    words::fold,
};

/// What becomes of a second required list that asks for the items and stages of the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SecondList {
    /// An error: nobody said whether it adds to the first or repeats it.
    Refused,
    Adds,
    /// It makes no demand; where it differs from the first list is a finding.
    Checks,
}

/// How many spares to allow for; off by default.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SpareRule {
    /// Which kind, or any.
    pub kind: Option<Kind>,
    /// Largest diameter that the rule holds for, compared within inch or within metric; or any.
    pub up_to: Option<Diameter>,
    /// Percent of what is required, rounded up to whole pieces.
    pub percent: u32,
    /// At least so many pieces.
    pub least: u64,
}

/// One reconciliation of one or more kits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Job {
    pub name: String,
    /// From 1 to [`MOST_KITS`](super::MOST_KITS).
    pub kits: u64,
    pub required: Vec<Input>,
    pub second_list: SecondList,
    pub shipped: Vec<Input>,
    pub counted: Vec<Input>,
    /// What the shop has of its own.
    pub stock: Vec<Input>,
    /// What lies on the bench when the build is done.
    pub leftover: Vec<Input>,
    /// What it may ask for.
    pub limits: Limits,
    /// Options chosen, lower case, white space folded.
    pub with: Vec<String>,
    /// Options refused, lower case, white space folded.
    pub without: Vec<String>,
    /// Stage order, where the job gives it; else the order of first naming.
    pub stages: Vec<String>,
    /// The last stage that is already built: its pieces and those before are taken as used.
    pub built_through: Option<String>,
    pub spares: Vec<SpareRule>,
    /// What may be used in place of what: the job file's own rules, then those of its tables.
    pub substitutes: Vec<SubstituteRule>,
    /// Tables of rules.
    pub substitute_tables: Vec<Input>,
    /// What maker's numbers stand for, and the tables that say so.
    pub numbers: Vec<NumberRow>,
    pub number_tables: Vec<Input>,
    /// Names of parts, and what the required lists call each.
    pub names: IndexMap<String, String>,
    /// Kinds of tray, at least one.
    pub trays: Vec<Tray>,
    pub bin_per: BinPer,
    /// What pieces weigh, by weighings that were kept.
    pub piece_weights: PieceWeights,
    /// What an empty bag weighs, in grams.
    pub bag_tare_g: Option<u32>,
    /// `None`: common stock of the page that goes with the hardware's unit.
    pub labels: Option<LabelStock>,
    /// Heading lines of a claim, in order.
    pub claim: IndexMap<String, String>,
}

impl Default for Job {
    fn default() -> Job {
        Job {
            name: "job".to_owned(),
            kits: 1,
            required: Vec::new(),
            second_list: SecondList::Refused,
            shipped: Vec::new(),
            counted: Vec::new(),
            stock: Vec::new(),
            leftover: Vec::new(),
            limits: Limits::default(),
            with: Vec::new(),
            without: Vec::new(),
            stages: Vec::new(),
            built_through: None,
            spares: Vec::new(),
            substitutes: Vec::new(),
            substitute_tables: Vec::new(),
            numbers: Vec::new(),
            number_tables: Vec::new(),
            names: IndexMap::new(),
            trays: vec![Tray::of(4, 6)],
            bin_per: BinPer::Item,
            piece_weights: PieceWeights::default(),
            bag_tare_g: None,
            labels: None,
            claim: IndexMap::new(),
        }
    }
}

impl Job {
    /// Reads a job file.
    ///
    /// # Errors
    /// A file that is missing or no TOML; an unknown key, with the nearest known one; a value out of
    /// its range. Each with the row, the column and the line itself.
    pub fn load(path: &Path) -> Result<Job> {
        if is_list(path) {
            let shown = path.display();
            return Err(Error::input(
                At::file(path),
                "this is a list, not a job file",
                format!(
                    "say what it is: --required {shown} for a parts list, --shipped for a packing slip, \
                     --counted for a bench count; tallybin draft {shown} -o job.toml drafts a job file"
                ),
            ));
        }
        let text = small_file::read(path)
            .and_then(|bytes| String::from_utf8(bytes).map_err(io::Error::other))
            .map_err(|error| match error.kind() {
                io::ErrorKind::FileTooLarge => Error::input(
                    At::file(path),
                    "too large to be a job file",
                    "name the job file; lists are given with --required, --shipped and --counted",
                ),
                _ => Error::input(
                    At::file(path),
                    format!("the job file cannot be read: {error}"),
                    "check the path; a job file is plain text, its name usually ends in .toml",
                ),
            })?;
        let mut job = Job::parse(&text, path)?;
        job.read_substitutes()?;
        job.read_numbers()?;
        Ok(job)
    }

    /// Reads the tables of numbers.
    ///
    /// # Errors
    /// As [`number::read`].
    pub fn read_numbers(&mut self) -> Result<()> {
        for table in &self.number_tables {
            self.numbers.extend(number::read(table)?);
        }
        Ok(())
    }

    /// Reads the tables of rules on substitutes.
    ///
    /// # Errors
    /// As [`substitute::read`].
    pub fn read_substitutes(&mut self) -> Result<()> {
        for table in &self.substitute_tables {
            self.substitutes.extend(substitute::read(table)?);
        }
        Ok(())
    }

    /// Reads a job file's text; `path` is where it stands.
    ///
    /// # Errors
    /// As [`Job::load`]. Tables of substitutes are named, and not read.
    pub fn parse(text: &str, path: &Path) -> Result<Job> {
        let file = JobFile::parse(text, path)?;
        let folder = path.parent().unwrap_or(Path::new(""));
        let hidden_sheets = file.hidden_sheets;
        let inputs = |files: Vec<InputFile>| {
            files
                .into_iter()
                .map(|input| Input {
                    path: folder.join(&input.file),
                    shown: input.file.replace('\\', "/"),
                    columns: input.columns,
                    repeats: input.repeats,
                    hidden_sheets,
                    sheets: input.sheets,
                    date: input.date.map(|Day(text)| text),
                    parcel: input.parcel.map(|ParcelNumber(n)| n),
                    ..Input::default()
                })
                .collect()
        };
        let default = Job::default();
        let second_list = match (file.required_adds, file.required_checks) {
            (true, true) => {
                return Err(Error::input(
                    At::file(path),
                    "required_adds and required_checks are both true",
                    "keep one: a second required list either adds to the first or checks it",
                ));
            }
            (true, false) => SecondList::Adds,
            (false, true) => SecondList::Checks,
            (false, false) => SecondList::Refused,
        };
        let table = |file: &String| Input {
            path: folder.join(file),
            shown: file.replace('\\', "/"),
            ..Input::default()
        };
        let (mut substitutes, mut substitute_tables) = (Vec::new(), Vec::new());
        for entry in &file.substitutes {
            match entry.get_ref() {
                RuleEntry::File(file) => substitute_tables.push(table(file)),
                RuleEntry::Rule(keys) => {
                    let before = &text[..entry.span().start.min(text.len())];
                    let row = before.matches('\n').count() as u32 + 1;
                    substitutes.push(keys.rule(path, row)?);
                }
            }
        }
        let job = Job {
            name: file.name.unwrap_or_else(|| {
                path.file_stem()
                    .map_or(default.name, |stem| stem.to_string_lossy().into_owned())
            }),
            kits: file.kits.map_or(default.kits, |Kits(kits)| kits),
            required: inputs(file.required),
            second_list,
            shipped: inputs(file.shipped),
            counted: inputs(file.counted),
            stock: inputs(file.stock),
            leftover: inputs(file.leftover),
            limits: default.limits,
            with: file.with.iter().map(|name| fold(name)).collect(),
            without: file.without.iter().map(|name| fold(name)).collect(),
            stages: file.stages,
            built_through: file.built_through,
            spares: file
                .spares
                .into_iter()
                .map(|rule| SpareRule {
                    kind: rule.kind,
                    up_to: rule.up_to.map(|UpTo(diameter)| diameter),
                    percent: rule.percent,
                    least: rule.least,
                })
                .collect(),
            substitutes,
            substitute_tables,
            numbers: Vec::new(),
            number_tables: file.numbers.iter().map(table).collect(),
            names: file.names,
            trays: match (file.tray, file.trays) {
                (None, trays) if trays.is_empty() => default.trays,
                (tray, trays) => tray.into_iter().chain(trays).map(Tray::from).collect(),
            },
            bin_per: file.bins.unwrap_or(default.bin_per),
            piece_weights: match file.weights.pieces {
                Some(pieces) => PieceWeights::read(&folder.join(pieces))?,
                None => default.piece_weights,
            },
            bag_tare_g: file.weights.bag_tare_g.map(|Tare(grams)| grams),
            labels: file.labels,
            claim: file.claim,
        };
        Ok(job)
    }

    /// Every list of the job, in the order required, compared, shipped, counted, stock.
    pub fn inputs(&self) -> impl Iterator<Item = (Role, &Input)> {
        use Role::{Compared, Counted, LeftOver, Required, Shipped, Stock};
        fn of(role: Role, inputs: &[Input]) -> impl Iterator<Item = (Role, &Input)> {
            inputs.iter().map(move |input| (role, input))
        }
        let demanding = match self.second_list {
            SecondList::Checks => self.required.len().min(1),
            SecondList::Refused | SecondList::Adds => self.required.len(),
        };
        let (demanding, compared) = self.required.split_at(demanding);
        of(Required, demanding)
            .chain(of(Compared, compared))
            .chain(of(Shipped, &self.shipped))
            .chain(of(Counted, &self.counted))
            .chain(of(Stock, &self.stock))
            .chain(of(LeftOver, &self.leftover))
    }
}

/// True where a file that is there is named as a list is.
fn is_list(path: &Path) -> bool {
    const ENDINGS: &[&str] = &[
        "csv", "tsv", "tab", "txt", "md", "xlsx", "xlsm", "xlsb", "xls", "ods",
    ];
    let ending = path.extension().unwrap_or_default().to_string_lossy();
    ENDINGS.iter().any(|list| ending.eq_ignore_ascii_case(list)) && path.is_file()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::Page;

    #[track_caller]
    fn refused(text: &str, message: &str) {
        let error = Job::parse(text, Path::new("job.toml")).expect_err("must be refused");
        pretty_assertions::assert_eq!(error.to_string(), message.trim_start_matches('\n'));
    }

    #[test]
    fn unknown_keys_name_the_nearest() {
        refused(
            "name = \"x\"\nkit = 2\n",
            "
job.toml, line 2, column 1: `kit` is not known here
  2 | kit = 2
    | ^^^
  what to do: write `kits`, the nearest known; known here: name, kits, required, required_adds, required_checks, shipped, counted, stock, leftover, with, without, stages, hidden_sheets, built_through, spares, substitutes, numbers, names, tray, trays, bins, weights, labels, claim",
        );
    }

    #[test]
    fn heading_lines_of_a_claim_keep_their_order() {
        let text = "[claim]\nTo = \"b\"\nFrom = \"a\"\n\"Ship to\" = \"c\"\n";
        let job = Job::parse(text, Path::new("job.toml")).expect("a job file");
        let names: Vec<&str> = job.claim.keys().map(String::as_str).collect();
        assert_eq!(names, ["To", "From", "Ship to"]);
    }

    #[test]
    fn unknown_columns_name_the_nearest() {
        let error = Job::parse(
            "required = [{ file = \"a.csv\", columns = { qty = \"Pcs\" } }]",
            Path::new("job.toml"),
        )
        .expect_err("must be refused")
        .to_string();
        assert!(error.starts_with("job.toml, line 1, column "), "{error}");
        assert!(error.contains("`qty` is not known here"), "{error}");
        assert!(
            error.contains("write `quantity`, the nearest known"),
            "{error}"
        );
    }

    #[test]
    fn kits_are_whole_and_few() {
        for bad in ["0", "-1", "2.5", "1000001", "\"two\""] {
            refused(
                &format!("kits = {bad}"),
                &format!(
                    "
job.toml, line 1, column 8: the number of kits is {bad}, not a whole number from 1 to 1000000
  1 | kits = {bad}
    |        {}
  what to do: mend the line; the README shows a whole job file",
                    "^".repeat(bad.len())
                ),
            );
        }
    }

    #[test]
    fn a_tray_has_measures() {
        let tray = "[tray]\nrows = 4\ncolumns = 6\n";
        let job = |more: &str| Job::parse(&format!("{tray}{more}"), Path::new("job.toml"));
        assert_eq!(job("").expect("sound").trays, [Tray::of(4, 6)]);
        let two = job("[[trays]]\nrows = 2\ncolumns = 3\ncount = 2")
            .expect("sound")
            .trays;
        let second = Tray {
            count: Some(2),
            ..Tray::of(2, 3)
        };
        assert_eq!(two, [Tray::of(4, 6), second]);
        let per = |text: &str| Job::parse(text, Path::new("job.toml"));
        assert_eq!(
            per("bins = \"stage\"").expect("sound").bin_per,
            BinPer::Stage
        );
        let refused = per("bins = \"bag\"").expect_err("no such").to_string();
        assert!(refused.contains("job.toml, line 1"), "{refused}");
        let measured = job("bin_volume_ml = 1400\nbin_length_mm = 160\nweight_limit_kg = 25");
        assert_eq!(
            measured.expect("sound").trays,
            [Tray {
                bin_volume_ml: Some(1400),
                bin_length_mm: Some(160),
                weight_limit_kg: Some(25),
                ..Tray::of(4, 6)
            }]
        );
        let refused = job("bin_volume_ml = 1.4")
            .expect_err("no whole number")
            .to_string();
        assert!(
            refused.contains("a tray's measure is 1.4, not a whole number from 1 to 1000000"),
            "{refused}"
        );
        let refused = job("bin_volume = 14").expect_err("unknown").to_string();
        assert!(
            refused.contains("write `bin_volume_ml`, the nearest known"),
            "{refused}"
        );
    }

    #[test]
    fn label_stock_is_bounded() {
        let job = |labels: &str| Job::parse(&format!("[labels]\n{labels}"), Path::new("job.toml"));
        let stock = job("page = \"letter\"").expect("sound").labels;
        assert_eq!(stock, Some(LabelStock::common(Page::Letter)));
        let own = job("page = \"A4\"\nrows = 7\ncolumns = 3\nmargin_top_mm = 15.15\ngap_mm = 2");
        assert_eq!(
            own.expect("sound").labels,
            Some(LabelStock {
                rows: 7,
                columns: 3,
                margin_top: 152,
                gap: 20,
                ..LabelStock::common(Page::A4)
            })
        );
        for (bad, message) in [
            ("page = \"A5\"", "`A5` is not known here"),
            ("rows = 7", "missing field `page`"),
            ("page = \"A4\"\ncolumns = 30", "too small to write on"),
            (
                "page = \"A4\"\ngap_mm = nan",
                "a margin is nan, not a number",
            ),
            ("page = \"A4\"\nrows = 0", "rows or columns is 0"),
        ] {
            let error = job(bad).expect_err(bad).to_string();
            assert!(error.contains(message), "{error}");
        }
    }
}
