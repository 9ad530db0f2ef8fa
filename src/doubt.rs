//! A doubt: a reason why a person should look at a line before trusting it.
//!
//! A doubt is data; [`std::fmt::Display`] is the one place that turns it into a sentence. Any
//! line that carries one is **check**, never **read**.

use std::fmt;

use crate::hardware::{Diameter, Length, Thread};

#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Doubt {
    /// No quantity is stated; the line is not summed.
    NoQuantity,
    /// The diameter is in no standard series.
    OddDiameter(Diameter),
    /// The length is no usual one.
    OddLength(Length),
    /// The thread is in no standard series for its diameter.
    OddThread(Diameter, Thread),
    /// Length and diameter stood the wrong way round and were swapped.
    Swapped { written: Box<str> },
    /// A size with no kind of fastener named.
    NoKind,
    /// A hardware line without a size.
    NoSize,
    /// A rounded decimal read as a fraction (`.31` as `5/16`).
    Rounded { written: Box<str>, read: Box<str> },
    /// A date that a spreadsheet made of a size; all readings that are standard sizes.
    DateForSize {
        date: Box<str>,
        readings: Vec<Box<str>>,
    },
    /// More than one reading fits; the first was taken.
    Readings(Vec<Box<str>>),
    /// Words or digits that no reading explains.
    LeftOver(Box<str>),
    /// Words of a hardware line that are not known (not digits).
    UnknownWords(Box<str>),
    /// `Qty 4, places 4`: the figure may be each or in all.
    PerPlaceOrTotal { each: u64, places: u64 },
    /// The total on the row is not quantity times places.
    TotalDisagrees { total: u64, computed: u64 },
    /// The total on the row is not the sum of its stages.
    StagesDisagree { total: u64, computed: u64 },
    /// A figure beside the count that may be one, too.
    MayBeCount(Box<str>),
    /// A remark beside the count that may change it.
    Remark(Box<str>),
    /// Two quantities stand on the line and no heading tells which counts.
    TwoQuantities(u64, u64),
    /// A multiplier in words whose count is not stated ("each corner").
    Multiplier(Box<str>),
    /// A negative slip line, a credit; not summed.
    Credit(Box<str>),
    /// `AR`, as required: looked for, never claimed.
    AsRequired,
    /// A formula whose value was not stored.
    NoValue,
    /// The row is hidden or filtered out in its sheet.
    HiddenRow,
    /// The part number was mangled by a spreadsheet and matched loosely.
    LooseNumber {
        written: Box<str>,
        matched: Box<str>,
    },
    /// The part number stands for more than one item in these lists.
    NumberNotUnique(Box<str>),
    /// Under one part number the list and another state what cannot both be.
    NumberDisputed {
        number: Box<str>,
        said: [Box<str>; 2],
    },
    /// One side states a grade, finish or thread and the other does not.
    NotConfirmed(Box<str>),
    /// Another item of the same row is in doubt.
    RowInDoubt,
    /// A tool: brought, and no piece of the kit.
    Tool,
    /// Used up, and not counted by the piece.
    Consumable,
    /// A pack's size, and no word of how many packs there are.
    LonePack,
    /// Why another number of pieces may be meant, nobody knows which, in one sentence by the rule that found it.
    HowMany(Box<str>),
    /// So many pieces may be meant instead, in one sentence by the rule that found it.
    OrElse { pieces: u64, said: Box<str> },
    /// Anything else said in one sentence by the rule that found it.
    Said(Box<str>),
}

impl Doubt {
    /// Of a match: one side states a grade and the other none, or states it more closely.
    pub fn grade_not_confirmed() -> Doubt {
        Doubt::NotConfirmed("grade".into())
    }

    /// Why a bag that is counted as such is to check.
    pub fn uncounted_inside() -> Doubt {
        Doubt::Said("bags are counted here, and not what is in them".into())
    }

    /// True where another number of pieces, or pieces of another size, may be meant than were taken.
    pub fn is_of_how_many(&self) -> bool {
        match self {
            Doubt::HowMany(_)
            | Doubt::OrElse { .. }
            | Doubt::PerPlaceOrTotal { .. }
            | Doubt::TotalDisagrees { .. }
            | Doubt::StagesDisagree { .. }
            | Doubt::MayBeCount(_)
            | Doubt::Remark(_)
            | Doubt::TwoQuantities(..)
            | Doubt::Multiplier(_)
            | Doubt::LonePack => true,
            _ => self.is_of_figure() || self.is_open(),
        }
    }

    /// True for figures of a line that were not understood, of which one may be its count.
    pub fn is_of_figure(&self) -> bool {
        let (Doubt::LeftOver(words) | Doubt::MayBeCount(words)) = self else {
            return false;
        };
        words.contains(|c: char| c.is_ascii_digit())
    }

    /// How many pieces may be meant instead, where that is known.
    pub fn other_number(&self) -> Option<u64> {
        match self {
            Doubt::OrElse { pieces, .. } => Some(*pieces),
            Doubt::TotalDisagrees { total, .. } | Doubt::StagesDisagree { total, .. } => {
                Some(*total)
            }
            Doubt::PerPlaceOrTotal { each, places } => Some(each.saturating_mul(*places)),
            Doubt::MayBeCount(figure) => figure.parse().ok(),
            _ => None,
        }
    }

    /// True where several readings fit, between which other lines may tell.
    pub fn is_open(&self) -> bool {
        match self {
            Doubt::Readings(all) => all.len() > 1,
            Doubt::DateForSize { readings, .. } => readings.len() > 1,
            _ => false,
        }
    }
}

impl fmt::Display for Doubt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Doubt::NoQuantity => write!(f, "no quantity stated: not summed"),
            Doubt::OddDiameter(d) => write!(f, "{d} is not a standard diameter"),
            Doubt::OddLength(l) => write!(f, "{l} is not a usual length"),
            Doubt::OddThread(d, t) => write!(f, "{d}-{t} is not a standard thread"),
            Doubt::Swapped { written } => {
                write!(f, "length first in \"{written}\": read the other way round")
            }
            Doubt::NoKind => write!(f, "the kind of fastener is not stated"),
            Doubt::NoSize => write!(f, "no size stated"),
            Doubt::Rounded { written, read } => {
                write!(f, "{written} read as {read}, a rounded decimal")
            }
            Doubt::DateForSize { date, readings } => match readings.as_slice() {
                [] => write!(
                    f,
                    "the date {date} stands for a size that cannot be recovered"
                ),
                [one] => write!(
                    f,
                    "a spreadsheet made the date {date} of a size: read as {one}"
                ),
                many => write!(
                    f,
                    "a spreadsheet made the date {date} of a size: {}",
                    many.join(" or ")
                ),
            },
            Doubt::Readings(all) => write!(f, "may be {}", all.join(" or ")),
            Doubt::LeftOver(text) => write!(f, "left over: \"{text}\""),
            Doubt::UnknownWords(text) => write!(f, "not understood: \"{text}\""),
            Doubt::PerPlaceOrTotal { each, places } => {
                write!(
                    f,
                    "{each} may be per place or in all ({} or {each})",
                    each.saturating_mul(*places)
                )
            }
            Doubt::TotalDisagrees { total, computed } => {
                write!(
                    f,
                    "the row's total is {total}, quantity times places is {computed}"
                )
            }
            Doubt::StagesDisagree { total, computed } => write!(
                f,
                "the row's total is {total}, the sum of its columns is {computed}"
            ),
            Doubt::MayBeCount(figure) => write!(f, "\"{figure}\" may be a count, too"),
            Doubt::Remark(remark) => write!(f, "the remark \"{remark}\" may change how many"),
            Doubt::TwoQuantities(a, b) => write!(f, "two quantities, {a} and {b}: not summed"),
            Doubt::Multiplier(words) => {
                write!(f, "\"{words}\" multiplies by a number that is not stated")
            }
            Doubt::Credit(text) => write!(f, "{text} is a credit: not summed"),
            Doubt::AsRequired => write!(f, "as required: look for it, no count is due"),
            Doubt::NoValue => write!(
                f,
                "a formula without a stored value: open and save the file, or type the figure"
            ),
            Doubt::HiddenRow => write!(f, "the row is hidden in the sheet"),
            Doubt::LooseNumber { written, matched } => {
                write!(f, "part number {written} taken for {matched}")
            }
            Doubt::NumberNotUnique(number) => {
                write!(f, "part number {number} stands for more than one item")
            }
            Doubt::NumberDisputed {
                number,
                said: [own, other],
            } => write!(
                f,
                "part number {number} is \"{own}\" on the parts list and \"{other}\" elsewhere: which is right?"
            ),
            Doubt::NotConfirmed(what) => write!(f, "{what} not confirmed"),
            Doubt::RowInDoubt => write!(f, "another item of the same row is in doubt"),
            Doubt::Tool => write!(f, "a tool: to be brought, no piece of the kit"),
            Doubt::Consumable => write!(f, "a consumable: to be brought, not counted by the piece"),
            Doubt::LonePack => write!(f, "how many packs is not stated: taken as one"),
            Doubt::HowMany(text) | Doubt::OrElse { said: text, .. } | Doubt::Said(text) => {
                f.write_str(text)
            }
        }
    }
}
