//! Which sizes are usually made: what a figure is held against where it could be read in two ways.

use super::size::{Diameter, Length};
use super::thread::is_threaded_size;

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
        is_threaded_size(self)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hardware::Ratio;

    #[track_caller]
    fn diameter(diameter: Diameter, standard: bool) {
        assert_eq!(diameter.is_standard(), standard, "{diameter}");
    }

    #[test]
    fn diameters() {
        diameter(Diameter::Inch(Ratio::new(1, 2)), true);
        diameter(Diameter::Inch(Ratio::new(5, 4)), true);
        diameter(Diameter::Inch(Ratio::new(3, 16)), true);
        diameter(Diameter::Inch(Ratio::new(11, 32)), false);
        diameter(Diameter::Inch(Ratio::new(15, 4)), true);
        diameter(Diameter::Inch(Ratio::new(9, 2)), false);
        diameter(Diameter::Inch(Ratio::new(1, 3)), false);
        diameter(Diameter::Inch(Ratio::new(37, 10)), false);
        diameter(Diameter::Inch(Ratio::new(1, 50)), false);
        diameter(Diameter::Number(10), true);
        diameter(Diameter::Number(14), true);
        diameter(Diameter::Number(13), false);
        diameter(Diameter::Metric(Ratio::from_integer(12)), true);
        diameter(Diameter::Metric(Ratio::new(5, 2)), true);
        diameter(Diameter::Metric(Ratio::from_integer(17)), false);
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
