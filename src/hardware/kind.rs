//! Kinds and styles of hardware, what turns it, and how it is pointed.

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
        HexWasher = "hex washer",
        Bugle = "bugle",
        Wafer = "wafer",
        // nuts (hex, heavy hex, flange, square, T, wing share names with the above)
        NylonInsert = "nylon-insert lock",
        NylonInsertFlange = "nylon-insert flange lock",
        NylonInsertJam = "nylon-insert jam lock",
        FlangeLock = "flange lock",
        AllMetalLock = "all-metal lock",
        Lock = "lock",
        HeavyHexJam = "heavy hex jam",
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
        ToothLock = "tooth lock",
        ExternalTooth = "external-tooth lock",
        InternalTooth = "internal-tooth lock",
        ExtraThick = "extra-thick",
        Fender = "fender",
        Bevel = "bevel",
        Plate = "plate",
        Spherical = "spherical",
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

names! {
    /// What turns a screw.
    pub enum Drive {
        /// Cross recess type I of ASME B18.6.3, type H of ISO 4757.
        Phillips = "Phillips",
        Slotted = "slotted",
        Square = "square",
        HexSocket = "hex socket",
        /// Hexalobular of ISO 10664.
        SixLobe = "six-lobe",
    }
}

names! {
    /// The point of a set screw, ASME B18.3.
    pub enum Point {
        Cup = "cup",
        Cone = "cone",
        Flat = "flat",
        Oval = "oval",
        Dog = "dog",
        HalfDog = "half dog",
    }
}

impl Kind {
    /// True for what goes through the parts of a joint.
    pub const fn is_long(self) -> bool {
        matches!(self, Kind::Bolt | Kind::Screw | Kind::Rod | Kind::Anchor)
    }

    /// True for what goes on something long.
    pub const fn is_small(self) -> bool {
        matches!(self, Kind::Nut | Kind::Washer | Kind::Pin)
    }

    /// The styles that a kind comes in.
    pub const fn styles(self) -> &'static [Style] {
        use Style::*;
        match self {
            Kind::Bolt => &[
                Hex, HeavyHex, Carriage, Square, Flange, Eye, U, J, L, T, Elevator, Plow, Shoulder,
                Toggle,
            ],
            Kind::Screw => &[
                Socket,
                Button,
                Flat,
                LowSocket,
                Machine,
                Pan,
                Round,
                Oval,
                Truss,
                Fillister,
                Wood,
                Lag,
                Set,
                SelfDrilling,
                SheetMetal,
                Deck,
                Thumb,
                HexWasher,
                Bugle,
                Wafer,
            ],
            Kind::Nut => &[
                Hex,
                HeavyHex,
                Flange,
                Square,
                T,
                Wing,
                NylonInsert,
                NylonInsertFlange,
                NylonInsertJam,
                FlangeLock,
                AllMetalLock,
                Lock,
                HeavyHexJam,
                Jam,
                Cap,
                Castle,
                Coupling,
                ToothWasher,
                Weld,
                Barrel,
                Insert,
                Thumb,
            ],
            Kind::Washer => &[
                Flat,
                Sae,
                Uss,
                SplitLock,
                ToothLock,
                ExternalTooth,
                InternalTooth,
                ExtraThick,
                Fender,
                Bevel,
                Plate,
                Spherical,
                Sealing,
                Finishing,
            ],
            Kind::Pin => &[Cotter, Clevis, Hitch, Dowel, Roll, Taper, Linch, Detent],
            Kind::Rod => &[Threaded, Stud],
            Kind::Anchor => &[Wedge, Sleeve, DropIn, ScrewIn, Adhesive],
            Kind::Rivet => &[Blind, Solid],
            Kind::Part => &[],
        }
    }
}

impl Style {
    /// The heads that a screw whose style is its use may have besides.
    pub const HEADS: &'static [Style] = &[
        Style::Hex,
        Style::HexWasher,
        Style::Square,
        Style::Flat,
        Style::Pan,
        Style::Round,
        Style::Oval,
        Style::Truss,
        Style::Fillister,
        Style::Button,
        Style::Socket,
        Style::Bugle,
        Style::Wafer,
    ];

    /// True for a screw that is named by its use, so that its head is told apart from its style.
    pub const fn is_use(self) -> bool {
        matches!(
            self,
            Style::Machine
                | Style::Wood
                | Style::Lag
                | Style::SelfDrilling
                | Style::SheetMetal
                | Style::Deck
        )
    }

    /// True for a bolt that is bent, or made to turn behind a wall: another piece, which `bolt` alone never
    /// means. Common practice, no source.
    pub const fn is_bent(self) -> bool {
        matches!(
            self,
            Style::Eye | Style::U | Style::J | Style::L | Style::T | Style::Toggle
        )
    }

    /// True where one piece of a kind can bear both names: the same style, or a general name and a
    /// kind of it (`flat` and `SAE flat` washers, `lock` and `nylon-insert lock` nuts).
    pub fn agrees(self, other: Style) -> bool {
        let of = |general: Style, special: Style| match general {
            Style::Flat => matches!(special, Style::Sae | Style::Uss),
            Style::Lock => matches!(special, Style::NylonInsert | Style::AllMetalLock),
            Style::ToothLock => matches!(special, Style::ExternalTooth | Style::InternalTooth),
            Style::FlangeLock => matches!(special, Style::NylonInsertFlange),
            Style::Machine => matches!(
                special,
                Style::Pan
                    | Style::Round
                    | Style::Oval
                    | Style::Truss
                    | Style::Fillister
                    | Style::Flat
            ),
            _ => false,
        };
        self == other || of(self, other) || of(other, self)
    }
}
