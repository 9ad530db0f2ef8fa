//! Dates that a spreadsheet made of sizes.
//!
//! A fraction typed into a cell of general format becomes a date (Journal of Accountancy, November
//! 2001, "Translate Fractions in Excel"): `3/8` is stored as 8 March, `1-1/2` as 1 January 2002,
//! `1/4-20` as 4 January 2020, `10-24` as 24 October, `5/32` as May 1932. Where the day stands before
//! the month, `3/8` is 3 August. All readings that are standard sizes are listed, the likeliest first, and
//! behind them mixed numbers that are no usual lengths: `7-5/8` is 5 July 2008.

use std::fmt;

use super::{
    callout::Role,
    draft::Draft,
    known::{Known, Sized},
    number::{Prefix, Shape},
    reader::Reader,
    size::Dim,
    token::{Tok, Token},
    words::Sense,
};
use crate::{
    doubt::Doubt,
    hardware::{Diameter, Length, Ratio, Thread, Unit, thread},
};

/// A size that a date may have been.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Size {
    pub value: Ratio,
    pub shape: Shape,
    pub prefix: Prefix,
    /// Threads per inch.
    pub thread: Option<Ratio>,
}

impl Size {
    pub(super) fn diameter(self) -> Option<Diameter> {
        match self.prefix {
            Prefix::Number => u8::try_from(self.value.to_integer())
                .ok()
                .map(Diameter::Number),
            Prefix::Metric => None,
            Prefix::None => Some(Diameter::Inch(self.value)),
        }
    }
}

impl Size {
    /// What is known of it; `length`: it stands where a length does.
    fn points(self, known: &Known, length: bool) -> i32 {
        self.alone(length)
            .map_or(0, |size| known.points_of_size(size))
    }

    fn alone(self, length: bool) -> Option<Sized> {
        if length {
            return Some(Sized::Length(Length::Inch(self.value)));
        }
        self.diameter().map(Sized::Diameter)
    }
}

impl fmt::Display for Size {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.diameter() {
            Some(diameter) => write!(f, "{diameter}")?,
            None => write!(f, "{}", Length::Inch(self.value))?,
        }
        match self.thread {
            Some(n) => write!(f, "-{}", Thread::PerInch(n)),
            None => Ok(()),
        }
    }
}

/// A date, as far as it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Date {
    month: i64,
    day: Option<i64>,
    /// Two or four figures.
    year: Option<i64>,
}

/// The sizes that a text of the shape of a date may stand for, the likeliest first; `None` where it
/// is no date. `3/8` and `8-32` are no dates: they read as they stand.
pub(super) fn recover(text: &str) -> Option<Vec<Size>> {
    let date = Date::parse(text.trim())?;
    let (mut sizes, mut unusual) = date.sizes();
    // The day before the month.
    if let Some(day) = date
        .day
        .filter(|day| (1..=12).contains(day) && !date.is_month_and_year())
    {
        let turned = Date {
            month: day,
            day: Some(date.month),
            ..date
        };
        let (usual, others) = turned.sizes();
        sizes.extend(usual);
        unusual.extend(others);
    }
    let mut readings: Vec<Size> = Vec::with_capacity(sizes.len() + unusual.len());
    for size in sizes.into_iter().chain(unusual) {
        if !readings.contains(&size) {
            readings.push(size);
        }
    }
    Some(readings)
}

/// The same, those that are known first; `length`: it stands where a length does.
pub(super) fn recover_among(text: &str, known: &Known, length: bool) -> Option<Vec<Size>> {
    let mut sizes = recover(text)?;
    if !known.is_empty() {
        sizes.sort_by_key(|size| std::cmp::Reverse(size.points(known, length)));
    }
    Some(sizes)
}

/// What is said of a date in the place of a size.
pub(super) fn doubts(text: &str, sizes: &[Size], known: &Known, length: bool) -> Vec<Doubt> {
    let read = Doubt::DateForSize {
        date: text.trim().into(),
        readings: sizes.iter().map(|size| size.to_string().into()).collect(),
    };
    let points = |size: &Size| size.points(known, length);
    let chosen = match sizes {
        [first, next, ..] if points(first) > points(next) => {
            let listed = first
                .alone(length)
                .is_some_and(|size| known.is_listed(size));
            let place = match listed {
                true => "a size of the parts list",
                false => "used elsewhere in this list",
            };
            Some(Doubt::Said(format!("{first} is {place}").into()))
        }
        _ => None,
    };
    std::iter::once(read).chain(chosen).collect()
}

impl<'a> Reader<'a> {
    /// A size cell in which a date stands, as the size that it was made of.
    pub(super) fn date(&mut self, size: Option<&Size>) -> Draft<'a> {
        self.mark(0..self.tokens.len(), Role::Size);
        let mut draft = Draft::default();
        if let Some(size) = size {
            draft.dims.push(Dim {
                value: size.value,
                shape: size.shape,
                prefix: size.prefix,
                // `1-8` is 1 inch; a bare fraction is inches anyway.
                unit: (size.prefix == Prefix::None).then_some(Unit::Inch),
                measure: None,
                written: self.text.trim(),
            });
            draft.dims.thread = size.thread;
        }
        draft
    }

    /// Puts sizes in the place of dates that stand among the words of a fastener (`8-Mar hex nut`), or among the sizes of
    /// a cell of sizes (`8-Mar x 3`).
    pub(super) fn recover_dates(&mut self, known: &Known, of_sizes: bool) {
        let may_be_date = |i: usize| {
            matches!(self.tok(i), Some(Tok::Code))
                || (matches!(self.tok(i), Some(Tok::Num { .. }))
                    && matches!(self.tok(i + 1), Some(Tok::Slash)))
        };
        if !(0..self.tokens.len()).any(may_be_date)
            || !(of_sizes || (0..self.tokens.len()).any(|i| self.noun(i).is_some()))
        {
            return;
        }
        let mut i = 0;
        while i < self.tokens.len() {
            let end = match self.tok(i) {
                Some(Tok::Code) => i + 1,
                // `1/1/2002`
                Some(Tok::Num { .. })
                    if (i + 1..i + 5).all(|at| at < self.tokens.len() && !self.spaced(at))
                        && [i + 1, i + 3]
                            .iter()
                            .all(|&at| matches!(self.tok(at), Some(Tok::Slash))) =>
                {
                    i + 5
                }
                _ => {
                    i += 1;
                    continue;
                }
            };
            let (first, last) = (self.tokens[i], self.tokens[end - 1]);
            let text = &self.text[first.start..last.end];
            // Behind `x` stands a length.
            let length = i > 0
                && (matches!(self.tok(i - 1), Some(Tok::Join)) || self.says(i - 1, Sense::By));
            let Some(sizes) = recover_among(text, known, length) else {
                i += 1;
                continue;
            };
            let said = doubts(text, &sizes, known, length);
            self.notes
                .extend(said.into_iter().map(|doubt| (first.start, doubt)));
            let size = sizes
                .iter()
                .find(|size| !length || size.thread.is_none())
                .copied();
            let token = |tok| Token {
                tok,
                end: last.end,
                ..first
            };
            let mut new = Vec::with_capacity(3);
            match size {
                Some(size) => {
                    new.push(token(Tok::Num {
                        value: size.value,
                        shape: size.shape,
                        prefix: size.prefix,
                    }));
                    if let Some(value) = size.thread {
                        let behind = |tok| Token {
                            start: last.end,
                            spaced: false,
                            ..token(tok)
                        };
                        new.push(behind(Tok::Dash));
                        new.push(behind(Tok::Num {
                            value,
                            shape: Shape::Whole,
                            prefix: Prefix::None,
                        }));
                    }
                }
                None => new.push(Token {
                    role: Some(Role::Size),
                    ..token(Tok::Unknown)
                }),
            }
            i += new.len();
            let at = i - new.len();
            self.tokens.splice(at..end, new);
        }
    }
}

impl Date {
    fn parse(text: &str) -> Option<Date> {
        // Most cells are none: a quick look first.
        let figures = || text.bytes().any(|b| b.is_ascii_digit());
        if text.len() < 5 || text.len() > 24 || !text.is_ascii() || !figures() {
            return None;
        }
        let text = text
            .strip_suffix(" 00:00:00")
            .or_else(|| text.strip_suffix("T00:00:00"))
            .unwrap_or(text);
        let mark = text.bytes().find(|b| !b.is_ascii_alphanumeric())?;
        if !matches!(mark, b'-' | b'/' | b'.' | b' ') {
            return None;
        }
        let mut parts = text.split(char::from(mark));
        let (first, second, third) = (parts.next()?, parts.next()?, parts.next());
        if parts.next().is_some() {
            return None;
        }
        let number = |text: &str, longest: usize| -> Option<i64> {
            let plain = !text.is_empty() && text.len() <= longest;
            (plain && text.bytes().all(|b| b.is_ascii_digit()))
                .then(|| text.parse().ok())
                .flatten()
        };
        let date = match (month_name(first), month_name(second), third) {
            // 2026-03-08
            (None, None, Some(third)) if first.len() == 4 && mark == b'-' => Date {
                year: number(first, 4),
                month: number(second, 2)?,
                day: Some(number(third, 2)?),
            },
            // 1/1/2002, 1.1.2002; 1/4/20
            (None, None, Some(third)) if third.len() == 4 || (mark == b'/' && third.len() == 2) => {
                let (a, b) = (number(first, 2)?, number(second, 2)?);
                let (month, day) = if a > 12 { (b, a) } else { (a, b) };
                Date {
                    year: Some(number(third, 4)?),
                    month,
                    day: Some(day),
                }
            }
            // 8-Mar, 4-Jan-20
            (None, Some(month), third) => Date {
                month,
                day: Some(number(first, 2)?),
                year: match third {
                    Some(year) => Some(number(year, 4)?),
                    None => None,
                },
            },
            // Oct-32, Mar-08
            (Some(month), None, None) => Date {
                month,
                day: None,
                year: Some(number(second, 4)?),
            },
            _ => return None,
        };
        let valid = (1..=12).contains(&date.month)
            && date.day.is_none_or(|day| (1..=31).contains(&day))
            && (first.len() != 4 || date.year.is_some() || month_name(first).is_some());
        valid.then_some(date)
    }

    /// True for the first of a month long ago, which is how a month and a year are stored.
    fn is_month_and_year(self) -> bool {
        self.day == Some(1)
            && self
                .year
                .is_some_and(|year| (30..90).contains(&(year % 100)))
    }

    /// The readings with the month first: standard sizes, and mixed numbers that are none,
    /// in sixteenths.
    fn sizes(self) -> (Vec<Size>, Vec<Size>) {
        let Date { month, day, year } = self;
        let year = year.map(|year| year % 100);
        let fraction = |n: i64, d: i64| {
            let of_the_rule = matches!(d, 2 | 4 | 8 | 16 | 32 | 64);
            (of_the_rule && n < d && n % 2 == 1).then(|| Ratio::new(n, d))
        };
        let size = |value, shape| Size {
            value,
            shape,
            prefix: Prefix::None,
            thread: None,
        };
        // `8/32` beside `8-32`: a fraction may be typed unreduced, a mixed number hardly.
        let proper = |n: i64, d: i64| {
            (n < d && matches!(d, 2 | 4 | 8 | 16 | 32 | 64))
                .then(|| size(Ratio::new(n, d), Shape::Fraction))
        };
        // `10-24`, `1-8`.
        let whole_thread = |n: i64, threads: i64| {
            let prefixes = [Prefix::Number, Prefix::None];
            prefixes.into_iter().find_map(|prefix| {
                let size = Size {
                    value: Ratio::from_integer(n),
                    shape: Shape::Whole,
                    prefix,
                    thread: Some(Ratio::from_integer(threads)),
                };
                is_common(size.diameter()?, Thread::per_inch(threads)).then_some(size)
            })
        };
        let mut sizes = Vec::with_capacity(8);
        let mut late = None;
        if let (Some(day), Some(year)) = (day, year) {
            // `1-1/2`: 1 January 2002.
            let mixed = fraction(day, year)
                .map(|part| size(Ratio::from_integer(month) + part, Shape::Mixed));
            sizes.extend(mixed);
            // `1/4-20`: 4 January 2020. The coarse thread is what the bare fraction means as well; a
            // fine one is less likely than the fraction typed in that year.
            if let Some(value) = fraction(month, day) {
                let diameter = Diameter::Inch(value);
                let stated = Thread::per_inch(year);
                let threaded = Size {
                    thread: Some(Ratio::from_integer(year)),
                    ..size(value, Shape::Fraction)
                };
                if thread::coarse(diameter) == Some(stated) {
                    sizes.push(threaded);
                } else if is_common(diameter, stated) {
                    late = Some(threaded);
                }
            }
        }
        let month_and_year = self.is_month_and_year();
        if let Some(day) = day.filter(|_| !month_and_year) {
            // `3/8`: 8 March; `10-24`: 24 October.
            sizes.extend(proper(month, day));
            sizes.extend(whole_thread(month, day));
        }
        if let Some(year) = year
            && (day.is_none() || month_and_year)
        {
            // `10-32`: October 1932; `5/32`: May 1932, since 32 is no day.
            sizes.extend(whole_thread(month, year));
            sizes.extend(proper(month, year));
        }
        sizes.extend(late);
        let is_usual = |size: &Size| {
            size.thread.is_some()
                || Diameter::Inch(size.value).is_standard()
                || Length::Inch(size.value).is_usual()
        };
        let (usual, mut unusual): (Vec<Size>, Vec<Size>) = sizes.into_iter().partition(is_usual);
        unusual.retain(|size| size.shape == Shape::Mixed && *size.value.denom() <= 16);
        (usual, unusual)
    }
}

/// Coarse or fine; what is typed into a cell is seldom anything else.
fn is_common(diameter: Diameter, stated: Thread) -> bool {
    [thread::coarse(diameter), thread::fine(diameter)].contains(&Some(stated))
}

/// The number of a month by its English name, short or in full.
fn month_name(text: &str) -> Option<i64> {
    const NAMES: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    if text.len() < 3 || !text.bytes().all(|b| b.is_ascii_alphabetic()) {
        return None;
    }
    let is = |known: &str| text.eq_ignore_ascii_case(known);
    let at = NAMES
        .iter()
        .position(|name| is(name) || is(&name[..3]) || (is("sept") && name.starts_with("sept")))?;
    i64::try_from(at + 1).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, expected: &[&str]) {
        let readings: Vec<String> = recover(text)
            .expect("a date")
            .iter()
            .map(Size::to_string)
            .collect();
        assert_eq!(readings, expected, "{text}");
    }

    #[test]
    fn dates_as_stored() {
        // Typed `3/8` in 2026, or `8/3` where the day stands first (no size).
        case("2026-03-08", &["3/8"]);
        // Where the day stands before the month, `3/8` is 3 August.
        case("2026-08-03", &["3/8"]);
        case("2002-01-01", &["1-1/2"]);
        case("2004-03-03", &["3-3/4"]);
        case("2020-01-04", &["1/4-20", "1/4"]);
        case("2026-10-24", &["#10-24"]);
        case("1932-10-01", &["#10-32", "5/16"]);
        case("1932-05-01", &["5/32"]);
        case("1932-08-01", &["#8-32", "1/4"]);
        // 8 January: the fraction, or the coarse thread of 1 inch.
        case("2026-01-08", &["1/8", "1-8"]);
        // Fine threads are less likely than the fraction typed in that year.
        case("2024-05-16", &["5/16", "5/16-24"]);
        // Lowest terms only: no `3-8/16`.
        case("2016-03-08", &["3/8-16", "3/8", "8-3/16"]);
        case("2026-07-12", &[]);
        case("1940-04-01", &["#4-40"]);
        case("2026-12-24", &["#12-24"]);
    }

    #[test]
    fn dates_as_exported() {
        case("8-Mar", &["3/8"]);
        case("08-Mar", &["3/8"]);
        case("8-March", &["3/8"]);
        case("Mar-08", &["3/8"]);
        case("1/1/2002", &["1-1/2"]);
        case("01/01/2002", &["1-1/2"]);
        case("Oct-32", &["#10-32", "5/16"]);
        case("24-Oct", &["#10-24"]);
        case("4-Jan-20", &["1/4-20", "1/4"]);
        case("8-Jan", &["1/8", "1-8"]);
        case("2002-01-01 00:00:00", &["1-1/2"]);
        case("16-May", &["5/16"]);
        case("May-32", &["5/32"]);
        // Both orders give a size.
        case("2008-03-05", &["3-5/8", "5-3/8"]);
        // Typed `7-5/8`, or `5-7/8` where the day stands first, which is the more usual length.
        case("2008-07-05", &["5-7/8", "7-5/8"]);
        case("2008-06-01", &["6-1/8"]);
        case("2016-02-01", &["1/2", "2-1/16"]);
    }

    #[test]
    fn sizes_are_no_dates() {
        for text in [
            "3/8",
            "8-32",
            "10-24",
            "1/2-13",
            "1-1/2",
            "3-3/4",
            "1/2 x 3",
            "M8-1.25",
            "hex-bolt",
            "1120-0002",
            "10-24-100",
            "A-May",
            "2026",
            "",
            "May",
            "13-Foo",
            "2026-13-40",
        ] {
            assert_eq!(recover(text), None, "{text}");
        }
    }
}
