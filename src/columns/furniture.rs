//! What a list holds besides its lines: totals, stage titles, notes, ditto marks.

use std::{borrow::Cow, sync::LazyLock};

use regex::Regex;

use crate::{cues::Cued, words::pattern};

/// True where a cell labels a row of totals: `Subtotal, stage 2`, `Stage 1 total`, `Carried forward`.
pub fn is_total(text: &str) -> bool {
    static TOTAL: Cued = Cued::new(
        "total|sum|per|this|in|sold|shipped|altogether|value|weight|mass|amount|carried|brought|fwd|f|d|lb|lbs|kg|kgs|g|oz",
        || {
            pattern(
                r"(?ix)^\W* (?:
                (?: sub | grand | page | sheet | stage | step | section | list | kit | bag | box | carton | order )? [\s-]* totals? \b
                    (?: \W* $ | \s*[:,=\-–—(] | [\s._…·]* \d | \s+(?:of|for|in|this|qty|quantity|pieces|pcs|items|lines|parts|hardware|stage|step|section|page|no|all|required|shipped|weight|mass|value|price|cost|net|gross) \b | \s+\d )
                | (?:stage|step|section|page|assembly) \s+ [\w.]+ \s+ (?:sub[\s-]?)? totals? \W* (?: $ | \d+ \W* $ )
                | sub[\s-]?totals? \b
                | \d+ \s+ (?: (?:pieces|pcs|items|parts) \s+ )? (?: in \s+ )? (?: grand \s+ )? total \W* $
                | sum \W* (?: $ | \d )
                | (?: no\.? \s+ of \s+ )? (?:pieces|pcs|parts|items|hardware) \s+ (?:(?:this|per|in\s+this|for\s+this|of\s+this)\s+(?:stage|step|section|page|bag|box|carton|kit|list)|in\s+(?:bag|box|carton|all|total|kit)|sold|shipped|altogether) \W* (?: $ | \d+ \W* $ )
                | (?:order|invoice|list|net|gross|shipping|freight) \s+ (?:value|weight|mass|total|amount) \b
                | (?:carried|brought) \s+ (?:forward|fwd|over|down) \b | [cb] / (?:fwd|f|d) \b
                | \d [\d.,]* \s* (?: lbs? | kgs? | g | oz ) \W* $
            )",
            )
        },
    );
    TOTAL.is_match(text) || counts_pieces(text)
}

/// True where all words are of counting and of what was counted in: `pcs in step`, `Sum of pieces`,
/// `69 pieces in all`. `Hardware kit` counts nothing.
fn counts_pieces(text: &str) -> bool {
    const PIECES: &[&str] = &["pieces", "pcs", "pc", "items", "parts", "lines", "hardware"];
    // What all weigh together is a sum, too: `214 PIECES  311 LB`.
    const SUMS: &[&str] = &[
        "total",
        "totals",
        "sum",
        "subtotal",
        "all",
        "altogether",
        "together",
        "lb",
        "lbs",
        "kg",
        "kgs",
    ];
    const TIES: &[&str] = &["in", "of", "per", "for", "this"];
    const WITHIN: &[&str] = &[
        "stage", "step", "section", "page", "sheet", "bag", "box", "carton", "crate", "kit",
        "list", "order", "parcel", "the", "each", "number", "no", "here", "above",
    ];
    let mut words = (text.split(|c: char| !c.is_alphanumeric())).filter(|word| !word.is_empty());
    let (mut pieces, mut sums, mut tied) = (false, false, false);
    let known = words.all(|word| {
        let is = |table: &[&str]| table.iter().any(|known| word.eq_ignore_ascii_case(known));
        tied |= pieces && is(TIES);
        sums |= is(SUMS);
        pieces |= is(PIECES);
        let figure = word.bytes().all(|b| b.is_ascii_digit());
        figure || is(PIECES) || is(SUMS) || is(TIES) || is(WITHIN)
    });
    known && pieces && (sums || tied)
}

/// True where a total is of pieces, as far as its label says: not of weights, prices or boxes.
pub fn is_of_pieces(label: &str) -> bool {
    const OTHER: &[&str] = &[
        "weight", "mass", "kg", "lb", "lbs", "price", "cost", "value", "amount", "tax", "boxes",
        "bags", "cartons", "pallets", "pages", "sheets", "kits", "net", "gross",
    ];
    let words = label.split(|c: char| !c.is_alphanumeric());
    !label.contains(['$', '€', '£'])
        && !words
            .map(str::to_lowercase)
            .any(|word| OTHER.contains(&word.as_str()))
}

/// The pieces that a line of text states as its total: `Bag total: 96 pcs`, `412 pieces in total`.
pub fn total_in(text: &str) -> Option<u64> {
    if !is_total(text) || !is_of_pieces(text) {
        return None;
    }
    let behind = text
        .rsplit_once([':', '='])
        .map_or(text, |(_, behind)| behind);
    // `Stage 1 total`, `Pieces in step 2`: the figure is the stage's.
    static NAMED: LazyLock<Regex> = LazyLock::new(|| {
        pattern(r"(?i)\b(?:stage|step|section|page|sheet|bag|box|carton|crate)\s+(?:no\.?\s+)?\d+")
    });
    let behind = &*NAMED.replace_all(behind, "");
    let lower = behind.to_ascii_lowercase();
    let behind = match lower.find("total") {
        Some(at) if !behind.starts_with(|c: char| c.is_ascii_digit()) => &behind[at..],
        _ => behind,
    };
    let mut figures = behind
        .split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .map(|figure| figure.trim_matches(['.', ',']))
        .filter(|figure| !figure.is_empty());
    let (first, other) = (figures.next()?, figures.next());
    let plain = first.replace(',', "");
    other.is_none().then(|| plain.parse().ok())?
}

/// True where a line is a note to the reader, or a page's foot.
pub fn is_note(text: &str) -> bool {
    static NOTE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)^\W* (?:
                notes? \s* (?: \d+ )? \s* [:.\-–—] | notes? \W* $ | n\.?b\.? \b
                | page \s+ \d+ | continued\b
                | (?:kit|copy|load|parcel|shipment|delivery) \s* (?: no\.? | number | \# )? \s* \d+ \s+ of \s+ \d+ \W* $ | \(?cont'?d\b | end \s+ of \s+ (?:the\s+)? (?:list|page|slip|bom|report|order|file|document)
                | (?:ship|sold|bill|invoice|deliver) \s* to \b | attn \b
                | p\.?o\.? \s* (?:no\.?|number|\#)? \s* :? \s* \d
                | (?:order|invoice|quote|job|project|packing \s (?:slip|list)|delivery \s note) \s* (?:no\.?|number|\#) \W*
                | (?:tel|phone|fax|e-?mail|carrier|tracking|terms) \b \s* [:.\#]
                | \d+ \s+ (?:boxes|box|cartons?|crates?|pallets?|packages?|bundles?|parcels?|skids?) (?: \s* (?:,|&|\+|and) \s* \d+ \s+ (?:boxes|box|cartons?|crates?|pallets?|packages?|bundles?|parcels?|skids?) )+ \s* (?: $ | [.;:] )
                | \d+ \s+ (?:boxes|cartons|crates|pallets|packages|bundles) \b .* \b (?:lbs?|kg|freight|pallets?|prepaid|gross|weight) \b
                | printed \b | (?:caution|warning|important) \b | see \s+ (?:note|drawing|sheet|page)
            )",
        )
    });
    NOTE.is_match(text)
}

/// True where a line is of the shipment's papers and no piece of it: `Checked by: T. R.`, `Freight`,
/// `Weight kg 412`, `Order 5512`, `Pallets`. Common practice, no source.
pub fn is_paper(text: &str) -> bool {
    static PAPER: Cued = Cued::new(
        "by|signed|signature|initials|freight|postage|shipping|handling|delivery|insurance|carriage|packing|packag|transport|fracht|versand|porto|verpackung|livraison|emballage|imballo|trasporto|verzending|deposit|pfand|consigne|payment|weight|order|invoice|ref|quote|customer|document|paperwork|pallet|parcel|item|line|page|boxes|cartons|bags|kits|people|person|men|helper|rev|issue|version|c|copyright",
        || {
            pattern(
                r"(?ix)^\W* (?:
                (?: checked | packed | picked | counted | signed | approved | prepared | inspected | received | drawn | issued | loaded ) \s+ by \b .*
                | (?: signed | signature | initials ) \b (?: \W* $ | \s*: .* )
                | (?: freight | postage | shipping | handling | delivery | insurance | carriage | packing | packaging | transport | fracht (?:kosten)? | versand (?:kosten)? | porto | verpackung | livraison | emballage | imballo | trasporto | verzending ) (?: \s* (?:and|&|\+|/|und|et|e|en) \s* (?: freight | postage | shipping | handling | delivery | insurance | carriage | packing | packaging | transport | fracht (?:kosten)? | versand (?:kosten)? | porto | verpackung | livraison | emballage | imballo | trasporto | verzending ) )* (?: \s+ (?:charges?|costs?|fee|prepaid|collect|(?:group|class|zone|rate) \s* \w{1,2}) )? [\W\d]* $
                | (?: deposit | pfand | consigne ) (?: \s+ (?:on|for) )? \s+ (?: pallets? | crates? | boxes ) [\W\d]* $
                | (?: pallets? | crates? | box ) \s+ (?: deposit | pfand ) [\W\d]* $
                | (?: card | cash ) \s+ payment [\W\d]* $
                | (?: (?:gross|net|total|shipping) \s+ )? weight \b (?: \s* \(? (?:kgs?|lbs?) \b \)? )? [\W\d]* (?:kgs?|lbs?)? \W* $
                | (?: order | invoice | reference | ref | quote | customer ) \s* (?: no | number | \# )? [.:]? \s* [a-z]{0,3} -? \d [\w/-]* \W* $
                | (?: documents? | paperwork | pallets? | parcels? | items? | lines? | pages? ) [\W\d]* $
                | (?: (?: no\.? | number ) \s+ of \s+ )? (?: boxes | cartons | packages | bags ) \s* [:=] \s* \d+ \W* $
                | (?: no\.? | number ) \s+ of \s+ (?: boxes | cartons | packages | bags | kits ) \s+ \d+ \W* $
                | (?: (?: boxes | cartons | pallets | bags ) \s* :? \s* \d+ [\s,;]* ){2,} $
                | \d+ \s+ (?: parcels? | items? | pages? | people | persons? | men | helpers? )
                  (?: \s+ (?: needed | required | in \s+ all | in \s+ total | total | recommended ) )* \W* $
                | (?: revision | rev | issue | version ) \.? \s* (?: no\.? \s* )? [a-z]? \d{0,2} \W* $
                | (?: © | \(c\) | copyright ) \s* (?:19|20)\d\d \b .*
            )",
            )
        },
    );
    PAPER.is_match(text)
}

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
/// of 2 frames`, `This list is for 3 bays`.
pub fn title_qualifies_list(text: &str) -> bool {
    static SAYS: Cued = Cued::new("qty|quantit|figures|counts|for|side", || {
        pattern(&format!(
            r"(?ix) \b (?: qty | quantit(?:y|ies) | figures | counts ) \b .{{0,20}} \b {OF_ALL}
            | \b (?: list | sheet | parts | hardware ) \s+ (?: is \s+ | are \s+ )? for \s+ (?:
                \d+ \s+ of \s+ \d+ | (?: [2-9] | \d\d+ | two | three | four | five | six ) \s+ \p{{Alphabetic}}+s \b
                | (?: one | 1 ) \s+ (?: side | end | half | bay ) \b )
            | \b (?: one | 1 | two | 2 ) \s+ sides? \s+ (?: only | needed | required ) \b",
        ))
    });
    text.len() <= LONGEST_TITLE && (qualifies_list(text) || SAYS.is_match(text))
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

/// True where a row speaks of pieces that another names: `4 of these are spares`.
pub fn is_of_others(text: &str) -> bool {
    static OTHERS: Cued = Cued::new("of|last|previous", || {
        pattern(
            r"(?ix)^\W* (?: \d+ | one | two | three | four | five | six | some | all | half | both | most | none )
               \s+ of \s+ (?: these | those | them | which | the \s+ above | the \s+ same | the \s+ (?: \w+ \s+ ){0,2} ones ) \b
               | \b (?: in | from | with ) \s+ (?: the \s+ )? (?: last | previous ) \s+ (?: kit | delivery | order | parcel | job ) \b",
        )
    });
    OTHERS.is_match(text)
}

/// True for the edge of a printed page or of a report: `Page 2 of 3`, `*** End of report ***`, `13 rows
/// selected`.
pub fn is_page_edge(text: &str) -> bool {
    static EDGE: Cued = Cued::new(
        "page|end|sent|closed|complete|done|finished|selected|listed|printed|found|exported",
        || {
            pattern(
                r"(?ix)^\W* (?:
                page \s* \d+ (?: \s* (?:of|/) \s* \d+ )? \W* $
                | end \s+ of \s+ (?:the\s+)? (?:list|page|slip|bom|report|order|file|document|task|batch|export|transfer|transmission|data|session) \b
                | (?: batch | file | list | session | transfer | export | upload ) \s+ (?: sent | closed | complete[d]? | ended | done | finished ) \b
                | \d+ \s+ (?:rows?|records?|lines?|components?|items?) \s+ (?:selected|listed|printed|found|exported) \W* $
            )",
            )
        },
    );
    EDGE.is_match(text)
}

/// True for a sentence of several words: `Thank you for your order.`
pub fn is_sentence(text: &str) -> bool {
    const WORDS: usize = 6;
    text.trim_end().ends_with(['.', '!', '?'])
        && text.starts_with(char::is_uppercase)
        && text.split_whitespace().count() >= WORDS
}

/// True for a sentence that counts nothing but days: `Payment is due within 14 days.`
pub fn is_plain_sentence(text: &str) -> bool {
    static TIMES: LazyLock<Regex> = LazyLock::new(|| {
        pattern(r"(?i)\b\d+\s+(?:working\s+)?(?:day|week|hour|minute|month|year)s?\b")
    });
    if !is_sentence(text) {
        return false;
    }
    let rest = TIMES.replace_all(text, "");
    !rest.contains(|c: char| c.is_ascii_digit()) && !counts_a_thing(&rest)
}

/// True where a line that names no hardware is a page's head or foot, or a footnote, whatever figures
/// it holds: `Sheet 2 11/14/2026`, `† 4 used in step 7`, `(1) Galvanized per ASTM A153.` What begins
/// with a count is neither: `2 signs dated 11/14/2026`.
pub fn is_page_or_footnote(text: &str) -> bool {
    static MARKS: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)
                \b (?:page|sheet|pg\.?|rev\.?) \s+ (?: \d{1,3} | [a-z] ) \b
                # of one mark twice: `3/8-16` is a thread
                | \b (?: \d{1,2} / \d{1,2} / | \d{1,2} \. \d{1,2} \. | \d{1,2} - \d{1,2} - ) (?:19|20)? \d\d \b
                | \b (?:19|20) \d\d - \d\d - \d\d \b
                | \b (?: \d{1,2} \s+ )? (?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec) [a-z]* \.? [\s,]+ (?: \d{1,2} [\s,]+ )? (?:19|20) \d\d \b
                | ^ \s* [†‡§¶]
                | ^ \s* \( \d{1,2} \) .* \b (?: per | see | used | unless | shall | must | applies | includes? | except ) \b
            ",
        )
    });
    let counts = text.trim_start().starts_with(|c: char| c.is_ascii_digit());
    MARKS
        .find(text.trim_start())
        .is_some_and(|mark| !counts || mark.start() == 0)
}

/// The stage that a title names (`Stage 2 - Girders`, `STEP 4B:`, `## Step 3: Rails`), without the
/// marks around it.
pub fn stage_title(text: &str) -> Option<&str> {
    static TITLE: Cued = Cued::new("stage|step|section|phase|assembly|part", || {
        pattern(
            r"(?ix)^ (?: stage | step | section | phase | assembly )
               \s* (?: no\.? | number | \# )? \s*
               (?: \d+ [a-z]? (?:\.\d+)? | [a-z] | [ivx]+ | one|two|three|four|five|six|seven|eight|nine|ten )
               (?: $ | \s*[:.,\-–—(/] | \s+ \p{Alphabetic} )
               # a part of the work, not one with a number
               | ^ part \s+ (?: [a-h] | [ivx]+ ) \s* [:\-–—] \s* \p{Alphabetic}",
        )
    });
    let text = unmark(text);
    TITLE.is_match(text).then_some(text)
}

/// A title of a few words without a number: `Frame`, `Seat rail:`. The words for a list say nothing of
/// a stage.
pub fn bare_title(text: &str) -> Option<&str> {
    const LISTS: &[&str] = &[
        "hardware",
        "parts",
        "fasteners",
        "fixings",
        "materials",
        "list",
        "lists",
        "notes",
        "note",
        "thanks",
        "tools",
        "contents",
        "misc",
        "miscellaneous",
        "supplies",
        "items",
        "subject",
        "regards",
        "total",
        "totals",
        "loose",
        "page",
        "you",
        "need",
        "needed",
        "required",
    ];
    let title = unmark(text);
    let letters = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-' | '&' | '\'' | '\u{2019}');
    let mut words = title.split_whitespace();
    let plain = title.starts_with(char::is_uppercase) && title.chars().all(letters);
    (plain
        && words.clone().count() <= 4
        && !words.any(|word| LISTS.contains(&word.to_lowercase().as_str())))
    .then_some(title)
}

/// A number and a title of a few words: `2. Posts`, with the number.
pub fn numbered_title(text: &str) -> Option<(u32, &str)> {
    let title = unmark(text);
    let figures = title.bytes().take_while(u8::is_ascii_digit).count();
    let words = title[figures..].strip_prefix(['.', ')'])?;
    let number = title[..figures].parse().ok()?;
    let plain = words.starts_with(' ') && bare_title(words).is_some();
    plain.then_some((number, title))
}

/// The first of several titles that are numbered or lettered in turn: `1. Base`, `A) Frame`.
pub fn first_title(text: &str) -> Option<&str> {
    let title = unmark(text);
    let words = (title.strip_prefix(['1', 'A'])?).strip_prefix(['.', ')'])?;
    (words.starts_with(' ') && bare_title(words).is_some()).then_some(title)
}

/// True where a line that names no item may be a title: a few words that begin large and end as no
/// sentence does (common practice, no source).
pub fn may_be_title(text: &str) -> bool {
    let title = text.trim().trim_start_matches(|c: char| !c.is_alphabetic());
    title.starts_with(char::is_uppercase)
        && title.split_whitespace().count() <= 6
        && !title.ends_with(['.', ',', ';', '!', '?'])
        && !is_page_or_footnote(text)
        && !is_note(text)
        && !is_total(text)
}

/// True where a line holds what looks like a size, in whatever language the rest is: `1/2 x 3`, `M8`.
pub fn holds_size(text: &str) -> bool {
    static SIZE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(r"(?ix) \b\d{1,2}/\d{1,2}\b | \bM\d{1,2}\b | \d \s* [x×] \s* \d | \#\d")
    });
    SIZE.is_match(text)
}

/// True where a figure stands in front of a word that it may count, or a price: `post 2 caps`,
/// `hose 12 clamp @ 0.45`. Not in front of a unit, nor behind a word by which it names a thing.
pub fn counts_a_thing(text: &str) -> bool {
    static COUNTS: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) @ | [$€£] \s* \d
                | (?: ^ | [\s(,;:] ) (?: \d{1,4} x? | x \s? \d{1,4} | one|two|three|four|five|six|seven|eight|nine|ten|twelve )
                  \)? \s+ (?: [\-–] \s+ )? (?: \p{Alphabetic}{3,} | \d )
                | \s x \s? \d{1,4} \W* $",
        )
    });
    COUNTS.is_match(text)
}

/// The title alone and what stands behind its colon or dash: `Step 2` and `2 M8 x 80 hex bolts`.
pub fn title_and_rest(title: &str) -> Option<(&str, &str)> {
    let at = title
        .find([':', '–', '—'])
        .or_else(|| title.find(" - ").map(|at| at + 1))?;
    let mark = title[at..].chars().next()?;
    let rest = title[at + mark.len_utf8()..].trim();
    (!rest.is_empty()).then(|| (title[..at].trim(), rest))
}

/// The number of a stage and what stands behind it: `Step 6 (roof)` and `Fit ten 3/8 x 4 hex bolts.`
pub fn step_and_rest(text: &str) -> Option<(&str, &str)> {
    static STEP: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?x)^ (?P<title> (?i: stage | step | section | phase ) \s* (?i: no\.? | number | \# )? \s*
               \d+ [a-zA-Z]? (?: \.\d+ )? (?: \s* \( [^)]* \) )? )
               (?: \s* [:.–—] \s* | \s+ - \s+ | \s+ ) (?P<rest> \S .* ) $",
        )
    });
    let found = STEP.captures(unmark(text))?;
    Some((found.name("title")?.as_str(), found.name("rest")?.as_str()))
}

/// A Markdown heading below the title, without its marks.
pub fn markdown_heading(text: &str) -> Option<(usize, &str)> {
    let text = text.trim();
    let level = text.bytes().take_while(|&b| b == b'#').count();
    let rest = &text[level..];
    (level > 0 && rest.starts_with(' ')).then(|| (level, unmark(rest)))
}

/// A title without Markdown's marks and the colon after it.
pub fn unmark(text: &str) -> &str {
    text.trim()
        .trim_matches(|c: char| matches!(c, '#' | '*' | '_' | '=' | ':') || c.is_whitespace())
}

/// What a bag or box is called, where the text names one and nothing else: `Hardware bag 3`,
/// `BOX NO. 2`, `Bag A:`.
pub fn container(text: &str) -> Option<Container<'_>> {
    static CONTAINER: Cued = Cued::new("bag|packet|pouch|sack|box|carton|crate|case", || {
        pattern(
            r"(?ix)^ (?: (?:hardware|fasteners?|fixings?|bolts?|screws?|parts?|small\sparts) \s+ )?
               (?: (?P<bag> bag | packet | pouch | sack ) | (?P<box> box | carton | crate | case ) )
               \s* (?: no\.? | number | \# )? \s* (?P<name> [a-z]{0,3}[\s-]?\d{1,4}[a-z]? | [a-z] )
               (?: \s+ of \s+ \d+ )?
               (?: [\s,(]+ [\d.,]+ \s* (?: kgs? | lbs? ) \.? \s* \)? | \s* \( [^()\d]+ \) )? $",
        )
    });
    let found = CONTAINER.captures(unmark(text))?;
    let name = found.name("name")?.as_str();
    Some(match found.name("bag") {
        Some(_) => Container::Bag(name),
        None => Container::Box(name),
    })
}

/// The bag or box in front of a line, and the rest: `Bag C: 12 hex bolts`.
pub fn container_and_rest(text: &str) -> Option<(Container<'_>, &str)> {
    let (title, rest) = title_and_rest(text)?;
    Some((container(title)?, rest))
}

/// The bag or box of which a line tells how many there are, and nothing of what is in it: `H1 bag x3
/// complete`, `Bag C: 2, one open`. Common practice, no source.
pub fn containers_counted(text: &str) -> Option<Container<'_>> {
    static COUNTED: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)^ (?: (?:hardware|fasteners?|fixings?|bolts?|screws?|parts?) \s+ )?
               (?: (?P<first> [a-z]{1,3}-?\d{1,4} ) \s+ (?: bag | packet | pouch | sack | (?P<box> box | carton | crate | case ) )
                 | (?: bag | packet | pouch | sack | (?P<case> box | carton | crate | case ) )
                   \s+ (?: no\.? \s* )? (?P<last> [a-z]{0,3}-?\d{1,4} | [a-z] ) )
               [\s,:;-]+
               (?: (?: [x\u{d7}]? \d+ | x | one | two | three | four | five | six | first | second | third | fourth | last | all
                    | complete | full | sealed | unopened | open(?:ed)? | closed | there | here | ok | good | only | and | is | are | of
                    | the | others? ) [\s,:;.()-]* )+ $",
        )
    });
    let found = COUNTED.captures(text.trim())?;
    let name = found.name("first").or(found.name("last"))?.as_str();
    Some(match found.name("box").or(found.name("case")) {
        None => Container::Bag(name),
        Some(_) => Container::Box(name),
    })
}

/// So many kits or sets of which each holds what stands below: `3 x kit S, each:`.
pub fn sets_of_what_follows(text: &str) -> Option<u32> {
    static SETS: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)^ [\s*_-]* (?P<sets> \d{1,4} ) \s* (?: x | \u{d7} | off | no\.? )? \s+ (?: \S+ \s+ ){0,4}?
               (?: kits? | sets? | units? | assembl(?:y|ies) ) \b [^:]*?
               (?: \b (?: each | every | per \s (?:kit|set|unit) ) \b [^:]* : | \b each (?: \s+ (?:with|of|contain\w*) )? ) [\s*_]* $",
        )
    });
    SETS.captures(text)?["sets"].parse().ok()
}

/// Where a line repeats what stands above it: the words for it, and whether they stand for the count.
pub fn ditto_in(text: &str) -> Option<(std::ops::Range<usize>, bool)> {
    static DITTO: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r#"(?ix) (?: ^ | \s ) (?: (?P<count> same \s+ (?:qty|quantity|number|count) \.? )
                | (?P<item> ditto | do\. | same | ["\u{201d}\u{3003}] ) ) (?: [,:]? \s | $ )"#,
        )
    });
    let found = DITTO.captures(text)?;
    match (found.name("count"), found.name("item")) {
        (Some(count), _) => Some((count.range(), true)),
        (None, item) => item.map(|item| (item.range(), false)),
    }
}

/// True where a title says that what follows is in no bag or box.
pub fn is_loose(text: &str) -> bool {
    let text = unmark(text);
    [
        "loose",
        "loose items",
        "loose parts",
        "unbagged",
        "not bagged",
    ]
    .iter()
    .any(|word| text.eq_ignore_ascii_case(word))
}

/// Without `7.2`, `2b.` in front of a word.
fn without_step(text: &str) -> &str {
    let bytes = text.as_bytes();
    let figures = |from: usize| {
        bytes[from..]
            .iter()
            .take_while(|b| b.is_ascii_digit())
            .count()
    };
    let first = figures(0);
    if !(1..=2).contains(&first) {
        return text;
    }
    let end = match bytes.get(first) {
        Some(b'.') if (1..=2).contains(&figures(first + 1)) => first + 1 + figures(first + 1),
        Some(b'a'..=b'h') if matches!(bytes.get(first + 1), Some(b'.' | b')')) => first + 1,
        _ => return text,
    };
    let rest = text[end..].trim_start_matches(['.', ')']);
    let word = rest.trim_start();
    let capital = word.starts_with(|c: char| c.is_ascii_uppercase())
        && word[1..].starts_with(|c: char| c.is_ascii_lowercase());
    if capital && rest.len() > word.len() {
        word
    } else {
        text
    }
}

/// Without a line's letter, or its place's: `A.`, `a)`, `(a)`, `B2:`. `M8:` is a size.
fn without_letter(text: &str) -> &str {
    if let Some((place, rest)) = text.split_once(": ")
        && let [b'A'..=b'L' | b'N'..=b'Z', figures @ ..] = place.as_bytes()
        && (1..=2).contains(&figures.len())
        && figures.iter().all(u8::is_ascii_digit)
    {
        return rest.trim_start();
    }
    let (open, letter) = match text.as_bytes() {
        [b'(', letter @ b'a'..=b'z', b')', b' ', ..] => (1, letter),
        [letter, b'.' | b')', b' ', ..] => (0, letter),
        _ => return text,
    };
    match letter.is_ascii_alphabetic() {
        true => text[open + 2..].trim_start(),
        false => text,
    }
}

/// A line of text without the bullet, tick box or number before it, the marks of a quoted mail, and
/// Markdown's emphasis around it.
pub fn without_bullet(text: &str) -> Cow<'_, str> {
    let mut text = text.trim_start_matches(|c: char| c == '>' || c.is_whitespace());
    text = text.trim_end();
    for mark in ["- ", "* ", "+ ", "\u{2022}", "\u{2013} "] {
        text = text.strip_prefix(mark).unwrap_or(text).trim_start();
    }
    for mark in ["[ ]", "[x]", "[X]", "\u{2610}", "\u{2611}"] {
        text = text.strip_prefix(mark).unwrap_or(text).trim_start();
    }
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    if (1..=3).contains(&digits) {
        let rest = text[digits..]
            .strip_prefix(['.', ')'])
            .and_then(|rest| rest.strip_prefix(' '));
        text = rest.map_or(text, str::trim_start);
    }
    text = without_letter(without_step(text));
    if text.contains("**") || text.contains("__") || text.contains('`') {
        Cow::Owned(text.replace("**", "").replace("__", "").replace('`', ""))
    } else {
        Cow::Borrowed(text)
    }
}

/// A bag or a box by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Container<'a> {
    Bag(&'a str),
    Box(&'a str),
}

/// A bag's or box's name alone, as a cell under "Bag" gives it: `Bag 3`, `3` and `No. 3` are one.
pub fn container_name(text: &str) -> &str {
    match container(text) {
        Some(Container::Bag(name) | Container::Box(name)) => name,
        None => text.trim(),
    }
}

/// True where a cell repeats the one above.
#[inline]
pub fn is_ditto(text: &str) -> bool {
    // Nearly every cell of a list is asked, so most are told by their first byte.
    let may_be = matches!(
        text.as_bytes().first(),
        Some(b'"' | b'\'' | b'-' | b'd' | b'D' | b'a' | b'A' | 0x80..)
    );
    may_be && is_ditto_mark(text)
}

fn is_ditto_mark(text: &str) -> bool {
    matches!(
        text,
        "\"" | "\u{201d}"
            | "\u{201c}"
            | "\u{2033}"
            | "\u{3003}"
            | "''"
            | "\u{2019}\u{2019}"
            | "-\"-"
    ) || ["ditto", "do.", "do", "as above"]
        .iter()
        .any(|word| text.eq_ignore_ascii_case(word))
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
              | (?: ^ | [,;(] \s* | \b (?: list | revision | issue | print | ship(?:ped|ping)? | pack(?:ed|ing)? | count(?:ed)? | deliver(?:ed|y) ) \s+ )
                dated? \b \s* [:\#=]? \s* (?P<value> [^,;)]* (?: , \s* [0-9] [^,;)]* )? )
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
    const OTHER: &[&str] = &[
        "need", "needed", "due", "by", "until", "before", "print", "printed", "valid", "expires",
        "order", "ordered", "date",
    ];
    let mut words = text.split(|c: char| !c.is_alphanumeric());
    text.trim_end().ends_with(':') || words.any(|word| OTHER.contains(&&*word.to_lowercase()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_of_slips() {
        #[track_caller]
        fn case(text: &str, expected: Option<&str>) {
            assert_eq!(slip_number(text), expected, "{text}");
        }
        case("Packing slip 55812", Some("55812"));
        case("PACKING LIST No. PL-2207", Some("PL-2207"));
        case("Delivery note: 1001/A", Some("1001/A"));
        case("Packing slip 7001 (corrected)", Some("7001"));
        case("Delivery note", Some(""));
        case("Despatch note number", Some(""));
        case("Packing slip for the shelter", None);
        case("Packing materials 12", None);
        case("Slip resistant decking 4", None);
    }

    #[test]
    fn totals() {
        for text in [
            "Total",
            "TOTAL:",
            "Subtotal",
            "Sub-total",
            "Sub total",
            "Subtotal, stage 1",
            "Grand total",
            "Totals",
            "Total pieces",
            "Stage total",
            "Stage 1 total",
            "Total for stage 3",
            "Page total",
            "Carried forward",
            "Total, stage 2",
            "Total this page",
            "Step 4B subtotal",
            "Total (kit)",
            "Sum",
            "Grand total ........... 412 pieces",
            "12 total",
            "412 pieces in total",
            "Bag total: 96 pcs",
            "Sum 46 pcs",
            "Total weight",
            "Pieces this stage",
            "Pieces in bag: 46",
            "Pcs in all",
            "Net weight 41.5 kg",
            "Items sold 106",
            "Sum of pieces",
            "pcs in step",
            "69 pieces in all",
            "Pieces in step 3",
            "All hardware in this kit",
            "311 LB",
            "214 PIECES    311 LB",
        ] {
            assert!(is_total(text), "{text}");
        }
        for text in [
            "Parts tray",
            "Order hook",
            "Pieces of 2x4",
            "Total station bracket",
            "Hex bolt",
            "Summit plate",
            "Subframe",
            "Totally threaded rod",
            "12 total station brackets",
            "Hardware kit 2",
            "Parts box",
            "Kit of parts",
            "5 lb anchor",
            "Item holder in steel",
        ] {
            assert!(!is_total(text), "{text}");
        }
    }

    #[test]
    fn figures_of_totals() {
        for (text, total) in [
            ("Bag total: 96 pcs", Some(96)),
            ("412 pieces in total", Some(412)),
            ("Stage 1 total: 24", Some(24)),
            ("Total pieces 1,240", Some(1240)),
            ("Pieces in bag: 46", Some(46)),
            ("69 pieces in all", Some(69)),
            ("Pieces in step 3", None),
            ("Pieces in step 3: 40", Some(40)),
            ("311 LB", None),
            ("Stage 1 total", None),
            ("Total weight 56", None),
            ("SUBTOTAL 407.94", None),
            ("Total: $96", None),
            ("Total of 24 lines, 96 pcs", None),
        ] {
            assert_eq!(total_in(text), total, "{text}");
        }
    }

    #[test]
    fn pages_and_footnotes() {
        for text in [
            "Boat rack BR-4   Sheet 2   11/14/2026",
            "14 November 2026, boat rack",
            "Greenhouse bench, 14 Nov 2026",
            "Pavilion, 2026-11-14",
            "Shelter list, November 2026",
            "Parts list rev C",
            "(1) Galvanized per ASTM A153.",
            "\u{2020} 4 used in step 7, 4 in step 9",
        ] {
            assert!(is_page_or_footnote(text), "{text}");
        }
        for text in [
            "(4) rail brackets",
            "4 sheets of plywood",
            "2 revolving hooks",
            "Bracket 11-14",
            "12 marker posts",
            "2 signs dated 11/14/2026",
            "Hex nut old 1/2-13",
            "old pieces 3/8-16 x 3",
        ] {
            assert!(!is_page_or_footnote(text), "{text}");
        }
    }

    #[test]
    fn notes() {
        for text in [
            "Note: torque again",
            "NOTES",
            "Note 1. Keep dry",
            "N.B. left hand",
            "Page 2 of 3",
            "(cont'd)",
            "See drawing 4",
            "Kit no. 14 of 20",
            "END OF BOM  20 COMPONENTS",
            "Ship to: 118 Alder Lane, dock 2",
            "PO 4471 line 2",
            "Packing slip no. 20817",
            "Phone: 555-0142",
            "4 BOXES   212 LB   FREIGHT PREPAID",
            "2 pallets, 1 carton. Received in good order",
        ] {
            assert!(is_note(text), "{text}");
        }
        for text in [
            "Notched plate",
            "Page holder",
            "Hex nut",
            "Nut, M8",
            "Kit of 4",
            "2 crates, 1 bundle of slats",
        ] {
            assert!(!is_note(text), "{text}");
        }
        for text in [
            "** 4 of these are spares",
            "one of which is bent",
            "(2 of them spare)",
        ] {
            assert!(is_of_others(text), "{text}");
        }
        for text in ["4 of M8 hex nut", "2 bags of 25", "box of these"] {
            assert!(!is_of_others(text), "{text}");
        }
    }

    #[test]
    fn papers() {
        for text in [
            "Checked by: T. Rowe",
            "PACKED BY J. CHECKED BY R.",
            "Freight",
            "Shipping and handling",
            "Weight kg 412",
            "Gross weight: 41 kg",
            "Order 5512",
            "Reference: TF-2207",
            "Documents",
            "Pallet 2",
            "Signature:",
            "Carriage and packing",
            "Fracht / freight",
            "Deposit pallet",
            "Card payment",
        ] {
            assert!(is_paper(text), "{text}");
        }
        for text in [
            "Weight bracket",
            "Order hook 2",
            "Delivery hatch",
            "Document holder",
            "Counted washers",
            "Pallet rack foot",
            "Received bolts 8",
            "Handling bar",
            "Packing strip 4",
            "Transport wheel",
            "Deposit box lid",
        ] {
            assert!(!is_paper(text), "{text}");
        }
    }

    #[test]
    fn stage_titles() {
        #[track_caller]
        fn case(text: &str, expected: Option<&str>) {
            assert_eq!(stage_title(text), expected, "{text}");
        }
        case("Stage 2 - Girders", Some("Stage 2 - Girders"));
        case("STEP 4B:", Some("STEP 4B"));
        case("## Step 3: Rails", Some("Step 3: Rails"));
        case("**Section A**", Some("Section A"));
        case("Step 12 Fit the rails", Some("Step 12 Fit the rails"));
        case("Stage two: deck", Some("Stage two: deck"));
        case("PART A - LEGS", Some("PART A - LEGS"));
        case("Part A bracket", None);
        case("Part 12: bracket", None);
        case("Step stool", None);
        case("Section bar 40 x 40", None);
        case("24 hex bolts", None);
        case("Assembly bolt", None);
        assert_eq!(
            title_and_rest("Step 2: 2 M8 nuts"),
            Some(("Step 2", "2 M8 nuts"))
        );
        assert_eq!(
            title_and_rest("STEP 7 \u{2013} Hang the door"),
            Some(("STEP 7", "Hang the door"))
        );
        assert_eq!(
            title_and_rest("Stage 2 - Girders"),
            Some(("Stage 2", "Girders"))
        );
        assert_eq!(title_and_rest("Stage 2"), None);
        let step = |text| step_and_rest(text).unwrap_or_default();
        assert_eq!(step("Step 7. Fit two."), ("Step 7", "Fit two."));
        assert_eq!(step("Step no. 7: Fit two."), ("Step no. 7", "Fit two."));
        assert_eq!(
            step("STEP 6B (roof). Zinc nuts, 2"),
            ("STEP 6B (roof)", "Zinc nuts, 2")
        );
        assert_eq!(step("Step 8 Fit two."), ("Step 8", "Fit two."));
        assert_eq!(step("Step 2.1 - 4 nuts"), ("Step 2.1", "4 nuts"));
        assert_eq!(step("Stage 2"), ("", ""));
        assert_eq!(step("Step up two M8 nuts"), ("", ""));
    }

    #[test]
    fn containers() {
        assert_eq!(container("Hardware bag 3"), Some(Container::Bag("3")));
        assert_eq!(container("BAG A"), Some(Container::Bag("A")));
        assert_eq!(container("Crate 1"), Some(Container::Box("1")));
        assert_eq!(container("Box no. 2:"), Some(Container::Box("2")));
        assert_eq!(container("Box 2 of 3"), Some(Container::Box("2")));
        assert_eq!(container("Carton 1 (14 kg)"), Some(Container::Box("1")));
        assert_eq!(container("Box 2, 31.5 lb"), Some(Container::Box("2")));
        assert_eq!(container("Bag"), None);
        assert_eq!(container("Box of screws"), None);
        assert_eq!(container("24 bags"), None);
        assert_eq!(container_name("Bag 3"), "3");
        assert_eq!(container_name("B-3"), "B-3");
    }

    #[test]
    fn bags_as_such() {
        let bag = |text, name| {
            assert_eq!(
                containers_counted(text),
                Some(Container::Bag(name)),
                "{text}"
            )
        };
        bag("H1 bag x3 complete", "H1");
        bag("H2 bag: 2 complete, third one open:", "H2");
        bag("Hardware bag C: 2, one open", "C");
        bag("Bag 4 - all there", "4");
        assert_eq!(
            containers_counted("Box 2: complete"),
            Some(Container::Box("2"))
        );
        for text in [
            "Bag A: 12 hex bolts",
            "Bag A",
            "bag of nails",
            "2 bags complete",
            "H1 x3",
        ] {
            assert_eq!(containers_counted(text), None, "{text}");
        }
    }

    #[test]
    fn sets() {
        assert_eq!(sets_of_what_follows("3 x kit S, each:"), Some(3));
        assert_eq!(sets_of_what_follows("2 gate kits, each with:"), Some(2));
        assert_eq!(
            sets_of_what_follows("4 sets of shelter hardware, each containing"),
            Some(4)
        );
        for text in [
            "3 kits",
            "Each kit:",
            "2 kits of parts, see below",
            "4 hinges, each:",
            "Kit 3, each:",
        ] {
            assert_eq!(sets_of_what_follows(text), None, "{text}");
        }
    }

    #[test]
    fn bullets() {
        #[track_caller]
        fn case(text: &str, expected: &str) {
            assert_eq!(without_bullet(text), expected);
        }
        case("- 24 hex bolts", "24 hex bolts");
        case("* [ ] **24** hex bolts", "24 hex bolts");
        case("\u{2022}24 hex bolts", "24 hex bolts");
        case("3. 24 hex bolts", "24 hex bolts");
        case("3) M8 x 40", "M8 x 40");
        case("3.5 in bolts", "3.5 in bolts");
        case("7.2 Fit four bolts", "Fit four bolts");
        case("7.2 M8 bolts", "7.2 M8 bolts");
        case("2b. Fit four bolts", "Fit four bolts");
        case("A. 2 hex nuts", "2 hex nuts");
        case("(a) 2 hex nuts", "2 hex nuts");
        case("(2) hex nuts", "(2) hex nuts");
        case("B2: 60 hex nuts", "60 hex nuts");
        case("M8: 60 hex nuts", "M8: 60 hex nuts");
        case("> > 24 hex bolts", "24 hex bolts");
        case("U-bolt", "U-bolt");
        case("24 hex bolts", "24 hex bolts");
        case("-24", "-24");
    }

    #[test]
    fn dittos() {
        for text in ["\"", "\u{201d}", "ditto", "Do.", "''"] {
            assert!(is_ditto(text), "{text}");
        }
        assert!(!is_ditto("door"));
    }

    #[test]
    fn dates_alone() {
        for text in [
            "12 Feb 2026",
            "2026-02-12",
            "12.02.2026",
            "February 12, 2026",
        ] {
            assert!(is_date(text), "{text}");
        }
        for text in ["12 Feb", "3/8", "Issue F", "12 Feb 2026, rev F"] {
            assert!(!is_date(text), "{text}");
        }
        assert!(labels_other_date("Needed by"));
        assert!(labels_other_date("Order date:"));
        assert!(!labels_other_date("Issue F"));
    }

    #[test]
    fn revisions() {
        #[track_caller]
        fn case(text: &str, revision: Option<&str>, date: Option<&str>) {
            assert_eq!(revision_and_date(text), (revision, date), "{text}");
        }
        case("Revision", Some(""), None);
        case("Rev. C", Some("C"), None);
        case("Parts list, revision: 2", Some("2"), None);
        case("PARTS LIST REV", Some(""), None);
        case("Date", None, Some(""));
        case("Date: 14 March 2026", None, Some("14 March 2026"));
        case("Date: March 14, 2026", None, Some("March 14, 2026"));
        case("SHIP DATE", None, Some(""));
        case("Count date: 24 April 2026", None, Some("24 April 2026"));
        case("Counted on", None, Some(""));
        case("Counted on: 24 April 2026", None, Some("24 April 2026"));
        case("Counted on May 4, 2026", None, Some("May 4, 2026"));
        case("Counted on the bench, 4 boxes", None, None);
        case("issue 7 of 9 Jan 2026", Some("7"), Some("9 Jan 2026"));
        case(
            "list dated 3 Feb 2026, rev E",
            Some("E"),
            Some("3 Feb 2026"),
        );
        case("Rev 2, 2026-02-03", Some("2"), None);
        case("Revision date: 3 Feb 2026", None, Some("3 Feb 2026"));
        case("Counted 6 March 2026 by Odo", None, Some("6 March 2026"));
        case(
            "Bench count, counted May 5, 2026",
            None,
            Some("May 5, 2026"),
        );
        case("Datum 02.03.2026", None, Some("02.03.2026"));
        case("Packed by Odo", None, None);
        case("Review of parts", None, None);
        case("Update the list", None, None);
        case("NEED DATE", None, None);
    }
}
