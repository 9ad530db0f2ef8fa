//! Rows to lines.
//!
//! The reader goes through a source once. What the item cells of a row say is worked out once for
//! each distinct wording and looked up afterwards, and so is where a line belongs; a row costs two
//! look-ups, or none where it says the same as the row above.

use std::{
    borrow::Cow,
    collections::{BTreeMap, HashMap},
    ops::ControlFlow,
};

use indexmap::IndexMap;
use rustc_hash::FxBuildHasher;

use super::{
    count::{self, Count},
    guide::{Asked, Guide, is_prose},
    job::Input,
    line::{Aside, Line, More, What},
    list::{LineStatus, List, MOST_ITEMS, Reading, Role, RowTally, SheetRead, Usage, Words},
    placement,
    stated_mass::{MassOf, StatedMass},
    text::TextAt,
    twice::{Again, SheetUse},
};
use crate::{
    Doubt, Result,
    columns::{
        Layout, Meaning,
        furniture::{self, Container},
        heading, may_be_heading, same_words,
    },
    error::{At, Error},
    hardware::Kind,
    notation::{
        self, Callout, ItemCells, Notation, Quantity, Unread, describe, describe_cells, sentence,
    },
    source::{CellKind, Document, Format, Limit, Row, SheetInfo},
    words::fold,
};

/// Rows at the head of a sheet among which the heading row must be.
const HEAD: usize = 60;
/// Rows between two reports of progress.
const TICK: u64 = 4096;
/// Lines that memory is reserved for beforehand: a guess may be far off.
const MOST_RESERVED: usize = 1 << 20;
/// Cells of a row that a message shows.
const SHOWN_CELLS: usize = 20;
/// Between the cells of a key. Text never holds it: control characters are read as spaces.
const CELL_END: char = '\u{1f}';

/// Reads a source line by line. `again`: sheets that say again what others say, and are passed over.
pub fn read(
    input: &Input,
    file: String,
    role: Role,
    again: &[(usize, Again)],
    tick: &(dyn Fn(u64) + Sync),
) -> Result<List> {
    let mut document = Document::open(&input.path, &input.limits)?;
    let sheets = document.sheets().to_vec();
    refuse_unknown_sheets(input, &file, &sheets)?;
    let told = |sheet: &SheetInfo| input.sheets.get(&fold(sheet.name.as_deref()?)).copied();
    let is_hidden =
        |sheet: &SheetInfo| sheet.hidden && !input.hidden_sheets && told(sheet).is_none();
    let heads = sheets
        .iter()
        .enumerate()
        .map(|(index, sheet)| {
            if is_hidden(sheet) {
                Ok(Vec::new())
            } else {
                document.first_rows(index, HEAD)
            }
        })
        .collect::<Result<Vec<_>>>()?;
    let format = document.format();
    let mut reader = Reader::new(input, file, role, format);
    reader.notation.decimal_comma = writes_decimal_commas(format, heads.iter().flatten());
    if let Some(rows) = document.rows_about() {
        reader.list.lines.reserve(rows.min(MOST_RESERVED));
    }
    // The first item of a guide may stand far down.
    let reads_further_on = match (format, role) {
        (Format::Text, Role::Required) if heads.iter().all(|head| head.len() == HEAD) => {
            let all = document.first_rows(0, usize::MAX)?;
            input.columns.is_empty() && reader.reads_as_list(&all)
        }
        _ => false,
    };
    let plans: Vec<Plan> = {
        let layouts: Vec<Option<Layout>> = heads
            .iter()
            .map(|head| first_layout(head, &input.columns))
            .collect();
        let is_count = |layout: &Option<Layout>| {
            layout
                .as_ref()
                .is_some_and(|l| l.has(Meaning::Good) || l.has(Meaning::Received))
        };
        let any_count = role == Role::Counted && layouts.iter().any(is_count);
        sheets
            .iter()
            .zip(&heads)
            .zip(&layouts)
            .enumerate()
            .map(|(index, ((sheet, head), layout))| {
                if let Some((_, again)) = again.iter().find(|(of, _)| *of == index) {
                    Plan::PassOver(again.to_string().into())
                } else if told(sheet) == Some(SheetUse::LeftOut) {
                    Plan::PassOver("left out, as the job file says".into())
                } else if is_hidden(sheet) {
                    Plan::PassOver("hidden sheet".into())
                } else if any_count && !is_count(layout) {
                    Plan::PassOver("not a count".into())
                } else if layout.is_some() {
                    Plan::Table
                } else if head.is_empty() {
                    Plan::PassOver("blank sheet".into())
                } else if reads_further_on
                    || (input.columns.is_empty() && reader.reads_as_list(head))
                {
                    Plan::Lines
                } else {
                    Plan::PassOver("no list found on it".into())
                }
            })
            .collect()
    };
    let read = plans.iter().filter(|p| !matches!(p, Plan::PassOver(_)));
    // A slip's or a count's sheets are not the build's stages.
    let sheet_is_stage = role == Role::Required && read.clone().count() > 1;
    if read.count() == 0 {
        return Err(match no_hardware(&mut document, role)? {
            Some(error) => error,
            None => no_columns(&document, &heads, input),
        });
    }
    let most_items = input.limits.most(Limit::Rows);
    let most_shown = input.limits.most(Limit::Text);
    for (index, (sheet, plan)) in sheets.iter().zip(&plans).enumerate() {
        let passed_over = match plan {
            Plan::PassOver(why) => Some(why.to_string()),
            _ => None,
        };
        let skip = passed_over.is_some();
        reader.list.sheets.push(SheetRead {
            name: sheet.name.clone(),
            hidden: sheet.hidden,
            passed_over,
            again: (again.iter())
                .find(|(of, _)| *of == index)
                .map(|(_, again)| again.clone()),
            ..SheetRead::default()
        });
        if skip {
            continue;
        }
        let name = sheet.name.as_deref().filter(|_| sheet_is_stage);
        reader.start_sheet(
            index as u16,
            name,
            matches!(plan, Plan::Table),
            &heads[index],
        );
        let mut since = 0;
        document.rows(index, &mut |row| {
            reader.row(row);
            let over = if reader.list.lines.len() as u64 > most_items {
                Some((Limit::Rows, "more items than are read of one file"))
            } else if reader.shown > most_shown {
                Some((Limit::Text, "more text than is read of one file"))
            } else {
                None
            };
            if let Some((limit, what)) = over {
                let at = At {
                    sheet: sheet.name.clone(),
                    row: Some(row.number),
                    ..At::file(&input.path)
                };
                return Err(input.limits.error(limit, at, what));
            }
            since += 1;
            if since == TICK {
                tick(since);
                since = 0;
            }
            Ok(ControlFlow::Continue(()))
        })?;
        reader.end_sheet();
        tick(since);
    }
    if reader.list.lines.is_empty()
        && let Some(error) = no_hardware(&mut document, role)?
    {
        return Err(error);
    }
    reader.refuse_idle_repeats()?;
    let mut list = reader.finish();
    if let (Format::Delimited(delimiter), Some(text)) = (format, document.into_text()) {
        list.text.keep_file(text, delimiter);
    }
    Ok(list)
}

/// Refuses a sheet that the job says something of, and that is not there.
fn refuse_unknown_sheets(input: &Input, file: &str, sheets: &[SheetInfo]) -> Result<()> {
    let names = || sheets.iter().filter_map(|sheet| sheet.name.as_deref());
    let unknown = |name: &&String| !names().any(|known| fold(known) == **name);
    let Some(name) = input.sheets.keys().find(unknown) else {
        return Ok(());
    };
    let todo = match names().collect::<Vec<_>>().as_slice() {
        [] => "take sheets out of the job file: the file has none".to_owned(),
        names => format!("write one of its sheets: {}", names.join(", ")),
    };
    let found = format!("the job file's sheets name \"{name}\", and there is no such sheet");
    Err(Error::input(At::file(file), found, todo))
}

/// What is done with a sheet.
enum Plan {
    /// It has a heading row.
    Table,
    /// Its lines read as items.
    Lines,
    PassOver(Cow<'static, str>),
}

/// The layout of the first heading row, if there is one.
fn first_layout(head: &[Row], named: &IndexMap<Meaning, String>) -> Option<Layout> {
    (0..head.len()).find_map(|i| {
        Layout::of(&head[i], None, named).or_else(|| Layout::of(&head[i], head.get(i + 1), named))
    })
}

/// True where figures are written with a decimal comma: some are, and none with a point. A file
/// cut at semicolons is cut there because its commas are decimal.
fn writes_decimal_commas<'a>(format: Format, head: impl Iterator<Item = &'a Row>) -> bool {
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
            after > 0 && after != 3 && !is_list
        })
        .count()
}

/// The error that shows the first rows as read and says how to name the columns.
fn no_columns(document: &Document, heads: &[Vec<Row>], input: &Input) -> Error {
    let sheet = heads.iter().position(|head| !head.is_empty());
    let at = At {
        sheet: sheet.and_then(|index| document.sheets()[index].name.clone()),
        ..At::file(document.path())
    };
    let mut found = if input.columns.is_empty() {
        "no heading row is understood, and the lines do not read as items".to_owned()
    } else {
        let named: Vec<String> = input
            .columns
            .iter()
            .map(|(meaning, heading)| format!("\"{heading}\" ({meaning})"))
            .collect();
        format!(
            "no row holds the headings that the job file names: {}",
            named.join(", ")
        )
    };
    let rows = sheet.map_or(&[][..], |index| heads[index].as_slice());
    let filled: Vec<&Row> = rows.iter().filter(|row| !row.is_empty()).take(5).collect();
    if !filled.is_empty() {
        found.push_str("; the first rows as read:");
    }
    for row in filled {
        let mut cells: Vec<Cow<'_, str>> = row
            .cells()
            .take(SHOWN_CELLS)
            .map(|(text, _)| shorten(text))
            .collect();
        if row.len() > SHOWN_CELLS {
            cells.push(Cow::Borrowed("…"));
        }
        found.push_str(&format!("\n    {}: {}", row.number, cells.join(" | ")));
    }
    let keys: Vec<&str> = Meaning::ALL.iter().map(|m| m.as_str()).collect();
    let todo = format!(
        "name the columns by their headings in the job file, beside this file: \
         columns = {{ quantity = \"...\", description = \"...\" }}; the keys are {}",
        keys.join(", ")
    );
    Error::input(at, found, todo)
}

/// The error for a guide that names no hardware, with the headings that it has.
fn no_hardware(document: &mut Document, role: Role) -> Result<Option<Error>> {
    if document.format() != Format::Text || role != Role::Required {
        return Ok(None);
    }
    let mut headings: Vec<String> = Vec::new();
    let mut prose = false;
    let mut text = String::new();
    document.rows(0, &mut |row| {
        join(row, &mut text);
        let heading = furniture::stage_title(&text)
            .or_else(|| furniture::markdown_heading(&text).map(|(_, heading)| heading));
        headings.extend(heading.map(|heading| format!("\"{}\"", shorten(heading))));
        prose |= is_prose(&text);
        Ok(ControlFlow::Continue(()))
    })?;
    if !prose && headings.is_empty() {
        return Ok(None);
    }
    let found = if headings.is_empty() {
        "no hardware is named in it, and it has no headings".to_owned()
    } else {
        format!(
            "no hardware is named in it; its headings: {}",
            headings.join(", ")
        )
    };
    let todo = "give the parts list, or a guide whose sentences name the hardware \
                (\"with four 5/8 x 6 hex bolts\")";
    Ok(Some(Error::input(
        At::file(document.path()),
        found,
        todo.to_owned(),
    )))
}

/// What a piece weighs, from the cells of its weight and of its row's.
fn mass(one: &str, row: &str, layout: &Layout) -> Option<StatedMass> {
    let [unit, row_unit] = &layout.mass_units;
    let of = match layout.mass_each || layout.has(Meaning::TotalMass) {
        true => MassOf::Piece,
        false => MassOf::Unstated,
    };
    StatedMass::read(one, unit.as_deref(), of)
        .or_else(|| StatedMass::read(row, row_unit.as_deref(), MassOf::Row))
}

/// At most so much of a cell as a message can show.
fn shorten(text: &str) -> Cow<'_, str> {
    match text.char_indices().nth(40) {
        Some((end, _)) => Cow::Owned(format!("{}…", &text[..end])),
        None => Cow::Borrowed(text),
    }
}

/// Cells that are looked up together, in one string.
struct Key<const N: usize> {
    text: String,
    ends: [usize; N],
    len: usize,
}

impl<const N: usize> Key<N> {
    fn new() -> Key<N> {
        Key {
            text: String::new(),
            ends: [0; N],
            len: 0,
        }
    }

    fn clear(&mut self) {
        self.text.clear();
        self.len = 0;
    }

    /// Ends the cell whose text was appended last.
    fn end_cell(&mut self) {
        self.ends[self.len] = self.text.len();
        self.len += 1;
        self.text.push(CELL_END);
    }

    fn push(&mut self, cell: &str) {
        self.text.push_str(cell);
        self.end_cell();
    }

    /// The text of a cell; empty where it was never set.
    fn get(&self, index: usize) -> &str {
        if index >= self.len {
            return "";
        }
        let start = if index == 0 {
            0
        } else {
            self.ends[index - 1] + CELL_END.len_utf8()
        };
        &self.text[start..self.ends[index]]
    }

    /// True where every cell is blank.
    fn is_blank(&self) -> bool {
        self.text.len() == self.len * CELL_END.len_utf8()
    }
}

/// The item cells of a key, in this order after the description.
const ITEM_CELLS: [Meaning; 9] = [
    Meaning::Size,
    Meaning::Diameter,
    Meaning::Length,
    Meaning::Thread,
    Meaning::Grade,
    Meaning::Finish,
    Meaning::PartNumber,
    Meaning::Mass,
    Meaning::TotalMass,
];
const ITEM_KEY: usize = 1 + ITEM_CELLS.len();

/// The cells that say where a line belongs, in this order after the stage.
const PLACE_CELLS: [Meaning; placement::CELLS - 1] = [
    Meaning::Place,
    Meaning::Bag,
    Meaning::Box,
    Meaning::Option,
    Meaning::Use,
    Meaning::Torque,
    Meaning::Note,
    Meaning::CountedBy,
    Meaning::Bin,
    Meaning::Sequence,
];

/// One item of a wording: its reading, and the count that the wording states.
#[derive(Clone, Copy)]
struct Found {
    reading: u32,
    quantity: Option<Quantity>,
    places: u32,
}

/// What a wording turned out to be.
#[derive(Clone)]
enum Entry {
    /// Items, as a range of [`Reader::found`].
    Items(u32, u32),
    /// A row of totals, or a note.
    Furniture,
    /// A bag or box as such.
    Container,
    Unread(Box<str>),
}

struct Reader<'a> {
    list: List,
    named: &'a IndexMap<Meaning, String>,
    notation: Notation,
    layout: Option<Layout>,
    /// The sheet has a heading row, which is still to come.
    before_table: bool,
    /// The row of the last line of a text's title block.
    title_block: u32,
    sheet: u16,
    sheet_name: Option<String>,
    stage: String,
    /// The option that the stage's title names, as a cell gives it.
    stage_option: String,
    bag: String,
    carton: String,
    /// A row that may be a heading, or the upper half of one.
    held: Option<Row>,
    entries: HashMap<Box<str>, u32, FxBuildHasher>,
    said: Vec<Entry>,
    found: Vec<Found>,
    item: Key<ITEM_KEY>,
    item_before: Key<ITEM_KEY>,
    entry_before: u32,
    placements: HashMap<Box<str>, u32, FxBuildHasher>,
    place: Key<{ placement::CELLS }>,
    place_before: Key<{ placement::CELLS }>,
    placement_before: u32,
    /// The words of a use that no rule knows, a value for each placement.
    unknown_uses: Vec<Option<Box<str>>>,
    /// A line of text, its cells joined.
    line: String,
    /// The prose of the stage so far.
    guide: Guide,
    /// Bytes of the rows of the lines so far: the report shows the row of every item, and a small file
    /// may name many items in long rows.
    shown: u64,
    /// Hidden rows of the sheet.
    hidden_rows: u64,
    keep_words: bool,
    tally: RowTally,
}

/// No entry or placement yet.
const NONE: u32 = u32::MAX;

impl<'a> Reader<'a> {
    fn new(input: &'a Input, file: String, role: Role, format: Format) -> Reader<'a> {
        Reader {
            list: List::new(input.path.clone(), file, role, format),
            named: &input.columns,
            notation: Notation::default(),
            layout: None,
            before_table: false,
            title_block: 0,
            sheet: 0,
            sheet_name: None,
            stage: String::new(),
            stage_option: String::new(),
            bag: String::new(),
            carton: String::new(),
            held: None,
            entries: HashMap::default(),
            said: Vec::new(),
            found: Vec::new(),
            item: Key::new(),
            item_before: Key::new(),
            entry_before: NONE,
            placements: HashMap::default(),
            place: Key::new(),
            place_before: Key::new(),
            placement_before: NONE,
            unknown_uses: Vec::new(),
            line: String::new(),
            shown: 0,
            hidden_rows: 0,
            keep_words: input.keep_words,
            guide: Guide::new(input.repeats.clone()),
            tally: RowTally::default(),
        }
    }

    /// True where the lines of a headless sheet read as items: a text where any does, a table cut
    /// into cells where most do and one is hardware, since a column of words and one of figures may
    /// be anything. A workbook's table needs headings.
    fn reads_as_list(&self, head: &[Row]) -> bool {
        let mut lines = 0;
        let mut items = 0;
        let mut hardware = 0;
        let mut text = String::new();
        for row in head.iter().filter(|row| !row.is_empty()) {
            join(row, &mut text);
            lines += 1;
            let Ok(all) = describe(&text, self.notation) else {
                continue;
            };
            let fastens = all.iter().any(is_hardware);
            hardware += usize::from(fastens);
            items += usize::from(fastens || all.iter().any(|callout| callout.quantity.is_some()));
        }
        match self.list.format {
            Format::Text => items > 0,
            Format::Delimited(_) => items * 2 >= lines && hardware > 0,
            _ => false,
        }
    }

    fn start_sheet(&mut self, index: u16, name: Option<&str>, table: bool, head: &[Row]) {
        self.sheet = index;
        self.sheet_name = name.map(str::to_owned);
        self.layout = None;
        self.before_table = table && self.list.format != Format::Text;
        self.title_block = match self.list.format {
            Format::Text => title_block(head, self.notation),
            _ => 0,
        };
        self.stage.clear();
        self.stage.push_str(name.unwrap_or_default());
        self.stage_option.clear();
        self.bag.clear();
        self.carton.clear();
        self.forget_row_above();
    }

    /// Nothing above is repeated by a blank or a ditto mark any more.
    fn forget_row_above(&mut self) {
        self.item_before.clear();
        self.entry_before = NONE;
        self.place_before.clear();
        self.placement_before = NONE;
    }

    fn end_sheet(&mut self) {
        if let Some(held) = self.held.take() {
            self.settle_held(&held, None);
        }
        self.end_prose();
        // A stage's prose is read together, so its lines come behind those of its lists.
        let first = self.list.lines.partition_point(|l| l.sheet < self.sheet);
        self.list.lines[first..].sort_by_key(|line| line.row);
        self.list
            .words
            .sort_by_key(|words| (words.sheet, words.row));
        let tally = std::mem::take(&mut self.tally);
        debug_assert_eq!(
            tally.rows,
            tally.read + tally.check + tally.aside + tally.other
        );
        let total = &mut self.list.tally;
        total.rows += tally.rows;
        total.read += tally.read;
        total.check += tally.check;
        total.aside += tally.aside;
        total.other += tally.other;
        let hidden_rows = std::mem::take(&mut self.hidden_rows);
        let sheet = &mut self.list.sheets[usize::from(self.sheet)];
        sheet.tally = tally;
        sheet.hidden_rows = match self.list.format {
            Format::Xlsb | Format::Xls | Format::Ods => None,
            Format::Xlsx | Format::Delimited(_) | Format::Text => Some(hidden_rows),
        };
    }

    /// Refuses a repetition that the job confirms where no sentence repeats.
    fn refuse_idle_repeats(&self) -> Result<()> {
        let Some((row, found)) = self.guide.idle_repeat() else {
            return Ok(());
        };
        let lines: Vec<String> = found.keys().map(u32::to_string).collect();
        let todo = match lines.as_slice() {
            [] => {
                "take it out of repeats: no sentence of this file repeats one before it".to_owned()
            }
            lines => format!(
                "take it out of repeats, or name the line on which a sentence that repeats starts: {}",
                lines.join(", ")
            ),
        };
        Err(Error::input(
            At {
                row: Some(row),
                ..At::file(&self.list.file)
            },
            "the job file's repeats name this line, and no sentence that repeats starts on it",
            todo,
        ))
    }

    fn finish(mut self) -> List {
        self.list.repeats = self.guide.repeats;
        self.list
    }

    fn row(&mut self, row: &Row) {
        self.tally.rows += 1;
        self.hidden_rows += u64::from(row.hidden);
        if let Some(held) = self.held.take()
            && self.settle_held(&held, Some(row))
        {
            return;
        }
        self.take(row, true);
    }

    /// Decides what a held row is, now that the next is there. True where the next row belongs to
    /// it.
    fn settle_held(&mut self, held: &Row, next: Option<&Row>) -> bool {
        let alone = Layout::of(held, None, self.named);
        let with_next = next
            .filter(|next| !next.is_empty())
            .and_then(|next| Some((Layout::of(held, Some(next), self.named)?, next)));
        let known = |layout: &Option<Layout>| layout.as_ref().map_or(0, |l| l.known);
        if let Some((both, next)) = with_next
            && both.known > known(&alone)
            // A row above a heading row is the upper half of it only if it is heading-like itself.
            && both.known + usize::from(alone.is_some()) > known(&Layout::of(next, None, self.named))
        {
            self.set_layout(both);
            self.tally.other += 2;
            return true;
        }
        match alone {
            Some(layout) => {
                self.set_layout(layout);
                self.tally.other += 1;
            }
            None => self.take(held, false),
        }
        false
    }

    fn set_layout(&mut self, layout: Layout) {
        if layout.unit != self.notation.unit {
            self.notation.unit = layout.unit;
            self.entries.clear();
        }
        let unread = &mut self.list.sheets[usize::from(self.sheet)].unread_columns;
        for heading in &layout.unread {
            if !unread.contains(heading) {
                unread.push(heading.clone());
            }
        }
        self.layout = Some(layout);
        self.before_table = false;
        self.forget_row_above();
    }

    /// Takes one row; `fresh`: it has not been found to be no heading.
    fn take(&mut self, row: &Row, fresh: bool) {
        if row.is_empty()
            || !row
                .cells()
                .any(|(text, _)| text.contains(char::is_alphanumeric) || furniture::is_ditto(text))
        {
            self.guide.end_paragraph(self.notation);
            self.tally.other += 1;
            return;
        }
        if row.number <= self.title_block || self.before_table {
            if fresh && self.before_table && self.is_heading_like(row) {
                self.held = Some(row.clone());
                return;
            }
            self.note_revision(row);
            self.tally.other += 1;
            return;
        }
        match self.layout.take() {
            // A text's line that is not cut into cells is no row of the table above it.
            Some(layout) if self.list.format != Format::Text || row.len() > 1 => {
                self.guide.end_paragraph(self.notation);
                self.table_row(row, &layout, fresh);
                self.layout = Some(layout);
            }
            layout => {
                self.layout = layout;
                self.list_row(row, fresh);
            }
        }
    }

    fn is_heading_like(&self, row: &Row) -> bool {
        may_be_heading(row)
            && row.cells().filter(|(text, _)| !text.is_empty()).count() > 1
            && row.cells().any(|(text, _)| {
                heading::recognise(text).is_some()
                    || self.named.values().any(|name| same_words(name, text))
            })
    }

    /// A row of a table.
    fn table_row(&mut self, row: &Row, layout: &Layout, fresh: bool) {
        let mut item = std::mem::replace(&mut self.item, Key::new());
        item.clear();
        let error = self.fill_item(&mut item, row, layout);
        let entry = if item.text == self.item_before.text {
            self.entry_before
        } else if item.is_blank() {
            NONE
        } else {
            self.entries
                .get(item.text.as_str())
                .copied()
                .unwrap_or(NONE)
        };
        let count = count::count(row, layout, self.list.role, self.notation);
        if (!count.stated || count.aside.is_some()) && self.is_furniture(row, layout) {
            self.item = item;
            self.tally.other += 1;
            return;
        }
        if entry == NONE && fresh && self.is_heading_like(row) {
            self.item = item;
            self.held = Some(row.clone());
            return;
        }
        let worst = if let Some(error) = error {
            let place = self.placement(row, layout, false);
            self.push_aside(row, place, Aside::CellError(error))
        } else if item.is_blank() {
            self.row_without_item(row, layout, count)
        } else {
            let entry = if entry == NONE {
                self.enter(&item, layout)
            } else {
                entry
            };
            self.entry_before = entry;
            self.row_of_entry(row, layout, entry, count)
        };
        if self.keep_words && worst.is_some() {
            self.words_of_row(row, layout, &item);
        }
        if item.is_blank() {
            self.item = item;
        } else {
            self.item = std::mem::replace(&mut self.item_before, item);
        }
        self.add(worst);
    }

    /// Fills the key of what an item is. Gives the error of a cell that holds one.
    fn fill_item(&self, item: &mut Key<ITEM_KEY>, row: &Row, layout: &Layout) -> Option<Box<str>> {
        let mut error = None;
        let mut check = |column: usize| {
            if row.kind(column) == CellKind::Error {
                error.get_or_insert_with(|| Box::from(row.get(column)));
            }
        };
        let many = layout.descriptions.len() > 1;
        for &column in &layout.descriptions {
            let column = usize::from(column);
            check(column);
            let cell = row.get(column);
            // Beside a description, a bare number is the line's.
            if cell.is_empty() || (many && is_line_number(cell)) {
                continue;
            }
            if furniture::is_ditto(cell) {
                item.text.push_str(self.item_before.get(0));
            } else {
                if !item.text.is_empty() {
                    item.text.push(' ');
                }
                item.text.push_str(cell);
            }
        }
        item.end_cell();
        for (index, meaning) in ITEM_CELLS.into_iter().enumerate() {
            let Some(column) = layout.column(meaning) else {
                item.end_cell();
                continue;
            };
            let cell = row.get(column);
            if matches!(meaning, Meaning::Mass | Meaning::TotalMass) {
                // A weight alone is no item: a row of totals.
                match item.is_blank() {
                    true => item.end_cell(),
                    false => item.push(cell),
                }
                continue;
            }
            check(column);
            if meaning == Meaning::PartNumber && layout.numbers_lines && is_line_number(cell) {
                item.end_cell();
            } else if furniture::is_ditto(cell) {
                item.push(self.item_before.get(index + 1));
            } else {
                item.push(cell);
            }
        }
        error
    }

    /// A row with one cell that is a title, a total or a note, and no figures. A title takes effect.
    fn is_furniture(&mut self, row: &Row, layout: &Layout) -> bool {
        let mut filled = row.cells().filter(|(text, _)| !text.is_empty());
        let (Some((text, _)), None) = (filled.next(), filled.next()) else {
            return false;
        };
        if let Some(stage) = furniture::stage_title(text) {
            self.enter_stage(stage);
            return true;
        }
        if layout.has(Meaning::Received) {
            return false;
        }
        if let Some(container) = furniture::container(text) {
            self.enter_container(container);
            return true;
        }
        furniture::is_total(text) || furniture::is_note(text)
    }

    fn enter_stage(&mut self, stage: &str) {
        self.end_prose();
        self.stage.clear();
        self.stage.push_str(stage);
        self.guide.title.clear();
        self.guide.title.push_str(stage);
        self.stage_option.clear();
        if let Some((option, _)) = notation::option(stage) {
            self.stage_option = option.to_string();
        }
    }

    fn enter_container(&mut self, container: Container<'_>) {
        self.end_prose();
        let (holder, name) = match container {
            Container::Bag(name) => (&mut self.bag, name),
            Container::Box(name) => (&mut self.carton, name),
        };
        holder.clear();
        holder.push_str(name);
    }

    /// Works out what a wording says, once.
    fn enter(&mut self, item: &Key<ITEM_KEY>, layout: &Layout) -> u32 {
        let description = item.get(0);
        let only_description = (1..=ITEM_KEY - 3).all(|cell| item.get(cell).is_empty());
        let said = if only_description && furniture::is_total(description) {
            Entry::Furniture
        } else if only_description
            && self.list.role != Role::Required
            && furniture::container(description).is_some()
        {
            Entry::Container
        } else {
            let cells = ItemCells {
                description,
                size: item.get(1),
                diameter: item.get(2),
                length: item.get(3),
                thread: item.get(4),
                grade: item.get(5),
                finish: item.get(6),
                part_number: item.get(7),
            };
            let said = self.describe(describe_cells(&cells, self.notation));
            // The weight of a row that names several items is none of theirs.
            if matches!(said, Entry::Items(start, end) if end == start + 1)
                && let Some(reading) = self.list.readings.last_mut()
            {
                reading.mass = mass(item.get(ITEM_KEY - 2), item.get(ITEM_KEY - 1), layout);
            }
            said
        };
        self.remember(&item.text, said)
    }

    fn remember(&mut self, key: &str, said: Entry) -> u32 {
        let entry = self.said.len() as u32;
        self.said.push(said);
        self.entries.insert(key.into(), entry);
        entry
    }

    fn describe(&mut self, callouts: std::result::Result<Vec<Callout>, Unread>) -> Entry {
        match callouts {
            Ok(callouts) if callouts.len() > MOST_ITEMS => {
                let found = callouts.len();
                Entry::Unread(format!("{found} items in one row are no line of a list").into())
            }
            Ok(callouts) => {
                let start = self.found.len() as u32;
                for callout in callouts {
                    self.found.push(Found {
                        reading: self.list.readings.len() as u32,
                        quantity: callout.quantity,
                        places: callout.places,
                    });
                    self.list.readings.push(Reading {
                        item: callout.item,
                        part_number: callout.part_number,
                        comes_with: callout.comes_with,
                        mass: None,
                        doubts: callout.doubts,
                    });
                }
                Entry::Items(start, self.found.len() as u32)
            }
            Err(Unread::Empty) => Entry::Unread("nothing is written".into()),
            Err(Unread::NoItem(reason)) => Entry::Unread(reason),
        }
    }

    /// A row without item cells: a bag received or not, a total, or figures without an item.
    fn row_without_item(&mut self, row: &Row, layout: &Layout, count: Count) -> Option<LineStatus> {
        if layout.has(Meaning::Received) {
            let bag = layout.cell(row, Meaning::Bag);
            let carton = layout.cell(row, Meaning::Box);
            if !bag.is_empty() || !carton.is_empty() {
                let received = received(layout.cell(row, Meaning::Received));
                let place = self.placement(row, layout, false);
                return self.push_bag(row, place, received, None, Vec::new());
            }
        }
        let label = row.cells().find(|(text, _)| !text.is_empty());
        if label.is_some_and(|(text, _)| furniture::is_total(text) || furniture::is_note(text)) {
            return None;
        }
        // The stage alone holds for the rows below.
        let place = self.placement(row, layout, false);
        if !count.stated {
            return None;
        }
        let aside = count
            .aside
            .unwrap_or_else(|| Aside::NoItem("a quantity and no item".into()));
        self.push_aside(row, place, aside)
    }

    fn row_of_entry(
        &mut self,
        row: &Row,
        layout: &Layout,
        entry: u32,
        count: Count,
    ) -> Option<LineStatus> {
        if matches!(self.said[entry as usize], Entry::Furniture) {
            return None;
        }
        let place = self.placement(row, layout, count.reference);
        if let Some(aside) = count.aside {
            return self.push_aside(row, place, aside);
        }
        match &self.said[entry as usize] {
            &Entry::Items(start, end) => self.push_items(row, place, start..end, count),
            Entry::Furniture => None,
            Entry::Container => {
                let description = self.item_text(layout, row);
                let place = self.container_placement(place, &description);
                let received = layout
                    .has(Meaning::Received)
                    .then(|| received(layout.cell(row, Meaning::Received)))
                    .flatten();
                self.push_bag(row, place, received, count.pieces, count.doubts)
            }
            Entry::Unread(reason) => {
                let reason = reason.clone();
                self.push_aside(row, place, Aside::NoItem(reason))
            }
        }
    }

    fn item_text(&self, layout: &Layout, row: &Row) -> String {
        let cells: Vec<&str> = layout
            .descriptions
            .iter()
            .map(|&column| row.get(usize::from(column)))
            .collect();
        cells.join(" ")
    }

    /// The placement of a bag as such: the bag is the one that the description names.
    fn container_placement(&mut self, place: u32, description: &str) -> u32 {
        let mut placement = self.list.placements[place as usize].clone();
        match furniture::container(description) {
            Some(Container::Bag(name)) => placement.bag = Some(name.into()),
            Some(Container::Box(name)) => placement.carton = Some(name.into()),
            None => {}
        }
        self.list.placements.push(placement);
        self.unknown_uses.push(None);
        self.list.placements.len() as u32 - 1
    }

    /// The placement of a row. Its stage, where the cell is filled, holds for the rows below.
    fn placement(&mut self, row: &Row, layout: &Layout, reference: bool) -> u32 {
        if let Some(column) = layout.column(Meaning::Stage) {
            let stage = row.get(column);
            if !stage.is_empty() && stage != self.stage && !furniture::is_ditto(stage) {
                self.stage.clear();
                self.stage.push_str(stage);
            }
        }
        let mut place = std::mem::replace(&mut self.place, Key::new());
        place.clear();
        place.push(&self.stage);
        for (index, meaning) in PLACE_CELLS.into_iter().enumerate() {
            let cell = layout.cell(row, meaning);
            if cell.is_empty() {
                match meaning {
                    Meaning::Bag => place.push(&self.bag),
                    Meaning::Box => place.push(&self.carton),
                    Meaning::Option => place.push(&self.stage_option),
                    Meaning::Use if reference => place.push("ref"),
                    _ => place.end_cell(),
                }
            } else if furniture::is_ditto(cell) {
                place.push(self.place_before.get(index + 1));
            } else {
                place.push(cell);
            }
        }
        self.look_up_placement(place, layout.torque_unit.as_deref())
    }

    /// The placement of a line of text, which has no cells.
    fn text_placement(&mut self) -> u32 {
        let mut place = std::mem::replace(&mut self.place, Key::new());
        place.clear();
        place.push(&self.stage);
        for meaning in PLACE_CELLS {
            match meaning {
                Meaning::Bag => place.push(&self.bag),
                Meaning::Box => place.push(&self.carton),
                Meaning::Option => place.push(&self.stage_option),
                _ => place.end_cell(),
            }
        }
        self.look_up_placement(place, None)
    }

    fn look_up_placement(
        &mut self,
        place: Key<{ placement::CELLS }>,
        torque_unit: Option<&str>,
    ) -> u32 {
        if self.placement_before != NONE && place.text == self.place_before.text {
            self.place = place;
            return self.placement_before;
        }
        let index = match self.placements.get(place.text.as_str()) {
            Some(&index) => index,
            None => {
                let index = self.list.placements.len() as u32;
                let (placement, unknown) = placement::placement(|i| place.get(i), torque_unit);
                self.list.placements.push(placement);
                self.unknown_uses.push(unknown);
                self.placements.insert(place.text.as_str().into(), index);
                index
            }
        };
        self.placement_before = index;
        self.place = std::mem::replace(&mut self.place_before, place);
        index
    }

    /// A line of text, or a row without headings above it.
    fn list_row(&mut self, row: &Row, fresh: bool) {
        if self.take_prose(row) {
            return;
        }
        if fresh && self.is_heading_like(row) {
            self.held = Some(row.clone());
            return;
        }
        let mut text = std::mem::take(&mut self.line);
        join(row, &mut text);
        let worst = self.list_line(row, &text);
        if self.keep_words && worst.is_some() {
            self.words_of(row.number, &furniture::without_bullet(&text), None);
        }
        self.line = text;
        self.add(worst);
    }

    /// Keeps what a line of text was read from. `said`: what the rest of its sentence says.
    fn words_of(&mut self, row: u32, text: &str, said: Option<Vec<(Meaning, Box<str>)>>) {
        let mut item = <[Box<str>; 8]>::default();
        item[0] = text.into();
        self.list.words.push(Words {
            sheet: self.sheet,
            row,
            item,
            in_prose: said.is_some(),
            beside: said.unwrap_or_default(),
            notation: self.notation,
        });
    }

    /// Keeps what a row of a table was read from.
    fn words_of_row(&mut self, row: &Row, layout: &Layout, item: &Key<ITEM_KEY>) {
        let is_item =
            |meaning: &Meaning| *meaning == Meaning::Description || Words::ITEM.contains(meaning);
        let beside = Meaning::ALL
            .iter()
            .copied()
            .filter(|meaning| !is_item(meaning));
        let beside = beside.map(|meaning| (meaning, Box::from(layout.cell(row, meaning))));
        self.list.words.push(Words {
            sheet: self.sheet,
            row: row.number,
            item: std::array::from_fn(|at| item.get(at).into()),
            beside: beside
                .filter(|(_, text): &(_, Box<str>)| !text.is_empty())
                .collect(),
            in_prose: false,
            notation: self.notation,
        });
    }

    /// Takes a line of a guide's prose.
    fn take_prose(&mut self, row: &Row) -> bool {
        if self.list.role != Role::Required || self.list.format != Format::Text {
            return false;
        }
        let mut text = std::mem::take(&mut self.line);
        join(row, &mut text);
        // A heading names no pieces: `Stage 2 takes four 5/8 x 6 hex bolts.` is a sentence.
        let is_heading = furniture::markdown_heading(&text).is_some()
            || (furniture::stage_title(&text).is_some()
                && text.starts_with(|c: char| !c.is_lowercase())
                && !(text.ends_with('.')
                    && sentence(&text, self.notation)
                        .calls
                        .iter()
                        .any(|call| call.callout.quantity.is_some())));
        let is_furniture = is_heading
            || furniture::container(&text).is_some()
            || furniture::is_loose(&text)
            || furniture::is_total(&text);
        let taken = if is_furniture {
            self.guide.end_paragraph(self.notation);
            false
        } else {
            let body = furniture::without_bullet(&text);
            let fresh = !text.trim().starts_with(&*body);
            self.guide.takes(row.number, &body, fresh, self.notation)
        };
        self.line = text;
        taken
    }

    /// Pushes the lines that the stage's prose asks for, and counts its rows.
    fn end_prose(&mut self) {
        let mut worst: BTreeMap<u32, LineStatus> = BTreeMap::new();
        let mut text: Option<(u32, String, TextAt)> = None;
        for asked in self.guide.end_stage(self.notation) {
            let at = match &text {
                Some((row, text, at)) if *row == asked.row && *text == asked.text => *at,
                _ => {
                    let at = self.list.text.push(&asked.text);
                    text = Some((asked.row, asked.text.clone(), at));
                    at
                }
            };
            self.shown += asked.text.len() as u64;
            self.list.from_sentences = true;
            if self.keep_words {
                self.words_of(asked.row, &asked.phrase, asked.says());
            }
            let line = self.asked_line(asked, at);
            let status = self.list.status_of(&line);
            let row = worst.entry(line.row).or_insert(status);
            *row = status.max(*row);
            self.list.lines.push(line);
        }
        for row in std::mem::take(&mut self.guide.rows) {
            self.add(worst.get(&row).copied());
        }
    }

    fn asked_line(&mut self, asked: Asked, text: TextAt) -> Line {
        let mut place = std::mem::replace(&mut self.place, Key::new());
        place.clear();
        place.push(&self.stage);
        for meaning in PLACE_CELLS {
            place.push(match meaning {
                Meaning::Bag => &self.bag,
                Meaning::Box => &self.carton,
                Meaning::Use => asked.usage.map_or("", Usage::as_str),
                Meaning::Torque => asked.torque.as_deref().unwrap_or_default(),
                Meaning::Place => asked.place.as_deref().unwrap_or_default(),
                Meaning::Option => asked.option.as_deref().unwrap_or(&self.stage_option),
                Meaning::Sequence => asked.sequence.unwrap_or_default(),
                _ => "",
            });
        }
        let placement = self.look_up_placement(place, None);
        let mut doubts = asked.doubts;
        let (what, quantity) = match asked.callout {
            Ok(callout) => {
                self.list.readings.push(Reading {
                    item: callout.item,
                    part_number: callout.part_number,
                    comes_with: callout.comes_with,
                    mass: None,
                    doubts: callout.doubts,
                });
                let reading = self.list.readings.len() as u32 - 1;
                (What::Item(reading), callout.quantity)
            }
            Err(reason) => (self.list.put_aside(Aside::NoItem(reason.into())), None),
        };
        if quantity.is_none()
            && matches!(what, What::Item(_))
            && asked.usage != Some(Usage::Reference)
        {
            doubts.push(Doubt::NoQuantity);
        }
        let pieces = quantity.map(|quantity| quantity.pieces);
        Line {
            sheet: self.sheet,
            places: asked.places,
            ..Line::new(asked.row, text, what, placement, pieces)
        }
        .with(More {
            packs: quantity.and_then(|quantity| quantity.packs),
            doubts,
            ..More::default()
        })
    }

    fn list_line(&mut self, row: &Row, text: &str) -> Option<LineStatus> {
        if let Some(stage) = furniture::stage_title(text) {
            self.enter_stage(stage);
            return None;
        }
        if let Some((level, title)) = furniture::markdown_heading(text) {
            if level > 1 {
                self.enter_stage(title);
            }
            return None;
        }
        if let Some(container) = furniture::container(text) {
            self.enter_container(container);
            return None;
        }
        if furniture::is_loose(text) {
            self.bag.clear();
            self.carton.clear();
            return None;
        }
        let body = furniture::without_bullet(text);
        let entry = match self.entries.get(&*body) {
            Some(&entry) => entry,
            None => {
                let said = if furniture::is_total(&body) || furniture::is_note(&body) {
                    Entry::Furniture
                } else {
                    let callouts = describe(&body, self.notation);
                    // A sentence without hardware and without a count is no line; what begins with
                    // a figure (`2 gal. wood stain`) is one.
                    let names_hardware = callouts
                        .as_ref()
                        .is_ok_and(|all| all.iter().any(is_hardware));
                    let is_line = names_hardware
                        || !furniture::is_page_or_footnote(text)
                            && (body.starts_with(|c: char| c.is_ascii_digit())
                                || callouts
                                    .as_ref()
                                    .is_ok_and(|all| all.iter().any(|c| c.quantity.is_some())));
                    match is_line {
                        true => self.describe(callouts),
                        false => Entry::Furniture,
                    }
                };
                self.remember(&body, said)
            }
        };
        match &self.said[entry as usize] {
            &Entry::Items(start, end) => {
                let place = self.text_placement();
                self.push_items(row, place, start..end, Count::default())
            }
            Entry::Furniture | Entry::Container => None,
            Entry::Unread(reason) => {
                let reason = reason.clone();
                let place = self.text_placement();
                self.push_aside(row, place, Aside::NoItem(reason))
            }
        }
    }

    /// Pushes a line for each item of a row, and gives the worst of their states.
    fn push_items(
        &mut self,
        row: &Row,
        place: u32,
        found: std::ops::Range<u32>,
        mut count: Count,
    ) -> Option<LineStatus> {
        if row.hidden {
            count.doubts.push(Doubt::HiddenRow);
        }
        if let Some(unknown) = &self.unknown_uses[place as usize] {
            count.doubts.push(Doubt::Said(
                format!("the use \"{unknown}\" is not known: taken as new").into(),
            ));
        }
        let text = self.push_text(row);
        let several = found.len() > 1;
        // "12 bolts c/w nut and 2 washers" beside a count of 12 counts the sets once.
        let counted_in_text = several
            && count.pieces.is_some_and(|pieces| {
                let first = self.found[found.start as usize].quantity;
                pieces > 1 && first.is_some_and(|q| q.pieces == pieces)
            });
        let mut worst = LineStatus::Read;
        let first = self.list.lines.len();
        for index in found {
            let Found {
                reading,
                quantity,
                places,
            } = self.found[index as usize];
            let mut doubts = count.doubts.clone();
            let (pieces, packs) = if several && !counted_in_text {
                match (count.pieces, quantity) {
                    (Some(sets), Some(each)) => (sets.checked_mul(each.pieces), None),
                    (Some(sets), None) => (Some(sets), None),
                    (None, Some(each)) => (Some(each.pieces), each.packs),
                    (None, None) => (None, None),
                }
            } else {
                together(&count, quantity, &mut doubts)
            };
            let usage = self.list.placements[place as usize].usage;
            if pieces.is_none()
                && doubts.is_empty()
                && self.list.role != Role::Counted
                && usage != Some(Usage::Reference)
            {
                doubts.push(Doubt::NoQuantity);
            }
            let status =
                if doubts.is_empty() && self.list.readings[reading as usize].doubts.is_empty() {
                    LineStatus::Read
                } else {
                    LineStatus::Check
                };
            worst = worst.max(status);
            let line = Line {
                sheet: self.sheet,
                places: count.places.saturating_mul(places),
                ..Line::new(row.number, text, What::Item(reading), place, pieces)
            };
            self.list.lines.push(line.with(More {
                damaged: count.damaged,
                back_ordered: count.back_ordered,
                packs,
                pack_size: count.pack_size,
                doubts,
            }));
            self.shown += row.bytes() as u64;
        }
        // The items of one row stand or fall together: one in doubt puts all of them in doubt.
        if worst == LineStatus::Check {
            for at in first..self.list.lines.len() {
                if self.list.status_of(&self.list.lines[at]) == LineStatus::Read {
                    let doubts = &mut self.list.lines[at].more_mut().doubts;
                    doubts.push(Doubt::RowInDoubt);
                }
            }
        }
        Some(worst)
    }

    fn push_bag(
        &mut self,
        row: &Row,
        placement: u32,
        received: Option<bool>,
        quantity: Option<u64>,
        doubts: Vec<Doubt>,
    ) -> Option<LineStatus> {
        let text = self.push_text(row);
        let status = if doubts.is_empty() {
            LineStatus::Read
        } else {
            LineStatus::Check
        };
        let line = Line {
            sheet: self.sheet,
            ..Line::new(
                row.number,
                text,
                What::Bag { received },
                placement,
                quantity,
            )
        };
        self.list.lines.push(line.with(More {
            doubts,
            ..More::default()
        }));
        self.shown += row.bytes() as u64;
        Some(status)
    }

    fn push_aside(&mut self, row: &Row, placement: u32, aside: Aside) -> Option<LineStatus> {
        let text = self.push_text(row);
        let what = self.list.put_aside(aside);
        self.list.lines.push(Line {
            sheet: self.sheet,
            ..Line::new(row.number, text, what, placement, None)
        });
        self.shown += row.bytes() as u64;
        Some(LineStatus::Aside)
    }

    /// Keeps the row as written, where the file does not hold it as such.
    fn push_text(&mut self, row: &Row) -> TextAt {
        match row.at {
            Some(start) => TextAt::in_file(start),
            None => self.list.text.push_cells(row.cells().map(|(cell, _)| cell)),
        }
    }

    /// Counts a row by the worst state of its lines; a row without lines is no line.
    fn add(&mut self, worst: Option<LineStatus>) {
        match worst {
            Some(LineStatus::Read) => self.tally.read += 1,
            Some(LineStatus::Check) => self.tally.check += 1,
            Some(LineStatus::Aside) => self.tally.aside += 1,
            None => self.tally.other += 1,
        }
    }

    /// Keeps the revision and the date of a title block.
    fn note_revision(&mut self, row: &Row) {
        let cells: Vec<&str> = row
            .cells()
            .map(|(text, _)| text)
            .filter(|text| !text.is_empty())
            .collect();
        for (index, cell) in cells.iter().enumerate() {
            let Some((what, value)) = furniture::revision(cell) else {
                continue;
            };
            let value = match value {
                "" => cells.get(index + 1).copied().unwrap_or_default(),
                value => value,
            };
            let kept = match what {
                "date" => &mut self.list.date,
                _ => &mut self.list.revision,
            };
            if !value.is_empty() && kept.is_none() {
                *kept = Some(value.to_owned());
            }
        }
    }
}

/// The count of a row and the count in its text, taken together for a row of one item.
fn together(
    count: &Count,
    text: Option<Quantity>,
    doubts: &mut Vec<Doubt>,
) -> (Option<u64>, Option<u64>) {
    let Some(text) = text else {
        if count.in_packs {
            doubts.push(Doubt::Said(
                "packs of a size that is not stated: not summed".into(),
            ));
        }
        return (count.pieces, count.packs);
    };
    // So many packs, and the text says what is in one.
    if let (true, Some(packs)) = (count.in_packs, count.packs) {
        let each = text.pieces / text.packs.unwrap_or(1).max(1);
        return (packs.checked_mul(each), Some(packs));
    }
    match count.pieces {
        None if count.stated => (None, count.packs),
        None => (Some(text.pieces), text.packs),
        Some(pieces) if pieces == text.pieces || text.pieces == 1 => (Some(pieces), count.packs),
        Some(pieces) => match text.packs {
            Some(1) => (pieces.checked_mul(text.pieces), Some(pieces)),
            Some(packs) if packs == pieces => (Some(text.pieces), Some(packs)),
            _ => {
                doubts.push(Doubt::TwoQuantities(pieces, text.pieces));
                (None, None)
            }
        },
    }
}

/// Hardware, or what is sized like it; not a part that is known by its words alone.
fn is_hardware(callout: &Callout) -> bool {
    match callout.item.kind {
        Some(kind) => kind != Kind::Part,
        None => callout.item.diameter.is_some(),
    }
}

/// The list's own number for a line: `12`, `12.`, `12a`.
fn is_line_number(text: &str) -> bool {
    let text = text.trim_end_matches(['.', ')']);
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    (1..=3).contains(&digits)
        && match &text.as_bytes()[digits..] {
            [] => true,
            [letter] => letter.is_ascii_alphabetic(),
            _ => false,
        }
}

/// Yes or no, as people write it.
fn received(text: &str) -> Option<bool> {
    let is = |words: &[&str]| words.iter().any(|word| text.eq_ignore_ascii_case(word));
    if is(&[
        "yes", "y", "x", "true", "1", "ok", "received", "\u{2713}", "\u{2714}",
    ]) {
        Some(true)
    } else if is(&["no", "n", "false", "0", "missing", "not received"]) {
        Some(false)
    } else {
        None
    }
}

/// The filled cells of a row as one text.
fn join(row: &Row, text: &mut String) {
    text.clear();
    for (cell, _) in row.cells().filter(|(cell, _)| !cell.is_empty()) {
        if !text.is_empty() {
            text.push(' ');
        }
        text.push_str(cell);
    }
}

/// The last row of a text's title block: its first lines, up to a blank one, where none begins as
/// a list's line does and none names hardware.
fn title_block(head: &[Row], notation: Notation) -> u32 {
    let Some(start) = head.iter().position(|row| !row.is_empty()) else {
        return 0;
    };
    let Some(end) = head[start..].iter().position(Row::is_empty) else {
        return 0;
    };
    let block = &head[start..start + end];
    let is_title = |row: &Row| {
        let mut text = String::new();
        join(row, &mut text);
        let begins_a_line =
            text.starts_with(|c: char| c.is_ascii_digit() || "-*+\u{2022}([".contains(c));
        let hardware = || describe(&text, notation).is_ok_and(|all| all.iter().any(is_hardware));
        !begins_a_line
            && furniture::stage_title(&text).is_none()
            && furniture::container(&text).is_none()
            && !hardware()
    };
    if block.iter().all(is_title) {
        block.last().map_or(0, |row| row.number)
    } else {
        0
    }
}

#[cfg(test)]
mod tests;
