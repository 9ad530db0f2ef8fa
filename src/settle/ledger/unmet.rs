//! Slips that name nothing of what the required lists ask for, or little beside bare numbers: they speak of it
//! by other names or numbers, or of another kit; and slips that list a kit as one piece.

use std::collections::{BTreeMap, BTreeSet};

use super::Ledger;
use crate::hardware::Kind;
use crate::settle::{evidence::Rows, inventory::Inventory};

/// A slip that may list what is required without naming it.
#[derive(Debug)]
pub struct Unmet {
    pub list: usize,
    pub by: UnmetBy,
    pub rows: Rows,
    /// Entries of which it says all that it says by their names, in order.
    pub names: Vec<usize>,
}

#[derive(Debug)]
pub enum UnmetBy {
    /// None of its lines names what a required list asks for, or most are numbers that no list explains: so many.
    Items(u64),
    /// A line lists a kit as one piece, called so, and no list says what is in it.
    Kit(String),
}

/// What a slip names.
#[derive(Default)]
struct Slip<'a> {
    met: BTreeSet<usize>,
    /// Hardware that no list asks for says itself what it is: another size is a wrong one.
    hardware: u64,
    unknown: Vec<&'a Rows>,
    bare_numbers: u64,
    /// Those of them that have a name.
    parts: Vec<Part<'a>>,
}

struct Part<'a> {
    name: &'a str,
    rows: &'a Rows,
    pieces: u64,
}

/// Words for a kit, for fixings as one piece, and for all the rest (common practice, no source).
const KIT: [&str; 26] = [
    "kit",
    "kits",
    "set",
    "sets",
    "complete",
    "package",
    "pack",
    "packs",
    "bag",
    "bags",
    "bundle",
    "bundles",
    "lot",
    "assortment",
    "pallet",
    "hardware",
    "fixings",
    "fasteners",
    "fittings",
    "accessories",
    "accessory",
    "sundries",
    "balance",
    "remainder",
    "remaining",
    "rest",
];

/// True for a name that may stand for much of a kit: `market stall kit`, `fixings bag`, `balance to follow`.
pub(super) fn is_kit(name: &str) -> bool {
    let mut words = name.split(|c: char| !c.is_alphanumeric());
    words.any(|word| KIT.contains(&word))
}

impl Slip<'_> {
    /// Items that say themselves what they are.
    fn known(&self) -> u64 {
        self.met.len() as u64 + self.hardware
    }
}

/// So many parts are more than extras.
const MORE_THAN_EXTRAS: u64 = 3;

impl Ledger {
    /// The slips that name nothing of what is required, or hardly anything but bare numbers, in the order of
    /// the lists.
    pub(super) fn unmet_slips(&self, inventory: &Inventory) -> Vec<Unmet> {
        let mut slips: BTreeMap<usize, Slip> = BTreeMap::new();
        for (item, stated) in inventory.items.iter().enumerate() {
            let listed = || {
                let fits = self.fits.of(item).iter().map(|(entry, _)| *entry);
                fits.filter(|entry| self.entries[*entry].listed)
            };
            let is_met = listed().next().is_some();
            let is_hardware = stated.identity.kind != Some(Kind::Part) && !stated.by_number;
            for rows in stated.shipped_by.iter() {
                let slip = slips.entry(rows.list).or_default();
                match (is_met, is_hardware) {
                    (true, _) => slip.met.extend(listed()),
                    (false, true) if stated.identity.diameter.is_some() => slip.hardware += 1,
                    (false, _) => {
                        slip.unknown.push(&stated.shipped_by);
                        slip.bare_numbers +=
                            u64::from(!is_hardware && stated.description().is_none());
                        slip.parts.extend(stated.description().map(|name| Part {
                            name,
                            rows: &stated.shipped_by,
                            pieces: inventory.shipped_of(item),
                        }));
                    }
                }
            }
        }
        let required = self.entries.iter().filter(|entry| entry.listed).count() as u64;
        let alone = slips.len() == 1 && required >= MORE_THAN_EXTRAS;
        let unmet = slips.into_iter().filter_map(|(list, slip)| {
            let known = slip.known();
            let items = slip.unknown.len() as u64;
            let names = slip.met.into_iter();
            // The one line of the one slip is of all that came.
            let is_all = alone && known == 0 && items == 1;
            let kits = slip.parts.iter().filter(|of| is_all || is_kit(of.name));
            if let Some(kit) = kits.clone().next() {
                // Of several kits, the figures beside may be those of one.
                let several = kits.clone().any(|kit| kit.pieces > 1);
                return Some(Unmet {
                    list,
                    by: UnmetBy::Kit(kit.name.to_owned()),
                    rows: Rows::together(kits.map(|kit| kit.rows)),
                    names: names.filter(|_| !several).collect(),
                });
            }
            let is_unmet = known == 0 && items >= MORE_THAN_EXTRAS
                || slip.bare_numbers >= MORE_THAN_EXTRAS.max(known);
            is_unmet.then(|| Unmet {
                list,
                by: UnmetBy::Items(items),
                rows: Rows::together(slip.unknown),
                names: names.collect(),
            })
        });
        unmet.collect()
    }
}
