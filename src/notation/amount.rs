//! Quantity cells: `24`, `24 ea`, `2 bags of 25`, `twelve (12)`, `AR`.

use super::{
    callout::{Amount, Notation, Quantity},
    fold::{is_blank, is_space},
    number::{Prefix, Shape},
    token::{Tok, tokens},
    words::{Row, Sense},
};
use crate::hardware::Ratio;

/// More pieces than this in one cell are a slip of the keyboard.
const MOST: u64 = 10_000_000;

/// Signs that stand for a minus or leave a count open.
const DASHES: [char; 7] = [
    '-', '\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}', '\u{2014}', '\u{2212}',
];

/// Reads a quantity cell: `24`, `24 ea`, `2 bags of 25`, `twelve (12)`, `AR`.
pub fn amount(text: &str, notation: Notation) -> Amount {
    let text = text.trim_matches(is_space);
    // The common cell first: digits and nothing else.
    if !text.is_empty() && text.len() <= 7 && text.bytes().all(|b| b.is_ascii_digit()) {
        return text.parse().map_or(Amount::Bad, |pieces| {
            Amount::Pieces(Quantity {
                pieces,
                packs: None,
            })
        });
    }
    // A figure typed as text: `'12`, `"12"`.
    let typed = text.trim_matches(['\'', '"', '\u{2019}', '\u{201c}', '\u{201d}']);
    let quoted = text.starts_with('\'') || text.len() - typed.len() > 1;
    if quoted && !typed.is_empty() && typed.bytes().all(|b| b.is_ascii_digit()) {
        return amount(typed, notation);
    }
    if is_blank(text) {
        // A dash leaves the count open; a tick or tally strokes are no figure.
        let is_open = |c: char| is_space(c) || DASHES.contains(&c) || "._/".contains(c);
        return match text.chars().all(is_open) {
            true => Amount::Blank,
            false => Amount::Bad,
        };
    }
    // `<8`, `~8`, `8+`, `8?` bound a count or guess at it.
    if text.contains([
        '<', '>', '~', '\u{2248}', '\u{b1}', '?', '+', '&', '%', '!', '\u{2264}', '\u{2265}',
    ]) || text.ends_with('/')
    {
        return Amount::Bad;
    }
    // Less than nothing, by another dash.
    if let Some(rest) = text.strip_prefix(&DASHES[1..])
        && rest.starts_with(|c: char| c.is_ascii_digit())
    {
        return amount(&format!("-{rest}"), notation);
    }
    // A small m is the metre.
    let metres = text.strip_suffix('m').map(str::trim_end);
    if metres.is_some_and(|figure| figure.ends_with(|c: char| c.is_ascii_digit())) {
        return Amount::Bad;
    }
    // A point that parts thousands, where the decimal mark is a comma.
    if notation.decimal_comma && is_thousands(text) {
        return amount(&text.replace('.', ""), notation);
    }
    let plain: String = text
        .chars()
        .filter(|c| c.is_alphanumeric())
        .flat_map(char::to_lowercase)
        .collect();
    match plain.as_str() {
        "ar" | "asreq" | "asreqd" | "asrequired" | "asneeded" => return Amount::AsRequired,
        "ref" | "reference" => return Amount::Reference,
        "na" => return Amount::Blank,
        "nil" | "none" => {
            return Amount::Pieces(Quantity {
                pieces: 0,
                packs: None,
            });
        }
        _ => {}
    }
    read(text, notation).unwrap_or(Amount::Bad)
}

/// `1.000`, `12.500.000`.
fn is_thousands(text: &str) -> bool {
    let mut groups = text.split('.');
    let digits = |group: &str| group.bytes().all(|b| b.is_ascii_digit());
    let first = groups.next().unwrap_or_default();
    let mut more = groups.peekable();
    (1..=3).contains(&first.len())
        && digits(first)
        && more.peek().is_some()
        && more.all(|group| group.len() == 3 && digits(group))
}

fn read(text: &str, notation: Notation) -> Option<Amount> {
    let mut counts = Counts::default();
    let negative = text.starts_with(['-', '\u{2212}'])
        || (text.starts_with('(') && text[1..].starts_with(['-', '\u{2212}']))
        // Ledgers write the sign of a credit behind it.
        || text.ends_with(['-', '\u{2212}']);
    for token in tokens(text, notation) {
        match token.tok {
            Tok::Num {
                value,
                shape,
                prefix: Prefix::None,
            } => counts.number(value, shape)?,
            Tok::Word(row) => counts.word(row, text.get(token.start..token.end)?)?,
            Tok::Open => counts.said_again = true,
            Tok::Unknown => match text.get(token.start..token.end)? {
                // Before a figure it is no unit: `c. 12` is about twelve.
                _ if counts.first.is_none() => return None,
                "C" | "c" => counts.times(100)?,
                "M" | "m" => counts.times(1000)?,
                _ => return None,
            },
            Tok::Num { .. }
            | Tok::Count(_)
            | Tok::Code
            | Tok::Money
            | Tok::At
            | Tok::Inch
            | Tok::Foot => {
                return None;
            }
            _ => {}
        }
    }
    let quantity = counts.finish()?;
    Some(if negative {
        Amount::Credit(quantity.pieces)
    } else {
        Amount::Pieces(quantity)
    })
}

#[derive(Default)]
struct Counts {
    /// The first count; that of packs where a pack follows.
    first: Option<u64>,
    packed: bool,
    /// The pack size.
    size: Option<u64>,
    unit: Option<u64>,
    /// The first count is tens in words, and ones may follow: `forty-two`.
    tens: bool,
    /// What follows may say the count once more: a bracket opens, or one of the two is in words.
    said_again: bool,
}

impl Counts {
    fn number(&mut self, value: Ratio, shape: Shape) -> Option<()> {
        if !value.is_integer() || matches!(shape, Shape::Fraction | Shape::Mixed) {
            return None;
        }
        self.count(u64::try_from(value.to_integer()).ok()?)
    }

    fn count(&mut self, n: u64) -> Option<()> {
        match (self.first, self.packed, self.size) {
            (None, false, _) => self.first = Some(n),
            (_, true, None) => self.size = Some(n),
            // `twelve (12)` says the same count twice; `4 x 4` is a product.
            (Some(first), false, _) if first == n && self.said_again => {}
            _ => return None,
        }
        Some(())
    }

    fn count_in_words(&mut self, n: u64) -> Option<()> {
        self.said_again = true;
        if let (Some(tens), true, 1..=9) = (self.first, self.tens, n) {
            self.first = Some(tens + n);
            self.tens = false;
            return Some(());
        }
        self.tens =
            self.first.is_none() && !self.packed && n.is_multiple_of(10) && (20..100).contains(&n);
        self.count(n)
    }

    fn times(&mut self, n: u64) -> Option<()> {
        if self
            .unit
            .replace(n)
            .is_some_and(|unit| unit != 1 && unit != n)
        {
            return None;
        }
        Some(())
    }

    fn word(&mut self, row: &Row, written: &str) -> Option<()> {
        // A count in small letters; in capitals a carton as well (UN/ECE Recommendation 20, from memory).
        if written == "CT" && !self.packed {
            return None;
        }
        for sense in row.senses {
            match sense {
                Sense::Count(n) => return self.count_in_words(*n),
                Sense::Per(n) if *n > 1 || self.unit.is_none() => return self.times(*n),
                Sense::Metric(1000) => return self.times(1000),
                Sense::Pack => {
                    self.packed = true;
                    return Some(());
                }
                Sense::Per(_)
                | Sense::Each
                | Sense::Qty
                | Sense::Of
                | Sense::Noise
                | Sense::NumberWord
                | Sense::By => return Some(()),
                _ => {}
            }
        }
        None
    }

    fn finish(self) -> Option<Quantity> {
        let unit = self.unit.unwrap_or(1);
        let quantity = match (self.first, self.packed, self.size) {
            (first, true, Some(size)) => {
                let packs = first.unwrap_or(1);
                Quantity {
                    pieces: packs.checked_mul(size)?.checked_mul(unit)?,
                    packs: Some(packs),
                }
            }
            // `2 bags`: how many pieces is not said.
            (_, true, None) => return None,
            (Some(first), false, _) => Quantity {
                pieces: first.checked_mul(unit)?,
                packs: None,
            },
            // `a dozen`, `gross`.
            (None, false, _) if unit > 1 => Quantity {
                pieces: unit,
                packs: None,
            },
            _ => return None,
        };
        (quantity.pieces <= MOST).then_some(quantity)
    }
}
