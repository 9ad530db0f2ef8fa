//! Units of issue: single pieces, dozens, packs.

use crate::notation::{Issue, unit_of_issue};

/// Whether single pieces are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Single {
    Unsaid,
    /// So many of what the row names, which may be packs: `ea`.
    Each,
    Pieces,
}

impl Single {
    /// That of a unit, by the pieces in one.
    pub(super) fn of(pieces: u64, unit: &str) -> Single {
        const EACH: &[&str] = &["ea", "each", "un", "unit", "units"];
        let unit = unit.trim_end_matches('.');
        match pieces {
            1 if EACH.iter().any(|each| unit.eq_ignore_ascii_case(each)) => Single::Each,
            1 => Single::Pieces,
            _ => Single::Unsaid,
        }
    }
}

/// Units of issue that stand in a column of their own, in lower case, beside those of the table of words; `C` and `M` are
/// the Roman hundred and thousand of the trade.
const ISSUES: &[(&str, Issue)] = &[
    ("ea", Issue::Pieces(1)),
    ("each", Issue::Pieces(1)),
    ("pc", Issue::Pieces(1)),
    ("pcs", Issue::Pieces(1)),
    ("pce", Issue::Pieces(1)),
    ("piece", Issue::Pieces(1)),
    ("pieces", Issue::Pieces(1)),
    ("no", Issue::Pieces(1)),
    ("nr", Issue::Pieces(1)),
    ("off", Issue::Pieces(1)),
    ("un", Issue::Pieces(1)),
    ("unit", Issue::Pieces(1)),
    ("units", Issue::Pieces(1)),
    ("gr", Issue::Pieces(144)),
    ("gro", Issue::Pieces(144)),
    ("c", Issue::Pieces(100)),
    ("100", Issue::Pieces(100)),
    ("m", Issue::Pieces(1000)),
    ("1000", Issue::Pieces(1000)),
    ("bg", Issue::Pack),
    // UN/ECE Recommendations 20 and 21, codes for units of measure and packages (from memory).
    ("h87", Issue::Pieces(1)),
    ("c62", Issue::Pieces(1)),
    ("npr", Issue::Pieces(2)),
    ("dzn", Issue::Pieces(12)),
    ("dpr", Issue::Pieces(24)),
    ("cen", Issue::Pieces(100)),
    ("mil", Issue::Pieces(1000)),
    ("ggr", Issue::Pieces(1728)),
    // German, Dutch, French, Spanish and Italian: the words of a general dictionary.
    ("st", Issue::Pieces(1)),
    ("stk", Issue::Pieces(1)),
    ("stck", Issue::Pieces(1)),
    ("stück", Issue::Pieces(1)),
    ("stuks", Issue::Pieces(1)),
    ("pièce", Issue::Pieces(1)),
    ("pièces", Issue::Pieces(1)),
    ("pza", Issue::Pieces(1)),
    ("pz", Issue::Pieces(1)),
    ("ud", Issue::Pieces(1)),
    ("paar", Issue::Pieces(2)),
    ("paire", Issue::Pieces(2)),
    ("par", Issue::Pieces(2)),
    ("pak", Issue::Pack),
    ("paket", Issue::Pack),
    ("paquet", Issue::Pack),
    ("beutel", Issue::Pack),
    ("sachet", Issue::Pack),
    ("doos", Issue::Pack),
    ("karton", Issue::Pack),
];

/// A pack as a unit of issue, and the pieces in one: `BOX/50`, `PK 100`, `50/BX`, `BX100`, `box of 200`.
pub(super) fn pack_of(unit: &str) -> Option<u64> {
    let at = unit.find(|c: char| c.is_ascii_digit())?;
    let figures = unit[at..].bytes().take_while(u8::is_ascii_digit).count();
    let is_mark = |c: char| c.is_whitespace() || matches!(c, '/' | '-' | '.' | '(' | ')');
    let [before, behind] =
        [&unit[..at], &unit[at + figures..]].map(|word| word.trim_matches(is_mark));
    let word = match (before, behind) {
        (word, "") | ("", word) => word,
        _ => return None,
    };
    let word = word.strip_suffix(" of").unwrap_or(word).trim();
    let size = unit[at..at + figures]
        .parse()
        .ok()
        .filter(|size| *size > 0)?;
    matches!(issue(word), Some(Issue::Pack)).then_some(size)
}

pub(super) fn issue(unit: &str) -> Option<Issue> {
    let unit = unit.trim_end_matches('.');
    // A small m is the metre.
    if unit == "m" {
        return None;
    }
    let named = |unit: &str| {
        let mut issues = ISSUES.iter();
        let found = issues.find(|(name, _)| unit.eq_ignore_ascii_case(name));
        found.map(|(_, issue)| *issue)
    };
    let of_one = || unit.strip_suffix('s').filter(|unit| unit.len() > 1);
    let known = named(unit).or_else(|| named(of_one()?));
    known.or_else(|| unit_of_issue(unit))
}

/// True where units say that an `M` among them may be the metre: some are single pieces, none a hundred.
pub fn may_be_metres<'u>(units: impl Iterator<Item = &'u str> + Clone) -> bool {
    let any = |of: u64| {
        let mut units = units.clone().filter_map(issue);
        units.any(|unit| matches!(unit, Issue::Pieces(each) if each == of))
    };
    any(1) && !any(100)
}

/// True for a unit of issue: `pcs`, `ea`.
pub fn is_unit(text: &str) -> bool {
    issue(text).is_some()
}
