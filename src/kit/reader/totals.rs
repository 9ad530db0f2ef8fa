//! A list's own totals, held against what its lines add up to.

/// What a row adds: its figure as it stands, over all its places, the pieces of all its items, one line,
/// and packs where it is in packs. A total may be of any.
type Figures = [u64; 5];

/// What the lines add up to: of the whole list, and since its last title and its last total.
#[derive(Default)]
pub(super) struct Totals {
    all: Sum,
    since_title: Sum,
    since_total: Sum,
}

#[derive(Default, Clone)]
struct Sum {
    figures: Figures,
    /// A line among them has no figure.
    open: bool,
}

impl Sum {
    fn add(&mut self, figures: Option<Figures>) {
        match figures {
            Some(figures) => {
                for (sum, figure) in self.figures.iter_mut().zip(figures) {
                    *sum = sum.saturating_add(figure);
                }
            }
            None => self.open = true,
        }
    }
}

impl Totals {
    /// Adds a row: its figure, at how many places, the pieces of all its items, and its packs.
    pub fn line(
        &mut self,
        each: Option<u64>,
        places: u32,
        pieces: Option<u64>,
        packs: Option<u64>,
    ) {
        let figures = each.zip(pieces).map(|(each, pieces)| {
            let over_places = each.saturating_mul(u64::from(places));
            [each, over_places, pieces, 1, packs.unwrap_or(each)]
        });
        for sum in [&mut self.all, &mut self.since_title, &mut self.since_total] {
            sum.add(figures);
        }
    }

    /// A title stands here: of a stage, a bag or a box.
    pub fn title(&mut self) {
        self.since_title = Sum::default();
    }

    /// Of how many lines a figure is the sum, where they are enough for that to be no chance: of these to
    /// the list's start, to the last title or to the last total.
    pub fn lines_summed(&self, figure: u64) -> Option<u64> {
        const ENOUGH: u64 = 4;
        const MANY: u64 = 20;
        let sums = [&self.since_total, &self.since_title, &self.all];
        let is_sum = |sum: &&&Sum| {
            !sum.open && sum.figures[3] >= ENOUGH && sum.figures[..3].contains(&figure)
        };
        let found = sums.iter().find(is_sum).filter(|_| figure >= MANY);
        found.map(|sum| sum.figures[3])
    }

    /// Holds a stated total against the lines. Where it is none of their sums, gives the nearest.
    pub fn differs(&mut self, stated: u64) -> Option<u64> {
        let since_total = std::mem::take(&mut self.since_total);
        let sums = [&self.all, &self.since_title, &since_total];
        let known = |sum: &&&Sum| !sum.open && sum.figures[3] > 0;
        let of = |figures: fn(&Sum) -> &[u64]| -> Vec<u64> {
            let known = sums.iter().filter(known);
            known.flat_map(|sum| figures(sum)).copied().collect()
        };
        let right = of(|sum| &sum.figures).contains(&stated);
        let sure = sums.iter().all(|sum| !sum.open);
        let nearest = of(|sum| &sum.figures[..3])
            .into_iter()
            .min_by_key(|sum| sum.abs_diff(stated));
        nearest.filter(|_| sure && !right)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(rows: &[(u64, u32)]) -> Totals {
        let mut totals = Totals::default();
        for &(each, places) in rows {
            totals.line(Some(each), places, Some(each * u64::from(places)), None);
        }
        totals
    }

    #[test]
    fn totals_of_lines() {
        for right in [14, 26, 2] {
            assert_eq!(of(&[(8, 1), (6, 3)]).differs(right), None, "{right}");
        }
        assert_eq!(of(&[(8, 1), (6, 1)]).differs(16), Some(14));
        // Of a stage, of the list, and of what stands since the last total.
        let mut totals = of(&[(8, 1)]);
        assert_eq!(totals.differs(8), None);
        totals.title();
        totals.line(Some(6), 1, Some(6), None);
        assert_eq!(totals.differs(6), None);
        assert_eq!(totals.differs(14), None);
        assert_eq!(totals.differs(13), Some(14));
        // Nothing is known of a line without a figure.
        let mut totals = of(&[(8, 1)]);
        totals.line(None, 1, None, None);
        assert_eq!(totals.differs(12), None);
        assert_eq!(Totals::default().differs(12), None);
        // A figure by itself.
        let totals = of(&[(8, 1), (6, 1), (4, 1), (2, 3)]);
        assert_eq!(totals.lines_summed(24), Some(4));
        assert_eq!(totals.lines_summed(20), Some(4));
        assert_eq!(totals.lines_summed(22), None);
        assert_eq!(of(&[(8, 1), (16, 1)]).lines_summed(24), None);
        // What a till sells counts a pack as one.
        let mut totals = of(&[(8, 1)]);
        totals.line(Some(50), 1, Some(50), Some(1));
        assert_eq!(totals.differs(9), None);
        assert_eq!(totals.differs(10), Some(58));
    }
}
