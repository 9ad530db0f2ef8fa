//! What there is to say about each item, and about the job as a whole.

use std::{cell::LazyCell, collections::BTreeMap};

use super::{
    Settling,
    account::{Finding, FindingKind, ItemAccount, LeftOpen, Loss},
    evidence::Rows,
    inventory::Inventory,
    ledger::{Ledger, Unnamed},
    pairs::of_both,
    pool::Outcome,
};
use crate::{kit::List, words::count};

/// `1 piece`, `24 pieces`.
pub fn pieces(n: u64) -> String {
    count(n, "piece")
}

/// What to do where several rows count one item, and nothing tells their heaps apart.
pub const TWO_HEAPS: &str = "one heap counted again, or several? Put all of it on one row, name the bag of \
     each, or give the newer count alone; until then the lowest figure is taken";

/// Rows that a text names of so many.
const ROWS_NAMED: usize = 12;

/// The first of many texts, and how many more there are.
pub fn named_first(texts: impl ExactSizeIterator<Item = String>, between: &str) -> String {
    let more = texts.len().saturating_sub(ROWS_NAMED);
    let mut named: Vec<String> = texts.take(ROWS_NAMED).collect();
    if more > 0 {
        named.push(format!("{more} more"));
    }
    named.join(between)
}

/// What is found out about one item by itself. `on_slip` says that a slip line may serve it.
pub fn of_item(
    settling: &Settling,
    entry: usize,
    outcome: &Outcome,
    item: &ItemAccount,
    not_chosen: bool,
    on_slip: bool,
) -> Vec<Finding> {
    let (inventory, ledger) = (&settling.inventory, &settling.ledger);
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
                match unread.others {
                    Some(Unnamed::Unmet) => FindingKind::SlipUnmet,
                    Some(Unnamed::Unopened) => FindingKind::Unopened,
                    Some(Unnamed::NoFigure | Unnamed::Perhaps) | None => FindingKind::FigureUnread,
                },
                unlisted,
                &|| match unread.others {
                    Some(Unnamed::NoFigure) => {
                        format!("No figure of the slip was read: it may list all of {wanted}.")
                    }
                    Some(Unnamed::Unmet) => format!(
                        "No line of the slip names it, and some name what no list knows: it may list all of {wanted} by other names."
                    ),
                    Some(Unnamed::Unopened) => format!(
                        "No list says what is in a bag or a kit that the slip lists as one: it may hold all of {wanted}."
                    ),
                    Some(Unnamed::Perhaps) => format!(
                        "A row of the slip that may be of it was not read in full: it may list all of {wanted}."
                    ),
                    None => format!(
                        "The slip names it, and its figure was not read: it may list all of {wanted}."
                    ),
                },
                &|| Rows::together([&item.required_by, &unread.of_slips]),
            );
        } else if item.open == Some(LeftOpen::ComesAlong) {
            say(
                FindingKind::ComesAlong,
                unlisted,
                &|| {
                    "The slip may name no more than the item that it comes with: look for it there."
                        .to_owned()
                },
                &|| item.required_by.clone(),
            );
        } else if !otherwise
            && !matches!(
                item.open,
                Some(
                    LeftOpen::MayBeSame
                        | LeftOpen::AskedTwice
                        | LeftOpen::OneOfSeveral
                        | LeftOpen::NumberInDoubt
                )
            )
        {
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
        let missing = match item.open {
            Some(LeftOpen::OneOfSeveral) => 0,
            _ => ledger.unseen[entry].saturating_sub(outcome.built_of_counted),
        };
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
            &|| {
                "A count names it or its bag, and not how many are there: the rest may be."
                    .to_owned()
            },
            &|| Rows::together([&item.required_by, rows]),
        );
    }
    if item.open == Some(LeftOpen::CountUndated) {
        say(
            FindingKind::CountUndated,
            sums.short,
            &|| {
                "Nobody knows whether the count looked at the later parcel, too: they may have come since."
                    .to_owned()
            },
            &delivery,
        );
    }
    let doubted = settling.doubted.rows(entry, settling.lists);
    let at_least = match item.at_least() {
        0 => String::new(),
        least => format!(" Of any, {} at least are short.", pieces(least)),
    };
    let in_doubt = match item.open {
        Some(LeftOpen::NumberInDoubt) => sums.short,
        _ => item.may_lack(),
    };
    if let Some((rows, why)) = doubted {
        say(
            FindingKind::NumberInDoubt,
            in_doubt,
            &|| format!("Another number may be meant: {why}.{at_least}"),
            &|| rows.clone(),
        );
    }
    for twice in ledger.counted_twice.get(&entry).into_iter().flatten() {
        let twice = &inventory.counted_twice[*twice];
        let mut figures: Vec<u64> = twice.counts.iter().map(|(_, good)| *good).collect();
        figures.sort_unstable();
        say(
            FindingKind::CountedTwice,
            figures.iter().sum(),
            &|| {
                let said = figures.iter().map(u64::to_string);
                format!("rows say {}; {TWO_HEAPS}.", named_first(said, " and "))
            },
            &|| {
                let counts = twice.counts.iter();
                counts.map(|(at, _)| at.run(settling.lists)).collect()
            },
        );
    }
    let again = ledger.asked_twice.get(&entry).copied().unwrap_or(0);
    say(
        FindingKind::AskedTwice,
        again,
        &|| {
            format!(
                "{again} of {} required stand on a sheet that may only say again what others say.",
                sums.required
            )
        },
        &|| item.required_by.clone(),
    );
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

/// Tells items that slips or counts do not name and others that may be the same by other words of one
/// another, and how to settle it. `pairs` are places in `items`.
pub fn tell_alike(items: &mut [ItemAccount], pairs: &[(usize, usize)]) {
    let mut of_items: BTreeMap<usize, Vec<(usize, usize)>> = BTreeMap::new();
    for &pair in pairs {
        for at in [pair.0, pair.1] {
            of_items.entry(at).or_default().push(pair);
        }
    }
    let found = of_items
        .into_iter()
        .map(|(at, pairs)| (at, alike(items, at, &pairs)));
    let found: Vec<(usize, Finding)> = found.collect();
    for (at, finding) in found {
        items[at].findings.push(finding);
    }
}

/// What an item may be the same as: pairs of what is wanted and another, of which it is one.
fn alike(items: &[ItemAccount], at: usize, pairs: &[(usize, usize)]) -> Finding {
    let there = |item: &ItemAccount| item.sums.shipped.max(item.sums.counted + item.sums.damaged);
    let lacking = |item: &ItemAccount| match item.sums.short {
        0 => (item.sums.required, "required"),
        short => (short, "short"),
    };
    let same = pairs.iter().map(|&(wanted, other)| match at == wanted {
        true => format!(
            "{} ({} there)",
            items[other].text,
            pieces(there(&items[other]))
        ),
        false => {
            let (number, word) = lacking(&items[wanted]);
            format!("{} ({} {word})", items[wanted].text, pieces(number))
        }
    });
    let same: Vec<String> = same.collect();
    let which = match same.len() {
        1 => "if it is",
        _ => "if it is one of these",
    };
    let (wanted, other) = pairs[0];
    let number = match at == wanted {
        true => lacking(&items[at]).0,
        false => there(&items[at]),
    };
    let evidence = pairs
        .iter()
        .map(|&(wanted, other)| of_both(&items[other], &items[wanted]));
    let evidence: Vec<Rows> = evidence.collect();
    Finding {
        finding: FindingKind::MayBeSame,
        pieces: number,
        note: format!(
            "may be the same as {}: {which}, say so in the job file, under [names]: \"{}\" = \"{}\"",
            same.join(" or "),
            items[other].called(),
            items[wanted].called()
        ),
        evidence: Rows::together(&evidence),
    }
}

/// One finding for each bag or box that did not arrive, with all the pieces that it held.
pub fn boxes_not_received(
    inventory: &Inventory,
    ledger: &Ledger,
    kits: u64,
    any_slip: bool,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    let held = ledger.held(inventory, kits, any_slip);
    for ((bag, rows), held) in inventory.not_received.iter().zip(held) {
        let total: u64 = held.iter().map(|lost| lost.pieces).sum();
        let mut items: Vec<usize> = held.iter().map(|lost| lost.item).collect();
        items.sort_unstable();
        items.dedup();
        let name = inventory.containers[*bag as usize].spoken();
        findings.push(Finding {
            finding: FindingKind::BoxNotReceived,
            pieces: total,
            note: match total {
                0 => format!("{name} was not received, and nothing is lacking for that."),
                _ => format!(
                    "{name} was not received: {} of {}.",
                    pieces(total),
                    count(items.len() as u64, "item")
                ),
            },
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_of_many() {
        let rows = |n: usize| (1..=n).map(|row| row.to_string()).collect::<Vec<_>>();
        assert_eq!(named_first(rows(2).into_iter(), " and "), "1 and 2");
        let said = named_first(rows(6000).into_iter(), ", ");
        assert_eq!(said, "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 5988 more");
    }
}
