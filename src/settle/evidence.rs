//! The rows that something rests on.

use std::{ops::Deref, sync::Arc};

/// Lines of one sheet of one list, runs of rows folded.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Evidence {
    /// Index into the lists settled.
    pub list: usize,
    /// Index into that list's sheets.
    pub sheet: usize,
    /// Runs of rows, first and last, in order.
    pub rows: Box<[(u32, u32)]>,
}

/// Evidence, one entry a sheet, in order. Of an item, its findings and its claim most rest on the same
/// rows, so that copies share them.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Rows(Option<Arc<[Evidence]>>);

/// Rows of one sheet that follow on one another, before they are evidence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Run {
    list: usize,
    sheet: usize,
    first: u32,
    last: u32,
}

impl Run {
    /// A row by itself.
    pub fn row(list: usize, sheet: u16, row: u32) -> Run {
        Run {
            list,
            sheet: usize::from(sheet),
            first: row,
            last: row,
        }
    }

    fn is_on_sheet_of(&self, other: &Run) -> bool {
        (self.list, self.sheet) == (other.list, other.sheet)
    }
}

impl Rows {
    /// A row by itself.
    pub fn of(list: usize, sheet: u16, row: u32) -> Rows {
        Rows::from_iter([Run::row(list, sheet, row)])
    }

    fn runs(&self) -> impl Iterator<Item = Run> {
        self.iter().flat_map(|of| {
            of.rows.iter().map(|&(first, last)| Run {
                list: of.list,
                sheet: of.sheet,
                first,
                last,
            })
        })
    }

    /// Several as one.
    pub fn together<'a>(of: impl IntoIterator<Item = &'a Rows>) -> Rows {
        let mut of = of.into_iter().filter(|rows| !rows.is_empty());
        match (of.next(), of.next()) {
            (None, _) => Rows::default(),
            (Some(one), None) => one.clone(),
            (Some(one), Some(other)) => [one, other]
                .into_iter()
                .chain(of)
                .flat_map(Rows::runs)
                .collect(),
        }
    }
}

impl FromIterator<Run> for Rows {
    /// In any order; those that overlap or follow on are joined.
    fn from_iter<I: IntoIterator<Item = Run>>(runs: I) -> Rows {
        let mut runs: Vec<Run> = runs.into_iter().collect();
        if !runs.is_sorted() {
            runs.sort_unstable();
        }
        runs.dedup_by(|next, kept| {
            let joins = next.is_on_sheet_of(kept) && next.first <= kept.last.saturating_add(1);
            if joins {
                kept.last = kept.last.max(next.last);
            }
            joins
        });
        let of_sheet = |runs: &[Run]| Evidence {
            list: runs[0].list,
            sheet: runs[0].sheet,
            rows: runs.iter().map(|run| (run.first, run.last)).collect(),
        };
        let sheets = runs.chunk_by(Run::is_on_sheet_of).map(of_sheet);
        Rows((!runs.is_empty()).then(|| sheets.collect()))
    }
}

impl Deref for Rows {
    type Target = [Evidence];

    fn deref(&self) -> &[Evidence] {
        self.0.as_ref().map_or(&[], |rows| rows)
    }
}

impl From<Vec<Evidence>> for Rows {
    fn from(evidence: Vec<Evidence>) -> Rows {
        Rows((!evidence.is_empty()).then(|| evidence.into()))
    }
}

impl<'a> IntoIterator for &'a Rows {
    type Item = &'a Evidence;
    type IntoIter = std::slice::Iter<'a, Evidence>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(runs: &[(usize, &[(u32, u32)])]) -> Rows {
        let of = |(list, rows): &(usize, &[(u32, u32)])| Evidence {
            list: *list,
            sheet: 0,
            rows: (*rows).into(),
        };
        runs.iter().map(of).collect::<Vec<_>>().into()
    }

    #[test]
    fn runs_are_folded() {
        let of = [(1, 4), (1, 5), (1, 9), (1, 6), (1, 7), (0, 2), (1, 5)];
        let all: Rows = of
            .map(|(list, row)| Run::row(list, 0, row))
            .into_iter()
            .collect();
        assert_eq!(all, rows(&[(0, &[(2, 2)]), (1, &[(4, 7), (9, 9)])]));
        assert_eq!(Rows::from_iter([]), Rows::default());
    }

    #[test]
    fn rows_together() {
        let (one, other) = (
            rows(&[(0, &[(2, 4)])]),
            rows(&[(0, &[(3, 6)]), (1, &[(1, 1)])]),
        );
        let none = Rows::default();
        assert_eq!(Rows::together([&none, &one, &none]), one);
        assert_eq!(Rows::together([&none, &none]), none);
        let both = rows(&[(0, &[(2, 6)]), (1, &[(1, 1)])]);
        assert_eq!(Rows::together([&one, &other]), both);
        assert_eq!(Rows::together([&other, &one]), both);
    }
}
