//! Marks to meanings: which kind and style, and which finish, the words of one item add up to.

use super::words::{Mark, Noun};
use crate::{
    doubt::Doubt,
    hardware::{Drive, Finish, Grade, Item, Kind, Style},
};

/// A set of marks.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Marks(u128);

impl Marks {
    pub fn add(&mut self, mark: Mark) {
        self.0 |= 1 << mark as u32;
    }

    pub fn has(self, mark: Mark) -> bool {
        self.0 & (1 << mark as u32) != 0
    }

    /// The marks of both.
    pub fn with(self, other: Marks) -> Marks {
        Marks(self.0 | other.0)
    }

    fn any(self, marks: &[Mark]) -> bool {
        marks.iter().any(|&mark| self.has(mark))
    }

    fn none(self) -> bool {
        self.0 == 0
    }

    fn without(self, marks: &[Mark]) -> Marks {
        marks
            .iter()
            .fold(self, |left, &mark| Marks(left.0 & !(1 << mark as u32)))
    }

    /// The first row whose marks are all there. Where others of the table are there besides, and no
    /// row has them all, the piece is two things at once: a doubt that names both.
    fn style(self, rows: Styles<'_>, kind: Kind, doubts: &mut Vec<Doubt>) -> Option<Style> {
        let (marks, style) = rows
            .iter()
            .find(|(marks, _)| marks.iter().all(|&mark| self.has(mark)))?;
        // A general word beside a special one says nothing more.
        let rest = self.without(marks).without(GENERAL);
        let other = rows
            .iter()
            .filter(|_| !rest.none())
            .find(|(marks, other)| other != style && marks.iter().all(|&mark| rest.has(mark)));
        if let Some((_, other)) = other {
            let named = |style: &Style| format!("{style} {kind}").into();
            doubts.push(Doubt::Readings(vec![named(style), named(other)]));
        }
        Some(*style)
    }

    /// The first row whose marks are all there.
    fn first<T: Copy>(self, rows: &[(&[Mark], T)]) -> Option<T> {
        rows.iter()
            .find(|(marks, _)| marks.iter().all(|&mark| self.has(mark)))
            .map(|&(_, value)| value)
    }
}

use Mark::*;

type Styles<'a> = &'a [(&'a [Mark], Style)];

/// Words that stand beside a special one without making another style of it: the hexagon of a flange
/// nut, the square neck of a carriage bolt, the socket of a button head, the round of a truss head.
const GENERAL: &[Mark] = &[
    Hex, Heavy, Square, Lock, Flat, Socket, Low, Round, Cap, Sae, Uss, Insert, Machine, T,
];

const BOLTS: Styles = &[
    (&[Heavy, Hex], Style::HeavyHex),
    (&[Carriage], Style::Carriage),
    (&[Flange], Style::Flange),
    (&[Elevator], Style::Elevator),
    (&[Plow], Style::Plow),
    (&[Shoulder], Style::Shoulder),
    (&[Toggle], Style::Toggle),
    (&[Eye], Style::Eye),
    (&[U], Style::U),
    (&[J], Style::J),
    (&[L], Style::L),
    (&[T], Style::T),
    (&[Hex], Style::Hex),
    (&[Square], Style::Square),
];

/// Screws named by their use; the head is told apart.
const USES: Styles = &[
    (&[Lag], Style::Lag),
    (&[Set], Style::Set),
    (&[SelfDrilling], Style::SelfDrilling),
    (&[SheetMetal], Style::SheetMetal),
    (&[Wood], Style::Wood),
    (&[Deck], Style::Deck),
    (&[Thumb], Style::Thumb),
];

const HEADS: Styles = &[
    (&[HexWasher], Style::HexWasher),
    (&[Low, Socket], Style::LowSocket),
    (&[Button], Style::Button),
    (&[Flat], Style::Flat),
    (&[Pan], Style::Pan),
    (&[Truss], Style::Truss),
    (&[Oval], Style::Oval),
    (&[Fillister], Style::Fillister),
    (&[Bugle], Style::Bugle),
    (&[Wafer], Style::Wafer),
    (&[Round], Style::Round),
    (&[Socket], Style::Socket),
    (&[Hex], Style::Hex),
    (&[Square], Style::Square),
];

const NUTS: Styles = &[
    (&[NylonInsert, Flange], Style::NylonInsertFlange),
    (&[NylonInsert, Jam], Style::NylonInsertJam),
    (&[NylonInsert], Style::NylonInsert),
    (&[ToothWasher], Style::ToothWasher),
    (&[Lock, Flange], Style::FlangeLock),
    (&[Lock], Style::Lock),
    (&[Heavy, Jam], Style::HeavyHexJam),
    (&[Jam], Style::Jam),
    (&[Coupling], Style::Coupling),
    (&[Flange], Style::Flange),
    (&[Wing], Style::Wing),
    (&[Cap], Style::Cap),
    (&[Castle], Style::Castle),
    (&[Weld], Style::Weld),
    (&[Barrel], Style::Barrel),
    (&[Insert], Style::Insert),
    (&[Thumb], Style::Thumb),
    (&[Heavy], Style::HeavyHex),
    (&[T], Style::T),
    (&[Square], Style::Square),
    (&[Hex], Style::Hex),
];

const WASHERS: Styles = &[
    (&[External], Style::ExternalTooth),
    (&[Internal], Style::InternalTooth),
    (&[Split], Style::SplitLock),
    (&[Lock], Style::SplitLock),
    (&[Fender], Style::Fender),
    (&[Bevel], Style::Bevel),
    (&[Plate], Style::Plate),
    (&[Spherical], Style::Spherical),
    (&[Spring], Style::Spring),
    (&[Sealing], Style::Sealing),
    (&[Finishing], Style::Finishing),
    (&[Sae], Style::Sae),
    (&[Uss], Style::Uss),
    (&[Square], Style::Plate),
    (&[Flat], Style::Flat),
];

const PINS: Styles = &[
    (&[Cotter], Style::Cotter),
    (&[Split], Style::Cotter),
    (&[Clevis], Style::Clevis),
    (&[Hitch], Style::Hitch),
    (&[Dowel], Style::Dowel),
    (&[Roll], Style::Roll),
    (&[Spring], Style::Roll),
    (&[Taper], Style::Taper),
    (&[Linch], Style::Linch),
    (&[Detent], Style::Detent),
];

const ANCHORS: Styles = &[
    (&[Wedge], Style::Wedge),
    (&[Sleeve], Style::Sleeve),
    (&[DropIn], Style::DropIn),
    (&[ScrewIn], Style::ScrewIn),
    (&[Adhesive], Style::Adhesive),
    (&[Concrete], Style::ScrewIn),
];

const RIVETS: Styles = &[(&[Blind], Style::Blind), (&[Solid], Style::Solid)];

const FINISHES: &[(&[Mark], Finish)] = &[
    (&[Flake], Finish::ZincFlake),
    (&[Yellow], Finish::YellowZinc),
    (&[Dipped], Finish::HotDip),
    (&[Mechanical], Finish::MechanicalGalvanised),
    (&[Galvanised], Finish::Galvanised),
    (&[Black, Zinc], Finish::BlackZinc),
    (&[Black], Finish::BlackOxide),
    (&[Zinc], Finish::Zinc),
    (&[Oxide], Finish::BlackOxide),
    (&[Phosphate], Finish::Phosphate),
    (&[Nickel], Finish::Nickel),
    (&[Chrome], Finish::Chrome),
    (&[Cadmium], Finish::Cadmium),
    (&[Painted], Finish::Painted),
    (&[Powder], Finish::PowderCoated),
    (&[Passivated], Finish::Passivated),
    (&[Coated], Finish::Coated),
    (&[Plain], Finish::Plain),
];

/// What the words of one item say, before the figures.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Traits {
    pub noun: Option<Noun>,
    pub marks: Marks,
    pub drive: Option<Drive>,
    pub grade: Option<Grade>,
    /// Words that are not known stand in it, so a style may be among them.
    pub unknown: bool,
}

impl Traits {
    /// Fills in kind, style, head, drive, grade and finish.
    pub fn read(self, item: &mut Item, doubts: &mut Vec<Doubt>) {
        let marks = self.marks;
        item.drive = self.drive;
        item.grade = self.grade;
        item.finish = marks.first(FINISHES);
        if item.finish == Some(Finish::BlackOxide) && !marks.has(Oxide) {
            doubts.push(Doubt::Said("black taken for black oxide".into()));
        }
        let noun = self.noun.or_else(|| {
            marks.first(&[
                (&[Lag], Noun::Screw),
                (&[Carriage], Noun::Bolt),
                // Socket caps, button heads: no other piece is called by its head.
                (&[Socket, Cap], Noun::Screw),
                (&[Button, Cap], Noun::Screw),
                (&[Flat, Cap], Noun::Screw),
                (&[All, Threaded], Noun::Rod),
            ])
        });
        let heads = marks.has(Heads) && marks.first(HEADS).is_some();
        let noun = noun.or(heads.then_some(Noun::Screw));
        let noun = match noun {
            Some(Noun::Bolt | Noun::Rod) if marks.has(Anchor) && !marks.any(&[J, L]) => {
                Some(Noun::Anchor)
            }
            Some(Noun::Bolt) if marks.has(Stud) => Some(Noun::Stud),
            // Concrete screws are anchors that are screwed in.
            Some(Noun::Screw) if marks.has(Concrete) => Some(Noun::Anchor),
            noun => noun,
        };
        match noun {
            Some(Noun::Bolt) if !marks.any(&[Lag, Socket, Button, Flat]) => {
                item.kind = Some(Kind::Bolt);
                item.style = marks.style(BOLTS, Kind::Bolt, doubts);
            }
            Some(Noun::Bolt | Noun::Screw) => self.screw(item, doubts),
            Some(Noun::Nut) => self.nut(item, doubts),
            Some(Noun::Washer) => {
                item.kind = Some(Kind::Washer);
                item.style = marks.style(WASHERS, Kind::Washer, doubts);
                if item.style.is_none() && !self.unknown {
                    // Common practice, no source: a lock washer is always called one.
                    item.style = Some(Style::Flat);
                    if marks.has(Plain) {
                        item.finish = item.finish.filter(|&finish| finish != Finish::Plain);
                    }
                }
            }
            Some(Noun::Pin) => {
                item.kind = Some(Kind::Pin);
                item.style = marks.style(PINS, Kind::Pin, doubts);
            }
            Some(Noun::Rod) => {
                item.kind = Some(Kind::Rod);
                item.style = marks.first(&[(&[Threaded], Style::Threaded)]);
            }
            Some(Noun::Stud) => {
                item.kind = Some(Kind::Rod);
                item.style = Some(Style::Stud);
            }
            Some(Noun::Anchor) => {
                item.kind = Some(Kind::Anchor);
                item.style = marks.style(ANCHORS, Kind::Anchor, doubts);
            }
            Some(Noun::Rivet) => {
                item.kind = Some(Kind::Rivet);
                item.style = marks.first(RIVETS);
            }
            None => item.style = marks.first(HEADS),
        }
    }

    fn screw(self, item: &mut Item, doubts: &mut Vec<Doubt>) {
        let marks = self.marks;
        item.kind = Some(Kind::Screw);
        let head = marks.style(HEADS, Kind::Screw, doubts);
        let usage = marks.style(USES, Kind::Screw, doubts);
        if marks.has(Shoulder) {
            item.kind = Some(Kind::Bolt);
            item.style = Some(Style::Shoulder);
        } else if let Some(usage) = usage {
            item.style = Some(usage);
            if usage.is_use() {
                item.head = head;
            }
        } else if marks.any(&[Flange, Eye, Carriage])
            || (head == Some(Style::Hex) && !marks.has(Machine))
        {
            // A hex cap screw and a hex bolt are one item to a kit (common practice, no source).
            item.kind = Some(Kind::Bolt);
            item.style = marks.first(BOLTS);
        } else if marks.has(Machine)
            && matches!(head, Some(Style::Hex | Style::Square | Style::HexWasher))
        {
            item.style = Some(Style::Machine);
            item.head = head;
        } else if head.is_some() {
            item.style = head;
            let socket = marks.has(Socket) && matches!(head, Some(Style::Flat | Style::Button));
            if socket {
                item.drive = item.drive.or(Some(Drive::HexSocket));
            }
            // Button head cap screws have a socket (ASME B18.3).
            if head == Some(Style::Button) && item.drive == Some(Drive::HexSocket) {
                item.drive = None;
            }
        } else if marks.has(Machine) {
            item.style = Some(Style::Machine);
        } else if marks.has(Cap) {
            item.kind = Some(Kind::Bolt);
            doubts.push(Doubt::Said(
                "cap screw whose head is not stated: taken for a hex one".into(),
            ));
        }
    }

    fn nut(self, item: &mut Item, doubts: &mut Vec<Doubt>) {
        let mut marks = self.marks;
        item.kind = Some(Kind::Nut);
        // `nylon lock nut`
        if item.grade == Some(Grade::Nylon) && marks.any(&[Lock, Insert, NylonInsert]) {
            marks.add(NylonInsert);
            item.grade = None;
        }
        item.style = marks.style(NUTS, Kind::Nut, doubts);
        if item.drive == Some(Drive::Slotted) {
            item.drive = None;
            item.style = Some(Style::Castle);
        }
        if item.style.is_none() && !self.unknown {
            // Common practice, no source: other nuts are always called what they are.
            item.style = Some(Style::Hex);
        }
    }
}
