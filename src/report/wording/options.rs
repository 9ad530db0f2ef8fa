//! Options that nobody has chosen or refused.

use indexmap::IndexMap;

use crate::{
    kit::{Job, List},
    settle::{Account, options},
};

/// Options of which nobody has said whether they are built, and how many lines are left out for each.
pub fn open_options<'a>(job: &Job, lists: &'a [List], account: &Account) -> IndexMap<&'a str, u64> {
    options::open_options(job, lists, &account.not_chosen)
}

/// What the answer leaves out, since nobody has said whether it is built.
pub fn without_options(job: &Job, lists: &[List], account: &Account) -> Option<String> {
    options::without_options(&open_options(job, lists, account))
}
