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
    pub rows: Vec<(u32, u32)>,
}

/// Evidence, one entry a sheet. Of an item, its findings and its claim most rest on the same rows, so that
/// copies share them.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Rows(Option<Arc<Vec<Evidence>>>);

impl Rows {
    /// A row by itself.
    pub fn of(list: usize, sheet: u16, row: u32) -> Rows {
        let mut rows = Rows::default();
        rows.push(list, sheet, row);
        rows
    }

    /// Adds a row, as part of the last run where it follows on.
    pub fn push(&mut self, list: usize, sheet: u16, row: u32) {
        let sheet = usize::from(sheet);
        let evidence = self.to_mut();
        match evidence.last_mut() {
            Some(last) if last.list == list && last.sheet == sheet => match last.rows.last_mut() {
                Some((first, end)) if (*first..=end.saturating_add(1)).contains(&row) => {
                    *end = (*end).max(row);
                }
                _ => last.rows.push((row, row)),
            },
            _ => evidence.push(Evidence {
                list,
                sheet,
                rows: vec![(row, row)],
            }),
        }
    }

    /// Adds the rows of another list.
    pub fn append(&mut self, other: Rows) {
        match self.is_empty() {
            true => *self = other,
            false => self.to_mut().extend_from_slice(&other),
        }
    }

    /// Sorts evidence, one entry a sheet, runs in order and joined.
    pub fn fold(&mut self) {
        if self.is_empty() {
            return;
        }
        let all = self.to_mut();
        all.sort_by_key(|e| (e.list, e.sheet));
        all.dedup_by(|next, kept| {
            let same = (next.list, next.sheet) == (kept.list, kept.sheet);
            if same {
                kept.rows.append(&mut next.rows);
            }
            same
        });
        for entry in all {
            if !entry.rows.is_sorted() {
                entry.rows.sort_unstable();
            }
            entry.rows.dedup_by(|next, kept| {
                let joins = next.0 <= kept.1.saturating_add(1);
                if joins {
                    kept.1 = kept.1.max(next.1);
                }
                joins
            });
        }
    }

    /// Several, each folded, as one.
    pub fn together<'a>(of: impl IntoIterator<Item = &'a Rows>) -> Rows {
        let mut of = of.into_iter().filter(|rows| !rows.is_empty());
        let Some(first) = of.next() else {
            return Rows::default();
        };
        let mut all = first.clone();
        let mut several = false;
        for rows in of {
            several = true;
            all.to_mut().extend_from_slice(rows);
        }
        if several {
            all.fold();
        }
        all
    }

    fn to_mut(&mut self) -> &mut Vec<Evidence> {
        Arc::make_mut(self.0.get_or_insert_default())
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
        Rows((!evidence.is_empty()).then(|| Arc::new(evidence)))
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
            rows: rows.to_vec(),
        };
        runs.iter().map(of).collect::<Vec<_>>().into()
    }

    #[test]
    fn runs_are_folded() {
        let mut all = Rows::default();
        for row in [4, 5, 9, 6, 7] {
            all.push(1, 0, row);
        }
        all.push(0, 0, 2);
        assert_eq!(all, rows(&[(1, &[(4, 5), (9, 9), (6, 7)]), (0, &[(2, 2)])]));
        all.fold();
        assert_eq!(all, rows(&[(0, &[(2, 2)]), (1, &[(4, 7), (9, 9)])]));
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
