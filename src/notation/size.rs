//! Figures to sizes: which is the diameter, the thread, the length.

use super::{
    callout::Notation,
    number::{Prefix, Shape},
    words::{Measure, Series},
};
use crate::{
    doubt::Doubt,
    hardware::{Diameter, Item, Kind, Length, Ratio, Style, Thread, Unit, thread},
};

/// One figure of a size.
#[derive(Debug, Clone, Copy)]
pub(super) struct Dim<'a> {
    pub value: Ratio,
    pub shape: Shape,
    pub prefix: Prefix,
    /// As stated; feet and metres are worked out already.
    pub unit: Option<Unit>,
    pub measure: Option<Measure>,
    /// The figure and its unit as written.
    pub written: &'a str,
}

impl Dim<'_> {
    fn is_whole(&self) -> bool {
        self.shape == Shape::Whole && self.prefix == Prefix::None && self.unit.is_none()
    }

    fn is_inch(&self) -> bool {
        self.unit == Some(Unit::Inch)
            || self.prefix == Prefix::Number
            || (self.unit.is_none() && matches!(self.shape, Shape::Fraction | Shape::Mixed))
    }

    /// A doubt where a fraction over one may be a mixed number of which the space is lost: `21/2`.
    pub fn run_together(&self) -> Option<Doubt> {
        if self.shape != Shape::Fraction || self.value <= Ratio::from_integer(1) {
            return None;
        }
        let (over, under) = self.written.split_once('/')?;
        let under = under.trim_end_matches(|c: char| !c.is_ascii_digit());
        let is_proper = |at: &usize| {
            let (whole, part) = over.split_at(*at);
            let of = |figures: &str| figures.parse::<u32>().ok();
            of(whole).is_some() && !part.starts_with('0') && of(part) < of(under)
        };
        let at = (1..over.len()).find(is_proper)?;
        let (whole, part) = over.split_at(at);
        Some(Doubt::Readings(vec![
            format!("{over}/{under}").into(),
            format!("{whole}-{part}/{under}").into(),
        ]))
    }

    fn is_metric(&self) -> bool {
        self.unit == Some(Unit::Millimetre) || self.prefix == Prefix::Metric
    }
}

/// The figures of a size as they stand: `1/2 -13 x 3-3/4`.
#[derive(Debug, Clone, Default)]
pub(super) struct Dims<'a> {
    list: [Option<Dim<'a>>; 4],
    len: usize,
    /// The figure after a dash: threads per inch or pitch.
    pub thread: Option<Ratio>,
    pub series: Option<Series>,
}

impl<'a> Dims<'a> {
    /// A thread without a diameter.
    pub fn of_thread(thread: Option<Ratio>, series: Option<Series>) -> Dims<'a> {
        Dims {
            thread,
            series,
            ..Dims::default()
        }
    }

    pub fn push(&mut self, dim: Dim<'a>) -> bool {
        let free = self.len < self.list.len();
        if free {
            self.list[self.len] = Some(dim);
            self.len += 1;
        }
        free
    }

    pub fn len(&self) -> usize {
        self.len
    }

    pub fn is_empty(&self) -> bool {
        self.len == 0
    }

    pub fn get(&self, i: usize) -> Option<&Dim<'a>> {
        self.list.get(i)?.as_ref()
    }

    pub fn push_all<'b>(&mut self, dims: impl Iterator<Item = &'b Dim<'a>>)
    where
        'a: 'b,
    {
        for dim in dims {
            self.push(*dim);
        }
    }

    /// Takes all figures away; the thread stays.
    pub fn clear(&mut self) {
        self.list = [None; 4];
        self.len = 0;
    }

    /// Says what the figures measure, where they do not say so themselves.
    pub fn set_measure(&mut self, measure: Measure) {
        if let Some(dim) = self.list.first_mut().and_then(Option::as_mut) {
            dim.measure = dim.measure.or(Some(measure));
        }
    }

    /// True where a figure of this value and measure stands already.
    pub fn says(&self, dim: &Dim<'a>) -> bool {
        self.iter().enumerate().any(|(i, own)| {
            own.value == dim.value
                && match dim.measure {
                    Some(Measure::Diameter) => i == 0,
                    Some(Measure::Length) => i > 0,
                    _ => true,
                }
        })
    }

    /// Takes the one figure that is there for a length, where its unit is stated. False where it is none.
    pub fn make_length(&mut self) -> bool {
        let one = &mut self.list[0];
        match one {
            Some(dim) if self.len == 1 && dim.unit.is_some() && dim.prefix == Prefix::None => {
                let free = dim.measure.is_none() && self.thread.is_none();
                dim.measure = dim.measure.or(free.then_some(Measure::Length));
                free
            }
            _ => false,
        }
    }

    /// True for one figure with its unit, a foot or more: no piece is so thick, so that it is a length.
    pub fn is_too_thick(&self) -> bool {
        let foot = |unit| match unit {
            Unit::Inch => Ratio::from_integer(12),
            Unit::Millimetre => Ratio::from_integer(300),
        };
        matches!(self.list[0], Some(Dim { value, unit: Some(unit), .. }) if self.len == 1 && value >= foot(unit))
    }

    /// The figure that is a diameter or may be one.
    pub fn diameter(&self) -> Option<&Dim<'a>> {
        self.iter()
            .find(|dim| matches!(dim.measure, None | Some(Measure::Diameter)))
    }

    pub fn has_outside(&self) -> bool {
        self.iter().any(|dim| dim.measure == Some(Measure::Outside))
    }

    /// True where one of the first two figures is a standard diameter.
    pub fn has_standard(&self) -> bool {
        self.iter()
            .filter(|dim| matches!(dim.measure, None | Some(Measure::Diameter)))
            .take(2)
            .any(|dim| {
                let number = u8::try_from(dim.value.to_integer()).map_or(u8::MAX, |n| n);
                match (dim.prefix, dim.unit) {
                    (Prefix::Number, _) => Diameter::Number(number).is_standard(),
                    (Prefix::Metric, _) | (_, Some(Unit::Millimetre)) => {
                        Diameter::Metric(dim.value).is_standard()
                    }
                    _ => {
                        let value = match dim.shape {
                            Shape::Decimal(places) => rounded(dim.value, places),
                            _ => None,
                        };
                        Diameter::Inch(value.unwrap_or(dim.value)).is_standard()
                            || (dim.shape == Shape::Whole
                                && (Diameter::Number(number).is_standard()
                                    || Diameter::Metric(dim.value).is_standard()))
                    }
                }
            })
    }

    /// True for one bare whole number, which may measure or count anything.
    pub fn is_bare(&self) -> bool {
        self.thread.is_none() && self.get(0).is_some_and(Dim::is_whole)
    }

    /// True for a fastener's size with its length: `M8 x 40`, `1/2-13 x 3`, `3/8 x 4`.
    pub fn is_size_of_bolts(&self) -> bool {
        self.len > 1 && (self.is_fastener_form() || self.is_fraction_of_fasteners())
    }

    /// True for whole numbers alone, of which nothing says that they are a size.
    pub fn is_all_bare(&self) -> bool {
        let bare = |dim: &Dim<'_>| dim.is_whole() && dim.measure.is_none();
        !self.is_empty() && self.thread.is_none() && self.series.is_none() && self.iter().all(bare)
    }

    pub fn iter(&self) -> impl Iterator<Item = &Dim<'a>> {
        self.list[..self.len].iter().flatten()
    }

    /// True where the figures can be nothing but a fastener's size: a diameter with its thread, or a
    /// metric or number size with a length.
    /// `3/8`, `1/4 x 1`: an inch size of bolts in front, as a fraction.
    pub fn is_fraction_of_fasteners(&self) -> bool {
        self.get(0).is_some_and(|first| {
            first.shape == Shape::Fraction && first.measure.is_none() && self.has_standard()
        })
    }

    pub fn is_fastener_form(&self) -> bool {
        self.get(0).is_some_and(|first| {
            self.thread.is_some() || (first.prefix != Prefix::None && self.len > 1)
        })
    }

    fn remove(&mut self, i: usize) -> Option<Dim<'a>> {
        let dim = self.list.get_mut(i)?.take()?;
        for at in i + 1..self.len {
            self.list[at - 1] = self.list[at].take();
        }
        self.len -= 1;
        Some(dim)
    }

    #[inline]
    fn take(&mut self, measure: Measure) -> Option<Dim<'a>> {
        let i = self.iter().position(|dim| dim.measure == Some(measure))?;
        self.remove(i)
    }
}

/// A rounded decimal as the fraction of the inch rule that it is short for: `.31` is 5/16.
fn rounded(value: Ratio, places: u8) -> Option<Ratio> {
    // Longer pieces are not measured in sixty-fourths.
    let long = || value > Ratio::from_integer(48);
    if places < 2 || 64 % *value.denom() == 0 || long() {
        return None;
    }
    let scale = Ratio::from_integer(10i64.pow(u32::from(places.min(6))));
    [16, 32, 64].into_iter().find_map(|denom| {
        let nearest = (value * denom).round() / denom;
        if *nearest.numer() == 0 {
            return None;
        }
        let as_written = (nearest * scale).round() == value * scale;
        // Half a unit in the last place may have been rounded to even, or cut off.
        let near = {
            let gap = nearest - value;
            (if gap < Ratio::from_integer(0) {
                -gap
            } else {
                gap
            }) * scale
                * 2
                <= Ratio::from_integer(1)
        };
        (as_written || near).then_some(nearest)
    })
}

/// The number size of a decimal: ASME B1.1 gives them to three places, .164 is #8.
fn number_size(value: Ratio) -> Option<Diameter> {
    let thousandths = match 1000 % value.denom() {
        0 => value.numer().checked_mul(1000 / value.denom())?,
        _ => return None,
    };
    let above = thousandths - 60;
    let number = u8::try_from(above / 13).ok().filter(|_| above % 13 == 0)?;
    let number = Diameter::Number(number);
    number.is_standard().then_some(number)
}

/// No pin, anchor or screw of a number size is longer than so many times its thickness (a bound of ours,
/// common practice, no source).
pub(super) const SLENDEREST: i64 = 60;

/// How thick a piece is, in the unit of its diameter, or in inches where it goes by number.
pub(super) fn thickness(diameter: Diameter) -> Ratio {
    match diameter {
        // ASME B1.1: 0.060 in and 0.013 in more for each number.
        Diameter::Number(n) => Ratio::new(60 + 13 * i64::from(n), 1000),
        Diameter::Inch(value) | Diameter::Metric(value) => value,
    }
}

/// Works out a size, for one kind of item at a time.
pub(super) struct Sizer {
    pub notation: Notation,
    pub kind: Option<Kind>,
    pub style: Option<Style>,
    pub doubts: Vec<Doubt>,
}

impl Sizer {
    /// Inches, a rounded decimal made good and doubted.
    fn inches(&mut self, dim: &Dim<'_>) -> Ratio {
        let Shape::Decimal(places) = dim.shape else {
            return dim.value;
        };
        match rounded(dim.value, places) {
            Some(value) => {
                self.doubts.push(Doubt::Rounded {
                    written: dim.written.into(),
                    read: Length::Inch(value).to_string().into(),
                });
                value
            }
            None => dim.value,
        }
    }

    /// Screws that are sold by number size.
    fn by_number(&self) -> bool {
        self.kind == Some(Kind::Screw) && !matches!(self.style, Some(Style::Lag))
    }

    /// A figure as a diameter, beside all figures where these tell what it is.
    fn diameter<'a>(&mut self, dim: &Dim<'a>, dims: impl FnOnce() -> Dims<'a>) -> Diameter {
        match dim.prefix {
            Prefix::Metric => return Diameter::Metric(dim.value),
            Prefix::Number => {
                if let Ok(n) = u8::try_from(dim.value.to_integer()) {
                    return Diameter::Number(n);
                }
            }
            Prefix::None => {}
        }
        if dim.is_metric() {
            return Diameter::Metric(dim.value);
        }
        if dim.unit.is_none() && matches!(dim.shape, Shape::Whole | Shape::Decimal(_)) {
            let dims = dims();
            if self.notation.unit == Some(Unit::Millimetre) || dims.iter().any(Dim::is_metric) {
                return Diameter::Metric(dim.value);
            }
            if dims.thread.is_none() && self.is_thin_in_millimetres(dim, dims.get(1)) {
                return Diameter::Metric(dim.value);
            }
            if dim.is_whole() {
                return self.whole_diameter(dim, &dims);
            }
        }
        if matches!(dim.shape, Shape::Decimal(_))
            && let Some(number) = number_size(dim.value)
        {
            return number;
        }
        Diameter::Inch(self.inches(dim))
    }

    /// True for a screw, a pin or a rivet that would be inches thick, beside a length of millimetres: `4.2 x
    /// 19`, `3 x 30`. None is made so in inches (common practice, no source).
    fn is_thin_in_millimetres(&self, dim: &Dim<'_>, length: Option<&Dim<'_>>) -> bool {
        let thin = match self.kind {
            Some(Kind::Screw) => {
                self.style != Some(Style::Lag) || dim.value > Ratio::from_integer(4)
            }
            Some(Kind::Pin | Kind::Rivet) => true,
            _ => false,
        };
        let long = |length: &Dim<'_>| length.is_whole() && length.value >= Ratio::from_integer(8);
        thin && !self.is_of_number(dim, length)
            && dim.value >= Ratio::from_integer(2)
            && length.is_some_and(long)
            && (matches!(dim.shape, Shape::Decimal(_)) || Diameter::Metric(dim.value).is_standard())
    }

    /// True where a bare whole number may be a number size: no piece of one is as long in inches, and the
    /// figure behind is no thread of it (`8 x 32`).
    fn is_of_number(&self, dim: &Dim<'_>, length: Option<&Dim<'_>>) -> bool {
        let number = u8::try_from(dim.value.to_integer())
            .ok()
            .filter(|_| dim.is_whole())
            .map(Diameter::Number)
            .filter(|number| number.is_standard());
        let (Some(number), Some(length)) = (number, length) else {
            return number.is_some();
        };
        let threaded = self.kind == Some(Kind::Screw)
            && !matches!(
                self.style,
                Some(Style::Wood | Style::Deck | Style::SelfDrilling | Style::SheetMetal)
            );
        let most = thickness(number) * Ratio::from_integer(SLENDEREST);
        length.value <= most
            || threaded && thread::is_standard(number, Thread::PerInch(length.value))
    }

    /// A bare whole number as a diameter: whole inches, a number size, or millimetres.
    fn whole_diameter(&mut self, dim: &Dim<'_>, dims: &Dims<'_>) -> Diameter {
        let inch = Diameter::Inch(dim.value);
        let number = u8::try_from(dim.value.to_integer())
            .ok()
            .map(Diameter::Number)
            .filter(|number| number.is_standard());
        let metric = Diameter::Metric(dim.value);
        if let Some(n) = dims.thread {
            let threaded = Thread::PerInch(n);
            return match number {
                Some(number) if thread::is_standard(number, threaded) => number,
                _ if thread::is_standard(inch, threaded) => inch,
                Some(number) => number,
                None => inch,
            };
        }
        let length = dims.get(1);
        let small = dim.value <= Ratio::from_integer(4);
        if self.by_number()
            && let Some(number) = number
            && length.is_none_or(|l| l.is_inch() || l.value <= Ratio::from_integer(6))
        {
            return number;
        }
        if small && self.notation.unit != Some(Unit::Millimetre) {
            return inch;
        }
        let long = length.is_some_and(|l| l.is_whole() && l.value >= Ratio::from_integer(8));
        // No pin of a number size is that long in inches (common practice, no source).
        let no_inches = self.kind == Some(Kind::Pin)
            && length.is_some_and(|l| l.value >= Ratio::from_integer(20));
        if long && metric.is_standard() && no_inches {
            return metric;
        }
        if long && metric.is_standard() {
            self.doubts.push(Doubt::Readings(
                [Some(metric), number]
                    .into_iter()
                    .flatten()
                    .map(|d| d.to_string().into())
                    .collect(),
            ));
            return metric;
        }
        match number {
            Some(number) => {
                self.doubts.push(Doubt::Readings(vec![
                    number.to_string().into(),
                    metric.to_string().into(),
                ]));
                number
            }
            None => inch,
        }
    }

    fn length(&mut self, dim: &Dim<'_>, diameter: Option<Diameter>) -> Length {
        let unit = match dim.unit {
            Some(unit) => unit,
            None if dim.is_inch() => Unit::Inch,
            None => match diameter {
                Some(diameter) => diameter.unit(),
                None => self.notation.unit.unwrap_or(Unit::Inch),
            },
        };
        match unit {
            Unit::Inch => Length::Inch(self.inches(dim)),
            Unit::Millimetre => Length::Millimetre(dim.value),
        }
    }

    /// True where the first two figures stand the wrong way round: only the second is a diameter, or
    /// the piece would be less than half as long as it is thick.
    fn is_swapped(&self, first: &Dim<'_>, second: &Dim<'_>) -> bool {
        if first.prefix != Prefix::None || first.measure.is_some() || second.measure.is_some() {
            return false;
        }
        if second.prefix != Prefix::None {
            return true;
        }
        if first.is_metric() != second.is_metric()
            || (self.by_number() && first.is_whole() && first.value <= Ratio::from_integer(14))
        {
            return false;
        }
        let metric = first.is_metric() || self.notation.unit == Some(Unit::Millimetre);
        let standard = |dim: &Dim<'_>| {
            if metric {
                return Diameter::Metric(dim.value).is_standard();
            }
            let value = match dim.shape {
                Shape::Decimal(_) if number_size(dim.value).is_some() => return true,
                Shape::Decimal(places) => rounded(dim.value, places).unwrap_or(dim.value),
                _ => dim.value,
            };
            Diameter::Inch(value).is_standard()
        };
        if self.kind == Some(Kind::Washer) {
            return first.value > second.value && standard(second);
        }
        if metric && !first.is_metric() && first.value <= Ratio::from_integer(14) {
            return false;
        }
        let short = || second.value * 2 < first.value;
        standard(second) && (!standard(first) || short())
            // `8 x 40` and `10 x 1`: bare whole numbers are told apart elsewhere.
            && !(first.is_whole() && !standard(first) && second.is_whole())
            && !(first.is_whole() && second.is_whole() && !metric && self.notation.unit.is_none()
                && first.value > Ratio::from_integer(4))
    }

    /// Puts the figures into the item. Returns the figures that found no place.
    pub fn read<'a>(&mut self, dims: &mut Dims<'a>, item: &mut Item) -> Vec<Dim<'a>> {
        let mut over = Vec::new();
        let mut outside = dims.take(Measure::Outside);
        if self.kind == Some(Kind::Washer) {
            item.outside = outside.map(|dim| self.length(&dim, None));
        } else {
            over.extend(outside);
        }
        over.extend(dims.take(Measure::Other));
        let long = dims.take(Measure::Length);
        let stated = dims.take(Measure::Diameter);
        if let (None, Some(&first), Some(&second)) = (&stated, dims.get(0), dims.get(1))
            && self.is_swapped(&first, &second)
        {
            dims.list.swap(0, 1);
            // `M8`, `#10` and `5/8-11` are diameters wherever they stand.
            if second.prefix == Prefix::None && dims.thread.is_none() {
                self.doubts.push(Doubt::Swapped {
                    written: format!("{} x {}", first.written, second.written).into(),
                });
            }
        }
        let first = stated.or_else(|| dims.remove(0));
        if let Some(first) = first {
            let all = || {
                let mut all = dims.clone();
                all.list.rotate_right(1);
                if all.list[0].replace(first).is_none() || all.len < all.list.len() {
                    all.len += 1;
                }
                if let Some(long) = long {
                    all.push(long);
                }
                all
            };
            item.diameter = Some(self.diameter(&first, all));
        }
        self.thread(dims, item);
        if let (Some(Kind::Washer), None, Some(_)) = (self.kind, item.outside, dims.get(0)) {
            outside = dims.remove(0);
            item.outside = outside.map(|dim| self.length(&dim, item.diameter));
        }
        // No washer is smaller than its hole.
        if let (Some(hole), Some(stated)) = (item.diameter, item.outside)
            && hole.unit() == stated.unit()
            && stated.value() <= hole.value()
        {
            item.outside = None;
            over.extend(outside);
        }
        let length = long.or_else(|| dims.remove(0));
        item.length = length.map(|dim| self.length(&dim, item.diameter));
        // `No. 0` is a diameter, and nothing is 0 long.
        let nothing = length.is_some_and(|dim| *dim.value.numer() == 0);
        if (self.kind == Some(Kind::Washer) || nothing) && item.length.take().is_some() {
            over.extend(length);
        }
        over.extend(dims.iter());
        over
    }

    fn thread(&mut self, dims: &mut Dims<'_>, item: &mut Item) {
        let Some(diameter) = item.diameter else {
            return;
        };
        // What is said of another figure belongs to no diameter that is not made.
        let of_nothing = !diameter.is_standard()
            || (diameter.unit() == Unit::Millimetre
                && dims.thread.is_some_and(|n| n > Ratio::from_integer(6)));
        if of_nothing && let Some(n) = dims.thread.take() {
            let written = Length::Millimetre(n).to_string();
            self.doubts.push(Doubt::LeftOver(written.into()));
        } else if let Some(n) = dims.thread {
            item.thread = Some(match diameter.unit() {
                Unit::Inch => Thread::PerInch(n),
                Unit::Millimetre => Thread::Pitch(n),
            });
        } else if let Diameter::Metric(_) = diameter {
            let is_pitch = |dim: &Dim| {
                dim.unit.is_none()
                    && dim.prefix == Prefix::None
                    && thread::is_standard(diameter, Thread::Pitch(dim.value))
            };
            // `M8x1.25x40`, `M8x1`, and `M8 x 40 x 1.25`.
            let at = if self.kind == Some(Kind::Washer) {
                None
            } else if dims.get(0).is_some_and(is_pitch) {
                Some(0)
            } else {
                dims.get(1).filter(|dim| is_pitch(dim)).map(|_| 1)
            };
            // `M10 x 1.75 x 50`: with a length behind it, a decimal can be nothing but a pitch.
            let odd = |dim: &Dim| {
                dim.unit.is_none()
                    && matches!(dim.shape, Shape::Decimal(_))
                    && dim.value < Ratio::from_integer(7)
            };
            let at = at.or_else(|| {
                let two = dims.len() == 2 && self.kind != Some(Kind::Washer);
                (two && diameter.is_standard() && dims.get(0).is_some_and(odd)).then_some(0)
            });
            let pitch = at.and_then(|at| dims.remove(at));
            item.thread = pitch.map(|dim| Thread::Pitch(dim.value));
        } else if dims.len() == 2
            && let Some(&threads) = dims.get(0)
            && threads.is_whole()
            && thread::is_standard(diameter, Thread::PerInch(threads.value))
            && self.kind != Some(Kind::Washer)
        {
            // `3/8 x 16 x 2`.
            dims.remove(0);
            item.thread = Some(Thread::PerInch(threads.value));
        }
        let named = match dims.series {
            Some(Series::Coarse) => thread::coarse(diameter),
            Some(Series::Fine) => thread::fine(diameter).or_else(|| {
                let first = thread::first_fine(diameter)?;
                self.doubts.push(Doubt::Said(
                    format!("fine, of which pitch is not stated: taken for {diameter}x{first}")
                        .into(),
                ));
                Some(first)
            }),
            Some(Series::Eight) => {
                Some(Thread::per_inch(8)).filter(|&eight| thread::is_standard(diameter, eight))
            }
            None => None,
        };
        match (item.thread, named) {
            (None, named) => item.thread = named,
            (Some(stated), Some(named)) if stated != named => {
                let reading = |thread| format!("{diameter}-{thread}").into();
                self.doubts
                    .push(Doubt::Readings(vec![reading(stated), reading(named)]));
            }
            _ => {}
        }
        if let Some(stated) = item.thread
            && !thread::is_standard(diameter, stated)
        {
            self.doubts.push(Doubt::OddThread(diameter, stated));
        }
    }

    /// Doubts about a finished size.
    pub fn audit(&mut self, item: &Item) {
        if let Some(diameter) = item.diameter
            && !diameter.is_standard()
        {
            self.doubts.push(Doubt::OddDiameter(diameter));
        }
        if let Some(length) = item.length
            && !length.is_usual()
        {
            self.doubts.push(Doubt::OddLength(length));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimals_of_number_sizes() {
        let of = |n, d| number_size(Ratio::new(n, d));
        assert_eq!(of(164, 1000), Some(Diameter::Number(8)));
        assert_eq!(of(60, 1000), Some(Diameter::Number(0)));
        assert_eq!(of(242, 1000), Some(Diameter::Number(14)));
        // #13 is not made; .047 and .255 are one step off the series; .1645 is between.
        for (n, d) in [
            (229, 1000),
            (47, 1000),
            (255, 1000),
            (1645, 10000),
            (1, 4),
            (5, 1),
        ] {
            assert_eq!(of(n, d), None, "{n}/{d}");
        }
    }

    #[test]
    fn rounded_decimals_are_the_nearest_fraction_of_the_rule() {
        let of = |n, d, places| rounded(Ratio::new(n, d), places);
        assert_eq!(of(31, 100, 2), Some(Ratio::new(5, 16)));
        assert_eq!(of(63, 100, 2), Some(Ratio::new(5, 8)));
        assert_eq!(of(62, 100, 2), Some(Ratio::new(5, 8)));
        assert_eq!(of(88, 100, 2), Some(Ratio::new(7, 8)));
        assert_eq!(of(313, 1000, 3), Some(Ratio::new(5, 16)));
        assert_eq!(of(3625, 1000, 3), None);
        assert_eq!(of(37, 10, 1), None);
    }
}
