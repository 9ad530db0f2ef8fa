//! Words that take pieces away, or leave open whether they are meant, or which: one table for what stands
//! within the name of a part and for what stands beside a count (common practice, no source).

/// Where a word unsettles; elsewhere it says something else (`old oak board`, `not galvanised`).
#[derive(Clone, Copy, PartialEq, Eq)]
enum Within {
    Names,
    Remarks,
    Both,
}

use Within::{Both, Names, Remarks};

#[rustfmt::skip]
const WORDS: &[(&str, Within)] = &[
    ("except", Both), ("excluding", Both), ("maybe", Both), ("perhaps", Both),
    ("possibly", Both), ("unless", Both), ("void", Both), ("deleted", Both), ("instead", Both), ("cancelled", Both), ("canceled", Both),
    ("unknown", Both), ("unidentified", Both), ("assorted", Both), ("opt", Both), ("option", Both),
    ("optional", Both), ("alt", Both), ("alternate", Both), ("alternative", Both), ("alternatives", Both),
    ("alternatively", Both), ("tbc", Both), ("tbd", Both), ("tba", Both),
    // Beside what is asked for they say why.
    ("missing", Names), ("bent", Names), ("damaged", Names), ("broken", Names), ("lost", Names),
    ("it", Names), ("not", Names), ("without", Names), ("old", Names), ("minus", Names), ("these", Names), ("those", Names),
    ("delete", Remarks), ("obsolete", Remarks), ("superseded", Remarks), ("supersedes", Remarks),
    ("replaced", Remarks), ("replaces", Remarks), ("withdrawn", Remarks), ("discontinued", Remarks),
    ("phantom", Remarks), ("dummy", Remarks), ("provisional", Remarks), ("estimated", Remarks),
    ("estimate", Remarks), ("approx", Remarks), ("approximately", Remarks), ("changed", Remarks),
    ("revised", Remarks), ("only", Remarks), ("substitute", Remarks), ("substituted", Remarks),
];

fn is_one(word: &str, names: bool) -> bool {
    let speaks = |within| within == Both || (within == Names) == names;
    WORDS
        .iter()
        .any(|&(known, within)| speaks(within) && word.eq_ignore_ascii_case(known))
}

/// True for such a word of a part's name.
pub fn is_in_name(word: &str) -> bool {
    is_one(word, true)
}

/// True where a remark holds such a word.
pub fn are_in_remark(text: &str) -> bool {
    let mut words = text.split(|c: char| !c.is_alphanumeric());
    words.any(|word| is_one(word, false))
}
