//! A numeral: `24`, `3-3/4`, `3¾`, `.75`, `3,75`.

use crate::hardware::{Length, Ratio};

/// How a numeral was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    Whole,
    /// `3/4`, less than 1 or not.
    Fraction,
    /// `3-3/4` or `3¾`.
    Mixed,
    /// With so many decimal places.
    Decimal(u8),
}

/// What stands before a numeral and is part of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Prefix {
    None,
    /// `M` of a metric size.
    Metric,
    /// `#` of a number size.
    Number,
}

/// A numeral and the bytes it takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Numeral {
    pub value: Ratio,
    pub shape: Shape,
    pub len: usize,
}

/// Numerals of more digits are no sizes and no counts; none overflows.
const MOST_DIGITS: usize = 9;

/// The vulgar fractions of Unicode in halves, quarters and eighths.
#[inline]
pub(super) const fn vulgar(c: char) -> Option<(i64, i64)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    })
}

/// The figure that a raised one stands for.
pub(super) const fn raised(c: char) -> Option<u32> {
    Some(match c {
        '¹' => 1,
        '²' => 2,
        '³' => 3,
        '\u{2070}' | '\u{2074}'..='\u{2079}' => c as u32 - 0x2070,
        _ => return None,
    })
}

/// A fraction of raised and lowered figures: `⁵⁄₁₆`. Raised figures alone are footnote marks.
fn typeset(text: &str) -> Option<Numeral> {
    let lowered = |c: char| matches!(c, '\u{2080}'..='\u{2089}').then(|| c as u32 - 0x2080);
    let (over, under) = text.split_once(is_slash)?;
    let end = under.find(|c| lowered(c).is_none()).unwrap_or(under.len());
    let over_digits: Option<Vec<u32>> = over.chars().map(raised).collect();
    let under_digits: Option<Vec<u32>> = under[..end].chars().map(lowered).collect();
    let plain: String = (over_digits?.into_iter().map(|d| d.to_string()))
        .chain(std::iter::once("/".into()))
        .chain(under_digits?.into_iter().map(|d| d.to_string()))
        .collect();
    let (value, len) = fraction(&plain, digits(&plain))?;
    let slash = text[over.len()..].chars().next()?.len_utf8();
    (len == plain.len()).then_some(Numeral {
        value,
        shape: Shape::Fraction,
        len: over.len() + slash + end,
    })
}

/// Hyphen, dashes and the minus sign.
#[inline]
pub(super) const fn is_dash(c: char) -> bool {
    matches!(c, '-' | '\u{2010}'..='\u{2015}' | '\u{2212}')
}

/// The slash and its typographic forms.
#[inline]
pub(super) const fn is_slash(c: char) -> bool {
    matches!(c, '/' | '\u{2044}' | '\u{2215}')
}

/// A length by itself: `1/4`, `1/4 in`, `3-1/2"`, `10 mm`. Inches where no unit is stated.
pub fn length(text: &str) -> Option<Length> {
    let text = text.trim();
    let Numeral { value, len, .. } = numeral(text, false)?;
    match text[len..].trim().trim_end_matches('.') {
        "" | "in" | "inch" | "inches" | "\"" | "\u{2033}" => Some(Length::Inch(value)),
        "mm" => Some(Length::Millimetre(value)),
        _ => None,
    }
}

/// The digits at the start of a text: how many, and their value where they do not overflow.
#[inline]
pub(super) fn digits(text: &str) -> (usize, i64) {
    let (mut len, mut value) = (0, 0);
    for digit in text.bytes().take_while(u8::is_ascii_digit) {
        len += 1;
        if len <= MOST_DIGITS {
            value = value * 10 + i64::from(digit - b'0');
        }
    }
    (len, value)
}

/// The fraction whose numerator stands at the start of a text, with a denominator of the inch rule,
/// and its length.
fn fraction(text: &str, (n, numer): (usize, i64)) -> Option<(Ratio, usize)> {
    let slash = text[n..].chars().next().filter(|&c| is_slash(c))?;
    let rest = &text[n + slash.len_utf8()..];
    let (d, denom) = digits(rest);
    if !(1..=3).contains(&n) || !(1..=3).contains(&d) {
        return None;
    }
    // A second slash makes it a date or a number of some other kind.
    if rest[d..].chars().next().is_some_and(is_slash) {
        return None;
    }
    if text.starts_with('0') {
        return None;
    }
    Some((of_the_rule(numer, denom)?, n + slash.len_utf8() + d))
}

/// A fraction of the inch rule in lowest terms.
#[inline]
fn of_the_rule(numer: i64, denom: i64) -> Option<Ratio> {
    if !matches!(denom, 2 | 4 | 8 | 16 | 32 | 64 | 128) || numer == 0 {
        return None;
    }
    // The denominator is a power of two.
    let twos = numer.trailing_zeros().min(denom.trailing_zeros());
    Some(Ratio::new_raw(numer >> twos, denom >> twos))
}

/// A fraction of the inch rule that is less than 1.
#[inline]
pub(super) fn proper(numer: i64, denom: i64) -> Option<Ratio> {
    of_the_rule(numer, denom).filter(|_| numer < denom)
}

/// A whole number and a fraction in lowest terms.
pub(super) fn mixed(whole: i64, part: Ratio) -> Ratio {
    let denom = *part.denom();
    Ratio::new_raw(whole * denom + part.numer(), denom)
}

/// The numeral at the start of a text.
pub(super) fn numeral(text: &str, decimal_comma: bool) -> Option<Numeral> {
    let first = text.chars().next()?;
    if let Some((n, d)) = vulgar(first) {
        return Some(Numeral {
            value: Ratio::new_raw(n, d),
            shape: Shape::Fraction,
            len: first.len_utf8(),
        });
    }
    if raised(first).is_some() {
        return typeset(text);
    }
    let (whole_len, whole) = digits(text);
    if let Some((value, len)) = fraction(text, (whole_len, whole)) {
        return Some(Numeral {
            value,
            shape: Shape::Fraction,
            len,
        });
    }
    let mark = |c: char| c == '.' || (decimal_comma && c == ',');
    if whole_len > MOST_DIGITS || (whole_len == 0 && !mark(first)) {
        return None;
    }
    let rest = &text[whole_len..];
    let next = rest.chars().next();
    if next.is_some_and(mark) {
        let (places, part) = digits(&rest[1..]);
        if places > 0 {
            // `.5` is 0.5.
            if whole_len.max(1) + places > MOST_DIGITS {
                return None;
            }
            let scale = 10i64.pow(places as u32);
            return Some(Numeral {
                value: Ratio::new(whole * scale + part, scale),
                shape: Shape::Decimal(places as u8),
                len: whole_len + 1 + places,
            });
        }
    }
    if whole_len == 0 {
        return None;
    }
    let numeral = |value: Ratio, shape, len| {
        Some(Numeral {
            value,
            shape,
            len: whole_len + len,
        })
    };
    let whole_value = Ratio::from_integer(whole);
    match next {
        Some(c) if is_dash(c) => {
            let rest = &rest[c.len_utf8()..];
            match fraction(rest, digits(rest)) {
                Some((part, len)) if part.numer() < part.denom() && whole > 0 => {
                    numeral(mixed(whole, part), Shape::Mixed, c.len_utf8() + len)
                }
                _ => numeral(whole_value, Shape::Whole, 0),
            }
        }
        // Thousands in groups of three: `1,000`.
        Some(',') if !decimal_comma && (1..=3).contains(&whole_len) => match digits(&rest[1..]) {
            (3, part) => numeral(Ratio::from_integer(whole * 1000 + part), Shape::Whole, 4),
            _ => numeral(whole_value, Shape::Whole, 0),
        },
        Some(c) => match vulgar(c) {
            Some((n, d)) => {
                let value = mixed(whole, Ratio::new_raw(n, d));
                numeral(value, Shape::Mixed, c.len_utf8())
            }
            None => numeral(whole_value, Shape::Whole, 0),
        },
        None => numeral(whole_value, Shape::Whole, 0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, (n, d): (i64, i64), shape: Shape, rest: &str) {
        let found = numeral(text, false).expect("a numeral");
        assert_eq!(
            (found.value, found.shape, &text[found.len..]),
            (Ratio::new(n, d), shape, rest),
            "{text}"
        );
    }

    #[test]
    fn lengths() {
        let inch = |n, d| Some(Length::Inch(Ratio::new(n, d)));
        assert_eq!(length("1/4"), inch(1, 4));
        assert_eq!(length(" 3-1/2 in. "), inch(7, 2));
        assert_eq!(length("1\""), inch(1, 1));
        assert_eq!(length("10 mm"), Some(Length::Millimetre(Ratio::from(10))));
        assert_eq!(length("1/4 x 2"), None);
        assert_eq!(length("short"), None);
    }

    #[test]
    fn numerals() {
        case("24", (24, 1), Shape::Whole, "");
        case("1,000 pcs", (1000, 1), Shape::Whole, " pcs");
        case("3/4", (3, 4), Shape::Fraction, "");
        case("3\u{2044}4", (3, 4), Shape::Fraction, "");
        case("¾", (3, 4), Shape::Fraction, "");
        case("⁵⁄₁₆ nuts", (5, 16), Shape::Fraction, " nuts");
        case("3-3/4 in", (15, 4), Shape::Mixed, " in");
        case("3–3/4", (15, 4), Shape::Mixed, "");
        case("3¾\"", (15, 4), Shape::Mixed, "\"");
        case("3.75", (15, 4), Shape::Decimal(2), "");
        case(".75", (3, 4), Shape::Decimal(2), "");
        case("1-8 x", (1, 1), Shape::Whole, "-8 x");
        case("1/2-13", (1, 2), Shape::Fraction, "-13");
        case("12. bolt", (12, 1), Shape::Whole, ". bolt");
        case("3/8/24", (3, 1), Shape::Whole, "/8/24");
        assert_eq!(numeral("1234567890", false), None);
        assert_eq!(numeral("x", false), None);
        assert_eq!(numeral("¹ see below", false), None);
        assert_eq!(
            numeral("3,75", true).map(|n| n.value),
            Some(Ratio::new(15, 4))
        );
    }
}
