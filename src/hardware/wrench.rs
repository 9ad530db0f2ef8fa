//! What turns a piece: the wrench or socket, or the hex key.

use std::fmt;

use super::{
    dimensions::{Measure, Standard},
    heads::{Head, head},
    item::Item,
    kind::Kind,
    nuts::nut,
    size::{Length, Ratio},
};
use crate::names::names;

names! {
    /// What a piece is turned with.
    pub enum Tool {
        /// A wrench or socket over the flats of a hexagon.
        Wrench = "wrench",
        /// A key in a hexagon socket.
        HexKey = "hex key",
    }
}

/// What turns a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Wrench {
    pub tool: Tool,
    /// Across flats, as the wrench is marked.
    pub size: Length,
    /// What a piece made to DIN takes instead, where that differs (M10 17 for 16): an unnamed metric
    /// bolt or nut may be either, so both are to be brought.
    pub din: Option<Length>,
}

impl fmt::Display for Wrench {
    /// The size: `15/16`, `19`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.size.fmt(f)
    }
}

/// The wrench, socket or key of a bolt, screw or nut; `None` where no table reaches or nothing
/// turns it (a carriage bolt is held by its square).
pub fn wrench(item: &Item) -> Option<Wrench> {
    let across = |standard| match item.kind? {
        Kind::Nut => nut(item, standard).map(|nut| (Tool::Wrench, nut.flats)),
        _ => match head(item, standard)? {
            Head::Hex { flats, .. } => Some((Tool::Wrench, flats)),
            Head::Socket { key, .. } | Head::Button { key, .. } => Some((Tool::HexKey, key)),
            Head::Flat { key, .. } => key.map(|key| (Tool::HexKey, key)),
            Head::Carriage { .. } | Head::Pan { .. } => None,
        },
    };
    let (tool, flats) = across(Standard::Iso)?;
    let size = marked(flats);
    let din = across(Standard::Din)
        .map(|(_, flats)| marked(flats))
        .filter(|din| *din != size);
    Some(Wrench { tool, size, din })
}

/// The nominal size of a wrench. Inch tables give four decimals, or maxima (0.627 for 5/8): the
/// wrench is marked with the nearest 64th.
fn marked(flats: Measure) -> Length {
    match flats.length() {
        Length::Inch(inches) => Length::Inch((inches * 64).round() / Ratio::from(64)),
        mm => mm,
    }
}
