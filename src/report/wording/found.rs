//! What was found of an item, of the job, and of the list itself.

use indexmap::IndexMap;

use super::{addresses, doubts, not_known, stage, stage_of};
use crate::{
    audit::AuditFinding,
    kit::List,
    settle::{Account, Finding, FindingKind, ItemAccount},
};

/// A finding in a sentence: `box is short 4: the slip lists 24, the count found 20`.
pub fn finding(finding: &Finding) -> String {
    match (finding.finding, finding.note.as_str()) {
        (kind, "") => format!("{kind} {}", finding.pieces),
        // The sentence says what it is.
        (FindingKind::MayBeSame, note) => note.to_owned(),
        (kind, note) => format!("{kind} {}: {note}", finding.pieces),
    }
}

/// A finding about the job as a whole, with what it rests on.
pub fn job_finding(lists: &[List], finding: &Finding) -> String {
    let text = match finding.note.as_str() {
        "" => finding.finding.to_string(),
        note => note.trim_end_matches('.').to_owned(),
    };
    match addresses(lists, &finding.evidence).as_str() {
        "" => text,
        addresses => format!("{text} ({addresses})"),
    }
}

/// What a stage takes from other stages' bags: `take 4 from bag 7`.
pub fn draws(item: &ItemAccount, stage: usize) -> Vec<String> {
    let draws = item.draws.iter().filter(|draw| draw.stage == stage);
    draws
        .map(|draw| format!("take {} from {}", draw.pieces, draw.bag))
        .collect()
}

/// What was found about an item, and what is in doubt, a line each.
pub fn found(item: &ItemAccount) -> String {
    let words: Vec<String> = item.findings.iter().map(finding).collect();
    let unsaid = not_known(item).map(str::to_owned);
    unsaid
        .into_iter()
        .chain(words)
        .chain(
            doubts(item)
                .into_iter()
                .map(|doubt| format!("check: {doubt}")),
        )
        .collect::<Vec<_>>()
        .join("\n")
}

/// The same in a few words: `box is short 8, wrong size packed 8`.
pub fn found_briefly(item: &ItemAccount) -> String {
    let found = item.findings.iter();
    let words = found.map(|f| match (f.finding, f.note.split_once(": if")) {
        (FindingKind::MayBeSame, Some((other, _))) => other.to_owned(),
        (FindingKind::CountedTwice, _) => match f.note.split_once(';') {
            Some((rows, _)) => format!("{}: {rows}", f.finding),
            None => f.finding.to_string(),
        },
        _ => format!("{} {}", f.finding, f.pieces),
    });
    // A figure may be unread on the slip and in a count, too.
    let words = words.collect::<indexmap::IndexSet<String>>();
    let unsaid = not_known(item).map(str::to_owned);
    unsaid
        .into_iter()
        .chain(words)
        .chain(doubts(item))
        .collect::<Vec<_>>()
        .join(", ")
}

/// Lines for a job file, under `[names]`, that join items which may be the same by other words. Where a name of a slip
/// or a count may be of several, all of them stand as comments: none is likelier.
pub fn names_to_join(account: &Account) -> Vec<String> {
    let quoted = |at: usize| {
        let name = account.items[at].called().to_owned();
        toml::Value::String(name).to_string()
    };
    // Two sizes under one number are no two names of one piece.
    let sizes = |at: usize| {
        let item = &account.items[at].item;
        item.diameter.map(|diameter| (diameter, item.length))
    };
    let two_sizes = |&&(wanted, other): &&(usize, usize)| match (sizes(wanted), sizes(other)) {
        (Some((thick, long)), Some((other_thick, other_long))) => {
            thick != other_thick || long.is_some() && other_long.is_some() && long != other_long
        }
        _ => false,
    };
    let mut of_others: IndexMap<usize, Vec<usize>> = IndexMap::new();
    for &(wanted, other) in account.may_be_same.iter().filter(|pair| !two_sizes(pair)) {
        of_others.entry(other).or_default().push(wanted);
    }
    let lines = of_others.into_iter().flat_map(|(other, wanted)| {
        let mark = if wanted.len() > 1 { "# " } else { "" };
        let line = move |at: usize| format!("{mark}{} = {}", quoted(other), quoted(at));
        wanted.into_iter().map(line).collect::<Vec<_>>()
    });
    lines.collect()
}

/// A question on the list in one line: `stage 3, Cross frames, frame to girder: 40 bolts 1/2 and 32
/// nuts 1/2. Are 8 nuts missing?`
pub fn question(account: &Account, finding: &AuditFinding) -> String {
    let mut at: Vec<String> = Vec::new();
    match stage_of(account, &finding.stage) {
        Some(index) => at.push(stage(account, index)),
        None if finding.stage.is_empty() => {}
        None => at.push(finding.stage.clone()),
    }
    if !finding.place.is_empty() {
        at.push(finding.place.clone());
    }
    let at = match at.is_empty() {
        true => String::new(),
        false => format!("{}: ", at.join(", ")),
    };
    format!("{at}{}. {}", finding.found, finding.question)
}
