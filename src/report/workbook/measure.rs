//! How much room a text takes in the house's type, near enough.

/// The width of a text in digits of the house's type, near enough to break lines by.
pub fn width(text: &str) -> f64 {
    text.chars()
        .map(|c| match c {
            'i' | 'j' | 'l' | 't' | 'f' | 'I' | ' ' | '.' | ',' | ';' | ':' | '\'' | '|' | '!'
            | '(' | ')' | '[' | ']' | '/' => 0.5,
            'r' | '-' => 0.6,
            'c' | 'k' | 's' | 'v' | 'x' | 'y' | 'z' => 0.9,
            'm' | 'w' | 'M' | 'W' => 1.5,
            c if c.is_uppercase() => 1.25,
            _ => 1.0,
        })
        .sum()
}

/// The narrowest column in which a text takes no more than two lines, in digits.
pub fn in_two_lines(text: &str) -> f64 {
    let breaks = text.match_indices(' ').map(|(at, _)| at);
    breaks
        .map(|at| width(&text[..at]).max(width(&text[at + 1..])))
        .fold(width(text), f64::min)
}

/// A text in pieces that take a line each of a width in digits, broken between words.
pub fn in_rows(text: &str, limit: f64) -> Vec<String> {
    let mut rows: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match rows.last_mut() {
            Some(row) if width(row) + 0.5 + width(word) <= limit => {
                row.push(' ');
                row.push_str(word);
            }
            _ => rows.push(word.to_owned()),
        }
    }
    rows
}

/// Lines that a text takes in a column of a width in digits, broken between words.
pub fn lines_of(text: &str, limit: f64) -> usize {
    let mut lines = 0;
    for paragraph in text.lines() {
        let mut used = 0.0;
        lines += 1;
        for word in paragraph.split(' ') {
            let word = width(word);
            if used > 0.0 && used + 0.5 + word > limit {
                lines += 1;
                used = 0.0;
            }
            used += if used > 0.0 { word + 0.5 } else { word };
            // A word longer than a line is broken anywhere.
            while used > limit {
                lines += 1;
                used -= limit;
            }
        }
    }
    lines.max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_take_two_lines() {
        assert_eq!(in_two_lines(""), 0.0);
        assert_eq!(in_two_lines("aaa"), 3.0);
        assert_eq!(in_two_lines("aa bb ddd"), 4.5);
    }

    #[test]
    fn running_words_go_on_in_the_next_row() {
        assert_eq!(in_rows("one two", 20.0), ["one two"]);
        assert_eq!(in_rows("one two three", 7.0), ["one two", "three"]);
        assert_eq!(in_rows("unbreakable, a", 3.0), ["unbreakable,", "a"]);
    }

    #[track_caller]
    fn takes(text: &str, limit: f64, lines: usize) {
        assert_eq!(lines_of(text, limit), lines, "{text:?} at {limit}");
    }

    #[test]
    fn text_breaks_between_words() {
        takes("", 10.0, 1);
        takes("one two", 10.0, 1);
        takes("some more words", 12.0, 2);
        takes("one\ntwo", 10.0, 2);
        takes("aaaaaaaaaaaaaaaaaaaaaaaaa", 10.0, 3);
        takes("WIDE WORDS", 10.0, 2);
    }
}
