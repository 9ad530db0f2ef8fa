//! Items that may be the same by other words. Nobody but a person can tell, so that nothing is settled by
//! it. Two grounds:
//!
//! * one side says a qualifier more: `roof post, with foot` and `posts`;
//! * each list calls by its own name what the other lacks, in like counts. Names of parts share a word or a
//!   size (`glazing clip`, `wire glass clip`), or stand between the same neighbours (`canopy`, `awning`), or
//!   nothing else that is left over on either side has that count (`roof arm`, `steel rafter`, 8 of each);
//!   hardware is of one size, and one side calls it by a word of its own; a bare number may be anything that
//!   bears none, or one like it.

use rustc_hash::FxHashMap;

use super::Ledger;
use crate::{
    hardware::{Item, Kind, Style, Written},
    settle::{
        evidence::Rows,
        fit::fit,
        inventory::{Inventory, Stated},
        numbers::may_be_one,
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

/// What people call by one name and by the other: a serrated flange nut locks, and a stud that is cast in
/// or expands is an anchor bolt; a deck's screws are wood screws, and a hex bolt that is threaded to its head is a
/// setscrew to some. Common practice, no source.
const CONFUSED: &[(Style, Style)] = &[
    (Style::Flange, Style::FlangeLock),
    (Style::Wood, Style::Deck),
    (Style::Hex, Style::Set),
];

/// An item of the account, and the words of a part.
struct Named<'a> {
    entry: usize,
    stated: &'a Stated,
    words: Written,
}

impl<'a> Named<'a> {
    fn of(entry: usize, stated: &'a Stated) -> Named<'a> {
        Named {
            entry,
            stated,
            words: Written::of(stated.description().unwrap_or_default()),
        }
    }

    fn item(&self) -> &'a Item {
        &self.stated.identity
    }

    fn is_part(&self) -> bool {
        self.item().part.is_some()
    }

    /// True for a name that says no more than how something was found.
    fn says_a_state(&self) -> bool {
        let mut words = self
            .stated
            .description()
            .unwrap_or_default()
            .split_whitespace();
        self.is_part() && words.clone().next().is_some() && words.all(|word| STATES.contains(&word))
    }

    /// True where a number is all that the lists say of it.
    fn is_bare_number(&self) -> bool {
        self.is_part() && self.stated.description().is_none()
    }
}

/// Pairs of entries: one of a required list that a slip or the counts do not name, or not in full, and
/// one that no required list names. In order.
pub(super) fn pairs(ledger: &Ledger, inventory: &Inventory) -> Vec<(usize, usize)> {
    let named = |at: usize| Named::of(at, &inventory.items[ledger.entries[at].item]);
    let of = |listed: bool| {
        let entries = ledger.entries.iter().enumerate();
        entries.filter(move |(_, entry)| entry.listed == listed)
    };
    let is_part = |at: usize| {
        inventory.items[ledger.entries[at].item]
            .identity
            .part
            .is_some()
    };
    let others: Vec<usize> = of(false).map(|(at, _)| at).collect();
    if others.is_empty() {
        return Vec::new();
    }
    let is_open = |at: usize| ledger.unlisted[at] > 0 || ledger.counted[at].is_none();
    let wanted = of(true).map(|(at, _)| at);
    let wanted = wanted.filter(|&at| ledger.wanted[at] > 0 && is_open(at));
    let wanted: Vec<usize> = wanted.collect();
    let parts = |of: &[usize]| -> Vec<Named> {
        let parts = of.iter().copied().filter(|&at| is_part(at));
        parts.map(named).collect()
    };
    let mut pairs = Vec::new();
    let mut by_word: FxHashMap<String, Vec<usize>> = FxHashMap::default();
    let parts_wanted = parts(&wanted);
    for (at, of) in parts_wanted.iter().enumerate() {
        for word in of.words.words.words() {
            by_word.entry(word.to_owned()).or_default().push(at);
        }
    }
    let mut otherwise = Vec::new();
    let shipped = ledger.shipped();
    for other in parts(&others).into_iter().filter(|of| !of.says_a_state()) {
        let bearing = other.words.words.words();
        let bearing = bearing.filter_map(|word| by_word.get(word));
        let bearing = bearing.filter(|bearing| bearing.len() <= COMMON).flatten();
        let mut may_be: Vec<&Named> = bearing
            .map(|&at| &parts_wanted[at])
            .filter(|of| ledger.lacks(of.entry, shipped[other.entry] > 0))
            .filter(|of| of.words.may_be(&other.words))
            .filter(|of| one_number(of.stated, other.stated))
            .collect();
        may_be.sort_unstable_by_key(|of| of.entry);
        may_be.dedup_by_key(|of| of.entry);
        // `joists` is no hanger, where joists are wanted, too.
        let noun = noun(other.stated);
        if may_be.iter().any(|of| self::noun(of.stated) == noun) {
            may_be.retain(|of| self::noun(of.stated) == noun);
        }
        // A number that stands among another's words tells which it is.
        let numbers = &other.stated.numbers;
        let holds = |of: &&Named| numbers.iter().any(|n| of.words.words.holds_code(n));
        if may_be.iter().any(holds) {
            may_be.retain(holds);
        }
        match may_be.is_empty() {
            true => otherwise.push(other.entry),
            false => {
                let may_be = may_be.into_iter().take(MOST);
                pairs.extend(may_be.map(|of| (of.entry, other.entry)));
            }
        }
    }
    otherwise.extend(others.iter().copied().filter(|&at| !is_part(at)));
    if let Some(names) = OtherNames::among(ledger, inventory, &wanted, &otherwise) {
        pairs.extend(names.pairs());
    }
    pairs.sort_unstable();
    pairs
}

/// The noun of a part's name: the last word before what qualifies it from behind.
fn noun(stated: &Stated) -> &str {
    let name = stated.description().unwrap_or_default();
    let name = name.split([',', '(', ':']).next().unwrap_or_default();
    let behind = [" with ", " w/", " for ", " of ", " - "];
    let name = behind
        .iter()
        .filter_map(|word| name.find(word))
        .min()
        .map_or(name, |at| &name[..at]);
    let mut words = name
        .split_whitespace()
        .filter(|word| word.chars().all(char::is_alphabetic));
    words.next_back().unwrap_or_default().trim_end_matches('s')
}

impl Ledger {
    /// True where something is lacking that another name may be of: of a slip, or of a count alone.
    fn lacks(&self, entry: usize, on_slip: bool) -> bool {
        let all_counted = |good: u64| good + self.damaged[entry] >= self.wanted[entry];
        self.unlisted[entry] > 0 && (on_slip || !self.counted[entry].is_some_and(all_counted))
    }
}

/// Words that say how something was found, and not what it is (common practice, no source).
const STATES: [&str; 12] = [
    "complete", "ok", "okay", "checked", "full", "sealed", "all", "there", "good", "yes", "too",
    "many",
];

/// True unless the two bear numbers that can be no one number.
fn one_number(a: &Stated, b: &Stated) -> bool {
    a.numbers.is_empty()
        || b.numbers.is_empty()
        || a.numbers.iter().any(|n| b.numbers.contains(n))
        || near_numbers(a, b)
}

fn near_numbers(a: &Stated, b: &Stated) -> bool {
    let mut own = a.numbers.iter();
    own.any(|one| b.numbers.iter().any(|other| may_be_one(one, other)))
}

/// What each side names and the other does not.
struct OtherNames<'a> {
    ledger: &'a Ledger,
    wanted: Vec<Named<'a>>,
    others: Vec<Named<'a>>,
    /// By entry.
    on_slip: Vec<bool>,
    shipped: Vec<u64>,
    /// Required lists, slips and counts, as their rows follow on one another.
    required: Order,
    slips: Order,
    counts: Order,
    /// How many parts that are left over are wanted, and are there, in each count: of all, and of those that no count
    /// names and counts alone name.
    left: [Left; 2],
}

/// How many parts are wanted, and are there, in each count.
#[derive(Default)]
struct Left {
    wanted: FxHashMap<u64, usize>,
    there: FxHashMap<u64, usize>,
}

/// How likely two are one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Likely {
    score: u32,
    /// As likely as any other of its count.
    of_many: bool,
}

impl<'a> OtherNames<'a> {
    /// `None` where too many are left over, or none.
    fn among(
        ledger: &'a Ledger,
        inventory: &'a Inventory,
        wanted: &[usize],
        others: &[usize],
    ) -> Option<OtherNames<'a>> {
        let named = |at: usize| Named::of(at, &inventory.items[ledger.entries[at].item]);
        let mut names = OtherNames {
            ledger,
            wanted: Vec::new(),
            others: Vec::new(),
            on_slip: ledger.on_slip(),
            shipped: ledger.shipped(),
            required: Order::default(),
            slips: Order::default(),
            counts: Order::default(),
            left: <[Left; 2]>::default(),
        };
        let lacking: Vec<usize> = wanted
            .iter()
            .copied()
            .filter(|&at| !(names.on_slip[at] && ledger.counted[at].is_some()))
            .collect();
        let left = |of: &[usize]| (1..=MOST_LEFT).contains(&of.len());
        if !left(&lacking) || !left(others) {
            return None;
        }
        names.wanted = lacking.into_iter().map(named).collect();
        names.others = others.iter().copied().map(named).collect();
        let order = |by| Order::of(ledger, inventory, by);
        names.required = order(|stated| &stated.required_by);
        names.slips = order(|stated| &stated.shipped_by);
        names.counts = order(|stated| &stated.counted_by);
        let mut left = <[Left; 2]>::default();
        for of in names.wanted.iter().filter(|of| of.is_part()) {
            let is_left = [
                !names.is_there(of.entry),
                ledger.counted[of.entry].is_none(),
            ];
            for (left, _) in left.iter_mut().zip(is_left).filter(|(_, is_left)| *is_left) {
                *left.wanted.entry(ledger.wanted[of.entry]).or_default() += 1;
            }
        }
        for other in names.others.iter().filter(|other| other.is_part()) {
            let is_left = [true, names.shipped[other.entry] == 0];
            for (left, _) in left.iter_mut().zip(is_left).filter(|(_, is_left)| *is_left) {
                *left.there.entry(names.there(other.entry)).or_default() += 1;
            }
        }
        names.left = left;
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

    /// True where a count is that of one part alone on either side, of all or of what counts tell.
    fn is_telling(&self, pieces: u64, by_count: bool) -> bool {
        let one = |of: &FxHashMap<u64, usize>| of.get(&pieces) == Some(&1);
        // What alone is left over on either side is told by that, but for a single piece.
        let alone = |left: &Left| pieces > 1 && left.wanted.len() == 1 && left.there.len() == 1;
        let telling = |left: &Left| {
            one(&left.wanted) && one(&left.there) && (pieces >= TELLING || alone(left))
        };
        let [all, counted] = &self.left;
        telling(all) || by_count && telling(counted)
    }

    fn pairs(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        let others = self.others.iter();
        others.flat_map(|other| {
            let likely = self.of(other).into_iter();
            likely.map(|of| (of.entry, other.entry))
        })
    }

    /// What a required list perhaps calls otherwise: the likeliest, and what is as likely as any.
    fn of(&self, other: &Named) -> Vec<&Named<'a>> {
        let likely = self.wanted.iter();
        let likely = likely.filter_map(|of| Some((self.likely(of, other)?, of)));
        let mut likely: Vec<(Likely, &Named)> = likely.collect();
        let best = likely.iter().map(|(of, _)| of.score).max();
        likely.retain(|(of, _)| of.of_many || Some(of.score) == best);
        if !likely.iter().any(|(of, _)| of.of_many) {
            likely.truncate(MOST);
        }
        likely.into_iter().map(|(_, of)| of).collect()
    }

    /// How likely the two are one item; `None` where they are not likely to be.
    fn likely(&self, of: &Named, other: &Named) -> Option<Likely> {
        let ledger = self.ledger;
        let (there, beside) = match self.shipped[other.entry] {
            0 if ledger.counted[of.entry].is_none() => (self.counted(other.entry), &self.counts),
            1.. if !self.on_slip[of.entry] => (self.shipped[other.entry], &self.slips),
            _ => return None,
        };
        let wanted = ledger.wanted[of.entry];
        let alike = there > 0 && there.abs_diff(wanted).saturating_mul(ALIKE) <= wanted;
        // A maker who changes a part changes its number.
        let renumbered = of.is_part() && other.is_part() && of.words.words == other.words.words;
        if !alike || !(one_number(of.stated, other.stated) || renumbered) {
            return None;
        }
        let equal = there == wanted;
        let certain = |score| {
            Some(Likely {
                score,
                of_many: false,
            })
        };
        let common = match (of.is_part(), other.is_part()) {
            _ if of.is_bare_number() || other.is_bare_number() => {
                return match near_numbers(of.stated, other.stated) {
                    true => certain(3),
                    false => equal.then_some(Likely {
                        score: 0,
                        of_many: true,
                    }),
                };
            }
            (true, true) => of.words.in_common(&other.words)?,
            (false, false) => {
                // What a slip lists in the wrong finish is a wrong item; a count may call a finish otherwise.
                let finish = self.on_slip[of.entry] && finish_differs(of.item(), other.item());
                // Under one number each side has another size, and nobody has looked which of them lies there.
                let same_number = |n| other.stated.numbers.contains(n);
                let numbered = ledger.counted[other.entry].is_none()
                    && of.stated.numbers.iter().any(same_number);
                let otherwise = finish || numbered || called_otherwise(of.item(), other.item());
                return otherwise.then_some(certain(2)?);
            }
            (true, false) => return is_of_size(other.item(), &of.words).then_some(certain(1)?),
            (false, true) => return is_of_size(of.item(), &other.words).then_some(certain(1)?),
        };
        let beside_alike = beside.beside(other.entry);
        let mut neighbours = self.required.beside(of.entry);
        let neighbours = neighbours.any(|of| beside_alike.clone().any(|other| of == other));
        let likely = common > 0
            || equal && (neighbours || self.is_telling(there, self.shipped[other.entry] == 0));
        let score = common + 2 * u32::from(neighbours) + u32::from(equal);
        likely.then_some(certain(score)?)
    }
}

/// True for hardware of one size of which one side says a word that no style stands for, or names that
/// people take for one another.
fn called_otherwise(a: &Item, b: &Item) -> bool {
    let confused = |a: &Item, b: &Item| {
        let anchor =
            a.kind == Some(Kind::Anchor) && a.style.is_none() && b.kind == Some(Kind::Bolt);
        let styles = a.style.zip(b.style);
        anchor || styles.is_some_and(|styles| CONFUSED.contains(&styles))
    };
    let one_size = a.diameter.is_some() && a.diameter == b.diameter && a.length == b.length;
    one_size && (a.called.is_some() || b.called.is_some() || confused(a, b) || confused(b, a))
}

/// True for pieces that differ in their finish alone.
fn finish_differs(a: &Item, b: &Item) -> bool {
    let bare = |item: &Item| Item {
        finish: None,
        ..item.clone()
    };
    a.finish.is_some()
        && b.finish.is_some()
        && fit(&bare(a), &bare(b)).is_some_and(|fit| !fit.is_vague())
}

/// True where the figures of a part's words are those of a piece of hardware.
fn is_of_size(item: &Item, part: &Written) -> bool {
    let diameter = item.diameter.map(|of| of.to_string());
    let length = item.length.map(|of| of.to_string());
    let own: Vec<String> = diameter
        .iter()
        .chain(&length)
        .map(|of| of.trim_start_matches(['M', '#']).to_owned())
        .collect();
    let sizes = part.sizes();
    let among = |size: &Vec<String>| size.iter().any(|way| own.contains(way));
    // Without a size, by the word that tells it from others: `tension rod`, `tension bar`; `swing hook`, `hooks`.
    if let (true, Some(called)) = (sizes.is_empty(), &item.called) {
        return part.share_a_word(&Written::of(called));
    }
    !own.is_empty() && sizes.len() == own.len() && sizes.iter().all(among)
}

/// Where a row stands: list, sheet and row.
type Place = (usize, usize, u32);

/// The entries of some lists in the order of their rows.
#[derive(Default)]
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
