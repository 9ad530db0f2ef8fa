//! Tightening: stress area, clamp load at 75 % of proof, torque. Checks, never instructions: the kit
//! maker's figure rules.
//!
//! `T = K D F`, with F 75 % of the proof load and K the nut factor, 0.20 for dry and 0.15 for
//! lubricated threads (the torque-tension charts of SAE J429 bolts).

use std::f64::consts::FRAC_PI_4;

use super::{
    dimensions::{diameter_mm, inch, pitch_mm},
    grade::Grade,
    item::Item,
    kind::{Kind, Style},
    size::{Diameter, Ratio, Unit},
    thread::Thread,
};

/// Nut factor of plain, dry threads.
pub const DRY: f64 = 0.20;
/// Nut factor of lubricated threads.
pub const LUBRICATED: f64 = 0.15;

/// The part of the proof load that a joint is clamped with.
const CLAMP: f64 = 0.75;

const MPA_PER_KSI: f64 = 6.894_757_293;
const NEWTON_METRES_PER_FOOT_POUND: f64 = 1.355_817_948;

/// A torque in newton metres.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Torque(pub f64);

impl Torque {
    pub fn of_foot_pounds(foot_pounds: f64) -> Torque {
        Torque(foot_pounds * NEWTON_METRES_PER_FOOT_POUND)
    }

    pub fn foot_pounds(self) -> f64 {
        self.0 / NEWTON_METRES_PER_FOOT_POUND
    }

    pub fn inch_pounds(self) -> f64 {
        self.foot_pounds() * 12.0
    }
}

/// Proof stress in ksi up to a diameter, smallest first. SAE J429 (torque-tension charts).
const SAE_PROOF: &[(Grade, i64, i64, f64)] = &[
    (Grade::Grade2, 3, 4, 55.0),
    (Grade::Grade2, 3, 2, 33.0),
    (Grade::Grade5, 1, 1, 85.0),
    (Grade::Grade5, 3, 2, 74.0),
    (Grade::Grade8, 3, 2, 120.0),
];

/// Proof stress in MPa up to a diameter in mm, smallest first. ISO 898-1 (from memory).
const ISO_PROOF: &[(Grade, i64, f64)] = &[
    (Grade::Class46, 39, 225.0),
    (Grade::Class48, 39, 310.0),
    (Grade::Class56, 39, 280.0),
    (Grade::Class58, 39, 380.0),
    (Grade::Class68, 39, 440.0),
    (Grade::Class88, 16, 580.0),
    (Grade::Class88, 39, 600.0),
    (Grade::Class109, 39, 830.0),
    (Grade::Class129, 39, 970.0),
];

/// Largest torque in inch-pounds that a nylon insert may take to turn, first installation. ASME
/// B18.16.6 (two manufacturers' charts of that table).
const PREVAILING: &[(Diameter, u32)] = &[
    (inch(1, 4), 40),
    (inch(5, 16), 80),
    (inch(3, 8), 110),
    (inch(7, 16), 135),
    (inch(1, 2), 204),
    (inch(9, 16), 300),
    (inch(5, 8), 420),
    (inch(3, 4), 540),
    (inch(7, 8), 840),
    (inch(1, 1), 1080),
];

/// Tensile stress area in mm2: pi/4 (D - 0.9743/n)2 for inch threads (ASME B1.1), pi/4 (d - 0.9382 P)2
/// for metric ones (ISO 898-1).
pub fn stress_area(diameter: Diameter, thread: Thread) -> f64 {
    let lost = match diameter.unit() {
        Unit::Inch => 0.9743,
        Unit::Millimetre => 0.9382,
    };
    FRAC_PI_4 * (diameter_mm(diameter) - lost * pitch_mm(thread)).powi(2)
}

/// Proof stress in MPa, or `None` for a grade that these tables do not hold at that diameter.
pub fn proof_stress(diameter: Diameter, grade: Grade) -> Option<f64> {
    match diameter.unit() {
        Unit::Inch => SAE_PROOF
            .iter()
            .find(|(g, n, d, _)| *g == grade && diameter.value() <= Ratio::new(*n, *d))
            .map(|(_, _, _, ksi)| ksi * MPA_PER_KSI),
        Unit::Millimetre => ISO_PROOF
            .iter()
            .find(|(g, mm, _)| *g == grade && diameter.value() <= Ratio::from(*mm))
            .map(|(_, _, mpa)| *mpa),
    }
}

/// The clamp load in newtons: 75 % of the proof load.
pub fn clamp_load(diameter: Diameter, thread: Thread, grade: Grade) -> Option<f64> {
    Some(CLAMP * proof_stress(diameter, grade)? * stress_area(diameter, thread))
}

/// The torque that clamps with 75 % of the proof load, for the nut factor `k`.
pub fn tightening(diameter: Diameter, thread: Thread, grade: Grade, k: f64) -> Option<Torque> {
    let clamp = clamp_load(diameter, thread, grade)?;
    Some(Torque(k * diameter_mm(diameter) / 1000.0 * clamp))
}

/// The largest torque that is plausible for the item's own grade. `None`, "not checked", where it
/// states none that the tables hold, and for screws that cut their own thread; structural bolts are
/// tightened by turn of nut or by indicating methods.
pub fn ceiling(item: &Item, k: f64) -> Option<Torque> {
    let machine_thread = match item.kind? {
        Kind::Bolt | Kind::Rod => true,
        Kind::Screw => matches!(
            item.style?,
            Style::Socket
                | Style::LowSocket
                | Style::Button
                | Style::Flat
                | Style::Hex
                | Style::Machine
        ),
        _ => false,
    };
    if !machine_thread {
        return None;
    }
    tightening(item.diameter?, item.effective_thread()?, item.grade?, k)
}

/// The largest torque that the insert of a nylon-insert nut takes to turn: a called torque near it
/// clamps nothing. `None` where the table does not reach.
pub fn prevailing_torque(nut: &Item) -> Option<Torque> {
    if (nut.kind?, nut.style?) != (Kind::Nut, Style::NylonInsert) {
        return None;
    }
    let (_, inch_pounds) = PREVAILING.iter().find(|(d, _)| Some(*d) == nut.diameter)?;
    Some(Torque::of_foot_pounds(f64::from(*inch_pounds) / 12.0))
}
