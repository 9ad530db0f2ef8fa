//! What a list holds besides its lines: totals, stage titles, notes, ditto marks.

mod block;
mod container;
mod effort;
mod title;
mod total;

pub use block::*;
pub use container::*;
pub use effort::*;
pub use title::*;
pub use total::*;

use std::sync::LazyLock;

use regex::Regex;

use crate::{cues::Cued, words::pattern};

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
        "by|signed|signature|initials|freight|postage|shipping|handling|delivery|insurance|carriage|packing|packag|transport|fracht|versand|porto|verpackung|livraison|emballage|imballo|trasporto|verzending|deposit|pfand|consigne|payment|weight|order|invoice|ref|quote|customer|document|paperwork|pallet|parcel|item|line|page|boxes|cartons|bags|kits|rev|issue|version|c|copyright",
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
                | \d+ \s+ (?: parcels? | items? | pages? )
                  (?: \s+ (?: needed | required | in \s+ all | in \s+ total | total | recommended ) )* \W* $
                | (?: revision | rev | issue | version ) \.? \s* (?: no\.? \s* )? [a-z]? \d{0,2} \W* $
                | (?: © | \(c\) | copyright ) \s* (?:19|20)\d\d \b .*
            )",
            )
        },
    );
    PAPER.is_match(text) || is_of_effort(text)
}

/// True for a line of the papers ([`is_paper`]) whose word is that of a part, too: a weight of a tent, a packing, a guy
/// line. Common practice, no source.
pub fn may_be_part(text: &str) -> bool {
    static PART: Cued = Cued::new("weight|packing|line|item|page", || {
        pattern(r"(?ix)^\W* (?: weight | packing | line | item | page ) (?: \s+ \d.* )? \W* $")
    });
    PART.is_match(text)
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
                | \b (?: \d{1,2} / \d{1,2} / | \d{1,2} \. \d{1,2} \. | \d{1,2} - \d{1,2} - ) \d\d \b
                | ^ \s* [†‡§¶]
                | ^ \s* \( \d{1,2} \) .* \b (?: per | see | used | unless | shall | must | applies | includes? | except ) \b
            ",
        )
    });
    let counts = text.trim_start().starts_with(|c: char| c.is_ascii_digit());
    let text = text.trim_start();
    // `roof sheet 24` names a sheet of the roof.
    let is_thing = |mark: &regex::Match<'_>| {
        let before = &text[..mark.start()];
        let plain = |c: char| c.is_alphabetic() || c == ' ';
        mark.as_str().starts_with("sheet")
            && !before.is_empty()
            && before.chars().all(plain)
            && !labels_paper(before)
    };
    let found = MARKS.find(text).filter(|mark| !is_thing(mark));
    let found = found.map(|mark| mark.range());
    let mut marks = found.into_iter().chain(date_in(text));
    marks.any(|mark| !counts || mark.start == 0)
}

/// Where a date with its year stands: `4 May 2026`, `May 4, 2026`, `2026-05-04`, `4.5.2026`, `4-May-26`.
pub fn date_in(text: &str) -> Option<std::ops::Range<usize>> {
    static DATE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)
                # of one mark twice: `3/8-16` is a thread
                \b (?: \d{1,2} / \d{1,2} / | \d{1,2} \. \d{1,2} \. | \d{1,2} - \d{1,2} - ) (?:19|20) \d\d \b
                | \b (?:19|20) \d\d - \d\d - \d\d \b
                | \b \d{1,2} - (?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec) - (?: (?:19|20) \d\d | \d\d ) \b
                | \b (?: \d{1,2} (?: st | nd | rd | th )? \s+ )? (?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec) [a-z]* \.? [\s,]+ (?: \d{1,2} (?: st | nd | rd | th )? [\s,]+ )? (?:19|20) \d\d \b
            ",
        )
    });
    DATE.find(text).map(|date| date.range())
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

#[cfg(test)]
mod tests;
