//! How a piece of another length would do: how far it lies apart, and whether its thread reaches.

use crate::hardware::{Item, Length, Ratio, thread_length};

/// Parts of a unit in which differences of length are told.
pub const PARTS: i64 = 1920;
/// Lengths farther apart than this are all equally far apart: 100 m.
const FARTHEST: i64 = 100_000 * PARTS;

/// How far two lengths lie apart, in [`PARTS`] of their unit: whole for inch fractions down to 1/128 and
/// for hundredths and twentieths of a millimetre, near enough to rank the rest. `None` across units.
pub fn difference(a: Length, b: Length) -> Option<i64> {
    if a.unit() != b.unit() {
        return None;
    }
    let (a, b) = (a.value(), b.value());
    let apart = apart_in_64_bits(a, b).unwrap_or_else(|| apart_in_128_bits(a, b));
    Some(apart.min(FARTHEST))
}

/// To the nearest, and halves up.
fn apart_in_128_bits(a: Ratio, b: Ratio) -> i64 {
    let wide = |of: Ratio| (i128::from(*of.numer()), i128::from(*of.denom()));
    let ((a, below_a), (b, below_b)) = (wide(a), wide(b));
    let (apart, below) = (
        (a * below_b - b * below_a).abs() * i128::from(PARTS),
        below_a * below_b,
    );
    let apart = (2 * apart + below) / (2 * below);
    i64::try_from(apart).unwrap_or(FARTHEST)
}

/// The same where 64 bits hold all figures on the way, as they do for the sizes of hardware: dividing wider ones
/// takes ten times as long.
fn apart_in_64_bits(a: Ratio, b: Ratio) -> Option<i64> {
    let below = a.denom().checked_mul(*b.denom())?;
    let over = |a: Ratio, b: Ratio| a.numer().checked_mul(*b.denom());
    let apart = over(a, b)?.checked_sub(over(b, a)?)?.checked_abs()?;
    let twice = apart.checked_mul(2 * PARTS)?;
    Some(twice.checked_add(below)? / below.checked_mul(2)?)
}

/// A length of a rule in the unit of the piece that it is said of: one in millimetres needs none to be written.
/// `None` where the two are not compared.
pub fn in_unit_of(said: Length, piece: Length) -> Option<Length> {
    match (said, piece) {
        (Length::Inch(figure), Length::Millimetre(_)) => Some(Length::Millimetre(figure)),
        _ => (said.unit() == piece.unit()).then_some(said),
    }
}

/// True where a bolt of that length can clamp so much: its thread, by the standard of its style,
/// reaches, and a nut and its first threads, about one diameter, have room behind (common practice,
/// no source). A bolt whose thread is in no table is taken not to.
pub fn reaches(bolt: &Item, grip: Length) -> bool {
    let (Some(length), Some(threaded), Some(diameter)) =
        (bolt.length, thread_length(bolt), bolt.diameter)
    else {
        return false;
    };
    let Some(grip) = in_unit_of(grip, length) else {
        return false;
    };
    diameter.unit() == grip.unit()
        && length.value() - threaded.value() <= grip.value()
        && length.value() >= grip.value() + diameter.value()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn both_widths_come_to_the_same(
            (a, b) in ((0i64..1 << 40, 1i64..200), (0i64..1 << 40, 1i64..200)),
        ) {
            let (a, b) = (Ratio::new(a.0, a.1), Ratio::new(b.0, b.1));
            if let Some(apart) = apart_in_64_bits(a, b) {
                prop_assert_eq!(apart, apart_in_128_bits(a, b));
            }
        }
    }

    #[test]
    fn halves_go_up() {
        // 1/1920 is one of the units, 1/3840 half of one.
        let at = |n, d| Length::Inch(Ratio::new(n, d));
        assert_eq!(difference(at(1, 1), at(3841, 3840)), Some(1));
        assert_eq!(difference(at(1, 1), at(7681, 7680)), Some(0));
        assert_eq!(difference(at(3, 1), at(7, 2)), Some(960));
        assert_eq!(difference(at(1, 1), at(i64::MAX, 1)), Some(FARTHEST));
    }
}
