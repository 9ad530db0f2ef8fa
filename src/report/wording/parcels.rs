//! What each parcel brought.

use crate::{
    kit::List,
    settle::{Account, parcels::Change},
    words::count,
};

/// A parcel: `parcel 2 (slip-2.csv, 30 April 2026)`.
fn parcel(lists: &[List], account: &Account, index: usize) -> String {
    let of = &account.parcels[index];
    let files = of.slips.iter().map(|&at| lists[at].file.clone());
    let words: Vec<String> = files.chain(of.date.clone()).collect();
    format!("parcel {} ({})", index + 1, words.join(", "))
}

/// What each parcel brought and closed of the claim, a sentence each; nothing where all came in one.
pub fn parcels(lists: &[List], account: &Account) -> Vec<String> {
    let sentence = |index: usize| {
        let of = &account.parcels[index];
        let name = parcel(lists, account, index);
        let containers = match of.containers {
            0 => "",
            1 => " and 1 bag or box",
            n => &format!(" and {n} bags or boxes"),
        };
        let mut text = format!(
            "P{}: {}{containers} on the slip",
            &name[1..],
            count(of.pieces, "piece")
        );
        if !of.counts.is_empty() {
            let files: Vec<&str> = of
                .counts
                .iter()
                .map(|&at| lists[at].file.as_str())
                .collect();
            text.push_str(&format!(", counted in {}", files.join(", ")));
        }
        match index.checked_sub(1) {
            None => text.push_str(&format!("; {} claimed when it had come", of.open)),
            Some(before) => {
                text.push_str(&format!(
                    "; it closed {} of {} claimed",
                    of.closed, account.parcels[before].open
                ));
                if of.not_settled > 0 {
                    text.push_str(&format!(", {} not settled", of.not_settled));
                }
                if of.opened > 0 {
                    text.push_str(&format!(", {} more claimed since", of.opened));
                }
                text.push_str(&format!(", {} still open", of.open));
            }
        }
        text
    };
    (0..account.parcels.len()).map(sentence).collect()
}

/// What a later parcel did to the claim of one item: `8 of 8 claimed are closed, 0 still open`.
pub fn change(change: &Change) -> String {
    let not_settled = match change.not_settled {
        0 => String::new(),
        n => format!(", {n} not settled"),
    };
    match change.opened {
        0 => format!(
            "{} of {} claimed closed{not_settled}, {} still open",
            change.closed, change.before, change.open
        ),
        opened => format!("{opened} more claimed since, {} open", change.open),
    }
}
