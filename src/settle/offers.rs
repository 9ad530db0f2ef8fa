//! Pieces that no rule allows, and that may do in place of what is short: for the kit maker to say.

use std::fmt::Display;

use indexmap::IndexSet;

use super::{
    account::{Finding, FindingKind, ItemAccount},
    deal::Cost,
    evidence::Rows,
    findings::pieces,
    lengths::{PARTS, difference, reaches},
    pairs::{Held, enter, of_both, of_pairs, pair},
};
use crate::hardware::{Finish, Grade, Item, Length, Ratio, Style, Unit, thread_length};

/// What the shop has of an item when the job has taken what it may.
pub struct StockLeft<'a> {
    pub item: &'a Item,
    pub pieces: u64,
    /// Where it keeps them.
    pub bins: &'a IndexSet<Box<str>>,
    pub evidence: &'a Rows,
}

/// Offers what is over in place of what is short, where a longer, stronger or otherwise finished piece
/// of one kind, diameter and thread might do: that is for the kit maker to say. What lies over on the
/// bench goes before what is left of the shop's stock. `grips` says, beside the items, what their
/// joints clamp where that is known.
pub fn offer(items: &mut [ItemAccount], grips: &[Option<Length>], stock: &[StockLeft]) {
    let mut short: Vec<u64> = items
        .iter()
        .map(|item| if item.known { item.sums.short } else { 0 })
        .collect();
    let pairs = offers(items, &short, true, grips, &[]);
    for (_, at, number) in &pairs {
        short[*at] -= number;
    }
    let found = of_pairs(&pairs, |over, at, number| {
        let evidence = of_both(&items[over], &items[at]);
        let of = format!("{} over", items[over].text);
        offered(&items[over].item, &of, number, &items[at], evidence)
    });
    enter(items, found);
    if stock.is_empty() {
        return;
    }
    let pairs = offers(items, &short, false, grips, stock);
    let found = of_pairs(&pairs, |over, at, number| {
        let left = &stock[over - items.len()];
        let bins = match left.bins.is_empty() {
            true => String::new(),
            false => {
                let bins: Vec<&str> = left.bins.iter().map(|bin| &**bin).collect();
                format!(" ({})", bins.join(", "))
            }
        };
        let evidence = Rows::together([&items[at].required_by, left.evidence]);
        let of = format!("{} left in the shop's stock{bins}", left.item);
        offered(left.item, &of, number, &items[at], evidence)
    });
    enter(items, found);
}

/// The offer of pieces of an item in place of one that is short; `of` says which, and where they are.
fn offered(over: &Item, of: &str, number: u64, short: &ItemAccount, evidence: Rows) -> Finding {
    let differs = Offered::of(over, &short.item);
    let words = differs.map(|differs| differs.words(over).join(", "));
    Finding {
        finding: FindingKind::Offered,
        pieces: number,
        note: format!(
            "{} of {of}: {}. No rule allows it: ask the kit maker.",
            pieces(number),
            words.unwrap_or_default(),
        ),
        evidence,
    }
}

/// What might do in place of what is short: the place of what is over (items, then stock), the item
/// that is short, and pieces.
fn offers(
    items: &[ItemAccount],
    short: &[u64],
    of_bench: bool,
    grips: &[Option<Length>],
    stock: &[StockLeft],
) -> Vec<(usize, usize, u64)> {
    let family = |item: &Item| {
        let family = item.family()?;
        Some((family.kind?, family.diameter, family.thread))
    };
    let of_items = items.iter().zip(short).map(|(item, short)| {
        let over = if of_bench { item.sums.extra } else { 0 };
        Held::of(item, *short, over)
    });
    let of_stock = stock.iter().map(|left| Held {
        item: left.item,
        first: None,
        short: 0,
        over: left.pieces,
    });
    let held: Vec<Held> = of_items.chain(of_stock).collect();
    let strain = |over: usize, at: usize| {
        let (over, short) = (held[over].item, held[at].item);
        let offered = Offered::of(over, short)?;
        let unfit = offered.longer.is_some() && grips[at].is_some_and(|grip| !reaches(over, grip));
        (!unfit).then(|| offered.cost())
    };
    pair(&held, family, strain)
}

/// Lengths farther above the right one are not offered: 1 in, 25 mm. Common practice, no source.
const MUCH_LONGER: [(Unit, i64); 2] = [(Unit::Inch, 1), (Unit::Millimetre, 25)];

/// In what a piece differs that might do in place of another; at least one is there.
struct Offered {
    /// Difference of length, as [`difference`] has it, and by how much it is longer.
    apart: i64,
    longer: Option<Ratio>,
    style: Option<(Style, Style)>,
    grade: Option<(Option<Grade>, Grade)>,
    finish: Option<(Option<Finish>, Finish)>,
}

impl Offered {
    /// `None` where the piece is shorter, weaker, or another thing.
    fn of(over: &Item, short: &Item) -> Option<Offered> {
        let (mut apart, mut longer) = (0, None);
        match (over.length, short.length) {
            (None, None) => {}
            (Some(has), Some(asked)) if has.unit() == asked.unit() => {
                apart = difference(has, asked)?;
                if has != asked {
                    let (_, most) = MUCH_LONGER
                        .into_iter()
                        .find(|(unit, _)| *unit == has.unit())?;
                    // What is much longer by the rounded figure is so by the exact one.
                    if has < asked || apart > most * PARTS {
                        return None;
                    }
                    let more = has.value() - asked.value();
                    if more > Ratio::from_integer(most) {
                        return None;
                    }
                    longer = Some(more);
                }
            }
            _ => return None,
        }
        let style = match over.style != short.style {
            true => {
                let flat = |style| matches!(style, Style::Flat | Style::Sae | Style::Uss);
                let (has, asked) = (over.style?, short.style?);
                if !flat(has) || !flat(asked) {
                    return None;
                }
                Some((has, asked))
            }
            false => None,
        };
        let grade = match (over.grade, short.grade) {
            (Some(has), Some(asked)) if !has.agrees(asked) => {
                asked.steps_up_to(has)?;
                Some((Some(has), asked))
            }
            (None, Some(asked)) => Some((None, asked)),
            _ => None,
        };
        let finish = match (over.finish, short.finish) {
            (Some(has), Some(asked)) if !has.agrees(asked) => Some((Some(has), asked)),
            (None, Some(asked)) => Some((None, asked)),
            _ => None,
        };
        let offered = Offered {
            apart,
            longer,
            style,
            grade,
            finish,
        };
        (offered.differences() > 0).then_some(offered)
    }

    fn differences(&self) -> i32 {
        let all = [
            self.longer.is_some(),
            self.style.is_some(),
            self.grade.is_some(),
            self.finish.is_some(),
        ];
        all.into_iter().map(i32::from).sum()
    }

    fn cost(&self) -> Cost {
        Cost::own(self.differences()).apart(self.apart)
    }

    /// How the piece that is over differs.
    fn words(&self, over: &Item) -> Vec<String> {
        fn instead<T: Display>((has, asked): (Option<T>, T)) -> String {
            match has {
                Some(has) => format!("{has} for {asked}"),
                None => format!("{asked} is asked for, and it states none"),
            }
        }
        let longer = self.longer.zip(over.length);
        let longer = longer.map(|(more, length)| longer_by(over, more, length));
        let style = self.style.map(|(has, asked)| instead((Some(has), asked)));
        let grade = self.grade.map(instead);
        let finish = self.finish.map(instead);
        [longer, style, grade, finish]
            .into_iter()
            .flatten()
            .collect()
    }
}

/// `1/2 longer; its thread reaches only where the joint is at least 4-1/2 thick`.
fn longer_by(item: &Item, more: Ratio, length: Length) -> String {
    let at = |value| match length {
        Length::Inch(_) => Length::Inch(value),
        Length::Millimetre(_) => Length::Millimetre(value),
    };
    let unit = length.unit().as_str();
    let more = format!("{} {unit} longer", at(more));
    match thread_length(item) {
        Some(threaded) if threaded < length => format!(
            "{more}, and its thread reaches only where the joint is at least {} {unit} thick",
            at(length.value() - threaded.value())
        ),
        Some(_) => more,
        None => format!("{more}; check that its thread reaches"),
    }
}
