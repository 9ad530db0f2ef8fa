//! Titles that are numbered in turn, without a mark behind the number: `1 Frame`, `2 Roof` (common practice, no
//! source). By itself such a line may as well be one frame, two roofs.

use crate::{columns::furniture, source::Row};

/// So many titles make an order.
const ENOUGH: usize = 2;

/// The number of a line that may be such a title.
pub(super) fn numbered(text: &str) -> Option<u32> {
    let title = furniture::unmark(text);
    let figures = title.bytes().take_while(u8::is_ascii_digit).count();
    let (number, words) = title.split_at(figures);
    let is_title = words.starts_with(' ') && furniture::bare_title(words.trim_start()).is_some();
    number.parse().ok().filter(|_| is_title)
}

/// True where the first lines of a text hold titles numbered from 1 in turn, each with other lines below it and,
/// but for the first, a blank one above: a list may begin with one frame, and go on with two posts.
pub(super) fn are_numbered(head: &[Row]) -> bool {
    let texts: Vec<String> = head.iter().map(Row::joined).collect();
    let titles: Vec<(usize, u32)> = (texts.iter().enumerate())
        .filter_map(|(at, text)| Some((at, numbered(text)?)))
        .collect();
    let in_turn = titles
        .iter()
        .zip(1..)
        .all(|((_, number), turn)| *number == turn);
    let blank = |at: usize| texts.get(at).is_none_or(|text| text.trim().is_empty());
    let apart = titles.iter().skip(1).all(|(at, _)| blank(at - 1));
    let with_lines = titles.iter().all(|(at, _)| !blank(at + 1));
    titles.len() >= ENOUGH && in_turn && apart && with_lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(lines: &[&str], expected: bool) {
        let head: Vec<Row> = lines
            .iter()
            .zip(1..)
            .map(|(line, at)| Row::of_text(at, line))
            .collect();
        assert_eq!(are_numbered(&head), expected);
    }

    #[test]
    fn titles_or_counts() {
        case(
            &["Shelter", "1 Frame", "4 posts", "", "2 Roof", "6 sheets"],
            true,
        );
        case(
            &["1 Frame", "Bolt the rails on.", "", "2 Roof", "Lay it."],
            true,
        );
        case(&["1 Frame", "2 Posts", "4 Rails"], false);
        case(&["1 Frame", "4 M8 nuts", "2 Posts", "8 M10 nuts"], false);
        case(&["1 Frame", "4 posts", "", "3 Roofs", "6 sheets"], false);
        case(&["1 Frame", "4 posts"], false);
    }
}
