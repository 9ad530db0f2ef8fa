//! Boxes and marks in front of a text's lines, ticked where the pieces are there: `[x] 4 legs` over `[ ] 8 nuts`
//! (common practice, no source).

use super::{
    super::{line::Aside, role::Role},
    Reader,
};
use crate::source::Row;

const TICKED: &[&str] = &["[x]", "[X]", "\u{2611}", "\u{2713}", "\u{2714}", "\u{2705}"];
const OPEN: &[&str] = &["[ ]", "\u{2610}", "\u{2717}", "\u{2718}", "\u{274c}"];

/// So many ticks tell that they mean something.
const ENOUGH: usize = 2;

/// True where the first lines of a text bear ticks.
pub(super) fn are_usual(head: &[Row]) -> bool {
    let ticked = head.iter().filter(|row| begins(&row.joined(), TICKED));
    ticked.count() >= ENOUGH
}

/// True where several lines bear a box that is open: those are boxes to tick, or nobody ticked them.
pub(super) fn are_boxed(head: &[Row]) -> bool {
    let open = head.iter().filter(|row| begins(&row.joined(), OPEN));
    open.count() >= ENOUGH
}

fn begins(text: &str, marks: &[&str]) -> bool {
    let text = text.trim_start_matches(|c: char| c.is_whitespace() || "-*>\u{2022}".contains(c));
    marks.iter().any(|mark| text.starts_with(mark))
}

impl Reader<'_> {
    /// Why a line of a slip or a count whose box is open, or crossed, is not summed where others are ticked.
    pub(super) fn unticked(&self, row: &Row) -> Option<Aside> {
        let says = matches!(
            self.list.role,
            Role::Shipped | Role::Counted | Role::LeftOver
        );
        (says && self.usual.ticked && begins(&row.joined(), OPEN))
            .then(|| Aside::InWords("it is not ticked, and others are".into()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_among_lines() {
        #[track_caller]
        fn case(lines: &[&str], expected: bool) {
            let rows = (1..).zip(lines).map(|(at, line)| Row::of_text(at, line));
            assert_eq!(are_usual(&rows.collect::<Vec<_>>()), expected);
        }
        case(&["- [x] 4 legs", "- [X] 2 rails", "- [ ] 8 nuts"], true);
        case(&["\u{2713} 4 legs", "\u{2714} 2 rails"], true);
        case(&["[ ] 4 legs", "[ ] 2 rails", "[ ] 8 nuts"], false);
        case(&["4 legs", "2 rails [x]"], false);
    }
}
