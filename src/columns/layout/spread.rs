//! Columns that each hold a quantity for a stage, a bag or a box.

use indexmap::IndexMap;

use super::{COUNT, Layout, Meaning, furniture, heading};
use crate::source::Row;

/// One of several quantities of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spread {
    pub heading: Box<str>,
    /// It says of itself that it is a stage, a bag, a box or a quantity: `Stage 2`, `Qty Base`.
    pub named: bool,
    /// The table, with this column as its quantity.
    pub layout: Layout,
}

impl Layout {
    /// Reads a heading row above a row of figures whose headings name stages, bags or boxes: `Item,
    /// Base, Posts, Roof, Total`. Without a total, it takes `next`, the row below, to tell them.
    pub fn spread_of(row: &Row, next: &Row, named: &IndexMap<Meaning, String>) -> Option<Layout> {
        let (mut layout, _) = Layout::of_headings(row, None, named)?;
        // Items often stand under no heading, beside those of the stages.
        let unheaded = |column: &usize| {
            row.get(*column).trim().is_empty() && next.get(*column).contains(char::is_alphabetic)
        };
        if !layout.says_what()
            && let Some(column) = (0..next.len().min(usize::from(u16::MAX))).find(unheaded)
        {
            layout.take_description(column as u16);
        }
        let counts = |&meaning: &Meaning| meaning != Meaning::Total && layout.has(meaning);
        if !layout.says_what() || layout.unread.len() < 2 || COUNT.iter().any(counts) {
            return None;
        }
        let is_figure = |text: &str| text.len() <= 6 && text.bytes().all(|b| b.is_ascii_digit());
        let is_open = |text: &str| text.is_empty() || text == "-" || text == "\u{2013}";
        let cell = |column: u16| next.get(usize::from(column)).trim();
        let mut figures = 0;
        for (column, _) in &layout.unread {
            match cell(*column) {
                text if is_open(text) => {}
                text if is_figure(text) => figures += 1,
                _ => return None,
            }
        }
        let is_named = |heading: &str| {
            let counted = heading::without_quantity(heading);
            furniture::container(heading).is_some()
                || furniture::stage_title(heading).is_some()
                || (counted.len() < heading.len() && counted.starts_with(char::is_alphabetic))
        };
        if figures == 0 {
            return None;
        }
        let columns = std::mem::take(&mut layout.unread);
        layout.known += columns.len();
        layout.spread = columns
            .into_iter()
            .map(|(column, heading)| {
                let mut layout = layout.clone();
                layout.columns[Meaning::Quantity as usize] = Some(column);
                // A total shows whether what stands beside is counted in.
                if layout.columns[Meaning::Total as usize].take().is_some() {
                    layout.beside.clear();
                }
                Spread {
                    named: is_named(&heading),
                    heading: heading::without_quantity(&heading).into(),
                    layout,
                }
            })
            .collect();
        Some(layout)
    }
}
