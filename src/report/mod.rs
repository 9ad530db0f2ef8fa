//! What a person sees: the workbook, JSON, the terminal.

pub mod claim;
pub mod item;
pub mod json;
pub mod terminal;
pub mod workbook;

mod file;
mod wording;

#[cfg(test)]
mod fixture;
