//! The one thing that a sentence works on, which has two ends and two sides.

use super::{
    vocabulary::{CLAUSES, PLACING},
    wording::singular,
};

/// The one thing that a sentence works on: `rail` of `Secure the cross rail with two screws at each end`.
pub(super) fn one_object(text: &str) -> Option<&str> {
    let mut words = text.split(' ').skip(1);
    let article = words.next()?;
    let thing = words
        .take(4)
        .take_while(|word| !["with", "by", "using", "to"].contains(word));
    let mut thing: Vec<&str> = thing.collect();
    let noun = thing.pop()?;
    let plain = |word: &str| word.bytes().all(|b| b.is_ascii_lowercase() || b == b'-');
    let is_one = ["the", "this", "a"].contains(&article) && thing.len() < 3;
    (is_one && thing.iter().all(|word| plain(word)) && plain(noun) && singular(noun) == noun)
        .then_some(noun)
}

/// `of the tread`, `of every slat`: of one thing, which has two ends and sides.
pub(super) fn of_one_thing(text: &str) -> bool {
    let Some(rest) = text.strip_prefix(" of ") else {
        return false;
    };
    // `of each of the nine boards`
    if rest.starts_with("each of ") || rest.starts_with("every one of ") {
        return true;
    }
    let mut words = rest.split_inclusive(' ');
    let first = words.next().unwrap_or_default().trim_end();
    if first.trim_end_matches(['.', ',', ';']) == "it" {
        return true;
    }
    let mut noun = "";
    for word in words.take(3) {
        let plain = word.trim_end();
        let letters = plain.trim_end_matches([',', '.', ';', ':', ')']);
        if PLACING.contains(&letters) || CLAUSES.contains(&letters) {
            break;
        }
        noun = letters;
        if plain.len() > letters.len() {
            break;
        }
    }
    ["the", "each", "every", "this", "its", "a"].contains(&first)
        && !noun.is_empty()
        && singular(noun) == noun
}
