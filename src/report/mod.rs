//! What a person sees: the workbook, JSON, the terminal.

pub mod json;
pub mod terminal;
pub mod workbook;

mod wording;

#[cfg(test)]
mod fixture;
