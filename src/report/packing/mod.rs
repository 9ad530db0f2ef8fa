//! Kits packed from stock: on the terminal, as JSON, as a workbook, and a packing slip for each kit.

mod json;
pub mod packs;
pub mod slip;
mod slips;
mod text;

use std::path::Path;

pub use json::json;
pub use slips::{slips, write_slips};
pub use text::text;

use super::{file, workbook};
use crate::Result;
use packs::Packs;

/// Writes the workbook: the answer, the pull sheet, what to order.
///
/// # Errors
/// [`crate::Error::Output`] for a path that cannot be written, or that exists without `force`.
pub fn write(path: &Path, force: bool, packs: &Packs) -> Result<()> {
    file::replace(path, force, |out| workbook::write_packing(packs, out))
}
