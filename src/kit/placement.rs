//! Where a line belongs, from its cells.

use super::{
    list::{OptionRule, Placement, Usage},
    remark::may_change_count,
};
use crate::{columns::furniture::container_name, doubt::Doubt, words::fold};

/// Cells that a placement is made of: stage, place, bag, box, option, use, torque, note, counted by,
/// bin, sequence.
pub const CELLS: usize = 11;

/// What is written under "Use", in lower case, and what it means.
const USES: &[(&str, Usage)] = &[
    ("new", Usage::New),
    ("carried over", Usage::CarriedOver),
    ("carry over", Usage::CarriedOver),
    ("already fitted", Usage::CarriedOver),
    ("already installed", Usage::CarriedOver),
    ("already in place", Usage::CarriedOver),
    ("fitted earlier", Usage::CarriedOver),
    ("from previous stage", Usage::CarriedOver),
    ("from previous step", Usage::CarriedOver),
    ("from earlier stage", Usage::CarriedOver),
    ("from earlier step", Usage::CarriedOver),
    ("existing", Usage::CarriedOver),
    ("reuse", Usage::CarriedOver),
    ("re-use", Usage::CarriedOver),
    ("reused", Usage::CarriedOver),
    ("re-used", Usage::CarriedOver),
    ("comes fitted", Usage::ComesFitted),
    ("fitted", Usage::ComesFitted),
    ("factory fitted", Usage::ComesFitted),
    ("factory installed", Usage::ComesFitted),
    ("pre-fitted", Usage::ComesFitted),
    ("prefitted", Usage::ComesFitted),
    ("pre-installed", Usage::ComesFitted),
    ("preinstalled", Usage::ComesFitted),
    ("pre-assembled", Usage::ComesFitted),
    ("preassembled", Usage::ComesFitted),
    ("supplied fitted", Usage::ComesFitted),
    ("attached", Usage::ComesFitted),
    ("returned", Usage::Returned),
    ("return", Usage::Returned),
    ("remove and keep", Usage::Returned),
    ("removed and kept", Usage::Returned),
    ("remove and retain", Usage::Returned),
    ("remove and save", Usage::Returned),
    ("take off and keep", Usage::Returned),
    ("keep for later", Usage::Returned),
    ("retain", Usage::Returned),
    ("discarded", Usage::Discarded),
    ("discard", Usage::Discarded),
    ("remove and discard", Usage::Discarded),
    ("removed and discarded", Usage::Discarded),
    ("take off and discard", Usage::Discarded),
    ("throw away", Usage::Discarded),
    ("scrap", Usage::Discarded),
    ("not in this kit", Usage::NotInKit),
    ("not in kit", Usage::NotInKit),
    ("sold separately", Usage::NotInKit),
    ("not included", Usage::NotInKit),
    ("not supplied", Usage::NotInKit),
    ("by others", Usage::NotInKit),
    ("supplied by others", Usage::NotInKit),
    ("by customer", Usage::NotInKit),
    ("by installer", Usage::NotInKit),
    ("purchase separately", Usage::NotInKit),
    ("order separately", Usage::NotInKit),
    ("field supplied", Usage::NotInKit),
    ("consumable", Usage::Consumable),
    ("consumables", Usage::Consumable),
    ("as consumable", Usage::Consumable),
    ("for reference", Usage::Reference),
    ("reference", Usage::Reference),
    ("reference only", Usage::Reference),
    ("ref", Usage::Reference),
    ("ref only", Usage::Reference),
];

/// What a cell says becomes of the pieces, if it says that and nothing else.
pub fn usage(text: &str) -> Option<Usage> {
    let text = fold(text);
    let text = text.trim_matches(|c: char| matches!(c, '.' | '(' | ')' | '*'));
    USES.iter()
        .find(|(words, _)| *words == text)
        .map(|&(_, usage)| usage)
}

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

/// A placement from its cells, in the order of [`CELLS`]. `torque_unit` is the unit of bare torques.
/// What makes a line there doubtful comes back beside it: a use that no rule knows, a remark that may
/// change how many.
pub fn placement<'a>(
    cells: impl Fn(usize) -> &'a str,
    torque_unit: Option<&str>,
) -> (Placement, Vec<Doubt>) {
    let text = |index: usize| {
        let cell = cells(index).trim();
        (!cell.is_empty()).then(|| Box::<str>::from(cell))
    };
    let named = |index: usize| text(index).map(|cell| Box::from(container_name(&cell)));
    let (written, note) = (cells(5), text(7));
    let stated = usage(written);
    let mut doubts = Vec::new();
    if stated.is_none() && !written.trim().is_empty() {
        let unknown = written.trim();
        doubts.push(Doubt::Said(
            format!("the use \"{unknown}\" is not known: taken as new").into(),
        ));
    }
    let usage = stated
        .or_else(|| note.as_deref().and_then(usage))
        .filter(|&usage| usage != Usage::New);
    if let Some(note) = note.as_deref()
        && usage.is_none()
        && may_change_count(note)
    {
        doubts.push(Doubt::Said(
            format!("the remark \"{note}\" may change how many").into(),
        ));
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
    let placement = Placement {
        stage: text(0),
        place: text(1),
        bag: named(2),
        carton: named(3),
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
}
