//! Where the lines of a row belong.

use super::{
    super::{placement, remark, usage::Usage},
    Reader,
    key::{Key, PLACE_CELLS},
    titles,
};
use crate::{
    columns::{
        Layout, Meaning,
        furniture::{self, Container},
    },
    notation,
    source::Row,
    words::fold,
};

impl Reader<'_> {
    /// The placement of a bag as such: the bag is the one that the description names.
    pub(super) fn container_placement(&mut self, place: u32, description: &str) -> u32 {
        let mut placement = self.list.placements[place as usize].clone();
        match furniture::container(description) {
            Some(Container::Bag(name)) => placement.bag = Some(name.into()),
            Some(Container::Box(name)) => placement.carton = Some(name.into()),
            None => {}
        }
        self.list.placements.push(placement);
        self.list.placements.len() as u32 - 1
    }

    /// The placement of a row. Its stage, where the cell is filled, holds for the rows below.
    /// `usage`: what becomes of its pieces, where no cell says it.
    pub(super) fn placement(&mut self, row: &Row, layout: &Layout, usage: Option<Usage>) -> u32 {
        if let Some(column) = layout.column(Meaning::Stage) {
            match layout.stage_name {
                Some(name) => self.take_stage(&named_stage(row, column, name.into())),
                None => self.take_stage(row.get(column)),
            }
        }
        let mut place = self.place_of_stage();
        for of in &self.columns.place {
            let (cell, meaning) = (of.cell, of.meaning);
            let joined;
            let text = match meaning {
                Meaning::Note if !layout.more_notes.is_empty() => {
                    joined = notes(row, layout);
                    joined.as_str()
                }
                _ => of.column.map_or("", |column| row.get(column)),
            };
            let text = if text.is_empty() {
                if of.is_carried {
                    place = self.places.with_cell_of(place, cell, self.place_before);
                    continue;
                }
                match meaning {
                    Meaning::Bag => &self.bag,
                    Meaning::Box => &self.carton,
                    Meaning::Option => &self.stage_option,
                    Meaning::Use => usage.map_or("", Usage::as_str),
                    _ => "",
                }
            } else if furniture::is_ditto(text) {
                place = self.places.with_cell_of(place, cell, self.place_before);
                continue;
            } else if text.contains(char::is_alphanumeric)
                || (meaning == Meaning::Note && text.contains('?'))
            {
                text
            } else {
                // A dash says that there is none.
                ""
            };
            place = self.places.with(place, cell, text);
        }
        self.look_up_placement(place)
    }

    /// Takes a cell that says which stage it is, for its row and those below.
    pub(super) fn take_stage(&mut self, stage: &str) {
        if !stage.is_empty() && stage != self.stage && !furniture::is_ditto(stage) {
            self.totals.title();
            self.name_stage(stage);
        }
    }

    /// Takes the name of a stage for the lines that follow, and the option that it says it is.
    pub(super) fn name_stage(&mut self, stage: &str) {
        if stage != self.stage {
            if let Some(option) = remark::named_option(stage) {
                self.stage_option = option.to_lowercase();
            } else if !self.stage_option.is_empty() && remark::named_option(&self.stage).is_some() {
                self.stage_option.clear();
            }
            self.stage.clear();
            self.stage.push_str(stage);
        }
    }

    /// The key of a place of which nothing is said but the stage.
    fn place_of_stage(&mut self) -> Key {
        self.places.with(Key::BLANK, 0, &self.stage)
    }

    /// The placement of what has no cells, `said` of it.
    pub(super) fn placement_of_text<'t>(
        &mut self,
        said: impl Fn(Meaning) -> Option<&'t str>,
    ) -> u32 {
        let mut place = self.place_of_stage();
        for (cell, meaning) in (1..).zip(PLACE_CELLS) {
            let titled = match meaning {
                Meaning::Bag => &self.bag,
                Meaning::Box => &self.carton,
                Meaning::Option => &self.stage_option,
                _ => "",
            };
            let text = said(meaning).unwrap_or(titled);
            place = self.places.with(place, cell, text);
        }
        self.look_up_placement(place)
    }

    fn look_up_placement(&mut self, place: Key) -> u32 {
        if self.placements.len() <= place.index() {
            self.placements.resize(place.index() + 1, None);
        }
        let index = *self.placements[place.index()].get_or_insert_with(|| {
            let index = self.list.placements.len() as u32;
            let unit = self.torque_unit.as_deref();
            let role = self.list.role;
            let (placement, mut doubts) =
                placement::placement(|cell| self.places.get(place, cell), unit, role);
            self.list.placements.push(placement);
            doubts.extend(self.stage_doubt.clone());
            if !doubts.is_empty() {
                self.place_doubts.insert(index, doubts);
            }
            index
        });
        self.place_before = place;
        index
    }

    pub(super) fn enter_stage(&mut self, stage: &str) {
        self.end_prose();
        // `Stage 1 continued`
        let continued =
            titles::continued(stage).map(|of| self.stage_above(of).unwrap_or(of.to_owned()));
        let stage = continued.as_deref().unwrap_or(stage);
        self.sets_above = None;
        self.bare_title.clear();
        self.may_be_title = None;
        self.kind_above.clear();
        self.totals.title();
        self.stage_from = self.list.lines.len();
        self.stage_doubt = None;
        self.way = None;
        self.stage.clear();
        self.stage.push_str(stage);
        self.guide.title.clear();
        self.guide.title.push_str(stage);
        self.stage_option.clear();
        if let Some(option) = notation::option(stage) {
            self.stage_option = option.to_string();
        } else if let Some(option) = notation::condition(stage) {
            self.stage_option = option.to_string();
        } else if let Some(option) = remark::named_option(stage) {
            self.stage_option = option.to_lowercase();
        }
    }

    /// The stage above that bears a name, or begins with it: `Stage 1: Feet` of `Stage 1`.
    fn stage_above(&self, name: &str) -> Option<String> {
        let name = fold(name);
        let placements = self.list.placements.iter().rev();
        let mut stages = placements.filter_map(|placement| placement.stage.as_deref());
        let begins = |stage: &&str| {
            let stage = fold(stage);
            let rest = stage.strip_prefix(name.as_str());
            rest.is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
        };
        stages.find(begins).map(str::to_owned)
    }

    /// A title is one where lines follow: enters the stage of the one above, if any.
    pub(super) fn begin_titled(&mut self) {
        self.bare_bag = None;
        self.doubt_bag_above();
        if !self.bare_title.is_empty() {
            let title = std::mem::take(&mut self.bare_title);
            self.enter_titled(&title, 0);
        }
        self.passed_titles.extend(self.may_be_title.take());
        self.put_unheard_aside();
    }

    pub(super) fn enter_container(&mut self, container: Container<'_>) {
        self.end_bare_bag();
        self.bag_above = None;
        self.end_prose();
        self.totals.title();
        let (holder, name) = match container {
            Container::Bag(name) => (&mut self.bag, name),
            Container::Box(name) => (&mut self.carton, name),
        };
        holder.clear();
        holder.push_str(name);
    }
}

/// A stage's number and its name, from a cell each: `4 Braces`.
fn named_stage(row: &Row, number: usize, name: usize) -> String {
    let (number, name) = (row.get(number).trim(), row.get(name).trim());
    let either = number.is_empty() || name.is_empty() || furniture::is_ditto(name);
    match either || name.starts_with(number) {
        true if name.is_empty() || furniture::is_ditto(name) => number.to_owned(),
        true => name.to_owned(),
        false => format!("{number} {name}"),
    }
}

/// The notes of a row, one behind another.
fn notes(row: &Row, layout: &Layout) -> String {
    let first = layout.cell(row, Meaning::Note);
    let more = (layout.more_notes.iter()).map(|&column| row.get(usize::from(column)));
    let filled = std::iter::once(first)
        .chain(more)
        .filter(|text| !text.is_empty());
    filled.collect::<Vec<_>>().join("; ")
}
