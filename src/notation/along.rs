//! What is named with a piece: so many for each, or for all (`6 bolts with 6 nuts`).

use crate::{doubt::Doubt, hardware::Kind};

/// No bolt takes more washers than this (common practice, no source).
pub(super) const MOST_ON_A_BOLT: u64 = 4;

/// How many of an item may be named with each piece of the first.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Along {
    /// Words say that its count is of each.
    pub(super) of_each: bool,
    /// More of it go on no piece of the first, where that is a fastener.
    pub(super) most: Option<u64>,
}

impl Along {
    /// Of a fastener that may bear so many nuts, where that is known; with a jam nut behind each, twice as many
    /// (common practice, no source).
    pub(super) fn on(kind: Option<Kind>, nuts_of_one: Option<u64>, of_each: bool) -> Along {
        let most = match (kind, nuts_of_one) {
            (Some(Kind::Nut), Some(nuts)) => Some(2 * nuts),
            (Some(Kind::Nut | Kind::Washer), _) => Some(MOST_ON_A_BOLT),
            _ => None,
        };
        Along { of_each, most }
    }

    /// So many of it in all, named in one breath with `main` of the first: a count as large as that is of all
    /// (`24 bolts with 48 washers`), and `led` asks about it all the same (`each 24`).
    pub(super) fn in_words(
        self,
        stated: u64,
        main: u64,
        led: bool,
    ) -> (Option<u64>, Option<Doubt>) {
        let in_all = !self.of_each && main > 1 && stated >= main;
        let (on_one, even) = match in_all {
            true => (stated / main, stated.is_multiple_of(main)),
            false => (stated, true),
        };
        let too_many = on_one > self.most.unwrap_or(MOST_ON_A_BOLT) && main > 1 && !self.of_each;
        let unsure = in_all && led || !even || on_one == 0 || too_many;
        self.taken(stated, main, in_all, unsure)
    }

    /// The same beside a count in a cell of its own, which is as a rule of sets: a count is of all where each cannot
    /// bear so many, and asked about where it may be.
    pub fn beside(self, stated: u64, main: u64) -> (Option<u64>, Option<Doubt>) {
        let Some(most) = self
            .most
            .filter(|_| !self.of_each && main > 1 && stated > 1)
        else {
            return self.taken(stated, main, false, false);
        };
        let may_be_all = stated.is_multiple_of(main);
        let too_many = stated > most;
        let in_all = stated >= main && too_many;
        self.taken(stated, main, in_all, may_be_all || too_many)
    }

    fn taken(
        self,
        stated: u64,
        main: u64,
        in_all: bool,
        unsure: bool,
    ) -> (Option<u64>, Option<Doubt>) {
        let for_each = stated.checked_mul(main);
        let (pieces, other) = match in_all {
            true => (Some(stated), for_each.unwrap_or(u64::MAX)),
            false => (for_each, stated),
        };
        let doubt = unsure.then(|| Doubt::OrElse {
            pieces: other,
            said: format!("{stated} may be for each bolt, or in all").into(),
        });
        (pieces, doubt)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn nuts(of_each: bool) -> Along {
        Along::on(Some(Kind::Nut), Some(1), of_each)
    }

    /// Nuts of a bolt, or washers, so many beside so many bolts: taken, and what else may be meant
    /// (common practice, no source).
    #[test]
    fn a_count_is_of_each_or_of_all() {
        let washers = Along::on(Some(Kind::Washer), Some(1), false);
        for (along, stated, main, in_words, in_a_cell) in [
            (nuts(false), 1, 6, (6, None), (6, None)),
            (nuts(false), 2, 6, (12, None), (12, None)),
            (nuts(false), 4, 6, (24, Some(4)), (24, Some(4))),
            (nuts(false), 6, 6, (6, None), (6, Some(36))),
            (nuts(false), 12, 6, (12, None), (12, Some(72))),
            (nuts(false), 18, 6, (18, Some(108)), (18, Some(108))),
            (nuts(false), 2, 2, (2, None), (4, Some(2))),
            (nuts(true), 3, 6, (18, None), (18, None)),
            (nuts(true), 6, 6, (36, None), (36, None)),
            (washers, 2, 8, (16, None), (16, None)),
            (washers, 4, 3, (4, Some(12)), (12, None)),
            (washers, 8, 4, (8, None), (8, Some(32))),
            (washers, 6, 4, (6, Some(24)), (6, Some(24))),
            (Along::default(), 12, 2, (12, Some(24)), (24, None)),
        ] {
            let told = |(pieces, doubt): (Option<u64>, Option<Doubt>)| {
                (
                    pieces.unwrap(),
                    doubt.and_then(|doubt| doubt.other_number()),
                )
            };
            assert_eq!(
                told(along.in_words(stated, main, false)),
                in_words,
                "{stated} with {main}"
            );
            assert_eq!(
                told(along.beside(stated, main)),
                in_a_cell,
                "{stated} beside {main}"
            );
        }
    }
}
