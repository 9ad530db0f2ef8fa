//! How the standard tables are written and read.
//!
//! A row starts with the nominal diameter. Its figures are whole numbers in the unit of that
//! diameter: ten-thousandths of an inch for inch and number sizes, thousandths of a millimetre for
//! metric ones. So `(inch(1, 2), [7500, 3438])` is 1/2 in with 0.7500 in and 0.3438 in.

use super::{
    size::{Diameter, Length, Ratio, Unit},
    thread::Thread,
};

const MM_PER_INCH: f64 = 25.4;

/// Which standard a metric item is made to, where the two differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Standard {
    /// ISO 4014, 4017, 4032, 7040: what an unnamed metric item is taken for.
    Iso,
    /// DIN 931, 933, 934, 985: other widths across flats at M10, M12, M14 and M22, lower nuts.
    Din,
}

/// One figure of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Measure {
    /// 1/10000 in or 1/1000 mm.
    raw: i64,
    unit: Unit,
}

impl Measure {
    /// The figure, exact.
    pub fn length(self) -> Length {
        match self.unit {
            Unit::Inch => Length::Inch(Ratio::new(self.raw, 10_000)),
            Unit::Millimetre => Length::Millimetre(Ratio::new(self.raw, 1_000)),
        }
    }

    /// The unit that the table is written in.
    pub fn unit(self) -> Unit {
        self.unit
    }

    /// The figure in millimetres, for masses and volumes.
    pub fn mm(self) -> f64 {
        length_mm(self.length())
    }
}

/// Rows of `N` figures each, by nominal diameter.
pub(super) type Table<const N: usize> = [(Diameter, [i64; N])];

/// The figures of a diameter, or `None` where the table does not reach.
pub(super) fn find<const N: usize>(table: &Table<N>, diameter: Diameter) -> Option<[Measure; N]> {
    let (_, row) = table.iter().find(|(d, _)| *d == diameter)?;
    let unit = diameter.unit();
    Some(row.map(|raw| Measure { raw, unit }))
}

/// A length in millimetres, for drawings, masses and volumes.
pub fn length_mm(length: Length) -> f64 {
    let value = ratio_f64(length.value());
    match length.unit() {
        Unit::Inch => value * MM_PER_INCH,
        Unit::Millimetre => value,
    }
}

/// A diameter in millimetres, likewise.
pub fn diameter_mm(diameter: Diameter) -> f64 {
    length_mm(match diameter.unit() {
        Unit::Inch => Length::Inch(diameter.value()),
        Unit::Millimetre => Length::Millimetre(diameter.value()),
    })
}

pub(super) fn pitch_mm(thread: Thread) -> f64 {
    length_mm(match thread {
        Thread::PerInch(_) => Length::Inch(thread.pitch()),
        Thread::Pitch(pitch) => Length::Millimetre(pitch),
    })
}

fn ratio_f64(ratio: Ratio) -> f64 {
    *ratio.numer() as f64 / *ratio.denom() as f64
}

/// A fractional inch size.
pub(super) const fn inch(numer: i64, denom: i64) -> Diameter {
    Diameter::Inch(Ratio::new_raw(numer, denom))
}

/// A number size.
pub(super) const fn number(n: u8) -> Diameter {
    Diameter::Number(n)
}

/// A metric size in whole millimetres.
pub(super) const fn metric(mm: i64) -> Diameter {
    Diameter::Metric(Ratio::new_raw(mm, 1))
}

/// A metric size in halves or tenths: `M1.6` is 8/5.
pub(super) const fn metric_part(numer: i64, denom: i64) -> Diameter {
    Diameter::Metric(Ratio::new_raw(numer, denom))
}
