//! The workbook.

use std::path::Path;

use crate::{
    bins::Layout,
    error::Result,
    kit::{Job, List},
    settle::Account,
};

/// Refuses an output that exists unless `force` is given, before any work is done.
///
/// # Errors
/// An existing output without `force`, a directory.
pub fn refuse_existing(_path: &Path, _force: bool) -> Result<()> {
    todo!()
}

/// Writes the workbook.
///
/// # Errors
/// An output that cannot be written.
pub fn write(
    _path: &Path,
    _force: bool,
    _job: &Job,
    _lists: &[List],
    _account: &Account,
    _layout: &Layout,
) -> Result<()> {
    todo!()
}
