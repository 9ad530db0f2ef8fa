//! An item: what a line asks for, once normalised.

use super::{
    grade::{Finish, Grade},
    size::{Diameter, Length},
    thread::Thread,
};
use crate::names::names;

names! {
    /// What sort of thing an item is. The names are those of the JSON promise.
    pub enum Kind {
        Bolt = "bolt",
        Screw = "screw",
        Nut = "nut",
        Washer = "washer",
        Pin = "pin",
        Rod = "rod",
        Anchor = "anchor",
        Rivet = "rivet",
        /// Anything that is not hardware, known by part number or description.
        Part = "part",
    }
}

names! {
    /// The style of a kind: which bolt, which nut.
    pub enum Style {
        // bolts
        Hex = "hex",
        HeavyHex = "heavy hex",
        Carriage = "carriage",
        Square = "square",
        Flange = "flange",
        Eye = "eye",
        U = "U",
        J = "J",
        L = "L",
        T = "T",
        Elevator = "elevator",
        Plow = "plow",
        Shoulder = "shoulder",
        Toggle = "toggle",
        // screws
        Socket = "socket",
        Button = "button",
        Flat = "flat",
        LowSocket = "low socket",
        Machine = "machine",
        Pan = "pan",
        Round = "round",
        Oval = "oval",
        Truss = "truss",
        Fillister = "fillister",
        Wood = "wood",
        Lag = "lag",
        Set = "set",
        SelfDrilling = "self-drilling",
        SheetMetal = "sheet metal",
        Deck = "deck",
        Thumb = "thumb",
        // nuts (hex, heavy hex, flange, square, T, wing share names with the above)
        NylonInsert = "nylon-insert lock",
        Lock = "lock",
        Jam = "jam",
        Wing = "wing",
        Cap = "cap",
        Castle = "castle",
        Coupling = "coupling",
        ToothWasher = "tooth-washer",
        Weld = "weld",
        Barrel = "barrel",
        Insert = "insert",
        // washers (flat shares its name with the flat head)
        Sae = "SAE flat",
        Uss = "USS flat",
        SplitLock = "split lock",
        ExternalTooth = "external-tooth lock",
        InternalTooth = "internal-tooth lock",
        Fender = "fender",
        Bevel = "bevel",
        Plate = "plate",
        Spherical = "spherical",
        Spring = "spring",
        Sealing = "sealing",
        Finishing = "finishing",
        // pins
        Cotter = "cotter",
        Clevis = "clevis",
        Hitch = "hitch",
        Dowel = "dowel",
        Roll = "roll",
        Taper = "taper",
        Linch = "linch",
        Detent = "detent",
        // rods
        Threaded = "threaded",
        Stud = "stud",
        // anchors
        Wedge = "wedge",
        Sleeve = "sleeve",
        DropIn = "drop-in",
        ScrewIn = "screw-in",
        Adhesive = "adhesive",
        // rivets
        Blind = "blind",
        Solid = "solid",
    }
}

/// What a part is known by; at least one of the two is there.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct PartName {
    /// The maker's number, as written, trimmed, in upper case.
    pub number: Option<Box<str>>,
    /// The description, white space folded, in lower case.
    pub description: Option<Box<str>>,
}

/// What a line asks for. `None` means that the line does not state it.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Item {
    /// `None` for a fastener whose kind is not stated (`1/2 x 3-3/4` alone).
    pub kind: Option<Kind>,
    pub style: Option<Style>,
    pub diameter: Option<Diameter>,
    pub thread: Option<Thread>,
    pub length: Option<Length>,
    /// Outside diameter of a washer, where it is stated (`1/4 x 1-1/4 fender washer`).
    pub outside: Option<Length>,
    pub grade: Option<Grade>,
    pub finish: Option<Finish>,
    /// Threaded to the head (`true`), partly (`false`), or not stated.
    pub full_thread: Option<bool>,
    /// For [`Kind::Part`] only.
    pub part: Option<Box<PartName>>,
}

impl Item {
    /// The one canonical text of an item, for people: `1/2-13 x 3-3/4 hex bolt, Grade 5, zinc plated`.
    /// Reads back as the same item.
    pub fn text(&self) -> String {
        todo!()
    }

    /// A short id that depends on nothing but the item: the same in every run and on every machine.
    pub fn id(&self) -> String {
        todo!()
    }
}
