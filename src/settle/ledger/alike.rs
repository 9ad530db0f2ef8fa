//! Parts that may be the same by other words. Nobody but a person can tell, so that nothing is settled by
//! it. Two grounds:
//!
//! * one side says a qualifier more: `roof post, with foot` and `posts`;
//! * each list calls by its own name what the other lacks, in like counts: the names share a word or a
//!   size (`glazing clip`, `wire glass clip`), or stand between the same neighbours (`canopy`, `awning`), or
//!   nothing else that is left over on either side has that count (`roof arm`, `steel rafter`, 8 of each).

use rustc_hash::FxHashMap;

use super::Ledger;
use crate::{
    hardware::Written,
    settle::{
        evidence::Rows,
        inventory::{Inventory, Stated},
    },
};

/// More entries than these bear a word that says nothing.
const COMMON: usize = 64;
/// Others that may be the same as one, at most.
const MOST: usize = 3;
/// Names left over on each side, at most, among which other names are looked for: more are no kit's.
const MOST_LEFT: usize = 200;
/// Fewer are too common for a count to tell parts by (common practice, no source).
const TELLING: u64 = 3;
/// Rows of lists among which neighbours are looked for, at most.
const MOST_ROWS: usize = 20_000;
/// Counts are alike that differ by a tenth at most, as packs make them. Common practice, no source.
const ALIKE: u64 = 10;

/// A part of the account, and its words.
struct Part<'a> {
    entry: usize,
    stated: &'a Stated,
    words: Written,
}

/// Pairs of entries: one of a required list that a slip or the counts do not name, or not in full, and
/// one that no required list names. In order.
pub(super) fn pairs(ledger: &Ledger, inventory: &Inventory) -> Vec<(usize, usize)> {
    let part = |entry: usize| {
        let stated = &inventory.items[ledger.entries[entry].item];
        stated.identity.part.is_some().then(|| Part {
            entry,
            stated,
            words: Written::of(stated.description().unwrap_or_default()),
        })
    };
    let of = |listed: bool| {
        let entries = ledger.entries.iter().enumerate();
        entries.filter(move |(_, entry)| entry.listed == listed)
    };
    let others: Vec<Part> = of(false).filter_map(|(at, _)| part(at)).collect();
    if others.is_empty() {
        return Vec::new();
    }
    let is_open = |at: usize| ledger.unlisted[at] > 0 || ledger.counted[at].is_none();
    let wanted: Vec<Part> = of(true)
        .filter(|&(at, _)| ledger.wanted[at] > 0 && is_open(at))
        .filter_map(|(at, _)| part(at))
        .collect();
    let mut pairs = Vec::new();
    let names = OtherNames::among(ledger, inventory, &wanted, &others);
    let mut by_word: FxHashMap<&str, Vec<usize>> = FxHashMap::default();
    for (at, of) in wanted.iter().enumerate() {
        for word in of.words.words.words() {
            by_word.entry(word).or_default().push(at);
        }
    }
    for other in &others {
        let bearing = other.words.words.words();
        let bearing = bearing.filter_map(|word| by_word.get(word));
        let bearing = bearing.filter(|bearing| bearing.len() <= COMMON).flatten();
        let mut may_be: Vec<&Part> = bearing
            .map(|&at| &wanted[at])
            .filter(|of| ledger.unlisted[of.entry] > 0 && of.words.may_be(&other.words))
            .filter(|of| one_number(of.stated, other.stated))
            .collect();
        may_be.sort_unstable_by_key(|of| of.entry);
        may_be.dedup_by_key(|of| of.entry);
        // A number that stands among another's words tells which it is.
        let numbers = &other.stated.numbers;
        let holds = |of: &&Part| numbers.iter().any(|n| of.words.words.holds_code(n));
        if may_be.iter().any(holds) {
            may_be.retain(holds);
        }
        if let (true, Some(names)) = (may_be.is_empty(), &names) {
            may_be = names.of(other);
        }
        let may_be = may_be.into_iter().take(MOST);
        pairs.extend(may_be.map(|of| (of.entry, other.entry)));
    }
    pairs.sort_unstable();
    pairs
}

/// True unless the two bear numbers that differ.
fn one_number(a: &Stated, b: &Stated) -> bool {
    a.numbers.is_empty() || b.numbers.is_empty() || a.numbers.iter().any(|n| b.numbers.contains(n))
}

/// What each side names and the other does not.
struct OtherNames<'a> {
    ledger: &'a Ledger,
    wanted: &'a [Part<'a>],
    /// By entry.
    on_slip: Vec<bool>,
    shipped: Vec<u64>,
    /// Required lists, slips and counts, as their rows follow on one another.
    required: Order,
    slips: Order,
    counts: Order,
    /// How many parts that are left over are wanted, and are there, in each count.
    wanted_in: FxHashMap<u64, usize>,
    there_in: FxHashMap<u64, usize>,
}

impl<'a> OtherNames<'a> {
    /// `None` where too many are left over, or none.
    fn among(
        ledger: &'a Ledger,
        inventory: &'a Inventory,
        wanted: &'a [Part<'a>],
        others: &[Part],
    ) -> Option<OtherNames<'a>> {
        if wanted.is_empty() || wanted.len() > MOST_LEFT || others.len() > MOST_LEFT {
            return None;
        }
        let order = |by| Order::of(ledger, inventory, by);
        let mut names = OtherNames {
            ledger,
            wanted,
            on_slip: ledger.on_slip(),
            shipped: ledger.shipped(),
            required: order(|stated| &stated.required_by),
            slips: order(|stated| &stated.shipped_by),
            counts: order(|stated| &stated.counted_by),
            wanted_in: FxHashMap::default(),
            there_in: FxHashMap::default(),
        };
        for of in wanted {
            if names.is_there(of.entry) {
                continue;
            }
            *names.wanted_in.entry(ledger.wanted[of.entry]).or_default() += 1;
        }
        for other in others {
            *names.there_in.entry(names.there(other.entry)).or_default() += 1;
        }
        Some(names)
    }

    fn counted(&self, at: usize) -> u64 {
        self.ledger.counted[at].map_or(0, |good| good + self.ledger.damaged[at])
    }

    /// True for what a slip or a count names.
    fn is_there(&self, at: usize) -> bool {
        self.on_slip[at] || self.ledger.counted[at].is_some()
    }

    /// How many of a part are there: by the slips, else by the counts.
    fn there(&self, at: usize) -> u64 {
        match self.shipped[at] {
            0 => self.counted(at),
            shipped => shipped,
        }
    }

    /// True where a count is that of one part alone on either side.
    fn is_telling(&self, pieces: u64) -> bool {
        let one = |of: &FxHashMap<u64, usize>| of.get(&pieces) == Some(&1);
        pieces >= TELLING && one(&self.wanted_in) && one(&self.there_in)
    }

    /// What a required list perhaps calls otherwise, the likeliest alone.
    fn of(&self, other: &Part) -> Vec<&'a Part<'a>> {
        let likely = self.wanted.iter();
        let likely = likely.filter_map(|of| Some((self.likely(of, other)?, of)));
        let likely: Vec<(u32, &Part)> = likely.collect();
        let best = likely.iter().map(|(score, _)| *score).max();
        let best = likely.into_iter().filter(|(score, _)| Some(*score) == best);
        best.map(|(_, of)| of).collect()
    }

    /// How likely the two are one part; `None` where they are not likely to be.
    fn likely(&self, of: &Part, other: &Part) -> Option<u32> {
        let ledger = self.ledger;
        let (there, beside) = match self.shipped[other.entry] {
            0 if ledger.counted[of.entry].is_none() => (self.counted(other.entry), &self.counts),
            1.. if !self.on_slip[of.entry] => (self.shipped[other.entry], &self.slips),
            _ => return None,
        };
        let wanted = ledger.wanted[of.entry];
        let common = of.words.in_common(&other.words)?;
        if there == 0
            || there.abs_diff(wanted).saturating_mul(ALIKE) > wanted
            || !one_number(of.stated, other.stated)
        {
            return None;
        }
        let beside_alike = beside.beside(other.entry);
        let mut neighbours = self.required.beside(of.entry);
        let neighbours = neighbours.any(|of| beside_alike.clone().any(|other| of == other));
        let equal = there == wanted;
        let likely = common > 0 || equal && (neighbours || self.is_telling(there));
        likely.then_some(common + 2 * u32::from(neighbours) + u32::from(equal))
    }
}

/// Where a row stands: list, sheet and row.
type Place = (usize, usize, u32);

/// The entries of some lists in the order of their rows.
struct Order(Vec<(Place, usize)>);

impl Order {
    fn of(ledger: &Ledger, inventory: &Inventory, by: fn(&Stated) -> &Rows) -> Order {
        let mut rows = Vec::new();
        for (item, stated) in inventory.items.iter().enumerate() {
            let Some(entry) = ledger.fits.home(item) else {
                continue;
            };
            for of in by(stated) {
                let own = of.rows.iter().flat_map(|&(first, last)| first..=last);
                let own = own.take(MOST_ROWS.saturating_sub(rows.len()));
                rows.extend(own.map(|row| ((of.list, of.sheet, row), entry)));
            }
        }
        if rows.len() >= MOST_ROWS {
            rows.clear();
        }
        rows.sort_unstable();
        Order(rows)
    }

    /// What stands before and behind an entry on its sheets, at least one of the two.
    fn beside(&self, entry: usize) -> impl Iterator<Item = [Option<usize>; 2]> + Clone {
        let own = self.0.iter().enumerate();
        let own = own.filter(move |(_, (_, of))| *of == entry);
        own.map(|(at, ((list, sheet, _), _))| {
            let there = |at: Option<usize>| {
                let ((of_list, of_sheet, _), entry) = self.0.get(at?)?;
                ((of_list, of_sheet) == (list, sheet)).then_some(*entry)
            };
            [there(at.checked_sub(1)), there(Some(at + 1))]
        })
        .filter(|beside| beside.iter().any(Option::is_some))
    }
}
