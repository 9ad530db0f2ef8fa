//! How the cells of an xlsx show their figures, where that says more than the figures do: `0" doz"` shows `2 doz`
//! (ECMA-376-1, 18.8.30 and 18.8.31).

use std::collections::HashMap;

use quick_xml::events::Event;
use rustc_hash::FxBuildHasher;

use super::{
    broken::Found,
    marks::format_of,
    sheet_rows::Value,
    tag_values::{number, text},
};

/// The number formats of a workbook that say words, or that divide what they show.
#[derive(Default)]
pub struct Formats {
    /// By their own number.
    codes: HashMap<u64, Box<str>, FxBuildHasher>,
    /// By the place of a format of cells among all.
    of_cells: HashMap<u64, Box<str>, FxBuildHasher>,
    cells: u64,
    in_cells: bool,
}

impl Formats {
    /// Takes what comes by in the part that holds the styles.
    pub fn style(&mut self, event: &Event<'_>) -> Found<()> {
        match event {
            Event::Start(tag) => match tag.local_name().as_ref() {
                "numFmt" => {
                    let id = number(tag, "numFmtId")?;
                    if let (Some(id), Some(code)) = (id, text(tag, "formatCode")?)
                        && says_more(&code)
                    {
                        self.codes.insert(id, code.into());
                    }
                }
                "cellXfs" => self.in_cells = true,
                "xf" if self.in_cells => {
                    let id = number(tag, "numFmtId")?.unwrap_or(0);
                    if let Some(code) = self.codes.get(&id) {
                        self.of_cells.insert(self.cells, code.clone());
                    }
                    self.cells += 1;
                }
                _ => {}
            },
            Event::End(tag) if tag.local_name().as_ref() == "cellXfs" => self.in_cells = false,
            _ => {}
        }
        Ok(())
    }

    /// The number format of a cell that says more than its figure. `rest`: as in [`super::cut::Piece::Cell`].
    pub fn of_cell(&self, rest: &[u8]) -> Option<&str> {
        if self.of_cells.is_empty() {
            return None;
        }
        self.of_cells.get(&format_of(rest)).map(Box::as_ref)
    }

    /// What a cell with a whole number shows, where that says more.
    pub fn shown(&self, rest: &[u8], value: &Value<'_>) -> Option<String> {
        /// Whole numbers up to here are held exactly: 2 to the power of 53.
        const EXACT: f64 = 9_007_199_254_740_992.0;
        let figure = match value {
            Value::Integer(figure) => u64::try_from(*figure).ok()?,
            Value::Number(figure) if *figure >= 0.0 && *figure < EXACT && figure.fract() == 0.0 => {
                *figure as u64
            }
            _ => return None,
        };
        shown(self.of_cell(rest)?, figure)
    }
}

/// One section of a number format, in the order in which it is written.
#[derive(Debug, PartialEq)]
enum Piece {
    Words(String),
    /// The figure, and by how often a thousand it is divided.
    Figure(u32),
}

/// The sections of a format: for what is above zero, below it, zero.
fn sections(code: &str) -> Vec<Vec<Piece>> {
    let mut sections = vec![Vec::new()];
    let mut chars = code.chars().peekable();
    let words = |pieces: &mut Vec<Piece>, more: &str| match pieces.last_mut() {
        Some(Piece::Words(words)) => words.push_str(more),
        _ => pieces.push(Piece::Words(more.to_owned())),
    };
    // Commas since the last digit.
    let mut commas = 0;
    while let Some(c) = chars.next() {
        let pieces = sections
            .last_mut()
            .expect("there is a section at all times");
        if c == ',' {
            commas += 1;
            continue;
        }
        let is_digit = matches!(c, '0' | '#' | '?' | '@');
        if !is_digit
            && commas > 0
            && let Some(Piece::Figure(thousands)) = pieces.last_mut()
        {
            *thousands = commas;
        }
        commas = 0;
        match c {
            ';' => sections.push(Vec::new()),
            '"' => {
                let quoted: String = chars.by_ref().take_while(|&c| c != '"').collect();
                words(pieces, &quoted);
            }
            '\\' => words(pieces, &chars.next().map(String::from).unwrap_or_default()),
            // A blank as wide as the next sign, or that sign again and again.
            '_' | '*' => {
                chars.next();
            }
            '[' => {
                let _ = chars.by_ref().take_while(|&c| c != ']').count();
            }
            '0' | '#' | '?' | '@' | 'G' => {
                // `General`
                while c == 'G' && chars.next_if(char::is_ascii_lowercase).is_some() {}
                if !matches!(pieces.last(), Some(Piece::Figure(_))) {
                    pieces.push(Piece::Figure(0));
                }
            }
            // `0.00`, `0E+00`, `# ?/?` are one figure each.
            '.' | '/' | 'E' | '+' if matches!(pieces.last(), Some(Piece::Figure(_))) => {}
            ' ' if matches!(chars.peek(), Some('?' | '#' | '0')) => {}
            c => words(pieces, &c.to_string()),
        }
    }
    if let (Some(Piece::Figure(thousands)), 1..) =
        (sections.last_mut().and_then(|s| s.last_mut()), commas)
    {
        *thousands = commas;
    }
    sections
}

fn has_letters(pieces: &[Piece]) -> bool {
    pieces.iter().any(|piece| match piece {
        Piece::Words(words) => words.contains(char::is_alphanumeric),
        Piece::Figure(thousands) => *thousands > 0,
    })
}

/// True for a format of which a section says words or divides its figure.
fn says_more(code: &str) -> bool {
    sections(code).iter().any(|pieces| has_letters(pieces))
}

/// What a format makes of a whole number, where that says more than the figure.
fn shown(code: &str, figure: u64) -> Option<String> {
    let sections = sections(code);
    let pieces = match (figure, sections.get(2)) {
        (0, Some(of_zero)) => of_zero,
        _ => &sections[0],
    };
    if !has_letters(pieces) {
        return None;
    }
    let mut text = String::new();
    for piece in pieces {
        match piece {
            Piece::Words(words) => text.push_str(words),
            Piece::Figure(0) => text.push_str(&figure.to_string()),
            Piece::Figure(thousands) => {
                text.push_str(&format!(
                    "{figure} / {}",
                    "1000 ".repeat(*thousands as usize).trim_end()
                ));
            }
        }
    }
    Some(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_as_they_are_shown() {
        #[track_caller]
        fn case(code: &str, figure: u64, expected: Option<&str>) {
            assert_eq!(shown(code, figure).as_deref(), expected, "{code}");
        }
        case("0\" doz\"", 2, Some("2 doz"));
        case("#,##0\" pr\"", 1200, Some("1200 pr"));
        case("\"2 x \"0", 12, Some("2 x 12"));
        case("0\" boxes of 12\"", 2, Some("2 boxes of 12"));
        case("0\\ \\d\\o\\z", 2, Some("2 doz"));
        case("General\" doz\"", 2, Some("2 doz"));
        case("[Red]0\" doz\";[Blue]-0\" doz\"", 2, Some("2 doz"));
        case("0;-0;\"none\"", 0, Some("none"));
        case("0;-0;\"none\"", 4, None);
        case("\"see note\"", 4, Some("see note"));
        case("0,", 24000, Some("24000 / 1000"));
        case("#,##0,,", 24_000_000, Some("24000000 / 1000 1000"));
        for plain in [
            "General",
            "0",
            "#,##0",
            "#,##0.00",
            "0.00E+00",
            "# ?/?",
            "# ??/??",
            "@",
            "0%",
            "\"$\"#,##0",
            "_(* #,##0_);_(* \\(#,##0\\);_(* \"-\"_);_(@_)",
            "[$-407]#,##0",
            "# ##0",
            "00000",
        ] {
            case(plain, 24, None);
            case(plain, 0, None);
        }
    }
}
