//! Sentences that repeat what stands before them, or may: `Repeat for the other side.`, `There are six of these.`,
//! `Fit three to post 2.`

use std::sync::LazyLock;

use regex::Regex;

use super::{
    rule::Rule,
    sides::SIDES,
    told::told,
    vocabulary::{DISTANCES, NO_PLACES, PLACING},
    wording::{NUMBER, number},
    words::Words,
};
use crate::words::pattern;

pub(super) static REPEAT: Rule = Rule::new(
    "repeat|as|same|likewise|similarly|so|mirror|before|times|twice|alike|identical|do|ditto|again|now|then|other",
    "",
    || {
        pattern(
            r"(?i)\b(?:repeat(?:ed)?|(?:the )?same again|do (?:exactly |just )?the same|the same (?:way|manner)|likewise|similarly|so (?:do|does|is|are)|mirrored|mirror (?:this|that|it)|as before|(?:takes?|gets?|needs?|has|have|wants?|requires?|use|fit|add|put|install|insert|drive) the same|the same (?:number|amount|quantity|hardware|fasteners|fixings)|same steps|the same (?:\w+,? ){1,5}(?:is|are|go|goes) (?:used|fitted|needed|required|on|in|at)|as (?:on|at|for|in) the (?:left|right|other|first|near|far|front|back|north|south|east|west|previous|last|opposite|top|bottom)|do (?:this|that|it|so)\b.*\b(?:times|twice)|(?:is|are) (?:\w+ )?(?:the same|alike|identical))\b|[,;] (?:and )?(?:at|on|in|for) [\w; ]+ the same\W*$|^\W*(?:the )?same (?:as|for|on|at|in)\b|^\W*(?:now |then |next )?do the (?:other|next|opposite|remaining|rest|left|right|near|far|front|rear|back)\b|^\W*(?:ditto|mirror)\b|^\W*(?:and )?again (?:on|at|for|in)\b|\bas above\b|\b(?:side|end)s? (?:is |are )?the same\W*$|^\W*(?:now|then|next) (?:for )?the (?:other|opposite|left|right|near|far) (?:\w+ )?\w+\W*$",
        )
    },
);

/// Behind items, what asks for them once more: `and the same on the right`, `, ditto into the foot`; `sure` where it
/// says it of the items: `, as does the right rail`.
pub(super) static ONCE_MORE: Rule = Rule::new(
    "same|equal|many|ditto|likewise|similarly|again|as|so|then|also|afterwards|too|well|other",
    "",
    || {
        let place = r"(?:at|on|for|in|into|to|onto|through|under|over|along|the)\s";
        let one = r"the \s (?: [a-z]+ \s ){0,2} [a-z]+";
        pattern(&format!(
            r"(?ix)(?P<sure> (?: [,;] (?: \s and )? | \band ) \s (?: (?:as|so) \s (?:do|does|is|are|has|have) \s {one}
              | {one} ,? \s (?: likewise | similarly | too | also | as \s well ) ) \s* [.;]? \s* $ )
          | (?: [,;] (?: \s and )? | \band ) \s (?: then | also | afterwards )
              (?: \s (?: to | at | on | in | into | onto | through ) \s {one}
                | \s the \s (?: {SIDES} | other | opposite | next | second | last ) (?: \s [a-z]+ )? ) \s* [.;]? \s* $
          | [,;]? \s and \s (?: to | at | on | in | into | onto ) \s the \s other (?: \s [a-z]+ )? \s* [.;]? \s* $
          | (?: \band | [,;] ) \s (?: (?:and|then|also) \s )*
            (?: (?:exactly|just) \s )? (?: (?: the \s )? same (?: \s (?:again|number|amount|quantity|count|hardware|fixings|fasteners) )?
              | an \s equal \s (?:number|amount|quantity|count) | as \s many (?: \s (?:again|more) )? | ditto | likewise | again )
            (?: [\s,]+ {place} | \s* [.;]? \s* $ )"
        ))
    },
);

/// A repetition of another stage: `Repeat steps 1 to 3`, `the same as in stage 2`.
pub(super) static REPEATS_STAGE: Rule = Rule::new("repeat", "stage|step|section", || {
    pattern(
        r"(?ix) ^\W* (?: now \s | then \s )? repeat \s (?: no\.? \s* )? (?P<step> \d+ [a-z]? ) \b (?: \s (?: for | on | at ) \b | \W* $ )
            | \b (?: repeat(?:ed)? | do | same \s (?:again \s)? as (?: \s in )? | as \s (?: in | for ) ) \s (?: all \s of \s )? (?: the \s )?
            (?: stage | step | section ) s? \s (?P<stage> \d+ [a-z]? (?: \s? (?: , | and | & | to | through | thru | - | – ) \s? \d+ [a-z]? )* ) \b",
    )
});

/// `Do this four times`: so often in all.
static IN_ALL: LazyLock<Regex> = LazyLock::new(|| {
    pattern(&format!(
        r"(?i)\b(?P<verb>do|repeat)\b.*?\b(?:(?P<n>{NUMBER})\s+(?P<more>more\s+)?times|(?P<twice>twice)(?:\s(?P<again>more))?)\b"
    ))
});

/// `Do this four times`: how much more often.
pub(super) fn more_times(text: &str) -> Option<u32> {
    IN_ALL.captures(text).and_then(|found| {
        let times = match found.name("n") {
            Some(n) => number(n.as_str())?,
            None => 2,
        };
        let more = found.name("more").or_else(|| found.name("again"));
        let first = found["verb"].eq_ignore_ascii_case("do") && more.is_none();
        Some(times - u32::from(first))
    })
}

/// True for words that repeat what stood before; not `Both face the same way.`
pub(super) fn is_repetition(words: &Words, text: &str) -> bool {
    REPEAT.find_iter(words, text).any(|found| {
        let before = text[..found.start()].split_whitespace().rev().take(2);
        let faces = before.into_iter().any(|word| FACES.contains(&word));
        !(faces && found.as_str().contains("the same"))
    })
}

/// How often a sentence repeats what stood before it.
pub(super) fn repeats(text: &str, named: Option<u32>) -> u32 {
    let said = || Said::of(text).how_often(text).flatten();
    named
        .or_else(|| more_times(text))
        .or_else(said)
        .unwrap_or(1)
}

/// From here on a sentence speaks of something else: `Do this before the two rails go on.`
static ASIDE: LazyLock<Regex> = LazyLock::new(|| {
    pattern(
        r"(?i-u)\b(?:before|after|until|till|while|when|once|so that|because|unless|if|by (?:the|this) time|or|not|never|don't|no)\b",
    )
});

/// What a sentence without hardware says of the lines before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Again {
    /// So many times more.
    Times(u32),
    /// More often, and not how often.
    Open,
    /// It names more places, likeness or a number, and does not point back to what was done; the number.
    May(Option<u32>),
}

/// Words in front of what a sentence says.
#[rustfmt::skip]
const LEADS: &[&str] = &[
    "now", "then", "next", "finally", "and", "also", "first", "that", "afterwards", "lastly", "please", "for", "on", "at",
];

/// First words of a sentence that looks at what is done, or moves, measures or tightens it.
#[rustfmt::skip]
const LOOKS: &[&str] = &[
    "check", "recheck", "ensure", "see", "verify", "confirm", "inspect", "tighten", "retighten", "re-tighten", "torque",
    "loosen", "slacken", "snug", "measure", "wait", "leave", "mark", "keep", "wipe", "clean", "sweep", "rest", "remove",
    "drill", "ream", "cut", "sand", "paint", "oil", "let",
];

/// First words of other work that asks for no fastener.
#[rustfmt::skip]
const WORK: &[&str] = &[
    "make", "lift", "lower", "raise", "lay", "set", "stand", "place", "put", "slide", "push", "pull", "turn", "move",
    "carry", "hold", "have", "take", "bring", "get", "give", "pass", "feed", "thread", "run", "drop", "ease", "offer",
    "rotate", "flip", "tilt", "trim", "saw", "plumb", "level", "square", "align", "line", "allow", "wear", "read", "sort",
    "unpack", "open", "step", "work", "hand-tighten", "start", "find", "pick", "dig", "pour", "mix", "fill", "brace",
    "prop", "support", "clamp", "tie", "stack", "hang", "use", "do", "continue", "go", "count", "look", "watch", "mind",
    "note", "stop", "stretch", "position", "insert", "tap", "press", "spread", "apply", "collect", "gather", "weigh",
    "ask", "try", "build", "assemble", "cover", "close", "swing", "unroll", "warning", "caution", "important", "tip",
    "steady", "it",
];

/// First words by which the work goes on, and words between them and what it goes on with.
#[rustfmt::skip]
const GOES_ON: &[&str] = &["do", "continue", "carry", "go", "move", "proceed", "work", "treat", "deal"];
#[rustfmt::skip]
const WITH: &[&str] = &[
    "on", "with", "to", "do", "round", "around", "along", "through", "down", "in", "at", "for", "by", "the", "same", "your", "way",
];

/// Words by which a sentence says how something is, and asks for nothing.
#[rustfmt::skip]
const STATES: &[&str] = &[
    "is", "are", "was", "were", "be", "has", "have", "must", "should", "shall", "will", "can", "may", "might", "need",
    "rests", "rest", "stands", "stand", "stays", "stay", "hangs", "lies", "lie", "sits", "sit", "weighs", "weigh", "leaves",
    "leave", "holds", "hold", "runs", "faces", "face", "meets", "meet", "shows", "show", "makes", "make", "keeps",
    "becomes", "comes", "come", "carries", "measures", "overlaps", "overlap", "points", "fits", "slides", "explains", "lists", "gives", "joins", "supports", "support", "bears", "turns", "begins", "starts",
];

/// Words that point back to what was just done, by themselves.
#[rustfmt::skip]
const ALIKE: &[&str] = &[
    "such", "alike", "likewise", "similarly", "thus", "identical", "identically", "ditto", "mirror", "mirrored", "handed",
];

/// Other words by which something is as what was before.
#[rustfmt::skip]
const LIKE: &[&str] = &["same", "again", "suit", "copy", "repeat", "repeated", "equally", "twin", "counterpart", "too"];

/// Words for what was just done, and the nouns that they stand in front of.
const THIS: &[&str] = &[
    "this", "that", "it", "so", "these", "those", "them", "same", "likewise",
];
#[rustfmt::skip]
const MANNER: &[&str] = &[
    "way", "manner", "fashion", "pattern", "procedure", "process", "operation", "method", "routine", "joint", "connection",
    "step",
];

/// Verbs in front of `the same way` that say how things lie, and in front of `two of them` those that put pieces in.
#[rustfmt::skip]
const FACES: &[&str] = &[
    "face", "faces", "facing", "point", "points", "pointing", "slope", "slopes", "lean", "leans", "open", "opens", "run", "runs",
    "turned", "lie",
];
#[rustfmt::skip]
const PUTS: &[&str] = &[
    "fit", "use", "put", "insert", "drive", "screw", "push", "add", "install", "place", "with", "and", "take", "slide", "thread",
];

/// What is said of it: `This is done`, `The same goes for`, `Both ends need this`.
#[rustfmt::skip]
const DONE: &[&str] = &["done", "repeated", "needed", "required", "wanted", "true", "goes", "go", "applies", "apply"];
#[rustfmt::skip]
const HAVE: &[&str] = &["need", "needs", "take", "takes", "get", "gets", "want", "wants", "require", "requires", "has", "have"];

/// Words for a place beside the one before.
#[rustfmt::skip]
const BESIDE: &[&str] = &[
    "left", "right", "front", "rear", "back", "near", "far", "top", "bottom", "upper", "lower", "north", "south", "east",
    "west", "underside",
];
#[rustfmt::skip]
const OTHERS: &[&str] = &["other", "another", "opposite", "next", "remaining", "further"];
const ALL: &[&str] = &[
    "each",
    "every",
    "all",
    "others",
    "rest",
    "throughout",
    "everywhere",
];
#[rustfmt::skip]
const ORDER: &[&str] = &["second", "third", "fourth", "fifth", "sixth", "pair", "round", "around", "along"];

/// Words in front of a number that names and counts nothing: `step 4`.
const NAMES: &[&str] = &[
    "step", "steps", "stage", "stages", "section", "page", "figure", "fig", "part", "bag", "no",
];

/// Behind a number, units.
#[rustfmt::skip]
const UNITS: &[&str] = &[
    "m", "mm", "cm", "in", "inch", "inches", "ft", "foot", "feet", "kg", "lb", "lbs", "deg", "degrees", "nm",
    "minute", "second", "seconds", "hour", "day", "week", "weeks", "mins", "x",
];

/// The words of a sentence in small letters, up to where it speaks of something else; and whether a mark stands
/// behind each.
struct Said(Vec<(String, bool)>);

impl Said {
    fn of(text: &str) -> Said {
        let end = ASIDE.find(text).map_or(text.len(), |found| found.start());
        let bare = |word: &str| {
            word.trim_matches(|c: char| !c.is_alphanumeric())
                .to_lowercase()
        };
        let words = text[..end].split_whitespace();
        let words = words.map(|word| (bare(word), word.ends_with(|c: char| !c.is_alphanumeric())));
        Said(words.filter(|(word, _)| !word.is_empty()).collect())
    }

    fn word(&self, i: usize) -> &str {
        self.0.get(i).map_or("", |(word, _)| word)
    }

    fn before(&self, i: usize) -> &str {
        i.checked_sub(1).map_or("", |i| self.word(i))
    }

    fn is(&self, i: usize, known: &[&str]) -> bool {
        known.contains(&self.word(i))
    }

    /// True where a mark or the end stands behind a word.
    fn ends(&self, i: usize) -> bool {
        self.0.get(i + 1).is_none() || self.0[i].1
    }

    fn any(&self, is: impl FnMut(usize) -> bool) -> bool {
        (0..self.0.len()).any(is)
    }

    /// What a number counts places by: `all four`; not `step 4`, `two people`.
    fn places(&self, i: usize) -> Option<u32> {
        let n = number(self.word(i).trim_start_matches('x')).filter(|n| *n > 1)?;
        let measures = !self.0[i].1 && self.is(i + 1, UNITS);
        let none = !self.0[i].1 && self.is(i + 1, NO_PLACES) && self.word(i + 1) != "times";
        (!measures && !none && !self.names(i)).then_some(n)
    }

    fn names(&self, i: usize) -> bool {
        let before = self.before(i);
        // `for bay 4`; not `There are 4.`
        let figure = self.word(i).starts_with(|c: char| c.is_ascii_digit());
        let counted = [
            PLACING,
            ALL,
            OTHERS,
            STATES,
            HAVE,
            &["", "the", "both", "and", "down"],
        ];
        let name = figure && !counted.iter().any(|known| known.contains(&before));
        NAMES.contains(&before) || self.is(i + 1, NAMES) || before == "so" || (name && self.ends(i))
    }

    /// Things told apart by letters or figures: `legs b, c and d`; not `steps 3 and 4`.
    fn has_names(&self, i: usize) -> bool {
        let several = self.word(i).len() > 3 && self.word(i).ends_with('s') && !self.is(i, NAMES);
        let name = self.word(i + 1);
        let letter = name.len() == 1 && name.bytes().all(|b| b.is_ascii_alphanumeric());
        several && letter && self.any(|at| at > i + 1 && self.word(at).len() == 1)
    }

    /// More places than the one before: a number of them, `each`, `the other`, a side.
    fn tells(&self, i: usize) -> bool {
        let side = self.word(i).split('-').next().unwrap_or_default();
        let known = [OTHERS, ALL, ORDER].iter().any(|known| self.is(i, known));
        let is = known || self.word(i) == "both" || BESIDE.contains(&side);
        self.places(i).is_some() || (is && !self.names(i))
    }

    /// True where it says how many are built: `Make two.`, `Build a second frame.`, `Two frames are needed.`
    fn makes_several(&self, first: usize) -> bool {
        let you = ["you", "will", "must", "should", "need", "to", "have"];
        let verb = (first..self.0.len()).find(|&i| !self.is(i, &you));
        let builds = verb.is_some_and(|verb| {
            self.is(
                verb,
                &[
                    "build",
                    "assemble",
                    "make",
                    "construct",
                    "prepare",
                    "produce",
                ],
            )
        });
        let built = [
            "needed",
            "required",
            "wanted",
            "built",
            "made",
            "fitted",
            "mounted",
            "assembled",
        ];
        let several =
            |i: usize| self.places(i).is_some() || self.is(i, &["both", "another", "second"]);
        let none = |i: usize| self.is(i, &["sure", "certain", "holes", "slots", "cuts", "marks"]);
        (builds || self.any(|i| self.is(i, STATES) && self.is(i + 1, &built)))
            && self.any(several)
            && !self.any(none)
    }

    /// True where it points back to what was just done.
    fn points_back(&self, first: usize) -> bool {
        let this = |i: usize| self.is(i, THIS);
        let manner = |i: usize| {
            let placed =
                PLACING.contains(&self.word(i + 1)) || self.is(i + 1, &["with", "down", "round"]);
            let step = self.word(i) == "step";
            self.is(i, MANNER)
                && (self.word(i) != "way" || self.ends(i) || placed)
                && (!step || self.is(first, &["carry", "use", "follow", "apply"]))
        };
        let done = |from: usize| (from..from + 5).any(|i| self.is(i, DONE));
        // `Do this`, `of these`, `in the same way`, `like that`, `is treated so`, `Both ends need it`
        // `Both rails face the same way.`
        let faces = |i: usize| (i.saturating_sub(3)..i).any(|at| self.is(at, FACES));
        // `Fit six of them in the upper rail.`
        let pieces = |i: usize| i > 1 && self.is(i - 2, PUTS) && number(self.before(i)).is_some();
        let at = |i: usize| {
            let behind = i + usize::from(self.is(i + 1, &["the", "exactly", "just", "also"])) + 1;
            self.is(i, ALIKE)
                || self.word(i).starts_with("mirror")
                || (self.is(i, &["do", "does", "done", "doing"]) && this(behind))
                || (self.word(i) == "of"
                    && self.is(i + 1, &["these", "those", "them"])
                    && !pieces(i))
                || (self.word(i) == "like" && this(i + 1))
                || ((this(i) || self.is(i, &["similar", "like"])) && manner(i + 1) && !faces(i))
                || (self.word(i) == "so" && (self.ends(i) || self.is(i + 1, &["on", "forth"])))
                || (self.is(i, HAVE) && this(behind) && self.ends(behind))
        };
        let opens = first + usize::from(self.word(first) == "the");
        let goes_on = self.is(first, GOES_ON) && {
            let with = (first + 1..self.0.len()).find(|&i| !self.is(i, WITH));
            with.is_some_and(|i| self.tells(i) && !self.is(i, ORDER) || self.has_names(i))
        };
        // `There are three more legs to do.`
        let to_do = |i: usize| {
            let so_many = self.word(i) == "more"
                && number(self.before(i)).is_some()
                && !self.is(i + 1, NAMES);
            let to = (i + 1..i + 5).find(|&to| self.word(to) == "to");
            so_many && to.is_some_and(|to| self.is(to + 1, &["do", "go"]))
        };
        // `The rear rail gets them too.`, `The right post follows.`, `All four corners.`
        let too = self.is(self.0.len() - 1, &["too", "well", "follow", "follows"]);
        let bare = (2..4).contains(&(self.0.len() - first.min(self.0.len())))
            && self.tells(first)
            && !self.is(first, ORDER);
        self.any(at)
            || self.any(to_do)
            || (this(opens) && done(opens + 1))
            || goes_on
            || too
            || bare
    }

    /// How much more often; `None` within: it does not say.
    fn how_often(&self, text: &str) -> Option<Option<u32>> {
        let some_of = |i: usize| {
            let at = i.saturating_sub(usize::from(self.before(i) == "the"));
            ["from", "using"].contains(&self.before(at))
        };
        let mut told = None;
        for i in 0..self.0.len() {
            let n = number(self.word(i + 1));
            // `the other three`, `five more`
            if let Some(n) = n.filter(|_| self.is(i, OTHERS) && !some_of(i)) {
                return Some(Some(n));
            }
            if let Some(n) = self.places(i).filter(|_| !OTHERS.contains(&self.before(i))) {
                let more = self.is(i + 1, &["more", "other", "others"]);
                return Some(more_times(text).or(Some(n - u32::from(!more))));
            }
            let one = self.is(i, &OTHERS[..4]) && !self.word(i + 1).ends_with('s') && !self.0[i].1;
            told = match () {
                () if !self.tells(i) || self.is(i, ORDER) || told.is_some() => told,
                () if one || self.word(i) == "both" => Some(Some(1)),
                () if self.is(i, ALL) || self.is(i, OTHERS) => Some(None),
                () if self.before(i) == "the" => Some(Some(1)),
                () => None,
            };
        }
        // How many they are, their names tell.
        told.or_else(|| self.any(|i| self.has_names(i)).then_some(Some(1)))
    }
}

/// What a sentence without hardware says of the lines before it, or may: with words for more than one, it asks for them
/// again where it points back to what was done; else it may, unless it does or states something else.
pub fn again(text: &str) -> Option<Again> {
    let said = Said::of(text);
    let first = (0..said.0.len()).find(|&i| !said.is(i, LEADS))?;
    let sure = said.word(first) == "make" && said.word(first + 1) == "sure";
    // `Keep going until all seven hoops are up.`
    const KEEPS_ON: &[&str] = &["keep", "continue", "carry", "go", "proceed"];
    let until = [" until ", " till "]
        .iter()
        .any(|until| text.contains(until));
    if until
        && said.is(first, KEEPS_ON)
        && (said.0.len() == 1 || said.is(first + 1, &["on", "going", "like"]))
    {
        return Some(Again::May(None));
    }
    if text.contains('?') || said.is(first, LOOKS) || sure {
        return None;
    }
    // `and do the underside`, `Carry on round the frame`, `Build the second post to match.`
    let builds = said.is(first, &["build", "assemble", "make"]);
    let goes_on = said.any(|i| {
        let verb = ["do", "go", "repeat", "continue", "fix", "fit"];
        (said.is(i, &["and", "then"]) && said.is(i + 1, &verb))
            || (builds && said.is(i, &["to"]) && said.is(i + 1, &["match"]))
            || (said.is(i, &["on", "continue", "proceed", "way"])
                && said.is(i + 1, &["round", "around", "along"]))
            // `Then turn to the right arm.`
            || (i == first && said.is(i, &["turn", "move", "go", "work"]) && said.is(i + 1, &["to", "on"]))
    });
    if said.points_back(first)
        && let Some(often) = said.how_often(text)
    {
        return Some(often.map_or(Again::Open, Again::Times));
    }
    let makes = said.makes_several(first);
    let else_done = !goes_on && said.is(first, WORK);
    if !makes && (else_done || said.any(|i| said.is(i, STATES))) {
        return None;
    }
    let like =
        |i: usize| said.is(i, LIKE) || said.is(i, ALIKE) || said.word(i).starts_with("mirror");
    let tells = said.any(|i| said.tells(i) || (like(i) && said.before(i) != "so"));
    let places = || (0..said.0.len()).find_map(|i| said.places(i));
    tells.then(|| Again::May(places()))
}

/// True for a few words that liken a place to one before, or say how often: `Other side the same`, `4 times`.
pub fn is_likened(text: &str) -> bool {
    const WORDS: usize = 6;
    let said = Said::of(text);
    (2..=WORDS).contains(&said.0.len())
        && said.any(|i| {
            said.is(i, LIKE)
                || said.is(i, ALIKE)
                || said.is(i, &["times", "twice"])
                || said.word(i).starts_with("mirror")
        })
}

/// True for a sentence that says how many are built: `Make two.`, `Two frames are needed.`
pub fn makes_several(text: &str) -> bool {
    let said = Said::of(text);
    let first = (0..said.0.len()).find(|&i| !said.is(i, LEADS));
    first.is_some_and(|first| said.makes_several(first))
}

/// `Fit three to post 2.`: so many, and no word says of what.
pub fn more_of_it(text: &str) -> Option<u32> {
    const BEFORE: &[&str] = &[
        "", "fit", "use", "put", "add", "insert", "install", "drive", "takes", "take", "gets",
        "get", "needs", "need", "wants", "want", "requires", "receives", "has", "with", "and",
        "then", "plus", "another", "a", "further",
    ];
    const BEHIND: &[&str] = &[
        "at", "on", "in", "into", "to", "for", "through", "go", "goes", "follow", "more", "apiece",
    ];
    const ENOUGH: &[&str] = &["enough", "needed", "required", "plenty", "wanted"];
    const NO_MORE: &[&str] = &["go", "a", "time", "once", "one"];
    let said = Said::of(text);
    let counted = (0..said.0.len()).filter_map(|i| {
        let opens = i == 0 || said.0[i - 1].1;
        // `Check the projection: 4 in. above the slab.`
        let measures = said.is(i + 1, UNITS) && (said.ends(i + 1) || said.is(i + 2, DISTANCES));
        if measures {
            return None;
        }
        let is_next = said.ends(i)
            || (said.is(i + 1, BEHIND) && !said.is(i + 2, NO_MORE))
            || (said.is(i + 1, &["of"]) && said.is(i + 2, &["them", "these", "those"]))
            || (said.is(i + 1, &["is", "are"]) && said.is(i + 2, ENOUGH));
        let before = said.before(i);
        let n = number(said.word(i)).filter(|&n| n > 0)?;
        (is_next && (opens || BEFORE.contains(&before)) && !NAMES.contains(&before)).then_some(n)
    });
    let all: Vec<u32> = counted.collect();
    // `Number of treads: 13.`
    (!all.is_empty() && told(text, 0).is_empty()).then(|| all.iter().sum())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_else_the_last_goes_for() {
        #[track_caller]
        fn case(text: &str, more: Option<u32>) {
            let expected = more.map_or(Again::Open, Again::Times);
            assert_eq!(again(text), Some(expected), "{text}");
        }
        case("Do this at all four corners.", Some(3));
        case("There are six of these.", Some(5));
        case("You will need to do this for all six posts.", Some(5));
        case("Do this at each corner.", None);
        case("Do so on all four posts.", Some(3));
        case("Do it on the other side too.", Some(1));
        case("This is done at all four corners.", Some(3));
        case("All four corners are done this way.", Some(3));
        case("There are four such joints.", Some(3));
        case("Four of these are needed.", Some(3));
        case("All six posts are fixed this way.", Some(5));
        case("The same goes for the other three.", Some(3));
        case("Continue with the other three posts.", Some(3));
        case("Move on to the next post and so on for all six.", Some(5));
        case("Treat the other posts alike.", None);
        case("Make four of these.", Some(3));
        case("Build four such frames.", Some(3));
        case("Work round all four corners.", Some(3));
        case("Carry on along the rail in this way at every post.", None);
        case("This applies to both ends.", Some(1));
        case("The right post follows.", Some(1));
        case("The other three posts follow.", Some(3));
        case("Go on to do the right post.", Some(1));
        case("The left side is done in the same way.", Some(1));
        case("All eight panels go on like this.", Some(7));
        case("You need three of them in all.", Some(2));
        case("The rear rail gets them too.", Some(1));
        case("The remaining five legs are treated the same way.", Some(5));
        case("This must be done on all five trusses.", Some(4));
        case("All four corners.", Some(3));
        case("Proceed to the opposite corner.", Some(1));
        case("Go round the other posts.", None);
        case("Do all the others now.", None);
        case("Same procedure for the three others.", Some(3));
        case("Carry out this step on each side.", None);
        case("Four corners need this.", Some(3));
        case("This joint occurs six times.", Some(5));
        case("Use this method throughout.", None);
        case("Every leg is treated so.", None);
        case("Do the other end.", Some(1));
        case("Both long sides need it.", Some(1));
        case("The kit has four of these joints.", Some(3));
        case("Four such joints hold the ridge.", Some(3));
        case("The opposite corner is a mirror image.", Some(1));
        case(
            "Build the right leg from the other two parts in the same way.",
            Some(1),
        );
        case("Five more hoops.", Some(5));
    }

    #[test]
    fn what_may_go_for_more() {
        #[rustfmt::skip]
        const MAY: &[&str] = &[
            "Copy this on the east side.", "Identical at the back.", "Follow suit with the remaining legs.",
            "Turn the frame over and do the underside.", "Carry on round the frame.", "Finish the row of seven hoops.",
            "Swap ends and go again.", "Next, the mirror-image leg.", "One hoop down, five to go.",
            "Proceed along the shelter, hoop by hoop.", "Now to the second hoop: same hardware.",
            "Hoops two and three: same.", "x4.", "Then fix the second rail.", "Then the rear leg.", "Ditto opposite.",
            "Attach the other three legs.", "Secure both remaining braces.", "Five more hoops.",
            "Fasten the right-hand post likewise.", "Same story with hoop two.",
            "Work your way round the frame.", "A further pair secures the eaves.", "Complete the other bays.",
        ];
        for text in MAY {
            assert!(again(text).is_some(), "{text}");
        }
    }

    #[test]
    fn counts_without_a_noun() {
        #[track_caller]
        fn case(text: &str, pieces: Option<u32>) {
            assert_eq!(more_of_it(text), pieces, "{text}");
        }
        case("Fit three to post 2.", Some(3));
        case("Post 2 takes three.", Some(3));
        case("Two more follow in stage 5.", Some(2));
        case("On the back rail, five.", Some(5));
        case("Three at post 2.", Some(3));
        case("One at hole 3 and one at hole 7.", Some(2));
        case("Use four at the ridge.", Some(4));
        case("In the middle, one is enough.", Some(1));
        case("One hoop down, five to go.", None);
        case("Lift one at a time.", None);
        case("Go on to step 4.", None);
        case("Fit the two rails.", None);
        case("Push the two together.", None);
        case("Wait two hours.", None);
        case("See page 5.", None);
    }

    #[test]
    fn what_speaks_of_something_else() {
        #[rustfmt::skip]
        const HARMLESS: &[&str] = &[
            "Leave for 24 hours.", "Check that all four posts are plumb.", "Step back 2 m.",
            "Lift the other girder onto the shoes.", "Lay all twelve boards side by side.",
            "Do not tighten anything yet.", "Do this before lifting the two girders.",
            "It takes two people to lift each frame.", "Set both girders parallel.",
            "Make sure that all six are level.", "Keep the other four boards for later.",
            "The two halves must meet.", "Two people are needed.", "Both gaps should be the same.",
            "Continue to the next step.", "Go on to step 4.", "Move on to the next stage.",
            "Do this with two people.", "Do this in two passes.", "This takes about 10 minutes.",
            "This holds all four posts upright.", "That way both rails stay level.",
            "Turn it this way up.", "Wait 30 minutes between each coat.", "Both rails are 2 m long.",
            "Each board is 140 mm wide.", "The other end rests on the ground.", "Stand the next post.",
            "Allow all the concrete to set.", "The frame now stands on all four legs.",
            "Each of the panels weighs 18 kg.", "Have a helper hold the other end.",
            "Work from one end to the other.", "Keep all fingers clear.", "Wear gloves on both hands.",
            "Measure both diagonals.", "They should be within 5 mm of each other.",
            "Such a joint can carry 200 kg.", "Tighten all of these to 45 Nm.", "Snug them all up.",
            "The same torque wrench is used later.", "Read all of this section first.",
            "Do it slowly.", "So far so good.", "Then take a break.", "Unpack all boxes.",
            "Sort the parts into three piles.", "There are two kinds of post.", "Place the last plank.",
            "If they are not level, shim one of them.", "You will need a 19 mm socket.",
            "Push the two frames together.", "Slide all six purlins under the ridge.", "Trim each end square.",
            "The ramp is now 1200 mm wide.", "Turn the whole frame over.", "Lower it onto both rails.",
            "Now rest the other frame on its back.", "This leaves a gap of 6 mm at each side.",
            "Every post has a mark at its foot.",
        ];
        let doubted: Vec<&str> = (HARMLESS.iter().copied())
            .filter(|text| again(text).is_some() || more_of_it(text).is_some())
            .collect();
        assert_eq!(doubted, [""; 0]);
    }
}
