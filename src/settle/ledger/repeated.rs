//! Slips that say again what another slip says, as a corrected one does that lies beside the first.

use std::collections::BTreeMap;

use super::Ledger;
use crate::{
    Result,
    error::{At, Error},
    kit::{List, Role, What},
    settle::inventory::Inventory,
};

/// Items that two slips list alike, at least: fewer are a chance.
const FEWEST: usize = 3;
/// Of slips that bear one number half of the items are alike, of others all but a tenth. Common practice, no
/// source.
const HALF: usize = 2;
const TENTH: usize = 10;

/// A slip, and how many it lists of which entry.
struct Slip<'a> {
    list: &'a List,
    pieces: BTreeMap<usize, u64>,
}

impl Slip<'_> {
    /// Its number, without what says that it is a later one: `77 (corrected)`.
    fn number(&self) -> Option<&str> {
        let number = self.list.slip_number.as_deref()?;
        number
            .split([' ', '(', ','])
            .find(|word| word.contains(|c: char| c.is_ascii_digit()))
    }

    /// The items that both list in the same number, where the one slip is likely to be the other again.
    fn again(&self, other: &Slip) -> Option<Vec<usize>> {
        let parcels = self.list.parcel.zip(other.list.parcel);
        let alike = self.pieces.iter();
        let alike = alike.filter(|(entry, pieces)| other.pieces.get(entry) == Some(pieces));
        let alike: Vec<usize> = alike.map(|(entry, _)| *entry).collect();
        let items = self.pieces.len().max(other.pieces.len());
        let one_number = self.number().is_some() && self.number() == other.number();
        let differ = match one_number {
            true => items / HALF,
            false => items / TENTH,
        };
        let told_apart = parcels.is_some_and(|(one, other)| one != other);
        (!told_apart && alike.len() >= FEWEST && items - alike.len() <= differ).then_some(alike)
    }
}

impl Ledger {
    /// A slip given beside another that lists nearly the same is not added to it, where the two together list
    /// more of most of it than is required.
    ///
    /// # Errors
    /// Names both, and how the job file tells two parcels apart.
    pub fn refuse_slips_that_repeat(&self, lists: &[List], inventory: &Inventory) -> Result<()> {
        let slips = lists.iter().enumerate();
        let slips = slips.filter(|(_, list)| list.role == Role::Shipped);
        if slips.clone().count() < 2 || !self.entries.iter().any(|entry| entry.listed) {
            return Ok(());
        }
        let slips: Vec<Slip> = slips
            .map(|(at, list)| self.slip_of(list, &inventory.ids[at]))
            .collect();
        for (at, slip) in slips.iter().enumerate() {
            for before in &slips[..at] {
                let Some(alike) = before.again(slip) else {
                    continue;
                };
                let beyond = |entry: &&usize| {
                    let together = slip.pieces[entry].saturating_mul(2);
                    together > self.wanted[**entry]
                };
                if alike.iter().filter(beyond).count() * 2 > alike.len() {
                    return Err(listed_again(before, slip, alike.len()));
                }
            }
        }
        Ok(())
    }

    fn slip_of<'a>(&self, list: &'a List, ids: &[u32]) -> Slip<'a> {
        let mut pieces: BTreeMap<usize, u64> = BTreeMap::new();
        for line in &list.lines {
            if let (What::Item(reading), Some(each @ 1..)) = (&line.what, line.quantity)
                && let Some(entry) = self.fits.home(ids[*reading as usize] as usize)
            {
                let of = pieces.entry(entry).or_default();
                *of = of.saturating_add(each.saturating_mul(line.places.into()));
            }
        }
        Slip { list, pieces }
    }
}

fn listed_again(before: &Slip, slip: &Slip, alike: usize) -> Error {
    let [first, second] = [before, slip].map(|of| &of.list.file);
    Error::input(
        At::file(second),
        format!(
            "{alike} of its {} items stand in the same numbers in {first}, and both together are more than is \
             required: two slips of one delivery are not added up",
            slip.pieces.len()
        ),
        format!(
            "give the one that holds (a corrected slip takes the place of the first); where both parcels came, \
             number them in the job file: shipped = [{{ file = \"{first}\", parcel = 1 }}, {{ file = \
             \"{second}\", parcel = 2 }}]"
        ),
    )
}
