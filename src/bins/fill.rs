//! How many bins an item's pieces take.

use super::{NoBin, Tray};
use crate::hardware::{
    Item, Standard, bulk_volume,
    dimensions::length_mm,
    heads::{Head, head},
    mass,
};

/// Part of a bin that loose pieces may fill, so that a hand can get at them.
const FULL: f64 = 2.0 / 3.0;
/// Most bins of one item; what would take more stands beside the trays, in its own boxes.
const MOST: u64 = 40;

/// One bin's worth of pieces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filled {
    pub pieces: u64,
    /// Share of the bin's whole volume.
    pub volume_used: Option<f64>,
    /// 0 where the tables do not reach.
    pub grams: u64,
}

/// Shares the pieces out over as few bins as hold them, evenly. One bin where the volume of a bin or
/// of a piece is not known.
pub fn fill(tray: &Tray, item: &Item, pieces: u64) -> Result<Vec<Filled>, NoBin> {
    let longest = tray.bin_length_mm.map(f64::from);
    if let (Some(longest), Some(length)) = (longest, over_all_mm(item))
        && length > longest
    {
        return Err(NoBin::TooLong);
    }
    let grams = mass(item).map(|grams| grams.0);
    let room = tray.bin_volume_ml.map(|ml| f64::from(ml) * 1000.0);
    let share = room.and_then(|room| Some(bulk_volume(item)? / room));
    if share.is_some_and(|share| share > 1.0) {
        return Err(NoBin::TooLarge);
    }
    let by_volume = share.map_or(1, |share| bins_of(pieces, share / FULL));
    let by_weight = match (tray.weight_limit_kg, grams) {
        (Some(kg), Some(grams)) => bins_of(pieces, grams / (f64::from(kg) * 1000.0)),
        _ => 1,
    };
    let bins = by_volume.max(by_weight);
    if bins > MOST {
        return Err(NoBin::TooMany);
    }
    Ok((0..bins)
        .map(|bin| {
            let pieces = pieces / bins + u64::from(bin < pieces % bins);
            Filled {
                pieces,
                volume_used: share.map(|share| share * pieces as f64),
                grams: grams.map_or(0, |grams| (grams * pieces as f64).ceil() as u64),
            }
        })
        .collect())
}

/// Bins for so many pieces of which each takes a part of a bin, at least one piece a bin.
fn bins_of(pieces: u64, part: f64) -> u64 {
    let a_bin = (1.0 / part).floor().max(1.0) as u64;
    pieces.div_ceil(a_bin)
}

/// How long a piece is with its head, as far as is known.
fn over_all_mm(item: &Item) -> Option<f64> {
    let head = match head(item, Standard::Iso) {
        Some(
            Head::Hex { height, .. }
            | Head::Carriage { height, .. }
            | Head::Socket { height, .. }
            | Head::Button { height, .. }
            | Head::Pan { height, .. },
        ) => height.mm(),
        Some(Head::Flat { .. }) | None => 0.0,
    };
    Some(length_mm(item.length?) + head)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::settle::sample::item;

    fn tray(volume: Option<u32>, length: Option<u32>, weight: Option<u32>) -> Tray {
        Tray {
            bin_volume_ml: volume,
            bin_length_mm: length,
            weight_limit_kg: weight,
            ..Tray::of(4, 6)
        }
    }

    #[track_caller]
    fn pieces(tray: &Tray, words: &str, pieces: u64, expected: Result<&[u64], NoBin>) {
        let filled = fill(tray, &item(words), pieces);
        let counts = filled.map(|f| f.iter().map(|f| f.pieces).collect::<Vec<_>>());
        assert_eq!(counts, expected.map(<[u64]>::to_vec));
    }

    /// A 1/2 hex nut is 3/4 across and 7/16 high (ASME B18.2.2): a hexagon of 3.50 cm3 less a bore of
    /// about 1.1 takes some 4.6 ml of a bin when 0.55 of the bin is metal, so two thirds of a litre
    /// hold about 150.
    #[test]
    fn a_bin_is_two_thirds_full() {
        let litre = tray(Some(1000), None, None);
        pieces(&litre, "nut hex 1/2", 130, Ok(&[130]));
        pieces(&litre, "nut hex 1/2", 201, Ok(&[101, 100]));
        let filled = fill(&litre, &item("nut hex 1/2"), 100).expect("fits");
        let used = filled[0].volume_used.expect("known");
        assert!((0.40..0.52).contains(&used), "{used}");
    }

    #[test]
    fn what_is_not_known_takes_one_bin() {
        let known = tray(Some(1000), Some(150), Some(20));
        pieces(&known, "bolt hex 1/2", 900, Ok(&[900]));
        pieces(
            &tray(None, None, None),
            "nut hex 1/2",
            100_000,
            Ok(&[100_000]),
        );
        assert_eq!(
            fill(&known, &item("bolt hex 1/2"), 9).unwrap()[0].volume_used,
            None
        );
    }

    #[test]
    fn long_and_large_pieces_have_no_bin() {
        // 5-3/4 in is 146 mm, and the head 11/32 in more.
        pieces(
            &tray(None, Some(156), None),
            "bolt hex 1/2 5-3/4",
            4,
            Ok(&[4]),
        );
        pieces(
            &tray(None, Some(150), None),
            "bolt hex 1/2 5-3/4",
            4,
            Err(NoBin::TooLong),
        );
        pieces(
            &tray(Some(10), None, None),
            "bolt hex 1/2 5-3/4",
            4,
            Err(NoBin::TooLarge),
        );
        pieces(
            &tray(Some(10), None, None),
            "nut hex 1/2",
            u64::MAX,
            Err(NoBin::TooMany),
        );
    }

    /// A 1/2 x 3 bolt weighs about 0.1 kg (3 in by 1/2 in of steel is 76 g, the head some 22 g).
    #[test]
    fn a_bin_weighs_no_more_than_a_tray_bears() {
        pieces(
            &tray(None, None, Some(2)),
            "bolt hex 1/2 3",
            30,
            Ok(&[15, 15]),
        );
    }
}
