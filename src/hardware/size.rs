//! Diameters and lengths, exact.
//!
//! Every size is a ratio of whole numbers: `3-3/4`, `3.75` and `3¾` are one value, and no rounding
//! can make `1/2 x 3-1/4` pass for `1/2 x 3-3/4`.

use std::fmt;

/// An exact ratio of whole numbers.
pub type Ratio = num_rational::Ratio<i64>;

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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
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

    /// The same size, told without the divisions that comparing ratios takes: tables are gone through for each
    /// item.
    pub(super) fn is(self, other: Diameter) -> bool {
        let over = |a: Ratio, b: Ratio| i128::from(*a.numer()) * i128::from(*b.denom());
        match (self, other) {
            (Diameter::Inch(a), Diameter::Inch(b)) | (Diameter::Metric(a), Diameter::Metric(b)) => {
                over(a, b) == over(b, a)
            }
            (Diameter::Number(a), Diameter::Number(b)) => a == b,
            _ => false,
        }
    }

    /// True where the figure alone does not say that it is inches: whole numbers and odd decimals.
    pub fn needs_unit(self) -> bool {
        matches!(self, Diameter::Inch(r) if r.is_integer() || 128 % *r.denom() != 0)
    }
}

impl fmt::Display for Diameter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Diameter::Inch(r) => write!(f, "{}", Mixed(*r)),
            Diameter::Number(n) => write!(f, "#{n}"),
            Diameter::Metric(r) => write!(f, "M{}", Decimal(*r)),
        }
    }
}

/// A length in inches or millimetres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
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
}

impl fmt::Display for Length {
    /// `3-3/4` for inches, `60` for millimetres; the unit is not printed.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Length::Inch(r) => write!(f, "{}", Mixed(*r)),
            Length::Millimetre(r) => write!(f, "{}", Decimal(*r)),
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
            return write!(f, "{}", r.to_integer());
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
        match whole {
            0 => write!(f, "{part}/{denominator}"),
            _ => write!(f, "{whole}-{}/{denominator}", part.abs()),
        }
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
    fn sizes_are_told_apart_as_they_compare() {
        let sizes = [(1, 2), (1, 4), (5, 16), (3, 1), (12, 1)].map(|(n, d)| Ratio::new(n, d));
        let all = sizes
            .into_iter()
            .flat_map(|of| [Diameter::Inch(of), Diameter::Metric(of)]);
        let all: Vec<Diameter> = all.chain([4, 12].map(Diameter::Number)).collect();
        for (a, b) in all.iter().flat_map(|a| all.iter().map(move |b| (a, b))) {
            assert_eq!(a.is(*b), a == b, "{a} {b}");
        }
        // A table may write a size in other than its lowest terms.
        assert!(Diameter::Inch(Ratio::new_raw(2, 4)).is(Diameter::Inch(sizes[0])));
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
