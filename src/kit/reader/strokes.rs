//! Strokes of a tally, as a hand counts on a bench: `uprights IIII`, `clips |||| ||`. Common practice, no source.

use super::super::role::Role;
use crate::{Doubt, source::Row};

/// Signs by which a hand types four strokes and one across them.
const FIVES: &[&str] = &["HHT", "HHH", "HHI", "LHT", "THL", "\u{5344}"];

/// A row of a count whose last cell ends in a tally, with the figure in its place, and what is doubted of that.
pub(super) fn in_figures(row: &Row, role: Role) -> Option<(Row, Option<Doubt>)> {
    if !matches!(role, Role::Counted | Role::LeftOver | Role::Stock) {
        return None;
    }
    let cells: Vec<_> = row.cells().collect();
    let last = cells
        .iter()
        .rposition(|(cell, _)| !cell.trim().is_empty())?;
    let (words, pieces, doubt) = tally(cells[last].0)?;
    if words.is_empty() && last == 0 {
        return None;
    }
    let mut read = Row::default();
    read.start(row.number);
    for (at, (cell, kind)) in cells.iter().enumerate() {
        match at == last {
            true => read.push(format!("{words} {pieces}").trim(), *kind),
            false => read.push(cell, *kind),
        }
    }
    Some((read, doubt))
}

/// The words in front of a tally, how many it counts, and what is doubted of that.
fn tally(text: &str) -> Option<(&str, usize, Option<Doubt>)> {
    // Most lines end otherwise.
    let text = text.trim();
    if !text.ends_with(['I', '|', '/', 'T', 'H', 'L', '\u{5344}']) {
        return None;
    }
    let mut start = text.len();
    let mut groups = Vec::new();
    for group in text.rsplit(' ') {
        if !group.is_empty() {
            groups.push(strokes(group)?.max(1));
        }
        start -= group.len();
        let rest = text[..start].trim_end();
        if rest.rsplit(' ').next().and_then(strokes).is_none() {
            break;
        }
        start = rest.len();
    }
    let (words, written) = (text[..start].trim_end(), &text[start..]);
    let pieces: usize = groups.iter().sum();
    // `Beam I`
    if pieces < 2 {
        return None;
    }
    let fours = groups[1..].iter().filter(|group| **group == 4).count();
    let doubt = match () {
        () if fours > 0 => Some(Doubt::OrElse {
            pieces: (pieces + fours) as u64,
            said: format!(
                "\"{written}\" read as {pieces} strokes: may be {} where four stand for five",
                pieces + fours
            )
            .into(),
        }),
        () if written.contains(['H', '\u{5344}']) => Some(Doubt::HowMany(
            format!("\"{written}\" read as a tally of {pieces}").into(),
        )),
        // `Frame II`
        () if !words.is_empty() && pieces < 4 && written.starts_with('I') => Some(Doubt::HowMany(
            format!("\"{written}\" read as {pieces} strokes of a tally: it may be of the name")
                .into(),
        )),
        () => None,
    };
    Some((words, pieces, doubt))
}

/// The strokes of one group.
fn strokes(group: &str) -> Option<usize> {
    let group = group.trim_end_matches(',');
    let all = |stroke: char| group.chars().all(|c| c == stroke);
    match group.len() {
        1..=5 if all('I') || all('|') => Some(group.len()),
        3..=5 if all('/') => Some(group.len()),
        _ => FIVES.contains(&group).then_some(5),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::CellKind;

    #[test]
    fn strokes_of_a_tally() {
        #[track_caller]
        fn case(cells: &[&str], expected: Option<&str>) {
            let mut row = Row::default();
            for cell in cells {
                row.push(cell, CellKind::Text);
            }
            let found = in_figures(&row, Role::Counted).map(|(row, doubt)| {
                let doubt = doubt.map_or(String::new(), |doubt| format!(" ? {doubt}"));
                format!("{}{doubt}", row.joined())
            });
            assert_eq!(found.as_deref(), expected, "{cells:?}");
        }
        case(&["uprights IIII"], Some("uprights 4"));
        case(&["Shelves", "IIII"], Some("Shelves 4"));
        case(&["M8 x 40 bolts", "||||"], Some("M8 x 40 bolts 4"));
        case(&["Hinges", "II"], Some("Hinges 2"));
        case(
            &["clips |||| ||"],
            Some("clips 6 ? \"|||| ||\" read as 6 strokes: may be 7 where four stand for five"),
        );
        case(&["ties IIIII III"], Some("ties 8"));
        case(
            &["clips HHT II"],
            Some("clips 7 ? \"HHT II\" read as a tally of 7"),
        );
        case(
            &["Frame II"],
            Some("Frame 2 ? \"II\" read as 2 strokes of a tally: it may be of the name"),
        );
        for none in [
            "Beam I",
            "Rail 4",
            "hinges //",
            "T",
            "IIII",
            "SHELL",
            "MIII",
        ] {
            case(&[none], None);
        }
    }
}
