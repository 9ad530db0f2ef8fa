//! What settles a number of places that a sentence leaves open: the names that it gives them, what its guide
//! tells of how many there are, the bolts of the joint before.

use super::{
    before::{Answer, Before, Bolts},
    call::{Call, Naming},
    multiplier::Multiplier,
    named::Named,
    object::{of_one_thing, one_object},
    setting::WHICH,
    there::are_small,
    things::Things,
    told::{Told, told},
    vocabulary::{JOINING, PLACING, TAKING},
    wording::{ends_with_word, last_word, singular},
};
use crate::doubt::Doubt;

/// Takes the number of its places from the names that the sentence gives them: `panels A to D`.
pub(super) fn settle_named(one: &mut Multiplier, named: Option<&Named>) {
    // `each of posts 1 and 2`, `each of the posts A and B`
    let of = one.noun == "of";
    let behind = one.at + one.words.len() + 1;
    let same = |named: &&Named| match of {
        true => [0, "the ".len()].contains(&named.at.start.wrapping_sub(behind)),
        false => singular(&named.noun).eq_ignore_ascii_case(singular(&one.noun)),
    };
    if one.times.is_none()
        && !one.noun.is_empty()
        && let Some(named) = named.filter(|named| named.number > 1).filter(same)
    {
        one.times = Some(named.number);
        if of {
            one.noun.clone_from(&named.noun);
        }
    }
}

/// True where what a sentence calls for goes on the bolts of the joint before, by its kind and size.
pub(super) fn go_on(calls: &[Call], bolts: Bolts) -> bool {
    let fits = |call: &Call| {
        let size = call.callout.item.diameter;
        call.naming != Naming::New || size.is_none() || size == bolts.diameter
    };
    let has_own = calls.iter().any(|call| call.is_long() && call.pieces() > 0);
    !has_own && are_small(calls) && calls.iter().all(fits)
}

/// Takes the numbers of places that a sentence leaves open from what it tells `here`, and from what stands
/// before it. True where its items go on each of the bolts before.
pub(super) fn settle_by(
    before: &Before,
    here: &[Told],
    text: &str,
    bolts: Option<Bolts>,
    multipliers: &mut Vec<Multiplier>,
    things: &mut Vec<Things>,
) -> bool {
    let mut on_bolts = false;
    let mut through: Vec<String> = Vec::new();
    for i in 0..multipliers.len() {
        let noun = singular(&multipliers[i].noun).to_owned();
        let stated = |m: &Multiplier| m.times.is_some() && singular(&m.noun) == noun;
        if !multipliers.iter().any(stated) {
            on_bolts |= settle_one(&mut multipliers[i], before, here, text, bolts, &mut through);
        }
    }
    // `three shelves, four brackets per shelf, two screws per bracket`
    let counts = |noun: &str| through.iter().any(|through| through == singular(noun));
    multipliers.retain(|m| !counts(&m.noun));
    things.retain(|things| {
        let noun = singular(things.words.rsplit(' ').next().unwrap_or_default());
        let is_asked = |m: &Multiplier| m.times.is_some() && singular(&m.noun) == noun;
        !counts(noun) && !multipliers.iter().any(is_asked)
    });
    on_bolts
}

/// Verbs behind `For one bracket`.
const USING: &[&str] = &["you", "use", "take", "fit", "add", "insert"];

/// `The bracket takes two screws.`, `For one bracket you need two screws.`, where the guide tells of four brackets.
pub(super) fn of_subject(before: &Before, text: &str) -> Option<Multiplier> {
    let for_one = ["For one ", "For a ", "In one ", "On one "];
    let for_one = for_one.iter().any(|one| text.starts_with(one));
    let mut words = text.split_whitespace().skip(usize::from(for_one));
    let one = ["The", "One", "A", "An"];
    let the = words.next().filter(|the| for_one || one.contains(the))?;
    let (first, second) = (words.next()?, words.next()?);
    let does = |word: &str| TAKING.contains(&word) || (for_one && USING.contains(&word));
    // `The rack bracket takes`; not `The top bracket takes`, which is told apart.
    let (noun, verb, sort) = match does(second) {
        true => (first, second, ""),
        false => (second, words.next()?, first),
    };
    let which = WHICH.split('|').any(|which| which == sort);
    if !does(verb) || singular(noun) != noun || which {
        return None;
    }
    let Some(Answer::Number { number, by, .. }) = before.answer(&[], noun) else {
        return None;
    };
    let words = match sort.is_empty() {
        true => format!("{the} {noun}"),
        false => format!("{the} {sort} {noun}"),
    };
    Some(Multiplier {
        at: 0,
        taken: by.map(|by| format!("\"{words}\": taken as {number}, by {by}")),
        words,
        noun: noun.to_owned(),
        times: Some(number),
        ..Multiplier::default()
    })
}

/// `Attach three latches. Use four screws.`: whether that is for each of them, is not said.
pub(super) fn open_by_last(before: &Before, text: &str, calls: &[Call]) -> Option<Doubt> {
    let told = before.only_told().filter(|told| told.number > 1)?;
    let within = |at: usize| calls.iter().any(|call| call.at.contains(&at));
    let names = |word: &str| {
        let at = word.as_ptr() as usize - text.as_ptr() as usize;
        let word = word.trim_matches(|c: char| !c.is_alphanumeric());
        let leads = [
            "the", "each", "every", "both", "all", "its", "their", "a", "an",
        ];
        !within(at) && (PLACING.contains(&word) || leads.contains(&word))
    };
    // `Lay two rails side by side. Join them with four bolts.`
    let joins = JOINING.iter().any(|verb| text.contains(verb)) || text.contains(" together");
    let is_open =
        !joins && calls.iter().all(Call::is_asked_for) && !text.split_whitespace().any(names);
    is_open.then(|| {
        let said = format!(
            "\"{}\" in line {}: the pieces may be for each or in all; taken as in all",
            told.words, told.row
        );
        Doubt::HowMany(said.into())
    })
}

/// `Slide it over the pole with a pin. The tent has eight poles.`: whether that is for each of them, is
/// not said.
pub(super) fn open_by_next(before: &Before, text: &str) -> Option<Doubt> {
    let (row, next) = before.next.as_ref()?;
    if !(next.contains(" has ") || next.starts_with("There are ")) {
        return None;
    }
    let names = |told: &&Told| {
        let the = format!(" the {}", told.noun);
        let mut all = text.match_indices(&the).map(|(at, the)| at + the.len());
        all.any(|end| !text[end..].starts_with(|c: char| c.is_alphanumeric()))
    };
    let all = told(next, *row);
    let told = all.iter().find(names)?;
    let Told {
        noun, words, row, ..
    } = told;
    Some(Doubt::HowMany(
        format!(
            "\"the {noun}\", and \"{words}\" of line {row}: the pieces may be for each or in all; taken as in all"
        )
        .into(),
    ))
}

/// `Fix each with two screws.`: of the thing that the sentence in front counts.
pub(super) fn each_of_told(before: &Before, at: usize) -> Option<Multiplier> {
    let told = before.only_told()?;
    Some(Multiplier {
        at,
        words: "each".into(),
        noun: told.noun.clone(),
        times: Some(told.number),
        ..Multiplier::default()
    })
}

/// `Add one nut to each.`: each bolt of the joint before.
pub(super) fn each_of(bolts: Bolts, at: usize) -> Multiplier {
    let open = format!("\"each\": the bolts of line {} are in doubt", bolts.row);
    Multiplier {
        at,
        words: "each".into(),
        noun: "bolt".into(),
        times: Some(bolts.pieces),
        taken: (!bolts.sure).then_some(open),
        ..Multiplier::default()
    }
}

/// `Each M10 x 60 bolt takes two washers`: of those in front in the sentence, else of the joint before, where their size is
/// the same. It calls for none by itself.
pub(super) fn each_sized(
    calls: &mut [Call],
    text: &str,
    bolts: Option<Bolts>,
) -> Option<Multiplier> {
    let each = |call: &Call| {
        let item = &call.callout.item;
        let is_one = call.is_long() && item.diameter.is_some() && call.callout.quantity.is_none();
        let lead = text[..call.at.start].trim_end();
        let mut words = ["each", "every", "per"].into_iter().filter(|_| is_one);
        let each = words.find(|each| ends_with_word(lead, each))?;
        Some(lead.len() - each.len())
    };
    let (of, at) = (0..calls.len()).find_map(|i| Some((i, each(&calls[i])?)))?;
    calls[of].naming = Naming::Known;
    let item = calls[of].callout.item.clone();
    let (front, behind) = calls.split_at_mut(of);
    let alike = |call: &&Call| {
        let own = &call.callout.item;
        let length = item.length.is_none() || own.length == item.length;
        call.is_asked_for() && own.kind == item.kind && own.diameter == item.diameter && length
    };
    if let Some(pieces) = front.iter().rfind(alike).map(Call::pieces) {
        for call in behind[1..].iter_mut().filter(|call| call.is_small()) {
            if let Some(quantity) = &mut call.callout.quantity {
                quantity.pieces = quantity.pieces.saturating_mul(pieces);
            }
        }
        return None;
    }
    let bolts =
        bolts.filter(|bolts| Some(bolts.kind) == item.kind && bolts.diameter == item.diameter);
    let words = text[at..calls[of].at.end].trim().to_owned();
    let open = |bolts: Bolts| {
        let doubt = format!("\"{words}\": the bolts of line {} are in doubt", bolts.row);
        (!bolts.sure).then_some(doubt)
    };
    Some(Multiplier {
        at,
        times: bolts.map(|bolts| bolts.pieces),
        taken: bolts.and_then(open),
        words,
        noun: String::new(),
        ..Multiplier::default()
    })
}

/// Takes the number of its places from what the guide tells of them; `bolts`: those on which the
/// sentence's items go. Ends and sides are two. True where it was taken from bolts. `through`: the
/// things that its number counts already, beside it.
fn settle_one(
    asked: &mut Multiplier,
    before: &Before,
    here: &[Told],
    text: &str,
    bolts: Option<Bolts>,
    through: &mut Vec<String>,
) -> bool {
    if asked.times.is_some() || asked.noun.is_empty() || asked.taken.is_some() {
        return false;
    }
    let words = asked.words.trim();
    if let Some(bolts) = bolts.filter(|bolts| bolts.are_called(&asked.noun)) {
        asked.times = Some(bolts.pieces);
        let open = format!("\"{words}\": the bolts of line {} are in doubt", bolts.row);
        asked.taken = (!bolts.sure).then_some(open);
        return true;
    }
    // `the four posts`: whether for each of them is what is open.
    let answer = (asked.stated().is_none()).then(|| before.answer(here, &asked.thing(text)));
    match answer.flatten() {
        Some(Answer::Number {
            number,
            by,
            mut nouns,
        }) => {
            // `two per rail end`, where rails are told
            let of_ends =
                asked.thing(text).ends_with(" end") && !nouns.iter().any(|noun| noun == "end");
            let number = if of_ends {
                number.saturating_mul(2)
            } else {
                number
            };
            asked.times = Some(number);
            asked.taken = by.map(|by| format!("\"{words}\": taken as {number}, by {by}"));
            // `at each joist end`, of four joists
            let thing = asked.thing(text);
            let last = singular(last_word(&thing));
            if thing.contains(' ')
                && last != nouns.last().map_or(last, |noun| noun)
                && is_one_of_two(last)
            {
                asked.times = number.checked_mul(2);
                asked.taken = Some(format!("\"{words}\": taken as two of each of {number}"));
            }
            asked.noun = nouns.pop().unwrap_or_default();
            through.append(&mut nouns);
        }
        Some(Answer::Differs(two)) => {
            asked.taken = Some(format!("\"{words}\": {two}: not multiplied"));
        }
        None if asked.noun == "one" => {
            // `There are four posts; each one takes two bolts.`
            let mut near = told(text, before.row);
            near.retain(|told| told.at < asked.at);
            let told = match near.len() {
                0 => before.only_told(),
                1 => near.pop(),
                _ => None,
            };
            if let Some(told) = told {
                asked.times = Some(told.number);
                asked.noun = told.noun;
            }
        }
        None if is_one_of_two(&asked.thing(text)) && !words.starts_with(['p', 'P', 'a', 'A']) => {
            asked.times = Some(2);
            let behind = text.get(asked.at + asked.words.len()..).unwrap_or_default();
            let one = one_object(text).filter(|noun| before.answer(here, noun).is_none());
            let sure = of_one_thing(behind) || one.is_some();
            asked.taken = (!sure).then(|| format!("\"{words}\": taken as two"));
            // `Each end of a rail takes two bolts`, and there are two rails.
            let several = one_behind(behind).and_then(|noun| before.answer(here, noun));
            if let Some(Answer::Number { number: of, .. }) = several.filter(|_| named_each(words)) {
                asked.times = of.checked_mul(2);
                asked.taken = Some(format!("\"{words}\": taken as two of each of {of}"));
            }
        }
        None => {}
    }
    false
}

/// `Each end`, `both ends`: of each thing.
fn named_each(words: &str) -> bool {
    let first = words.split(' ').next().unwrap_or_default();
    ["each", "every", "both", "either"]
        .iter()
        .any(|each| first.eq_ignore_ascii_case(each))
}

/// `rail` of ` of a cross rail takes two bolts`.
fn one_behind(behind: &str) -> Option<&str> {
    let thing = [" of a ", " of an "]
        .iter()
        .find_map(|of| behind.strip_prefix(of))?;
    let words = thing.split(|c: char| !c.is_ascii_lowercase()).take(3);
    words
        .take_while(|word| !TAKING.contains(word) && !PLACING.contains(word) && !word.is_empty())
        .last()
}

/// `end`, `side`, `long edge`: of one thing there are two.
fn is_one_of_two(thing: &str) -> bool {
    let (sort, noun) = thing.rsplit_once(' ').unwrap_or(("", thing));
    let of_length = ["long", "short"].contains(&sort) && ["edge", "side", "end"].contains(&noun);
    of_length
        || ["end", "side"]
            .iter()
            .any(|two| thing.split(' ').next() == Some(two))
}

/// `at posts P1 and P2`: for each, where the pieces would not reach otherwise; else it is open. A hole
/// takes one bolt. `of_each`: of each of them: `both ends of rails 1 to 3`.
pub(super) fn at_named(
    named: &Named,
    calls: &[Call],
    text: &str,
    bare_each: bool,
    of_each: bool,
) -> Option<Multiplier> {
    // `Legs A and B each take a bolt.`
    let takes = bare_each && text[named.at.end..].trim_start().starts_with("each ");
    if !(named.is_place || bare_each || of_each) || named.number < 2 {
        return None;
    }
    let new = || calls.iter().filter(|call| call.is_asked_for());
    let number = u64::from(named.number);
    let a_piece_each = |call: &Call| !call.is_long() || call.pieces() == number;
    if !bare_each
        && singular(&named.noun) == "hole"
        && new().any(Call::is_long)
        && new().all(a_piece_each)
    {
        return None;
    }
    let too_few = new().any(|call| (1..number).contains(&call.pieces()));
    let words = text[named.at.clone()].trim();
    let for_each = format!("\"{words}\": taken as for each, {number} times");
    Some(Multiplier {
        at: named.at.start,
        words: words.to_owned(),
        noun: String::new(),
        times: (bare_each || too_few || of_each).then_some(named.number),
        taken: ((too_few && !bare_each) || !(named.is_place || takes))
            .then_some(for_each)
            .filter(|_| !of_each),
        ..Multiplier::default()
    })
}
