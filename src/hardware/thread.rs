//! Threads as stated, and the standard series.

use std::fmt;

use super::size::{Decimal, Diameter, Ratio};

/// A thread as a line states it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Thread {
    /// Threads per inch (`13` of `1/2-13`, `4.5` of `2-4.5`).
    PerInch(Ratio),
    /// Pitch in millimetres (`1.25` of `M8x1.25`).
    Pitch(Ratio),
}

impl Thread {
    /// A whole number of threads per inch.
    pub fn per_inch(threads: i64) -> Thread {
        Thread::PerInch(Ratio::from_integer(threads))
    }

    /// The pitch in the thread's own unit: inches for `PerInch`, millimetres for `Pitch`.
    pub fn pitch(self) -> Ratio {
        match self {
            Thread::PerInch(n) => n.recip(),
            Thread::Pitch(p) => p,
        }
    }
}

impl fmt::Display for Thread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Thread::PerInch(n) => write!(f, "{}", Decimal(*n)),
            Thread::Pitch(p) => write!(f, "{}", Decimal(*p)),
        }
    }
}

/// The Unified series of one diameter. Zero: no thread in that series.
struct Unified {
    /// Numerator and denominator in inches, or a number size with denominator 0.
    size: (i64, i64),
    /// UNC, in half threads per inch, since 2 inch has 4-1/2.
    coarse: i64,
    /// UNF, threads per inch.
    fine: i64,
    /// UNEF, threads per inch.
    extra_fine: i64,
}

const fn unified(size: (i64, i64), coarse: i64, fine: i64, extra_fine: i64) -> Unified {
    Unified {
        size,
        coarse,
        fine,
        extra_fine,
    }
}

/// Unified coarse, fine and extra-fine series, ASME B1.1. From 1-1/8 inch the 8-thread series
/// (8-UN) is standard as well.
const UNIFIED: &[Unified] = &[
    unified((0, 0), 0, 80, 0),
    unified((1, 0), 128, 72, 0),
    unified((2, 0), 112, 64, 0),
    unified((3, 0), 96, 56, 0),
    unified((4, 0), 80, 48, 0),
    unified((5, 0), 80, 44, 0),
    unified((6, 0), 64, 40, 0),
    unified((8, 0), 64, 36, 0),
    unified((10, 0), 48, 32, 0),
    unified((12, 0), 48, 28, 32),
    unified((1, 4), 40, 28, 32),
    unified((5, 16), 36, 24, 32),
    unified((3, 8), 32, 24, 32),
    unified((7, 16), 28, 20, 28),
    unified((1, 2), 26, 20, 28),
    unified((9, 16), 24, 18, 24),
    unified((5, 8), 22, 18, 24),
    unified((3, 4), 20, 16, 20),
    unified((7, 8), 18, 14, 20),
    unified((1, 1), 16, 12, 20),
    unified((9, 8), 14, 12, 18),
    unified((5, 4), 14, 12, 18),
    unified((11, 8), 12, 12, 18),
    unified((3, 2), 12, 12, 18),
    unified((7, 4), 10, 0, 0),
    unified((2, 1), 9, 0, 0),
    unified((9, 4), 9, 0, 0),
    unified((5, 2), 8, 0, 0),
    unified((11, 4), 8, 0, 0),
    unified((3, 1), 8, 0, 0),
    unified((13, 4), 8, 0, 0),
    unified((7, 2), 8, 0, 0),
    unified((15, 4), 8, 0, 0),
    unified((4, 1), 8, 0, 0),
];

impl Unified {
    fn of(diameter: Diameter) -> Option<&'static Unified> {
        let size = match diameter {
            Diameter::Inch(r) => (*r.numer(), *r.denom()),
            Diameter::Number(n) => (i64::from(n), 0),
            Diameter::Metric(_) => return None,
        };
        UNIFIED.iter().find(|row| row.size == size)
    }
}

/// The metric series of one diameter.
struct Metric {
    /// Tenths of a millimetre.
    diameter: i64,
    /// Coarse pitch, hundredths of a millimetre.
    coarse: i64,
    /// Fine pitches, hundredths of a millimetre.
    fine: &'static [i64],
}

const fn metric(diameter: i64, coarse: i64, fine: &'static [i64]) -> Metric {
    Metric {
        diameter,
        coarse,
        fine,
    }
}

/// ISO metric threads, diameters and pitches of ISO 261; coarse pitches as ISO 262.
const METRIC: &[Metric] = &[
    metric(10, 25, &[20]),
    metric(12, 25, &[20]),
    metric(14, 30, &[20]),
    metric(16, 35, &[20]),
    metric(18, 35, &[20]),
    metric(20, 40, &[25]),
    metric(22, 45, &[25]),
    metric(25, 45, &[35]),
    metric(30, 50, &[35]),
    metric(35, 60, &[35]),
    metric(40, 70, &[50]),
    metric(45, 75, &[50]),
    metric(50, 80, &[50]),
    metric(60, 100, &[75]),
    metric(70, 100, &[75]),
    metric(80, 125, &[100, 75]),
    metric(100, 150, &[125, 100, 75]),
    metric(120, 175, &[150, 125, 100]),
    metric(140, 200, &[150, 125, 100]),
    metric(160, 200, &[150, 100]),
    metric(180, 250, &[200, 150, 100]),
    metric(200, 250, &[200, 150, 100]),
    metric(220, 250, &[200, 150, 100]),
    metric(240, 300, &[200, 150, 100]),
    metric(270, 300, &[200, 150, 100]),
    metric(300, 350, &[300, 200, 150, 100]),
    metric(330, 350, &[300, 200, 150]),
    metric(360, 400, &[300, 200, 150]),
    metric(390, 400, &[300, 200, 150]),
    metric(420, 450, &[400, 300, 200, 150]),
    metric(450, 450, &[400, 300, 200, 150]),
    metric(480, 500, &[400, 300, 200, 150]),
    metric(520, 500, &[400, 300, 200, 150]),
    metric(560, 550, &[400, 300, 200, 150]),
    metric(600, 550, &[400, 300, 200, 150]),
    metric(640, 600, &[400, 300, 200, 150]),
];

impl Metric {
    fn of(diameter: Diameter) -> Option<&'static Metric> {
        let Diameter::Metric(r) = diameter else {
            return None;
        };
        METRIC
            .iter()
            .find(|row| row.diameter.checked_mul(*r.denom()) == r.numer().checked_mul(10))
    }
}

/// Every threaded diameter of the standard series, inch and number sizes first.
pub fn threaded_diameters() -> impl Iterator<Item = Diameter> {
    let inch = UNIFIED.iter().map(|row| match row.size {
        (n, 0) => Diameter::Number(n as u8),
        (n, d) => Diameter::Inch(Ratio::new_raw(n, d)),
    });
    inch.chain(
        METRIC
            .iter()
            .map(|row| Diameter::Metric(Ratio::new(row.diameter, 10))),
    )
}

/// The coarse thread of a standard diameter: ASME B1.1 (UNC; the only one, 80, for `#0`), ISO 262.
pub fn coarse(diameter: Diameter) -> Option<Thread> {
    if let Some(row) = Unified::of(diameter) {
        return Some(match row.coarse {
            0 => Thread::per_inch(row.fine),
            half => Thread::PerInch(Ratio::new(half, 2)),
        });
    }
    Metric::of(diameter).map(|row| Thread::Pitch(Ratio::new(row.coarse, 100)))
}

/// The fine thread of a standard diameter: UNF of ASME B1.1. Metric diameters have several, so
/// none is *the* fine one.
pub fn fine(diameter: Diameter) -> Option<Thread> {
    let row = Unified::of(diameter)?;
    (row.fine != 0).then(|| Thread::per_inch(row.fine))
}

/// True where the thread is a standard one of the diameter: coarse, fine, extra fine, or 8-UN from
/// 1-1/8 inch (ASME B1.1); coarse or fine (ISO 261).
pub fn is_standard(diameter: Diameter, thread: Thread) -> bool {
    match thread {
        Thread::PerInch(n) => Unified::of(diameter).is_some_and(|row| {
            n * 2 == Ratio::from_integer(row.coarse)
                || (n.is_integer() && {
                    let n = n.to_integer();
                    n != 0
                        && (n == row.fine
                            || n == row.extra_fine
                            || (n == 8 && row.size.1 != 0 && row.size.0 > row.size.1))
                })
        }),
        Thread::Pitch(p) => Metric::of(diameter).is_some_and(|row| {
            let hundredths = p * 100;
            hundredths.is_integer() && {
                let h = hundredths.to_integer();
                h == row.coarse || row.fine.contains(&h)
            }
        }),
    }
}

/// True where threads are cut on the diameter by a standard series.
pub fn is_threaded_size(diameter: Diameter) -> bool {
    Unified::of(diameter).is_some() || Metric::of(diameter).is_some()
}
