//! A sentence of an assembly guide: the hardware that it calls for, how often, and what it says of
//! the joint.
//!
//! A callout is a noun of the trade with the size, the grade and the count around it; each is read
//! by the rules for a list's line. The rest of the sentence is looked through for what multiplies,
//! for torque, and for numbers that name something (`step 3`). What multiplies is taken only where
//! its number is stated; everything else that bears on a count is a doubt.

use std::{ops::Range, sync::LazyLock};

use regex::Regex;

use super::{
    callout::{Callout, Notation, Quantity, Role, describe},
    hedges,
    number::Shape,
    reader::Reader,
    rule::{Rule, Words},
    scope,
    setting::{self, OptionNamed},
    spoken::in_figures,
    token::{Prefix, Tok},
    words::{Row, Sense, look_up},
};
use crate::{
    doubt::Doubt,
    hardware::{Kind, Style, Unit},
    words::pattern,
};

/// How a sentence brings an item up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Naming {
    /// Called for: `four bolts`.
    New,
    /// There already, to be worked on or as a place: `tighten all four nuts`, `over the bolts`.
    Known,
    /// There already, and put to use: `with the four bolts`.
    Put,
    /// So many of what is there: `four of the bolts`.
    Some,
    /// Said to be left out: `do not use the bolts`, `instead of the bolts`.
    Not,
}

/// One item that a sentence names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Call {
    pub callout: Callout,
    pub naming: Naming,
    /// Where it stands in [`Sentence::text`].
    pub at: Range<usize>,
}

/// What a sentence says.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Sentence {
    /// With its dictated numbers in figures.
    pub text: String,
    pub calls: Vec<Call>,
    /// How often each call is needed: `both ends` is 2.
    pub places: u32,
    /// Torques as written, with where they stand.
    pub torques: Vec<(usize, String)>,
    /// The sentence repeats what was called for before, so many times.
    pub repeat: Option<u32>,
    /// The stage or step that it repeats, as written, where it names one: `3`, `1 to 3`.
    pub repeats_stage: Option<String>,
    /// The stage or step that its hardware is for, where it names one: `set aside for step 9`.
    pub for_stage: Option<String>,
    /// The one place that it names: `north post`.
    pub place: Option<String>,
    pub option: Option<OptionNamed>,
    /// Doubts of all its calls.
    pub doubts: Vec<Doubt>,
    /// Figures that measure, count or name something else, in [`Sentence::text`].
    pub measures: Vec<Range<usize>>,
    /// Figures that no reading took; a doubt tells each.
    pub left_over: Vec<Range<usize>>,
    /// What it asks for and names no item for: a size, a count.
    pub unread: Option<&'static str>,
    /// Longer than any sentence: it was not read.
    pub too_long: bool,
}

/// Bytes of the longest text that is read as a sentence; those of guides have a tenth of it.
const LONGEST: usize = 4000;

const NUMBER: &str = r"(?:\d{1,3}|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen)";

static TORQUE: Rule = Rule::new(
    "lb|lbs|lbf|lbsf|lbft|lbin|lbsi|lbff|lbfi|ft|ftlb|ftpo|inlb|inpo|foot|inch|pound|n|nm|snug|hand|finger",
    "",
    || {
        pattern(
            r"(?ix) \b \d+ (?:\.\d+)? (?: \s* (?:-|–|to) \s* \d+ (?:\.\d+)? )? \s*
            (?: (?:ft|in|foot|inch) [\s.·⋅-]* (?:lbs?|pounds?) f? \b
              | lbs? f? [\s.·⋅-]* (?:ft|in) \b
              | N \s? [·⋅.*-]? \s? m \b )
          | \b snug (?: [\s-]* tight (?:en)? )?
              (?: ,? \s+ (?:plus|then|and) \s+ (?:an?|one|another)? \s* (?:half|quarter|third|full|1/2|1/4|1/3)
                  (?: \s+ an? )? \s+ turn )? \b
          | \b (?:hand|finger) [\s-]* tight (?:en)? \b",
        )
    },
);
/// So many for each place, right before the places.
static SHARE: LazyLock<Regex> = LazyLock::new(|| {
    pattern(&format!(
        r"(?ix) \b (?P<n>{NUMBER}) \s+ (?:in|on|at|to|for|through|into|under) \s* $"
    ))
});
/// Numbers and letters that name a thing.
pub(super) static NAMED: Rule = Rule::new(
    "?",
    "stage|step|section|fig|figure|sheet|drawing|detail|page|note|post|rail|frame|bag|box|crate|panel|board|girder|item|bay|bracket|shoe|hoop|beam|leg|brace|joint|hole|corner|end|side|column|arm|part|plate",
    || {
        let name = r"(?: \d{1,3} [a-z]? | (?-i:[A-Z]) \d{0,2} ) \b";
        let more = format!(
            r"(?: \s* (?: , \s* and | , | and | & | to | through | thru | or | – | - ) \s* {name} )"
        );
        pattern(&format!(
            r"(?ix) \b (?:
              (?P<noun> stage | step | section | fig(?:ure)? | sheet | drawing | detail | page | note | post | rail
                | frame | bag | box | crate | panel | board | girder | item | bay | bracket | shoe | hoop | beam | leg
                | brace | joint | hole | corner | end | side | column | arm | part | plate )
              s? \.? \s+ (?: no\.? \s* | \# )? (?P<names> {name} {more}* )
            | (?P<at> at | on | for | to ) \s (?P<letters> (?-i:[A-Z]) \d? \b {more}+ ) )"
        ))
    },
);
/// Words in front of a name by which it is a place.
const PLACING: &[&str] = &[
    "at", "on", "to", "onto", "for", "in", "under", "over", "along",
];
pub(super) static COUNTED: Rule = Rule::new(
    "both|each|every|all|places|locations|positions",
    "",
    || {
        pattern(&format!(
            r"(?ix) \b (?:
              (?P<both> both ) \s+ (?: of \s+ )? (?: the \s+ )? (?P<noun1> [a-z]+ )
            | (?: each | every \s one | all ) \s+ of \s+ (?: (?: the | these ) \s+ )? (?P<n2> {NUMBER} ) \s+ (?P<noun2> [a-z]+ )
            | (?P<all> all ) \s+ (?: the \s+ )? (?P<n3> {NUMBER} ) \s+ (?P<noun3> [a-z]+ )
            | (?: in | at ) \s+ (?P<n4> {NUMBER} ) \s+ (?P<noun4> places | locations | positions ) ) \b"
        ))
    },
);
pub(super) static EACH: Rule = Rule::new("each|every|per", "", || {
    pattern(
        r"(?i)\b(?P<word>each|every|per)(?:\s+of\s+the\s+(?P<n>\d{1,3})\s|(?:\s+of\s+the)?\s+(?P<noun>[a-z]+)\b)",
    )
});
/// Places whose number or whose bearing on the count is open: `on all posts`, `the four posts`.
pub(super) static OPEN: Rule = Rule::new("all|??", "", || {
    pattern(&format!(
        r"(?i)\b(?:all(?:\s+the)?|(?:the|these|those)\s+(?P<n>{NUMBER}))\s+(?P<noun>[a-z]+)\b"
    ))
});
static BARE_EACH: Rule = Rule::new("each|apiece", "", || {
    pattern(r"(?i)\b(?:each|apiece)\s*(?:[.,;)]|$)")
});
static REPEAT: Rule = Rule::new(
    "repeat|same|likewise|similarly|so|mirror|before|times|twice|alike|identical|do",
    "",
    || {
        pattern(
            r"(?i)\b(?:repeat(?:ed)?|(?:the )?same again|do the same|the same (?:way|manner)|likewise|similarly|so (?:do|does|is|are)|mirror(?:ed)?|as before|do (?:this|that|it|so)\b.*\b(?:times|twice)|(?:is|are) (?:\w+ )?(?:the same|alike|identical))\b|^\W*(?:now |then |next )?do the (?:other|next|opposite|remaining|rest)\b",
        )
    },
);
/// A repetition of another stage: `Repeat steps 1 to 3`, `the same as in stage 2`.
static REPEATS_STAGE: Rule = Rule::new("", "stage|step|section", || {
    pattern(
        r"(?ix) \b (?: repeat(?:ed)? | do | same \s (?:again \s)? as (?: \s in )? | as \s (?: in | for ) ) \s (?: all \s of \s )? (?: the \s )?
            (?: stage | step | section ) s? \s (?P<stage> \d+ [a-z]? (?: \s? (?: , | and | & | to | through | thru | - | – ) \s? \d+ [a-z]? )* ) \b",
    )
});
/// `Do this four times`: so often in all.
static IN_ALL: LazyLock<Regex> = LazyLock::new(|| {
    pattern(&format!(
        r"(?i)\b(?P<verb>do|repeat)\b.*?\b(?:(?P<n>{NUMBER})\s+(?P<more>more\s+)?times|(?P<twice>twice)(?:\s(?P<again>more))?)\b"
    ))
});
/// Words by which what follows, up to a stop, is said to be left out.
static LEFT_OUT: Rule = Rule::new("not|don|never|leave|omit|instead|rather|place", "", || {
    pattern(
        r"(?ix) \b (?: (?: do \s not | don['’]t | never | must \s not | should \s not ) \s (?: use | fit | put | install | add | insert ) \b [^;.]*
            | (?: leave \s out | omit ) \b [^;.]*
            | (?: instead \s of | rather \s than | in \s place \s of ) \b [^,;.]* )",
    )
});
static OTHERS: LazyLock<Regex> = LazyLock::new(|| {
    pattern(&format!(
        r"(?i)\b(?:other|remaining|next|last)\s+(?P<n>{NUMBER})\b"
    ))
});
/// Words that say nothing of an item and would cut its phrase.
static PASSED: Rule = Rule::new(
    "new|supplied|more|additional|further|matching|loose|extra|spare|optional|second|third",
    "",
    || {
        pattern(
            r"(?i)\b(?:new|supplied|more|additional|further|matching|loose|extra|spare|optional|second|third)\b",
        )
    },
);
/// Verbs by which hardware that is there already is worked on.
static WORKS_ON: Rule = Rule::new(
    "tighten|retighten|torque|retorque|loosen|turn|snug|check|recheck|hand|finger",
    "",
    || {
        pattern(
            r"(?ix)^\W* (?: now | then | finally | lastly )? \W* (?: fully \s+ )?
            (?: re-?tighten | tighten | re-?torque | torque | loosen | turn | snug | check | re-?check | hand-?\s?tighten | finger-?\s?tighten ) \b",
        )
    },
);

/// Words that a noun of the trade may stand in front of without being the thing meant.
const COMPOUNDS: &[&str] = &[
    "hole", "head", "end", "pattern", "bracket", "circle", "line", "side", "thread", "shank",
    "spacing", "driver", "group", "plate", "face", "position", "location", "centre", "center",
    "tip", "row", "length", "point",
];
/// Words in front of an item that is there already.
const IS_THERE: &[&str] = &[
    "the",
    "these",
    "those",
    "all",
    "both",
    "its",
    "their",
    "remaining",
    "other",
    "last",
];
/// Words in front of `the bolts` by which the bolts are there: a place, or something to work on.
const PLACED: &[&str] = &[
    "over",
    "onto",
    "on",
    "around",
    "behind",
    "under",
    "beneath",
    "between",
    "of",
    "to",
    "from",
    "through",
    "past",
    "against",
    "beside",
    "near",
    "into",
    "in",
    "at",
    "above",
    "below",
    "along",
    "off",
    "tighten",
    "retighten",
    "re-tighten",
    "torque",
    "re-torque",
    "loosen",
    "slacken",
    "snug",
    "check",
    "turn",
    "leave",
    "hand-tighten",
    "finger-tighten",
];
/// Words in front of `the bolts` by which these are put to use.
const PUTS: &[&str] = &[
    "with", "using", "use", "by", "fit", "insert", "install", "add", "put", "place", "drive",
];
/// Counted, and no places for hardware.
const NO_PLACES: &[&str] = &[
    "or", "people", "persons", "hands", "helpers", "men", "women", "turns", "times", "minutes",
    "hours", "days", "coats", "ways", "passes", "wrenches", "spanners", "holes", "slots",
];
/// Words behind a verb.
const DETERMINERS: &[&str] = &[
    "the", "each", "both", "every", "it", "them", "this", "these", "those", "a", "an", "all",
    "its", "one", "two", "three", "four", "together",
];
/// Words behind a verb that opens its clause: `Screw down`.
const PARTICLES: &[&str] = &[
    "down", "on", "up", "in", "through", "into", "onto", "back", "to",
];
/// A length in front of these is a distance.
const DISTANCES: &[&str] = &[
    "apart", "from", "above", "below", "deep", "away", "off", "out", "up", "down", "back",
    "inside", "outside", "past", "clear",
];

/// Reads one sentence.
pub fn sentence(written: &str, notation: Notation) -> Sentence {
    if written.len() > LONGEST {
        return Sentence {
            text: written.to_owned(),
            places: 1,
            too_long: true,
            ..Sentence::default()
        };
    }
    let text = in_figures(written).into_owned();
    let mut said = Sentence {
        places: 1,
        ..Sentence::default()
    };
    let words = Words::of(&text);
    let bare_each = BARE_EACH.find_iter(&words, &text).next();
    let bare_each = bare_each.map(|found| found.start());
    let mut masked = text.clone();
    for found in TORQUE.find_iter(&words, &text) {
        said.torques
            .push((found.start(), found.as_str().trim().to_owned()));
        mask(&mut masked, found.range(), true);
    }
    said.place = setting::place(&words, &masked);
    if let Some((option, at)) = setting::option(&masked) {
        said.option = Some(option);
        mask(&mut masked, at, true);
    }
    said.repeats_stage = REPEATS_STAGE
        .captures(&words, &text)
        .map(|found| found["stage"].to_owned());
    let named = mask_names(&words, &text, &mut masked, &mut said.for_stage);
    if REPEAT.is_match(&words, &masked) || said.repeats_stage.is_some() {
        let named = named.as_ref().filter(|_| said.repeats_stage.is_none());
        said.repeat = Some(repeats(&words, &masked, named.map(|named| named.number)));
    }
    let either = either(&mut masked).or_else(|| opposites(&mut masked, bare_each.is_some()));
    let bears_on = scope::bears_on(&masked).map(str::to_owned);
    for found in PASSED.find_iter(&words, &masked.clone()) {
        mask(&mut masked, found.range(), false);
    }
    let per_bolt = hedges::per_bolt(&text, |at| mask(&mut masked, at, true));
    let (mut multipliers, each_piece) = multipliers(&words, &mut masked);
    multipliers.extend(either);
    let mut things = calls(&masked, &text, notation, &mut said);
    multipliers.extend(said.calls.iter().filter_map(|call| behind(call, &text)));
    for multiplier in &mut multipliers {
        multiplier.settle(&mut things, named.as_ref());
    }
    let settled = named.as_ref().is_some_and(|named| {
        multipliers
            .iter()
            .any(|m| m.times.is_some() && stem(&m.noun) == stem(&named.noun))
    });
    if let Some(word) = bears_on
        && said.repeat.is_none()
        && !said.calls.is_empty()
    {
        said.doubts.push(Doubt::Said(
            format!("\"{word}\" bears on the count: see the sentence").into(),
        ));
    }
    if WORKS_ON.is_match(&words, &text) {
        // `Tighten the bolts, then add a nut.`
        let adds = ADDS.find(&text).map_or(text.len(), |found| found.start());
        for call in said.calls.iter_mut().filter(|call| call.at.start < adds) {
            call.naming = Naming::Known;
        }
    }
    if let (Some(named), None) = (
        named.filter(|named| named.is_place && named.number > 1),
        said.repeat,
    ) && !said.calls.is_empty()
        && multipliers
            .iter()
            .all(|m| stem(&m.noun) != stem(&named.noun))
    {
        multipliers.push(Multiplier {
            at: 0,
            words: named.words,
            noun: String::new(),
            times: bare_each.map(|_| named.number),
            open: false,
        });
    }
    doubt_pieces_for_known(&mut said, &text);
    for left_out in LEFT_OUT.find_iter(&words, &masked) {
        for call in &mut said.calls {
            if left_out.range().contains(&call.at.start) {
                call.naming = Naming::Not;
            }
        }
    }
    for of in each_piece {
        of.multiply(&mut said);
    }
    for of in per_bolt {
        of.multiply(&mut said);
    }
    if said.calls.iter().any(|call| call.naming == Naming::New) {
        said.doubts
            .extend(hedges::hedges(&text).filter(|_| !settled));
    }
    multiply_by_things(&mut said, things, &mut multipliers, &text, bare_each);
    multiply(&mut said, multipliers, &text, bare_each);
    said.text = text;
    join(&mut said.calls);
    said
}

/// `a washer at all four bolts`: whether it is one for each of what is there, is not said.
fn doubt_pieces_for_known(said: &mut Sentence, text: &str) {
    let pieces = |call: &Call| call.callout.quantity.map_or(0, |q| q.pieces);
    let there = said
        .calls
        .iter()
        .filter(|call| call.naming == Naming::Known && pieces(call) > 1);
    let Some((n, words)) = there
        .map(|call| (pieces(call), &text[call.at.clone()]))
        .next()
    else {
        return;
    };
    let fewer = |call: &Call| call.naming == Naming::New && !pieces(call).is_multiple_of(n);
    if said.calls.iter().any(fewer) {
        said.doubts.push(Doubt::Said(
            format!("\"{words}\": the pieces may be for each of them or in all; taken as in all")
                .into(),
        ));
    }
}

/// Verbs by which hardware is called for, after others.
static ADDS: LazyLock<Regex> =
    LazyLock::new(|| pattern(r"(?i)\b(?:add|fit|install|insert|put|slide in|screw on)\b"));

/// Blanks a range, byte for byte; a `stop` ends every phrase there.
fn mask(text: &mut String, range: Range<usize>, stop: bool) {
    let blanks = " ".repeat(range.len());
    text.replace_range(range.clone(), &blanks);
    if stop {
        text.replace_range(range.start..range.start + 1, ";");
    }
}

/// Things that a sentence tells apart by numbers or letters: `posts 3 and 4`.
struct Named {
    words: String,
    noun: String,
    number: u32,
    /// Said to be where the items go.
    is_place: bool,
}

/// Blanks numbers and letters that name a thing (`posts 3 and 4`, `at B, C and D`). Gives the last of
/// the things.
fn mask_names(
    words: &Words,
    text: &str,
    masked: &mut String,
    for_stage: &mut Option<String>,
) -> Option<Named> {
    let mut last = None;
    for found in NAMED.captures_iter(words, text) {
        let Some(whole) = found.get(0) else { continue };
        let rest = &text[whole.end()..];
        let runs_on = rest.starts_with(['/', '-', '.', '\u{2044}'])
            && rest[1..].starts_with(|c: char| c.is_ascii_digit() || !rest.starts_with('.'))
            || rest
                .trim_start()
                .starts_with(|c: char| c.is_ascii_digit() || matches!(c, 'x' | 'X' | '×' | '"'));
        if runs_on || masked[whole.range()] != *whole.as_str() {
            continue;
        }
        let Some(names) = found.name("names").or_else(|| found.name("letters")) else {
            continue;
        };
        let names = names.as_str();
        let noun = found.name("noun").map_or("", |noun| noun.as_str());
        let before = text[..whole.start()].trim_end();
        let behind = |words: &[&str]| words.iter().any(|word| ends_with_word(before, word));
        let at = found.name("at").is_some() || behind(PLACING);
        if ["stage", "step", "section"]
            .iter()
            .any(|stage| noun.eq_ignore_ascii_case(stage))
            && behind(&["for", "until", "till"])
        {
            *for_stage = Some(names.trim().to_owned());
        }
        let numbers: Vec<u32> = names
            .split(|c: char| !c.is_ascii_alphanumeric())
            .filter_map(|name| {
                name.trim_end_matches(|c: char| c.is_ascii_lowercase())
                    .parse()
                    .ok()
            })
            .collect();
        let letters: Vec<u32> = names
            .split(|c: char| !c.is_ascii_alphanumeric())
            .filter_map(|name| match name.as_bytes() {
                [letter @ b'A'..=b'Z', ..] => Some(u32::from(*letter)),
                _ => None,
            })
            .collect();
        let runs = [" to ", " through ", " thru ", "-", "–"]
            .iter()
            .any(|to| names.contains(to));
        let number = match (numbers.as_slice(), letters.as_slice()) {
            ([first, last], []) | ([], [first, last]) if runs && last > first => last - first + 1,
            (numbers, letters) => (numbers.len() + letters.len()) as u32,
        };
        last = Some(Named {
            words: whole.as_str().trim().to_owned(),
            noun: noun.to_ascii_lowercase(),
            number,
            is_place: at,
        });
        mask(masked, whole.range(), true);
    }
    last
}

fn ends_with_word(text: &str, word: &str) -> bool {
    let Some(at) = text.len().checked_sub(word.len()) else {
        return false;
    };
    text.is_char_boundary(at)
        && text[at..].eq_ignore_ascii_case(word)
        && !text[..at].ends_with(|c: char| c.is_alphanumeric())
}

/// How often a sentence repeats what stood before it.
fn repeats(words: &Words, text: &str, named: Option<u32>) -> u32 {
    let others = OTHERS.captures(text).and_then(|found| number(&found["n"]));
    let in_all = IN_ALL.captures(text).and_then(|found| {
        let times = match found.name("n") {
            Some(n) => number(n.as_str())?,
            None => 2,
        };
        let more = found.name("more").or_else(|| found.name("again"));
        let first = found["verb"].eq_ignore_ascii_case("do") && more.is_none();
        Some(times - u32::from(first))
    });
    named.or(others).or(in_all).unwrap_or_else(|| {
        let both = COUNTED
            .captures(words, text)
            .and_then(|found| found.name("both").map(|_| 2));
        both.unwrap_or(1)
    })
}

fn number(word: &str) -> Option<u32> {
    word.parse().ok().or_else(|| {
        look_up(word)?.senses.iter().find_map(|sense| match sense {
            Sense::Count(n) => u32::try_from(*n).ok(),
            _ => None,
        })
    })
}

/// A number of places, in a sentence.
struct Multiplier {
    at: usize,
    words: String,
    noun: String,
    /// `None`: not stated.
    times: Option<u32>,
    /// Whether the pieces are for each place or for all of them is open.
    open: bool,
}

impl Multiplier {
    /// Takes the number of its places from what else the sentence says of them: `9 slats`, `panels A
    /// to D`.
    fn settle(&mut self, things: &mut Vec<Things>, named: Option<&Named>) {
        if self.times.is_some() || self.noun.is_empty() {
            return;
        }
        let same = |noun: &str| stem(noun).eq_ignore_ascii_case(stem(&self.noun));
        let counted = things
            .iter()
            .position(|things| things.words.rsplit(' ').next().is_some_and(same) && !things.beside);
        if let Some(at) = counted {
            self.times = Some(things.remove(at).number);
        } else if let Some(named) = named.filter(|named| named.number > 1 && same(&named.noun)) {
            self.times = Some(named.number);
        }
    }
}

fn stem(noun: &str) -> &str {
    noun.strip_suffix(['s', 'S']).unwrap_or(noun)
}

/// `at either end`: as a rule both; blanked.
fn either(masked: &mut String) -> Option<Multiplier> {
    let at = masked
        .match_indices("ither ")
        .find_map(|(at, _)| at.checked_sub(1).filter(|&at| masked.is_char_boundary(at)))?;
    let noun = masked[at + 7..]
        .split(|c: char| !c.is_ascii_alphabetic())
        .next()?
        .to_ascii_lowercase();
    let before = masked[..at].trim_end();
    let placed = ["at", "on", "to", "from"]
        .iter()
        .any(|word| ends_with_word(before, word));
    if !placed || !["end", "side", "edge", "face"].contains(&&*noun) {
        return None;
    }
    let range = at..at + 7 + noun.len();
    let words = masked[range.clone()].to_owned();
    mask(masked, range, true);
    Some(Multiplier {
        at,
        words,
        noun,
        times: Some(2),
        open: true,
    })
}

/// `top and bottom`, `the left and right arms`: two; blanked.
fn opposites(masked: &mut String, bare: bool) -> Option<Multiplier> {
    let at = scope::opposites(masked)?;
    let noun = masked[at.end..]
        .strip_prefix(' ')
        .map(|rest| {
            rest.split(|c: char| !c.is_ascii_alphabetic())
                .next()
                .unwrap_or_default()
        })
        .unwrap_or_default();
    let end = at.end + usize::from(!noun.is_empty()) + noun.len();
    let (words, noun) = (masked[at.start..end].to_owned(), noun.to_ascii_lowercase());
    mask(masked, at.clone(), true);
    // `washers top and bottom` may be for all items or for the last.
    Some(Multiplier {
        at: at.start,
        words,
        times: (!noun.is_empty() && bare).then_some(2),
        noun,
        open: true,
    })
}

/// `five screws a panel`: so many for each.
fn behind(call: &Call, text: &str) -> Option<Multiplier> {
    let rest = text[call.at.end..].strip_prefix(' ')?;
    let noun = rest
        .strip_prefix("a ")
        .or_else(|| rest.strip_prefix("an "))?;
    let noun = noun.split(|c: char| !c.is_ascii_alphabetic()).next()?;
    if noun.is_empty() || names_hardware(noun) {
        return None;
    }
    let at = call.at.end + 1;
    let end = noun.as_ptr() as usize - text.as_ptr() as usize + noun.len();
    Some(Multiplier {
        at,
        words: text[at..end].to_owned(),
        noun: noun.to_ascii_lowercase(),
        times: None,
        open: false,
    })
}

/// `each of the four 5/8 x 6 hex bolts`: what is called for beside them is called for so many times.
struct EachPiece {
    /// Where the number stands.
    at: usize,
    words: String,
    times: u32,
}

impl EachPiece {
    fn multiply(self, said: &mut Sentence) {
        if !said.calls.iter().any(|call| call.at.contains(&self.at)) {
            said.doubts.push(Doubt::Multiplier(self.words.into()));
            return;
        }
        for call in &mut said.calls {
            if call.naming == Naming::New
                && !call.at.contains(&self.at)
                && let Some(quantity) = &mut call.callout.quantity
            {
                quantity.pieces = quantity.pieces.saturating_mul(u64::from(self.times));
            }
        }
    }
}

/// Things that a sentence counts and that are no hardware: `two rails`.
struct Things {
    at: usize,
    words: String,
    number: u32,
    /// Named beside hardware, as if it were some: `and two spacers`.
    beside: bool,
}

/// What the things that a sentence counts say of its hardware: `two rails with four bolts each` is 8;
/// without `each` it is open, and what is counted beside the hardware is not in the list.
fn multiply_by_things(
    said: &mut Sentence,
    things: Vec<Things>,
    multipliers: &mut Vec<Multiplier>,
    text: &str,
    bare_each: Option<usize>,
) {
    if !said.calls.iter().any(|call| call.naming == Naming::New) {
        return;
    }
    let bare = bare_each.is_some() && multipliers.is_empty();
    let first = said
        .calls
        .iter()
        .map(|call| call.at.start)
        .min()
        .unwrap_or(0);
    match things.as_slice() {
        // `three frames, each with four bolts`
        [one]
            if multipliers.is_empty() && one.at < first && {
                let between = text[one.at..first].to_ascii_lowercase();
                between.contains("each with ") || between.contains("each having ")
            } =>
        {
            multipliers.push(Multiplier {
                at: one.at,
                words: one.words.clone(),
                noun: String::new(),
                times: Some(one.number),
                open: false,
            });
        }
        [one] if bare && !one.beside && said.calls.len() == 1 => multipliers.push(Multiplier {
            at: one.at,
            words: one.words.clone(),
            noun: String::new(),
            times: Some(one.number),
            open: false,
        }),
        _ => said.doubts.extend(things.iter().map(|things| {
            let words = &things.words;
            Doubt::Said(match things.beside {
                true => format!("\"{words}\" is not known as hardware: not counted").into(),
                false => {
                    format!("\"{words}\": the pieces may be for each or in all; taken as in all")
                        .into()
                }
            })
        })),
    }
}

/// True where words of the trade lead up to a noun of the trade.
fn names_hardware(text: &str) -> bool {
    for word in text.split_whitespace().take(4) {
        let Some(row) = look_up(word.trim_end_matches([',', '.', ';', ')'])) else {
            return false;
        };
        if row.senses.iter().any(|s| matches!(s, Sense::Noun(_))) {
            return true;
        }
        let describes = |s: &Sense| matches!(s, Sense::Mark(_) | Sense::Grade(_));
        if !row.senses.iter().any(describes) {
            return false;
        }
    }
    false
}

/// The numbers of places that a sentence names; they are blanked.
fn multipliers(words: &Words, masked: &mut String) -> (Vec<Multiplier>, Vec<EachPiece>) {
    let text = masked.clone();
    let (mut all, mut each_piece) = (Vec::new(), Vec::new());
    for found in COUNTED.captures_iter(words, &text) {
        let Some(whole) = found.get(0) else { continue };
        let noun = ["noun1", "noun2", "noun3", "noun4"]
            .into_iter()
            .find_map(|name| found.name(name));
        let Some(noun) = noun else { continue };
        let object = found.name("both").is_some() || found.name("all").is_some();
        // `both bolts`, `all four hex nuts`: hardware that is there.
        if object && names_hardware(&text[noun.start()..]) {
            continue;
        }
        let times = match found.name("both") {
            Some(_) => Some(2),
            None => ["n2", "n3", "n4"]
                .into_iter()
                .find_map(|name| found.name(name))
                .and_then(|n| number(n.as_str())),
        };
        let before = text[..whole.start()].trim_end();
        let last = before.rsplit(|c: char| c.is_whitespace()).next();
        let placed = before.ends_with(',')
            || last.is_some_and(|word| {
                [
                    "on", "at", "to", "in", "for", "from", "of", "through", "onto", "into", "under",
                ]
                .iter()
                .any(|known| word.eq_ignore_ascii_case(known))
            })
            || ["sides", "ends", "edges", "faces"].contains(&&*noun.as_str().to_ascii_lowercase());
        all.push(Multiplier {
            at: whole.start(),
            words: whole.as_str().to_owned(),
            noun: noun.as_str().to_ascii_lowercase(),
            times,
            open: object && !placed,
        });
        mask(masked, whole.range(), true);
    }
    let text = masked.clone();
    for found in EACH.captures_iter(words, &text) {
        let (Some(whole), Some(figure)) =
            (found.get(0), found.name("noun").or_else(|| found.name("n")))
        else {
            continue;
        };
        let noun = figure.as_str().to_ascii_lowercase();
        let word = found.name("word").map_or("", |word| word.as_str());
        let each_other = noun == "other" && word.eq_ignore_ascii_case("each");
        if each_other || matches!(&*noun, "with" | "having" | "and" | "time") {
            continue;
        }
        if let (Some(times), Some(word)) = (number(&noun), found.name("word")) {
            each_piece.push(EachPiece {
                at: figure.start(),
                words: whole.as_str().to_owned(),
                times,
            });
            mask(masked, word.range(), false);
            continue;
        }
        all.push(Multiplier {
            at: whole.start(),
            words: whole.as_str().to_owned(),
            noun,
            times: None,
            open: false,
        });
        mask(masked, whole.range(), true);
    }
    for found in OPEN.captures_iter(words, &masked.clone()) {
        let (Some(whole), Some(noun)) = (found.get(0), found.name("noun")) else {
            continue;
        };
        let is_unit = look_up(noun.as_str()).is_some_and(|row| {
            row.senses
                .iter()
                .any(|s| matches!(s, Sense::Unit(_) | Sense::Metric(_) | Sense::Foot))
        });
        if is_unit || names_hardware(&masked[noun.start()..]) || number(noun.as_str()).is_some() {
            continue;
        }
        // `the four posts with two bolts each`, `per post`
        let shared = all.iter().any(|m: &Multiplier| {
            m.times.is_none() && stem(&m.noun).eq_ignore_ascii_case(stem(noun.as_str()))
        }) || (all.is_empty() && BARE_EACH.is_match(words, masked));
        all.push(Multiplier {
            at: whole.start(),
            words: whole.as_str().to_owned(),
            noun: noun.as_str().to_ascii_lowercase(),
            times: found
                .name("n")
                .filter(|_| shared)
                .and_then(|n| number(n.as_str())),
            open: false,
        });
        mask(masked, whole.range(), true);
    }
    (all, each_piece)
}

/// Multiplies the calls by the places that the sentence names.
fn multiply(said: &mut Sentence, mut all: Vec<Multiplier>, text: &str, bare_each: Option<usize>) {
    let each_left = each_of_the_first(&mut said.calls, text, bare_each);
    let Some(first) = said.calls.iter().map(|call| call.at.start).min() else {
        return;
    };
    let bare = bare_each.is_some();
    let counted: Vec<String> = all
        .iter()
        .filter(|m| m.times.is_some())
        .map(|m| stem(&m.noun).to_owned())
        .collect();
    all.retain(|m| m.times.is_some() || !counted.iter().any(|noun| noun == stem(&m.noun)));
    all.sort_by_key(|m| m.at);
    let mut places = 1u32;
    let mut before: Option<usize> = None;
    for found in &all {
        let Some(times) = found.times else {
            said.doubts
                .push(Doubt::Multiplier(found.words.as_str().into()));
            continue;
        };
        // `24 screws, six in each of the four sheets`: the count is of all.
        if let Some(share) = SHARE.captures(&text[..found.at]) {
            let each = number(&share["n"]).unwrap_or(0);
            let all = u64::from(each) * u64::from(times);
            let counts = said.calls.iter().filter(|call| call.naming == Naming::New);
            if counts
                .map(|call| call.callout.quantity.map(|q| q.pieces))
                .all(|pieces| pieces == Some(all))
            {
                continue;
            }
            said.doubts.push(Doubt::Said(
                format!(
                    "\"{} {}\" is not what the count beside it comes to",
                    share[0].trim(),
                    found.words.trim()
                )
                .into(),
            ));
        }
        places = places.saturating_mul(times);
        if found.open && !bare {
            said.doubts.push(Doubt::Said(
                format!(
                    "\"{}\": the pieces may be for each or in all; taken as for each",
                    found.words
                )
                .into(),
            ));
        }
        let linked = text[..found.at].trim_end().ends_with(" of");
        if before.is_some() && !linked {
            said.doubts.push(Doubt::Said(
                "more than one number of places in the sentence: all were multiplied".into(),
            ));
        }
        before = Some(found.at);
        // A place between two items may be meant for the first alone.
        let last = said.calls.iter().map(|call| call.at.start).max();
        if found.at > first && last.is_some_and(|last| last > found.at) {
            said.doubts.push(Doubt::Said(
                format!(
                    "\"{}\" stands between items: taken for all of them",
                    found.words
                )
                .into(),
            ));
        }
    }
    said.places = places;
    if let Some(words) = (places > 1).then(|| scope::in_all(text)).flatten() {
        said.doubts.push(Doubt::Said(
            format!("\"{words}\": the count may be for all the places; taken as for each").into(),
        ));
    }
    if each_left && counted.is_empty() {
        said.doubts.push(Doubt::Multiplier("each".into()));
    }
}

/// `four bolts, each with two washers and a nut`, `four bolts with two washers each`. True where a
/// bare `each` is left that multiplies something else.
fn each_of_the_first(calls: &mut [Call], text: &str, bare: Option<usize>) -> bool {
    let main = calls.iter().position(|call| {
        matches!(
            call.callout.item.kind,
            Some(Kind::Bolt | Kind::Screw | Kind::Rod | Kind::Anchor)
        ) && call.callout.quantity.is_some()
    });
    let lower = text.to_ascii_lowercase();
    let Some(main) = main.filter(|&main| main + 1 < calls.len()) else {
        return bare.is_some();
    };
    let gap = lower[calls[main].at.end..calls[main + 1].at.start].trim();
    let gap = gap.trim_matches([',', '(', ' ']);
    let with = gap.split_whitespace().any(|w| w == "with" || w == "having");
    let each_with = gap.split_whitespace().any(|w| w == "each") && with;
    let each_behind = bare.filter(|&at| with && at > calls[main + 1].at.start);
    let sets = calls[main].callout.quantity.map_or(1, |q| q.pieces);
    let mut done = false;
    for call in &mut calls[main + 1..] {
        let taken = each_with || each_behind.is_some_and(|at| call.at.start < at);
        let small = matches!(
            call.callout.item.kind,
            Some(Kind::Nut | Kind::Washer | Kind::Pin)
        );
        if taken && small {
            if let Some(q) = &mut call.callout.quantity {
                q.pieces = q.pieces.saturating_mul(sets);
            }
            done = true;
        }
    }
    bare.is_some() && !done
}

/// What a token can be in the phrase of an item.
fn describes(reader: &Reader<'_>, i: usize) -> bool {
    match reader.tok(i) {
        Some(Tok::Num { .. } | Tok::Join | Tok::Dash | Tok::Slash | Tok::Inch) => true,
        Some(Tok::Dot) => is_of_abbreviation(reader, i),
        // `a pair of 3/8 x 6 eye bolts`
        Some(Tok::Word(row)) if row.senses.contains(&Sense::Of) => {
            let several = |s: &Sense| matches!(s, Sense::Per(2..)).then_some(());
            i > 0 && reader.sense(i - 1, several).is_some()
        }
        Some(Tok::Word(row)) => {
            if matches!(
                row.spelling,
                "a" | "an" | "the" | "to" | "each" | "ea" | "assembly"
            ) {
                return false;
            }
            let behind_figure = i > 0 && reader.number(i - 1).is_some();
            row.senses.iter().any(|sense| match sense {
                Sense::By => joins_sizes(reader, i),
                Sense::Noun(_) => reader.noun(i).is_none(),
                Sense::Unit(_) | Sense::Metric(_) => {
                    behind_figure || (i > 1 && matches!(reader.tok(i - 1), Some(Tok::Dash)))
                }
                Sense::Mark(_)
                | Sense::Grade(_)
                | Sense::GradeWord
                | Sense::Drive(_)
                | Sense::Point(_)
                | Sense::Series(_)
                | Sense::FullThread(_)
                | Sense::Count(_)
                | Sense::Per(_)
                | Sense::Measure(_)
                | Sense::Standard
                | Sense::NumberWord
                | Sense::TypeWord
                | Sense::Head
                | Sense::DriveWord
                | Sense::PointWord
                | Sense::Noise => true,
                _ => false,
            })
        }
        _ => false,
    }
}

/// The stop of `6 in.`, `No. 10`, `1/2 dia.`, where the item goes on behind it.
fn is_of_abbreviation(reader: &Reader<'_>, i: usize) -> bool {
    let abbreviated = |sense: &Sense| {
        matches!(
            sense,
            Sense::Unit(_)
                | Sense::Metric(_)
                | Sense::Foot
                | Sense::Measure(_)
                | Sense::NumberWord
                | Sense::GradeWord
                | Sense::Mark(_)
        )
        .then_some(())
    };
    let goes_on = matches!(
        reader.tok(i + 1),
        Some(Tok::Num { .. } | Tok::Join | Tok::Word(_) | Tok::Unknown)
    );
    i > 0 && !reader.spaced(i) && goes_on && reader.sense(i - 1, abbreviated).is_some()
}

/// `by` behind a figure: `3/8 by 4`, `3/8 in by 4`; not `held by two`.
fn joins_sizes(reader: &Reader<'_>, i: usize) -> bool {
    let figure = |back: usize| {
        i.checked_sub(back)
            .is_some_and(|at| reader.number(at).is_some())
    };
    let unit = i.checked_sub(1).is_some_and(|at| {
        matches!(reader.tok(at), Some(Tok::Inch))
            || reader.says(at, Sense::Unit(Unit::Inch))
            || reader.says(at, Sense::Unit(Unit::Millimetre))
    });
    reader.says(i, Sense::By) && (figure(1) || (unit && figure(2)))
}

/// A figure or a word that counts pieces, at a token.
fn counts(reader: &Reader<'_>, i: usize) -> bool {
    let dot = i > 1 && matches!(reader.tok(i - 1), Some(Tok::Dot));
    let takes_figure = i > 0
        && (matches!(reader.tok(i - 1), Some(Tok::Join | Tok::Dash | Tok::Slash))
            || joins_sizes(reader, i - 1)
            || reader
                .sense(i - 1 - usize::from(dot), |sense| {
                    matches!(
                        sense,
                        Sense::GradeWord
                            | Sense::NumberWord
                            | Sense::Standard
                            | Sense::TypeWord
                            | Sense::Measure(_)
                    )
                    .then_some(())
                })
                .is_some());
    let counting = |sense: &Sense| matches!(sense, Sense::Count(_)).then_some(());
    if takes_figure {
        return false;
    }
    if reader.sense(i, counting).is_some() {
        return true;
    }
    let measured = reader
        .sense(i + 1, |s| {
            matches!(s, Sense::Unit(_) | Sense::Metric(_) | Sense::By).then_some(())
        })
        .is_some()
        || matches!(
            reader.tok(i + 1),
            Some(Tok::Join | Tok::Inch | Tok::Dash | Tok::Slash)
        );
    reader.whole(i).is_some() && !measured
}

/// A word between an item's size or count and its noun that is not known: `two 1/2 x 3 rail bolts`.
fn is_between(reader: &Reader<'_>, i: usize) -> bool {
    let token = &reader.tokens[i];
    let word = &reader.text[token.start..token.end];
    let plain = matches!(reader.tok(i), Some(Tok::Unknown)) || reader.says(i, Sense::Thing);
    let adjective = plain
        && word.len() > 2
        && word.bytes().all(|b| b.is_ascii_lowercase())
        && !PLACED.contains(&word)
        && !PUTS.contains(&word);
    let before = i - 1;
    let sized = matches!(reader.tok(before), Some(Tok::Num { .. } | Tok::Inch))
        || reader
            .sense(before, |s| matches!(s, Sense::Unit(_)).then_some(()))
            .is_some();
    let article = {
        let token = &reader.tokens[before];
        let word = &reader.text[token.start..token.end];
        ["a", "an"].iter().any(|a| word.eq_ignore_ascii_case(a))
    };
    adjective && token.spaced && (sized || article || counts(reader, before))
}

/// The first token of the phrase of the item whose noun is at `i`.
fn phrase_start(reader: &Reader<'_>, i: usize, from: usize) -> usize {
    let mut start = i;
    while start > from {
        let at = start - 1;
        // `twelve (12)`
        if matches!(reader.tok(at), Some(Tok::Close))
            && at >= from + 2
            && reader.whole(at - 1).is_some()
            && matches!(reader.tok(at - 2), Some(Tok::Open))
        {
            start = at - 2;
            continue;
        }
        if at > from && !describes(reader, at) && is_between(reader, at) {
            start = at;
            continue;
        }
        if !describes(reader, at) {
            break;
        }
        start = at;
        let dozen = reader
            .sense(at, |s| matches!(s, Sense::Per(n) if *n > 1).then_some(()))
            .is_some();
        if dozen {
            let more = at > from && (reader.says(at - 1, Sense::Noise) || counts(reader, at - 1));
            return if more { at - 1 } else { at };
        }
        if counts(reader, at) {
            break;
        }
    }
    // Marks in front of the phrase belong to the sentence.
    while start < i && matches!(reader.tok(start), Some(Tok::Dash | Tok::Slash | Tok::Join)) {
        start += 1;
    }
    start
}

/// Behind the last token of the phrase of the item whose noun is at `i`.
fn phrase_end(reader: &Reader<'_>, i: usize, masked: &str) -> usize {
    let mut end = i + 1;
    loop {
        let open = matches!(reader.tok(end), Some(Tok::Open));
        let comma = matches!(reader.tok(end), Some(Tok::Comma));
        let from = end + usize::from(open || comma);
        let mut to = from;
        while describes(reader, to) && reader.noun(to).is_none() && (open || !counts(reader, to)) {
            to += 1;
        }
        while to > from
            && matches!(
                reader.tok(to - 1),
                Some(Tok::Join | Tok::Dash | Tok::Slash | Tok::Dot)
            )
        {
            to -= 1;
        }
        if to == from || reader.noun(to).is_some() {
            return end;
        }
        let stop = usize::from(matches!(reader.tok(to), Some(Tok::Dot)));
        let next = reader.tokens.get(to + stop);
        let word = next.map_or("", |token| &masked[token.start..token.end]);
        if DISTANCES
            .iter()
            .any(|known| word.eq_ignore_ascii_case(known))
        {
            return end;
        }
        if open {
            if !matches!(reader.tok(to), Some(Tok::Close)) {
                return end;
            }
            end = to + 1;
            continue;
        }
        let stops = match reader.tok(to) {
            None | Some(Tok::Comma | Tok::Semicolon | Tok::Dot | Tok::Close | Tok::Open) => true,
            _ => reader.says(to, Sense::And),
        };
        if comma && !stops {
            return end;
        }
        end = to;
    }
}

/// Reads the items of a sentence into it; what else it counts comes back.
fn calls(masked: &str, text: &str, notation: Notation, said: &mut Sentence) -> Vec<Things> {
    let mut reader = Reader::new(masked, notation);
    let mut calls: Vec<Call> = Vec::new();
    let doubts = &mut said.doubts;
    let mut from = 0;
    let mut i = 0;
    while i < reader.tokens.len() {
        if !(reader.noun(i).is_some() || names_alone(&reader, i, from))
            || i < from
            || is_no_item(&reader, i, text)
        {
            i += 1;
            continue;
        }
        let start = phrase_start(&reader, i, from);
        let end = phrase_end(&reader, i, masked);
        let at = reader.tokens[start].start..reader.tokens[end - 1].end;
        let before = start
            .checked_sub(1)
            .map(|t| &masked[reader.tokens[t].start..reader.tokens[t].end])
            .unwrap_or_default()
            .to_ascii_lowercase();
        // `the same bolts`: more of them.
        let known = IS_THERE.contains(&&*before);
        let article = matches!(&*before, "a" | "an" | "another");
        let some_of = known.then(|| count_of(&reader, start)).flatten();
        match describe(masked[at.clone()].trim(), notation) {
            Ok(all) => {
                for mut callout in all {
                    let none_stated = callout.quantity.is_none();
                    if let Some(pieces) = some_of.filter(|_| none_stated) {
                        callout.quantity = Some(Quantity {
                            pieces,
                            packs: None,
                        });
                    }
                    // `four or five bolts`
                    if matches!(&*before, "or" | "to") && start > 1 && counts(&reader, start - 2) {
                        let from = reader.tokens[start - 2].start;
                        let words = &masked[from..reader.tokens[start].end];
                        callout.quantity = None;
                        callout.doubts.push(Doubt::Said(
                            format!("\"{words}\" is no one count: none is taken").into(),
                        ));
                    }
                    if callout.quantity.is_none() && article {
                        callout.quantity = Some(Quantity {
                            pieces: 1,
                            packs: None,
                        });
                    }
                    let naming = match () {
                        () if some_of.is_some() => Naming::Some,
                        () if !known => Naming::New,
                        () => naming(&masked[..at.start], &callout),
                    };
                    calls.push(Call {
                        callout,
                        naming,
                        at: at.clone(),
                    });
                }
            }
            Err(_) => doubts.push(Doubt::LeftOver(masked[at].into())),
        }
        reader.mark(start..end, Role::Note);
        from = end;
        i = end;
    }
    (said.measures, said.left_over, said.unread) = left_over(&reader, masked, &calls, doubts);
    if calls.is_empty() && said.unread.is_none() && asks_for_more(text) {
        said.unread = Some("so many more, and no word says of what");
    }
    let things = things(&reader, masked, &calls);
    said.calls = calls;
    things
}

/// The short name of a fastener, which is no noun in a list: `four 3/8 x 3 lags`.
fn names_alone(reader: &Reader<'_>, i: usize, from: usize) -> bool {
    let token = &reader.tokens[i];
    let word = &reader.text[token.start..token.end];
    let is = |known: &[&str]| known.iter().any(|known| word.eq_ignore_ascii_case(known));
    let named = is(&["lags"]);
    let counted = || (phrase_start(reader, i, from)..i).any(|at| counts(reader, at));
    named && !(reader.noun(i + 1).is_some() || describes(reader, i + 1)) && counted()
}

/// How an item is brought up that stands behind `the`, or a word like it.
fn naming(before: &str, callout: &Callout) -> Naming {
    let lead = before
        .split_whitespace()
        .rev()
        .map(|word| {
            word.trim_matches(|c: char| !c.is_alphanumeric())
                .to_ascii_lowercase()
        })
        .find(|word| !word.is_empty() && !IS_THERE.contains(&&**word))
        .unwrap_or_default();
    let stated = callout.quantity.is_some() || callout.item.diameter.is_some();
    match PLACED.contains(&&*lead) || !(stated || PUTS.contains(&&*lead)) {
        true => Naming::Known,
        false => Naming::Put,
    }
}

/// The things that a sentence counts beside its hardware.
fn things(reader: &Reader<'_>, masked: &str, calls: &[Call]) -> Vec<Things> {
    let word = |i: usize| {
        let token = &reader.tokens[i];
        &masked[token.start..token.end]
    };
    let is_thing = |i: usize| {
        i < reader.tokens.len()
            && reader.tokens[i].role.is_none()
            && (matches!(reader.tok(i), Some(Tok::Unknown)) || reader.says(i, Sense::Thing))
    };
    let mut all = Vec::new();
    for i in 0..reader.tokens.len() {
        let token = &reader.tokens[i];
        let first = counted_at(reader, i);
        if token.role.is_some() || !counts(reader, i) || !is_thing(first) {
            continue;
        }
        let Some(figure) = number(word(i)).filter(|n| *n > 1) else {
            continue;
        };
        // `two splice straps`: the last word is the thing.
        let last = (first..)
            .take_while(|&at| is_thing(at))
            .last()
            .unwrap_or(first)
            .min(first + 2);
        if NO_PLACES
            .iter()
            .any(|known| (first..=last).any(|at| word(at).eq_ignore_ascii_case(known)))
        {
            continue;
        }
        let behind_item = i > 0
            && calls.iter().any(|call| call.at.end <= token.start)
            && (matches!(reader.tok(i - 1), Some(Tok::Comma)) || reader.says(i - 1, Sense::And));
        all.push(Things {
            at: token.start,
            words: masked[token.start..reader.tokens[last].end].to_owned(),
            number: figure,
            beside: behind_item,
        });
    }
    all
}

/// The count of `four of the bolts`, whose item begins at a token.
fn count_of(reader: &Reader<'_>, start: usize) -> Option<u64> {
    let at = start.checked_sub(3)?;
    if !reader.says(start - 2, Sense::Of) {
        return None;
    }
    let in_words = |sense: &Sense| match sense {
        Sense::Count(n) => Some(*n),
        _ => None,
    };
    reader.whole(at).or_else(|| reader.sense(at, in_words))
}

/// True for a noun of the trade that is a verb here, or a part of another name.
fn is_no_item(reader: &Reader<'_>, i: usize, text: &str) -> bool {
    let token = &reader.tokens[i];
    let word = &text[token.start..token.end];
    if word.ends_with(['s', 'S']) {
        return false;
    }
    let next = text[token.end..]
        .split_whitespace()
        .next()
        .unwrap_or_default();
    if text[token.end..].starts_with([',', '.', ';', ')']) {
        return false;
    }
    let next = next
        .trim_end_matches([',', '.', ';', ')'])
        .to_ascii_lowercase();
    let behind = i.checked_sub(1).is_some_and(|before| {
        describes(reader, before)
            || reader
                .sense(before, |s| matches!(s, Sense::Noise).then_some(()))
                .is_some()
    });
    let opens = i == 0
        || matches!(
            reader.tok(i - 1),
            Some(Tok::Comma | Tok::Semicolon | Tok::Dot)
        );
    let is_verb =
        !behind && (DETERMINERS.contains(&&*next) || (opens && PARTICLES.contains(&&*next)));
    let names_thing =
        || look_up(&next).is_some_and(|row| row.senses.iter().any(|s| matches!(s, Sense::Thing)));
    let is_compound = COMPOUNDS.contains(&next.trim_end_matches('s')) || names_thing();
    is_verb || is_compound
}

/// True where words behind a number may be what it counts, and are no hardware.
fn counts_things(reader: &Reader<'_>, i: usize) -> bool {
    let at = counted_at(reader, i);
    matches!(reader.tok(at), Some(Tok::Unknown)) || reader.says(at, Sense::Thing)
}

/// Where what a number counts begins: `three frames`, `three of these frames`.
fn counted_at(reader: &Reader<'_>, i: usize) -> usize {
    let these = reader.says(i + 1, Sense::Of)
        && reader.tokens.get(i + 2).is_some_and(|token| {
            let word = &reader.text[token.start..token.end];
            ["these", "those"]
                .iter()
                .any(|these| word.eq_ignore_ascii_case(these))
        });
    i + 1 + if these { 2 } else { 0 }
}

/// Doubts about figures that no reading took, save those that measure or count other things, which
/// are given back.
fn left_over(
    reader: &Reader<'_>,
    masked: &str,
    calls: &[Call],
    doubts: &mut Vec<Doubt>,
) -> (Vec<Range<usize>>, Vec<Range<usize>>, Option<&'static str>) {
    let (mut measures, mut left) = (Vec::new(), Vec::new());
    let mut unread = None;
    for i in 0..reader.tokens.len() {
        let token = &reader.tokens[i];
        if token.role.is_some() {
            continue;
        }
        let Some((_, shape, prefix)) = reader.number(i) else {
            // `six, no, eight`: what does the first count?
            let counts = reader
                .word(i)
                .and_then(Row::count)
                .is_some_and(|n| n > 1 && !counts_things(reader, i));
            if counts && !calls.is_empty() {
                doubts.push(Doubt::LeftOver(masked[token.start..token.end].into()));
                continue;
            }
            let digits = masked[token.start..token.end].contains(|c: char| c.is_numeric());
            // A code names a part.
            if digits && !matches!(reader.tok(i), Some(Tok::Code | Tok::Mark)) && !calls.is_empty()
            {
                doubts.push(Doubt::LeftOver(masked[token.start..token.end].into()));
                left.push(token.start..token.end);
            } else if digits {
                measures.push(token.start..token.end);
            }
            continue;
        };
        let fine = prefix == Prefix::None && shape == Shape::Whole;
        let joins =
            |at: usize| matches!(reader.tok(at), Some(Tok::Join)) || reader.says(at, Sense::By);
        let makes = ["hole", "slot", "bit"];
        if !fine && joins(i + 1) && !makes.iter().any(|made| masked[token.end..].contains(made)) {
            unread = Some("a size, and no word says of what");
        }
        // `4 x H7`
        let of_code = matches!(reader.tok(i + 1), Some(Tok::Join))
            && matches!(reader.tok(i + 2), Some(Tok::Code));
        if fine && of_code {
            unread = Some("a count of what only its number names: the parts list tells what it is");
        }
        let unit = |at: usize| {
            matches!(reader.tok(at), Some(Tok::Inch | Tok::Foot))
                || reader
                    .sense(at, |s| {
                        matches!(s, Sense::Unit(_) | Sense::Metric(_) | Sense::Foot).then_some(())
                    })
                    .is_some()
        };
        let dash = usize::from(matches!(reader.tok(i + 1), Some(Tok::Dash)));
        // A length right behind an item may be the item's.
        let behind_item = i > 0
            && calls
                .iter()
                .any(|call| call.at.end == reader.tokens[i - 1].end);
        let distance = (i + 2 + dash..i + 4 + dash)
            .filter_map(|at| reader.tokens.get(at))
            .any(|token| DISTANCES.contains(&&masked[token.start..token.end]));
        let measure = unit(i + 1 + dash) && (distance || !behind_item);
        let dimension =
            fine && (joins(i + 1) && reader.number(i + 2).is_some() || (i > 0 && joins(i - 1)));
        let of_parts = fine && counts_things(reader, i);
        if measure || dimension || of_parts {
            measures.push(token.start..token.end);
        } else {
            doubts.push(Doubt::LeftOver(masked[token.start..token.end].into()));
            left.push(token.start..token.end);
        }
    }
    (measures, left, unread.filter(|_| calls.is_empty()))
}

/// `Then six more, 1 in. longer`: of what is not said.
fn asks_for_more(text: &str) -> bool {
    text.match_indices(" more").any(|(at, more)| {
        let ends = text[at + more.len()..].starts_with([',', '.', ';']);
        let before = text[..at].rsplit(' ').next().unwrap_or_default();
        ends && number(before).is_some_and(|n| n > 0)
    })
}

/// Settles what the items of one joint say of each other: a washer or nut without a size takes it
/// from the bolt before it (else after it), and counts that make no sound joint are a doubt (common
/// practice, no source).
fn join(calls: &mut [Call]) {
    let long = |call: &Call| {
        matches!(
            call.callout.item.kind,
            Some(Kind::Bolt | Kind::Screw | Kind::Rod | Kind::Anchor)
        )
    };
    let mut sizes: Vec<_> = calls
        .iter()
        .filter(|call| long(call))
        .filter_map(|call| call.callout.item.diameter)
        .collect();
    sizes.dedup();
    for i in 0..calls.len() {
        let small = matches!(calls[i].callout.item.kind, Some(Kind::Nut | Kind::Washer));
        if !small || calls[i].callout.item.diameter.is_some() {
            continue;
        }
        let bolts = || {
            calls
                .iter()
                .enumerate()
                .filter(|(_, call)| long(call) && call.callout.item.diameter.is_some())
        };
        let lender = bolts()
            .rfind(|&(at, _)| at < i)
            .or_else(|| bolts().next())
            .map(|(_, call)| call.callout.item.clone());
        if let Some(lender) = lender {
            lend(&mut calls[i].callout, &lender);
            let open = sizes.len() > 1;
            if open {
                calls[i].callout.doubts.push(Doubt::Said(
                    "no size stated, and the joint's bolts are of several: taken from the nearest"
                        .into(),
                ));
            }
        }
    }
    for size in sizes {
        let sum = |kind: Kind| -> u64 {
            calls
                .iter()
                .filter(|call| {
                    call.naming == Naming::New && call.callout.item.diameter == Some(size)
                })
                .filter(|call| call.callout.item.kind == Some(kind))
                .filter_map(|call| call.callout.quantity)
                .map(|q| q.pieces)
                .sum()
        };
        let (bolts, nuts, washers) = (sum(Kind::Bolt), sum(Kind::Nut), sum(Kind::Washer));
        let stacked = calls.iter().any(|call| {
            matches!(
                call.callout.item.style,
                Some(Style::Lock | Style::SplitLock)
            ) && call.callout.item.kind == Some(Kind::Washer)
        });
        let unsound = |pieces: u64| pieces > 0 && pieces != bolts && pieces != 2 * bolts;
        let (nuts_off, washers_off) = (
            unsound(nuts),
            unsound(washers) && !(stacked && washers == 3 * bolts),
        );
        if bolts == 0 || !(nuts_off || washers_off) {
            continue;
        }
        let found = if nuts_off {
            format!("{bolts} bolts {size} but {nuts} nuts in one joint: read as written")
        } else {
            format!("{bolts} bolts {size} but {washers} washers in one joint: read as written")
        };
        for call in calls
            .iter_mut()
            .filter(|call| call.callout.item.diameter == Some(size))
        {
            call.callout.doubts.push(Doubt::Said(found.as_str().into()));
        }
    }
}

/// Gives a washer or nut the size of the bolt that it goes on.
pub fn lend(callout: &mut Callout, bolt: &crate::hardware::Item) {
    callout.item.diameter = bolt.diameter;
    if callout.item.kind == Some(Kind::Nut) {
        callout.item.thread = bolt.thread;
    }
    callout.doubts.retain(|doubt| *doubt != Doubt::NoSize);
}
