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

/// Verbs by which things are joined to each other, at the beginning of a sentence or within it.
pub(super) const JOINING: &[&str] = &[
    "Connect ", "connect ", "Join ", "join ", "Link ", "link ", "Couple ", "couple ",
];

/// Words by which what stands before is taken back.
pub(super) const CORRECTS: &[&str] = &["no", "sorry", "wait", "correction", "rather", "scratch"];

/// Words between those and the count that is right.
pub(super) const CORRECTING: &[&str] = &[
    ",", "no", "sorry", "make", "that", "it", "should", "be", "i", "mean",
];

/// Fasteners that are none of the trade's nouns here.
pub(super) const OTHER_FASTENERS: &[&str] =
    &["nail", "nails", "brads", "staples", "tacks", "dowels"];

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
    "days", "coats", "drops", "dabs", "beads", "heads", "ways", "passes", "wrenches", "spanners", "holes", "slots", "altogether", "total",
];

/// Words for one more, behind `a`, where no thing follows: `a second at the bottom`.
pub(super) const ORDINALS: &[&str] = &[
    "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
];

/// Words in front of a count by which it is so many more.
pub(super) const MORE: &[&str] = &["another", "plus", "then", "further", "additional"];

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

/// Words behind a length that measures.
pub(super) const LONG: &[&str] = &["long", "high", "wide", "tall", "deep", "thick", "square"];

/// What sort of bolt it is: `every eye bolt`.
#[rustfmt::skip]
pub(super) const BOLT_SORTS: &[&str] = &[
    "eye", "hex", "carriage", "coach", "lag", "anchor", "threaded", "machine", "wood", "deck", "cap", "socket",
];

/// Words in front of a number that counts but some of the things: `the other two posts`.
#[rustfmt::skip]
pub(super) const PARTLY: &[&str] = &[
    "other", "last", "first", "next", "remaining", "more", "another", "to", "or", "by", "x", "about",
    "around", "than", "no", "number", "step", "steps", "stage", "section", "page", "figure", "fig",
    "bag", "box", "every", "post", "rail", "item",
];

/// Words that end like a plural and are none.
#[rustfmt::skip]
pub(super) const LIKE_PLURALS: &[&str] = &[
    "its", "this", "has", "was", "plus", "always", "takes", "gets", "needs", "goes", "holds", "runs",
    "gives", "makes", "hangs", "sits", "lies", "rests", "stands", "carries", "requires", "wants",
    "receives", "hours", "days", "minutes", "turns", "times", "persons", "hands", "coats", "passes",
];

/// Verbs of what each of a thing has: `every frame has four corners`.
#[rustfmt::skip]
pub(super) const HAVING: &[&str] = &[
    "has", "have", "having", "gets", "get", "takes", "take", "needs", "carries", "with", "bears", "holds",
];

/// What a list may be of, each: `In each bag you find:`.
#[rustfmt::skip]
pub(super) const OF_LISTS: &[&str] = &[
    "kit", "set", "box", "bag", "pack", "carton", "crate", "step", "stage", "section", "part", "page",
    "person", "team", "job", "size", "item",
];

/// Verbs of what one thing has: `The bracket takes two screws.`
#[rustfmt::skip]
pub(super) const TAKING: &[&str] = &[
    "takes", "gets", "needs", "wants", "requires", "receives", "carries", "has",
];

/// Words beside a number in brackets that tells how many of a thing there are: `(the kit makes two)`.
#[rustfmt::skip]
pub(super) const TELLING: &[&str] = &[
    "there", "are", "the", "kit", "has", "makes", "you", "make", "build", "of", "them", "in", "all",
    "total", "off", "pcs", "pieces", "places", "it", "we", "no", "required", "needed",
];
