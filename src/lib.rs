//! tallybin settles what a bolt-together kit requires against what was shipped and counted.
//!
//! Data goes down this list once, and never back up:
//!
//! * [`source`]: files to rows (workbook, delimited text, plain text, encodings)
//! * [`columns`]: rows to meanings (which column is what)
//! * [`notation`]: text to readings (number, size, callout)
//! * [`hardware`]: what a fastener is (item, threads, standard tables)
//! * [`kit`]: what the job is (job file, lists, lines, stages)
//! * [`settle`]: required, shipped, counted: match, deal out, findings
//! * [`audit`]: what the required lists themselves ask, whatever was shipped
//! * [`bins`]: where the pieces are laid out
//! * [`weigh`]: counting by weight
//! * [`report`]: the workbook, JSON, the terminal
//! * [`command`]: one file a subcommand

pub mod audit;
pub mod bins;
pub mod columns;
pub mod command;
mod cues;
pub mod doubt;
pub mod error;
mod grouped;
pub mod hardware;
mod inert;
pub mod kit;
mod names;
pub mod notation;
pub mod report;
pub mod settle;
mod shield;
mod small_file;
pub mod source;
mod unsettling;
pub mod weigh;
mod words;

pub use doubt::Doubt;
pub use error::{Error, Result};
