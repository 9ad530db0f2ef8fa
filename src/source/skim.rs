//! A sheet of an xlsx skimmed as its bytes pass by, at a fraction of what parsing costs: which rows
//! are hidden, and whether anything in it has no end.

use super::{
    guard::{DEEPEST, own_entities, too_deep},
    limits::{Limit, Limits},
    tags::{Tags, attribute, local_name, number},
    workbook::{Broken, MOST_ROWS},
};

/// Bytes of XML to a byte of text, in a cell of runs and escapes.
const XML_TO_TEXT: u64 = 8;

/// The sheet so far.
#[derive(Default)]
pub struct Sheet {
    tags: Tags,
    seen: Seen,
}

#[derive(Default)]
struct Seen {
    /// The last row, and the hidden ones, from 1.
    row: u32,
    hidden: Vec<u32>,
    depth: usize,
    /// Between the tags around the cells.
    in_data: bool,
    /// Bytes since a row or a cell began.
    since: u64,
}

impl Sheet {
    /// Takes the next bytes.
    pub fn take(&mut self, chunk: &[u8], limits: &Limits) -> Result<(), Broken> {
        let seen = &mut self.seen;
        self.tags.each(chunk, |tag| seen.tag(tag))?;
        seen.since += chunk.len() as u64;
        if seen.since > limits.most(Limit::Row).saturating_mul(XML_TO_TEXT) {
            let what = format!("row {} has a cell without end", seen.row);
            return Err(Broken::TooLarge(Limit::Row, what));
        }
        Ok(())
    }

    /// The hidden rows, in order.
    pub fn hidden(self) -> Vec<u32> {
        let mut hidden = self.seen.hidden;
        hidden.sort_unstable();
        hidden
    }
}

impl Seen {
    fn tag(&mut self, tag: &[u8]) -> Result<(), Broken> {
        match tag.first() {
            Some(b'/') => {
                self.depth = self.depth.saturating_sub(1);
                if local_name(&tag[1..]) == b"sheetData" {
                    self.in_data = false;
                }
                return Ok(());
            }
            Some(b'!') if tag.starts_with(b"!DOCTYPE") => return Err(own_entities()),
            Some(b'!' | b'?') => return Ok(()),
            _ => {}
        }
        if tag.last() != Some(&b'/') {
            self.depth += 1;
            if self.depth > DEEPEST {
                return Err(too_deep());
            }
        }
        match local_name(tag) {
            b"c" => self.since = 0,
            b"row" => {
                self.since = 0;
                self.row = match attribute(tag, "r") {
                    Some(row) => u32::try_from(number(row)).unwrap_or(u32::MAX),
                    None => self.row.saturating_add(1),
                };
                if self.row > MOST_ROWS {
                    return Err(Broken::Damaged(
                        "it has more rows than a sheet can".to_owned(),
                    ));
                }
                if matches!(attribute(tag, "hidden"), Some(b"1" | b"true")) {
                    self.hidden.push(self.row);
                }
            }
            b"sheetData" => self.in_data = true,
            _ if !self.in_data => self.since = 0,
            _ => {}
        }
        Ok(())
    }
}
