//! Cells of CSV that no spreadsheet takes for a formula.

/// Signs that a formula may begin with. Full-width ones are folded to these by some keyboards' programs, and a
/// bar begins a command in some (from memory).
const SIGNS: [char; 12] = [
    '=', '+', '-', '@', '|', '\t', '\r', '\n', '＝', '＋', '－', '＠',
];

/// A cell that no spreadsheet takes for a formula: one that begins as a formula does is marked as
/// text. CSV has no other way to say so.
pub fn inert(cell: &str) -> String {
    match cell.starts_with(SIGNS) {
        true => format!("'{cell}"),
        false => cell.to_owned(),
    }
}

/// What was written, without the mark of [`inert`].
pub fn written(cell: &str) -> &str {
    cell.strip_prefix('\'')
        .filter(|rest| rest.starts_with(SIGNS))
        .unwrap_or(cell)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_stay_text() {
        #[track_caller]
        fn case(text: &str, expected: &str) {
            assert_eq!(inert(text), expected);
            assert_eq!(written(&inert(text)), text);
        }
        case("=1+1", "'=1+1");
        case("+1", "'+1");
        case("-2+3", "'-2+3");
        case("@SUM(A1:A9)", "'@SUM(A1:A9)");
        case("＠SUM(A1:A9)", "'＠SUM(A1:A9)");
        case("|bracket", "'|bracket");
        case("\t=1+1", "'\t=1+1");
        case("1/2 x 6 hex bolt", "1/2 x 6 hex bolt");
        case("", "");
    }
}
