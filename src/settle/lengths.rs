//! How a piece of another length would do: how far it lies apart, and whether its thread reaches.

use crate::hardware::{Item, Length, Ratio, thread_length};

/// Lengths farther apart than this are all equally far apart: 100 m, and 1920 of the cost's units are
/// one of theirs.
const FARTHEST: i64 = 100_000 * 1920;

/// How far two lengths lie apart, in 1/1920 of their unit: whole for inch fractions down to 1/128 and
/// for hundredths and twentieths of a millimetre, near enough to rank the rest. `None` across units.
pub fn difference(a: Length, b: Length) -> Option<i64> {
    if a.unit() != b.unit() {
        return None;
    }
    let (a, b) = (a.value(), b.value());
    let wide = |of: Ratio| (i128::from(*of.numer()), i128::from(*of.denom()));
    let ((a, below_a), (b, below_b)) = (wide(a), wide(b));
    let (apart, below) = ((a * below_b - b * below_a).abs() * 1920, below_a * below_b);
    // To the nearest, and halves up.
    let apart = (2 * apart + below) / (2 * below);
    Some(i64::try_from(apart).map_or(FARTHEST, |apart| apart.min(FARTHEST)))
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
    length.unit() == grip.unit()
        && diameter.unit() == grip.unit()
        && length.value() - threaded.value() <= grip.value()
        && length.value() >= grip.value() + diameter.value()
}
