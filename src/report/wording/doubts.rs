//! What is in doubt about the pieces that serve as an item.

use indexmap::IndexMap;

use crate::{
    doubt::Doubt,
    settle::{Account, ItemAccount},
    words::count,
};

/// Doubts that are summed up, and items that each names.
const SUMMED_UP: usize = 6;
const NAMED: usize = 3;

/// What a person should look at before trusting what serves as an item: `check: grade not confirmed`.
pub fn doubts(item: &ItemAccount) -> impl Iterator<Item = String> {
    item.to_confirm().map(|doubt| format!("check: {doubt}"))
}

/// The doubts of all items, a sentence a doubt: `grade not confirmed, one side does not state it: 2 items
/// (1/2-13 x 3 hex bolt, Grade 8; 1/2-13 hex nut, Grade 8)`.
pub fn doubts_summed_up(account: &Account) -> Vec<String> {
    let mut of_doubts: IndexMap<&Doubt, Vec<&str>> = IndexMap::new();
    for item in &account.items {
        for doubt in item.to_confirm() {
            of_doubts.entry(doubt).or_default().push(&item.text);
        }
    }
    let mut told: Vec<String> = (of_doubts.iter().take(SUMMED_UP))
        .map(|(doubt, items)| sentence(doubt, items))
        .collect();
    if let Some(more @ 1..) = of_doubts.len().checked_sub(SUMMED_UP) {
        let more = count(more as u64, "doubt");
        told.push(format!("{more} more: see what was found of each item"));
    }
    told
}

fn sentence(doubt: &Doubt, items: &[&str]) -> String {
    let silent = match doubt {
        Doubt::NotConfirmed(_) => ", one side does not state it",
        _ => "",
    };
    if let [one] = items {
        return format!("{doubt}{silent}: {one}");
    }
    let named = items[..items.len().min(NAMED)].join("; ");
    let more = match items.len().saturating_sub(NAMED) {
        0 => String::new(),
        more => format!("; and {more} more"),
    };
    let items = count(items.len() as u64, "item");
    format!("{doubt}{silent}: {items} ({named}{more})")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        kit::Job,
        settle::{
            sample::{ListOf, plain},
            settle,
        },
    };

    /// What is asked for and what was counted, item by item; what is said of it.
    #[track_caller]
    fn case(items: &[(&str, &str)], expected: &[&str]) {
        let asked = items.iter().fold(ListOf::required(), |list, (asked, _)| {
            list.line(asked, 4, &plain)
        });
        let counted = items.iter().fold(ListOf::counted(), |list, (_, counted)| {
            list.line(counted, 4, &plain)
        });
        let lists = [asked.list(), counted.list()];
        let account = settle(&Job::default(), &lists).expect("a sound job");
        assert_eq!(doubts_summed_up(&account), expected);
    }

    #[test]
    fn doubts_are_summed_up() {
        case(&[("nut hex 1/2", "nut hex 1/2")], &[]);
        case(
            &[
                ("bolt hex 1/2 3 g8", "bolt hex 1/2 3"),
                ("nut hex 1/2 hdg", "nut hex 1/2"),
                ("nut hex 3/8 hdg", "nut hex 3/8"),
                ("nut hex 5/8 hdg", "nut hex 5/8"),
                ("nut hex 3/4 hdg", "nut hex 3/4"),
            ],
            &[
                "grade not confirmed, one side does not state it: 1/2-13 x 3 hex bolt, Grade 8",
                "finish not confirmed, one side does not state it: 4 items (1/2-13 hex nut, hot-dip \
                 galvanised; 3/8-16 hex nut, hot-dip galvanised; 5/8-11 hex nut, hot-dip galvanised; \
                 and 1 more)",
            ],
        );
        // What nobody asked for wants no confirming.
        case(&[("nut hex 1/2", "nut hex 1/2 hdg")], &[]);
        case(&[("bolt hex 1/2 3", "bolt hex 1/2 3 g8")], &[]);
    }
}
