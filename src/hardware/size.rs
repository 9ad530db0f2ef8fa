//! Diameters and lengths, exact.
//!
//! Every size is a ratio of whole numbers: `3-3/4`, `3.75` and `3¾` are one value, and no rounding
//! can make `1/2 x 3-1/4` pass for `1/2 x 3-3/4`.

use std::{
    cmp::Ordering,
    fmt::{self, Write as _},
    hash::{Hash, Hasher},
};

/// An exact ratio of whole numbers.
pub type Ratio = num_rational::Ratio<i64>;

/// A ratio that is told from others by a multiplication each, and hashed by one division, where the library
/// takes a chain of divisions: sizes are compared more often than anything else.
#[derive(Clone, Copy)]
pub(super) struct Exact(pub Ratio);

impl Ord for Exact {
    fn cmp(&self, other: &Exact) -> Ordering {
        let over = |a: Ratio, b: Ratio| i128::from(*a.numer()) * i128::from(*b.denom());
        over(self.0, other.0).cmp(&over(other.0, self.0))
    }
}

impl PartialOrd for Exact {
    fn partial_cmp(&self, other: &Exact) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Exact {
    fn eq(&self, other: &Exact) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Exact {}

impl Hash for Exact {
    /// By so many parts of the unit, since a table may write a size in other than its lowest terms.
    fn hash<H: Hasher>(&self, state: &mut H) {
        const PARTS: i128 = 1 << 16;
        let parts = i128::from(*self.0.numer()) * PARTS / i128::from(*self.0.denom());
        state.write_u64(parts as u64);
    }
}

/// Sizes that compare, and are hashed, as their `key` does.
macro_rules! compare_by_key {
    ($size:ty) => {
        impl Ord for $size {
            fn cmp(&self, other: &$size) -> std::cmp::Ordering {
                self.key().cmp(&other.key())
            }
        }

        impl PartialOrd for $size {
            fn partial_cmp(&self, other: &$size) -> Option<std::cmp::Ordering> {
                Some(self.cmp(other))
            }
        }

        impl PartialEq for $size {
            fn eq(&self, other: &$size) -> bool {
                self.key() == other.key()
            }
        }

        impl Eq for $size {}

        impl std::hash::Hash for $size {
            fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
                self.key().hash(state);
            }
        }
    };
}
pub(super) use compare_by_key;

/// The unit that a size is stated in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unit {
    Inch,
    Millimetre,
}

impl Unit {
    /// `in` or `mm`.
    pub const fn as_str(self) -> &'static str {
        match self {
            Unit::Inch => "in",
            Unit::Millimetre => "mm",
        }
    }
}

/// A nominal diameter: fractional inch (`1/2`), number size (`#10`) or metric (`M12`).
#[derive(Debug, Clone, Copy)]
pub enum Diameter {
    /// Inches.
    Inch(Ratio),
    /// A number size of ASME B1.1: 0.060 + 0.013 N inches.
    Number(u8),
    /// Millimetres.
    Metric(Ratio),
}

impl Diameter {
    pub fn unit(self) -> Unit {
        match self {
            Diameter::Inch(_) | Diameter::Number(_) => Unit::Inch,
            Diameter::Metric(_) => Unit::Millimetre,
        }
    }

    /// The diameter in its own unit: inches for `Inch` and `Number`, millimetres for `Metric`.
    pub fn value(self) -> Ratio {
        match self {
            Diameter::Inch(r) | Diameter::Metric(r) => r,
            // ASME B1.1: D = 0.060 + 0.013 N in.
            Diameter::Number(n) => Ratio::new(60 + 13 * i64::from(n), 1000),
        }
    }

    fn key(self) -> (u8, Exact) {
        match self {
            Diameter::Inch(r) => (0, Exact(r)),
            Diameter::Number(n) => (1, Exact(Ratio::from_integer(n.into()))),
            Diameter::Metric(r) => (2, Exact(r)),
        }
    }

    /// True where the figure alone does not say that it is inches: whole numbers and odd decimals.
    pub fn needs_unit(self) -> bool {
        matches!(self, Diameter::Inch(r) if r.is_integer() || 128 % *r.denom() != 0)
    }
}

compare_by_key!(Diameter);

impl fmt::Display for Diameter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Diameter::Inch(r) => Mixed(*r).fmt(f),
            Diameter::Number(n) => write!(f, "#{n}"),
            Diameter::Metric(r) => write!(f, "M{}", Decimal(*r)),
        }
    }
}

/// A length in inches or millimetres.
#[derive(Debug, Clone, Copy)]
pub enum Length {
    Inch(Ratio),
    Millimetre(Ratio),
}

impl Length {
    pub fn unit(self) -> Unit {
        match self {
            Length::Inch(_) => Unit::Inch,
            Length::Millimetre(_) => Unit::Millimetre,
        }
    }

    /// The length in its own unit.
    pub fn value(self) -> Ratio {
        match self {
            Length::Inch(r) | Length::Millimetre(r) => r,
        }
    }

    fn key(self) -> (Unit, Exact) {
        (self.unit(), Exact(self.value()))
    }
}

compare_by_key!(Length);

impl fmt::Display for Length {
    /// `3-3/4` for inches, `60` for millimetres; the unit is not printed.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Length::Inch(r) => Mixed(*r).fmt(f),
            Length::Millimetre(r) => Decimal(*r).fmt(f),
        }
    }
}

/// Prints a ratio as the inch trade does: `3`, `1/2`, `3-3/4`; a value that is no binary fraction
/// up to 128ths prints as its exact decimal where it has one (`3.7`, `0.020000`).
pub struct Mixed(pub Ratio);

impl fmt::Display for Mixed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let r = self.0;
        if r.is_integer() {
            return write_figure(f, r.to_integer());
        }
        let denominator = *r.denom();
        if denominator > 128 || denominator & (denominator - 1) != 0 {
            let text = Decimal(r).to_string();
            let places = text.find('.').map_or(0, |point| text.len() - point - 1);
            f.write_str(&text)?;
            // To two or three places it could be taken for a rounded fraction.
            let zeros = if (2..6).contains(&places) {
                6 - places
            } else {
                0
            };
            return write!(f, "{:0<zeros$}", "");
        }
        // A ratio is in lowest terms, and so is what is left of it beside its whole.
        let (whole, part) = (r.numer() / denominator, r.numer() % denominator);
        let part = match whole {
            0 => part,
            _ => {
                write_figure(f, whole)?;
                f.write_char('-')?;
                part.abs()
            }
        };
        write_figure(f, part)?;
        f.write_char('/')?;
        write_figure(f, denominator)
    }
}

/// The figures of sizes are short, and there may be a million: their signs are put down as they are.
fn write_figure(f: &mut fmt::Formatter<'_>, figure: i64) -> fmt::Result {
    let mut put = |figure: i64| f.write_char(char::from(b'0' + figure as u8));
    match figure {
        0..10 => put(figure),
        10..100 => {
            put(figure / 10)?;
            put(figure % 10)
        }
        _ => write!(f, "{figure}"),
    }
}

/// Prints a ratio as an exact decimal (`1.25`), or as `n/d` where no finite decimal exists.
pub struct Decimal(pub Ratio);

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let r = self.0;
        let (mut numer, mut denom) = (i128::from(*r.numer()), i128::from(*r.denom()));
        let mut places = 0usize;
        while places < 12 && 10i128.pow(places as u32) % denom != 0 {
            places += 1;
        }
        let scale = 10i128.pow(places as u32);
        if scale % denom != 0 {
            return write!(f, "{}/{}", r.numer(), r.denom());
        }
        numer *= scale / denom;
        denom = scale;
        let sign = if numer < 0 { "-" } else { "" };
        let (whole, rest) = (numer.abs() / denom, numer.abs() % denom);
        match places {
            0 => write!(f, "{sign}{whole}"),
            _ => write!(f, "{sign}{whole}.{rest:0places$}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn number_sizes_follow_the_formula() {
        // ASME B1.1: 0.060 + 0.013 N in.
        for (n, thousandths) in [(0, 60), (4, 112), (6, 138), (8, 164), (10, 190), (12, 216)] {
            assert_eq!(Diameter::Number(n).value(), Ratio::new(thousandths, 1000));
        }
    }

    #[test]
    fn sizes_are_told_apart_as_ratios_are() {
        let hash = |of: Exact| {
            let mut state = std::hash::DefaultHasher::new();
            of.hash(&mut state);
            state.finish()
        };
        // A table may write a size in other than its lowest terms.
        let sizes = [
            (1, 2),
            (1, 4),
            (5, 16),
            (3, 1),
            (2, 4),
            (i64::MAX, 3),
            (-1, 2),
        ];
        let sizes = sizes.map(|(n, d)| Ratio::new_raw(n, d));
        for (a, b) in sizes
            .iter()
            .flat_map(|a| sizes.iter().map(move |b| (*a, *b)))
        {
            assert_eq!(Exact(a).cmp(&Exact(b)), a.cmp(&b), "{a} {b}");
            assert_eq!(Exact(a) == Exact(b), a == b, "{a} {b}");
            assert_eq!(hash(Exact(a)) == hash(Exact(b)), a == b, "{a} {b}");
        }
        let in_order = [
            Diameter::Inch(sizes[0]),
            Diameter::Inch(sizes[3]),
            Diameter::Number(4),
            Diameter::Number(10),
            Diameter::Metric(sizes[1]),
        ];
        assert!(in_order.is_sorted());
        assert!(in_order.windows(2).all(|pair| pair[0] != pair[1]));
        assert!(Length::Inch(sizes[3]) < Length::Millimetre(sizes[0]));
    }

    #[track_caller]
    fn diameter(diameter: Diameter, text: &str) {
        assert_eq!(diameter.to_string(), text);
    }

    #[test]
    fn diameters() {
        diameter(Diameter::Inch(Ratio::new(1, 2)), "1/2");
        diameter(Diameter::Inch(Ratio::new(5, 4)), "1-1/4");
        diameter(Diameter::Inch(Ratio::new(3, 16)), "3/16");
        diameter(Diameter::Inch(Ratio::new(11, 32)), "11/32");
        diameter(Diameter::Inch(Ratio::new(15, 4)), "3-3/4");
        diameter(Diameter::Inch(Ratio::new(9, 2)), "4-1/2");
        diameter(Diameter::Inch(Ratio::new(1, 3)), "1/3");
        diameter(Diameter::Inch(Ratio::new(37, 10)), "3.7");
        diameter(Diameter::Inch(Ratio::new(1, 50)), "0.020000");
        diameter(Diameter::Number(10), "#10");
        diameter(Diameter::Number(14), "#14");
        diameter(Diameter::Number(13), "#13");
        diameter(Diameter::Metric(Ratio::from_integer(12)), "M12");
        diameter(Diameter::Metric(Ratio::new(5, 2)), "M2.5");
        diameter(Diameter::Metric(Ratio::from_integer(17)), "M17");
    }
}
