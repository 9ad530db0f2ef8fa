//! Text to readings: number, size, callout.
//!
//! A description names one or more items ("5/8 x 6 hex bolt c/w nut and 2 washers"); each is a
//! [`Callout`]. Reading never fails in silence: what no rule explains is in [`Callout::doubts`], and
//! a text in which no item is found is [`Unread`].

mod amount;
mod callout;
#[cfg(test)]
mod cases;
mod dates;
mod describe;
mod kind;
mod number;
mod reader;
mod size;
mod token;
mod words;

pub use callout::{
    Amount, Callout, ItemCells, Notation, Quantity, Unread, amount, describe, describe_cells,
};
