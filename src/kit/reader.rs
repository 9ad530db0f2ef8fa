//! Rows to lines.
//!
//! The reader goes through a source once. What the item cells of a row say is worked out once for
//! each distinct wording and looked up afterwards, and so is where a line belongs.
//!
//! [`plan`]: what is done with each sheet; [`usual`]: what its first lines have in common; [`headings`]: the columns
//! of a table; [`guess`]: what rows tell of headings that are not known, and [`beside_count`] of those beside a count; [`table`], [`lines`], [`records`] and
//! [`prose`]: what a row says; [`named`]: what a line names and how many; [`unheard`]: lines that were not understood;
//! [`section`]: titles within a stage; [`footnotes`]: notes below a list; [`entry`]: wordings and what they say, kept; [`kind`]: titles that say it of the
//! rows below; [`place`]: where it belongs; [`push`]: the lines of it; [`seen`]: the short way of a row like those
//! before; [`page_turn`] and [`revisions`]: rows that say the same item again; [`quoted`]: earlier mails; [`notes`] and [`refusal`]: what is said of a file.

mod begin;
mod beside;
mod beside_count;
mod counts;
mod ditto;
mod entry;
mod footnotes;
mod form;
mod group;
mod guess;
mod habit;
mod headings;
mod in_the_box;
mod in_words;
mod key;
mod kind;
mod last_list;
mod level;
mod lines;
mod named;
mod notes;
mod numbering;
mod page_turn;
mod pairs;
mod parting;
mod place;
mod plan;
mod price;
mod prose;
mod push;
mod quoted;
mod records;
mod refusal;
mod revisions;
mod row_numbers;
mod section;
mod seen;
mod several;
mod shape;
mod sizes;
mod speakers;
mod strokes;
mod table;
mod ticks;
mod titles;
mod torques;
mod totals;
mod unheard;
mod usual;

use std::{borrow::Cow, collections::HashMap, ops::ControlFlow, rc::Rc};

use indexmap::IndexMap;
use rustc_hash::{FxBuildHasher, FxHashMap, FxHashSet};

use super::{
    again::Again,
    guide::Guide,
    input::Input,
    line::Aside,
    list::List,
    remark,
    role::Role,
    sheet_read::{RowTally, SheetRead, Title},
};
use crate::{
    Doubt, Result,
    columns::{Layout, Meaning, furniture, heading},
    error::At,
    hardware::{Item, Unit},
    notation::Notation,
    source::{Document, Format, Limit, Row},
};
use counts::Counts;
use entry::{Entry, Found};
use footnotes::Footnotes;
use form::Form;
use headings::Side;
use key::{Key, KeyColumns, Keys};
use last_list::OfSentences;
use level::Levels;
use page_turn::PageTurn;
use pairs::Pairs;
use plan::Plan;
use quoted::Quoted;
use refusal::{no_columns, no_hardware, refuse_own, refuse_unknown_sheets};
use revisions::Revisions;
use seen::Seen;
use totals::Totals;
use unheard::ABOVE_HEADINGS;
use usual::Usual;

/// Rows at the head of a sheet among which the heading row must be.
const HEAD: usize = 60;
/// Lines of a slip, at most, behind which titles are kept: a longer one has no notes written by hand.
const MOST_NOTED: usize = 10_000;
/// Rows between two reports of progress.
const TICK: u64 = 4096;
/// Lines that memory is reserved for beforehand: a guess may be far off.
const MOST_RESERVED: usize = 1 << 20;

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
    let heads: Vec<Vec<Row>> = (heads.into_iter())
        .map(|head| {
            let read = |row: Row| strokes::in_figures(&row, role).map_or(row, |(read, _)| read);
            let rows = head.into_iter().filter(|row| !row.is_rule());
            rows.map(read).collect()
        })
        .collect();
    let format = document.format();
    refuse_own(&file, role, &sheets, &heads, format)?;
    let mut reader = Reader::new(input, file, role, format);
    reader.notation.decimal_comma = plan::writes_decimal_commas(format, heads.iter().flatten());
    let notation = reader.notation;
    let is_long = heads.first().is_some_and(|head| head.len() == HEAD);
    let (heads, mut footnotes): (Vec<Vec<Row>>, Vec<Footnotes>) =
        match is_long && document.has_line_with(footnotes::FIRST) {
            true => {
                let notes = Footnotes::of(&document.first_rows(0, usize::MAX)?, notation);
                let heads = heads.into_iter().map(|head| notes.bare(head, notation));
                (heads.collect(), vec![notes])
            }
            false => (heads.into_iter())
                .map(|head| {
                    let notes = Footnotes::of(&head, notation);
                    (notes.bare(head, notation), notes)
                })
                .unzip(),
        };
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
            reader.sections = section::repeated(&all);
            reader.alternatives = section::alternatives(&all);
            input.columns.is_empty() && reader.reads_as_list(&all)
        }
        (Format::Text, Role::Required) => {
            let head = heads.first().map_or(&[][..], Vec::as_slice);
            reader.sections = section::repeated(head);
            reader.alternatives = section::alternatives(head);
            false
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
        reader.footnotes = footnotes
            .get_mut(index)
            .map(std::mem::take)
            .unwrap_or_default();
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
    /// At how many places the first row of the stage is needed.
    places_above: u32,
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
    /// The title of a bag on a slip, until a line stands below it.
    bare_bag: Option<Row>,
    /// The line of a bag as such right above.
    bag_above: Option<usize>,
    /// What is doubted of a row by its signs: strokes of a tally.
    signs: FxHashMap<u32, Doubt>,
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
    revisions: Revisions,
    turn: PageTurn,
    /// The unit of bare torques in the table.
    torque_unit: Option<Box<str>>,
    /// What makes lines doubtful, by their placement.
    place_doubts: FxHashMap<u32, Vec<Doubt>>,
    /// Lines right below an open sentence that go on with it, or are a list's: the paragraph's end tells.
    run_on: Vec<Row>,
    /// The last stage that is named by its number, and how many `#` stand in front of it.
    stage_marks: Option<(usize, String)>,
    /// So many `#` stand in front of the title of the stage.
    stage_level: usize,
    /// Titles of the parts in which each stage is written.
    sections: FxHashSet<String>,
    /// Titles of stages that are ways to do the same.
    alternatives: FxHashSet<String>,
    /// The line that says of those below it when they are needed: `On a timber base:`
    way: Option<String>,
    /// The names of stages that call for pieces, without what tells one side or turn from another.
    twins: FxHashSet<String>,
    /// Lines of lists in front of the sentences, by the number of their stage.
    by_stage: FxHashMap<u32, Vec<usize>>,
    /// Up to which line those are known.
    listed_to: usize,
    /// Where the lines begin of a list behind the sentences.
    tail: Option<usize>,
    /// The lines that the sentences of each stage ask for.
    of_sentences: Vec<OfSentences>,
    /// A sentence builds another of what all stages have built.
    is_whole_again: bool,
    /// Why the stage may be none.
    stage_doubt: Option<Doubt>,
    /// A line of text, its cells joined.
    line: String,
    totals: Totals,
    /// A title of plain words, until a line follows; and whether a blank line stands above.
    bare_title: String,
    /// A title, by its looks and place, of which the line behind it tells: it stands over sentences.
    over_sentences: Option<(u32, String)>,
    /// Titles numbered in turn so far: `1. Base`, `2. Posts`.
    titles_numbered: u32,
    /// A heading of Markdown stands above.
    is_headed: bool,
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
    footnotes: Footnotes,
    /// The notes below the list, passed over.
    passed_notes: Vec<(u32, String)>,
    /// The title over pieces of a slip or a count that are not there.
    lacking: Option<Box<str>>,
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
            places_above: 1,
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
            bare_bag: None,
            bag_above: None,
            signs: FxHashMap::default(),
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
            revisions: Revisions::default(),
            turn: PageTurn::default(),
            torque_unit: None,
            place_doubts: FxHashMap::default(),
            run_on: Vec::new(),
            stage_marks: None,
            stage_level: 0,
            sections: FxHashSet::default(),
            alternatives: FxHashSet::default(),
            way: None,
            twins: FxHashSet::default(),
            by_stage: FxHashMap::default(),
            listed_to: 0,
            tail: None,
            of_sentences: Vec::new(),
            is_whole_again: false,
            stage_doubt: None,
            line: String::new(),
            totals: Totals::default(),
            bare_title: String::new(),
            over_sentences: None,
            titles_numbered: 0,
            is_headed: false,
            after_blank: false,
            at_top: false,
            stages_taken: Vec::new(),
            kind_above: String::new(),
            levels: Levels::default(),
            may_be_title: None,
            passed_titles: Vec::new(),
            quoted: Quoted::default(),
            footnotes: Footnotes::default(),
            passed_notes: Vec::new(),
            lacking: None,
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
        self.stage_marks = None;
        self.stage_level = 0;
        self.way = None;
        self.twins.clear();
        self.by_stage.clear();
        self.listed_to = self.list.lines.len();
        self.tail = None;
        self.of_sentences.clear();
        self.is_whole_again = false;
        self.stage_doubt = None;
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
        self.page_head = match plan {
            Plan::Guessed(..) => Vec::new(),
            _ => plan::page_head(head, self.named),
        };
        if let Some(first) = self.usual.begins_at {
            self.title_block = self.title_block.min(first - 1);
        }
        self.begun = !self.list.lines.is_empty();
        self.totals = Totals::default();
        self.bare_title.clear();
        self.over_sentences = None;
        self.titles_numbered = 0;
        self.is_headed = false;
        self.may_be_title = None;
        self.kind_above.clear();
        self.sets_above = None;
        self.lacking = None;
        if let (Role::Shipped | Role::Counted, Some(name)) = (self.list.role, name) {
            self.heed_lacking(name, true);
        }
        self.stage.clear();
        self.stage.push_str(name.unwrap_or_default());
        self.stage_option.clear();
        self.bag.clear();
        self.carton.clear();
        self.forget_row_above();
        if name.is_none() {
            self.heed_name_of_sheet();
        }
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
        self.end_bare_bag();
        self.end_prose();
        // What ran on with no sentence may wait for the next row once more.
        while self.held.is_some() || !self.run_on.is_empty() {
            if let Some(held) = self.held.take() {
                self.settle_held(&held, None);
            }
            self.end_prose();
        }
        self.note_uncounted();
        self.end_told();
        self.hold_against_steps();
        self.hold_last_list();
        self.pass_unheard();
        self.note_passed_titles();
        self.note_stages_taken();
        self.note_unstaged();
        self.note_assemblies();
        self.note_passed_figures();
        self.note_footnotes();
        self.ask_how_many();
        // A stage's prose is read together, so its lines come behind those of its lists.
        let first = self.list.lines.partition_point(|l| l.sheet < self.sheet);
        self.list.lines[first..].sort_by_key(|line| line.row);
        self.list
            .words
            .sort_by_key(|words| (words.sheet, words.row));
        let mut tally = std::mem::take(&mut self.tally);
        let told = tally.read + tally.check + tally.aside + tally.other;
        debug_assert_eq!(tally.rows, told);
        if let Some(lost @ 1..) = tally.rows.checked_sub(told) {
            tally.aside += lost;
            let told = format!(
                "{} lost through a fault of this program: hold the list against what it reads",
                crate::words::count(lost, "row")
            );
            self.list.sheets[usize::from(self.sheet)].ask(told);
        }
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
        let counted = strokes::in_figures(row, self.list.role);
        let row = match &counted {
            Some((read, doubt)) => {
                self.signs
                    .extend(doubt.clone().map(|doubt| (row.number, doubt)));
                read
            }
            None => row,
        };
        let Some(row) = self.without_footnotes(row) else {
            return;
        };
        let row = &*row;
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
            if self.usual.is_title_of(&above, row) {
                return self.take_bulleted_title(&above, row);
            }
            let text = row.joined();
            let goes_on = above.number + 1 == row.number
                && !parting::has_bullet(row)
                && !row.is_empty()
                && (above.joined().ends_with(',') || text.starts_with('('));
            if goes_on {
                let whole = format!("{} {text}", above.joined());
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

    /// Takes a bullet over others that are set in further for their title, and goes on with the next.
    fn take_bulleted_title(&mut self, title: &Row, next: &Row) {
        let text = title.joined();
        if self.list.role == Role::Required {
            self.enter_stage(furniture::without_bullet(&text).trim_end_matches(':'));
            self.stages_taken.push((title.number, text));
        }
        self.tally.other += 1;
        self.bulleted = Some(next.clone());
    }

    fn fresh_row(&mut self, row: &Row) {
        if self.lacking.is_none() && self.take_seen(row) {
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

    /// Takes one row; `fresh`: it has not been found to be no heading.
    fn take(&mut self, row: &Row, fresh: bool) {
        let (passed, lines) = (self.tally.other, self.list.lines.len());
        self.take_row(row, fresh);
        let is_title = self.tally.other > passed;
        if is_title {
            self.pass_between_pages(row);
        }
        let mut taken = self.list.lines[lines.min(self.list.lines.len())..].iter();
        let mut may_be_title = || is_title || taken.all(|line| line.quantity.is_none());
        if matches!(self.list.role, Role::Shipped | Role::Counted)
            && row.filled() == 1
            && may_be_title()
        {
            self.heed_lacking(&row.joined(), is_title);
        }
        if is_title && matches!(self.list.role, Role::Shipped | Role::Counted) {
            self.keep_title(row);
        }
    }

    /// Heeds what may be a title, on a slip or a count: it may say that what stands below is not there, up to the next
    /// title.
    fn heed_lacking(&mut self, text: &str, is_title: bool) {
        let title = text.trim().trim_end_matches(':').trim_end();
        if remark::is_of_lacking(text) {
            self.lacking = Some(title.into());
        } else if is_title
            && (text.trim_end().ends_with(':') || furniture::bare_title(title).is_some())
        {
            self.lacking = None;
        }
    }

    /// Keeps a title of a count or a slip, which may say that its lines are none, or that some of them are not there; but
    /// for a bag's, a stage's, those of papers, and the headings of its columns.
    fn keep_title(&mut self, row: &Row) {
        let inner = self.list.lines.last();
        let inner = inner.is_some_and(|line| line.sheet == self.sheet);
        if inner && self.list.role == Role::Shipped && self.list.lines.len() > MOST_NOTED {
            return;
        }
        let text = row.joined();
        let text = text.trim();
        let is_heading =
            |(cell, _): (&str, _)| cell.is_empty() || heading::recognise(cell).is_some();
        let is_known = furniture::container(text).is_some()
            || furniture::stage_title(text).is_some()
            || furniture::is_paper(text)
            || furniture::is_total(text)
            || furniture::is_page_edge(text)
            || row.filled() > 1 && (inner || row.filled() > 2 || row.cells().all(is_heading));
        if !is_known && !text.is_empty() {
            let sheet = &mut self.list.sheets[usize::from(self.sheet)];
            sheet.titles.push(Title {
                row: row.number,
                text: text.into(),
                inner,
            });
        }
    }

    fn take_row(&mut self, row: &Row, fresh: bool) {
        self.seen.close();
        let says_something =
            |text: &str| text.contains(char::is_alphanumeric) || furniture::is_ditto(text);
        let is_noise = || {
            self.list.format == Format::Text
                && row.filled() == 1
                && unheard::is_noise(&row.joined())
        };
        if !row.cells().any(|(text, _)| says_something(text)) && !is_noise() {
            self.end_run_on();
            self.guide.end_paragraph();
            self.kind_above.clear();
            self.bag_above = None;
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
            if self.is_line_above(row) {
                let place = self.placement_of_text(|_| None);
                let status = self.push_aside(row, place, Aside::NoItem(ABOVE_HEADINGS.into()));
                return self.add(status);
            }
            if self.list.format == Format::Text && self.take_way(row) {
                return;
            }
            self.note_title(row);
            self.heed(row, true);
            match self.before_table {
                true => self.take_title_above(row),
                false => self.pass_title(row),
            }
            self.tally.other += 1;
            return;
        }
        if self.heed(row, false) {
            self.guide.end_paragraph();
            self.tally.other += 1;
            return;
        }
        if self.layout.is_some() && self.is_page_edge(row) {
            self.turn_page();
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
                if let Some(aside) = self.unticked(row) {
                    let place = self.placement_of_text(|_| None);
                    let status = self.push_aside(row, place, aside);
                    return self.add(status);
                }
                self.table_row(&parted, &layout, fresh && !layout.headless);
            }
            layout => {
                let headless = layout.filter(|layout| layout.headless);
                if let Some(layout) = &headless
                    && self.lacks_item(row, layout)
                {
                    let place = self.placement_of_text(|_| None);
                    let why = Aside::NoItem(ITEM_LEFT_BLANK.into());
                    let status = self.push_aside(row, place, why);
                    return self.add(status);
                }
                let blank = headless.as_ref().filter(|layout| lacks_count(row, layout));
                if blank.is_some() {
                    self.signs
                        .insert(row.number, Doubt::HowMany(COUNT_LEFT_BLANK.into()));
                }
                let (passed, unheard) = (self.tally.other, self.unheard.len());
                self.list_row(row, fresh);
                let is_settled = self.tally.other == passed || self.unheard.len() > unheard;
                let Some(layout) = headless.filter(|_| !is_settled) else {
                    return;
                };
                let left_open = match lacks_count(row, &layout) {
                    true if self.is_row_left_open(row, &layout) => COUNT_LEFT_BLANK,
                    false if self.counts_without_item(row, &layout) => ITEM_LEFT_BLANK,
                    _ => return,
                };
                let place = self.placement_of_text(|_| None);
                self.push_aside(row, place, Aside::NoItem(left_open.into()));
                self.tally.other -= 1;
                self.tally.aside += 1;
            }
        }
    }
}

/// Why a row below no headings is in doubt that is blank where the others count.
const COUNT_LEFT_BLANK: &str = "nothing stands where the other rows have their count";

/// Why a row below no headings is put aside that counts and names nothing where the others do.
const ITEM_LEFT_BLANK: &str =
    "it has a count, and nothing is understood where the other rows name their item";

/// True for a row of several cells, below no headings, that is blank where the others count.
fn lacks_count(row: &Row, layout: &Layout) -> bool {
    let count = layout.column(Meaning::Quantity).filter(|_| layout.headless);
    row.filled() > 1 && count.is_some_and(|count| row.get(count).trim().is_empty())
}

#[cfg(test)]
mod tests;
