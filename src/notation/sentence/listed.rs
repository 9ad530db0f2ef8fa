//! Things in a row, each of which takes what the sentence gives to each: `the left and the right wall`.

use super::{
    Call,
    multiplier::Multiplier,
    things::Things,
    vocabulary::{CLAUSES, JOINING, PLACING},
    wording::{ends_with_word, names_hardware, number, singular},
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
        ..Multiplier::default()
    })
}

/// `both arms and the back`, `each of the four posts and each of the two rails`: what stands in a row with a number of
/// places is one place more, or as many as are stated.
pub(super) fn add_rows(
    all: &mut Vec<Multiplier>,
    things: &mut Vec<Things>,
    calls: &[Call],
    text: &str,
) {
    all.sort_by_key(|m| m.at);
    let mut i = 0;
    while i < all.len() {
        let end = all[i].at + all[i].words.len();
        let next = all
            .get(i + 1)
            .and_then(|next| Some((next.at, next.times?, next.words.len())));
        let is_item = |at: usize| calls.iter().any(|call| call.at.contains(&at));
        let more = match (all[i].times, next) {
            (None, _) => None,
            (_, Some((at, times, len))) if links(text.get(end..at)) => {
                all.remove(i + 1);
                Some((at + len, Some(times)))
            }
            (_, next) => behind_in_row(text, all[i].at, end)
                .filter(|(at, _)| !is_item(*at) && next.is_none_or(|(next, ..)| *at <= next)),
        };
        if let Some((to, times)) = more {
            things.retain(|one| !(end..to).contains(&one.at));
            let row = &mut all[i];
            row.words = text[row.at..to].to_owned();
            match times {
                Some(more) => row.times = row.times.map(|n| n.saturating_add(more)),
                None => {
                    let words = &row.words;
                    row.taken = Some(format!("\"{words}\": how many that is in all is not said"));
                }
            }
            continue;
        }
        if let Some((from, ends)) = of_two_in_row(text, all[i].at)
            && let Some(words) = text.get(from..end)
        {
            let row = &mut all[i];
            row.words = words.to_owned();
            row.at = from;
            row.times = row.times.map(|n| n.saturating_mul(ends));
        }
        if all[i].times.is_some()
            && let Some(from) = in_front_in_row(text, all[i].at).filter(|from| !is_item(*from))
            && let Some(words) = text.get(from..end)
        {
            let row = &mut all[i];
            row.words = words.to_owned();
            row.at = from;
            row.times = row.times.map(|n| n.saturating_add(1));
        }
        i += 1;
    }
}

/// True for what stands between two things in a row: `and`, `and to`.
fn links(between: Option<&str>) -> bool {
    let mut words = between.unwrap_or(".").split_whitespace();
    words.next() == Some("and") && words.all(|word| PLACING.contains(&word))
}

/// `the top and the bottom of `: where it begins, and how many there are of each.
fn of_two_in_row(text: &str, at: usize) -> Option<(usize, u32)> {
    let row = text[..at].trim_end().strip_suffix(" of")?;
    let mut words = row.rsplit(' ');
    let (second, the, and) = (words.next()?, words.next()?, words.next()?);
    let (first, front) = (words.next()?, words.next()?);
    let plain = |noun: &str| singular(noun) == noun && !names_hardware(noun);
    let is_row = and == "and" && the == "the" && front.eq_ignore_ascii_case("the");
    (is_row && plain(first) && plain(second))
        .then(|| (front.as_ptr() as usize - text.as_ptr() as usize, 2))
}

/// Words for a way that goes on.
const PASSING: &[&str] = &["through", "over", "under", "along"];

/// Where the next thing of a row ends, and how many it is, where that is said: ` and the back`, ` and two back legs`,
/// ` and the posts`.
fn behind_in_row(text: &str, at: usize, end: usize) -> Option<(usize, Option<u32>)> {
    let behind = text.get(end..)?;
    // `both ends of the beam and at the post`
    let of = behind.find(" and ").filter(|and| {
        let of = behind[..*and].strip_prefix(" of the ");
        of.is_some_and(|of| of.bytes().all(|b| b.is_ascii_lowercase()))
    });
    let rest = behind[of.unwrap_or_default()..].strip_prefix(" and ")?;
    let mut words = rest.split(' ').peekable();
    let placed = words.next_if(|word| PLACING.contains(word));
    if of.is_some() && placed.is_none() {
        return None;
    }
    // `through each of the battens and into the wall` is one way.
    let lead = text[..at].trim_end();
    let passes = PASSING.iter().find(|word| ends_with_word(lead, word));
    if placed.is_some() && passes.is_some() && placed != passes.copied() {
        return None;
    }
    let the = words.next_if(|word| ["the", "a", "an", "its", "their"].contains(word));
    let count = words.peek().and_then(|word| number(word));
    words.next_if(|_| count.is_some());
    if the.is_none() && count.is_none() {
        return None;
    }
    let mut noun = "";
    for word in words.take(4) {
        let plain = word.trim_end_matches([',', '.', ';', ')']);
        if PLACING.contains(&plain) || CLAUSES.contains(&plain) || ["each", "both"].contains(&plain)
        {
            break;
        }
        if plain.is_empty() || !plain.bytes().all(|b| b.is_ascii_lowercase() || b == b'-') {
            return None;
        }
        if names_hardware(plain) {
            return None;
        }
        noun = plain;
        if plain.len() < word.len() || count.is_some() && singular(plain) != plain {
            break;
        }
    }
    let one = singular(noun) == noun;
    // `and the others loosely`, `and two into the bar`
    let is_thing =
        noun.len() > 2 && !noun.ends_with("ly") && !(one && count.is_some_and(|n| n > 1));
    is_thing.then(|| {
        let to = noun.as_ptr() as usize - text.as_ptr() as usize + noun.len();
        (to, if one { Some(1) } else { count })
    })
}

/// Where the thing of a row begins that stands in front: `in the middle and at `, `the back and `.
fn in_front_in_row(text: &str, at: usize) -> Option<usize> {
    let lead = text[..at].trim_end();
    let (before, last) = lead.rsplit_once(' ')?;
    let lead = if PLACING.contains(&last) {
        before
    } else {
        lead
    };
    let row = lead.strip_suffix(" and")?;
    let (mut from, mut words) = (row.len(), 0);
    // Its noun, and what places it.
    for word in row.rsplit(' ').take(4) {
        from -= word.len();
        let placed = PLACING.contains(&word);
        if placed || word == "the" {
            let before = row[..from].trim_end();
            let from = match placed {
                true => from + word.len() + 1,
                false => from,
            };
            let noun = row.rsplit(' ').next()?;
            let opens = placed || PLACING.contains(&before.rsplit(' ').next()?);
            let plain = words > 0 && !names_hardware(noun) && singular(noun) == noun;
            return (opens && plain).then_some(from);
        }
        if !word.bytes().all(|b| b.is_ascii_lowercase() || b == b'-') {
            return None;
        }
        words += 1;
        from = from.saturating_sub(1);
    }
    None
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
    use crate::notation::{Notation, sentence};

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

    #[test]
    fn places_in_a_row_add_up() {
        /// Bolts in all; `None`: in doubt.
        #[track_caller]
        fn case(text: &str, expected: Option<u64>) {
            let said = sentence(text, Notation::default());
            let [call] = &*said.calls else {
                panic!("{text}: {:?}", said.calls)
            };
            let pieces = call.pieces() * u64::from(call.places);
            let sure = said.doubts.is_empty() && call.callout.doubts.is_empty();
            assert_eq!(
                sure.then_some(pieces),
                expected,
                "{text}: {:?}",
                said.doubts
            );
        }
        for (text, pieces) in [
            ("Both arms and the back take two M8 x 40 bolts each.", 6),
            (
                "Hang each of the two doors and fix it with two M8 x 40 bolts.",
                4,
            ),
            (
                "Fit two M8 x 40 bolts at both ends of the beam and at the post.",
                6,
            ),
            (
                "Stand each of the four posts in its shoe and fit two M8 x 40 bolts.",
                8,
            ),
            ("Now at each of the four posts fit two M8 x 40 bolts.", 8),
            ("Three levels of four M8 x 40 bolts hold it.", 12),
            ("Fit two M8 x 40 bolts, both with heads facing out.", 2),
            (
                "Put two M8 x 40 bolts through each of the three battens and into the wall.",
                6,
            ),
            (
                "Fix the rail at both ends and in the middle with two M8 x 40 bolts each.",
                6,
            ),
            (
                "Join the girders at mid-length and at both ends with four M8 x 40 bolts each.",
                12,
            ),
            (
                "Fit an M8 x 40 bolt at each of the four corners and at the centre.",
                5,
            ),
            (
                "Bolt the two front legs and two back legs with two M8 x 40 bolts each.",
                8,
            ),
            (
                "Bolt the two front and two back legs with two M8 x 40 bolts each.",
                8,
            ),
            (
                "Bolt the two front legs and the back panel with two M8 x 40 bolts each.",
                6,
            ),
            (
                "Fix both rails and all four stiles with one M8 x 40 bolt each.",
                6,
            ),
            (
                "Fit two M8 x 40 bolts to both rails and to all four stiles.",
                12,
            ),
            (
                "Bolt the top and the bottom of each of the four legs with two M8 x 40 bolts each.",
                16,
            ),
            (
                "Fix the posts with two M8 x 40 bolts at both ends of the two rails.",
                8,
            ),
        ] {
            case(text, Some(pieces));
        }
        for text in [
            "Fix both rails and the posts with two M8 x 40 bolts each.",
            "Fit two M8 x 40 bolts to both the left, centre and right posts.",
            "Put an M8 x 40 bolt in each of the three holes along the top and the four holes along the bottom.",
            "Fix rails 1, 2 and 3 with two M8 x 40 bolts.",
            "Fix the slats one at a time with two M8 x 40 bolts.",
            "Drill two holes in each of the four legs and fit four M8 x 40 bolts.",
            "Drill two holes in each leg (four legs), then fit eight M8 x 40 bolts.",
            "Fit two M8 x 40 bolts to each of the two frames, one at the top and one at the bottom.",
            "Glue each of the two joints and fit four M8 x 40 bolts.",
            "Fit four M8 x 40 bolts with two drops of thread locker each.",
            "Fit two M8 x 40 bolts to the rail and glue each of the four plugs in.",
            "Fit two M8 x 40 bolts to the rail after placing a block under each of the four legs.",
            "Cut each of the six slats to length and fix them with twelve M8 x 40 bolts.",
            "Fit two M8 x 40 bolts to the rail and place a block under each of the four legs.",
            "Fix the rails one by one with two M8 x 40 bolts.",
            "Fix the rails in turn with two M8 x 40 bolts.",
            "Fit an M8 x 40 bolt through the holes in both legs.",
        ] {
            case(text, None);
        }
    }
}
