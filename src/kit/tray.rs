//! The trays that the pieces are laid out in.

use serde::Serialize;

use crate::names::names;

/// A tray: a box of equal bins, and what one holds, where that is known.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Tray {
    pub rows: u32,
    pub columns: u32,
    /// Millilitres that one bin holds to the brim.
    pub bin_volume_ml: Option<u32>,
    /// Longest inside measure of one bin.
    pub bin_length_mm: Option<u32>,
    /// Most that the tray may bear.
    pub weight_limit_kg: Option<u32>,
    /// How many there are of them; as many as it takes where that is not said.
    pub count: Option<u32>,
}

names! {
    /// What gets a bin of its own.
    pub enum BinPer {
        /// An item, whatever stages use it.
        Item = "item",
        /// What a stage uses of an item.
        Stage = "stage",
    }
}

impl Tray {
    /// A tray of which no more is known than how many bins it has.
    pub const fn of(rows: u32, columns: u32) -> Tray {
        Tray {
            rows,
            columns,
            bin_volume_ml: None,
            bin_length_mm: None,
            weight_limit_kg: None,
            count: None,
        }
    }
}
