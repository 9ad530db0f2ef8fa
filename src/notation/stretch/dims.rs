//! Figures of a size as they stand: numerals, their units, threads and measures.

use super::Stretch;
use crate::{
    hardware::{Diameter, Ratio, Unit, thread},
    notation::{
        number::{Prefix, Shape},
        size::{Dim, Dims},
        token::Tok,
        words::{Mark, Measure, Noun, Row, Sense, Senses},
    },
};

/// No piece is longer, in inches or millimetres.
const LONGEST: i64 = 20_000;

fn is_too_long(value: Ratio) -> bool {
    i128::from(*value.numer()) > i128::from(LONGEST) * i128::from(*value.denom())
}

/// What is written behind a thread and tells no size: classes of fit (ASME B1.1; ISO 965-1), and words
/// for the series and the pitch.
const THREAD_CLASSES: &[&str] = &[
    "1A", "2A", "3A", "1B", "2B", "3B", "1a", "2a", "3a", "1b", "2b", "3b", "6g", "6H", "UN",
    "UNEF", "TPI", "tpi",
];

impl<'a> Stretch<'_, 'a> {
    /// The figures of a size from token `i` on, and where they end.
    pub(super) fn dims(&self, i: usize, pending: Option<Measure>) -> (Dims<'a>, usize) {
        let mut dims = Dims::default();
        let mut at = i;
        let mut pending = pending;
        loop {
            let Some((mut dim, end)) = self.dim(at, !dims.is_empty()) else {
                return (dims, at);
            };
            at = end;
            // `36 x 5/8-11`: the length in front.
            let threaded = dims.is_empty() || dim.shape == Shape::Fraction;
            if threaded && dims.thread.is_none() {
                at = self.dash_thread(&dim, at, &mut dims);
            }
            // Words of the size: the series, the thread's class, what the figure measures.
            loop {
                let word = self.row(at);
                let measure = word.and_then(Row::measure);
                let series = word.and_then(Row::series);
                if let Some(series) = series {
                    dims.series = Some(series);
                } else if let (Some(measure), None) = (measure, dim.measure)
                    && (self.number(at + 1).is_none() || self.is_adjective(at))
                    && !self.is_shape(at)
                {
                    dim.measure = Some(measure);
                } else if self.is_thread_class(at) {
                } else if matches!(self.tok(at), Some(Tok::Dash)) && self.is_thread_class(at + 1) {
                    at += 1;
                } else if matches!(self.tok(at), Some(Tok::Dot)) && !dims.is_empty() {
                } else {
                    break;
                }
                at += 1;
            }
            dim.measure = dim.measure.or(pending.take());
            if !dims.push(dim) {
                return (dims, at);
            }
            let joined = matches!(self.tok(at), Some(Tok::Join)) || self.says(at, Sense::By);
            if !joined || self.number(at + 1).is_none() || self.is_times(&dims, at) {
                return (dims, at);
            }
            at += 1;
        }
    }

    /// `M8x40 x10`: a count, tied to its sign and apart from the size; no pitch is above 6 mm, and nothing in metres
    /// is a diameter (`pole 2.4m x2`).
    fn is_times(&self, dims: &Dims<'a>, at: usize) -> bool {
        let sized = match (dims.get(0), dims.get(1)) {
            (Some(first), Some(second)) => {
                first.prefix == Prefix::Metric && second.value > Ratio::from_integer(6)
            }
            (Some(first), None) => {
                let bare = first.written.strip_suffix('m').map(str::trim_end);
                bare.is_some_and(|bare| bare.ends_with(|c: char| c.is_ascii_digit()))
            }
            _ => false,
        };
        sized
            && self.reader.spaced(at)
            && !self.reader.spaced(at + 1)
            && self.whole(at + 1).is_some()
            && at + 2 >= self.end
    }

    /// `50 long M10 bolt`: the word belongs to the figure before it.
    fn is_adjective(&self, at: usize) -> bool {
        ["long", "lg", "thick", "thk"]
            .iter()
            .any(|word| self.text(at).eq_ignore_ascii_case(word))
    }

    /// The `L` of an L-bolt, which is no length.
    fn is_shape(&self, at: usize) -> bool {
        self.says(at, Sense::Mark(Mark::L))
            && (matches!(self.tok(at + 1), Some(Tok::Dash)) || self.reader.noun(at + 1).is_some())
    }

    fn is_thread_class(&self, i: usize) -> bool {
        let noise = self.row(i).is_some_and(|row| row.kinds.meet(Senses::NOISE));
        noise && THREAD_CLASSES.contains(&self.text(i))
    }

    /// The thread behind a diameter: `-13`, ` 13 UNC`.
    fn dash_thread(&self, dim: &Dim<'a>, at: usize, dims: &mut Dims<'a>) -> usize {
        let dashed = matches!(self.tok(at), Some(Tok::Dash));
        let from = at + usize::from(dashed);
        let Some((value, shape, Prefix::None)) = self.number(from) else {
            return at;
        };
        if !matches!(shape, Shape::Whole | Shape::Decimal(_))
            || matches!(self.tok(from + 1), Some(Tok::Slash))
        {
            return at;
        }
        let after = from + 1;
        let named = self.row(after).is_some_and(|row| row.series().is_some());
        let series = named || self.is_thread_class(after);
        let metric = dim.prefix == Prefix::Metric || dim.unit == Some(Unit::Millimetre);
        let diameter = match (dim.prefix, metric) {
            (_, true) => Diameter::Metric(dim.value),
            (Prefix::Number, _) => number_diameter(dim.value),
            _ => Diameter::Inch(dim.value),
        };
        let stated = if metric {
            crate::hardware::Thread::Pitch(value)
        } else {
            crate::hardware::Thread::PerInch(value)
        };
        let standard = thread::is_standard(diameter, stated)
            || (dim.prefix == Prefix::None
                && dim.shape == Shape::Whole
                && !metric
                && thread::is_standard(number_diameter(dim.value), stated));
        let plausible = if metric {
            value > Ratio::from_integer(0) && value < Ratio::from_integer(7)
        } else {
            value >= Ratio::from_integer(4) && value <= Ratio::from_integer(80)
        };
        let sized = diameter.is_standard()
            || (dim.shape == Shape::Whole && number_diameter(dim.value).is_standard());
        let plausible = plausible && sized;
        let tight = dashed && !self.reader.spaced(from);
        if (tight && plausible) || (dashed && standard) || (series && plausible) {
            dims.thread = Some(value);
            after
        } else {
            at
        }
    }

    /// One figure with its fraction and unit.
    fn dim(&self, i: usize, may_mix: bool) -> Option<(Dim<'a>, usize)> {
        let (mut value, mut shape, prefix) = self.number(i)?;
        // Nothing is 0 long.
        if *value.numer() == 0 && prefix != Prefix::Number || is_too_long(value) {
            return None;
        }
        let mut at = i + 1;
        // `3 3/4`, `3 ¾`, `3 - 3/4`.
        if shape == Shape::Whole && prefix == Prefix::None {
            let dash = matches!(self.tok(at), Some(Tok::Dash)) && may_mix;
            let from = at + usize::from(dash);
            if let Some((part, Shape::Fraction, Prefix::None)) = self.number(from)
                && part.numer() < part.denom()
                && *value.numer() > 0
            {
                value += part;
                shape = Shape::Mixed;
                at = from + 1;
            }
        }
        let mut unit = None;
        if prefix == Prefix::None || prefix == Prefix::Metric {
            (unit, at) = self.unit(at, &mut value);
        }
        if is_too_long(value) {
            return None;
        }
        let start = self.reader.tokens[i].start;
        let end = self.reader.tokens[at - 1].end;
        let dim = Dim {
            value,
            shape,
            prefix,
            unit,
            measure: None,
            written: &self.reader.text[start..end],
        };
        Some((dim, at))
    }

    /// The unit behind a figure; feet and metres are worked out.
    pub(super) fn unit(&self, at: usize, value: &mut Ratio) -> (Option<Unit>, usize) {
        match self.tok(at) {
            Some(Tok::Inch) => return (Some(Unit::Inch), at + 1),
            Some(Tok::Foot) if matches!(self.tok(at + 1), Some(Tok::Foot)) => {
                return (Some(Unit::Inch), at + 2);
            }
            Some(Tok::Foot) => return self.feet(at + 1, value),
            Some(Tok::Dash) if self.says(at + 1, Sense::Unit(Unit::Inch)) => {
                return (Some(Unit::Inch), at + 2);
            }
            _ => {}
        }
        let Some(row) = self.row(at).filter(|row| row.kinds.meet(Senses::UNITS)) else {
            return (None, at);
        };
        let sense = row
            .senses
            .iter()
            .find(|sense| Senses::UNITS.meet(sense.kind()));
        match sense.copied() {
            // `4 in bag 3` is no length.
            Some(Sense::Unit(Unit::Inch)) if self.is_preposition(at) => (None, at),
            Some(Sense::Unit(unit)) => {
                let dot = matches!(self.tok(at + 1), Some(Tok::Dot)) && unit == Unit::Inch;
                (Some(unit), at + 1 + usize::from(dot))
            }
            Some(Sense::Metric(factor)) => {
                *value *= Ratio::from_integer(factor);
                (Some(Unit::Millimetre), at + 1)
            }
            Some(Sense::Foot) => self.feet(at + 1, value),
            _ => (None, at),
        }
    }

    fn is_preposition(&self, at: usize) -> bool {
        self.text(at).eq_ignore_ascii_case("in")
            && self.reader.spaced(at)
            && (self.is_pack(at + 1) || self.whole(at + 1).is_some() && self.is_pack(at + 2))
    }

    /// True for a fraction behind the feet of a rod, where no other figure is its size: `10ft 1/2" threaded rod`.
    fn is_size_of_rod(&self, feet: usize, shape: Shape) -> bool {
        let tokens = self.draft.tokens.clone();
        let is_rod = |at: usize| self.reader.noun(at) == Some(Noun::Rod);
        let is_size = |at: usize| {
            self.number(at).is_some_and(|(_, shape, prefix)| {
                prefix != Prefix::None || matches!(shape, Shape::Fraction | Shape::Mixed)
            })
        };
        shape == Shape::Fraction && tokens.clone().any(is_rod) && !(tokens.start..feet).any(is_size)
    }

    /// Inches behind feet: `1'-6"`, `1 ft 6 in`.
    fn feet(&self, at: usize, value: &mut Ratio) -> (Option<Unit>, usize) {
        *value *= Ratio::from_integer(12);
        let from = self
            .reader
            .skip(at, |tok| matches!(tok, Tok::Dash | Tok::Dot));
        if let Some((inches, shape, Prefix::None)) = self.number(from)
            && !self.is_size_of_rod(at, shape)
        {
            let mut inches = inches;
            let mut after = from + 1;
            if let Some((part, Shape::Fraction, Prefix::None)) = self.number(after)
                && part < Ratio::from_integer(1)
                && inches.is_integer()
            {
                inches += part;
                after += 1;
            }
            let marked = matches!(self.tok(after), Some(Tok::Inch))
                || self.says(after, Sense::Unit(Unit::Inch));
            if marked {
                *value += inches;
                return (Some(Unit::Inch), after + 1);
            }
        }
        (Some(Unit::Inch), at)
    }
}

/// A number size; 255, which is none, where the figure is too large.
fn number_diameter(value: Ratio) -> Diameter {
    Diameter::Number(u8::try_from(value.to_integer()).unwrap_or(u8::MAX))
}
