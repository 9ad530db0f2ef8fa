//! Where a line belongs.

use std::sync::LazyLock;

use regex::Regex;

use super::{
    remark::{may_be_change, may_change, qualifies_lines},
    role::Role,
    usage::{Usage, usage},
};
use crate::{
    columns::furniture::{Container, container, container_name},
    doubt::Doubt,
    notation::torque::{Called, read},
    words::{fold, pattern},
};

/// Which option a line belongs to.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct OptionRule {
    /// `true`: needed with the option; `false`: needed without it.
    pub with: bool,
    /// Lower case, white space folded.
    pub name: Box<str>,
}

impl OptionRule {
    /// True where a kit with those options needs the line.
    pub fn holds(&self, with: &[String]) -> bool {
        with.contains(&fold(&self.name)) == self.with
    }
}

/// Where a line belongs: everything a row says besides what the item is and how many.
/// One value is shared by all lines that say the same.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Placement {
    pub stage: Option<Box<str>>,
    pub place: Option<Box<str>>,
    pub bag: Option<Box<str>>,
    pub carton: Option<Box<str>>,
    pub option: Option<OptionRule>,
    /// `None` is new.
    pub usage: Option<Usage>,
    /// As called, unit included.
    pub torque: Option<Box<str>>,
    /// When it is tightened among the others, or in which pattern, as the list says.
    pub sequence: Option<Box<str>>,
    pub note: Option<Box<str>>,
    pub counted_by: Option<Box<str>>,
    /// Where the shop keeps it.
    pub bin: Option<Box<str>>,
}

/// Cells that a placement is made of: stage, place, bag, box, option, use, torque, note, counted by,
/// bin, sequence.
pub const CELLS: usize = 11;

/// The option that a cell names: `with: handrail`, `without handrail`, `option: handrail`, `handrail`.
pub fn option(text: &str) -> Option<OptionRule> {
    let folded = fold(text);
    let folded = folded.trim_matches(|c: char| matches!(c, '(' | ')' | '.'));
    if matches!(
        folded,
        "" | "-"
            | "--"
            | "–"
            | "—"
            | "none"
            | "no"
            | "n/a"
            | "all"
            | "std"
            | "standard"
            | "any"
            | "both"
    ) {
        return None;
    }
    let strip = |words: &[&str]| {
        words.iter().find_map(|word| {
            let rest = folded.strip_prefix(word)?;
            let named = rest.trim_start_matches([':', '=']).trim();
            (rest.starts_with([':', '=', ' ']) && !named.is_empty()).then_some(named)
        })
    };
    let (with, name) = if let Some(name) = strip(&["without", "w/o", "not with", "if no", "no"]) {
        (false, name)
    } else if let Some(name) = strip(&["with", "option", "w/", "if", "only with"]) {
        (true, name)
    } else {
        (true, folded)
    };
    Some(OptionRule {
        with,
        name: name.into(),
    })
}

/// True for a mark by which there may be several bags or boxes: `2x A`, `A (2 off)`, `1 & 2`, `1 to 2`, `each`; `1-2` is a
/// range of boxes. Common practice, no source.
fn are_several(mark: &str, what: &str) -> bool {
    static SEVERAL: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) ^ \W* (?: (?: bag | box(?:e)? | carton | case ) s? \s+ )? \w{1,4} (?: \s* (?: [&+,] | \s and \s | \s to \s ) \s* \w{1,4} )+ $
            | ^ \W* [2-9] \s* (?: x | × ) \s* [a-z\d] | [\s(] (?: x | × ) \s* [2-9] \W* $ | \b [2-9] \s+ off \b
            | ^ \W* (?: each | every | both ) \b",
        )
    });
    static RANGE: LazyLock<Regex> =
        LazyLock::new(|| pattern(r"^\W*(?P<from>\d{1,3})\s*[-\u{2013}]\s*(?P<to>\d{1,3})$"));
    let is_range = || {
        let found = RANGE.captures(mark)?;
        let [from, to] = ["from", "to"].map(|end| found[end].parse::<u32>().ok());
        Some(from? < to?)
    };
    SEVERAL.is_match(mark) || what == "box" && is_range() == Some(true)
}

/// A placement from its cells, in the order of [`CELLS`]. `torque_unit` is the unit of bare torques.
/// What makes a line there doubtful comes back beside it: a use that no rule knows, a remark that may
/// change how many. `role`: where its lines ask for pieces, their title may say which of them are needed.
pub fn placement<'a>(
    cells: impl Fn(usize) -> &'a str,
    torque_unit: Option<&str>,
    role: Role,
) -> (Placement, Vec<Doubt>) {
    let text = |index: usize| {
        let cell = cells(index).trim();
        (!cell.is_empty()).then(|| Box::<str>::from(cell))
    };
    let asks = role == Role::Required;
    // `sold separately` under `Bag`.
    let used = |index: usize| usage(cells(index)).filter(|_| asks && cells(index).contains(' '));
    let named = |index: usize| {
        let cell = text(index).filter(|_| used(index).is_none())?;
        Some(Box::from(container_name(&cell)))
    };
    let (written, note) = (cells(5), text(7));
    let title = cells(0).trim().trim_end_matches(':').trim_end();
    let stated = usage(written);
    let mut doubts = Vec::new();
    if stated.is_none() && !written.trim().is_empty() {
        let unknown = written.trim();
        doubts.push(Doubt::HowMany(
            format!("the use \"{unknown}\" is not known: taken as new").into(),
        ));
    }
    let usage = stated
        .or_else(|| note.as_deref()?.split(';').find_map(usage))
        .or_else(|| usage(title).filter(|_| asks))
        .or_else(|| used(2).or(used(3)))
        .filter(|&usage| usage != Usage::New);
    if asks && usage.is_none() && cells(4).is_empty() && qualifies_lines(title) {
        // Perhaps none of them is.
        doubts.push(Doubt::OrElse {
            pieces: 0,
            said: format!("\"{title}\" may say which of its lines are needed, or how often: taken as new, and once")
                .into(),
        });
    }
    for (index, what) in [(2, "bag"), (3, "box")] {
        let several = text(index).filter(|mark| used(index).is_none() && are_several(mark, what));
        doubts.extend(several.map(|mark| {
            let said = format!("the {what} \"{mark}\" may be several: how many lie in each?");
            Doubt::HowMany(said.into())
        }));
    }
    if let Some(note) = note.as_deref()
        && usage.is_none()
        && may_change(note, role)
    {
        doubts.push(Doubt::Remark(note.into()));
    }
    // Who counted has no other place for a remark.
    let who = cells(8).trim();
    if who.contains(|c: char| c.is_ascii_digit()) || may_be_change(who, role) {
        doubts.push(Doubt::Remark(who.into()));
    }
    let torque = text(6).map(|torque| match torque_unit {
        Some(unit)
            if torque
                .bytes()
                .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b',')) =>
        {
            format!("{torque} {unit}").into()
        }
        _ => torque,
    });
    if let Some(called) = torque.as_deref()
        && matches!(
            read(called),
            Called::Torque {
                disagrees: true,
                ..
            }
        )
    {
        let said = format!("the torque \"{called}\" is two: the figures are not of one");
        doubts.push(Doubt::Said(said.into()));
    }
    // `Bag/Box` over `Box 1`, `H1`.
    let (mut bag, mut carton) = (named(2), named(3));
    if carton.is_none() && matches!(container(cells(2)), Some(Container::Box(_))) {
        carton = bag.take();
    } else if bag.is_none() && matches!(container(cells(3)), Some(Container::Bag(_))) {
        bag = carton.take();
    }
    let placement = Placement {
        stage: text(0),
        place: text(1),
        bag,
        carton,
        option: option(cells(4)),
        usage,
        torque,
        note,
        counted_by: text(8),
        bin: text(9),
        sequence: text(10),
    };
    (placement, doubts)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn options() {
        #[track_caller]
        fn case(text: &str, expected: Option<(bool, &str)>) {
            let found = option(text);
            assert_eq!(
                found.as_ref().map(|o| (o.with, &*o.name)),
                expected,
                "{text}"
            );
        }
        case("with: handrail", Some((true, "handrail")));
        case("Handrail  Mesh", Some((true, "handrail mesh")));
        case("without: approach ramp", Some((false, "approach ramp")));
        case("without handrail", Some((false, "handrail")));
        case("No handrail", Some((false, "handrail")));
        case("w/o handrail", Some((false, "handrail")));
        case("Option: handrail", Some((true, "handrail")));
        case("(with handrail)", Some((true, "handrail")));
        case("northern post", Some((true, "northern post")));
        case("-", None);
        case("Standard", None);
        case("", None);
    }

    #[test]
    fn uses() {
        assert_eq!(usage("Carried over"), Some(Usage::CarriedOver));
        assert_eq!(usage("sold  separately."), Some(Usage::NotInKit));
        assert_eq!(usage("By others"), Some(Usage::NotInKit));
        assert_eq!(usage("Remove and keep"), Some(Usage::Returned));
        assert_eq!(usage("new"), Some(Usage::New));
        assert_eq!(usage("on the north side"), None);
    }

    /// What becomes of the pieces may stand where their bag would.
    #[test]
    fn a_use_is_no_bag() {
        for (cell, bag, used) in [
            ("sold separately", None, Some(Usage::NotInKit)),
            ("by others", None, Some(Usage::NotInKit)),
            ("others", Some("others"), None),
            ("B 2", Some("B 2"), None),
        ] {
            let cells = |index: usize| if index == 2 { cell } else { "" };
            let (placement, _) = super::placement(cells, None, Role::Required);
            assert_eq!(
                (placement.bag.as_deref(), placement.usage),
                (bag, used),
                "{cell}"
            );
        }
    }
}
