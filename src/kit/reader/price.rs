//! Prices behind the lines of a receipt or an order (common practice, no source).

use crate::source::Row;

/// So many lines with a price behind make a habit.
const ENOUGH: usize = 3;

/// `0.12`, `$4.80`, `1,20`: with two decimals.
pub(super) fn is_price(cell: &str) -> bool {
    let figure = cell.trim_end_matches(|c: char| !c.is_ascii_digit());
    let decimals = figure.rsplit_once(['.', ',']).map(|(_, decimals)| decimals);
    let sign = |c: char| matches!(c, '.' | ',' | '$' | '\u{20ac}' | '\u{a3}' | ' ' | '-');
    decimals.is_some_and(|decimals| decimals.len() == 2)
        && cell.chars().all(|c| c.is_ascii_digit() || sign(c))
}

/// True where half of a text's lines, at least, end in one price and no more.
pub(super) fn are_behind(head: &[Row]) -> bool {
    let mut text = String::new();
    let mut lines = 0;
    let mut priced = 0;
    for row in head.iter().filter(|row| !row.is_empty()) {
        row.join_into(&mut text);
        lines += 1;
        let one = behind(&text).is_some_and(|(rest, _)| behind(rest).is_none());
        priced += usize::from(one);
    }
    priced >= ENOUGH && priced * 2 >= lines
}

/// A line without its price and its amount, where these prove each other by the count in front (`4 nuts 0.30
/// 1.20`), or without its one price, where that is usual.
pub(super) fn without(text: &str, usual: bool) -> &str {
    let Some((rest, amount)) = behind(text) else {
        return text;
    };
    match behind(rest) {
        Some((item, price)) if counted(item).and_then(|n| n.checked_mul(price)) == Some(amount) => {
            item
        }
        None if usual => rest,
        _ => text,
    }
}

/// The price behind a line, in its hundredths, and what stands before it. A size is none: `3/8 x 1.25`.
fn behind(text: &str) -> Option<(&str, u64)> {
    let (rest, last) = text.trim_end().rsplit_once(' ')?;
    let rest = rest.trim_end();
    let sized = rest.ends_with([' ', '/', '-']) || rest.ends_with(" x") || rest.ends_with(" X");
    let figures: String = last.chars().filter(char::is_ascii_digit).collect();
    let price = figures.parse().ok().filter(|_| is_price(last) && !sized)?;
    Some((rest, price))
}

/// How many stand in front.
fn counted(item: &str) -> Option<u64> {
    item.split_whitespace().next()?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_behind_lines() {
        #[track_caller]
        fn case(text: &str, usual: bool, expected: &str) {
            assert_eq!(without(text, usual), expected, "{text}");
        }
        case("2 post caps 1.89 3.78", false, "2 post caps");
        case("2 post caps .79 1.58", false, "2 post caps");
        case("3 post caps 1.89 3.78", false, "3 post caps 1.89 3.78");
        case("4 corner braces 50x50 3.20", true, "4 corner braces 50x50");
        case(
            "4 corner braces 50x50 3.20",
            false,
            "4 corner braces 50x50 3.20",
        );
        case("8 bolts 3/8 x 1.25", true, "8 bolts 3/8 x 1.25");
        case("8 bolts M8 x 40", true, "8 bolts M8 x 40");
    }
}
