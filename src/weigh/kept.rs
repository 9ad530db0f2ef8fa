//! Piece weights kept from weighings, to check bags by: a CSV, a row a weighing, the newest last.
//!
//! | heading | what |
//! | --- | --- |
//! | item | its text, as the Count sheet has it; marked as text where a spreadsheet may take it for a formula |
//! | piece weight g | mean of the sample, in grams |
//! | variation % | how much single pieces vary: standard deviation in percent of their mean |
//! | variation from | given, samples, or usual: taken for want of better |
//! | pieces | pieces of the sample |
//! | date | of the weighing, YYYY-MM-DD |

use std::{collections::HashMap, io, path::Path};

use super::{Count, VariationFrom};
use crate::{
    error::{At, Error, Result},
    hardware::Item,
    inert::{inert, written},
    notation::{Notation, describe},
    small_file,
};

const HEADINGS: [&str; 6] = [
    "item",
    "piece weight g",
    "variation %",
    "variation from",
    "pieces",
    "date",
];
const TODO: &str = "write such files with `tallybin weigh --keep FILE`";

/// What one piece weighs by weighing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceWeight {
    pub micrograms: u64,
    /// Standard deviation of single pieces over their mean, in millionths.
    pub variation_ppm: u32,
    /// The variation is the usual one, for want of better.
    pub variation_usual: bool,
    /// Pieces of the sample.
    pub sample: u64,
    /// As written.
    pub date: String,
}

impl PieceWeight {
    pub fn grams(&self) -> f64 {
        self.micrograms as f64 / 1e6
    }

    /// Standard error of the weight of so many pieces, in grams: that of the sample's mean, multiplied
    /// up, and the pieces' own.
    pub fn standard_error(&self, pieces: u64) -> f64 {
        let (cv, n) = (f64::from(self.variation_ppm) / 1e6, pieces as f64);
        self.grams() * cv * (n * n / self.sample as f64 + n).sqrt()
    }
}

/// Piece weights by item: of several weighings of one item the last.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PieceWeights {
    by_id: HashMap<String, PieceWeight>,
}

impl PieceWeights {
    /// Reads a file of piece weights.
    ///
    /// # Errors
    /// A file that cannot be read, or other headings; a row that names no single item or holds no such
    /// figure, with the row.
    pub fn read(path: &Path) -> Result<PieceWeights> {
        let bytes = small_file::read(path).map_err(|error| {
            Error::input(
                At::file(path),
                format!("the piece weights cannot be read: {error}"),
                "check the path after `pieces` in the job file's [weights]",
            )
        })?;
        PieceWeights::parse(&bytes, path)
    }

    fn parse(bytes: &[u8], path: &Path) -> Result<PieceWeights> {
        let at = |row: u64| At {
            row: u32::try_from(row).ok(),
            ..At::file(path)
        };
        let bytes = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(bytes);
        let mut reader = csv::Reader::from_reader(bytes);
        let headings = reader.headers().map(|row| row.iter().eq(HEADINGS));
        if !headings.unwrap_or(false) {
            return Err(Error::input(
                at(1),
                "this is no file of piece weights: its headings are others",
                TODO,
            ));
        }
        let mut weights = PieceWeights::default();
        for record in reader.records() {
            let record = record.map_err(|error| {
                let row = error.position().map_or(1, csv::Position::line);
                Error::input(at(row), format!("the row cannot be read: {error}"), TODO)
            })?;
            let row = record.position().map_or(1, csv::Position::line);
            let of = |column: usize| record.get(column).unwrap_or_default().trim();
            let bad = |column: usize| {
                Error::input(
                    at(row),
                    format!("\"{}\" is no {}", of(column), HEADINGS[column]),
                    TODO,
                )
            };
            let item = item(written(of(0))).ok_or_else(|| bad(0))?;
            let number = |column: usize, most: f64| {
                let number: Option<f64> = of(column).parse().ok();
                let number = number.filter(|number| *number > 0.0 && *number <= most);
                number.ok_or_else(|| bad(column))
            };
            let from: VariationFrom = of(3).parse().map_err(|()| bad(3))?;
            let sample: u64 = of(4).parse().map_err(|_| bad(4))?;
            if sample == 0 {
                return Err(bad(4));
            }
            let weight = PieceWeight {
                micrograms: (number(1, 1e7)? * 1e6).round().max(1.0) as u64,
                variation_ppm: (number(2, 50.0)? * 1e4).round() as u32,
                variation_usual: from == VariationFrom::Usual,
                sample,
                date: of(5).to_owned(),
            };
            weights.by_id.insert(item.identity().id(), weight);
        }
        Ok(weights)
    }

    /// What a piece of an item weighs by weighing.
    pub fn of(&self, item: &Item) -> Option<&PieceWeight> {
        match self.by_id.is_empty() {
            true => None,
            false => self.by_id.get(&item.identity().id()),
        }
    }
}

/// The one item that a text names.
pub fn item(text: &str) -> Option<Item> {
    let mut callouts = describe(text, Notation::default()).ok()?;
    let callout = callouts.pop()?;
    callouts.is_empty().then_some(callout.item)
}

/// A file of piece weights with more rows: what it held before, then an item and its count a row.
///
/// # Errors
/// As [`PieceWeights::read`], for what the file held; what the writer reports.
pub fn with_more(
    before: Option<&[u8]>,
    path: &Path,
    counts: &[(&Item, &Count)],
    date: &str,
) -> Result<Vec<u8>> {
    let mut out = Vec::new();
    match before {
        Some(before) => {
            PieceWeights::parse(before, path)?;
            out.extend_from_slice(before);
            if !out.ends_with(b"\n") {
                out.push(b'\n');
            }
        }
        None => out.extend_from_slice(format!("{}\n", HEADINGS.join(",")).as_bytes()),
    }
    let mut csv = csv::Writer::from_writer(out);
    let write = |csv: &mut csv::Writer<Vec<u8>>| -> io::Result<()> {
        for (item, count) in counts {
            csv.write_record([
                inert(&item.text()),
                format!("{:.6}", count.piece_grams),
                format!("{:.4}", count.variation * 100.0),
                count.variation_from.to_string(),
                count.sample_pieces.to_string(),
                date.to_owned(),
            ])?;
        }
        csv.flush()
    };
    write(&mut csv)
        .and_then(|()| {
            csv.into_inner()
                .map_err(|e| io::Error::other(e.to_string()))
        })
        .map_err(|error| Error::Output {
            path: path.to_owned(),
            found: format!("the piece weights cannot be written: {error}"),
            todo: "name another file after --keep".to_owned(),
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weigh::{Sample, Weighing, weight::Scale};

    const FILE: &str = "item,piece weight g,variation %,variation from,pieces,date\n";

    fn parse(rows: &str) -> Result<PieceWeights> {
        PieceWeights::parse(format!("{FILE}{rows}").as_bytes(), "kept.csv".as_ref())
    }

    #[test]
    fn the_newest_weighing_counts() {
        let weights = parse(
            "1/2 hex nut,17.2,0.5,given,40,2026-04-20\n\
             \"3/8 x 2 lag screw, hot-dip galvanised\",28.5,1,usual,20,2026-04-20\n\
             1/2-13 hex nut,17.4,0.8,samples,60,2026-05-02\n",
        )
        .expect("reads");
        let nut = weights.of(&item("1/2-13 hex nut").unwrap()).unwrap();
        assert_eq!(nut.date, "2026-05-02");
        assert_eq!(nut.grams(), 17.4);
        assert!(!nut.variation_usual);
        // Another grade is another item: never a guess.
        assert_eq!(weights.of(&item("1/2-13 hex nut, Grade 8").unwrap()), None);
        // By hand: 17.4 g x 0.8 % of the root of 100 squared over 60, and 100.
        assert!(
            (nut.standard_error(100) - 2.2734).abs() < 1e-3,
            "{}",
            nut.standard_error(100)
        );
    }

    #[track_caller]
    fn refused(rows: &str, message: &str) {
        let error = parse(rows).expect_err("no weights").to_string();
        assert!(error.starts_with(message), "{error}");
    }

    #[test]
    fn bad_rows_are_named() {
        refused(
            "?,17,1,usual,20,2026-04-20\n",
            "kept.csv, line 2: \"?\" is no item",
        );
        refused(
            "1/2 hex nut,17,1,usual,20,2026-04-20\n1/2 hex nut,-17,1,usual,20,2026-04-20\n",
            "kept.csv, line 3: \"-17\" is no piece weight g",
        );
        refused(
            "1/2 hex nut,17,1,guess,20,2026-04-20\n",
            "kept.csv, line 2: \"guess\" is no variation from",
        );
        refused(
            "1/2 hex nut,17,1,usual,0,2026-04-20\n",
            "kept.csv, line 2: \"0\" is no pieces",
        );
        refused(
            "1/2 hex nut,17\n",
            "kept.csv, line 2: the row cannot be read",
        );
        let error =
            PieceWeights::parse(b"item,weight\n", "kept.csv".as_ref()).expect_err("headings");
        assert!(
            error
                .to_string()
                .starts_with("kept.csv, line 1: this is no file of piece weights")
        );
    }

    #[test]
    fn what_is_kept_reads_back() {
        let scale = Scale {
            unit: Some("g"),
            resolution: Some("0.1"),
        };
        let weights = scale.read(&["348.0", "1740"]).unwrap();
        let count = Weighing {
            samples: vec![Sample {
                pieces: 20,
                weight: weights[0],
            }],
            batch: weights[1],
            tare: None,
            variation: Some(0.008),
        }
        .count()
        .unwrap();
        let nut = item("1/2 hex nut").unwrap();
        let path: &Path = "kept.csv".as_ref();
        let first = with_more(None, path, &[(&nut, &count)], "2026-04-20").unwrap();
        let both = with_more(Some(&first), path, &[(&nut, &count)], "2026-05-02").unwrap();
        assert!(both.starts_with(&first));
        let kept = PieceWeights::parse(&both, path).unwrap();
        let nut = kept.of(&nut).unwrap();
        assert_eq!(
            (nut.micrograms, nut.sample, nut.variation_ppm),
            (17_400_000, 20, 8_000)
        );
        assert_eq!(nut.date, "2026-05-02");
        assert!(with_more(Some(b"other\n"), path, &[], "").is_err());
        // No cell is a formula to a spreadsheet.
        let plate = item("@SUM(A1) plate").unwrap();
        let bytes = with_more(None, path, &[(&plate, &count)], "2026-04-20").unwrap();
        assert!(!String::from_utf8(bytes.clone()).unwrap().contains("\n@"));
        let kept = PieceWeights::parse(&bytes, path).unwrap();
        assert!(kept.of(&plate).is_some());
    }
}
