//! What a part is known by.

use std::fmt;

/// What a part is known by; at least one of the two is there.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct PartName {
    /// The maker's number, as written, trimmed, in upper case.
    pub number: Option<Box<str>>,
    /// The description, white space folded, in lower case.
    pub description: Option<Box<str>>,
}

impl PartName {
    /// True where one part can bear both names: the numbers where both have one, else the
    /// descriptions.
    pub fn agrees(&self, other: &PartName) -> bool {
        match (&self.number, &other.number) {
            (Some(a), Some(b)) => a == b,
            _ => self.description.is_some() && self.description == other.description,
        }
    }
}

impl fmt::Display for PartName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let description = self.description.as_deref().unwrap_or_default();
        f.write_str(description)?;
        let gap = if description.is_empty() { "" } else { " " };
        // Letters and plain marks alone read back as they stand.
        let plain = |c: char| c.is_ascii_lowercase() || matches!(c, ' ' | ',' | '-' | '.');
        match &self.number {
            Some(number) => write!(f, "{gap}[part {number}]"),
            None if description.chars().all(plain) && !counts_itself(description) => Ok(()),
            None => write!(f, "{gap}[part]"),
        }
    }
}

/// True where a part's description holds a number in words, which would read as its count.
fn counts_itself(description: &str) -> bool {
    const NUMBERS: &[&str] = &[
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
        "twenty",
        "thirty",
        "forty",
        "fifty",
        "sixty",
        "seventy",
        "eighty",
        "ninety",
    ];
    let mut words = description.split(|c: char| !c.is_alphanumeric());
    words.any(|word| NUMBERS.contains(&word))
}
