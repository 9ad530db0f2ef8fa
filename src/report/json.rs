//! JSON on standard output.

use std::io::{self, Write};

use crate::{
    bins::Layout,
    kit::{Job, List},
    settle::Account,
};

/// One array, an object a line.
///
/// # Errors
/// Whatever writing to `out` returns.
pub fn lines(_lists: &[List], _out: impl Write) -> io::Result<()> {
    todo!()
}

/// The object of a settled job.
///
/// # Errors
/// Whatever writing to `out` returns.
pub fn account(
    _job: &Job,
    _lists: &[List],
    _account: &Account,
    _layout: &Layout,
    _out: impl Write,
) -> io::Result<()> {
    todo!()
}
