//! What is done with each sheet, as its first rows tell.

use std::{borrow::Cow, ops::Range};

use indexmap::IndexMap;

use super::{
    super::{
        again::Again,
        input::{Input, SheetUse},
        role::Role,
    },
    Reader, begin,
    form::Form,
    guess,
    parting::Parting,
    shape,
    speakers::Speakers,
    titles,
};
use crate::{
    columns::{Layout, Meaning, Spread, furniture, heading},
    notation::{Callout, Notation, describe},
    source::{CellKind, Format, Row, SheetInfo},
    words::fold,
};

/// What the job says of a sheet.
fn told(input: &Input, sheet: &SheetInfo) -> Option<SheetUse> {
    input.sheets.get(&fold(sheet.name.as_deref()?)).copied()
}

/// True for a hidden sheet of which nobody says that it is to be read.
pub(super) fn is_hidden(input: &Input, sheet: &SheetInfo) -> bool {
    sheet.hidden && !input.hidden_sheets && told(input, sheet).is_none()
}

/// True for a sheet that its name says is of tools.
fn is_of_tools(sheet: &SheetInfo) -> bool {
    sheet.name.as_deref().is_some_and(heading::names_tools)
}

/// True where sizes are metric: at least so many callouts are, and no figure is in inches.
pub(super) fn writes_metric<'a>(head: impl Iterator<Item = &'a Row>) -> bool {
    const ENOUGH: usize = 3;
    let (mut metric, mut inch) = (0, 0);
    for text in head.flat_map(Row::cells).map(|(text, _)| text) {
        let mut before = ' ';
        let mut chars = text.chars().peekable();
        while let Some(c) = chars.next() {
            let figure = chars.peek().is_some_and(char::is_ascii_digit);
            metric += usize::from(c == 'M' && figure && !before.is_alphanumeric());
            // `1/2`, and `1-8`, the inch thread.
            let half = before.is_ascii_digit() && figure && matches!(c, '/' | '-');
            inch += usize::from(
                half || matches!(
                    c,
                    '"' | '\u{2033}' | '\u{201d}' | '\u{bd}' | '\u{bc}' | '\u{be}'
                ),
            );
            inch += usize::from(c == '#' && figure);
            before = c;
        }
        metric += usize::from(is_metric_pair(text));
    }
    metric >= ENOUGH && inch == 0
}

/// True for a text with two whole numbers joined by an `x`, the second longer than inch screws of such a size are
/// made (`bolt 8 x 80`; common practice, no source), and no third.
fn is_metric_pair(text: &str) -> bool {
    const SHORTEST: u32 = 16;
    const THICKEST: u32 = 24;
    let mut parts = text.split(['x', 'X', '\u{d7}']).peekable();
    let mut pairs = 0;
    let mut joined = 0;
    while let Some(part) = parts.next() {
        let Some(next) = parts.peek() else { break };
        let part = part.trim_end();
        let before = part.trim_end_matches(|c: char| c.is_ascii_digit());
        let next = next.trim_start();
        let figures = next.bytes().take_while(u8::is_ascii_digit).count();
        let (Ok(first), Ok(second)) = (
            part[before.len()..].parse::<u32>(),
            next[..figures].parse::<u32>(),
        ) else {
            continue;
        };
        joined += 1;
        let apart = before.is_empty() || before.ends_with(char::is_whitespace);
        let whole = !next[figures..].starts_with(['/', '-', '.', ',', '\'']);
        pairs += u32::from(apart && whole && (1..=THICKEST).contains(&first) && second >= SHORTEST);
    }
    joined == 1 && pairs == 1
}

/// The plan of each sheet. `reads_further_on`: a line far down reads as an item.
pub(super) fn of_sheets(
    reader: &Reader,
    input: &Input,
    again: &[(usize, Again)],
    sheets: &[SheetInfo],
    heads: &[Vec<Row>],
    reads_further_on: bool,
) -> Vec<Plan> {
    let role = reader.list.role;
    let layouts: Vec<Option<Layout>> = heads
        .iter()
        .map(|head| first_layout(head, role, &input.columns))
        .collect();
    let is_count = |layout: &Option<Layout>| {
        layout
            .as_ref()
            .is_some_and(|l| l.has(Meaning::Good) || l.has(Meaning::Received))
    };
    // A workbook with a table that is known has sheets besides that are none.
    let may_guess = input.columns.is_empty()
        && match reader.list.format {
            Format::Text => false,
            Format::Delimited(_) => true,
            _ => layouts.iter().all(Option::is_none),
        };
    let guess = |head: &[Row]| match may_guess {
        true => guess::layout(head, reader.notation),
        false => None,
    };
    // A table of which too few headings are known stands above one that is.
    let above = |head: &[Row]| {
        let is_text = reader.list.format == Format::Text;
        let first = first_heading(head, role, &input.columns)
            .filter(|_| !is_text && input.columns.is_empty())?;
        guess::layout(&head[..first], reader.notation)
    };
    // Beside a table with headings, a workbook's other sheets are none.
    let may_be_bare = |layouts: &[Option<Layout>]| {
        let is_cut = matches!(reader.list.format, Format::Text | Format::Delimited(_));
        is_cut || layouts.iter().all(Option::is_none)
    };
    let counts = matches!(role, Role::Counted | Role::LeftOver);
    let any_count = counts && layouts.iter().any(is_count);
    // A workbook of a whole job has its count and its slip on sheets of their own.
    let is_of_another = |layout: &Layout| {
        let has = |all: &[Meaning]| all.iter().any(|&meaning| layout.has(meaning));
        let came = [Meaning::Good, Meaning::Received, Meaning::Shipped];
        has(&came)
            && layout.spread.is_empty()
            && !has(&[Meaning::Quantity, Meaning::Total, Meaning::Ordered])
    };
    let asks = matches!(role, Role::Required | Role::Compared)
        && layouts.iter().flatten().any(|of| !is_of_another(of));
    sheets
        .iter()
        .zip(heads)
        .zip(&layouts)
        .enumerate()
        .map(|(index, ((sheet, head), layout))| {
            if let Some((_, again)) = again.iter().find(|(of, _)| *of == index) {
                Plan::PassOver(again.to_string().into())
            } else if told(input, sheet) == Some(SheetUse::LeftOut) {
                Plan::PassOver("left out, as the job file says".into())
            } else if is_hidden(input, sheet) {
                Plan::PassOver("hidden sheet".into())
            } else if any_count && !is_count(layout) {
                Plan::PassOver("not a count".into())
            } else if asks && layout.as_ref().is_some_and(is_of_another) {
                Plan::PassOver("says what came, not what is required".into())
            } else if role == Role::Required && told(input, sheet).is_none() && is_of_tools(sheet) {
                Plan::PassOver("tools, to be brought: no pieces of the kit".into())
            } else if let Some((row, layout)) = above(head) {
                Plan::Guessed(row, Box::new(layout))
            } else if layout.is_some() {
                Plan::Table
            } else if head.is_empty() {
                Plan::PassOver("blank sheet".into())
            } else if let Some((row, layout)) = guess(head) {
                Plan::Guessed(row, Box::new(layout))
            } else if reads_further_on
                || (input.columns.is_empty() && may_be_bare(&layouts) && reader.reads_as_list(head))
            {
                Plan::Lines
            } else {
                Plan::PassOver("no list found on it".into())
            }
        })
        .collect()
}

/// What is done with a sheet.
pub(super) enum Plan {
    /// It has a heading row.
    Table,
    /// It has one of which too few words are known: its row, and what the rows below tell.
    Guessed(u32, Box<Layout>),
    /// Its lines read as items.
    Lines,
    PassOver(Cow<'static, str>),
}

/// The layout of the first heading row, if there is one.
pub(super) fn first_layout(
    head: &[Row],
    role: Role,
    named: &IndexMap<Meaning, String>,
) -> Option<Layout> {
    (0..head.len()).find_map(|at| layout_at(head, at, role, named))
}

/// Where the first heading row stands.
fn first_heading(head: &[Row], role: Role, named: &IndexMap<Meaning, String>) -> Option<usize> {
    (0..head.len()).find(|&at| layout_at(head, at, role, named).is_some())
}

fn layout_at(
    head: &[Row],
    at: usize,
    role: Role,
    named: &IndexMap<Meaning, String>,
) -> Option<Layout> {
    let (row, next) = (&head[at], head.get(at + 1));
    Layout::of(row, None, named)
        .or_else(|| Layout::of(row, next, named))
        .or_else(|| spread_of(row, row_below(head, row.number)?, role, named))
}

/// The columns of tables that stand side by side under the same headings, and the layout of each:
/// `Qty, Item, , Qty, Item`.
pub(super) fn side_by_side(
    row: &Row,
    named: &IndexMap<Meaning, String>,
) -> Option<(Vec<Range<usize>>, Layout)> {
    let filled: Vec<(usize, &str)> = (row.cells().map(|(text, _)| text.trim()).enumerate())
        .filter(|(_, text)| !text.is_empty())
        .collect();
    (2..=4).find_map(|tables| {
        let each = filled.len() / tables;
        let fits = each > 1 && each * tables == filled.len();
        let groups: Vec<&[(usize, &str)]> = filled.chunks(each.max(1)).collect();
        let first = *groups.first()?;
        let alike = |group: &&[(usize, &str)]| {
            let shifted = group[0].0 - first[0].0;
            group.iter().zip(first).all(|(own, of_first)| {
                own.0 == of_first.0 + shifted && own.1.eq_ignore_ascii_case(of_first.1)
            })
        };
        if !fits || !groups.iter().all(alike) {
            return None;
        }
        let columns = |group: &&[(usize, &str)]| group[0].0..group[each - 1].0 + 1;
        let side: Vec<Range<usize>> = groups.iter().map(columns).collect();
        let layout = Layout::of(&row.part(side[0].clone()), None, named)?;
        Some((side, layout))
    })
}

/// The first row below a heading row that is more than a title.
pub(super) fn row_below(head: &[Row], number: u32) -> Option<&Row> {
    let filled = |row: &&Row| row.cells().filter(|(text, _)| !text.is_empty()).count();
    head.iter()
        .find(|row| row.number > number && filled(row) > 1)
}

/// A layout with a quantity in each of several columns. Those of a required list are stages, unless
/// they are bags or boxes; a slip and a count know no stages, and may have a column for each kit.
pub(super) fn spread_of(
    row: &Row,
    next: &Row,
    role: Role,
    named: &IndexMap<Meaning, String>,
) -> Option<Layout> {
    let layout = Layout::spread_of(row, next, named)?;
    let is_container = |spread: &Spread| furniture::container(&spread.heading).is_some();
    let may_be_stages =
        matches!(role, Role::Required | Role::Compared) && !layout.has(Meaning::Stage);
    let is_kit = |spread: &Spread| heading::is_of_one_kit(&spread.heading);
    let known = layout.spread.iter().all(is_container) || layout.spread.iter().all(is_kit);
    (may_be_stages || known).then_some(layout)
}

/// True where figures are written with a decimal comma: some are, and none with a point. A file
/// cut at semicolons is cut there because its commas are decimal.
pub(super) fn writes_decimal_commas<'a>(
    format: Format,
    head: impl Iterator<Item = &'a Row>,
) -> bool {
    let (mut commas, mut points) = (0, 0);
    for row in head {
        for (text, _) in row.cells().filter(|(_, kind)| *kind == CellKind::Text) {
            commas += decimals(text, b',');
            points += decimals(text, b'.');
        }
    }
    match format {
        Format::Delimited(b';') => commas >= points,
        _ => commas > 0 && points == 0,
    }
}

/// Figures with one `mark` between digits, and not three digits after it (a thousand).
fn decimals(text: &str, mark: u8) -> usize {
    let bytes = text.as_bytes();
    let digits_from = |at: usize| {
        bytes[at..]
            .iter()
            .take_while(|b| b.is_ascii_digit())
            .count()
    };
    (1..bytes.len())
        .filter(|&at| bytes[at] == mark && bytes[at - 1].is_ascii_digit())
        .filter(|&at| {
            let after = digits_from(at + 1);
            let is_list = bytes[..at].iter().rev().find(|b| !b.is_ascii_digit()) == Some(&mark)
                || bytes.get(at + 1 + after) == Some(&mark);
            after > 0 && after != 3 && !is_list && !(mark == b'.' && is_class(text, at))
        })
        .count()
}

/// True where the point at `at` is that of a property class, which is written with one everywhere (ISO 898-1).
fn is_class(text: &str, at: usize) -> bool {
    const CLASSES: &[&str] = &[
        "4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9",
    ];
    let figures = |c: char| !c.is_ascii_digit();
    let from = text[..at].rfind(figures).map_or(0, |before| before + 1);
    let end = text[at + 1..]
        .find(figures)
        .map_or(text.len(), |after| at + 1 + after);
    let goes_on = text[end..]
        .trim_start()
        .starts_with(['x', 'X', '\u{d7}', '*']);
    text.is_char_boundary(from) && CLASSES.contains(&&text[from..end]) && !goes_on
}

/// The rows above a table's headings that a printed list may bear again on each page: those of several
/// cells.
pub(super) fn page_head(head: &[Row], named: &IndexMap<Meaning, String>) -> Vec<String> {
    let Some(at) = (head.iter()).position(|row| Layout::of(row, None, named).is_some()) else {
        return Vec::new();
    };
    let filled = |row: &Row| row.cells().filter(|(text, _)| !text.is_empty()).count();
    let rows = head[..at]
        .iter()
        .filter(|row| filled(row) > 1)
        .map(Row::joined);
    rows.filter(|text| furniture::stage_title(text).is_none())
        .collect()
}

/// The last row of a text's title block: its first lines, up to a blank one, where none begins as
/// a list's line does and none names hardware with a size or
/// a count, or heads columns.
pub(super) fn title_block(
    head: &[Row],
    notation: Notation,
    named: &IndexMap<Meaning, String>,
) -> u32 {
    let Some(start) = head.iter().position(|row| !row.is_empty()) else {
        return 0;
    };
    let Some(end) = head[start..].iter().position(Row::is_empty) else {
        return 0;
    };
    let block = &head[start..start + end];
    let in_turn = titles::are_numbered(head);
    let is_title = |row: &Row| {
        let mut text = String::new();
        row.join_into(&mut text);
        let begins_a_line =
            text.starts_with(|c: char| c.is_ascii_digit() || "-*+\u{2022}([".contains(c));
        let is_line = |callout: &Callout| {
            let sized = callout.item.diameter.is_some() && callout.doubts.is_empty();
            callout.is_hardware() && (sized || callout.quantity.is_some())
        };
        let hardware = || describe(&text, notation).is_ok_and(|all| all.iter().any(is_line));
        !begins_a_line
            && furniture::stage_title(&text).is_none()
            && furniture::title_in_turn(&text).is_none()
            && furniture::numbered_title(&text).is_none()
            && !(in_turn && titles::numbered(&text).is_some())
            // The list's own title is of the first level.
            && furniture::markdown_heading(&text).is_none_or(|(level, _)| level == 1)
            && furniture::container(&text).is_none()
            && furniture::container_denied(&text).is_none()
            && Layout::of(row, None, named).is_none()
            && !hardware()
    };
    if block.iter().all(is_title) {
        block.last().map_or(0, |row| row.number)
    } else {
        0
    }
}

impl Reader<'_> {
    /// True where the lines of a headless sheet read as items: a text where any does, a table cut
    /// into cells where most do or one column counts, and one is hardware, since a column of words and one of
    /// figures may be anything; so may a workbook's sheet where one column counts.
    pub(super) fn reads_as_list(&self, head: &[Row]) -> bool {
        let mut lines = 0;
        let mut items = 0;
        let mut hardware = 0;
        let mut text = String::new();
        let speakers = match self.list.format {
            Format::Text => Speakers::of(head, self.notation),
            _ => Speakers::default(),
        };
        let head: Vec<Row> = (head.iter())
            .map(|row| speakers.without(row).into_owned())
            .collect();
        let head = head.as_slice();
        for row in head.iter().filter(|row| !row.is_empty()) {
            row.join_into(&mut text);
            lines += 1;
            let Ok(all) = describe(&text, self.notation) else {
                continue;
            };
            let fastens = all.iter().any(Callout::is_hardware);
            hardware += usize::from(fastens);
            items += usize::from(fastens || all.iter().any(|callout| callout.quantity.is_some()));
        }
        let columns = || shape::columns(head, false, self.notation);
        let shaped =
            || columns().is_some_and(|of| hardware > 0 || of.layout.has(Meaning::PartNumber));
        match self.list.format {
            Format::Text => {
                items > 0
                    || (self.list.role == Role::Required && self.calls_in_sentences(head))
                    || shaped()
                    || begin::first_line(head, self.notation).is_some()
                    || Form::of(head).is_some_and(|(form, _)| form.is_told())
                    || Parting::of(head, self.list.role, self.notation)
                        .is_some_and(|of| of.is_of_many())
            }
            Format::Delimited(_) => (items * 2 >= lines && hardware > 0) || shaped(),
            _ => shaped(),
        }
    }
}
