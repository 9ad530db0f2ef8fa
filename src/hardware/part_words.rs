//! A part's words as they are compared. The plural (`gutter clips`), spaces between figures
//! (`2000 x 1050`, `2000x1050`) and the order of words (`HANGER,JOIST,2X8`) make no other part; every word
//! and every figure does, and so does the order of figures and of sides. Common practice, no source.

use super::{size::Diameter, thread::coarse};

/// The words of a part, told apart by what their order says.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct PartWords {
    /// Without the plural, in order of the alphabet.
    words: Vec<Box<str>>,
    /// Figures, what holds one (`z40`) and single letters, in the order written.
    figures: Vec<Box<str>>,
    /// Words that say which of two, in the order written.
    sides: Vec<Box<str>>,
}

/// What a part's words say besides.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Written {
    pub words: PartWords,
    /// All of them in the order written.
    pub in_order: Vec<Box<str>>,
    /// The same, each figure that a unit stands behind in millimetres or inches: `2.4 m`, `2400 mm`.
    pub in_one_unit: Vec<Box<str>>,
    /// Units behind figures, each once, in order: a unit may be left out where the other side says it.
    pub units: Vec<&'static str>,
    /// Finishes, each once, in order: like a unit.
    pub finish: Vec<&'static str>,
    /// How many of them stand before the first comma or bracket, if there is one.
    before_comma: Option<usize>,
}

/// Units of length, angle, mass, force, voltage, power and volume, as a part's words have them behind a figure.
const UNITS: &[(&str, &str)] = &[
    ("mm", "mm"),
    ("cm", "cm"),
    ("m", "m"),
    ("in", "in"),
    ("ins", "in"),
    ("inch", "in"),
    ("inches", "in"),
    ("ft", "ft"),
    ("foot", "ft"),
    ("feet", "ft"),
    ("deg", "deg"),
    ("degree", "deg"),
    ("degrees", "deg"),
    ("kg", "kg"),
    ("lb", "lb"),
    ("lbs", "lb"),
    ("n", "n"),
    ("kn", "kn"),
    ("v", "v"),
    ("w", "w"),
    ("l", "l"),
    ("ltr", "l"),
    ("litre", "l"),
    ("litres", "l"),
    ("liter", "l"),
    ("liters", "l"),
];

/// Units of which one of the same system is a whole number.
const LARGER: &[(&str, &str, u32)] = &[("m", "mm", 1000), ("cm", "mm", 10), ("ft", "in", 12)];

/// Finishes as a part's words have them, and the plain word for each. Common practice, no source.
const FINISHES: &[(&str, &str)] = &[
    ("galvanised", "galvanised"),
    ("galvanized", "galvanised"),
    ("galvd", "galvanised"),
    ("galv", "galvanised"),
    ("hdg", "galvanised"),
    ("zinc", "zinc"),
    ("zn", "zinc"),
    ("zp", "zinc"),
    ("bzp", "zinc"),
    ("stainless", "stainless"),
    ("inox", "stainless"),
    ("ss", "stainless"),
];
/// Words that say no more beside a finish: before it, and behind it.
const BEFORE_FINISH: &[&str] = &["hot", "dip", "dipped"];
const BEHIND_FINISH: &[(&str, &str)] = &[("zinc", "plated"), ("stainless", "steel")];

/// Words of which a name may hold two, so that their order counts: `left bracket, right rail`.
const SIDES: &[&str] = &[
    "left", "right", "upper", "lower", "top", "bottom", "front", "rear", "back", "inner", "outer",
    "inside", "outside", "north", "south", "east", "west", "near", "far", "male", "female", "long",
    "short", "large", "small", "with", "without", "not", "no",
];

/// Words that are written in two ways, and the one that stands for both. Common practice, no source.
const SPELT: &[(&str, &str)] = &[
    ("lh", "left"),
    ("rh", "right"),
    ("gray", "grey"),
    ("aluminum", "aluminium"),
    ("caster", "castor"),
    ("assy", "assembly"),
    ("incl", "with"),
    ("including", "with"),
];

/// Sides that some call by the one word and some by the other. Common practice, no source.
const SAME_SIDES: &[(&str, &str)] = &[
    ("top", "upper"),
    ("bottom", "lower"),
    ("inside", "inner"),
    ("outside", "outer"),
    ("back", "rear"),
];

/// Colours: a part of another colour is another part. Common practice, no source.
const COLOURS: &[&str] = &[
    "black", "white", "grey", "silver", "brown", "red", "green", "blue", "yellow", "clear",
];

/// Words of which many parts bear one.
const COMMON: &[&str] = &[
    "with", "without", "and", "for", "the", "set", "pair", "piece", "part", "kit", "pack", "bag",
    "box", "of",
];

/// Words behind the noun of a name: what it comes with, is for, or is a part of (common practice, no source).
const BEHIND_NOUN: &[&str] = &[
    "with", "without", "for", "of", "to", "from", "under", "over", "on", "onto", "in", "at", "by",
    "inside", "behind", "and", "plus",
];

/// True for a word that stands behind the noun of a name and leads to another.
pub fn is_behind_noun(word: &str) -> bool {
    BEHIND_NOUN.contains(&word)
}

/// Nouns that say no more than that it is a piece of something (common practice, no source).
const ANY_PARTS: &[&str] = &["panel", "section", "element", "piece", "unit", "profile"];

/// Marks of what a thing is made of, or of its nominal size, and their figures: nominal sizes and pressures of pipes (ISO
/// 6708, EN 1333), strength classes of timber (EN 338), steels (EN 10025), colours (RAL), enclosures (IEC 60529). From
/// memory.
const PROPERTIES: &[(&str, &[&str])] = &[
    ("dn", &[]),
    ("pn", &[]),
    ("ral", &[]),
    ("ip", &[]),
    ("c", &["16", "18", "24", "30"]),
    ("s", &["235", "275", "355"]),
];

/// What stands in front of the figures of a nominal size, a colour or a rolled section (EN 10365, from memory).
const BEFORE_FIGURES: &[&str] = &[
    "dn", "pn", "ral", "ip", "ipe", "hea", "heb", "hem", "upn", "unp", "upe", "shs", "rhs", "chs",
];

/// True for such a mark, which is part of a name and no maker's number: `DN25`, `C24`, `S355J2`.
pub fn is_property(word: &str) -> bool {
    let letters = word.find(|c: char| !c.is_ascii_alphabetic());
    let Some((letters, rest)) = letters.map(|at| word.split_at(at)) else {
        return false;
    };
    let end = rest
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(rest.len());
    let (figures, behind) = rest.split_at(end);
    PROPERTIES.iter().any(|(of, known)| {
        let fits = match known {
            [] => figures.len() < 5 && behind.is_empty(),
            known => {
                known.contains(&figures) && behind.len() < 4 && !behind.contains(['-', '/', '.'])
            }
        };
        letters.eq_ignore_ascii_case(of) && fits && !figures.is_empty()
    })
}

/// True for what says how large a part is, or of what it is made, and not which of them it is: `m8`, `c24`, `hea`.
fn is_nominal(figure: &str) -> bool {
    let thread = figure.strip_prefix('m').and_then(|size| size.parse().ok());
    let is_standard = |size: i64| coarse(Diameter::Metric(size.into())).is_some();
    BEFORE_FIGURES.contains(&figure) || is_property(figure) || thread.is_some_and(is_standard)
}

impl Written {
    /// Reads the words of a description.
    pub fn of(description: &str) -> Written {
        let mut written = Written::default();
        let text = hands(description.to_lowercase().replace('\u{d7}', "x"));
        let mut rest = text.as_str();
        let mut before = ' ';
        while let Some(first) = rest.chars().next() {
            let is_figure = first.is_ascii_digit()
                || (first == '.'
                    && !before.is_alphanumeric()
                    && rest[1..].starts_with(|c: char| c.is_ascii_digit()));
            if matches!(first, ',' | '(') && !written.in_order.is_empty() {
                written.before_comma.get_or_insert(written.in_order.len());
            }
            let length = match first {
                _ if is_figure => written.figure(rest),
                _ if first.is_alphanumeric() => written.word(rest, before),
                '"' | '\u{2033}' | '\u{201d}' if before.is_ascii_digit() => written.unit("in", 0),
                '\'' | '\u{2032}' | '\u{2019}' if before.is_ascii_digit() => written.unit("ft", 0),
                '\u{b0}' if before.is_ascii_digit() => written.unit("deg", 0),
                '&' | '+' if before == ' ' => {
                    written.push_word("and");
                    0
                }
                _ => 0,
            };
            let (taken, left) = rest.split_at(length.max(first.len_utf8()));
            before = taken.chars().next_back().unwrap_or(' ');
            rest = left;
        }
        written.words.words.sort_unstable();
        written.units.sort_unstable();
        written.units.dedup();
        written.finish.sort_unstable();
        written.finish.dedup();
        written
    }

    /// True where all that one says the other says, too, and no other finish: a qualifier more on one
    /// side may be the same part, or not.
    pub fn may_be(&self, other: &Written) -> bool {
        let one_finish =
            self.finish.is_empty() || other.finish.is_empty() || self.finish == other.finish;
        one_finish && self.words.may_be(&other.words)
    }

    /// True where the other says nothing more than dimensions: `200 x 200 x 10`, `1980 mm`.
    pub fn lacks_dimensions_of(&self, other: &Written) -> bool {
        other.is_measured()
            && self.words.figures.is_empty()
            && self.words.words == other.words.words
            && self.words.sides == other.words.sides
    }

    /// True where it is no more than the noun of the other, or that with a few of its words: `pods` and `stepping pod`.
    pub fn is_noun_of(&self, other: &Written) -> bool {
        let (own, others) = (&self.words.figures, &other.words.figures);
        (own == others || own.is_empty() && other.is_measured())
            && self.words.within(&other.words)
            && self.words.one_side(&other.words)
            && self
                .noun()
                .is_some_and(|own| other.nouns().any(|noun| noun == own))
    }

    /// True where its figures are dimensions, and no mark or number of it: several, with a unit, or one of two digits and
    /// more; the size of a thread is one (common practice, no source).
    fn is_measured(&self) -> bool {
        let figures = &self.words.figures;
        let long = figures.first().is_some_and(|figure| figure.len() > 1);
        let measured = figures.len() > 1 || long || !figures.is_empty() && !self.units.is_empty();
        let is_size =
            |figure: &str| figure.starts_with(|c: char| c.is_ascii_digit()) || is_nominal(figure);
        measured && figures.iter().all(|figure| is_size(figure))
    }

    /// True where the other, of which `head` stands before its last comma, says more behind that alone: `cap` and
    /// `cap, PVC`.
    pub fn is_head_of(&self, other: &Written, head: &str) -> bool {
        let within = self.words.within(&other.words) && self.words.sides == other.words.sides;
        within && Written::of(head).words == self.words
    }

    /// The words by which a part goes: its noun, and what stands before one that any part may have (`trellis panel`).
    pub fn nouns(&self) -> impl Iterator<Item = &str> {
        let mut last = self.named_by();
        let noun = last.next();
        let before = last.next();
        let before = before.filter(|_| noun.is_some_and(|noun| ANY_PARTS.contains(&noun)));
        noun.into_iter().chain(before)
    }

    /// The last word but for a side, before what it comes with or is for, before figures and before a comma.
    pub fn noun(&self) -> Option<&str> {
        self.named_by().next()
    }

    /// What stands before that, too, the last word first.
    fn named_by(&self) -> impl Iterator<Item = &str> {
        let is_named = |word: &str| {
            let letters = word.chars().all(char::is_alphabetic) && word.len() > 1;
            letters && !BEHIND_NOUN.contains(&word) && !BEFORE_FIGURES.contains(&word)
        };
        let words = &self.in_order[..self.before_comma.unwrap_or(self.in_order.len())];
        let end = words.iter().position(|word| !is_named(word));
        let words = words[..end.unwrap_or(words.len())].iter().rev();
        words
            .map(AsRef::as_ref)
            .filter(|word| !SIDES.contains(word))
    }

    /// How many words the two share, and a size as one more, in whatever order and unit of length its figures
    /// stand; `None` where a figure, a side, a colour or a finish tells them apart.
    pub fn in_common(&self, other: &Written) -> Option<u32> {
        let (a, b) = (&self.words, &other.words);
        let one_finish =
            self.finish.is_empty() || other.finish.is_empty() || self.finish == other.finish;
        let one_mark =
            is_part_of(&a.letters(), &b.letters()) || is_part_of(&b.letters(), &a.letters());
        let (own, others) = (self.sizes(), other.sizes());
        // A nominal inch is not the millimetres that the other side states.
        let (own_units, other_units) = (self.systems(), other.systems());
        let other_system = !own_units.is_empty()
            && !other_units.is_empty()
            && own_units.iter().all(|unit| !other_units.contains(unit));
        let alike = other_system || are_among(&own, &others) || are_among(&others, &own);
        let one_size = one_mark && alike;
        if !one_finish || !one_size || self.is_apart(other) {
            return None;
        }
        let shared = self.telling_in_common(other).count() as u32;
        let one_size = !other_system && !own.is_empty() && own.len() == others.len();
        Some(shared + u32::from(one_size))
    }

    /// True where a figure, a side, a colour or a finish tells the two apart.
    pub fn contradicts(&self, other: &Written) -> bool {
        self.in_common(other).is_none()
    }

    /// Its sizes, each as the figures that it may be: as written, and in millimetres or inches where a length of it is
    /// in a larger unit.
    pub fn sizes(&self) -> Vec<Vec<String>> {
        let figures = self.words.figures.iter();
        let sizes = figures.filter(|figure| figure.starts_with(|c: char| c.is_ascii_digit()));
        let ways = sizes.map(|figure| {
            let larger = LARGER.iter().filter(|(unit, ..)| self.units.contains(unit));
            let ways = larger.filter_map(|(.., times)| multiplied(figure, *times));
            ways.chain([figure.to_string()]).collect()
        });
        ways.collect()
    }

    /// The systems of its units, each once: that of a larger unit is its smaller's.
    pub fn systems(&self) -> Vec<&'static str> {
        let units = self.units.iter();
        let smaller = units.map(|unit| {
            let larger = LARGER.iter().find(|(larger, ..)| larger == unit);
            larger.map_or(*unit, |(_, smaller, _)| smaller)
        });
        let mut systems: Vec<&str> = smaller.collect();
        systems.sort_unstable();
        systems.dedup();
        systems
    }

    /// True where the two share a word that tells parts apart, and no side or colour parts them. Figures are not
    /// asked.
    pub fn share_a_word(&self, other: &Written) -> bool {
        !self.is_apart(other) && self.telling_in_common(other).next().is_some()
    }

    /// True where both say a side, or a colour, and not the same.
    fn is_apart(&self, other: &Written) -> bool {
        let own = |words: &Written, of: &[&str]| -> Vec<Box<str>> {
            let words = words.words.words.iter();
            let told = words.filter(|word| of.contains(&word.as_ref()));
            let told = told.map(|word| {
                let same = SAME_SIDES.iter().find(|(one, _)| **one == **word);
                same.map_or(word.clone(), |(_, other)| (*other).into())
            });
            told.collect()
        };
        [SIDES, COLOURS].iter().any(|of| {
            let (a, b) = (own(self, of), own(other, of));
            !a.is_empty() && !b.is_empty() && a != b
        })
    }

    fn telling_in_common<'a>(&'a self, other: &'a Written) -> impl Iterator<Item = &'a str> {
        let own = self.words.words();
        let telling = own.filter(|word| !COMMON.contains(word));
        telling.filter(|word| other.words.holds(word))
    }

    /// A figure, or what begins with one: `2`, `1/2`, `2,5`, `24in`, `2x8`, `3d`. Gives its length.
    fn figure(&mut self, text: &str) -> usize {
        let bytes = text.as_bytes();
        let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
        let mut end = 0;
        while digit(end) || (matches!(bytes.get(end), Some(b'.' | b',' | b'/')) && digit(end + 1)) {
            end += 1;
        }
        // `600/400`: two figures.
        if let Some((above, below)) = text[..end].split_once('/')
            && above.len() > 1
            && below.len() > 1
            && above > below
            && above.len() >= below.len()
        {
            end = above.len();
        }
        let rest = &text[end..];
        let letters = rest
            .find(|c: char| !c.is_alphabetic())
            .map_or(rest, |at| &rest[..at]);
        let after = rest[letters.len()..].chars().next();
        let figure = text[..end].replace(',', ".");
        let figure = match figure.strip_prefix('.') {
            Some(part) => format!("0.{part}"),
            None => figure,
        };
        if let Some(unit) = unit(letters) {
            self.push_figure(&figure);
            return self.unit(unit, end + letters.len());
        }
        // `2x8`: two figures.
        if letters.is_empty() || (letters == "x" && after.is_some_and(|c| c.is_ascii_digit())) {
            self.push_figure(&figure);
            return end + letters.len();
        }
        let whole = end + letters.len();
        self.push_figure(&text[..whole]);
        whole
    }

    /// A word, or a code that holds a figure. Gives its length.
    fn word(&mut self, text: &str, before: char) -> usize {
        let end = text
            .find(|c: char| !c.is_alphanumeric())
            .unwrap_or(text.len());
        let word = &text[..end];
        let rest = &text[end..];
        // `HEA 100`, `DN25`
        let letters = word.find(|c: char| c.is_ascii_digit());
        let (mark, behind) = text.split_at(letters.unwrap_or(end));
        if BEFORE_FIGURES.contains(&mark)
            && behind
                .trim_start()
                .starts_with(|c: char| c.is_ascii_digit())
        {
            self.push_figure(mark);
            return mark.len();
        }
        let behind_figure = before == ' '
            && self
                .in_order
                .last()
                .is_some_and(|last| last.starts_with(|c: char| c.is_ascii_digit()));
        if behind_figure
            && !rest.starts_with('/')
            && let Some(unit) = unit(word)
        {
            return self.unit(unit, end);
        }
        // `2 x 8`: the sign between two figures.
        let figure_next = rest.trim_start().starts_with(|c: char| c.is_ascii_digit());
        if word == "x" && behind_figure && figure_next {
            return end;
        }
        // `L = 1200`
        if word.len() == 1 && rest.trim_start().starts_with('=') {
            return end;
        }
        if word == "w" && rest.starts_with('/') {
            self.push_word("with");
            return end + 1;
        }
        match word.contains(|c: char| c.is_ascii_digit()) || word.chars().count() == 1 {
            true => self.push_figure(word),
            false => self.push_word(&singular(word)),
        }
        end
    }

    fn push_figure(&mut self, figure: &str) {
        self.words.figures.push(figure.into());
        self.in_order.push(figure.into());
        self.in_one_unit.push(figure.into());
    }

    fn push_word(&mut self, word: &str) {
        if let Some((_, finish)) = FINISHES.iter().find(|(written, _)| *written == word) {
            while let Some(last) = self.in_order.last()
                && BEFORE_FINISH.contains(&&**last)
            {
                self.in_order.pop();
                self.in_one_unit.pop();
                self.words.words.pop();
            }
            self.finish.push(finish);
            return;
        }
        if (self.finish.last()).is_some_and(|finish| BEHIND_FINISH.contains(&(finish, word))) {
            return;
        }
        let spelt = SPELT.iter().find(|(written, _)| *written == word);
        let word = spelt.map_or(word, |(_, stands)| stands);
        if SIDES.contains(&word) {
            self.words.sides.push(word.into());
        }
        // `left hand`
        let behind_side = matches!(
            self.in_order.last().map(AsRef::as_ref),
            Some("left" | "right")
        );
        if behind_side && matches!(word, "hand" | "handed") {
            return;
        }
        self.words.words.push(word.into());
        self.in_order.push(word.into());
        self.in_one_unit.push(word.into());
    }

    /// The unit of the last figure; in centimetres or feet that of those before it, too, which have none: `60 x 40 cm`.
    fn unit(&mut self, unit: &'static str, length: usize) -> usize {
        if let Some((.., times)) = LARGER.iter().find(|(larger, ..)| *larger == unit) {
            let most = if *times < 100 { usize::MAX } else { 1 };
            let figures = self.in_one_unit.iter_mut().zip(&self.in_order).rev();
            let figures = figures.take_while(|(figure, written)| {
                figure == written && figure.starts_with(|c: char| c.is_ascii_digit())
            });
            for (figure, _) in figures.take(most) {
                if let Some(length) = multiplied(figure, *times) {
                    *figure = length.into();
                }
            }
        }
        self.units.push(unit);
        length
    }
}

/// Spells out what stands for a hand: `side panel (l)`, `panel l/h`, `panel r.h.`.
fn hands(text: String) -> String {
    const HANDS: [(&[&str], &str); 2] = [
        (&["(l)", "(lh)", "l/h", "l.h.", "l.h"], "lh"),
        (&["(r)", "(rh)", "r/h", "r.h.", "r.h"], "rh"),
    ];
    let may_be_marked = ["(l", "(r", "/h", ".h"].iter().any(|of| text.contains(of));
    if !may_be_marked {
        return text;
    }
    let word = |word: &str| {
        let bare = word.trim_matches([',', ';', '-']);
        let hand = HANDS.iter().find(|(marks, _)| marks.contains(&bare));
        hand.map_or(word.to_owned(), |(_, hand)| (*hand).to_owned())
    };
    text.split(' ').map(word).collect::<Vec<_>>().join(" ")
}

impl PartWords {
    pub fn words(&self) -> impl Iterator<Item = &str> {
        self.words.iter().map(AsRef::as_ref)
    }

    /// The words but for sides, where there are figures or sides besides that tell it from others of the name.
    pub fn name(&self) -> Option<String> {
        let words = self.words.iter().filter(|word| !self.sides.contains(word));
        let words: Vec<&str> = words.map(AsRef::as_ref).collect();
        let told = !self.figures.is_empty() || !self.sides.is_empty();
        (told && !words.is_empty()).then(|| words.join(" "))
    }

    /// Marks of pieces, letters and figures in one: `p1`, `z40`.
    pub fn marks(&self) -> impl Iterator<Item = &str> {
        let is_mark = |figure: &&str| {
            figure.starts_with(|c: char| c.is_ascii_alphabetic())
                && figure.ends_with(|c: char| c.is_ascii_digit())
                && !is_nominal(figure)
        };
        self.figures.iter().map(AsRef::as_ref).filter(is_mark)
    }

    fn holds(&self, word: &str) -> bool {
        self.words
            .binary_search_by(|own| own.as_ref().cmp(word))
            .is_ok()
    }

    /// Figures that begin with a letter, and single letters.
    fn letters(&self) -> Vec<Box<str>> {
        let begins_with_digit = |figure: &str| figure.starts_with(|c: char| c.is_ascii_digit());
        let letters = self.figures.iter();
        letters
            .filter(|of| !begins_with_digit(of))
            .cloned()
            .collect()
    }

    /// True where both say the same of which of two it is: what comes with it is no such word.
    pub fn one_side(&self, other: &PartWords) -> bool {
        let sides = |of: &PartWords| -> Vec<Box<str>> {
            let told = of.sides.iter().filter(|side| side.as_ref() != "with");
            told.cloned().collect()
        };
        sides(self) == sides(other)
    }

    /// True where a maker's number stands among the figures.
    pub fn holds_code(&self, number: &str) -> bool {
        let mut figures = self.figures.iter();
        figures.any(|figure| figure.eq_ignore_ascii_case(number))
    }

    /// True where the other says all that this one says, which is a word at least.
    pub fn within(&self, other: &PartWords) -> bool {
        !self.words.is_empty()
            && is_part_of(&self.words, &other.words)
            && is_part_of(&self.figures, &other.figures)
    }

    /// True where all that one says the other says, too, and at least one word of it.
    fn may_be(&self, other: &PartWords) -> bool {
        self.within(other) || other.within(self)
    }
}

/// True where `b` holds all of `a`, in the order of `a`.
fn is_part_of(a: &[Box<str>], b: &[Box<str>]) -> bool {
    let mut b = b.iter();
    a.iter().all(|wanted| b.any(|has| has == wanted))
}

/// True where each of `a` is one of `b`, and no two the same one.
fn are_among(a: &[Vec<String>], b: &[Vec<String>]) -> bool {
    let mut left: Vec<&Vec<String>> = b.iter().collect();
    a.iter().all(|size| {
        let same = left
            .iter()
            .position(|other| size.iter().any(|way| other.contains(way)));
        same.map(|at| left.swap_remove(at)).is_some()
    })
}

/// A decimal figure some times, where that is a whole number: `2.4` a thousand times is `2400`.
fn multiplied(figure: &str, times: u32) -> Option<String> {
    let (whole, part) = figure.split_once('.').unwrap_or((figure, ""));
    let digits: u64 = format!("{whole}{part}").parse().ok()?;
    let parts = 10_u64.checked_pow(u32::try_from(part.len()).ok()?)?;
    let product = digits.checked_mul(times.into())?;
    (product % parts == 0).then(|| (product / parts).to_string())
}

fn unit(word: &str) -> Option<&'static str> {
    let found = UNITS.iter().find(|(written, _)| *written == word)?;
    Some(found.1)
}

/// A word without its plural; of what ends in -f, the stem of the plural: `shelve`.
fn singular(word: &str) -> String {
    let ends = |ends: &[&str]| ends.iter().any(|end| word.ends_with(end));
    if word.chars().count() < 4 {
        return word.to_owned();
    }
    if let Some(stem) = word.strip_suffix("feet") {
        return format!("{stem}foot");
    }
    let one = if word.ends_with("ies") && word.len() > 4 {
        return format!("{}y", &word[..word.len() - 3]);
    } else if ends(&["xes", "ches", "shes", "sses"]) {
        &word[..word.len() - 2]
    } else if word.ends_with('s') && !ends(&["ss", "us", "is"]) {
        &word[..word.len() - 1]
    } else {
        word
    };
    match one.strip_suffix("fe").or(one.strip_suffix('f')) {
        Some(stem) if one.len() > 3 => format!("{stem}ve"),
        _ => one.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn properties_are_no_numbers() {
        for word in ["DN25", "pn10", "C24", "S355", "S355J2", "RAL7016", "IP65"] {
            assert!(is_property(word), "{word}");
        }
        for word in ["DN", "C12", "C24-7", "S35", "FB210", "RAL70161", "P1", "24"] {
            assert!(!is_property(word), "{word}");
        }
    }

    /// The same part by rule, apart from units.
    #[track_caller]
    fn same(a: &str, b: &str, expected: bool) {
        let (one, other) = (Written::of(a), Written::of(b));
        assert_eq!(one.words == other.words, expected, "{one:?}\n{other:?}");
    }

    /// Perhaps the same part.
    #[track_caller]
    fn may_be(a: &str, b: &str, expected: bool) {
        let (a, b) = (Written::of(a), Written::of(b));
        assert_eq!(a.may_be(&b), expected, "{a:?}\n{b:?}");
        assert_eq!(b.may_be(&a), expected, "{a:?}\n{b:?}");
    }

    #[test]
    fn the_same_by_rule() {
        same("ridge clip", "ridge clips", true);
        same("deck bracket", "bracket, deck", true);
        same("cover strip 1800 x 90", "cover strips 1800x90", true);
        same("cover strip 1800 \u{d7} 90", "cover strip 1800x90", true);
        same("prop 2100", "prop 2100 mm", true);
        same("prop 2100mm", "props 2100 mm", true);
        same("mat 2,5 x 60", "mat 2.5x60", true);
        same("rail post 42 in", "rail post 42\"", true);
        same("leg 3'", "legs 3 ft", true);
        same("plate, 1-1/2 wide", "plate 1 1/2 wide", true);
        same("shelf", "shelves", true);
        same("post foot", "post feet", true);
        same("side panel (l)", "left side panel", true);
        same("side panel, r.h.", "side panel right", true);
        same("side panel l/h", "side panel (r)", false);
        same("coil/housing", "coil housing", true);
        same("valve", "valves", true);
        same("panel gray", "panels, grey", true);
        same("castor", "casters", true);
        same("panel 600 x 400", "panel 600/400", true);
        same("rail 1200", "rail L=1200", true);
        same("elbow 90\u{b0}", "elbow 90 deg", true);
        same("door incl. lock", "door with lock", true);
        same("counterweight 10 kg", "counterweights 10kg", true);
        same("leg assy", "leg assembly", true);
        same("tank 60 l", "tanks 60L", true);
        same("post HEA 100", "posts hea100", true);
        same("post SHS 80x80x4", "post shs80 x 80 x 4", true);
        same("panel RAL 7016", "panel ral7016", true);
        same("hasp & staple", "hasp and staple", true);
        same("base box", "base boxes", true);
        same("tray w/ lid", "tray with lid", true);
        same("brace z40", "braces Z40", true);
        same("a-frame leg", "a-frame legs", true);
        // What they are coated with stands apart.
        same("strap, hot-dip galvanized", "straps HDG", true);
        same("brace 2 x 2, zinc plated", "brace 2x2 zn", true);
        same("hinge, BZP", "hinges, zinc plated", true);
        same("cleat, stainless steel", "cleat", true);
        // Common practice, no source.
        same("upright LH", "upright, left", true);
        same("upright RH", "right-hand uprights", true);
    }

    #[test]
    fn what_tells_parts_apart() {
        same("girder shoe, left", "girder shoe, right", false);
        same("upright LH", "upright right hand", false);
        same("upper rail", "lower rail", false);
        same("left cap, right rail", "right cap, left rail", false);
        same("plate 2 hole 4", "plate 4 hole 2", false);
        same("plate .5", "plate 5", false);
        same("plate 1/2", "plate 12", false);
        same("brace z40", "brace z41", false);
        same("leg", "leg a", false);
        same("cap, black", "cap", false);
        same("truss", "tru", false);
        same("tray with lid", "tray without lid", false);
    }

    #[test]
    fn perhaps_the_same() {
        may_be("roof post p1, with foot", "posts p1", true);
        may_be("corner plate", "corner plate, black", true);
        may_be("corner plate, white", "corner plate, black", false);
        may_be("brace z40, 3 m", "brace z41", false);
        may_be("12", "12 x 40", false);
        may_be("corner plate, galv", "corner plate, zinc, left", false);
        may_be("tie rod eye/eye", "tie rod hook/eye", false);
    }

    /// What two names have in common, where nothing tells them apart.
    #[track_caller]
    fn common(a: &str, b: &str, expected: Option<u32>) {
        let (a, b) = (Written::of(a), Written::of(b));
        assert_eq!(a.in_common(&b), expected, "{a:?}\n{b:?}");
        assert_eq!(b.in_common(&a), expected, "{a:?}\n{b:?}");
    }

    #[test]
    fn what_names_have_in_common() {
        common("ridge clip", "wire ridge clips", Some(2));
        common("corner brace 2 x 2, zinc", "angle cleats 2x2 zinc", Some(1));
        common("awning", "sun sail", Some(0));
        common("set of hooks", "set of pins", Some(0));
        common("rail 900", "rail 1200", None);
        common("rope 12 mm x 20 m", "20 m rope 12mm", Some(2));
        common("cover board 28 x 145 x 2400", "boards 145x28x2.4m", Some(2));
        common("cover board 28 x 28", "boards 28x145", None);
        common("roof sheet 2400", "roof sheets 2.4 m", Some(3));
        common("roof sheet 2400", "roof sheets 24 m", None);
        common("net 2 x 3 m", "net 3m x 2m", Some(2));
        common("rail 4 ft", "rails 48 in", Some(2));
        common("hinge 100 mm", "hinge 4 in", Some(1));
        common("bracket upper", "top bracket", Some(1));
        common("rail, inner", "outside rail", None);
        common("panel a", "panel b", None);
        common("shoe, left", "clog, right", None);
        common("panel, white", "board, black", None);
        common("strap, galv", "band, stainless", None);
    }

    #[test]
    fn units_and_finishes_are_kept_apart() {
        assert_eq!(Written::of("strap GALV").finish, ["galvanised"]);
        let dip = Written::of("dip tube, hot-dip galvanised");
        assert_eq!(dip.in_order.join(" "), "dip tube");
        assert_eq!(Written::of("prop 2100 mm, 4\"").units, ["in", "mm"]);
        assert!(Written::of("in place").units.is_empty());
    }
}
