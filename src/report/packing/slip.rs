//! One kit's packing slip.

use crate::settle::packing::Content;

/// One kit's packing slip.
pub struct Slip<'a> {
    pub job: &'a str,
    pub kit: u64,
    pub of: u64,
    pub contents: &'a [Content],
}

impl Slip<'_> {
    pub fn pieces(&self) -> u64 {
        self.contents.iter().map(|content| content.pieces).sum()
    }
}
