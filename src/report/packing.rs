//! Kits packed from stock: on the terminal, as JSON, as a workbook, and a packing slip for each kit.

use std::{
    collections::HashMap,
    io::{self, Write},
    path::{Path, PathBuf},
};

use serde::Serialize;

use super::{file, terminal::wrapped, wording, workbook};
use crate::{
    Error, Result,
    kit::List,
    settle::packing::{Content, Lack, Packed, Packing, Pull, ToOrder},
    words::count,
};

/// Rows of the pull sheet and of what is to be ordered that the terminal shows.
const FEW: usize = 12;
/// Most packing slips of one run.
const MOST_SLIPS: u64 = 1000;

/// What a report says of kits packed from stock.
pub struct Packs<'a> {
    /// Of each order: the job's name, and its file.
    pub orders: &'a [(String, String)],
    pub stock: &'a [List],
    pub packing: &'a Packing,
}

impl Packs<'_> {
    /// The answer, and how sure it is.
    pub fn answer(&self) -> [String; 2] {
        let (kits, wanted) = (self.packing.kits(), self.packing.wanted());
        let sure = match (self.packing.exact, self.packing.at_most) {
            _ if kits == wanted => "Nothing stops any of them.".to_owned(),
            (true, _) => "No sharing of this stock packs more.".to_owned(),
            (false, most) => format!(
                "The search for more was cut short: no sharing of this stock packs more than {most}."
            ),
        };
        let answer = match kits == wanted {
            true => format!("All of {} can be packed.", count(wanted, "kit")),
            false => format!("{kits} of {} can be packed.", count(wanted, "kit")),
        };
        [answer, sure]
    }

    pub fn order(&self, at: usize) -> &str {
        &self.orders[at].0
    }

    pub fn where_it_lies(&self, pull: &Pull) -> String {
        wording::addresses(self.stock, &pull.evidence)
    }
}

/// What the next kit of an order lacks: `4 of 1/2-13 x 6 hex bolt`; empty where none is wanted.
pub fn next_lacks(order: &Packed) -> Vec<String> {
    let lacks = order.lacks.iter();
    lacks
        .map(|lack| format!("{} of {}", lack.pieces, lack.text))
        .collect()
}

/// `2 packs of 25`, or pieces where no pack is known.
pub fn amount(of: &ToOrder) -> String {
    match (of.packs(), of.pack) {
        (Some(packs), Some(pack)) => format!("{} of {pack}", count(packs, "pack")),
        _ => count(of.pieces(), "piece"),
    }
}

/// Where a bin is not stated.
pub const NO_BIN: &str = "no bin stated";

/// Writes the answer for a person.
///
/// # Errors
/// What the writer reports.
pub fn text(packs: &Packs, mut out: impl Write) -> io::Result<()> {
    let packing = packs.packing;
    wrapped(&mut out, "", 0, &packs.answer().join(" "))?;
    for (at, order) in packing.orders.iter().enumerate() {
        let (name, file) = &packs.orders[at];
        let head = format!("  {} of {}  ", order.kits, order.wanted);
        let indent = head.chars().count();
        wrapped(&mut out, &head, indent, &format!("{name} ({file})"))?;
        let lacks = next_lacks(order);
        if !lacks.is_empty() {
            let text = format!("the next one lacks {}", lacks.join("; "));
            wrapped(&mut out, &" ".repeat(indent), indent, &text)?;
        }
        for reason in &order.reasons {
            wrapped(
                &mut out,
                &format!("{}? ", " ".repeat(indent)),
                indent + 2,
                reason,
            )?;
        }
    }
    for reason in &packing.reasons {
        wrapped(&mut out, "  ? ", 4, reason)?;
    }
    let mut section = |title: &str, rows: Vec<String>, sheet: &str| -> io::Result<()> {
        writeln!(out)?;
        writeln!(out, "{title}")?;
        for row in rows.iter().take(FEW) {
            wrapped(&mut out, "  - ", 4, row)?;
        }
        match rows.len().checked_sub(FEW + 1) {
            Some(more) => writeln!(out, "  and {} more; see the sheet {sheet}", more + 1),
            None if rows.is_empty() => writeln!(out, "  nothing"),
            None => Ok(()),
        }
    };
    let to_order = packing.to_order.iter().map(|of| {
        let spares = match of.spares {
            0 => String::new(),
            spares => format!(", {spares} of them for spares"),
        };
        match of.pack {
            Some(_) => format!("{}: {}{spares} ({})", of.text, of.pieces(), amount(of)),
            None => format!("{}: {}{spares}", of.text, of.pieces()),
        }
    });
    section(
        "To order, so that every kit can be packed",
        to_order.collect(),
        "To order",
    )?;
    let pull = packing.pull.iter().map(|pull| {
        format!(
            "{}: {} of {}, for {} ({} a kit)",
            pull.bin.as_deref().unwrap_or(NO_BIN),
            pull.take,
            pull.stock,
            packs.order(pull.order),
            pull.each
        )
    });
    section("To pull, in walking order", pull.collect(), "Pull sheet")?;
    writeln!(out)?;
    for caution in wording::CAUTIONS {
        wrapped(&mut out, "", 0, caution)?;
    }
    Ok(())
}

#[derive(Serialize)]
struct PackingObject<'a> {
    wanted: u64,
    packed: u64,
    /// No sharing of this stock packs more.
    at_most: u64,
    /// `packed` is proved to be the most.
    exact: bool,
    reasons: &'a [String],
    orders: Vec<OrderObject<'a>>,
    to_order: Vec<ToOrderObject<'a>>,
    /// In walking order.
    pull: Vec<PullObject<'a>>,
}

#[derive(Serialize)]
struct OrderObject<'a> {
    job: &'a str,
    file: &'a str,
    wanted: u64,
    packed: u64,
    /// What one more kit lacks.
    next_lacks: Vec<LackObject<'a>>,
    reasons: &'a [String],
    /// Of each kit.
    contents: Vec<ContentObject<'a>>,
}

#[derive(Serialize)]
struct LackObject<'a> {
    item: &'a str,
    text: &'a str,
    pieces: u64,
}

impl LackObject<'_> {
    fn of(lack: &Lack) -> LackObject<'_> {
        LackObject {
            item: &lack.id,
            text: &lack.text,
            pieces: lack.pieces,
        }
    }
}

#[derive(Serialize)]
struct ContentObject<'a> {
    bag: Option<&'a str>,
    item: &'a str,
    text: &'a str,
    part_number: Option<&'a str>,
    pieces: u64,
}

#[derive(Serialize)]
struct ToOrderObject<'a> {
    item: &'a str,
    text: &'a str,
    short: u64,
    spares: u64,
    pieces: u64,
    pack_of: Option<u64>,
    packs: Option<u64>,
    /// Jobs that ask for it.
    orders: Vec<&'a str>,
}

#[derive(Serialize)]
struct PullObject<'a> {
    bin: Option<&'a str>,
    stock: &'a str,
    /// The job that it is for, and its place among the orders, from 0.
    job: &'a str,
    order: usize,
    item: &'a str,
    each: u64,
    kits: u64,
    take: u64,
    not_confirmed: &'a [&'static str],
    lines: Vec<AddressObject<'a>>,
}

#[derive(Serialize)]
struct AddressObject<'a> {
    file: &'a str,
    sheet: Option<&'a str>,
    rows: &'a [(u32, u32)],
}

/// Writes the answer as one JSON object.
///
/// # Errors
/// What the writer reports.
pub fn json(packs: &Packs, mut out: impl Write) -> io::Result<()> {
    let packing = packs.packing;
    let object = PackingObject {
        wanted: packing.wanted(),
        packed: packing.kits(),
        at_most: packing.at_most,
        exact: packing.exact,
        reasons: &packing.reasons,
        orders: packing
            .orders
            .iter()
            .zip(packs.orders)
            .map(|(order, (job, file))| OrderObject {
                job,
                file,
                wanted: order.wanted,
                packed: order.kits,
                next_lacks: order.lacks.iter().map(LackObject::of).collect(),
                reasons: &order.reasons,
                contents: order
                    .contents
                    .iter()
                    .map(|content| ContentObject {
                        bag: content.bag.as_deref(),
                        item: &content.id,
                        text: &content.text,
                        part_number: content.part_number.as_deref(),
                        pieces: content.pieces,
                    })
                    .collect(),
            })
            .collect(),
        to_order: packing
            .to_order
            .iter()
            .map(|of| ToOrderObject {
                item: &of.id,
                text: &of.text,
                short: of.short,
                spares: of.spares,
                pieces: of.pieces(),
                pack_of: of.pack,
                packs: of.packs(),
                orders: of.orders.iter().map(|&at| packs.order(at)).collect(),
            })
            .collect(),
        pull: packing
            .pull
            .iter()
            .map(|pull| PullObject {
                bin: pull.bin.as_deref(),
                stock: &pull.stock,
                job: packs.order(pull.order),
                order: pull.order,
                item: &pull.item,
                each: pull.each,
                kits: pull.kits,
                take: pull.take,
                not_confirmed: &pull.unconfirmed,
                lines: pull
                    .evidence
                    .iter()
                    .map(|at| AddressObject {
                        file: &packs.stock[at.list].file,
                        sheet: packs.stock[at.list].sheets[at.sheet].name.as_deref(),
                        rows: &at.rows,
                    })
                    .collect(),
            })
            .collect(),
    };
    serde_json::to_writer(&mut out, &object)?;
    writeln!(out)
}

/// Writes the workbook: the answer, the pull sheet, what to order.
///
/// # Errors
/// [`Error::Output`] for a path that cannot be written, or that exists without `force`.
pub fn write(path: &Path, force: bool, packs: &Packs) -> Result<()> {
    file::replace(path, force, |out| workbook::write_packing(packs, out))
}

/// One kit's packing slip.
pub struct Slip<'a> {
    pub job: &'a str,
    pub kit: u64,
    pub of: u64,
    pub contents: &'a [Content],
}

impl Slip<'_> {
    pub fn pieces(&self) -> u64 {
        self.contents.iter().map(|content| content.pieces).sum()
    }
}

/// The files of the packing slips, a kit each, in a folder: `pell-creek-kit-2.xlsx`.
///
/// # Errors
/// [`Error::Output`]: a folder that is not there, a file that is there without `force`, more slips than
/// anybody prints.
pub fn slips<'a>(folder: &Path, force: bool, packs: &'a Packs) -> Result<Vec<(PathBuf, Slip<'a>)>> {
    let kits = packs.packing.kits();
    if kits > MOST_SLIPS {
        return Err(Error::Output {
            path: folder.to_owned(),
            found: format!("{kits} packing slips are more than the {MOST_SLIPS} of one run"),
            todo: "pack fewer kits at a time".to_owned(),
        });
    }
    let mut used: HashMap<String, u32> = HashMap::new();
    let mut slips = Vec::new();
    for (order, (job, _)) in packs.packing.orders.iter().zip(packs.orders) {
        let mut name = file_name(job);
        let before = used.entry(name.clone()).or_default();
        *before += 1;
        if *before > 1 {
            name.push_str(&format!("-order-{before}"));
        }
        for kit in 1..=order.kits {
            let path = folder.join(format!("{name}-kit-{kit}.xlsx"));
            file::check_path(&path, force)?;
            let slip = Slip {
                job,
                kit,
                of: order.kits,
                contents: &order.contents,
            };
            slips.push((path, slip));
        }
    }
    Ok(slips)
}

/// Writes the packing slips.
///
/// # Errors
/// As [`slips`].
pub fn write_slips(folder: &Path, force: bool, packs: &Packs) -> Result<u64> {
    let slips = slips(folder, force, packs)?;
    for (path, slip) in &slips {
        file::replace(path, force, |out| workbook::write_slip(slip, out))?;
    }
    Ok(slips.len() as u64)
}

/// A job's name as part of a file's name: small letters and figures, joined by hyphens.
fn file_name(job: &str) -> String {
    let letters = job
        .chars()
        .map(|c| if c.is_alphanumeric() { c } else { ' ' });
    let words: String = letters.take(60).collect();
    let words: Vec<String> = words.split_whitespace().map(str::to_lowercase).collect();
    match words.is_empty() {
        true => "job".to_owned(),
        false => words.join("-"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn file_names_are_plain() {
        assert_eq!(
            file_name("Pell Creek footbridge, TF-30"),
            "pell-creek-footbridge-tf-30"
        );
        assert_eq!(file_name("../../etc"), "etc");
        assert_eq!(file_name("?"), "job");
    }
}
