//! The clauses of a sentence, each with the verb that opens it: `Tighten the bolts | and fit two nuts`.

use super::{
    beginnings::{Beginnings, beginning},
    vocabulary::{DETERMINERS, PARTICLES},
    words::Words,
};

/// Verbs by which hardware that is there already is worked on.
const WORKS: &[&str] = &[
    "tighten",
    "retighten",
    "torque",
    "retorque",
    "loosen",
    "slacken",
    "turn",
    "snug",
    "nip",
    "check",
    "recheck",
];

/// Verbs that call for pieces wherever they stand.
const ADDS: &[&str] = &["add", "fit", "install", "insert", "put"];

/// Other verbs of what is done next.
#[rustfmt::skip]
const ACTS: &[&str] = &[
    "use", "fix", "fasten", "secure", "attach", "connect", "join", "drive", "mount", "slide", "pop", "run",
    "pass", "drop", "hang", "set", "place", "push", "thread", "clamp", "hold", "repeat", "remove", "take",
    "lay", "lift", "stand", "lower", "raise", "position", "drill", "keep", "leave", "discard", "assemble",
    "align", "press", "clip", "snap", "hook", "feed", "tap", "grab",
];

/// Verbs where something to work on stands right behind, else nouns.
const NOUNS: &[&str] = &["bolt", "screw", "pin", "anchor", "nail", "rivet", "lock"];

/// Words between two clauses.
const LINKS: &[&str] = &["and", "then", "but", "to", "before"];

/// Words in front of a verb that opens a clause.
#[rustfmt::skip]
const LEADS: &[&str] = &[
    "now", "finally", "lastly", "first", "next", "please", "also", "do", "don't", "don\u{2019}t", "not",
    "never", "fully", "only", "re", "hand", "finger", "just",
];

/// How all of these begin.
static BEGIN: Beginnings = {
    let tables = [WORKS, ADDS, ACTS, NOUNS, LINKS, LEADS];
    let (mut all, mut table) = (Beginnings::NONE, 0);
    while table < tables.len() {
        let mut i = 0;
        while i < tables[table].len() {
            all.add(beginning(tables[table][i]));
            i += 1;
        }
        table += 1;
    }
    all
};

/// One clause, up to the next.
struct Clause {
    from: usize,
    works: bool,
    /// It is done to `it`.
    to_it: bool,
}

/// The clauses of a sentence; what stands in front of the first verb is of none.
pub(super) struct Clauses {
    all: Vec<Clause>,
    end: usize,
}

impl Clauses {
    pub fn of(words: &Words, text: &str) -> Clauses {
        let mut all = Vec::new();
        // Where a clause may begin.
        let mut opens = Some(0);
        let mut last = 0;
        let words = words.all();
        for (i, word) in words.iter().enumerate() {
            let at = word.range();
            if text[last..at.start].contains([',', ';', ':', '.', '(']) {
                opens = Some(at.start);
            }
            last = at.end;
            // `nylon-insert nuts`, not `re-tighten`.
            let joined = text[..at.start].ends_with('-') && opens.is_none();
            if joined || !BEGIN.has(word.begins) {
                opens = None;
                continue;
            }
            let word = &text[at.clone()];
            let is = |known: &[&str]| known.iter().any(|known| word.eq_ignore_ascii_case(known));
            let next = words.get(i + 1).map_or("", |next| &text[next.range()]);
            let object = || DETERMINERS.contains(&next) || PARTICLES.contains(&next);
            let acts = || is(WORKS) || is(ACTS) || (is(NOUNS) && object());
            if is(ADDS) || (opens.is_some() && acts()) {
                all.push(Clause {
                    from: opens.unwrap_or(at.start),
                    works: is(WORKS),
                    to_it: next == "it",
                });
                opens = None;
            } else if is(LINKS) {
                opens = Some(at.start);
            } else if !is(LEADS) {
                opens = None;
            }
        }
        Clauses {
            all,
            end: text.len(),
        }
    }

    /// The clause that a place stands in.
    fn at(&self, at: usize) -> Option<usize> {
        self.all.iter().rposition(|clause| clause.from <= at)
    }

    /// True where a place stands in a clause that works on what is there, and with nothing else.
    pub fn works_at(&self, at: usize, text: &str) -> bool {
        self.at(at).is_some_and(|clause| {
            let end = self.all.get(clause + 1).map_or(self.end, |next| next.from);
            let says = &text[self.all[clause].from..end];
            self.all[clause].works && !says.contains(" with ") && !says.contains(" using ")
        })
    }

    /// Where the first clause ends, if it works on what is there.
    pub fn work_ends(&self) -> Option<usize> {
        let first = self.all.first()?;
        let end = self.all.get(1).map_or(self.end, |next| next.from);
        first.works.then_some(end)
    }

    /// Where the first clause begins that a place stands in, or one behind it, where another place does not.
    pub fn between(&self, other: usize, at: usize) -> Option<usize> {
        let begins = self.all.iter().map(|clause| clause.from);
        begins.filter(|from| *from > other).find(|from| *from <= at)
    }

    /// True where two places stand in clauses of their own.
    pub fn are_apart(&self, one: usize, other: usize) -> bool {
        self.at(one) != self.at(other)
    }

    /// True where what is done at a place is done to `it`, and another place stands in a clause before:
    /// `Lay the crossbar between the two posts and secure it with four bolts`.
    pub fn is_done_to_it(&self, at: usize, before: usize) -> bool {
        match (self.at(at), self.at(before)) {
            (Some(clause), Some(front)) => front < clause && self.all[clause].to_it,
            _ => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clauses_of_a_sentence() {
        /// A sentence with its clauses cut by bars, those that work on what is there in stars.
        #[track_caller]
        fn case(marked: &str) {
            let text = marked.replace(['|', '*'], "");
            let clauses = Clauses::of(&Words::of(&text), &text);
            let mut found = text.clone();
            for clause in clauses.all.iter().rev() {
                let mark = if clause.works { "|*" } else { "|" };
                found.insert_str(clause.from, mark);
            }
            assert_eq!(found, marked);
        }
        case("|*Tighten the bolts, |then add a nut.");
        case("|*Turn the unit over |and fix the back with 14 screws.");
        case("|*Please tighten the screws only by hand, |then insert two bolts.");
        case("|*Don't tighten anything yet, |but do fit the six bolts.");
        case("|Lay the crossbar between the posts |and secure it with two bolts.");
        case("At each post, |fit two bolts and two nuts.");
        case("|Fit four bolts, eight washers and four nylon-insert nuts, both sides.");
        case("|Slide it on, |bolt the rail down |*and re-tighten the nuts.");
        case("The rail takes four bolts and a screw.");
    }
}
