//! Records of several lines of a text: forms, and names above their counts.

use super::{
    super::count,
    Reader,
    form::{Record, Taken},
    pairs::{self, Pairs},
};
use crate::{
    Doubt,
    columns::{Layout, Meaning},
    source::{Format, Row},
};

impl Reader<'_> {
    /// Takes the labels of a form for its headings, if the lines are one and the labels are known.
    pub(super) fn take_form(&mut self) -> bool {
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
    pub(super) fn take_pairs(&mut self) -> bool {
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
    pub(super) fn take_paired(&mut self, row: &Row, mut pairs: Pairs) {
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

    /// Takes a line that fills in a form. False where it is none.
    pub(super) fn take_line_of_form(&mut self, row: &Row) -> bool {
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
    pub(super) fn take_record(&mut self, record: Record) {
        if record.may_be_two {
            let doubt = "the fields of two records may be mixed here: one of them lacks what the others begin with";
            self.signs
                .insert(record.row.number, Doubt::HowMany(doubt.into()));
        }
        self.written = Some(record.written);
        if let Some(layout) = self.layout.clone() {
            self.table_row(&record.row, &layout, false);
        }
    }
}
