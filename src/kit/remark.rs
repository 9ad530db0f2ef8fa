//! Remarks beside a count that may change it.

use std::sync::LazyLock;

use regex::Regex;

use super::role::Role;
use crate::{notation::says_finish, unsettling, words::pattern};

mod lacking;

use lacking::{FOLLOWS, NOT_FOUND, NOT_SENT};
pub use lacking::{
    counted_in_words, denied, denies, follows, is_of_lacking, not_counted, not_sent,
};

/// Counts and things between which a remark deals: `each end`, `per post`.
const EACH: &[&str] = &["each", "both", "either", "every"];
const ENDS: &[&str] = &[
    "sides?", "ends?", "posts?", "corners?", "legs?", "frames?", "bays?", "rails?", "way",
];
const PLACES: &[&str] = &[
    "side", "end", "post", "corner", "leg", "frame", "bay", "rail", "panel", "joint", "place",
];
/// So many places, or so often: `2 places`, `4 corners`, `twice`.
const SO_OFTEN: &[&str] = &[
    r"(?:[2-9]|\d\d|two|three|four|five|six|seven|eight|nine|ten|twelve)\s+(?:places|positions|locations|points|spots|times|off|sides|ends|posts|corners|legs|frames|bays|rails|panels|joints)",
    "twice",
    "thrice",
];
/// That the number is another now.
const NOW: &[&str] = &[
    r"(?:now|increased?|raised?|reduced?|amended|corrected|make(?: it)?|total|in all)(?: (?:to|by|of|is|=))?[ :]*\d+",
];
/// Of what there is a left one and a right one, or an upper one and a lower one.
const HANDED: &[&str] = &[
    "mirror(?:ed)?",
    "(?:opposite|other|both|each) hands?",
    "all (?:a)?round",
    "one each(?: (?:end|side|way|hand))?",
];
const HAND: &str = "(?:left|right|l|r|lh|rh|l\\.?h\\.?|r\\.?h\\.?|top|bottom|upper|lower|front|back|rear|inner|outer|inside|outside|near|far)";
/// That another row counts it, or that pieces are made of others.
const BY_ANOTHER: &[&str] = &[
    r"(?:already|incl(?:uded|udes|uding|\.)?|counted|listed|comes?|supplied|shared|common|same|part)(?: [a-z]+){0,3} (?:above|below|before|earlier|(?:item|pos(?:ition)?|line|row|step|stage|no)\.? ?\d+)",
    "already counted",
    r"(?:bags?|boxe?s?|packets?|cartons?|bundles?|rolls?|tins?|lots?) of \d+",
    r"cut (?:\w+ ){0,2}(?:from|in(?:to)?) (?:\d+|one|two|half|three|four)",
    "half (?:length|size)",
];
const LIMITS: &[&str] = &["only", "unless", "except"];
const AGAIN: &[&str] = &[
    r"re-?(?:scan|count)(?:n?ed)?",
    r"(?:scanned|counted|listed) (?:twice|again)",
];
const NUMBERS: &[&str] = &[r"\d+", "one", "two", "three", "four", "five", "six"];
const SOME: &[&str] = &["some", "all"];
/// What is wrong with pieces, and that there are more or fewer.
const STATES: &[&str] = &[
    "bent", "damaged", "missing", "short", "stripped", "cracked", "broken", "rusty", "torn",
    "dented", "split", "spares?", "extra", "less", "more",
];
/// What became of so many of the pieces.
const BECAME: &[&str] = &[
    "sent",
    "shipped",
    "supplied",
    "delivered",
    "packed",
    "picked",
    "here",
    "now",
    "later",
    "left",
    "due",
    "owing",
    "to come",
    "on order",
];
const SIGNS: &[&str] = &["plus", "minus", "less"];
const TAKEN_OUT: &[&str] = &["deleted", "superseded", "withdrawn", "void", "cancel+ed"];
const OUTSIDE_KIT: &[&str] = &[
    "not (?:a )?part of (?:the|this) (?:kit|set|delivery|supply)",
    "not (?:included|supplied|provided|delivered)",
    "(?:sold|supplied|delivered|ordered) separately",
    "by others",
];

/// What becomes of pieces, or where they come from, in more words than a use has: `pre-fitted to the rail`.
const USED: &[&str] = &[
    r"(?:pre|factory|already|comes?|supplied)[\s-]?(?:fitted|installed|assembled|attached)",
    r"(?:fitted|installed|assembled|attached) (?:at|by|in) (?:the )?(?:factory|works|maker)",
    r"from (?:the )?(?:step|stage|section|previous|earlier|last)",
    r"(?:customer|client|owner|installer|contractor|others) (?:to |will )?(?:suppl(?:y|ies)|provides?|brings?)",
    r"(?:suppl(?:y|ied)|provided|bought|purchased?) (?:by|on|at|locally)",
    "buy locally",
    "(?:own|returned to|from) (?:the |your |our )?stock",
    r"re-?used?",
    "(?:free|client|customer)[- ]issue",
    "local purchase",
    r"(?:welded|glued|pressed|moulded|cast|built)[\s-](?:on|in|to)",
    r"(?:in|part of|incl(?:uded|udes|uding)? (?:in|with)) (?:the )?(?:sub-?)?ass(?:y|embly|emblies)",
    r"in (?:the )?sub-?ass(?:y|embly)",
];
/// That pieces are wanted in some kits, or in place of others.
const ON_CONDITION: &[&str] = &[
    "if",
    "on hold",
    "n/a",
    r"(?:model|variant) \w+",
    r"\w+ (?:version|model|variant)",
    r"(?:not|don'?t|do not) (?:used?|fit(?:ted)?|needed|required|for)",
    "omit(?:ted)?",
    "dn[fp]",
    "nla",
    "to be confirmed",
    "in place of",
    "in lieu of",
    "on site",
    r"see (?:kit|order) \w+",
    "^(?:local|site)$",
];
/// Other ways to say how many.
const AMOUNTS: &[&str] = &[
    r"x\s?\d+",
    "pairs?",
    r"sets?(?: of \d+)?",
    "dozen",
    "boxe?s?",
    r"packs?(?: of \d+)?",
    r"was \d+",
    "spares?",
    "reserve",
    "met(?:re|er)s?",
    "per (?:m|metre|meter|ft|foot|100|1000)",
];
/// What the title over lines says of whether they are needed, and of how many (common practice, no source).
const TITLES: &[&str] = &[
    "spares?",
    "extras",
    "options?",
    "optional",
    "to be (?:bought|ordered|made|supplied)",
    "removed before",
    "(?:also|still) (?:needed|required)",
    "also need",
    "tools? (?:needed|required)",
    "recommended",
    "on site",
    "not in (?:the|this) (?:box|crate|carton|bag|parcel)",
    "in (?:another|the other|a separate) (?:box|crate|carton|kit|parcel)",
];
/// Hardware that comes with what the row names: `with nut`, `mit Mutter`.
const COMES_WITH: &str = r"^[\s(,;]*(?:with|w/|c/w|incl(?:uding|udes)?|plus|and|mit|inkl)[\s.]+(?:[a-z0-9./-]+\s+){0,3}(?:nuts?|washers?|bolts?|screws?|nylocs?|muttern?|scheiben?|schrauben?)\b";

/// How pieces are, and words for so many, beside which a count stands.
const FOUND: &[&str] = &[
    "good",
    "ok",
    "okay",
    "sound",
    "bent",
    "kinked",
    "dented",
    "scratched",
    "damaged",
    "bad",
    "broken",
    "cracked",
    "rusty",
    "chipped",
    "split",
    "stripped",
    "missing",
    "there",
    "here",
    "short",
    "spare",
];
const SO_MANY: &[&str] = &[
    "dozen", "doz", "gross", "pair", "pairs", "couple", "few", "several",
];

/// Ways to say how many in no number.
const UNTOLD: &[&str] = &[
    "(?:the )?same (?:number|amount|count|qty|quantity)(?: as| of)?",
    "as many(?: as)?",
    "how many",
    "a (?:pair|couple|few|dozen) or (?:two|so|more)",
    r"\d+ or (?:so|more|\d+)",
    r"(?:qty|quantity|count|number) (?:is )?(?:tb[acd]|to be|unknown|open|\?)",
    r"tb[acd]",
];

const ALL_THERE: &[&str] = &[
    "all (?:here|there|present|ok|in)",
    "ok(?:ay)?",
    "complete",
    "full",
    "enough",
];

/// A pattern of whole words or phrases in a row, each one of a table.
fn in_a_row(tables: &[&[&str]]) -> String {
    let one_of = |table: &&[&str]| format!("(?:{})", table.join("|").replace(' ', r"\s+"));
    let row: Vec<String> = tables.iter().map(one_of).collect();
    format!(r"\b{}\b", row.join(r"\s+"))
}

/// True where a remark may change how many pieces the row beside it means: `2 bent`, `each end`,
/// `hoop kit only`, `deleted in rev C`. Common practice, no source.
pub fn may_change_count(text: &str) -> bool {
    static CHANGES: LazyLock<Regex> = LazyLock::new(|| {
        let counts = [NUMBERS, SOME].concat();
        let all = [
            in_a_row(&[EACH, ENDS]),
            in_a_row(&[&["per"], PLACES]),
            in_a_row(&[LIMITS]),
            in_a_row(&[AGAIN]),
            in_a_row(&[&counts, STATES]),
            in_a_row(&[
                &counts,
                &["are", "is", "were", "not", "of (?:them|these|those)"],
            ]),
            in_a_row(&[&counts, BECAME]),
            in_a_row(&[&[FOLLOWS, NOT_SENT].concat()]),
            in_a_row(&[SIGNS, NUMBERS]),
            r"\buse\s+\d".to_owned(),
            in_a_row(&[USED]),
            in_a_row(&[ON_CONDITION]),
            in_a_row(&[AMOUNTS]),
            in_a_row(&[&[SO_OFTEN, NOW, HANDED, BY_ANOTHER].concat()]),
            format!(
                r"^[\s(]*{HAND}\s*(?:and|&|\+|/|,)\s*{HAND}(?:[\s-]*(?:sides?|ends?|hands?))?[\s.)]*$"
            ),
            r"^\s*(?:or\s|hold[\s.!]*$)".to_owned(),
            // `with landing board: 20`
            r"\b(?:with|for|without)\s(?u:[^:]){1,40}:\s*\d".to_owned(),
            COMES_WITH.to_owned(),
            r"^[\s?]*\?[\s?]*$".to_owned(),
        ];
        pattern(&format!("(?i-u){}", all.join("|")))
    });
    CHANGES.is_match(text) || deals_out(text) || unsettling::are_in_remark(text)
}

/// What stands in brackets behind a name, and may change how many pieces are meant: `leg (x2)`, `rail (mirror)`, `bolt
/// (each)`. Common practice, no source.
pub fn in_brackets(name: &str) -> impl Iterator<Item = &str> {
    static INSIDE: LazyLock<Regex> =
        LazyLock::new(|| pattern(r"[\w)]\s*\((?P<said>[^()]{1,60})\)"));
    static EACH_OF_THEM: LazyLock<Regex> = LazyLock::new(|| pattern(r"(?i-u)^\s*each\s*$"));
    let inside = name.contains('(').then(|| INSIDE.captures_iter(name));
    let inside = (inside.into_iter().flatten()).filter_map(|found| found.name("said"));
    let said = inside.map(|said| said.as_str().trim());
    // How many lie in one pack is read as such.
    static PACKS: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i-u)\b(?:boxe?s?|packs?|packets?|sets?|pairs?|dozen|bags?|cartons?|rolls?|tins?|gross|lots?|bundles?)\b",
        )
    });
    said.filter(|said| !PACKS.is_match(said))
        .filter(|said| may_change_count(said) || EACH_OF_THEM.is_match(said))
}

/// True for a remark that says no more than what each of the pieces is for: `per bolt`, `every second slat`, `each of the
/// 3 hooks`.
fn deals_out(text: &str) -> bool {
    /// What a remark goes by, and what a piece measures.
    const OTHER: &[&str] = &[
        "drawing",
        "dwg",
        "drg",
        "spec",
        "specification",
        "standard",
        "order",
        "plan",
        "print",
        "sketch",
        "manual",
        "instructions",
        "page",
        "detail",
        "list",
        "kit",
        "set",
        "request",
        "customer",
        "code",
        "mm",
        "cm",
        "m",
        "in",
        "inch",
        "inches",
        "ft",
        "kg",
        "g",
        "lb",
        "lbs",
    ];
    static DEALS: LazyLock<Regex> = LazyLock::new(|| {
        pattern(&format!(
            r"(?i-u)^[\s(-]*(?:(?:{}|for|on|at|to)\s+)*(?:per|each|every)\s+(?:of\s+)?(?:the\s+)?(?:[0-9]+\s+)?(?P<what>[a-z]+)(?:\s+[a-z]+)?[\s.,;!)-]*$",
            NUMBERS.join("|")
        ))
    });
    let found = DEALS.captures(text);
    found.is_some_and(|found| !OTHER.contains(&found["what"].to_lowercase().as_str()))
}

/// Says that pieces beside it are all there, and as they should be.
const SOUND: &[&str] = &[
    "ok(?:ay)?",
    r"o\.k\.",
    "good",
    "fine",
    "sound",
    "new",
    "clean(?:ed)?",
    "(?:washed|wet|dry|dirty|dusty|greased|oiled)",
    "complete",
    "correct",
    "exact",
    "full(?: (?:bag|box|pack))?",
    "enough",
    "all",
    "yes",
    "y",
    "x",
    "done",
    "tick(?:ed)?",
    "(?:double[ -]?)?(?:checked|verified|confirmed|counted)",
    "(?:all )?(?:here|there|present|in|accounted for)",
    "as (?:listed|ordered|expected|required)",
    "no(?:thing|ne)? (?:missing|short|damaged|damage|issues?|problems?|faults?|shortages?)",
    "matches(?: (?:the )?(?:list|slip|order))?",
];
/// That they were sent.
const SENT: &[&str] = &[
    "(?:shipped|sent|packed|picked|delivered|dispatched|despatched|supplied|included|enclosed|loaded|issued|fulfilled|invoiced|closed)",
    "in full",
    "(?:in|ex|from) stock",
    "available",
    "(?:with )?(?:this|same) (?:delivery|parcel|order|shipment)",
    "heavy",
    "fragile",
    "sharp",
    "handle with care",
    "keep dry",
    "this (?:side|way) up",
    "(?:two|2)[- ]man lift",
    r"\d+(?:[.,]\d+)? ?(?:kgs?|g|lbs?)",
    r"(?:see |ref\.? )?(?:drawing|dwg|page|sheet|sketch|fig(?:ure)?|pos(?:ition)?|item|line|step|manual|instructions?)\.?(?: no\.?)?(?: [a-z]?\d*[a-z]?)?",
];
/// That the shop has them, and how many it keeps.
const KEPT: &[&str] = &[
    "in stock",
    "available",
    "free",
    "active",
    "current",
    r"(?:min|max|re-?order(?: at| level| point)?)\.?:? \d+",
];
/// Where pieces lie, who looked, and when.
const WHERE_AND_WHO: &[&str] = &[
    "(?-i:[A-LN-Z][A-Z]?-?[0-9]{1,4}(?:-[0-9]+)*)",
    "(?:counted|checked|packed|picked) by (?-i:[A-Z][A-Za-z.]*(?: [A-Z][a-z.]*)?)",
    r"(?:(?:counted|checked|packed|picked|sent|shipped) )?(?:on )?\d{1,2}(?:[./-]\d{1,2}[./-]\d{2,4}|(?:st|nd|rd|th)? (?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*(?: \d{4})?)",
];
/// Containers, and marks by which one of several is told.
const CONTAINERS: &str = "(?:bin|box|bag|shelf|rack|drawer|tray|crate|carton|pallet|bay|row|aisle|van|truck|trailer|bench|jar|tin|tub|bucket|cupboard|cabinet|store|shed|workshop|yard|warehouse|container|case|bundle)s?";
const MARK: &str = r"(?: (?:no\.? )?(?:[a-z]?-?\d{1,4}[a-z]?|[a-z]))";
const WHICH: &str = "(?:(?:in|on|at|the|left|right|top|bottom|upper|lower|middle|small|big|large|red|blue|green|yellow|white|black|grey) )+";

/// What is wrong with pieces, or was done with them, in a column that nothing is known of.
const NOT_AS_LISTED: &[&str] = &[
    "wrong",
    "short",
    "too (?:short|long|small|big)",
    "rusty",
    "torn",
    "mixed",
    "sealed",
    "faulty",
    "rejected",
    "reject",
    "blocked",
    "borrowed",
    "taken",
    "used",
    "reserved",
    "allocated",
    "sold",
    "quarantined?",
    "on order",
    "not (?:ours|counted|opened|checked)",
    "by weight",
    "half",
    "part(?:ly|ial)?",
];

/// True where a remark, on a list of that role, may change how many pieces the row beside it means. Beside what
/// is asked for, remarks speak of much else. Beside what was sent, counted or is kept, each does that is not known
/// to say that all is well, or where: `bent`, `follows`, `sealed`, `sold` (common practice, no source).
pub fn may_change(text: &str, role: Role) -> bool {
    let asks = matches!(role, Role::Required | Role::Compared);
    let figure = text.trim().parse::<u32>().is_ok();
    (!asks || may_change_count(text) || figure) && !is_harmless(text, role)
}

/// True where the words of a column of which no word is known are a remark that may change how many.
pub fn may_be_change(text: &str, role: Role) -> bool {
    static SAYS: LazyLock<Regex> = LazyLock::new(|| found_in(&[NOT_AS_LISTED, NOT_FOUND].concat()));
    let asks = matches!(role, Role::Required | Role::Compared);
    (may_change_count(text) || !asks && SAYS.is_match(text)) && !is_harmless(text, role)
}

/// True where a remark says that all is well, where pieces lie, or who looked.
pub fn is_harmless(text: &str, role: Role) -> bool {
    static SAYS: LazyLock<[Regex; 4]> = LazyLock::new(|| {
        [&[][..], SENT, SOUND, KEPT].map(|more| {
            let lies = format!("{WHICH}{CONTAINERS}{MARK}?|{CONTAINERS}{MARK}");
            let all = [&[lies.as_str()], WHERE_AND_WHO, more].concat();
            let all = all.join("|").replace(' ', r"\s+");
            pattern(&format!(
                r"(?i-u)^[\s.,;!()-]*(?:(?:{all})(?:[\s.,;!()&/-]+|$))+$"
            ))
        })
    });
    let [where_, sent, sound, kept] = &*SAYS;
    match role {
        Role::Required | Role::Compared => where_.is_match(text),
        Role::Shipped => sent.is_match(text) || sound.is_match(text) || says_finish(text),
        Role::Counted | Role::LeftOver => sound.is_match(text),
        Role::Stock => kept.is_match(text) || sound.is_match(text) || says_finish(text),
    }
}

/// True where the last words say that all is well: `rails ok`.
pub fn is_all_well(text: &str) -> bool {
    text.split_whitespace()
        .next_back()
        .is_some_and(|last| is_harmless(last, Role::Counted))
}

/// True where the title over lines may say whether they are needed, or how often: `Optional extras`, `Each bay`,
/// `Floor (x2)`.
pub fn qualifies_lines(title: &str) -> bool {
    if is_of_spares(title) {
        return false;
    }
    static QUALIFIES: LazyLock<Regex> = LazyLock::new(|| {
        let all = [
            in_a_row(&[EACH, &[ENDS, PLACES].concat()]),
            in_a_row(&[&["per"], PLACES]),
            in_a_row(&[LIMITS]),
            in_a_row(&[USED]),
            in_a_row(&[ON_CONDITION]),
            in_a_row(&[TITLES]),
            r"(?:\b(?:x|make|build|qty)\s?:?\s?\d+|\b\d+\s?(?:x|off))\)?\s*$".to_owned(),
        ];
        pattern(&format!("(?i-u){}", all.join("|")))
    });
    QUALIFIES.is_match(title)
}

/// True for a title over spares, which no stage waits for: `Spares`, `Spare parts`. Common practice, no source.
pub fn is_of_spares(title: &str) -> bool {
    static SPARES: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)^ (?: (?:stage|step|section)? \s* \d+ [\s.:)-]+ )?
               (?: (?:hardware|fasteners?|fixings?|loose) \s )?
               spares? (?: \s (?:parts?|pieces?|hardware|fasteners?|fixings?|bag) )? [\s:.]* $",
        )
    });
    SPARES.is_match(title.trim())
}

/// True where the words for a place may say that there are several of it: `each end`, `4 corners`, `per board`.
pub fn counts_places(place: &str) -> bool {
    static SEVERAL: LazyLock<Regex> = LazyLock::new(|| {
        pattern(&format!(
            r"(?i-u)^[\s(-]*(?:(?:[2-9]|\d\d|two|three|four|five|six|seven|eight|nine|ten|twelve)\s+(?:[a-z]+\s+)?[a-z]+s|all|per|{})\b",
            EACH.join("|")
        ))
    });
    SEVERAL.is_match(place) || may_change_count(place)
}

/// The option that a stage's name says it is: `Landing board (option)`, `OPTION: SIDE SCREEN`, `Option 2 - Gutter`
/// (common practice, no source).
pub fn named_option(stage: &str) -> Option<&str> {
    const WORDS: [&str; 7] = [
        "option", "optional", "ordered", "wanted", "chosen", "fitted", "supplied",
    ];
    static OPTION: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) ^\s* (?P<name> .*\p{Alphabetic}.*? ) [\s,:–-]* [(\[,:–-] \s* (?:option(?:al)?|if\s+(?:ordered|wanted|chosen|fitted|supplied))\s*[)\]]?\s*$
               | ^\s* option(?:al|s)? (?: \s+(?:extras?|items?|parts?) )? (?: \s+(?:no\.?\s*)?[a-z\d] )? (?: \s*: | \s+[–—-] ) \s* (?P<after> .*\p{Alphabetic}.*? ) [\s:]* $",
        )
    });
    // Each row of a list may name another stage, and nearly none names an option.
    let last = stage.trim_end();
    let last = last.strip_suffix([')', ']']).unwrap_or(last).trim_end();
    let ends_in = |end: &str| {
        let from = last.len().checked_sub(end.len());
        from.and_then(|from| last.get(from..))
            .is_some_and(|last| last.eq_ignore_ascii_case(end))
    };
    let begins = |with: &str| {
        let first = stage.trim_start().get(..with.len());
        first.is_some_and(|first| first.eq_ignore_ascii_case(with))
    };
    if !begins(WORDS[0]) && !WORDS.iter().any(|end| ends_in(end)) {
        return None;
    }
    let found = OPTION.captures(stage)?;
    let name = found.name("name").or(found.name("after"));
    name.map(|name| without_number(name.as_str()))
}

/// The name of a stage without its number in front: `5 Mesh`.
fn without_number(name: &str) -> &str {
    let rest = name.trim_start_matches(|c: char| c.is_ascii_digit());
    let rest = rest.trim_start_matches(['.', ')']);
    let word = rest.trim_start();
    let begins = word.chars().take(2).filter(|c| c.is_alphabetic()).count() == 2;
    match begins && word.len() < rest.len() {
        true => word,
        false => name,
    }
}

/// The word by which a line is no longer one of its list: `deleted`.
pub fn taken_out(text: &str) -> Option<&str> {
    static OUT: LazyLock<Regex> = LazyLock::new(|| found_in(TAKEN_OUT));
    OUT.find(text).map(|found| found.as_str())
}

/// True where a sentence says that what it names does not come with the kit: `Anchors are not part of the
/// kit.`
pub fn not_in_kit(text: &str) -> bool {
    static OUTSIDE: LazyLock<Regex> = LazyLock::new(|| found_in(OUTSIDE_KIT));
    OUTSIDE.is_match(text)
}

/// True where a part's name may hold a count that was not read: so many, and how they are (`11 good 1
/// kinked`, `dozen`); and, in a line of text that has no cell for it, any bare figure.
pub fn may_hide_count(name: &str, in_text: bool) -> bool {
    static COUNTED: LazyLock<Regex> = LazyLock::new(|| {
        let states = in_a_row(&[NUMBERS, FOUND]);
        pattern(&format!("(?i-u){states}|{}", in_a_row(&[SO_MANY])))
    });
    static FIGURE: LazyLock<Regex> = LazyLock::new(|| pattern(r"(?:^|[\s,;:(])\d+(?:$|[\s,;:)])"));
    COUNTED.is_match(name) || (in_text && FIGURE.is_match(name))
}

/// The words by which a line says how many in no number: `door hinges - a pair or two`, `qty tbd`.
pub fn untold(text: &str) -> Option<&str> {
    static UNTOLD_IN: LazyLock<Regex> = LazyLock::new(|| found_in(UNTOLD));
    UNTOLD_IN.find(text).map(|found| found.as_str())
}

/// The words by which a line without a figure says that all pieces are there: `posts ok`, `caps all here`.
pub fn all_there(text: &str) -> Option<&str> {
    static THERE: LazyLock<Regex> = LazyLock::new(|| found_in(ALL_THERE));
    THERE.find(text).map(|found| found.as_str())
}

/// A line of a count without the words at its end that say that all is well: `4 rails - ok`, `rails 4, all there`.
/// `None` where there are none, or its count does not stand at an end.
pub fn without_all_well(text: &str) -> Option<&str> {
    static WELL: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)[\s,;:(\x{2013}-]+(?:all\s+)?(?:ok|okay|fine|good|there|here|present|yes|y|\x{2713}|\x{2714})[\s.!)]*$",
        )
    });
    let rest = &text[..WELL.find(text)?.start()];
    let figure = |c: char| c.is_ascii_digit();
    (rest.starts_with(figure) || rest.ends_with(figure)).then_some(rest)
}

fn found_in(table: &[&str]) -> Regex {
    pattern(&format!("(?i-u){}", in_a_row(&[table])))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn remarks() {
        for text in [
            "2 bent",
            "plus 2 in truck",
            "per side",
            "each end",
            "changed to 10 in rev C",
            "Deleted",
            "hoop kit only",
            "use 1/2 x 5 with thick decking",
            "all missing",
            "short, 12 sent",
            "90 now, 60 in week 48",
            "back-ordered",
            "discontinued, see M10 x 30",
            "pre-fitted to the rail",
            "fitted at the factory",
            "from step 1",
            "customer to supply",
            "from your own stock",
            "buy locally",
            "on site",
            "see kit 2",
            "local",
            "optional",
            "if required",
            "not used on this model",
            "do not use",
            "tbc",
            "?",
            "or M8 x 50",
            "alternative to M8 x 47",
            "x2",
            "sets of 4",
            "was 8",
            "spare",
            "RESCAN",
            "with nut",
            "c/w 2 washers",
            "counted twice",
            "3 not ours",
            "4 are M8 fine",
            "2 places",
            "in 4 corners",
            "twice",
            "now 6",
            "increase to 6",
            "left and right",
            "LH + RH",
            "top & bottom",
            "one each end",
            "opposite hand also",
            "mirror",
            "2 per bolt",
            "in bag of 10",
            "cut 2 from 1",
            "cut in two",
            "omit",
            "DNF",
            "not fitted",
            "counted above",
            "same bolts as step 1",
            "incl. in item 3",
            "supplied with item 5",
        ] {
            assert!(may_change_count(text), "{text}");
        }
        for text in [
            "torque again after a week",
            "see drawing 4",
            "left hand",
            "per ASTM A153",
            "grease first",
            "check each bolt",
            "hand tight",
            "two-part label",
            "left",
            "top rail and bottom board",
            "cut to length",
            "round head",
            "see item 3",
            "now in stainless",
        ] {
            assert!(!may_change_count(text), "{text}");
        }
    }

    /// Beside what was sent, counted or is kept, what is not known to be harmless is a doubt: common practice,
    /// no source.
    #[test]
    fn remarks_by_role() {
        #[track_caller]
        fn case(role: Role, harmless: &[&str], doubted: &[&str]) {
            for text in harmless {
                assert!(!may_change(text, role), "{text}");
            }
            for text in doubted {
                assert!(may_change(text, role), "{text}");
            }
        }
        case(
            Role::Required,
            &[
                "see page 4",
                "left hand",
                "in box 2",
                "zinc",
                "hold with a spanner",
                "glue as well",
            ],
            &[
                "obsolete",
                "n/a",
                "on hold",
                "free issue",
                "phantom",
                "welded on",
                "per m",
                "model B",
                "long version",
                "with landing board: 20",
                "clout nails instead",
            ],
        );
        case(
            Role::Shipped,
            &[
                "packed",
                "shipped in full",
                "in stock",
                "pallet 2",
                "zinc",
                "see drawing 4",
            ],
            &[
                "cancelled",
                "substituted",
                "follows",
                "sent 1",
                "collect",
                "drop-ship",
                "week 48",
            ],
        );
        case(
            Role::Counted,
            &[
                "ok",
                "all there",
                "good, in box 2",
                "B3",
                "counted by Ida",
                "4 May 2026",
                "checked",
            ],
            &[
                "bent",
                "wrong size",
                "M10 not M8",
                "not counted",
                "sealed",
                "by weight",
                "half",
                "taken 2",
                "from old kit",
                "M8",
                "12/14",
            ],
        );
        case(
            Role::Stock,
            &["min 10", "shelf 3", "reorder at 20"],
            &["reserved for job 12", "quarantine", "sold", "on order"],
        );
    }

    #[test]
    fn options_that_stages_name() {
        let named = named_option;
        assert_eq!(named("Landing board (option)"), Some("Landing board"));
        assert_eq!(named("Skylight - optional"), Some("Skylight"));
        assert_eq!(named("Ramp, if ordered"), Some("Ramp"));
        for (text, option) in [
            ("OPTION: SIDE SCREEN", "SIDE SCREEN"),
            ("Option 1 - Side screen", "Side screen"),
            ("Optional extras - gutter:", "gutter"),
            ("Option B: gutter and pipe", "gutter and pipe"),
            ("5 Mesh (option)", "Mesh"),
            ("5. Mesh - optional", "Mesh"),
            ("2 x 4 frame (option)", "2 x 4 frame"),
        ] {
            assert_eq!(named(text), Some(option), "{text}");
        }
        for text in [
            "Options",
            "Optional extras",
            "Option A",
            "Roof",
            "(option)",
            "Options: 3",
        ] {
            assert_eq!(named(text), None, "{text}");
        }
    }

    // Common practice, no source.
    #[test]
    fn brackets_behind_names() {
        for (name, said) in [
            ("leg (x2)", Some("x2")),
            ("M10 x 50 hex bolt (optional)", Some("optional")),
            ("leg (mirror)", Some("mirror")),
            ("bolt (each)", Some("each")),
            ("leg (for model B)", Some("for model B")),
            ("rail (left)", None),
            ("M8 x 40 bolt (for the post)", None),
            ("washer (zinc)", None),
            ("(4) legs", None),
        ] {
            assert_eq!(in_brackets(name).next(), said, "{name}");
        }
    }

    // Common practice, no source.
    #[test]
    fn counts_within_names() {
        for name in [
            "chains 11 good 1 kinked",
            "spring clips, dozen",
            "hooks 4 there",
        ] {
            assert!(may_hide_count(name, false), "{name}");
        }
        for name in [
            "roof panel",
            "upright 60x60x2000",
            "post 2.4 m",
            "good side panel",
        ] {
            assert!(!may_hide_count(name, true), "{name}");
        }
        assert!(may_hide_count("hooks (4)", true));
        assert!(!may_hide_count("panel 3", false));
    }

    #[test]
    fn words_of_slips_and_counts() {
        for (text, rest) in [
            ("4 rails OK", "4 rails"),
            ("4 rails - ok", "4 rails"),
            ("rails 4, all there.", "rails 4"),
            ("4 posts P1 \u{2713}", "4 posts P1"),
        ] {
            assert_eq!(without_all_well(text), Some(rest), "{text}");
        }
        assert_eq!(without_all_well("posts ok"), None);
        assert_eq!(without_all_well("4 good rails"), None);
        for (text, words) in [
            ("tensioners, same number as links", "same number as"),
            ("door hinges - a pair or two", "a pair or two"),
            ("spring .6 OD - QTY TBD", "QTY TBD"),
            ("take 50 or 100?", "50 or 100"),
            ("dogs .... 2 or so per vice", "2 or so"),
        ] {
            assert_eq!(untold(text), Some(words), "{text}");
        }
        for text in ["qty description", "2 posts or rails", "some like it"] {
            assert_eq!(untold(text), None, "{text}");
        }
    }
}
