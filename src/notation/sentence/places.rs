//! How often a sentence's items are needed, from the places that it names.

use super::{
    Call, Naming, Sentence,
    clause::Clauses,
    listed::add_rows,
    multiplier::Multiplier,
    object::of_one_thing,
    parts::{Part, Placed, Reach, ask, parts},
    sums::{
        IN_ALL, known_places, places_by_sum, restates, settle_share, share_named_again,
        share_of_the_same, states_sum, tells_in_all,
    },
    things::{Things, multiply_by_things},
    vocabulary::{HAVING, JOINING, OF_LISTS, PLACING},
    wording::{ends_with_word, last_word, number, singular},
    words::Words,
};
use crate::{doubt::Doubt, notation::callout::Quantity};

/// Multiplies the calls by the places that the sentence names: each of its parts by its own. `eaches`: where each `each`
/// stands that names no thing.
pub(super) fn multiply(
    words: &Words,
    said: &mut Sentence,
    mut all: Vec<Multiplier>,
    mut things: Vec<Things>,
    text: &str,
    eaches: &[usize],
    clauses: &Clauses,
) {
    let may_differ =
        said.calls.len() > 1 && !(all.is_empty() && things.is_empty() && eaches.is_empty());
    let cut = match may_differ {
        true => parts(&said.calls, &all, text, clauses),
        false => Vec::new(),
    };
    if cut.len() < 2 {
        add_rows(&mut all, &mut things, &said.calls, text);
        multiply_by_things(said, things, &mut all, text, eaches, clauses);
        multiply_part(words, said, all, text, eaches, clauses);
        return;
    }
    let once_more: Vec<Multiplier> = all.extract_if(.., |m| m.of_all).collect();
    let mut calls = std::mem::take(&mut said.calls).into_iter();
    let mut parts = Vec::new();
    for Part { at, items, goes_on } in cut {
        let mut part = Sentence {
            calls: calls.by_ref().take(items.len()).collect(),
            places: 1,
            shares: said.shares,
            on_bolts: said.on_bolts,
            ..Sentence::default()
        };
        let text = &text[..at.end];
        let mut all: Vec<_> = all.extract_if(.., |m| at.contains(&m.at)).collect();
        let mut things = things.extract_if(.., |one| at.contains(&one.at)).collect();
        let mut eaches = eaches.iter().copied().filter(|each| at.contains(each));
        let eaches = Vec::from_iter(eaches.next());
        add_rows(&mut all, &mut things, &part.calls, text);
        multiply_by_things(&mut part, things, &mut all, text, &eaches, clauses);
        let reach = Reach::of(&part.calls, &all, !eaches.is_empty(), text);
        multiply_part(words, &mut part, all, text, &eaches, clauses);
        for call in &mut part.calls {
            call.callout.doubts.extend_from_slice(&part.doubts);
        }
        said.counts.append(&mut part.counts);
        parts.push(Placed {
            calls: part.calls,
            reach: reach.map(|reach| reach.times(part.places)),
            goes_on,
        });
    }
    ask(&mut parts, text);
    said.calls = parts.into_iter().flat_map(|part| part.calls).collect();
    for more in once_more {
        said.doubts
            .extend(more.taken.map(|taken| Doubt::HowMany(taken.into())));
        for call in &mut said.calls {
            call.places = call.places.saturating_mul(more.times.unwrap_or(1));
        }
    }
    let places = said.calls.iter().map(|call| call.places);
    said.places = places.max().unwrap_or(1);
}

/// Multiplies the calls of a part by the places that it names.
fn multiply_part(
    words: &Words,
    said: &mut Sentence,
    mut all: Vec<Multiplier>,
    text: &str,
    eaches: &[usize],
    clauses: &Clauses,
) {
    let bare_each = eaches.first().copied();
    // What goes on each bolt was multiplied once.
    let each_left = match said.calls.iter().any(|call| call.on_each) {
        true => bare_each.is_some(),
        false => each_of_the_first(&mut said.calls, text, bare_each, all.is_empty()),
    };
    // `For each post use:` says it of the lines below.
    let of_list = |m: &Multiplier| OF_LISTS.contains(&singular(&m.noun));
    if said.calls.is_empty() && (!text.trim_end().ends_with(':') || all.iter().any(of_list)) {
        return;
    }
    let first = said.calls.iter().map(|call| call.at.start).min();
    let bare = bare_each.is_some();
    // `a bolt left and right`
    let sides = |m: &Multiplier| m.open && m.times.is_none() && m.noun.is_empty();
    if let [call] = &mut *said.calls
        && call.pieces() == 1
        && let Some(at) = all.iter().position(sides)
        && let Some(quantity) = &mut call.callout.quantity
    {
        quantity.pieces = 2;
        all.remove(at);
    }
    share_of_the_same(&mut all, &said.calls, text);
    share_named_again(said, &mut all);
    if restates(said, &all) || tells_in_all(said, text) {
        all.clear();
    }
    // `Gather the ends of all four stays on one bolt`: the one is the place.
    let is_place = |call: &Call| {
        let lead = text[..call.at.start].trim_end();
        call.pieces() == 1 && ["on", "onto", "around", "over"].contains(&last_word(lead))
    };
    if let [call] = &*said.calls
        && call.is_asked_for()
        && is_place(call)
    {
        for m in all
            .iter_mut()
            .filter(|m| m.at < call.at.start && m.times.is_some())
        {
            m.times = None;
            m.taken = Some(format!(
                "\"{}\": the piece may be for each or for all; taken as one",
                m.words
            ));
        }
    }
    // `Mount both wheels; each hub takes four bolts.`
    let asks = bare || all.iter().any(|m| m.times.is_none());
    for m in all.iter_mut().filter(|m| m.times.is_some() && !asks) {
        if of_other_clause(m, &said.calls, text, clauses) {
            m.times = None;
            m.taken = Some(format!(
                "\"{}\": the pieces may be for each or in all; taken as in all",
                m.words
            ));
        }
    }
    let known = |m: &&Multiplier| m.times.is_some();
    let noun = |m: &Multiplier| (singular(&m.noun).to_owned(), m.times);
    let counted: Vec<_> = all.iter().filter(known).map(noun).collect();
    // `both plates, three screws per plate`: for each.
    let shared: Vec<String> = all
        .iter()
        .filter(|m| m.times.is_none())
        .map(|m| singular(&m.noun).to_owned())
        .collect();
    for found in &mut all {
        found.open &= !shared.iter().any(|noun| noun == singular(&found.noun));
    }
    // Not `each of the three holes at the top and the four holes at the bottom`
    let is_counted = |m: &Multiplier| {
        let same = |of: &&(String, _)| of.0 == singular(&m.noun);
        counted
            .iter()
            .find(same)
            .is_some_and(|of| m.stated().is_none_or(|_| m.stated() == of.1))
    };
    all.retain(|m| m.times.is_some() || !is_counted(m));
    all.sort_by_key(|m| m.at);
    // `each end of the two rails`
    for i in 1..all.len() {
        let behind = all[i - 1].at + all[i - 1].words.len();
        let linked = text
            .get(behind..all[i].at)
            .is_some_and(|of| of.trim() == "of");
        if linked && all[i].times.is_none() && all[i].taken.is_none() {
            all[i].times = all[i].stated();
        }
    }
    // `Each post sits in a shoe; fix each of the four shoes with two bolts.`
    let apart = first.and_then(|first| text[..first].rfind(';'));
    if let Some(apart) = apart.filter(|&apart| all.iter().any(|m| m.at > apart)) {
        all.retain(|m| m.at > apart || m.times.is_some());
    }
    // `each slat takes two screws at each end of every one`
    let same = |a: &Multiplier, b: &Multiplier| {
        !a.noun.is_empty() && singular(&a.noun) == singular(&b.noun) && a.times == b.times
    };
    let once: Vec<bool> = (0..all.len())
        .map(|i| all[i].times.is_none() || !all[..i].iter().any(|before| same(before, &all[i])))
        .collect();
    let mut once = once.into_iter();
    all.retain(|_| once.next().unwrap_or(true));
    settle_share(said, &mut all, text);
    told_of_all(said, &mut all, text);
    places_by_sum(said, &mut all);
    let mut places = 1u32;
    let mut before: Option<usize> = None;
    for found in &all {
        let Some(times) = found.times else {
            let words = found.words.as_str();
            let states = found.stated();
            if let Some(taken) = &found.taken {
                said.doubts.push(Doubt::HowMany(taken.as_str().into()));
                continue;
            }
            // Not `posts 1 and 2`.
            let thing = states.filter(|_| !found.noun.is_empty());
            said.doubts.push(match states.is_some() {
                true if first.is_some_and(|first| clauses.is_done_to_it(first, found.at)) => {
                    continue;
                }
                true if !bare
                    && thing
                        .is_some_and(|n| are_in_all(&said.calls, known_places(&all), n, text)) =>
                {
                    continue;
                }
                true => Doubt::HowMany(
                    format!(
                        "\"{}\": the pieces may be for each or in all; taken as in all",
                        words.trim()
                    )
                    .into(),
                ),
                false => Doubt::Multiplier(words.into()),
            });
            continue;
        };
        places = places.saturating_mul(times);
        if let Some(taken) = &found.taken {
            said.doubts.push(Doubt::HowMany(taken.as_str().into()));
        }
        // One piece is at one place.
        let single = || said.calls.iter().all(|call| call.pieces() <= 1);
        let behind = text.get(found.at + found.words.len()..).unwrap_or_default();
        let either = found.words.starts_with("either");
        let of_ends = ["end", "side", "edge", "face"].contains(&singular(&found.noun));
        let at_either = (either && of_one_thing(behind))
            || ((either || (of_ends && !makes_one_joint(text))) && single());
        if found.open && !bare && !at_either && !states_sum(words, said, &all, text) {
            said.doubts.push(Doubt::HowMany(
                format!(
                    "\"{}\": the pieces may be for each or in all; taken as for each",
                    found.words
                )
                .into(),
            ));
        }
        // `each end of each beam`, `every plank at both ends`
        let before_it = text[..found.at].trim_end();
        // `each of the four legs, with two washers at both ends`: of the washers, maybe.
        let next_item =
            |call: &Call| (before.unwrap_or(found.at)..found.at).contains(&call.at.start);
        let linked = found.within
            || before_it.ends_with(" of")
            || (of_ends && !said.calls.iter().any(next_item) && [" at", " on"].iter().any(|at| before_it.ends_with(at)))
            // `the six boards, two screws into each end of every board`
            || (of_ends && [" of every ", " of each "].iter().any(|of| behind.starts_with(of)))
            // `at each end of the tread, six treads in all`
            || before.is_some_and(|before| text[before..found.at].contains(&format!(" of the {}", singular(&found.noun))));
        if before.is_some() && !linked {
            said.doubts.push(Doubt::HowMany(
                "more than one number of places in the sentence: all were multiplied".into(),
            ));
        }
        before = Some(found.at);
        let item = said.calls.iter().rfind(|call| call.at.end <= found.at);
        if let Some(part) = item.and_then(|call| part_at(text.get(call.at.end..found.at)?)) {
            said.doubts.push(Doubt::HowMany(
                format!(
                    "\"{}\" may be said of the {part} alone: taken for all",
                    found.words
                )
                .into(),
            ));
        }
        // A place between two items may be meant for the first alone; not in `two bolts per post, with a nut`.
        let next = said
            .calls
            .iter()
            .map(|call| call.at.start)
            .filter(|start| *start > found.at);
        let goes_with = |next: usize| {
            let between = text
                .get(found.at + found.words.len()..next)
                .unwrap_or_default();
            let between = between.trim_start_matches([',', ' ']);
            [", with ", " it with "]
                .iter()
                .any(|with| between.contains(with))
                || between.starts_with("with ")
        };
        if first.is_some_and(|first| found.at > first)
            && next.min().is_some_and(|next| !goes_with(next))
            && !goes_on_joint(&said.calls, found.at, times)
        {
            said.doubts.push(Doubt::HowMany(
                format!(
                    "\"{}\" stands between items: taken for all of them",
                    found.words
                )
                .into(),
            ));
        }
    }
    // `each leg takes one M8 x 80 bolt at the top and one M8 x 40 bolt at the foot` has both at each leg.
    let stated = all
        .iter()
        .find(|m| m.times.is_some())
        .filter(|m| places > 1 && !bare && first.is_none_or(|first| m.at > first));
    if let Some(stated) = stated.filter(|_| said.doubts.is_empty() && two_joints(&said.calls, text))
    {
        said.doubts.push(Doubt::HowMany(
            format!(
                "\"{}\" may be said of one of the items alone: taken for all",
                stated.words.trim()
            )
            .into(),
        ));
    }
    said.places = places;
    for call in &mut said.calls {
        call.places = places;
    }
    if let (Some(sum), [call]) = (said.in_all, &*said.calls)
        && call.pieces().saturating_mul(u64::from(said.places)) != sum
    {
        said.doubts.push(Doubt::HowMany(
            format!("\"{sum} in all\" is not what the count beside it comes to").into(),
        ));
    }
    let is_told = |at: usize| said.told.iter().any(|told| told.contains(&at));
    if places > 1
        && let Some(all) = IN_ALL.captures(words, text)
        && !is_told(all.name("all").map_or(0, |all| all.start()))
        && !text[all.get(0).map_or(0, |all| all.end())..].starts_with(" there ")
    {
        // `two on each side, so four altogether`
        let stated = all.name("n").and_then(|n| number(n.as_str()));
        let comes_to = |call: &Call| call.pieces().checked_mul(u64::from(places));
        let new = said.calls.iter().filter(|call| call.is_asked_for());
        // `with M10 x 120 bolts, two in all` counts the bolts.
        let of_pieces = said
            .calls
            .iter()
            .any(|call| call.pieces() == u64::from(places));
        let counts_places = stated == Some(places) && !of_pieces;
        if !counts_places
            && (stated.is_none() || !new.map(comes_to).any(|sum| sum == stated.map(u64::from)))
        {
            let all = &all["all"];
            said.doubts.push(Doubt::HowMany(
                format!("\"{all}\": the count may be for all the places; taken as for each").into(),
            ));
        }
    }
    if each_left && counted.is_empty() {
        said.doubts.push(Doubt::Multiplier("each".into()));
    }
}

/// `When all four posts stand, fit two bolts`, `bolts into the hub that carries all three arms`, `Trim both ends and fit two
/// bolts`, `Cut each of the six slats and fix them with twelve screws`: what is done with them is no work on them.
fn of_other_clause(m: &Multiplier, calls: &[Call], text: &str, clauses: &Clauses) -> bool {
    let Some(item) = calls.iter().find(|call| call.is_asked_for()) else {
        return false;
    };
    let lower = m.words.to_ascii_lowercase();
    let all_of_them = ["both", "all", "either"]
        .iter()
        .any(|all| lower.starts_with(all));
    let of_ends = ["end", "side", "edge", "face"].contains(&singular(&m.noun));
    // `a pin; do both wheels`
    if ends_with_word(text[..m.at].trim_end(), "do") {
        return false;
    }
    let behind = item.at.start < m.at;
    let (from, to) = match behind {
        true => (item.at.end, m.at),
        false => (m.at + m.words.len(), item.at.start),
    };
    let between = text.get(from..to).unwrap_or_default();
    // `fit two bolts, leaving a gap at both ends`; `Starting at both ends, fit two bolts`
    let clause = text[..m.at].rfind([',', ';', ':']).map_or(0, |at| at + 1);
    let leads = ["now", "then", "next", "finally", "and"];
    let opens = text[clause..m.at]
        .split_whitespace()
        .find(|word| !leads.iter().any(|lead| word.eq_ignore_ascii_case(lead)))
        .unwrap_or_default();
    let by_the_way =
        opens.len() > 5 && opens.ends_with("ing") && !opens.eq_ignore_ascii_case("using");
    let placed = PLACING.iter().any(|at| opens.eq_ignore_ascii_case(at));
    // `Slide each end into its shoe and fix it with two bolts`, `Stand each of the four posts in its shoe and fit two bolts`
    let to_it = !all_of_them
        && (clauses.is_done_to_it(item.at.start, m.at) || (!of_ends && between.contains(" its ")));
    let apart = clauses.are_apart(m.at, item.at.start);
    let verbs = !(behind || placed || to_it) && apart;
    let next = behind && apart;
    if !(all_of_them || of_ends) {
        let mut lead = text[..m.at].split_whitespace().rev();
        let (last, before) = (lead.next(), lead.next().unwrap_or_default());
        // `two bolts, and glue each of the four plugs in`
        let object = last.is_some_and(|verb| !PLACING.contains(&verb) && verb != "with")
            && (["and", "then"].contains(&before) || before.ends_with(','));
        let later = [" after ", " before ", " while "];
        let behind = behind && (object || later.iter().any(|later| between.contains(later)));
        // `Drill two holes in each of the four legs and fit four bolts`
        return (verbs && !opens.is_empty()) || next || behind;
    }
    verbs || next || by_the_way || (!placed && APART.iter().any(|apart| between.contains(apart)))
}

/// What stands between two clauses, of which the second is said of a thing in the first (common practice, no source).
const APART: &[&str] = &[
    "; ",
    " that ",
    " which ",
    " before ",
    " until ",
    " and is ",
    " and are ",
    " while ",
];

/// `with M8 x 40 bolts in the four outer holes`: a bolt a hole, as a rule.
pub(super) fn one_in_each_hole(calls: &mut [Call], all: &mut Vec<Multiplier>) -> Option<Doubt> {
    let uncounted =
        |call: &&mut Call| call.is_long() && call.is_asked_for() && call.callout.quantity.is_none();
    let call = calls.iter_mut().find(uncounted)?;
    let holes =
        |m: &Multiplier| ["hole", "slot"].contains(&singular(&m.noun)) && m.stated().is_some();
    let of = all.remove(all.iter().position(holes)?);
    call.callout.quantity = Some(Quantity {
        pieces: u64::from(of.stated()?),
        packs: None,
    });
    Some(Doubt::HowMany(
        format!("\"{}\": one in each is taken", of.words).into(),
    ))
}

/// `the centre with one M10 x 60 bolt and each of the four legs with two M8 x 40 bolts`: bolts of two sizes, with more than
/// a comma or an `and` between them.
fn two_joints(calls: &[Call], text: &str) -> bool {
    let long = |call: &&Call| call.is_long() && call.is_asked_for() && call.pieces() > 0;
    let (Some(first), Some(last)) = (calls.iter().find(long), calls.iter().rfind(long)) else {
        return false;
    };
    let apart = |pair: &[Call]| {
        let between = text
            .get(pair[0].at.end..pair[1].at.start)
            .unwrap_or_default()
            .trim();
        let joins = ["", ",", "and", ", and", "&", "with", ", with", "plus"];
        pair[0].at.start >= first.at.start
            && pair[1].at.start <= last.at.start
            && !joins.contains(&between)
    };
    first.callout.item != last.callout.item && calls.windows(2).any(apart)
}

/// `every corner of both frames (eight corners)`: the brackets count the corners of both, which multiply nothing more.
fn told_of_all(said: &mut Sentence, all: &mut Vec<Multiplier>, text: &str) {
    let told = |pair: &[Multiplier]| {
        let (inner, outer) = (&pair[0], &pair[1]);
        let (places, of) = (inner.times?, outer.times?);
        let end = outer.at + outer.words.len();
        let linked = text.get(inner.at + inner.words.len()..outer.at)?.trim() == "of";
        let words = text.get(end..)?.strip_prefix(" (")?.split(')').next()?;
        let counts = words.split(' ').next().and_then(number) == Some(places);
        let same = singular(words.rsplit(' ').next()?) == singular(&inner.noun);
        (linked && counts && same).then_some((words, places, of))
    };
    let Some(at) = all.windows(2).position(|pair| told(pair).is_some()) else {
        return;
    };
    if let Some((words, places, of)) = told(&all[at..at + 2]) {
        // An end is one of two.
        let ends = ["end", "side"].contains(&singular(&all[at].noun));
        if !(ends && places == of.saturating_mul(2)) {
            let of = &all[at + 1].words;
            said.doubts.push(Doubt::HowMany(
                format!("\"{words}\": taken as of {of} together, and not of each").into(),
            ));
        }
        all.remove(at + 1);
    }
}

/// `a bolt into each of the four slots, add a washer and a nut`: what stands behind goes on the bolts in front
/// of the places, so many on each; not `two bolts at each end and four nuts`, which may be all of them.
fn goes_on_joint(calls: &[Call], at: usize, times: u32) -> bool {
    let asked = || calls.iter().filter(|call| call.is_asked_for());
    let long = asked().rfind(|call| call.at.start < at && call.is_long());
    let Some(bolts) = long.map(Call::pieces).filter(|&bolts| bolts > 0) else {
        return false;
    };
    let in_all = bolts.saturating_mul(u64::from(times));
    asked().filter(|call| call.at.start > at).all(|call| {
        let each = call.pieces();
        call.is_small() && each > 0 && each.is_multiple_of(bolts) && each < in_all
    })
}

/// True where pieces called for beside so many things are plainly of all of them, by their count: `hold the
/// eight slats with sixteen screws`, `the two walls with six bolts`. With two things and two or four
/// pieces nobody knows, save that one joint takes them: `bolt the two halves together with four bolts`,
/// `connect them with four bolts`.
/// `places`: how often they are called for.
pub(super) fn are_in_all(calls: &[Call], places: u32, things: u32, text: &str) -> bool {
    let things = u64::from(things);
    let one_joint = || makes_one_joint(text);
    let new = |call: &&Call| call.is_asked_for() && call.pieces() > 0;
    // Washers and nuts go with the bolts.
    let long = calls.iter().any(|call| new(&call) && call.is_long());
    let mut all = calls
        .iter()
        .filter(|call| new(call) && (call.is_long() || !long));
    all.clone().next().is_some()
        && all.all(|call| {
            let pieces = call.pieces().saturating_mul(u64::from(places));
            let shared = things > 0 && pieces.is_multiple_of(things);
            let many = things > 2 || pieces >= 3 * things;
            let sure = things > 2 || pieces == 1 || call.naming == Naming::Driven;
            (shared && many) || ((shared || sure) && one_joint())
        })
}

/// True where a sentence joins what it names to each other, and not to something else: what it takes for
/// that is one joint's.
fn makes_one_joint(text: &str) -> bool {
    let says = [" together", " halves", " joined by ", " meet "];
    let joins = |verb: &str| {
        let mut words = text
            .match_indices(verb)
            .filter(|(at, _)| text[..*at].ends_with(' ') || *at == 0);
        words.any(|(at, verb)| {
            let behind = &text[at + verb.len()..];
            let with = behind.find(" with ").or_else(|| behind.find(" by "));
            with.is_some_and(|with| !behind[..with].contains(" to "))
        })
    };
    says.iter().any(|words| text.contains(words)) || JOINING.iter().any(|verb| joins(verb))
}

/// `spacers` of ` with spacers on `, between an item and a place: a part which the place may be of.
fn part_at(between: &str) -> Option<&str> {
    let part = between.trim().strip_prefix("with ")?;
    let (part, placed) = part.rsplit_once(' ')?;
    let noun = part.rsplit(' ').next()?;
    let turned = ["head", "heads", "end", "ends", "side", "point", "points"].contains(&noun);
    (PLACING.contains(&placed) && part.split(' ').count() < 3 && !turned).then_some(noun)
}

/// What a bare `each` points back to, where that is hardware: the bolts in front of the washers and nuts
/// that it gives them. `four bolts, each with two washers and a nut`, `four bolts with two washers each`,
/// `two bolts, and add a nut to each`. True where a bare `each` is left that multiplies something else.
/// `alone`: no places are named.
pub(super) fn each_of_the_first(
    calls: &mut [Call],
    text: &str,
    bare: Option<usize>,
    alone: bool,
) -> bool {
    let main = calls
        .iter()
        .position(|call| call.is_long() && call.callout.quantity.is_some());
    let lower = text.to_ascii_lowercase();
    let Some(main) = main.filter(|&main| main + 1 < calls.len()) else {
        return bare.is_some();
    };
    // Items of one phrase stand at one place.
    let gap = lower.get(calls[main].at.end..calls[main + 1].at.start);
    let gap = gap.unwrap_or_default().trim();
    let gap = gap.trim_matches([',', '(', ' ']);
    let with = gap.split_whitespace().any(|w| w == "with" || w == "having");
    // Not `three posts, each bolt with a nut`, which is said of each bolt.
    let mut words = gap.split_whitespace().skip_while(|word| *word != "each");
    let each_with = words.next().is_some()
        && match words.next() {
            Some(word) => HAVING.contains(&word) || word == "fitted",
            None => with,
        };
    let to = ["to", "on", "onto", "over", "under", "in", "at"];
    let is_placed = |at: usize| {
        to.iter()
            .any(|to| ends_with_word(lower[..at].trim_end(), to))
    };
    // `four bolts, two washers each`
    let comma = alone && gap.is_empty() && lower[calls[main].at.end..].starts_with(',');
    let with = with || (comma && !bare.is_some_and(is_placed));
    let sets = calls[main].callout.quantity.map_or(1, |q| q.pieces);
    // `two bolts and two nuts to each` go to each of what stands before.
    let of_one_list = ["", "and"].contains(&gap);
    let given = |at: usize| {
        let mut behind = calls[main + 1..].iter().filter(|call| call.at.start < at);
        // `six bolts and nuts on each`: as many of each.
        let as_many = |call: &Call| {
            let several = text[call.at.clone()].trim_end().ends_with(['s', 'S']);
            call.pieces() >= sets || (several && call.callout.quantity.is_none())
        };
        let one_each = |call: &Call| call.is_small() && !(of_one_list && as_many(call));
        is_placed(at) && behind.all(one_each)
    };
    // `two bolts with two nuts to each`, which may be each of what stands before
    let listed = |at: usize| {
        is_placed(at)
            && calls[main + 1..]
                .iter()
                .all(|call| call.pieces() >= sets.max(1))
    };
    let each_behind =
        bare.filter(|&at| at > calls[main + 1].at.start && ((with && !listed(at)) || given(at)));
    let mut done = false;
    for call in &mut calls[main + 1..] {
        let taken = each_with || each_behind.is_some_and(|at| call.at.start < at);
        let small = call.is_small();
        if taken && small {
            let several = text[call.at.clone()].trim_end().ends_with(['s', 'S']);
            match &mut call.callout.quantity {
                Some(q) => q.pieces = q.pieces.saturating_mul(sets),
                // `three bolts, nut and washer on each`
                None if !several => {
                    call.callout.quantity = Some(Quantity {
                        pieces: sets,
                        packs: None,
                    });
                }
                None => {}
            }
            done = true;
        }
    }
    bare.is_some() && !done
}
