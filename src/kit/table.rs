//! Tables that a job is told by: a heading row, then a row each.

use std::{fmt::Display, ops::ControlFlow, str::FromStr};

use super::input::Input;
use crate::{
    error::{At, Error, Result},
    source::{Document, Row},
    words::fold,
};

/// What a table holds, and by which headings.
pub struct Headings<K: 'static> {
    /// `a table of substitutes`.
    pub what: &'static str,
    /// Without these a row is no heading row.
    pub needed: [K; 2],
    pub names: &'static [&'static str],
}

/// Reads delimited text or a workbook's first sheet: each row below the headings, with what each of its
/// columns holds.
///
/// # Errors
/// A file that cannot be read, or without the headings; a heading that is not known; what `each` refuses.
pub fn read<K>(
    input: &Input,
    headings: &Headings<K>,
    mut each: impl FnMut(&Row, &[Option<K>]) -> Result<()>,
) -> Result<()>
where
    K: FromStr<Err = ()> + Display + Copy + PartialEq,
{
    let mut document = Document::open(&input.path, &input.limits)?;
    let mut columns: Option<Vec<Option<K>>> = None;
    let mut failed = None;
    if !document.sheets().is_empty() {
        document.rows(0, &mut |row| {
            if row.is_empty() {
                return Ok(ControlFlow::Continue(()));
            }
            let result = match &columns {
                None => headings.of(&input.shown, row).map(|found| columns = found),
                Some(columns) => each(row, columns),
            };
            Ok(match result {
                Ok(()) => ControlFlow::Continue(()),
                Err(error) => {
                    failed = Some(error);
                    ControlFlow::Break(())
                }
            })
        })?;
    }
    let [first, second] = headings.needed;
    match (failed, columns) {
        (Some(error), _) => Err(error),
        (None, None) => Err(Error::input(
            At::file(&input.shown),
            format!("no heading row with \"{first}\" and \"{second}\""),
            format!("head the columns with {}", headings.names.join(", ")),
        )),
        (None, Some(_)) => Ok(()),
    }
}

/// True for a file whose first row that says anything heads such a table.
pub fn is_headed<K>(input: &Input, headings: &Headings<K>) -> bool
where
    K: FromStr<Err = ()> + Copy + PartialEq,
{
    let first = Document::open(&input.path, &input.limits).and_then(|mut document| {
        let rows = match document.sheets().is_empty() {
            true => Vec::new(),
            false => document.first_rows(0, 20)?,
        };
        Ok(rows.into_iter().find(|row| !row.is_empty()))
    });
    matches!(first, Ok(Some(row)) if matches!(headings.of(&input.shown, &row), Ok(Some(_))))
}

impl<K> Headings<K>
where
    K: FromStr<Err = ()> + Copy + PartialEq,
{
    /// What each column holds, if the row heads them.
    fn of(&self, file: &str, row: &Row) -> Result<Option<Vec<Option<K>>>> {
        let names: Vec<String> = row
            .cells()
            .map(|(text, _)| fold(&text.replace('_', " ")))
            .collect();
        let keys: Vec<Option<K>> = names.iter().map(|name| name.parse().ok()).collect();
        if !self.needed.iter().all(|key| keys.contains(&Some(*key))) {
            return Ok(None);
        }
        for (name, key) in names.iter().zip(&keys) {
            if key.is_none() && !matches!(name.as_str(), "" | "note" | "remark") {
                return Err(Error::input(
                    At {
                        row: Some(row.number),
                        ..At::file(file)
                    },
                    format!("the heading \"{name}\" is not known on {}", self.what),
                    format!(
                        "the headings are {}; a column \"note\" is passed over",
                        self.names.join(", ")
                    ),
                ));
            }
        }
        Ok(Some(keys))
    }
}
