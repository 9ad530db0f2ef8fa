//! Text on the terminal.

use std::io::{self, Write};

use crate::{
    kit::{Job, List},
    settle::Account,
};

/// How each line reads.
///
/// # Errors
/// Whatever writing to `out` returns.
pub fn lines(_lists: &[List], _out: impl Write) -> io::Result<()> {
    todo!()
}

/// The verdict of a settled job.
///
/// # Errors
/// Whatever writing to `out` returns.
pub fn verdict(
    _job: &Job,
    _lists: &[List],
    _account: &Account,
    _out: impl Write,
) -> io::Result<()> {
    todo!()
}
