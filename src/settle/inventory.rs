//! The inventory: every list's lines summed by item, stage and bag, with the rows they rest on.
//!
//! [`stated`]: which items there are; [`taking`]: the lines, list by list, but for those of which nothing is to
//! be asked ([`plain`]); [`in_place`]: what bags hold in the place of others; [`named`]: what those name that were not read in full; [`container`]: bags and boxes.

mod container;
mod in_place;
mod named;
mod plain;
mod stated;
mod taking;

pub use container::{Container, Holders, container_key, is_container_noun};
pub use stated::{Stated, state_items};

use indexmap::IndexSet;
use rustc_hash::FxHashSet;

use super::{
    account::LineRef,
    evidence::{Rows, Run},
    options::Chosen,
    parcels::Parcels,
    stages::Stages,
};
use crate::{
    Result,
    error::Error,
    hardware::Written,
    kit::{Job, List, Role},
};
use taking::Taking;

/// Most pieces in all lists of one role together, kits included: the largest count that a
/// spreadsheet holds exactly (2^53, IEEE 754), and small enough that no sum of such sums overflows.
pub const MOST_PIECES: u64 = 1 << 53;

/// What one kit needs of one item in one stage.
#[derive(Debug, Clone, Default)]
pub struct Need {
    /// New pieces.
    pub new: u64,
    /// The first line that asks for new pieces: list and line.
    first: Option<(u32, u32)>,
    /// Where it needs any others. There may be a need a line, and of most it is no more than new pieces.
    others: Option<Box<Others>>,
}

/// Pieces of one kit that are not packed with it as new ones.
#[derive(Debug, Clone, Copy, Default)]
pub struct Others {
    /// Pieces that arrive on another part.
    pub fitted: u64,
    pub returned: u64,
    pub discarded: u64,
    pub to_bring: u64,
}

impl Need {
    /// The first line that asks for new pieces.
    pub fn first(&self) -> Option<LineRef> {
        self.first.map(|(list, line)| LineRef {
            list: list as usize,
            line: line as usize,
        })
    }

    /// A line asks for new pieces; gives the first that did.
    fn asked_by(&mut self, at: LineRef) -> LineRef {
        self.first.get_or_insert((at.list as u32, at.line as u32));
        self.first().unwrap_or(at)
    }

    pub fn others(&self) -> Others {
        self.others.as_deref().copied().unwrap_or_default()
    }

    fn others_mut(&mut self) -> &mut Others {
        self.others.get_or_insert_default()
    }

    /// Adds what other lines ask for.
    fn add(&mut self, more: Need) {
        self.new += more.new;
        self.first = match (self.first, more.first) {
            (Some(one), Some(other)) => Some(one.min(other)),
            (one, other) => one.or(other),
        };
        if let Some(more) = more.others {
            let Others {
                fitted,
                returned,
                discarded,
                to_bring,
            } = *more;
            let others = self.others_mut();
            others.fitted += fitted;
            others.returned += returned;
            others.discarded += discarded;
            others.to_bring += to_bring;
        }
    }
}

/// What the slips list of one item in one bag.
#[derive(Debug, Clone, Copy, Default)]
pub struct Shipped {
    pub pieces: u64,
    pub back_ordered: u64,
    /// What it lacks is to follow.
    pub to_follow: bool,
}

impl Shipped {
    /// Adds what other lines list.
    fn add(&mut self, more: Shipped) {
        self.pieces += more.pieces;
        self.back_ordered += more.back_ordered;
        self.to_follow |= more.to_follow;
    }
}

/// What was counted of one item in one bag.
#[derive(Debug, Clone, Copy, Default)]
pub struct Counted {
    /// `None`: not counted.
    pub good: Option<u64>,
    pub damaged: u64,
    /// Looked for on another part, not in a bag.
    pub fitted: bool,
}

/// What the shop has of one item.
#[derive(Debug, Clone, Default)]
pub struct Stocked {
    pub pieces: u64,
    /// Where it keeps them, in the order of its list.
    pub bins: IndexSet<Box<str>>,
}

/// What cannot be summed, one kind in one stage or list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unread {
    pub lines: u64,
    pub first: LineRef,
}

/// A line that names an item, and of whose figures one was not read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct FigureUnread {
    pub item: u32,
    /// A count names it; else a slip.
    pub by_count: bool,
    pub run: Run,
    pub at: LineRef,
    /// Another figure of the line was taken.
    pub summed: bool,
}

/// Several counts of one item in one bag, or in none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountedTwice {
    pub item: u32,
    /// The rows, in order, and the good pieces that each says.
    pub counts: Vec<(LineRef, u64)>,
}

/// A line of a slip or a count that was not read in full, as far as it can be read.
#[derive(Debug)]
pub struct Obscure {
    /// A count's; else a slip's.
    pub by_count: bool,
    pub run: Run,
    pub words: Written,
    /// Numerals of it, as a size writes them: `12`, `3-3/4`.
    pub figures: FxHashSet<String>,
}

/// Every list's lines, summed.
pub struct Inventory {
    /// Item ids of each list's readings.
    pub ids: Vec<Vec<u32>>,
    /// In order of identity, so that no order of rows or lists shows.
    pub items: Vec<Stated>,
    pub containers: Vec<Container>,
    /// By item and stage, of one kit, in order.
    pub needs: Vec<((u32, u32), Need)>,
    /// By item and container, in order.
    pub shipped: Vec<((u32, u32), Shipped)>,
    /// By item and container, in order.
    pub counted: Vec<((u32, u32), Counted)>,
    /// By item, in order.
    pub stocked: Vec<(u32, Stocked)>,
    /// Pieces left when the build is done, by item, in order.
    pub left_over: Vec<(u32, u64)>,
    /// Pieces in one pack, by item: the shop's before the slip's, the least of several.
    pub packs: Vec<(u32, (Role, u64))>,
    /// Item and container of lines of a count that were left blank, in order.
    pub blank: Vec<(u32, u32)>,
    /// What the required lists put in bags: item, container and stage, pieces of one kit.
    pub bagged: Vec<((u32, u32, u32), u64)>,
    /// Containers that a count sheet says did not arrive, with the slip's or parts list's rows.
    pub not_received: Vec<(u32, Rows)>,
    /// Bags on a slip that no required list fills.
    pub unopened: Vec<(LineRef, Run)>,
    pub not_chosen: Vec<LineRef>,
    pub no_demand: Vec<LineRef>,
    /// Lines of pieces that come fitted, with their items.
    pub fitted: Vec<(u32, LineRef)>,
    /// Required lines without a quantity, by stage.
    pub unread: Vec<(usize, Unread)>,
    /// Required lines aside, by stage.
    pub aside: Vec<(usize, Unread)>,
    /// Pieces came in one parcel, or in several.
    pub several_parcels: bool,
    /// Counts of which nobody knows which of several parcels they looked at: indices into the lists.
    pub undated: Vec<usize>,
    /// Lines of slips, counts and stock that are aside or not summed, and name no item whose figure is
    /// known to be wanting, by list.
    pub unsure: Vec<(usize, Unread)>,
    /// Lines of slips and counts that name an item, and whose figure was not read. In order.
    pub figures_unread: Vec<FigureUnread>,
    /// Lines of slips and counts that were not read in full.
    pub obscure: Vec<Obscure>,
    /// The rows of slips of which no figure was read.
    pub slips_unread: Vec<Run>,
    /// What was counted more than once in one bag, in order of items.
    pub counted_twice: Vec<CountedTwice>,
    /// By item, in order: pieces of one kit that sheets ask for which may only say again what others ask
    /// for.
    pub asked_twice: Vec<(u32, u64)>,
}

impl Inventory {
    /// Pieces of an item that the slips list, whatever bag they are in.
    pub fn shipped_of(&self, item: usize) -> u64 {
        let first = (self.shipped).partition_point(|((of, _), _)| (*of as usize) < item);
        let own = self.shipped[first..].iter();
        let own = own.take_while(|((of, _), _)| *of as usize == item);
        own.map(|(_, shipped)| shipped.pieces).sum()
    }

    /// Sums the lists that were there when the parcel `through` had come.
    ///
    /// # Errors
    /// Sums beyond [`MOST_PIECES`], naming the row.
    pub fn take(
        job: &Job,
        lists: &[List],
        stages: &Stages,
        chosen: &Chosen,
        parcels: &Parcels,
        through: u32,
    ) -> Result<Inventory> {
        let mut taking = Taking::start(job, lists, parcels);
        if parcels.number > 1 {
            taking.note_what_came(through);
        }
        // Counts first, for they say which bags did not arrive; then what the bags hold.
        taking.take(&[Role::Counted], through, stages, chosen)?;
        let others = [Role::Required, Role::Shipped, Role::Stock, Role::LeftOver];
        taking.take(&others, through, stages, chosen)?;
        taking.open_bags()?;
        let mut inventory = taking.finish();
        inventory.count_what_lies_in_place(job.kits);
        Ok(inventory)
    }
}

/// The error for a sum that no kit can reach.
fn too_many(lists: &[List], at: LineRef) -> Error {
    Error::input(
        at.address(lists),
        format!("with this row the list comes to more than {MOST_PIECES} pieces"),
        "check the quantity, the places and the number of kits",
    )
}
