//! What stands before a sentence: what its guide tells of how many of a thing there are, and the bolts
//! of the last joint.

use rustc_hash::FxHashMap;

use super::{
    told::{Told, told},
    wording::singular,
};
use crate::hardware::{Diameter, Kind};

/// What stands before a sentence in its guide, and what its stage tells.
#[derive(Debug, Clone, Default)]
pub struct Before {
    title: Vec<Told>,
    /// What the sentences of the stage tell, those behind it too, by the thing.
    stage: FxHashMap<String, Vec<Told>>,
    /// What the stages before it tell.
    guide: FxHashMap<String, Vec<Told>>,
    /// The line on which the sentence starts.
    pub row: u32,
    /// The bolts of the joint that the sentence goes on with.
    pub bolts: Option<Bolts>,
    /// The sentence in front of it in its paragraph, and the line on which that starts; and the one
    /// behind it.
    pub sentence: Option<(u32, String)>,
    pub next: Option<(u32, String)>,
}

/// How many there are of a thing.
pub(super) enum Answer {
    Number {
        number: u32,
        /// What tells, where another stage does or it leaves something open.
        by: Option<String>,
        /// The thing, and what has so many of it.
        nouns: Vec<String>,
    },
    /// It is told in two ways.
    Differs(String),
}

/// How near to a sentence something is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Near {
    /// In the sentence, or in the title of its stage.
    Here,
    /// In its stage.
    Stage,
    /// In a stage before.
    Guide,
}

/// The bolts, screws, rods or anchors of a joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bolts {
    pub kind: Kind,
    /// At all places.
    pub pieces: u32,
    pub diameter: Option<Diameter>,
    /// Whether their count is not in doubt.
    pub sure: bool,
    /// The line on which their sentence starts.
    pub row: u32,
    /// Called for in the same paragraph.
    pub near: bool,
}

impl Bolts {
    /// True where a noun stands for each of them: `every bolt`, `on every one`, `under each head`.
    pub(super) fn are_called(&self, noun: &str) -> bool {
        calls(noun).is_some_and(|kinds| kinds.contains(&self.kind))
    }
}

/// The kinds of long pieces that a noun stands for.
pub(super) fn calls(noun: &str) -> Option<&'static [Kind]> {
    Some(match singular(noun) {
        "bolt" | "anchor" => &[Kind::Bolt, Kind::Anchor],
        "screw" | "lag" => &[Kind::Screw],
        "rod" => &[Kind::Rod, Kind::Anchor],
        "stud" => &[Kind::Rod],
        "one" | "head" => &[Kind::Bolt, Kind::Screw, Kind::Rod, Kind::Anchor],
        _ => return None,
    })
}

/// Things that are named where a guide's parts are not summed.
const MOST_THINGS: usize = 4;

/// What is counted and is a place of something, or no part of it.
#[rustfmt::skip]
const PLACES: &[&str] = &[
    "end", "side", "edge", "face", "corner", "hole", "slot", "joint", "place", "point", "row", "position", "location",
    "line", "mark", "gap", "people", "person", "hand", "turn", "time", "stage", "step", "inch", "metre", "meter", "foot",
    "day", "hour", "minute", "coat", "thread", "way", "kind", "size", "kit", "set", "bag", "box", "bay", "half", "pass",
];

/// Of so many brackets a shelf, so many shelves a bay.
const DEPTH: u32 = 3;

impl Before {
    /// Begins a stage: `sentences` are its own, with the lines on which they start.
    pub fn begin_stage<'a>(
        &mut self,
        title: &str,
        sentences: impl Iterator<Item = (u32, &'a str)>,
    ) {
        for (noun, mut all) in self.stage.drain() {
            self.guide.entry(noun).or_default().append(&mut all);
        }
        self.title = told(title, 0);
        self.bolts = None;
        for (row, text) in sentences {
            self.note(told(text, row));
        }
    }

    /// Keeps what a sentence tells.
    pub fn note(&mut self, all: impl IntoIterator<Item = Told>) {
        for told in all {
            self.stage.entry(told.noun.clone()).or_default().push(told);
        }
    }

    /// The first things that are counted, and are no places of others: nouns and words.
    pub fn things(&self) -> Vec<(&str, &str)> {
        let all = self.guide.iter().chain(&self.stage);
        let first = all.filter_map(|(noun, all)| {
            let told = all.iter().min_by_key(|told| told.row)?;
            let is_part = told.number > 1 && told.at > 0 && !PLACES.contains(&&**noun);
            is_part.then_some((told.row, &**noun, &*told.words))
        });
        let mut first: Vec<_> = first.collect();
        first.sort_unstable();
        first.truncate(MOST_THINGS);
        first
            .into_iter()
            .map(|(_, noun, words)| (noun, words))
            .collect()
    }

    /// The one thing that the sentence in front counts: `The two frames are alike. Each is ...`.
    pub(super) fn only_told(&self) -> Option<Told> {
        let (row, text) = self.sentence.as_ref()?;
        let mut all = told(text, *row);
        // `Attach a latch to each of the three gates.`
        if all.iter().any(|told| told.number > 1) {
            all.retain(|told| told.number > 1);
        }
        let last = all.pop()?;
        all.iter()
            .all(|told| told.number == last.number)
            .then_some(last)
    }

    /// What the stage tells of how many there are of a thing that a sentence names as one of several: `an arm`.
    pub fn several_of(&self, text: &str) -> Option<&Told> {
        let words: Vec<&str> = text.split_whitespace().collect();
        let told = |pair: &[&str]| {
            let article = ["a", "an"]
                .iter()
                .any(|one| pair[0].eq_ignore_ascii_case(one));
            let noun = pair.last()?.trim_matches(|c: char| !c.is_alphanumeric());
            let all = self.stage.get(noun).filter(|_| article)?;
            all.iter()
                .find(|told| told.number > 1 && told.of.is_none() && !text.contains(&told.words))
        };
        let mut near = words.windows(2).chain(words.windows(3));
        near.find_map(told)
    }

    /// What is told of a thing at the nearest place that tells of it, and how near that is.
    fn told<'t>(&'t self, here: &'t [Told], noun: &str) -> Option<(Near, Vec<&'t Told>)> {
        let of = |all: &'t [Told]| {
            let mut all: Vec<_> = all.iter().filter(|told| told.noun == noun).collect();
            // `a post on each plate` tells less than `four posts`.
            if all.iter().any(|told| told.number > 1) {
                all.retain(|told| told.number > 1);
            }
            all
        };
        let near = [here, &self.title]
            .map(of)
            .into_iter()
            .map(|all| (Near::Here, all));
        let of_map =
            |all: &'t FxHashMap<String, Vec<Told>>| of(all.get(noun).map_or(&[], |all| all));
        let far = [
            (Near::Stage, of_map(&self.stage)),
            (Near::Guide, of_map(&self.guide)),
        ];
        near.into_iter().chain(far).find(|(_, all)| !all.is_empty())
    }

    /// How many there are of the thing that words name: the last of them that anything tells of.
    pub(super) fn answer(&self, here: &[Told], words: &str) -> Option<Answer> {
        self.answer_within(here, words, DEPTH)
    }

    fn answer_within(&self, here: &[Told], words: &str, depth: u32) -> Option<Answer> {
        let (near, all) = words
            .rsplit(' ')
            .find_map(|noun| self.told(here, singular(noun)))?;
        let first = all[0];
        let says = |told: &Told| match near {
            Near::Here => format!("\"{}\"", told.words),
            Near::Stage | Near::Guide => format!("\"{}\" of line {}", told.words, told.row),
        };
        // Whoever counts a thing in a stage and then speaks of each of it there means those.
        let sure = near != Near::Guide;
        if let Some(other) = all.iter().find(|told| told.number != first.number) {
            return Some(Answer::Differs(format!(
                "{} or {}",
                says(first),
                says(other)
            )));
        }
        // `Each purlin crosses three hoops`: those of another are the same.
        let is_own = |told: &&&Told| near == Near::Here || !told.crossed;
        let of = all
            .iter()
            .filter(is_own)
            .find_map(|told| told.of.as_deref());
        let Some(of) = of.filter(|_| depth > 0) else {
            return Some(Answer::Number {
                number: first.number,
                by: (!sure).then(|| says(first)),
                nouns: vec![first.noun.clone()],
            });
        };
        Some(match self.answer_within(here, of, depth - 1) {
            Some(Answer::Number {
                number,
                by,
                mut nouns,
            }) => {
                nouns.push(first.noun.clone());
                let by = match (sure, by) {
                    (true, None) => None,
                    (_, None) => Some(says(first)),
                    (_, Some(by)) => Some(format!("{} and {by}", says(first))),
                };
                Answer::Number {
                    number: number.saturating_mul(first.number),
                    by,
                    nouns,
                }
            }
            Some(differs) => differs,
            None if first.number == 1 => return None,
            None => Answer::Number {
                number: first.number,
                by: Some(format!(
                    "{}, and how many of those there are is not stated",
                    says(first)
                )),
                nouns: vec![first.noun.clone()],
            },
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sentences of a guide, a line each, and what they tell of how many shelves there are.
    #[track_caller]
    fn case(
        title: &str,
        sentences: &[&str],
        here: &str,
        words: &str,
        expected: Option<(u32, &str)>,
    ) {
        let mut before = Before::default();
        let rows = sentences.iter().zip(1..).map(|(text, row)| (row, *text));
        before.begin_stage(title, rows);
        let here = told(here, 0);
        let found = before.answer(&here, words).map(|answer| match answer {
            Answer::Number { number, by, .. } => (number, by.unwrap_or_default()),
            Answer::Differs(two) => (0, two),
        });
        let found = found.as_ref().map(|(number, by)| (*number, by.as_str()));
        assert_eq!(found, expected, "{title} {sentences:?} {words}");
    }

    #[test]
    fn how_many_there_are() {
        let five = "The kit has five shelves.";
        let four = "Fit four brackets to each shelf.";
        case("", &[five], "", "shelf", Some((5, "")));
        case(
            "Stage 2: five shelves",
            &["Six shelves."],
            "",
            "shelf",
            Some((5, "")),
        );
        case(
            "",
            &[five],
            "Lay the two shelves down.",
            "shelf",
            Some((2, "")),
        );
        case(
            "",
            &[five, "Six shelves."],
            "",
            "shelf",
            Some((0, "\"five shelves\" of line 1 or \"Six shelves\" of line 2")),
        );
        case("", &[five], "", "bracket", None);
        case("", &[five], four, "bracket", Some((20, "")));
        case(
            "",
            &[],
            "Three shelves, four brackets a shelf.",
            "bracket",
            Some((12, "")),
        );
        case(
            "",
            &[four],
            "",
            "bracket",
            Some((
                4,
                "\"four brackets\" of line 1, and how many of those there are is not stated",
            )),
        );
        case(
            "",
            &["The two end frames lie flat."],
            "",
            "end frame",
            Some((2, "")),
        );
    }

    #[test]
    fn what_another_stage_tells_is_said() {
        let mut before = Before::default();
        before.begin_stage("", [(1, "The kit has five shelves.")].into_iter());
        before.begin_stage(
            "Stage 2",
            [(3, "Fit four brackets to each shelf.")].into_iter(),
        );
        let answer = before.answer(&[], "bracket");
        let Some(Answer::Number { number: 20, by, .. }) = answer else {
            panic!("no number, or another");
        };
        let told = "\"four brackets\" of line 3 and \"five shelves\" of line 1";
        assert_eq!(by.as_deref(), Some(told));
    }
}
