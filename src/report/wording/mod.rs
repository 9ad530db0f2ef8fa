//! How addresses, states and counts are worded: the same in every output.

mod bins;

use crate::words::{count, fold, quoted};
use crate::{
    audit::AuditFinding,
    kit::{Job, Line, List, OptionRule, Role, SubstituteRule},
    settle::{
        Account, Buy, Evidence, Finding, FindingKind, ItemAccount, LeftOver, StandIn, Totals,
        Verdict, parcels::Change,
    },
};

pub use self::bins::{
    Places, apart, beside, bin, large_and_small, later_stages, neighbours, row_letters, tray,
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

/// Runs of rows: `12-14, 20`. Runs that touch or overlap are joined.
pub fn rows(runs: &[(u32, u32)]) -> String {
    let mut joined: Vec<(u32, u32)> = Vec::new();
    for &(first, last) in runs {
        match joined.last_mut() {
            Some(open) if first >= open.0 && first <= open.1.saturating_add(1) => {
                open.1 = open.1.max(last);
            }
            _ => joined.push((first, last)),
        }
    }
    let words: Vec<String> = joined
        .into_iter()
        .map(|(first, last)| match first == last {
            true => first.to_string(),
            false => format!("{first}-{last}"),
        })
        .collect();
    words.join(", ")
}

/// Where a finding stands: `parts.xlsx, sheet Stages, rows 12-14, 20`.
pub fn address(lists: &[List], evidence: &Evidence) -> String {
    let list = &lists[evidence.list];
    let mut text = list.file.clone();
    if let Some(sheet) = list
        .sheets
        .get(evidence.sheet)
        .and_then(|s| s.name.as_ref())
    {
        text.push_str(", sheet ");
        text.push_str(sheet);
    }
    let one = matches!(&*evidence.rows, [(first, last)] if first == last);
    let plural = if one { "" } else { "s" };
    format!(
        "{text}, {}{plural} {}",
        list.row_noun(),
        rows(&evidence.rows)
    )
}

/// Several addresses, joined by semicolons.
pub fn addresses<'a>(lists: &[List], evidence: impl IntoIterator<Item = &'a Evidence>) -> String {
    let words: Vec<String> = evidence.into_iter().map(|e| address(lists, e)).collect();
    words.join("; ")
}

/// All the lines that an item's account rests on.
pub fn sources_of(lists: &[List], item: &ItemAccount) -> String {
    addresses(
        lists,
        item.required_by
            .iter()
            .chain(&item.shipped_by)
            .chain(&item.counted_by),
    )
}

/// Why a person should look at a line: its doubts, or why it is aside. Empty for a line that is read.
pub fn why(list: &List, line: &Line) -> Vec<String> {
    match list.aside_of(line) {
        Some(reason) => vec![reason.to_string()],
        None => list.doubts_of(line).map(ToString::to_string).collect(),
    }
}

/// A stage as people call it: `stage 3, Handrail posts`.
pub fn stage(account: &Account, index: usize) -> String {
    format!("stage {}, {}", index + 1, stage_name(account, index))
}

/// The stage of a name, by index; `None` for one that is not built.
pub fn stage_of(account: &Account, name: &str) -> Option<usize> {
    let name = fold(name);
    account.stages.iter().position(|s| fold(&s.name) == name)
}

/// A stage's name without the number that it may begin with, where that is the stage's own; where no
/// list names a stage, the kit is one stage.
pub fn stage_name(account: &Account, index: usize) -> &str {
    bare_name(&account.stages[index].name, index + 1)
}

fn bare_name(name: &str, number: usize) -> &str {
    let own = number.to_string();
    let words = name.strip_prefix("Stage ").unwrap_or(name);
    match words.strip_prefix(&own) {
        Some(rest) if rest.starts_with([' ', '.', ':', ')', '-', ',']) => {
            let bare = rest.trim_start_matches([' ', '.', ':', ')', '-', ',']);
            if bare.is_empty() { name } else { bare }
        }
        _ if name.is_empty() => "whole kit",
        _ => name,
    }
}

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

/// The verdict in one sentence: where the job stops, or that it does not.
pub fn stop(job: &Job, account: &Account) -> String {
    if nothing_seen(account) {
        return "There is nothing to settle against yet: no slip and no count is given.".to_owned();
    }
    let at = |stage: usize| {
        format!(
            "stops at stage {} of {}, {}.",
            stage + 1,
            account.stages.len(),
            stage_name(account, stage)
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
    account
        .items
        .iter()
        .all(|item| item.shipped.is_none() && item.counted.is_none() && !item.known)
}

/// How much is short, in one sentence.
pub fn shortage(account: &Account) -> String {
    let items = account.items.iter().filter(|i| i.sums.short > 0).count() as u64;
    match items {
        _ if nothing_seen(account) => format!(
            "{} of {} are required.",
            count(account.totals.required, "piece"),
            count(items, "item")
        ),
        0 => "No item is short.".to_owned(),
        _ => format!(
            "{} short, {} in all.",
            count(items, "item"),
            count(account.totals.short, "piece")
        ),
    }
}

/// How much of what is short may be there after all, in one sentence; `None` where nothing may.
fn shortage_open(account: &Account) -> Option<String> {
    let short = |item: &ItemAccount| known_short(item, item.sums.short);
    let open = || account.items.iter().filter(|item| short(item).is_none());
    let pieces: u64 = open().map(|item| item.sums.short).sum();
    let (items, are) = match open().count() as u64 {
        0 => return None,
        1 => ("1 item".to_owned(), "is"),
        more => (count(more, "item"), "are"),
    };
    Some(format!(
        "Of these, {items} ({}) {are} not known to be short: see what was found.",
        count(pieces, "piece")
    ))
}

/// How much is short, and how much of it may be there after all.
pub fn shortage_told(account: &Account) -> String {
    match shortage_open(account) {
        Some(open) if !nothing_seen(account) => format!("{} {open}", shortage(account)),
        _ => shortage(account),
    }
}

/// Pieces of an item that are `short`, in all or in a stage; `None` where nobody can say that they are
/// missing: they may be there by another name, a figure was not read, or not all is counted.
pub fn known_short(item: &ItemAccount, short: u64) -> Option<u64> {
    (short == 0 || item.known).then_some(short)
}

/// Pieces of a stage that are short for sure.
pub fn stage_short(account: &Account, stage: usize) -> u64 {
    let known = account.items.iter().filter(|item| item.known);
    let shares = known.flat_map(|item| &item.shares);
    let of_stage = shares.filter(|share| share.stage == stage);
    of_stage.map(|share| share.short).sum()
}

/// Why nobody can say how many of an item are there, where no finding says so.
pub fn not_known(item: &ItemAccount) -> Option<&'static str> {
    let unsaid = item.sums.short > 0 && !item.known && item.open.is_none();
    unsaid.then_some(match item.counted {
        None => "neither counted nor on a slip",
        Some(_) => "not counted in full",
    })
}

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

/// Stages with the pieces that go to each: `4 to stage 1, Sills; 8 to stage 3, Rails`.
pub fn to_stages(account: &Account, stages: &[(usize, u64)]) -> String {
    let words: Vec<String> = stages
        .iter()
        .map(|(at, pieces)| format!("{pieces} to {}", stage(account, *at)))
        .collect();
    words.join("; ")
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

/// A finding in a sentence: `box is short 4: the slip lists 24, the count found 20`.
pub fn finding(finding: &Finding) -> String {
    match finding.note.as_str() {
        "" => format!("{} {}", finding.finding, finding.pieces),
        note => format!("{} {}: {note}", finding.finding, finding.pieces),
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
    Some(match named.is_empty() {
        true => format!("Whole kits: all {}.", job.kits),
        false => format!(
            "Whole kits: {whole} of {}; the next one stops at {}{more}.",
            job.kits,
            named.join("; ")
        ),
    })
}

/// What a stage takes from other stages' bags: `take 4 from bag 7`.
pub fn draws(item: &ItemAccount, stage: usize) -> Vec<String> {
    let draws = item.draws.iter().filter(|draw| draw.stage == stage);
    draws
        .map(|draw| format!("take {} from {}", draw.pieces, draw.bag))
        .collect()
}

/// A parcel: `parcel 2 (slip-2.csv, 30 April 2026)`.
pub fn parcel(lists: &[List], account: &Account, index: usize) -> String {
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
        let mut text = format!("P{}: {} on the slip", &name[1..], count(of.pieces, "piece"));
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
                if of.opened > 0 {
                    text.push_str(&format!(", {} are claimed since", of.opened));
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
    match change.opened {
        0 => format!(
            "{} of {} claimed closed, {} still open",
            change.closed, change.before, change.open
        ),
        opened => format!("{opened} more claimed since, {} open", change.open),
    }
}

/// How the lists that check the required one agree with it, a sentence each.
pub fn compared(lists: &[List], account: &Account) -> Vec<String> {
    let required = lists.iter().find(|list| list.role == Role::Required);
    let against = required.map_or("the required list", |list| list.file.as_str());
    account
        .compared
        .iter()
        .map(|of| {
            let mut text = format!(
                "{} against {against}: {} of stage and item agree, {} differ",
                lists[of.list].file,
                count(of.agree, "line"),
                of.differ
            );
            if of.unread > 0 {
                text.push_str(&format!(", {} could not be compared", of.unread));
            }
            text
        })
        .collect()
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

/// What was found about an item, a line each.
pub fn found(item: &ItemAccount) -> String {
    let words: Vec<String> = item.findings.iter().map(finding).collect();
    let unsaid = not_known(item).map(str::to_owned);
    unsaid
        .into_iter()
        .chain(words)
        .collect::<Vec<_>>()
        .join("\n")
}

/// The same in a few words: `box is short 8, wrong size packed 8`.
pub fn found_briefly(item: &ItemAccount) -> String {
    let found = item.findings.iter();
    let words = found.map(|f| match (f.finding, f.note.split_once(": if")) {
        (FindingKind::MayBeSame, Some((other, _))) => other.to_owned(),
        _ => format!("{} {}", f.finding, f.pieces),
    });
    let unsaid = not_known(item).map(str::to_owned);
    unsaid
        .into_iter()
        .chain(words)
        .collect::<Vec<_>>()
        .join(", ")
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

/// Headings of columns, with what is said before them.
fn columns(what: &str, headings: &[Box<str>]) -> Option<String> {
    let noun = if headings.len() == 1 {
        "column"
    } else {
        "columns"
    };
    (!headings.is_empty()).then(|| format!("{what} the {noun} {}", quoted(headings)))
}

/// Says of all sheets of which the same columns were not read that they were not, beside the first of
/// them.
fn unread(list: &List, at: usize, name: &str) -> Option<String> {
    let own = &list.sheets[at].unread_columns;
    let said = columns("not read:", own)?;
    let sheets = list.sheets.iter().enumerate();
    let mut alike = sheets.filter(|(_, sheet)| sheet.unread_columns == *own);
    alike.next().filter(|(first, _)| *first == at)?;
    let named = match alike.count() as u64 {
        0 => name.to_owned(),
        more => format!("{name} and {more} more"),
    };
    Some(format!(
        "{named}: {said}; where one says what, how many or where, name it in a job file (columns), \
         which \"tallybin draft\" begins for you"
    ))
}

/// Sheets that a note names.
const SHOWN_SHEETS: usize = 3;

/// Says of all sheets that were passed over for one reason that they were, beside the first of them.
fn passed_over_for(list: &List, at: usize, why: &str, name: &str) -> Option<String> {
    let sheets = list.sheets.iter().enumerate();
    let mut alike = sheets.filter(|(_, sheet)| sheet.passed_over.as_deref() == Some(why));
    alike.next().filter(|(first, _)| *first == at)?;
    let others: Vec<&str> = alike
        .filter_map(|(_, sheet)| sheet.name.as_deref())
        .collect();
    if others.is_empty() {
        return Some(format!("{name} was passed over: {why}"));
    }
    let (shown, more) = others.split_at(others.len().min(SHOWN_SHEETS - 1));
    let shown = shown.join(", ");
    let more = match more.len() {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    Some(format!(
        "{} were passed over ({name}, {shown}{more}): {why}",
        count(others.len() as u64 + 1, "sheet")
    ))
}

/// What there is to say of a list's sheets: those passed over, and why; what should be asked; hidden rows; columns that were not read.
pub fn sheets(list: &List) -> impl Iterator<Item = String> + '_ {
    list.sheets.iter().enumerate().flat_map(|(at, sheet)| {
        let name = match &sheet.name {
            Some(name) => format!("sheet {name}"),
            None => "the file".to_owned(),
        };
        let passed_over = sheet.passed_over.as_deref();
        let hidden = sheet.hidden_rows.filter(|rows| *rows > 0);
        [
            passed_over.and_then(|why| passed_over_for(list, at, why, &name)),
            (sheet.hidden && passed_over.is_none())
                .then(|| format!("{name} is hidden, and counted")),
            hidden.map(|rows| format!("{name}: {} hidden, and counted", count(rows, "row"))),
            // A column of counts is never passed over unsaid.
            unread(list, at, &name),
            columns("a quantity in each of", &sheet.spread_columns),
            sheet.question.clone(),
        ]
        .into_iter()
        .flatten()
        .chain(
            sheet
                .notes
                .iter()
                .map(move |note| format!("{name}: {note}")),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        kit::SheetRead,
        settle::{
            sample::{ListOf, plain, stage as at_stage},
            settle,
        },
    };

    #[track_caller]
    fn folds(runs: &[(u32, u32)], expected: &str) {
        assert_eq!(rows(runs), expected);
    }

    #[test]
    fn rows_are_folded() {
        folds(&[], "");
        folds(&[(7, 7)], "7");
        folds(&[(12, 14), (20, 20)], "12-14, 20");
        folds(&[(1, 1), (2, 2), (3, 3)], "1-3");
        folds(&[(1, 4), (3, 9), (11, 12)], "1-9, 11-12");
        folds(&[(9, 9), (2, 3)], "9, 2-3");
        folds(&[(1, u32::MAX), (5, 6)], &format!("1-{}", u32::MAX));
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

    #[test]
    fn names_that_say_what_they_are_need_no_word_before_them() {
        assert_eq!(bags("bag", "A, B"), "bag A, B");
        assert_eq!(bags("Bag", "Box 2"), "Box 2");
    }

    #[track_caller]
    fn passed_over(named: &[(&str, &str)], expected: &[&str]) {
        let list = ListOf::counted().edit(|list| {
            list.sheets = named
                .iter()
                .map(|(name, why)| SheetRead {
                    name: Some((*name).into()),
                    passed_over: Some((*why).into()),
                    ..SheetRead::default()
                })
                .collect();
        });
        assert_eq!(sheets(&list.list()).collect::<Vec<_>>(), expected);
    }

    #[test]
    fn sheets_passed_over_for_one_reason_are_one_line() {
        passed_over(
            &[("Bins", "not a count")],
            &["sheet Bins was passed over: not a count"],
        );
        passed_over(
            &[
                ("Summary", "not a count"),
                ("Old", "hidden sheet"),
                ("Bins", "not a count"),
                ("Bags", "not a count"),
                ("Claim", "not a count"),
                ("Labels", "not a count"),
            ],
            &[
                "5 sheets were passed over (sheet Summary, Bins, Bags and 2 more): not a count",
                "sheet Old was passed over: hidden sheet",
            ],
        );
    }

    #[track_caller]
    fn bare(name: &str, number: usize, expected: &str) {
        assert_eq!(bare_name(name, number), expected);
    }

    #[test]
    fn a_stage_is_not_numbered_twice() {
        bare("3 Cross frames", 3, "Cross frames");
        bare("Stage 3: Cross frames", 3, "Cross frames");
        bare("3. Cross frames", 3, "Cross frames");
        bare("3 Cross frames", 2, "3 Cross frames");
        bare("30 ft span", 3, "30 ft span");
        bare("3", 3, "3");
        bare("Stage 3", 3, "Stage 3");
        bare("", 1, "whole kit");
    }
}
