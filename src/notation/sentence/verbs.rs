//! Verbs of assembly guides, in any form.

/// Verbs by which guides put hardware to use, work on what it joins, or say what a thing takes, without their endings
/// (common practice, no source). What a sentence does by any other verb is not known.
#[rustfmt::skip]
const VERBS: &[&str] = &[
    "accept", "accommodate", "add", "adjust", "affix", "align", "allow", "anchor", "angle", "apply", "arrange",
    "assemble", "attach", "back", "balance", "be", "bear", "bed", "begin", "bend", "bolt", "bottom", "brace", "bridge", "bring", "build",
    "butt", "calculate", "call", "can", "cap", "carry", "centre", "center", "chamfer", "check", "clamp", "clip", "close", "coat", "collect", "come",
    "complete", "connect", "consist", "continue", "could", "countersink", "couple", "cover", "crimp", "cross", "cut", "depend",
    "dig", "distribute", "do", "draw", "drill", "drive", "drop", "ease", "embed", "employ", "end", "engage", "ensure", "enter", "erect",
    "face", "fasten", "feed", "fill", "find", "finish", "fit", "fix", "fold", "follow", "form", "gather", "get", "give", "go",
    "grab", "grease", "grip", "guide", "hammer", "hand", "hang", "have", "head", "help", "hinge", "hoist", "hold", "hook", "include", "insert",
    "install", "join", "keep", "land", "lap", "lay", "lead", "lean", "leave", "let", "level", "lie", "lift", "line", "link",
    "locate", "lock", "look", "loop", "lower", "make", "mark", "marry", "match", "may", "meet", "might", "mount",
    "move", "must", "nail", "need", "nip", "notch", "offer", "oil", "open", "orient", "overlap", "overtighten", "pack", "pass", "pick", "pin", "pivot", "place",
    "plug", "plumb", "poke", "position", "pour", "prepare", "press", "prop", "pull", "push", "put", "raise", "reach", "ream",
    "reattach", "receive", "refasten", "refit", "reinstall", "replace", "require", "rest", "reuse", "rivet", "rotate", "run", "sandwich",
    "screw", "seat", "secure", "select", "set", "shall", "should", "sink", "sit", "slide", "slip", "slot", "snap", "snug", "space", "spin",
    "splice", "spread", "stitch", "square", "stack", "stand", "start", "stay", "steady", "step", "stick", "stop", "stretch",
    "supply", "support", "suspend", "take", "tap", "tension", "thread", "through-bolt", "tie", "tighten", "tip", "top", "torque", "touch", "trim", "turn", "twist",
    "unite", "unpack", "use", "want", "wax", "will", "work", "wrap",
];

/// Forms that no ending tells, and their verbs.
#[rustfmt::skip]
const IRREGULAR: &[&str] = &[
    "am", "are", "been", "being", "bound", "brought", "built", "cut", "did", "does", "done", "driven", "fed", "given", "goes",
    "gone", "got", "gotten", "had", "has", "held", "hung", "is", "it's", "kept", "laid", "left", "let's", "made", "met", "put", "run",
    "set", "slid", "stood", "sunk", "taken", "that's", "there's", "they're", "was", "were", "won't", "would", "you'll", "you're",
    "you've",
];

/// The forms of the verbs, in lower case: `fits`, `fitted`, `placing`, `carries`.
pub(super) fn forms() -> impl Iterator<Item = String> {
    let regular = VERBS.iter().flat_map(|verb| {
        let last = &verb[verb.len() - 1..];
        let stem = verb.strip_suffix('e').unwrap_or(verb);
        let of_y = verb.strip_suffix('y').unwrap_or(verb);
        [
            (*verb).to_owned(),
            format!("{verb}s"),
            format!("{verb}es"),
            format!("{stem}ed"),
            format!("{stem}ing"),
            format!("{verb}{last}ed"),
            format!("{verb}{last}ing"),
            format!("{of_y}ies"),
            format!("{of_y}ied"),
        ]
    });
    regular.chain(IRREGULAR.iter().map(|form| (*form).to_owned()))
}
