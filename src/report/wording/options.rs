//! Options that nobody has chosen or refused.

use indexmap::IndexMap;

use crate::{
    kit::{Job, List},
    settle::Account,
    words::{count, fold},
};

/// Options of which nobody has said whether they are built, and how many lines are left out for each.
pub fn open_options<'a>(job: &Job, lists: &'a [List], account: &Account) -> IndexMap<&'a str, u64> {
    let mut open = IndexMap::new();
    for at in &account.not_chosen {
        let list = &lists[at.list];
        let Some(option) = &list.placement_of(&list.lines[at.line]).option else {
            continue;
        };
        let name = fold(&option.name);
        if !job.with.contains(&name) && !job.without.contains(&name) {
            *open.entry(&*option.name).or_default() += 1;
        }
    }
    open
}

/// What the answer leaves out, since nobody has said whether it is built.
pub fn without_options(job: &Job, lists: &[List], account: &Account) -> Option<String> {
    let open = open_options(job, lists, account);
    let named: Vec<String> = open
        .iter()
        .map(|(name, lines)| format!("\"{name}\" ({})", count(*lines, "line")))
        .collect();
    let (noun, each) = match named.len() {
        0 => return None,
        1 => ("option", "it is"),
        _ => ("options", "each is"),
    };
    Some(format!(
        "Without the {noun} {}: say whether {each} built, with or without.",
        named.join(", ")
    ))
}
