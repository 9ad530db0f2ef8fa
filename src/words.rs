//! How names are compared and counts are worded: the same in every part of the program.

/// The form in which stages, places, options and uses are compared: lower case, white space folded.
pub fn fold(name: &str) -> String {
    let mut folded = String::with_capacity(name.len());
    for word in name.split_whitespace() {
        if !folded.is_empty() {
            folded.push(' ');
        }
        folded.push_str(&word.to_lowercase());
    }
    folded
}

/// `1 piece`, `24 pieces`: a count and its noun, with a plural in -s.
pub fn count(n: u64, noun: &str) -> String {
    match n {
        1 => format!("1 {noun}"),
        _ => format!("{n} {noun}s"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_fold() {
        assert_eq!(fold("  Handrail \t Mesh "), "handrail mesh");
        assert_eq!(fold(""), "");
    }

    #[test]
    fn one_piece_is_no_plural() {
        assert_eq!(count(1, "piece"), "1 piece");
        assert_eq!(count(0, "piece"), "0 pieces");
        assert_eq!(count(24, "piece"), "24 pieces");
    }
}
