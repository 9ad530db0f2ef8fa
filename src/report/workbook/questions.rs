//! Questions on the list: what the required lists themselves ask, apart from any shortage.

use rust_xlsxwriter::{Workbook, XlsxError};

use super::{
    Report,
    sheet::{Column, Pen},
    style::Paper,
};
use crate::{
    audit::{AuditFinding, Weight},
    report::wording,
};

pub const NAME: &str = "Questions on the list";
/// More rows than these are no help to anyone.
const MOST: usize = 10_000;

const COLUMNS: [Column; 8] = [
    Column::words("No.", 6.0),
    Column::words("Stage", 20.0),
    Column::words("Joint", 20.0),
    Column::words("About", 22.0),
    Column::words("Weight", 14.0),
    Column::words("What the list says", 44.0),
    Column::words("What to ask", 40.0),
    Column::words("Where it says so", 34.0),
];

/// How much speaks for an error, in words.
fn weight(finding: &AuditFinding) -> &'static str {
    match finding.weight {
        Weight::Strong => "■ likely an error",
        Weight::Weak => "▲ perhaps",
    }
}

pub fn write(workbook: &mut Workbook, report: &Report<'_>) -> Result<(), XlsxError> {
    let style = &report.style;
    let mut pen = Pen::new(workbook, NAME, Paper::Landscape)?;
    pen.tall(30.0)?
        .plain("Questions on the list", &style.title)?;
    pen.says(
        "What the required lists ask by themselves, whatever was shipped. Questions for the kit maker: nothing was changed.",
        &style.subtitle,
    )?;
    let heading = pen.headings(style, &COLUMNS)?;
    let findings = &report.audit.findings;
    for finding in findings.iter().take(MOST) {
        pen.row()?;
        match wording::stage_of(report.account, &finding.stage) {
            Some(stage) => pen
                .number(stage as u64 + 1, style.stage(stage))?
                .text(wording::stage_name(report.account, stage), &style.wrap)?,
            None => pen.blank(&style.cell)?.text(&finding.stage, &style.wrap)?,
        };
        pen.text(&finding.place, &style.wrap)?
            .text(finding.what.as_str(), &style.wrap)?
            .text(weight(finding), &style.wrap)?
            .text(&finding.found, &style.wrap)?
            .text(&finding.question, &style.wrap)?
            .text(
                &wording::addresses(report.lists, &finding.evidence),
                &style.wrap,
            )?;
    }
    if findings.len() > MOST {
        let more = format!("and {} more", findings.len() - MOST);
        pen.row()?.plain(&more, &style.cell)?;
    }
    if findings.is_empty() {
        pen.row()?.plain("Nothing is asked.", &style.cell)?;
    }
    pen.end_table(heading, &COLUMNS)?;
    pen.print(Some(heading), &report.footer())
}
