//! The Summary: the answer first, then what is missing, stage by stage, what needs a person's eye,
//! where the figures come from, and the sums.

use rust_xlsxwriter::{ColNum, RowNum, Workbook, XlsxError};

use super::{
    Report, by_stage, check, count_sheet,
    sheet::{Pen, lines_of},
    shortages,
    style::{self, Paper},
};
use crate::{
    kit::{LineStatus, RowTally},
    report::wording,
};

pub const NAME: &str = "Summary";
/// Columns of the page, and their widths in characters.
const WIDTHS: [f64; 9] = [6.0, 26.0, 46.0, 13.0, 13.0, 13.0, 13.0, 13.0, 15.0];
const ALL: ColNum = WIDTHS.len() as ColNum;
/// Rows of a list before it goes on in its own sheet.
const FEW: usize = 8;

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let sheet = workbook.add_worksheet().set_name(NAME)?;
    let mut pen = Pen::on(sheet);
    pen.wrap_at(WIDTHS);
    answer(&mut pen, report)?;
    missing(&mut pen, report)?;
    stages(&mut pen, report)?;
    eye(&mut pen, report)?;
    let evidence = pen.next();
    sources(&mut pen, report)?;
    sums(&mut pen, report)?;
    cautions(&mut pen, report)?;
    pen.end_row()?;
    // The answer is one page, what it rests on another.
    pen.sheet().set_page_breaks(&[evidence])?;
    for (column, width) in WIDTHS.iter().enumerate() {
        pen.sheet().set_column_width(column as ColNum, *width)?;
    }
    style::print(pen.sheet(), &Paper::Landscape, None, &report.footer())
}

/// A paragraph across the page, as high as its words want.
fn paragraph(
    pen: &mut Pen<'_>,
    text: &str,
    format: &rust_xlsxwriter::Format,
) -> Result<(), XlsxError> {
    let lines = lines_of(text, WIDTHS.iter().sum::<f64>() - 4.0);
    pen.tall(13.0 * lines as f64 + 2.0)?
        .wide(ALL, text, format)?;
    Ok(())
}

fn section(pen: &mut Pen<'_>, report: &Report<'_>, title: &str) -> Result<(), XlsxError> {
    pen.tall(8.0)?;
    pen.tall(22.0)?.wide(ALL, title, &report.style.section)?;
    Ok(())
}

/// Headings of one of the page's tables, five of them over numbers.
fn headings(
    pen: &mut Pen<'_>,
    report: &Report<'_>,
    names: [&str; WIDTHS.len()],
) -> Result<(), XlsxError> {
    let lines = names
        .iter()
        .zip(WIDTHS)
        .map(|(name, width)| lines_of(name, width - 2.5));
    pen.tall(5.0 + 13.0 * lines.max().unwrap_or(1) as f64)?;
    for (column, name) in names.iter().enumerate() {
        let format = match (3..8).contains(&column) {
            true => &report.style.head_number,
            false => &report.style.head,
        };
        pen.plain(name, format)?;
    }
    Ok(())
}

fn answer(pen: &mut Pen<'_>, report: &Report<'_>) -> Result<(), XlsxError> {
    let (style, account) = (&report.style, report.account);
    pen.tall(32.0)?.wide(ALL, &report.job.name, &style.title)?;
    let about = format!("{}. Settled {}.", wording::job(report.job), report.when);
    pen.row()?.wide(ALL, &about, &style.subtitle)?;
    pen.tall(6.0)?;
    let answer = format!(
        "May the job start?   {}.   {}",
        wording::verdict(account.verdict),
        wording::stop(account)
    );
    pen.tall(34.0)?.wide(ALL, &answer, &style.verdict)?;
    pen.tall(22.0)?
        .wide(ALL, &wording::shortage(account), &style.verdict_more)?;
    for reason in account.reasons.iter().take(FEW) {
        paragraph(pen, &format!("– {reason}"), &style.body)?;
    }
    if account.reasons.len() > FEW {
        let more = format!("– and {} more reasons", account.reasons.len() - FEW);
        paragraph(pen, &more, &style.body)?;
    }
    Ok(())
}

fn missing(pen: &mut Pen<'_>, report: &Report<'_>) -> Result<(), XlsxError> {
    let (style, account) = (&report.style, report.account);
    let entries = shortages::entries(account);
    let short: Vec<_> = entries
        .iter()
        .enumerate()
        .filter_map(|(row, e)| e.share.map(|share| (row, e.item, share)))
        .collect();
    section(pen, report, "What is missing")?;
    if short.is_empty() {
        return paragraph(pen, "Nothing.", &style.body);
    }
    headings(
        pen,
        report,
        [
            "No.", "Stage", "Item", "Required", "Shipped", "Counted", "Damaged", "Short", "Go to",
        ],
    )?;
    for (row, item, share) in short.iter().take(FEW) {
        pen.row()?
            .number(share.stage as u64 + 1, style.stage(share.stage))?
            .text(wording::stage_name(account, share.stage), &style.wrap)?
            .text(&item.text, &style.wrap)?
            .number(share.required, &style.number)?
            .number_or(item.shipped, "no slip", &style.number)?
            .number_or(item.counted, wording::NOT_COUNTED, &style.number)?
            .number(item.sums.damaged, &style.number)?
            .number(share.short, &style.strong_number)?;
        let target = shortages::FIRST + *row as RowNum;
        pen.jump("see the row", shortages::NAME, target, &style.link)?;
    }
    if short.len() > FEW {
        let more = format!("and {} more", short.len() - FEW);
        pen.row()?.skip(2).text(&more, &style.cell)?.skip(5).jump(
            "see all",
            shortages::NAME,
            shortages::FIRST,
            &style.link,
        )?;
    }
    Ok(())
}

fn stages(pen: &mut Pen<'_>, report: &Report<'_>) -> Result<(), XlsxError> {
    let (style, account) = (&report.style, report.account);
    section(pen, report, "How far the crew can get")?;
    headings(
        pen,
        report,
        [
            "No.",
            "Stage",
            "State",
            "Required",
            "Covered",
            "Substituted",
            "From stock",
            "Short",
            "Go to",
        ],
    )?;
    let rows = by_stage::stage_rows(account);
    for (index, stage) in account.stages.iter().enumerate() {
        let mut state = wording::readiness(stage.ready).to_owned();
        if !stage.reasons.is_empty() {
            state = format!("{state}: {}", stage.reasons.join("; "));
        }
        if account.stops_at == Some(index) {
            state.push_str(" – the build stops here");
        }
        let short = if stage.short > 0 {
            &style.strong_number
        } else {
            &style.number
        };
        pen.row()?
            .number(index as u64 + 1, style.stage(index))?
            .text(wording::stage_name(account, index), &style.wrap)?
            .text(&state, &style.wrap)?
            .number(stage.required, &style.number)?
            .number(stage.covered, &style.number)?
            .number(stage.substituted, &style.number)?
            .number(stage.from_stock, &style.number)?
            .number(stage.short, short)?
            .jump("see its items", by_stage::NAME, rows[index], &style.link)?;
    }
    Ok(())
}

fn eye(pen: &mut Pen<'_>, report: &Report<'_>) -> Result<(), XlsxError> {
    let style = &report.style;
    section(pen, report, "What needs a person's eye")?;
    let sum = |pick: fn(&RowTally) -> u64| report.lists.iter().map(|l| pick(&l.tally)).sum::<u64>();
    let (check, aside) = (sum(|t| t.check), sum(|t| t.aside));
    let uncounted = report
        .account
        .items
        .iter()
        .filter(|i| i.sums.required > 0 && i.counted.is_none())
        .count() as u64;
    let mut clean = true;
    for finding in &report.account.findings {
        clean = false;
        let text = format!(
            "{}: {} ({})",
            finding.finding,
            finding.note,
            wording::addresses(report.lists, &finding.evidence)
        );
        paragraph(pen, &format!("– {text}"), &style.body)?;
    }
    let told = [
        (
            aside,
            wording::count(aside, "line"),
            "not understood, kept aside and not summed",
            check::NAME,
        ),
        (
            check,
            wording::count(check, "line"),
            "understood with a doubt",
            check::NAME,
        ),
        (
            uncounted,
            wording::count(uncounted, "item"),
            "not counted: the slip is believed",
            count_sheet::NAME,
        ),
    ];
    for (number, what, text, target) in told {
        if number == 0 {
            continue;
        }
        clean = false;
        pen.row()?
            .blank(&style.cell)?
            .text(&what, &style.strong)?
            .text(text, &style.cell)?;
        for _ in 3..8 {
            pen.blank(&style.cell)?;
        }
        pen.jump("see them", target, 0, &style.link)?;
    }
    for (list, line, status) in check::entries(report.lists).take(FEW / 2) {
        if status == LineStatus::Aside {
            let text = format!(
                "– {}: \"{}\": {}",
                wording::line_address(list, line),
                list.text_of(line),
                wording::why(list, line).join("; ")
            );
            paragraph(pen, &text, &style.body)?;
        }
    }
    if clean {
        paragraph(pen, "Nothing.", &style.body)?;
    }
    Ok(())
}

fn sources(pen: &mut Pen<'_>, report: &Report<'_>) -> Result<(), XlsxError> {
    let style = &report.style;
    section(pen, report, "Where the figures come from")?;
    headings(
        pen,
        report,
        [
            "", "List", "File", "Rows", "= read", "+ check", "+ aside", "+ other", "",
        ],
    )?;
    for list in report.lists {
        let t = &list.tally;
        let mut file = list.file.clone();
        if let Some(revision) = &list.revision {
            file.push_str(&format!(" ({revision})"));
        }
        for sheet in &list.sheets {
            if let Some(why) = &sheet.passed_over {
                let name = sheet.name.as_deref().unwrap_or("");
                file.push_str(&format!("\nsheet {name} passed over: {why}"));
            }
        }
        pen.row()?
            .blank(&style.cell)?
            .text(list.role.as_str(), &style.cell)?
            .text(&file, &style.wrap)?
            .number(t.rows, &style.number)?
            .number(t.read, &style.number)?
            .number(t.check, &style.number)?
            .number(t.aside, &style.number)?
            .number(t.other, &style.number)?
            .blank(&style.cell)?;
    }
    paragraph(
        pen,
        "other: headings, blank rows, totals and titles. No line is dropped.",
        &style.note,
    )
}

fn sums(pen: &mut Pen<'_>, report: &Report<'_>) -> Result<(), XlsxError> {
    let (style, t) = (&report.style, &report.account.totals);
    section(pen, report, "The sums: pieces are neither lost nor made")?;
    headings(
        pen,
        report,
        [
            "",
            "What is due",
            "",
            "Required",
            "= covered",
            "+ substituted",
            "+ from stock",
            "+ short",
            "",
        ],
    )?;
    pen.row()?
        .blank(&style.cell)?
        .text("pieces", &style.cell)?
        .blank(&style.cell)?;
    for n in [t.required, t.covered, t.substituted, t.from_stock, t.short] {
        pen.number(n, &style.number)?;
    }
    pen.blank(&style.cell)?;
    headings(
        pen,
        report,
        [
            "",
            "What is on hand",
            "On hand + returned",
            "Sum",
            "= used",
            "+ as substitute",
            "+ discarded",
            "+ extra",
            "",
        ],
    )?;
    let hand = format!("{} + {}", t.pool, t.returned);
    pen.row()?
        .blank(&style.cell)?
        .text("pieces", &style.cell)?
        .text(&hand, &style.cell)?
        .number(t.pool + t.returned, &style.number)?;
    for n in [t.used, t.used_as_substitute, t.discarded, t.extra] {
        pen.number(n, &style.number)?;
    }
    pen.blank(&style.cell)?;
    let beside = format!(
        "Beside these: {} damaged, in no sum; spares wanted {}, of which on hand {}.",
        t.damaged, t.spares, t.spares_covered
    );
    paragraph(pen, &beside, &style.note)
}

fn cautions(pen: &mut Pen<'_>, report: &Report<'_>) -> Result<(), XlsxError> {
    section(pen, report, "Before you build")?;
    for caution in wording::CAUTIONS {
        paragraph(pen, &format!("– {caution}"), &report.style.body)?;
    }
    Ok(())
}
