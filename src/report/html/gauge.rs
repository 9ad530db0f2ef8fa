//! The length gauge: every bolt and screw drawn at its true size, to lay a piece on, with a ruler and
//! a mark by which to check that the printer kept the scale.
//!
//! Drawings are in millimetres: a user unit is one.

use std::{
    collections::BTreeSet,
    io::{self, Write},
};

use super::{Page, markup::escaped};
use crate::{hardware::Item, report::outline::Bolt};

/// Widest drawing: it fits between the margins of A4 and of letter paper.
const WIDEST: f64 = 180.0;
/// A bank card, ISO/IEC 7810 size ID-1.
const CARD: (f64, f64) = (85.6, 53.98);
const MM_PER_INCH: f64 = 25.4;

pub fn write(page: &Page<'_>, out: &mut dyn Write) -> io::Result<()> {
    out.write_all(
        b"<p>Printed at 100 %, everything here is at its true size: lay the piece on its drawing. \
        On a screen it is not. Length is measured under the head, and over all for a countersunk \
        head.</p>\n\
        <p><strong>Check the printer first:</strong> a bank card must fill the box exactly, and the \
        ruler must agree with a steel rule. If they do not, print again without \"fit to page\".</p>\n",
    )?;
    card(out)?;
    ruler(out)?;
    let mut items: Vec<(&Item, Bolt)> = page
        .account
        .items
        .iter()
        .filter_map(|account| Some((&account.item, Bolt::of(&account.item)?)))
        .collect();
    items.sort_by(|(_, a), (_, b)| {
        (a.diameter.total_cmp(&b.diameter)).then(a.length.total_cmp(&b.length))
    });
    let mut drawn = BTreeSet::new();
    let mut too_long = Vec::new();
    for (item, outline) in &items {
        // Grade and finish make no other drawing.
        let plain = Item {
            grade: None,
            finish: None,
            ..(*item).clone()
        };
        let name = plain.text();
        if !drawn.insert(name.clone()) {
            continue;
        }
        match outline.width() <= WIDEST {
            true => bolt(&name, outline, out)?,
            false => too_long.push(name),
        }
    }
    if !too_long.is_empty() {
        writeln!(
            out,
            "<p>Longer than the page, to be measured with a tape: {}.</p>",
            escaped(&too_long.join("; "))
        )?;
    }
    Ok(())
}

/// Opens a drawing of a size in millimetres.
fn open(out: &mut dyn Write, width: f64, height: f64, words: &str) -> io::Result<()> {
    write!(
        out,
        "<figure><svg width=\"{width:.2}mm\" height=\"{height:.2}mm\" \
         viewBox=\"0 0 {width:.2} {height:.2}\" role=\"img\" aria-label=\"{}\">",
        escaped(words)
    )
}

fn card(out: &mut dyn Write) -> io::Result<()> {
    let (width, height) = CARD;
    open(
        out,
        width + 1.0,
        height + 1.0,
        "Check box of a bank card's size",
    )?;
    writeln!(
        out,
        "<rect class=\"line\" x=\".5\" y=\".5\" width=\"{width}\" height=\"{height}\" rx=\"3.18\"/>\
         </svg><figcaption>Bank card, {width} x {height} mm (ISO/IEC 7810, ID-1)</figcaption></figure>"
    )
}

/// Millimetres above, sixteenths of an inch below.
fn ruler(out: &mut dyn Write) -> io::Result<()> {
    open(out, WIDEST, 17.0, "Ruler in millimetres and inches")?;
    let mut path = String::from("M0 8H177.8");
    for mm in 0..=177 {
        let tick = match mm {
            mm if mm % 10 == 0 => 5.0,
            mm if mm % 5 == 0 => 3.5,
            _ => 2.0,
        };
        path.push_str(&format!("M{mm} 8V{}", 8.0 - tick));
    }
    for sixteenth in 0..=112 {
        let tick = match sixteenth {
            n if n % 16 == 0 => 5.0,
            n if n % 8 == 0 => 4.0,
            n if n % 4 == 0 => 3.0,
            n if n % 2 == 0 => 2.0,
            _ => 1.2,
        };
        let x = f64::from(sixteenth) * MM_PER_INCH / 16.0;
        path.push_str(&format!("M{x:.3} 8V{}", 8.0 + tick));
    }
    write!(out, "<path class=\"line\" d=\"{path}\"/>")?;
    for mm in (10..=170).step_by(10) {
        write!(
            out,
            "<text x=\"{}\" y=\"2.8\">{mm}</text>",
            f64::from(mm) + 0.4
        )?;
    }
    for inch in 1..=6 {
        let x = f64::from(inch) * MM_PER_INCH + 0.5;
        write!(out, "<text x=\"{x:.2}\" y=\"15.5\">{inch} in</text>")?;
    }
    out.write_all(
        b"</svg><figcaption>Ruler: millimetres above, inches below</figcaption></figure>\n",
    )
}

fn bolt(name: &str, bolt: &Bolt, out: &mut dyn Write) -> io::Result<()> {
    let high = bolt.across.max(bolt.diameter);
    let middle = high / 2.0 + 0.5;
    let (top, start) = (middle - bolt.diameter / 2.0, bolt.start());
    let end = start + bolt.length;
    open(out, WIDEST, high + 5.0, name)?;
    // The shank, its thread darker, then the head over it.
    let d = bolt.diameter;
    write!(
        out,
        "<rect class=\"body\" x=\"{start:.3}\" y=\"{top:.3}\" width=\"{:.3}\" height=\"{d:.3}\"/>",
        bolt.length
    )?;
    if let Some(thread) = bolt.thread {
        let from = end - thread;
        write!(
            out,
            "<rect class=\"thread\" x=\"{from:.3}\" y=\"{top:.3}\" width=\"{thread:.3}\" height=\"{d:.3}\"/>"
        )?;
    }
    let (above, below) = (middle - bolt.across / 2.0, middle + bolt.across / 2.0);
    if bolt.countersunk {
        write!(
            out,
            "<path class=\"body\" d=\"M0 {above:.3}L{h:.3} {top:.3}V{:.3}L0 {below:.3}Z\"/>",
            top + d,
            h = bolt.height
        )?;
    } else if bolt.height > 0.0 {
        write!(
            out,
            "<rect class=\"body\" x=\"0\" y=\"{above:.3}\" width=\"{:.3}\" height=\"{:.3}\"/>",
            bolt.height, bolt.across
        )?;
    }
    let rule = high + 3.0;
    writeln!(
        out,
        "<path class=\"line\" d=\"M{start:.3} {middle:.3}V{low:.3}M{end:.3} {middle:.3}V{low:.3}\
         M{start:.3} {rule:.3}H{end:.3}\"/></svg><figcaption>{}{}</figcaption></figure>",
        escaped(name),
        bolt.lacks(),
        low = rule + 1.0,
    )
}
