//! Items whose noun another item says: `two M8 x 40 and three M8 x 60 bolts`.

use super::{
    call::{Call, Naming, is_sized},
    phrase::{counts, is_unit, joins_sizes},
    vocabulary::{IS_THERE, PLACING},
    wording::number,
};
use crate::{
    doubt::Doubt,
    hardware::Item,
    notation::{
        callout::{Callout, Quantity, Role},
        number::{Prefix, Shape},
        reader::Reader,
        token::Tok,
        unsettled::likeliest_of,
        words::Sense,
    },
};

/// Where places begin that multiply, and where each `each` stands that names none.
#[derive(Clone, Copy)]
pub(super) struct Places<'a> {
    pub multiplied: &'a [usize],
    pub eaches: &'a [usize],
}

/// Adds the items that are counted and sized, and named by the noun of the bolts behind them or before them; and those
/// that are counted alone, at places of their own.
pub(super) fn elided(
    reader: &mut Reader<'_>,
    text: &str,
    calls: &mut Vec<Call>,
    places: Places<'_>,
) {
    if calls.is_empty() {
        return;
    }
    more_at_places(reader, text, calls, places);
    for i in (0..reader.tokens.len()).rev() {
        let Some(end) = sized(reader, i) else {
            continue;
        };
        let at = reader.tokens[i].start..reader.tokens[end - 1].end;
        let joined = |call: &&Call| {
            let between = reader.text.get(at.end..call.at.start).unwrap_or("?");
            ["and", ",", ", and", "&"].contains(&between.trim())
        };
        let behind = calls
            .iter()
            .filter(|call| call.is_long() || call.is_small())
            .find(joined);
        let before = || {
            calls
                .iter()
                .rfind(|call| call.is_long() && call.at.end <= at.start)
        };
        let Some(lender) = behind.or_else(before).map(|call| call.callout.item.clone()) else {
            continue;
        };
        let Ok([callout]) = <[Callout; 1]>::try_from(likeliest_of(reader.excerpt(i..end))) else {
            continue;
        };
        let callout = named_by(callout, &lender);
        if callout.quantity.is_none() || !is_sized(&callout) {
            continue;
        }
        reader.mark(i..end, Role::Note);
        let place = calls.partition_point(|call| call.at.start < at.start);
        calls.insert(place, Call::new(callout, Naming::New, at));
    }
}

/// `six bolts for each of the two rails and four for each of the two posts`, `each leg with two bolts and the seat with
/// six`: more of the one item, at places of their own where places multiply.
fn more_at_places(reader: &mut Reader<'_>, text: &str, calls: &mut Vec<Call>, places: Places<'_>) {
    let [call] = &**calls else { return };
    let Places { multiplied, eaches } = places;
    if (multiplied.is_empty() && eaches.is_empty()) || !call.is_asked_for() || call.pieces() == 0 {
        return;
    }
    let word = |at: usize| {
        let token = reader.tokens.get(at);
        token.map_or("", |token| &reader.text[token.start..token.end])
    };
    let begins = |at: usize| {
        reader
            .tokens
            .get(at)
            .is_some_and(|token| multiplied.contains(&token.start))
    };
    let links = |at: usize| reader.says(at, Sense::And) || [",", ";", "plus"].contains(&word(at));
    let ends = |at: usize| [".", ",", ";", ")", ""].contains(&word(at));
    let is_more = |i: &usize| {
        let token = &reader.tokens[*i];
        if token.role.is_some() || token.start < call.at.end || !counts(reader, *i) {
            return false;
        }
        let own = |at: &usize| (call.at.end..token.start).contains(at);
        let numbered = multiplied.iter().any(own);
        let linked = reader.says(i - 1, Sense::And)
            || word(i - 1) == "plus"
            || text[token.end..].starts_with(" more ")
            || (numbered && word(i - 1) == "then");
        // `and two in the middle`
        let in_all = ["all", "total"].contains(&word(i + 2));
        let placed = PLACING.contains(&word(i + 1)) && (begins(i + 2) || numbered);
        // `and the seat with six`, `and the rear posts one`
        let of_thing = || {
            let link = (0..*i).rev().find(|&at| links(at) && !begins(at))?;
            let from = reader.tokens[link].start;
            let named = multiplied.iter().any(|at| (from..token.start).contains(at));
            let the = link + 2 < *i && ["the", "both", "each"].contains(&word(link + 1));
            Some(from >= call.at.end && (named || the))
        };
        let each = word(i + 1) == "each" && (ends(i + 2) || reader.says(i + 2, Sense::And));
        let last = ends(i + 1) || each;
        (linked && placed && !in_all) || (last && of_thing().unwrap_or_default())
    };
    // `two bolts at each end, one at the top and one at the bottom`: shares of them.
    let is_share = |i: &usize| {
        let token = &reader.tokens[*i];
        let free = token.role.is_none() && token.start >= call.at.end;
        free && counts(reader, *i) && PLACING.contains(&word(i + 1))
    };
    let own = (1..reader.tokens.len()).filter(|i| is_share(i) || is_more(i));
    let more: Vec<usize> = own.take_while(is_more).collect();
    let call = call.clone();
    for i in more {
        let at = reader.tokens[i].start..reader.tokens[i].end;
        let Some(pieces) = number(&reader.text[at.clone()]).map(u64::from) else {
            continue;
        };
        let mut callout = call.callout.clone();
        callout.quantity = Some(Quantity {
            pieces,
            packs: None,
        });
        reader.mark(i..i + 1, Role::Count);
        calls.push(Call::new(callout, call.naming, at));
    }
}

/// An item of its own count and size that is otherwise as another.
fn named_by(mut callout: Callout, lender: &Item) -> Callout {
    let Item {
        diameter,
        thread,
        length,
        ..
    } = callout.item;
    callout.item = Item {
        diameter,
        thread,
        length,
        ..lender.clone()
    };
    callout.doubts.retain(|doubt| *doubt != Doubt::NoKind);
    callout
}

/// Where the size ends whose count stands at a token, with nothing behind it that it may be said of.
fn sized(reader: &Reader<'_>, i: usize) -> Option<usize> {
    let (_, shape, prefix) = reader.number(i + 1)?;
    if reader.tokens[i].role.is_some() || !counts(reader, i) {
        return None;
    }
    // `six M8 and six M10 washers`
    if prefix == Prefix::Metric && reader.says(i + 2, Sense::And) {
        return Some(i + 2);
    }
    let joins = matches!(reader.tok(i + 2), Some(Tok::Join)) || joins_sizes(reader, i + 2);
    let fraction = matches!(shape, Shape::Fraction | Shape::Mixed);
    if !(joins && (prefix != Prefix::None || fraction) && reader.number(i + 3).is_some()) {
        return None;
    }
    let word = |at: usize| {
        let token = reader.tokens.get(at);
        token.map_or("", |token| &reader.text[token.start..token.end])
    };
    let end = i + 4 + usize::from(is_unit(reader, i + 4));
    let ends = match reader.tok(end) {
        None | Some(Tok::Comma | Tok::Semicolon | Tok::Dot | Tok::Close | Tok::Ampersand) => true,
        _ => {
            reader.says(end, Sense::And)
                || reader.says(end, Sense::With)
                || PLACING.contains(&word(end))
        }
    };
    let there = i > 0
        && IS_THERE
            .iter()
            .any(|the| word(i - 1).eq_ignore_ascii_case(the));
    (ends && !there).then_some(end)
}

#[cfg(test)]
mod tests {
    use crate::notation::{Notation, sentence};

    #[test]
    fn items_named_by_the_noun_of_another() {
        #[track_caller]
        fn case(text: &str, expected: &[&str]) {
            let said = sentence(text, Notation::default());
            let calls = said.calls.iter();
            let found: Vec<String> = calls
                .map(|call| format!("{} {}", call.pieces(), call.callout.item.text()))
                .collect();
            assert_eq!(found, expected, "{text}");
            assert!(said.left_over.is_empty(), "{text}");
        }
        case(
            "Fit two M8 x 40 and three M8 x 60 bolts with five M8 nuts.",
            &["2 M8 x 40 bolt", "3 M8 x 60 bolt", "5 M8 hex nut"],
        );
        case(
            "Fit two M8 x 40 bolts in the lower holes and two M8 x 60 in the upper.",
            &["2 M8 x 40 bolt", "2 M8 x 60 bolt"],
        );
        case(
            "Fit four 3/8 x 2, two 3/8 x 3 and two 3/8 x 4 in carriage bolts.",
            &[
                "4 3/8 x 2 carriage bolt",
                "2 3/8 x 3 carriage bolt",
                "2 3/8 x 4 carriage bolt",
            ],
        );
    }
}
