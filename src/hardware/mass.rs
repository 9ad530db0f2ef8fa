//! Mass and volume of one piece, by solid geometry.
//!
//! A head is its prism, cylinder, dome or cone; a shank is a cylinder of the nominal diameter and a
//! thread one of the pitch diameter, which is where ridges and grooves even out; a nut is its hexagon
//! less a bore of the pitch diameter; a washer its ring. Chamfers and roundings, under half a percent
//! of the piece, are left out. Good for planning a bag, never in place of a weighed sample.

use std::f64::consts::{FRAC_PI_4, PI};

use super::{
    dimensions::{Measure, Standard, Table, diameter_mm, find, inch, length_mm, number, pitch_mm},
    grade::{Grade, Material},
    heads::{Head, clevis, head},
    item::Item,
    kind::{Kind, Style},
    lengths::thread_length,
    nuts::nut,
    size::Unit,
    washers::washer,
};

/// A mass in grams.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize)]
#[serde(transparent)]
pub struct Grams(pub f64);

/// Pitch diameter of the 60 degree thread: nominal less 0.6495 P (ASME B1.1, ISO 724).
const PITCH_DIAMETER: f64 = 0.649_519;

/// Inch hexagons as made, over the width of the table: it is the maximum, and the minimum is 2 to
/// 3 % less (ASME B18.2.1 and B18.2.2, from memory). Published metric masses are those of the full
/// width.
const INCH_FLATS: f64 = 0.9875;

/// Root diameter of lag screws. ASME B18.2.1, as tabulated in the National Design Specification for
/// Wood Construction, appendix L (from memory).
const LAG_ROOT: &Table<1> = &[
    (number(10), [1_200]),
    (inch(1, 4), [1_730]),
    (inch(5, 16), [2_270]),
    (inch(3, 8), [2_650]),
    (inch(7, 16), [3_280]),
    (inch(1, 2), [3_710]),
    (inch(5, 8), [4_710]),
    (inch(3, 4), [5_790]),
    (inch(7, 8), [6_830]),
    (inch(1, 1), [7_800]),
];

/// Root diameter of wood screws. ASME B18.6.1, as tabulated in the National Design Specification for
/// Wood Construction, appendix L (from memory).
const WOOD_ROOT: &Table<1> = &[
    (number(6), [1_130]),
    (number(7), [1_220]),
    (number(8), [1_310]),
    (number(9), [1_420]),
    (number(10), [1_520]),
    (number(12), [1_710]),
];

/// How much of the ring between root and outside a lag thread fills: flat at the crest 1/8 P, flat
/// at the root 0.43 P, 60 degrees between (ASME B18.2.1, from memory).
const LAG_RIDGE: f64 = 0.35;

/// A nylon-insert nut weighs as a plain hex of this part of its height: the collar is thin and its
/// ring light. Fitted to the published masses of DIN 985.
const INSERT_HEX_PART: f64 = 0.8;

/// Depth of a hexagon socket as a part of the head's height: cylinder heads 1/2 (ISO 4762, ASME
/// B18.3), low heads about 0.6 (ISO 7380, from memory).
const SOCKET_DEPTH: f64 = 0.5;
const LOW_SOCKET_DEPTH: f64 = 0.6;

/// What rim and recess leave of a pan head's cylinder (from memory).
const PAN_PART: f64 = 0.8;

/// Slope of a flange above its rim, 25 degrees, and its rim as a part of the diameter (EN 1661, from
/// memory).
const FLANGE_SLOPE: f64 = 0.466;
const FLANGE_RIM: f64 = 0.15;

/// How much of a bin loose pieces fill: long headed ones, and nuts and washers (from memory).
const PACKING_LONG: f64 = 0.4;
const PACKING_SHORT: f64 = 0.55;

/// Mass of one piece. `None` where the tables do not reach: never a guess.
pub fn mass(item: &Item) -> Option<Grams> {
    mass_to(item, Standard::Iso)
}

/// As [`mass`], for metric pieces made to the standard named.
pub fn mass_to(item: &Item, standard: Standard) -> Option<Grams> {
    Some(Grams(
        solid_volume(item, standard)? * density(item.grade) / 1000.0,
    ))
}

/// Density in g/cm3. Steel 7.85, austenitic stainless 8.0; the others from memory.
pub fn density(grade: Option<Grade>) -> f64 {
    match grade.map_or(Material::Steel, Grade::material) {
        Material::Steel => 7.85,
        Material::Stainless | Material::Stainless18_8 | Material::Stainless316 => 8.0,
        Material::Stainless410 => 7.75,
        Material::Brass => 8.5,
        Material::SiliconBronze => 8.53,
        Material::Aluminium => 2.7,
        Material::Nylon => 1.14,
    }
}

/// What one piece of many, loose in a bin, takes up in cubic millimetres. A flat washer whose series
/// the list leaves open takes the room of the larger.
pub fn bulk_volume(item: &Item) -> Option<f64> {
    let packing = match item.kind? {
        Kind::Nut | Kind::Washer => PACKING_SHORT,
        _ => PACKING_LONG,
    };
    let solid = solid_volume(item, Standard::Iso).or_else(|| match (item.kind?, item.style?) {
        (Kind::Washer, Style::Flat) => {
            let larger = Item {
                style: Some(Style::Uss),
                ..item.clone()
            };
            solid_volume(&larger, Standard::Iso)
        }
        _ => None,
    })?;
    Some(solid / packing)
}

/// Volume of the metal of one piece in cubic millimetres.
pub fn solid_volume(item: &Item, standard: Standard) -> Option<f64> {
    match item.kind? {
        Kind::Bolt | Kind::Screw => bolt_volume(item, head(item, standard)?),
        Kind::Nut => nut_volume(item, standard),
        Kind::Washer => {
            let w = washer(item)?;
            Some((disc(length_mm(w.outside)) - disc(w.inside.mm())) * w.thickness.mm())
        }
        // A clevis pin's length is under its head; its hole, a tenth of a percent or two, is left in.
        Kind::Pin => {
            let shank = disc(diameter_mm(item.diameter?)) * length_mm(item.length?);
            match item.style? {
                Style::Clevis => {
                    let [across, height] = clevis(item.diameter?)?;
                    Some(shank + disc(across.mm()) * height.mm())
                }
                Style::Dowel => Some(shank),
                _ => None,
            }
        }
        Kind::Rod => {
            let threaded = length_mm(thread_length(item)?);
            let whole = length_mm(item.length?);
            (threaded == whole).then_some(whole * thread_area(item)?)
        }
        _ => None,
    }
}

fn bolt_volume(item: &Item, head: Head) -> Option<f64> {
    let diameter = diameter_mm(item.diameter?);
    let length = length_mm(item.length?);
    // What the head's own shape takes of the length.
    let (head, taken) = match head {
        Head::Hex { flats, height } => (hexagon(flats) * height.mm(), 0.0),
        Head::Carriage {
            diameter,
            height,
            neck,
            neck_depth,
        } => {
            let neck_depth = neck_depth.mm().min(length);
            let square = neck.mm().powi(2) * neck_depth;
            (dome(diameter.mm(), height.mm()) + square, neck_depth)
        }
        Head::Socket {
            diameter,
            height,
            key,
        } => {
            let socket = hexagon(key) * height.mm() * SOCKET_DEPTH;
            (disc(diameter.mm()) * height.mm() - socket, 0.0)
        }
        Head::Button {
            diameter,
            height,
            key,
        } => {
            let socket = hexagon(key) * height.mm() * LOW_SOCKET_DEPTH;
            (dome(diameter.mm(), height.mm()) - socket, 0.0)
        }
        Head::Pan { diameter, height } => (disc(diameter.mm()) * height.mm() * PAN_PART, 0.0),
        Head::Flat {
            diameter: across,
            height,
            key,
        } => {
            let socket = key.map_or(0.0, |key| hexagon(key) * height.mm() * LOW_SOCKET_DEPTH);
            let (r1, r2) = (across.mm() / 2.0, diameter / 2.0);
            let cone = PI * height.mm() / 3.0 * (r1 * r1 + r1 * r2 + r2 * r2);
            (cone - socket, height.mm())
        }
    };
    let body = length - taken;
    if body < 0.0 {
        return None;
    }
    let threaded = length_mm(thread_length(item)?).min(body);
    let shank = disc(diameter) * (body - threaded);
    let thread = if matches!(item.style, Some(Style::Lag | Style::Wood)) {
        let roots = if item.style == Some(Style::Lag) {
            LAG_ROOT
        } else {
            WOOD_ROOT
        };
        let [root] = find(roots, item.diameter?)?;
        let area = disc(root.mm()) + LAG_RIDGE * (disc(diameter) - disc(root.mm()));
        // A 60 degree point, a third of the cylinder it stands in.
        let point = (diameter * 0.866).min(threaded);
        area * (threaded - point * 2.0 / 3.0)
    } else {
        thread_area(item)? * threaded
    };
    Some(head + shank + thread)
}

fn nut_volume(item: &Item, standard: Standard) -> Option<f64> {
    let nut = nut(item, standard)?;
    let part = match item.style? {
        Style::NylonInsert => INSERT_HEX_PART,
        _ => 1.0,
    };
    let hex = (hexagon(nut.flats) - thread_area(item)?) * nut.height.mm() * part;
    let flange = match nut.flange {
        Some(flange) => {
            let rim = FLANGE_RIM * diameter_mm(item.diameter?);
            let slope = (flange.mm() - nut.flats.mm()) / 2.0 * FLANGE_SLOPE;
            (disc(flange.mm()) - hexagon(nut.flats)) * (rim + slope / 2.0)
        }
        None => 0.0,
    };
    Some(hex + flange)
}

/// Area of a thread in mm2, at the pitch diameter.
fn thread_area(item: &Item) -> Option<f64> {
    let diameter = diameter_mm(item.diameter?);
    Some(disc(
        diameter - PITCH_DIAMETER * pitch_mm(item.effective_thread()?),
    ))
}

fn disc(diameter: f64) -> f64 {
    FRAC_PI_4 * diameter * diameter
}

fn hexagon(flats: Measure) -> f64 {
    let across = match flats.unit() {
        Unit::Inch => flats.mm() * INCH_FLATS,
        Unit::Millimetre => flats.mm(),
    };
    0.75f64.sqrt() * across * across
}

/// A spherical cap of base diameter `across`.
fn dome(across: f64, height: f64) -> f64 {
    let radius = across / 2.0;
    PI * height * (3.0 * radius * radius + height * height) / 6.0
}
