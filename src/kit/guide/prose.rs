//! What is prose in a text, and what a line of a list.

use std::sync::LazyLock;

use regex::Regex;

use crate::{
    hardware::Kind,
    notation::{Callout, Notation, describe, number_in_words},
    words::pattern,
};

/// What a guide tells its reader to do, in lower case. Words that are hardware too are verbs only
/// in front of [`OBJECTS`].
#[rustfmt::skip]
pub(super) const VERBS: &[&str] = &[
    "fasten", "attach", "secure", "fit", "install", "fix", "insert", "place", "tighten", "torque",
    "remove", "repeat", "use", "using", "connect", "join", "assemble", "mount", "drive", "slide",
    "hang", "lay", "push", "thread", "lower", "lift", "raise", "loosen", "discard", "keep", "check",
    "make", "take", "put", "run", "start", "add", "position", "align", "hold", "leave", "bring",
    "apply", "retighten", "drill", "set", "snug", "do", "stand", "turn", "clamp", "throw", "same",
    "pass", "drop", "work", "finish", "begin", "locate", "rest", "level", "plumb", "brace", "suspend",
    "close", "support", "pull", "hand-tighten", "finger-tighten", "refit", "reuse", "reinstall",
    "replace", "mirror", "sandwich", "stack", "slip", "dig", "mix", "pre-drill", "predrill", "re-use",
    "you", "grab", "get", "feed", "pick", "cut", "saw", "unscrew", "unbolt", "build", "please", "inspect",
    "re-torque", "retorque", "recheck", "re-check", "look", "stretch", "pour", "nail", "through-bolt",
    "sit", "spread", "give", "offer", "ease", "flip", "rotate", "measure", "unpack", "find", "collect",
    "gather", "choose", "select", "move", "go", "buy", "purchase", "obtain", "provide", "torques", "nip", "swap", "exchange", "undo", "retain", "dispose",
    "carry", "perform",
];

/// Forms that say what a thing does or has.
#[rustfmt::skip]
pub(super) const SAYS: &[&str] = &[
    "is", "are", "takes", "take", "gets", "needs", "need", "requires", "comes", "come", "holds", "hold",
    "goes", "go", "carries", "has", "have", "held", "fastened", "fixed", "secured", "attached",
    "bolted", "fitted", "be", "will", "may", "must", "shall", "shows", "show", "stay", "stays", "stands",
    "arrives", "receive", "receives", "want", "wants", "pivots", "hangs", "rests", "consists", "joined",
    "connected", "supplies", "provides", "stay", "remain", "remains",
];

/// First words of a label by which what stands behind its colon is for a place: `For the ramp: ...`.
pub(super) const PLACING: &[&str] = &[
    "for", "at", "on", "in", "each", "every", "both", "per", "all",
];

/// First words of a label that is a place by itself: `Left arm: two bolts`.
#[rustfmt::skip]
const SIDES: &[&str] = &[
    "left", "right", "front", "rear", "back", "top", "bottom", "upper", "lower", "north", "south", "east",
    "west", "near", "far", "inner", "outer",
];

/// Words of a label that says no more than that hardware follows: `You will need, for this step: ...` (common practice,
/// no source).
#[rustfmt::skip]
const ANNOUNCING: &[&str] = &[
    "hardware", "fasteners", "fixings", "fittings", "parts", "items", "materials", "pieces", "components", "contents",
    "needed", "required", "need", "necessary", "requires", "needs", "you", "we", "will", "for", "this", "the", "these",
    "following", "step", "stage", "section", "here", "now", "list", "of", "use", "used", "what", "are", "is", "to", "complete",
    "have", "ready",
];

/// Words of such labels that alone say nothing of hardware, nor of the stage that it is for.
#[rustfmt::skip]
const FILLING: &[&str] = &[
    "you", "we", "will", "for", "this", "the", "these", "following", "here", "now", "list", "of", "what", "are", "is", "to",
    "complete", "have",
];

/// True where a label says no more than that hardware of its stage follows.
pub(super) fn announces(label: &str) -> bool {
    let is = |known: &[&str], word: &str| known.contains(&word);
    let label: Vec<String> = words(label).collect();
    // `Stage 2 requires`
    let numbers = |word: &str| word.len() < 3 && word.bytes().all(|b| b.is_ascii_digit());
    let of_stage = |at: usize| at > 0 && is(&["step", "stage", "section"], &label[at - 1]);
    let known =
        |(at, word): (usize, &String)| is(ANNOUNCING, word) || (of_stage(at) && numbers(word));
    label.iter().any(|word| !is(FILLING, word)) && label.iter().enumerate().all(known)
}

#[rustfmt::skip]
pub(super) const NOUN_VERBS: &[&str] = &[
    "bolt", "screw", "pin", "nail", "lag", "anchor", "rivet", "nut",
];

/// Things too: verbs where they open a line and a count, an object or a particle stands behind.
#[rustfmt::skip]
const THING_VERBS: &[&str] = &[
    "bin", "scrap", "slacken", "ditch", "tap", "press", "clip", "hook", "tie", "plug", "snap", "spin", "lock", "hammer", "seat",
];

const PARTICLES: &[&str] = &["in", "on", "down", "into", "onto", "up", "together"];

#[rustfmt::skip]
pub(super) const COUNTS: &[&str] = &[
    "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "sixteen",
    "twenty",
];

#[rustfmt::skip]
pub(super) const OBJECTS: &[&str] = &[
    "the", "each", "both", "every", "it", "them", "this", "these", "those", "all", "one", "a", "an",
];

const EACH: &[&str] = &["each", "every", "per", "apiece"];

/// The words of a text in lower case, without the signs around them, nor what is drawn together behind: `you` of
/// `You'll`.
pub(super) fn words(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split_whitespace()
        .map(|word| {
            let word = word.trim_matches(|c: char| !c.is_alphanumeric());
            let drawn = word.split_once(['\'', '\u{2019}']);
            let drawn = drawn.filter(|(_, behind)| ["ll", "re", "ve", "d"].contains(behind));
            drawn.map_or(word, |(word, _)| word).to_ascii_lowercase()
        })
        .filter(|word| !word.is_empty())
}

/// True where a line of text begins a sentence of prose rather than a list's line. A list's line
/// begins with its count, or names no action.
pub fn is_prose(text: &str) -> bool {
    begins_prose(text, MOST_LABELS)
}

/// Labels and counted things in front of a sentence: `Left side: top: fit two bolts.`
const MOST_LABELS: usize = 16;

/// The same, behind so many labels at most.
fn begins_prose(text: &str, labels: usize) -> bool {
    // `22 planks. Fit two bolts at each end of every plank.`
    if let Some((counted, rest)) = text.split_once(". ")
        && counted.starts_with(|c: char| c.is_ascii_digit())
        && counts_things(counted)
    {
        return labels > 0 && begins_prose(rest.trim_start(), labels - 1);
    }
    // `6 pcs. hexagon bolts with nuts are to be put in the flange.`
    let passive = text.trim_end().ends_with('.')
        && [" are to be ", " is to be "]
            .iter()
            .any(|is| text.contains(is));
    if passive {
        return true;
    }
    if !text.starts_with(|c: char| c.is_alphabetic() || c == '"' || c == '(') {
        return false;
    }
    let words: Vec<String> = words(text).collect();
    if is_left_open(&words) {
        return true;
    }
    if words.len() < 3 || ends_in_count(text) {
        return false;
    }
    // `Left side: fit two bolts.`
    if let Some((label, rest)) = text.split_once(": ")
        && !label.contains(|c: char| c.is_ascii_digit())
        && labels > 0
        && begins_prose(rest.trim_start(), labels - 1)
    {
        return true;
    }
    if is_labelled(text) {
        return true;
    }
    let is = |known: &[&str], word: &String| known.contains(&word.as_str());
    let leads = ["now", "then", "next", "finally", "to", "first"];
    let lead = usize::from(is(&leads, &words[0]));
    let (first, second) = (&words[lead], &words[lead + 1]);
    // `Bolt the cleats`, `Bolt down the cleats`
    let noun_verb = words
        .windows(2)
        .any(|pair| is(NOUN_VERBS, &pair[0]) && is(OBJECTS, &pair[1]))
        || (is(NOUN_VERBS, first)
            && is(PARTICLES, &words[1])
            && (is(OBJECTS, &words[2]) || is(COUNTS, &words[2])))
        || (is(NOUN_VERBS, first) && is(COUNTS, second));
    // `Set screw`, `Thread rod`, `Drive pin` begin a list's line too.
    let hardware_next = [
        "screw", "screws", "rod", "rods", "pin", "pins", "bolt", "bolts", "anchor", "anchors",
        "nut", "nuts", "washer", "washers", "eye", "eyes", "hook", "hooks",
    ]
    .contains(&words[1].as_str());
    let behind = [OBJECTS, PARTICLES, COUNTS];
    let begins_with_thing = is(THING_VERBS, first)
        && (behind.iter().any(|known| is(known, second)) || second.starts_with("twenty-"));
    let closed = text.trim_end().ends_with(['.', '!', ':']);
    // `Tightening torques: M8 20 N·m; M12 60 N·m.`
    let torques = second == "torques" && first == "tightening";
    // `Wax the bolts.`, whatever the verb.
    let does = closed
        && text.starts_with(char::is_uppercase)
        && !first.ends_with('s')
        && number_in_words(first).is_none()
        && (is(OBJECTS, second) || is(COUNTS, second));
    let acts = torques || does || (is(VERBS, first) && !hardware_next) || begins_with_thing;
    let tells = words
        .iter()
        .any(|w| is(OBJECTS, w) || w == "with" || w == "through")
        && words
            .iter()
            .any(|w| is(VERBS, w) || is(SAYS, w) || (closed && says(w)));
    // Whatever the verb: `Close the deck with`.
    let names = ["hex", "carriage", "lag", "flat", "lock", "machine", "wood"];
    let is_item = names.contains(&first.as_str())
        || NOUN_VERBS.contains(&first.trim_end_matches('s'))
        || first.starts_with("washer");
    let joins = words.len() > 5
        && !is_item
        && words.iter().any(|w| is(OBJECTS, w))
        && words.iter().any(|w| w == "with" || w == "using");
    // `Bolt post 2 to the bracket with`
    let noun_verb = noun_verb
        || is(NOUN_VERBS, first)
            && !hardware_next
            && words.iter().any(|w| w == "to" || is(EACH, w))
            && words.iter().any(|w| w == "with" || w == "using");
    // `There are four sleeves.`
    let counts = closed && words[0] == "there" && ["is", "are"].contains(&words[1].as_str());
    // `At posts 1 and 2 fit four bolts.`
    let of_each = words
        .windows(2)
        .any(|pair| pair[0] == "each" && pair[1] == "of");
    let places = closed && (of_each || is(PLACING, first)) && words.iter().any(|w| is(VERBS, w));
    // `Bolt brackets to posts, 1/2 x 5 hex bolts, 2 per post.`: lists have no such words and no stop.
    let multiplies_all = text.trim_end().ends_with('.')
        && words.len() > 5
        && !is_item
        && words.iter().any(|w| is(EACH, w));
    // `Through each of the four`, and more on the next line
    let begins_place =
        ["through", "at", "on", "in", "to", "into"].contains(&words[0].as_str()) && of_each;
    noun_verb
        || counts
        || acts
        || joins
        || places
        || multiplies_all
        || begins_place
        || (closed && multiplies(&words))
        || (tells && (closed || words.len() > 5))
}

/// True for a sentence that begins with its count: it has a stop, counts nothing but hardware, and says more than a
/// list's line, or names pieces of one joint: `Two 1/2 x 4 bolts are already fitted.`, `Three 1/2 x 4 bolts, two nuts.`
pub(super) fn counts_hardware(text: &str) -> bool {
    if !text.trim_end().ends_with('.') {
        return false;
    }
    // Not `2x`, as lists count.
    let first = words(text).next().unwrap_or_default();
    let figure = first.bytes().all(|b| b.is_ascii_digit());
    if !(figure || first == "one" || COUNTS.contains(&&*first)) {
        return false;
    }
    let read = describe(text, Notation::default()).unwrap_or_default();
    let is_hardware = |callout: &Callout| !matches!(callout.item.kind, None | Some(Kind::Part));
    let is_known = |known: &[&str], word: String| known.contains(&&*word);
    let more = read.len() > 1
        || read.iter().any(|callout| !callout.doubts.is_empty())
        || words(text).any(|word| is_known(VERBS, word.clone()) || is_known(SAYS, word));
    !read.is_empty() && read.iter().all(is_hardware) && more
}

/// `Fit two`, `Through each of the`: no list's line ends so.
fn is_left_open(words: &[String]) -> bool {
    let [first, .., last] = words else {
        return false;
    };
    let is = |known: &[&str], word: &str| known.contains(&word);
    (is(VERBS, first) && is(COUNTS, last)) || is(&["the", "a", "an", "of", "with", "using"], last)
}

/// `fixes`, `joins`: what one thing does.
fn says(word: &str) -> bool {
    let stem = |end| word.strip_suffix(end).unwrap_or_default();
    VERBS.contains(&stem("s")) || VERBS.contains(&stem("es"))
}

/// `22 planks`: a number and one or two plain words, of which none is the trade's.
fn counts_things(text: &str) -> bool {
    let mut words = text.split(' ');
    let number = words
        .next()
        .is_some_and(|word| word.bytes().all(|b| b.is_ascii_digit()));
    let rest: Vec<&str> = words.collect();
    let plain = |word: &&str| word.len() > 2 && word.bytes().all(|b| b.is_ascii_lowercase());
    let part = || {
        describe(text, Notation::default()).is_ok_and(|read| {
            read.iter()
                .all(|callout| callout.item.kind == Some(Kind::Part))
        })
    };
    number && (1..3).contains(&rest.len()) && rest.iter().all(plain) && part()
}

/// True where a text begins with what is to be done.
pub fn acts(text: &str) -> bool {
    words(text)
        .next()
        .is_some_and(|first| VERBS.contains(&&*first))
}

/// True for a word that tells one side or end from the others.
pub fn is_side(word: &str) -> bool {
    SIDES.contains(&word)
}

/// True for a few words and, behind a mark, a bare count, as lists have them: `slide gate - 1`, `hang rails: 4`, `lower
/// rail x24`, `clamp C 24 ea`.
fn ends_in_count(text: &str) -> bool {
    const WORDS: usize = 5;
    static COUNTED: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) (?: \s [x\u{d7}] \s? \d{1,4} | [(\[] \d{1,4} (?: \s? (?: x | pcs? | off | ea ) )? [)\]]
                | [\s,] \d{1,4} \s? (?: ea | each | off | pcs? | pieces | nos? ) \.? | \s qty \.? :? \s? \d{1,4}
                | \s? [@;|] \s? \d{1,4} ) \s* $",
        )
    });
    if let Some(found) = COUNTED.find(text) {
        let before = without_mark(&text[..found.start()]);
        let is_object = |word: String| OBJECTS.contains(&word.as_str());
        return words(before).count() <= WORDS && !words(before).any(is_object);
    }
    let words_before = text
        .trim_end()
        .trim_end_matches(|c: char| c.is_ascii_digit());
    let marks = [" - ", ": ", " \u{2013} ", " x ", " = "];
    let few = words(words_before).count() <= WORDS;
    let is_object = |word: String| OBJECTS.contains(&word.as_str());
    words_before.len() < text.trim_end().len()
        && marks.iter().any(|mark| words_before.ends_with(mark))
        && few
        && !words(without_mark(words_before)).any(is_object)
}

/// Words without the letter of a piece behind them: `brace A -`.
fn without_mark(words: &str) -> &str {
    let words = words.trim_end_matches(|c: char| !c.is_alphanumeric());
    match words.rsplit_once(' ') {
        Some((before, mark)) if mark.len() == 1 && mark.starts_with(char::is_uppercase) => before,
        _ => words,
    }
}

/// `Three shelves, four brackets a shelf, and two screws a bracket.`: counts, and so many for each of
/// what they count.
fn multiplies(words: &[String]) -> bool {
    let per = |pair: &[String]| {
        let counted = || words.contains(&format!("{}s", pair[1]));
        ["a", "an", "per", "each", "every"].contains(&pair[0].as_str()) && counted()
    };
    COUNTS.contains(&words[0].as_str()) && words.windows(2).any(per)
}

/// `For the ramp: 5/8 x 8 hex bolts (4).`, `Hardware for this step: four 1/2 x 5 hex bolts.`
fn is_labelled(text: &str) -> bool {
    let Some((written, rest)) = text.split_once(": ") else {
        return false;
    };
    let mut label: Vec<String> = words(written).collect();
    // `First the left arm: two bolts.`
    if let [first, the, ..] = label.as_slice()
        && ["first", "then", "next", "now"].contains(&first.as_str())
        && the == "the"
    {
        label.drain(..2);
    }
    let is = |known: &[&str], word: &str| known.contains(&word);
    let first = label.first().map_or("", |first| first);
    let side = is(SIDES, first) && label.len() == 2;
    // `Tie rod: one M12 x 1000 threaded rod, four M12 nuts.`; not `Hex bolts: 4 M8 x 60.`
    let tagged = label.len() < 4
        && rest.ends_with('.')
        && rest.contains(", ")
        && words(rest)
            .next()
            .is_some_and(|word| is(COUNTS, &word) || word == "one");
    let places = (is(PLACING, first) && label.len() < 8) || side;
    let announces = label.len() > 1 && announces(written);
    let names = words(rest).any(|word| word.len() > 2);
    (places || announces || tagged) && names
}

/// A line without the number of its step, where it goes on as a sentence: `6a Repeat 5 for the back.`
pub fn without_step(text: &str) -> &str {
    let Some((number, rest)) = text.trim_start().split_once(' ') else {
        return text;
    };
    let figures = number.trim_end_matches(|c: char| c.is_ascii_lowercase());
    let letters = number.len() - figures.len();
    let is_step = figures.len() < 3
        && !figures.is_empty()
        && figures.bytes().all(|b| b.is_ascii_digit())
        && letters < 2;
    let all: Vec<String> = words(rest).collect();
    let acts = all.first().is_some_and(|word| VERBS.contains(&&**word))
        && rest.starts_with(char::is_uppercase)
        && rest.trim_end().ends_with('.');
    // `2 Support brackets` is a list's line.
    let has_object = letters == 1 || all.iter().any(|word| OBJECTS.contains(&&**word));
    match is_step && acts && has_object && is_prose(rest) {
        true => rest,
        false => text,
    }
}

/// True where a line is items with their counts and sizes, and nothing else.
fn is_whole(text: &str) -> bool {
    let read = describe(text, Notation::default()).unwrap_or_default();
    let is_whole = |callout: &Callout| {
        callout.doubts.is_empty() && callout.quantity.is_some() && callout.item.diameter.is_some()
    };
    !read.is_empty() && read.iter().all(is_whole)
}

/// True where a line begins with a figure, as a list's does, or is a whole one of a list in words (`four half inch
/// nuts`), and the line before it is no clause that a figure goes on with.
pub(super) fn begins_list(last: &str, text: &str) -> bool {
    let figure = text.trim_start().starts_with(|c: char| c.is_ascii_digit());
    let is_apart = !hangs(last, text) && !text.trim_end().ends_with('.');
    (is_apart && (figure || is_whole(text))) || ends_in_count(text)
}

/// True where a line goes on with the one before it, however short that is: in small letters, or with a figure
/// behind words that leave it open. `Fit two 1/2 x 4 hex`, and `bolts and two nuts.`
pub(super) fn runs_on(last: &str, text: &str) -> bool {
    let small = text.trim_start().starts_with(|c: char| c.is_lowercase());
    let sized = text
        .trim_start()
        .starts_with(|c: char| c.is_ascii_digit() || c == '#');
    let counted = text
        .trim_end()
        .ends_with(|c: char| c.is_ascii_digit() || c == ')');
    (small && !counted && !is_whole(text)) || goes_with(text) || (sized && hangs(last, text))
}

/// `with two 5/8 x 5 hex bolts`: what it goes with stands above.
fn goes_with(text: &str) -> bool {
    let text = text.trim_start();
    text.starts_with("with ") || text.starts_with("using ")
}

/// True where the last words of a line leave open what comes, or its first ones what came.
fn hangs(last: &str, text: &str) -> bool {
    if goes_with(text) {
        return true;
    }
    let last = last.trim_end();
    let mut ends: Vec<String> = words(last).collect();
    let word = ends.pop().unwrap_or_default();
    // `same as the last one`
    let is_pronoun = word == "one"
        && ends.last().is_some_and(|before| {
            [
                "last", "first", "other", "next", "previous", "this", "that", "each", "every",
            ]
            .contains(&before.as_str())
        });
    // `let me put the light on`, and an item behind it
    let is_particle = ["on", "in", "to", "at", "for", "from"].contains(&word.as_str());
    let is_over = is_pronoun || (is_particle && is_whole(text));
    !is_over
        && (last.ends_with([',', '-', '(', '/'])
            || [
                "with", "using", "and", "or", "of", "by", "x", "the", "a", "an", "to", "at", "on",
                "in", "for", "from", "about", "than", "use", "fit", "insert", "install", "add",
                "take", "drive", "put", "no", "one", "two", "three", "four", "five", "six",
                "seven", "eight", "nine", "ten", "twelve",
            ]
            .contains(&word.as_str()))
}
