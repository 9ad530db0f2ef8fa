//! What is in doubt about the pieces that serve as an item.

use indexmap::{IndexMap, IndexSet};

use crate::{
    doubt::Doubt,
    settle::{Account, ItemAccount},
    words::count,
};

/// Doubts that are summed up, and items that each names.
const SUMMED_UP: usize = 6;
const NAMED: usize = 3;

/// What a person should look at before trusting what serves as an item, all that one side does not state together:
/// `kind, grade not confirmed`.
pub fn doubts(item: &ItemAccount) -> Vec<String> {
    together(item.to_confirm())
}

/// Doubts in words, those of what is not confirmed as one.
fn together<'d>(doubts: impl Iterator<Item = &'d Doubt>) -> Vec<String> {
    let mut fields: Vec<&str> = Vec::new();
    let mut others: Vec<String> = Vec::new();
    for doubt in doubts {
        match doubt {
            Doubt::NotConfirmed(field) => fields.push(field),
            other => others.push(other.to_string()),
        }
    }
    let fields = (!fields.is_empty()).then(|| Doubt::NotConfirmed(fields.join(", ").into()));
    let fields = fields.map(|doubt| doubt.to_string());
    fields.into_iter().chain(others).collect()
}

/// The doubts of all items, a sentence a doubt; what one side does not state is one: `grade not confirmed, one side does
/// not state it: 2 items (1/2-13 x 3 hex bolt, Grade 8; 1/2-13 hex nut, Grade 8)`.
pub fn doubts_summed_up(account: &Account) -> Vec<String> {
    let mut fields: IndexSet<&str> = IndexSet::new();
    let mut silent: Vec<&str> = Vec::new();
    let mut of_doubts: IndexMap<&Doubt, Vec<&str>> = IndexMap::new();
    for item in &account.items {
        for doubt in item.to_confirm() {
            match doubt {
                Doubt::NotConfirmed(field) => _ = fields.insert(field),
                // The verdict asks it.
                Doubt::NumberDisputed { .. } => {}
                doubt => of_doubts.entry(doubt).or_default().push(&item.text),
            }
        }
        if item
            .to_confirm()
            .any(|doubt| matches!(doubt, Doubt::NotConfirmed(_)))
        {
            silent.push(&item.text);
        }
    }
    let fields: Vec<&str> = fields.into_iter().collect();
    let unconfirmed = Doubt::NotConfirmed(fields.join(", ").into());
    if !silent.is_empty() {
        of_doubts.insert_before(0, &unconfirmed, silent);
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
                "grade, finish not confirmed, one side does not state it: 5 items (1/2-13 x 3 hex bolt, Grade 8; \
                 1/2-13 hex nut, hot-dip galvanised; 3/8-16 hex nut, hot-dip galvanised; and 2 more)",
            ],
        );
        // What nobody asked for wants no confirming.
        case(&[("nut hex 1/2", "nut hex 1/2 hdg")], &[]);
        case(&[("bolt hex 1/2 3", "bolt hex 1/2 3 g8")], &[]);
    }
}
