//! The Summary: the answer first, then what is missing, stage by stage, what needs a person's eye,
//! where the figures come from, and the sums.

mod answer;

use rust_xlsxwriter::{ColNum, RowNum, Workbook, Worksheet, XlsxError};

use self::answer::Answer;
use super::{
    Report,
    by_stage::{self, State},
    check, count_sheet,
    measure::lines_of,
    questions,
    sheet::Pen,
    shortages,
    style::{self, Paper},
};
use crate::{
    kit::{LineStatus, RowTally},
    report::wording,
    settle::Verdict,
};

pub const NAME: &str = "Summary";
/// Columns of the page, and their widths in characters.
const WIDTHS: [f64; 9] = [6.0, 21.0, 36.5, 11.5, 11.5, 11.5, 11.5, 11.5, 12.5];
const ALL: ColNum = WIDTHS.len() as ColNum;
/// Rows of a list before it goes on in its own sheet.
const FEW: usize = 8;
/// Points that a page has room for at nine tenths: letter paper, landscape, is 8-1/2 inches high, with margins of 1.2.
const PAGE: f64 = 580.0;
const QUESTION: &str = "May the job start?   ";

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    // The verdict looks at the stages below it; a first writing tells where they stand.
    let mut draft = Worksheet::new();
    let at = page(
        &mut Pen::on(&mut draft, Paper::Landscape),
        report,
        &Rows::default(),
    )?;
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    let Rows { parts, .. } = page(&mut pen, report, &at)?;
    // What the answer rests on is a page of its own; what stands above it is parted only where it must be.
    let mut breaks = Vec::new();
    let mut begun = 0.0;
    for pair in parts.windows(2) {
        if pair[1].above - begun > PAGE {
            breaks.push(pair[0].row);
            begun = pair[0].above;
        }
    }
    breaks.extend(parts.last().map(|evidence| evidence.row));
    pen.sheet().set_page_breaks(&breaks)?;
    for (column, width) in WIDTHS.iter().enumerate() {
        pen.sheet().set_column_width(column as ColNum, *width)?;
    }
    pen.print(None, &report.footer())
}

/// Where parts of the page stand.
#[derive(Default)]
struct Rows {
    /// The first stage.
    stages: RowNum,
    /// Stages, parcels, what needs a person's eye, what the answer rests on.
    parts: [Part; 4],
}

/// A part of the page that may begin a new one.
#[derive(Default)]
struct Part {
    row: RowNum,
    /// Points that all above it takes.
    above: f64,
}

impl Part {
    fn at(pen: &mut Pen<'_>) -> Result<Part, XlsxError> {
        pen.end_row()?;
        Ok(Part {
            row: pen.next(),
            above: pen.points(),
        })
    }
}

fn page(pen: &mut Pen<'_>, report: &Report<'_>, at: &Rows) -> Result<Rows, XlsxError> {
    let live = Answer::of(report, at);
    pen.wrap_at(WIDTHS);
    answer(pen, report, live.as_ref())?;
    missing(pen, report)?;
    let of_stages = Part::at(pen)?;
    let stages = stages(pen, report, live.as_ref())?;
    let of_parcels = Part::at(pen)?;
    parcels(pen, report)?;
    let of_eye = Part::at(pen)?;
    eye(pen, report)?;
    let evidence = Part::at(pen)?;
    section(pen, report, "Lifting")?;
    paragraph(pen, report.masses.largest_lift(), &report.style.body)?;
    sources(pen, report)?;
    sums(pen, report)?;
    cautions(pen, report)?;
    pen.end_row()?;
    Ok(Rows {
        stages,
        parts: [of_stages, of_parcels, of_eye, evidence],
    })
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

/// Headings of one of the page's tables, five of them over numbers; a blank one belongs to none.
type Headings = [&'static str; WIDTHS.len()];

const MISSING: Headings = [
    "No.",
    "Stage",
    "Item",
    "Short here",
    "of required",
    "Required in all",
    "Shipped in all",
    "Counted in all",
    "Go to",
];
const STAGES: Headings = [
    "No.",
    "Stage",
    "State",
    "Required",
    "Covered",
    "Substituted",
    "From stock",
    "Short",
    "Go to",
];
/// Where a stage's shortage stands.
const SHORT: ColNum = 7;
const SOURCES: Headings = [
    "", "List", "File", "Rows", "= read", "+ check", "+ aside", "+ other", "",
];

fn heading_format<'s>(report: &'s Report<'_>, column: usize) -> &'s rust_xlsxwriter::Format {
    match (3..8).contains(&column) {
        true => &report.style.head_number,
        false => &report.style.head,
    }
}

/// Writes headings, and makes the rows that are to follow a table.
fn headings(
    pen: &mut Pen<'_>,
    report: &Report<'_>,
    names: &Headings,
    rows: usize,
) -> Result<(), XlsxError> {
    let lines = names
        .iter()
        .zip(WIDTHS)
        .map(|(name, width)| lines_of(name, width - 2.5));
    pen.tall(5.0 + 13.0 * lines.max().unwrap_or(1) as f64)?;
    for (column, name) in names.iter().enumerate() {
        pen.plain(name, heading_format(report, column))?;
    }
    let named = || (0..names.len()).filter(|&column| !names[column].is_empty());
    let first = named().next().unwrap_or(0) as ColNum;
    let headings = named().map(|column| (names[column], heading_format(report, column)));
    pen.make_table(first, headings, rows)
}

fn answer(pen: &mut Pen<'_>, report: &Report<'_>, live: Option<&Answer>) -> Result<(), XlsxError> {
    let (style, account) = (&report.style, report.account);
    pen.tall(32.0)?.wide(ALL, &report.job.name, &style.title)?;
    let about = format!("{}. Settled {}.", wording::job(report.job), report.when);
    pen.row()?.wide(ALL, &about, &style.subtitle)?;
    pen.tall(6.0)?;
    let settled = format!(
        "{QUESTION}{}.   {}",
        wording::verdict(account.verdict),
        wording::stop(report.job, account)
    );
    pen.tall(34.0)?;
    match live.and_then(|live| live.verdict(report, &settled)) {
        Some(cell) => pen.wide_live(ALL, &cell, &style.verdict)?,
        None => pen.wide(ALL, &settled, &style.verdict)?,
    };
    pen.tall(22.0)?;
    match live {
        Some(live) if !wording::nothing_seen(account) => {
            pen.wide_live(ALL, &live.shortage(account), &style.verdict_more)?
        }
        _ => pen.wide(ALL, &wording::shortage(account), &style.verdict_more)?,
    };
    if let Some(filled) = wording::filled(account) {
        pen.tall(20.0)?.wide(ALL, &filled, &style.verdict_more)?;
    }
    pen.tall(20.0)?
        .wide(ALL, &Open::of(report).sentence(), &style.verdict_more)?;
    pen.tall(6.0)?;
    let told = [
        wording::without_options(report.job, report.lists, account),
        wording::whole_kits(report.job, account),
    ];
    for text in told.into_iter().flatten() {
        paragraph(pen, &text, &style.body)?;
    }
    let doubts = wording::doubts_summed_up(account);
    if live.is_some() && !(account.reasons.is_empty() && doubts.is_empty()) {
        let text = "As settled, before what has been typed into the Count sheet since:";
        paragraph(pen, text, &style.note)?;
    }
    for reason in account.reasons.iter().take(FEW) {
        paragraph(pen, &format!("– {reason}"), &style.body)?;
    }
    if account.reasons.len() > FEW {
        let more = format!("– and {} more reasons", account.reasons.len() - FEW);
        paragraph(pen, &more, &style.body)?;
    }
    for doubt in doubts {
        paragraph(pen, &format!("– {doubt}"), &style.body)?;
    }
    Ok(())
}

/// How much a person should look at.
struct Open {
    aside: u64,
    check: u64,
    /// Items that are required and were not counted, or of which a slip alone covers some.
    uncounted: u64,
    /// Items whose match is in doubt.
    doubted: u64,
    /// What was found of the job as a whole.
    found: u64,
    can_say: bool,
}

impl Open {
    fn of(report: &Report<'_>) -> Open {
        let sum = |pick: fn(&RowTally) -> u64| report.lists.iter().map(|l| pick(&l.tally)).sum();
        let uncounted = report
            .account
            .items
            .iter()
            .filter(|i| i.sums.required > 0)
            .filter(|i| i.counted.is_none() || i.shares.iter().any(|share| share.by_slip > 0));
        Open {
            aside: sum(|t| t.aside),
            check: sum(|t| t.check),
            uncounted: uncounted.count() as u64,
            doubted: (report.account.items.iter())
                .filter(|item| item.to_confirm().next().is_some())
                .count() as u64,
            found: report.account.findings.len() as u64,
            can_say: report.account.verdict != Verdict::CannotSay,
        }
    }

    /// In one sentence.
    fn sentence(&self) -> String {
        let told: Vec<String> = [
            (self.aside, "line", "aside"),
            (self.check, "line", "to check"),
            (self.uncounted, "item", "not counted in full"),
            (self.doubted, "item", "in doubt"),
            (self.found, "finding", "on the whole job"),
        ]
        .into_iter()
        .filter(|(n, ..)| *n > 0)
        .map(|(n, noun, what)| format!("{} {what}", crate::words::count(n, noun)))
        .collect();
        match told.as_slice() {
            [] if self.can_say => "Nothing needs a person's eye.".to_owned(),
            [] => "For a person's eye: the reasons below.".to_owned(),
            _ => format!("For a person's eye: {}.", told.join(", ")),
        }
    }
}

fn missing(pen: &mut Pen<'_>, report: &Report<'_>) -> Result<(), XlsxError> {
    let (style, account) = (&report.style, report.account);
    let entries = shortages::entries(account);
    let short: Vec<_> = entries
        .iter()
        .enumerate()
        .filter_map(|(row, e)| e.share.map(|share| (row, e.item, share)))
        .collect();
    section(pen, report, "What is missing, as settled")?;
    if short.is_empty() {
        return paragraph(pen, "Nothing.", &style.body);
    }
    if wording::nothing_seen(account) {
        let text = "No slip and no count is given: By stage says what is required.";
        return paragraph(pen, text, &style.body);
    }
    headings(pen, report, &MISSING, short.len().min(FEW))?;
    for (row, item, share) in short.iter().take(FEW) {
        pen.row()?
            .number(share.stage as u64 + 1, style.stage(share.stage))?
            .text(wording::stage_name(account, share.stage), &style.wrap)?
            .text(&item.text, &style.wrap)?
            .number_or(
                wording::known_short_in(item, share),
                wording::CANNOT_SAY,
                &style.strong_number,
            )?
            .number(share.required, &style.number)?
            .number(item.sums.required, &style.number)?
            .number_or(item.shipped, "no slip", &style.number)?
            .number_or(item.counted, wording::NOT_COUNTED, &style.number)?;
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

/// The stages; returns the row of the first.
fn stages(
    pen: &mut Pen<'_>,
    report: &Report<'_>,
    live: Option<&Answer>,
) -> Result<RowNum, XlsxError> {
    let (style, account) = (&report.style, report.account);
    section(pen, report, "How far the crew can get")?;
    headings(pen, report, &STAGES, account.stages.len())?;
    let rows = by_stage::stage_rows(account);
    let first = pen.next();
    let stages = account.stages.iter().zip(wording::stages_short(account));
    for (index, (stage, short)) in stages.enumerate() {
        let settled = match (stage.ready, stage.short) {
            (Verdict::No, 1..) => State::Short.to_string(),
            _ if stage.reasons.is_empty() => wording::standing(stage).to_owned(),
            _ => format!(
                "{}: {}",
                wording::readiness(stage.ready),
                stage.reasons.join("; ")
            ),
        };
        let short_format = match short {
            0 => &style.number,
            _ => &style.strong_number,
        };
        pen.row()?;
        pen.number(index as u64 + 1, style.stage(index))?
            .text(wording::stage_name(account, index), &style.wrap)?;
        match live.and_then(|live| live.state(account, index, &settled)) {
            Some(cell) => pen.live(&cell, &style.wrap)?,
            None => pen.text(&settled, &style.wrap)?,
        };
        pen.number(stage.required, &style.number)?;
        match live {
            Some(live) => pen.live(&live.covered(index, stage.covered), &style.number)?,
            None => pen.number(stage.covered, &style.number)?,
        };
        pen.number(stage.substituted, &style.number)?
            .number(stage.from_stock, &style.number)?;
        match live {
            Some(live) => pen.live(&live.short(index, short), short_format)?,
            None => pen.number(short, short_format)?,
        };
        pen.jump("see its items", by_stage::NAME, rows[index], &style.link)?;
    }
    let row = first + 1;
    let open = format!("=AND($D{row}>$E{row}+$F{row}+$G{row},LEFT($C{row},1)=\"▲\")");
    let rows = [first, pen.at()];
    style::cannot_say(pen.sheet(), rows, SHORT, &open)?;
    Ok(first)
}

/// Where there are several parcels: what each brought and closed of the claim.
fn parcels(pen: &mut Pen<'_>, report: &Report<'_>) -> Result<(), XlsxError> {
    let sentences = wording::parcels(report.lists, report.account);
    if sentences.is_empty() {
        return Ok(());
    }
    section(pen, report, "Parcels")?;
    for sentence in sentences {
        paragraph(pen, &format!("– {sentence}"), &report.style.body)?;
    }
    Ok(())
}

fn eye(pen: &mut Pen<'_>, report: &Report<'_>) -> Result<(), XlsxError> {
    let style = &report.style;
    section(pen, report, "What needs a person's eye")?;
    let Open {
        aside,
        check,
        uncounted,
        doubted,
        can_say,
        ..
    } = Open::of(report);
    let mut clean = true;
    for text in wording::compared(report.lists, report.account) {
        clean = false;
        paragraph(pen, &format!("– {text}"), &style.body)?;
    }
    for finding in &report.account.findings {
        clean = false;
        let text = wording::job_finding(report.lists, finding);
        paragraph(pen, &format!("– {text}"), &style.body)?;
    }
    for note in &report.account.rule_notes {
        clean = false;
        paragraph(pen, &format!("– {note}"), &style.body)?;
    }
    let told = [
        (
            aside,
            crate::words::count(aside, "line"),
            "not understood, kept aside and not summed",
            check::NAME,
        ),
        (
            check,
            crate::words::count(check, "line"),
            "understood with a doubt",
            check::NAME,
        ),
        (
            uncounted,
            crate::words::count(uncounted, "item"),
            match report.account.items.iter().any(|i| i.shipped.is_some()) {
                true => "not counted in full: the slip is believed",
                false => "not counted in full",
            },
            count_sheet::NAME,
        ),
        (
            doubted,
            crate::words::count(doubted, "item"),
            "matched with a doubt",
            shortages::NAME,
        ),
        (
            report.audit.findings.len() as u64,
            crate::words::count(report.audit.findings.len() as u64, "question"),
            "on the list itself, whatever was shipped",
            questions::NAME,
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
                list.address_of(line),
                list.text_of(line),
                wording::why(list, line).join("; ")
            );
            paragraph(pen, &text, &style.body)?;
        }
    }
    if clean {
        let text = match can_say {
            true => "Nothing.",
            false => "The reasons above.",
        };
        paragraph(pen, text, &style.body)?;
    }
    Ok(())
}

fn sources(pen: &mut Pen<'_>, report: &Report<'_>) -> Result<(), XlsxError> {
    let style = &report.style;
    section(pen, report, "Where the figures come from")?;
    headings(pen, report, &SOURCES, report.lists.len())?;
    for list in report.lists {
        let t = &list.tally;
        let mut file = list.file.clone();
        if let Some(revision) = &list.revision {
            file.push_str(&format!(", revision {revision}"));
        }
        if let Some(date) = &list.date {
            file.push_str(&format!(", {date}"));
        }
        for told in wording::sheets(list) {
            file.push_str(&format!("\n{told}"));
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
        &[
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
        0,
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
        &[
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
        0,
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
