//! Titles of stages, and the numbers and bullets in front of lines.

use std::{borrow::Cow, sync::LazyLock};

use regex::Regex;

use super::{date_in, is_note, is_page_or_footnote, is_total, names_list, revision_and_date};
use crate::{cues::Cued, words::pattern};

/// The stage that a title names (`Stage 2 - Girders`, `STEP 4B:`, `## Step 3: Rails`), without the
/// marks around it.
pub fn stage_title(text: &str) -> Option<&str> {
    static TITLE: Cued = Cued::new(
        "stage|step|section|phase|assembly|part|day|appendix|annex|chapter",
        || {
            pattern(
                r"(?ix)^ (?: (?: (?: assembly | work | building | build | construction ) \s+ )? (?: stage | step ) | section | phase | assembly | chapter )
               (?: \s* (?: no\.? | number | \# )? \s* \d+ [a-z]? (?:\.\d+)?
                   | \s+ (?: (?: no\.? | number | \# ) \s* )? (?: [a-z] | [ivx]+ | one|two|three|four|five|six|seven|eight|nine|ten ) )
               (?: $ | \s*[:.,\-–—()/] | \s+ \p{Alphabetic} )
               # a part of the work, not one with a number
               | ^ (?: the \s+ )? (?: first | second | third | fourth | fifth | sixth | seventh | eighth | last | final | \d{1,2} (?: st | nd | rd | th ) )
                   \s+ (?: (?: assembly | work | building | build ) \s+ )? (?: stage | step | section | phase ) (?: $ | \s* [:.,–—(] | \s+ - )
               | ^ day \s+ (?: \d{1,2} | one|two|three|four|five|six|seven ) $
               | ^ (?: stages | steps ) \s+ \d+ \s* (?: - | – | to | and | & ) \s* \d+ (?: $ | \s* [:.–—(] | \s+ - )
               | ^ (?: part \s+ (?: [a-h] | [ivx]+ ) | day \s+ (?: \d{1,2} | one|two|three|four|five|six|seven )
                   | (?: appendix | annex ) \s+ (?: \d{1,2} | [a-h] ) ) \s* [:\-–—] \s* \p{Alphabetic}",
            )
        },
    );
    let text = unmark(text);
    TITLE.is_match(text).then_some(text)
}

/// The number that a stage's name begins with, and its letter: `10 BASE`, `Step 4B: rails`, `3`.
pub fn number_of_stage(name: &str) -> Option<(u32, Option<char>)> {
    let name = unmark(name).to_lowercase();
    let words = ["stage", "step", "section", "phase"];
    let rest = words.iter().find_map(|word| name.strip_prefix(word));
    let rest = rest.unwrap_or(&name).trim_start();
    let figures = rest.bytes().take_while(u8::is_ascii_digit).count();
    let number = rest[..figures].parse().ok()?;
    let mut behind = rest[figures..].chars();
    let letter = behind.next().filter(|c| c.is_ascii_lowercase());
    let ends = letter.is_none() || behind.next().is_none_or(|c| !c.is_alphanumeric());
    ends.then_some((number, letter))
}

/// A title of a few words without a number: `Frame`, `Seat rail:`. The words for a list say nothing of
/// a stage.
pub fn bare_title(text: &str) -> Option<&str> {
    let title = unmark(text);
    (is_plain(title) && !is_over_list(title)).then_some(title)
}

/// True for a title with a word for a list, or for what is read beside the work.
fn is_over_list(title: &str) -> bool {
    const LISTS: &[&str] = &[
        "hardware",
        "parts",
        "fasteners",
        "fixings",
        "materials",
        "list",
        "lists",
        "notes",
        "note",
        "thanks",
        "tools",
        "contents",
        "misc",
        "miscellaneous",
        "supplies",
        "items",
        "subject",
        "regards",
        "total",
        "totals",
        "loose",
        "page",
        "you",
        "need",
        "needed",
        "required",
    ];
    let mut words = title.split_whitespace();
    words.any(|word| LISTS.contains(&word.to_lowercase().as_str()))
}

/// What is written like a title and may stand over sentences, without the marks about it: `[Base]`, `--- Base ---`,
/// `Mounting the base (2 people)`.
pub fn title_over_sentences(text: &str) -> Option<&str> {
    let drawn = |c: char| matches!(c, '-' | '\u{2013}' | '\u{2014}' | '~' | '|' | ' ');
    let title = unmark(text).trim_matches(drawn);
    let boxed = ["[]", "<>", "{}"].iter().find_map(|marks| {
        let inner = title.strip_prefix(&marks[..1])?;
        inner.strip_suffix(&marks[1..])
    });
    let title = boxed.unwrap_or(title);
    (may_be_title(title)
        && !is_over_list(title)
        && !names_list(title)
        && date_in(title).is_none()
        && revision_and_date(title) == (None, None))
        .then_some(title)
}

/// True for a few words that begin large, and nothing else.
pub fn is_plain(title: &str) -> bool {
    let letters = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-' | '&' | '\'' | '\u{2019}');
    title.starts_with(char::is_uppercase)
        && title.chars().all(letters)
        && title.split_whitespace().count() <= 4
}

/// A number and a title of a few words: `2. Posts`, `C) Roof`, `2.0 Ladder`, `PART SEVEN - GUTTER`, with the number.
pub fn numbered_title(text: &str) -> Option<(u32, &str)> {
    static NUMBERED: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?x)^ (?: (?i:part|chapter|unit) \s+ (?: (?P<part> \d{1,2} ) | (?P<word> (?i:one|two|three|four|five|six|seven|eight|nine|ten) ) )
                  (?: \s* [:.)] | \s+ [-–—] )
                | (?: (?P<n> \d{1,3} ) | (?P<roman> [ivx]{1,4} | [IVX]{1,4} ) | (?P<letter> [A-Z] ) ) [.)] | (?P<whole> \d{1,2} ) \.0 ) \s+ (?P<words> \S .* ) $",
        )
    });
    const WORDS: [&str; 10] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    ];
    let title = unmark(text);
    let found = NUMBERED.captures(title)?;
    bare_title(found.name("words")?.as_str())?;
    let figures = (found.name("part").or(found.name("n"))).or(found.name("whole"));
    let letter = |letter: regex::Match| {
        letter
            .as_str()
            .bytes()
            .next()
            .map(|b| u32::from(b - b'A' + 1))
    };
    let word = |word: regex::Match| {
        let turn = WORDS
            .iter()
            .position(|known| word.as_str().eq_ignore_ascii_case(known));
        turn.and_then(|at| u32::try_from(at + 1).ok())
    };
    let number = match figures {
        Some(figures) => figures.as_str().parse().ok(),
        None => (found.name("letter").and_then(letter))
            .or_else(|| found.name("roman").map(|roman| of_roman(roman.as_str())))
            .or_else(|| found.name("word").and_then(word)),
    };
    number.map(|number| (number, title))
}

/// A number in Roman figures up to 39.
fn of_roman(figures: &str) -> u32 {
    let value = |c: char| match c.to_ascii_lowercase() {
        'x' => 10,
        'v' => 5,
        _ => 1,
    };
    let mut next = 0;
    figures.chars().rev().map(value).fold(0, |sum, value| {
        let less = value < std::mem::replace(&mut next, value);
        if less { sum - value } else { sum + value }
    })
}

/// A title that tells its turn in words, and what it names: `First: the feet`, `Morning of day two - the roof`, `Task 2
/// (roof)`.
pub fn title_in_turn(text: &str) -> Option<(&str, &str)> {
    static TURN: Cued = Cued::new(
        "first|second|third|fourth|fifth|next|last|then|finally|day|st|nd|rd|th|task|job|lift|session|morning|afternoon|evening",
        || {
            pattern(
                r"(?ix) ^ (?: (?: the \s+ )? (?: first | second | third | fourth | fifth | next | last | \d{1,2} (?: st | nd | rd | th ) )
                     (?: \s+ (?: day | step | job | task | part | morning | afternoon | evening ) )?
                   | then | finally | lastly
                   | (?: (?: morning | afternoon | evening ) \s+ of \s+ )? day \s+ (?: \d{1,2} | one | two | three | four | five ) (?: ,? \s+ (?: morning | afternoon | evening ) )?
                   | (?: task | job | lift | session ) \s+ \d{1,2} )
                 \s* (?: [:,–—(] | - \s ) \s* (?P<name> [a-z] [a-z\ '&-]{1,40} ) \)? $",
            )
        },
    );
    const WORDS: usize = 5;
    let title = unmark(text);
    let found = TURN.captures(title)?;
    let name = found.name("name")?.as_str();
    let begins = title.starts_with(|c: char| c.is_uppercase() || c.is_ascii_digit());
    (begins && name.split_whitespace().count() <= WORDS).then_some((title, name))
}

/// A stage's title with Markdown's marks within it taken away: `_Stage 4_ - Roof`.
pub fn title_with_marks(text: &str) -> Option<String> {
    const MARKS: [char; 3] = ['_', '*', '`'];
    let marked = text.trim_start().starts_with(MARKS) && stage_title(text).is_none();
    let plain = marked.then(|| text.replace(MARKS, ""))?;
    stage_title(&plain).is_some().then_some(plain)
}

/// The first of several titles that are numbered or lettered in turn: `1. Base`, `A) Frame`.
pub fn first_title(text: &str) -> Option<&str> {
    numbered_title(text)
        .filter(|(number, _)| *number == 1)
        .map(|(_, title)| title)
}

/// True where a line that names no item may be a title: a few words that begin large and end as no
/// sentence does (common practice, no source).
pub fn may_be_title(text: &str) -> bool {
    let title = text.trim().trim_start_matches(|c: char| !c.is_alphabetic());
    title.starts_with(char::is_uppercase)
        && title.split_whitespace().count() <= 6
        && !title.ends_with(['.', ',', ';', '!', '?'])
        && !is_page_or_footnote(text)
        && !is_note(text)
        && !is_total(text)
}

/// The title alone and what stands behind its colon or dash: `Step 2` and `2 M8 x 80 hex bolts`.
pub fn title_and_rest(title: &str) -> Option<(&str, &str)> {
    let at = title
        .find([':', '–', '—'])
        .or_else(|| title.find(" - ").map(|at| at + 1))?;
    let mark = title[at..].chars().next()?;
    let rest = title[at + mark.len_utf8()..].trim();
    (!rest.is_empty()).then(|| (title[..at].trim(), rest))
}

/// The number of a stage and what stands behind it: `Step 6 (roof)` and `Fit ten 3/8 x 4 hex bolts.`
pub fn step_and_rest(text: &str) -> Option<(&str, &str)> {
    static STEP: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?x)^ (?P<title> (?i: stage | step | section | phase ) \s* (?i: no\.? | number | \# )? \s*
               \d+ [a-zA-Z]? (?: \.\d+ )? (?: \s* \( [^)]* \) )? )
               (?: \s* [:.)–—] \s* | \s+ - \s+ | \s+ ) (?P<rest> \S .* ) $",
        )
    });
    let found = STEP.captures(unmark(text))?;
    Some((found.name("title")?.as_str(), found.name("rest")?.as_str()))
}

/// A stage with its name, and the sentences behind it: `Stage 1: the feet. Fit four bolts.`
pub fn named_step_and_rest(text: &str) -> Option<(&str, &str)> {
    let (_, rest) = step_and_rest(text)?;
    let (name, sentences) = rest.split_once(". ")?;
    let letters = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-');
    let is_name = name.chars().all(letters) && name.split_whitespace().count() <= 4;
    let title = text.get(..text.len() - sentences.len())?;
    is_name.then(|| {
        (
            title.trim_end().trim_end_matches('.'),
            sentences.trim_start(),
        )
    })
}

/// Where another stage begins behind a sentence of the same line: `Step 1. Fit two bolts. Step 2. Fit four.`
pub fn next_stage(text: &str) -> Option<usize> {
    static NEXT: Cued = Cued::new("stage|step|section|phase", || {
        pattern(
            r#"(?x) [.!;] ["\u{201d})]? \s+ (?P<title> (?i: stage | step | section | phase ) \s+ (?i: no\.? \s* | \# )?
               \d+ [a-zA-Z]? (?: \s* \( [^)]* \) )? (?: \s* (?: [:.)–—] | - \s ) | \s+ \p{Lu} ) )"#,
        )
    });
    Some(NEXT.captures(text)?.name("title")?.start())
}

/// A Markdown heading below the title, without its marks.
pub fn markdown_heading(text: &str) -> Option<(usize, &str)> {
    let text = text.trim();
    let level = text.bytes().take_while(|&b| b == b'#').count();
    let rest = &text[level..];
    (level > 0 && rest.starts_with(' ')).then(|| (level, unmark(rest)))
}

/// A title without Markdown's marks and the colon after it.
pub fn unmark(text: &str) -> &str {
    text.trim()
        .trim_matches(|c: char| matches!(c, '#' | '*' | '_' | '=' | ':') || c.is_whitespace())
}

/// Without `7.2`, `2b.` in front of a word.
fn without_step(text: &str) -> &str {
    let bytes = text.as_bytes();
    let figures = |from: usize| {
        bytes[from..]
            .iter()
            .take_while(|b| b.is_ascii_digit())
            .count()
    };
    let first = figures(0);
    if !(1..=2).contains(&first) {
        return text;
    }
    let end = match bytes.get(first) {
        Some(b'.') if (1..=2).contains(&figures(first + 1)) => first + 1 + figures(first + 1),
        Some(b'a'..=b'h') if matches!(bytes.get(first + 1), Some(b'.' | b')')) => first + 1,
        _ => return text,
    };
    let rest = text[end..].trim_start_matches(['.', ')']);
    let word = rest.trim_start();
    let capital = word.starts_with(|c: char| c.is_ascii_uppercase())
        && word[1..].starts_with(|c: char| c.is_ascii_lowercase());
    if capital && rest.len() > word.len() {
        word
    } else {
        text
    }
}

/// Without a line's letter, or its place's: `A.`, `a)`, `(a)`, `B2:`. `M8:` is a size.
fn without_letter(text: &str) -> &str {
    if let Some((place, rest)) = text.split_once(": ")
        && let [b'A'..=b'L' | b'N'..=b'Z', figures @ ..] = place.as_bytes()
        && (1..=2).contains(&figures.len())
        && figures.iter().all(u8::is_ascii_digit)
    {
        return rest.trim_start();
    }
    let (open, letter) = match text.as_bytes() {
        [b'(', letter @ b'a'..=b'z', b')', b' ', ..] => (1, letter),
        [letter, b'.' | b')', b' ', ..] => (0, letter),
        _ => return text,
    };
    match letter.is_ascii_alphabetic() {
        true => text[open + 2..].trim_start(),
        false => text,
    }
}

/// A line of text without the bullet, tick box or number before it, the marks of a quoted mail, and
/// Markdown's emphasis around it.
pub fn without_bullet(text: &str) -> Cow<'_, str> {
    let mut text = text.trim_start_matches(|c: char| c == '>' || c.is_whitespace());
    text = text.trim_end();
    for mark in ["- ", "* ", "+ ", "\u{2022}", "\u{2013} "] {
        text = text.strip_prefix(mark).unwrap_or(text).trim_start();
    }
    for mark in [
        "[ ]", "[x]", "[X]", "\u{2610}", "\u{2611}", "\u{2713}", "\u{2714}", "\u{2705}",
    ] {
        text = text.strip_prefix(mark).unwrap_or(text).trim_start();
    }
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    if (1..=3).contains(&digits) {
        let rest = text[digits..]
            .strip_prefix(['.', ')'])
            .and_then(|rest| rest.strip_prefix(' '));
        text = rest.map_or(text, str::trim_start);
    }
    text = without_letter(without_step(text));
    if text.contains("**") || text.contains("__") || text.contains('`') {
        Cow::Owned(text.replace("**", "").replace("__", "").replace('`', ""))
    } else {
        Cow::Borrowed(text)
    }
}
