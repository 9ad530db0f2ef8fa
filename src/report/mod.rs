//! What a person sees: the workbook, the page, JSON, the terminal.

pub mod claim;
pub mod html;
pub mod item;
pub mod json;
pub mod packing;
pub mod terminal;
pub mod workbook;

mod bin_map;
pub(crate) mod file;
mod masses;
mod outline;
mod raster;
mod tools;
mod why;
pub(crate) mod wording;
pub(crate) mod wrap;

#[cfg(test)]
mod fixture;
