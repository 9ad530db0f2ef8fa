//! Things of which a guide builds two or more: `Hang the left door with six screws. Hang the right door.` What it says of
//! one and not of the other may go for both. Its words are common practice, no source.

use super::{
    Asked, Guide,
    listed::wanted,
    prose::{is_side, words},
    tightened::stem,
    whereabouts::Whereabouts,
};
use crate::{
    Doubt,
    notation::{Sentence, number_in_words},
    words::fold,
};

/// Words that tell a thing from one before it.
#[rustfmt::skip]
const OTHERS: &[&str] = &[
    "other", "others", "another", "second", "third", "fourth", "fifth", "sixth", "next", "remaining", "opposite", "rest",
];

/// First words of a sentence that builds nothing: it looks, moves, shapes or tells.
#[rustfmt::skip]
const BUILDS_NOTHING: &[&str] = &[
    "check", "recheck", "tighten", "retighten", "torque", "loosen", "slacken", "measure", "wait", "leave", "mark", "keep", "wipe",
    "clean", "remove", "lift", "lower", "raise", "turn", "move", "hold", "carry", "rotate", "flip", "tilt", "unpack", "find", "see",
    "ensure", "let", "rest", "stand", "lay", "support", "prop", "clamp", "drill", "cut", "saw", "sand", "paint", "oil", "level", "plumb",
    "align", "read", "look", "adjust", "trim", "count", "sort", "take", "get", "bring", "open", "close", "do", "don't", "never", "not",
    "the", "a", "an", "this", "that", "these", "those", "each", "every", "both", "all", "if", "when", "once", "before", "after", "while",
    "until", "there", "it", "they", "you", "one", "two", "three", "four", "at", "on", "in", "with", "from", "for", "by", "make sure",
    "remember", "note", "swap", "choose", "select", "unscrew", "unbolt", "undo", "square", "position", "push", "pull",
];

/// Words in front of what a sentence does.
const LEADS: &[&str] = &[
    "now", "then", "next", "and", "also", "finally", "lastly", "please",
];

/// A sentence without hardware that builds a thing like one before it.
#[derive(Debug)]
pub(super) struct Twin {
    text: String,
    place: Whereabouts,
    /// The lines that it may ask for again.
    like: Vec<usize>,
}

/// More lines of a stage are not looked through for twins (common practice, no source).
const MOST: usize = 30;

fn other_words(text: &str) -> Vec<String> {
    let is = |word: &String| OTHERS.contains(&&**word);
    words(text).filter(is).collect()
}

/// `the right one`: the sides of what is named by nothing else.
fn sides_of_ones(text: &str) -> Vec<String> {
    let all: Vec<String> = words(text).collect();
    let of_one = |pair: &&[String]| is_side(&pair[0]) && ["one", "ones"].contains(&&*pair[1]);
    all.windows(2)
        .filter(of_one)
        .map(|pair| pair[0].clone())
        .collect()
}

/// True for a sentence that has something built, by its first word.
pub fn builds(text: &str) -> bool {
    let mut all = words(text).skip_while(|word| LEADS.contains(&&**word));
    let first = all.next().unwrap_or_default();
    let sure = first == "make" && all.next().is_some_and(|next| next == "sure");
    !sure && !BUILDS_NOTHING.contains(&&*first) && first.chars().all(char::is_alphabetic)
}

/// `the other two`: so many others, and no noun behind.
fn counts_others(text: &str) -> bool {
    const PLACED: &[&str] = &[
        "in", "into", "at", "on", "to", "through", "for", "go", "from", "along",
    ];
    let all: Vec<String> = words(text).collect();
    (1..all.len()).any(|at| {
        let other = OTHERS.contains(&&*all[at - 1]);
        let counts = number_in_words(&all[at]).is_some();
        other && counts && all.get(at + 1).is_none_or(|next| PLACED.contains(&&**next))
    })
}

impl Guide {
    /// True for a sentence that builds another of a thing that neither its stage nor anything in it is called by, as
    /// stages before have built: `Build the second sawhorse in the same way.`
    pub(super) fn builds_whole_again(&self, text: &str) -> bool {
        if !builds(text) || other_words(text).is_empty() {
            return false;
        }
        let title: Vec<String> = words(&self.title).map(|word| stem(&word)).collect();
        let place = Whereabouts::of(text);
        let thing = |word: &&String| !OTHERS.contains(&word.as_str());
        let mut things = place.things().iter().filter(thing).peekable();
        let near = &self.asked[self.asked.len().saturating_sub(MOST)..];
        let named = |thing: &String| {
            title.contains(thing)
                || near
                    .iter()
                    .any(|one| Whereabouts::of(&one.text).names(thing))
        };
        things.peek().is_some() && !things.any(named)
    }

    /// Keeps a sentence without hardware that builds a thing like one before it: what follows tells whether its hardware
    /// is named.
    pub(super) fn note_twin(&mut self, text: &str) {
        if !builds(text) {
            return;
        }
        let place = Whereabouts::of(text);
        let others = other_words(text);
        let ones = sides_of_ones(text);
        let title: Vec<String> = words(&self.title).map(|word| stem(&word)).collect();
        let in_title = |word: &String| title.contains(word);
        let from = self.asked.len().saturating_sub(MOST);
        let alike = |one: &Asked| {
            let there = Whereabouts::of(&one.text);
            let other = others
                .iter()
                .any(|word| !words(&one.text).any(|of| of == *word));
            let apart = place.differs_by_mark(&there);
            place.shares(&there) && (other || apart)
                || ones
                    .iter()
                    .any(|side| there.is_marked() && !there.names(side))
        };
        let mut like: Vec<usize> = (from..self.asked.len())
            .filter(|&at| wanted(&self.asked[at]).is_some() && alike(&self.asked[at]))
            .collect();
        // `Build the other side frame.` below `Side frames`
        let of_title = !others.is_empty() && place.things().iter().any(in_title);
        if like.is_empty() && of_title {
            like = (from..self.asked.len()).collect();
        }
        // `Build the other side frame.`, of which nothing here is called so
        if like.is_empty() && self.builds_whole_again(text) {
            like = (from..self.asked.len()).collect();
        }
        // `Insert two of the four bolts in the top. Insert the other two in the base.`
        if like.is_empty() && counts_others(text) {
            like = (self.joint.max(from)..self.asked.len()).collect();
        }
        if !like.is_empty() {
            let text = text.to_owned();
            self.twin = Some(Twin { text, place, like });
        }
    }

    /// Doubts what a twin may ask for again, unless the sentence right behind it calls for its hardware.
    /// `next`: that sentence.
    pub(super) fn end_twin(&mut self, twin: Twin, next: Option<&str>) {
        let goes_on = next.is_some_and(|next| {
            let place = Whereabouts::of(next);
            place.shares(&twin.place)
                || place.is_nowhere()
                || words(next).any(|word| ["it", "its", "them"].contains(&&*word))
        });
        if goes_on {
            return;
        }
        for at in twin.like {
            let one = &mut self.asked[at];
            if wanted(one).is_some() && !one.doubts.iter().any(Doubt::is_of_how_many) {
                let said = format!(
                    "\"{}\" builds one like it and names no hardware: may ask for it again; taken once",
                    twin.text
                );
                one.doubts.push(Doubt::HowMany(said.into()));
            }
        }
    }
}

/// The clause behind the items of a sentence that builds another thing like theirs and names no hardware: `Hang the left
/// door with six screws, then hang the right door.`
pub(super) fn twin_within(said: &Sentence) -> Option<&str> {
    const LINKS: &[&str] = &[" then ", "followed by ", "; ", ", and "];
    const NEXT: &[&str] = &["next", "other", "others", "rest", "remaining"];
    let text = &*said.text;
    let from = said.calls.last()?.at.end;
    let tail = text.get(from..)?;
    if said.repeat.is_some() || tail.contains(" same") || tail.contains(" likewise") {
        return None;
    }
    LINKS.iter().find_map(|link| {
        let at = from + tail.find(link)?;
        let (front, rest) = (&text[..at], &text[at + link.len()..]);
        let clause = rest.split([',', ';', ':', '.']).next()?.trim();
        let clause = clause.strip_prefix("then ").unwrap_or(clause);
        let mut all = words(clause);
        let first = all.next()?;
        // `and so does the south beam` was taken for once more.
        if first == "so" {
            return None;
        }
        let named = first == "the" && !["; ", ", and "].contains(link);
        if !(named || builds(clause)) || clause.contains(|c: char| c.is_ascii_digit()) {
            return None;
        }
        let last = all.last().unwrap_or_default();
        // `go on to the next`
        let rest_of_them = NEXT.contains(&&*last);
        let place = match named {
            true => Whereabouts::of(clause),
            false => Whereabouts::of(&format!("the {clause}")),
        };
        let there = Whereabouts::of(front);
        let other = other_words(clause)
            .iter()
            .any(|word| !words(front).any(|of| of == *word));
        let alike = place.shares(&there) && (other || place.differs_by_mark(&there));
        (rest_of_them
            || alike
            || is_lettered_apart(clause, front)
            || joins_letters(clause) && front.split(", ").any(joins_in))
        .then_some(clause)
    })
}

/// `arm R`, where `arm L` stands in front.
fn is_lettered_apart(clause: &str, front: &str) -> bool {
    let is_letter = |word: &str| matches!(word.as_bytes(), [b'A'..=b'Z']);
    let Some((lead, letter)) = clause.rsplit_once(' ').filter(|(_, of)| is_letter(of)) else {
        return false;
    };
    let noun = lead.rsplit(' ').next().unwrap_or_default();
    let all: Vec<&str> = front.split([' ', ',']).collect();
    all.windows(2)
        .any(|of| of[0] == noun && is_letter(of[1]) && of[1] != letter)
}

/// `C to D`
fn joins_letters(text: &str) -> bool {
    let mark = |word: &str| {
        word.len() <= 2 && word.starts_with(|c: char| c.is_ascii_uppercase()) && word != "I"
    };
    match *text.split(' ').collect::<Vec<_>>() {
        [one, "to", other] => mark(one) && mark(other),
        _ => false,
    }
}

/// `Bolt A to B with two bolts`
fn joins_in(text: &str) -> bool {
    let all: Vec<&str> = text.split(' ').collect();
    all.windows(3).any(|of| joins_letters(&of.join(" ")))
}

/// What a stage's name is without its number, and without what tells one side or turn from another; none where nothing
/// does: `side frame` of `Stage 2 - Right side frame`.
pub fn twin_of(title: &str) -> Option<String> {
    let mut told = false;
    let mut rest: Vec<String> = Vec::new();
    for word in words(&fold(title)) {
        let is_number = word.bytes().any(|b| b.is_ascii_digit());
        let is_stage = ["stage", "step", "section", "phase", "part"].contains(&&*word);
        let first = ["first", "last"].contains(&&*word);
        if is_side(&word) || first || OTHERS.contains(&&*word) || (word.len() == 1 && !is_number) {
            told = true;
        } else if !is_number && !is_stage {
            rest.push(stem(&word));
        }
    }
    told.then(|| rest.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_twins() {
        #[track_caller]
        fn case(title: &str, expected: Option<&str>) {
            assert_eq!(twin_of(title).as_deref(), expected, "{title}");
        }
        case("Stage 1 - Left side frame", Some("side frame"));
        case("Stage 2 - Right side frames", Some("side frame"));
        case("Second bench", Some("bench"));
        case("Frame B", Some("frame"));
        case("Stage 2: Roof", None);
    }
}
