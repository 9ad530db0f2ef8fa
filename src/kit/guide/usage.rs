//! What becomes of the hardware that a sentence names: new, carried over, taken off and kept.

use std::sync::LazyLock;

use regex::Regex;

use super::{
    fates::Fates,
    prose::{COUNTS, OBJECTS, is_side},
};
use crate::{
    Doubt,
    hardware::{Kind, Style},
    kit::Usage,
    notation::Sentence,
    words::pattern,
};

/// What is said of the use of the hardware in a sentence.
static USES: LazyLock<Vec<(Regex, Usage)>> = LazyLock::new(|| {
    vec![
        (
            pattern(
                r"(?i)\b(?:comes?|arrives?|ships?|delivered|shipped|sent|supplied) with\b.*\b(?:fitted|installed|attached|in place|in it|on it)\b|\b(?:is|are|comes?|arrives?) (?:supplied with|(?:already |ready |factory )?welded)\b|\b(?:comes?|arrives?) (?:(?:ready|already|factory)[ -])?(?:fitted|installed|mounted|attached|in place)\b|\b(?:bolt|nut|stud|screw|washer|insert|pin|rod)s? (?:already |ready |factory )?(?:welded|riveted|pressed|cast|glued|moulded) (?:on|in|to|into|onto)\b",
            ),
            Usage::ComesFitted,
        ),
        (
            pattern(
                r"(?i)\b(?:should|will|may|might) (?:now |then )?(?:have|see|find|be left with)\b.*(?:\b(?:left (?:over|in|at)|leftover|remaining|surplus|spare)\b|s left\W*$)|\bleft over\b|\bshould (?:remain|be left)\b",
            ),
            Usage::Reference,
        ),
        (
            pattern(
                r"(?i)\b(?:thrown? (?:\w+ )?away|discard(?:ed)?|scrap(?:ped)?|bin (?:the|these|those|them|it|all)|(?:not|never) (?:used|needed|wanted|required) (?:again|any more|any longer)|thr(?:ow|own) (?:\S+ ){1,8}away|recycled?|no longer (?:used|needed|wanted|required))\b",
            ),
            Usage::Discarded,
        ),
        (
            pattern(
                r"(?i)\b(?:remov\w+|tak(?:e|en) (?:off|out)|take (?:\S+ ){1,8}(?:off|out)|unbolt\w*|unscrew\w*|undo|back out|draw out)\b.*\b(?:keep|kept|retain\w*|sav(?:e|ed)|(?:set|put|lay|laid) (?:\w+ )?aside|(?:use|used) (?:\w+ )?again|(?:needed|used|required|wanted|for use) (?:again )?(?:in|for|at) (?:stage|step|section|the))\b",
            ),
            Usage::Returned,
        ),
        (
            pattern(
                r"(?i)\b(?:sold separately|not (?:included|supplied|(?:in|part of) (?:this|the) kit)|do(?:es)? not come with (?:this|the) kit|(?:customer|client|owner|builder|site)[- ]suppl(?:y|ied)|(?:supplied )?by others|(?:supplied|provided|bought|sourced) (?:on site |locally )?by (?:the |your )?(?:customer|client|owner|buyer|installer|contractor|builder|crew|you)|^\W*(?:buy|purchase|obtain|procure)|(?:from|at) (?:a|the|your) (?:local )?(?:hardware )?(?:store|shop|merchant)|(?:bought|sourced|obtained|found) locally|(?:you|(?:the|your) (?:customer|client|owner|buyer|installer|contractor|builder|crew)) (?:(?:must|should|shall|will|have to|has to|need to|needs to) )?(?:supply|supplies|provide|provides|buy|buys|source|sources)|of your own|your own)\b",
            ),
            Usage::NotInKit,
        ),
        (
            pattern(
                r"(?i)\b(?:comes? fitted|factory[- ](?:fitted|installed)|supplied fitted|pre-?(?:fitted|installed)|(?:from|at|by|ex) (?:the )?(?:works|factory)|(?:works|shop)[- ]fitted)\b",
            ),
            Usage::ComesFitted,
        ),
        (
            pattern(
                r"(?i)\b(?:already (?:fitted|installed|in place|there|in|on|has|have|holds?|carr(?:y|ies))|put back (?:in )?(?:the|these|those|all|both)|go(?:es)? back in|(?:fitted|installed|in place|there) already|(?:is|are) (?:in|on) [^,;]*\balready|put (?:the|these|those) [^,;]*(?:bolts?|screws?|nuts?|washers?|pins?) back|(?:bolt|nut|screw|washer|pin|stud|rod|anchor)s? (?:stay|remain)s? (?:in|on|fitted|where|there)|fitted (?:earlier|in (?:stage|step|section)|at (?:stage|step))|from (?:the )?(?:previous|earlier|last) (?:stage|step)|(?:remain(?:s|ing)?|left|kept|saved|held back) from (?:stage|step|section)s?|removed (?:earlier|before|in (?:stage|step|section)))\b",
            ),
            Usage::CarriedOver,
        ),
    ]
});

/// Words of a sentence that begins with its items, by which they may be there (common practice, no source): `Two bolts
/// have been put in.`
static MAY_BE_THERE: LazyLock<Regex> = LazyLock::new(|| {
    pattern(
        r"(?i)\b(?:already|still|earlier|previous(?:ly)?|remains?|been|were|was|went|kept|in place)\b",
    )
});

/// `Using the existing four bolts`: wherever they stand.
static EXISTING: LazyLock<Regex> =
    LazyLock::new(|| pattern(r"(?i)\b(?:existing|original|old|previous)\b"));

/// `The post already has two bolts in it.`
static HAS_ALREADY: LazyLock<Regex> = LazyLock::new(|| {
    pattern(r"(?i)\b(?:already|still) (?:has|have|holds?|carr(?:y|ies)|bears?)\b")
});

/// Words in front by which its items may not be needed always, or not here: `Where a canopy is fitted,`,
/// `In windy places,`, `Leave four bolts in the bag.` Common practice, no source.
fn may_be_for_some(text: &str) -> Option<&str> {
    static SOME: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?x)^ (?: (?: Where | When | Wherever | Whenever ) \ (?: an? | any | no ) \ [^,:]* \b (?: is | are ) \b [^,:]*
                | (?: For | On | In ) \ (?P<sort> [a-z-]+ ) \ (?P<kind> [a-z-]+s | ground | soil ) (?: \ only )?
                | (?: For | On | In | With ) \ (?: thin | thick | long | short | small | large | wide | narrow | heavy | light | old | new ) \ [a-z-]+s
                | (?: For | On | In ) \ an? \ \d+ (?: \. \d+ )? [\ -]? (?: ft | foot | in | inch | m | cm | mm ) \.? \ [a-z]+
                | (?: For | On | In ) \ the \ \d+ (?: \. \d+ )? [\ -]? (?: ft | foot | in | inch | m | cm | mm ) \.? \ (?: kit | version | model | size )
                | With (?: out )? \ the \ [a-z]+ ) (?: [,:] | \ (?: use | fit | add | take | insert | put | drive ) \b )
              | ^ (?: Leave | Keep | Store | Set | Put ) \ .* \b (?: in \ (?: the | its | their ) \ (?: bag | box | carton | tray ) | for \ later ) \b",
        )
    });
    const FIRST: &[char] = &['W', 'F', 'O', 'I', 'L', 'K', 'S', 'P'];
    if let Some(label) = sort_of_build(text) {
        return Some(label);
    }
    if !text.starts_with(FIRST) {
        return None;
    }
    let found = SOME.captures(text)?;
    // `On opposite sides,`, `For these posts,`
    let is_place = |group: &str| {
        found.name(group).is_some_and(|word| {
            let word = word.as_str();
            let places = [
                "sides", "ends", "corners", "edges", "faces", "holes", "joints",
            ];
            let plain = [
                OBJECTS,
                COUNTS,
                &places,
                &["opposite", "its", "your", "their"],
            ];
            is_side(word) || plain.iter().any(|known| known.contains(&word))
        })
    };
    let at = found.get(0)?.as_str();
    let verb = |c: char| c.is_ascii_lowercase();
    let words = match at.strip_suffix([',', ':']) {
        Some(words) => words,
        None if at.starts_with(['F', 'O', 'I', 'W']) => at.trim_end_matches(verb).trim_end(),
        None => at,
    };
    (!is_place("sort") && !is_place("kind")).then_some(words)
}

/// A label by which its items are for one sort of several that are built: `Deluxe only:`, `6 ft bench:`, `Small:`.
fn sort_of_build(text: &str) -> Option<&str> {
    static SORT: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?x)^ (?: [A-Z][a-z]+ \ (?: only | versions? | models? )
                | \d+ (?: \. \d+ )? [\ -]? (?: ft | foot | m | cm ) \.? \ [a-z]+
                | (?: Small | Medium | Large ) (?: \ [a-z]+ )? ) $",
        )
    });
    const LONGEST: usize = 24;
    let label = text.get(..text.find(':')?)?;
    (label.len() <= LONGEST && SORT.is_match(label)).then_some(label)
}

/// The words by which the items of a sentence may be there already.
fn may_be_there<'t>(said: &Sentence, text: &'t str) -> Option<&'t str> {
    let first = said.calls.first()?.at.start;
    let begins = said.text[..first].split_whitespace().count() == 0;
    let state = begins.then(|| MAY_BE_THERE.find(text)).flatten();
    let found = state
        .or_else(|| HAS_ALREADY.find(text))
        .or_else(|| EXISTING.find(text))?;
    Some(found.as_str())
}

/// `not included in bag C`: and in another one, it may be.
fn is_in_another(found: &str, behind: &str) -> bool {
    const IN: &[&str] = &[
        "in", "the", "this", "with", "hardware", "fastener", "fixing", "screw", "bolt", "small",
    ];
    const BAGS: &[&str] = &["bag", "box", "carton", "pack", "packet", "set"];
    let mut behind = behind
        .split_whitespace()
        .map(|word| word.trim_end_matches([')', ',', '.']));
    let last = behind.find(|word| !IN.contains(word));
    let found = found.to_lowercase();
    found.starts_with("not ") && last.is_some_and(|word| BAGS.contains(&word))
}

/// What a later sentence says of what was removed: `Keep them.`
pub(super) static KEEPS: LazyLock<Regex> = LazyLock::new(|| {
    pattern(r"(?i)\b(?:keep|retain|save|set aside|put aside|use (?:them|it) again)\b")
});

/// What a later sentence says of it, or of what it held: `Put them back.`, `Refit the cover.`
pub(super) static PUTS_BACK: LazyLock<Regex> = LazyLock::new(|| {
    pattern(
        r"(?i)\bre-?(?:fit|insert|install|attach|use|place|mount|fasten|fix|tighten|secure|assemble|bolt|screw)\w*\b|\b(?:put|screw|bolt|fit|drive|fix|fasten|thread|go|goes|push|slide|hang|set)\w* (?:\S+ ){0,5}(?:back|again)\b|\bback (?:in|on)\b|\bsame\b|\bclose\b|\bwith (?:them|these|those)\b",
    )
});

pub(super) static REMOVED_BEFORE: LazyLock<Regex> =
    LazyLock::new(|| pattern(r"(?i)\bremoved (?:earlier|before|in (?:stage|step|section))\b"));

pub(super) static REMOVES: LazyLock<Regex> = LazyLock::new(|| {
    pattern(
        r"(?i)^\W*(?:now |then )?(?:remove|take (?:off|out)|take (?:\S+ ){1,8}(?:off|out)|back out|unbolt|unscrew|undo|draw out|exchange|swap)\b",
    )
});

/// What holds a load on its way is no part of what is built (common practice, no source).
static FOR_TRANSPORT: LazyLock<Regex> =
    LazyLock::new(|| pattern(r"(?i)\b(?:transport|transit|shipping|packing)\b"));

/// ... unless more is to be done with them: `you will need them in step 5`.
static NEEDS_THEM: LazyLock<Regex> = LazyLock::new(|| {
    pattern(
        r"(?i)\b(?:need|want|use|fit|put|go|belong)\w* (?:\w+ )?(?:them|it|these|those|later|again|in (?:stage|step))\b|\b(?:needed|wanted|used|later|again)\b",
    )
});

/// Words behind the items of a sentence by which they are taken out again: `Push a bolt through, then remove it.` Common
/// practice, no source.
static TAKEN_OUT: LazyLock<Regex> = LazyLock::new(|| {
    pattern(
        r"(?i)\b(?:remove|withdraw|extract|take|pull|draw|back|unscrew|unbolt|undo|knock|drive|slide|tap) (?:(?:it|them|this|these|those|both|all)(?: of (?:them|these|those))?(?: back)?(?: (?:out|off|away|again))?|(?:out|off|away) (?:it|them|again))\b",
    )
});

/// Those of them that take nothing out where no such word stands behind: `drive it in`.
const MOVES: &[&str] = &[
    "take", "pull", "draw", "back", "knock", "drive", "slide", "tap",
];

/// The words behind its items by which a sentence takes them out again.
fn are_taken_out<'t>(said: &Sentence, text: &'t str) -> Option<&'t str> {
    let call = said.calls.first()?;
    // Numbers in words are in figures there.
    let behind = said.text.len() - call.at.end;
    taken_out(text.get(text.len().checked_sub(behind)?..)?)
}

/// The same, where a sentence begins so that stands behind `pieces` called for: `it` is one.
pub(super) fn takes_out(text: &str, pieces: u64) -> Option<&str> {
    let is_one = |words: &str| words.split(' ').any(|word| word == "it");
    let begins = |words: &&str| text.trim_start().starts_with(words) || text.starts_with("Then ");
    taken_out(text)
        .filter(begins)
        .filter(|words| pieces > 0 && is_one(words) == (pieces == 1))
}

/// The first words of a text by which what was named is taken out.
fn taken_out(text: &str) -> Option<&str> {
    let found = TAKEN_OUT.find(text)?.as_str();
    let first = found.split(' ').next().unwrap_or_default();
    let moves = MOVES.iter().any(|verb| first.eq_ignore_ascii_case(verb));
    let out = [" out", " off", " away"]
        .iter()
        .any(|out| found.contains(out));
    (!moves || out).then_some(found)
}

/// Verbs by which what follows is put in, and those by which it is taken out or done away with.
const PUT_IN: &[&str] = &[
    "fit",
    "insert",
    "install",
    "add",
    "drive",
    "put",
    "use",
    "replace",
    "screw",
    "refit",
    "reinstall",
    "reattach",
    "fasten",
    "refasten",
    "fix",
    "secure",
    "attach",
    "mount",
    "close",
    "using",
];
#[rustfmt::skip]
const TAKE_OUT: &[&str] = &[
    "remove", "take", "unbolt", "back", "discard", "throw", "scrap", "keep", "retain", "save", "aside", "away",
    "again",
];

/// `Exchange two nuts for two others.`
static EXCHANGES: LazyLock<Regex> = LazyLock::new(|| {
    pattern(r"(?i)^\W*(?:now |then )?(?:exchange|swap)\b.* (?:for|with|against)\b")
});

/// True where the last verb before an item puts it in: `throw away the packing and fit four bolts`.
pub(super) fn is_put_in(text: &str, at: usize) -> bool {
    if EXCHANGES.is_match(&text[..at]) {
        return true;
    }
    let words = text[..at].split(|c: char| !c.is_ascii_alphabetic());
    let verb = |word: &&str| {
        let is = |known: &[&str]| known.iter().any(|verb| word.eq_ignore_ascii_case(verb));
        is(PUT_IN) || is(TAKE_OUT)
    };
    let last = words.rev().find(verb);
    last.is_some_and(|word| PUT_IN.iter().any(|verb| word.eq_ignore_ascii_case(verb)))
}

/// What becomes of a sentence's items.
pub(super) struct Use {
    pub usage: Option<Usage>,
    pub doubts: Vec<Doubt>,
    /// Taken off, and not said whether kept or thrown away.
    pub removed: bool,
    /// What becomes of each kind, where that is said.
    fates: Fates,
}

impl Use {
    /// What becomes of pieces of a kind, whether they are taken off without a word of that, and what is to be asked of it.
    pub(super) fn of_kind(&self, kind: Option<Kind>) -> (Option<Usage>, bool, Vec<Doubt>) {
        match self.fates.of_kind(kind) {
            Some(usage) => (Some(usage), false, Vec::new()),
            None if self.fates.are_told(kind) => {
                (Some(Usage::Reference), true, vec![kept_or_not()])
            }
            None => (self.usage, self.removed, self.doubts.clone()),
        }
    }

    /// True where items are taken off or thrown away, beside which others may be put in.
    pub(super) fn takes_out(&self) -> bool {
        self.removed
            || matches!(self.usage, Some(Usage::Discarded | Usage::Returned))
            || self.is_waste()
    }

    /// True where items are done away with, and nothing more is to be said of them.
    pub(super) fn is_waste(&self) -> bool {
        let none = self.doubts.is_empty();
        none && matches!(self.usage, Some(Usage::Discarded | Usage::Reference))
    }
}

pub(super) fn removed_before() -> Doubt {
    Doubt::Said("removed before: taken as there already, and not as new".into())
}

pub(super) fn kept_or_not() -> Doubt {
    Doubt::Said("removed; whether kept or thrown away is not said".into())
}

/// `are supplied with the kit`: as all is.
fn is_with_kit(found: &str, behind: &str) -> bool {
    let mut behind = behind.split_whitespace();
    let last = behind.find(|word| !["the", "this", "your"].contains(word));
    found.ends_with("with") && last.is_some_and(|word| word.starts_with("kit"))
}

pub(super) fn usage(said: &Sentence, text: &str) -> Use {
    let found = USES
        .iter()
        .find_map(|(regex, usage)| Some((regex.find(text)?, *usage)))
        .filter(|(found, _)| !is_with_kit(found.as_str(), &text[found.end()..]));
    let another = found.filter(|(found, _)| is_in_another(found.as_str(), &text[found.end()..]));
    let found = found.filter(|_| another.is_none());
    let removes = REMOVES.is_match(text);
    let mut doubts = Vec::new();
    let (usage, removed) = match found {
        Some((found, usage)) => {
            if said.calls.len() > 1 && !removes {
                doubts.push(Doubt::Said(
                    format!(
                        "\"{}\" may be meant for one of the items alone",
                        found.as_str()
                    )
                    .into(),
                ));
            }
            if usage == Usage::Reference {
                doubts.push(Doubt::Said(
                    "said to be left over when the work is done: makes no demand".into(),
                ));
            }
            // In a bag with it, or on it.
            if found.as_str().to_lowercase().contains("supplied with")
                && usage == Usage::ComesFitted
            {
                doubts.push(Doubt::Said(
                    "supplied with it: taken as fitted there, and may lie in a bag".into(),
                ));
            }
            if REMOVED_BEFORE.is_match(text) {
                doubts.push(removed_before());
            }
            (Some(usage), false)
        }
        // Nothing of a kit that is bolted together is welded by who builds it (common practice, no source).
        None if !said.calls.is_empty()
            && said
                .calls
                .iter()
                .all(|call| call.callout.item.style == Some(Style::Weld)) =>
        {
            let said = "welded on the part that it comes with: taken as fitted there";
            doubts.push(Doubt::Said(said.into()));
            (Some(Usage::ComesFitted), false)
        }
        // What becomes of them may be told behind.
        None if removes && FOR_TRANSPORT.is_match(text) && !NEEDS_THEM.is_match(text) => {
            (Some(Usage::Reference), true)
        }
        None if removes && !said.calls.is_empty() => {
            doubts.push(kept_or_not());
            (Some(Usage::Reference), true)
        }
        None => {
            doubts.extend(another.map(|(words, _)| {
                Doubt::Said(
                    format!(
                        "\"{}\" is said of one bag or box: the items are taken as needed",
                        words.as_str()
                    )
                    .into(),
                )
            }));
            let out = are_taken_out(said, text);
            doubts.extend(out.map(|words| {
                let said = format!(
                    "\"{words}\": may be taken out again, or be there already; taken as needed"
                );
                Doubt::Said(said.into())
            }));
            let there = may_be_there(said, text);
            doubts.extend(there.map(|words| {
                Doubt::Said(format!("\"{words}\": may be there already; taken as new").into())
            }));
            doubts.extend(may_be_for_some(text).map(|words| {
                let said = format!("\"{words}\" may say when they are needed: taken as needed");
                Doubt::Said(said.into())
            }));
            let word = said.not_understood.clone().filter(|_| there.is_none());
            doubts.extend(word.map(|at| {
                let word = &said.text[at];
                Doubt::Said(
                    format!("\"{word}\" is not understood: the items are taken as needed").into(),
                )
            }));
            (None, false)
        }
    };
    let fates = match removes || matches!(usage, Some(Usage::Discarded | Usage::Returned)) {
        true => Fates::of(text),
        false => Fates::default(),
    };
    Use {
        usage,
        doubts,
        removed,
        fates,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::{Notation, sentence};

    #[test]
    fn what_is_there_is_never_plainly_new() {
        let said_of = |text: &str| usage(&sentence(text, Notation::default()), text);
        for text in [
            "Two M8 x 40 bolts have already been fitted.",
            "Two M8 x 40 bolts have been put in already.",
            "Two M8 x 40 bolts were fitted in an earlier stage.",
            "Two M8 x 40 bolts were installed during the previous step.",
            "Two M8 x 40 bolts were put in at Stage 1.",
            "Two M8 x 40 bolts are in place from Stage 1.",
            "Two M8 x 40 bolts are still in place.",
            "Two M8 x 40 bolts should already be in the post.",
            "Two M8 x 40 bolts went in earlier.",
            "Two M8 x 40 bolts remain in the post.",
            "Two M8 x 40 bolts are kept.",
            "The post already has two M8 x 40 bolts in it.",
        ] {
            let told = said_of(text);
            assert!(told.usage.is_some() || !told.doubts.is_empty(), "{text}");
        }
        for text in [
            "Two M8 x 40 bolts hold the cap.",
            "Fit two M8 x 40 bolts where the rail was cut.",
            "Once the rail has been set, fit two M8 x 40 bolts.",
            "Still holding the rail, drive two M8 x 40 screws.",
        ] {
            let told = said_of(text);
            assert!(told.usage.is_none() && told.doubts.is_empty(), "{text}");
        }
    }

    #[test]
    fn what_may_not_be_needed_always() {
        for text in [
            "Where a canopy is fitted, use four M8 x 30 bolts.",
            "When no rail is fitted, use four M8 x 30 bolts.",
            "For concrete floors: four M8 x 30 bolts.",
            "In windy places, add four M8 x 30 bolts.",
            "On soft ground, use four M8 x 30 bolts.",
            "With the canopy, fit four M8 x 30 bolts.",
            "Leave four M8 x 30 bolts in the bag.",
            "Keep four M8 x 30 bolts for later.",
        ] {
            let told = usage(&sentence(text, Notation::default()), text);
            let doubts: Vec<String> = told.doubts.iter().map(ToString::to_string).collect();
            let asks =
                |doubt: &String| doubt.ends_with("may say when they are needed: taken as needed");
            assert!(doubts.iter().any(asks), "{text}");
        }
        for text in [
            "Where the rails meet, use four M8 x 30 bolts.",
            "When the frame is upright, fit four M8 x 30 bolts.",
            "On both sides, fit four M8 x 30 bolts.",
            "On opposite sides, fit four M8 x 30 bolts.",
            "In these holes, fit four M8 x 30 bolts.",
            "For the posts: four M8 x 30 bolts.",
            "With the frame upright, fit four M8 x 30 bolts.",
        ] {
            assert_eq!(may_be_for_some(text), None, "{text}");
        }
    }

    #[test]
    fn what_is_not_in_one_bag() {
        for (text, doubts) in [
            ("Fit four M8 x 40 bolts (not included in bag C).", 1),
            (
                "Fit four M8 x 40 bolts (not included in the hardware bag of the frame).",
                1,
            ),
            ("Fit four M8 x 40 bolts (not supplied in this kit).", 0),
            ("Four M8 x 40 bolts are not part of this kit.", 0),
            (
                "Four M8 x 40 bolts (customer supplied) hold the bracket.",
                0,
            ),
            ("Fit four M8 x 40 bolts (site supply).", 0),
            ("Fit four M8 x 40 bolts (not included).", 0),
        ] {
            let told = usage(&sentence(text, Notation::default()), text);
            assert_eq!(told.doubts.len(), doubts, "{text}");
            assert_eq!(told.usage.is_some(), doubts == 0, "{text}");
        }
    }

    #[test]
    fn what_becomes_of_items_by_a_word_that_is_not_known_is_asked() {
        #[track_caller]
        fn case(text: &str, word: Option<&str>) {
            let said = sentence(text, Notation::default());
            let told = usage(&said, text);
            let doubts: Vec<String> = told.doubts.iter().map(ToString::to_string).collect();
            let asked = word
                .map(|word| format!("\"{word}\" is not understood: the items are taken as needed"));
            assert_eq!(doubts, Vec::from_iter(asked), "{text}");
        }
        for (text, word) in [
            ("Four M8 x 40 bolts came with Stage 1.", "came"),
            ("Four M8 x 40 bolts are admired.", "admired"),
            ("Four M8 x 40 bolts are counted first.", "counted"),
            ("Four M8 x 40 bolts await the roof.", "await"),
            ("Measure four M8 x 40 bolts.", "Measure"),
            ("Zorb the plate with four M8 x 40 bolts.", "Zorb"),
            ("Fit four M8 x 40 bolts where frobbed.", "frobbed"),
            ("Fit four M8 x 40 bolts zorbwise.", "zorbwise"),
            (
                "The crew brings four M8 x 40 bolts, which were zorbed.",
                "zorbed",
            ),
        ] {
            case(text, Some(word));
        }
        for text in [
            "Gusset plates take four M8 x 40 bolts.",
            "The zorb plate is held by four M8 x 40 bolts.",
            "Fasten zorbs to the plate with four M8 x 40 bolts.",
            "Zorb plate: four M8 x 40 bolts.",
            "At the zorb, four M8 x 40 bolts go through the plate.",
            "Fit four M8 x 40 bolts to the zorb and tighten them evenly.",
            "Where the rails meet the zorb, use four M8 x 40 bolts.",
            "Four M8 x 40 bolts join the zorb to the left upper plate.",
        ] {
            case(text, None);
        }
    }
}
