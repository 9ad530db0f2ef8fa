//! Lines in the words of a line before them, of another size: `12 1/2-13 x 3-3/4 hex bolt, zinc plated`
//! behind `8 3/8-16 x 2 hex bolt, zinc plated`.
//!
//! Nearly all lines of a long list are so. What such a line says besides its count and its size was
//! learnt from the first, when that was read the long way and nothing was to be asked; its own figures
//! are asked here whether they are sound. Any other line takes the long way. Who adds a question about
//! a figure there, adds it to [`Line::callout`], or sees that [`Line::is_learnable`] takes no such line; a
//! property test holds the short way against the long one.

use std::{cell::RefCell, ops::Range};

use rustc_hash::FxHashMap;

use super::{
    along::Along,
    callout::{Callout, Notation, Quantity, Role},
    joint::doubt_proportions,
    number::{Prefix, Shape},
    plain::LEAST_COUNT,
    reader::Reader,
    sight::{Figure, Sight, ends_chunk},
    token::{Tok, Token},
    words::Senses,
};
use crate::{
    doubt::Doubt,
    hardware::{Diameter, Item, Length, Ratio, Thread, Unit, thread},
};

/// A longer line is read the long way.
const LONGEST: usize = 160;

/// So many wordings are kept; then they are learnt anew.
const MOST: usize = 4096;

/// No pitch is larger, in millimetres: what stands behind a metric diameter is a length.
const LARGEST_PITCH: i64 = 6;

thread_local! {
    /// The item of the first line of each wording, whose size is another's.
    static LEARNT: RefCell<FxHashMap<Box<[u8]>, Item>> = RefCell::default();
}

/// The item of a line whose wording was learnt.
pub(super) fn read(text: &str, notation: Notation) -> Option<Callout> {
    let line = Line::of(text, notation)?;
    let mut room = [0; ROOM];
    let wording = line.wording(&mut room);
    LEARNT.with_borrow(|learnt| line.callout(learnt.get(wording)?))
}

/// Learns the wording of a plain line, where it says nothing that hangs on its figures.
pub(super) fn learn(reader: &Reader<'_>, callouts: &[Callout]) {
    let [callout] = callouts else { return };
    let Some(line) = Line::of(reader.text, reader.notation) else {
        return;
    };
    if !line.is_learnable(reader) || line.callout(&callout.item).as_ref() != Some(callout) {
        return;
    }
    let mut room = [0; ROOM];
    let wording = line.wording(&mut room);
    LEARNT.with_borrow_mut(|learnt| {
        if learnt.len() >= MOST {
            learnt.clear();
        }
        learnt.insert(wording.into(), callout.item.clone());
    });
}

/// Bytes that no text holds, in the place of its figures.
const METRIC: u8 = 0xf8;
const FRACTION: u8 = 0xf9;
const THREADED: u8 = 0xfa;
const WHOLE_LENGTH: u8 = 0xfb;
const FRACTION_LENGTH: u8 = 0xfc;
const MIXED_LENGTH: u8 = 0xfd;
const COUNT: u8 = 0xfe;
const BRACKETED: u8 = 0xff;

/// Room for a wording: a count's byte, the text, and the notation's.
const ROOM: usize = LONGEST + 2;

/// A line around whose size there are words: `24 hex bolts, 1/2-13 x 3, zinc`.
struct Line<'a> {
    text: &'a str,
    notation: Notation,
    count: Option<Count>,
    size: Figures,
}

impl<'a> Line<'a> {
    fn of(text: &'a str, notation: Notation) -> Option<Line<'a>> {
        let bytes = text.as_bytes();
        if bytes.len() > LONGEST {
            return None;
        }
        let counted =
            Count::of(bytes).and_then(|count| Some((Some(count), Figures::at(bytes, count.end)?)));
        let (count, size) = counted.or_else(|| Some((None, Figures::within(bytes)?)))?;
        Some(Line {
            text,
            notation,
            count,
            size,
        })
    }

    /// The text with a byte for each figure of its count and size, and how it is to be read.
    fn wording<'r>(&self, room: &'r mut [u8; ROOM]) -> &'r [u8] {
        let mut len = 0;
        let mut push = |bytes: &[u8]| {
            room[len..len + bytes.len()].copy_from_slice(bytes);
            len += bytes.len();
        };
        let (text, size) = (self.text.as_bytes(), &self.size);
        let mut from = 0;
        if let Some(count) = self.count {
            push(&[if count.bracketed { BRACKETED } else { COUNT }]);
            from = count.end;
        }
        push(&text[from..size.bytes.start]);
        push(&[match (size.diameter.prefix, size.diameter.threads) {
            (Prefix::Metric, _) => METRIC,
            (_, None) => FRACTION,
            (_, Some(_)) => THREADED,
        }]);
        push(&text[size.diameter.end()..size.length_at]);
        push(&[match size.length.shape {
            Shape::Whole => WHOLE_LENGTH,
            Shape::Fraction => FRACTION_LENGTH,
            _ => MIXED_LENGTH,
        }]);
        push(&text[size.bytes.end..]);
        let unit = match self.notation.unit {
            None => 0,
            Some(Unit::Inch) => 1,
            Some(Unit::Millimetre) => 2,
        };
        let Notation {
            counted,
            decimal_comma,
            ..
        } = self.notation;
        push(&[u8::from(counted) | u8::from(decimal_comma) << 1 | unit << 2]);
        &room[..len]
    }

    /// The item of the same wording in this line's size, with its count and what is doubted of any figures;
    /// `None` where more is to be asked about these.
    #[inline]
    fn callout(&self, worded: &Item) -> Option<Callout> {
        let (diameter, thread, length) = self.size.sound(self.notation)?;
        let pieces = |count: Count| Quantity {
            pieces: count.pieces,
            packs: None,
        };
        let mut callout = Callout {
            item: Item {
                diameter: Some(diameter),
                thread,
                length: Some(length),
                ..worded.clone()
            },
            quantity: self.count.map(pieces),
            comes_with: false,
            along: Along::default(),
            lent_size: false,
            places: 1,
            part_number: None,
            doubts: Vec::new(),
        };
        if !length.is_usual() {
            callout.doubts.push(Doubt::OddLength(length));
        }
        doubt_proportions(&mut callout);
        Some(callout)
    }

    /// True where what stands beside count and size are words that say what the item is, a unit behind the
    /// size, and figures of its grade or standard.
    fn is_learnable(&self, reader: &Reader<'_>) -> bool {
        let size = &self.size.bytes;
        let metric = self.size.diameter.prefix == Prefix::Metric;
        let behind = |token: &Token| token.start >= size.end;
        let first_behind = reader.tokens.iter().position(behind);
        reader.tokens.iter().enumerate().all(|(i, token)| {
            let of_count = self.count.is_some_and(|count| token.end <= count.end);
            if of_count || (token.start >= size.start && token.end <= size.end) {
                return true;
            }
            match token.tok {
                Tok::Word(row) => match token.role {
                    Some(Role::Name | Role::Finish | Role::Grade | Role::Passed) => true,
                    Some(Role::Standard) => metric,
                    Some(Role::Size) => first_behind == Some(i) && row.kinds.within(Senses::UNITS),
                    _ => false,
                },
                Tok::Num { .. } => match token.role {
                    Some(Role::Grade) => true,
                    Some(Role::Standard) => metric,
                    _ => false,
                },
                Tok::Inch => first_behind == Some(i),
                Tok::Comma | Tok::Semicolon | Tok::Dash | Tok::Dot | Tok::Open | Tok::Close => true,
                _ => false,
            }
        })
    }
}

/// A count in front of a size: `24 1/2-13 x 3`, `(24) M8 x 40`.
#[derive(Clone, Copy)]
struct Count {
    pieces: u64,
    bracketed: bool,
    /// Where the size begins.
    end: usize,
}

impl Count {
    fn of(bytes: &[u8]) -> Option<Count> {
        let bracketed = bytes.first() == Some(&b'(');
        let figure = Figure::at(bytes, usize::from(bracketed));
        let behind: &[u8] = if bracketed { b") " } else { b" " };
        let counts = figure.short && (bracketed || figure.n >= LEAST_COUNT);
        (counts && bytes[figure.end..].starts_with(behind)).then_some(Count {
            pieces: figure.n.unsigned_abs(),
            bracketed,
            end: figure.end + behind.len(),
        })
    }
}

/// A size with a length: `1/2-13 x 3-3/4`, `M8x40`, `1/2" x 3`.
struct Figures {
    diameter: Sight,
    length: Sight,
    length_at: usize,
    bytes: Range<usize>,
}

impl Figures {
    /// The first that stands at the beginning of a chunk.
    fn within(bytes: &[u8]) -> Option<Figures> {
        let mut at = 0;
        loop {
            if let Some(size) = Figures::at(bytes, at) {
                return Some(size);
            }
            at += memchr::memchr(b' ', &bytes[at..])? + 1;
        }
    }

    #[inline]
    fn at(bytes: &[u8], start: usize) -> Option<Figures> {
        let diameter = Sight::at(bytes, start)?;
        let inches = matches!(diameter.shape, Shape::Fraction);
        if !inches && diameter.prefix != Prefix::Metric {
            return None;
        }
        let spaces = |at: usize| {
            let rest = bytes.get(at..).unwrap_or_default();
            at + rest.iter().take_while(|byte| **byte == b' ').count()
        };
        let marked = inches && diameter.threads.is_none() && bytes.get(diameter.end) == Some(&b'"');
        let join = spaces(diameter.end() + usize::from(marked));
        if !matches!(bytes.get(join), Some(b'x' | b'X')) {
            return None;
        }
        let length_at = spaces(join + 1);
        let length = Sight::at(bytes, length_at)?;
        let alone = length.prefix == Prefix::None && length.threads.is_none();
        (alone && ends_chunk(bytes, length.end)).then_some(Figures {
            bytes: start..length.end,
            diameter,
            length,
            length_at,
        })
    }

    /// Diameter, thread and length, where nothing else may be meant by them.
    fn sound(&self, notation: Notation) -> Option<(Diameter, Option<Thread>, Length)> {
        let (value, length) = (self.diameter.value, self.length.value);
        let (diameter, length, sound) = match self.diameter.prefix {
            Prefix::Metric => (
                Diameter::Metric(value),
                Length::Millimetre(length),
                self.length.shape == Shape::Whole && *length.numer() > LARGEST_PITCH,
            ),
            _ => (
                Diameter::Inch(value),
                Length::Inch(length),
                notation.unit != Some(Unit::Millimetre),
            ),
        };
        let thread = (self.diameter.threads).map(|threads| Thread::PerInch(threads.value()));
        // `21/2`
        let improper =
            self.length.shape == Shape::Fraction && length.value() > Ratio::from_integer(1);
        let sound = sound
            && !improper
            && length.value() >= value
            && thread.map_or_else(
                || diameter.is_standard(),
                |thread| thread::is_standard(diameter, thread),
            );
        sound.then_some((diameter, thread, length))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::notation::{cases::properties::same_each_time, describe, words::WORDS};

    /// Sizes of one form; those of the first figures are sound, the last are not.
    const SIZES: [&[(&str, &str)]; 3] = [
        &[
            ("M8", "40"),
            ("M12", "80"),
            ("M10", "8"),
            ("M3", "200"),
            ("M20", "16"),
            ("M8", "1"),
            ("M7", "40"),
            ("M6", "6"),
            ("M304", "316"),
            ("M13", "60"),
            ("M36", "333"),
        ],
        &[
            ("1/2", "3"),
            ("3/8", "5"),
            ("1/4", "24"),
            ("5/8", "8"),
            ("9/16", "12"),
            ("1/8", "100"),
            ("3/7", "3"),
            ("7/32", "2"),
            ("1/2", "304"),
            ("63/64", "10"),
            ("2/4", "1"),
            ("3/4", "25"),
        ],
        &[
            ("1/2-13", "3-3/4"),
            ("3/8-16", "1-1/2"),
            ("1/4-20", "1/2"),
            ("5/8-11", "5-7/8"),
            ("1/2-20", "6-1/8"),
            ("1/2-14", "3"),
            ("5/16-24", "1/4"),
            ("3/4-10", "1/2"),
            ("7/8-9", "25-1/4"),
            ("1/4-28", "0-1/2"),
        ],
    ];

    /// Words and figures of all kinds, and marks.
    fn words(most: usize) -> impl Strategy<Value = String> {
        let spellings: Vec<&str> = WORDS.iter().map(|row| row.spelling).collect();
        let usual = [
            "hex", "bolt", "bolts", "screw", "HHCS", "SHCS", "carriage", "lag", "Grade", "Gr",
            "zinc", "HDG", "plain", "cap", "flat", "head", "DIN", "ISO", "class", "long", "mm",
            "in", "\"", "machine", "set",
        ];
        let figures = [
            "5", "8", "8.8", "18-8", "A307", "304", "933", "4017", "12", "24", "2", "1/4", "M8",
            "x", "#10",
        ];
        let marks = [
            ",", ", ", "-", " - ", "(", ")", ".", ":", "/", ";", "@", "$", "=", "'",
        ];
        let piece = prop_oneof![
            4 => prop::sample::select(usual.to_vec()).prop_map(|word| format!("{word} ")),
            1 => prop::sample::select(spellings).prop_map(|word| format!("{word} ")),
            1 => prop::sample::select(figures.to_vec()).prop_map(|word| format!("{word} ")),
            1 => prop::sample::select(marks.to_vec()).prop_map(str::to_owned),
        ];
        prop::collection::vec(piece, 0..most).prop_map(|pieces| pieces.concat())
    }

    /// Mostly nothing.
    fn rarely(words: impl Strategy<Value = String> + 'static) -> impl Strategy<Value = String> {
        prop_oneof![3 => Just(String::new()), 1 => words]
    }

    /// What stands before and behind the size in lines of one wording.
    fn frames() -> impl Strategy<Value = (String, &'static str, String)> {
        let join = prop_oneof![
            2 => Just(" x "),
            1 => prop::sample::select(vec!["x", " X ", "\" x ", " x", "x ", "  x  "]),
        ];
        let name = prop::sample::select(vec![
            "hex bolt",
            "Bolts, hex head",
            "carriage bolts",
            "HHCS",
            "SHCS",
            "lag screw",
            "wood screws",
            "flat head socket cap screw",
            "U-bolt",
            "concrete screw",
            "clevis pin",
            "rivets",
            "set screw",
            "stud",
            "threaded rod",
            "anchors",
            "washers",
            "nut",
            "drive bolt",
            "",
        ]);
        let gap = prop::sample::select(vec![
            " ", " ", " ", " ", "", ", ", " - ", "\" ", " mm ", " in. ",
        ]);
        let in_front = any::<bool>();
        (
            rarely(words(3)),
            join,
            gap,
            name,
            rarely(words(4)),
            in_front,
        )
            .prop_map(
                |(before, join, gap, name, behind, in_front)| match in_front {
                    false => (before, join, format!("{gap}{name} {behind}")),
                    true => (format!("{name} {before}"), join, format!("{gap}{behind}")),
                },
            )
    }

    fn notations() -> impl Strategy<Value = Notation> {
        let unit = prop::sample::select(vec![
            None,
            None,
            None,
            Some(Unit::Inch),
            Some(Unit::Millimetre),
        ]);
        (any::<bool>(), unit, any::<bool>()).prop_map(|(decimal_comma, unit, counted)| Notation {
            decimal_comma,
            unit,
            counted,
        })
    }

    proptest! {
        #![proptest_config(same_each_time(20_000))]

        /// What a line says in the words of another is what it says by itself.
        #[test]
        fn a_line_in_the_words_of_another_is_read_as_by_itself(
            (before, join, behind) in frames(),
            (count, form) in (0..3usize, 0..SIZES.len()),
            notation in notations(),
            counts in prop::collection::vec(1..400u64, 3),
            sizes in prop::collection::vec(any::<(prop::sample::Index, prop::sample::Index)>(), 3),
        ) {
            let texts: Vec<String> = counts.iter().zip(&sizes).map(|(n, (first, second))| {
                let (diameter, length) = (first.get(SIZES[form]).0, second.get(SIZES[form]).1);
                let count = [String::new(), format!("{n} "), format!("({n}) ")][count].clone();
                format!("{count}{before}{diameter}{join}{length}{behind}")
            }).collect();
            let read = |text: &String| describe(text, notation);
            let anew: Vec<_> = texts.iter().map(|text| { LEARNT.take(); read(text) }).collect();
            // In any words but its own, then in its own as well.
            for _ in 0..2 {
                for (text, anew) in texts.iter().zip(&anew) {
                    prop_assert_eq!(&read(text), anew, "{}", text);
                }
            }
        }
    }

    #[test]
    fn a_wording_is_learnt_where_nothing_hangs_on_its_figures() {
        #[track_caller]
        fn case(first: &str, next: &str, expected: bool) {
            let notation = Notation::default();
            LEARNT.take();
            assert_eq!(read(next, notation), None, "{next}");
            let anew = describe(next, notation).unwrap_or_default();
            LEARNT.take();
            let _ = describe(first, notation);
            let again = read(next, notation);
            assert_eq!(again.is_some(), expected, "{first}: {next}");
            assert!(again.is_none_or(|callout| vec![callout] == anew), "{next}");
        }
        case(
            "1/2-13 x 3-3/4 hex bolt, Grade 5",
            "3/8-16 x 2-1/2 hex bolt, Grade 5",
            true,
        );
        case(
            "(24) M8 x 40 hex bolts 8.8",
            "(6) M10 x 60 hex bolts 8.8",
            true,
        );
        case("Hex bolt M8x40 DIN 933", "Hex bolt M12x55 DIN 933", true);
        case("24 1/2 x 3 hex bolts", "4 3/8 x 5 hex bolts", true);
        case("1/2\" x 3\" lag screw", "3/8\" x 4\" lag screw", true);
        // Other words, another form of size, a size or a count to be asked about.
        case("1/2 x 3 hex bolt", "1/2 x 3 lag screw", false);
        case("1/2 x 3 hex bolt", "1/2-13 x 3 hex bolt", false);
        case("1/2-13 x 3 hex bolt", "1/2-14 x 3 hex bolt", false);
        case("1/2 x 3 hex bolt", "7/16 x 1/4 hex bolt", false);
        case("1/2 x 1/2 hex bolt", "7/16 x 1/4 hex bolt", false);
        case("24 1/2 x 3 hex bolts", "3 1/2 x 3 hex bolts", false);
        case("24 M8 x 40 hex bolts", "24 M8 x 1 hex bolts", false);
        // Two counts; a length that is a washer's width; a part.
        case(
            "24 1/2 x 3 hex bolts (24)",
            "12 1/2 x 3 hex bolts (24)",
            false,
        );
        case("1/2 x 3 washer", "1/4 x 2 washer", false);
        case("1/2 x 3 plate", "1/4 x 2 plate", false);
    }
}
