//! Which items are taken for one another on the bench, and how badly.

use crate::{
    hardware::{Diameter, Item, Kind, Ratio, Style, Thread, Unit},
    names::names,
};

names! {
    /// Why two items are look-alikes.
    pub enum Likeness {
        /// The worst: the nut starts, and strips.
        Thread = "coarse and fine thread of one size",
        Unit = "inch and metric of nearly one diameter",
        Length = "lengths near one another",
        Nut = "nuts of one size",
        Washer = "washers of one size",
        Grade = "one size, another grade or finish",
        /// The weakest: seen at a second look.
        Diameter = "neighbouring diameters",
    }
}

/// Degrees of likeness: 0 the worst, then the usual, then the weakest.
pub const DEGREES: usize = 3;

impl Likeness {
    /// True for all but the weakest.
    pub fn is_close(self) -> bool {
        self != Likeness::Diameter
    }

    /// Smaller is worse; below [`DEGREES`].
    pub fn degree(self) -> usize {
        match self {
            Likeness::Thread => 0,
            _ if self.is_close() => 1,
            _ => 2,
        }
    }
}

/// What the eye goes by.
#[derive(Debug, Clone)]
pub struct Look {
    shape: Shape,
    diameter: Diameter,
    /// The diameter in nanometres.
    across: i128,
    thread: Option<Thread>,
    /// In nanometres; `None` where it has none, or does not state it.
    length: Option<i128>,
    style: Option<Style>,
}

/// Items of different shapes are told apart at a glance. A style that is not stated may be any.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shape {
    /// Bolts and screws, by their head.
    Headed(Option<Style>),
    /// Nuts with a plain hexagon about them.
    HexNut,
    /// Flat and lock washers.
    RoundWasher,
    Other(Kind, Option<Style>),
}

impl Shape {
    fn of(item: &Item) -> Option<Shape> {
        use Style::*;
        Some(match (item.kind, item.style) {
            (Some(Kind::Part), _) => return None,
            (None | Some(Kind::Bolt | Kind::Screw), style) => Shape::Headed(style),
            (
                Some(Kind::Nut),
                None
                | Some(
                    Hex | HeavyHex | NylonInsert | NylonInsertJam | AllMetalLock | Lock | Jam
                    | HeavyHexJam,
                ),
            ) => Shape::HexNut,
            (
                Some(Kind::Washer),
                None
                | Some(
                    Flat | Sae | Uss | ExtraThick | SplitLock | ToothLock | ExternalTooth
                    | InternalTooth,
                ),
            ) => Shape::RoundWasher,
            (Some(kind), style) => Shape::Other(kind, style),
        })
    }

    fn agrees(self, other: Shape) -> bool {
        match (self, other) {
            (Shape::Headed(a), Shape::Headed(b)) => a == b || a.is_none() || b.is_none(),
            _ => self == other,
        }
    }
}

/// 1/2 in.
const HALF_INCH: i128 = 12_700_000;

/// A size in whole nanometres, in which every 1/64 in is exact.
fn nanometres(size: Ratio, unit: Unit) -> i128 {
    let one = match unit {
        Unit::Inch => 25_400_000,
        Unit::Millimetre => 1_000_000,
    };
    i128::from(*size.numer()) * one / i128::from(*size.denom())
}

impl Look {
    /// `None` for what is no hardware, or has no diameter to go by.
    pub fn of(item: &Item) -> Option<Look> {
        let diameter = item.diameter?;
        Some(Look {
            shape: Shape::of(item)?,
            diameter,
            across: nanometres(diameter.value(), diameter.unit()),
            thread: item.effective_thread(),
            length: item.length.map(|l| nanometres(l.value(), l.unit())),
            style: item.style,
        })
    }

    /// Why two different items are look-alikes; `None` where they are told apart at a glance.
    pub fn likeness(&self, other: &Look) -> Option<Likeness> {
        if !self.shape.agrees(other.shape) {
            return None;
        }
        if self.diameter == other.diameter {
            return self.of_one_diameter(other);
        }
        let (thin, thick) = match self.across < other.across {
            true => (self, other),
            false => (other, self),
        };
        if thin.diameter.unit() != thick.diameter.unit() {
            // 1/2 and M12 differ by 5.8 %, 5/16 and M8 by 0.8 %; 7/16 and M12 by 8 %.
            let near = thick.across * 100 <= thin.across * 106;
            return near.then_some(Likeness::Unit);
        }
        // 1/2 and 5/8, M8 and M10: a quarter more.
        let near = thick.across * 4 <= thin.across * 5 && self.length_is_near(other);
        near.then_some(Likeness::Diameter)
    }

    fn of_one_diameter(&self, other: &Look) -> Option<Likeness> {
        let threads_differ = matches!((self.thread, other.thread), (Some(a), Some(b)) if a != b);
        if threads_differ {
            return Some(Likeness::Thread);
        }
        if !self.length_is_near(other) {
            return None;
        }
        Some(match self.shape {
            Shape::HexNut if self.style != other.style => Likeness::Nut,
            Shape::RoundWasher if self.style != other.style => Likeness::Washer,
            _ if self.length != other.length => Likeness::Length,
            _ => Likeness::Grade,
        })
    }

    /// Within the larger of 1/2 in and 10 % of the longer; a length that is not stated may be any.
    fn length_is_near(&self, other: &Look) -> bool {
        let (Some(a), Some(b)) = (self.length, other.length) else {
            return true;
        };
        let (short, long) = (a.min(b), a.max(b));
        let apart = long - short;
        apart <= HALF_INCH || apart * 10 <= long
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::{Notation, describe};

    fn look(text: &str) -> Look {
        let callouts = describe(text, Notation::default()).expect("reads");
        Look::of(&callouts[0].item).expect("has a look")
    }

    #[track_caller]
    fn case(a: &str, b: &str, expected: Option<Likeness>) {
        let (a, b) = (look(a), look(b));
        assert_eq!(a.likeness(&b), expected);
        assert_eq!(b.likeness(&a), expected);
    }

    /// The list of the trade's mistakes: common practice, no source.
    #[test]
    fn look_alikes() {
        use Likeness::*;
        case("1/2-13 x 3 hex bolt", "1/2-20 x 3 hex bolt", Some(Thread));
        case("1/2 hex nut", "1/2-20 hex nut", Some(Thread));
        case("5/16 x 2 hex bolt", "M8 x 50 hex bolt", Some(Unit));
        case("1/2 hex nut", "M12 hex nut", Some(Unit));
        case("7/16 hex nut", "M12 hex nut", None);
        case("5/8 x 5 hex bolt", "5/8 x 5-1/2 hex bolt", Some(Length));
        case("5/8 x 5 hex bolt", "5/8 x 6 hex bolt", None);
        case("5/8 x 9 hex bolt", "5/8 x 10 hex bolt", Some(Length));
        case("5/8 x 5 hex bolt", "5/8 x 5 carriage bolt", None);
        case("M8 x 20 hex bolt", "M8 x 30 hex bolt", Some(Length));
        case("M8 x 20 hex bolt", "M8 x 35 hex bolt", None);
        case("1/2 hex nut", "1/2 nylon insert lock nut", Some(Nut));
        case("1/2 hex nut", "1/2 wing nut", None);
        case("3/8 SAE flat washer", "3/8 USS flat washer", Some(Washer));
        case("3/8 USS flat washer", "3/8 split lock washer", Some(Washer));
        case("M8 flat washer", "M8 tooth washer", Some(Washer));
        case("M8 lock nut", "M8 all-metal lock nut", Some(Nut));
        case("3/8 USS flat washer", "3/8 fender washer", None);
        case(
            "1/2 x 3 hex bolt grade 5",
            "1/2 x 3 hex bolt grade 8",
            Some(Grade),
        );
        case("1/2 x 3 hex bolt", "5/8 x 3 hex bolt", Some(Diameter));
        case("1/2 x 3 hex bolt", "5/8 x 4 hex bolt", None);
        case("3/8 hex nut", "1/2 hex nut", None);
        case("1/2 hex nut", "1/2 USS flat washer", None);
    }
}
