//! The claim: what to ask of the kit maker, what to give back, and what is left out and why.
//!
//! No more is claimed of an item than its stages lack, and no piece twice. What is lacking is laid, in
//! this order, to what proves it: the slip lists fewer; pieces are damaged; a bag did not arrive; the
//! count found fewer than the slip lists. Pieces that nobody counted are never claimed where the slip
//! lists them, nor are spares by our own policy. What a substitute or the shop's stock fills is claimed,
//! unless the one who approved the substitute holds it for delivered; a piece that serves as a
//! substitute is itself delivered, so that nobody claims it where it is lacking then.

mod claimed;
mod left_out;
mod whole_bags;

use rustc_hash::{FxHashMap, FxHashSet};

use self::whole_bags::whole_bags;
pub use self::{
    claimed::{Cause, Claimed, Urgency},
    left_out::{LeftOut, Omission},
    whole_bags::WholeBag,
};
use super::{Account, FindingKind, ItemAccount, LeftOpen, LineRef, Rows, StandIn, evidence::Run};
use crate::{
    doubt::Doubt,
    kit::{Job, List, Role, Usage, What},
};

/// Pieces that are there and not due.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Over {
    /// Index into [`Account::items`].
    pub item: usize,
    pub pieces: u64,
}

/// Pieces of one item for which another serves under a rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Substituted {
    /// Index into [`Account::items`].
    pub item: usize,
    /// Index into the item's stand-ins.
    pub stand_in: usize,
    /// Index into the job's rules.
    pub rule: usize,
}

/// What to ask of the kit maker.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Claim {
    /// By cause, then in order of stage.
    pub claimed: Vec<Claimed>,
    /// Bags that are asked for whole, and which of `claimed` they come to.
    pub whole_bags: Vec<WholeBag>,
    /// In order of items.
    pub substituted: Vec<Substituted>,
    /// Counted pieces to be given back.
    pub over: Vec<Over>,
    /// By reason.
    pub left_out: Vec<LeftOut>,
}

impl Claim {
    /// Draws up the claim of a settled job.
    pub fn of(job: &Job, lists: &[List], account: &Account) -> Claim {
        let mut claim = Claim::default();
        let counts = Counts::of(lists);
        let closes = |stand_in: &StandIn| {
            let rule = stand_in.rule.and_then(|rule| job.substitutes.get(rule));
            rule.is_some_and(|rule| rule.closes_claim)
        };
        // By item: its pieces that serve as something that is claimed.
        let mut stands_in = vec![0; account.items.len()];
        for stand_in in account.items.iter().flat_map(|item| &item.stand_ins) {
            if let (Some(item), false) = (stand_in.item, closes(stand_in)) {
                stands_in[item] += stand_in.pieces;
            }
        }
        for (at, item) in account.items.iter().enumerate() {
            let closed = item.stand_ins.iter().filter(|of| closes(of));
            let closed = closed.map(|of| of.pieces).sum();
            claim.add(account, at, item, &counts, closed, stands_in[at]);
            for (stand_in, of) in item.stand_ins.iter().enumerate() {
                claim.substituted.extend(of.rule.map(|rule| Substituted {
                    item: at,
                    stand_in,
                    rule,
                }));
            }
        }
        let is_read = |list: &List| list.role == Role::Required && list.from_sentences;
        if lists.iter().any(is_read) {
            claim.keep_over(account);
        }
        claim.leave_out_lines(job.kits, lists, account);
        claim
            .claimed
            .sort_by_key(|claimed| (claimed.cause, claimed.finding, claimed.stage));
        claim.left_out.sort_by_key(|left_out| left_out.why);
        claim.whole_bags = whole_bags(account, job.kits, &mut claim.claimed);
        claim
    }

    /// Pieces claimed, of one cause.
    pub fn pieces(&self, cause: Cause) -> u64 {
        let of_cause = self.claimed.iter().filter(|line| line.cause == cause);
        of_cause.map(|line| line.pieces).sum()
    }

    /// Lays what an item lacks to its causes, the surest first. Of that, `closed` pieces are held for
    /// delivered, and `stands_in` are delivered and serve as something else.
    fn add(
        &mut self,
        account: &Account,
        at: usize,
        item: &ItemAccount,
        counts: &Counts,
        closed: u64,
        stands_in: u64,
    ) {
        let found = |kind: FindingKind| -> u64 {
            let of_kind = item.findings.iter().filter(|f| f.finding == kind);
            of_kind.map(|finding| finding.pieces).sum()
        };
        let mut lacking = item.sums.required - item.sums.covered - closed;
        let stands_in = stands_in.min(lacking);
        lacking -= stands_in;
        let mut take = |pieces: u64| {
            let taken = pieces.min(lacking);
            lacking -= taken;
            taken
        };
        // What is not known to be short is asked of nobody.
        let not_listed = match item.open {
            // What no slip lists came in no parcel.
            None | Some(LeftOpen::CountUndated) => take(found(FindingKind::SlipShort)),
            Some(_) => 0,
        };
        // What came in its place will not follow.
        let in_its_place = [
            FindingKind::WrongSize,
            FindingKind::WrongGrade,
            FindingKind::WrongFinish,
        ];
        let in_its_place: u64 = in_its_place.into_iter().map(found).sum();
        let to_follow = found(FindingKind::BackOrdered).saturating_sub(in_its_place);
        let will_follow = not_listed.min(to_follow);
        let damaged = take(item.sums.damaged);
        // A later parcel may have brought the bag since.
        let bag_came = item.open == Some(LeftOpen::CountUndated);
        let lost = item.not_received.iter().map(|loss| match bag_came {
            true => 0,
            false => take(loss.pieces),
        });
        let not_received: Vec<u64> = lost.collect();
        let box_short = match item.open {
            None => take(found(FindingKind::BoxShort)),
            Some(_) => 0,
        };
        let mut missing = not_listed - will_follow + box_short;
        let counted = item.known && item.counted.is_some();
        missing += if counted { take(u64::MAX) } else { 0 };

        if let Some(lacks) = item.shares.iter().find(|s| s.required > s.covered) {
            let first = account.stops_at.is_none_or(|stop| lacks.stage <= stop);
            let (counted_by, doubts) = counts.of_item(item);
            let lacking = item.shares.iter().filter(|s| s.required > s.covered);
            let of_lacking: FxHashSet<&str> =
                lacking.flat_map(|s| item.bags_for(s.stage)).collect();
            let bags = item.bags.iter().filter(|bag| of_lacking.contains(&***bag));
            let bags: Vec<String> = bags.map(|bag| bag.to_string()).collect();
            let line = |cause, pieces| Claimed {
                item: at,
                cause,
                pieces,
                rest: false,
                stage: lacks.stage,
                urgency: match item.sums.short {
                    0 => Urgency::Filled,
                    _ if lacks.spare => Urgency::Spare,
                    _ if first => Urgency::First,
                    _ => Urgency::Later,
                },
                bags: bags.clone(),
                finding: None,
                counted_by: counted_by.clone(),
                doubts: doubts.clone(),
            };
            let lost = item.not_received.iter().zip(not_received);
            let lines = [
                line(Cause::Missing, missing),
                line(Cause::Damaged, damaged),
                line(Cause::BackOrdered, will_follow),
            ]
            .into_iter()
            .chain(lost.map(|(loss, pieces)| Claimed {
                bags: vec![loss.bag.clone()],
                finding: Some(loss.finding),
                ..line(Cause::NotReceived, pieces)
            }));
            self.claimed.extend(lines.filter(|line| line.pieces > 0));
        }
        let before_built = account.counted_before_built && item.built() > 0;
        self.leave_out(item, lacking, damaged, [closed, stands_in], before_built);
        let unsure = match account.times_required {
            Some(_) => Some(Omission::OtherKits),
            None => before_built.then_some(Omission::BuiltStages),
        };
        self.give_back(at, item, counts, unsure);
    }

    /// What of an item is not claimed: `lacking` pieces that nothing proves, damaged ones beyond those
    /// claimed, pieces that nobody counted, what substitutes settle, and spares. `before_built`: it was perhaps
    /// counted before stages were built that use it.
    fn leave_out(
        &mut self,
        item: &ItemAccount,
        lacking: u64,
        damaged: u64,
        [closed, stands_in]: [u64; 2],
        before_built: bool,
    ) {
        let unproved = match (item.known, item.open, item.counted) {
            (true, ..) => Omission::NotProved,
            (false, Some(LeftOpen::FigureUnread), _) => Omission::FigureUnread,
            (false, Some(LeftOpen::SlipUnmet), _) => Omission::SlipUnmet,
            (false, Some(LeftOpen::Unopened), _) => Omission::Unopened,
            (false, Some(LeftOpen::CountedTwice), _) => Omission::CountedTwice,
            (false, Some(LeftOpen::AskedTwice), _) => Omission::AskedTwice,
            (false, Some(LeftOpen::MayBeSame), _) => Omission::MayBeSame,
            (false, Some(LeftOpen::ComesAlong), _) => Omission::ComesAlong,
            (false, Some(LeftOpen::CountUndated), _) => Omission::CountUndated,
            (false, Some(LeftOpen::OtherBags), _) => Omission::OtherBags,
            (false, Some(LeftOpen::OneOfSeveral), _) => Omission::OneOfSeveral,
            (false, Some(LeftOpen::NumberInDoubt), _) => Omission::NumberInDoubt,
            (false, None, None) => Omission::NotKnown,
            (false, None, Some(_)) => Omission::CountBrokenOff,
        };
        // Pieces over and above the stages' needs are nobody's business here.
        let believed = match item.sums.required {
            0 => 0,
            _ => item.believed.saturating_sub(item.may_lack()),
        };
        for (why, pieces) in [
            (Omission::NotCounted, believed),
            (unproved, lacking),
            (Omission::NumberInDoubt, item.may_lack()),
            (
                match () {
                    () if before_built => Omission::BuiltStages,
                    () if may_be_same(item) => Omission::MayBeSame,
                    () => Omission::DamagedBeyond,
                },
                item.sums.damaged - damaged,
            ),
            (Omission::Closed, closed),
            (Omission::StandsIn, stands_in),
            (
                Omission::Spares,
                item.sums.spares - item.sums.spares_covered,
            ),
        ] {
            if pieces > 0 {
                self.left_out.push(LeftOut {
                    what: item.text.clone(),
                    pieces: Some(pieces),
                    why,
                    evidence: Rows::together([
                        &item.required_by,
                        &item.shipped_by,
                        &item.counted_by,
                    ]),
                });
            }
        }
    }

    /// What of an item was counted and is not due, our own spares apart. Pieces that were taken off on
    /// the way are left when the build is done, and are no surplus of the delivery. `unsure`: why none of it may be
    /// over.
    fn give_back(
        &mut self,
        at: usize,
        item: &ItemAccount,
        counts: &Counts,
        unsure: Option<Omission>,
    ) {
        let counted = item.counted.unwrap_or(0);
        let here = match item.sums.returned + item.sums.discarded {
            0 => counted,
            _ => counted.saturating_sub(item.sums.required),
        };
        let pieces = (item.sums.extra - item.sums.spares_covered).min(here);
        let why = match (pieces, unsure) {
            (0, _) => return,
            (_, Some(why)) => why,
            _ if may_be_same(item) => Omission::MayBeSame,
            _ if !counts.of_item(item).1.is_empty() => Omission::CountDoubted,
            _ => return self.over.push(Over { item: at, pieces }),
        };
        self.left_out.push(LeftOut {
            what: item.text.clone(),
            pieces: Some(pieces),
            why,
            evidence: Rows::together([&item.required_by, &item.shipped_by, &item.counted_by]),
        });
    }

    /// Gives nothing back of what sentences may ask for.
    fn keep_over(&mut self, account: &Account) {
        for Over { item, pieces } in std::mem::take(&mut self.over) {
            let item = &account.items[item];
            self.left_out.push(LeftOut {
                what: item.text.clone(),
                pieces: Some(pieces),
                why: Omission::FromSentences,
                evidence: Rows::together([&item.required_by, &item.shipped_by, &item.counted_by]),
            });
        }
    }

    /// Lines of the required lists that ask for nothing of this kit, or that could not be summed.
    fn leave_out_lines(&mut self, kits: u64, lists: &[List], account: &Account) {
        let no_demand = account.no_demand.iter();
        let mut omissions: FxHashMap<LineRef, Option<Omission>> = no_demand
            .map(|at| (*at, no_demand_of(&lists[at.list], at.line)))
            .collect();
        let not_chosen = account.not_chosen.iter();
        omissions.extend(not_chosen.map(|at| (*at, Some(Omission::NotChosen))));
        // Where each stands from here on, and its rows.
        let mut places: FxHashMap<(Omission, String), usize> = FxHashMap::default();
        let mut rows: Vec<Vec<Run>> = Vec::new();
        let first = self.left_out.len();
        let required = lists.iter().enumerate();
        for (list_at, list) in required.filter(|(_, list)| list.role == Role::Required) {
            for (line_at, line) in list.lines.iter().enumerate() {
                let at = LineRef {
                    list: list_at,
                    line: line_at,
                };
                let why = match (omissions.get(&at), &line.what) {
                    (Some(why), _) => *why,
                    (None, What::Aside(_)) => Some(Omission::NotUnderstood),
                    (None, What::Item(_)) if line.quantity.is_none() => Some(Omission::NoQuantity),
                    (None, _) => None,
                };
                let Some(why) = why else { continue };
                let what = match list.reading_of(line) {
                    Some(reading) => reading.item.text(),
                    None => list.text_of(line).into_owned(),
                };
                let each = line.quantity.map(|each| (each, u64::from(line.places)));
                let pieces =
                    each.and_then(|(each, places)| each.checked_mul(places)?.checked_mul(kits));
                let row = Run::row(list_at, line.sheet, line.row);
                match places.get(&(why, what.clone())) {
                    Some(&place) => {
                        rows[place].push(row);
                        let before = &mut self.left_out[first + place];
                        before.pieces = before
                            .pieces
                            .zip(pieces)
                            .and_then(|(a, b)| a.checked_add(b));
                    }
                    None => {
                        places.insert((why, what.clone()), rows.len());
                        rows.push(vec![row]);
                        self.left_out.push(LeftOut {
                            what,
                            pieces,
                            why,
                            evidence: Rows::default(),
                        });
                    }
                }
            }
        }
        for (left_out, rows) in self.left_out[first..].iter_mut().zip(rows) {
            left_out.evidence = rows.into_iter().collect();
        }
    }
}

/// Why a line that makes no demand is left out; `None` where it names no further pieces.
fn no_demand_of(list: &List, line: usize) -> Option<Omission> {
    let line = &list.lines[line];
    match list.placement_of(line).usage {
        Some(Usage::NotInKit) => Some(Omission::SoldSeparately),
        Some(Usage::Consumable) => Some(Omission::Consumable),
        Some(Usage::ComesFitted) => Some(Omission::ComesFitted),
        Some(_) => None,
        None => line
            .doubts()
            .contains(&Doubt::AsRequired)
            .then_some(Omission::AsRequired),
    }
}

/// Lines of the counts, by where they stand.
struct Counts<'a> {
    lists: &'a [List],
    lines: FxHashMap<(usize, usize, u32), Vec<usize>>,
}

impl<'a> Counts<'a> {
    fn of(lists: &'a [List]) -> Counts<'a> {
        let mut lines: FxHashMap<_, Vec<usize>> = FxHashMap::default();
        let counts = lists.iter().enumerate();
        for (at, list) in counts.filter(|(_, list)| list.role == Role::Counted) {
            for (index, line) in list.lines.iter().enumerate() {
                let row = (at, usize::from(line.sheet), line.row);
                lines.entry(row).or_default().push(index);
            }
        }
        Counts { lists, lines }
    }

    /// What the count of an item says besides figures, in order of rows, each once: who counted, and
    /// why to count again.
    fn of_item(&self, item: &ItemAccount) -> (Vec<String>, Vec<String>) {
        let (mut names, mut doubts) = (Vec::new(), Vec::new());
        let add = |to: &mut Vec<String>, text: String| {
            if !to.contains(&text) {
                to.push(text);
            }
        };
        for evidence in &item.counted_by {
            let list = &self.lists[evidence.list];
            for row in evidence.rows.iter().flat_map(|&(first, last)| first..=last) {
                let at = (evidence.list, evidence.sheet, row);
                for line in self.lines.get(&at).into_iter().flatten() {
                    let line = &list.lines[*line];
                    if let Some(who) = &list.placement_of(line).counted_by {
                        add(&mut names, who.to_string());
                    }
                    for doubt in list.doubts_of(line) {
                        add(&mut doubts, doubt.to_string());
                    }
                }
            }
        }
        (names, doubts)
    }
}

/// True where another item of the lists may be the same by other words.
fn may_be_same(item: &ItemAccount) -> bool {
    let mut findings = item.findings.iter();
    findings.any(|of| of.finding == FindingKind::MayBeSame)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::settle::{
        sample::{ListOf, bag, plain, stage, used},
        settle,
    };

    const BOLT: &str = "bolt hex 1/2-13 6";

    /// What is claimed, what goes back and what is left out, in words.
    fn said(lists: &[List]) -> Vec<String> {
        said_of(&Job::default(), lists)
    }

    fn said_of(job: &Job, lists: &[List]) -> Vec<String> {
        let account = settle(job, lists).expect("settles");
        let claim = Claim::of(job, lists, &account);
        let claimed = claim
            .claimed
            .iter()
            .map(|line| format!("claim {} {}", line.pieces, line.cause));
        let over = claim
            .over
            .iter()
            .map(|over| format!("give back {}", over.pieces));
        let left_out = claim.left_out.iter().map(|left_out| {
            let pieces = left_out.pieces.map_or("-".to_owned(), |n| n.to_string());
            format!("leave {pieces} {:?}", left_out.why)
        });
        claimed.chain(over).chain(left_out).collect()
    }

    /// A job of one bolt: required, on the slip, counted good and damaged.
    #[track_caller]
    fn case(required: u64, slip: Option<u64>, count: Option<(u64, u64)>, expected: &[&str]) {
        let mut lists = vec![
            ListOf::required()
                .line(BOLT, required, &stage("Rails"))
                .list(),
        ];
        if let Some(slip) = slip {
            lists.push(ListOf::shipped().line(BOLT, slip, &plain).list());
        }
        if let Some((good, damaged)) = count {
            let count =
                ListOf::counted().line(BOLT, good, &|line, _| line.more_mut().damaged = damaged);
            lists.push(count.list());
        }
        assert_eq!(said(&lists), expected);
    }

    #[test]
    fn no_more_than_is_due() {
        case(24, Some(24), Some((24, 0)), &[]);
        case(
            24,
            Some(24),
            Some((20, 1)),
            &["claim 3 missing", "claim 1 damaged"],
        );
        // The slip lists 4 fewer, and the box holds 2 fewer than the slip.
        case(24, Some(20), Some((18, 0)), &["claim 6 missing"]);
        case(24, Some(20), Some((20, 0)), &["claim 4 missing"]);
        // More on the slip than is due: what is missing of that is not due.
        case(24, Some(30), Some((22, 0)), &["claim 2 missing"]);
        case(24, Some(30), Some((24, 0)), &[]);
        case(
            24,
            Some(30),
            Some((22, 5)),
            &["claim 2 damaged", "leave 3 DamagedBeyond"],
        );
        case(8, Some(10), Some((8, 2)), &["leave 2 DamagedBeyond"]);
        case(8, Some(12), Some((12, 0)), &["give back 4"]);
        case(8, None, Some((5, 0)), &["claim 3 missing"]);
        case(
            8,
            None,
            Some((5, 1)),
            &["claim 2 missing", "claim 1 damaged"],
        );
    }

    #[test]
    fn what_is_not_counted_is_not_claimed() {
        case(24, Some(24), None, &["leave 24 NotCounted"]);
        // The slip itself proves 4 short.
        case(
            24,
            Some(20),
            None,
            &["claim 4 missing", "leave 20 NotCounted"],
        );
        case(24, Some(0), None, &["claim 24 missing"]);
        case(24, Some(30), None, &["leave 30 NotCounted"]);
        case(24, None, None, &["leave 24 NotKnown"]);
    }

    #[test]
    fn a_bag_that_did_not_arrive() {
        let lists = [
            ListOf::required()
                .line(BOLT, 8, &stage("Rails"))
                .line("nut hex 1/2-13", 8, &stage("Rails"))
                .list(),
            ListOf::shipped()
                .line(BOLT, 10, &bag("H"))
                .line("nut hex 1/2-13", 8, &bag("B"))
                .list(),
            ListOf::counted()
                .line("nut hex 1/2-13", 8, &bag("B"))
                .other(&|line, placement| {
                    line.what = What::Bag {
                        received: Some(false),
                    };
                    placement.bag = Some("H".into());
                })
                .list(),
        ];
        assert_eq!(said(&lists), ["claim 8 bag not received"]);
        let account = settle(&Job::default(), &lists).expect("settles");
        let claim = Claim::of(&Job::default(), &lists, &account);
        assert_eq!(claim.claimed[0].bags, ["H"]);
        assert_eq!(claim.claimed[0].finding, Some(0));
        // Without a slip the parts list says what the bag held.
        let [_, _, counted] = lists;
        let required = ListOf::required().line(BOLT, 8, &|line, placement| {
            stage("Rails")(line, placement);
            placement.bag = Some("H".into());
        });
        let required = required.line("nut hex 1/2-13", 8, &bag("B"));
        assert_eq!(
            said(&[required.list(), counted]),
            ["claim 8 bag not received"]
        );
    }

    #[test]
    fn back_ordered_pieces_are_asked_after_once() {
        let lists = [
            ListOf::required().line(BOLT, 48, &stage("Rails")).list(),
            ListOf::shipped()
                .line(BOLT, 20, &|line, _| line.more_mut().back_ordered = 24)
                .list(),
        ];
        assert_eq!(
            said(&lists),
            [
                "claim 4 missing",
                "claim 24 back-ordered",
                "leave 20 NotCounted"
            ]
        );
    }

    #[test]
    fn wrong_sizes_are_claimed_and_given_back() {
        let lists = [
            ListOf::required()
                .line("bolt hex 5/8-11 5-1/2", 24, &stage("Rails"))
                .line("bolt hex 5/8-11 5", 12, &stage("Rails"))
                .list(),
            ListOf::shipped()
                .line("bolt hex 5/8-11 5-1/2", 24, &plain)
                .line("bolt hex 5/8-11 5", 12, &plain)
                .list(),
            ListOf::counted()
                .line("bolt hex 5/8-11 5-1/2", 16, &plain)
                .line("bolt hex 5/8-11 5", 20, &plain)
                .list(),
        ];
        assert_eq!(said(&lists), ["claim 8 missing", "give back 8"]);
    }

    #[test]
    fn what_the_kit_does_not_owe() {
        let option = |_: &mut crate::kit::Line, p: &mut crate::kit::Placement| {
            p.option = Some(crate::kit::OptionRule {
                with: true,
                name: "ramp".into(),
            });
        };
        let lists = [
            ListOf::required()
                .line("bolt hex 3/4-10 7", 4, &used("Sills", Usage::NotInKit))
                .line("bolt hex 3/4-10 7", 4, &used("Rails", Usage::NotInKit))
                .line("part AS-1 anti-seize", 1, &used("Sills", Usage::Consumable))
                .line(BOLT, 6, &option)
                .line("nut hex 1/2-13", None, &stage("Sills"))
                .list(),
            ListOf::shipped()
                .line("part X-1 brochure", 1, &plain)
                .list(),
        ];
        let job = Job {
            kits: 2,
            ..Job::default()
        };
        assert_eq!(
            said_of(&job, &lists),
            [
                "leave 16 SoldSeparately",
                "leave 2 Consumable",
                "leave 12 NotChosen",
                "leave - NoQuantity"
            ]
        );
    }

    #[test]
    fn nothing_goes_back_by_a_guide() {
        let lists = |from_sentences: bool| {
            let mut guide = ListOf::required().line(BOLT, 8, &stage("Rails")).list();
            guide.from_sentences = from_sentences;
            let counted = ListOf::counted().line(BOLT, 12, &plain).list();
            [guide, counted]
        };
        assert_eq!(said(&lists(false)), ["give back 4"]);
        // Sentences may ask for more than was read of them.
        assert_eq!(said(&lists(true)), ["leave 4 FromSentences"]);
    }

    #[test]
    fn spares_of_our_own_are_not_claimed() {
        let lists = [
            ListOf::required().line(BOLT, 20, &stage("Rails")).list(),
            ListOf::shipped().line(BOLT, 20, &plain).list(),
            ListOf::counted().line(BOLT, 21, &plain).list(),
        ];
        let job = Job {
            spares: vec![crate::kit::job::SpareRule {
                kind: None,
                up_to: None,
                percent: 10,
                least: 0,
            }],
            ..Job::default()
        };
        assert_eq!(said_of(&job, &lists), ["leave 1 Spares"]);
    }

    #[test]
    fn a_count_in_doubt_is_to_be_made_again() {
        let lists = [
            ListOf::required().line(BOLT, 8, &stage("Sills")).list(),
            ListOf::counted()
                .line(BOLT, 7, &|line, _| {
                    line.more_mut().doubts.push(Doubt::Said("by weight".into()))
                })
                .list(),
        ];
        let account = settle(&Job::default(), &lists).expect("settles");
        let claim = Claim::of(&Job::default(), &lists, &account);
        assert_eq!(claim.claimed[0].doubts, ["by weight"]);
    }

    #[test]
    fn the_first_stage_comes_first() {
        let lists = [
            ListOf::required()
                .line(BOLT, 8, &stage("Sills"))
                .line("nut hex 1/2-13", 8, &stage("Rails"))
                .line("nut hex 1/2-13", 4, &stage("Hooks"))
                .list(),
            ListOf::counted()
                .line("nut hex 1/2-13", 10, &|_, p| {
                    p.counted_by = Some("Wren".into())
                })
                .line(BOLT, 7, &|_, p| p.counted_by = Some("Ash".into()))
                .list(),
        ];
        let account = settle(&Job::default(), &lists).expect("settles");
        let claim = Claim::of(&Job::default(), &lists, &account);
        let lines: Vec<_> = claim
            .claimed
            .iter()
            .map(|l| (l.pieces, l.stage, l.urgency, l.counted_by.join(",")))
            .collect();
        assert_eq!(
            lines,
            [
                (1, 0, Urgency::First, "Ash".to_owned()),
                (2, 2, Urgency::Later, "Wren".to_owned())
            ]
        );
    }
}
