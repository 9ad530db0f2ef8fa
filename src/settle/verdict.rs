//! May the job start, and where does it stop?

use std::collections::{BTreeMap, BTreeSet};

use rustc_hash::{FxHashMap, FxHashSet};

use super::{
    Settling,
    account::{
        Account, Finding, FindingKind, ItemAccount, LeftOpen, LineRef, StageAccount, Verdict,
    },
    doubted::InDoubt,
    findings::{TWO_HEAPS, named_first, pieces},
    inventory::{FigureUnread, Inventory, Unread},
    ledger::{Unmet, UnmetBy},
    part_names,
    pool::Outcome,
    stages::Stages,
};
use crate::doubt::Doubt;
use crate::kit::{Aside, List, Role};
use crate::words::{count, day};

/// Most items that a stage's reason names.
const NAMED: usize = 3;

/// What a stage's verdict rests on, one entry an item of the stage.
#[derive(Debug, Clone, Default)]
pub struct Standing {
    /// Items short, for sure: text and pieces.
    pub short: Vec<(String, u64)>,
    /// Items of which nobody knows how many are there.
    pub unknown: u64,
    /// Items whose shortage the lists leave open, by why, in the order of [`LeftOpen::ALL`].
    pub open: [u64; LeftOpen::ALL.len()],
    /// Items that only an uncounted slip covers.
    pub uncounted: u64,
    /// Items that only a slip covers, though a count names them: its figure was not read.
    pub count_unread: u64,
    /// Items covered by pieces whose kind or length is not sure.
    pub vague: u64,
    /// Items asked for in a strength grade, and covered by pieces that do not state theirs.
    pub strength_open: u64,
    /// Items covered only if their count was made when the built stages stood.
    pub before_built: u64,
    /// Items covered as far as the lists say it, of which it is in doubt how many a line means.
    pub doubted: u64,
}

/// What is in doubt of the rows that an item rests on.
#[derive(Debug, Clone, Copy)]
pub struct Doubts {
    /// How many one of them means.
    pub number: bool,
    /// How many one of the stock means.
    pub number_of_stock: bool,
    /// A count names it, and its figure was not read.
    pub count_unread: bool,
    /// Its count was perhaps made before stages were built that use some of it, and is not enough for all.
    pub before_built: bool,
}

/// Notes what an item means for the stages that need it. What is built stands.
pub fn stand(
    standings: &mut [Standing],
    (item, doubts): (&ItemAccount, Doubts),
    outcome: &Outcome,
    stages: &Stages,
) {
    for share in &item.shares {
        if share.stage < stages.built() {
            continue;
        }
        let standing = &mut standings[share.stage];
        if share.short > 0 {
            if item.surely_short(share) > 0 {
                let text = item.text.clone();
                standing.short.push((text, item.surely_short(share)));
            }
            match (item.known, item.open) {
                (true, _) => {}
                (false, None) => standing.unknown += 1,
                (false, Some(why)) => standing.open[why as usize] += 1,
            }
        } else if share.may_lack > 0 {
            standing.open[LeftOpen::NumberInDoubt as usize] += 1;
        } else if share.by_slip > 0 {
            match doubts.count_unread {
                true => standing.count_unread += 1,
                false => standing.uncounted += 1,
            }
        }
        if share.required > share.short && outcome.vague > 0 {
            standing.vague += 1;
        }
        if share.required > share.short && item.strength_open() {
            standing.strength_open += 1;
        }
        if share.required > 0 && share.short == 0 && doubts.before_built {
            standing.before_built += 1;
        }
        let number = doubts.number || share.from_stock > 0 && doubts.number_of_stock;
        if share.required > 0 && share.short + share.may_lack == 0 && number {
            standing.doubted += 1;
        }
    }
}

/// Says of each stage that is still to be built whether it is ready, and why.
pub fn of_stages(account: &mut Account, standings: &[Standing], settling: &Settling) {
    let Settling {
        inventory, stages, ..
    } = settling;
    for (at, standing) in standings.iter().enumerate().skip(stages.built()) {
        let of = |lines: &[(usize, Unread)]| {
            let found = lines.iter().find(|(stage, _)| *stage == at);
            found.map(|(_, unread)| *unread)
        };
        let (unread, aside) = (of(&inventory.unread), of(&inventory.aside));
        let (unread, aside) = (unread.as_ref(), aside.as_ref());
        let stage = &mut account.stages[at];
        (stage.ready, stage.reasons) = of_stage(
            standing,
            settling.given.any(),
            unread,
            aside,
            settling.lists,
        );
        if stage.spare && !stage.reasons.is_empty() {
            stage.reasons.insert(0, NO_STAGE_WAITS.to_owned());
            if stage.ready == Verdict::No {
                stage.ready = Verdict::Yes;
            }
        }
    }
}

const NO_STAGE_WAITS: &str = "spares, which no stage waits for";

/// The readiness of one stage and why.
fn of_stage(
    standing: &Standing,
    any_supply: bool,
    unread: Option<&Unread>,
    aside: Option<&Unread>,
    lists: &[List],
) -> (Verdict, Vec<String>) {
    let mut reasons = Vec::new();
    for (text, short) in standing.short.iter().take(NAMED) {
        reasons.push(format!("{} short: {text}", pieces(*short)));
    }
    let more = standing.short.len().saturating_sub(NAMED) as u64;
    if more > 0 {
        reasons.push(format!("{} more short", count(more, "item")));
    }
    if standing.unknown > 0 {
        reasons.push(match any_supply {
            true => unknown_reason(standing.unknown),
            false => NOTHING_TO_SETTLE.to_owned(),
        });
    }
    for (why, &items) in LeftOpen::ALL.iter().zip(&standing.open) {
        if items > 0 {
            reasons.push(format!("{} {why}", are(items)));
        }
    }
    if standing.uncounted > 0 {
        reasons.push(format!(
            "{} not counted: ready if the slip is true",
            are(standing.uncounted)
        ));
    }
    if standing.count_unread > 0 {
        reasons.push(format!(
            "{} named by a count whose figure was not read: ready if the slip is true",
            are(standing.count_unread)
        ));
    }
    if standing.vague > 0 {
        reasons.push(format!(
            "{} covered by pieces whose kind or length is not stated",
            are(standing.vague)
        ));
    }
    if standing.strength_open > 0 {
        reasons.push(format!(
            "{} covered by pieces whose strength grade is not stated",
            are(standing.strength_open)
        ));
    }
    if standing.before_built > 0 {
        reasons.push(format!(
            "{} covered only if the count was made when the built stages stood",
            are(standing.before_built)
        ));
    }
    if standing.doubted > 0 {
        reasons.push(format!(
            "{} covered if the lines in doubt mean what was taken",
            are(standing.doubted)
        ));
    }
    reasons.extend(unread.map(|of| unread_reason(of, lists)));
    reasons.extend(aside.map(|of| aside_reason(of, lists)));
    let verdict = if !standing.short.is_empty() {
        Verdict::No
    } else if reasons.is_empty() {
        Verdict::Yes
    } else {
        Verdict::CannotSay
    };
    (verdict, reasons)
}

const NOTHING_TO_SETTLE: &str = "nothing to settle against: no slip and no count is given";

fn unknown_reason(items: u64) -> String {
    format!(
        "{} not counted in full, and no slip says how many are in which bag",
        are(items)
    )
}

/// `1 item is`, `3 items are`.
fn are(n: u64) -> String {
    format!("{} {}", count(n, "item"), if n == 1 { "is" } else { "are" })
}

/// `parts.csv, line 12: ...`, with how many more there are.
fn first_of(of: &Unread, lists: &[List], what: &str) -> String {
    let list = &lists[of.first.list];
    let at = list.address_of(&list.lines[of.first.line]);
    match of.lines - 1 {
        0 => format!("{at}: {what}"),
        more => format!("{at}: {what}, and {} more", count(more, "line")),
    }
}

/// Lines of a list mean another number than was taken, perhaps.
pub fn doubted_reason(of: &InDoubt<'_>, lists: &[List]) -> String {
    let unread = Unread {
        lines: of.lines,
        first: of.first,
    };
    let what = format!("another number may be meant: {}", of.why);
    first_of(&unread, lists, &what)
}

/// Nobody knows which parcels a count looked at.
fn undated_reason(lists: &[List], counted: usize, items: u64) -> String {
    let list = &lists[counted];
    let slips = lists.iter().filter(|list| list.role == Role::Shipped);
    let days = slips.map(|slip| Some((day(slip.date.as_deref()?)?, slip)));
    let first = days.collect::<Option<Vec<_>>>();
    let first = first.and_then(|all| all.into_iter().min_by_key(|(day, _)| *day));
    let todo = match (list.date.as_deref().map(day), first) {
        (Some(Some(made)), Some((sent, slip))) if made < sent => format!(
            "it is dated before the first parcel ({}, {}): mend the one or the other",
            slip.file,
            slip.date.as_deref().unwrap_or_default()
        ),
        (Some(Some(_)), _) => "date the slips, too, in their titles or in the job file".to_owned(),
        (Some(None), _) => "write its date as 2026-04-14 is written here".to_owned(),
        (None, _) => {
            "write the day under \"Count date\", or as its date in the job file".to_owned()
        }
    };
    format!(
        "{}: nobody knows which parcels were there when it was counted, so that {} that may be short may have come since: {todo}",
        list.file,
        count(items, "item")
    )
}

fn unread_reason(of: &Unread, lists: &[List]) -> String {
    first_of(of, lists, "no quantity that can be summed")
}

fn aside_reason(of: &Unread, lists: &[List]) -> String {
    let what = match is_total(of, lists) {
        true => "the list's own total is not what its lines come to",
        false => "the line is aside, not understood",
    };
    first_of(of, lists, what)
}

/// True where the first line of several is a total that its list does not come to.
fn is_total(of: &Unread, lists: &[List]) -> bool {
    let list = &lists[of.first.list];
    let aside = list.aside_of(&list.lines[of.first.line]);
    matches!(aside, Some(Aside::Total { .. }))
}

/// The counts hold what the built stages use.
fn before_built_reason(lists: &[List]) -> String {
    let counts = lists.iter().filter(|list| list.role == Role::Counted);
    let files: Vec<&str> = counts.map(|list| list.file.as_str()).collect();
    format!(
        "what the built stages use lies there still by the count ({}): if it was made before they were built, leave \
         built_through out of the job file; nothing goes back of what they use",
        files.join(", ")
    )
}

/// The rows that count one item, of those few items that are named: what each says, and what to do.
fn counted_twice(items: &[ItemAccount], settling: &Settling) -> Vec<String> {
    let Settling {
        ledger,
        inventory,
        lists,
        order,
        ..
    } = settling;
    let open = items.iter().zip(order);
    let mut open =
        open.filter(|(item, _)| item.open == Some(LeftOpen::CountedTwice) && item.sums.short > 0);
    let told = open.by_ref().take(NAMED).map(|(item, entry)| {
        let twice = ledger.counted_twice[entry].iter();
        let rows = twice.flat_map(|&at| &inventory.counted_twice[at].counts);
        let rows = rows.map(|(at, good)| {
            let list = &lists[at.list];
            format!("{good} in {}", list.address_of(&list.lines[at.line]))
        });
        let rows: Vec<String> = rows.collect();
        let rows = named_first(rows.into_iter(), ", ");
        format!("{}: {rows}: {TWO_HEAPS}", item.text)
    });
    let mut told: Vec<String> = told.collect();
    let more = open.count() as u64;
    if more > 0 {
        told.push(format!(
            "{} more counted on several rows",
            count(more, "item")
        ));
    }
    told
}

/// The first stage before the one that stops in which it is not settled whether all is there.
fn may_stop_before(account: &Account, stop: usize) -> Option<String> {
    let items = account.items.iter();
    let open = items.filter(|item| !item.known || in_its_place(item).next().is_some());
    let open: Vec<&ItemAccount> = open.collect();
    let at = |stage: usize| {
        let of_stage = |item: &&&ItemAccount| {
            let mut shares = item.shares.iter().filter(|share| share.stage == stage);
            shares.any(|share| !share.built && (share.short > 0 || item.known))
        };
        let number = open.iter().filter(of_stage).count() as u64;
        (number > 0).then_some((stage, number))
    };
    let (stage, number) = (0..stop).find_map(at)?;
    let name = &account.stages[stage].name;
    let are = if number == 1 { "is" } else { "are" };
    Some(format!(
        "it may stop before that, at stage \"{name}\": {} there {are} not settled",
        count(number, "item")
    ))
}

/// What was counted, perhaps, in the place of an item that a slip lists and nobody counted.
fn in_its_place(item: &ItemAccount) -> impl Iterator<Item = &Finding> {
    let found = item.findings.iter();
    found.filter(|of| of.finding == FindingKind::InItsPlace)
}

fn packed_in_place(items: &[ItemAccount]) -> impl Iterator<Item = String> {
    let told = items
        .iter()
        .flat_map(|item| in_its_place(item).map(move |of| (item, of)));
    told.take(NAMED)
        .map(|(item, of)| format!("{}: {}", item.text, of.note.trim_end_matches('.')))
}

/// What a slip alone covers though a count names it, of those few items that are named.
fn counts_unread(items: &[ItemAccount], settling: &Settling) -> Vec<String> {
    let Settling {
        ledger,
        inventory,
        lists,
        order,
        ..
    } = settling;
    let by_slip = |item: &ItemAccount| item.shares.iter().any(|share| share.by_slip > 0);
    let mut named: FxHashMap<usize, &FigureUnread> = FxHashMap::default();
    for of in inventory.figures_unread.iter().filter(|of| of.by_count) {
        for (entry, _) in ledger.fits.of(of.item as usize) {
            named.entry(*entry).or_insert(of);
        }
    }
    let open = items.iter().zip(order).filter(|(item, _)| by_slip(item));
    let mut open = open.filter_map(|(item, entry)| Some((item, *named.get(entry)?)));
    let told = open.by_ref().take(NAMED).map(|(item, of)| {
        let list = &lists[of.at.list];
        format!(
            "{}: {} names it, and its figure was not read: it is covered only if the slip is true",
            item.text,
            list.address_of(&list.lines[of.at.line])
        )
    });
    let mut told: Vec<String> = told.collect();
    let more = open.count() as u64;
    if more > 0 {
        told.push(format!(
            "{} more named by a count whose figure was not read",
            count(more, "item")
        ));
    }
    told
}

/// The bags that are said not to have come, and of which pieces are counted.
fn bags_in_dispute(inventory: &Inventory) -> impl Iterator<Item = String> {
    let counted =
        (inventory.counted.iter()).filter(|(_, counted)| counted.good.is_some_and(|good| good > 0));
    let counted: FxHashSet<u32> = counted.map(|((_, bag), _)| *bag).collect();
    let lost = inventory.not_received.iter().map(|(bag, _)| *bag);
    lost.filter(move |bag| counted.contains(bag)).map(|bag| {
        format!(
            "{} was not received, by a count, and pieces are counted in it: which is true?",
            inventory.containers[bag as usize].spoken()
        )
    })
}

/// Why what the lists ask for may not be all.
pub fn doubts_of_lists(inventory: &Inventory, lists: &[List]) -> Vec<String> {
    let unread = inventory.unread.iter();
    let mut unsure: Vec<String> = unread.map(|(_, of)| unread_reason(of, lists)).collect();
    unsure.extend(
        inventory
            .aside
            .iter()
            .map(|(_, of)| aside_reason(of, lists)),
    );
    unsure.extend(inventory.unopened.iter().map(|(at, _)| {
        format!(
            "{}: no required list says what is in this bag",
            lists[at.list].address_of(&lists[at.list].lines[at.line])
        )
    }));
    unsure.extend(lists.iter().filter(|list| list.from_sentences).map(|list| {
        let parts = match list.uncounted.is_empty() {
            true => String::new(),
            false => format!(
                ", which ask for none of the parts that they count ({})",
                list.uncounted.join(", ")
            ),
        };
        format!(
            "{} was read from sentences{parts}: hold what it asks for against the parts list",
            list.file
        )
    }));
    unsure.extend(lists.iter().flat_map(|list| {
        list.sheets.iter().filter_map(move |sheet| {
            let name = sheet.name.as_deref().unwrap_or_default();
            match (&sheet.question, &sheet.again) {
                (Some(question), _) => Some(format!("{}: {question}", list.file)),
                (None, Some(again)) if !again.differences.is_empty() => Some(format!(
                    "{}: sheet {name} should say what the others say, and differs in {}: settle which is right",
                    list.file,
                    count(again.differences.len() as u64, "item")
                )),
                _ => None,
            }
        })
    }));
    unsure
}

/// A slip of which no line names what is required, or hardly any.
fn unmet_reason(of: &Unmet, lists: &[List]) -> String {
    let file = &lists[of.list].file;
    let what = match (&of.by, of.names.is_empty()) {
        (UnmetBy::Kit(name), _) => {
            return format!(
                "{file} lists \"{name}\" as one, and no list says what is in it: count what came, or ask the kit \
                 maker; if it holds nothing of the parts list, leave the line out"
            );
        }
        (UnmetBy::Items(items), true) => format!(
            "no line of {file} names what the required lists ask for ({})",
            count(*items, "other item")
        ),
        (UnmetBy::Items(items), false) => format!(
            "{file} lists {} by numbers or names that no other list knows, which may be what else is asked for",
            count(*items, "item")
        ),
    };
    format!(
        "{what}: give a table of numbers (--numbers), or join the names in the job file ([names])"
    )
}

/// Lines of slips, counts and stock that hold pieces which nobody sees here. `is_wanted`: a required list
/// asks for what the item may serve.
pub fn not_summed(
    inventory: &Inventory,
    lists: &[List],
    is_wanted: impl Fn(u32) -> bool,
) -> Vec<String> {
    let mut unsure: BTreeMap<usize, Unread> = inventory.unsure.iter().copied().collect();
    let wanted = inventory
        .figures_unread
        .iter()
        .filter(|of| !of.summed && is_wanted(of.item));
    let lines: BTreeSet<LineRef> = wanted.map(|of| of.at).collect();
    for at in lines {
        let of = unsure.entry(at.list).or_insert(Unread {
            lines: 0,
            first: at,
        });
        of.lines += 1;
        of.first = of.first.min(at);
    }
    let why = |of| match is_total(of, lists) {
        true => {
            "the list's own total is not what its lines come to, so that pieces may be there that are not seen here"
        }
        false => "not summed, so that pieces may be there that are not seen here",
    };
    let unsure = unsure.values();
    unsure.map(|of| first_of(of, lists, why(of))).collect()
}

/// The verdict on the whole job, from its stages and from what no stage knows of.
pub fn of_job(account: &mut Account, standings: &[Standing], settling: &Settling) {
    let Settling {
        job,
        inventory,
        stages,
        lists,
        given,
        ledger,
        ..
    } = settling;
    let any_supply = given.any();
    let short_items = |at: usize| standings[at].short.len() as u64;
    account.stops_at = (0..stages.open().end).find(|&at| short_items(at) > 0);
    let mut reasons = Vec::new();
    if let Some(at) = account.stops_at {
        let StageAccount { name, .. } = &account.stages[at];
        // Whole kits come first, so that the next one may stop at another stage than the first that lacks any.
        let of_item = |item: &ItemAccount| -> u64 {
            let of_stages = item.shares.iter().filter(|share| match job.kits {
                1 => share.stage == at,
                _ => !share.built && !share.spare,
            });
            of_stages.map(|share| item.surely_short(share)).sum()
        };
        let of_items = account.items.iter().map(of_item);
        let of_items: Vec<u64> = of_items.filter(|short| *short > 0).collect();
        let short: u64 = of_items.iter().sum();
        let lacking = format!(
            "{} of {}",
            pieces(short),
            count(of_items.len() as u64, "item")
        );
        let stage = match name.as_str() {
            "" => String::new(),
            name => format!(" at stage \"{name}\""),
        };
        reasons.push(match (job.kits, short) {
            (1, 1) => format!("{lacking} short stops the job{stage}"),
            (1, _) => format!("{lacking} short stop the job{stage}"),
            (kits, 1) => format!("over all {kits} kits, {lacking} is short"),
            (kits, _) => format!("over all {kits} kits, {lacking} are short"),
        });
        if job.kits == 1 {
            reasons.extend(may_stop_before(account, at));
        }
    }
    let items = |of: fn(&Standing) -> u64| standings[stages.open()].iter().map(of).sum::<u64>();
    if !any_supply {
        reasons.push(NOTHING_TO_SETTLE.to_owned());
    }
    let open = |why: LeftOpen| {
        let of_stages = standings[stages.open()].iter();
        of_stages.map(|of| of.open[why as usize]).sum::<u64>()
    };
    let mut unsure = Vec::new();
    let unknown = items(|standing| standing.unknown);
    if any_supply && unknown > 0 {
        unsure.push(
            "some items are not counted in full, and no slip tells how many there are".to_owned(),
        );
    }
    let unread = open(LeftOpen::FigureUnread);
    if unread > 0 {
        unsure.push(format!(
            "{} that may be short may be there: a figure of a slip or a count was not read",
            count(unread, "item")
        ));
    }
    unsure.extend(ledger.unmet.iter().map(|of| unmet_reason(of, lists)));
    if open(LeftOpen::CountedTwice) > 0 {
        unsure.extend(counted_twice(&account.items, settling));
    }
    let asked_twice = account.items.iter();
    let asked_twice = asked_twice
        .filter(|item| item.open == Some(LeftOpen::AskedTwice) && item.sums.short > 0)
        .count() as u64;
    if asked_twice > 0 {
        unsure.push(format!(
            "{} may be asked for twice, and {} not said to be short: settle the sheets first",
            count(asked_twice, "item"),
            if asked_twice == 1 { "is" } else { "are" }
        ));
    }
    let may_be_same = open(LeftOpen::MayBeSame);
    if may_be_same > 0 {
        unsure.push(format!(
            "{} that may be short may be there by another name: where two names are one part, join them \
             in the job file, under [names]",
            count(may_be_same, "item")
        ));
    }
    let other_bags = open(LeftOpen::OtherBags);
    if other_bags > 0 {
        unsure.push(format!(
            "{} counted in bags that no slip names so: nobody knows whether all that came was counted",
            are(other_bags)
        ));
    }
    let one_of_several = open(LeftOpen::OneOfSeveral);
    if one_of_several > 0 {
        unsure.push(format!(
            "{} that may be short {} named in words that fit another as well: say which of them it is (length, \
             grade, finish)",
            count(one_of_several, "item"),
            if one_of_several == 1 { "is" } else { "are" }
        ));
    }
    let counted_otherwise = account.may_be_same.iter().filter(|&&(wanted, other)| {
        let (wanted, other) = (&account.items[wanted], &account.items[other]);
        wanted.sums.short == 0 && wanted.counted.is_none() && other.counted.is_some()
    });
    let counted_otherwise = counted_otherwise.count() as u64;
    if counted_otherwise > 0 {
        unsure.push(format!(
            "{} counted that may be what nobody counted by its own name or finish: another word for it, or the wrong \
             pieces?",
            are(counted_otherwise)
        ));
    }
    let along = open(LeftOpen::ComesAlong);
    if along > 0 {
        unsure.push(format!(
            "{} on no slip, and may be on the item that it comes with: look there",
            are(along)
        ));
    }
    let undated = open(LeftOpen::CountUndated);
    if let (1.., Some(&count)) = (undated, inventory.undated.first()) {
        unsure.push(undated_reason(lists, count, undated));
    }
    let uncounted = items(|standing| standing.uncounted);
    if uncounted > 0 {
        unsure.push("what is not counted is covered only if the slip is true".to_owned());
    }
    unsure.extend(bags_in_dispute(inventory));
    let wanted = account.items.iter().filter(|item| item.sums.required > 0);
    let disputed = |doubt: &&Doubt| matches!(doubt, Doubt::NumberDisputed { .. });
    let disputed = wanted.filter_map(|item| item.doubts.iter().find(disputed));
    unsure.extend(disputed.take(NAMED).map(Doubt::to_string));
    unsure.extend(packed_in_place(&account.items));
    unsure.extend(counts_unread(&account.items, settling));
    if items(|standing| standing.vague) > 0 {
        unsure.push("some pieces do not state their kind or length".to_owned());
    }
    if items(|standing| standing.strength_open) > 0 {
        unsure.push(
            "some pieces do not state the strength grade that is asked for: look at their heads"
                .to_owned(),
        );
    }
    if let Some(times) = account.times_required {
        unsure.push(format!(
            "{times} times what is required came, of one item as of another: if it is for {} kits, say so \
             (--kits, or kits in the job file)",
            times.saturating_mul(job.kits)
        ));
    }
    if account.counted_before_built {
        unsure.push(before_built_reason(lists));
    }
    let drawing = account.items.iter().zip(&settling.order);
    let drawing = drawing.filter(|(item, _)| item.sums.from_stock > 0);
    let drawing: FxHashSet<usize> = drawing.map(|(_, entry)| *entry).collect();
    let in_doubt = settling
        .doubted
        .by_list(lists, |entry| drawing.contains(&entry));
    unsure.extend(in_doubt.iter().map(|of| doubted_reason(of, lists)));
    unsure.extend(doubts_of_lists(inventory, lists));
    let differ: u64 = account.compared.iter().map(|list| list.differ).sum();
    if differ > 0 {
        unsure.push(format!(
            "the required lists differ in {}: settle which of them is right",
            count(differ, "line")
        ));
    }
    unsure.extend(
        account
            .compared
            .iter()
            .filter(|of| of.unread > 0)
            .map(|of| {
                format!(
                    "{} of {} could not be compared: no quantity, or not understood",
                    count(of.unread, "line"),
                    lists[of.list].file
                )
            }),
    );
    let doubtful = !unsure.is_empty() || !any_supply;
    reasons.append(&mut unsure);
    let spares = standings[stages.open().end..].iter();
    let spares: Vec<u64> = (spares.flat_map(|of| &of.short))
        .map(|(_, pieces)| *pieces)
        .collect();
    if !spares.is_empty() {
        reasons.push(format!(
            "{} of {} short among the spares, which no stage waits for",
            pieces(spares.iter().sum()),
            count(spares.len() as u64, "item"),
        ));
    }
    reasons.extend(part_names::joined_in_vain(lists, &job.names));
    let is_wanted = |item: u32| {
        let mut may_serve = ledger.fits.of(item as usize).iter();
        may_serve.any(|(entry, _)| ledger.entries[*entry].listed)
    };
    reasons.extend(not_summed(inventory, lists, is_wanted));
    account.verdict = if account.stops_at.is_some() {
        Verdict::No
    } else if doubtful
        || account
            .stages
            .iter()
            .any(|stage| !stage.spare && stage.ready != Verdict::Yes)
    {
        Verdict::CannotSay
    } else {
        Verdict::Yes
    };
    account.reasons = reasons;
}
