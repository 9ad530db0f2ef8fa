//! Plain words of sentences, by what they tell of the items beside them.

/// Words that a noun of the trade may stand in front of without being the thing meant.
#[rustfmt::skip]
pub(super) const COMPOUNDS: &[&str] = &[
    "hole", "head", "end", "pattern", "bracket", "circle", "line", "side", "thread", "shank", "spacing",
    "driver", "group", "plate", "face", "position", "location", "centre", "center", "tip", "row",
    "length", "point",
];

/// Words in front of an item that is there already.
#[rustfmt::skip]
pub(super) const IS_THERE: &[&str] = &[
    "the", "these", "those", "all", "both", "its", "their", "remaining", "other", "last", "any", "no", "every",
];

/// Words in front of `the bolts` by which the bolts are there: a place, or something to work on.
#[rustfmt::skip]
pub(super) const PLACED: &[&str] = &[
    "over", "onto", "on", "around", "behind", "under", "beneath", "between", "of", "to", "from",
    "through", "past", "against", "beside", "near", "into", "in", "at", "above", "below", "along",
    "off", "tighten", "retighten", "re-tighten", "torque", "re-torque", "loosen", "slacken", "snug",
    "check", "turn", "leave", "hand-tighten", "finger-tighten",
];

/// Words in front of `the bolts` by which these are put to use.
#[rustfmt::skip]
pub(super) const PUTS: &[&str] = &[
    "with", "using", "use", "by", "fit", "insert", "install", "add", "put", "place", "drive",
];

/// Words that open what goes on behind a thing: `both rails with`.
pub(super) const CLAUSES: &[&str] = &[
    "with", "and", "or", "using", "of", "from", "by", "is", "are", "has", "have", "get", "gets",
    "take", "takes", "go", "goes", "need", "needs", "then", "so", "that", "which",
];

/// Words of which one stands behind a verb that is a noun of the trade: `Bolt sill S1 to the footing`.
pub(super) const JOINS: &[&str] = &[
    " to ",
    " onto ",
    " into ",
    " with ",
    " together",
    " in place",
    " down ",
];

/// Words by which what stands before is taken back.
pub(super) const CORRECTS: &[&str] = &["no", "sorry", "wait", "correction", "rather", "scratch"];

/// Words between those and the count that is right.
pub(super) const CORRECTING: &[&str] = &[
    ",", "no", "sorry", "make", "that", "it", "should", "be", "i", "mean",
];

/// Fasteners that are none of the trade's nouns here.
pub(super) const OTHER_FASTENERS: &[&str] = &["nail", "nails", "brads", "staples", "tacks"];

/// Of those, verbs by which pieces go in for the first time.
#[rustfmt::skip]
pub(super) const DRIVES: &[&str] = &[
    "fit", "insert", "install", "add", "drive", "screw", "push", "slide", "run", "tap", "drop", "feed",
    "press", "clip", "snap", "hook", "hang",
];

/// Words behind an item by which it was there before.
#[rustfmt::skip]
pub(super) const REFERRING: &[&str] = &[
    "step", "stage", "section", "earlier", "before", "previously", "previous", "already", "again", "that",
    "which", "you", "removed", "taken", "kept", "saved", "left", "loosened", "same",
];

/// Words in front of a name by which it is a place.
#[rustfmt::skip]
pub(super) const PLACING: &[&str] = &[
    "at", "on", "to", "onto", "for", "in", "into", "through", "under", "over", "along",
];

/// Counted, and no places for hardware.
#[rustfmt::skip]
pub(super) const NO_PLACES: &[&str] = &[
    "or", "people", "persons", "hands", "helpers", "men", "women", "turns", "times", "minutes", "hours",
    "days", "coats", "ways", "passes", "wrenches", "spanners", "holes", "slots",
];

/// Words behind an `in` that is no inch: `two in the middle`.
#[rustfmt::skip]
pub(in crate::notation) const ARTICLES: &[&str] = &[
    "the", "a", "an", "each", "every", "both", "all", "this", "that", "these", "those", "its", "their",
    "place", "total", "one",
];

/// Words behind a verb.
#[rustfmt::skip]
pub(super) const DETERMINERS: &[&str] = &[
    "the", "each", "both", "every", "it", "them", "this", "these", "those", "a", "an", "all", "its",
    "one", "two", "three", "four", "together",
];

/// Words behind a verb that opens its clause: `Screw down`.
#[rustfmt::skip]
pub(super) const PARTICLES: &[&str] = &[
    "down", "on", "up", "in", "through", "into", "onto", "back", "to",
];

/// A length in front of these is a distance.
#[rustfmt::skip]
pub(super) const DISTANCES: &[&str] = &[
    "apart", "from", "above", "below", "deep", "away", "off", "out", "up", "down", "back", "inside",
    "outside", "past", "clear",
];
