//! Things in a row, each of which takes what the sentence gives to each: `the left and the right wall`.

use super::{
    multiplier::Multiplier,
    vocabulary::{CLAUSES, JOINING, PLACING},
    wording::{names_hardware, number, singular},
};

/// The places of a bare `each`: in a row right behind it, or else behind the verb that opens the sentence.
pub(super) fn each_in_a_row(text: &str, each: usize) -> Option<Multiplier> {
    let word = text[each..].split(|c: char| !c.is_alphabetic()).next()?;
    let behind = text[each + word.len()..].trim_start();
    let first = behind.split(' ').next().unwrap_or_default();
    let row = match PLACING.contains(&first) {
        true => behind.split(['.', ';', ':']).next()?,
        false => {
            let joins = JOINING.iter().any(|verb| text.starts_with(verb));
            let end = text.find(" with ").filter(|_| !joins)?;
            let row = text[..end].split_once(' ')?.1;
            row.strip_suffix(" each").unwrap_or(row)
        }
    };
    Some(Multiplier {
        at: row.as_ptr() as usize - text.as_ptr() as usize,
        words: row.trim().to_owned(),
        noun: String::new(),
        times: Some(in_a_row(row)?),
        open: false,
        taken: None,
    })
}

/// How many things a row names, each once: `at the cap, the rail and the foot` is 3.
pub(super) fn in_a_row(row: &str) -> Option<u32> {
    let marks = |part: &str| part.find(" (").unwrap_or(part.len());
    let parts: Vec<&str> = row
        .split(", ")
        .flat_map(|part| part.split(" and "))
        .map(|part| part.trim().trim_start_matches("and "))
        .map(|part| &part[..marks(part)])
        .collect();
    let [front @ .., last] = &*parts else {
        return None;
    };
    // `the left and right rails`
    let sides = front.iter().all(|part| words(part).count() == 1);
    let is_one = |part: &&str| {
        let mut all = words(part).peekable();
        let plain = |word: &str| {
            word.bytes().all(|b| b.is_ascii_lowercase() || b == b'-') && !word.is_empty()
        };
        let known = [PLACING, CLAUSES];
        let mut noun = "";
        all.peek().is_some()
            && all.all(|word| {
                noun = word;
                plain(word)
                    && number(word).is_none()
                    && !known.iter().any(|known| known.contains(&word))
            })
            && !names_hardware(noun)
            && words(part).count() < 4
            && (singular(noun) == noun || (sides && part == last))
    };
    (row.contains(" and ") && parts.len() > 1 && parts.iter().all(is_one))
        .then_some(u32::try_from(parts.len()).ok()?)
}

/// The words of one of them, without what places it.
fn words(part: &str) -> impl Iterator<Item = &str> {
    let lead = |word: &&str| PLACING.contains(word) || ["the", "a", "an", "one"].contains(word);
    part.split_whitespace().skip_while(lead)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn things_in_a_row() {
        #[track_caller]
        fn case(row: &str, expected: Option<u32>) {
            assert_eq!(in_a_row(row), expected, "{row}");
        }
        case("the back wall (C) and the front wall (D)", Some(2));
        case("the left and the right wall", Some(2));
        case("at the top, middle and bottom", Some(3));
        case("in cap and foot", Some(2));
        case("at the head and at the foot", Some(2));
        case("to the left and right rails", Some(2));
        case("at the left, right and centre posts", Some(3));
        case(
            "at the left post, the right post and the centre post",
            Some(3),
        );
        case("the sill, the header and the post", Some(3));
        case("the posts and the rail", None);
        case("the rail to the left and the right wall", None);
        case("the rail", None);
        case("the bolts and the nuts", None);
    }
}
