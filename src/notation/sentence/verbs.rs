//! Verbs of assembly guides, in any form.

/// Verbs by which guides put hardware to use, work on what it joins, or say what a thing takes, without their endings
/// (common practice, no source). What a sentence does by any other verb is not known.
#[rustfmt::skip]
const VERBS: &[&str] = &[
    "accept", "accommodate", "add", "adjust", "affix", "align", "allow", "anchor", "angle", "apply", "arrange",
    "assemble", "attach", "back", "balance", "be", "bear", "bed", "begin", "bend", "bolt", "bottom", "brace", "bring", "build",
    "butt", "calculate", "call", "can", "cap", "carry", "centre", "center", "check", "clamp", "clip", "close", "collect", "come",
    "complete", "connect", "consist", "continue", "could", "couple", "cover", "crimp", "cross", "cut", "depend",
    "dig", "do", "drill", "drive", "drop", "ease", "embed", "employ", "end", "engage", "ensure", "enter", "erect",
    "face", "fasten", "feed", "fill", "find", "finish", "fit", "fix", "fold", "follow", "form", "gather", "get", "give", "go",
    "grab", "grip", "guide", "hammer", "hand", "hang", "have", "head", "help", "hinge", "hoist", "hold", "hook", "include", "insert",
    "install", "join", "keep", "land", "lap", "lay", "lead", "lean", "leave", "let", "level", "lie", "lift", "line", "link",
    "locate", "lock", "look", "loop", "lower", "make", "mark", "marry", "match", "may", "meet", "might", "mount",
    "move", "must", "nail", "need", "nip", "offer", "open", "orient", "overlap", "overtighten", "pack", "pass", "pick", "pin", "pivot", "place",
    "plug", "plumb", "poke", "position", "pour", "prepare", "press", "prop", "pull", "push", "put", "raise", "reach", "ream",
    "receive", "refit", "reinstall", "replace", "require", "rest", "reuse", "rivet", "rotate", "run", "sandwich",
    "screw", "seat", "secure", "select", "set", "shall", "should", "sink", "sit", "slide", "slip", "slot", "snap", "snug", "space", "spin",
    "splice", "spread", "square", "stack", "stand", "start", "stay", "steady", "step", "stick", "stop", "stretch",
    "supply", "support", "suspend", "take", "tap", "tension", "thread", "through-bolt", "tie", "tighten", "tip", "top", "torque", "touch", "turn", "twist",
    "unite", "unpack", "use", "want", "will", "work", "wrap",
];

/// Forms that no ending tells, and their verbs.
#[rustfmt::skip]
const IRREGULAR: &[&str] = &[
    "am", "are", "been", "being", "bound", "brought", "built", "cut", "did", "does", "done", "driven", "fed", "given", "goes",
    "gone", "got", "gotten", "had", "has", "held", "hung", "is", "it's", "kept", "laid", "left", "let's", "made", "met", "put", "run",
    "set", "slid", "stood", "sunk", "taken", "that's", "there's", "they're", "was", "were", "won't", "would", "you'll", "you're",
    "you've",
];

/// True for a form of a known verb, in lower case.
pub(super) fn is_verb(word: &str) -> bool {
    let known = |stem: &str| VERBS.contains(&stem);
    let stem_of = |ending: &str| {
        word.strip_suffix(ending).is_some_and(|stem| {
            // `fitted`, `placing`, `carries`
            let doubled = stem.len() > 2
                && stem.as_bytes()[stem.len() - 1] == stem.as_bytes()[stem.len() - 2];
            known(stem)
                || (doubled && known(&stem[..stem.len() - 1]))
                || VERBS
                    .iter()
                    .any(|verb| verb.strip_suffix('e') == Some(stem))
                || stem.strip_suffix('i').is_some_and(|stem| {
                    VERBS
                        .iter()
                        .any(|verb| verb.strip_suffix('y') == Some(stem))
                })
        })
    };
    known(word)
        || IRREGULAR.contains(&word)
        || ["s", "es", "ed", "d", "ing"]
            .iter()
            .any(|ending| stem_of(ending))
}
