//! The tables of a claim: what is asked for, what goes back, what is left out and why.

use super::table::{Cell, Row, Table};
use crate::{
    kit::{Job, List},
    report::wording,
    settle::{
        Account, Claim, FindingKind, ItemAccount, Rows,
        claim::{Cause, Claimed, LeftOut, Omission, WholeBag},
    },
    words::count,
};

const LEFT_OUT: &str = "left out";
/// Items of one row that are named before "N more".
const NAMED: usize = 12;

/// The tables in the making.
pub struct Writing<'a> {
    pub job: &'a Job,
    pub lists: &'a [List],
    pub account: &'a Account,
    pub claim: &'a Claim,
    /// The last row's number: rows are numbered through, so that a letter can name one.
    pub number: u64,
}

impl Writing<'_> {
    pub fn tables(mut self) -> Vec<Table> {
        let claim = self.claim;
        let of_cause = |cause| claim.claimed.iter().filter(move |line| line.cause == cause);
        let mut tables = vec![
            self.missing(),
            self.claimed(
                "Claimed",
                "Damaged pieces",
                "Counted apart from the good ones. They cover nothing, and are not among the missing ones.",
                of_cause(Cause::Damaged),
            ),
            self.claimed(
                "To follow",
                "Back-ordered pieces",
                "The slip says that these will follow. Please confirm when; they are not among the missing ones.",
                of_cause(Cause::BackOrdered),
            ),
        ];
        for (at, finding) in self.account.findings.iter().enumerate() {
            let lines = of_cause(Cause::NotReceived).filter(move |line| line.finding == Some(at));
            let due: u64 = lines.clone().map(|line| line.pieces).sum();
            let note = format!(
                "{} Of these, {due} are due and claimed here. To be taken up with the carrier, too.",
                finding.note
            );
            tables.push(self.claimed("Claimed", "Bag or box not received", &note, lines));
        }
        tables.extend((1..self.account.parcels.len()).map(|parcel| self.closed(parcel)));
        tables.push(self.substituted());
        tables.push(self.over());
        tables.push(self.left_out());
        tables
    }

    /// Bags that are missing whole are a row each, and not a row an item.
    fn missing(&mut self) -> Table {
        let Claim {
            claimed,
            whole_bags,
            ..
        } = self.claim;
        let mut rows: Vec<Row> = whole_bags.iter().map(|of| self.bag_row(of)).collect();
        let mut told = vec![false; claimed.len()];
        for &at in whole_bags.iter().flat_map(|of| &of.lines) {
            told[at] = true;
        }
        for (line, told) in claimed.iter().zip(told) {
            if line.cause == Cause::Missing && !told {
                rows.push(self.claimed_row(line));
            }
        }
        Table {
            title: "Missing pieces".to_owned(),
            note: "Fewer are on the slip, or were found in the boxes, than the stages require."
                .to_owned(),
            pieces: "Claimed",
            rows,
        }
    }

    fn bag_row(&mut self, of: &WholeBag) -> Row {
        let lines: Vec<&Claimed> = of.lines.iter().map(|&at| &self.claim.claimed[at]).collect();
        let items = lines.iter().map(|line| &self.account.items[line.item]);
        let sum = |pieces: fn(&ItemAccount) -> Option<u64>| items.clone().filter_map(pieces).sum();
        let mut row = self.row();
        row[1] = Cell::Text(Cause::Missing.to_string());
        row[2] = Cell::Text(format!(
            "{}, whole: {} of {}",
            wording::bags("bag", &of.bag),
            of.missing,
            of.kits
        ));
        row[3] = Cell::Text(of.bag.to_string());
        row[4] = Cell::Number(sum(|item| Some(item.sums.required)));
        row[5] = match items.clone().all(|item| item.shipped.is_none()) {
            true => Cell::Text("no slip".to_owned()),
            false => Cell::Number(sum(|item| item.shipped)),
        };
        row[6] = match items.clone().all(|item| item.counted.is_none()) {
            true => Cell::Text(wording::NOT_COUNTED.to_owned()),
            false => Cell::Number(sum(|item| item.counted)),
        };
        row[7] = Cell::Number(lines.iter().map(|line| line.pieces).sum());
        let held = (lines.iter().zip(items.clone()))
            .map(|(line, item)| format!("{} of {}", line.pieces, name(item).replace('\n', ", ")));
        let held: Vec<String> = held.collect();
        row[8] = Cell::Text(format!(
            "all that it is to hold is missing: {}",
            held.join("; ")
        ));
        let first = lines.iter().min_by_key(|line| line.stage);
        row[9] = Cell::Text(first.map_or_else(String::new, |line| self.stops(line)));
        let rows = items
            .map(|item| Rows::together([&item.required_by, &item.shipped_by, &item.counted_by]));
        let rows: Vec<Rows> = rows.collect();
        row[10] = Cell::Text(evidence(self.lists, &Rows::together(rows.iter())));
        row
    }

    /// What the lack of a line's pieces stops.
    fn stops(&self, line: &Claimed) -> String {
        format!(
            "{}\n{}",
            wording::numbered_stage(self.account, line.stage),
            line.urgency
        )
    }

    fn claimed<'a>(
        &mut self,
        pieces: &'static str,
        title: &str,
        note: &str,
        lines: impl Iterator<Item = &'a Claimed>,
    ) -> Table {
        Table {
            title: title.to_owned(),
            note: note.to_owned(),
            pieces,
            rows: lines.map(|line| self.claimed_row(line)).collect(),
        }
    }

    fn claimed_row(&mut self, line: &Claimed) -> Row {
        let item = &self.account.items[line.item];
        let mut row = self.item_row(line.cause.as_str(), item, line.pieces);
        row[3] = Cell::Text(line.bags.join(", "));
        let mut words = vec![finding(item, line)];
        let doubts = line.doubts.iter();
        words.extend(doubts.map(|doubt| format!("count it again by hand first: {doubt}")));
        words.extend(wording::doubts(item));
        row[8] = Cell::Text(words.join("\n"));
        row[9] = Cell::Text(self.stops(line));
        row[11] = Cell::Text(line.counted_by.join(", "));
        row
    }

    /// What a later parcel closed of the claim.
    fn closed(&mut self, parcel: usize) -> Table {
        let account = self.account;
        let changes = account.parcels[parcel].changes.iter();
        let rows = changes.filter(|change| change.closed > 0).map(|change| {
            let item = &account.items[change.item];
            let mut row = self.item_row("closed", item, change.closed);
            row[8] = Cell::Text(wording::change(change));
            row
        });
        let rows = rows.collect();
        let sentence = wording::parcels(self.lists, account).swap_remove(parcel);
        Table {
            title: format!("Closed by parcel {}", parcel + 1),
            note: format!("{sentence}. What it closed is not claimed any more."),
            pieces: "Closed",
            rows,
        }
    }

    fn substituted(&mut self) -> Table {
        let rows = self.claim.substituted.iter().filter_map(|line| {
            let item = &self.account.items[line.item];
            let stand_in = &item.stand_ins[line.stand_in];
            let rule = self.job.substitutes.get(line.rule)?;
            let mut row = self.item_row("substituted", item, stand_in.pieces);
            row[8] = Cell::Text(wording::substitute(stand_in, rule));
            row[9] = Cell::Text(wording::numbered_stage(self.account, stand_in.stage));
            row[10] = Cell::Text(rule.address());
            Some(row)
        });
        Table {
            title: "Substituted pieces".to_owned(),
            note: "Another piece serves in their place under a rule. They are claimed above, but for those \
                   that the approver holds for delivered."
                .to_owned(),
            pieces: "Substituted",
            rows: rows.collect(),
        }
    }

    fn over(&mut self) -> Table {
        let rows = self.claim.over.iter().map(|over| {
            let item = &self.account.items[over.item];
            let mut row = self.item_row("surplus", item, over.pieces);
            row[8] = Cell::Text(wording::found(item));
            row
        });
        Table {
            title: "To go back".to_owned(),
            note: "Counted, and not due to this kit. Kept until the kit maker says what becomes of them."
                .to_owned(),
            pieces: "To go back",
            rows: rows.collect(),
        }
    }

    /// Items that nobody counted are one row, and so are those of options that are not built and of stages that
    /// stand: they say nothing against the kit maker.
    fn left_out(&mut self) -> Table {
        let mut rows = Vec::new();
        for alike in self.claim.left_out.chunk_by(|a, b| a.why == b.why) {
            let why = alike[0].why;
            let in_one_row = matches!(
                why,
                Omission::NotCounted
                    | Omission::NotChosen
                    | Omission::BuiltStages
                    | Omission::OtherKits
            );
            if alike.len() == 1 || !in_one_row {
                rows.extend(alike.iter().map(|of| self.left_out_row(of)));
                continue;
            }
            let mut row = self.row();
            row[1] = Cell::Text(LEFT_OUT.to_owned());
            row[2] = Cell::Text(count(alike.len() as u64, "item"));
            row[7] = Cell::Number(alike.iter().filter_map(|of| of.pieces).sum());
            row[8] = Cell::Text(format!("{why}: {}", named(alike)));
            if why == Omission::NotChosen {
                let sources = Rows::together(alike.iter().map(|of| &of.evidence));
                row[10] = Cell::Text(evidence(self.lists, &sources));
            }
            rows.push(row);
        }
        Table {
            title: "Left out of this claim, and why".to_owned(),
            note: "None of this is claimed.".to_owned(),
            pieces: "Not claimed",
            rows,
        }
    }

    fn left_out_row(&mut self, left_out: &LeftOut) -> Row {
        let mut row = self.row();
        row[1] = Cell::Text(LEFT_OUT.to_owned());
        row[2] = Cell::Text(left_out.what.clone());
        row[7] = left_out.pieces.into();
        row[8] = Cell::Text(left_out.why.to_string());
        row[10] = Cell::Text(evidence(self.lists, &left_out.evidence));
        row
    }

    fn row(&mut self) -> Row {
        self.number += 1;
        let mut row: Row = std::array::from_fn(|_| Cell::Blank);
        row[0] = Cell::Number(self.number);
        row
    }

    fn item_row(&mut self, why: &str, item: &ItemAccount, pieces: u64) -> Row {
        let mut row = self.row();
        row[1] = Cell::Text(why.to_owned());
        row[2] = Cell::Text(name(item));
        row[3] = Cell::Text(item.bags.join(", "));
        row[4] = Cell::Number(item.sums.required);
        row[5] = match item.shipped {
            Some(shipped) => Cell::Number(shipped),
            None => Cell::Text("no slip".to_owned()),
        };
        row[6] = match item.counted {
            Some(counted) => Cell::Number(counted),
            None => Cell::Text(wording::NOT_COUNTED.to_owned()),
        };
        row[7] = Cell::Number(pieces);
        let sources = item.required_by.iter();
        let sources = sources.chain(&item.shipped_by).chain(&item.counted_by);
        row[10] = Cell::Text(evidence(self.lists, sources));
        row
    }
}

/// What was left out by name, as far as a reader cares to go.
fn named(left_out: &[LeftOut]) -> String {
    let mut names: Vec<String> = (left_out.iter().take(NAMED))
        .map(|of| match of.pieces {
            Some(pieces) => format!("{pieces} of {}", of.what),
            None => of.what.clone(),
        })
        .collect();
    if let Some(more @ 1..) = left_out.len().checked_sub(NAMED) {
        names.push(format!("{more} more"));
    }
    names.join("; ")
}

/// The item's text with the maker's numbers that it does not show.
fn name(item: &ItemAccount) -> String {
    let hidden = item
        .part_numbers
        .iter()
        .filter(|n| !item.text.contains(n.as_str()));
    let numbers: Vec<&str> = hidden.map(String::as_str).collect();
    match numbers.as_slice() {
        [] => item.text.clone(),
        _ => format!("{}\nNo. {}", item.text, numbers.join(", ")),
    }
}

/// Addresses, one a line.
fn evidence<'a>(
    lists: &[List],
    evidence: impl IntoIterator<Item = &'a crate::settle::Evidence>,
) -> String {
    let addresses: Vec<String> = evidence
        .into_iter()
        .map(|e| wording::address(lists, e))
        .collect();
    addresses.join("\n")
}

/// What was found that the claim of a line rests on.
fn finding(item: &ItemAccount, line: &Claimed) -> String {
    let kinds: &[FindingKind] = match line.cause {
        Cause::Missing => &[
            FindingKind::SlipShort,
            FindingKind::BoxShort,
            FindingKind::WrongSize,
            FindingKind::WrongGrade,
            FindingKind::WrongFinish,
            FindingKind::FigureUnread,
            FindingKind::SlipUnmet,
            FindingKind::Unopened,
            FindingKind::MayBeSame,
        ],
        Cause::Damaged => &[FindingKind::Damaged],
        Cause::BackOrdered => &[FindingKind::BackOrdered],
        Cause::NotReceived => &[],
    };
    let found = item.findings.iter().filter(|f| kinds.contains(&f.finding));
    let found = found.filter(|f| !(line.rest && f.finding == FindingKind::SlipShort));
    let words: Vec<String> = found.map(wording::finding).collect();
    if !words.is_empty() {
        return words.join("\n");
    }
    let losses = item.not_received.iter();
    let mut losses = losses.filter(|loss| Some(loss.finding) == line.finding);
    match losses.next() {
        Some(loss) => format!(
            "it was to hold {}; {} due",
            count(loss.pieces, "piece"),
            line.pieces
        ),
        None => format!(
            "{} good counted of {} required",
            item.sums.counted, item.sums.required
        ),
    }
}
