//! The stages in build order.

use std::ops::Range;

use crate::words::fold;
use indexmap::IndexMap;

use super::{
    account::LineRef,
    options::{Chosen, as_listed, write_instead},
};
use crate::{
    Result,
    columns::furniture,
    error::Error,
    kit::{Job, List, Role, Usage, What, remark},
};

/// The stages that are built, in build order.
pub struct Stages {
    /// By the folded name; the name as first written.
    named: IndexMap<String, String>,
    /// The stages that are still to be built: those before are built, those behind are spares.
    open: Range<usize>,
}

impl Stages {
    /// The stages that the required lists name, in the job's order, else in that of their first naming.
    /// A stage that only lines of options not chosen name is left out. Lines that name no stage come
    /// last, but for spares beside other stages.
    ///
    /// # Errors
    /// A stage that the job orders or says is built, and no list names.
    pub fn order(job: &Job, lists: &[List], chosen: &Chosen) -> Result<Stages> {
        let mut named: IndexMap<String, (String, bool)> = IndexMap::new();
        let mut unnamed = false;
        for list in lists.iter().filter(|list| list.role == Role::Required) {
            // A heading row that names the stages names them before any line does.
            let headings = list.sheets.iter().flat_map(|sheet| &sheet.spread_columns);
            for name in headings.filter(|name| furniture::container(name).is_none()) {
                let entry = named.entry(fold(name));
                entry.or_insert_with(|| (name.to_string(), false));
            }
            let mut seen = vec![false; list.placements.len()];
            for line in &list.lines {
                // A placement is looked at once; one without a stage, until an item has it.
                let seen = &mut seen[line.placement as usize];
                if std::mem::replace(seen, matches!(line.what, What::Item(_))) {
                    continue;
                }
                let placement = list.placement_of(line);
                let taken = chosen.takes(placement.option.as_ref());
                match placement.stage.as_deref().map(|name| (fold(name), name)) {
                    Some((key, name)) if !key.is_empty() => {
                        named
                            .entry(key)
                            .or_insert_with(|| (name.trim().to_owned(), false))
                            .1 |= taken;
                    }
                    // What is named for reference only is no stage's.
                    _ => {
                        unnamed |= taken
                            && matches!(line.what, What::Item(_))
                            && placement.usage != Some(Usage::Reference);
                    }
                }
            }
        }
        let as_listed = |name: &String| match as_listed(&fold(name), named.keys()) {
            Some(key) => Ok(key.clone()),
            None => {
                let known = named.values().map(|(name, _)| name);
                let none = "leave it out: the required lists name no stages";
                let todo = write_instead(name, known, none);
                Err(Error::Arguments {
                    found: format!("no required list names a stage \"{name}\""),
                    todo,
                })
            }
        };
        let order: Vec<String> = job.stages.iter().map(as_listed).collect::<Result<_>>()?;
        let built_key = job.built_through.as_ref().map(as_listed).transpose()?;
        let place = |key: &String| order.iter().position(|k| k == key).unwrap_or(order.len());
        named.sort_by(|a, _, b, _| place(a).cmp(&place(b)));
        let built_to = built_key.and_then(|key| named.get_index_of(&key));
        let mut stages = Stages {
            named: IndexMap::new(),
            open: 0..0,
        };
        let mut spares = Vec::new();
        for (at, (key, (name, taken))) in named.into_iter().enumerate() {
            match taken {
                true if remark::is_of_spares(&name) => spares.push((key, name)),
                true => _ = stages.named.insert(key, name),
                false => {}
            }
            if built_to == Some(at) {
                stages.open.start = stages.named.len();
            }
        }
        if unnamed || stages.named.is_empty() && spares.is_empty() {
            stages.named.insert(String::new(), String::new());
        }
        let only_spares = stages.named.is_empty();
        stages.open.end = stages.named.len();
        stages.named.extend(spares);
        if only_spares {
            stages.open.end = stages.named.len();
        }
        Ok(stages)
    }

    /// The names in order; an empty one where lines name no stage.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.named.values().map(String::as_str)
    }

    pub fn len(&self) -> usize {
        self.named.len()
    }

    /// Stages before this one are built.
    pub fn built(&self) -> usize {
        self.open.start
    }

    /// Stages that are still to be built.
    pub fn open(&self) -> Range<usize> {
        self.open.clone()
    }

    /// The stage of a name; `None` for one that is not built.
    pub fn of(&self, name: Option<&str>) -> Option<usize> {
        let key = name.map(fold).unwrap_or_default();
        self.named.get_index_of(&key)
    }

    /// True for the stage of lines that name none.
    pub fn is_unnamed(&self, stage: usize) -> bool {
        self.named
            .get_index(stage)
            .is_some_and(|(key, _)| key.is_empty())
    }

    /// True for two stages that lists may well mean as one: `2 Girders` and `Stage 2: Girders`.
    pub fn are_alike(&self, a: usize, b: usize) -> bool {
        let key = |stage| self.named.get_index(stage).map(|(key, _)| key.as_str());
        matches!((key(a), key(b)), (Some(a), Some(b)) if may_be_one(a, b))
    }

    /// The error for two required lists that both ask for one item in one stage.
    pub fn listed_twice(
        &self,
        lists: &[List],
        first: LineRef,
        second: LineRef,
        stage: usize,
    ) -> Error {
        let stage = match self.named.get_index(stage) {
            Some((_, name)) if !name.is_empty() => format!("stage \"{name}\""),
            _ => "the kit".to_owned(),
        };
        let text = |at: LineRef| {
            let list = &lists[at.list];
            list.text_of(&list.lines[at.line]).into_owned()
        };
        Error::input(
            second.address(lists),
            format!(
                "{stage} asks for \"{}\" here, and for \"{}\" in {} too: two required lists over one \
                 stage and item are not added up",
                text(second),
                text(first),
                first.address(lists),
            ),
            "give one of the two lists; or --required-adds, where the second adds to the first; or \
             --required-checks, to see where the two differ",
        )
    }
}

/// True for two names by which lists may well mean one stage: `Stage 2: Girders` is `2 Girders`, and `Step 2` or `2`.
pub fn may_be_one(a: &str, b: &str) -> bool {
    let ((number_a, name_a), (number_b, name_b)) = (parted(a), parted(b));
    match (name_a, name_b) {
        ("", "") => number_a == number_b && (!number_a.is_empty() || a == b),
        ("", _) | (_, "") => !number_a.is_empty() && number_a == number_b,
        _ => name_a == name_b,
    }
}

/// The number that a stage's folded name begins with, and what stands behind it.
fn parted(key: &str) -> (&str, &str) {
    let name = ["stage ", "step "]
        .iter()
        .find_map(|word| key.strip_prefix(word))
        .unwrap_or(key);
    let rest = name.trim_start_matches(|c: char| c.is_ascii_digit());
    let number = &name[..name.len() - rest.len()];
    match number {
        "" => ("", name),
        _ => (
            number,
            rest.trim_start_matches([' ', '.', ':', ')', '-', ',']),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_by_which_lists_mean_one_stage() {
        for (a, b, are_one) in [
            ("1 deck", "stage 1: deck", true),
            ("step 12. rails", "rails", true),
            ("2x6 boards", "x6 boards", true),
            ("7", "stage 7", true),
            ("7", "step 7: posts", true),
            ("step 7", "stage 7 - posts", true),
            ("stage 1: deck", "stage 2: deck", true),
            ("", "", true),
            ("", "1 deck", false),
            ("7", "8", false),
            ("7", "step 8: posts", false),
            ("posts", "step 8: rails", false),
        ] {
            assert_eq!(may_be_one(a, b), are_one, "{a}, {b}");
            assert_eq!(may_be_one(b, a), are_one, "{b}, {a}");
        }
    }
}
