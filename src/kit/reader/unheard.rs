//! Lines of a text that were not understood: which of them may be lines of the list, and what becomes of them.

use super::{
    super::{count, guide::is_prose, line::Aside, role::Role},
    Reader,
    begin::is_year,
    beside::are_several,
};
use crate::{
    columns::{Meaning, furniture, heading},
    notation::{Callout, describe},
    source::{Format, Row},
};

impl Reader<'_> {
    /// True where a line of a text that was not understood may be one of the list: a few words that are no title.
    pub(super) fn may_be_line(&self, row: &Row, body: &str) -> bool {
        let few = match self.hides_figures(body) {
            true => FEW_WITH_FIGURES,
            false => FEW,
        };
        self.list.format == Format::Text
            && !self.list.lines.is_empty()
            && self.usual.speakers.is_none()
            && (is_short(body, few) || is_noise(body))
            && !is_chore(body)
            && !is_paperwork(body)
            && (self.says_how_many(body)
                || row.filled() > 1
                || is_noise(body)
                || !is_title_like(body))
    }

    /// True where a line that was not understood is written as those of the list are: with their bullet, their
    /// columns or their signs; or asks something.
    pub(super) fn is_written_as_line(&self, row: &Row, text: &str, body: &str) -> bool {
        if self.list.format != Format::Text {
            // `TB-1 | sheet | 4` where no headings are: a title bears no count.
            let counts = || {
                row.cells()
                    .any(|(cell, _)| count::is_count(cell, self.notation))
            };
            return self.usual.no_headings
                && row.filled() > 1
                && !furniture::is_total(body)
                && !furniture::is_note(body)
                && counts();
        }
        let bulleted = || self.usual.bulleted && body.len() < text.trim().len();
        let in_columns = || {
            let quantity = self
                .layout
                .as_ref()
                .and_then(|l| l.column(Meaning::Quantity));
            let headless = self.layout.as_ref().is_some_and(|layout| layout.headless);
            headless && !self.list.lines.is_empty() && row.filled() > 1 && quantity.is_some()
        };
        let signed = || {
            let form = self.usual.parting.as_ref();
            form.is_some_and(|form| form.is_borne_by(text, self.notation))
        };
        let asks = || {
            self.begun && self.usual.speakers.is_none() && body.contains('?') && is_short(body, FEW)
        };
        let few = || body.split_whitespace().count() <= FEW_WITH_FIGURES;
        let listed = || bulleted() && is_short(body, FEW_WITH_FIGURES);
        !is_paperwork(body) && (listed() || asks() || (few() && (in_columns() || signed())))
    }

    /// True where words that are taken for a note or the edge of a page call for so many sized fasteners, from some
    /// word on: `note: 6 3/8 nuts`, `refer to sheet 3 for 12 M8 nuts`.
    pub(super) fn hides_hardware(&self, body: &str) -> bool {
        let sized = |callout: &Callout| {
            callout.is_hardware() && callout.quantity.is_some() && callout.item.diameter.is_some()
        };
        let calls =
            |words: &str| describe(words, self.notation).is_ok_and(|all| all.iter().any(sized));
        let figures = |word: &str| word.contains(|c: char| c.is_ascii_digit());
        let may_call = || {
            let words = body.split_whitespace();
            let counts = words.clone().filter(|word| figures(word)).count();
            words.count() <= MOST_WORDS && counts > 0 && !furniture::is_total(body)
        };
        // Before the list has begun, only behind such words: a title names sizes, too.
        let is_edge = || furniture::is_page_or_footnote(body) && furniture::date_in(body).is_none();
        (self.begun || furniture::is_note(body) || is_edge())
            && may_call()
            && (body.char_indices())
                .filter(|&(at, c)| {
                    !c.is_whitespace() && (at == 0 || body[..at].ends_with(char::is_whitespace))
                })
                .any(|(at, _)| calls(&body[at..]))
    }

    /// True where a row above the headings holds sized hardware with its count: it is a line, and no title.
    pub(super) fn is_line_above(&self, row: &Row) -> bool {
        let counted =
            row.filled() > 1 && (row.cells()).any(|(cell, _)| count::is_count(cell, self.notation));
        let counts = |callout: &Callout| {
            callout.is_hardware()
                && callout.item.diameter.is_some()
                && (counted || callout.quantity.is_some())
        };
        let names = |(cell, _): (&str, _)| {
            describe(cell, self.notation).is_ok_and(|read| read.iter().any(counts))
        };
        let text = row.joined();
        (row.cells().any(names) || self.is_part_above(row))
            && !is_paperwork(&text)
            && furniture::stage_title(&text).is_none()
            && furniture::date_in(&text).is_none()
    }

    /// True where a row above the headings counts something that is no label of a title block: `posts | 9`, `9 posts`.
    fn is_part_above(&self, row: &Row) -> bool {
        let cells = row.cells().map(|(text, _)| text.trim());
        let cells: Vec<&str> = cells.filter(|text| !text.is_empty()).collect();
        let is_count =
            |text: &&str| count::pieces(text, self.notation).is_some_and(|pieces| !is_year(pieces));
        let counts = match cells[..] {
            [text] => self.names_so_many(text),
            ref cells => {
                let words = |text: &&str| text.contains(char::is_alphabetic);
                cells.iter().any(is_count) && cells.iter().any(words)
            }
        };
        let is_label =
            |text: &&str| furniture::labels_paper(text) || heading::recognise(text).is_some();
        counts && !cells.iter().any(is_label)
    }

    /// True where a line among those of a list holds figures, and is none of what lists hold besides.
    pub(super) fn hides_figures(&self, body: &str) -> bool {
        self.begun
            // A guide's sentences are full of figures.
            && (self.list.role != Role::Required || !is_prose(body))
            && self.says_how_many(body)
            && !furniture::is_total(body)
            && !furniture::is_note(body)
            && !furniture::is_paper(body)
            && !furniture::is_page_or_footnote(body)
    }

    /// True for a text in which figures stand, or that is a count in words: `seven`.
    fn says_how_many(&self, body: &str) -> bool {
        body.contains(|c: char| c.is_ascii_digit()) || count::is_count(body, self.notation)
    }

    /// True where a slip or a count begins with a numbered line, and not with the first: `4. leg tubes` may be four.
    pub(super) fn may_count_in_front(&self, text: &str, body: &str) -> bool {
        let figures = text.trim_start().bytes().take_while(u8::is_ascii_digit);
        let number = text.trim_start()[..figures.count()].parse::<u32>();
        matches!(self.list.role, Role::Shipped | Role::Counted)
            && self.list.lines.is_empty()
            && number.is_ok_and(|number| number > 1)
            && is_short(body, FEW)
            && !is_paperwork(text)
    }

    /// True where a line that names nothing, among the lines of a list, may be the title of those below.
    pub(super) fn is_title_of_list(&self, text: &str) -> bool {
        self.list.role == Role::Required
            && self.list.format == Format::Text
            && !self.list.lines.is_empty()
            && furniture::may_be_title(text)
    }

    /// What stands between lines that are read, and was not understood, may be a line itself.
    pub(super) fn put_unheard_aside(&mut self) {
        for (row, place) in std::mem::take(&mut self.unheard) {
            self.push_aside(&row, place, Aside::NoItem(UNHEARD.into()));
            self.tally.other -= 1;
            self.tally.aside += 1;
        }
    }

    /// What was not understood behind the last line, and holds figures: right below it it may be a line itself, further
    /// down it is named.
    pub(super) fn pass_unheard(&mut self) {
        let last = self
            .list
            .lines
            .last()
            .filter(|line| line.sheet == self.sheet);
        let mut next = last.map_or(0, |line| line.row + 1);
        for (row, place) in std::mem::take(&mut self.unheard) {
            let text = row.joined();
            if !self.says_how_many(&text) {
                continue;
            }
            if row.number == next {
                next += 1;
                self.push_aside(&row, place, Aside::NoItem(UNHEARD.into()));
                self.tally.other -= 1;
                self.tally.aside += 1;
            } else {
                self.passed_figures.push((row.number, text));
            }
        }
    }

    /// Names a line above the list that holds figures and is no known part of a title block.
    pub(super) fn pass_title(&mut self, row: &Row) {
        let text = row.joined();
        if text.contains(|c: char| c.is_ascii_digit())
            && !is_paperwork(&text)
            && !is_prose(&text)
            && furniture::slip_number(&text).is_none()
            && furniture::date_in(&text).is_none()
            && furniture::revision_and_date(&text) == (None, None)
        {
            self.passed_figures.push((row.number, text));
        }
    }
}

/// More words are a text, and no line with what is said about it.
const MOST_WORDS: usize = 24;

/// Why a line that was not understood is put aside.
pub(super) const UNHEARD: &str =
    "it stands among the lines of the list, and no item with its count is found";

/// Why a line that stands above the headings is put aside.
pub(super) const ABOVE_HEADINGS: &str =
    "it stands above the headings, where no line is looked for: move it below them";

/// Words that a line of a list is written in, and one with figures.
pub(super) const FEW: usize = 6;

pub(super) const FEW_WITH_FIGURES: usize = 10;

/// True for what lists hold besides their lines.
pub(super) fn is_paperwork(text: &str) -> bool {
    furniture::is_total(text)
        || furniture::is_note(text)
        || furniture::is_paper(text)
        || furniture::is_page_or_footnote(text)
        || furniture::names_list(text)
}

/// So many words at most, and no sentence.
pub(super) fn is_short(text: &str, words: usize) -> bool {
    // Dots that lead to a count are no end of a sentence.
    let text = match text.ends_with("...") {
        true => text.trim_end_matches(['.', ' ']),
        false => text,
    };
    text.split_whitespace().count() <= words && !text.ends_with(['.', ':', '!']) && !is_prose(text)
}

/// Words that count in no number, or name one piece (common practice, no source).
const COUNTING: &[&str] = &[
    "a", "an", "the", "both", "pair", "pairs", "couple", "dozen", "twin", "lots", "some", "few",
    "several", "many", "all", "more", "each", "plenty",
];

/// True for signs alone that draw no line, and for a lone letter: `%%%%`, `?!?`, `x`.
pub(super) fn is_noise(text: &str) -> bool {
    let text = text.trim();
    let draws = |c: char| "-=_.*~#+|/\\".contains(c) || c.is_whitespace();
    match text.contains(char::is_alphanumeric) {
        true => text.len() == 1 && text.starts_with(char::is_alphabetic),
        false => text.is_ascii() && !text.chars().all(draws),
    }
}

/// True where words may be the title of the lines below: `Roof`, `Left side`, `gate`.
fn is_title_like(text: &str) -> bool {
    let mut words = text.split_whitespace();
    let first = words.next().unwrap_or_default();
    let plain = !text.contains(['(', ',', ';', '/']) && !text.contains(" - ");
    let closed = text.ends_with(':');
    let counts = COUNTING.contains(&first.to_lowercase().as_str());
    // `spacers` among lines may lack its count.
    let alone = !text.starts_with(char::is_lowercase) || !are_several(text);
    closed
        || (plain
            && !counts
            && (words.next().is_none() && alone || first.starts_with(char::is_uppercase)))
}

/// Verbs by which a line asks for something to be done, and for no pieces (common practice, no source).
const CHORES: &[&str] = &[
    "ask", "call", "ring", "phone", "text", "mail", "email", "check", "measure", "clean", "tell",
    "meet", "remember", "remind", "return", "see", "find", "book", "pay",
];

/// True where a line asks for something to be done: `ask for the key to room 12`.
pub(super) fn is_chore(text: &str) -> bool {
    let first = text.split(|c: char| !c.is_alphanumeric()).next();
    let more = text.split_whitespace().nth(1).is_some();
    first.is_some_and(|word| more && CHORES.contains(&word.to_lowercase().as_str()))
}
