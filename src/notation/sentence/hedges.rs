//! What makes it open how many pieces a guide's sentence calls for, and takes more than a word to tell
//! (words alone: `scope`): things by two letters; and what is said of each bolt.

use super::{
    Bolts, Call, Sentence,
    before::calls,
    multiplier::Multiplier,
    object::of_one_thing,
    rule::Rule,
    setting::THINGS,
    wording::{NUMBER, last_word, names_hardware, number, singular},
    words::Words,
};
use crate::{doubt::Doubt, hardware::Kind, notation::callout::Quantity, words::pattern};

/// `rail A and rail B`, `panels A, B and C`, `rail 1 and rail 2`
static PAIRS: Rule = Rule::new("", THINGS, || {
    let (and, letter) = (r"\s*,?\s*(?:and|&)\s+(?:the\s+)?", "(?-i:[A-Z])");
    let figure = r"\d{1,2}";
    let pairs = [
        format!(r"(?:{THINGS})s\s+{figure}(?:\s*,\s*{figure})*{and}{figure}"),
        format!(
            r"(?:{THINGS})s?\s+{letter}(?:\s*,\s*{letter})*{and}(?:(?:{THINGS})s?\s+)?{letter}"
        ),
        format!(r"(?:{THINGS})s?\s+\d{{1,2}}{and}(?:{THINGS})s?\s+\d{{1,2}}"),
    ];
    pattern(&format!(r"(?i)\b(?:{})\b", pairs.join("|")))
});

/// `one clevis pin and a split ring`: a piece of hardware by a name that no table holds, right behind an item. Common
/// practice, no source.
static NO_ITEM: Rule = Rule::new(
    "clip|ring|cotter|circlip|retainer|shackle|grommet|ferrule",
    "",
    || {
        pattern(
            r"(?ix) ^ \s* ,? \s* (?: and | with | plus ) \s+ (?P<piece> an? \s+ (?: [a-z-]+ \s+ ){0,2}?
                (?: [a-z]- )? (?: clip | ring | cotter | circlip | retainer | shackle | grommet | ferrule ) ) \s* (?: [.,;)] | $ )",
        )
    },
);

/// The doubt of a piece beside an item that was not read.
pub(super) fn no_item(words: &Words, text: &str, calls: &[Call]) -> Option<Doubt> {
    let last = calls.last().filter(|last| last.is_asked_for())?;
    let piece = NO_ITEM.captures(words, &text[last.at.end..])?;
    let words = &piece["piece"];
    Some(Doubt::HowMany(
        format!("\"{words}\" is not known as hardware: not counted").into(),
    ))
}

/// The doubt of a sentence whose items are read.
pub(super) fn hedges(words: &Words, text: &str) -> Option<Doubt> {
    let words = PAIRS.find_iter(words, text).next()?.as_str().trim();
    Some(Doubt::HowMany(
        format!("\"{words}\": the pieces may be for each or in all; taken as in all").into(),
    ))
}

/// `a pair of plates`, `two holes`: several of a thing, in front of a bare `each`.
static SEVERAL: Rule = Rule::new("pair|hole|slot", "", || {
    pattern(&format!(
        r"(?i)\b(?:a pair of (?P<noun>[a-z]+)|{NUMBER} (?:[a-z]+ )?(?:holes|slots))\b"
    ))
});

/// The doubt of an `each` behind several things at places that multiply: `Drill two holes in each of the four legs and fit a
/// bolt in each.`
pub(super) fn each_of_which(
    words: &Words,
    text: &str,
    each: usize,
    places: &[Multiplier],
) -> Option<Doubt> {
    let front = SEVERAL.captures_iter(words, &text[..each]).last()?;
    let own = front.get(0)?.range();
    let is_place = |m: &Multiplier| {
        let several = m.times.is_some_and(|times| times > 1);
        let apart = m.at < each && !own.contains(&m.at);
        several && apart && !["hole", "slot", ""].contains(&singular(&m.noun))
    };
    if !places.iter().any(is_place) {
        return None;
    }
    let noun = front.name("noun").map_or("", |noun| noun.as_str());
    if names_hardware(noun) {
        return None;
    }
    let things = &text[own];
    Some(Doubt::HowMany(
        format!("\"each\" may be each of \"{things}\": not taken so").into(),
    ))
}

/// So many for each bolt, as a sentence says it, and where.
pub(super) struct PerBolt {
    at: usize,
    words: String,
    times: u64,
    /// The words may mean something else.
    open: bool,
    /// They are said of one item alone.
    alone: bool,
}

const LONG: &[&str] = &["bolt", "screw", "rod", "stud", "anchor"];

/// A rule, how many for each bolt, and whether it is open.
type Each = (Rule, u64, bool);

static PER_BOLT: [Each; 5] = [
    (
        Rule::new("rod|rods|stud", "", || {
            pattern(
                r"(?i)\b(?:at|on|to)\s+(?:each|both|either)\s+ends?\s+of\s+(?:each|every|the|both)\s+(?:threaded\s+)?(?:rod|stud)s?\b",
            )
        }),
        2,
        false,
    ),
    (
        Rule::new("under", "", || {
            pattern(
                r"(?i)\bunder\s+(?:the\s+|each\s+)?(?:bolt\s+)?heads?\s+and\s+(?:(?:one\s+|another\s+)?under\s+)?(?:the\s+|each\s+)?nuts?\b",
            )
        }),
        2,
        false,
    ),
    (
        Rule::pair(
            "per|each|every",
            "bolt|screw|stud|rod|rods|anchor|one|ones|head|nut|nuts|eye",
            || {
                pattern(
                    r"(?i)\b(?:per|(?:on|onto|for|to|under|over|with)\s+(?:each|every))\s+(?:(?:bolt|screw)\s+head|bolt|screw|stud|rod|anchor|one|head)\b|\bunder\s+(?:each|every)\s+nut\b|(?:[,;]|\band)\s+((?:each|every)\s+(?:eye\s+)?(?:bolt|screw|stud|rod|anchor))\s+(?:with|having|gets|takes|needs|has|carries)\b",
                )
            },
        ),
        1,
        false,
    ),
    (
        Rule::pair("washer", "on|at|each|either|both", || {
            pattern(
                r"(?i)\bwashers?\s+((?:(?:on|at)\s+)?(?:each|either)\s+side|on\s+both\s+sides)\b|(?:,|\bwith|\band)\s+(?:\w+\s+)?washers?\s+(both\s+sides)\b",
            )
        }),
        2,
        true,
    ),
    (
        Rule::pair("nut|nuts|washer", "at|on|to", || {
            pattern(
                r"(?i)\b(?:nuts?|washers?)\s+((?:at|on|to)\s+(?:each|both|either)\s+(?:ends?|legs?)(?:\s+of\s+(?:each|it|them)\b)?)",
            )
        }),
        2,
        false,
    ),
];

/// What has two threaded ends, or legs: what goes on both is its own.
const TWO_ENDED: &[&str] = &["rod", "stud", "U-bolt", "u-bolt"];

/// Finds what is said of each bolt; `mask` blanks it, since it names no more items.
pub(super) fn per_bolt(
    words: &Words,
    text: &str,
    mut mask: impl FnMut(std::ops::Range<usize>),
) -> Vec<PerBolt> {
    let mut all = Vec::new();
    let of_ends = PER_BOLT.len() - 1;
    for (i, (rule, times, open)) in PER_BOLT.iter().enumerate() {
        for found in rule.captures_iter(words, text) {
            let Some(found) = found.get(1).or(found.get(2)).or(found.get(0)) else {
                continue;
            };
            // `under each head and each nut` has `under each head` in it.
            if all
                .iter()
                .any(|known: &PerBolt| known.covers(found.start()))
                // `on every one of the eight studs` states how many.
                // `For each one:` is said of what is no bolt.
                || (found.as_str().ends_with("one")
                    && [" of ", ":"].iter().any(|of| text[found.end()..].starts_with(of))
                    && !text[found.end()..].starts_with(" of them"))
                // `four screws for every one`
                || (found.as_str().ends_with("one") && !["nut", "washer"].iter().any(|small| text.contains(small)))
                // `a bolt at both ends of the rod`: what goes on a rod is a nut.
                || (i == 0 && ["bolt", "screw"].iter().any(|long| text[..found.start()].contains(long)))
                // `a nut at both ends of the rail`, or of a bolt's joint
                || (i == of_ends
                    && (text[found.end()..].starts_with(" of ")
                        || !TWO_ENDED.iter().any(|long| text[..found.start()].contains(long))))
                // `a washer on either side of the arm`, and no bolt in front of it
                || (*open
                    && of_one_thing(&text[found.end()..])
                    && !LONG.iter().any(|long| text[..found.start()].contains(long)))
            {
                continue;
            }
            all.push(PerBolt {
                at: found.start(),
                words: found.as_str().to_owned(),
                times: *times,
                open: *open,
                alone: *times > 1
                    && ![" end", " leg"]
                        .iter()
                        .any(|end| found.as_str().contains(end)),
            });
            mask(found.range());
        }
    }
    all
}

impl PerBolt {
    fn covers(&self, at: usize) -> bool {
        (self.at..self.at + self.words.len()).contains(&at)
    }

    /// True for two places of each bolt.
    pub(super) fn is_of_places(&self) -> bool {
        self.alone
    }

    /// How many go on one bolt, of so many in front of the words: `two under the head and one under the nut` is 3.
    fn on_one(&self, each: u64) -> u64 {
        let one_more = ["one under", "another under"];
        match one_more.iter().any(|one| self.words.contains(one)) {
            true => each.saturating_add(1),
            false => each.saturating_mul(self.times),
        }
    }

    /// Multiplies what stands right in front by its places on one bolt, where the sentence says on how many: `a
    /// washer under the head and one under the nut of each of the four bolts`.
    pub(super) fn multiply_one(self, said: &mut Sentence) {
        let before = |call: &&mut Call| call.at.end <= self.at && call.is_small();
        let of = said.calls.iter_mut().rfind(before);
        if let Some(quantity) = of.and_then(|call| call.callout.quantity.as_mut()) {
            quantity.pieces = self.on_one(quantity.pieces);
        } else {
            said.doubts
                .push(Doubt::Multiplier(self.words.as_str().into()));
        }
        if self.open {
            let doubt = format!("\"{}\": taken as both sides of each bolt", self.words);
            said.doubts.push(Doubt::HowMany(doubt.into()));
        }
    }

    /// Multiplies the washers or nuts in front of the words, or else those behind them, by the bolts before them: the sentence's, or
    /// those of the joint that it goes on with.
    pub(super) fn multiply(self, said: &mut Sentence, joint: Option<Bolts>, text: &str) {
        let noun = self.words.rsplit(' ').next().unwrap_or_default();
        let kinds = calls(noun).unwrap_or(&[Kind::Bolt, Kind::Screw, Kind::Rod, Kind::Anchor]);
        let bolt = |call: &Call| {
            let kind = call.callout.item.kind;
            kind.is_some_and(|kind| kinds.contains(&kind))
        };
        let before = said.calls.iter().filter(|call| call.at.end <= self.at);
        let count = before.clone().count();
        let long = before.rev().find(|call| bolt(call));
        let in_sentence = long
            .and_then(|call| call.callout.quantity)
            .map(|q| q.pieces);
        // Of nuts that the sentence does not name, nobody knows how many there are.
        let of_joint = joint
            .filter(|joint| kinds.contains(&joint.kind) && noun != "nut")
            .filter(|_| !said.calls.iter().any(bolt));
        let near = in_sentence.is_some() || of_joint.is_some_and(|joint| joint.near);
        let bolts = in_sentence.or(of_joint.map(|joint| u64::from(joint.pieces)));
        // `a washer and a nut on every one`, `on each bolt go a washer and two nuts`: all that stand in
        // a row.
        let row = |at: &usize| said.calls[*at].is_small();
        let behind_row = count > 0 && row(&(count - 1));
        let row: Vec<usize> = match behind_row {
            true => (0..count).rev().take_while(row).collect(),
            false => (count..said.calls.len()).take_while(row).collect(),
        };
        // `washer and nut to every bolt`
        let plural: Vec<bool> = said
            .calls
            .iter()
            .map(|call| text[call.at.clone()].trim_end().ends_with(['s', 'S']))
            .collect();
        // `two bolts with two washers and a nut on each bolt`
        let first = row.last().copied().unwrap_or_default();
        let with = first > 0 && {
            let between = text.get(said.calls[first - 1].at.end..said.calls[first].at.start);
            between.is_some_and(|between| between.trim().trim_start_matches(", ") == "with")
        };
        let mut taken = false;
        for of in row {
            let end = said.calls[of].at.end;
            let quantity = &mut said.calls[of].callout.quantity;
            let each = quantity
                .map(|each| each.pieces)
                .or((self.times > 1 || (near && !plural[of])).then_some(1));
            let (Some(each), Some(bolts)) = (each, bolts) else {
                break;
            };
            // `twelve washers, one per screw`
            if counted_apart(self.at, end, text).is_some_and(|n| n.checked_mul(bolts) == Some(each))
            {
                said.calls[of].on_each = true;
                taken = true;
                continue;
            }
            // `eight nuts and two washers per bolt`: those are all.
            let of_all = each > bolts || (each == bolts && bolts > 1 && !with);
            if behind_row && taken && (of_all || self.alone) {
                if !each.is_multiple_of(bolts) || (each == bolts && bolts > 1 && !self.alone) {
                    said.doubts
                        .push(Doubt::Multiplier(self.words.as_str().into()));
                }
                break;
            }
            let pieces = bolts.saturating_mul(self.on_one(each));
            *quantity = Some(Quantity {
                pieces,
                packs: None,
            });
            said.calls[of].on_each = true;
            taken = true;
        }
        if let Some(joint) = of_joint.filter(|joint| taken && !joint.sure) {
            let (words, row) = (&self.words, joint.row);
            let doubt = format!("\"{words}\": the bolts of line {row} are in doubt");
            said.doubts.push(Doubt::HowMany(doubt.into()));
        }
        said.on_bolts |= of_joint.is_some() && taken;
        if !taken {
            said.doubts.push(Doubt::Multiplier(self.words.into()));
        } else if self.open && bolts != Some(1) {
            let doubt = format!("\"{}\": taken as both sides of each bolt", self.words);
            said.doubts.push(Doubt::HowMany(doubt.into()));
        }
    }
}

/// The count right in front of `per bolt` that is not the item's own: `twelve washers, one per screw`.
fn counted_apart(at: usize, item: usize, text: &str) -> Option<u64> {
    let lead = text.get(item..at)?.trim_end();
    number(last_word(lead).trim_start_matches('(')).map(u64::from)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, expected: Option<&str>) {
        let found = hedges(&Words::of(text), text);
        let found: Vec<String> = found.iter().map(ToString::to_string).collect();
        let found: Vec<&str> = found.iter().map(String::as_str).collect();
        assert_eq!(found, Vec::from_iter(expected), "{text}");
    }

    #[test]
    fn what_makes_a_count_open() {
        for (text, words) in [
            (
                "Fix rail A and rail B to the post with two bolts.",
                "rail A and rail B",
            ),
            (
                "Fix rails A, B and C to the post with two bolts.",
                "rails A, B and C",
            ),
            (
                "Fasten rail 1 and rail 2 to the post with two bolts.",
                "rail 1 and rail 2",
            ),
        ] {
            let doubt = "the pieces may be for each or in all; taken as in all";
            case(text, Some(&format!("\"{words}\": {doubt}")));
        }
        case("Bolt rail A to rail B with two bolts.", None);
        case("Bolt a bracket to the beam with two bolts.", None);
        case("Drive a screw into each board.", None);
        case("Fit two bolts and a washer.", None);
    }
}
