//! What is claimed: pieces of one item, why, and what their lack stops.

use crate::names::names;

names! {
    /// Why pieces are claimed.
    pub enum Cause {
        Missing = "missing",
        Damaged = "damaged",
        /// The slip says that they will follow: the maker is asked when.
        BackOrdered = "back-ordered",
        NotReceived = "bag not received",
    }
}

names! {
    /// What the lack of a piece stops.
    pub enum Urgency {
        First = "stops the build",
        Later = "stops a later stage",
        /// A substitute or the shop's stock serves in its place.
        Filled = "filled for now",
        /// The list asks for it as a spare.
        Spare = "spare: no stage waits for it",
    }
}

/// Pieces of one item, claimed for one cause.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Claimed {
    /// Index into [`Account::items`](crate::settle::Account::items).
    pub item: usize,
    pub cause: Cause,
    /// At least 1.
    pub pieces: u64,
    /// They are what is lacking beside bags that are missing whole.
    pub rest: bool,
    /// The first stage that lacks it.
    pub stage: usize,
    pub urgency: Urgency,
    /// The bag that was not received, or those in which the stages that lack it find it.
    pub bags: Vec<String>,
    /// For [`Cause::NotReceived`]: index into [`Account::findings`](crate::settle::Account::findings).
    pub finding: Option<usize>,
    pub counted_by: Vec<String>,
    /// Why the count that it rests on wants to be made again first.
    pub doubts: Vec<String>,
}
