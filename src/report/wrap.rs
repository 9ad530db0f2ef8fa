//! Text wrapped for a terminal.

use std::{
    io::{self, Write},
    sync::OnceLock,
};

use terminal_size::{Width, terminal_size_of};

/// Columns that every line of text keeps within, where its words allow, in files and pipes, and at most.
pub const WIDTH: usize = 100;
/// Columns at least: tables are made for these.
const LEAST: usize = 72;
/// Columns of the terminal, where there is one.
static COLUMNS: OnceLock<usize> = OnceLock::new();

/// Keeps text within the terminal that standard output is, if it is one.
pub fn fit_terminal() {
    if let Some((Width(columns), _)) = terminal_size_of(io::stdout()) {
        COLUMNS.get_or_init(|| usize::from(columns).clamp(LEAST, WIDTH));
    }
}

/// Writes `head` and `text`, going on in a new line indented by `indent` where the width is used
/// up. Words longer than a line stay whole.
pub fn wrapped(out: &mut impl Write, head: &str, indent: usize, text: &str) -> io::Result<()> {
    let most = COLUMNS.get().copied().unwrap_or(WIDTH);
    write!(out, "{head}")?;
    let mut column = head.chars().count();
    let mut first = true;
    for word in text.split_whitespace() {
        let width = word.chars().count();
        if !first && column + 1 + width > most {
            write!(out, "\n{}", " ".repeat(indent))?;
            column = indent;
        } else if !first {
            write!(out, " ")?;
            column += 1;
        }
        write!(out, "{word}")?;
        column += width;
        first = false;
    }
    writeln!(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_words_wrap_between_words() {
        let mut out = Vec::new();
        let text = ["word"; 40].join(" ");
        wrapped(&mut out, "  - ", 4, &text).unwrap();
        let out = String::from_utf8(out).unwrap();
        assert_eq!(out.split_whitespace().filter(|w| *w == "word").count(), 40);
        assert!(out.lines().all(|l| l.len() <= WIDTH && l.starts_with("  ")));
        assert_eq!(out.lines().count(), 3);
    }
}
