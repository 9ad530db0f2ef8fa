//! Nuts: widths across flats and heights.
//!
//! "Data set" beside a table is an open parametric-CAD fastener data set that tabulates the
//! standard named; "from memory" is a figure of that standard written down from memory.

use super::{
    dimensions::{Measure, Standard, Table, find, inch, metric, metric_part, number},
    grade::Grade,
    heads::din_flats,
    item::Item,
    kind::{Kind, Style},
    size::Diameter,
};

/// A nut by its figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Nut {
    /// Width across flats.
    pub flats: Measure,
    /// Over all: with the flange, with the collar of a nylon insert.
    pub height: Measure,
    /// Diameter of the flange, where there is one.
    pub flange: Option<Measure>,
}

/// Hex nuts: width across flats, thickness. ASME B18.2.2, hex nuts (data set).
const HEX_INCH: &Table<2> = &[
    (inch(1, 4), [4_375, 2_188]),
    (inch(5, 16), [5_000, 2_656]),
    (inch(3, 8), [5_625, 3_281]),
    (inch(7, 16), [6_875, 3_750]),
    (inch(1, 2), [7_500, 4_375]),
    (inch(9, 16), [8_750, 4_844]),
    (inch(5, 8), [9_375, 5_469]),
    (inch(3, 4), [11_250, 6_406]),
    (inch(7, 8), [13_125, 7_500]),
    (inch(1, 1), [15_000, 8_594]),
    (inch(9, 8), [16_875, 9_688]),
    (inch(5, 4), [18_750, 10_625]),
    (inch(11, 8), [20_625, 11_719]),
    (inch(3, 2), [22_500, 12_812]),
];

/// Machine screw nuts, which number sizes take: width across flats, thickness. ASME B18.6.3 (from
/// memory).
const MACHINE_INCH: &Table<2> = &[
    (number(4), [2_500, 938]),
    (number(6), [3_125, 1_094]),
    (number(8), [3_438, 1_250]),
    (number(10), [3_750, 1_250]),
    (number(12), [4_375, 1_563]),
];

/// Heavy hex nuts: width across flats (1-1/2 D + 1/8), thickness. ASME B18.2.2, heavy hex nuts
/// (from memory).
const HEAVY_HEX_INCH: &Table<2> = &[
    (inch(1, 4), [5_000, 2_344]),
    (inch(5, 16), [5_625, 2_969]),
    (inch(3, 8), [6_875, 3_594]),
    (inch(7, 16), [7_500, 4_219]),
    (inch(1, 2), [8_750, 4_844]),
    (inch(9, 16), [9_375, 5_469]),
    (inch(5, 8), [10_625, 6_094]),
    (inch(3, 4), [12_500, 7_344]),
    (inch(7, 8), [14_375, 8_594]),
    (inch(1, 1), [16_250, 9_844]),
    (inch(9, 8), [18_125, 11_094]),
    (inch(5, 4), [20_000, 12_188]),
    (inch(11, 8), [21_875, 13_438]),
    (inch(3, 2), [23_750, 14_688]),
];

/// Hex jam nuts: thickness; flats as the hex nut. ASME B18.2.2, hex jam nuts (from memory).
const JAM_INCH: &Table<1> = &[
    (inch(1, 4), [1_563]),
    (inch(5, 16), [1_875]),
    (inch(3, 8), [2_188]),
    (inch(7, 16), [2_500]),
    (inch(1, 2), [3_125]),
    (inch(9, 16), [3_125]),
    (inch(5, 8), [3_750]),
    (inch(3, 4), [4_219]),
    (inch(7, 8), [4_844]),
    (inch(1, 1), [5_469]),
    (inch(9, 8), [6_094]),
    (inch(5, 4), [7_188]),
    (inch(11, 8), [7_813]),
    (inch(3, 2), [8_438]),
];

/// Hex flange nuts: width across flats, height, flange diameter. ASME B18.2.2, hex flange nuts
/// (from memory).
const FLANGE_INCH: &Table<3> = &[
    (inch(1, 4), [4_375, 2_360, 5_940]),
    (inch(5, 16), [5_000, 2_830, 6_800]),
    (inch(3, 8), [5_625, 3_470, 7_500]),
    (inch(7, 16), [6_875, 3_950, 9_370]),
    (inch(1, 2), [7_500, 4_580, 10_310]),
    (inch(9, 16), [8_750, 5_100, 11_880]),
    (inch(5, 8), [9_375, 5_690, 12_810]),
    (inch(3, 4), [11_250, 6_750, 15_000]),
];

/// Nylon-insert nuts, style NE: width across flats (maximum), height (maximum). ASME B18.16.6 (two
/// manufacturers' charts of that table).
const NYLON_INSERT_INCH: &Table<2> = &[
    (inch(1, 4), [4_390, 3_280]),
    (inch(5, 16), [5_020, 3_590]),
    (inch(3, 8), [5_640, 4_680]),
    (inch(7, 16), [6_270, 4_680]),
    (inch(1, 2), [7_520, 6_090]),
    (inch(9, 16), [8_770, 6_560]),
    (inch(5, 8), [9_400, 7_650]),
    (inch(3, 4), [10_640, 8_900]),
    (inch(7, 8), [12_520, 9_990]),
    (inch(1, 1), [14_400, 10_780]),
];

/// Nylon-insert machine screw nuts: width across flats, height. Distributors' charts (from memory).
const NYLON_INSERT_MACHINE: &Table<2> = &[
    (number(4), [2_500, 1_406]),
    (number(6), [3_125, 1_719]),
    (number(8), [3_438, 2_344]),
    (number(10), [3_750, 2_344]),
];

/// Hex nuts, style 1: width across flats, height. ISO 4032 (data set; M14 is 21 mm as in the
/// standard, where one printing of the data has 22).
const HEX_METRIC: &Table<2> = &[
    (metric_part(8, 5), [3_200, 1_300]),
    (metric(2), [4_000, 1_600]),
    (metric_part(5, 2), [5_000, 2_000]),
    (metric(3), [5_500, 2_400]),
    (metric_part(7, 2), [6_000, 2_800]),
    (metric(4), [7_000, 3_200]),
    (metric(5), [8_000, 4_700]),
    (metric(6), [10_000, 5_200]),
    (metric(8), [13_000, 6_800]),
    (metric(10), [16_000, 8_400]),
    (metric(12), [18_000, 10_800]),
    (metric(14), [21_000, 12_800]),
    (metric(16), [24_000, 14_800]),
    (metric(18), [27_000, 15_800]),
    (metric(20), [30_000, 18_000]),
    (metric(22), [34_000, 19_400]),
    (metric(24), [36_000, 21_500]),
    (metric(27), [41_000, 23_800]),
    (metric(30), [46_000, 25_600]),
    (metric(33), [50_000, 28_700]),
    (metric(36), [55_000, 31_000]),
    (metric(39), [60_000, 33_400]),
    (metric(42), [65_000, 34_000]),
    (metric(45), [70_000, 36_000]),
    (metric(48), [75_000, 38_000]),
    (metric(52), [80_000, 42_000]),
    (metric(56), [85_000, 45_000]),
    (metric(60), [90_000, 48_000]),
    (metric(64), [95_000, 51_000]),
];

/// Hex nuts: height; flats of ISO or DIN. DIN 934 (from memory).
const HEX_DIN: &Table<1> = &[
    (metric(3), [2_400]),
    (metric(4), [3_200]),
    (metric(5), [4_000]),
    (metric(6), [5_000]),
    (metric(8), [6_500]),
    (metric(10), [8_000]),
    (metric(12), [10_000]),
    (metric(14), [11_000]),
    (metric(16), [13_000]),
    (metric(18), [15_000]),
    (metric(20), [16_000]),
    (metric(22), [18_000]),
    (metric(24), [19_000]),
    (metric(27), [22_000]),
    (metric(30), [24_000]),
    (metric(36), [29_000]),
];

/// Hex jam nuts: height; flats as the hex nut. ISO 4035 (data set).
const JAM_METRIC: &Table<1> = &[
    (metric_part(8, 5), [1_000]),
    (metric(2), [1_200]),
    (metric_part(5, 2), [1_600]),
    (metric(3), [1_800]),
    (metric_part(7, 2), [2_000]),
    (metric(4), [2_200]),
    (metric(5), [2_700]),
    (metric(6), [3_200]),
    (metric(8), [4_000]),
    (metric(10), [5_000]),
    (metric(12), [6_000]),
    (metric(14), [7_000]),
    (metric(16), [8_000]),
    (metric(18), [9_000]),
    (metric(20), [10_000]),
    (metric(22), [11_000]),
    (metric(24), [12_000]),
    (metric(27), [13_500]),
    (metric(30), [15_000]),
    (metric(33), [16_500]),
    (metric(36), [18_000]),
    (metric(39), [19_500]),
    (metric(42), [21_000]),
    (metric(45), [22_500]),
    (metric(48), [24_000]),
    (metric(52), [26_000]),
];

/// Hex flange nuts: width across flats, height, flange diameter. EN 1661 and DIN 6923 (data set,
/// with the M10 and M12 flats of EN 1661, from memory).
const FLANGE_METRIC: &Table<3> = &[
    (metric(5), [8_000, 5_000, 11_800]),
    (metric(6), [10_000, 6_000, 14_200]),
    (metric(8), [13_000, 8_000, 17_900]),
    (metric(10), [16_000, 10_000, 21_800]),
    (metric(12), [18_000, 12_000, 26_000]),
    (metric(14), [21_000, 14_000, 29_900]),
    (metric(16), [24_000, 16_000, 34_500]),
    (metric(20), [30_000, 20_000, 42_800]),
];

/// Nylon-insert nuts, style 1: width across flats, height. ISO 7040 (data set).
const NYLON_INSERT_METRIC: &Table<2> = &[
    (metric(3), [5_500, 4_500]),
    (metric(4), [7_000, 6_000]),
    (metric(5), [8_000, 6_800]),
    (metric(6), [10_000, 8_000]),
    (metric(8), [13_000, 9_500]),
    (metric(10), [16_000, 11_900]),
    (metric(12), [18_000, 14_900]),
    (metric(14), [21_000, 17_000]),
    (metric(16), [24_000, 19_100]),
    (metric(20), [30_000, 22_800]),
    (metric(24), [36_000, 27_100]),
    (metric(30), [46_000, 32_600]),
    (metric(36), [55_000, 38_900]),
];

/// Nylon-insert nuts: height; flats of ISO or DIN. DIN 985 (from memory).
const NYLON_INSERT_DIN: &Table<1> = &[
    (metric(3), [4_000]),
    (metric(4), [5_000]),
    (metric(5), [5_000]),
    (metric(6), [6_000]),
    (metric(8), [8_000]),
    (metric(10), [10_000]),
    (metric(12), [12_000]),
    (metric(14), [14_000]),
    (metric(16), [16_000]),
    (metric(20), [20_000]),
    (metric(24), [24_000]),
    (metric(30), [30_000]),
    (metric(36), [36_000]),
];

/// The figures of a nut, or `None` where no table reaches.
pub fn nut(item: &Item, standard: Standard) -> Option<Nut> {
    let diameter = item.diameter?;
    if item.kind? != Kind::Nut {
        return None;
    }
    match (item.style?, diameter) {
        // Nuts of these grades are heavy hex, whatever a list calls them (ASTM A194 grade 2H) or
        // mostly so (ASTM A563 grade DH): which one is not for a table to guess.
        (Style::Hex, _) if matches!(item.grade, Some(Grade::GradeDh | Grade::Grade2H)) => None,
        (Style::Hex, Diameter::Inch(_)) => plain(find(HEX_INCH, diameter)?),
        (Style::Hex, Diameter::Number(_)) => plain(find(MACHINE_INCH, diameter)?),
        (Style::Hex, Diameter::Metric(_)) => {
            metric_nut(diameter, find(HEX_METRIC, diameter)?, HEX_DIN, standard)
        }
        (Style::HeavyHex, _) => plain(find(HEAVY_HEX_INCH, diameter)?),
        (Style::Jam, Diameter::Metric(_)) => {
            let [flats, _] = find(HEX_METRIC, diameter)?;
            let [height] = find(JAM_METRIC, diameter)?;
            plain([din_flats(diameter, standard).unwrap_or(flats), height])
        }
        (Style::Jam, _) => {
            let [flats, _] = find(HEX_INCH, diameter)?;
            let [height] = find(JAM_INCH, diameter)?;
            plain([flats, height])
        }
        (Style::Flange, _) => {
            let table = match diameter {
                Diameter::Metric(_) => FLANGE_METRIC,
                _ => FLANGE_INCH,
            };
            let [flats, height, flange] = find(table, diameter)?;
            Some(Nut {
                flats,
                height,
                flange: Some(flange),
            })
        }
        (Style::NylonInsert, Diameter::Metric(_)) => metric_nut(
            diameter,
            find(NYLON_INSERT_METRIC, diameter)?,
            NYLON_INSERT_DIN,
            standard,
        ),
        (Style::NylonInsert, Diameter::Number(_)) => plain(find(NYLON_INSERT_MACHINE, diameter)?),
        (Style::NylonInsert, Diameter::Inch(_)) => plain(find(NYLON_INSERT_INCH, diameter)?),
        _ => None,
    }
}

fn plain([flats, height]: [Measure; 2]) -> Option<Nut> {
    Some(Nut {
        flats,
        height,
        flange: None,
    })
}

fn metric_nut(
    diameter: Diameter,
    [flats, height]: [Measure; 2],
    din_heights: &Table<1>,
    standard: Standard,
) -> Option<Nut> {
    match standard {
        Standard::Iso => plain([flats, height]),
        Standard::Din => {
            let [height] = find(din_heights, diameter)?;
            plain([din_flats(diameter, standard).unwrap_or(flats), height])
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{super::size::Ratio, *};

    /// ASME B18.2.2: heavy hex flats are 1-1/2 D + 1/8, down to whole 16ths.
    #[test]
    fn flats_follow_the_diameter() {
        for (diameter, [flats, _]) in HEAVY_HEX_INCH {
            let expected = diameter.value() * Ratio::new(3, 2) + Ratio::new(1, 8);
            let expected = (expected * 16).floor() / 16;
            assert_eq!(Ratio::new(*flats, 10_000), expected, "{diameter}");
        }
    }

    /// ISO 4035: jam nuts are about half as high as the diameter; DIN 934 nuts are about 0.8 d, and
    /// never higher than ISO 4032.
    #[test]
    fn heights_follow_the_diameter() {
        for (diameter, [height]) in JAM_METRIC {
            let off = Ratio::new(*height, 1_000) - diameter.value() / 2;
            assert!(
                off >= Ratio::from(0) && off <= Ratio::new(1, 2),
                "{diameter}"
            );
        }
        for (diameter, [height]) in HEX_DIN {
            let [_, iso] = find(HEX_METRIC, *diameter).expect("an ISO nut of every DIN size");
            let din = Ratio::new(*height, 1_000);
            assert!(din <= iso.length().value(), "{diameter}");
            let off = din / diameter.value() - Ratio::new(4, 5);
            assert!(
                off >= Ratio::new(-1, 50) && off <= Ratio::new(1, 20),
                "{diameter}"
            );
        }
    }
}
