//! Things that a sentence counts and that are no hardware: `two rails`.

use super::{
    Call, Sentence,
    clause::Clauses,
    multiplier::Multiplier,
    phrase::counts,
    places::are_in_all,
    sums::known_places,
    vocabulary::{DRIVES, NO_PLACES, PLACING},
    wording::{number, singular},
};
use crate::doubt::Doubt;
use crate::notation::{reader::Reader, token::Tok, words::Sense};

/// Things that a sentence counts and that are no hardware: `two rails`.
pub(super) struct Things {
    pub at: usize,
    pub words: String,
    pub number: u32,
    /// Named beside hardware, as if it were some: `and two spacers`.
    pub beside: bool,
}

/// Words in front of one thing.
const ARTICLES: &[&str] = &["a", "an", "the", "this", "that", "each", "every"];

/// The things that a sentence counts beside its hardware. `text`: with what other rules read of it.
pub(super) fn things(reader: &Reader<'_>, text: &str, calls: &[Call]) -> Vec<Things> {
    let word = |i: usize| {
        let token = &reader.tokens[i];
        &reader.text[token.start..token.end]
    };
    // `four dowels`, where no noun of the trade stands
    let is_mark = |i: usize| {
        let mark = |sense: &Sense| matches!(sense, Sense::Mark(_)).then_some(());
        reader.sense(i, mark).is_some() && singular(word(i)) != word(i)
    };
    let is_thing = |i: usize| {
        i < reader.tokens.len()
            && reader.tokens[i].role.is_none()
            && (matches!(reader.tok(i), Some(Tok::Unknown))
                || reader.says(i, Sense::Thing)
                || (calls.is_empty() && is_mark(i)))
    };
    let joins = |i: usize| matches!(reader.tok(i), Some(Tok::Comma)) || reader.says(i, Sense::And);
    let mut all = Vec::new();
    for i in 0..reader.tokens.len() {
        let token = &reader.tokens[i];
        if token.role.is_some() || !counts(reader, i) {
            continue;
        }
        let first = counted_at(reader, i);
        if !is_thing(first) {
            continue;
        }
        let Some(figure) = number(word(i)) else {
            continue;
        };
        if figure < 2 {
            all.extend(one_beside(reader, text, calls, i));
            continue;
        }
        // `two splice straps`, `four guy plates meet`: the word in the plural is the thing.
        let named =
            (first..first + 3).take_while(|&at| is_thing(at) && !PLACING.contains(&word(at)));
        let many = |at: &usize| singular(word(*at)) != word(*at);
        let plural = named.clone().find(many);
        // `the 16 gauge panel` is one.
        if plural.is_none()
            && i > 0
            && ARTICLES
                .iter()
                .any(|one| word(i - 1).eq_ignore_ascii_case(one))
        {
            continue;
        }
        let last = plural.or(named.last()).unwrap_or(first);
        // `two rows of eight`
        if reader.says(last + 1, Sense::Of) && counts(reader, last + 2) {
            continue;
        }
        if NO_PLACES
            .iter()
            .any(|known| (first..=last).any(|at| word(at).eq_ignore_ascii_case(known)))
        {
            continue;
        }
        let behind_item =
            i > 0 && calls.iter().any(|call| call.at.end <= token.start) && joins(i - 1);
        // `with 20 clips and 20 bolts`, `Fit 20 clips and 20 bolts`
        let puts = |word: &str| DRIVES.iter().any(|verb| word.eq_ignore_ascii_case(verb));
        let with = i > 0 && (["with", "using"].contains(&word(i - 1)) || puts(word(i - 1)));
        let next = reader
            .tokens
            .get(last + 2)
            .filter(|_| with && joins(last + 1));
        let before_item =
            next.is_some_and(|next| calls.iter().any(|call| call.at.start == next.start));
        all.push(Things {
            at: token.start,
            words: text[token.start..reader.tokens[last].end].to_owned(),
            number: figure,
            beside: behind_item || before_item,
        });
    }
    all
}

/// `a clevis pin and one spring clip`: one piece that no table knows, at the end of a list of hardware.
fn one_beside(reader: &Reader<'_>, text: &str, calls: &[Call], i: usize) -> Option<Things> {
    const WORDS: usize = 4;
    let joins = |i: usize| matches!(reader.tok(i), Some(Tok::Comma)) || reader.says(i, Sense::And);
    let begins = i.checked_sub(1).filter(|&at| joins(at))?;
    // `, and one`
    let item = match reader.says(begins, Sense::And) && begins > 0 && joins(begins - 1) {
        true => begins - 2,
        false => begins.checked_sub(1)?,
    };
    let end = reader.tokens[item].end;
    if !calls
        .iter()
        .any(|call| call.is_asked_for() && call.at.end == end)
    {
        return None;
    }
    let stops = |at: &usize| {
        let tok = reader.tok(*at);
        joins(*at) || matches!(tok, None | Some(Tok::Semicolon | Tok::Dot))
    };
    let last = (i + 2..=i + 1 + WORDS).find(stops)?.checked_sub(1)?;
    let names = |at: usize| {
        let token = &reader.tokens[at];
        let word = &reader.text[token.start..token.end];
        let plain = matches!(
            token.tok,
            Tok::Unknown | Tok::Word(_) | Tok::Dash | Tok::Mark
        );
        plain && token.role.is_none() && !PLACING.contains(&word) && !NO_PLACES.contains(&word)
    };
    let tool = (i + 1..=last).any(|at| reader.says(at, Sense::Tool));
    let all = (i + 1..=last).all(names) && !tool;
    all.then(|| Things {
        at: reader.tokens[i].start,
        words: text[reader.tokens[i].start..reader.tokens[last].end].to_owned(),
        number: 1,
        beside: true,
    })
}

/// What the things that a sentence counts say of its hardware: `two rails with four bolts each` is 8;
/// without `each` it is open, and what is counted beside the hardware is not in the list.
pub(super) fn multiply_by_things(
    said: &mut Sentence,
    mut things: Vec<Things>,
    multipliers: &mut Vec<Multiplier>,
    text: &str,
    eaches: &[usize],
    clauses: &Clauses,
) {
    let bare_each = eaches.first().copied();
    if !said.calls.iter().any(Call::is_asked_for) {
        return;
    }
    let bare = bare_each.is_some() && multipliers.is_empty();
    let nested = bare_each.filter(|_| !bare);
    if let Some(inner) = nested.and_then(|each| things_within(&mut things, multipliers, each, text))
    {
        multipliers.push(inner);
    }
    let first = said
        .calls
        .iter()
        .map(|call| call.at.start)
        .min()
        .unwrap_or(0);
    // `three frames, each with four bolts`
    let each_with = |one: &Things| {
        let between = text.get(one.at..first).unwrap_or_default();
        let between = between.to_ascii_lowercase();
        between.contains("each with ") || between.contains("each having ")
    };
    // `two splices with four bolts in each, and a nut per bolt`
    let in_each = |one: &Things| {
        // `For the three legs: one bolt and one nut on each.`
        let label = text
            .get(one.at..first)
            .is_some_and(|words| words.contains(':'));
        // `There are four slats, and each is held by two bolts and two nuts.`
        let in_front = bare_each.is_some_and(|each| one.at < each && each < first);
        let alone =
            said.calls.len() == 1 || label || in_front || is_for_each(said, text, bare_each);
        bare && !one.beside && alone
    };
    // `two need 16 bolts`: a number in front of what is no plural counts nothing.
    let open = |one: &&Things| {
        // What stands in front of them is of each place: `at each end two plates`.
        let behind = multipliers.iter().filter(|m| m.at > one.at);
        let in_all = || {
            are_in_all(&said.calls, known_places(behind), one.number, text)
                || clauses.is_done_to_it(first, one.at)
        };
        one.beside || !(is_made_of(text, one.at) || one.words.ends_with('s') && in_all())
    };
    match things.as_slice() {
        [one] if (multipliers.is_empty() && each_with(one)) || in_each(one) => {
            multipliers.push(Multiplier {
                at: one.at,
                words: one.words.clone(),
                noun: String::new(),
                times: Some(one.number),
                ..Multiplier::default()
            });
        }
        all => {
            let open: Vec<&Things> = all.iter().filter(open).collect();
            said.doubts.extend(open.into_iter().map(|things| {
                let words = &things.words;
                Doubt::HowMany(match things.beside {
                    true => format!("\"{words}\" is not known as hardware: not counted").into(),
                    false => format!(
                        "\"{words}\": the pieces may be for each or in all; taken as in all"
                    )
                    .into(),
                })
            }))
        }
    }
}

/// `On each of the two girders fit two splice plates with four bolts each`: of each of the things that are named last, at
/// each place.
fn things_within(
    things: &mut Vec<Things>,
    places: &[Multiplier],
    each: usize,
    text: &str,
) -> Option<Multiplier> {
    let is_inner = |one: &Things| !one.beside && one.at < each && !is_made_of(text, one.at);
    let of = things.remove(things.iter().rposition(is_inner)?);
    let words = &of.words;
    let open = places.iter().any(|m| (of.at..each).contains(&m.at));
    let taken = open.then(|| format!("\"each\": taken as of \"{words}\" at each place"));
    Some(Multiplier {
        at: of.at,
        times: Some(of.number),
        within: !open,
        taken,
        words: of.words,
        ..Multiplier::default()
    })
}

/// `made of two legs, joined with two bolts`: what a thing is, and no place.
fn is_made_of(text: &str, at: usize) -> bool {
    const MADE: &[&str] = &[
        " made of",
        " made up of",
        " made from",
        " built from",
        " consists of",
        " consist of",
        " comprises",
    ];
    let before = text[..at].trim_end();
    MADE.iter().any(|made| before.ends_with(made))
}

/// True where `in each` stands right behind the first item.
fn is_for_each(said: &Sentence, text: &str, bare_each: Option<usize>) -> bool {
    let first = said.calls.first().map_or(0, |call| call.at.end);
    let between = bare_each.and_then(|each| text.get(first..each));
    between.is_some_and(|words| ["in", "at", "on"].contains(&words.trim()))
}

/// True where words behind a number may be what it counts, and are no hardware.
pub(super) fn counts_things(reader: &Reader<'_>, i: usize) -> bool {
    let at = counted_at(reader, i);
    matches!(reader.tok(at), Some(Tok::Unknown)) || reader.says(at, Sense::Thing)
}

/// Where what a number counts begins: `three frames`, `three of these frames`.
pub(super) fn counted_at(reader: &Reader<'_>, i: usize) -> usize {
    let these = reader.says(i + 1, Sense::Of)
        && reader.tokens.get(i + 2).is_some_and(|token| {
            let word = &reader.text[token.start..token.end];
            ["these", "those"]
                .iter()
                .any(|these| word.eq_ignore_ascii_case(these))
        });
    i + 1 + if these { 2 } else { 0 }
}

#[cfg(test)]
mod tests {
    use crate::notation::{Notation, sentence};

    #[test]
    fn things_at_places_multiply_what_each_of_them_takes() {
        /// Screws in all; `None`: in doubt.
        #[track_caller]
        fn case(text: &str, expected: Option<u64>) {
            let said = sentence(text, Notation::default());
            let [call] = &*said.calls else {
                panic!("{text}: {:?}", said.calls)
            };
            let pieces = call.pieces() * u64::from(call.places);
            assert_eq!(said.doubts.is_empty().then_some(pieces), expected, "{text}");
        }
        for text in [
            "On each of the two posts fit two brackets with three M6 x 30 screws each.",
            "Each of the two posts has two brackets, each held by three M6 x 30 screws.",
            "At both ends fit two brackets with three M6 x 30 screws each.",
            "At each of the two joints fit two plates, each with three M6 x 30 screws.",
            "Both frames have two brackets with three M6 x 30 screws each.",
            "On the left and right posts fit two brackets with three M6 x 30 screws each.",
        ] {
            case(text, Some(12));
        }
        case(
            "Fit two brackets to each of the four posts with three M6 x 30 screws each.",
            None,
        );
        case(
            "On each of the two posts fit two brackets with four M6 x 30 screws.",
            None,
        );
        case(
            "On each of the two posts fit two brackets with eight M6 x 30 screws.",
            Some(16),
        );
    }
}
