//! Rows to meanings: which column is what, and which rows are no lines.
//!
//! [`heading`] knows the trade's words for a column, [`Layout`] which column of a table is what, [`Beside`] what
//! stands beside the count, [`furniture`] the rows that a list holds besides its lines (totals, stage titles,
//! notes), [`talk`] what people say about a line.

mod beside;
pub mod furniture;
pub mod heading;
mod layout;
pub mod talk;
mod words;

pub use beside::{Beside, Says};
pub use layout::{Layout, LevelBy, Spread, may_be_heading, same_words};

use crate::names::names;

names! {
    /// What a column holds. The names are the keys of a job file's `[columns]` table.
    pub enum Meaning {
        /// Pieces per place, where the heading says each or per, or says nothing.
        Quantity = "quantity",
        /// Pieces in all, over all places.
        Total = "total",
        /// At how many places the line is needed.
        Places = "places",
        /// Pieces in one pack.
        PackSize = "pack_size",
        /// Packs.
        Packs = "packs",
        /// Pieces in no full pack, beside packs.
        Loose = "loose",
        /// Pieces beside the quantity that may change it, such as spares or returned ones: not counted.
        Beside = "beside",
        /// Unit of measure: ea, pr, doz, C, M.
        Unit = "unit",
        /// Shipped pieces, on a slip that says more than one figure.
        Shipped = "shipped",
        /// Ordered, on a slip: not what was shipped.
        Ordered = "ordered",
        BackOrdered = "back_ordered",
        /// Good pieces, on a count sheet.
        Good = "good",
        Damaged = "damaged",
        CountedBy = "counted_by",
        /// Whether a bag or box was received, yes or no.
        Received = "received",
        Description = "description",
        /// The standard that it is made to, a part of what says what it is.
        Standard = "standard",
        Size = "size",
        Diameter = "diameter",
        Length = "length",
        Thread = "thread",
        Grade = "grade",
        Finish = "finish",
        PartNumber = "part_number",
        Stage = "stage",
        /// How deep a row stands below the assembly that it is a part of.
        Level = "level",
        /// The part number or the name of what a row is a part of.
        Parent = "parent",
        Place = "place",
        Bag = "bag",
        Box = "box",
        Option = "option",
        Use = "use",
        Torque = "torque",
        /// When the joint is tightened among the others, or in which pattern.
        Sequence = "sequence",
        /// What one piece weighs, or what the heading leaves open.
        Mass = "mass",
        /// What the row's pieces weigh together.
        TotalMass = "total_mass",
        Note = "note",
        /// Where the shop keeps it, on a list of its own stock.
        Bin = "bin",
        /// The item's stable id, on our own count sheet.
        Id = "id",
        /// Known and passed over: line numbers, prices, drawings' balloons.
        Ignored = "ignored",
    }
}
