//! The machine-readable outputs. Field names and meanings are a promise: add, don't rename.

mod array;
mod bin;
mod fields;
mod finding;
mod item;
mod line;
mod parcel;
mod source;
mod stock;

use std::{
    io::{self, Write},
    sync::LazyLock,
};

use serde::Serialize;

pub use item::items;
pub use line::lines;

use crate::{
    audit::Audit,
    bins::Layout,
    kit::{Job, List},
    report::wording,
    settle::{Account, StageAccount, Totals, Verdict},
};
use array::write_array;
use bin::{BesideObject, beside, bin_object};
use finding::{findings, line_addresses, question};
use item::item_object;
use parcel::{ComparedObject, ParcelObject, compared, parcels};
use source::{SourceObject, source_object};
use stock::{BuyObject, to_buy};

#[derive(Serialize)]
struct StageObject<'a> {
    name: &'a str,
    required: u64,
    covered: u64,
    substituted: u64,
    from_stock: u64,
    short: u64,
    built: bool,
    /// The list's own spares, which no stage waits for.
    spare: bool,
    ready: Verdict,
    reasons: &'a [String],
}

/// An account as far as its items.
#[derive(Serialize)]
struct BeforeItems<'a> {
    job: &'a str,
    kits: u64,
    verdict: Verdict,
    reasons: &'a [String],
    /// Options that lines belong to, and that are neither taken nor refused.
    options_open: Vec<&'a str>,
    sources: Vec<SourceObject<'a>>,
    stages: Vec<StageObject<'a>>,
}

/// An account between its items and its bins.
#[derive(Serialize)]
struct BeforeBins<'a> {
    totals: Totals,
    stops_at: Option<&'a str>,
    /// Kits that are whole as far as it is known, and the ids of the items that the next one lacks.
    whole_kits: u64,
    next_kit_lacks: Vec<&'a str>,
    /// The ids of the items of which nobody can say: where there are any, there may be fewer whole kits.
    whole_kits_open: Vec<&'a str>,
}

/// An account between its bins and the audit.
#[derive(Serialize)]
struct AfterBins<'a, F, L, P, O> {
    beside_trays: Vec<BesideObject<'a>>,
    /// About the job as a whole.
    findings: F,
    /// Where there are several: each delivery, and what it closed of the claim.
    parcels: Vec<ParcelObject<'a>>,
    /// Lists held against the required one.
    compared: Vec<ComparedObject<'a>>,
    not_chosen: L,
    no_demand: L,
    /// `null` where no stock list was given.
    put_back: Option<P>,
    to_buy: Vec<BuyObject<'a>>,
    /// What a person should know of the rules on substitutes.
    rule_notes: &'a [String],
    /// `null` where what is left was not counted.
    left_over: Option<O>,
}

/// Writes a settled job as one object. The bins are laid out while the items are written.
///
/// # Errors
/// What the writer reports.
pub fn account(
    job: &Job,
    lists: &[List],
    account: &Account,
    layout: &LazyLock<Layout, impl FnOnce() -> Layout + Send>,
    audit: &Audit,
    mut out: impl Write,
) -> io::Result<()> {
    rayon::in_place_scope(|scope| {
        scope.spawn(|_| _ = LazyLock::force(layout));
        out.write_all(b"{")?;
        let before_items = BeforeItems {
            job: &job.name,
            kits: job.kits,
            verdict: account.verdict,
            reasons: &account.reasons,
            options_open: wording::open_options(job, lists, account)
                .into_keys()
                .collect(),
            sources: lists.iter().map(source_object).collect(),
            stages: account.stages.iter().map(stage_object).collect(),
        };
        write_fields(&before_items, &mut out)?;
        out.write_all(b",\"items\":")?;
        let item = |at: usize| item_object(job, lists, account, &account.items[at]);
        write_array(account.items.len(), item, &mut out)
    })?;
    let (whole_kits, stops) = account.whole_kits(job.kits);
    let lacks = stops.into_iter();
    let before_bins = BeforeBins {
        totals: account.totals,
        stops_at: account.stops_at.map(|s| account.stages[s].name.as_str()),
        whole_kits,
        next_kit_lacks: lacks.map(|at| account.items[at].id.as_str()).collect(),
        whole_kits_open: wording::open_items(account)
            .map(|item| item.id.as_str())
            .collect(),
    };
    out.write_all(b",")?;
    write_fields(&before_bins, &mut out)?;
    out.write_all(b",\"bins\":")?;
    let bin = |at: usize| bin_object(account, layout, at);
    write_array(layout.bins.len(), bin, &mut out)?;
    let put_back = account.put_back.as_ref();
    let left_over = account.left_over.as_ref();
    let after_bins = AfterBins {
        beside_trays: beside(account, layout),
        findings: findings(lists, &account.findings),
        parcels: parcels(lists, account),
        compared: compared(lists, account),
        not_chosen: line_addresses(lists, &account.not_chosen),
        no_demand: line_addresses(lists, &account.no_demand),
        put_back: put_back.map(|of| stock::put_back(lists, account, of)),
        to_buy: to_buy(account),
        rule_notes: &account.rule_notes,
        left_over: left_over.map(|of| stock::left_over(lists, account, of)),
    };
    out.write_all(b",")?;
    write_fields(&after_bins, &mut out)?;
    // What the required lists ask, whatever was shipped.
    out.write_all(b",\"audit\":")?;
    let question = |at: usize| question(lists, &audit.findings[at]);
    write_array(audit.findings.len(), question, &mut out)?;
    out.write_all(b"}\n")?;
    out.flush()
}

/// Writes the fields of an object without its braces: one object is written piece by piece, with the long
/// arrays in between.
fn write_fields(object: &impl Serialize, out: &mut impl Write) -> io::Result<()> {
    let text = serde_json::to_vec(object)?;
    let fields = text
        .strip_prefix(b"{")
        .and_then(|text| text.strip_suffix(b"}"));
    out.write_all(fields.unwrap_or(&text))
}

fn stage_object(stage: &StageAccount) -> StageObject<'_> {
    StageObject {
        name: &stage.name,
        required: stage.required,
        covered: stage.covered,
        substituted: stage.substituted,
        from_stock: stage.from_stock,
        short: stage.short,
        built: stage.built,
        spare: stage.spare,
        ready: stage.ready,
        reasons: &stage.reasons,
    }
}

#[cfg(test)]
mod tests {
    use serde_json::Value;

    use super::*;
    use crate::report::fixture;

    fn keys(object: &Value) -> Vec<&str> {
        object
            .as_object()
            .unwrap()
            .keys()
            .map(String::as_str)
            .collect()
    }

    /// The names promised of every object stand in it.
    #[track_caller]
    fn promised(object: &Value, names: &[&str]) {
        let keys = keys(object);
        for name in names {
            assert!(keys.contains(name), "{name} is missing of {keys:?}");
        }
    }

    const OF_AN_ITEM: [&str; 11] = [
        "kind",
        "style",
        "diameter",
        "thread",
        "length",
        "unit",
        "grade",
        "finish",
        "part_number",
        "mass_g",
        "wrench",
    ];

    #[test]
    fn a_line_has_the_promised_fields() {
        let f = fixture::footbridge();
        let mut out = Vec::new();
        lines(&f.lists, &mut out).unwrap();
        let text = String::from_utf8(out).unwrap();
        let array: Vec<Value> = serde_json::from_str(&text).unwrap();
        assert_eq!(array.len(), 8);
        // One line of output a line of a list, and the two brackets.
        assert_eq!(text.lines().count(), 10);
        for line in &array {
            promised(line, &OF_AN_ITEM);
            promised(
                line,
                &[
                    "file", "sheet", "row", "text", "status", "quantity", "stage", "place", "use",
                    "option", "torque", "doubts",
                ],
            );
        }
        let bolt = &array[0];
        assert_eq!(bolt["file"], "parts.xlsx");
        assert_eq!(bolt["sheet"], "Stages");
        assert_eq!(bolt["row"], 8);
        assert_eq!(bolt["text"], "Sills | 1/2 x 6 hex bolt | 8");
        assert_eq!(bolt["status"], "read");
        assert_eq!(bolt["quantity"], 8);
        assert_eq!(bolt["kind"], "bolt");
        assert_eq!(bolt["diameter"], "1/2");
        assert_eq!(bolt["length"], "6");
        assert_eq!(bolt["unit"], "in");
        assert_eq!(bolt["use"], "new");
        assert_eq!(bolt["thread"], Value::Null);
        let unsure = &array[3];
        assert_eq!(unsure["status"], "check");
        assert_eq!(unsure["quantity"], Value::Null);
        assert_eq!(unsure["part_number"], "FB-7");
        assert_eq!(unsure["doubts"][0], "no quantity stated: not summed");
        let aside = &array[4];
        assert_eq!(aside["status"], "aside");
        assert_eq!(aside["kind"], Value::Null);
        assert_eq!(
            aside["doubts"][0],
            "no item found: no size and no part number"
        );
        assert_eq!(array[5]["sheet"], Value::Null);
    }

    #[test]
    fn no_line_is_an_empty_array() {
        let mut out = Vec::new();
        lines(&[], &mut out).unwrap();
        assert_eq!(serde_json::from_slice::<Vec<Value>>(&out).unwrap().len(), 0);
    }

    #[test]
    fn an_account_has_the_promised_fields() {
        let f = fixture::footbridge();
        let mut out = Vec::new();
        account(
            &f.job,
            &f.lists,
            &f.account,
            &LazyLock::new(|| f.layout.clone()),
            &f.audit,
            &mut out,
        )
        .unwrap();
        let object: Value = serde_json::from_slice(&out).unwrap();
        promised(
            &object,
            &[
                "sources", "stages", "items", "totals", "stops_at", "bins", "audit",
            ],
        );
        promised(
            &object["sources"][0],
            &["file", "role", "rows", "read", "check", "aside", "other"],
        );
        let sums = ["required", "covered", "substituted", "from_stock", "short"];
        promised(&object["stages"][0], &sums);
        promised(&object["stages"][0], &["name", "ready"]);
        let item = &object["items"][0];
        promised(item, &OF_AN_ITEM);
        promised(item, &sums);
        promised(
            item,
            &[
                "id", "text", "shipped", "counted", "damaged", "extra", "findings",
            ],
        );
        promised(&item["findings"][0], &["finding", "pieces", "lines"]);
        promised(&item["findings"][0]["lines"][0], &["file", "sheet", "rows"]);
        promised(&object["totals"], &sums);
        promised(
            &object["totals"],
            &[
                "shipped",
                "counted",
                "damaged",
                "pool",
                "returned",
                "used",
                "used_as_substitute",
                "discarded",
                "extra",
            ],
        );
        promised(
            &object["bins"][0],
            &[
                "tray",
                "row",
                "column",
                "stage",
                "item",
                "pieces",
                "volume_used",
            ],
        );
        assert_eq!(object["stops_at"], "Rails");
        assert_eq!(object["stages"][1]["ready"], "no");
        assert_eq!(object["stages"][2]["ready"], "can't say");
        assert_eq!(object["sources"][0]["role"], "required");
        assert_eq!(item["counted"], 20);
        assert_eq!(item["findings"][0]["finding"], "box is short");
        assert_eq!(item["findings"][0]["lines"][0]["file"], "slip.csv");
        assert_eq!(
            item["findings"][0]["lines"][0]["rows"],
            serde_json::json!([[2, 2]])
        );
        assert_eq!(object["items"][1]["counted"], Value::Null);
        assert_eq!(object["items"][1]["part_number"], "FB-7");
        assert_eq!(object["bins"][1]["item"], "P1");
    }
}
