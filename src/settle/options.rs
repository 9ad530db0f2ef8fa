//! Which options are built.

use crate::words::fold;
use std::collections::BTreeMap;

use crate::{
    Result,
    error::Error,
    kit::{Job, List, OptionRule, Role},
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
        let mut known: BTreeMap<String, &str> = BTreeMap::new();
        for list in lists.iter().filter(|list| list.role == Role::Required) {
            for option in list.placements.iter().filter_map(|p| p.option.as_ref()) {
                known.entry(fold(&option.name)).or_insert(&option.name);
            }
        }
        for name in job.with.iter().chain(&job.without) {
            if !known.contains_key(name) {
                let todo = match nearest(name, known.keys()) {
                    None => {
                        "leave it out: no line of a required list belongs to an option".to_owned()
                    }
                    Some(nearest) => format!(
                        "write \"{nearest}\", the nearest; the lists know: {}",
                        known.keys().cloned().collect::<Vec<_>>().join(", ")
                    ),
                };
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

/// The name most like another.
pub fn nearest<'a>(name: &str, known: impl IntoIterator<Item = &'a String>) -> Option<&'a String> {
    let like = |known: &str| strsim::jaro_winkler(name, known);
    known.into_iter().max_by(|a, b| like(a).total_cmp(&like(b)))
}
