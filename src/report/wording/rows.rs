//! Rows and the files that they stand in.

use crate::{
    kit::{Line, List},
    settle::{Evidence, ItemAccount},
};

/// Runs of rows: `12-14, 20`. Runs that touch or overlap are joined.
fn rows(runs: &[(u32, u32)]) -> String {
    let mut joined: Vec<(u32, u32)> = Vec::new();
    for &(first, last) in runs {
        match joined.last_mut() {
            Some(open) if first >= open.0 && first <= open.1.saturating_add(1) => {
                open.1 = open.1.max(last);
            }
            _ => joined.push((first, last)),
        }
    }
    let words: Vec<String> = joined
        .into_iter()
        .map(|(first, last)| match first == last {
            true => first.to_string(),
            false => format!("{first}-{last}"),
        })
        .collect();
    words.join(", ")
}

/// Where a finding stands: `parts.xlsx, sheet Stages, rows 12-14, 20`.
pub fn address(lists: &[List], evidence: &Evidence) -> String {
    let list = &lists[evidence.list];
    let mut text = list.file.clone();
    if let Some(sheet) = list
        .sheets
        .get(evidence.sheet)
        .and_then(|s| s.name.as_ref())
    {
        text.push_str(", sheet ");
        text.push_str(sheet);
    }
    let one = matches!(&*evidence.rows, [(first, last)] if first == last);
    let plural = if one { "" } else { "s" };
    format!(
        "{text}, {}{plural} {}",
        list.row_noun(),
        rows(&evidence.rows)
    )
}

/// So many addresses are all that anybody reads in one cell (common practice, no source).
const MOST: usize = 100;

/// Several addresses, joined by semicolons; of more than [`MOST`], how many more there are.
pub fn addresses<'a>(lists: &[List], evidence: impl IntoIterator<Item = &'a Evidence>) -> String {
    let mut evidence = evidence.into_iter();
    let first = evidence.by_ref().take(MOST);
    let mut words: Vec<String> = first.map(|e| address(lists, e)).collect();
    let more = evidence.count();
    if more > 0 {
        words.push(format!("and {more} more"));
    }
    words.join("; ")
}

/// All the lines that an item's account rests on.
pub fn sources_of(lists: &[List], item: &ItemAccount) -> String {
    addresses(
        lists,
        item.required_by
            .iter()
            .chain(&item.shipped_by)
            .chain(&item.counted_by),
    )
}

/// Why a person should look at a line: its doubts, or why it is aside. Empty for a line that is read.
pub fn why(list: &List, line: &Line) -> Vec<String> {
    match list.aside_of(line) {
        Some(reason) => vec![reason.to_string()],
        None => list.doubts_of(line).map(ToString::to_string).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::{Input, Role};

    #[track_caller]
    fn folds(runs: &[(u32, u32)], expected: &str) {
        assert_eq!(rows(runs), expected);
    }

    #[test]
    fn addresses_are_as_many_as_are_read() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("p.csv");
        std::fs::write(&path, "Item,Qty\nM8 nut,2\n").unwrap();
        let (input, role) = (Input::at(&path), Role::Required);
        let list = List::read(&input, "p.csv".to_owned(), role, &|_| ()).unwrap();
        let at = |row| Evidence {
            list: 0,
            sheet: 0,
            rows: vec![(row, row)].into(),
        };
        let all: Vec<Evidence> = (1..=MOST as u32 + 2).map(at).collect();
        let text = addresses(&[list], &all);
        assert!(text.starts_with("p.csv, line 1; p.csv, line 2; "), "{text}");
        assert!(text.ends_with("; p.csv, line 100; and 2 more"), "{text}");
    }

    #[test]
    fn rows_are_folded() {
        folds(&[], "");
        folds(&[(7, 7)], "7");
        folds(&[(12, 14), (20, 20)], "12-14, 20");
        folds(&[(1, 1), (2, 2), (3, 3)], "1-3");
        folds(&[(1, 4), (3, 9), (11, 12)], "1-9, 11-12");
        folds(&[(9, 9), (2, 3)], "9, 2-3");
        folds(&[(1, u32::MAX), (5, 6)], &format!("1-{}", u32::MAX));
    }
}
