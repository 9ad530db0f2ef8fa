//! A torque as a list calls it.
//!
//! ```
//! use tallybin::notation::torque;
//! for (written, read) in [
//!     ("110 ft-lb", "110 ft-lb"),
//!     ("35 ft·lb", "35 ft-lb"),
//!     ("60 lb-ft", "60 ft-lb"),
//!     ("20 in-lb", "20 in-lb"),
//!     ("20 N·m", "20 N·m"),
//!     ("20Nm", "20 N·m"),
//!     ("50 to 60 ft lbs", "50 to 60 ft-lb"),
//!     ("110 ft-lb (149 N·m)", "110 ft-lb"),
//!     ("hand tight", "hand tight"),
//!     ("snug plus a half turn", "snug plus a half turn"),
//! ] {
//!     assert_eq!(torque::read(written).to_string(), read);
//! }
//! ```

use std::{fmt, sync::LazyLock};

use regex::Regex;

use crate::{hardware::torque::Torque, names::names, words::pattern};

names! {
    /// The unit that a torque is called in.
    pub enum TorqueUnit {
        FootPounds = "ft-lb",
        InchPounds = "in-lb",
        NewtonMetres = "N·m",
    }
}

impl TorqueUnit {
    /// So many of this unit.
    pub fn torque(self, value: f64) -> Torque {
        match self {
            TorqueUnit::FootPounds => Torque::of_foot_pounds(value),
            TorqueUnit::InchPounds => Torque::of_foot_pounds(value / 12.0),
            TorqueUnit::NewtonMetres => Torque(value),
        }
    }

    /// A torque in this unit.
    pub fn of(self, torque: Torque) -> f64 {
        match self {
            TorqueUnit::FootPounds => torque.foot_pounds(),
            TorqueUnit::InchPounds => torque.inch_pounds(),
            TorqueUnit::NewtonMetres => torque.0,
        }
    }
}

/// What a list calls for.
#[derive(Debug, Clone, PartialEq)]
pub enum Called {
    /// From `least` to `most`, the same where one figure is called.
    Torque {
        least: f64,
        most: f64,
        unit: TorqueUnit,
        /// A second figure in another unit that does not come to the same.
        disagrees: bool,
        /// As written, where it says more than a figure of the unit.
        said: Option<Box<str>>,
    },
    /// By turning on after the joint is snug, or to a feel; as written.
    Feel(Box<str>),
    /// A figure without a unit that is known, or words that are not; as written.
    Unread(Box<str>),
}

impl Called {
    /// The largest torque called.
    pub fn most(&self) -> Option<Torque> {
        match self {
            Called::Torque { most, unit, .. } => Some(unit.torque(*most)),
            _ => None,
        }
    }

    /// The smallest torque called.
    pub fn least(&self) -> Option<Torque> {
        match self {
            Called::Torque { least, unit, .. } => Some(unit.torque(*least)),
            _ => None,
        }
    }
}

impl fmt::Display for Called {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Called::Torque {
                said: Some(said), ..
            } => f.write_str(said),
            Called::Torque {
                least, most, unit, ..
            } if least == most => write!(f, "{most} {unit}"),
            Called::Torque {
                least, most, unit, ..
            } => write!(f, "{least} to {most} {unit}"),
            Called::Feel(words) | Called::Unread(words) => f.write_str(words),
        }
    }
}

const NUMBER: &str = r"\d{1,6}(?:[.,]\d{1,3})?";

const UNIT: &str = r"(?: (?: ft | foot | feet | in | inch (?:es)? ) [\s.·•⋅*-]* (?: lb | pound ) (?: f | s )*
    | (?: lb f? | pounds? (?: -force )? ) [\s.·•⋅*-]* (?: ft | foot | feet | in | inch (?:es)? )
    | lb (?: f | s )+ [\s.·•⋅*-]* (?: ft | foot | feet ) | lb (?: f | s )+ [.·•⋅*-]+ in
    | n \s? [.·•⋅*-]* \s? (?: mm | cm | m ) | newton [\s-]* (?: centi | milli )? met(?:re|er)s?
    | kgf? \s? [.·•⋅*-]* \s? (?: cm | m ) ) \b";

const FEEL_OF: &str = r"(?: snug (?: [\s-]* tight (?: en (?:ed)? )? )? | (?: hand | finger | wrench | spanner ) [\s-]* tight (?: en (?:ed)? )?
    | nip (?:ped)? \s+ up | tight (?:en)? (?:ed)? \s+ by \s+ hand ) \b";

/// `a further half turn`, `two turns`, `90 degrees`
const TURN: &str = r"(?: (?: (?: an? | one | two | three | another | \d+ ) [\s-]+ )? (?: further \s+ | more \s+ | additional \s+ )?
        (?: (?: half | quarter | third | sixth | eighth | full | three [\s-] quarters? | \d+ (?: [\s-] \d )? / \d+ | [½¼¾⅓⅔] ) [\s-]* (?: of \s+ )? (?: an? \s+ )? )?
        turns? \b (?: \s+ (?: more | further ) \b )?
    | (?: (?: an? | another ) \s+ (?: further \s+ )? )? \d{1,3} \s* (?: ° | deg (?: rees? )? \b ) )";

/// What goes on with a torque: `plus 90 degrees`, `+/- 5`, `max`
fn more() -> String {
    format!(
        r"(?: ,? \s* (?: \b (?: plus | and \s+ then | then | and | followed \s+ by ) \b | \+ ) \s*
                (?: (?: turn | tighten | rotate ) \s+ (?: (?: it | them | on | the \s+ nuts? ) \s+ )? )? (?: by \s+ )? {TURN}
            | \s* (?: ± | \+ \s? / \s? - | \+- | plus \s or \s minus ) \s* {NUMBER} (?: \s* {UNIT} )?
            | ,? \s* \b (?: max | min ) (?: imum )? \b )"
    )
}

/// A figure or a range, its unit, and what limits it or goes on with it.
fn figure() -> String {
    let more = more();
    format!(
        r"(?P<before> (?: at \s+ least | at \s+ most | (?: no | not ) \s+ (?: more | less ) \s+ than | up \s+ to | about | approx\w* \.?
                | max (?:imum)? \.? | min (?:imum)? \.? | (?: do \s+ )? not \s+ (?: to \s+ )? exceed ) \s+ )?
        (?: between \s+ (?P<from> {NUMBER} ) \s+ and \s+ (?P<upto> {NUMBER} )
          | (?P<first> {NUMBER} ) (?: \s* (?: - | – | — | to ) \s* (?P<second> {NUMBER} ) )?
            (?P<within> \s* (?: ± | \+ \s? / \s? - | \+- | plus \s or \s minus ) \s* {NUMBER} )? )
        \s* (?: (?P<unit> {UNIT} ) | [(\[] (?P<boxed> {UNIT} ) [)\]] )
        (?P<more> {more} )?"
    )
}

/// How tight something is said to be, in a sentence.
pub(super) fn in_words() -> String {
    let (figure, more) = (figure(), more());
    format!(
        r"(?ix) \b {figure} | \b (?: {FEEL_OF} {more}? )
          | \b {TURN} \s+ (?: past | beyond | after | from | over ) \s+ (?: {FEEL_OF} | {NUMBER} \s* {UNIT} )"
    )
}

static PAST: LazyLock<Regex> = LazyLock::new(|| pattern(r"(?i)\b(?:turns?|degrees|deg)\b|°"));

static FIGURE: LazyLock<Regex> = LazyLock::new(|| pattern(&format!(r"(?xi) {}", figure())));

/// The unit that words name, and how many of it one of theirs is. A kilogram-force is 9.806 65 N by definition (ISO
/// 80000-4, from memory); `kg·m` is left open.
fn unit(words: &str) -> Option<(TorqueUnit, f64)> {
    const KILOGRAM_FORCE: f64 = 9.806_65;
    let words: String = words.to_lowercase();
    let letters: String = words.chars().filter(|c| c.is_ascii_alphabetic()).collect();
    let scale = match () {
        () if letters.ends_with("mm") || letters.contains("milli") => 0.001,
        () if letters.ends_with("cm") || letters.contains("centi") => 0.01,
        () => 1.0,
    };
    Some(match () {
        () if letters.starts_with("kgf") => (TorqueUnit::NewtonMetres, KILOGRAM_FORCE * scale),
        () if letters.starts_with('k') => return None,
        () if letters.starts_with('n') => (TorqueUnit::NewtonMetres, scale),
        () if letters.contains("in") => (TorqueUnit::InchPounds, 1.0),
        () => (TorqueUnit::FootPounds, 1.0),
    })
}

/// Words of a tightening that has no figure: to a feel, or by turning on.
const FEEL: [&str; 9] = [
    "hand",
    "finger",
    "snug",
    "nip",
    "turn",
    "spanner tight",
    "wrench tight",
    "flush",
    "loose",
];

/// Reads what a torque cell says.
pub fn read(text: &str) -> Called {
    let figure = |text: &str| text.replace(',', ".").parse::<f64>().ok();
    let mut figures = FIGURE.captures_iter(text).filter_map(|found| {
        let named = |name: &str| found.name(name).map(|m| m.as_str());
        let (unit, scale) = unit(named("unit").or(named("boxed"))?)?;
        let first = named("first").or(named("from"))?;
        let decimals = first.split(['.', ',']).nth(1).map_or(0, str::len);
        let second = named("second").or(named("upto")).and_then(figure);
        let first = figure(first)?;
        let second = second.unwrap_or(first);
        let positive = first > 0.0 && second > 0.0;
        let says_more = ["before", "within", "more"]
            .iter()
            .any(|name| named(name).is_some());
        positive.then(|| Figures {
            least: first.min(second) * scale,
            most: first.max(second) * scale,
            unit,
            half: 0.5 * scale / 10f64.powi(decimals as i32),
            said: (says_more || scale != 1.0).then(|| found[0].trim().into()),
        })
    });
    if let Some(one) = figures.next() {
        let disagrees = figures.next().is_some_and(|other| !one.is_alike(&other));
        let Figures {
            least,
            most,
            unit,
            said,
            ..
        } = one;
        // `a quarter turn past 45 ft-lb`
        let said = said.or_else(|| PAST.is_match(text).then(|| text.trim().into()));
        return Called::Torque {
            least,
            most,
            unit,
            disagrees,
            said,
        };
    }
    let words = text.to_lowercase();
    match FEEL.iter().any(|word| words.contains(word)) {
        true => Called::Feel(text.trim().into()),
        false => Called::Unread(text.trim().into()),
    }
}

/// A figure or a range.
struct Figures {
    least: f64,
    most: f64,
    unit: TorqueUnit,
    /// Half a unit of the last digit written.
    half: f64,
    /// [`Called::Torque`]
    said: Option<Box<str>>,
}

impl Figures {
    /// True for one torque in two units: as far apart as rounding leaves them, and a torque wrench may be off
    /// (ISO 6789: 4 %, from memory).
    fn is_alike(&self, other: &Figures) -> bool {
        let rounded = self.unit.torque(self.half).0 + other.unit.torque(other.half).0;
        let near = |a: f64, b: f64| {
            let (a, b) = (self.unit.torque(a).0, other.unit.torque(b).0);
            (a - b).abs() <= rounded + 0.04 * a.max(b)
        };
        near(self.least, other.least) && near(self.most, other.most)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, least: f64, most: f64, unit: TorqueUnit) {
        match read(text) {
            Called::Torque {
                least: l,
                most: m,
                unit: u,
                disagrees: false,
                ..
            } => assert_eq!((l, m, u), (least, most, unit), "{text}"),
            other => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn torques() {
        use TorqueUnit::*;
        case("110 ft-lb", 110.0, 110.0, FootPounds);
        case("35 ft·lb", 35.0, 35.0, FootPounds);
        case("60 lb-ft", 60.0, 60.0, FootPounds);
        case("60 LBF·FT", 60.0, 60.0, FootPounds);
        case("60 ft.lbs.", 60.0, 60.0, FootPounds);
        case("60 foot-pounds", 60.0, 60.0, FootPounds);
        case("20 N·m", 20.0, 20.0, NewtonMetres);
        case("20 Nm dry", 20.0, 20.0, NewtonMetres);
        case("7,5 Nm", 7.5, 7.5, NewtonMetres);
        case("20 newton metres", 20.0, 20.0, NewtonMetres);
        case("20 in-lb", 20.0, 20.0, InchPounds);
        case("20 inch pounds", 20.0, 20.0, InchPounds);
        case("20 lb-in", 20.0, 20.0, InchPounds);
        case("50-60 ft-lb", 50.0, 60.0, FootPounds);
        case("50 – 60 ft lb", 50.0, 60.0, FootPounds);
        case("torque to 55 ft-lb", 55.0, 55.0, FootPounds);
        case("110 ft-lb (149 N·m)", 110.0, 110.0, FootPounds);
        case("45 pounds-feet", 45.0, 45.0, FootPounds);
        case("45 (ft-lb)", 45.0, 45.0, FootPounds);
        case("490 N·cm", 4.9, 4.9, NewtonMetres);
        case("1 kgf·m", 9.806_65, 9.806_65, NewtonMetres);
        case("between 40 and 45 ft-lb", 40.0, 45.0, FootPounds);
        case("45 ft-lb plus 90 degrees", 45.0, 45.0, FootPounds);
        case("45 ± 5 N·m", 45.0, 45.0, NewtonMetres);
    }

    #[test]
    fn what_says_more_is_shown_as_written() {
        for text in [
            "45 ft-lb plus 90 degrees",
            "45 ft-lb +/- 5",
            "45 ± 5 N·m",
            "at least 45 ft-lb",
            "45 ft-lb max",
            "a quarter turn past 45 ft-lb",
            "4.9 kgf·m",
            "490 N·cm",
        ] {
            assert_eq!(read(text).to_string(), text);
        }
    }

    /// SP 811, appendix B.8: 1 ft lbf is 1.355 818 N m.
    #[test]
    fn two_figures_are_compared() {
        #[track_caller]
        fn case(text: &str, alike: bool) {
            let is = matches!(read(text), Called::Torque { disagrees, .. } if disagrees != alike);
            assert!(is, "{text}");
        }
        case("110 ft-lb (149 N·m)", true);
        case("45 ft-lb (61 N·m)", true);
        case("45 ft-lb (60 N·m)", true);
        case("45 to 50 ft-lb (61 to 68 N·m)", true);
        case("90 N·m / 66 ft-lb", true);
        case("2 ft-lb (3 N·m)", true);
        case("120 in-lb (10 ft-lb)", true);
        case("110 ft-lb (49 N·m)", false);
        case("45 ft-lb (90 N·m)", false);
        case("45 ft-lb (66 N·m)", false);
        case("1.5 N·m (2 ft-lb)", false);
        case("120 in-lb (14 ft-lb)", false);
        case("45 ft-lb (54 to 61 N·m)", false);
        case("61 ft-lb (45 N·m)", false);
    }

    #[test]
    fn words() {
        for feel in [
            "hand tight",
            "Snug plus a half turn",
            "snug + 1/2 turn",
            "finger-tight",
        ] {
            assert_eq!(read(feel), Called::Feel(feel.into()));
        }
        for unread in ["75", "see drawing", "0 ft-lb", "75 kg", "6 kg·m", ""] {
            assert_eq!(read(unread), Called::Unread(unread.into()));
        }
    }

    /// SP 811, appendix B.8: 1 ft lbf is 1.355 818 N m, 1 in lbf 0.112 984 8 N m.
    #[test]
    fn units() {
        let near = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-6, "{a} {b}");
        near(TorqueUnit::FootPounds.torque(1.0).0, 1.355_818);
        near(TorqueUnit::InchPounds.torque(1.0).0, 0.112_984_8);
        for unit in TorqueUnit::ALL {
            near(unit.of(unit.torque(7.0)), 7.0);
        }
    }
}
