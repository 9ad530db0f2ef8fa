//! The short way of a row of which every cell was seen before, as nearly every row of a long list is.
//!
//! A row's cells say what it is of, where that belongs, and how many: three groups. A row that goes the
//! long way ([`Reader::take`]) and of which nothing is to be asked teaches what its groups come to, and
//! a row of three groups that were learnt so, in whatever rows, is such a line again. What else a row
//! may be asked for, it says nothing of, or stays as the row above left it: the short way is open below
//! a row of which nothing was to be asked, and nowhere else.

use super::{
    super::{
        count::{self, Count},
        line::{Line, LineStatus, What},
        role::Role,
    },
    Entry, Found, Reader,
    group::Group,
    key::{Key, KeyColumns},
    push::at_all_places,
};
use crate::{
    columns::{Layout, Meaning, furniture},
    source::Row,
};

/// What was seen of a table's rows.
#[derive(Default)]
pub(super) struct Seen {
    /// Nothing but the cells of its groups tells what a row of the table is.
    is_plain_table: bool,
    /// The row above is one of which nothing was to be asked.
    is_open: bool,
    stage: Option<usize>,
    /// Columns that have a heading.
    width: usize,
    items: Group<Item>,
    places: Group<Place>,
    figures: Group<Figure>,
    new: New,
}

/// What item cells come to: one item, and no count.
#[derive(Clone, Copy)]
struct Item {
    /// What ditto marks below repeat.
    wording: Key,
    reading: u32,
    places: u32,
    status: LineStatus,
}

/// Where a line belongs, by its cells and what stands above them.
#[derive(Clone, Copy)]
struct Place {
    /// What ditto marks below repeat.
    place: Key,
    placement: u32,
}

/// A figure and nothing more.
#[derive(Clone, Copy)]
struct Figure {
    pieces: u64,
    places: u32,
}

/// The groups of the row at hand that were not seen before. Place and figure are looked up once the item
/// was seen, so that a list of which each row says something of its own pays for the item alone.
#[derive(Default, Clone, Copy)]
enum New {
    #[default]
    Nothing,
    Item(Key),
    Rest(Key, Key),
}

impl Seen {
    pub fn of_table(layout: &Layout, columns: &KeyColumns, role: Role) -> Seen {
        let described = layout.descriptions.iter().map(|&column| column.into());
        let sized = columns.item.iter().map(|(.., column)| *column);
        let placed = columns.place.iter().filter_map(|of| of.column);
        let stage = layout.column(Meaning::Stage);
        let notes = layout.more_notes.iter().map(|&column| column.into());
        Seen {
            is_plain_table: !layout.headless
                && layout.spread.is_empty()
                && !layout.has_levels()
                && layout.stage_name.is_none()
                && layout.repeated.is_empty()
                && !layout.has_mass()
                && !layout.places_once
                && !layout.is_count_sheet()
                && !layout.tools,
            stage,
            width: layout.width,
            items: Group::of(described.chain(sized).collect()),
            places: Group::of(stage.into_iter().chain(placed).chain(notes).collect()),
            figures: Group::of(count::columns_of(layout, role)),
            ..Seen::default()
        }
    }

    /// Something is asked of the row at hand.
    pub fn close(&mut self) {
        self.is_open = false;
    }
}

impl Reader<'_> {
    /// Takes a row the short way; false where it is to go the long way.
    pub(super) fn take_seen(&mut self, row: &Row) -> bool {
        let is_open = std::mem::take(&mut self.seen.is_open);
        self.seen.new = New::Nothing;
        if !is_open
            || self.seen.items.is_idle
            || row.is_marked()
            || self.revisions.are_told()
            || self.may_say_more(row)
            || self.is_page_edge(row)
        {
            return false;
        }
        let seen = &mut self.seen;
        let item = seen.items.key(row, []);
        let Some(&item) = seen.items.get(item) else {
            seen.new = New::Item(item);
            return false;
        };
        seen.items.known += 1;
        let stage = seen.stage.map_or("", |column| row.get(column));
        let stage_above = if stage.is_empty() { &*self.stage } else { "" };
        let above = [stage_above, &self.bag, &self.carton, &self.stage_option];
        let place = seen.places.key(row, above);
        let figure = seen.figures.key(row, []);
        let (Some(&of), Some(&figure)) = (seen.places.get(place), seen.figures.get(figure)) else {
            seen.new = New::Rest(place, figure);
            return false;
        };
        seen.is_open = true;
        self.take_stage(stage);
        (self.item_before, self.place_before) = (item.wording, of.place);
        let text = self.push_text(row);
        let what = What::Item(item.reading);
        let line = Line {
            sheet: self.sheet,
            places: figure.places.saturating_mul(item.places),
            ..Line::new(row.number, text, what, of.placement, Some(figure.pieces))
        };
        self.totals
            .line(line.quantity, line.places, at_all_places(&line), None);
        self.list.lines.push(line);
        self.turn.pass(row);
        self.shown += row.bytes() as u64;
        self.add(Some(item.status));
        true
    }

    /// True where cells that are read in no table may say more of the row.
    fn may_say_more(&self, row: &Row) -> bool {
        self.unread.iter().any(|unread| unread.speaks(row))
            || (self.seen.width..row.len()).any(|at| !row.get(at).is_empty())
    }

    /// Learns what the groups of a row come to that went the long way, where it is one line, the last, of
    /// which nothing was to be asked.
    pub(super) fn learn(&mut self, row: &Row, wording: Key, count: &Count, status: LineStatus) {
        let Entry::Items(start, end) = self.said[wording.index()] else {
            return;
        };
        let [
            Found {
                reading,
                quantity: None,
                places,
                in_plain_words: false,
                brought: None,
                ..
            },
        ] = self.found[start as usize..end as usize]
        else {
            return;
        };
        let Some(line) = self.list.lines.last() else {
            return;
        };
        let placement = line.placement;
        let ditto = |column: &usize| furniture::is_ditto(row.get(*column));
        let carried = (self.columns.place.iter())
            .any(|of| of.is_carried && of.column.is_none_or(|column| row.get(column).is_empty()));
        let seen = &mut self.seen;
        let repeats = seen
            .items
            .columns
            .iter()
            .chain(&seen.places.columns)
            .any(ditto);
        let (Some(pieces), true) = (count.pieces, count.stated && count.is_plain()) else {
            return;
        };
        if !seen.is_plain_table
            || row.is_marked()
            || carried
            || repeats
            || line.more.is_some()
            || line.what != What::Item(reading)
            || self.keep_words
            || self.usual.parts_lines()
            || self.usual.has_more_in_front()
            || !self.side.is_empty()
            || !self.kind_above.is_empty()
            || self.place_doubts.contains_key(&placement)
        {
            return;
        }
        seen.is_open = true;
        match std::mem::take(&mut seen.new) {
            New::Nothing => {}
            New::Item(key) => {
                let item = Item {
                    wording,
                    reading,
                    places,
                    status,
                };
                seen.items.keep(key, item);
            }
            New::Rest(place, figure) => {
                let of = Place {
                    place: self.place_before,
                    placement,
                };
                let places = count.places;
                seen.places.keep(place, of);
                seen.figures.keep(figure, Figure { pieces, places });
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use proptest::prelude::*;

    use super::super::{super::input::Input, read};
    use crate::kit::{List, Role};

    /// Cells that are asked something, beside those that are not.
    const CELLS: &[&str] = &[
        "1/2 x 3 hex bolt",
        "1/2 x 3 hex bolt",
        "1/2 hex nut",
        "M8 x 40 SHCS",
        "roof post",
        "FB-210 girder shoe",
        "4 hex nuts 1/2",
        "wrench 9/16",
        "3 8 nut",
        "Total",
        "Page 3 of",
        "Hex bolts:",
        "Stage 2: Roof",
        "Bag C",
        "Qty",
        "ditto",
        "",
        "-",
        "\"",
        "=1/0",
    ];
    const FIGURES: &[&str] = &[
        "4",
        "4",
        "12",
        "16",
        "20",
        "2 bags of 25",
        "1.5",
        "AR",
        "",
        "-",
        "REF",
    ];
    const PLACES: &[&str] = &[
        "A",
        "A",
        "B",
        "Roof",
        "",
        "",
        "-",
        "do.",
        "with: rail",
        "each end",
        "5",
    ];
    const HEADS: &[&[&str]] = &[
        &["Item", "Qty"],
        &["Stage", "Item", "Qty", "Bag"],
        &["Bag", "Qty", "Description", "Finish", "Note"],
        &["Description", "Qty", "Places", "Stage", "Use", "Remark"],
        &[
            "No.",
            "Part number",
            "Item",
            "Size",
            "Qty",
            "Colour code",
            "Box",
        ],
        &["Item", "Item", "Qty", "Option", "Torque"],
    ];

    /// A list as it is read with its words kept, which goes the long way row by row.
    fn read_both_ways(text: &str, role: Role) -> [Option<List>; 2] {
        let directory = tempfile::tempdir().unwrap();
        let path = directory.path().join("list.csv");
        fs::write(&path, text).unwrap();
        [false, true].map(|keep_words| {
            let input = Input {
                keep_words,
                ..Input::at(&path)
            };
            read(&input, "list.csv".to_owned(), role, &[], &|_| {}).ok()
        })
    }

    fn cell(heading: &str) -> impl Strategy<Value = &'static str> + use<> {
        let cells = match heading {
            "Qty" | "Places" => FIGURES,
            "Item" | "Description" => CELLS,
            _ => PLACES,
        };
        // Now and then anything stands anywhere.
        prop_oneof![
            12 => prop::sample::select(cells),
            1 => prop::sample::select(CELLS),
            1 => prop::sample::select(PLACES),
        ]
    }

    fn list() -> impl Strategy<Value = String> {
        prop::sample::select(HEADS).prop_flat_map(|head| {
            let cells: Vec<_> = head.iter().map(|heading| cell(heading)).collect();
            let row = (cells, 0usize..20).prop_map(move |(mut cells, odd)| match odd {
                0 => "Stage 3: Rail".to_owned(),
                1 => String::new(),
                2 => head.join(","),
                3 => "Bag B".to_owned(),
                4 => cells[..2].join(","),
                5 => cells.join(",") + ",more words,",
                6 => {
                    cells.reverse();
                    cells.join(",")
                }
                _ => cells.join(","),
            });
            prop::collection::vec(row, 1..40)
                .prop_map(move |rows| head.join(",") + "\n" + &rows.join("\n") + "\n")
        })
    }

    proptest! {
        /// Whatever stands above a row, it reads the short way as it does the long way.
        #[test]
        fn the_short_way_comes_to_the_long_way(
            text in list(),
            role in prop::sample::select(Role::ALL.to_vec()),
        ) {
            let [short, long] = read_both_ways(&text, role).map(|list| {
                list.map(|list| List { words: Vec::new(), ..list })
            });
            prop_assert_eq!(format!("{short:#?}"), format!("{long:#?}"));
        }
    }
}
