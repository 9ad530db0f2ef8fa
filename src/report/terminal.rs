//! What the terminal shows: how each line reads, and the verdict. Plain text, no colour, as wide as
//! the terminal, at most [`WIDTH`](super::wrap::WIDTH) columns.

use std::io::{self, Write};

use super::{why, wording, wrap::wrapped};
use crate::{
    audit::Audit,
    kit::{Job, Line, LineStatus, List, RowTally, What, draft},
    settle::{Account, FindingKind, Verdict},
};

/// Rows of the shortage table and of the list of lines to look at; the workbook has them all.
const WORST: u64 = 10;
/// Lines that the questions on the list take.
const QUESTIONS: usize = 5;
/// Where the reading of a line starts, in `lines`.
const READING: usize = 24;

/// Writes how each line of the lists reads, with its doubts under it, and the row sum a source.
///
/// # Errors
/// What the writer reports.
pub fn lines(lists: &[List], mut out: impl Write) -> io::Result<()> {
    for (index, list) in lists.iter().enumerate() {
        if index > 0 {
            writeln!(out)?;
        }
        writeln!(out, "{}", list.file)?;
        let texts: Vec<String> = list.readings.iter().map(|r| r.item.text()).collect();
        let (mut sheet, mut stage) = (None, None);
        if !list.words.is_empty() {
            wrapped(&mut out, "", 0, &why::key())?;
        }
        for (at, line) in list.lines.iter().enumerate() {
            if sheet != Some(line.sheet) {
                sheet = Some(line.sheet);
                if let Some(name) = &list.sheets[usize::from(line.sheet)].name {
                    writeln!(out, "sheet {name}")?;
                }
                writeln!(out, "{:>7} {:<5} {:>8}  reads as", "row", "state", "pieces")?;
            }
            let named = list.placement_of(line).stage.as_deref();
            if named != stage {
                stage = named;
                writeln!(out, "  {}", named.unwrap_or("no stage named"))?;
            }
            one_line(list, line, &texts, &mut out)?;
            if let Some((words, true)) = why::words(list, at) {
                let item = list.reading_of(line).map(|reading| &reading.item);
                why::write(words, &list.known, item, READING, &mut out)?;
            }
        }
        for told in wording::sheets(list) {
            writeln!(out, "{told}")?;
        }
        writeln!(out, "{}", row_sum(&list.tally))?;
    }
    out.flush()
}

fn one_line(list: &List, line: &Line, texts: &[String], out: &mut impl Write) -> io::Result<()> {
    let status = list.status_of(line);
    let pieces = line.quantity.map(|q| q.to_string()).unwrap_or_default();
    let mut reading = match &line.what {
        What::Item(index) => texts[*index as usize].clone(),
        What::Bag { received } => match received {
            Some(true) => "bag or box, received".to_owned(),
            Some(false) => "bag or box, not received".to_owned(),
            None => "bag or box".to_owned(),
        },
        What::Aside(_) => format!("\"{}\"", list.text_of(line)),
    };
    let placement = list.placement_of(line);
    if list
        .reading_of(line)
        .is_some_and(|reading| reading.comes_with)
    {
        reading.push_str(", comes with it");
    }
    if line.places > 1 {
        reading.push_str(&format!(", at {} places", line.places));
    }
    if line.damaged() > 0 {
        reading.push_str(&format!(", and {} damaged", line.damaged()));
    }
    if let Some(bag) = &placement.bag {
        reading.push_str(&format!(" [bag {bag}]"));
    }
    if let Some(carton) = &placement.carton {
        reading.push_str(&format!(" [box {carton}]"));
    }
    if let Some(option) = &placement.option {
        reading.push_str(&format!(" [{}]", wording::option(option)));
    }
    if let Some(usage) = placement.usage {
        reading.push_str(&format!(" [{usage}]"));
    }
    let head = format!("{:>7} {status:<5} {pieces:>8}  ", line.row);
    wrapped(out, &head, READING, &reading)?;
    if status == LineStatus::Check {
        wrapped(
            out,
            &" ".repeat(READING),
            READING,
            &format!("\"{}\"", list.text_of(line)),
        )?;
    }
    for why in wording::why(list, line) {
        let head = format!("{}? ", " ".repeat(READING));
        wrapped(out, &head, READING + 2, &why)?;
    }
    Ok(())
}

/// `64 rows = 50 read + 3 check + 1 aside + 10 headings, blank rows and totals`.
fn row_sum(tally: &RowTally) -> String {
    format!(
        "{} rows = {} read + {} check + {} aside + {} headings, blanks and totals",
        tally.rows, tally.read, tally.check, tally.aside, tally.other
    )
}

/// Writes the verdict: may the job start, where it stops, the worst shortages, what needs a
/// person's eye, the sums.
///
/// # Errors
/// What the writer reports.
pub fn verdict(
    job: &Job,
    lists: &[List],
    account: &Account,
    audit: &Audit,
    mut out: impl Write,
) -> io::Result<()> {
    wrapped(
        &mut out,
        "",
        0,
        &format!("{} ({})", job.name, wording::job(job)),
    )?;
    writeln!(out)?;
    let answer = match account.verdict {
        Verdict::Yes => "YES",
        Verdict::No => "NO",
        Verdict::CannotSay => "CAN'T SAY",
    };
    writeln!(out, "{}  {answer}", draft::VERDICT)?;
    wrapped(&mut out, "", 0, &wording::stop(job, account))?;
    if let Some(text) = wording::without_options(job, lists, account) {
        wrapped(&mut out, "", 0, &text)?;
    }
    for reason in &account.reasons {
        wrapped(&mut out, "  - ", 4, reason)?;
    }
    for doubt in wording::doubts_summed_up(account) {
        wrapped(&mut out, "  - ", 4, &doubt)?;
    }
    writeln!(out)?;
    wrapped(&mut out, "", 0, &wording::shortage_told(account))?;
    if let Some(text) = wording::whole_kits(job, account) {
        wrapped(&mut out, "", 0, &text)?;
    }
    substitutes(job, account, &mut out)?;
    shortages(account, &mut out)?;
    names_to_join(account, &mut out)?;
    wrong_bags(account, &mut out)?;
    stock(account, &mut out)?;
    left_over(account, &mut out)?;
    parcels(lists, account, &mut out)?;
    eye(lists, account, &mut out)?;
    questions(account, audit, &mut out)?;
    writeln!(out)?;
    sums(lists, account, &mut out)?;
    writeln!(out)?;
    for caution in wording::CAUTIONS {
        wrapped(&mut out, "", 0, caution)?;
    }
    out.flush()
}

/// What the required lists ask by themselves, in [`QUESTIONS`] lines at most; the workbook has all.
fn questions(account: &Account, audit: &Audit, out: &mut impl Write) -> io::Result<()> {
    if audit.findings.is_empty() {
        return Ok(());
    }
    let all = audit.findings.len() as u64;
    writeln!(out)?;
    writeln!(
        out,
        "{} on the list itself, for the kit maker ({} likely an error)",
        crate::words::count(all, "question"),
        audit.tally().strong
    )?;
    let mut shown = 1;
    for finding in &audit.findings {
        let mut lines = Vec::new();
        wrapped(&mut lines, "  - ", 4, &wording::question(account, finding))?;
        shown += lines.iter().filter(|byte| **byte == b'\n').count();
        if shown > QUESTIONS {
            break;
        }
        out.write_all(&lines)?;
    }
    Ok(())
}

/// What serves under the job's rules in place of the kit's own pieces.
fn substitutes(job: &Job, account: &Account, out: &mut impl Write) -> io::Result<()> {
    let serving = account.items.iter().flat_map(|item| {
        let by_rule = item.stand_ins.iter().filter(|of| of.rule.is_some());
        by_rule.map(move |of| (item, of))
    });
    let rows: Vec<String> = serving
        .map(|(item, of)| {
            let stage = wording::stage(account, of.stage);
            format!("{}, {stage}: {}", item.text, wording::stand_in(job, of))
        })
        .collect();
    if rows.is_empty() {
        return Ok(());
    }
    writeln!(out)?;
    writeln!(out, "Substituted under the job's rules")?;
    for row in rows.iter().take(WORST as usize) {
        wrapped(out, "  - ", 4, row)?;
    }
    match rows.len().checked_sub(WORST as usize + 1) {
        Some(more) => writeln!(out, "  and {} more; see the sheet By stage", more + 1),
        None => Ok(()),
    }
}

/// The shortages where the job stops first, stage by stage, the largest first in each.
fn shortages(account: &Account, out: &mut impl Write) -> io::Result<()> {
    let mut rows: Vec<_> = account
        .items
        .iter()
        .flat_map(|item| item.shares.iter().map(move |share| (item, share)))
        .filter(|(_, share)| share.short + share.may_lack > 0)
        .collect();
    if rows.is_empty() || wording::nothing_seen(account) {
        return Ok(());
    }
    rows.sort_by_key(|(_, share)| (share.stage, std::cmp::Reverse(share.short + share.may_lack)));
    writeln!(out, "{:>14}   in the whole job:", "short here,")?;
    writeln!(
        out,
        "{:>14} {:>9} {:>9} {:>9}   item",
        "of required", "required", "shipped", "counted"
    )?;
    let mut stage = None;
    for (item, share) in rows.iter().take(WORST as usize) {
        if stage != Some(share.stage) {
            stage = Some(share.stage);
            wrapped(out, "", 2, &wording::stage(account, share.stage))?;
        }
        let or = |count: Option<u64>| count.map_or("-".to_owned(), |n| n.to_string());
        let head = format!(
            "{:>14} {:>9} {:>9} {:>9}   ",
            match wording::known_short_in(item, share) {
                Some(short) => format!("{short} of {}", share.required),
                None => wording::cannot_say(share.at_least).into_owned(),
            },
            item.sums.required,
            or(item.shipped),
            or(item.counted)
        );
        let indent = head.chars().count();
        wrapped(out, &head, indent, &item.text)?;
        let found = wording::found_briefly(item);
        if !found.is_empty() {
            wrapped(out, &" ".repeat(indent), indent, &found)?;
        }
    }
    if let Some(more) = rows.len().checked_sub(WORST as usize + 1) {
        writeln!(
            out,
            "and {} more; the workbook's Shortages sheet names the rows of each",
            more + 1
        )?;
    }
    Ok(())
}

/// What lies in another bag than the lists say, of items that nothing is short of.
fn wrong_bags(account: &Account, out: &mut impl Write) -> io::Result<()> {
    let items = account.items.iter().filter(|item| item.sums.short == 0);
    let rows: Vec<String> = items
        .flat_map(|item| {
            let found = item.findings.iter();
            let wrong = found.filter(|found| found.finding == FindingKind::WrongBag);
            wrong.map(move |found| format!("{}: {}", item.text, wording::finding(found)))
        })
        .collect();
    if rows.is_empty() {
        return Ok(());
    }
    writeln!(out)?;
    writeln!(out, "Not short, but in another bag")?;
    for row in rows.iter().take(WORST as usize) {
        wrapped(out, "  - ", 4, row)?;
    }
    match rows.len().checked_sub(WORST as usize + 1) {
        Some(more) => writeln!(out, "  and {} more; see the sheet Shortages", more + 1),
        None => Ok(()),
    }
}

/// What is left when the build is done and should not be, or should be and is not.
fn left_over(account: &Account, out: &mut impl Write) -> io::Result<()> {
    let Some(left) = &account.left_over else {
        return Ok(());
    };
    writeln!(out)?;
    writeln!(out, "Left over when the build is done")?;
    let odd: Vec<_> = left
        .iter()
        .filter(|of| of.more() + of.fewer() > 0)
        .collect();
    for of in odd.iter().take(WORST as usize) {
        let text = format!(
            "{}: {} found, {} expected. {}",
            of.text,
            of.found.unwrap_or(0),
            of.expected,
            wording::left_over(account, of)
        );
        wrapped(out, "  - ", 4, &text)?;
    }
    match odd.len().checked_sub(WORST as usize + 1) {
        Some(more) => writeln!(out, "  and {} more; see the sheet Left over", more + 1),
        None if odd.is_empty() => writeln!(out, "  as expected"),
        None => Ok(()),
    }
}

/// What the stock lent, and what is still to be bought.
fn stock(account: &Account, out: &mut impl Write) -> io::Result<()> {
    let Some(lent) = &account.put_back else {
        return Ok(());
    };
    let mut list = |title: &str, rows: Vec<String>, sheet: &str| -> io::Result<()> {
        writeln!(out)?;
        writeln!(out, "{title}")?;
        for row in rows.iter().take(WORST as usize) {
            wrapped(out, "  - ", 4, row)?;
        }
        match rows.len().checked_sub(WORST as usize + 1) {
            Some(more) => writeln!(out, "  and {} more; see the sheet {sheet}", more + 1),
            None if rows.is_empty() => writeln!(out, "  nothing"),
            None => Ok(()),
        }
    };
    let put_back = lent.iter().map(|lent| {
        let mut text = format!(
            "{}: {}",
            lent.text,
            wording::to_stages(account, &lent.stages)
        );
        if !lent.bins.is_empty() {
            text.push_str(&format!(" (from {})", lent.bins.join(", ")));
        }
        text
    });
    list("From stock, to be put back", put_back.collect(), "Put back")?;
    let buy = account.to_buy.iter().map(|buy| {
        let text = &account.items[buy.item].text;
        match buy.pack {
            Some(_) => format!("{text}: {} ({})", buy.pieces(), wording::to_buy(buy)),
            None => format!("{text}: {}", buy.pieces()),
        }
    });
    list("To buy", buy.collect(), "To buy")
}

/// How parts are joined that may be the same by other words: the very lines to write.
fn names_to_join(account: &Account, out: &mut impl Write) -> io::Result<()> {
    let lines = wording::names_to_join(account);
    let (shown, more) = lines.split_at(lines.len().min(WORST as usize));
    if shown.is_empty() {
        return Ok(());
    }
    writeln!(out)?;
    let lead = "Where two names are one part, write so in the job file (the slip's or the count's name first):";
    wrapped(out, "", 0, lead)?;
    writeln!(out, "  [names]")?;
    if lines.iter().any(|line| line.starts_with('#')) {
        writeln!(out, "  # take the # off the one that is right")?;
    }
    for line in shown {
        writeln!(out, "  {line}")?;
    }
    match more.len() {
        0 => Ok(()),
        more => writeln!(out, "  and {more} more; the Shortages sheet has all"),
    }
}

/// Where there are several parcels: what each brought, and what it closed of the claim.
fn parcels(lists: &[List], account: &Account, out: &mut impl Write) -> io::Result<()> {
    let sentences = wording::parcels(lists, account);
    if sentences.is_empty() {
        return Ok(());
    }
    writeln!(out)?;
    writeln!(out, "Parcels")?;
    for (index, sentence) in sentences.iter().enumerate() {
        wrapped(out, "  - ", 4, sentence)?;
        if index == 0 {
            continue;
        }
        let changes = &account.parcels[index].changes;
        for change in changes.iter().take(WORST as usize) {
            let text = format!(
                "{}: {}",
                account.items[change.item].text,
                wording::change(change)
            );
            wrapped(out, "      ", 8, &text)?;
        }
        if let Some(more) = changes.len().checked_sub(WORST as usize + 1) {
            writeln!(out, "      and {} more; the Claim sheet has all", more + 1)?;
        }
    }
    Ok(())
}

/// What a person should look at: findings about the job, lines aside, lines to check.
fn eye(lists: &[List], account: &Account, out: &mut impl Write) -> io::Result<()> {
    let total = |pick: fn(&RowTally) -> u64| lists.iter().map(|l| pick(&l.tally)).sum::<u64>();
    let (check, aside) = (total(|t| t.check), total(|t| t.aside));
    let compared = wording::compared(lists, account);
    let nothing = account.findings.is_empty() && account.rule_notes.is_empty();
    if check + aside == 0 && nothing && compared.is_empty() {
        return Ok(());
    }
    writeln!(out)?;
    writeln!(
        out,
        "For a person to look at: {} aside, {} to check",
        crate::words::count(aside, "line"),
        crate::words::count(check, "line")
    )?;
    for text in compared {
        wrapped(out, "  - ", 4, &text)?;
    }
    for finding in account.findings.iter().take(WORST as usize) {
        wrapped(out, "  - ", 4, &wording::job_finding(lists, finding))?;
    }
    if let Some(more) = account.findings.len().checked_sub(WORST as usize + 1) {
        writeln!(
            out,
            "  and {} more findings; the workbook's Summary has all",
            more + 1
        )?;
    }
    for note in account.rule_notes.iter().take(WORST as usize) {
        wrapped(out, "  - ", 4, note)?;
    }
    let mut shown = 0u64;
    'worst: for wanted in [LineStatus::Aside, LineStatus::Check] {
        for list in lists {
            for line in list.lines.iter().filter(|l| list.status_of(l) == wanted) {
                if shown == WORST {
                    break 'worst;
                }
                shown += 1;
                let text = format!(
                    "{}: \"{}\": {}",
                    list.address_of(line),
                    list.text_of(line),
                    wording::why(list, line).join("; ")
                );
                wrapped(out, "  - ", 4, &text)?;
            }
        }
    }
    let all = check + aside;
    if all > shown {
        writeln!(out, "  and {} more", all - shown)?;
    }
    Ok(())
}

fn sums(lists: &[List], account: &Account, out: &mut impl Write) -> io::Result<()> {
    for sum in wording::sums(&account.totals) {
        wrapped(out, "", 4, &sum)?;
    }
    for list in lists {
        let text = format!("{} ({}): {}", list.file, list.role, row_sum(&list.tally));
        wrapped(out, "", 4, &text)?;
        for told in wording::sheets(list) {
            wrapped(out, "  - ", 4, &told)?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{super::wrap::WIDTH, *};
    use crate::report::fixture;

    #[test]
    fn the_verdict_reads() {
        let f = fixture::footbridge();
        let mut out = Vec::new();
        verdict(&f.job, &f.lists, &f.account, &f.audit, &mut out).unwrap();
        let text = String::from_utf8(out).unwrap();
        for line in text.lines() {
            assert!(line.chars().count() <= WIDTH, "too wide: {line}");
        }
        for expected in [
            "Fern Gully footbridge (1 kit, with handrail)",
            "May the job start?  NO",
            "The build stops at stage 2 of 3, Rails.",
            "1 item short, 4 pieces in all.",
            "required 26 = covered 22 + substituted 0 + from stock 0 + short 4",
            "on hand 22 + returned 0 = used 22 + used as substitute 0 + discarded 0 + extra 0",
            "parts.xlsx (required): 6 rows = 3 read + 1 check + 1 aside + 1 headings, blanks and totals",
        ] {
            assert!(
                text.lines().any(|l| l == expected),
                "{expected}\nis not in\n{text}"
            );
        }
    }

    #[test]
    fn what_lies_in_another_bag_is_said() {
        let mut f = fixture::footbridge();
        let item = &mut f.account.items[1];
        item.findings.push(crate::settle::Finding {
            finding: FindingKind::WrongBag,
            pieces: 2,
            note: "Bag 2 lacks 2, and bag 4 has them.".to_owned(),
            evidence: crate::settle::Rows::default(),
        });
        item.sums.short = 0;
        let mut out = Vec::new();
        verdict(&f.job, &f.lists, &f.account, &f.audit, &mut out).expect("writes");
        let text = String::from_utf8(out).expect("UTF-8");
        let told = "\nNot short, but in another bag\n  - FB-7 ladder hook: in the wrong bag 2: Bag 2 lacks \
                    2, and bag 4 has them.\n";
        assert!(text.contains(told), "{text}");
    }
}
