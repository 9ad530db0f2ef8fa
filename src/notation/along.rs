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
    /// So many go on one piece of the first as a rule.
    pub(super) usual: Option<u64>,
    /// Fewer do not hold one piece of the first: a U-bolt has two ends.
    pub(super) least: u64,
    /// What words show of what is named with the first.
    pub(super) of: OfOne,
}

/// What words show of whether a count beside the first is of one piece of it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) enum OfOne {
    #[default]
    Nothing,
    /// Another item stands beside it in the singular and without a count: `2 bolts c/w nut and 2 washers`.
    OneBeside,
    /// The first is named in the singular, and counted behind all: `bolt with 2 nuts, qty 2`.
    Named,
    /// The first is named in the plural, and counted behind all: `bolts with 2 nuts, qty 2`.
    CountedBehind,
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
        Along {
            of_each,
            most,
            ..Along::default()
        }
    }

    /// So many of it in all, named in one breath with `main` of the first: a count as large as that is of all
    /// (`24 bolts with 48 washers`), unless words show that it is of one, and `led` asks about it all the same
    /// (`each 24`). Where one bears as many as there are of the first, it may be either: `2 U-bolts with 2 nuts`.
    pub(super) fn in_words(
        self,
        stated: u64,
        main: u64,
        led: bool,
    ) -> (Option<u64>, Option<Doubt>) {
        let in_all = !self.of_each && main > 1 && stated >= main;
        if in_all && self.most.is_some_and(|most| stated <= most) {
            let usual = self.usual == Some(stated);
            match self.of {
                OfOne::Named => return self.taken(stated, main, false, false),
                OfOne::CountedBehind => return self.beside(stated, main),
                OfOne::OneBeside => return self.taken(stated, main, !usual, !usual),
                OfOne::Nothing if usual => {
                    return self.taken(stated, main, self.least < stated, true);
                }
                OfOne::Nothing => {}
            }
        }
        let (on_one, even) = match in_all {
            true => (stated / main, stated.is_multiple_of(main)),
            false => (stated, true),
        };
        let too_many = on_one > self.most.unwrap_or(MOST_ON_A_BOLT) && main > 1 && !self.of_each;
        let too_few = on_one == 0 || in_all && on_one < self.least;
        let unsure = in_all && led || !even || too_few || too_many;
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
        let of_u_bolts = Along {
            usual: Some(2),
            least: 2,
            ..Along::on(Some(Kind::Nut), Some(2), false)
        };
        let under_bolts = Along {
            usual: Some(2),
            ..washers
        };
        let with = |of| Along { of, ..under_bolts };
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
            (of_u_bolts, 2, 2, (4, Some(2)), (4, Some(2))),
            (of_u_bolts, 4, 2, (4, None), (8, Some(4))),
            (of_u_bolts, 4, 4, (4, Some(16)), (16, Some(4))),
            (under_bolts, 2, 2, (2, Some(4)), (4, Some(2))),
            (under_bolts, 4, 4, (4, None), (16, Some(4))),
            (with(OfOne::OneBeside), 2, 2, (4, None), (4, Some(2))),
            (with(OfOne::OneBeside), 4, 4, (4, Some(16)), (16, Some(4))),
            (with(OfOne::OneBeside), 8, 4, (8, None), (8, Some(32))),
            (with(OfOne::Named), 4, 4, (16, None), (16, Some(4))),
            (with(OfOne::CountedBehind), 2, 2, (4, Some(2)), (4, Some(2))),
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
