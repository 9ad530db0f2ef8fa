//! Which options are built.

use std::collections::BTreeSet;

use indexmap::IndexMap;

use super::{account::LineRef, stages::may_be_one};
use crate::{
    Result,
    error::Error,
    kit::{Job, List, OptionRule, Role},
    words::{count, fold},
};

/// The options that the job takes.
pub struct Chosen<'a> {
    with: &'a [String],
}

impl<'a> Chosen<'a> {
    /// Checks the job's options against those that the required lists name.
    ///
    /// # Errors
    /// An option both taken and refused; one that no required list names.
    pub fn check(job: &'a Job, lists: &[List]) -> Result<Chosen<'a>> {
        if let Some(both) = job.with.iter().find(|name| job.without.contains(name)) {
            return Err(Error::Arguments {
                found: format!("the option \"{both}\" is both taken (with) and refused (without)"),
                todo: "give it once: with, to build it, or without".to_owned(),
            });
        }
        let known = known(lists);
        for name in job.with.iter().chain(&job.without) {
            if !known.contains(name) {
                let none = "leave it out: no line of a required list belongs to an option";
                let todo = write_instead(name, &known, none);
                return Err(Error::Arguments {
                    found: format!("no required list names an option \"{name}\""),
                    todo,
                });
            }
        }
        Ok(Chosen { with: &job.with })
    }

    /// True for a line that is built: of no option, of one that is taken, or of what takes its place
    /// where the option is not taken.
    pub fn takes(&self, option: Option<&OptionRule>) -> bool {
        option.is_none_or(|rule| rule.holds(self.with))
    }
}

/// The options that the required lists name.
fn known(lists: &[List]) -> BTreeSet<String> {
    let required = lists.iter().filter(|list| list.role == Role::Required);
    let placements = required.flat_map(|list| &list.placements);
    let options = placements.filter_map(|placement| placement.option.as_ref());
    options.map(|option| fold(&option.name)).collect()
}

/// Calls the options that the job takes and refuses as the lists do, where these number them: `mesh` is `5 mesh`.
pub fn call_as_listed(job: &mut Job, lists: &[List]) {
    let known = known(lists);
    for name in job.with.iter_mut().chain(&mut job.without) {
        if let Some(listed) = as_listed(name, &known) {
            *name = listed.clone();
        }
    }
}

/// The name, or the only one that may well be meant by it: they differ in the number in front.
pub fn as_listed<'a>(
    name: &str,
    known: impl IntoIterator<Item = &'a String> + Clone,
) -> Option<&'a String> {
    let mut same = known.clone().into_iter().filter(|known| *known == name);
    let mut alike = known.into_iter().filter(|known| may_be_one(known, name));
    same.next().or_else(|| match (alike.next(), alike.next()) {
        (Some(one), None) => Some(one),
        _ => None,
    })
}

/// Options of which nobody has said whether they are built, and how many of the lines that are left out belong
/// to each. `not_chosen`: the lines left out.
pub fn open_options<'a>(
    job: &Job,
    lists: &'a [List],
    not_chosen: &[LineRef],
) -> IndexMap<&'a str, u64> {
    let mut open = IndexMap::new();
    for at in not_chosen {
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

/// What an answer leaves out, since nobody has said whether it is built.
pub fn without_options(open: &IndexMap<&str, u64>) -> Option<String> {
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

/// The name most like another, if any is like it.
pub fn nearest<'a>(name: &str, known: impl IntoIterator<Item = &'a String>) -> Option<&'a String> {
    const LIKE: f64 = 0.7;
    let like = |known: &str| strsim::jaro_winkler(name, known);
    let near = known.into_iter().filter(|known| like(known) >= LIKE);
    near.max_by(|a, b| like(a).total_cmp(&like(b)))
}

/// What to write in place of a name that the lists do not know.
pub fn write_instead<'a>(
    name: &str,
    known: impl IntoIterator<Item = &'a String> + Clone,
    none: &str,
) -> String {
    let all: Vec<&str> = known.clone().into_iter().map(String::as_str).collect();
    match nearest(name, known) {
        _ if all.is_empty() => none.to_owned(),
        None => format!("write one that the lists know: {}", all.join(", ")),
        Some(nearest) => format!(
            "write \"{nearest}\", the nearest; the lists know: {}",
            all.join(", ")
        ),
    }
}
