//! The claim, ready to be written: heading lines, tables, cautions and signatures.

use super::{table::Table, tables::Writing};
use crate::{
    kit::{Job, List, draft},
    report::wording,
    settle::{Account, Claim, claim::Cause},
    words::count,
};

const SLIP: &str = "Packing slip";

/// Heading lines to be filled in by hand, where the job file has none.
const HEADING: [&str; 10] = [
    "From",
    "To",
    "Order",
    "Kit",
    SLIP,
    "Received",
    "Claim window",
    "Remedy wanted",
    "Ship to",
    "Needed by",
];

const SIGNATURES: [[&str; 2]; 2] = [
    ["Claimed by", "Date and signature"],
    ["For the kit maker", "Date and signature"],
];

/// Beside those of every report.
const CAUTION: &str = "Keep damaged and surplus pieces apart, with a photo of each as found, until the \
                       kit maker says what becomes of them.";

/// A claim, ready to be written.
pub struct Page {
    pub title: String,
    /// Name and value, in order.
    pub heading: Vec<(String, String)>,
    /// How much is claimed, in one sentence.
    pub summary: String,
    pub tables: Vec<Table>,
    pub cautions: Vec<&'static str>,
    /// Who signs, and where.
    pub signatures: [[&'static str; 2]; 2],
}

impl Page {
    /// Draws up the page; `None` where there is nothing to claim and no heading for a claim.
    pub fn of_job(job: &Job, lists: &[List], account: &Account) -> Option<Page> {
        let claim = Claim::of(job, lists, account);
        let wanted = !claim.claimed.is_empty() || !job.claim.is_empty();
        wanted.then(|| Page::of(job, lists, account, &claim))
    }

    /// Draws up the page, whatever is claimed.
    pub fn of(job: &Job, lists: &[List], account: &Account, claim: &Claim) -> Page {
        let mut heading = vec![(
            "Job".to_owned(),
            format!("{} ({})", job.name, wording::job(job)),
        )];
        match job.claim.is_empty() {
            true => heading.extend(HEADING.map(|name| {
                let known = if name == SLIP {
                    slip_numbers(lists)
                } else {
                    String::new()
                };
                (name.to_owned(), known)
            })),
            false => heading.extend(job.claim.iter().map(|(k, v)| (k.clone(), v.clone()))),
        }
        heading.extend(lists.iter().map(edition));
        let mut tables = Writing {
            job,
            lists,
            account,
            claim,
            number: 0,
        }
        .tables();
        tables.retain(|table| !table.rows.is_empty());
        let [instructions, structural, _, licensed] = wording::CAUTIONS;
        Page {
            title: draft::CLAIM.to_owned(),
            heading,
            summary: summary(claim, account),
            tables,
            cautions: vec![instructions, structural, licensed, CAUTION],
            signatures: SIGNATURES,
        }
    }
}

/// The numbers that the slips bear in their titles.
fn slip_numbers(lists: &[List]) -> String {
    let mut numbers: Vec<&str> = Vec::new();
    for number in lists.iter().filter_map(|list| list.slip_number.as_deref()) {
        if !numbers.contains(&number) {
            numbers.push(number);
        }
    }
    numbers.join(", ")
}

/// A list with its revision and date: the claim stands on these and no others.
fn edition(list: &List) -> (String, String) {
    let mut text = list.file.clone();
    match &list.revision {
        Some(revision) => text.push_str(&format!(", revision {revision}")),
        None => text.push_str(", no revision found"),
    }
    match &list.date {
        Some(date) => text.push_str(&format!(", dated {date}")),
        None => text.push_str(", no date found"),
    }
    (format!("List: {}", list.role), text)
}

/// How much is claimed; what is back-ordered is asked after and not claimed again.
fn summary(claim: &Claim, account: &Account) -> String {
    let [missing, damaged, to_follow, not_received] = [
        Cause::Missing,
        Cause::Damaged,
        Cause::BackOrdered,
        Cause::NotReceived,
    ]
    .map(|cause| claim.pieces(cause));
    let parts: Vec<String> = [
        (missing, "missing"),
        (damaged, "damaged"),
        (not_received, "in bags or boxes not received"),
    ]
    .into_iter()
    .filter(|(pieces, _)| *pieces > 0)
    .map(|(pieces, why)| format!("{pieces} {why}"))
    .collect();
    let mut summary = match parts.as_slice() {
        [] => "Nothing is claimed.".to_owned(),
        _ => format!(
            "Claimed: {}: {}.",
            count(missing + damaged + not_received, "piece"),
            parts.join(", ")
        ),
    };
    if to_follow > 0 {
        summary.push_str(&format!(" Back-ordered: {}.", count(to_follow, "piece")));
    }
    if let [first, later @ ..] = account.parcels.as_slice() {
        let closed: u64 = later.iter().map(|parcel| parcel.closed).sum();
        summary.push_str(&format!(
            " Of {} asked for when the first parcel had come, later ones closed {closed}.",
            count(first.open, "piece")
        ));
    }
    summary
}
