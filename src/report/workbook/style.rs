//! The house style: one type, one accent, one palette for stages, the same in every sheet.

use rust_xlsxwriter::{
    ColNum, Color, ConditionalFormatFormula, Format, FormatAlign, FormatBorder, FormatUnderline,
    RowNum, Workbook, Worksheet, XlsxError,
};

use crate::report::wording;

/// The one accent, a dark slate: titles, headings, the verdict.
pub const INK: Color = Color::RGB(0x1D3F4F);
/// Behind figures that want a look.
const WASH: Color = Color::RGB(0xEDF2F4);
/// Thin rules between rows.
pub const RULE: Color = Color::RGB(0xC9D3D8);
/// Words beside the point.
const GREY: Color = Color::RGB(0x55636B);
/// Behind a figure typed in that is likely wrong; a shape always stands beside it.
pub const WARN: Color = Color::RGB(0xFFD9A0);
/// Cells for a person to fill in.
const ENTRY: Color = Color::RGB(0xFFFBE6);

/// Stage colours, told apart in the common kinds of colour blindness, and the colour of words on
/// each (M. Okabe and K. Ito, "Color Universal Design", 2008; their black is left to words).
const STAGES: [(Color, Color); 7] = [
    (Color::RGB(0x56B4E9), Color::Black),
    (Color::RGB(0xE69F00), Color::Black),
    (Color::RGB(0x009E73), Color::Black),
    (Color::RGB(0xF0E442), Color::Black),
    (Color::RGB(0x0072B2), Color::White),
    (Color::RGB(0xD55E00), Color::Black),
    (Color::RGB(0xCC79A7), Color::Black),
];

/// Every format of the workbook.
pub struct Style {
    pub title: Format,
    pub subtitle: Format,
    /// Words that run on over the cells to their right.
    pub line: Format,
    /// The same, for the one sentence of a page.
    pub lead: Format,
    pub section: Format,
    pub verdict: Format,
    pub verdict_more: Format,
    pub head: Format,
    pub head_number: Format,
    pub head_group: Format,
    pub cell: Format,
    pub wrap: Format,
    pub strong: Format,
    pub strong_wrap: Format,
    pub number: Format,
    pub decimal: Format,
    pub strong_number: Format,
    pub link: Format,
    pub note: Format,
    pub body: Format,
    pub entry: Format,
    pub entry_text: Format,
    pub entry_date: Format,
    stages: Vec<Format>,
}

/// The type of the house: on every desk, and metric twins of it where it is not.
pub fn base() -> Format {
    Format::new().set_font_name("Arial").set_font_size(10)
}

fn cell() -> Format {
    base()
        .set_align(FormatAlign::Left)
        .set_align(FormatAlign::Top)
        .set_indent(1)
        .set_border_bottom(FormatBorder::Thin)
        .set_border_bottom_color(RULE)
}

fn head() -> Format {
    base()
        .set_bold()
        .set_font_color(Color::White)
        .set_background_color(INK)
        .set_align(FormatAlign::Top)
        .set_indent(1)
        .set_text_wrap()
}

impl Style {
    pub fn new() -> Style {
        // A figure that its cell cannot show is a row of crosses, unless it may shrink.
        let number = cell()
            .set_num_format("#,##0")
            .set_align(FormatAlign::Right)
            .set_shrink();
        let entry = base()
            .set_background_color(ENTRY)
            .set_border(FormatBorder::Thin)
            .set_border_color(RULE);
        Style {
            title: base().set_font_size(20).set_bold().set_font_color(INK),
            subtitle: base().set_font_color(GREY),
            line: base(),
            lead: base().set_font_size(12).set_bold().set_font_color(INK),
            section: base()
                .set_font_size(12)
                .set_bold()
                .set_font_color(INK)
                .set_border_bottom(FormatBorder::Medium)
                .set_border_bottom_color(INK),
            verdict: base()
                .set_font_size(18)
                .set_bold()
                .set_font_color(Color::White)
                .set_background_color(INK)
                .set_align(FormatAlign::VerticalCenter)
                .set_indent(1),
            verdict_more: base()
                .set_font_size(11)
                .set_font_color(Color::White)
                .set_background_color(INK)
                .set_align(FormatAlign::VerticalCenter)
                .set_indent(1),
            head: head(),
            head_number: head().set_align(FormatAlign::Right),
            head_group: head()
                .set_align(FormatAlign::Center)
                .set_border_bottom(FormatBorder::Thin)
                .set_border_bottom_color(Color::White),
            cell: cell(),
            wrap: cell().set_text_wrap(),
            strong: cell().set_bold(),
            strong_wrap: cell().set_bold().set_text_wrap(),
            strong_number: number.clone().set_bold().set_background_color(WASH),
            decimal: number.clone().set_num_format("[>=100]#,##0;#,##0.00"),
            number,
            link: cell()
                .set_font_color(INK)
                .set_underline(FormatUnderline::Single),
            note: base()
                .set_font_color(GREY)
                .set_text_wrap()
                .set_align(FormatAlign::Top),
            body: base().set_text_wrap().set_align(FormatAlign::Top),
            entry: entry
                .clone()
                .set_num_format("0")
                .set_align(FormatAlign::Right),
            entry_date: entry
                .clone()
                .set_num_format("yyyy-mm-dd")
                .set_align(FormatAlign::Left),
            entry_text: entry,
            stages: STAGES
                .iter()
                .map(|&(fill, words)| {
                    cell()
                        .set_indent(0)
                        .set_bold()
                        .set_background_color(fill)
                        .set_font_color(words)
                        .set_align(FormatAlign::Center)
                })
                .collect(),
        }
    }

    /// Gives every format its number in the workbook, so that it does not hang on which of two sheets
    /// that are written side by side comes first.
    pub fn register(&self, workbook: &mut Workbook) -> Result<(), XlsxError> {
        let mut sheet = workbook.new_worksheet_with_constant_memory()?;
        let Style {
            title,
            subtitle,
            line,
            lead,
            section,
            verdict,
            verdict_more,
            head,
            head_number,
            head_group,
            cell,
            wrap,
            strong,
            strong_wrap,
            number,
            decimal,
            strong_number,
            link,
            note,
            body,
            entry,
            entry_text,
            entry_date,
            stages,
        } = self;
        let formats = [
            title,
            subtitle,
            line,
            lead,
            section,
            verdict,
            verdict_more,
            head,
            head_number,
            head_group,
            cell,
            wrap,
            strong,
            strong_wrap,
            number,
            decimal,
            strong_number,
            link,
            note,
            body,
            entry,
            entry_text,
            entry_date,
        ];
        for format in formats.into_iter().chain(stages) {
            sheet.write_blank(0, 0, format)?;
        }
        Ok(())
    }

    /// The colour band of a stage, by its index; its number always stands in it.
    pub fn stage(&self, index: usize) -> &Format {
        &self.stages[index % self.stages.len()]
    }
}

/// Shows "can't say" in place of a column's figures where `rule`, written for the first row, holds; the
/// figures stay for sums.
pub fn cannot_say(
    sheet: &mut Worksheet,
    [first, last]: [RowNum; 2],
    column: ColNum,
    rule: &str,
) -> Result<(), XlsxError> {
    if last < first {
        return Ok(());
    }
    let says = Format::new().set_num_format(format!("\"{}\"", wording::CANNOT_SAY));
    let rule = ConditionalFormatFormula::new()
        .set_rule(rule)
        .set_format(says);
    sheet.add_conditional_format(first, column, last, column, &rule)?;
    Ok(())
}

/// Fill and word colour of a stage, by its index.
pub fn stage_colours(index: usize) -> (Color, Color) {
    STAGES[index % STAGES.len()]
}

/// Which way up a sheet is printed, and how much stands across.
#[derive(Clone, Copy)]
pub enum Paper {
    Portrait,
    Landscape,
    /// Landscape, as small as it comes: for a table that is looked things up in, not worked from.
    Small,
}

impl Paper {
    /// What a line holds at nine tenths of the house's type, 9 points, in digits: letter paper, the narrower
    /// of the two, has 7-1/2 and 10 inches between these margins, and a digit takes 5.56 of 10 points.
    pub const fn room(self) -> f64 {
        match self {
            Paper::Portrait => 105.0,
            Paper::Landscape => 141.0,
            Paper::Small => f64::INFINITY,
        }
    }
}

/// Sets a sheet up for paper: the printer's own paper, one page wide, headings repeated, the job
/// and time at the foot.
pub fn print(
    sheet: &mut Worksheet,
    paper: Paper,
    headings: Option<RowNum>,
    footer: &str,
) -> Result<(), XlsxError> {
    match paper {
        Paper::Portrait => sheet.set_portrait(),
        Paper::Landscape | Paper::Small => sheet.set_landscape(),
    };
    sheet
        .set_print_fit_to_pages(1, 0)
        .set_margins(0.5, 0.5, 0.5, 0.7, 0.3, 0.3)
        .set_header_footer_scale_with_doc(false)
        .set_footer(format!("&L&8{footer}&C&8&A&R&8Page &P of &N"))
        .set_screen_gridlines(false);
    if let Some(row) = headings {
        sheet.set_repeat_rows(row, row)?;
    }
    Ok(())
}
