//! Words of a sentence that bear on how many pieces it asks for, or on whether it asks for them, and
//! that no rule reads: `only`, `less two`, `where needed`, `the tall model`.
//!
//! Verbs, things and places may stand beside an item unexplained, since they say where it goes. The
//! words here limit, exclude or vary what is asked for; a sentence that has one is in doubt.

use std::{ops::Range, sync::LazyLock};

use rustc_hash::FxHashMap;

use super::{
    beginnings::{Beginnings, beginning},
    vocabulary::PLACING,
    wording::names_hardware,
    words::{self, Word},
};
use crate::notation::words::{Sense, look_up};

/// Where a word bears on the count.
#[derive(Debug, Clone, Copy)]
enum When {
    Always,
    /// One of these words stands behind it.
    Before(&'static [&'static str]),
    /// One of these words stands in front of it.
    Behind(&'static [&'static str]),
    /// None of these words stands behind it.
    Unless(&'static [&'static str]),
    /// A number stands behind it, an article between them or not: `about 12`, `keep the two`.
    Number,
    /// As `Number`, but not these: `every one`.
    NumberBut(&'static [&'static str]),
    /// As `Number`, where it counts hardware: `lay out six bolts`; not `lay out the six posts`.
    OfHardware,
    /// `to` and a number stand behind it: `up to three`.
    UpTo,
    /// No count stands right behind it: `the middle only`; not `only two bolts`.
    UnlessCount,
    /// A number or a word in the plural stands behind it: `other posts`.
    Several,
    /// One of these words stands soon behind it: `leave the last holes open`.
    Soon(&'static [&'static str]),
    /// No number stands in front of it: `here, too`; not `and two, too`, which is read or left over.
    UnlessNumbered,
    /// As `Always`, where the sentence takes nothing off: then it says what becomes of the pieces.
    UnlessRemoved,
    /// As `Number`, likewise.
    NumberUnlessRemoved,
    /// It opens the sentence, and one of these words stands soon behind it.
    Opens(&'static [&'static str]),
    /// `with` stands behind it, and nothing says that the pieces are fitted.
    Loose,
    /// What it opens says how a thing is that can be otherwise: `when the deck is concrete`.
    Clause,
    /// It says what the work stands on or in, in front of what that takes: `For timber use`, `On a concrete slab`.
    Ground,
    /// It counts, and no rule took it for a count.
    Counts,
    /// Likewise, where no thing follows: `a second at the bottom`; not `the second hole`.
    Alone,
    /// Likewise, behind a number: `four more`.
    SoMany,
    /// Likewise, where none of these words stands behind it: `each other`.
    CountsUnless(&'static [&'static str]),
    /// Likewise, where one of these words stands behind it: `then to the other`.
    CountsBefore(&'static [&'static str]),
    /// Likewise, in brackets by itself: `at the post (one)`.
    CountsInBrackets,
}

impl When {
    /// True for words that a rule takes for a count.
    fn counts(&self) -> bool {
        matches!(
            self,
            Counts | CountsUnless(_) | CountsBefore(_) | CountsInBrackets | Alone | SoMany
        )
    }
}

use When::{
    Alone, Always, Before, Behind, Clause, Counts, CountsBefore, CountsInBrackets, CountsUnless,
    Ground, Loose, Number, NumberBut, NumberUnlessRemoved, OfHardware, Opens, Several, SoMany,
    Soon, Unless, UnlessCount, UnlessNumbered, UnlessRemoved, UpTo,
};

/// How things are when a step of the work is done.
const DONE: &[&str] = &[
    "level",
    "square",
    "plumb",
    "aligned",
    "tight",
    "ready",
    "in",
    "complete",
    "completed",
    "finished",
    "up",
    "down",
    "fitted",
    "true",
    "straight",
    "dry",
    "set",
    "at",
    "all",
    "done",
    "closed",
    "seated",
    "flush",
    "together",
    "assembled",
    "cured",
    "on",
    "laid",
    "standing",
    "lined",
    "fixed",
    "bolted",
    "over",
    "off",
    "out",
    "snug",
    "centred",
    "centered",
    "clear",
    "free",
    "hung",
    "raised",
    "parallel",
    "fully",
    "against",
    "under",
    "through",
    "held",
    "firm",
    "installed",
    "placed",
    "positioned",
    "even",
    "loose",
    "clamped",
    "fastened",
    "secured",
    "attached",
    "tightened",
    "mounted",
    "built",
];

const NEED: &[&str] = &[
    "needed",
    "required",
    "necessary",
    "shown",
    "supplied",
    "fitted",
    "possible",
    "applicable",
];
const OPENED: &[&str] = &[
    "hole",
    "holes",
    "slot",
    "slots",
    "out",
    "off",
    "open",
    "empty",
    "position",
    "positions",
    "bag",
    "box",
];

#[rustfmt::skip]
const WORDS: &[(&str, When)] = &[
    // what is left out
    ("only", UnlessCount), ("solely", Always), ("except", Always), ("excepting", Always),
    ("excluding", Always), ("unless", Always), ("less", Always), ("minus", Always),
    ("fewer", Always), ("omit", Always), ("omitting", Always), ("omitted", Always),
    ("skip", Always), ("skipping", Always), ("never", Always), ("don't", Always),
    ("don\u{2019}t", Always), ("empty", Always), ("unused", Always), ("vacant", Always),
    ("leave", Soon(OPENED)), ("leaving", Soon(OPENED)), ("without", Number),
    ("no", Unless(&["gap", "play", "load", "slack"])),
    ("not", Before(&[
        "use", "fit", "put", "install", "add", "insert", "the", "more", "less", "all", "any", "both",
        "each", "every", "needed", "required", "shown", "yet", "a", "an", "at", "on", "in", "for",
    ])),
    ("not", Number),
    // conditions and choices
    ("if", Always), ("whether", Always), ("depending", Always), ("depends", Always),
    ("either", Always), ("neither", Always), ("or", Always), ("nor", Always),
    ("optional", Always), ("optionally", Always), ("alternative", Always),
    ("alternatively", Always), ("alternate", Always), ("alternating", Always), ("otherwise", Always),
    ("instead", Always), ("rather", Before(&["than"])), ("place", Before(&["of"])),
    ("lieu", Always), ("replace", Always), ("replaces", Always), ("replacing", Always),
    ("substitute", Always), ("substitutes", Always), ("swap", Always), ("swapping", Always), ("change", Always),
    ("may", Always), ("might", Always), ("could", Always),
    ("as", Before(NEED)), ("as", Before(&["well", "many"])), ("where", Before(NEED)),
    ("when", Before(NEED)), ("wherever", Always), ("whenever", Always), ("necessary", Always),
    ("in", Before(&["case"])), ("when", Clause), ("where", Clause),
    ("timber", Ground), ("wood", Ground), ("wooden", Ground), ("concrete", Ground), ("masonry", Ground),
    ("brick", Ground), ("drywall", Ground), ("plasterboard", Ground), ("windy", Ground),
    ("kit", Behind(&["ft", "foot", "m", "metre", "meter"])),
    ("version", Always), ("versions", Always), ("model", Always), ("models", Always),
    ("variant", Always), ("variants", Always),
    // what is kept for later
    ("spare", Always), ("spares", Always), ("extra", Always), ("leftover", Always),
    ("later", Always), ("aside", UnlessRemoved), ("reserve", UnlessRemoved),
    ("reserved", UnlessRemoved), ("hold", Before(&["back"])), ("keep", Before(&["back"])), ("set", Before(&["back"])),
    ("back", Before(&["on", "onto", "in", "into", "over"])), ("keep", NumberUnlessRemoved), ("save", NumberUnlessRemoved),
    ("store", NumberUnlessRemoved), ("out", OfHardware), ("next", Before(&["step", "stage", "section"])),
    ("comes", Loose), ("come", Loose), ("contains", Always), ("contain", Always), ("holds", Number),
    ("turn", Opens(&["turn", "turns"])), ("temporary", Always), ("temporarily", Always),
    ("rest", Behind(&["the"])), ("remaining", Always), ("other", Several), ("other", CountsBefore(PLACING)), ("opposite", Several),
    // how many, and how sure that is
    ("enough", Always), ("sufficient", Always), ("plenty", Always), ("several", Always),
    ("various", Always), ("few", Unless(&["turns", "threads", "minutes", "degrees"])),
    ("couple", Always), ("many", Always), ("most", Behind(&["at"])), ("most", Before(&["of"])),
    ("least", Behind(&["at"])), ("more", Before(&["than"])), ("up", UpTo),
    ("about", Number), ("around", Number), ("some", Number), ("some", Before(&["of"])),
    ("any", Number), ("any", Before(&["of", "other", "remaining"])), ("approximately", Always),
    ("approx", Always), ("roughly", Always), ("nearly", Always), ("minimum", Always),
    ("maximum", Always), ("max", Always), ("half", Before(&["of", "the", "these", "this", "as"])),
    ("one", Before(&["side", "end", "half", "by"])), ("one", CountsBefore(&["goes"])), ("one", CountsInBrackets), ("turn", Behind(&["in"])), ("time", Behind(&["a"])), ("double", Always), ("triple", Always),
    ("twice", Always), ("thrice", Always), ("again", Unless(&["with"])), ("too", UnlessNumbered),
    ("respectively", Always), ("ditto", Always), ("repeating", Always), ("handful", Always), ("score", Behind(&["a"])), ("every", NumberBut(&["one"])), ("per", Number),
    ("throughout", Always), ("whichever", Always), ("whatever", Always), ("here", Before(&["and"])),
    ("another", Before(&["near", "beside"])),
    ("centres", Always), ("centers", Always), ("spacing", Always), ("center", Behind(&["on"])), ("centre", Behind(&["on"])),
    // how often, where no rule took it
    ("dozen", Counts), ("apiece", Counts), ("pair", CountsUnless(&["of"])),
    ("each", CountsUnless(&["other", "with", "having", "and", "time", "case", "in", "of"])), ("another", Alone), ("second", Alone),
    ("third", Alone), ("fourth", Alone), ("fifth", Alone), ("sixth", Alone), ("more", SoMany), ("times", SoMany), ("further", SoMany),
    ("additional", SoMany), ("also", CountsBefore(PLACING)), ("then", CountsBefore(PLACING)),
    ("afterwards", CountsBefore(PLACING)), ("same", Alone), ("incl", Alone),
    // corrections
    ("sorry", Always), ("wait", Unless(&["for", "until", "till", "a"])), ("oops", Always),
    ("correction", Always), ("erratum", Always), ("scratch", Before(&["that"])),
    ("make", Before(&["that"])), ("mean", Behind(&["i"])),
];

static RULES: LazyLock<FxHashMap<&[u8], Vec<When>>> = LazyLock::new(|| {
    let mut rules: FxHashMap<&[u8], Vec<When>> = FxHashMap::default();
    for &(word, when) in WORDS {
        rules.entry(word.as_bytes()).or_default().push(when);
    }
    rules
});

/// How the words of the table begin.
static BEGIN: Beginnings = {
    let (mut all, mut i) = (Beginnings::NONE, 0);
    while i < WORDS.len() {
        all.add(beginning(WORDS[i].0));
        i += 1;
    }
    all
};

/// Letters of the longest word of the table.
const LONGEST: usize = 16;

/// What a counted thing in front of a noun may be without naming a variant: `four-hole plate`.
const BUILT: &[&str] = &[
    "hole", "piece", "part", "ply", "way", "man", "person", "people", "point", "leg", "legged",
    "sided", "step", "stage", "layer", "ton", "pound", "gauge", "wheel", "day", "hour", "minute",
    "to", "and", "or", "metre", "meter",
];

/// The words of a sentence that are not blanked.
struct Words<'a> {
    text: &'a str,
    all: Vec<Word>,
}

impl<'a> Words<'a> {
    /// Where a word stands.
    fn at(&self, i: usize) -> Option<Range<usize>> {
        self.all.get(i).map(|word| word.range())
    }

    fn word(&self, i: usize) -> &'a str {
        self.at(i).map_or("", |at| &self.text[at])
    }

    /// True where nothing but white space or a hyphen stands between a word and the next.
    fn joined(&self, i: usize) -> bool {
        match (self.at(i), self.at(i + 1)) {
            (Some(a), Some(b)) => self.text[a.end..b.start]
                .chars()
                .all(|c| c.is_whitespace() || c == '-'),
            _ => false,
        }
    }

    fn is(&self, i: usize, known: &[&str]) -> bool {
        let word = self.word(i);
        known.iter().any(|k| word.eq_ignore_ascii_case(k))
    }

    fn number(&self, i: usize) -> bool {
        let word = self.word(i);
        word.bytes().all(|b| b.is_ascii_digit()) && !word.is_empty()
            || look_up(word).is_some_and(|row| {
                row.senses
                    .iter()
                    .any(|sense| matches!(sense, Sense::Count(_) | Sense::Per(12..)))
            })
    }

    /// Behind a word: a number, or a determiner and a number.
    fn number_behind(&self, i: usize) -> bool {
        self.joined(i)
            && (self.number(i + 1)
                || self.joined(i + 1)
                    && self.is(
                        i + 1,
                        &["the", "these", "those", "your", "all", "a", "another"],
                    )
                    && self.number(i + 2))
    }

    /// True where what is counted from a word on is hardware, by its name or by a size.
    fn counts_hardware(&self, i: usize) -> bool {
        let number = if self.number(i) { i } else { i + 1 };
        self.at(number + 1).is_some_and(|at| {
            let thing = &self.text[at.start..];
            thing.starts_with(|c: char| c.is_ascii_digit() || c == 'M') || names_hardware(thing)
        })
    }

    fn bears(&self, i: usize, when: When) -> bool {
        let next = |known: &[&str]| self.joined(i) && self.is(i + 1, known);
        match when {
            Always => true,
            Before(known) => next(known),
            Behind(known) => i > 0 && self.joined(i - 1) && self.is(i - 1, known),
            // The stop of `No. 10` belongs to the word.
            Unless(known) => !next(known) && !self.text[self.all[i].range().end..].starts_with('.'),
            Number => self.number_behind(i),
            NumberBut(known) => self.number_behind(i) && !next(known),
            // `Pick out six bolts`, `Back out the two bolts`
            OfHardware => {
                let taken = i > 0 && self.is(i - 1, &["pick", "back", "take"]);
                self.number_behind(i) && self.counts_hardware(i + 1) && !taken
            }
            UpTo => next(&["to"]) && self.number_behind(i + 1),
            UnlessCount => !(self.joined(i) && self.number(i + 1)) || self.is(i + 2, &["of"]),
            // `the other inserts five bolts`, `the other three posts: each takes two`
            Several => {
                let verb =
                    self.number_behind(i + 1) || self.is(i + 2, &["the", "its", "home", "in"]);
                let plural = self.word(i + 1).ends_with('s') && !verb;
                let several = plural || (self.number(i + 1) && !self.says_each());
                several && self.joined(i) && !(i > 0 && self.is(i - 1, &["each"]))
            }
            Soon(known) => (i + 1..i + 8).any(|at| self.is(at, known)),
            UnlessNumbered => !(i > 0 && self.number(i - 1)),
            UnlessRemoved => !self.takes_off(),
            NumberUnlessRemoved => self.number_behind(i) && !self.takes_off(),
            Opens(known) => i == 0 && (1..9).any(|at| self.is(at, known)),
            Loose => {
                let fitted = ["fitted", "installed", "attached", "place", "already"];
                next(&["with"]) && !(0..self.all.len()).any(|at| self.is(at, &fitted))
            }
            // Not `On the timber frame`, which is there.
            Ground => {
                let of = i.checked_sub(1 + usize::from(i > 1 && self.is(i - 1, &["a", "an"])));
                of.is_some_and(|of| {
                    let opens = of == 0 || !self.joined(of - 1) || self.is(of - 1, &["and", "or"]);
                    let ends = self.is(of, &["for"]) && !self.joined(i);
                    self.is(of, &["for", "on", "in"]) && (opens || ends)
                })
            }
            Counts => true,
            CountsUnless(known) => !next(known),
            CountsBefore(known) => next(known),
            CountsInBrackets => {
                let at = self.all[i].range();
                self.text[..at.start].ends_with('(') && self.text[at.end..].starts_with(')')
            }
            // `one after another`, `for a second`
            Alone => {
                let turn = (i > 0 && self.is(i - 1, &["after", "one", "to"]))
                    || (i > 1 && self.is(i - 2, &["for", "wait", "pause"]));
                let placed = [
                    "from", "above", "below", "behind", "beside", "between", "near",
                ];
                let alone = !self.joined(i) || self.is(i + 1, PLACING) || self.is(i + 1, &placed);
                alone && !turn
            }
            SoMany => i > 0 && self.joined(i - 1) && self.number(i - 1),
            Clause => (i + 2..i + 7)
                .take_while(|&at| self.joined(at - 1))
                .find(|&at| self.is(at, &["is", "are"]))
                .is_some_and(|at| !self.is(at + 1, DONE) && !self.is(at + 2, DONE)),
        }
    }

    fn says_each(&self) -> bool {
        (0..self.all.len()).any(|i| self.is(i, &["each"]))
    }

    fn takes_off(&self) -> bool {
        (0..self.all.len()).any(|i| {
            let word = self.word(i);
            let removes = |stem: &str| {
                word.get(..stem.len())
                    .is_some_and(|start| start.eq_ignore_ascii_case(stem))
            };
            removes("remov") || removes("unbolt") || {
                self.is(i, &["take", "taken", "taking"]) && self.is(i + 1, &["off", "out"])
            }
        })
    }

    /// `two to four`: where it ends.
    fn between(&self, i: usize) -> Option<usize> {
        const TO: u32 = beginning("to");
        let to = self.all.get(i + 1).is_some_and(|word| word.begins == TO);
        let range = to && self.joined(i) && self.joined(i + 1);
        (range && self.number(i) && self.number(i + 2)).then_some(i + 2)
    }

    /// `the three-bay shelter`: where it ends.
    fn variant(&self, i: usize) -> Option<usize> {
        let (number, noun) = (self.at(i)?, self.at(i + 1)?);
        if noun.start != number.end + 1 || self.text.as_bytes()[number.end] != b'-' {
            return None;
        }
        let word = self.word(i + 1);
        let plain = word.len() > 2
            && word.bytes().all(|b| b.is_ascii_lowercase())
            && look_up(word).is_none()
            && !self.is(i + 1, BUILT);
        (plain && self.number(i)).then_some(i + 1)
    }
}

/// The first words of a sentence that bear on its counts and that no rule reads. What rules have
/// read is blanked in the text. `apart`: places that are said of other hardware; `counted`: those of counts that are
/// read, and not blanked.
pub(super) fn bears_on<'t>(
    words: &words::Words,
    text: &'t str,
    apart: impl Fn(usize) -> bool,
    counted: impl Fn(usize) -> bool,
) -> Option<&'t str> {
    let words = Words {
        text,
        all: words.left(text),
    };
    let mut lower = [0u8; LONGEST];
    (0..words.all.len()).find_map(|i| {
        let word = words.all[i];
        let at = word.range();
        if let Some(last) = words.between(i).or_else(|| words.variant(i)) {
            return Some(&text[at.start..words.all[last].range().end]);
        }
        if !BEGIN.has(word.begins) || apart(at.start) {
            return None;
        }
        let word = &text[at.clone()];
        let lower = lower.get_mut(..word.len())?;
        lower.copy_from_slice(word.as_bytes());
        lower.make_ascii_lowercase();
        let rules = RULES.get(&*lower)?;
        let taken = |when: &When| when.counts() && counted(at.start);
        let found = (rules.iter()).find(|when| words.bears(i, **when) && !taken(when))?;
        let end = match found {
            Before(_) | CountsBefore(_) | Number | NumberBut(_) | OfHardware | Several => {
                words.at(i + 1).map_or(at.end, |next| next.end)
            }
            _ => at.end,
        };
        Some(&text[at.start..end])
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_that_bear_on_the_count() {
        #[track_caller]
        fn case(text: &str, expected: Option<&str>) {
            assert_eq!(
                bears_on(
                    &words::Words::of(text),
                    text,
                    |_| false,
                    |at| ["each", "more bolts"]
                        .iter()
                        .any(|of| text[at..].starts_with(of))
                ),
                expected,
                "{text}"
            );
        }
        case("Fit four bolts (steel roof only).", Some("only"));
        case("Fit four bolts, less two at the gate.", Some("less"));
        case("Fit two to four washers.", Some("two to four"));
        case("Fit 2 to 4 washers.", Some("2 to 4"));
        case(
            "For the three-bay shelter, fit two bolts.",
            Some("three-bay"),
        );
        case("Fit the four-hole plate with two bolts.", None);
        case("Lay the two-inch board.", None);
        case("Fit two washers top and bottom.", None);
        case("Fit the top rail.", None);
        case("Leave the last two holes empty.", Some("Leave"));
        case("Leave the bolts finger tight.", None);
        case("Put the nuts aside.", Some("aside"));
        case("Remove the nuts and put them aside.", None);
        case("Keep the two bolts.", Some("Keep"));
        case("Keep the rail level.", None);
        case("When the deck is concrete, fit two anchors.", Some("When"));
        case("When the deck is level, fit two anchors.", None);
        case("Where the rail meets the post, fit two bolts.", None);
        case("Turn two nuts a half turn.", Some("Turn"));
        case("Turn two nuts onto the rod.", None);
        case("The post comes with six bolts.", Some("comes"));
        case("The post comes with six bolts already fitted.", None);
        case("The carton holds 8 bolts.", Some("holds 8"));
        case("Lay out six bolts for the deck.", Some("out six"));
        case("Use no washers.", Some("no"));
        case("For timber use four lag screws.", Some("timber"));
        case("Use four screws for wood, four for brick.", Some("wood"));
        case("On a concrete slab fit four anchors.", Some("concrete"));
        case("On the timber frame fit four screws.", None);
        case("Fix it to concrete with four anchors.", None);
        case("For the 6 ft kit fit two bolts.", Some("kit"));
        case(
            "Fit one bolt at the front, the other at the back.",
            Some("other at"),
        );
        case("Use a No. 10 drill.", None);
        case("There is no gap.", None);
        case("Do not overtighten the bolts.", None);
        case("Fit eight bolts, not six.", Some("not six"));
        case("Fit about 12 screws.", Some("about 12"));
        case("Run the strap around the post.", None);
        case("Fit two bolts to the other posts.", Some("other posts"));
        case("Fit two bolts to the other end.", None);
        case("One holds the rail, the other inserts two bolts.", None);
        case("Pick out six bolts for the deck.", None);
        case(
            "For the other three posts, fit two bolts.",
            Some("other three"),
        );
        case("On the other three posts, two bolts each.", None);
        case("Hold them against each other.", None);
        case("Fit washers as needed.", Some("as needed"));
        case("Fit it every 12 in.", Some("every 12"));
        case("Fit a bolt to every one of the six posts.", None);
        case("Lay out the six posts.", None);
        case("Lay out the six 1/2 x 5 hex bolts.", Some("out the"));
        case("Fit up to three washers.", Some("up"));
        case("Bring the rail up to the post.", None);
        case("Fit only two bolts.", None);
        case("Fit only two of the bolts.", Some("only"));
        case("Fit six more bolts, again with a washer.", None);
        case("Bolt the rail to the post with two bolts.", None);
        case("Fit a bolt here, a dozen there.", Some("dozen"));
        case(
            "Fit a bolt to the cap and a third to the foot.",
            Some("third"),
        );
        case("Fit two bolts to the third slat.", None);
        case("Wait a second, then fit two bolts.", None);
        case("Fit two bolts one after another.", None);
        case("Fit two bolts, three more below.", Some("more"));
        case("Fit two bolts, then to the other leg.", Some("then to"));
        case("Fit two bolts, then tighten them.", None);
        case("Fit two bolts and use a pair of pliers.", None);
        case("Fit two bolts, and the same behind it.", Some("same"));
        case("Fit two bolts of the same length.", None);
        case(
            "Fit two bolts at the beam, one goes in the arm.",
            Some("one goes"),
        );
        case(
            "Fit two bolts at the beam (both) and the post (one).",
            Some("one"),
        );
        case("", None);
    }
}
