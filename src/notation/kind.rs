//! Marks to meanings: which kind and style, and which finish, the words of one item add up to.

use super::words::{Mark, Noun, Sense};
use crate::{
    doubt::Doubt,
    hardware::{Drive, Finish, Grade, Item, Kind, Material, Style},
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
    pub const fn with(self, other: Marks) -> Marks {
        Marks(self.0 | other.0)
    }

    fn any(self, marks: &[Mark]) -> bool {
        marks.iter().any(|&mark| self.has(mark))
    }

    fn none(self) -> bool {
        self.0 == 0
    }

    pub fn is_only(self, mark: Mark) -> bool {
        self.0 == 1 << mark as u32
    }

    /// True where one is said of fasteners alone, so that a thing with a size may be one.
    pub fn are_of_fasteners(self) -> bool {
        self.any(OF_FASTENERS)
    }

    /// True for `all thread`.
    pub fn are_of_all_thread(self) -> bool {
        self.has(Mark::All) && self.has(Mark::Threaded)
    }

    /// True where all of some marks are there.
    fn has_all(self, marks: Marks) -> bool {
        self.0 & marks.0 == marks.0
    }

    fn without(self, marks: Marks) -> Marks {
        Marks(self.0 & !marks.0)
    }

    /// The first row whose marks are all there. Where others of the table are there besides, and no
    /// row has them all, the piece is two things at once: a doubt that names both.
    fn style(self, table: Styles, kind: Kind, doubts: &mut Vec<Doubt>) -> Option<Style> {
        let (marks, style) = table.row(self)?;
        // A general word beside a special one says nothing more, unless the two contradict.
        let contradicts = |(one, other): &(Marks, Marks)| match self.0 & one.0 {
            0 => Marks(0),
            _ => *other,
        };
        let refuted = CONTRADICTING.iter().map(contradicts);
        let refuted = refuted.fold(Marks(0), Marks::with);
        let rest = self.without(*marks).without(GENERAL.without(refuted));
        if rest.none() {
            return Some(*style);
        }
        let other = table
            .rows
            .iter()
            .find(|(marks, other)| other != style && rest.has_all(*marks));
        if let Some((_, other)) = other {
            let named = |style: &Style| format!("{style} {kind}").into();
            doubts.push(Doubt::Readings(vec![named(style), named(other)]));
        }
        Some(*style)
    }

    /// The finish of the first row; a doubt where another is named that is not of its making.
    fn finish(self, doubts: &mut Vec<Doubt>) -> Option<Finish> {
        let (marks, finish) = FINISHES.row(self)?;
        let of_zinc = self.any(&[Flake, Yellow, Dipped, Mechanical]);
        let same = if of_zinc { ZINC } else { Marks(0) };
        let rest = self.without(*marks).without(OVER).without(same);
        if let Some((_, other)) = FINISHES.row(rest) {
            doubts.push(Doubt::Readings(vec![
                finish.as_str().into(),
                other.as_str().into(),
            ]));
        }
        Some(*finish)
    }

    /// True for a mark that says nothing of a piece of that kind, so that another may be meant.
    pub fn leaves_idle(self, mark: Mark, kind: Kind) -> bool {
        let explained = match kind {
            Kind::Bolt => const { used(&[BOLTS], &[Anchor, Long, Thick]) },
            Kind::Screw => {
                const {
                    used(
                        &[USES, HEADS],
                        &[Flange, Eye, Carriage, Shoulder, Cup, Long, Thick],
                    )
                }
            }
            Kind::Nut => const { used(&[NUTS], &[Lock, Insert, Dowel, Tooth, Thick]) },
            Kind::Washer => const { used(&[WASHERS], &[Lock]) },
            Kind::Pin => const { used(&[PINS], &[Lock, Long, Thick]) },
            Kind::Rod => const { used(&[], &[Stud, Anchor, Long, Thick]) },
            Kind::Anchor => const { used(&[ANCHORS], &[Anchor, Stud, Long, Thick]) },
            Kind::Rivet => const { used(&[RIVETS, HEADS], &[Dome, Long, Thick]) },
            Kind::Part => return false,
        };
        let threaded = mark == All && self.has(Threaded);
        self.has(mark) && !explained.has(mark) && !mark.is_finish() && !threaded
    }

    /// What the first row says whose marks are all there.
    fn first<T: Copy>(self, table: Table<T>) -> Option<T> {
        table.row(self).map(|(_, value)| *value)
    }
}

/// Marks and what they add up to; the first row goes whose marks are all there.
#[derive(Clone, Copy)]
struct Table<T: 'static> {
    rows: &'static [(Marks, T)],
    /// The marks of all rows.
    marks: Marks,
}

impl<T> Table<T> {
    const fn of(rows: &'static [(Marks, T)]) -> Table<T> {
        let (mut marks, mut i) = (0, 0);
        while i < rows.len() {
            marks |= rows[i].0.0;
            i += 1;
        }
        Table {
            rows,
            marks: Marks(marks),
        }
    }

    fn row(self, marks: Marks) -> Option<&'static (Marks, T)> {
        // Most pieces have none of them.
        if marks.0 & self.marks.0 == 0 {
            return None;
        }
        self.rows.iter().find(|(all, _)| marks.has_all(*all))
    }
}

use Mark::*;

/// The marks of a row of a table.
const fn all(marks: &[Mark]) -> Marks {
    let (mut all, mut i) = (0, 0);
    while i < marks.len() {
        all |= 1 << marks[i] as u32;
        i += 1;
    }
    Marks(all)
}

/// The marks that stand in some tables, with others and those that go with any piece.
const fn used(tables: &[Styles], more: &[Mark]) -> Marks {
    let (mut marks, mut i) = (all(more).0 | GENERAL_TO_ALL.0, 0);
    while i < tables.len() {
        marks |= tables[i].marks.0;
        i += 1;
    }
    Marks(marks)
}

type Styles = Table<Style>;

/// Words that stand beside a special one without making another style of it: the hexagon of a flange
/// nut, the square neck of a carriage bolt, the socket of a button head, the round of a truss head.
const GENERAL: Marks = all(&[
    Hex, Heavy, Square, Lock, Flat, Socket, Low, Round, Cap, Sae, Uss, Insert, Machine, T, Tooth,
]);

/// Words of which one says what the other denies: no head is round and a hexagon, no washer flat and split.
const CONTRADICTING: &[(Marks, Marks)] = &[
    (
        all(&[
            Carriage, Elevator, Plow, Eye, U, J, Wing, Thumb, Barrel, Square, Pan, Truss, Oval,
            Fillister, Bugle, Wafer, Round,
        ]),
        all(&[Hex]),
    ),
    (all(&[Lock, Split, External, Internal]), all(&[Flat])),
    (all(&[Hex]), all(&[Square])),
];

/// Words that go with pieces of any kind; `l` is a length as well.
const GENERAL_TO_ALL: Marks = all(&[
    Hex, Heavy, Square, Flat, Socket, Round, Cap, Sae, Uss, Machine, T, L, Threaded, Heads,
]);

/// Said of fasteners alone (common practice, no source): angles are flat or square, tubes round.
const OF_FASTENERS: &[Mark] = &[
    Hex,
    Structural,
    Carriage,
    Coach,
    Lag,
    Socket,
    Button,
    Machine,
    Pan,
    Truss,
    Oval,
    Fillister,
    HexWasher,
    Heads,
    SelfDrilling,
    NylonInsert,
    Lock,
    Jam,
    Castle,
    Cotter,
    Threaded,
];

const BOLTS: Styles = Table::of(&[
    (all(&[Heavy, Hex]), Style::HeavyHex),
    (all(&[Structural]), Style::HeavyHex),
    (all(&[Carriage]), Style::Carriage),
    (all(&[Coach]), Style::Carriage),
    // The trade's older name: a cup head over a square neck.
    (all(&[Cup, Square]), Style::Carriage),
    (all(&[Cup, Heads]), Style::Carriage),
    (all(&[Flange]), Style::Flange),
    (all(&[Elevator]), Style::Elevator),
    (all(&[Plow]), Style::Plow),
    (all(&[Shoulder]), Style::Shoulder),
    (all(&[Toggle]), Style::Toggle),
    (all(&[Wing]), Style::Wing),
    (all(&[Eye]), Style::Eye),
    (all(&[U]), Style::U),
    (all(&[J]), Style::J),
    (all(&[L]), Style::L),
    (all(&[T]), Style::T),
    (all(&[Hammer]), Style::T),
    (all(&[Hex]), Style::Hex),
    (all(&[Square]), Style::Square),
]);

/// Screws named by their use; the head is told apart.
const USES: Styles = Table::of(&[
    (all(&[Lag]), Style::Lag),
    (all(&[Coach]), Style::Lag),
    (all(&[Set]), Style::Set),
    (all(&[SelfDrilling]), Style::SelfDrilling),
    (all(&[SheetMetal]), Style::SheetMetal),
    (all(&[Wood]), Style::Wood),
    (all(&[Deck]), Style::Deck),
    (all(&[Thumb]), Style::Thumb),
]);

const HEADS: Styles = Table::of(&[
    (all(&[HexWasher]), Style::HexWasher),
    (all(&[Low, Socket]), Style::LowSocket),
    (all(&[Button]), Style::Button),
    (all(&[Flat]), Style::Flat),
    (all(&[Pan]), Style::Pan),
    (all(&[Truss]), Style::Truss),
    (all(&[Oval]), Style::Oval),
    (all(&[Fillister]), Style::Fillister),
    (all(&[Bugle]), Style::Bugle),
    (all(&[Wafer]), Style::Wafer),
    (all(&[Round]), Style::Round),
    (all(&[Socket]), Style::Socket),
    (all(&[Hex]), Style::Hex),
    (all(&[Square]), Style::Square),
]);

const NUTS: Styles = Table::of(&[
    (all(&[NylonInsert, Flange]), Style::NylonInsertFlange),
    (all(&[NylonInsert, Jam]), Style::NylonInsertJam),
    (all(&[NylonInsert]), Style::NylonInsert),
    (all(&[ToothWasher]), Style::ToothWasher),
    (all(&[Lock, Flange]), Style::FlangeLock),
    (all(&[Serrated, Flange]), Style::FlangeLock),
    (all(&[AllMetal]), Style::AllMetalLock),
    (all(&[Lock]), Style::Lock),
    (all(&[Heavy, Jam]), Style::HeavyHexJam),
    (all(&[Jam]), Style::Jam),
    (all(&[Coupling]), Style::Coupling),
    // DIN 6334, hexagon nuts 3d high (title from memory): the trade's long nut.
    (all(&[Long]), Style::Coupling),
    (all(&[Flange]), Style::Flange),
    (all(&[Wing]), Style::Wing),
    (all(&[Cap]), Style::Cap),
    (all(&[Dome]), Style::Cap),
    (all(&[Castle]), Style::Castle),
    (all(&[Weld]), Style::Weld),
    (all(&[Barrel]), Style::Barrel),
    (all(&[Insert]), Style::Insert),
    (all(&[Thumb]), Style::Thumb),
    (all(&[Heavy]), Style::HeavyHex),
    (all(&[Structural]), Style::HeavyHex),
    (all(&[T]), Style::T),
    (all(&[Square]), Style::Square),
    (all(&[Hex]), Style::Hex),
]);

const WASHERS: Styles = Table::of(&[
    (all(&[External]), Style::ExternalTooth),
    (all(&[Internal]), Style::InternalTooth),
    // DIN 6797, toothed lock washers, form A external and form J internal (from memory).
    (all(&[Tooth]), Style::ToothLock),
    (all(&[Split]), Style::SplitLock),
    (all(&[Lock]), Style::SplitLock),
    // DIN 6340 and DIN 7349, washers of twice the usual thickness and more (from memory).
    (all(&[Thick]), Style::ExtraThick),
    (all(&[Fender]), Style::Fender),
    (all(&[Bevel]), Style::Bevel),
    (all(&[Plate]), Style::Plate),
    (all(&[Spherical]), Style::Spherical),
    // DIN 127 and ASME B18.21.1 (helical spring-lock washer) call the split one a spring washer.
    (all(&[Spring]), Style::SplitLock),
    (all(&[Sealing]), Style::Sealing),
    (all(&[Finishing]), Style::Finishing),
    (all(&[Sae]), Style::Sae),
    (all(&[Uss]), Style::Uss),
    (all(&[Square]), Style::Plate),
    (all(&[Flat]), Style::Flat),
]);

const PINS: Styles = Table::of(&[
    (all(&[Cotter]), Style::Cotter),
    (all(&[Split]), Style::Cotter),
    (all(&[Clevis]), Style::Clevis),
    (all(&[Hitch]), Style::Hitch),
    (all(&[Dowel]), Style::Dowel),
    (all(&[Roll]), Style::Roll),
    (all(&[Spring]), Style::Roll),
    (all(&[Taper]), Style::Taper),
    (all(&[Linch]), Style::Linch),
    (all(&[Detent]), Style::Detent),
]);

const ANCHORS: Styles = Table::of(&[
    (all(&[Wedge]), Style::Wedge),
    (all(&[Sleeve]), Style::Sleeve),
    (all(&[DropIn]), Style::DropIn),
    (all(&[ScrewIn]), Style::ScrewIn),
    (all(&[Adhesive]), Style::Adhesive),
    (all(&[Concrete]), Style::ScrewIn),
]);

const RIVETS: Styles = Table::of(&[(all(&[Blind]), Style::Blind), (all(&[Solid]), Style::Solid)]);

const FINISHES: Table<Finish> = Table::of(&[
    (all(&[Flake]), Finish::ZincFlake),
    (all(&[Yellow]), Finish::YellowZinc),
    (all(&[Dipped]), Finish::HotDip),
    (all(&[Mechanical]), Finish::MechanicalGalvanised),
    (all(&[Galvanised]), Finish::Galvanised),
    (all(&[Black, Zinc]), Finish::BlackZinc),
    (all(&[Black]), Finish::BlackOxide),
    (all(&[Zinc]), Finish::Zinc),
    (all(&[Oxide]), Finish::BlackOxide),
    (all(&[Phosphate]), Finish::Phosphate),
    (all(&[Nickel]), Finish::Nickel),
    (all(&[Chrome]), Finish::Chrome),
    (all(&[Cadmium]), Finish::Cadmium),
    (all(&[Painted]), Finish::Painted),
    (all(&[Powder]), Finish::PowderCoated),
    (all(&[Passivated]), Finish::Passivated),
    (all(&[Coated]), Finish::Coated),
    (all(&[Plain]), Finish::Plain),
]);

/// What goes over a finish, or tells of its colour; and words for what is made of zinc.
const OVER: Marks = all(&[
    Coated, Painted, Powder, Passivated, Chrome, Black, Oxide, Plain,
]);
const ZINC: Marks = all(&[Zinc, Galvanised]);

/// Marks that stand for the noun where none is stated.
const NAMES: Table<Noun> = Table::of(&[
    (all(&[Lag]), Noun::Screw),
    (all(&[Carriage]), Noun::Bolt),
    (all(&[Cup, Square]), Noun::Bolt),
    // Socket caps, button heads: no other piece is called by its head.
    (all(&[Socket, Cap]), Noun::Screw),
    (all(&[Button, Cap]), Noun::Screw),
    (all(&[Flat, Cap]), Noun::Screw),
    (all(&[All, Threaded]), Noun::Rod),
    (all(&[NylonInsert]), Noun::Nut),
]);

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
    /// True for a nut or a washer of which no word tells the style.
    pub fn is_plain(self) -> bool {
        !self.unknown && self.names_no_style()
    }

    /// True for a nut or a washer beside whose noun no known style stands.
    pub fn names_no_style(self) -> bool {
        let styles = match self.noun {
            Some(Noun::Nut) => const { used(&[NUTS], &[]) },
            Some(Noun::Washer) => const { used(&[WASHERS], &[]) },
            _ => return false,
        };
        // `full thread` tells none.
        self.marks.0 & styles.0 & !all(&[Threaded]).0 == 0
    }

    /// Takes over what its standard says of a piece: all, or the style beside a plain noun (`nut DIN
    /// 985`). Gives a doubt where its words say another thing.
    pub fn name_by(&mut self, standard: &[Sense]) -> Option<Doubt> {
        let mut named = Traits::default();
        for sense in standard {
            match *sense {
                Sense::Noun(noun) => named.noun = Some(noun),
                Sense::Mark(mark) => named.marks.add(mark),
                _ => {}
            }
        }
        let noun = named.noun?;
        let both = Traits {
            noun: Some(noun),
            marks: self.marks.with(named.marks),
            ..*self
        };
        let stated = self.noun.unwrap_or(noun);
        let read = |traits: Traits| {
            let (mut item, mut doubts) = (Item::default(), Vec::new());
            traits.read(true, &mut item, &mut doubts);
            let style = item.style.map(|style| format!("{style} "));
            let kind = item.kind.map_or("", Kind::as_str);
            (format!("{}{kind}", style.unwrap_or_default()), doubts.len())
        };
        let turns = |noun| matches!(noun, Noun::Bolt | Noun::Screw);
        let apart = |mark| {
            // The title of a lag screw's standard calls it a hexagon head wood screw.
            self.marks.has(mark) && !named.marks.has(mark) && !named.marks.has(Lag)
        };
        let agree = (stated == noun || turns(stated) && turns(noun))
            && read(named).0 == read(both).0
            && read(both).1 <= read(*self).1
            && ![Hex, Flat].into_iter().any(apart);
        if agree {
            *self = both;
            return None;
        }
        let readings = [read(*self).0, read(named).0];
        Some(Doubt::Readings(readings.map(Into::into).to_vec()))
    }

    /// Fills in kind, style, head, drive, grade and finish.
    ///
    /// `long`: the piece has a diameter and a length, so that a head says which it is.
    pub fn read(self, long: bool, item: &mut Item, doubts: &mut Vec<Doubt>) {
        let marks = self.marks;
        item.drive = self.drive;
        item.grade = self.grade;
        item.finish = marks.finish(doubts);
        // Zinc goes on steel alone (common practice, no source).
        if let (Some(grade), Some(finish)) = (self.grade, item.finish)
            && grade.material() != Material::Steel
            && finish.is_zinc()
        {
            doubts.push(Doubt::Readings(vec![
                grade.as_str().into(),
                finish.as_str().into(),
            ]));
        }
        // Socket screws are black from the oxide as they come (ASME B18.3).
        let of_sockets = marks.any(&[Socket, Button]);
        if item.finish == Some(Finish::BlackOxide) && !marks.has(Oxide) && !of_sockets {
            doubts.push(Doubt::Said("black taken for black oxide".into()));
        }
        let noun = self.noun.or_else(|| marks.first(NAMES));
        let heads = long && marks.has(Heads) && marks.first(HEADS).is_some();
        let noun = noun.or(heads.then_some(Noun::Screw));
        // A cross dowel is a barrel with a thread across it.
        let noun = match noun {
            None if marks.has(Dowel) && self.drive == Some(Drive::Phillips) => {
                item.drive = None;
                item.kind = Some(Kind::Nut);
                item.style = Some(Style::Barrel);
                return;
            }
            Some(Noun::Bolt | Noun::Rod) if marks.has(Anchor) && !marks.any(&[J, L]) => {
                Some(Noun::Anchor)
            }
            Some(Noun::Bolt) if marks.has(Stud) => Some(Noun::Stud),
            // Concrete screws are anchors that are screwed in.
            Some(Noun::Screw) if marks.has(Concrete) => Some(Noun::Anchor),
            noun => noun,
        };
        // `hex socket` is one word, and leaves no hexagon.
        if noun == Some(Noun::Bolt) && marks.has_all(all(&[Socket, Hex])) && !marks.has(Cap) {
            doubts.push(Doubt::Readings(vec![
                "socket screw".into(),
                "hex bolt".into(),
            ]));
        }
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
                item.style = marks.has(Threaded).then_some(Style::Threaded);
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
            None if long && marks.first(HEADS).is_some() => {
                self.screw(item, doubts);
                if self.unknown {
                    let kind = item.kind.map_or("", Kind::as_str);
                    let doubt = format!("a head, and no word of what: taken for a {kind}");
                    doubts.push(Doubt::Said(doubt.into()));
                }
            }
            None => item.style = marks.first(HEADS),
        }
    }

    fn screw(self, item: &mut Item, doubts: &mut Vec<Doubt>) {
        let marks = self.marks;
        item.kind = Some(Kind::Screw);
        let mut head = marks.style(HEADS, Kind::Screw, doubts);
        let usage = marks.style(USES, Kind::Screw, doubts);
        // ISO 4017 calls a hex bolt that is threaded to the head a screw, and some lists a set screw.
        if usage == Some(Style::Set) && marks.has(Hex) && !marks.has(Socket) {
            doubts.push(Doubt::Readings(vec![
                "set screw with a hex socket".into(),
                "hex bolt threaded to the head".into(),
            ]));
        }
        // Set screws have no head.
        if usage == Some(Style::Set)
            && marks.any(&[Pan, Button, Truss, Round, Oval, Fillister, Machine, Cap])
        {
            doubts.push(Doubt::Said(
                "a set screw with a head: \"set\" may mean a set of pieces".into(),
            ));
        }
        // A structural cap screw is a bolt of ASTM F3125, another structural screw one for framing.
        let framing = marks.has(Structural) && !marks.has(Cap);
        if framing && head == Some(Style::Hex) {
            head = None;
            doubts.push(Doubt::Said(
                "structural screw with a hex head: may be a structural bolt".into(),
            ));
        }
        if marks.has(Shoulder) {
            item.kind = Some(Kind::Bolt);
            item.style = Some(Style::Shoulder);
        } else if let Some(usage) = usage {
            item.style = Some(usage);
            // A lag screw has a hex head unless another is named (common practice, no source).
            let usual = usage == Style::Lag && head == Some(Style::Hex);
            if usage.is_use() && !usual {
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
            doubts.push(Doubt::Said("cap screw whose head is not stated".into()));
        }
    }

    fn nut(self, item: &mut Item, doubts: &mut Vec<Doubt>) {
        let mut marks = self.marks;
        item.kind = Some(Kind::Nut);
        // The cross of `barrel nuts / cross dowels`.
        item.drive = item.drive.filter(|_| !self.marks.has(Dowel));
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
            // Common practice, no source: other nuts are always called what they are. A plain nut is no lock nut.
            item.style = Some(Style::Hex);
            item.finish = item.finish.filter(|&finish| finish != Finish::Plain);
        }
    }
}
