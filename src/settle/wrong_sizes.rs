//! Pieces that were perhaps packed in the place of others.

use super::{
    account::{Finding, FindingKind, ItemAccount},
    deal::Cost,
    findings::pieces,
    fit::plating_refutes,
    lengths::difference,
    pairs::{Held, enter, of_both, of_pairs, pair},
};
use crate::hardware::Item;

/// Pairs what is over of one length with what is short of another, within kind, style (where both state
/// it), diameter and thread: the most pieces first, then the least difference of length in all; in a family of very many
/// lengths, the nearest first.
pub fn tell(items: &mut [ItemAccount], short: &[u64]) {
    let held = items.iter().zip(short);
    let held: Vec<Held> = held
        .map(|(item, short)| Held::of(item, *short, item.sums.extra))
        .collect();
    let found = of_pairs(&in_families(&held), |over, at, number| Finding {
        finding: wrong(&items[over].item, &items[at].item),
        pieces: number,
        note: format!(
            "Perhaps packed in its place: {} of {}.",
            pieces(number),
            items[over].text
        ),
        evidence: of_both(&items[over], &items[at]),
    });
    enter(items, found);
}

/// Tells of what a slip lists and nobody counted, where as many were counted of another length that no list asks
/// for: whoever counts writes down what lies there. Another finish may be another word for it (`ledger::alike`).
pub fn ask(items: &mut [ItemAccount]) {
    let is_foreign = |item: &ItemAccount| item.shares.is_empty() && item.counted.is_some();
    let is_open = |item: &ItemAccount| item.counted.is_none() && item.sums.short == 0;
    let held = items.iter().map(|item| {
        let believed = if is_open(item) { item.believed } else { 0 };
        let over = if is_foreign(item) { item.sums.extra } else { 0 };
        Held::of(item, believed, over)
    });
    let held: Vec<Held> = held.collect();
    let mut pairs = in_families(&held);
    pairs.retain(|&(over, at, number)| {
        let (over, at) = (&held[over], &held[at]);
        number == over.over && number == at.short && over.item.length != at.item.length
    });
    let found = of_pairs(&pairs, |over, at, number| Finding {
        finding: FindingKind::WrongSize,
        pieces: number,
        note: format!(
            "It was not counted, and {} of {}, which no list asks for: perhaps packed in its place.",
            pieces(number),
            items[over].text
        ),
        evidence: of_both(&items[over], &items[at]),
    });
    enter(items, found);
}

fn in_families(held: &[Held]) -> Vec<(usize, usize, u64)> {
    let family = |item: &Item| {
        let family = item.length.and_then(|_| item.family())?;
        Some((family.kind, family.diameter, family.thread))
    };
    pair(held, family, |over, at| {
        misfit(held[over].item, held[at].item)
    })
}

/// How ill an item that is over fits the place of one that is short: the difference of length first;
/// of lengths equally far apart, the like material goes first.
fn misfit(a: &Item, b: &Item) -> Option<Cost> {
    if a.style != b.style && a.style.is_some() && b.style.is_some() {
        return None;
    }
    let differs = [a.grade != b.grade, a.finish != b.finish, a.style != b.style];
    let material = differs.map(i32::from).into_iter().sum();
    Some(Cost::own(material).apart(difference(a.length?, b.length?)?))
}

/// In what a piece is wrong that was perhaps packed in place of another.
fn wrong(over: &Item, short: &Item) -> FindingKind {
    if over.length != short.length {
        return FindingKind::WrongSize;
    }
    let grades = over.grade.zip(short.grade);
    let finish = match over.finish.zip(short.finish) {
        Some((has, asked)) => !has.agrees(asked),
        None => plating_refutes(over, short) || plating_refutes(short, over),
    };
    match grades.is_some_and(|(has, asked)| !has.agrees(asked)) {
        true => FindingKind::WrongGrade,
        false if finish => FindingKind::WrongFinish,
        false => FindingKind::WrongSize,
    }
}
