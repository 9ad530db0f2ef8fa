//! What is checked of a zip before a library opens it, so that a small file cannot ask for a large
//! memory: what it is, how much it holds, and the counts that it claims.

use std::{fs::File, io::BufReader, path::Path};

use zip::ZipArchive;

use super::{SAVE_AS, workbook::broken};
use crate::error::{At, Error, Result};

/// What kind of workbook a zip holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Package {
    Xlsx,
    Xlsb,
    Ods,
}

/// Finds out which workbook a zip is.
///
/// # Errors
/// A zip that is cut short, that is no workbook, or that asks for more than a list can need.
pub fn check(path: &Path) -> Result<Package> {
    let file = File::open(path).map_err(|error| broken(path, &error))?;
    let zip = ZipArchive::new(BufReader::new(file)).map_err(|error| broken(path, &error))?;
    let names: Vec<String> = zip
        .file_names()
        .filter_map(|name| Some(name.ok()?.to_lowercase()))
        .collect();
    let has = |name: &str| names.iter().any(|n| n == name);
    if has("xl/workbook.bin") {
        Ok(Package::Xlsb)
    } else if has("content.xml") && has("mimetype") {
        Ok(Package::Ods)
    } else if has("[content_types].xml")
        && names
            .iter()
            .any(|n| n.contains("workbook") && n.ends_with(".xml"))
    {
        Ok(Package::Xlsx)
    } else {
        let what = if has("word/document.xml") {
            "a text document, not a list"
        } else {
            "a zip that is no workbook"
        };
        Err(Error::input(At::file(path), what, SAVE_AS))
    }
}
