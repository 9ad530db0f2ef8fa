//! How many there are of a thing, as a text tells: `the kit has five shelves`, `four brackets a shelf`.
//!
//! A number in front of a noun in the plural counts it, whatever the sentence is about. What a sentence
//! calls for each of them (`two screws a bracket`) asks for that number, here or in another sentence.

use super::{
    LONGEST,
    vocabulary::{
        CLAUSES, DISTANCES, LIKE_PLURALS, LONG, OTHER_FASTENERS, PARTLY, PLACING, TELLING,
    },
    wording::{names_hardware, number, singular},
};
use crate::notation::words::{Sense, look_up};

/// So many of a thing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    /// In lower case, without the s of the plural.
    pub(super) noun: String,
    pub number: u32,
    pub words: String,
    /// What has so many each: `end frame` of `four brackets on each end frame`.
    pub(super) of: Option<String>,
    /// Those of one are those of the others too: `Each purlin crosses three hoops`.
    pub(super) crossed: bool,
    /// Where it stands in its sentence.
    pub(super) at: usize,
    /// The line on which its sentence starts.
    pub row: u32,
}

impl Told {
    /// Of things told apart by their names: `posts 3 and 4`.
    pub(super) fn named(noun: &str, number: u32, words: &str, row: u32) -> Option<Told> {
        (number > 1).then(|| Told {
            noun: singular(&noun.to_ascii_lowercase()).to_owned(),
            number,
            words: words.trim().to_owned(),
            of: None,
            crossed: false,
            at: 0,
            row,
        })
    }

    /// True where the number stands behind the thing, in brackets or between commas.
    pub(super) fn is_apart(&self) -> bool {
        self.words.contains(['(', ',', ':'])
    }

    /// True for `six treads in all`.
    pub(super) fn is_of_all(&self) -> bool {
        let ends = [" in all", " total", " altogether"];
        ends.iter().any(|all| self.words.ends_with(all)) && !self.is_apart()
    }
}

/// The words of a text, cut at white space.
struct Cut<'a> {
    text: &'a str,
    words: Vec<&'a str>,
}

impl<'a> Cut<'a> {
    /// A word without the marks about it.
    fn bare(&self, i: usize) -> &'a str {
        let word = self.words.get(i).copied().unwrap_or_default();
        if let [first, .., last] = word.as_bytes()
            && first.is_ascii_alphanumeric()
            && last.is_ascii_alphanumeric()
        {
            return word;
        }
        word.trim_matches(|c: char| !c.is_alphanumeric() && c != '#')
    }

    fn is(&self, i: usize, known: &[&str]) -> bool {
        let word = self.bare(i);
        known.iter().any(|known| word.eq_ignore_ascii_case(known))
    }

    /// True where a mark stands behind a word: nothing goes on behind it.
    fn ends(&self, i: usize) -> bool {
        self.words
            .get(i)
            .is_none_or(|word| word.ends_with([',', '.', ';', ':', ')', '!', '?']))
    }

    fn at(&self, i: usize) -> usize {
        self.words[i].as_ptr() as usize - self.text.as_ptr() as usize
    }

    /// From a word to another, without the mark behind.
    fn text(&self, from: usize, to: usize) -> &'a str {
        let end = self.at(to) + self.words[to].len();
        self.text[self.at(from)..end].trim_matches(|c: char| !c.is_alphanumeric())
    }

    /// A word that may name a thing or tell of what sort it is.
    fn names(&self, i: usize) -> bool {
        let word = self.bare(i);
        let plain = |b: u8| b.is_ascii_lowercase() || b == b'-';
        // `two A-frames`
        let letters = word.as_bytes();
        let from = if letters.len() > 4 && letters[1] == b'-' {
            1
        } else {
            0
        };
        word.len() > 2
            && word.bytes().skip(from).all(plain)
            && !PLACING.contains(&word)
            && !CLAUSES.contains(&word)
            && (["foot", "feet"].contains(&word) || !counts_or_measures(word))
    }

    fn is_plural(&self, i: usize) -> bool {
        let word = self.bare(i);
        self.names(i) && singular(word) != word && (!LIKE_PLURALS.contains(&word) || self.stands(i))
    }

    /// `two stands`; not `each of the two stands on a plate`.
    fn stands(&self, i: usize) -> bool {
        self.bare(i) == "stands" && number(self.bare(i - 1)).is_some() && !self.is(i + 1, PLACING)
    }

    /// Behind the measures that begin at a word, where some do: `4 x 4`, `9 mm`.
    fn behind_measures(&self, from: usize) -> usize {
        let figure = |at: usize| self.bare(at).starts_with(|c: char| c.is_ascii_digit());
        let mut at = from;
        while figure(at) && self.is(at + 1, BY) && figure(at + 2) {
            at += 2;
        }
        // Not `six 1/2 in bushings`.
        let unit = figure(at)
            && self.is(at + 1, &["mm", "in", "inch"])
            && (at > from || self.is(at + 2, &["holes", "slots"]))
            || (figure(at) && self.is(at + 1, &["ft"]));
        // `four 4x4 legs`
        let digits = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
        let section = |word: &str| {
            let parts = word.split_once(['x', '\u{d7}']);
            parts.is_some_and(|(one, other)| digits(one) && digits(other))
        };
        match at > from || unit || section(self.bare(at)) {
            true => at + 1 + usize::from(unit),
            false => from,
        }
    }

    /// The first word in the plural among up to three, from one on.
    fn plural(&self, from: usize) -> Option<usize> {
        let mut at = self.behind_measures(from);
        let from = at;
        // `T hinges`
        let letter =
            |at: usize| self.bare(at).len() == 1 && self.bare(at).starts_with(char::is_uppercase);
        while at < from + 3 && (self.names(at) || letter(at)) {
            if self.is_plural(at) {
                return Some(at);
            }
            if self.ends(at) {
                break;
            }
            at += 1;
        }
        None
    }

    /// The words of the thing behind `each` or `a`: `of its four corners`, `end frame`.
    fn thing(&self, mut i: usize) -> Option<String> {
        if self.is(i, &["of"]) {
            i += 1;
            while self.is(i, &["the", "these", "those", "its", "their"])
                || number(self.bare(i)).is_some()
            {
                i += 1;
            }
        }
        let from = i;
        while i < from + 3 && self.names(i) && !LIKE_PLURALS.contains(&self.bare(i)) {
            i += 1;
            let closes = self.words.get(i).is_some_and(|next| next.starts_with('('));
            if closes || self.ends(i - 1) || self.is_plural(i - 1) {
                break;
            }
        }
        (i > from).then(|| self.text(from, i - 1).to_ascii_lowercase())
    }

    /// What each has so many: behind the thing that is counted, or in front of the number.
    fn of(&self, number: usize, noun: usize) -> Option<String> {
        const EACH: &[&str] = &["a", "an", "per", "each", "every"];
        if !self.ends(noun) {
            let placed = self.is(noun + 1, PLACING) || self.is(noun + 1, &["of"]);
            let each = noun + 1 + usize::from(placed);
            // Not `in a row`.
            let one = placed && self.is(each, &["a", "an"]) && !self.is(noun + 1, &["to"]);
            if self.is(each, EACH) && !one && !self.ends(each) {
                return self.thing(each + 1);
            }
        }
        // `six hoops with two brackets each`
        if self.is(noun + 1, &["each", "apiece"]) && self.ends(noun + 1) && !self.ends(noun) {
            let counted = (1..number).rev().find(|&i| self.is_plural(i));
            return counted.map(|i| singular(self.bare(i)).to_ascii_lowercase());
        }
        let mut clause = (0..number)
            .rev()
            .take_while(|&i| !self.ends(i) || self.words[i].ends_with(','));
        // `Each door hangs on three hinges`; not `each corner of the two frames`
        let each = clause.find(|&i| self.is(i, &["each", "every"]))?;
        let the = ["the", "these", "those", "of"];
        let known = number > 0 && self.is(number - 1, &the);
        // `At every post (5 posts)`
        let itself = |thing: &str| {
            let mut words = thing.split(' ');
            words.any(|word| singular(word) == singular(self.bare(noun)))
        };
        let in_brackets = self.words[number].starts_with('(');
        // `There are two frames, and each has four corners`: of which is for others to tell.
        let thing = self.thing(each + 1).unwrap_or_default();
        // `at each end of the tread, six treads in all`
        let of_it = self.is(each + 1 + thing.split(' ').count(), &["of"]);
        (!known && !in_brackets && !of_it && !itself(&thing)).then_some(thing)
    }

    /// The number in brackets that tells how many there are: `(the kit makes two)`; and where they end.
    fn in_brackets(&self, from: usize) -> Option<(u32, usize)> {
        if !self.words.get(from)?.starts_with('(') {
            return None;
        }
        let close =
            (from..self.words.len().min(from + 8)).find(|&i| self.words[i].contains(')'))?;
        let mut said = None;
        for i in from..=close {
            match number(self.bare(i)) {
                Some(n) if said.is_none() => said = Some(n),
                None if self.is(i, TELLING) => {}
                _ => return None,
            }
        }
        // `(4)`: its number in the drawing.
        said.filter(|_| close > from).map(|n| (n, close))
    }

    /// How many places words behind a thing name, and where they end: `on both sides`, `on each of the
    /// four piles`.
    fn one_at_each(&self, i: usize) -> Option<(u32, usize)> {
        let placed = self.is(i, &["on", "at", "in", "to"]);
        if placed && self.is(i + 1, &["both"]) && self.is(i + 2, &["sides", "ends"]) {
            return Some((2, i + 2));
        }
        let each = placed && self.is(i + 1, &["each"]) && self.is(i + 2, &["of"]);
        let n = i + 3 + usize::from(self.is(i + 3, &["the", "its", "their"]));
        let number = number(self.bare(n)).filter(|_| each)?;
        Some((number, self.plural(n + 1)?))
    }

    /// What has one thing each, behind it: `a post on each plate`.
    fn one_on(&self, i: usize) -> Option<String> {
        let placed = self.is(i, &["on", "at", "in", "to"]) && self.is(i + 1, &["each", "every"]);
        self.thing(i + 2).filter(|_| placed)
    }

    /// `hooks, eighteen in all`: how many, and where it ends.
    fn behind_comma(&self, noun: usize) -> Option<(u32, usize)> {
        let n = number(self.bare(noun + 1)).filter(|_| self.words[noun].ends_with(','))?;
        let end = match () {
            () if self.is(noun + 2, &["altogether"]) => noun + 2,
            // `cover strips, 5 pcs, fix with three screws each`
            () if self.is(noun + 2, PIECES) && self.ends(noun + 2) => noun + 2,
            () if self.is(noun + 2, &["in"]) && self.is(noun + 3, &["all", "total"]) => noun + 3,
            () if self.is(noun + 2, &["of"]) && self.is(noun + 3, &["them", "these"]) => noun + 3,
            () => return None,
        };
        Some((n, end))
    }
}

/// Verbs of what one thing shares with others.
const CROSSING: &[&str] = &[
    "crosses", "meets", "spans", "passes", "touches", "joins", "ties", "links",
];

/// Words between two measures.
const BY: &[&str] = &["x", "by", "\u{d7}"];

/// Words between a number and what it counts.
const PIECES: &[&str] = &["pieces", "pcs", "off", "no"];

fn counts_or_measures(word: &str) -> bool {
    let is = |sense: &Sense| {
        matches!(
            sense,
            Sense::Count(_) | Sense::Unit(_) | Sense::Metric(_) | Sense::Foot
        )
    };
    look_up(word).is_some_and(|row| row.senses.iter().any(is))
}

/// The things that a text counts; none of one that is too long for a sentence.
pub fn told(text: &str, row: u32) -> Vec<Told> {
    if text.len() > LONGEST {
        return Vec::new();
    }
    let cut = Cut {
        text,
        words: text.split_whitespace().collect(),
    };
    let mut all = Vec::new();
    let mut push = |noun: usize, n: u32, from: usize, to: usize, of: Option<String>| {
        let word = cut.bare(noun);
        let words = cut.text(from, to);
        if (n > 1 || of.is_some()) && !names_hardware(word) && !OTHER_FASTENERS.contains(&word) {
            all.push(Told {
                noun: singular(word).to_ascii_lowercase(),
                number: n,
                words: words.to_owned(),
                crossed: of.is_some() && from > 0 && cut.is(from - 1, CROSSING),
                of,
                at: words.as_ptr() as usize - text.as_ptr() as usize,
                row,
            });
        }
    };
    for i in 0..cut.words.len() {
        let word = cut.words[i];
        let brackets = cut
            .words
            .get(i + 1)
            .is_some_and(|next| next.starts_with('('));
        if (brackets || word.ends_with(',')) && cut.names(i) {
            // `four bolts per rail (eight total)` may be of the bolts.
            let of_pieces = i > 0 && cut.is(i - 1, &["per"]) && cut.is(i + 2, &["total", "in"]);
            if let Some((n, close)) = cut.in_brackets(i + 1).filter(|_| !of_pieces) {
                push(i, n, i, close, None);
            } else if cut.is_plural(i)
                && let Some((n, end)) = cut.behind_comma(i)
            {
                push(i, n, i, end, None);
            }
            continue;
        }
        // `a long brace on both sides`, `a cap on each of the four piles`, `a post on each plate`
        let article = || {
            let mut before = (i.saturating_sub(4)..i - 1).rev();
            let at = before.find(|&at| !cut.names(at))?;
            cut.is(at, &["a", "an", "one"]).then_some(at)
        };
        if i > 0 && cut.names(i - 1) && !cut.ends(i - 1) {
            let many = cut.one_at_each(i).map(|(n, end)| (n, end, None));
            let one = || cut.one_on(i).map(|of| (1, i + 2, Some(of)));
            if let Some((n, end, of)) = many.or_else(one)
                && let Some(at) = article()
            {
                push(i - 1, n, at, end, of);
            }
        }
        // `Number of treads: 13`
        if cut.is(i, &["number"]) && cut.is(i + 1, &["of"]) {
            let noun = (i + 2..i + 5).find(|&at| cut.ends(at)).unwrap_or(i);
            let n = number(cut.bare(noun + 1)).filter(|_| cut.is_plural(noun));
            if let Some(n) = n {
                push(noun, n, i, noun + 1, None);
            }
            continue;
        }
        // `The roof plates are 6 pieces.`
        let are = i > 1 && cut.is(i - 1, &["are"]) && cut.is_plural(i - 2);
        if let Some(n) = number(cut.bare(i)).filter(|_| are && cut.is(i + 1, PIECES)) {
            push(i - 2, n, i - 2, i + 1, None);
            continue;
        }
        let pair = cut.is(i, &["pair"]) && cut.is(i + 1, &["of"]);
        let two = pair || cut.is(i, &["both"]);
        let n = number(cut.bare(i)).or_else(|| two.then_some(2));
        // `two bolts per panel, (6) panels`
        let in_brackets = cut.words[i].starts_with('(') && cut.words[i].ends_with(')');
        let Some(n) = n.filter(|_| !cut.ends(i) || in_brackets) else {
            continue;
        };
        // Not the second of `2 x 4 rails`.
        let figure = |at: usize| cut.bare(at).ends_with(|c: char| c.is_ascii_digit());
        if i > 1 && cut.is(i - 1, BY) && (figure(i - 2) || number(cut.bare(i - 2)).is_some()) {
            continue;
        }
        // `joined by five rungs`
        let by = i > 1 && cut.is(i - 1, &["by"]);
        let partly = i > 0
            && cut.is(i - 1, PARTLY)
            && !by
            && !cut.ends(i - 1)
            && !cut.words[i].starts_with('(');
        if let Some(noun) = cut.plural(i + 1 + usize::from(pair || cut.is(i + 1, PIECES)))
            && !partly
            && !(cut.is(noun, &["feet"]) && (cut.is(noun + 1, DISTANCES) || cut.is(noun + 1, LONG)))
        {
            let in_all = cut.is(noun + 1, &["in"]) && cut.is(noun + 2, &["all"]) && !cut.ends(noun);
            // `12 clips total`
            let total = cut.is(noun + 1, &["total", "altogether"]) && !cut.ends(noun);
            let to = noun + if in_all { 2 } else { usize::from(total) };
            push(noun, n, i, to, cut.of(i, noun));
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, expected: &[(u32, &str, Option<&str>)]) {
        let found = told(text, 1);
        let found: Vec<_> = found
            .iter()
            .map(|told| (told.number, &*told.noun, told.of.as_deref()))
            .collect();
        assert_eq!(found, expected, "{text}");
    }

    #[test]
    fn things_that_a_text_counts() {
        case("The kit has five shelves.", &[(5, "shelf", None)]);
        case(
            "There are 12 end posts and six rails.",
            &[(12, "post", None), (6, "rail", None)],
        );
        case(
            "Three shelves, four brackets a shelf.",
            &[(3, "shelf", None), (4, "bracket", Some("shelf"))],
        );
        case(
            "Fit four brackets to each end frame.",
            &[(4, "bracket", Some("end frame"))],
        );
        case(
            "Each of the two end frames has four corners.",
            &[(2, "frame", None), (4, "corner", Some("end frames"))],
        );
        case(
            "For each raised bed (the kit makes two), use 16 screws.",
            &[(2, "bed", None)],
        );
        case(
            "The slats (there are five of them) lie flat.",
            &[(5, "slat", None)],
        );
        case(
            "Hang the hooks, eighteen in all, from the rail.",
            &[(18, "hook", None)],
        );
        case(
            "There is a long brace on both sides.",
            &[(2, "brace", None), (2, "side", None)],
        );
        case("Fasten the four feet.", &[(4, "foot", None)]);
        case("Lay the four 2 x 6 boards.", &[(4, "board", None)]);
        case("Drill four 9 mm holes.", &[(4, "hole", None)]);
        case("We make two stands.", &[(2, "stand", None)]);
        case("Each of the two stands on a plate.", &[]);
        case("They are joined by five rungs.", &[(5, "rung", None)]);
        case("Lay the 2 by 4 boards.", &[]);
        case("Hang it on a pair of hinges.", &[(2, "hinge", None)]);
        case("Stand a post on each plate.", &[(1, "post", Some("plate"))]);
        case("The roof plates are 6 pieces.", &[(6, "plate", None)]);
        case("Lay 4 pcs. sleepers.", &[(4, "sleeper", None)]);
        case("Number of treads: 13.", &[(13, "tread", None)]);
        case("At every post (5 posts).", &[(5, "post", None)]);
        case("Bolt on the panels, (6) panels.", &[(6, "panel", None)]);
        case("The cover strips, 5 pcs, lie flat.", &[(5, "strip", None)]);
        case(
            "Each door hangs on three hinges.",
            &[(3, "hinge", Some("door"))],
        );
        case(
            "There are two frames, and each has four corners.",
            &[(2, "frame", None), (4, "corner", Some(""))],
        );
        case("Hang it on a pair of T hinges.", &[(2, "hinge", None)]);
        case("Screw on the clips, 12 clips total.", &[(12, "clip", None)]);
        case("There are two A-frames.", &[(2, "a-frame", None)]);
        case("At each corner of the two frames.", &[(2, "frame", None)]);
        case(
            "At each end of the tread, six treads in all.",
            &[(6, "tread", None)],
        );
        case(
            "Sit a cap on each of the four piles.",
            &[(4, "cap", None), (4, "pile", None)],
        );
        // a part of them, a size, a number in the drawing, hardware
        case("Fit the other two posts.", &[]);
        case("Lay the 2 x 6 boards.", &[]);
        case("Lay the 2 x 6 x 96 in boards.", &[]);
        case("The board is six feet long.", &[]);
        case("Take the slats (4).", &[]);
        case("Fit four hex bolts.", &[]);
        case("It needs two of these.", &[]);
    }
}
