//! Bins, trays, and what is laid out where, in words.

use rustc_hash::FxHashMap;

use super::stage;
use crate::{
    bins::{Beside, Bin, Layout, Neighbours},
    hardware::Item,
    settle::{Account, ItemAccount},
    words::count,
};

/// A bin's address on the wall map: tray, then row letter and column number, `1-B3`.
pub fn bin(bin: &Bin) -> String {
    format!("{}-{}{}", bin.tray, row_letters(bin.row), bin.column)
}

/// A tray by its number, from 1; with what kind it is, where there are several.
pub fn tray(layout: &Layout, number: usize) -> String {
    let tray = &layout.trays[number - 1];
    let mut text = format!("Tray {number} of {}", layout.trays.len());
    if layout.trays.iter().any(|other| other != tray) {
        text.push_str(&format!(": {} x {} bins", tray.rows, tray.columns));
        if let Some(ml) = tray.bin_volume_ml {
            text.push_str(&format!(" of {ml} ml"));
        }
    }
    text
}

/// Where each item is laid out: its bins, and what stands beside the trays.
pub struct Places {
    /// By item: the stage, where the place is that of one stage only, and the place.
    of: FxHashMap<usize, Vec<(Option<usize>, String)>>,
}

impl Places {
    pub fn of(layout: &Layout) -> Places {
        let mut of: FxHashMap<usize, Vec<(Option<usize>, String)>> = FxHashMap::default();
        let what = |place: &str, instead: Option<usize>| match instead {
            Some(_) => format!("{place} (substitute)"),
            None => place.to_owned(),
        };
        let bins = layout.bins.iter();
        let bins = bins.map(|b| (b.item, b.stage, what(&bin(b), b.instead)));
        let beside = layout.beside.iter();
        let beside = beside.map(|b| (b.item, b.stage, what("beside the trays", b.instead)));
        for (item, stage, place) in bins.chain(beside) {
            let stage = layout.per_stage.then_some(stage);
            of.entry(item).or_default().push((stage, place));
        }
        Places { of }
    }

    /// The places of an item that a stage takes it from, joined by commas.
    pub fn named(&self, item: usize, stage: usize) -> String {
        let places = self.of.get(&item).into_iter().flatten();
        let of_stage = places.filter(|(of, _)| of.is_none_or(|of| of == stage));
        let names: Vec<&str> = of_stage.map(|(_, place)| place.as_str()).collect();
        names.join(", ")
    }
}

/// Whether look-alikes are kept apart, in one sentence.
pub fn apart(layout: &Layout) -> String {
    match layout.neighbours.len() as u64 {
        0 => "No look-alikes stand side by side or one above the other.".to_owned(),
        1 => "▲ One pair of look-alikes could not be kept apart: it is listed below the trays."
            .to_owned(),
        n => format!(
            "▲ {n} pairs of look-alikes could not be kept apart: they are listed below the trays."
        ),
    }
}

/// `1-A3 (1/2 x 3 hex bolt) and 1-A4 (1/2 x 3-1/2 hex bolt): lengths near one another.`
pub fn neighbours(account: &Account, layout: &Layout, pair: &Neighbours) -> String {
    let [a, b] = pair.bins.map(|index| {
        let bin = &layout.bins[index];
        format!("{} ({})", self::bin(bin), bin.piece(account).text)
    });
    format!("▲ {a} and {b}: {}.", pair.likeness)
}

/// What is laid out beside the trays, and why.
pub fn beside(account: &Account, beside: &Beside) -> String {
    let wanted = &account.items[beside.item].text;
    let item = match beside.instead {
        Some(_) => format!("{} in place of {wanted}", beside.piece(account).text),
        None => wanted.clone(),
    };
    format!(
        "{}: {item}, {} ({}).",
        stage(account, beside.stage),
        count(beside.pieces, "piece"),
        beside.why
    )
}

/// What of an item is set large and what small: the size and the name, or a part's number and
/// description.
pub fn large_and_small(item: &Item, text: &str) -> (String, String) {
    let size = item.size();
    let number = item.part.as_ref().and_then(|p| p.number.as_deref());
    let description = item.part.as_ref().and_then(|p| p.description.as_deref());
    match (size.as_str(), number, description) {
        ("", Some(number), description) => {
            (number.to_owned(), description.unwrap_or("").to_owned())
        }
        ("", None, _) => (text.to_owned(), String::new()),
        (size, ..) => {
            let name = text.strip_prefix(size).unwrap_or(text);
            (size.to_owned(), name.trim().to_owned())
        }
    }
}

/// `also stages 3, 5`: those besides the bin's own that draw from it.
pub fn later_stages(item: &ItemAccount, bin: &Bin) -> Option<String> {
    let mut stages: Vec<usize> = match bin.instead.map(|at| &item.stand_ins[at].id) {
        Some(id) => {
            let own = item.stand_ins.iter().filter(|of| of.id == *id);
            own.map(|of| of.stage).collect()
        }
        None => {
            let needed = item.shares.iter();
            let needed = needed.filter(|share| share.required > 0 && !share.built);
            needed.map(|share| share.stage).collect()
        }
    };
    stages.dedup();
    let later = stages.into_iter().filter(|stage| *stage != bin.stage);
    let later: Vec<String> = later.map(|stage| (stage + 1).to_string()).collect();
    match later.as_slice() {
        [] => None,
        [one] => Some(format!("also stage {one}")),
        [..] => Some(format!("also stages {}", later.join(", "))),
    }
}

/// Rows of a tray are lettered from the top: A to Z, then AA.
pub fn row_letters(row: u32) -> String {
    let (mut left, mut letters) = (row, Vec::new());
    while left > 0 {
        left -= 1;
        letters.push(char::from(b'A' + (left % 26) as u8));
        left /= 26;
    }
    letters.iter().rev().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn lettered(row: u32, expected: &str) {
        assert_eq!(row_letters(row), expected);
    }

    #[test]
    fn tray_rows_are_lettered() {
        lettered(1, "A");
        lettered(26, "Z");
        lettered(27, "AA");
        lettered(52, "AZ");
        lettered(53, "BA");
    }
}
