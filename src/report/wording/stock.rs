//! What serves in place of a missing piece, what is bought, what is left.

use super::stage;
use crate::{
    kit::{Job, SubstituteRule},
    settle::{Account, Buy, ItemAccount, LeftOver, StandIn},
    words::count,
};

/// What serves in place of the kit's own pieces, in one sentence; `None` where nothing does.
pub fn filled(account: &Account) -> Option<String> {
    let t = &account.totals;
    let told: Vec<String> = [
        (t.substituted, "substituted under the job's rules"),
        (t.from_stock, "from stock, to be put back"),
    ]
    .into_iter()
    .filter(|(pieces, _)| *pieces > 0)
    .map(|(pieces, how)| format!("{} {how}", count(pieces, "piece")))
    .collect();
    (!told.is_empty()).then(|| format!("Filled so far: {}.", told.join(", ")))
}

/// What serves under which rule, and who approved it: `5/8-11 x 6 hex bolt, from the kit; approved by
/// J. Marl; still claimed`.
pub fn substitute(stand_in: &StandIn, rule: &SubstituteRule) -> String {
    let from = match stand_in.item {
        Some(_) => "from the kit",
        None => "from stock, to be put back",
    };
    let claim = match rule.closes_claim {
        true => "held for delivered, not claimed",
        false => "still claimed",
    };
    format!(
        "{}, {from}; approved by {}; {claim}",
        stand_in.text, rule.approved_by
    )
}

/// What serves in place of an item's own pieces in one stage.
pub fn stand_ins(job: &Job, item: &ItemAccount, stage: usize) -> Vec<String> {
    let of_stage = item.stand_ins.iter().filter(|of| of.stage == stage);
    of_stage.map(|of| stand_in(job, of)).collect()
}

/// What serves in place of an item's own pieces, by the job's rules or from stock.
pub fn stand_in(job: &Job, stand_in: &StandIn) -> String {
    let rule = stand_in.rule.and_then(|rule| job.substitutes.get(rule));
    match rule {
        Some(rule) => format!(
            "{} of {} ({})",
            stand_in.pieces,
            substitute(stand_in, rule),
            rule.address()
        ),
        None => format!("{} from stock, to be put back", stand_in.pieces),
    }
}

/// What to buy of an item: `2 packs of 25`, else `48 pieces`.
pub fn to_buy(buy: &Buy) -> String {
    match (buy.packs(), buy.pack) {
        (Some(packs), Some(pack)) => format!("{} of {pack}", count(packs, "pack")),
        _ => count(buy.pieces(), "piece"),
    }
}

/// What a leftover says of the build.
pub fn left_over(account: &Account, of: &LeftOver) -> String {
    let stages: Vec<String> = of.stages.iter().map(|at| stage(account, *at)).collect();
    match (of.item, of.found, of.more(), of.fewer()) {
        (None, ..) => "No list of this job has it.".to_owned(),
        (_, None, ..) => "Nobody counted what is left of it.".to_owned(),
        (.., more @ 1.., _) if !of.counted_before => format!(
            "{} too many; it was not counted before building, so that no joint is in question.",
            count(more, "piece")
        ),
        (.., more @ 1.., _) if stages.is_empty() => {
            format!("{} too many; no stage uses it.", count(more, "piece"))
        }
        (.., more @ 1.., _) => format!(
            "▲ {} could be without one: check {}.",
            match more {
                1 => "1 joint".to_owned(),
                _ => format!("up to {more} joints"),
            },
            stages.join("; ")
        ),
        (.., fewer @ 1..) => format!(
            "{} too few: lost, or used where another belongs.",
            count(fewer, "piece")
        ),
        _ => "As expected.".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two nuts too many mean two joints without one only where the kit was counted before building.
    #[test]
    fn leftovers_accuse_joints_only_after_a_count() {
        let account = crate::report::fixture::footbridge().account;
        let mut of = LeftOver {
            item: Some(0),
            text: String::new(),
            id: String::new(),
            expected: 4,
            found: Some(6),
            stages: vec![1],
            counted_before: true,
            evidence: crate::settle::Rows::default(),
        };
        assert_eq!(
            left_over(&account, &of),
            "▲ up to 2 joints could be without one: check stage 2, Rails."
        );
        of.counted_before = false;
        assert_eq!(
            left_over(&account, &of),
            "2 pieces too many; it was not counted before building, so that no joint is in question."
        );
        of.found = Some(3);
        assert_eq!(
            left_over(&account, &of),
            "1 piece too few: lost, or used where another belongs."
        );
    }
}
