//! The trade's words and abbreviations, one table, each row with its plain meaning.
//!
//! To add a spelling, add a row. Spellings are lower case, without the `s` of the plural; a chunk of
//! text is looked up whole first (`18-8`, `c/w`, `self-drilling`), then letter run by letter run.

use super::callout::Role;
use crate::hardware::{Drive, Grade, Point, Unit};

/// The noun that says the kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Noun {
    Bolt,
    Screw,
    Nut,
    Washer,
    Pin,
    Rod,
    Stud,
    Anchor,
    Rivet,
}

impl Noun {
    /// True for what has a length beside its diameter.
    pub fn is_long(self) -> bool {
        matches!(self, Noun::Bolt | Noun::Screw | Noun::Stud | Noun::Rod)
    }
}

/// A word that marks a style or a finish; which one depends on the noun and the other marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[rustfmt::skip]
pub(super) enum Mark {
    Hex, Heavy, Structural, Carriage, Coach, Square, Flange, Serrated, Eye, U, J, L, T, Elevator, Plow, Shoulder, Toggle, Hammer,
    Socket, Button, Flat, Low, Machine, Pan, Round, Oval, Truss, Fillister, HexWasher, Bugle, Wafer,
    Wood, Lag, Set, SelfDrilling, SheetMetal, Deck, Thumb, Cap, Cup,
    NylonInsert, AllMetal, Lock, Jam, Wing, Dome, Castle, Coupling, Long, ToothWasher, Weld, Barrel, Insert,
    Plain, Sae, Uss, Split, External, Internal, Tooth, Thick, Fender, Bevel, Plate, Spherical, Spring, Sealing,
    Finishing, Cotter, Clevis, Hitch, Dowel, Roll, Taper, Linch, Detent, Threaded,
    Wedge, Sleeve, DropIn, ScrewIn, Adhesive, Blind, Solid, All, Concrete,
    // nouns in front of another: anchor bolt, stud bolt
    Anchor, Stud,
    // screws called by their heads alone: button heads
    Heads,
    // finishes
    Zinc, Yellow, Flake, Galvanised, Dipped, Mechanical, Black, Oxide, Phosphate, Nickel, Chrome,
    Cadmium, Painted, Powder, Passivated, Coated,
}

impl Mark {
    /// True for a mark of the finish; plain is one of washers too.
    pub const fn is_finish(self) -> bool {
        matches!(
            self,
            Mark::Zinc
                | Mark::Yellow
                | Mark::Flake
                | Mark::Galvanised
                | Mark::Dipped
                | Mark::Mechanical
                | Mark::Black
                | Mark::Oxide
                | Mark::Phosphate
                | Mark::Nickel
                | Mark::Chrome
                | Mark::Cadmium
                | Mark::Painted
                | Mark::Powder
                | Mark::Passivated
                | Mark::Coated
                | Mark::Plain
        )
    }
}

/// A thread series by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Series {
    Coarse,
    Fine,
    /// 8-UN.
    Eight,
}

/// What a figure is the measure of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Measure {
    Diameter,
    Length,
    Outside,
    /// Hole of a washer, thickness: no part of an item.
    Other,
}

/// What a word says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Sense {
    Noun(Noun),
    Mark(Mark),
    Grade(Grade),
    /// A figure or letter of a grade follows.
    GradeWord,
    Drive(Drive),
    Point(Point),
    Series(Series),
    FullThread(bool),
    /// A count in words.
    Count(u64),
    /// A part of an inch in words, by its denominator.
    Fraction(i64),
    /// Pieces in a unit of issue.
    Per(u64),
    /// A bag, box, pack.
    Pack,
    /// A set of pieces, where no screw follows.
    SetWord,
    /// The count behind is not exact.
    About,
    /// So many places follow: `both ends`.
    Both,
    /// A count follows.
    Qty,
    /// The count of one word holds for every piece of the first item.
    Each,
    Unit(Unit),
    /// Millimetres in one (`m`, `cm`).
    Metric(i64),
    Foot,
    Measure(Measure),
    By,
    /// Joins another item that comes with each piece of the first.
    With,
    And,
    Without,
    /// What follows says where the item goes, not what it is.
    For,
    Of,
    /// A maker's number follows.
    PartNumber,
    /// A number of a standard follows.
    Standard,
    /// `No.`: a number size follows a `No.` in front, a count stands before one behind.
    NumberWord,
    /// Torque: the figure before is one.
    Torque,
    /// A torque, behind `ft` or `in`.
    Pound,
    /// The figure before is the hardness of a washer.
    Hardness,
    /// The figure or letter behind is a type's (`Type 1`).
    TypeWord,
    /// Multiplies by a number of places that is not stated (`per post`).
    PerPlace,
    /// So many for each bolt of the row, times this.
    PerBolt(u64),
    /// Names a thing that is no hardware.
    Thing,
    /// A use or a make by which a fastener is called, of which no style is known: `roofing screw`.
    Use,
    /// Names a tool, where no hardware is named beside it.
    Tool,
    /// Names what is used up and not counted by the piece, where no hardware is named beside it.
    Consumable,
    /// Pieces beyond what is needed, or part of it.
    Extra,
    /// What is said before may be taken back.
    Corrects,
    /// Turns the noun before it into a mark (`washer head`).
    Head,
    /// Makes a drive of the word before it.
    DriveWord,
    /// Makes a point of the word before it.
    PointWord,
    /// The style is not known.
    Unspecified,
    /// What comes with the item is part of it: `complete with nut`.
    Whole,
    /// Says nothing of its own.
    Noise,
}

impl Sense {
    /// What a word of this sense is taken for by itself, where it tells.
    const fn role(&self) -> Option<Role> {
        match self {
            Sense::Noun(_)
            | Sense::Drive(_)
            | Sense::Point(_)
            | Sense::FullThread(_)
            | Sense::Head
            | Sense::DriveWord
            | Sense::PointWord
            | Sense::Thing
            | Sense::Use
            | Sense::Tool
            | Sense::Consumable
            | Sense::Unspecified => Some(Role::Name),
            Sense::Mark(mark) if mark.is_finish() => Some(Role::Finish),
            Sense::Mark(_) => Some(Role::Name),
            Sense::Grade(_) | Sense::GradeWord => Some(Role::Grade),
            Sense::Series(_)
            | Sense::Unit(_)
            | Sense::Metric(_)
            | Sense::Foot
            | Sense::Measure(_)
            | Sense::By
            | Sense::NumberWord
            | Sense::Fraction(_) => Some(Role::Size),
            Sense::Count(_)
            | Sense::Per(_)
            | Sense::Pack
            | Sense::SetWord
            | Sense::About
            | Sense::Qty
            | Sense::Each => Some(Role::Count),
            Sense::Both | Sense::PerBolt(_) => Some(Role::Places),
            Sense::Hardness => Some(Role::Standard),
            Sense::Torque | Sense::Pound => Some(Role::Torque),
            Sense::PartNumber => Some(Role::Number),
            Sense::Standard => Some(Role::Standard),
            Sense::For | Sense::PerPlace | Sense::Extra => Some(Role::Note),
            Sense::With
            | Sense::And
            | Sense::Without
            | Sense::Of
            | Sense::TypeWord
            | Sense::Corrects
            | Sense::Whole
            | Sense::Noise => None,
        }
    }

    /// What kind of sense it is, as a set of one.
    #[inline]
    #[rustfmt::skip]
    pub const fn kind(&self) -> Senses {
        Senses(1 << match self {
            Sense::Noun(_) => 0, Sense::Mark(_) => 1, Sense::Grade(_) => 2, GradeWord => 3,
            Sense::Drive(_) => 4, Sense::Point(_) => 5, Sense::Series(_) => 6, FullThread(_) => 7,
            Count(_) => 8, Fraction(_) => 9, Per(_) => 10, Pack => 11, SetWord => 12, About => 13,
            Both => 14, Qty => 15, Each => 16, Sense::Unit(_) => 17, Sense::Metric(_) => 18,
            Foot => 19, Sense::Measure(_) => 20, By => 21, With => 22, And => 23, Without => 24,
            For => 25, Of => 26, PartNumber => 27, Standard => 28, NumberWord => 29, Torque => 30,
            Pound => 31, Hardness => 32, TypeWord => 33, PerPlace => 34, Thing => 35, Head => 36,
            DriveWord => 37, PointWord => 38, Sense::Unspecified => 39, Noise => 40,
            Sense::PerBolt(_) => 41, Sense::Tool => 42, Sense::Corrects => 43, Sense::Consumable => 44,
            Sense::Extra => 45, Sense::Use => 46, Sense::Whole => 47,
        })
    }
}

/// A set of kinds of senses, whatever these hold: most questions about a word are answered by it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Senses(u64);

impl Senses {
    pub const NOUN: Senses = Senses::of(&[Sense::Noun(Noun::Bolt)]);
    pub const MARK: Senses = Senses::of(&[Sense::Mark(Mark::Hex)]);
    pub const COUNT: Senses = Senses::of(&[Count(0)]);
    pub const NOISE: Senses = Senses::of(&[Noise, Sense::Whole]);
    pub const FRACTION: Senses = Senses::of(&[Fraction(0)]);
    pub const PER: Senses = Senses::of(&[Per(0)]);
    pub const PACK: Senses = Senses::of(&[Pack]);
    pub const GRADE_WORD: Senses = Senses::of(&[GradeWord]);
    pub const MEASURES: Senses = Senses::of(&[Sense::Measure(Measure::Length)]);
    pub const SERIES: Senses = Senses::of(&[Sense::Series(Series::Coarse)]);
    pub const UNITS: Senses = Senses::of(&[Sense::Unit(Unit::Inch), Sense::Metric(0), Foot]);
    pub const LINKS: Senses = Senses::of(&[And, With, Without]);
    /// Words that need the figure behind them.
    pub const BINDS: Senses = Senses::of(&[
        GradeWord,
        By,
        NumberWord,
        Sense::Measure(Measure::Length),
        PartNumber,
        Standard,
        TypeWord,
        Pack,
        For,
        PerPlace,
    ]);
    /// Words that count or take back, and name nothing.
    pub const COUNTING: Senses = Senses::of(&[Count(0), Per(0), Each, Qty, Sense::Corrects]);
    /// Words that a count per place may begin with: `per bolt`, `on each bolt`, `each side`.
    pub const PLACING: Senses = Senses::of(&[PerPlace, For, Each, Noise]);
    /// Words of the table by which the count behind is not exact: `about 20`, `up to 20`.
    pub const HEDGING: Senses = Senses::of(&[About, Noise]);
    /// Words by which something may be mended in a line before it is read, or another item begins.
    pub const MENDED: Senses = Senses::of(&[
        Count(0),
        Fraction(0),
        Sense::Metric(0),
        PerPlace,
        For,
        Each,
        About,
        And,
        With,
        Without,
        Sense::Corrects,
    ]);
    /// Words that say where a thing goes, and nothing of a fastener.
    pub const PLAIN: Senses = Senses::of(&[Thing, Noise, Sense::Whole]);
    /// Words that name or describe a fastener.
    pub const NAMES: Senses = Senses::of(&[Sense::Noun(Noun::Bolt), Sense::Mark(Mark::Hex)]);
    /// Words that may be part of a number or of a size in words.
    pub const NUMERAL: Senses = Senses::of(&[
        Count(0),
        Fraction(0),
        Per(0),
        Sense::Metric(0),
        Sense::Unit(Unit::Inch),
        Foot,
        And,
        With,
        Without,
        By,
        NumberWord,
    ]);
    /// Words that a dictated number may begin with; `m` is one.
    pub const DICTATED: Senses = Senses::of(&[Count(0), Fraction(0), Sense::Metric(0)]);

    const fn of(senses: &[Sense]) -> Senses {
        let (mut all, mut i) = (0, 0);
        while i < senses.len() {
            all |= senses[i].kind().0;
            i += 1;
        }
        Senses(all)
    }

    /// The kinds of both.
    pub const fn with(self, other: Senses) -> Senses {
        Senses(self.0 | other.0)
    }

    /// True where there is no kind that the other has not.
    #[inline]
    pub const fn within(self, other: Senses) -> bool {
        self.0 & !other.0 == 0
    }

    /// True where the two have a kind in common.
    #[inline]
    pub const fn meet(self, other: Senses) -> bool {
        self.0 & other.0 != 0
    }
}

/// One spelling.
pub(super) struct Row {
    pub spelling: &'static str,
    pub senses: &'static [Sense],
    /// The kinds of its senses.
    pub kinds: Senses,
    /// What it is taken for by itself.
    pub role: Role,
}

impl Row {
    pub const fn new(spelling: &'static str, senses: &'static [Sense]) -> Row {
        Row {
            spelling,
            senses,
            kinds: Senses::of(senses),
            role: role_of(senses),
        }
    }

    /// True where the word says just this.
    #[inline]
    pub fn says(&self, sense: Sense) -> bool {
        self.kinds.meet(sense.kind()) && self.senses.contains(&sense)
    }

    /// What the first of its senses of some kinds says.
    #[inline]
    fn first<T>(&self, kinds: Senses, pick: impl Fn(&Sense) -> Option<T>) -> Option<T> {
        if !self.kinds.meet(kinds) {
            return None;
        }
        self.senses.iter().find_map(pick)
    }

    /// The noun that the word is.
    #[inline]
    pub fn noun(&self) -> Option<Noun> {
        self.first(Senses::NOUN, |sense| match sense {
            Sense::Noun(noun) => Some(*noun),
            _ => None,
        })
    }

    /// The count that the word is.
    #[inline]
    pub fn count(&self) -> Option<u64> {
        self.first(Senses::COUNT, |sense| match sense {
            Sense::Count(n) => Some(*n),
            _ => None,
        })
    }

    /// Pieces in the unit of issue that the word is.
    #[inline]
    pub fn per(&self) -> Option<u64> {
        self.first(Senses::PER, |sense| match sense {
            Sense::Per(n) => Some(*n),
            _ => None,
        })
    }

    /// The same of a unit of which there are halves: a dozen, a gross.
    #[inline]
    pub fn per_many(&self) -> Option<u64> {
        self.per().filter(|n| *n >= 12)
    }

    /// The denominator of the part of an inch that the word is.
    #[inline]
    pub fn fraction(&self) -> Option<i64> {
        self.first(Senses::FRACTION, |sense| match sense {
            Sense::Fraction(d) => Some(*d),
            _ => None,
        })
    }

    /// What the word says that a figure measures.
    #[inline]
    pub fn measure(&self) -> Option<Measure> {
        self.first(Senses::MEASURES, |sense| match sense {
            Sense::Measure(measure) => Some(*measure),
            _ => None,
        })
    }

    /// The thread series that the word names.
    #[inline]
    pub fn series(&self) -> Option<Series> {
        self.first(Senses::SERIES, |sense| match sense {
            Sense::Series(series) => Some(*series),
            _ => None,
        })
    }
}

/// What a word of some senses is taken for by itself: what the first that tells says.
const fn role_of(senses: &[Sense]) -> Role {
    let mut i = 0;
    while i < senses.len() {
        if let Some(role) = senses[i].role() {
            return role;
        }
        i += 1;
    }
    Role::Passed
}

/// Words that make a measure of the figure before them: a 4 way valve is one valve.
pub(super) fn is_measure_of_parts(word: &str) -> bool {
    const WORDS: &[&str] = &[
        "way", "hole", "part", "ply", "degree", "deg", "gauge", "ga", "point", "leg", "step",
        "tier", "gal", "oz", "lb", "lbs", "kg", "g", "v", "w", "watt", "amp", "hp", "st", "nd",
        "rd", "th", "yd", "yard", "metre", "meter", "litre", "liter", "l", "ml",
    ];
    WORDS.iter().any(|known| word.eq_ignore_ascii_case(known))
}

/// A table of spellings; the plain meaning in the middle is for people.
macro_rules! words {
    ($($spelling:literal, $meaning:literal, [$($sense:expr),* $(,)?];)+) => {
        &[$(Row::new($spelling, &[$($sense),*])),+]
    };
}

use Mark::*;
use Sense::{
    About, And, Both, By, Count, DriveWord, Each, Foot, For, Fraction, FullThread, GradeWord,
    Hardness, Head, Noise, NumberWord, Of, Pack, PartNumber, Per, PerPlace, PointWord, Pound, Qty,
    SetWord, Standard, Thing, Torque, TypeWord, Use, With, Without,
};

const fn noun(noun: Noun) -> Sense {
    Sense::Noun(noun)
}
const fn m(mark: Mark) -> Sense {
    Sense::Mark(mark)
}
const fn g(grade: Grade) -> Sense {
    Sense::Grade(grade)
}
const BOLT: Sense = noun(Noun::Bolt);
const SCREW: Sense = noun(Noun::Screw);
const NUT: Sense = noun(Noun::Nut);
const WASHER: Sense = noun(Noun::Washer);
const PIN: Sense = noun(Noun::Pin);
const ROD: Sense = noun(Noun::Rod);
const ANCHOR: Sense = noun(Noun::Anchor);

#[rustfmt::skip]
pub(super) const WORDS: &[Row] = words! {
    // kinds
    "bolt", "bolt", [BOLT];
    "blt", "bolt", [BOLT];
    "screw", "screw", [SCREW];
    "scr", "screw", [SCREW];
    "nut", "nut", [NUT];
    "washer", "washer", [WASHER];
    "wshr", "washer", [WASHER];
    "wsher", "washer", [WASHER];
    "wash", "washer", [WASHER];
    "pin", "pin", [PIN];
    "rod", "rod", [ROD];
    "stud", "stud", [noun(Noun::Stud)];
    "anchor", "anchor", [ANCHOR];
    "anc", "anchor", [ANCHOR];
    "anch", "anchor", [ANCHOR];
    "studding", "threaded rod", [m(Threaded), ROD];
    "rivet", "rivet", [noun(Noun::Rivet)];

    // whole names
    "hhcs", "hex head cap screw", [m(Hex), m(Cap), SCREW];
    "hcs", "hex cap screw", [m(Hex), m(Cap), SCREW];
    "hhb", "hex head bolt", [m(Hex), BOLT];
    "hb", "hex bolt", [m(Hex), BOLT];
    "hhmb", "hex head machine bolt", [m(Hex), BOLT];
    "shcs", "socket head cap screw", [m(Socket), m(Cap), SCREW];
    "bhcs", "button head socket cap screw", [m(Button), m(Cap), SCREW];
    "bhscs", "button head socket cap screw", [m(Button), m(Socket), m(Cap), SCREW];
    "bsc", "button head socket cap screw", [m(Button), m(Socket), m(Cap), SCREW];
    "fhcs", "flat head cap screw", [m(Flat), m(Cap), SCREW];
    "fhscs", "flat head socket cap screw", [m(Flat), m(Socket), m(Cap), SCREW];
    "lhcs", "low head cap screw", [m(Low), m(Socket), m(Cap), SCREW];
    "sss", "socket set screw", [m(Socket), m(Set), SCREW];
    "shss", "socket head set screw", [m(Socket), m(Set), SCREW];
    "cb", "carriage bolt", [m(Carriage), BOLT];
    "rhsnb", "round head square neck (carriage) bolt", [m(Carriage), BOLT];
    "phms", "pan head machine screw", [m(Pan), m(Machine), SCREW];
    "fhms", "flat head machine screw", [m(Flat), m(Machine), SCREW];
    "rhms", "round head machine screw", [m(Round), m(Machine), SCREW];
    "thms", "truss head machine screw", [m(Truss), m(Machine), SCREW];
    "fhws", "flat head wood screw", [m(Flat), m(Wood), SCREW];
    "rhws", "round head wood screw", [m(Round), m(Wood), SCREW];
    "hhms", "hex head machine screw", [m(Hex), m(Machine), SCREW];
    "sms", "sheet metal screw", [m(SheetMetal), SCREW];
    "sds", "self-drilling screw", [m(SelfDrilling), SCREW];
    "hwhsds", "hex washer head self-drilling screw", [m(HexWasher), m(SelfDrilling), SCREW];
    "lag", "lag screw", [m(Lag), Noise];
    "shield", "anchor", [ANCHOR];
    "ms", "machine screw", [m(Machine), SCREW];
    "ws", "wood screw", [m(Wood), SCREW];
    "ss-screw", "set screw", [m(Set), SCREW];
    "setscrew", "set screw", [m(Set), SCREW];
    "capscrew", "cap screw", [m(Cap), SCREW];
    "thumbscrew", "thumb screw", [m(Thumb), SCREW];
    "locknut", "lock nut", [m(Lock), NUT];
    "lockwasher", "split lock washer", [m(Lock), WASHER];
    "wingnut", "wing nut", [m(Wing), NUT];
    "hn", "hex nut", [m(Hex), NUT];
    "fhn", "finished hex nut", [m(Hex), NUT];
    "hhn", "heavy hex nut", [m(Heavy), m(Hex), NUT];
    "nln", "nylon-insert lock nut", [m(NylonInsert), NUT];
    "niln", "nylon-insert lock nut", [m(NylonInsert), NUT];
    "ln", "lock nut", [m(Lock), NUT];
    "jn", "jam nut", [m(Jam), NUT];
    "hjn", "hex jam nut", [m(Jam), NUT];
    "cn", "coupling nut", [m(Coupling), NUT];
    "fw", "flat washer", [m(Flat), WASHER];
    "lw", "split lock washer", [m(Lock), WASHER];
    "slw", "split lock washer", [m(Split), m(Lock), WASHER];
    "etlw", "external-tooth lock washer", [m(External), WASHER];
    "itlw", "internal-tooth lock washer", [m(Internal), WASHER];
    "atr", "all-thread rod", [m(Threaded), ROD];
    "allthread", "threaded rod", [m(Threaded), ROD];
    "all-thread", "threaded rod", [m(Threaded), ROD];
    "ubolt", "U-bolt", [m(U), BOLT];
    "eyebolt", "eye bolt", [m(Eye), BOLT];
    "jbolt", "J-bolt", [m(J), BOLT];

    // heads and styles of bolts and screws
    "hex", "hexagon", [m(Hex)];
    "hexagon", "hexagon", [m(Hex)];
    "hexagonal", "hexagon", [m(Hex)];
    "hx", "hexagon", [m(Hex)];
    "heavy", "heavy series", [m(Heavy)];
    "hvy", "heavy series", [m(Heavy)];
    "structural", "heavy hex bolt of ASTM F3125", [m(Structural)];
    "carriage", "round head, square neck", [m(Carriage)];
    "carr", "carriage", [m(Carriage)];
    "crg", "carriage", [m(Carriage)];
    "coach", "coach bolt: carriage bolt; coach screw: lag screw", [m(Coach)];
    "square", "square head, nut or drive", [m(Square)];
    "sq", "square", [m(Square)];
    "flange", "with a flange", [m(Flange)];
    "flanged", "with a flange", [m(Flange)];
    "flg", "with a flange", [m(Flange)];
    "serrated", "with serrations under the flange, which lock", [m(Serrated)];
    "serr", "serrated", [m(Serrated)];
    "eye", "eye", [m(Eye)];
    "u", "U-shaped", [m(U)];
    "j", "J-shaped", [m(J)];
    "l", "L-shaped; length", [m(L), Sense::Measure(Measure::Length)];
    "t", "T-shaped", [m(T)];
    "tee", "T-shaped", [m(T)];
    "t-slot", "T-shaped", [m(T)];
    "elevator", "elevator bolt", [m(Elevator)];
    "plow", "plow bolt", [m(Plow)];
    "plough", "plow bolt", [m(Plow)];
    "shoulder", "shoulder screw", [m(Shoulder)];
    "toggle", "toggle bolt", [m(Toggle)];
    "socket", "hexagon socket; a tool", [m(Socket), Sense::Tool];
    "soc", "hexagon socket", [m(Socket)];
    "skt", "hexagon socket", [m(Socket)];
    "button", "button head", [m(Button)];
    "btn", "button head", [m(Button)];
    "flat", "flat (countersunk) head; flat washer", [m(Flat)];
    "flt", "flat", [m(Flat)];
    "countersunk", "flat head", [m(Flat)];
    "csk", "countersunk: flat head", [m(Flat)];
    "c'sk", "countersunk: flat head", [m(Flat)];
    "fh", "flat head", [m(Flat)];
    "bh", "button head", [m(Button)];
    "rh", "round head", [m(Round)];
    "low", "low head", [m(Low)];
    "machine", "machine screw", [m(Machine)];
    "mach", "machine screw", [m(Machine)];
    "pan", "pan head", [m(Pan)];
    "pnh", "pan head", [m(Pan)];
    "pnhd", "pan head", [m(Pan)];
    "round", "round head", [m(Round)];
    "rnd", "round head", [m(Round)];
    "oval", "oval head", [m(Oval)];
    "truss", "truss head", [m(Truss)];
    "fillister", "fillister head", [m(Fillister)];
    "bugle", "bugle head", [m(Bugle)];
    "wafer", "wafer head", [m(Wafer)];
    "hwh", "hex washer head", [m(HexWasher)];
    "wood", "wood screw", [m(Wood)];
    "woodscrew", "wood screw", [m(Wood), SCREW];
    "wd", "wood", [m(Wood)];
    "set", "set screw; a set of pieces", [m(Set), SetWord];
    "grub", "set screw", [m(Set)];
    "drilling", "self-drilling", [m(SelfDrilling)];
    "self-drilling", "self-drilling", [m(SelfDrilling)];
    "self-drill", "self-drilling", [m(SelfDrilling)];
    "driller", "self-drilling screw", [m(SelfDrilling), SCREW];
    "tapper", "self-tapping screw", [m(SheetMetal), SCREW];
    "tapping", "self-tapping: sheet metal", [m(SheetMetal)];
    "self-tapping", "self-tapping: sheet metal", [m(SheetMetal)];
    "self", "self-drilling, self-tapping", [Noise];
    "sheet", "sheet metal", [m(SheetMetal)];
    "metal", "sheet metal", [Noise];
    "deck", "deck screw", [m(Deck)];
    "decking", "deck screw", [m(Deck)];
    "thumb", "thumb screw", [m(Thumb)];
    "cap", "cap screw; cap nut", [m(Cap)];
    "head", "head", [Head, m(Heads)];
    "heads", "screws of a head", [Head, m(Heads)];
    "hd", "head", [Head, m(Heads)];
    "headed", "head", [Head];
    "neck", "square neck: carriage", [m(Carriage)];

    // nuts
    "nylon-insert", "nylon insert", [m(NylonInsert)];
    "nyloc", "nylon-insert lock nut", [m(NylonInsert), NUT];
    "nylock", "nylon-insert lock nut", [m(NylonInsert), NUT];
    "lock", "locking", [m(Lock)];
    "all-metal", "lock nut without a nylon insert", [m(AllMetal), m(Lock)];
    "lk", "lock", [m(Lock)];
    "locking", "locking", [m(Lock)];
    "prevailing", "prevailing torque lock nut", [m(Lock)];
    "jam", "jam", [m(Jam)];
    "thin", "jam", [m(Jam)];
    "half", "jam; a half in words", [m(Jam), Fraction(2)];
    "wing", "wing", [m(Wing)];
    "acorn", "cap nut", [m(Cap)];
    "dome", "cap nut", [m(Dome)];
    "domed", "cap nut", [m(Dome)];
    "castle", "castle", [m(Castle)];
    "castellated", "castle", [m(Castle)];
    "coupling", "coupling", [m(Coupling)];
    "coupler", "coupling nut; of tubes, a part", [m(Coupling), NUT, Thing];
    "tooth-washer", "with a captive tooth washer", [m(ToothWasher)];
    "weld", "weld", [m(Weld)];
    "barrel", "barrel", [m(Barrel)];
    "insert", "insert", [m(Insert)];
    "ins", "insert", [m(Insert)];
    "finished", "finished hex nut", [Noise];
    "fin", "finished hex nut", [Noise];

    // uses and makes that are told in the name and stay there (common practice, no source)
    "roofing", "roofing", [Use];
    "batten", "batten", [Use];
    "timber", "timber", [Use];
    "foundation", "foundation", [Use];
    "hoop", "hoop", [Use];
    "rigging", "rigging", [Use];
    "exterior", "exterior", [Use];
    "outdoor", "exterior", [Use];
    "flooring", "floor", [Use];
    "fencing", "fence", [Use];
    "cladding", "cladding", [Use];
    "drywall", "drywall", [Use];
    "plasterboard", "drywall", [Use];
    "chipboard", "chipboard", [Use];
    "furniture", "furniture", [Use];
    "thru", "through the joint", [Use];
    "through", "through the joint", [Use];
    "cage", "cage", [Use];
    "conduit", "conduit", [Use];
    "banjo", "banjo", [Use];

    // washers
    "plain", "flat washer; no finish", [m(Plain)];
    "cut", "flat washer, cut from plate", [m(Flat)];
    "penny", "fender washer", [m(Fender)];
    "repair", "fender washer", [m(Fender)];
    "sae", "SAE series (narrow) washer", [m(Sae)];
    "uss", "USS series (wide) washer", [m(Uss)];
    "split", "split lock washer; split pin", [m(Split)];
    "splt", "split", [m(Split)];
    "external", "external tooth", [m(External)];
    "ext", "external tooth", [m(External)];
    "external-tooth", "external tooth", [m(External)];
    "internal", "internal tooth", [m(Internal)];
    "int", "internal tooth", [m(Internal)];
    "internal-tooth", "internal tooth", [m(Internal)];
    "star", "tooth lock washer", [m(External)];
    "tooth", "tooth lock washer", [m(Tooth)];
    "toothed", "tooth lock washer", [m(Tooth)];
    "fender", "fender", [m(Fender)];
    "fndr", "fender", [m(Fender)];
    "bevel", "bevel", [m(Bevel)];
    "beveled", "bevel", [m(Bevel)];
    "bevelled", "bevel", [m(Bevel)];
    "spherical", "spherical", [m(Spherical)];
    "spring", "split lock washer; spring pin", [m(Spring)];
    "sealing", "sealing", [m(Sealing)];
    "bonded", "sealing", [m(Sealing)];
    "neoprene", "sealing", [m(Sealing)];
    "finishing", "finishing", [m(Finishing)];
    "form", "form A is the usual one", [TypeWord];
    "hardened", "hardened", [Noise];
    "hard", "hardened", [Noise];

    // pins
    "cotter", "cotter", [m(Cotter)];
    "clevis", "clevis", [m(Clevis)];
    "hitch", "hitch", [m(Hitch)];
    "dowel", "dowel", [m(Dowel)];
    "roll", "roll", [m(Roll), Pack];
    "taper", "taper", [m(Taper)];
    "linch", "linch", [m(Linch)];
    "lynch", "linch", [m(Linch)];
    "detent", "detent", [m(Detent)];

    // rods, anchors, rivets
    "threaded", "threaded", [m(Threaded)];
    "thrd", "thread", [m(Threaded)];
    "thd", "thread", [m(Threaded)];
    "thr", "thread", [m(Threaded)];
    "thread", "thread", [m(Threaded)];
    "all", "all-thread", [m(All)];
    "concrete", "concrete screw: screw-in anchor", [m(Concrete)];
    "masonry", "concrete screw: screw-in anchor", [m(Concrete)];
    "wedge", "wedge", [m(Wedge)];
    "wdg", "wedge", [m(Wedge)];
    "expansion", "wedge", [m(Wedge)];
    "sleeve", "sleeve", [m(Sleeve), Pack];
    "drop-in", "drop-in", [m(DropIn)];
    "dropin", "drop-in", [m(DropIn)];
    "screw-in", "screw-in", [m(ScrewIn)];
    "adhesive", "adhesive", [m(Adhesive)];
    "epoxy", "adhesive", [m(Adhesive)];
    "blind", "blind", [m(Blind)];
    "solid", "solid", [m(Solid)];

    // drives and points
    "phillips", "cross recess", [Sense::Drive(Drive::Phillips)];
    "phil", "cross recess", [Sense::Drive(Drive::Phillips)];
    "ph", "cross recess", [Sense::Drive(Drive::Phillips)];
    "tx", "six-lobe", [Sense::Drive(Drive::SixLobe)];
    "cross", "cross recess", [Sense::Drive(Drive::Phillips)];
    "recess", "cross recess", [Noise];
    "recessed", "cross recess", [Noise];
    "slotted", "slotted; castle nut", [Sense::Drive(Drive::Slotted)];
    "slot", "slotted", [Sense::Drive(Drive::Slotted)];
    "six-lobe", "six-lobe", [Sense::Drive(Drive::SixLobe)];
    "torx", "six-lobe", [Sense::Drive(Drive::SixLobe)];
    "hexalobular", "six-lobe", [Sense::Drive(Drive::SixLobe)];
    "drive", "drive", [DriveWord];
    "cup", "cup point; cup head", [Sense::Point(Point::Cup), m(Cup)];
    "cone", "cone point", [Sense::Point(Point::Cone)];
    "dog", "dog point", [Sense::Point(Point::Dog)];
    "point", "point", [PointWord];
    "pt", "point", [PointWord];

    // threads
    "unc", "coarse", [Sense::Series(Series::Coarse)];
    "coarse", "coarse", [Sense::Series(Series::Coarse)];
    "nc", "coarse", [Sense::Series(Series::Coarse)];
    "unf", "fine", [Sense::Series(Series::Fine)];
    "fine", "fine", [Sense::Series(Series::Fine)];
    "nf", "fine", [Sense::Series(Series::Fine)];
    "8un", "8-thread series", [Sense::Series(Series::Eight)];
    "8-un", "8-thread series", [Sense::Series(Series::Eight)];
    "un", "constant-pitch series", [Noise];
    "unef", "extra fine series", [Noise];
    "unc-2a", "coarse, class 2A", [Sense::Series(Series::Coarse)];
    "unc-2b", "coarse, class 2B", [Sense::Series(Series::Coarse)];
    "unf-2a", "fine, class 2A", [Sense::Series(Series::Fine)];
    "unf-2b", "fine, class 2B", [Sense::Series(Series::Fine)];
    "1a", "thread class", [Noise];
    "1b", "thread class", [Noise];
    "2a", "thread class", [Noise];
    "2b", "thread class", [Noise];
    "3a", "thread class", [Noise];
    "3b", "thread class", [Noise];
    "6g", "thread tolerance", [Noise];
    "6h", "thread tolerance", [Noise];
    "tpi", "threads per inch", [Noise];
    "ft-thread", "full thread", [FullThread(true)];
    "fullthread", "full thread", [FullThread(true)];
    "tap", "full thread (tap bolt)", [FullThread(true)];
    "full", "full thread", [FullThread(true)];
    "fully", "full thread", [FullThread(true)];
    "partial", "part thread", [FullThread(false)];
    "partially", "part thread", [FullThread(false)];

    // grades
    "grade", "grade", [GradeWord];
    "gr", "grade", [GradeWord];
    "grd", "grade", [GradeWord];
    "class", "property class", [GradeWord];
    "cl", "property class", [GradeWord];
    "property", "property class", [Noise];
    "g2", "SAE J429 Grade 2", [g(Grade::Grade2)];
    "g5", "SAE J429 Grade 5", [g(Grade::Grade5)];
    "g8", "SAE J429 Grade 8", [g(Grade::Grade8)];
    "gr2", "SAE J429 Grade 2", [g(Grade::Grade2)];
    "gr5", "SAE J429 Grade 5", [g(Grade::Grade5)];
    "gr8", "SAE J429 Grade 8", [g(Grade::Grade8)];
    "a307", "ASTM A307", [g(Grade::A307)];
    "a325", "ASTM A325", [g(Grade::A325)];
    "a490", "ASTM A490", [g(Grade::A490)];
    "f436", "ASTM F436", [g(Grade::F436)];
    "f1554", "ASTM F1554", [g(Grade::F1554)];
    "b7", "ASTM A193 B7", [g(Grade::B7)];
    "2h", "ASTM A194 2H", [g(Grade::Grade2H)];
    "dh", "ASTM A563 DH", [g(Grade::GradeDh)];
    "4.6", "ISO 898-1 class 4.6", [g(Grade::Class46)];
    "4.8", "ISO 898-1 class 4.8", [g(Grade::Class48)];
    "5.6", "ISO 898-1 class 5.6", [g(Grade::Class56)];
    "5.8", "ISO 898-1 class 5.8", [g(Grade::Class58)];
    "6.8", "ISO 898-1 class 6.8", [g(Grade::Class68)];
    "8.8", "ISO 898-1 class 8.8", [g(Grade::Class88)];
    "10.9", "ISO 898-1 class 10.9", [g(Grade::Class109)];
    "12.9", "ISO 898-1 class 12.9", [g(Grade::Class129)];
    "stainless", "stainless steel", [g(Grade::Stainless)];
    "stnls", "stainless steel", [g(Grade::Stainless)];
    "ss", "stainless steel", [g(Grade::Stainless)];
    "s/s", "stainless steel", [g(Grade::Stainless)];
    "sst", "stainless steel", [g(Grade::Stainless)];
    "18-8", "18-8 stainless", [g(Grade::Stainless18_8)];
    "18/8", "18-8 stainless", [g(Grade::Stainless18_8)];
    "ss304", "304 stainless", [g(Grade::Stainless18_8)];
    "304ss", "304 stainless", [g(Grade::Stainless18_8)];
    "ss305", "305 stainless, of the 18-8 family", [g(Grade::Stainless18_8)];
    "305ss", "305 stainless", [g(Grade::Stainless18_8)];
    "t304", "304 stainless", [g(Grade::Stainless18_8)];
    "ss316", "316 stainless", [g(Grade::Stainless316)];
    "316ss", "316 stainless", [g(Grade::Stainless316)];
    "t316", "316 stainless", [g(Grade::Stainless316)];
    "ss410", "410 stainless", [g(Grade::Stainless410)];
    "410ss", "410 stainless", [g(Grade::Stainless410)];
    "a2", "A2 stainless, ISO 3506", [g(Grade::Stainless18_8)];
    "a4", "A4 stainless, ISO 3506", [g(Grade::Stainless316)];
    "a2-50", "A2 stainless, class 50", [g(Grade::A2_50)];
    "a2-70", "A2 stainless, class 70", [g(Grade::A2_70)];
    "a2-80", "A2 stainless, class 80", [g(Grade::A2_80)];
    "a4-50", "A4 stainless, class 50", [g(Grade::A4_50)];
    "a4-70", "A4 stainless, class 70", [g(Grade::A4_70)];
    "a4-80", "A4 stainless, class 80", [g(Grade::A4_80)];
    "steel", "steel", [g(Grade::Steel)];
    "stl", "steel", [g(Grade::Steel)];
    "brass", "brass", [g(Grade::Brass)];
    "brs", "brass", [g(Grade::Brass)];
    "silicon", "silicon bronze", [g(Grade::SiliconBronze)];
    "bronze", "silicon bronze", [g(Grade::SiliconBronze)];
    "aluminium", "aluminium", [g(Grade::Aluminium)];
    "aluminum", "aluminium", [g(Grade::Aluminium)];
    "alum", "aluminium", [g(Grade::Aluminium)];
    "nylon", "nylon; nylon insert", [g(Grade::Nylon)];
    "nyl", "nylon; nylon insert", [g(Grade::Nylon)];

    // finishes
    "zinc", "zinc", [m(Zinc)];
    "zn", "zinc", [m(Zinc)];
    "zp", "zinc plated", [m(Zinc)];
    "bzp", "bright zinc plated", [m(Zinc)];
    "zn-pl", "zinc plated", [m(Zinc)];
    "zincked", "zinc plated", [m(Zinc)];
    "vz", "zinc plated", [m(Zinc)];
    "zc", "zinc, clear", [m(Zinc)];
    "clear", "clear", [Noise];
    "yellow", "yellow zinc", [m(Yellow)];
    "yz", "yellow zinc", [m(Yellow), m(Zinc)];
    "zy", "yellow zinc", [m(Yellow), m(Zinc)];
    "yzp", "yellow zinc", [m(Yellow), m(Zinc)];
    "flake", "zinc flake", [m(Flake)];
    "hdg", "hot-dip galvanised", [m(Galvanised), m(Dipped)];
    "tzn", "hot-dip galvanised, by ISO 10684", [m(Galvanised), m(Dipped)];
    "hot", "hot-dip", [m(Dipped)];
    "dip", "hot-dip", [m(Dipped)];
    "dipped", "hot-dip", [m(Dipped)];
    "galv", "galvanised", [m(Galvanised)];
    "galvanized", "galvanised", [m(Galvanised)];
    "galvanised", "galvanised", [m(Galvanised)];
    "mechanical", "mechanically galvanised", [m(Mechanical)];
    "mechanically", "mechanically galvanised", [m(Mechanical)];
    "mech", "mechanically galvanised", [m(Mechanical)];
    "mg", "mechanically galvanised", [m(Mechanical), m(Galvanised)];
    "black", "black", [m(Black)];
    "blk", "black", [m(Black)];
    "oxide", "black oxide", [m(Oxide)];
    "ox", "black oxide", [m(Oxide)];
    "bo", "black oxide", [m(Black), m(Oxide)];
    "phosphate", "phosphate", [m(Phosphate)];
    "phos", "phosphate", [m(Phosphate)];
    "nickel", "nickel", [m(Nickel)];
    "chrome", "chrome", [m(Chrome)];
    "cad", "cadmium", [m(Cadmium)];
    "cadmium", "cadmium", [m(Cadmium)];
    "painted", "painted", [m(Painted)];
    "powder", "powder coated", [m(Powder)];
    "passivated", "passivated", [m(Passivated)];
    "coated", "coated", [m(Coated)];
    "ctd", "coated", [m(Coated)];
    "coating", "coated", [m(Coated)];
    "bare", "no finish", [m(Plain)];
    "unplated", "no finish", [m(Plain)];
    "plated", "plated", [Noise];
    "plt", "plated", [Noise];
    "pl", "plated", [Noise];
    "finish", "finish", [Noise];

    // counts
    "one", "1", [Count(1)];
    "two", "2", [Count(2)];
    "three", "3", [Count(3)];
    "four", "4", [Count(4)];
    "five", "5", [Count(5)];
    "six", "6", [Count(6)];
    "seven", "7", [Count(7)];
    "eight", "8", [Count(8)];
    "nine", "9", [Count(9)];
    "ten", "10", [Count(10)];
    "eleven", "11", [Count(11)];
    "twelve", "12", [Count(12)];
    "thirteen", "13", [Count(13)];
    "fourteen", "14", [Count(14)];
    "fifteen", "15", [Count(15)];
    "sixteen", "16", [Count(16)];
    "seventeen", "17", [Count(17)];
    "eighteen", "18", [Count(18)];
    "nineteen", "19", [Count(19)];
    "twenty", "20", [Count(20)];
    "thirty", "30", [Count(30)];
    "forty", "40", [Count(40)];
    "fifty", "50", [Count(50)];
    "sixty", "60", [Count(60)];
    "seventy", "70", [Count(70)];
    "eighty", "80", [Count(80)];
    "ninety", "90", [Count(90)];
    "hundred", "hundred", [Per(100)];
    "thousand", "thousand", [Per(1000)];
    "halve", "halves", [Fraction(2)];
    "quarter", "a quarter", [Fraction(4)];
    "eighth", "an eighth", [Fraction(8)];
    "sixteenth", "a sixteenth", [Fraction(16)];
    "ea", "each piece", [Per(1), Each];
    "each", "each piece", [Per(1), Each];
    "ct", "count of pieces", [Per(1)];
    "lengths", "pieces of rod", [Per(1)];
    "pc", "piece", [Per(1)];
    "pce", "piece", [Per(1)];
    "piece", "piece", [Per(1)];
    "off", "piece", [Per(1)];
    "nos", "pieces", [Per(1)];
    "req'd", "required", [Per(1)];
    "reqd", "required", [Per(1)];
    "rqd", "required", [Per(1)];
    "required", "required", [Per(1)];
    "unit", "piece", [Per(1)];
    "req", "required", [Per(1)];
    "pr", "pair", [Per(2)];
    "pair", "pair", [Per(2)];
    "doz", "dozen", [Per(12)];
    "dz", "dozen", [Per(12)];
    "dozen", "dozen", [Per(12)];
    "gross", "gross", [Per(144)];
    "grs", "gross", [Per(144)];
    "bag", "bag", [Pack];
    "box", "box", [Pack];
    "boxe", "boxes", [Pack];
    "bx", "box", [Pack];
    "pack", "pack", [Pack];
    "pk", "pack", [Pack];
    "pkg", "package", [Pack];
    "package", "package", [Pack];
    "packet", "packet", [Pack];
    "pkt", "packet", [Pack];
    "carton", "carton", [Pack];
    "ctn", "carton", [Pack];
    // no packs where no fastener is named
    "case", "case", [Use, Pack];
    "tub", "tub", [Use, Pack];
    "drum", "drum", [Use, Pack];
    "jar", "jar", [Use, Pack];
    "sack", "sack", [Use, Pack];
    "keg", "keg", [Use, Pack];
    "pail", "pail", [Use, Pack];
    "bucket", "bucket", [Use, Pack];
    "crate", "crate", [Use, Pack];
    "tote", "tote", [Use, Pack];
    "pouch", "pouch", [Use, Pack];
    "pouche", "pouches", [Use, Pack];
    "reel", "reel", [Use, Pack];
    "blister", "blister", [Use, Pack];
    "envelope", "envelope", [Use, Pack];
    "tray", "tray", [Use, Pack];
    "tin", "tin", [Use, Pack];
    "card", "card", [Use, Pack];
    "strip", "strip", [Use, Pack];
    "bundle", "bundle", [Use, Pack];
    "bdl", "bundle", [Use, Pack];
    "canister", "canister", [Use, Pack];
    "sachet", "sachet", [Use, Pack];
    "polybag", "polybag", [Use, Pack];
    "qty", "quantity", [Qty];
    "quantity", "quantity", [Qty];
    "quan", "quantity", [Qty];
    "qnty", "quantity", [Qty];

    // units and measures
    "in", "inch", [Sense::Unit(Unit::Inch)];
    "inch", "inch", [Sense::Unit(Unit::Inch)];
    "inche", "inches", [Sense::Unit(Unit::Inch)];
    "mm", "millimetre", [Sense::Unit(Unit::Millimetre)];
    "millimetre", "millimetre", [Sense::Unit(Unit::Millimetre)];
    "millimeter", "millimetre", [Sense::Unit(Unit::Millimetre)];
    "cm", "centimetre", [Sense::Metric(10)];
    "m", "metre", [Sense::Metric(1000)];
    "ft", "foot", [Foot];
    "foot", "foot", [Foot];
    "feet", "foot", [Foot];
    "long", "length; coupling nut", [Sense::Measure(Measure::Length), m(Long)];
    "lg", "length", [Sense::Measure(Measure::Length)];
    "lgth", "length", [Sense::Measure(Measure::Length)];
    "length", "length", [Sense::Measure(Measure::Length)];
    "dia", "diameter", [Sense::Measure(Measure::Diameter)];
    "diam", "diameter", [Sense::Measure(Measure::Diameter)];
    "diameter", "diameter", [Sense::Measure(Measure::Diameter)];
    "od", "outside diameter", [Sense::Measure(Measure::Outside)];
    "id", "inside diameter: a washer's nominal size", [Sense::Measure(Measure::Diameter)];
    "thk", "thick", [Sense::Measure(Measure::Other), m(Thick)];
    "extra-thick", "thicker than usual", [m(Thick)];
    "thick", "thick; thicker than usual", [Sense::Measure(Measure::Other), m(Thick)];
    "x", "by", [By];
    "by", "by", [By];
    "ft-lb", "torque", [Torque];
    "ft-lbf", "torque", [Torque];
    "ft.lb", "torque", [Torque];
    "ftlb", "torque", [Torque];
    "in-lb", "torque", [Torque];
    "in-lbf", "torque", [Torque];
    "lb-ft", "torque", [Torque];
    "lbf-ft", "torque", [Torque];
    "lb-in", "torque", [Torque];
    "torque", "torque", [Noise];
    "hv", "hardness", [Hardness];
    "hrc", "hardness", [Hardness];
    "lb", "pound: torque behind a length", [Pound];
    "kg", "kilogram", [Pound];
    "lbf", "pound: torque behind a length", [Pound];
    "nm", "torque", [Torque];
    "n-m", "torque", [Torque];

    // joining words
    "and", "and", [And];
    "with", "with", [With];
    "w", "with", [With];
    "w/", "with", [With];
    "c/w", "complete with", [With];
    "cw", "complete with", [With];
    "complete", "complete with", [Sense::Whole];
    "incl", "including", [With];
    "including", "including", [With];
    "plus", "and", [And];
    "without", "without", [Without];
    "w/o", "without", [Without];
    "less", "without", [Without];
    "for", "where it goes", [For];
    "from", "where it comes from", [For];
    "see", "a note follows", [For];
    "about", "about so many", [About];
    "approx", "about so many", [About];
    "extra", "beyond what is needed, or part of it", [Sense::Extra];
    "others", "brought by others", [Sense::Extra];
    "spare", "beyond what is needed, or part of it", [Sense::Extra];
    "sorry", "takes back what was said", [Sense::Corrects];
    "correction", "takes back what was said", [Sense::Corrects];
    "oops", "takes back what was said", [Sense::Corrects];
    "wait", "takes back what was said", [Sense::Corrects];
    "both", "at two places", [Both];
    "them", "the pieces", [Noise];
    "those", "the pieces", [Noise];
    "more", "so many more", [Noise];
    "suit", "where it goes", [For];
    "of", "of", [Of];
    "to", "to", [Noise];
    "at", "at a place", [Noise];
    "on", "on a place", [Noise];
    "a", "article", [Noise];
    "an", "article", [Noise];
    "the", "article", [Noise];
    "type", "type", [TypeWord];
    "style", "style", [TypeWord];
    "per", "at each place", [PerPlace];
    "unspecified", "of unknown style", [Sense::Unspecified];
    "series", "series", [Noise];
    "std", "standard", [Noise];
    "standard", "standard", [Noise];
    "assembly", "assembly", [Sense::Whole];
    "assy", "assembly", [Sense::Whole];
    "size", "size", [Noise];

    // numbers of things
    "p/n", "part number", [PartNumber];
    "pn", "part number", [PartNumber];
    "part", "part number; part thread", [PartNumber];
    "sku", "part number", [PartNumber];
    "no", "number", [NumberWord];
    "nr", "number", [NumberWord];
    "num", "number", [NumberWord];
    "number", "number", [NumberWord];
    "astm", "ASTM standard", [Standard];
    "asme", "ASME standard", [Standard];
    "ansi", "ANSI standard", [Standard];
    "iso", "ISO standard", [Standard];
    "din", "DIN standard", [Standard];
    "en", "EN standard", [Standard];
    "j429", "SAE J429", [Noise];
    "a563", "ASTM A563", [Noise];
    "a194", "ASTM A194", [Noise];
    "a193", "ASTM A193", [Noise];
    "f3125", "ASTM F3125", [Noise];
    "f593", "ASTM F593", [Noise];
    "f594", "ASTM F594", [Noise];

    // German, Dutch, French, Spanish and Italian: the words of a general dictionary
    "schraube", "screw", [SCREW];
    "schrauben", "screw", [SCREW];
    "mutter", "nut", [NUT];
    "muttern", "nut", [NUT];
    "sechskantmutter", "hex nut", [m(Hex), NUT];
    "sechskantmuttern", "hex nut", [m(Hex), NUT];
    "senkschraube", "flat head screw", [m(Flat), SCREW];
    "senkschrauben", "flat head screw", [m(Flat), SCREW];
    "blechschraube", "sheet metal screw", [m(SheetMetal), SCREW];
    "blechschrauben", "sheet metal screw", [m(SheetMetal), SCREW];
    "ringschraube", "eye bolt", [m(Eye), BOLT];
    "ringschrauben", "eye bolt", [m(Eye), BOLT];
    "flachrund", "carriage", [m(Carriage)];
    "selbstsichernd", "lock nut", [m(Lock)];
    "selbstsichernde", "lock nut", [m(Lock)];
    "sechskant", "hexagon", [m(Hex)];
    "scheibe", "washer", [WASHER];
    "scheiben", "washer", [WASHER];
    "unterlegscheibe", "flat washer", [m(Flat), WASHER];
    "unterlegscheiben", "flat washer", [m(Flat), WASHER];
    "zylinderschraube", "socket head cap screw", [m(Socket), m(Cap), SCREW];
    "holzschraube", "wood screw", [m(Wood), SCREW];
    "holzschrauben", "wood screw", [m(Wood), SCREW];
    "gewindestange", "threaded rod", [m(Threaded), ROD];
    "gewindestangen", "threaded rod", [m(Threaded), ROD];
    "federring", "split lock washer", [m(Split), WASHER];
    "federringe", "split lock washer", [m(Split), WASHER];
    "stoppmutter", "nylon-insert lock nut", [m(NylonInsert), NUT];
    "stoppmuttern", "nylon-insert lock nut", [m(NylonInsert), NUT];
    "hutmutter", "cap nut", [m(Cap), NUT];
    "hutmuttern", "cap nut", [m(Cap), NUT];
    "flügelmutter", "wing nut", [m(Wing), NUT];
    "flügelmuttern", "wing nut", [m(Wing), NUT];
    "zeskantbout", "hex bolt", [m(Hex), BOLT];
    "zeskantbouten", "hex bolt", [m(Hex), BOLT];
    "slotbout", "carriage bolt", [m(Carriage), BOLT];
    "slotbouten", "carriage bolt", [m(Carriage), BOLT];
    "bout", "bolt", [BOLT];
    "bouten", "bolt", [BOLT];
    "schroef", "screw", [SCREW];
    "schroeven", "screw", [SCREW];
    "houtschroef", "wood screw", [m(Wood), SCREW];
    "houtschroeven", "wood screw", [m(Wood), SCREW];
    "moer", "nut", [NUT];
    "moeren", "nut", [NUT];
    "zeskantmoer", "hex nut", [m(Hex), NUT];
    "borgmoer", "nylon-insert lock nut", [m(NylonInsert), NUT];
    "borgmoeren", "nylon-insert lock nut", [m(NylonInsert), NUT];
    "sluitring", "flat washer", [m(Flat), WASHER];
    "sluitringen", "flat washer", [m(Flat), WASHER];
    "draadeind", "threaded rod", [m(Threaded), ROD];
    "stuk", "piece", [Per(1)];
    "schlossschraube", "carriage bolt", [m(Carriage), BOLT];
    "schlossschrauben", "carriage bolt", [m(Carriage), BOLT];
    "verzinkt", "zinc plated", [m(Zinc)];
    "feuerverzinkt", "hot-dip galvanised", [m(Dipped)];
    "stk", "piece", [Per(1)];
    "st", "piece", [Per(1)];
    "stück", "piece", [Per(1)];
    "mit", "with", [With];
    "und", "and", [And];
    "vis", "screw", [SCREW];
    "à", "with, for", [Noise];
    "bois", "wood", [m(Wood)];
    "tête", "head", [Noise];
    "tirefond", "lag screw", [m(Lag), SCREW];
    "boulon", "bolt", [BOLT];
    "écrou", "nut", [NUT];
    "ecrou", "nut", [NUT];
    "rondelle", "washer", [WASHER];
    "inox", "stainless steel", [g(Grade::Stainless)];
    "tornillo", "screw", [SCREW];
    "perno", "bolt", [BOLT];
    "tuerca", "nut", [NUT];
    "arandela", "washer", [WASHER];
    "plana", "flat", [m(Flat)];
    "hexagonale", "hexagon", [m(Hex)];
    "frein", "nylon-insert lock nut", [m(NylonInsert)];
    "zingué", "zinc plated", [m(Zinc)];
    "cincado", "zinc plated", [m(Zinc)];
    "rondella", "washer", [WASHER];
    "ud", "piece", [Per(1)];
    "pz", "piece", [Per(1)];
    "pza", "piece", [Per(1)];
    "pieza", "piece", [Per(1)];
    "pulg", "inch", [Sense::Unit(Unit::Inch)];

    // things that are no hardware
    "plate", "plate; plate washer", [m(Plate), Thing];
    "turnbuckle", "turnbuckle", [Thing];
    "shackle", "shackle", [Thing];
    "link", "link", [Thing];
    "plywood", "plywood", [Thing];
    "bracket", "bracket", [Thing];
    "brkt", "bracket", [Thing];
    "clip", "clip", [Thing];
    "angle", "angle", [Thing];
    "board", "board", [Thing];
    "plank", "plank", [Thing];
    "post", "post", [Thing];
    "beam", "beam", [Thing];
    "girder", "girder", [Thing];
    "tube", "tube", [Thing];
    "pipe", "pipe", [Thing];
    "rail", "rail", [Thing];
    "handrail", "handrail", [Thing];
    "cover", "cover", [Thing];
    "panel", "panel", [Thing];
    "frame", "frame", [Thing];
    "brace", "brace", [Thing];
    "strap", "strap", [Thing];
    "shoe", "shoe", [Thing];
    "hanger", "hanger", [Thing];
    "clamp", "clamp", [Thing];
    "kit", "kit", [Thing];
    "holder", "holder", [Thing];
    "driver", "driver", [Thing, Sense::Tool];
    "wrench", "wrench", [Thing, Sense::Tool];
    "bit", "bit", [Thing, Sense::Tool];
    "wrenche", "wrench", [Thing, Sense::Tool];
    "spanner", "wrench", [Thing, Sense::Tool];
    "screwdriver", "screwdriver", [Thing, Sense::Tool];
    "ratchet", "ratchet", [Thing, Sense::Tool];
    "hammer", "hammer; T-shaped head", [Thing, Sense::Tool, m(Hammer)];
    "mallet", "mallet", [Thing, Sense::Tool];
    "plier", "pliers", [Thing, Sense::Tool];
    "key", "hex key", [Sense::Tool];
    "gasket", "gasket", [Thing];
    "spacer", "spacer", [Thing];
    "bushing", "bushing", [Thing];
    "template", "template", [Thing];
    "threadlocker", "thread locker", [Sense::Consumable];
    "threadlock", "thread locker", [Sense::Consumable];
    "locker", "thread locker", [Sense::Consumable];
    "lubricant", "lubricant", [Sense::Consumable];
    "grease", "grease", [Sense::Consumable];
    "antiseize", "anti-seize paste", [Sense::Consumable];
    "anti-seize", "anti-seize paste", [Sense::Consumable];
    "compound", "compound: sealing, anti-seize", [Sense::Consumable];
    "sealant", "sealant", [Sense::Consumable];
    "caulk", "sealant", [Sense::Consumable];
    "glue", "glue", [Sense::Consumable];
    "tape", "tape", [Sense::Consumable];
    "hole", "hole", [Thing];
};

/// Standards of ISO and DIN by number, and what each is the standard of, with the general words of its
/// title (titles, from memory).
#[rustfmt::skip]
const STANDARDS: &[(u64, &[Sense])] = &[
    (4014, &[m(Hex), BOLT, FullThread(false)]), (931, &[m(Hex), BOLT, FullThread(false)]),
    (4017, &[m(Hex), BOLT, FullThread(true)]), (933, &[m(Hex), BOLT, FullThread(true)]),
    (4762, &[m(Socket), SCREW]), (912, &[m(Socket), SCREW]),
    (7380, &[m(Button), SCREW]),
    (10642, &[m(Flat), m(Socket), SCREW]), (7991, &[m(Flat), m(Socket), SCREW]),
    (4032, &[m(Hex), NUT]), (934, &[m(Hex), NUT]),
    (4035, &[m(Jam), m(Hex), NUT]), (439, &[m(Jam), m(Hex), NUT]),
    (7040, &[m(NylonInsert), m(Hex), NUT]), (10511, &[m(NylonInsert), m(Hex), NUT]),
    (985, &[m(NylonInsert), m(Hex), NUT]),
    (7089, &[m(Flat), WASHER]), (125, &[m(Flat), WASHER]),
    (127, &[m(Split), WASHER]), (6797, &[m(Tooth), WASHER]),
    (6340, &[m(Thick), WASHER]), (7349, &[m(Thick), WASHER]),
    (7093, &[m(Fender), m(Flat), WASHER]), (9021, &[m(Fender), m(Flat), WASHER]),
    (8677, &[m(Carriage), BOLT]), (603, &[m(Carriage), BOLT]),
    (571, &[m(Lag), SCREW]),
    (976, &[m(Threaded), ROD]), (975, &[m(Threaded), ROD]),
    (4033, &[m(Hex), NUT]), (8673, &[m(Hex), NUT]),
    (982, &[m(NylonInsert), m(Hex), NUT]), (10512, &[m(NylonInsert), m(Hex), NUT]),
    (980, &[m(AllMetal), m(Lock), m(Hex), NUT]), (7042, &[m(AllMetal), m(Lock), m(Hex), NUT]),
    (936, &[m(Jam), m(Hex), NUT]), (1587, &[m(Cap), m(Hex), NUT]),
    (6923, &[m(Flange), m(Hex), NUT]), (4161, &[m(Flange), m(Hex), NUT]),
    (6334, &[m(Coupling), m(Hex), NUT]), (935, &[m(Castle), m(Hex), NUT]),
    (928, &[m(Weld), m(Square), NUT]), (929, &[m(Weld), m(Hex), NUT]),
    (315, &[m(Wing), NUT]), (557, &[m(Square), NUT]), (562, &[m(Square), NUT]),
    (7090, &[m(Flat), WASHER]), (7091, &[m(Flat), WASHER]), (126, &[m(Flat), WASHER]),
    (436, &[m(Plate), m(Square), WASHER]),
    (6921, &[m(Flange), m(Hex), BOLT]), (1665, &[m(Flange), m(Hex), BOLT]),
    (601, &[m(Hex), BOLT, FullThread(false)]), (4016, &[m(Hex), BOLT, FullThread(false)]),
    (960, &[m(Hex), BOLT, FullThread(false)]), (8765, &[m(Hex), BOLT, FullThread(false)]),
    (558, &[m(Hex), BOLT, FullThread(true)]), (4018, &[m(Hex), BOLT, FullThread(true)]),
    (961, &[m(Hex), BOLT, FullThread(true)]), (8676, &[m(Hex), BOLT, FullThread(true)]),
    (444, &[m(Eye), BOLT]),
    (186, &[m(T), BOLT]), (188, &[m(T), BOLT]), (261, &[m(T), BOLT]), (787, &[m(T), BOLT]), (508, &[m(T), NUT]),
    (94, &[m(Cotter), PIN]), (1234, &[m(Cotter), PIN]),
    (2341, &[m(Clevis), PIN]), (1444, &[m(Clevis), PIN]),
    (7504, &[m(SelfDrilling), SCREW]), (15480, &[m(HexWasher), m(SelfDrilling), SCREW]),
    (1481, &[m(Roll), PIN]), (8752, &[m(Roll), PIN]),
    (7984, &[m(Low), m(Socket), SCREW]), (6912, &[m(Low), m(Socket), SCREW]),
];

/// Standards that hold for fasteners of every style: threads, strengths, coatings, tolerances, sets
/// (titles, from memory).
const GENERAL_STANDARDS: &[u64] = &[
    13, 68, 225, 261, 262, 267, 272, 273, 724, 888, 898, 965, 1461, 2320, 3269, 3506, 4042, 4759,
    6157, 8839, 8991, 8992, 9001, 9227, 10204, 10683, 10684, 14399, 15048, 50979,
];

/// True for the number of a standard of ISO or DIN that may be that of one style of fastener, unknown
/// which.
pub(super) fn is_unknown_standard(number: u64) -> bool {
    standard(number).is_none() && !GENERAL_STANDARDS.contains(&number)
}

/// A unit of issue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Issue {
    Pieces(u64),
    Pack,
}

/// The unit of issue of several pieces that a word is, and nothing else: `pair`, `dozen`, `box`.
pub fn unit_of_issue(word: &str) -> Option<Issue> {
    let row = look_up(word)?;
    match row.per().filter(|n| *n > 1) {
        Some(n) => Some(Issue::Pieces(n)),
        None => row.kinds.within(Senses::PACK).then_some(Issue::Pack),
    }
}

/// What a standard of ISO or DIN is the standard of.
pub(super) fn standard(number: u64) -> Option<&'static [Sense]> {
    let row = STANDARDS.iter().find(|(known, _)| *known == number)?;
    Some(row.1)
}

/// The row of a noun or mark of which two neighbouring letters changed places (`botls`).
pub(super) fn near(word: &str) -> Option<&'static Row> {
    if !(4..=LONGEST).contains(&word.len()) || !word.bytes().all(|b| b.is_ascii_alphabetic()) {
        return None;
    }
    let mut letters = [0; LONGEST];
    let letters = &mut letters[..word.len()];
    letters.copy_from_slice(word.as_bytes());
    for i in 1..letters.len() {
        letters.swap(i - 1, i);
        let row = look_up_bytes(letters)
            .filter(|row| matches!(row.senses, [Sense::Noun(_) | Sense::Mark(_), ..]));
        if row.is_some() {
            return row;
        }
        letters.swap(i - 1, i);
    }
    None
}

/// The row of a word in capitals of which an `I` was taken for an `l`: `ZlNC`, as scans have it.
pub(super) fn scanned(word: &str) -> Option<&'static Row> {
    let letters = || word.bytes().filter(u8::is_ascii_alphabetic);
    let scanned = word.contains('l') && letters().all(|b| b.is_ascii_uppercase() || b == b'l');
    look_up(&word.replace('l', "I")).filter(|_| scanned && letters().count() > 3)
}

/// No spelling is longer; longer runs of letters are not looked up.
const LONGEST: usize = 16;

/// The row of a spelling, upper or lower case, with or without a plural `s`.
#[inline]
pub(super) fn look_up(word: &str) -> Option<&'static Row> {
    look_up_bytes(word.as_bytes())
}

/// The row of a word, in any case and in the plural, by its bytes.
#[inline]
pub(super) fn look_up_bytes(word: &[u8]) -> Option<&'static Row> {
    let key = key(word)?;
    match *word {
        [.., b's' | b'S'] if word.len() > 2 => find(key, word.len()).or_else(|| {
            let last = 8 * (word.len() - 1);
            find(key & !(0xff << last), word.len() - 1)
        }),
        _ => find(key, word.len()),
    }
}

/// The letters of a word in lower case, side by side in one number; `None` where it is too long.
#[inline]
const fn key(word: &[u8]) -> Option<u128> {
    let n = word.len();
    match (word, word.first_chunk(), word.last_chunk()) {
        ([first, ..], ..) if n < 4 => {
            let (middle, last) = (word[n / 2] as u64, word[n - 1] as u64);
            let letters = *first as u64 | middle << (8 * (n / 2)) | last << (8 * (n - 1));
            Some(lower(letters) as u128)
        }
        (_, Some(&first), Some(&last)) if n < 8 => {
            let (first, last) = (u32::from_le_bytes(first), u32::from_le_bytes(last));
            Some(lower(first as u64 | (last as u64) << (8 * (n - 4))) as u128)
        }
        _ => match (word.first_chunk(), word.last_chunk()) {
            (Some(&first), Some(&last)) if n <= LONGEST => {
                let (first, last) = (u64::from_le_bytes(first), u64::from_le_bytes(last));
                Some(lower(first) as u128 | (lower(last) as u128) << (8 * (n - 8)))
            }
            _ => None,
        },
    }
}

/// Eight letters, those from `A` to `Z` in lower case.
const fn lower(letters: u64) -> u64 {
    const EACH: u64 = 0x0101_0101_0101_0101;
    let low = letters & (0x7f * EACH);
    let from_a = low + (0x80 - b'A' as u64) * EACH;
    let behind_z = low + (0x7f - b'Z' as u64) * EACH;
    let upper = from_a & !behind_z & !letters & (0x80 * EACH);
    letters | upper >> 2
}

/// Where the row of a key stands: places of which most are free, so that a word is found, or not, at
/// the first or second look.
struct Index {
    keys: [u128; WORDS.len()],
    /// The number of the row, from 1; 0 for a free place.
    places: [u16; PLACES],
}

const PLACES: usize = 2048;

static INDEX: Index = {
    let mut index = Index {
        keys: [0; WORDS.len()],
        places: [0; PLACES],
    };
    let mut row = 0;
    while row < WORDS.len() {
        let Some(key) = key(WORDS[row].spelling.as_bytes()) else {
            panic!("a spelling is too long");
        };
        let mut place = place(key);
        while index.places[place] != 0 {
            place = (place + 1) % PLACES;
        }
        index.keys[row] = key;
        row += 1;
        index.places[place] = row as u16;
    }
    index
};

/// The first place of a key (Fibonacci hashing: the golden ratio's bits spread what lies close).
#[inline]
const fn place(key: u128) -> usize {
    let folded = key as u64 ^ ((key >> 64) as u64).rotate_left(23);
    (folded.wrapping_mul(0x9e37_79b9_7f4a_7c15) >> (64 - PLACES.ilog2())) as usize
}

#[inline]
fn find(key: u128, len: usize) -> Option<&'static Row> {
    let mut place = place(key);
    loop {
        let at = usize::from(INDEX.places[place]).checked_sub(1)?;
        if INDEX.keys[at] == key && WORDS[at].spelling.len() == len {
            return Some(&WORDS[at]);
        }
        place = (place + 1) % PLACES;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_spelling_stands_once_in_lower_case_and_short_enough() {
        for (i, row) in WORDS.iter().enumerate() {
            // Figures alone are numerals; the lexer does not look them up.
            assert!(!row.spelling.bytes().all(|b| b.is_ascii_digit()));
            assert_eq!(row.spelling, row.spelling.to_ascii_lowercase());
            assert!(!row.senses.is_empty());
            assert!(
                WORDS[..i]
                    .iter()
                    .all(|other| other.spelling != row.spelling),
                "{} stands twice",
                row.spelling
            );
        }
    }

    #[test]
    fn bags_and_boxes_hold_pieces() {
        for word in crate::columns::furniture::BAGS
            .iter()
            .chain(&crate::columns::furniture::BOXES)
        {
            assert!(look_up(word).is_some_and(|row| row.says(Pack)), "{word}");
        }
    }

    #[test]
    fn plurals_and_capitals_are_the_same_word() {
        assert_eq!(look_up("Bolts").map(|row| row.spelling), Some("bolt"));
        assert_eq!(look_up("HHCS").map(|row| row.spelling), Some("hhcs"));
        assert!(look_up("bolster").is_none());
        assert!(look_up("").is_none());
        assert!(look_up("bolt\0").is_none());
        assert!(look_up("self-drilling-sc").is_none());
        assert!(look_up("self-drilling-scr").is_none());
        for row in WORDS {
            for word in [row.spelling.to_owned(), row.spelling.to_ascii_uppercase()] {
                assert_eq!(look_up(&word).map(|row| row.spelling), Some(row.spelling));
            }
        }
    }
}
