//! Where the pieces are laid out.

use serde::Serialize;

/// A tray: a box of equal bins.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Tray {
    pub rows: u32,
    pub columns: u32,
}

/// One bin of the layout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bin {
    /// From 1.
    pub tray: u32,
    /// From 1, from the top.
    pub row: u32,
    /// From 1, from the left.
    pub column: u32,
    /// Index into [`crate::settle::Account::stages`]: the first stage that uses the item.
    pub stage: usize,
    /// Index into [`crate::settle::Account::items`].
    pub item: usize,
    /// Pieces that are laid out in it.
    pub pieces: u64,
}

/// All the bins, in order of tray, row and column.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Layout {
    pub tray: Option<Tray>,
    pub trays: u32,
    pub bins: Vec<Bin>,
}

/// Lays the required items out, one bin an item, in stage order.
pub fn lay_out(_tray: &Tray, _account: &crate::settle::Account) -> Layout {
    todo!()
}
