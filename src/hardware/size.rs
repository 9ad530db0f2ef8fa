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
}

/// Diameters in use besides those of the thread series, in 1/32 inch: wire, pins, rivets and washers
/// (cotter pins of ASME B18.8.1, blind rivets of IFI-114; the list from memory).
const OTHER_INCH: &[i64] = &[1, 2, 3, 4, 5, 6, 7, 9, 52, 60];

/// Diameters in use besides those of the thread series, in tenths of a millimetre: split pins of
/// ISO 1234, tapping screws of ISO 1478, blind rivets (the list from memory).
const OTHER_METRIC: &[i64] = &[
    6, 8, 13, 15, 22, 24, 28, 29, 32, 42, 48, 55, 63, 64, 75, 90, 110, 130,
];

impl Diameter {
    /// True where the diameter is in a standard series: Unified (ASME B1.1), ISO 261, or the usual
    /// ones of wire, pins, rivets and tapping screws.
    pub fn is_standard(self) -> bool {
        super::thread::is_threaded_size(self)
            || match self {
                Diameter::Inch(r) => {
                    32 % *r.denom() == 0 && OTHER_INCH.contains(&(*r.numer() * (32 / *r.denom())))
                }
                // Wood, deck and self-drilling screws go to #14 in even numbers from #6, with #7 and
                // #9 for wood screws (ASME B18.6.1).
                Diameter::Number(n) => matches!(n, 7 | 9 | 14),
                Diameter::Metric(r) => {
                    10 % *r.denom() == 0 && OTHER_METRIC.contains(&(*r.numer() * (10 / *r.denom())))
                }
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

impl Length {
    /// True for the lengths that are usually made: inches in sixteenths up to 1, in eighths up to 6,
    /// in quarters above; whole millimetres, and 2.5. Generous on purpose (common practice, no source;
    /// metric lengths of ISO 888 are all among them).
    pub fn is_usual(self) -> bool {
        let value = self.value();
        let (numer, denom) = (*value.numer(), *value.denom());
        if numer <= 0 {
            return false;
        }
        match self {
            Length::Inch(_) => {
                let finest = match numer {
                    _ if numer <= denom => 16,
                    _ if numer <= denom.saturating_mul(6) => 8,
                    _ => 4,
                };
                finest % denom == 0
            }
            Length::Millimetre(_) => denom == 1 || (numer, denom) == (5, 2),
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

    #[track_caller]
    fn diameter(diameter: Diameter, text: &str, standard: bool) {
        assert_eq!(diameter.to_string(), text);
        assert_eq!(diameter.is_standard(), standard, "{text}");
    }

    #[test]
    fn diameters() {
        diameter(Diameter::Inch(Ratio::new(1, 2)), "1/2", true);
        diameter(Diameter::Inch(Ratio::new(5, 4)), "1-1/4", true);
        diameter(Diameter::Inch(Ratio::new(3, 16)), "3/16", true);
        diameter(Diameter::Inch(Ratio::new(11, 32)), "11/32", false);
        diameter(Diameter::Inch(Ratio::new(15, 4)), "3-3/4", true);
        diameter(Diameter::Inch(Ratio::new(9, 2)), "4-1/2", false);
        diameter(Diameter::Inch(Ratio::new(1, 3)), "1/3", false);
        diameter(Diameter::Inch(Ratio::new(37, 10)), "3.7", false);
        diameter(Diameter::Inch(Ratio::new(1, 50)), "0.020000", false);
        diameter(Diameter::Number(10), "#10", true);
        diameter(Diameter::Number(14), "#14", true);
        diameter(Diameter::Number(13), "#13", false);
        diameter(Diameter::Metric(Ratio::from_integer(12)), "M12", true);
        diameter(Diameter::Metric(Ratio::new(5, 2)), "M2.5", true);
        diameter(Diameter::Metric(Ratio::from_integer(17)), "M17", false);
    }

    #[track_caller]
    fn length(length: Length, usual: bool) {
        assert_eq!(length.is_usual(), usual, "{length}");
    }

    #[test]
    fn usual_lengths() {
        let inch = |n, d| Length::Inch(Ratio::new(n, d));
        let mm = |n, d| Length::Millimetre(Ratio::new(n, d));
        length(inch(5, 16), true);
        length(inch(5, 32), false);
        length(inch(17, 16), false);
        length(inch(29, 8), true);
        length(inch(49, 8), false);
        length(inch(25, 4), true);
        length(inch(0, 1), false);
        length(mm(60, 1), true);
        length(mm(5, 2), true);
        length(mm(121, 2), false);
    }
}
