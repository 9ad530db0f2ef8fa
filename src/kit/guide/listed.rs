//! What a stage's list and its sentences both name: guides often list a step's hardware above its sentences
//! (common practice, no source).

use rustc_hash::FxHashMap;

use super::Asked;
use crate::{
    Doubt,
    hardware::{Diameter, Item, Kind, Length},
    kit::Usage,
};

/// An item that a list names.
#[derive(Clone, Copy)]
pub struct Listed<'a> {
    /// Which line of them all.
    pub at: usize,
    pub row: u32,
    pub item: &'a Item,
    /// At all places.
    pub pieces: Option<u64>,
}

/// More sentences that ask for what may be of one size are no guide's; they are held for themselves (common practice, no
/// source).
const MOST_OF_A_SIZE: usize = 1_000;

/// What sentences say of the torque of a line that is listed: one, or which.
pub type TorqueOf = (usize, Result<String, Doubt>);

/// Holds what a stage's sentences ask for against what is listed, its own list from `stage` on. What comes
/// to as many is required once, as it is listed, with the torque that the sentences call for; what does not may be
/// the same pieces.
pub fn hold_against(listed: &[Listed], stage: usize, asked: &mut [&mut Asked]) -> Vec<TorqueOf> {
    let mut told = Vec::new();
    let mut held = vec![false; asked.len()];
    let mut of_key: FxHashMap<Key, Vec<&Listed>> = FxHashMap::default();
    for one in listed {
        for key in keys(one.item) {
            of_key.entry(key).or_default().push(one);
        }
    }
    let mut asked_of: FxHashMap<Key, Vec<usize>> = FxHashMap::default();
    for (i, one) in asked.iter().enumerate() {
        if let Some(item) = wanted(one) {
            asked_of.entry(key(item)).or_default().push(i);
        }
    }
    for at in 0..asked.len() {
        let Some(item) = wanted(asked[at]).filter(|_| !held[at]).cloned() else {
            continue;
        };
        let own = &listed[if asked[at].known { 0 } else { stage }..];
        let first = own.first().map_or(usize::MAX, |one| one.at);
        let sized = of_key.get(&key(&item)).map_or(&[][..], Vec::as_slice);
        let rows = |alike: fn(&Item, &Item) -> bool| -> Vec<&Listed> {
            let own = sized.iter().filter(|one| one.at >= first).copied();
            own.filter(|one| alike(one.item, &item)).collect()
        };
        let exact = rows(|a, b| fits(a, b) && is_of_style(a, b));
        let of_kind = exact.is_empty() && is_open(&item);
        let (rows, alike): (Vec<_>, fn(&Item, &Item) -> bool) = match exact.is_empty() {
            false => (exact, |a, b| fits(a, b) && is_of_style(a, b)),
            true if of_kind => {
                let alike = |one: &&Listed| is_of_style_and_kind(one.item, &item);
                (own.iter().filter(alike).collect(), is_of_style_and_kind)
            }
            true => (rows(fits), fits),
        };
        let Some(first) = rows.first() else { continue };
        let row = first.row;
        let there: Option<u64> = rows.iter().map(|one| one.pieces).sum();
        let mut items: Vec<&Item> = rows.iter().map(|row| row.item).collect();
        items.dedup();
        // All of them are settled at once, since their sum is what agrees.
        let of_rows = |one: &Asked| {
            wanted(one).is_some_and(|item| items.iter().any(|listed| alike(listed, item)))
        };
        let mut all: Vec<usize> = match of_kind {
            true => (at..asked.len()).collect(),
            false => {
                let mut keys: Vec<Key> = items.iter().flat_map(|item| keys(item)).collect();
                keys.sort_unstable();
                keys.dedup();
                let own = key(&item);
                let all = keys
                    .iter()
                    .filter_map(|key| Some((key, asked_of.get(key)?)));
                let all = all.filter(|(key, all)| **key == own || all.len() <= MOST_OF_A_SIZE);
                let all = all.map(|(_, all)| all);
                all.flatten().copied().filter(|&i| i >= at).collect()
            }
        };
        all.sort_unstable();
        all.retain(|&i| of_rows(asked[i]));
        let here: Option<u64> = all.iter().map(|&i| pieces(asked[i])).sum();
        let agree = there.is_some() && there == here;
        let sure = !is_open(&item) && items.iter().all(|listed| is_of_style(listed, &item));
        if agree && let Some(torque) = torque(all.iter().map(|&i| &*asked[i])) {
            told.extend(rows.iter().map(|one| (one.at, torque.clone())));
        }
        for i in all {
            // One doubt is enough.
            let is_doubted = std::mem::replace(&mut held[i], true);
            let one = &mut *asked[i];
            match (agree, sure) {
                (true, true) => {
                    one.usage = Some(Usage::Reference);
                    one.doubts.retain(|doubt| !doubt.is_of_how_many());
                }
                (true, false) if is_doubted => one.usage = Some(Usage::Reference),
                (true, false) => {
                    one.usage = Some(Usage::Reference);
                    one.doubts.push(Doubt::Said(
                        format!("line {row} lists as many: taken as those, and not as more").into(),
                    ));
                }
                (false, _) if is_doubted || is_open(&item) => {}
                (false, _) => {
                    let said =
                        format!("line {row} lists it too: may be the same pieces; taken as more");
                    one.doubts.push(Doubt::OrElse {
                        pieces: 0,
                        said: said.into(),
                    });
                }
            }
        }
    }
    told
}

/// What items share that fit: kind, size, and the last word of a part.
pub(super) type Key = (Option<Kind>, Option<Diameter>, Option<Length>, String);

pub(super) fn key(item: &Item) -> Key {
    let word = match item.kind {
        Some(Kind::Part) => last_word(item),
        _ => String::new(),
    };
    (item.kind, item.diameter, item.length, word)
}

/// The keys of what fits an item: its length stated, and not stated.
fn keys(there: &Item) -> Vec<Key> {
    let (kind, diameter, length, word) = key(there);
    let mut keys = vec![(kind, diameter, None, word.clone())];
    if length.is_some() {
        keys.push((kind, diameter, length, word));
    }
    keys
}

/// The torque that all of them are called to, if any are.
fn torque<'a>(all: impl Iterator<Item = &'a Asked>) -> Option<Result<String, Doubt>> {
    let mut torques: Vec<Option<&str>> = all.map(|one| one.torque.as_deref()).collect();
    torques.sort_unstable();
    torques.dedup();
    match torques.as_slice() {
        [one] => one.map(|one| Ok(one.to_owned())),
        several => {
            let named: Vec<&str> = several.iter().flatten().copied().collect();
            let said = match named.as_slice() {
                [one] => {
                    format!("the sentences call some of them to {one}, and not all: none was taken")
                }
                all => format!(
                    "the sentences call them to {}: none was taken",
                    all.join(" and to ")
                ),
            };
            Some(Err(Doubt::Said(said.into())))
        }
    }
}

/// The item that is asked for anew.
pub(super) fn wanted(asked: &Asked) -> Option<&Item> {
    let is_new = asked.usage.is_none_or(|usage| usage == Usage::New);
    let callout = asked.callout.as_ref().ok()?;
    is_new.then_some(&callout.item)
}

pub(super) fn pieces(asked: &Asked) -> Option<u64> {
    let quantity = asked.callout.as_ref().ok()?.quantity?;
    Some(quantity.pieces * u64::from(asked.places))
}

/// Neither size nor name says which it is.
fn is_open(item: &Item) -> bool {
    item.diameter.is_none() && item.length.is_none() && item.kind != Some(Kind::Part)
}

pub(super) fn fits(there: &Item, item: &Item) -> bool {
    there.kind == item.kind
        && there.diameter == item.diameter
        && (there.length == item.length || item.length.is_none())
        && (item.kind != Some(Kind::Part) || last_word(there) == last_word(item))
}

fn is_of_style(there: &Item, item: &Item) -> bool {
    if item.kind == Some(Kind::Part) {
        return name(there) == name(item);
    }
    item.style.is_none() || there.style.is_none() || there.style == item.style
}

/// A part's name, whether of one or of several.
fn name(part: &Item) -> String {
    let text = part.text().to_lowercase();
    text.strip_suffix('s').map_or(text.clone(), str::to_owned)
}

fn last_word(part: &Item) -> String {
    let name = name(part);
    name.rsplit(' ').next().unwrap_or_default().to_owned()
}

/// `Screw the four bearers down, four deck screws to each` below `16 #10 x 3 deck screws`.
fn is_of_style_and_kind(there: &Item, item: &Item) -> bool {
    there.kind == item.kind && (item.style.is_none() || there.style == item.style)
}
