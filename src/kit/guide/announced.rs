//! Sentences that name a stage's hardware and put none of it in: what it needs, what is to lie ready, what a figure
//! shows (common practice, no source). To the sentences that do put it in they are what a list of the hardware is.

use rustc_hash::FxHashSet;

use super::{
    Asked, Listed, hold_against,
    listed::{fits, pieces, wanted},
    prose::{VERBS, announces, is_side, words},
    restated::tells_of_done,
    whereabouts::Whereabouts,
};
use crate::{
    Doubt,
    kit::Usage,
    notation::{Call, Sentence},
};

/// How a sentence names hardware without putting it in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Announced {
    /// `You will need eight bolts.`, `Take eight bolts from bag 2.`
    Needed,
    /// `Each foot needs two bolts.`
    NeededByPart,
    /// `Figure 2 shows two bolts in place.`
    Shown,
}

#[rustfmt::skip]
const PICTURES: &[&str] = &[
    "fig", "figure", "drawing", "picture", "photo", "photograph", "diagram", "sketch", "illustration", "see",
];
const SHOWS: &[&str] = &["shows", "show", "depicts", "pictures", "see"];

/// Verbs that say what is needed; of the last ones, where it is a stage that does.
#[rustfmt::skip]
const NEEDS: &[&str] = &["need", "needs", "require", "requires", "needed", "required", "uses", "takes", "calls", "use"];
const OF_STAGE: &[&str] = &["you", "we", "stage", "step", "section", "this"];

/// Verbs by which hardware is laid ready, of itself or with [`READY`] beside them.
#[rustfmt::skip]
const GATHERS: &[&str] = &["take", "get", "find", "collect", "gather", "have", "fetch", "grab", "choose", "select", "locate", "prepare"];
const LAYS: &[&str] = &["lay", "set", "put", "pick", "count", "sort", "keep"];
const READY: &[&str] = &["out", "ready", "aside", "hand", "by"];

/// Words by which pieces go where they belong.
const TO_PLACE: &[&str] = &["off", "with", "through", "into", "onto", "on"];

/// `another two`: beside those that were named.
const MORE: &[&str] = &["another", "more", "further", "additional", "extra", "other"];

const THEM: &[&str] = &["them", "these", "those"];

/// How a sentence names its hardware, where it puts none in. `next`: the one behind it in its paragraph.
pub(super) fn announced(said: &Sentence, next: Option<&str>) -> Option<Announced> {
    let (first, last) = (said.calls.first()?, said.calls.last()?);
    let lead: Vec<String> = words(&said.text[..first.at.start]).collect();
    let tail: Vec<String> = words(&said.text[last.at.end..]).collect();
    let of_next: Vec<String> = next.into_iter().flat_map(words).collect();
    let is = |known: &[&str], word: &str| known.contains(&word);
    let says = |all: &[String], known: &[&str]| all.iter().any(|word| is(known, word));
    if says(&lead, PICTURES) && says(&lead, SHOWS) {
        return Some(Announced::Shown);
    }
    let in_clause = |call: &Call| words(&said.text[call.at.clone()]).any(|word| is(MORE, &word));
    if says(&lead, MORE) || says(&tail, THEM) || said.calls.iter().any(in_clause) {
        return None;
    }
    // `Eight bolts are needed here.`
    if let [be, verb, ..] = tail.as_slice()
        && is(&["is", "are"], be)
        && is(&["needed", "required"], verb)
    {
        return Some(Announced::Needed);
    }
    // `Hardware for this step: eight bolts.`
    let label = said.text[..first.at.start].trim_end().strip_suffix(':');
    if tells_of_done(&said.text) {
        return None;
    }
    if label.is_some_and(announces) {
        return Some(Announced::Needed);
    }
    if let Some(at) = lead.iter().position(|word| is(NEEDS, word)) {
        let (subject, object) = (&lead[..at], &lead[at + 1..]);
        let is_it = subject
            .last()
            .is_none_or(|word| is(&["it", "they", "to"], word));
        let of_stage = says(subject, OF_STAGE);
        return match () {
            () if puts(object) || is_it => None,
            () if of_stage => Some(Announced::Needed),
            () => Some(Announced::NeededByPart),
        };
    }
    let at = lead
        .iter()
        .position(|word| is(GATHERS, word) || is(LAYS, word))?;
    let are_put =
        puts(&lead) || puts(&tail) || says(&tail, TO_PLACE) || says(&lead[at..], TO_PLACE);
    let ready = is(GATHERS, &lead[at]) || says(&lead[at..], READY) || says(&tail, READY);
    (ready && !are_put && !says(&of_next, THEM)).then_some(Announced::Needed)
}

/// True where words tell to put something in.
pub(super) fn puts(words: &[String]) -> bool {
    #[rustfmt::skip]
    const PUT_NOTHING: &[&str] = &["you", "start", "begin", "do", "same", "check", "place", "unpack", "make", "using"];
    let is = |known: &[&str], word: &str| known.contains(&word);
    words.iter().any(|word| {
        is(VERBS, word) && !is(GATHERS, word) && !is(LAYS, word) && !is(PUT_NOTHING, word)
    })
}

/// More announcements are no stage's (common practice, no source).
const MOST: usize = 100;

/// Holds what a stage's sentences put in against what others of them announce, as far as they name no other place.
pub(super) fn hold_against_announced(all: &mut [Asked], title: &str) {
    if all.iter().all(|one| one.announced.is_none()) {
        return;
    }
    let whereabouts = |one: &Asked| Whereabouts::of(&one.text).without(title);
    let places: Vec<Whereabouts> = all.iter().map(whereabouts).collect();
    let needed = |one: &Asked| one.announced == Some(Announced::Needed) && wanted(one).is_some();
    let lists: Vec<(usize, Asked)> = (0..)
        .zip(&*all)
        .filter(|(_, one)| needed(one))
        .map(|(at, one)| (at, one.clone()))
        .collect();
    let listed: Vec<Listed> = lists
        .iter()
        .filter_map(|(at, one)| {
            Some(Listed {
                at: *at,
                row: one.row,
                item: wanted(one)?,
                pieces: pieces(one),
            })
        })
        .collect();
    // What is put in elsewhere, and the row of what is announced for another place and put in nowhere.
    let mut elsewhere: Vec<(usize, u32)> = Vec::new();
    // What may be put in elsewhere.
    let mut unsure: Vec<(usize, usize)> = Vec::new();
    let mut open: FxHashSet<usize> = listed.iter().take(MOST).map(|one| one.at).collect();
    for (at, one) in all.iter().enumerate() {
        let Some(item) = wanted(one).filter(|_| one.announced.is_none()) else {
            continue;
        };
        let alike = listed
            .iter()
            .take(MOST)
            .filter(|list| fits(list.item, item));
        let (apart, here): (Vec<&Listed>, Vec<&Listed>) =
            alike.partition(|list| places[list.at].is_apart_from(&places[at]));
        let is_open = |list: &&&Listed| {
            let (there, here) = (&all[list.at].text, &one.text);
            places[list.at].may_be_apart_from(&places[at]) || other_of(there, here)
        };
        if let Some(list) = here.iter().find(is_open) {
            unsure.push((at, list.at));
        }
        for list in &here {
            open.remove(&list.at);
        }
        if let (Some(first), []) = (apart.first(), &*here) {
            elsewhere.push((at, first.row));
        }
    }
    let open: FxHashSet<u32> = open.iter().map(|at| all[*at].row).collect();
    let mut put: Vec<&mut Asked> = all
        .iter_mut()
        .enumerate()
        .filter(|(at, one)| {
            let apart = elsewhere.binary_search_by_key(at, |(at, _)| *at).is_ok();
            one.announced.is_none() && !apart
        })
        .map(|(_, one)| one)
        .collect();
    for (at, torque) in hold_against(&listed, 0, &mut put) {
        match torque {
            Ok(torque) => all[at].torque = all[at].torque.take().or(Some(torque)),
            Err(doubt) => all[at].doubts.push(doubt),
        }
    }
    for (at, list) in unsure {
        if all[at].usage == Some(Usage::Reference) {
            let row = all[at].row;
            let said = format!(
                "line {row} puts as many in, maybe at another place: taken as these, and not as more"
            );
            let doubt = Doubt::HowMany(said.into());
            if !all[list].doubts.contains(&doubt) {
                all[list].doubts.push(doubt);
            }
        }
    }
    for (at, row) in elsewhere {
        if open.contains(&row) {
            all[at]
                .doubts
                .push(may_be_those(row, "names such for another place"));
        }
    }
    for at in 0..all.len() {
        let kind = all[at].announced;
        let Some(item) =
            wanted(&all[at]).filter(|_| kind.is_some_and(|kind| kind != Announced::Needed))
        else {
            continue;
        };
        let shown = kind == Some(Announced::Shown);
        let is_same = |one: &Asked| {
            let same = wanted(one).is_some_and(|other| fits(other, item) || fits(item, other));
            same && (shown || share_noun(&all[at].text, &one.text))
        };
        let others = (all.iter().zip(&places))
            .filter(|(one, _)| matches!(one.announced, None | Some(Announced::Needed)))
            .filter(|(one, _)| is_same(one));
        let (apart, others): (Vec<_>, Vec<_>) =
            others.partition(|(_, place)| place.is_apart_from(&places[at]));
        let Some(row) = others.first().map(|(one, _)| one.row) else {
            if let Some((other, _)) = apart.first().filter(|_| shown) {
                let doubt = may_be_those(other.row, "puts such in at another place");
                all[at].doubts.push(doubt);
            }
            continue;
        };
        let there: Option<u64> = others.iter().map(|(one, _)| pieces(one)).sum();
        let here = pieces(&all[at]);
        let one = &mut all[at];
        match shown {
            true if here <= there => one.usage = Some(Usage::Reference),
            false if here == there => {
                one.usage = Some(Usage::Reference);
                let said = format!("line {row} puts as many in: taken as those, and not as more");
                one.doubts.push(Doubt::Said(said.into()));
            }
            _ => one.doubts.push(may_be_those(row, "puts such in, too")),
        }
    }
}

/// True where one of two sentences names another of what both name: `this bracket`, `the next bracket`.
fn other_of(one: &str, other: &str) -> bool {
    const OTHERS: &[&str] = &["next", "other", "second", "third", "another", "last"];
    let tells = |text: &str, word: &str| words(text).any(|of| of == word);
    OTHERS
        .iter()
        .any(|word| tells(one, word) != tells(other, word))
}

/// The doubt of pieces that another line may ask for already.
pub(super) fn may_be_those(row: u32, why: &str) -> Doubt {
    Doubt::OrElse {
        pieces: 0,
        said: format!("line {row} {why}: may be the same pieces; taken as more").into(),
    }
}

/// True where two sentences name a thing alike: `Each foot needs two bolts. Fit two to each foot.`
fn share_noun(one: &str, other: &str) -> bool {
    const LEAST: usize = 4;
    let names: Vec<String> = words(other).collect();
    words(one)
        .take_while(|word| !NEEDS.contains(&&**word))
        .filter(|word| word.len() >= LEAST && !is_side(word) && word != "each" && word != "every")
        .any(|word| {
            names
                .iter()
                .any(|name| name.trim_end_matches('s') == word.trim_end_matches('s'))
        })
}
