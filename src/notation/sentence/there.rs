//! Hardware that is there already, and what a sentence calls for beside it.

use super::{Call, Naming, Sentence, wording::ends_with_word};
use crate::doubt::Doubt;

/// `a washer at all four bolts`: one for each; whether `two washers at all four bolts` are, is not said.
pub(super) fn pieces_for_known(said: &mut Sentence, text: &str) {
    let there = said
        .calls
        .iter()
        .find(|call| call.naming == Naming::Known && call.pieces() > 1);
    let Some(there) = there else { return };
    let (n, words) = (there.pieces(), &text[there.at.clone()]);
    // Not `the first of the four bolts`.
    let lead = text[..there.at.start].trim_end();
    let lead = ["the", "these", "those"]
        .iter()
        .find_map(|the| lead.strip_suffix(the))
        .unwrap_or(lead)
        .trim_end();
    let of = lead.strip_suffix(" of").unwrap_or_default();
    let each = ["each", "all", "every one"]
        .iter()
        .any(|each| ends_with_word(of, each));
    let all = each || !lead.ends_with(" of");
    let on_bolts = there.is_long() && all && are_small(&said.calls);
    let new = || said.calls.iter().filter(|call| call.naming == Naming::New);
    if on_bolts && new().all(|call| call.pieces() == 1) {
        for call in &mut said.calls {
            if call.naming == Naming::New
                && let Some(quantity) = &mut call.callout.quantity
            {
                quantity.pieces = n;
            }
        }
        said.on_bolts = true;
    } else if new().any(|call| !call.pieces().is_multiple_of(n)) {
        said.doubts.push(Doubt::HowMany(
            format!("\"{words}\": the pieces may be for each of them or in all; taken as in all")
                .into(),
        ));
    }
}

/// True where all that a sentence calls for goes on bolts.
pub(super) fn are_small(calls: &[Call]) -> bool {
    let mut new = calls.iter().filter(|call| call.naming == Naming::New);
    new.clone().next().is_some() && new.all(Call::is_small)
}
