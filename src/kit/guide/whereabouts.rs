//! The things that a sentence names beside its hardware: where its pieces go. Its words are common practice, no source.

use super::{
    prose::{COUNTS, NOUN_VERBS, SAYS, VERBS, is_side, words},
    tightened::stem,
};

/// Words behind which a thing is named.
#[rustfmt::skip]
const LEADS: &[&str] = &[
    "the", "a", "an", "each", "every", "both", "all", "this", "that", "these", "those", "its", "your", "to", "through",
    "in", "at", "on", "into", "onto", "for", "of", "along", "under", "over", "behind", "between", "from", "per",
];

/// Words by which what is named goes on.
const JOINS: &[&str] = &["and", "or", "&"];

/// Things that are no place of a build: the work, its papers, what the pieces came in.
#[rustfmt::skip]
const GENERAL: &[&str] = &[
    "step", "stage", "section", "figure", "fig", "picture", "drawing", "diagram", "photo", "page", "list", "guide",
    "instruction", "bag", "box", "carton", "crate", "pack", "packet", "package", "parcel", "kit", "bench", "table", "floor",
    "tray", "job", "work", "build", "project", "assembly", "time", "hand", "place", "position", "way", "order", "total",
    "number", "quantity", "hardware", "fastener", "fixing", "fitting", "part", "piece", "item", "content", "thing",
    "one", "it", "them", "you", "there", "following", "next", "same", "start", "first", "last", "other", "size",
];

/// The stems of what a sentence names, and by which side or mark it tells one from others: `the left arm`, `post 2`.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Whereabouts {
    things: Vec<String>,
    marks: Vec<String>,
}

impl Whereabouts {
    pub fn of(text: &str) -> Whereabouts {
        let mut all = Whereabouts::default();
        let mut run: Option<Whereabouts> = None;
        for word in text.split_whitespace() {
            let ends = word.ends_with([',', '.', ';', ':', ')']);
            let bare = word.trim_matches(|c: char| !c.is_alphanumeric());
            let lower = bare.to_lowercase();
            let is = |known: &[&str]| known.contains(&&*lower);
            let figure = bare.contains(|c: char| c.is_ascii_digit());
            let letter = bare.len() == 1 && bare.starts_with(char::is_uppercase);
            match &mut run {
                Some(of) if (figure || letter) && !of.things.is_empty() => of.marks.push(lower),
                Some(_) if is(JOINS) => {}
                _ if is(LEADS) => all.add(run.replace(Whereabouts::default())),
                _ if figure || is(VERBS) || is(SAYS) || is(&["with"]) => all.add(run.take()),
                None if is_side(&lower) => {
                    let marks = vec![lower];
                    run = Some(Whereabouts {
                        marks,
                        ..Whereabouts::default()
                    });
                }
                Some(of) if is_side(&lower) => of.marks.push(lower),
                Some(of) if bare.len() > 1 => of.things.push(stem(bare)),
                _ => {}
            }
            if ends {
                all.add(run.take());
            }
        }
        all.add(run);
        all
    }

    /// Adds what a run of words names, where that is no hardware.
    fn add(&mut self, run: Option<Whereabouts>) {
        const HARDWARE: &[&str] = &["washer", "rod", "stud", "fastener", "fixing", "hardware"];
        let Some(run) = run else { return };
        let last = run.things.last().map_or("", String::as_str);
        let bare = last.is_empty();
        if NOUN_VERBS.contains(&last) || HARDWARE.contains(&last) {
            return;
        }
        let things = run.things.into_iter();
        let before = self.things.len();
        self.things.extend(things.filter(|thing| {
            let number = COUNTS.contains(&&**thing);
            !number && !GENERAL.contains(&&**thing)
        }));
        if self.things.len() > before || bare {
            self.marks.extend(run.marks);
        }
    }

    /// Without what a title names, of which all below it is.
    pub fn without(mut self, title: &str) -> Whereabouts {
        let title: Vec<String> = words(title).map(|word| stem(&word)).collect();
        self.things.retain(|thing| !title.contains(thing));
        self
    }

    /// True where both name one thing, be it here and there: `the left arm`, `the right arm`.
    pub fn shares_thing(&self, other: &Whereabouts) -> bool {
        const OF_ANY: &[&str] = &["side", "end", "corner", "half", "edge"];
        let is = |thing: &String| !OF_ANY.contains(&&**thing) && other.things.contains(thing);
        self.things.iter().any(is)
    }

    pub fn things(&self) -> &[String] {
        &self.things
    }

    /// True where both name one thing, whatever it is.
    pub fn shares(&self, other: &Whereabouts) -> bool {
        self.things.iter().any(|thing| other.things.contains(thing))
    }

    /// True where it tells its thing from others.
    pub fn is_marked(&self) -> bool {
        !self.marks.is_empty()
    }

    /// True where both tell their thing from others, and not by the same word.
    pub fn differs_by_mark(&self, other: &Whereabouts) -> bool {
        self.is_marked()
            && other.is_marked()
            && !self.marks.iter().any(|mark| other.marks.contains(mark))
    }

    /// True where both name things that differ, or one thing here and there: a side alone may be any thing's.
    pub fn is_elsewhere(&self, other: &Whereabouts) -> bool {
        let bare = self.things.is_empty() || other.things.is_empty();
        !bare && self.is_apart_from(other)
    }

    /// True where it cannot be told whether both name one place: one has a thing, the other a side and no thing.
    pub fn may_be_apart_from(&self, other: &Whereabouts) -> bool {
        let bare = |of: &Whereabouts| of.things.is_empty() && of.is_marked();
        bare(self) && !other.things.is_empty() || bare(other) && !self.things.is_empty()
    }

    /// True where a word is one of those.
    pub fn names(&self, word: &str) -> bool {
        let is = |one: &String| one == word;
        self.things.iter().any(is) || self.marks.iter().any(is)
    }

    /// True where no place is named.
    pub fn is_nowhere(&self) -> bool {
        self.things.is_empty() && self.marks.is_empty()
    }

    /// True where both name a place, and not the same.
    pub fn is_apart_from(&self, other: &Whereabouts) -> bool {
        let share = |all: &[String], of: &[String]| all.iter().any(|one| of.contains(one));
        let differ =
            |all: &[String], of: &[String]| !all.is_empty() && !of.is_empty() && !share(all, of);
        differ(&self.things, &other.things) || differ(&self.marks, &other.marks)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_named() {
        #[track_caller]
        fn case(text: &str, things: &[&str], marks: &[&str]) {
            let named = Whereabouts::of(text);
            assert_eq!(named.things, things, "{text}");
            assert_eq!(named.marks, marks, "{text}");
        }
        case("You need four M8 x 40 bolts for the cap.", &["cap"], &[]);
        case(
            "Take two M8 x 40 bolts from bag 2 for the left arm.",
            &["arm"],
            &["left"],
        );
        case(
            "Bolt each foot down with four M8 x 40 bolts.",
            &["foot", "down"],
            &[],
        );
        case(
            "You need eight bolts for the posts and rails.",
            &["post", "rail"],
            &[],
        );
        case("Fit two M8 x 40 bolts to post 2.", &["post"], &["2"]);
        case("Left arm: two M8 x 40 bolts.", &["arm"], &["left"]);
        case("Tighten the carriage bolts.", &[], &[]);
        case("What is in the box: six M8 x 40 bolts, six nuts.", &[], &[]);
        case("You will need four M8 x 40 bolts for this step.", &[], &[]);
    }

    #[test]
    fn places_apart() {
        #[track_caller]
        fn case(one: &str, other: &str, expected: bool) {
            let (one, other) = (Whereabouts::of(one), Whereabouts::of(other));
            assert_eq!(one.is_apart_from(&other), expected);
        }
        case("for the cap", "to the foot", true);
        case("for the feet", "to each foot", false);
        case("for the left arm", "to the right arm", true);
        case("for the left arm", "to the arm", false);
        case("for post 1", "to post 2", true);
        case("for the posts and rails", "to the rails", false);
        case("for this step", "to the rails", false);
    }
}
