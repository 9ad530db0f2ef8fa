//! The ways to read a run: which of its numerals count, and which are the size.

use super::{
    Mend, Numeral,
    NumeralKind::{self, Article, Fraction, Mixed, Whole, Word},
    Parse, Size,
};
use crate::{
    hardware::{Diameter, Ratio, Thread, thread},
    notation::number::Shape,
};

/// What stands about a run.
#[derive(Debug)]
pub(super) struct Context {
    /// A count may stand in front.
    pub leads: bool,
    /// Nothing but marks stands before.
    pub first: bool,
    /// A dash with figures, or a slash, follows: the last numeral belongs to it.
    pub dashed: bool,
    /// A word, or a mark of a size, follows.
    pub goes_on: bool,
    /// The name of a thread series follows: `1/2 13 UNC` is no slip.
    pub series: bool,
    /// The figures are said to be a diameter.
    pub dia: bool,
    /// The figures behind are said to be a length or an outside diameter.
    pub measured: bool,
    /// `x` or `by` follows.
    pub joined: bool,
    /// A nut or washer is what is counted.
    pub short: bool,
    /// Each size is told, whether or not pieces have it.
    pub every: bool,
    /// It is a bolt, a nut or a washer.
    pub by_size: bool,
    /// Threads per inch behind a dash.
    pub threads: Option<Ratio>,
}

impl Context {
    /// A lone fraction or mixed number into which a count may have run: `243/8`, `24-1/2`.
    pub fn tight(&self, numeral: Numeral) -> Vec<Parse> {
        let value = numeral.value;
        let odd = |value: Ratio| !Diameter::Inch(value).is_standard();
        if !self.leads || self.dia || self.measured || self.dashed || value.numer() < value.denom()
        {
            return Vec::new();
        }
        let parse = |count: Option<i64>, value: Option<(Ratio, Shape)>, mended: &[Mend]| Parse {
            dropped: 0,
            count: count.and_then(|n| u64::try_from(n).ok()).map(|n| (n, 1)),
            size: Size {
                len: 1,
                value,
                thread: None,
            },
            mended: mended.to_vec(),
            with_unit: false,
        };
        match numeral.kind {
            // `twenty one and a half`: 21 of 1/2, or 20 of 1-1/2.
            Mixed if let Some(unit) = numeral.unit => {
                let ten = value.to_integer() - unit;
                let counted = |n, size, shape| parse(Some(n), Some((size, shape)), &[]);
                vec![
                    counted(ten + unit, value.fract(), Shape::Fraction),
                    counted(ten, value.fract() + unit, Shape::Mixed),
                ]
            }
            // `24-1/2" nuts`, where no nut is for 24-1/2.
            Mixed if odd(value) && !odd(value.fract()) && (self.joined || self.short) => {
                let counted = Some((value.fract(), Shape::Fraction));
                let whole = Some(value.to_integer());
                if self.joined {
                    // `5-1/2 x 1/2` may stand the wrong way round.
                    vec![
                        parse(whole, counted, &[Mend::Tight]),
                        parse(None, None, &[]),
                    ]
                } else {
                    vec![parse(whole, counted, &[])]
                }
            }
            Fraction => {
                let mut parses = Vec::new();
                // 243/8 is 24 times 10 and 3 over 8.
                if let Some((numer, d)) = numeral.written {
                    for digits in [10, 100] {
                        let (n, rest) = (numer / digits, numer % digits);
                        let proper = rest % 2 == 1 && rest < d && rest >= digits / 10;
                        if !(1..100).contains(&n) || !proper {
                            continue;
                        }
                        let part = Ratio::new(rest, d);
                        let counted = Some((part, Shape::Fraction));
                        parses.push(parse(Some(n), counted, &[Mend::Tight]));
                        if thread::is_threaded_size(Diameter::Inch(part + n)) {
                            let mixed = Some((part + n, Shape::Mixed));
                            parses.push(parse(None, mixed, &[Mend::Tight]));
                        }
                    }
                }
                parses
            }
            _ => Vec::new(),
        }
    }

    pub fn parses(&self, numerals: &[Numeral]) -> Vec<Parse> {
        let mut parses = match self.plainly_counted(numerals) {
            Some(parse) => vec![parse],
            None => self.weighed(numerals),
        };
        parses.extend(self.counted_with_unit(numerals));
        parses
    }

    /// `twenty one quarter`, `twenty one quarter twenty`: 21 of a quarter, beside 20 of one quarter.
    fn counted_with_unit(&self, numerals: &[Numeral]) -> Option<Parse> {
        let [count, rest @ ..] = numerals else {
            return None;
        };
        let first = rest.first()?;
        let unit = first
            .unit
            .filter(|_| first.kind == Fraction && self.leads)?;
        let ten = count.whole().filter(|ten| {
            count.spoken && !first.parted && (20..100).contains(ten) && ten % 10 == 0
        })?;
        let whole =
            |(size, mended): &(Size, Vec<Mend>)| size.len == rest.len() && mended.is_empty();
        let (size, _) = self.sizes(rest).into_iter().find(whole)?;
        Some(Parse {
            dropped: 0,
            count: Some((u64::try_from(ten + unit).ok()?, 1)),
            size: Size {
                value: Some((first.value / unit, Shape::Fraction)),
                ..size
            },
            mended: Vec::new(),
            with_unit: true,
        })
    }

    /// `24 1/2 nuts`, `8 M12 bolts`: a count and a size that can be nothing else. The same comes out
    /// where every way is tried.
    fn plainly_counted(&self, numerals: &[Numeral]) -> Option<Parse> {
        let [count, size] = numerals else { return None };
        let pieces = u64::try_from(count.whole()?).ok()?;
        let mixed = match size.kind {
            NumeralKind::Size => false,
            Fraction => count.figure().is_some() && size.value.numer() < size.value.denom(),
            _ => return None,
        };
        let is_one_size = || {
            let value = Diameter::Inch(size.value + count.value);
            self.measured || self.is_threaded(value)
        };
        if self.every || pieces == 0 || !self.leads || size.parted || (mixed && is_one_size()) {
            return None;
        }
        Some(Parse {
            dropped: 0,
            count: Some((pieces, 1)),
            size: Size {
                len: 1,
                value: None,
                thread: None,
            },
            mended: Vec::new(),
            with_unit: false,
        })
    }

    /// True where a diameter has the threads that are stated, or any.
    fn is_threaded(&self, diameter: Diameter) -> bool {
        self.threads.map_or_else(
            || thread::is_threaded_size(diameter),
            |n| thread::is_standard(diameter, Thread::PerInch(n)),
        )
    }

    /// The ways that are left where every way is tried.
    fn weighed(&self, numerals: &[Numeral]) -> Vec<Parse> {
        let mut parses = Vec::new();
        for (taken, dropped, count, mended) in self.counts(numerals) {
            let rest = &numerals[taken..];
            for (size, more) in self.sizes(rest) {
                if size.len == 0 && count.is_none() {
                    continue;
                }
                let mended = mended.iter().chain(&more).copied().collect();
                parses.push(Parse {
                    dropped,
                    count: count.map(|n| (n, taken - dropped)),
                    size,
                    mended,
                    with_unit: false,
                });
            }
        }
        let plain = |parse: &Parse| parse.mended.is_empty();
        // `24 1/2 nuts`: no nut is for 24-1/2; `3 1/2 long` is one figure; `1 1/8-7` has its thread.
        let counted_too = parses.iter().any(|parse| parse.count.is_some());
        let odd = |parse: &Parse| match parse.size.value {
            // `4 5/8 washers`: a count of one figure may be of the size.
            Some((value, Shape::Mixed)) => {
                let told = self.every && value < Ratio::from_integer(10);
                !told && counted_too && !self.measured && !self.is_threaded(Diameter::Inch(value))
            }
            _ => false,
        };
        parses.retain(|parse| !odd(parse));
        let mixed = |parse: &Parse| matches!(parse.size.value, Some((_, Shape::Mixed)));
        if let [.., part] = numerals
            && part.kind == Fraction
            && parses.iter().any(|parse| mixed(parse) && plain(parse))
        {
            let alone = Diameter::Inch(part.value);
            let threaded = self
                .threads
                .is_none_or(|n| thread::is_standard(alone, Thread::PerInch(n)));
            if self.measured || !alone.is_standard() || !threaded {
                parses.retain(mixed);
            }
        }
        // `16 3 8 washers`: of bolts, nuts and washers none is called by a bare number, so that this is no
        // line's number with three pieces of #8.
        let slash = |parse: &Parse| {
            parse.mended == [Mend::Slash] && parse.count.is_some() && parse.dropped == 0
        };
        if self.by_size && parses.iter().any(slash) {
            parses.retain(|parse| !parse.mended.contains(&Mend::LineNumber));
        }
        // Nothing is mended where the text can be read as it stands.
        if parses.iter().any(plain) && !self.may_be_slip(numerals) {
            parses.retain(plain);
        }
        // Only mixed, as the figures say of themselves.
        let as_is = |parse: &Parse| {
            let size = parse.size.thread.is_none();
            plain(parse) && size && parse.count.is_none() && parse.dropped == 0
        };
        if let [one] = parses.as_slice()
            && as_is(one)
        {
            parses.clear();
        }
        parses
    }

    /// True where the run reads as written, and yet people would say that it holds a slip: two bare
    /// whole numbers that make a fraction, a count that is said again.
    fn may_be_slip(&self, numerals: &[Numeral]) -> bool {
        let pair = numerals.windows(2).any(|pair| lost_slash(pair).is_some());
        let again = numerals.len() > 2
            && numerals[0].whole().is_some()
            && numerals[1].whole().is_some_and(|n| {
                (n == 1 && numerals[0].kind != Whole) || Some(n) == numerals[0].whole()
            });
        pair || again
    }

    /// The ways to take a count in front: numerals taken, of them dropped, the count.
    fn counts(&self, numerals: &[Numeral]) -> Vec<(usize, usize, Option<u64>, Vec<Mend>)> {
        let mut counts = Vec::new();
        if !matches!(numerals[0].kind, Article | Word) && !numerals[0].parted {
            counts.push((0, 0, None, Vec::new()));
        }
        let count = |at: usize| {
            numerals
                .get(at)
                .and_then(|numeral| numeral.whole())
                .and_then(|n| u64::try_from(n).ok())
                .filter(|&n| n > 0)
        };
        let Some(first) = count(0).filter(|_| self.leads) else {
            return counts;
        };
        counts.push((1, 0, Some(first), Vec::new()));
        if let Some(second) = count(1)
            && numerals.len() > 2
        {
            // `two 2 5/8`; `two 1 5/8`, `a 1 3/8`: a doubled numeral, or an article put in figures.
            let spoken = matches!(numerals[0].kind, Article | Word);
            if second == first || (second == 1 && spoken) {
                counts.push((2, 0, Some(first), vec![Mend::SaidTwice]));
            } else if self.first && numerals[0].kind == Whole && numerals[1].kind == Whole {
                counts.push((2, 1, Some(second), vec![Mend::LineNumber]));
            }
        }
        counts
    }

    /// The ways to read the numerals behind the count as one size.
    fn sizes(&self, rest: &[Numeral]) -> Vec<(Size, Vec<Mend>)> {
        let size = |len, value, thread| Size { len, value, thread };
        let mut sizes = Vec::new();
        if rest.iter().any(|numeral| numeral.kind == Article)
            || rest.iter().rev().skip(1).any(|numeral| numeral.parted)
        {
            return sizes;
        }
        let fraction = |value| Some((value, Shape::Fraction));
        let mixed = |value| Some((value, Shape::Mixed));
        match *rest {
            // A whole number at the end is no size.
            [one] if one.kind != Word && (one.kind != Whole || self.goes_on) => {
                sizes.push((size(1, None, None), Vec::new()))
            }
            [whole, part] if part.kind == Fraction => {
                if let Some(whole) = whole.figure()
                    && part.value < Ratio::from_integer(1)
                    // A numeral of more figures is no mixed number.
                    && (1..1000).contains(&whole)
                {
                    let value = part.value + whole;
                    sizes.push((size(2, mixed(value), None), Vec::new()));
                }
            }
            _ => {}
        }
        if self.dashed {
            return sizes;
        }
        let slash = |pair: &[Numeral]| lost_slash(pair);
        let threaded = |value: Ratio, last: Numeral| {
            let n = last.whole()?;
            let stated = Thread::per_inch(n);
            (self.goes_on && !self.series && thread::is_standard(Diameter::Inch(value), stated))
                .then(|| Ratio::from_integer(n))
        };
        if let [a, b] = rest {
            if let Some(value) = slash(&[*a, *b]) {
                sizes.push((size(2, fraction(value), None), vec![Mend::Slash]));
            }
            if matches!(a.kind, Fraction | Mixed)
                && let Some(threads) = threaded(a.value, *b)
            {
                // Nobody says the dash.
                let mended = match a.spoken && b.spoken {
                    true => Vec::new(),
                    false => vec![Mend::Dash],
                };
                sizes.push((size(2, None, Some(threads)), mended));
            }
            // `10 24`, `1 8`
            if let (Some(n), Some(threads)) = (a.figure(), b.figure()) {
                let stated = Thread::per_inch(threads);
                let number = u8::try_from(n).map(Diameter::Number);
                let common = |diameter| {
                    [thread::coarse(diameter), thread::fine(diameter)].contains(&Some(stated))
                };
                if self.goes_on && number.is_ok_and(common) {
                    let threads = Some(Ratio::from_integer(threads));
                    sizes.push((size(2, None, threads), vec![Mend::Dash]));
                }
            }
        }
        if let [a, b, c] = rest {
            if let (Some(whole), Some(part)) = (a.figure(), slash(&[*b, *c])) {
                let value = part + whole;
                sizes.push((size(3, mixed(value), None), vec![Mend::Slash]));
            }
            if let Some(value) = slash(&[*a, *b])
                && let Some(threads) = threaded(value, *c)
            {
                let mended = vec![Mend::Slash, Mend::Dash];
                sizes.push((size(3, fraction(value), Some(threads)), mended));
            }
        }
        sizes
    }
}

/// `3 8`: three eighths that lost the slash.
fn lost_slash(pair: &[Numeral]) -> Option<Ratio> {
    let (n, d) = (pair[0].figure()?, pair[1].figure()?);
    let of_the_rule = matches!(d, 2 | 4 | 8 | 16 | 32 | 64);
    (!pair[0].parted && of_the_rule && n > 0 && n < d && n % 2 == 1).then(|| Ratio::new(n, d))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn numeral() -> impl Strategy<Value = Numeral> {
        let value = (0..40i64, prop::sample::select(vec![1, 2, 4, 8, 16, 32, 10]));
        let kind = prop::sample::select(vec![
            Article,
            Word,
            Whole,
            Fraction,
            Mixed,
            NumeralKind::Size,
        ]);
        (value, kind, any::<bool>(), any::<bool>()).prop_map(|((n, d), kind, parted, spoken)| {
            let whole = matches!(kind, Article | Word | Whole);
            Numeral {
                value: Ratio::new(n, if whole { 1 } else { d }),
                kind,
                parted,
                spoken,
                written: None,
                unit: None,
            }
        })
    }

    fn context() -> impl Strategy<Value = Context> {
        let threads = prop::option::of(prop::sample::select(vec![5, 7, 8, 11, 13, 20]));
        (prop::array::uniform10(any::<bool>()), threads).prop_map(|(is, threads)| Context {
            leads: is[0],
            first: is[1],
            dashed: is[2],
            goes_on: is[3],
            series: is[4],
            dia: is[5],
            measured: is[6],
            joined: is[7],
            short: is[8],
            every: false,
            by_size: is[9],
            threads: threads.map(Ratio::from_integer),
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(20_000))]

        /// What is taken as it stands is what trying every way comes to.
        #[test]
        fn a_plain_count_is_what_every_way_comes_to(
            context in context(), count in numeral(), size in numeral()
        ) {
            if let Some(parse) = context.plainly_counted(&[count, size]) {
                prop_assert_eq!(context.weighed(&[count, size]), vec![parse]);
            }
        }
    }

    #[test]
    fn a_count_in_front_of_a_size_is_plain() {
        let context = Context {
            leads: true,
            first: true,
            dashed: false,
            goes_on: true,
            series: false,
            dia: false,
            measured: false,
            joined: false,
            short: false,
            every: false,
            by_size: false,
            threads: None,
        };
        let numeral = |kind, n, d| Numeral {
            value: Ratio::new(n, d),
            kind,
            parted: false,
            spoken: false,
            written: None,
            unit: None,
        };
        let plain = |count, size| context.plainly_counted(&[count, size]).is_some();
        assert!(plain(numeral(Whole, 24, 1), numeral(Fraction, 1, 2)));
        assert!(plain(numeral(Word, 2, 1), numeral(Fraction, 1, 2)));
        assert!(plain(
            numeral(Whole, 8, 1),
            numeral(NumeralKind::Size, 12, 1)
        ));
        // Nuts are made for 2-1/2.
        assert!(!plain(numeral(Whole, 2, 1), numeral(Fraction, 1, 2)));
        assert!(!plain(numeral(Whole, 3, 1), numeral(Whole, 8, 1)));
    }
}
