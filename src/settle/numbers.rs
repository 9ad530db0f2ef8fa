//! Maker's numbers: which item a number stands for, taught by the lists that show both.

use rustc_hash::FxHashMap;

use super::fit::fit;
use crate::{doubt::Doubt, hardware::Item, kit::NumberRow};

/// What the lists teach about numbers.
#[derive(Default)]
pub struct Numbers {
    known: FxHashMap<Box<str>, Known>,
    /// Numbers by their loose form, in order.
    loose: FxHashMap<Box<str>, Vec<Box<str>>>,
}

#[derive(Default)]
struct Known {
    /// The items taught, and whether a required list says so.
    items: Vec<(Item, bool)>,
    /// A part that a required list names by this number.
    part: bool,
    /// What a table of numbers says, and where.
    kept: Option<(Item, String)>,
}

/// What a number stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Meant {
    /// A hardware item, or a part by its name.
    Item(Item),
    /// The part of this number.
    Part(Box<str>),
}

impl Numbers {
    /// Takes over what a table says of a number. The first of several tables goes before the others.
    pub fn keep(&mut self, row: &NumberRow) {
        let known = self.known.entry(row.number.as_str().into()).or_default();
        if known.kept.is_none() {
            known.kept = Some((row.item.clone(), row.address()));
        }
    }

    /// Learns that a hardware item bears a number.
    pub fn teach(&mut self, number: &str, item: &Item, required: bool) {
        let known = self.known.entry(number.into()).or_default();
        match known.items.iter_mut().find(|(known, _)| known == item) {
            Some((_, by_required)) => *by_required |= required,
            None => known.items.push((item.clone(), required)),
        }
    }

    /// Learns that a required list asks for a part by this number.
    pub fn teach_part(&mut self, number: &str) {
        self.known.entry(number.into()).or_default().part = true;
    }

    /// Call when all is taught.
    pub fn sort(&mut self) {
        for (number, known) in &mut self.known {
            known.items.sort();
            if let Some(loose) = loose(number) {
                self.loose.entry(loose).or_default().push(number.clone());
            }
        }
        for numbers in self.loose.values_mut() {
            numbers.sort();
        }
    }

    /// True where two items that cannot be one bear this number.
    pub fn is_ambiguous(&self, number: &str) -> bool {
        let Some(known) = self.known.get(number) else {
            return false;
        };
        let taught = known.items.iter().map(|(item, _)| item);
        let items: Vec<&Item> = taught
            .filter(|item| known.sized(item).is_none())
            .chain(known.kept.iter().map(|(item, _)| item))
            .collect();
        items
            .iter()
            .enumerate()
            .any(|(at, a)| items[at + 1..].iter().any(|b| fit(a, b).is_none()))
    }

    /// What a line asks for that names a hardware item beside a number, where the number tells more than its
    /// words do: the item of that size, where they give none (`HW-40 | clevis pin`); the part that a required
    /// list calls by this number.
    pub fn fuller(&self, number: &str, item: &Item) -> Option<Meant> {
        let known = self.known.get(number)?;
        if let Some(sized) = known.sized(item) {
            return Some(Meant::Item(sized.clone()));
        }
        let hardware = known.items.iter().any(|(_, required)| *required) || known.kept.is_some();
        (known.part && !hardware).then(|| Meant::Part(number.into()))
    }

    /// What a line that gives only a number asks for, and a doubt where that is not plain. A table that
    /// was kept goes before the lists, and is always named. A required
    /// list's statement goes before another's, a fuller one before a bare one.
    pub fn meant(&self, number: &str) -> (Meant, Option<Doubt>) {
        if let Some(meant) = self
            .known
            .get(number)
            .and_then(|known| self.exact(number, known))
        {
            return meant;
        }
        let as_written = || (Meant::Part(number.into()), None);
        if self.known.contains_key(number) {
            return as_written();
        }
        let Some(loose) = loose(number) else {
            return as_written();
        };
        let matched = match self.loose.get(&loose).map(Vec::as_slice) {
            Some([one]) => one.as_ref(),
            _ => match self.rounded(number) {
                Some(one) => one,
                None => return as_written(),
            },
        };
        let known = &self.known[matched];
        let (meant, doubt) = self
            .exact(matched, known)
            .unwrap_or_else(|| (Meant::Part(matched.into()), None));
        let loosely = Doubt::LooseNumber {
            written: number.into(),
            matched: matched.into(),
        };
        let doubt = match (&known.kept, doubt) {
            (Some(_), Some(kept)) => Doubt::Said(format!("{loosely}; {kept}").into()),
            (_, doubt) => doubt.unwrap_or(loosely),
        };
        (meant, Some(doubt))
    }

    fn exact(&self, number: &str, known: &Known) -> Option<(Meant, Option<Doubt>)> {
        // A part that the lists know by this number needs no name.
        let by_number = |item: &Item| known.part && item.part.is_some();
        if let Some((item, address)) = known.kept.as_ref().filter(|(item, _)| !by_number(item)) {
            let other = known.items.iter().find(|(of, _)| fit(of, item).is_none());
            let said = match other {
                Some((other, _)) => format!(
                    "part number {number} stands for {item} by {address}, and for {other} on the lists: \
                     settle which is right"
                ),
                None => format!("part number {number} stands for it by {address}"),
            };
            let meant = Meant::Item(item.clone());
            return Some((meant, Some(Doubt::Said(said.into()))));
        }
        if known.items.is_empty() {
            return None;
        }
        if self.is_ambiguous(number) {
            let doubt = Doubt::NumberNotUnique(number.into());
            return Some((Meant::Part(number.into()), Some(doubt)));
        }
        let (item, _) = known
            .items
            .iter()
            .min_by_key(|(item, required)| (!required, open_fields(item)))?;
        Some((Meant::Item(item.clone()), None))
    }

    /// The one known number that a spreadsheet would show as this one, in scientific notation.
    fn rounded(&self, number: &str) -> Option<&str> {
        let shown = Scientific::parse(number)?;
        let known = self.known.keys().map(AsRef::as_ref);
        let mut fitting = known.filter(|known| shown.shows(known));
        let one = fitting.next()?;
        fitting.next().is_none().then_some(one)
    }
}

impl Known {
    /// The one item of a size that fits an item of none, both of this number.
    fn sized(&self, item: &Item) -> Option<&Item> {
        if item.diameter.is_some() {
            return None;
        }
        let sized = || {
            let sized = self.items.iter();
            sized.filter(|(known, _)| known.diameter.is_some() && known.agrees(item))
        };
        let (best, _) = sized().min_by_key(|(item, required)| (!required, open_fields(item)))?;
        let one = sized().all(|(other, _)| fit(best, other).is_some());
        one.then_some(best)
    }
}

/// How many fields of an item are not stated.
fn open_fields(item: &Item) -> usize {
    [
        item.kind.is_none(),
        item.style.is_none(),
        item.length.is_none(),
        item.grade.is_none(),
        item.finish.is_none(),
        item.full_thread.is_none(),
    ]
    .into_iter()
    .filter(|open| *open)
    .count()
}

/// A number as a spreadsheet leaves it of one kept as a figure: no leading zeros, no `.0` at the end,
/// no spaces; and one of letters and figures by its runs of them, however they are parted: `BR 100`, `BR-100`,
/// `br100`. `None` for a number of letters only.
fn loose(number: &str) -> Option<Box<str>> {
    if number.contains(|c: char| c.is_alphabetic()) && number.contains(|c: char| c.is_ascii_digit())
    {
        return Some(runs(number).join("-").into());
    }
    let bare: String = number.chars().filter(|c| !c.is_whitespace()).collect();
    let bare = bare.strip_suffix(".0").unwrap_or(&bare);
    if !bare.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    Some(bare.trim_start_matches('0').into())
}

/// True where one of two numbers may be what a clerk or a spreadsheet made of the other: by its signs (`A-12`,
/// `A12`), as a figure (`10.10`, `10.1`; `1E06`, `1000000`), as a date (`3-8`, `8-Mar`), or with more before or
/// behind it (`A-12 rev B`). Common practice, no source.
pub fn may_be_one(a: &str, b: &str) -> bool {
    let (own, others) = (spellings(a), spellings(b));
    if own.iter().any(|one| others.contains(one)) {
        return true;
    }
    let (own, others) = (runs(a), runs(b));
    let within = |of: &[String], all: &[String]| {
        of.len() > 1 && all.windows(of.len()).any(|part| part == of)
    };
    within(&own, &others) || within(&others, &own)
}

/// A number without its signs; as a figure; and as the date that a spreadsheet makes of it.
fn spellings(number: &str) -> Vec<String> {
    let runs = runs(number);
    let mut all = vec![runs.concat()];
    all.extend(figure(number));
    // A date says day and month in either order.
    if let [one, other] = runs.as_slice() {
        let of = |text: &str| match month(text) {
            Some(month) => Some(month.to_string()),
            None => text
                .bytes()
                .all(|b| b.is_ascii_digit())
                .then(|| text.to_owned()),
        };
        if let (Some(one), Some(other)) = (of(one), of(other)) {
            let mut both = [one, other];
            both.sort();
            all.push(both.join("-"));
        }
    }
    all
}

/// Letters and digits of a number, run by run, in small letters and without leading zeros. A letter O
/// beside digits is a zero.
fn runs(number: &str) -> Vec<String> {
    let lower = number.to_lowercase();
    let mut runs: Vec<String> = Vec::new();
    let mut before = None;
    let is_zero = |c: char| {
        c == 'o'
            && lower.len() > 1
            && !lower.contains(|c: char| c.is_ascii_alphabetic() && c != 'o')
    };
    for c in lower.chars() {
        let c = if is_zero(c) { '0' } else { c };
        let kind = c.is_alphanumeric().then(|| c.is_ascii_digit());
        match (kind, runs.last_mut()) {
            (Some(_), Some(run)) if kind == before => run.push(c),
            (Some(_), _) => runs.push(c.to_string()),
            (None, _) => {}
        }
        before = kind;
    }
    for run in &mut runs {
        *run = run.trim_start_matches('0').to_owned();
    }
    runs
}

/// A figure in full: `10.10` is `10.1`, `5E3` and `5E+03` are `5000`.
fn figure(number: &str) -> Option<String> {
    let number = number.trim();
    let (mantissa, power) = match number.split_once(['E', 'e']) {
        Some((mantissa, power)) => (mantissa, power.trim_start_matches('+').parse().ok()?),
        None => (number, 0),
    };
    let (whole, part) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    if whole.is_empty() || !digits(whole) || !digits(part) || !(0..=30).contains(&power) {
        return None;
    }
    let shift = usize::try_from(power).ok()?;
    let part = format!("{part:0<shift$}");
    let (more, part) = part.split_at(shift);
    let whole = format!("{whole}{more}");
    let (whole, part) = (whole.trim_start_matches('0'), part.trim_end_matches('0'));
    Some(format!("{whole}.{part}"))
}

fn month(text: &str) -> Option<usize> {
    const MONTHS: [&str; 12] = [
        "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
    ];
    Some(MONTHS.iter().position(|month| *month == text)? + 1)
}

/// `1.23E+08`: a figure shown by its leading digits and its power of ten.
struct Scientific {
    digits: String,
    /// Digits of the whole figure.
    length: usize,
}

impl Scientific {
    fn parse(text: &str) -> Option<Scientific> {
        let (mantissa, power) = text.split_once(['E', 'e'])?;
        let power: usize = power.strip_prefix('+')?.parse().ok()?;
        let (whole, rest) = mantissa.split_once('.').unwrap_or((mantissa, ""));
        let digits = format!("{whole}{rest}");
        let sound = whole.len() == 1
            && digits.bytes().all(|b| b.is_ascii_digit())
            && power < 30
            && digits.len() <= power + 1;
        sound.then_some(Scientific {
            digits,
            length: power + 1,
        })
    }

    /// True where `number`, a figure, rounds to this.
    fn shows(&self, number: &str) -> bool {
        let figure = number.trim_start_matches('0');
        if figure.len() > 30 || !figure.bytes().all(|b| b.is_ascii_digit()) {
            return false;
        }
        let (Ok(figure_value), Ok(digits)) = (figure.parse::<u128>(), self.digits.parse::<u128>())
        else {
            return false;
        };
        let unit = 10u128.pow((self.length - self.digits.len()) as u32);
        (figure_value + unit / 2) / unit == digits
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample::item;
    use super::*;

    fn taught() -> Numbers {
        let mut numbers = Numbers::default();
        numbers.teach("H-500", &item("bolt hex 1/2 3 g5"), false);
        numbers.teach("H-500", &item("bolt hex 1/2 3"), true);
        numbers.teach("H-9", &item("bolt hex 1/2 3"), true);
        numbers.teach("H-9", &item("bolt hex 1/2 4"), false);
        numbers.teach("004711", &item("nut hex 1/2"), true);
        numbers.teach("0815", &item("nut hex 3/8"), true);
        numbers.teach("00815", &item("nut hex 5/8"), true);
        numbers.teach("123456789012", &item("nut hex 3/4"), true);
        numbers.teach_part("007");
        numbers.sort();
        numbers
    }

    #[track_caller]
    fn case(written: &str, meant: Meant, doubt: Option<Doubt>) {
        assert_eq!(taught().meant(written), (meant, doubt), "{written}");
    }

    fn loosely(written: &str, matched: &str) -> Option<Doubt> {
        Some(Doubt::LooseNumber {
            written: written.into(),
            matched: matched.into(),
        })
    }

    #[test]
    fn numbers_that_may_be_one() {
        #[track_caller]
        fn case(a: &str, b: &str, expected: bool) {
            assert_eq!(may_be_one(a, b), expected, "{a} {b}");
            assert_eq!(may_be_one(b, a), expected, "{b} {a}");
        }
        case("A-12", "A12", true);
        case("12-34", "1234", true);
        case("12/5", "12-5", true);
        case("O12", "012", true);
        case("1E06", "1000000", true);
        case("1E06", "1E+06", true);
        case("5E3", "5000", true);
        case("10.10", "10.1", true);
        case("3-8", "8-Mar", true);
        case("MAR-8", "8-Mar", true);
        case("A-12 rev B", "A-12", true);
        case("A-12-ZP", "A-12", true);
        case("6204-2RS", "2RS", true);
        case("A-12", "A-120", false);
        case("A-12", "B-12", false);
        case("A-12-L", "A-12-R", false);
        case("3-8", "9-Mar", false);
        case("10.10", "10.01", false);
        case("5E3", "500", false);
        case("TX-2201", "TX-2202", false);
    }

    #[test]
    fn what_numbers_stand_for() {
        let hardware = |words: &str| Meant::Item(item(words));
        case("H-500", hardware("bolt hex 1/2 3"), None);
        case(
            "H-9",
            Meant::Part("H-9".into()),
            Some(Doubt::NumberNotUnique("H-9".into())),
        );
        case("004711", hardware("nut hex 1/2"), None);
        case("4711", hardware("nut hex 1/2"), loosely("4711", "004711"));
        case(
            "4711.0",
            hardware("nut hex 1/2"),
            loosely("4711.0", "004711"),
        );
        // Two numbers would read so: no choice is made.
        case("815", Meant::Part("815".into()), None);
        case(
            "1.23457E+11",
            hardware("nut hex 3/4"),
            loosely("1.23457E+11", "123456789012"),
        );
        case("1.23456E+11", Meant::Part("1.23456E+11".into()), None);
        case("7", Meant::Part("007".into()), loosely("7", "007"));
        case("007", Meant::Part("007".into()), None);
        case("TB-1", Meant::Part("TB-1".into()), None);
        case(
            "h 500",
            hardware("bolt hex 1/2 3"),
            loosely("h 500", "H-500"),
        );
        case("H5-00", Meant::Part("H5-00".into()), None);
    }
}
