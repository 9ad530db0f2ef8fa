//! Stages by name and number.

use crate::{settle::Account, words::fold};

/// A stage as people call it: `stage 3, Handrail posts`.
pub fn stage(account: &Account, index: usize) -> String {
    format!("stage {}{}", index + 1, named(", ", account, index))
}

/// A stage's number and name, as in a table: `3 Rails`.
pub fn numbered_stage(account: &Account, index: usize) -> String {
    format!("{}{}", index + 1, named(" ", account, index))
}

/// A stage's name behind its number; nothing where it has no other.
pub fn named(between: &str, account: &Account, index: usize) -> String {
    let name = stage_name(account, index);
    match name == (index + 1).to_string() {
        true => String::new(),
        false => format!("{between}{name}"),
    }
}

/// The stage of a name, by index; `None` for one that is not built.
pub fn stage_of(account: &Account, name: &str) -> Option<usize> {
    let mut stages = account.stages.iter();
    stages.position(|stage| stage.name == name).or_else(|| {
        let name = fold(name);
        account.stages.iter().position(|s| fold(&s.name) == name)
    })
}

/// A stage's name without the number that it may begin with, where that is the stage's own; where no
/// list names a stage, the kit is one stage.
pub fn stage_name(account: &Account, index: usize) -> &str {
    bare_name(&account.stages[index].name, index + 1)
}

fn bare_name(name: &str, number: usize) -> &str {
    let own = number.to_string();
    let words = name.strip_prefix("Stage ").unwrap_or(name);
    match words.strip_prefix(&own) {
        Some(rest) if rest.starts_with([' ', '.', ':', ')', '-', ',']) => {
            let bare = rest.trim_start_matches([' ', '.', ':', ')', '-', ',']);
            if bare.is_empty() { name } else { bare }
        }
        _ if name.is_empty() => "whole kit",
        _ => name,
    }
}

/// Stages with the pieces that go to each: `4 to stage 1, Sills; 8 to stage 3, Rails`.
pub fn to_stages(account: &Account, stages: &[(usize, u64)]) -> String {
    let words: Vec<String> = stages
        .iter()
        .map(|(at, pieces)| format!("{pieces} to {}", stage(account, *at)))
        .collect();
    words.join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn bare(name: &str, number: usize, expected: &str) {
        assert_eq!(bare_name(name, number), expected);
    }

    #[test]
    fn a_stage_is_not_numbered_twice() {
        bare("3 Cross frames", 3, "Cross frames");
        bare("Stage 3: Cross frames", 3, "Cross frames");
        bare("3. Cross frames", 3, "Cross frames");
        bare("3 Cross frames", 2, "3 Cross frames");
        bare("30 ft span", 3, "30 ft span");
        bare("3", 3, "3");
        bare("Stage 3", 3, "Stage 3");
        bare("", 1, "whole kit");
    }
}
