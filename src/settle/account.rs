//! The account: everything that settling a job finds out, and all that a report needs.

use std::{collections::BTreeMap, sync::Arc};

use serde::Serialize;

use super::{
    evidence::{Rows, Run},
    parcels::Parcel,
};
use crate::{
    doubt::Doubt,
    error::At,
    hardware::{Grade, Item},
    kit::List,
    names::names,
};

names! {
    /// May the job start?
    pub enum Verdict {
        Yes = "yes",
        No = "no",
        /// Lines aside in a required list, uncounted items, unread quantities: see the reasons.
        CannotSay = "can't say",
    }
}

names! {
    /// What was found out about an item.
    pub enum FindingKind {
        /// The slip lists fewer than required.
        SlipShort = "slip is short",
        /// Good and damaged counted are fewer than the slip lists.
        BoxShort = "box is short",
        WrongSize = "wrong size packed",
        /// The size is right.
        WrongGrade = "wrong grade packed",
        WrongFinish = "wrong finish packed",
        /// Nobody counted it, and as many of what may lie in its place were.
        InItsPlace = "another counted instead",
        /// One bag lacks what another has over; nothing is short for it.
        WrongBag = "in the wrong bag",
        Damaged = "damaged",
        /// All of one box or bag is missing; of an item, what it was to hold of it.
        BoxNotReceived = "box not received",
        NotOnSlip = "not on the slip",
        NotOnList = "not on the list",
        Extra = "extra",
        BackOrdered = "back-ordered",
        /// A slip or a count names it, and the figure was not read: nobody is short until it is.
        FigureUnread = "figure not read",
        /// No line of a slip names what is required: it may list it by other names or numbers.
        SlipUnmet = "slip names nothing of the list",
        /// A slip lists a bag or a kit as one, of which no list says what is in it.
        Unopened = "perhaps in what the slip lists as one",
        /// A list asks for it as what comes with another item, and the slip names no more than that.
        ComesAlong = "comes with another item",
        /// Nobody knows which parcels a count looked at: what it lacks may have come since.
        CountUndated = "count without a date",
        /// Counts of one bag, or of none, which are not added: all of them may be there.
        CountedTwice = "counted twice",
        /// A sheet asks for it that may only say again what others ask for.
        AskedTwice = "perhaps asked for twice",
        /// Another item of the lists may be the same by other words.
        MayBeSame = "may be the same as another",
        /// A line of it may mean another number of pieces than was taken.
        NumberInDoubt = "number in doubt",
        /// No rule allows it, and the bench holds something that may do.
        Offered = "offered",
        /// Lists of one job name different revisions.
        Revisions = "lists of different revisions",
        /// A list that checks the required one asks for other pieces.
        RequiredDiffer = "required lists differ",
    }
}

names! {
    /// Why nobody knows whether pieces of an item are short, though slips or counts are there; as it is said of
    /// the items of a stage: `2 items are ...`.
    pub enum LeftOpen {
        /// Rows that may be of it, and whose figure was not read.
        FigureUnread = "not settled: a figure of a slip or a count was not read",
        /// A slip names nothing that is required, and may list it by another name or a number.
        SlipUnmet = "not settled: a slip names nothing that the lists ask for",
        /// A slip lists a bag or a kit as one piece, and nobody says what is in it.
        Unopened = "not settled: a slip lists a bag or a kit as one, and no list says what is in it",
        /// Several counts of it that may be of one heap or of several.
        CountedTwice = "counted on several rows, which may be of one heap",
        /// A sheet of its list may say again what the others say: less of it may be required.
        AskedTwice = "perhaps asked for twice",
        /// Another item may be the same by other words.
        MayBeSame = "perhaps there by another name",
        /// It comes with another item, and the slip may name that alone.
        ComesAlong = "on no slip, and may be on the item that it comes with",
        /// A later parcel lists it, and nobody knows whether its count looked at that one.
        CountUndated = "perhaps in a later parcel than the one that was counted",
        /// The bags that a count names are not those that the slip does, so that it may have looked at more or less.
        OtherBags = "counted in bags that no slip names so",
        /// Its count, or its slip, says less than tells it from another that is wanted.
        OneOfSeveral = "named in words that fit another item as well",
        /// A line that it rests on may mean another number of pieces.
        NumberInDoubt = "in doubt as to how many: see the lines to check",
    }
}

/// One line by its place in the lists settled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct LineRef {
    pub list: usize,
    /// Index into that list's lines.
    pub line: usize,
}

impl LineRef {
    /// Its row, as evidence.
    pub(super) fn run(self, lists: &[List]) -> Run {
        let line = &lists[self.list].lines[self.line];
        Run::row(self.list, line.sheet, line.row)
    }

    /// Where it stands: file, sheet and row.
    pub(super) fn address(self, lists: &[List]) -> At {
        let list = &lists[self.list];
        let line = &list.lines[self.line];
        let sheet = list.sheets.get(usize::from(line.sheet));
        At {
            sheet: sheet.and_then(|sheet| sheet.name.clone()),
            row: Some(line.row),
            ..At::file(&list.file)
        }
    }
}

/// One finding about an item (or a bag), with its pieces and what it rests on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    pub finding: FindingKind,
    pub pieces: u64,
    /// One sentence for a person, naming the other item of a pair or the bag.
    pub note: String,
    pub evidence: Rows,
}

/// Pieces that a stage takes from a bag that is not its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draw {
    /// Index into [`Account::stages`].
    pub stage: usize,
    /// With the word for what it is: `bag D`.
    pub bag: Arc<str>,
    pub pieces: u64,
}

/// Pieces lost with a bag or box that was not received.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loss {
    /// Its name as first written.
    pub bag: String,
    pub pieces: u64,
    /// Index into [`Account::findings`].
    pub finding: usize,
}

/// How one item fares in one stage. `required = covered + substituted + from_stock + short`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Share {
    /// Index into [`Account::stages`].
    pub stage: usize,
    pub required: u64,
    pub covered: u64,
    pub substituted: u64,
    pub from_stock: u64,
    pub short: u64,
    /// What of it is short whatever number the lines in doubt mean, where nobody can say how many are.
    pub at_least: u64,
    /// What of the kit's pieces that serve here is there by a slip alone, uncounted.
    pub by_slip: u64,
    /// What of them may be lacking, by the other number that a line may mean.
    pub may_lack: u64,
    /// The stage stands, and what it needs is in it.
    pub built: bool,
    /// The list asks for it as spares, which no stage waits for.
    pub spare: bool,
}

/// The sums over items; both conservation sums hold:
/// `required = covered + substituted + from_stock + short` and
/// `pool + returned = used + used_as_substitute + discarded + extra`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Totals {
    pub required: u64,
    pub covered: u64,
    pub substituted: u64,
    pub from_stock: u64,
    pub short: u64,
    pub shipped: u64,
    /// Good pieces counted.
    pub counted: u64,
    pub damaged: u64,
    /// Good pieces on hand: counted where there is a count, on the slip elsewhere.
    pub pool: u64,
    pub returned: u64,
    pub used: u64,
    pub used_as_substitute: u64,
    pub discarded: u64,
    pub extra: u64,
    /// Wanted by the spares policy, and how many of those are on hand.
    pub spares: u64,
    pub spares_covered: u64,
}

/// Pieces of another source that serve where the kit's own are lacking.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StandIn {
    /// Index into [`Account::stages`].
    pub stage: usize,
    pub pieces: u64,
    /// What serves, and its canonical text and id.
    pub piece: Item,
    pub text: String,
    pub id: String,
    /// Index into [`Account::items`] for a piece of the kit; `None`: the shop's, to be put back.
    pub item: Option<usize>,
    /// For a substitute: index into the job's rules.
    pub rule: Option<usize>,
    /// The rows that list it.
    pub evidence: Rows,
}

/// What the shop lent of one item, to be put back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PutBack {
    pub item: Item,
    pub text: String,
    pub id: String,
    pub pieces: u64,
    /// Where the shop keeps it.
    pub bins: Vec<String>,
    /// Stages that it went to, in order: indices into [`Account::stages`], and pieces.
    pub stages: Vec<(usize, u64)>,
    /// The rows of the stock list.
    pub evidence: Rows,
}

/// What was to be left of one item when the build is done, and what was.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOver {
    /// Index into [`Account::items`]; `None` for what no list of the job has.
    pub item: Option<usize>,
    pub text: String,
    pub id: String,
    /// Extras, spares, and pieces taken off and thrown away.
    pub expected: u64,
    /// `None`: nobody counted.
    pub found: Option<u64>,
    /// Stages of whose joints so many could be without one as were found too many, in order: indices
    /// into [`Account::stages`]. Empty where the kit was not counted before building, or nothing is
    /// left that should not be.
    pub stages: Vec<usize>,
    /// It was counted before building, so that the expected figure can be relied on.
    pub counted_before: bool,
    pub evidence: Rows,
}

impl LeftOver {
    /// Pieces found beyond those expected.
    pub fn more(&self) -> u64 {
        self.found.unwrap_or(0).saturating_sub(self.expected)
    }

    /// Pieces expected beyond those found.
    pub fn fewer(&self) -> u64 {
        let found = self.found.unwrap_or(self.expected);
        self.expected.saturating_sub(found)
    }
}

/// What is still lacking of one item when the stock is used up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Buy {
    /// Index into [`Account::items`].
    pub item: usize,
    /// For the stages; at least 1 of these two.
    pub short: u64,
    /// For the shop's own spares.
    pub spares: u64,
    /// Pieces in one pack, where the stock list or the slip says so.
    pub pack: Option<u64>,
}

impl Buy {
    pub fn pieces(&self) -> u64 {
        self.short + self.spares
    }

    /// Packs to buy, where the size of one is known.
    pub fn packs(&self) -> Option<u64> {
        self.pack.map(|pack| self.pieces().div_ceil(pack))
    }
}

/// One item's whole account.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ItemAccount {
    /// Stable: the same item has the same id in every run.
    pub id: String,
    pub item: Item,
    /// The canonical text; reads back as the same item.
    pub text: String,
    /// Maker's numbers that stand for it.
    pub part_numbers: Vec<String>,
    pub sums: Totals,
    /// `None`: not counted, which is not zero.
    pub counted: Option<u64>,
    /// `None`: no slip was given.
    pub shipped: Option<u64>,
    /// Good pieces that a slip lists and nobody counted; they are taken to be there.
    pub believed: u64,
    /// Lost with bags and boxes that were not received.
    pub not_received: Vec<Loss>,
    /// What is short is short for sure: a slip or a count speaks of the item, and no count of it is
    /// broken off.
    pub known: bool,
    /// Why it is not, where the lists leave that open.
    pub open: Option<LeftOpen>,
    /// Stages that need it, in order.
    pub shares: Vec<Share>,
    /// What serves in its place, in order of stage.
    pub stand_ins: Vec<StandIn>,
    /// Other pieces than its own may serve it, so that a change of its count may change what does.
    pub in_play: bool,
    /// Items whose pieces a rule lets serve it, or which its own may serve: indices into
    /// [`Account::items`], in order.
    pub rivals: Vec<usize>,
    /// Names of bags and boxes, which many items share.
    pub bags: Vec<Arc<str>>,
    /// Which of [`ItemAccount::bags`] the required lists name for which stage, where there are several: stage and
    /// index, in order.
    pub bags_of_stages: Box<[(usize, usize)]>,
    /// What its stages take from other stages' bags, in order of stage.
    pub draws: Vec<Draw>,
    pub findings: Vec<Finding>,
    /// Not required to be packed: sold separately or consumable; pieces to bring.
    pub to_bring: u64,
    /// Doubts about the match ("grade not confirmed").
    pub doubts: Vec<Doubt>,
    pub required_by: Rows,
    pub shipped_by: Rows,
    pub counted_by: Rows,
}

impl ItemAccount {
    /// The bags and boxes that hold what a stage needs: of those that the required lists name, the stage's own.
    pub fn bags_for(&self, stage: usize) -> Vec<&str> {
        let of = &self.bags_of_stages;
        let first = of.partition_point(|(at, _)| *at < stage);
        let own = &of[first..of.partition_point(|(at, _)| *at <= stage)];
        let mut shown = vec![true; self.bags.len()];
        if !own.is_empty() {
            of.iter().for_each(|(_, bag)| shown[*bag] = false);
            own.iter().for_each(|(_, bag)| shown[*bag] = true);
        }
        let bags = self.bags.iter().zip(shown);
        bags.filter_map(|(bag, shown)| shown.then_some(&**bag))
            .collect()
    }

    /// What the lists call a part: its words, else its number.
    pub fn called(&self) -> &str {
        let part = self.item.part.as_ref();
        let name = part.and_then(|part| part.description.as_deref().or(part.number.as_deref()));
        name.unwrap_or(&self.text)
    }

    /// The doubts that a person can do something about: a grade or finish that only the pieces state is
    /// none that the lists ask for.
    pub fn to_confirm(&self) -> impl Iterator<Item = &Doubt> {
        let unasked = |doubt: &Doubt| match doubt {
            Doubt::NotConfirmed(field) => match &**field {
                "grade" => self.item.grade.is_none(),
                "finish" => self.item.finish.is_none(),
                _ => false,
            },
            _ => false,
        };
        self.doubts.iter().filter(move |doubt| !unasked(doubt))
    }

    /// Pieces that are short for sure in a stage.
    pub fn surely_short(&self, share: &Share) -> u64 {
        match self.known {
            true => share.short,
            false => share.at_least,
        }
    }

    /// Pieces that are short for sure where nobody can say how many are.
    pub fn at_least(&self) -> u64 {
        self.shares.iter().map(|share| share.at_least).sum()
    }

    /// Pieces that are covered, and may be lacking by the other number that a line may mean.
    pub fn may_lack(&self) -> u64 {
        self.shares.iter().map(|share| share.may_lack).sum()
    }

    /// New pieces that stages need which stand already.
    pub fn built(&self) -> u64 {
        let built = self.shares.iter().filter(|share| share.built);
        built.map(|share| share.required).sum()
    }

    /// True where the lists ask for a strength grade, and pieces serve that do not state theirs.
    pub fn strength_open(&self) -> bool {
        let asked = self.item.grade.is_some_and(Grade::is_strength);
        asked && self.doubts.contains(&Doubt::grade_not_confirmed())
    }
}

/// One stage, in build order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StageAccount {
    /// As named; empty where no list names a stage.
    pub name: String,
    pub required: u64,
    pub covered: u64,
    pub substituted: u64,
    pub from_stock: u64,
    pub short: u64,
    /// It stands already.
    pub built: bool,
    /// It is no stage: the list's own spares, which none waits for.
    pub spare: bool,
    pub ready: Verdict,
    /// Why it is not a plain yes.
    pub reasons: Vec<String>,
}

impl StageAccount {
    /// A stage that needs nothing.
    pub(super) fn of(name: &str) -> StageAccount {
        StageAccount {
            name: name.to_owned(),
            required: 0,
            covered: 0,
            substituted: 0,
            from_stock: 0,
            short: 0,
            built: false,
            spare: false,
            ready: Verdict::Yes,
            reasons: Vec::new(),
        }
    }

    pub(super) fn add(&mut self, share: &Share) {
        self.required += share.required;
        self.covered += share.covered;
        self.substituted += share.substituted;
        self.from_stock += share.from_stock;
        self.short += share.short;
    }
}

impl Totals {
    pub(super) fn add(&mut self, other: &Totals) {
        for (sum, more) in [
            (&mut self.required, other.required),
            (&mut self.covered, other.covered),
            (&mut self.substituted, other.substituted),
            (&mut self.from_stock, other.from_stock),
            (&mut self.short, other.short),
            (&mut self.shipped, other.shipped),
            (&mut self.counted, other.counted),
            (&mut self.damaged, other.damaged),
            (&mut self.pool, other.pool),
            (&mut self.returned, other.returned),
            (&mut self.used, other.used),
            (&mut self.used_as_substitute, other.used_as_substitute),
            (&mut self.discarded, other.discarded),
            (&mut self.extra, other.extra),
            (&mut self.spares, other.spares),
            (&mut self.spares_covered, other.spares_covered),
        ] {
            *sum += more;
        }
    }
}

/// How a list that checks the required one agrees with it, by item and stage. Where they differ is
/// a finding of the job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Compared {
    /// Index into the lists settled.
    pub list: usize,
    pub agree: u64,
    pub differ: u64,
    /// Lines of it that could not be summed, and so not be compared.
    pub unread: u64,
    /// Its stages that are, on the required list, those of an option that is not built: stage and option.
    /// Nothing is compared of them.
    pub not_built: Vec<(String, String)>,
}

/// How many times what is required came, by the slips or by the counts, where it is more than once and the same of
/// three items at least and of all but a quarter.
pub(super) fn times_required(items: &[ItemAccount]) -> Option<u64> {
    let by = |came: fn(&ItemAccount) -> u64| {
        let asked = items.iter().filter(|item| item.sums.required > 0);
        let asked = asked.map(|item| (came(item), item.sums.required));
        let asked = asked.filter(|(came, _)| *came > 0);
        let all = asked.clone().count();
        let mut times: BTreeMap<u64, usize> = BTreeMap::new();
        for (came, required) in asked.filter(|(came, required)| came.is_multiple_of(*required)) {
            *times.entry(came / required).or_default() += 1;
        }
        let (times, alike) = times.into_iter().max_by_key(|(_, alike)| *alike)?;
        (times > 1 && alike >= 3 && alike * 4 >= all * 3).then_some(times)
    };
    by(|item| item.sums.shipped).or_else(|| by(|item| item.sums.counted + item.sums.damaged))
}

/// True where the counts hold what the stages use that stand already: a count of what lies loose has at most a
/// few more of an item than the others need (common practice, no source).
pub(super) fn counted_before_built(items: &[ItemAccount]) -> bool {
    let counted = items
        .iter()
        .filter(|item| item.counted.is_some() && item.built() > 0);
    let over = counted
        .clone()
        .filter(|item| item.sums.extra >= item.built());
    over.count() * 2 > counted.count()
}

/// Everything that settling found out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Account {
    pub stages: Vec<StageAccount>,
    /// Required items first, in order of first stage and first line; then those on no list.
    pub items: Vec<ItemAccount>,
    pub totals: Totals,
    pub verdict: Verdict,
    /// Why the verdict is not a plain yes.
    pub reasons: Vec<String>,
    /// Index of the first stage with a short item.
    pub stops_at: Option<usize>,
    /// Findings about the job as a whole: boxes not received first, lists of different revisions.
    pub findings: Vec<Finding>,
    /// Where there are several: each delivery in order, and what it closed of the claim.
    pub parcels: Vec<Parcel>,
    /// Parts that may be the same by other words: indices into [`Account::items`], what is asked for first.
    pub may_be_same: Vec<(usize, usize)>,
    /// Lists held against the required one.
    pub compared: Vec<Compared>,
    /// What the shop lent, by size; `None` where no stock list was given.
    pub put_back: Option<Vec<PutBack>>,
    /// What to buy, by size. Empty where no stock list was given.
    pub to_buy: Vec<Buy>,
    /// The counts were perhaps made before the stages were built that stand: of what those use, nothing is known
    /// to be over.
    pub counted_before_built: bool,
    /// So many times what is required came, item by item.
    pub times_required: Option<u64>,
    /// What is left when the build is done, what is too many first; `None` where nobody counted it.
    pub left_over: Option<Vec<LeftOver>>,
    /// What a person should know of the job's rules on substitutes, one sentence each.
    pub rule_notes: Vec<String>,
    /// Lines of options that were not chosen.
    pub not_chosen: Vec<LineRef>,
    /// Lines that make no demand in this kit: carried over, sold separately, consumable, reference.
    pub no_demand: Vec<LineRef>,
}

impl Account {
    /// Whole kits that the pieces on hand, stock and substitutes are enough for, of so many; and the
    /// items that the next one lacks, by index. Pieces are dealt to whole kits first, so that what an
    /// item got tells how many it is enough for. Items of which nobody knows how many are there say
    /// nothing here.
    pub fn whole_kits(&self, kits: u64) -> (u64, Vec<usize>) {
        let enough_for = |item: &ItemAccount| {
            let shares = item.shares.iter().filter(|share| !share.spare);
            let shares = shares.filter(|share| share.required >= kits);
            let enough =
                shares.map(|share| (share.required - share.short) / (share.required / kits));
            match item.open {
                _ if item.known => enough.min(),
                // All that several rows count of it may be there, and no more.
                Some(LeftOpen::CountedTwice) => {
                    let all = item.findings.iter();
                    let all = all.filter(|of| of.finding == FindingKind::CountedTwice);
                    let all: u64 = all.map(|of| of.pieces).sum();
                    Some(all / (item.sums.required / kits).max(1))
                }
                _ => None,
            }
        };
        let each: Vec<u64> = self
            .items
            .iter()
            .map(|item| enough_for(item).unwrap_or(kits))
            .collect();
        let whole = each.iter().copied().min().unwrap_or(kits).min(kits);
        let stops = (0..each.len()).filter(|&at| each[at] == whole && whole < kits);
        (whole, stops.collect())
    }

    /// The number of the kit after the whole ones, from 1, and the first stage that it lacks pieces for;
    /// `None` where all kits are whole.
    pub fn next_kit_stops_at(&self, kits: u64) -> Option<(u64, usize)> {
        let (whole, stops) = self.whole_kits(kits);
        let shares = stops.iter().flat_map(|&at| &self.items[at].shares);
        let shares = shares.filter(|share| !share.spare);
        let lacking = shares.filter(|share| {
            (share.required - share.short) / (share.required / kits).max(1) <= whole
        });
        Some((whole + 1, lacking.map(|share| share.stage).min()?))
    }
}
