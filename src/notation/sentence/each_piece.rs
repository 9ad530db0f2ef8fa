//! What is called for beside each of so many pieces: `each of the four 5/8 x 6 hex bolts`.

use super::{Naming, Sentence};
use crate::doubt::Doubt;

/// `each of the four 5/8 x 6 hex bolts`: what is called for beside them is called for so many times.
pub(super) struct EachPiece {
    /// Where the number stands.
    pub at: usize,
    pub words: String,
    pub times: u32,
}

impl EachPiece {
    pub fn multiply(self, said: &mut Sentence) {
        if !said.calls.iter().any(|call| call.at.contains(&self.at)) {
            said.doubts.push(Doubt::Multiplier(self.words.into()));
            return;
        }
        for call in &mut said.calls {
            if call.naming == Naming::Known && call.is_whole() && call.at.contains(&self.at) {
                call.naming = Naming::Driven;
            }
            if call.naming == Naming::New
                && !call.at.contains(&self.at)
                && let Some(quantity) = &mut call.callout.quantity
            {
                quantity.pieces = quantity.pieces.saturating_mul(u64::from(self.times));
            }
        }
    }
}
