//! Bolts that are too short for what they hold, and lengths that no shop keeps.

use std::sync::LazyLock;

use indexmap::IndexMap;
use regex::Regex;
use rustc_hash::FxBuildHasher;

use super::{
    AuditFinding, Question, Weight,
    joint::{Duty, Joint, Member, gather, takes_nut},
};
use crate::{
    hardware::{
        Item, Kind, Length, Ratio, Standard, Style, Unit, is_stock_length, nuts::nut,
        washers::washer,
    },
    words::pattern,
};

/// A grip as notes give it: `grip 2-1/2`, `grip: 60 mm`, `2-1/2 in grip`.
static GRIP: LazyLock<Regex> = LazyLock::new(|| {
    pattern(
        r"(?xi) \b grip \s* (?:of|length|=|:)* \s* (?P<after> \d+ (?:[-\s]\d+)? (?:/\d+)? (?:\.\d+)? )
        | (?P<before> \d+ (?:[-\s]\d+)? (?:/\d+)? (?:\.\d+)? ) \s* (?:in|mm|[\x22\u{2033}])? \.? \s* grip \b",
    )
});

/// The grip that a note gives, in the unit of the fastener it stands beside.
fn grip(note: &str) -> Option<Ratio> {
    let found = GRIP.captures(note)?;
    let text = found.name("after").or(found.name("before"))?.as_str();
    let mut sum = Ratio::from(0);
    for part in text.split(['-', ' ']).filter(|part| !part.is_empty()) {
        let (numer, denom) = part.split_once('/').unwrap_or((part, "1"));
        let (whole, decimals) = numer.split_once('.').unwrap_or((numer, ""));
        if whole.len() + decimals.len() > 6 || denom.len() > 3 {
            return None;
        }
        let digits: i64 = format!("{whole}{decimals}").parse().ok()?;
        let denom: i64 = denom.parse().ok().filter(|d| *d > 0)?;
        sum += Ratio::new(digits, denom * 10_i64.pow(decimals.len() as u32));
    }
    Some(sum)
}

/// A height in the unit of a diameter.
fn height(length: Length, unit: Unit) -> Option<Ratio> {
    (length.unit() == unit).then(|| length.value())
}

/// Washers that each piece has, in whole numbers; a washer whose series is open counts as nothing.
fn washers(joint: &Joint<'_>, pieces: u64, unit: Unit) -> Option<Ratio> {
    let mut all = Ratio::from(0);
    for member in joint.with(Duty::Washer).chain(joint.with(Duty::LockWasher)) {
        let each = member.pieces? / pieces;
        if let Some(washer) = washer(member.item) {
            let each = i64::try_from(each).ok().filter(|each| *each < 10)?;
            all += height(washer.thickness.length(), unit)? * each;
        }
    }
    Some(all)
}

/// The shortest usual length of at least so much.
fn stock(item: &Item, least: Ratio) -> Option<Length> {
    let (step, make): (Ratio, fn(Ratio) -> Length) = match item.length?.unit() {
        Unit::Inch => (Ratio::new(1, 16), Length::Inch),
        Unit::Millimetre => (Ratio::from(1), Length::Millimetre),
    };
    let first = (least / step).ceil();
    (0..64)
        .map(|more| make((first + more) * step))
        .find(|&length| {
            let longer = Item {
                length: Some(length),
                ..item.clone()
            };
            is_stock_length(&longer) == Some(true)
        })
}

/// The grip that the joint's notes give, the washers and nut above it, and two threads: as much as a
/// bolt must reach (two threads past the nut, also past a nylon insert: common practice, no source).
fn too_short(joint: &Joint<'_>, bolt: &Member<'_>) -> Option<(String, String)> {
    let item = bolt.item;
    let (length, thread) = (item.length?, item.effective_thread()?);
    let unit = joint.diameter.unit();
    if item.kind != Some(Kind::Bolt) || item.style == Some(Style::U) || length.unit() != unit {
        return None;
    }
    let mut closing = joint.with(Duty::Nut);
    let (Some(first), None) = (closing.next(), closing.next()) else {
        return None;
    };
    let pieces = bolt.pieces.filter(|pieces| *pieces > 0)?;
    let closed = height(nut(first.item, Standard::Iso)?.height.length(), unit)?;
    let grip = bolt.placement.note.as_deref().and_then(grip);
    let alone = joint.with(Duty::Fastener).count() == 1;
    let below = match alone {
        true => washers(joint, pieces, unit)?,
        false => Ratio::from(0),
    };
    let needed = grip.unwrap_or(Ratio::from(0)) + below + closed;
    // One thread at the very least.
    if length.value() >= needed + thread.pitch() {
        return None;
    }
    let over = match grip {
        Some(grip) => format!(
            "a grip of {}, washers and nut",
            match unit {
                Unit::Inch => Length::Inch(grip),
                Unit::Millimetre => Length::Millimetre(grip),
            }
        ),
        None => "its own washers and nut alone".to_owned(),
    };
    let question = match stock(item, needed + thread.pitch() * 2) {
        Some(longer) if grip.is_some() => {
            format!("Is {longer} meant? Grip, washers, nut and two threads come to that.")
        }
        _ => "Is the length right?".to_owned(),
    };
    Some((format!("{item} does not reach through {over}"), question))
}

/// What the lengths of a joint ask against each other.
pub fn questions(joint: &Joint<'_>, found: &mut Vec<AuditFinding>) {
    for member in joint.with(Duty::Fastener).filter(|m| takes_nut(m.item)) {
        if let Some((text, question)) = too_short(joint, member) {
            found.push(AuditFinding {
                weight: Weight::Strong,
                ..AuditFinding::of(
                    joint,
                    Question::TooShort,
                    text,
                    question,
                    gather([member].into_iter().chain(joint.with(Duty::Nut))),
                )
            });
        }
    }
}

/// Asks of each item once, wherever it is used, whose length no shop keeps: the length is the item's.
pub fn odd_lengths<'a>(joints: impl Iterator<Item = &'a Joint<'a>>, found: &mut Vec<AuditFinding>) {
    // By item: stage and place of each use, and the line.
    let mut uses: IndexMap<&Item, Vec<([&'a str; 2], &Member<'_>)>, FxBuildHasher> =
        IndexMap::default();
    for joint in joints {
        let names = [joint.stage, joint.place()];
        let odd = |member: &&Member| is_stock_length(member.item) == Some(false);
        for member in joint.with(Duty::Fastener).filter(odd) {
            uses.entry(member.item).or_default().push((names, member));
        }
    }
    found.extend(uses.iter().map(|(item, uses)| {
        // The one name that all uses have.
        let same = |of: usize| {
            let mut names = uses.iter().map(|(names, _)| names[of]);
            let first = names.next().unwrap_or_default();
            if names.all(|name| name == first) {
                first
            } else {
                ""
            }
        };
        AuditFinding {
            stage: same(0).to_owned(),
            place: same(1).to_owned(),
            diameter: item.diameter,
            what: Question::OddLength,
            weight: Weight::Weak,
            found: format!("{item} is not kept in stock in that length"),
            question: "Is the length right, or is the piece made for the kit?".into(),
            evidence: gather(uses.iter().map(|(_, member)| *member)),
        }
    }));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(note: &str, expected: Option<(i64, i64)>) {
        let expected = expected.map(|(n, d)| Ratio::new(n, d));
        assert_eq!(grip(note), expected, "{note}");
    }

    #[test]
    fn grips() {
        case("grip 2-1/2", Some((5, 2)));
        case("Grip: 60 mm", Some((60, 1)));
        case("grip 2.25 in", Some((9, 4)));
        case("through both, 2 1/2 in grip", Some((5, 2)));
        case("good grip on the rail", None);
        case("grip", None);
        case("grip 9999999999999999999/7", None);
    }
}
