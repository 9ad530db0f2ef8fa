//! How addresses, states and counts are worded: the same in every output.

mod answer;
mod bins;
mod doubts;
mod found;
mod options;
mod parcels;
mod rows;
mod sheets;
mod stage;
mod stock;

use crate::{
    kit::{Job, OptionRule},
    settle::Totals,
    words::count,
};

pub use self::{
    answer::{
        cannot_say, known_short, known_short_in, not_known, nothing_seen, open_items, readiness,
        shortage, shortage_told, stages_short, standing, stop, verdict, whole_kits,
    },
    bins::{
        Places, apart, beside, bin, large_and_small, later_stages, neighbours, row_letters, tray,
    },
    doubts::{doubts, doubts_summed_up},
    found::{draws, finding, found, found_briefly, job_finding, names_to_join, question},
    options::{open_options, without_options},
    parcels::{change, parcels},
    rows::{address, addresses, sources_of, why},
    sheets::{compared, sheets},
    stage::{named as stage_named, numbered_stage, stage, stage_name, stage_of, to_stages},
    stock::{filled, left_over, stand_in, stand_ins, substitute, to_buy},
};

/// The cautions that every report carries.
pub const CAUTIONS: [&str; 4] = [
    "Where the kit maker's instructions differ from this report, follow the instructions.",
    "Do not assemble past a stage with missing or substituted structural hardware without the kit maker's word.",
    "Torque figures, where a list calls them, are repeated here as called; they are not instructions of this report.",
    "Electrical connections, lifting, and work over water or at height follow local code and licensed trades.",
];

/// What a count is called where nobody has counted, which is not zero.
pub const NOT_COUNTED: &str = "not counted";

/// What stands in place of pieces short where nobody can say that they are: see [`known_short`].
pub const CANNOT_SAY: &str = "can't say";

/// Both conservation sums.
pub fn sums(t: &Totals) -> [String; 2] {
    [
        format!(
            "required {} = covered {} + substituted {} + from stock {} + short {}",
            t.required, t.covered, t.substituted, t.from_stock, t.short
        ),
        format!(
            "on hand {} + returned {} = used {} + used as substitute {} + discarded {} + extra {}",
            t.pool, t.returned, t.used, t.used_as_substitute, t.discarded, t.extra
        ),
    ]
}

/// The job in one line: kits and options.
pub fn job(job: &Job) -> String {
    let mut parts = vec![count(job.kits, "kit")];
    parts.extend(job.with.iter().map(|name| format!("with {name}")));
    parts.extend(job.without.iter().map(|name| format!("without {name}")));
    parts.join(", ")
}

/// `with handrail`, `without handrail`.
pub fn option(rule: &OptionRule) -> String {
    let word = if rule.with { "with" } else { "without" };
    format!("{word} {}", rule.name)
}

/// Bags after the word for them, `bag A, B`; names that say what they are stand alone: `Box 2`.
pub fn bags(lead: &str, names: &str) -> String {
    let said = names.to_lowercase();
    let says_what = ["bag", "box", "carton", "crate"];
    match says_what.iter().any(|word| said.contains(word)) {
        true => names.to_owned(),
        false => format!("{lead} {names}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_say_what_they_are_need_no_word_before_them() {
        assert_eq!(bags("bag", "A, B"), "bag A, B");
        assert_eq!(bags("Bag", "Box 2"), "Box 2");
    }
}
