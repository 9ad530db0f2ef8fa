//! Titles: those numbered in turn (`1 Frame`, `2 Roof`), and those over the sentences of a guide (common practice, no
//! source). By itself `2 Roof` may as well be two roofs.

use super::{
    super::{
        guide::{acts, is_prose, is_side, one_way},
        remark,
        usage::usage,
    },
    Reader,
    in_the_box::heads_one,
};
use crate::{
    Doubt,
    columns::furniture,
    notation::{self, number_in_words},
    source::Row,
    words::fold,
};

/// So many titles make an order.
const ENOUGH: usize = 2;

/// Where a title stands among others: the next is the one by its number, or, of `1.1 Frame`, any.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Turn {
    Number(u32),
    Part(u32, u32),
}

impl Turn {
    /// True where so many titles may stand above it.
    pub fn comes_after(self, titles: u32) -> bool {
        match self {
            Turn::Number(number) => number == titles + 1,
            Turn::Part(..) => true,
        }
    }
}

/// The number of a line that may be such a title.
pub(super) fn numbered(text: &str) -> Option<Turn> {
    let title = furniture::unmark(text);
    // `(1) Frame`, `[1] Frame`
    let boxed = title
        .strip_prefix(['(', '['])
        .and_then(|rest| rest.split_once([')', ']']));
    if let Some((number, words)) = boxed {
        let number = number.parse().ok()?;
        return furniture::bare_title(words.trim_start()).map(|_| Turn::Number(number));
    }
    // `GATE 1`
    if let Some((words, number)) = title.rsplit_once(' ')
        && let Ok(number @ 1..) = number.parse()
    {
        return furniture::bare_title(words).map(|_| Turn::Part(number, 0));
    }
    // `1.1 Frame`
    if let Some((number, words)) = title.split_once(' ')
        && let Some((section, part)) = number.split_once('.')
        && let (Ok(section), Ok(part @ 1..)) = (section.parse(), part.parse())
    {
        return furniture::bare_title(words.trim_start()).map(|_| Turn::Part(section, part));
    }
    let figures = title.bytes().take_while(u8::is_ascii_digit).count();
    let (number, words) = title.split_at(figures);
    // `1 - Base`, `1.) Base`
    let words = words
        .strip_prefix(" -")
        .or(words.strip_prefix(" \u{2013}"))
        .or(words.strip_prefix(".)"))
        .unwrap_or(words);
    let is_title = words.starts_with(' ') && furniture::bare_title(words.trim_start()).is_some();
    match furniture::numbered_title(text) {
        Some((number, title)) => Some(number).filter(|_| !is_prose(without_number(title))),
        None => number.parse().ok().filter(|_| is_title),
    }
    .map(Turn::Number)
}

fn without_number(title: &str) -> &str {
    title.trim_start_matches(|c: char| !c.is_alphabetic())
}

/// What a title is where others name stages by their number: `Stage 2: Roof`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Beside {
    /// It names an option, or what becomes of its pieces.
    Stage,
    MayBeStage,
    /// A part of the stage above, or a remark.
    InStage,
}

/// `marks`: so many `#` stand in front of the title, and so many in front of the stage by number above it.
fn beside_numbered(title: &str, marks: usize, above: usize) -> Beside {
    let in_turn = furniture::title_in_turn(title);
    let bare = in_turn.map_or_else(|| without_number(title), |(_, name)| name);
    let instructs = in_turn.is_none() && bare.len() < title.len() && acts(bare);
    let of_list = furniture::bare_title(bare).is_none() && furniture::is_plain(bare);
    let is_deeper = above > 0 && (marks == 0 || marks > above);
    match () {
        () if names_option_or_use(title) => Beside::Stage,
        () if is_deeper || instructs || of_list || looks_after(bare) || begins_with_side(bare) => {
            Beside::InStage
        }
        () => Beside::MayBeStage,
    }
}

/// The stage that a title goes on with: `Stage 1 (cont.)`
pub(super) fn continued(title: &str) -> Option<&str> {
    const GOES_ON: &[&str] = &["continued", "continues", "cont", "cont'd", "contd", "ctd"];
    let bare = title.trim_end_matches([')', '.', ']', ':', ' ']);
    let (of, last) = bare.rsplit_once([' ', '('])?;
    let goes_on = GOES_ON.iter().any(|word| last.eq_ignore_ascii_case(word));
    let of = of.trim_end_matches([' ', '(', '[', ',', '-', '\u{2013}', '\u{2014}', ':']);
    (goes_on && !of.is_empty()).then_some(of)
}

impl Reader<'_> {
    /// Enters the stage of a title that says itself that it is one: `Stage 2: Roof`.
    pub(super) fn enter_numbered(&mut self, text: &str, title: &str) {
        let marks = furniture::markdown_heading(text).map_or(0, |(marks, _)| marks);
        self.enter_stage(title);
        if self.alternatives.contains(&fold(title)) || is_afterwards(title) {
            self.stage_doubt = Some(one_way(title));
        }
        self.stage_level = marks;
        self.stage_marks = Some((marks, title.to_owned()));
    }

    /// Enters the stage of a title that may be one. True where it is one.
    pub(super) fn enter_titled(&mut self, title: &str, marks: usize) -> bool {
        let names_stage = names_option_or_use(title);
        if !names_stage && self.is_section(title, marks) {
            self.guide.end_paragraph();
            return false;
        }
        let Some((above, named)) = self.stage_marks.clone() else {
            self.enter_stage(title);
            self.stage_level = marks;
            let heads_list = heads_one(&title.to_lowercase());
            if marks > 0 && !heads_list && looks_after(without_number(title)) {
                let said = format!("\"{title}\" is taken for a stage, and by its name is none");
                self.stage_doubt = Some(Doubt::Said(said.into()));
            }
            return true;
        };
        match beside_numbered(title, marks, above) {
            Beside::InStage => {
                self.guide.end_paragraph();
                return false;
            }
            Beside::Stage => self.enter_stage(title),
            Beside::MayBeStage => {
                self.enter_stage(title);
                let said = format!(
                    "\"{title}\" is taken for a stage, as \"{named}\" is: may be a part of that"
                );
                self.stage_doubt = Some(Doubt::Said(said.into()));
            }
        }
        self.stage_level = marks;
        true
    }
}

/// True for a title that names an option, or what becomes of the pieces below it.
fn names_option_or_use(title: &str) -> bool {
    usage(title).is_some()
        || remark::is_of_spares(title)
        || remark::named_option(title).is_some()
        || notation::option(title).is_some()
}

/// True for a title of what looks after the work or the reader, and is no stage: `Safety`.
pub(super) fn looks_after(title: &str) -> bool {
    const NO_STAGES: &[&str] = &[
        "tighten",
        "torqu",
        "check",
        "inspect",
        "safety",
        "warning",
        "caution",
        "important",
        "tip",
        "before",
        "tool",
        "introduction",
        "maintenance",
        "care",
        "contents",
        "general",
        "hint",
        "remember",
        "finally",
        "then",
        "optional",
    ];
    let lower = title.to_lowercase();
    let mut words = lower.split(|c: char| !c.is_alphanumeric());
    words.any(|word| NO_STAGES.iter().any(|none| word.starts_with(none)))
}

/// True for a title of what is done, looked at or told once the work is over: it asks for no new pieces. Common practice,
/// no source.
pub(super) fn is_afterwards(title: &str) -> bool {
    const AFTERWARDS: &[&str] = &[
        "maintenance",
        "troubleshooting",
        "care",
        "cleaning",
        "storage",
        "storing",
        "dismantling",
        "disassembly",
        "disassembling",
        "apart",
        "inspection",
        "inspections",
        "check",
        "checks",
        "checking",
        "faq",
        "warranty",
        "repair",
        "repairs",
        "problems",
    ];
    const LONGEST: usize = 40;
    let mut words = title.split(|c: char| !c.is_alphanumeric());
    let is = |word: &str| AFTERWARDS.iter().any(|of| word.eq_ignore_ascii_case(of));
    title.len() <= LONGEST && words.any(is)
}

fn begins_with_side(title: &str) -> bool {
    let first = title.split(|c: char| !c.is_alphanumeric()).next();
    first.is_some_and(|first| is_side(&first.to_lowercase()))
}

/// A title of a guide, above its sentences: a few words, or a number and such.
pub(super) fn of_guide(text: &str) -> Option<&str> {
    if let Some((title, name)) = furniture::title_in_turn(text) {
        return (!looks_after(name)).then_some(title);
    }
    let title = match furniture::numbered_title(text) {
        Some((_, title)) => title,
        None => furniture::bare_title(text)?,
    };
    (!looks_after(title) && !begins_with_side(title) && !is_prose(without_number(title)))
        .then_some(title)
}

/// A title of a guide that stands alone over its sentences, however it is written.
pub(super) fn over_sentences(text: &str) -> Option<&str> {
    let title = furniture::title_over_sentences(text)?;
    let bare = without_number(title);
    (!looks_after(bare) && !begins_with_side(bare)).then_some(title)
}

/// True for a line of a list that begins with a number in words, and is written no title: `Twelve outrigger brackets`.
pub(super) fn counts_in_words(text: &str) -> bool {
    let mut words = text.split_whitespace();
    let several = words
        .next()
        .and_then(number_in_words)
        .is_some_and(|n| n > 1);
    several && words.all(|word| word.starts_with(char::is_lowercase))
}

/// True where the first lines of a text hold titles numbered from 1 in turn, each with other lines below it and,
/// but for the first, a blank one above or sentences below: a list may begin with one frame, and go on with two posts.
pub(super) fn are_numbered(head: &[Row]) -> bool {
    let texts: Vec<String> = head.iter().map(Row::joined).collect();
    let titles: Vec<(usize, Turn)> = (texts.iter().enumerate())
        .filter_map(|(at, text)| Some((at, numbered(text)?)))
        .collect();
    let blank = |at: usize| texts.get(at).is_none_or(|text| text.trim().is_empty());
    let heads_prose = |at: usize| {
        let below = texts[at + 1..].iter().find(|text| !text.trim().is_empty());
        below.is_some_and(|below| is_prose(below))
    };
    let of_parts = || {
        titles.iter().map(|&(at, turn)| match turn {
            Turn::Part(section, part) if heads_prose(at) => Some((section, part)),
            _ => None,
        })
    };
    let in_turn = (titles.iter().zip(0..))
        .all(|((_, turn), above)| matches!(turn, Turn::Number(_)) && turn.comes_after(above))
        || (of_parts().all(|part| part.is_some()) && of_parts().is_sorted());
    let apart = titles
        .iter()
        .skip(1)
        .all(|&(at, _)| blank(at - 1) || heads_prose(at));
    let with_lines = titles
        .iter()
        .all(|&(at, _)| !blank(at + 1) || heads_prose(at));
    titles.len() >= ENOUGH && in_turn && apart && with_lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(lines: &[&str], expected: bool) {
        let head: Vec<Row> = lines
            .iter()
            .zip(1..)
            .map(|(line, at)| Row::of_text(at, line))
            .collect();
        assert_eq!(are_numbered(&head), expected);
    }

    #[test]
    fn titles_or_counts() {
        case(
            &["Shelter", "1 Frame", "4 posts", "", "2 Roof", "6 sheets"],
            true,
        );
        case(
            &["1 Frame", "Bolt the rails on.", "", "2 Roof", "Lay it."],
            true,
        );
        let guide = [
            "1 FRAME",
            "Bolt the rails on.",
            "2 LADDER",
            "Screw the hinges on.",
        ];
        case(&guide, true);
        let guide = [
            "(1) Feet",
            "",
            "Bolt the feet on.",
            "",
            "(2) Hoops",
            "",
            "Screw the hoops on.",
        ];
        case(&guide, true);
        let guide = [
            "1.1 Feet",
            "Bolt the feet on.",
            "1.2 Hoops",
            "Screw the hoops on.",
            "2.1 Roof",
            "Lay the roof on.",
        ];
        case(&guide, true);
        let guide = [
            "GATE 1",
            "Bolt the post on.",
            "",
            "GATE 2",
            "Screw the latch on.",
        ];
        case(&guide, true);
        case(&["Gate 1", "", "Post 2", "", "Bolt the post on."], false);
        case(&["1 Frame", "1.1 Posts", "1.2 Rails"], false);
        case(&["1.1 Frame", "4 posts", "1.2 Roof", "6 sheets"], false);
        case(&["(1) Ridge beam", "(2) Gable ends", "(4) Rails"], false);
        case(&["1 Frame", "2 Posts", "4 Rails"], false);
        case(&["1 Frame", "4 M8 nuts", "2 Posts", "8 M10 nuts"], false);
        case(&["1 Frame", "4 posts", "", "3 Roofs", "6 sheets"], false);
        case(&["1 Frame", "4 posts"], false);
    }
}
