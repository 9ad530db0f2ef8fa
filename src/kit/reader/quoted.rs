//! Earlier mails that a mail carries along: somebody else's words, which are no part of the list.
//!
//! They stand behind `>`, or below `On 2 May 2026 Ada wrote:`. A mail that has no list of its own hands one
//! on, and what is quoted is the list. In marked-down text `>` sets the author's own words off.

use std::sync::LazyLock;

use regex::Regex;

use super::Reader;
use crate::{
    columns::furniture,
    source::{Format, Row},
    words::pattern,
};

/// What is known of the mails in a text.
#[derive(Debug, Clone, Copy, Default)]
pub struct Quoted {
    /// The text has a list of its own, beside what is quoted.
    beside_own: bool,
    /// A mark of quotation is one of a mail.
    marked: bool,
    /// The line that says who wrote what stands below it has come.
    below: bool,
}

impl Reader<'_> {
    /// Looks at the head of a text for a list that is not quoted.
    pub(super) fn look_for_quotes(&mut self) {
        self.quoted = Quoted::default();
        let lines = || self.usual.head.iter().map(Row::joined);
        let begins = |line: &String| is_marked(line) || says_who_wrote(line);
        if self.list.format != Format::Text || !lines().any(|line| begins(&line)) {
            return;
        }
        let mut own = lines().take_while(|line| !says_who_wrote(line) || is_marked(line));
        self.quoted = Quoted {
            beside_own: own.any(|line| !is_marked(&line) && self.names_pieces(&line)),
            marked: !lines().any(|line| furniture::markdown_heading(&line).is_some()),
            below: false,
        };
    }

    /// Passes over a line of an earlier mail.
    pub(super) fn is_quoted(&mut self, row: &Row) -> bool {
        if !self.quoted.beside_own {
            return false;
        }
        let line = row.joined();
        self.quoted.below |= says_who_wrote(&line) && !is_marked(&line);
        let is_quoted = self.quoted.below || (self.quoted.marked && is_marked(&line));
        if is_quoted && line.contains(|c: char| c.is_ascii_digit()) && !says_who_wrote(&line) {
            self.passed_figures.push((row.number, line));
        }
        is_quoted
    }
}

fn is_marked(line: &str) -> bool {
    line.trim_start().starts_with('>')
}

fn says_who_wrote(line: &str) -> bool {
    static WROTE: LazyLock<Regex> = LazyLock::new(|| {
        pattern(r"(?i)^[\s>]*(?:(?:on\b|.*[@<]).*\bwrote:|-{2,}\s*original message\s*-{2,})\s*$")
    });
    WROTE.is_match(line)
}
