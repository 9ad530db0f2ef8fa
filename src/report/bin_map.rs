//! What each bin of the map shows: the same on the Bins sheet, on labels and on the page.

use std::collections::HashMap;

use super::wording;
use crate::{
    bins::{Bin, Layout, Look},
    settle::Account,
};

/// What a bin shows: the band, the size, the kind, the count.
pub struct Face {
    pub band: String,
    pub size: String,
    pub kind: String,
    pub count: String,
    /// What to mistake it for; empty where there is nothing.
    pub mark: String,
    /// Later stages that draw from the bin, and how full it is; empty where neither is known.
    pub foot: String,
    pub stage: usize,
    pub short: bool,
}

/// Letters of a stage's name on a bin: all of the band is shrunk to its width, the address with it.
const STAGE_LETTERS: usize = 22;

/// A stage's name as far as a band has room for it.
fn cut(name: &str) -> String {
    match name.char_indices().nth(STAGE_LETTERS) {
        None => name.to_owned(),
        Some(_) => {
            let kept: String = name.chars().take(STAGE_LETTERS - 1).collect();
            format!("{}\u{2026}", kept.trim_end())
        }
    }
}

/// The bins of the map, and what look-alikes are marked by.
pub struct BinMap<'a> {
    account: &'a Account,
    layout: &'a Layout,
    /// Index into the layout's bins, by place.
    at: HashMap<(u32, u32, u32), usize>,
    /// Beside the bins.
    looks: Vec<Option<Look>>,
}

impl<'a> BinMap<'a> {
    pub fn of(account: &'a Account, layout: &'a Layout) -> BinMap<'a> {
        let bins = layout.bins.iter().enumerate();
        let looks = layout.bins.iter();
        BinMap {
            account,
            layout,
            at: bins
                .map(|(index, bin)| ((bin.tray, bin.row, bin.column), index))
                .collect(),
            looks: looks.map(|bin| Look::of(bin.piece(account).item)).collect(),
        }
    }

    /// The bin at a place, by its index.
    pub fn at(&self, tray: u32, row: u32, column: u32) -> Option<usize> {
        self.at.get(&(tray, row, column)).copied()
    }

    /// The face of a bin by its index.
    pub fn face(&self, index: usize) -> Face {
        let bin = &self.layout.bins[index];
        let item = &self.account.items[bin.item];
        let piece = bin.piece(self.account);
        let (size, kind) = wording::large_and_small(piece.item, piece.text);
        let (short, may_lack) = match self.layout.per_stage {
            true => {
                let share = item.shares.iter().find(|share| share.stage == bin.stage);
                share.map_or((Some(0), 0), |share| {
                    (wording::known_short_in(item, share), share.may_lack)
                })
            }
            false => (wording::known_short(item), item.may_lack()),
        };
        let short = short.unwrap_or(0);
        let count = match short {
            _ if bin.instead.is_some() => {
                format!("{} SUBSTITUTE", bin.pieces)
            }
            0 if may_lack > 0 => format!(
                "{}, perhaps {may_lack} fewer",
                crate::words::count(bin.pieces, "piece")
            ),
            0 => crate::words::count(bin.pieces, "piece"),
            _ => format!(
                "{} (short {short})",
                crate::words::count(bin.pieces, "piece")
            ),
        };
        let measured = self.layout.trays[bin.tray as usize - 1].bin_volume_ml;
        let full = match (bin.volume_used, measured) {
            (Some(part), _) => Some(format!("{:.0} % full", part * 100.0)),
            (None, Some(_)) => Some("volume not known".to_owned()),
            (None, None) => None,
        };
        let later = match self.layout.per_stage {
            true => None,
            false => wording::later_stages(item, bin),
        };
        let wanted = bin.instead.map(|_| format!("in place of {}", item.text));
        let foot: Vec<String> = wanted.into_iter().chain(later).chain(full).collect();
        Face {
            band: format!(
                "{}   {} {}",
                wording::bin(bin),
                bin.stage + 1,
                cut(wording::stage_name(self.account, bin.stage))
            ),
            size,
            kind,
            count,
            mark: self.mark(index),
            foot: foot.join(", "),
            stage: bin.stage,
            short: short > 0,
        }
    }

    /// What to mistake a bin for: a look-alike next to it, or elsewhere in its tray.
    fn mark(&self, index: usize) -> String {
        let layout = self.layout;
        let bin = &layout.bins[index];
        let next: Vec<String> = layout
            .next_to(index)
            .map(|(other, _)| wording::bin(other))
            .collect();
        if !next.is_empty() {
            return format!("▲ LOOK-ALIKE NEXT: {}", next.join(", "));
        }
        let Some(look) = &self.looks[index] else {
            return String::new();
        };
        let id = bin.piece(self.account).id;
        let like = |(other, its): &(&Bin, &Option<Look>)| {
            let likeness = its.as_ref().and_then(|its| look.likeness(its));
            likeness.is_some_and(|l| l.is_close()) && other.piece(self.account).id != id
        };
        let start = layout.bins.partition_point(|b| b.tray < bin.tray);
        let in_tray = layout.bins[start..].iter().zip(&self.looks[start..]);
        let in_tray = in_tray.take_while(|(b, _)| b.tray == bin.tray);
        let like = in_tray.filter(like).take(3);
        let like: Vec<String> = like.map(|(other, _)| wording::bin(other)).collect();
        match like.is_empty() {
            true => String::new(),
            false => format!("△ not to be mistaken for {}", like.join(", ")),
        }
    }
}
