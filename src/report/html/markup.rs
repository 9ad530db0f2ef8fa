//! What sections of the page are made of.

use std::{
    fmt::{self, Write as _},
    io::{self, Write},
};

use rust_xlsxwriter::Color;

use crate::report::workbook::style;

/// Entries of a list before it goes on in the workbook.
pub const MOST: usize = 500;

/// A text as it may stand between tags and in quoted attributes.
pub struct Escaped<'a>(&'a str);

pub fn escaped(text: &str) -> Escaped<'_> {
    Escaped(text)
}

impl fmt::Display for Escaped<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.chars().try_for_each(|c| match c {
            '&' => f.write_str("&amp;"),
            '<' => f.write_str("&lt;"),
            '>' => f.write_str("&gt;"),
            '"' => f.write_str("&quot;"),
            '\'' => f.write_str("&#39;"),
            '\n' | '\t' => f.write_char(' '),
            c if c.is_control() => f.write_char(char::REPLACEMENT_CHARACTER),
            c => f.write_char(c),
        })
    }
}

fn hex(color: Color) -> String {
    match color {
        Color::RGB(rgb) => format!("#{rgb:06x}"),
        Color::White => "#ffffff".to_owned(),
        _ => "#000000".to_owned(),
    }
}

/// The colours of a stage's band.
pub fn band(stage: usize) -> String {
    let (fill, words) = style::stage_colours(stage);
    format!("background:{};color:{}", hex(fill), hex(words))
}

/// Opens a table of items with these figures of each.
pub fn table(out: &mut dyn Write, figures: &[&str]) -> io::Result<()> {
    out.write_all(b"<table><thead><tr><th scope=\"col\">Item</th>")?;
    for figure in figures {
        write!(out, "<th scope=\"col\" class=\"n\">{figure}</th>")?;
    }
    out.write_all(b"</tr></thead><tbody>\n")
}

/// Ends a table of items, and says how many more there are.
pub fn end_table(out: &mut dyn Write, in_all: usize) -> io::Result<()> {
    out.write_all(b"</tbody></table>\n")?;
    more(out, in_all)
}

/// A list, or nothing where there is nothing to list.
pub fn bullets(out: &mut dyn Write, lines: impl Iterator<Item = String>) -> io::Result<()> {
    let mut lines = lines.peekable();
    if lines.peek().is_none() {
        return Ok(());
    }
    out.write_all(b"<ul>\n")?;
    for line in lines {
        writeln!(out, "<li>{}</li>", escaped(&line))?;
    }
    out.write_all(b"</ul>\n")
}

/// Says how many of a list are left out, where any are.
pub fn more(out: &mut dyn Write, in_all: usize) -> io::Result<()> {
    match in_all.checked_sub(MOST) {
        None | Some(0) => Ok(()),
        Some(left) => writeln!(out, "<p>And {left} more, in the workbook.</p>"),
    }
}
