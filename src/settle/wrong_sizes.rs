//! Pieces that were perhaps packed in the place of others.

use super::{
    account::{Finding, FindingKind, ItemAccount},
    deal::Cost,
    findings::pieces,
    fit::plating_refutes,
    lengths::difference,
    pairs::{Held, enter, of_both, of_pairs, pair},
};
use crate::hardware::{Diameter, Item, Kind, Length, Ratio, Thread, Unit, Written};

/// Pairs what is over of one length with what is short of another, within kind, style (where both state
/// it), diameter and thread: the most pieces first, then the least difference of length in all; in a family of very many
/// lengths, the nearest first. So with parts of one name that differ in their figures or sides.
pub fn tell(items: &mut [ItemAccount], short: &[u64]) {
    let held = items.iter().zip(short);
    let held: Vec<Held> = held
        .map(|(item, short)| Held::of(item, *short, item.sums.extra))
        .collect();
    let mut pairs = in_families(&held);
    pairs.extend(pair(&held, of_one_name, |_, _| Some(Cost::own(0))));
    pairs.extend(across_units(held, &pairs));
    let found = of_pairs(&pairs, |over, at, number| {
        let unit = |item: &Item| item.diameter.map(|diameter| diameter.unit());
        let other = unit(&items[over].item) != unit(&items[at].item);
        let unit = match unit(&items[over].item) {
            Some(Unit::Millimetre) if other => ", which are metric",
            Some(Unit::Inch) if other => ", which are in inches",
            _ => "",
        };
        Finding {
            finding: wrong(&items[over].item, &items[at].item),
            pieces: number,
            note: format!(
                "Perhaps packed in its place: {} of {}{unit}.",
                pieces(number),
                items[over].text
            ),
            evidence: of_both(&items[over], &items[at]),
        }
    });
    enter(items, found);
}

/// Inch and metric diameters that are taken for one another: the inch in sixteenths, and millimetres (common
/// practice, no source).
const LOOK_ALIKE: [(i64, i64); 6] = [(4, 6), (5, 8), (6, 10), (8, 12), (10, 16), (12, 20)];

/// Pairs what is left over in millimetres with what is still short in inches, or the other way round.
fn across_units(mut held: Vec<Held>, paired: &[(usize, usize, u64)]) -> Vec<(usize, usize, u64)> {
    for &(over, at, number) in paired {
        held[over].over -= number;
        held[at].short -= number;
    }
    let family = |item: &Item| {
        let alike = LOOK_ALIKE
            .iter()
            .position(|&(sixteenths, mm)| match item.diameter {
                Some(Diameter::Inch(of)) => of == Ratio::new(sixteenths, 16),
                Some(Diameter::Metric(of)) => of == Ratio::from_integer(mm),
                _ => false,
            });
        Some((item.kind?, alike?))
    };
    pair(&held, family, |over, at| {
        let (a, b) = (held[over].item, held[at].item);
        let unit = |item: &Item| item.diameter.map(|diameter| diameter.unit());
        let styles = a.style == b.style || a.style.is_none() || b.style.is_none();
        let fits = unit(a) != unit(b) && styles && are_near(a.length, b.length);
        fits.then(|| Cost::own(i32::from(a.style != b.style)))
    })
}

/// True for lengths of one piece by the eye: within a tenth of the longer, or none on either side.
fn are_near(a: Option<Length>, b: Option<Length>) -> bool {
    let millimetres = |length: Length| match length.unit() {
        Unit::Inch => length.value() * Ratio::new(254, 10),
        Unit::Millimetre => length.value(),
    };
    match (a.map(millimetres), b.map(millimetres)) {
        (Some(a), Some(b)) => (a.max(b) - a.min(b)) * Ratio::from_integer(10) <= a.max(b),
        (a, b) => a == b,
    }
}

/// Tells of what a slip lists and nobody counted, where as many of another length, head or thread, or of a part of another
/// size or side, were counted that no list asks for: whoever counts writes down what lies there. What may be another word
/// for it stands in `alike`, the one wanted first.
pub fn ask(items: &mut [ItemAccount], alike: &[(usize, usize)]) {
    let is_open = |item: &ItemAccount| item.counted.is_none() && item.sums.short == 0;
    let held = items.iter().map(|item| {
        let believed = if is_open(item) { item.believed } else { 0 };
        let over = item.counted.map_or(0, |_| item.sums.extra);
        Held::of(item, believed, over)
    });
    let held: Vec<Held> = held.collect();
    let mut pairs = in_families(&held);
    pairs.retain(|&(over, at, _)| held[over].item.length != held[at].item.length);
    pairs.extend(pair(&held, of_one_name, |_, _| Some(Cost::own(0))));
    pairs.extend(pair(&held, of_one_size, |over, at| {
        let (over, at) = (held[over].item, held[at].item);
        let threads = over.effective_thread() != at.effective_thread();
        let heads = over.style.zip(at.style).is_some_and(|(a, b)| a != b);
        (threads || heads).then(|| Cost::own(0))
    }));
    pairs.retain(|&(over, at, number)| {
        let all = number == held[over].over && number == held[at].short;
        all && !alike.contains(&(at, over))
    });
    let found = of_pairs(&pairs, |over, at, number| {
        let whose = match items[over].shares.is_empty() {
            true => "which no list asks for",
            false => "more than the lists ask for",
        };
        Finding {
            finding: FindingKind::InItsPlace,
            pieces: number,
            note: format!(
                "It was not counted, and {} of {}, {whose}: perhaps packed in its place.",
                pieces(number),
                items[over].text
            ),
            evidence: of_both(&items[over], &items[at]),
        }
    });
    enter(items, found);
}

/// What bolts and screws share that differ in their heads and threads alone.
fn of_one_size(item: &Item) -> Option<(Diameter, Length)> {
    let is_driven = matches!(item.kind, Some(Kind::Bolt | Kind::Screw));
    item.diameter.zip(item.length).filter(|_| is_driven)
}

/// What parts share that differ in their figures and sides alone: `rail 2000` and `rail 1800`.
fn of_one_name(item: &Item) -> Option<String> {
    let name = item.part.as_ref()?.description.as_deref()?;
    Written::of(name).words.name()
}

/// True for items of which the one may lie in the place of the other: they differ in length, or in the figures and sides of
/// one name.
pub fn differs_in_size(a: &Item, b: &Item) -> bool {
    let lengths = a.length != b.length && misfit(a, b).is_some() && of_lengths(a) == of_lengths(b);
    lengths || of_one_name(a).is_some_and(|name| Some(name) == of_one_name(b))
}

/// What pieces share that differ in their length alone.
fn of_lengths(item: &Item) -> Option<(Kind, Diameter, Option<Thread>)> {
    let family = item.length.and_then(|_| item.family())?;
    // A size alone, `M12 x 80`, is a bolt's (common practice, no source).
    let kind = family.kind.unwrap_or(Kind::Bolt);
    Some((kind, family.diameter, family.thread))
}

fn in_families(held: &[Held]) -> Vec<(usize, usize, u64)> {
    pair(held, of_lengths, |over, at| {
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
    if over.length != short.length || over.diameter != short.diameter {
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
