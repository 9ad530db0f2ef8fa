//! A sheet of weighings read as a count: an item a row, its pieces counted by weight.

use super::{
    input::Input,
    line::LineStatus,
    line::{Aside, Line, More, What},
    list::List,
    placement::Placement,
    reading::Reading,
    role::Role,
    sheet_read::{RowTally, SheetRead},
};
use crate::{
    Doubt, Result,
    notation::{Notation, Unread, describe},
    source::Document,
    weigh::{
        Count,
        sheet::{self, Entry, Problem},
    },
};

/// Reads a sheet of weighings as a count; `None` where the file is none. A count that is not sure is
/// in doubt, and a row that gives none stays not counted.
///
/// # Errors
/// A file that cannot be read.
pub fn read(input: &Input, file: &str) -> Result<Option<List>> {
    let Some(weighings) = sheet::find(&input.path, &input.limits)? else {
        return Ok(None);
    };
    let document = Document::open(&input.path, &input.limits)?;
    let path = input.path.clone();
    let mut list = List::new(path, file.to_owned(), Role::Counted, document.format());
    list.lines.reserve(weighings.entries.len());
    list.placements.push(Placement::default());
    for entry in &weighings.entries {
        push(&mut list, entry);
    }
    let mut tally = RowTally {
        rows: weighings.rows,
        ..RowTally::default()
    };
    for line in &list.lines {
        match list.status_of(line) {
            LineStatus::Read => tally.read += 1,
            LineStatus::Check => tally.check += 1,
            LineStatus::Aside => tally.aside += 1,
        }
    }
    tally.other = tally.rows - tally.read - tally.check - tally.aside;
    for (index, sheet) in document.sheets().iter().enumerate() {
        list.sheets.push(SheetRead {
            name: sheet.name.clone(),
            hidden: sheet.hidden,
            passed_over: (index > 0).then(|| "not the sheet of weighings".to_owned()),
            tally: if index == 0 {
                tally
            } else {
                RowTally::default()
            },
            ..SheetRead::default()
        });
    }
    list.tally = tally;
    Ok(Some(list))
}

fn push(list: &mut List, entry: &Entry) {
    let text = list.text.push(&entry.text);
    let (quantity, doubt) = counted(&entry.count);
    let mut doubts: Vec<Doubt> = doubt.into_iter().collect();
    let what = match describe(&entry.item, Notation::default()) {
        Ok(mut callouts) if callouts.len() == 1 => {
            let callout = callouts.remove(0);
            list.readings.push(Reading {
                item: callout.item,
                part_number: None,
                comes_with: false,
                doubts: callout.doubts,
            });
            What::Item(list.readings.len() as u32 - 1)
        }
        Ok(_) => list.put_aside(Aside::NoItem("several items: weigh one at a time".into())),
        Err(Unread::NoItem(reason)) => list.put_aside(Aside::NoItem(reason)),
        Err(Unread::Empty) => list.put_aside(Aside::NoItem("no item is named".into())),
    };
    if let What::Aside(_) = what {
        doubts.clear();
    }
    let quantity = quantity.filter(|_| what.is_item());
    let more = More {
        doubts,
        ..More::default()
    };
    list.lines
        .push(Line::new(entry.row, text, what, 0, quantity).with(more));
}

/// The pieces of a weighing, and why they want a look.
fn counted(count: &std::result::Result<Count, Problem>) -> (Option<u64>, Option<Doubt>) {
    let said = |text: String| Some(Doubt::Said(text.into()));
    match count {
        Err(problem) => (
            None,
            said(format!("not counted: {problem}; {}", problem.todo())),
        ),
        Ok(count) if count.is_sure() => (Some(count.count), None),
        Ok(count) => {
            let mut text = format!(
                "counted by weight: {:.0} % sure to be exact",
                // Rounded down: no chance is printed as a certainty.
                (count.chance_exact * 100.0).floor()
            );
            text.push_str(&match count.sample_needed {
                Some(sample) => format!(", a sample of {sample} would make it sure"),
                None => ", count by hand to be sure".to_owned(),
            });
            for doubt in &count.doubts {
                text.push_str(&format!("; {doubt}"));
            }
            (Some(count.count), said(text))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(text: &str) -> List {
        let file = tempfile::NamedTempFile::new().expect("a temporary file");
        std::fs::write(file.path(), text).expect("written");
        List::read(
            &Input::at(file.path()),
            "scale.csv".to_owned(),
            Role::Counted,
            &|_| {},
        )
        .expect("a list")
    }

    #[test]
    fn weighings_are_a_count() {
        let list = list(
            "item,sample pieces,sample weight,batch weight,unit,resolution,variation\n\
             1/2-13 hex nut,20,400,960,g,0.1,0.2\n\
             1/2-13 x 6 hex bolt,5,500,20000,g,10,2\n\
             3/8 flat washer,20,200,-5,g,1,1\n\
             3/8 lock washer,1,10,300,g,1,1\n\
             ,20,400,960,g,0.1,0.2\n",
        );
        let rows: Vec<_> = list
            .lines
            .iter()
            .map(|line| (line.row, list.status_of(line), line.quantity))
            .collect();
        assert_eq!(
            rows,
            [
                // 960 / (400 / 20).
                (2, LineStatus::Read, Some(48)),
                // 200 pieces of which a sample of 5 at 2 % tells within two or so.
                (3, LineStatus::Check, Some(200)),
                (4, LineStatus::Check, None),
                (5, LineStatus::Check, None),
                (6, LineStatus::Aside, None),
            ]
        );
        let doubt = list.lines[1].doubts()[0].to_string();
        assert!(doubt.starts_with("counted by weight: "), "{doubt}");
        assert!(doubt.contains(" % sure to be exact"), "{doubt}");
        let tally = list.tally;
        assert_eq!(
            (
                tally.rows,
                tally.read,
                tally.check,
                tally.aside,
                tally.other
            ),
            (6, 1, 3, 1, 1)
        );
    }

    #[test]
    fn a_count_sheet_is_no_weighing() {
        let list = list("Item,Good,Damaged\n1/2-13 hex nut,48,\n");
        assert_eq!(list.lines[0].quantity, Some(48));
    }
}
