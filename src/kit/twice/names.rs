//! What the names of sheets say of them: totals, older states of a list, places of their own.

use std::sync::LazyLock;

use regex::Regex;

use crate::{
    columns::furniture::{self, Container},
    words::{fold, pattern},
};

/// Named as a sheet of totals.
pub(super) fn is_of_totals(name: &str) -> bool {
    static TOTALS: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)\b(?:summary|totals?|sums?|overview|master|complete|combined|overall|all (?:parts|hardware|items|stages)|hardware list|(?:pick|pack)(?:ing)? list)\b|^\s*all\s*$",
        )
    });
    TOTALS.is_match(name)
}

/// Named as a list, and as none of a part of the kit: `Order list`, `Sheet1`, `Hardware`.
pub(super) fn is_of_a_list(name: &str) -> bool {
    static LIST: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)^\s*(?:(?:order|parts?|hardware|fasteners?|fixings?|material|bolt|kit|shopping|buying)?\s*(?:list|order|bom)|sheet\s?\d+|hardware|fasteners|fixings|parts|bom|bill of materials?|kit)\s*$",
        )
    });
    LIST.is_match(name)
}

/// Words by which a sheet is no longer the list.
const SUPERSEDED: &str = "old|archived?|superseded|obsolete|previous|prev|do not use";

/// Named as what is no longer the list, or as another of it.
fn is_old(name: &str) -> bool {
    static OLD: LazyLock<Regex> = LazyLock::new(|| {
        pattern(&format!(
            r"(?i)(?:\b|_)(?:{SUPERSEDED}|copy|backup)(?:\b|_)|\(\d+\)\s*$"
        ))
    });
    OLD.is_match(name)
}

fn is_superseded(name: &str) -> bool {
    static OLD: LazyLock<Regex> =
        LazyLock::new(|| pattern(&format!(r"(?i)(?:\b|_)(?:{SUPERSEDED})(?:\b|_)")));
    OLD.is_match(name)
}

/// The name without its revision, and that.
fn revision(name: &str) -> Option<(String, String)> {
    static REVISION: LazyLock<Regex> = LazyLock::new(|| {
        pattern(r"(?i)[\s_(,-]*\b(?:rev(?:ision)?|issue|v)\.?\s*(?P<rev>[a-z]|\d{1,3})\b\)?")
    });
    let found = REVISION.captures(name)?;
    let rev = found["rev"].to_lowercase();
    // `10` comes after `9`, and a letter after a figure.
    Some((fold(&REVISION.replace(name, "")), format!("{rev:0>3}")))
}

/// The name without what tells when the list is of and how far it is on, which is that of another state of it: `List 2025`
/// and `List 2026`, `draft` and `final`, `Frame (old)` and `Frame`.
fn list_named(name: &str) -> String {
    static STATE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(&format!(
            r"(?xi) (?:\b|_) (?:
                {} | drafts? | final | prelim(?:inary)? | updated? | revis(?:ed|ion) | amend(?:ed|ment) | corrected
                | new | latest | current | approved | original | (?:rev | issue | version | v) [\s._]* (?: [a-z] | \d{{1,3}} )
                | \d{{1,4}} [-./] \d{{1,2}} (?: [-./] \d{{1,4}} )? | (?:19|20) \d\d
                | (?: \d{{1,2}} [\s.-]* )?
                  (?: jan(?:uary)? | feb(?:ruary)? | mar(?:ch)? | apr(?:il)? | may | june? | july? | aug(?:ust)?
                    | sept?(?:ember)? | oct(?:ober)? | nov(?:ember)? | dec(?:ember)? )
                  (?: [\s.-]* \d{{1,2}} )?
            ) (?:\b|_)",
            SUPERSEDED.replace(' ', r"\s")
        ))
    });
    // The mark between two words ends one and begins the next.
    let name = name.replace('_', " ");
    let rest = STATE.replace_all(&name, " ");
    let words = rest.split(|c: char| !c.is_alphanumeric());
    let words: Vec<String> = words.filter(|word| !word.is_empty()).map(fold).collect();
    words.join(" ")
}

/// The place that a name says: `Left rail`, `Upper deck`.
fn place_named(name: &str) -> Option<String> {
    static PLACE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)\b(?:left|right|north|south|east|west|near|far|front|rear|back|upper|lower|top|bottom|inner|outer|first|second|third|fourth|upstream|downstream)\b",
        )
    });
    PLACE.find(name).map(|found| fold(found.as_str()))
}

/// What the name of a sheet says of it.
pub(super) struct Name<'a> {
    pub(super) text: &'a str,
    /// The list that it is a state of: [`list_named`].
    pub(super) list: String,
    /// The name without its revision, and that.
    pub(super) revision: Option<(String, String)>,
    pub(super) is_old: bool,
    pub(super) is_superseded: bool,
    pub(super) of: Place<'a>,
}

/// What of the kit a name is of.
#[derive(PartialEq, Eq, Hash, Clone)]
pub(super) struct Place<'a> {
    side: Option<String>,
    container: Option<Container<'a>>,
    is_stage: bool,
}

impl<'a> Name<'a> {
    pub(super) fn of(text: &'a str) -> Name<'a> {
        Name {
            text,
            list: list_named(text),
            revision: revision(text),
            is_old: is_old(text),
            is_superseded: is_superseded(text),
            of: Place {
                side: place_named(text),
                container: furniture::container(text),
                is_stage: furniture::stage_title(text).is_some()
                    || text.trim().starts_with(|c: char| c.is_ascii_digit()),
            },
        }
    }

    /// True for names by which two sheets are of two places: `Left rail` and `Right rail`, `1 Posts`, `Bag A`.
    pub(super) fn tells_apart(&self, other: &Name) -> bool {
        let (a, b) = (&self.of, &other.of);
        let are_containers = matches!((&a.container, &b.container), (Some(a), Some(b)) if a != b);
        let are_sides = matches!((&a.side, &b.side), (Some(a), Some(b)) if a != b);
        self.list != other.list && (are_containers || a.is_stage && b.is_stage || are_sides)
    }
}
