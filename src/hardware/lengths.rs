//! Lengths: how much of a bolt is threaded, and which lengths are kept in stock.

use super::{
    dimensions::{Table, find, inch},
    heads::is_structural,
    item::Item,
    kind::{Kind, Style},
    size::{Diameter, Length, Ratio, Unit},
};

/// Thread length of heavy hex structural bolts, whatever their length. ASME B18.2.6 (from memory).
const STRUCTURAL_THREAD: &Table<1> = &[
    (inch(1, 2), [10_000]),
    (inch(5, 8), [12_500]),
    (inch(3, 4), [13_750]),
    (inch(7, 8), [15_000]),
    (inch(1, 1), [17_500]),
    (inch(9, 8), [20_000]),
    (inch(5, 4), [20_000]),
    (inch(11, 8), [22_500]),
    (inch(3, 2), [22_500]),
];

/// How inch lengths step: up to so many sixteenths of an inch, by so many. Common practice, no
/// source; wider than any one shop's shelf, so that only odd lengths stand out.
const INCH_STEPS: [(i64, i64); 5] = [(8, 1), (16, 2), (96, 4), (192, 8), (i64::MAX, 16)];

/// Nominal lengths in millimetres up to 200, with the second choices. ISO 888 and DIN 931 (from
/// memory); beyond 200 they step by 20.
const METRIC_LENGTHS: &[i64] = &[
    2, 3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 25, 28, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75,
    80, 85, 90, 95, 100, 105, 110, 115, 120, 125, 130, 140, 150, 160, 170, 180, 190, 200,
];

/// Nominal lengths of tapping and self-drilling screws in tenths of a millimetre. ISO 7049 and ISO 15480 (from memory).
const TAPPING_LENGTHS: &[i64] = &[45, 65, 95, 130, 160, 190, 220, 250, 320, 380, 450, 500];

/// How much of the length is threaded: by the standard of the style, the whole length where that is
/// shorter or the list says full thread. `None` where the style has no rule here.
pub fn thread_length(item: &Item) -> Option<Length> {
    let length = item.length?;
    if item.full_thread == Some(true) {
        return Some(length);
    }
    let d = item.diameter?;
    if d.unit() != length.unit() {
        return None;
    }
    let (whole, diameter) = (length.value(), d.value());
    let (half, quarter) = (Ratio::new(1, 2), Ratio::new(1, 4));
    let threaded = match (item.kind?, item.style?, d.unit()) {
        (Kind::Rod, Style::Threaded, _) => whole,
        (Kind::Bolt, Style::Hex | Style::HeavyHex, Unit::Inch) if is_structural(item) => {
            let [threaded] = find(STRUCTURAL_THREAD, d)?;
            threaded.length().value()
        }
        // ASME B18.2.1 and B18.5: 2 D + 1/4 up to 6 in, 2 D + 1/2 beyond.
        (Kind::Bolt, Style::Hex | Style::HeavyHex | Style::Carriage, Unit::Inch) => {
            let more = if whole <= Ratio::from(6) {
                quarter
            } else {
                half
            };
            diameter * 2 + more
        }
        // ISO 4014: 2 d + 6 up to 125 mm, 2 d + 12 up to 200 mm, 2 d + 25 beyond, in whole mm.
        (Kind::Bolt, Style::Hex, Unit::Millimetre) => {
            let more = match whole {
                l if l <= Ratio::from(125) => 6,
                l if l <= Ratio::from(200) => 12,
                _ => 25,
            };
            (diameter * 2 + more).floor()
        }
        // ASME B18.2.1: half the length and 1/2 in, at most 6 in.
        (Kind::Screw, Style::Lag, Unit::Inch) => (whole / 2 + half).min(Ratio::from(6)),
        // ASME B18.6.1: two thirds of the length (from memory).
        (Kind::Screw, Style::Wood, Unit::Inch) => whole * Ratio::new(2, 3),
        // ASME B18.3: 2 D + 1/2. ISO 4762, 7380 and 10642: 2 d + 12.
        (Kind::Screw, Style::Socket | Style::Button | Style::Flat, unit) => {
            let more = match unit {
                Unit::Inch => half,
                Unit::Millimetre => Ratio::from(12),
            };
            diameter * 2 + more
        }
        // ASME B18.6.3, from #5 on: full up to 2 in, at least 1-1/2 in beyond. ISO 7045, from M3.5
        // on: at least 38 mm (both from memory).
        (Kind::Screw, Style::Pan, Unit::Inch) if whole <= Ratio::from(2) => whole,
        (Kind::Screw, Style::Pan, Unit::Inch) => Ratio::new(3, 2),
        (Kind::Screw, Style::Pan, Unit::Millimetre) => Ratio::from(38),
        _ => return None,
    };
    let threaded = threaded.min(whole);
    Some(match length {
        Length::Inch(_) => Length::Inch(threaded),
        Length::Millimetre(_) => Length::Millimetre(threaded),
    })
}

/// Whether bolts and screws are kept in that length. `None` for kinds that have no usual lengths.
pub fn is_stock_length(item: &Item) -> Option<bool> {
    if !matches!(item.kind?, Kind::Bolt | Kind::Screw) {
        return None;
    }
    Some(match item.length? {
        // Screws by number step by an eighth up to 3 in: 1-5/8 (common practice, no source).
        Length::Inch(inches)
            if matches!(item.diameter, Some(Diameter::Number(_)))
                && inches <= Ratio::from(3)
                && (inches * 8).is_integer() =>
        {
            true
        }
        Length::Inch(inches) => {
            let sixteenths = inches * 16;
            sixteenths.is_integer()
                && INCH_STEPS
                    .iter()
                    .find(|(up_to, _)| sixteenths.to_integer() <= *up_to)
                    .is_some_and(|(_, step)| sixteenths.to_integer() % step == 0)
        }
        Length::Millimetre(mm)
            if matches!(item.style, Some(Style::SelfDrilling | Style::SheetMetal))
                && (mm * 10).is_integer()
                && TAPPING_LENGTHS.contains(&(mm * 10).to_integer()) =>
        {
            true
        }
        Length::Millimetre(mm) => {
            // 2.5 mm is the one length that is not whole.
            mm == Ratio::new(5, 2)
                || mm.is_integer() && {
                    let mm = mm.to_integer();
                    METRIC_LENGTHS.contains(&mm) || mm > 200 && mm % 20 == 0
                }
        }
    })
}

#[cfg(test)]
mod tests {
    use super::super::dimensions::{metric, metric_part};
    use super::*;

    fn bolt(kind: Kind, style: Style, diameter: Diameter, length: Length) -> Item {
        Item {
            kind: Some(kind),
            style: Some(style),
            diameter: Some(diameter),
            length: Some(length),
            ..Item::default()
        }
    }

    #[track_caller]
    fn inches(kind: Kind, style: Style, diameter: (i64, i64), length: (i64, i64), expected: &str) {
        let length = Length::Inch(Ratio::new(length.0, length.1));
        let item = bolt(kind, style, inch(diameter.0, diameter.1), length);
        assert_eq!(
            thread_length(&item).map(|l| l.to_string()).as_deref(),
            Some(expected)
        );
    }

    /// ISO 15480: 4,2 x 19 is a preferred size; no hex bolt is kept in 19 mm.
    #[test]
    fn tapping_screws_have_lengths_of_their_own() {
        let kept = |kind, style, tenths| {
            let length = Length::Millimetre(Ratio::new(tenths, 10));
            is_stock_length(&bolt(kind, style, metric_part(42, 10), length))
        };
        assert_eq!(kept(Kind::Screw, Style::SelfDrilling, 190), Some(true));
        assert_eq!(kept(Kind::Screw, Style::SheetMetal, 95), Some(true));
        assert_eq!(kept(Kind::Screw, Style::SelfDrilling, 270), Some(false));
        assert_eq!(kept(Kind::Bolt, Style::Hex, 190), Some(false));
    }

    #[test]
    fn inch_thread_lengths() {
        use Kind::{Bolt, Rod, Screw};
        // ASME B18.2.1, nominal thread lengths: 1/2: 1.250 and 1.500, 3/4: 1.750 and 2.000.
        inches(Bolt, Style::Hex, (1, 2), (15, 4), "1-1/4");
        inches(Bolt, Style::Hex, (1, 2), (6, 1), "1-1/4");
        inches(Bolt, Style::Hex, (1, 2), (13, 2), "1-1/2");
        inches(Bolt, Style::Hex, (3, 4), (3, 1), "1-3/4");
        inches(Bolt, Style::Hex, (3, 4), (8, 1), "2");
        inches(Bolt, Style::Hex, (1, 2), (1, 1), "1");
        inches(Bolt, Style::Carriage, (3, 8), (4, 1), "1");
        // ASME B18.3: 1/4: 1.00, 1/2: 1.50.
        inches(Screw, Style::Socket, (1, 4), (3, 1), "1");
        inches(Screw, Style::Socket, (1, 2), (3, 1), "1-1/2");
        // ASME B18.2.1, lag screws.
        inches(Screw, Style::Lag, (1, 2), (4, 1), "2-1/2");
        inches(Screw, Style::Lag, (1, 2), (16, 1), "6");
        inches(Rod, Style::Threaded, (1, 2), (36, 1), "36");
    }

    /// ISO 4014, thread lengths b for lengths up to 125, up to 200 and beyond.
    #[test]
    fn metric_thread_lengths() {
        for (d, short, middle, long) in [
            (5, 16, 22, 35),
            (6, 18, 24, 37),
            (8, 22, 28, 41),
            (10, 26, 32, 45),
            (12, 30, 36, 49),
            (14, 34, 40, 53),
            (16, 38, 44, 57),
            (20, 46, 52, 65),
            (24, 54, 60, 73),
            (30, 66, 72, 85),
        ] {
            for (length, expected) in [(125, short), (200, middle), (220, long)] {
                let length = Length::Millimetre(Ratio::from(length));
                let item = bolt(Kind::Bolt, Style::Hex, metric(d), length);
                let expected = Length::Millimetre(Ratio::from(expected));
                assert_eq!(thread_length(&item), Some(expected), "M{d} x {length}");
            }
        }
    }

    #[test]
    fn a_stated_full_thread_is_the_whole_length() {
        let length = Length::Millimetre(Ratio::from(80));
        let item = Item {
            full_thread: Some(true),
            ..bolt(Kind::Bolt, Style::Hex, metric(12), length)
        };
        assert_eq!(thread_length(&item), Some(length));
    }

    #[track_caller]
    fn stock(length: Length, expected: bool) {
        let diameter = match length.unit() {
            Unit::Inch => inch(1, 2),
            Unit::Millimetre => metric(12),
        };
        let item = bolt(Kind::Bolt, Style::Hex, diameter, length);
        assert_eq!(is_stock_length(&item), Some(expected), "{length}");
    }

    #[test]
    fn stock_lengths() {
        let inches = |n, d| Length::Inch(Ratio::new(n, d));
        let mm = |n, d| Length::Millimetre(Ratio::new(n, d));
        stock(inches(15, 4), true);
        stock(inches(27, 8), false);
        stock(inches(7, 8), true);
        stock(inches(9, 8), false);
        stock(inches(6, 1), true);
        stock(inches(25, 4), false);
        stock(inches(13, 2), true);
        stock(inches(10, 3), false);
        stock(mm(60, 1), true);
        stock(mm(62, 1), false);
        stock(mm(220, 1), true);
        stock(mm(210, 1), false);
        stock(mm(5, 2), true);
        let by_number = |n, d| bolt(Kind::Screw, Style::Deck, Diameter::Number(8), inches(n, d));
        assert_eq!(is_stock_length(&by_number(13, 8)), Some(true));
        assert_eq!(is_stock_length(&by_number(27, 16)), Some(false));
    }
}
