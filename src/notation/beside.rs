//! The cells beside a description, and the drafts of both as callouts.

use super::{
    callout::{Callout, ItemCells, Notation},
    dates,
    draft::Draft,
    fold::{is_blank, is_space},
    joint::finish,
    known::Known,
    part::part,
    reader::Reader,
    words::{Measure, Sense},
};
use crate::{doubt::Doubt, hardware::Kind};

/// The doubt of a text that ends in the middle of a word: `3/8 x 4 car-`.
fn breaks_off(text: &str) -> Option<Doubt> {
    let word = text.trim_end_matches(is_space).strip_suffix('-')?;
    word.ends_with(|c: char| c.is_alphabetic())
        .then(|| Doubt::Said("the line ends in the middle of a word".into()))
}

/// What the cells beside the description say of its first item.
#[derive(Default)]
pub(super) struct Beside<'a> {
    /// `None` where all are blank.
    draft: Option<Box<Draft<'a>>>,
    is_sized: bool,
    doubts: Vec<Doubt>,
}

impl<'a> Beside<'a> {
    pub fn read(cells: &ItemCells<'a>, notation: Notation, known: &Known) -> Beside<'a> {
        let notation = Notation {
            counted: true,
            ..notation
        };
        let mut beside = Beside::default();
        if cells.is_alone() {
            return beside;
        }
        let mut draft = Draft::default();
        for (text, measure) in [
            (cells.size, None),
            (cells.diameter, Some(Measure::Diameter)),
            (cells.length, Some(Measure::Length)),
        ] {
            if is_blank(text) {
                continue;
            }
            let mut reader = Reader::spoken(text, notation);
            reader.settle();
            let length = measure == Some(Measure::Length);
            let mut other = match dates::recover_among(text, known, length) {
                Some(sizes) => {
                    beside
                        .doubts
                        .extend(dates::doubts(text, &sizes, known, length));
                    let fits = |size: &&dates::Size| !length || size.thread.is_none();
                    reader.date(sizes.iter().find(fits))
                }
                None => {
                    reader.recover_dates(known, true);
                    reader.cell()
                }
            };
            if let Some(measure) = measure {
                other.dims.set_measure(measure);
            }
            beside.is_sized |= !other.dims.is_empty() && !other.traits.unknown;
            beside.doubts.extend(draft.merge(other));
            reader.left_over(0..usize::MAX, &mut beside.doubts);
            beside
                .doubts
                .extend(reader.notes.drain(..).map(|(_, doubt)| doubt));
        }
        if !is_blank(cells.thread) {
            let mut reader = Reader::new(cells.thread, notation);
            let other = match dates::recover_among(cells.thread, known, false) {
                Some(sizes) => {
                    beside
                        .doubts
                        .extend(dates::doubts(cells.thread, &sizes, known, false));
                    reader.date(sizes.iter().find(|size| size.thread.is_some()))
                }
                None => reader.cell(),
            };
            beside.doubts.extend(draft.thread_cell(other, cells.thread));
            reader.left_over(0..usize::MAX, &mut beside.doubts);
        }
        for (text, is_grade) in [(cells.grade, true), (cells.finish, false)] {
            if is_blank(text) {
                continue;
            }
            let mut reader = Reader::new(text, notation);
            let other = if is_grade {
                reader.grade_cell()
            } else {
                reader.cell()
            };
            beside.doubts.extend(draft.merge(other));
            reader.left_over(0..usize::MAX, &mut beside.doubts);
        }
        beside.draft = Some(Box::new(draft));
        beside
    }
}

/// Reads the drafts of a text whose numerals are settled, and the cells beside it.
pub(super) fn read<'a>(
    reader: &Reader<'a>,
    drafts: Vec<Draft<'a>>,
    cells: &ItemCells<'a>,
    beside: &Beside<'a>,
) -> Vec<Callout> {
    let mut callouts = read_drafts(reader, drafts, cells, beside);
    let broken = breaks_off(cells.description).or_else(|| reader.breaks_off());
    if let Some(last) = callouts.last_mut() {
        last.doubts.extend(broken);
        last.doubts.extend(reader.takes_back());
    }
    callouts
}

fn read_drafts<'a>(
    reader: &Reader<'a>,
    mut drafts: Vec<Draft<'a>>,
    cells: &ItemCells<'a>,
    beside: &Beside<'a>,
) -> Vec<Callout> {
    let mut at = drafts.iter().position(Draft::is_hardware);
    // Known words (`hex, zinc`) or none, and a size beside them.
    let bare = drafts
        .iter()
        .all(|draft| !draft.traits.unknown && !draft.thing && draft.codes == 0);
    if at.is_none() && bare && beside.is_sized {
        if drafts.is_empty() {
            drafts.push(Draft::default());
        }
        at = Some(0);
    }
    let Some(at) = at else {
        return part(reader, &drafts, cells);
    };
    let Some(draft) = &beside.draft else {
        return finish(reader, &mut drafts, at);
    };
    let doubts = drafts[at].merge(Draft::clone(draft));
    let mut callouts = finish(reader, &mut drafts, at);
    let hardware = |callout: &&mut Callout| callout.item.kind != Some(Kind::Part);
    if let Some(callout) = callouts.iter_mut().find(hardware) {
        callout.doubts.extend_from_slice(&beside.doubts);
        callout.doubts.extend(doubts);
    }
    callouts
}

impl Reader<'_> {
    /// The doubt of a text that corrects itself: `six, sorry, seven`.
    fn takes_back(&self) -> Option<Doubt> {
        let at = (0..self.tokens.len()).find(|&i| self.says(i, Sense::Corrects))?;
        let word = &self.text[self.tokens[at].start..self.tokens[at].end];
        Some(Doubt::HowMany(
            format!("\"{word}\": what stands before may be taken back").into(),
        ))
    }
}
