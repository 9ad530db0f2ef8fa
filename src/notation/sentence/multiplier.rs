//! A number of places in a sentence: `both ends`, `each of the four posts`, `per slat`.

use super::{
    told::Told,
    vocabulary::{CLAUSES, PLACING},
    wording::{number, singular},
};

/// A number of places, in a sentence.
#[derive(Default)]
pub(super) struct Multiplier {
    pub at: usize,
    pub words: String,
    pub noun: String,
    /// `None`: not stated.
    pub times: Option<u32>,
    /// Whether the pieces are for each place or for all of them is open.
    pub open: bool,
    /// By what the number was taken that the words do not state.
    pub taken: Option<String>,
    /// They are at each of the places in front: `at each end two plates`.
    pub within: bool,
    /// All items are needed so often, whatever parts the sentence has: `and the same on the right`.
    pub of_all: bool,
}

impl Multiplier {
    /// True where a thing that the sentence tells of beside it is what its number is asked of.
    pub fn asks_for(&self, told: &Told, text: &str) -> bool {
        let is_own = told.at >= self.at && told.at + told.words.len() <= self.at + self.words.len();
        let asked = self.thing(text);
        !is_own && !self.noun.is_empty() && asked.split(' ').any(|noun| singular(noun) == told.noun)
    }

    /// False where the sentence says nothing else that may tell its number: the thing is named once.
    pub fn may_be_told(&self, text: &str) -> bool {
        let twice = |noun: &str| {
            let begins = noun.get(..3).filter(|_| singular(noun) != "foot");
            begins.is_none_or(|begins| text.matches(begins).nth(1).is_some())
        };
        self.times.is_none() && (text.contains('(') || self.thing(text).split(' ').any(twice))
    }

    /// The number that its words state; not one of `each 4 x 4 post`.
    pub fn stated(&self) -> Option<u32> {
        let words: Vec<&str> = self.words.split(' ').collect();
        let by = |at: usize| words.get(at).is_some_and(|by| ["x", "by"].contains(by));
        let measures = |at: usize| by(at + 1) || (at > 0 && by(at - 1));
        (0..words.len())
            .filter(|&at| !measures(at))
            .find_map(|at| number(words[at]))
    }

    /// So many as are told apart: `the slats (there are five)`.
    pub fn by(told: &Told) -> Multiplier {
        Multiplier {
            at: told.at,
            words: told.words.clone(),
            noun: told.noun.clone(),
            times: Some(told.number),
            ..Multiplier::default()
        }
    }

    /// The thing and the plain words behind it, of which one may be its noun: `raised bed`.
    pub fn thing(&self, text: &str) -> String {
        let mut thing = self.noun.clone();
        let behind = text.get(self.at + self.words.len()..).unwrap_or_default();
        let each = self.words.starts_with(['e', 'E', 'p', 'P']);
        let goes_on = usize::from(each && behind.starts_with(' ')) * 2;
        for word in behind.split_inclusive(' ').skip(1).take(goes_on) {
            let plain = word.trim_end();
            let letters = plain.trim_end_matches([',', '.', ';', ':', ')']);
            let is_word = letters.len() > 2 && letters.bytes().all(|b| b.is_ascii_lowercase());
            if !is_word || PLACING.contains(&letters) || CLAUSES.contains(&letters) {
                break;
            }
            thing.push(' ');
            thing.push_str(letters);
            if plain.len() > letters.len() {
                break;
            }
        }
        thing
    }
}
