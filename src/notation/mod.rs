//! Text to readings: number, size, callout.
//!
//! Spellings on the left, the canonical text that each reads as on the right:
//!
//! ```
//! use tallybin::notation::{Notation, describe};
//!
//! let table = [
//!     // one size, many hands
//!     ("1/2 x 3-3/4 hex bolt", "1/2 x 3-3/4 hex bolt"),
//!     ("1/2\" X 3 3/4\" HEX BOLT", "1/2 x 3-3/4 hex bolt"),
//!     ("½ × 3¾ hex bolt", "1/2 x 3-3/4 hex bolt"),
//!     (".5 by 3.75 in. hex bolt", "1/2 x 3-3/4 hex bolt"),
//!     ("Bolt, hex hd, 1/2 dia x 3-3/4 lg", "1/2 x 3-3/4 hex bolt"),
//!     ("HHCS 1/2 x 3-3/4", "1/2 x 3-3/4 hex bolt"),
//!     // threads
//!     ("5/8\"-11 UNC-2A X 6 hex bolt", "5/8-11 x 6 hex bolt"),
//!     ("1/2 UNF x 2 hex bolt", "1/2-20 x 2 hex bolt"),
//!     ("10-32 x 1/2 machine screw", "#10-32 x 1/2 machine screw"),
//!     ("No. 10 x 1 wood screw", "#10 x 1 wood screw"),
//!     ("M8-1.25 x 40 hex bolt", "M8x1.25 x 40 hex bolt"),
//!     ("M8x40 hex bolt 8.8", "M8 x 40 hex bolt, 8.8"),
//!     // grades and finishes in any order
//!     ("zinc hex bolt Gr 5, 1/2 x 3", "1/2 x 3 hex bolt, Grade 5, zinc plated"),
//!     ("1/2 x 3 hot dip galv carriage bolt", "1/2 x 3 carriage bolt, hot-dip galvanised"),
//!     ("1/2 hex nut, 304 SS", "1/2 hex nut, 18-8"),
//!     // abbreviations
//!     ("1/2 NLN", "1/2 nylon-insert lock nut"),
//!     ("FW 1/2", "1/2 flat washer"),
//!     ("1/4 x 1-1/4 OD fender washer", "1/4 x 1-1/4 fender washer"),
//!     // several items of one joint
//!     ("1/2 x 4 bolt c/w nut and 2 washers", "1/2 x 4 bolt + 1/2 hex nut + 1/2 flat washer"),
//!     // parts
//!     ("Girder shoe, LEFT", "girder shoe, left"),
//!     ("2 x 6 x 12 deck board", "2 x 6 x 12 deck board [part]"),
//! ];
//! for (spelling, expected) in table {
//!     let callouts = describe(spelling, Notation::default()).expect("an item");
//!     let texts: Vec<String> = callouts.iter().map(|callout| callout.item.text()).collect();
//!     assert_eq!(texts.join(" + "), expected, "{spelling}");
//! }
//!
//! let counts = [
//!     ("24 1/2 x 3 hex bolts", 24),
//!     ("1/2 x 3 hex bolt x24", 24),
//!     ("1/2 x 3 hex bolt, qty 2 doz", 24),
//!     ("twelve (12) 1/2 hex nuts", 12),
//!     ("2 bags of 25 1/2 hex nuts", 50),
//!     ("4 5/8 inch washers", 4),
//! ];
//! for (spelling, expected) in counts {
//!     let callouts = describe(spelling, Notation::default()).expect("an item");
//!     assert_eq!(callouts[0].quantity.map(|q| q.pieces), Some(expected), "{spelling}");
//! }
//! ```
//!
//! A description names one or more items; each is a [`Callout`]. Reading never fails in silence: what
//! no rule explains is in [`Callout::doubts`], and a text in which no item is found is [`Unread`].
//!
//! A text goes through these files in order (a `plain` line through few of them, one in the words of a line
//! before it through `wording` alone): `token` (numerals, words, codes; `number` reads one numeral, `sight`
//! one that is told at sight, `words` is the table of the trade's words), `spoken` (dictated numbers into numerals),
//! `range` (counts that are no one number), `runs` (numerals in a row, and the ways to read them),
//! `reader` (where one item ends and the next begins), `stretch` (what each token of one item is for,
//! into a `draft`), then `kind` and `size` (what the words and the figures of a draft add up to), all
//! joined in `joint`, or in `part` where no fastener is named, with the cells `beside` them. `unsettled` does so
//! for each way to read the runs, and `score` tells which is the likeliest; `known` weighs what is left open by
//! the sizes that are sure. `describe` begins all this, and `readings` shows every way. `dates` recovers sizes
//! from dates; `amount` reads quantity cells; `sentence` finds the items in a guide's prose.

mod along;
mod amount;
mod beside;
mod bytes;
mod callout;
#[cfg(test)]
mod cases;
mod code;
mod dates;
mod describe;
mod designation;
mod draft;
mod fold;
mod idle;
mod joint;
mod kind;
mod known;
mod number;
mod part;
mod plain;
mod range;
mod reader;
mod readings;
mod runs;
mod score;
mod sentence;
mod sight;
mod size;
mod spoken;
mod stretch;
mod token;
pub mod torque;
mod unsettled;
mod wording;
mod words;

pub use along::Along;
pub use amount::amount;
pub use callout::{Amount, Callout, ItemCells, Notation, Quantity, Role, Unread};
pub use describe::{describe, describe_among, describe_cells, names_part, says_finish};
pub use known::{Known, Origin};
pub use number::length;
pub use readings::{Alternative, Piece, Readings, readings, readings_of};
pub use score::NARROW;
pub use sentence::{
    Again, Before, Bolts, Call, NO_MORE_SAID, Naming, OptionNamed, Sentence, again, condition,
    is_likened, lend, makes_several, more_of_it, option, pieces, sentence, sentence_after,
};
pub use spoken::{figures, number_in_words};
pub use words::{Issue, unit_of_issue};
