//! Values by the number that each belongs to, side by side in one place.

/// Values of so many numbers, each in the order in which they came.
#[derive(Debug, Default)]
pub struct Grouped<T> {
    /// Where the values of each number end.
    ends: Vec<u32>,
    values: Vec<T>,
}

impl<T: Copy + Default + Ord> Grouped<T> {
    /// Sorts pairs of number and value by their number, below `count`. They are gone over twice.
    pub fn by(count: usize, pairs: impl Iterator<Item = (usize, T)> + Clone) -> Grouped<T> {
        let mut ends = vec![0; count];
        for (number, _) in pairs.clone() {
            ends[number] += 1;
        }
        let mut sum = 0;
        for end in &mut ends {
            // Each is the start of its values, until these are put in their places.
            sum += std::mem::replace(end, sum);
        }
        let mut values = vec![T::default(); sum as usize];
        for (number, value) in pairs {
            let place = &mut ends[number];
            values[*place as usize] = value;
            *place += 1;
        }
        Grouped { ends, values }
    }

    /// The same with each value once, in order.
    pub fn sets(mut self) -> Grouped<T> {
        let (mut start, mut kept) = (0, 0);
        for end in &mut self.ends {
            let values = start..*end as usize;
            start = values.end;
            self.values[values.clone()].sort_unstable();
            let first = kept;
            for at in values {
                if kept == first || self.values[kept - 1] != self.values[at] {
                    self.values[kept] = self.values[at];
                    kept += 1;
                }
            }
            *end = kept as u32;
        }
        self.values.truncate(kept);
        self
    }

    fn range(&self, number: usize) -> std::ops::Range<usize> {
        let start = number.checked_sub(1).map_or(0, |before| self.ends[before]);
        start as usize..self.ends[number] as usize
    }

    pub fn of(&self, number: usize) -> &[T] {
        &self.values[self.range(number)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_stay_in_order() {
        let pairs = [(2, 'a'), (0, 'b'), (2, 'c'), (2, 'a')];
        let grouped = Grouped::by(4, pairs.into_iter());
        let all: Vec<&[char]> = (0..4).map(|number| grouped.of(number)).collect();
        assert_eq!(all, [&['b'][..], &[], &['a', 'c', 'a'], &[]]);
        let sets = grouped.sets();
        let all: Vec<&[char]> = (0..4).map(|number| sets.of(number)).collect();
        assert_eq!(all, [&['b'][..], &[], &['a', 'c'], &[]]);
    }
}
