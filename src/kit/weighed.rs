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
        WeighDoubt,
        sheet::{self, Entry},
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
    let (quantity, mut doubts) = counted(entry);
    let what = match describe(&entry.item, Notation::default()) {
        Ok(mut callouts) if callouts.len() == 1 => {
            let callout = callouts.remove(0);
            list.readings.push(Reading {
                item: callout.item,
                part_number: None,
                comes_with: false,
                lent_size: false,
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
fn counted(entry: &Entry) -> (Option<u64>, Vec<Doubt>) {
    let said = |text: String| Doubt::HowMany(text.into());
    let count = match &entry.count {
        Err(problem) => {
            let told = format!("not counted: {problem}; {}", problem.todo());
            return (None, vec![said(told)]);
        }
        Ok(count) => count,
    };
    let mut doubts = Vec::new();
    if entry.sample_counts.is_none() {
        doubts.push(said(format!(
            "counted without the {} of the sample: add them if they came out of the same bag, or say so under \"sample counts\", yes or no",
            count.sample_pieces
        )));
    }
    let mut told: Vec<String> = Vec::new();
    if count.is_whole() && !count.is_sure() {
        // Rounded down: no chance is printed as a certainty.
        let chance = (count.chance_exact * 1000.0).floor() / 10.0;
        told.push(match count.sample_needed {
            Some(sample) => {
                format!("{chance:.1} % sure to be exact, a sample of {sample} would make it sure")
            }
            None => format!("{chance:.1} % sure to be exact, count by hand to be sure"),
        });
    }
    let is_open = !count.is_sure() || count.doubts.contains(&WeighDoubt::LighterThanSample);
    if is_open {
        told.extend(count.doubts.iter().map(ToString::to_string));
    }
    if !told.is_empty() {
        doubts.push(said(format!("counted by weight: {}", told.join("; "))));
    }
    (entry.pieces(), doubts)
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
            "item,sample pieces,sample weight,batch weight,unit,resolution,variation,sample counts\n\
             1/2-13 hex nut,20,400,960,g,0.1,0.2,no\n\
             1/2-13 x 6 hex bolt,5,500,20000,g,10,2,no\n\
             3/8 flat washer,20,200,-5,g,1,1,\n\
             3/8 lock washer,1,10,300,g,1,1,\n\
             ,20,400,960,g,0.1,0.2,\n",
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

    /// Hands take the sample out of the very bag: what is not said is asked.
    #[test]
    fn the_sample_is_counted_where_it_is_said() {
        let list = list(
            "item,sample pieces,sample weight,batch weight,unit,resolution,variation,sample counts\n\
             1/2-13 hex nut,20,400,240,g,0.1,0.2,yes\n\
             1/2-13 hex nut,20,400,960,g,0.1,0.2,\n\
             1/2-13 hex nut,20,400,970,g,0.1,0.2,no\n",
        );
        let told = |at: usize| -> Vec<String> {
            let line = &list.lines[at];
            line.doubts().iter().map(ToString::to_string).collect()
        };
        let pieces: Vec<_> = list.lines.iter().map(|line| line.quantity).collect();
        // 240 / 20 and the 20; 960 / 20; 970 / 20 is 48.5.
        assert_eq!(pieces[..2], [Some(32), Some(48)]);
        assert_eq!(
            told(0),
            [
                "counted by weight: the batch is lighter than its sample: a short bag, or the two are swapped"
            ]
        );
        assert_eq!(
            told(1),
            [
                "counted without the 20 of the sample: add them if they came out of the same bag, or say so \
              under \"sample counts\", yes or no"
            ]
        );
        // No chance stands beside a count that is none.
        assert!(!told(2)[0].contains('%'), "{:?}", told(2));
    }

    #[test]
    fn a_count_sheet_is_no_weighing() {
        let list = list("Item,Good,Damaged\n1/2-13 hex nut,48,\n");
        assert_eq!(list.lines[0].quantity, Some(48));
    }
}
