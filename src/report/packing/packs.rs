//! What a report says of kits packed from stock.

use crate::{
    kit::List,
    report::wording,
    settle::packing::{Packed, Packing, Pull, ToOrder},
    words::count,
};

/// What a report says of kits packed from stock.
pub struct Packs<'a> {
    /// Of each order: the job's name, and its file.
    pub orders: &'a [(String, String)],
    pub stock: &'a [List],
    pub packing: &'a Packing,
}

impl Packs<'_> {
    /// The answer, and how sure it is.
    pub fn answer(&self) -> [String; 2] {
        let (kits, wanted) = (self.packing.kits(), self.packing.wanted());
        let sure = match (self.packing.exact, self.packing.at_most) {
            _ if kits == wanted => "Nothing stops any of them.".to_owned(),
            (true, _) => "No sharing of this stock packs more.".to_owned(),
            (false, most) => format!(
                "The search for more was cut short: no sharing of this stock packs more than {most}."
            ),
        };
        let answer = match kits == wanted {
            true => format!("All of {} can be packed.", count(wanted, "kit")),
            false => format!("{kits} of {} can be packed.", count(wanted, "kit")),
        };
        [answer, sure]
    }

    pub fn order(&self, at: usize) -> &str {
        &self.orders[at].0
    }

    pub fn where_it_lies(&self, pull: &Pull) -> String {
        wording::addresses(self.stock, &pull.evidence)
    }
}

/// What the next kit of an order lacks: `4 of 1/2-13 x 6 hex bolt`; empty where none is wanted.
pub fn next_lacks(order: &Packed) -> Vec<String> {
    let lacks = order.lacks.iter();
    lacks
        .map(|lack| format!("{} of {}", lack.pieces, lack.text))
        .collect()
}

/// `2 packs of 25`, or pieces where no pack is known.
pub fn amount(of: &ToOrder) -> String {
    match (of.packs(), of.pack) {
        (Some(packs), Some(pack)) => format!("{} of {pack}", count(packs, "pack")),
        _ => count(of.pieces(), "piece"),
    }
}

/// Where a bin is not stated.
pub const NO_BIN: &str = "no bin stated";
