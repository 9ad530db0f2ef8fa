//! What there is to say about each item, and about the job as a whole.

use std::{cell::LazyCell, fmt::Display, hash::Hash};

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::{
    account::{Finding, FindingKind, ItemAccount, LeftOpen, Loss},
    deal::{Cost, Sink, Source, Way, deal},
    evidence::Rows,
    fit::plating_refutes,
    inventory::Inventory,
    ledger::{Ledger, Unnamed},
    lengths::{PARTS, difference, reaches},
    pool::Outcome,
};
use crate::{
    hardware::{Finish, Grade, Item, Length, Ratio, Style, Unit, thread_length},
    kit::List,
    words::count,
};

/// `1 piece`, `24 pieces`.
pub fn pieces(n: u64) -> String {
    count(n, "piece")
}

/// What is found out about one item by itself. `on_slip` says that a slip line may serve it.
pub fn of_item(
    ledger: &Ledger,
    entry: usize,
    outcome: &Outcome,
    item: &ItemAccount,
    not_chosen: bool,
    on_slip: bool,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut say = |finding, pieces: u64, note: &dyn Fn() -> String, evidence: &dyn Fn() -> Rows| {
        if pieces > 0 {
            findings.push(Finding {
                finding,
                pieces,
                note: note(),
                evidence: evidence(),
            });
        }
    };
    let listed = ledger.entries[entry].listed;
    let bench = || item.counted_by.clone();
    // Several findings rest on these two.
    let delivery = LazyCell::new(|| Rows::together([&item.shipped_by, &item.counted_by]));
    let delivery = || delivery.clone();
    let sums = &item.sums;
    let handled = sums.counted + sums.damaged;
    // The slip may list it by another name, and then lists all of it.
    let otherwise = ledger.may_be_another(entry) && !on_slip;
    if item.shipped.is_some() {
        let (unlisted, wanted) = (ledger.unlisted[entry], ledger.wanted[entry]);
        let unread = ledger.unread.get(&entry);
        if let Some(unread) = unread.filter(|rows| !rows.of_slips.is_empty()) {
            say(
                FindingKind::FigureUnread,
                unlisted,
                &|| match unread.others {
                    Some(Unnamed::NoFigure) => {
                        format!("No figure of the slip was read: it may list all of {wanted}.")
                    }
                    Some(Unnamed::Unmet) => format!(
                        "No line of the slip names what is required: it may list all of {wanted} by other names."
                    ),
                    None => format!(
                        "The slip names it, and its figure was not read: it may list all of {wanted}."
                    ),
                },
                &|| Rows::together([&item.required_by, &unread.of_slips]),
            );
        } else if !otherwise && item.open != Some(LeftOpen::MayBeSame) {
            say(
                FindingKind::SlipShort,
                unlisted,
                &|| match (on_slip, handled) {
                    (false, 1..) => format!(
                        "The slip lists 0 of {wanted} required; {handled} came nonetheless."
                    ),
                    _ => format!("The slip lists {} of {wanted} required.", wanted - unlisted),
                },
                &|| Rows::together([&item.required_by, &item.shipped_by]),
            );
        }
        let missing = ledger.unseen[entry] - outcome.built_of_counted;
        say(
            FindingKind::BoxShort,
            missing,
            &|| {
                format!(
                    "The slip lists {} more than the {} good and {} damaged that were counted.",
                    pieces(missing),
                    sums.counted,
                    sums.damaged
                )
            },
            &delivery,
        );
        if !on_slip && !otherwise {
            say(
                FindingKind::NotOnSlip,
                handled,
                &|| "It was counted, and no line of the slip lists it.".to_owned(),
                &bench,
            );
        }
    }
    let not_counted = ledger.unread.get(&entry).map(|rows| &rows.of_counts);
    if let Some(rows) = not_counted.filter(|rows| !rows.is_empty()) {
        say(
            FindingKind::FigureUnread,
            sums.short,
            &|| "A count names it, and its figure was not read: the rest may be there.".to_owned(),
            &|| Rows::together([&item.required_by, rows]),
        );
    }
    say(
        FindingKind::Damaged,
        sums.damaged,
        &|| format!("{} of {handled} counted are damaged.", sums.damaged),
        &bench,
    );
    let to_follow = ledger.back_ordered[entry];
    say(
        FindingKind::BackOrdered,
        to_follow,
        &|| format!("The slip says that {} will follow.", pieces(to_follow)),
        &|| item.shipped_by.clone(),
    );
    if !listed {
        let note = match not_chosen {
            true => "Only lines of an option that is not built ask for it.",
            false => "No required list asks for it.",
        };
        say(
            FindingKind::NotOnList,
            sums.shipped.max(handled),
            &|| note.to_owned(),
            &delivery,
        );
    }
    let extra = sums.extra - sums.spares_covered;
    let note = || match sums.spares_covered {
        0 => format!("{} more than the stages need.", pieces(extra)),
        spares => format!(
            "{} more than the stages and {} need.",
            pieces(extra),
            count(spares, "spare")
        ),
    };
    say(FindingKind::Extra, extra, &note, &delivery);
    findings
}

/// Tells parts that slips or counts do not name and others that may be the same by other words of one
/// another, and how to settle it. `pairs` are places in `items`.
pub fn tell_alike(items: &mut [ItemAccount], pairs: &[(usize, usize)]) {
    let there = |item: &ItemAccount| item.sums.shipped.max(item.sums.counted + item.sums.damaged);
    let lacking = |item: &ItemAccount| match item.sums.short {
        0 => (item.sums.required, "required"),
        short => (short, "short"),
    };
    for &(wanted, other) in pairs {
        let (number, word) = lacking(&items[wanted]);
        let beside = |at: usize, of: String| {
            format!(
                "may be the same as {} ({of}): if it is, say so in the job file, under [names]: \"{}\" = \"{}\"",
                items[at].text,
                called(&items[other]),
                called(&items[wanted])
            )
        };
        let notes = [
            beside(other, format!("{} there", pieces(there(&items[other])))),
            beside(wanted, format!("{} {word}", pieces(number))),
        ];
        let numbers = [number, there(&items[other])];
        for ((at, note), pieces) in [wanted, other].into_iter().zip(notes).zip(numbers) {
            let finding = Finding {
                finding: FindingKind::MayBeSame,
                pieces,
                note,
                evidence: of_both(&items[other], &items[wanted]),
            };
            items[at].findings.push(finding);
        }
    }
}

/// What the lists call a part: its words, else its number.
fn called(item: &ItemAccount) -> &str {
    let part = item.item.part.as_ref();
    let name = part.and_then(|part| part.description.as_deref().or(part.number.as_deref()));
    name.unwrap_or(&item.text)
}

/// Pieces of one item that are short or over, to be held against others.
struct Held<'a> {
    item: &'a Item,
    /// The first stage that needs it.
    first: Option<usize>,
    short: u64,
    over: u64,
}

impl<'a> Held<'a> {
    fn of(item: &'a ItemAccount, short: u64, over: u64) -> Held<'a> {
        Held {
            item: &item.item,
            first: item.shares.first().map(|share| share.stage),
            short,
            over,
        }
    }
}

/// Pairs what is over of one length with what is short of another, within kind, style, diameter and
/// thread: the most pieces first, then the least difference of length in all; in a family of very many
/// lengths, the nearest first.
pub fn pair_wrong_sizes(items: &mut [ItemAccount], short: &[u64]) {
    let family = |item: &Item| item.length.and_then(|_| item.family());
    let held = items.iter().zip(short);
    let held: Vec<Held> = held
        .map(|(item, short)| Held::of(item, *short, item.sums.extra))
        .collect();
    let misfit = |over: usize, at: usize| misfit(held[over].item, held[at].item);
    let pairs = pair(&held, family, misfit);
    drop(held);
    let found = of_pairs(&pairs, |over, at, number| Finding {
        finding: wrong(&items[over].item, &items[at].item),
        pieces: number,
        note: format!(
            "Perhaps packed in its place: {} of {}.",
            pieces(number),
            items[over].text
        ),
        evidence: of_both(&items[over], &items[at]),
    });
    enter(items, found);
}

/// What there is to say of pairs of items over and short, each with the place of the short one.
fn of_pairs(
    pairs: &[(usize, usize, u64)],
    finding: impl Fn(usize, usize, u64) -> Finding + Sync,
) -> Vec<(usize, Finding)> {
    let pairs = pairs.par_iter();
    let found = pairs.map(|&(over, at, number)| (at, finding(over, at, number)));
    found.collect()
}

fn enter(items: &mut [ItemAccount], found: Vec<(usize, Finding)>) {
    for (at, finding) in found {
        items[at].findings.push(finding);
    }
}

/// In what a piece is wrong that was perhaps packed in place of another.
fn wrong(over: &Item, short: &Item) -> FindingKind {
    if over.length != short.length {
        return FindingKind::WrongSize;
    }
    let grades = over.grade.zip(short.grade);
    let finish = match over.finish.zip(short.finish) {
        Some((has, asked)) => !has.agrees(asked),
        None => plating_refutes(over, short) || plating_refutes(short, over),
    };
    match grades.is_some_and(|(has, asked)| !has.agrees(asked)) {
        true => FindingKind::WrongGrade,
        false if finish => FindingKind::WrongFinish,
        false => FindingKind::WrongSize,
    }
}

/// What the shop has of an item when the job has taken what it may.
pub struct StockLeft<'a> {
    pub item: &'a Item,
    pub pieces: u64,
    /// Where it keeps them.
    pub bins: &'a [Box<str>],
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
            false => format!(" ({})", left.bins.join(", ")),
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

fn of_both(over: &ItemAccount, short: &ItemAccount) -> Rows {
    Rows::together([&short.required_by, &over.shipped_by, &over.counted_by])
}

/// Pairs what is over with what is short within a family: the most pieces, then the least cost; in a
/// family too large to try all, the nearest lengths first. Items over and short, and pieces.
fn pair<F: Hash + Eq>(
    held: &[Held],
    family: impl Fn(&Item) -> Option<F>,
    misfit: impl Fn(usize, usize) -> Option<Cost> + Sync,
) -> Vec<(usize, usize, u64)> {
    let mut numbers: FxHashMap<F, usize> = FxHashMap::default();
    let mut families: Vec<Vec<usize>> = Vec::new();
    for (at, of) in held.iter().enumerate() {
        if (of.short > 0 || of.over > 0)
            && let Some(family) = family(of.item)
        {
            let number = *numbers.entry(family).or_insert(families.len());
            if number == families.len() {
                families.push(Vec::new());
            }
            families[number].push(at);
        }
    }
    let pairs = families.into_par_iter().map(|mut family: Vec<usize>| {
        family.sort_by_cached_key(|&at| {
            let first = held[at].first;
            (first.is_none(), first, held[at].item)
        });
        let all = family.iter().copied();
        let shorts: Vec<usize> = all.clone().filter(|&at| held[at].short > 0).collect();
        let overs: Vec<usize> = all.filter(|&at| held[at].over > 0).collect();
        if shorts.is_empty() || overs.is_empty() {
            return Vec::new();
        }
        match shorts.len() * overs.len() <= EXACT_PAIRS {
            true => best_pairs(held, &shorts, &overs, &misfit),
            false => nearest_pairs(held, &shorts, &overs, &misfit),
        }
    });
    pairs.flatten_iter().collect()
}

/// Pairs of a family, short against over, up to which the pairing is the best there is.
const EXACT_PAIRS: usize = 10_000;
/// In a larger family: so many lengths on either side of its own that an item is held against.
const NEAREST: usize = 16;

/// How ill an item that is over fits the place of one that is short: the difference of length first;
/// of lengths equally far apart, the like material goes first.
fn misfit(a: &Item, b: &Item) -> Option<Cost> {
    let material = i32::from(a.grade != b.grade) + i32::from(a.finish != b.finish);
    Some(Cost::own(material).apart(difference(a.length?, b.length?)?))
}

/// The best pairing: the most pieces, then the least misfit. Items over and short, and pieces.
fn best_pairs(
    held: &[Held],
    shorts: &[usize],
    overs: &[usize],
    misfit: impl Fn(usize, usize) -> Option<Cost>,
) -> Vec<(usize, usize, u64)> {
    let ways: Vec<Vec<Way>> = overs
        .iter()
        .map(|&over| {
            let others = shorts.iter().enumerate().filter(|&(_, &at)| at != over);
            others
                .filter_map(|(sink, &at)| Some(Way::at(sink, misfit(over, at)?)))
                .collect()
        })
        .collect();
    let sources: Vec<Source> = overs
        .iter()
        .zip(&ways)
        .map(|(&over, ways)| Source::of(held[over].over, ways))
        .collect();
    let wants: Vec<(usize, u64)> = shorts.iter().map(|&at| (0, held[at].short)).collect();
    deal(&Sink::each(&wants), &sources)
        .flows
        .into_iter()
        .map(|(over, at, pieces)| (overs[over], shorts[at], pieces))
        .collect()
}

/// A pairing for families too large to try all: the nearest lengths are paired first.
fn nearest_pairs(
    held: &[Held],
    shorts: &[usize],
    overs: &[usize],
    misfit: impl Fn(usize, usize) -> Option<Cost>,
) -> Vec<(usize, usize, u64)> {
    let mut by_length = shorts.to_vec();
    by_length.sort_by_key(|&at| (held[at].item.length, at));
    let mut pairs: Vec<(Cost, usize, usize)> = Vec::new();
    for &over in overs {
        let length = held[over].item.length;
        let at = by_length.partition_point(|&at| held[at].item.length < length);
        let near = at.saturating_sub(NEAREST)..(at + NEAREST).min(by_length.len());
        pairs.extend(
            by_length[near]
                .iter()
                .filter(|&&at| at != over)
                .filter_map(|&at| {
                    let misfit = misfit(over, at)?;
                    Some((misfit, over, at))
                }),
        );
    }
    pairs.sort_unstable();
    let pieces_of = |of: &[usize], pieces: fn(&Held) -> u64| -> FxHashMap<usize, u64> {
        of.iter().map(|&at| (at, pieces(&held[at]))).collect()
    };
    let mut left = pieces_of(overs, |held| held.over);
    let mut wanted = pieces_of(shorts, |held| held.short);
    let mut flows = Vec::new();
    for (_, over, at) in pairs {
        if let (Some(left), Some(wanted)) = (left.get_mut(&over), wanted.get_mut(&at)) {
            let pieces = (*left).min(*wanted);
            *left -= pieces;
            *wanted -= pieces;
            if pieces > 0 {
                flows.push((over, at, pieces));
            }
        }
    }
    flows
}

/// One finding for each bag or box that did not arrive, with all the pieces that it held.
pub fn boxes_not_received(
    inventory: &Inventory,
    ledger: &Ledger,
    kits: u64,
    any_slip: bool,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (at, (bag, rows)) in inventory.not_received.iter().enumerate() {
        let held = ledger.held(inventory, at, kits, any_slip);
        let total: u64 = held.iter().map(|lost| lost.pieces).sum();
        let mut items: Vec<usize> = held.iter().map(|lost| lost.item).collect();
        items.sort_unstable();
        items.dedup();
        let name = inventory.containers[*bag as usize].spoken();
        findings.push(Finding {
            finding: FindingKind::BoxNotReceived,
            pieces: total,
            note: format!(
                "{name} was not received: {} of {}.",
                pieces(total),
                count(items.len() as u64, "item")
            ),
            evidence: rows.clone(),
        });
    }
    findings
}

/// What an item lost with bags and boxes that did not arrive.
pub fn of_boxes_not_received(inventory: &Inventory, losses: &[Loss]) -> Vec<Finding> {
    let one_box = losses.chunk_by(|a, b| a.finding == b.finding);
    one_box
        .map(|losses| {
            let (bag, rows) = &inventory.not_received[losses[0].finding];
            let lost = losses.iter().map(|loss| loss.pieces).sum();
            Finding {
                finding: FindingKind::BoxNotReceived,
                pieces: lost,
                note: format!(
                    "{} was not received: it was to hold {}.",
                    inventory.containers[*bag as usize].spoken(),
                    pieces(lost)
                ),
                evidence: rows.clone(),
            }
        })
        .collect()
}

/// A finding where the title blocks of the lists name different revisions.
pub fn revisions(lists: &[List]) -> Option<Finding> {
    let key = |revision: &str| {
        revision
            .split_whitespace()
            .collect::<String>()
            .to_lowercase()
    };
    let named: Vec<(&List, &str)> = lists
        .iter()
        .filter_map(|list| Some((list, list.revision.as_deref()?)))
        .collect();
    let (_, first) = named.first()?;
    if named.iter().all(|(_, other)| key(other) == key(first)) {
        return None;
    }
    let words: Vec<String> = named
        .iter()
        .map(|(list, revision)| format!("{} is revision {revision}", list.file))
        .collect();
    Some(Finding {
        finding: FindingKind::Revisions,
        pieces: 0,
        note: format!("The lists do not belong together: {}.", words.join(", ")),
        evidence: Rows::default(),
    })
}
