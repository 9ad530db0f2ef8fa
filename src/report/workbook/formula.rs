//! What formulas are made of.

use rust_xlsxwriter::{ColNum, RowNum, utility};

/// Characters of a text in a formula.
const LITERAL: usize = 255;

/// A formula and the value that it has now.
pub struct Cell {
    pub formula: String,
    pub value: String,
}

/// A range of one column of a sheet, for a formula.
pub fn range(sheet: &str, first: RowNum, last: RowNum, column: ColNum) -> String {
    let cells = utility::cell_range_absolute(first, column, last, column);
    format!("'{sheet}'!{cells}")
}

/// A text in a formula; `None` where it is longer than a formula may hold.
pub fn literal(text: &str) -> Option<String> {
    (text.chars().count() <= LITERAL).then(|| format!("\"{}\"", text.replace('"', "\"\"")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_in_a_formula_is_quoted_or_refused() {
        assert_eq!(literal("say \"no\"").unwrap(), "\"say \"\"no\"\"\"");
        assert!(literal(&"x".repeat(LITERAL)).is_some());
        assert!(literal(&"x".repeat(LITERAL + 1)).is_none());
    }
}
