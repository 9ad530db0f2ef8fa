//! What an xlsx tells of its cells beside what they hold: which are struck out, and the comments on them (ECMA-376-1,
//! 18.8.22, 18.8.10, 18.4.12 and 18.7).

use std::collections::{HashMap, HashSet};

use quick_xml::events::{BytesStart, Event};
use rustc_hash::FxBuildHasher;

use super::{
    broken::Found,
    tag_values::{number, text},
    tags::attribute,
};

/// What is struck out in a workbook.
#[derive(Default)]
pub struct Struck {
    /// Fonts with a line through their letters.
    fonts: HashSet<u64, FxBuildHasher>,
    /// Formats of cells with such a font.
    formats: HashSet<u64, FxBuildHasher>,
    /// Shared texts of which some words are.
    texts: HashSet<u64, FxBuildHasher>,
    font: u64,
    format: u64,
    text: u64,
    of_cells: bool,
}

impl Struck {
    /// Takes what comes by in the part that holds the styles.
    pub fn style(&mut self, event: &Event<'_>) -> Found<()> {
        match event {
            Event::Start(tag) => match tag.local_name().as_ref() {
                "font" => self.font += 1,
                "strike" if is_on(tag)? => {
                    self.fonts.insert(self.font);
                }
                "cellXfs" => self.of_cells = true,
                "xf" if self.of_cells => {
                    let font = number(tag, "fontId")?.unwrap_or(0);
                    if self.fonts.contains(&(font + 1)) {
                        self.formats.insert(self.format);
                    }
                    self.format += 1;
                }
                _ => {}
            },
            Event::End(tag) if tag.local_name().as_ref() == "cellXfs" => self.of_cells = false,
            _ => {}
        }
        Ok(())
    }

    /// Takes a tag of the part that holds the shared texts.
    pub fn shared_text(&mut self, tag: &BytesStart<'_>) -> Found<()> {
        match tag.local_name().as_ref() {
            "si" => self.text += 1,
            "strike" if is_on(tag)? => {
                self.texts.insert(self.text - 1);
            }
            _ => {}
        }
        Ok(())
    }

    /// True for a cell that is struck out, or words of it. `rest`: as in [`super::cut::Piece::Cell`].
    pub fn strikes(&self, rest: &[u8]) -> bool {
        /// No shorter cell holds runs of its own.
        const RUNS: usize = 60;
        if rest.len() > RUNS && memchr::memmem::find(rest, b"<strike/>").is_some() {
            return true;
        }
        if self.formats.is_empty() && self.texts.is_empty() {
            return false;
        }
        let of_text = || {
            let from = memchr::memmem::find(rest, b"<v>")? + 3;
            let to = from + memchr::memchr(b'<', &rest[from..])?;
            Some(self.texts.contains(&figure(&rest[from..to])?))
        };
        let is_shared = of_opening(rest, "t").as_deref() == Some(b"s");
        self.formats.contains(&format_of(rest)) || is_shared && of_text() == Some(true)
    }
}

/// An attribute of a cell's opening tag. `rest`: as in [`super::cut::Piece::Cell`].
fn of_opening(rest: &[u8], name: &str) -> Option<Vec<u8>> {
    let end = memchr::memchr(b'>', rest).unwrap_or(rest.len());
    let tag = [b"c", &rest[..end]].concat();
    let found = attribute(&tag, name).ok().flatten()?;
    Some(found.value.to_owned())
}

fn figure(bytes: &[u8]) -> Option<u64> {
    std::str::from_utf8(bytes).ok()?.trim().parse().ok()
}

/// The format of a cell, by its place among the workbook's formats of cells. `rest`: as in [`super::cut::Piece::Cell`].
pub fn format_of(rest: &[u8]) -> u64 {
    let format = of_opening(rest, "s");
    format.and_then(|format| figure(&format)).unwrap_or(0)
}

fn is_on(tag: &BytesStart<'_>) -> Found<bool> {
    Ok(!matches!(
        text(tag, "val")?.as_deref(),
        Some("0" | "false" | "off")
    ))
}

/// The comments of a sheet, by the row of the cell that they are on, from 1.
#[derive(Default)]
pub struct Comments {
    pub of_rows: HashMap<u32, Vec<Box<str>>, FxBuildHasher>,
    row: Option<u32>,
    said: String,
}

impl Comments {
    pub fn take(&mut self, event: &Event<'_>) -> Found<()> {
        match event {
            Event::Start(tag) if tag.local_name().as_ref() == "comment" => {
                let cell = text(tag, "ref")?.unwrap_or_default();
                self.row = cell
                    .trim_start_matches(|c: char| !c.is_ascii_digit())
                    .parse()
                    .ok();
                self.said.clear();
            }
            Event::Text(words) if self.row.is_some() => {
                self.said
                    .push_str(&words.xml_content(quick_xml::XmlVersion::Implicit1_0));
            }
            Event::End(tag) if tag.local_name().as_ref() == "comment" => {
                let said = without_author(&self.said);
                if let Some(row) = self.row.take().filter(|_| !said.is_empty()) {
                    self.of_rows.entry(row).or_default().push(said.into());
                }
            }
            _ => {}
        }
        Ok(())
    }
}

/// A comment without the name in front, on a line of its own.
fn without_author(said: &str) -> &str {
    let said = said.trim();
    match said.split_once('\n') {
        Some((name, rest)) if name.trim_end().ends_with(':') => rest.trim(),
        _ => said,
    }
}
