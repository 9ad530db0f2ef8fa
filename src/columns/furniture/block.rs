//! The title block of a list: its revision, its date, the number of the slip, and what it says of all figures.

use std::sync::LazyLock;

use regex::Regex;

use crate::{cues::Cued, words::pattern};

/// What is said of all figures of a list, behind the word for them: `for one side only`, `in packs of 10`. Common
/// practice, no source.
const OF_ALL: &str = r"(?:
        (?: per | for ) \s+ (?: (?: one | 1 | each | a ) \s+ )? (?: side | end | bay | post | frame | tower | section | panel | leg | row | set | half | 100 | hundred ) \b
        | for \s+ (?: [2-9] | \d\d+ | two | three | four | five | six | both ) \b
        | in \s+ (?: packs? | boxes | bags | pairs | dozens? | hundreds? | sets ) \b
        | order \s+ (?: [2-9] | \d\d+ | two | three | four | five | six ) \b
        | (?: x | × | times ) \s* \d+ \W* $ | (?: are \s+ | to \s+ be \s+ ) doubled? \b )";

/// True for a line that says it of all figures of its list, or what the list is: `All quantities x 2`, `units:
/// pairs`, `DRAFT`.
pub fn qualifies_list(text: &str) -> bool {
    static SAYS: Cued = Cued::new(
        "qty|quantit|figures|counts|for|x|of|make|kits|sets|off|unit|double|draft|preliminary|provisional|superseded|obsolete|withdrawn|not",
        || {
            pattern(&format!(
                r"(?ix) ^\W* (?: (?: all | the | these | note ) \W+ )* (?: qty | quantit(?:y|ies) | figures | counts ) \b [^\d]{{0,20}} \b {OF_ALL}
            | ^\W* (?:
                for \s+ (?: [2-9] | \d\d+ | two | three | four | five | six ) \s+ \p{{Alphabetic}}+s
                | for \s+ (?: one | 1 ) \s+ (?: side | end | half | bay | frame | tower ) (?: \s+ only )?
                | x \s* (?: [2-9] | \d\d+ ) | (?: set | kit ) s? \s+ of \s+ \d+
                | makes? \s+ (?: [2-9] | \d\d+ | two | three | four | five | six ) (?: \s+ \p{{Alphabetic}}+ )?
                | (?: (?: no\.? | number ) \s+ of \s+ )? (?: kits | sets ) \s* [:=]? \s* (?: [2-9] | \d\d+ )
                | (?: [2-9] | \d\d+ | two | three | four | five | six ) \s+ (?: off | kits | sets ) (?: \s+ (?: required | needed | wanted ) )?
                | units? \s* : \s* (?: pairs? | dozens? | hundreds? | packs? | boxes | sets ) ) \W* $
            | \b double \s+ (?: all | everything | up \s+ (?: for | all | everything ) | the \s+ (?: quantit | figures ) )
            | ^\W* (?: draft | preliminary | provisional | superseded | obsolete | withdrawn ) \b (?: .{{0,5}} $ | .* \b (?: not | by | list | copy ) \b )
            | \b not \s+ for \s+ (?: use | packing | production | construction | release ) \b | \b superseded \s+ by \b",
            ))
        },
    );
    text.len() <= LONGEST_TITLE && SAYS.is_match(text)
}

/// True where a title says it, or for how many its list is: also `Parts list, quantities per side`, `Parts for 1
/// of 2 frames`, `This list is for 3 bays`, `Trestle - two off`, `Half kit`.
pub fn title_qualifies_list(text: &str) -> bool {
    static SAYS: Cued = Cued::new(
        "qty|quantit|figures|counts|for|side|x|×|off|per|half|only",
        || {
            pattern(&format!(
                r"(?ix) \b (?: qty | quantit(?:y|ies) | figures | counts ) \b .{{0,20}} \b {OF_ALL}
            | \b (?: list | sheet | parts | hardware ) \s+ (?: is \s+ | are \s+ )? for \s+ (?:
                \d+ \s+ of \s+ \d+ | (?: [2-9] | \d\d+ | two | three | four | five | six ) \s+ \p{{Alphabetic}}+s \b
                | (?: one | 1 ) \s+ (?: side | end | half | bay ) \b )
            | \b (?: one | 1 | two | 2 ) \s+ sides? \s+ (?: only | needed | required ) \b
            | \b (?: qty | quantit(?:y|ies) | figures | counts ) \s+ are \s+ (?: pairs? | dozens? | sets | packs ) \b
            | [^\d\s] \s* (?: x | × ) \s* [2-9] \W* $ | \b {SEVERAL} \s+ off \W* $
            | ^ \W* per \s+ (?: side | end | bay | post | frame | tower | section | panel | leg | half ) \W* $
            | ^ \W* half \W* $ | \b half \s+ (?: kit | set | list ) \b
            | \b (?: LH | RH | left | right ) \s+ (?: side \s+ )? only \b",
            ))
        },
    );
    text.len() <= LONGEST_TITLE && (qualifies_list(text) || SAYS.is_match(text))
}

/// True for a text beside a table by which what it lists is there more than once: `Build two of these`, `Right side as
/// left`. A guide's sentences say as much of single steps. Common practice, no source.
pub fn says_how_often(text: &str) -> bool {
    static SAYS: Cued = Cued::new(
        "are|as|build|make|assemble|order|buy|repeat|needed|required|everything|all|multipl|is",
        || {
            pattern(&format!(
                r"(?ix) \b as \s+ (?: the \s+ )? (?: left | right | above | before | first ) \b
                | \b (?: pair | both | {SEVERAL} ) \s+ (?: is | are ) \s+ (?: needed | required | wanted ) \b
                | \b (?: all | everything ) \b .{{0,30}} \b per \s+ \p{{Alphabetic}}
                | \b (?: build | make | assemble | order | buy ) \s+ {SEVERAL} \b
                | ^ \W* repeat \s+ (?: for | on | at ) \b
                | \b (?: order | build | make | buy | needed | required | everything | all ) \s+ (?: twice | double | {SEVERAL} \s+ times ) \b
                | \b multipl(?:y|ied) \b",
            ))
        },
    );
    text.len() <= LONGEST_TITLE && SAYS.is_match(text)
}

/// Numbers of times.
const SEVERAL: &str = r"(?: [2-9] | \d\d+ | two | three | four | five | six )";

/// What stands in brackets behind the heading of a count, unless it says no more than that single pieces are counted:
/// `Qty (doz)`, `Qty (one side)`; not `Qty (pcs)`.
pub fn beside_heading(heading: &str) -> Option<&str> {
    /// Common practice, no source.
    const PIECES: &[&str] = &[
        "pcs", "pc", "pieces", "piece", "ea", "each", "nos", "no", "off", "units", "unit", "total",
        "in", "all", "required", "req", "reqd", "needed", "st", "stk", "counted", "good", "ok",
        "shipped", "sent", "ordered", "per", "kit", "1", "one", "of",
    ];
    let (_, behind) = heading.trim_end().strip_suffix(')')?.split_once('(')?;
    let inside = behind.trim();
    let mut words = inside.split(|c: char| !c.is_alphanumeric());
    let says_more = words.any(|word| !word.is_empty() && !PIECES.contains(&&*word.to_lowercase()));
    says_more.then_some(inside)
}

/// A longer line is prose.
const LONGEST_TITLE: usize = 100;

/// True for the name of a paper over a list: `Packing list  shelter kit no 3`, `Count of 3 June`.
pub fn names_list(text: &str) -> bool {
    static LIST: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)^\W* (?: packing | parts? | pick (?:ing)? | delivery | shipping | dispatch | despatch | materials? | hardware | loading | count | stock | order )
               \s (?: list | slip | note | ticket | sheet | docket ) \b | ^\W* count \s of \s \d",
        )
    });
    LIST.is_match(text)
}

/// The revision and the date that a title block's text states: `Rev. C`, `Issue 7 of 9 Jan 2026`, `Date:
/// 2026-03-14`. The label alone has an empty value: the value stands in the next cell.
pub fn revision_and_date(text: &str) -> (Option<&str>, Option<&str>) {
    static REVISION: Cued = Cued::new("rev|issue", || {
        pattern(
            r"(?ix) (?: ^ | [\s,;(] ) (?: rev(?:ision)? \b \.? | issue \b ) \s* (?: no\.? \b )? \s* [:\#=]? \s*
                (?: (?P<other> of | dated? | by ) \b | (?P<value> [^\s,;)]* ) )",
        )
    });
    static DATE: Cued = Cued::new(
        "count|dat|of|from|checked|packed|sent|shipped|delivered",
        || {
            pattern(
                r"(?ix) ^ counted \s+ on \s* :? \s* (?P<on> (?: (?: [0-9] | [a-z\x{e0}-\x{ff}]{3,9} \.? \s+ [0-9] ) .* )? ) $
              | \b datum \b \s* :? \s* (?P<datum> [^,;)]* )
              | (?: ^ | [,;(] \s* | \b (?: list | revision | issue | print | ship(?:ped|ping)? | pack(?:ed|ing)? | count(?:ed)? | deliver(?:ed|y) | d[ei]spatch(?:ed)? | slip | note ) \s+ )
                dated? \b (?: \s+ of \s+ (?: d[ei]spatch | delivery | issue | packing | shipment | shipping ) \b )? \s* [:\#=]? \s* (?P<value> [^,;)]* (?: , \s* [0-9] [^,;)]* )? )
              | \b (?: of | dated | from | counted | checked | packed | sent | shipped | delivered ) \s+ (?: on \s+ )?
                (?P<of> [0-9]{1,2} \.? \s+ [a-z\x{e0}-\x{ff}]{3,9} \.? \s+ [0-9]{4} | [a-z\x{e0}-\x{ff}]{3,9} \.? \s+ [0-9]{1,2} , \s+ [0-9]{4}
                      | [0-9]{4}-[0-9][0-9]-[0-9][0-9] | [0-9]{1,2} [/.] [0-9]{1,2} [/.] [0-9]{4} )",
            )
        },
    );
    let revision = REVISION
        .captures(text)
        .and_then(|found| found.name("value"));
    let date = DATE.captures(text);
    let date = date.and_then(|found| {
        let mut of = ["on", "datum", "of", "value"].into_iter();
        of.find_map(|name| found.name(name))
    });
    let trimmed = |found: Option<regex::Match<'_>>| found.map(|value| value.range());
    let (revision, date) = (trimmed(revision), trimmed(date));
    (
        revision.map(|at| text[at].trim()),
        date.map(|at| text[at].trim()),
    )
}

/// True for the label of a figure in a title block, or a title that holds one: `Order no`, `Kit 12`, `Sheet`. Common
/// practice, no source.
pub fn labels_paper(text: &str) -> bool {
    #[rustfmt::skip]
    const LABELS: &[&str] = &[
        "account", "batch", "boxes", "build", "cartons", "contract", "copy", "customer", "date", "dealer", "delivery",
        "depot", "document", "drawing", "dwg", "fax", "invoice", "issue", "job", "kit", "kits", "list", "load", "lot", "model",
        "no", "number", "nr", "order", "page", "pages", "parcel", "phone", "po", "project", "quote", "ref", "reference", "rev",
        "revision", "route", "serial", "sets", "sheet", "shelf", "shipment", "site", "slip", "store", "tel", "time", "version",
        "week", "weight", "year",
    ];
    let mut words = text.split(|c: char| !c.is_alphanumeric());
    words.any(|word| LABELS.iter().any(|label| word.eq_ignore_ascii_case(label)))
}

/// The number of the slip that a title block states: `Packing slip 55812`, `Delivery note no. 1001`. The label
/// alone has an empty value: the value stands in the next cell.
pub fn slip_number(text: &str) -> Option<&str> {
    static NUMBER: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) ^ (?: (?: packing | delivery | despatch | dispatch | advice | shipping | pack ) \s* (?: slip | note | list ) | shipment )
                \s* (?: no\b\.? | number | nr\b\.? | \# )? \s* [:=]? \s* (?: (?P<value> [^\s,;]* \d [^\s,;]* ) (?: \s* \( [^()]* \) )? )? $",
        )
    });
    let found = NUMBER.captures(text.trim())?;
    Some(found.name("value").map_or("", |value| value.as_str()))
}

/// True for a cell that is a date and nothing else: in a title block it is the list's (common practice, no
/// source).
pub fn is_date(text: &str) -> bool {
    static DATE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) ^ (?: \d{1,2} \.? \s+ [a-z\x{e0}-\x{ff}]{3,9} \.? \s+ \d{4} | [a-z\x{e0}-\x{ff}]{3,9} \.? \s+ \d{1,2} , \s+ \d{4}
                | \d{4}-\d\d-\d\d | \d{1,2} [/.] \d{1,2} [/.] \d{4} ) $",
        )
    });
    DATE.is_match(text.trim())
}

/// True for the label of another date than the list's: `Needed by`, `Order date:`.
pub fn labels_other_date(text: &str) -> bool {
    text.trim_end().ends_with(':') || names_other_date(text)
}

/// True where words say that a date is another than the list's: `order of 5 May 2026`.
pub fn names_other_date(text: &str) -> bool {
    const OTHER: &[&str] = &[
        "need", "needed", "due", "by", "until", "before", "print", "printed", "valid", "expires",
        "order", "ordered", "date",
    ];
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).collect();
    // `counted by Ana`
    let is_person = |at: usize| {
        let before = at.checked_sub(1).map_or("", |before| words[before]);
        words[at] == "by" && matches!(before, "counted" | "checked" | "packed" | "picked")
    };
    (0..words.len()).any(|at| OTHER.contains(&words[at]) && !is_person(at))
}
