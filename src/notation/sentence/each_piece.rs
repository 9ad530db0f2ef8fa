//! What is called for beside each of so many pieces: `each of the four 5/8 x 6 hex bolts`.

use super::{Call, Naming, Sentence, clause::Clauses};
use crate::doubt::Doubt;

/// `each of the four 5/8 x 6 hex bolts`: what is called for beside them is called for so many times.
pub(super) struct EachPiece {
    /// Where the number stands.
    pub at: usize,
    pub words: String,
    pub times: u32,
}

impl EachPiece {
    /// Multiplies what is called for beside them; not what is done next with as many: `a washer on each of the four bolts,
    /// and secure them with four nuts`.
    pub fn multiply(self, said: &mut Sentence, text: &str, clauses: &Clauses) {
        let times = u64::from(self.times);
        let is_next = |call: &Call| {
            let apart = clauses.between(self.at, call.at.start).is_some();
            let as_many = call.pieces() >= times && call.pieces().is_multiple_of(times);
            apart && as_many && !text[call.at.end..].contains(" each")
        };
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
                && !is_next(call)
                && let Some(quantity) = &mut call.callout.quantity
            {
                quantity.pieces = quantity.pieces.saturating_mul(times);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::notation::{Notation, sentence};

    #[test]
    fn what_is_done_next_is_not_on_each_piece() {
        #[track_caller]
        fn case(text: &str, expected: &[u64]) {
            let said = sentence(text, Notation::default());
            let pieces: Vec<u64> = said.calls.iter().map(|call| call.pieces()).collect();
            assert_eq!(pieces, expected, "{text}");
        }
        case(
            "Slide two washers on each of the four M8 x 60 bolts, push them in and secure them with four M8 nuts.",
            &[8, 4, 4],
        );
        case(
            "Slide two washers on each of the four M8 x 60 bolts, with one M8 nut.",
            &[8, 4, 4],
        );
    }
}
