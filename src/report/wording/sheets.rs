//! What was read of each list, and how lists compare.

use crate::{
    kit::{List, Role},
    settle::Account,
    words::{count, quoted},
};

/// How the lists that check the required one agree with it, a sentence each.
pub fn compared(lists: &[List], account: &Account) -> Vec<String> {
    let required = lists.iter().find(|list| list.role == Role::Required);
    let against = required.map_or("the required list", |list| list.file.as_str());
    account
        .compared
        .iter()
        .map(|of| {
            let mut text = format!(
                "{} against {against}: {} of stage and item agree, {} differ",
                lists[of.list].file,
                count(of.agree, "line"),
                of.differ
            );
            if of.unread > 0 {
                text.push_str(&format!(", {} could not be compared", of.unread));
            }
            for (stage, option) in &of.not_built {
                text.push_str(&format!(
                    "; stage \"{stage}\" is of the option \"{option}\", which is not built, and was not compared"
                ));
            }
            text
        })
        .collect()
}

/// Headings of columns, with what is said before them.
fn columns(what: &str, headings: &[Box<str>]) -> Option<String> {
    let noun = if headings.len() == 1 {
        "column"
    } else {
        "columns"
    };
    (!headings.is_empty()).then(|| format!("{what} the {noun} {}", quoted(headings)))
}

/// Says of all sheets of which the same columns were not read that they were not, beside the first of
/// them.
fn unread(list: &List, at: usize, name: &str) -> Option<String> {
    let own = &list.sheets[at].unread_columns;
    let said = columns("not read:", own)?;
    let sheets = list.sheets.iter().enumerate();
    let mut alike = sheets.filter(|(_, sheet)| sheet.unread_columns == *own);
    alike.next().filter(|(first, _)| *first == at)?;
    let named = match alike.count() as u64 {
        0 => name.to_owned(),
        more => format!("{name} and {more} more"),
    };
    Some(format!(
        "{named}: {said}; where one says what, how many or where, name it in a job file (columns), \
         which \"tallybin draft\" begins for you"
    ))
}

/// Sheets that a note names.
const SHOWN_SHEETS: usize = 3;

/// Says of all sheets that were passed over for one reason that they were, beside the first of them.
fn passed_over_for(list: &List, at: usize, why: &str, name: &str) -> Option<String> {
    let sheets = list.sheets.iter().enumerate();
    let mut alike = sheets.filter(|(_, sheet)| sheet.passed_over.as_deref() == Some(why));
    alike.next().filter(|(first, _)| *first == at)?;
    let others: Vec<&str> = alike
        .filter_map(|(_, sheet)| sheet.name.as_deref())
        .collect();
    if others.is_empty() {
        return Some(format!("{name} was passed over: {why}"));
    }
    let (shown, more) = others.split_at(others.len().min(SHOWN_SHEETS - 1));
    let shown = shown.join(", ");
    let more = match more.len() {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    Some(format!(
        "{} were passed over ({name}, {shown}{more}): {why}",
        count(others.len() as u64 + 1, "sheet")
    ))
}

/// What there is to say of a list's sheets: those passed over, and why; what should be asked; hidden rows; columns that were not read.
pub fn sheets(list: &List) -> impl Iterator<Item = String> + '_ {
    list.sheets.iter().enumerate().flat_map(|(at, sheet)| {
        let name = match &sheet.name {
            Some(name) => format!("sheet {name}"),
            None => "the file".to_owned(),
        };
        let passed_over = sheet.passed_over.as_deref();
        let hidden = sheet.hidden_rows.filter(|rows| *rows > 0);
        [
            passed_over.and_then(|why| passed_over_for(list, at, why, &name)),
            (sheet.hidden && passed_over.is_none())
                .then(|| format!("{name} is hidden, and counted")),
            hidden.map(|rows| format!("{name}: {} hidden, and counted", count(rows, "row"))),
            // A column of counts is never passed over unsaid.
            unread(list, at, &name),
            columns("a quantity in each of", &sheet.spread_columns),
            sheet.question.clone(),
        ]
        .into_iter()
        .flatten()
        .chain(
            sheet
                .notes
                .iter()
                .map(move |note| format!("{name}: {note}")),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{kit::SheetRead, settle::sample::ListOf};

    #[track_caller]
    fn passed_over(named: &[(&str, &str)], expected: &[&str]) {
        let list = ListOf::counted().edit(|list| {
            list.sheets = named
                .iter()
                .map(|(name, why)| SheetRead {
                    name: Some((*name).into()),
                    passed_over: Some((*why).into()),
                    ..SheetRead::default()
                })
                .collect();
        });
        assert_eq!(sheets(&list.list()).collect::<Vec<_>>(), expected);
    }

    #[test]
    fn sheets_passed_over_for_one_reason_are_one_line() {
        passed_over(
            &[("Bins", "not a count")],
            &["sheet Bins was passed over: not a count"],
        );
        passed_over(
            &[
                ("Summary", "not a count"),
                ("Old", "hidden sheet"),
                ("Bins", "not a count"),
                ("Bags", "not a count"),
                ("Claim", "not a count"),
                ("Labels", "not a count"),
            ],
            &[
                "5 sheets were passed over (sheet Summary, Bins, Bags and 2 more): not a count",
                "sheet Old was passed over: hidden sheet",
            ],
        );
    }
}
