//! Washers: hole, outside diameter, thickness.
//!
//! "Data set" beside a table is an open parametric-CAD fastener data set that tabulates the
//! standard named; "from memory" is a figure of that standard written down from memory.

use super::{
    dimensions::{Measure, Table, find, inch, length_mm, metric, metric_part, number},
    grade::Grade,
    item::Item,
    kind::{Kind, Style},
    size::{Diameter, Length, Ratio},
};

/// A washer by its figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Washer {
    /// Inside diameter.
    pub inside: Measure,
    /// Outside diameter.
    pub outside: Length,
    pub thickness: Measure,
}

/// Plain washers, SAE: inside diameter, outside diameter, thickness. ASME B18.21.1, type A narrow
/// (a distributor's chart of that table).
const SAE: &Table<3> = &[
    (number(6), [1_560, 3_750, 490]),
    (number(8), [1_880, 4_380, 490]),
    (number(10), [2_190, 5_000, 490]),
    (inch(1, 4), [2_810, 6_250, 650]),
    (inch(5, 16), [3_440, 6_880, 650]),
    (inch(3, 8), [4_060, 8_120, 650]),
    (inch(7, 16), [4_690, 9_220, 650]),
    (inch(1, 2), [5_310, 10_620, 950]),
    (inch(9, 16), [5_940, 11_880, 950]),
    (inch(5, 8), [6_560, 13_120, 950]),
    (inch(3, 4), [8_120, 15_000, 1_340]),
    (inch(7, 8), [9_380, 17_500, 1_340]),
    (inch(1, 1), [10_620, 20_000, 1_340]),
];

/// Plain washers, USS: inside diameter, outside diameter, thickness. ASME B18.21.1, type A wide
/// (from memory).
const USS: &Table<3> = &[
    (inch(1, 4), [3_120, 7_340, 650]),
    (inch(5, 16), [3_750, 8_750, 830]),
    (inch(3, 8), [4_380, 10_000, 830]),
    (inch(7, 16), [5_000, 12_500, 830]),
    (inch(1, 2), [5_620, 13_750, 1_090]),
    (inch(9, 16), [6_250, 14_690, 1_090]),
    (inch(5, 8), [6_880, 17_500, 1_340]),
    (inch(3, 4), [8_120, 20_000, 1_480]),
    (inch(7, 8), [9_380, 22_500, 1_650]),
    (inch(1, 1), [10_620, 25_000, 1_650]),
];

/// Plain washers, type B, narrow: inside diameter, outside diameter, thickness. ASME B18.21.1, table 12
/// (data set).
const TYPE_B_NARROW: &Table<3> = &[
    (number(0), [680, 1_250, 250]),
    (number(1), [840, 1_560, 250]),
    (number(2), [940, 1_880, 250]),
    (number(3), [1_090, 2_190, 250]),
    (number(4), [1_250, 2_500, 320]),
    (number(5), [1_410, 2_810, 320]),
    (number(6), [1_560, 3_120, 320]),
    (number(8), [1_880, 3_750, 400]),
    (number(10), [2_030, 4_060, 400]),
    (number(12), [2_340, 4_380, 400]),
    (inch(1, 4), [2_810, 5_000, 630]),
    (inch(5, 16), [3_440, 6_250, 630]),
    (inch(3, 8), [4_060, 7_340, 630]),
    (inch(7, 16), [4_690, 8_750, 630]),
    (inch(1, 2), [5_310, 10_000, 630]),
    (inch(9, 16), [5_940, 11_250, 630]),
    (inch(5, 8), [6_560, 12_500, 1_000]),
    (inch(3, 4), [8_120, 13_750, 1_000]),
    (inch(7, 8), [9_380, 14_690, 1_000]),
    (inch(1, 1), [10_620, 17_500, 1_000]),
    (inch(9, 8), [11_880, 20_000, 1_000]),
    (inch(5, 4), [13_120, 22_500, 1_600]),
    (inch(11, 8), [14_380, 25_000, 1_600]),
    (inch(3, 2), [15_620, 27_500, 1_600]),
    (inch(13, 8), [17_500, 30_000, 1_600]),
    (inch(7, 4), [18_750, 32_500, 1_600]),
    (inch(15, 8), [20_000, 35_000, 2_500]),
    (inch(2, 1), [21_250, 37_500, 2_500]),
    (inch(9, 4), [23_750, 40_000, 2_500]),
    (inch(5, 2), [26_250, 45_000, 2_500]),
    (inch(11, 4), [28_750, 50_000, 2_500]),
    (inch(3, 1), [31_250, 55_000, 3_750]),
];

/// Plain washers, type B, regular: inside diameter, outside diameter, thickness. ASME B18.21.1, table 12
/// (data set).
const TYPE_B_REGULAR: &Table<3> = &[
    (number(0), [680, 1_880, 250]),
    (number(1), [840, 2_190, 250]),
    (number(2), [940, 2_500, 320]),
    (number(3), [1_090, 3_120, 320]),
    (number(4), [1_250, 3_750, 400]),
    (number(5), [1_410, 4_060, 400]),
    (number(6), [1_560, 4_380, 400]),
    (number(8), [1_880, 5_000, 400]),
    (number(10), [2_030, 5_620, 400]),
    (number(12), [2_340, 6_250, 630]),
    (inch(1, 4), [2_810, 7_340, 630]),
    (inch(5, 16), [3_440, 8_750, 630]),
    (inch(3, 8), [4_060, 10_000, 630]),
    (inch(7, 16), [4_690, 11_250, 630]),
    (inch(1, 2), [5_310, 12_500, 1_000]),
    (inch(9, 16), [5_940, 14_690, 1_000]),
    (inch(5, 8), [6_560, 17_500, 1_000]),
    (inch(3, 4), [8_120, 20_000, 1_000]),
    (inch(7, 8), [9_380, 22_500, 1_600]),
    (inch(1, 1), [10_620, 25_000, 1_600]),
    (inch(9, 8), [11_880, 27_500, 1_600]),
    (inch(5, 4), [13_120, 30_000, 1_600]),
    (inch(11, 8), [14_380, 32_500, 2_500]),
    (inch(13, 8), [17_500, 37_500, 2_500]),
    (inch(7, 4), [18_750, 40_000, 2_500]),
    (inch(15, 8), [20_000, 42_500, 2_500]),
    (inch(2, 1), [21_250, 45_000, 2_500]),
    (inch(9, 4), [23_750, 50_000, 2_500]),
    (inch(5, 2), [26_250, 55_000, 3_750]),
    (inch(11, 4), [28_750, 60_000, 3_750]),
    (inch(3, 1), [31_250, 65_000, 3_750]),
];

/// Plain washers, type B, wide: inside diameter, outside diameter, thickness. ASME B18.21.1, table 12
/// (data set).
const TYPE_B_WIDE: &Table<3> = &[
    (number(0), [680, 2_500, 250]),
    (number(1), [840, 2_810, 320]),
    (number(2), [940, 3_440, 320]),
    (number(3), [1_090, 4_060, 400]),
    (number(4), [1_250, 4_380, 400]),
    (number(5), [1_410, 5_000, 400]),
    (number(6), [1_560, 5_620, 400]),
    (number(8), [1_880, 6_250, 630]),
    (number(10), [2_030, 7_340, 630]),
    (number(12), [2_340, 8_750, 630]),
    (inch(1, 4), [2_810, 10_000, 630]),
    (inch(5, 16), [3_440, 11_250, 630]),
    (inch(3, 8), [4_060, 12_500, 1_000]),
    (inch(7, 16), [4_690, 14_690, 1_000]),
    (inch(1, 2), [5_310, 17_500, 1_000]),
    (inch(9, 16), [5_940, 20_000, 1_000]),
    (inch(5, 8), [6_560, 22_500, 1_600]),
    (inch(3, 4), [8_120, 25_000, 1_600]),
    (inch(7, 8), [9_380, 27_500, 1_600]),
    (inch(1, 1), [10_620, 30_000, 1_600]),
    (inch(9, 8), [11_880, 32_500, 1_600]),
    (inch(5, 4), [13_120, 32_500, 1_500]),
    (inch(11, 8), [14_380, 40_000, 2_500]),
    (inch(3, 2), [15_620, 40_000, 2_500]),
    (inch(13, 8), [17_500, 42_500, 2_500]),
    (inch(7, 4), [18_750, 45_000, 2_500]),
    (inch(15, 8), [20_000, 47_500, 2_500]),
    (inch(2, 1), [21_250, 50_000, 2_500]),
    (inch(9, 4), [23_750, 55_000, 3_750]),
    (inch(5, 2), [26_250, 60_000, 3_750]),
    (inch(11, 4), [28_750, 65_000, 3_750]),
    (inch(3, 1), [31_250, 70_000, 3_750]),
];

/// Hardened washers for structural bolts: inside diameter, outside diameter, thickness (mid of the
/// limits). ASTM F436, type 1 circular (from memory).
const STRUCTURAL: &Table<3> = &[
    (inch(1, 2), [5_310, 10_620, 1_370]),
    (inch(5, 8), [6_880, 13_120, 1_500]),
    (inch(3, 4), [8_130, 14_680, 1_500]),
    (inch(7, 8), [9_380, 17_500, 1_570]),
    (inch(1, 1), [11_250, 20_000, 1_570]),
    (inch(9, 8), [12_500, 22_500, 1_570]),
    (inch(5, 4), [13_750, 25_000, 1_570]),
    (inch(3, 2), [16_250, 30_000, 1_570]),
];

/// Fender washers: inside diameter, thickness; the outside diameter is the list's. Common practice
/// (from memory): no standard covers them.
const FENDER_INCH: &Table<2> = &[
    (number(8), [1_870, 500]),
    (number(10), [2_030, 500]),
    (inch(1, 4), [2_810, 620]),
    (inch(5, 16), [3_440, 620]),
    (inch(3, 8), [4_060, 620]),
    (inch(1, 2), [5_310, 620]),
];

/// Helical spring lock washers, regular: inside diameter (minimum), outside diameter (maximum),
/// thickness. ASME B18.21.1 (from memory).
const SPLIT_LOCK_INCH: &Table<3> = &[
    (number(4), [1_140, 2_090, 250]),
    (number(6), [1_410, 2_500, 310]),
    (number(8), [1_670, 2_930, 400]),
    (number(10), [1_930, 3_340, 470]),
    (number(12), [2_200, 3_770, 560]),
    (inch(1, 4), [2_520, 4_870, 620]),
    (inch(5, 16), [3_140, 5_830, 780]),
    (inch(3, 8), [3_770, 6_800, 940]),
    (inch(7, 16), [4_400, 7_760, 1_090]),
    (inch(1, 2), [5_020, 8_690, 1_250]),
    (inch(9, 16), [5_640, 9_650, 1_410]),
    (inch(5, 8), [6_280, 10_730, 1_560]),
    (inch(3, 4), [7_530, 12_650, 1_880]),
    (inch(7, 8), [8_780, 14_590, 2_190]),
    (inch(1, 1), [10_030, 16_560, 2_500]),
    (inch(9, 8), [11_290, 18_530, 2_810]),
    (inch(5, 4), [12_540, 20_450, 3_120]),
];

/// Plain washers, normal series: inside diameter, outside diameter, thickness. ISO 7089 (data set;
/// M14 from memory).
const FLAT_METRIC: &Table<3> = &[
    (metric_part(8, 5), [1_700, 4_000, 300]),
    (metric(2), [2_200, 5_000, 300]),
    (metric_part(5, 2), [2_700, 6_000, 500]),
    (metric(3), [3_200, 7_000, 500]),
    (metric(4), [4_300, 9_000, 800]),
    (metric(5), [5_300, 10_000, 1_000]),
    (metric(6), [6_400, 12_000, 1_600]),
    (metric(8), [8_400, 16_000, 1_600]),
    (metric(10), [10_500, 20_000, 2_000]),
    (metric(12), [13_000, 24_000, 2_500]),
    (metric(14), [15_000, 28_000, 2_500]),
    (metric(16), [17_000, 30_000, 3_000]),
    (metric(20), [21_000, 37_000, 3_000]),
    (metric(24), [25_000, 44_000, 4_000]),
    (metric(30), [31_000, 56_000, 4_000]),
    (metric(36), [37_000, 66_000, 5_000]),
    (metric(42), [45_000, 78_000, 8_000]),
    (metric(48), [52_000, 92_000, 8_000]),
    (metric(56), [62_000, 105_000, 10_000]),
    (metric(64), [70_000, 115_000, 10_000]),
];

/// Plain washers, large series: inside diameter, outside diameter (data set), thickness (nominal,
/// from memory). ISO 7093.
const FENDER_METRIC: &Table<3> = &[
    (metric(3), [3_200, 9_000, 800]),
    (metric(4), [4_300, 12_000, 1_000]),
    (metric(5), [5_300, 15_000, 1_200]),
    (metric(6), [6_400, 18_000, 1_600]),
    (metric(8), [8_400, 24_000, 2_000]),
    (metric(10), [10_500, 30_000, 2_500]),
    (metric(12), [13_000, 37_000, 3_000]),
    (metric(14), [15_000, 44_000, 3_000]),
    (metric(16), [17_000, 50_000, 3_000]),
    (metric(20), [22_000, 60_000, 4_000]),
    (metric(24), [26_000, 72_000, 5_000]),
    (metric(30), [33_000, 92_000, 6_000]),
    (metric(36), [39_000, 110_000, 8_000]),
];

/// The nominal diameter of the metric washer that has such a hole: standards name washers by it (DIN 125, 433,
/// 9021: `A17` is for M16, `10,5` for M10; the habit from memory). Holes of ISO 7089.
pub fn of_hole(hole: Diameter) -> Option<Diameter> {
    let Diameter::Metric(hole) = hole else {
        return None;
    };
    let thousandth = hole * Ratio::from_integer(1000);
    let is_hole =
        |(_, [inside, ..]): &&(Diameter, [i64; 3])| thousandth == Ratio::from_integer(*inside);
    FLAT_METRIC
        .iter()
        .find(is_hole)
        .map(|(nominal, _)| *nominal)
}

/// Spring lock washers: inside diameter (minimum), outside diameter (maximum), thickness. DIN 127
/// form B (from memory).
const SPLIT_LOCK_METRIC: &Table<3> = &[
    (metric(3), [3_100, 6_200, 800]),
    (metric(4), [4_100, 7_600, 900]),
    (metric(5), [5_100, 9_200, 1_200]),
    (metric(6), [6_100, 11_800, 1_600]),
    (metric(8), [8_100, 14_800, 2_000]),
    (metric(10), [10_200, 18_100, 2_200]),
    (metric(12), [12_200, 21_100, 2_500]),
    (metric(16), [16_200, 27_400, 3_500]),
    (metric(20), [20_200, 33_600, 4_000]),
    (metric(24), [24_500, 40_000, 5_000]),
];

/// How far a stated outside diameter may be from the table's: lists round it to 1/16 in or 1 mm.
const OUTSIDE_TOLERANCE_MM: f64 = 1.0;

/// The type B washer of a diameter whose outside diameter is nearest to one stated, within what lists
/// round.
pub fn type_b(diameter: Diameter, outside: Length) -> Option<Washer> {
    let off = |washer: &Washer| (length_mm(outside) - length_mm(washer.outside)).abs();
    [TYPE_B_NARROW, TYPE_B_REGULAR, TYPE_B_WIDE]
        .into_iter()
        .filter_map(|table| find(table, diameter))
        .map(of_row)
        .min_by(|a, b| off(a).total_cmp(&off(b)))
        .filter(|washer| off(washer) <= OUTSIDE_TOLERANCE_MM)
}

fn of_row([inside, outside, thickness]: [Measure; 3]) -> Washer {
    Washer {
        inside,
        outside: outside.length(),
        thickness,
    }
}

/// The figures of a washer, or `None` where no table reaches or the list leaves the series open: an
/// inch flat washer may be SAE or USS unless its outside diameter says which.
pub fn washer(item: &Item) -> Option<Washer> {
    let diameter = item.diameter?;
    if item.kind? != Kind::Washer {
        return None;
    }
    let metric = matches!(diameter, Diameter::Metric(_));
    let tables: &[&Table<3>] = match (item.style?, metric) {
        (Style::Flat, false) if item.grade == Some(Grade::F436) => &[STRUCTURAL],
        (Style::Sae, false) => &[SAE],
        (Style::Uss, false) => &[USS],
        (Style::Flat, false) if item.outside.is_some() => &[SAE, USS],
        (Style::Fender, false) => {
            let [inside, thickness] = find(FENDER_INCH, diameter)?;
            return Some(Washer {
                inside,
                outside: item.outside?,
                thickness,
            });
        }
        (Style::SplitLock, false) => &[SPLIT_LOCK_INCH],
        (Style::Flat, true) => {
            &[FLAT_METRIC, FENDER_METRIC][..if item.outside.is_some() { 2 } else { 1 }]
        }
        (Style::Fender, true) => &[FENDER_METRIC],
        (Style::SplitLock, true) => &[SPLIT_LOCK_METRIC],
        _ => &[],
    };
    tables
        .iter()
        .filter_map(|table| find(table, diameter))
        .map(of_row)
        .find(|washer| {
            item.outside.is_none_or(|stated| {
                (length_mm(stated) - length_mm(washer.outside)).abs() <= OUTSIDE_TOLERANCE_MM
            })
        })
        .or_else(|| match (item.style?, item.outside) {
            (Style::Flat, Some(outside)) if !metric => type_b(diameter, outside),
            _ => None,
        })
}
