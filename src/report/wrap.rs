//! Text wrapped for a terminal.

use std::io::{self, Write};

/// Columns that every line of text keeps within, where its words allow.
pub const WIDTH: usize = 100;
/// Writes `head` and `text`, going on in a new line indented by `indent` where the width is used
/// up. Words longer than a line stay whole.
pub fn wrapped(out: &mut impl Write, head: &str, indent: usize, text: &str) -> io::Result<()> {
    write!(out, "{head}")?;
    let mut column = head.chars().count();
    let mut first = true;
    for word in text.split_whitespace() {
        let width = word.chars().count();
        if !first && column + 1 + width > WIDTH {
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
