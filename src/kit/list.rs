//! A list: one source read line by line.

use std::{borrow::Cow, collections::BTreeMap, path::PathBuf};

use super::{
    line::{Aside, Line, LineStatus, What},
    open::Open,
    placement::Placement,
    reading::Reading,
    role::Role,
    sheet_read::{RowTally, SheetRead},
    stated_mass::{RowMass, StatedMass},
    text::{Text, TextAt},
    words::Words,
};
use crate::{doubt::Doubt, notation::Known, source::Format};

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
    /// By sheet and row.
    pub masses: Vec<RowMass>,
    /// Why lines are aside.
    pub asides: Vec<Aside>,
    /// What lines name that are aside for their figure alone: index into the asides, and into the
    /// readings. In order.
    pub named_aside: Vec<(u32, u32)>,
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
    /// The number of the slip that the title block names.
    pub slip_number: Option<String>,
    /// Which delivery it is of, or counts, as the job file numbers them.
    pub parcel: Option<u32>,
    /// Of a guide in sentences: how many more times what stands before a sentence that repeats was taken,
    /// by the line on which it starts.
    pub repeats: BTreeMap<u32, u32>,
    /// Some of its lines were read from sentences, which say less surely than a list what is
    /// required in all.
    pub from_sentences: bool,
    /// Parts that those count and ask for none of: `two braces`.
    pub uncounted: Vec<String>,
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
            masses: Vec::new(),
            asides: Vec::new(),
            named_aside: Vec::new(),
            text: Text::default(),
            words: Vec::new(),
            open: Vec::new(),
            known: Known::default(),
            repeats: BTreeMap::new(),
            revision: None,
            date: None,
            slip_number: None,
            parcel: None,
            from_sentences: false,
            uncounted: Vec::new(),
            tally: RowTally::default(),
        }
    }

    /// Puts a line aside, with why.
    pub fn put_aside(&mut self, aside: Aside) -> What {
        self.asides.push(aside);
        What::Aside(self.asides.len() as u32 - 1)
    }

    /// Lets go of the rows as written, where nothing will show them: there may be 100 MB of them. Those of slips and
    /// counts that were not read in full stay, since settling looks for parts in them.
    pub fn forget_texts(&mut self) {
        let is_open = |line: &Line| {
            matches!(line.what, What::Aside(_))
                || line.quantity.is_none()
                || self.doubts_of(line).any(Doubt::is_of_figure)
        };
        let looked_in = matches!(self.role, Role::Shipped | Role::Counted);
        let lines = self.lines.iter().enumerate().filter(|_| looked_in);
        let open = lines.filter(|(_, line)| is_open(line));
        let mut kept = Text::default();
        let texts: Vec<(usize, TextAt)> = open
            .map(|(at, line)| (at, kept.push(&self.text.get(line.text))))
            .collect();
        self.text = kept;
        for (at, text) in texts {
            self.lines[at].text = text;
        }
    }

    /// What a row is called: a sheet has rows, a text file has lines.
    pub fn row_noun(&self) -> &'static str {
        match self.format {
            Format::Delimited(_) | Format::Text => "line",
            Format::Xlsx | Format::Xls | Format::Xlsb | Format::Ods => "row",
        }
    }

    /// Where a line stands: `parts.xlsx, sheet Stages, row 12`.
    pub fn address_of(&self, line: &Line) -> String {
        let sheet = self.sheets.get(usize::from(line.sheet));
        let sheet = match sheet.and_then(|sheet| sheet.name.as_deref()) {
            Some(name) => format!(", sheet {name}"),
            None => String::new(),
        };
        format!("{}{sheet}, {} {}", self.file, self.row_noun(), line.row)
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

    /// What a line names that is aside for its figure alone: indices into the readings.
    pub fn named_aside(&self, aside: u32) -> impl Iterator<Item = u32> + '_ {
        let from = self.named_aside.partition_point(|(at, _)| *at < aside);
        let own = self.named_aside[from..].iter();
        own.take_while(move |(at, _)| *at == aside)
            .map(|(_, reading)| *reading)
    }

    /// What the line reads as, unless it is aside or a bag.
    pub fn reading_of(&self, line: &Line) -> Option<&Reading> {
        match line.what {
            What::Item(index) => Some(&self.readings[index as usize]),
            _ => None,
        }
    }

    /// What a piece weighs by the line's row, where that states it of one item.
    pub fn mass_of(&self, line: &Line) -> Option<StatedMass> {
        let place = |mass: &RowMass| (mass.sheet, mass.row);
        let found = self
            .masses
            .binary_search_by_key(&(line.sheet, line.row), place);
        found.ok().map(|at| self.masses[at].mass)
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

    /// Asks about a list of what is required each of whose lines is needed at as many places as there are kits: these
    /// may be the same.
    pub fn ask_about_kits(&mut self, kits: u64) {
        const ENOUGH: usize = 2;
        let asks = matches!(self.role, Role::Required | Role::Compared);
        let mut counted = self.lines.iter().filter(|line| line.quantity.is_some());
        let enough = counted.clone().count() >= ENOUGH;
        if asks && kits > 1 && enough && counted.all(|line| u64::from(line.places) == kits) {
            self.sheets[0].ask_of_figures(format!(
                "every line is needed at {kits} places, and the kits are {kits}: if these are the places, leave out --kits"
            ));
        }
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
