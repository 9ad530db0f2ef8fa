//! A piece of hardware as it lies, drawn in plain lines at its true size: for the length gauge and
//! for labels, to lay the piece on.

use crate::hardware::{
    Item, Kind, Standard, Style,
    dimensions::{diameter_mm, length_mm},
    heads::{Head, head},
    nuts::nut,
    thread_length,
    washers::washer,
};

/// A bolt or screw, its head to the left. All in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bolt {
    /// Across the head; the diameter where no table has the head.
    pub across: f64,
    /// Height of the head; 0 where no table has it.
    pub height: f64,
    pub countersunk: bool,
    pub diameter: f64,
    /// Under the head, or over all where it is countersunk.
    pub length: f64,
    /// Threaded part, from the end.
    pub thread: Option<f64>,
}

impl Bolt {
    pub fn of(item: &Item) -> Option<Bolt> {
        if !matches!(item.kind, None | Some(Kind::Bolt | Kind::Screw)) {
            return None;
        }
        let diameter = diameter_mm(item.diameter?);
        let (across, height, countersunk) = match head(item, Standard::Iso) {
            Some(Head::Hex { flats, height }) => (flats.mm(), height.mm(), false),
            Some(Head::Flat {
                diameter, height, ..
            }) => (diameter.mm(), height.mm(), true),
            Some(
                Head::Carriage {
                    diameter, height, ..
                }
                | Head::Socket {
                    diameter, height, ..
                }
                | Head::Button {
                    diameter, height, ..
                }
                | Head::Pan { diameter, height },
            ) => (diameter.mm(), height.mm(), false),
            None => (diameter, 0.0, false),
        };
        Some(Bolt {
            across,
            height,
            countersunk,
            diameter,
            length: length_mm(item.length?),
            thread: thread_length(item).map(length_mm),
        })
    }

    /// Where the measured length begins.
    pub fn start(&self) -> f64 {
        match self.countersunk {
            true => 0.0,
            false => self.height,
        }
    }

    /// What is said of a drawing that lacks the head.
    pub fn lacks(&self) -> &'static str {
        match self.height > 0.0 {
            true => "",
            false => ", head not drawn",
        }
    }

    /// Over all, from the head's top to the end.
    pub fn width(&self) -> f64 {
        self.start() + self.length
    }
}

/// What a label can show of an item.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outline {
    Bolt(Bolt),
    /// A nut from above.
    Hex {
        flats: f64,
        hole: f64,
    },
    /// A washer from above, or a flange nut.
    Round {
        outside: f64,
        hole: f64,
    },
}

/// A line of a drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stroke {
    Line([f64; 2], [f64; 2]),
    Circle { centre: [f64; 2], radius: f64 },
}

/// Between two lines that stand for thread.
const THREAD_STEP: f64 = 1.2;

impl Outline {
    /// `None` where no table has the item's figures.
    pub fn of(item: &Item) -> Option<Outline> {
        match item.kind {
            Some(Kind::Nut) => {
                let hole = diameter_mm(item.diameter?);
                let nut = nut(item, Standard::Iso)?;
                match (nut.flange, item.style) {
                    (Some(flange), _) => Some(Outline::Round {
                        outside: flange.mm(),
                        hole,
                    }),
                    (None, Some(Style::Square)) => None,
                    (None, _) => Some(Outline::Hex {
                        flats: nut.flats.mm(),
                        hole,
                    }),
                }
            }
            Some(Kind::Washer) => {
                let washer = washer(item)?;
                Some(Outline::Round {
                    outside: length_mm(washer.outside),
                    hole: washer.inside.mm(),
                })
            }
            _ => Bolt::of(item).map(Outline::Bolt),
        }
    }

    /// Width and height.
    pub fn size(&self) -> [f64; 2] {
        match *self {
            Outline::Bolt(bolt) => [bolt.width(), bolt.across.max(bolt.diameter)],
            // The corners are to the left and right.
            Outline::Hex { flats, .. } => [flats / 30_f64.to_radians().cos(), flats],
            Outline::Round { outside, .. } => [outside, outside],
        }
    }

    /// Its lines, within its size.
    pub fn strokes(&self) -> Vec<Stroke> {
        let [width, height] = self.size();
        let centre = [width / 2.0, height / 2.0];
        match *self {
            Outline::Bolt(bolt) => strokes_of(&bolt, height / 2.0),
            Outline::Round { outside, hole } => [outside, hole]
                .map(|diameter| Stroke::Circle {
                    centre,
                    radius: diameter / 2.0,
                })
                .to_vec(),
            Outline::Hex { hole, .. } => {
                let corner = |n: usize| {
                    let angle = (60.0 * n as f64).to_radians();
                    let radius = width / 2.0;
                    [
                        centre[0] + radius * angle.cos(),
                        centre[1] + radius * angle.sin(),
                    ]
                };
                let sides = (0..6).map(|n| Stroke::Line(corner(n), corner(n + 1)));
                let hole = Stroke::Circle {
                    centre,
                    radius: hole / 2.0,
                };
                sides.chain([hole]).collect()
            }
        }
    }
}

/// The lines of a bolt about its middle.
fn strokes_of(bolt: &Bolt, middle: f64) -> Vec<Stroke> {
    let (top, bottom) = (middle - bolt.diameter / 2.0, middle + bolt.diameter / 2.0);
    let (above, below) = (middle - bolt.across / 2.0, middle + bolt.across / 2.0);
    let end = bolt.width();
    // A countersunk head narrows to the shank.
    let shank = match bolt.height {
        height if height > 0.0 => height,
        _ => 0.0,
    };
    let rim = if bolt.countersunk { 0.0 } else { shank };
    let mut corners = vec![[shank, top], [end, top], [end, bottom], [shank, bottom]];
    if shank > 0.0 {
        let head = [[rim, below], [0.0, below], [0.0, above], [rim, above]];
        corners.extend(head);
        if bolt.countersunk {
            corners.dedup();
        }
    }
    let mut strokes: Vec<Stroke> = (0..corners.len())
        .map(|n| Stroke::Line(corners[n], corners[(n + 1) % corners.len()]))
        .collect();
    if shank > 0.0 && !bolt.countersunk {
        strokes.push(Stroke::Line([shank, top], [shank, bottom]));
    }
    if let Some(thread) = bolt.thread {
        let from = (end - thread).max(shank);
        let turns = ((end - from) / THREAD_STEP).floor() as usize;
        strokes.extend((0..=turns).map(|turn| {
            let x = end - turn as f64 * THREAD_STEP;
            Stroke::Line([x, top], [x, bottom])
        }));
    }
    strokes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::fixture;

    /// A 1/2 hex nut: 3/4 in across (ASME B18.2.2), its hole in the middle.
    #[test]
    fn a_nut_is_drawn_about_its_hole() {
        let outline = Outline::of(&crate::settle::sample::item("nut hex 1/2"));
        let outline = outline.expect("the tables have it");
        let [width, height] = outline.size();
        assert!((height - 19.05).abs() < 0.01, "{height}");
        let hole = outline.strokes().pop();
        let Some(Stroke::Circle { centre, radius }) = hole else {
            panic!("{hole:?}")
        };
        assert_eq!((centre, radius), ([width / 2.0, height / 2.0], 6.35));
    }

    /// A 1/2 x 6 hex bolt: 152.4 mm under a head 11/32 in high, 3/4 in across (ASME B18.2.1).
    #[test]
    fn a_bolt_lies_within_its_size() {
        let item = &fixture::footbridge().account.items[0].item;
        let outline = Outline::of(item).expect("the tables have it");
        let [width, height] = outline.size();
        assert!((width - (152.4 + 8.733)).abs() < 0.01, "{width}");
        assert!((height - 19.05).abs() < 0.01, "{height}");
        for stroke in outline.strokes() {
            let Stroke::Line(from, to) = stroke else {
                panic!("{stroke:?}")
            };
            for [x, y] in [from, to] {
                assert!((-1e-9..=width + 1e-9).contains(&x), "{stroke:?}");
                assert!((-1e-9..=height + 1e-9).contains(&y), "{stroke:?}");
            }
        }
    }
}
