//! A list's own totals, held against what its lines add up to.

use super::{super::line::Line, Reader, beside::count_behind};
use crate::{
    columns::furniture,
    notation::{Callout, describe},
};

/// What a row adds: its figure as it stands, over all its places, the pieces of all its items, one line,
/// and packs where it is in packs. A total may be of any.
type Figures = [u64; 5];

/// What the lines add up to: of the whole list, and what it came to at its last title and its last
/// total.
#[derive(Default)]
pub(super) struct Totals {
    all: Sums,
    at_title: Sums,
    at_total: Sums,
}

/// Sums of figures, which no list is long enough to take beyond their bounds, and how many lines among
/// them have none.
#[derive(Default, Clone)]
struct Sums {
    figures: [u128; 5],
    open: u64,
}

/// What some lines add up to.
struct Sum {
    figures: Figures,
    /// A line among them has no figure.
    open: bool,
}

/// What a figure is to the lines above.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Held {
    /// What they come to, since a title or the last total, or from the start.
    Sum,
    /// None of these; the nearest is so much.
    Differs(u64),
    /// There are none, or one of them has no figure.
    Unknown,
}

impl Sums {
    /// What came after so much.
    fn since(&self, before: &Sums) -> Sum {
        let since = |at: usize| self.figures[at] - before.figures[at];
        Sum {
            figures: std::array::from_fn(|at| u64::try_from(since(at)).unwrap_or(u64::MAX)),
            open: self.open > before.open,
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
        match each.zip(pieces) {
            Some((each, pieces)) => {
                let over_places = each.saturating_mul(u64::from(places));
                let figures = [each, over_places, pieces, 1, packs.unwrap_or(each)];
                for (sum, figure) in self.all.figures.iter_mut().zip(figures) {
                    *sum += u128::from(figure);
                }
            }
            None => self.all.open += 1,
        }
    }

    /// A title stands here: of a stage, a bag or a box.
    pub fn title(&mut self) {
        self.at_title.clone_from(&self.all);
    }

    /// Sums since the last total, since the last title, and of all lines.
    fn sums(&self) -> [Sum; 3] {
        [&self.at_total, &self.at_title, &Sums::default()].map(|before| self.all.since(before))
    }

    /// Of how many lines a figure is the sum, where they are enough for that to be no chance: of these to
    /// the list's start, to the last title or to the last total.
    ///
    /// `told`: its words are those of a sum, so that fewer lines and a small figure do.
    pub fn lines_summed(&self, figure: u64, told: bool) -> Option<u64> {
        const MANY: u64 = 20;
        let enough = if told { 2 } else { 4 };
        if figure < MANY && !told {
            return None;
        }
        let is_sum =
            |sum: &Sum| !sum.open && sum.figures[3] >= enough && sum.figures[..3].contains(&figure);
        let found = self.sums().into_iter().find(is_sum);
        found.map(|sum| sum.figures[3])
    }

    /// Of how many lines a figure is the sum of pieces, of the longest stretch where of several; none where it is no such.
    pub fn lines_to(&self, figure: u64) -> u64 {
        let sums = self.sums().into_iter();
        let are = sums.filter(|sum| !sum.open && sum.figures[..3].contains(&figure));
        are.map(|sum| sum.figures[3]).max().unwrap_or(0)
    }

    /// Holds a stated total against the lines.
    pub fn hold(&mut self, stated: u64) -> Held {
        let mut sums = self.sums();
        // The nearest of the longest stretch, where several are as near.
        sums.reverse();
        self.at_total.clone_from(&self.all);
        // What two lines have and a third lacks may be the sum of the two.
        let known = |sum: &&Sum| sum.figures[3] > u64::from(sum.open);
        let right = sums.iter().filter(known);
        let right = right.flat_map(|sum| sum.figures).any(|sum| sum == stated);
        let sure = sums.iter().all(|sum| !sum.open);
        let nearest = sums.iter().filter(known).flat_map(|sum| &sum.figures[..3]);
        let nearest = nearest.copied().min_by_key(|sum| sum.abs_diff(stated));
        match nearest {
            Some(_) if right => Held::Sum,
            Some(nearest) if sure => Held::Differs(nearest),
            _ => Held::Unknown,
        }
    }
}

impl Reader<'_> {
    /// A total that names one item: nothing where its lines come to as much, else why it is put aside.
    pub(super) fn total_of_item(&self, body: &str) -> Option<Option<Box<str>>> {
        if !furniture::is_total(body) {
            return self.total_of_words(body);
        }
        let label = |word: &&str| {
            let word = word.trim_end_matches(':').to_lowercase();
            ["total", "totals", "grand", "subtotal"].contains(&word.as_str())
        };
        let words: Vec<&str> = body
            .split_whitespace()
            .filter(|word| !label(word))
            .collect();
        let all = describe(&words.join(" "), self.notation).ok()?;
        let sized = |callout: &&Callout| callout.is_hardware() && callout.item.diameter.is_some();
        let callout = all.iter().find(sized)?;
        let of_item = |line: &&Line| {
            (self.list.reading_of(line)).is_some_and(|reading| reading.item == callout.item)
        };
        let lines = self.list.lines.iter().filter(of_item);
        let pieces =
            lines.filter_map(|line| Some(line.quantity?.saturating_mul(u64::from(line.places))));
        let sum = pieces.fold(0, u64::saturating_add);
        let stated = callout.quantity.map(|quantity| quantity.pieces);
        Some((stated != Some(sum) || all.len() > 1).then(|| {
            format!(
                "a total of one item, of which the lines above come to {sum}: it may be a line of its own"
            )
            .into()
        }))
    }

    /// A total of what plain words name: `total beams 5`, nothing where the lines above come to as much.
    fn total_of_words(&self, body: &str) -> Option<Option<Box<str>>> {
        let words = body.split_whitespace().next()?;
        let labels = ["total", "totals", "sum"];
        let stated = match labels.iter().any(|label| words.eq_ignore_ascii_case(label)) {
            true => count_behind(body, self.notation)?.1,
            false => return None,
        };
        let is_sum = self.totals.lines_summed(stated, true).is_some();
        Some(
            (!is_sum)
                .then(|| "a total of lines that come to another sum, or a line of its own".into()),
        )
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
            assert_eq!(of(&[(8, 1), (6, 3)]).hold(right), Held::Sum, "{right}");
        }
        assert_eq!(of(&[(8, 1), (6, 1)]).hold(16), Held::Differs(14));
        // Of a stage, of the list, and of what stands since the last total.
        let mut totals = of(&[(8, 1)]);
        assert_eq!(totals.hold(8), Held::Sum);
        totals.title();
        totals.line(Some(6), 1, Some(6), None);
        assert_eq!(totals.hold(6), Held::Sum);
        assert_eq!(totals.hold(14), Held::Sum);
        assert_eq!(totals.hold(13), Held::Differs(14));
        // Nothing is known of a line without a figure.
        let mut totals = of(&[(8, 1)]);
        totals.line(None, 1, None, None);
        assert_eq!(totals.hold(12), Held::Unknown);
        assert_eq!(Totals::default().hold(12), Held::Unknown);
        assert_eq!(totals.hold(8), Held::Unknown);
        totals.line(Some(6), 1, Some(6), None);
        assert_eq!(totals.hold(14), Held::Sum);
        // A figure by itself.
        let totals = of(&[(8, 1), (6, 1), (4, 1), (2, 3)]);
        assert_eq!(totals.lines_summed(24, false), Some(4));
        assert_eq!(totals.lines_summed(20, false), Some(4));
        assert_eq!(totals.lines_summed(22, false), None);
        assert_eq!(of(&[(8, 1), (16, 1)]).lines_summed(24, false), None);
        // Its words say so.
        assert_eq!(of(&[(8, 1), (9, 1)]).lines_summed(17, true), Some(2));
        // What a till sells counts a pack as one.
        let mut totals = of(&[(8, 1)]);
        totals.line(Some(50), 1, Some(50), Some(1));
        assert_eq!(totals.hold(9), Held::Sum);
        assert_eq!(totals.hold(10), Held::Differs(58));
    }
}
