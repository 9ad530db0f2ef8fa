//! The parts of a sentence, each with items of its own at places of its own: `each leg with two bolts | and the seat
//! with four screws`.

use std::ops::Range;

use super::{
    Call,
    call::is_sized,
    clause::Clauses,
    multiplier::Multiplier,
    object::of_one_thing,
    vocabulary::{DETERMINERS, HAVING, PLACING},
    wording::{last_word, names_hardware, number, singular},
};
use crate::doubt::Doubt;

/// One part: where it stands, and its items.
pub(super) struct Part {
    pub at: Range<usize>,
    pub items: Range<usize>,
    /// It says more of the thing of the part in front: `the hinges to the door with .. | and to the frame with ..`.
    pub goes_on: bool,
}

/// The parts of a sentence, in order; one where its items share their places. A number of places is of the items of the part
/// that it stands in.
pub(super) fn parts(
    calls: &[Call],
    all: &[Multiplier],
    text: &str,
    clauses: &Clauses,
) -> Vec<Part> {
    let mut parts = vec![Part {
        at: 0..text.len(),
        items: 0..calls.len(),
        goes_on: false,
    }];
    for item in 1..calls.len() {
        if let Some((at, goes_on)) = cut(calls, item, all, text, clauses)
            && let Some(last) = parts.last_mut()
        {
            let next = Part {
                at: at..last.at.end,
                items: item..calls.len(),
                goes_on,
            };
            last.at.end = at;
            last.items.end = item;
            parts.push(next);
        }
    }
    parts
}

/// What stands between a word that links and an item behind it.
enum Opens {
    /// Nothing but what links.
    Item,
    /// A place of the item: `in the middle`.
    Place,
    /// Another thing that the item is for: `the seat with`.
    Thing,
    /// What is done next: `secure it with`.
    Verb,
    /// More of what goes on.
    Nothing,
}

/// Words that link what goes on.
const LINKS: &[&str] = &["and", "then", "&", "but", "also", "next", "finally", "plus"];

/// Words for a thing named before.
const NAMED: &[&str] = &[
    "it", "them", "these", "those", "this", "that", "each", "both", "all", "which", "one",
];

/// Where the part of an item begins, if it begins with that item, and whether it goes on with the thing in front.
fn cut(
    calls: &[Call],
    item: usize,
    all: &[Multiplier],
    text: &str,
    clauses: &Clauses,
) -> Option<(usize, bool)> {
    let (last, next) = (&calls[item - 1], &calls[item]);
    let between = text.get(last.at.end..next.at.start)?;
    if is_again(&calls[..item], next) {
        return None;
    }
    // Washers and nuts go on the bolts in front.
    let own = !next.is_small();
    let elided = next.is_elided(text);
    let begins = |link: &usize| {
        let rest = &between[*link..];
        match opens(rest, elided) {
            Opens::Thing => true,
            Opens::Verb => own,
            Opens::Place => own || has_number(all, last.at.end + link..next.at.start),
            Opens::Item => {
                let front = last.at.end..last.at.end + link;
                let behind = next.at.end..calls.get(item + 1).map_or(text.len(), |c| c.at.start);
                let numbered = is_numbered(next, all, text);
                // `each leg takes a bolt at the top and a screw at the foot` has them both at each leg.
                let own_numbers = numbered || has_number(all, front.clone());
                let placed =
                    is_placed(last, front, all, text) && is_placed(next, behind, all, text);
                placed && own_numbers && (own || numbered)
            }
            Opens::Nothing => false,
        }
    };
    if let Some(link) = links(between).find(begins) {
        let goes_on = matches!(opens(&between[link..], elided), Opens::Place);
        return Some((last.at.end + link, goes_on));
    }
    let verb = clauses.between(last.at.start, next.at.start);
    verb.filter(|_| own).map(|at| (at, false))
}

/// Where words link what goes on, and where marks end what stands in front of them.
fn links(between: &str) -> impl Iterator<Item = usize> {
    let mut end = 0;
    between.split(' ').filter_map(move |word| {
        let at = end;
        end += word.len() + 1;
        let mark = word.ends_with([',', ';', ':', ')']);
        match LINKS.contains(&word) {
            true => Some(at),
            false => mark.then_some(at + word.len()),
        }
    })
}

/// `elided`: the item behind is a count alone, `the seat with six`, `the rear posts one`.
fn opens(rest: &str, elided: bool) -> Opens {
    let marks = [',', ';', ':', '(', ')'];
    let words = rest.split_whitespace().map(|word| word.trim_matches(marks));
    let mut words: Vec<&str> = words
        .skip_while(|word| word.is_empty() || LINKS.contains(word))
        .collect();
    // The article of the item, `with one more at each end`
    let is_own = |last: &&str| ["a", "an", "another"].contains(last);
    let with = elided && *words == ["with"];
    words.truncate(words.len() - usize::from(with || words.last().is_some_and(is_own)));
    let [first, .., last] = *words else {
        return match words.is_empty() {
            true => Opens::Item,
            false => Opens::Nothing,
        };
    };
    let of_hardware = words.iter().any(|word| names_hardware(word));
    let gives = HAVING.contains(&last) || ["using", "by"].contains(&last);
    let behind = &words[1..words.len() - usize::from(gives)];
    let goes_on = rest.trim_matches(marks).contains(marks) || words.contains(&"and");
    let is_named = behind.first().is_none_or(|word| NAMED.contains(word));
    match () {
        () if of_hardware || ["with", "using", "there", "so"].contains(&first) => Opens::Nothing,
        () if PLACING.contains(&first) => {
            let in_all = ["all", "total", "turn", "addition"].contains(&words[1]);
            match in_all || goes_on || is_named && words[1] != "each" {
                true => Opens::Nothing,
                false => Opens::Place,
            }
        }
        () if !(gives || elided) || number(first).is_some() => Opens::Nothing,
        () if NAMED.contains(&first) && behind.is_empty() => Opens::Nothing,
        () if DETERMINERS.contains(&first) || first == "their" => Opens::Thing,
        // `and torque to 45 Nm, and fix the cap with`
        () if goes_on => Opens::Nothing,
        () if is_named => Opens::Verb,
        () => Opens::Thing,
    }
}

/// True where a number of places begins within.
fn has_number(all: &[Multiplier], within: Range<usize>) -> bool {
    all.iter().any(|m| within.contains(&m.at))
}

/// True where places stand right behind an item, up to what is said next.
fn is_placed(call: &Call, behind: Range<usize>, all: &[Multiplier], text: &str) -> bool {
    let first = text[behind.clone()].split_whitespace().next();
    let placed = first.is_some_and(|word| PLACING.contains(&word));
    // `at` may stand in the phrase of the item.
    let within = PLACING.contains(&last_word(text[call.at.clone()].trim_end()));
    placed || within || has_number(all, behind.start..(behind.start + 2).min(behind.end))
}

/// True where the places right behind an item are counted: `at each end`, `per post`.
fn is_numbered(call: &Call, all: &[Multiplier], text: &str) -> bool {
    all.iter().any(|m| {
        let between = text.get(call.at.end..m.at).map(str::trim);
        between.is_some_and(|at| at.is_empty() || PLACING.contains(&at))
    })
}

/// `eight M8 x 55 bolts for the slats, two bolts for each`, `three screws per board, 33 screws #8 x 2`: named again.
fn is_again(front: &[Call], next: &Call) -> bool {
    let sized = is_sized(&next.callout);
    let again = |call: &Call| {
        call.callout.item.kind == next.callout.item.kind && is_sized(&call.callout) != sized
    };
    front.iter().any(again)
}

/// How the numbers of places of a part bear on the others.
pub(super) struct Reach {
    /// The words of the first of them.
    words: String,
    places: u32,
    /// They are of its own items alone: a bare `each`, the ends of one thing.
    bound: bool,
    stands: Stands,
}

/// Where the first number of a part stands.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Stands {
    /// `At each post fit two bolts`
    Opens,
    /// `Fix each leg with two bolts`
    InFront,
    /// `two bolts at each post`
    BehindFirst,
    /// `two bolts with two nuts at each post`
    Behind,
}

impl Reach {
    /// `None`: the part has no numbers of places. `each`: it has a bare `each`.
    pub fn of(calls: &[Call], all: &[Multiplier], each: bool, text: &str) -> Option<Reach> {
        let first = all.iter().min_by_key(|m| m.at)?;
        let item = calls.first()?;
        let of_ends = ["end", "side", "edge", "face"].contains(&singular(&first.noun));
        let behind = text.get(first.at + first.words.len()..).unwrap_or_default();
        let lead = last_word(text[..first.at].trim_end());
        let is_place = PLACING.iter().any(|at| lead.eq_ignore_ascii_case(at));
        Some(Reach {
            words: first.words.trim().to_owned(),
            places: 1,
            bound: each || (all.len() == 1 && of_ends && of_one_thing(behind)),
            stands: match first.at < item.at.start {
                true if is_place => Stands::Opens,
                true => Stands::InFront,
                false if is_numbered(item, all, text) => Stands::BehindFirst,
                false => Stands::Behind,
            },
        })
    }

    /// With how often its items are needed.
    pub fn times(self, places: u32) -> Reach {
        Reach { places, ..self }
    }

    /// True where it may be meant for a part behind it, too, with such numbers of its own.
    fn may_go_on(&self, own: Option<&Reach>, goes_on: bool) -> bool {
        let may_hold = |own: &Reach| self.stands <= Stands::InFront && own.stands > self.stands;
        (goes_on || !self.bound) && own.is_none_or(may_hold)
    }

    fn doubt(&self, call: &Call) -> Doubt {
        let said = format!(
            "\"{}\" may be meant for this, too: not taken so",
            self.words
        );
        let pieces = call.pieces().saturating_mul(u64::from(call.places));
        match self.places {
            2.. => Doubt::OrElse {
                pieces: pieces.saturating_mul(u64::from(self.places)),
                said: said.into(),
            },
            _ => Doubt::HowMany(said.into()),
        }
    }
}

/// A part whose items bear their places.
pub(super) struct Placed {
    pub calls: Vec<Call>,
    pub reach: Option<Reach>,
    pub goes_on: bool,
}

/// Asks of each item whether the numbers of the parts beside its own are meant for it, too.
pub(super) fn ask(parts: &mut [Placed], text: &str) {
    for i in 0..parts.len() {
        let (front, rest) = parts.split_at_mut(i);
        let Some((part, behind)) = rest.split_first_mut() else {
            return;
        };
        let own = part.reach.as_ref();
        let front = front.iter().rev().find_map(|front| front.reach.as_ref());
        let next = behind.iter().find_map(|next| next.reach.as_ref());
        // `the front posts take two bolts each and the rear posts one`
        let of_several = part.calls.first().is_some_and(|call| {
            let mut lead = text[..call.at.start].split_whitespace().rev();
            let thing = lead.find(|word| !HAVING.contains(word)).unwrap_or_default();
            call.is_elided(text) && own.is_none() && singular(thing) != thing
        });
        let front = front.filter(|front| of_several || front.may_go_on(own, part.goes_on));
        let next = next.filter(|next| own.is_none() && next.stands == Stands::Behind);
        let Some(open) = front.or(next) else { continue };
        for call in part.calls.iter_mut().filter(|call| call.is_asked_for()) {
            let doubt = open.doubt(call);
            call.callout.doubts.push(doubt);
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::notation::{Notation, sentence};

    /// `8 M8 x 40 bolt`, with `?` behind where the item or the sentence is in doubt.
    fn read(text: &str) -> Vec<String> {
        let said = sentence(text, Notation::default());
        let calls = said.calls.iter().map(|call| {
            let pieces = call.pieces() * u64::from(call.places);
            let sure = said.doubts.is_empty() && call.callout.doubts.is_empty();
            let mark = if sure { "" } else { "?" };
            format!("{pieces} {}{mark}", call.callout.item.text())
        });
        calls.collect()
    }

    #[track_caller]
    fn case(text: &str, expected: &[&str]) {
        assert_eq!(read(text), expected, "{text}");
    }

    #[test]
    fn each_part_has_places_of_its_own() {
        let (four_eights, two_sixes) = ("8 M8 x 40 bolt", "6 M6 x 30 screw");
        for text in [
            "Fit two M8 x 40 bolts to each of the four posts and three M6 x 30 screws to each of the two rails.",
            "Fix each of the four legs with two M8 x 40 bolts and each of the two rails with three M6 x 30 screws.",
            "At each of the four posts fit two M8 x 40 bolts and at each of the two gates fit three M6 x 30 screws.",
            "Fasten the four brackets with two M8 x 40 bolts each and the two clips with three M6 x 30 screws each.",
        ] {
            case(text, &[four_eights, two_sixes]);
        }
        // What stands in front of a part is not of it.
        for text in [
            "Fasten the lid with one M6 x 30 screw and the four brackets with two M8 x 40 bolts each.",
            "Fix the seat with one M6 x 30 screw and fix each of the four arms with two M8 x 40 bolts.",
            "Fit one M6 x 30 screw in the middle and two M8 x 40 bolts at each of the four corners.",
            "Having fixed the lid with one M6 x 30 screw, fit the four arms with two M8 x 40 bolts each.",
        ] {
            case(text, &["1 M6 x 30 screw", four_eights]);
        }
        // A bare `each` is of its own part, and so are the ends of one thing.
        case(
            "Fix both hinges with three M5 x 20 screws each, then fit the latch with two M4 x 16 screws.",
            &["6 M5 x 20 screw", "2 M4 x 16 screw"],
        );
        case(
            "Fit four M8 x 40 bolts to the base and two M8 x 40 bolts to each of the three arms.",
            &["4 M8 x 40 bolt", "6 M8 x 40 bolt"],
        );
        case(
            "Fix the seat with four M8 x 40 bolts and each of the two arms with two M8 x 40 bolts.",
            &["4 M8 x 40 bolt", "4 M8 x 40 bolt"],
        );
    }

    #[test]
    fn places_that_may_be_meant_for_the_next_part_are_asked_about() {
        for text in [
            "Fix each of the four legs with two M8 x 40 bolts and the centre with one M10 x 60 bolt.",
            "Fit two M8 x 40 bolts at each of the four corners and one M10 x 60 bolt in the middle.",
            "At each of the four posts fit two M8 x 40 bolts and in the cap one M10 x 60 bolt.",
            "Fix each of the four legs with two M8 x 40 bolts and fit one M10 x 60 bolt.",
        ] {
            case(text, &["8 M8 x 40 bolt", "1 M10 x 60 bolt?"]);
        }
        case(
            "Fix each of the two arms with two M8 x 40 bolts and the seat with four M8 x 40 bolts.",
            &["4 M8 x 40 bolt", "4 M8 x 40 bolt?"],
        );
        case(
            "Fix the arm with two M8 x 40 bolts and the seat with one M6 x 30 screw at each of the four posts.",
            &["2 M8 x 40 bolt", "4 M6 x 30 screw"],
        );
    }

    #[test]
    fn counts_without_their_noun_at_places_of_their_own() {
        case(
            "Fit four M8 x 40 bolts to the base and two to each of the three arms.",
            &["4 M8 x 40 bolt", "6 M8 x 40 bolt"],
        );
        case(
            "Bolt the two arms to the frame with four M8 x 40 bolts each and the seat with six.",
            &["8 M8 x 40 bolt", "6 M8 x 40 bolt"],
        );
        case(
            "Fit two M8 x 40 bolts at both ends and one in the middle.",
            &["4 M8 x 40 bolt", "1 M8 x 40 bolt?"],
        );
        case(
            "Drive an M5 x 20 screw into each of the four clips and two into the bar.",
            &["4 M5 x 20 screw", "2 M5 x 20 screw?"],
        );
        case(
            "Fit two M8 x 40 bolts into the crossbar plus one at each of the four corners.",
            &["2 M8 x 40 bolt", "4 M8 x 40 bolt"],
        );
        let said = read("The four front posts take two M8 x 40 bolts each and the rear posts one.");
        assert_eq!(said, ["8 M8 x 40 bolt", "1 M8 x 40 bolt?"]);
    }

    #[test]
    fn items_at_each_of_the_same_places() {
        for text in [
            "Each of the four legs takes one M8 x 80 bolt in the top hole and one M8 x 40 bolt in the bottom hole.",
            "On each of the four legs fit one M8 x 80 bolt in the top hole and one M8 x 40 bolt in the bottom hole.",
        ] {
            case(text, &["4 M8 x 80 bolt", "4 M8 x 40 bolt"]);
        }
        case(
            "Fit one M8 x 80 bolt in the top hole and one M8 x 40 bolt in the foot of each of the four legs.",
            &["4 M8 x 80 bolt?", "4 M8 x 40 bolt?"],
        );
        case(
            "Attach both hinges to the door with three M5 x 20 screws each and to the frame with two M5 x 40 screws.",
            &["6 M5 x 20 screw", "2 M5 x 40 screw?"],
        );
        for text in [
            "The four legs get two M8 x 40 bolts each, the two rails one each.",
            "The four legs get two M8 x 40 bolts each and the two rails get one each.",
        ] {
            case(text, &["8 M8 x 40 bolt", "2 M8 x 40 bolt"]);
        }
        case(
            "Fit two M8 x 40 bolts to each of the four legs, then three to each of the two rails.",
            &["8 M8 x 40 bolt", "6 M8 x 40 bolt"],
        );
        case(
            "Fix the four legs with two M8 x 40 bolts each, the two rails with three each and the two braces with one each.",
            &["8 M8 x 40 bolt", "6 M8 x 40 bolt", "2 M8 x 40 bolt"],
        );
        case(
            "With two M8 x 40 bolts each, fix the four legs to the top and the two rails to the legs.",
            &["8 M8 x 40 bolt?"],
        );
    }
}
