//! How likely a way to read a text is: points off for what is rare, does not fit, or is left over.
//!
//! The weights are ours, set on the corpus of `tests/corpus`; what they weigh is the design's: standard
//! series, usual proportions, and the joint, whose pieces share a diameter and whose counts go
//! together (common practice, no source).

use super::callout::Callout;
use crate::{
    doubt::Doubt,
    hardware::{Diameter, Item, Kind, Ratio, thread},
};

/// With less between the best reading and the next, both are told.
pub const NARROW: i32 = 25;

/// The score of the items of one reading, 0 at best. `plural` says of each whether its noun is in the
/// plural; `counted`, that the count stands in a cell of its own.
pub(super) fn score(callouts: &[Callout], plural: &[bool], counted: bool) -> i32 {
    if callouts.is_empty() {
        return -100;
    }
    let alone: i32 = callouts
        .iter()
        .enumerate()
        .map(|(i, callout)| {
            let plural = plural.get(i).copied().unwrap_or_default();
            size(&callout.item) + doubts(callout) + count(callout, plural, counted)
        })
        .sum();
    alone + joint(callouts)
}

fn doubts(callout: &Callout) -> i32 {
    callout
        .doubts
        .iter()
        .map(|doubt| match doubt {
            Doubt::TwoQuantities(..) => -60,
            Doubt::OddDiameter(_) | Doubt::LeftOver(_) | Doubt::NoSize => -30,
            Doubt::OddThread(..) => -25,
            Doubt::Swapped { .. } => -20,
            Doubt::OddLength(_) | Doubt::Readings(_) => -8,
            _ => 0,
        })
        .sum()
}

fn count(callout: &Callout, plural: bool, counted: bool) -> i32 {
    if callout.item.kind == Some(Kind::Part) {
        return if callout.quantity.is_none() { -10 } else { 0 };
    }
    match callout.quantity.map(|quantity| quantity.pieces) {
        Some(_) if counted => -40,
        // One piece would not be in the plural, and is seldom said to be one.
        Some(1) if plural => -40,
        Some(1) => -8,
        Some(_) if !plural => -3,
        None if !counted => -2,
        _ => 0,
    }
}

/// Sizes above an inch are rare in a kit, and so are bolts hardly longer than thick.
fn size(item: &Item) -> i32 {
    let Some(diameter) = item.diameter.filter(|_| item.kind != Some(Kind::Part)) else {
        return 0;
    };
    let ratio = Ratio::from_integer;
    let mut points = 0;
    let threaded = !matches!(
        item.kind,
        Some(Kind::Washer | Kind::Pin | Kind::Rivet) | None
    );
    if threaded && !thread::is_threaded_size(diameter) {
        points -= 20;
    }
    match diameter {
        Diameter::Inch(d) if d > Ratio::new(3, 2) => points -= 14,
        Diameter::Inch(d) if d > ratio(1) => {
            let odd = *d.denom() == 8;
            points -= if odd { 9 } else { 3 };
        }
        // Bolts and nuts by number are rare; screws are not.
        Diameter::Number(_) if item.kind == Some(Kind::Bolt) => points -= 10,
        _ => {}
    }
    if let Some(length) = item.length
        && length.unit() == diameter.unit()
    {
        let (d, l) = (diameter.value(), length.value());
        points -= match () {
            () if l <= d => 15,
            () if l * 2 < d * 3 => 8,
            () if l > d * 40 => 6,
            () => 0,
        };
    }
    let long = matches!(item.kind, Some(Kind::Bolt | Kind::Screw | Kind::Rod));
    if long && item.length.is_none() {
        points -= 12;
    }
    points
}

/// The pieces of one joint share a diameter; nuts and washers go with the bolts' number.
fn joint(callouts: &[Callout]) -> i32 {
    let joins = |item: &Item| {
        matches!(
            item.kind,
            Some(Kind::Bolt | Kind::Screw | Kind::Nut | Kind::Washer | Kind::Rod | Kind::Anchor)
        )
    };
    let mut sizes: Vec<Diameter> = callouts
        .iter()
        .filter(|callout| joins(&callout.item))
        .filter_map(|callout| callout.item.diameter)
        .collect();
    sizes.sort();
    sizes.dedup();
    let pieces = |kinds: &[Kind]| -> Option<u64> {
        callouts
            .iter()
            .filter(|callout| callout.item.kind.is_some_and(|kind| kinds.contains(&kind)))
            .map(|callout| callout.quantity.map(|quantity| quantity.pieces))
            .sum()
    };
    let bolts = pieces(&[Kind::Bolt, Kind::Screw, Kind::Rod, Kind::Anchor]).filter(|&n| n > 0);
    let unsound = |others: Option<u64>| match (bolts, others) {
        (Some(bolts), Some(others)) if others > 0 => others != bolts && others != 2 * bolts,
        _ => false,
    };
    let unsound =
        i32::from(unsound(pieces(&[Kind::Nut]))) + i32::from(unsound(pieces(&[Kind::Washer])));
    let extra = i32::try_from(sizes.len().saturating_sub(1)).unwrap_or(i32::MAX);
    -30i32.saturating_mul(extra) - 5 * unsound
}
