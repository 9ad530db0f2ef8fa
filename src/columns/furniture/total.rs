//! Rows of totals.

use std::sync::LazyLock;

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
