//! A list: one source read line by line.

use std::{borrow::Cow, collections::BTreeMap, path::PathBuf};

use super::{
    line::{Aside, Line, What},
    open::Open,
    stated_mass::StatedMass,
    text::Text,
    twice::{self, Again},
};
use crate::{
    columns::Meaning,
    doubt::Doubt,
    hardware::Item,
    names::names,
    notation::{ItemCells, Known, Notation, Readings, readings_of},
    source::Format,
};

/// Items that one row or sentence may name: each shows the whole of it in the report.
pub const MOST_ITEMS: usize = 100;

names! {
    /// What a list says of the kit.
    pub enum Role {
        Required = "required",
        Shipped = "shipped",
        Counted = "counted",
        /// A second list of what is required, held against the first and not added to it.
        Compared = "compared",
        /// What the shop or the truck has of its own.
        Stock = "stock",
        /// What lies on the bench when the build is done.
        LeftOver = "left over",
    }
}

names! {
    /// What becomes of a line's pieces.
    pub enum Usage {
        New = "new",
        /// Already fitted at an earlier stage: no new demand.
        CarriedOver = "carried over",
        /// Arrives on another part, not in a bag.
        ComesFitted = "comes fitted",
        /// Taken off and kept: back in the pool from the next stage on.
        Returned = "returned",
        /// Taken off and thrown away.
        Discarded = "discarded",
        /// Sold separately: to be brought, never claimed.
        NotInKit = "not in this kit",
        /// Brought, not counted by the piece.
        Consumable = "consumable",
        /// `REF`: named for reference, makes no demand.
        Reference = "for reference",
    }
}

names! {
    /// The state of a line. Every line has one.
    pub enum LineStatus {
        Read = "read",
        Check = "check",
        Aside = "aside",
    }
}

/// Which option a line belongs to.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct OptionRule {
    /// `true`: needed with the option; `false`: needed without it.
    pub with: bool,
    /// Lower case, white space folded.
    pub name: Box<str>,
}

impl OptionRule {
    /// True where a kit with those options needs the line.
    pub fn holds(&self, with: &[String]) -> bool {
        with.contains(&crate::words::fold(&self.name)) == self.with
    }
}

/// Where a line belongs: everything a row says besides what the item is and how many.
/// One value is shared by all lines that say the same.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Placement {
    pub stage: Option<Box<str>>,
    pub place: Option<Box<str>>,
    pub bag: Option<Box<str>>,
    pub carton: Option<Box<str>>,
    pub option: Option<OptionRule>,
    /// `None` is new.
    pub usage: Option<Usage>,
    /// As called, unit included.
    pub torque: Option<Box<str>>,
    /// When it is tightened among the others, or in which pattern, as the list says.
    pub sequence: Option<Box<str>>,
    pub note: Option<Box<str>>,
    pub counted_by: Option<Box<str>>,
    /// Where the shop keeps it.
    pub bin: Option<Box<str>>,
}

/// What the item cells of a row say. One value is shared by all lines with the same cells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    pub item: Item,
    pub part_number: Option<Box<str>>,
    /// It comes with the first item of its row (`c/w nut`).
    pub comes_with: bool,
    pub mass: Option<StatedMass>,
    pub doubts: Vec<Doubt>,
}

/// Rows of a source: `rows = read + check + aside + other`, always.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize)]
pub struct RowTally {
    pub rows: u64,
    pub read: u64,
    pub check: u64,
    pub aside: u64,
    /// Headings, blank rows, totals, stage titles, and sentences without hardware.
    pub other: u64,
}

/// A sheet as it was read.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SheetRead {
    pub name: Option<String>,
    pub hidden: bool,
    /// Why its rows were passed over, where they were ("hidden sheet", "not a count").
    pub passed_over: Option<String>,
    /// It says again what others say, and was held against them.
    pub again: Option<Again>,
    /// What a person should settle: whether it says again what another says.
    pub question: Option<String>,
    /// Rows that are hidden or filtered out, and counted; `None` where the format does not tell.
    pub hidden_rows: Option<u64>,
    /// Headings of columns that no word is known of, so that nothing under them is read.
    pub unread_columns: Vec<Box<str>>,
    /// Headings of columns that each hold a quantity for the stage, bag or box so named.
    pub spread_columns: Vec<Box<str>>,
    pub tally: RowTally,
}

/// The words that a row's lines were read from.
#[derive(Debug, Clone)]
pub struct Words {
    /// Index into [`List::sheets`].
    pub sheet: u16,
    pub row: u32,
    /// What says what the item is: a description, then the cells of [`Words::ITEM`].
    pub item: [Box<str>; 8],
    /// What is said beside: the other filled cells of the row, or what the rest of the sentence says.
    pub beside: Vec<(Meaning, Box<str>)>,
    pub in_prose: bool,
    /// The sentence, of a guide's prose.
    pub sentence: Box<str>,
    pub notation: Notation,
}

impl Words {
    /// What stands in the cells of an item after its description.
    pub const ITEM: [Meaning; 7] = [
        Meaning::Size,
        Meaning::Diameter,
        Meaning::Length,
        Meaning::Thread,
        Meaning::Grade,
        Meaning::Finish,
        Meaning::PartNumber,
    ];

    /// True where the count stands beside.
    pub fn counted_beside(&self) -> bool {
        let counts = [
            Meaning::Quantity,
            Meaning::Total,
            Meaning::Packs,
            Meaning::Shipped,
            Meaning::Good,
        ];
        self.beside.iter().any(|(what, _)| counts.contains(what))
    }

    /// Every way to read them, among sizes that are known.
    pub fn readings(&self, known: &Known) -> Readings {
        readings_of(&item_cells(&self.item), self.notation, known)
    }
}

/// The cells of [`Words::item`].
pub fn item_cells(words: &[Box<str>; 8]) -> ItemCells<'_> {
    let [
        description,
        size,
        diameter,
        length,
        thread,
        grade,
        finish,
        part_number,
    ] = words;
    ItemCells {
        description,
        size,
        diameter,
        length,
        thread,
        grade,
        finish,
        part_number,
    }
}

/// One source read line by line.
#[derive(Debug, Clone)]
pub struct List {
    /// As given.
    pub path: PathBuf,
    /// As shown: relative to the job file, forward slashes.
    pub file: String,
    pub role: Role,
    pub format: Format,
    pub sheets: Vec<SheetRead>,
    pub lines: Vec<Line>,
    pub readings: Vec<Reading>,
    pub placements: Vec<Placement>,
    /// Why lines are aside.
    pub asides: Vec<Aside>,
    /// The rows of the lines, as written.
    pub text: Text,
    /// What the lines were read from, where that was asked for: by sheet and row; of a row of prose
    /// one for each of its lines, of any other one.
    pub words: Vec<Words>,
    /// Wordings that leave their reading open, in the order of their readings.
    pub open: Vec<Open>,
    /// The sizes by which those were settled.
    pub known: Known,
    /// The revision that the title block names (`C`).
    pub revision: Option<String>,
    /// The date that the title block names, as written.
    pub date: Option<String>,
    /// Which delivery it is of, or counts, as the job file numbers them.
    pub parcel: Option<u32>,
    /// Of a guide in sentences: how many more times what stands before a sentence that repeats was taken,
    /// by the line on which it starts.
    pub repeats: BTreeMap<u32, u32>,
    /// Some of its lines were read from sentences, which say less surely than a list what is
    /// required in all.
    pub from_sentences: bool,
    pub tally: RowTally,
}

impl List {
    /// A list of which nothing is read yet.
    pub fn new(path: PathBuf, file: String, role: Role, format: Format) -> List {
        List {
            path,
            file,
            role,
            format,
            sheets: Vec::new(),
            lines: Vec::new(),
            readings: Vec::new(),
            placements: Vec::new(),
            asides: Vec::new(),
            text: Text::default(),
            words: Vec::new(),
            open: Vec::new(),
            known: Known::default(),
            repeats: BTreeMap::new(),
            revision: None,
            date: None,
            parcel: None,
            from_sentences: false,
            tally: RowTally::default(),
        }
    }

    /// Puts a line aside, with why.
    pub fn put_aside(&mut self, aside: Aside) -> What {
        self.asides.push(aside);
        What::Aside(self.asides.len() as u32 - 1)
    }

    /// The line as written.
    pub fn text_of(&self, line: &Line) -> Cow<'_, str> {
        self.text.get(line.text)
    }

    /// Why the line is aside, if it is.
    pub fn aside_of(&self, line: &Line) -> Option<&Aside> {
        match line.what {
            What::Aside(index) => Some(&self.asides[index as usize]),
            _ => None,
        }
    }

    /// What the line reads as, unless it is aside or a bag.
    pub fn reading_of(&self, line: &Line) -> Option<&Reading> {
        match line.what {
            What::Item(index) => Some(&self.readings[index as usize]),
            _ => None,
        }
    }

    /// The lines in rows of a sheet, by its index; runs of rows, first and last.
    pub fn lines_in(&self, sheet: usize, runs: &[(u32, u32)]) -> impl Iterator<Item = &Line> {
        // Lines stand in order of sheet and row.
        let place = |line: &Line| (usize::from(line.sheet), line.row);
        runs.iter().flat_map(move |&(first, last)| {
            let from = self.lines.partition_point(|l| place(l) < (sheet, first));
            self.lines[from..]
                .iter()
                .take_while(move |l| place(l) <= (sheet, last))
        })
    }

    pub fn placement_of(&self, line: &Line) -> &Placement {
        &self.placements[line.placement as usize]
    }

    /// The state of one line by itself.
    pub fn status_of(&self, line: &Line) -> LineStatus {
        match &line.what {
            What::Aside(_) => LineStatus::Aside,
            What::Item(index) if !self.readings[*index as usize].doubts.is_empty() => {
                LineStatus::Check
            }
            _ if !line.doubts().is_empty() => LineStatus::Check,
            _ => LineStatus::Read,
        }
    }

    /// All doubts of a line: those of its reading, then its own.
    pub fn doubts_of<'a>(&'a self, line: &'a Line) -> impl Iterator<Item = &'a Doubt> {
        self.reading_of(line)
            .into_iter()
            .flat_map(|r| r.doubts.iter())
            .chain(line.doubts())
    }
}

impl List {
    /// Reads a source line by line. `file` is the name to show; `tick` is told now and then how
    /// many rows have been read since it was last told.
    ///
    /// # Errors
    /// A file that cannot be opened or read, or whose columns cannot be told apart.
    pub fn read(
        input: &super::job::Input,
        file: String,
        role: Role,
        tick: &(dyn Fn(u64) + Sync),
    ) -> crate::Result<List> {
        let mut list = List::read_rows(input, file, role, tick)?;
        list.weigh(&Known::default());
        Ok(List {
            date: input.date.clone().or(list.date),
            parcel: input.parcel,
            ..list
        })
    }

    fn read_rows(
        input: &super::job::Input,
        file: String,
        role: Role,
        tick: &(dyn Fn(u64) + Sync),
    ) -> crate::Result<List> {
        if role == Role::Counted
            && input.columns.is_empty()
            && let Some(list) = super::weighed::read(input, &file)?
        {
            return Ok(list);
        }
        let read_as = match role {
            Role::Compared => Role::Required,
            role => role,
        };
        let read = |again: &[(usize, Again)]| {
            super::reader::read(input, file.clone(), read_as, again, tick)
        };
        let mut list = read(&[])?;
        if !matches!(role, Role::Counted | Role::Stock | Role::LeftOver) {
            let found = twice::find(&list, &input.sheets);
            // Which sheets are counted bears on how they are read: a sheet may be a stage.
            if !found.again.is_empty() {
                list = read(&found.again)?;
            }
            for (sheet, question) in found.questions {
                list.sheets[sheet].question = Some(question);
            }
        }
        Ok(List { role, ..list })
    }
}
