//! What a piece weighs, as a list states it.

use crate::weigh::{Scale, WeightUnit};

/// What a list's weight is of, as its heading says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MassOf {
    /// One piece: `Weight each`, `Unit wt`, or beside a column of totals.
    Piece,
    /// All pieces of the row: `Total weight`.
    Row,
    /// `Weight` and no more: of one piece or of the row.
    Unstated,
}

/// A weight that stands in a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StatedMass {
    pub milligrams: u64,
    pub of: MassOf,
}

/// What a piece of a row's item weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RowMass {
    /// Index into [`List::sheets`](super::List::sheets).
    pub sheet: u16,
    pub row: u32,
    pub mass: StatedMass,
}

/// Nothing in a kit weighs more: a thousand tonnes.
const MOST_GRAMS: f64 = 1e9;

impl StatedMass {
    /// Reads a cell under a heading of a unit. `None` where it is no weight above zero, or where neither
    /// states a unit, or where both do and they differ: never a guess.
    pub fn read(text: &str, unit: Option<&str>, of: MassOf) -> Option<StatedMass> {
        let unit = unit.filter(|unit| WeightUnit::read(unit).is_ok());
        if unit.is_none() && !text.contains(char::is_alphabetic) {
            return None;
        }
        let resolution = None;
        let weights = Scale { unit, resolution }.read(&[text]).ok()?;
        let grams = weights.first()?.grams;
        (grams > 0.0 && grams <= MOST_GRAMS).then(|| StatedMass {
            milligrams: (grams * 1000.0).round() as u64,
            of,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, unit: Option<&str>, milligrams: Option<u64>) {
        let read = StatedMass::read(text, unit, MassOf::Piece);
        assert_eq!(read.map(|mass| mass.milligrams), milligrams, "{text}");
    }

    #[test]
    fn a_weight_has_a_unit() {
        case("12.5", Some("kg"), Some(12_500_000));
        case("12,5", Some("kg"), Some(12_500_000));
        case("12.5 kg", None, Some(12_500_000));
        case("12.5 kg", Some("kg"), Some(12_500_000));
        // 2 x 453.59237 g, and a sixteenth of one.
        case("2", Some("lbs"), Some(907_185));
        case("1 oz", None, Some(28_350));
        case("12.5", None, None);
        case("12.5 lb", Some("kg"), None);
        case("1,250", Some("kg"), None);
        case("0", Some("kg"), None);
        case("-3", Some("kg"), None);
        case("n/a", Some("kg"), None);
        case("", Some("kg"), None);
    }
}
