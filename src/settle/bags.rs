//! What each bag should hold of an item and what is in it: pieces in the wrong bag, and the bags of
//! later stages that earlier ones take from.

mod of_entries;

use std::sync::Arc;

use super::{
    account::{Draw, Finding, FindingKind, ItemAccount},
    evidence::Rows,
    findings::pieces,
};
pub use of_entries::OfEntries;

/// One bag, for one entry. Pieces over all kits.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Bag {
    /// Its number among the bags of the job.
    number: usize,
    /// The container that first named it.
    named: usize,
    /// Due to be in it: by stage, in order, where the required lists put it there, else as the slips
    /// list it.
    due: Vec<(usize, u64)>,
    /// Listed in it by the slip of a later parcel, beside what is due.
    came_later: u64,
    good: u64,
    damaged: u64,
    /// The slips or a count say what is in it, and it came.
    known: bool,
}

impl Bag {
    fn add_due(&mut self, stage: usize, pieces: u64) {
        match self.due.binary_search_by_key(&stage, |(stage, _)| *stage) {
            Ok(at) => self.due[at].1 += pieces,
            Err(at) => self.due.insert(at, (stage, pieces)),
        }
    }

    fn due(&self) -> u64 {
        self.due.iter().map(|(_, pieces)| pieces).sum()
    }

    /// Pieces of stages from this one on.
    fn still_due(&self, stage: usize) -> u64 {
        let due = self.due.iter().filter(|(of, _)| *of >= stage);
        due.map(|(_, pieces)| pieces).sum()
    }

    fn due_at(&self, stage: usize) -> Option<u64> {
        let at = self.due.binary_search_by_key(&stage, |(stage, _)| *stage);
        at.ok().map(|at| self.due[at].1)
    }

    /// Pieces that no later stage needs of it.
    fn surplus(&self, stage: usize) -> u64 {
        self.good.saturating_sub(self.still_due(stage + 1))
    }

    /// Gives at most so many of the pieces wanted; says how many.
    fn lend(&mut self, wanted: &mut u64, most: u64) -> u64 {
        let pieces = (*wanted).min(most).min(self.good);
        *wanted -= pieces;
        self.good -= pieces;
        pieces
    }

    fn is_of(&self, stage: usize) -> bool {
        self.due_at(stage).is_some()
    }
}

/// The bags of one entry.
#[derive(Debug)]
pub struct Bags<'a> {
    /// By container: as first named, with the word for what it is (`bag D`).
    names: &'a [Arc<str>],
    /// By number.
    of: Vec<Bag>,
    /// Good pieces in no bag.
    loose: u64,
    /// The required lists say which stage a bag is for.
    by_stage: bool,
}

impl Bags<'_> {
    /// Pieces that one bag lacks and another has over: in the wrong bag, and not short.
    pub fn mixed_up(&self, item: &ItemAccount) -> Vec<Finding> {
        let held = |bag: &Bag| bag.good + bag.damaged;
        let mut over: Vec<(&Bag, u64)> = self
            .of
            .iter()
            .map(|bag| (bag, held(bag).saturating_sub(bag.due() + bag.came_later)))
            .filter(|(_, over)| *over > 0)
            .collect();
        let mut findings = Vec::new();
        if over.is_empty() {
            return findings;
        }
        for bag in self.of.iter().filter(|bag| bag.known) {
            let mut lacks = bag.due().saturating_sub(held(bag));
            for (other, over) in &mut over {
                let moved = lacks.min(*over);
                if moved == 0 {
                    continue;
                }
                lacks -= moved;
                *over -= moved;
                let (name, other_name) = (&self.names[bag.named], &self.names[other.named]);
                findings.push(Finding {
                    finding: FindingKind::WrongBag,
                    pieces: moved,
                    note: format!(
                        "{} of {name} in {other_name}: {} due there and {} found, {} due in {name} \
                         and {} found.",
                        pieces(moved),
                        other.due() + other.came_later,
                        held(other),
                        bag.due(),
                        held(bag),
                    ),
                    evidence: Rows::together([
                        &item.required_by,
                        &item.shipped_by,
                        &item.counted_by,
                    ]),
                });
            }
        }
        findings
    }

    /// From which bags of other stages each stage takes pieces: its own bags go first, then what is
    /// loose, then what no later stage's bag needs, then the bags of later stages, the last first.
    pub fn draws(mut self, item: &ItemAccount, built: usize) -> Vec<Draw> {
        let mut draws = Vec::new();
        if !self.by_stage {
            return draws;
        }
        for share in item.shares.iter().filter(|share| share.stage >= built) {
            let stage = share.stage;
            let mut wanted = share.covered;
            for bag in &mut self.of {
                if let Some(own) = bag.due_at(stage) {
                    bag.lend(&mut wanted, own);
                }
            }
            for bag in self.of.iter_mut().filter(|bag| bag.is_of(stage)) {
                bag.lend(&mut wanted, bag.surplus(stage));
            }
            let loose = self.loose.min(wanted);
            (self.loose, wanted) = (self.loose - loose, wanted - loose);
            if wanted > 0 {
                self.draw(stage, wanted, &mut draws);
            }
        }
        // One bag may have lent twice: of its surplus, and of what a later stage needs.
        draws.dedup_by(|next, kept| {
            let same = (next.stage, &next.bag) == (kept.stage, &kept.bag);
            if same {
                kept.pieces += next.pieces;
            }
            same
        });
        draws.shrink_to_fit();
        draws
    }

    /// Takes what a stage still wants from bags that are not its own, and last from its own.
    fn draw(&mut self, stage: usize, mut wanted: u64, draws: &mut Vec<Draw>) {
        let named = self.of.iter().any(|bag| bag.is_of(stage));
        let mut draw = |bag: &mut Bag, most: u64| {
            let pieces = bag.lend(&mut wanted, most);
            if pieces > 0 && named && !bag.is_of(stage) {
                draws.push(Draw {
                    stage,
                    bag: self.names[bag.named].clone(),
                    pieces,
                });
            }
        };
        for bag in &mut self.of {
            draw(bag, bag.surplus(stage));
        }
        for bag in self.of.iter_mut().filter(|bag| bag.is_of(stage)) {
            draw(bag, u64::MAX);
        }
        let mut later: Vec<&mut Bag> = self.of.iter_mut().collect();
        later.sort_by_key(|bag| std::cmp::Reverse(bag.due.last().map(|(stage, _)| *stage)));
        for bag in later {
            draw(bag, u64::MAX);
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::{
        kit::{Job, Line, Placement},
        settle::{
            FindingKind,
            sample::{ListOf, at, bag},
            settle,
        },
    };

    const NUT: &str = "nut hex 1/2-13";

    /// Two stages with a bag each, 8 pieces due in either; what is counted in the two.
    #[track_caller]
    fn case(
        counted: [u64; 2],
        short: [u64; 2],
        mixed_up: &[(u64, &str)],
        draws: &[(usize, u64, &str)],
    ) {
        let list = |list: ListOf, pieces: [u64; 2]| {
            list.line(NUT, pieces[0], &at("Sills", "1"))
                .line(NUT, pieces[1], &at("Rails", "7"))
                .list()
        };
        let lists = [
            list(ListOf::required(), [8, 8]),
            list(ListOf::shipped(), [8, 8]),
            list(ListOf::counted(), counted),
        ];
        let account = settle(&Job::default(), &lists).expect("settles");
        let item = &account.items[0];
        let found: Vec<u64> = item.shares.iter().map(|share| share.short).collect();
        assert_eq!(found, short);
        let found: Vec<(u64, &str)> = item
            .findings
            .iter()
            .filter(|f| f.finding == FindingKind::WrongBag)
            .map(|f| (f.pieces, f.note.as_str()))
            .collect();
        assert_eq!(found, mixed_up);
        let found: Vec<(usize, u64, &str)> = item
            .draws
            .iter()
            .map(|draw| (draw.stage, draw.pieces, &*draw.bag))
            .collect();
        assert_eq!(found, draws);
    }

    #[test]
    fn a_bag_may_hold_what_another_lacks() {
        case([8, 8], [0, 0], &[], &[]);
        // Nothing is short: four of one bag lie in the other.
        case(
            [4, 12],
            [0, 0],
            &[(
                4,
                "4 pieces of bag 1 in bag 7: 8 due there and 12 found, 8 due in bag 1 and 4 found.",
            )],
            &[(0, 4, "bag 7")],
        );
        case(
            [12, 4],
            [0, 0],
            &[(
                4,
                "4 pieces of bag 7 in bag 1: 8 due there and 12 found, 8 due in bag 7 and 4 found.",
            )],
            &[(1, 4, "bag 1")],
        );
        // Three of six are there; the other three are short, and short of the later stage.
        case(
            [2, 11],
            [0, 3],
            &[(
                3,
                "3 pieces of bag 1 in bag 7: 8 due there and 11 found, 8 due in bag 1 and 2 found.",
            )],
            &[(0, 6, "bag 7")],
        );
        // No bag has any over: the earlier stage takes from the later one's bag, which runs short.
        case([5, 8], [0, 3], &[], &[(0, 3, "bag 7")]);
        case([8, 5], [0, 3], &[], &[]);
    }

    #[test]
    fn slips_alone_tell_of_bags_too() {
        let lists = [
            ListOf::required()
                .line(NUT, 16, &crate::settle::sample::plain)
                .list(),
            ListOf::shipped()
                .line(NUT, 8, &bag("1"))
                .line(NUT, 8, &bag("2"))
                .list(),
            ListOf::counted()
                .line(NUT, 10, &bag("1"))
                .line(NUT, 6, &bag("2"))
                .list(),
        ];
        let account = settle(&Job::default(), &lists).expect("settles");
        let found: Vec<&str> = account.items[0]
            .findings
            .iter()
            .map(|f| f.note.as_str())
            .collect();
        assert_eq!(
            found,
            ["2 pieces of bag 2 in bag 1: 8 due there and 10 found, 8 due in bag 2 and 6 found."]
        );
    }

    /// A parts list knows nothing of the box of a second parcel; what its slip lists there is right.
    #[test]
    fn what_a_later_slip_puts_in_a_box_is_in_no_wrong_one() {
        let in_box = |name: &'static str| {
            move |_: &mut Line, placement: &mut Placement| placement.carton = Some(name.into())
        };
        let case = |counted: u64, expected: &[&str]| {
            let lists = [
                ListOf::required().line(NUT, 16, &in_box("1")).list(),
                ListOf::shipped()
                    .line(NUT, 8, &in_box("1"))
                    .edit(|list| list.date = Some("21 April 2026".into()))
                    .list(),
                ListOf::shipped()
                    .line(NUT, 8, &in_box("5"))
                    .edit(|list| list.date = Some("30 April 2026".into()))
                    .list(),
                ListOf::counted()
                    .line(NUT, 8, &in_box("1"))
                    .line(NUT, counted, &in_box("5"))
                    .list(),
            ];
            let account = settle(&Job::default(), &lists).expect("settles");
            let found = account.items[0].findings.iter();
            let wrong = found.filter(|of| of.finding == FindingKind::WrongBag);
            let notes: Vec<&str> = wrong.map(|of| of.note.as_str()).collect();
            assert_eq!(notes, expected);
        };
        case(8, &[]);
        case(
            10,
            &["2 pieces of box 1 in box 5: 8 due there and 10 found, 16 due in box 1 and 8 found."],
        );
    }

    /// A bag that did not come is not received; its pieces are not in another bag.
    #[test]
    fn a_bag_that_did_not_come_is_no_mix_up() {
        let lists = [
            ListOf::required()
                .line(NUT, 8, &at("Sills", "1"))
                .line(NUT, 8, &at("Rails", "7"))
                .list(),
            ListOf::shipped()
                .line(NUT, 12, &at("Sills", "1"))
                .line(NUT, 8, &at("Rails", "7"))
                .list(),
            ListOf::counted()
                .other(&|line, placement| {
                    line.what = crate::kit::What::Bag {
                        received: Some(false),
                    };
                    placement.bag = Some("7".into());
                })
                .list(),
        ];
        let account = settle(&Job::default(), &lists).expect("settles");
        let item = &account.items[0];
        assert!(
            item.findings
                .iter()
                .all(|f| f.finding != FindingKind::WrongBag)
        );
        // What the first bag has over serves the later stage all the same.
        let draws: Vec<(usize, u64, &str)> = item
            .draws
            .iter()
            .map(|draw| (draw.stage, draw.pieces, &*draw.bag))
            .collect();
        assert_eq!(draws, [(1, 4, "bag 1")]);
    }

    /// A slip that lists bags is opened into what the parts list puts in them.
    #[test]
    fn a_listed_bag_holds_what_the_parts_list_puts_in_it() {
        let required = ListOf::required()
            .line(NUT, 8, &at("Sills", "hardware bag 3"))
            .line("bolt hex 1/2-13 6", 4, &at("Rails", "Bag 3"))
            .line("washer flat 1/2", 4, &at("Rails", "4"))
            .list();
        let slip = ListOf::shipped().other(&|line, placement| {
            line.quantity = Some(1);
            placement.bag = Some("Bag 3".into());
        });
        let account = settle(&Job::default(), &[required, slip.list()]).expect("settles");
        let shipped: Vec<(&str, Option<u64>, u64)> = account
            .items
            .iter()
            .map(|item| (item.text.as_str(), item.shipped, item.sums.short))
            .collect();
        assert_eq!(
            shipped,
            [
                ("1/2-13 hex nut", Some(8), 0),
                ("1/2-13 x 6 hex bolt", Some(4), 0),
                ("1/2 flat washer", Some(0), 4)
            ]
        );
    }
}
