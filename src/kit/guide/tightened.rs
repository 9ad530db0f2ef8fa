//! What the torque of a sentence is for: by kind, size and number, by place, by stage, or all that there is.

use std::{ops::Range, sync::LazyLock};

use regex::Regex;

use super::{Asked, telling::words};
use crate::{
    Doubt,
    hardware::{Diameter, Item, Kind, Style},
    notation::{Call, Callout, Naming, Notation, Quantity, Sentence, describe},
    words::pattern,
};

/// What a sentence says of a torque.
#[derive(Debug, Clone)]
pub struct ToldTorque {
    pub torque: String,
    pub sized: Option<Diameter>,
    /// The hardware that it names.
    named: Vec<Callout>,
    /// Of all in the stage.
    pub of_all: bool,
    /// Of two joints: `Torque both to 20 N·m.`
    pub of_both: bool,
    /// Of all, when other work is done: where no stage follows, that of those before it may be meant, too.
    pub at_the_end: bool,
    /// The words by which it names one joint of several: a place, an order.
    pub place: Vec<String>,
    /// Words of what is tightened, which may be a joint's: `Torque base and top to 20 N·m.`
    pub(super) object: Vec<String>,
    /// Bolts stand beside it, so that it is of no screws into wood.
    pub of_bolts: bool,
    /// The numbers of stages that it names.
    pub stages: Vec<String>,
    pub doubt: Option<Doubt>,
    /// Its sentence, to be kept word for word where nothing is of it.
    pub aside: Asked,
}

/// A torque, its size, and what it names of how many: told twice, it says no more.
pub(super) type TorqueKey = (String, Option<Diameter>, Vec<(Item, Option<Quantity>)>);

impl ToldTorque {
    pub(super) fn key(&self) -> TorqueKey {
        let named = self.named.iter();
        let named = named.map(|callout| (callout.item.clone(), callout.quantity));
        (self.torque.clone(), self.sized, named.collect())
    }

    /// What a sentence says of its `i`th torque. `known`: the hardware that it names as there.
    pub(super) fn of(
        said: &Sentence,
        i: usize,
        known: &[Call],
        aside: &Asked,
        notation: Notation,
    ) -> ToldTorque {
        let (at, torque) = &said.torques[i];
        let text = without_torques(said);
        let next = said.torques.get(i + 1).map_or(text.len(), |(at, _)| *at);
        let from = match i.checked_sub(1).map(|last| &said.torques[last]) {
            Some((at, torque)) => at + torque.len(),
            None => 0,
        };
        // `the 1/2 in to 45 ft-lb`, `45 ft-lb (1/2 in)`
        let first = said.torques[0].0;
        let beside = |at: Range<usize>| size_in(text.get(at)?, notation);
        let named_in = |at: &Range<usize>| known.iter().any(|call| at.contains(&call.at.start));
        let stands_behind = beside(0..first).is_none() && !named_in(&(0..first));
        let own = match stands_behind {
            true => at + torque.len()..next,
            false => from..*at,
        };
        let named = named_for(&text, &own, *at, known);
        let sized = named
            .iter()
            .rev()
            .find_map(|callout| callout.item.diameter)
            .or_else(|| beside(own.clone()));
        let words = match said.torques.len() {
            1 => text.as_str(),
            _ => text.get(own).unwrap_or_default(),
        };
        let all = is_of_all(&aside.text);
        ToldTorque {
            torque: torque.clone(),
            sized,
            of_all: sized.is_none() && all,
            of_both: sized.is_none() && is_of_both(&aside.text),
            at_the_end: all && is_at_the_end(&aside.text),
            place: place(words, notation),
            object: object(
                text.get(from..*at).unwrap_or_default(),
                text.get(at + torque.len()..next).unwrap_or_default(),
            ),
            of_bolts: false,
            stages: stages(&text, said.torques.last().map_or(*at, |(last, _)| *last)),
            named,
            doubt: said.torque_doubt.clone(),
            aside: aside.clone(),
        }
    }

    /// True where something is to be tightened: not `a torque wrench of 20 to 100 N·m`.
    pub fn tightens(&self) -> bool {
        static TIGHTENS: LazyLock<Regex> = LazyLock::new(|| {
            pattern(
                r"(?i)^\W*(?:(?:now|then|finally) )?(?:re-?)?(?:torque|tighten|snug|nip)\b[^.]*|\b(?:torqued|tightened|(?:torque|tighten|snug|nip) (?:up )?(?:all|every|everything|each|both|the|them|it))\b",
            )
        });
        let found = TIGHTENS.find(&self.aside.text);
        !self.named.is_empty()
            || found.is_some_and(|found| !found.as_str().to_lowercase().contains("wrench"))
    }

    /// True where it names hardware of this kind, or none. `pieces`: how many there are, at a place and in all.
    pub fn names(&self, item: &Item, pieces: Option<[u64; 2]>) -> bool {
        let as_many = |named: &Callout| match (named.quantity, pieces) {
            (Some(named), Some(there)) => there.contains(&named.pieces),
            _ => true,
        };
        let named = |named: &Callout| is_named(&named.item, item) && as_many(named);
        self.named.is_empty() || self.named.iter().any(named)
    }

    /// True where a size stands in a row of them: `Torques: M8 20 N·m; M12 60 N·m.`
    pub fn is_of_table(&self) -> bool {
        static TABLE: LazyLock<Regex> = LazyLock::new(|| {
            pattern(
                r"(?i)^\W*(?:(?:tightening )?torques|(?:tightening )?torque (?:values?|table|settings?|figures?|chart))\b",
            )
        });
        self.sized.is_some() && TABLE.is_match(&self.aside.text)
    }

    /// True where it names no hardware.
    pub fn is_bare(&self) -> bool {
        self.named.is_empty()
    }

    /// True where it names nuts and washers alone.
    pub fn names_small(&self) -> bool {
        let small = |named: &Callout| named.item.kind.is_some_and(Kind::is_small);
        self.named.iter().all(small)
    }

    /// True where it names hardware of an item's kind and size, however many.
    pub fn names_by_kind(&self, item: &Item) -> bool {
        self.names(item, None)
    }

    /// True where a piece of a joint that it names takes the torque: bolts with their nuts and washers, and not the
    /// screws beside them.
    pub fn takes(&self, item: &Item) -> bool {
        let is_long = |item: &Item| item.kind.is_some_and(Kind::is_long);
        let hardware = item
            .kind
            .map_or(item.diameter.is_some(), |kind| kind != Kind::Part);
        let sized = self.sized.is_none_or(|size| item.diameter == Some(size));
        let names_long = self.named.iter().any(|named| is_long(&named.item));
        let is_other = names_long && is_long(item) && !self.names(item, None);
        let in_wood = self.of_bolts && is_in_wood(item);
        hardware && sized && !is_other && !in_wood
    }

    /// True where it names neither hardware nor size, so that screws into wood would take it, too.
    pub fn is_of_any(&self) -> bool {
        self.is_bare() && self.sized.is_none()
    }

    /// The order in which several torques are said of joints: `The former to 20 N·m, the latter to 40 N·m.`; not of one joint's
    /// steps: `first to 20 N·m, then to 40 N·m`.
    pub(super) fn in_turn(&self) -> Option<Turn> {
        static TURN: LazyLock<Regex> = LazyLock::new(|| {
            pattern(
                r"(?i)\b(?:respectively|former|latter|the (?:first|second|others?|rest|remaining))\b",
            )
        });
        static STEPS: LazyLock<Regex> = LazyLock::new(|| {
            pattern(r"(?i)\b(?:then|again|finally|afterwards|pass(?:es)?|steps?|rounds?|times?)\b")
        });
        let text = &self.aside.text;
        let found = TURN.find(text).filter(|_| !STEPS.is_match(text))?;
        Some(match found.as_str().eq_ignore_ascii_case("latter") {
            true => Turn::Backward,
            false => Turn::Forward,
        })
    }

    /// True where it is said of every one of so many joints that its words name: `both rails`, `all hinges`.
    pub(super) fn is_of_each(&self, joints: usize) -> bool {
        let says = |known: &[&str]| words(&self.aside.text).any(|word| known.contains(&&*word));
        says(&["all", "each", "every"]) || (joints == 2 && says(&["both"]))
    }

    /// Of all pieces of the kinds that it names, however many.
    pub(super) fn of_all_pieces(&mut self) {
        self.of_all = true;
        for named in &mut self.named {
            named.quantity = None;
        }
    }

    /// How many pieces it names.
    pub(super) fn pieces(&self) -> Option<u64> {
        let pieces = self.named.iter().map(|named| Some(named.quantity?.pieces));
        pieces.sum::<Option<u64>>().filter(|pieces| *pieces > 0)
    }
}

/// The order in which joints stand for several torques.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Turn {
    Forward,
    Backward,
}

/// True for what a torque of bolts is of.
pub fn is_bolt(item: &Item) -> bool {
    item.kind.is_some_and(Kind::is_long) && item.diameter.is_some() && !is_in_wood(item)
}

/// True for screws that cut their own thread, which take no torque of a bolt's (common practice, no source).
fn is_in_wood(item: &Item) -> bool {
    let wooden = [
        Style::Wood,
        Style::Deck,
        Style::Bugle,
        Style::SelfDrilling,
        Style::SheetMetal,
    ];
    item.kind == Some(Kind::Screw) && item.style.is_some_and(|style| wooden.contains(&style))
}

/// True where words name an item, as far as they say which; a bolt of no style is a hex bolt.
fn is_named(named: &Item, item: &Item) -> bool {
    let hex = |item: &Item| item.style.unwrap_or(Style::Hex);
    named.kind == item.kind
        && (named.diameter.is_none() || named.diameter == item.diameter)
        && (named.length.is_none() || named.length == item.length)
        && (named.style.is_none() || hex(named).agrees(hex(item)))
}

/// True for words of a torque that say no more of where than `both`, `each bolt`: they ask for nothing again.
pub(super) fn names_no_place(text: &str) -> bool {
    #[rustfmt::skip]
    const SAYS: &[&str] = &[
        "torque", "tighten", "tightened", "torqued", "get", "take", "are", "is", "be", "must", "should", "need", "to", "at",
        "for", "with", "them", "now", "then", "finally", "washer", "they", "values", "tightening", "have",
    ];
    words(text).all(|word| PLAIN.contains(&&*word) || SAYS.contains(&&*word))
}

/// A sentence with its torques blanked.
pub(super) fn without_torques(said: &Sentence) -> String {
    let mut text = said.text.clone();
    for (at, torque) in &said.torques {
        let range = *at..(at + torque.len()).min(text.len());
        if text.get(range.clone()).is_some() {
            text.replace_range(range.clone(), &" ".repeat(range.len()));
        }
    }
    text
}

/// The hardware that a torque is of: the nearest in front of it, with what `and` joins to it; else the first behind.
fn named_for(text: &str, own: &Range<usize>, torque: usize, known: &[Call]) -> Vec<Callout> {
    const JOINS: [&str; 7] = ["and", ",", "&", "and the", "and their", "with", "or"];
    // `not more than 5 N·m on the screws`
    let only = known.iter().all(|call| call.naming == Naming::Not);
    let there = |call: &&Call| only || call.naming != Naming::Not;
    let all: Vec<&Call> = known.iter().filter(there).collect();
    let nearest = match own.start > torque {
        true => all.iter().position(|call| own.contains(&call.at.start)),
        false => all.iter().rposition(|call| own.contains(&call.at.start)),
    };
    let nearest = nearest.or_else(|| all.iter().rposition(|call| call.at.start < torque));
    let Some(last) = nearest.or(if all.is_empty() { None } else { Some(0) }) else {
        return Vec::new();
    };
    let joined = |i: usize| {
        let between = text.get(all[i].at.end..all[i + 1].at.start);
        between.is_some_and(|between| JOINS.contains(&between.trim()))
    };
    let mut first = last;
    while first > 0 && joined(first - 1) {
        first -= 1;
    }
    let mut end = last + 1;
    while own.start > torque && end < all.len() && joined(end - 1) {
        end += 1;
    }
    all[first..end]
        .iter()
        .map(|call| call.callout.clone())
        .collect()
}

/// The numbers of the stages that words name: `stages 1 and 2`; not those in which it is done: `until Stage 6`, and behind
/// the torque `in Stage 6`.
fn stages(text: &str, torque: usize) -> Vec<String> {
    static STAGES: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) \b (?: (?P<until> until | till | before ) \s+ | (?P<then> in | at | during | with | after ) \s+ )? (?: stage | step | section ) s? \s+ (?P<all> \d+ [a-z]? (?: \s* (?: , | and | & ) \s* \d+ [a-z]? )* ) \b",
        )
    });
    let of = |found: regex::Captures| -> Vec<String> {
        let words = found["all"].split(|c: char| !c.is_ascii_alphanumeric());
        let numbers = words.filter(|word| word.starts_with(|c: char| c.is_ascii_digit()));
        numbers.map(str::to_owned).collect()
    };
    let is_when = |found: &regex::Captures| {
        let behind = found.get(0).is_some_and(|at| at.start() > torque);
        found.name("until").is_some() || (behind && found.name("then").is_some())
    };
    let found = STAGES.captures_iter(text);
    found.filter(|found| !is_when(found)).flat_map(of).collect()
}

/// The words of what is tightened, in front of a torque and behind it: between the verb and the torque, else all in
/// front, and a place right behind.
fn object(front: &str, behind: &str) -> Vec<String> {
    static VERB: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)\b(?:re-?)?(?:tighten|torque|nip|snug|do|run|draw|pull|bring)(?: up| down)?\s",
        )
    });
    let verb = VERB.find_iter(front).last();
    let front = verb.map_or(front, |verb| &front[verb.end()..]);
    let behind = behind.trim_start();
    let is_place = ["at ", "on ", "in ", "for "]
        .iter()
        .any(|place| behind.starts_with(place));
    let end = behind.find([',', ';', '.']).filter(|_| is_place);
    words(front)
        .chain(words(&behind[..end.unwrap_or_default()]))
        .collect()
}

/// Words that tell no joint of a stage apart.
#[rustfmt::skip]
const PLAIN: &[&str] = &[
    "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "twelve", "same", "new", "the", "all", "each",
    "every", "both", "this", "these", "stage", "step", "section", "side", "end", "joint", "hardware", "fixing",
    "fastener", "connection", "assembly", "bolt", "nut", "screw", "lot", "pair", "set", "and", "of", "head", "size", "up",
];

/// Words that no name of a joint holds, so that others stand before them.
#[rustfmt::skip]
const NO_NAME: &[&str] = &[
    "a", "an", "tighten", "torque", "is", "are", "then", "with", "while", "until", "using", "turn", "sequence", "order",
    "pattern", "hold", "to", "its", "their", "it", "them", "finger", "hand", "turns", "pairs", "holding",
];

/// The words by which a sentence names one joint of its stage: `the foot bolts`, `the nuts at the shoe`, `the first two`.
fn place(text: &str, notation: Notation) -> Vec<String> {
    static PLACE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) \b (?: the | all | every | each | both ) \s+ (?P<before> (?: [a-z'-]+ \s+ ){1,3}? ) (?P<noun> bolt | screw | nut | stud | rod | anchor ) s? \b
                  (?: \s+ (?: at | on | in | of | through | along | under | behind | from ) \s+ (?P<also> [a-z-]+ (?: \s+ [a-z-]+ )? ) )?
              | \b (?: bolt | screw | nut | stud | rod | anchor ) s? \s+ (?: (?: at | on | in | of | through | along | under | behind | from ) \s+ (?P<behind> [a-z-]+ (?: \s+ [a-z-]+ )? )
                  | (?P<late> fitted | installed | placed | put | used | left | so \s+ far | above | already ) \b )
              | \b (?: tighten | torque | nip | snug )\w* \s+ (?: (?: up | down ) \s+ )? (?: the | each | every | both | all ) \s+ (?P<object> [a-z-]+ (?: \s+ [a-z-]+ )? ) \s+ (?: to | until | $ )
              | \b (?: go | work ) \s+ (?: round | around | over | along | back \s+ to ) \s+ (?P<round> [a-z-]+ (?: \s+ [a-z-]+ )? )
              | \b the \s+ (?P<order> first | last | other | remaining | rest | former | latter ) \b",
        )
    });
    let mut place = Vec::new();
    for found in PLACE.captures_iter(text) {
        let noun = found.name("noun").map_or("bolt", |noun| noun.as_str());
        for group in [
            "before", "also", "behind", "late", "object", "round", "order",
        ] {
            let Some(words) = found.name(group) else {
                continue;
            };
            let words = words.as_str().to_lowercase();
            let words: Vec<&str> = words.split_whitespace().collect();
            let plain = match words.iter().position(|word| NO_NAME.contains(word)) {
                // `bolts in the web evenly to`, `the frame and tighten bolts`
                Some(at) if group != "before" => &words[..at],
                Some(_) => &[],
                None => &words[..],
            };
            let named = plain.iter().filter(|word| !PLAIN.contains(word));
            let named = named.map(|word| stem(word));
            let named = named.filter(|word| !PLAIN.contains(&&**word));
            place.extend(named.filter(|word| !is_of_item(word, noun, notation)));
        }
    }
    place
}

/// True where a word tells which bolt it is by itself: `carriage`, `galvanised`.
fn is_of_item(word: &str, noun: &str, notation: Notation) -> bool {
    let tells = |text: &str| {
        let item = describe(text, notation).ok()?.pop()?.item;
        Some((
            item.kind,
            item.style,
            item.head,
            item.grade,
            item.finish,
            item.full_thread,
        ))
    };
    tells(&format!("{word} {noun}")) != tells(noun)
}

/// A word whether of one or of several.
pub(super) fn stem(word: &str) -> String {
    let word = word.to_lowercase();
    match word.as_str() {
        "feet" => "foot".to_owned(),
        _ => word.strip_suffix('s').unwrap_or(&word).to_owned(),
    }
}

/// True where a sentence tightens all that its stage holds: `Torque everything`, `both sizes`; not `all four bolts`.
fn is_of_all(text: &str) -> bool {
    static ALL: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) \b (?: (?: everything | all (?: \s+ of \s+ (?: it | them | these | those ) )? | (?: all | every | each | both ) \s+ (?: of \s+ )? (?: the \s+ | these \s+ | other \s+ )?
                  (?: hardware | sizes? | sets? | kinds? | types? | groups? | lots? | fasteners? | fixings? | joints? | connections? | bolts? | screws? | nuts? | (?: bolts | nuts ) \s+ and \s+ (?: bolts | nuts ) ) )
                (?: \s+ (?: in | of | on ) \s+ (?: this | the ) \s+ (?: stage | step | section ) )? (?: \s+ | \s* [:,] \s* )
                (?: to | with \s+ \d+ | hand | finger | snug | firmly | fully | evenly | up | now | at | until | get | gets | take | takes | \d+
                  | (?: (?: is | are | must | should | shall | be | now | then | all ) \s+ )* (?: (?: re )? (?: torqued | tightened ) | done | snugged | nipped | taken | brought )
                  | (?: (?: is | are | must | should | shall | be ) \s+ )+ (?: at | to | hand | finger | snug | \d+ ) )
              | (?: all | every | each ) \s+ (?: of \s+ )? (?: the \s+ | these \s+ )? (?: bolts? | screws? | nuts? | joints? | fasteners? ) \s+ \d+
              | (?: in | of | for ) \s+ this \s+ (?: stage | step | section ) | throughout ) \b",
        )
    });
    ALL.is_match(text)
}

/// True for `both to 20 N·m`, and no noun: of two joints, whichever they are.
fn is_of_both(text: &str) -> bool {
    static BOTH: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?i)\bboth(?: of (?:them|these))?,? (?:up )?(?:to|with|at|until|are|must|should|shall|get|take|hand|finger|snug|\d+)\b",
        )
    });
    BOTH.is_match(text)
}

/// True where a sentence is of what is done when other work is, and not of its own stage alone: `Once the roof is on`,
/// `Finally`.
fn is_at_the_end(text: &str) -> bool {
    static END: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) ^ \W* (?: final(?:ly)? | lastly | last \s+ of \s+ all | to \s+ finish | (?: at | in ) \s+ the \s+ end | as \s+ the \s+ last ) \b
              | \b (?: once | when | after | now \s+ that | as \s+ soon \s+ as ) \s+ [^,.]* \b (?: is | are | has | have | stands? ) \b
              | \b with \s+ (?: the | all | everything ) \s+ [^,.]* (?: on | up | in | place | square | complete | done | built ) ,
              | \b go(?:ing)? \s+ (?: round | around | over | back )",
        )
    });
    static HERE: LazyLock<Regex> =
        LazyLock::new(|| pattern(r"(?i)\bth(?:is|e) (?:stage|step|section)\b"));
    END.is_match(text) && !HERE.is_match(text)
}

/// The last size that words name without a noun.
fn size_in(words: &str, notation: Notation) -> Option<Diameter> {
    let words = words.split_whitespace().rev();
    let bare = words.map(|word| word.trim_matches(|c: char| !c.is_alphanumeric() && c != '#'));
    let sized = bare.filter(|word| word.contains(|c: char| c.is_ascii_digit()));
    // `the M8s`
    let sized = sized.map(|word| word.strip_suffix('s').unwrap_or(word));
    let read = |word: &str| describe(&format!("{word} bolt"), notation).ok()?.pop();
    sized.filter_map(|word| read(word)?.item.diameter).next()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_that_name_a_joint() {
        #[track_caller]
        fn case(text: &str, expected: &[&str]) {
            assert_eq!(place(text, Notation::default()), expected, "{text}");
        }
        case("Torque the foot bolts to ", &["foot"]);
        case("Tighten the bolts at the foot to ", &["foot"]);
        case("Tighten the bolts fitted so far to ", &["fitted"]);
        case("Tighten the first two to ", &["first"]);
        case("Torque the strap to ", &["strap"]);
        case("Go round all feet and torque to ", &["foot"]);
        case("Tighten the carriage bolts to ", &[]);
        case("Tighten the two bolts to ", &[]);
        case("Tighten the bolts in a star pattern to ", &[]);
        case("Square the frame and tighten bolts to ", &[]);
        case("Torque all hardware in this stage to ", &[]);
        case("Nip the bolts up to ", &[]);
        case("Tighten to ", &[]);
    }

    #[test]
    fn stages_that_are_named() {
        let none: [&str; 0] = [];
        for (text, expected) in [
            ("Tighten the bolts of stages 1 and 2 to |", &["1", "2"][..]),
            ("go back to Stage 4B and tighten to |", &["4B"]),
            ("Tighten the bolts in Stage 2 to |", &["2"]),
            ("Leave them | until Stage 6", &none),
            ("Tighten to | in Stage 6", &none),
            ("Until Stage 6 they stay |", &none),
        ] {
            let torque = text.find('|').unwrap_or_default();
            assert_eq!(stages(text, torque), expected, "{text}");
        }
    }
}
