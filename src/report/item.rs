//! One item's whole account on the terminal: who asks for it, who supplies it, how it was dealt out,
//! and why the rest is short or over.

use std::io::{self, Write};

use super::{wording, wrap::wrapped};
use crate::{
    kit::{Job, List, Usage},
    settle::{Account, Evidence, ItemAccount, Rows},
};

/// Writes the account of each item, one after another.
///
/// # Errors
/// What the writer reports.
pub fn explain(
    job: &Job,
    lists: &[List],
    account: &Account,
    items: &[&ItemAccount],
    mut out: impl Write,
) -> io::Result<()> {
    for (index, item) in items.iter().enumerate() {
        if index > 0 {
            writeln!(out)?;
        }
        one(job, lists, account, item, &mut out)?;
    }
    out.flush()
}

fn one(
    job: &Job,
    lists: &[List],
    account: &Account,
    item: &ItemAccount,
    out: &mut impl Write,
) -> io::Result<()> {
    let mut names = vec![format!("id {}", item.id)];
    names.extend(
        item.part_numbers
            .iter()
            .map(|number| format!("no. {number}")),
    );
    wrapped(out, "", 2, &format!("{} ({})", item.text, names.join(", ")))?;
    lines(lists, "Asked for by", "no list", &item.required_by, out)?;
    lines(lists, "On the slip", "no line", &item.shipped_by, out)?;
    lines(lists, "Counted", "no line", &item.counted_by, out)?;
    for (title, of_the_kit) in [("Of a substitute", true), ("In stock", false)] {
        let of = item
            .stand_ins
            .iter()
            .filter(|of| of.item.is_some() == of_the_kit);
        let rows = Rows::together(of.map(|of| &of.evidence));
        if !rows.is_empty() {
            lines(lists, title, "no line", &rows, out)?;
        }
    }

    writeln!(out, "Dealt out, stage after stage:")?;
    if item.shares.is_empty() {
        writeln!(out, "  - no stage needs it")?;
    }
    for share in &item.shares {
        let mut text = format!(
            "{}: {} of {}",
            wording::stage(account, share.stage),
            share.covered,
            share.required
        );
        for draw in wording::draws(item, share.stage) {
            text.push_str(&format!(" ({draw})"));
        }
        for (pieces, how) in [
            (share.substituted, "substituted"),
            (share.from_stock, "from stock"),
            (share.short, "short"),
            (share.may_lack, "of them in doubt"),
        ] {
            if pieces > 0 {
                text.push_str(&format!(", {pieces} {how}"));
            }
        }
        wrapped(out, "  - ", 4, &text)?;
    }
    for stand_in in &item.stand_ins {
        let text = format!(
            "{}: {}",
            wording::stage(account, stand_in.stage),
            wording::stand_in(job, stand_in)
        );
        wrapped(out, "  - ", 4, &text)?;
    }
    for sum in wording::sums(&item.sums) {
        wrapped(out, "", 4, &sum)?;
    }
    why(item, out)
}

/// The rows of some evidence, each as written with what was read of it.
fn lines(
    lists: &[List],
    title: &str,
    none: &str,
    evidence: &[Evidence],
    out: &mut impl Write,
) -> io::Result<()> {
    writeln!(out, "{title}:")?;
    if evidence.is_empty() {
        writeln!(out, "  - {none}")?;
    }
    for evidence in evidence {
        let list = &lists[evidence.list];
        for line in list.lines_in(evidence.sheet, &evidence.rows) {
            let placement = list.placement_of(line);
            let mut text = format!("{}: \"{}\": ", list.address_of(line), list.text_of(line));
            match line.quantity {
                Some(quantity) => text.push_str(&crate::words::count(quantity, "piece")),
                None => text.push_str("no number of pieces"),
            }
            if line.places > 1 {
                text.push_str(&format!(" at each of {} places", line.places));
            }
            if line.damaged() > 0 {
                text.push_str(&format!(", and {} damaged", line.damaged()));
            }
            if line.back_ordered() > 0 {
                text.push_str(&format!(", and {} back-ordered", line.back_ordered()));
            }
            for (what, name) in [("bag", &placement.bag), ("box", &placement.carton)] {
                if let Some(name) = name {
                    text.push_str(&format!(", {what} {name}"));
                }
            }
            if let Some(usage) = placement.usage.filter(|usage| *usage != Usage::New) {
                text.push_str(&format!(", {usage}"));
            }
            if let Some(option) = &placement.option {
                text.push_str(&format!(", {}", wording::option(option)));
            }
            for doubt in wording::why(list, line) {
                text.push_str(&format!("; check: {doubt}"));
            }
            wrapped(out, "  - ", 4, &text)?;
        }
    }
    Ok(())
}

/// Why the rest is short or over, and what is not sure.
fn why(item: &ItemAccount, out: &mut impl Write) -> io::Result<()> {
    let mut reasons: Vec<String> = item.findings.iter().map(wording::finding).collect();
    if item.believed > 0 {
        reasons.push(format!(
            "{} on the slip are not counted: taken to be there",
            crate::words::count(item.believed, "piece")
        ));
    }
    if !item.known && item.sums.short > 0 {
        reasons.push(match item.counted {
            _ if item.open.is_some() => "nobody can say whether it is short".to_owned(),
            None => "neither counted nor on a slip: nobody knows how many are there".to_owned(),
            Some(_) => "some of its bags are not counted: the rest may be in those".to_owned(),
        });
    }
    if item.sums.spares > 0 {
        reasons.push(format!(
            "{} of {} are there",
            item.sums.spares_covered,
            crate::words::count(item.sums.spares, "spare")
        ));
    }
    if item.to_bring > 0 {
        reasons.push(format!(
            "{} to be brought: not part of the kit",
            crate::words::count(item.to_bring, "piece")
        ));
    }
    reasons.extend(item.doubts.iter().map(|doubt| format!("check: {doubt}")));
    if reasons.is_empty() {
        reasons.push("nothing is short or over".to_owned());
    }
    writeln!(out, "Why:")?;
    for reason in reasons {
        wrapped(out, "  - ", 4, &reason)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::fixture;

    #[test]
    fn the_whole_account_of_an_item() {
        let mut f = fixture::footbridge();
        f.account.items[0].findings[0].note = "The slip lists 3 more.".to_owned();
        let mut out = Vec::new();
        let items: Vec<&ItemAccount> = f.account.items.iter().collect();
        explain(&f.job, &f.lists, &f.account, &items, &mut out).expect("writes");
        pretty_assertions::assert_eq!(
            String::from_utf8(out).expect("UTF-8"),
            "\
1/2 x 6 hex bolt (id B1)
Asked for by:
  - parts.xlsx, sheet Stages, row 8: \"Sills | 1/2 x 6 hex bolt | 8\": 8 pieces
  - parts.xlsx, sheet Stages, row 9: \"Rails | 1/2 x 6 hex bolt | 16\": 16 pieces
On the slip:
  - slip.csv, line 2: \"HHCS 1/2X6,24\": 24 pieces
Counted:
  - count.xlsx, sheet Count sheet, row 2: \"1/2 x 6 hex bolt | 20 | 1\": 20 pieces
Dealt out, stage after stage:
  - stage 1, Sills: 8 of 8
  - stage 2, Rails: 12 of 16, 4 short
required 24 = covered 20 + substituted 0 + from stock 0 + short 4
on hand 20 + returned 0 = used 20 + used as substitute 0 + discarded 0 + extra 0
Why:
  - box is short 3: The slip lists 3 more.
  - damaged 1: 1 is damaged

FB-7 ladder hook (id P1, no. FB-7)
Asked for by:
  - parts.xlsx, sheet Stages, row 10: \"Hooks | FB-7 ladder hook | 2\": 2 pieces
On the slip:
  - slip.csv, line 3: \"FB-7 HOOK,2\": 2 pieces
Counted:
  - no line
Dealt out, stage after stage:
  - stage 3, Hooks: 2 of 2
required 2 = covered 2 + substituted 0 + from stock 0 + short 0
on hand 2 + returned 0 = used 2 + used as substitute 0 + discarded 0 + extra 0
Why:
  - 2 pieces on the slip are not counted: taken to be there
"
        );
    }
}
