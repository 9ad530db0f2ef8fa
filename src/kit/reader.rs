//! Rows to lines.
//!
//! The reader goes through a source once. What the item cells of a row say is worked out once for
//! each distinct wording and looked up afterwards, and so is where a line belongs.
//!
//! [`plan`]: what is done with each sheet; [`usual`]: what its first lines have in common; [`guess`]: what rows tell
//! of headings that are not known; [`table`] and [`lines`]: what a row says; [`kind`]: titles that say it of the
//! rows below; [`place`]: where it belongs; [`push`]: the lines of it; [`seen`]: the short way of a row like those
//! before; [`quoted`]: earlier mails; [`refusal`]: what is said of a file that has none.

mod begin;
mod counts;
mod form;
mod group;
mod guess;
mod habit;
mod key;
mod kind;
mod level;
mod lines;
mod numbering;
mod pairs;
mod parting;
mod place;
mod plan;
mod price;
mod push;
mod quoted;
mod refusal;
mod seen;
mod several;
mod shape;
mod speakers;
mod table;
mod titles;
mod totals;
mod usual;

use std::{
    borrow::Cow,
    collections::{HashMap, hash_map},
    hash::BuildHasher,
    ops::{ControlFlow, Range},
    rc::Rc,
};

use indexmap::IndexMap;
use rustc_hash::{FxBuildHasher, FxHashMap};

use super::{
    again::Again,
    count,
    guide::Guide,
    input::Input,
    line::Aside,
    list::List,
    open::Open,
    reading::{MOST_ITEMS, Reading},
    remark,
    role::Role,
    sheet_read::{RowTally, SheetRead},
    usage::Usage,
};
use crate::{
    Doubt, Result,
    columns::{
        Layout, Meaning,
        furniture::{self, Container},
        heading, may_be_heading, same_words,
    },
    error::At,
    hardware::{Item, Unit},
    notation::{self, Callout, Notation, Quantity, Unread},
    source::{Document, Format, Limit, Row},
};
use counts::Counts;
use form::{Form, Record, Taken};
use key::{Key, KeyColumns, Keys};
use level::Levels;
use pairs::Pairs;
use plan::Plan;
use quoted::Quoted;
use refusal::{no_columns, no_hardware, refuse_own, refuse_unknown_sheets};
use seen::Seen;
use totals::Totals;
use usual::Usual;

/// Rows at the head of a sheet among which the heading row must be.
const HEAD: usize = 60;
/// Rows between two reports of progress.
const TICK: u64 = 4096;
/// Lines that memory is reserved for beforehand: a guess may be far off.
const MOST_RESERVED: usize = 1 << 20;
/// Most titles that a note names.
const TITLES_NAMED: usize = 12;

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
    let heads = sheets
        .iter()
        .enumerate()
        .map(|(index, sheet)| {
            if plan::is_hidden(input, sheet) {
                Ok(Vec::new())
            } else {
                document.first_rows(index, HEAD)
            }
        })
        .collect::<Result<Vec<_>>>()?;
    let format = document.format();
    refuse_own(&file, role, &sheets, &heads, format)?;
    let mut reader = Reader::new(input, file, role, format);
    reader.notation.decimal_comma = plan::writes_decimal_commas(format, heads.iter().flatten());
    // Rows below the heads are not known yet, and may be in inches.
    let seen_whole = heads.iter().all(|head| head.len() < HEAD);
    reader.unit =
        (seen_whole && plan::writes_metric(heads.iter().flatten())).then_some(Unit::Millimetre);
    reader.notation.unit = reader.unit;
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
    let plans = plan::of_sheets(&reader, input, again, &sheets, &heads, reads_further_on);
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
        reader.start_sheet(index as u16, name, plan, &heads[index]);
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

/// One item of a wording: its reading, and the count that the wording states.
#[derive(Clone, Copy)]
struct Found {
    reading: u32,
    quantity: Option<Quantity>,
    places: u32,
    /// Its reading has doubts.
    doubted: bool,
    /// A part that is known by words alone, without a number or a size.
    in_plain_words: bool,
    /// What becomes of it where it is no piece to be counted.
    brought: Option<Usage>,
}

/// What becomes of what a doubt says is no piece to be counted.
fn brought_for(doubt: &Doubt) -> Option<Usage> {
    match doubt {
        Doubt::Tool => Some(Usage::Reference),
        Doubt::Consumable => Some(Usage::Consumable),
        _ => None,
    }
}

fn is_in_plain_words(item: &Item) -> bool {
    let part = item.part.as_ref().filter(|part| part.number.is_none());
    let words = part.and_then(|part| part.description.as_deref());
    words.is_some_and(|words| !words.contains(|c: char| c.is_ascii_digit()))
}

/// What a wording turned out to be.
#[derive(Clone)]
enum Entry {
    /// Not worked out yet.
    New,
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
    /// The unit of bare sizes, where the whole list has but one.
    unit: Option<Unit>,
    layout: Option<Rc<Layout>>,
    /// The last heading row, and its columns.
    headings: Option<(String, Layout)>,
    /// The columns of each table, where several stand side by side under the same headings.
    side: Vec<Side>,
    /// The sheet has a heading row, which is still to come.
    before_table: bool,
    /// The row of the last line of a text's title block.
    title_block: u32,
    /// What a printed list bears again at the head of each page.
    page_head: Vec<String>,
    /// What the first rows of the sheet have in common.
    usual: Usual,
    /// The list has begun: what may be a title above it is a line.
    begun: bool,
    /// The form that the lines fill in.
    form: Option<Form>,
    /// The lines are records of two: a name, and how many.
    pairs: Option<Pairs>,
    /// A line with a bullet, which the next may go on with.
    bulleted: Option<Row>,
    /// A line as it stands, where it is read otherwise.
    written: Option<Row>,
    sheet: u16,
    stage: String,
    /// The option that the stage's title names, as a cell gives it.
    stage_option: String,
    bag: String,
    carton: String,
    /// A row that may be a heading, or the upper half of one.
    held: Option<Row>,
    wordings: Keys,
    /// By the key of the wording.
    said: Vec<Entry>,
    found: Vec<Found>,
    /// Readings by their hash: what several wordings say is kept once.
    alike: HashMap<u64, u32, FxBuildHasher>,
    item_before: Key,
    places: Keys,
    /// Placements, by the key of the place.
    placements: Vec<Option<u32>>,
    place_before: Key,
    columns: KeyColumns,
    counts: Counts,
    seen: Seen,
    /// The unit of bare torques in the table.
    torque_unit: Option<Box<str>>,
    /// What makes lines doubtful, by their placement.
    place_doubts: FxHashMap<u32, Vec<Doubt>>,
    /// A line of text, its cells joined.
    line: String,
    totals: Totals,
    /// A title of plain words, until a line follows; and whether a blank line stands above.
    bare_title: String,
    /// Titles numbered in turn so far: `1. Base`, `2. Posts`.
    titles_numbered: u32,
    after_blank: bool,
    /// No row stands between the headings and this one.
    at_top: bool,
    /// Rows of a table that were taken for titles of stages.
    stages_taken: Vec<(u32, String)>,
    /// The hardware that a title names without a size, for the bare sizes below it.
    kind_above: String,
    levels: Levels,
    /// What may be a title and was not taken for one: until a line follows, and what lines followed.
    may_be_title: Option<(u32, String)>,
    passed_titles: Vec<(u32, String)>,
    quoted: Quoted,
    /// So many kits, of each of which the lines below tell, and the line that says so.
    sets_above: Option<(u32, String)>,
    /// Lines that were not understood, each with its placement, until the next that is read.
    unheard: Vec<(Row, u32)>,
    /// Lines in which figures stand, and that say nothing of a list.
    passed_figures: Vec<(u32, String)>,
    /// The hardware of the line of text above, and how many it asks for.
    above: Option<(Item, Option<u64>)>,
    /// The prose of the stage so far.
    guide: Guide,
    /// Where the lines of the stage begin that its sentences are held against.
    stage_from: usize,
    /// Bytes of the rows of the lines so far: the report shows the row of every item, and a small file
    /// may name many items in long rows.
    shown: u64,
    /// Hidden rows of the sheet.
    hidden_rows: u64,
    keep_words: bool,
    tally: RowTally,
    /// Columns of which no word is known, where none is known to say how many.
    open_columns: Vec<guess::Open>,
    /// Columns of which no word is known, and whether they name hardware.
    unread: Vec<guess::Unread>,
    /// The heading row of a table of which too few words are known, and what its rows tell.
    guessed: Option<(u32, Layout)>,
}

/// A table beside others, and what its pieces lie in.
#[derive(Default)]
struct Side {
    columns: Range<usize>,
    bag: String,
    carton: String,
}

impl<'a> Reader<'a> {
    fn new(input: &'a Input, file: String, role: Role, format: Format) -> Reader<'a> {
        Reader {
            list: List::new(input.path.clone(), file, role, format),
            named: &input.columns,
            notation: Notation::default(),
            unit: None,
            layout: None,
            headings: None,
            side: Vec::new(),
            before_table: false,
            title_block: 0,
            page_head: Vec::new(),
            usual: Usual::default(),
            begun: false,
            form: None,
            pairs: None,
            bulleted: None,
            unheard: Vec::new(),
            written: None,
            sheet: 0,
            stage: String::new(),
            stage_option: String::new(),
            bag: String::new(),
            carton: String::new(),
            held: None,
            wordings: Keys::default(),
            said: Vec::new(),
            found: Vec::new(),
            alike: HashMap::default(),
            item_before: Key::BLANK,
            places: Keys::default(),
            placements: Vec::new(),
            place_before: Key::BLANK,
            columns: KeyColumns::default(),
            counts: Counts::default(),
            seen: Seen::default(),
            torque_unit: None,
            place_doubts: FxHashMap::default(),
            line: String::new(),
            totals: Totals::default(),
            bare_title: String::new(),
            titles_numbered: 0,
            after_blank: false,
            at_top: false,
            stages_taken: Vec::new(),
            kind_above: String::new(),
            levels: Levels::default(),
            may_be_title: None,
            passed_titles: Vec::new(),
            quoted: Quoted::default(),
            sets_above: None,
            passed_figures: Vec::new(),
            above: None,
            shown: 0,
            hidden_rows: 0,
            keep_words: input.keep_words,
            guide: Guide::new(input.repeats.clone()),
            stage_from: 0,
            tally: RowTally::default(),
            open_columns: Vec::new(),
            unread: Vec::new(),
            guessed: None,
        }
    }

    fn start_sheet(&mut self, index: u16, name: Option<&str>, plan: &Plan, head: &[Row]) {
        self.sheet = index;
        self.seen = Seen::default();
        self.after_blank = false;
        self.layout = None;
        self.headings = None;
        self.form = None;
        self.pairs = None;
        self.bulleted = None;
        self.unheard.clear();
        self.written = None;
        self.side.clear();
        let is_text = self.list.format == Format::Text;
        self.before_table = matches!(plan, Plan::Table | Plan::Guessed(..)) && !is_text;
        // A text's headings may have seemed to be some together with the row above alone.
        let no_headings = || is_text && !head.iter().any(|row| self.is_heading_like(row));
        let lines = matches!(plan, Plan::Lines) || (matches!(plan, Plan::Table) && no_headings());
        self.usual = Usual::of(head, self.list.format, self.list.role, self.notation, lines);
        self.title_block = match is_text {
            true => plan::title_block(&self.usual.head, self.notation, self.named),
            false => 0,
        };
        self.page_head = plan::page_head(head, self.named);
        if let Some(first) = self.usual.begins_at {
            self.title_block = self.title_block.min(first - 1);
        }
        self.begun = !self.list.lines.is_empty();
        self.totals = Totals::default();
        self.bare_title.clear();
        self.titles_numbered = 0;
        self.may_be_title = None;
        self.kind_above.clear();
        self.sets_above = None;
        self.stage.clear();
        self.stage.push_str(name.unwrap_or_default());
        self.stage_option.clear();
        self.bag.clear();
        self.carton.clear();
        self.forget_row_above();
        self.look_for_quotes();
        self.guessed = match plan {
            Plan::Guessed(row, layout) => Some((*row, (**layout).clone())),
            _ => None,
        };
        if !self.usual.speakers.is_none() {
            self.note(self.usual.speakers.told());
        }
        if lines && !self.take_form() && !self.take_pairs() {
            self.take_columns();
        }
    }

    /// Says something of how the sheet is read.
    fn note(&mut self, told: String) {
        let notes = &mut self.list.sheets[usize::from(self.sheet)].notes;
        if !notes.contains(&told) {
            notes.push(told);
        }
    }

    /// Takes the labels of a form for its headings, if the lines are one and the labels are known.
    fn take_form(&mut self) -> bool {
        let Some((form, rows)) = self.usual.form(self.list.format) else {
            return false;
        };
        let Some((labels, records)) = rows.split_first() else {
            return false;
        };
        let Some(mut layout) = Layout::of_known(labels, self.named) else {
            return false;
        };
        let records: Vec<&Row> = records.iter().collect();
        self.learn_from_rows(labels, &records, &mut layout);
        if !layout.says_what() || !count::is_stated(&layout, self.list.role) {
            return false;
        }
        layout.headless = true;
        self.title_block = 0;
        self.set_layout(layout);
        self.form = Some(form);
        true
    }

    /// Takes the lines of a text for records of two lines, if they are.
    fn take_pairs(&mut self) -> bool {
        let is_text = self.list.format == Format::Text;
        if !is_text || !Pairs::are(&self.usual.head, self.notation) {
            return false;
        }
        let columns = [(0, Meaning::Description), (1, Meaning::Quantity)];
        self.title_block = 0;
        self.note("a name on one line, how many on the next".to_owned());
        self.set_layout(Layout::without_headings(&columns));
        self.pairs = Some(Pairs::default());
        true
    }

    /// Takes a line among records of two.
    fn take_paired(&mut self, row: &Row, mut pairs: Pairs) {
        match pairs.take(row, self.notation) {
            pairs::Taken::Name(before) => before.iter().for_each(|row| self.take(row, true)),
            pairs::Taken::Record(record) => {
                self.tally.other += 1;
                self.begin_titled();
                self.take_record(record);
            }
            pairs::Taken::Not(before) => {
                before.iter().for_each(|row| self.take(row, true));
                self.take(row, true);
            }
            pairs::Taken::Passed => self.tally.other += 1,
        }
        self.pairs = Some(pairs);
    }

    /// Lets the rows of a sheet without headings tell its columns. Where they do not, the cells of a row
    /// are taken together.
    fn take_columns(&mut self) {
        let columns = self.usual.columns.take();
        let layout = columns.as_ref().map(|of| &of.layout);
        if self.list.format != Format::Text && self.usual.head.iter().any(|row| row.len() > 1) {
            let told = match layout.and_then(|l| l.column(Meaning::Quantity)) {
                Some(column) => format!(
                    "no heading row was found: column {} is taken for how many, since it holds counts",
                    column + 1
                ),
                None => {
                    "no heading row was found: the cells of a row are read as one line".to_owned()
                }
            };
            self.note(told);
        }
        let Some(shape::Columns { layout, side }) = columns else {
            return;
        };
        if let Some(parting) = &self.usual.parting {
            self.note(parting.told());
        }
        let tables = side.len();
        self.set_layout(layout.clone());
        self.side = side.into_iter().map(Side::of).collect();
        if tables > 1 {
            self.note(format!(
                "{tables} tables side by side: read one after another"
            ));
        }
        let titles = (self.usual.head.iter()).filter(|row| row.number <= self.title_block);
        if titles
            .into_iter()
            .any(|row| self.is_row_of(&self.usual.parted(row, self.notation), &layout))
        {
            self.title_block = 0;
        }
    }

    /// True where a row is one of the table: a text's line that is not cut into cells is none, and without
    /// headings neither is a row of another shape.
    fn is_row_of(&self, row: &Row, layout: &Layout) -> bool {
        match layout.headless {
            false => self.list.format != Format::Text || row.len() > 1,
            true if self.form.is_some() || self.pairs.is_some() => false,
            true if self.list.lines.is_empty() && furniture::names_list(&plan::joined(row)) => {
                false
            }
            true if self.side.is_empty() => shape::fits(row, layout, self.notation),
            true => {
                let mut parts = self.side.iter().map(|side| row.part(side.columns.clone()));
                parts.any(|part| shape::fits(&part, layout, self.notation)) || self.heads_sides(row)
            }
        }
    }

    /// True for a row that says of each table what its pieces lie in: `Bag A`, `Bag B`.
    fn heads_sides(&self, row: &Row) -> bool {
        let mut heads = self.side.iter().map(|side| row.part(side.columns.clone()));
        heads.all(|head| furniture::container(&plan::joined(&head)).is_some())
    }

    /// Says which lines look like titles, have lines below and were not taken for stages.
    fn note_passed_titles(&mut self) {
        let passed = std::mem::take(&mut self.passed_titles);
        if passed.is_empty() {
            return;
        }
        let told = format!(
            "headings passed over: {}; what stands below is of the stage above: write one that is a stage as \"Stage 2: Frame\"",
            named_rows("line", &passed)
        );
        self.list.sheets[usize::from(self.sheet)].notes.push(told);
    }

    /// Says which lines were passed over in spite of their figures.
    fn note_passed_figures(&mut self) {
        let passed = std::mem::take(&mut self.passed_figures);
        if !passed.is_empty() {
            let told = format!(
                "passed over, though figures stand there: {}",
                named_rows("line", &passed)
            );
            self.note(told);
        }
    }

    /// Says which rows were taken for titles of stages, since a title has no figure and a part may lack
    /// its own.
    fn note_stages_taken(&mut self) {
        let taken = std::mem::take(&mut self.stages_taken);
        if !taken.is_empty() {
            let told = format!("taken for titles of stages: {}", named_rows("row", &taken));
            self.note(told);
        }
    }

    /// Nothing above is repeated by a blank or a ditto mark any more.
    fn forget_row_above(&mut self) {
        self.item_before = Key::BLANK;
        self.place_before = Key::BLANK;
    }

    fn end_sheet(&mut self) {
        if let Some(row) = self.bulleted.take() {
            self.fresh_row(&row);
        }
        if let Some(held) = self.held.take() {
            self.settle_held(&held, None);
        }
        if let Some(record) = self.form.take().and_then(|mut form| form.end()) {
            self.take_record(record);
        }
        if let Some(name) = self.pairs.take().and_then(|mut pairs| pairs.end()) {
            self.take(&name, true);
        }
        self.end_prose();
        self.pass_unheard();
        self.note_passed_titles();
        self.note_stages_taken();
        self.note_assemblies();
        self.note_passed_figures();
        self.ask_how_many();
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

    fn finish(mut self) -> List {
        self.list.repeats = self.guide.repeats;
        self.list.lines.shrink_to_fit();
        self.list.readings.shrink_to_fit();
        self.list.placements.shrink_to_fit();
        self.list
    }

    fn row(&mut self, row: &Row) {
        self.tally.rows += 1;
        self.hidden_rows += u64::from(row.hidden);
        if self.usual.bulleted {
            self.take_bulleted(row);
        } else {
            self.fresh_row(row);
        }
    }

    /// Holds a line with a bullet until the next is seen: behind a comma, or in brackets, one without a bullet is the
    /// rest of it (common practice, no source).
    fn take_bulleted(&mut self, row: &Row) {
        if let Some(above) = self.bulleted.take() {
            let text = plan::joined(row);
            let goes_on = above.number + 1 == row.number
                && !parting::has_bullet(row)
                && !row.is_empty()
                && (plan::joined(&above).ends_with(',') || text.starts_with('('));
            if goes_on {
                let whole = format!("{} {text}", plan::joined(&above));
                self.tally.other += 1;
                return self.fresh_row(&Row::of_text(above.number, &whole));
            }
            self.fresh_row(&above);
        }
        match parting::has_bullet(row) {
            true => self.bulleted = Some(row.clone()),
            false => self.fresh_row(row),
        }
    }

    fn fresh_row(&mut self, row: &Row) {
        if self.take_seen(row) {
            return;
        }
        if let Some(held) = self.held.take()
            && self.settle_held(&held, Some(row))
        {
            return;
        }
        let mut row = Cow::Borrowed(row);
        if self.usual.has_more_in_front() {
            self.written = Some(row.as_ref().clone());
            row = Cow::Owned(self.usual.bare(&row).into_owned());
        }
        let row = row.as_ref();
        if !self.usual.speakers.is_none() {
            self.guide.end_paragraph();
            self.take(row, true);
        } else if let Some(pairs) = self.pairs.take() {
            self.take_paired(row, pairs);
        } else if !self.take_line_of_form(row) {
            self.take(row, true);
        }
    }

    /// Takes a line that fills in a form. False where it is none.
    fn take_line_of_form(&mut self, row: &Row) -> bool {
        let Some(form) = &mut self.form else {
            return false;
        };
        let (taken, ended) = form.take(row);
        if let Some(record) = ended {
            self.take_record(record);
        }
        self.tally.other += u64::from(matches!(taken, Taken::GoesOn));
        !matches!(taken, Taken::Not)
    }

    /// Reads a record of a form; its first line is its row.
    fn take_record(&mut self, record: Record) {
        self.written = Some(record.written);
        if let Some(layout) = self.layout.clone() {
            self.table_row(&record.row, &layout, false);
        }
    }

    /// Decides what a held row is, now that the next is there. True where the next row belongs to
    /// it.
    fn settle_held(&mut self, held: &Row, next: Option<&Row>) -> bool {
        if let Some((side, layout)) = plan::side_by_side(held, self.named) {
            self.set_layout(layout);
            self.side = side.into_iter().map(Side::of).collect();
            self.tally.other += 1;
            return false;
        }
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
        let below = plan::row_below(&self.usual.head, held.number).or(next);
        let spread = || plan::spread_of(held, below?, self.list.role, self.named);
        match spread().or(alone) {
            Some(mut layout) => {
                // What the first rows told holds for the same headings on later pages.
                let text = plan::joined(held);
                match &self.headings {
                    Some((known, of)) if *known == text => layout = of.clone(),
                    _ => {
                        self.learn_below(held, &mut layout);
                        self.headings = Some((text, layout.clone()));
                    }
                }
                self.set_layout(layout);
                self.tally.other += 1;
            }
            None if next.is_some_and(|next| {
                self.take_kind(held, next) || self.take_stage_title(held, next)
            }) =>
            {
                self.tally.other += 1;
            }
            None => self.take(held, false),
        }
        false
    }

    /// Lets the rows below a heading row, to the next blank one, tell of its columns.
    fn learn_below(&mut self, heading: &Row, layout: &mut Layout) {
        let head = std::mem::take(&mut self.usual.head);
        let below = head.iter().filter(|row| row.number > heading.number);
        let rows: Vec<&Row> = below.take_while(|row| !row.is_empty()).collect();
        self.learn_from_rows(heading, &rows, layout);
        let above = head.iter().filter(|row| row.number < heading.number);
        guess::take_kit(above, layout);
        self.usual.head = head;
    }

    fn set_layout(&mut self, layout: Layout) {
        let unit = layout.unit.or(self.unit);
        if unit != self.notation.unit {
            self.notation.unit = unit;
            self.wordings = Keys::default();
            self.said.clear();
        }
        if layout.torque_unit != self.torque_unit {
            self.torque_unit.clone_from(&layout.torque_unit);
            self.places = Keys::default();
            self.placements.clear();
        }
        let sheet = &mut self.list.sheets[usize::from(self.sheet)];
        for (_, heading) in &layout.unread {
            if !sheet.unread_columns.contains(heading) {
                sheet.unread_columns.push(heading.clone());
            }
        }
        for spread in &layout.spread {
            if !sheet.spread_columns.contains(&spread.heading) {
                sheet.spread_columns.push(spread.heading.clone());
            }
        }
        self.ask_whether_it_is(&layout);
        self.watch(&layout);
        self.watch_unread(&layout);
        // A printed list has the same headings again on every page.
        if self.layout.as_deref() != Some(&layout) {
            self.columns = KeyColumns::of(&layout);
            self.counts = Counts::of_table(&layout, self.list.role);
            self.seen = Seen::of_table(&layout, &self.columns, self.list.role);
        }
        self.layout = Some(Rc::new(layout));
        self.at_top = true;
        self.side.clear();
        self.before_table = false;
        self.forget_row_above();
    }

    /// Asks about a table whose columns are those of another list than it was given as.
    fn ask_whether_it_is(&mut self, layout: &Layout) {
        let any = |all: &[Meaning]| all.iter().any(|&meaning| layout.has(meaning));
        let looks_like = match self.list.role {
            Role::Required | Role::Compared | Role::Shipped
                if any(&[Meaning::Damaged, Meaning::CountedBy])
                    && !any(&[Meaning::Shipped, Meaning::Ordered, Meaning::Total]) =>
            {
                "a count (what is damaged, who counted)"
            }
            Role::Counted
                if layout.has(Meaning::Shipped)
                    && !any(&[Meaning::Good, Meaning::Received, Meaning::Damaged]) =>
            {
                "a slip (what was shipped)"
            }
            _ => return,
        };
        let role = self.list.role;
        self.list.sheets[usize::from(self.sheet)].ask(format!(
            "its columns are those of {looks_like}, and it was given as what is {role}: is it?"
        ));
    }

    /// Takes one row; `fresh`: it has not been found to be no heading.
    fn take(&mut self, row: &Row, fresh: bool) {
        self.seen.close();
        let says_something =
            |text: &str| text.contains(char::is_alphanumeric) || furniture::is_ditto(text);
        if !row.cells().any(|(text, _)| says_something(text)) {
            self.guide.end_paragraph();
            self.kind_above.clear();
            self.after_blank = true;
            self.tally.other += 1;
            return;
        }
        if self.is_quoted(row) {
            self.guide.end_paragraph();
            self.tally.other += 1;
            return;
        }
        if let Some((_, mut layout)) = self.guessed.take_if(|(at, _)| *at == row.number) {
            self.learn_below(row, &mut layout);
            self.set_layout(layout);
            self.tally.other += 1;
            return;
        }
        if row.number <= self.title_block || self.before_table {
            if fresh && self.before_table && self.is_heading_like(row) {
                self.held = Some(row.clone());
                return;
            }
            self.note_title(row);
            self.heed(row, true);
            self.tally.other += 1;
            return;
        }
        if self.heed(row, false) {
            self.guide.end_paragraph();
            self.tally.other += 1;
            return;
        }
        if self.layout.is_some() && self.is_page_edge(row) {
            self.tally.other += 1;
            return;
        }
        let parted = self.usual.parted(row, self.notation);
        let known = self
            .written
            .as_ref()
            .is_some_and(|of| of.number == row.number);
        if let (Cow::Owned(_), false) = (&parted, known) {
            self.written = Some(row.clone());
        }
        match self.layout.clone() {
            Some(layout) if self.is_row_of(&parted, &layout) => {
                self.guide.end_paragraph();
                self.begin_titled();
                self.table_row(&parted, &layout, fresh && !layout.headless);
            }
            _ => self.list_row(row, fresh),
        }
    }

    /// True where a row below the headings is the edge of a page, or what stands above them again.
    fn is_page_edge(&self, row: &Row) -> bool {
        let first = || {
            row.cells()
                .map(|(text, _)| text)
                .find(|text| !text.is_empty())
        };
        // The number of the page is another.
        let is_figure = |c: char| c.is_ascii_digit();
        let words = |text: &str| -> Vec<String> {
            text.split(is_figure)
                .map(|of| of.trim().to_owned())
                .collect()
        };
        let begins_again = |head: &String| {
            let first = first().unwrap_or_default().trim_matches(is_figure);
            head.starts_with(first) && words(head) == words(&plan::joined(row))
        };
        (row.filled() < 3 && furniture::is_page_edge(&plan::joined(row)))
            || self.page_head.iter().any(begins_again)
    }

    fn is_heading_like(&self, row: &Row) -> bool {
        may_be_heading(row)
            && row.cells().filter(|(text, _)| !text.is_empty()).count() > 1
            && row.cells().any(|(text, _)| {
                heading::recognise(text).is_some()
                    || self.named.values().any(|name| same_words(name, text))
            })
    }

    fn enter_stage(&mut self, stage: &str) {
        self.end_prose();
        self.sets_above = None;
        self.bare_title.clear();
        self.may_be_title = None;
        self.kind_above.clear();
        self.totals.title();
        self.stage_from = self.list.lines.len();
        self.stage.clear();
        self.stage.push_str(stage);
        self.guide.title.clear();
        self.guide.title.push_str(stage);
        self.stage_option.clear();
        if let Some(option) = notation::option(stage) {
            self.stage_option = option.to_string();
        } else if let Some(option) = notation::condition(stage) {
            self.stage_option = option.to_string();
        } else if let Some(option) = remark::named_option(stage) {
            self.stage_option = option.to_lowercase();
        }
    }

    /// A title is one where lines follow: enters the stage of the one above, if any.
    fn begin_titled(&mut self) {
        if !self.bare_title.is_empty() {
            let title = std::mem::take(&mut self.bare_title);
            self.enter_stage(&title);
        }
        self.passed_titles.extend(self.may_be_title.take());
        self.put_unheard_aside();
    }

    /// What stands between lines that are read, and was not understood, may be a line itself.
    fn put_unheard_aside(&mut self) {
        for (row, place) in std::mem::take(&mut self.unheard) {
            self.push_aside(&row, place, Aside::NoItem(lines::UNHEARD.into()));
            self.tally.other -= 1;
            self.tally.aside += 1;
        }
    }

    /// Names what was not understood behind the last line, where figures stand there.
    fn pass_unheard(&mut self) {
        for (row, _) in std::mem::take(&mut self.unheard) {
            let text = plan::joined(&row);
            if text.contains(|c: char| c.is_ascii_digit()) {
                self.passed_figures.push((row.number, text));
            }
        }
    }

    fn enter_container(&mut self, container: Container<'_>) {
        self.end_prose();
        self.totals.title();
        let (holder, name) = match container {
            Container::Bag(name) => (&mut self.bag, name),
            Container::Box(name) => (&mut self.carton, name),
        };
        holder.clear();
        holder.push_str(name);
    }

    /// The place in [`Reader::said`] of a wording.
    fn entry_of(&mut self, wording: Key) -> usize {
        let entry = wording.index();
        if self.said.len() <= entry {
            self.said.resize(entry + 1, Entry::New);
        }
        entry
    }

    /// Keeps a reading. What leaves it open may be settled for each wording by itself.
    fn keep_reading(&mut self, reading: Reading, is_open: bool) -> u32 {
        let readings = &mut self.list.readings;
        let next = readings.len() as u32;
        if !is_open {
            match self.alike.entry(FxBuildHasher.hash_one(&reading)) {
                hash_map::Entry::Occupied(known) if readings[*known.get() as usize] == reading => {
                    return *known.get();
                }
                hash_map::Entry::Occupied(_) => {}
                hash_map::Entry::Vacant(new) => {
                    new.insert(next);
                }
            }
        }
        readings.push(reading);
        next
    }

    fn describe(&mut self, callouts: std::result::Result<Vec<Callout>, Unread>) -> Entry {
        match callouts {
            Ok(callouts) if callouts.len() > MOST_ITEMS => {
                let found = callouts.len();
                Entry::Unread(format!("{found} items in one row are no line of a list").into())
            }
            Ok(callouts) => {
                let start = self.found.len() as u32;
                let is_open = callouts.iter().flat_map(|c| &c.doubts).any(Doubt::is_open);
                for callout in callouts {
                    let doubted = !callout.doubts.is_empty();
                    let brought = callout.doubts.iter().find_map(brought_for);
                    let in_plain_words = is_in_plain_words(&callout.item);
                    let reading = Reading {
                        item: callout.item,
                        part_number: callout.part_number,
                        comes_with: callout.comes_with,
                        doubts: callout.doubts,
                    };
                    let reading = self.keep_reading(reading, is_open);
                    self.found.push(Found {
                        reading,
                        quantity: callout.quantity,
                        places: callout.places,
                        doubted,
                        in_plain_words,
                        brought,
                    });
                }
                Entry::Items(start, self.found.len() as u32)
            }
            Err(Unread::Empty) => Entry::Unread("nothing is written".into()),
            Err(Unread::NoItem(reason)) => Entry::Unread(reason),
        }
    }

    /// Keeps a wording that leaves its reading open, to be settled once the list is read.
    fn keep_open(&mut self, word: impl Fn(&Self, usize) -> Box<str>, said: &Entry) {
        let &Entry::Items(start, end) = said else {
            return;
        };
        let found = &self.found[start as usize..end as usize];
        let readings = &self.list.readings;
        let doubts = |found: &Found| &readings[found.reading as usize].doubts;
        if !found.iter().flat_map(doubts).any(Doubt::is_open) {
            return;
        }
        let first = found[0].reading;
        self.list.open.push(Open {
            words: std::array::from_fn(|at| word(self, at)),
            notation: self.notation,
            readings: first..first + (end - start),
            quantities: found.iter().map(|found| found.quantity).collect(),
            counted: false,
        });
    }

    /// What becomes of a wording that names no piece to be counted, on a list of what is required:
    /// tools and consumables are brought.
    fn brought(&self, entry: usize) -> Option<Usage> {
        let Entry::Items(start, end) = self.said[entry] else {
            return None;
        };
        let found = &self.found[start as usize..end as usize];
        let usage = found.first()?.brought?;
        let all = self.list.role == Role::Required
            && found.iter().all(|found| found.brought == Some(usage));
        all.then_some(usage)
    }

    /// Asks about a row that says of the whole list how its figures are meant, and is none of its lines. `title`:
    /// it stands in the title block.
    fn heed(&mut self, row: &Row, title: bool) -> bool {
        if row.filled() != 1 && !title {
            return false;
        }
        let text = plain_text(&plan::joined(row));
        let told = match title {
            true => furniture::title_qualifies_list(&text),
            false => furniture::qualifies_list(&text),
        };
        if told {
            self.list.sheets[usize::from(self.sheet)].ask(format!(
                "row {} says \"{text}\", which may change every figure: they are taken as they stand",
                row.number
            ));
        }
        told
    }

    /// Keeps the revision, the date and a slip's number of a title block.
    fn note_title(&mut self, row: &Row) {
        let cells: Vec<&str> = row
            .cells()
            .map(|(text, _)| text)
            .filter(|text| !text.is_empty())
            .collect();
        for (index, cell) in cells.iter().enumerate() {
            let (revision, date) = furniture::revision_and_date(cell);
            let slip = (self.list.role == Role::Shipped)
                .then(|| furniture::slip_number(cell))
                .flatten();
            let next = cells.get(index + 1).copied().unwrap_or_default();
            let label = index.checked_sub(1).map_or("", |before| cells[before]);
            let alone = furniture::is_date(cell) && !furniture::labels_other_date(label);
            let date = date.or_else(|| alone.then_some(*cell));
            let list = &mut self.list;
            let known = [&mut list.revision, &mut list.date, &mut list.slip_number];
            for (kept, value) in known.into_iter().zip([revision, date, slip]) {
                let value = value.map(|value| if value.is_empty() { next } else { value });
                if kept.is_none() {
                    *kept = value.filter(|value| !value.is_empty()).map(str::to_owned);
                }
            }
        }
    }
}

/// A text without the white space about it.
fn plain_text(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

impl Side {
    fn of(columns: Range<usize>) -> Side {
        Side {
            columns,
            ..Side::default()
        }
    }
}

/// `row 4 "Frame", row 9 "Roof", 2 more`.
fn named_rows(what: &str, rows: &[(u32, String)]) -> String {
    let first = rows.iter().take(TITLES_NAMED);
    let mut named: Vec<String> = first
        .map(|(row, text)| format!("{what} {row} \"{text}\""))
        .collect();
    if let Some(more @ 1..) = rows.len().checked_sub(TITLES_NAMED) {
        named.push(format!("{more} more"));
    }
    named.join(", ")
}

#[cfg(test)]
mod tests;
