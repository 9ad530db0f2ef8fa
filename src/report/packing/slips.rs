//! The packing slips of kits packed from stock, a file a kit.

use std::{
    collections::HashMap,
    path::{Path, PathBuf},
};

use super::{packs::Packs, slip::Slip};
use crate::{
    Error, Result,
    report::{file, workbook},
};

/// Most packing slips of one run.
const MOST_SLIPS: u64 = 1000;

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
