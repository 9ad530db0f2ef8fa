//! What maker's numbers stand for, kept from one job to the next: a table with a number and an item a row.

use super::{
    input::Input,
    table::{self, Headings},
};
use crate::{
    doubt::Doubt,
    error::{At, Error, Result},
    hardware::Item,
    names::names,
    notation::{Notation, describe},
};

/// A number, and the piece of hardware or the part that it stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NumberRow {
    /// Where it stands: the file as shown, and the row from 1.
    pub file: String,
    pub row: u32,
    /// Trimmed, in upper case, as lists have it.
    pub number: String,
    pub item: Item,
}

names! {
    /// A column of a table of numbers.
    pub enum Key {
        Number = "number",
        Item = "item",
    }
}

const HEADINGS: Headings<Key> = Headings {
    what: "a table of numbers",
    needed: [Key::Number, Key::Item],
    names: Key::NAMES,
};

impl NumberRow {
    /// Where it stands: `numbers.csv, line 4`.
    pub fn address(&self) -> String {
        self.at().to_string()
    }

    fn at(&self) -> At {
        At {
            row: Some(self.row),
            ..At::file(&self.file)
        }
    }

    fn error(&self, found: String, todo: &str) -> Error {
        Error::input(self.at(), found, todo)
    }
}

/// True for a file that has the headings of a table of numbers.
pub fn is_table(input: &Input) -> bool {
    table::is_headed(input, &HEADINGS)
}

/// Reads a table of numbers.
///
/// # Errors
/// As [`table::read`]; a row without a number, or whose item does not read as one piece; a
/// number that stands for two items.
pub fn read(input: &Input) -> Result<Vec<NumberRow>> {
    let mut rows: Vec<NumberRow> = Vec::new();
    table::read(input, &HEADINGS, |row, columns| {
        let under = |key: Key| {
            let at = columns.iter().position(|of| *of == Some(key));
            at.map_or("", |at| row.get(at)).trim()
        };
        let mut found = NumberRow {
            file: input.shown.clone(),
            row: row.number,
            number: under(Key::Number).to_uppercase(),
            item: Item::default(),
        };
        if found.number.is_empty() {
            let todo = "write the maker's number under \"number\"";
            return Err(found.error("the row gives no number".to_owned(), todo));
        }
        found.item = match one_item(under(Key::Item)) {
            Ok(item) => item,
            Err(why) => {
                let text = under(Key::Item);
                return Err(found.error(
                    format!("\"{text}\" does not read as one item: {why}"),
                    "write a size and a kind, or a part's name, as on the lists: 1/2 x 3 hex bolt",
                ));
            }
        };
        let before = rows.iter().find(|other| other.number == found.number);
        match before {
            Some(other) if other.item != found.item => Err(found.error(
                format!(
                    "{} stands for {} in {}",
                    found.number,
                    other.item,
                    other.address()
                ),
                "keep the row that is right: a number stands for one item",
            )),
            Some(_) => Ok(()),
            None => {
                rows.push(found);
                Ok(())
            }
        }
    })?;
    Ok(rows)
}

/// The one item that a text names, or why it does not.
fn one_item(text: &str) -> std::result::Result<Item, String> {
    let callouts =
        describe(text, Notation::default()).map_err(|_| "no item is named".to_owned())?;
    let [callout] = callouts.as_slice() else {
        return Err(format!("{} items are named", callouts.len()));
    };
    let unclear = |doubt: &&Doubt| {
        matches!(
            doubt,
            Doubt::LeftOver(_)
                | Doubt::UnknownWords(_)
                | Doubt::Readings(_)
                | Doubt::DateForSize { .. }
        )
    };
    if let Some(doubt) = callout.doubts.iter().find(unclear) {
        return Err(doubt.to_string());
    }
    if callout.quantity.is_some() {
        return Err("a number of pieces stands in it".to_owned());
    }
    if callout.item.part.is_none() && callout.item.diameter.is_none() {
        return Err("it has no size".to_owned());
    }
    Ok(callout.item.identity())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(table: &str, expected: std::result::Result<&[(&str, &str)], &str>) {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("numbers.csv");
        std::fs::write(&path, table).expect("written");
        let input = Input {
            shown: "numbers.csv".to_owned(),
            ..Input::at(&path)
        };
        match (read(&input), expected) {
            (Ok(rows), Ok(expected)) => {
                let found: Vec<(String, String)> = rows
                    .into_iter()
                    .map(|row| (row.number, row.item.text()))
                    .collect();
                let found: Vec<(&str, &str)> = found
                    .iter()
                    .map(|(a, b)| (a.as_str(), b.as_str()))
                    .collect();
                assert_eq!(found, expected);
            }
            (Err(error), Err(expected)) => assert_eq!(error.to_string(), expected),
            (found, _) => panic!("{found:?}"),
        }
    }

    #[test]
    fn tables_of_numbers() {
        case(
            "Number,Item,Note\nqx-55,1/2 x 6 hex bolt gr 5,old slips\n0012,M12 hex nut,\n",
            Ok(&[
                ("QX-55", "1/2-13 x 6 hex bolt, Grade 5"),
                ("0012", "M12 hex nut"),
            ]),
        );
        case(
            "Number,Item\nQX-55,bracket\nQX-56,Ground stake 600 mm\n",
            Ok(&[
                ("QX-55", "bracket"),
                ("QX-56", "ground stake 600 mm [part]"),
            ]),
        );
        case(
            "Number,Item\nQX-55,hex bolt\n",
            Err(
                "numbers.csv, line 2: \"hex bolt\" does not read as one item: it has no size\n  what to \
                 do: write a size and a kind, or a part's name, as on the lists: 1/2 x 3 hex bolt",
            ),
        );
        case(
            "Number,Item\nQX-55,1/2 hex nut\nQX-55,5/8 hex nut\n",
            Err(
                "numbers.csv, line 3: QX-55 stands for 1/2-13 hex nut in numbers.csv, line 2\n  what to \
                 do: keep the row that is right: a number stands for one item",
            ),
        );
        case(
            "Number,Price\nQX-55,2\n",
            Err(
                "numbers.csv: no heading row with \"number\" and \"item\"\n  what to do: head the \
                 columns with number, item",
            ),
        );
    }
}
