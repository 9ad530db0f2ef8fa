//! Sentences that repeat what stands before them: `Repeat for the other side.`

use std::sync::LazyLock;

use regex::Regex;

use super::{
    counted::COUNTED,
    rule::Rule,
    wording::{NUMBER, number},
    words::Words,
};
use crate::words::pattern;

pub(super) static REPEAT: Rule = Rule::new(
    "repeat|as|same|likewise|similarly|so|mirror|before|times|twice|alike|identical|do|ditto|again|now|then|other",
    "",
    || {
        pattern(
            r"(?i)\b(?:repeat(?:ed)?|(?:the )?same again|do (?:exactly |just )?the same|the same (?:way|manner)|likewise|similarly|so (?:do|does|is|are)|mirrored|mirror (?:this|that|it)|as before|(?:takes?|gets?|needs?|has|have|wants?|requires?|use|fit|add|put|install|insert|drive) the same|the same (?:number|amount|quantity|hardware|fasteners|fixings)|same steps|the same (?:\w+,? ){1,5}(?:is|are|go|goes) (?:used|fitted|needed|required|on|in|at)|as (?:on|at|for|in) the (?:left|right|other|first|near|far|front|back|north|south|east|west|previous|last|opposite|top|bottom)|do (?:this|that|it|so)\b.*\b(?:times|twice)|(?:is|are) (?:\w+ )?(?:the same|alike|identical))\b|[,;] (?:and )?(?:at|on|in|for) [\w; ]+ the same\W*$|^\W*(?:the )?same (?:as|for|on|at|in)\b|^\W*(?:now |then |next )?do the (?:other|next|opposite|remaining|rest|left|right|near|far|front|rear|back)\b|^\W*(?:ditto|mirror)\b|^\W*(?:and )?again (?:on|at|for|in)\b|\bas above\b|\b(?:side|end)s? (?:is |are )?the same\W*$|^\W*(?:now|then|next) (?:for )?the (?:other|opposite|left|right|near|far) (?:\w+ )?\w+\W*$",
        )
    },
);

/// Behind items, what asks for them once more: `and the same on the right`, `, ditto into the foot`.
pub(super) static ONCE_MORE: Rule = Rule::new("same|equal|many|ditto|likewise|again", "", || {
    let place = r"(?:at|on|for|in|into|to|onto|through|under|over|along|the)\s";
    pattern(&format!(
        r"(?ix)(?: \band | [,;] ) \s (?: (?:and|then|also) \s )*
            (?: (?:exactly|just) \s )? (?: (?: the \s )? same (?: \s (?:again|number|amount|quantity|count|hardware|fixings|fasteners) )?
              | an \s equal \s (?:number|amount|quantity|count) | as \s many (?: \s (?:again|more) )? | ditto | likewise | again )
            (?: [\s,]+ {place} | \s* [.;]? \s* $ )"
    ))
});

/// A repetition of another stage: `Repeat steps 1 to 3`, `the same as in stage 2`.
pub(super) static REPEATS_STAGE: Rule = Rule::new("repeat", "stage|step|section", || {
    pattern(
        r"(?ix) ^\W* (?: now \s | then \s )? repeat \s (?: no\.? \s* )? (?P<step> \d+ [a-z]? ) \b (?: \s (?: for | on | at ) \b | \W* $ )
            | \b (?: repeat(?:ed)? | do | same \s (?:again \s)? as (?: \s in )? | as \s (?: in | for ) ) \s (?: all \s of \s )? (?: the \s )?
            (?: stage | step | section ) s? \s (?P<stage> \d+ [a-z]? (?: \s? (?: , | and | & | to | through | thru | - | – ) \s? \d+ [a-z]? )* ) \b",
    )
});

/// `Do this four times`: so often in all.
pub(super) static IN_ALL: LazyLock<Regex> = LazyLock::new(|| {
    pattern(&format!(
        r"(?i)\b(?P<verb>do|repeat)\b.*?\b(?:(?P<n>{NUMBER})\s+(?P<more>more\s+)?times|(?P<twice>twice)(?:\s(?P<again>more))?)\b"
    ))
});

pub(super) static OTHERS: LazyLock<Regex> = LazyLock::new(|| {
    pattern(&format!(
        r"(?i)(?P<of>\b(?:from|with|using)\s+(?:the\s+)?)?\b(?:(?:other|remaining|next|last)\s+(?P<n>{NUMBER})|(?P<m>{NUMBER})\s+(?:other|others|more))\b"
    ))
});

/// `from the other two legs`: what it is made of; `for the other three`: so many more.
pub(super) fn others(text: &str) -> Option<u32> {
    OTHERS
        .captures_iter(text)
        .find(|found| found.name("of").is_none())
        .and_then(|found| number(found.name("n").or(found.name("m"))?.as_str()))
}

/// `Do this four times`: how much more often.
pub(super) fn more_times(text: &str) -> Option<u32> {
    IN_ALL.captures(text).and_then(|found| {
        let times = match found.name("n") {
            Some(n) => number(n.as_str())?,
            None => 2,
        };
        let more = found.name("more").or_else(|| found.name("again"));
        let first = found["verb"].eq_ignore_ascii_case("do") && more.is_none();
        Some(times - u32::from(first))
    })
}

/// How often a sentence repeats what stood before it.
pub(super) fn repeats(words: &Words, text: &str, named: Option<u32>) -> u32 {
    let in_all = || more_times(text);
    named
        .or_else(|| others(text))
        .or_else(in_all)
        .unwrap_or_else(|| {
            let both = COUNTED
                .captures(words, text)
                .and_then(|found| found.name("both").map(|_| 2));
            both.unwrap_or(1)
        })
}
