//! A draft: what a stretch of text says of one item, before it is known what it adds up to.

use std::ops::Range;

use super::{
    callout::Quantity,
    kind::Traits,
    number::{Prefix, Shape},
    size::{Dim, Dims},
    words::{Mark, Measure, Noun, Sense},
};
use crate::{
    doubt::Doubt,
    hardware::{Grade, Length, Material, Point, Ratio, Unit},
};

/// What a stretch of text says of one item.
#[derive(Debug, Clone, Default)]
pub(super) struct Draft<'a> {
    pub traits: Traits,
    /// The token of its noun.
    pub noun_at: Option<usize>,
    pub dims: Dims<'a>,
    /// Its first figure stands by itself, without a unit, and no standard in front of it.
    pub bare_size: bool,
    /// A multiplication sign in it stands apart from the figure before, and not from the whole number
    /// behind: `5/16 x2`.
    pub tied_sign: bool,
    pub point: Option<Point>,
    pub full_thread: Option<bool>,
    pub quantity: Option<Quantity>,
    /// Tokens of the count.
    pub count_at: Option<Range<usize>>,
    /// What stands in the count's place is no one number.
    pub open_count: bool,
    /// Packs, and pieces in a pack, where the two are said apart (`bag of 25, qty 2 bags`).
    pub packs: Option<u64>,
    pub pack_size: Option<u64>,
    /// The size of a pack is said in a way that leaves open how many packs there are (`100/box`).
    pub packs_open: bool,
    /// The words of packs of a size that is not said yet.
    pub pack_words: Range<usize>,
    /// A pair or a dozen that is taken for such a size.
    pub several: Option<usize>,
    /// The pack that the text begins with, where it does not say how many are in it.
    pub pack_of: Option<usize>,
    /// Plain words before a colon in front of the count: `front legs: 4`.
    pub label: Range<usize>,
    /// The count is of sets, of which the item is a part.
    pub sets: bool,
    /// `of` stands behind these: `2 sets of bolts` holds so many more.
    pub sets_of: bool,
    /// The count stands in brackets at the end.
    pub bracketed: bool,
    /// A count behind the item's own: that of the first item.
    pub late: Option<u64>,
    /// It is counted behind all that comes with it: `bolt with 2 nuts, qty 4`.
    pub counted_behind: bool,
    /// How many places need the item, where words say so.
    pub places: Option<u32>,
    /// Comes with each piece of the first item.
    pub with: bool,
    pub each: bool,
    /// `each` stands in front of the word that joins it, or of one before it: `each with 2 washers and 4 nuts`.
    pub led_by_each: bool,
    /// Its thread is left-hand; where it is not said, it is right-hand (common practice, no source).
    pub left_hand: bool,
    /// The noun is in the plural.
    pub plural: bool,
    /// The word that says what it is names no hardware.
    pub thing: bool,
    /// Only a word that is not known, behind a word for hardware, says so.
    pub odd_thing: bool,
    /// It is a tool.
    pub tool: bool,
    /// It is used up and not counted by the piece.
    pub consumable: bool,
    /// So many for each bolt of the row.
    pub per_bolt: Option<u64>,
    /// The first code, where it is said to be a number its bytes with the words that say so, and how
    /// many codes there are.
    pub code: Option<&'a str>,
    pub numbered: Option<Range<usize>>,
    pub codes: usize,
    /// Words that are in the table, at least one.
    pub known: bool,
    pub doubts: Vec<Doubt>,
    /// What the standard that it names is the standard of.
    pub standard: &'static [Sense],
    /// A standard that it names, of which is not known what it is the standard of.
    pub unknown_standard: Option<&'a str>,
    /// Its tokens.
    pub tokens: Range<usize>,
    /// Bytes of its text, without a count in front or behind.
    pub body: Range<usize>,
}

impl<'a> Draft<'a> {
    /// A fastener needs a hardware word, or a size that can be nothing else.
    pub fn is_hardware(&self) -> bool {
        // `SCR XYZ #8 x 1-1/2`: a word that is not known makes no other thing of what is sized as a screw.
        let sized = self.odd_thing && self.dims.is_size_of_bolts();
        if self.thing && !sized || self.is_cap_or_timber() {
            return false;
        }
        self.traits.noun.is_some()
            || self.traits.marks.has(Mark::Lag)
            || self.traits.marks.are_of_all_thread()
            || (self.dims.has_standard()
                && !(self.dims.len() == 1 && self.dims.is_bare())
                && (!self.traits.unknown && self.codes == 0 || self.dims.is_fastener_form()))
    }

    /// True for `Cap 60 mm` and `Stud 38 x 89`: words that name a thing, too, with a size that no thread has.
    fn is_cap_or_timber(&self) -> bool {
        let cap = self.traits.noun.is_none() && self.traits.marks.is_only(Mark::Cap);
        let stud = self.traits.noun == Some(Noun::Stud) && !self.dims.has_standard();
        let signed = self
            .dims
            .get(0)
            .is_some_and(|dim| dim.prefix != Prefix::None);
        (cap || stud) && !self.dims.is_empty() && !signed && !self.dims.is_size_of_bolts()
            || self.is_sawn_stud()
    }

    /// True for a stud sawn to a nominal size in inches: `2x4x96`, `2 x 6`. As a piece of thread two inches thick it would be no
    /// longer than thrice that. Common practice, no source.
    pub fn is_sawn_stud(&self) -> bool {
        let whole = |at: usize| {
            let dim = self.dims.get(at)?;
            let plain = dim.shape == Shape::Whole && dim.prefix == Prefix::None;
            (plain && dim.unit != Some(Unit::Millimetre)).then(|| dim.value.to_integer())
        };
        let sawn = match (whole(0), whole(1)) {
            (Some(2), Some(3 | 4 | 6)) => true,
            (Some(2), Some(8 | 10 | 12)) => self.dims.len() > 2,
            _ => false,
        };
        self.traits.noun == Some(Noun::Stud)
            && sawn
            && self.dims.thread.is_none()
            && self.dims.series.is_none()
            && self.traits.grade.is_none()
            && !self.traits.marks.has(Mark::Threaded)
    }

    pub fn has_words(&self) -> bool {
        self.known || self.traits.unknown || self.thing || self.codes > 0
    }

    /// Takes over what another cell of the row says. Returns a doubt where the two disagree.
    pub fn merge(&mut self, other: Draft<'a>) -> Vec<Doubt> {
        let mut doubts = other.doubts;
        if other.traits.unknown {
            self.traits.unknown = true;
        }
        self.traits.noun = self.traits.noun.or(other.traits.noun);
        self.traits.marks = self.traits.marks.with(other.traits.marks);
        self.traits.drive = self.traits.drive.or(other.traits.drive);
        self.traits.grade = match (self.traits.grade, other.traits.grade) {
            (Some(a), Some(b)) => Some(finer_grade(a, b, &mut doubts)),
            (a, b) => a.or(b),
        };
        self.point = self.point.or(other.point);
        self.full_thread = self.full_thread.or(other.full_thread);
        self.code = self.code.or(other.code);
        match (self.quantity, other.quantity) {
            (Some(a), Some(b)) if a != b => {
                doubts.push(Doubt::TwoQuantities(a.pieces, b.pieces));
            }
            (a, b) => self.quantity = a.or(b),
        }
        for dim in other.dims.iter() {
            if !self.dims.says(dim) && !self.dims.push(*dim) {
                doubts.push(Doubt::LeftOver(dim.written.into()));
            }
        }
        match (self.dims.thread, other.dims.thread) {
            (Some(a), Some(b)) if a != b => {
                doubts.push(Doubt::LeftOver(Length::Millimetre(b).to_string().into()));
            }
            (a, b) => self.dims.thread = a.or(b),
        }
        self.dims.series = self.dims.series.or(other.dims.series);
        doubts
    }

    /// Takes over a thread cell: `13`, `UNC`, `1/2-13`, `1.25`, `M8x1.25`.
    pub fn thread_cell(&mut self, mut other: Draft<'a>, text: &str) -> Vec<Doubt> {
        if other.dims.thread.is_none() {
            let is_diameter = |dim: &Dim<'_>| {
                dim.prefix != Prefix::None
                    || dim.shape == Shape::Fraction
                    || dim.shape == Shape::Mixed
            };
            let bare = other.dims.get(0).is_some_and(|dim| !is_diameter(dim));
            if bare {
                let pitch = other.dims.get(0).map(|dim| dim.value);
                other.dims = Dims::of_thread(pitch, other.dims.series);
            } else if let Some(pitch) = other.dims.get(1).map(|dim| dim.value) {
                let mut dims = Dims::of_thread(Some(pitch), other.dims.series);
                dims.push_all(other.dims.iter().take(1));
                other.dims = dims;
            }
        }
        if let Some(mut first) = other.dims.get(0).copied() {
            other.dims.clear();
            match self.dims.diameter() {
                Some(stated) if stated.value != first.value => {
                    return vec![Doubt::LeftOver(text.trim().into())];
                }
                Some(_) => {}
                None => {
                    first.measure = Some(Measure::Diameter);
                    other.dims.push(first);
                }
            }
        }
        self.merge(other)
    }
}

/// The more special of two grades that one piece can have; a doubt where it cannot have both.
pub(super) fn finer_grade(a: Grade, b: Grade, doubts: &mut Vec<Doubt>) -> Grade {
    let mut grades = [a, b];
    // `stainless steel` is no plain steel.
    let stainless = |grade: Grade| Material::Stainless.covers(grade.material());
    match (a, b) {
        (Grade::Steel, other) | (other, Grade::Steel) if stainless(other) => return other,
        _ => {}
    }
    if !a.agrees(b) {
        doubts.push(Doubt::Readings(
            grades.iter().map(|g| g.as_str().into()).collect(),
        ));
        return a;
    }
    // A strength says more than a material, and a named stainless more than `stainless`.
    grades.sort_by_key(|g| (!g.is_material(), *g != Grade::Stainless));
    grades[1]
}

/// Grades by their figure in tenths: inch grades of SAE J429, then the classes of ISO 898-2 (nuts) and
/// ISO 898-1 (bolts), then stainless by its AISI number. `Some(true)` only where the text says class.
const GRADE_FIGURES: &[(i64, Option<bool>, Grade)] = &[
    (20, Some(false), Grade::Grade2),
    (50, Some(false), Grade::Grade5),
    (80, Some(false), Grade::Grade8),
    (50, Some(true), Grade::Class5),
    (60, Some(true), Grade::Class6),
    (80, Some(true), Grade::Class8),
    (100, None, Grade::Class10),
    (120, None, Grade::Class12),
    (46, None, Grade::Class46),
    (48, None, Grade::Class48),
    (56, None, Grade::Class56),
    (58, None, Grade::Class58),
    (68, None, Grade::Class68),
    (88, None, Grade::Class88),
    (109, None, Grade::Class109),
    (129, None, Grade::Class129),
    (3040, None, Grade::Stainless18_8),
    (3050, None, Grade::Stainless18_8),
    (3160, None, Grade::Stainless316),
    (4100, None, Grade::Stainless410),
];

/// A grade or property class by its figure.
pub(super) fn grade_number(value: Ratio, class: bool) -> Option<Grade> {
    let tenths = value * Ratio::from_integer(10);
    GRADE_FIGURES
        .iter()
        .find(|(figure, word, _)| {
            tenths == Ratio::from_integer(*figure) && word.is_none_or(|word| word == class)
        })
        .map(|&(_, _, grade)| grade)
}
