//! Required, shipped, counted: match, deal out, findings.

pub mod account;

pub use account::{
    Account, Evidence, Finding, FindingKind, ItemAccount, LineRef, Share, StageAccount, Totals,
    Verdict,
};

use crate::{
    Result,
    kit::{Job, List},
};

/// Settles a job.
///
/// # Errors
/// Contradictory options, an option that no list names, one stage and item in two required lists,
/// sums that overflow.
pub fn settle(_job: &Job, _lists: &[List]) -> Result<Account> {
    todo!()
}
