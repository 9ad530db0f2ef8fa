//! What people say about a line of a list: who asks for it and when, which line of the order it is,
//! courtesies, when it comes. None of it bears on the item or on how many.

use std::{borrow::Cow, sync::LazyLock};

use regex::Regex;

use crate::words::pattern;

/// Words of talk in front of a count (common practice, no source).
#[rustfmt::skip]
const TALK: &[&str] = &[
    "and", "then", "also", "please", "pls", "plz", "send", "sending", "need", "needs", "we", "we're",
    "i", "i'd", "you", "u", "hi", "hiya", "hello", "hey", "okay", "ok", "yes", "yep", "so", "um", "uh", "er",
    "well", "are", "is", "there", "were", "will", "can", "could", "would", "want", "get", "got", "have", "order",
    "me", "us", "plus", "next", "add", "bring", "supply", "ship", "like", "another", "just", "still", "fyi",
    "oh", "make", "it", "that", "found", "all",
    "confirm", "confirmed", "ack", "ack'd", "counted", "tot",
];

/// A line without the talk about it: `and then eight nuts`, `[14:02] Pia: 36 washers, thanks`, `Item 12
/// hex nut M12, 50 EA`, `For the gate, 2 hinges`. `None` where there is none.
pub fn without_talk(text: &str) -> Option<Cow<'_, str>> {
    let mut rest = text;
    loop {
        let shorter = without_place(without_words(without_label(rest)));
        let shorter = torque_and_rest(shorter).unwrap_or(shorter);
        if shorter.len() == rest.len() {
            break;
        }
        rest = shorter;
    }
    let rest = without_lead_to_count(without_ending(rest));
    (rest.len() < text.len()).then_some(rest)
}

/// Without a mark or label in front that says who wrote it, when, or which line of a list it is.
fn without_label(text: &str) -> &str {
    static LABEL: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)^ (?: > \s* | \+ \s+ | @ \p{Alphabetic}+ \s+
                | (?: re | fwd? | aw | wg ) : \s+
                | \[? (?: \d{1,4} [./-] \d{1,2} [./-] \d{1,4} ,? \s+ )? \d{1,2}:\d\d (?: :\d\d )? \]? [\s–—-]+
                  (?: \p{Alphabetic}+ : \s+ )?
                | \p{Alphabetic}+ (?: , \s* \d{1,2}:\d\d | \s* [(\[] \d{1,2}:\d\d [)\]] ) [\s:–—-]+
                | (?: (?: your | our | po ) \s+ )?
                  (?: (?: item | line | ln | pos(?:ition)? ) \.? \s* (?: no\.? | \# )? \s* \d [\w-]*
                    | (?: comp(?:onent)? | mat(?:l|erial)? ) \.? \s+ \d{4,} ) \s* (?: [:.)|/*] | - ) \s+
                | [ivx]{2,4} [.)] \s+ )",
        )
    });
    // A place in a list, by its padded number or its name; a count, a maker's number or a word follows.
    static PLACE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)^ (?: (?P<padded> 0 \d{1,4} \s+ ) \d
            | (?P<named> (?: item | line | ln | pos(?:ition)? | po \s line ) \s+ \d{1,4} \s+ ) [a-z] {3,} )",
        )
    });
    let place = PLACE.captures(text);
    let end = match &place {
        Some(place) => place.name("padded").or_else(|| place.name("named")),
        None => LABEL.find(text),
    };
    end.map_or(text, |label| &text[label.end()..])
}

/// Without the words of talk in front.
fn without_words(text: &str) -> &str {
    let talks = |word: &str| {
        let word = word.trim_end_matches([',', ':', '-', '.']).to_lowercase();
        TALK.contains(&word.as_str()) || word.is_empty()
    };
    let mut rest = text;
    while let Some((word, behind)) = rest.split_once(' ')
        && talks(word)
    {
        rest = behind.trim_start();
    }
    rest
}

/// True where a text begins with letters, in any case.
fn begins(text: &str, with: &str) -> bool {
    text.get(..with.len())
        .is_some_and(|start| start.eq_ignore_ascii_case(with))
}

/// Without the words that say where it goes: `for the gate, 2 hinges`.
fn without_place(text: &str) -> &str {
    let place = ["for ", "at ", "on "].iter().any(|word| begins(text, word));
    let behind = place.then(|| text.split_once(", ")).flatten();
    behind.map_or(text, |(_, behind)| behind.trim_start())
}

/// What stands behind a torque that leads a line: `torque to 45 ft-lb, 6 M8 nuts`.
pub fn torque_and_rest(text: &str) -> Option<&str> {
    static TORQUE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix)^ (?: torque d? | tighten (?:ed)? ) (?: \s+ (?: it | them | all ) )? \s* (?: to | : )? \s* \d [\d.\s\u{2013}-]*
                (?: (?: ft | foot | in | inch ) \W? \s? (?: lbs? | pounds? ) f? | lbf? s? \W? (?: ft | in )
                  | n \W? \s? m | newton \s met(?:er|re)s ) \b \.? [\s,;:\u{2013}-]+",
        )
    });
    if !(begins(text, "torque") || begins(text, "tighten")) {
        return None;
    }
    let found = TORQUE.find(text)?;
    let rest = &text[found.end()..];
    (!rest.is_empty()).then_some(rest)
}

/// Without the courtesies and the date of delivery behind it.
fn without_ending(text: &str) -> &str {
    static ENDING: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) (?: [\s,;/·–—-]+ (?:
                  please | pls | plz | thanks | thank \s you | thx | cheers | period | full \s stop | here | then
                | all \s told | in \s all | altogether | (?: of \s )? those | in \s that \s one | ex \s stock
                | (?: confirmed , \s )? no \s change | confirmed | as \s (?: ordered | agreed | discussed )
                | (?: del | delivery | due | ready | eta | ship (?: ping )? \s date ) \b [\s:.]* (?: (?: week | wk | on | by ) \s+ )?
                  \d [\d./-]* (?: \s+ (?: jan | feb | mar | apr | may | jun | jul | aug | sep | oct | nov | dec ) [a-z]* )?
                | [\u{1F300}-\u{1FAFF}\u{2600}-\u{27BF}]+
            ) )+ [\s.!]* $",
        )
    });
    ENDING
        .find(text)
        .map_or(text, |ending| &text[..ending.start()])
}

/// Without the words that lead to a count at the end: `lag screws 3/8 x 5; need 10`, `..., there are ten`.
fn without_lead_to_count(text: &str) -> Cow<'_, str> {
    static LEAD: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix) [,;] \s* (?: (?: i | we ) \s+ )?
                (?: need | count ,? | there \s are | that'?s | that'll \s be | that \s is | makes ) \s+ ( [\w-]+ ) $",
        )
    });
    LEAD.replace(text, ", $1")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn talk() {
        #[track_caller]
        fn case(text: &str, expected: Option<&str>) {
            assert_eq!(without_talk(text).as_deref(), expected, "{text}");
        }
        case("and then eight nuts", Some("eight nuts"));
        case("For the gate, 2 hinges", Some("2 hinges"));
        case("we will need, for the gate, 2 hinges", Some("2 hinges"));
        case("[14:02] Pia: 36 nuts, thanks", Some("36 nuts"));
        case("[14/11/2026, 18:05] Pia: 36 nuts", Some("36 nuts"));
        case("Rune, 10:02 \u{2013} 30 nuts", Some("30 nuts"));
        case("Rune (10:02): 30 nuts", Some("30 nuts"));
        case("> @Rune 8 nuts", Some("8 nuts"));
        case("FW: 12 nuts", Some("12 nuts"));
        case("Item 40   Qty 12  nut", Some("Qty 12  nut"));
        case("PO line 3 / 60 EA / nut", Some("60 EA / nut"));
        case("0010  300-4417  nut", Some("300-4417  nut"));
        case("iv. 30 nuts", Some("30 nuts"));
        case("torque to 45 ft-lb, 6 M8 nuts", Some("6 M8 nuts"));
        case("tighten to 20 N·m: 6 M8 nuts", Some("6 M8 nuts"));
        case("30 nuts, delivery week 22", Some("30 nuts"));
        case("30 nuts - confirmed, no change", Some("30 nuts"));
        case("30 nuts, del. 14.05.", Some("30 nuts"));
        case("3/8 nuts; need 10", Some("3/8 nuts, 10"));
        case("3/8 nuts, that'll be eight", Some("3/8 nuts, eight"));
        case("30 nuts \u{1F44D}", Some("30 nuts"));
        for plain in [
            "8 nuts",
            "FW 3/8",
            "Item holder",
            "x 40",
            "0.5 in nuts",
            "044-17 nut",
            "nut, 10:30",
        ] {
            case(plain, None);
        }
    }
}
