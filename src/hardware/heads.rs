//! Heads of bolts and screws, and what turns them.
//!
//! "Data set" beside a table is an open parametric-CAD fastener data set that tabulates the
//! standard named; "from memory" is a figure of that standard written down from memory.

use super::{
    dimensions::{Measure, Standard, Table, find, inch, metric, metric_part, number},
    grade::Grade,
    item::Item,
    kind::{Drive, Kind, Style},
    size::Diameter,
};

/// A head by its shape. Widths, diameters and heights are those of the standard's table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Head {
    Hex {
        flats: Measure,
        height: Measure,
    },
    /// A dome on a square neck; the neck is part of the length under the head.
    Carriage {
        diameter: Measure,
        height: Measure,
        neck: Measure,
        neck_depth: Measure,
    },
    /// A cylinder with a hexagon socket.
    Socket {
        diameter: Measure,
        height: Measure,
        key: Measure,
    },
    /// A dome with a hexagon socket.
    Button {
        diameter: Measure,
        height: Measure,
        key: Measure,
    },
    /// A low cylinder with a rounded rim, recessed.
    Pan {
        diameter: Measure,
        height: Measure,
    },
    /// A countersunk head with a hexagon socket; it is part of the length, which is overall.
    Flat {
        diameter: Measure,
        height: Measure,
        /// `None` for a slot or cross.
        key: Option<Measure>,
    },
}

/// Hex bolts: width across flats, head height. ASME B18.2.1, hex bolts (data set). Hex cap screws
/// have the same flats and heads up to 1/16 in lower.
const HEX_INCH: &Table<2> = &[
    (inch(1, 4), [4_375, 1_719]),
    (inch(5, 16), [5_000, 2_188]),
    (inch(3, 8), [5_625, 2_500]),
    (inch(7, 16), [6_250, 2_969]),
    (inch(1, 2), [7_500, 3_438]),
    // 9/16 is a cap screw (from memory): the bolt series has none.
    (inch(9, 16), [8_125, 3_594]),
    (inch(5, 8), [9_375, 4_219]),
    (inch(3, 4), [11_250, 5_000]),
    (inch(7, 8), [13_125, 5_781]),
    (inch(1, 1), [15_000, 6_719]),
    (inch(9, 8), [16_875, 7_500]),
    (inch(5, 4), [18_750, 8_438]),
    (inch(11, 8), [20_625, 9_063]),
    (inch(3, 2), [22_500, 10_000]),
    (inch(7, 4), [26_250, 11_562]),
    (inch(2, 1), [30_000, 13_438]),
    (inch(9, 4), [33_750, 15_000]),
    (inch(5, 2), [37_500, 16_563]),
    (inch(11, 4), [41_250, 18_125]),
    (inch(3, 1), [45_000, 20_000]),
    (inch(13, 4), [48_750, 21_875]),
    (inch(7, 2), [52_500, 23_125]),
    (inch(15, 4), [56_250, 25_000]),
    (inch(4, 1), [60_000, 26_875]),
];

/// Heavy hex bolts: width across flats (1-1/2 D + 1/8), head height. ASME B18.2.1, heavy hex bolts
/// (from memory).
const HEAVY_HEX_INCH: &Table<2> = &[
    (inch(1, 2), [8_750, 3_438]),
    (inch(5, 8), [10_625, 4_219]),
    (inch(3, 4), [12_500, 5_000]),
    (inch(7, 8), [14_375, 5_781]),
    (inch(1, 1), [16_250, 6_719]),
    (inch(9, 8), [18_125, 7_500]),
    (inch(5, 4), [20_000, 8_438]),
    (inch(11, 8), [21_875, 9_063]),
    (inch(3, 2), [23_750, 10_000]),
];

/// Heavy hex structural bolts: width across flats, head height. ASME B18.2.6 (from memory).
const STRUCTURAL_INCH: &Table<2> = &[
    (inch(1, 2), [8_750, 3_125]),
    (inch(5, 8), [10_625, 3_906]),
    (inch(3, 4), [12_500, 4_688]),
    (inch(7, 8), [14_375, 5_469]),
    (inch(1, 1), [16_250, 6_094]),
    (inch(9, 8), [18_125, 6_875]),
    (inch(5, 4), [20_000, 7_813]),
    (inch(11, 8), [21_875, 8_438]),
    (inch(3, 2), [23_750, 9_375]),
];

/// Hex lag screws: width across flats, head height. ASME B18.2.1, hex lag screws (from memory).
const LAG_INCH: &Table<2> = &[
    (number(10), [2_813, 1_250]),
    (inch(1, 4), [4_375, 1_719]),
    (inch(5, 16), [5_000, 2_188]),
    (inch(3, 8), [5_625, 2_500]),
    (inch(7, 16), [6_250, 2_969]),
    (inch(1, 2), [7_500, 3_438]),
    (inch(5, 8), [9_375, 4_219]),
    (inch(3, 4), [11_250, 5_000]),
    (inch(7, 8), [13_125, 5_781]),
    (inch(1, 1), [15_000, 6_719]),
];

/// Hex bolts and screws: width across flats, head height. ISO 4014 and 4017 (data set; M14 is
/// 21 mm as in the standard, where one printing of the data has 22).
const HEX_METRIC: &Table<2> = &[
    (metric_part(8, 5), [3_200, 1_100]),
    (metric(2), [4_000, 1_400]),
    (metric_part(5, 2), [5_000, 1_700]),
    (metric(3), [5_500, 2_000]),
    (metric_part(7, 2), [6_000, 2_400]),
    (metric(4), [7_000, 2_800]),
    (metric(5), [8_000, 3_500]),
    (metric(6), [10_000, 4_000]),
    (metric(8), [13_000, 5_300]),
    (metric(10), [16_000, 6_400]),
    (metric(12), [18_000, 7_500]),
    (metric(14), [21_000, 8_800]),
    (metric(16), [24_000, 10_000]),
    (metric(18), [27_000, 11_500]),
    (metric(20), [30_000, 12_500]),
    (metric(22), [34_000, 14_000]),
    (metric(24), [36_000, 15_000]),
    (metric(27), [41_000, 17_000]),
    (metric(30), [46_000, 18_700]),
    (metric(33), [50_000, 21_000]),
    (metric(36), [55_000, 22_500]),
    (metric(39), [60_000, 25_000]),
    (metric(42), [65_000, 26_000]),
    (metric(45), [70_000, 28_000]),
    (metric(48), [75_000, 30_000]),
    (metric(52), [80_000, 33_000]),
    (metric(56), [85_000, 35_000]),
    (metric(60), [90_000, 38_000]),
    (metric(64), [95_000, 40_000]),
];

/// Widths across flats that DIN 931, 933 and 934 have instead (DIN 931 as in the data set).
const FLATS_DIN: &Table<1> = &[
    (metric(10), [17_000]),
    (metric(12), [19_000]),
    (metric(14), [22_000]),
    (metric(22), [32_000]),
];

/// Round-head square-neck bolts: head diameter, head height, square width (means of the limits,
/// ASME B18.5, data set), depth of the square (maximum, ASME B18.5, from memory).
const CARRIAGE_INCH: &Table<4> = &[
    (number(10), [4_525, 1_040, 1_920, 1_250]),
    (inch(1, 4), [5_785, 1_350, 2_525, 1_560]),
    (inch(5, 16), [7_035, 1_660, 3_155, 1_870]),
    (inch(3, 8), [8_130, 1_980, 3_780, 2_190]),
    (inch(7, 16), [9_380, 2_290, 4_415, 2_500]),
    (inch(1, 2), [10_630, 2_600, 5_035, 2_810]),
    (inch(5, 8), [12_815, 3_285, 6_290, 3_440]),
    (inch(3, 4), [15_315, 3_905, 7_545, 4_060]),
    (inch(7, 8), [17_815, 4_485, 8_800, 4_690]),
    (inch(1, 1), [20_315, 5_155, 10_060, 5_310]),
];

/// Socket head cap screws: head diameter, head height, key. ASME B18.3 (data set).
const SOCKET_INCH: &Table<3> = &[
    (number(0), [960, 600, 500]),
    (number(1), [1_180, 730, 625]),
    (number(2), [1_400, 860, 781]),
    (number(3), [1_610, 990, 781]),
    (number(4), [1_830, 1_120, 938]),
    (number(5), [2_050, 1_250, 938]),
    (number(6), [2_260, 1_380, 1_094]),
    (number(8), [2_700, 1_640, 1_406]),
    (number(10), [3_120, 1_900, 1_563]),
    (inch(1, 4), [3_750, 2_500, 1_875]),
    (inch(5, 16), [4_690, 3_125, 2_500]),
    (inch(3, 8), [5_620, 3_750, 3_125]),
    (inch(7, 16), [6_560, 4_375, 3_750]),
    (inch(1, 2), [7_500, 5_000, 3_750]),
    (inch(5, 8), [9_380, 6_250, 5_000]),
    (inch(3, 4), [11_250, 7_500, 6_250]),
    (inch(7, 8), [13_120, 8_750, 7_500]),
    (inch(1, 1), [15_000, 10_000, 7_500]),
];

/// Socket head cap screws: head diameter, head height, key (nominal). ISO 4762 (data set).
const SOCKET_METRIC: &Table<3> = &[
    (metric_part(8, 5), [3_000, 1_600, 1_500]),
    (metric(2), [3_800, 2_000, 1_500]),
    (metric_part(5, 2), [4_500, 2_500, 2_000]),
    (metric(3), [5_500, 3_000, 2_500]),
    (metric(4), [7_000, 4_000, 3_000]),
    (metric(5), [8_500, 5_000, 4_000]),
    (metric(6), [10_000, 6_000, 5_000]),
    (metric(8), [13_000, 8_000, 6_000]),
    (metric(10), [16_000, 10_000, 8_000]),
    (metric(12), [18_000, 12_000, 10_000]),
    (metric(14), [21_000, 14_000, 12_000]),
    (metric(16), [24_000, 16_000, 14_000]),
    (metric(20), [30_000, 20_000, 17_000]),
    (metric(24), [36_000, 24_000, 19_000]),
    (metric(30), [45_000, 30_000, 22_000]),
    (metric(36), [54_000, 36_000, 27_000]),
    (metric(42), [63_000, 42_000, 32_000]),
    (metric(48), [72_000, 48_000, 36_000]),
    (metric(56), [84_000, 56_000, 41_000]),
    (metric(64), [96_000, 64_000, 46_000]),
];

/// Button head socket screws: head diameter, head height, key. ASME B18.3 (from memory).
const BUTTON_INCH: &Table<3> = &[
    (number(4), [2_130, 590, 625]),
    (number(6), [2_620, 730, 781]),
    (number(8), [3_120, 870, 938]),
    (number(10), [3_610, 1_010, 1_250]),
    (inch(1, 4), [4_370, 1_320, 1_563]),
    (inch(5, 16), [5_470, 1_660, 1_875]),
    (inch(3, 8), [6_560, 1_990, 2_188]),
    (inch(1, 2), [8_750, 2_650, 3_125]),
    (inch(5, 8), [10_000, 3_310, 3_750]),
];

/// Button head socket screws: head diameter, head height, key (nominal). ISO 7380-1 (data set).
const BUTTON_METRIC: &Table<3> = &[
    (metric(3), [5_700, 1_650, 2_000]),
    (metric(4), [7_600, 2_200, 2_500]),
    (metric(5), [9_500, 2_750, 3_000]),
    (metric(6), [10_500, 3_300, 4_000]),
    (metric(8), [14_000, 4_400, 5_000]),
    (metric(10), [17_500, 5_500, 6_000]),
    (metric(12), [21_000, 6_600, 8_000]),
    (metric(16), [28_000, 8_800, 10_000]),
];

/// Flat countersunk socket screws: head diameter (to the sharp edge), head height, key. ASME B18.3
/// (from memory).
const FLAT_INCH: &Table<3> = &[
    (number(4), [2_550, 830, 625]),
    (number(6), [3_070, 970, 781]),
    (number(8), [3_590, 1_120, 938]),
    (number(10), [4_110, 1_270, 1_250]),
    (inch(1, 4), [5_310, 1_610, 1_563]),
    (inch(5, 16), [6_560, 1_980, 1_875]),
    (inch(3, 8), [7_810, 2_340, 2_188]),
    (inch(7, 16), [8_440, 2_340, 2_500]),
    (inch(1, 2), [9_380, 2_510, 3_125]),
    (inch(5, 8), [11_880, 3_240, 3_750]),
    (inch(3, 4), [14_380, 3_960, 5_000]),
    (inch(7, 8), [16_880, 4_680, 5_625]),
    (inch(1, 1), [19_380, 5_400, 6_250]),
];

/// Flat countersunk socket screws: head diameter, head height, key (nominal). ISO 10642 (data set).
const FLAT_METRIC: &Table<3> = &[
    (metric(3), [6_000, 1_700, 2_000]),
    (metric(4), [8_000, 2_300, 2_500]),
    (metric(5), [10_000, 2_800, 3_000]),
    (metric(6), [12_000, 3_300, 4_000]),
    (metric(8), [16_000, 4_400, 5_000]),
    (metric(10), [20_000, 5_500, 6_000]),
    (metric(12), [24_000, 6_500, 8_000]),
    (metric(14), [27_000, 7_000, 10_000]),
    (metric(16), [30_000, 7_500, 10_000]),
    (metric(18), [33_000, 8_000, 12_000]),
    (metric(20), [36_000, 8_500, 12_000]),
];

/// Pan head machine screws: head diameter, head height. ASME B18.6.3, cross-recessed (data set).
const PAN_INCH: &Table<2> = &[
    (number(3), [1_930, 780]),
    (number(4), [2_190, 860]),
    (number(5), [2_450, 950]),
    (number(6), [2_700, 1_030]),
    (number(8), [3_220, 1_200]),
    (number(10), [3_730, 1_370]),
    (number(12), [4_250, 1_530]),
    (inch(1, 4), [4_920, 1_750]),
    (inch(5, 16), [6_150, 2_180]),
    (inch(3, 8), [7_400, 2_610]),
];

/// Pan head machine screws: head diameter, head height. ISO 14583 (data set); ISO 7045 is alike.
const PAN_METRIC: &Table<2> = &[
    (metric(2), [4_000, 1_600]),
    (metric_part(5, 2), [5_000, 2_100]),
    (metric(3), [5_600, 2_400]),
    (metric_part(7, 2), [7_000, 2_600]),
    (metric(4), [8_000, 3_100]),
    (metric(5), [9_500, 3_700]),
    (metric(6), [12_000, 4_600]),
    (metric(8), [16_000, 6_000]),
    (metric(10), [20_000, 7_500]),
];

/// Flat countersunk wood screws: head diameter (to the sharp edge), head height. ASME B18.6.1 (from
/// memory).
const WOOD_INCH: &Table<2> = &[
    (number(4), [2_250, 670]),
    (number(5), [2_520, 750]),
    (number(6), [2_790, 830]),
    (number(7), [3_050, 910]),
    (number(8), [3_320, 1_000]),
    (number(9), [3_580, 1_080]),
    (number(10), [3_850, 1_160]),
    (number(12), [4_380, 1_320]),
];

/// Clevis pins: head diameter, head height. ASME B18.8.1 (from memory).
const CLEVIS_INCH: &Table<2> = &[
    (inch(3, 16), [3_200, 700]),
    (inch(1, 4), [3_800, 1_000]),
    (inch(5, 16), [4_400, 1_000]),
    (inch(3, 8), [5_100, 1_300]),
    (inch(7, 16), [5_700, 1_600]),
    (inch(1, 2), [6_300, 1_600]),
    (inch(5, 8), [8_200, 2_100]),
    (inch(3, 4), [9_400, 2_600]),
    (inch(7, 8), [10_400, 3_200]),
    (inch(1, 1), [11_900, 3_500]),
];

/// Clevis pins with head: head diameter, head height. ISO 2341 (from memory).
const CLEVIS_METRIC: &Table<2> = &[
    (metric(3), [5_000, 1_000]),
    (metric(4), [6_000, 1_000]),
    (metric(5), [8_000, 1_600]),
    (metric(6), [10_000, 2_000]),
    (metric(8), [14_000, 3_000]),
    (metric(10), [18_000, 4_000]),
    (metric(12), [20_000, 4_000]),
    (metric(14), [22_000, 4_000]),
    (metric(16), [25_000, 4_500]),
    (metric(18), [28_000, 5_000]),
    (metric(20), [30_000, 5_000]),
    (metric(24), [36_000, 6_000]),
];

/// Head diameter and height of a clevis pin.
pub(super) fn clevis(diameter: Diameter) -> Option<[Measure; 2]> {
    match diameter {
        Diameter::Metric(_) => find(CLEVIS_METRIC, diameter),
        _ => find(CLEVIS_INCH, diameter),
    }
}

/// The head of a bolt or screw, or `None` where no table reaches.
pub fn head(item: &Item, standard: Standard) -> Option<Head> {
    let diameter = item.diameter?;
    let metric = matches!(diameter, Diameter::Metric(_));
    let socket = matches!(item.drive, None | Some(Drive::HexSocket));
    match (item.kind?, item.style?) {
        (Kind::Bolt, Style::Hex) if metric => {
            let [flats, height] = find(HEX_METRIC, diameter)?;
            let flats = din_flats(diameter, standard).unwrap_or(flats);
            Some(Head::Hex { flats, height })
        }
        (Kind::Bolt, Style::Hex | Style::HeavyHex) if is_structural(item) => {
            hex(STRUCTURAL_INCH, diameter)
        }
        (Kind::Bolt, Style::Hex) => hex(HEX_INCH, diameter),
        (Kind::Bolt, Style::HeavyHex) => hex(HEAVY_HEX_INCH, diameter),
        (Kind::Screw, Style::Lag) if matches!(item.head, None | Some(Style::Hex)) => {
            hex(LAG_INCH, diameter)
        }
        (Kind::Bolt, Style::Carriage) => {
            let [diameter, height, neck, neck_depth] = find(CARRIAGE_INCH, diameter)?;
            Some(Head::Carriage {
                diameter,
                height,
                neck,
                neck_depth,
            })
        }
        (Kind::Screw, Style::Socket) => {
            let table = if metric { SOCKET_METRIC } else { SOCKET_INCH };
            let [diameter, height, key] = find(table, diameter)?;
            Some(Head::Socket {
                diameter,
                height,
                key,
            })
        }
        (Kind::Screw, Style::Button) if socket => {
            let table = if metric { BUTTON_METRIC } else { BUTTON_INCH };
            let [diameter, height, key] = find(table, diameter)?;
            Some(Head::Button {
                diameter,
                height,
                key,
            })
        }
        (Kind::Screw, Style::Pan) => {
            let table = if metric { PAN_METRIC } else { PAN_INCH };
            let [diameter, height] = find(table, diameter)?;
            Some(Head::Pan { diameter, height })
        }
        (Kind::Screw, Style::Flat) if socket => {
            let table = if metric { FLAT_METRIC } else { FLAT_INCH };
            let [diameter, height, key] = find(table, diameter)?;
            Some(Head::Flat {
                diameter,
                height,
                key: Some(key),
            })
        }
        (Kind::Screw, Style::Wood)
            if matches!(item.head, None | Some(Style::Flat))
                && item.drive != Some(Drive::HexSocket) =>
        {
            let [diameter, height] = find(WOOD_INCH, diameter)?;
            Some(Head::Flat {
                diameter,
                height,
                key: None,
            })
        }
        _ => None,
    }
}

fn hex(table: &Table<2>, diameter: Diameter) -> Option<Head> {
    let [flats, height] = find(table, diameter)?;
    Some(Head::Hex { flats, height })
}

/// Bolts for structural joints by their grade (ASTM A325 and A490, now F3125).
pub(super) fn is_structural(item: &Item) -> bool {
    matches!(item.grade, Some(Grade::A325 | Grade::A490))
}

/// The width across flats of a DIN bolt or nut, where it is not that of ISO.
pub(super) fn din_flats(diameter: Diameter, standard: Standard) -> Option<Measure> {
    match standard {
        Standard::Iso => None,
        Standard::Din => find(FLATS_DIN, diameter).map(|[flats]| flats),
    }
}

#[cfg(test)]
mod tests {
    use super::{super::size::Ratio, *};

    /// ASME B18.2.1 and B18.2.6: heavy hex flats are 1-1/2 D + 1/8, hex flats 1-1/2 D to the nearest
    /// 16th (1/4 is one 16th more).
    #[test]
    fn flats_follow_the_diameter() {
        for (diameter, [flats, _]) in HEAVY_HEX_INCH.iter().chain(STRUCTURAL_INCH) {
            let expected = diameter.value() * Ratio::new(3, 2) + Ratio::new(1, 8);
            assert_eq!(Ratio::new(*flats, 10_000), expected, "{diameter}");
        }
        for (diameter, [flats, _]) in HEX_INCH.iter().skip(1) {
            let off = Ratio::new(*flats, 10_000) - diameter.value() * Ratio::new(3, 2);
            assert!(
                off >= Ratio::new(-1, 32) && off <= Ratio::new(1, 32),
                "{diameter}"
            );
        }
    }

    /// ASME B18.3 and ISO 4762: a socket head is as high as its screw is thick.
    #[test]
    fn socket_heads_are_as_high_as_the_diameter() {
        for (diameter, [_, height, _]) in SOCKET_INCH {
            assert_eq!(Ratio::new(*height, 10_000), diameter.value(), "{diameter}");
        }
        for (diameter, [_, height, _]) in SOCKET_METRIC {
            assert_eq!(Ratio::new(*height, 1_000), diameter.value(), "{diameter}");
        }
    }

    /// A countersunk head of 82 degrees (ASME B18.3) or 90 degrees (ISO 10642) tells its height.
    #[test]
    fn flat_heads_keep_their_angle() {
        for (table, degrees, scale) in
            [(FLAT_INCH, 82.0f64, 10_000.0), (FLAT_METRIC, 90.0, 1_000.0)]
        {
            for (diameter, [across, height, _]) in table {
                let d = *diameter.value().numer() as f64 / *diameter.value().denom() as f64;
                let sharp = (*across as f64 / scale - d) / 2.0 / (degrees / 2.0).to_radians().tan();
                // Up to M20 the published head is the sharp cone, rounded up to half a millimetre.
                let off = *height as f64 / scale / sharp - 1.0;
                assert!((-0.02..0.16).contains(&off), "{diameter}: {off:.3}");
            }
        }
    }
}
