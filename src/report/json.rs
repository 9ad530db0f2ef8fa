//! The machine-readable outputs. Field names and meanings are a promise: add, don't rename.

use std::io::{self, Write};

use rayon::prelude::*;
use serde::{
    Serialize, Serializer,
    ser::{Error as _, SerializeSeq as _},
};
use serde_json::value::{RawValue, to_raw_value};

use super::{
    why::{self, WhyObject},
    wording,
};
use crate::{
    audit::{Audit, Question, Weight},
    bins::{Layout, Likeness, NoBin},
    hardware::{self, Grade, Item, Kind, Style, Unit, grade::Finish},
    kit::{
        AgainKind, Difference, Job, LineStatus, List, MassOf, Role, RowTally, SheetRead, Usage,
        What,
    },
    settle::{Account, Evidence, FindingKind, ItemAccount, LineRef, Share, Totals, Verdict},
};

/// What an item is, as far as its lines state it.
#[derive(Serialize)]
struct ItemFields {
    kind: Option<Kind>,
    style: Option<Style>,
    diameter: Option<String>,
    thread: Option<String>,
    length: Option<String>,
    unit: Option<&'static str>,
    grade: Option<Grade>,
    finish: Option<Finish>,
}

impl ItemFields {
    fn of(item: &Item) -> ItemFields {
        let unit: Option<Unit> = item
            .length
            .map(|l| l.unit())
            .or(item.diameter.map(|d| d.unit()));
        ItemFields {
            kind: item.kind,
            style: item.style,
            diameter: item.diameter.map(|d| d.to_string()),
            thread: item.thread.map(|t| t.to_string()),
            length: item.length.map(|l| l.to_string()),
            unit: unit.map(Unit::as_str),
            grade: item.grade,
            finish: item.finish,
        }
    }

    const NONE: ItemFields = ItemFields {
        kind: None,
        style: None,
        diameter: None,
        thread: None,
        length: None,
        unit: None,
        grade: None,
        finish: None,
    };
}

/// What the standard tables say of an item.
#[derive(Serialize)]
struct TableFields {
    /// Grams of one piece; `None` where the tables do not reach.
    mass_g: Option<f64>,
    /// Across flats, written as a size.
    wrench: Option<String>,
}

impl TableFields {
    fn of(item: Option<&Item>) -> TableFields {
        TableFields {
            // To the milligram: the tables tell no more.
            mass_g: item
                .and_then(hardware::mass)
                .map(|mass| (mass.0 * 1000.0).round() / 1000.0),
            wrench: item
                .and_then(hardware::wrench)
                .map(|wrench| wrench.to_string()),
        }
    }
}

/// One line of a list.
#[derive(Serialize)]
struct LineObject<'a> {
    file: &'a str,
    sheet: Option<&'a str>,
    row: u32,
    text: &'a str,
    status: LineStatus,
    quantity: Option<u64>,
    #[serde(flatten)]
    item: &'a ItemFields,
    /// With the first item of its row.
    comes_with: bool,
    part_number: Option<&'a str>,
    stage: Option<&'a str>,
    place: Option<&'a str>,
    r#use: Usage,
    option: Option<String>,
    torque: Option<&'a str>,
    sequence: Option<&'a str>,
    /// What one piece weighs as the list states it, in grams; `null` where it does not, or not of what.
    stated_mass_g: Option<f64>,
    #[serde(flatten)]
    tables: TableFields,
    doubts: Vec<String>,
    id: Option<&'a str>,
    role: Role,
    places: u32,
    packs: Option<u64>,
    bag: Option<&'a str>,
    r#box: Option<&'a str>,
    damaged: u64,
    back_ordered: u64,
    /// For a line about a bag or box as such.
    received: Option<bool>,
    /// Only where it was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    why: Option<WhyObject<'a>>,
}

/// Writes one array, one object a line of the lists, in order. Lines are written as they come, so
/// that a list of any length costs no more memory than its lines.
///
/// # Errors
/// What the writer reports.
pub fn lines(lists: &[List], mut out: impl Write) -> io::Result<()> {
    out.write_all(b"[")?;
    let mut first = true;
    for list in lists {
        let readings: Vec<(ItemFields, String)> = list
            .readings
            .iter()
            .map(|r| (ItemFields::of(&r.item), r.item.id()))
            .collect();
        for (at, line) in list.lines.iter().enumerate() {
            out.write_all(if first { b"\n" } else { b",\n" })?;
            first = false;
            let placement = list.placement_of(line);
            let reading = list.reading_of(line);
            let (fields, id) = match line.what {
                What::Item(index) => {
                    let (fields, id) = &readings[index as usize];
                    (fields, Some(id.as_str()))
                }
                _ => (&ItemFields::NONE, None),
            };
            let object = LineObject {
                file: &list.file,
                sheet: list.sheets[usize::from(line.sheet)].name.as_deref(),
                row: line.row,
                text: &list.text_of(line),
                status: list.status_of(line),
                quantity: line.quantity,
                item: fields,
                comes_with: reading.is_some_and(|r| r.comes_with),
                part_number: reading.and_then(|r| number_of(&r.item, r.part_number.as_deref())),
                stage: placement.stage.as_deref(),
                place: placement.place.as_deref(),
                r#use: placement.usage.unwrap_or(Usage::New),
                option: placement.option.as_ref().map(wording::option),
                torque: placement.torque.as_deref(),
                sequence: placement.sequence.as_deref(),
                stated_mass_g: list
                    .reading_of(line)
                    .and_then(|reading| reading.mass)
                    .filter(|mass| mass.of == MassOf::Piece)
                    .map(|mass| mass.milligrams as f64 / 1000.0),
                tables: TableFields::of(reading.map(|r| &r.item)),
                doubts: wording::why(list, line),
                id,
                role: list.role,
                places: line.places,
                packs: line.packs(),
                bag: placement.bag.as_deref(),
                r#box: placement.carton.as_deref(),
                damaged: line.damaged(),
                back_ordered: line.back_ordered(),
                received: match line.what {
                    What::Bag { received } => received,
                    _ => None,
                },
                why: why::words(list, at).map(|(words, _)| WhyObject::of(words)),
            };
            serde_json::to_writer(&mut out, &object)?;
        }
    }
    out.write_all(b"\n]\n")?;
    out.flush()
}

/// The maker's number: the line's own, or the part's.
fn number_of<'a>(item: &'a Item, own: Option<&'a str>) -> Option<&'a str> {
    own.or_else(|| item.part.as_deref()?.number.as_deref())
}

#[derive(Serialize)]
struct SourceObject<'a> {
    file: &'a str,
    role: Role,
    #[serde(flatten)]
    tally: RowTally,
    revision: Option<&'a str>,
    date: Option<&'a str>,
    sheets: Vec<SheetObject<'a>>,
}

/// A sheet of a source.
#[derive(Serialize)]
struct SheetObject<'a> {
    /// `null` for a text file.
    name: Option<&'a str>,
    hidden: bool,
    /// Why its rows were not counted, where they were not.
    passed_over: Option<&'a str>,
    /// Hidden rows among those counted; `null` where the format does not tell.
    hidden_rows: Option<u64>,
    /// Headings of columns that nothing is read of.
    unread_columns: &'a [Box<str>],
    #[serde(flatten)]
    tally: RowTally,
    /// The sheets whose figures it repeats, how many items agree, and those that do not.
    repeats: Option<RepeatsObject<'a>>,
    question: Option<&'a str>,
}

#[derive(Serialize)]
struct RepeatsObject<'a> {
    /// `"totals"` or `"copy"`.
    kind: AgainKind,
    sheets: &'a [String],
    agree: u64,
    differences: &'a [Difference],
}

fn sheet_object(sheet: &SheetRead) -> SheetObject<'_> {
    SheetObject {
        name: sheet.name.as_deref(),
        hidden: sheet.hidden,
        passed_over: sheet.passed_over.as_deref(),
        hidden_rows: sheet.hidden_rows,
        unread_columns: &sheet.unread_columns,
        tally: sheet.tally,
        repeats: sheet.again.as_ref().map(|again| RepeatsObject {
            kind: again.kind,
            sheets: &again.of,
            agree: again.agree,
            differences: &again.differences,
        }),
        question: sheet.question.as_deref(),
    }
}

#[derive(Serialize)]
struct StageObject<'a> {
    name: &'a str,
    required: u64,
    covered: u64,
    substituted: u64,
    from_stock: u64,
    short: u64,
    ready: Verdict,
    reasons: &'a [String],
}

/// An address: runs of rows as pairs of first and last.
#[derive(Serialize)]
struct AddressObject<'a> {
    file: &'a str,
    sheet: Option<&'a str>,
    rows: &'a [(u32, u32)],
}

#[derive(Serialize)]
struct FindingObject<'a> {
    finding: FindingKind,
    pieces: u64,
    lines: Vec<AddressObject<'a>>,
    note: &'a str,
}

/// How an item fares in one stage.
#[derive(Serialize)]
struct ShareObject<'a> {
    stage: &'a str,
    required: u64,
    covered: u64,
    substituted: u64,
    from_stock: u64,
    short: u64,
    /// What it takes from other stages' bags.
    take_from: Vec<DrawObject<'a>>,
}

#[derive(Serialize)]
struct DrawObject<'a> {
    bag: &'a str,
    pieces: u64,
}

#[derive(Serialize)]
struct ItemObject<'a> {
    id: &'a str,
    text: &'a str,
    #[serde(flatten)]
    item: ItemFields,
    part_number: Option<&'a str>,
    #[serde(flatten)]
    tables: TableFields,
    doubts: Vec<String>,
    required: u64,
    /// `null`: no slip was given.
    shipped: Option<u64>,
    /// Good pieces; `null`: not counted.
    counted: Option<u64>,
    damaged: u64,
    covered: u64,
    substituted: u64,
    from_stock: u64,
    short: u64,
    extra: u64,
    findings: Vec<FindingObject<'a>>,
    part_numbers: &'a [String],
    bags: &'a [String],
    to_bring: u64,
    stages: Vec<ShareObject<'a>>,
    /// What serves in its place.
    stand_ins: Vec<StandInObject<'a>>,
}

/// Pieces that serve where the kit's own are lacking.
#[derive(Serialize)]
struct StandInObject<'a> {
    stage: &'a str,
    pieces: u64,
    /// The id of what serves.
    item: &'a str,
    text: &'a str,
    from_stock: bool,
    /// The rule that allows it, for a substitute.
    rule: Option<RuleObject<'a>>,
}

#[derive(Serialize)]
struct RuleObject<'a> {
    file: &'a str,
    row: u32,
    approved_by: &'a str,
    closes_claim: bool,
}

/// What the shop lent, to be put back.
#[derive(Serialize)]
struct PutBackObject<'a> {
    item: &'a str,
    text: &'a str,
    pieces: u64,
    bins: &'a [String],
    stages: Vec<PiecesObject<'a>>,
    lines: Vec<AddressObject<'a>>,
}

#[derive(Serialize)]
struct PiecesObject<'a> {
    stage: &'a str,
    pieces: u64,
}

/// What is left when the build is done.
#[derive(Serialize)]
struct LeftOverObject<'a> {
    item: &'a str,
    text: &'a str,
    expected: u64,
    /// `null`: nobody counted.
    found: Option<u64>,
    /// Stages of whose joints some could be without one.
    stages: Vec<&'a str>,
    counted_before: bool,
    lines: Vec<AddressObject<'a>>,
}

/// What is still lacking when the stock is used up.
#[derive(Serialize)]
struct BuyObject<'a> {
    item: &'a str,
    text: &'a str,
    grade: Option<Grade>,
    finish: Option<Finish>,
    short: u64,
    spares: u64,
    /// Pieces in one pack, and how many packs; `null` where that is not known.
    pack_size: Option<u64>,
    packs: Option<u64>,
}

/// All items of the account. They are written a chunk at a time, each chunk by all processors, so that
/// an account of any length costs no more memory than a chunk.
struct Items<'a> {
    job: &'a Job,
    lists: &'a [List],
    account: &'a Account,
}

impl Serialize for Items<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        const CHUNK: usize = 512;
        let mut items = serializer.serialize_seq(Some(self.account.items.len()))?;
        for chunk in self.account.items.chunks(CHUNK) {
            let written: Vec<Box<RawValue>> = chunk
                .par_iter()
                .map(|item| to_raw_value(&item_object(self.job, self.lists, self.account, item)))
                .collect::<serde_json::Result<_>>()
                .map_err(S::Error::custom)?;
            for item in &written {
                items.serialize_element(item)?;
            }
        }
        items.end()
    }
}

#[derive(Serialize)]
struct BinObject<'a> {
    tray: u32,
    row: u32,
    column: u32,
    stage: &'a str,
    /// The item's id.
    item: &'a str,
    pieces: u64,
    /// Share of the bin's volume that the pieces fill; `null` where volumes are not known.
    volume_used: Option<f64>,
    text: &'a str,
    /// Look-alikes in the bins beside, above and below.
    next_to: Vec<NextTo<'a>>,
}

/// A look-alike in the next bin.
#[derive(Serialize)]
struct NextTo<'a> {
    tray: u32,
    row: u32,
    column: u32,
    item: &'a str,
    why: Likeness,
}

/// Hardware that is laid out beside the trays.
#[derive(Serialize)]
struct BesideObject<'a> {
    stage: &'a str,
    item: &'a str,
    pieces: u64,
    why: NoBin,
    text: &'a str,
}

/// One line that is listed and not counted.
#[derive(Serialize)]
struct LineAddress<'a> {
    file: &'a str,
    sheet: Option<&'a str>,
    row: u32,
}

#[derive(Serialize)]
struct AccountObject<'a> {
    job: &'a str,
    kits: u64,
    verdict: Verdict,
    reasons: &'a [String],
    sources: Vec<SourceObject<'a>>,
    stages: Vec<StageObject<'a>>,
    items: Items<'a>,
    totals: Totals,
    stops_at: Option<&'a str>,
    /// Kits that are whole, and the ids of the items that the next one lacks.
    whole_kits: u64,
    next_kit_lacks: Vec<&'a str>,
    bins: Vec<BinObject<'a>>,
    beside_trays: Vec<BesideObject<'a>>,
    /// About the job as a whole.
    findings: Vec<FindingObject<'a>>,
    /// Where there are several: each delivery, and what it closed of the claim.
    parcels: Vec<ParcelObject<'a>>,
    /// Lists held against the required one.
    compared: Vec<ComparedObject<'a>>,
    not_chosen: Vec<LineAddress<'a>>,
    no_demand: Vec<LineAddress<'a>>,
    /// `null` where no stock list was given.
    put_back: Option<Vec<PutBackObject<'a>>>,
    to_buy: Vec<BuyObject<'a>>,
    /// What a person should know of the rules on substitutes.
    rule_notes: &'a [String],
    /// `null` where what is left was not counted.
    left_over: Option<Vec<LeftOverObject<'a>>>,
    /// What the required lists ask, whatever was shipped.
    audit: Vec<QuestionObject<'a>>,
}

/// One delivery: `open = the open of the one before - closed + opened`.
#[derive(Serialize)]
struct ParcelObject<'a> {
    parcel: usize,
    /// Its slips.
    files: Vec<&'a str>,
    /// The counts made of it.
    counts: Vec<&'a str>,
    date: Option<&'a str>,
    /// On its slips.
    pieces: u64,
    closed: u64,
    opened: u64,
    /// Claimed when it had come.
    open: u64,
    items: Vec<ChangeObject<'a>>,
}

/// How a parcel changed the claim of one item.
#[derive(Serialize)]
struct ChangeObject<'a> {
    /// The item's id.
    item: &'a str,
    text: &'a str,
    before: u64,
    closed: u64,
    opened: u64,
    open: u64,
}

/// How a list that checks the required one agrees with it, by item and stage.
#[derive(Serialize)]
struct ComparedObject<'a> {
    file: &'a str,
    agree: u64,
    differ: u64,
    /// Lines that could not be compared.
    unread: u64,
}

/// A question on the list.
#[derive(Serialize)]
struct QuestionObject<'a> {
    /// As the list names it; `null` where it names none.
    stage: Option<&'a str>,
    place: Option<&'a str>,
    diameter: Option<String>,
    what: Question,
    weight: Weight,
    found: &'a str,
    question: &'a str,
    lines: Vec<AddressObject<'a>>,
}

/// Writes a settled job as one object.
///
/// # Errors
/// What the writer reports.
pub fn account(
    job: &Job,
    lists: &[List],
    account: &Account,
    layout: &Layout,
    audit: &Audit,
    mut out: impl Write,
) -> io::Result<()> {
    let (whole_kits, stops) = account.whole_kits(job.kits);
    let object = AccountObject {
        job: &job.name,
        kits: job.kits,
        verdict: account.verdict,
        reasons: &account.reasons,
        sources: lists
            .iter()
            .map(|list| SourceObject {
                file: &list.file,
                role: list.role,
                tally: list.tally,
                revision: list.revision.as_deref(),
                date: list.date.as_deref(),
                sheets: list.sheets.iter().map(sheet_object).collect(),
            })
            .collect(),
        stages: account
            .stages
            .iter()
            .map(|stage| StageObject {
                name: &stage.name,
                required: stage.required,
                covered: stage.covered,
                substituted: stage.substituted,
                from_stock: stage.from_stock,
                short: stage.short,
                ready: stage.ready,
                reasons: &stage.reasons,
            })
            .collect(),
        items: Items {
            job,
            lists,
            account,
        },
        totals: account.totals,
        whole_kits,
        next_kit_lacks: stops
            .into_iter()
            .map(|at| account.items[at].id.as_str())
            .collect(),
        stops_at: account.stops_at.map(|s| account.stages[s].name.as_str()),
        bins: layout
            .bins
            .iter()
            .enumerate()
            .map(|(index, bin)| BinObject {
                tray: bin.tray,
                row: bin.row,
                column: bin.column,
                stage: &account.stages[bin.stage].name,
                item: &account.items[bin.item].id,
                pieces: bin.pieces,
                // To the thousandth: a plan, no measurement.
                volume_used: bin.volume_used.map(|v| (v * 1000.0).round() / 1000.0),
                text: &account.items[bin.item].text,
                next_to: layout
                    .next_to(index)
                    .map(|(other, why)| NextTo {
                        tray: other.tray,
                        row: other.row,
                        column: other.column,
                        item: &account.items[other.item].id,
                        why,
                    })
                    .collect(),
            })
            .collect(),
        beside_trays: layout
            .beside
            .iter()
            .map(|beside| BesideObject {
                stage: &account.stages[beside.stage].name,
                item: &account.items[beside.item].id,
                pieces: beside.pieces,
                why: beside.why,
                text: &account.items[beside.item].text,
            })
            .collect(),
        findings: findings(lists, &account.findings),
        parcels: parcels(lists, account),
        compared: account
            .compared
            .iter()
            .map(|of| ComparedObject {
                file: &lists[of.list].file,
                agree: of.agree,
                differ: of.differ,
                unread: of.unread,
            })
            .collect(),
        not_chosen: line_addresses(lists, &account.not_chosen),
        no_demand: line_addresses(lists, &account.no_demand),
        put_back: account.put_back.as_ref().map(|put_back| {
            let objects = put_back.iter().map(|lent| PutBackObject {
                item: &lent.id,
                text: &lent.text,
                pieces: lent.pieces,
                bins: &lent.bins,
                stages: lent
                    .stages
                    .iter()
                    .map(|(stage, pieces)| PiecesObject {
                        stage: &account.stages[*stage].name,
                        pieces: *pieces,
                    })
                    .collect(),
                lines: addresses(lists, &lent.evidence),
            });
            objects.collect()
        }),
        to_buy: account
            .to_buy
            .iter()
            .map(|buy| {
                let item = &account.items[buy.item];
                BuyObject {
                    item: &item.id,
                    text: &item.text,
                    grade: item.item.grade,
                    finish: item.item.finish,
                    short: buy.short,
                    spares: buy.spares,
                    pack_size: buy.pack,
                    packs: buy.packs(),
                }
            })
            .collect(),
        rule_notes: &account.rule_notes,
        left_over: account.left_over.as_ref().map(|left| {
            let objects = left.iter().map(|of| LeftOverObject {
                item: &of.id,
                text: &of.text,
                expected: of.expected,
                found: of.found,
                stages: of
                    .stages
                    .iter()
                    .map(|stage| account.stages[*stage].name.as_str())
                    .collect(),
                counted_before: of.counted_before,
                lines: addresses(lists, &of.evidence),
            });
            objects.collect()
        }),
        audit: questions(lists, audit),
    };
    serde_json::to_writer(&mut out, &object)?;
    out.write_all(b"\n")?;
    out.flush()
}

/// Writes some items of a settled job as one array, each as it stands in the account.
///
/// # Errors
/// What the writer reports.
pub fn items(
    job: &Job,
    lists: &[List],
    account: &Account,
    items: &[&ItemAccount],
    mut out: impl Write,
) -> io::Result<()> {
    let objects: Vec<ItemObject> = items
        .iter()
        .map(|item| item_object(job, lists, account, item))
        .collect();
    serde_json::to_writer_pretty(&mut out, &objects)?;
    out.write_all(b"\n")?;
    out.flush()
}

fn item_object<'a>(
    job: &'a Job,
    lists: &'a [List],
    account: &'a Account,
    item: &'a ItemAccount,
) -> ItemObject<'a> {
    ItemObject {
        id: &item.id,
        text: &item.text,
        item: ItemFields::of(&item.item),
        part_number: number_of(&item.item, item.part_numbers.first().map(String::as_str)),
        tables: TableFields::of(Some(&item.item)),
        doubts: item.doubts.iter().map(ToString::to_string).collect(),
        required: item.sums.required,
        shipped: item.shipped,
        counted: item.counted,
        damaged: item.sums.damaged,
        covered: item.sums.covered,
        substituted: item.sums.substituted,
        from_stock: item.sums.from_stock,
        short: item.sums.short,
        extra: item.sums.extra,
        findings: findings(lists, &item.findings),
        part_numbers: &item.part_numbers,
        bags: &item.bags,
        to_bring: item.to_bring,
        stages: item
            .shares
            .iter()
            .map(|share: &Share| ShareObject {
                stage: &account.stages[share.stage].name,
                required: share.required,
                covered: share.covered,
                substituted: share.substituted,
                from_stock: share.from_stock,
                short: share.short,
                take_from: item
                    .draws
                    .iter()
                    .filter(|draw| draw.stage == share.stage)
                    .map(|draw| DrawObject {
                        bag: &draw.bag,
                        pieces: draw.pieces,
                    })
                    .collect(),
            })
            .collect(),
        stand_ins: item
            .stand_ins
            .iter()
            .map(|stand_in| StandInObject {
                stage: &account.stages[stand_in.stage].name,
                pieces: stand_in.pieces,
                item: &stand_in.id,
                text: &stand_in.text,
                from_stock: stand_in.item.is_none(),
                rule: stand_in.rule.and_then(|rule| {
                    let rule = job.substitutes.get(rule)?;
                    Some(RuleObject {
                        file: &rule.file,
                        row: rule.row,
                        approved_by: &rule.approved_by,
                        closes_claim: rule.closes_claim,
                    })
                }),
            })
            .collect(),
    }
}

fn parcels<'a>(lists: &'a [List], account: &'a Account) -> Vec<ParcelObject<'a>> {
    let files = |of: &[usize]| of.iter().map(|&at| lists[at].file.as_str()).collect();
    account
        .parcels
        .iter()
        .zip(1..)
        .map(|(parcel, number)| ParcelObject {
            parcel: number,
            files: files(&parcel.slips),
            counts: files(&parcel.counts),
            date: parcel.date.as_deref(),
            pieces: parcel.pieces,
            closed: parcel.closed,
            opened: parcel.opened,
            open: parcel.open,
            items: parcel
                .changes
                .iter()
                .map(|change| ChangeObject {
                    item: &account.items[change.item].id,
                    text: &account.items[change.item].text,
                    before: change.before,
                    closed: change.closed,
                    opened: change.opened,
                    open: change.open,
                })
                .collect(),
        })
        .collect()
}

fn questions<'a>(lists: &'a [List], audit: &'a Audit) -> Vec<QuestionObject<'a>> {
    fn stated(text: &str) -> Option<&str> {
        (!text.is_empty()).then_some(text)
    }
    audit
        .findings
        .iter()
        .map(|finding| QuestionObject {
            stage: stated(&finding.stage),
            place: stated(&finding.place),
            diameter: finding.diameter.map(|d| d.to_string()),
            what: finding.what,
            weight: finding.weight,
            found: &finding.found,
            question: &finding.question,
            lines: addresses(lists, &finding.evidence),
        })
        .collect()
}

fn findings<'a>(
    lists: &'a [List],
    findings: &'a [crate::settle::Finding],
) -> Vec<FindingObject<'a>> {
    findings
        .iter()
        .map(|finding| FindingObject {
            finding: finding.finding,
            pieces: finding.pieces,
            lines: addresses(lists, &finding.evidence),
            note: &finding.note,
        })
        .collect()
}

fn addresses<'a>(lists: &'a [List], evidence: &'a [Evidence]) -> Vec<AddressObject<'a>> {
    evidence.iter().map(|e| address(lists, e)).collect()
}

fn address<'a>(lists: &'a [List], evidence: &'a Evidence) -> AddressObject<'a> {
    let list = &lists[evidence.list];
    AddressObject {
        file: &list.file,
        sheet: list
            .sheets
            .get(evidence.sheet)
            .and_then(|s| s.name.as_deref()),
        rows: &evidence.rows,
    }
}

fn line_addresses<'a>(lists: &'a [List], lines: &[LineRef]) -> Vec<LineAddress<'a>> {
    lines
        .iter()
        .map(|at| {
            let list = &lists[at.list];
            let line = &list.lines[at.line];
            LineAddress {
                file: &list.file,
                sheet: list.sheets[usize::from(line.sheet)].name.as_deref(),
                row: line.row,
            }
        })
        .collect()
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
        account(&f.job, &f.lists, &f.account, &f.layout, &f.audit, &mut out).unwrap();
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
