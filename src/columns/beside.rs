//! A column beside the one that says how many, which may change it.

/// A column beside the count, by its heading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beside {
    pub column: u16,
    pub heading: Box<str>,
    pub says: Says,
}

/// What a column beside the count says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Says {
    /// More pieces, or fewer: spares, returned ones.
    More,
    /// So many that came before.
    Before,
    /// So many that are not there.
    Missing,
    /// The count once more.
    Again,
    /// 1 in most rows and 0 in the others: so many more, or whether they are there.
    Whether,
    /// A tick, or a word for yes or no: that of most rows.
    Mark(Box<str>),
}
