//! An item: what a line asks for, once normalised.

use std::fmt::{self, Write as _};

use super::{
    Ratio,
    grade::{Finish, Grade},
    kind::{Drive, Kind, Point, Style},
    part_name::PartName,
    part_words::Written,
    size::{Diameter, Length},
    thread::{self, Thread},
};

/// What a line asks for. `None` means that the line does not state it.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Item {
    /// `None` for a fastener whose kind is not stated (`1/2 x 3-3/4` alone).
    pub kind: Option<Kind>,
    pub style: Option<Style>,
    /// Words of its name that no style stands for: `foundation` of a foundation bolt.
    pub called: Option<Box<str>>,
    pub diameter: Option<Diameter>,
    pub thread: Option<Thread>,
    pub length: Option<Length>,
    /// Outside diameter of a washer, where it is stated (`1/4 x 1-1/4 fender washer`).
    pub outside: Option<Length>,
    pub grade: Option<Grade>,
    pub finish: Option<Finish>,
    /// The head of a screw whose style is its use (`pan` of a pan head self-drilling screw).
    pub head: Option<Style>,
    pub drive: Option<Drive>,
    pub point: Option<Point>,
    /// Threaded to the head (`true`), partly (`false`), or not stated.
    pub full_thread: Option<bool>,
    /// Its thread is left-hand; where it is not said, it is right-hand (common practice, no source).
    pub left_hand: bool,
    /// For [`Kind::Part`] only.
    pub part: Option<Box<PartName>>,
}

/// Kind, style, diameter, thread: what two lengths of one fastener share.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Family {
    pub kind: Option<Kind>,
    pub style: Option<Style>,
    pub diameter: Diameter,
    /// [`Item::effective_thread`].
    pub thread: Option<Thread>,
    pub left_hand: bool,
}

/// Crockford's base 32.
const DIGITS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

impl Item {
    /// Few texts are longer, in bytes.
    const USUAL_TEXT: usize = 64;

    /// The thread, the coarse one where none is stated; none for what has no thread (washers, pins,
    /// rivets, wood and self-drilling screws, parts) and for diameters that are not in a series.
    pub fn effective_thread(&self) -> Option<Thread> {
        let unthreaded = self.is_unthreaded();
        self.thread.or_else(|| match self.diameter {
            Some(diameter) if !unthreaded => thread::coarse(diameter),
            _ => None,
        })
    }

    /// What makes an item of hardware, or a part without a number, the same in every list: its thread is
    /// stated, but for a coarse metric one, which its designation leaves out (ISO 965-1).
    pub fn identity(&self) -> Item {
        let coarse = self.diameter.and_then(thread::coarse);
        let told = |thread: &Thread| !matches!(thread, Thread::Pitch(_)) || Some(*thread) != coarse;
        Item {
            thread: self.effective_thread().filter(told),
            ..self.clone()
        }
    }

    /// True for what has no thread of a series: pieces without one, and screws that cut their own.
    fn is_unthreaded(&self) -> bool {
        matches!(
            self.kind,
            Some(Kind::Washer | Kind::Pin | Kind::Rivet | Kind::Part)
        ) || self.cuts_its_thread()
    }

    /// True for screws that cut their own thread.
    fn cuts_its_thread(&self) -> bool {
        self.kind == Some(Kind::Screw)
            && matches!(
                self.style,
                Some(
                    Style::Wood
                        | Style::Lag
                        | Style::SelfDrilling
                        | Style::SheetMetal
                        | Style::Deck
                )
            )
    }

    /// What a wrong length shares with the right one; `None` where no diameter is stated, and for
    /// parts.
    pub fn family(&self) -> Option<Family> {
        match self.kind {
            Some(Kind::Part) => None,
            kind => self.diameter.map(|diameter| Family {
                kind,
                style: self.style,
                diameter,
                thread: self.effective_thread(),
                left_hand: self.left_hand,
            }),
        }
    }

    /// True where one piece can be both: what both state agrees, and what only one states is no
    /// hindrance. A thread that is not stated is the coarse one.
    pub fn agrees(&self, other: &Item) -> bool {
        fn both<T: Copy>(a: Option<T>, b: Option<T>, agree: impl Fn(T, T) -> bool) -> bool {
            match (a, b) {
                (Some(a), Some(b)) => agree(a, b),
                _ => true,
            }
        }
        fn same<T: PartialEq>(a: T, b: T) -> bool {
            a == b
        }
        both(self.kind, other.kind, same)
            && both(self.style, other.style, Style::agrees)
            && both(self.diameter, other.diameter, same)
            && both(self.effective_thread(), other.effective_thread(), same)
            && both(self.length, other.length, same)
            && both(self.outside, other.outside, same)
            && both(self.grade, other.grade, Grade::agrees)
            && both(self.finish, other.finish, Finish::agrees)
            && both(self.head, other.head, same)
            && both(self.drive, other.drive, same)
            && both(self.point, other.point, same)
            && both(self.full_thread, other.full_thread, same)
            && self.left_hand == other.left_hand
            && match (&self.part, &other.part) {
                (Some(a), Some(b)) => a.agrees(b),
                (None, None) => true,
                _ => false,
            }
    }

    /// True for pieces without a size, each told by a word of its own: `wedge anchor`, `post anchor`.
    pub fn is_told_apart(&self, other: &Item) -> bool {
        let by_word = |item: &Item| item.style.is_none() && item.called.is_some();
        let by_style = |item: &Item| item.style.is_some();
        self.diameter.or(other.diameter).is_none()
            && (by_word(self) && by_style(other) || by_word(other) && by_style(self))
    }

    /// True where both bear the same words that no style stands for, in whatever order and number.
    pub fn is_called_alike(&self, other: &Item) -> bool {
        let words =
            |called: &Option<Box<str>>| called.as_deref().map(|called| Written::of(called).words);
        self.called == other.called || words(&self.called) == words(&other.called)
    }

    /// The one canonical text of an item, for people: `1/2-13 x 3-3/4 hex bolt, Grade 5, zinc plated`.
    /// Reads back as the same item. A part whose description alone could be taken for something else
    /// ends in square brackets: `girder shoe, left [part FB-210]`, `2 x 6 deck board [part]`.
    pub fn text(&self) -> String {
        let mut text = String::with_capacity(Item::USUAL_TEXT);
        write!(text, "{self}").expect("a text takes whatever is written");
        text.shrink_to_fit();
        text
    }

    /// A short id that depends on nothing but the item: the same in every run and on every machine.
    /// Eight characters of Crockford's base 32, the upper 40 bits of the FNV-1a hash of the text.
    pub fn id(&self) -> String {
        Item::id_of(&self.text())
    }

    /// The id of the item of a canonical text.
    pub fn id_of(text: &str) -> String {
        const OFFSET: u64 = 0xcbf2_9ce4_8422_2325;
        const PRIME: u64 = 0x0000_0100_0000_01b3;
        let hash = text.bytes().fold(OFFSET, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(PRIME)
        });
        (0..8)
            .map(|i| char::from(DIGITS[(hash >> (59 - 5 * i)) as usize & 31]))
            .collect()
    }

    /// True for what may be an id.
    pub fn is_id(text: &str) -> bool {
        text.len() == 8 && text.bytes().all(|byte| DIGITS.contains(&byte))
    }

    /// The size as [`Item::text`] begins with it: `1/2-13 x 3-3/4`; empty where none is stated.
    pub fn size(&self) -> String {
        struct Size<'a>(&'a Item);
        impl fmt::Display for Size<'_> {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.write_size(f).map(|_| ())
            }
        }
        Size(self).to_string()
    }

    /// The size as it stands in front of the name: `1/2-13 x 3-3/4`, `M8x1.25 x 40`, `1/4 x 1-1/4`.
    fn write_size(&self, f: &mut fmt::Formatter<'_>) -> Result<bool, fmt::Error> {
        let Some(diameter) = self.diameter else {
            return match self.outside {
                Some(outside) => {
                    write!(f, "{outside} {} OD", outside.unit().as_str()).map(|_| true)
                }
                None => Ok(false),
            };
        };
        // A screw that cuts its own thread has no `M`: bare where its figures read back as millimetres, and can be
        // no screw number.
        let bare = match (diameter, self.length) {
            (Diameter::Metric(mm), Some(Length::Millimetre(long))) => {
                let least = if self.style == Some(Style::Lag) { 4 } else { 2 };
                self.cuts_its_thread()
                    && self.thread.is_none()
                    && !mm.is_integer()
                    && mm > Ratio::from(least)
                    && long.is_integer()
                    && long >= Ratio::from(8)
                    && diameter.is_standard()
            }
            _ => false,
        };
        match diameter {
            Diameter::Metric(mm) if bare => write!(f, "{}", Length::Millimetre(mm))?,
            _ => write!(f, "{diameter}")?,
        }
        match self.thread {
            Some(thread @ Thread::PerInch(_)) => write!(f, "-{thread}")?,
            // A pitch that is not standard would be taken for a length behind an `x`.
            // Behind the `x` of a washer stands its outside.
            Some(thread @ Thread::Pitch(_))
                if thread::is_standard(diameter, thread) && self.kind != Some(Kind::Washer) =>
            {
                write!(f, "x{thread}")?;
            }
            Some(thread @ Thread::Pitch(_)) => write!(f, "-{thread}")?,
            None if diameter.needs_unit() => f.write_str(" in")?,
            None => {}
        }
        // Where the figures could be taken the wrong way round, the diameter says what it is.
        let odd = |length: Length| {
            matches!(diameter, Diameter::Inch(_))
                && (!diameter.is_standard()
                    || (length.unit() == diameter.unit() && length.value() * 2 < diameter.value()))
        };
        // `25-3/4 nut` would be 25 of 3/4.
        let counts = match diameter {
            Diameter::Inch(value) => {
                !diameter.is_standard() && !value.is_integer() && *value.numer() > *value.denom()
            }
            _ => false,
        };
        if self.length.is_some_and(odd) || (counts && self.thread.is_none()) {
            f.write_str(" dia")?;
        }
        for length in [self.outside, self.length].into_iter().flatten() {
            write!(f, " x {length}")?;
            // `M8 x 1` is the fine thread, so a length that could be a pitch says its unit.
            let pitch = self.thread.is_none()
                && thread::is_standard(diameter, Thread::Pitch(length.value()));
            if length.unit() != diameter.unit() || pitch {
                write!(f, " {}", length.unit().as_str())?;
            }
        }
        Ok(true)
    }

    /// The name: `hex bolt`, `socket head cap screw`, `U-bolt`.
    fn write_name(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(called) = &self.called {
            f.write_str(called)?;
            if self.kind.is_some() || self.style.is_some() {
                f.write_str(" ")?;
            }
        }
        if let Some(head) = self.head {
            write!(f, "{head} head ")?;
        }
        match (self.kind, self.style) {
            (Some(Kind::Bolt), Some(style @ (Style::U | Style::J | Style::L | Style::T))) => {
                write!(f, "{style}-bolt")
            }
            (Some(Kind::Nut), Some(Style::T)) => f.write_str("T-nut"),
            (Some(Kind::Screw), Some(Style::LowSocket)) => f.write_str("low socket head cap screw"),
            (Some(Kind::Screw), Some(style @ (Style::Socket | Style::Button))) => {
                write!(f, "{style} head cap screw")
            }
            (
                Some(Kind::Screw),
                Some(
                    style @ (Style::Flat
                    | Style::Pan
                    | Style::Round
                    | Style::Oval
                    | Style::Truss
                    | Style::Fillister
                    | Style::HexWasher
                    | Style::Bugle
                    | Style::Wafer),
                ),
            ) => write!(f, "{style} head screw"),
            (Some(Kind::Rod), Some(Style::Stud)) => f.write_str("stud"),
            // A plain nut is a hex one and a plain washer a flat one.
            (Some(kind @ (Kind::Nut | Kind::Washer)), None) if self.called.is_none() => {
                write!(f, "unspecified {kind}")
            }
            (kind, style) => {
                if let Some(style) = style {
                    f.write_str(style.as_str())?;
                    f.write_str(if kind.is_some() { " " } else { " head" })?;
                }
                kind.map_or(Ok(()), |kind| f.write_str(kind.as_str()))
            }
        }
    }
}

impl fmt::Display for Item {
    /// [`Item::text`].
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(part) = &self.part {
            return part.fmt(f);
        }
        let sized = self.write_size(f)?;
        if sized && (self.kind.is_some() || self.style.is_some() || self.called.is_some()) {
            f.write_str(" ")?;
        }
        self.write_name(f)?;
        if let (false, Some(length)) = (sized, self.length) {
            write!(f, ", {length} {} long", length.unit().as_str())?;
        }
        if let Some(grade) = self.grade {
            let metric = matches!(self.diameter, Some(Diameter::Metric(_)));
            write!(f, ", {}", grade.called(metric))?;
        }
        if let Some(finish) = self.finish {
            write!(f, ", {finish}")?;
        }
        if let Some(drive) = self.drive {
            write!(f, ", {drive} drive")?;
        }
        if let Some(point) = self.point {
            write!(f, ", {point} point")?;
        }
        match self.full_thread {
            Some(true) => f.write_str(", full thread")?,
            Some(false) => f.write_str(", part thread")?,
            None => {}
        }
        if self.left_hand {
            f.write_str(", left-hand")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hardware::Ratio;

    fn bolt() -> Item {
        Item {
            kind: Some(Kind::Bolt),
            style: Some(Style::Hex),
            diameter: Some(Diameter::Inch(Ratio::new(1, 2))),
            length: Some(Length::Inch(Ratio::new(15, 4))),
            ..Item::default()
        }
    }

    fn part(number: Option<&str>, description: Option<&str>) -> Item {
        Item {
            kind: Some(Kind::Part),
            part: Some(Box::new(PartName {
                number: number.map(Into::into),
                description: description.map(Into::into),
            })),
            ..Item::default()
        }
    }

    #[track_caller]
    fn agree(a: &Item, b: &Item, expected: bool) {
        assert_eq!(a.agrees(b), expected, "{a} and {b}");
        assert_eq!(b.agrees(a), expected, "{b} and {a}");
    }

    #[test]
    fn a_thread_that_is_not_stated_is_the_coarse_one() {
        let threaded = |threads| Item {
            thread: Some(Thread::per_inch(threads)),
            ..bolt()
        };
        assert_eq!(bolt().effective_thread(), Some(Thread::per_inch(13)));
        agree(&bolt(), &threaded(13), true);
        agree(&bolt(), &threaded(20), false);
        assert_eq!(bolt().family(), threaded(13).family());
        assert_ne!(bolt().family(), threaded(20).family());
    }

    #[test]
    fn what_both_state_must_agree() {
        agree(&bolt(), &bolt(), true);
        let with = |change: fn(&mut Item)| {
            let mut item = bolt();
            change(&mut item);
            item
        };
        agree(&bolt(), &with(|item| item.style = None), true);
        agree(
            &bolt(),
            &with(|item| item.style = Some(Style::Carriage)),
            false,
        );
        agree(&bolt(), &with(|item| item.kind = Some(Kind::Nut)), false);
        agree(
            &bolt(),
            &with(|item| item.grade = Some(Grade::Grade5)),
            true,
        );
        agree(
            &with(|item| item.grade = Some(Grade::Stainless18_8)),
            &with(|item| item.grade = Some(Grade::A2_70)),
            true,
        );
        agree(
            &with(|item| item.full_thread = Some(true)),
            &with(|item| item.full_thread = Some(false)),
            false,
        );
        agree(&bolt(), &with(|item| item.left_hand = true), false);
        agree(
            &bolt(),
            &with(|item| item.length = Some(Length::Inch(Ratio::new(13, 4)))),
            false,
        );
        agree(
            &part(Some("FB-210"), None),
            &part(Some("FB-210"), Some("shoe")),
            true,
        );
        agree(
            &part(Some("FB-210"), Some("shoe")),
            &part(Some("FB-211"), Some("shoe")),
            false,
        );
        agree(&part(None, Some("shoe")), &bolt(), false);
    }

    #[test]
    fn texts() {
        assert_eq!(bolt().text(), "1/2 x 3-3/4 hex bolt");
        assert_eq!(
            part(Some("FB-210"), Some("girder shoe, left")).text(),
            "girder shoe, left [part FB-210]"
        );
        assert_eq!(
            part(None, Some("girder shoe, left")).text(),
            "girder shoe, left"
        );
        assert_eq!(
            part(None, Some("2 x 6 deck board")).text(),
            "2 x 6 deck board [part]"
        );
        assert_eq!(part(Some("FB-210"), None).text(), "[part FB-210]");
        assert_eq!(
            part(None, Some("two-way clip")).text(),
            "two-way clip [part]"
        );
    }

    /// ISO 965-1: a coarse pitch is left out of the designation. Tapping screws, ISO 1478, are ST4.2 there, and
    /// have no metric thread.
    #[test]
    fn metric_texts() {
        let metric = |kind, style, diameter: Ratio, pitch: Option<Ratio>| Item {
            kind: Some(kind),
            style: Some(style),
            diameter: Some(Diameter::Metric(diameter)),
            thread: pitch.map(Thread::Pitch),
            length: Some(Length::Millimetre(Ratio::from(19))),
            ..Item::default()
        };
        let text = |item: Item| item.identity().text();
        let (eight, tenths) = (Ratio::from(8), |n| Ratio::new(n, 10));
        let bolt = |pitch| metric(Kind::Bolt, Style::Hex, eight, pitch);
        assert_eq!(text(bolt(None)), "M8 x 19 hex bolt");
        assert_eq!(text(bolt(Some(Ratio::new(5, 4)))), "M8 x 19 hex bolt");
        assert_eq!(bolt(Some(Ratio::new(5, 4))).text(), "M8x1.25 x 19 hex bolt");
        assert_eq!(text(bolt(Some(Ratio::from(1)))), "M8x1 x 19 hex bolt");
        let screw = |style, diameter| text(metric(Kind::Screw, style, diameter, None));
        assert_eq!(
            screw(Style::SelfDrilling, tenths(42)),
            "4.2 x 19 self-drilling screw"
        );
        assert_eq!(screw(Style::Wood, tenths(45)), "4.5 x 19 wood screw");
        // 8 may be a screw number.
        assert_eq!(screw(Style::Wood, eight), "M8 x 19 wood screw");
    }

    #[test]
    fn ids_depend_on_the_text_alone() {
        // FNV-1a, 64 bit: the upper 40 bits in Crockford's base 32, worked out apart with Python.
        assert_eq!(bolt().id(), "0PQG9FYQ");
        let mut plated = bolt();
        plated.finish = Some(Finish::Zinc);
        assert_ne!(plated.id(), bolt().id());
    }
}
