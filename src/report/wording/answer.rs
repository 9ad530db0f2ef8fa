//! May the job start, where does it stop, how much is short.

use std::borrow::Cow;

use super::{CANNOT_SAY, stage_named};
use crate::{
    kit::Job,
    settle::{Account, ItemAccount, Share, StageAccount, Verdict},
    words::count,
};

/// A verdict by word and shape, so that no colour is needed to tell it.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Yes => "● YES",
        Verdict::No => "■ NO",
        Verdict::CannotSay => "▲ CAN'T SAY",
    }
}

/// A stage's readiness by word and shape.
pub fn readiness(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Yes => "● ready",
        Verdict::No => "■ short",
        Verdict::CannotSay => "▲ can't say",
    }
}

/// How a stage stands: built, or as far as it is ready.
pub fn standing(stage: &StageAccount) -> &'static str {
    match stage.built {
        true => "● built",
        false => readiness(stage.ready),
    }
}

/// The verdict in one sentence: where the job stops, or that it does not.
pub fn stop(job: &Job, account: &Account) -> String {
    if nothing_seen(account) {
        return "There is nothing to settle against yet: no slip and no count is given.".to_owned();
    }
    let at = |stage: usize| {
        format!(
            "stops at stage {} of {}{}.",
            stage + 1,
            account.stages.iter().filter(|stage| !stage.spare).count(),
            stage_named(", ", account, stage)
        )
    };
    // Whole kits are dealt first: it is the next one that stops.
    let next = account.next_kit_stops_at(job.kits).filter(|_| job.kits > 1);
    match (account.verdict, account.stops_at) {
        (_, Some(stage)) => match next {
            Some((kit, stage)) => format!("Kit {kit} of {} {}", job.kits, at(stage)),
            None => format!("The build {}", at(stage)),
        },
        (Verdict::Yes, None) => "Every stage is covered.".to_owned(),
        (_, None) => "Nothing is known to be short, but see the reasons.".to_owned(),
    }
}

/// True where no slip and no count was given, so that the lists only tell what is required.
pub fn nothing_seen(account: &Account) -> bool {
    account.items.iter().all(|item| {
        item.shipped.is_none() && item.counted.is_none() && !item.known && item.open.is_none()
    })
}

/// How much is short, in one sentence.
pub fn shortage(account: &Account) -> String {
    let items = account.items.iter().filter(|i| lacks(i)).count() as u64;
    match items {
        _ if nothing_seen(account) => format!(
            "{} of {} are required.",
            count(account.totals.required, "piece"),
            count(items, "item")
        ),
        0 if account.verdict == Verdict::Yes => "No item is short.".to_owned(),
        0 => "No item is known to be short.".to_owned(),
        _ => format!(
            "{} short, {} in all.",
            count(items, "item"),
            count(account.items.iter().map(lacking).sum(), "piece")
        ),
    }
}

/// How much is short, and how much of it may be there after all.
pub fn shortage_told(account: &Account) -> String {
    let short = || account.items.iter().filter(|item| lacks(item));
    let sure = |item: &ItemAccount| item.shares.iter().any(|share| item.surely_short(share) > 0);
    let open = || short().filter(|item| known_short(item).is_none() && !sure(item));
    let pieces = count(open().map(lacking).sum(), "piece");
    let items = open().count();
    if items == 0 || nothing_seen(account) {
        return shortage(account);
    }
    let named = count(items as u64, "item");
    if items == short().count() {
        return format!(
            "No item is known to be short. Of {named} ({pieces}) nobody can say: see what was found."
        );
    }
    let are = if items == 1 { "is" } else { "are" };
    format!(
        "{} Of these, {named} ({pieces}) {are} not known to be short: see what was found.",
        shortage(account)
    )
}

/// Pieces of an item that are lacking, or may be.
fn lacking(item: &ItemAccount) -> u64 {
    item.sums.short + item.may_lack()
}

fn lacks(item: &ItemAccount) -> bool {
    lacking(item) > 0
}

/// Pieces of an item that are short; `None` where nobody can say that they are missing, or that none is: they may be
/// there by another name, a figure was not read or is in doubt, or not all is counted.
pub fn known_short(item: &ItemAccount) -> Option<u64> {
    known(item, item.sums.short, item.may_lack())
}

/// The items of which nobody can say that.
pub fn open_items(account: &Account) -> impl Iterator<Item = &ItemAccount> {
    let items = account.items.iter();
    items.filter(|item| known_short(item).is_none())
}

/// The same in one stage.
pub fn known_short_in(item: &ItemAccount, share: &Share) -> Option<u64> {
    known(item, share.short, share.may_lack)
}

/// What stands in place of pieces short where nobody can say how many are.
pub fn cannot_say(at_least: u64) -> Cow<'static, str> {
    match at_least {
        0 => CANNOT_SAY.into(),
        least => format!("at least {least}").into(),
    }
}

fn known(item: &ItemAccount, short: u64, may_lack: u64) -> Option<u64> {
    let is_known = match short {
        0 => may_lack == 0,
        _ => item.known,
    };
    is_known.then_some(short)
}

/// Pieces that are short for sure, by stage.
pub fn stages_short(account: &Account) -> Vec<u64> {
    let mut short = vec![0; account.stages.len()];
    for item in &account.items {
        for share in &item.shares {
            short[share.stage] += item.surely_short(share);
        }
    }
    short
}

/// Why nobody can say how many of an item are there, where no finding says so.
pub fn not_known(item: &ItemAccount) -> Option<&'static str> {
    let unsaid = item.sums.short > 0 && !item.known && item.open.is_none();
    unsaid.then_some(match item.counted {
        None => "neither counted nor on a slip",
        Some(_) => "not counted in full",
    })
}

/// How many whole kits there are, and what stops the next one, where several are wanted.
pub fn whole_kits(job: &Job, account: &Account) -> Option<String> {
    if job.kits < 2 || nothing_seen(account) {
        return None;
    }
    let (whole, stops) = account.whole_kits(job.kits);
    let named: Vec<&str> = stops
        .iter()
        .take(3)
        .map(|&at| account.items[at].text.as_str())
        .collect();
    let more = match stops.len().saturating_sub(named.len()) {
        0 => String::new(),
        more => format!("; and {} more", count(more as u64, "item")),
    };
    let unsure = open_items(account).count() as u64;
    Some(match (named.is_empty(), unsure) {
        (true, 0) => format!("Whole kits: all {}.", job.kits),
        (true, _) => format!(
            "Whole kits: all {}, if what nobody can say of {} is there.",
            job.kits,
            count(unsure, "item")
        ),
        (false, unsure) => format!(
            "Whole kits: {}; the next one stops at {}{more}.",
            match unsure {
                0 => format!("{whole} of {}", job.kits),
                _ => format!(
                    "at most {whole} of {}, since nobody can say of {}",
                    job.kits,
                    count(unsure, "item")
                ),
            },
            named.join("; ")
        ),
    })
}

#[cfg(test)]
mod tests {
    use super::super::numbered_stage;
    use super::*;
    use crate::settle::{
        sample::{ListOf, plain, stage as at_stage},
        settle,
    };

    #[test]
    fn a_stage_that_is_called_by_its_number_is_told_once() {
        let lists = [
            ListOf::required()
                .line("nut hex 1/2", 2, &at_stage("1"))
                .line("nut hex 1/2", 3, &at_stage("rails"))
                .list(),
            ListOf::shipped().line("nut hex 1/2", 1, &plain).list(),
        ];
        let account = settle(&Job::default(), &lists).expect("settles");
        assert_eq!(
            stop(&Job::default(), &account),
            "The build stops at stage 1 of 2."
        );
        let said = [0, 1].map(|at| {
            (
                super::super::stage(&account, at),
                numbered_stage(&account, at),
            )
        });
        let said = said.each_ref().map(|(a, b)| [a.as_str(), b.as_str()]);
        assert_eq!(said, [["stage 1", "1"], ["stage 2, rails", "2 rails"]]);
    }

    /// What nobody counted may lack in all kits.
    #[test]
    fn whole_kits_as_far_as_known() {
        for (rails, expected) in [
            (Some(16), "Whole kits: 1 of 2; the next one stops at hinge."),
            (
                None,
                "Whole kits: at most 1 of 2, since nobody can say of 1 item; the next one stops at hinge.",
            ),
        ] {
            let required = ListOf::required().line("part - rail", 8, &plain);
            let counted = ListOf::counted().line("part - hinge", 7, &plain);
            let counted = match rails {
                Some(rails) => counted.line("part - rail", rails, &plain),
                None => counted,
            };
            let lists = [
                required.line("part - hinge", 4, &plain).list(),
                counted.list(),
            ];
            let job = Job {
                kits: 2,
                ..Job::default()
            };
            let account = settle(&job, &lists).expect("settles");
            assert_eq!(whole_kits(&job, &account).as_deref(), Some(expected));
        }
    }

    /// Whole kits come first: the verdict speaks of the one after them.
    #[test]
    fn the_kit_after_the_whole_ones_stops() {
        let cases = [
            (13, 4, "Kit 3 of 4 stops at stage 2 of 2, two."),
            (8, 2, "Kit 2 of 2 stops at stage 2 of 2, two."),
            (13, 2, "Every stage is covered."),
        ];
        for (counted, kits, expected) in cases {
            let lists = [
                ListOf::required()
                    .line("nut hex 1/2", 2, &at_stage("one"))
                    .line("nut hex 1/2", 3, &at_stage("two"))
                    .list(),
                ListOf::counted()
                    .line("nut hex 1/2", counted, &plain)
                    .list(),
            ];
            let job = Job {
                kits,
                ..Job::default()
            };
            let account = settle(&job, &lists).expect("settles");
            assert_eq!(stop(&job, &account), expected);
        }
    }
}
