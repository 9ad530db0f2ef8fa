//! Threads as stated, and the standard series.

use std::fmt;

use super::size::{Decimal, Diameter, Exact, Ratio, Unit, compare_by_key};

/// A thread as a line states it.
#[derive(Debug, Clone, Copy)]
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

    fn key(self) -> (Unit, Exact) {
        match self {
            Thread::PerInch(n) => (Unit::Inch, Exact(n)),
            Thread::Pitch(p) => (Unit::Millimetre, Exact(p)),
        }
    }
}

compare_by_key!(Thread);

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
        let row = match diameter {
            Diameter::Inch(r) => ROWS.sixteenths.get(whole_parts(r, 16)?),
            Diameter::Number(n) => ROWS.numbers.get(usize::from(n)),
            Diameter::Metric(_) => None,
        };
        UNIFIED.get(usize::from(*row?))
    }
}

/// How many of the parts of a unit a value is, where it is a whole number of them.
fn whole_parts(value: Ratio, parts: i64) -> Option<usize> {
    let denom = *value.denom();
    if denom > parts || parts % denom != 0 {
        return None;
    }
    let number = value.numer().checked_mul(parts / denom)?;
    usize::try_from(number).ok()
}

/// Where the row of each diameter stands in its table; [`NO_ROW`] for those that have none.
struct Rows {
    numbers: [u8; 13],
    sixteenths: [u8; 65],
    tenths: [u8; 641],
}

const NO_ROW: u8 = u8::MAX;

static ROWS: Rows = {
    let mut rows = Rows {
        numbers: [NO_ROW; 13],
        sixteenths: [NO_ROW; 65],
        tenths: [NO_ROW; 641],
    };
    let mut row = 0;
    while row < UNIFIED.len() {
        match UNIFIED[row].size {
            (n, 0) => rows.numbers[n as usize] = row as u8,
            (n, d) => rows.sixteenths[(n * 16 / d) as usize] = row as u8,
        }
        row += 1;
    }
    row = 0;
    while row < METRIC.len() {
        rows.tenths[METRIC[row].diameter as usize] = row as u8;
        row += 1;
    }
    rows
};

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
        METRIC.get(usize::from(*ROWS.tenths.get(whole_parts(r, 10)?)?))
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
            half if half % 2 == 0 => Thread::per_inch(half / 2),
            half => Thread::PerInch(Ratio::new_raw(half, 2)),
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

/// The fine thread of a metric diameter that comes first, by its pitch.
pub fn first_fine(diameter: Diameter) -> Option<Thread> {
    let pitch = *Metric::of(diameter)?.fine.first()?;
    Some(Thread::Pitch(Ratio::new(pitch, 100)))
}

/// True where the thread is a standard one of the diameter: coarse, fine, extra fine, or 8-UN from
/// 1-1/8 inch (ASME B1.1); coarse or fine (ISO 261).
pub fn is_standard(diameter: Diameter, thread: Thread) -> bool {
    match thread {
        Thread::PerInch(n) => Unified::of(diameter).is_some_and(|row| {
            i128::from(*n.numer()) * 2 == i128::from(row.coarse) * i128::from(*n.denom())
                || (n.is_integer() && {
                    let n = n.to_integer();
                    n != 0
                        && (n == row.fine
                            || n == row.extra_fine
                            || (n == 8 && row.size.1 != 0 && row.size.0 > row.size.1))
                })
        }),
        Thread::Pitch(p) => Metric::of(diameter).is_some_and(|row| {
            whole_parts(p, 100).is_some_and(|hundredths| {
                let is = |pitch: &i64| usize::try_from(*pitch) == Ok(hundredths);
                is(&row.coarse) || row.fine.iter().any(is)
            })
        }),
    }
}

/// True where threads are cut on the diameter by a standard series.
pub fn is_threaded_size(diameter: Diameter) -> bool {
    Unified::of(diameter).is_some() || Metric::of(diameter).is_some()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inch(n: i64, d: i64) -> Diameter {
        Diameter::Inch(Ratio::new(n, d))
    }

    fn metric(tenths: i64) -> Diameter {
        Diameter::Metric(Ratio::new(tenths, 10))
    }

    #[test]
    fn each_row_is_found_by_its_diameter() {
        for row in UNIFIED {
            let diameter = match row.size {
                (n, 0) => Diameter::Number(n as u8),
                (n, d) => inch(n, d),
            };
            assert!(Unified::of(diameter).is_some_and(|found| found.size == row.size));
        }
        for row in METRIC {
            let found = Metric::of(metric(row.diameter));
            assert!(found.is_some_and(|found| found.diameter == row.diameter));
        }
        let odd = [inch(1, 3), inch(1, 32), inch(5, 1), inch(-1, 2), inch(0, 1)];
        assert!(odd.into_iter().all(|odd| Unified::of(odd).is_none()));
        let odd = [Diameter::Number(7), Diameter::Number(13), metric(85)];
        assert!(odd.into_iter().all(|odd| !is_threaded_size(odd)));
        assert!(!is_threaded_size(Diameter::Metric(Ratio::new(1, 3))));
    }

    #[test]
    fn coarse_inch_threads_are_those_of_the_bolt_tables() {
        // ASME B18.2.1, threads per inch of hex bolts, coarse.
        let published = [
            ((1, 4), 20.0),
            ((5, 16), 18.0),
            ((3, 8), 16.0),
            ((7, 16), 14.0),
            ((1, 2), 13.0),
            ((5, 8), 11.0),
            ((3, 4), 10.0),
            ((7, 8), 9.0),
            ((1, 1), 8.0),
            ((9, 8), 7.0),
            ((5, 4), 7.0),
            ((11, 8), 6.0),
            ((3, 2), 6.0),
            ((7, 4), 5.0),
            ((2, 1), 4.5),
            ((9, 4), 4.5),
            ((5, 2), 4.0),
            ((11, 4), 4.0),
            ((3, 1), 4.0),
            ((4, 1), 4.0),
        ];
        for ((n, d), threads) in published {
            let threads = Ratio::new((threads * 2.0) as i64, 2);
            assert_eq!(
                coarse(inch(n, d)),
                Some(Thread::PerInch(threads)),
                "{n}/{d}"
            );
        }
        // ASME B18.2.2 has 9/16-12, ASME B18.5 #10-24.
        assert_eq!(coarse(inch(9, 16)), Some(Thread::per_inch(12)));
        assert_eq!(coarse(Diameter::Number(10)), Some(Thread::per_inch(24)));
    }

    /// Tensile stress area of ASME B1.1, At = π/4 (D - 0.9743/n)², in².
    #[track_caller]
    fn stress_area(diameter: Diameter, thread: Option<Thread>, published: f64) {
        let value = |r: Ratio| *r.numer() as f64 / *r.denom() as f64;
        let pitch = value(thread.expect("in the series").pitch());
        let area = std::f64::consts::FRAC_PI_4 * (value(diameter.value()) - 0.9743 * pitch).powi(2);
        assert!(
            (area - published).abs() < 0.006 * published,
            "{diameter}: {area:.4} for {published}"
        );
    }

    #[test]
    fn threads_give_the_published_stress_areas() {
        // Torque-tension charts of SAE J429 bolts, coarse.
        stress_area(inch(1, 4), coarse(inch(1, 4)), 0.0318);
        stress_area(inch(5, 16), coarse(inch(5, 16)), 0.0524);
        stress_area(inch(1, 2), coarse(inch(1, 2)), 0.1419);
        stress_area(inch(9, 16), coarse(inch(9, 16)), 0.1819);
        stress_area(inch(3, 4), coarse(inch(3, 4)), 0.3345);
        stress_area(inch(1, 1), coarse(inch(1, 1)), 0.6057);
        // Fine, SAE J429; from memory.
        stress_area(inch(1, 4), fine(inch(1, 4)), 0.0364);
        stress_area(inch(5, 16), fine(inch(5, 16)), 0.0580);
        stress_area(inch(3, 8), fine(inch(3, 8)), 0.0878);
        stress_area(inch(7, 16), fine(inch(7, 16)), 0.1187);
        stress_area(inch(1, 2), fine(inch(1, 2)), 0.1599);
        stress_area(inch(5, 8), fine(inch(5, 8)), 0.256);
        stress_area(inch(3, 4), fine(inch(3, 4)), 0.373);
        stress_area(inch(7, 8), fine(inch(7, 8)), 0.509);
        stress_area(inch(1, 1), fine(inch(1, 1)), 0.663);
        // Number sizes, ASME B1.1; from memory.
        stress_area(Diameter::Number(6), coarse(Diameter::Number(6)), 0.00909);
        stress_area(Diameter::Number(8), coarse(Diameter::Number(8)), 0.0140);
        stress_area(Diameter::Number(10), coarse(Diameter::Number(10)), 0.0175);
        stress_area(Diameter::Number(10), fine(Diameter::Number(10)), 0.0200);
    }

    #[test]
    fn coarse_metric_pitches_are_those_of_the_bolt_tables() {
        // ISO 4014 (ISO 4032 for M64), pitches in hundredths of a millimetre.
        let published = [
            (16, 35),
            (20, 40),
            (25, 45),
            (30, 50),
            (35, 60),
            (40, 70),
            (50, 80),
            (60, 100),
            (80, 125),
            (100, 150),
            (120, 175),
            (140, 200),
            (160, 200),
            (180, 250),
            (200, 250),
            (220, 250),
            (240, 300),
            (270, 300),
            (300, 350),
            (330, 350),
            (360, 400),
            (390, 400),
            (420, 450),
            (450, 450),
            (480, 500),
            (520, 500),
            (560, 550),
            (600, 550),
            (640, 600),
        ];
        for (tenths, hundredths) in published {
            assert_eq!(
                coarse(metric(tenths)),
                Some(Thread::Pitch(Ratio::new(hundredths, 100))),
                "M{}",
                tenths as f64 / 10.0
            );
        }
    }

    #[track_caller]
    fn standard(diameter: Diameter, thread: Thread, expected: bool) {
        assert_eq!(
            is_standard(diameter, thread),
            expected,
            "{diameter} {thread}"
        );
    }

    #[test]
    fn standard_threads() {
        standard(inch(1, 2), Thread::per_inch(13), true);
        standard(inch(1, 2), Thread::per_inch(20), true);
        standard(inch(1, 2), Thread::per_inch(14), false);
        standard(inch(5, 4), Thread::per_inch(8), true);
        standard(inch(1, 2), Thread::per_inch(8), false);
        standard(inch(2, 1), Thread::PerInch(Ratio::new(9, 2)), true);
        standard(inch(1, 3), Thread::per_inch(13), false);
        standard(Diameter::Number(10), Thread::per_inch(32), true);
        standard(Diameter::Number(9), Thread::per_inch(32), false);
        standard(metric(80), Thread::Pitch(Ratio::new(5, 4)), true);
        standard(metric(80), Thread::Pitch(Ratio::new(1, 1)), true);
        standard(metric(80), Thread::Pitch(Ratio::new(3, 2)), false);
        standard(metric(120), Thread::Pitch(Ratio::new(3, 2)), true);
        standard(metric(120), Thread::per_inch(13), false);
    }
}
