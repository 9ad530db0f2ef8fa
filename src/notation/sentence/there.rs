//! Hardware that is there already, and what a sentence calls for beside it.

use super::{Call, Naming, Sentence, wording::ends_with_word};
use crate::doubt::Doubt;

/// `a washer and an M8 nut to all bolts`: one piece is not of all of them, and how many there are is not said.
fn of_all_bolts(said: &mut Sentence, text: &str) {
    let is_all = |call: &&Call| {
        let lead = text[..call.at.start].trim_end();
        let lead = lead.strip_suffix(" the").unwrap_or(lead);
        let there = matches!(call.naming, Naming::Known | Naming::Put) && call.is_long();
        there && call.pieces() == 0 && (ends_with_word(lead, "all") || ends_with_word(lead, "both"))
    };
    let Some(bolts) = said.calls.iter().find(is_all) else {
        return;
    };
    let words = format!("all {}", text[bolts.at.clone()].trim());
    let doubt = format!("\"{words}\": how many they are is not said; taken as in all");
    let new = |call: &&mut Call| call.is_asked_for() && call.is_small() && !call.on_each;
    for call in said.calls.iter_mut().filter(new) {
        let doubt = Doubt::HowMany(doubt.as_str().into());
        call.callout.doubts.push(doubt);
    }
}

/// `a washer at all four bolts`: one for each; whether `two washers at all four bolts` are, is not said.
pub(super) fn pieces_for_known(said: &mut Sentence, text: &str) {
    let there = said
        .calls
        .iter()
        .find(|call| call.naming == Naming::Known && call.pieces() > 1);
    let Some(there) = there else {
        return of_all_bolts(said, text);
    };
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

#[cfg(test)]
mod tests {
    use crate::notation::{Notation, sentence};

    #[test]
    fn pieces_on_all_bolts_that_are_not_counted_are_asked_about() {
        let text = "Fit a washer and an M8 nut to all bolts.";
        let said = sentence(text, Notation::default());
        for call in said.calls.iter().filter(|call| call.is_asked_for()) {
            let doubts = call.callout.doubts.iter().map(ToString::to_string);
            let doubts: Vec<String> = doubts.collect();
            let told = "\"all bolts\": how many they are is not said; taken as in all";
            assert!(doubts.iter().any(|doubt| doubt == told), "{doubts:?}");
        }
    }
}
